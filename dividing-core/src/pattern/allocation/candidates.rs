//! The rings that can take part in a best allocation.
//!
//! Each hole class is paid for by the items that contain it. An item's share
//! of a class is the class's holes over the most items that can stand on one
//! ring with it and contain the class, so the shares of a ring's items never
//! exceed its holes: they are a feasible solution of the dual of the set
//! partition, and their sum is a lower bound. A ring whose holes exceed its
//! shares by more than the gap between a known allocation and that bound
//! cannot belong to a better one (reduced-cost fixing; L. A. Wolsey, *Integer
//! Programming*, 7.5) and is not listed.

use super::problem::{Level, Problem, bits};
use crate::error::{Error, ErrorKind, Result};
use crate::work::Meter;

/// Fixed-point steps of one hole in bounds.
pub(crate) const SCALE: i64 = 1 << 24;

/// Most rings listed; beyond it the search counts as over its budget.
const MAX_LISTED: usize = 500_000;

/// A ring that could be drilled.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Candidate {
    pub(crate) group: u64,
    pub(crate) holes: u64,
    pub(crate) level: Level,
}

/// The shares of the items and their sum.
pub(crate) struct Shares {
    /// For each class, the share of each item (0 where it does not contain it).
    by_class: Vec<Vec<i64>>,
    /// Lower bound of all holes, in steps of 1/[`SCALE`] hole.
    pub(crate) sum: i64,
}

impl Shares {
    pub(crate) fn new(problem: &Problem) -> Self {
        let mut sum = 0_i64;
        let by_class = problem
            .classes
            .iter()
            .map(|class| {
                let mut shares = vec![0; problem.len()];
                for i in bits(class.mask) {
                    let most = 1 + colours(problem, class.mask & problem.partners[i]);
                    shares[i] = scaled(class.holes) / most;
                    sum += shares[i];
                }
                shares
            })
            .collect();
        Self { by_class, sum }
    }

    /// Least amount by which the holes of any ring that holds `group` and
    /// otherwise only items of `open` exceed the shares of its items.
    fn least_excess(&self, problem: &Problem, group: u64, open: u64) -> i64 {
        let mut excess = 0;
        for (class, shares) in problem.classes.iter().zip(&self.by_class) {
            if class.mask & group != 0 {
                let paid: i64 = bits(class.mask & (group | open)).map(|i| shares[i]).sum();
                excess += (scaled(class.holes) - paid).max(0);
            }
        }
        excess
    }
}

/// Whole holes in steps of 1/[`SCALE`]; holes stay far below 2^38.
pub(crate) fn scaled(holes: u64) -> i64 {
    i64::try_from(holes)
        .unwrap_or(i64::MAX / SCALE)
        .saturating_mul(SCALE)
}

/// Colours that a greedy colouring of the items of `mask` needs, so that no
/// two partners share one: no group of mutual partners is larger.
fn colours(problem: &Problem, mask: u64) -> i64 {
    let mut classes: Vec<u64> = Vec::new();
    for i in bits(mask) {
        match classes
            .iter_mut()
            .find(|class| **class & problem.partners[i] == 0)
        {
            Some(class) => *class |= 1 << i,
            None => classes.push(1 << i),
        }
    }
    i64::try_from(classes.len()).unwrap_or(i64::MAX)
}

/// Lists every ring whose excess over its shares is at most `gap`.
///
/// # Errors
/// Those of the meter; what has been listed so far is then incomplete.
pub(crate) fn list(
    problem: &Problem,
    shares: &Shares,
    gap: i64,
    meter: &mut Meter<'_>,
) -> Result<Vec<Candidate>> {
    let mut lister = Lister {
        problem,
        shares,
        gap,
        found: Vec::new(),
    };
    for i in 0..problem.len() {
        let later = problem.partners[i] & !(u64::MAX >> (63 - i));
        lister.grow(1 << i, problem.pair_need_mm(i, i), later, meter)?;
    }
    Ok(lister.found)
}

struct Lister<'p> {
    problem: &'p Problem,
    shares: &'p Shares,
    gap: i64,
    found: Vec<Candidate>,
}

impl Lister<'_> {
    fn grow(&mut self, group: u64, need_mm: f64, open: u64, meter: &mut Meter<'_>) -> Result<()> {
        meter.spend(1 + self.problem.classes.len() as u64 / 8)?;
        if self.shares.least_excess(self.problem, group, open) > self.gap {
            return Ok(());
        }
        if self.shares.least_excess(self.problem, group, 0) <= self.gap {
            let pinned = bits(group).find_map(|i| self.problem.items[i].pinned);
            if let Some(level) = self.problem.level(pinned, need_mm) {
                if self.found.len() >= MAX_LISTED {
                    return Err(Error::new(
                        ErrorKind::WorkLimit,
                        format!(
                            "more than {MAX_LISTED} rings could take part; ask for fewer divisions"
                        ),
                    ));
                }
                self.found.push(Candidate {
                    group,
                    holes: self.problem.holes(group),
                    level,
                });
            }
        }
        let mut rest = open;
        while rest != 0 {
            let next = rest.trailing_zeros() as usize;
            rest &= rest - 1;
            let mut need = need_mm.max(self.problem.pair_need_mm(next, next));
            for i in bits(group) {
                need = need.max(self.problem.pair_need_mm(i, next));
            }
            // A pinned item may need more room than its own slot has once a
            // third joins; such a group is no ring, nor is any that holds it.
            let pinned = bits(group | (1 << next)).find_map(|i| self.problem.items[i].pinned);
            if self.problem.level(pinned, need).is_some() {
                self.grow(
                    group | (1 << next),
                    need,
                    rest & self.problem.partners[next],
                    meter,
                )?;
            }
        }
        Ok(())
    }
}
