//! The inverse of the error model, sweeps, and sensitivities by differences.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "what fails in a test is a failing test"
)]
#![allow(clippy::float_cmp, reason = "quotients that come out exactly")]

use dividing_core::ErrorKind;
use dividing_core::accuracy::{
    Allowance, BarSupport, BarSweep, Contributor, Criterion, Distribution, InputUnit, Persistence,
    PinSeating, PlungerSweep, bar_tilt, eccentricity_error, eccentricity_peak_to_peak_rad,
    least_radius_mm, loosest_limit, numerical_sensitivities, pin_play, trade_offs,
};

fn contributor(name: &str, limit: f64, unit: InputUnit, sensitivity: f64) -> Contributor {
    Contributor {
        name: name.to_owned().into(),
        limit,
        unit,
        sensitivity,
        distribution: Distribution::UniformInDisc,
        persistence: Persistence::FixedForPlace,
        degrees_of_freedom: None,
    }
}

fn plunger(hole: f64, clearance: f64, radius: f64) -> Vec<Contributor> {
    vec![
        contributor("hole position", hole, InputUnit::Millimetre, 1.0 / radius),
        contributor(
            "pin clearance",
            clearance / 2.0,
            InputUnit::Millimetre,
            -1.0 / radius,
        ),
        contributor("level", 2e-5, InputUnit::Radian, 1.0),
    ]
}

const CRITERIA: [Criterion; 3] = [
    Criterion::WorstCase,
    Criterion::RootSumSquare,
    Criterion::ExpandedUncertainty {
        coverage_factor: 2.0,
    },
];

/// The loosest value put back gives the limit, and a little more breaks it.
#[test]
fn the_loosest_value_lies_on_the_limit() {
    for criterion in CRITERIA {
        let list = plunger(0.004, 0.012, 60.0);
        let limit = 3e-4;
        for (index, line) in trade_offs(&list, criterion, limit)
            .unwrap()
            .iter()
            .enumerate()
        {
            let Allowance::UpTo(most) = line.allowance else {
                panic!("{line:?}");
            };
            let mut changed = list.clone();
            changed[index].limit = most;
            let total = criterion.total_rad(&changed).unwrap();
            assert!(
                (total / limit - 1.0).abs() < 1e-12,
                "{criterion:?} {line:?}"
            );
        }
        let radius = least_radius_mm(&list, 60.0, criterion, limit)
            .unwrap()
            .unwrap();
        let total = criterion.total_rad(&plunger(0.004, 0.012, radius)).unwrap();
        assert!((total / limit - 1.0).abs() < 1e-12);
    }
}

/// Two holes of one name share the limit: (1 + 1)/L worst case, √2/L by squares.
#[test]
fn contributors_of_one_name_share_their_limit() {
    let hole = |sign: f64| contributor("hole position", 0.001, InputUnit::Millimetre, sign / 80.0);
    let list = [hole(1.0), hole(-1.0)];
    let found = |criterion| loosest_limit(&list, "hole position", criterion, 1e-3).unwrap();
    let near = |allowance, expected: f64| matches!(allowance, Allowance::UpTo(most) if (most - expected).abs() < 1e-12);
    assert!(near(found(Criterion::WorstCase), 0.04));
    assert!(near(found(Criterion::RootSumSquare), 0.08 / 2.0_f64.sqrt()));
    let table = trade_offs(&list, Criterion::WorstCase, 1e-3).unwrap();
    assert_eq!(table.len(), 1);
}

#[test]
fn what_cannot_be_held_is_said() {
    let list = plunger(0.004, 0.012, 60.0);
    for criterion in CRITERIA {
        let tight = 1e-6;
        assert_eq!(
            loosest_limit(&list, "hole position", criterion, tight).unwrap(),
            Allowance::Never
        );
        assert_eq!(
            least_radius_mm(&list, 60.0, criterion, tight).unwrap(),
            None
        );
    }
    let idle = [contributor("idle", 1.0, InputUnit::Millimetre, 0.0)];
    assert_eq!(
        loosest_limit(&idle, "idle", Criterion::WorstCase, 1e-3).unwrap(),
        Allowance::Unlimited
    );
    let error = loosest_limit(&list, "nobody", Criterion::WorstCase, 1e-3).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::NotFound);
    for limit in [0.0, -1.0, f64::NAN] {
        assert!(loosest_limit(&list, "level", Criterion::WorstCase, limit).is_err());
    }
    let zero = Criterion::ExpandedUncertainty {
        coverage_factor: 0.0,
    };
    assert!(zero.total_rad(&list).is_err());
}

fn sweep<'a>(radius: &'a [f64], clearance: &'a [f64]) -> PlungerSweep<'a> {
    PlungerSweep {
        pitch_radius_mm: radius,
        hole_deviation_mm: &[0.004],
        station_deviation_mm: &[0.001],
        clearance_mm: clearance,
        bore_clearance_mm: &[0.002],
        eccentricity_mm: &[0.003],
    }
}

/// Rows of a sweep are the worst case and the uncertainty of the contributors.
#[test]
fn sweeps_agree_with_contributors() {
    let (radius, clearance) = ([40.0, 55.0, 70.0], [0.0, 0.01, 0.02]);
    let rows = sweep(&radius, &clearance);
    let worst = rows.worst_case_rad().unwrap();
    let uncertainty = rows.standard_uncertainty_rad().unwrap();
    for index in 0..3 {
        let part = |name: &str, limit: f64| {
            contributor(name, limit, InputUnit::Millimetre, 1.0 / radius[index])
        };
        let mut list = vec![
            part("hole", 0.004),
            part("station", 0.001),
            part("clearance", clearance[index] / 2.0),
            part("bore", 0.001),
            part("eccentricity", 0.003),
        ];
        list[4].distribution = Distribution::UShaped;
        let total = Criterion::WorstCase.total_rad(&list).unwrap();
        assert!((worst[index] - total).abs() < 1e-17);
        let combined = Criterion::ExpandedUncertainty {
            coverage_factor: 1.0,
        }
        .total_rad(&list)
        .unwrap();
        assert!((uncertainty[index] - combined).abs() < 1e-17);
    }
    // The inverses put back.
    let limit = 4e-4;
    let loosest: Vec<f64> = rows
        .loosest_clearance_mm(limit)
        .unwrap()
        .into_iter()
        .flatten()
        .collect();
    assert_eq!(loosest.len(), 3);
    for back in sweep(&radius, &loosest).worst_case_rad().unwrap() {
        assert!((back / limit - 1.0).abs() < 1e-12);
    }
    let least = rows.least_pitch_radius_mm(limit).unwrap();
    for back in sweep(&least, &clearance).worst_case_rad().unwrap() {
        assert!((back / limit - 1.0).abs() < 1e-12);
    }
    assert_eq!(rows.loosest_clearance_mm(1e-9).unwrap(), vec![None; 3]);
}

#[test]
fn sweeps_refuse_what_does_not_go_together() {
    let kind = |radius: &[f64], clearance: &[f64]| {
        sweep(radius, clearance)
            .worst_case_rad()
            .unwrap_err()
            .kind()
    };
    assert_eq!(kind(&[40.0, 50.0], &[0.0; 3]), ErrorKind::Inconsistent);
    assert_eq!(kind(&[], &[0.0]), ErrorKind::EmptyList);
    assert_eq!(kind(&[0.0], &[0.0]), ErrorKind::OutOfRange);
    assert_eq!(kind(&[1.0], &[-0.1]), ErrorKind::OutOfRange);
    assert_eq!(kind(&[1.0], &[f64::NAN]), ErrorKind::NotFinite);
    // A radius tending to zero overflows instead of answering infinity.
    assert_eq!(kind(&[1e-320], &[0.1]), ErrorKind::Overflow);
    let error = sweep(&[1.0, 0.0], &[0.1]).worst_case_rad().unwrap_err();
    assert_eq!(error.field(), "pitch_radius_mm[1]");
}

#[test]
fn bars_over_fixed_and_loose_pins() {
    let bar = BarSweep {
        baseline_mm: &[80.0],
        hole_deviation_mm: &[0.0],
        pin_difference_mm: &[0.008, 0.0],
        hole_difference_mm: &[0.0, 0.008],
        straightness_mm: &[0.0],
        levelling_mm: &[0.0],
    };
    // Δd/(2L) fixed; Δd/L loose; ΔD/(2L) loose.
    assert_eq!(bar.fixed_worst_case_rad().unwrap(), vec![5e-5, 0.0]);
    assert_eq!(bar.loose_worst_case_rad().unwrap(), vec![1e-4, 5e-5]);
    assert_eq!(bar.least_baseline_mm(1e-4).unwrap(), vec![80.0, 40.0]);
}

/// Published encoder tables of eccentricity error: peak error in seconds for a
/// scale diameter and an eccentricity (application article on rotary-encoder
/// eccentricity, rounded to 1 arcsec); peak to peak is twice that.
#[test]
fn eccentricity_of_encoder_tables() {
    for (diameter, eccentricity_um, arcsec) in [
        (100.0, 25.0, 103.0),
        (50.0, 25.0, 206.0),
        (25.0, 10.0, 165.0),
        (25.0, 5.0, 83.0),
    ] {
        let peak_to_peak =
            eccentricity_peak_to_peak_rad(eccentricity_um / 1000.0, diameter / 2.0, 360).unwrap();
        let peak = (peak_to_peak / 2.0).to_degrees() * 3600.0;
        assert!((peak - arcsec).abs() < 0.7, "{peak}");
    }
}

/// The closed form against the largest range over many directions.
#[test]
fn eccentricity_over_few_features() {
    for features in [2_u32, 3, 5, 6, 9] {
        let closed = eccentricity_peak_to_peak_rad(0.01, 50.0, features).unwrap();
        let largest = (0..20_000)
            .map(|step| {
                let direction = f64::from(step) / 20_000.0 * std::f64::consts::TAU;
                let errors: Vec<f64> = (0..features)
                    .map(|index| {
                        let angle = std::f64::consts::TAU * f64::from(index) / f64::from(features);
                        0.01 / 50.0 * (angle - direction).sin()
                    })
                    .collect();
                let least = errors.iter().copied().fold(f64::INFINITY, f64::min);
                errors.iter().copied().fold(f64::NEG_INFINITY, f64::max) - least
            })
            .fold(0.0, f64::max);
        assert!((largest / closed - 1.0).abs() < 1e-6, "{features}");
    }
    assert!(eccentricity_peak_to_peak_rad(0.01, 50.0, 1).unwrap().abs() < 1e-300);
    assert!(eccentricity_peak_to_peak_rad(0.01, 0.0, 4).is_err());
    assert!(eccentricity_peak_to_peak_rad(0.01, 50.0, 0).is_err());
}

/// Every sensitivity of the linear models by numerical differences of the
/// exact geometry.
#[test]
fn sensitivities_by_differences() {
    let near = |found: f64, expected: f64| {
        assert!(
            (found - expected).abs() < 1e-6 * expected.abs(),
            "{found} {expected}"
        );
    };
    let radius = 50.0;
    let play = numerical_sensitivities(
        |x| pin_play(radius, radius, x[0]).unwrap().exact_rad,
        &[0.02],
        &[0.001],
    )
    .unwrap();
    near(play[0], 1.0 / (2.0 * radius));

    let baseline = 80.0;
    for (seating, per_pin, per_hole) in [
        (PinSeating::Fixed, 1.0 / (2.0 * baseline), 0.0),
        (
            PinSeating::AtBottom,
            1.0 / baseline,
            -1.0 / (2.0 * baseline),
        ),
    ] {
        let tilt = |x: &[f64]| {
            let first = BarSupport {
                hole_mm: (0.0, 0.0),
                hole_diameter_mm: 6.1,
                pin_diameter_mm: 6.0,
            };
            let second = BarSupport {
                hole_mm: (baseline, 0.0),
                hole_diameter_mm: x[1],
                pin_diameter_mm: x[0],
            };
            bar_tilt(first, second, seating).unwrap().exact_rad
        };
        let found = numerical_sensitivities(tilt, &[6.0, 6.1], &[0.001, 0.001]).unwrap();
        near(found[0], per_pin);
        assert!((found[1] - per_hole).abs() < 1e-9);
    }

    for phase in [0.3_f64, 1.2, -2.5] {
        let found = numerical_sensitivities(
            |x| eccentricity_error(radius, x[0], phase).unwrap().exact_rad,
            &[1e-4],
            &[1e-5],
        )
        .unwrap();
        // Exact to first order in e/r.
        assert!((found[0] + phase.sin() / radius).abs() < 1e-7);
    }
}

/// Bars: the root of the sum of squares by hand, holes uniform in discs and all
/// else uniform (JCGM 100:2008, 4.3.7).
#[test]
fn uncertainties_of_bars() {
    let sweep = BarSweep {
        baseline_mm: &[80.0],
        hole_deviation_mm: &[0.010],
        pin_difference_mm: &[0.004, 0.0],
        hole_difference_mm: &[0.006],
        straightness_mm: &[0.003],
        levelling_mm: &[0.002],
    };
    let by_hand = |pins: f64, holes: f64| {
        let squares = 2.0 * 0.005_f64.powi(2)
            + (pins * pins + holes * holes + 0.003 * 0.003 + 0.002 * 0.002) / 3.0;
        squares.sqrt() / 80.0
    };
    let loose = sweep.loose_standard_uncertainty_rad().unwrap();
    let fixed = sweep.fixed_standard_uncertainty_rad().unwrap();
    for (found, expected) in loose
        .iter()
        .zip([by_hand(0.004, 0.003), by_hand(0.0, 0.003)])
    {
        assert!((found - expected).abs() < 1e-15);
    }
    for (found, expected) in fixed.iter().zip([by_hand(0.002, 0.0), by_hand(0.0, 0.0)]) {
        assert!((found - expected).abs() < 1e-15);
    }
}

/// Simulated rows: an eccentricity alone gives from `2(e/r)·cos 15°` to 2e/r over
/// twelve features, and nothing at all gives nothing.
#[test]
fn simulated_sweeps() {
    use dividing_core::accuracy::{PlungerSweep, RunSettings, TrialCount};
    use dividing_core::work::Meter;
    let sweep = PlungerSweep {
        pitch_radius_mm: &[50.0],
        hole_deviation_mm: &[0.0],
        station_deviation_mm: &[0.01],
        clearance_mm: &[0.0],
        bore_clearance_mm: &[0.0],
        eccentricity_mm: &[0.0, 0.025],
    };
    let settings = RunSettings {
        trials: TrialCount::Exactly(20_000),
        ..RunSettings::default()
    };
    let found = sweep
        .simulated(12, 0.9, &settings, &mut Meter::default())
        .unwrap();
    assert_eq!(found.cumulative_pitch_mean_rad[0], 0.0);
    let least = 0.001 * (std::f64::consts::PI / 12.0).cos();
    let mean = found.cumulative_pitch_mean_rad[1];
    // The mean of cos over ±15°: sin(15°)/(15° in radians).
    let expected = 0.001 * (std::f64::consts::PI / 12.0).sin() / (std::f64::consts::PI / 12.0);
    assert!((mean - expected).abs() < 1e-6, "{mean} {expected}");
    let high = found.cumulative_pitch_quantile_rad[1];
    assert!(high > least && high <= 0.001 + 1e-9);
}

/// Bars in an array. Levelling alone is independent from bar to bar: the mean
/// range of N values uniform within ±a is 2a·(N − 1)/(N + 1) (order statistics of
/// the uniform distribution, any textbook). Hole errors alone against a plain
/// simulation by coordinates: points drawn in discs, directions by atan2.
#[test]
fn simulated_sweeps_of_bars() {
    use dividing_core::accuracy::{BarSweep, RunSettings, TrialCount};
    use dividing_core::work::Meter;
    let (holes, span, radius_mm) = (9_u32, 4_u32, 58.0_f64);
    let turn = std::f64::consts::TAU / f64::from(holes);
    let baseline_mm = 2.0 * radius_mm * (turn * f64::from(span) / 2.0).sin();
    let sweep = BarSweep {
        baseline_mm: &[baseline_mm],
        hole_deviation_mm: &[0.0, 0.01],
        pin_difference_mm: &[0.0],
        hole_difference_mm: &[0.0],
        straightness_mm: &[0.0],
        levelling_mm: &[0.02, 0.0],
    };
    let trials = 100_000_u32;
    let settings = RunSettings {
        trials: TrialCount::Exactly(u64::from(trials)),
        ..RunSettings::default()
    };
    let meter = &mut Meter::new(u64::MAX);
    let found = sweep
        .fixed_simulated(holes, span, 0.95, &settings, meter)
        .unwrap();
    // The ranges spread by about a tenth of their mean: six standard errors.
    let near = |found: f64, expected: f64| {
        assert!((found / expected - 1.0).abs() < 0.004, "{found} {expected}");
    };
    let expected = 2.0 * 0.02 / baseline_mm * 8.0 / 10.0;
    near(found.cumulative_pitch_mean_rad[0], expected);

    // A multiplicative congruential generator (Park and Miller, 1988).
    let mut state = 12_345_u64;
    let mut draw = || {
        state = state * 48_271 % 2_147_483_647;
        state as f64 / 2_147_483_647.0
    };
    let (mut cumulative, mut single) = (0.0, 0.0);
    for _ in 0..trials {
        let centres: Vec<(f64, f64)> = (0..holes)
            .map(|number| {
                loop {
                    let (x, y) = (2.0 * draw() - 1.0, 2.0 * draw() - 1.0);
                    if x * x + y * y <= 1.0 {
                        let angle = turn * f64::from(number);
                        break (
                            radius_mm * angle.cos() + 0.01 * x,
                            radius_mm * angle.sin() + 0.01 * y,
                        );
                    }
                }
            })
            .collect();
        let off: Vec<f64> = (0..holes)
            .map(|number| {
                let (x1, y1) = centres[number as usize];
                let (x2, y2) = centres[((number + span) % holes) as usize];
                let nominal = turn * (f64::from(number) + f64::from(span) / 2.0)
                    + std::f64::consts::FRAC_PI_2;
                let error = (y2 - y1).atan2(x2 - x1) - nominal;
                error - std::f64::consts::TAU * (error / std::f64::consts::TAU).round()
            })
            .collect();
        let most = off.iter().copied().fold(f64::MIN, f64::max);
        let least = off.iter().copied().fold(f64::MAX, f64::min);
        cumulative += most - least;
        let pitches = (0..off.len()).map(|it| (off[(it + 1) % off.len()] - off[it]).abs());
        single += pitches.fold(0.0, f64::max);
    }
    near(
        found.cumulative_pitch_mean_rad[1],
        cumulative / f64::from(trials),
    );
    near(found.single_pitch_mean_rad[1], single / f64::from(trials));

    for (holes, span, field) in [(2, 1, "holes"), (9, 0, "span"), (9, 5, "span")] {
        let error = sweep
            .loose_simulated(holes, span, 0.95, &settings, meter)
            .unwrap_err();
        assert_eq!(error.field(), field);
    }
}
