//! What a simulation may find at most, what a plan would bear and whether its pin
//! goes in, for equipment of every sort.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::float_cmp,
    reason = "tests"
)]

use crate::common;

use std::f64::consts::PI;

use common::plans;
use dividing_core::accuracy::{
    Allowance, Criterion, Datum, Entry, ErrorModel, RunSettings, Simulation, SimulationReport,
    TrialCount, best_pin_pairs, entry_finding,
};
use dividing_core::plan::FindingKind;
use dividing_core::reach::{self, Setting, WayKind};
use dividing_core::work::Meter;
use dividing_core::{Job, Plan, Workshop};
use serde_json::{Value, json};

const ARCSEC: f64 = 180.0 * 3600.0 / PI;

/// The best plan with a piece of equipment, and its model.
fn with(name: &str, equipment: &Value, job: &Value) -> (Plan, ErrorModel) {
    let workshop = json!({"format": 1, "name": "Bench", "equipment": equipment});
    let mut whole = json!({"format": 1, "name": "Job"});
    for (key, value) in job.as_object().unwrap() {
        whole[key] = value.clone();
    }
    let plans = plans(&workshop, &whole);
    let at = plans.plans().iter().position(|it| it.equipment == name);
    let at = at.unwrap_or_else(|| panic!("no plan with {name}"));
    let model = plans.error_model(at, &mut Meter::new(u64::MAX)).unwrap();
    (plans.plan(at).unwrap().clone(), model)
}

fn divisions(count: u32) -> Value {
    json!({"equal_divisions": {"count": count}})
}

fn pin(clearance: f64, zone: f64) -> Value {
    json!({"pin_diameter": 6.0 - clearance, "hole_diameter": 6, "hole_position_tolerance": zone})
}

fn run(simulation: &Simulation, trials: u64) -> SimulationReport {
    let settings = RunSettings {
        trials: TrialCount::Exactly(trials),
        ..RunSettings::default()
    };
    simulation
        .run(&settings, &mut Meter::new(u64::MAX))
        .unwrap()
}

fn plate(holes: u32, more: &Value) -> Value {
    let mut plate = json!({"name": "plate", "circles": [{"holes": holes, "pitch_radius": 50}],
        "registration": pin(0.02, 0.02)});
    for (key, value) in more.as_object().unwrap() {
        plate[key] = value.clone();
    }
    json!({"direct_plate": plate})
}

fn everything() -> Vec<(&'static str, Value, u32)> {
    let block = json!({"faced_block": {"name": "block", "faces": 6, "face_error": "1 min",
        "seat_error": "30 sec"}});
    vec![
        ("plate", json!([plate(12, &json!({}))]), 6),
        (
            "plate",
            json!([plate(
                24,
                &json!({"eccentricity": 0.01, "bore_clearance": 0.01})
            )]),
            7,
        ),
        (
            "indexer",
            json!([{"vernier_indexer": {"name": "indexer",
                "circle": {"holes": 12, "pitch_radius": 40}, "registration": pin(0.01, 0.03),
                "stations": ["0 deg", "12 deg", "24 deg", "36 deg", "48 deg"]}}]),
            20,
        ),
        (
            "pins",
            json!([{"pin_plate": {"name": "pins", "circles": [{"holes": 9, "pitch_radius": 40}],
                "registration": pin(0.01, 0.03), "bar_straightness": 0.002,
                "levelling": {"reading": 0.01, "travel": 100}}}]),
            9,
        ),
        (
            "head",
            json!([{"worm_head": {"name": "head", "worm_ratio": 40, "worm_error": "20 sec",
                "smallest_pitch_radius": 40, "plates": [{"name": "p", "circles": [15, 18]}],
                "registration": pin(0.05, 0.2)}}]),
            9,
        ),
        (
            "table",
            json!([{"graduated_dial": {"name": "table", "worm_ratio": 90, "graduations": 240,
                "table_error": "20 sec"}}]),
            7,
        ),
        ("block", json!([block]), 6),
        (
            "both",
            json!([plate(10, &json!({"eccentricity": 0.01})), block,
                {"stack": {"name": "both", "members": ["plate", "block"]}}]),
            30,
        ),
    ]
}

/// Limits of every feature bound its deviation from the setting; the shift that
/// makes the worst feature best can only bring it nearer. So no trial of bounded
/// errors is beyond the worst case, whatever the start (a law, no source needed).
#[test]
fn no_trial_is_further_off_than_the_worst_case() {
    for (name, equipment, count) in everything() {
        for start in [
            json!("free"),
            json!("on_a_setting"),
            json!({"clocked": {"to": "keyway", "clocking_error": "10 sec"}}),
        ] {
            let job = json!({"features": divisions(count), "start": start});
            let (plan, model) = with(name, &equipment, &job);
            let report = run(&model.simulation(), 20_000);
            let most_rad = report.largest_deviation.unwrap().greatest_rad;
            let worst_rad = plan.error.worst_rad;
            assert!(
                most_rad > 0.3 * worst_rad,
                "{name} {start}: {most_rad} {worst_rad}"
            );
            assert!(
                most_rad <= worst_rad * (1.0 + 1e-9),
                "{name} {start}: {} > {}",
                most_rad * ARCSEC,
                worst_rad * ARCSEC
            );
        }
    }
}

/// Counted from the middle the largest deviation is half of the range, trial by
/// trial; counted from the mean one of N features can be off by more than its own
/// limit, up to 2(N − 1)/N of it.
#[test]
fn a_free_start_counts_from_the_shift_that_makes_the_worst_best() {
    let bare = json!({"registration": pin(0.0, 0.02)});
    let (plan, model) = with(
        "plate",
        &json!([plate(12, &bare)]),
        &json!({"features": divisions(6)}),
    );
    let simulation = model.simulation();
    assert_eq!(simulation.datum, Datum::Middle);
    let about = |datum| {
        let job = Simulation {
            datum,
            ..simulation.clone()
        };
        run(&job, 200_000)
    };
    let middle = about(Datum::Middle);
    let largest = middle.largest_deviation.unwrap();
    let range = &middle.cumulative_pitch;
    for (half, whole) in [
        (largest.mean_rad, range.mean_rad),
        (largest.least_rad, range.least_rad),
        (largest.greatest_rad, range.greatest_rad),
        (largest.standard_deviation_rad, range.standard_deviation_rad),
    ] {
        assert!((2.0 * half / whole - 1.0).abs() < 1e-9, "{half} {whole}");
    }
    let mean = about(Datum::Mean);
    assert_eq!(mean.cumulative_pitch, middle.cumulative_pitch);
    let beyond = mean.largest_deviation.unwrap().greatest_rad / plan.error.worst_rad;
    assert!(beyond > 1.02 && beyond <= 2.0 * 5.0 / 6.0, "{beyond}");
}

/// A pattern that some shift brings within the limit conforms: two features of
/// independent errors, of which each may be off by the limit and no more, always
/// do, whatever their mean.
#[test]
fn conformance_of_a_free_pattern_asks_for_any_shift() {
    let limit = format!("{:.12} deg", (0.0002_f64 * 1.000_001).to_degrees());
    let job = json!({"features": divisions(3), "tolerance": {"angle": limit}});
    let bare = json!({"registration": pin(0.0, 0.02)});
    let (_, model) = with("plate", &json!([plate(12, &bare)]), &job);
    let found = run(&model.simulation(), 50_000).conformance.unwrap();
    assert_eq!(found.deviation.unwrap().probability, 1.0);
    let about_the_mean = Simulation {
        datum: Datum::Mean,
        ..model.simulation()
    };
    let found = run(&about_the_mean, 50_000).conformance.unwrap();
    assert!(found.deviation.unwrap().probability < 1.0);
}

/// Thirty divisions by ten holes and six faces: every feature uses one hole and
/// one face. Two features that share a hole differ by their faces alone, so with
/// perfect faces they do not differ at all.
#[test]
fn settings_of_a_stack_share_what_their_members_share() {
    let perfect = json!({"faced_block": {"name": "block", "faces": 6, "face_error": "0 sec"}});
    let bare = json!({"registration": pin(0.0, 0.02)});
    let shop = |block: &Value| json!([plate(10, &bare), block, {"stack": {"name": "both", "members": ["plate", "block"]}}]);
    let (plan, model) = with("both", &shop(&perfect), &json!({"features": divisions(30)}));
    let holes_used: std::collections::BTreeSet<String> = model
        .features()
        .iter()
        .flat_map(|it| &it.inputs)
        .filter(|it| it.contributor.name == "plate: hole position")
        .map(|it| it.place.clone().unwrap())
        .collect();
    assert!(holes_used.contains("plate: hole 3 of 10"), "{holes_used:?}");
    assert!(holes_used.len() <= 10);
    // The range over so many holes as are used is that of so many errors, not of
    // thirty: both simulated, the second as features of holes of their own.
    let used = u32::try_from(holes_used.len()).unwrap();
    let range = |model: &ErrorModel| run(&model.simulation(), 100_000).cumulative_pitch.mean_rad;
    let mut alone = model.simulation();
    let one = alone.features[0].clone();
    alone.features = (0..used)
        .map(|number| {
            let mut feature = one.clone();
            for input in &mut feature.inputs {
                input.place = Some(format!("hole {number}"));
            }
            feature
        })
        .collect();
    let expected = run(&alone, 100_000).cumulative_pitch.mean_rad;
    let found = range(&model);
    assert!((found / expected - 1.0).abs() < 0.005, "{found} {expected}");
    assert!(plan.exact);
}

/// A measured plate keeps what is known of it when it carries another device: each
/// feature is off by the deviation of its hole, counted from the middle of them all.
#[test]
fn a_measured_member_of_a_stack_is_systematic() {
    let deviations = [4.0, -9.0, 2.0, 7.0, -3.0, -1.0, 5.0, 0.0, -6.0, 1.0];
    let known = common::measured::measured(&deviations, 0.001);
    let plate = json!({"direct_plate": {"name": "plate",
        "circles": [{"holes": 10, "pitch_radius": 50, "measured": known}],
        "registration": pin(0.0, 0.02)}});
    let shop = json!([plate, {"faced_block": {"name": "block", "faces": 6, "face_error": "0 sec"}},
        {"stack": {"name": "both", "members": ["plate", "block"]}}]);
    let (plan, model) = with("both", &shop, &json!({"features": divisions(30)}));
    let used: Vec<f64> = plan
        .placements
        .iter()
        .map(|it| match &it.setting {
            Setting::Stack { members } => match &members[0] {
                Setting::Hole { hole, .. } => deviations[*hole as usize],
                other => panic!("{other:?}"),
            },
            other => panic!("{other:?}"),
        })
        .collect();
    let (low, high) = used.iter().fold((0.0_f64, 0.0_f64), |(low, high), it| {
        (low.min(*it), high.max(*it))
    });
    assert!(high - low > 5.0, "{used:?}");
    let middle = f64::midpoint(low, high);
    for (feature, deviation) in model.features().iter().zip(&used) {
        let found = feature.residual_rad * ARCSEC;
        assert!(
            (found - (deviation - middle)).abs() < 0.01,
            "{found} {deviation}"
        );
    }
    let worst = plan.error.worst_rad * ARCSEC;
    assert!((worst - (high - low) / 2.0).abs() < 0.01, "{worst}");
}

fn line(model: &ErrorModel, name: &str) -> (f64, f64) {
    let table = model.trade_offs(Criterion::WorstCase).unwrap();
    let line = table.inputs.iter().find(|it| it.name == name);
    let line = line.unwrap_or_else(|| panic!("no {name} in {table:?}"));
    let Allowance::UpTo(most) = line.allowance else {
        panic!("{line:?}")
    };
    (line.present, most)
}

/// Zones and clearances are toleranced as diameters wherever a pin stands: in a
/// plate of a stack, in a hole of the part, in the two circles of compound
/// indexing. By hand: the zone of 0.02 mm at 50 mm takes 0.0002 rad.
#[test]
fn diameters_are_diameters_in_every_device() {
    let degrees = 0.002_f64.to_degrees();
    let tolerance = json!({"angle": format!("{degrees:.12} deg")});
    let stack = json!([plate(10, &json!({})),
        {"faced_block": {"name": "block", "faces": 6, "face_error": "0 sec"}},
        {"stack": {"name": "both", "members": ["plate", "block"]}}]);
    let job = json!({"features": divisions(30), "tolerance": tolerance});
    let (_, model) = with("both", &stack, &job);
    let (present, most) = line(&model, "plate: hole position");
    assert!((present - 0.02).abs() < 1e-12);
    // 0.002 rad at 50 mm are 0.1 mm; the clearance takes 0.01 mm of it.
    assert!((most - 0.18).abs() < 1e-9, "{most}");
    let (present, _) = line(&model, "plate: pin clearance in the hole");
    assert!((present - 0.02).abs() < 1e-12);

    let stop = json!([{"part_reference": {"name": "stop", "from": "common_datum",
        "contact": {"drilled_hole": {"radius": 50, "registration": pin(0.02, 0.02)}},
        "angles": ["0 deg", "90 deg", "180 deg", "270 deg"], "angle_error": "0 sec"}}]);
    let job = json!({"features": divisions(4), "tolerance": tolerance});
    let (_, model) = with("stop", &stop, &job);
    let (present, most) = line(&model, "position of the part's hole");
    assert!((present - 0.02).abs() < 1e-12);
    assert!((most - 0.18).abs() < 1e-9, "{most}");
}

/// The pitch radius on the sheet is that of the plate also where the plate turns
/// with the spindle, so that the crank makes another number of turns than R.
#[test]
fn the_lever_of_differential_indexing_is_the_pitch_radius() {
    let workshop = Workshop::from_json(include_str!("../examples/demo/workshop.json")).unwrap();
    let mut job: Value =
        serde_json::from_str(include_str!("../examples/demo/job_4_wheel_127.json")).unwrap();
    job["tolerance"] = json!({"angle": "0.5 deg"});
    let job = Job::from_json(&job.to_string()).unwrap();
    let plans = dividing_core::plan_job(&workshop, &job).unwrap();
    let plan = plans.plan(0).unwrap();
    assert!(matches!(plan.way, WayKind::DifferentialIndexing { .. }));
    let model = plans.error_model(0, &mut Meter::new(u64::MAX)).unwrap();
    let table = model.trade_offs(Criterion::WorstCase).unwrap();
    let dividing_core::Equipment::WormHead(head) = workshop
        .equipment()
        .iter()
        .find(|it| it.name() == plan.equipment)
        .unwrap()
    else {
        panic!("{}", plan.equipment)
    };
    let circles = head.plates.iter().flat_map(|it| &it.circles);
    let radii: Vec<f64> = circles
        .filter_map(|it| it.pitch_radius)
        .chain(head.smallest_pitch_radius)
        .map(|it| it.mm())
        .collect();
    let lever = table.present_lever_mm.unwrap();
    assert!(
        radii.iter().any(|it| (it - lever).abs() < 1e-9),
        "{lever} {radii:?}"
    );
}

/// Which pair of holes to use: the longest baseline, `2 r sin(π·span/n)`, unless a
/// rougher ring is the larger one; the first is what a plan of its span says, and
/// spans that no two holes have are not offered.
#[test]
fn pin_pairs_are_ordered_by_what_they_give() {
    let plate = |circles: Value| {
        json!({"name": "pins", "circles": circles, "registration": pin(0.01, 0.03),
            "levelling": {"reading": 0.0, "travel": 100}})
    };
    let of = |circles: Value| {
        let shop = json!({"format": 1, "name": "b",
            "equipment": [{"pin_plate": plate(circles)}]});
        let shop = Workshop::from_json(&shop.to_string()).unwrap();
        let dividing_core::Equipment::PinPlate(found) = &shop.equipment()[0] else {
            panic!("no pin plate")
        };
        best_pin_pairs(found, Criterion::WorstCase).unwrap()
    };
    let nine = json!([{"holes": 9, "pitch_radius": 40}]);
    let pairs = of(nine.clone());
    let spans: Vec<u32> = pairs.iter().map(|it| it.span).collect();
    assert_eq!(spans, [4, 3, 2, 1]);
    for pair in &pairs {
        let chord = 80.0 * (PI * f64::from(pair.span) / 9.0).sin();
        assert!((pair.baseline_mm - chord).abs() < 1e-12);
        // Two zones of 0.03 mm, each half of it normal to the bar.
        assert!((pair.total_rad - 0.03 / chord).abs() < 1e-12);
    }
    let shop = json!([{"pin_plate": plate(nine)}]);
    let (plan, _) = with("pins", &shop, &json!({"features": divisions(9)}));
    assert!((plan.error.worst_rad - pairs[0].total_rad).abs() < 1e-12);
    // Holes 0, 1 and 4 stand: 1, 3 and 4 apart, and never 2.
    let some = of(json!([{"holes": 9, "pitch_radius": 40, "absent": [2, 3, 5, 6, 7, 8]}]));
    let spans: Vec<u32> = some.iter().map(|it| it.span).collect();
    assert_eq!(spans, [4, 3, 1]);
    // Over two rings the longer baseline is the better one.
    let two = of(json!([{"holes": 4, "pitch_radius": 25}, {"holes": 5, "pitch_radius": 40}]));
    let found: Vec<(u32, u32)> = two.iter().map(|it| (it.holes, it.span)).collect();
    assert_eq!(found, [(5, 2), (4, 2), (5, 1), (4, 1)]);
}

fn entry(equipment: &Value, job: &Value) -> Option<dividing_core::accuracy::EntryFinding> {
    let workshop = json!({"format": 1, "name": "Bench", "equipment": equipment});
    let workshop = Workshop::from_json(&workshop.to_string()).unwrap();
    let mut whole = json!({"format": 1, "name": "Job"});
    for (key, value) in job.as_object().unwrap() {
        whole[key] = value.clone();
    }
    let job = Job::from_json(&whole.to_string()).unwrap();
    let meter = &mut Meter::new(u64::MAX);
    let ways = reach::ways(&workshop, meter).unwrap();
    let way = ways.last().unwrap();
    let reach = reach::reach(&workshop, way, &job, meter).unwrap();
    entry_finding(&workshop, &reach).unwrap()
}

/// Through two holes both may be off and the pin gives in both: by hand, zones of
/// 0.03 and 0.02 mm are 0.025 mm off at worst, against half of 0.004 + 0.010 mm.
#[test]
fn a_vernier_pin_goes_through_two_holes() {
    let indexer = json!([{"vernier_indexer": {"name": "indexer",
        "circle": {"holes": 12, "pitch_radius": 40},
        "registration": {"pin_diameter": 5.99, "hole_diameter": 6, "hole_position_tolerance": 0.03,
            "pin_diameter_tolerance": 0.003, "hole_diameter_tolerance": 0.003},
        "station_hole_diameter": 6.006, "station_position_tolerance": 0.02,
        "stations": ["0 deg", "6 deg"]}}]);
    let job = json!({"features": divisions(24)});
    let found = entry(&indexer, &job).unwrap();
    assert!((found.worst_distance_mm - 0.025).abs() < 1e-12);
    assert!((found.worst_margin_mm - (0.007 - 0.025)).abs() < 1e-12);
    assert!(!found.always_enters);
    let as_one = Entry {
        radius_difference_mm: 0.0,
        pin_radius_tolerance_mm: 0.010,
        hole_radius_tolerance_mm: 0.015,
        eccentricity_mm: 0.0,
        least_clearance_mm: 0.014,
        greatest_clearance_mm: 0.038,
    };
    let expected = as_one.check().unwrap().probability;
    assert!((found.probability - expected).abs() < 1e-9);
    assert!(expected > 0.5 && expected < 1.0);
    let (plan, _) = with("indexer", &indexer, &job);
    let text = &plan.findings[0].text;
    assert!(text.contains("0.018 mm") && text.contains('%'), "{text}");
}

/// Tolerances that cross: pins of 6.00 ± 0.01 in holes of 6.00 ± 0.01, true in
/// place. The clearance is uniform from −0.02 to +0.02 mm and half of the pins go
/// in; pressed pins are not asked.
#[test]
fn crossed_tolerances_leave_pins_outside() {
    let crossed = json!({"pin_diameter": 6, "hole_diameter": 6, "hole_position_tolerance": 0,
        "pin_diameter_tolerance": 0.01, "hole_diameter_tolerance": 0.01});
    let job = json!({"features": divisions(6)});
    let found = entry(&json!([plate(12, &json!({"registration": crossed}))]), &job).unwrap();
    assert!((found.probability - 0.5).abs() < 1e-9, "{found:?}");
    assert!((found.worst_margin_mm + 0.01).abs() < 1e-12);
    let pins = |hold: &str| {
        json!([{"pin_plate": {"name": "pins", "pin_hold": hold,
            "circles": [{"holes": 6, "pitch_radius": 40}], "registration": crossed}}])
    };
    let said = |hold: &str| {
        let (plan, _) = with("pins", &pins(hold), &job);
        let found = plan.findings.into_iter();
        let mut found = found.filter(|it| it.kind == FindingKind::PinMayNotEnter);
        found.next().map(|it| it.text)
    };
    let text = said("loose").unwrap();
    assert!(
        text.contains("larger than their holes") && text.contains("50.0 %"),
        "{text}"
    );
    assert_eq!(said("fixed"), None);
    // A member of a stack is asked too.
    let stack = json!([plate(10, &json!({"registration": crossed})),
        {"faced_block": {"name": "block", "faces": 6, "face_error": "0 sec"}},
        {"stack": {"name": "both", "members": ["plate", "block"]}}]);
    let (plan, _) = with("both", &stack, &json!({"features": divisions(30)}));
    let kinds: Vec<FindingKind> = plan.findings.iter().map(|it| it.kind).collect();
    assert!(kinds.contains(&FindingKind::PinMayNotEnter), "{kinds:?}");
}

/// Nothing loose and nothing off is no error; two features, ten thousand, a radius
/// that all but vanishes and a pin that all but fills nothing give right answers,
/// and no radius at all is refused.
#[test]
fn limit_cases_are_errors_or_right_answers() {
    let of = |radius: f64, clearance: f64, zone: f64, holes: u32, count: u32| {
        let piece = json!([{"direct_plate": {"name": "plate",
            "circles": [{"holes": holes, "pitch_radius": radius}],
            "registration": {"pin_diameter": 1, "hole_diameter": 1.0 + clearance,
                "hole_position_tolerance": zone}}}]);
        let job = json!({"features": divisions(count), "tolerance": {"angle": "1 deg"}});
        with("plate", &piece, &job)
    };
    // No clearance, no tolerance.
    let (plan, model) = of(50.0, 0.0, 0.0, 12, 12);
    assert_eq!(plan.error.worst_rad, 0.0);
    assert_eq!(plan.verdict.probability, Some(1.0));
    let report = run(&model.simulation(), 1000);
    assert_eq!(report.largest_deviation.unwrap().greatest_rad, 0.0);
    assert_eq!(report.conformance.unwrap().all.probability, 1.0);
    // Two features: a pattern that is free to turn puts half of the pitch on each.
    let (plan, model) = of(50.0, 0.02, 0.02, 2, 2);
    assert!((plan.error.worst_rad - 0.0004).abs() < 1e-12);
    let report = run(&model.simulation(), 1000);
    let (one, two) = (&report.features[0], &report.features[1]);
    assert!((one.greatest_rad + two.least_rad).abs() < 1e-15);
    // Ten thousand of them: the same limits, and a budget of the last.
    let (plan, model) = of(2000.0, 0.02, 0.02, 10_000, 10_000);
    assert!(plan.exact && (plan.error.worst_rad - 0.00001).abs() < 1e-12);
    let budget = model
        .budget(9_999, dividing_core::accuracy::Coverage::Factor(2.0))
        .unwrap();
    let expected = 0.005 * std::f64::consts::SQRT_2 / 2000.0 * ARCSEC;
    assert!((budget.combined_standard_uncertainty / expected - 1.0).abs() < 1e-9);
    assert_eq!(run(&model.simulation(), 32).features.len(), 10_000);
    // A clearance above the pitch radius: the exact chord, 2·asin(c/(4r)).
    let (plan, _) = of(5.0, 7.5, 0.0, 2, 2);
    assert!((plan.error.worst_rad - 2.0 * 0.375_f64.asin()).abs() < 1e-12);
    // Holes may be off by more than the pitch radius: that holds no angle.
    let (plan, model) = of(5.0, 0.0, 11.0, 2, 2);
    assert!((plan.error.worst_rad - PI).abs() < 1e-12);
    let report = run(&model.simulation(), 1000);
    assert!(report.cumulative_pitch.greatest_rad.is_finite());
    // A radius tending to zero has no room for its holes.
    for (radius, kind) in [
        (0.0, dividing_core::ErrorKind::OutOfRange),
        (1e-300, dividing_core::ErrorKind::Inconsistent),
        (1e-6, dividing_core::ErrorKind::Inconsistent),
        (0.3, dividing_core::ErrorKind::Inconsistent),
    ] {
        let none = json!({"format": 1, "name": "b", "equipment": [{"direct_plate": {
            "name": "plate", "circles": [{"holes": 12, "pitch_radius": radius}],
            "registration": pin(0.02, 0.02)}}]});
        let error = Workshop::from_json(&none.to_string()).unwrap_err();
        assert_eq!(error.kind(), kind, "{radius}: {error}");
    }
}
