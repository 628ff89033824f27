//! Measures of the features of a job.

use dividing_core::features::{Features, OppositeMeasure};

use crate::array::OutArray;
use crate::error::{Failure, Outcome};
use crate::guard::guard;
use crate::handle;
use crate::job::JobHandle;
use crate::live;
use crate::status::Status;

/// What lies opposite a flat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum Opposite {
    /// Another flat.
    Flat = 0,
    /// What remains of the round.
    Round = 1,
    /// A sharp corner.
    Corner = 2,
}

/// Measures of flats, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct FlatsMeasures {
    /// Depth of cut for each flat.
    pub depth_mm: f64,
    /// What lies opposite a flat.
    pub opposite: Opposite,
    /// From a flat to what lies opposite.
    pub over_opposite_mm: f64,
    /// Width of one finished flat.
    pub flat_width_mm: f64,
    /// Largest diameter over the finished corners.
    pub across_corners_mm: f64,
    /// Stock diameter from which on the corners come out sharp; NaN for two
    /// flats, which have no corners.
    pub stock_for_sharp_corners_mm: f64,
}

/// Measures of slots, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct SlotsMeasures {
    /// Width of the land between two slots at the outside, as a chord.
    pub land_mm: f64,
    /// Material between two slots at their bottom; 0 or less where they run
    /// into one another.
    pub web_at_bottom_mm: f64,
    /// From the bottom of a slot to that of the slot opposite; NaN for an odd
    /// count.
    pub over_bottoms_mm: f64,
}

/// Measures of a spur wheel, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct TeethMeasures {
    /// The module.
    pub module_mm: f64,
    /// Pitch diameter.
    pub pitch_diameter_mm: f64,
    /// Outside diameter.
    pub outside_diameter_mm: f64,
    /// Depth of a space with a clearance of a quarter module.
    pub whole_depth_mm: f64,
}

fn other(wanted: &str) -> Failure {
    Failure::new(
        Status::Inconsistent,
        "job",
        format!("the job has other features; accepted: a job with {wanted}"),
    )
}

/// What the bench measures at the flats of a job.
///
/// Errors: inconsistent for a job without flats, null_pointer, misaligned.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_flats_measures(
    job: *const JobHandle,
    out: *mut FlatsMeasures,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(job, "job", out, |it| {
            let Features::Flats(flats) = it.job().features() else {
                return Err(other("flats"));
            };
            let found = flats.geometry();
            Ok(FlatsMeasures {
                depth_mm: found.depth_mm,
                opposite: match found.opposite {
                    OppositeMeasure::Flat => Opposite::Flat,
                    OppositeMeasure::Round => Opposite::Round,
                    OppositeMeasure::Corner => Opposite::Corner,
                },
                over_opposite_mm: found.over_opposite_mm,
                flat_width_mm: found.flat_width_mm,
                across_corners_mm: found.across_corners_mm,
                stock_for_sharp_corners_mm: found.stock_for_sharp_corners_mm.unwrap_or(f64::NAN),
            })
        })
    }
}

/// What the bench measures at the slots of a job.
///
/// Errors: inconsistent for a job without slots, null_pointer, misaligned.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_slots_measures(
    job: *const JobHandle,
    out: *mut SlotsMeasures,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(job, "job", out, |it| {
            let Features::Slots(slots) = it.job().features() else {
                return Err(other("slots"));
            };
            let found = slots.geometry();
            Ok(SlotsMeasures {
                land_mm: found.land_mm,
                web_at_bottom_mm: found.web_at_bottom_mm,
                over_bottoms_mm: found.over_bottoms_mm.unwrap_or(f64::NAN),
            })
        })
    }
}

/// The measures of the wheel of a job.
///
/// Errors: inconsistent for a job without teeth, null_pointer, misaligned.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_teeth_measures(
    job: *const JobHandle,
    out: *mut TeethMeasures,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(job, "job", out, |it| {
            let Features::Teeth(teeth) = it.job().features() else {
                return Err(other("teeth"));
            };
            let found = teeth.geometry();
            Ok(TeethMeasures {
                module_mm: found.module_mm,
                pitch_diameter_mm: found.pitch_diameter_mm,
                outside_diameter_mm: found.outside_diameter_mm,
                whole_depth_mm: found.whole_depth_mm,
            })
        })
    }
}

/// The centres of the holes of a job's bolt circle in the machine's axes, in
/// millimetres, in the order of making, into two arrays of the caller of
/// `capacity` numbers each; dividing_job_count says how many.
///
/// Errors: inconsistent for a job without a bolt circle, buffer_too_small,
/// null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_hole_places(
    job: *const JobHandle,
    capacity: usize,
    x_mm: *mut f64,
    y_mm: *mut f64,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (job, x, y) = unsafe {
            (
                live::reference(job, "job")?,
                OutArray::new(x_mm, capacity, "x_mm")?,
                OutArray::new(y_mm, capacity, "y_mm")?,
            )
        };
        let features = job.job().features();
        let Features::BoltCircle(circle) = features else {
            return Err(other("a bolt circle"));
        };
        let places: Vec<_> = features
            .angles()?
            .into_iter()
            .map(|angle| circle.place(angle))
            .collect();
        x.check_room(places.len())?;
        y.check_room(places.len())?;
        x.write(places.iter().map(|place| place.x_mm));
        y.write(places.iter().map(|place| place.y_mm));
        Ok(())
    })
}

/// Centre distance of holes of a job's bolt circle that are `spaces` apart, in
/// millimetres, to check by.
///
/// Errors: inconsistent for a job without a bolt circle, null_pointer,
/// misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_chord_mm(
    job: *const JobHandle,
    spaces: u32,
    out: *mut f64,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(job, "job", out, |it| -> Outcome<f64> {
            match it.job().features() {
                Features::BoltCircle(circle) => Ok(circle.chord_mm(spaces)),
                _ => Err(other("a bolt circle")),
            }
        })
    }
}
