//! A table of every ratio that a gear set can make, for many quick questions.

use num_integer::Integer;

use super::gear_set::GearSet;
use super::ratio::GearRatio;
use super::search::TrainSearch;
use super::train::{MeshRule, Train};
use crate::error::Result;
use crate::work::Meter;

/// Every ratio that a gear set can make, each with its best train.
///
/// For small sets asked very often, such as the change gears of a dividing head
/// against thousands of numbers of divisions. The table of a set of twelve gears
/// holds some thousand ratios; it grows with the fourth power of the number of
/// gears at two pairs and the sixth at three, so for large sets ask a
/// [`TrainSearch`] instead.
///
/// ```
/// use dividing_core::gearing::{GearSet, MeshRule, RatioIndex};
/// use dividing_core::work::Meter;
/// let set = GearSet::new(&[24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100])?;
/// let index = RatioIndex::build(&set, 2, MeshRule::RatiosAlone, &mut Meter::default())?;
/// assert!(index.contains(30, 14));
/// assert!(!index.contains(13, 7));
/// let train = index.train(9, 7).map(|train| train.to_string());
/// assert_eq!(train.as_deref(), Some("72/56"));
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Debug)]
pub struct RatioIndex {
    entries: Vec<Entry>,
    table: Table,
    complete: bool,
}

/// One ratio in lowest terms with its best train.
#[derive(Clone, Copy, Debug)]
struct Entry {
    numerator: u32,
    denominator: u32,
    train: Train,
}

impl RatioIndex {
    /// Lists every ratio of trains of at most `max_pairs` pairs (1 to 3). Of the
    /// trains of one ratio the first in the order of
    /// [`ExactTrains`](super::ExactTrains) is kept. A step of work for each
    /// pairing of a driver side with a driven side; when the budget runs out the
    /// table is marked incomplete.
    ///
    /// # Errors
    /// As [`TrainSearch::new`].
    pub fn build(
        set: &GearSet,
        max_pairs: usize,
        mesh: MeshRule,
        meter: &mut Meter<'_>,
    ) -> Result<Self> {
        let search = TrainSearch::new(set, max_pairs, mesh, meter)?;
        let mut index = Self {
            entries: Vec::new(),
            table: Table::new(),
            complete: search.complete(),
        };
        if index.fill(&search, meter).is_err() {
            index.complete = false;
        }
        index.entries.sort_unstable_by(|a, b| {
            // Terms are below 2³⁰.
            let left = u64::from(a.numerator) * u64::from(b.denominator);
            left.cmp(&(u64::from(b.numerator) * u64::from(a.denominator)))
        });
        index.table.rebuild(&index.entries);
        Ok(index)
    }

    fn fill(&mut self, search: &TrainSearch, meter: &mut Meter<'_>) -> Result<()> {
        let set = search.set();
        for level in search.levels() {
            let gears_of = |side| level.gears(side, set);
            for &driven in level.sides() {
                meter.spend(level.sides().len() as u64)?;
                for &drivers in level.sides() {
                    if !level.compatible(drivers, driven, set) {
                        continue;
                    }
                    let common = drivers.product().gcd(&driven.product()).max(1);
                    // Products of three gears are at most 10⁹.
                    let (Ok(numerator), Ok(denominator)) = (
                        u32::try_from(drivers.product() / common),
                        u32::try_from(driven.product() / common),
                    ) else {
                        continue;
                    };
                    let known = self.table.find(&self.entries, numerator, denominator);
                    if known
                        .is_some_and(|place| self.entries[place].train.pairs() < level.members())
                    {
                        continue;
                    }
                    let train = Train::in_best_order(
                        &gears_of(drivers)[..level.members()],
                        &gears_of(driven)[..level.members()],
                    );
                    if !search.mesh().admits(train.mesh_margin_teeth()) {
                        continue;
                    }
                    match known {
                        Some(place) => {
                            let kept = &mut self.entries[place].train;
                            if train.listing_key() < kept.listing_key() {
                                *kept = train;
                            }
                        }
                        None => {
                            self.entries.push(Entry {
                                numerator,
                                denominator,
                                train,
                            });
                            self.table.add_last(&self.entries);
                        }
                    }
                }
            }
        }
        Ok(())
    }

    /// Whether the ratio can be made; the terms need not be in lowest terms.
    #[must_use]
    pub fn contains(&self, numerator: u64, denominator: u64) -> bool {
        self.train(numerator, denominator).is_some()
    }

    /// The best train of a ratio; the terms need not be in lowest terms. None
    /// for a ratio that cannot be made, and for terms of zero.
    #[must_use]
    pub fn train(&self, numerator: u64, denominator: u64) -> Option<&Train> {
        let common = numerator.gcd(&denominator).max(1);
        let place = self.table.find(
            &self.entries,
            u32::try_from(numerator / common).ok()?,
            u32::try_from(denominator / common).ok()?,
        )?;
        self.entries.get(place).map(|entry| &entry.train)
    }

    /// Every ratio that is a whole number of `denominator`-ths, ascending, as
    /// that number with the best train. For a plate with a circle of
    /// `denominator` holes these are all the plate motions that the gears can
    /// make, so that thousands of divisions need no further search.
    ///
    /// ```
    /// use dividing_core::gearing::{GearSet, MeshRule, RatioIndex};
    /// use dividing_core::work::Meter;
    /// let set = GearSet::new(&[24, 28, 32])?;
    /// let index = RatioIndex::build(&set, 1, MeshRule::RatiosAlone, &mut Meter::default())?;
    /// let sevenths: Vec<u64> = index.multiples_of(7).map(|(count, _)| count).collect();
    /// // 24/28 and 32/28.
    /// assert_eq!(sevenths, [6, 8]);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn multiples_of(&self, denominator: u32) -> impl Iterator<Item = (u64, &Train)> {
        self.entries
            .iter()
            .filter(move |entry| denominator != 0 && denominator.is_multiple_of(entry.denominator))
            .map(move |entry| {
                let times = denominator / entry.denominator;
                (u64::from(entry.numerator) * u64::from(times), &entry.train)
            })
    }

    /// Every ratio with its best train, ascending.
    pub fn iter(&self) -> impl Iterator<Item = (GearRatio, &Train)> {
        self.entries
            .iter()
            .map(|entry| (entry.train.ratio(), &entry.train))
    }

    /// Every ratio as its lowest terms with its best train, ascending.
    pub(crate) fn terms(&self) -> impl Iterator<Item = ((u32, u32), &Train)> {
        self.entries
            .iter()
            .map(|entry| ((entry.numerator, entry.denominator), &entry.train))
    }

    /// How many different ratios there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.entries.len()
    }

    /// Whether there is none, as with a single gear.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// Whether the budget held the whole table.
    #[must_use]
    pub const fn complete(&self) -> bool {
        self.complete
    }
}

/// An open hash table from a ratio to its place in a list of entries.
#[derive(Clone, Debug)]
struct Table {
    /// Place plus one; 0 where the slot is free. The length is a power of two.
    slots: Vec<u32>,
}

impl Table {
    fn new() -> Self {
        Self {
            slots: vec![0; 4096],
        }
    }

    /// Slots to try for a ratio, in order; at least half of all are free.
    fn probes(&self, numerator: u32, denominator: u32) -> impl Iterator<Item = usize> + use<> {
        // Multiplicative hashing by the golden ratio (Knuth, The Art of Computer
        // Programming, vol. 3, 6.4).
        const GOLDEN: u64 = 0x9E37_79B9_7F4A_7C15;
        let mask = self.slots.len() - 1;
        let key = u64::from(numerator) << 32 | u64::from(denominator);
        let hash = key.wrapping_mul(GOLDEN) >> 32;
        let first = usize::try_from(hash).unwrap_or(0);
        (0..=mask).map(move |step| (first + step) & mask)
    }

    fn find(&self, entries: &[Entry], numerator: u32, denominator: u32) -> Option<usize> {
        for slot in self.probes(numerator, denominator) {
            let place = (self.slots[slot] as usize).checked_sub(1)?;
            let entry = &entries[place];
            if entry.numerator == numerator && entry.denominator == denominator {
                return Some(place);
            }
        }
        None
    }

    /// Adds the last of the entries, which is not in the table yet.
    fn add_last(&mut self, entries: &[Entry]) {
        if entries.len() * 2 > self.slots.len() {
            self.slots = vec![0; self.slots.len() * 2];
            self.rebuild(entries);
        } else {
            self.put(entries, entries.len().saturating_sub(1));
        }
    }

    fn rebuild(&mut self, entries: &[Entry]) {
        self.slots.fill(0);
        for place in 0..entries.len() {
            self.put(entries, place);
        }
    }

    fn put(&mut self, entries: &[Entry], place: usize) {
        let (Some(entry), Ok(stored)) = (entries.get(place), u32::try_from(place + 1)) else {
            return;
        };
        let free = self
            .probes(entry.numerator, entry.denominator)
            .find(|&slot| self.slots[slot] == 0);
        if let Some(slot) = free {
            self.slots[slot] = stored;
        }
    }
}
