//! Measured places taken together: their errors of measurement may be tied by a
//! covariance, so that a difference of two of them is known better, or worse,
//! than each for itself (JCGM 100:2008, 5.2.2).

use std::collections::BTreeMap;

use super::contributor::{Contributor, Distribution, InputUnit, Persistence};
use super::figure::WHEN_CLOCKING;
use super::measured::{MEASURED_PLACE, MEASURED_PLATE_HOLE, expanded};
use super::model::ModelFeature;
use super::place::placed;
use super::registration::Registration;
use super::simulation::SimulatedInput;
use crate::angle::Angle;
use crate::equipment::{Equipment, MeasuredRing, Workshop};
use crate::reach::{Setting, Way, WayKind};

/// What a setting uses of a measured ring: one place, or two with the share of
/// each between calibrated readings.
struct Used<'w> {
    ring: &'w MeasuredRing,
    shares: Vec<(u32, f64)>,
    name: &'static str,
}

/// The measured place of a setting: a hole of a plate, or a reading of a table.
fn used<'w>(workshop: &'w Workshop, way: &Way, setting: &Setting) -> Option<Used<'w>> {
    let (ring, hole, name) = match (workshop.equipment().get(way.equipment())?, setting) {
        (Equipment::DirectPlate(plate), Setting::Hole { circle, hole }) => {
            let circle = plate.circles.iter().find(|it| it.holes == *circle)?;
            (circle.measured.as_ref()?, *hole, MEASURED_PLACE)
        }
        (Equipment::VernierIndexer(indexer), Setting::HoleAtStation { hole, .. }) => {
            (indexer.circle.measured.as_ref()?, *hole, MEASURED_PLACE)
        }
        (Equipment::WormHead(head), Setting::Crank { hole, .. }) => {
            let (WayKind::SimpleIndexing {
                plate,
                back,
                circle,
            }
            | WayKind::DifferentialIndexing {
                plate,
                back,
                circle,
                ..
            }) = way.kind()
            else {
                return None;
            };
            let circle = head.side(plate, back)?.get(circle)?;
            (circle.measured.as_ref()?, *hole, MEASURED_PLATE_HOLE)
        }
        (Equipment::GraduatedDial(dial), Setting::Reading { table, .. }) => {
            let ring = dial.measured.as_ref()?;
            let shares = ring.shares(*table)?;
            return Some(Used {
                ring,
                shares,
                name: MEASURED_PLACE,
            });
        }
        _ => return None,
    };
    ring.at(hole)?;
    Some(Used {
        ring,
        shares: vec![(hole, 1.0)],
        name,
    })
}

/// Puts the uncertainty of the difference in the stead of those of a feature's
/// place and of the datum's, where both are of one measured ring.
pub(super) fn against_the_datum(
    workshop: &Workshop,
    way: &Way,
    (setting, datum): (&Setting, &Setting),
    found: &mut Registration,
) {
    let (Some(one), Some(other)) = (used(workshop, way, setting), used(workshop, way, datum))
    else {
        return;
    };
    let against = other.shares.iter().map(|(place, share)| (*place, -share));
    let both: Vec<(u32, f64)> = one.shares.iter().copied().chain(against).collect();
    let Some(variance_rad2) = one.ring.variance_rad2(&both) else {
        return;
    };
    let own = |it: &Contributor| it.name == one.name;
    let of_datum = |it: &Contributor| it.name.strip_suffix(WHEN_CLOCKING) == Some(one.name);
    let all = &mut found.contributors;
    let both_there = all.iter().any(of_datum);
    let Some(sensitivity) = all.iter().find(|it| own(it)).map(|it| it.sensitivity) else {
        return;
    };
    if !both_there {
        return;
    }
    all.retain(|it| !own(it) && !of_datum(it));
    if variance_rad2 > 0.0 {
        all.push(expanded(
            "measured place against the datum's, expanded uncertainty",
            variance_rad2.sqrt(),
            InputUnit::Radian,
            sensitivity,
        ));
    }
}

/// Most places of one simulation whose covariance is drawn; the draws grow with
/// their square.
const MOST_PLACES: usize = 64;

/// Draws the places of a measured ring together: independent parts that many
/// places share take the stead of one part for each place (the lower factor of
/// the covariance, JCGM 101:2008, 6.4.8). Nothing changes where each place stands
/// for itself, or beyond [`MOST_PLACES`] places.
pub(super) fn draw_together(
    workshop: &Workshop,
    way: &Way,
    settings: &[&Setting],
    features: &mut [ModelFeature],
) {
    let mut places: Vec<u32> = Vec::new();
    let mut all: Vec<(String, Used<'_>)> = Vec::new();
    let mut tied = false;
    for setting in settings {
        let Some(it) = used(workshop, way, setting) else {
            continue;
        };
        tied |= it.ring.covariance.is_some() || it.shares.len() > 1;
        for (place, _) in &it.shares {
            if !places.contains(place) {
                places.push(*place);
            }
        }
        if places.len() > MOST_PLACES {
            return;
        }
        // The key by which the draws of one place are shared.
        let plain = expanded(it.name, 1.0, InputUnit::Radian, 1.0);
        if let Some(key) = placed(&plain, setting, Angle::ZERO).place {
            all.push((key, it));
        }
    }
    let Some((_, first)) = all.first().filter(|_| tied) else {
        return;
    };
    places.sort_unstable();
    let (name, factor) = (first.name, lower_factor(first.ring, &places));
    let row_of = |shares: &[(u32, f64)]| {
        let mut row = vec![0.0; places.len()];
        for (place, share) in shares {
            let Ok(index) = places.binary_search(place) else {
                continue;
            };
            for (sum, value) in row.iter_mut().zip(factor.get(index).into_iter().flatten()) {
                *sum += share * value;
            }
        }
        row
    };
    let rows: BTreeMap<&str, Vec<f64>> = all
        .iter()
        .map(|(key, it)| (key.as_str(), row_of(&it.shares)))
        .collect();
    for feature in features {
        let mut inputs = Vec::with_capacity(feature.inputs.len());
        for input in std::mem::take(&mut feature.inputs) {
            let row = input.place.as_deref().and_then(|key| rows.get(key));
            match row.filter(|_| input.contributor.name == name) {
                Some(row) => inputs.extend(parts(name, row, input.contributor.sensitivity)),
                None => inputs.push(input),
            }
        }
        feature.inputs = inputs;
    }
}

fn parts(name: &str, row: &[f64], sensitivity: f64) -> Vec<SimulatedInput> {
    let of_part = |(part, factor): (usize, &f64)| Contributor {
        name: format!("{name}, part {}", part + 1).into(),
        limit: 1.0,
        unit: InputUnit::Radian,
        sensitivity: sensitivity * factor,
        distribution: Distribution::Normal {
            sigmas_at_limit: 1.0,
        },
        persistence: Persistence::FixedForJob,
        degrees_of_freedom: None,
    };
    let some = row.iter().enumerate().filter(|(_, factor)| **factor != 0.0);
    some.map(of_part).map(SimulatedInput::from).collect()
}

/// L of L·Lᵀ, the covariance of places, by rows. A place that follows from those
/// before it, as the last of deviations that sum to zero, gets no part of its own.
fn lower_factor(ring: &MeasuredRing, places: &[u32]) -> Vec<Vec<f64>> {
    /// Below this part of its variance nothing but rounding is left of a place.
    const NOTHING: f64 = 1.0e-10;
    let mut rows: Vec<Vec<f64>> = Vec::with_capacity(places.len());
    for (i, &place) in places.iter().enumerate() {
        let mut row = vec![0.0; i + 1];
        for (j, &other) in places.iter().enumerate().take(i + 1) {
            let before = rows.get(j).unwrap_or(&row);
            let shared: f64 = row.iter().zip(before).take(j).map(|(a, b)| a * b).sum();
            let whole = ring.covariance_rad2(place, other).unwrap_or(0.0);
            let left = whole - shared;
            let value = if j == i {
                if left > NOTHING * whole {
                    left.sqrt()
                } else {
                    0.0
                }
            } else {
                let pivot = before.get(j).copied().unwrap_or(0.0);
                if pivot > 0.0 { left / pivot } else { 0.0 }
            };
            if let Some(slot) = row.get_mut(j) {
                *slot = value;
            }
        }
        rows.push(row);
    }
    rows
}
