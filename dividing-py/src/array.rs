//! Functions of numbers that take arrays as well: number in, number out; arrays
//! broadcast as NumPy's and give a new array.
//!
//! Arrays of float64 that lie together are read where they are. Long calls
//! release the interpreter lock and hear Ctrl-C between pieces.

use dividing_core::{Error, ErrorKind, Result};
use numpy::{IntoPyArray, PyArrayDyn, PyArrayMethods, PyReadonlyArrayDyn, PyUntypedArrayMethods};
use pyo3::exceptions::PyMemoryError;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyFloat, PyInt, PyString, PyTuple};

use crate::errors::{caught, exception, wrong_type};

const WANTED: &str = "a number or an array of numbers";

/// Values between two looks for Ctrl-C: some milliseconds.
const PIECE: usize = 1 << 16;

/// A number as Python's own float or int; none for anything else.
fn plain_number(value: &Bound<'_, PyAny>) -> Option<f64> {
    if let Ok(number) = value.cast_exact::<PyFloat>() {
        return Some(number.value());
    }
    if value.is_exact_instance_of::<PyInt>() {
        return value.extract().ok();
    }
    None
}

/// A function of N numbers over numbers or arrays. Errors of `of` carry the name
/// of the argument; over arrays they get the index of the entry too.
pub(crate) fn evaluated<'py, const N: usize>(
    py: Python<'py>,
    names: [&'static str; N],
    arguments: [&Bound<'py, PyAny>; N],
    of: impl Fn([f64; N]) -> Result<f64> + Sync,
) -> PyResult<Bound<'py, PyAny>> {
    let mut numbers = [0.0; N];
    for ((argument, number), name) in arguments.iter().zip(&mut numbers).zip(names) {
        match plain_number(argument) {
            Some(value) => *number = finite(value, name).map_err(|error| exception(&error))?,
            None => return over_arrays(py, names, arguments, of),
        }
    }
    let value = caught(|| of(numbers)).map_err(|error| exception(&error))?;
    Ok(PyFloat::new(py, value).into_any())
}

fn finite(value: f64, name: &str) -> Result<f64> {
    if value.is_finite() {
        return Ok(value);
    }
    let message = format!("{value} is not finite; accepted: finite numbers");
    Err(Error::new(ErrorKind::NotFinite, message).at(name))
}

#[cold]
fn over_arrays<'py, const N: usize>(
    py: Python<'py>,
    names: [&'static str; N],
    arguments: [&Bound<'py, PyAny>; N],
    of: impl Fn([f64; N]) -> Result<f64> + Sync,
) -> PyResult<Bound<'py, PyAny>> {
    let mut arrays = Vec::with_capacity(N);
    for (argument, name) in arguments.into_iter().zip(names) {
        arrays.push(array_of(argument, name)?);
    }
    let shape = common_shape(py, &mut arrays, &names)?;
    let held: Vec<PyReadonlyArrayDyn<'_, f64>> = arrays.iter().map(|it| it.readonly()).collect();
    let mut columns: [(&[f64], usize); N] = [(&[], 0); N];
    let mut size = 1;
    for (column, array) in columns.iter_mut().zip(&held) {
        let values = array.as_slice()?;
        *column = (values, usize::from(array.ndim() > 0));
        if array.ndim() > 0 {
            size = values.len();
        }
    }
    let mut found: Vec<f64> = Vec::new();
    found
        .try_reserve_exact(size)
        .map_err(|_| PyMemoryError::new_err(format!("no room for {size} numbers")))?;
    found.resize(size, 0.0);
    for (index, piece) in found.chunks_mut(PIECE).enumerate() {
        let of = &of;
        let work = move || caught(|| evaluate(columns, names, index * PIECE, of, piece));
        py.detach(work).map_err(|error| exception(&error))?;
        py.check_signals()?;
    }
    if shape.is_empty() {
        let value = found.first().copied().unwrap_or_default();
        return Ok(PyFloat::new(py, value).into_any());
    }
    let flat = found.into_pyarray(py);
    Ok(flat.reshape(shape)?.into_any())
}

/// Fills a piece of the answer that begins at an index.
fn evaluate<const N: usize>(
    columns: [(&[f64], usize); N],
    names: [&'static str; N],
    begin: usize,
    of: &impl Fn([f64; N]) -> Result<f64>,
    piece: &mut [f64],
) -> Result<()> {
    for (index, answer) in (begin..).zip(piece) {
        let numbers = columns.map(|(values, step)| values[index * step]);
        let value = match numbers.iter().position(|it| !it.is_finite()) {
            None => of(numbers),
            Some(place) => finite(numbers[place], names[place]),
        };
        match value {
            Ok(value) => *answer = value,
            Err(error) => return Err(at_entry(&error, names, columns.map(|it| it.1), index)),
        }
    }
    Ok(())
}

/// The error with the place of the entry behind the name of an array.
#[cold]
fn at_entry<const N: usize>(
    error: &Error,
    names: [&'static str; N],
    steps: [usize; N],
    index: usize,
) -> Error {
    let field = error.field();
    let of_array = names
        .iter()
        .zip(steps)
        .any(|(name, step)| *name == field && step > 0);
    let field = if of_array {
        format!("{field}[{index}]")
    } else {
        field.to_owned()
    };
    Error::new(error.kind(), error.message()).at(field)
}

type Array<'py> = Bound<'py, PyArrayDyn<f64>>;

/// Anything that NumPy takes for an array of real numbers, as float64 that lies
/// together; no copy where it is one.
pub(crate) fn array_of<'py>(value: &Bound<'py, PyAny>, name: &str) -> PyResult<Array<'py>> {
    static AS_ARRAY: PyOnceLock<Py<PyAny>> = PyOnceLock::new();
    static REQUIRE: PyOnceLock<Py<PyAny>> = PyOnceLock::new();
    let py = value.py();
    if value.is_none() || value.is_instance_of::<PyString>() {
        return Err(wrong_type(name, WANTED, value));
    }
    if value.is_exact_instance_of::<PyInt>() && value.extract::<f64>().is_err() {
        let found = "a whole number beyond all floats";
        let error = Error::out_of_range(found, "at most 1.7e308 either way");
        return Err(exception(&error.at(name)));
    }
    let as_array = AS_ARRAY.import(py, "numpy", "asarray")?;
    let refused = |error: PyErr| {
        if error.is_instance_of::<PyMemoryError>(py) {
            error
        } else {
            wrong_type(name, WANTED, value)
        }
    };
    let given = as_array.call1((value,)).map_err(refused)?;
    let kind: String = given.getattr("dtype")?.getattr("kind")?.extract()?;
    if !matches!(kind.as_str(), "f" | "i" | "u") {
        return Err(wrong_type(name, WANTED, value));
    }
    // Native byte order, contiguous and aligned.
    let require = REQUIRE.import(py, "numpy", "require")?;
    let plain = require
        .call1((given, "float64", ["C", "A"]))
        .map_err(refused)?;
    Ok(plain.cast_into::<PyArrayDyn<f64>>()?)
}

/// The shape of the answer; arrays of another one are spread out to it, unless
/// they are single numbers.
fn common_shape<'py>(
    py: Python<'py>,
    arrays: &mut [Array<'py>],
    names: &[&'static str],
) -> PyResult<Vec<usize>> {
    let mut shapes = arrays
        .iter()
        .filter(|it| it.ndim() > 0)
        .map(|it| it.shape());
    let Some(first) = shapes.next() else {
        return Ok(Vec::new());
    };
    if shapes.all(|shape| shape == first) {
        return Ok(first.to_vec());
    }
    let numpy = py.import("numpy")?;
    let all = arrays.iter().map(|it| PyTuple::new(py, it.shape()));
    let all = PyTuple::new(py, all.collect::<PyResult<Vec<_>>>()?)?;
    let shape = numpy
        .getattr("broadcast_shapes")?
        .call1(&all)
        .map_err(|_| {
            let message =
                format!("shapes {all} do not go together; accepted: shapes that broadcast");
            exception(&Error::new(ErrorKind::Inconsistent, message).at(names.join(", ")))
        })?;
    for array in arrays.iter_mut().filter(|it| it.ndim() > 0) {
        let spread = numpy.call_method1("broadcast_to", (&*array, &shape))?;
        let spread = numpy.call_method1("ascontiguousarray", (spread,))?;
        *array = spread.cast_into::<PyArrayDyn<f64>>()?;
    }
    shape.extract()
}
