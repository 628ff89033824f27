//! Set-up sheets and pictures as text.

use std::ffi::c_char;

use dividing_core::Plans;

use crate::error::Outcome;
use crate::guard::guard;
use crate::live;
use crate::plans::PlansHandle;
use crate::pointer::Out;
use crate::status::Status;
use crate::text;

/// # Safety
/// The contract of the exports that call it.
unsafe fn render(
    plans: *const PlansHandle,
    out: *mut *mut c_char,
    body: impl FnOnce(&Plans) -> Outcome<String>,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (plans, out) = unsafe { (live::reference(plans, "plans")?, Out::new(out, "out")?) };
        text::give(body(plans.plans())?, out)
    })
}

/// The set-up sheet of a plan, counted from 0, as plain text for the bench in
/// the units that the job asks for, lines ending with a newline.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_sheet_text(
    plans: *const PlansHandle,
    plan: usize,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { render(plans, out, |plans| Ok(plans.sheet(plan)?.to_text())) }
}

/// The set-up sheet of a plan as an HTML fragment, every text escaped.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_sheet_html(
    plans: *const PlansHandle,
    plan: usize,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { render(plans, out, |plans| Ok(plans.sheet(plan)?.to_html())) }
}

/// The set-up sheet of a plan as JSON: title, facts, steps, checks, cautions.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_sheet_json(
    plans: *const PlansHandle,
    plan: usize,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { render(plans, out, |plans| text::json(&plans.sheet(plan)?)) }
}

/// The picture of a plan as SVG: the plate with the used holes numbered, the
/// block in its seats, or the dial's readings.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_drawing_svg(
    plans: *const PlansHandle,
    plan: usize,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { render(plans, out, |plans| Ok(plans.drawing(plan)?)) }
}
