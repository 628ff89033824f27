//! Bolt circles: places in the machine's axes and chords to check them by.

use serde::{Deserialize, Serialize};

use super::check_count;
use crate::angle::Angle;
use crate::equipment::Sense;
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

/// Holes, equally spaced on a circle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct BoltCircle {
    /// How many holes, 2 to 100,000.
    pub count: u32,
    /// Radius of the pitch circle.
    pub pitch_radius: Length,
    /// Diameter of the holes; only written on the sheet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hole_diameter: Option<Length>,
    /// Drawing angle of the first hole, from the X axis.
    #[serde(default)]
    pub first_angle: Angle,
    /// The way round in which the holes are made.
    #[serde(default)]
    pub direction: Sense,
}

/// A place in the machine's axes, from the centre of the circle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HolePlace {
    /// Along X, in millimetres.
    pub x_mm: f64,
    /// Along Y, in millimetres.
    pub y_mm: f64,
}

impl BoltCircle {
    /// The place of a hole at a drawing angle: `x = r·cos θ`, `y = r·sin θ`.
    #[must_use]
    pub fn place(&self, angle: Angle) -> HolePlace {
        let radius_mm = self.pitch_radius.mm();
        let (sine, cosine) = angle.within_turn().to_radians_f64().sin_cos();
        HolePlace {
            x_mm: radius_mm * cosine,
            y_mm: radius_mm * sine,
        }
    }

    /// Centre distance of neighbouring holes, `2·r·sin(π/N)`, in millimetres.
    ///
    /// ```
    /// use dividing_core::features::BoltCircle;
    /// let circle: BoltCircle = serde_json::from_str(r#"{"count": 6, "pitch_radius": 30}"#).unwrap();
    /// assert!((circle.neighbour_chord_mm() - 30.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn neighbour_chord_mm(&self) -> f64 {
        2.0 * self.pitch_radius.mm() * (std::f64::consts::PI / f64::from(self.count)).sin()
    }

    pub(super) fn check(&self) -> Result<()> {
        check_count(self.count).at("count")?;
        self.pitch_radius.check_positive().at("pitch_radius")?;
        match self.hole_diameter {
            Some(diameter) => {
                diameter.check_positive().at("hole_diameter")?;
                if diameter.mm() >= self.neighbour_chord_mm() {
                    return Err(Error::new(
                        ErrorKind::Inconsistent,
                        format!(
                            "holes of {diameter} run into each other at {:.3} mm from centre to centre; \
                             accepted: less than that",
                            self.neighbour_chord_mm()
                        ),
                    )
                    .at("hole_diameter"));
                }
                Ok(())
            }
            None => Ok(()),
        }
    }
}
