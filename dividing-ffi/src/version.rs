//! The version, from the manifest alone: the macros of the header are written
//! from the same numbers.

use std::ffi::{CStr, c_char};

/// The version with the NUL that C wants.
const TEXT: &CStr =
    match CStr::from_bytes_with_nul(concat!(env!("CARGO_PKG_VERSION"), "\0").as_bytes()) {
        Ok(text) => text,
        Err(_) => c"",
    };

/// A part of the version as a number.
const fn number(digits: &str) -> u32 {
    let (digits, mut at, mut value) = (digits.as_bytes(), 0, 0);
    while at < digits.len() {
        value = value * 10 + (digits[at] - b'0') as u32;
        at += 1;
    }
    value
}

const NUMBER: u32 = number(env!("CARGO_PKG_VERSION_MAJOR")) * 1_000_000
    + number(env!("CARGO_PKG_VERSION_MINOR")) * 1_000
    + number(env!("CARGO_PKG_VERSION_PATCH"));

/// The version of the library that is running, such as "0.1.0".
///
/// Compare it with DIVIDING_VERSION, the version of the header that the caller
/// was compiled with.
///
/// Ownership: static text, never freed. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_version() -> *const c_char {
    TEXT.as_ptr()
}

/// The version of the library that is running as one number:
/// major * 1000000 + minor * 1000 + patch.
///
/// Compare it with DIVIDING_VERSION_NUMBER. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_version_number() -> u32 {
    NUMBER
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_number_and_the_text_agree() {
        let number = dividing_version_number();
        let text = format!(
            "{}.{}.{}",
            number / 1_000_000,
            number / 1_000 % 1_000,
            number % 1_000
        );
        assert_eq!(TEXT.to_str().unwrap(), text);
    }
}
