//! Level or protractor: any angle, to its resolution.

use serde::{Deserialize, Serialize};

use super::blocks::check_error_angle;
use crate::angle::Angle;
use crate::document::check_name;
use crate::error::{AtField, Error, Result};

/// Finest resolution, as parts of a turn: a tenth of a second of arc.
pub const MAX_PROTRACTOR_PARTS: i128 = 12_960_000;

/// A level, clinometer or protractor that shows how far the part is turned.
///
/// It holds every multiple of its resolution.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Protractor {
    /// What the shop calls it.
    pub name: String,
    /// The finest step that can be read; a whole part of a turn.
    pub resolution: Angle,
    /// Deviation of its readings, either way, beyond half the resolution.
    /// Needed for an error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instrument_error: Option<Angle>,
}

impl Protractor {
    /// Readings in a turn.
    #[must_use]
    pub const fn parts(&self) -> i128 {
        self.resolution.denominator()
    }

    pub(crate) fn check(&self) -> Result<()> {
        check_name(&self.name).at("name")?;
        if self.resolution.numerator() != 1
            || !(2..=MAX_PROTRACTOR_PARTS).contains(&self.resolution.denominator())
        {
            return Err(Error::out_of_range(
                self.resolution,
                "a whole part of a turn from 0.1\" to 180°, such as 5' or 0.05 deg",
            )
            .at("resolution"));
        }
        match self.instrument_error {
            Some(error) => check_error_angle(error).at("instrument_error"),
            None => Ok(()),
        }
    }
}
