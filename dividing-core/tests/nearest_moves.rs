//! Plans where no method of a worm head is exact: the nearest move of compound
//! and of differential indexing, repeated. Checked by stepping crank, plate and
//! spindle as exact fractions, and against every move tried.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test states what must hold"
)]

use dividing_core::equipment::{Equipment, WormHead};
use dividing_core::plan::FindingKind;
use dividing_core::reach::WayKind;
use dividing_core::reach::worm::PlateSense;
use dividing_core::{Angle, Job, Plan, Plans, Workshop, plan_job};

const HEAD: &str = r#"{"name": "head", "worm_ratio": RATIO,
    "plates": [{"name": "1", "circles": [15, 16, 17, 18]}],
    "change_gears": {"gears": [24, 32, 40, 48]}}"#;

fn plans(ratio: &str, divisions: u32, start: &str) -> (WormHead, Plans) {
    let head = HEAD.replace("RATIO", ratio);
    let workshop =
        format!(r#"{{"format": 1, "name": "w", "equipment": [{{"worm_head": {head}}}]}}"#);
    let workshop = Workshop::from_json(&workshop).unwrap();
    let Equipment::WormHead(head) = workshop.equipment()[0].clone() else {
        panic!()
    };
    let job = format!(
        r#"{{"format": 1, "name": "j", "start": {start},
        "features": {{"equal_divisions": {{"count": {divisions}}}}}}}"#
    );
    let plans = plan_job(&workshop, &Job::from_json(&job).unwrap()).unwrap();
    (head, plans)
}

fn turns(numerator: i128, denominator: i128) -> Angle {
    Angle::new(numerator, denominator).unwrap()
}

/// What the spindle turns by in one move of a plan.
fn made(head: &WormHead, plan: &Plan) -> Angle {
    let circle = |index: usize| i128::from(head.plates[0].circles[index].holes);
    let (above, below) = (head.worm_ratio.numerator(), head.worm_ratio.denominator());
    match plan.way {
        WayKind::CompoundIndexing {
            first_circle,
            second_circle,
            whole_turns,
            first_holes,
            second_holes,
            ..
        } => turns(whole_turns, 1)
            .checked_add(turns(first_holes.into(), circle(first_circle)))
            .and_then(|it| it.checked_add(turns(second_holes.into(), circle(second_circle))))
            .and_then(|it| it.checked_mul(below))
            .and_then(|it| it.checked_div(above))
            .unwrap(),
        WayKind::DifferentialIndexing {
            circle: at,
            spaces,
            train,
            plate_sense,
            ..
        } => {
            // While the spindle turns by s the plate turns by g·s, and the crank
            // by R·s: R·s − g·s is what is counted on the plate.
            let g = turns(train.ratio().numerator(), train.ratio().denominator());
            let g = if plate_sense == PlateSense::WithCrank {
                g
            } else {
                -g
            };
            let on_plate = turns(above, below).checked_sub(g).unwrap();
            turns(spaces, circle(at))
                .checked_mul(on_plate.denominator())
                .and_then(|it| it.checked_div(on_plate.numerator()))
                .unwrap()
        }
        other => panic!("{other:?}"),
    }
}

/// The nearest compound move, every one tried.
fn nearest_compound(head: &WormHead, divisions: i128) -> Angle {
    let circles: Vec<u32> = head.plates[0].circles.iter().map(|it| it.holes).collect();
    let mut least = Angle::FULL_TURN;
    for (at, &one) in circles.iter().enumerate() {
        for &other in &circles[at + 1..] {
            let (c1, c2) = (i128::from(one), i128::from(other));
            for h1 in 1 - c1..c1 {
                for h2 in 1 - c2..c2 {
                    if h1 == 0 || h2 == 0 {
                        continue;
                    }
                    for whole in -2..=4 {
                        let crank = turns(whole * c1 * c2 + h1 * c2 + h2 * c1, c1 * c2);
                        let spindle = crank
                            .checked_mul(head.worm_ratio.denominator())
                            .and_then(|it| it.checked_div(head.worm_ratio.numerator()))
                            .unwrap();
                        least = least.min(spindle.checked_sub(turns(1, divisions)).unwrap().abs());
                    }
                }
            }
        }
    }
    least
}

#[test]
fn the_nearest_moves_are_stepped_round_the_turn() {
    for (ratio, divisions) in [("40", 131_u32), ("40", 383), ("\"81/2\"", 127), ("60", 211)] {
        for (start, free) in [("\"free\"", true), ("\"on_a_setting\"", false)] {
            let (head, plans) = plans(ratio, divisions, start);
            assert_eq!(plans.plans().len(), 3, "simple, compound, differential");
            let number = i128::from(divisions);
            for plan in plans.plans() {
                assert!(!plan.exact);
                if matches!(plan.way, WayKind::SimpleIndexing { .. }) {
                    continue;
                }
                let made = made(&head, plan);
                let per_move = made.checked_sub(turns(1, number)).unwrap();
                if matches!(plan.way, WayKind::CompoundIndexing { .. }) {
                    assert_eq!(per_move.abs(), nearest_compound(&head, number));
                }
                // Residuals grow by the error of a move, from one end to the other.
                let mut spindle = Angle::ZERO;
                let first = plan.placements[0].residual;
                for placement in &plan.placements {
                    let off = spindle.checked_sub(placement.required).unwrap();
                    let grown = placement.residual.checked_sub(first).unwrap();
                    assert_eq!(off.within_half_turn(), grown, "{:?}", plan.way);
                    spindle = spindle.checked_add(made).unwrap();
                }
                let all = per_move.abs().checked_mul(number - 1).unwrap();
                let worst = if free {
                    all.checked_div(2).unwrap()
                } else {
                    all
                };
                assert_eq!(plan.largest_residual, worst);
                let found = |it: &dividing_core::plan::Finding| it.kind == FindingKind::ErrorsAddUp;
                assert!(plan.findings.iter().any(found));
                assert!(
                    plan.method.starts_with("nearest move of"),
                    "{}",
                    plan.method
                );
                let index = plans.plans().iter().position(|it| it == plan).unwrap();
                let sheet = plans.sheet(index).unwrap().to_text();
                assert!(sheet.contains("accumulating"), "{sheet}");
                assert!(sheet.contains("from the start, for the"), "{sheet}");
                assert!(plans.error_model(index, &mut Default::default()).is_ok());
            }
            let simple = |it: &&Plan| matches!(it.way, WayKind::SimpleIndexing { .. });
            let index = plans.plans().iter().position(|it| simple(&it)).unwrap();
            let sheet = plans.sheet(index).unwrap().to_text();
            assert!(sheet.contains("absolute"), "{sheet}");
        }
    }
}

#[test]
fn an_exact_method_or_a_given_start_needs_no_nearest_move() {
    let (_, plans) = plans("40", 9, "\"free\"");
    assert_eq!(plans.plans().len(), 1);
    let start = r#"{"clocked": {"to": "keyway", "at": "0 deg", "reading": "0 deg"}}"#;
    let (_, plans) = self::plans("40", 131, start);
    assert!(
        plans
            .plans()
            .iter()
            .all(|it| matches!(it.way, WayKind::SimpleIndexing { .. }))
    );
}

#[test]
fn a_fraction_in_the_worm_ratio_is_planned_exactly() {
    // R/N = 81/2/27 = 3/2: one turn and 8 holes of 16.
    let (_, plans) = plans("\"81/2\"", 27, "\"free\"");
    let best = &plans.plans()[0];
    assert!(best.exact);
    for placement in &best.placements {
        let dividing_core::reach::Setting::Crank {
            circle,
            turns,
            hole,
            ..
        } = placement.setting
        else {
            panic!()
        };
        let crank = self::turns(turns * i128::from(circle) + i128::from(hole), circle.into());
        let spindle = crank
            .checked_mul(2)
            .and_then(|it| it.checked_div(81))
            .unwrap();
        assert_eq!(spindle.within_turn(), placement.required);
    }
}
