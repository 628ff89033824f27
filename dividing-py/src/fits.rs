//! The native part of `dividing.fits`.

use dividing_core::fits::{Fit, FitClass, Limits, SizeKind, ToleranceClass};
use dividing_core::{Length, Result};
use pyo3::prelude::*;
use pyo3::types::{PyFloat, PyString, PyTuple};

use crate::argument::{length_of, text_of};
use crate::array;
use crate::errors::core;

/// A class as written, and whether it is one of a hole or of a shaft, with its
/// letter and grade.
#[pyfunction]
pub(crate) fn _tolerance_class(
    text: &Bound<'_, PyAny>,
) -> PyResult<(String, &'static str, String, u8)> {
    let text = text_of(text, "text")?;
    let class: ToleranceClass = core(|| text.parse())?;
    let kind = match class.kind() {
        SizeKind::Hole => "hole",
        SizeKind::Shaft => "shaft",
    };
    let written = class.to_string();
    let letters = written.trim_end_matches(|it: char| it.is_ascii_digit());
    Ok((written.clone(), kind, letters.to_owned(), class.grade()))
}

/// The classes of a hole and of the pin in it.
#[pyfunction]
pub(crate) fn _fit_class(text: &Bound<'_, PyAny>) -> PyResult<(String, String)> {
    let text = text_of(text, "text")?;
    let class: FitClass = core(|| text.parse())?;
    Ok((class.hole().to_string(), class.pin().to_string()))
}

/// The limits of hole and pin, in millimetres.
#[pyfunction]
pub(crate) fn _fit(text: &Bound<'_, PyAny>) -> PyResult<(f64, f64, f64, f64)> {
    let text = text_of(text, "text")?;
    let fit: Fit = core(|| text.parse())?;
    Ok((
        fit.hole.lower().mm(),
        fit.hole.upper().mm(),
        fit.pin.lower().mm(),
        fit.pin.upper().mm(),
    ))
}

/// Checked limits of size, in millimetres.
#[pyfunction]
pub(crate) fn _limits(lower: &Bound<'_, PyAny>, upper: &Bound<'_, PyAny>) -> PyResult<(f64, f64)> {
    let (lower, upper) = (length_of(lower, "lower")?, length_of(upper, "upper")?);
    let limits = core(|| Limits::new(lower, upper))?;
    Ok((limits.lower().mm(), limits.upper().mm()))
}

/// Limits of size from a nominal size and its deviations, in millimetres.
#[pyfunction]
pub(crate) fn _limits_from_deviations(
    nominal: &Bound<'_, PyAny>,
    lower: &Bound<'_, PyAny>,
    upper: &Bound<'_, PyAny>,
) -> PyResult<(f64, f64)> {
    let nominal = length_of(nominal, "nominal")?;
    let (lower, upper) = (length_of(lower, "lower")?, length_of(upper, "upper")?);
    let limits = core(|| Limits::from_deviations(nominal, lower, upper))?;
    Ok((limits.lower().mm(), limits.upper().mm()))
}

/// M figures for nominal sizes: one length, or an array of millimetres.
fn on_nominals<'py, const M: usize>(
    nominal: &Bound<'py, PyAny>,
    of: impl Fn(Length) -> Result<[f64; M]> + Sync,
) -> PyResult<Bound<'py, PyTuple>> {
    let py = nominal.py();
    let one = if nominal.is_instance_of::<PyString>() {
        let mm = length_of(nominal, "nominal")?.mm();
        Some(PyFloat::new(py, mm).into_any())
    } else {
        None
    };
    let nominal = one.as_ref().unwrap_or(nominal);
    array::each_several(py, [("nominal", Some(nominal))], |[mm]| {
        of(Length::from_mm(mm).map_err(|error| error.at("nominal"))?)
    })
}

/// Lower and upper limit deviation of a class on nominal sizes, in micrometres.
#[pyfunction]
pub(crate) fn _limit_deviations_um<'py>(
    text: &Bound<'py, PyAny>,
    nominal: &Bound<'py, PyAny>,
) -> PyResult<Bound<'py, PyTuple>> {
    let text = text_of(text, "class")?;
    let class: ToleranceClass = core(|| text.parse())?;
    on_nominals(nominal, |size| {
        let found = class.limit_deviations(size)?;
        Ok([found.lower_um, found.upper_um])
    })
}

/// Lower and upper limit of size of a class on nominal sizes, in millimetres.
#[pyfunction]
pub(crate) fn _limits_of_class<'py>(
    text: &Bound<'py, PyAny>,
    nominal: &Bound<'py, PyAny>,
) -> PyResult<Bound<'py, PyTuple>> {
    let text = text_of(text, "class")?;
    let class: ToleranceClass = core(|| text.parse())?;
    on_nominals(nominal, |size| {
        let found = class.limits(size)?;
        Ok([found.lower().mm(), found.upper().mm()])
    })
}

fn three(fit: Fit, sliding: bool) -> Result<[f64; 3]> {
    let found = if sliding {
        fit.sliding_clearance()?
    } else {
        fit.clearance()?
    };
    Ok([found.least.mm(), found.mean.mm(), found.greatest.mm()])
}

/// Least, mean and greatest clearance of a fit on nominal sizes, in millimetres.
#[pyfunction]
pub(crate) fn _clearance_of_class<'py>(
    fit: &Bound<'py, PyAny>,
    nominal: &Bound<'py, PyAny>,
    sliding: bool,
) -> PyResult<Bound<'py, PyTuple>> {
    let text = text_of(fit, "fit")?;
    let class: FitClass = core(|| text.parse())?;
    on_nominals(nominal, |size| three(class.on(size)?, sliding))
}

/// Least, mean and greatest clearance from the limits of hole and pin, all in
/// millimetres.
#[pyfunction]
pub(crate) fn _clearance<'py>(
    py: Python<'py>,
    limits: (
        Bound<'py, PyAny>,
        Bound<'py, PyAny>,
        Bound<'py, PyAny>,
        Bound<'py, PyAny>,
    ),
    sliding: bool,
) -> PyResult<Bound<'py, PyTuple>> {
    let given = [
        ("hole.lower", Some(&limits.0)),
        ("hole.upper", Some(&limits.1)),
        ("pin.lower", Some(&limits.2)),
        ("pin.upper", Some(&limits.3)),
    ];
    array::each_several(py, given, |[lower, upper, pin_lower, pin_upper]| {
        let mm = Length::from_mm;
        let fit = Fit {
            hole: Limits::new(mm(lower)?, mm(upper)?).map_err(|it| it.at("hole"))?,
            pin: Limits::new(mm(pin_lower)?, mm(pin_upper)?).map_err(|it| it.at("pin"))?,
        };
        three(fit, sliding)
    })
}
