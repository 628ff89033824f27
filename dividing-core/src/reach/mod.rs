//! What equipment can hold, exactly, and the best of the rest.
//!
//! Orientations are elements of the rationals modulo one turn. Every [`Way`] to
//! use a piece of equipment holds an exact [`OrientationSet`]; [`reach`] lays
//! the pattern of a job on it and returns the settings that make the largest
//! residual least, zero where the way is exact.

mod blocks;
mod cranks;
mod nearest;
mod orientation_algebra;
mod orientation_set;
mod pin_chords;
mod plates;
mod setting;
mod shortfall;
mod way;

pub use blocks::{VeeSeat, vee_seat};
pub use orientation_set::{Coset, OrientationSet};
pub use setting::{BarPlace, Setting};
pub use shortfall::{PrimePower, Shortfall};
pub use way::{Way, WayKind, ways};

pub(crate) use blocks::vee_blocks;

use nearest::{StartRule, nearest};
use serde::{Deserialize, Serialize};

use crate::angle::Angle;
use crate::equipment::Workshop;
use crate::error::Result;
use crate::job::{Job, Start};
use crate::work::Meter;

/// One feature, where it was wanted and where it comes out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Placement {
    /// The drawing angle.
    pub required: Angle,
    /// What to set.
    pub setting: Setting,
    /// The drawing angle that the setting gives.
    pub attained: Angle,
    /// Attained less required; zero when exact.
    pub residual: Angle,
}

/// What one way can do for a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reach {
    /// The way.
    pub way: Way,
    /// Whether every feature is exact.
    pub exact: bool,
    /// What the device presents when drawing angle 0 stands at the cutter.
    pub start: Angle,
    /// Every feature, in the order of the job.
    pub placements: Vec<Placement>,
    /// The largest residual, without sign: the least that this way allows.
    pub largest_residual: Angle,
    /// Why it is not exact; none when it is.
    pub shortfall: Option<Shortfall>,
}

/// Lays the pattern of a job on one way: exactly where it can be, else with the
/// largest residual as small as it can be.
///
/// # Errors
/// Overflow when the angles have no common denominator within bounds; the work
/// limit; cancellation.
///
/// ```
/// use dividing_core::work::Meter;
/// use dividing_core::{Job, Workshop, reach};
/// let workshop = Workshop::from_json(r#"{"format": 1, "name": "w", "equipment": [
///     {"vernier_indexer": {"name": "v", "circle": {"holes": 36},
///      "stations": ["0 deg", "11 deg", "22 deg", "33 deg", "44 deg",
///                   "55 deg", "66 deg", "77 deg", "88 deg", "99 deg"]}}]}"#)?;
/// let job = Job::from_json(r#"{"format": 1, "name": "j",
///     "features": {"equal_divisions": {"count": 360}}}"#)?;
/// let meter = &mut Meter::default();
/// let ways = reach::ways(&workshop, meter)?;
/// assert!(reach::reach(&workshop, &ways[0], &job, meter)?.exact);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn reach(workshop: &Workshop, way: &Way, job: &Job, meter: &mut Meter<'_>) -> Result<Reach> {
    let pattern = job.features().angles()?;
    meter.spend(u64::try_from(pattern.len()).unwrap_or(u64::MAX))?;
    let rule = match job.start() {
        Start::Free => StartRule::Free,
        Start::OnASetting => StartRule::OnASetting,
        Start::Clocked(clocked) => StartRule::Given(
            way.zero()
                .checked_add(clocked.reading)?
                .checked_sub(clocked.at)?,
        ),
    };
    let found = nearest(way.set(), way.zero(), &pattern, rule, meter)?;
    let mut placements = Vec::with_capacity(pattern.len());
    let mut largest_residual = Angle::ZERO;
    for (&required, &element) in pattern.iter().zip(&found.elements) {
        let residual = element
            .checked_sub(found.start)?
            .checked_sub(required)?
            .within_half_turn();
        largest_residual = largest_residual.max(residual.abs());
        placements.push(Placement {
            required,
            setting: way.setting(workshop, element)?,
            attained: required.checked_add(residual)?,
            residual,
        });
    }
    let exact = largest_residual.is_zero();
    let shortfall = if exact {
        None
    } else {
        let reference = match rule {
            StartRule::Given(start) => way.zero().checked_sub(start)?,
            StartRule::Free | StartRule::OnASetting => pattern.first().copied().unwrap_or_default(),
        };
        let needed = shortfall::needed_order(&pattern, reference)?;
        Some(shortfall::shortfall(workshop, way, needed))
    };
    Ok(Reach {
        way: way.clone(),
        exact,
        start: found.start.within_turn(),
        placements,
        largest_residual,
        shortfall,
    })
}
