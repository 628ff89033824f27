//! Intersection, inclusion, equality and "does it hold this pattern", decided
//! on the cosets.
//!
//! Two facts carry all of it. Cosets `a + <1/n>` and `b + <1/m>` meet exactly
//! when `b − a` lies in `<1/lcm(n, m)>`, and then in a coset of
//! `<1/gcd(n, m)>` (Chinese remainder theorem). And the starts from which a set
//! F holds a pattern `p_0, p_1, …` are the intersection of the sets `F − p_i`.

use std::collections::BTreeSet;

use num_integer::Integer;

use super::orientation_set::{Coset, OrientationSet};
use crate::angle::{Angle, MAX_TERM};
use crate::error::{Error, Result};
use crate::work::Meter;

/// An orientation of one coset and one of the other that add up to an angle,
/// the first as little beyond its offset as can be; none when there are none.
///
/// With `u = lcm/n` and `v = lcm/m`, `i/n + j/m = k/lcm` asks for
/// `i·u + j·v ≡ k (mod lcm)`, and u, v are coprime.
pub(super) fn summands(a: Coset, b: Coset, sum: Angle) -> Result<Option<(Angle, Angle)>> {
    let common = a.order().gcd(&b.order());
    let (u, v) = (b.order() / common, a.order() / common);
    let order = a
        .order()
        .checked_mul(u)
        .filter(|order| *order <= MAX_TERM)
        .ok_or_else(|| Error::overflow("two sets of orientations together"))?;
    let rest = sum
        .checked_sub(a.offset())?
        .checked_sub(b.offset())?
        .within_turn();
    if order % rest.denominator() != 0 {
        return Ok(None);
    }
    let k = rest.numerator() * (order / rest.denominator());
    // i ≡ k/u (mod v), and both factors are below v.
    let inverse = Integer::mod_floor(&u.extended_gcd(&v).x, &v);
    let i = Integer::mod_floor(&k, &v)
        .checked_mul(inverse)
        .ok_or_else(|| Error::overflow("two sets of orientations together"))?
        % v;
    let first = a.offset().checked_add(Angle::new(i, a.order())?)?;
    Ok(Some((
        first.within_turn(),
        sum.checked_sub(first)?.within_turn(),
    )))
}

/// What two cosets have in common, if anything.
fn common_part(a: Coset, b: Coset) -> Result<Option<Coset>> {
    // x in a with −x in −b, that is, the summands of zero.
    let mirrored = Coset::new(-b.offset(), b.order())?;
    match summands(a, mirrored, Angle::ZERO)? {
        Some((meeting, _)) => Coset::new(meeting, a.order().gcd(&b.order())).map(Some),
        None => Ok(None),
    }
}

impl OrientationSet {
    /// What both sets hold.
    ///
    /// # Errors
    /// Overflow when an angle does not fit; the work limit.
    ///
    /// ```
    /// use dividing_core::reach::OrientationSet;
    /// use dividing_core::work::Meter;
    /// let six = OrientationSet::equally_spaced(6)?;
    /// let four = OrientationSet::equally_spaced(4)?;
    /// let both = six.intersection(&four, &mut Meter::default())?;
    /// assert_eq!(both, OrientationSet::equally_spaced(2)?);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn intersection(&self, other: &Self, meter: &mut Meter<'_>) -> Result<Self> {
        let mut parts = BTreeSet::new();
        for mine in self.cosets() {
            for (order, offsets) in other.by_order() {
                meter.spend(1)?;
                if order % mine.order() == 0 {
                    // Wholly in one of them or apart from all.
                    if offsets.contains(&Coset::new(mine.offset(), order)?.offset()) {
                        parts.insert(mine);
                    }
                    continue;
                }
                meter.spend(u64::try_from(offsets.len()).unwrap_or(u64::MAX))?;
                for &offset in offsets {
                    parts.extend(common_part(mine, Coset::new(offset, order)?)?);
                }
            }
        }
        Self::from_cosets(parts)
    }

    /// Whether the other set holds everything that this one holds.
    ///
    /// Decided coset by coset: the parts of a coset of order n that the other
    /// set holds are classes modulo divisors of n, and only the least common
    /// multiple of those has to be looked through.
    ///
    /// # Errors
    /// Overflow when an angle does not fit; the work limit.
    pub fn is_within(&self, other: &Self, meter: &mut Meter<'_>) -> Result<bool> {
        for mine in self.cosets() {
            if !other.covers(mine, meter)? {
                return Ok(false);
            }
        }
        Ok(true)
    }

    /// Whether both sets hold the same orientations, however they are written.
    ///
    /// # Errors
    /// As [`OrientationSet::is_within`].
    ///
    /// ```
    /// use dividing_core::Angle;
    /// use dividing_core::reach::OrientationSet;
    /// use dividing_core::work::Meter;
    /// let flat = OrientationSet::equally_spaced(4)?;
    /// let both = flat.union(&flat.shifted(Angle::new(1, 8)?)?);
    /// let eight = OrientationSet::equally_spaced(8)?;
    /// assert!(both.holds_the_same(&eight, &mut Meter::default())?);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn holds_the_same(&self, other: &Self, meter: &mut Meter<'_>) -> Result<bool> {
        Ok(self.is_within(other, meter)? && other.is_within(self, meter)?)
    }

    /// Whether the set holds a whole coset.
    fn covers(&self, coset: Coset, meter: &mut Meter<'_>) -> Result<bool> {
        // Classes of multiples of 1/n: (modulus, residue) with modulus a divisor
        // of n; the coset itself is every multiple.
        let order = coset.order();
        let mut classes: BTreeSet<(i128, i128)> = BTreeSet::new();
        let mut held = 0_i128;
        for mine in self.cosets() {
            meter.spend(1)?;
            let Some(part) = common_part(coset, mine)? else {
                continue;
            };
            let modulus = order / part.order();
            if modulus == 1 {
                return Ok(true);
            }
            let from_offset = part.offset().checked_sub(coset.offset())?.within_turn();
            let multiple = from_offset.numerator() * (order / from_offset.denominator());
            if classes.insert((modulus, multiple % modulus)) {
                held = held.saturating_add(part.order());
            }
        }
        if held < order {
            return Ok(false);
        }
        let mut period = 1_i128;
        for (modulus, _) in &classes {
            // A divisor of the order, so it cannot overflow.
            period = period.lcm(modulus);
        }
        let moduli: BTreeSet<i128> = classes.iter().map(|(modulus, _)| *modulus).collect();
        for multiple in 0..period {
            meter.spend(u64::try_from(moduli.len()).unwrap_or(u64::MAX))?;
            let is_held = moduli
                .iter()
                .any(|modulus| classes.contains(&(*modulus, multiple % modulus)));
            if !is_held {
                return Ok(false);
            }
        }
        Ok(true)
    }

    /// The same set in its one canonical form: cosets of the largest order that
    /// any way of writing it allows, all of that order. Two sets hold the same
    /// exactly when their canonical forms are equal.
    ///
    /// # Errors
    /// Overflow when an angle does not fit; the work limit. The form lists every
    /// orientation up to the set's symmetry; [`OrientationSet::holds_the_same`]
    /// compares without.
    pub fn canonical(&self, meter: &mut Meter<'_>) -> Result<Self> {
        let part = self.fundamental(meter)?;
        let mut order = self.common_order();
        let mut offsets: BTreeSet<Angle> = part.into_iter().collect();
        // A finer symmetry splits the offsets into equal runs: try every prime
        // divisor of their number until none helps.
        let mut factor = 2_usize;
        while factor <= offsets.len() {
            if !offsets.len().is_multiple_of(factor) {
                factor += 1;
                continue;
            }
            meter.spend(u64::try_from(offsets.len()).unwrap_or(u64::MAX))?;
            let finer = i128::try_from(factor)
                .ok()
                .and_then(|factor| order.checked_mul(factor))
                .ok_or_else(|| Error::overflow("the order of a set of orientations"))?;
            let folded: BTreeSet<Angle> = offsets
                .iter()
                .map(|offset| Coset::new(*offset, finer).map(Coset::offset))
                .collect::<Result<_>>()?;
            if folded.len() * factor == offsets.len() {
                (offsets, order) = (folded, finer);
            } else {
                factor += 1;
            }
        }
        let cosets: Result<Vec<Coset>> = offsets
            .into_iter()
            .map(|offset| Coset::new(offset, order))
            .collect();
        Self::from_cosets(cosets?)
    }

    /// Every start from which the set holds a whole pattern exactly: all s with
    /// `s + p` in the set for every p. Empty when there is none; the whole set
    /// shifted when the pattern is one angle.
    ///
    /// # Errors
    /// Overflow when an angle does not fit; the work limit.
    ///
    /// ```
    /// use dividing_core::Angle;
    /// use dividing_core::reach::{Coset, OrientationSet};
    /// use dividing_core::work::Meter;
    /// // Twelve holes without hole 3 hold a square from the holes 1 and 2 on.
    /// let holes = (0..12).filter(|hole| *hole != 3);
    /// let cosets: Result<Vec<Coset>, _> =
    ///     holes.map(|hole| Coset::new(Angle::new(hole, 12)?, 1)).collect();
    /// let plate = OrientationSet::from_cosets(cosets?)?;
    /// let square: Vec<Angle> = (0..4).map(|k| Angle::new(k, 4)).collect::<Result<_, _>>()?;
    /// let starts = plate.starts_for(&square, &mut Meter::default())?;
    /// assert!(starts.contains(Angle::new(1, 12)?)?);
    /// assert!(starts.contains(Angle::new(2, 12)?)?);
    /// assert_eq!(starts.count(), 8);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn starts_for(&self, pattern: &[Angle], meter: &mut Meter<'_>) -> Result<Self> {
        let common = self.common_order();
        let mut distinct = BTreeSet::new();
        for angle in pattern {
            meter.spend(1)?;
            distinct.insert(Coset::new(*angle, common)?.offset());
        }
        let mut starts: Option<Self> = None;
        for angle in distinct {
            let from_here = self.shifted(-angle)?;
            starts = Some(match starts {
                None => from_here,
                Some(so_far) if so_far.is_empty() => return Ok(so_far),
                Some(so_far) => so_far.intersection(&from_here, meter)?,
            });
        }
        Ok(starts.unwrap_or_default())
    }

    /// Whether the set holds a whole pattern exactly from a given start.
    ///
    /// # Errors
    /// Overflow when an angle does not fit.
    pub fn holds_pattern_from(&self, pattern: &[Angle], start: Angle) -> Result<bool> {
        for angle in pattern {
            if !self.contains(start.checked_add(*angle)?)? {
                return Ok(false);
            }
        }
        Ok(true)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// All test angles are whole multiples of this part of a turn.
    const PARTS: i128 = 360;

    fn angle(part: i128) -> Angle {
        Angle::new(part, PARTS).unwrap()
    }

    fn set(cosets: &[(i128, usize)]) -> OrientationSet {
        let orders = [1, 2, 3, 4, 5, 6, 8, 9, 10, 12, 15, 18];
        OrientationSet::from_cosets(cosets.iter().map(|(offset, order)| {
            Coset::new(angle(*offset), orders[*order % orders.len()]).unwrap()
        }))
        .unwrap()
    }

    /// The parts that a set holds, found one by one.
    fn listed(set: &OrientationSet) -> BTreeSet<i128> {
        (0..PARTS)
            .filter(|part| set.contains(angle(*part)).unwrap())
            .collect()
    }

    fn sets() -> impl Strategy<Value = OrientationSet> {
        prop::collection::vec((0..PARTS, 0..12_usize), 1..6).prop_map(|cosets| set(&cosets))
    }

    fn meter() -> Meter<'static> {
        Meter::default()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(192))]

        #[test]
        fn union_intersection_and_sum_agree_with_lists(a in sets(), b in sets()) {
            let (in_a, in_b) = (listed(&a), listed(&b));
            let both = a.intersection(&b, &mut meter()).unwrap();
            prop_assert_eq!(listed(&both), in_a.intersection(&in_b).copied().collect());
            prop_assert_eq!(listed(&a.union(&b)), in_a.union(&in_b).copied().collect());
            let sum = a.sum(&b, &mut meter()).unwrap();
            let sums: BTreeSet<i128> = in_a
                .iter()
                .flat_map(|x| in_b.iter().map(move |y| (x + y) % PARTS))
                .collect();
            prop_assert_eq!(listed(&sum), sums);
            prop_assert!(a.intersection(&b, &mut meter()).unwrap()
                .holds_the_same(&b.intersection(&a, &mut meter()).unwrap(), &mut meter()).unwrap());
        }

        #[test]
        fn inclusion_equality_and_canonical_form_agree_with_lists(a in sets(), b in sets()) {
            let (in_a, in_b) = (listed(&a), listed(&b));
            prop_assert_eq!(a.is_within(&b, &mut meter()).unwrap(), in_a.is_subset(&in_b));
            prop_assert!(a.is_within(&a.union(&b), &mut meter()).unwrap());
            prop_assert_eq!(a.holds_the_same(&b, &mut meter()).unwrap(), in_a == in_b);
            // The same set, written orientation by orientation.
            let written_out = OrientationSet::from_cosets(
                in_a.iter().map(|part| Coset::new(angle(*part), 1).unwrap()),
            )
            .unwrap();
            prop_assert!(a.holds_the_same(&written_out, &mut meter()).unwrap());
            let canonical = a.canonical(&mut meter()).unwrap();
            prop_assert_eq!(listed(&canonical), in_a);
            prop_assert_eq!(&canonical, &written_out.canonical(&mut meter()).unwrap());
        }

        #[test]
        fn starts_agree_with_trying_every_start(
            a in sets(),
            pattern in prop::collection::vec(0..PARTS, 1..5),
        ) {
            let in_a = listed(&a);
            let tried: BTreeSet<i128> = (0..PARTS)
                .filter(|start| pattern.iter().all(|p| in_a.contains(&((start + p) % PARTS))))
                .collect();
            let angles: Vec<Angle> = pattern.iter().map(|part| angle(*part)).collect();
            let starts = a.starts_for(&angles, &mut meter()).unwrap();
            prop_assert_eq!(listed(&starts), tried.clone());
            for start in 0..PARTS {
                prop_assert_eq!(
                    a.holds_pattern_from(&angles, angle(start)).unwrap(),
                    tried.contains(&start)
                );
            }
        }

        #[test]
        fn summands_lie_in_their_cosets(a in (0..PARTS, 1..40_i128), b in (0..PARTS, 1..40_i128), sum in 0..PARTS) {
            let a = Coset::new(angle(a.0), a.1).unwrap();
            let b = Coset::new(angle(b.0), b.1).unwrap();
            let alone = |coset| OrientationSet::from_cosets([coset]).unwrap();
            let expected = alone(a).sum(&alone(b), &mut meter()).unwrap().contains(angle(sum)).unwrap();
            match summands(a, b, angle(sum)).unwrap() {
                Some((x, y)) => {
                    prop_assert!(alone(a).contains(x).unwrap() && alone(b).contains(y).unwrap());
                    prop_assert_eq!(x.checked_add(y).unwrap().within_turn(), angle(sum).within_turn());
                    prop_assert!(expected);
                }
                None => prop_assert!(!expected),
            }
        }
    }

    #[test]
    fn huge_orders_are_decided_without_listing() {
        let order = 4_000_000_000_000_i128;
        let huge = OrientationSet::equally_spaced(order).unwrap();
        let half = OrientationSet::equally_spaced(order / 2).unwrap();
        let odd = half.shifted(Angle::new(1, order).unwrap()).unwrap();
        let meter = &mut Meter::new(1000);
        assert!(half.union(&odd).holds_the_same(&huge, meter).unwrap());
        assert!(!half.holds_the_same(&huge, meter).unwrap());
        let pattern: Vec<Angle> = (0..7).map(|k| Angle::new(k, 7).unwrap()).collect();
        assert!(huge.starts_for(&pattern, meter).unwrap().is_empty());
    }
}
