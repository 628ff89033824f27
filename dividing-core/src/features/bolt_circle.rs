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
    /// How the drawing lies in the machine's axes; without it the centre is
    /// their zero and drawing angles count from X towards Y.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub axes: Option<MachineAxes>,
    /// Further chords to check by: over so many hole spaces each, 2 to half the
    /// count; the chord of neighbours is always given.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub chord_checks: Vec<u32>,
}

/// One half of a machine's axis.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum MachineAxis {
    /// Towards growing X.
    #[default]
    PlusX,
    /// Towards growing Y.
    PlusY,
    /// Towards falling X.
    MinusX,
    /// Towards falling Y.
    MinusY,
}

/// How the drawing lies in the machine's axes.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MachineAxes {
    /// X of the centre of the circle.
    #[serde(default)]
    pub centre_x: Length,
    /// Y of the centre of the circle.
    #[serde(default)]
    pub centre_y: Length,
    /// The axis along which drawing angle 0 lies.
    #[serde(default)]
    pub angle_zero: MachineAxis,
    /// The way in which drawing angles grow with X to the right and Y upward:
    /// counter-clockwise is from X towards Y.
    #[serde(default)]
    pub angles_grow: Sense,
}

/// A place in the machine's axes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HolePlace {
    /// Along X, in millimetres.
    pub x_mm: f64,
    /// Along Y, in millimetres.
    pub y_mm: f64,
}

impl BoltCircle {
    /// The place of a hole at a drawing angle, in the machine's axes:
    /// `x = r·cos θ`, `y = r·sin θ` from the centre, θ counted from the axis and
    /// in the sense that are given.
    ///
    /// ```
    /// use dividing_core::Angle;
    /// use dividing_core::features::BoltCircle;
    /// let circle: BoltCircle = serde_json::from_str(
    ///     r#"{"count": 4, "pitch_radius": 30, "axes": {"centre_x": 100, "centre_y": 50,
    ///         "angle_zero": "plus_y", "angles_grow": "clockwise"}}"#).unwrap();
    /// let place = circle.place(Angle::QUARTER_TURN);
    /// assert!((place.x_mm - 130.0).abs() < 1e-9 && (place.y_mm - 50.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn place(&self, angle: Angle) -> HolePlace {
        let radius_mm = self.pitch_radius.mm();
        let axes = self.axes.clone().unwrap_or_default();
        let (sine, cosine) = axes
            .angles_grow
            .apply(angle)
            .within_turn()
            .to_radians_f64()
            .sin_cos();
        let (x, y) = match axes.angle_zero {
            MachineAxis::PlusX => (cosine, sine),
            MachineAxis::PlusY => (-sine, cosine),
            MachineAxis::MinusX => (-cosine, -sine),
            MachineAxis::MinusY => (sine, -cosine),
        };
        HolePlace {
            x_mm: axes.centre_x.mm() + radius_mm * x,
            y_mm: axes.centre_y.mm() + radius_mm * y,
        }
    }

    /// Centre distance of two holes so many hole spaces apart,
    /// `2·r·sin(π·k/N)`, in millimetres.
    ///
    /// ```
    /// use dividing_core::features::BoltCircle;
    /// let circle: BoltCircle = serde_json::from_str(r#"{"count": 6, "pitch_radius": 30}"#).unwrap();
    /// assert!((circle.chord_mm(3) - 60.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn chord_mm(&self, spaces: u32) -> f64 {
        let around = f64::from(spaces % self.count.max(1)) / f64::from(self.count.max(1));
        2.0 * self.pitch_radius.mm() * (std::f64::consts::PI * around).sin()
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
        self.chord_mm(1)
    }

    pub(super) fn check(&self) -> Result<()> {
        check_count(self.count).at("count")?;
        self.pitch_radius.check_positive().at("pitch_radius")?;
        for (index, spaces) in self.chord_checks.iter().enumerate() {
            if !(2..=self.count / 2).contains(spaces) {
                return Err(Error::out_of_range(
                    spaces,
                    format!("2 to {} hole spaces, half the count", self.count / 2),
                )
                .at(format!("chord_checks[{index}]")));
            }
        }
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
