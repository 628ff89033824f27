//! Plates go straight into a workshop, and plans on them hold what was promised.

use proptest::prelude::*;

use super::*;
use crate::equipment::{Equipment, PinHold};
use crate::work::Meter;
use crate::{ErrorKind, Job, Plans, Workshop, plan_job};

const ARCSEC_PER_RAD: f64 = 648_000.0 / std::f64::consts::PI;

const SIZES: &str = r#""outline": {"disc": {"diameter": 600}}, "hole_diameter": 6,
    "pin_diameter": 5.99, "hole_position_tolerance": 0.02,
    "least_web": 1, "least_edge_distance": 2"#;

fn plate(fields: &str) -> Pattern {
    let brief = PlateBrief::from_json(&format!(r#"{{"format": 1, {fields}}}"#)).unwrap();
    design(&brief, &mut Meter::default())
        .unwrap()
        .into_pattern()
        .unwrap()
}

fn plans(pattern: &Pattern, division: u64) -> Plans {
    let shop = Workshop::new("shop", pattern.equipment("plate").unwrap()).unwrap();
    let job = Job::from_json(&format!(
        r#"{{"format": 1, "name": "job", "features": {{"equal_divisions": {{"count": {division}}}}}}}"#
    ))
    .unwrap();
    plan_job(&shop, &job).unwrap()
}

/// Every wish is planned exactly, and one of the plans has just the error
/// that the pattern foretold.
fn every_wish_is_planned(pattern: &Pattern) -> Result<(), TestCaseError> {
    for served in &pattern.served {
        let Wish::Division(division) = served.wish else {
            continue;
        };
        let plans = plans(pattern, division);
        let best = &plans.plans()[0];
        prop_assert!(best.exact, "{division}: {}", best.method);
        prop_assert!(best.placements.len() as u64 == division);
        let foretold = served.predicted_error_arcsec;
        if matches!(served.by, ServedBy::AnyHole) {
            prop_assert!(foretold.is_none());
            continue;
        }
        let foretold = foretold.expect("pin and tolerance are given");
        let planned = best.error.worst_rad * ARCSEC_PER_RAD;
        prop_assert!(
            (planned - foretold).abs() < 1.0e-9 * foretold,
            "{division} by {}: planned {planned}, foretold {foretold}",
            best.method
        );
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn plunger_plates_are_planned(divisions in prop::collection::btree_set(2_u64..40, 1..7)) {
        let list: Vec<u64> = divisions.into_iter().collect();
        every_wish_is_planned(&plate(&format!(r#""divisions": {list:?}, {SIZES}"#)))?;
    }

    #[test]
    fn head_plates_are_planned(
        divisions in prop::collection::btree_set(2_u64..60, 1..6),
        ratio in prop::sample::select(vec!["40", "60", "90", "45/2"]),
    ) {
        let list: Vec<u64> = divisions.into_iter().collect();
        let pattern = plate(&format!(
            r#""divisions": {list:?}, "use": {{"worm_head": {{"ratio": "{ratio}"}}}}, {SIZES}"#
        ));
        if pattern.rings.is_empty() {
            let refused = pattern.equipment("plate").unwrap_err();
            prop_assert_eq!(refused.kind(), ErrorKind::Inconsistent);
        } else {
            every_wish_is_planned(&pattern)?;
        }
    }

    #[test]
    fn pin_plates_are_planned(
        divisions in prop::collection::btree_set(2_u64..30, 1..5),
        square in any::<bool>(),
    ) {
        let list: Vec<u64> = divisions.into_iter().collect();
        every_wish_is_planned(&plate(&format!(
            r#""divisions": {list:?}, "use": {{"pins": {{"square": {square}}}}}, {SIZES}"#
        )))?;
    }

    #[test]
    fn vernier_pairs_are_planned(division in 4_u64..120) {
        every_wish_is_planned(&plate(&format!(
            r#""divisions": [{division}], "use": "vernier_pair", {SIZES}"#
        )))?;
    }
}

#[test]
fn rings_of_like_many_places_stay_apart() {
    // 12 and 10 have 60 places in common, so have 20 and 15.
    let pattern = plate(&format!(
        r#""divisions": [10, 12, 15, 20], "rings": [{{"divisions": [10, 12]}},
            {{"divisions": [15, 20]}}], {SIZES}"#
    ));
    let places: Vec<_> = pattern.rings.iter().map(|ring| ring.places).collect();
    assert_eq!(places, [Some(60), Some(120)]);
    every_wish_is_planned(&pattern).unwrap();
}

#[test]
fn holes_are_numbered_as_plans_call_them() {
    let pattern = plate(&format!(
        r#""divisions": [8, 12], "most_rings": 1, {SIZES}"#
    ));
    let numbers: Vec<u32> = pattern.rings[0].holes.iter().map(|it| it.number).collect();
    assert_eq!(
        numbers,
        [0, 2, 3, 4, 6, 8, 9, 10, 12, 14, 15, 16, 18, 20, 21, 22]
    );
    let plans = plans(&pattern, 8);
    for placement in &plans.plans()[0].placements {
        let crate::reach::Setting::Hole { circle, hole } = placement.setting else {
            panic!("a direct plate is set by holes");
        };
        assert_eq!(circle, 24);
        assert!(numbers.contains(&hole) && hole % 3 == 0);
    }
}

#[test]
fn phases_and_faces_come_along() {
    let pattern = plate(
        r#""divisions": [3, 5], "rings": [{"divisions": [5], "phase": "1/7 turn"}],
           "outline": {"polygon": {"faces": 6, "across_flats": 100}}, "hole_diameter": 6,
           "least_web": 2, "least_edge_distance": 3"#,
    );
    let pieces = pattern.equipment("plate").unwrap();
    let [Equipment::DirectPlate(holes), Equipment::FacedBlock(faces)] = pieces.as_slice() else {
        panic!("{pieces:?}");
    };
    assert_eq!(
        holes.circles[0].first_hole,
        crate::Angle::new(1, 7).unwrap()
    );
    assert_eq!((faces.faces, holes.registration.as_ref()), (6, None));
    assert!(plans(&pattern, 3).plans()[0].exact);
}

#[test]
fn what_equipment_cannot_hold_is_said() {
    let seconds =
        plate(&format!(r#""angles": ["0°00'01\""], {SIZES}"#).replace("0°00'01", "100°00'01"));
    let refused = seconds.equipment("plate").unwrap_err();
    assert_eq!(
        (refused.kind(), refused.field()),
        (ErrorKind::OutOfRange, "rings[0]")
    );
    assert!(refused.message().contains("1296000"), "{refused}");
    let single = plate(&format!(
        r#""angles": ["1/77 turn"], "use": {{"worm_head": {{"ratio": 40}}}}, {SIZES}"#
    ));
    let refused = single.equipment("plate").unwrap_err();
    assert!(refused.message().contains("single holes"), "{refused}");
    assert!(single.equipment("").is_err());
}

/// ISO 286-1:2010: H7 of 6 mm is 0 / +12 µm; g6 is −12 / −4 µm, p6 +12 / +20 µm.
#[test]
fn a_fit_stands_for_hole_and_pin() {
    let fields = r#""divisions": [12], "outline": {"disc": {"diameter": 100}},
        "hole_position_tolerance": 0.02, "least_web": 2, "least_edge_distance": 3, "fit": "#;
    let sliding = plate(&format!(r#"{fields}"6 mm H7/g6""#));
    let pins = sliding.brief.pin_in_hole().unwrap().unwrap();
    assert_eq!(
        (pins.hole_diameter.mm(), pins.hole_diameter_tolerance.mm()),
        (6.006, 0.006)
    );
    assert_eq!(
        (pins.pin_diameter.mm(), pins.pin_diameter_tolerance.mm()),
        (5.992, 0.004)
    );
    assert!((pins.greatest_clearance_mm() - 0.024).abs() < 1.0e-12);
    // The outermost ring keeps the edge for the largest hole: 50 − 3 − 3.006.
    let radius_mm = sliding.rings[0].radius_mm;
    assert!((radius_mm - 43.994).abs() < 1.0e-9);
    // Half the zone and half the greatest clearance: 0.010 + 0.012 over it.
    let foretold = sliding.served[0].predicted_error_arcsec.unwrap();
    assert!((foretold - 0.022 / radius_mm * ARCSEC_PER_RAD).abs() < 1.0e-6);
    every_wish_is_planned(&sliding).unwrap();
    let text = serde_json::to_string(&sliding.brief).unwrap();
    assert_eq!(PlateBrief::from_json(&text).unwrap(), sliding.brief);

    let pressed = plate(&format!(r#"{fields}"6 mm H7/p6", "use": {{"pins": {{}}}}"#));
    let pieces = pressed.equipment("plate").unwrap();
    let [Equipment::PinPlate(pins)] = pieces.as_slice() else {
        panic!("{pieces:?}");
    };
    assert_eq!(pins.pin_hold, PinHold::Fixed);
    every_wish_is_planned(&pressed).unwrap();
}

#[test]
fn sizes_that_contradict_are_refused() {
    let refused = |fields: &str| {
        let text = format!(
            r#"{{"format": 1, "divisions": [12], "outline": {{"disc": {{"diameter": 100}}}},
                "least_web": 2, "least_edge_distance": 3{fields}}}"#
        );
        let error = PlateBrief::from_json(&text).unwrap_err();
        (error.kind(), error.field().to_owned())
    };
    let inconsistent = |field: &str| (ErrorKind::Inconsistent, field.to_owned());
    assert_eq!(
        refused(""),
        (ErrorKind::InvalidField, "hole_diameter".to_owned())
    );
    assert_eq!(
        refused(r#", "fit": "6 mm H7/g6", "hole_diameter": 6"#),
        inconsistent("hole_diameter")
    );
    assert_eq!(
        refused(r#", "fit": "6 mm H7/g6", "pin_diameter": 6"#),
        inconsistent("pin_diameter")
    );
    assert_eq!(refused(r#", "fit": "6 mm H7/p6""#), inconsistent("fit"));
    assert_eq!(
        refused(r#", "fit": "6 mm H7/k6", "use": {"pins": {}}"#),
        inconsistent("fit")
    );
    assert_eq!(
        refused(r#", "fit": "loose""#),
        (ErrorKind::InvalidField, "fit".to_owned())
    );
    assert_eq!(refused(r#", "fit": "300 mm H7/g6""#).1, "fit");
}
