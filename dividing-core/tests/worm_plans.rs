//! Plans and sheets of worm heads by compound and differential indexing.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test states what must hold"
)]

use dividing_core::reach::worm::PlateSense;
use dividing_core::reach::{Setting, SupplierKind, WayKind};
use dividing_core::{Angle, Job, Plan, Plans, Workshop, plan_job};
use serde_json::json;

const DEMO: &str = include_str!("../examples/demo/workshop.json");
const WHEEL: &str = include_str!("../examples/demo/job_4_wheel_127.json");
const SLOTS: &str = include_str!("../examples/demo/job_1_nine_slots.json");

fn plans(workshop: &str, job: &str) -> Plans {
    let workshop = Workshop::from_json(workshop).unwrap();
    plan_job(&workshop, &Job::from_json(job).unwrap()).unwrap()
}

fn divisions(count: u32) -> String {
    json!({"format": 1, "name": "j", "features": {"equal_divisions": {"count": count}}}).to_string()
}

fn of_head(plans: &Plans, wanted: impl Fn(WayKind) -> bool) -> Option<(usize, &Plan)> {
    plans
        .plans()
        .iter()
        .enumerate()
        .find(|(_, it)| it.equipment_kind == "worm_head" && wanted(it.way))
}

#[test]
fn the_wheel_of_127_teeth_is_exact_by_differential_indexing() {
    let plans = plans(DEMO, WHEEL);
    let (index, plan) = of_head(&plans, |it| {
        matches!(it, WayKind::DifferentialIndexing { .. })
    })
    .unwrap();
    assert_eq!(index, 0);
    assert!(plan.exact && plan.error.unknown.is_empty());
    let WayKind::DifferentialIndexing {
        divisions,
        spaces,
        train,
        plate_sense,
        ..
    } = plan.way
    else {
        panic!()
    };
    // A third of a turn a move: 40 − 127/3 = −7/3 turns of the plate.
    assert_eq!(
        (divisions, spaces, train.to_string()),
        (127, 13, "56/24".into())
    );
    assert_eq!(plate_sense, PlateSense::AgainstCrank);
    for (row, placement) in plan.placements.iter().enumerate() {
        let Setting::Crank {
            circle,
            turns,
            hole,
            ..
        } = placement.setting
        else {
            panic!()
        };
        assert_eq!(circle, 39);
        assert_eq!(
            turns * 39 + i128::from(hole),
            13 * i128::try_from(row).unwrap()
        );
        assert_eq!(placement.residual, Angle::ZERO);
    }
    let sheet = plans.sheet(0).unwrap().to_text();
    for words in [
        "turns against the crank, 7/3 turns for one of the spindle",
        "56 on the spindle",
        "Idlers        2",
        "span 13 hole spaces: 14 holes show",
        // 14/113 of a turn.
        "+44.6018° off",
        // Why simple indexing does not do, and its nearest.
        "missing: the factor",
        "off by up to 0.0911°",
    ] {
        let flat = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(&words), "{words}\n{sheet}");
    }
    // Simple indexing keeps its own plan, with the reason and the nearest.
    let (_, simple) = of_head(&plans, |it| matches!(it, WayKind::SimpleIndexing { .. })).unwrap();
    let shortfall = simple.shortfall.as_ref().unwrap();
    assert!(!simple.exact && shortfall.reason.contains("127"));
    let kinds: Vec<SupplierKind> = shortfall.suppliers.iter().map(|it| it.kind).collect();
    assert_eq!(
        kinds,
        [
            SupplierKind::OwnedGears,
            SupplierKind::Circle { holes: 127 }
        ]
    );
    // It can be drawn, and read back from JSON.
    assert!(plans.drawing(0).unwrap().starts_with("<svg"));
    let json = serde_json::to_string(plan).unwrap();
    let read = serde_json::from_str::<Plan>(&json).unwrap();
    assert!(read.way == plan.way && read.placements == plan.placements);
}

#[test]
fn what_is_simple_stays_simple() {
    let plans = plans(DEMO, SLOTS);
    let heads: Vec<&Plan> = plans
        .plans()
        .iter()
        .filter(|it| it.equipment_kind == "worm_head")
        .collect();
    assert_eq!(heads.len(), 1);
    assert!(matches!(heads[0].way, WayKind::SimpleIndexing { .. }));
    assert!(heads[0].exact && heads[0].shortfall.is_none());
}

#[test]
fn a_compound_plan_repeats_one_move() {
    let plans = plans(DEMO, &divisions(69));
    let (index, plan) =
        of_head(&plans, |it| matches!(it, WayKind::CompoundIndexing { .. })).unwrap();
    assert!(plan.exact);
    let mut moves = Vec::new();
    for (row, placement) in plan.placements.iter().enumerate() {
        let Setting::CompoundCrank {
            turns,
            first_circle,
            first_hole,
            second_circle,
            second_hole,
            ..
        } = placement.setting
        else {
            panic!()
        };
        // The crank stands at 40 times the angle, whichever pins carry it.
        let crank = Angle::new(turns, 1)
            .unwrap()
            .checked_add(Angle::new(first_hole.into(), first_circle.into()).unwrap())
            .unwrap()
            .checked_add(Angle::new(second_hole.into(), second_circle.into()).unwrap())
            .unwrap();
        let row = i128::try_from(row).unwrap();
        assert_eq!(crank, Angle::new(40 * row, 69).unwrap());
        moves.push((first_hole, second_hole));
    }
    assert_eq!(moves.len(), 69);
    let sheet = plans.sheet(index).unwrap().to_text();
    // 40/69 = 1 − 7/21 − 2/23: a turn on and 7 holes back are 14 holes on.
    for words in [
        "One move      crank 14 of 21 on, then plate and crank 2 of 23 back",
        "Sector arms for the crank: span 14 hole spaces, so that 15 holes show.",
        "Set both pins: crank pin 0 of 21, plate pin 0 of 23; then clock",
    ] {
        assert!(sheet.contains(words), "{words}\n{sheet}");
    }
    // Differential indexing registers on one pin and the gears; with two pins
    // there is more to do for each feature.
    let (_, other) = of_head(&plans, |it| {
        matches!(it, WayKind::DifferentialIndexing { .. })
    })
    .unwrap();
    let (_, simple) = of_head(&plans, |it| matches!(it, WayKind::SimpleIndexing { .. })).unwrap();
    assert!(simple.handling.actions < other.handling.actions);
    assert!(other.handling.actions < plan.handling.actions);
    assert!(plans.drawing(index).unwrap().starts_with("<svg"));
}

#[test]
fn gears_that_are_not_stated_leave_the_figure_open() {
    let mut demo: serde_json::Value = serde_json::from_str(DEMO).unwrap();
    let gears = &mut demo["equipment"][0]["worm_head"]["change_gears"];
    gears.as_object_mut().unwrap().remove("plate_error");
    let plans = plans(&demo.to_string(), WHEEL);
    let (_, plan) = of_head(&plans, |it| {
        matches!(it, WayKind::DifferentialIndexing { .. })
    })
    .unwrap();
    assert!(
        plan.error
            .unknown
            .iter()
            .any(|it| it.contains("plate_error"))
    );
}

#[test]
fn a_head_without_gears_asks_for_a_circle_and_with_them_for_a_gear() {
    let mut demo: serde_json::Value = serde_json::from_str(DEMO).unwrap();
    let with = plans(&demo.to_string(), &divisions(383));
    let (_, plan) = of_head(&with, |it| matches!(it, WayKind::SimpleIndexing { .. })).unwrap();
    let suppliers = &plan.shortfall.as_ref().unwrap().suppliers;
    let SupplierKind::ChangeGear { teeth } = suppliers[0].kind else {
        panic!("{suppliers:?}")
    };
    assert_eq!(
        suppliers.last().unwrap().kind,
        SupplierKind::Circle { holes: 383 }
    );
    // The gear named does it.
    let head = &mut demo["equipment"][0]["worm_head"];
    let owned = head["change_gears"]["gears"].as_array_mut().unwrap();
    owned.push(json!(teeth));
    let bought = plans(&demo.to_string(), &divisions(383));
    assert!(
        of_head(&bought, |it| matches!(
            it,
            WayKind::DifferentialIndexing { .. }
        ))
        .is_some()
    );
    // Documents of heads without gears stay valid.
    let head = &mut demo["equipment"][0]["worm_head"];
    head.as_object_mut().unwrap().remove("change_gears");
    let without = plans(&demo.to_string(), &divisions(383));
    let (_, plan) = of_head(&without, |it| matches!(it, WayKind::SimpleIndexing { .. })).unwrap();
    let suppliers = &plan.shortfall.as_ref().unwrap().suppliers;
    assert_eq!(suppliers.len(), 1);
}

#[test]
fn clocked_and_listed_angles_are_geared_too() {
    let job = json!({"format": 1, "name": "j", "features": {"angles": {
        "angles": ["0 deg", "360/127 deg", "3600/127 deg", "36000/127 deg"]}},
        "start": {"clocked": {"to": "keyway", "at": "0 deg"}}});
    let plans = plans(DEMO, &job.to_string());
    let (_, plan) = of_head(&plans, |it| {
        matches!(it, WayKind::DifferentialIndexing { .. })
    })
    .unwrap();
    assert!(plan.exact);
    let holes: Vec<i128> = plan
        .placements
        .iter()
        .map(|it| match it.setting {
            Setting::Crank { turns, hole, .. } => turns * 39 + i128::from(hole),
            _ => panic!(),
        })
        .collect();
    assert_eq!(holes, [0, 13, 130, 1300]);
    // No move is repeated, so there is no compound plan.
    assert!(of_head(&plans, |it| matches!(it, WayKind::CompoundIndexing { .. })).is_none());
}

#[test]
fn a_part_of_a_turn_too_small_is_no_error() {
    let tiny = "1/99999999999999999999999999999999 turn";
    let job = json!({"format": 1, "name": "j",
        "features": {"angles": {"angles": ["0 deg", tiny]}}});
    let found = plan_job(
        &Workshop::from_json(DEMO).unwrap(),
        &Job::from_json(&job.to_string()).unwrap(),
    );
    match found {
        Ok(plans) => assert!(!plans.plans().is_empty()),
        Err(error) => assert_eq!(error.kind(), dividing_core::ErrorKind::Overflow),
    }
}

#[test]
fn a_large_gear_set_is_no_burden() {
    let mut demo: serde_json::Value = serde_json::from_str(DEMO).unwrap();
    let gears = &mut demo["equipment"][0]["worm_head"]["change_gears"];
    gears["gears"] = (20..220).collect::<Vec<u32>>().into();
    gears["most_pairs"] = json!(3);
    let plans = plans(&demo.to_string(), &divisions(1009));
    let (_, plan) = of_head(&plans, |it| {
        matches!(it, WayKind::DifferentialIndexing { .. })
    })
    .unwrap();
    assert!(plan.exact);
}
