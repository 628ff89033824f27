//! Reading arguments: each function names the argument in its error.

use dividing_core::{Angle, Error, ErrorKind, Length};
use pyo3::exceptions::PyOverflowError;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyBool, PyFloat, PyInt, PyString};

use crate::angle::PyAngle;
use crate::errors::{core, division_by_zero, exception, wrong_type};

/// `fractions.Fraction`.
pub(crate) static FRACTION: PyOnceLock<Py<PyAny>> = PyOnceLock::new();

const ANGLE: &str = "an Angle, text with its unit, or a Fraction or int of turns";

/// Text; a lone surrogate, which no document can hold, is refused.
pub(crate) fn text_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<String> {
    let text = value
        .cast::<PyString>()
        .map_err(|_| wrong_type(name, "a text", value))?;
    text.to_str().map(Into::into).map_err(|_| {
        let error = Error::new(
            ErrorKind::UnreadableText,
            "a text with a lone surrogate, which is no character; accepted: Unicode text",
        );
        exception(&error.at(name))
    })
}

/// A whole number as Python's own int; none when the value is no whole number.
/// A bool is none: it would be a slip.
fn whole<'py>(value: &Bound<'py, PyAny>) -> PyResult<Option<Bound<'py, PyInt>>> {
    if value.is_instance_of::<PyBool>() || value.is_instance_of::<PyFloat>() {
        return Ok(None);
    }
    if let Ok(int) = value.cast::<PyInt>() {
        return Ok(Some(int.clone()));
    }
    match value.getattr_opt(pyo3::intern!(value.py(), "__index__"))? {
        // An array has the method and refuses the call unless it is a number.
        Some(index) => Ok(index
            .call0()
            .ok()
            .and_then(|int| int.cast_into::<PyInt>().ok())),
        None => Ok(None),
    }
}

fn i128_of(int: &Bound<'_, PyInt>, name: &str) -> PyResult<i128> {
    wide(int).ok_or_else(|| exception(&Error::overflow("a whole number").at(name)))
}

/// An int that fits: small ones by the short way.
fn wide(int: &Bound<'_, PyInt>) -> Option<i128> {
    let short = int.extract::<i64>().map(i128::from);
    short.or_else(|_| int.extract::<i128>()).ok()
}

/// A whole number within limits.
pub(crate) fn whole_within(
    value: &Bound<'_, PyAny>,
    name: &str,
    least: i128,
    most: i128,
) -> PyResult<i128> {
    let int = whole(value)?.ok_or_else(|| wrong_type(name, "an int", value))?;
    let limits = format!("{least} to {most}");
    let Some(number) = wide(&int) else {
        let found = "a whole number of more than 38 digits";
        return Err(exception(&Error::out_of_range(found, limits).at(name)));
    };
    if (least..=most).contains(&number) {
        Ok(number)
    } else {
        Err(exception(&Error::out_of_range(number, limits).at(name)))
    }
}

/// A count that the core judges further.
pub(crate) fn count_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<u32> {
    let most = i128::from(dividing_core::features::MAX_FEATURES);
    u32::try_from(whole_within(value, name, 2, most)?)
        .map_err(|_| exception(&Error::out_of_range("the count", "2 to 100000").at(name)))
}

/// An int or Fraction as numerator and denominator; none when it is neither.
pub(crate) fn ratio_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<Option<(i128, i128)>> {
    if let Some(int) = whole(value)? {
        return Ok(Some((i128_of(&int, name)?, 1)));
    }
    let py = value.py();
    if value.is_instance(FRACTION.import(py, "fractions", "Fraction")?)? {
        let term = |which| -> PyResult<i128> {
            let term = value.getattr(which)?;
            let int = term
                .cast::<PyInt>()
                .map_err(|_| wrong_type(name, "a Fraction of ints", value))?;
            i128_of(int, name)
        };
        return Ok(Some((term("numerator")?, term("denominator")?)));
    }
    Ok(None)
}

/// A denominator or divisor, not zero.
pub(crate) fn denominator_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<i128> {
    let int = whole(value)?.ok_or_else(|| wrong_type(name, "an int", value))?;
    match i128_of(&int, name)? {
        0 => Err(division_by_zero(name)),
        other => Ok(other),
    }
}

/// A numerator.
pub(crate) fn numerator_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<i128> {
    let int = whole(value)?.ok_or_else(|| wrong_type(name, "an int", value))?;
    i128_of(&int, name)
}

/// Anything that stands for an angle.
pub(crate) fn angle_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<Angle> {
    if let Ok(angle) = value.cast::<PyAngle>() {
        return Ok(angle.get().inner);
    }
    if value.is_instance_of::<PyString>() {
        let text = text_of(value, name)?;
        return core(|| text.parse::<Angle>().map_err(|error| error.at(name)));
    }
    if let Some((numerator, denominator)) = ratio_of(value, name)? {
        return core(|| Angle::new(numerator, denominator).map_err(|error| error.at(name)));
    }
    let wanted = if value.is_instance_of::<PyFloat>() {
        "an exact angle (a float is none; Angle.from_degrees_rounded rounds one)"
    } else {
        ANGLE
    };
    Err(wrong_type(name, wanted, value))
}

/// Whether a value is a bool, Python's or NumPy's: one where a number is wanted
/// would be a slip.
fn is_bool(value: &Bound<'_, PyAny>) -> PyResult<bool> {
    if value.is_instance_of::<PyFloat>() {
        return Ok(false);
    }
    let kind = value.get_type().name()?;
    Ok(value.is_instance_of::<PyBool>() || kind == "bool" || kind == "bool_")
}

/// A number as a float; it may be NaN, which the core refuses.
pub(crate) fn float_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<f64> {
    if is_bool(value)? {
        return Err(wrong_type(name, "a number", value));
    }
    value.extract::<f64>().map_err(|error| {
        if error.is_instance_of::<PyOverflowError>(value.py()) {
            let found = "a whole number beyond all floats";
            exception(&Error::out_of_range(found, "at most 1.7e308 either way").at(name))
        } else {
            wrong_type(name, "a number", value)
        }
    })
}

/// A length: a number of millimetres, or text with its unit.
pub(crate) fn length_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<Length> {
    if value.is_instance_of::<PyString>() {
        let text = text_of(value, name)?;
        return core(|| text.parse::<Length>().map_err(|error| error.at(name)));
    }
    if is_bool(value)? {
        return Err(wrong_type(
            name,
            "a length in mm or text with its unit",
            value,
        ));
    }
    let mm = value.extract::<f64>().map_err(|error| {
        if error.is_instance_of::<PyOverflowError>(value.py()) {
            let found = "a whole number beyond all floats";
            exception(&Error::out_of_range(found, "at most 100000 mm either way").at(name))
        } else {
            wrong_type(name, "a length in mm or text with its unit", value)
        }
    })?;
    core(|| Length::from_mm(mm).map_err(|error| error.at(name)))
}
