//! Figures of standards and control charts: ranges, guard bands, positions.

use dividing_core::accuracy::{guard_band_factor, position_diameter_mm, range_constants};

use crate::error::Outcome;
use crate::guard::guard;
use crate::pointer::Out;
use crate::status::Status;

/// # Safety
/// The contract of the exports that call it.
unsafe fn figure<T>(out: *mut T, body: impl FnOnce() -> Outcome<T>) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let out = unsafe { Out::new(out, "out")? };
        out.write(body()?);
        Ok(())
    })
}

/// The range of independent normal values, in their standard deviations.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct RangeRecord {
    /// Mean range: the constant d2 of control charts.
    pub mean: f64,
    /// Standard deviation of the range: the constant d3.
    pub standard_deviation: f64,
}

/// The control-chart constants d2 and d3 of so many values, 2 to 100000: what
/// the cumulative pitch deviation of as many places comes to, in standard
/// deviations of one place.
///
/// Errors: out_of_range, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_range_constants(places: u32, out: *mut RangeRecord) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        figure(out, || {
            let found = range_constants(places)?;
            Ok(RangeRecord {
                mean: found.mean,
                standard_deviation: found.standard_deviation,
            })
        })
    }
}

/// Width of the guard band at one limit, in standard uncertainties, that leaves
/// a value on the acceptance limit conforming with the probability
/// `conformance`, 0.5 to below 1 (JCGM 106:2012, 8.3.2).
///
/// Errors: out_of_range, not_finite, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_guard_band_factor(conformance: f64, out: *mut f64) -> Status {
    // SAFETY: the contract of this function.
    unsafe { figure(out, || Ok(guard_band_factor(conformance)?)) }
}

/// Diameter of the smallest position zone, in millimetres, that holds a feature
/// at `radius_mm`, 0 or more, turned by `deviation_rad`, in radians, and set out
/// by `radial_mm`.
///
/// Errors: out_of_range, not_finite, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_position_diameter_mm(
    radius_mm: f64,
    deviation_rad: f64,
    radial_mm: f64,
    out: *mut f64,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        figure(out, || {
            Ok(position_diameter_mm(radius_mm, deviation_rad, radial_mm)?)
        })
    }
}
