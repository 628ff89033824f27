//! The simulation against closed forms and the worked examples of JCGM 101.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "what fails in a test is a failing test"
)]
#![allow(
    clippy::float_cmp,
    reason = "the same seed must give the same digits, and constants stay what they are"
)]

use dividing_core::ErrorKind;
use dividing_core::accuracy::{
    Contributor, Datum, Distribution, Eccentricity, InputUnit, Persistence, Referencing,
    RunSettings, SimulatedFeature, SimulatedInput, SimulatedQuantity, Simulation, SimulationDetail,
    SimulationLimits, SimulationReport, TrialCount, range_constants,
};
use dividing_core::work::{Continue, Meter};

fn contributor(name: &str, limit: f64, distribution: Distribution) -> Contributor {
    Contributor {
        name: name.to_owned().into(),
        limit,
        unit: InputUnit::Radian,
        sensitivity: 1.0,
        distribution,
        persistence: Persistence::NewAtSeating,
        degrees_of_freedom: None,
    }
}

fn normal(limit: f64) -> Contributor {
    contributor(
        "normal error",
        limit,
        Distribution::Normal {
            sigmas_at_limit: 1.0,
        },
    )
}

fn feature(contributors: &[Contributor]) -> SimulatedFeature {
    SimulatedFeature {
        inputs: contributors.iter().cloned().map(Into::into).collect(),
        ..SimulatedFeature::default()
    }
}

fn of_features(features: Vec<SimulatedFeature>, datum: Datum) -> Simulation {
    Simulation {
        features,
        datum,
        ..Simulation::default()
    }
}

fn settings(trials: u64) -> RunSettings {
    RunSettings {
        trials: TrialCount::Exactly(trials),
        quantiles: vec![0.025, 0.5, 0.975],
        ..RunSettings::default()
    }
}

fn run(job: &Simulation, trials: u64) -> SimulationReport {
    job.run(&settings(trials), &mut Meter::default()).unwrap()
}

/// Within five standard errors of the mean.
fn assert_mean(quantity: &SimulatedQuantity, expected: f64) {
    assert!(
        (quantity.mean_rad - expected).abs() <= 5.0 * quantity.mean_standard_error_rad + 1e-15,
        "{} instead of {expected} ± {}",
        quantity.mean_rad,
        quantity.mean_standard_error_rad
    );
}

fn sum_of(distributions: &[(f64, Distribution)]) -> SimulatedQuantity {
    let inputs: Vec<Contributor> = distributions
        .iter()
        .enumerate()
        .map(|(index, (limit, distribution))| {
            contributor(&format!("input {index}"), *limit, distribution.clone())
        })
        .collect();
    let job = of_features(vec![feature(&inputs)], Datum::Setting);
    run(&job, 400_000).features.swap_remove(0)
}

/// The additive models of JCGM 101:2008, 9.2.2 to 9.2.4 (results from memory):
/// normal inputs 2.0 and ±3.92; rectangular ones 2.0 and ±3.88; rectangular
/// ones of standard deviation 1, 1, 1 and 10: 10.1 and ±17.0.
#[test]
fn additive_models_of_jcgm_101() {
    let root_3 = 3.0_f64.sqrt();
    let standard_normal = (
        1.0,
        Distribution::Normal {
            sigmas_at_limit: 1.0,
        },
    );
    let rectangular = (root_3, Distribution::Uniform);
    let wide = (10.0 * root_3, Distribution::Uniform);
    for (inputs, u, half_width) in [
        (vec![standard_normal; 4], 2.0, 3.92),
        (vec![rectangular.clone(); 4], 2.0, 3.88),
        (
            vec![rectangular.clone(), rectangular.clone(), rectangular, wide],
            10.15,
            17.0,
        ),
    ] {
        let sum = sum_of(&inputs);
        assert_mean(&sum, 0.0);
        assert!(
            (sum.standard_deviation_rad / u - 1.0).abs() < 0.005,
            "{sum:?}"
        );
        let (low, high) = sum.symmetric_interval_rad;
        assert!((high / half_width - 1.0).abs() < 0.007, "{sum:?}");
        assert!((low / half_width + 1.0).abs() < 0.007, "{sum:?}");
        assert!((sum.quantiles_rad[0] - low).abs() < 1e-12);
        assert!((sum.quantiles_rad[2] - high).abs() < 1e-12);
        let (low, high) = sum.shortest_interval_rad;
        assert!(
            ((high - low) / (2.0 * half_width) - 1.0).abs() < 0.007,
            "{sum:?}"
        );
    }
}

/// Quantiles of single distributions against their closed forms: x = limit·F⁻¹.
#[test]
fn quantiles_of_single_distributions() {
    // F(x) of one coordinate in the disc: ½ + (x√(1−x²) + asin x)/π.
    let disc = {
        let (mut low, mut high) = (0.0_f64, 1.0_f64);
        for _ in 0..60 {
            let x = f64::midpoint(low, high);
            let below = 0.5 + (x * (1.0 - x * x).sqrt() + x.asin()) / std::f64::consts::PI;
            if below < 0.975 { low = x } else { high = x }
        }
        low
    };
    for (distribution, upper) in [
        (Distribution::Uniform, 0.95),
        (Distribution::Triangular, 1.0 - 0.05_f64.sqrt()),
        (Distribution::UShaped, (0.475 * std::f64::consts::PI).sin()),
        (Distribution::UniformInDisc, disc),
        (
            Distribution::Normal {
                sigmas_at_limit: 2.0,
            },
            1.959_964 / 2.0,
        ),
    ] {
        let limit = 3e-4;
        let found = sum_of(&[(limit, distribution.clone())]);
        // Five standard errors of a 2.5 % quantile of 400,000 trials, with the
        // least density there, and the width of a bin.
        let tolerance = 0.006 * limit + found.quantile_resolution_rad;
        assert!(
            (found.quantiles_rad[2] - upper * limit).abs() < tolerance,
            "{distribution:?}: {}",
            found.quantiles_rad[2] / limit
        );
        assert!((found.quantiles_rad[0] + upper * limit).abs() < tolerance);
    }
}

/// Cumulative pitch of N independent normal errors: mean d2(N)·σ, standard
/// deviation d3(N)·σ (control-chart constants).
#[test]
fn cumulative_pitch_is_the_range_of_a_control_chart() {
    for places in [2_u32, 5, 12] {
        let job = Simulation {
            features: vec![feature(&[normal(1e-4)]); places as usize],
            detail: SimulationDetail::Pitch,
            ..Simulation::default()
        };
        let report = run(&job, 200_000);
        let constants = range_constants(places).unwrap();
        assert_mean(&report.cumulative_pitch, constants.mean * 1e-4);
        let spread = report.cumulative_pitch.standard_deviation_rad / 1e-4;
        assert!((spread / constants.standard_deviation - 1.0).abs() < 0.015);
        assert!(report.features.is_empty());
        assert!(report.largest_deviation.is_none());
    }
}

/// With two features the single pitch is |x1 − x2|: half-normal with mean
/// 2σ/√π, and the conformance probability is that of a normal difference.
#[test]
fn conformance_of_two_features() {
    let limit = 2e-4;
    let job = Simulation {
        features: vec![feature(&[normal(1e-4)]); 2],
        limits: SimulationLimits {
            single_pitch_rad: Some(limit),
            deviation_rad: Some(limit),
            cumulative_pitch_rad: None,
        },
        ..Simulation::default()
    };
    let report = run(&job, 200_000);
    assert_mean(&report.single_pitch, 2e-4 / std::f64::consts::PI.sqrt());
    let conformance = report.conformance.unwrap();
    let single = conformance.single_pitch.unwrap();
    // P(|Z| <= √2) and, for deviations ± half the difference about the mean,
    // P(|Z| <= 2√2).
    assert!((single.probability - 0.842_701).abs() < 5.0 * 0.000_82);
    assert!(single.lower < 0.842_701 && 0.842_701 < single.upper);
    let deviation = conformance.deviation.unwrap();
    assert!(deviation.lower < 0.995_322 && 0.995_322 < deviation.upper);
    assert!(conformance.cumulative_pitch.is_none());
    assert_eq!(conformance.all, single);
}

#[test]
fn the_datum_moves_deviations_but_not_pitch() {
    let job = |datum| of_features(vec![feature(&[normal(1.0)]); 4], datum);
    let by_mean = run(&job(Datum::Mean), 100_000);
    let by_feature = run(&job(Datum::Feature(2)), 100_000);
    let by_setting = run(&job(Datum::Setting), 100_000);
    assert_eq!(by_mean.cumulative_pitch, by_feature.cumulative_pitch);
    assert_eq!(by_mean.single_pitch, by_setting.single_pitch);
    // Variances σ²(1 − 1/N), 2σ² and σ²; the datum itself does not deviate.
    for (report, spread) in [
        (&by_mean, 0.75_f64.sqrt()),
        (&by_feature, 2.0_f64.sqrt()),
        (&by_setting, 1.0),
    ] {
        let found = report.features[0].standard_deviation_rad;
        assert!((found / spread - 1.0).abs() < 0.015, "{found} {spread}");
    }
    let datum = &by_feature.features[2];
    assert_eq!((datum.mean_rad, datum.standard_deviation_rad), (0.0, 0.0));
}

/// Common practice, no published source: what is the same for the whole job
/// turns everything alike and leaves the pitch alone; a hole used twice has
/// the same error both times.
#[test]
fn what_is_shared_does_not_show_in_the_pitch() {
    let fixed = |persistence, place: Option<&str>| SimulatedInput {
        contributor: Contributor {
            persistence,
            ..normal(1e-4)
        },
        place: place.map(Into::into),
        direction_rad: None,
    };
    let with = |inputs: Vec<SimulatedInput>| SimulatedFeature {
        inputs,
        ..SimulatedFeature::default()
    };
    let job_wide = with(vec![fixed(Persistence::FixedForJob, None)]);
    let same_hole = with(vec![fixed(Persistence::FixedForPlace, Some("hole 3"))]);
    for features in [vec![job_wide; 3], vec![same_hole; 3]] {
        let report = run(&of_features(features, Datum::Setting), 20_000);
        assert_eq!(report.cumulative_pitch.greatest_rad, 0.0);
        assert!(report.features[1].standard_deviation_rad > 0.9e-4);
        assert_eq!(report.closing.unwrap().greatest_rad, 0.0);
    }
    // Own holes, or one hole and a second one: errors are independent.
    let own = with(vec![fixed(Persistence::FixedForPlace, None)]);
    let one = with(vec![fixed(Persistence::FixedForPlace, Some("a"))]);
    let two = with(vec![fixed(Persistence::FixedForPlace, Some("b"))]);
    for features in [vec![own; 2], vec![one, two]] {
        let report = run(&of_features(features, Datum::Setting), 50_000);
        assert_mean(&report.cumulative_pitch, 2e-4 / std::f64::consts::PI.sqrt());
    }
}

/// A bar over pins of a pin plate: each feature uses two holes, and
/// neighbours share one. Deviation (b − a)/L: variance 2σ²; the difference of
/// neighbours b − 2a' + ... has the variance of the second difference, 6σ².
#[test]
fn chords_that_share_a_pin_are_correlated() {
    let hole = |name: &str, sign: f64| SimulatedInput {
        contributor: Contributor {
            persistence: Persistence::FixedForPlace,
            sensitivity: sign,
            ..normal(1.0)
        },
        place: Some(name.into()),
        direction_rad: None,
    };
    let chord = |from: &str, to: &str| SimulatedFeature {
        inputs: vec![hole(from, -1.0), hole(to, 1.0)],
        ..SimulatedFeature::default()
    };
    let job = Simulation {
        features: vec![chord("1", "2"), chord("2", "3")],
        whole_turn: false,
        datum: Datum::Setting,
        ..Simulation::default()
    };
    let report = run(&job, 100_000);
    let spread = report.features[0].standard_deviation_rad;
    assert!((spread / 2.0_f64.sqrt() - 1.0).abs() < 0.015);
    // Mean of |N(0, 6)|.
    assert_mean(
        &report.single_pitch,
        (6.0 * 2.0 / std::f64::consts::PI).sqrt(),
    );
}

/// Chained referencing adds up: the closing error of N steps has √N times the
/// standard deviation of one, and the systematic parts add; from a common
/// datum coming back differs by two seatings only.
#[test]
fn chained_errors_close_with_their_sum() {
    let step = SimulatedFeature {
        residual_rad: 3e-6,
        ..feature(&[normal(1e-5)])
    };
    let mut job = of_features(vec![step; 16], Datum::Feature(0));
    let common = run(&job, 100_000).closing.unwrap();
    assert_mean(&common, 0.0);
    assert!((common.standard_deviation_rad / (2.0_f64.sqrt() * 1e-5) - 1.0).abs() < 0.015);
    job.referencing = Referencing::Chained;
    let report = run(&job, 100_000);
    let closing = report.closing.unwrap();
    assert_mean(&closing, 16.0 * 3e-6);
    assert!((closing.standard_deviation_rad / 4e-5 - 1.0).abs() < 0.015);
    let last = &report.features[15];
    assert_mean(last, 15.0 * 3e-6);
    assert!((last.standard_deviation_rad / (15.0_f64.sqrt() * 1e-5) - 1.0).abs() < 0.015);
}

/// Eccentricity e/r of unknown direction: peak to peak at most 2e/r over an
/// even number of features, 2(e/r)cos(π/2N) over an odd one (geometry).
#[test]
fn eccentricity_shows_in_the_cumulative_pitch() {
    for (count, bound) in [
        (4, 2.0),
        (3, 2.0 * (std::f64::consts::PI / 6.0).cos()),
        (7, 2.0 * (std::f64::consts::PI / 14.0).cos()),
    ] {
        let features = (0..count)
            .map(|index| SimulatedFeature {
                angle_rad: std::f64::consts::TAU * f64::from(index) / f64::from(count),
                ..SimulatedFeature::default()
            })
            .collect();
        let mut job = of_features(features, Datum::Mean);
        job.eccentricities = vec![Eccentricity {
            name: "plate to spindle".into(),
            limit_rad: 1e-4,
            anywhere_in_disc: false,
        }];
        let report = run(&job, 50_000);
        let greatest = report.cumulative_pitch.greatest_rad / 1e-4;
        assert!(greatest <= bound + 1e-12, "{count}: {greatest}");
        assert!(greatest > 0.9999 * bound, "{count}: {greatest}");
        // Each deviation is U-shaped: standard deviation (e/r)/√2.
        let spread = report.features[1].standard_deviation_rad / 1e-4;
        assert!((spread * 2.0_f64.sqrt() - 1.0).abs() < 0.015);
    }
}

fn busy_job(count: u32) -> Simulation {
    let place = Contributor {
        persistence: Persistence::FixedForPlace,
        ..contributor("hole position", 1e-4, Distribution::UniformInDisc)
    };
    let common = Contributor {
        persistence: Persistence::FixedForJob,
        ..contributor("station", 2e-5, Distribution::Triangular)
    };
    let feature = feature(&[
        place,
        contributor("clearance", 7e-5, Distribution::Uniform),
        contributor("setting", 3e-5, Distribution::UShaped),
        normal(1e-5),
        common,
    ]);
    Simulation {
        features: (0..count)
            .map(|index| SimulatedFeature {
                angle_rad: f64::from(index) * 0.9,
                residual_rad: f64::from(index % 3) * 1e-6,
                ..feature.clone()
            })
            .collect(),
        eccentricities: vec![Eccentricity {
            name: "plate to spindle".into(),
            limit_rad: 1e-5,
            anywhere_in_disc: true,
        }],
        limits: SimulationLimits {
            deviation_rad: Some(2e-4),
            single_pitch_rad: Some(2.5e-4),
            cumulative_pitch_rad: Some(2.8e-4),
        },
        ..Simulation::default()
    }
}

#[test]
fn the_same_seed_gives_the_same_report_on_any_number_of_threads() {
    let job = busy_job(3);
    for trials in [
        TrialCount::Exactly(543_210),
        TrialCount::UntilStable {
            significant_digits: 2,
            most: 40_000,
        },
    ] {
        let report = |threads, seed| {
            let settings = RunSettings {
                trials,
                threads,
                seed,
                ..RunSettings::default()
            };
            job.run(&settings, &mut Meter::default()).unwrap()
        };
        let one = report(1, 7);
        assert_eq!(one, report(2, 7));
        assert_eq!(one, report(8, 7));
        assert_ne!(
            one.single_pitch.mean_rad,
            report(1, 8).single_pitch.mean_rad
        );
    }
}

/// Figures of one seed, kept so that a change of the random numbers or of any
/// sum is seen: the same on every machine, with vector instructions or without.
#[test]
fn golden_figures() {
    let report = run(&busy_job(7), 12_345);
    let conformance = report.conformance.unwrap();
    let found = [
        report.single_pitch.mean_rad,
        report.single_pitch.quantiles_rad[2],
        report.cumulative_pitch.mean_rad,
        report.cumulative_pitch.standard_deviation_rad,
        report.features[3].mean_rad,
        report.largest_deviation.unwrap().shortest_interval_rad.1,
        report.closing.unwrap().standard_deviation_rad,
        conformance.all.probability,
    ];
    let golden = [
        0.00015969263258764198,
        0.0002640894153709643,
        0.00018572872826437604,
        5.084116101454263e-5,
        -7.179968406174988e-7,
        0.0001661439622154022,
        6.588887628205681e-5,
        0.9377075739165655,
    ];
    assert_eq!(found, golden);
}

/// JCGM 101:2008, 7.9: twice the standard deviation of the averages is within
/// half of the last stated digit, here 0.05 of a standard deviation near 2
/// (two digits), so the true value must be within that too.
#[test]
fn the_adaptive_procedure_stops_when_the_digits_stand() {
    let inputs = vec![contributor("rectangular", 3.0_f64.sqrt(), Distribution::Uniform); 4];
    let job = of_features(vec![feature(&inputs)], Datum::Setting);
    let settings = |significant_digits, most| RunSettings {
        trials: TrialCount::UntilStable {
            significant_digits,
            most,
        },
        ..RunSettings::default()
    };
    let mut last = 0;
    for (digits, tolerance) in [(1, 0.5), (2, 0.05)] {
        let report = job
            .run(&settings(digits, 5_000_000), &mut Meter::default())
            .unwrap();
        assert_eq!(report.stable, Some(true));
        assert!(report.trials >= 20_000 && report.trials.is_multiple_of(10_000));
        assert!(report.trials >= last);
        last = report.trials;
        let sum = &report.features[0];
        assert!((sum.standard_deviation_rad - 2.0).abs() < tolerance);
        assert!((sum.symmetric_interval_rad.1 - 3.88).abs() < 1.5 * tolerance);
    }
    let report = job
        .run(&settings(4, 40_000), &mut Meter::default())
        .unwrap();
    assert_eq!((report.stable, report.trials), (Some(false), 40_000));
}

#[test]
fn a_run_can_be_watched_and_stopped() {
    let job = of_features(vec![feature(&[normal(1.0)]); 2], Datum::Mean);
    let mut looks = 0;
    let mut watcher = |_| {
        looks += 1;
        if looks < 3 {
            Continue::Yes
        } else {
            Continue::No
        }
    };
    let mut meter = Meter::watched(u64::MAX, &mut watcher);
    let error = job.run(&settings(10_000_000), &mut meter).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Cancelled);
    assert_eq!(looks, 3);
    let error = job
        .run(&settings(10_000_000), &mut Meter::new(1000))
        .unwrap_err();
    assert_eq!(error.kind(), ErrorKind::WorkLimit);
}

#[test]
fn extremes_are_right_or_refused() {
    // Nothing varies.
    let still = of_features(
        vec![feature(&[contributor("none", 0.0, Distribution::UniformInDisc)]); 2],
        Datum::Mean,
    );
    let report = run(&still, 10);
    assert_eq!(report.cumulative_pitch.greatest_rad, 0.0);
    assert_eq!(report.cumulative_pitch.quantiles_rad, vec![0.0; 3]);
    // One feature, one trial.
    let one = of_features(vec![feature(&[normal(1.0)])], Datum::Setting);
    let report = run(&one, 1);
    assert_eq!(report.trials, 1);
    assert_eq!(report.features[0].standard_deviation_rad, 0.0);
    assert_eq!(
        report.features[0].least_rad,
        report.features[0].greatest_rad
    );
    // Ten thousand features.
    let many = of_features(vec![feature(&[normal(1e-5)]); 10_000], Datum::Mean);
    let report = run(&many, 128);
    let expected = range_constants(10_000).unwrap().mean * 1e-5;
    assert_mean(&report.cumulative_pitch, expected);
    assert_eq!(report.features.len(), 10_000);

    let refused = |job: &Simulation, settings: &RunSettings| {
        let error = job.run(settings, &mut Meter::default()).unwrap_err();
        (error.kind(), error.field().to_owned())
    };
    let usual = settings(10);
    assert_eq!(
        refused(&of_features(vec![], Datum::Mean), &usual).0,
        ErrorKind::EmptyList
    );
    let mut job = one.clone();
    job.features[0].inputs[0].contributor.limit = f64::NAN;
    assert_eq!(
        refused(&job, &usual),
        (
            ErrorKind::NotFinite,
            "features[0].inputs[0].contributor.limit".into()
        )
    );
    job.features[0].inputs[0].contributor.limit = 1e300;
    assert_eq!(refused(&job, &usual).0, ErrorKind::OutOfRange);
    job = one.clone();
    job.features[0].residual_rad = f64::INFINITY;
    assert_eq!(refused(&job, &usual).0, ErrorKind::NotFinite);
    job = one.clone();
    job.datum = Datum::Feature(1);
    assert_eq!(refused(&job, &usual), (ErrorKind::NotFound, "datum".into()));
    job = one.clone();
    job.detail = SimulationDetail::Pitch;
    job.limits.deviation_rad = Some(1.0);
    assert_eq!(refused(&job, &usual).0, ErrorKind::Inconsistent);
    job = of_features(vec![feature(&[normal(1.0)]); 2], Datum::Mean);
    for (feature, limit) in job.features.iter_mut().zip([1.0, 2.0]) {
        feature.inputs[0].contributor.persistence = Persistence::FixedForJob;
        feature.inputs[0].contributor.limit = limit;
    }
    assert_eq!(
        refused(&job, &usual),
        (ErrorKind::Inconsistent, "features[1].inputs[0]".into())
    );
    for (change, field) in [
        (
            RunSettings {
                threads: 0,
                ..usual.clone()
            },
            "threads",
        ),
        (
            RunSettings {
                trials: TrialCount::Exactly(0),
                ..usual.clone()
            },
            "trials",
        ),
        (
            RunSettings {
                coverage_probability: 1.0,
                ..usual.clone()
            },
            "coverage_probability",
        ),
        (
            RunSettings {
                quantiles: vec![0.5, f64::NAN],
                ..usual.clone()
            },
            "quantiles[1]",
        ),
    ] {
        assert_eq!(refused(&one, &change).1, field);
    }
}

/// Given samples are drawn as they are: each value as often as the others, the
/// mean and the spread those of the list, the same on any number of threads.
#[test]
fn given_samples_are_drawn_as_they_are() {
    let seating = Contributor::of_samples(
        "seating",
        vec![0.0, -1.0, 1.0, 5.0],
        InputUnit::Radian,
        1e-4,
        Persistence::NewAtSeating,
    )
    .unwrap();
    let job = of_features(vec![feature(&[seating]); 2], Datum::Setting);
    let report = |threads| {
        let settings = RunSettings {
            threads,
            quantiles: vec![0.2, 0.4, 0.6, 0.9],
            ..settings(400_000)
        };
        job.run(&settings, &mut Meter::default()).unwrap()
    };
    let one = report(1);
    let first = &one.features[0];
    assert!((first.least_rad + 1e-4).abs() < 1e-15 && (first.greatest_rad - 5e-4).abs() < 1e-15);
    // Five standard errors, of the mean and of the standard deviation.
    let deviation = 2.277_608e-4;
    assert!((first.mean_rad - 1.25e-4).abs() < 5.0 * deviation / 400_000_f64.sqrt());
    assert!(
        (first.standard_deviation_rad - deviation).abs() < 5.0 * deviation / 400_000_f64.sqrt()
    );
    // Every quarter of the trials is one of the values.
    for (quantile, value) in first.quantiles_rad.iter().zip([-1e-4, 0.0, 1e-4, 5e-4]) {
        assert!((quantile - value).abs() < 2e-6, "{quantile} {value}");
    }
    assert_eq!(one, report(2));
    assert_eq!(one, report(8));
}

/// The distance of two normal errors is half-normal with deviation √2·σ: its
/// shortest interval starts at zero and ends at the two-sided quantile 1.959 964,
/// the symmetric one runs from Φ⁻¹(0.5125) to Φ⁻¹(0.9875) (closed forms; the
/// quantiles 0.031 338 and 2.241 403 from SciPy, `norm.ppf`).
#[test]
fn the_shortest_interval_of_a_lopsided_quantity_is_not_the_symmetric_one() {
    let job = Simulation {
        features: vec![feature(&[normal(1.0)]); 2],
        detail: SimulationDetail::Pitch,
        ..Simulation::default()
    };
    let pitch = run(&job, 1_000_000).single_pitch;
    let root_2 = 2.0_f64.sqrt();
    // Five standard errors of a quantile of a million trials are 0.02 at most.
    let near = |found: f64, expected: f64| {
        assert!(
            (found - root_2 * expected).abs() < 0.02,
            "{found} {expected}"
        );
    };
    near(pitch.symmetric_interval_rad.0, 0.031_338);
    near(pitch.symmetric_interval_rad.1, 2.241_403);
    near(pitch.shortest_interval_rad.0, 0.0);
    // The interval is flat about its shortest: where it ends is known less well.
    let (low, high) = pitch.shortest_interval_rad;
    assert!(
        (high - low - root_2 * 1.959_964).abs() < 0.02,
        "{low} {high}"
    );
}

/// The most memory that a run needed, in kilobytes, measured by a program of its
/// own: this one, started for one test.
#[cfg(target_os = "linux")]
fn peak_kb(trials: u64) -> u64 {
    let name = format!("{}::a_run_for_its_memory", module_path!());
    let name = name.split_once("::").unwrap().1;
    let found = std::process::Command::new(std::env::current_exe().unwrap())
        .args([name, "--exact", "--ignored", "--nocapture"])
        .env("DIVIDING_TRIALS", trials.to_string())
        .output()
        .unwrap();
    let text = String::from_utf8(found.stdout).unwrap();
    let line = text.lines().find(|it| it.contains("VmHWM:"));
    let line = line.unwrap_or_else(|| panic!("{text}"));
    let figure = line.split_whitespace().find_map(|it| it.parse().ok());
    figure.unwrap_or_else(|| panic!("{line}"))
}

#[test]
#[ignore = "a part of memory_does_not_grow_with_the_trials"]
#[allow(clippy::print_stdout, reason = "read by the test that starts it")]
fn a_run_for_its_memory() {
    let trials = std::env::var("DIVIDING_TRIALS").map_or(10_000, |it| it.parse().unwrap());
    let job = of_features(vec![feature(&[normal(1e-5)]); 3], Datum::Middle);
    assert_eq!(run(&job, trials).trials, trials);
    println!(
        "{}",
        std::fs::read_to_string("/proc/self/status").unwrap_or_default()
    );
}

/// A hundred times the trials: kept, one figure of each would be 8 megabytes.
#[cfg(target_os = "linux")]
#[test]
fn memory_does_not_grow_with_the_trials() {
    let (few, many) = (peak_kb(10_000), peak_kb(1_000_000));
    assert!(few > 500, "{few}");
    assert!(many < few + 2_000, "{few} kB, then {many} kB");
}
