//! Plates go straight into a workshop, and plans on them hold what was promised.

use proptest::prelude::*;

use super::*;
use crate::equipment::{Equipment, PinHold};
use crate::reach::{BarPlace, Setting};
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
    plans_for(pattern, &Wish::Division(division))
}

fn plans_for(pattern: &Pattern, wish: &Wish) -> Plans {
    let shop = Workshop::new("shop", pattern.equipment("plate").unwrap()).unwrap();
    let quoted = |angle: &crate::Angle| serde_json::to_string(angle).unwrap();
    let features = match wish {
        Wish::Division(n) => format!(r#"{{"equal_divisions": {{"count": {n}}}}}"#),
        Wish::Angle(angle) => format!(
            r#"{{"angles": {{"angles": ["0 deg", {}]}}}}"#,
            quoted(angle)
        ),
        Wish::List(list) => {
            let mut all = vec![r#""0 deg""#.to_owned()];
            all.extend(list.iter().map(quoted));
            format!(r#"{{"angles": {{"angles": [{}]}}}}"#, all.join(","))
        }
    };
    let job = Job::from_json(&format!(
        r#"{{"format": 1, "name": "job", "features": {features}}}"#
    ))
    .unwrap();
    plan_job(&shop, &job).unwrap()
}

/// The error of a pin of 5.99 mm in holes of 6 mm within zones of 0.02 mm,
/// worked out by hand for what a plan or a pattern uses: half the zone and half
/// the clearance at a pitch radius; the zone over a baseline, and the clearance
/// too where nothing seats the pins.
fn at_hole_rad(lever_mm: f64) -> f64 {
    (0.01 + 0.005) / lever_mm
}

fn at_bar_rad(baseline_mm: f64, upright: bool) -> f64 {
    (0.02 + if upright { 0.01 } else { 0.0 }) / baseline_mm
}

fn by_hand_rad(pattern: &Pattern, setting: &Setting) -> f64 {
    let radius_mm = |circle: u32| {
        let ring = pattern
            .rings
            .iter()
            .find(|ring| ring.places == Some(u64::from(circle)));
        ring.expect("the circle is a ring").radius_mm
    };
    match *setting {
        Setting::Hole { circle, .. } => at_hole_rad(radius_mm(circle)),
        Setting::HoleAtStation { .. } => 2.0 * at_hole_rad(pattern.rings[0].radius_mm),
        Setting::Crank { circle, .. } => {
            let PlateUse::WormHead { ratio } = &pattern.brief.usage else {
                panic!("a crank belongs to a head");
            };
            let ring = pattern.rings.iter().find(|ring| {
                let circle = u64::from(circle);
                ring.divisions.contains(&circle) || ring.places == Some(circle)
            });
            at_hole_rad(ring.expect("the circle is on a ring").radius_mm * ratio.to_f64())
        }
        Setting::BarOnPins {
            circle, span, bar, ..
        } => {
            let half = std::f64::consts::PI * f64::from(span) / f64::from(circle);
            let upright = matches!(bar, BarPlace::UprightRight | BarPlace::UprightLeft);
            at_bar_rad(2.0 * radius_mm(circle) * half.sin(), upright)
        }
        _ => panic!("{setting:?}"),
    }
}

/// Every wish is planned exactly; the error of the plan and the one that the
/// pattern foretold both are what is worked out by hand.
fn every_wish_is_planned(pattern: &Pattern) -> Result<(), TestCaseError> {
    for served in &pattern.served {
        let wish = &served.wish;
        let plans = plans_for(pattern, wish);
        let best = &plans.plans()[0];
        prop_assert!(best.exact, "{wish}: {}", best.method);
        let features = match wish {
            Wish::Division(n) => *n,
            Wish::Angle(_) => 2,
            Wish::List(list) => 1 + list.len() as u64,
        };
        prop_assert_eq!(best.placements.len() as u64, features);
        let by_hand = best
            .placements
            .iter()
            .map(|placement| by_hand_rad(pattern, &placement.setting))
            .fold(0.0, f64::max);
        prop_assert!(
            (best.error.worst_rad - by_hand).abs() < 1.0e-9 * by_hand,
            "{wish} by {}: {} rad, by hand {by_hand}",
            best.method,
            best.error.worst_rad
        );
        let foretold = match &served.by {
            ServedBy::Ring { ring, .. } => {
                let levered = match &pattern.brief.usage {
                    PlateUse::WormHead { ratio } => ratio.to_f64(),
                    _ => 1.0,
                };
                Some(at_hole_rad(pattern.rings[*ring].radius_mm * levered))
            }
            ServedBy::Pins { pairs, .. } => Some(
                pairs
                    .iter()
                    .map(|pair| at_bar_rad(pair.baseline_mm, pair.upright))
                    .fold(0.0, f64::max),
            ),
            ServedBy::VernierPair { .. } => Some(2.0 * at_hole_rad(pattern.rings[0].radius_mm)),
            ServedBy::Faces(_) | ServedBy::AnyHole => None,
        };
        match (foretold, served.predicted_error_arcsec) {
            (Some(rad), Some(arcsec)) => {
                prop_assert!((rad * ARCSEC_PER_RAD - arcsec).abs() < 1.0e-9 * arcsec);
            }
            (foretold, told) => prop_assert!(foretold.is_none() && told.is_none()),
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn plunger_plates_are_planned(divisions in prop::collection::btree_set(2_u64..40, 1..7)) {
        let list: Vec<u64> = divisions.into_iter().collect();
        let pattern = plate(&format!(r#""divisions": {list:?}, {SIZES}"#));
        let most = pattern.rings.iter().filter_map(|ring| ring.places).max();
        if most.is_some_and(|places| places > u64::from(crate::equipment::MAX_HOLES)) {
            // More places than a circle of equipment may have: refused by name.
            let refused = pattern.equipment("plate").unwrap_err();
            prop_assert_eq!(refused.kind(), ErrorKind::OutOfRange);
            prop_assert!(refused.field().starts_with("rings["));
        } else {
            every_wish_is_planned(&pattern)?;
        }
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
        // Plans try every chord of a ring with absent places: few places only.
        divisions in prop::sample::subsequence(vec![2_u64, 3, 4, 5, 6, 8, 10, 12], 1..4),
        square in any::<bool>(),
    ) {
        every_wish_is_planned(&plate(&format!(
            r#""divisions": {divisions:?}, "use": {{"pins": {{"square": {square}}}}}, {SIZES}"#
        )))?;
    }

    #[test]
    fn vernier_pairs_are_planned(division in 4_u64..120) {
        every_wish_is_planned(&plate(&format!(
            r#""divisions": [{division}], "use": "vernier_pair", {SIZES}"#
        )))?;
    }
}

/// Distinct angles of a list, in whole degrees or parts of a turn.
fn angle_list() -> impl Strategy<Value = String> {
    prop::collection::btree_set(1_u32..72, 1..6).prop_map(|list| {
        let list: Vec<String> = list.iter().map(|it| format!("\"{it}/72 turn\"")).collect();
        list.join(",")
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]
    #[test]
    fn lists_are_planned_on_every_kind_of_plate(
        list in angle_list(),
        division in 2_u64..13,
        usage in prop::sample::select(vec![
            r#""plunger""#, r#""vernier_pair""#, r#"{"pins": {}}"#, r#"{"pins": {"square": true}}"#,
            r#"{"worm_head": {"ratio": 40}}"#, r#"{"worm_head": {"ratio": "81/2"}}"#,
        ]),
    ) {
        let pattern = plate(&format!(
            r#""divisions": [{division}], "lists": [{{"angles": [{list}]}}], "use": {usage}, {SIZES}"#
        ));
        // Whole turns of a crank need no plate.
        if !pattern.rings.is_empty() {
            every_wish_is_planned(&pattern)?;
        }
    }
}

/// A circle of 77 would need 77 holes; the one angle needs two of its places.
#[test]
fn single_holes_serve_on_a_worm_head() {
    let pattern = plate(&format!(
        r#""angles": ["1/77 turn"], "divisions": [9],
           "use": {{"worm_head": {{"ratio": 40}}}}, {SIZES}"#
    ));
    assert_eq!(pattern.hole_count(), 10);
    every_wish_is_planned(&pattern).unwrap();
    let plans = plans_for(&pattern, &Wish::Angle("1/77 turn".parse().unwrap()));
    let sheet = plans.sheet(0).unwrap().to_text();
    assert!(sheet.contains("lacks holes"), "{sheet}");
    assert!(pattern.remarks.iter().any(|it| it.contains("single holes")));
}

#[test]
fn rings_of_like_many_places_stay_apart() {
    // 12 and 10 have 60 places in common, so have 20 and 15.
    let pattern = plate(&format!(
        r#""divisions": [10, 12, 15, 20], "rings": [{{"divisions": [10, 12], "radius": 280}},
            {{"divisions": [15, 20], "radius": 240}}], {SIZES}"#
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
        let Setting::Hole { circle, hole } = placement.setting else {
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
    assert!(seconds.equipment("").is_err());
    // The design says so at once, and that the rounding it names does it.
    let said = |it: &Pattern| {
        it.remarks
            .iter()
            .any(|it| it.contains("no workshop holds it"))
    };
    assert!(said(&seconds), "{:?}", seconds.remarks);
    for rounded in ["100.01°", "100°00'30\\\""] {
        let rounded = plate(&format!(r#""angles": ["{rounded}"], {SIZES}"#));
        assert!(!said(&rounded) && rounded.equipment("plate").is_ok());
    }
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
    let planned = plans(&sliding, 12).plans()[0].error.worst_rad;
    assert!((planned * ARCSEC_PER_RAD - foretold).abs() < 1.0e-6);
    let text = serde_json::to_string(&sliding.brief).unwrap();
    assert_eq!(PlateBrief::from_json(&text).unwrap(), sliding.brief);

    let pressed = plate(&format!(r#"{fields}"6 mm H7/p6", "use": {{"pins": {{}}}}"#));
    let pieces = pressed.equipment("plate").unwrap();
    let [Equipment::PinPlate(pins)] = pieces.as_slice() else {
        panic!("{pieces:?}");
    };
    assert_eq!(pins.pin_hold, PinHold::Fixed);
    // Pressed pins: the zones at both ends and half the pin's limits at each,
    // 0.020 + 2 × 0.002 over the baseline, the shortest of the pairs.
    let foretold = pressed.served[0].predicted_error_arcsec.unwrap() / ARCSEC_PER_RAD;
    let ServedBy::Pins { pairs, .. } = &pressed.served[0].by else {
        panic!("pins");
    };
    let shortest_mm = pairs
        .iter()
        .map(|it| it.baseline_mm)
        .fold(f64::INFINITY, f64::min);
    assert!((foretold - 0.024 / shortest_mm).abs() < 1.0e-12);
    assert!((plans(&pressed, 12).plans()[0].error.worst_rad - foretold).abs() < 1.0e-12);
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
