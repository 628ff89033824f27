//! Functions of numbers that take arrays as well: numbers in, a number out;
//! arrays broadcast as NumPy's and give a new array.
//!
//! Numbers make no array on the way. Arrays of float64 that lie together are
//! read where they lie, with the interpreter lock released; Ctrl-C is heard
//! between pieces. What handles arrays is compiled once: a function hands it
//! only its loop over the rows of a piece.

use std::time::Instant;

use dividing_core::{Error, ErrorKind, Result};
use numpy::{
    IntoPyArray, PyArrayDyn, PyArrayMethods, PyReadonlyArrayDyn, PyUntypedArray,
    PyUntypedArrayMethods,
};
use pyo3::exceptions::PyMemoryError;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyFloat, PyInt, PyString, PyTuple};

use crate::errors::{caught, exception, wrong_type};
use crate::watch::BETWEEN_LOOKS;

/// An argument with its name; 0 where none is given.
pub(crate) type Given<'a, 'py> = (&'static str, Option<&'a Bound<'py, PyAny>>);

type Array<'py> = Bound<'py, PyArrayDyn<f64>>;

/// The loop of a function over the rows of a piece: columns of one value or of
/// as many as there are rows; the answers go behind those of the rows before.
type Loop<'a> = &'a (dyn Fn(&[&[f64]], &mut [Vec<f64>]) -> Result<()> + Sync);

const WANTED: &str = "a number or an array of numbers";

/// A function of columns, each of one value or of as many as there are rows.
type OfColumns<'a, const N: usize> = &'a (dyn Fn([&[f64]; N]) -> Result<Vec<f64>> + Sync);

/// Rows between two looks at the time: some are dear.
const PIECE: usize = 1 << 10;
/// The same where the core takes whole columns: some milliseconds.
const COLUMNS_PIECE: usize = 1 << 20;

/// A function of N numbers over numbers or arrays. The field of its errors is
/// the name of the argument, or stands first in the message.
pub(crate) fn each<'py, const N: usize>(
    py: Python<'py>,
    given: [Given<'_, 'py>; N],
    of: impl Fn([f64; N]) -> Result<f64> + Sync,
) -> PyResult<Bound<'py, PyAny>> {
    let mut numbers = [0.0; N];
    if plain_numbers(&given, &mut numbers) {
        return number(py, &given, caught(|| of(numbers)));
    }
    let rows = |columns: &[&[f64]], answers: &mut [Vec<f64>]| {
        by_rows(columns, |row| of(row).map(|it| [it]), answers)
    };
    over_arrays(py, &given, 1, PIECE, &rows)?.get_item(0)
}

/// A function of N numbers that gives M, over numbers or arrays: a tuple of M.
pub(crate) fn each_several<'py, const N: usize, const M: usize>(
    py: Python<'py>,
    given: [Given<'_, 'py>; N],
    of: impl Fn([f64; N]) -> Result<[f64; M]> + Sync,
) -> PyResult<Bound<'py, PyTuple>> {
    let rows = |columns: &[&[f64]], answers: &mut [Vec<f64>]| by_rows(columns, &of, answers);
    over_arrays(py, &given, M, PIECE, &rows)
}

/// A function of N columns, each of one value or of as many as there are rows,
/// over numbers or arrays.
pub(crate) fn all<'py, const N: usize>(
    py: Python<'py>,
    given: [Given<'_, 'py>; N],
    of: OfColumns<'_, N>,
) -> PyResult<Bound<'py, PyAny>> {
    let mut numbers = [0.0; N];
    if plain_numbers(&given, &mut numbers) {
        let columns = numbers.each_ref().map(std::slice::from_ref);
        let value = caught(|| Ok(of(columns)?.first().copied().unwrap_or_default()));
        return number(py, &given, value);
    }
    let rows = |columns: &[&[f64]], answers: &mut [Vec<f64>]| {
        let found = of(column_array(columns))?;
        if let [answer] = answers {
            // All rows at once are the answer as they are.
            if answer.capacity() <= found.len() {
                *answer = found;
            } else {
                answer.extend_from_slice(&found);
            }
        }
        Ok(())
    };
    over_arrays(py, &given, 1, COLUMNS_PIECE, &rows)?.get_item(0)
}

/// Reads plain numbers; whether all are.
fn plain_numbers(given: &[Given<'_, '_>], numbers: &mut [f64]) -> bool {
    given.iter().zip(numbers).all(|((_, value), number)| {
        let read = value.map_or(Some(0.0), plain_number);
        *number = read.unwrap_or_default();
        read.is_some()
    })
}

/// A number as Python's own float or int; none for anything else.
fn plain_number(value: &Bound<'_, PyAny>) -> Option<f64> {
    if let Ok(number) = value.cast_exact::<PyFloat>() {
        return Some(number.value());
    }
    if value.is_exact_instance_of::<PyInt>() {
        return value.extract().ok();
    }
    // NumPy's float64 is a float too.
    value.cast::<PyFloat>().ok().map(|it| it.value())
}

/// The answer for plain numbers.
fn number<'py>(
    py: Python<'py>,
    given: &[Given<'_, 'py>],
    value: Result<f64>,
) -> PyResult<Bound<'py, PyAny>> {
    match value {
        Ok(value) => Ok(PyFloat::new(py, value).into_any()),
        Err(error) => {
            let names: Vec<_> = given.iter().map(|it| it.0).collect();
            let (name, _, message) = place_of(&error, &names);
            Err(exception(&Error::new(error.kind(), message).at(name)))
        }
    }
}

fn column_array<'a, const N: usize>(columns: &[&'a [f64]]) -> [&'a [f64]; N] {
    std::array::from_fn(|index| columns.get(index).copied().unwrap_or(&[]))
}

#[inline]
fn by_rows<const N: usize, const M: usize>(
    columns: &[&[f64]],
    of: impl Fn([f64; N]) -> Result<[f64; M]>,
    answers: &mut [Vec<f64>],
) -> Result<()> {
    let columns: [&[f64]; N] = column_array(columns);
    let rows = columns.iter().map(|it| it.len()).max().unwrap_or(0);
    for row in 0..rows {
        // A column of one value stands for all rows.
        let cells = columns.map(|it| it.get(row).or(it.first()).copied().unwrap_or(0.0));
        let found = of(cells).map_err(|error| in_row(error, row))?;
        for (column, value) in answers.iter_mut().zip(found) {
            column.push(value);
        }
    }
    Ok(())
}

#[cold]
fn in_row(error: Error, row: usize) -> Error {
    error.at(format!("[{row}]"))
}

/// One argument as an array; a number has no shape.
struct Column<'py> {
    name: &'static str,
    number: f64,
    array: Option<PyReadonlyArrayDyn<'py, f64>>,
    shape: Vec<usize>,
}

impl<'py> Column<'py> {
    fn read((name, value): &Given<'_, 'py>) -> PyResult<(Self, Option<Array<'py>>)> {
        let number = value.map_or(Some(0.0), plain_number);
        let array = match (number, value) {
            (None, Some(value)) => Some(array_of(value, name)?),
            _ => None,
        };
        let column = Self {
            name,
            number: number.unwrap_or_default(),
            array: None,
            shape: array.as_ref().map_or(Vec::new(), |it| it.shape().to_vec()),
        };
        Ok((column, array))
    }

    /// One value, or as many as the answer has.
    fn values(&self) -> PyResult<&[f64]> {
        Ok(match &self.array {
            Some(array) => array.as_slice()?,
            None => std::slice::from_ref(&self.number),
        })
    }
}

/// The answers of a loop over arguments of which one at least is no plain
/// number: a tuple of floats, or of arrays of the common shape.
#[cold]
fn over_arrays<'py>(
    py: Python<'py>,
    given: &[Given<'_, 'py>],
    answers: usize,
    piece: usize,
    rows_of: Loop<'_>,
) -> PyResult<Bound<'py, PyTuple>> {
    let read = given.iter().map(Column::read);
    let (mut columns, arrays): (Vec<_>, Vec<_>) =
        read.collect::<PyResult<Vec<_>>>()?.into_iter().unzip();
    let shape = common_shape(&columns)?;
    for (column, array) in columns.iter_mut().zip(arrays) {
        if let Some(array) = array {
            column.array = Some(spread(array, &shape)?.try_readonly()?);
        }
    }
    let values: Vec<&[f64]> = columns
        .iter()
        .map(Column::values)
        .collect::<PyResult<_>>()?;
    let rows = shape
        .iter()
        .try_fold(1_usize, |all, side| all.checked_mul(*side));
    let room = |_| {
        let mut room = Vec::new();
        let reserved = rows.map(|rows| room.try_reserve_exact(rows));
        reserved.is_some_and(|it| it.is_ok()).then_some(room)
    };
    let found: Option<Vec<Vec<f64>>> = (0..answers).map(room).collect();
    let (Some(mut found), Some(rows)) = (found, rows) else {
        let message = format!("no room for the answer, an array of shape {shape:?}");
        return Err(PyMemoryError::new_err(message));
    };
    let mut begin = 0;
    while begin < rows {
        let (values, found, begin) = (&values, &mut found, &mut begin);
        let done = py.detach(|| {
            let since = Instant::now();
            caught(|| {
                while *begin < rows && since.elapsed() < BETWEEN_LOOKS {
                    let end = rows.min(*begin + piece);
                    let columns: Vec<&[f64]> = values
                        .iter()
                        .map(|it| it.get(*begin..end).unwrap_or(it))
                        .collect();
                    rows_of(&columns, found)?;
                    *begin = end;
                }
                Ok(())
            })
        });
        done.map_err(|error| refusal(&error, &columns, &shape, *begin))?;
        py.check_signals()?;
    }
    let shaped = |values: Vec<f64>| -> PyResult<Bound<'py, PyAny>> {
        if shape.is_empty() {
            let value = values.first().copied().unwrap_or_default();
            return Ok(PyFloat::new(py, value).into_any());
        }
        Ok(values.into_pyarray(py).reshape(shape.clone())?.into_any())
    };
    let found: PyResult<Vec<_>> = found.into_iter().map(shaped).collect();
    PyTuple::new(py, found?)
}

/// The exception for an error in a piece that begins at a row.
#[cold]
fn refusal(error: &Error, columns: &[Column<'_>], shape: &[usize], begin: usize) -> PyErr {
    let names: Vec<_> = columns.iter().map(|it| it.name).collect();
    let (mut name, row, message) = place_of(error, &names);
    if let Some(row) = row {
        let row = begin + row;
        // What is named may be an argument, a part with several of them, or
        // something else, and then the entry of the answer comes first.
        let part = |it: &&Column<'_>| it.name.split('.').next() == Some(&name);
        if let Some(column) = columns.iter().find(|it| it.name == name) {
            name += &index_of(row, shape, &column.shape);
        } else if name.is_empty() || columns.iter().any(|it| part(&it)) {
            name += &index_of(row, shape, shape);
        } else {
            name = format!("{}.{name}", index_of(row, shape, shape));
        }
    }
    exception(&Error::new(error.kind(), message).at(name))
}

/// What an error says of its place: the name of an argument or of a part, the
/// row, and what is left of the message. Where it says nothing, an only argument
/// is meant.
fn place_of(error: &Error, names: &[&'static str]) -> (String, Option<usize>, String) {
    let (mut name, mut row) = (error.field(), None);
    if let Some((index, rest)) = name.strip_prefix('[').and_then(|it| it.split_once(']')) {
        row = index.parse().ok();
        name = rest.strip_prefix('.').unwrap_or(rest);
    } else if let Some((before, index)) = name.strip_suffix(']').and_then(|it| it.split_once('[')) {
        row = index.parse().ok();
        name = before;
    }
    let mut message = error.message();
    for known in names.iter().copied() {
        let in_words = known.replace('_', " ");
        let rest = message.strip_prefix(known);
        let rest = rest.or_else(|| message.strip_prefix(&in_words));
        if let Some(rest) = rest.and_then(|it| it.strip_prefix(' '))
            && (name.is_empty() || name == known)
        {
            name = known;
            message = rest.strip_prefix("is ").unwrap_or(rest);
        }
    }
    if let ([only], "") = (names, name) {
        name = only;
    }
    (name.to_owned(), row, message.to_owned())
}

/// The index of the entry of an array that broadcasting brings to a row of the
/// answer, as Python writes it; nothing for a number.
fn index_of(mut row: usize, shape: &[usize], own: &[usize]) -> String {
    let mut index: Vec<String> = Vec::with_capacity(own.len());
    for (place, side) in shape.iter().rev().enumerate() {
        let (rest, here) = (row / side, row % side);
        row = rest;
        if let Some(own_side) = own.len().checked_sub(place + 1).and_then(|it| own.get(it)) {
            let here = if *own_side == 1 { 0 } else { here };
            index.insert(0, here.to_string());
        }
    }
    if index.is_empty() {
        return String::new();
    }
    format!("[{}]", index.join(", "))
}

/// Anything that NumPy takes for an array of real numbers, as float64 that lies
/// together; no copy where it is one.
fn array_of<'py>(value: &Bound<'py, PyAny>, name: &str) -> PyResult<Array<'py>> {
    static AS_ARRAY: PyOnceLock<Py<PyAny>> = PyOnceLock::new();
    static REQUIRE: PyOnceLock<Py<PyAny>> = PyOnceLock::new();
    let py = value.py();
    if value.is_exact_instance_of::<PyUntypedArray>() {
        if let Ok(array) = value.cast::<PyArrayDyn<f64>>()
            && array.is_c_contiguous()
            && array.is_aligned()
        {
            return Ok(array.clone());
        }
    } else if value.is_none() || value.is_instance_of::<PyString>() {
        return Err(wrong_type(name, WANTED, value));
    } else if value.is_exact_instance_of::<PyInt>() {
        // One that is a float was read before.
        let found = "a whole number beyond all floats";
        let error = Error::out_of_range(found, "at most 1.7e308 either way");
        return Err(exception(&error.at(name)));
    } else if value.is_instance_of::<PyUntypedArray>()
        && let Some(mask) = value.getattr_opt("mask")?
        && mask.call_method0("any")?.is_truthy()?
    {
        return Err(wrong_type(name, "an array without masked entries", value));
    }
    let refused = |error: PyErr| {
        if error.is_instance_of::<PyMemoryError>(py) {
            error
        } else {
            wrong_type(name, WANTED, value)
        }
    };
    // A list that holds itself, or rows of unequal length, is no array.
    let as_array = AS_ARRAY.import(py, "numpy", "asarray")?;
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

/// The shape that all arguments have together, by NumPy's rules.
fn common_shape(columns: &[Column<'_>]) -> PyResult<Vec<usize>> {
    let most = columns.iter().map(|it| it.shape.len()).max().unwrap_or(0);
    let mut shape = vec![1; most];
    for column in columns {
        for (side, own) in shape.iter_mut().rev().zip(column.shape.iter().rev()) {
            if *side == 1 {
                *side = *own;
            } else if *own != 1 && own != side {
                return Err(apart(columns));
            }
        }
    }
    Ok(shape)
}

#[cold]
fn apart(columns: &[Column<'_>]) -> PyErr {
    let arrays: Vec<_> = columns.iter().filter(|it| !it.shape.is_empty()).collect();
    let names: Vec<&str> = arrays.iter().map(|it| it.name).collect();
    let shapes: Vec<String> = arrays
        .iter()
        .map(|it| match it.shape.as_slice() {
            [side] => format!("({side},)"),
            sides => {
                let sides: Vec<String> = sides.iter().map(ToString::to_string).collect();
                format!("({})", sides.join(", "))
            }
        })
        .collect();
    let message = format!(
        "shapes {} do not go together; accepted: shapes that broadcast",
        shapes.join(" and ")
    );
    exception(&Error::new(ErrorKind::Inconsistent, message).at(names.join(", ")))
}

/// An array spread out to a shape, unless it is of it or of one number, which
/// stands for all.
fn spread<'py>(array: Array<'py>, shape: &[usize]) -> PyResult<Array<'py>> {
    if array.shape() == shape || array.len() == 1 {
        return Ok(array);
    }
    let py = array.py();
    let numpy = py.import("numpy")?;
    let spread = numpy.call_method1("broadcast_to", (array, PyTuple::new(py, shape)?))?;
    let spread = numpy.call_method1("ascontiguousarray", (spread,))?;
    Ok(spread.cast_into::<PyArrayDyn<f64>>()?)
}
