//! What sine bars, angle gauge blocks and protractors hold.

use super::fine_points::{FinePoint, FinePoints};
use super::orientation_set::OrientationSet;
use super::setting::{Setting, StackedBlocks};
use super::way::{Way, WayKind, WayMaker};
use crate::angle::Angle;
use crate::equipment::{AngleBlocks, Protractor, SineBar};
use crate::error::{Error, ErrorKind, Result};
use crate::gauge_blocks::{BlockSet, MAX_HEIGHT_UNITS};
use crate::work::Meter;

/// The set of a device that holds no more than what its fine points hold.
fn only_zero() -> Result<OrientationSet> {
    OrientationSet::equally_spaced(1)
}

/// The tilt of a sine bar for a height, in radians: `asin(height/length)`.
fn tilt_rad(bar: &SineBar, blocks: &BlockSet, height_units: i64) -> f64 {
    (blocks.unit().to_mm(height_units) / bar.length.mm())
        .clamp(-1.0, 1.0)
        .asin()
}

pub(super) fn sine_bar_way(bar: &SineBar, maker: WayMaker, meter: &mut Meter<'_>) -> Result<Way> {
    let blocks = bar.blocks.blocks();
    let unit = blocks.unit();
    let largest = bar.length.mm() * bar.largest_angle.to_radians_f64().sin() / unit.mm();
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "limited to a small positive range"
    )]
    let largest = largest.floor().clamp(0.0, f64::from(MAX_HEIGHT_UNITS)) as u32;
    let wear = 2 * bar.wear_block_units()?.unwrap_or(0);
    let smallest = blocks.units().first().copied().unwrap_or(0);
    let mut heights: Vec<u32> = blocks
        .heights(bar.most_blocks, largest.saturating_sub(wear), meter)?
        .into_iter()
        .map(|height| height + wear)
        .collect();
    // Below the smallest stack the difference of two may do; whether it does is
    // found when a stack is made for it.
    let step = blocks.step_units();
    let below = (smallest.saturating_add(wear)).min(largest.saturating_add(1));
    heights.extend((1..below.div_ceil(step)).map(|multiple| multiple * step));
    meter.spend(u64::try_from(heights.len()).unwrap_or(u64::MAX))?;
    let mut points = vec![FinePoint::from_arcsec(0, 0)];
    for height in heights.into_iter().map(i64::from) {
        let tilt = tilt_rad(bar, &blocks, height);
        points.push(FinePoint::from_radians(tilt, height)?);
        if bar.turns_end_for_end {
            points.push(FinePoint::from_radians(-tilt, -height)?);
        }
    }
    let points = FinePoints::new(points);
    Ok(maker.fine_way(WayKind::SineBar, only_zero()?, points))
}

/// The real tilt of a point of a sine bar, unless it is exact.
///
/// Of all rational angles from 0° to below 90° only 0° and 30° have a rational
/// sine (Niven's theorem), and the heights of blocks are rational parts of the
/// bar's length as written.
pub(super) fn sine_bar_real_rad(bar: &SineBar, point: FinePoint) -> Option<f64> {
    let blocks = bar.blocks.blocks();
    let height = point.tag();
    #[allow(
        clippy::float_cmp,
        reason = "nominal sizes as written, each rounded once; all but equal is not exact"
    )]
    let half = blocks.unit().to_mm(height.saturating_abs() * 2) == bar.length.mm();
    (height != 0 && !half).then(|| tilt_rad(bar, &blocks, height))
}

/// The stacks for a tilt; none when the blocks do not make it.
pub(super) fn sine_bar_setting(
    bar: &SineBar,
    point: FinePoint,
    meter: &mut Meter<'_>,
) -> Result<Option<Setting>> {
    let mut blocks = bar.blocks.blocks();
    let unit = blocks.unit();
    let height_units = u32::try_from(point.tag().unsigned_abs()).map_err(Error::internal)?;
    let wear_block_units = bar.wear_block_units()?;
    let wanted = match (height_units, bar.two_stacks) {
        (0, _) => 0,
        (_, false) => 1,
        (_, true) => 2,
    };
    let mut stacks = Vec::with_capacity(wanted);
    let mut has_wear_blocks = false;
    for _ in 0..wanted {
        let Some((stack, wear)) = blocks_for(bar, &blocks, height_units, wear_block_units, meter)?
        else {
            return Ok(None);
        };
        let used = [stack.high.as_slice(), stack.low.as_slice()].concat();
        has_wear_blocks |= wear;
        stacks.push(stack);
        if stacks.len() < wanted {
            blocks = match blocks.without(&used) {
                Ok(rest) => rest,
                Err(error) if error.kind() == ErrorKind::EmptyList => return Ok(None),
                Err(error) => return Err(error),
            };
        }
    }
    Ok(Some(Setting::SineBar {
        reversed: point.tag() < 0,
        unit,
        height_units,
        stacks,
        wear_block_units: wear_block_units.filter(|_| has_wear_blocks),
    }))
}

/// One stack, or the difference of two, of blocks still there, and whether wear
/// blocks stand at its ends.
fn blocks_for(
    bar: &SineBar,
    blocks: &BlockSet,
    height_units: u32,
    wear_block_units: Option<u32>,
    meter: &mut Meter<'_>,
) -> Result<Option<(StackedBlocks, bool)>> {
    let few = |count: usize| count <= bar.most_blocks as usize;
    if height_units > 2 * wear_block_units.unwrap_or(0) {
        match blocks.stack(height_units, 0, wear_block_units, meter) {
            Ok(stack) if few(stack.blocks.len()) => {
                let stacked = StackedBlocks {
                    high: stack.blocks,
                    low: Vec::new(),
                };
                return Ok(Some((stacked, wear_block_units.is_some())));
            }
            Ok(_) => {}
            Err(error) if error.kind() == ErrorKind::NotFound => {}
            Err(error) => return Err(error),
        }
    }
    let difference = blocks.exact_difference(height_units, bar.most_blocks as usize, meter)?;
    Ok(difference.map(|stacks| {
        let stacked = StackedBlocks {
            high: stacks.higher,
            low: stacks.lower,
        };
        (stacked, false)
    }))
}

pub(super) fn angle_blocks_way(
    set: &AngleBlocks,
    maker: WayMaker,
    meter: &mut Meter<'_>,
) -> Result<Way> {
    let mut points = vec![FinePoint::from_arcsec(0, 0)];
    for arcsec in set.blocks.blocks().angles_arcsec(meter)? {
        let arcsec = i64::from(arcsec);
        points.push(FinePoint::from_arcsec(arcsec, arcsec));
        points.push(FinePoint::from_arcsec(-arcsec, -arcsec));
    }
    let points = FinePoints::new(points);
    let mut way = maker.fine_way(WayKind::AngleBlocks, only_zero()?, points);
    // Did they go all the way round, they would hold every multiple of a step.
    let step = set
        .blocks
        .blocks()
        .arcsec()
        .iter()
        .fold(0, |all, block| num_integer::gcd(all, *block));
    way.full_order = i128::from(1_296_000 / num_integer::gcd(step.max(1), 1_296_000));
    Ok(way)
}

pub(super) fn angle_blocks_setting(
    set: &AngleBlocks,
    point: FinePoint,
    meter: &mut Meter<'_>,
) -> Result<Option<Setting>> {
    if point.tag() == 0 {
        return Ok(Some(Setting::AngleStack {
            plus_arcsec: Vec::new(),
            minus_arcsec: Vec::new(),
        }));
    }
    let stack = set.blocks.blocks().signed_stack(point.tag(), meter)?;
    Ok(Some(Setting::AngleStack {
        plus_arcsec: stack.plus_arcsec,
        minus_arcsec: stack.minus_arcsec,
    }))
}

pub(super) fn protractor_way(protractor: &Protractor, maker: WayMaker) -> Result<Way> {
    let parts = protractor.parts();
    let set = OrientationSet::equally_spaced(parts)?;
    Ok(maker.way(WayKind::Inclination, set, Angle::ZERO, parts))
}

pub(super) fn inclination(presented: Angle) -> Setting {
    Setting::Inclination {
        reading: presented.within_turn(),
    }
}
