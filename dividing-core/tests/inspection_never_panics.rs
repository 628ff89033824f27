//! Whatever comes in: an error or finite figures.
#![allow(clippy::unwrap_used, reason = "a failing unwrap is a failing test")]
#![allow(clippy::cast_precision_loss, reason = "a few places")]

#[cfg(feature = "drawing")]
use dividing_core::inspection::ring_picture;
use dividing_core::inspection::{
    AngleReading, AngleReadings, ChordReading, ChordReadings, CoordinateReadings, DecisionRule,
    Device, Judging, KnownDeviation, MeasuredPoint, MeasuredValue, Measurement, Numbering,
    PointReading, PointUncertainty, Reference, RingLimits, Setup, ToleranceLimits, Wheel,
    angles_from_csv, calibrate, check_position, check_ring, choose_start, chords_from_csv,
    closure_from_csv, decide, deviations_from_csv, fit_circle, inspect_angles, inspect_chords,
    inspect_coordinates, pitch_grade, plan_shifts, points_from_csv,
};
use dividing_core::work::Meter;
use dividing_core::{Angle, Length};
use proptest::prelude::*;

/// Numbers that make trouble beside ordinary ones.
fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => -100.0..100.0_f64,
        1 => prop::sample::select(vec![
            0.0, -0.0, 1.0, f64::NAN, f64::INFINITY, f64::NEG_INFINITY, f64::MAX, f64::MIN,
            f64::MIN_POSITIVE, 5e-324, 1e-300, 1e5, -1e5, 1e-9,
        ]),
    ]
}

fn length() -> impl Strategy<Value = Length> {
    prop_oneof![
        4 => -100.0..100.0_f64,
        1 => prop::sample::select(vec![0.0, 1e5, -1e5, 1e-300, 25.4, 1.0]),
    ]
    .prop_map(|mm| Length::from_mm(mm).unwrap())
}

proptest! {
    // Without files of failures: a failing case is written out as a test.
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn circles(list in prop::collection::vec((number(), number(), number(), number()), 0..8),
               with in any::<bool>()) {
        let points: Vec<MeasuredPoint> = list
            .iter()
            .map(|&(x_mm, y_mm, ux, uy)| MeasuredPoint {
                x_mm,
                y_mm,
                uncertainty: with.then_some(PointUncertainty { x_mm: ux, y_mm: uy }),
            })
            .collect();
        if let Ok(circle) = fit_circle(&points) {
            prop_assert!(circle.radius_mm.is_finite() && circle.radius_mm > 0.0);
            prop_assert!(circle.x_mm.is_finite() && circle.y_mm.is_finite());
            prop_assert!(circle.covariance_mm2.is_none_or(|c| c.iter().flatten().all(|v| v.is_finite())));
        }
    }

    #[test]
    fn coordinates(places in 0..12_usize, clockwise in any::<bool>(),
                   list in prop::collection::vec((0..12_usize, length(), length()), 0..10),
                   axis in prop::option::of((length(), length()))) {
        let readings = CoordinateReadings {
            places,
            numbering: if clockwise { Numbering::Clockwise } else { Numbering::CounterClockwise },
            axis: axis.map(|(x, y)| [x, y]),
            nominal_radius: None,
            standard_uncertainty: None,
            points: list
                .into_iter()
                .map(|(place, x, y)| PointReading { place, x, y, standard_uncertainty: None })
                .collect(),
        };
        if let Ok(inspection) = inspect_coordinates(&readings) {
            for place in &inspection.about_centre.deviations {
                prop_assert!(place.deviation_rad.is_finite() && place.rest_rad.is_finite());
            }
        }
    }

    #[test]
    fn angles(places in 0..9_usize,
              list in prop::collection::vec((0..9_usize, any::<i64>(), 1..5000_i64), 0..9)) {
        let readings = AngleReadings {
            places,
            numbering: Numbering::CounterClockwise,
            radius: None,
            standard_uncertainty_arcsec: Some(0.1),
            readings: list
                .into_iter()
                .map(|(place, numerator, denominator)| AngleReading {
                    place,
                    angle: Angle::new(i128::from(numerator), i128::from(denominator)).unwrap(),
                })
                .collect(),
        };
        if let Ok(mut ring) = inspect_angles(&readings) {
            #[cfg(feature = "drawing")]
            prop_assert!(!ring_picture("", &ring).contains("NaN"));
            // Fields are open to change; nothing may break on that.
            ring.places = 0;
            ring.deviations.extend(ring.deviations.clone());
            #[cfg(feature = "drawing")]
            let _ = ring_picture("", &ring);
            let _ = ring.covariance_rad2(0, 1);
            let _ = ring.known();
        }
    }

    #[test]
    fn chords(places in 0..9_usize, span in 0..6_usize, pin in length(),
              list in prop::collection::vec(length(), 0..9)) {
        let readings = ChordReadings {
            places,
            span,
            pin_diameter: pin,
            standard_uncertainty: None,
            readings: list
                .into_iter()
                .enumerate()
                .map(|(place, over_pins)| ChordReading { place, over_pins })
                .collect(),
        };
        if let Ok(ring) = inspect_chords(&readings) {
            prop_assert!(ring.deviations.iter().all(|d| d.deviation_rad.is_finite()));
        }
    }

    #[test]
    fn closures(n in 0..7_usize, u in prop::option::of(number()),
                list in prop::collection::vec(
                    (0..7_usize, prop::collection::vec(prop::option::of(number()), 0..7)), 0..6)) {
        let setups: Vec<Setup> = list
            .into_iter()
            .map(|(shift, mut readings_rad)| {
                // Mostly of the right length, so that more than the check is met.
                if shift != 3 {
                    readings_rad.resize(n, Some(0.5));
                }
                Setup { shift, readings_rad }
            })
            .collect();
        if let Ok(closure) = calibrate(n, &setups, u, &mut Meter::default()) {
            let all = closure.first_rad.iter().chain(&closure.second_rad);
            prop_assert!(all.clone().all(|v| v.is_finite()));
            // Sums of zero, as far as the readings' own rounding lets them.
            let read: f64 = setups.iter().flat_map(|s| &s.readings_rad).flatten().map(|v| v.abs()).sum();
            let size: f64 = all.clone().map(|v| v.abs()).sum();
            for device in [&closure.first_rad, &closure.second_rad] {
                prop_assert!(device.iter().sum::<f64>().abs() <= 1e-12 * (read + size));
            }
            let _ = closure.covariance_matrix_rad2();
            let _ = closure.uncertainty_between_rad(Device::Second, 0, n);
        }
    }

    #[test]
    fn plans(n in 0..40_usize, one in number(), other in number()) {
        if let Ok(plan) = plan_shifts(n, one, other, &mut Meter::new(2_000_000)) {
            prop_assert!(plan.division_uncertainty_rad <= other * (1.0 + 1e-9));
            prop_assert!(plan.proved_fewest_setups <= plan.shifts.len());
        }
    }

    #[test]
    fn starts(list in prop::collection::vec(prop::option::of((number(), number())), 0..10),
              pattern in prop::collection::vec(0..10_usize, 0..6), factor in number(),
              limits in prop::option::of(prop::collection::vec(number(), 0..6)),
              which in 0..4_usize) {
        let known: Vec<Option<KnownDeviation>> = list
            .into_iter()
            .map(|one| one.map(|(deviation_rad, standard_uncertainty_rad)| KnownDeviation {
                deviation_rad,
                standard_uncertainty_rad,
            }))
            .collect();
        let reference = [
            Reference::Given, Reference::Mean, Reference::Middle, Reference::FirstFeature,
        ][which];
        let judging = Judging { reference, coverage_factor: factor, limits_rad: limits };
        if let Ok(choice) = choose_start(&known, &pattern, &judging, &mut Meter::default()) {
            prop_assert!(choice.judged.worst.is_finite());
            prop_assert!(choice.gain_over_average() >= 0.0);
            prop_assert!(choice.gain_over_worst() >= choice.gain_over_average());
        }
    }

    #[test]
    fn decisions(value in number(), u in prop::option::of(number()),
                 lower in prop::option::of(number()), upper in prop::option::of(number()),
                 multiple in number()) {
        let measured = MeasuredValue { value, standard_uncertainty: u };
        let limits = ToleranceLimits { lower, upper };
        if let Ok(decision) = decide(measured, limits, DecisionRule::GuardBand { multiple }) {
            if let Some(p) = decision.conformance_probability {
                prop_assert!((0.0..=1.0).contains(&p));
            }
            prop_assert!(!decision.margin.is_nan() && !decision.guard_band.is_nan());
        }
    }

    #[test]
    fn parts(places in 3..12_usize, off in prop::collection::vec((-0.3..0.3_f64, -0.3..0.3_f64), 12),
             radius in length(), zone in length(), angle in number(), single in number(),
             datum in prop::option::of(0..13_usize), module in number(), diameter in number(),
             class in any::<u8>(), broken in prop::option::of(number())) {
        let points = (0..places).map(|place| {
            let turn = std::f64::consts::TAU * place as f64 / places as f64;
            let at = |nominal: f64, off: f64| Length::from_mm(20.0 * nominal + off).unwrap();
            PointReading {
                place,
                x: at(turn.cos(), off[place].0),
                y: at(turn.sin(), off[place].1),
                standard_uncertainty: None,
            }
        });
        let mut readings = CoordinateReadings {
            places,
            numbering: Numbering::CounterClockwise,
            axis: None,
            nominal_radius: None,
            standard_uncertainty: None,
            points: points.collect(),
        };
        let mut inspection = inspect_coordinates(&readings).unwrap();
        readings.nominal_radius = Some(radius);
        // Fields are open to change; nothing may break on that.
        if let Some(value) = broken {
            inspection.about_centre.deviations[0].deviation_rad = value;
        }
        let limits = RingLimits {
            angle_rad: Some(angle),
            datum_place: datum,
            single_pitch_rad: Some(single),
            cumulative_pitch_rad: None,
        };
        for rule in [DecisionRule::SimpleAcceptance, DecisionRule::GuardBand { multiple: 1.0 }] {
            for part in [
                check_ring(&inspection.about_centre, &limits, rule),
                check_position(&readings, &inspection, zone, rule),
            ]
            .into_iter()
            .flatten()
            {
                for check in &part.checks {
                    prop_assert!(check.measured.value.is_finite() && check.decided.margin.is_finite());
                }
            }
        }
        let wheel = Wheel { module_mm: module, reference_diameter_mm: diameter };
        if let Ok(limits) = wheel.ring_limits(class) {
            prop_assert!(limits.single_pitch_rad.is_some_and(f64::is_finite));
        }
        if let Ok(grade) = pitch_grade(&inspection.about_centre, wheel) {
            prop_assert!(grade.single_um.is_finite() && grade.cumulative_um.is_finite());
        }
    }

    #[test]
    fn texts(head in "(place|x_mm|y_mm|angle|angle_deg|over_pins_mm|deviation_arcsec|setup|,|;|\"){1,7}",
             body in "([0-9]{1,3}|,|\n|\"|-|\\.|NaN| |deg|e9){0,40}", any in ".{0,60}") {
        for text in [format!("{head}\n{body}"), any.clone()] {
            let _ = points_from_csv(&text);
            let _ = angles_from_csv(&text);
            let _ = deviations_from_csv(&text);
            let _ = chords_from_csv(&text);
            let _ = closure_from_csv(5, &text);
            let _ = Measurement::from_json(&text);
        }
    }
}
