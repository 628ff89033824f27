//! Documents: looked at before they are used.

use std::ffi::c_char;

use dividing_core::{Job, Workshop};

use crate::guard::guard;
use crate::status::Status;
use crate::text;

/// Checks a workshop, a JSON document with `"format": 1`.
///
/// `workshop` is UTF-8 of `length` bytes, or up to its NUL with
/// DIVIDING_NUL_ENDED.
///
/// Errors: the first thing that does not make sense, its path in
/// dividing_last_error_field: malformed_json, unknown_field, invalid_field,
/// unknown_format, out_of_range, not_finite, empty_list, duplicate,
/// inconsistent, overflow; null_pointer, invalid_utf8. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_workshop_check(workshop: *const c_char, length: usize) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let text = unsafe { text::read(workshop, length, "workshop")? };
        Workshop::from_json(text)?;
        Ok(())
    })
}

/// Checks a job, a JSON document with `"format": 1`.
///
/// `job` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
///
/// Errors: as dividing_workshop_check. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_job_check(job: *const c_char, length: usize) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let text = unsafe { text::read(job, length, "job")? };
        Job::from_json(text)?;
        Ok(())
    })
}
