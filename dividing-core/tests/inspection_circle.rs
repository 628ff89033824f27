//! Circle fits and the covariance of deviations against SciPy.
#![allow(clippy::unwrap_used, reason = "a failing unwrap is a failing test")]

use dividing_core::Length;
use dividing_core::inspection::{
    AxisUncertainty, CoordinateReadings, MeasuredPoint, Numbering, PointReading, PointUncertainty,
    fit_circle, inspect_coordinates,
};
use serde::Deserialize;

#[derive(Deserialize)]
struct File {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    id: String,
    places: Vec<usize>,
    all_places: usize,
    points_mm: Vec<[f64; 2]>,
    uncertainty_mm: Option<Vec<[f64; 2]>>,
    centre_mm: [f64; 2],
    radius_mm: f64,
    cost: f64,
    covariance_mm2: Option<[[f64; 3]; 3]>,
    deviations_rad: Option<Vec<f64>>,
    deviation_covariance_rad2: Option<Vec<Vec<f64>>>,
}

fn cases() -> Vec<Case> {
    let text = include_str!("../../tests/vectors/inspection_circle.json");
    serde_json::from_str::<File>(text).unwrap().cases
}

fn points(case: &Case) -> Vec<MeasuredPoint> {
    case.points_mm
        .iter()
        .enumerate()
        .map(|(i, point)| MeasuredPoint {
            x_mm: point[0],
            y_mm: point[1],
            uncertainty: case.uncertainty_mm.as_ref().map(|all| PointUncertainty {
                x_mm: all[i][0],
                y_mm: all[i][1],
            }),
        })
        .collect()
}

#[test]
fn values_agree_with_scipy() {
    for case in cases() {
        let circle = fit_circle(&points(&case)).unwrap();
        // SciPy stops where its own steps drown in rounding: about 1e-8 of the
        // standard uncertainty of the parameter, or of the size for exact fits.
        let spread = case
            .covariance_mm2
            .map_or(1.0e-2, |c| (c[0][0] + c[1][1] + c[2][2]).sqrt());
        let tolerance = 1.0e-5 * spread + 1.0e-11 * case.radius_mm;
        assert!(
            (circle.x_mm - case.centre_mm[0]).abs() < tolerance,
            "{}",
            case.id
        );
        assert!(
            (circle.y_mm - case.centre_mm[1]).abs() < tolerance,
            "{}",
            case.id
        );
        assert!(
            (circle.radius_mm - case.radius_mm).abs() < tolerance,
            "{}",
            case.id
        );
        // Ours must never be the worse minimum.
        let cost = circle
            .chi_square
            .unwrap_or_else(|| circle.residuals_mm.iter().map(|r| r * r).sum());
        assert!(cost <= case.cost * (1.0 + 1.0e-9) + 1.0e-20, "{}", case.id);
        assert!(cost >= case.cost * (1.0 - 1.0e-6) - 1.0e-20, "{}", case.id);
    }
}

#[test]
fn covariances_agree_with_scipy() {
    for case in cases() {
        let circle = fit_circle(&points(&case)).unwrap();
        let (Some(ours), Some(theirs)) = (circle.covariance_mm2, case.covariance_mm2) else {
            assert_eq!(
                circle.covariance_mm2.is_none(),
                case.covariance_mm2.is_none()
            );
            assert_eq!(case.id, "three-points");
            continue;
        };
        for i in 0..3 {
            for j in 0..3 {
                let size = (theirs[i][i] * theirs[j][j]).sqrt();
                // Their Jacobian is by differences: about 1e-9 of itself, times
                // the squared condition of the flattest arc.
                assert!(
                    (ours[i][j] - theirs[i][j]).abs() < 2.0e-5 * size,
                    "{} {i} {j}: {} {}",
                    case.id,
                    ours[i][j],
                    theirs[i][j]
                );
            }
        }
    }
}

#[test]
fn deviations_and_their_covariance_agree_with_refitting() {
    let mut compared = 0;
    for case in cases() {
        let (Some(deviations), Some(covariance)) =
            (&case.deviations_rad, &case.deviation_covariance_rad2)
        else {
            continue;
        };
        let uncertainties = case.uncertainty_mm.as_ref().unwrap();
        let length = |mm: f64| Length::from_mm(mm).unwrap();
        let inspection = inspect_coordinates(&CoordinateReadings {
            places: case.all_places,
            numbering: Numbering::CounterClockwise,
            axis: None,
            nominal_radius: None,
            standard_uncertainty: None,
            points: case
                .places
                .iter()
                .zip(&case.points_mm)
                .zip(uncertainties)
                .map(|((&place, point), u)| PointReading {
                    place,
                    x: length(point[0]),
                    y: length(point[1]),
                    standard_uncertainty: Some(AxisUncertainty {
                        x: length(u[0]),
                        y: length(u[1]),
                    }),
                })
                .collect(),
        })
        .unwrap();
        let ring = &inspection.about_centre;
        for (i, &place) in case.places.iter().enumerate() {
            let found = ring.at(place).unwrap().deviation_rad;
            assert!((found - deviations[i]).abs() < 1.0e-9, "{}", case.id);
            for (j, &other) in case.places.iter().enumerate() {
                let found = ring.covariance_rad2(place, other).unwrap();
                let size = (covariance[i][i] * covariance[j][j]).sqrt();
                // First order in the weights: they move with the direction by
                // the size of a residual over the radius, about 1e-4.
                assert!(
                    (found - covariance[i][j]).abs() < 1.0e-3 * size,
                    "{} {place} {other}: {found} {}",
                    case.id,
                    covariance[i][j]
                );
            }
        }
        compared += 1;
    }
    assert_eq!(compared, 3);
}
