//! Tails of distributions against SciPy.
#![allow(clippy::unwrap_used, reason = "a failing unwrap is a failing test")]

use dividing_core::inspection::{chi_square_tail, normal_probability};
use serde::Deserialize;

#[derive(Deserialize)]
struct File {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum Case {
    ChiSquare {
        degrees_of_freedom: usize,
        chi_square: f64,
        tail: f64,
    },
    Normal {
        z: f64,
        probability: f64,
    },
}

#[test]
fn tails_agree_with_scipy() {
    let text = include_str!("../../tests/vectors/inspection_statistics.json");
    for case in serde_json::from_str::<File>(text).unwrap().cases {
        match case {
            // Relative, as tails are small; the exponent of a large number of
            // degrees of freedom costs some digits.
            Case::ChiSquare {
                degrees_of_freedom,
                chi_square,
                tail,
            } => {
                let found = chi_square_tail(chi_square, degrees_of_freedom);
                assert!(
                    (found - tail).abs() <= 1.0e-10 * tail + 1.0e-13,
                    "{degrees_of_freedom} {chi_square} {found} {tail}"
                );
            }
            Case::Normal { z, probability } => {
                let found = normal_probability(z);
                assert!((found - probability).abs() <= 1.0e-12 * probability, "{z}");
            }
        }
    }
}
