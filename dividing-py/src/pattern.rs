//! The Python face of plate patterns: from a brief to a plate.

use std::sync::Arc;

use dividing_core::pattern::outputs::{
    Datum, DrillStyle, DrillingData, TableOptions, TableUnit, check_dimensions, drill_program,
    drill_table, drilling_order, hole_label, plate_dxf, plate_svg,
};
use dividing_core::pattern::{Design, Pattern, PlateBrief, Wish, design};
use numpy::IntoPyArray;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyDict, PyString, PyTuple};

use crate::angle::PyAngle;
use crate::argument::{length_of, text_of, whole_within};
use crate::document::loads;
use crate::errors::{core, wrong_type};
use crate::plan::Reduced;
use crate::record::{class, name_of};
use crate::value::choice_of;
use crate::watch::{Limits, waited, watched};

type Made<'py> = PyResult<Bound<'py, PyAny>>;

/// Judges a brief.
#[pyfunction]
pub(crate) fn _check_brief(document: &str) -> PyResult<()> {
    core(|| PlateBrief::from_json(document).map(drop))
}

/// The Python object of a wish.
fn wish_of<'py>(py: Python<'py>, wish: &Wish) -> PyResult<Bound<'py, PyAny>> {
    let document = loads(py, &written(wish)?)?;
    class!(py, "_patterns", "wish_of")?.call1((document,))
}

fn written(value: &impl serde::Serialize) -> PyResult<String> {
    core(|| dividing_core::document::write(value))
}

/// Designs the plate that serves a brief with the fewest holes, with the proof:
/// a `Pattern`.
///
/// On one ring all divisions stand in phase: the union of residue classes is
/// smallest when they share a point (Rogers' theorem, in Halberstam and Roth,
/// *Sequences*, chapter V). `work_limit` and `progress` as `plan`; the
/// interpreter lock is released and Ctrl-C stops the search. At the limit the
/// best plate found is returned, its certificate marked incomplete.
///
/// Raises PlateDoesNotFitError, with the `shortfall` that names what binds and
/// what would fit; ValueError (one of this package) that names the argument.
///
/// >>> plate = dividing.design_plate(dividing.PlateBrief(
/// ...     dividing.Disc(100), divisions=[5, 6, 7, 8, 9, 12], hole_diameter=6,
/// ...     least_web=2, least_edge_distance=3))
/// >>> plate.hole_count, plate.certificate.lower_bound, plate.rings[0].divisions
/// (37, 37, (8, 12))
#[pyfunction]
#[pyo3(signature = (brief, *, work_limit=None, progress=None))]
pub(crate) fn design_plate<'py>(
    py: Python<'py>,
    brief: &Bound<'py, PyAny>,
    work_limit: Option<&Bound<'py, PyAny>>,
    progress: Option<&Bound<'py, PyAny>>,
) -> PyResult<PyPattern> {
    let class = class!(py, "_patterns", "PlateBrief")?;
    if !brief.is_instance(class)? {
        return Err(wrong_type("brief", "a PlateBrief", brief));
    }
    let document: String = brief.call_method0("to_json")?.extract()?;
    let brief = core(|| PlateBrief::from_json(&document))?;
    let limits = Limits::read(work_limit, progress)?;
    match watched(py, &limits, move |meter| design(&brief, meter))? {
        Design::Pattern(pattern) => Ok((*pattern).into()),
        Design::DoesNotFit(shortfall) => {
            let raised = class!(py, "_patterns", "does_not_fit")?
                .call1((shortfall.sentence(), written(&*shortfall)?))?;
            Err(PyErr::from_value(raised))
        }
    }
}

/// A plate to drill, with the proof that fewer holes do not do and every pair of
/// holes measured again from the coordinates.
///
/// The plate's centre is the origin; x to the right, y up, seen from the side
/// that is drilled; angles grow counter-clockwise. Notebooks show its picture.
///
/// >>> plate
/// <Pattern of 9 holes on 1 ring; proved fewest>
#[pyclass(module = "dividing", name = "Pattern", frozen)]
pub(crate) struct PyPattern {
    inner: Arc<Pattern>,
    parts: PyOnceLock<Py<PyAny>>,
}

impl From<Pattern> for PyPattern {
    fn from(inner: Pattern) -> Self {
        Self {
            inner: Arc::new(inner),
            parts: PyOnceLock::new(),
        }
    }
}

impl PyPattern {
    /// The records of the pattern, made once.
    fn part<'py>(&self, py: Python<'py>, name: &str) -> Made<'py> {
        let parts = self.parts.get_or_try_init(py, || {
            let document = loads(py, &written(&*self.inner)?)?;
            let made = class!(py, "_patterns", "parts_of")?.call1((document,))?;
            Ok::<_, PyErr>(made.unbind())
        })?;
        parts.bind(py).get_item(name)
    }
}

fn options_of(
    digits: Option<&Bound<'_, PyAny>>,
    unit: Option<&Bound<'_, PyAny>>,
    datum: Option<&Bound<'_, PyAny>>,
) -> PyResult<TableOptions> {
    let usual = TableOptions::default();
    let digits = digits.map_or(Ok(usual.digits.into()), |it| {
        whole_within(it, "digits", 0, 9)
    })?;
    Ok(TableOptions {
        digits: u8::try_from(digits).unwrap_or(9),
        unit: unit.map_or(Ok(usual.unit), unit_of)?,
        datum: datum.map_or(Ok(usual.datum), |it| {
            choice_of::<Datum>(it, "datum", "centre, left_and_lower_edge")
        })?,
    })
}

fn unit_of(value: &Bound<'_, PyAny>) -> PyResult<TableUnit> {
    choice_of(value, "unit", "millimetre, inch")
}

#[pymethods]
impl PyPattern {
    /// Reads a pattern from JSON text and measures its holes anew.
    ///
    /// Raises ValueError (one of this package) with the path to the field.
    ///
    /// >>> dividing.Pattern.from_json(plate.to_json()) == plate
    /// True
    #[staticmethod]
    fn from_json(py: Python<'_>, text: &Bound<'_, PyAny>) -> PyResult<Self> {
        let text = text_of(text, "text")?;
        waited(py, move || Pattern::from_json(&text)).map(Into::into)
    }

    /// The pattern as JSON text; reading it back gives an equal pattern.
    ///
    /// >>> plate.to_json().startswith("{")
    /// True
    fn to_json(&self) -> PyResult<String> {
        written(&*self.inner)
    }

    /// The pattern as a dict of plain values.
    ///
    /// >>> plate.to_dict()["rings"][0]["places"]
    /// 9
    fn to_dict<'py>(&self, py: Python<'py>) -> Made<'py> {
        loads(py, &self.to_json()?)
    }

    /// What was asked: a `PlateBrief`.
    ///
    /// >>> plate.brief.divisions[0].division
    /// 9
    #[getter]
    fn brief<'py>(&self, py: Python<'py>) -> Made<'py> {
        self.part(py, "brief")
    }

    /// Rings from the outside in: a tuple of `PlateRing`.
    ///
    /// >>> plate.rings[0].radius_mm
    /// 44.0
    #[getter]
    fn rings<'py>(&self, py: Python<'py>) -> Made<'py> {
        self.part(py, "rings")
    }

    /// Stations of the fixed plate of a vernier pair, their angles in the order of
    /// the positions they serve; empty for other uses.
    ///
    /// >>> plate.stations
    /// ()
    #[getter]
    fn stations<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let all = self.inner.stations.iter();
        PyTuple::new(
            py,
            all.map(|it| PyAngle::from(it.angle)).collect::<Vec<_>>(),
        )
    }

    /// Each wish and what serves it: a tuple of `Served`.
    ///
    /// >>> plate.served[0].by
    /// 'ring'
    #[getter]
    fn served<'py>(&self, py: Python<'py>) -> Made<'py> {
        self.part(py, "served")
    }

    /// Why there are not fewer holes: a `Certificate`.
    ///
    /// >>> plate.certificate.proved
    /// True
    #[getter]
    fn certificate<'py>(&self, py: Python<'py>) -> Made<'py> {
        self.part(py, "certificate")
    }

    /// Webs and edge distances measured again from the coordinates: a
    /// `PlateCheck`.
    ///
    /// >>> plate.check.passed, round(plate.check.least_web_mm, 3)
    /// (True, 24.098)
    #[getter]
    fn check<'py>(&self, py: Python<'py>) -> Made<'py> {
        self.part(py, "check")
    }

    /// Remarks in plain words.
    ///
    /// >>> len(plate.remarks) >= 0
    /// True
    #[getter]
    fn remarks<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, &self.inner.remarks)
    }

    /// Number of holes of all rings; stations not counted.
    ///
    /// >>> plate.hole_count
    /// 9
    #[getter]
    fn hole_count(&self) -> usize {
        self.inner.hole_count()
    }

    /// Every hole, ring by ring, as new columns: `ring` (from the outside, from
    /// 0), `number`, `angle_deg`, `x_mm` and `y_mm`, arrays of shape (holes,).
    ///
    /// >>> plate.holes["angle_deg"][:3].tolist()
    /// [0.0, 40.0, 80.0]
    #[getter]
    fn holes<'py>(&self, py: Python<'py>) -> Made<'py> {
        let count = self.inner.hole_count();
        let (mut ring, mut number) = (Vec::with_capacity(count), Vec::with_capacity(count));
        let (mut angle, mut x, mut y) = (
            Vec::with_capacity(count),
            Vec::with_capacity(count),
            Vec::with_capacity(count),
        );
        for (index, its_ring, hole) in self.inner.holes() {
            let (x_mm, y_mm) = hole.position_mm(its_ring.radius_mm);
            ring.push(u32::try_from(index).unwrap_or(u32::MAX));
            number.push(hole.number);
            angle.push(hole.angle.to_degrees_f64());
            x.push(x_mm);
            y.push(y_mm);
        }
        let columns = PyDict::new(py);
        columns.set_item("ring", ring.into_pyarray(py))?;
        columns.set_item("number", number.into_pyarray(py))?;
        columns.set_item("angle_deg", angle.into_pyarray(py))?;
        columns.set_item("x_mm", x.into_pyarray(py))?;
        columns.set_item("y_mm", y.into_pyarray(py))?;
        class!(py, "_tables", "Columns")?.call1((columns,))
    }

    /// The holes in an order of short travel, from the centre on: columns `ring`,
    /// `number` and `travel_mm` from the stop before.
    ///
    /// >>> len(plate.drilling_order["travel_mm"])
    /// 9
    #[getter]
    fn drilling_order<'py>(&self, py: Python<'py>) -> Made<'py> {
        let pattern = Arc::clone(&self.inner);
        let stops = waited(py, move || Ok(drilling_order(&pattern)))?;
        let columns = PyDict::new(py);
        let ring = |it: usize| u32::try_from(it).unwrap_or(u32::MAX);
        let rings: Vec<u32> = stops.iter().map(|it| ring(it.ring)).collect();
        let numbers: Vec<u32> = stops.iter().map(|it| it.number).collect();
        let travel: Vec<f64> = stops.iter().map(|it| it.travel_mm).collect();
        columns.set_item("ring", rings.into_pyarray(py))?;
        columns.set_item("number", numbers.into_pyarray(py))?;
        columns.set_item("travel_mm", travel.into_pyarray(py))?;
        class!(py, "_tables", "Columns")?.call1((columns,))
    }

    /// The drill table: a `DrillTable`, coordinates rounded to `digits` after the
    /// point (0 to 9), in a `unit` ("millimetre", "inch"), from a `datum`
    /// ("centre", "left_and_lower_edge").
    ///
    /// Raises OutOfRangeError that names the argument.
    ///
    /// >>> plate.drill_table(digits=3).rows[1].x
    /// '33.706'
    /// >>> plate.drill_table().csv.splitlines()[0]
    /// 'hole,ring,number,angle,angle_deg,x_mm,y_mm,rounding_arcsec'
    #[pyo3(signature = (*, digits=None, unit=None, datum=None),
           text_signature = "($self, *, digits=3, unit='millimetre', datum='centre')")]
    fn drill_table<'py>(
        &self,
        py: Python<'py>,
        digits: Option<&Bound<'py, PyAny>>,
        unit: Option<&Bound<'py, PyAny>>,
        datum: Option<&Bound<'py, PyAny>>,
    ) -> Made<'py> {
        let options = options_of(digits, unit, datum)?;
        let pattern = Arc::clone(&self.inner);
        let table = waited(py, move || drill_table(&pattern, &options))?;
        let class = class!(py, "_patterns", "DrillRow")?;
        let mut rows = Vec::with_capacity(table.rows.len());
        for it in &table.rows {
            rows.push(class.call1((
                &it.label,
                it.ring,
                it.number,
                PyAngle::from(it.angle),
                &it.x,
                &it.y,
                it.rounding_error_arcsec,
                it.rounding_radial_mm,
            ))?);
        }
        class!(py, "_patterns", "DrillTable")?.call1((
            options.unit.symbol(),
            PyTuple::new(py, rows)?,
            table.largest_rounding_error_arcsec,
            table.to_csv(),
        ))
    }

    /// Dimensions to check the drilled plate by: a tuple of `CheckDimension`.
    ///
    /// >>> plate.check_dimensions[0].kind
    /// 'neighbours'
    #[getter]
    fn check_dimensions<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let class = class!(py, "_patterns", "CheckDimension")?;
        let mut made = Vec::new();
        for it in check_dimensions(&self.inner) {
            made.push(class.call1((
                name_of(&it.kind)?,
                &it.from,
                &it.to,
                it.centres_mm,
                it.over_pins_mm,
                it.between_pins_mm,
            ))?);
        }
        PyTuple::new(py, made)
    }

    /// A drilling program of plain moves or drilling cycles (ISO 6983-1), holes in
    /// the order of `drilling_order`. Dry-run it above the work: the machine
    /// maker's instructions and local rules stand above it.
    ///
    /// `depth` and `clearance_height` are lengths from the top face, `feed` is a
    /// length in a minute, `spindle_rpm` turns a minute; `style` is "cycle" or
    /// "moves"; the others as `drill_table`.
    ///
    /// Raises OutOfRangeError that names the argument.
    ///
    /// >>> program = plate.drill_program(depth=8, feed=80, spindle_rpm=1200)
    /// >>> "G81" in program
    /// True
    #[pyo3(signature = (*, depth, feed, spindle_rpm, clearance_height=None, style=None,
                        digits=None, unit=None, datum=None),
           text_signature = "($self, *, depth, feed, spindle_rpm, clearance_height=5, \
               style='cycle', digits=3, unit='millimetre', datum='centre')")]
    #[allow(clippy::too_many_arguments, reason = "keyword arguments of Python")]
    fn drill_program(
        &self,
        py: Python<'_>,
        depth: &Bound<'_, PyAny>,
        feed: &Bound<'_, PyAny>,
        spindle_rpm: &Bound<'_, PyAny>,
        clearance_height: Option<&Bound<'_, PyAny>>,
        style: Option<&Bound<'_, PyAny>>,
        digits: Option<&Bound<'_, PyAny>>,
        unit: Option<&Bound<'_, PyAny>>,
        datum: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<String> {
        let usual = PyString::new(py, "5 mm").into_any();
        let cycle = PyString::new(py, "cycle").into_any();
        let rpm = whole_within(spindle_rpm, "spindle_rpm", 1, u32::MAX.into())?;
        let data = DrillingData {
            table: options_of(digits, unit, datum)?,
            style: choice_of::<DrillStyle>(style.unwrap_or(&cycle), "style", "cycle, moves")?,
            clearance_height: length_of(clearance_height.unwrap_or(&usual), "clearance_height")?,
            depth: length_of(depth, "depth")?,
            feed_per_minute: length_of(feed, "feed")?,
            spindle_rpm: u32::try_from(rpm).unwrap_or(u32::MAX),
        };
        let pattern = Arc::clone(&self.inner);
        waited(py, move || drill_program(&pattern, &data))
    }

    /// The plate as DXF text, in a unit ("millimetre", "inch").
    ///
    /// >>> plate.dxf().startswith("0\nSECTION") or "SECTION" in plate.dxf()
    /// True
    #[pyo3(signature = (*, unit=None), text_signature = "($self, *, unit='millimetre')")]
    fn dxf(&self, py: Python<'_>, unit: Option<&Bound<'_, PyAny>>) -> PyResult<String> {
        let unit = unit.map_or(Ok(TableUnit::default()), unit_of)?;
        let pattern = Arc::clone(&self.inner);
        waited(py, move || Ok(plate_dxf(&pattern, unit)))
    }

    /// The plate as SVG text, lengths in millimetres.
    ///
    /// >>> plate.svg.rstrip().endswith("</svg>")
    /// True
    #[getter]
    fn svg(&self, py: Python<'_>) -> PyResult<String> {
        let pattern = Arc::clone(&self.inner);
        waited(py, move || Ok(plate_svg(&pattern)))
    }

    fn _repr_svg_(&self, py: Python<'_>) -> PyResult<String> {
        self.svg(py)
    }

    /// For a pin plate, what room the bar has past pins that it does not lie on:
    /// a tuple of `BarRoom`, empty for other uses.
    ///
    /// >>> plate.bar_room
    /// ()
    #[getter]
    fn bar_room<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let class = class!(py, "_patterns", "BarRoom")?;
        let mut made = Vec::new();
        for it in &self.inner.bar_room {
            let wish = wish_of(py, &it.wish)?;
            made.push(class.call1((wish, it.free_strip_mm, it.feature, it.sentence()))?);
        }
        PyTuple::new(py, made)
    }

    /// For a pin plate with a part between the pins, the room round the part; None
    /// for others.
    ///
    /// >>> plate.part_room is None
    /// True
    #[getter]
    fn part_room<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        let Some(room) = &self.inner.part_room else {
            return Ok(None);
        };
        let class = class!(py, "_patterns", "PartUnderBar")?;
        let mut bars = Vec::new();
        for it in &room.bars {
            bars.push(class.call1((wish_of(py, &it.wish)?, it.least_gap_mm, it.symmetric))?);
        }
        let bars = PyTuple::new(py, bars)?;
        class!(py, "_patterns", "PartRoom")?
            .call1((
                room.part_diameter_mm,
                room.largest_part_mm,
                room.gap_mm,
                room.fits,
                bars,
            ))
            .map(Some)
    }

    /// The fixed plate of a vernier pair, its stations as holes; None for other
    /// uses.
    ///
    /// >>> plate.station_plate() is None
    /// True
    fn station_plate(&self, py: Python<'_>) -> PyResult<Option<Self>> {
        let pattern = Arc::clone(&self.inner);
        Ok(waited(py, move || pattern.station_plate())?.map(Into::into))
    }

    /// The plate as equipment for a workshop: a tuple of pieces, each with a name
    /// that begins with the one given.
    ///
    /// Raises ValueError (one of this package) for a plate that serves as none.
    ///
    /// >>> plate.equipment("own plate")[0].kind
    /// 'direct_plate'
    fn equipment<'py>(&self, py: Python<'py>, name: &Bound<'py, PyAny>) -> Made<'py> {
        let name = text_of(name, "name")?;
        let pieces = core(|| self.inner.equipment(&name))?;
        let document = format!("{{\"equipment\":{}}}", written(&pieces)?);
        class!(py, "_equipment", "pieces_of")?.call1((document,))
    }

    /// What is stamped beside a hole: ring letter and number.
    ///
    /// >>> plate.label(0, 3)
    /// 'A3'
    #[staticmethod]
    fn label(ring: &Bound<'_, PyAny>, number: &Bound<'_, PyAny>) -> PyResult<String> {
        let ring = whole_within(ring, "ring", 0, 1000)?;
        let number = whole_within(number, "number", 0, u32::MAX.into())?;
        Ok(hole_label(
            usize::try_from(ring).unwrap_or_default(),
            u32::try_from(number).unwrap_or_default(),
        ))
    }

    fn __len__(&self) -> usize {
        self.inner.hole_count()
    }

    fn __eq__(&self, other: PyRef<'_, Self>) -> bool {
        self.inner == other.inner
    }

    fn __hash__(&self) -> PyResult<u64> {
        Ok(crate::document::hash_of(&self.to_json()?))
    }

    fn __repr__(&self) -> String {
        let rings = self.inner.rings.len();
        let noun = if rings == 1 { "ring" } else { "rings" };
        let certificate = &self.inner.certificate;
        let proof = if certificate.gap == 0 {
            "proved fewest".to_owned()
        } else {
            format!("at least {} needed", certificate.lower_bound)
        };
        format!(
            "<Pattern of {} holes on {rings} {noun}; {proof}>",
            self.inner.hole_count()
        )
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        let read = py.get_type::<Self>().getattr("from_json")?;
        Ok((read, (self.to_json()?,).into_pyobject(py)?))
    }
}
