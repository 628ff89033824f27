//! Single and cumulative pitch deviations.

use serde::Serialize;

use super::covariance::DeviationCovariance;

/// An extreme of pitch between two places.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct PitchExtreme {
    /// The place it starts from.
    pub from_place: usize,
    /// The place it leads to.
    pub to_place: usize,
    /// Deviation of the angle between them, in radians.
    pub deviation_rad: f64,
    /// Its standard uncertainty, in radians.
    pub standard_uncertainty_rad: Option<f64>,
}

/// Pitch deviations of a ring, in the words of ISO 1328-1: single pitch is
/// neighbour to neighbour, cumulative pitch (total) is the largest deviation
/// less the smallest over the turn.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct PitchDeviations {
    /// Deviation of the pitch from place j to place j + 1 (the last back to 0),
    /// in radians; `None` where either was not measured.
    pub single_rad: Vec<Option<f64>>,
    /// Cumulative pitch of each place from the first measured place, in
    /// radians; `None` where it was not measured.
    pub cumulative_rad: Vec<Option<f64>>,
    /// The single pitch that is furthest off, either way; `None` when no two
    /// neighbours were measured.
    pub largest_single: Option<PitchExtreme>,
    /// From the smallest deviation to the largest: the total cumulative pitch
    /// deviation.
    pub total_cumulative: PitchExtreme,
}

impl PitchDeviations {
    /// From deviations of the measured places in ascending order (not empty).
    pub(super) fn new(
        places: usize,
        deviations: &[(usize, f64)],
        covariance: Option<&DeviationCovariance>,
    ) -> Self {
        let mut index_of = vec![None; places];
        for (index, &(place, _)) in deviations.iter().enumerate() {
            index_of[place] = Some(index);
        }
        let between = |from: usize, to: usize| PitchExtreme {
            from_place: deviations[from].0,
            to_place: deviations[to].0,
            deviation_rad: deviations[to].1 - deviations[from].1,
            standard_uncertainty_rad: covariance.map(|all| all.difference_rad2(from, to).sqrt()),
        };
        let mut single_rad = vec![None; places];
        let mut largest: Option<PitchExtreme> = None;
        for place in 0..places {
            let (Some(from), Some(to)) = (index_of[place], index_of[(place + 1) % places]) else {
                continue;
            };
            let value = deviations[to].1 - deviations[from].1;
            single_rad[place] = Some(value);
            if largest.is_none_or(|most| value.abs() > most.deviation_rad.abs()) {
                largest = Some(between(from, to));
            }
        }
        let (mut low, mut high) = (0, 0);
        for (index, &(_, value)) in deviations.iter().enumerate() {
            if value < deviations[low].1 {
                low = index;
            }
            if value > deviations[high].1 {
                high = index;
            }
        }
        let base = deviations.first().map_or(0.0, |(_, value)| *value);
        let mut cumulative_rad = vec![None; places];
        for &(place, value) in deviations {
            cumulative_rad[place] = Some(value - base);
        }
        Self {
            single_rad,
            cumulative_rad,
            largest_single: largest,
            total_cumulative: between(low, high),
        }
    }
}
