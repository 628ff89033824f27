//! The Python face of reach: sets of orientations, the ways of equipment, what a
//! job reaches on each.

use std::sync::Arc;

use dividing_core::reach::{self, Coset, OrientationSet, Reach, VeeSeat, Way, WayKind};
use dividing_core::work::Meter;
use dividing_core::{Angle, Error, ErrorKind, Workshop};
use numpy::{IntoPyArray, PyArray1};
use pyo3::prelude::*;
use pyo3::pyclass::CompareOp;
use pyo3::types::{PyBytes, PyNotImplemented, PyString, PyTuple};

use crate::angle::PyAngle;
use crate::argument::{angle_of, whole_within};
use crate::errors::{core, exception, wrong_type};
use crate::job::PyJob;
use crate::plan::Reduced;
use crate::record::{self, class};
use crate::watch::{Limits, watched};
use crate::workshop::PyWorkshop;

/// Most orientations that are listed one by one.
const MOST_LISTED: i128 = 10_000_000;

/// An exact set of orientations: whole turns do not count.
///
/// It is a union of cosets, `order` equally spaced orientations through one
/// angle each. `OrientationSet([(order, through), ...])` makes one of such
/// pairs; `equally_spaced(order)` the commonest. `angle in held`, `one | other`
/// (both together), `one & other` (in both), `one + other` (one device held on
/// another: every sum) and `<=` are exact.
///
/// Raises OutOfRangeError for an order below 1, ExactOverflowError,
/// WorkLimitError for sets that are too large to compare.
///
/// >>> square = dividing.OrientationSet.equally_spaced(4)
/// >>> dividing.Angle("90 deg") in square, "45 deg" in square
/// (True, False)
/// >>> (square + dividing.OrientationSet([(1, "0 deg"), (1, "45 deg")])).count
/// 8
#[pyclass(module = "dividing", name = "OrientationSet", frozen)]
pub(crate) struct PyOrientationSet {
    inner: Arc<OrientationSet>,
}

impl From<OrientationSet> for PyOrientationSet {
    fn from(inner: OrientationSet) -> Self {
        Self {
            inner: Arc::new(inner),
        }
    }
}

fn coset_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<Coset> {
    let refused = || wrong_type(name, "a pair of an order and an angle", value);
    let pair: (Bound<'_, PyAny>, Bound<'_, PyAny>) = value
        .cast::<PyTuple>()
        .map_err(|_| refused())?
        .extract()
        .map_err(|_| refused())?;
    let order = whole_within(&pair.0, &format!("{name}.order"), 1, i128::MAX)?;
    let through = angle_of(&pair.1, &format!("{name}.through"))?;
    core(|| Coset::new(through, order).map_err(|error| error.at(name)))
}

/// A list of angles; a text is no list, though Python could walk through it.
pub(crate) fn angles_of(values: &Bound<'_, PyAny>, name: &str) -> PyResult<Vec<Angle>> {
    let refused = || wrong_type(name, "a list of angles", values);
    if values.is_instance_of::<PyString>() || values.is_instance_of::<PyBytes>() {
        return Err(refused());
    }
    let most = dividing_core::features::MAX_FEATURES as usize;
    let mut angles = Vec::new();
    for (index, value) in values.try_iter().map_err(|_| refused())?.enumerate() {
        if index == most {
            let found = format!("a list of more than {most} angles");
            let error = Error::out_of_range(found, format!("1 to {most} angles"));
            return Err(exception(&error.at(name)));
        }
        angles.push(angle_of(&value?, &format!("{name}[{index}]"))?);
    }
    Ok(angles)
}

impl PyOrientationSet {
    fn both(
        py: Python<'_>,
        one: &Self,
        other: &Self,
        of: fn(
            &OrientationSet,
            &OrientationSet,
            &mut Meter<'_>,
        ) -> dividing_core::Result<OrientationSet>,
    ) -> PyResult<Self> {
        let (one, other) = (Arc::clone(&one.inner), Arc::clone(&other.inner));
        let limits = Limits::read(None, None)?;
        watched(py, &limits, move |meter| of(&one, &other, meter)).map(Into::into)
    }

    fn listed(&self) -> PyResult<Vec<Angle>> {
        core(|| {
            let mut all = Vec::new();
            let places: i128 = self.inner.cosets().map(Coset::order).sum();
            if places > MOST_LISTED {
                return Err(Error::out_of_range(
                    format!("a set of {places} orientations"),
                    format!("at most {MOST_LISTED} to be listed"),
                ));
            }
            for coset in self.inner.cosets() {
                for place in 0..coset.order() {
                    let step = Angle::new(place, coset.order())?;
                    all.push(step.checked_add(coset.offset())?.within_turn());
                }
            }
            all.sort_unstable();
            all.dedup();
            Ok(all)
        })
    }
}

#[pymethods]
impl PyOrientationSet {
    #[new]
    fn new(cosets: &Bound<'_, PyAny>) -> PyResult<Self> {
        let refused = || wrong_type("cosets", "a list of pairs of an order and an angle", cosets);
        if cosets.is_instance_of::<PyString>() || cosets.is_instance_of::<PyBytes>() {
            return Err(refused());
        }
        let mut read = Vec::new();
        for (index, coset) in cosets.try_iter().map_err(|_| refused())?.enumerate() {
            if index.is_multiple_of(1000) {
                cosets.py().check_signals()?;
            }
            read.push(coset_of(&coset?, &format!("cosets[{index}]"))?);
        }
        core(|| OrientationSet::from_cosets(read)).map(Into::into)
    }

    /// `order` equally spaced orientations, through an angle.
    ///
    /// >>> dividing.OrientationSet.equally_spaced(6, through="10 deg")
    /// OrientationSet([(6, '10°')])
    #[staticmethod]
    #[pyo3(signature = (order, *, through=None), text_signature = "(order, *, through='0 deg')")]
    fn equally_spaced(
        order: &Bound<'_, PyAny>,
        through: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let order = whole_within(order, "order", 1, i128::MAX)?;
        let through = through.map_or(Ok(Angle::ZERO), |it| angle_of(it, "through"))?;
        core(|| {
            let coset = Coset::new(through, order).map_err(|error| error.at("order"))?;
            OrientationSet::from_cosets([coset])
        })
        .map(Into::into)
    }

    /// The cosets: a tuple of pairs of an order and the angle of the first.
    ///
    /// >>> dividing.OrientationSet.equally_spaced(4).cosets
    /// ((4, Angle('0°')),)
    #[getter]
    fn cosets<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let all = self.inner.cosets();
        let pairs = all.map(|it| (it.order(), PyAngle::from(it.offset())));
        PyTuple::new(py, pairs.collect::<Vec<_>>())
    }

    /// How many orientations there are, counted coset by coset.
    ///
    /// >>> dividing.OrientationSet.equally_spaced(40 * 18).count
    /// 720
    #[getter]
    fn count(&self) -> i128 {
        self.inner.count()
    }

    /// The largest M such that turning by 1/M leaves the set as it is.
    ///
    /// >>> dividing.OrientationSet([(4, 0), (6, 0)]).common_order
    /// 2
    #[getter]
    fn common_order(&self) -> i128 {
        self.inner.common_order()
    }

    /// Every orientation in growing angle from 0: a new tuple of `Angle`.
    ///
    /// Raises OutOfRangeError above 10 million.
    ///
    /// >>> dividing.OrientationSet.equally_spaced(3).orientations()
    /// (Angle('0°'), Angle('120°'), Angle('240°'))
    fn orientations<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, self.listed()?.into_iter().map(PyAngle::from))
    }

    /// Every orientation in degrees, growing from 0: a new array of float64 of
    /// shape (count,).
    ///
    /// Raises OutOfRangeError above 10 million.
    ///
    /// >>> dividing.OrientationSet.equally_spaced(3).orientations_deg().tolist()
    /// [0.0, 120.0, 240.0]
    fn orientations_deg<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray1<f64>>> {
        let degrees: Vec<f64> = self
            .listed()?
            .iter()
            .map(|it| it.to_degrees_f64())
            .collect();
        Ok(degrees.into_pyarray(py))
    }

    /// The set with every orientation turned on by an angle.
    ///
    /// >>> dividing.OrientationSet.equally_spaced(4).shifted("10 deg")
    /// OrientationSet([(4, '10°')])
    fn shifted(&self, by: &Bound<'_, PyAny>) -> PyResult<Self> {
        let by = angle_of(by, "by")?;
        core(|| self.inner.shifted(by)).map(Into::into)
    }

    /// Every start `s` from which a whole pattern is held: `s + p` in the set for
    /// every p.
    ///
    /// >>> twelve = dividing.OrientationSet.equally_spaced(12)
    /// >>> twelve.starts_for(["0 deg", "90 deg"]).count
    /// 12
    /// >>> twelve.starts_for(["0 deg", "50 deg"]).count
    /// 0
    #[pyo3(signature = (pattern, *, work_limit=None, progress=None))]
    fn starts_for(
        &self,
        py: Python<'_>,
        pattern: &Bound<'_, PyAny>,
        work_limit: Option<&Bound<'_, PyAny>>,
        progress: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let pattern = angles_of(pattern, "pattern")?;
        let set = Arc::clone(&self.inner);
        let limits = Limits::read(work_limit, progress)?;
        watched(py, &limits, move |meter| set.starts_for(&pattern, meter)).map(Into::into)
    }

    /// Whether a pattern is held when it starts at an angle.
    ///
    /// >>> dividing.OrientationSet.equally_spaced(12).holds_pattern_from(["0 deg", "90 deg"], "30 deg")
    /// True
    fn holds_pattern_from(
        &self,
        pattern: &Bound<'_, PyAny>,
        start: &Bound<'_, PyAny>,
    ) -> PyResult<bool> {
        let (pattern, start) = (angles_of(pattern, "pattern")?, angle_of(start, "start")?);
        core(|| self.inner.holds_pattern_from(&pattern, start))
    }

    fn __contains__(&self, orientation: &Bound<'_, PyAny>) -> PyResult<bool> {
        let angle = angle_of(orientation, "orientation")?;
        core(|| self.inner.contains(angle))
    }

    fn __bool__(&self) -> bool {
        !self.inner.is_empty()
    }

    fn __or__(&self, other: PyRef<'_, Self>) -> Self {
        self.inner.union(&other.inner).into()
    }

    fn __and__(&self, py: Python<'_>, other: PyRef<'_, Self>) -> PyResult<Self> {
        Self::both(py, self, &other, OrientationSet::intersection)
    }

    fn __add__(&self, py: Python<'_>, other: PyRef<'_, Self>) -> PyResult<Self> {
        Self::both(py, self, &other, OrientationSet::sum)
    }

    fn __richcmp__<'py>(
        &self,
        other: &Bound<'py, PyAny>,
        op: CompareOp,
    ) -> PyResult<Bound<'py, PyAny>> {
        let py = other.py();
        let Ok(other) = other.cast::<Self>() else {
            return Ok(PyNotImplemented::get(py).to_owned().into_any());
        };
        let (one, other) = (Arc::clone(&self.inner), Arc::clone(&other.get().inner));
        let limits = Limits::read(None, None)?;
        let answer = watched(py, &limits, move |meter| {
            Ok(match op {
                CompareOp::Eq => one.holds_the_same(&other, meter)?,
                CompareOp::Ne => !one.holds_the_same(&other, meter)?,
                CompareOp::Le => one.is_within(&other, meter)?,
                CompareOp::Ge => other.is_within(&one, meter)?,
                CompareOp::Lt => {
                    one.is_within(&other, meter)? && !one.holds_the_same(&other, meter)?
                }
                CompareOp::Gt => {
                    other.is_within(&one, meter)? && !one.holds_the_same(&other, meter)?
                }
            })
        })?;
        Ok(answer.into_pyobject(py)?.to_owned().into_any())
    }

    fn __hash__(&self, py: Python<'_>) -> PyResult<u64> {
        let set = Arc::clone(&self.inner);
        let limits = Limits::read(None, None)?;
        let canonical = watched(py, &limits, move |meter| set.canonical(meter))?;
        let all: Vec<String> = canonical
            .cosets()
            .map(|it| format!("{} {}", it.order(), it.offset()))
            .collect();
        Ok(crate::document::hash_of(&all.join(",")))
    }

    fn __repr__(&self) -> String {
        let all = self.inner.cosets();
        let all: Vec<String> = all
            .map(|it| format!("({}, '{}')", it.order(), it.offset()))
            .collect();
        format!("OrientationSet([{}])", all.join(", "))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        let class = py.get_type::<Self>().into_any();
        Ok((class, (self.cosets(py)?,).into_pyobject(py)?))
    }
}

/// One way to use one piece of equipment: what it holds exactly, and the setting
/// for each orientation.
///
/// >>> way = dividing.ways(workshop, job)[0]
/// >>> way.equipment, way.kind, way.full_order
/// ('head', 'simple_indexing', 600)
#[pyclass(module = "dividing", name = "Way", frozen)]
pub(crate) struct PyWay {
    workshop: Arc<Workshop>,
    job: Option<Arc<dividing_core::Job>>,
    way: Way,
    index: usize,
    work_limit: u64,
}

const fn kind_name(kind: WayKind) -> &'static str {
    match kind {
        WayKind::DirectCircle { .. } => "direct_circle",
        WayKind::Vernier => "vernier",
        WayKind::BlockFlat => "block_flat",
        WayKind::BlockFlatAndVee { .. } => "block_flat_and_vee",
        WayKind::PinsOneSpan { .. } => "pins_one_span",
        WayKind::PinsMixedSpans { .. } => "pins_mixed_spans",
        WayKind::SimpleIndexing { .. } => "simple_indexing",
        WayKind::Dial => "dial",
        WayKind::SineBar => "sine_bar",
        WayKind::AngleBlocks => "angle_blocks",
        WayKind::Inclination => "inclination",
        WayKind::FromCommonDatum => "from_common_datum",
        WayKind::FromLastFeature => "from_last_feature",
        WayKind::PinsAcrossRings => "pins_across_rings",
        WayKind::Stack { .. } => "stack",
        WayKind::CompoundIndexing { .. } => "compound_indexing",
        WayKind::DifferentialIndexing { .. } => "differential_indexing",
        _ => "other",
    }
}

#[pymethods]
impl PyWay {
    /// The piece of equipment, as the shop calls it.
    ///
    /// >>> dividing.ways(workshop)[0].equipment
    /// 'head'
    #[getter]
    fn equipment(&self) -> &str {
        let piece = self.workshop.equipment().get(self.way.equipment());
        piece.map_or("", dividing_core::Equipment::name)
    }

    /// How it is used, such as "simple_indexing" or "block_flat".
    ///
    /// >>> dividing.ways(workshop)[-1].kind
    /// 'block_flat'
    #[getter]
    fn kind(&self) -> &'static str {
        kind_name(self.way.kind())
    }

    /// The exact set of presented angles: the drawing angle, up to the start,
    /// that stands where the cutter works.
    ///
    /// >>> dividing.ways(workshop)[-1].held
    /// OrientationSet([(4, '0°')])
    #[getter]
    fn held(&self) -> PyOrientationSet {
        self.way.set().clone().into()
    }

    /// What the device presents at its zero setting.
    ///
    /// >>> dividing.ways(workshop)[0].zero
    /// Angle('0°')
    #[getter]
    fn zero(&self) -> PyAngle {
        self.way.zero().into()
    }

    /// Equal parts of a turn that the way would hold with no hole absent.
    ///
    /// >>> dividing.ways(workshop)[-1].full_order
    /// 4
    #[getter]
    const fn full_order(&self) -> i128 {
        self.way.full_order()
    }

    /// Real angles that are added to what is held, such as the tilts of a sine
    /// bar, in degrees: a new array, or None.
    ///
    /// >>> dividing.ways(workshop)[0].fine_deg is None
    /// True
    #[getter]
    fn fine_deg<'py>(&self, py: Python<'py>) -> Option<Bound<'py, PyArray1<f64>>> {
        let points = self.way.fine_points()?;
        Some(points.degrees().collect::<Vec<_>>().into_pyarray(py))
    }

    /// What comes of repeating its move, a `SteppingError`, where the move is not
    /// exact and features are made one move after the other; None for other ways.
    ///
    /// >>> dividing.ways(workshop)[0].stepping is None
    /// True
    #[getter]
    fn stepping<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        let Some(it) = self.way.stepping() else {
            return Ok(None);
        };
        class!(py, "_records", "SteppingError")?
            .call1((
                it.moves,
                PyAngle::from(it.per_move),
                PyAngle::from(it.worst),
                PyAngle::from(it.closing),
            ))
            .map(Some)
    }

    /// The setting that presents an orientation that is held.
    ///
    /// Raises NotFoundError for one that is not.
    ///
    /// >>> dividing.ways(workshop, job)[0].kind
    /// 'simple_indexing'
    /// >>> dividing.ways(workshop)[-1].setting("90 deg")
    /// FaceDown(face=1)
    fn setting<'py>(
        &self,
        py: Python<'py>,
        presented: &Bound<'py, PyAny>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let angle = angle_of(presented, "presented")?;
        let setting = core(|| {
            if self.way.fine_points().is_none() && !self.way.set().contains(angle)? {
                let message = format!("{angle} is not held; accepted: an angle of held");
                return Err(Error::new(ErrorKind::NotFound, message).at("presented"));
            }
            self.way.setting(&self.workshop, angle)
        })?;
        record::setting_of(py, &setting)
    }

    /// Every start from which the way holds a whole pattern exactly.
    ///
    /// >>> dividing.ways(workshop)[-1].exact_starts(["0 deg", "90 deg"]).count
    /// 4
    #[pyo3(signature = (pattern, *, work_limit=None, progress=None))]
    fn exact_starts(
        &self,
        py: Python<'_>,
        pattern: &Bound<'_, PyAny>,
        work_limit: Option<&Bound<'_, PyAny>>,
        progress: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<PyOrientationSet> {
        let pattern = angles_of(pattern, "pattern")?;
        let way = self.way.clone();
        let limits = Limits::read(work_limit, progress)?;
        watched(py, &limits, move |meter| way.exact_starts(&pattern, meter)).map(Into::into)
    }

    /// What a job comes to on this way: a `Reach`, with the nearest settings and
    /// the reason where it is not exact.
    ///
    /// With a free start the largest residual of N equal divisions on `<1/M>` is
    /// `(1 - gcd(M, N)/N) / (2 M)` turn, the least that any choice can make.
    ///
    /// Raises WorkLimitError at the limit.
    ///
    /// >>> found = dividing.ways(workshop)[-1].reach(job)
    /// >>> found.exact, found.largest_residual, found.shortfall.missing
    /// (False, Angle('40°'), ((3, 2),))
    #[pyo3(signature = (job, *, work_limit=None, progress=None))]
    fn reach<'py>(
        &self,
        py: Python<'py>,
        job: &Bound<'py, PyAny>,
        work_limit: Option<&Bound<'py, PyAny>>,
        progress: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let job = job_of(job)?;
        let (workshop, way) = (Arc::clone(&self.workshop), self.way.clone());
        let limits = Limits::read(work_limit, progress)?;
        let found = watched(py, &limits, move |meter| {
            reach::reach(&workshop, &way, &job, meter)
        })?;
        reach_record(py, &found)
    }

    fn __repr__(&self, py: Python<'_>) -> PyResult<String> {
        let name = crate::document::repr(py, self.equipment())?;
        let kind = self.kind().replace('_', " ");
        Ok(format!("<Way {name}: {kind}>"))
    }

    fn __eq__(&self, other: PyRef<'_, Self>) -> bool {
        self.way == other.way && self.workshop == other.workshop
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        let again = class!(py, "_pickles", "way_again")?.clone();
        let workshop = PyWorkshop::from(self.workshop.as_ref().clone());
        let job = self.job.as_deref().map(|it| PyJob { inner: it.clone() });
        let parts = (workshop, job, self.work_limit, self.index);
        Ok((again, parts.into_pyobject(py)?))
    }
}

fn job_of(value: &Bound<'_, PyAny>) -> PyResult<dividing_core::Job> {
    match value.cast::<PyJob>() {
        Ok(job) => Ok(job.get().inner.clone()),
        Err(_) => Err(wrong_type("job", "a Job", value)),
    }
}

pub(crate) fn workshop_of(value: &Bound<'_, PyAny>) -> PyResult<Workshop> {
    match value.cast::<PyWorkshop>() {
        Ok(workshop) => Ok(workshop.get().inner.clone()),
        Err(_) => Err(wrong_type("workshop", "a Workshop", value)),
    }
}

fn reach_record<'py>(py: Python<'py>, it: &Reach) -> PyResult<Bound<'py, PyAny>> {
    let mut placements = Vec::with_capacity(it.placements.len());
    for (index, placement) in it.placements.iter().enumerate() {
        if index.is_multiple_of(1000) {
            py.check_signals()?;
        }
        placements.push(record::placement(py, placement)?);
    }
    let datum = it.datum.as_ref().map(|it| record::setting_of(py, it));
    let shortfall = it.shortfall.as_ref().map(|it| record::shortfall(py, it));
    class!(py, "_records", "Reach")?.call1((
        it.exact,
        PyAngle::from(it.start),
        datum.transpose()?,
        PyTuple::new(py, placements)?,
        PyAngle::from(it.largest_residual),
        shortfall.transpose()?,
    ))
}

/// Every way to use what a workshop owns: a tuple of `Way`, in its order. With a
/// job also the best compound and differential set-ups for it.
///
/// `work_limit` and `progress` as `plan`; the interpreter lock is released and
/// Ctrl-C stops the search.
///
/// Raises WorkLimitError at the limit, ExactOverflowError when an angle does not
/// fit.
///
/// >>> [way.kind for way in dividing.ways(workshop)][-2:]
/// ['simple_indexing', 'block_flat']
#[pyfunction]
#[pyo3(signature = (workshop, job=None, *, work_limit=None, progress=None))]
pub(crate) fn ways<'py>(
    py: Python<'py>,
    workshop: &Bound<'py, PyAny>,
    job: Option<&Bound<'py, PyAny>>,
    work_limit: Option<&Bound<'py, PyAny>>,
    progress: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyTuple>> {
    let workshop = Arc::new(workshop_of(workshop)?);
    let job = job.map(job_of).transpose()?.map(Arc::new);
    let limits = Limits::read(work_limit, progress)?;
    let (shop, wanted) = (Arc::clone(&workshop), job.clone());
    let found = watched(py, &limits, move |meter| match wanted {
        Some(job) => reach::ways_for(&shop, &job, meter),
        None => reach::ways(&shop, meter),
    })?;
    let made = found.into_iter().enumerate().map(|(index, way)| PyWay {
        workshop: Arc::clone(&workshop),
        job: job.clone(),
        way,
        index,
        work_limit: limits.work_limit(),
    });
    let made = made.map(|way| Bound::new(py, way));
    PyTuple::new(py, made.collect::<PyResult<Vec<_>>>()?)
}

/// How a block with equal faces lies in a V-block: a `VeeSeat`.
///
/// It seats only when `(180° - included) * faces / 360°` is a whole number (plane
/// geometry of a polygon between two lines); an odd one adds the half step.
///
/// Raises OutOfRangeError, or TypeError, that names the argument.
///
/// >>> dividing.vee_seat(4, "90 deg")
/// VeeSeat(steps_between=1, off_by=None)
/// >>> dividing.vee_seat(6, "90 deg").off_by
/// Angle('15°')
#[pyfunction]
pub(crate) fn vee_seat<'py>(
    faces: &Bound<'py, PyAny>,
    included_angle: &Bound<'py, PyAny>,
) -> PyResult<Bound<'py, PyAny>> {
    let py = faces.py();
    let most = dividing_core::equipment::MAX_FACES;
    let faces = whole_within(faces, "faces", 3, most.into())?;
    let angle = angle_of(included_angle, "included_angle")?;
    let seat = core(|| {
        if angle <= Angle::ZERO || angle >= Angle::HALF_TURN {
            return Err(Error::out_of_range(angle, "above 0° and below 180°").at("included_angle"));
        }
        reach::vee_seat(u32::try_from(faces).unwrap_or(most), angle)
    })?;
    let (steps, off_by) = match seat {
        VeeSeat::Seats { steps_between } => (Some(steps_between), None),
        VeeSeat::FalseRest { off_by } => (None, Some(PyAngle::from(off_by))),
    };
    class!(py, "_records", "VeeSeat")?.call1((steps, off_by))
}
