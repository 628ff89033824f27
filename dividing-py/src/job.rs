//! The Python face of jobs.

use dividing_core::equipment::Sense;
use dividing_core::features::{AngleList, BoltCircle, EqualDivisions, Features, Flats};
use dividing_core::job::{AngleUnit, Clocked, LengthUnit, SheetUnits};
use dividing_core::{Angle, Error, Job, Start, Tolerance};
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyBool, PyDict, PyString, PyTuple};

use crate::angle::PyAngle;
use crate::argument::{angle_of, count_of, length_of, text_of};
use crate::document::{self, loads};
use crate::errors::{core, exception, wrong_type};
use crate::feature::as_argument;
use crate::reach::angles_of;
use crate::record::class;

static CLOCKED: PyOnceLock<Py<PyAny>> = PyOnceLock::new();

/// What the drawing asks for, how the pattern starts, how close it must be.
///
/// `Job(name, divisions=9)` asks for equal divisions; `Job.bolt_circle`,
/// `Job.flats` and `Job.angles` for other features, `Job.of` for any. `called` is what one
/// feature is called on the sheet, `first_angle` the drawing angle of the
/// first. All take `tolerance` (an angle either way, or a PositionDiameter,
/// PitchTolerance, AngularClassTolerance or PitchGradeTolerance),
/// `start` ("free", "on_a_setting" or a Clocked), `length_unit` and
/// `angle_unit` (units of the sheet).
///
/// Raises ValueError (one of this package) that names the argument.
///
/// >>> dividing.Job("Nine slots", divisions=9, called="slot", tolerance="0.05 deg")
/// Job('Nine slots', divisions=9, called='slot', tolerance=Angle('0.05°'))
#[pyclass(module = "dividing", name = "Job", frozen, eq)]
#[derive(PartialEq)]
pub(crate) struct PyJob {
    pub(crate) inner: Job,
}

/// Arguments that all kinds of jobs share.
struct Common<'a, 'py> {
    name: &'a Bound<'py, PyAny>,
    tolerance: Option<&'a Bound<'py, PyAny>>,
    start: Option<&'a Bound<'py, PyAny>>,
    length_unit: Option<&'a Bound<'py, PyAny>>,
    angle_unit: Option<&'a Bound<'py, PyAny>>,
}

#[pymethods]
impl PyJob {
    #[new]
    #[pyo3(signature = (name, *, divisions, called=None, first_angle=None, tolerance=None,
                        start=None, length_unit=None, angle_unit=None),
           text_signature = "(name, *, divisions, called='feature', first_angle='0 deg', \
               tolerance=None, \
               start='free', length_unit='millimetre', angle_unit='decimal_degrees')")]
    #[allow(clippy::too_many_arguments, reason = "keyword arguments of Python")]
    fn new(
        name: &Bound<'_, PyAny>,
        divisions: &Bound<'_, PyAny>,
        called: Option<&Bound<'_, PyAny>>,
        first_angle: Option<&Bound<'_, PyAny>>,
        tolerance: Option<&Bound<'_, PyAny>>,
        start: Option<&Bound<'_, PyAny>>,
        length_unit: Option<&Bound<'_, PyAny>>,
        angle_unit: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let features = Features::EqualDivisions(EqualDivisions {
            count: count_of(divisions, "divisions")?,
            called: called_of(called)?,
            first_angle: first_angle_of(first_angle)?,
        });
        let common = Common {
            name,
            tolerance,
            start,
            length_unit,
            angle_unit,
        };
        common.job(features)
    }

    /// Holes on a circle of `pitch_radius`, counted from `first_angle` on,
    /// clockwise when asked (seen from the cutter).
    ///
    /// Lengths are in mm or text with a unit. Raises ValueError (one of this
    /// package) that names the argument.
    ///
    /// >>> flange = dividing.Job.bolt_circle("Flange", holes=8, pitch_radius=30,
    /// ...     tolerance=dividing.PositionDiameter(0.1, 30))
    /// >>> flange.feature_count
    /// 8
    #[staticmethod]
    #[pyo3(signature = (name, *, holes, pitch_radius, hole_diameter=None, first_angle=None,
                        clockwise=None, tolerance=None, start=None, length_unit=None,
                        angle_unit=None),
           text_signature = "(name, *, holes, pitch_radius, hole_diameter=None, \
               first_angle='0 deg', clockwise=False, tolerance=None, \
               start='free', length_unit='millimetre', angle_unit='decimal_degrees')")]
    #[allow(clippy::too_many_arguments, reason = "keyword arguments of Python")]
    fn bolt_circle(
        name: &Bound<'_, PyAny>,
        holes: &Bound<'_, PyAny>,
        pitch_radius: &Bound<'_, PyAny>,
        hole_diameter: Option<&Bound<'_, PyAny>>,
        first_angle: Option<&Bound<'_, PyAny>>,
        clockwise: Option<&Bound<'_, PyAny>>,
        tolerance: Option<&Bound<'_, PyAny>>,
        start: Option<&Bound<'_, PyAny>>,
        length_unit: Option<&Bound<'_, PyAny>>,
        angle_unit: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let clockwise = match clockwise {
            None => false,
            Some(value) => value
                .cast::<PyBool>()
                .map_err(|_| wrong_type("clockwise", "a bool", value))?
                .is_true(),
        };
        let features = Features::BoltCircle(BoltCircle {
            count: count_of(holes, "holes")?,
            pitch_radius: length_of(pitch_radius, "pitch_radius")?,
            hole_diameter: hole_diameter
                .map(|it| length_of(it, "hole_diameter"))
                .transpose()?,
            first_angle: first_angle_of(first_angle)?,
            direction: if clockwise {
                Sense::Clockwise
            } else {
                Sense::CounterClockwise
            },
            axes: None,
            chord_checks: Vec::new(),
        });
        let common = Common {
            name,
            tolerance,
            start,
            length_unit,
            angle_unit,
        };
        common.job(features)
    }

    /// Equal flats on round stock. `across_flats` is twice the distance from
    /// the axis to a flat, for odd counts too.
    ///
    /// Lengths are in mm or text with a unit. Raises ValueError (one of this
    /// package) that names the argument.
    ///
    /// >>> arbor = dividing.Job.flats("Arbor", flats=5, across_flats=20, stock_diameter=22)
    /// >>> arbor.called
    /// 'flat'
    #[staticmethod]
    #[pyo3(signature = (name, *, flats, across_flats, stock_diameter, first_angle=None,
                        tolerance=None, start=None, length_unit=None, angle_unit=None),
           text_signature = "(name, *, flats, across_flats, stock_diameter, \
               first_angle='0 deg', tolerance=None, \
               start='free', length_unit='millimetre', angle_unit='decimal_degrees')")]
    #[allow(clippy::too_many_arguments, reason = "keyword arguments of Python")]
    fn flats(
        name: &Bound<'_, PyAny>,
        flats: &Bound<'_, PyAny>,
        across_flats: &Bound<'_, PyAny>,
        stock_diameter: &Bound<'_, PyAny>,
        first_angle: Option<&Bound<'_, PyAny>>,
        tolerance: Option<&Bound<'_, PyAny>>,
        start: Option<&Bound<'_, PyAny>>,
        length_unit: Option<&Bound<'_, PyAny>>,
        angle_unit: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let features = Features::Flats(Flats {
            count: count_of(flats, "flats")?,
            across_flats: length_of(across_flats, "across_flats")?,
            stock_diameter: length_of(stock_diameter, "stock_diameter")?,
            first_angle: first_angle_of(first_angle)?,
        });
        let common = Common {
            name,
            tolerance,
            start,
            length_unit,
            angle_unit,
        };
        common.job(features)
    }

    /// Features at listed drawing angles, in the order of making.
    ///
    /// Raises ValueError (one of this package) that names the argument:
    /// EmptyListError, DuplicateError for the same place twice.
    ///
    /// >>> dividing.Job.angles("Detents", ["0 deg", "17.5 deg"], called="detent").required_angles
    /// (Angle('0°'), Angle('17.5°'))
    #[staticmethod]
    #[pyo3(signature = (name, angles, *, called=None, tolerance=None, start=None,
                        length_unit=None, angle_unit=None),
           text_signature = "(name, angles, *, called='feature', tolerance=None, \
               start='free', length_unit='millimetre', angle_unit='decimal_degrees')")]
    fn angles(
        name: &Bound<'_, PyAny>,
        angles: &Bound<'_, PyAny>,
        called: Option<&Bound<'_, PyAny>>,
        tolerance: Option<&Bound<'_, PyAny>>,
        start: Option<&Bound<'_, PyAny>>,
        length_unit: Option<&Bound<'_, PyAny>>,
        angle_unit: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let features = Features::Angles(AngleList {
            angles: angles_of(angles, "angles")?,
            called: called_of(called)?,
        });
        let common = Common {
            name,
            tolerance,
            start,
            length_unit,
            angle_unit,
        };
        common.job(features)
    }

    /// A job of any features: an `EqualDivisions`, `BoltCircle`, `Flats`,
    /// `AngleList`, `Slots`, `Teeth` or `Graduations`, with all that they take. The
    /// other constructors are short for the commonest.
    ///
    /// Raises TypeError for anything else, ValueError (one of this package) that
    /// names the argument.
    ///
    /// >>> hub = dividing.Slots(9, width=3, depth=4, outside_diameter=50)
    /// >>> dividing.Job.of("Hub", hub, tolerance="0.05 deg").called
    /// 'slot'
    #[staticmethod]
    #[pyo3(signature = (name, features, *, tolerance=None, start=None, length_unit=None,
                        angle_unit=None),
           text_signature = "(name, features, *, tolerance=None, start='free', \
               length_unit='millimetre', angle_unit='decimal_degrees')")]
    fn of(
        name: &Bound<'_, PyAny>,
        features: &Bound<'_, PyAny>,
        tolerance: Option<&Bound<'_, PyAny>>,
        start: Option<&Bound<'_, PyAny>>,
        length_unit: Option<&Bound<'_, PyAny>>,
        angle_unit: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let document: String = class!(features.py(), "_features", "document_of")?
            .call1((features,))?
            .extract()?;
        let features = crate::feature::features_of_document(&document)?;
        let common = Common {
            name,
            tolerance,
            start,
            length_unit,
            angle_unit,
        };
        common.job(features)
    }

    /// Reads a job from JSON text.
    ///
    /// Raises ValueError (one of this package) with the path to the field.
    ///
    /// >>> dividing.Job.from_json(job.to_json()) == job
    /// True
    #[staticmethod]
    fn from_json(text: &Bound<'_, PyAny>) -> PyResult<Self> {
        Self::read(&text_of(text, "text")?)
    }

    /// Reads a job from a dict as `json.load` gives it.
    ///
    /// Raises ValueError (one of this package) with the path to the field.
    ///
    /// >>> dividing.Job.from_dict(job.to_dict()) == job
    /// True
    #[staticmethod]
    fn from_dict(document: &Bound<'_, PyAny>) -> PyResult<Self> {
        Self::read(&document::text_of_dict(document, "document")?)
    }

    /// The job as JSON text; reading it back gives an equal job.
    ///
    /// >>> '"count": 9' in job.to_json()
    /// True
    fn to_json(&self) -> PyResult<String> {
        core(|| self.inner.to_json())
    }

    /// The job as a dict of plain values.
    ///
    /// >>> job.to_dict()["tolerance"]
    /// {'angle': '0.05°'}
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        loads(py, &self.to_json()?)
    }

    /// What the job is called.
    ///
    /// >>> job.name
    /// 'Nine slots'
    #[getter]
    fn name(&self) -> &str {
        self.inner.name()
    }

    /// What one feature is called on the sheet.
    ///
    /// >>> job.called
    /// 'slot'
    #[getter]
    fn called(&self) -> &str {
        self.inner.features().called()
    }

    /// How many features there are.
    ///
    /// >>> job.feature_count
    /// 9
    #[getter]
    fn feature_count(&self) -> usize {
        self.inner.features().count()
    }

    /// The drawing angle of every feature, in the order of making: a new tuple
    /// of `Angle` each time.
    ///
    /// >>> job.required_angles[1]
    /// Angle('40°')
    #[getter]
    fn required_angles<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let angles = core(|| self.inner.features().angles())?;
        PyTuple::new(py, angles.into_iter().map(PyAngle::from))
    }

    /// What the drawing asks for, as a feature object such as `EqualDivisions` or
    /// `BoltCircle`.
    ///
    /// >>> job.features
    /// EqualDivisions(9, called='slot')
    #[getter]
    fn features<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let document = core(|| dividing_core::document::write(self.inner.features()))?;
        class!(py, "_features", "features_of")?.call1((document,))
    }

    /// How far off a feature may be: an `Angle` either way, a
    /// `PositionDiameter`, `PitchTolerance`, `AngularClassTolerance`,
    /// `PitchGradeTolerance`, or None.
    ///
    /// >>> job.tolerance
    /// Angle('0.05°')
    #[getter]
    fn tolerance<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        Ok(match self.inner.tolerance() {
            None => None,
            Some(Tolerance::Angle(limit)) => {
                Some(Bound::new(py, PyAngle::from(*limit))?.into_any())
            }
            Some(other) => {
                let document = core(|| dividing_core::document::write(other))?;
                Some(class!(py, "_inputs", "tolerance_of")?.call1((document,))?)
            }
        })
    }

    /// Where the pattern may begin: "free", "on_a_setting", or a `Clocked`.
    ///
    /// >>> job.start
    /// 'free'
    #[getter]
    fn start<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        match self.inner.start() {
            Start::Free => Ok("free".into_pyobject(py)?.into_any()),
            Start::OnASetting => Ok("on_a_setting".into_pyobject(py)?.into_any()),
            Start::Clocked(clocked) => {
                let named = PyDict::new(py);
                named.set_item("at", PyAngle::from(clocked.at))?;
                named.set_item("reading", PyAngle::from(clocked.reading))?;
                named.set_item("clocking_error", PyAngle::from(clocked.clocking_error))?;
                CLOCKED
                    .import(py, "dividing._inputs", "Clocked")?
                    .call((clocked.to.as_str(),), Some(&named))
            }
        }
    }

    /// The same job judged by a decision rule: "simple_acceptance", or a
    /// `dividing.accuracy.GuardBand`. It judges the limit of an angle; without one,
    /// and for limits of pitch, the worst case has to hold.
    ///
    /// Raises OutOfRangeError, TypeError. Source: JCGM 106:2012.
    ///
    /// >>> job.with_decision_rule("simple_acceptance").decision_rule
    /// 'simple_acceptance'
    fn with_decision_rule(&self, rule: &Bound<'_, PyAny>) -> PyResult<Self> {
        let text: String = class!(rule.py(), "accuracy._rules", "_rule")?
            .call1((rule,))?
            .extract()?;
        let inner = core(|| {
            let rule = dividing_core::document::read(&text).map_err(|it| it.at("rule"))?;
            self.inner.clone().with_decision_rule(rule)
        })?;
        Ok(Self { inner })
    }

    /// By which rule the plans are judged; None where the worst case has to hold.
    ///
    /// >>> job.decision_rule is None
    /// True
    #[getter]
    fn decision_rule<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        let Some(rule) = self.inner.decision_rule() else {
            return Ok(None);
        };
        rule_of(py, rule).map(Some)
    }

    /// The same job with a part that stands off the spindle's axis: a
    /// `PartEccentricity`.
    ///
    /// Raises OutOfRangeError, InconsistentError, TypeError.
    ///
    /// >>> off = dividing.PartEccentricity(0.02, located_from="parts_own_round")
    /// >>> job.with_part_eccentricity(off).part_eccentricity == off
    /// True
    fn with_part_eccentricity(&self, eccentricity: &Bound<'_, PyAny>) -> PyResult<Self> {
        let class = class!(eccentricity.py(), "_inputs", "PartEccentricity")?;
        if !eccentricity.is_instance(class)? {
            return Err(wrong_type(
                "eccentricity",
                "a PartEccentricity",
                eccentricity,
            ));
        }
        let text: String = eccentricity.call_method0("_text")?.extract()?;
        let inner = core(|| {
            let found = dividing_core::document::read(&text)?;
            self.inner
                .clone()
                .with_part_eccentricity(found)
                .map_err(|error| as_argument(&error))
        })?;
        Ok(Self { inner })
    }

    /// How far the part stands off the spindle's axis, a `PartEccentricity`; None
    /// where the job does not say.
    ///
    /// >>> job.part_eccentricity is None
    /// True
    #[getter]
    fn part_eccentricity<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        let Some(found) = self.inner.part_eccentricity() else {
            return Ok(None);
        };
        let document = core(|| dividing_core::document::write(found))?;
        class!(py, "_inputs", "part_eccentricity_of")?
            .call1((document,))
            .map(Some)
    }

    fn __repr__(&self, py: Python<'_>) -> PyResult<String> {
        let text = |value: &str| document::repr(py, value);
        let mut parts = vec![text(self.inner.name())?];
        let constructor = match self.inner.features() {
            Features::EqualDivisions(it) => {
                parts.push(format!("divisions={}", it.count));
                "Job"
            }
            Features::BoltCircle(it) if it.axes.is_none() && it.chord_checks.is_empty() => {
                parts.push(format!("holes={}", it.count));
                parts.push(format!("pitch_radius={:?}", it.pitch_radius.mm()));
                if let Some(diameter) = it.hole_diameter {
                    parts.push(format!("hole_diameter={:?}", diameter.mm()));
                }
                if it.direction == Sense::Clockwise {
                    parts.push("clockwise=True".into());
                }
                "Job.bolt_circle"
            }
            Features::Flats(it) => {
                parts.push(format!("flats={}", it.count));
                parts.push(format!("across_flats={:?}", it.across_flats.mm()));
                parts.push(format!("stock_diameter={:?}", it.stock_diameter.mm()));
                "Job.flats"
            }
            Features::Angles(it) => {
                let angles: Vec<String> = it.angles.iter().map(|it| format!("'{it}'")).collect();
                parts.push(format!("[{}]", angles.join(", ")));
                "Job.angles"
            }
            _ => {
                parts.push(self.features(py)?.repr()?.extract()?);
                "Job.of"
            }
        };
        let (called, first_angle) = match self.inner.features() {
            Features::EqualDivisions(it) => (Some(&it.called), it.first_angle),
            Features::BoltCircle(it) if constructor != "Job.of" => (None, it.first_angle),
            Features::Flats(it) => (None, it.first_angle),
            Features::Angles(it) => (Some(&it.called), Angle::ZERO),
            _ => (None, Angle::ZERO),
        };
        if let Some(called) = called.filter(|it| *it != CALLED) {
            parts.push(format!("called={}", text(called)?));
        }
        if !first_angle.is_zero() {
            parts.push(format!("first_angle=Angle('{first_angle}')"));
        }
        if let Some(tolerance) = self.tolerance(py)? {
            parts.push(format!("tolerance={}", tolerance.repr()?));
        }
        if *self.inner.start() != Start::Free {
            parts.push(format!("start={}", self.start(py)?.repr()?));
        }
        let units = self.inner.units();
        if units.length == LengthUnit::Inch {
            parts.push("length_unit='inch'".into());
        }
        if units.angle == AngleUnit::DegreesMinutesSeconds {
            parts.push("angle_unit='degrees_minutes_seconds'".into());
        }
        let mut text = format!("{constructor}({})", parts.join(", "));
        if let Some(rule) = self.decision_rule(py)? {
            text.push_str(&format!(".with_decision_rule({})", rule.repr()?));
        }
        if let Some(found) = self.part_eccentricity(py)? {
            text.push_str(&format!(".with_part_eccentricity({})", found.repr()?));
        }
        Ok(text)
    }

    fn __hash__(&self) -> PyResult<u64> {
        Ok(document::hash_of(&self.to_json()?))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (String,))> {
        let read = py.get_type::<Self>().getattr("from_json")?;
        Ok((read, (self.to_json()?,)))
    }
}

/// A decision rule as Python has it.
pub(crate) fn rule_of(
    py: Python<'_>,
    rule: dividing_core::accuracy::DecisionRule,
) -> PyResult<Bound<'_, PyAny>> {
    let document = core(|| dividing_core::document::write(&rule))?;
    class!(py, "accuracy._rules", "_rule_of")?.call1((document,))
}

impl PyJob {
    fn read(text: &str) -> PyResult<Self> {
        core(|| Job::from_json(text)).map(|inner| Self { inner })
    }
}

impl Common<'_, '_> {
    /// Compiled once, for all constructors.
    #[inline(never)]
    fn job(&self, features: Features) -> PyResult<PyJob> {
        let name = text_of(self.name, "name")?;
        let tolerance = self.tolerance.map(tolerance_of).transpose()?;
        let start = self.start.map_or(Ok(Start::Free), start_of)?;
        let units = SheetUnits {
            length: match self.length_unit {
                None => LengthUnit::default(),
                Some(unit) => match text_of(unit, "length_unit")?.as_str() {
                    "millimetre" => LengthUnit::Millimetre,
                    "inch" => LengthUnit::Inch,
                    other => return Err(no_choice(other, "length_unit", "millimetre, inch")),
                },
            },
            angle: match self.angle_unit {
                None => AngleUnit::default(),
                Some(unit) => match text_of(unit, "angle_unit")?.as_str() {
                    "decimal_degrees" => AngleUnit::DecimalDegrees,
                    "degrees_minutes_seconds" => AngleUnit::DegreesMinutesSeconds,
                    other => {
                        let choices = "decimal_degrees, degrees_minutes_seconds";
                        return Err(no_choice(other, "angle_unit", choices));
                    }
                },
            },
        };
        let made = || {
            let mut job = Job::new(name, features)?
                .with_start(start)?
                .with_units(units);
            if let Some(tolerance) = tolerance {
                job = job.with_tolerance(tolerance)?;
            }
            Ok(job)
        };
        let inner = core(|| made().map_err(|error| as_argument(&error)))?;
        Ok(PyJob { inner })
    }
}

/// What a feature is called when nothing is said; as in documents.
const CALLED: &str = "feature";

fn called_of(value: Option<&Bound<'_, PyAny>>) -> PyResult<String> {
    value.map_or_else(|| Ok(CALLED.into()), |it| text_of(it, "called"))
}

fn first_angle_of(value: Option<&Bound<'_, PyAny>>) -> PyResult<Angle> {
    value.map_or(Ok(Angle::ZERO), |it| angle_of(it, "first_angle"))
}

fn no_choice(found: &str, name: &str, choices: &str) -> PyErr {
    let found: String = found.chars().take(60).collect();
    exception(&Error::out_of_range(format!("{found:?}"), choices).at(name))
}

fn tolerance_of(value: &Bound<'_, PyAny>) -> PyResult<Tolerance> {
    let text = class!(value.py(), "_inputs", "tolerance_text")?.call1((value,))?;
    if text.is_none() {
        return angle_of(value, "tolerance").map(Tolerance::Angle);
    }
    let text: String = text.extract()?;
    core(|| dividing_core::document::read(&text).map_err(|error| error.at("tolerance")))
}

fn start_of(value: &Bound<'_, PyAny>) -> PyResult<Start> {
    if value.is_instance_of::<PyString>() {
        return match text_of(value, "start")?.as_str() {
            "free" => Ok(Start::Free),
            "on_a_setting" => Ok(Start::OnASetting),
            other => Err(no_choice(
                other,
                "start",
                "free, on_a_setting, or a Clocked",
            )),
        };
    }
    let class = CLOCKED.import(value.py(), "dividing._inputs", "Clocked")?;
    if !value.is_instance(class)? {
        return Err(wrong_type(
            "start",
            "\"free\", \"on_a_setting\" or a Clocked",
            value,
        ));
    }
    let angle = |name: &str| angle_of(&value.getattr(name)?, &format!("start.{name}"));
    Ok(Start::Clocked(Clocked {
        to: text_of(&value.getattr("to")?, "start.to")?,
        at: angle("at")?,
        reading: angle("reading")?,
        clocking_error: angle("clocking_error")?,
    }))
}
