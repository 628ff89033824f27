//! Everything that a set can make: heights by few blocks, and signed sums of
//! angle blocks.

use super::angle_blocks::{AngleBlockSet, AngleStack};
use super::blocks::{BlockSet, MAX_HEIGHT_UNITS};
use super::fewest::MAX_PIECES;
use crate::angle::Angle;
use crate::error::{Error, Result};
use crate::work::Meter;

/// Marks a sum that no blocks make.
const NONE: u8 = u8::MAX;

/// Cells of a table that count as one step of work: they are cheap.
const CELLS_PER_STEP: usize = 8;

impl BlockSet {
    /// Every height from 1 unit up to a largest one that a single stack of at
    /// most so many blocks makes exactly, ascending, in units.
    ///
    /// Dynamic programme over the sums: the fewest blocks for every height, one
    /// block taken in after the other.
    ///
    /// # Errors
    /// Out of range above [`MAX_HEIGHT_UNITS`]; the work limit.
    ///
    /// ```
    /// use dividing_core::gauge_blocks::{BlockSet, BlockUnit};
    /// use dividing_core::work::Meter;
    /// let three = BlockSet::new(BlockUnit::TenthMicrometre, &[10, 20, 40])?;
    /// assert_eq!(three.heights(2, 100, &mut Meter::default())?, [10, 20, 30, 40, 50, 60]);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn heights(
        &self,
        most_blocks: u32,
        largest_units: u32,
        meter: &mut Meter<'_>,
    ) -> Result<Vec<u32>> {
        if largest_units > MAX_HEIGHT_UNITS {
            return Err(Error::out_of_range(
                largest_units,
                format!("at most {MAX_HEIGHT_UNITS} units"),
            ));
        }
        let step = self.step_units();
        let cells = (largest_units / step) as usize + 1;
        let mut fewest = vec![NONE; cells];
        fewest[0] = 0;
        for block in self.units() {
            let shift = (block / step) as usize;
            meter.spend(steps_for(cells))?;
            for sum in (shift..cells).rev() {
                let with_block = fewest[sum - shift].saturating_add(1);
                fewest[sum] = fewest[sum].min(with_block);
            }
        }
        let made = |blocks: u8| blocks > 0 && blocks != NONE && u32::from(blocks) <= most_blocks;
        let heights = (0_u32..).zip(fewest).filter(|(_, blocks)| made(*blocks));
        Ok(heights.map(|(cell, _)| cell * step).collect())
    }
}

impl AngleBlockSet {
    /// Every angle above zero that a stack of at most 16 blocks makes exactly,
    /// each block added or taken away, ascending, in seconds of arc.
    ///
    /// # Errors
    /// The work limit.
    ///
    /// ```
    /// use dividing_core::gauge_blocks::NamedAngleBlockSet;
    /// use dividing_core::work::Meter;
    /// // 13 pieces: 3" to 81°40'57" in 98 019 steps.
    /// let angles = NamedAngleBlockSet::Pieces13.blocks().angles_arcsec(&mut Meter::default())?;
    /// assert_eq!((angles.len(), angles[0]), (98_019, 3));
    /// assert_eq!(angles[98_018], 81 * 3600 + 40 * 60 + 57);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn angles_arcsec(&self, meter: &mut Meter<'_>) -> Result<Vec<u32>> {
        let step = self
            .arcsec()
            .iter()
            .fold(0, |all, block| num_integer::gcd(all, *block))
            .max(1);
        let most: u32 = self.arcsec().iter().map(|block| block / step).sum();
        let zero = most as usize;
        let cells = 2 * zero + 1;
        let mut fewest = vec![NONE; cells];
        fewest[zero] = 0;
        for block in self.arcsec() {
            let shift = (block / step) as usize;
            meter.spend(steps_for(cells))?;
            let before = fewest.clone();
            for (sum, blocks) in fewest.iter_mut().enumerate() {
                let added = sum.checked_sub(shift).and_then(|from| before.get(from));
                let taken = before.get(sum + shift);
                for from in [added, taken].into_iter().flatten() {
                    *blocks = (*blocks).min(from.saturating_add(1));
                }
            }
        }
        let above = (1_u32..).zip(fewest.into_iter().skip(zero + 1));
        Ok(above
            .filter(|(_, blocks)| usize::from(*blocks) <= MAX_PIECES)
            .map(|(cell, _)| cell * step)
            .collect())
    }

    /// The stack for a signed angle in seconds of arc; the one for a negative
    /// angle is turned round as a whole.
    pub(crate) fn signed_stack(&self, arcsec: i64, meter: &mut Meter<'_>) -> Result<AngleStack> {
        let angle = Angle::new(i128::from(arcsec).abs(), 1_296_000)?;
        let mut stack = self.stack(angle, Angle::ZERO, meter)?;
        if arcsec < 0 {
            std::mem::swap(&mut stack.plus_arcsec, &mut stack.minus_arcsec);
            stack.attained = -stack.attained;
        }
        Ok(stack)
    }
}

/// The steps of work of a pass over a table.
fn steps_for(cells: usize) -> u64 {
    u64::try_from(cells / CELLS_PER_STEP).unwrap_or(u64::MAX) + 1
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::gauge_blocks::BlockUnit;

    /// Every sum of a selection, by trying all selections.
    fn all_sums(sizes: &[u32], most: u32) -> BTreeSet<u32> {
        (1_u32..1 << sizes.len())
            .filter(|choice| choice.count_ones() <= most)
            .map(|choice| {
                let chosen = sizes.iter().enumerate();
                chosen
                    .filter(|(at, _)| choice >> at & 1 == 1)
                    .map(|(_, size)| size)
                    .sum()
            })
            .collect()
    }

    #[test]
    fn heights_agree_with_trying_every_selection() {
        let sizes = [105, 110, 120, 130, 250, 500, 1000, 1005];
        let set = BlockSet::new(BlockUnit::TenthMicrometre, &sizes).unwrap();
        for most in 1..=8 {
            let found = set.heights(most, 4000, &mut Meter::default()).unwrap();
            assert_eq!(found, Vec::from_iter(all_sums(&sizes, most)));
        }
        assert!(
            set.heights(5, MAX_HEIGHT_UNITS + 1, &mut Meter::default())
                .is_err()
        );
        assert!(set.heights(5, 4000, &mut Meter::new(3)).is_err());
    }

    #[test]
    fn signed_sums_agree_with_trying_every_selection() {
        let sizes = [3_u32, 7, 20, 60, 61];
        let mut sums = BTreeSet::new();
        for choice in 0..3_i64.pow(5) {
            let (mut rest, mut sum) = (choice, 0);
            for size in sizes {
                sum += i64::from(size) * (rest % 3 - 1);
                rest /= 3;
            }
            if sum > 0 {
                sums.insert(u32::try_from(sum).unwrap());
            }
        }
        let set = AngleBlockSet::new(&sizes).unwrap();
        let found = set.angles_arcsec(&mut Meter::default()).unwrap();
        assert_eq!(found, Vec::from_iter(sums));
        let down = set.signed_stack(-63, &mut Meter::default()).unwrap();
        let sum = |blocks: &[u32]| blocks.iter().map(|it| i64::from(*it)).sum::<i64>();
        assert_eq!(sum(&down.plus_arcsec) - sum(&down.minus_arcsec), -63);
    }
}
