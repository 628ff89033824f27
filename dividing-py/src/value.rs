//! What the package's typed values ask of the core: arguments read, equipment
//! judged.

use dividing_core::document;
use dividing_core::equipment::{Drilled, PinInHole};
use dividing_core::gearing::GearRatio;
use dividing_core::{Error, Workshop};
use pyo3::prelude::*;
use pyo3::types::PyString;

use crate::argument::{FRACTION, float_of, ratio_of, text_of, whole_within};
use crate::errors::{core, exception, wrong_type};

/// A text without lone surrogates.
#[pyfunction]
pub(crate) fn _text_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<String> {
    text_of(value, name)
}

/// A finite number as a float.
#[pyfunction]
pub(crate) fn _float_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<f64> {
    finite_of(value, name)
}

/// A whole number within limits.
#[pyfunction]
pub(crate) fn _whole_of(
    value: &Bound<'_, PyAny>,
    name: &str,
    least: i128,
    most: i128,
) -> PyResult<i128> {
    whole_within(value, name, least, most)
}

/// A ratio above zero as a Fraction: of an int, a Fraction, or text.
#[pyfunction]
pub(crate) fn _ratio_of<'py>(value: &Bound<'py, PyAny>, name: &str) -> PyResult<Bound<'py, PyAny>> {
    fraction_of_ratio(value.py(), gear_ratio_of(value, name)?)
}

/// JSON text as plain Python values.
#[pyfunction]
pub(crate) fn _loads<'py>(py: Python<'py>, text: &str) -> PyResult<Bound<'py, PyAny>> {
    crate::document::loads(py, text)
}

/// Judges the one piece of a workshop's document; the path in an error begins
/// behind its kind and `inside`, and is `only` where nothing is left.
#[pyfunction]
pub(crate) fn _check_equipment(
    document: &str,
    kind: &str,
    inside: &str,
    only: &str,
) -> PyResult<()> {
    let judged = |text: &str| match Workshop::from_json(text) {
        // A stack is judged with its members, in the workshop that owns them.
        Err(error) if kind == "stack" && error.field().contains("stack.members[") => Ok(()),
        Err(error) => {
            let error = behind(&error, &format!("equipment[0].{kind}."), inside);
            Err(if error.field().is_empty() {
                error.at(only)
            } else {
                error
            })
        }
        Ok(_) => Ok(()),
    };
    core(|| judged(document))
}

/// The error with its path behind a prefix, and behind what lies inside of it.
fn behind(error: &Error, prefix: &str, inside: &str) -> Error {
    let path = error.field();
    let path = path.strip_prefix(prefix).unwrap_or(path);
    let path = path
        .strip_prefix(inside)
        .map_or(path, |rest| rest.trim_start_matches('.'));
    let text = error.message();
    let text = text.split(" at line ").next().unwrap_or(text);
    Error::new(error.kind(), text).at(path)
}

/// The long form, as JSON text, of a pin in a hole that a fit describes.
#[pyfunction]
pub(crate) fn _pin_in_hole_of_fit(text: &str) -> PyResult<String> {
    let read = || {
        let pin: PinInHole = document::read(text).map_err(|error| {
            let text = error.message();
            let text = text.split(" at line ").next().unwrap_or(text);
            Error::new(dividing_core::ErrorKind::InvalidField, text).at("fit")
        })?;
        document::write(&pin)
    };
    core(read)
}

/// Diameter of the zone in which holes lie that were drilled so.
#[pyfunction]
pub(crate) fn _drilled_zone_mm(text: &str, pitch_radius_mm: &Bound<'_, PyAny>) -> PyResult<f64> {
    let pitch_radius_mm = finite_of(pitch_radius_mm, "pitch_radius_mm")?;
    core(|| {
        let drilled: Drilled = document::read(text)?;
        Ok(drilled.position_zone_mm(pitch_radius_mm))
    })
}

/// The error of something that cannot happen.
pub(crate) fn defect(error: impl std::fmt::Display) -> Error {
    Error::new(dividing_core::ErrorKind::Internal, error.to_string())
}

/// A number as a float that is neither NaN nor infinite.
pub(crate) fn finite_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<f64> {
    let number = float_of(value, name)?;
    if number.is_finite() {
        return Ok(number);
    }
    let error = Error::new(
        dividing_core::ErrorKind::NotFinite,
        format!("{number} is not finite; accepted: finite numbers"),
    );
    Err(exception(&error.at(name)))
}

/// A ratio above zero: an int, a Fraction, or text such as `81/2` or `40:1`.
pub(crate) fn gear_ratio_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<GearRatio> {
    if value.is_instance_of::<PyString>() {
        let text = text_of(value, name)?.replace(':', "/");
        return core(|| text.parse().map_err(|error: Error| error.at(name)));
    }
    match ratio_of(value, name)? {
        Some((numerator, denominator)) => {
            core(|| GearRatio::new(numerator, denominator).map_err(|error| error.at(name)))
        }
        None => Err(wrong_type(
            name,
            "a ratio (an int, a Fraction, or text such as 81/2)",
            value,
        )),
    }
}

/// A ratio of the core as a Fraction.
pub(crate) fn fraction_of_ratio(py: Python<'_>, ratio: GearRatio) -> PyResult<Bound<'_, PyAny>> {
    FRACTION
        .import(py, "fractions", "Fraction")?
        .call1((ratio.numerator(), ratio.denominator()))
}

/// A choice of the core from its text in documents.
pub(crate) fn choice_of<T: serde::de::DeserializeOwned>(
    value: &Bound<'_, PyAny>,
    name: &str,
    accepted: &str,
) -> PyResult<T> {
    let text = text_of(value, name)?;
    core(|| {
        serde_json::from_value(serde_json::Value::String(text.clone())).map_err(|_| {
            let found: String = text.chars().take(60).collect();
            Error::out_of_range(format!("{found:?}"), accepted).at(name)
        })
    })
}
