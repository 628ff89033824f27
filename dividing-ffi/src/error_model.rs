//! The error model of a plan: contributors, budgets, conformance, trade-offs.

use std::ffi::{CString, c_char, c_void};

use dividing_core::accuracy::{Coverage, Decision, DecisionRule, ErrorModel};

use crate::angle::Fraction;
use crate::budget::BudgetHandle;
use crate::contributor::{ContributorRecord, criterion_of};
use crate::error::{Failure, Outcome};
use crate::fields::{chosen, string};
use crate::guard::guard;
use crate::handle;
use crate::inverse::AllowanceRecord;
use crate::live::{self, Handle};
use crate::plans::PlansHandle;
use crate::pointer::Out;
use crate::simulation::SimulationHandle;
use crate::status::Status;
use crate::text;
use crate::watch::Watcher;

/// How each feature of a plan comes to be off: an opaque handle.
///
/// Made by dividing_error_model_new, freed by dividing_error_model_free. It
/// never changes in between, so any number of threads may read it at a time.
pub struct ErrorModelHandle {
    model: ErrorModel,
    names: Vec<Vec<CString>>,
}

impl Handle for ErrorModelHandle {
    const MARK: [u8; 8] = *b"err.modl";
}

impl ErrorModelHandle {
    fn new(model: ErrorModel) -> Outcome<Self> {
        let names = model.features().iter().map(|feature| {
            let names = feature.contributors.iter();
            names.map(|it| text::for_c(it.name.as_ref())).collect()
        });
        Ok(Self {
            names: names.collect::<Outcome<_>>()?,
            model,
        })
    }
}

/// The error model of a plan, counted from 0.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
///
/// Errors: not_found, overflow, work_limit, cancelled, null_pointer, misaligned.
/// Ownership: `*out` is the caller's, freed with dividing_error_model_free; the
/// plans may be freed before it. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_error_model_new(
    plans: *const PlansHandle,
    plan: usize,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut ErrorModelHandle,
) -> Status {
    let work = (work_limit, watcher, userdata);
    // SAFETY: the contract of this function.
    unsafe {
        handle::made_from(plans, "plans", work, out, |it, meter| {
            ErrorModelHandle::new(it.plans().error_model(plan, meter)?)
        })
    }
}

/// Frees an error model.
///
/// Ownership: the handle and its texts are gone; to free or use it again is an
/// error of the caller, seen (not_a_handle) only while its memory is not used
/// for something else. NULL is accepted and does nothing. Threads: any, while
/// no other thread uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_error_model_free(model: *mut ErrorModelHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(model, "model") }
}

/// One feature of an error model.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct ModelFeatureRecord {
    /// The drawing angle, in turns.
    pub required: Fraction,
    /// Systematic deviation of the setting, in radians.
    pub residual_rad: f64,
    /// Contributors to the deviation.
    pub contributor_count: usize,
}

impl ErrorModelHandle {
    fn feature(&self, index: usize) -> Outcome<&dividing_core::accuracy::ModelFeature> {
        let features = self.model.features();
        features.get(index).ok_or_else(|| {
            Failure::new(
                Status::NotFound,
                "feature",
                format!(
                    "there is no feature {index}; accepted: less than the {} of the job",
                    features.len()
                ),
            )
        })
    }
}

/// How many features an error model has.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_error_model_count(
    model: *const ErrorModelHandle,
    out: *mut usize,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::value_of(model, "model", out, |it| Ok(it.model.features().len())) }
}

/// One feature, counted from 0 in the order of the job.
///
/// Errors: not_found, overflow, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_error_model_feature(
    model: *const ErrorModelHandle,
    feature: usize,
    out: *mut ModelFeatureRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(model, "model", out, |it| {
            let found = it.feature(feature)?;
            Ok(ModelFeatureRecord {
                required: Fraction::of(found.required)?,
                residual_rad: found.residual_rad,
                contributor_count: found.contributors.len(),
            })
        })
    }
}

/// One contributor to a feature, both counted from 0.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: the name belongs to
/// the handle and is valid until it is freed. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_error_model_contributor(
    model: *const ErrorModelHandle,
    feature: usize,
    index: usize,
    out: *mut ContributorRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(model, "model", out, |it| {
            let contributors = &it.feature(feature)?.contributors;
            let names = it.names.get(feature).and_then(|names| names.get(index));
            match (contributors.get(index), names) {
                (Some(contributor), Some(name)) => Ok(ContributorRecord::of(contributor, name)),
                _ => Err(Failure::new(
                    Status::NotFound,
                    "index",
                    format!(
                        "there is no contributor {index}; accepted: less than the {} of the feature",
                        contributors.len()
                    ),
                )),
            }
        })
    }
}

/// What the workshop does not say and the figures leave out, one a line; empty
/// when they are complete.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_error_model_unknown(
    model: *const ErrorModelHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::text_of(model, "model", out, |it| Ok(it.model.unknown().join("\n"))) }
}

/// How an expanded uncertainty is stated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum CoverageOf {
    /// With the Student factor of a coverage probability, above 0 and below 1.
    Probability = 0,
    /// With a coverage factor, above 0.
    Factor = 1,
}

pub(crate) fn coverage_of(number: i32, value: f64) -> Outcome<Coverage> {
    let choices = [Coverage::Probability(value), Coverage::Factor(value)];
    chosen(number, "coverage", &choices)
}

/// The uncertainty budget of a feature, in seconds of arc.
///
/// `coverage` is a dividing_coverage, `value` its probability or factor.
///
/// Errors: not_found; undetermined when the workshop says nothing of how the
/// equipment registers; out_of_range, null_pointer, misaligned. Ownership:
/// `*out` is the caller's, freed with dividing_budget_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_error_model_budget(
    model: *const ErrorModelHandle,
    feature: usize,
    coverage: i32,
    value: f64,
    out: *mut *mut BudgetHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (model, out) = unsafe { (live::reference(model, "model")?, Out::new(out, "out")?) };
        let budget = model.model.budget(feature, coverage_of(coverage, value)?)?;
        live::give(BudgetHandle::new(budget)?, out);
        Ok(())
    })
}

/// The simulation of all features of the plan.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_simulation_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_error_model_simulation(
    model: *const ErrorModelHandle,
    out: *mut *mut SimulationHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (model, out) = unsafe { (live::reference(model, "model")?, Out::new(out, "out")?) };
        live::give(SimulationHandle::new(model.model.simulation()), out);
        Ok(())
    })
}

/// What a decision rule comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum DecisionOf {
    /// The value conforms.
    Pass = 0,
    /// It does not.
    Fail = 1,
    /// Neither is proven.
    NotProven = 2,
}

impl DecisionOf {
    pub(crate) const fn of(decision: Decision) -> Self {
        match decision {
            Decision::Pass => Self::Pass,
            Decision::Fail => Self::Fail,
            Decision::NotProven => Self::NotProven,
        }
    }
}

/// The rule of a guard band of so many expanded uncertainties; below 0 that of
/// simple acceptance.
pub(crate) fn rule(guard_band: f64) -> DecisionRule {
    if guard_band < 0.0 {
        DecisionRule::SimpleAcceptance
    } else {
        DecisionRule::GuardBand {
            multiple: guard_band,
        }
    }
}

/// Whether a feature conforms to the tolerance of its job.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct ConformanceRecord {
    /// The decision under the rule.
    pub decision: DecisionOf,
    /// Largest deviation that the drawing allows, in radians.
    pub limit_rad: f64,
    /// Expanded uncertainty of the deviation, in radians.
    pub expanded_uncertainty_rad: f64,
    /// Probability that the feature conforms, its deviation taken as normal
    /// about the residual.
    pub probability: f64,
}

/// Whether a feature conforms to the tolerance of its job.
///
/// `guard_band` is the width of the guard band over the expanded uncertainty, 1
/// by ISO 14253-1; below 0 it stands for simple acceptance. `coverage` is a
/// dividing_coverage, `value` its probability or factor.
///
/// Errors: not_found; undetermined without a limit of angle or of contributors;
/// out_of_range, not_finite, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_error_model_conformance(
    model: *const ErrorModelHandle,
    feature: usize,
    guard_band: f64,
    coverage: i32,
    value: f64,
    out: *mut ConformanceRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(model, "model", out, |it| {
            let coverage = coverage_of(coverage, value)?;
            let found = it.model.conformance(feature, rule(guard_band), coverage)?;
            Ok(ConformanceRecord {
                decision: DecisionOf::of(found.decision),
                limit_rad: found.limit_rad,
                expanded_uncertainty_rad: found.expanded_uncertainty_rad,
                probability: found.probability,
            })
        })
    }
}

/// What the inverse question says of a plan's worst feature.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct TradeOffRecord {
    /// The worst feature, counted from 0.
    pub feature: usize,
    /// What the criterion gives for it now, residual included, in radians.
    pub present_rad: f64,
    /// The limit of the job, in radians.
    pub limit_rad: f64,
    /// Inputs of the table.
    pub input_count: usize,
    /// The pitch radius or baseline as it is, in millimetres; NaN where the
    /// equipment registers on neither.
    pub present_lever_mm: f64,
    /// The least pitch radius or baseline that holds the limit; NaN where none
    /// does.
    pub least_lever_mm: f64,
}

/// What would hold the tolerance of the job, in all: the least pitch radius or
/// baseline. `criterion` is a dividing_criterion, `coverage_factor` that of an
/// expanded uncertainty.
///
/// Errors: undetermined without a limit of a feature's angle or without
/// contributors; out_of_range, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_error_model_trade_off(
    model: *const ErrorModelHandle,
    criterion: i32,
    coverage_factor: f64,
    out: *mut TradeOffRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(model, "model", out, |it| {
            let found = it
                .model
                .trade_offs(criterion_of(criterion, coverage_factor)?)?;
            Ok(TradeOffRecord {
                feature: found.feature,
                present_rad: found.present_rad,
                limit_rad: found.limit_rad,
                input_count: found.inputs.len(),
                present_lever_mm: found.present_lever_mm.unwrap_or(f64::NAN),
                least_lever_mm: found.least_lever_mm.unwrap_or(f64::NAN),
            })
        })
    }
}

/// How large one input may be when nothing else changes, by its name, which ends
/// with NUL: "hole position". Hole positions and clearances count as diameters,
/// as they are toleranced.
///
/// Errors: as dividing_error_model_trade_off, and not_found for a name that is
/// none of the inputs. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_error_model_allowance(
    model: *const ErrorModelHandle,
    criterion: i32,
    coverage_factor: f64,
    name: *const c_char,
    out: *mut AllowanceRecord,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (model, name, out) = unsafe {
            (
                live::reference(model, "model")?,
                string(name, "name")?,
                Out::new(out, "out")?,
            )
        };
        let table = model
            .model
            .trade_offs(criterion_of(criterion, coverage_factor)?)?;
        let line = table.inputs.iter().find(|line| line.name == name);
        let line = line.ok_or_else(|| {
            let names: Vec<&str> = table.inputs.iter().map(|it| it.name.as_str()).collect();
            Failure::new(
                Status::NotFound,
                "name",
                format!("{name:?} is no input; accepted: {}", names.join(", ")),
            )
        })?;
        out.write(AllowanceRecord::of(line.allowance, line.present));
        Ok(())
    })
}

/// The whole table of trade-offs as JSON. Arguments as
/// dividing_error_model_trade_off.
///
/// Errors: as dividing_error_model_trade_off. Ownership: `*out` is the caller's,
/// freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_error_model_trade_offs_json(
    model: *const ErrorModelHandle,
    criterion: i32,
    coverage_factor: f64,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::text_of(model, "model", out, |it| {
            text::json(
                &it.model
                    .trade_offs(criterion_of(criterion, coverage_factor)?)?,
            )
        })
    }
}
