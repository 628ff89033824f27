//! The native part of `dividing.inspection`.

use dividing_core::document::{read, write};
use dividing_core::inspection::{
    self, Checked, Choice, Closure, CoordinateInspection, DecisionRule, Device, Finding,
    Inspection, InspectionReport, Judging, KnownDeviation, MeasuredPoint, MeasuredValue,
    Measurement, PartVerdict, PointReading, PointUncertainty, Readings, Reference, RingDeviations,
    RingLimits, ToleranceLimits, Wheel,
};
use dividing_core::{Error, ErrorKind, Length, Result};
use numpy::{IntoPyArray, PyArray2, PyArrayMethods};
use pyo3::prelude::*;
use serde_json::{Value, json};

use crate::angle::PyAngle;
use crate::errors::core;
use crate::watch::{Limits, waited, watched};

/// Entries of a covariance matrix that are made, at most: 800 MB.
const MAX_ENTRIES: usize = 100_000_000;

fn argument<T: serde::de::DeserializeOwned>(text: &str, name: &str) -> Result<T> {
    read(text).map_err(|error| error.at(name))
}

/// The text of a checked measurement, written as documents are.
#[pyfunction]
pub(crate) fn _measurement(text: &str) -> PyResult<String> {
    core(|| Measurement::from_json(text)?.to_json())
}

/// Readings from text with commas, as in documents. `kind` names the readings.
#[pyfunction]
pub(crate) fn _readings_from_csv(kind: &str, text: &str, positions: usize) -> PyResult<String> {
    core(|| match kind {
        "coordinates" => write(&inspection::points_from_csv(text)?),
        "angles" => write(&inspection::angles_from_csv(text)?),
        "deviations" => write(&inspection::deviations_from_csv(text)?),
        "chords" => write(&inspection::chords_from_csv(text)?),
        "closure" => write(&inspection::closure_from_csv(positions, text)?.setups),
        other => Err(Error::new(
            ErrorKind::InvalidField,
            format!("{other:?} are no readings"),
        )),
    })
}

/// An evaluated measurement; `dividing.inspection` holds one in each result.
#[pyclass(module = "dividing", name = "_Inspection", frozen)]
pub(crate) struct PyInspection {
    measurement: Measurement,
    report: InspectionReport,
}

/// Evaluates a measurement, with the interpreter lock released.
#[pyfunction]
pub(crate) fn _inspect(py: Python<'_>, measurement: &str) -> PyResult<PyInspection> {
    let measurement = core(|| Measurement::from_json(measurement))?;
    waited(py, move || {
        let report = measurement.inspect()?;
        Ok(PyInspection {
            measurement,
            report,
        })
    })
}

fn part(verdict: &PartVerdict) -> Result<String> {
    let checks: Vec<Value> = verdict
        .checks
        .iter()
        .map(|it| {
            let (checked, place) = match it.checked {
                Checked::Angle { place } => ("angle", Some(place)),
                Checked::SinglePitch { from_place } => ("single_pitch", Some(from_place)),
                Checked::CumulativePitch => ("cumulative_pitch", None),
                Checked::Position { place } => ("position", Some(place)),
            };
            json!({
                "checked": checked,
                "place": place,
                "value": it.measured.value,
                "standard_uncertainty": it.measured.standard_uncertainty,
                "decided": it.decided,
            })
        })
        .collect();
    write(&json!({
        "decision": verdict.decision,
        "checks": checks,
        "missing_places": verdict.missing_places,
    }))
}

fn no_ring() -> Error {
    Error::new(
        ErrorKind::Inconsistent,
        "a closure calibration and stations have no ring of their own; accepted: coordinates, \
         angles, deviations or chords",
    )
}

impl PyInspection {
    /// The ring that is judged: about the axis where one was given.
    fn ring(&self, about_axis: bool) -> Result<&RingDeviations> {
        match self.report.result() {
            Inspection::Ring(ring) => Ok(ring),
            Inspection::Coordinates(found) if about_axis => {
                found.about_axis.as_ref().ok_or_else(|| {
                    Error::new(
                        ErrorKind::Undetermined,
                        "the readings give no axis; accepted: readings with an axis",
                    )
                    .at("axis")
                })
            }
            Inspection::Coordinates(found) => Ok(&found.about_centre),
            _ => Err(no_ring()),
        }
    }

    fn coordinates(&self) -> Result<&CoordinateInspection> {
        match self.report.result() {
            Inspection::Coordinates(found) => Ok(found),
            _ => Err(Error::new(
                ErrorKind::Inconsistent,
                "only coordinates have positions",
            )),
        }
    }

    fn closure(&self) -> Result<&Closure> {
        match self.report.result() {
            Inspection::Closure(found) => Ok(found),
            _ => Err(Error::new(
                ErrorKind::Inconsistent,
                "only a closure calibration compares two devices",
            )),
        }
    }
}

const fn device(second: bool) -> Device {
    if second {
        Device::Second
    } else {
        Device::First
    }
}

/// Single and cumulative pitch in micrometres, the class by each and by both.
type PitchGradeParts = (f64, f64, Option<u8>, Option<u8>, Option<u8>);

#[pymethods]
impl PyInspection {
    fn document(&self) -> PyResult<String> {
        core(|| self.report.to_json())
    }

    /// The report with its findings as sentences.
    fn figures(&self) -> PyResult<String> {
        core(|| {
            let mut report: Value = read(&self.report.to_json()?)?;
            let mut tell = |path: &str, findings: &[Finding]| {
                if let Some(place) = report.pointer_mut(path) {
                    *place = findings.iter().map(ToString::to_string).collect();
                }
            };
            match self.report.result() {
                Inspection::Ring(ring) => tell("/result/ring/findings", &ring.findings),
                Inspection::Stations(found) => tell("/result/stations/findings", &found.findings),
                Inspection::Coordinates(found) => {
                    tell("/result/coordinates/findings", &found.findings);
                    let centre = &found.about_centre.findings;
                    tell("/result/coordinates/about_centre/findings", centre);
                    if let Some(axis) = &found.about_axis {
                        tell("/result/coordinates/about_axis/findings", &axis.findings);
                    }
                }
                _ => {}
            }
            write(&report)
        })
    }

    fn text(&self) -> PyResult<String> {
        core(|| Ok(self.report.to_text()))
    }

    /// The picture of the deviations; none for a closure.
    fn picture(&self, title: &str) -> PyResult<Option<String>> {
        core(|| {
            Ok(match self.report.result() {
                Inspection::Coordinates(found) => {
                    Some(inspection::coordinate_picture(title, found))
                }
                Inspection::Ring(ring) => Some(inspection::ring_picture(title, ring)),
                _ => None,
            })
        })
    }

    /// Covariances of the measured places, in rad²; none without uncertainty.
    fn covariance_rad2<'py>(
        &self,
        py: Python<'py>,
        about_axis: bool,
    ) -> PyResult<Option<Bound<'py, PyArray2<f64>>>> {
        let values = core(|| {
            let ring = self.ring(about_axis)?;
            let places: Vec<usize> = ring.deviations.iter().map(|it| it.place).collect();
            square(places.len())?;
            let pairs = places.iter().flat_map(|one| {
                places
                    .iter()
                    .map(|other| ring.covariance_rad2(*one, *other))
            });
            Ok(pairs.collect::<Option<Vec<f64>>>())
        })?;
        matrix(py, values)
    }

    /// Covariances of the positions of both devices, in rad².
    fn closure_covariance_rad2<'py>(
        &self,
        py: Python<'py>,
    ) -> PyResult<Option<Bound<'py, PyArray2<f64>>>> {
        let values = core(|| {
            let closure = self.closure()?;
            square(2 * closure.first_rad.len())?;
            Ok(closure.covariance_matrix_rad2())
        })?;
        matrix(py, values)
    }

    /// Standard uncertainties of one device, in radians, and of its readings.
    fn closure_uncertainties_rad(&self, second: bool) -> PyResult<(Option<f64>, Option<Vec<f64>>)> {
        core(|| {
            let closure = self.closure()?;
            let all = 0..closure.first_rad.len();
            let all = all.map(|it| closure.uncertainty_rad(device(second), it));
            Ok((closure.reading_uncertainty_rad(), all.collect()))
        })
    }

    /// The `measured` field of equipment.
    fn measured(&self, second: bool) -> PyResult<String> {
        core(|| {
            write(&match self.report.result() {
                Inspection::Coordinates(found) => found.measured()?,
                Inspection::Ring(ring) => ring.measured()?,
                Inspection::Closure(closure) => closure.measured(device(second))?,
                Inspection::Stations(found) => found.measured()?,
                _ => return Err(no_ring()),
            })
        })
    }

    fn check_ring(
        &self,
        about_axis: bool,
        limits: [Option<f64>; 3],
        datum_place: Option<usize>,
        rule: &str,
    ) -> PyResult<String> {
        core(|| {
            let [angle_rad, single_pitch_rad, cumulative_pitch_rad] = limits;
            let limits = RingLimits {
                angle_rad,
                datum_place,
                single_pitch_rad,
                cumulative_pitch_rad,
            };
            let rule: DecisionRule = argument(rule, "rule")?;
            part(&inspection::check_ring(
                self.ring(about_axis)?,
                &limits,
                rule,
            )?)
        })
    }

    fn check_position(&self, zone_mm: f64, rule: &str) -> PyResult<String> {
        core(|| {
            let found = self.coordinates()?;
            let Readings::Coordinates(readings) = &self.measurement.readings else {
                return Err(Error::new(
                    ErrorKind::Internal,
                    "coordinates from other readings",
                ));
            };
            let zone = Length::from_mm(zone_mm).map_err(|it| it.at("zone_diameter"))?;
            let rule: DecisionRule = argument(rule, "rule")?;
            part(&inspection::check_position(readings, found, zone, rule)?)
        })
    }

    fn pitch_grade(
        &self,
        about_axis: bool,
        module_mm: f64,
        reference_diameter_mm: f64,
    ) -> PyResult<PitchGradeParts> {
        let wheel = Wheel {
            module_mm,
            reference_diameter_mm,
        };
        let found = core(|| inspection::pitch_grade(self.ring(about_axis)?, wheel))?;
        Ok((
            found.single_um,
            found.cumulative_um,
            found.single_class,
            found.cumulative_class,
            found.class,
        ))
    }
}

fn square(side: usize) -> Result<()> {
    if side.saturating_mul(side) > MAX_ENTRIES {
        let limit = format!("at most {} places", MAX_ENTRIES.isqrt());
        return Err(Error::out_of_range(
            format!("a covariance matrix of {side} places"),
            limit,
        ));
    }
    Ok(())
}

/// A square matrix of values, row by row.
fn matrix(py: Python<'_>, values: Option<Vec<f64>>) -> PyResult<Option<Bound<'_, PyArray2<f64>>>> {
    let Some(values) = values else {
        return Ok(None);
    };
    let side = values.len().isqrt();
    values.into_pyarray(py).reshape([side, side]).map(Some)
}

/// A fitted circle: centre and radius, residuals, degrees of freedom,
/// covariance, chi square and standard deviation.
#[allow(clippy::type_complexity, reason = "a tuple for one class of Python")]
#[pyfunction]
pub(crate) fn _fit_circle(
    py: Python<'_>,
    x_mm: Vec<f64>,
    y_mm: Vec<f64>,
    uncertainties_mm: Option<(Vec<f64>, Vec<f64>)>,
) -> PyResult<(
    [f64; 3],
    Vec<f64>,
    usize,
    Option<[[f64; 3]; 3]>,
    Option<f64>,
    Option<f64>,
)> {
    let uncertainty = |index: usize| {
        let (x, y) = uncertainties_mm.as_ref()?;
        Some(PointUncertainty {
            x_mm: *x.get(index)?,
            y_mm: *y.get(index)?,
        })
    };
    let points = x_mm.into_iter().zip(y_mm).enumerate();
    let points: Vec<MeasuredPoint> = points
        .map(|(index, (x_mm, y_mm))| MeasuredPoint {
            x_mm,
            y_mm,
            uncertainty: uncertainty(index),
        })
        .collect();
    let fit = waited(py, move || inspection::fit_circle(&points))?;
    Ok((
        [fit.x_mm, fit.y_mm, fit.radius_mm],
        fit.residuals_mm,
        fit.degrees_of_freedom,
        fit.covariance_mm2,
        fit.chi_square,
        fit.standard_deviation_mm,
    ))
}

/// Shifts of a closure that reach an uncertainty: the shifts, the readings, the
/// uncertainty and the fewest set-ups that are proved necessary.
#[pyfunction]
pub(crate) fn _plan_shifts(
    py: Python<'_>,
    positions: usize,
    reading_uncertainty_rad: f64,
    wanted_uncertainty_rad: f64,
    work_limit: Option<Bound<'_, PyAny>>,
    progress: Option<Bound<'_, PyAny>>,
) -> PyResult<(Vec<usize>, usize, f64, usize)> {
    let limits = Limits::read(work_limit.as_ref(), progress.as_ref())?;
    let plan = watched(py, &limits, move |meter| {
        inspection::plan_shifts(
            positions,
            reading_uncertainty_rad,
            wanted_uncertainty_rad,
            meter,
        )
    })?;
    Ok((
        plan.shifts,
        plan.readings,
        plan.division_uncertainty_rad,
        plan.proved_fewest_setups,
    ))
}

/// How features are judged: reference, coverage factor, limits.
type Judgement = (String, f64, Option<Vec<f64>>);

fn judging((reference, coverage_factor, limits_rad): Judgement) -> Result<Judging> {
    let reference = match reference.as_str() {
        "given" => Reference::Given,
        "mean" => Reference::Mean,
        "middle" => Reference::Middle,
        "first_feature" => Reference::FirstFeature,
        other => {
            return Err(Error::new(
                ErrorKind::InvalidField,
                format!("{other:?} is no choice; accepted: given, mean, middle, first_feature"),
            )
            .at("reference"));
        }
    };
    Ok(Judging {
        reference,
        coverage_factor,
        limits_rad,
    })
}

/// Deviations and their uncertainties; NaN stands for a place without.
fn known((deviations, uncertainties): (Vec<f64>, Vec<f64>)) -> Vec<Option<KnownDeviation>> {
    let pairs = deviations.into_iter().zip(uncertainties);
    pairs
        .map(|(deviation_rad, standard_uncertainty_rad)| {
            (!deviation_rad.is_nan()).then_some(KnownDeviation {
                deviation_rad,
                standard_uncertainty_rad,
            })
        })
        .collect()
}

/// All deviations; NaN is no number here.
fn all_known(given: (Vec<f64>, Vec<f64>)) -> Vec<KnownDeviation> {
    let pairs = given.0.into_iter().zip(given.1);
    pairs
        .map(|(deviation_rad, standard_uncertainty_rad)| KnownDeviation {
            deviation_rad,
            standard_uncertainty_rad,
        })
        .collect()
}

/// Best, worst, worst feature, deviations, worst and average choice, choices.
type Chosen = (usize, f64, usize, Vec<f64>, f64, f64, usize);

fn chosen(choice: Choice) -> Chosen {
    (
        choice.best,
        choice.judged.worst,
        choice.judged.worst_feature,
        choice.judged.deviations_rad,
        choice.worst_choice,
        choice.average_choice,
        choice.choices,
    )
}

#[pyfunction]
pub(crate) fn _choose_start(
    py: Python<'_>,
    given: (Vec<f64>, Vec<f64>),
    pattern: Vec<usize>,
    judgement: Judgement,
    work_limit: Option<Bound<'_, PyAny>>,
    progress: Option<Bound<'_, PyAny>>,
) -> PyResult<Chosen> {
    let limits = Limits::read(work_limit.as_ref(), progress.as_ref())?;
    let judging = core(|| judging(judgement))?;
    let known = known(given);
    let found = watched(py, &limits, move |meter| {
        inspection::choose_start(&known, &pattern, &judging, meter)
    })?;
    Ok(chosen(found))
}

#[pyfunction]
pub(crate) fn _choose_list(
    py: Python<'_>,
    lists: Vec<(Vec<f64>, Vec<f64>)>,
    judgement: Judgement,
) -> PyResult<Chosen> {
    let judging = core(|| judging(judgement))?;
    let lists: Vec<_> = lists.into_iter().map(all_known).collect();
    waited(py, move || inspection::choose_list(&lists, &judging)).map(chosen)
}

#[pyfunction]
pub(crate) fn _choose_pairs(
    py: Python<'_>,
    options: Vec<(Vec<f64>, Vec<f64>)>,
    judgement: Judgement,
    work_limit: Option<Bound<'_, PyAny>>,
    progress: Option<Bound<'_, PyAny>>,
) -> PyResult<(Vec<usize>, f64, f64, f64)> {
    let limits = Limits::read(work_limit.as_ref(), progress.as_ref())?;
    let judging = core(|| judging(judgement))?;
    let options: Vec<_> = options.into_iter().map(all_known).collect();
    let found = watched(py, &limits, move |meter| {
        inspection::choose_pairs(&options, &judging, meter)
    })?;
    Ok((
        found.options,
        found.worst,
        found.worst_choice,
        found.average_choice,
    ))
}

/// Places, graduations, corrections, what is left, and its uncertainties.
#[pyfunction]
#[allow(clippy::type_complexity, reason = "columns of one table")]
pub(crate) fn _correction_table(
    given: (Vec<f64>, Vec<f64>),
    graduation_rad: f64,
) -> PyResult<(Vec<usize>, Vec<i64>, Vec<f64>, Vec<f64>, Vec<f64>)> {
    let known = known(given);
    let lines = core(|| inspection::correction_table(&known, graduation_rad))?;
    Ok((
        lines.iter().map(|it| it.place).collect(),
        lines.iter().map(|it| it.graduations).collect(),
        lines.iter().map(|it| it.correction_rad).collect(),
        lines.iter().map(|it| it.left_rad).collect(),
        lines.iter().map(|it| it.standard_uncertainty_rad).collect(),
    ))
}

/// Directions of points about an axis, both in millimetres.
#[pyfunction]
pub(crate) fn _angles_about_axis(
    py: Python<'_>,
    x_mm: Vec<f64>,
    y_mm: Vec<f64>,
    axis: [f64; 2],
) -> PyResult<Vec<PyAngle>> {
    let of = |mm: f64, name: &str, index: usize| {
        Length::from_mm(mm).map_err(|error| error.at(format!("{name}[{index}]")))
    };
    let found = waited(py, move || {
        let axis = [of(axis[0], "axis", 0)?, of(axis[1], "axis", 1)?];
        let mut points = Vec::with_capacity(x_mm.len());
        for (place, (&x, &y)) in x_mm.iter().zip(&y_mm).enumerate() {
            points.push(PointReading {
                place,
                x: of(x, "x_mm", place)?,
                y: of(y, "y_mm", place)?,
                standard_uncertainty: None,
            });
        }
        inspection::angles_about_axis(&points, axis).map_err(|error| {
            // Points are columns here; a point is named by its x.
            let field = error.field().replacen("points", "x_mm", 1);
            Error::new(error.kind(), error.message()).at(field)
        })
    })?;
    Ok(found.into_iter().map(|it| it.angle.into()).collect())
}

#[pyfunction]
pub(crate) fn _bar_deviation_rad(
    nominal_mm: [[f64; 2]; 2],
    measured_mm: [[f64; 2]; 2],
) -> PyResult<f64> {
    core(|| inspection::bar_deviation_rad(nominal_mm, measured_mm))
}

/// Decides on a measured value: the decision as a document.
#[pyfunction]
pub(crate) fn _decide_measured(
    measured: (f64, Option<f64>),
    limits: (Option<f64>, Option<f64>),
    rule: &str,
) -> PyResult<String> {
    core(|| {
        let measured = MeasuredValue {
            value: measured.0,
            standard_uncertainty: measured.1,
        };
        let limits = ToleranceLimits {
            lower: limits.0,
            upper: limits.1,
        };
        let rule: DecisionRule = argument(rule, "rule")?;
        write(&inspection::decide(measured, limits, rule)?)
    })
}
