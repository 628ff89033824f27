//! Status codes: what every call that can fail returns.

use std::ffi::{CStr, c_char};

use dividing_core::ErrorKind;

/// What a call came to. 0 is success.
///
/// The codes stand in blocks and are never used again for something else: 100
/// texts and documents, 200 values, 300 long searches, 400 the use of this
/// interface, 900 defects.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[repr(i32)]
pub enum Status {
    /// Success.
    Ok = 0,
    /// A text could not be read as an angle or a length.
    UnreadableText = 100,
    /// A number stands without the unit it needs.
    MissingUnit = 101,
    /// A unit that this library cannot keep exact, such as radians.
    InexactUnit = 102,
    /// A document is not well-formed JSON.
    MalformedJson = 110,
    /// A document holds a field that does not exist.
    UnknownField = 111,
    /// A field of a document is missing, of the wrong type or unreadable.
    InvalidField = 112,
    /// A document says a format number that this version cannot read.
    UnknownFormat = 113,
    /// A number lies outside its limits.
    OutOfRange = 200,
    /// A number is not finite (NaN or infinite).
    NotFinite = 201,
    /// A list that needs at least one entry has none.
    EmptyList = 202,
    /// The same thing is named twice.
    Duplicate = 203,
    /// Two values that are fine alone do not go together.
    Inconsistent = 204,
    /// An exact result needs more digits than there is room for.
    Overflow = 205,
    /// What was asked for does not exist, such as the plan after the last.
    NotFound = 206,
    /// The measured or given data cannot determine the answer.
    Undetermined = 207,
    /// A search came to its limit of work before it was done.
    WorkLimit = 300,
    /// The caller stopped a search.
    Cancelled = 301,
    /// A pointer that must not be NULL is NULL.
    NullPointer = 400,
    /// A text is not UTF-8.
    InvalidUtf8 = 401,
    /// An array of the caller is too small; the message says how many entries
    /// there are.
    BufferTooSmall = 402,
    /// A pointer is not aligned for what it points to.
    Misaligned = 403,
    /// A pointer is no handle of the sort asked for, or one that was freed.
    NotAHandle = 404,
    /// A defect of this library; please report the message.
    Internal = 900,
    /// A defect of this library that was caught at the border; please report
    /// the message.
    Panic = 901,
}

impl Status {
    /// Every status, in the order of the codes.
    ///
    /// cbindgen:ignore
    pub const ALL: [Self; 25] = [
        Self::Ok,
        Self::UnreadableText,
        Self::MissingUnit,
        Self::InexactUnit,
        Self::MalformedJson,
        Self::UnknownField,
        Self::InvalidField,
        Self::UnknownFormat,
        Self::OutOfRange,
        Self::NotFinite,
        Self::EmptyList,
        Self::Duplicate,
        Self::Inconsistent,
        Self::Overflow,
        Self::NotFound,
        Self::Undetermined,
        Self::WorkLimit,
        Self::Cancelled,
        Self::NullPointer,
        Self::InvalidUtf8,
        Self::BufferTooSmall,
        Self::Misaligned,
        Self::NotAHandle,
        Self::Internal,
        Self::Panic,
    ];

    /// The number that C sees.
    #[must_use]
    pub const fn code(self) -> i32 {
        self as i32
    }

    fn from_code(code: i32) -> Option<Self> {
        Self::ALL.into_iter().find(|status| status.code() == code)
    }

    const fn name(self) -> &'static CStr {
        match self {
            Self::Ok => c"ok",
            Self::UnreadableText => c"unreadable_text",
            Self::MissingUnit => c"missing_unit",
            Self::InexactUnit => c"inexact_unit",
            Self::MalformedJson => c"malformed_json",
            Self::UnknownField => c"unknown_field",
            Self::InvalidField => c"invalid_field",
            Self::UnknownFormat => c"unknown_format",
            Self::OutOfRange => c"out_of_range",
            Self::NotFinite => c"not_finite",
            Self::EmptyList => c"empty_list",
            Self::Duplicate => c"duplicate",
            Self::Inconsistent => c"inconsistent",
            Self::Overflow => c"overflow",
            Self::NotFound => c"not_found",
            Self::Undetermined => c"undetermined",
            Self::WorkLimit => c"work_limit",
            Self::Cancelled => c"cancelled",
            Self::NullPointer => c"null_pointer",
            Self::InvalidUtf8 => c"invalid_utf8",
            Self::BufferTooSmall => c"buffer_too_small",
            Self::Misaligned => c"misaligned",
            Self::NotAHandle => c"not_a_handle",
            Self::Internal => c"internal",
            Self::Panic => c"panic",
        }
    }

    const fn text(self) -> &'static CStr {
        match self {
            Self::Ok => c"success",
            Self::UnreadableText => c"the text cannot be read as an angle or a length",
            Self::MissingUnit => c"a number stands without the unit it needs",
            Self::InexactUnit => c"the unit cannot be kept exact",
            Self::MalformedJson => c"the document is not well-formed JSON",
            Self::UnknownField => c"the document holds a field that does not exist",
            Self::InvalidField => c"a field is missing, of the wrong type or unreadable",
            Self::UnknownFormat => c"the format number of the document cannot be read",
            Self::OutOfRange => c"a number lies outside its limits",
            Self::NotFinite => c"a number is not finite",
            Self::EmptyList => c"a list that needs at least one entry has none",
            Self::Duplicate => c"the same thing is named twice",
            Self::Inconsistent => c"two values do not go together",
            Self::Overflow => c"the exact result does not fit",
            Self::NotFound => c"what was asked for does not exist",
            Self::Undetermined => c"the data cannot determine the answer",
            Self::WorkLimit => c"the search came to its limit of work",
            Self::Cancelled => c"the caller stopped the search",
            Self::NullPointer => c"a pointer that must not be NULL is NULL",
            Self::InvalidUtf8 => c"the text is not UTF-8",
            Self::BufferTooSmall => c"the buffer is too small",
            Self::Misaligned => c"the pointer is not aligned",
            Self::NotAHandle => c"the pointer is no handle of this sort, or a freed one",
            Self::Internal => c"a defect of the dividing library",
            Self::Panic => c"a defect of the dividing library, caught at its border",
        }
    }
}

impl From<ErrorKind> for Status {
    fn from(kind: ErrorKind) -> Self {
        // A kind that this table lacks is a defect; a test looks at all kinds.
        Self::from_code(kind.code()).unwrap_or(Self::Internal)
    }
}

/// The name of a status as in documents and test vectors, such as
/// "missing_unit"; "unknown_status" for a number that is none.
///
/// Ownership: static text, never freed. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_status_name(status: i32) -> *const c_char {
    Status::from_code(status)
        .map_or(c"unknown_status", Status::name)
        .as_ptr()
}

/// A status in a few words of English; dividing_last_error_text says what
/// exactly was wrong.
///
/// Ownership: static text, never freed. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_status_text(status: i32) -> *const c_char {
    Status::from_code(status)
        .map_or(c"a number that is no status", Status::text)
        .as_ptr()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_the_core_has_its_status() {
        for kind in ErrorKind::ALL {
            let status = Status::from(kind);
            assert_eq!(status.code(), kind.code());
            assert_eq!(status.name().to_str().unwrap(), kind.name());
        }
    }

    #[test]
    fn codes_names_and_texts_are_distinct() {
        for (at, status) in Status::ALL.into_iter().enumerate() {
            for other in &Status::ALL[..at] {
                assert!(other.code() < status.code());
                assert_ne!(other.name(), status.name());
                assert_ne!(other.text(), status.text());
            }
        }
    }
}
