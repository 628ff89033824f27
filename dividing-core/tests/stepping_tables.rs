//! Tables of nearest moves against single questions and against every move tried.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test states what must hold"
)]

use dividing_core::equipment::{Equipment, WormHead};
use dividing_core::reach::worm::{DifferentialReach, WormReach};
use dividing_core::tables::{SteppingSection, TableColumns, stepping_table};
use dividing_core::work::Meter;
use dividing_core::{Angle, Workshop};
use num_integer::Integer;
use serde_json::json;

/// Turns: far below the smallest difference between two moves here.
const NOISE: f64 = 1e-14;

fn workshop(ratio: &str) -> (Workshop, WormHead) {
    let workshop = json!({"format": 1, "name": "w", "equipment": [{"worm_head": {
        "name": "head", "worm_ratio": ratio,
        "plates": [{"name": "1", "circles": [15, 18, 20]}, {"name": "2", "circles": [21, 33]}],
        "change_gears": {"gears": [24, 24, 28, 40, 44, 64]}}}]});
    let workshop = Workshop::from_json(&workshop.to_string()).unwrap();
    let Equipment::WormHead(head) = workshop.equipment()[0].clone() else {
        panic!()
    };
    (workshop, head)
}

fn turns(errors: Angle) -> f64 {
    errors.to_turns_f64()
}

fn check_errors(section: &SteppingSection, row: usize, divisions: u32, wanted: f64) {
    let errors = &section.errors;
    let found = errors.per_division_turns[row];
    assert!(
        (found.abs() - wanted.abs()).abs() < NOISE,
        "{divisions}: {found} {wanted}"
    );
    let number = f64::from(divisions);
    assert!((errors.worst_turns[row] - found.abs() * (number - 1.0)).abs() < NOISE * number);
    assert!((errors.closing_turns[row] - found * number).abs() < NOISE * number);
}

#[test]
fn every_row_is_what_a_single_question_gives() {
    for ratio in ["40", "81/2"] {
        let (workshop, head) = workshop(ratio);
        let (first, last) = (2, 420);
        let meter = &mut Meter::new(u64::MAX);
        let table = stepping_table(&workshop, first, last, meter).unwrap();
        assert!(table.complete);
        let worm = WormReach::new(&head).unwrap();
        let geared = DifferentialReach::new(&head, meter).unwrap();
        let [simple, compound, differential] = table.sections.as_slice() else {
            panic!()
        };
        for divisions in first..=last {
            let row = (divisions - first) as usize;
            let step = Angle::new(1, divisions.into()).unwrap();
            let nearest = worm.nearest_simple(step).unwrap();
            check_errors(simple, row, divisions, turns(nearest.error.per_move));
            let exact = simple.moves.exact()[row] == 1;
            assert_eq!(exact, nearest.error.per_move.is_zero(), "{divisions}");
            let nearest = worm.nearest_compound(step, meter).unwrap();
            check_errors(compound, row, divisions, turns(nearest.error.per_move));
            let nearest = geared.nearest(step, meter).unwrap();
            let exact = differential.moves.exact()[row] == 1;
            assert_eq!(exact, nearest.error.per_move.is_zero(), "{divisions}");
            check_errors(differential, row, divisions, turns(nearest.error.per_move));
            moves_make_what_is_said(&head, differential, row, divisions);
        }
    }
}

/// (h/c)/(R − g) of the columns is 1/N and the error.
fn moves_make_what_is_said(head: &WormHead, section: &SteppingSection, row: usize, divisions: u32) {
    let TableColumns::Differential(moves) = &section.moves else {
        panic!()
    };
    let (mut above, mut below) = (1.0, 1.0);
    for pair in 0..3 {
        if moves.drivers[pair][row] > 0 {
            above *= f64::from(moves.drivers[pair][row]);
            below *= f64::from(moves.driven[pair][row]);
        }
    }
    let sign = if moves.against[row] == 1 { -1.0 } else { 1.0 };
    let on_plate = head.worm_ratio.to_f64() - sign * above / below;
    let circle = f64::from(moves.circle[row]);
    let crank =
        f64::from(i32::try_from(moves.turns[row]).unwrap()) + f64::from(moves.holes[row]) / circle;
    let off = crank / on_plate - 1.0 / f64::from(divisions);
    assert!((off - section.errors.per_division_turns[row]).abs() < NOISE);
}

#[test]
fn moves_of_several_divisions_are_the_best_of_all() {
    for ratio in ["40", "81/2"] {
        let (workshop, head) = workshop(ratio);
        let table = stepping_table(&workshop, 2, 140, &mut Meter::new(u64::MAX)).unwrap();
        let several = table.sections[0].several_divisions.as_ref().unwrap();
        let worm = WormReach::new(&head).unwrap();
        for divisions in 2..=140_u32 {
            let row = (divisions - 2) as usize;
            let mut least = f64::INFINITY;
            for k in (1..divisions).filter(|k| k.gcd(&divisions) == 1) {
                let step = Angle::new(k.into(), divisions.into()).unwrap();
                // A move of no hole does not go on.
                let nearest = worm.nearest_simple(step).unwrap();
                if nearest.made > Angle::ZERO {
                    least = least.min(turns(nearest.error.per_move).abs());
                }
            }
            let found = several.per_move_turns[row];
            assert!(
                (found.abs() - least).abs() < NOISE,
                "{divisions}: {found} {least}"
            );
            let k = several.divisions[row];
            assert_eq!(k.gcd(&divisions), 1);
            let crank = f64::from(several.turns[row])
                + f64::from(several.holes[row]) / f64::from(several.circle[row]);
            let off = crank / head.worm_ratio.to_f64() - f64::from(k) / f64::from(divisions);
            assert!((off - found).abs() < NOISE);
        }
    }
}

#[test]
fn a_small_budget_marks_the_table() {
    let (workshop, _) = workshop("40");
    for limit in [1, 100, 2_000, 20_000] {
        let table = stepping_table(&workshop, 2, 2_000, &mut Meter::new(limit)).unwrap();
        assert!(!table.complete, "{limit}");
    }
}
