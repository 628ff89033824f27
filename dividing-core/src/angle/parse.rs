//! The grammar of angles, all of it.
//!
//! ```text
//! angle    = [sign] ( fraction | compound | decimal )
//! fraction = whole "/" whole unit
//! compound = whole degree-unit whole minute-unit [number second-unit] | …
//! decimal  = digits ["." digits] ["e" [sign] digits] unit
//! sign     = "+" | "-" | "−" (U+2212)
//! ```
//! Spaces are free between parts. In a compound the units descend, minutes and
//! seconds stay below 60 and only the last part may carry decimals.

use std::str::FromStr;

use num_rational::Ratio;
use num_traits::CheckedDiv;

use super::Angle;
use crate::error::{Error, ErrorKind, Result, quoted};

/// Longest text that is looked at, in bytes.
const LONGEST_TEXT: usize = 200;

const EXAMPLES: &str = "22.5 deg, 7°30'15\", 1/9 turn, 360/7 deg or 40 gon";

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Unit {
    Second,
    Minute,
    Degree,
    Gon,
    Turn,
}

impl Unit {
    /// How many of this unit make a turn.
    const fn per_turn(self) -> i128 {
        match self {
            Self::Turn => 1,
            Self::Degree => 360,
            Self::Gon => 400,
            Self::Minute => 21_600,
            Self::Second => 1_296_000,
        }
    }
}

/// One number with its unit.
struct Part {
    /// The value as numerator over denominator, not in lowest terms.
    numerator: i128,
    denominator: i128,
    shape: Shape,
    unit: Unit,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Shape {
    Whole,
    Decimals,
    Exponent,
    Fraction,
}

impl FromStr for Angle {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self> {
        if text.len() > LONGEST_TEXT {
            return Err(Error::new(
                ErrorKind::UnreadableText,
                format!(
                    "an angle of {} bytes is too long; accepted: at most {LONGEST_TEXT}",
                    text.len()
                ),
            ));
        }
        if text.contains(',') {
            return Err(unreadable(
                text,
                "it holds a comma; write decimals with a point, as in 22.5 deg",
            ));
        }
        let mut reader = Reader {
            text,
            rest: text.trim(),
        };
        if reader.rest.is_empty() {
            return Err(unreadable(text, &format!("it is empty; write {EXAMPLES}")));
        }
        let negative = reader.sign();
        let mut parts = Vec::with_capacity(3);
        while !reader.rest.is_empty() {
            parts.push(reader.part()?);
            reader.spaces();
        }
        check_order(text, &parts)?;
        let mut sum = Self::ZERO;
        for part in &parts {
            let value = Ratio::new(part.numerator, part.denominator)
                .checked_div(&Ratio::from_integer(part.unit.per_turn()))
                .ok_or_else(|| too_many_digits(text))
                .and_then(|turns| Self::bounded(turns).map_err(|_| too_many_digits(text)))?;
            sum = sum.checked_add(value).map_err(|_| too_many_digits(text))?;
        }
        Ok(if negative { -sum } else { sum })
    }
}

fn unreadable(text: &str, why: &str) -> Error {
    Error::new(
        ErrorKind::UnreadableText,
        format!("{} cannot be read as an angle: {why}", quoted(text)),
    )
}

fn too_many_digits(text: &str) -> Error {
    Error::new(
        ErrorKind::Overflow,
        format!(
            "the angle {} needs a fraction with more than 35 digits; write fewer digits",
            quoted(text)
        ),
    )
}

/// Units descend, small units stay below 60, only the last part is not whole.
fn check_order(text: &str, parts: &[Part]) -> Result<()> {
    if parts.is_empty() {
        return Err(unreadable(
            text,
            &format!("a number is missing; write {EXAMPLES}"),
        ));
    }
    for part in parts {
        let small = matches!(part.unit, Unit::Minute | Unit::Second);
        // Both terms are not negative, and 60 × denominator fits its bound.
        if small && part.numerator >= part.denominator.saturating_mul(60) {
            return Err(unreadable(
                text,
                "minutes and seconds must be below 60; carry the rest into degrees",
            ));
        }
    }
    for pair in parts.windows(2) {
        let [before, after] = pair else { continue };
        if before.unit > Unit::Degree || after.unit >= before.unit {
            return Err(unreadable(
                text,
                "parts must follow as degrees, minutes, seconds, each at most once",
            ));
        }
        if before.shape != Shape::Whole {
            return Err(unreadable(text, "only the last part may carry decimals"));
        }
        if matches!(after.shape, Shape::Exponent | Shape::Fraction) {
            return Err(unreadable(
                text,
                "exponents and fractions stand alone, not in degrees-minutes-seconds",
            ));
        }
    }
    Ok(())
}

struct Reader<'t> {
    /// The whole text, for messages.
    text: &'t str,
    /// What has not been read yet.
    rest: &'t str,
}

impl<'t> Reader<'t> {
    fn spaces(&mut self) {
        self.rest = self.rest.trim_start();
    }

    /// Reads a sign if there is one; true for minus.
    fn sign(&mut self) -> bool {
        for (sign, negative) in [("-", true), ("\u{2212}", true), ("+", false)] {
            if let Some(rest) = self.rest.strip_prefix(sign) {
                self.rest = rest;
                self.spaces();
                return negative;
            }
        }
        false
    }

    fn digits(&mut self) -> &'t str {
        let end = self
            .rest
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(self.rest.len());
        let (digits, rest) = self.rest.split_at(end);
        self.rest = rest;
        digits
    }

    fn part(&mut self) -> Result<Part> {
        let (mut numerator, mut denominator, mut shape) = self.number()?;
        self.spaces();
        if let Some(rest) = self.rest.strip_prefix('/') {
            self.rest = rest;
            self.spaces();
            let (below, one, below_shape) = self.number()?;
            if shape != Shape::Whole || below_shape != Shape::Whole {
                return Err(unreadable(
                    self.text,
                    "a fraction is written with two whole numbers, as in 360/7 deg",
                ));
            }
            if below == 0 {
                return Err(unreadable(
                    self.text,
                    "its denominator is 0; accepted: 1 and up",
                ));
            }
            debug_assert_eq!((denominator, one), (1, 1));
            denominator = below;
            shape = Shape::Fraction;
            self.spaces();
        }
        let unit = self.unit()?;
        let common = num_integer::gcd(numerator, denominator).max(1);
        numerator /= common;
        denominator /= common;
        Ok(Part {
            numerator,
            denominator,
            shape,
            unit,
        })
    }

    /// Reads an unsigned number as numerator over a power of ten.
    fn number(&mut self) -> Result<(i128, i128, Shape)> {
        let whole = self.digits();
        let mut shape = Shape::Whole;
        let mut decimals = "";
        if let Some(rest) = self.rest.strip_prefix('.') {
            self.rest = rest;
            decimals = self.digits();
            shape = Shape::Decimals;
        }
        if whole.is_empty() && decimals.is_empty() {
            return Err(self.no_number());
        }
        let exponent = self.exponent()?;
        if exponent.is_some() {
            shape = Shape::Exponent;
        }
        let digits = format!("{whole}{decimals}");
        let significant = digits.trim_start_matches('0').trim_end_matches('0');
        if significant.is_empty() {
            return Ok((0, 1, shape));
        }
        let dropped_zeros = digits.len() - digits.trim_end_matches('0').len();
        let tens = exponent.unwrap_or(0) + signed(dropped_zeros) - signed(decimals.len());
        let mantissa: i128 = significant
            .parse()
            .map_err(|_| too_many_digits(self.text))?;
        let scale = u32::try_from(tens.unsigned_abs())
            .ok()
            .and_then(|power| 10_i128.checked_pow(power))
            .ok_or_else(|| too_many_digits(self.text))?;
        if tens >= 0 {
            let numerator = mantissa
                .checked_mul(scale)
                .ok_or_else(|| too_many_digits(self.text))?;
            Ok((numerator, 1, shape))
        } else {
            Ok((mantissa, scale, shape))
        }
    }

    fn exponent(&mut self) -> Result<Option<i64>> {
        let Some(rest) = self.rest.strip_prefix(['e', 'E']) else {
            return Ok(None);
        };
        self.rest = rest;
        let negative = if let Some(rest) = self.rest.strip_prefix(['-', '\u{2212}']) {
            self.rest = rest;
            true
        } else {
            self.rest = self.rest.strip_prefix('+').unwrap_or(self.rest);
            false
        };
        let digits = self.digits();
        if digits.is_empty() {
            return Err(unreadable(self.text, "its exponent has no digits"));
        }
        // Anything beyond a thousand cannot fit; zero times it is still zero.
        let size = digits.parse::<i64>().map_or(1000, |n| n.min(1000));
        Ok(Some(if negative { -size } else { size }))
    }

    fn no_number(&self) -> Error {
        if self.rest.starts_with(['-', '+', '\u{2212}']) {
            unreadable(self.text, "one sign, in front, covers the whole angle")
        } else if self.rest.is_empty() {
            unreadable(self.text, &format!("a number is missing; write {EXAMPLES}"))
        } else {
            unreadable(
                self.text,
                &format!(
                    "a number is expected at {}; write {EXAMPLES}",
                    quoted(self.rest)
                ),
            )
        }
    }

    fn unit(&mut self) -> Result<Unit> {
        for (symbol, unit) in [
            ('°', Unit::Degree),
            ('\'', Unit::Minute),
            ('\u{2032}', Unit::Minute),
            ('"', Unit::Second),
            ('\u{2033}', Unit::Second),
        ] {
            if let Some(rest) = self.rest.strip_prefix(symbol) {
                self.rest = rest;
                return Ok(unit);
            }
        }
        let end = self
            .rest
            .find(|c: char| !c.is_alphabetic())
            .unwrap_or(self.rest.len());
        let (word, rest) = self.rest.split_at(end);
        let unit = match word.to_ascii_lowercase().as_str() {
            "deg" | "degree" | "degrees" | "d" => Unit::Degree,
            "m" | "min" => Unit::Minute,
            "s" | "sec" => Unit::Second,
            "turn" | "turns" => Unit::Turn,
            "gon" => Unit::Gon,
            "rad" | "radian" | "radians" => {
                return Err(Error::new(
                    ErrorKind::InexactUnit,
                    format!(
                        "{} is in radians, and a radian is no exact fraction of a turn; \
                         write degrees or a fraction of a turn, or round knowingly with \
                         from_radians_rounded",
                        quoted(self.text)
                    ),
                ));
            }
            "" if rest.is_empty() || rest.starts_with(|c: char| c.is_ascii_digit()) => {
                return Err(Error::new(
                    ErrorKind::MissingUnit,
                    format!(
                        "{} has a number without a unit; write for example {} deg or {} turn",
                        quoted(self.text),
                        quoted_number(self.text),
                        quoted_number(self.text),
                    ),
                ));
            }
            _ => {
                return Err(unreadable(
                    self.text,
                    &format!(
                        "{} is no unit of angle; accepted: deg, °, ', \", turn, gon",
                        quoted(if word.is_empty() { rest } else { word })
                    ),
                ));
            }
        };
        self.rest = rest;
        Ok(unit)
    }
}

/// The text of a bare number for the hint, or a stand-in if it is odd.
fn quoted_number(text: &str) -> &str {
    let text = text.trim();
    let plain = text.len() <= 20
        && text
            .chars()
            .all(|c| c.is_ascii_digit() || "./-+".contains(c));
    if plain { text } else { "22.5" }
}

fn signed(length: usize) -> i64 {
    // Texts are at most LONGEST_TEXT bytes.
    i64::try_from(length).unwrap_or(i64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Angle {
        text.parse().unwrap()
    }

    fn kind(text: &str) -> ErrorKind {
        text.parse::<Angle>().unwrap_err().kind()
    }

    #[test]
    fn every_form_of_the_grammar() {
        let eighth = Angle::new(1, 16).unwrap();
        for text in [
            "22.5 deg",
            "22.5°",
            "22°30'",
            "22d30m",
            "22d30m0s",
            "22° 30′ 0″",
            "25 gon",
            "1/16 turn",
            "0.0625 turns",
            "45/2 deg",
            "+22.5deg",
            "2.25e1 deg",
            "225e-1°",
            " 22.50 DEG ",
            "22 degrees 30 min",
        ] {
            assert_eq!(read(text), eighth, "{text}");
        }
        assert_eq!(read("−0°30'"), read("-0.5 deg"));
        assert_eq!(read("7d30m15.5s").numerator(), 54_031);
        assert_eq!(read("360/7 deg"), Angle::new(1, 7).unwrap());
        assert_eq!(read("2 turns"), Angle::new(2, 1).unwrap());
        assert_eq!(read("0e999999999999 deg"), Angle::ZERO);
    }

    #[test]
    fn what_is_refused_and_how() {
        assert_eq!(kind("22.5"), ErrorKind::MissingUnit);
        assert_eq!(kind("1/9"), ErrorKind::MissingUnit);
        assert_eq!(kind("7°30"), ErrorKind::MissingUnit);
        assert_eq!(kind("1.5 rad"), ErrorKind::InexactUnit);
        assert_eq!(kind("1e60 turn"), ErrorKind::Overflow);
        assert_eq!(kind("1e-60 turn"), ErrorKind::Overflow);
        for text in [
            "",
            " ",
            "22,5 deg",
            "7°60'",
            "7°30'60\"",
            "60'",
            "7.5°30'",
            "7°30.5'15\"",
            "7°-30'",
            "--7°",
            "30'7°",
            "7°7°",
            "1/0 turn",
            "1.5/2 turn",
            "1e2°30'",
            "1e deg",
            "deg",
            "7 parsec",
            "1/2/3 turn",
            "°",
            ".",
            ". deg",
            "1/2 turn 3 deg",
            "7° 1/2'",
            "NaN deg",
            "٣ deg",
            "3 deg x",
        ] {
            assert_eq!(kind(text), ErrorKind::UnreadableText, "{text}");
        }
        assert!(
            "22,5 deg"
                .parse::<Angle>()
                .unwrap_err()
                .to_string()
                .contains("comma")
        );
        assert_eq!(kind(&"1".repeat(1000)), ErrorKind::UnreadableText);
    }
}
