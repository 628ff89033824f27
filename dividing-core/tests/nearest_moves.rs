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

fn gcd(a: i128, b: i128) -> i128 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// How far off the nearest compound move is, every one tried, of one division or
/// of several up to 50 prime to their number.
fn nearest_compound(head: &WormHead, divisions: i128) -> Angle {
    let circles: Vec<u32> = head.plates[0].circles.iter().map(|it| it.holes).collect();
    let (above, below) = (head.worm_ratio.numerator(), head.worm_ratio.denominator());
    let several: Vec<i128> = (1..=50)
        .filter(|k| 2 * k <= divisions && gcd(*k, divisions) == 1)
        .collect();
    let mut least = Angle::FULL_TURN;
    for (at, &one) in circles.iter().enumerate() {
        for &other in &circles[at + 1..] {
            let (c1, c2) = (i128::from(one), i128::from(other));
            // In parts of a crank turn that hold every move and every wish.
            let parts = c1 * c2 * below * divisions;
            let mut off = parts;
            for h1 in 1..c1 {
                for h2 in 1..c2 {
                    let crank = (h1 * c2 + h2 * c1) * below * divisions;
                    for k in &several {
                        let gap = (crank - above * k * c1 * c2).rem_euclid(parts);
                        off = off.min(gap).min(parts - gap);
                    }
                }
            }
            least = least.min(turns(off * below, parts * above));
        }
    }
    least
}

/// Divisions that one move of a plan is meant to make.
fn divisions_a_move(plan: &Plan) -> i128 {
    match plan.way {
        WayKind::CompoundIndexing {
            divisions_a_move, ..
        }
        | WayKind::DifferentialIndexing {
            divisions_a_move, ..
        } => divisions_a_move,
        _ => 1,
    }
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
                let k = divisions_a_move(plan);
                let per_move = made.checked_sub(turns(k, number)).unwrap();
                if matches!(plan.way, WayKind::CompoundIndexing { .. }) {
                    assert_eq!(per_move.abs(), nearest_compound(&head, number));
                }
                // Residuals grow by the error of a move, from one end to the other.
                let mut spindle = Angle::ZERO;
                let first = plan.placements[0].residual;
                for moves in 0..number {
                    let place = usize::try_from(moves * k % number).unwrap();
                    let placement = &plan.placements[place];
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
                // The rows come in the order of the moves.
                let told = format!("{k} divisions a move");
                let words = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
                assert_eq!(words.contains(&told), k > 1, "{sheet}");
                let table = sheet.split("SETTINGS").nth(1).unwrap();
                let rows: Vec<i128> = table
                    .lines()
                    .filter_map(|line| line.split_whitespace().next()?.parse().ok())
                    .take(3)
                    .collect();
                assert_eq!(rows, [1, k + 1, 2 * k + 1], "{sheet}");
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
fn an_exact_method_needs_no_nearest_move() {
    let (_, plans) = plans("40", 9, "\"free\"");
    assert_eq!(plans.plans().len(), 1);
}

/// Clocked at the reading zero, the moves count from what the part is clocked to;
/// a row that begins some divisions on begins so many moves on.
#[test]
fn nearest_moves_begin_from_what_a_part_is_clocked_to() {
    for (at, begun) in [("0 deg", 0_i128), ("-3/131 turn", 3)] {
        let start = format!(r#"{{"clocked": {{"to": "keyway", "at": "{at}"}}}}"#);
        let (head, plans) = plans("40", 131, &start);
        assert_eq!(plans.plans().len(), 3);
        for plan in plans.plans() {
            if matches!(plan.way, WayKind::SimpleIndexing { .. }) {
                continue;
            }
            let (made, k) = (made(&head, plan), divisions_a_move(plan));
            let per_move = made.checked_sub(turns(k, 131)).unwrap();
            for (feature, placement) in (0..).zip(&plan.placements) {
                // Moves from the keyway to the feature, by counting them.
                let moves = (0..131)
                    .find(|moves| (moves * k - feature - begun).rem_euclid(131) == 0)
                    .unwrap();
                assert_eq!(placement.residual, per_move.checked_mul(moves).unwrap());
            }
            let index = plans.plans().iter().position(|it| it == plan).unwrap();
            plans.sheet(index).unwrap();
        }
    }
    // Begun at a reading that the moves do not come from.
    let start = r#"{"clocked": {"to": "keyway", "at": "0 deg", "reading": "2 deg"}}"#;
    let (_, plans) = plans("40", 131, start);
    let simple = |it: &Plan| matches!(it.way, WayKind::SimpleIndexing { .. });
    assert!(plans.plans().iter().all(simple));
}

/// Numbers that gears index only by moves of several divisions: crank, plate and
/// spindle stepped as exact fractions to every feature and to the closing.
#[test]
fn moves_of_several_divisions_reach_what_single_ones_do_not() {
    let mut found = 0;
    for divisions in 50..180_u32 {
        let (head, plans) = plans("40", divisions, "\"free\"");
        let number = i128::from(divisions);
        for (index, plan) in plans.plans().iter().enumerate() {
            let k = divisions_a_move(plan);
            let WayKind::DifferentialIndexing { spaces, circle, .. } = plan.way else {
                continue;
            };
            if k == 1 || !plan.exact {
                continue;
            }
            found += 1;
            assert_eq!(gcd(k, number), 1);
            assert_eq!(made(&head, plan), turns(k, number), "{divisions}");
            let holes = i128::from(head.plates[0].circles[circle].holes);
            let mut visited = vec![false; plan.placements.len()];
            for moves in 0..number {
                let place = usize::try_from(moves * k % number).unwrap();
                let dividing_core::reach::Setting::Crank { turns, hole, .. } =
                    plan.placements[place].setting
                else {
                    panic!()
                };
                assert_eq!(turns * holes + i128::from(hole), moves * spaces);
                visited[place] = true;
            }
            assert!(visited.iter().all(|it| *it));
            let sheet = plans.sheet(index).unwrap().to_text();
            assert!(
                sheet.contains(&format!("every move makes {k} of the")),
                "{sheet}"
            );
            assert!(sheet.contains(&format!("{number} moves of")), "{sheet}");
            assert!(plans.error_model(index, &mut Default::default()).is_ok());
        }
        // Fewer divisions a move are not passed over.
        if let Some(plan) = plans.plans().iter().find(|it| divisions_a_move(it) > 1)
            && plan.exact
        {
            for k in 1..divisions_a_move(plan) {
                let meter = &mut dividing_core::work::Meter::default();
                let all = dividing_core::reach::worm::DifferentialReach::new(&head, meter);
                let single = all.unwrap().settings(turns(k, number), meter).unwrap();
                assert!(
                    gcd(k, number) > 1 || single.settings.is_empty(),
                    "{divisions} {k}"
                );
            }
        }
    }
    assert!(found > 3, "{found}");
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
