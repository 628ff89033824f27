//! Handles and the mark they carry: a pointer to something else, or to a handle
//! that was freed, is seen as far as its memory still says so.

use std::mem::offset_of;
use std::ptr::{read_volatile, write_volatile};

use crate::error::{Failure, Outcome};
use crate::guard::guard;
use crate::pointer::{self, Out, check};
use crate::status::Status;

/// A type whose pointers are handles.
pub(crate) trait Handle: Send + Sync {
    /// Eight letters of its own.
    const MARK: [u8; 8];
}

/// What a handle points to: the value, and behind it, where allocators leave
/// freed memory alone longest, the mark.
#[repr(C)]
struct Live<T> {
    value: T,
    mark: u64,
}

const fn mark<T: Handle>() -> u64 {
    u64::from_ne_bytes(T::MARK)
}

/// What stands in the place of the mark once a handle is freed.
const FREED: u64 = u64::from_ne_bytes(*b"freed...");

/// Gives a new handle to the caller.
pub(crate) fn give<T: Handle>(value: T, out: Out<*mut T>) {
    let live = Live {
        value,
        mark: mark::<T>(),
    };
    out.write(Box::into_raw(Box::new(live)).cast());
}

/// Checks that a pointer is a handle of its type, as far as can be seen.
///
/// # Safety
/// As [`reference`].
unsafe fn check_mark<T: Handle>(handle: *const T, name: &str) -> Outcome {
    check(handle.cast::<Live<T>>(), name)?;
    // SAFETY: by the caller's contract a handle that lives. The read is volatile
    // because a caller who breaks the contract is whom it is for.
    let found = unsafe {
        read_volatile(
            handle
                .cast::<u8>()
                .add(offset_of!(Live<T>, mark))
                .cast::<u64>(),
        )
    };
    if found == mark::<T>() {
        return Ok(());
    }
    let what = if found == FREED {
        "the handle was freed"
    } else {
        "the pointer is no handle of this sort"
    };
    Err(Failure::new(
        Status::NotAHandle,
        name,
        format!("{what}; accepted: a handle that the library made and that is not freed"),
    ))
}

/// A handle of the caller, to read.
///
/// # Safety
/// A pointer that is aligned and not null came from [`give`] and is not freed
/// during `'a`.
pub(crate) unsafe fn reference<'a, T: Handle>(handle: *const T, name: &str) -> Outcome<&'a T> {
    // SAFETY: the caller's contract, and checked.
    unsafe {
        check_mark(handle, name)?;
        pointer::reference(handle, name)
    }
}

/// An export that frees a handle; NULL does nothing, and what is seen to be no
/// handle is left alone and kept as the last error.
///
/// # Safety
/// A pointer that is not null came from [`give`] and is not used again.
pub(crate) unsafe fn free<T: Handle>(handle: *mut T, name: &str) {
    guard(|| {
        if handle.is_null() {
            return Ok(());
        }
        let live = handle.cast::<Live<T>>();
        // SAFETY: the caller's contract, and checked; the mark is written first,
        // so that it stays behind in the freed memory.
        unsafe {
            check_mark(handle, name)?;
            write_volatile(&raw mut (*live).mark, FREED);
            drop(Box::from_raw(live));
        }
        Ok(())
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::error::dividing_last_error_status;
    use std::ptr::null_mut;

    struct Five(u8);
    impl Handle for Five {
        const MARK: [u8; 8] = *b"five    ";
    }
    struct Six;
    impl Handle for Six {
        const MARK: [u8; 8] = *b"six     ";
    }

    #[test]
    fn a_handle_of_another_sort_is_seen() {
        let mut five: *mut Five = null_mut();
        // SAFETY: a place for the handle, then the handle; that of another sort
        // is no smaller.
        unsafe {
            give(Five(5), Out::new(&mut five, "out").unwrap());
            assert_eq!(reference(five, "five").unwrap().0, 5);
            let wrong = five.cast::<Six>().cast_const();
            assert!(reference(wrong.wrapping_byte_add(8), "six").is_err());
            free(five.cast::<Six>().wrapping_byte_add(8), "six");
            assert_eq!(dividing_last_error_status(), Status::NotAHandle);
            free(five, "five");
        }
    }

    /// Memory that looks as a freed handle does, and is still ours to read.
    #[test]
    fn a_freed_handle_is_seen() {
        let mut live = Live {
            value: Five(5),
            mark: FREED,
        };
        let handle = (&raw mut live).cast::<Five>();
        // SAFETY: memory of the right shape.
        unsafe {
            assert!(reference(handle, "five").is_err());
            free(handle, "five");
        }
        assert_eq!(dividing_last_error_status(), Status::NotAHandle);
    }
}
