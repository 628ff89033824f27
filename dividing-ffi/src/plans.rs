//! Plans: made from two documents, read field by field.

use std::ffi::{CString, c_char, c_void};

use dividing_core::accuracy::{AngularClass, VerdictKind};
use dividing_core::reach::Placement;
use dividing_core::work::Meter;
use dividing_core::{Angle, AngleStyle, Job, Plan, Plans, Workshop, plan_job_within};

use crate::angle::Fraction;
use crate::error::{Failure, Outcome};
use crate::guard::guard;
use crate::job::JobHandle;
use crate::live::{self, Handle};
use crate::pointer::Out;
use crate::setting::SettingRecord;
use crate::status::Status;
use crate::text;
use crate::watch::{Watcher, metered};
use crate::workshop::WorkshopHandle;

/// All plans for a job, the best first: an opaque handle.
///
/// Made by dividing_plans_new, freed by dividing_plans_free. It never changes
/// in between, so any number of threads may read one handle at a time.
pub struct PlansHandle {
    plans: Plans,
    names: Vec<Names>,
}

impl Handle for PlansHandle {
    const MARK: [u8; 8] = *b"plans   ";
}

/// The texts of one plan, ready for C.
struct Names {
    equipment: CString,
    equipment_kind: CString,
    method: CString,
}

impl PlansHandle {
    fn new(plans: Plans) -> Outcome<Self> {
        let names = plans
            .plans()
            .iter()
            .map(|plan| {
                Ok(Names {
                    equipment: text::for_c(plan.equipment.as_str())?,
                    equipment_kind: text::for_c(plan.equipment_kind.as_str())?,
                    method: text::for_c(plan.method.as_str())?,
                })
            })
            .collect::<Outcome<_>>()?;
        Ok(Self { plans, names })
    }

    pub(crate) const fn plans(&self) -> &Plans {
        &self.plans
    }

    pub(crate) fn step(&self, plan: usize, step: usize) -> Outcome<&Placement> {
        let placements = &self.plans.plan(plan)?.placements;
        placements.get(step).ok_or_else(|| {
            let last = placements.len().saturating_sub(1);
            Failure::new(
                Status::NotFound,
                "step",
                format!("there is no step {step}; accepted: 0 to {last}"),
            )
        })
    }
}

/// Whether a plan holds the tolerance of its job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum Verdict {
    /// The worst case lies within the tolerance, or the decision rule of the job
    /// accepts every feature.
    Pass = 0,
    /// The job gives no tolerance.
    NoTolerance = 1,
    /// The settings lie within the tolerance, but the worst case does not, or
    /// is not fully known; under a decision rule: neither accepted nor rejected.
    NotProven = 2,
    /// The settings alone are off by more than the tolerance; under a guard band:
    /// by more than the tolerance and the band.
    Fail = 3,
}

impl From<VerdictKind> for Verdict {
    fn from(kind: VerdictKind) -> Self {
        match kind {
            VerdictKind::Pass => Self::Pass,
            VerdictKind::NoTolerance => Self::NoTolerance,
            VerdictKind::NotProven => Self::NotProven,
            VerdictKind::Fail => Self::Fail,
        }
    }
}

/// The class of ISO 2768-1 for angles that a plan meets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum ClassMet {
    /// The job names no class, the plan meets none, or its figure is incomplete.
    None = 0,
    /// f or m, the same for angles.
    FineOrMedium = 1,
    /// c.
    Coarse = 2,
    /// v.
    VeryCoarse = 3,
}

impl From<Option<AngularClass>> for ClassMet {
    fn from(class: Option<AngularClass>) -> Self {
        match class {
            None => Self::None,
            Some(AngularClass::FineOrMedium) => Self::FineOrMedium,
            Some(AngularClass::Coarse) => Self::Coarse,
            Some(AngularClass::VeryCoarse) => Self::VeryCoarse,
        }
    }
}

/// How far off a feature, or the worst feature of a plan, may be; the residual
/// is included.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct ErrorFigure {
    /// All limits added, in radians.
    pub worst_rad: f64,
    /// The same in degrees.
    pub worst_deg: f64,
    /// The residual and the root of the sum of the squared limits, in radians.
    pub root_sum_square_rad: f64,
    /// The same in degrees.
    pub root_sum_square_deg: f64,
}

impl ErrorFigure {
    const fn new(worst_rad: f64, root_sum_square_rad: f64) -> Self {
        Self {
            worst_rad,
            worst_deg: worst_rad.to_degrees(),
            root_sum_square_rad,
            root_sum_square_deg: root_sum_square_rad.to_degrees(),
        }
    }
}

/// One plan at a glance.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct PlanRecord {
    /// The piece of equipment, as the workshop calls it. The three texts belong
    /// to the handle and are valid until it is freed.
    pub equipment: *const c_char,
    /// Its kind, as in workshop documents: "worm_head".
    pub equipment_kind: *const c_char,
    /// How it is used, in words.
    pub method: *const c_char,
    /// Steps, one for each feature of the job.
    pub step_count: usize,
    /// Whether the worst case holds the tolerance.
    pub verdict: Verdict,
    /// Whether every feature is exact.
    pub exact: bool,
    /// Whether the error figures hold everything; false when the workshop
    /// leaves out what they would need.
    pub figure_is_complete: bool,
    /// How far off the worst feature may be.
    pub error: ErrorFigure,
    /// Largest deviation that the tolerance allows, in radians; 0 without a
    /// tolerance.
    pub limit_rad: f64,
    /// The same in degrees.
    pub limit_deg: f64,
    /// The limit less the worst case, in radians; below 0 when it is passed, 0
    /// without a tolerance. Under a decision rule the acceptance limit less the
    /// known deviation.
    pub margin_rad: f64,
    /// The same in degrees.
    pub margin_deg: f64,
    /// The probability that a feature conforms, 0 to 1, of the feature for which
    /// it is least; NaN without a limit of angle or with an incomplete figure.
    pub probability: f64,
    /// How far a feature may stand off its place, in millimetres, because the
    /// part stands off the spindle; NaN where the job does not say how far.
    pub feature_shift_mm: f64,
    /// How far that may turn a feature about the part's axis, in radians: 0 for
    /// flats and other straight cuts; NaN as above.
    pub feature_shift_rad: f64,
    /// The tightest class of ISO 2768-1 that the worst case meets, where the job
    /// names one.
    pub class_met: ClassMet,
    /// The finest grade of ISO 1328-1, 1 to 11, that the worst case of the pitch
    /// alone meets, where the job names one; 0 where it meets none or the figure
    /// is incomplete.
    pub grade_met: u32,
    /// Room for what is yet to come; 0.
    pub reserved: [u64; 4],
}

impl PlanRecord {
    fn new(plan: &Plan, names: &Names) -> Self {
        let limit_rad = plan.verdict.limit_rad.unwrap_or(0.0);
        let margin_rad = plan.verdict.margin_rad.unwrap_or(0.0);
        Self {
            equipment: names.equipment.as_ptr(),
            equipment_kind: names.equipment_kind.as_ptr(),
            method: names.method.as_ptr(),
            step_count: plan.placements.len(),
            verdict: plan.verdict.kind.into(),
            exact: plan.exact,
            figure_is_complete: plan.error.unknown.is_empty(),
            error: ErrorFigure::new(plan.error.worst_rad, plan.error.root_sum_square_rad),
            limit_rad,
            limit_deg: limit_rad.to_degrees(),
            margin_rad,
            margin_deg: margin_rad.to_degrees(),
            probability: plan.verdict.probability.unwrap_or(f64::NAN),
            feature_shift_mm: plan.feature_shift.map_or(f64::NAN, |it| it.shift_mm),
            feature_shift_rad: plan.feature_shift.map_or(f64::NAN, |it| it.angle_rad),
            class_met: plan.verdict.class_met.into(),
            grade_met: plan.verdict.grade_met.map_or(0, u32::from),
            reserved: [0; 4],
        }
    }
}

/// Plans a job on everything that a workshop owns.
///
/// Both texts are JSON documents in UTF-8 with `"format": 1`, of the length
/// given in bytes, or up to their NUL with DIVIDING_NUL_ENDED.
///
/// Errors: those of dividing_workshop_check and dividing_job_check, the field's
/// path beginning with "workshop" or "job"; overflow when the angles have no
/// common denominator within bounds; inconsistent when nothing in the workshop
/// holds a part; work_limit; null_pointer, invalid_utf8,
/// misaligned. Ownership: `*out` is the caller's, freed with
/// dividing_plans_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_new(
    workshop: *const c_char,
    workshop_length: usize,
    job: *const c_char,
    job_length: usize,
    out: *mut *mut PlansHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (workshop, job, out) = unsafe {
            (
                text::read(workshop, workshop_length, "workshop")?,
                text::read(job, job_length, "job")?,
                Out::new(out, "out")?,
            )
        };
        make(workshop, job, &mut Meter::default(), out)
    })
}

/// As dividing_plans_new, with a limit of work and a watcher that can stop it.
///
/// `work_limit` counts elementary steps of the searches, the same on every
/// machine; 0 stands for the limit of dividing_plans_new, 100 million, some
/// seconds. `watcher` may be NULL; it is called on this thread with `userdata`,
/// which the library does not look at.
///
/// Errors: as dividing_plans_new, and cancelled. Ownership: `*out` is the
/// caller's, freed with dividing_plans_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_new_within(
    workshop: *const c_char,
    workshop_length: usize,
    job: *const c_char,
    job_length: usize,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut PlansHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (workshop, job, out) = unsafe {
            (
                text::read(workshop, workshop_length, "workshop")?,
                text::read(job, job_length, "job")?,
                Out::new(out, "out")?,
            )
        };
        // SAFETY: the caller gave the watcher to be called so.
        unsafe {
            metered(work_limit, watcher, userdata, |meter| {
                make(workshop, job, meter, out)
            })
        }
    })
}

/// Plans a job on a workshop, both from their handles.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
///
/// Errors: overflow when the angles have no common denominator within bounds;
/// inconsistent when nothing in the workshop holds a part; work_limit,
/// cancelled; null_pointer, misaligned. Ownership: `*out` is the caller's,
/// freed with dividing_plans_free; workshop and job may be freed before it.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_of(
    workshop: *const WorkshopHandle,
    job: *const JobHandle,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut PlansHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (workshop, job, out) = unsafe {
            (
                live::reference(workshop, "workshop")?,
                live::reference(job, "job")?,
                Out::new(out, "out")?,
            )
        };
        // SAFETY: the caller gave the watcher to be called so.
        let plans = unsafe {
            metered(work_limit, watcher, userdata, |meter| {
                plan_job_within(workshop.workshop(), job.job(), meter)
            })?
        };
        live::give(PlansHandle::new(plans)?, out);
        Ok(())
    })
}

fn make(workshop: &str, job: &str, meter: &mut Meter<'_>, out: Out<*mut PlansHandle>) -> Outcome {
    let workshop = Workshop::from_json(workshop).map_err(|error| error.at("workshop"))?;
    let job = Job::from_json(job).map_err(|error| error.at("job"))?;
    let plans = PlansHandle::new(plan_job_within(&workshop, &job, meter)?)?;
    live::give(plans, out);
    Ok(())
}

/// Frees plans.
///
/// Ownership: the handle and every text that belongs to it are gone; to free or
/// use it again is an error of the caller, seen (not_a_handle) only while its
/// memory is not used for something else. NULL is accepted and does nothing.
/// Threads: any, while no other thread uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_free(plans: *mut PlansHandle) {
    // SAFETY: by the contract the pointer came from `make`.
    unsafe { live::free(plans, "plans") }
}

/// How many plans there are: one for each piece of equipment that can be used
/// alone, and one more each for compound and differential indexing where these
/// are exact and simple indexing is not.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_count(
    plans: *const PlansHandle,
    count: *mut usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (plans, count) =
            unsafe { (live::reference(plans, "plans")?, Out::new(count, "count")?) };
        count.write(plans.plans.plans().len());
        Ok(())
    })
}

/// One plan at a glance, counted from 0, the best first.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: the texts in `*out`
/// belong to the handle. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_get(
    plans: *const PlansHandle,
    plan: usize,
    out: *mut PlanRecord,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (plans, out) = unsafe { (live::reference(plans, "plans")?, Out::new(out, "out")?) };
        let found = plans.plans.plan(plan)?;
        let names = plans.names.get(plan).ok_or_else(|| {
            Failure::new(
                Status::Internal,
                "",
                "a defect of the dividing library: a plan without names",
            )
        })?;
        out.write(PlanRecord::new(found, names));
        Ok(())
    })
}

/// The largest residual of a plan, without sign, as an exact fraction of a turn.
///
/// Errors: not_found, overflow, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_largest_residual(
    plans: *const PlansHandle,
    plan: usize,
    turns: *mut Fraction,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (plans, turns) =
            unsafe { (live::reference(plans, "plans")?, Out::new(turns, "turns")?) };
        turns.write(Fraction::of(plans.plans.plan(plan)?.largest_residual)?);
        Ok(())
    })
}

/// As dividing_plans_largest_residual, as exact text of any size: "1/720 turn".
///
/// Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_largest_residual_text(
    plans: *const PlansHandle,
    plan: usize,
    out: *mut *mut c_char,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (plans, out) = unsafe { (live::reference(plans, "plans")?, Out::new(out, "out")?) };
        text::give(fraction_text(plans.plans.plan(plan)?.largest_residual), out)
    })
}

fn fraction_text(angle: Angle) -> String {
    angle.format(AngleStyle::FractionOfTurn)
}

/// The three angles of a step.
type StepAngle = fn(&Placement) -> Angle;
const REQUIRED: StepAngle = |it| it.required;
const ATTAINED: StepAngle = |it| it.attained;
const RESIDUAL: StepAngle = |it| it.residual;

/// # Safety
/// The contract of the exports that call it.
unsafe fn step_fraction(
    plans: *const PlansHandle,
    plan: usize,
    step: usize,
    angle: StepAngle,
    turns: *mut Fraction,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (plans, turns) =
            unsafe { (live::reference(plans, "plans")?, Out::new(turns, "turns")?) };
        turns.write(Fraction::of(angle(plans.step(plan, step)?))?);
        Ok(())
    })
}

/// # Safety
/// The contract of the exports that call it.
unsafe fn step_text(
    plans: *const PlansHandle,
    plan: usize,
    step: usize,
    angle: StepAngle,
    out: *mut *mut c_char,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (plans, out) = unsafe { (live::reference(plans, "plans")?, Out::new(out, "out")?) };
        text::give(fraction_text(angle(plans.step(plan, step)?)), out)
    })
}

/// The drawing angle that a step must give, as an exact fraction of a turn.
/// Steps count from 0, in the order of the job's features.
///
/// Errors: not_found, overflow, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_step_required(
    plans: *const PlansHandle,
    plan: usize,
    step: usize,
    turns: *mut Fraction,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { step_fraction(plans, plan, step, REQUIRED, turns) }
}

/// As dividing_plans_step_required, as exact text of any size: "1/9 turn".
///
/// Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_step_required_text(
    plans: *const PlansHandle,
    plan: usize,
    step: usize,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { step_text(plans, plan, step, REQUIRED, out) }
}

/// The drawing angle that the setting of a step gives, as an exact fraction of
/// a turn.
///
/// Errors: not_found, overflow, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_step_attained(
    plans: *const PlansHandle,
    plan: usize,
    step: usize,
    turns: *mut Fraction,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { step_fraction(plans, plan, step, ATTAINED, turns) }
}

/// As dividing_plans_step_attained, as exact text of any size.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_step_attained_text(
    plans: *const PlansHandle,
    plan: usize,
    step: usize,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { step_text(plans, plan, step, ATTAINED, out) }
}

/// The residual of a step, attained less required, as an exact fraction of a
/// turn: 0/1 when it is exact.
///
/// Errors: not_found, overflow, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_step_residual(
    plans: *const PlansHandle,
    plan: usize,
    step: usize,
    turns: *mut Fraction,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { step_fraction(plans, plan, step, RESIDUAL, turns) }
}

/// As dividing_plans_step_residual, as exact text of any size.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_step_residual_text(
    plans: *const PlansHandle,
    plan: usize,
    step: usize,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { step_text(plans, plan, step, RESIDUAL, out) }
}

/// How far off the feature of a step may be.
///
/// Errors: not_found, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_step_error(
    plans: *const PlansHandle,
    plan: usize,
    step: usize,
    out: *mut ErrorFigure,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (plans, out) = unsafe { (live::reference(plans, "plans")?, Out::new(out, "out")?) };
        plans.step(plan, step)?;
        let features = &plans.plans.plan(plan)?.error.features;
        let feature = features.get(step).ok_or_else(|| {
            Failure::new(
                Status::Internal,
                "",
                "a defect of the dividing library: a step without a figure",
            )
        })?;
        out.write(ErrorFigure::new(
            feature.worst_rad,
            feature.root_sum_square_rad,
        ));
        Ok(())
    })
}

/// What to set for a step, as a record.
///
/// Errors: not_found; overflow when a number does not fit its field;
/// null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_step_setting(
    plans: *const PlansHandle,
    plan: usize,
    step: usize,
    out: *mut SettingRecord,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (plans, out) = unsafe { (live::reference(plans, "plans")?, Out::new(out, "out")?) };
        out.write(SettingRecord::of(&plans.step(plan, step)?.setting)?);
        Ok(())
    })
}

/// What to set for a step, in the words of the sheet: "4 turns + 8 holes".
///
/// Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_step_setting_text(
    plans: *const PlansHandle,
    plan: usize,
    step: usize,
    out: *mut *mut c_char,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (plans, out) = unsafe { (live::reference(plans, "plans")?, Out::new(out, "out")?) };
        text::give(plans.plans.setting_text(plan, step)?, out)
    })
}

/// What to set for a step, as JSON: {"crank":{"plate":0,...}}.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_step_setting_json(
    plans: *const PlansHandle,
    plan: usize,
    step: usize,
    out: *mut *mut c_char,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (plans, out) = unsafe { (live::reference(plans, "plans")?, Out::new(out, "out")?) };
        text::give(text::json(&plans.step(plan, step)?.setting)?, out)
    })
}

/// All plans with every field as one JSON document.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_json(
    plans: *const PlansHandle,
    out: *mut *mut c_char,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (plans, out) = unsafe { (live::reference(plans, "plans")?, Out::new(out, "out")?) };
        text::give(plans.plans.to_json()?, out)
    })
}
