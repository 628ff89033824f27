//! Long calls: the core works on a thread of its own, while the calling thread,
//! with the interpreter lock released, listens for Ctrl-C and reports progress.
//!
//! The thread never touches Python. When the call is stopped it is told so,
//! ends at its next look, and nobody waits for it: however long the core goes
//! without looking, Ctrl-C is heard at once.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::mpsc::{RecvTimeoutError, sync_channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use dividing_core::work::{Continue, DEFAULT_WORK_LIMIT, Meter};
use dividing_core::{Error, ErrorKind, Result};
use pyo3::prelude::*;

use crate::argument::whole_within;
use crate::errors::{caught, exception, wrong_type};

/// Python is asked about this often; well below the 100 ms in which Ctrl-C
/// must be heard.
pub(crate) const BETWEEN_LOOKS: Duration = Duration::from_millis(25);

/// What the working and the calling thread tell each other.
#[derive(Default)]
struct Shared {
    spent: AtomicU64,
    stop: AtomicBool,
}

/// What a caller allows a long call: how much work, and who is told.
pub(crate) struct Limits<'a, 'py> {
    work_limit: u64,
    progress: Option<&'a Bound<'py, PyAny>>,
}

impl<'a, 'py> Limits<'a, 'py> {
    /// Reads the arguments `work_limit` and `progress`.
    pub(crate) fn read(
        work_limit: Option<&Bound<'py, PyAny>>,
        progress: Option<&'a Bound<'py, PyAny>>,
    ) -> PyResult<Self> {
        const MOST: i128 = u64::MAX as i128;
        let work_limit = match work_limit {
            None => DEFAULT_WORK_LIMIT,
            Some(limit) => {
                u64::try_from(whole_within(limit, "work_limit", 1, MOST)?).unwrap_or(u64::MAX)
            }
        };
        if let Some(progress) = progress.filter(|it| !it.is_callable()) {
            return Err(wrong_type("progress", "a callable", progress));
        }
        Ok(Self {
            work_limit,
            progress,
        })
    }

    /// No limit of work, and `progress` as it is.
    pub(crate) const fn unlimited(progress: Option<&'a Bound<'py, PyAny>>) -> Self {
        Self {
            work_limit: u64::MAX,
            progress,
        }
    }

    pub(crate) const fn work_limit(&self) -> u64 {
        self.work_limit
    }
}

/// Runs a search of the core within a limit of work. Now and then signals are
/// handled and `progress` is called with the steps done since its last call;
/// an exception from either stops the search and is raised.
pub(crate) fn watched<T: Send + 'static>(
    py: Python<'_>,
    limits: &Limits<'_, '_>,
    call: impl FnOnce(&mut Meter<'_>) -> Result<T> + Send + 'static,
) -> PyResult<T> {
    let slot = Arc::new(Mutex::new(None));
    let theirs = Arc::clone(&slot);
    // The thread and its channel are made for one type, not for every answer.
    watch(
        py,
        limits,
        Box::new(move |meter| {
            let found = call(meter)?;
            *theirs.lock().unwrap_or_else(PoisonError::into_inner) = Some(found);
            Ok(())
        }),
    )?;
    let found = slot.lock().unwrap_or_else(PoisonError::into_inner).take();
    found.ok_or_else(|| exception(&no_answer()))
}

fn no_answer() -> Error {
    Error::new(
        ErrorKind::Internal,
        "a defect of the dividing library: the working thread gave no answer",
    )
}

/// A search that leaves its answer somewhere.
type Search = Box<dyn FnOnce(&mut Meter<'_>) -> Result<()> + Send>;

fn watch(py: Python<'_>, limits: &Limits<'_, '_>, call: Search) -> PyResult<()> {
    let (work_limit, progress) = (limits.work_limit, limits.progress);
    let shared = Arc::new(Shared::default());
    let theirs = Arc::clone(&shared);
    let (sender, mut receiver) = sync_channel(1);
    std::thread::Builder::new().spawn(move || {
        let mut watcher = |spent: u64| {
            theirs.spent.store(spent, Ordering::Relaxed);
            if theirs.stop.load(Ordering::Relaxed) {
                Continue::No
            } else {
                Continue::Yes
            }
        };
        let mut meter = Meter::watched(work_limit, &mut watcher);
        let answer = caught(|| call(&mut meter));
        let spent = meter.spent();
        // Nobody listens any more when the call was stopped.
        let _ = sender.send((answer, spent));
    })?;
    let mut told = 0;
    loop {
        let received;
        (receiver, received) = py.detach(move || {
            let received = receiver.recv_timeout(BETWEEN_LOOKS);
            (receiver, received)
        });
        let heard = match received {
            Ok((answer, spent)) => {
                py.check_signals()?;
                answer.map_err(|error| exception(&error))?;
                return tell(progress, &mut told, spent);
            }
            Err(RecvTimeoutError::Timeout) => py
                .check_signals()
                .and_then(|()| tell(progress, &mut told, shared.spent.load(Ordering::Relaxed))),
            Err(RecvTimeoutError::Disconnected) => Err(exception(&no_answer())),
        };
        if let Err(error) = heard {
            shared.stop.store(true, Ordering::Relaxed);
            return Err(error);
        }
    }
}

/// As [`watched`], for a call that counts no steps.
pub(crate) fn waited<T: Send + 'static>(
    py: Python<'_>,
    call: impl FnOnce() -> Result<T> + Send + 'static,
) -> PyResult<T> {
    watched(py, &Limits::unlimited(None), |_| call())
}

fn tell(progress: Option<&Bound<'_, PyAny>>, told: &mut u64, spent: u64) -> PyResult<()> {
    if let Some(progress) = progress.filter(|_| spent > *told) {
        progress.call1((spent - *told,))?;
        *told = spent;
    }
    Ok(())
}
