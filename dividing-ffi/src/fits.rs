//! Limits and fits after ISO 286.

use std::ffi::c_char;

use dividing_core::fits::{Fit, FitClass, ToleranceClass};

use crate::error::Outcome;
use crate::fields::{at, length, string};
use crate::guard::guard;
use crate::pointer::Out;
use crate::status::Status;
use crate::text;

/// The limits of a size of a tolerance class.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct LimitsRecord {
    /// Lower limit deviation, in micrometres.
    pub lower_um: f64,
    /// Upper limit deviation, in micrometres.
    pub upper_um: f64,
    /// Least size, in millimetres.
    pub least_mm: f64,
    /// Greatest size, in millimetres.
    pub greatest_mm: f64,
}

/// The limits of a class such as "H7" or "g6" on a nominal size in millimetres,
/// above 0 to 500. `class_name` ends with NUL.
///
/// Errors: unreadable_text; out_of_range for a size or grade without a limit;
/// null_pointer, invalid_utf8, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_tolerance_class_limits(
    class_name: *const c_char,
    nominal_mm: f64,
    out: *mut LimitsRecord,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (class, out) = unsafe { (string(class_name, "class_name")?, Out::new(out, "out")?) };
        let class = at(class.parse::<ToleranceClass>(), "class_name")?;
        let nominal = length(nominal_mm, "nominal_mm")?;
        let deviations = at(class.limit_deviations(nominal), "nominal_mm")?;
        let limits = at(class.limits(nominal), "nominal_mm")?;
        out.write(LimitsRecord {
            lower_um: deviations.lower_um,
            upper_um: deviations.upper_um,
            least_mm: limits.lower().mm(),
            greatest_mm: limits.upper().mm(),
        });
        Ok(())
    })
}

/// A fit of a pin in a hole, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct FitRecord {
    /// Least size of the hole.
    pub least_hole_mm: f64,
    /// Greatest size of the hole.
    pub greatest_hole_mm: f64,
    /// Least size of the pin.
    pub least_pin_mm: f64,
    /// Greatest size of the pin.
    pub greatest_pin_mm: f64,
    /// Smallest hole less largest pin; below 0 for an interference.
    pub least_clearance_mm: f64,
    /// Middle of least and greatest clearance.
    pub mean_clearance_mm: f64,
    /// Largest hole less smallest pin.
    pub greatest_clearance_mm: f64,
}

impl FitRecord {
    fn of(fit: Fit) -> Outcome<Self> {
        let clearance = fit.clearance()?;
        Ok(Self {
            least_hole_mm: fit.hole.lower().mm(),
            greatest_hole_mm: fit.hole.upper().mm(),
            least_pin_mm: fit.pin.lower().mm(),
            greatest_pin_mm: fit.pin.upper().mm(),
            least_clearance_mm: clearance.least.mm(),
            mean_clearance_mm: clearance.mean.mm(),
            greatest_clearance_mm: clearance.greatest.mm(),
        })
    }
}

/// A fit as written on drawings: "6 H7/g6", "6 mm H7/g6", "0.25 in H7/g6".
///
/// `text` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
///
/// Errors: unreadable_text; inconsistent unless a hole and then a shaft is
/// named; out_of_range; null_pointer, invalid_utf8, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_fit_parse(
    text: *const c_char,
    length: usize,
    out: *mut FitRecord,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (text, out) = unsafe { (text::read(text, length, "text")?, Out::new(out, "out")?) };
        out.write(FitRecord::of(text.parse::<Fit>()?)?);
        Ok(())
    })
}

/// A fit of two classes, such as "H7" and "g6", on a nominal size in
/// millimetres, above 0 to 500. Both texts end with NUL.
///
/// Errors: as dividing_fit_parse. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_fit_of(
    hole_class: *const c_char,
    pin_class: *const c_char,
    nominal_mm: f64,
    out: *mut FitRecord,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (hole, pin, out) = unsafe {
            (
                string(hole_class, "hole_class")?,
                string(pin_class, "pin_class")?,
                Out::new(out, "out")?,
            )
        };
        let hole = at(hole.parse::<ToleranceClass>(), "hole_class")?;
        let pin = at(pin.parse::<ToleranceClass>(), "pin_class")?;
        let fit = FitClass::new(hole, pin)?.on(length(nominal_mm, "nominal_mm")?);
        out.write(FitRecord::of(at(fit, "nominal_mm")?)?);
        Ok(())
    })
}
