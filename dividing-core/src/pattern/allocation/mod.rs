//! Which wishes share which ring: the fewest holes, proved.

pub(crate) mod branch;
pub(crate) mod candidates;
mod first;
pub(crate) mod placement;
pub(crate) mod problem;
mod relaxation;

use branch::{Outcome, Priced, Wanted};
use candidates::{SCALE, Shares};
use placement::Placed;
use problem::{Level, Problem, bits};

use crate::error::{ErrorKind, Result};
use crate::work::Meter;

/// How the lower bound of an allocation was proved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Proof {
    /// All wishes on one ring of any size need as many.
    OneRing,
    /// Each wish's share of the holes it can share with others.
    Shares,
    /// Prices from the linear relaxation over the listed rings.
    Prices,
    /// Every choice of listed rings with fewer holes was ruled out.
    Exhausted,
    /// Chords for every direction of a list need as many pins.
    Directions,
}

/// The fewest holes, or the fewest found within the budget.
#[derive(Clone, Debug)]
pub(crate) struct Allocation {
    /// Rings from the outside in; `None` when no allocation was found.
    pub(crate) rings: Option<Vec<Placed>>,
    pub(crate) holes: u64,
    pub(crate) lower_bound: u64,
    pub(crate) proof: Proof,
    /// Whether holes and margin are both proved (or that nothing fits).
    pub(crate) complete: bool,
    /// Rings that could take part in a best allocation.
    pub(crate) rings_listed: u64,
    /// Choices looked at.
    pub(crate) nodes: u64,
}

/// Finds the allocation with the fewest holes; among those one with the
/// largest margin (see [`placement::margin_mm`]).
///
/// # Errors
/// [`ErrorKind::Cancelled`] when the watcher stops it; a spent budget is no
/// error here but an incomplete answer.
pub(crate) fn solve(problem: &Problem, meter: &mut Meter<'_>) -> Result<Allocation> {
    run(problem, meter, true)
}

/// As [`solve`], but any allocation that fits will do.
pub(crate) fn fits(problem: &Problem, meter: &mut Meter<'_>) -> Result<Option<bool>> {
    if first::by_savings(problem).is_some() || first::in_few_rings(problem).is_some() {
        return Ok(Some(true));
    }
    let answer = run(problem, meter, false)?;
    Ok(match (answer.rings, answer.complete) {
        (Some(_), _) => Some(true),
        (None, true) => Some(false),
        (None, false) => None,
    })
}

fn run(problem: &Problem, meter: &mut Meter<'_>, best: bool) -> Result<Allocation> {
    let mut answer = Allocation {
        rings: Some(Vec::new()),
        holes: 0,
        lower_bound: 0,
        proof: Proof::OneRing,
        complete: true,
        rings_listed: 0,
        nodes: 0,
    };
    if problem.len() == 0 {
        return Ok(answer);
    }
    let tolerances = tolerances(problem);
    let mut groups = first::by_savings(problem).or_else(|| first::in_few_rings(problem));
    answer.complete = false;
    let searched = search(problem, &tolerances, &mut groups, &mut answer, best, meter);
    match searched {
        Ok(()) => answer.complete = true,
        Err(error) if error.kind() == ErrorKind::WorkLimit => {}
        Err(error) => return Err(error),
    }
    answer.rings = groups.and_then(|groups| placement::place(problem, &tolerances, &groups));
    answer.holes = answer
        .rings
        .iter()
        .flatten()
        .map(|ring| problem.holes(ring.group))
        .sum();
    Ok(answer)
}

/// The tolerances to weigh: equal ones when none is given.
fn tolerances(problem: &Problem) -> Vec<f64> {
    let any = problem
        .items
        .iter()
        .any(|item| item.tolerance_rad.is_some());
    problem
        .items
        .iter()
        .map(|item| match item.tolerance_rad {
            Some(tolerance) => tolerance,
            None if any => f64::INFINITY,
            None => 1.0,
        })
        .collect()
}

fn holes_of(problem: &Problem, groups: &[u64]) -> u64 {
    groups.iter().map(|&group| problem.holes(group)).sum()
}

/// Whole holes that a bound in fixed-point steps proves.
fn whole_holes(bound: i64) -> u64 {
    u64::try_from(bound.max(0).div_euclid(SCALE) + i64::from(bound.max(0) % SCALE != 0))
        .unwrap_or(0)
}

fn search(
    problem: &Problem,
    tolerances: &[f64],
    groups: &mut Option<Vec<u64>>,
    answer: &mut Allocation,
    best: bool,
    meter: &mut Meter<'_>,
) -> Result<()> {
    let shares = Shares::new(problem);
    answer.lower_bound = problem.holes(problem.everything());
    if whole_holes(shares.sum) > answer.lower_bound {
        answer.lower_bound = whole_holes(shares.sum);
        answer.proof = Proof::Shares;
    }
    // Every item alone on a ring is the dearest allocation there is.
    let dearest: u64 = (0..problem.len()).map(|i| problem.holes(1 << i)).sum();
    let most_holes = groups.as_deref().map_or(dearest, |g| holes_of(problem, g));
    let gap = candidates::scaled(most_holes) - shares.sum;
    let listed = candidates::list(problem, &shares, gap, meter)?;
    answer.rings_listed = listed.len() as u64;
    let prices = relaxation::solve(problem, &listed, meter)?;
    // No allocation within `most_holes` has a ring that is not listed, so the
    // bound of the listed rings holds for all of them.
    let bound = whole_holes(prices.bound).min(most_holes);
    if bound > answer.lower_bound {
        answer.lower_bound = bound;
        answer.proof = Proof::Prices;
    }
    let priced: Vec<Priced> = listed
        .into_iter()
        .map(|ring| Priced {
            ring,
            excess: prices.excess(&ring),
        })
        .collect();
    let mut wanted = Wanted {
        everything: problem.everything(),
        slots: problem.slots.free_mm.len(),
        bound: prices.bound,
        most_holes,
        first_will_do: !best,
    };
    let proved_at_once = groups.is_some() && most_holes <= answer.lower_bound;
    if !proved_at_once {
        if groups.is_some() {
            wanted.most_holes = most_holes.saturating_sub(1);
        }
        let mut outcome = Outcome::default();
        let searched = branch::choose(&priced, wanted, &mut outcome, meter);
        answer.nodes += outcome.nodes;
        if outcome.best.is_some() {
            *groups = outcome.best;
        }
        searched?;
    }
    let Some(found) = groups.as_ref() else {
        answer.proof = Proof::Exhausted;
        return Ok(());
    };
    wanted.most_holes = holes_of(problem, found);
    if wanted.most_holes > answer.lower_bound {
        answer.lower_bound = wanted.most_holes;
        answer.proof = Proof::Exhausted;
    }
    if best {
        widen_margin(problem, tolerances, &priced, wanted, groups, answer, meter)?;
    }
    Ok(())
}

/// Among the allocations with as few holes, looks for one with the largest
/// margin: a margin asked for is a radius that each ring needs.
fn widen_margin(
    problem: &Problem,
    tolerances: &[f64],
    priced: &[Priced],
    wanted: Wanted,
    groups: &mut Option<Vec<u64>>,
    answer: &mut Allocation,
    meter: &mut Meter<'_>,
) -> Result<()> {
    let margin_of = |groups: &[u64]| {
        placement::place(problem, tolerances, groups)
            .map_or(0.0, |placed| placement::margin_mm(tolerances, &placed))
    };
    let Some(mut margin) = groups.as_deref().map(margin_of) else {
        return Ok(());
    };
    let mut marks: Vec<f64> = Vec::new();
    let radii = problem.slots.free_mm.iter().chain(&problem.slots.pinned_mm);
    for radius_mm in radii {
        for &tolerance in tolerances.iter().filter(|t| t.is_finite()) {
            marks.push(radius_mm * tolerance);
        }
    }
    marks.sort_by(f64::total_cmp);
    marks.dedup();
    let gap = candidates::scaled(wanted.most_holes) - wanted.bound;
    let near: Vec<Priced> = priced.iter().filter(|p| p.excess <= gap).copied().collect();
    let above = |margin: f64, marks: &[f64]| {
        marks.partition_point(|&mark| mark <= margin * (1.0 + 1.0e-12))
    };
    let (mut low, mut high) = (above(margin, &marks), marks.len());
    while low < high {
        let middle = low + (high - low) / 2;
        let asked = marks[middle];
        let raised: Vec<Priced> = near
            .iter()
            .filter_map(|p| raise(problem, tolerances, p, asked))
            .collect();
        meter.spend(near.len() as u64 / 16)?;
        let mut outcome = Outcome::default();
        let wanted = Wanted {
            first_will_do: true,
            ..wanted
        };
        let searched = branch::choose(&raised, wanted, &mut outcome, meter);
        answer.nodes += outcome.nodes;
        searched?;
        match outcome.best {
            Some(better) => {
                margin = margin_of(&better).max(margin);
                *groups = Some(better);
                low = above(margin, &marks).max(middle + 1);
            }
            None => high = middle,
        }
    }
    Ok(())
}

/// The same ring, its level raised to where it has the margin asked for.
fn raise(problem: &Problem, tolerances: &[f64], priced: &Priced, asked_mm: f64) -> Option<Priced> {
    let group = priced.ring.group;
    let tolerance = placement::tolerance_rad(tolerances, group);
    // The mark was computed as a product; its quotient may be off by a bit.
    let radius_mm = asked_mm / tolerance * (1.0 - 1.0e-12);
    let pinned = bits(group).find_map(|i| problem.items[i].pinned);
    let level: Level = problem.level(pinned, problem.need_mm(group).max(radius_mm))?;
    let mut raised = *priced;
    raised.ring.level = level;
    Some(raised)
}

#[cfg(test)]
mod tests;
