//! Exact choice among the listed rings: depth-first, cheapest first.

use super::candidates::{Candidate, SCALE, scaled};
use super::problem::{Level, bits};
use crate::error::Result;
use crate::work::Meter;

/// A ring with its excess over the bound.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Priced {
    pub(crate) ring: Candidate,
    pub(crate) excess: i64,
}

/// What a choice looked at.
#[derive(Clone, Debug, Default)]
pub(crate) struct Outcome {
    /// The groups of the best choice; `None` when none stays within the gap.
    pub(crate) best: Option<Vec<u64>>,
    pub(crate) nodes: u64,
}

/// What is asked of a choice.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Wanted {
    /// The items to cover, each once.
    pub(crate) everything: u64,
    /// Free slots.
    pub(crate) slots: usize,
    /// Lower bound to which excesses add, in fixed-point steps.
    pub(crate) bound: i64,
    /// Most holes.
    pub(crate) most_holes: u64,
    /// Whether to stop at the first choice instead of the one with fewest holes.
    pub(crate) first_will_do: bool,
}

/// Looks for the choice of rings with the fewest holes, none above
/// `wanted.most_holes`, that covers everything once and keeps the slots.
///
/// The holes of a choice are at least the bound and the excesses of its rings;
/// they are more where charged slots stay empty.
///
/// # Errors
/// Those of the meter, after `outcome` took what was found.
pub(crate) fn choose(
    rings: &[Priced],
    wanted: Wanted,
    outcome: &mut Outcome,
    meter: &mut Meter<'_>,
) -> Result<()> {
    let gap = scaled(wanted.most_holes) - wanted.bound;
    let mut by_item: Vec<Vec<Priced>> = vec![Vec::new(); 64];
    for priced in rings.iter().filter(|priced| priced.excess <= gap) {
        for i in bits(priced.ring.group) {
            by_item[i].push(*priced);
        }
    }
    for list in &mut by_item {
        list.sort_by_key(|p| {
            (
                p.excess,
                std::cmp::Reverse(p.ring.group.count_ones()),
                p.ring.group,
            )
        });
    }
    let mut search = Search {
        by_item,
        wanted,
        gap,
        outcome,
        chosen: Vec::new(),
        used: vec![0; wanted.slots],
    };
    search.descend(wanted.everything, 0, 0, meter)
}

struct Search<'o> {
    by_item: Vec<Vec<Priced>>,
    wanted: Wanted,
    gap: i64,
    outcome: &'o mut Outcome,
    chosen: Vec<u64>,
    /// Rings that must stand on slot k or farther out.
    used: Vec<usize>,
}

impl Search<'_> {
    fn fits(&self, priced: &Priced, open: u64, spent: i64) -> bool {
        priced.ring.group & !open == 0
            && spent + priced.excess <= self.gap
            && match priced.ring.level {
                Level::Pinned => true,
                Level::Free(level) => (level..self.wanted.slots).all(|k| self.used[k] <= k),
            }
    }

    fn descend(&mut self, open: u64, spent: i64, holes: u64, meter: &mut Meter<'_>) -> Result<()> {
        self.outcome.nodes += 1;
        meter.spend(1)?;
        if open == 0 {
            // Charges of slots left empty may hide holes: count them.
            if holes <= self.wanted.most_holes {
                self.outcome.best = Some(self.chosen.clone());
                // From here on only better ones, by a whole hole at least.
                self.wanted.most_holes = holes.saturating_sub(1);
                self.gap = scaled(holes) - SCALE - self.wanted.bound;
            }
            return Ok(());
        }
        let mut fewest: Option<(usize, usize)> = None;
        for i in bits(open) {
            let mut count = 0;
            let limit = fewest.map_or(usize::MAX, |(least, _)| least);
            let mut looked = 0_u64;
            for priced in &self.by_item[i] {
                looked += 1;
                if spent + priced.excess > self.gap {
                    break;
                }
                if self.fits(priced, open, spent) {
                    count += 1;
                    if count >= limit {
                        break;
                    }
                }
            }
            meter.spend(looked / 16)?;
            if count < limit {
                fewest = Some((count, i));
                if count == 0 {
                    return Ok(());
                }
            }
        }
        let Some((_, item)) = fewest else {
            return Ok(());
        };
        let options: Vec<Priced> = self.by_item[item]
            .iter()
            .filter(|priced| self.fits(priced, open, spent))
            .copied()
            .collect();
        for priced in options {
            if spent + priced.excess > self.gap {
                break;
            }
            self.mark(&priced, true);
            self.chosen.push(priced.ring.group);
            let result = self.descend(
                open & !priced.ring.group,
                spent + priced.excess,
                holes + priced.ring.holes,
                meter,
            );
            self.chosen.pop();
            self.mark(&priced, false);
            result?;
            if self.wanted.first_will_do && self.outcome.best.is_some() {
                return Ok(());
            }
        }
        Ok(())
    }

    fn mark(&mut self, priced: &Priced, on: bool) {
        if let Level::Free(level) = priced.ring.level {
            for used in self.used.iter_mut().skip(level) {
                if on {
                    *used += 1;
                } else {
                    *used -= 1;
                }
            }
        }
    }
}
