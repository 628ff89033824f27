//! Which holes serve which wish, and how far off they may be.

use super::brief::{PlateBrief, PlateUse};
use super::demand::{Demand, Need, PinList};
use super::equipment::bare_pin_plate;
use super::pin_chords::serve_list;
use super::pins::{pin_pairs, pins_serve};
use super::result::{Ring, Served, ServedBy, Verdict};
use super::wish::Wish;
use crate::accuracy::{Contributor, HOLE, PLATE_HOLE, STATION, bar, pin_in_hole};
use crate::angle::Angle;
use crate::equipment::{PinInHole, PinPlate};
use crate::error::{Error, Result};
use crate::reach::BarPlace;

/// Radians to seconds of arc.
const ARCSEC_PER_RAD: f64 = 648_000.0 / std::f64::consts::PI;

/// Finds the outermost ring that serves each demand.
pub(crate) fn serve(brief: &PlateBrief, demands: &[Demand], rings: &[Ring]) -> Result<Vec<Served>> {
    demands
        .iter()
        .map(|demand| {
            let by = served_by(brief, demand, rings)?;
            let error_rad = predicted_error_rad(brief, &by, rings)?;
            Ok(served(
                demand.wish.clone(),
                by,
                error_rad,
                demand.tolerance_rad,
            ))
        })
        .collect()
}

/// A wish with its error, in seconds of arc, and the verdict.
pub(crate) fn served(
    wish: Wish,
    by: ServedBy,
    error_rad: Option<f64>,
    tolerance_rad: Option<f64>,
) -> Served {
    Served {
        wish,
        by,
        predicted_error_arcsec: error_rad.map(|rad| rad * ARCSEC_PER_RAD),
        tolerance_arcsec: tolerance_rad.map(|rad| rad * ARCSEC_PER_RAD),
        verdict: match (error_rad, tolerance_rad) {
            (Some(error), Some(tolerance)) if error <= tolerance => Verdict::Holds,
            (Some(_), Some(_)) => Verdict::DoesNotHold,
            _ => Verdict::NotReckoned,
        },
    }
}

fn served_by(brief: &PlateBrief, demand: &Demand, rings: &[Ring]) -> Result<ServedBy> {
    let item = match &demand.need {
        Need::Nothing => return Ok(ServedBy::AnyHole),
        Need::Faces(faces) => return Ok(ServedBy::Faces(*faces)),
        Need::Holes(item) => item,
    };
    let missing = || Error::internal(format!("no ring serves {}", demand.wish));
    if let PlateUse::Pins { square, .. } = brief.usage {
        let found = match (&demand.wish, &demand.pins) {
            (_, Some(list)) => by_pin_list(brief, rings, list, square)?,
            (Wish::Division(division), _) => by_pins(brief, rings, *division, square)?,
            _ => None,
        };
        return found.ok_or_else(missing);
    }
    for (index, ring) in rings.iter().enumerate() {
        let whole = item
            .divisions
            .iter()
            .all(|&n| ring.divisions.iter().any(|&m| m.is_multiple_of(n)));
        if !whole {
            continue;
        }
        let mut holes = Vec::new();
        for &n in &item.divisions {
            holes.extend(on_circle(ring, n)?);
        }
        let mut found = true;
        if item.divisions.is_empty() {
            holes.push(0);
        }
        for &(p, q) in &item.points {
            let at = Angle::new(p, q)?.checked_add(ring.phase)?.within_turn();
            match ring.holes.iter().find(|hole| hole.angle == at) {
                Some(hole) => holes.push(hole.number),
                None => found = false,
            }
        }
        if found {
            holes.sort_unstable();
            holes.dedup();
            return Ok(ServedBy::Ring { ring: index, holes });
        }
    }
    Err(missing())
}

/// The circle whose pins serve a division with the least error, or, where no
/// error is foretold, with the longest of the shortest baselines.
fn by_pins(
    brief: &PlateBrief,
    rings: &[Ring],
    division: u64,
    square: bool,
) -> Result<Option<ServedBy>> {
    let mut best: Option<(f64, ServedBy)> = None;
    for (index, ring) in rings.iter().enumerate() {
        for &circle in ring.divisions.iter().rev() {
            if !pins_serve(circle, division, square) {
                continue;
            }
            let pairs = pin_pairs(circle, division, square, ring.radius_mm)?;
            let shortest_mm = pairs
                .iter()
                .map(|pair| pair.baseline_mm)
                .fold(f64::INFINITY, f64::min);
            let by = ServedBy::Pins {
                ring: index,
                circle: Some(circle),
                holes: on_circle(ring, circle)?,
                pairs,
            };
            let error = predicted_error_rad(brief, &by, rings)?.unwrap_or(1.0 / shortest_mm);
            if best.as_ref().is_none_or(|(least, _)| error < *least) {
                best = Some((error, by));
            }
        }
    }
    match best {
        Some((_, by)) => Ok(Some(by)),
        None => by_pin_list(
            brief,
            rings,
            &PinList::of_division(division, square)?,
            square,
        ),
    }
}

/// The ring whose pins serve a list with the least error.
fn by_pin_list(
    brief: &PlateBrief,
    rings: &[Ring],
    list: &PinList,
    square: bool,
) -> Result<Option<ServedBy>> {
    let pins = brief.pin_in_hole()?;
    let plate = bare_pin_plate(brief);
    let error_of = |baseline_mm: f64, upright: bool| {
        pins.as_ref().map_or(1.0 / baseline_mm, |pins| {
            bar_error_rad(&plate, pins, baseline_mm, upright)
        })
    };
    let mut best: Option<(f64, ServedBy)> = None;
    for (index, ring) in rings.iter().enumerate() {
        let Some(by) = serve_list(index, ring, list, square, error_of)? else {
            continue;
        };
        let ServedBy::Pins { pairs, .. } = &by else {
            continue;
        };
        let error = pairs
            .iter()
            .map(|pair| error_of(pair.baseline_mm, pair.upright))
            .fold(0.0, f64::max);
        if best.as_ref().is_none_or(|(least, _)| error < *least) {
            best = Some((error, by));
        }
    }
    Ok(best.map(|(_, by)| by))
}

/// Largest error of a bar over a baseline, level or upright.
fn bar_error_rad(plate: &PinPlate, pins: &PinInHole, baseline_mm: f64, upright: bool) -> f64 {
    let place = if upright {
        BarPlace::UprightRight
    } else {
        BarPlace::LevelAbove
    };
    let zone_mm = pins.hole_position_tolerance.mm();
    sum_rad(&bar(plate, pins, zone_mm, place, baseline_mm))
}

/// Numbers of the holes of a ring at whole multiples of 1/n from its zero hole.
fn on_circle(ring: &Ring, n: u64) -> Result<Vec<u32>> {
    let mut numbers = Vec::new();
    for hole in &ring.holes {
        let here = match (ring.places, hole.place) {
            (Some(places), Some(place)) => {
                (u128::from(place) * u128::from(n)).is_multiple_of(u128::from(places))
            }
            _ => {
                let from_zero = hole.angle.checked_sub(ring.phase)?;
                i128::from(n) % from_zero.denominator() == 0
            }
        };
        if here {
            numbers.push(hole.number);
        }
    }
    Ok(numbers)
}

/// Largest error of a feature from the places of the holes and the pin in
/// them: the limits that plans add up for the plate as equipment.
///
/// A worm's own error, the levelling of a bar and the centring of the plate are
/// no part of the pattern and are left out.
pub(crate) fn predicted_error_rad(
    brief: &PlateBrief,
    by: &ServedBy,
    rings: &[Ring],
) -> Result<Option<f64>> {
    let Some(pins) = brief.pin_in_hole()? else {
        return Ok(None);
    };
    let contributors = match by {
        ServedBy::Ring { ring, .. } => {
            let Some(ring) = rings.get(*ring) else {
                return Ok(None);
            };
            match brief.usage {
                PlateUse::WormHead { ratio } => {
                    pin_in_hole(&pins, &PLATE_HOLE, ring.radius_mm * ratio.to_f64())
                }
                _ => pin_in_hole(&pins, &HOLE, ring.radius_mm),
            }
        }
        ServedBy::Pins { pairs, .. } => {
            let plate = bare_pin_plate(brief);
            let worst = pairs
                .iter()
                .map(|pair| bar_error_rad(&plate, &pins, pair.baseline_mm, pair.upright))
                .fold(0.0, f64::max);
            return Ok(Some(worst));
        }
        ServedBy::VernierPair { .. } => {
            let Some(ring) = rings.first() else {
                return Ok(None);
            };
            let mut all = pin_in_hole(&pins, &HOLE, ring.radius_mm);
            all.extend(pin_in_hole(&pins, &STATION, ring.radius_mm));
            all
        }
        ServedBy::Faces(_) | ServedBy::AnyHole => return Ok(None),
    };
    Ok(Some(sum_rad(&contributors)))
}

fn sum_rad(contributors: &[Contributor]) -> f64 {
    contributors.iter().map(Contributor::limit_rad).sum()
}
