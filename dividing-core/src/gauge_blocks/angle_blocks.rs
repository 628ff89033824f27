//! Angle gauge blocks: wedges wrung together so that each adds its angle or takes
//! it away.

use num_integer::Integer;
use serde::{Deserialize, Serialize};

use super::fewest::{MAX_PIECES, Signs, fewest};
use crate::angle::Angle;
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::work::Meter;

/// Seconds of arc in a turn.
const ARCSEC_PER_TURN: u32 = 1_296_000;

/// Largest tolerance in seconds of arc: ten degrees.
const MAX_TOLERANCE_ARCSEC: i128 = 36_000;

/// A set of angle gauge blocks by nominal angle in whole seconds of arc.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(try_from = "Vec<u32>", into = "Vec<u32>")]
pub struct AngleBlockSet {
    arcsec: Vec<u32>,
}

/// A named set of angle gauge blocks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum NamedAngleBlockSet {
    /// 13 pieces: 1°, 3°, 9°, 27°, 41°; 1', 3', 9', 27'; 3", 6", 18", 30" (sizes
    /// from memory; their range of 3" to 81°40'57" in 98 019 steps of 3" is
    /// published, Transactions of the Institute of Measurement and Control 15,
    /// 1993, doi 10.1177/014233129301500108, abstract).
    Pieces13,
    /// 16 pieces: 1", 3", 5", 20", 30"; 1', 3', 5', 20', 30'; 1°, 3°, 5°, 15°, 30°,
    /// 45° (count and range from C. Reeve, NBSIR 80-1967, 1980, abstract; sizes
    /// from memory).
    Pieces16,
}

impl NamedAngleBlockSet {
    /// Every named set.
    pub const ALL: [Self; 2] = [Self::Pieces13, Self::Pieces16];

    /// The blocks of the set.
    #[must_use]
    pub fn blocks(self) -> AngleBlockSet {
        const MINUTE: u32 = 60;
        const DEGREE: u32 = 3600;
        let (seconds, minutes, degrees): (&[u32], &[u32], &[u32]) = match self {
            Self::Pieces13 => (&[3, 6, 18, 30], &[1, 3, 9, 27], &[1, 3, 9, 27, 41]),
            Self::Pieces16 => (
                &[1, 3, 5, 20, 30],
                &[1, 3, 5, 20, 30],
                &[1, 3, 5, 15, 30, 45],
            ),
        };
        AngleBlockSet {
            arcsec: seconds
                .iter()
                .copied()
                .chain(minutes.iter().map(|minutes| minutes * MINUTE))
                .chain(degrees.iter().map(|degrees| degrees * DEGREE))
                .collect(),
        }
    }
}

/// A stack of angle gauge blocks.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct AngleStack {
    /// Blocks that add their angle, in seconds of arc, ascending.
    pub plus_arcsec: Vec<u32>,
    /// Blocks turned round, which take their angle away, ascending.
    pub minus_arcsec: Vec<u32>,
    /// The nominal angle of the stack.
    pub attained: Angle,
    /// Attained less wanted angle.
    pub residual: Angle,
}

impl AngleBlockSet {
    /// A set from its nominal angles in seconds of arc, in any order.
    ///
    /// # Errors
    /// [`ErrorKind::EmptyList`] for no block; [`ErrorKind::OutOfRange`] for an angle
    /// not from 1 second to a quarter turn, or more than 40 blocks.
    pub fn new(arcsec: &[u32]) -> Result<Self> {
        const MOST: usize = 40;
        if arcsec.is_empty() {
            return Err(Error::new(
                ErrorKind::EmptyList,
                "the set of angle gauge blocks is empty; accepted: at least one block",
            ));
        }
        if arcsec.len() > MOST {
            return Err(Error::out_of_range(
                format!("a set of {} blocks", arcsec.len()),
                format!("at most {MOST} blocks"),
            ));
        }
        for (place, angle) in arcsec.iter().enumerate() {
            if !(1..=ARCSEC_PER_TURN / 4).contains(angle) {
                return Err(Error::out_of_range(
                    format!("a block of {angle} seconds of arc"),
                    "1 to 324000 seconds of arc",
                )
                .at(format_args!("[{place}]")));
            }
        }
        let mut sorted = arcsec.to_vec();
        sorted.sort_unstable();
        Ok(Self { arcsec: sorted })
    }

    /// The nominal angles in seconds of arc, ascending.
    #[must_use]
    pub fn arcsec(&self) -> &[u32] {
        &self.arcsec
    }

    /// The stack of the fewest blocks within a tolerance of an angle, each block
    /// used once, either way round; among equally few the nearest to the angle, and
    /// of two equally near the smaller.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for an angle not above 0 and up to a turn, or a
    /// tolerance not from 0 to 10 degrees; [`ErrorKind::NotFound`] when no stack
    /// exists; the error of the meter.
    ///
    /// ```
    /// use dividing_core::gauge_blocks::NamedAngleBlockSet;
    /// use dividing_core::work::Meter;
    /// use dividing_core::Angle;
    /// let set = NamedAngleBlockSet::Pieces13.blocks();
    /// let stack = set.stack("33°9'15\"".parse()?, Angle::ZERO, &mut Meter::default())?;
    /// assert!(stack.residual.is_zero());
    /// assert!(stack.plus_arcsec.len() + stack.minus_arcsec.len() <= 6);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn stack(
        &self,
        angle: Angle,
        tolerance: Angle,
        meter: &mut Meter<'_>,
    ) -> Result<AngleStack> {
        if angle <= Angle::ZERO || angle > Angle::FULL_TURN {
            return Err(Error::out_of_range(angle, "above 0 and up to one turn").at("angle"));
        }
        let widest = Angle::new(MAX_TOLERANCE_ARCSEC, ARCSEC_PER_TURN.into())?;
        if tolerance < Angle::ZERO || tolerance > widest {
            return Err(Error::out_of_range(tolerance, "0 to 10 degrees").at("tolerance"));
        }
        let wanted = whole_seconds(angle, tolerance)?;
        let values: Vec<i64> = self.arcsec.iter().map(|&block| block.into()).collect();
        let sum =
            fewest(&values, &wanted, Signs::PlusOrMinus, MAX_PIECES, meter).map_err(|error| {
                if error.kind() == ErrorKind::NotFound {
                    self.explained(angle, tolerance)
                } else {
                    error
                }
            })?;
        let sizes =
            |places: &[usize]| -> Vec<u32> { places.iter().map(|&at| self.arcsec[at]).collect() };
        let made = wanted.get(sum.wanted).copied().unwrap_or(0);
        let attained = Angle::new(made.into(), ARCSEC_PER_TURN.into())?;
        Ok(AngleStack {
            plus_arcsec: sizes(&sum.plus),
            minus_arcsec: sizes(&sum.minus),
            attained,
            residual: attained.checked_sub(angle)?,
        })
    }

    fn explained(&self, angle: Angle, tolerance: Angle) -> Error {
        let step = self.arcsec.iter().fold(0, |all: u32, block| all.gcd(block));
        let most: u32 = self.arcsec.iter().sum();
        Error::new(
            ErrorKind::NotFound,
            format!(
                "no stack of these angle gauge blocks makes {angle} within {tolerance}; they go \
                 in steps of {step} seconds of arc to {most}; accepted: such an angle, or a \
                 wider tolerance"
            ),
        )
    }
}

/// The whole numbers of seconds within the tolerance of an angle, nearest first.
fn whole_seconds(angle: Angle, tolerance: Angle) -> Result<Vec<i64>> {
    let per_turn = i128::from(ARCSEC_PER_TURN);
    let low = angle.checked_sub(tolerance)?.checked_mul(per_turn)?;
    let high = angle.checked_add(tolerance)?.checked_mul(per_turn)?;
    let exact = angle.checked_mul(per_turn)?;
    let first = Integer::div_ceil(&low.numerator(), &low.denominator()).max(1);
    let last = Integer::div_floor(&high.numerator(), &high.denominator());
    let mut seconds = (first..=last)
        .map(|second| {
            let distance = Angle::new(second, 1)?.checked_sub(exact)?.abs();
            let second = i64::try_from(second).map_err(|_| Error::overflow("the angle"))?;
            Ok((distance, second))
        })
        .collect::<Result<Vec<_>>>()
        .at("angle")?;
    seconds.sort_unstable();
    Ok(seconds.into_iter().map(|(_, second)| second).collect())
}

impl TryFrom<Vec<u32>> for AngleBlockSet {
    type Error = Error;

    fn try_from(arcsec: Vec<u32>) -> Result<Self> {
        Self::new(&arcsec)
    }
}

impl From<AngleBlockSet> for Vec<u32> {
    fn from(set: AngleBlockSet) -> Self {
        set.arcsec
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stack(set: NamedAngleBlockSet, angle: &str, tolerance: &str) -> Result<AngleStack> {
        set.blocks().stack(
            angle.parse().unwrap(),
            tolerance.parse().unwrap(),
            &mut Meter::default(),
        )
    }

    #[test]
    fn stacks_add_up_and_use_each_block_once() {
        for set in NamedAngleBlockSet::ALL {
            let step = if set == NamedAngleBlockSet::Pieces13 {
                3
            } else {
                1
            };
            for seconds in (step..290_000)
                .step_by(17_001)
                .map(|second| second / step * step)
            {
                let angle = Angle::new(seconds.into(), 1_296_000).unwrap();
                let stack = set
                    .blocks()
                    .stack(angle, Angle::ZERO, &mut Meter::default())
                    .unwrap();
                let sum = |blocks: &[u32]| blocks.iter().copied().map(i128::from).sum::<i128>();
                let total = sum(&stack.plus_arcsec) - sum(&stack.minus_arcsec);
                assert_eq!(Angle::new(total, 1_296_000).unwrap(), angle);
                assert_eq!(stack.attained, angle);
                let all = [stack.plus_arcsec, stack.minus_arcsec].concat();
                assert!(
                    all.iter()
                        .all(|block| all.iter().filter(|b| *b == block).count() == 1)
                );
            }
        }
    }

    #[test]
    fn an_angle_off_the_step_needs_a_tolerance() {
        let error = stack(NamedAngleBlockSet::Pieces13, "10°0'1\"", "0\"").unwrap_err();
        assert_eq!(error.kind(), ErrorKind::NotFound);
        assert!(error.message().contains("steps of 3 seconds"));
        let near = stack(NamedAngleBlockSet::Pieces13, "10°0'1\"", "1\"").unwrap();
        assert_eq!(near.residual, "-1\"".parse().unwrap());
        let seventh = stack(NamedAngleBlockSet::Pieces13, "360/7 deg", "1.5\"").unwrap();
        assert!(seventh.residual.abs() <= "1.5\"".parse().unwrap());
        assert!(stack(NamedAngleBlockSet::Pieces13, "359°", "0\"").is_err());
        assert!(stack(NamedAngleBlockSet::Pieces13, "-1°", "0\"").is_err());
        assert!(stack(NamedAngleBlockSet::Pieces13, "1°", "11°").is_err());
        assert!(AngleBlockSet::new(&[0]).is_err());
    }
}
