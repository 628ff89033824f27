//! Fields of structs that come in: numbers and texts of the caller made into
//! values of the core, each refusal naming its field.

use std::ffi::c_char;

use dividing_core::{Angle, Error, Length};

use crate::angle::Fraction;
use crate::error::{Failure, Outcome};
use crate::status::Status;
use crate::text;

/// A length that need not be given. All zeros stand for "not given".
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct OptionalLength {
    /// 1 when `mm` counts, 0 when nothing is given.
    pub given: i32,
    /// The length in millimetres.
    pub mm: f64,
}

/// Which way angles, numbers or a spindle grow, seen from the side of the cutter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum Sense {
    /// Counter-clockwise.
    CounterClockwise = 0,
    /// Clockwise.
    Clockwise = 1,
}

impl OptionalLength {
    pub(crate) fn length(self, field: &str) -> Outcome<Option<Length>> {
        Ok(if yes(self.given, &format!("{field}.given"))? {
            Some(length(self.mm, field)?)
        } else {
            None
        })
    }
}

impl Fraction {
    /// None where the denominator and the numerator are 0.
    pub(crate) fn optional(self, field: &str) -> Outcome<Option<Angle>> {
        if self.denominator == 0 && self.numerator == 0 {
            return Ok(None);
        }
        let angle = Angle::new(self.numerator.into(), self.denominator.into());
        Ok(Some(at(angle, field)?))
    }

    /// Angle 0 where the denominator and the numerator are 0.
    pub(crate) fn or_zero(self, field: &str) -> Outcome<Angle> {
        Ok(self.optional(field)?.unwrap_or_default())
    }

    /// An angle that must be given.
    pub(crate) fn given(self, field: &str) -> Outcome<Angle> {
        at(
            Angle::new(self.numerator.into(), self.denominator.into()),
            field,
        )
    }
}

/// A result of the core about a field.
pub(crate) fn at<T>(result: Result<T, Error>, field: &str) -> Outcome<T> {
    result.map_err(|error| Failure::from(error.at(field)))
}

/// A length in millimetres.
pub(crate) fn length(mm: f64, field: &str) -> Outcome<Length> {
    at(Length::from_mm(mm), field)
}

/// A 0 or 1.
pub(crate) fn yes(flag: i32, field: &str) -> Outcome<bool> {
    chosen(flag, field, &[false, true])
}

/// One of several, by its number.
pub(crate) fn chosen<T: Clone>(number: i32, field: &str, choices: &[T]) -> Outcome<T> {
    let found = usize::try_from(number).ok().and_then(|at| choices.get(at));
    found.cloned().ok_or_else(|| {
        Failure::new(
            Status::OutOfRange,
            field,
            format!(
                "{number} is none of its values; accepted: 0 to {}",
                choices.len().saturating_sub(1)
            ),
        )
    })
}

/// A sense of the core.
pub(crate) fn sense(number: i32, field: &str) -> Outcome<dividing_core::equipment::Sense> {
    use dividing_core::equipment::Sense as Core;
    chosen(number, field, &[Core::CounterClockwise, Core::Clockwise])
}

/// A text of a struct, up to its NUL.
///
/// # Safety
/// A pointer that is not null points to bytes up to a NUL.
pub(crate) unsafe fn string(pointer: *const c_char, field: &str) -> Outcome<String> {
    // SAFETY: the caller's contract.
    Ok(unsafe { text::read(pointer, text::NUL_ENDED, field)? }.to_owned())
}

/// A text by which the core names something, such as "metric_112".
pub(crate) fn named<T: serde::de::DeserializeOwned>(name: &str, field: &str) -> Outcome<T> {
    serde_json::from_value(serde_json::Value::from(name))
        .map_err(|error| Failure::new(Status::InvalidField, field, error))
}

/// A number in a field of another width.
pub(crate) fn fitted<T: TryFrom<N>, N: Copy + std::fmt::Display>(
    number: N,
    field: &str,
) -> Outcome<T> {
    T::try_from(number).map_err(|_| {
        Failure::new(
            Status::Overflow,
            field,
            format!("{number} does not fit its field; ask for it as text or JSON"),
        )
    })
}
