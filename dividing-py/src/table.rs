//! The Python face of whole tables: columns handed over as they are.

use dividing_core::tables::{
    self, CompoundColumns, DifferentialColumns, HeldColumns, IndexingTable,
    SeveralDivisionsColumns, SimpleColumns, TableColumns, TableMethod,
};
use dividing_core::{Equipment, Workshop};
use numpy::{Element, IntoPyArray};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple};

use crate::argument::whole_within;
use crate::reach::workshop_of;
use crate::record::class;
use crate::watch::{Limits, watched};

type Made<'py> = PyResult<Bound<'py, PyAny>>;

struct Columns<'py> {
    py: Python<'py>,
    all: Bound<'py, PyDict>,
}

impl Columns<'_> {
    /// One column: the buffer of the core becomes that of the array.
    fn add<T: Element>(&self, name: &str, values: Vec<T>) -> PyResult<()> {
        self.all.set_item(name, values.into_pyarray(self.py))
    }

    /// One column of 0 and 1 as bools, in the same buffer.
    fn flags(&self, name: &str, values: Vec<u8>) -> PyResult<()> {
        let flags = values.into_pyarray(self.py);
        self.all
            .set_item(name, flags.call_method1("view", ("bool",))?)
    }

    fn simple(&self, it: SimpleColumns) -> PyResult<()> {
        self.flags("exact", it.exact)?;
        self.add("plate", it.plate)?;
        self.flags("back", it.back)?;
        self.add("circle", it.circle)?;
        self.add("turns", it.turns)?;
        self.add("holes", it.holes)?;
        self.add("residual_turns", it.residual_turns)?;
        self.add("closing_turns", it.closing_turns)
    }

    fn compound(&self, it: CompoundColumns) -> PyResult<()> {
        self.flags("exact", it.exact)?;
        self.add("plate", it.plate)?;
        self.flags("back", it.back)?;
        self.add("whole_turns", it.whole_turns)?;
        self.add("first_circle", it.first_circle)?;
        self.add("first_holes", it.first_holes)?;
        self.add("second_circle", it.second_circle)?;
        self.add("second_holes", it.second_holes)
    }

    fn differential(&self, it: DifferentialColumns) -> PyResult<()> {
        self.flags("exact", it.exact)?;
        self.add("plate", it.plate)?;
        self.flags("back", it.back)?;
        self.add("circle", it.circle)?;
        self.add("turns", it.turns)?;
        self.add("holes", it.holes)?;
        self.flags("against", it.against)?;
        self.add("idlers", it.idlers)?;
        for (pair, (drivers, driven)) in it.drivers.into_iter().zip(it.driven).enumerate() {
            self.add(&format!("driver_{}", pair + 1), drivers)?;
            self.add(&format!("driven_{}", pair + 1), driven)?;
        }
        Ok(())
    }

    fn settings(&self, it: TableColumns) -> PyResult<()> {
        match it {
            TableColumns::Simple(all) => self.simple(all),
            TableColumns::Compound(all) => self.compound(all),
            TableColumns::Differential(all) => self.differential(all),
            TableColumns::Held(all) => self.held(all),
            other => self.flags("exact", other.exact().to_vec()),
        }
    }

    fn several(&self, it: SeveralDivisionsColumns) -> PyResult<()> {
        self.add("several_divisions", it.divisions)?;
        self.add("several_plate", it.plate)?;
        self.flags("several_back", it.back)?;
        self.add("several_circle", it.circle)?;
        self.add("several_turns", it.turns)?;
        self.add("several_holes", it.holes)?;
        self.add("several_per_move_turns", it.per_move_turns)?;
        self.add("several_worst_turns", it.worst_turns)?;
        self.add("several_closing_turns", it.closing_turns)
    }

    fn held(&self, it: HeldColumns) -> PyResult<()> {
        self.flags("exact", it.exact)?;
        self.add("way", it.way)?;
        self.add("residual_turns", it.residual_turns)
    }
}

const fn method_name(method: TableMethod) -> &'static str {
    match method {
        TableMethod::Simple => "simple",
        TableMethod::Compound => "compound",
        TableMethod::Differential => "differential",
        _ => "held",
    }
}

fn piece_name(workshop: &Workshop, equipment: usize) -> &str {
    workshop
        .equipment()
        .get(equipment)
        .map_or("", Equipment::name)
}

struct Range {
    first: u32,
    last: u32,
}

impl Range {
    fn read(first: &Bound<'_, PyAny>, last: &Bound<'_, PyAny>) -> PyResult<Self> {
        let most = tables::MAX_DIVISIONS;
        let first = whole_within(first, "first", 1, most.into())?;
        let last = whole_within(last, "last", first, most.into())?;
        let number = |it| u32::try_from(it).unwrap_or(most);
        Ok(Self {
            first: number(first),
            last: number(last),
        })
    }

    fn numbers<'py>(&self, py: Python<'py>) -> Bound<'py, PyAny> {
        let all: Vec<u32> = (self.first..=self.last).collect();
        all.into_pyarray(py).into_any()
    }
}

fn section<'py>(
    py: Python<'py>,
    workshop: &Workshop,
    equipment: usize,
    method: TableMethod,
    columns: &Bound<'py, PyDict>,
) -> Made<'py> {
    let method = class!(py, "_enums", "TableMethod")?.call1((method_name(method),))?;
    let name = piece_name(workshop, equipment);
    class!(py, "_tables", "TableSection")?.call1((name, method, columns))
}

fn table<'py>(
    py: Python<'py>,
    range: &Range,
    sections: Vec<Bound<'py, PyAny>>,
    complete: bool,
) -> Made<'py> {
    class!(py, "_tables", "IndexingTable")?.call1((
        range.first,
        range.last,
        PyTuple::new(py, sections)?,
        complete,
    ))
}

/// The best setting of every method of every piece for `first` to `last`
/// divisions, and the nearest of simple indexing where none is exact: an
/// `IndexingTable` of NumPy columns, one buffer each and no copy.
///
/// `first` and `last` are 1 to 1,000,000. `work_limit` and `progress` as `plan`;
/// the interpreter lock is released and Ctrl-C stops the search. At the limit the
/// table is marked incomplete.
///
/// Raises OutOfRangeError for a range outside its limits.
///
/// >>> table = dividing.indexing_table(workshop, 2, 60)
/// >>> simple = table["head", "simple"]
/// >>> nine = 9 - table.first
/// >>> [int(simple[name][nine]) for name in ("turns", "holes", "circle")]
/// [4, 8, 18]
#[pyfunction]
#[pyo3(signature = (workshop, first, last, *, work_limit=None, progress=None))]
pub(crate) fn indexing_table<'py>(
    py: Python<'py>,
    workshop: &Bound<'py, PyAny>,
    first: &Bound<'py, PyAny>,
    last: &Bound<'py, PyAny>,
    work_limit: Option<&Bound<'py, PyAny>>,
    progress: Option<&Bound<'py, PyAny>>,
) -> Made<'py> {
    let shop = workshop_of(workshop)?;
    let range = Range::read(first, last)?;
    let limits = Limits::read(work_limit, progress)?;
    let (owned, first, last) = (shop.clone(), range.first, range.last);
    let found: IndexingTable = watched(py, &limits, move |meter| {
        tables::indexing_table(&owned, first, last, meter)
    })?;
    let divisions = range.numbers(py);
    let mut sections = Vec::with_capacity(found.sections.len());
    for it in found.sections {
        let columns = Columns {
            py,
            all: PyDict::new(py),
        };
        columns.all.set_item("divisions", &divisions)?;
        let method = it.columns.method();
        columns.settings(it.columns)?;
        sections.push(section(py, &shop, it.equipment, method, &columns.all)?);
    }
    table(py, &range, sections, found.complete)
}

/// Which of `first` to `last` divisions each method of each piece makes exactly:
/// an `IndexingTable` with the columns `divisions` and `exact` alone, much faster
/// than the settings.
///
/// Arguments and errors as `indexing_table`.
///
/// >>> table = dividing.exact_table(workshop, 2, 60)
/// >>> bool(table["square block", "held"]["exact"][4 - 2])
/// True
#[pyfunction]
#[pyo3(signature = (workshop, first, last, *, work_limit=None, progress=None))]
pub(crate) fn exact_table<'py>(
    py: Python<'py>,
    workshop: &Bound<'py, PyAny>,
    first: &Bound<'py, PyAny>,
    last: &Bound<'py, PyAny>,
    work_limit: Option<&Bound<'py, PyAny>>,
    progress: Option<&Bound<'py, PyAny>>,
) -> Made<'py> {
    let shop = workshop_of(workshop)?;
    let range = Range::read(first, last)?;
    let limits = Limits::read(work_limit, progress)?;
    let (owned, first, last) = (shop.clone(), range.first, range.last);
    let found = watched(py, &limits, move |meter| {
        tables::exact_table(&owned, first, last, meter)
    })?;
    let divisions = range.numbers(py);
    let mut sections = Vec::with_capacity(found.sections.len());
    for it in found.sections {
        let columns = Columns {
            py,
            all: PyDict::new(py),
        };
        columns.all.set_item("divisions", &divisions)?;
        columns.flags("exact", it.exact)?;
        sections.push(section(py, &shop, it.equipment, it.method, &columns.all)?);
    }
    table(py, &range, sections, found.complete)
}

/// The nearest moves to be repeated, of every method of every worm head, and what
/// repeating them does: an `IndexingTable` whose columns are those of
/// `indexing_table` (of the nearest where none is exact), then `per_division_turns`,
/// `worst_turns` and `closing_turns`, zeros where it is exact. For simple indexing
/// the columns `several_...` give the nearest move of several divisions, which
/// visits every place in another order.
///
/// Arguments and errors as `indexing_table`.
///
/// >>> simple = dividing.stepping_table(workshop, 127, 127)["head", "simple"]
/// >>> bool(simple["exact"][0]), bool(simple["several_worst_turns"][0] > 0)
/// (False, True)
#[pyfunction]
#[pyo3(signature = (workshop, first, last, *, work_limit=None, progress=None))]
pub(crate) fn stepping_table<'py>(
    py: Python<'py>,
    workshop: &Bound<'py, PyAny>,
    first: &Bound<'py, PyAny>,
    last: &Bound<'py, PyAny>,
    work_limit: Option<&Bound<'py, PyAny>>,
    progress: Option<&Bound<'py, PyAny>>,
) -> Made<'py> {
    let shop = workshop_of(workshop)?;
    let range = Range::read(first, last)?;
    let limits = Limits::read(work_limit, progress)?;
    let (owned, first, last) = (shop.clone(), range.first, range.last);
    let found = watched(py, &limits, move |meter| {
        tables::stepping_table(&owned, first, last, meter)
    })?;
    let divisions = range.numbers(py);
    let mut sections = Vec::with_capacity(found.sections.len());
    for it in found.sections {
        let columns = Columns {
            py,
            all: PyDict::new(py),
        };
        columns.all.set_item("divisions", &divisions)?;
        let method = it.moves.method();
        columns.settings(it.moves)?;
        columns.add("per_division_turns", it.errors.per_division_turns)?;
        columns.add("worst_turns", it.errors.worst_turns)?;
        columns.add("closing_turns", it.errors.closing_turns)?;
        if let Some(several) = it.several_divisions {
            columns.several(several)?;
        }
        sections.push(section(py, &shop, it.equipment, method, &columns.all)?);
    }
    table(py, &range, sections, found.complete)
}
