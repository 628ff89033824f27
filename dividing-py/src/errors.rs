//! The one door from the core to Python: errors become exceptions, and a panic
//! becomes an exception too.

use std::any::Any;
use std::panic::{AssertUnwindSafe, catch_unwind};

use dividing_core::{Error, ErrorKind, Result};
use pyo3::exceptions::PyTypeError;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;

/// The Python function that makes the exception for a kind.
static ERROR_OF: PyOnceLock<Py<PyAny>> = PyOnceLock::new();
/// The exception for a divisor of zero.
static ZERO: PyOnceLock<Py<PyAny>> = PyOnceLock::new();
/// The exception for an unknown name.
static UNKNOWN: PyOnceLock<Py<PyAny>> = PyOnceLock::new();

/// Runs a call of the core; its error becomes an exception of the package.
pub(crate) fn core<T>(call: impl FnOnce() -> Result<T>) -> PyResult<T> {
    caught(call).map_err(|error| exception(&error))
}

/// Runs a call of the core; a panic becomes an error of kind internal.
pub(crate) fn caught<T>(call: impl FnOnce() -> Result<T>) -> Result<T> {
    catch_unwind(AssertUnwindSafe(call)).unwrap_or_else(|panic| Err(defect(&*panic)))
}

/// The error for a panic; compiled once, not for every call.
#[cold]
#[inline(never)]
fn defect(panic: &(dyn Any + Send)) -> Error {
    let what = panic
        .downcast_ref::<String>()
        .map(String::as_str)
        .or_else(|| panic.downcast_ref::<&str>().copied())
        .unwrap_or("no message");
    Error::new(
        ErrorKind::Internal,
        format!("a defect of the dividing library: {what}"),
    )
}

/// The exception for an error of the core.
#[cold]
pub(crate) fn exception(error: &Error) -> PyErr {
    Python::attach(|py| {
        ERROR_OF
            .import(py, "dividing._errors", "error_of")
            .and_then(|make| make.call1((error.kind().name(), error.message(), error.field())))
            .map_or_else(|failed| failed, PyErr::from_value)
    })
}

/// The exception for a denominator or divisor of zero.
pub(crate) fn division_by_zero(name: &str) -> PyErr {
    Python::attach(|py| {
        ZERO.import(py, "dividing._errors", "DivisionByZeroError")
            .and_then(|class| {
                class.call1(("0 is out of range; accepted: any other whole number", name))
            })
            .map_or_else(|failed| failed, PyErr::from_value)
    })
}

/// The exception for a name that nothing has; also a KeyError.
pub(crate) fn unknown_name<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> PyErr {
    const MOST: usize = 20;
    let found: String = name.chars().take(60).collect();
    let known: Vec<&str> = known.take(MOST).collect();
    let message = format!(
        "nothing is called {found:?}; accepted: {}",
        known.join(", ")
    );
    Python::attach(|py| {
        UNKNOWN
            .import(py, "dividing._errors", "UnknownNameError")
            .and_then(|class| class.call1((message, "name")))
            .map_or_else(|failed| failed, PyErr::from_value)
    })
}

/// A TypeError that names the argument, what is wanted and what was given. An
/// argument without a name is the only one of its call: `value`.
pub(crate) fn wrong_type(name: &str, wanted: &str, given: &Bound<'_, PyAny>) -> PyErr {
    let given = given
        .get_type()
        .name()
        .map_or_else(|_| "something else".into(), |name| name.to_string());
    let name = if name.is_empty() { "value" } else { name };
    PyTypeError::new_err(format!("{name}: {wanted} is wanted, not {given}"))
}
