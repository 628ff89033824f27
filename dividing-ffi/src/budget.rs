//! Uncertainty budgets.

use std::ffi::{CString, c_char};

use dividing_core::accuracy::{Budget, UncertaintyModel};
use dividing_core::document;

use crate::contributor::{self, ContributorRecord};
use crate::error::{Failure, Outcome};
use crate::error_model::coverage_of;
use crate::fields::string;
use crate::guard::guard;
use crate::handle;
use crate::live::{self, Handle};
use crate::pointer::Out;
use crate::status::Status;
use crate::text;

/// An uncertainty budget: an opaque handle.
///
/// Made by dividing_budget_new and its like, freed by dividing_budget_free. It
/// never changes in between, so any number of threads may read it at a time.
pub struct BudgetHandle {
    budget: Budget,
    lines: Vec<(CString, CString)>,
    quantity: CString,
    unit: CString,
}

impl Handle for BudgetHandle {
    const MARK: [u8; 8] = *b"budget  ";
}

impl BudgetHandle {
    pub(crate) fn new(budget: Budget) -> Outcome<Self> {
        let lines = budget.lines.iter().map(|line| {
            Ok((
                text::for_c(line.name.as_str())?,
                text::for_c(line.unit.as_str())?,
            ))
        });
        Ok(Self {
            lines: lines.collect::<Outcome<_>>()?,
            quantity: text::for_c(budget.quantity.as_str())?,
            unit: text::for_c(budget.unit.as_str())?,
            budget,
        })
    }
}

/// The result of a budget.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct BudgetRecord {
    /// What the result is. Both texts belong to the handle.
    pub quantity: *const c_char,
    /// Unit of the result and of all figures below.
    pub unit: *const c_char,
    /// Value of the result.
    pub estimate: f64,
    /// Combined standard uncertainty.
    pub combined_standard_uncertainty: f64,
    /// Effective degrees of freedom; infinite where they are, or where
    /// correlations forbid the formula.
    pub effective_degrees_of_freedom: f64,
    /// Coverage probability; NaN where a factor was asked for.
    pub coverage_probability: f64,
    /// Coverage factor.
    pub coverage_factor: f64,
    /// Expanded uncertainty.
    pub expanded_uncertainty: f64,
    /// Standard uncertainty from second-order terms together.
    pub second_order_uncertainty: f64,
    /// Lines of the budget.
    pub line_count: usize,
}

/// One line of a budget.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct BudgetLineRecord {
    /// Name of the input. Both texts belong to the handle.
    pub name: *const c_char,
    /// Unit of the input.
    pub unit: *const c_char,
    /// Standard uncertainty of the input, in its unit.
    pub standard_uncertainty: f64,
    /// Degrees of freedom; infinite where they are.
    pub degrees_of_freedom: f64,
    /// Units of the result for one unit of the input.
    pub sensitivity: f64,
    /// Size of sensitivity times uncertainty, in the unit of the result.
    pub contribution: f64,
    /// Share of the variance of the result.
    pub share: f64,
}

/// The budget of contributors to one angle, in seconds of arc.
///
/// `quantity` says what the result is and ends with NUL; `estimate_rad` is its
/// value in radians; `contributors` holds `count` records. `coverage` is a
/// dividing_coverage, `value` its probability or factor.
///
/// Errors: empty_list, out_of_range, not_finite, with the path to the field;
/// null_pointer, invalid_utf8, misaligned. Ownership: `*out` is the caller's,
/// freed with dividing_budget_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_budget_new(
    quantity: *const c_char,
    estimate_rad: f64,
    contributors: *const ContributorRecord,
    count: usize,
    coverage: i32,
    value: f64,
    out: *mut *mut BudgetHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (quantity, list, out) = unsafe {
            (
                string(quantity, "quantity")?,
                contributor::list(contributors, count)?,
                Out::new(out, "out")?,
            )
        };
        let coverage = coverage_of(coverage, value)?;
        let budget = Budget::of_contributors(quantity, estimate_rad, &list, coverage)?;
        live::give(BudgetHandle::new(budget)?, out);
        Ok(())
    })
}

/// The budget of an uncertainty model in JSON: quantity, unit, estimate, inputs
/// with standard uncertainties, sensitivities and degrees of freedom,
/// correlations, second-order terms, coverage.
///
/// `model` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
///
/// Errors: malformed_json, unknown_field, invalid_field, out_of_range,
/// not_finite, duplicate, not_found, inconsistent; null_pointer, invalid_utf8, misaligned. Ownership:
/// `*out` is the caller's, freed with dividing_budget_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_budget_of_model(
    model: *const c_char,
    length: usize,
    out: *mut *mut BudgetHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (model, out) = unsafe { (text::read(model, length, "model")?, Out::new(out, "out")?) };
        let model: UncertaintyModel = document::read(model)?;
        live::give(BudgetHandle::new(model.budget()?)?, out);
        Ok(())
    })
}

/// Frees a budget.
///
/// Ownership: the handle and its texts are gone; to free or use it again is an
/// error of the caller, seen (not_a_handle) only while its memory is not used
/// for something else. NULL is accepted and does nothing. Threads: any, while
/// no other thread uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_budget_free(budget: *mut BudgetHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(budget, "budget") }
}

/// The result of a budget.
///
/// Errors: null_pointer, misaligned. Ownership: the texts in `*out` belong to
/// the handle. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_budget_result(
    budget: *const BudgetHandle,
    out: *mut BudgetRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(budget, "budget", out, |it| {
            let found = &it.budget;
            Ok(BudgetRecord {
                quantity: it.quantity.as_ptr(),
                unit: it.unit.as_ptr(),
                estimate: found.estimate,
                combined_standard_uncertainty: found.combined_standard_uncertainty,
                effective_degrees_of_freedom: found
                    .effective_degrees_of_freedom
                    .unwrap_or(f64::INFINITY),
                coverage_probability: found.coverage_probability.unwrap_or(f64::NAN),
                coverage_factor: found.coverage_factor,
                expanded_uncertainty: found.expanded_uncertainty,
                second_order_uncertainty: found.second_order_uncertainty,
                line_count: found.lines.len(),
            })
        })
    }
}

/// One line of a budget, counted from 0.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: the texts in `*out`
/// belong to the handle. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_budget_line(
    budget: *const BudgetHandle,
    index: usize,
    out: *mut BudgetLineRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(budget, "budget", out, |it| {
            let lines = &it.budget.lines;
            let (Some(line), Some((name, unit))) = (lines.get(index), it.lines.get(index)) else {
                return Err(Failure::new(
                    Status::NotFound,
                    "index",
                    format!(
                        "there is no line {index}; accepted: less than the {} of the budget",
                        lines.len()
                    ),
                ));
            };
            Ok(BudgetLineRecord {
                name: name.as_ptr(),
                unit: unit.as_ptr(),
                standard_uncertainty: line.standard_uncertainty,
                degrees_of_freedom: line.degrees_of_freedom.unwrap_or(f64::INFINITY),
                sensitivity: line.sensitivity,
                contribution: line.contribution,
                share: line.share,
            })
        })
    }
}

/// The budget as a plain table of text.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_budget_text(
    budget: *const BudgetHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::text_of(budget, "budget", out, |it| Ok(it.budget.to_text())) }
}

/// The budget as an HTML fragment, every text escaped.
///
/// Errors, ownership and threads as dividing_budget_text.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_budget_html(
    budget: *const BudgetHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::text_of(budget, "budget", out, |it| Ok(it.budget.to_html())) }
}

/// The budget with every field as JSON.
///
/// Errors, ownership and threads as dividing_budget_text.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_budget_json(
    budget: *const BudgetHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::text_of(budget, "budget", out, |it| text::json(&it.budget)) }
}
