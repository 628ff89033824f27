//! The native module `dividing._dividing`; the package `dividing` around it is
//! written by hand in `python/dividing`.
//!
//! Each file is the Python face of one part of the core. Every call that can
//! fail goes through `errors::core`, so that errors become the package's
//! exceptions and a panic can never surface.
#![forbid(unsafe_code)]

mod angle;
mod argument;
mod document;
mod errors;
mod html;
mod job;
mod plan;
mod record;
mod sheet;
mod watch;
mod workshop;

use pyo3::prelude::*;

/// A length in millimetres: of a number of millimetres, or of text with a unit
/// (mm, in, um), at most 100 m.
///
/// Raises ValueError (one of this package) for a text that is no length,
/// NotFiniteError, OutOfRangeError; TypeError for anything else.
///
/// >>> dividing.length_mm("0.250 in"), dividing.length_mm(6)
/// (6.35, 6.0)
#[pyfunction]
fn length_mm(value: &Bound<'_, PyAny>) -> PyResult<f64> {
    argument::length_of(value, "").map(dividing_core::Length::mm)
}

/// As `length_mm`, with the name of the argument for the error.
#[pyfunction]
fn _length_mm_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<f64> {
    argument::length_of(value, name).map(dividing_core::Length::mm)
}

/// As `Angle(value)`, with the name of the argument for the error.
#[pyfunction]
fn _angle_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<angle::PyAngle> {
    argument::angle_of(value, name).map(Into::into)
}

/// For tests: a call of the core that panics, to show what Python then sees.
#[pyfunction]
#[allow(clippy::panic, reason = "the boundary is tested with a real panic")]
fn _panic_on_purpose(message: String) -> PyResult<()> {
    errors::core(|| panic!("{message}"))
}

/// The native part of the package `dividing`.
#[pymodule]
mod _dividing {
    #[pymodule_export]
    use super::{
        _angle_of, _length_mm_of, _panic_on_purpose,
        angle::PyAngle,
        job::PyJob,
        length_mm,
        plan::{PyPlan, PyPlans, plan},
        sheet::{PyDrawing, PySheet},
        workshop::PyWorkshop,
    };

    use pyo3::prelude::*;

    #[pymodule_init]
    fn init(module: &Bound<'_, PyModule>) -> PyResult<()> {
        module.add("__version__", env!("CARGO_PKG_VERSION"))
    }
}
