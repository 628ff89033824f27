//! Numbers or arrays in, numbers or arrays out, by NumPy's rules of
//! broadcasting.
//!
//! Where every argument is a number, the answer is a float, without any array
//! on the way. An array of float64 that lies in one piece is read where it
//! lies; any other is made so first.

use dividing_core::Result;
use numpy::{IntoPyArray, PyArrayDyn, PyArrayMethods, PyReadonlyArrayDyn, PyUntypedArrayMethods};
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyBool, PyDict, PyFloat, PyInt, PyString, PyTuple};

use crate::errors::{core, wrong_type};

/// An argument with its name; none for a column of zeros.
pub(crate) type Given<'a, 'py> = (&'static str, Option<&'a Bound<'py, PyAny>>);

const WANTED: &str = "a number or an array of numbers";

/// A number without a detour; none for anything that may be an array.
pub(crate) fn number_of(value: &Bound<'_, PyAny>) -> Option<f64> {
    if let Ok(float) = value.cast::<PyFloat>() {
        return Some(float.value());
    }
    if value.is_instance_of::<PyInt>() && !value.is_instance_of::<PyBool>() {
        return value.extract().ok();
    }
    None
}

/// The arguments of one call, brought to one shape.
pub(crate) struct Columns<'py, const N: usize> {
    numbers: [f64; N],
    arrays: [Option<PyReadonlyArrayDyn<'py, f64>>; N],
    shape: Option<Vec<usize>>,
}

impl<'py, const N: usize> Columns<'py, N> {
    /// Reads the arguments. Raises TypeError that names the argument for what
    /// is no number, ValueError for shapes that do not go together.
    pub(crate) fn new(py: Python<'py>, given: [Given<'_, 'py>; N]) -> PyResult<Self> {
        let mut columns = Self {
            numbers: [0.0; N],
            arrays: [const { None }; N],
            shape: None,
        };
        let mut made: [Option<Bound<'py, PyArrayDyn<f64>>>; N] = [const { None }; N];
        for (index, (name, value)) in given.into_iter().enumerate() {
            let Some(value) = value else { continue };
            match number_of(value) {
                Some(number) => columns.numbers[index] = number,
                None => made[index] = Some(array_of(py, value, name)?),
            }
        }
        if made.iter().any(Option::is_some) {
            columns.take(py, made)?;
        }
        Ok(columns)
    }

    fn take(
        &mut self,
        py: Python<'py>,
        made: [Option<Bound<'py, PyArrayDyn<f64>>>; N],
    ) -> PyResult<()> {
        let shape = shape_of(py, made.iter().flatten())?;
        for ((number, column), array) in self.numbers.iter_mut().zip(&mut self.arrays).zip(made) {
            let Some(array) = array else { continue };
            if array.shape() == shape {
                *column = Some(in_one_piece(py, array)?.readonly());
            } else if array.len() == 1 {
                *number = array.call_method0("item")?.extract()?;
            } else {
                let shape = PyTuple::new(py, &shape)?;
                let spread = numpy_function(py, "broadcast_to")?.call1((array, shape))?;
                *column = Some(in_one_piece(py, spread.cast_into()?)?.readonly());
            }
        }
        self.shape = Some(shape);
        Ok(())
    }

    /// The columns: of one value, or of as many as the answer has.
    fn slices(&self) -> PyResult<[&[f64]; N]> {
        let mut slices = self.numbers.each_ref().map(std::slice::from_ref);
        for (slice, array) in slices.iter_mut().zip(&self.arrays) {
            if let Some(array) = array {
                *slice = array.as_slice()?;
            }
        }
        Ok(slices)
    }

    fn rows(&self) -> usize {
        self.shape.as_ref().map_or(1, |it| it.iter().product())
    }

    /// A column as Python sees it: a float, or an array of the common shape.
    fn shaped(&self, py: Python<'py>, values: Vec<f64>) -> PyResult<Bound<'py, PyAny>> {
        match &self.shape {
            Some(shape) if !shape.is_empty() => {
                Ok(values.into_pyarray(py).reshape(shape.clone())?.into_any())
            }
            _ => {
                let value = values.first().copied().unwrap_or_default();
                Ok(PyFloat::new(py, value).into_any())
            }
        }
    }

    /// One answer for each row.
    pub(crate) fn each(
        &self,
        py: Python<'py>,
        call: impl Fn([f64; N]) -> Result<f64>,
    ) -> PyResult<Bound<'py, PyAny>> {
        if self.shape.is_none() {
            let value = core(|| call(self.numbers))?;
            return Ok(PyFloat::new(py, value).into_any());
        }
        let [values] = self.columns_of(|row| call(row).map(|it| [it]))?;
        self.shaped(py, values)
    }

    /// A tuple of answers for each row: a tuple of columns.
    pub(crate) fn each_several<const M: usize>(
        &self,
        py: Python<'py>,
        call: impl Fn([f64; N]) -> Result<[f64; M]>,
    ) -> PyResult<Bound<'py, PyTuple>> {
        let columns = self.columns_of(call)?;
        let columns = columns.into_iter().map(|it| self.shaped(py, it));
        PyTuple::new(py, columns.collect::<PyResult<Vec<_>>>()?)
    }

    fn columns_of<const M: usize>(
        &self,
        call: impl Fn([f64; N]) -> Result<[f64; M]>,
    ) -> PyResult<[Vec<f64>; M]> {
        let slices = self.slices()?;
        let rows = self.rows();
        let one = self.shape.is_none();
        core(|| {
            let mut out: [Vec<f64>; M] = std::array::from_fn(|_| Vec::with_capacity(rows));
            for row in 0..rows {
                // A column of one value stands for all rows.
                let cells = slices.map(|it| it.get(row).or(it.first()).copied().unwrap_or(0.0));
                let found = call(cells).map_err(|error| {
                    if one {
                        error
                    } else {
                        error.at(format!("[{row}]"))
                    }
                })?;
                for (column, value) in out.iter_mut().zip(found) {
                    column.push(value);
                }
            }
            Ok(out)
        })
    }

    /// All rows in one call of the core, which takes columns of one value or of
    /// all rows.
    pub(crate) fn all(
        &self,
        py: Python<'py>,
        call: impl Fn([&[f64]; N]) -> Result<Vec<f64>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let slices = self.slices()?;
        let rows = self.rows();
        if rows == 0 {
            return self.shaped(py, Vec::new());
        }
        let mut values = core(|| call(slices))?;
        if values.len() < rows {
            // Every column holds one value, in an array of several dimensions.
            let value = values.first().copied().unwrap_or_default();
            values.resize(rows, value);
        }
        self.shaped(py, values)
    }

    /// Whether the answer is one number.
    pub(crate) fn is_one(&self) -> bool {
        self.shape.as_ref().is_none_or(Vec::is_empty)
    }
}

/// A function of NumPy.
fn numpy_function<'py>(py: Python<'py>, name: &str) -> PyResult<Bound<'py, PyAny>> {
    static NUMPY: PyOnceLock<Py<PyModule>> = PyOnceLock::new();
    NUMPY
        .get_or_try_init(py, || py.import("numpy").map(Bound::unbind))?
        .bind(py)
        .getattr(name)
}

/// An array of float64 of whatever NumPy can make one of without losing
/// anything but digits.
fn array_of<'py>(
    py: Python<'py>,
    value: &Bound<'py, PyAny>,
    name: &str,
) -> PyResult<Bound<'py, PyArrayDyn<f64>>> {
    if let Ok(array) = value.cast::<PyArrayDyn<f64>>() {
        return Ok(array.clone());
    }
    let refused = || wrong_type(name, WANTED, value);
    if value.is_none() || value.is_instance_of::<PyString>() || value.is_instance_of::<PyBool>() {
        return Err(refused());
    }
    // A list that holds itself, or rows of unequal length, is no array.
    let array = numpy_function(py, "asarray")?
        .call1((value,))
        .map_err(|_| refused())?;
    let kind: String = array.getattr("dtype")?.getattr("kind")?.extract()?;
    if !matches!(kind.as_str(), "f" | "i" | "u") {
        return Err(refused());
    }
    let named = PyDict::new(py);
    named.set_item("dtype", "float64")?;
    let array = numpy_function(py, "asarray")?.call((array,), Some(&named))?;
    Ok(array.cast_into()?)
}

fn in_one_piece<'py>(
    py: Python<'py>,
    array: Bound<'py, PyArrayDyn<f64>>,
) -> PyResult<Bound<'py, PyArrayDyn<f64>>> {
    if array.is_c_contiguous() && array.data().is_aligned() {
        return Ok(array);
    }
    let named = PyDict::new(py);
    named.set_item("order", "C")?;
    let made = numpy_function(py, "array")?.call((array,), Some(&named))?;
    Ok(made.cast_into()?)
}

/// The shape that the arrays have together.
fn shape_of<'a, 'py: 'a>(
    py: Python<'py>,
    arrays: impl Iterator<Item = &'a Bound<'py, PyArrayDyn<f64>>>,
) -> PyResult<Vec<usize>> {
    let shapes: Vec<&[usize]> = arrays.map(|it| it.shape()).collect();
    match shapes.split_first() {
        Some((first, others)) if others.iter().all(|it| it == first) => Ok(first.to_vec()),
        _ => {
            let shapes = shapes.iter().map(|it| PyTuple::new(py, *it));
            let shapes = PyTuple::new(py, shapes.collect::<PyResult<Vec<_>>>()?)?;
            numpy_function(py, "broadcast_shapes")?
                .call1(shapes)
                .map_err(|error| not_together(py, &error))?
                .extract()
        }
    }
}

fn not_together(py: Python<'_>, error: &PyErr) -> PyErr {
    let text = error.value(py).to_string();
    crate::errors::exception(&dividing_core::Error::new(
        dividing_core::ErrorKind::Inconsistent,
        format!("arrays whose shapes do not go together: {text}"),
    ))
}
