use proptest::prelude::*;

use super::problem::{Item, Slots, bits};
use super::*;

/// Slots as on a bare disc: rings a hole and a web apart.
fn disc(outermost_mm: f64, innermost_mm: f64, spacing_mm: f64) -> Slots {
    let mut free_mm = Vec::new();
    let mut radius = outermost_mm;
    while radius >= innermost_mm && free_mm.len() < 64 {
        free_mm.push(radius);
        radius -= spacing_mm;
    }
    Slots {
        free_mm,
        pinned_mm: Vec::new(),
    }
}

fn items(divisions: &[u64]) -> Vec<Item> {
    let mut kept: Vec<u64> = divisions
        .iter()
        .copied()
        .filter(|&n| !divisions.iter().any(|&m| m != n && m.is_multiple_of(n)))
        .collect();
    kept.sort_unstable();
    kept.dedup();
    kept.into_iter()
        .map(|n| Item {
            divisions: vec![n],
            ..Item::default()
        })
        .collect()
}

/// Every partition, one by one: fewest holes, then the largest margin.
fn by_exhaustion(problem: &Problem) -> Option<(u64, f64)> {
    fn place_next(
        problem: &Problem,
        tolerances: &[f64],
        next: usize,
        groups: &mut Vec<u64>,
        best: &mut Option<(u64, f64)>,
    ) {
        if next == problem.len() {
            let Some(placed) = placement::place(problem, tolerances, groups) else {
                return;
            };
            let found = (
                holes_of(problem, groups),
                placement::margin_mm(tolerances, &placed),
            );
            let better = best.is_none_or(|b| found.0 < b.0 || (found.0 == b.0 && found.1 > b.1));
            if better {
                *best = Some(found);
            }
            return;
        }
        for k in 0..groups.len() {
            groups[k] |= 1 << next;
            place_next(problem, tolerances, next + 1, groups, best);
            groups[k] &= !(1 << next);
        }
        groups.push(1 << next);
        place_next(problem, tolerances, next + 1, groups, best);
        groups.pop();
    }
    let mut best = None;
    place_next(problem, &tolerances(problem), 0, &mut Vec::new(), &mut best);
    best
}

/// Best margin over every way to put the groups on the slots.
fn best_margin_by_permutation(problem: &Problem, groups: &[u64]) -> f64 {
    fn next(problem: &Problem, tol: &[f64], left: &[u64], slot: usize, so_far: f64) -> f64 {
        if left.is_empty() {
            return so_far;
        }
        let mut best = f64::NEG_INFINITY;
        for k in 0..left.len() {
            let radius = problem.slots.free_mm[slot];
            if problem.need_mm(left[k]) > radius + 1e-9 {
                continue;
            }
            let mut rest = left.to_vec();
            let group = rest.remove(k);
            let margin = so_far.min(placement::tolerance_rad(tol, group) * radius);
            best = best.max(next(problem, tol, &rest, slot + 1, margin));
        }
        best
    }
    next(problem, &tolerances(problem), groups, 0, f64::INFINITY)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]
    #[test]
    fn as_good_as_every_partition(
        divisions in proptest::collection::vec(2_u64..40, 1..10),
        outermost in 8.0_f64..120.0,
        rooms in 0.0_f64..8.0,
        spacing in 1.0_f64..9.0,
        tolerances in proptest::collection::vec(proptest::option::of(0.001_f64..0.1), 10),
    ) {
        let mut items = items(&divisions);
        for (item, tolerance) in items.iter_mut().zip(tolerances) {
            item.tolerance_rad = tolerance;
        }
        let slots = disc(outermost, (outermost - rooms * spacing).max(1.0), spacing);
        let problem = Problem::new(items, slots, spacing);
        let answer = solve(&problem, &mut Meter::default()).unwrap();
        prop_assert!(answer.complete);
        match by_exhaustion(&problem) {
            None => prop_assert!(answer.rings.is_none()),
            Some((holes, margin)) => {
                let rings = answer.rings.unwrap();
                prop_assert_eq!(answer.holes, holes);
                prop_assert_eq!(answer.lower_bound, holes);
                let found = placement::margin_mm(&super::tolerances(&problem), &rings);
                // Without finite tolerances both are infinite.
                let same = (found - margin).abs() <= 1e-9 * margin.abs()
                    || (found.is_infinite() && margin.is_infinite());
                prop_assert!(same, "{found} {margin}");
                let groups: Vec<u64> = rings.iter().map(|r| r.group).collect();
                let best = best_margin_by_permutation(&problem, &groups);
                prop_assert!(found >= best * (1.0 - 1e-12));
                let mut seen = 0_u64;
                for ring in &rings {
                    prop_assert_eq!(seen & ring.group, 0);
                    seen |= ring.group;
                    prop_assert!(problem.need_mm(ring.group) <= ring.radius_mm + 1e-9);
                }
                prop_assert_eq!(seen, problem.everything());
            }
        }
    }
}

#[test]
fn a_small_budget_is_an_incomplete_answer_not_an_error() {
    let list: Vec<u64> = (20..60).collect();
    let problem = Problem::new(items(&list), disc(140.0, 20.0, 5.0), 5.0);
    let answer = solve(&problem, &mut Meter::new(10)).unwrap();
    assert!(!answer.complete);
    if answer.rings.is_some() {
        assert!(answer.lower_bound <= answer.holes);
    }
    let full = solve(&problem, &mut Meter::default()).unwrap();
    assert!(full.complete);
    assert!(answer.lower_bound <= full.lower_bound);
}

/// A slot with a charge stays empty in the best choice: the sum of excesses
/// alone does not tell its holes.
#[test]
fn empty_slots_do_not_hide_holes() {
    let list = [8, 21, 19, 17, 13, 10, 7, 24, 6, 5, 15];
    let mut slots = disc(96.5, 33.5, 3.5);
    slots.free_mm.truncate(5);
    let problem = Problem::new(items(&list), slots, 3.5);
    let answer = solve(&problem, &mut Meter::default()).unwrap();
    assert_eq!(answer.holes, by_exhaustion(&problem).unwrap().0);
    assert_eq!(answer.holes, answer.lower_bound);
}

#[test]
fn bits_are_read_ascending() {
    assert_eq!(bits(0b1010_0001).collect::<Vec<_>>(), [0, 5, 7]);
}
