//! Pointers of the caller: checked, then used.

use crate::error::{Failure, Outcome};
use crate::status::Status;

pub(crate) fn check<T>(pointer: *const T, name: &str) -> Outcome {
    if pointer.is_null() {
        return Err(Failure::new(
            Status::NullPointer,
            name,
            "the pointer is NULL; accepted: a pointer to what the function names",
        ));
    }
    if !pointer.is_aligned() {
        return Err(Failure::new(
            Status::Misaligned,
            name,
            format!(
                "the address {:p} is not aligned; accepted: a multiple of {}",
                pointer,
                align_of::<T>()
            ),
        ));
    }
    Ok(())
}

/// A value of the caller or a handle, to read.
///
/// # Safety
/// A pointer that is aligned and not null points to a live `T` that nobody
/// changes or frees during `'a`.
pub(crate) unsafe fn reference<'a, T>(pointer: *const T, name: &str) -> Outcome<&'a T> {
    check(pointer, name)?;
    // SAFETY: checked above, and by the caller's contract.
    Ok(unsafe { &*pointer })
}

/// A place of the caller that takes one output.
pub(crate) struct Out<T> {
    place: *mut T,
}

impl<T> Out<T> {
    /// Checks the place.
    ///
    /// # Safety
    /// A pointer that is aligned and not null may be written to, as a `T`, until
    /// the export returns.
    pub(crate) unsafe fn new(place: *mut T, name: &str) -> Outcome<Self> {
        check(place, name)?;
        Ok(Self { place })
    }

    /// Writes the output: the last step of a call.
    pub(crate) fn write(self, value: T) {
        // SAFETY: checked by `new`, whose caller vouched for the place. What was
        // there before is not dropped: it is the caller's, perhaps unset.
        unsafe { self.place.write(value) }
    }
}
