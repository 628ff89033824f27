//! How a pin registers in a hole: sizes, tolerances and seating.

use serde::{Deserialize, Serialize};

use super::drilled::Drilled;
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::fits::{Fit, Limits};
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
///
/// In documents a `fit` such as `6 mm H7/g6` (ISO 286) may stand instead of the
/// diameters and their tolerances.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "PinInHoleDocument", into = "PinInHoleDocument")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PinInHole {
    /// Diameter of the pin.
    pub pin_diameter: Length,
    /// Diameter of the holes; not smaller than the pin.
    pub hole_diameter: Length,
    /// Diameter of the zone round its true place in which each hole's centre lies.
    pub hole_position_tolerance: Length,
    /// Deviation of a hole's diameter either way.
    pub hole_diameter_tolerance: Length,
    /// Deviation of a pin's diameter either way.
    pub pin_diameter_tolerance: Length,
    /// Where the pin lies in its hole.
    pub seating: Seating,
    /// How the holes were drilled, where their position follows from that; the
    /// position tolerance then stands at zero.
    pub drilled: Option<Drilled>,
}

/// A pin in holes as it is written.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "PinInHole"))]
struct PinInHoleDocument {
    /// Nominal size and tolerance classes of hole and pin, `6 mm H7/g6`,
    /// instead of the diameters and their tolerances.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    fit: Option<String>,
    /// Diameter of the pin. Needed without a fit.
    #[serde(default)]
    pin_diameter: Option<Length>,
    /// Diameter of the holes; not smaller than the pin. Needed without a fit.
    #[serde(default)]
    hole_diameter: Option<Length>,
    /// Diameter of the zone round its true place in which each hole's centre
    /// lies. Needed unless it is said how the holes were drilled.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    hole_position_tolerance: Option<Length>,
    /// How the holes were drilled, instead of their position tolerance.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    drilled: Option<Drilled>,
    /// Deviation of a hole's diameter either way.
    #[serde(default)]
    hole_diameter_tolerance: Option<Length>,
    /// Deviation of a pin's diameter either way.
    #[serde(default)]
    pin_diameter_tolerance: Option<Length>,
    /// Where the pin lies in its hole.
    #[serde(default)]
    seating: Seating,
}

impl TryFrom<PinInHoleDocument> for PinInHole {
    type Error = String;

    fn try_from(document: PinInHoleDocument) -> std::result::Result<Self, String> {
        let hole_position_tolerance = match (document.hole_position_tolerance, &document.drilled) {
            (Some(_), Some(_)) => {
                return Err(
                    "hole_position_tolerance stands beside drilled; give one of the two".into(),
                );
            }
            (Some(zone), None) => zone,
            (None, Some(_)) => Length::ZERO,
            (None, None) => return Err("missing field `hole_position_tolerance`".into()),
        };
        if let Some(text) = &document.fit {
            let sizes = [
                ("pin_diameter", document.pin_diameter),
                ("hole_diameter", document.hole_diameter),
                ("hole_diameter_tolerance", document.hole_diameter_tolerance),
                ("pin_diameter_tolerance", document.pin_diameter_tolerance),
            ];
            if let Some((name, _)) = sizes.iter().find(|(_, size)| size.is_some()) {
                return Err(format!("{name} stands beside a fit; give one of the two"));
            }
            let by_fit = Self::from_fit(
                text.parse()
                    .map_err(|error: Error| error.message().to_owned())?,
                hole_position_tolerance,
                document.seating,
            )
            .map_err(|error| error.message().to_owned())?;
            return Ok(Self {
                drilled: document.drilled,
                ..by_fit
            });
        }
        let missing = |name: &str| format!("missing field `{name}`");
        Ok(Self {
            pin_diameter: document
                .pin_diameter
                .ok_or_else(|| missing("pin_diameter"))?,
            hole_diameter: document
                .hole_diameter
                .ok_or_else(|| missing("hole_diameter"))?,
            hole_position_tolerance,
            drilled: document.drilled,
            hole_diameter_tolerance: document.hole_diameter_tolerance.unwrap_or_default(),
            pin_diameter_tolerance: document.pin_diameter_tolerance.unwrap_or_default(),
            seating: document.seating,
        })
    }
}

impl From<PinInHole> for PinInHoleDocument {
    fn from(pin: PinInHole) -> Self {
        Self {
            fit: None,
            pin_diameter: Some(pin.pin_diameter),
            hole_diameter: Some(pin.hole_diameter),
            hole_position_tolerance: match pin.drilled {
                Some(_) => None,
                None => Some(pin.hole_position_tolerance),
            },
            drilled: pin.drilled,
            hole_diameter_tolerance: Some(pin.hole_diameter_tolerance),
            pin_diameter_tolerance: Some(pin.pin_diameter_tolerance),
            seating: pin.seating,
        }
    }
}

/// The middle of limits and what is left either way.
fn middle(limits: Limits) -> Result<(Length, Length)> {
    // Freed of what binary fractions leave behind: to a picometre.
    let rounded = |mm: f64| Length::from_mm((mm * 1e9).round() / 1e9);
    let (lower, upper) = (limits.lower().mm(), limits.upper().mm());
    Ok((
        rounded(f64::midpoint(lower, upper))?,
        rounded((upper - lower) / 2.0)?,
    ))
}

impl PinInHole {
    /// A pin in holes by their fit.
    ///
    /// ```
    /// use dividing_core::equipment::{PinInHole, Seating};
    /// let tolerance = "0.02 mm".parse()?;
    /// let pin = PinInHole::from_fit("6 mm H7/g6".parse()?, tolerance, Seating::Free)?;
    /// assert!((pin.greatest_clearance_mm() - 0.024).abs() < 1e-9);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] for an interference, with which a pin does
    /// not slide.
    pub fn from_fit(fit: Fit, hole_position_tolerance: Length, seating: Seating) -> Result<Self> {
        fit.sliding_clearance()?;
        let (hole_diameter, hole_diameter_tolerance) = middle(fit.hole)?;
        let (pin_diameter, pin_diameter_tolerance) = middle(fit.pin)?;
        Ok(Self {
            pin_diameter,
            hole_diameter,
            hole_position_tolerance,
            hole_diameter_tolerance,
            pin_diameter_tolerance,
            seating,
            drilled: None,
        })
    }

    /// Diameter of the zone in which each hole at a pitch radius lies, in
    /// millimetres: the position tolerance given, or what follows from how the
    /// holes were drilled.
    #[must_use]
    pub fn position_zone_mm(&self, pitch_radius_mm: f64) -> f64 {
        self.drilled
            .as_ref()
            .map_or(self.hole_position_tolerance.mm(), |it| {
                it.position_zone_mm(pitch_radius_mm)
            })
    }

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
        if let Some(drilled) = &self.drilled {
            drilled.check().at("drilled")?;
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
