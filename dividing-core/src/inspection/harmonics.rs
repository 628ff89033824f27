//! Harmonics of deviations over the turn.

use std::f64::consts::TAU;

use serde::Serialize;

use crate::error::{Error, ErrorKind, Result};

use super::cholesky::{Pivoted, Square};
use super::fourier::{Complex, Transform};
use super::numeric::count;

/// One harmonic: `amplitude·cos(order·θ − phase)` with θ the nominal angle from
/// place 0 in the sense of the numbering.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct Harmonic {
    /// Waves over the turn, from 1.
    pub order: usize,
    /// Amplitude in radians, not negative.
    pub amplitude_rad: f64,
    /// Phase in radians, above −π, up to π; 0 where the amplitude is 0.
    pub phase_rad: f64,
}

impl Harmonic {
    fn new(order: usize, cosine: f64, sine: f64) -> Self {
        Self {
            order,
            amplitude_rad: cosine.hypot(sine),
            phase_rad: sine.atan2(cosine) + 0.0,
        }
    }
}

/// The first harmonic, what is left without it, and how its amplitude follows
/// the deviations.
pub(super) struct FirstHarmonic {
    pub(super) harmonic: Harmonic,
    pub(super) rest: Vec<f64>,
    /// Derivative of the amplitude by each deviation; they sum to zero.
    pub(super) amplitude_weights: Vec<f64>,
}

/// The first harmonic by least squares together with a constant. Works with
/// missing places; with all of them it is the Fourier one.
pub(super) fn first_harmonic(places: usize, deviations: &[(usize, f64)]) -> Result<FirstHarmonic> {
    let rows: Vec<[f64; 3]> = deviations
        .iter()
        .map(|&(place, _)| {
            let (sin, cos) = (TAU * count(place) / count(places)).sin_cos();
            [1.0, cos, sin]
        })
        .collect();
    let mut normal = Square::zero(3);
    let mut right = [0.0; 3];
    for (row, (_, value)) in rows.iter().zip(deviations) {
        for i in 0..3 {
            right[i] += row[i] * value;
            for j in 0..3 {
                normal.add(i, j, row[i] * row[j]);
            }
        }
    }
    let factor = Pivoted::new(normal);
    if !factor.has_full_rank() {
        return Err(Error::new(
            ErrorKind::Undetermined,
            "the measured places lie too close together to tell eccentricity from a \
             common shift; measure places further round the circle",
        ));
    }
    let solution = factor.solve(&right);
    let rest = rows
        .iter()
        .zip(deviations)
        .map(|(row, (_, value))| {
            let fitted: f64 = row.iter().zip(&solution).map(|(a, b)| a * b).sum();
            value - fitted
        })
        .collect();
    let harmonic = Harmonic::new(1, solution[1], solution[2]);
    let (sin, cos) = harmonic.phase_rad.sin_cos();
    // amplitude ≈ cos(phase)·cosine + sin(phase)·sine, each linear in the data.
    let direction = factor.solve(&[0.0, cos, sin]);
    let amplitude_weights = rows
        .iter()
        .map(|row| row.iter().zip(&direction).map(|(a, b)| a * b).sum())
        .collect();
    Ok(FirstHarmonic {
        harmonic,
        rest,
        amplitude_weights,
    })
}

/// All harmonics of a ring without gaps, 1 to n/2; empty when a place is
/// missing.
pub(super) fn spectrum(places: usize, deviations: &[(usize, f64)]) -> Vec<Harmonic> {
    if deviations.len() != places {
        return Vec::new();
    }
    let values: Vec<Complex> = deviations
        .iter()
        .map(|&(_, value)| Complex::new(value, 0.0))
        .collect();
    let transformed = Transform::new(places).forward(&values);
    (1..=places / 2)
        .map(|order| {
            // The last harmonic of an even ring has no partner.
            let alone = 2 * order == places;
            let factor = if alone { 1.0 } else { 2.0 } / count(places);
            let sine = if alone { 0.0 } else { -transformed[order].im };
            Harmonic::new(order, transformed[order].re * factor, sine * factor)
        })
        .collect()
}
