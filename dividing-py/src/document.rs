//! Documents between Python values and JSON text, through Python's own `json`.

use std::hash::{DefaultHasher, Hash, Hasher};

use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;

static LOADS: PyOnceLock<Py<PyAny>> = PyOnceLock::new();
static TEXT_OF: PyOnceLock<Py<PyAny>> = PyOnceLock::new();
static WORKSHOP_TEXT: PyOnceLock<Py<PyAny>> = PyOnceLock::new();

/// JSON text of a document given as a dict.
pub(crate) fn text_of_dict(document: &Bound<'_, PyAny>, name: &str) -> PyResult<String> {
    TEXT_OF
        .import(document.py(), "dividing._documents", "text_of")?
        .call1((document, name))?
        .extract()
}

/// JSON text of a workshop given by its name and a list of dicts.
pub(crate) fn workshop_text(name: &str, equipment: &Bound<'_, PyAny>) -> PyResult<String> {
    WORKSHOP_TEXT
        .import(equipment.py(), "dividing._documents", "workshop_text")?
        .call1((name, equipment))?
        .extract()
}

/// JSON text as plain Python values.
pub(crate) fn loads<'py>(py: Python<'py>, text: &str) -> PyResult<Bound<'py, PyAny>> {
    LOADS.import(py, "json", "loads")?.call1((text,))
}

/// A text as Python writes it in source.
pub(crate) fn repr(py: Python<'_>, text: &str) -> PyResult<String> {
    pyo3::types::PyString::new(py, text).repr()?.extract()
}

/// A hash that equal documents share.
pub(crate) fn hash_of(text: &str) -> u64 {
    let mut hasher = DefaultHasher::new();
    text.hash(&mut hasher);
    hasher.finish()
}
