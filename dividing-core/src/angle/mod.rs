//! Exact angles: signed fractions of a turn.
//!
//! An [`Angle`] is a rational number of turns in lowest terms. Arithmetic is
//! checked: what does not fit is an error, never a wrap or a silent rounding.
//! Only methods whose name ends in `_f64` or `_rounded` leave the exact world.

mod format;
mod parse;
mod serial;

pub use format::AngleStyle;

use std::ops::Neg;

use num_integer::Integer;
use num_rational::Ratio;

use crate::error::{Error, ErrorKind, Result};

/// Largest numerator and denominator of an angle in turns: 10³⁵.
///
/// The bound leaves room to print any angle in degrees, minutes and seconds
/// without overflow, and holds lcm(1, 2, …, 49) = 3.1 × 10²¹ with ease.
pub const MAX_TERM: i128 = 100_000_000_000_000_000_000_000_000_000_000_000;

/// Largest denominator for the constructors that round a binary number.
pub const MAX_ROUNDED_DENOMINATOR: i128 = 1_000_000_000_000_000;

/// An exact signed fraction of a turn.
///
/// Reads degrees, degrees-minutes-seconds, fractions of a turn and gon, and
/// reads again whatever it prints:
///
/// ```
/// use dividing_core::Angle;
/// let angle: Angle = "7°30'15\"".parse()?;
/// assert_eq!(angle, Angle::new(1801, 86_400)?);
/// assert_eq!(angle.to_string().parse::<Angle>()?, angle);
/// assert_eq!(Angle::new(1, 9)?.to_string(), "40°");
/// assert_eq!(Angle::new(1, 7)?.to_string(), "1/7 turn");
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Angle {
    turns: Ratio<i128>,
}

impl Default for Angle {
    fn default() -> Self {
        Self::ZERO
    }
}

impl Angle {
    /// No turn at all.
    pub const ZERO: Self = Self::raw(0, 1);
    /// A quarter of a turn, 90°.
    pub const QUARTER_TURN: Self = Self::raw(1, 4);
    /// Half a turn, 180°.
    pub const HALF_TURN: Self = Self::raw(1, 2);
    /// One whole turn, 360°.
    pub const FULL_TURN: Self = Self::raw(1, 1);

    const fn raw(numerator: i128, denominator: i128) -> Self {
        Self {
            turns: Ratio::new_raw(numerator, denominator),
        }
    }

    /// The angle of `numerator / denominator` turns.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a denominator of zero,
    /// [`ErrorKind::Overflow`] when a term in lowest terms exceeds [`MAX_TERM`].
    ///
    /// ```
    /// use dividing_core::Angle;
    /// assert_eq!(Angle::new(2, -8)?, Angle::new(-1, 4)?);
    /// assert!(Angle::new(1, 0).is_err());
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn new(numerator: i128, denominator: i128) -> Result<Self> {
        if denominator == 0 {
            return Err(
                Error::out_of_range("a denominator of 0", "any other whole number")
                    .at("denominator"),
            );
        }
        if numerator == i128::MIN || denominator == i128::MIN {
            return Err(Error::overflow("the angle"));
        }
        Self::bounded(lowest_terms(numerator, denominator))
    }

    /// The angle of `numerator / denominator` degrees.
    ///
    /// # Errors
    /// As [`Angle::new`].
    ///
    /// ```
    /// use dividing_core::Angle;
    /// assert_eq!(Angle::from_degrees(45, 2)?, Angle::new(1, 16)?);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn from_degrees(numerator: i128, denominator: i128) -> Result<Self> {
        Self::new(numerator, denominator)?.checked_div(360)
    }

    fn bounded(turns: Ratio<i128>) -> Result<Self> {
        let fits = (-MAX_TERM..=MAX_TERM).contains(turns.numer()) && *turns.denom() <= MAX_TERM;
        if fits {
            Ok(Self { turns })
        } else {
            Err(Error::overflow("the angle"))
        }
    }

    /// Numerator of the angle in turns, in lowest terms; carries the sign.
    #[must_use]
    pub const fn numerator(self) -> i128 {
        *self.turns.numer()
    }

    /// Denominator of the angle in turns, in lowest terms; at least 1.
    #[must_use]
    pub const fn denominator(self) -> i128 {
        *self.turns.denom()
    }

    /// Whether this is exactly zero.
    #[must_use]
    pub const fn is_zero(self) -> bool {
        self.numerator() == 0
    }

    /// The sum.
    ///
    /// # Errors
    /// [`ErrorKind::Overflow`] when the exact sum does not fit.
    ///
    /// ```
    /// use dividing_core::Angle;
    /// let sum = Angle::new(1, 6)?.checked_add(Angle::new(1, 10)?)?;
    /// assert_eq!(sum, Angle::new(4, 15)?);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn checked_add(self, other: Self) -> Result<Self> {
        let (a, b) = (self.numerator(), self.denominator());
        let (c, d) = (other.numerator(), other.denominator());
        if [a, b, c, d].iter().all(|term| is_small(*term)) {
            return Self::bounded(lowest_terms(a * d + c * b, b * d));
        }
        num_traits::CheckedAdd::checked_add(&self.turns, &other.turns)
            .ok_or_else(|| Error::overflow("a sum of angles"))
            .and_then(Self::bounded)
    }

    /// The difference `self − other`.
    ///
    /// # Errors
    /// [`ErrorKind::Overflow`] when the exact difference does not fit.
    pub fn checked_sub(self, other: Self) -> Result<Self> {
        self.checked_add(-other)
    }

    /// The angle times a whole number.
    ///
    /// # Errors
    /// [`ErrorKind::Overflow`] when the exact product does not fit.
    pub fn checked_mul(self, factor: i128) -> Result<Self> {
        if is_small(self.numerator()) && is_small(factor) {
            return Self::bounded(lowest_terms(self.numerator() * factor, self.denominator()));
        }
        num_traits::CheckedMul::checked_mul(&self.turns, &Ratio::from_integer(factor))
            .ok_or_else(|| Error::overflow("a product of an angle"))
            .and_then(Self::bounded)
    }

    /// The angle divided by a whole number.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a divisor of zero,
    /// [`ErrorKind::Overflow`] when the exact quotient does not fit.
    pub fn checked_div(self, divisor: i128) -> Result<Self> {
        if divisor == 0 {
            return Err(Error::out_of_range(
                "a divisor of 0",
                "any other whole number",
            ));
        }
        if is_small(self.denominator()) && is_small(divisor) {
            return Self::bounded(lowest_terms(self.numerator(), self.denominator() * divisor));
        }
        num_traits::CheckedDiv::checked_div(&self.turns, &Ratio::from_integer(divisor))
            .ok_or_else(|| Error::overflow("a quotient of an angle"))
            .and_then(Self::bounded)
    }

    /// The size without the sign.
    #[must_use]
    pub fn abs(self) -> Self {
        if self.numerator() < 0 { -self } else { self }
    }

    /// The same orientation within one turn, from 0 up to but not including 1.
    ///
    /// ```
    /// use dividing_core::Angle;
    /// assert_eq!(Angle::new(-1, 4)?.within_turn(), Angle::new(3, 4)?);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    #[must_use]
    pub fn within_turn(self) -> Self {
        if (0..self.denominator()).contains(&self.numerator()) {
            return self;
        }
        Self::raw(
            Integer::mod_floor(&self.numerator(), &self.denominator()),
            self.denominator(),
        )
    }

    /// The same orientation within half a turn either way: above −1/2, up to +1/2.
    #[must_use]
    pub fn within_half_turn(self) -> Self {
        let once = self.within_turn();
        let (numerator, denominator) = (once.numerator(), once.denominator());
        if numerator > denominator - numerator {
            Self::raw(numerator - denominator, denominator)
        } else {
            once
        }
    }

    /// The best approximation whose denominator in turns is at most
    /// `max_denominator`; between two equally near the smaller denominator wins.
    ///
    /// Continued fraction with semiconvergents (Khinchin, *Continued
    /// Fractions*, §6: best approximations of the first kind), the same result
    /// as Python's `Fraction.limit_denominator`.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] when `max_denominator` is not from 1 to [`MAX_TERM`].
    ///
    /// ```
    /// use dividing_core::Angle;
    /// let angle = Angle::new(1, 127)?;
    /// assert_eq!(angle.nearest_fraction(100)?, Angle::new(1, 100)?);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn nearest_fraction(self, max_denominator: i128) -> Result<Self> {
        if !(1..=MAX_TERM).contains(&max_denominator) {
            return Err(Error::out_of_range(max_denominator, "1 to 10^35").at("max_denominator"));
        }
        if self.denominator() <= max_denominator {
            return Ok(self);
        }
        // Two neighbouring convergents p0/q0, p1/q1; the loop ends before the
        // denominator passes the limit, so every product stays below it.
        let (mut p0, mut q0, mut p1, mut q1) = (0_i128, 1_i128, 1_i128, 0_i128);
        let (mut n, mut d) = (self.numerator(), self.denominator());
        loop {
            let a = Integer::div_floor(&n, &d);
            let next_q = match a.checked_mul(q1).and_then(|step| step.checked_add(q0)) {
                Some(q) if q <= max_denominator => q,
                _ => break,
            };
            (p0, q0, p1, q1) = (p1, q1, p0 + a * p1, next_q);
            (n, d) = (d, n - a * d);
        }
        let k = (max_denominator - q0) / q1;
        let (p2, q2) = (p0 + k * p1, q0 + k * q1);
        // |self − p1/q1| = d / (q1·D), |self − p2/q2| ≥ … ; the comparison is
        // 2·d·q2 ≤ D, where an overflow of the left side means "greater".
        let first_is_nearer = d
            .checked_mul(2)
            .and_then(|twice| twice.checked_mul(q2))
            .is_some_and(|left| left <= self.denominator());
        if first_is_nearer {
            Self::new(p1, q1)
        } else {
            Self::new(p2, q2)
        }
    }

    /// The fraction of a turn nearest to `value_deg` degrees with a denominator
    /// of at most `max_denominator` turns. This rounds, as the name says.
    ///
    /// # Errors
    /// [`ErrorKind::NotFinite`] for NaN or an infinity; [`ErrorKind::OutOfRange`]
    /// beyond 10¹² turns or for a denominator not from 1 to
    /// [`MAX_ROUNDED_DENOMINATOR`].
    ///
    /// ```
    /// use dividing_core::Angle;
    /// assert_eq!(Angle::from_degrees_rounded(51.428_571_43, 1000)?, Angle::new(1, 7)?);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn from_degrees_rounded(value_deg: f64, max_denominator: i128) -> Result<Self> {
        Self::from_turns_rounded(value_deg / 360.0, max_denominator)
    }

    /// The fraction of a turn nearest to `value_rad` radians with a denominator
    /// of at most `max_denominator` turns. A radian is 1/(2π) turn, which no
    /// fraction equals: this rounds, as the name says.
    ///
    /// # Errors
    /// As [`Angle::from_degrees_rounded`].
    ///
    /// ```
    /// use dividing_core::Angle;
    /// let angle = Angle::from_radians_rounded(std::f64::consts::FRAC_PI_2, 1000)?;
    /// assert_eq!(angle, Angle::QUARTER_TURN);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn from_radians_rounded(value_rad: f64, max_denominator: i128) -> Result<Self> {
        Self::from_turns_rounded(value_rad / std::f64::consts::TAU, max_denominator)
    }

    fn from_turns_rounded(turns: f64, max_denominator: i128) -> Result<Self> {
        const LARGEST_TURNS: f64 = 1.0e12;
        if !turns.is_finite() {
            return Err(Error::new(
                ErrorKind::NotFinite,
                format!("{turns} is not a finite number; accepted: a finite angle"),
            ));
        }
        if turns.abs() > LARGEST_TURNS {
            return Err(Error::out_of_range(
                format!("{turns} turns"),
                "at most 10^12 turns either way",
            ));
        }
        if !(1..=MAX_ROUNDED_DENOMINATOR).contains(&max_denominator) {
            return Err(Error::out_of_range(max_denominator, "1 to 10^15").at("max_denominator"));
        }
        // A value this small is nearer to zero than to 1/10^15. Any other is a
        // whole number over a power of two of at most 2^103.
        if turns.abs() < 0.5 / 1.0e15 {
            return Ok(Self::ZERO);
        }
        let (mantissa, exponent, sign) = num_traits::Float::integer_decode(turns);
        let signed = i128::from(mantissa) * i128::from(sign);
        let exact = if exponent >= 0 {
            Self::new(signed << exponent, 1)?
        } else {
            Self::new(signed, 1_i128 << exponent.unsigned_abs())?
        };
        exact.nearest_fraction(max_denominator)
    }

    /// The angle in turns, rounded to a binary number.
    #[must_use]
    pub fn to_turns_f64(self) -> f64 {
        // Both terms are below 2^117, far inside the range of a double.
        as_f64(self.numerator()) / as_f64(self.denominator())
    }

    /// The angle in degrees, rounded to a binary number.
    #[must_use]
    pub fn to_degrees_f64(self) -> f64 {
        // |numerator| ≤ 10^35, so the product stays below 2^127.
        as_f64(self.numerator() * 360) / as_f64(self.denominator())
    }

    /// The angle in radians, rounded to a binary number.
    #[must_use]
    pub fn to_radians_f64(self) -> f64 {
        self.to_turns_f64() * std::f64::consts::TAU
    }

    /// The angle in seconds of arc, rounded to a binary number.
    #[must_use]
    pub fn to_arcsec_f64(self) -> f64 {
        self.to_degrees_f64() * 3600.0
    }
}

/// Whether two such terms have a product, and two such products a sum, of 64 bits.
const fn is_small(term: i128) -> bool {
    term.unsigned_abs() < 1 << 31
}

/// The fraction in lowest terms with a positive denominator. The usual terms
/// take a greatest common divisor of 64 bits, several times faster than one of
/// 128. The denominator must not be zero, nor either term `i128::MIN`.
fn lowest_terms(numerator: i128, denominator: i128) -> Ratio<i128> {
    match (
        u64::try_from(numerator.unsigned_abs()),
        u64::try_from(denominator.unsigned_abs()),
    ) {
        (Ok(above), Ok(below)) => {
            let common = above.gcd(&below);
            let size = i128::from(above / common);
            let negative = (numerator < 0) != (denominator < 0);
            Ratio::new_raw(
                if negative { -size } else { size },
                i128::from(below / common),
            )
        }
        _ => Ratio::new(numerator, denominator),
    }
}

#[allow(
    clippy::cast_precision_loss,
    reason = "the named step from exact to binary numbers"
)]
pub(crate) const fn as_f64(value: i128) -> f64 {
    value as f64
}

impl Neg for Angle {
    type Output = Self;
    fn neg(self) -> Self {
        // The bounds are symmetric, so this cannot overflow.
        Self { turns: -self.turns }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lcm_of_1_to_49_fits() {
        let lcm = (1..=49_i128).fold(1, |all, n| all.lcm(&n));
        let angle = Angle::new(1, lcm).unwrap();
        assert_eq!(angle.denominator(), 3_099_044_504_245_996_706_400);
        assert!(angle.checked_add(Angle::new(1, 53).unwrap()).is_ok());
    }

    #[test]
    fn overflow_is_an_error() {
        let tiny = Angle::new(1, MAX_TERM).unwrap();
        let other = Angle::new(1, MAX_TERM - 1).unwrap();
        assert_eq!(
            tiny.checked_add(other).unwrap_err().kind(),
            ErrorKind::Overflow
        );
        assert_eq!(tiny.checked_div(7).unwrap_err().kind(), ErrorKind::Overflow);
        let huge = Angle::new(MAX_TERM, 1).unwrap();
        assert_eq!(huge.checked_mul(2).unwrap_err().kind(), ErrorKind::Overflow);
        assert_eq!(
            Angle::new(i128::MIN, 1).unwrap_err().kind(),
            ErrorKind::Overflow
        );
        assert_eq!(
            Angle::new(1, i128::MIN).unwrap_err().kind(),
            ErrorKind::Overflow
        );
        assert_eq!(
            huge.checked_mul(i128::MIN).unwrap_err().kind(),
            ErrorKind::Overflow
        );
    }

    #[test]
    fn within_turn_keeps_the_orientation() {
        for (n, whole, half) in [
            (-1, 7, -1),
            (3, 3, 3),
            (4, 4, 4),
            (5, 5, -3),
            (8, 0, 0),
            (-12, 4, 4),
        ] {
            let angle = Angle::new(n, 8).unwrap();
            assert_eq!(angle.within_turn(), Angle::new(whole, 8).unwrap());
            assert_eq!(angle.within_half_turn(), Angle::new(half, 8).unwrap());
        }
    }

    #[test]
    fn rounding_constructors_refuse_what_is_not_a_number() {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert_eq!(
                Angle::from_degrees_rounded(bad, 10).unwrap_err().kind(),
                ErrorKind::NotFinite
            );
        }
        assert!(Angle::from_degrees_rounded(1.0, 0).is_err());
        assert!(Angle::from_degrees_rounded(1e300, 10).is_err());
        assert_eq!(
            Angle::from_degrees_rounded(5e-324, 1_000_000).unwrap(),
            Angle::ZERO
        );
        assert_eq!(
            Angle::from_degrees_rounded(-90.0, 8).unwrap(),
            -Angle::QUARTER_TURN
        );
    }

    #[test]
    fn nearest_fraction_with_extreme_terms_does_not_overflow() {
        let angle = Angle::new(MAX_TERM - 1, MAX_TERM).unwrap();
        assert_eq!(angle.nearest_fraction(1).unwrap(), Angle::FULL_TURN);
        let close = angle.nearest_fraction(MAX_TERM - 1).unwrap();
        assert!(close.denominator() < MAX_TERM);
        let negative = Angle::new(-(MAX_TERM - 1), MAX_TERM).unwrap();
        assert_eq!(negative.nearest_fraction(10).unwrap(), -Angle::FULL_TURN);
    }
}
