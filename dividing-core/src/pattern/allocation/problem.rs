//! The question in numbers: which items share which holes, and which slots
//! for rings there are.

use std::collections::BTreeMap;

use crate::pattern::numbers::{
    as_f64, divisors, gap_between_divisions, gap_between_points, gap_to_division, totient,
};

/// Most items (after those contained in others are taken out) of one search.
pub(crate) const MAX_ITEMS: usize = 64;

/// Slack when a needed radius is compared with one at hand, in millimetres.
pub(crate) const RADIUS_SLACK_MM: f64 = 1.0e-9;

/// One set of holes that must stand together on one ring, the zero hole included.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Item {
    /// Whole divisions: every k/N.
    pub(crate) divisions: Vec<u64>,
    /// Single holes p/q in lowest terms, 0 < p < q.
    pub(crate) points: Vec<(i128, i128)>,
    /// Tightest tolerance of what it serves, in radians.
    pub(crate) tolerance_rad: Option<f64>,
    /// The pinned slot it must take, as an index into [`Slots::pinned_mm`].
    pub(crate) pinned: Option<usize>,
}

impl Item {
    /// Smallest angle between two different holes of two items, in turns.
    fn gap(&self, other: &Self) -> f64 {
        let mut gap = 1.0_f64;
        for &n in &self.divisions {
            for &m in &other.divisions {
                gap = gap.min(gap_between_divisions(n, m));
            }
        }
        for (one, two) in [(self, other), (other, self)] {
            for &(p, q) in &one.points {
                gap = gap.min(gap_between_points((p, q), (0, 1)));
                for &n in &two.divisions {
                    gap = gap.min(gap_to_division(p, q, n));
                }
                for &point in &two.points {
                    gap = gap.min(gap_between_points((p, q), point));
                }
            }
        }
        gap
    }

    /// Whether the hole p/q belongs to the item.
    fn holds(&self, p: i128, q: i128) -> bool {
        self.divisions.iter().any(|&n| i128::from(n) % q == 0) || self.points.contains(&(p, q))
    }

    /// Whether every hole of `other` belongs to this item.
    pub(crate) fn contains(&self, other: &Self) -> bool {
        other
            .divisions
            .iter()
            .all(|&n| self.divisions.iter().any(|m| m.is_multiple_of(n)))
            && other.points.iter().all(|&(p, q)| self.holds(p, q))
    }
}

/// Smallest pitch radius at which holes `gap_turns` apart keep a centre
/// distance of `spacing_mm`: spacing / (2 sin(π·gap)).
pub(crate) fn needed_radius_mm(spacing_mm: f64, gap_turns: f64) -> f64 {
    if gap_turns >= 0.5 {
        // One hole, or two opposite ones.
        return if gap_turns >= 1.0 {
            0.0
        } else {
            spacing_mm / 2.0
        };
    }
    spacing_mm / (2.0 * (std::f64::consts::PI * gap_turns).sin())
}

/// Where rings can stand.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Slots {
    /// Pitch radii open to any ring, descending.
    pub(crate) free_mm: Vec<f64>,
    /// Pitch radii that belong to the pinned items of that index.
    pub(crate) pinned_mm: Vec<f64>,
}

/// A group of atoms that exactly the items of `mask` contain.
#[derive(Clone, Copy, Debug)]
pub(crate) struct HoleClass {
    pub(crate) mask: u64,
    pub(crate) holes: u64,
}

/// Items, what they share, and what each pair needs.
#[derive(Clone, Debug)]
pub(crate) struct Problem {
    pub(crate) items: Vec<Item>,
    pub(crate) slots: Slots,
    pub(crate) classes: Vec<HoleClass>,
    /// Needed radius of each pair on one ring, row-major; the diagonal is the item alone.
    need_mm: Vec<f64>,
    /// Items that may stand on one ring with each item.
    pub(crate) partners: Vec<u64>,
}

impl Problem {
    /// Sets up the question. `items` holds at most [`MAX_ITEMS`] entries, none
    /// contained in another.
    pub(crate) fn new(items: Vec<Item>, slots: Slots, spacing_mm: f64) -> Self {
        let n = items.len();
        let mut need_mm = vec![0.0; n * n];
        for i in 0..n {
            for j in i..n {
                let need = needed_radius_mm(spacing_mm, items[i].gap(&items[j]));
                need_mm[i * n + j] = need;
                need_mm[j * n + i] = need;
            }
        }
        let classes = hole_classes(&items);
        let mut problem = Self {
            items,
            slots,
            classes,
            need_mm,
            partners: vec![0; n],
        };
        for i in 0..n {
            for j in 0..n {
                if i != j && problem.group_level((1 << i) | (1 << j)).is_some() {
                    problem.partners[i] |= 1 << j;
                }
            }
        }
        problem
    }

    pub(crate) fn len(&self) -> usize {
        self.items.len()
    }

    /// All items.
    pub(crate) fn everything(&self) -> u64 {
        match self.len() {
            0 => 0,
            n => u64::MAX >> (64 - n),
        }
    }

    /// Holes of a ring that carries the items of `group`.
    pub(crate) fn holes(&self, group: u64) -> u64 {
        self.classes
            .iter()
            .filter(|class| class.mask & group != 0)
            .map(|class| class.holes)
            .sum()
    }

    /// Pitch radius that the ring of `group` needs, in millimetres.
    pub(crate) fn need_mm(&self, group: u64) -> f64 {
        let n = self.len();
        let mut need = 0.0_f64;
        for i in bits(group) {
            for j in bits(group & (u64::MAX << i)) {
                need = need.max(self.need_mm[i * n + j]);
            }
        }
        need
    }

    /// The same need of one pair, or of one item when both are the same.
    pub(crate) fn pair_need_mm(&self, i: usize, j: usize) -> f64 {
        self.need_mm[i * self.len() + j]
    }

    /// Where a group can stand.
    pub(crate) fn group_level(&self, group: u64) -> Option<Level> {
        let mut pinned = None;
        for i in bits(group) {
            match (pinned, self.items[i].pinned) {
                (Some(a), Some(b)) if a != b => return None,
                (None, found) => pinned = found,
                _ => {}
            }
        }
        self.level(pinned, self.need_mm(group))
    }

    /// Where a ring that needs `need_mm` can stand.
    pub(crate) fn level(&self, pinned: Option<usize>, need_mm: f64) -> Option<Level> {
        let fits = |radius_mm: f64| radius_mm + RADIUS_SLACK_MM >= need_mm;
        if let Some(pin) = pinned {
            let radius_mm = *self.slots.pinned_mm.get(pin)?;
            return fits(radius_mm).then_some(Level::Pinned);
        }
        let count = self.slots.free_mm.partition_point(|&r| fits(r));
        count.checked_sub(1).map(Level::Free)
    }
}

/// How far in a ring can stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Level {
    /// On any free slot up to this index, counted from the outside.
    Free(usize),
    /// On its own pinned slot.
    Pinned,
}

/// Groups the holes by the set of items that contain them.
fn hole_classes(items: &[Item]) -> Vec<HoleClass> {
    let mut single: BTreeMap<(i128, i128), u64> = BTreeMap::new();
    let mut whole: BTreeMap<u64, u64> = BTreeMap::new();
    let mut zero_hole = 0_u64;
    for (i, item) in items.iter().enumerate() {
        zero_hole |= 1 << i;
        for &n in &item.divisions {
            for d in divisors(n) {
                *whole.entry(d).or_default() |= 1 << i;
            }
        }
        for &point in &item.points {
            single.insert(point, 0);
        }
    }
    for (&(p, q), mask) in &mut single {
        for (i, item) in items.iter().enumerate() {
            if item.holds(p, q) {
                *mask |= 1 << i;
            }
        }
    }
    whole.remove(&1);
    let mut classes: BTreeMap<u64, u64> = BTreeMap::new();
    if zero_hole != 0 {
        classes.insert(zero_hole, 1);
    }
    for &mask in single.values() {
        *classes.entry(mask).or_default() += 1;
    }
    for (&d, &mask) in &whole {
        let apart = single.keys().filter(|&&(_, q)| q == i128::from(d)).count() as u64;
        *classes.entry(mask).or_default() += totient(d) - apart;
    }
    classes
        .into_iter()
        .filter(|&(_, holes)| holes > 0)
        .map(|(mask, holes)| HoleClass { mask, holes })
        .collect()
}

/// Positions of the ones of a mask, ascending.
pub(crate) fn bits(mut mask: u64) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        if mask == 0 {
            return None;
        }
        let next = mask.trailing_zeros() as usize;
        mask &= mask - 1;
        Some(next)
    })
}

/// A rough count of all partitions of `n` items: the Bell number, by the Bell
/// triangle (D. E. Knuth, *The Art of Computer Programming*, 7.2.1.5).
pub(crate) fn partitions(n: usize) -> f64 {
    let mut row = vec![1.0_f64];
    for _ in 1..n.max(1) {
        let mut next = vec![row.last().copied().unwrap_or(1.0)];
        for &above in &row {
            let left = next.last().copied().unwrap_or(1.0);
            next.push(left + above);
        }
        row = next;
    }
    if n == 0 {
        as_f64(1)
    } else {
        row.last().copied().unwrap_or(1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pattern::numbers::holes_in_phase;

    fn item(n: u64) -> Item {
        Item {
            divisions: vec![n],
            ..Item::default()
        }
    }

    #[test]
    fn holes_of_groups_are_totient_sums() {
        let list = [5_u64, 6, 7, 8, 9, 12];
        let slots = Slots {
            free_mm: vec![44.0],
            pinned_mm: vec![],
        };
        let problem = Problem::new(list.map(item).to_vec(), slots, 8.0);
        for group in 1..64_u64 {
            let members: Vec<u64> = bits(group).map(|i| list[i]).collect();
            assert_eq!(problem.holes(group), holes_in_phase(&members));
        }
    }

    #[test]
    fn single_holes_are_counted_once() {
        let with_points = Item {
            points: vec![(1, 12), (1, 5)],
            ..Item::default()
        };
        let problem = Problem::new(vec![item(12), item(10), with_points], Slots::default(), 1.0);
        assert_eq!(problem.holes(0b100), 3);
        assert_eq!(problem.holes(0b101), 13); // 1/5 is new, 1/12 is not
        assert_eq!(problem.holes(0b110), 11);
        assert_eq!(problem.holes(0b111), holes_in_phase(&[12, 10]));
    }

    /// OEIS A000110 (from memory; checked by the recurrence of the triangle).
    #[test]
    fn bell_numbers() {
        let first: Vec<f64> = (0..9).map(partitions).collect();
        assert_eq!(
            first,
            [1.0, 1.0, 2.0, 5.0, 15.0, 52.0, 203.0, 877.0, 4140.0]
        );
    }

    #[test]
    fn needed_radius_follows_the_chord() {
        // Chord of 12 on a unit circle 0.2588 (table of chordal factors,
        // "Spacing Table", shopswarf.orcon.net.nz/spacing.html, 4 decimals).
        let radius = needed_radius_mm(0.2588, 1.0 / 12.0);
        assert!((radius - 0.5).abs() < 1e-4);
    }
}
