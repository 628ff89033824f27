//! The sine bar: height under one roller, angle of the bar.
//!
//! `height = length · sin(angle)`, where the length is the distance between the
//! roller centres.

use serde::Serialize;

use super::blocks::{BlockSet, DifferenceStack, Stack};
use crate::angle::Angle;
use crate::error::{AtField, Error, Result};
use crate::length::Length;
use crate::work::Meter;

/// The blocks that set a sine bar.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum SineBarBlocks {
    /// Both rollers on the plate.
    None,
    /// One stack under the higher roller.
    Stack(Stack),
    /// A stack under each roller, for a height below the smallest block.
    Difference(DifferenceStack),
}

/// A sine bar set to an angle.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SineBarSetting {
    /// The height that the angle asks for, in millimetres.
    pub wanted_height_mm: f64,
    /// The blocks.
    pub blocks: SineBarBlocks,
    /// The nominal height of the blocks, in millimetres.
    pub attained_height_mm: f64,
    /// The angle that the nominal height gives, in degrees.
    pub attained_deg: f64,
    /// Attained less wanted angle, in seconds of arc.
    pub residual_arcsec: f64,
}

/// The height in millimetres that sets a sine bar of a length to an angle.
///
/// # Errors
/// [`ErrorKind::OutOfRange`](crate::ErrorKind::OutOfRange) for a length that is not
/// positive or an angle not from 0 to below 90 degrees.
///
/// ```
/// use dividing_core::gauge_blocks::sine_bar::height_mm;
/// assert_eq!(height_mm("100 mm".parse()?, "30 deg".parse()?)?, 50.0);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn height_mm(length: Length, angle: Angle) -> Result<f64> {
    length.check_positive().at("length")?;
    if angle < Angle::ZERO || angle >= Angle::QUARTER_TURN {
        return Err(Error::out_of_range(angle, "0 to below 90 degrees").at("angle"));
    }
    // Of all rational angles below 90 degrees only 0 and 30 degrees have a
    // rational sine (Niven's theorem).
    if angle.numerator() == 1 && angle.denominator() == 12 {
        return Ok(length.mm() / 2.0);
    }
    Ok(length.mm() * angle.to_radians_f64().sin())
}

/// The angle in degrees of a sine bar of a length with a height under one roller.
///
/// # Errors
/// [`ErrorKind::OutOfRange`](crate::ErrorKind::OutOfRange) for a length that is not
/// positive or a height not from 0 to below the length.
///
/// ```
/// use dividing_core::gauge_blocks::sine_bar::angle_deg;
/// let angle_deg = angle_deg("5 in".parse()?, "2.270 in".parse()?)?;
/// assert!((angle_deg - 27.0).abs() < 0.001);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn angle_deg(length: Length, height: Length) -> Result<f64> {
    length.check_positive().at("length")?;
    if height < Length::ZERO || height >= length {
        return Err(Error::out_of_range(height, format!("0 mm to below {length}")).at("height"));
    }
    Ok((height.mm() / length.mm()).asin().to_degrees())
}

/// Sets a sine bar to an angle with the fewest blocks of a set whose height is
/// within a tolerance, in units of the set. A height that no single stack makes is
/// made by the difference of two.
///
/// # Errors
/// As [`height_mm`], [`BlockSet::stack`] and [`BlockSet::difference`].
///
/// ```
/// use dividing_core::gauge_blocks::{NamedBlockSet, sine_bar};
/// use dividing_core::work::Meter;
/// let setting = sine_bar::set(
///     "100 mm".parse()?,
///     "360/7 deg".parse()?,
///     &NamedBlockSet::Metric112.blocks(),
///     3,
///     &mut Meter::default(),
/// )?;
/// assert!(setting.residual_arcsec.abs() < 1.2);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn set(
    length: Length,
    angle: Angle,
    blocks: &BlockSet,
    tolerance_units: u32,
    meter: &mut Meter<'_>,
) -> Result<SineBarSetting> {
    let wanted_height_mm = height_mm(length, angle)?;
    let unit = blocks.unit();
    let height_units = unit
        .nearest(Length::from_mm(wanted_height_mm)?)
        .at("length")?;
    let smallest = blocks.units().first().copied().unwrap_or(0);
    let (made, attained_units) = if height_units == 0 {
        (SineBarBlocks::None, 0)
    } else if height_units.saturating_add(tolerance_units) < smallest {
        let stacks = blocks.difference(height_units, tolerance_units, meter)?;
        let height = stacks.height_units();
        (SineBarBlocks::Difference(stacks), height)
    } else {
        match blocks.stack(height_units, tolerance_units, None, meter) {
            Ok(stack) => {
                let height = stack.height_units();
                (SineBarBlocks::Stack(stack), height)
            }
            Err(error) if error.kind() == crate::ErrorKind::NotFound => {
                let stacks = blocks.difference(height_units, tolerance_units, meter)?;
                let height = stacks.height_units();
                (SineBarBlocks::Difference(stacks), height)
            }
            Err(error) => return Err(error),
        }
    };
    let attained_height_mm = unit.to_mm(attained_units);
    let attained_deg = angle_deg(length, Length::from_mm(attained_height_mm)?)?;
    Ok(SineBarSetting {
        wanted_height_mm,
        blocks: made,
        attained_height_mm,
        attained_deg,
        residual_arcsec: (attained_deg - angle.to_degrees_f64()) * 3600.0,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gauge_blocks::NamedBlockSet;

    fn setting(angle: &str) -> Result<SineBarSetting> {
        set(
            "100 mm".parse().unwrap(),
            angle.parse().unwrap(),
            &NamedBlockSet::Metric112.blocks(),
            3,
            &mut Meter::default(),
        )
    }

    #[test]
    fn a_setting_comes_back_to_the_angle() {
        for degrees in 0..75 {
            let found = setting(&format!("{degrees}.37 deg")).unwrap();
            // Three tenths of a micrometre on 100 mm at up to 75 degrees.
            let largest = 0.35e-3 / 100.0 / f64::to_radians(75.4).cos();
            assert!(found.residual_arcsec.abs() < largest.to_degrees() * 3600.0);
            assert!((found.attained_height_mm - found.wanted_height_mm).abs() < 0.00036);
        }
    }

    #[test]
    fn small_heights_take_two_stacks() {
        assert!(matches!(
            setting("0.1 deg").unwrap().blocks,
            SineBarBlocks::Difference(_)
        ));
        assert!(matches!(
            setting("20 deg").unwrap().blocks,
            SineBarBlocks::Stack(_)
        ));
        assert_eq!(setting("0 deg").unwrap().blocks, SineBarBlocks::None);
        let thirty = setting("30 deg").unwrap();
        assert!((thirty.wanted_height_mm - 50.0).abs() == 0.0);
        assert!(thirty.residual_arcsec.abs() < 1e-9);
    }

    #[test]
    fn what_no_bar_can_do_is_refused() {
        assert_eq!(setting("90 deg").unwrap_err().field(), "angle");
        assert_eq!(setting("-1 deg").unwrap_err().field(), "angle");
        assert!(height_mm(Length::ZERO, Angle::ZERO).is_err());
        let length: Length = "100 mm".parse().unwrap();
        assert!(angle_deg(length, length).is_err());
    }
}
