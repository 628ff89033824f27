//! Texts: UTF-8 in by pointer and length, and out as texts of the library.

use std::ffi::{CStr, CString, c_char};

use crate::error::{Failure, Outcome};
use crate::guard::guard;
use crate::pointer::Out;
use crate::status::Status;

/// The length that says "up to the NUL"; DIVIDING_NUL_ENDED in the header.
pub const NUL_ENDED: usize = usize::MAX;

/// Longest text that is looked at, in bytes: the limit of documents.
pub const LONGEST_TEXT_BYTES: usize = 16 * 1024 * 1024;

/// A text of the caller.
///
/// # Safety
/// A pointer that is not null points to `length` bytes, or with [`NUL_ENDED`] to
/// bytes up to a NUL, which nobody changes during `'a`.
pub(crate) unsafe fn read<'a>(text: *const c_char, length: usize, name: &str) -> Outcome<&'a str> {
    if text.is_null() {
        return Err(Failure::new(
            Status::NullPointer,
            name,
            "the text is NULL; accepted: a pointer to UTF-8 text",
        ));
    }
    let bytes = if length == NUL_ENDED {
        // SAFETY: the caller says that the text ends with NUL.
        unsafe { CStr::from_ptr(text) }.to_bytes()
    } else {
        check_length(length, name)?;
        // SAFETY: not null, and so long by the caller's contract; the limit is
        // far below isize::MAX.
        unsafe { std::slice::from_raw_parts(text.cast::<u8>(), length) }
    };
    check_length(bytes.len(), name)?;
    std::str::from_utf8(bytes).map_err(|error| {
        Failure::new(
            Status::InvalidUtf8,
            name,
            format!(
                "the text is not UTF-8 at byte {}; accepted: UTF-8",
                error.valid_up_to()
            ),
        )
    })
}

fn check_length(length: usize, name: &str) -> Outcome {
    if length <= LONGEST_TEXT_BYTES {
        Ok(())
    } else {
        Err(Failure::new(
            Status::OutOfRange,
            name,
            format!(
                "a text of {length} bytes is out of range; accepted: at most {LONGEST_TEXT_BYTES} bytes"
            ),
        ))
    }
}

/// A text for C.
pub(crate) fn for_c(text: impl Into<String>) -> Outcome<CString> {
    CString::new(text.into()).map_err(|_| {
        Failure::new(
            Status::Internal,
            "",
            "a defect of the dividing library: a text with a NUL inside",
        )
    })
}

/// Gives a text to the caller, who frees it with `dividing_text_free`.
pub(crate) fn give(text: impl Into<String>, out: Out<*mut c_char>) -> Outcome {
    out.write(for_c(text)?.into_raw());
    Ok(())
}

/// A value as JSON text on one line.
pub(crate) fn json(value: &impl serde::Serialize) -> Outcome<String> {
    serde_json::to_string(value).map_err(|error| {
        Failure::new(
            Status::Internal,
            "",
            format!("a defect of the dividing library: {error}"),
        )
    })
}

/// Frees a text that a function of this library wrote to a `char **`.
///
/// Ownership: the text is gone; a second free of it is an error of the caller
/// that is not caught. NULL is accepted and does nothing. Texts that come as
/// `const char *` are not the caller's and must not be given to this function.
/// Threads: any, one at a time for one text.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_text_free(text: *mut c_char) {
    guard(|| {
        if !text.is_null() {
            // SAFETY: by the contract the pointer came from `give`.
            drop(unsafe { CString::from_raw(text) });
        }
        Ok(())
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn absurd_lengths_are_refused_before_a_byte_is_read() {
        let text = c"x".as_ptr();
        for length in [LONGEST_TEXT_BYTES + 1, usize::MAX / 2 + 1, usize::MAX - 1] {
            // SAFETY: the length is refused before the text is looked at.
            let refused = unsafe { read(text, length, "text") };
            assert!(refused.is_err());
        }
        // SAFETY: a text that ends with NUL; then its first zero bytes.
        unsafe {
            assert_eq!(read(text, NUL_ENDED, "text"), Ok("x"));
            assert_eq!(read(text, 0, "text"), Ok(""));
        }
    }
}
