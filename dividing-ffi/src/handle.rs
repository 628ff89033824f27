//! The shape of exports that read one value or text of a handle or a struct.

use std::ffi::c_char;

use crate::error::Outcome;
use crate::guard::guard;
use crate::live::{Handle, reference};
use crate::pointer::{self, Out};
use crate::status::Status;
use crate::text;

/// An export that reads one value from a handle called `name`.
///
/// # Safety
/// `handle` as in [`reference`], `out` as in [`Out::new`].
pub(crate) unsafe fn value_of<T: Handle, V>(
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

/// An export that makes one value of a struct of the caller called `name`.
///
/// # Safety
/// `fields` as in [`pointer::reference`], `out` as in [`Out::new`].
pub(crate) unsafe fn value_from<T, V>(
    fields: *const T,
    name: &str,
    out: *mut V,
    body: impl FnOnce(&T) -> Outcome<V>,
) -> Status {
    guard(|| {
        // SAFETY: the caller's contract.
        let (fields, out) = unsafe { (pointer::reference(fields, name)?, Out::new(out, "out")?) };
        out.write(body(fields)?);
        Ok(())
    })
}

/// An export that writes a text about a handle called `name`.
///
/// # Safety
/// As [`value_of`].
pub(crate) unsafe fn text_of<T: Handle>(
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
