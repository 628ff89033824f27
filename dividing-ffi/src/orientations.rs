//! Sets of orientations on their own, and the starts from which they hold a
//! pattern.

use std::ffi::c_void;

use dividing_core::Result;
use dividing_core::reach::{Coset, OrientationSet};
use dividing_core::work::Meter;

use crate::angle::Fraction;
use crate::array::{OutArray, slice};
use crate::error::Outcome;
use crate::fields::{at, fitted};
use crate::guard::guard;
use crate::handle;
use crate::live::{self, Handle};
use crate::plate_fields::angles;
use crate::pointer::Out;
use crate::status::Status;
use crate::watch::{Watcher, metered};
use crate::ways::WaysHandle;

/// An exact set of orientations: an opaque handle.
///
/// Made by dividing_ways_orientations and its like, freed by
/// dividing_orientations_free. It never changes in between, so any number of
/// threads may read it at a time.
pub struct OrientationsHandle {
    set: OrientationSet,
}

impl Handle for OrientationsHandle {
    const MARK: [u8; 8] = *b"orientns";
}

/// Writes the cosets of a set into two arrays.
pub(crate) fn give_cosets(
    set: &OrientationSet,
    orders: OutArray<u64>,
    through: OutArray<Fraction>,
) -> Outcome {
    let all: Vec<Coset> = set.cosets().collect();
    let order = |it: &Coset| fitted(it.order(), "orders");
    let sizes = all.iter().map(order).collect::<Outcome<Vec<u64>>>()?;
    let offset = |it: &Coset| Fraction::of(it.offset());
    let angles = all.iter().map(offset).collect::<Outcome<Vec<_>>>()?;
    orders.check_room(all.len())?;
    through.check_room(all.len())?;
    orders.write(sizes);
    through.write(angles);
    Ok(())
}

/// The exact set that a way holds; its fine points are left out.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_orientations_free; the ways may be freed before
/// it. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_ways_orientations(
    ways: *const WaysHandle,
    way: usize,
    out: *mut *mut OrientationsHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (ways, out) = unsafe { (live::reference(ways, "ways")?, Out::new(out, "out")?) };
        let set = ways.way(way)?.set().clone();
        live::give(OrientationsHandle { set }, out);
        Ok(())
    })
}

/// The set of `count` cosets: of each the `orders` of its equally spaced
/// orientations, 1 or more, and an angle that one of them goes `through`, in
/// turns. With no cosets it holds nothing.
///
/// Errors: out_of_range for an order or denominator of 0, with the path to it;
/// overflow, null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_orientations_free; nothing that comes in is kept. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_orientations_of_cosets(
    orders: *const u64,
    through: *const Fraction,
    count: usize,
    out: *mut *mut OrientationsHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (orders, through, out) = unsafe {
            (
                slice(orders, count, "orders")?,
                slice(through, count, "through")?,
                Out::new(out, "out")?,
            )
        };
        let angles = angles(through, "through")?;
        let each = orders.iter().zip(angles).enumerate();
        let cosets = each.map(|(index, (order, angle))| {
            at(
                Coset::new(angle, (*order).into()),
                &format!("orders[{index}]"),
            )
        });
        let set = OrientationSet::from_cosets(cosets.collect::<Outcome<Vec<_>>>()?)?;
        live::give(OrientationsHandle { set }, out);
        Ok(())
    })
}

/// Frees a set of orientations.
///
/// Ownership: the handle is gone; to free or use it again is an error of the
/// caller, seen (not_a_handle) only while its memory is not used for something
/// else. NULL is accepted and does nothing. Threads: any, while no other thread
/// uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_orientations_free(orientations: *mut OrientationsHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(orientations, "orientations") }
}

/// How many cosets a set is written with; 0 for one that holds nothing.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_orientations_coset_count(
    orientations: *const OrientationsHandle,
    out: *mut usize,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(orientations, "orientations", out, |it| {
            Ok(it.set.cosets().count())
        })
    }
}

/// The cosets of a set, into two arrays of the caller of `capacity` entries
/// each, as dividing_ways_cosets.
///
/// Errors: buffer_too_small; overflow when a number does not fit its field;
/// null_pointer, misaligned; on any of them no array is touched. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_orientations_cosets(
    orientations: *const OrientationsHandle,
    orders: *mut u64,
    through: *mut Fraction,
    capacity: usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (orientations, orders, through) = unsafe {
            (
                live::reference(orientations, "orientations")?,
                OutArray::new(orders, capacity, "orders")?,
                OutArray::new(through, capacity, "through")?,
            )
        };
        give_cosets(&orientations.set, orders, through)
    })
}

/// Whether a set holds an orientation, in turns, whole turns not counted.
///
/// Errors: out_of_range for a denominator of 0; overflow, null_pointer,
/// misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_orientations_hold(
    orientations: *const OrientationsHandle,
    turns: Fraction,
    out: *mut bool,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(orientations, "orientations", out, |it| {
            Ok(it.set.contains(turns.given("turns")?)?)
        })
    }
}

/// Everything that one set or the other holds.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_orientations_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_orientations_union(
    first: *const OrientationsHandle,
    second: *const OrientationsHandle,
    out: *mut *mut OrientationsHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (first, second, out) = unsafe {
            (
                live::reference(first, "first")?,
                live::reference(second, "second")?,
                Out::new(out, "out")?,
            )
        };
        let set = first.set.union(&second.set);
        live::give(OrientationsHandle { set }, out);
        Ok(())
    })
}

/// # Safety
/// The contract of the exports that call it.
unsafe fn of_two(
    first: *const OrientationsHandle,
    second: *const OrientationsHandle,
    (work_limit, watcher, userdata): (u64, Watcher, *mut c_void),
    out: *mut *mut OrientationsHandle,
    body: impl FnOnce(&OrientationSet, &OrientationSet, &mut Meter<'_>) -> Result<OrientationSet>,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (first, second, out) = unsafe {
            (
                live::reference(first, "first")?,
                live::reference(second, "second")?,
                Out::new(out, "out")?,
            )
        };
        // SAFETY: the caller gave the watcher to be called so.
        let set = unsafe {
            metered(work_limit, watcher, userdata, |meter| {
                body(&first.set, &second.set, meter)
            })?
        };
        live::give(OrientationsHandle { set }, out);
        Ok(())
    })
}

/// Every sum of an orientation of one set and one of the other: one device held
/// on another.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
///
/// Errors: overflow, work_limit, cancelled, null_pointer, misaligned. Ownership:
/// `*out` is the caller's, freed with dividing_orientations_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_orientations_sum(
    first: *const OrientationsHandle,
    second: *const OrientationsHandle,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut OrientationsHandle,
) -> Status {
    let terms = (work_limit, watcher, userdata);
    // SAFETY: the contract of this function.
    unsafe { of_two(first, second, terms, out, OrientationSet::sum) }
}

/// What both sets hold.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
///
/// Errors: overflow, work_limit, cancelled, null_pointer, misaligned. Ownership:
/// `*out` is the caller's, freed with dividing_orientations_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_orientations_intersection(
    first: *const OrientationsHandle,
    second: *const OrientationsHandle,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut OrientationsHandle,
) -> Status {
    let terms = (work_limit, watcher, userdata);
    // SAFETY: the contract of this function.
    unsafe { of_two(first, second, terms, out, OrientationSet::intersection) }
}

/// Whether the second set holds everything that the first holds; sets that lie
/// within one another are equal, however they are written.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
///
/// Errors: overflow, work_limit, cancelled, null_pointer, misaligned. Threads:
/// any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_orientations_within(
    first: *const OrientationsHandle,
    second: *const OrientationsHandle,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut bool,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (first, second, out) = unsafe {
            (
                live::reference(first, "first")?,
                live::reference(second, "second")?,
                Out::new(out, "out")?,
            )
        };
        // SAFETY: the caller gave the watcher to be called so.
        let within = unsafe {
            metered(work_limit, watcher, userdata, |meter| {
                first.set.is_within(&second.set, meter)
            })?
        };
        out.write(within);
        Ok(())
    })
}

/// Every start from which a set, such as that of a way, holds a whole pattern of
/// `count` angles exactly, in turns: a set that holds nothing where there is
/// none.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
///
/// Errors: out_of_range for a denominator of 0, with the path to it; overflow,
/// work_limit, cancelled, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_orientations_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_orientations_exact_starts(
    orientations: *const OrientationsHandle,
    turns: *const Fraction,
    count: usize,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut OrientationsHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (orientations, turns, out) = unsafe {
            (
                live::reference(orientations, "orientations")?,
                slice(turns, count, "turns")?,
                Out::new(out, "out")?,
            )
        };
        let pattern = angles(turns, "turns")?;
        // SAFETY: the caller gave the watcher to be called so.
        let set = unsafe {
            metered(work_limit, watcher, userdata, |meter| {
                orientations.set.starts_for(&pattern, meter)
            })?
        };
        live::give(OrientationsHandle { set }, out);
        Ok(())
    })
}
