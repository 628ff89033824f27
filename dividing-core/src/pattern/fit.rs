//! Pin and hole by a fit, and how they register.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use super::brief::{PlateBrief, PlateUse};
use crate::equipment::{PinHold, PinInHole, Seating};
use crate::error::{Error, ErrorKind, Result};
use crate::fits::{Fit, Limits};
use crate::length::Length;

/// A fit on a nominal size, as written: `"6 mm H7/g6"` (ISO 286-1).
///
/// ```
/// use dividing_core::pattern::PinFit;
/// let fit: PinFit = "6 mm H7/g6".parse()?;
/// assert_eq!(fit.to_string(), "6 mm H7/g6");
/// assert_eq!(fit.limits().hole.upper().mm(), 6.012);
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct PinFit {
    text: String,
    limits: Fit,
}

impl PinFit {
    /// Limits of hole and pin.
    #[must_use]
    pub const fn limits(&self) -> Fit {
        self.limits
    }

    /// Whether every pin is as large as its hole or larger.
    pub(crate) fn is_pressed(&self) -> bool {
        self.limits.hole.upper() <= self.limits.pin.lower()
    }

    /// Refuses fits that neither slide nor hold.
    pub(crate) fn check(&self, usage: &PlateUse) -> Result<()> {
        match usage {
            PlateUse::Pins { .. } if self.is_pressed() => Ok(()),
            PlateUse::Pins { .. } => self
                .limits
                .sliding_clearance()
                .map(|_| ())
                .map_err(|error| {
                    Error::new(
                        error.kind(),
                        format!(
                            "{}; or one that holds every pin, as with H7/p6",
                            error.message()
                        ),
                    )
                }),
            _ => self.limits.sliding_clearance().map(|_| ()),
        }
    }
}

impl fmt::Display for PinFit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

impl FromStr for PinFit {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self> {
        Ok(Self {
            text: text.trim().to_owned(),
            limits: text.parse()?,
        })
    }
}

impl Serialize for PinFit {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.text)
    }
}

impl<'de> Deserialize<'de> for PinFit {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> std::result::Result<Self, D::Error> {
        String::deserialize(deserializer)?
            .parse()
            .map_err(de::Error::custom)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for PinFit {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "PinFit".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "description": "A nominal size and the tolerance classes of hole and pin, ISO 286-1.",
            "type": "string",
            "examples": ["6 mm H7/g6"]
        })
    }
}

impl PlateBrief {
    /// The largest diameter of a hole, in millimetres: the one given, or the
    /// upper limit of the fit. Webs and edges are kept for it.
    #[must_use]
    pub fn largest_hole_mm(&self) -> f64 {
        match (&self.fit, self.hole_diameter) {
            (Some(fit), _) => fit.limits.hole.upper().mm(),
            (None, hole) => hole.map_or(0.0, Length::mm),
        }
    }

    /// The largest diameter of a pin, in millimetres, if it is known.
    #[must_use]
    pub fn largest_pin_mm(&self) -> Option<f64> {
        match &self.fit {
            Some(fit) => Some(fit.limits.pin.upper().mm()),
            None => self.pin_diameter.map(Length::mm),
        }
    }

    /// What to write beside a hole: the diameter, or the size and class of the fit.
    pub(crate) fn hole_text(&self) -> String {
        match &self.fit {
            Some(fit) => fit
                .text
                .rsplit_once('/')
                .map_or_else(|| fit.text.clone(), |(hole, _)| hole.to_owned()),
            None => format!("{:.3} mm", self.largest_hole_mm()),
        }
    }

    /// Pin and holes as equipment takes them; none where the pin or the
    /// hole-position tolerance is not given, for then no error can be foretold.
    ///
    /// Limits become their middle with half their width either way. A pressed
    /// pin fills its hole, so hole and pin count as one size.
    ///
    /// # Errors
    /// Those of a length out of range.
    pub fn pin_in_hole(&self) -> Result<Option<PinInHole>> {
        let Some(hole_position_tolerance) = self.hole_position_tolerance else {
            return Ok(None);
        };
        let mut pins = PinInHole {
            pin_diameter: Length::ZERO,
            hole_diameter: Length::ZERO,
            hole_position_tolerance,
            hole_diameter_tolerance: Length::ZERO,
            pin_diameter_tolerance: Length::ZERO,
            seating: Seating::Free,
            drilled: None,
        };
        match (&self.fit, self.pin_diameter, self.hole_diameter) {
            (Some(fit), ..) => {
                let (pin, pin_tolerance) = middle_and_half(fit.limits.pin)?;
                let (hole, hole_tolerance) = middle_and_half(fit.limits.hole)?;
                pins.pin_diameter = pin;
                pins.pin_diameter_tolerance = pin_tolerance;
                pins.hole_diameter = if fit.is_pressed() { pin } else { hole };
                pins.hole_diameter_tolerance = hole_tolerance;
            }
            (None, Some(pin), Some(hole)) => {
                pins.pin_diameter = pin;
                pins.hole_diameter = hole;
            }
            _ => return Ok(None),
        }
        Ok(Some(pins))
    }

    /// How pins sit in a pin plate: pressed where the fit holds every pin.
    pub(crate) fn pin_hold(&self) -> PinHold {
        match &self.fit {
            Some(fit) if fit.is_pressed() => PinHold::Fixed,
            _ => PinHold::Loose,
        }
    }

    /// Checks that the holes are given once, and the pin with them.
    pub(crate) fn check_pin_and_holes(&self) -> Result<()> {
        let both = |what: &str| {
            Err(Error::new(
                ErrorKind::Inconsistent,
                format!("a fit already gives the {what}; leave one of the two out"),
            ))
        };
        match (&self.fit, self.hole_diameter, self.pin_diameter) {
            (None, None, _) => Err(Error::new(
                ErrorKind::InvalidField,
                "the holes have no size; give hole_diameter, or fit such as \"6 mm H7/g6\"",
            )
            .at("hole_diameter")),
            (Some(_), Some(_), _) => {
                both("holes").map_err(|error: Error| error.at("hole_diameter"))
            }
            (Some(_), None, Some(_)) => {
                both("pin").map_err(|error: Error| error.at("pin_diameter"))
            }
            (Some(fit), None, None) => fit.check(&self.usage).map_err(|error| error.at("fit")),
            (None, Some(hole), pin) => {
                hole.check_positive()
                    .map_err(|error| error.at("hole_diameter"))?;
                let Some(pin) = pin else { return Ok(()) };
                pin.check_positive()
                    .map_err(|error| error.at("pin_diameter"))?;
                if pin > hole {
                    return Err(Error::new(
                        ErrorKind::Inconsistent,
                        format!(
                            "a pin of {pin} does not enter a hole of {hole}; accepted: at most the hole diameter"
                        ),
                    )
                    .at("pin_diameter"));
                }
                Ok(())
            }
        }
    }

    /// The pin for another hole, the clearance of the largest sizes kept; none where
    /// the brief has no pin, or none that small would be left.
    pub(crate) fn pin_for_hole_mm(&self, hole_mm: f64) -> Option<f64> {
        let clearance_mm = self.largest_hole_mm() - self.largest_pin_mm()?;
        // A whole nanometre, as sizes are written.
        let pin_mm = ((hole_mm - clearance_mm) * 1.0e6).round() / 1.0e6;
        (pin_mm > 0.0).then_some(pin_mm)
    }

    /// The same brief with another hole, the clearance of the largest sizes kept.
    pub(crate) fn with_hole_mm(&self, hole_mm: f64) -> Result<Self> {
        let mut other = self.clone();
        if self.largest_pin_mm().is_some() {
            let pin_mm = self.pin_for_hole_mm(hole_mm).unwrap_or(0.0);
            other.pin_diameter = Some(Length::from_mm(pin_mm)?);
        }
        other.hole_diameter = Some(Length::from_mm(hole_mm)?);
        other.fit = None;
        Ok(other)
    }
}

/// Limits as a size with a deviation either way.
fn middle_and_half(limits: Limits) -> Result<(Length, Length)> {
    let (lower, upper) = (limits.lower().mm(), limits.upper().mm());
    // A whole nanometre, so that what is written down is what was meant.
    let tidy = |mm: f64| Length::from_mm((mm * 1.0e6).round() / 1.0e6);
    Ok((
        tidy(f64::midpoint(lower, upper))?,
        tidy((upper - lower) / 2.0)?,
    ))
}
