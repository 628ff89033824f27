//! Which two pins for which feature, where a wish is no full circle's own.

use std::collections::{BTreeMap, BTreeSet};

use super::demand::PinList;
use super::numbers::as_f64;
use super::pin_lists::Directions;
use super::pins::{PinPair, longest_with_sum};
use super::result::{Ring, ServedBy};
use crate::error::Result;

/// Most pins of a ring whose every pair is looked at.
const MOST_PINS: usize = 400;

/// A chord of two holes of a ring.
#[derive(Clone, Copy)]
struct Chord {
    /// Indices among the holes looked at.
    ends: (usize, usize),
    baseline_mm: f64,
    upright: bool,
    error: f64,
}

/// The start and the pins on one ring that serve all directions with the least
/// largest error; none where the ring does not serve them.
///
/// `error_of` tells the error of a baseline, level or upright; where none is
/// foretold, a long baseline counts as a small error.
pub(crate) fn serve_list(
    index: usize,
    ring: &Ring,
    list: &PinList,
    square: bool,
    error_of: impl Fn(f64, bool) -> f64,
) -> Result<Option<ServedBy>> {
    let Some(places) = ring.places.filter(|&places| places <= u64::from(u32::MAX)) else {
        return Ok(None);
    };
    let holes = looked_at(ring, places, list);
    // Half steps, so that half a turn is whole also where places are odd.
    let around = 2 * places;
    let Some((wanted, _)) = list.directions.in_steps(around) else {
        return Ok(None);
    };
    let mut errors: BTreeMap<(u64, bool), f64> = BTreeMap::new();
    let mut best_of_sum: BTreeMap<u64, Chord> = BTreeMap::new();
    for (k, &(_, b)) in holes.iter().enumerate() {
        for (j, &(_, a)) in holes.iter().take(k).enumerate() {
            let way = b.abs_diff(a);
            let span = way.min(places - way);
            for upright in [false, true].into_iter().take(1 + usize::from(square)) {
                let turned = if upright { places } else { 0 };
                let sum = (2 * (a + b) + turned) % around;
                let half = std::f64::consts::PI * as_f64(span) / as_f64(places);
                let baseline_mm = 2.0 * ring.radius_mm * half.sin();
                let error = match errors.get(&(span, upright)) {
                    Some(&known) => known,
                    None => {
                        let error = error_of(baseline_mm, upright);
                        errors.insert((span, upright), error);
                        error
                    }
                };
                let chord = Chord {
                    ends: (j, k),
                    baseline_mm,
                    upright,
                    error,
                };
                let kept = best_of_sum.entry(sum).or_insert(chord);
                if error < kept.error {
                    *kept = chord;
                }
            }
        }
    }
    let mut best: Option<(f64, u64)> = None;
    for &start in best_of_sum.keys() {
        let least = best.map_or(f64::INFINITY, |(error, _)| error);
        let worst = wanted.iter().try_fold(0.0_f64, |worst, sum| {
            let chord = best_of_sum.get(&((start + sum) % around))?;
            (chord.error < least).then(|| worst.max(chord.error))
        });
        if let Some(worst) = worst {
            best = Some((worst, start));
        }
    }
    let Some((_, start)) = best else {
        return Ok(None);
    };
    let chords: Vec<Chord> = wanted
        .iter()
        .filter_map(|sum| best_of_sum.get(&((start + sum) % around)).copied())
        .collect();
    let mut used: Vec<usize> = chords
        .iter()
        .flat_map(|it| [it.ends.0, it.ends.1])
        .collect();
    used.sort_unstable();
    used.dedup();
    let place_of = |end: usize| used.binary_search(&end).unwrap_or(0) as u64;
    let pairs = chords
        .iter()
        .zip(0_u64..)
        .map(|(chord, feature)| PinPair {
            feature,
            first: place_of(chord.ends.0),
            second: place_of(chord.ends.1),
            baseline_mm: chord.baseline_mm,
            upright: chord.upright,
        })
        .collect();
    Ok(Some(ServedBy::Pins {
        ring: index,
        circle: None,
        holes: used.iter().map(|&end| holes[end].0).collect(),
        pairs,
    }))
}

/// Numbers and places of the holes looked at: all, or where there are very many
/// those of one of the readings of the wish.
fn looked_at(ring: &Ring, places: u64, list: &PinList) -> Vec<(u32, u64)> {
    let all: Vec<(u32, u64)> = ring
        .holes
        .iter()
        .filter_map(|hole| Some((hole.number, hole.place?)))
        .collect();
    if all.len() <= MOST_PINS {
        return all;
    }
    for reading in &list.readings {
        let mut wanted = BTreeSet::from([0]);
        for &(p, q) in &reading.points {
            let place = i128::from(places) * p;
            if place % q == 0 {
                wanted.extend(u64::try_from(place / q));
            }
        }
        for &circle in &reading.divisions {
            if places.is_multiple_of(circle) {
                let ends = longest_chords(circle, &list.directions);
                wanted.extend(ends.into_iter().map(|end| end * (places / circle)));
            }
        }
        let found: Vec<(u32, u64)> = all
            .iter()
            .filter(|(_, place)| wanted.contains(place))
            .copied()
            .collect();
        if found.len() == wanted.len() && found.len() > 1 {
            return found;
        }
    }
    Vec::new()
}

/// Both ends of the longest chord of a full circle for each direction from the
/// first, level and upright.
fn longest_chords(circle: u64, directions: &Directions) -> Vec<u64> {
    let Some((wanted, period)) = directions.in_steps(2 * circle) else {
        return Vec::new();
    };
    wanted
        .iter()
        .flat_map(|sum| [*sum, sum + period])
        .filter(|sum| sum % 2 == 0)
        .flat_map(|sum| {
            let chord = longest_with_sum(circle, sum / 2 % circle);
            [chord.first, chord.second]
        })
        .collect()
}
