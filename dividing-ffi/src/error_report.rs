//! Where the error of a plan comes from, what was not looked at, and pictures of
//! the deviations.

use std::ffi::{c_char, c_void};

use dividing_core::plan::ErrorReport;

use crate::contributor::criterion_of;
use crate::error::Outcome;
use crate::error_model::coverage_of;
use crate::guard::guard;
use crate::handle;
use crate::live;
use crate::plans::PlansHandle;
use crate::pointer::{Out, reference};
use crate::status::Status;
use crate::text;
use crate::watch::{Watcher, Work, metered};

/// Whether every piece of equipment was looked at in full; false when a limit of
/// work cut some short.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_complete(
    plans: *const PlansHandle,
    out: *mut bool,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::value_of(plans, "plans", out, |it| Ok(it.plans().complete())) }
}

/// What was not looked at in full and why, a line for each piece of equipment;
/// empty when all was.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_cut_short_text(
    plans: *const PlansHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::text_of(plans, "plans", out, |it| {
            let lines = it.plans().cut_short().iter();
            let lines = lines.map(|it| format!("{}: {}\n", it.equipment, it.reasons.join("; ")));
            Ok(lines.collect())
        })
    }
}

/// How a report of error is asked for: what must stay within the limit of the
/// job, and how the expanded uncertainty is stated. All zeros stand for the
/// worst case; the coverage must be given.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct ErrorReportTerms {
    /// What must stay within the limit: a dividing_criterion.
    pub criterion: i32,
    /// The coverage factor of a criterion of expanded uncertainty.
    pub coverage_factor: f64,
    /// How the budget states its expanded uncertainty: a dividing_coverage.
    pub coverage: i32,
    /// Its probability or factor.
    pub coverage_value: f64,
}

/// # Safety
/// The contract of the exports that call it.
unsafe fn report(
    plans: *const PlansHandle,
    plan: usize,
    terms: *const ErrorReportTerms,
    (work_limit, watcher, userdata): Work,
    out: *mut *mut c_char,
    write: impl FnOnce(&ErrorReport) -> Outcome<String>,
) -> Status {
    guard(|| {
        // SAFETY: the caller's contract.
        let (plans, terms, out) = unsafe {
            (
                live::reference(plans, "plans")?,
                reference(terms, "terms")?,
                Out::new(out, "out")?,
            )
        };
        let criterion = criterion_of(terms.criterion, terms.coverage_factor)?;
        let coverage = coverage_of(terms.coverage, terms.coverage_value)?;
        // SAFETY: the caller gave the watcher to be called so.
        let found = unsafe {
            metered(work_limit, watcher, userdata, |meter| {
                plans.plans().error_report(plan, criterion, coverage, meter)
            })?
        };
        text::give(write(&found)?, out)
    })
}

/// Where the error of a plan, counted from 0, comes from, and what it would
/// bear: the budget of its worst feature and the table of trade-offs, as text in
/// lines ending with a newline.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
///
/// Errors: not_found; undetermined when the workshop says nothing of how the
/// equipment registers; out_of_range, overflow, work_limit, cancelled,
/// null_pointer, misaligned. Ownership: `*out` is the caller's, freed with
/// dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_error_report_text(
    plans: *const PlansHandle,
    plan: usize,
    terms: *const ErrorReportTerms,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut c_char,
) -> Status {
    let work = (work_limit, watcher, userdata);
    // SAFETY: the contract of this function.
    unsafe { report(plans, plan, terms, work, out, |it| Ok(it.to_text())) }
}

/// As dividing_plans_error_report_text, as an HTML fragment, every text escaped.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
///
/// Errors: as dividing_plans_error_report_text. Ownership: `*out` is the caller's,
/// freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_error_report_html(
    plans: *const PlansHandle,
    plan: usize,
    terms: *const ErrorReportTerms,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut c_char,
) -> Status {
    let work = (work_limit, watcher, userdata);
    // SAFETY: the contract of this function.
    unsafe { report(plans, plan, terms, work, out, |it| Ok(it.to_html())) }
}

/// As dividing_plans_error_report_text, as JSON.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
///
/// Errors: as dividing_plans_error_report_text. Ownership: `*out` is the caller's,
/// freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_error_report_json(
    plans: *const PlansHandle,
    plan: usize,
    terms: *const ErrorReportTerms,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut c_char,
) -> Status {
    let work = (work_limit, watcher, userdata);
    // SAFETY: the contract of this function.
    unsafe { report(plans, plan, terms, work, out, |it| Ok(it.to_json()?)) }
}

/// A picture of the limits of a plan's deviations round the circle, as SVG; the
/// plan is counted from 0.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_deviation_svg(
    plans: *const PlansHandle,
    plan: usize,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::text_of(plans, "plans", out, |it| {
            Ok(it.plans().deviation_picture(plan)?)
        })
    }
}
