//! Probabilities, range constants, exact geometry and standards against SciPy
//! and published tables.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "what fails in a test is a failing test"
)]
#![allow(clippy::float_cmp, reason = "the tables are exact")]

use dividing_core::Length;
use dividing_core::accuracy::{
    AngularClass, BarSupport, Decision, DecisionRule, Entry, MaximumMaterial, PinSeating,
    PitchGrades, PitchRounding, PositionTolerance, bar_tilt, clopper_pearson,
    conformance_probability, eccentricity_error, guard_band_factor, pin_play, position_diameter_mm,
    range_constants, student_factor,
};
use serde_json::Value;

const PROBABILITY: &str = include_str!("../../tests/vectors/probability.json");
const GEOMETRY: &str = include_str!("../../tests/vectors/geometry.json");

fn number(row: &Value, field: &str) -> f64 {
    row[field].as_f64().unwrap()
}

fn whole(row: &Value, field: &str) -> u64 {
    row[field].as_u64().unwrap()
}

fn assert_near(found: f64, expected: f64, tolerance: f64, row: &Value) {
    assert!(
        (found - expected).abs() <= tolerance,
        "{found} instead of {expected}: {row}"
    );
}

/// Vectors written with SciPy by tests/reference/accuracy_vectors.py.
#[test]
fn probabilities_of_scipy() {
    let rows: Vec<Value> = serde_json::from_str(PROBABILITY).unwrap();
    let mut seen = 0;
    for row in &rows {
        match row["what"].as_str().unwrap() {
            "normal_quantile" => {
                let value = number(row, "value");
                // P(|Z| <= z) = |2p − 1| gives the same quantile through the public face.
                let p = number(row, "p");
                if p > 0.5 && p < 1.0 {
                    assert_near(
                        student_factor(2.0 * p - 1.0, None).unwrap(),
                        value,
                        1e-11,
                        row,
                    );
                    seen += 1;
                }
            }
            "student_factor" => {
                let value = number(row, "value");
                let found =
                    student_factor(number(row, "p"), Some(number(row, "degrees_of_freedom")));
                assert_near(found.unwrap(), value, 1e-8 * value, row);
                seen += 1;
            }
            "clopper_pearson" => {
                let (low, high) = clopper_pearson(
                    whole(row, "successes"),
                    whole(row, "trials"),
                    number(row, "confidence"),
                )
                .unwrap();
                // Absolute 1e-9: far below the width of any of these intervals.
                assert_near(low, number(row, "low"), 1e-9, row);
                assert_near(high, number(row, "high"), 1e-9, row);
                seen += 1;
            }
            "range_constants" => {
                let found = range_constants(whole(row, "places").try_into().unwrap()).unwrap();
                assert_near(found.mean, number(row, "mean"), 1e-6, row);
                assert_near(
                    found.standard_deviation,
                    number(row, "standard_deviation"),
                    1e-6,
                    row,
                );
                seen += 1;
            }
            other => panic!("{other}"),
        }
    }
    assert!(seen > 100);
}

/// JCGM 100:2008, Table G.2 (from memory).
#[test]
fn student_factors_of_the_guide() {
    for (probability, degrees, factor) in [
        (0.95, 10.0, 2.23),
        (0.99, 10.0, 3.17),
        (0.9545, 16.0, 2.17),
        (0.99, 16.0, 2.92),
    ] {
        let found = student_factor(probability, Some(degrees)).unwrap();
        assert!(
            (found - factor).abs() < 0.005,
            "{probability} {degrees}: {found}"
        );
    }
}

/// Control-chart constants d2 and d3 as printed in ASTM MNL 7 and Montgomery,
/// Introduction to Statistical Quality Control, appendix VI (from memory).
#[test]
fn range_constants_of_control_charts() {
    for (places, d2, d3) in [
        (2, 1.128, 0.853),
        (3, 1.693, 0.888),
        (4, 2.059, 0.880),
        (5, 2.326, 0.864),
        (6, 2.534, 0.848),
        (7, 2.704, 0.833),
        (8, 2.847, 0.820),
        (9, 2.970, 0.808),
        (10, 3.078, 0.797),
        (12, 3.258, 0.778),
        (25, 3.931, 0.708),
    ] {
        let found = range_constants(places).unwrap();
        assert!((found.mean - d2).abs() <= 0.000_51, "{places}: {found:?}");
        assert!(
            (found.standard_deviation - d3).abs() <= 0.000_51,
            "{places}: {found:?}"
        );
    }
}

/// Vectors found numerically with SciPy by tests/reference/accuracy_vectors.py.
#[test]
fn geometry_found_numerically() {
    let rows: Vec<Value> = serde_json::from_str(GEOMETRY).unwrap();
    assert_eq!(rows.len(), 120);
    for row in &rows {
        // Root finding on distances holds about 1e-10 of the angle.
        let near = |found: f64| {
            let expected = number(row, "exact_rad");
            assert_near(found, expected, 1e-9 * expected.abs() + 1e-13, row);
        };
        match row["what"].as_str().unwrap() {
            "pin_play" => near(
                pin_play(
                    number(row, "pin_radius_mm"),
                    number(row, "hole_radius_mm"),
                    number(row, "clearance_mm"),
                )
                .unwrap()
                .exact_rad,
            ),
            "bar_tilt" => {
                let support = |at: usize, hole_mm: (f64, f64)| BarSupport {
                    hole_mm,
                    hole_diameter_mm: row["holes_mm"][at].as_f64().unwrap(),
                    pin_diameter_mm: row["pins_mm"][at].as_f64().unwrap(),
                };
                let second = (
                    row["second_mm"][0].as_f64().unwrap(),
                    row["second_mm"][1].as_f64().unwrap(),
                );
                let seating = if row["loose"].as_bool().unwrap() {
                    PinSeating::AtBottom
                } else {
                    PinSeating::Fixed
                };
                near(
                    bar_tilt(support(0, (0.0, 0.0)), support(1, second), seating)
                        .unwrap()
                        .exact_rad,
                );
            }
            "eccentricity_error" => near(
                eccentricity_error(
                    number(row, "hole_radius_mm"),
                    number(row, "eccentricity_mm"),
                    number(row, "phase_rad"),
                )
                .unwrap()
                .exact_rad,
            ),
            "entry" => {
                let entry = Entry {
                    radius_difference_mm: number(row, "radius_difference_mm"),
                    pin_radius_tolerance_mm: number(row, "pin_radius_tolerance_mm"),
                    hole_radius_tolerance_mm: number(row, "hole_radius_tolerance_mm"),
                    eccentricity_mm: number(row, "eccentricity_mm"),
                    least_clearance_mm: number(row, "least_clearance_mm"),
                    greatest_clearance_mm: number(row, "greatest_clearance_mm"),
                };
                let found = entry.check().unwrap().probability;
                assert_near(found, number(row, "probability"), 1e-9, row);
            }
            other => panic!("{other}"),
        }
    }
}

/// ISO 2768-1:1989, Table 3 (rows f and m read in reproductions; rows c and v
/// from memory).
#[test]
fn angular_classes() {
    let sides = [5.0, 10.0, 10.1, 50.0, 120.0, 400.0, 401.0];
    for (class, minutes) in [
        (
            AngularClass::FineOrMedium,
            [60.0, 60.0, 30.0, 30.0, 20.0, 10.0, 5.0],
        ),
        (
            AngularClass::Coarse,
            [90.0, 90.0, 60.0, 60.0, 30.0, 15.0, 10.0],
        ),
        (
            AngularClass::VeryCoarse,
            [180.0, 180.0, 120.0, 120.0, 60.0, 30.0, 20.0],
        ),
    ] {
        for (side, minutes) in sides.into_iter().zip(minutes) {
            let side = Length::from_mm(side).unwrap();
            assert_eq!(
                class.limit_minutes(side).unwrap(),
                minutes,
                "{class:?} {side}"
            );
        }
    }
    let side = Length::from_mm(200.0).unwrap();
    let met = |minutes: f64| AngularClass::met_by((minutes / 60.0).to_radians(), side).unwrap();
    assert_eq!(met(-9.9), Some(AngularClass::FineOrMedium));
    assert_eq!(met(12.0), Some(AngularClass::Coarse));
    assert_eq!(met(31.0), None);
}

/// ISO 1328-1:2013, formulas and rounding rule from memory; figures worked by
/// hand from them.
#[test]
fn pitch_grades() {
    let grades = |rounding| PitchGrades {
        reference_diameter: Length::from_mm(100.0).unwrap(),
        module: Length::from_mm(2.0).unwrap(),
        rounding,
    };
    let exact = grades(PitchRounding::Unrounded);
    assert!((exact.single_pitch_um(5).unwrap() - 5.9).abs() < 1e-12);
    assert!((exact.single_pitch_um(7).unwrap() - 11.8).abs() < 1e-12);
    assert!((exact.cumulative_pitch_um(5).unwrap() - 19.1).abs() < 1e-12);
    assert!((exact.cumulative_pitch_um(3).unwrap() - 9.55).abs() < 1e-12);
    let rounded = grades(PitchRounding::Standard);
    assert_eq!(rounded.single_pitch_um(5).unwrap(), 6.0);
    assert_eq!(rounded.single_pitch_um(4).unwrap(), 4.2);
    assert_eq!(rounded.single_pitch_um(7).unwrap(), 12.0);
    assert_eq!(rounded.cumulative_pitch_um(3).unwrap(), 9.5);
    assert!(rounded.single_pitch_um(12).is_err());
    assert_eq!(rounded.grade_met_by(1.0, 1.0).unwrap(), None);
}

#[test]
fn position_with_bonus() {
    let hole = MaximumMaterial {
        maximum_material_size: Length::from_mm(6.0).unwrap(),
        least_material_size: Length::from_mm(6.1).unwrap(),
        actual_size: Length::from_mm(6.04).unwrap(),
    };
    let tolerance = PositionTolerance {
        zone_diameter: Length::from_mm(0.1).unwrap(),
        at_maximum_material: Some(hole),
    };
    assert!((tolerance.permitted_diameter_mm().unwrap() - 0.14).abs() < 1e-12);
    let outside = PositionTolerance {
        at_maximum_material: Some(MaximumMaterial {
            actual_size: Length::from_mm(5.99).unwrap(),
            ..hole
        }),
        ..tolerance
    };
    assert_eq!(
        outside.permitted_diameter_mm().unwrap_err().field(),
        "at_maximum_material.actual_size"
    );
    // A feature turned by half a turn is two radii from its place.
    let across = position_diameter_mm(50.0, std::f64::consts::PI, 0.0).unwrap();
    assert!((across - 200.0).abs() < 1e-9);
    assert!((position_diameter_mm(50.0, 0.0, -0.03).unwrap() - 0.06).abs() < 1e-12);
    assert!(position_diameter_mm(50.0, f64::NAN, 0.0).is_err());
}

/// JCGM 106:2012: conformance probability at a distance in standard
/// uncertainties from one limit, and the guard band of 1.64 for 95 % (from
/// memory; they are normal probabilities).
#[test]
fn decision_rules() {
    for (probability, factor) in [(0.80, 0.84), (0.90, 1.28), (0.95, 1.64), (0.99, 2.33)] {
        assert!((guard_band_factor(probability).unwrap() - factor).abs() < 0.006);
        let conforms = conformance_probability(1.0 - factor * 0.1, 0.1, -10.0, 1.0).unwrap();
        assert!((conforms - probability).abs() < 0.002);
    }
    assert_eq!(guard_band_factor(0.5).unwrap(), 0.0);
    assert_eq!(conformance_probability(0.5, 0.0, 0.0, 1.0).unwrap(), 1.0);
    assert_eq!(conformance_probability(1.5, 0.0, 0.0, 1.0).unwrap(), 0.0);
    let simple = DecisionRule::SimpleAcceptance;
    assert_eq!(simple.decide(1.0, -1.0, 1.0, 5.0).unwrap(), Decision::Pass);
    assert_eq!(simple.decide(1.1, -1.0, 1.0, 5.0).unwrap(), Decision::Fail);
    let guarded = DecisionRule::GuardBand { multiple: 1.0 };
    // A band wider than the limits proves nothing either way.
    assert_eq!(
        guarded.decide(0.0, -1.0, 1.0, 5.0).unwrap(),
        Decision::NotProven
    );
    assert!(guarded.decide(0.0, 1.0, -1.0, 0.1).is_err());
    assert!(guarded.decide(f64::NAN, -1.0, 1.0, 0.1).is_err());
}
