//! Do the numbers of the places and where they stand belong together?

use std::f64::consts::TAU;

use crate::error::{Error, ErrorKind, Result};

use super::measurement::Numbering;
use super::numeric::{count, mean, wrapped};

/// A place further off than this part of a pitch is taken to be numbered,
/// typed or measured wrong: a hole taken for its neighbour is a whole pitch off.
const LARGEST_PART_OF_PITCH: f64 = 0.25;

/// Resultant length above which the numbers are taken to follow the angles.
const FOLLOWS: f64 = 0.9;

/// Deviations about the mean from angles counted in the sense of the
/// numbering; refuses numbers that run the other way or do not fit.
///
/// `angles` holds place and angle in ascending order of places.
pub(super) fn deviations(
    places: usize,
    angles: &[(usize, f64)],
    numbering: Numbering,
    list: &str,
) -> Result<Vec<(usize, f64)>> {
    let nominal = |place: usize| TAU * count(place) / count(places);
    let resultant = |sign: f64| {
        let (mut x, mut y) = (0.0, 0.0);
        for &(place, angle) in angles {
            let (sin, cos) = (angle - sign * nominal(place)).sin_cos();
            x += cos;
            y += sin;
        }
        (x.hypot(y) / count(angles.len().max(1)), y.atan2(x))
    };
    let (forward, shift) = resultant(1.0);
    let (backward, _) = resultant(-1.0);
    if backward > FOLLOWS && forward < FOLLOWS {
        return Err(Error::new(
            ErrorKind::Inconsistent,
            format!(
                "the places run the other way than they are numbered; if the part was \
                 measured from its other side or numbered so, give numbering: {}",
                numbering.other_name()
            ),
        )
        .at("numbering"));
    }
    let raw: Vec<(usize, f64)> = angles
        .iter()
        .map(|&(place, angle)| (place, wrapped(angle - nominal(place) - shift)))
        .collect();
    let middle = mean(&raw.iter().map(|(_, value)| *value).collect::<Vec<_>>());
    let result: Vec<(usize, f64)> = raw
        .iter()
        .map(|&(place, value)| (place, value - middle))
        .collect();
    check_size(places, &result, list)?;
    Ok(result)
}

/// Refuses a deviation beyond a quarter of the pitch.
pub(super) fn check_size(places: usize, deviations: &[(usize, f64)], list: &str) -> Result<()> {
    let pitch = TAU / count(places);
    for &(place, value) in deviations {
        let sound = value.abs() <= LARGEST_PART_OF_PITCH * pitch;
        if !sound {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "place {place} stands {:.3} pitches from where its number says; accepted: \
                     up to {LARGEST_PART_OF_PITCH}; check its number, its unit and its figures",
                    value / pitch
                ),
            )
            .at(list));
        }
    }
    Ok(())
}
