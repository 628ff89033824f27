//! How a pin registers in a hole: sizes, tolerances and seating.

use serde::{Deserialize, Serialize};

use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

/// Where a pin lies in its hole.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Seating {
    /// Anywhere in the clearance.
    #[default]
    Free,
    /// Always pushed the same way, so that equal clearances cancel between holes.
    Biased,
}

/// A pin in holes of one size: what decides how well it locates.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PinInHole {
    /// Diameter of the pin.
    pub pin_diameter: Length,
    /// Diameter of the holes; not smaller than the pin.
    pub hole_diameter: Length,
    /// Diameter of the zone round its true place in which each hole's centre lies.
    pub hole_position_tolerance: Length,
    /// Deviation of a hole's diameter either way.
    #[serde(default)]
    pub hole_diameter_tolerance: Length,
    /// Deviation of a pin's diameter either way.
    #[serde(default)]
    pub pin_diameter_tolerance: Length,
    /// Where the pin lies in its hole.
    #[serde(default)]
    pub seating: Seating,
}

impl PinInHole {
    /// Nominal clearance, hole diameter less pin diameter, in millimetres.
    #[must_use]
    pub fn clearance_mm(&self) -> f64 {
        self.hole_diameter.mm() - self.pin_diameter.mm()
    }

    /// Greatest clearance within the tolerances, in millimetres.
    #[must_use]
    pub fn greatest_clearance_mm(&self) -> f64 {
        self.clearance_mm() + self.hole_diameter_tolerance.mm() + self.pin_diameter_tolerance.mm()
    }

    /// Least clearance within the tolerances, in millimetres; below zero a pin
    /// may not enter.
    #[must_use]
    pub fn least_clearance_mm(&self) -> f64 {
        self.clearance_mm() - self.hole_diameter_tolerance.mm() - self.pin_diameter_tolerance.mm()
    }

    pub(crate) fn check(&self) -> Result<()> {
        self.pin_diameter.check_positive().at("pin_diameter")?;
        self.hole_diameter.check_positive().at("hole_diameter")?;
        for (name, tolerance) in [
            ("hole_position_tolerance", self.hole_position_tolerance),
            ("hole_diameter_tolerance", self.hole_diameter_tolerance),
            ("pin_diameter_tolerance", self.pin_diameter_tolerance),
        ] {
            tolerance.check_not_negative().at(name)?;
        }
        check_pin_fits(self.pin_diameter, self.hole_diameter).at("pin_diameter")
    }
}

/// Refuses a pin that is larger than its hole.
pub(crate) fn check_pin_fits(pin: Length, hole: Length) -> Result<()> {
    if pin.mm() <= hole.mm() {
        return Ok(());
    }
    Err(Error::new(
        ErrorKind::Inconsistent,
        format!(
            "a pin of {pin} does not enter a hole of {hole}; accepted: a pin of at most {hole}"
        ),
    ))
}
