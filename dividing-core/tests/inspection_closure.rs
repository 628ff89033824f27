//! Closure calibration against NumPy, against the closed form, and refused.
#![allow(clippy::unwrap_used, reason = "a failing unwrap is a failing test")]

use dividing_core::ErrorKind;
use dividing_core::inspection::{
    ClosureReadings, Device, Setup, SetupReadings, calibrate, plan_shifts,
};
use dividing_core::work::Meter;
use serde::Deserialize;

#[derive(Deserialize)]
struct File {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    id: String,
    positions: usize,
    shifts: Vec<usize>,
    readings_arcsec: Vec<Vec<Option<f64>>>,
    standard_uncertainty_arcsec: Option<f64>,
    determined: bool,
    #[serde(default)]
    first_arcsec: Vec<f64>,
    #[serde(default)]
    second_arcsec: Vec<f64>,
    #[serde(default)]
    offset_arcsec: Vec<f64>,
    degrees_of_freedom: Option<usize>,
    sum_of_squares_arcsec2: Option<f64>,
    probability: Option<f64>,
    covariance_arcsec2: Option<Vec<Vec<f64>>>,
}

const ARCSEC: f64 = std::f64::consts::PI / 648_000.0;

fn cases() -> Vec<Case> {
    let text = include_str!("../../tests/vectors/inspection_closure.json");
    serde_json::from_str::<File>(text).unwrap().cases
}

fn document(case: &Case) -> ClosureReadings {
    ClosureReadings {
        positions: case.positions,
        standard_uncertainty_arcsec: case.standard_uncertainty_arcsec,
        setups: case
            .shifts
            .iter()
            .zip(&case.readings_arcsec)
            .map(|(&shift, readings)| SetupReadings {
                shift,
                readings_arcsec: readings.clone(),
            })
            .collect(),
    }
}

fn close(found_rad: &[f64], wanted_arcsec: &[f64], id: &str) {
    assert_eq!(found_rad.len(), wanted_arcsec.len(), "{id}");
    for (found, wanted) in found_rad.iter().zip(wanted_arcsec) {
        // Readings are of the size of 20 arcsec; both sides round at 1e-15 of
        // that, times the condition of the weakest design (about 1e3).
        assert!(
            (found / ARCSEC - wanted).abs() < 1.0e-9,
            "{id}: {found} {wanted}"
        );
    }
}

#[test]
fn values_residuals_and_covariance_agree_with_numpy() {
    let mut with_covariance = 0;
    for case in cases().iter().filter(|case| case.determined) {
        let id = &case.id;
        let closure = document(case).calibrate(&mut Meter::default()).unwrap();
        close(&closure.first_rad, &case.first_arcsec, id);
        close(&closure.second_rad, &case.second_arcsec, id);
        close(&closure.offset_rad, &case.offset_arcsec, id);
        let residuals = &closure.residuals;
        assert_eq!(
            Some(residuals.degrees_of_freedom),
            case.degrees_of_freedom,
            "{id}"
        );
        let square = residuals.sum_of_squares_rad2 / ARCSEC / ARCSEC;
        let wanted = case.sum_of_squares_arcsec2.unwrap();
        assert!(
            (square - wanted).abs() < 1.0e-9 * wanted.max(1.0e-9),
            "{id}"
        );
        match (residuals.probability, case.probability) {
            (Some(found), Some(wanted)) => assert!((found - wanted).abs() < 1.0e-9, "{id}"),
            (found, wanted) => assert_eq!(found, wanted, "{id}"),
        }
        let Some(covariance) = &case.covariance_arcsec2 else {
            continue;
        };
        let n = case.positions;
        let matrix = closure.covariance_matrix_rad2().unwrap();
        let largest = covariance
            .iter()
            .flatten()
            .fold(0.0_f64, |m, v| m.max(v.abs()));
        let index = |k: usize| match k.checked_sub(n) {
            None => (Device::First, k),
            Some(k) => (Device::Second, k),
        };
        for (i, row) in covariance.iter().enumerate() {
            for (j, wanted) in row.iter().enumerate() {
                let found = matrix[i * 2 * n + j] / ARCSEC / ARCSEC;
                assert!((found - wanted).abs() < 1.0e-10 * largest, "{id} {i} {j}");
                let one = closure.covariance_rad2(index(i), index(j)).unwrap();
                assert!(
                    (one / ARCSEC / ARCSEC - wanted).abs() < 1.0e-10 * largest,
                    "{id}"
                );
            }
        }
        with_covariance += 1;
    }
    assert_eq!(with_covariance, 12);
}

#[test]
fn what_cannot_be_told_apart_is_refused_and_the_advice_works() {
    let mut refused = 0;
    for case in cases().iter().filter(|case| !case.determined) {
        let error = document(case).calibrate(&mut Meter::default()).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::Undetermined, "{}", case.id);
        refused += 1;
    }
    assert_eq!(refused, 4);

    // Shifts 0, 4, 8 of 12: the message names shift 1, and with it it works.
    let ring = |shift: usize| Setup {
        shift,
        readings_rad: vec![Some(0.0); 12],
    };
    let mut setups = vec![ring(0), ring(4), ring(8)];
    let error = calibrate(12, &setups, None, &mut Meter::default()).unwrap_err();
    assert!(error.message().contains("shift 1"), "{error}");
    setups.push(ring(1));
    assert!(calibrate(12, &setups, None, &mut Meter::default()).is_ok());
}

#[test]
fn a_missing_reading_that_is_named_lifts_the_rank() {
    // Two shifts without anything to spare, two readings of them missing: the
    // advice must name one of them, then the other.
    let case = cases()
        .into_iter()
        .find(|c| c.id == "missing-not-determined-few")
        .unwrap();
    let mut readings = document(&case);
    let mut named = Vec::new();
    loop {
        let error = match readings.calibrate(&mut Meter::default()) {
            Ok(_) => break,
            Err(error) => error,
        };
        assert_eq!(error.kind(), ErrorKind::Undetermined);
        assert!(
            error.message().contains("add the missing reading"),
            "{error}"
        );
        let numbers: Vec<usize> = error
            .message()
            .split(|c: char| !c.is_ascii_digit())
            .filter_map(|word| word.parse().ok())
            .collect();
        let (setup, position) = (numbers[0], numbers[2]);
        let slot = &mut readings.setups[setup].readings_arcsec[position];
        assert!(slot.is_none());
        *slot = Some(0.0);
        named.push((setup, position));
    }
    named.sort_unstable();
    assert_eq!(named, [(0, 6), (1, 3)]);
}

#[test]
fn a_position_that_was_never_read_is_named() {
    let mut setups: Vec<Setup> = [0, 1, 2]
        .into_iter()
        .map(|shift| Setup {
            shift,
            readings_rad: vec![Some(0.0); 5],
        })
        .collect();
    for setup in &mut setups {
        setup.readings_rad[3] = None;
    }
    let error = calibrate(5, &setups, None, &mut Meter::default()).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Undetermined);
    assert!(
        error.message().contains("position 3 of the first"),
        "{error}"
    );
}

#[test]
fn the_variance_of_full_closure_is_the_closed_form() {
    // Full closure is a mean of n readings with the mean of all taken out:
    // u²·(1/n − 1/n²). From first principles.
    for n in [2_usize, 3, 7, 12, 45, 360] {
        let setups: Vec<Setup> = (0..n)
            .map(|shift| Setup {
                shift,
                readings_rad: vec![Some(0.0); n],
            })
            .collect();
        let closure = calibrate(n, &setups, Some(1.0e-6), &mut Meter::default()).unwrap();
        let size = f64::from(u32::try_from(n).unwrap());
        let wanted = 1.0e-12 * (size - 1.0) / (size * size);
        for device in [Device::First, Device::Second] {
            let found = closure.uncertainty_rad(device, n / 2).unwrap().powi(2);
            assert!((found / wanted - 1.0).abs() < 1.0e-11, "{n}");
        }
        let between = closure
            .uncertainty_between_rad(Device::First, 0, n - 1)
            .unwrap();
        assert!(
            (between.powi(2) / (2.0e-12 / size) - 1.0).abs() < 1.0e-11,
            "{n}"
        );
    }
}

#[test]
fn two_neighbouring_shifts_have_the_variance_of_their_closed_form() {
    // Determinants 4·sin²(πf/n), and Σ 1/sin²(πf/n) over f = 1 … n − 1 is
    // (n² − 1)/3 (a classical identity): variance u²·(n² − 1)/(6n). The lowest
    // harmonics are where m² − |H|² would lose all its digits.
    for n in [12_u32, 360, 21_600] {
        let places = usize::try_from(n).unwrap();
        let setups: Vec<Setup> = [0, 1]
            .into_iter()
            .map(|shift| Setup {
                shift,
                readings_rad: vec![Some(0.0); places],
            })
            .collect();
        let closure = calibrate(places, &setups, Some(1.0e-6), &mut Meter::default()).unwrap();
        let size = f64::from(n);
        let wanted = 1.0e-12 * (size * size - 1.0) / (6.0 * size);
        let found = closure.uncertainty_rad(Device::First, 0).unwrap().powi(2);
        assert!(
            (found / wanted - 1.0).abs() < 1.0e-12,
            "{n} {}",
            found / wanted - 1.0
        );
    }
}

#[test]
fn three_pitches_of_a_seven_sided_polygon_close() {
    // Seven intervals of three pitches make 3 × 360° = 1080°, 154°17' each
    // (polygon calibration with an indexing table, national metrology institute
    // of Turkey): shifts by three faces alone determine both devices.
    let setups: Vec<Setup> = [0, 3]
        .into_iter()
        .map(|shift| Setup {
            shift,
            readings_rad: (0..7)
                .map(|i| Some(if i == 2 { 7.0e-6 } else { 0.0 }))
                .collect(),
        })
        .collect();
    let closure = calibrate(7, &setups, Some(1.0e-6), &mut Meter::default()).unwrap();
    // The same reading in every shift belongs to the first device alone.
    assert!((closure.first_rad[2] - 6.0e-6).abs() < 1.0e-17);
    assert!(closure.second_rad.iter().all(|value| value.abs() < 1.0e-17));
    let interval: dividing_core::Angle = "1080/7 deg".parse().unwrap();
    let text = interval.format(dividing_core::AngleStyle::DegreesMinutesSeconds(0));
    assert_eq!(text, "154°17'09\"");
}

#[test]
fn bad_readings_are_refused() {
    let ring = |shift, value| Setup {
        shift,
        readings_rad: vec![Some(value); 4],
    };
    let kind = |n, setups: &[Setup], u| {
        calibrate(n, setups, u, &mut Meter::default())
            .unwrap_err()
            .kind()
    };
    assert_eq!(kind(1, &[ring(0, 0.0)], None), ErrorKind::OutOfRange);
    assert_eq!(kind(4, &[], None), ErrorKind::EmptyList);
    assert_eq!(kind(4, &[ring(4, 0.0)], None), ErrorKind::OutOfRange);
    assert_eq!(kind(4, &[ring(0, f64::NAN)], None), ErrorKind::NotFinite);
    assert_eq!(kind(4, &[ring(0, 1.0e200)], None), ErrorKind::OutOfRange);
    assert_eq!(kind(5, &[ring(0, 0.0)], None), ErrorKind::Inconsistent);
    let two = [ring(0, 0.0), ring(1, 0.0)];
    for (uncertainty, wanted) in [
        (f64::NAN, ErrorKind::NotFinite),
        (0.0, ErrorKind::OutOfRange),
        (-1.0, ErrorKind::OutOfRange),
    ] {
        assert_eq!(kind(4, &two, Some(uncertainty)), wanted);
    }
    let error = calibrate(4, &two, None, &mut Meter::new(3)).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::WorkLimit);
}

#[test]
fn a_broken_reading_shows_in_the_residual_test() {
    let n = 12;
    let setups: Vec<Setup> = [0, 1, 4, 6]
        .into_iter()
        .enumerate()
        .map(|(k, shift)| Setup {
            shift,
            readings_rad: (0..n)
                .map(|i| Some(if (k, i) == (2, 5) { 20.0e-6 } else { 0.0 }))
                .collect(),
        })
        .collect();
    let closure = calibrate(n, &setups, Some(1.0e-6), &mut Meter::default()).unwrap();
    let residuals = closure.residuals;
    assert!(residuals.probability.unwrap() < 1.0e-9);
    let (setup, position, _) = residuals.largest.unwrap();
    assert_eq!((setup, position), (2, 5));
}

/// Variance of a division for a set of shifts, straight from a calibration.
fn variance(n: usize, shifts: &[usize]) -> Option<f64> {
    let setups: Vec<Setup> = shifts
        .iter()
        .map(|&shift| Setup {
            shift,
            readings_rad: vec![Some(0.0); n],
        })
        .collect();
    let closure = calibrate(n, &setups, Some(1.0), &mut Meter::default()).ok()?;
    closure.covariance_rad2((Device::First, 0), (Device::First, 0))
}

#[test]
fn plans_are_the_smallest_and_keep_their_word() {
    for n in [6_usize, 7, 9, 12, 13] {
        for wanted in [0.9, 0.6, 0.5, 0.4, 0.3] {
            let plan = plan_shifts(n, 1.0e-6, wanted * 1.0e-6, &mut Meter::default()).unwrap();
            let found = variance(n, &plan.shifts).unwrap().sqrt();
            assert!((plan.division_uncertainty_rad / (found * 1.0e-6) - 1.0).abs() < 1.0e-9);
            assert!(found <= wanted * (1.0 + 1.0e-9), "{n} {wanted}");
            assert_eq!(plan.readings, n * plan.shifts.len());
            if plan.shifts.len() > n {
                continue;
            }
            // Brute force: no set with one shift fewer, repetition allowed,
            // reaches it.
            let fewer = plan.shifts.len() - 1;
            let mut any = false;
            if (2..=5).contains(&fewer) {
                let mut set = vec![0_usize; fewer];
                'sets: loop {
                    any |= variance(n, &set).is_some_and(|v| v.sqrt() <= wanted * (1.0 - 1.0e-12));
                    let mut place = fewer - 1;
                    while set[place] + 1 == n {
                        if place == 1 {
                            break 'sets;
                        }
                        place -= 1;
                    }
                    let next = set[place] + 1;
                    set[place..].fill(next);
                }
            }
            assert!(!any, "{n} {wanted}: {plan:?}");
            assert!(plan.is_proved_smallest(), "{n} {wanted}: {plan:?}");
        }
    }
}

#[test]
fn wishes_beyond_one_full_closure_repeat_shifts() {
    let plan = plan_shifts(6, 1.0e-6, 0.3e-6, &mut Meter::default()).unwrap();
    assert!(plan.shifts.len() > 6);
    let found = variance(6, &plan.shifts).unwrap().sqrt();
    assert!(found <= 0.3);
    let error = plan_shifts(360, 1.0, 1.0e-9, &mut Meter::default()).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::OutOfRange);
    let plan = plan_shifts(360, 1.0e-6, 0.25e-6, &mut Meter::default()).unwrap();
    // The bound asks for 17; no set of shifts can do with fewer.
    assert!(
        plan.proved_fewest_setups >= 17 && plan.shifts.len() <= 19,
        "{plan:?}"
    );
}
