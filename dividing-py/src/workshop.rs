//! The Python face of workshops.

use dividing_core::Workshop;
use pyo3::prelude::*;
use pyo3::types::PyTuple;

use crate::argument::text_of;
use crate::document::{self, loads};
use crate::errors::core;

/// What a shop owns, checked.
///
/// `Workshop(name, equipment)` takes a list of dicts, each
/// `{kind: {field: value}}` as in workshop documents; the kinds are
/// direct_plate, vernier_indexer, faced_block, vee_block, pin_plate,
/// worm_head and graduated_dial. Lengths are in millimetres or text with a
/// unit, angles text with a unit or `Angle`.
///
/// Raises ValueError (one of this package) with the path to the field.
///
/// >>> bench = dividing.Workshop("Bench", [
/// ...     {"faced_block": {"name": "square block", "faces": 4}},
/// ...     {"vee_block": {"name": "V-block", "included_angle": "90 deg"}}])
/// >>> bench
/// <Workshop 'Bench' of 2 pieces>
#[pyclass(module = "dividing", name = "Workshop", frozen, eq)]
#[derive(PartialEq)]
pub(crate) struct PyWorkshop {
    pub(crate) inner: Workshop,
}

#[pymethods]
impl PyWorkshop {
    #[new]
    fn new(name: &Bound<'_, PyAny>, equipment: &Bound<'_, PyAny>) -> PyResult<Self> {
        let name = text_of(name, "name")?;
        let text = document::workshop_text(&name, equipment)?;
        Self::read(&text)
    }

    /// Reads a workshop from JSON text.
    ///
    /// Raises ValueError (one of this package) with the path to the field.
    ///
    /// >>> dividing.Workshop.from_json(workshop.to_json()) == workshop
    /// True
    #[staticmethod]
    fn from_json(text: &Bound<'_, PyAny>) -> PyResult<Self> {
        Self::read(&text_of(text, "text")?)
    }

    /// Reads a workshop from a dict as `json.load` gives it.
    ///
    /// Raises ValueError (one of this package) with the path to the field.
    ///
    /// >>> dividing.Workshop.from_dict(workshop.to_dict()) == workshop
    /// True
    #[staticmethod]
    fn from_dict(document: &Bound<'_, PyAny>) -> PyResult<Self> {
        Self::read(&document::text_of_dict(document, "document")?)
    }

    /// The workshop as JSON text; reading it back gives an equal workshop.
    ///
    /// >>> workshop.to_json().startswith("{")
    /// True
    fn to_json(&self) -> PyResult<String> {
        core(|| self.inner.to_json())
    }

    /// The workshop as a dict of plain values.
    ///
    /// >>> workshop.to_dict()["name"]
    /// 'Bench'
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        loads(py, &self.to_json()?)
    }

    /// What the shop is called.
    ///
    /// >>> workshop.name
    /// 'Bench'
    #[getter]
    fn name(&self) -> &str {
        self.inner.name()
    }

    /// The names of the pieces of equipment, in the order given.
    ///
    /// >>> workshop.equipment
    /// ('head', 'square block')
    #[getter]
    fn equipment<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, self.inner.equipment().iter().map(|it| it.name()))
    }

    fn __len__(&self) -> usize {
        self.inner.equipment().len()
    }

    fn __repr__<'py>(&self, py: Python<'py>) -> PyResult<String> {
        let pieces = self.inner.equipment().len();
        let noun = if pieces == 1 { "piece" } else { "pieces" };
        let name = document::repr(py, self.inner.name())?;
        Ok(format!("<Workshop {name} of {pieces} {noun}>"))
    }

    fn __hash__(&self) -> PyResult<u64> {
        Ok(document::hash_of(&self.to_json()?))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (String,))> {
        let read = py.get_type::<Self>().getattr("from_json")?;
        Ok((read, (self.to_json()?,)))
    }
}

impl PyWorkshop {
    fn read(text: &str) -> PyResult<Self> {
        core(|| Workshop::from_json(text)).map(|inner| Self { inner })
    }
}
