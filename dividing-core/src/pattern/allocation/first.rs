//! A first allocation, by savings.

use super::placement;
use super::problem::Problem;

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

fn mutual_partners(problem: &Problem, a: u64, b: u64) -> bool {
    super::problem::bits(a).all(|i| b & !problem.partners[i] == 0)
}
