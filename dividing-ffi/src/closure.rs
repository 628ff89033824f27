//! Closure calibration: two dividing devices told apart, and what to measure.

use std::ffi::c_void;

use dividing_core::inspection::{Device, plan_shifts};

use crate::array::{self, OutArray};
use crate::error::Outcome;
use crate::fields::chosen;
use crate::guard::guard;
use crate::handle;
use crate::inspection::InspectionHandle;
use crate::live;
use crate::pointer::Out;
use crate::status::Status;
use crate::watch::{Watcher, metered};

/// How well the readings of a calibration agree; NaN where it cannot be told.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct ClosureRecord {
    /// Positions of each device.
    pub positions: usize,
    /// Set-ups.
    pub setup_count: usize,
    /// Readings less unknowns that they determine.
    pub degrees_of_freedom: usize,
    /// Sum of the squared residuals, in square radians.
    pub sum_of_squares_rad2: f64,
    /// Standard deviation of a reading from the residuals, in radians.
    pub standard_deviation_rad: f64,
    /// Sum of squares over the stated variance of a reading.
    pub chi_square: f64,
    /// Probability of a chi-square at least that large if the stated
    /// uncertainty is right.
    pub probability: f64,
    /// Standard uncertainty of one reading, stated or estimated, in radians.
    pub reading_uncertainty_rad: f64,
}

/// How well the readings of two compared devices agree.
///
/// Errors: inconsistent for another inspection, null_pointer, misaligned.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_closure(
    inspection: *const InspectionHandle,
    out: *mut ClosureRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(inspection, "inspection", out, |it| {
            let found = it.closure()?;
            let test = &found.residuals;
            Ok(ClosureRecord {
                positions: found.first_rad.len(),
                setup_count: found.offset_rad.len(),
                degrees_of_freedom: test.degrees_of_freedom,
                sum_of_squares_rad2: test.sum_of_squares_rad2,
                standard_deviation_rad: test.standard_deviation_rad.unwrap_or(f64::NAN),
                chi_square: test.chi_square.unwrap_or(f64::NAN),
                probability: test.probability.unwrap_or(f64::NAN),
                reading_uncertainty_rad: found.reading_uncertainty_rad().unwrap_or(f64::NAN),
            })
        })
    }
}

/// One of two compared devices.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum DeviceOf {
    /// The first.
    First = 0,
    /// The second.
    Second = 1,
}

pub(crate) fn device_of(number: i32) -> Outcome<Device> {
    chosen(number, "device", &[Device::First, Device::Second])
}

/// The deviations of one device, a dividing_device, in radians, and their
/// standard uncertainties, NaN where they cannot be told, into two arrays of the
/// caller of `capacity` numbers each; `deviation_rad` and `uncertainty_rad` may
/// be NULL. The deviations sum to zero.
///
/// Errors: inconsistent for another inspection; buffer_too_small, out_of_range,
/// null_pointer, misaligned; on any of them no array is touched. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_device(
    inspection: *const InspectionHandle,
    device: i32,
    capacity: usize,
    deviation_rad: *mut f64,
    uncertainty_rad: *mut f64,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (inspection, deviation, uncertainty) = unsafe {
            (
                live::reference(inspection, "inspection")?,
                OutArray::unless_null(deviation_rad, capacity, "deviation_rad")?,
                OutArray::unless_null(uncertainty_rad, capacity, "uncertainty_rad")?,
            )
        };
        let (found, device) = (inspection.closure()?, device_of(device)?);
        let values = match device {
            Device::First => &found.first_rad,
            Device::Second => &found.second_rad,
        };
        array::check_capacity(capacity, values.len(), "capacity")?;
        if let Some(column) = deviation {
            column.write(values.iter().copied());
        }
        if let Some(column) = uncertainty {
            let each = (0..values.len()).map(|at| found.uncertainty_rad(device, at));
            column.write(each.map(|it| it.unwrap_or(f64::NAN)));
        }
        Ok(())
    })
}

/// The constant of every set-up in radians, into the caller's array of
/// `capacity` numbers.
///
/// Errors: inconsistent for another inspection; buffer_too_small, null_pointer,
/// misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_inspection_offsets(
    inspection: *const InspectionHandle,
    offset_rad: *mut f64,
    capacity: usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (inspection, offsets) = unsafe {
            (
                live::reference(inspection, "inspection")?,
                OutArray::new(offset_rad, capacity, "offset_rad")?,
            )
        };
        offsets.give(&inspection.closure()?.offset_rad)
    })
}

/// Which set-ups to measure.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct ShiftPlanRecord {
    /// Set-ups: shifts in the caller's array.
    pub shift_count: usize,
    /// Readings in all: positions times set-ups.
    pub readings: usize,
    /// Standard uncertainty that every division will have, in radians.
    pub division_uncertainty_rad: f64,
    /// Fewest set-ups that can reach the wanted uncertainty, as far as proved;
    /// equal to `shift_count` when the plan is proved smallest.
    pub proved_fewest_setups: usize,
}

/// Plans a closure calibration of two devices of `positions` positions, 2 to
/// 21600: the set-ups that bring every division to the wanted standard
/// uncertainty, both uncertainties in radians, above 0.
///
/// The shifts come, ascending, into the caller's array of `capacity` numbers; a
/// shift named twice is measured twice. `work_limit`, `watcher` and `userdata`
/// as dividing_plans_new_within.
///
/// Errors: out_of_range, not_finite; undetermined when no plan within bounds is
/// enough; buffer_too_small, whose message says how many; work_limit, cancelled;
/// null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plan_shifts(
    positions: usize,
    reading_uncertainty_rad: f64,
    wanted_uncertainty_rad: f64,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    shifts: *mut usize,
    capacity: usize,
    out: *mut ShiftPlanRecord,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (shifts, out) = unsafe {
            (
                OutArray::new(shifts, capacity, "shifts")?,
                Out::new(out, "out")?,
            )
        };
        // SAFETY: the caller gave the watcher to be called so.
        let plan = unsafe {
            metered(work_limit, watcher, userdata, |meter| {
                plan_shifts(
                    positions,
                    reading_uncertainty_rad,
                    wanted_uncertainty_rad,
                    meter,
                )
            })?
        };
        shifts.give(&plan.shifts)?;
        out.write(ShiftPlanRecord {
            shift_count: plan.shifts.len(),
            readings: plan.readings,
            division_uncertainty_rad: plan.division_uncertainty_rad,
            proved_fewest_setups: plan.proved_fewest_setups,
        });
        Ok(())
    })
}
