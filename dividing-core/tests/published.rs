//! Simple indexing against what handbooks claim, and against plain division.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "tests"
)]

use crate::common;

use common::plans;
use dividing_core::reach::{Setting, WayKind};
use serde_json::json;

/// The three plates that go with a 40:1 head.
const THREE_PLATES: [[u32; 6]; 3] = [
    [15, 16, 17, 18, 19, 20],
    [21, 23, 27, 29, 31, 33],
    [37, 39, 41, 43, 47, 49],
];

fn is_exact(count: u32) -> bool {
    let plates: Vec<_> = THREE_PLATES
        .iter()
        .enumerate()
        .map(|(index, circles)| json!({"name": format!("plate {index}"), "circles": circles}))
        .collect();
    let workshop = json!({"format": 1, "name": "Bench", "equipment": [
        {"worm_head": {"name": "head", "worm_ratio": 40, "plates": plates}}]});
    let job =
        json!({"format": 1, "name": "Job", "features": {"equal_divisions": {"count": count}}});
    let plans = plans(&workshop, &job);
    // Plain indexing is what is claimed; compound indexing has a plan of its own.
    let plan = plans
        .plans()
        .iter()
        .find(|it| matches!(it.way, WayKind::SimpleIndexing { .. }))
        .unwrap();
    assert_eq!(plan.exact, plan.largest_residual.is_zero(), "{count}");
    assert_eq!(plan.exact, plan.shortfall.is_none(), "{count}");
    if plan.exact {
        // The move: turns + holes/circle = 40/N, without a common start.
        let spaces = |index: usize| match plan.placements[index].setting {
            Setting::Crank {
                circle,
                turns,
                hole,
                ..
            } => (turns * i128::from(circle) + i128::from(hole), circle),
            ref other => panic!("{other:?}"),
        };
        let ((from, circle), (to, _)) = (spaces(0), spaces(1));
        let wanted = 40 * i128::from(circle);
        assert_eq!((to - from) * i128::from(count), wanted, "{count}");
    }
    plan.exact
}

/// "Practical Treatise on Milling and Milling Machines" (1914, public domain):
/// plain indexing on the three common plates of a 40:1 head gives every number
/// to 50 and every even number to 100 except 96.
#[test]
fn every_number_to_50_and_every_even_number_to_100_except_96() {
    for count in 2..=50 {
        assert!(is_exact(count), "{count}");
    }
    for count in (52..=100).step_by(2) {
        assert_eq!(is_exact(count), count != 96, "{count}");
    }
}

/// First principles: N divisions are exact on a circle of c when N divides 40·c.
#[test]
fn simple_indexing_is_division() {
    let mut exact = 0;
    for count in 2..=400 {
        let divides = THREE_PLATES
            .as_flattened()
            .iter()
            .any(|circle| (40 * circle) % count == 0);
        assert_eq!(is_exact(count), divides, "{count}");
        exact += u32::from(divides);
    }
    // So that the check can fail on both sides.
    assert!((100..300).contains(&exact), "{exact} of 399");
}
