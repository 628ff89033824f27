//! Ways: how each piece of equipment can be used, and the exact set of
//! orientations that it then holds.

use std::ffi::{c_char, c_void};

use dividing_core::accuracy::entry_finding;
use dividing_core::reach::{self, Reach, Way};
use dividing_core::{Angle, Workshop};

use crate::angle::Fraction;
use crate::array::OutArray;
use crate::error::{Failure, Outcome};
use crate::fields::fitted;
use crate::geometry::EntryRecord;
use crate::guard::guard;
use crate::handle;
use crate::job::JobHandle;
use crate::live::{self, Handle};
use crate::orientations::give_cosets;
use crate::pointer::Out;
use crate::setting::SettingRecord;
use crate::status::Status;
use crate::text;
use crate::watch::{Watcher, Work, metered};
use crate::workshop::WorkshopHandle;

/// Every way to use what a workshop owns: an opaque handle.
///
/// Made by dividing_ways_new, freed by dividing_ways_free. It never changes in
/// between, so any number of threads may read it at a time.
pub struct WaysHandle {
    workshop: Workshop,
    ways: Vec<Way>,
}

impl Handle for WaysHandle {
    const MARK: [u8; 8] = *b"all ways";
}

impl WaysHandle {
    pub(crate) fn way(&self, index: usize) -> Outcome<&Way> {
        self.ways.get(index).ok_or_else(|| {
            Failure::new(
                Status::NotFound,
                "way",
                format!(
                    "there is no way {index}; accepted: less than the {} that there are",
                    self.ways.len()
                ),
            )
        })
    }
}

/// One way at a glance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct WayRecord {
    /// The piece of equipment, by its place in the workshop.
    pub equipment: usize,
    /// Cosets of the set that it holds: equally spaced orientations each, by
    /// dividing_ways_cosets.
    pub coset_count: usize,
    /// Orientations of the set, counted coset by coset.
    pub orientation_count: u64,
    /// How many equally spaced orientations it would hold were no hole absent.
    pub full_order: u64,
    /// What the device presents at its zero setting, in turns.
    pub zero: Fraction,
    /// Whether fine points are added to the set: tilts of a sine bar, stacks of
    /// angle gauge blocks, bars across rings.
    pub has_fine_points: bool,
}

/// What one way can do for a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct ReachRecord {
    /// Whether every feature is exact.
    pub exact: bool,
    /// What the device presents when drawing angle 0 stands at the cutter, in
    /// turns.
    pub start: Fraction,
    /// The largest residual, without sign, in turns: the least that the way
    /// allows.
    pub largest_residual: Fraction,
}

/// Every way of every piece of a workshop, in its order; with a job also the
/// best compound and differential set-ups for it, and moves to be repeated where
/// nothing is exact.
///
/// `job` may be NULL. `work_limit`, `watcher` and `userdata` as
/// dividing_plans_new_within.
///
/// Errors: overflow when an angle does not fit; work_limit, cancelled;
/// null_pointer, misaligned. Ownership: `*out` is the caller's, freed with
/// dividing_ways_free; workshop and job may be freed before it. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_ways_new(
    workshop: *const WorkshopHandle,
    job: *const JobHandle,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut WaysHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (workshop, job, out) = unsafe {
            (
                live::reference(workshop, "workshop")?.workshop(),
                if job.is_null() {
                    None
                } else {
                    Some(live::reference(job, "job")?.job())
                },
                Out::new(out, "out")?,
            )
        };
        // SAFETY: the caller gave the watcher to be called so.
        let ways = unsafe {
            metered(work_limit, watcher, userdata, |meter| match job {
                Some(job) => reach::ways_for(workshop, job, meter),
                None => reach::ways(workshop, meter),
            })?
        };
        let workshop = workshop.clone();
        live::give(WaysHandle { workshop, ways }, out);
        Ok(())
    })
}

/// Frees ways.
///
/// Ownership: the handle is gone; to free or use it again is an error of the
/// caller, seen (not_a_handle) only while its memory is not used for something
/// else. NULL is accepted and does nothing. Threads: any, while no other thread
/// uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_ways_free(ways: *mut WaysHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(ways, "ways") }
}

/// How many ways there are.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_ways_count(ways: *const WaysHandle, out: *mut usize) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::value_of(ways, "ways", out, |it| Ok(it.ways.len())) }
}

/// One way at a glance, counted from 0.
///
/// Errors: not_found; overflow when a number does not fit its field;
/// null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_ways_get(
    ways: *const WaysHandle,
    way: usize,
    out: *mut WayRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(ways, "ways", out, |it| {
            let way = it.way(way)?;
            Ok(WayRecord {
                equipment: way.equipment(),
                coset_count: way.set().cosets().count(),
                orientation_count: fitted(way.set().count(), "orientation_count")?,
                full_order: fitted(way.full_order(), "full_order")?,
                zero: Fraction::of(way.zero())?,
                has_fine_points: way.fine_points().is_some(),
            })
        })
    }
}

/// How the equipment is used in a way, as JSON: "block_flat",
/// {"direct_circle":{"circle":0}}.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_ways_kind_json(
    ways: *const WaysHandle,
    way: usize,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::text_of(ways, "ways", out, |it| text::json(&it.way(way)?.kind())) }
}

/// The exact set that a way holds, into two arrays of the caller of `capacity`
/// entries each: of every coset the `orders` of its equally spaced orientations
/// and the angle that one of them goes `through`, in turns from 0 to below
/// 1/order.
///
/// Errors: not_found, buffer_too_small; overflow when a number does not fit its
/// field; null_pointer, misaligned; on any of them no array is touched. Threads:
/// any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_ways_cosets(
    ways: *const WaysHandle,
    way: usize,
    orders: *mut u64,
    through: *mut Fraction,
    capacity: usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (ways, orders, through) = unsafe {
            (
                live::reference(ways, "ways")?,
                OutArray::new(orders, capacity, "orders")?,
                OutArray::new(through, capacity, "through")?,
            )
        };
        give_cosets(ways.way(way)?.set(), orders, through)
    })
}

/// Whether the set of a way holds an orientation exactly, in turns, whole turns
/// not counted; fine points are left out.
///
/// Errors: not_found; out_of_range for a denominator of 0; overflow;
/// null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_ways_holds(
    ways: *const WaysHandle,
    way: usize,
    turns: Fraction,
    out: *mut bool,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(ways, "ways", out, |it| {
            Ok(it.way(way)?.set().contains(turns.given("turns")?)?)
        })
    }
}

/// What to set so that a way presents an orientation of its set, in turns, as a
/// record.
///
/// Errors: not_found for a way, and for an orientation that its set does not
/// hold; out_of_range for a denominator of 0; overflow when a number does not
/// fit its field; null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_ways_setting(
    ways: *const WaysHandle,
    way: usize,
    turns: Fraction,
    out: *mut SettingRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(ways, "ways", out, |it| {
            let (way, turns) = (it.way(way)?, turns.given("turns")?);
            if !way.set().contains(turns)? {
                return Err(not_held(turns));
            }
            SettingRecord::of(&way.setting(&it.workshop, turns)?)
        })
    }
}

fn not_held(turns: Angle) -> Failure {
    Failure::new(
        Status::NotFound,
        "turns",
        format!("{turns} is not held; accepted: an orientation of the set of this way"),
    )
}

/// An export that lays a job on a way and reads one value of what it reaches.
///
/// # Safety
/// The contract of the exports that call it.
unsafe fn laid<V>(
    ways: *const WaysHandle,
    way: usize,
    job: *const JobHandle,
    (work_limit, watcher, userdata): Work,
    out: *mut V,
    body: impl FnOnce(&Workshop, &Reach) -> Outcome<V>,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (ways, job, out) = unsafe {
            (
                live::reference(ways, "ways")?,
                live::reference(job, "job")?.job(),
                Out::new(out, "out")?,
            )
        };
        let way = ways.way(way)?;
        // SAFETY: the caller gave the watcher to be called so.
        let found = unsafe {
            metered(work_limit, watcher, userdata, |meter| {
                reach::reach(&ways.workshop, way, job, meter)
            })?
        };
        out.write(body(&ways.workshop, &found)?);
        Ok(())
    })
}

/// Lays the pattern of a job on one way: exactly where it can be, else with the
/// largest residual as small as it can be.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
///
/// Errors: not_found; overflow when the angles have no common denominator within
/// bounds or do not fit their fields; work_limit, cancelled; null_pointer,
/// misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_ways_reach(
    ways: *const WaysHandle,
    way: usize,
    job: *const JobHandle,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut ReachRecord,
) -> Status {
    let work = (work_limit, watcher, userdata);
    // SAFETY: the contract of this function.
    unsafe {
        laid(ways, way, job, work, out, |_, found| {
            Ok(ReachRecord {
                exact: found.exact,
                start: Fraction::of(found.start)?,
                largest_residual: Fraction::of(found.largest_residual)?,
            })
        })
    }
}

/// Whether the pin of a way enters its holes when a job is laid on it, at worst
/// and how likely for one hole; of a stack for the member where it is tightest.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
///
/// Errors: not_found for a way; undetermined where no pin enters holes, or the
/// workshop does not say its sizes; overflow; work_limit, cancelled;
/// null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_ways_pin_entry(
    ways: *const WaysHandle,
    way: usize,
    job: *const JobHandle,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut EntryRecord,
) -> Status {
    let work = (work_limit, watcher, userdata);
    // SAFETY: the contract of this function.
    unsafe {
        laid(ways, way, job, work, out, |workshop, found| {
            let entry = entry_finding(workshop, found)?.ok_or_else(|| {
                Failure::new(
                    Status::Undetermined,
                    "way",
                    "no pin enters holes in this way, or its sizes are not known; accepted: \
                     equipment with a registration",
                )
            })?;
            Ok(EntryRecord::of(entry))
        })
    }
}
