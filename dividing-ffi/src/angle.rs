//! Exact angles: text to fraction and back.

use std::ffi::c_char;

use dividing_core::{Angle, AngleStyle};

use crate::error::{Failure, Outcome};
use crate::guard::guard;
use crate::pointer::Out;
use crate::status::Status;
use crate::text;

/// An exact fraction. As an angle it counts turns: 1/16 is 22.5 degrees.
///
/// What the library writes is in lowest terms, the denominator at least 1, the
/// sign in the numerator. What it reads may have any denominator but 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct Fraction {
    /// Numerator; carries the sign.
    pub numerator: i64,
    /// Denominator.
    pub denominator: i64,
}

impl Fraction {
    pub(crate) fn of(angle: Angle) -> Outcome<Self> {
        let term = |value: i128| {
            i64::try_from(value).map_err(|_| {
                Failure::new(
                    Status::Overflow,
                    "",
                    format!(
                        "{} does not fit a fraction of 64-bit numbers; ask for it as text",
                        angle.format(AngleStyle::FractionOfTurn)
                    ),
                )
            })
        };
        Ok(Self {
            numerator: term(angle.numerator())?,
            denominator: term(angle.denominator())?,
        })
    }

    pub(crate) fn angle(self) -> Outcome<Angle> {
        Ok(Angle::new(self.numerator.into(), self.denominator.into())?)
    }
}

/// How an angle is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum Style {
    /// Exact: decimal degrees where they end, else a fraction of a turn.
    Exact = 0,
    /// Decimal degrees, rounded half to even: 22.500°.
    DecimalDegrees = 1,
    /// Degrees, minutes and seconds, the seconds rounded half to even:
    /// 22°30'00.0".
    DegreesMinutesSeconds = 2,
    /// An exact fraction of a turn: 1/16 turn.
    FractionOfTurn = 3,
}

fn formatted(angle: Angle, style: i32, digits: u8) -> Outcome<String> {
    const EXACT: i32 = Style::Exact as i32;
    const DECIMAL: i32 = Style::DecimalDegrees as i32;
    const SEXAGESIMAL: i32 = Style::DegreesMinutesSeconds as i32;
    const FRACTION: i32 = Style::FractionOfTurn as i32;
    let style = match style {
        EXACT => return Ok(angle.to_string()),
        DECIMAL => AngleStyle::DecimalDegrees(digits),
        SEXAGESIMAL => AngleStyle::DegreesMinutesSeconds(digits),
        FRACTION => AngleStyle::FractionOfTurn,
        other => {
            return Err(Failure::new(
                Status::OutOfRange,
                "style",
                format!("{other} is no style; accepted: {EXACT} to {FRACTION}"),
            ));
        }
    };
    if digits > 30 {
        return Err(Failure::new(
            Status::OutOfRange,
            "digits",
            format!("{digits} digits are out of range; accepted: 0 to 30"),
        ));
    }
    Ok(angle.format(style))
}

/// Reads an angle: "22.5 deg", "7°30'15\"", "1/9 turn", "360/7 deg", "40 gon".
///
/// `text` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
/// `turns` takes the angle as an exact fraction of a turn.
///
/// Errors: unreadable_text, missing_unit, inexact_unit, overflow when the
/// fraction does not fit 64-bit numbers (dividing_angle_convert has no such
/// limit), null_pointer, invalid_utf8, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_angle_parse(
    text: *const c_char,
    length: usize,
    turns: *mut Fraction,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (text, turns) =
            unsafe { (text::read(text, length, "text")?, Out::new(turns, "turns")?) };
        turns.write(Fraction::of(text.parse::<Angle>()?)?);
        Ok(())
    })
}

/// Writes an angle as text.
///
/// `style` is one of dividing_style; `digits` (0 to 30) counts those after the
/// point, of the degrees or of the seconds, and is not looked at by the exact
/// styles.
///
/// Errors: out_of_range for a denominator of 0, a style or digits; null_pointer,
/// misaligned. Ownership: `*out` is the caller's, freed with dividing_text_free.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_angle_format(
    turns: Fraction,
    style: i32,
    digits: u8,
    out: *mut *mut c_char,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let out = unsafe { Out::new(out, "out")? };
        text::give(formatted(turns.angle()?, style, digits)?, out)
    })
}

/// Reads an angle and writes it in another style, for angles of any size that
/// the library carries (35 digits).
///
/// `text` and `length` as in dividing_angle_parse, `style` and `digits` as in
/// dividing_angle_format.
///
/// Errors: those of both. Ownership: `*out` is the caller's, freed with
/// dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_angle_convert(
    text: *const c_char,
    length: usize,
    style: i32,
    digits: u8,
    out: *mut *mut c_char,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (text, out) = unsafe { (text::read(text, length, "text")?, Out::new(out, "out")?) };
        text::give(formatted(text.parse()?, style, digits)?, out)
    })
}

/// The fraction of a turn nearest to an angle whose denominator is at most
/// `max_denominator`; between two equally near the smaller denominator wins.
///
/// Errors: out_of_range for a denominator of 0 or a `max_denominator` below 1;
/// null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_angle_nearest(
    turns: Fraction,
    max_denominator: i64,
    nearest: *mut Fraction,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let nearest = unsafe { Out::new(nearest, "nearest")? };
        let found = turns.angle()?.nearest_fraction(max_denominator.into())?;
        nearest.write(Fraction::of(found)?);
        Ok(())
    })
}

/// As dividing_angle_nearest, from text to an exact fraction as text, for
/// angles of any size that the library carries (35 digits).
///
/// `text` and `length` as in dividing_angle_parse.
///
/// Errors: those of dividing_angle_parse; out_of_range for a `max_denominator`
/// below 1. Ownership: `*out` is the caller's, freed with dividing_text_free.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_angle_nearest_text(
    text: *const c_char,
    length: usize,
    max_denominator: i64,
    out: *mut *mut c_char,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (text, out) = unsafe { (text::read(text, length, "text")?, Out::new(out, "out")?) };
        let found = text
            .parse::<Angle>()?
            .nearest_fraction(max_denominator.into())?;
        text::give(found.format(AngleStyle::FractionOfTurn), out)
    })
}

/// # Safety
/// The contract of the exports that call it.
unsafe fn reckoned(out: *mut Fraction, body: impl FnOnce() -> Outcome<Angle>) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let out = unsafe { Out::new(out, "out")? };
        out.write(Fraction::of(body()?)?);
        Ok(())
    })
}

/// The sum of two angles, exact, in turns.
///
/// Errors: out_of_range for a denominator of 0; overflow; null_pointer,
/// misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_angle_add(
    first: Fraction,
    second: Fraction,
    out: *mut Fraction,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { reckoned(out, || Ok(first.angle()?.checked_add(second.angle()?)?)) }
}

/// The first angle less the second, exact, in turns.
///
/// Errors and threads as dividing_angle_add.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_angle_subtract(
    first: Fraction,
    second: Fraction,
    out: *mut Fraction,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { reckoned(out, || Ok(first.angle()?.checked_sub(second.angle()?)?)) }
}

/// An angle times a whole number, exact, in turns.
///
/// Errors and threads as dividing_angle_add.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_angle_multiply(
    turns: Fraction,
    factor: i64,
    out: *mut Fraction,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { reckoned(out, || Ok(turns.angle()?.checked_mul(factor.into())?)) }
}

/// An angle over a whole number, exact, in turns.
///
/// Errors and threads as dividing_angle_add; out_of_range for a divisor of 0 too.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_angle_divide(
    turns: Fraction,
    divisor: i64,
    out: *mut Fraction,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { reckoned(out, || Ok(turns.angle()?.checked_div(divisor.into())?)) }
}

/// The same direction as an angle from 0 to below one turn.
///
/// Errors and threads as dividing_angle_add.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_angle_within_turn(turns: Fraction, out: *mut Fraction) -> Status {
    // SAFETY: the contract of this function.
    unsafe { reckoned(out, || Ok(turns.angle()?.within_turn())) }
}

/// The angle nearest to `value_deg` degrees whose denominator in turns is at most
/// `max_denominator`: with dividing_angle_from_radians_rounded the one door from a
/// binary number to an exact angle.
///
/// Errors: not_finite; out_of_range for a `max_denominator` below 1 or an angle
/// beyond bounds; overflow; null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_angle_from_degrees_rounded(
    value_deg: f64,
    max_denominator: i64,
    out: *mut Fraction,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        reckoned(out, || {
            Ok(Angle::from_degrees_rounded(
                value_deg,
                max_denominator.into(),
            )?)
        })
    }
}

/// As dividing_angle_from_degrees_rounded, from radians, which are no exact
/// fraction of a turn.
///
/// Errors and threads as dividing_angle_from_degrees_rounded.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_angle_from_radians_rounded(
    value_rad: f64,
    max_denominator: i64,
    out: *mut Fraction,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        reckoned(out, || {
            Ok(Angle::from_radians_rounded(
                value_rad,
                max_denominator.into(),
            )?)
        })
    }
}
