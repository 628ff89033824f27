//! Handles: values of the library that the caller holds by pointer.

use std::ffi::c_char;

use crate::error::Outcome;
use crate::guard::guard;
use crate::pointer::{Out, reference};
use crate::status::Status;
use crate::text;

/// Gives a new handle to the caller.
pub(crate) fn give<T>(value: T, out: Out<*mut T>) {
    out.write(Box::into_raw(Box::new(value)));
}

/// Frees a handle; NULL does nothing.
///
/// # Safety
/// A pointer that is not null came from [`give`] and is not used again.
pub(crate) unsafe fn free<T>(handle: *mut T) {
    guard(|| {
        if !handle.is_null() {
            // SAFETY: the caller's contract.
            drop(unsafe { Box::from_raw(handle) });
        }
        Ok(())
    });
}

/// An export that reads one value from a handle or struct called `name`.
///
/// # Safety
/// `handle` as in [`reference`], `out` as in [`Out::new`].
pub(crate) unsafe fn value_of<T, V>(
    handle: *const T,
    name: &str,
    out: *mut V,
    body: impl FnOnce(&T) -> Outcome<V>,
) -> Status {
    guard(|| {
        // SAFETY: the caller's contract.
        let (handle, out) = unsafe { (reference(handle, name)?, Out::new(out, "out")?) };
        out.write(body(handle)?);
        Ok(())
    })
}

/// An export that writes a text about a handle or struct called `name`.
///
/// # Safety
/// As [`value_of`].
pub(crate) unsafe fn text_of<T>(
    handle: *const T,
    name: &str,
    out: *mut *mut c_char,
    body: impl FnOnce(&T) -> Outcome<String>,
) -> Status {
    guard(|| {
        // SAFETY: the caller's contract.
        let (handle, out) = unsafe { (reference(handle, name)?, Out::new(out, "out")?) };
        text::give(body(handle)?, out)
    })
}

/// Many threads may read a handle of this type, as the comments promise.
pub(crate) const fn read_by_many_threads<T: Send + Sync>() {}
