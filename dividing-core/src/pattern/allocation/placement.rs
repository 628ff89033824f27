//! Which ring stands on which slot.

use super::problem::{Level, Problem, RADIUS_SLACK_MM, bits};

/// A ring of an allocation on its pitch radius.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Placed {
    pub(crate) group: u64,
    pub(crate) radius_mm: f64,
    pub(crate) pinned: Option<usize>,
}

/// Tightest tolerance of a group, in radians; infinite when none is given.
pub(crate) fn tolerance_rad(tolerances: &[f64], group: u64) -> f64 {
    bits(group)
        .map(|i| tolerances[i])
        .fold(f64::INFINITY, f64::min)
}

/// Puts each group on a slot, outermost slots first, so that the least product
/// of tolerance and radius is as large as it can be.
///
/// From the inside out, each slot takes the loosest of the groups that may
/// stand there (E. L. Lawler, *Management Science* 19 (1973) 544: the last
/// place goes to the job that costs least there). `None` when they do not fit.
pub(crate) fn place(problem: &Problem, tolerances: &[f64], groups: &[u64]) -> Option<Vec<Placed>> {
    let mut placed = Vec::with_capacity(groups.len());
    let mut open: Vec<(u64, f64, f64)> = Vec::new();
    for &group in groups {
        match problem.group_level(group)? {
            Level::Pinned => {
                let pin = bits(group).find_map(|i| problem.items[i].pinned)?;
                placed.push(Placed {
                    group,
                    radius_mm: *problem.slots.pinned_mm.get(pin)?,
                    pinned: Some(pin),
                });
            }
            Level::Free(_) => open.push((
                group,
                problem.need_mm(group),
                tolerance_rad(tolerances, group),
            )),
        }
    }
    if open.len() > problem.slots.free_mm.len() {
        return None;
    }
    for slot in (0..open.len()).rev() {
        let radius_mm = problem.slots.free_mm[slot];
        let best = (0..open.len())
            .filter(|&k| open[k].1 <= radius_mm + RADIUS_SLACK_MM)
            .max_by(|&a, &b| {
                open[a]
                    .2
                    .total_cmp(&open[b].2)
                    .then(open[b].1.total_cmp(&open[a].1))
                    .then(open[b].0.cmp(&open[a].0))
            })?;
        let (group, _, _) = open.swap_remove(best);
        placed.push(Placed {
            group,
            radius_mm,
            pinned: None,
        });
    }
    placed.sort_by(|a, b| b.radius_mm.total_cmp(&a.radius_mm));
    Some(placed)
}

/// The least product of tolerance and pitch radius over the rings, in
/// millimetres: the hole deviation at which the worst wish just holds.
pub(crate) fn margin_mm(tolerances: &[f64], placed: &[Placed]) -> f64 {
    placed
        .iter()
        .map(|ring| tolerance_rad(tolerances, ring.group) * ring.radius_mm)
        .fold(f64::INFINITY, f64::min)
}
