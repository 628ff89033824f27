//! The small records of a plan, as the package's Python classes.

use dividing_core::accuracy::Contributor;
use dividing_core::document::{read, write};
use dividing_core::plan::{Finding, Handling};
use dividing_core::reach::{
    BarPlace, Placement, Setting, Shortfall, StackedBlocks, Supplier, SupplierKind,
};
use dividing_core::{Error, ErrorKind};
use pyo3::prelude::*;
use pyo3::types::PyTuple;

use crate::angle::PyAngle;
use crate::errors::{core, exception};
use crate::value::defect;

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

pub(crate) fn setting_of<'py>(py: Python<'py>, setting: &Setting) -> Made<'py> {
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
        Setting::SineBar {
            reversed,
            unit,
            height_units,
            stacks,
            wear_block_units,
        } => {
            let pairs = stacks.iter().map(|it| stacked(py, it));
            let stacks = PyTuple::new(py, pairs.collect::<PyResult<Vec<_>>>()?)?;
            let unit = class!(py, "_enums", "BlockUnit")?.call1((name_of(unit)?,))?;
            class!(py, "_records", "BarOnBlocks")?.call1((
                *reversed,
                unit,
                *height_units,
                stacks,
                *wear_block_units,
            ))
        }
        Setting::AngleStack {
            plus_arcsec,
            minus_arcsec,
        } => class!(py, "_records", "WrungAngleBlocks")?.call1((
            PyTuple::new(py, plus_arcsec)?,
            PyTuple::new(py, minus_arcsec)?,
        )),
        Setting::Inclination { reading } => {
            class!(py, "_records", "Inclination")?.call1((PyAngle::from(*reading),))
        }
        Setting::AtStop { stop } => class!(py, "_records", "AtStop")?.call1((*stop,)),
        Setting::FromLast { steps } => class!(py, "_records", "FromLast")?.call1((*steps,)),
        Setting::BarAcrossRings {
            first_ring,
            first_pin,
            second_ring,
            second_pin,
            bar,
        } => {
            let bar = bar_place(py, *bar)?;
            class!(py, "_records", "BarAcrossRings")?.call1((
                *first_ring,
                *first_pin,
                *second_ring,
                *second_pin,
                bar,
            ))
        }
        Setting::Stack { members } => {
            let members = members.iter().map(|it| setting_of(py, it));
            let members = PyTuple::new(py, members.collect::<PyResult<Vec<_>>>()?)?;
            class!(py, "_records", "StackedSettings")?.call1((members,))
        }
        Setting::CompoundCrank {
            plate,
            back,
            turns,
            first_circle,
            first_hole,
            second_circle,
            second_hole,
        } => class!(py, "_records", "CompoundCrank")?.call1((
            *plate,
            *back,
            *turns,
            *first_circle,
            *first_hole,
            *second_circle,
            *second_hole,
        )),
        other => other_setting(py, other),
    }
}

fn stacked<'py>(py: Python<'py>, it: &StackedBlocks) -> Made<'py> {
    class!(py, "_records", "StackedBlocks")?
        .call1((PyTuple::new(py, &it.high)?, PyTuple::new(py, &it.low)?))
}

/// The name of a choice, as in documents.
pub(crate) fn name_of(value: &impl serde::Serialize) -> PyResult<String> {
    core(|| {
        let value = serde_json::to_value(value).map_err(defect)?;
        Ok(value.as_str().unwrap_or_default().to_owned())
    })
}

/// A setting of a sort that this version has no class for: its kind and its
/// fields as written in documents.
fn other_setting<'py>(py: Python<'py>, setting: &Setting) -> Made<'py> {
    let defect = |error: String| exception(&Error::new(ErrorKind::Internal, error));
    let value: serde_json::Value = core(|| read(&write(setting)?))?;
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
        setting_of(py, &it.setting)?,
        PyAngle::from(it.attained),
        PyAngle::from(it.residual),
        it.residual_rad(),
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
    let missing = PyTuple::new(py, missing.collect::<Vec<_>>())?;
    class!(py, "_records", "Shortfall")?.call1((
        it.needed_order,
        it.held_order,
        missing,
        &it.reason,
        &it.supply,
        suppliers(py, &it.suppliers)?,
    ))
}

fn suppliers<'py>(py: Python<'py>, all: &[Supplier]) -> PyResult<Bound<'py, PyTuple>> {
    let made = all.iter().map(|it| supplier(py, it));
    PyTuple::new(py, made.collect::<PyResult<Vec<_>>>()?)
}

fn supplier<'py>(py: Python<'py>, it: &Supplier) -> Made<'py> {
    // What is a number of its kind: teeth, holes, stations, faces or the like.
    let (kind, number) = match it.kind {
        SupplierKind::OwnedCircles => ("owned_circles", None),
        SupplierKind::OwnedGears => ("owned_gears", None),
        SupplierKind::ChangeGear { teeth } => ("change_gear", Some(teeth.into())),
        SupplierKind::Circle { holes } => ("circle", Some(holes)),
        SupplierKind::Stations { stations } => ("stations", Some(stations)),
        SupplierKind::Block { faces } => ("block", Some(faces)),
        SupplierKind::Dial { graduations } => ("dial", Some(graduations)),
        SupplierKind::AbsentHoles => ("absent_holes", None),
        SupplierKind::Resolution { parts } => ("resolution", Some(parts)),
        SupplierKind::Stop => ("stop", None),
        SupplierKind::Member { places } => ("member", Some(places)),
        _ => ("other", None),
    };
    let kind = class!(py, "_enums", "SupplierKind")?.call1((kind,))?;
    class!(py, "_records", "Supplier")?.call1((kind, number, &it.text, it.parts, it.size))
}

pub(crate) fn contributor<'py>(py: Python<'py>, it: &Contributor) -> Made<'py> {
    let document = core(|| write(it))?;
    let document = crate::document::loads(py, &document)?;
    class!(py, "_records", "contributor_of")?.call1((document,))
}

pub(crate) fn handling<'py>(py: Python<'py>, it: &Handling) -> Made<'py> {
    class!(py, "_records", "Handling")?.call1((it.actions, it.crank_turns, it.hole_spaces))
}
