//! The shape of exports that read one value or text of a handle or a struct, or
//! make a handle by a long search of another.

use std::ffi::c_char;

use dividing_core::work::Meter;

use crate::error::Outcome;
use crate::guard::guard;
use crate::live::{self, Handle, reference};
use crate::pointer::{self, Out};
use crate::status::Status;
use crate::text;
use crate::watch::{Work, metered};

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

/// An export that makes a handle by a long search of a handle called `name`.
///
/// # Safety
/// `handle` and `out` as in [`value_of`], `work` as in [`metered`].
pub(crate) unsafe fn made_from<T: Handle, H: Handle>(
    handle: *const T,
    name: &str,
    (work_limit, watcher, userdata): Work,
    out: *mut *mut H,
    search: impl FnOnce(&T, &mut Meter<'_>) -> Outcome<H>,
) -> Status {
    guard(|| {
        // SAFETY: the caller's contract.
        let (handle, out) = unsafe { (reference(handle, name)?, Out::new(out, "out")?) };
        // SAFETY: the caller's contract.
        let made =
            unsafe { metered(work_limit, watcher, userdata, |meter| search(handle, meter))? };
        live::give(made, out);
        Ok(())
    })
}
