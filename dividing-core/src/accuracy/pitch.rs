//! How far off single and cumulative pitches may be at worst.

use serde::{Deserialize, Serialize};

use crate::angle::Angle;
use crate::error::Result;

/// How far off the pitches of a plan may be, in radians, residuals included.
///
/// Limits add: a pitch is off by the difference of two residuals and the limits
/// of both features.
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
#[derive(Clone, Copy, Debug)]
pub(super) struct PitchSpread {
    pub(super) required: Angle,
    pub(super) residual_rad: f64,
    pub(super) limit_rad: f64,
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
        let round: Vec<PitchSpread> = round_the_part(&required)?
            .into_iter()
            .filter_map(|index| spreads.get(index).copied())
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
                .max(residual + one.limit_rad + next.limit_rad);
        }
        figure.cumulative_residual_rad =
            range_of_two(round.iter().map(|it| (it.residual_rad, it.residual_rad)));
        figure.cumulative_worst_rad = range_of_two(round.iter().map(|it| {
            (
                it.residual_rad + it.limit_rad,
                it.residual_rad - it.limit_rad,
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
