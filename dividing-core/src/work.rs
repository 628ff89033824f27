//! Budgets for searches that can grow, and a way to watch and stop them.

use crate::error::{Error, ErrorKind, Result};

/// Whether a watched search goes on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Continue {
    /// Go on.
    Yes,
    /// Stop; the search returns [`ErrorKind::Cancelled`], or what it has so
    /// far where it says so.
    No,
}

/// A budget of work with an optional watcher.
///
/// Work is counted in elementary steps of a search (a position looked at, a
/// pair compared), never in seconds, so that the same input gives the same
/// answer on every machine.
///
/// ```
/// use dividing_core::work::{Continue, Meter};
/// let mut seen = 0;
/// let mut watcher = |spent: u64| { seen = spent; Continue::Yes };
/// let mut meter = Meter::watched(1_000_000, &mut watcher);
/// meter.spend(400_000).unwrap();
/// assert!(meter.spend(700_000).is_err());
/// assert!(seen > 0);
/// ```
pub struct Meter<'w> {
    limit: u64,
    spent: u64,
    next_look: u64,
    /// Whether the watcher said no: it is not asked again.
    stopped: bool,
    watcher: Option<&'w mut dyn FnMut(u64) -> Continue>,
    left_out: Vec<String>,
}

/// The watcher is asked about once in this many steps.
const STEPS_BETWEEN_LOOKS: u64 = 10_000;

/// The budget of work of calls that take none: far more than any real job, and
/// about a minute on a usual machine.
pub const DEFAULT_WORK_LIMIT: u64 = 100_000_000;

impl Default for Meter<'_> {
    fn default() -> Self {
        Self::new(DEFAULT_WORK_LIMIT)
    }
}

impl<'w> Meter<'w> {
    /// A budget of `limit` steps, unwatched.
    #[must_use]
    pub const fn new(limit: u64) -> Self {
        Self {
            limit,
            spent: 0,
            next_look: STEPS_BETWEEN_LOOKS,
            stopped: false,
            watcher: None,
            left_out: Vec::new(),
        }
    }

    /// A budget of `limit` steps; `watcher` is told the steps spent from time
    /// to time and says whether to go on.
    pub fn watched(limit: u64, watcher: &'w mut dyn FnMut(u64) -> Continue) -> Self {
        Self {
            watcher: Some(watcher),
            ..Self::new(limit)
        }
    }

    /// Steps spent so far.
    #[must_use]
    pub const fn spent(&self) -> u64 {
        self.spent
    }

    /// Steps still in the budget.
    pub(crate) const fn remaining(&self) -> u64 {
        self.limit.saturating_sub(self.spent)
    }

    /// What searches within this budget left out though the budget would have
    /// held more, each as a sentence: lists too long to be listed in full.
    #[must_use]
    pub fn left_out(&self) -> &[String] {
        &self.left_out
    }

    /// Says that a search leaves something out.
    pub(crate) fn leave_out(&mut self, what: String) {
        if !self.left_out.contains(&what) {
            self.left_out.push(what);
        }
    }

    /// What was left out since this was asked last.
    pub(crate) fn take_left_out(&mut self) -> Vec<String> {
        std::mem::take(&mut self.left_out)
    }

    /// Does a piece of work that may take at most so many steps of the budget. A
    /// request that was refused counts no further than to the end of them.
    pub(crate) fn within<T>(&mut self, most: u64, work: impl FnOnce(&mut Self) -> T) -> T {
        let whole = self.limit;
        self.limit = self.spent.saturating_add(most).min(whole);
        let answer = work(self);
        self.spent = self.spent.min(self.limit);
        self.limit = whole;
        answer
    }

    /// The error of a budget that does not suffice.
    pub(crate) fn over_limit(&self) -> Error {
        Error::new(
            ErrorKind::WorkLimit,
            format!(
                "the search needs more than its limit of {} steps; \
                 give it a larger limit or a smaller question",
                self.limit
            ),
        )
    }

    /// Takes `steps` from the budget.
    ///
    /// # Errors
    /// [`ErrorKind::WorkLimit`] when the budget does not hold them,
    /// [`ErrorKind::Cancelled`] when the watcher says no, and ever after.
    pub fn spend(&mut self, steps: u64) -> Result<()> {
        if self.stopped {
            return Err(self.cancelled());
        }
        self.spent = self.spent.saturating_add(steps);
        if self.spent > self.limit {
            return Err(self.over_limit());
        }
        if self.spent >= self.next_look {
            self.next_look = self.spent.saturating_add(STEPS_BETWEEN_LOOKS);
            if let Some(watcher) = self.watcher.as_mut()
                && watcher(self.spent) == Continue::No
            {
                self.stopped = true;
                return Err(self.cancelled());
            }
        }
        Ok(())
    }

    fn cancelled(&self) -> Error {
        Error::new(
            ErrorKind::Cancelled,
            format!(
                "the search was stopped by its caller after {} steps",
                self.spent
            ),
        )
    }
}

impl std::fmt::Debug for Meter<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Meter")
            .field("limit", &self.limit)
            .field("spent", &self.spent)
            .field("watched", &self.watcher.is_some())
            .finish()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_watcher_stops_the_search() {
        let mut asked = 0;
        let mut watcher = |_| {
            asked += 1;
            Continue::No
        };
        let mut meter = Meter::watched(u64::MAX, &mut watcher);
        assert!(meter.spend(10).is_ok());
        for _ in 0..3 {
            let error = meter.spend(STEPS_BETWEEN_LOOKS).unwrap_err();
            assert_eq!(error.kind(), ErrorKind::Cancelled);
        }
        assert_eq!(asked, 1);
    }

    #[test]
    fn a_part_of_the_budget_leaves_the_rest() {
        let mut meter = Meter::new(100);
        meter.spend(20).unwrap();
        let refused = meter.within(40, |part| {
            part.spend(30).unwrap();
            part.spend(1_000)
        });
        assert_eq!(refused.unwrap_err().kind(), ErrorKind::WorkLimit);
        assert_eq!((meter.spent(), meter.remaining()), (60, 40));
        assert!(meter.within(u64::MAX, |part| part.spend(41)).is_err());
        assert_eq!(meter.remaining(), 0);
    }

    #[test]
    fn a_spent_budget_stays_spent() {
        let mut meter = Meter::new(5);
        assert!(meter.spend(5).is_ok());
        assert_eq!(meter.spend(1).unwrap_err().kind(), ErrorKind::WorkLimit);
        assert_eq!(
            meter.spend(u64::MAX).unwrap_err().kind(),
            ErrorKind::WorkLimit
        );
    }
}
