//! The Python face of features: what the package's feature classes ask.

use dividing_core::features::{BoltCircle, Features, FlatsGeometry, OppositeMeasure};
use dividing_core::{Error, Job};
use numpy::{IntoPyArray, PyArray1};
use pyo3::prelude::*;
use pyo3::types::PyTuple;

use crate::angle::PyAngle;
use crate::argument::whole_within;
use crate::errors::core;
use crate::record::class;
use crate::value::defect;

/// Features from their document, judged. An error names the argument.
pub(crate) fn features_of_document(document: &str) -> PyResult<Features> {
    let read = || -> dividing_core::Result<Features> {
        let job = Job::from_json(&format!(
            r#"{{"format":1,"name":"features","features":{document}}}"#
        ))
        .map_err(|error| as_argument(&error))?;
        Ok(job.features().clone())
    };
    core(read)
}

/// The error with the name of the argument for the path in a job's document.
pub(crate) fn as_argument(error: &Error) -> Error {
    const FEATURES: [&str; 7] = [
        "features.equal_divisions.",
        "features.bolt_circle.",
        "features.flats.",
        "features.angles.",
        "features.slots.",
        "features.teeth.",
        "features.graduations.",
    ];
    const TOLERANCES: [&str; 5] = [
        "tolerance.angle_class.",
        "tolerance.position_diameter.",
        "tolerance.pitch.",
        "tolerance.angular_class.",
        "tolerance.pitch_grade.",
    ];
    let path = error.field();
    let name = FEATURES.iter().find_map(|prefix| path.strip_prefix(prefix));
    let of_tolerance = TOLERANCES
        .iter()
        .find_map(|prefix| path.strip_prefix(prefix));
    let name = match (name, of_tolerance) {
        (Some(name), _) => name.to_owned(),
        (None, Some(name)) => format!("tolerance.{name}"),
        (None, None) => path
            .replace("tolerance.angle", "tolerance")
            .replace("start.clocked", "start"),
    };
    Error::new(error.kind(), error.message()).at(name)
}

/// Judges features.
#[pyfunction]
pub(crate) fn _check_features(document: &str) -> PyResult<()> {
    features_of_document(document).map(drop)
}

/// Judges a tolerance.
#[pyfunction]
pub(crate) fn _check_tolerance(document: &str) -> PyResult<()> {
    core(|| {
        let text = format!(
            r#"{{"format":1,"name":"tolerance","features":{{"equal_divisions":{{"count":2}}}},
                 "tolerance":{document}}}"#
        );
        let judged = Job::from_json(&text).map_err(|error| as_argument(&error));
        judged.map(drop).map_err(|error| {
            let name = error.field();
            let name = name.strip_prefix("tolerance.").unwrap_or(name);
            Error::new(error.kind(), error.message()).at(name)
        })
    })
}

/// The largest deviation that a tolerance allows, in radians.
#[pyfunction]
pub(crate) fn _limit_rad(document: &str) -> PyResult<f64> {
    core(|| {
        let tolerance: dividing_core::Tolerance = dividing_core::document::read(document)?;
        tolerance.limit_rad()
    })
}

/// The drawing angle of every feature, exact.
#[pyfunction]
pub(crate) fn _feature_angles<'py>(
    py: Python<'py>,
    document: &str,
) -> PyResult<Bound<'py, PyTuple>> {
    let features = features_of_document(document)?;
    let angles = core(|| features.angles())?;
    PyTuple::new(py, angles.into_iter().map(PyAngle::from))
}

/// The drawing angle of every feature in degrees.
#[pyfunction]
pub(crate) fn _feature_angles_deg<'py>(
    py: Python<'py>,
    document: &str,
) -> PyResult<Bound<'py, PyArray1<f64>>> {
    let features = features_of_document(document)?;
    let angles = core(|| features.angles())?;
    let degrees: Vec<f64> = angles.into_iter().map(|it| it.to_degrees_f64()).collect();
    Ok(degrees.into_pyarray(py))
}

fn bolt_circle_of(document: &str) -> PyResult<BoltCircle> {
    match features_of_document(document)? {
        Features::BoltCircle(circle) => Ok(circle),
        _ => core(|| Err(defect("no bolt circle"))),
    }
}

type Columns<'py> = (Bound<'py, PyArray1<f64>>, Bound<'py, PyArray1<f64>>);

/// X and Y of every hole of a bolt circle, in millimetres.
#[pyfunction]
pub(crate) fn _bolt_circle_places<'py>(py: Python<'py>, document: &str) -> PyResult<Columns<'py>> {
    let circle = bolt_circle_of(document)?;
    let angles = core(|| Features::BoltCircle(circle.clone()).angles())?;
    let places = angles.into_iter().map(|angle| circle.place(angle));
    let (x, y): (Vec<f64>, Vec<f64>) = places.map(|it| (it.x_mm, it.y_mm)).unzip();
    Ok((x.into_pyarray(py), y.into_pyarray(py)))
}

/// Centre distance of holes of a bolt circle so many spaces apart.
#[pyfunction]
pub(crate) fn _bolt_circle_chord(document: &str, spaces: &Bound<'_, PyAny>) -> PyResult<f64> {
    let circle = bolt_circle_of(document)?;
    let spaces = whole_within(spaces, "spaces", 0, circle.count.into())?;
    Ok(circle.chord_mm(u32::try_from(spaces).unwrap_or_default()))
}

fn flats<'py>(py: Python<'py>, it: &FlatsGeometry) -> PyResult<Bound<'py, PyAny>> {
    let opposite = match it.opposite {
        OppositeMeasure::Flat => "flat",
        OppositeMeasure::Round => "round",
        OppositeMeasure::Corner => "corner",
    };
    class!(py, "_features", "FlatsGeometry")?.call1((
        it.depth_mm,
        class!(py, "_enums", "OppositeMeasure")?.call1((opposite,))?,
        it.over_opposite_mm,
        it.flat_width_mm,
        it.across_corners_mm,
        it.stock_for_sharp_corners_mm,
    ))
}

/// The figures to cut and measure by, as the package's record.
#[pyfunction]
pub(crate) fn _geometry<'py>(py: Python<'py>, document: &str) -> PyResult<Bound<'py, PyAny>> {
    match features_of_document(document)? {
        Features::Flats(it) => flats(py, &it.geometry()),
        Features::Slots(it) => {
            let it = it.geometry();
            class!(py, "_features", "SlotsGeometry")?.call1((
                it.land_mm,
                it.web_at_bottom_mm,
                it.over_bottoms_mm,
            ))
        }
        Features::Teeth(it) => {
            let it = it.geometry();
            class!(py, "_features", "TeethGeometry")?.call1((
                it.module_mm,
                it.pitch_diameter_mm,
                it.outside_diameter_mm,
                it.whole_depth_mm,
            ))
        }
        _ => core(|| Err(defect("features without figures"))),
    }
}
