//! Long searches: a limit of work, and a watcher that can stop them.

use std::ffi::c_void;

use dividing_core::work::{Continue, DEFAULT_WORK_LIMIT, Meter};

/// Asked from time to time during a long search: `spent` steps of work are
/// done. It returns 0 to go on and any other number to stop. It may call
/// functions of this library, and must return: no exception, no longjmp.
pub type Watcher = Option<unsafe extern "C" fn(spent: u64, userdata: *mut c_void) -> i32>;

/// A limit of work, a watcher and its userdata, as exports take them.
pub(crate) type Work = (u64, Watcher, *mut c_void);

/// Runs a search with a limit of work, 0 for the usual one, and a watcher.
///
/// # Safety
/// `watcher`, if not NULL, may be called with `userdata` until the search is
/// done.
pub(crate) unsafe fn metered<T>(
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    search: impl FnOnce(&mut Meter<'_>) -> T,
) -> T {
    let limit = match work_limit {
        0 => DEFAULT_WORK_LIMIT,
        limit => limit,
    };
    match watcher {
        None => search(&mut Meter::new(limit)),
        Some(watcher) => {
            // SAFETY: the caller gave this function to be called so.
            let mut ask = |spent| match unsafe { watcher(spent, userdata) } {
                0 => Continue::Yes,
                _ => Continue::No,
            };
            search(&mut Meter::watched(limit, &mut ask))
        }
    }
}
