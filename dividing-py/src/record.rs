//! The small records of a plan, as the package's Python classes.

use dividing_core::accuracy::Contributor;
use dividing_core::plan::{Finding, Handling};
use dividing_core::reach::{BarPlace, Placement, Setting, Shortfall};
use dividing_core::{Error, ErrorKind};
use pyo3::prelude::*;

use crate::angle::PyAngle;
use crate::errors::exception;

/// One class of the package, looked up once.
macro_rules! class {
    ($py:expr, $module:literal, $name:literal) => {{
        static CLASS: pyo3::sync::PyOnceLock<Py<PyAny>> = pyo3::sync::PyOnceLock::new();
        CLASS.import($py, concat!("dividing.", $module), $name)
    }};
}
pub(crate) use class;

type Made<'py> = PyResult<Bound<'py, PyAny>>;

fn bar_place<'py>(py: Python<'py>, bar: BarPlace) -> Made<'py> {
    let name = match bar {
        BarPlace::LevelAbove => "level_above",
        BarPlace::LevelBelow => "level_below",
        BarPlace::UprightRight => "upright_right",
        BarPlace::UprightLeft => "upright_left",
    };
    class!(py, "_enums", "BarPlace")?.call1((name,))
}

fn setting<'py>(py: Python<'py>, setting: &Setting) -> Made<'py> {
    match setting {
        Setting::Hole { circle, hole } => class!(py, "_records", "Hole")?.call1((*circle, *hole)),
        Setting::HoleAtStation { hole, station } => {
            class!(py, "_records", "HoleAtStation")?.call1((*hole, *station))
        }
        Setting::FaceDown { face } => class!(py, "_records", "FaceDown")?.call1((*face,)),
        Setting::FacesInVee {
            left_face,
            right_face,
        } => class!(py, "_records", "FacesInVee")?.call1((*left_face, *right_face)),
        Setting::BarOnPins {
            circle,
            first_pin,
            second_pin,
            span,
            bar,
        } => {
            let bar = bar_place(py, *bar)?;
            class!(py, "_records", "BarOnPins")?.call1((
                *circle,
                *first_pin,
                *second_pin,
                *span,
                bar,
            ))
        }
        Setting::Crank {
            plate,
            back,
            circle,
            turns,
            hole,
        } => class!(py, "_records", "Crank")?.call1((*plate, *back, *circle, *turns, *hole)),
        Setting::Reading {
            turns,
            graduation,
            table,
        } => class!(py, "_records", "Reading")?.call1((*turns, *graduation, PyAngle::from(*table))),
        other => other_setting(py, other),
    }
}

/// A setting without a class of its own: its kind and its fields as written in
/// documents.
fn other_setting<'py>(py: Python<'py>, setting: &Setting) -> Made<'py> {
    let defect = |error: String| exception(&Error::new(ErrorKind::Internal, error));
    let value = serde_json::to_value(setting).map_err(|error| defect(error.to_string()))?;
    let (kind, fields) = value
        .as_object()
        .and_then(|object| object.iter().next())
        .ok_or_else(|| defect(format!("a setting without a kind: {setting:?}")))?;
    let fields = crate::document::loads(py, &fields.to_string())?;
    class!(py, "_records", "OtherSetting")?.call1((kind, fields))
}

pub(crate) fn placement<'py>(py: Python<'py>, it: &Placement) -> Made<'py> {
    class!(py, "_records", "Placement")?.call1((
        PyAngle::from(it.required),
        setting(py, &it.setting)?,
        PyAngle::from(it.attained),
        PyAngle::from(it.residual),
    ))
}

pub(crate) fn finding<'py>(py: Python<'py>, it: &Finding) -> Made<'py> {
    // The kind is written as in documents, so that a new one needs no change here.
    let kind = serde_json::to_value(it.kind)
        .map_err(|error| exception(&Error::new(ErrorKind::Internal, error.to_string())))?;
    class!(py, "_records", "Finding")?.call1((kind.as_str().unwrap_or_default(), &it.text))
}

pub(crate) fn shortfall<'py>(py: Python<'py>, it: &Shortfall) -> Made<'py> {
    let missing = it.missing.iter().map(|power| (power.prime, power.exponent));
    let missing = pyo3::types::PyTuple::new(py, missing.collect::<Vec<_>>())?;
    class!(py, "_records", "Shortfall")?.call1((
        it.needed_order,
        it.held_order,
        missing,
        &it.reason,
        &it.supply,
    ))
}

pub(crate) fn contributor<'py>(py: Python<'py>, it: &Contributor) -> Made<'py> {
    let document = serde_json::to_string(it)
        .map_err(|error| exception(&Error::new(ErrorKind::Internal, error.to_string())))?;
    let document = crate::document::loads(py, &document)?;
    class!(py, "_records", "contributor_of")?.call1((document,))
}

pub(crate) fn handling<'py>(py: Python<'py>, it: &Handling) -> Made<'py> {
    class!(py, "_records", "Handling")?.call1((it.actions, it.crank_turns, it.hole_spaces))
}
