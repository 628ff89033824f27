//! First allocations, quickly: by savings, or in as few rings as can be.

use super::placement;
use super::problem::{Problem, bits};

/// Merges the two rings that save the most holes until none can merge, then
/// tries to place the result; `None` when it does not fit.
pub(crate) fn by_savings(problem: &Problem) -> Option<Vec<u64>> {
    let mut groups: Vec<u64> = (0..problem.len()).map(|i| 1 << i).collect();
    loop {
        let mut best: Option<(u64, usize, usize)> = None;
        for a in 0..groups.len() {
            for b in a + 1..groups.len() {
                let both = groups[a] | groups[b];
                if !mutual_partners(problem, groups[a], groups[b])
                    || problem.group_level(both).is_none()
                {
                    continue;
                }
                let saved = (problem.holes(groups[a]) + problem.holes(groups[b]))
                    .saturating_sub(problem.holes(both));
                if best.is_none_or(|(most, _, _)| saved > most) {
                    best = Some((saved, a, b));
                }
            }
        }
        let Some((_, a, b)) = best else { break };
        let merged = groups[a] | groups[b];
        groups.swap_remove(b);
        groups[a] = merged;
    }
    placement::place(problem, &vec![1.0; problem.len()], &groups).map(|_| groups)
}

/// Puts the item with the fewest rings left open to it next (D. Brélaz,
/// *Communications of the ACM* 22 (1979) 251, on colouring graphs), on the ring
/// where it adds the fewest holes; `None` when the result does not fit.
pub(crate) fn in_few_rings(problem: &Problem) -> Option<Vec<u64>> {
    let mut groups: Vec<u64> = Vec::new();
    let mut open = problem.everything();
    while open != 0 {
        let next = bits(open).max_by_key(|&i| {
            let shut = groups
                .iter()
                .filter(|&&group| !joins(problem, group, i))
                .count();
            let partners = (problem.partners[i] & open).count_ones();
            (shut, std::cmp::Reverse(partners), std::cmp::Reverse(i))
        })?;
        open &= !(1 << next);
        let best = (0..groups.len())
            .filter(|&k| joins(problem, groups[k], next))
            .min_by_key(|&k| problem.holes(groups[k] | (1 << next)) - problem.holes(groups[k]));
        match best {
            Some(k) => groups[k] |= 1 << next,
            None => groups.push(1 << next),
        }
    }
    placement::place(problem, &vec![1.0; problem.len()], &groups).map(|_| groups)
}

fn joins(problem: &Problem, group: u64, item: usize) -> bool {
    group & !problem.partners[item] == 0 && problem.group_level(group | (1 << item)).is_some()
}

fn mutual_partners(problem: &Problem, a: u64, b: u64) -> bool {
    bits(a).all(|i| b & !problem.partners[i] == 0)
}
