//! The one error type of the library.
//!
//! Every message names the field, the value found, the limit it broke and what
//! would be accepted. The [`ErrorKind`] is for programs: each face of the
//! library (Rust, C, Python) maps it one to one.

use std::fmt::Display;

/// What sort of thing went wrong.
///
/// The numbers are the status codes of the C interface. They stand in blocks
/// and are never used again for something else.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
#[repr(i32)]
pub enum ErrorKind {
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
    /// A document says a `format` number that this version cannot read.
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
    /// An exact result needs more digits than the library carries.
    Overflow = 205,
    /// What was asked for does not exist, such as the plan after the last.
    NotFound = 206,
    /// The measured or given data cannot determine the answer.
    Undetermined = 207,
    /// A search came to its limit of work before it was done.
    WorkLimit = 300,
    /// The caller stopped a search.
    Cancelled = 301,
    /// A defect of this library; please report the message.
    Internal = 900,
}

impl ErrorKind {
    /// Every kind, in the order of their codes.
    pub const ALL: [Self; 18] = [
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
        Self::Internal,
    ];

    /// The number of this kind, as the C interface returns it.
    #[must_use]
    pub const fn code(self) -> i32 {
        self as i32
    }

    /// The name of this kind, as written in documents and test vectors.
    ///
    /// ```
    /// use dividing_core::ErrorKind;
    /// assert_eq!(ErrorKind::MissingUnit.name(), "missing_unit");
    /// ```
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::UnreadableText => "unreadable_text",
            Self::MissingUnit => "missing_unit",
            Self::InexactUnit => "inexact_unit",
            Self::MalformedJson => "malformed_json",
            Self::UnknownField => "unknown_field",
            Self::InvalidField => "invalid_field",
            Self::UnknownFormat => "unknown_format",
            Self::OutOfRange => "out_of_range",
            Self::NotFinite => "not_finite",
            Self::EmptyList => "empty_list",
            Self::Duplicate => "duplicate",
            Self::Inconsistent => "inconsistent",
            Self::Overflow => "overflow",
            Self::NotFound => "not_found",
            Self::Undetermined => "undetermined",
            Self::WorkLimit => "work_limit",
            Self::Cancelled => "cancelled",
            Self::Internal => "internal",
        }
    }
}

/// An error: a kind for programs, a path to the field, and a sentence for people.
///
/// ```
/// use dividing_core::{Angle, ErrorKind};
/// let error = "22.5".parse::<Angle>().unwrap_err();
/// assert_eq!(error.kind(), ErrorKind::MissingUnit);
/// assert!(error.to_string().contains("22.5 deg"));
/// ```
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{field}{}{message}", if .field.is_empty() { "" } else { ": " })]
pub struct Error {
    kind: ErrorKind,
    field: String,
    message: String,
}

/// A result whose error is this library's [`Error`].
pub type Result<T> = std::result::Result<T, Error>;

impl Error {
    /// Makes an error of a kind with a sentence that says what was found and
    /// what would be accepted.
    pub fn new(kind: ErrorKind, message: impl Into<String>) -> Self {
        Self {
            kind,
            field: String::new(),
            message: message.into(),
        }
    }

    /// An [`ErrorKind::OutOfRange`] that names the value and the limits.
    pub fn out_of_range(found: impl Display, accepted: impl Display) -> Self {
        Self::new(
            ErrorKind::OutOfRange,
            format!("{found} is out of range; accepted: {accepted}"),
        )
    }

    /// An [`ErrorKind::Overflow`]: what was being computed does not fit.
    pub fn overflow(what: impl Display) -> Self {
        Self::new(
            ErrorKind::Overflow,
            format!(
                "{what} needs a fraction with more than 35 digits; \
                 use angles with smaller denominators"
            ),
        )
    }

    /// A defect of this library.
    pub(crate) fn internal(what: impl Display) -> Self {
        Self::new(
            ErrorKind::Internal,
            format!("a defect of the dividing library: {what}"),
        )
    }

    /// The same error, with `outer` put before the path of the field.
    ///
    /// ```
    /// use dividing_core::Error;
    /// let error = Error::out_of_range(0, "2 to 100000").at("holes").at("circles[1]");
    /// assert_eq!(error.field(), "circles[1].holes");
    /// ```
    #[must_use]
    pub fn at(mut self, outer: impl Display) -> Self {
        let outer = outer.to_string();
        self.field = if self.field.is_empty() || outer.is_empty() {
            outer + &self.field
        } else if self.field.starts_with('[') {
            format!("{outer}{}", self.field)
        } else {
            format!("{outer}.{}", self.field)
        };
        self
    }

    /// What sort of error this is.
    #[must_use]
    pub const fn kind(&self) -> ErrorKind {
        self.kind
    }

    /// The path to the field, such as `equipment[2].worm_head.worm_ratio`;
    /// empty where there is none.
    #[must_use]
    pub fn field(&self) -> &str {
        &self.field
    }

    /// The sentence without the path.
    #[must_use]
    pub fn message(&self) -> &str {
        &self.message
    }
}

/// Adds the path of a field to the error of a result.
pub(crate) trait AtField<T> {
    /// The same result, its error with `outer` put before the path.
    fn at(self, outer: impl Display) -> Result<T>;
}

impl<T> AtField<T> for Result<T> {
    fn at(self, outer: impl Display) -> Self {
        self.map_err(|error| error.at(outer))
    }
}

/// A text of the user, shortened so that a message stays readable.
pub(crate) fn quoted(text: &str) -> String {
    const LONGEST: usize = 60;
    if text.chars().count() <= LONGEST {
        format!("{text:?}")
    } else {
        let head: String = text.chars().take(LONGEST).collect();
        format!("{head:?}…")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_distinct_and_ascending() {
        for pair in ErrorKind::ALL.windows(2) {
            assert!(pair[0].code() < pair[1].code());
            assert_ne!(pair[0].name(), pair[1].name());
        }
        assert!(ErrorKind::ALL.iter().all(|kind| kind.code() > 0));
    }

    #[test]
    fn long_texts_are_shortened_in_messages() {
        assert!(quoted(&"x".repeat(10_000)).len() < 100);
        assert_eq!(quoted("7°"), "\"7°\"");
    }
}
