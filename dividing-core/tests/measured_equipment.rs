//! A measured plate is equipment: what the plan makes of known deviations,
//! against every choice tried one by one here.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::float_cmp,
    clippy::cast_possible_truncation,
    reason = "tests"
)]

use crate::common;

use std::f64::consts::TAU;

use common::measured::{ARCSEC, divisions, measured, plan, registration, rough};
use dividing_core::reach::{BarPlace, Setting};
use dividing_core::{ErrorKind, Plan, Workshop};
use proptest::prelude::*;
use serde_json::{Value, json};

const RADIUS_MM: f64 = 80.0;

fn direct_plate(circles: Value, sense: &str) -> Value {
    json!({"direct_plate": {"name": "plate", "circles": circles, "sense": sense,
           "registration": registration()}})
}

/// Half the spread of every choice of start, in seconds of arc.
fn half_spreads(deviations: &[f64], divisions: usize) -> Vec<f64> {
    let holes = deviations.len();
    let step = holes / divisions;
    (0..step)
        .map(|start| {
            let used = || (0..divisions).map(|k| deviations[start + k * step]);
            (used().fold(f64::NEG_INFINITY, f64::max) - used().fold(f64::INFINITY, f64::min)) / 2.0
        })
        .collect()
}

fn used_holes(plan: &Plan) -> Vec<u32> {
    plan.placements
        .iter()
        .map(|it| match it.setting {
            Setting::Hole { hole, .. } => hole,
            _ => panic!("no hole"),
        })
        .collect()
}

/// The worst case beyond the known deviations: clearance 0.01 mm and what the
/// measurement leaves open, two standard uncertainties.
fn beyond_rad(uncertainty_arcsec: f64) -> f64 {
    0.005 / RADIUS_MM + 2.0 * uncertainty_arcsec * ARCSEC
}

#[test]
fn sixty_holes_for_twelve_divisions_take_the_best_start() {
    let deviations = rough(60);
    for sense in ["counter_clockwise", "clockwise"] {
        let circle = json!([{"holes": 60, "pitch_radius": RADIUS_MM,
                             "measured": measured(&deviations, 1.5)}]);
        let (plan, sheet) = plan(direct_plate(circle, sense), divisions(12));
        let all = half_spreads(&deviations, 12);
        let least = all.iter().copied().fold(f64::INFINITY, f64::min);
        let most = all.iter().copied().fold(0.0, f64::max);
        let mean = all.iter().sum::<f64>() / 5.0;
        let wanted = |half_spread: f64| half_spread * ARCSEC + beyond_rad(1.5);
        let choice = plan.measured_choice.unwrap();
        assert!(plan.exact);
        assert!(most > 1.05 * least, "the plate tells the starts apart");
        assert!((plan.error.worst_rad - wanted(least)).abs() < 1e-15);
        assert!((choice.worst_rad - plan.error.worst_rad).abs() < 1e-15);
        assert!((choice.worst_choice_rad - wanted(most)).abs() < 1e-15);
        assert!((choice.average_choice_rad - wanted(mean)).abs() < 1e-15);
        assert_eq!((choice.starts, choice.all_starts), (5, true));
        let best = all.iter().position(|it| *it == least).unwrap();
        assert!(
            used_holes(&plan)
                .iter()
                .all(|hole| *hole as usize % 5 == best)
        );
        assert!(sheet.contains("the best of 5 starts"), "{sheet}");
        // The settings still give the drawing angles from the start.
        assert_eq!(used_holes(&plan)[0] as usize, best);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn no_start_of_any_plate_is_better(
        deviations in proptest::collection::vec(-60.0..60.0_f64, 60),
        count in prop::sample::select(vec![2_usize, 3, 4, 5, 6, 10, 12, 15, 20, 30]),
    ) {
        let circle = json!([{"holes": 60, "pitch_radius": RADIUS_MM,
                             "measured": measured(&deviations, 0.0)}]);
        let job = divisions(u32::try_from(count).unwrap());
        let (plan, _) = plan(direct_plate(circle, "counter_clockwise"), job);
        let all = half_spreads(&deviations, count);
        let least = all.iter().copied().fold(f64::INFINITY, f64::min);
        let wanted = least * ARCSEC + beyond_rad(0.0);
        prop_assert!((plan.error.worst_rad - wanted).abs() < 1e-14);
        let choice = plan.measured_choice.unwrap();
        prop_assert!(choice.worst_rad <= choice.average_choice_rad + 1e-18);
        prop_assert!(choice.average_choice_rad <= choice.worst_choice_rad + 1e-18);
    }
}

#[test]
fn absent_and_unmeasured_holes_are_respected() {
    let deviations = rough(12);
    let mut ring = measured(&deviations, 1.0);
    ring["deviations"].as_array_mut().unwrap().remove(4);
    let circle = json!([{"holes": 12, "pitch_radius": RADIUS_MM, "absent": [3], "measured": ring}]);
    let (plan, _) = plan(direct_plate(circle, "counter_clockwise"), divisions(3));
    let used = used_holes(&plan);
    assert!(!used.contains(&3));
    // Hole 4 keeps its tolerance of ±0.025 mm; starts 1 and 2 avoid it.
    assert_eq!(plan.measured_choice.unwrap().starts, 3);
    assert!(!used.contains(&4), "{used:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    /// With holes absent, others not measured, and features that do not repeat
    /// round the turn: every start is tried here.
    #[test]
    fn with_absent_holes_no_start_is_better_either(
        deviations in proptest::collection::vec(-60.0..60.0_f64, 36),
        absent in proptest::collection::btree_set(0_usize..36, 0..12),
        unmeasured in proptest::collection::btree_set(0_usize..36, 0..8),
        features in proptest::collection::btree_set(0_usize..36, 2..6),
        clockwise in any::<bool>(),
    ) {
        let mut ring = measured(&deviations, 1.0);
        ring["deviations"].as_array_mut().unwrap()
            .retain(|it| !unmeasured.contains(&(it["place"].as_u64().unwrap() as usize)));
        let circle = json!([{"holes": 36, "pitch_radius": RADIUS_MM, "absent": absent,
                             "measured": ring}]);
        let angles: Vec<String> = features.iter().map(|it| format!("{} deg", 10 * it)).collect();
        let sense = if clockwise { "clockwise" } else { "counter_clockwise" };
        let sign = if clockwise { -1.0 } else { 1.0 };
        // Clockwise numbers run against the angles of the drawing.
        let hole = |start: usize, feature: usize| {
            if clockwise { (start + 36 - feature) % 36 } else { (start + feature) % 36 }
        };
        let clearance = 0.005 / RADIUS_MM;
        let mut all = Vec::new();
        for start in 0..36 {
            let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
            for &feature in &features {
                let hole = hole(start, feature);
                if absent.contains(&hole) {
                    (low, high) = (f64::NEG_INFINITY, f64::INFINITY);
                    break;
                }
                let (known, limit) = if unmeasured.contains(&hole) {
                    (0.0, 0.025 / RADIUS_MM)
                } else {
                    (sign * deviations[hole] * ARCSEC, 2.0 * ARCSEC)
                };
                low = low.min(known - limit - clearance);
                high = high.max(known + limit + clearance);
            }
            if low.is_finite() {
                all.push((high - low) / 2.0);
            }
        }
        prop_assume!(!all.is_empty());
        let job = json!({"features": {"angles": {"angles": angles}}});
        let (plan, _) = plan(direct_plate(circle, sense), job);
        let least = all.iter().copied().fold(f64::INFINITY, f64::min);
        let most = all.iter().copied().fold(0.0, f64::max);
        prop_assert!(plan.exact);
        prop_assert!((plan.error.worst_rad - least).abs() < 1e-14, "{} {least}", plan.error.worst_rad);
        if let Some(choice) = plan.measured_choice {
            prop_assert!((choice.worst_rad - least).abs() < 1e-14);
            prop_assert!((choice.worst_choice_rad - most).abs() < 1e-14);
        } else {
            prop_assert_eq!(all.len(), 1);
        }
    }
}

#[test]
fn the_better_ring_is_taken() {
    let circles = json!([
        {"holes": 24, "pitch_radius": RADIUS_MM, "measured": measured(&[0.0; 24].iter()
            .enumerate().map(|(k, _)| if k % 4 < 2 { 30.0 } else { -30.0 }).collect::<Vec<f64>>(), 1.0)},
        {"holes": 36, "pitch_radius": RADIUS_MM, "measured": measured(&rough(36)
            .iter().map(|it| it / 20.0).collect::<Vec<f64>>(), 1.0)},
    ]);
    // Twenty-four divisions are on the first ring alone, twelve on both.
    let (many, _) = plan(
        direct_plate(circles.clone(), "counter_clockwise"),
        divisions(24),
    );
    assert!(many.method.contains("24-hole"), "{}", many.method);
    let (twelve, sheet) = plan(
        direct_plate(circles, "counter_clockwise"),
        json!({"features": {"equal_divisions": {"count": 12}}}),
    );
    assert!(twelve.exact);
    assert!(twelve.method.contains("36-hole"), "{}", twelve.method);
    // Twelve holes of the 24-hole ring: every other one, at +30 and −30 in turn.
    let rings = twelve.measured_choice.unwrap().rings.unwrap();
    let worst = 30.0 * ARCSEC + beyond_rad(1.0);
    assert_eq!(rings.rings, 2);
    assert!((rings.worst_ring_rad - worst).abs() < 1e-15);
    let average = f64::midpoint(worst, twelve.error.worst_rad);
    assert!((rings.average_ring_rad - average).abs() < 1e-15);
    let words: Vec<&str> = sheet.split_whitespace().collect();
    assert!(words.join(" ").contains("the best of 2 rings"), "{sheet}");
}

#[test]
fn a_clocked_pattern_counts_from_the_datum() {
    let deviations = rough(12);
    let circle = json!([{"holes": 12, "pitch_radius": RADIUS_MM,
                         "measured": measured(&deviations, 1.0)}]);
    let job = json!({"features": {"equal_divisions": {"count": 4}},
                     "start": {"clocked": {"to": "keyway"}}});
    let (plan, _) = plan(direct_plate(circle, "counter_clockwise"), job);
    assert!(plan.measured_choice.is_none());
    for (feature, hole) in [0, 3, 6, 9].into_iter().enumerate() {
        let wanted = (deviations[hole] - deviations[0]) * ARCSEC;
        let known = plan.error.features[feature].known_rad;
        assert!(
            (known - wanted).abs() < 1e-15,
            "{feature}: {known} {wanted}"
        );
    }
}

#[test]
fn without_an_uncertainty_the_figure_is_incomplete() {
    let ring = json!({"places": 4, "deviations": [{"place": 0, "deviation_arcsec": 3.0}]});
    let circle = json!([{"holes": 4, "pitch_radius": RADIUS_MM, "measured": ring}]);
    let (plan, sheet) = plan(direct_plate(circle, "counter_clockwise"), divisions(4));
    assert!(
        plan.error
            .unknown
            .iter()
            .any(|it| it.contains("uncertainty"))
    );
    assert!(sheet.contains("does not say"), "{sheet}");
}

#[test]
fn pin_pairs_are_the_best_of_all() {
    // A ring of eight, holes 0 and 1 far off, so that the longest bar is not the
    // best: four divisions.
    let along = [90.0, -90.0, 12.0, 5.0, -14.0, 8.0, 3.0, -6.0];
    let across_mm = [0.004, -0.003, 0.002, -0.001, 0.002, 0.001, 0.0, -0.002];
    let places: Vec<Value> = (0..8)
        .map(|k| {
            json!({"place": k, "deviation_arcsec": along[k], "standard_uncertainty_arcsec": 1.0,
                   "radial": across_mm[k], "radial_uncertainty": 0.0005})
        })
        .collect();
    let ring = json!({"holes": 8, "pitch_radius": 40,
                      "measured": {"places": 8, "deviations": places}});
    let piece = json!({"pin_plate": {"name": "ring", "circles": [ring], "bar_turns_over": true,
        "pin_hold": "fixed", "registration": registration(),
        "levelling": {"reading": 0.005, "travel": 50}}});
    let (plan, sheet) = plan(piece, divisions(4));
    let chosen = plan.measured_choice.unwrap();
    assert!(plan.error.unknown.is_empty(), "{:?}", plan.error.unknown);
    assert!(plan.exact);

    // By hand, to first order: each end of the bar moves out from the middle of
    // the plate; the second end, counter-clockwise of the bar's middle, turns it
    // clockwise by doing so.
    let bar = |first: usize, span: usize| {
        let half = TAU / 16.0 * f64::from(u32::try_from(span).unwrap());
        let out = |hole: usize, side: f64| {
            across_mm[hole] * half.cos() - side * 40.0 * along[hole] * ARCSEC * half.sin()
        };
        let baseline = 80.0 * half.sin();
        let known = (out(first, -1.0) - out((first + span) % 8, 1.0)) / baseline;
        let pin = 2.0 * (0.0005 * half.cos()).hypot(40.0 * ARCSEC * half.sin());
        (known, 2.0 * pin / baseline + 0.005 / 50.0)
    };
    // Every start and pair of any span, in sixteenths of a turn: a bar above the
    // pins j and j + s presents 2j + s − 4, one below them 2j + s − 12.
    let bars_at = |presented: usize| {
        let mut bars = Vec::new();
        for (span, quarter) in (1..=4).flat_map(|span| [(span, 4), (span, 12)]) {
            let twice = (presented + quarter + 16 - span) % 16;
            if twice.is_multiple_of(2) {
                bars.push(bar(twice / 2, span));
            }
        }
        bars
    };
    let (mut least, mut most) = (f64::INFINITY, 0.0_f64);
    for start in 0..4 {
        let options: Vec<Vec<(f64, f64)>> = (0..4).map(|k| bars_at(start + 4 * k)).collect();
        for choice in 0..options.iter().map(Vec::len).product::<usize>() {
            let (mut low, mut high, mut rest) = (f64::INFINITY, f64::NEG_INFINITY, choice);
            for list in &options {
                let (known, limit) = list[rest % list.len()];
                rest /= list.len();
                low = low.min(known - limit);
                high = high.max(known + limit);
            }
            least = least.min((high - low) / 2.0);
            most = most.max((high - low) / 2.0);
        }
    }
    assert!(most > 1.3 * least);
    // First order here, exact there: squares of deviations of up to 5e-4 rad.
    assert!((plan.error.worst_rad - least).abs() < 3e-8);
    assert!((chosen.worst_rad - plan.error.worst_rad).abs() < 1e-15);
    assert!(
        (chosen.worst_choice_rad - most).abs() < 3e-7,
        "{} {most} {chosen:?}",
        chosen.worst_choice_rad
    );
    assert!(chosen.several_settings && chosen.all_starts, "{chosen:?}");
    let bad = |setting: &Setting| match setting {
        Setting::BarOnPins {
            first_pin,
            second_pin,
            bar,
            ..
        } => {
            assert!(matches!(bar, BarPlace::LevelAbove | BarPlace::LevelBelow));
            *first_pin < 2 || *second_pin < 2
        }
        _ => true,
    };
    assert!(
        !plan.placements.iter().any(|it| bad(&it.setting)),
        "{sheet}"
    );
}

#[test]
fn a_measured_dial_gets_a_table_of_corrections() {
    // 36 places at 10°, invented; the dial reads to a minute of arc.
    let deviations: Vec<f64> = rough(36).iter().map(|it| it * 4.0).collect();
    let piece = json!({"graduated_dial": {"name": "table", "worm_ratio": 90, "graduations": 240,
        "table_error": "0°02'", "measured": measured(&deviations, 3.0)}});
    let job = json!({"features": {"equal_divisions": {"count": 12}},
                     "start": {"clocked": {"to": "keyway"}}});
    let (plan, sheet) = plan(piece, job);
    assert!(plan.exact);
    assert!(sheet.contains("CORRECTIONS OF THE READINGS"), "{sheet}");
    for (feature, figure) in plan.error.features.iter().enumerate() {
        let wanted = (deviations[feature * 3] - deviations[0]) * ARCSEC;
        assert!((figure.known_rad - wanted).abs() < 1e-15);
    }
    for feature in 0..12 {
        // A minute of arc a graduation.
        let graduations = (-deviations[feature * 3] / 60.0).round();
        let row = format!("{:>4}", feature + 1);
        let line = sheet
            .split("CORRECTIONS")
            .nth(1)
            .unwrap()
            .lines()
            .find(|line| line.starts_with(&row))
            .unwrap();
        let text = if graduations == 0.0 {
            "0".to_owned()
        } else {
            format!("{graduations:+}")
        };
        assert!(
            line.split_whitespace().any(|cell| cell == text),
            "{line}: {text}"
        );
    }
}

#[test]
fn a_measurement_of_another_circle_is_refused() {
    let circle = json!([{"holes": 12, "measured": measured(&rough(10), 1.0)}]);
    let workshop = json!({"format": 1, "name": "Bench",
                          "equipment": [direct_plate(circle, "clockwise")]});
    let error = Workshop::from_json(&workshop.to_string()).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Inconsistent);
    assert_eq!(
        error.field(),
        "equipment[0].direct_plate.circles[0].measured.places"
    );
}

#[test]
fn measured_equipment_is_written_as_it_was_read() {
    let circle = json!([{"holes": 12, "measured": measured(&rough(12), 1.0)}]);
    let workshop = json!({"format": 1, "name": "Bench",
                          "equipment": [direct_plate(circle, "clockwise")]});
    let read = Workshop::from_json(&workshop.to_string()).unwrap();
    assert_eq!(Workshop::from_json(&read.to_json().unwrap()).unwrap(), read);
}
