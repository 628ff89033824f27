//! Printing angles, exactly or rounded half to even.

use std::fmt;

use super::Angle;

/// Most digits that [`Angle::format`] prints after the point.
pub(crate) const MOST_DIGITS: u8 = 30;

/// How an angle is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AngleStyle {
    /// Decimal degrees to so many digits after the point (at most 30), rounded
    /// half to even: `22.500°`.
    DecimalDegrees(u8),
    /// Degrees, minutes and seconds to so many digits after the point of the
    /// seconds (at most 30), rounded half to even: `22°30'00.0"`.
    DegreesMinutesSeconds(u8),
    /// An exact fraction of a turn: `1/16 turn`.
    FractionOfTurn,
}

impl Angle {
    /// The angle as text in a style. A rounded zero has no sign, and a carry
    /// runs through: 59.9999" to two digits becomes the next minute.
    ///
    /// ```
    /// use dividing_core::{Angle, AngleStyle};
    /// let angle = Angle::new(1, 7)?;
    /// assert_eq!(angle.format(AngleStyle::DecimalDegrees(4)), "51.4286°");
    /// assert_eq!(angle.format(AngleStyle::DegreesMinutesSeconds(1)), "51°25'42.9\"");
    /// assert_eq!(angle.format(AngleStyle::FractionOfTurn), "1/7 turn");
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    #[must_use]
    pub fn format(self, style: AngleStyle) -> String {
        match style {
            AngleStyle::DecimalDegrees(digits) => self.decimal_degrees(digits.min(MOST_DIGITS)),
            AngleStyle::DegreesMinutesSeconds(digits) => {
                self.degrees_minutes_seconds(digits.min(MOST_DIGITS))
            }
            AngleStyle::FractionOfTurn if self.denominator() == 1 => {
                format!("{} turn", self.numerator())
            }
            AngleStyle::FractionOfTurn => {
                format!("{}/{} turn", self.numerator(), self.denominator())
            }
        }
    }

    /// Whole degrees and what is left of one, both without sign; the
    /// remainder is over the denominator. 10^35 × 360 fits 128 bits.
    fn degrees_and_rest(self) -> (i128, i128) {
        let (n, d) = (self.numerator().abs(), self.denominator());
        let (turns, rest) = (n / d, n % d);
        (turns * 360 + rest * 360 / d, rest * 360 % d)
    }

    fn decimal_degrees(self, digits: u8) -> String {
        let (whole, rest) = self.degrees_and_rest();
        let (carry, decimals) = rounded_decimals(whole, rest, self.denominator(), digits);
        let whole = whole + carry;
        let sign = self.sign_unless(whole == 0 && is_zero(&decimals));
        if digits == 0 {
            format!("{sign}{whole}°")
        } else {
            format!("{sign}{whole}.{decimals}°")
        }
    }

    fn degrees_minutes_seconds(self, digits: u8) -> String {
        let d = self.denominator();
        let (mut degrees, rest) = self.degrees_and_rest();
        let (mut minutes, rest) = (rest * 60 / d, rest * 60 % d);
        let (mut seconds, rest) = (rest * 60 / d, rest * 60 % d);
        let (carry, decimals) = rounded_decimals(seconds, rest, d, digits);
        seconds += carry;
        if seconds == 60 {
            seconds = 0;
            minutes += 1;
        }
        if minutes == 60 {
            minutes = 0;
            degrees += 1;
        }
        let zero = degrees == 0 && minutes == 0 && seconds == 0 && is_zero(&decimals);
        let sign = self.sign_unless(zero);
        if digits == 0 {
            format!("{sign}{degrees}°{minutes:02}'{seconds:02}\"")
        } else {
            format!("{sign}{degrees}°{minutes:02}'{seconds:02}.{decimals}\"")
        }
    }

    const fn sign_unless(self, zero: bool) -> &'static str {
        if self.numerator() < 0 && !zero {
            "-"
        } else {
            ""
        }
    }

    /// The number of decimals after which the angle in degrees ends, if it
    /// does within what is printed.
    fn decimals_of_degrees(self) -> Option<u8> {
        let (_, mut rest) = self.degrees_and_rest();
        for digits in 0..=MOST_DIGITS {
            if rest == 0 {
                return Some(digits);
            }
            rest = rest * 10 % self.denominator();
        }
        None
    }
}

fn is_zero(decimals: &str) -> bool {
    decimals.bytes().all(|digit| digit == b'0')
}

/// The first `digits` decimals of `whole + rest/denominator` (the fraction below
/// 1), rounded half to even, with the carry into the whole part.
fn rounded_decimals(whole: i128, rest: i128, denominator: i128, digits: u8) -> (i128, String) {
    let mut value = 0_i128;
    let mut rest = rest;
    for _ in 0..digits {
        rest *= 10;
        value = value * 10 + rest / denominator;
        rest %= denominator;
    }
    let scale = 10_i128.pow(u32::from(digits));
    let up = match (rest * 2).cmp(&denominator) {
        std::cmp::Ordering::Less => false,
        std::cmp::Ordering::Greater => true,
        std::cmp::Ordering::Equal => (if digits == 0 { whole } else { value }) % 2 == 1,
    };
    value += i128::from(up);
    let (carry, value) = (value / scale, value % scale);
    let width = usize::from(digits);
    (
        carry,
        if digits == 0 {
            String::new()
        } else {
            format!("{value:0width$}")
        },
    )
}

impl fmt::Display for Angle {
    /// Exact text: decimal degrees where they end, else a fraction of a turn.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let style = self
            .decimals_of_degrees()
            .map_or(AngleStyle::FractionOfTurn, AngleStyle::DecimalDegrees);
        f.pad(&self.format(style))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::MAX_TERM;

    fn degrees(text: &str, digits: u8) -> String {
        text.parse::<Angle>()
            .unwrap()
            .format(AngleStyle::DecimalDegrees(digits))
    }

    fn seconds(text: &str, digits: u8) -> String {
        text.parse::<Angle>()
            .unwrap()
            .format(AngleStyle::DegreesMinutesSeconds(digits))
    }

    #[test]
    fn rounds_half_to_even_and_carries() {
        assert_eq!(degrees("0.5 deg", 0), "0°");
        assert_eq!(degrees("1.5 deg", 0), "2°");
        assert_eq!(degrees("2.5 deg", 0), "2°");
        assert_eq!(degrees("0.125 deg", 2), "0.12°");
        assert_eq!(degrees("-0.375 deg", 2), "-0.38°");
        assert_eq!(degrees("9.999 deg", 2), "10.00°");
        assert_eq!(seconds("59.9999\"", 2), "0°01'00.00\"");
        assert_eq!(seconds("7°59'59.9999\"", 2), "8°00'00.00\"");
        assert_eq!(seconds("-0°30'", 0), "-0°30'00\"");
    }

    #[test]
    fn a_rounded_zero_has_no_sign() {
        assert_eq!(degrees("-0.001 deg", 2), "0.00°");
        assert_eq!(seconds("-0.001\"", 2), "0°00'00.00\"");
    }

    #[test]
    fn extreme_angles_print() {
        for angle in [
            Angle::new(MAX_TERM, MAX_TERM - 1).unwrap(),
            Angle::new(-MAX_TERM, 1).unwrap(),
            Angle::new(1, MAX_TERM).unwrap(),
        ] {
            assert!(!angle.format(AngleStyle::DecimalDegrees(255)).is_empty());
            assert!(
                !angle
                    .format(AngleStyle::DegreesMinutesSeconds(255))
                    .is_empty()
            );
            assert_eq!(angle.to_string().parse::<Angle>().unwrap(), angle);
        }
    }
}
