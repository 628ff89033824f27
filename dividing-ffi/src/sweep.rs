//! One formula over many rows: columns of the caller in, a column out.

use dividing_core::accuracy::{BarSweep, PlungerSweep};

use crate::array::{OutArray, slice};
use crate::error::Outcome;
use crate::guard::guard;
use crate::pointer::reference;
use crate::status::Status;

/// A column of numbers: one for all rows, or one for each.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct Column {
    /// The numbers, `length` of them.
    pub values: *const f64,
    /// 1 or the number of rows.
    pub length: usize,
}

impl Column {
    /// # Safety
    /// `values` points to `length` numbers.
    unsafe fn read<'a>(&self, name: &str) -> Outcome<&'a [f64]> {
        // SAFETY: the caller's contract.
        unsafe { slice(self.values, self.length, name) }
    }
}

/// Columns for plungers, in millimetres; every column has one number or one for
/// each row.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct PlungerColumns {
    /// Pitch radius of the holes, above 0.
    pub pitch_radius_mm: Column,
    /// Largest tangential deviation of a hole: half a position zone's diameter.
    pub hole_deviation_mm: Column,
    /// Largest tangential deviation of the station.
    pub station_deviation_mm: Column,
    /// Hole less pin.
    pub clearance_mm: Column,
    /// Bore less plunger, in series with the pin.
    pub bore_clearance_mm: Column,
    /// Eccentricity of the plate to the spindle axis.
    pub eccentricity_mm: Column,
}

/// Columns for bars on pins, in millimetres; every column has one number or one
/// for each row.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct BarColumns {
    /// Distance of the two holes, above 0.
    pub baseline_mm: Column,
    /// Largest deviation of one hole along the bar's normal: half a position
    /// zone's diameter.
    pub hole_deviation_mm: Column,
    /// Largest difference of the two pins' diameters.
    pub pin_difference_mm: Column,
    /// Largest difference of the two holes' diameters.
    pub hole_difference_mm: Column,
    /// Straightness of the bar over the baseline.
    pub straightness_mm: Column,
    /// Reading of the levelling over the baseline.
    pub levelling_mm: Column,
}

/// # Safety
/// The contract of the exports that call it.
unsafe fn plungers(
    columns: *const PlungerColumns,
    out: *mut f64,
    capacity: usize,
    name: &'static str,
    figure: impl FnOnce(&PlungerSweep<'_>) -> Outcome<Vec<f64>>,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (sweep, out) = unsafe {
            let columns = reference(columns, "columns")?;
            (
                PlungerSweep {
                    pitch_radius_mm: columns.pitch_radius_mm.read("pitch_radius_mm")?,
                    hole_deviation_mm: columns.hole_deviation_mm.read("hole_deviation_mm")?,
                    station_deviation_mm: columns
                        .station_deviation_mm
                        .read("station_deviation_mm")?,
                    clearance_mm: columns.clearance_mm.read("clearance_mm")?,
                    bore_clearance_mm: columns.bore_clearance_mm.read("bore_clearance_mm")?,
                    eccentricity_mm: columns.eccentricity_mm.read("eccentricity_mm")?,
                },
                OutArray::new(out, capacity, name)?,
            )
        };
        out.give(&figure(&sweep)?)
    })
}

/// # Safety
/// The contract of the exports that call it.
unsafe fn bars(
    columns: *const BarColumns,
    out: *mut f64,
    capacity: usize,
    name: &'static str,
    figure: impl FnOnce(&BarSweep<'_>) -> Outcome<Vec<f64>>,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (sweep, out) = unsafe {
            let columns = reference(columns, "columns")?;
            (
                BarSweep {
                    baseline_mm: columns.baseline_mm.read("baseline_mm")?,
                    hole_deviation_mm: columns.hole_deviation_mm.read("hole_deviation_mm")?,
                    pin_difference_mm: columns.pin_difference_mm.read("pin_difference_mm")?,
                    hole_difference_mm: columns.hole_difference_mm.read("hole_difference_mm")?,
                    straightness_mm: columns.straightness_mm.read("straightness_mm")?,
                    levelling_mm: columns.levelling_mm.read("levelling_mm")?,
                },
                OutArray::new(out, capacity, name)?,
            )
        };
        out.give(&figure(&sweep)?)
    })
}

/// The worst case of a plunger in radians, for every row, into the caller's
/// array of `capacity` numbers: all limits added over the pitch radius.
///
/// Errors: empty_list for a column without a number; inconsistent for columns
/// of different lengths; out_of_range, not_finite, with the path to the field;
/// buffer_too_small, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plunger_worst_case_rad(
    columns: *const PlungerColumns,
    worst_rad: *mut f64,
    capacity: usize,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        plungers(columns, worst_rad, capacity, "worst_rad", |it| {
            Ok(it.worst_case_rad()?)
        })
    }
}

/// The standard uncertainty of a plunger in radians, for every row: points
/// uniform in discs, an eccentricity at a random phase.
///
/// Arguments, errors and threads as dividing_plunger_worst_case_rad.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plunger_standard_uncertainty_rad(
    columns: *const PlungerColumns,
    uncertainty_rad: *mut f64,
    capacity: usize,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        plungers(
            columns,
            uncertainty_rad,
            capacity,
            "uncertainty_rad",
            |it| Ok(it.standard_uncertainty_rad()?),
        )
    }
}

/// The largest clearance, in millimetres, that keeps the worst case within
/// `limit_rad`, for every row; NaN where none does. The clearance given is not
/// looked at.
///
/// Arguments, errors and threads as dividing_plunger_worst_case_rad.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plunger_loosest_clearance_mm(
    columns: *const PlungerColumns,
    limit_rad: f64,
    clearance_mm: *mut f64,
    capacity: usize,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        plungers(columns, clearance_mm, capacity, "clearance_mm", |it| {
            let found = it.loosest_clearance_mm(limit_rad)?;
            Ok(found.into_iter().map(|it| it.unwrap_or(f64::NAN)).collect())
        })
    }
}

/// The least pitch radius, in millimetres, that keeps the worst case within
/// `limit_rad`, for every row. The radius given is not looked at.
///
/// Arguments, errors and threads as dividing_plunger_worst_case_rad.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plunger_least_pitch_radius_mm(
    columns: *const PlungerColumns,
    limit_rad: f64,
    radius_mm: *mut f64,
    capacity: usize,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        plungers(columns, radius_mm, capacity, "radius_mm", |it| {
            Ok(it.least_pitch_radius_mm(limit_rad)?)
        })
    }
}

/// The worst case of a bar on pins in radians, for every row; `loose` is 1 for
/// pins that lie at the bottom of their holes, 0 for pins fixed in them.
///
/// The other arguments, errors and threads as dividing_plunger_worst_case_rad.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_bar_worst_case_rad(
    columns: *const BarColumns,
    loose: i32,
    worst_rad: *mut f64,
    capacity: usize,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        bars(columns, worst_rad, capacity, "worst_rad", |it| {
            Ok(if crate::fields::yes(loose, "loose")? {
                it.loose_worst_case_rad()?
            } else {
                it.fixed_worst_case_rad()?
            })
        })
    }
}

/// The least baseline, in millimetres, that keeps the worst case of loose pins
/// within `limit_rad`, for every row. The baseline given is not looked at.
///
/// The other arguments, errors and threads as dividing_plunger_worst_case_rad.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_bar_least_baseline_mm(
    columns: *const BarColumns,
    limit_rad: f64,
    baseline_mm: *mut f64,
    capacity: usize,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        bars(columns, baseline_mm, capacity, "baseline_mm", |it| {
            Ok(it.least_baseline_mm(limit_rad)?)
        })
    }
}
