//! Whether the pin of a way goes in at all: at the limits of all tolerances, and
//! how likely.

use super::geometry::{Entry, EntryFinding, enters};
use super::plunger::station_side;
use crate::equipment::{
    Equipment, HoleCircle, PinHold, PinInHole, ReferenceContact, Workshop, WormHead,
};
use crate::error::Result;
use crate::length::Length;
use crate::reach::{Reach, Way};

/// Whether the pin of a way enters its holes: worst case and probability for
/// one hole, of a stack for the member where it is tightest; none where no pin
/// enters holes, or its sizes are not known.
///
/// A hole may stand off by half its zone and the plate by its eccentricity; the
/// pin gives by half the clearance. Through two holes, as on a vernier indexer,
/// both may be off and the pin gives in both. Loose pins of a pin plate need no
/// more than to be smaller than their holes.
///
/// # Errors
/// As [`Entry::check`].
pub fn entry_finding(workshop: &Workshop, reach: &Reach) -> Result<Option<EntryFinding>> {
    tightest(workshop, &reach.way)
}

/// Whether a pin at the limits of its tolerances may fail to enter.
pub(super) fn pin_may_not_enter(workshop: &Workshop, reach: &Reach) -> Result<bool> {
    let found = tightest(workshop, &reach.way)?;
    Ok(found.is_some_and(|it| !it.always_enters))
}

fn tightest(workshop: &Workshop, way: &Way) -> Result<Option<EntryFinding>> {
    let Some(equipment) = workshop.equipment().get(way.equipment()) else {
        return Ok(None);
    };
    match equipment {
        Equipment::DirectPlate(plate) => {
            let out_mm = furthest_out_mm(&plate.circles);
            let of = |pin| one_hole(pin, out_mm, plate.eccentricity.mm());
            plate.registration.as_ref().map(of).transpose()
        }
        Equipment::WormHead(head) => {
            let of = |pin| one_hole(pin, out_mm(head), 0.0);
            head.registration.as_ref().map(of).transpose()
        }
        Equipment::VernierIndexer(indexer) => {
            let radius_mm = indexer.circle.pitch_radius.map_or(0.0, Length::mm);
            let of = |pin| through_two(pin, &station_side(indexer, pin), radius_mm);
            indexer.registration.as_ref().map(of).transpose()
        }
        Equipment::PinPlate(plate) if plate.pin_hold == PinHold::Loose => {
            let pins = plate.registration.as_ref();
            pins.map(|pin| found(Tightness::of(pin), 0.0, 0.0, 0.0))
                .transpose()
        }
        Equipment::PartReference(reference) => match &reference.contact {
            ReferenceContact::DrilledHole(hole) => {
                let radius_mm = hole.radius.map_or(0.0, Length::mm);
                let of = |pin| one_hole(pin, radius_mm, 0.0);
                hole.registration.as_ref().map(of).transpose()
            }
            ReferenceContact::Flat(_) => Ok(None),
        },
        Equipment::Stack(_) => {
            let mut tight: Option<EntryFinding> = None;
            for member in way.members() {
                if let Some(it) = tightest(workshop, member)?
                    && tight.is_none_or(|so_far| it.worst_margin_mm < so_far.worst_margin_mm)
                {
                    tight = Some(it);
                }
            }
            Ok(tight)
        }
        _ => Ok(None),
    }
}

/// Least and greatest clearance; the least is below zero where the tolerances
/// of pin and hole cross.
#[derive(Clone, Copy)]
struct Tightness {
    least_mm: f64,
    greatest_mm: f64,
}

impl Tightness {
    fn of(pin: &PinInHole) -> Self {
        Self {
            least_mm: pin.least_clearance_mm(),
            greatest_mm: pin.greatest_clearance_mm(),
        }
    }
}

fn one_hole(pin: &PinInHole, radius_mm: f64, eccentricity_mm: f64) -> Result<EntryFinding> {
    let off_mm = pin.position_zone_mm(radius_mm) / 2.0;
    found(Tightness::of(pin), 0.0, off_mm, eccentricity_mm)
}

fn through_two(pin: &PinInHole, station: &PinInHole, radius_mm: f64) -> Result<EntryFinding> {
    let (first, second) = (Tightness::of(pin), Tightness::of(station));
    // A pin that is too large for one of the holes passes neither.
    let too_large_mm = first.least_mm.min(0.0) + second.least_mm.min(0.0);
    let both = Tightness {
        least_mm: if too_large_mm < 0.0 {
            too_large_mm
        } else {
            first.least_mm + second.least_mm
        },
        greatest_mm: first.greatest_mm + second.greatest_mm,
    };
    let station_mm = station.position_zone_mm(radius_mm) / 2.0;
    found(both, station_mm, pin.position_zone_mm(radius_mm) / 2.0, 0.0)
}

fn found(
    clearance: Tightness,
    station_mm: f64,
    hole_mm: f64,
    eccentricity_mm: f64,
) -> Result<EntryFinding> {
    let Tightness {
        least_mm,
        greatest_mm,
    } = clearance;
    let entry = Entry {
        radius_difference_mm: 0.0,
        pin_radius_tolerance_mm: station_mm,
        hole_radius_tolerance_mm: hole_mm,
        eccentricity_mm,
        least_clearance_mm: least_mm.max(0.0),
        greatest_clearance_mm: greatest_mm.max(0.0),
    }
    .check()?;
    if least_mm >= 0.0 {
        return Ok(entry);
    }
    // Of pins and holes only those with a clearance above zero come into question.
    let worst_margin_mm = least_mm / 2.0 - entry.worst_distance_mm;
    Ok(EntryFinding {
        worst_margin_mm,
        always_enters: enters(worst_margin_mm),
        probability: entry.probability * greatest_mm.max(0.0) / (greatest_mm - least_mm),
        ..entry
    })
}

/// Pitch radius of the circle furthest out, in millimetres; 0 where none is
/// known. Holes whose errors follow from the drilling are furthest off there.
fn furthest_out_mm(circles: &[HoleCircle]) -> f64 {
    let known = circles.iter().filter_map(|it| it.pitch_radius);
    known.map(Length::mm).fold(0.0, f64::max)
}

fn out_mm(head: &WormHead) -> f64 {
    let circles = head
        .plates
        .iter()
        .flat_map(|it| it.circles.iter().chain(&it.back_circles));
    let known = circles.filter_map(|it| it.pitch_radius);
    known
        .chain(head.smallest_pitch_radius)
        .map(Length::mm)
        .fold(0.0, f64::max)
}
