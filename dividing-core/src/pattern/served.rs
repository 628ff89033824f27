//! Which holes serve which wish, and how far off they may be.

use super::brief::{PlateBrief, PlateUse};
use super::demand::{Demand, Need};
use super::pins::{pin_pairs, pins_serve};
use super::result::{Ring, Served, ServedBy, Verdict};
use super::wish::Wish;
use crate::angle::Angle;
use crate::error::{Error, Result};

/// Radians to seconds of arc.
const ARCSEC_PER_RAD: f64 = 648_000.0 / std::f64::consts::PI;

/// Finds the outermost ring that serves each demand.
pub(crate) fn serve(brief: &PlateBrief, demands: &[Demand], rings: &[Ring]) -> Result<Vec<Served>> {
    demands
        .iter()
        .map(|demand| {
            let by = served_by(brief, demand, rings)?;
            let error_rad = predicted_error_rad(brief, &by, rings);
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
    if let (PlateUse::Pins { square, .. }, Wish::Division(division)) = (&brief.usage, &demand.wish)
    {
        let (index, ring, circle) = rings
            .iter()
            .enumerate()
            .find_map(|(index, ring)| {
                let circle = ring
                    .divisions
                    .iter()
                    .copied()
                    .rev()
                    .find(|&n| pins_serve(n, *division, *square))?;
                Some((index, ring, circle))
            })
            .ok_or_else(missing)?;
        return Ok(ServedBy::Pins {
            ring: index,
            circle,
            holes: on_circle(ring, circle)?,
            pairs: pin_pairs(circle, *division, *square, ring.radius_mm)?,
        });
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

/// Largest error of a feature from the hole positions and the pin clearance.
///
/// Plunger: half the position zone plus half the clearance, over the pitch
/// radius; a worm head divides by its ratio. Bar on two pins: the zone's
/// diameter over the baseline, both ends off by half and opposite; equal
/// clearances under a level bar shift alike and cancel.
fn predicted_error_rad(brief: &PlateBrief, by: &ServedBy, rings: &[Ring]) -> Option<f64> {
    let zone_mm = brief.hole_position_tolerance.map(|zone| zone.mm());
    let clearance_mm = brief
        .pin_diameter
        .map(|pin| brief.hole_diameter.mm() - pin.mm());
    match by {
        ServedBy::Ring { ring, .. } => {
            if zone_mm.is_none() && clearance_mm.is_none() {
                return None;
            }
            let off_mm = f64::midpoint(zone_mm.unwrap_or(0.0), clearance_mm.unwrap_or(0.0));
            let at_plate = off_mm / rings.get(*ring)?.radius_mm;
            Some(match brief.usage {
                PlateUse::WormHead { ratio } => at_plate / ratio.to_f64(),
                _ => at_plate,
            })
        }
        ServedBy::Pins { pairs, .. } => {
            let shortest_mm = pairs
                .iter()
                .map(|pair| pair.baseline_mm)
                .fold(f64::INFINITY, f64::min);
            Some(zone_mm? / shortest_mm)
        }
        ServedBy::Faces(_) | ServedBy::AnyHole | ServedBy::VernierPair { .. } => None,
    }
}
