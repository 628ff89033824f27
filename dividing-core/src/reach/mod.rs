//! What equipment can hold, exactly, and the best of the rest.
//!
//! Orientations are elements of the rationals modulo one turn. Every [`Way`] to
//! use a piece of equipment holds an exact [`OrientationSet`]; [`reach`] lays
//! the pattern of a job on it and returns the settings that make the largest
//! residual least, zero where the way is exact.

mod blocks;
mod cranks;
mod fine_points;
mod nearest;
mod orientation_algebra;
mod orientation_set;
mod pin_chords;
mod pin_ring;
mod plates;
mod references;
mod ring_chords;
mod setting;
mod shortfall;
mod shortfall_of_devices;
mod stacks;
mod suppliers;
mod tilts;
mod way;
pub mod worm;

pub use blocks::{VeeSeat, vee_seat};
pub use fine_points::{FINE_PARTS, FinePoints};
pub use orientation_set::{Coset, OrientationSet};
pub use setting::{BarPlace, Setting, StackedBlocks};
pub use shortfall::{PrimePower, Shortfall};
pub use suppliers::{Supplier, SupplierKind};
pub use way::{Way, WayKind, ways, ways_for};

pub(crate) use blocks::vee_blocks;
pub(crate) use ring_chords::{baseline_across_mm, first_stands_right};
pub(crate) use suppliers::complete_suppliers;
pub(crate) use way::{Method, ways_of_piece, ways_of_piece_for};

use nearest::{StartRule, nearest_with};
use serde::{Deserialize, Serialize};

use crate::angle::Angle;
use crate::equipment::{Equipment, PartReference, Sense, Workshop};
use crate::error::{Error, Result};
use crate::job::{Clocked, Job, Start};
use crate::work::Meter;

/// One feature, where it was wanted and where it comes out.
///
/// Angles are exact. A setting whose true angle is a real number is given to
/// the nearest millionth of a second of arc, and `residual_rad` says what is
/// left before that rounding.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
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
    /// The unrounded residual in radians, where the attained angle is a real
    /// number; none where it is exact.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub residual_rad: Option<f64>,
}

impl Placement {
    /// The residual in radians, unrounded where the attained angle is real.
    #[must_use]
    pub fn residual_rad(&self) -> f64 {
        self.residual_rad
            .unwrap_or_else(|| self.residual.to_radians_f64())
    }
}

/// What one way can do for a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Reach {
    /// The way.
    pub way: Way,
    /// Whether every feature is exact.
    pub exact: bool,
    /// What the device presents when drawing angle 0 stands at the cutter.
    pub start: Angle,
    /// The setting at which a clocked start finds the existing feature; none for
    /// other starts, and none where the reading given is no setting.
    pub datum: Option<Setting>,
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
    let datum = match job.start() {
        Start::Clocked(clocked) => Some(clocked_presented(workshop, way, clocked)?),
        Start::Free | Start::OnASetting => None,
    };
    let rule = start_rule(job, datum)?;
    let laid = match workshop.equipment().get(way.equipment()) {
        Some(Equipment::PartReference(reference)) if way.kind() == WayKind::FromLastFeature => {
            chained(reference, job, &pattern, meter)?
        }
        _ => match way.repeated {
            Some(made) => repeated(workshop, way, made, &pattern, rule)?,
            None => laid(workshop, way, &pattern, rule, meter)?,
        },
    };
    let mut placements = Vec::with_capacity(pattern.len());
    let mut largest_residual = Angle::ZERO;
    let mut all_exact = true;
    for (required, place) in pattern.iter().copied().zip(laid.places) {
        let residual = place
            .element
            .checked_sub(laid.start)?
            .checked_sub(required)?
            .within_half_turn();
        largest_residual = largest_residual.max(residual.abs());
        all_exact &= residual.is_zero() && place.rounding_rad.is_none();
        placements.push(Placement {
            required,
            setting: place.setting,
            attained: required.checked_add(residual)?,
            residual,
            residual_rad: place
                .rounding_rad
                .map(|rounding_rad| residual.to_radians_f64() + rounding_rad),
        });
    }
    let shortfall = if all_exact {
        None
    } else {
        let needed = order_needed(&pattern, rule, way.zero())?;
        Some(shortfall::shortfall(workshop, way, needed))
    };
    let datum = match datum {
        Some(presented) if way.kind() != WayKind::FromLastFeature => {
            way.find_setting(workshop, presented, meter)?
        }
        _ => None,
    };
    Ok(Reach {
        way: way.clone(),
        exact: all_exact,
        start: laid.start.within_turn(),
        datum,
        placements,
        largest_residual,
        shortfall,
    })
}

/// A pattern laid on a way.
struct Laid {
    start: Angle,
    places: Vec<Place>,
}

/// What one feature comes to stand on.
struct Place {
    element: Angle,
    setting: Setting,
    /// True angle less element, in radians, where the true angle is real.
    rounding_rad: Option<f64>,
}

/// Lays a pattern on what a way holds, with the largest residual as small as it
/// can be.
fn laid(
    workshop: &Workshop,
    way: &Way,
    pattern: &[Angle],
    rule: StartRule,
    meter: &mut Meter<'_>,
) -> Result<Laid> {
    let mut fine = way.fine_points().cloned();
    'search: loop {
        let found = nearest_with(way.set(), fine.as_ref(), way.zero(), pattern, rule, meter)?;
        let mut places = Vec::with_capacity(pattern.len());
        for (index, &element) in found.elements.iter().enumerate() {
            meter.spend(way.lookup_cost)?;
            let point = found.points.get(index).copied();
            match (way.setting_at(workshop, element, point, meter)?, point) {
                (Some(setting), _) => places.push(Place {
                    element,
                    setting,
                    rounding_rad: point.and_then(|point| {
                        rounding_rad(way.real_rad(workshop, point)?, point.angle().ok()?)
                    }),
                }),
                (None, Some(gone)) => {
                    // A height that no stacks make after all: search without it.
                    fine = fine.map(|fine| fine.without(gone));
                    continue 'search;
                }
                (None, None) => {
                    return Err(Error::internal(format!(
                        "no setting presents {element} on this way"
                    )));
                }
            }
        }
        return Ok(Laid {
            start: found.start,
            places,
        });
    }
}

/// Lays features that lie one division apart, by inexact moves one after the
/// other. The residuals grow evenly, so that the best free start puts the middle
/// of the row in place.
fn repeated(
    workshop: &Workshop,
    way: &Way,
    made: Angle,
    pattern: &[Angle],
    rule: StartRule,
) -> Result<Laid> {
    let first = pattern.first().copied().unwrap_or_default();
    let (_, divisions) = way.kind().parts_of_a_move().unwrap_or((1, 1));
    // The features are divisions in turn; a clocked row begins so many on.
    let begun = match rule {
        StartRule::Given(start) => {
            let on = start.checked_add(first)?.within_turn();
            let on = on.checked_mul(divisions)?;
            on.numerator() / on.denominator()
        }
        StartRule::Free | StartRule::OnASetting => 0,
    };
    let moves = i128::try_from(pattern.len()).unwrap_or(1).saturating_sub(1);
    let per_move = way.stepping().map_or(Angle::ZERO, |it| it.per_move);
    let start = match rule {
        StartRule::Free => per_move
            .checked_mul(moves)?
            .checked_div(2)?
            .checked_sub(first)?,
        StartRule::OnASetting => -first,
        StartRule::Given(start) => start,
    };
    let mut places = Vec::with_capacity(pattern.len());
    for (division, _) in (begun..).zip(pattern) {
        let count = way.kind().moves_to(division.rem_euclid(divisions));
        let count = count.ok_or_else(|| Error::overflow("a count of moves"))?;
        let setting = cranks::after_moves(workshop, way, count)?;
        places.push(Place {
            element: made.checked_mul(count)?,
            setting: setting.ok_or_else(|| Error::internal("a move of a head without it"))?,
            rounding_rad: None,
        });
    }
    Ok(Laid { start, places })
}

/// A real angle less the one that stands for it, in radians.
fn rounding_rad(real_rad: f64, element: Angle) -> Option<f64> {
    let turn = std::f64::consts::TAU;
    let off = (real_rad - element.to_radians_f64()).rem_euclid(turn);
    let off = if off > turn / 2.0 { off - turn } else { off };
    off.is_finite().then_some(off)
}

/// Lays a pattern feature after feature, each from the one before.
fn chained(
    reference: &PartReference,
    job: &Job,
    pattern: &[Angle],
    meter: &mut Meter<'_>,
) -> Result<Laid> {
    let chain = references::chain(reference, job, pattern, meter)?;
    let places = chain.steps.into_iter().zip(chain.elements);
    Ok(Laid {
        start: chain.start,
        places: places
            .map(|(steps, element)| Place {
                element,
                setting: Setting::FromLast { steps },
                rounding_rad: None,
            })
            .collect(),
    })
}

/// What the device presents when the clocked feature stands at the cutter: its
/// reading counted on from the zero setting, in the device's own numbering.
fn clocked_presented(workshop: &Workshop, way: &Way, clocked: &Clocked) -> Result<Angle> {
    let numbering = workshop
        .equipment()
        .get(way.equipment())
        .map_or_else(Sense::default, Equipment::numbering);
    way.zero().checked_add(numbering.apply(clocked.reading))
}

/// Which starts a job allows, with what the device presents at the clocked
/// feature.
fn start_rule(job: &Job, datum: Option<Angle>) -> Result<StartRule> {
    Ok(match job.start() {
        Start::Free => StartRule::Free,
        Start::OnASetting => StartRule::OnASetting,
        Start::Clocked(clocked) => {
            StartRule::Given(datum.unwrap_or_default().checked_sub(clocked.at)?)
        }
    })
}

/// Equal parts of a turn that a device with this zero must hold for a pattern.
fn order_needed(pattern: &[Angle], rule: StartRule, zero: Angle) -> Result<i128> {
    let reference = match rule {
        StartRule::Given(start) => zero.checked_sub(start)?,
        StartRule::Free | StartRule::OnASetting => pattern.first().copied().unwrap_or_default(),
    };
    shortfall::needed_order(pattern, reference)
}
