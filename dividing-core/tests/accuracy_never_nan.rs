//! Whatever goes in, what comes out of the accuracy room is an error or finite
//! numbers: no NaN ever leaves.
#![allow(clippy::unwrap_used, clippy::panic, reason = "tests")]

use dividing_core::accuracy::{
    Allowance, BarSupport, BarSweep, Budget, Contributor, Coverage, Criterion, Datum, DecisionRule,
    Distribution, Entry, InputUnit, LocatedFrom, Persistence, PinSeating, PlungerSweep,
    RunSettings, SimulatedFeature, SimulatedQuantity, Simulation, TrialCount, bar_tilt, carried,
    clopper_pearson, conformance_probability, drilled_by_coordinates, eccentricity_between,
    eccentricity_error, eccentricity_peak_to_peak_rad, feature_shift, guard_band_factor,
    least_radius_mm, pin_play, position_diameter_mm, position_zone_mm, student_factor, trade_offs,
};
use dividing_core::work::Meter;
use proptest::prelude::*;

/// Any number at all, and often those that break formulae.
fn hostile() -> impl Strategy<Value = f64> {
    prop_oneof![
        any::<f64>(),
        0.0..100.0_f64,
        prop::sample::select(vec![
            0.0,
            -0.0,
            1.0,
            -1.0,
            f64::NAN,
            f64::INFINITY,
            f64::NEG_INFINITY,
            f64::MIN_POSITIVE,
            5e-324,
            f64::MAX,
            f64::EPSILON,
            1e300,
            1e-300,
        ]),
    ]
}

fn contributor() -> impl Strategy<Value = Contributor> {
    let distribution = prop_oneof![
        Just(Distribution::Uniform),
        hostile().prop_map(|sigmas_at_limit| Distribution::Normal { sigmas_at_limit }),
        Just(Distribution::Triangular),
        Just(Distribution::UShaped),
        Just(Distribution::UniformInDisc),
        prop::collection::vec(hostile(), 0..4).prop_map(|values| Distribution::Samples { values }),
    ];
    let unit = prop::sample::select(vec![InputUnit::Millimetre, InputUnit::Radian]);
    let persistence = prop::sample::select(vec![
        Persistence::FixedForPlace,
        Persistence::NewAtSeating,
        Persistence::FixedForJob,
    ]);
    (
        hostile(),
        hostile(),
        distribution,
        unit,
        persistence,
        prop::option::of(hostile()),
    )
        .prop_map(
            |(limit, sensitivity, distribution, unit, persistence, degrees_of_freedom)| {
                Contributor {
                    name: "cause".into(),
                    limit,
                    unit,
                    sensitivity,
                    distribution,
                    persistence,
                    degrees_of_freedom,
                }
            },
        )
}

fn support(x_mm: f64, hole_diameter_mm: f64, pin_diameter_mm: f64) -> BarSupport {
    BarSupport {
        hole_mm: (x_mm, 1.0),
        hole_diameter_mm,
        pin_diameter_mm,
    }
}

fn finite(values: impl IntoIterator<Item = f64>, what: &str) {
    for value in values {
        assert!(value.is_finite(), "{what} gave {value}");
    }
}

fn quantity(it: &SimulatedQuantity) {
    finite(
        [
            it.mean_rad,
            it.mean_standard_error_rad,
            it.standard_deviation_rad,
            it.least_rad,
            it.greatest_rad,
            it.symmetric_interval_rad.0,
            it.symmetric_interval_rad.1,
            it.shortest_interval_rad.0,
            it.shortest_interval_rad.1,
            it.quantile_resolution_rad,
        ],
        "simulation",
    );
    finite(it.quantiles_rad.iter().copied(), "quantiles");
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 2000, failure_persistence: None, ..ProptestConfig::default()
    })]

    #[test]
    fn formulae(a in hostile(), b in hostile(), c in hostile(), d in hostile(), n in 0..30_u32) {
        finite(eccentricity_peak_to_peak_rad(a, b, n), "peak to peak");
        finite(position_diameter_mm(a, b, c), "position diameter");
        finite(conformance_probability(a, b, c, d), "probability");
        finite(guard_band_factor(a), "guard band");
        finite(student_factor(a, Some(b)), "Student factor");
        for radius in [None, Some(b)] {
            if let Ok(shift) = feature_shift(a, radius, LocatedFrom::SpindleOrPlate) {
                finite([shift.shift_mm, shift.angle_rad], "shift");
            }
        }
        for it in [
            pin_play(a, b, c),
            eccentricity_error(a, b, c),
            eccentricity_between(a, b, c),
            bar_tilt(support(a, b, c), support(b, c, d), PinSeating::Fixed),
            bar_tilt(support(a, b, c), support(b, c, d), PinSeating::AtBottom),
        ]
        .into_iter()
        .flatten()
        {
            finite([it.linear_rad, it.exact_rad, it.angle_rad()], "exact geometry");
        }
        let entry = Entry {
            radius_difference_mm: a,
            pin_radius_tolerance_mm: b,
            hole_radius_tolerance_mm: c,
            eccentricity_mm: 0.0,
            least_clearance_mm: d,
            greatest_clearance_mm: d + b,
        };
        if let Ok(it) = entry.check() {
            finite([it.worst_distance_mm, it.worst_margin_mm, it.probability], "entry");
            prop_assert!((0.0..=1.0).contains(&it.probability));
        }
        let shares = clopper_pearson(n.into(), 30, a).ok();
        finite(shares.into_iter().flat_map(|(low, high)| [low, high]), "interval");
        if let Ok(both) = drilled_by_coordinates(a, b, c) {
            finite(both.iter().map(Contributor::limit_rad), "drilled by coordinates");
        }
        // A decision is no number; it must not be made on what is none.
        let rule = DecisionRule::GuardBand { multiple: d };
        if rule.decide(a, b, c, 1.0).is_ok() {
            finite([a, b, c, d], "decision on a number that is none");
        }
    }

    #[test]
    fn sweeps(values in prop::collection::vec(hostile(), 6), limit in hostile()) {
        let one = |index: usize| &values[index..=index];
        let sweep = PlungerSweep {
            pitch_radius_mm: one(0),
            hole_deviation_mm: one(1),
            station_deviation_mm: one(2),
            clearance_mm: one(3),
            bore_clearance_mm: one(4),
            eccentricity_mm: one(5),
        };
        finite(sweep.worst_case_rad().into_iter().flatten(), "worst case");
        finite(sweep.standard_uncertainty_rad().into_iter().flatten(), "uncertainty");
        finite(sweep.loosest_clearance_mm(limit).into_iter().flatten().flatten(), "clearance");
        finite(sweep.least_pitch_radius_mm(limit).into_iter().flatten(), "radius");
        let bars = BarSweep {
            baseline_mm: one(0),
            hole_deviation_mm: one(1),
            pin_difference_mm: one(2),
            hole_difference_mm: one(3),
            straightness_mm: one(4),
            levelling_mm: one(5),
        };
        finite(bars.fixed_worst_case_rad().into_iter().flatten(), "fixed");
        finite(bars.loose_worst_case_rad().into_iter().flatten(), "loose");
        finite(bars.fixed_standard_uncertainty_rad().into_iter().flatten(), "fixed u");
        finite(bars.loose_standard_uncertainty_rad().into_iter().flatten(), "loose u");
        finite(bars.least_baseline_mm(limit).into_iter().flatten(), "baseline");
    }

    #[test]
    fn contributors(
        list in prop::collection::vec(contributor(), 0..4), estimate in hostile(),
        limit in hostile(), factor in hostile(),
    ) {
        for coverage in [Coverage::Factor(factor), Coverage::Probability(factor)] {
            if let Ok(budget) = Budget::of_contributors("angle", estimate, &list, coverage) {
                finite(
                    [
                        budget.estimate,
                        budget.combined_standard_uncertainty,
                        budget.coverage_factor,
                        budget.expanded_uncertainty,
                        budget.second_order_share,
                    ],
                    "budget",
                );
                finite(budget.effective_degrees_of_freedom, "degrees of freedom");
                for line in &budget.lines {
                    finite([line.contribution, line.share, line.sensitivity], "line");
                }
            }
        }
        for criterion in [
            Criterion::WorstCase,
            Criterion::RootSumSquare,
            Criterion::ExpandedUncertainty { coverage_factor: factor },
        ] {
            finite(criterion.total_rad(&list), "total");
            for line in trade_offs(&list, criterion, limit).into_iter().flatten() {
                if let Allowance::UpTo(most) = line.allowance {
                    finite([most], "allowance");
                }
            }
            finite(least_radius_mm(&list, factor, criterion, limit).into_iter().flatten(), "radius");
        }
        finite(position_zone_mm(&list, factor), "zone");
        for it in carried(&list, factor).into_iter().flatten() {
            finite([it.limit_rad(), it.standard_uncertainty_rad()], "carried");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 200, failure_persistence: None, ..ProptestConfig::default()
    })]

    #[test]
    fn simulations(
        list in prop::collection::vec(contributor(), 0..3), residual in hostile(),
        datum in prop::sample::select(vec![
            Datum::Mean, Datum::Middle, Datum::Feature(2), Datum::Setting,
        ]),
    ) {
        let feature = SimulatedFeature {
            residual_rad: residual,
            inputs: list.into_iter().map(Into::into).collect(),
            ..SimulatedFeature::default()
        };
        let job = Simulation { features: vec![feature; 3], datum, ..Simulation::default() };
        let settings = RunSettings { trials: TrialCount::Exactly(200), ..RunSettings::default() };
        if let Ok(report) = job.run(&settings, &mut Meter::default()) {
            quantity(&report.single_pitch);
            quantity(&report.cumulative_pitch);
            report.features.iter().for_each(quantity);
            report.largest_deviation.iter().for_each(quantity);
            report.closing.iter().for_each(quantity);
        }
    }
}
