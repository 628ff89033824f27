//! Deviations of the places of one ring, however they were measured.

use serde::Serialize;

use crate::error::{Error, ErrorKind, Result};

use super::covariance::DeviationCovariance;
use super::finding::{Direction, Finding};
use super::harmonics::{Harmonic, first_harmonic, spectrum};
use super::numeric::{count, mean, median};
use super::pitch::PitchDeviations;

/// Most places round a ring.
pub const MAX_PLACES: usize = 10_000;

/// The deviation of one place.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct PlaceDeviation {
    /// Number of the place, from 0.
    pub place: usize,
    /// Where the place stands less where it should stand, about the mean of
    /// all places, in radians; positive in the sense of the numbering.
    pub deviation_rad: f64,
    /// The same without the first harmonic.
    pub rest_rad: f64,
    /// Standard uncertainty of the deviation from the stated uncertainty of
    /// measurement, in radians.
    pub standard_uncertainty_rad: Option<f64>,
}

/// The deviations of a ring of equally spaced places.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct RingDeviations {
    /// Places round the turn, measured or not.
    pub places: usize,
    /// Radius that turns angles into lengths along the circle, in millimetres.
    pub radius_mm: Option<f64>,
    /// The measured places in ascending order.
    pub deviations: Vec<PlaceDeviation>,
    /// The first harmonic over the turn: what an eccentric part or axis gives.
    pub first_harmonic: Harmonic,
    /// Standard uncertainty of the first harmonic's amplitude, to first order,
    /// in radians; `None` without stated uncertainty. An amplitude that is not
    /// well above it is no evidence of eccentricity.
    pub first_harmonic_uncertainty_rad: Option<f64>,
    /// Harmonics 1 to n/2; empty when a place is missing.
    pub spectrum: Vec<Harmonic>,
    /// Single and cumulative pitch as measured.
    pub pitch: PitchDeviations,
    /// Single and cumulative pitch without the first harmonic.
    pub rest_pitch: PitchDeviations,
    /// What was noticed.
    pub findings: Vec<Finding>,
    #[serde(skip)]
    pub(super) covariance: Option<DeviationCovariance>,
}

impl RingDeviations {
    /// The deviation of a place; `None` where it was not measured.
    #[must_use]
    pub fn at(&self, place: usize) -> Option<&PlaceDeviation> {
        self.deviations
            .binary_search_by_key(&place, |deviation| deviation.place)
            .ok()
            .and_then(|index| self.deviations.get(index))
    }

    /// Deviation of a place along the circle, in millimetres; `None` where it
    /// was not measured or the radius is not known.
    #[must_use]
    pub fn along_circle_mm(&self, place: usize) -> Option<f64> {
        Some(self.at(place)?.deviation_rad * self.radius_mm?)
    }

    /// Covariance of the deviations of two places, in rad².
    #[must_use]
    pub fn covariance_rad2(&self, one: usize, other: usize) -> Option<f64> {
        let all = self.covariance.as_ref()?;
        let index = |place| {
            self.deviations
                .binary_search_by_key(&place, |deviation| deviation.place)
                .ok()
                .filter(|&index| index < all.size())
        };
        Some(all.covariance_rad2(index(one)?, index(other)?))
    }

    /// Deviation and standard uncertainty of every place, `None` where it was
    /// not measured: the form in which a start is chosen.
    #[must_use]
    pub fn known(&self) -> Vec<Option<super::choice::KnownDeviation>> {
        let mut known = vec![None; self.places];
        for deviation in &self.deviations {
            if let Some(slot) = known.get_mut(deviation.place) {
                *slot = Some(super::choice::KnownDeviation {
                    deviation_rad: deviation.deviation_rad,
                    standard_uncertainty_rad: deviation.standard_uncertainty_rad.unwrap_or(0.0),
                });
            }
        }
        known
    }

    /// Puts a ring together from raw deviations of the measured places in
    /// ascending order.
    pub(super) fn assemble(
        places: usize,
        raw: &[(usize, f64)],
        radius_mm: Option<f64>,
        covariance: Option<DeviationCovariance>,
    ) -> Result<Self> {
        if raw.len() < 3 {
            return Err(Error::new(
                ErrorKind::Undetermined,
                format!(
                    "{} measured places cannot tell eccentricity from deviation; \
                     accepted: 3 or more",
                    raw.len()
                ),
            ));
        }
        let values: Vec<f64> = raw.iter().map(|(_, value)| *value).collect();
        let middle = mean(&values);
        let centred: Vec<(usize, f64)> = raw
            .iter()
            .map(|&(place, value)| (place, value - middle))
            .collect();
        let first = first_harmonic(places, &centred)?;
        let deviations: Vec<PlaceDeviation> = centred
            .iter()
            .zip(&first.rest)
            .enumerate()
            .map(
                |(index, (&(place, deviation_rad), &rest_rad))| PlaceDeviation {
                    place,
                    deviation_rad,
                    rest_rad,
                    standard_uncertainty_rad: covariance
                        .as_ref()
                        .map(|all| all.covariance_rad2(index, index).max(0.0).sqrt()),
                },
            )
            .collect();
        let rest_list: Vec<(usize, f64)> =
            deviations.iter().map(|d| (d.place, d.rest_rad)).collect();
        let mut findings = Vec::new();
        if deviations.len() < places {
            findings.push(Finding::Missing {
                places: missing(places, &centred),
            });
        }
        if covariance.is_none() {
            findings.push(Finding::NoUncertainty);
        }
        if deviations.len() == 3 {
            findings.push(Finding::NoRedundancy { measured: 3 });
        }
        findings.extend(outliers(&rest_list, Direction::Angle));
        Ok(Self {
            places,
            radius_mm,
            spectrum: spectrum(places, &centred),
            pitch: PitchDeviations::new(places, &centred, covariance.as_ref()),
            rest_pitch: PitchDeviations::new(places, &rest_list, covariance.as_ref()),
            deviations,
            first_harmonic: first.harmonic,
            first_harmonic_uncertainty_rad: covariance
                .as_ref()
                .map(|all| all.of_contrast(&first.amplitude_weights).sqrt()),
            findings,
            covariance,
        })
    }
}

fn missing(places: usize, measured: &[(usize, f64)]) -> Vec<usize> {
    let mut there = vec![false; places];
    for (place, _) in measured {
        if let Some(slot) = there.get_mut(*place) {
            *slot = true;
        }
    }
    (0..places).filter(|&place| !there[place]).collect()
}

/// Places whose modified z-score, 0.6745·|x − median|/MAD, is above 3.5. Fewer
/// than six values say too little about their own scatter.
pub(super) fn outliers(values: &[(usize, f64)], direction: Direction) -> Vec<Finding> {
    const FEWEST: usize = 6;
    const LIMIT: f64 = 3.5;
    // Radians or millimetres: far below anything that can be measured, so that
    // perfect data raise no warnings about their rounding.
    const LEAST_SCATTER: f64 = 1.0e-9;
    if values.len() < FEWEST {
        return Vec::new();
    }
    let plain: Vec<f64> = values.iter().map(|(_, value)| *value).collect();
    let middle = median(&plain);
    let distances: Vec<f64> = plain.iter().map(|value| (value - middle).abs()).collect();
    let scatter = median(&distances).max(LEAST_SCATTER);
    values
        .iter()
        .zip(distances)
        .filter_map(|(&(place, _), distance)| {
            let score = 0.6745 * distance / scatter;
            (score > LIMIT).then_some(Finding::Outlier {
                place,
                score,
                direction,
            })
        })
        .collect()
}

/// Smallest arc, in radians, that holds all measured places.
pub(super) fn arc_rad(places: usize, measured: &[usize]) -> f64 {
    let mut widest_gap = 0;
    for (index, &place) in measured.iter().enumerate() {
        let next = match measured.get(index + 1) {
            Some(&next) => next,
            None => measured.first().copied().unwrap_or(0) + places,
        };
        widest_gap = widest_gap.max(next.saturating_sub(place));
    }
    std::f64::consts::TAU * count(places.saturating_sub(widest_gap)) / count(places.max(1))
}

/// Checks a list of place numbers: each below n, none twice; returns the order
/// that sorts them.
pub(super) fn sorted_places(places: usize, numbers: &[usize], list: &str) -> Result<Vec<usize>> {
    if !(3..=MAX_PLACES).contains(&places) {
        return Err(Error::out_of_range(places, format!("3 to {MAX_PLACES}")).at("places"));
    }
    for (index, &number) in numbers.iter().enumerate() {
        if number >= places {
            return Err(Error::out_of_range(number, format!("0 to {}", places - 1))
                .at("place")
                .at(format!("{list}[{index}]")));
        }
    }
    let mut order: Vec<usize> = (0..numbers.len()).collect();
    order.sort_by_key(|&index| numbers[index]);
    for pair in order.windows(2) {
        if numbers[pair[0]] == numbers[pair[1]] {
            return Err(Error::new(
                ErrorKind::Duplicate,
                format!(
                    "place {} is listed twice, in entries {} and {}",
                    numbers[pair[0]], pair[0], pair[1]
                ),
            )
            .at(list));
        }
    }
    Ok(order)
}
