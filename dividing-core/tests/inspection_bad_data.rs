//! Bad data give an error or a finding, never a wrong figure.
#![allow(clippy::unwrap_used, reason = "a failing unwrap is a failing test")]

use std::f64::consts::TAU;

use dividing_core::inspection::{
    AngleReading, AngleReadings, AxisUncertainty, ChordReading, ChordReadings,
    CoordinateInspection, CoordinateReadings, Direction, Finding, Numbering, PointReading,
    inspect_angles, inspect_chords, inspect_coordinates,
};
use dividing_core::{Angle, Error, ErrorKind, Length};

fn mm(value: f64) -> Length {
    Length::from_mm(value).unwrap()
}

fn point(place: usize, x_mm: f64, y_mm: f64) -> PointReading {
    PointReading {
        place,
        x: mm(x_mm),
        y: mm(y_mm),
        standard_uncertainty: None,
    }
}

/// A ring of n holes, a little uneven so that nothing is exactly zero.
fn ring(n: usize, radius_mm: f64, sign: f64) -> Vec<PointReading> {
    (0..n)
        .map(|place| {
            let k = f64::from(u32::try_from(place).unwrap());
            let angle = sign * TAU * k / f64::from(u32::try_from(n).unwrap()) + 0.4;
            let radius = radius_mm + 0.003 * (k * 2.3).sin();
            let turn = angle + 0.00005 * (k * 1.7).cos();
            point(place, radius * turn.cos(), radius * turn.sin())
        })
        .collect()
}

fn readings(places: usize, points: Vec<PointReading>) -> CoordinateReadings {
    CoordinateReadings {
        places,
        numbering: Numbering::CounterClockwise,
        axis: Some([Length::ZERO; 2]),
        nominal_radius: None,
        standard_uncertainty: None,
        points,
    }
}

fn refused(places: usize, points: Vec<PointReading>) -> Error {
    inspect_coordinates(&readings(places, points)).unwrap_err()
}

#[test]
fn two_holes_and_holes_in_a_line() {
    let mut points = ring(12, 50.0, 1.0);
    points.truncate(2);
    assert_eq!(refused(12, points).kind(), ErrorKind::Undetermined);
    let line = (0..5_u8)
        .map(|k| {
            point(
                usize::from(k),
                10.0 * f64::from(k),
                3.0 + 2.0 * f64::from(k),
            )
        })
        .collect();
    assert_eq!(refused(12, line).kind(), ErrorKind::Undetermined);
    assert_eq!(refused(12, Vec::new()).kind(), ErrorKind::Undetermined);
}

#[test]
fn a_hole_listed_twice_and_two_holes_at_one_place() {
    let mut points = ring(12, 50.0, 1.0);
    points[7].place = 3;
    let error = refused(12, points);
    assert_eq!(error.kind(), ErrorKind::Duplicate);
    assert!(error.message().contains("place 3"), "{error}");
    let mut points = ring(12, 50.0, 1.0);
    points[7] = point(7, points[3].x.mm(), points[3].y.mm());
    assert_eq!(refused(12, points).kind(), ErrorKind::Duplicate);
}

#[test]
fn a_place_beyond_the_ring() {
    let mut points = ring(12, 50.0, 1.0);
    points[4].place = 12;
    let error = refused(12, points);
    assert_eq!(error.kind(), ErrorKind::OutOfRange);
    assert_eq!(error.field(), "points[4].place");
}

#[test]
fn numbers_are_finite_before_they_are_lengths() {
    assert_eq!(
        Length::from_mm(f64::NAN).unwrap_err().kind(),
        ErrorKind::NotFinite
    );
}

#[test]
fn one_hole_in_inches_among_millimetres_for_any_number_of_holes() {
    for n in 3..40 {
        for wrong in [0, n / 2, n - 1] {
            let mut points = ring(n, 50.0, 1.0);
            let (x, y) = (points[wrong].x.mm(), points[wrong].y.mm());
            points[wrong] = point(wrong, x / 25.4, y / 25.4);
            let error = refused(n, points);
            assert_eq!(
                error.kind(),
                ErrorKind::Inconsistent,
                "{n} {wrong}: {error}"
            );
        }
    }
}

#[test]
fn a_whole_ring_in_the_wrong_unit_shows_against_the_nominal_radius() {
    let mut all = readings(6, ring(6, 50.0 / 25.4, 1.0));
    all.nominal_radius = Some(mm(50.0));
    let error = inspect_coordinates(&all).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Inconsistent);
    assert_eq!(error.field(), "nominal_radius");
}

#[test]
fn a_part_numbered_clockwise_is_refused_and_named_for_any_number_of_holes() {
    for n in 3..40 {
        let error = refused(n, ring(n, 50.0, -1.0));
        assert_eq!(error.kind(), ErrorKind::Inconsistent, "{n}");
        assert_eq!(error.field(), "numbering", "{n}: {error}");
        let mut all = readings(n, ring(n, 50.0, -1.0));
        all.numbering = Numbering::Clockwise;
        let turned = inspect_coordinates(&all).unwrap();
        // The mirror image, measured counter-clockwise, has the same figures.
        let mut mirrored = readings(n, ring(n, 50.0, -1.0));
        for one in &mut mirrored.points {
            one.y = mm(-one.y.mm());
        }
        let straight = inspect_coordinates(&mirrored).unwrap();
        for (a, b) in turned
            .about_centre
            .deviations
            .iter()
            .zip(&straight.about_centre.deviations)
        {
            assert!((a.deviation_rad - b.deviation_rad).abs() < 1e-12);
        }
    }
}

#[test]
fn swapped_numbers_are_refused() {
    let mut points = ring(24, 50.0, 1.0);
    points[8].place = 9;
    points[9].place = 8;
    let error = refused(24, points);
    assert_eq!(error.kind(), ErrorKind::Inconsistent);
    assert!(error.message().contains("place 8"), "{error}");
}

#[test]
fn coordinates_of_another_zero_are_refused_with_an_axis_and_fine_without() {
    let mut all = readings(12, ring(12, 50.0, 1.0));
    for one in &mut all.points {
        one.x = mm(one.x.mm() + 300.0);
    }
    let error = inspect_coordinates(&all).unwrap_err();
    assert_eq!(
        (error.kind(), error.field()),
        (ErrorKind::Inconsistent, "axis")
    );
    all.axis = None;
    let inspection = inspect_coordinates(&all).unwrap();
    assert!(inspection.eccentricity.is_none() && inspection.about_axis.is_none());
    assert!((inspection.circle.x_mm - 300.0).abs() < 0.01);
}

fn has(inspection: &CoordinateInspection, wanted: impl Fn(&Finding) -> bool) -> bool {
    inspection
        .findings
        .iter()
        .chain(&inspection.about_centre.findings)
        .any(wanted)
}

#[test]
fn an_outlier_a_gap_and_a_short_arc_are_findings() {
    let mut points = ring(24, 50.0, 1.0);
    let (x, y) = (points[5].x.mm(), points[5].y.mm());
    points[5] = point(5, x * 1.004 - y * 0.004, y * 1.004 + x * 0.004);
    points.remove(10);
    let inspection = inspect_coordinates(&readings(24, points)).unwrap();
    for wanted in [Direction::Angle, Direction::Radius] {
        assert!(has(&inspection, |finding| matches!(
            finding,
            Finding::Outlier { place: 5, direction, .. } if *direction == wanted
        )));
    }
    assert!(has(
        &inspection,
        |f| matches!(f, Finding::Missing { places } if places == &[10])
    ));
    assert!(has(&inspection, |f| matches!(f, Finding::NoUncertainty)));
    assert!(inspection.about_centre.spectrum.is_empty());
    assert!(inspection.about_centre.pitch.single_rad[9].is_none());
    assert!(inspection.about_centre.pitch.single_rad[10].is_none());
    let arc = ring(24, 50.0, 1.0).into_iter().take(9).collect();
    let inspection = inspect_coordinates(&readings(24, arc)).unwrap();
    assert!(has(&inspection, |f| matches!(f, Finding::ShortArc { .. })));
    for finding in &inspection.findings {
        assert!(!finding.to_string().is_empty());
    }
}

#[test]
fn an_eccentricity_below_its_uncertainty_has_no_direction() {
    let mut all = readings(12, ring(12, 50.0, 1.0));
    all.standard_uncertainty = Some(AxisUncertainty {
        x: mm(0.02),
        y: mm(0.02),
    });
    let inspection = inspect_coordinates(&all).unwrap();
    let eccentricity = inspection.eccentricity.unwrap();
    assert!(eccentricity.direction_uncertainty_rad.is_none());
    assert!(has(&inspection, |f| matches!(
        f,
        Finding::DirectionUncertain { .. }
    )));
    // Equal uncertainties all round: the centre's is u·√(2/n).
    let wanted = 0.02 * (2.0_f64 / 12.0).sqrt();
    assert!((eccentricity.amount_uncertainty_mm.unwrap() / wanted - 1.0).abs() < 1e-3);
    all.standard_uncertainty = Some(AxisUncertainty {
        x: mm(0.0001),
        y: mm(0.0001),
    });
    let inspection = inspect_coordinates(&all).unwrap();
    assert!(has(&inspection, |f| matches!(
        f,
        Finding::LargerThanUncertainty { .. }
    )));
    all.standard_uncertainty = Some(AxisUncertainty {
        x: mm(0.0),
        y: mm(0.001),
    });
    assert_eq!(
        inspect_coordinates(&all).unwrap_err().kind(),
        ErrorKind::OutOfRange
    );
}

#[test]
fn angles_from_many_turns_and_mirrored_angles() {
    let angles = |sign: i128, turns: i128| AngleReadings {
        places: 8,
        numbering: Numbering::CounterClockwise,
        radius: None,
        standard_uncertainty_arcsec: None,
        readings: (0..8)
            .map(|place| AngleReading {
                place,
                angle: Angle::new(sign * i128::try_from(place).unwrap() + 8 * turns, 8).unwrap(),
            })
            .collect(),
    };
    let ring = inspect_angles(&angles(1, 1_000_000)).unwrap();
    assert!(
        ring.deviations
            .iter()
            .all(|d| d.deviation_rad.abs() < 1e-15)
    );
    let error = inspect_angles(&angles(-1, 0)).unwrap_err();
    assert_eq!(
        (error.kind(), error.field()),
        (ErrorKind::Inconsistent, "numbering")
    );
    let mut bad = angles(1, 0);
    bad.standard_uncertainty_arcsec = Some(f64::NAN);
    assert_eq!(
        inspect_angles(&bad).unwrap_err().kind(),
        ErrorKind::NotFinite
    );
}

fn chords(n: usize, span: usize, pin_mm: f64, list: &[f64]) -> ChordReadings {
    ChordReadings {
        places: n,
        span,
        pin_diameter: mm(pin_mm),
        standard_uncertainty: Some(mm(0.001)),
        readings: list
            .iter()
            .enumerate()
            .map(|(place, &chord)| ChordReading {
                place,
                over_pins: mm(chord + pin_mm),
            })
            .collect(),
    }
}

/// Chords of holes at uneven angles on one circle, and their true deviations.
fn true_chords(n: usize, span: usize, radius: f64) -> (Vec<f64>, Vec<f64>) {
    let size = f64::from(u32::try_from(n).unwrap());
    let number = |j: usize| f64::from(u32::try_from(j).unwrap());
    let off: Vec<f64> = (0..n)
        .map(|j| 1e-4 * (number(j) * 1.9 + 0.3).sin())
        .collect();
    let middle = off.iter().sum::<f64>() / size;
    let chords = (0..n)
        .map(|j| {
            let turn = off[(j + span) % n] - off[j] + TAU * number(span) / size;
            2.0 * radius * (turn / 2.0).sin()
        })
        .collect();
    (chords, off.iter().map(|value| value - middle).collect())
}

#[test]
fn chords_give_back_the_angles_they_were_made_of() {
    for (n, span) in [(3, 1), (5, 2), (12, 1), (12, 5), (60, 7), (61, 30)] {
        let (list, wanted) = true_chords(n, span, 40.0);
        let ring = inspect_chords(&chords(n, span, 6.0, &list)).unwrap();
        // The slope of the closing sum is steep only where chords are long.
        assert!((ring.radius_mm.unwrap() - 40.0).abs() < 1e-9, "{n} {span}");
        for (deviation, wanted) in ring.deviations.iter().zip(&wanted) {
            assert!(
                (deviation.deviation_rad - wanted).abs() < 1e-11,
                "{n} {span}"
            );
        }
    }
}

#[test]
fn the_uncertainty_of_chords_agrees_with_shifted_readings() {
    let (n, span) = (12, 5);
    let (list, _) = true_chords(n, span, 40.0);
    let values = |list: &[f64]| -> Vec<f64> {
        let ring = inspect_chords(&chords(n, span, 6.0, list)).unwrap();
        ring.deviations.iter().map(|d| d.deviation_rad).collect()
    };
    let ring = inspect_chords(&chords(n, span, 6.0, &list)).unwrap();
    let step = 1e-3;
    let columns: Vec<Vec<f64>> = (0..n)
        .map(|j| {
            let (mut up, mut down) = (list.clone(), list.clone());
            up[j] += step;
            down[j] -= step;
            let (up, down) = (values(&up), values(&down));
            let half = |(a, b): (&f64, &f64)| (a - b) / (2.0 * step) * 0.001;
            up.iter().zip(&down).map(half).collect()
        })
        .collect();
    for i in 0..n {
        for k in 0..n {
            let wanted: f64 = columns.iter().map(|column| column[i] * column[k]).sum();
            let found = ring.covariance_rad2(i, k).unwrap();
            let size = ring.covariance_rad2(i, i).unwrap();
            // First order in the unevenness of the chords, 1e-4 of an angle
            // whose tangent is about 4 here.
            assert!(
                (found - wanted).abs() < 3e-3 * size,
                "{i} {k} {found} {wanted}"
            );
        }
    }
}

#[test]
fn chords_that_cannot_close_are_refused() {
    let (list, _) = true_chords(12, 1, 40.0);
    let kind = |readings: &ChordReadings| inspect_chords(readings).unwrap_err().kind();
    let mut few = chords(12, 1, 6.0, &list);
    few.readings.remove(4);
    let error = inspect_chords(&few).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Undetermined);
    assert!(error.message().contains("place 4"), "{error}");
    assert_eq!(kind(&chords(12, 3, 6.0, &list)), ErrorKind::Undetermined);
    assert_eq!(kind(&chords(12, 6, 6.0, &list)), ErrorKind::OutOfRange);
    assert_eq!(kind(&chords(12, 0, 6.0, &list)), ErrorKind::OutOfRange);
    let mut short = list.clone();
    short[3] = -7.0;
    assert_eq!(kind(&chords(12, 1, 6.0, &short)), ErrorKind::OutOfRange);
    let mut inches = list.clone();
    inches[3] /= 25.4;
    assert_eq!(kind(&chords(12, 1, 6.0, &inches)), ErrorKind::Inconsistent);
    let mut long = list;
    long[3] *= 10.0;
    assert_eq!(kind(&chords(12, 1, 6.0, &long)), ErrorKind::Inconsistent);
}
