//! The border: no panic passes it.

use std::any::Any;
use std::panic::{AssertUnwindSafe, catch_unwind};

use crate::error::{Failure, Outcome, keep};
use crate::status::Status;

/// Runs the body of an export; its failure or panic becomes the status and the
/// last error of the thread.
///
/// A body writes outputs as its last step, so a panic leaves none half-written.
pub(crate) fn guard(body: impl FnOnce() -> Outcome) -> Status {
    match caught(body) {
        Ok(()) => Status::Ok,
        Err(failure) => keep(failure),
    }
}

/// As [`guard`], for an export that returns a number: NaN stands for a failure.
pub(crate) fn guard_number(body: impl FnOnce() -> Outcome<f64>) -> f64 {
    match caught(body) {
        Ok(number) => number,
        Err(failure) => {
            keep(failure);
            f64::NAN
        }
    }
}

fn caught<T>(body: impl FnOnce() -> Outcome<T>) -> Outcome<T> {
    #[cfg(feature = "provoke_panic")]
    let body = || {
        provoked::if_asked();
        body()
    };
    catch_unwind(AssertUnwindSafe(body)).unwrap_or_else(|payload| {
        Err(Failure::new(
            Status::Panic,
            "",
            format!("a defect of the dividing library: {}", words(&*payload)),
        ))
    })
}

fn words(payload: &(dyn Any + Send)) -> &str {
    payload
        .downcast_ref::<&str>()
        .copied()
        .or_else(|| payload.downcast_ref::<String>().map(String::as_str))
        .unwrap_or("a panic without words")
}

/// Panics inside the guard of an export, so that a test sees what becomes of it.
#[cfg(feature = "provoke_panic")]
mod provoked {
    use std::cell::Cell;

    thread_local! {
        static NEXT: Cell<bool> = const { Cell::new(false) };
    }

    /// Makes the next call of this thread panic. No usual build has this export.
    #[unsafe(no_mangle)]
    extern "C" fn dividing_provoke_panic() {
        NEXT.set(true);
    }

    #[allow(clippy::panic, reason = "a panic is what it is for")]
    pub(super) fn if_asked() {
        if NEXT.take() {
            panic!("provoked by a test");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::error::{dividing_last_error_status, dividing_last_error_text};
    use std::ffi::CStr;

    #[test]
    fn a_panic_becomes_a_status() {
        let third = 2;
        assert_eq!(guard(|| panic!("provoked {third}")), Status::Panic);
        // SAFETY: a text that ends with NUL, read before the next failure.
        let text = unsafe { CStr::from_ptr(dividing_last_error_text()) };
        assert!(text.to_str().unwrap().ends_with("provoked 2"));
        assert!(guard_number(|| panic!("again")).is_nan());
        assert_eq!(dividing_last_error_status(), Status::Panic);
        assert_eq!(guard(|| std::panic::panic_any(7)), Status::Panic);
        assert_eq!(guard(|| Ok(())), Status::Ok);
        assert_eq!(dividing_last_error_status(), Status::Panic);
    }
}
