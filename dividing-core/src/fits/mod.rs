//! Limits and fits: from tolerance classes or given sizes to clearance.
//!
//! Tolerance classes follow ISO 286-1:2010 for nominal sizes to 500 mm, grades
//! IT5 to IT11, deviations D to P. A size on the limit of two steps belongs to
//! the lower one.

mod class;
mod tables;

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

pub use class::{Deviation, LimitDeviations, SizeKind, ToleranceClass};

use crate::error::{AtField, Error, ErrorKind, Result, quoted};
use crate::length::Length;

/// The least and the greatest size that a part may have.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Limits {
    lower: Length,
    upper: Length,
}

impl Limits {
    /// Limits of size, the lower one above zero.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a lower limit that is not above zero,
    /// [`ErrorKind::Inconsistent`] for one above the upper limit.
    pub fn new(lower: Length, upper: Length) -> Result<Self> {
        lower.check_positive().at("lower")?;
        if lower > upper {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "the lower limit {lower} is above the upper limit {upper}; \
                     accepted: the lower limit first"
                ),
            ));
        }
        Ok(Self { lower, upper })
    }

    /// A size with its deviations, as `0.2500 in` with −0.0002 in and +0.
    ///
    /// ```
    /// use dividing_core::Length;
    /// use dividing_core::fits::Limits;
    /// let pin = Limits::from_deviations(
    ///     "0.2500 in".parse()?,
    ///     "-0.0002 in".parse()?,
    ///     Length::ZERO,
    /// )?;
    /// assert_eq!(pin.upper().mm(), 6.35);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`Limits::new`].
    pub fn from_deviations(nominal: Length, lower: Length, upper: Length) -> Result<Self> {
        Self::new(
            Length::from_mm(nominal.mm() + lower.mm())?,
            Length::from_mm(nominal.mm() + upper.mm())?,
        )
    }

    /// The least size.
    #[must_use]
    pub const fn lower(self) -> Length {
        self.lower
    }

    /// The greatest size.
    #[must_use]
    pub const fn upper(self) -> Length {
        self.upper
    }
}

impl<'de> Deserialize<'de> for Limits {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> std::result::Result<Self, D::Error> {
        #[derive(Deserialize)]
        #[serde(deny_unknown_fields)]
        struct Fields {
            lower: Length,
            upper: Length,
        }
        let fields = Fields::deserialize(deserializer)?;
        Self::new(fields.lower, fields.upper).map_err(de::Error::custom)
    }
}

/// A hole and a pin that belong together.
///
/// ```
/// use dividing_core::fits::Fit;
/// let fit: Fit = "6 mm H7/g6".parse()?;
/// let clearance = fit.sliding_clearance()?;
/// assert_eq!(clearance.least.mm(), 0.004);
/// assert_eq!(clearance.greatest.mm(), 0.024);
///
/// let tight: Fit = "6 mm H7/m6".parse()?;
/// assert!(tight.sliding_clearance().unwrap_err().message().contains("interference"));
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fit {
    /// Limits of the hole.
    pub hole: Limits,
    /// Limits of the pin.
    pub pin: Limits,
}

/// Hole less pin, over the limits of both.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Clearance {
    /// Smallest hole less largest pin.
    pub least: Length,
    /// Middle of least and greatest.
    pub mean: Length,
    /// Largest hole less smallest pin.
    pub greatest: Length,
}

impl Fit {
    /// Hole less pin; below zero where the two interfere.
    ///
    /// # Errors
    /// None for limits within the range of a length.
    pub fn clearance(self) -> Result<Clearance> {
        let least = difference_mm(self.hole.lower, self.pin.upper);
        let greatest = difference_mm(self.hole.upper, self.pin.lower);
        Ok(Clearance {
            least: Length::from_mm(least)?,
            mean: Length::from_mm(f64::midpoint(least, greatest))?,
            greatest: Length::from_mm(greatest)?,
        })
    }

    /// The clearance of a pin that must slide in and out by hand.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] where the largest pin does not enter the
    /// smallest hole.
    pub fn sliding_clearance(self) -> Result<Clearance> {
        let clearance = self.clearance()?;
        if clearance.least.mm() < 0.0 {
            let whole = if clearance.greatest.mm() < 0.0 {
                "every pin interferes with every hole"
            } else {
                "some pins interfere with some holes"
            };
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "{whole}: hole {} to {}, pin {} to {}, interference up to {:.4} mm; \
                     a pin that registers by sliding needs a smallest hole no smaller than \
                     the largest pin, as with H7/g6 or H7/h6",
                    self.hole.lower,
                    self.hole.upper,
                    self.pin.lower,
                    self.pin.upper,
                    -clearance.least.mm(),
                ),
            ));
        }
        Ok(clearance)
    }
}

/// A difference of two sizes, freed of what binary fractions leave behind:
/// rounded to a picometre, far below any size that exists.
fn difference_mm(larger: Length, smaller: Length) -> f64 {
    ((larger.mm() - smaller.mm()) * 1e9).round() / 1e9
}

impl FromStr for Fit {
    type Err = Error;

    /// Reads a nominal size and two classes: `6 mm H7/g6`, `0.25 in H7/g6`, or
    /// `6 H7/g6` in millimetres as written on drawings.
    fn from_str(text: &str) -> Result<Self> {
        let unreadable = || {
            Error::new(
                ErrorKind::UnreadableText,
                format!(
                    "{} is no fit on a size; write for example 6 mm H7/g6",
                    quoted(text)
                ),
            )
        };
        let (size, classes) = text.trim().rsplit_once(' ').ok_or_else(unreadable)?;
        let nominal = match size.parse::<Length>() {
            Err(error) if error.kind() == ErrorKind::MissingUnit => {
                format!("{} mm", size.trim()).parse()
            }
            read => read,
        }?;
        classes.parse::<FitClass>()?.on(nominal)
    }
}

/// Two tolerance classes with a stroke between them: `H7/g6`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct FitClass {
    hole: ToleranceClass,
    pin: ToleranceClass,
}

impl FitClass {
    /// The class of a hole and of the pin in it.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] unless the first is a hole and the second a shaft.
    pub fn new(hole: ToleranceClass, pin: ToleranceClass) -> Result<Self> {
        if hole.kind() == SizeKind::Hole && pin.kind() == SizeKind::Shaft {
            Ok(Self { hole, pin })
        } else {
            Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "{hole}/{pin} does not name a hole and then a shaft; \
                     accepted: capital letters before the stroke, small ones after it, as in H7/g6"
                ),
            ))
        }
    }

    /// The class of the hole.
    #[must_use]
    pub const fn hole(self) -> ToleranceClass {
        self.hole
    }

    /// The class of the pin.
    #[must_use]
    pub const fn pin(self) -> ToleranceClass {
        self.pin
    }

    /// The fit on a nominal size over 0 to 500 mm.
    ///
    /// # Errors
    /// As [`ToleranceClass::limits`].
    pub fn on(self, nominal: Length) -> Result<Fit> {
        Ok(Fit {
            hole: self.hole.limits(nominal).at("hole")?,
            pin: self.pin.limits(nominal).at("pin")?,
        })
    }
}

impl fmt::Display for FitClass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.hole, self.pin)
    }
}

impl FromStr for FitClass {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self> {
        let (hole, pin) = text.split_once('/').ok_or_else(|| {
            Error::new(
                ErrorKind::UnreadableText,
                format!("{} is no fit; write for example H7/g6", quoted(text)),
            )
        })?;
        Self::new(hole.parse()?, pin.parse()?)
    }
}

impl Serialize for FitClass {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for FitClass {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> std::result::Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        text.parse().map_err(de::Error::custom)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for FitClass {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "FitClass".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "description": "The tolerance classes of a hole and of the pin in it, ISO 286-1.",
            "type": "string",
            "examples": ["H7/g6"]
        })
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Limits {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Limits".into()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let length = generator.subschema_for::<Length>();
        schemars::json_schema!({
            "description": "Least and greatest size.",
            "type": "object",
            "properties": { "lower": length, "upper": length },
            "required": ["lower", "upper"],
            "additionalProperties": false
        })
    }
}
