//! Exact positive ratios.

use std::cmp::Ordering;
use std::fmt;
use std::str::FromStr;

use num_integer::Integer;
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use super::wide::{Wide, compare_fractions};
use crate::angle::MAX_TERM;
use crate::error::{Error, ErrorKind, Result, quoted};

/// Smallest and largest real number taken as a ratio: no train of three pairs
/// with gears of 1 to 1000 teeth lies outside.
pub const REAL_RATIO_LIMITS: (f64, f64) = (1.0e-9, 1.0e9);

/// An exact positive ratio in lowest terms.
///
/// Written `n/d`; reads whole numbers, decimals and fractions, all exactly.
///
/// ```
/// use dividing_core::gearing::GearRatio;
/// assert_eq!(GearRatio::new(48, 32)?.to_string(), "3/2");
/// assert_eq!("25.4".parse::<GearRatio>()?, GearRatio::new(127, 5)?);
/// assert!(GearRatio::new(-1, 2).is_err());
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct GearRatio {
    numerator: u128,
    denominator: u128,
}

impl GearRatio {
    /// The ratio 1.
    pub const ONE: Self = Self {
        numerator: 1,
        denominator: 1,
    };

    /// The ratio `numerator / denominator`, both positive.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a term below 1, [`ErrorKind::Overflow`]
    /// when a term in lowest terms exceeds 10³⁵.
    pub fn new(numerator: i128, denominator: i128) -> Result<Self> {
        for (term, name) in [(numerator, "numerator"), (denominator, "denominator")] {
            if term < 1 {
                return Err(Error::out_of_range(term, "a whole number of 1 or more").at(name));
            }
        }
        Self::reduced(numerator.unsigned_abs(), denominator.unsigned_abs())
    }

    /// Reduces two terms that are not zero.
    fn reduced(numerator: u128, denominator: u128) -> Result<Self> {
        let common = numerator.gcd(&denominator).max(1);
        let (numerator, denominator) = (numerator / common, denominator / common);
        if numerator.max(denominator) > MAX_TERM.unsigned_abs() {
            return Err(Error::overflow("the ratio"));
        }
        Ok(Self {
            numerator,
            denominator,
        })
    }

    /// The ratio of two products of teeth, each at least 1 and at most 10⁹.
    pub(super) fn of_products(drivers: u64, driven: u64) -> Self {
        let common = drivers.gcd(&driven).max(1);
        Self {
            numerator: (drivers / common).into(),
            denominator: (driven / common).into(),
        }
    }

    /// The exact value of a double: a whole number over a power of two.
    /// Nothing is rounded.
    ///
    /// # Errors
    /// [`ErrorKind::NotFinite`] for NaN or an infinity,
    /// [`ErrorKind::OutOfRange`] outside [`REAL_RATIO_LIMITS`].
    ///
    /// ```
    /// use dividing_core::gearing::GearRatio;
    /// assert_eq!(GearRatio::from_f64(0.375)?, GearRatio::new(3, 8)?);
    /// // The double nearest to a third is not a third.
    /// assert_ne!(GearRatio::from_f64(1.0 / 3.0)?, GearRatio::new(1, 3)?);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn from_f64(value: f64) -> Result<Self> {
        if !value.is_finite() {
            return Err(Error::new(
                ErrorKind::NotFinite,
                format!("{value} is not a finite number; accepted: a finite ratio"),
            ));
        }
        let (least, most) = REAL_RATIO_LIMITS;
        if !(least..=most).contains(&value) {
            return Err(Error::out_of_range(
                format!("a ratio of {value}"),
                format!("{least} to {most}"),
            ));
        }
        let (mantissa, exponent, _) = num_traits::Float::integer_decode(value);
        // From 10⁻⁹ to 10⁹ the exponent lies between −82 and −23.
        if exponent >= 0 {
            Self::reduced(u128::from(mantissa) << exponent, 1)
        } else {
            Self::reduced(mantissa.into(), 1 << exponent.unsigned_abs())
        }
    }

    /// Numerator in lowest terms, 1 to 10³⁵.
    #[must_use]
    pub const fn numerator(self) -> i128 {
        // At most MAX_TERM, which is far below the largest i128.
        self.numerator.cast_signed()
    }

    /// Denominator in lowest terms, 1 to 10³⁵.
    #[must_use]
    pub const fn denominator(self) -> i128 {
        self.denominator.cast_signed()
    }

    /// Both terms, unsigned.
    pub(super) const fn terms(self) -> (u128, u128) {
        (self.numerator, self.denominator)
    }

    /// One over this ratio.
    #[must_use]
    pub const fn reciprocal(self) -> Self {
        Self {
            numerator: self.denominator,
            denominator: self.numerator,
        }
    }

    /// The product of two ratios.
    ///
    /// # Errors
    /// [`ErrorKind::Overflow`] when the exact product does not fit.
    pub fn checked_mul(self, other: Self) -> Result<Self> {
        // Crosswise reduction first, so that only a true overflow is one.
        let left = self.numerator.gcd(&other.denominator).max(1);
        let right = other.numerator.gcd(&self.denominator).max(1);
        let numerator = (self.numerator / left).checked_mul(other.numerator / right);
        let denominator = (self.denominator / right).checked_mul(other.denominator / left);
        match (numerator, denominator) {
            (Some(numerator), Some(denominator)) => Self::reduced(numerator, denominator),
            _ => Err(Error::overflow("a product of ratios")),
        }
    }

    /// The ratio as a double, rounded.
    #[must_use]
    #[allow(
        clippy::cast_precision_loss,
        reason = "the named step from exact to binary numbers"
    )]
    pub fn to_f64(self) -> f64 {
        self.numerator as f64 / self.denominator as f64
    }

    /// How far this ratio is from `target`, in millionths of `target`: positive
    /// when this ratio is greater. The difference is formed exactly and rounded
    /// once; exactly equal ratios give exactly 0.
    ///
    /// ```
    /// use dividing_core::gearing::GearRatio;
    /// let error = GearRatio::new(1001, 1000)?.error_ppm(GearRatio::ONE);
    /// assert!((error - 1000.0).abs() < 1e-9);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    #[must_use]
    pub fn error_ppm(self, target: Self) -> f64 {
        let own = Wide::product(self.numerator, target.denominator);
        let wanted = Wide::product(target.numerator, self.denominator);
        let size = own.distance(wanted).to_f64() / wanted.to_f64() * 1.0e6;
        if own < wanted { -size } else { size }
    }

    /// Compares the distances from this ratio to `below` and to `above`, where
    /// `below ≤ self ≤ above`; exact for terms of teeth products.
    pub(super) fn compare_distances(self, below: Self, above: Self) -> Ordering {
        // self − b against a − self, that is 2·self against a + b; the terms of
        // a and b are below 2³⁰, so the middle products stay below 2⁶¹.
        let sum = above.numerator * below.denominator + below.numerator * above.denominator;
        let twice = 2 * above.denominator * below.denominator;
        Wide::product(self.numerator, twice).cmp(&Wide::product(sum, self.denominator))
    }
}

impl PartialOrd for GearRatio {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for GearRatio {
    fn cmp(&self, other: &Self) -> Ordering {
        compare_fractions(
            self.numerator,
            self.denominator,
            other.numerator,
            other.denominator,
        )
    }
}

impl fmt::Display for GearRatio {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.denominator == 1 {
            f.pad(&self.numerator.to_string())
        } else {
            f.pad(&format!("{}/{}", self.numerator, self.denominator))
        }
    }
}

/// A whole number or a decimal without sign or exponent, as a fraction.
fn read_decimal(text: &str) -> Option<(u128, u128)> {
    let (whole, decimals) = text.split_once('.').unwrap_or((text, ""));
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    if whole.len() + decimals.len() == 0 || !digits(whole) || !digits(decimals) {
        return None;
    }
    let scale = 10_u128.checked_pow(u32::try_from(decimals.len()).ok()?)?;
    let value: u128 = format!("{whole}{decimals}").parse().ok()?;
    Some((value, scale))
}

impl FromStr for GearRatio {
    type Err = Error;

    /// Reads `40`, `25.4`, `127/5` and `1.5/0.25`, all exactly.
    fn from_str(text: &str) -> Result<Self> {
        let unreadable = || {
            Error::new(
                ErrorKind::UnreadableText,
                format!(
                    "{} cannot be read as a positive ratio; write for example 40, 25.4 or 127/5",
                    quoted(text)
                ),
            )
        };
        let (upper, lower) = text.trim().split_once('/').unwrap_or((text.trim(), "1"));
        let (a, b) = read_decimal(upper.trim()).ok_or_else(unreadable)?;
        let (c, d) = read_decimal(lower.trim()).ok_or_else(unreadable)?;
        if a == 0 || c == 0 {
            return Err(Error::out_of_range(quoted(text), "a ratio greater than 0"));
        }
        Self::reduced(a, b)?.checked_mul(Self::reduced(d, c)?)
    }
}

impl Serialize for GearRatio {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

struct RatioText;

impl de::Visitor<'_> for RatioText {
    type Value = GearRatio;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a positive ratio: a whole number, or text such as \"127/5\" or \"25.4\"")
    }

    fn visit_u64<E: de::Error>(self, value: u64) -> std::result::Result<GearRatio, E> {
        GearRatio::new(value.into(), 1).map_err(E::custom)
    }

    fn visit_i64<E: de::Error>(self, value: i64) -> std::result::Result<GearRatio, E> {
        GearRatio::new(value.into(), 1).map_err(E::custom)
    }

    fn visit_str<E: de::Error>(self, text: &str) -> std::result::Result<GearRatio, E> {
        text.parse().map_err(E::custom)
    }
}

impl<'de> Deserialize<'de> for GearRatio {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> std::result::Result<Self, D::Error> {
        deserializer.deserialize_any(RatioText)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for GearRatio {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "GearRatio".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "description": "A positive ratio: a whole number, or text with a decimal or a fraction.",
            "type": ["integer", "string"],
            "examples": [40, "127/5", "25.4"]
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ratio(text: &str) -> GearRatio {
        text.parse().unwrap()
    }

    #[test]
    fn reads_exactly_and_reads_what_it_prints() {
        for (text, n, d) in [
            ("40", 40, 1),
            (" 25.4 ", 127, 5),
            ("127/120", 127, 120),
            ("1.5/0.25", 6, 1),
            (".5", 1, 2),
        ] {
            assert_eq!(ratio(text), GearRatio::new(n, d).unwrap(), "{text}");
            assert_eq!(ratio(&ratio(text).to_string()), ratio(text));
        }
    }

    #[test]
    fn refuses_what_is_no_positive_ratio() {
        let kind = |text: &str| text.parse::<GearRatio>().unwrap_err().kind();
        for text in ["", ".", "/", "1/2/3", "-1", "1e3", "1,5", "NaN"] {
            assert_eq!(kind(text), ErrorKind::UnreadableText, "{text}");
        }
        assert_eq!(kind("0"), ErrorKind::OutOfRange);
        assert_eq!(kind("1/0.0"), ErrorKind::OutOfRange);
        assert_eq!(kind(&format!("1{}", "0".repeat(36))), ErrorKind::Overflow);
        for bad in [f64::NAN, f64::INFINITY] {
            assert_eq!(
                GearRatio::from_f64(bad).unwrap_err().kind(),
                ErrorKind::NotFinite
            );
        }
        for bad in [0.0, -1.0, 1e-300, 1e300] {
            assert_eq!(
                GearRatio::from_f64(bad).unwrap_err().kind(),
                ErrorKind::OutOfRange
            );
        }
        assert!(GearRatio::new(i128::MIN, 1).is_err());
    }

    #[test]
    fn a_double_is_taken_whole() {
        for value in [1.0e-9, 0.1, 1.0, std::f64::consts::PI, 1.0e9] {
            assert!((GearRatio::from_f64(value).unwrap().to_f64() - value).abs() == 0.0);
        }
    }

    #[test]
    fn documents_hold_ratios_as_text_or_whole_numbers() {
        assert_eq!(
            serde_json::from_str::<GearRatio>("40").unwrap(),
            ratio("40")
        );
        assert_eq!(
            serde_json::from_str::<GearRatio>("\"3/2\"").unwrap(),
            ratio("1.5")
        );
        assert!(serde_json::from_str::<GearRatio>("1.5").is_err());
        assert_eq!(serde_json::to_string(&ratio("1.5")).unwrap(), "\"3/2\"");
    }

    #[test]
    fn distances_are_compared_exactly() {
        let target = ratio("1/2");
        assert_eq!(
            target.compare_distances(ratio("1/4"), ratio("3/4")),
            Ordering::Equal
        );
        let nudged = ratio("5000000000000000000000000000001/10000000000000000000000000000000");
        assert_eq!(
            nudged.compare_distances(ratio("1/4"), ratio("3/4")),
            Ordering::Greater
        );
    }

    #[test]
    fn products_reduce_before_they_overflow() {
        let large = GearRatio::new(MAX_TERM, 3).unwrap();
        let small = GearRatio::new(3, MAX_TERM).unwrap();
        assert_eq!(large.checked_mul(small).unwrap(), GearRatio::ONE);
        assert_eq!(
            large.checked_mul(ratio("7")).unwrap_err().kind(),
            ErrorKind::Overflow
        );
    }
}
