//! Measured vernier indexers, worm-head plates, dials and bars across rings: what
//! is known of them against the geometry written out here.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::cast_precision_loss,
    reason = "tests"
)]

use crate::common;

use common::measured::{ARCSEC, divisions, measured, plan, registration, rough};
use dividing_core::accuracy::{Contributor, registration as registration_of};
use dividing_core::inspection::{InspectionReport, Measurement};
use dividing_core::reach::{BarPlace, Placement, Setting, WayKind, ways};
use dividing_core::work::Meter;
use dividing_core::{Angle, ErrorKind, Job, Plan, Workshop, plan_job};
use serde_json::{Value, json};

/// What is known of each feature, counted from the middle of the pattern with
/// its limits, and the half spread that this leaves.
fn from_the_middle(known: &[f64], limit: f64) -> (Vec<f64>, f64) {
    let low = known.iter().copied().fold(f64::INFINITY, f64::min);
    let high = known.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let middle = f64::midpoint(low, high);
    let counted = known.iter().map(|it| it - middle).collect();
    (counted, (high - low) / 2.0 + limit)
}

fn assert_known(plan: &Plan, wanted: &[f64], tolerance: f64) {
    assert_eq!(plan.error.features.len(), wanted.len());
    for (figure, wanted) in plan.error.features.iter().zip(wanted) {
        let known = figure.known_rad;
        assert!((known - wanted).abs() < tolerance, "{known} {wanted}");
    }
}

fn worst_of<'c>(contributors: impl IntoIterator<Item = &'c Contributor>) -> f64 {
    contributors.into_iter().map(Contributor::limit_rad).sum()
}

#[test]
fn stations_and_holes_of_a_vernier_indexer_count_against_each_other() {
    // 12 holes and 5 stations hold 60 positions, each by one pair of hole and
    // station; 20 divisions leave three starts.
    let holes = rough(12);
    let stations: Vec<f64> = rough(29).split_off(24);
    let angles: Vec<String> = (0..5).map(|k| format!("{} deg", 36 * k)).collect();
    for (sense, sign) in [("counter_clockwise", 1.0), ("clockwise", -1.0)] {
        let piece = json!({"vernier_indexer": {"name": "indexer", "sense": sense,
            "circle": {"holes": 12, "pitch_radius": 80, "measured": measured(&holes, 1.5)},
            "stations": angles, "registration": registration(),
            "measured_stations": measured(&stations, 2.0)}});
        let (plan, _) = plan(piece, divisions(20));
        // The pin has clearance in the hole and in the station.
        let limit = 2.0 * 0.005 / 80.0 + 2.0 * (1.5 + 2.0) * ARCSEC;
        let at = |presented: usize| {
            // hole·30° − station·36° = ±presented·6°, all modulo a turn.
            let wanted = if sign > 0.0 {
                presented
            } else {
                60 - presented
            } % 60;
            let pair = (0..60).find(|k| (k % 12 * 5 + 60 - k / 12 * 6) % 60 == wanted);
            let pair = pair.unwrap();
            sign * (holes[pair % 12] - stations[pair / 12]) * ARCSEC
        };
        let all: Vec<(Vec<f64>, f64)> = (0..3)
            .map(|start| {
                let known: Vec<f64> = (0..20).map(|k| at((start + 3 * k) % 60)).collect();
                from_the_middle(&known, limit)
            })
            .collect();
        let least = all.iter().map(|it| it.1).fold(f64::INFINITY, f64::min);
        let most = all.iter().map(|it| it.1).fold(0.0, f64::max);
        let mean = all.iter().map(|it| it.1).sum::<f64>() / 3.0;
        assert!(most > 1.02 * least, "{least} {most}");
        assert!(plan.error.unknown.is_empty());
        assert!((plan.error.worst_rad - least).abs() < 1e-15);
        let choice = plan.measured_choice.unwrap();
        assert!((choice.worst_rad - least).abs() < 1e-15);
        assert!((choice.worst_choice_rad - most).abs() < 1e-15);
        assert!((choice.average_choice_rad - mean).abs() < 1e-15);
        assert!(choice.all_starts);
    }
}

#[test]
fn stations_measured_by_a_document_go_into_the_indexer() {
    // Four stations at no equal angles, 7.5° further than a multiple of 30° each:
    // with 12 holes they hold 48 positions.
    let stations = ["0 deg", "37.5 deg", "105 deg", "232.5 deg"];
    let read = ["5 deg", "42°30'18\"", "109°59'50\"", "237.5 deg"];
    let readings: Vec<Value> = (0..4)
        .map(|place| json!({"place": place, "angle": read[place]}))
        .collect();
    let document = json!({"format": 1, "name": "body", "readings": {"stations": {
        "stations": stations, "standard_uncertainty_arcsec": 1.5, "readings": readings}}});
    let measurement = Measurement::from_json(&document.to_string()).unwrap();
    let report = measurement.inspect().unwrap();
    let text = report.to_json().unwrap();
    assert_eq!(InspectionReport::from_json(&text).unwrap(), report);
    assert!(report.to_text().contains("4 of 4"), "{}", report.to_text());
    let found = serde_json::to_value(measurement.measured().unwrap()).unwrap();
    let piece = json!({"vernier_indexer": {"name": "indexer",
        "circle": {"holes": 12, "pitch_radius": 80}, "stations": stations,
        "registration": registration(), "measured_stations": found}});
    let (plan, _) = plan(piece, divisions(48));
    assert!(plan.exact);
    // 18" and −10" about their mean of 2"; a station further on leaves the part
    // further back.
    let off = [-2.0, 16.0, -12.0, -2.0].map(|it| -it * ARCSEC);
    let limit = 2.0 * 0.005 / 80.0 + 0.025 / 80.0 + 3.0 * ARCSEC;
    let (_, worst) = from_the_middle(&off, limit);
    assert!((plan.error.worst_rad - worst).abs() < 1e-15);
}

#[test]
fn one_measured_side_of_a_vernier_indexer_leaves_the_other_its_tolerance() {
    let stations = [3.0, -8.0];
    let piece = json!({"vernier_indexer": {"name": "indexer",
        "circle": {"holes": 12, "pitch_radius": 80}, "stations": ["0 deg", "15 deg"],
        "registration": registration(), "measured_stations": measured(&stations, 2.0)}});
    let (plan, _) = plan(piece, divisions(24));
    let limit = 2.0 * 0.005 / 80.0 + 0.025 / 80.0 + 4.0 * ARCSEC;
    let (_, worst) = from_the_middle(&[-3.0 * ARCSEC, 8.0 * ARCSEC], limit);
    assert!((plan.error.worst_rad - worst).abs() < 1e-15);
    assert_eq!(plan.error.features.len(), 24);
}

fn worm_head(plates: Value, more: Value) -> Value {
    let mut head = json!({"name": "head", "worm_ratio": 40, "plates": plates,
        "registration": registration(), "worm_error": "0°00'30\""});
    head.as_object_mut()
        .unwrap()
        .extend(more.as_object().unwrap().clone());
    json!({"worm_head": head})
}

#[test]
fn holes_of_a_worm_heads_plate_are_divided_by_the_ratio() {
    // Nine divisions on 18 holes: moves of 4 turns and 8 holes use every other
    // hole, so two choices of holes are left.
    let holes = rough(18);
    let plates = json!([{"name": "plate", "circles": [
        {"holes": 18, "pitch_radius": 60, "measured": measured(&holes, 3.0)}]}]);
    let (plan, sheet) = plan(worm_head(plates, json!({})), divisions(9));
    let limit = (0.005 / 60.0 + 6.0 * ARCSEC) / 40.0 + 30.0 * ARCSEC;
    let all: Vec<(Vec<f64>, f64)> = (0..2)
        .map(|start| {
            let used = (0..9).map(|k| holes[(start + 80 * k) % 18] * ARCSEC / 40.0);
            from_the_middle(&used.collect::<Vec<_>>(), limit)
        })
        .collect();
    let best = usize::from(all[1].1 < all[0].1);
    assert!((plan.error.worst_rad - all[best].1).abs() < 1e-15);
    let choice = plan.measured_choice.unwrap();
    assert!((choice.worst_choice_rad - all[1 - best].1).abs() < 1e-15);
    assert!((choice.average_choice_rad - f64::midpoint(all[0].1, all[1].1)).abs() < 1e-15);
    assert_eq!((choice.starts, choice.all_starts), (18, true));
    for placement in &plan.placements {
        let Setting::Crank { hole, .. } = placement.setting else {
            panic!("no crank")
        };
        assert_eq!(hole as usize % 2, best);
    }
    assert!(sheet.contains("the best of 18 starts"), "{sheet}");
    // Behind the worm the rough plate is next to true.
    assert!(choice.worst_choice_rad - choice.worst_rad < 2.0 * ARCSEC);
}

#[test]
fn holes_that_were_measured_and_then_plugged_are_never_used() {
    // Hole 4 is plugged; what was measured of it, far off, counts for nothing.
    let mut holes = rough(18);
    holes[4] = 3000.0;
    let circle = |absent: &[u32]| {
        json!({"holes": 18, "pitch_radius": 60, "absent": absent,
               "measured": measured(&holes, 3.0)})
    };
    let at = |hole: usize, ratio: f64| holes[hole % 18] * ARCSEC / ratio;
    let plates = json!([{"name": "plate", "circles": [circle(&[4])]}]);
    let (by_worm, sheet) = plan(worm_head(plates, json!({})), divisions(9));
    let limit = (0.005 / 60.0 + 6.0 * ARCSEC) / 40.0 + 30.0 * ARCSEC;
    let odd: Vec<f64> = (0..9).map(|k| at(2 * k + 1, 40.0)).collect();
    let (_, worst) = from_the_middle(&odd, limit);
    assert!((by_worm.error.worst_rad - worst).abs() < 1e-15);
    assert!(sheet.contains("This circle lacks holes"), "{sheet}");
    for placement in &by_worm.placements {
        assert!(matches!(placement.setting, Setting::Crank { hole, .. } if hole % 2 == 1));
    }
    // A plate with a plunger: of six starts for three divisions one needs the hole.
    let direct = json!({"direct_plate": {"name": "plate", "circles": [circle(&[4])],
        "registration": registration()}});
    let (by_plunger, _) = plan(direct, divisions(3));
    let limit = 0.005 / 60.0 + 6.0 * ARCSEC;
    let starts: Vec<f64> = (0..6)
        .filter(|start| *start != 4)
        .map(|start| {
            let known: Vec<f64> = (0..3).map(|k| at(start + 6 * k, 1.0)).collect();
            from_the_middle(&known, limit).1
        })
        .collect();
    let least = starts.iter().copied().fold(f64::INFINITY, f64::min);
    let most = starts.iter().copied().fold(0.0, f64::max);
    let choice = by_plunger.measured_choice.unwrap();
    assert_eq!(choice.starts, 5);
    assert!((by_plunger.error.worst_rad - least).abs() < 1e-15);
    assert!((choice.worst_choice_rad - most).abs() < 1e-15);
}

#[test]
fn compound_indexing_counts_the_plate_pin_the_other_way() {
    let (first, second) = (rough(17), rough(15));
    let plates = json!([{"name": "plate", "circles": [
        {"holes": 17, "pitch_radius": 60, "measured": measured(&first, 1.0)},
        {"holes": 15, "pitch_radius": 50, "measured": measured(&second, 2.0)}]}]);
    let (plan, _) = plan(worm_head(plates, json!({})), divisions(51));
    assert!(plan.exact);
    let known: Vec<f64> = plan
        .placements
        .iter()
        .map(|placement| {
            let Setting::CompoundCrank {
                first_circle,
                first_hole,
                ..
            } = placement.setting
            else {
                panic!("no compound indexing")
            };
            // The crank stands over the spindle's angle times 40. It is where its
            // hole is on the plate; the plate is turned back by where the hole
            // is that the fixed pin holds. In steps of 1/255 turn.
            let presented = plan.start.checked_add(placement.required).unwrap();
            let turns = presented.checked_mul(40 * 255).unwrap();
            assert_eq!(turns.denominator(), 1);
            let wanted = usize::try_from(turns.numerator().rem_euclid(255)).unwrap();
            let crank_on_first = first_circle == 17;
            let pairs = (0..255).map(|k| (k % 17, k / 17));
            let fits = |(a, b): &(usize, usize)| {
                let (on_17, on_15) = (a * 15, b * 17);
                let (crank, pin) = if crank_on_first {
                    (on_17, on_15)
                } else {
                    (on_15, on_17)
                };
                (crank + 255 - pin) % 255 == wanted
            };
            let (a, b) = pairs.clone().find(fits).unwrap();
            let (crank, pin, crank_hole) = if crank_on_first {
                (first[a], second[b], a)
            } else {
                (second[b], first[a], b)
            };
            assert_eq!(first_hole as usize, crank_hole);
            (crank - pin) * ARCSEC / 40.0
        })
        .collect();
    let (wanted, _) = from_the_middle(&known, 0.0);
    assert_known(&plan, &wanted, 1e-15);
    let measured: f64 = worst_of(
        plan.error
            .contributors
            .iter()
            .filter(|it| it.name.contains("measured")),
    );
    assert!((measured - 2.0 * 3.0 * ARCSEC / 40.0).abs() < 1e-15);
}

#[test]
fn differential_indexing_divides_by_what_the_gears_leave() {
    let holes = rough(18);
    let plates = json!([{"name": "plate", "circles": [
        {"holes": 18, "pitch_radius": 60, "measured": measured(&holes, 1.0)}]}]);
    let gears = json!({"change_gears": {"gears": [24, 32, 40, 48, 56, 64], "plate_error": "0°10'",
        "mesh": {"clear": {"allowance_teeth": 5}}}});
    let (plan, _) = plan(worm_head(plates, gears), divisions(59));
    assert!(plan.exact, "{}", plan.method);
    let known: Vec<f64> = plan
        .placements
        .iter()
        .map(|placement| match placement.setting {
            Setting::Crank { hole, .. } => holes[hole as usize] * ARCSEC,
            _ => panic!("no crank"),
        })
        .collect();
    // The crank has turned so much on the plate for the second feature; a turn
    // of the hole is shared out likewise.
    let counted = |placement: &Placement| match placement.setting {
        Setting::Crank { turns, hole, .. } => turns as f64 + f64::from(hole) / 18.0,
        _ => panic!("no crank"),
    };
    let moved = counted(&plan.placements[1]) - counted(&plan.placements[0]);
    let ratio = moved / plan.placements[1].required.to_turns_f64();
    assert!(
        (ratio - 40.0).abs() > 0.1,
        "the gears do something: {ratio}"
    );
    let scaled: Vec<f64> = known.iter().map(|it| it / ratio).collect();
    let (wanted, _) = from_the_middle(&scaled, 0.0);
    assert_known(&plan, &wanted, 1e-15);
}

/// Every start of equal moves from hole to hole: the half spread of each, the
/// least, the most and the mean against the plan's choice.
fn assert_best_of(plan: &Plan, starts: &[Vec<f64>], limit: f64) {
    let all: Vec<f64> = starts
        .iter()
        .map(|it| from_the_middle(it, limit).1)
        .collect();
    let least = all.iter().copied().fold(f64::INFINITY, f64::min);
    let most = all.iter().copied().fold(0.0, f64::max);
    let mean = all.iter().sum::<f64>() / all.len() as f64;
    assert!(most > least + 0.1 * ARCSEC, "{most} {least}");
    let choice = plan.measured_choice.unwrap();
    assert_eq!((choice.starts, choice.all_starts), (all.len() as u64, true));
    assert!((plan.error.worst_rad - least).abs() < 1e-15);
    assert!((choice.worst_rad - least).abs() < 1e-15);
    assert!((choice.worst_choice_rad - most).abs() < 1e-15);
    assert!((choice.average_choice_rad - mean).abs() < 1e-15);
}

#[test]
fn compound_indexing_begins_from_the_best_pair_of_holes() {
    let (first, second) = (rough(17), rough(15));
    let measured_17 = json!({"holes": 17, "pitch_radius": 60, "measured": measured(&first, 1.0)});
    let measured_15 = json!({"holes": 15, "pitch_radius": 50, "measured": measured(&second, 2.0)});
    let plain_17 = json!({"holes": 17, "pitch_radius": 60});
    for both in [true, false] {
        let plates = json!([{"name": "plate", "circles":
            [if both { &measured_17 } else { &plain_17 }, measured_15]}]);
        let (plan, sheet) = plan(worm_head(plates, json!({})), divisions(51));
        let WayKind::CompoundIndexing {
            first_circle,
            first_holes,
            second_holes,
            ..
        } = plan.way
        else {
            panic!("no compound indexing")
        };
        // The crank pin moves up its circle, the plate's pin down its own.
        let unmeasured = vec![0.0; 17];
        let on_17 = if both { &first } else { &unmeasured };
        let (crank, pin) = if first_circle == 0 {
            (on_17, &second)
        } else {
            (&second, on_17)
        };
        let whole = |number: usize| i64::try_from(number).unwrap();
        let at = |holes: &[f64], place: i64| {
            holes[usize::try_from(place.rem_euclid(whole(holes.len()))).unwrap()]
        };
        let one_for_all = |holes: &[f64]| holes.iter().all(|it| *it == 0.0);
        let count = |holes: &[f64]| if one_for_all(holes) { 1 } else { holes.len() };
        let mut starts = Vec::new();
        for a in 0..whole(count(crank)) {
            for b in 0..whole(count(pin)) {
                let known = (0..51).map(|k| {
                    let from = at(crank, a + k * first_holes);
                    (from - at(pin, -(b + k * second_holes))) * ARCSEC / 40.0
                });
                starts.push(known.collect());
            }
        }
        // Clearance in both circles, the worm, and of each circle the uncertainty
        // where it was measured, else the position tolerance of its holes.
        let of_17 = if both { 2.0 * ARCSEC } else { 0.025 / 60.0 };
        let pins = 0.005 / 60.0 + 0.005 / 50.0 + 4.0 * ARCSEC + of_17;
        assert_best_of(&plan, &starts, pins / 40.0 + 30.0 * ARCSEC);
        assert!(
            sheet.contains("Begin with the crank pin in hole"),
            "{sheet}"
        );
        // The spindle stands where the pins say.
        for placement in &plan.placements {
            let Setting::CompoundCrank {
                turns,
                first_circle,
                first_hole,
                second_circle,
                second_hole,
                ..
            } = placement.setting
            else {
                panic!("no compound indexing")
            };
            let part = |hole: u32, of: u32| Angle::new(hole.into(), of.into()).unwrap();
            let crank = Angle::new(turns, 1)
                .and_then(|it| it.checked_add(part(first_hole, first_circle)))
                .and_then(|it| it.checked_add(part(second_hole, second_circle)))
                .unwrap();
            let stands = plan.start.checked_add(placement.required).unwrap();
            let off = crank.checked_div(40).unwrap().checked_sub(stands).unwrap();
            assert_eq!(off.denominator(), 1, "{off}");
        }
    }
}

#[test]
fn differential_indexing_begins_from_the_best_hole_exact_or_not() {
    let holes = rough(18);
    let plates = json!([{"name": "plate", "circles": [
        {"holes": 18, "pitch_radius": 60, "measured": measured(&holes, 1.0)}]}]);
    let gears = json!({"change_gears": {"gears": [24, 32, 40, 48, 56, 64], "plate_error": "0°10'",
        "mesh": {"clear": {"allowance_teeth": 5}}}});
    for (number, exact) in [(59_u32, true), (383, false)] {
        let workshop = json!({"format": 1, "name": "Bench",
            "equipment": [worm_head(plates.clone(), gears.clone())]});
        let workshop = Workshop::from_json(&workshop.to_string()).unwrap();
        let mut job = divisions(number);
        job["format"] = 1.into();
        job["name"] = "job".into();
        let plans = plan_job(&workshop, &Job::from_json(&job.to_string()).unwrap()).unwrap();
        let plan = plans
            .plans()
            .iter()
            .find(|it| matches!(it.way, WayKind::DifferentialIndexing { .. }))
            .unwrap();
        let WayKind::DifferentialIndexing { spaces, .. } = plan.way else {
            panic!("no differential indexing")
        };
        assert_eq!(plan.exact, exact, "{}", plan.method);
        let on_plate = f64::from(number) * spaces as f64 / 18.0;
        let residuals: Vec<f64> = plan.placements.iter().map(|it| it.residual_rad()).collect();
        let starts: Vec<Vec<f64>> = (0..18)
            .map(|start| {
                let known = residuals.iter().enumerate().map(|(k, residual)| {
                    let hole = (start + k * usize::try_from(spaces).unwrap()) % 18;
                    residual + holes[hole] * ARCSEC / on_plate
                });
                known.collect()
            })
            .collect();
        let limit = (0.005 / 60.0 + 2.0 * ARCSEC + 600.0 * ARCSEC) / on_plate + 30.0 * ARCSEC;
        assert_best_of(plan, &starts, limit);
    }
}

#[test]
fn a_pattern_on_a_setting_counts_from_the_hole_it_begins_in() {
    let holes = rough(18);
    let plates = json!([{"name": "plate", "circles": [
        {"holes": 18, "pitch_radius": 60, "measured": measured(&holes, 1.0)}]}]);
    let gears = json!({"change_gears": {"gears": [24, 32, 40, 48, 56, 64], "plate_error": "0°10'",
        "mesh": {"clear": {"allowance_teeth": 5}}}});
    let mut job = divisions(59);
    job["start"] = "on_a_setting".into();
    let (plan, _) = plan(worm_head(plates.clone(), gears.clone()), job.clone());
    let WayKind::DifferentialIndexing { spaces, .. } = plan.way else {
        panic!("no differential indexing")
    };
    let on_plate = 59.0 * spaces as f64 / 18.0;
    let limit = (0.005 / 60.0 + 2.0 * ARCSEC + 600.0 * ARCSEC) / on_plate + 30.0 * ARCSEC;
    let at = |start: usize, k: usize| {
        holes[(start + k * usize::try_from(spaces).unwrap()) % 18] * ARCSEC / on_plate
    };
    let worst: Vec<f64> = (0..18)
        .map(|start| {
            let off = (0..59).map(|k| (at(start, k) - at(start, 0)).abs());
            off.fold(0.0, f64::max) + limit
        })
        .collect();
    let least = worst.iter().copied().fold(f64::INFINITY, f64::min);
    assert!((plan.error.worst_rad - least).abs() < 1e-15);
    assert!((plan.measured_choice.unwrap().worst_rad - least).abs() < 1e-15);
    // A clocked start leaves no choice.
    job["start"] = json!({"clocked": {"to": "keyway"}});
    let (clocked, _) = common::measured::plan(worm_head(plates, gears), job);
    assert!(clocked.measured_choice.is_none());
}

#[test]
fn a_plate_measured_for_another_circle_is_refused_by_path() {
    let plates = json!([{"name": "plate", "circles": [18,
        {"holes": 20, "measured": measured(&rough(18), 1.0)}]}]);
    let workshop = json!({"format": 1, "name": "Bench",
                          "equipment": [worm_head(plates, json!({}))]});
    let error = Workshop::from_json(&workshop.to_string()).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Inconsistent);
    assert_eq!(
        error.field(),
        "equipment[0].worm_head.plates[0].circles[1].measured.places"
    );
}

fn dial(between: Option<&str>, uncertainty_arcsec: f64) -> Value {
    let mut dial = json!({"name": "table", "worm_ratio": 90, "graduations": 240,
        "table_error": "0°02'", "measured": measured(&rough(36), uncertainty_arcsec)});
    if let Some(between) = between {
        dial["between_measured"] = between.into();
    }
    json!({"graduated_dial": dial})
}

fn clocked(count: u32) -> Value {
    let mut job = divisions(count);
    job["start"] = json!({"clocked": {"to": "keyway"}});
    job
}

#[test]
fn a_dial_is_interpolated_between_its_calibrated_readings() {
    let deviations: Vec<f64> = rough(36).iter().map(|it| it * ARCSEC).collect();
    let (plan, sheet) = plan(dial(Some("0°00'12\""), 3.0), clocked(144));
    // 144 divisions: three of 2.5° between two readings 10° apart.
    let at = |feature: usize| {
        let (place, quarters) = (feature / 4, (feature % 4) as f64);
        let (one, other) = (deviations[place], deviations[(place + 1) % 36]);
        one + (other - one) * quarters / 4.0
    };
    let wanted: Vec<f64> = (0..144).map(|feature| at(feature) - at(0)).collect();
    assert_known(&plan, &wanted, 1e-15);
    assert!(plan.error.unknown.is_empty());
    // Half a graduation of a minute, and the datum's again; the line between two
    // readings; twice the uncertainty of what lies between the reading of the
    // datum and the shares of two readings.
    let limit = |feature: usize| {
        let (place, share) = (feature / 4, (feature % 4) as f64 / 4.0);
        let mut weights = [0.0_f64; 36];
        weights[place] += 1.0 - share;
        weights[(place + 1) % 36] += share;
        weights[0] -= 1.0;
        let places = 2.0 * 3.0 * ARCSEC * weights.iter().map(|it| it * it).sum::<f64>().sqrt();
        let line = if share > 0.0 { 12.0 * ARCSEC } else { 0.0 };
        2.0 * 30.0 * ARCSEC + places + line
    };
    for (feature, figure) in plan.error.features.iter().enumerate().skip(1) {
        let worst = wanted[feature].abs() + limit(feature);
        assert!((figure.worst_rad - worst).abs() < 1e-15, "{feature}");
    }
    let table = sheet.split("CORRECTIONS OF THE READINGS").nth(1).unwrap();
    for feature in [1, 2, 3, 77] {
        let row = (feature + 1).to_string();
        let of_row = |line: &&str| line.split_whitespace().next() == Some(row.as_str());
        let line = table.lines().find(of_row).unwrap();
        let graduations = (-at(feature) / (60.0 * ARCSEC)).round();
        let text = if graduations == 0.0 {
            "0".to_owned()
        } else {
            format!("{graduations:+}")
        };
        assert!(line.split_whitespace().any(|cell| cell == text), "{line}");
    }
}

#[test]
fn without_a_limit_between_its_readings_a_dial_is_not_interpolated() {
    let (plan, _) = plan(dial(None, 3.0), clocked(144));
    let between = &plan.error.features[1];
    // The datum's known deviation still counts, and the table error instead.
    assert!((between.known_rad + rough(36)[0] * ARCSEC).abs() < 1e-15);
    let worst = between.known_rad.abs() + (60.0 + 6.0 + 120.0) * ARCSEC;
    assert!((between.worst_rad - worst).abs() < 1e-15);
}

#[test]
fn a_limit_between_readings_needs_readings() {
    let mut piece = dial(Some("0°00'12\""), 3.0);
    piece["graduated_dial"]
        .as_object_mut()
        .unwrap()
        .remove("measured");
    let workshop = json!({"format": 1, "name": "Bench", "equipment": [piece]});
    let error = Workshop::from_json(&workshop.to_string()).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Inconsistent);
    assert_eq!(
        error.field(),
        "equipment[0].graduated_dial.between_measured"
    );
}

#[test]
fn a_bar_across_measured_rings_points_along_its_real_centres() {
    let ring = |holes: u32, radius_mm: f64, first: &str, along: f64, out_mm: f64| {
        let places: Vec<Value> = (0..holes)
            .map(|place| {
                json!({"place": place, "deviation_arcsec": along * f64::from(place + 1),
                       "standard_uncertainty_arcsec": 1.0, "radial": out_mm,
                       "radial_uncertainty": 0.0005})
            })
            .collect();
        json!({"holes": holes, "pitch_radius": radius_mm, "first_hole": first,
               "measured": {"places": holes, "deviations": places}})
    };
    let piece = json!({"pin_plate": {"name": "plate", "across_rings": true, "pin_hold": "fixed",
        "circles": [ring(5, 40.0, "10 deg", 15.0, 0.003), ring(7, 25.0, "0 deg", -20.0, -0.002)],
        "registration": registration(), "levelling": {"reading": 0.005, "travel": 50}}});
    let workshop = json!({"format": 1, "name": "Bench", "equipment": [piece]});
    let workshop = Workshop::from_json(&workshop.to_string()).unwrap();
    let way = ways(&workshop, &mut Meter::default()).unwrap().remove(0);
    let setting = Setting::BarAcrossRings {
        first_ring: 5,
        first_pin: 1,
        second_ring: 7,
        second_pin: 3,
        bar: BarPlace::LevelAbove,
    };
    let found = registration_of(&workshop, &way, &setting);
    let centre = |radius: f64, degrees: f64, arcsec: f64| {
        let angle = degrees.to_radians() + arcsec * ARCSEC;
        (radius * angle.cos(), radius * angle.sin())
    };
    let direction = |a: (f64, f64), b: (f64, f64)| (b.1 - a.1).atan2(b.0 - a.0);
    let (a, b) = (centre(40.0, 82.0, 0.0), centre(25.0, 1080.0 / 7.0, 0.0));
    let measured = direction(
        centre(40.003, 82.0, 30.0),
        centre(24.998, 1080.0 / 7.0, -80.0),
    );
    assert!((found.known_rad - (measured - direction(a, b))).abs() < 1e-14);
    assert!(found.measured && found.unknown.is_empty(), "{found:?}");
    // By numerical differences: what a shift of each pin turns the bar by.
    let baseline = (b.0 - a.0).hypot(b.1 - a.1);
    let turn_by = |radius: f64, degrees: f64, first: bool| {
        let at = |out: f64, arcsec: f64| {
            let moved = centre(radius + out, degrees, arcsec);
            let turned = if first {
                direction(moved, b)
            } else {
                direction(a, moved)
            };
            (turned - direction(a, b)).abs()
        };
        2.0 * at(0.0005, 0.0).hypot(at(0.0, 1.0))
    };
    let wanted = turn_by(40.0, 82.0, true) + turn_by(25.0, 1080.0 / 7.0, false);
    let own = worst_of(
        found
            .contributors
            .iter()
            .filter(|it| it.name.contains("measured")),
    );
    assert!((own - wanted).abs() < 1e-4 * wanted, "{own} {wanted}");
    let positions = found
        .contributors
        .iter()
        .filter(|it| it.name.starts_with("hole position"));
    assert_eq!(positions.count(), 0);
    assert!(baseline > 30.0);
}
