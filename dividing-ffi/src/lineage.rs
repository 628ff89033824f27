//! Lineage: what a plate keeps of the device that it was drilled with.

use std::ffi::CStr;

use dividing_core::accuracy::{self, drilled_by_coordinates, position_zone_mm};

use crate::array::{OutArray, slice};
use crate::contributor::{self, ContributorRecord};
use crate::guard::guard;
use crate::pointer::Out;
use crate::status::Status;

/// What is left of angular errors behind a gear ratio, above 0, into the
/// caller's array of `capacity` records, one for each of the `count`
/// contributors: sensitivities over the ratio, and once drilled every error
/// stays with its hole.
///
/// Errors: out_of_range, not_finite, with the path to the field;
/// buffer_too_small; null_pointer, invalid_utf8, misaligned; on any of them no
/// record is touched. Ownership: names and samples of `carried` are those of
/// `contributors` and stay the caller's. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_carried(
    contributors: *const ContributorRecord,
    count: usize,
    ratio: f64,
    carried: *mut ContributorRecord,
    capacity: usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (list, records, out) = unsafe {
            (
                contributor::list(contributors, count)?,
                slice(contributors, count, "contributors")?,
                OutArray::new(carried, capacity, "carried")?,
            )
        };
        let found = accuracy::carried(&list, ratio)?;
        let made: Vec<_> = found
            .iter()
            .zip(records)
            .map(|(it, record)| ContributorRecord {
                name: record.name,
                samples: record.samples,
                ..ContributorRecord::of(it, c"")
            })
            .collect();
        out.give(&made)
    })
}

/// The axes of a drilling table, as contributors are named.
const AXES: [&CStr; 2] = [
    c"x axis of the table, from drilling",
    c"y axis of the table, from drilling",
];

/// What turns a hole that was drilled by coordinates at `radius_mm`, above 0,
/// and `angle_rad` from X, in radians: one contributor of the table's X axis
/// into `x_axis`, one of its Y axis into `y_axis`. `table_accuracy_mm`, 0 or
/// more, is the largest deviation of either axis either way, in millimetres.
///
/// Errors: out_of_range, not_finite, null_pointer, misaligned. Ownership: the
/// names belong to the library. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_drilled_by_coordinates_errors(
    table_accuracy_mm: f64,
    radius_mm: f64,
    angle_rad: f64,
    x_axis: *mut ContributorRecord,
    y_axis: *mut ContributorRecord,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (x_axis, y_axis) =
            unsafe { (Out::new(x_axis, "x_axis")?, Out::new(y_axis, "y_axis")?) };
        let [x, y] = drilled_by_coordinates(table_accuracy_mm, radius_mm, angle_rad)?;
        let [x_name, y_name] = AXES;
        x_axis.write(ContributorRecord::of(&x, x_name));
        y_axis.write(ContributorRecord::of(&y, y_name));
        Ok(())
    })
}

/// Diameter of the position zone, in millimetres, that the worst angular error
/// of `count` contributors fills at `radius_mm`, above 0: what to write into a
/// workshop as the `hole_position_tolerance` of a plate.
///
/// Errors: out_of_range, not_finite, with the path to the field; overflow;
/// null_pointer, invalid_utf8, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_position_zone_mm(
    contributors: *const ContributorRecord,
    count: usize,
    radius_mm: f64,
    out: *mut f64,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (list, out) = unsafe {
            (
                contributor::list(contributors, count)?,
                Out::new(out, "out")?,
            )
        };
        out.write(position_zone_mm(&list, radius_mm)?);
        Ok(())
    })
}
