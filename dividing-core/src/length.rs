//! Lengths in millimetres, with an inch face.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use crate::error::{Error, ErrorKind, Result, quoted};

/// Millimetres in an inch, exactly (international yard and pound agreement, 1959).
pub const MM_PER_INCH: f64 = 25.4;

/// Largest length either way, in millimetres: a hundred metres.
pub const MAX_LENGTH_MM: f64 = 100_000.0;

/// A finite length, kept in millimetres.
///
/// ```
/// use dividing_core::Length;
/// let pin: Length = "0.250 in".parse()?;
/// assert_eq!(pin.mm(), 6.35);
/// assert_eq!(Length::from_mm(6.0)?.to_string(), "6 mm");
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Length {
    mm: f64,
}

impl Length {
    /// No length.
    pub const ZERO: Self = Self { mm: 0.0 };

    /// A length of `mm` millimetres.
    ///
    /// # Errors
    /// [`ErrorKind::NotFinite`] for NaN or an infinity, [`ErrorKind::OutOfRange`]
    /// beyond [`MAX_LENGTH_MM`].
    pub fn from_mm(mm: f64) -> Result<Self> {
        if !mm.is_finite() {
            return Err(Error::new(
                ErrorKind::NotFinite,
                format!("{mm} mm is not a finite length; accepted: a finite number of millimetres"),
            ));
        }
        if mm.abs() > MAX_LENGTH_MM {
            return Err(Error::out_of_range(
                format!("{mm:e} mm"),
                format!("at most {MAX_LENGTH_MM} mm either way"),
            ));
        }
        // A negative zero would print with a sign.
        Ok(Self { mm: mm + 0.0 })
    }

    /// A length of `inches` inches.
    ///
    /// # Errors
    /// As [`Length::from_mm`].
    pub fn from_inches(inches: f64) -> Result<Self> {
        Self::from_mm(inches * MM_PER_INCH)
    }

    /// The length in millimetres.
    #[must_use]
    pub const fn mm(self) -> f64 {
        self.mm
    }

    /// The length in inches.
    #[must_use]
    pub fn inches(self) -> f64 {
        self.mm / MM_PER_INCH
    }

    /// Refuses a length that is not greater than zero.
    pub(crate) fn check_positive(self) -> Result<()> {
        if self.mm > 0.0 {
            Ok(())
        } else {
            Err(Error::out_of_range(self, "greater than 0 mm"))
        }
    }

    /// Refuses a length below zero.
    pub(crate) fn check_not_negative(self) -> Result<()> {
        if self.mm >= 0.0 {
            Ok(())
        } else {
            Err(Error::out_of_range(self, "0 mm or more"))
        }
    }
}

impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", self.mm)
    }
}

impl FromStr for Length {
    type Err = Error;

    /// Reads a number with its unit: `6 mm`, `0.250 in`, `0.25"`, `20 um`, `20 µm`.
    fn from_str(text: &str) -> Result<Self> {
        const ACCEPTED: &str = "write for example 6 mm, 0.250 in or 20 um";
        let trimmed = text.trim();
        if trimmed.contains(',') {
            return Err(Error::new(
                ErrorKind::UnreadableText,
                format!(
                    "{} holds a comma; write decimals with a point, as in 6.5 mm",
                    quoted(text)
                ),
            ));
        }
        let split = trimmed
            .find(|c: char| !(c.is_ascii_digit() || "+-.".contains(c)))
            .unwrap_or(trimmed.len());
        let (number, unit) = trimmed.split_at(split);
        let value: f64 = number.parse().map_err(|_| {
            Error::new(
                ErrorKind::UnreadableText,
                format!("{} cannot be read as a length; {ACCEPTED}", quoted(text)),
            )
        })?;
        match unit.trim() {
            "mm" => Self::from_mm(value),
            "in" | "inch" | "inches" | "\"" => Self::from_inches(value),
            "um" | "µm" | "μm" => Self::from_mm(value / 1000.0),
            "" => Err(Error::new(
                ErrorKind::MissingUnit,
                format!("{} has no unit; {ACCEPTED}", quoted(text)),
            )),
            other => Err(Error::new(
                ErrorKind::UnreadableText,
                format!(
                    "{} is no unit of length in {}; accepted: mm, in, um",
                    quoted(other),
                    quoted(text)
                ),
            )),
        }
    }
}

impl Serialize for Length {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        serializer.serialize_f64(self.mm)
    }
}

struct LengthValue;

impl de::Visitor<'_> for LengthValue {
    type Value = Length;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a length: a number in millimetres or text with its unit, such as \"0.250 in\"")
    }

    fn visit_f64<E: de::Error>(self, mm: f64) -> std::result::Result<Length, E> {
        Length::from_mm(mm).map_err(E::custom)
    }

    #[allow(
        clippy::cast_precision_loss,
        reason = "lengths this large are refused anyway"
    )]
    fn visit_i64<E: de::Error>(self, mm: i64) -> std::result::Result<Length, E> {
        self.visit_f64(mm as f64)
    }

    #[allow(
        clippy::cast_precision_loss,
        reason = "lengths this large are refused anyway"
    )]
    fn visit_u64<E: de::Error>(self, mm: u64) -> std::result::Result<Length, E> {
        self.visit_f64(mm as f64)
    }

    fn visit_str<E: de::Error>(self, text: &str) -> std::result::Result<Length, E> {
        text.parse().map_err(E::custom)
    }
}

impl<'de> Deserialize<'de> for Length {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> std::result::Result<Self, D::Error> {
        deserializer.deserialize_any(LengthValue)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Length {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Length".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "description": "A length: a number in millimetres, or text with its unit.",
            "type": ["number", "string"],
            "examples": [6.35, "0.250 in", "20 um"]
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_in_documents_are_read_to_the_last_bit() {
        // A shortcut of the JSON reader would be off by a unit in the last place.
        for text in ["0.11967972013675404", "0.04329670329670329"] {
            let length: Length = serde_json::from_str(text).unwrap();
            assert_eq!(
                length.mm().to_bits(),
                text.parse::<f64>().unwrap().to_bits()
            );
            assert_eq!(serde_json::to_string(&length).unwrap(), text);
        }
    }

    #[test]
    fn reads_millimetres_inches_and_micrometres() {
        for (text, mm) in [
            ("6 mm", 6.0),
            ("0.250 in", 6.35),
            ("1\"", 25.4),
            ("20 um", 0.02),
            ("20µm", 0.02),
            ("-3mm", -3.0),
        ] {
            let length: Length = text.parse().unwrap();
            assert!((length.mm() - mm).abs() < 1e-12, "{text}");
        }
    }

    #[test]
    fn refuses_what_is_no_length() {
        let kind = |text: &str| text.parse::<Length>().unwrap_err().kind();
        assert_eq!(kind("6"), ErrorKind::MissingUnit);
        assert_eq!(kind("6,5 mm"), ErrorKind::UnreadableText);
        assert_eq!(kind("6 cubits"), ErrorKind::UnreadableText);
        assert_eq!(kind("NaN mm"), ErrorKind::UnreadableText);
        assert_eq!(kind("1000000000 mm"), ErrorKind::OutOfRange);
        assert_eq!(
            Length::from_mm(f64::NAN).unwrap_err().kind(),
            ErrorKind::NotFinite
        );
        assert!(Length::from_mm(-1.0).unwrap().check_positive().is_err());
    }

    #[test]
    fn a_negative_zero_becomes_zero() {
        assert_eq!(Length::from_mm(-0.0).unwrap().to_string(), "0 mm");
    }
}
