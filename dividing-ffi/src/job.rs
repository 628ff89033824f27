//! Jobs: from the features of a drawing or from JSON.

use std::ffi::{CString, c_char};

use dividing_core::accuracy::{
    AngularClass, DecisionRule, LocatedFrom, MaximumMaterial, PitchGrades, PitchRounding,
};
use dividing_core::features::Features;
use dividing_core::job::{
    AngleUnit, AngularClassTolerance, Clocked, LengthUnit, PartEccentricity, PitchGradeTolerance,
    PitchTolerance, PositionDiameter, SheetUnits,
};
use dividing_core::{Job, Start, Tolerance};

use crate::angle::Fraction;
use crate::array::OutArray;
use crate::error::{Failure, Outcome};
use crate::feature_fields::{
    AnglesFields, BoltCircleFields, EqualDivisionsFields, FlatsFields, GraduationsFields,
    SlotsFields, TeethFields,
};
use crate::fields::{OptionalLength, chosen, length, string, yes};
use crate::guard::guard;
use crate::handle;
use crate::live::{self, Handle};
use crate::pointer::{Out, reference};
use crate::status::Status;
use crate::text;

/// What a drawing asks: an opaque handle.
///
/// Made by dividing_job_equal_divisions and its like, freed by
/// dividing_job_free. It never changes in between, so any number of threads may
/// read it at a time.
pub struct JobHandle {
    job: Job,
    name: CString,
}

impl Handle for JobHandle {
    const MARK: [u8; 8] = *b"job     ";
}

impl JobHandle {
    pub(crate) fn new(job: Job) -> Outcome<Self> {
        Ok(Self {
            name: text::for_c(job.name())?,
            job,
        })
    }

    pub(crate) const fn job(&self) -> &Job {
        &self.job
    }
}

/// Where a pattern may begin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum StartRule {
    /// Anywhere: the whole pattern may shift as one.
    Free = 0,
    /// The first feature stands exactly at a setting of the device.
    OnASetting = 1,
    /// Clocked to a feature that the part already has: clocked_to, clocked_at,
    /// reading, clocking_error.
    Clocked = 2,
}

/// What limits how far off a feature may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum ToleranceKind {
    /// Nothing: there is no verdict.
    None = 0,
    /// An angle either way: angle.
    Angle = 1,
    /// A position tolerance: zone_diameter_mm, radius_mm and, at maximum
    /// material, the three sizes.
    PositionDiameter = 2,
    /// Limits of pitch: single_pitch, cumulative_pitch or both.
    Pitch = 3,
    /// A general-tolerance class of ISO 2768-1: angular_class, shorter_side_mm.
    AngularClass = 4,
    /// The pitch of a grade of ISO 1328-1:2013: grade, reference_diameter_mm,
    /// module_mm, pitch_rounding.
    PitchGrade = 5,
}

/// The rule by which a limit of angle is judged (JCGM 106:2012).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum JobRule {
    /// The worst case must hold.
    WorstCase = 0,
    /// The deviation itself must lie within the limits.
    SimpleAcceptance = 1,
    /// It must lie within the limits less a guard band: guard_band.
    GuardBand = 2,
}

/// From where a cut is located.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum LocatedFromOf {
    /// From the spindle or the plate on which the part sits.
    SpindleOrPlate = 0,
    /// From the part's own round, indicated or held anew at each feature.
    PartsOwnRound = 1,
}

/// The classes of ISO 2768-1 for angles.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum AngleClass {
    /// f or m, the same for angles.
    FineOrMedium = 0,
    /// c.
    Coarse = 1,
    /// v.
    VeryCoarse = 2,
}

/// Start, tolerance and units of a job. All zeros, or NULL for the whole, stand
/// for a free start, no tolerance, millimetres and decimal degrees. Texts end
/// with NUL; angles are in turns.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct JobTerms {
    /// Where the pattern may begin: a dividing_start_rule.
    pub start: i32,
    /// The existing feature of a clocked start, in the words of the drawing.
    pub clocked_to: *const c_char,
    /// Its drawing angle; 0/0 stands for 0.
    pub clocked_at: Fraction,
    /// Where the device stands when that feature stands where the cutter will
    /// work; 0/0 stands for 0.
    pub reading: Fraction,
    /// How closely it is clocked, either way; 0/0 stands for 0.
    pub clocking_error: Fraction,
    /// What limits a feature: a dividing_tolerance_kind.
    pub tolerance: i32,
    /// Largest deviation either way.
    pub angle: Fraction,
    /// Diameter of the position zone.
    pub zone_diameter_mm: f64,
    /// Radius of the circle that the features stand on.
    pub radius_mm: f64,
    /// 1 when the zone holds at maximum material and grows from there; else 0.
    pub at_maximum_material: i32,
    /// Size of the feature at maximum material.
    pub maximum_material_size_mm: f64,
    /// Size of the feature at least material.
    pub least_material_size_mm: f64,
    /// Its actual size.
    pub actual_size_mm: f64,
    /// Largest deviation of the angle between neighbours; 0/0 for no limit.
    pub single_pitch: Fraction,
    /// Largest less smallest deviation; 0/0 for no limit.
    pub cumulative_pitch: Fraction,
    /// The class: a dividing_angle_class.
    pub angular_class: i32,
    /// The shorter side of the angle.
    pub shorter_side_mm: f64,
    /// The grade, 1 to 11.
    pub grade: u8,
    /// Reference diameter of the wheel.
    pub reference_diameter_mm: f64,
    /// Its module.
    pub module_mm: f64,
    /// 1 for unrounded limits, 0 for those rounded by the standard's rule.
    pub pitch_rounding: i32,
    /// The rule by which a limit of angle is judged: a dividing_job_rule.
    pub decision_rule: i32,
    /// Of a guard band, its width over the expanded uncertainty, 0 or more; 1
    /// by ISO 14253-1.
    pub guard_band: f64,
    /// Distance of the part's axis from that of the spindle, or of the plate
    /// fixed to the part, at most; 0 where it is not given.
    pub part_eccentricity_mm: f64,
    /// From where the cut is located: a dividing_located_from.
    pub located_from: i32,
    /// Radius of the features from the part's axis; not given for straight cuts.
    pub feature_radius: OptionalLength,
    /// 1 for inches on the sheet, 0 for millimetres.
    pub inches: i32,
    /// 1 for degrees, minutes and seconds on the sheet, 0 for decimal degrees.
    pub degrees_minutes_seconds: i32,
}

impl JobTerms {
    /// # Safety
    /// `clocked_to` is as its comment says.
    unsafe fn apply(&self, mut job: Job) -> Outcome<Job> {
        job = match chosen(self.start, "start", &[0, 1, 2])? {
            0 => job,
            1 => job.with_start(Start::OnASetting)?,
            _ => job.with_start(Start::Clocked(Clocked {
                // SAFETY: the caller's contract.
                to: unsafe { string(self.clocked_to, "clocked_to")? },
                at: self.clocked_at.or_zero("clocked_at")?,
                reading: self.reading.or_zero("reading")?,
                clocking_error: self.clocking_error.or_zero("clocking_error")?,
            }))?,
        };
        if let Some(tolerance) = self.tolerance()? {
            job = job.with_tolerance(tolerance)?;
        }
        job = match chosen(self.decision_rule, "decision_rule", &[0, 1, 2])? {
            0 => job,
            1 => job.with_decision_rule(DecisionRule::SimpleAcceptance)?,
            _ => job.with_decision_rule(DecisionRule::GuardBand {
                multiple: self.guard_band,
            })?,
        };
        if self.part_eccentricity_mm != 0.0 {
            job = job.with_part_eccentricity(PartEccentricity {
                eccentricity: length(self.part_eccentricity_mm, "part_eccentricity_mm")?,
                located_from: chosen(
                    self.located_from,
                    "located_from",
                    &[LocatedFrom::SpindleOrPlate, LocatedFrom::PartsOwnRound],
                )?,
                feature_radius: self.feature_radius.length("feature_radius")?,
            })?;
        }
        Ok(job.with_units(SheetUnits {
            length: if yes(self.inches, "inches")? {
                LengthUnit::Inch
            } else {
                LengthUnit::Millimetre
            },
            angle: if yes(self.degrees_minutes_seconds, "degrees_minutes_seconds")? {
                AngleUnit::DegreesMinutesSeconds
            } else {
                AngleUnit::DecimalDegrees
            },
        }))
    }

    fn tolerance(&self) -> Outcome<Option<Tolerance>> {
        Ok(Some(
            match chosen(self.tolerance, "tolerance", &[0, 1, 2, 3, 4, 5])? {
                0 => return Ok(None),
                1 => Tolerance::Angle(self.angle.given("angle")?),
                2 => Tolerance::PositionDiameter(self.position()?),
                3 => Tolerance::Pitch(PitchTolerance {
                    single: self.single_pitch.optional("single_pitch")?,
                    cumulative: self.cumulative_pitch.optional("cumulative_pitch")?,
                }),
                4 => Tolerance::AngularClass(AngularClassTolerance {
                    class: chosen(self.angular_class, "angular_class", &AngularClass::ALL)?,
                    shorter_side: length(self.shorter_side_mm, "shorter_side_mm")?,
                }),
                _ => Tolerance::PitchGrade(PitchGradeTolerance {
                    grade: self.grade,
                    pitch: PitchGrades {
                        reference_diameter: length(
                            self.reference_diameter_mm,
                            "reference_diameter_mm",
                        )?,
                        module: length(self.module_mm, "module_mm")?,
                        rounding: if yes(self.pitch_rounding, "pitch_rounding")? {
                            PitchRounding::Unrounded
                        } else {
                            PitchRounding::Standard
                        },
                    },
                }),
            },
        ))
    }

    fn position(&self) -> Outcome<PositionDiameter> {
        let sizes = if yes(self.at_maximum_material, "at_maximum_material")? {
            Some(MaximumMaterial {
                maximum_material_size: length(
                    self.maximum_material_size_mm,
                    "maximum_material_size_mm",
                )?,
                least_material_size: length(self.least_material_size_mm, "least_material_size_mm")?,
                actual_size: length(self.actual_size_mm, "actual_size_mm")?,
            })
        } else {
            None
        };
        Ok(PositionDiameter {
            diameter: length(self.zone_diameter_mm, "zone_diameter_mm")?,
            radius: length(self.radius_mm, "radius_mm")?,
            at_maximum_material: sizes,
        })
    }
}

/// # Safety
/// The contract of the exports that call it: `name`, `fields`, `terms` and what
/// they point to may be read, `out` may be written.
unsafe fn made<F>(
    name: *const c_char,
    fields: *const F,
    terms: *const JobTerms,
    out: *mut *mut JobHandle,
    build: impl FnOnce(&F) -> Outcome<Features>,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (name, fields, out) = unsafe {
            (
                string(name, "name")?,
                reference(fields, "fields")?,
                Out::new(out, "out")?,
            )
        };
        let mut job = Job::new(name, build(fields)?)?;
        if !terms.is_null() {
            // SAFETY: the contract of this function.
            job = unsafe { reference(terms, "terms")?.apply(job)? };
        }
        live::give(JobHandle::new(job)?, out);
        Ok(())
    })
}

/// A job: N equal divisions of anything.
///
/// `name` is what the job is called and ends with NUL; `terms` may be NULL.
///
/// Errors: those of dividing_job_check, the field's path as in job documents
/// (`features.equal_divisions.count`) or the name of a field of the terms;
/// null_pointer, invalid_utf8, misaligned. Ownership: `*out`
/// is the caller's, freed with dividing_job_free; what comes in is not kept.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_equal_divisions(
    name: *const c_char,
    fields: *const EqualDivisionsFields,
    terms: *const JobTerms,
    out: *mut *mut JobHandle,
) -> Status {
    // SAFETY: the contract of this function, for all that is pointed to.
    unsafe {
        made(name, fields, terms, out, |it| {
            Ok(Features::EqualDivisions(it.build()?))
        })
    }
}

/// A job: holes on a circle.
///
/// Arguments, errors, ownership and threads as dividing_job_equal_divisions.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_bolt_circle(
    name: *const c_char,
    fields: *const BoltCircleFields,
    terms: *const JobTerms,
    out: *mut *mut JobHandle,
) -> Status {
    // SAFETY: the contract of this function, for all that is pointed to.
    unsafe {
        made(name, fields, terms, out, |it| {
            Ok(Features::BoltCircle(it.build()?))
        })
    }
}

/// A job: flats on round stock.
///
/// Arguments, errors, ownership and threads as dividing_job_equal_divisions.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_flats(
    name: *const c_char,
    fields: *const FlatsFields,
    terms: *const JobTerms,
    out: *mut *mut JobHandle,
) -> Status {
    // SAFETY: the contract of this function, for all that is pointed to.
    unsafe {
        made(name, fields, terms, out, |it| {
            Ok(Features::Flats(it.build()?))
        })
    }
}

/// A job: slots with parallel sides.
///
/// Arguments, errors, ownership and threads as dividing_job_equal_divisions.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_slots(
    name: *const c_char,
    fields: *const SlotsFields,
    terms: *const JobTerms,
    out: *mut *mut JobHandle,
) -> Status {
    // SAFETY: the contract of this function, for all that is pointed to.
    unsafe {
        made(name, fields, terms, out, |it| {
            Ok(Features::Slots(it.build()?))
        })
    }
}

/// A job: teeth of a spur wheel.
///
/// Arguments, errors, ownership and threads as dividing_job_equal_divisions.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_teeth(
    name: *const c_char,
    fields: *const TeethFields,
    terms: *const JobTerms,
    out: *mut *mut JobHandle,
) -> Status {
    // SAFETY: the contract of this function, for all that is pointed to.
    unsafe {
        made(name, fields, terms, out, |it| {
            Ok(Features::Teeth(it.build()?))
        })
    }
}

/// A job: lines of a scale.
///
/// Arguments, errors, ownership and threads as dividing_job_equal_divisions.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_graduations(
    name: *const c_char,
    fields: *const GraduationsFields,
    terms: *const JobTerms,
    out: *mut *mut JobHandle,
) -> Status {
    // SAFETY: the contract of this function, for all that is pointed to.
    unsafe {
        made(name, fields, terms, out, |it| {
            Ok(Features::Graduations(it.build()?))
        })
    }
}

/// A job: any list of angles.
///
/// Arguments, errors, ownership and threads as dividing_job_equal_divisions.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_angles(
    name: *const c_char,
    fields: *const AnglesFields,
    terms: *const JobTerms,
    out: *mut *mut JobHandle,
) -> Status {
    // SAFETY: the contract of this function, for all that is pointed to.
    unsafe {
        made(name, fields, terms, out, |it| {
            Ok(Features::Angles(it.build()?))
        })
    }
}

/// A job from a JSON document with `"format": 1`.
///
/// `json` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
///
/// Errors: those of dividing_job_check, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_job_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_from_json(
    json: *const c_char,
    length: usize,
    out: *mut *mut JobHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (json, out) = unsafe { (text::read(json, length, "json")?, Out::new(out, "out")?) };
        live::give(JobHandle::new(Job::from_json(json)?)?, out);
        Ok(())
    })
}

/// Frees a job. Plans made from it stay as they are.
///
/// Ownership: the handle and its texts are gone; to free or use it again is an
/// error of the caller, seen (not_a_handle) only while its memory is not used
/// for something else. NULL is accepted and does nothing. Threads: any, while
/// no other thread uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_free(job: *mut JobHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(job, "job") }
}

/// What the job is called.
///
/// Errors: null_pointer, misaligned. Ownership: the text belongs to the handle
/// and is valid until it is freed. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_name(
    job: *const JobHandle,
    out: *mut *const c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::value_of(job, "job", out, |it| Ok(it.name.as_ptr())) }
}

/// How many features it has.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_count(job: *const JobHandle, out: *mut usize) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::value_of(job, "job", out, |it| Ok(it.job.features().count())) }
}

/// The drawing angles of all features, in the order of making, into the
/// caller's array of `capacity` fractions; dividing_job_count says how many.
///
/// Errors: buffer_too_small, overflow, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_feature_angles(
    job: *const JobHandle,
    turns: *mut Fraction,
    capacity: usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (job, turns) = unsafe {
            (
                live::reference(job, "job")?,
                OutArray::new(turns, capacity, "turns")?,
            )
        };
        let angles = job.job.features().angles()?;
        let angles = angles.into_iter().map(Fraction::of);
        turns.give(&angles.collect::<Outcome<Vec<_>>>()?)
    })
}

/// The largest deviation in angle that its tolerance allows, in radians; for
/// pitches the tightest limit.
///
/// Errors: not_found without a tolerance, null_pointer, misaligned. Threads:
/// any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_limit_rad(job: *const JobHandle, out: *mut f64) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(job, "job", out, |it| match it.job.tolerance() {
            Some(tolerance) => Ok(tolerance.limit_rad()?),
            None => Err(Failure::new(
                Status::NotFound,
                "tolerance",
                "the job has no tolerance; accepted: a job with one",
            )),
        })
    }
}

/// The job as a JSON document, as dividing_job_from_json reads it.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_json(job: *const JobHandle, out: *mut *mut c_char) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::text_of(job, "job", out, |it| Ok(it.job.to_json()?)) }
}
