//! The Python face of sheets and drawings.

use dividing_core::plan::{Sheet, SheetFact};
use pyo3::prelude::*;
use pyo3::types::PyTuple;

use crate::errors::core;
use crate::plan::{PyPlan, Reduced};
use crate::record::class;

/// A set-up sheet: everything to set, check and watch for one plan.
///
/// `str(sheet)` is the sheet as text of fixed width; notebooks show it as HTML.
///
/// >>> print(plans[0].sheet.title)
/// Nine slots
#[pyclass(module = "dividing", name = "Sheet", frozen)]
pub(crate) struct PySheet {
    inner: Sheet,
    plan: Py<PyPlan>,
}

impl PySheet {
    pub(crate) const fn new(inner: Sheet, plan: Py<PyPlan>) -> Self {
        Self { inner, plan }
    }
}

type Tuple<'py> = PyResult<Bound<'py, PyTuple>>;

fn facts<'py>(py: Python<'py>, facts: &[SheetFact]) -> Tuple<'py> {
    let pairs = facts.iter().map(|it| (&it.label, &it.value));
    PyTuple::new(py, pairs.collect::<Vec<_>>())
}

#[pymethods]
impl PySheet {
    /// The job.
    ///
    /// >>> plans[0].sheet.title
    /// 'Nine slots'
    #[getter]
    fn title(&self) -> &str {
        &self.inner.title
    }

    /// The plan at a glance: pairs of label and value.
    ///
    /// >>> dict(plans[0].sheet.facts)["Equipment"]
    /// 'head'
    #[getter]
    fn facts<'py>(&self, py: Python<'py>) -> Tuple<'py> {
        facts(py, &self.inner.facts)
    }

    /// What to know before trusting the plan.
    ///
    /// >>> plans[0].sheet.findings
    /// ()
    #[getter]
    fn findings<'py>(&self, py: Python<'py>) -> Tuple<'py> {
        PyTuple::new(py, &self.inner.findings)
    }

    /// What to do before the first cut, in order.
    ///
    /// >>> len(plans[0].sheet.before) > 0
    /// True
    #[getter]
    fn before<'py>(&self, py: Python<'py>) -> Tuple<'py> {
        PyTuple::new(py, &self.inner.before)
    }

    /// Headings of the table of settings.
    ///
    /// >>> len(plans[0].sheet.head) == len(plans[0].sheet.rows[0])
    /// True
    #[getter]
    fn head<'py>(&self, py: Python<'py>) -> Tuple<'py> {
        PyTuple::new(py, &self.inner.settings.head)
    }

    /// The table of settings: a tuple of cells for each feature.
    ///
    /// >>> len(plans[0].sheet.rows)
    /// 9
    #[getter]
    fn rows<'py>(&self, py: Python<'py>) -> Tuple<'py> {
        let rows = self.inner.settings.rows.iter();
        let rows = rows.map(|row| PyTuple::new(py, row));
        PyTuple::new(py, rows.collect::<PyResult<Vec<_>>>()?)
    }

    /// Checks on the way and after the last feature.
    ///
    /// >>> len(plans[0].sheet.checks) > 0
    /// True
    #[getter]
    fn checks<'py>(&self, py: Python<'py>) -> Tuple<'py> {
        PyTuple::new(py, &self.inner.checks)
    }

    /// Where the error comes from: pairs of contributor and limit.
    ///
    /// >>> len(plans[0].sheet.error_sources) == len(plans[0].contributors)
    /// True
    #[getter]
    fn error_sources<'py>(&self, py: Python<'py>) -> Tuple<'py> {
        facts(py, &self.inner.error_sources)
    }

    /// Other ways of the same equipment, in words.
    ///
    /// >>> plans[0].sheet.alternatives == plans[0].alternatives
    /// True
    #[getter]
    fn alternatives<'py>(&self, py: Python<'py>) -> Tuple<'py> {
        PyTuple::new(py, &self.inner.alternatives)
    }

    /// Cautions.
    ///
    /// >>> len(plans[0].sheet.cautions) > 0
    /// True
    #[getter]
    fn cautions<'py>(&self, py: Python<'py>) -> Tuple<'py> {
        PyTuple::new(py, &self.inner.cautions)
    }

    /// The sheet as an HTML fragment: no script, nothing from outside, every
    /// text escaped.
    ///
    /// >>> "<script" in plans[0].sheet.html
    /// False
    #[getter]
    pub(crate) fn html(&self) -> PyResult<String> {
        core(|| Ok(self.inner.to_html()))
    }

    fn _repr_html_(&self) -> PyResult<String> {
        self.html()
    }

    fn __str__(&self) -> PyResult<String> {
        core(|| Ok(self.inner.to_text()))
    }

    fn __repr__(&self, py: Python<'_>) -> PyResult<String> {
        let title = crate::document::repr(py, &self.inner.title)?;
        Ok(format!("<Sheet for {title}; print() shows it>"))
    }

    fn __eq__(&self, other: PyRef<'_, Self>) -> bool {
        self.inner == other.inner
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        let get = class!(py, "_pickles", "sheet_of")?.clone();
        Ok((get, (self.plan.clone_ref(py),).into_pyobject(py)?))
    }
}

/// A picture as SVG text; notebooks show it.
///
/// >>> plans[0].drawing
/// <Drawing; notebooks show it, .svg is its text>
#[pyclass(module = "dividing", name = "Drawing", frozen, eq, hash)]
#[derive(PartialEq, Eq, Hash)]
pub(crate) struct PyDrawing {
    pub(crate) svg: String,
}

impl PyDrawing {
    pub(crate) const fn new(svg: String) -> Self {
        Self { svg }
    }
}

#[pymethods]
impl PyDrawing {
    #[new]
    fn python_new(svg: &Bound<'_, PyAny>) -> PyResult<Self> {
        crate::argument::text_of(svg, "svg").map(Self::new)
    }

    /// The picture as SVG text, lengths in millimetres.
    ///
    /// >>> plans[0].drawing.svg.rstrip().endswith("</svg>")
    /// True
    #[getter]
    fn svg(&self) -> &str {
        &self.svg
    }

    fn _repr_svg_(&self) -> &str {
        &self.svg
    }

    fn __str__(&self) -> &str {
        &self.svg
    }

    const fn __repr__(&self) -> &'static str {
        "<Drawing; notebooks show it, .svg is its text>"
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        let class = py.get_type::<Self>().into_any();
        Ok((class, (&self.svg,).into_pyobject(py)?))
    }
}
