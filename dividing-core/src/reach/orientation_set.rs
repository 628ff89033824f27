//! What equipment can hold, as exact sets: finite unions of cosets of cyclic
//! subgroups of the turn.

use std::collections::{BTreeMap, BTreeSet};

use num_integer::Integer;

use crate::angle::Angle;
use crate::error::{Error, Result};
use crate::work::Meter;

/// The equally spaced orientations `offset + k/order` of a turn, k = 0, 1, …
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Coset {
    order: i128,
    offset: Angle,
}

impl Coset {
    /// The coset of `<1/order>` through `through`.
    ///
    /// # Errors
    /// Out of range for an order below 1, overflow when an angle does not fit.
    pub fn new(through: Angle, order: i128) -> Result<Self> {
        if order < 1 {
            return Err(Error::out_of_range(order, "an order of 1 or more").at("order"));
        }
        Ok(Self {
            order,
            offset: remainder(through, order)?,
        })
    }

    /// How many orientations it holds.
    #[must_use]
    pub const fn order(self) -> i128 {
        self.order
    }

    /// Its first orientation, from 0 up to but not including 1/order.
    #[must_use]
    pub const fn offset(self) -> Angle {
        self.offset
    }
}

/// The angle modulo 1/order, from 0 up to but not including 1/order.
fn remainder(angle: Angle, order: i128) -> Result<Angle> {
    angle.checked_mul(order)?.within_turn().checked_div(order)
}

/// A finite set of orientations, kept as a union of cosets.
///
/// ```
/// use dividing_core::Angle;
/// use dividing_core::reach::OrientationSet;
/// // A square block flat, and the same block in a V-block that adds 45°.
/// let flat = OrientationSet::equally_spaced(4)?;
/// let vee = flat.shifted(Angle::new(1, 8)?)?;
/// let both = flat.union(&vee);
/// assert!(both.contains(Angle::new(3, 8)?)?);
/// assert_eq!(both.count(), 8);
/// # Ok::<(), dividing_core::Error>(())
/// ```
///
/// `==` compares how two sets are written; [`OrientationSet::holds_the_same`]
/// compares what they hold.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct OrientationSet {
    /// Order of the subgroup, and the offsets of its cosets. No coset lies in
    /// another.
    cosets: BTreeMap<i128, BTreeSet<Angle>>,
}

impl OrientationSet {
    /// The set `<1/order>`: `order` orientations from 0.
    ///
    /// # Errors
    /// Out of range for an order below 1.
    pub fn equally_spaced(order: i128) -> Result<Self> {
        Self::from_cosets([Coset::new(Angle::ZERO, order)?])
    }

    /// The union of some cosets.
    ///
    /// # Errors
    /// Overflow when an angle does not fit.
    pub fn from_cosets(cosets: impl IntoIterator<Item = Coset>) -> Result<Self> {
        let mut all: BTreeMap<i128, BTreeSet<Angle>> = BTreeMap::new();
        for coset in cosets {
            all.entry(coset.order).or_default().insert(coset.offset);
        }
        let mut kept: BTreeMap<i128, BTreeSet<Angle>> = BTreeMap::new();
        for (&order, offsets) in &all {
            // A coset is superfluous when a larger one of a multiple of its
            // order passes through its offset.
            let larger: Vec<_> = all
                .range(order + 1..)
                .filter(|(larger, _)| *larger % order == 0)
                .collect();
            for &offset in offsets {
                let mut covered = false;
                for (larger, their_offsets) in &larger {
                    covered |= their_offsets.contains(&remainder(offset, **larger)?);
                }
                if !covered {
                    kept.entry(order).or_default().insert(offset);
                }
            }
        }
        Ok(Self { cosets: kept })
    }

    /// The cosets, by growing order and offset.
    pub fn cosets(&self) -> impl Iterator<Item = Coset> + '_ {
        self.cosets.iter().flat_map(|(&order, offsets)| {
            offsets.iter().map(move |&offset| Coset { order, offset })
        })
    }

    /// The cosets as offsets by order.
    pub(super) fn by_order(&self) -> impl Iterator<Item = (i128, &BTreeSet<Angle>)> {
        self.cosets.iter().map(|(&order, offsets)| (order, offsets))
    }

    /// Whether it holds nothing.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.cosets.is_empty()
    }

    /// How many orientations its cosets hold; one held by two cosets of
    /// different order counts twice.
    #[must_use]
    pub fn count(&self) -> i128 {
        self.cosets()
            .fold(0_i128, |sum, coset| sum.saturating_add(coset.order))
    }

    /// Whether the set holds an orientation.
    ///
    /// # Errors
    /// Overflow when an angle does not fit.
    pub fn contains(&self, orientation: Angle) -> Result<bool> {
        for (&order, offsets) in &self.cosets {
            if offsets.contains(&remainder(orientation, order)?) {
                return Ok(true);
            }
        }
        Ok(false)
    }

    /// Everything that one set or the other holds.
    #[must_use]
    pub fn union(&self, other: &Self) -> Self {
        // Removing what lies in another needs no new angles, so the only
        // error, an overflow, cannot come up that had not come up before; if
        // it did, keeping both cosets is still the right set.
        let all: Vec<Coset> = self.cosets().chain(other.cosets()).collect();
        Self::from_cosets(all.iter().copied()).unwrap_or_else(|_| {
            let mut cosets: BTreeMap<i128, BTreeSet<Angle>> = BTreeMap::new();
            for coset in all {
                cosets.entry(coset.order).or_default().insert(coset.offset);
            }
            Self { cosets }
        })
    }

    /// Every sum of an orientation of one set and one of the other: one device
    /// held on another.
    ///
    /// `(a + <1/n>) + (b + <1/m>) = a + b + <1/lcm(n, m)>`.
    ///
    /// # Errors
    /// Overflow when an angle does not fit; the work limit.
    ///
    /// ```
    /// use dividing_core::reach::OrientationSet;
    /// use dividing_core::work::Meter;
    /// let block = OrientationSet::equally_spaced(4)?;
    /// let plate = OrientationSet::equally_spaced(6)?;
    /// let stack = block.sum(&plate, &mut Meter::default())?;
    /// assert_eq!(stack, OrientationSet::equally_spaced(12)?);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn sum(&self, other: &Self, meter: &mut Meter<'_>) -> Result<Self> {
        let mut cosets = BTreeSet::new();
        for mine in self.cosets() {
            for theirs in other.cosets() {
                meter.spend(1)?;
                let common = mine.order.gcd(&theirs.order);
                let order = (mine.order / common)
                    .checked_mul(theirs.order)
                    .ok_or_else(|| Error::overflow("the sum of two sets of orientations"))?;
                cosets.insert(Coset::new(mine.offset.checked_add(theirs.offset)?, order)?);
            }
        }
        Self::from_cosets(cosets)
    }

    /// The same set turned by an angle.
    ///
    /// # Errors
    /// Overflow when an angle does not fit.
    pub fn shifted(&self, by: Angle) -> Result<Self> {
        let cosets: Result<Vec<Coset>> = self
            .cosets()
            .map(|coset| Coset::new(coset.offset.checked_add(by)?, coset.order))
            .collect();
        Self::from_cosets(cosets?)
    }

    /// The largest M such that turning by 1/M leaves the set as it is, as far
    /// as its cosets show: the greatest common divisor of their orders.
    #[must_use]
    pub fn common_order(&self) -> i128 {
        self.cosets
            .keys()
            .fold(0_i128, |common, order| common.gcd(order))
            .max(1)
    }

    /// The orientations from 0 up to but not including `1/common_order`, in
    /// growing angle; the rest of the set repeats them.
    ///
    /// # Errors
    /// Overflow when an angle does not fit; the work limit.
    pub fn fundamental(&self, meter: &mut Meter<'_>) -> Result<Vec<Angle>> {
        let common = self.common_order();
        let mut all = BTreeSet::new();
        for coset in self.cosets() {
            let copies = coset.order / common;
            meter.spend(u64::try_from(copies).unwrap_or(u64::MAX))?;
            for copy in 0..copies {
                let step = Angle::new(copy, coset.order)?;
                all.insert(remainder(coset.offset.checked_add(step)?, common)?);
            }
        }
        Ok(all.into_iter().collect())
    }

    /// The set as one coset, if its orientations are equally spaced.
    ///
    /// # Errors
    /// Overflow when an angle does not fit; the work limit.
    ///
    /// ```
    /// use dividing_core::Angle;
    /// use dividing_core::reach::OrientationSet;
    /// use dividing_core::work::Meter;
    /// let flat = OrientationSet::equally_spaced(4)?;
    /// let both = flat.union(&flat.shifted(Angle::new(1, 8)?)?);
    /// let one = both.as_one_coset(&mut Meter::default())?;
    /// assert_eq!(one.map(|coset| coset.order()), Some(8));
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn as_one_coset(&self, meter: &mut Meter<'_>) -> Result<Option<Coset>> {
        let part = self.fundamental(meter)?;
        let Some(&first) = part.first() else {
            return Ok(None);
        };
        let count = i128::try_from(part.len()).map_err(Error::internal)?;
        let order = self
            .common_order()
            .checked_mul(count)
            .ok_or_else(|| Error::overflow("the order of a set of orientations"))?;
        let one = Coset::new(first, order)?;
        for element in part {
            if remainder(element, order)? != one.offset {
                return Ok(None);
            }
        }
        Ok(Some(one))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn angle(n: i128, d: i128) -> Angle {
        Angle::new(n, d).unwrap()
    }

    #[test]
    fn a_coset_inside_another_is_dropped() {
        let fine = OrientationSet::equally_spaced(12).unwrap();
        let coarse = OrientationSet::equally_spaced(4).unwrap();
        assert_eq!(fine.union(&coarse), fine);
        let beside = coarse.shifted(angle(1, 24)).unwrap();
        assert_eq!(fine.union(&beside).count(), 16);
    }

    #[test]
    fn membership_follows_the_cosets() {
        let set = OrientationSet::from_cosets([
            Coset::new(angle(1, 10), 5).unwrap(),
            Coset::new(angle(-1, 7), 1).unwrap(),
        ])
        .unwrap();
        assert!(set.contains(angle(3, 10)).unwrap());
        assert!(set.contains(angle(6, 7)).unwrap());
        assert!(!set.contains(angle(1, 5)).unwrap());
        assert!(!set.contains(angle(1, 7)).unwrap());
    }

    #[test]
    fn the_fundamental_part_repeats_to_the_whole() {
        // 6 and 4 equally spaced: common order 2, so what lies in half a turn.
        let set = OrientationSet::equally_spaced(6)
            .unwrap()
            .union(&OrientationSet::equally_spaced(4).unwrap());
        assert_eq!(set.common_order(), 2);
        let part = set.fundamental(&mut Meter::default()).unwrap();
        assert_eq!(part, [angle(0, 1), angle(1, 6), angle(1, 4), angle(1, 3)]);
    }
}
