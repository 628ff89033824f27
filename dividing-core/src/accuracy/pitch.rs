//! How far off single and cumulative pitches may be at worst.

use serde::{Deserialize, Serialize};

use super::contributor::Contributor;
use super::off_axis::between_features;
use crate::angle::Angle;
use crate::error::Result;

/// How far off the pitches of a plan may be, in radians, residuals included.
///
/// Limits add: a pitch is off by the difference of two residuals and the limits
/// of both features. Only an eccentricity is one for both: a single pitch keeps of
/// it 2(e/r)·sin(Δ/2), the cumulative pitch at most 2e/r.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PitchFigure {
    /// Largest single pitch deviation of the settings alone.
    pub single_residual_rad: f64,
    /// Cumulative pitch deviation of the settings alone.
    pub cumulative_residual_rad: f64,
    /// Largest single pitch deviation.
    pub single_worst_rad: f64,
    /// Cumulative pitch deviation: largest less smallest deviation.
    pub cumulative_worst_rad: f64,
}

/// What one feature brings to its pitches.
#[derive(Clone, Debug)]
pub(super) struct PitchSpread {
    pub(super) required: Angle,
    pub(super) residual_rad: f64,
    pub(super) limit_rad: f64,
    /// Offsets of plate and part, with the direction in which each is seen.
    pub(super) off_axis: Vec<(Contributor, Angle)>,
}

impl PitchSpread {
    /// What this feature may be off by for itself.
    fn whole_limit_rad(&self) -> f64 {
        let off_axis = self.off_axis.iter().map(|(it, _)| it.limit_rad());
        self.limit_rad + off_axis.sum::<f64>()
    }

    /// What this feature and another one may be off by from each other.
    fn limit_between_rad(&self, other: &Self) -> Result<f64> {
        let mut sum = self.limit_rad + other.limit_rad;
        for ((it, one), (_, two)) in self.off_axis.iter().zip(&other.off_axis) {
            let apart = two.checked_sub(*one)?.to_radians_f64();
            sum += between_features(it, apart).0.limit_rad();
        }
        Ok(sum)
    }
}

/// The features in the order in which they stand round the part, beginning
/// with the first one made, counter-clockwise.
pub(super) fn round_the_part(required: &[Angle]) -> Result<Vec<usize>> {
    let Some(&first) = required.first() else {
        return Ok(Vec::new());
    };
    let mut order = Vec::with_capacity(required.len());
    for (index, angle) in required.iter().enumerate() {
        order.push((angle.checked_sub(first)?.within_turn(), index));
    }
    order.sort_unstable();
    Ok(order.into_iter().map(|(_, index)| index).collect())
}

impl PitchFigure {
    pub(super) fn of(spreads: &[PitchSpread]) -> Result<Self> {
        let required: Vec<Angle> = spreads.iter().map(|it| it.required).collect();
        let round: Vec<&PitchSpread> = round_the_part(&required)?
            .into_iter()
            .filter_map(|index| spreads.get(index))
            .collect();
        let mut figure = Self {
            single_residual_rad: 0.0,
            cumulative_residual_rad: 0.0,
            single_worst_rad: 0.0,
            cumulative_worst_rad: 0.0,
        };
        if round.len() < 2 {
            return Ok(figure);
        }
        for (one, next) in round.iter().zip(round.iter().cycle().skip(1)) {
            let residual = (next.residual_rad - one.residual_rad).abs();
            figure.single_residual_rad = figure.single_residual_rad.max(residual);
            figure.single_worst_rad = figure
                .single_worst_rad
                .max(residual + one.limit_between_rad(next)?);
        }
        figure.cumulative_residual_rad =
            range_of_two(round.iter().map(|it| (it.residual_rad, it.residual_rad)));
        figure.cumulative_worst_rad = range_of_two(round.iter().map(|it| {
            (
                it.residual_rad + it.whole_limit_rad(),
                it.residual_rad - it.whole_limit_rad(),
            )
        }));
        Ok(figure)
    }
}

/// Largest upper end of one less smallest lower end of another.
fn range_of_two(ends: impl Iterator<Item = (f64, f64)>) -> f64 {
    let (mut highest, mut lowest) = (f64::NEG_INFINITY, f64::INFINITY);
    let mut range = 0.0_f64;
    for (upper, lower) in ends {
        range = range.max(upper - lowest).max(highest - lower);
        highest = highest.max(upper);
        lowest = lowest.min(lower);
    }
    range
}
