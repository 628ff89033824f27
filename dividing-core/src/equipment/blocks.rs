//! Faced blocks (square, hexagon, … collet blocks) and V-blocks to lay them in.

use serde::{Deserialize, Serialize};

use crate::angle::Angle;
use crate::document::check_name;
use crate::error::{AtField, Error, Result};

/// Most faces of a block.
pub const MAX_FACES: u32 = 1000;

/// A block with equal faces round the spindle axis.
///
/// Flat in a vise it holds `<1/faces>`; laid in a V-block where it seats it may
/// add the half step.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FacedBlock {
    /// What the shop calls it.
    pub name: String,
    /// Equal faces, 3 to 1000.
    pub faces: u32,
    /// Deviation of a face from its true direction, either way. Needed for an
    /// error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub face_error: Option<Angle>,
    /// Tilt of the block in its seat (vise, parallels, chips aside), either way.
    #[serde(default)]
    pub seat_error: Angle,
}

impl FacedBlock {
    pub(crate) fn check(&self) -> Result<()> {
        check_name(&self.name).at("name")?;
        if !(3..=MAX_FACES).contains(&self.faces) {
            return Err(
                Error::out_of_range(self.faces, format!("3 to {MAX_FACES} faces")).at("faces"),
            );
        }
        if let Some(error) = self.face_error {
            check_error_angle(error).at("face_error")?;
        }
        check_error_angle(self.seat_error).at("seat_error")
    }
}

/// A V-block that stands with its V upright.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct VeeBlock {
    /// What the shop calls it.
    pub name: String,
    /// Angle between the two flanks, above 0° and below 180°.
    pub included_angle: Angle,
    /// Deviation of a flank from its true direction, either way. Needed for an
    /// error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flank_error: Option<Angle>,
}

impl VeeBlock {
    pub(crate) fn check(&self) -> Result<()> {
        check_name(&self.name).at("name")?;
        if self.included_angle <= Angle::ZERO || self.included_angle >= Angle::HALF_TURN {
            return Err(
                Error::out_of_range(self.included_angle, "above 0° and below 180°")
                    .at("included_angle"),
            );
        }
        match self.flank_error {
            Some(error) => check_error_angle(error).at("flank_error"),
            None => Ok(()),
        }
    }
}

/// Refuses an error limit that is negative or a quarter turn and more.
pub(crate) fn check_error_angle(error: Angle) -> Result<()> {
    if error >= Angle::ZERO && error < Angle::QUARTER_TURN {
        Ok(())
    } else {
        Err(Error::out_of_range(
            error,
            "an error limit from 0° to below 90°",
        ))
    }
}
