//! Harmonics against NumPy.
#![allow(clippy::unwrap_used, reason = "a failing unwrap is a failing test")]

use dividing_core::inspection::{DeviationReading, DeviationReadings, inspect_deviations};
use serde::Deserialize;

#[derive(Deserialize)]
struct File {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    id: String,
    places: usize,
    measured: Vec<usize>,
    deviations_arcsec: Vec<f64>,
    amplitude_arcsec: Vec<f64>,
    phase_rad: Vec<f64>,
    first_arcsec: f64,
    first_phase_rad: f64,
    rest_arcsec: Vec<f64>,
}

const ARCSEC: f64 = std::f64::consts::PI / 648_000.0;

fn same_phase(one: f64, other: f64) -> bool {
    ((one - other) / 2.0).sin().abs() < 1.0e-9
}

#[test]
fn spectrum_and_first_harmonic_agree_with_numpy() {
    let text = include_str!("../../tests/vectors/inspection_harmonics.json");
    for case in serde_json::from_str::<File>(text).unwrap().cases {
        let ring = inspect_deviations(&DeviationReadings {
            places: case.places,
            radius: None,
            standard_uncertainty_arcsec: None,
            readings: case
                .measured
                .iter()
                .zip(&case.deviations_arcsec)
                .map(|(&place, &deviation_arcsec)| DeviationReading {
                    place,
                    deviation_arcsec,
                })
                .collect(),
        })
        .unwrap();
        let first = ring.first_harmonic;
        assert!(
            (first.amplitude_rad / ARCSEC - case.first_arcsec).abs() < 1e-9,
            "{}",
            case.id
        );
        assert!(
            same_phase(first.phase_rad, case.first_phase_rad),
            "{}",
            case.id
        );
        assert_eq!(
            ring.spectrum.len(),
            case.amplitude_arcsec.len(),
            "{}",
            case.id
        );
        for (harmonic, (amplitude, phase)) in ring
            .spectrum
            .iter()
            .zip(case.amplitude_arcsec.iter().zip(&case.phase_rad))
        {
            assert!(
                (harmonic.amplitude_rad / ARCSEC - amplitude).abs() < 1e-9,
                "{}",
                case.id
            );
            assert!(
                same_phase(harmonic.phase_rad, *phase),
                "{} {harmonic:?}",
                case.id
            );
        }
        for (deviation, rest) in ring.deviations.iter().zip(&case.rest_arcsec) {
            assert!(
                (deviation.rest_rad / ARCSEC - rest).abs() < 1e-9,
                "{}",
                case.id
            );
        }
    }
}
