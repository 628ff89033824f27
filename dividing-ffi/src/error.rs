//! The last error of a thread.

use std::cell::RefCell;
use std::ffi::{CStr, CString, c_char};
use std::fmt::Display;

use dividing_core::Error;

use crate::status::Status;

/// Why a call failed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Failure {
    status: Status,
    field: String,
    message: String,
}

impl Failure {
    pub(crate) fn new(status: Status, field: impl Into<String>, message: impl Display) -> Self {
        Self {
            status,
            field: field.into(),
            message: message.to_string(),
        }
    }

    /// What only a defect of this library brings about.
    pub(crate) fn defect(what: &str) -> Self {
        Self::new(
            Status::Internal,
            "",
            format!("a defect of the dividing library: {what}"),
        )
    }

    /// The same failure, its path going on from `outer`.
    pub(crate) fn at(mut self, outer: &str) -> Self {
        self.field = if self.field.is_empty() {
            outer.to_owned()
        } else {
            format!("{outer}.{}", self.field)
        };
        self
    }

    /// The same failure, its path seen from inside `outer`.
    pub(crate) fn inside(mut self, outer: &str) -> Self {
        if let Some(inner) = self.field.strip_prefix(outer) {
            self.field = inner.trim_start_matches('.').to_owned();
        }
        self
    }
}

impl From<Error> for Failure {
    fn from(error: Error) -> Self {
        Self::new(error.kind().into(), error.field(), error.message())
    }
}

/// What a call across the border comes to.
pub(crate) type Outcome<T = ()> = Result<T, Failure>;

/// The last error, its texts ready for C.
struct LastError {
    status: Status,
    field: CString,
    message: CString,
    text: CString,
}

thread_local! {
    static LAST: RefCell<Option<LastError>> = const { RefCell::new(None) };
}

/// Keeps a failure as the last error of this thread and gives its status.
pub(crate) fn keep(failure: Failure) -> Status {
    let Failure {
        status,
        field,
        message,
    } = failure;
    let text = if field.is_empty() {
        message.clone()
    } else {
        format!("{field}: {message}")
    };
    let last = LastError {
        status,
        field: for_c(field),
        message: for_c(message),
        text: for_c(text),
    };
    // While a thread ends its storage may be gone; then only the status is left.
    let _ = LAST.try_with(|cell| cell.replace(Some(last)));
    status
}

/// A text for C; a NUL inside, which C would take for the end, becomes U+FFFD.
fn for_c(text: String) -> CString {
    CString::new(text.replace('\0', "\u{fffd}")).unwrap_or_default()
}

fn last(part: impl Fn(&LastError) -> &CStr) -> *const c_char {
    LAST.try_with(|cell| cell.borrow().as_ref().map(|last| part(last).as_ptr()))
        .ok()
        .flatten()
        .unwrap_or(c"".as_ptr())
}

/// The status of the last call that failed on this thread;
/// DIVIDING_STATUS_OK when none has. A call that succeeds leaves it alone.
///
/// Threads: every thread has its own.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_last_error_status() -> Status {
    LAST.try_with(|cell| cell.borrow().as_ref().map(|last| last.status))
        .ok()
        .flatten()
        .unwrap_or(Status::Ok)
}

/// The path to the field that the last error of this thread is about, such as
/// `workshop.equipment[2].worm_head.worm_ratio`, or the name of the argument;
/// empty where there is none.
///
/// Ownership: the library's, never NULL, valid until the next call that fails
/// on this thread or the thread's end. Threads: every thread has its own.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_last_error_field() -> *const c_char {
    last(|it| &it.field)
}

/// What was wrong, as a sentence that names the value found and what would be
/// accepted, without the path to the field; empty when no call has failed.
///
/// Ownership: the library's, never NULL, valid until the next call that fails
/// on this thread or the thread's end. Threads: every thread has its own.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_last_error_message() -> *const c_char {
    last(|it| &it.message)
}

/// The path to the field, a colon and the message: what to show to a user.
///
/// Ownership: the library's, never NULL, valid until the next call that fails
/// on this thread or the thread's end. Threads: every thread has its own.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_last_error_text() -> *const c_char {
    last(|it| &it.text)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: *const c_char) -> String {
        // SAFETY: the functions above give texts that end with NUL.
        unsafe { CStr::from_ptr(text) }.to_str().unwrap().into()
    }

    #[test]
    fn the_last_error_belongs_to_its_thread() {
        assert_eq!(dividing_last_error_status(), Status::Ok);
        assert_eq!(read(dividing_last_error_text()), "");
        keep(Failure::new(Status::Overflow, "a[1]", "too \0 big"));
        std::thread::spawn(|| assert_eq!(dividing_last_error_status(), Status::Ok))
            .join()
            .unwrap();
        assert_eq!(dividing_last_error_status(), Status::Overflow);
        assert_eq!(read(dividing_last_error_field()), "a[1]");
        assert_eq!(read(dividing_last_error_message()), "too \u{fffd} big");
        assert_eq!(read(dividing_last_error_text()), "a[1]: too \u{fffd} big");
    }
}
