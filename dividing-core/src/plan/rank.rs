//! The order of plans, and the other ways of one piece of equipment.

use std::cmp::Ordering;

use super::{Plan, words};
use crate::accuracy::VerdictKind;
use crate::equipment::Workshop;
use crate::job::Job;

/// The documented order: exact first, then the verdict, the worst case, the
/// handling. The sort is stable, so the order of the workshop comes last.
pub(super) fn compare(a: &Plan, b: &Plan) -> Ordering {
    let worst = |plan: &Plan| {
        if plan.error.unknown.is_empty() {
            plan.error.worst_rad
        } else {
            f64::INFINITY
        }
    };
    b.exact
        .cmp(&a.exact)
        .then(verdict_rank(a.verdict.kind).cmp(&verdict_rank(b.verdict.kind)))
        .then(worst(a).total_cmp(&worst(b)))
        .then(a.largest_residual.cmp(&b.largest_residual))
        .then(a.handling.cmp(&b.handling))
}

const fn verdict_rank(kind: VerdictKind) -> u8 {
    match kind {
        VerdictKind::Pass | VerdictKind::NoTolerance => 0,
        VerdictKind::NotProven => 1,
        VerdictKind::Fail => 2,
    }
}

/// A plan that is only named as another way keeps its first move, not every
/// feature: a shop with hundreds of circles would fill the memory.
pub(super) fn shortened(mut plan: Plan) -> Plan {
    const FIRST_MOVE: usize = 2;
    plan.placements.truncate(FIRST_MOVE);
    plan.placements.shrink_to_fit();
    plan.error.features = Vec::new();
    plan
}

/// Most other ways that are named.
const MOST_ALTERNATIVES: usize = 6;

/// The other ways in words, those as good as the best one in reach.
pub(super) fn alternatives(
    workshop: &Workshop,
    best: &Plan,
    others: &[Plan],
    job: &Job,
) -> Vec<String> {
    others
        .iter()
        .filter(|other| other.exact == best.exact)
        .take(MOST_ALTERNATIVES)
        .map(|other| words::alternative(workshop, other, job))
        .collect()
}
