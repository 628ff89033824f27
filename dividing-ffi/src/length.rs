//! Lengths: text to millimetres.

use std::ffi::c_char;

use dividing_core::Length;

use crate::guard::guard;
use crate::pointer::Out;
use crate::status::Status;
use crate::text;

/// Reads a length with its unit: "6 mm", "0.250 in", "20 um".
///
/// `text` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
/// `value_mm` takes the length in millimetres.
///
/// Errors: unreadable_text, missing_unit, out_of_range, null_pointer,
/// invalid_utf8, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_length_parse(
    text: *const c_char,
    length: usize,
    value_mm: *mut f64,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (text, value_mm) = unsafe {
            (
                text::read(text, length, "text")?,
                Out::new(value_mm, "value_mm")?,
            )
        };
        value_mm.write(text.parse::<Length>()?.mm());
        Ok(())
    })
}
