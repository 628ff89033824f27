//! Sine bar with gauge blocks, and angle gauge blocks: angles by stacks.

use serde::{Deserialize, Serialize};

use super::blocks::check_error_angle;
use crate::angle::Angle;
use crate::document::check_name;
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::gauge_blocks::{AngleBlockSet, BlockSet, NamedAngleBlockSet, NamedBlockSet};
use crate::length::Length;

/// Longest sine bar, in millimetres.
pub const MAX_SINE_BAR_MM: f64 = 1000.0;

/// Most gauge blocks that may be wrung to one stack.
pub const MAX_STACK_BLOCKS: u32 = 16;

/// A set of gauge blocks: one that makers sell, or the shop's own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum OwnedBlocks {
    /// A set by its name.
    Named(NamedBlockSet),
    /// The nominal sizes one by one.
    Own(BlockSet),
}

impl OwnedBlocks {
    /// The blocks of the set.
    #[must_use]
    pub fn blocks(&self) -> BlockSet {
        match self {
            Self::Named(named) => named.blocks(),
            Self::Own(own) => own.clone(),
        }
    }
}

/// A set of angle gauge blocks: one that makers sell, or the shop's own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum OwnedAngleBlocks {
    /// A set by its name.
    Named(NamedAngleBlockSet),
    /// The nominal angles in whole seconds of arc, one by one.
    Own(AngleBlockSet),
}

impl OwnedAngleBlocks {
    /// The blocks of the set.
    #[must_use]
    pub fn blocks(&self) -> AngleBlockSet {
        match self {
            Self::Named(named) => named.blocks(),
            Self::Own(own) => own.clone(),
        }
    }
}

/// A sine bar, plate or table with gauge blocks: it tilts what stands on it by
/// `asin(height/length)`.
///
/// Every height gives a real angle; only the level bar and 30° are exact.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SineBar {
    /// What the shop calls it.
    pub name: String,
    /// Distance of the roller centres, up to a metre.
    pub length: Length,
    /// The gauge blocks that set it.
    pub blocks: OwnedBlocks,
    /// Most blocks of one stack, wear blocks not counted; 1 to 16.
    #[serde(default = "five")]
    pub most_blocks: u32,
    /// Thickness of the wear block that stands at each end of a stack, if they
    /// are used; they do not come from the set.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wear_block: Option<Length>,
    /// Whether it is so wide that two equal stacks stand under its roller, the
    /// second made without the blocks of the first.
    #[serde(default)]
    pub two_stacks: bool,
    /// Whether it may also be used turned end for end, which tilts the other way.
    #[serde(default = "yes")]
    pub turns_end_for_end: bool,
    /// Steepest tilt that is used, above 0° and below 90°. The steeper the bar,
    /// the more an error of height or length turns it.
    #[serde(default = "sixty_degrees")]
    pub largest_angle: Angle,
    /// Deviation of one gauge block from its nominal size, either way. Needed
    /// for an error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub block_error: Option<Length>,
    /// Deviation of the distance of the roller centres, either way. Needed for
    /// an error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length_error: Option<Length>,
    /// How far the working face is out of line with the rollers, either way.
    #[serde(default)]
    pub face_error: Angle,
}

/// Angle gauge blocks: each adds its angle or, turned round, takes it away.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AngleBlocks {
    /// What the shop calls it.
    pub name: String,
    /// The blocks.
    pub blocks: OwnedAngleBlocks,
    /// Deviation of one block from its nominal angle, either way. Needed for an
    /// error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub block_error: Option<Angle>,
}

const fn five() -> u32 {
    5
}

const fn yes() -> bool {
    true
}

fn sixty_degrees() -> Angle {
    Angle::new(1, 6).unwrap_or(Angle::QUARTER_TURN)
}

impl SineBar {
    /// Thickness of one wear block in units of the set, if they are used.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] for a thickness between two units.
    pub(crate) fn wear_block_units(&self) -> Result<Option<u32>> {
        const ROUNDING_UNITS: f64 = 1e-6;
        let Some(wear) = self.wear_block else {
            return Ok(None);
        };
        let unit = self.blocks.blocks().unit();
        let units = unit.nearest(wear)?;
        if units == 0 || (wear.mm() / unit.mm() - f64::from(units)).abs() > ROUNDING_UNITS * 10.0 {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "a wear block of {wear} is no whole number of the set's unit of {} mm; accepted: a multiple of that, above 0",
                    unit.mm()
                ),
            ));
        }
        Ok(Some(units))
    }

    pub(crate) fn check(&self) -> Result<()> {
        check_name(&self.name).at("name")?;
        self.length.check_positive().at("length")?;
        if self.length.mm() > MAX_SINE_BAR_MM {
            return Err(
                Error::out_of_range(self.length, format!("at most {MAX_SINE_BAR_MM} mm"))
                    .at("length"),
            );
        }
        if !(1..=MAX_STACK_BLOCKS).contains(&self.most_blocks) {
            return Err(Error::out_of_range(
                self.most_blocks,
                format!("1 to {MAX_STACK_BLOCKS} blocks"),
            )
            .at("most_blocks"));
        }
        if let Some(wear) = self.wear_block {
            wear.check_positive().at("wear_block")?;
            self.wear_block_units().at("wear_block")?;
        }
        if self.largest_angle <= Angle::ZERO || self.largest_angle >= Angle::QUARTER_TURN {
            return Err(
                Error::out_of_range(self.largest_angle, "above 0° and below 90°")
                    .at("largest_angle"),
            );
        }
        for (name, error) in [
            ("block_error", self.block_error),
            ("length_error", self.length_error),
        ] {
            if let Some(error) = error {
                error.check_not_negative().at(name)?;
            }
        }
        check_error_angle(self.face_error).at("face_error")
    }
}

impl AngleBlocks {
    pub(crate) fn check(&self) -> Result<()> {
        check_name(&self.name).at("name")?;
        match self.block_error {
            Some(error) => check_error_angle(error).at("block_error"),
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::equipment::Workshop;
    use crate::error::{Error, ErrorKind};

    fn error(fields: &str) -> Error {
        let text = format!(
            r#"{{"format":1,"name":"x","equipment":[{{"sine_bar":{{"name":"s","blocks":{{"named":"metric_87"}},{fields}}}}}]}}"#
        );
        Workshop::from_json(&text).unwrap_err()
    }

    #[test]
    fn hostile_sine_bars_are_refused() {
        for (fields, field) in [
            (r#""length":0"#, "length"),
            (r#""length":1001"#, "length"),
            (r#""length":100,"most_blocks":0"#, "most_blocks"),
            (r#""length":100,"most_blocks":17"#, "most_blocks"),
            (r#""length":100,"largest_angle":"90 deg""#, "largest_angle"),
            (r#""length":100,"wear_block":-1"#, "wear_block"),
            (r#""length":100,"wear_block":2.00005"#, "wear_block"),
            (r#""length":100,"block_error":-0.001"#, "block_error"),
            (r#""length":100,"face_error":"-1 deg""#, "face_error"),
        ] {
            let found = error(fields);
            assert_eq!(
                found.field(),
                format!("equipment[0].sine_bar.{field}"),
                "{fields}"
            );
        }
        assert_eq!(
            error(r#""length":100,"blocks":{"named":"metric_99"}"#).kind(),
            ErrorKind::InvalidField
        );
    }
}
