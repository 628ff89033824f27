//! Sets of gauge blocks and the stacks made of them.

use num_integer::Integer;
use serde::{Deserialize, Serialize};

use super::fewest::{MAX_PIECES, Signs, fewest};
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::{Length, MM_PER_INCH};
use crate::work::Meter;

/// Most blocks in a set.
pub const MAX_BLOCKS: usize = 300;

/// Largest block or height, in units of the set: a metre or more.
pub const MAX_HEIGHT_UNITS: u32 = 10_000_000;

/// Largest tolerance of a stack, in units of the set.
pub const MAX_TOLERANCE_UNITS: u32 = 10_000;

/// The unit in which the nominal sizes of a set are whole numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum BlockUnit {
    /// 0.0001 mm.
    TenthMicrometre,
    /// 0.00001 in.
    HundredThousandthInch,
}

impl BlockUnit {
    /// The size of the unit in millimetres.
    #[must_use]
    pub const fn mm(self) -> f64 {
        match self {
            Self::TenthMicrometre => 1.0e-4,
            Self::HundredThousandthInch => MM_PER_INCH * 1.0e-5,
        }
    }

    /// So many units in millimetres, rounded once.
    #[must_use]
    pub fn to_mm(self, units: i64) -> f64 {
        // At most a hundred times 10⁷ units, exact as a double.
        let units = crate::angle::as_f64(units.into());
        match self {
            Self::TenthMicrometre => units / 1.0e4,
            Self::HundredThousandthInch => units * MM_PER_INCH / 1.0e5,
        }
    }

    /// The whole number of units nearest to a length.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] below 0 or above [`MAX_HEIGHT_UNITS`].
    ///
    /// ```
    /// use dividing_core::gauge_blocks::BlockUnit;
    /// assert_eq!(BlockUnit::TenthMicrometre.nearest("58.345 mm".parse()?)?, 583_450);
    /// assert_eq!(BlockUnit::HundredThousandthInch.nearest("3.9762 in".parse()?)?, 397_620);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn nearest(self, length: Length) -> Result<u32> {
        let units = (length.mm() / self.mm()).round();
        if !(0.0..=f64::from(MAX_HEIGHT_UNITS)).contains(&units) {
            return Err(Error::out_of_range(
                length,
                format!("0 to {} mm", self.to_mm(MAX_HEIGHT_UNITS.into())),
            ));
        }
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a whole number within the limits just checked"
        )]
        Ok(units as u32)
    }
}

/// A set of gauge blocks, by nominal size. Two blocks of one size are two entries.
///
/// ```
/// use dividing_core::gauge_blocks::{BlockUnit, NamedBlockSet};
/// use dividing_core::work::Meter;
/// let set = NamedBlockSet::Inch81.blocks();
/// let height = BlockUnit::HundredThousandthInch.nearest("3.9762 in".parse()?)?;
/// let stack = set.stack(height, 0, None, &mut Meter::default())?;
/// assert_eq!(stack.blocks.len(), 4);
/// assert_eq!(stack.height_units(), 397_620);
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(try_from = "BlockSetDocument", into = "BlockSetDocument")]
pub struct BlockSet {
    unit: BlockUnit,
    /// Ascending.
    blocks: Vec<u32>,
}

/// A set in documents.
#[derive(Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct BlockSetDocument {
    unit: BlockUnit,
    blocks: Vec<u32>,
}

impl TryFrom<BlockSetDocument> for BlockSet {
    type Error = Error;

    fn try_from(document: BlockSetDocument) -> Result<Self> {
        Self::new(document.unit, &document.blocks)
    }
}

impl From<BlockSet> for BlockSetDocument {
    fn from(set: BlockSet) -> Self {
        Self {
            unit: set.unit,
            blocks: set.blocks,
        }
    }
}

/// A stack of gauge blocks.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Stack {
    /// The unit of all sizes.
    pub unit: BlockUnit,
    /// Sizes of the blocks, ascending, wear blocks left out.
    pub blocks: Vec<u32>,
    /// Thickness of each of the two wear blocks at the ends, if any.
    pub wear_block_units: Option<u32>,
    /// Height of the stack less the height wanted.
    pub deviation_units: i64,
}

impl Stack {
    /// Nominal height, wear blocks included, in units.
    #[must_use]
    pub fn height_units(&self) -> i64 {
        let wear = 2 * i64::from(self.wear_block_units.unwrap_or(0));
        wear + self
            .blocks
            .iter()
            .map(|&block| i64::from(block))
            .sum::<i64>()
    }

    /// Nominal height in millimetres.
    #[must_use]
    pub fn height_mm(&self) -> f64 {
        self.unit.to_mm(self.height_units())
    }
}

/// Two stacks whose difference is the height wanted, for heights below the
/// smallest block: one under each roller.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct DifferenceStack {
    /// The unit of all sizes.
    pub unit: BlockUnit,
    /// Blocks of the higher stack, ascending.
    pub higher: Vec<u32>,
    /// Blocks of the lower stack, ascending.
    pub lower: Vec<u32>,
    /// Difference of the stacks less the height wanted.
    pub deviation_units: i64,
}

impl DifferenceStack {
    /// Height of the higher stack above the lower, in units.
    #[must_use]
    pub fn height_units(&self) -> i64 {
        let sum = |blocks: &[u32]| blocks.iter().map(|&block| i64::from(block)).sum::<i64>();
        sum(&self.higher) - sum(&self.lower)
    }
}

impl BlockSet {
    /// A set from its nominal sizes in any order.
    ///
    /// # Errors
    /// [`ErrorKind::EmptyList`] for no block; [`ErrorKind::OutOfRange`] for a size
    /// not from 1 to [`MAX_HEIGHT_UNITS`] or more than [`MAX_BLOCKS`] blocks.
    pub fn new(unit: BlockUnit, blocks: &[u32]) -> Result<Self> {
        if blocks.is_empty() {
            return Err(Error::new(
                ErrorKind::EmptyList,
                "the set of gauge blocks is empty; accepted: at least one block",
            )
            .at("blocks"));
        }
        if blocks.len() > MAX_BLOCKS {
            return Err(Error::out_of_range(
                format!("a set of {} blocks", blocks.len()),
                format!("at most {MAX_BLOCKS} blocks"),
            )
            .at("blocks"));
        }
        for (place, &block) in blocks.iter().enumerate() {
            if !(1..=MAX_HEIGHT_UNITS).contains(&block) {
                return Err(Error::out_of_range(
                    format!("a block of {block} units"),
                    format!("1 to {MAX_HEIGHT_UNITS} units"),
                )
                .at(format_args!("blocks[{place}]")));
            }
        }
        Ok(Self::from_checked(unit, blocks.to_vec()))
    }

    /// A set whose sizes are known to keep the limits.
    pub(super) fn from_checked(unit: BlockUnit, mut blocks: Vec<u32>) -> Self {
        blocks.sort_unstable();
        Self { unit, blocks }
    }

    /// The unit of the sizes.
    #[must_use]
    pub const fn unit(&self) -> BlockUnit {
        self.unit
    }

    /// The nominal sizes, ascending.
    #[must_use]
    pub fn units(&self) -> &[u32] {
        &self.blocks
    }

    /// The step in which heights of this set go: the greatest common divisor of
    /// its sizes.
    #[must_use]
    pub fn step_units(&self) -> u32 {
        self.blocks
            .iter()
            .fold(0, |all, block| all.gcd(block))
            .max(1)
    }

    /// The set without some of its blocks, each taken out once.
    ///
    /// # Errors
    /// [`ErrorKind::NotFound`] for a block that the set does not hold,
    /// [`ErrorKind::EmptyList`] when nothing is left.
    pub fn without(&self, used: &[u32]) -> Result<Self> {
        let mut blocks = self.blocks.clone();
        for block in used {
            match blocks.binary_search(block) {
                Ok(place) => {
                    blocks.remove(place);
                }
                Err(_) => {
                    return Err(Error::new(
                        ErrorKind::NotFound,
                        format!("the set holds no further block of {block} units"),
                    ));
                }
            }
        }
        Self::new(self.unit, &blocks)
    }

    /// The stack of the fewest blocks within a tolerance of a height; among
    /// equally few the nearest to the height, and of two equally near the lower.
    ///
    /// `wear_block_units` is the thickness of the two wear blocks that stand at the
    /// ends; they are not taken from the set.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a height of 0, one above [`MAX_HEIGHT_UNITS`],
    /// one that the wear blocks alone reach, or a tolerance above
    /// [`MAX_TOLERANCE_UNITS`]; [`ErrorKind::NotFound`] when no stack of up to 16
    /// blocks exists; the error of the meter.
    pub fn stack(
        &self,
        height_units: u32,
        tolerance_units: u32,
        wear_block_units: Option<u32>,
        meter: &mut Meter<'_>,
    ) -> Result<Stack> {
        let height = checked_height(height_units, tolerance_units)?;
        let wear = 2 * i64::from(wear_block_units.unwrap_or(0));
        if wear >= height {
            return Err(Error::out_of_range(
                format!("a height of {height} units with wear blocks of {wear} units together"),
                "a height above that of the wear blocks",
            )
            .at("wear_block_units"));
        }
        let (blocks, _, deviation_units) = self
            .search(height - wear, tolerance_units, Signs::Plus, meter)
            .map_err(|error| self.explained(error, height, tolerance_units))?;
        Ok(Stack {
            unit: self.unit,
            blocks,
            wear_block_units,
            deviation_units,
        })
    }

    /// Two stacks of one height that can stand at the same time: the first with
    /// the fewest blocks, the second with the fewest of the blocks left.
    ///
    /// # Errors
    /// As [`BlockSet::stack`]; a second stack that does not exist is named by the
    /// path `second`.
    pub fn two_stacks(
        &self,
        height_units: u32,
        tolerance_units: u32,
        wear_block_units: Option<u32>,
        meter: &mut Meter<'_>,
    ) -> Result<[Stack; 2]> {
        let first = self.stack(height_units, tolerance_units, wear_block_units, meter)?;
        let second = self
            .without(&first.blocks)
            .and_then(|rest| rest.stack(height_units, tolerance_units, wear_block_units, meter))
            .at("second")?;
        Ok([first, second])
    }

    /// Two stacks with the fewest blocks together whose difference is within a
    /// tolerance of a height.
    ///
    /// # Errors
    /// As [`BlockSet::stack`].
    ///
    /// ```
    /// use dividing_core::gauge_blocks::NamedBlockSet;
    /// use dividing_core::work::Meter;
    /// // 0.0125 mm, far below the smallest block.
    /// let set = NamedBlockSet::Metric112.blocks();
    /// let stacks = set.difference(125, 0, &mut Meter::default())?;
    /// assert_eq!(stacks.height_units(), 125);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn difference(
        &self,
        height_units: u32,
        tolerance_units: u32,
        meter: &mut Meter<'_>,
    ) -> Result<DifferenceStack> {
        let height = checked_height(height_units, tolerance_units)?;
        let (higher, lower, deviation_units) = self
            .search(height, tolerance_units, Signs::PlusOrMinus, meter)
            .map_err(|error| self.explained(error, height, tolerance_units))?;
        Ok(DifferenceStack {
            unit: self.unit,
            higher,
            lower,
            deviation_units,
        })
    }

    /// The difference of two stacks of at most so many blocks together that is
    /// exactly a height, if there is one.
    pub(crate) fn exact_difference(
        &self,
        height_units: u32,
        most_blocks: usize,
        meter: &mut Meter<'_>,
    ) -> Result<Option<DifferenceStack>> {
        let wanted = [checked_height(height_units, 0)?];
        let values: Vec<i64> = self.blocks.iter().map(|&block| block.into()).collect();
        match fewest(&values, &wanted, Signs::PlusOrMinus, most_blocks, meter) {
            Ok(sum) => {
                let sizes = |places: &[usize]| -> Vec<u32> {
                    places.iter().map(|&at| self.blocks[at]).collect()
                };
                Ok(Some(DifferenceStack {
                    unit: self.unit,
                    higher: sizes(&sum.plus),
                    lower: sizes(&sum.minus),
                    deviation_units: 0,
                }))
            }
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error),
        }
    }

    /// The blocks added, those taken away, and the deviation from `height`.
    fn search(
        &self,
        height: i64,
        tolerance_units: u32,
        signs: Signs,
        meter: &mut Meter<'_>,
    ) -> Result<(Vec<u32>, Vec<u32>, i64)> {
        let tolerance = i64::from(tolerance_units);
        let step = i64::from(self.step_units());
        let mut wanted: Vec<i64> = (-tolerance..=tolerance)
            .map(|deviation| height + deviation)
            .filter(|sum| *sum > 0 && sum % step == 0)
            .collect();
        wanted.sort_by_key(|sum| ((sum - height).abs(), *sum));
        let values: Vec<i64> = self.blocks.iter().map(|&block| block.into()).collect();
        let sum = fewest(&values, &wanted, signs, MAX_PIECES, meter)?;
        let sizes =
            |places: &[usize]| -> Vec<u32> { places.iter().map(|&at| self.blocks[at]).collect() };
        let deviation = wanted.get(sum.wanted).map_or(0, |made| made - height);
        Ok((sizes(&sum.plus), sizes(&sum.minus), deviation))
    }

    /// Says why a height cannot be made.
    fn explained(&self, error: Error, height: i64, tolerance_units: u32) -> Error {
        if error.kind() != ErrorKind::NotFound {
            return error;
        }
        let smallest = self.blocks.first().copied().unwrap_or(0);
        Error::new(
            ErrorKind::NotFound,
            format!(
                "no stack of up to {MAX_PIECES} blocks makes {} mm within {} mm; this set goes \
                 in steps of {} mm from {} mm up; accepted: a height on a step, a wider \
                 tolerance, or the difference of two stacks for a height below the smallest block",
                self.unit.to_mm(height),
                self.unit.to_mm(tolerance_units.into()),
                self.unit.to_mm(self.step_units().into()),
                self.unit.to_mm(smallest.into()),
            ),
        )
    }
}

fn checked_height(height_units: u32, tolerance_units: u32) -> Result<i64> {
    if !(1..=MAX_HEIGHT_UNITS).contains(&height_units) {
        return Err(Error::out_of_range(
            format!("a height of {height_units} units"),
            format!("1 to {MAX_HEIGHT_UNITS} units"),
        )
        .at("height_units"));
    }
    if tolerance_units > MAX_TOLERANCE_UNITS {
        return Err(Error::out_of_range(
            format!("a tolerance of {tolerance_units} units"),
            format!("0 to {MAX_TOLERANCE_UNITS} units"),
        )
        .at("tolerance_units"));
    }
    Ok(height_units.into())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gauge_blocks::NamedBlockSet;

    #[test]
    fn every_height_of_a_range_is_made_and_adds_up() {
        let set = NamedBlockSet::Metric87.blocks();
        for height in (20_000..1_200_000).step_by(7_130) {
            let stack = set.stack(height, 0, None, &mut Meter::default()).unwrap();
            assert_eq!(stack.height_units(), i64::from(height));
            assert_eq!(stack.deviation_units, 0);
            assert!(stack.blocks.len() <= 5, "{height}: {:?}", stack.blocks);
            assert!(set.without(&stack.blocks).is_ok(), "each block once");
        }
    }

    #[test]
    fn a_tolerance_saves_blocks_and_the_deviation_is_told() {
        let set = NamedBlockSet::Metric112.blocks();
        let exact = set.stack(583_455, 0, None, &mut Meter::default()).unwrap();
        let near = set.stack(583_455, 60, None, &mut Meter::default()).unwrap();
        assert!(near.blocks.len() < exact.blocks.len());
        assert_eq!(near.height_units(), 583_455 + near.deviation_units);
        assert!(near.deviation_units.abs() <= 60);
    }

    #[test]
    fn a_second_stack_shares_no_block_with_the_first() {
        let set = NamedBlockSet::Inch81.blocks();
        let [first, second] = set
            .two_stacks(123_450, 0, None, &mut Meter::default())
            .unwrap();
        assert_eq!(first.height_units(), second.height_units());
        assert!(
            second
                .blocks
                .iter()
                .all(|block| !first.blocks.contains(block))
        );
        let few = BlockSet::new(BlockUnit::TenthMicrometre, &[10_000, 20_000]).unwrap();
        let error = few
            .two_stacks(20_000, 0, None, &mut Meter::default())
            .unwrap_err();
        assert_eq!(
            (error.kind(), error.field()),
            (ErrorKind::NotFound, "second")
        );
    }

    #[test]
    fn wear_blocks_count_in_the_height() {
        let set = NamedBlockSet::Metric87.blocks();
        let stack = set
            .stack(583_450, 0, Some(20_000), &mut Meter::default())
            .unwrap();
        assert_eq!(stack.height_units(), 583_450);
        assert_eq!(stack.blocks.iter().sum::<u32>(), 543_450);
        let error = set
            .stack(40_000, 0, Some(20_000), &mut Meter::default())
            .unwrap_err();
        assert_eq!(error.field(), "wear_block_units");
    }

    #[test]
    fn unreachable_heights_say_why() {
        let set = NamedBlockSet::Metric87.blocks();
        for height in [5, 4_000, 123_455, MAX_HEIGHT_UNITS] {
            let error = set
                .stack(height, 0, None, &mut Meter::default())
                .unwrap_err();
            assert_eq!(error.kind(), ErrorKind::NotFound, "{height}");
            assert!(error.message().contains("steps of 0.001 mm"));
        }
        assert!(set.stack(0, 0, None, &mut Meter::default()).is_err());
        assert!(set.stack(1, 10_001, None, &mut Meter::default()).is_err());
        assert!(set.without(&[7]).is_err());
        assert!(BlockSet::new(BlockUnit::TenthMicrometre, &[0]).is_err());
        assert!(BlockSet::new(BlockUnit::TenthMicrometre, &[]).is_err());
    }

    #[test]
    fn small_heights_by_difference() {
        for (set, step) in [(NamedBlockSet::Metric112, 5), (NamedBlockSet::Inch81, 10)] {
            let set = set.blocks();
            for height in (step..4_000).step_by(step as usize * 13) {
                let stacks = set.difference(height, 0, &mut Meter::default()).unwrap();
                assert_eq!(stacks.height_units(), i64::from(height));
                let all = [stacks.higher.clone(), stacks.lower.clone()].concat();
                assert!(set.without(&all).is_ok(), "each block once");
                assert!(all.len() <= 5);
            }
        }
    }
}
