//! The Python face of plans.

use std::collections::BTreeMap;
use std::sync::Arc;

use dividing_core::accuracy::VerdictKind;
use dividing_core::reach::Placement;
use dividing_core::{Error, ErrorKind, Plan, Plans, plan_job_within};
use numpy::{IntoPyArray, PyArray1};
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PySlice, PyTuple};

use crate::angle::PyAngle;
use crate::argument::whole_within;
use crate::document::{loads, repr};
use crate::errors::{core, exception, wrong_type};
use crate::job::PyJob;
use crate::record::{self, class};
use crate::sheet::{PyDrawing, PySheet};
use crate::watch::{Limits, waited, watched};
use crate::workshop::PyWorkshop;

/// All plans for a job, the best first: a sequence of `Plan`.
///
/// The order: plans that are exact at every feature before those that are not;
/// then by verdict (pass or no tolerance given, not proven, fail); then by the
/// worst case, plans whose figure is incomplete last; then by handling. Each
/// piece of equipment gives one plan. A pickle holds the workshop and the job,
/// and plans again when it is loaded.
///
/// >>> [plan.equipment for plan in plans]
/// ['head', 'square block']
#[pyclass(module = "dividing", name = "Plans", frozen, sequence)]
pub(crate) struct PyPlans {
    source: Arc<Source>,
    items: Py<PyTuple>,
}

/// Plans of the core with the limit of work that made them.
pub(crate) struct Source {
    pub(crate) plans: Plans,
    work_limit: u64,
}

/// Plans a job on everything a workshop owns.
///
/// `work_limit` bounds the search, in elementary steps (None: 100 million,
/// a minute at most). `progress` is called now and then, and at the end, with the
/// steps done since its last call, so that `tqdm().update` will do; an
/// exception from it stops the search and is raised. The interpreter lock is
/// released; Ctrl-C stops the search.
///
/// At the limit the plans found so far are returned, `complete` false and
/// `cut_short` naming the equipment not looked at in full.
///
/// Raises WorkLimitError when the limit leaves no plan at all, ExactOverflowError
/// when the angles have no common denominator within 35 digits.
///
/// >>> plans = dividing.plan(workshop, job)
/// >>> plans[0].method
/// 'simple indexing, plate 1, 18-hole circle'
#[pyfunction]
#[pyo3(signature = (workshop, job, *, work_limit=None, progress=None))]
pub(crate) fn plan<'py>(
    py: Python<'py>,
    workshop: &Bound<'py, PyAny>,
    job: &Bound<'py, PyAny>,
    work_limit: Option<&Bound<'py, PyAny>>,
    progress: Option<&Bound<'py, PyAny>>,
) -> PyResult<PyPlans> {
    let workshop = workshop
        .cast::<PyWorkshop>()
        .map_err(|_| wrong_type("workshop", "a Workshop", workshop))?
        .get();
    let job = job
        .cast::<PyJob>()
        .map_err(|_| wrong_type("job", "a Job", job))?
        .get();
    let limits = Limits::read(work_limit, progress)?;
    let (workshop, job) = (workshop.inner.clone(), job.inner.clone());
    let plans = watched(py, &limits, move |meter| {
        plan_job_within(&workshop, &job, meter)
    })?;
    let work_limit = limits.work_limit();
    PyPlans::new(py, Arc::new(Source { plans, work_limit }))
}

impl PyPlans {
    fn new(py: Python<'_>, source: Arc<Source>) -> PyResult<Self> {
        let plans = (0..source.plans.plans().len()).map(|index| PyPlan {
            source: Arc::clone(&source),
            index,
            placements: PyOnceLock::new(),
        });
        let items = plans
            .map(|plan| Bound::new(py, plan))
            .collect::<PyResult<Vec<_>>>()?;
        let items = PyTuple::new(py, items)?.unbind();
        Ok(Self { source, items })
    }
}

#[pymethods]
impl PyPlans {
    fn __len__(&self) -> usize {
        self.source.plans.plans().len()
    }

    fn __getitem__<'py>(&self, index: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
        let py = index.py();
        let items = self.items.bind(py);
        if index.is_instance_of::<PySlice>() {
            return items.as_any().get_item(index);
        }
        let (all, least) = (
            items.len(),
            -i128::try_from(items.len()).unwrap_or(i128::MAX),
        );
        let at = whole_within(index, "plan", i128::MIN, i128::MAX)?;
        let at = if (least..0).contains(&at) {
            at - least
        } else {
            at
        };
        let Ok(at) = usize::try_from(at) else {
            let message = format!("there is no plan {at}; accepted: {least} to {}", all - 1);
            return Err(exception(
                &Error::new(ErrorKind::NotFound, message).at("plan"),
            ));
        };
        core(|| self.source.plans.plan(at))?;
        items.as_any().get_item(at)
    }

    fn __iter__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        Ok(self.items.bind(py).as_any().try_iter()?.into_any())
    }

    /// The workshop they were made for.
    ///
    /// >>> plans.workshop == workshop
    /// True
    #[getter]
    fn workshop(&self) -> PyWorkshop {
        self.source.plans.workshop().clone().into()
    }

    /// The job they do.
    ///
    /// >>> plans.job == job
    /// True
    #[getter]
    fn job(&self) -> PyJob {
        PyJob {
            inner: self.source.plans.job().clone(),
        }
    }

    /// Whether every piece of equipment was looked at in full.
    ///
    /// >>> plans.complete
    /// True
    #[getter]
    fn complete(&self) -> bool {
        self.source.plans.complete()
    }

    /// The equipment that was not looked at in full, each with the reasons.
    ///
    /// >>> plans.cut_short
    /// {}
    #[getter]
    fn cut_short(&self) -> BTreeMap<String, Vec<String>> {
        let all = self.source.plans.cut_short().iter();
        all.map(|it| (it.equipment.clone(), it.reasons.clone()))
            .collect()
    }

    /// All plans as JSON text.
    ///
    /// >>> import json
    /// >>> json.loads(plans.to_json())["format"]
    /// 1
    fn to_json(&self) -> PyResult<String> {
        core(|| self.source.plans.to_json())
    }

    /// All plans as a dict of plain values.
    ///
    /// >>> plans.to_dict()["plans"][0]["equipment"]
    /// 'head'
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        loads(py, &self.to_json()?)
    }

    fn _repr_html_<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let row = |(index, plan): (usize, &Plan)| {
            let exact = if plan.exact {
                "yes".into()
            } else {
                format!("off by {:.4}°", plan.largest_residual.to_degrees_f64())
            };
            let known = if plan.error.unknown.is_empty() {
                ""
            } else {
                " or more"
            };
            let worst = format!("{:.4}°{known}", plan.error.worst_rad.to_degrees());
            let margin = plan.verdict.margin_rad;
            [
                index.to_string(),
                plan.equipment.clone(),
                plan.method.clone(),
                exact,
                verdict_name(plan.verdict.kind).replace('_', " "),
                worst,
                margin.map_or_else(String::new, |it| format!("{:+.4}°", it.to_degrees())),
            ]
        };
        const HEAD: [&str; 7] = [
            "",
            "Equipment",
            "Method",
            "Exact",
            "Verdict",
            "Worst case",
            "Margin",
        ];
        let plans = &self.source.plans;
        let rows: Vec<_> = plans.plans().iter().enumerate().map(row).collect();
        let title = format!("Plans: {}", plans.job().name());
        class!(py, "_html", "grid")?.call1((title, HEAD, rows))
    }

    fn __eq__(&self, other: PyRef<'_, Self>) -> bool {
        self.source.plans == other.source.plans
    }

    fn __repr__(&self, py: Python<'_>) -> PyResult<String> {
        let names = self
            .source
            .plans
            .plans()
            .iter()
            .map(|it| it.equipment.as_str());
        let best = names
            .take(1)
            .map(|it| repr(py, it))
            .collect::<PyResult<Vec<_>>>()?;
        Ok(format!(
            "<Plans for {}: {} in all, the best with {}>",
            repr(py, self.source.plans.job().name())?,
            self.source.plans.plans().len(),
            best.first().map_or("nothing", String::as_str),
        ))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        let again = class!(py, "_pickles", "plan_again")?.clone();
        let parts = (self.workshop(), self.job(), self.source.work_limit);
        Ok((again, parts.into_pyobject(py)?))
    }
}

/// What `__reduce__` gives: a callable and its arguments.
pub(crate) type Reduced<'py> = (Bound<'py, PyAny>, Bound<'py, PyTuple>);

/// One way to do the job with one piece of equipment.
///
/// Floats are in the unit of their names; arrays are new NumPy arrays of
/// float64, one entry a feature in the order of the job.
///
/// >>> plans[0]
/// <Plan 'head': simple indexing, plate 1, 18-hole circle; exact; pass>
#[pyclass(module = "dividing", name = "Plan", frozen)]
pub(crate) struct PyPlan {
    source: Arc<Source>,
    index: usize,
    placements: PyOnceLock<Py<PyTuple>>,
}

impl PyPlan {
    fn plan(&self) -> PyResult<&Plan> {
        core(|| self.source.plans.plan(self.index))
    }

    fn degrees<'py>(
        &self,
        py: Python<'py>,
        which: impl Fn(&Placement) -> dividing_core::Angle,
    ) -> PyResult<Bound<'py, PyArray1<f64>>> {
        let placements = self.plan()?.placements.iter();
        let values: Vec<f64> = placements.map(|it| which(it).to_degrees_f64()).collect();
        Ok(values.into_pyarray(py))
    }
}

const fn verdict_name(kind: VerdictKind) -> &'static str {
    match kind {
        VerdictKind::Pass => "pass",
        VerdictKind::NoTolerance => "no_tolerance",
        VerdictKind::NotProven => "not_proven",
        VerdictKind::Fail => "fail",
    }
}

#[pymethods]
impl PyPlan {
    /// What `dividing.accuracy.ErrorModel` holds.
    fn _error_model(&self, py: Python<'_>) -> PyResult<crate::accuracy::PyErrorModel> {
        crate::accuracy::PyErrorModel::of_plan(py, Arc::clone(&self.source), self.index)
    }

    /// The errors of the whole plan: budgets, conformance, trade-offs, simulation.
    /// A `dividing.accuracy.ErrorModel`, made anew each time.
    ///
    /// Raises WorkLimitError, ExactOverflowError.
    ///
    /// >>> plans[0].error_model().budget(0).unit
    /// 'arcsec'
    fn error_model<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        class!(slf.py(), "accuracy", "ErrorModel")?.call1((slf,))
    }

    /// How far off pitches may be, a `PitchFigure`; None where the tolerance of
    /// the job limits no pitch.
    ///
    /// >>> plans[0].pitch is None
    /// True
    #[getter]
    fn pitch<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        let Some(pitch) = &self.plan()?.error.pitch else {
            return Ok(None);
        };
        let made = class!(py, "_records", "PitchFigure")?.call1((
            pitch.single_residual_rad,
            pitch.cumulative_residual_rad,
            pitch.single_worst_rad,
            pitch.cumulative_worst_rad,
        ))?;
        Ok(Some(made))
    }

    /// Its place among the plans for the job, from 0.
    ///
    /// >>> plans[1].index
    /// 1
    #[getter]
    const fn index(&self) -> usize {
        self.index
    }

    /// The piece of equipment, as the shop calls it.
    ///
    /// >>> plans[0].equipment
    /// 'head'
    #[getter]
    fn equipment(&self) -> PyResult<&str> {
        Ok(&self.plan()?.equipment)
    }

    /// The kind of equipment, as in workshop documents.
    ///
    /// >>> plans[0].equipment_kind
    /// 'worm_head'
    #[getter]
    fn equipment_kind(&self) -> PyResult<&str> {
        Ok(&self.plan()?.equipment_kind)
    }

    /// How the equipment is used, in words.
    ///
    /// >>> plans[0].method
    /// 'simple indexing, plate 1, 18-hole circle'
    #[getter]
    fn method(&self) -> PyResult<&str> {
        Ok(&self.plan()?.method)
    }

    /// Whether every feature is reached exactly.
    ///
    /// >>> plans[0].exact, plans[1].exact
    /// (True, False)
    #[getter]
    fn exact(&self) -> PyResult<bool> {
        Ok(self.plan()?.exact)
    }

    /// What the device presents when drawing angle 0 stands at the cutter.
    ///
    /// >>> plans[0].start
    /// Angle('0°')
    #[getter]
    fn start(&self) -> PyResult<PyAngle> {
        Ok(self.plan()?.start.into())
    }

    /// Every feature with its setting: a tuple of `Placement`.
    ///
    /// >>> plans[0].placements[1].setting.turns
    /// 4
    #[getter]
    fn placements<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let made = self.placements.get_or_try_init(py, || {
            // Objects made between two looks for Ctrl-C: some milliseconds.
            const BETWEEN_LOOKS: usize = 1000;
            let all = &self.plan()?.placements;
            let mut made = Vec::with_capacity(all.len());
            for some in all.chunks(BETWEEN_LOOKS) {
                py.check_signals()?;
                for placement in some {
                    made.push(record::placement(py, placement)?);
                }
            }
            PyTuple::new(py, made).map(Bound::unbind)
        })?;
        Ok(made.bind(py).clone())
    }

    /// The largest residual, without sign; exact.
    ///
    /// >>> plans[1].largest_residual
    /// Angle('40°')
    #[getter]
    fn largest_residual(&self) -> PyResult<PyAngle> {
        Ok(self.plan()?.largest_residual.into())
    }

    /// Why it is not exact, a `Shortfall`; None when it is.
    ///
    /// >>> plans[0].shortfall is None
    /// True
    #[getter]
    fn shortfall<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        let shortfall = self.plan()?.shortfall.as_ref();
        shortfall.map(|it| record::shortfall(py, it)).transpose()
    }

    /// Whether the plan holds the tolerance: a `Verdict`.
    ///
    /// >>> plans[0].verdict
    /// <Verdict.PASS: 'pass'>
    #[getter]
    fn verdict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let name = verdict_name(self.plan()?.verdict.kind);
        class!(py, "_enums", "Verdict")?.call1((name,))
    }

    /// Largest deviation that the tolerance allows, in degrees; None without one.
    ///
    /// >>> round(plans[0].limit_deg, 9)
    /// 0.05
    #[getter]
    fn limit_deg(&self) -> PyResult<Option<f64>> {
        Ok(self.limit_rad()?.map(f64::to_degrees))
    }

    /// Largest deviation that the tolerance allows, in radians; None without one.
    ///
    /// >>> round(plans[0].limit_rad, 9)
    /// 0.000872665
    #[getter]
    fn limit_rad(&self) -> PyResult<Option<f64>> {
        Ok(self.plan()?.verdict.limit_rad)
    }

    /// The limit less the worst case, in degrees; below zero when it is passed;
    /// None without a tolerance.
    ///
    /// >>> plans[0].margin_deg > 0
    /// True
    #[getter]
    fn margin_deg(&self) -> PyResult<Option<f64>> {
        Ok(self.margin_rad()?.map(f64::to_degrees))
    }

    /// The limit less the worst case, in radians; None without a tolerance.
    ///
    /// >>> plans[0].margin_rad > 0
    /// True
    #[getter]
    fn margin_rad(&self) -> PyResult<Option<f64>> {
        Ok(self.plan()?.verdict.margin_rad)
    }

    /// The worst feature, all limits and its residual added, in degrees.
    ///
    /// >>> plans[0].worst_deg >= plans[0].root_sum_square_deg
    /// True
    #[getter]
    fn worst_deg(&self) -> PyResult<f64> {
        Ok(self.worst_rad()?.to_degrees())
    }

    /// The worst feature, all limits and its residual added, in radians.
    ///
    /// >>> plans[0].worst_rad < plans[0].limit_rad
    /// True
    #[getter]
    fn worst_rad(&self) -> PyResult<f64> {
        Ok(self.plan()?.error.worst_rad)
    }

    /// The largest residual plus the root of the sum of the squared limits, in
    /// degrees.
    ///
    /// >>> plans[0].root_sum_square_deg > 0
    /// True
    #[getter]
    fn root_sum_square_deg(&self) -> PyResult<f64> {
        Ok(self.root_sum_square_rad()?.to_degrees())
    }

    /// The largest residual plus the root of the sum of the squared limits, in
    /// radians.
    ///
    /// >>> plans[0].root_sum_square_rad > 0
    /// True
    #[getter]
    fn root_sum_square_rad(&self) -> PyResult<f64> {
        Ok(self.plan()?.error.root_sum_square_rad)
    }

    /// What makes up the worst feature's figure, the largest first: a tuple of
    /// `Contributor`.
    ///
    /// >>> len(plans[0].contributors) > 0
    /// True
    #[getter]
    fn contributors<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let all = self.plan()?.error.contributors.iter();
        let made = all.map(|it| record::contributor(py, it));
        PyTuple::new(py, made.collect::<PyResult<Vec<_>>>()?)
    }

    /// What the workshop does not say, so that the figures leave it out.
    ///
    /// >>> len(plans[0].unknown)
    /// 0
    #[getter]
    fn unknown<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, &self.plan()?.error.unknown)
    }

    /// The decision rule by which a limit of angle was judged: "simple_acceptance" or
    /// a `dividing.accuracy.GuardBand`; None where the worst case had to hold.
    ///
    /// >>> plans[0].decision_rule is None
    /// True
    #[getter]
    fn decision_rule<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        let rule = self.plan()?.verdict.rule;
        rule.map(|it| crate::job::rule_of(py, it)).transpose()
    }

    /// Probability that a feature conforms, of the one for which it is least, its
    /// deviation taken as normal (JCGM 106:2012, 7.4); None without a limit of
    /// angle or with an incomplete figure.
    ///
    /// >>> plans[0].conformance_probability > 0.99
    /// True
    #[getter]
    fn conformance_probability(&self) -> PyResult<Option<f64>> {
        Ok(self.plan()?.verdict.probability)
    }

    /// The tightest class of ISO 2768-1 that the worst case meets, an
    /// `AngularClass`, where the tolerance of the job names one; None for none.
    ///
    /// >>> plans[0].class_met is None
    /// True
    #[getter]
    fn class_met<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        let Some(class) = self.plan()?.verdict.class_met else {
            return Ok(None);
        };
        let name = record::name_of(&class)?;
        class!(py, "_enums", "AngularClass")?
            .call1((name,))
            .map(Some)
    }

    /// The finest grade of ISO 1328-1 that the worst case of the pitch alone meets,
    /// where the tolerance of the job names one; None for none.
    ///
    /// >>> plans[0].grade_met is None
    /// True
    #[getter]
    fn grade_met(&self) -> PyResult<Option<u8>> {
        Ok(self.plan()?.verdict.grade_met)
    }

    /// How far features stand off the part's axis, apart from their angle: a
    /// `dividing.accuracy.FeatureShift`; None unless the job says how far the part
    /// stands off the spindle.
    ///
    /// >>> off = dividing.PartEccentricity(0.02, feature_radius=40)
    /// >>> plan = dividing.plan(workshop, job.with_part_eccentricity(off))[0]
    /// >>> plan.feature_shift.shift_mm
    /// 0.02
    #[getter]
    fn feature_shift<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        let Some(shift) = &self.plan()?.feature_shift else {
            return Ok(None);
        };
        class!(py, "accuracy", "FeatureShift")?
            .call1((shift.shift_mm, shift.angle_rad))
            .map(Some)
    }

    /// Whether the pin goes into its holes at the limits of all tolerances, and how
    /// likely: a `dividing.accuracy.EntryFinding`, of a stack for the member where
    /// it is tightest. None where no pin enters holes or the workshop does not say
    /// its sizes. Made anew each time.
    ///
    /// A hole may stand off by half its position zone and the plate by its
    /// eccentricity; the pin gives by half the clearance.
    ///
    /// Raises WorkLimitError, ExactOverflowError; OutOfRangeError for sizes beyond
    /// all use.
    ///
    /// >>> entry = plans[0].entry_finding()
    /// >>> round(entry.worst_distance_mm, 9), round(entry.probability, 3)
    /// (0.01, 0.997)
    /// >>> plans[1].entry_finding() is None
    /// True
    fn entry_finding<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        let (source, index) = (Arc::clone(&self.source), self.index);
        let found = watched(py, &Limits::unlimited(None), move |meter| {
            source.plans.entry_finding(index, meter)
        })?;
        let Some(found) = found else {
            return Ok(None);
        };
        class!(py, "accuracy", "EntryFinding")?
            .call1((
                found.worst_distance_mm,
                found.worst_margin_mm,
                found.always_enters,
                found.probability,
            ))
            .map(Some)
    }

    /// What `dividing.accuracy.ErrorReport` holds: data, text and HTML.
    fn _error_report(
        &self,
        py: Python<'_>,
        criterion: &str,
        coverage: &str,
    ) -> PyResult<(String, String, String)> {
        let (criterion, coverage) = core(|| {
            Ok((
                dividing_core::document::read(criterion).map_err(|it| it.at("criterion"))?,
                dividing_core::document::read(coverage).map_err(|it| it.at("coverage"))?,
            ))
        })?;
        let (source, index) = (Arc::clone(&self.source), self.index);
        watched(py, &Limits::unlimited(None), move |meter| {
            let report = source
                .plans
                .error_report(index, criterion, coverage, meter)?;
            Ok((report.to_json()?, report.to_text(), report.to_html()))
        })
    }

    /// Where the error comes from and what the plan would bear: the budget of the
    /// worst feature and the trade-offs, a `dividing.accuracy.ErrorReport`. Notebooks
    /// show it as tables.
    ///
    /// Raises WorkLimitError, ExactOverflowError; as `ErrorModel.budget` and
    /// `ErrorModel.trade_offs` of the error model.
    ///
    /// >>> plans[0].error_report().trade_offs.feature
    /// 0
    #[pyo3(signature = (*, criterion=None, coverage=None),
           text_signature = "($self, *, criterion='worst_case', coverage=CoverageFactor(2.0))")]
    fn error_report<'py>(
        slf: &Bound<'py, Self>,
        criterion: Option<&Bound<'py, PyAny>>,
        coverage: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        class!(slf.py(), "accuracy._report", "report_of")?.call1((slf, criterion, coverage))
    }

    /// The deviations round the circle, the limits at worst: a `Drawing`.
    ///
    /// >>> plans[0].deviation_picture.svg[:4]
    /// '<svg'
    #[getter]
    fn deviation_picture(&self) -> PyResult<PyDrawing> {
        core(|| self.source.plans.deviation_picture(self.index)).map(PyDrawing::new)
    }

    /// How much there is to do by hand: a `Handling`.
    ///
    /// >>> plans[0].handling.actions
    /// 9
    #[getter]
    fn handling<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        record::handling(py, &self.plan()?.handling)
    }

    /// What to know before trusting the plan: a tuple of `Finding`.
    ///
    /// >>> plans[0].findings
    /// ()
    #[getter]
    fn findings<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let all = self.plan()?.findings.iter();
        let made = all.map(|it| record::finding(py, it));
        PyTuple::new(py, made.collect::<PyResult<Vec<_>>>()?)
    }

    /// Other ways of the same equipment, in words.
    ///
    /// >>> plans[0].alternatives
    /// ()
    #[getter]
    fn alternatives<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, &self.plan()?.alternatives)
    }

    /// Required drawing angles in degrees, an array of shape (features,).
    ///
    /// >>> plans[0].required_deg[:3].tolist()
    /// [0.0, 40.0, 80.0]
    #[getter]
    fn required_deg<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray1<f64>>> {
        self.degrees(py, |it| it.required)
    }

    /// Attained drawing angles in degrees, an array of shape (features,).
    ///
    /// >>> plans[0].attained_deg.shape
    /// (9,)
    #[getter]
    fn attained_deg<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray1<f64>>> {
        self.degrees(py, |it| it.attained)
    }

    /// Attained less required in degrees, an array of shape (features,).
    ///
    /// >>> float(abs(plans[1].residuals_deg).max())
    /// 40.0
    #[getter]
    fn residuals_deg<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray1<f64>>> {
        self.degrees(py, |it| it.residual)
    }

    /// The worst case of every feature in degrees, an array of shape (features,).
    ///
    /// >>> bool(plans[0].feature_worst_deg.max() == plans[0].worst_deg)
    /// True
    #[getter]
    fn feature_worst_deg<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyArray1<f64>>> {
        let all = self.plan()?.error.features.iter();
        let values: Vec<f64> = all.map(|it| it.worst_rad.to_degrees()).collect();
        Ok(values.into_pyarray(py))
    }

    /// The root-sum-square of every feature in degrees, an array of shape
    /// (features,).
    ///
    /// >>> plans[0].feature_root_sum_square_deg.dtype.name
    /// 'float64'
    #[getter]
    fn feature_root_sum_square_deg<'py>(
        &self,
        py: Python<'py>,
    ) -> PyResult<Bound<'py, PyArray1<f64>>> {
        let all = self.plan()?.error.features.iter();
        let values: Vec<f64> = all.map(|it| it.root_sum_square_rad.to_degrees()).collect();
        Ok(values.into_pyarray(py))
    }

    /// The set-up sheet: `print(plan.sheet)`.
    ///
    /// >>> "4 turns + 8 holes" in str(plans[0].sheet)
    /// True
    #[getter]
    fn sheet(slf: &Bound<'_, Self>) -> PyResult<PySheet> {
        let (source, index) = (Arc::clone(&slf.get().source), slf.get().index);
        let sheet = waited(slf.py(), move || source.plans.sheet(index))?;
        Ok(PySheet::new(sheet, slf.clone().unbind()))
    }

    /// The picture: the plate with the used holes numbered, the block in its
    /// seats, or the dial's readings.
    ///
    /// >>> plans[0].drawing.svg.startswith("<svg")
    /// True
    #[getter]
    fn drawing(&self, py: Python<'_>) -> PyResult<PyDrawing> {
        let (source, index) = (Arc::clone(&self.source), self.index);
        waited(py, move || source.plans.drawing(index)).map(PyDrawing::new)
    }

    /// The plan as a dict of plain values, angles as text.
    ///
    /// >>> plans[0].to_dict()["placements"][1]["setting"]["crank"]["hole"]
    /// 8
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let plan = self.plan()?;
        let text = core(|| dividing_core::document::write(plan))?;
        loads(py, &text)
    }

    fn _repr_html_<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        let sheet = Self::sheet(slf)?;
        let drawing = slf.get().drawing(slf.py())?;
        let parts = (&drawing.svg, sheet.html()?, "picture of the set-up");
        class!(slf.py(), "_html", "beside")?.call1(parts)
    }

    fn __eq__(&self, other: PyRef<'_, Self>) -> PyResult<bool> {
        Ok(self.plan()? == other.plan()?)
    }

    fn __repr__(&self, py: Python<'_>) -> PyResult<String> {
        let plan = self.plan()?;
        Ok(format!(
            "<Plan {}: {}; {}; {}>",
            repr(py, &plan.equipment)?,
            plan.method,
            if plan.exact { "exact" } else { "not exact" },
            verdict_name(plan.verdict.kind).replace('_', " "),
        ))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        let plans = PyPlans::new(py, Arc::clone(&self.source))?;
        let get = class!(py, "_pickles", "plan_at")?.clone();
        Ok((get, (plans, self.index).into_pyobject(py)?))
    }
}
