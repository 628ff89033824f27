//! The Python face of gauge blocks: what the package's block sets ask.

use dividing_core::gauge_blocks::{
    AngleBlockSet, BlockSet, BlockUnit, NamedAngleBlockSet, NamedBlockSet, Stack, sine_bar,
};
use dividing_core::{Error, ErrorKind};
use pyo3::prelude::*;

use crate::angle::PyAngle;
use crate::argument::{angle_of, length_of};
use crate::errors::core;
use crate::value::choice_of;
use crate::watch::{Limits, watched};

const UNITS: &str = "tenth_micrometre, hundred_thousandth_inch";

fn unit_of(unit: &Bound<'_, PyAny>) -> PyResult<BlockUnit> {
    choice_of(unit, "unit", UNITS)
}

fn set_of(unit: &Bound<'_, PyAny>, units: &[u32]) -> PyResult<BlockSet> {
    let unit = unit_of(unit)?;
    core(|| BlockSet::new(unit, units))
}

/// Unit and sizes of a set that makers sell.
#[pyfunction]
pub(crate) fn _named_blocks(name: &Bound<'_, PyAny>) -> PyResult<(&'static str, Vec<u32>)> {
    let named: NamedBlockSet = choice_of(
        name,
        "name",
        "metric_112, metric_103, metric_87, metric_47, metric_32, inch_81, inch_36",
    )?;
    let unit = match named.unit() {
        BlockUnit::TenthMicrometre => "tenth_micrometre",
        BlockUnit::HundredThousandthInch => "hundred_thousandth_inch",
    };
    Ok((unit, named.blocks().units().to_vec()))
}

/// Sizes of a set, ascending, once judged.
#[pyfunction]
pub(crate) fn _checked_blocks(unit: &Bound<'_, PyAny>, units: Vec<u32>) -> PyResult<Vec<u32>> {
    Ok(set_of(unit, &units)?.units().to_vec())
}

/// A length as a whole number of units; refused when it lies between two.
#[pyfunction]
pub(crate) fn _units_of(
    unit: &Bound<'_, PyAny>,
    value: &Bound<'_, PyAny>,
    name: &str,
) -> PyResult<u32> {
    // A hundred-thousandth of a unit: what binary fractions leave behind.
    const ROUNDING_UNITS: f64 = 1e-5;
    let unit = unit_of(unit)?;
    let length = length_of(value, name)?;
    core(|| {
        let units = unit.nearest(length).map_err(|error| error.at(name))?;
        if (length.mm() / unit.mm() - f64::from(units)).abs() > ROUNDING_UNITS {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "{length} is no whole number of the set's unit of {} mm; accepted: a multiple of that",
                    unit.mm()
                ),
            )
            .at(name));
        }
        Ok(units)
    })
}

/// The nearest whole number of units.
#[pyfunction]
pub(crate) fn _nearest_units(
    unit: &Bound<'_, PyAny>,
    value: &Bound<'_, PyAny>,
    name: &str,
) -> PyResult<u32> {
    let unit = unit_of(unit)?;
    let length = length_of(value, name)?;
    core(|| unit.nearest(length).map_err(|error| error.at(name)))
}

type Made = (Vec<u32>, i64);

fn made(stack: Stack) -> Made {
    (stack.blocks, stack.deviation_units)
}

/// Blocks and deviation of a stack.
#[pyfunction]
#[allow(clippy::too_many_arguments, reason = "plain numbers from the package")]
pub(crate) fn _stack(
    py: Python<'_>,
    unit: &Bound<'_, PyAny>,
    units: Vec<u32>,
    height: u32,
    tolerance: u32,
    wear: Option<u32>,
    work_limit: Option<&Bound<'_, PyAny>>,
    progress: Option<&Bound<'_, PyAny>>,
) -> PyResult<Made> {
    let set = set_of(unit, &units)?;
    watched(py, &Limits::read(work_limit, progress)?, move |meter| {
        set.stack(height, tolerance, wear, meter).map(made)
    })
}

/// Blocks and deviations of two stacks that stand at the same time.
#[pyfunction]
#[allow(clippy::too_many_arguments, reason = "plain numbers from the package")]
pub(crate) fn _two_stacks(
    py: Python<'_>,
    unit: &Bound<'_, PyAny>,
    units: Vec<u32>,
    height: u32,
    tolerance: u32,
    wear: Option<u32>,
    work_limit: Option<&Bound<'_, PyAny>>,
    progress: Option<&Bound<'_, PyAny>>,
) -> PyResult<(Made, Made)> {
    let set = set_of(unit, &units)?;
    watched(py, &Limits::read(work_limit, progress)?, move |meter| {
        let [first, second] = set.two_stacks(height, tolerance, wear, meter)?;
        Ok((made(first), made(second)))
    })
}

/// Higher and lower blocks and the deviation of a difference of two stacks.
#[pyfunction]
#[allow(clippy::too_many_arguments, reason = "plain numbers from the package")]
pub(crate) fn _difference(
    py: Python<'_>,
    unit: &Bound<'_, PyAny>,
    units: Vec<u32>,
    height: u32,
    tolerance: u32,
    work_limit: Option<&Bound<'_, PyAny>>,
    progress: Option<&Bound<'_, PyAny>>,
) -> PyResult<(Vec<u32>, Vec<u32>, i64)> {
    let set = set_of(unit, &units)?;
    watched(py, &Limits::read(work_limit, progress)?, move |meter| {
        let found = set.difference(height, tolerance, meter)?;
        Ok((found.higher, found.lower, found.deviation_units))
    })
}

/// Angles, in seconds of arc, of a set that makers sell.
#[pyfunction]
pub(crate) fn _named_angle_blocks(name: &Bound<'_, PyAny>) -> PyResult<Vec<u32>> {
    let named: NamedAngleBlockSet = choice_of(name, "name", "pieces13, pieces16")?;
    Ok(named.blocks().arcsec().to_vec())
}

/// Angles of a set, ascending, once judged.
#[pyfunction]
pub(crate) fn _checked_angle_blocks(arcsec: Vec<u32>) -> PyResult<Vec<u32>> {
    let checked = AngleBlockSet::new(&arcsec).map_err(|error| error.at("blocks"));
    core(|| checked.map(|set| set.arcsec().to_vec()))
}

type AngleStack = (Vec<u32>, Vec<u32>, PyAngle, PyAngle);

/// Blocks added, blocks taken away, attained and residual angle of a stack.
#[pyfunction]
pub(crate) fn _angle_stack(
    py: Python<'_>,
    arcsec: Vec<u32>,
    angle: &Bound<'_, PyAny>,
    tolerance: &Bound<'_, PyAny>,
    work_limit: Option<&Bound<'_, PyAny>>,
    progress: Option<&Bound<'_, PyAny>>,
) -> PyResult<AngleStack> {
    let set = core(|| AngleBlockSet::new(&arcsec))?;
    let (angle, tolerance) = (angle_of(angle, "angle")?, angle_of(tolerance, "tolerance")?);
    let found = watched(py, &Limits::read(work_limit, progress)?, move |meter| {
        set.stack(angle, tolerance, meter)
    })?;
    Ok((
        found.plus_arcsec,
        found.minus_arcsec,
        found.attained.into(),
        found.residual.into(),
    ))
}

/// The height that tilts a bar, in millimetres, exact at 0° and 30°.
#[pyfunction]
pub(crate) fn _bar_height_mm(length: &Bound<'_, PyAny>, angle: &Bound<'_, PyAny>) -> PyResult<f64> {
    let (length, angle) = (length_of(length, "length")?, angle_of(angle, "angle")?);
    core(|| sine_bar::height_mm(length, angle))
}
