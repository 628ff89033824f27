//! The Python face of workshops.

use dividing_core::Workshop;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyTuple, PyTupleMethods};

use crate::argument::text_of;
use crate::document::{self, loads};
use crate::errors::{core, unknown_name};
use crate::record::class;

/// What a shop owns, checked.
///
/// `Workshop(name, equipment)` takes a list of equipment: objects such as
/// `WormHead` or `FacedBlock`, or dicts `{kind: {field: value}}` as in workshop
/// documents. `workshop[name]` is the piece of a name.
///
/// Raises ValueError (one of this package) with the path to the field.
///
/// >>> bench = dividing.Workshop("Bench", [
/// ...     dividing.FacedBlock("square block", faces=4),
/// ...     dividing.VeeBlock("V-block", included_angle="90 deg")])
/// >>> bench
/// Workshop('Bench', [FacedBlock('square block', faces=4), VeeBlock('V-block', included_angle=Angle('90°'))])
/// >>> bench["V-block"].included_angle
/// Angle('90°')
#[pyclass(module = "dividing", name = "Workshop", frozen)]
pub(crate) struct PyWorkshop {
    pub(crate) inner: Workshop,
    pieces: PyOnceLock<Py<PyTuple>>,
}

impl From<Workshop> for PyWorkshop {
    fn from(inner: Workshop) -> Self {
        Self {
            inner,
            pieces: PyOnceLock::new(),
        }
    }
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

    /// The pieces of equipment, in the order given: a tuple of objects.
    ///
    /// >>> workshop.equipment[1]
    /// FacedBlock('square block', faces=4)
    #[getter]
    fn equipment<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let made = self.pieces.get_or_try_init(py, || {
            let pieces = class!(py, "_equipment", "pieces_of")?.call1((self.to_json()?,))?;
            Ok::<_, PyErr>(pieces.cast_into::<PyTuple>()?.unbind())
        })?;
        Ok(made.bind(py).clone())
    }

    /// The names of the pieces of equipment, in the order given.
    ///
    /// >>> workshop.names
    /// ('head', 'square block')
    #[getter]
    fn names<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, self.inner.equipment().iter().map(|it| it.name()))
    }

    fn __getitem__<'py>(&self, name: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
        let py = name.py();
        let name = text_of(name, "name")?;
        let all = self.inner.equipment();
        match all.iter().position(|it| it.name() == name) {
            Some(index) => self.equipment(py)?.get_item(index),
            None => Err(unknown_name(&name, all.iter().map(|it| it.name()))),
        }
    }

    fn __contains__(&self, name: &Bound<'_, PyAny>) -> bool {
        text_of(name, "name").is_ok_and(|name| self.inner.piece(&name).is_some())
    }

    fn __iter__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        Ok(self.equipment(py)?.as_any().try_iter()?.into_any())
    }

    fn __len__(&self) -> usize {
        self.inner.equipment().len()
    }

    fn __repr__<'py>(&self, py: Python<'py>) -> PyResult<String> {
        let pieces: String = self.equipment(py)?.to_list().repr()?.extract()?;
        let name = document::repr(py, self.inner.name())?;
        Ok(format!("Workshop({name}, {pieces})"))
    }

    fn _repr_html_<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let parts = (self.inner.name(), self.equipment(py)?);
        class!(py, "_equipment", "workshop_page")?.call1(parts)
    }

    fn __eq__(&self, other: PyRef<'_, Self>) -> bool {
        self.inner == other.inner
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
        core(|| Workshop::from_json(text)).map(Into::into)
    }
}
