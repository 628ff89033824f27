//! Using known deviations: starts against brute force; verdicts and grades.
#![allow(clippy::unwrap_used, reason = "a failing unwrap is a failing test")]

use std::f64::consts::TAU;

use dividing_core::inspection::{
    CoordinateReadings, Decision, DecisionRule, DeviationReading, DeviationReadings, Device,
    Judging, KnownDeviation, Numbering, PointReading, Reference, RingLimits, Setup, Wheel,
    calibrate, check_position, check_ring, choose_start, correction_table, inspect_coordinates,
    inspect_deviations, pitch_grade,
};
use dividing_core::work::Meter;
use dividing_core::{ErrorKind, Length};

const ARCSEC: f64 = std::f64::consts::PI / 648_000.0;

/// Seeded numbers from −1 to 1 (`SplitMix64`).
struct Random(u64);

impl Random {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^= z >> 31;
        f64::from(u32::try_from(z >> 32).unwrap()) / f64::from(u32::MAX) * 2.0 - 1.0
    }
}

fn plate(random: &mut Random, n: usize) -> Vec<Option<KnownDeviation>> {
    (0..n)
        .map(|_| {
            Some(KnownDeviation {
                deviation_rad: 30.0 * ARCSEC * random.next(),
                standard_uncertainty_rad: 2.0 * ARCSEC * random.next().abs(),
            })
        })
        .collect()
}

/// The worst feature of one start, written out plainly.
fn plain(list: &[KnownDeviation], judging: &Judging) -> f64 {
    let n = f64::from(u32::try_from(list.len()).unwrap());
    let k = judging.coverage_factor;
    let limit = |i: usize| judging.limits_rad.as_ref().map_or(1.0, |l| l[i]);
    let d: Vec<f64> = list.iter().map(|one| one.deviation_rad).collect();
    let u: Vec<f64> = list
        .iter()
        .map(|one| one.standard_uncertainty_rad)
        .collect();
    let worst = |zero: f64, spread: &dyn Fn(usize) -> f64| {
        (0..list.len())
            .map(|i| ((d[i] - zero).abs() + k * spread(i)) / limit(i))
            .fold(0.0, f64::max)
    };
    match judging.reference {
        Reference::Given => worst(0.0, &|i| u[i]),
        Reference::Mean => {
            let all: f64 = u.iter().map(|x| x * x).sum();
            worst(d.iter().sum::<f64>() / n, &|i| {
                // Σ over k of (δik − 1/n)²·u(k)².
                ((1.0 - 1.0 / n).powi(2) * u[i] * u[i] + (all - u[i] * u[i]) / (n * n)).sqrt()
            })
        }
        Reference::FirstFeature => worst(d[0], &|i| if i == 0 { 0.0 } else { u[i].hypot(u[0]) }),
        Reference::Middle => {
            // Golden section on a convex function of the shift.
            let (mut low, mut high) = (-1.0e-3, 1.0e-3);
            for _ in 0..200 {
                let (a, b) = (
                    low + 0.381_966 * (high - low),
                    low + 0.618_034 * (high - low),
                );
                if worst(a, &|i| u[i]) < worst(b, &|i| u[i]) {
                    high = b;
                } else {
                    low = a;
                }
            }
            worst(0.5 * (low + high), &|i| u[i])
        }
    }
}

#[test]
fn the_start_on_a_sixty_hole_plate_for_twelve_divisions_is_the_exact_best() {
    let mut random = Random(60_12);
    let pattern: Vec<usize> = (0..12).map(|k| 5 * k).collect();
    for trial in 0..20 {
        let known = plate(&mut random, 60);
        for reference in [
            Reference::Given,
            Reference::Mean,
            Reference::Middle,
            Reference::FirstFeature,
        ] {
            for (coverage_factor, limits) in [(0.0, false), (2.0, false), (2.0, true)] {
                let judging = Judging {
                    reference,
                    coverage_factor,
                    limits_rad: limits.then(|| {
                        (0..12)
                            .map(|k| (20.0 + 3.0 * f64::from(k)) * ARCSEC)
                            .collect()
                    }),
                };
                let choice =
                    choose_start(&known, &pattern, &judging, &mut Meter::default()).unwrap();
                let all: Vec<f64> = (0..60)
                    .map(|start| {
                        let list: Vec<KnownDeviation> = pattern
                            .iter()
                            .map(|offset| known[(start + offset) % 60].unwrap())
                            .collect();
                        plain(&list, &judging)
                    })
                    .collect();
                let best = all.iter().copied().fold(f64::INFINITY, f64::min);
                let worst = all.iter().copied().fold(0.0, f64::max);
                let average = all.iter().sum::<f64>() / 60.0;
                let unit = if limits { 1.0 } else { ARCSEC };
                let near = |a: f64, b: f64| (a - b).abs() < 1.0e-9 * unit;
                let what = format!("{trial} {reference:?} {coverage_factor} {limits}");
                assert!(near(choice.judged.worst, best), "{what}");
                assert!(near(all[choice.best], best), "{what}");
                assert!(near(choice.worst_choice, worst), "{what}");
                assert!(near(choice.average_choice, average), "{what}");
                assert!(choice.gain_over_worst() >= 0.0 && choice.gain_over_average() >= 0.0);
                let free = reference != Reference::FirstFeature && !limits;
                assert_eq!(choice.choices, if free { 5 } else { 60 });
            }
        }
    }
}

fn ring_of(deviations_arcsec: &[f64], u: Option<f64>) -> dividing_core::inspection::RingDeviations {
    inspect_deviations(&DeviationReadings {
        places: deviations_arcsec.len(),
        radius: None,
        standard_uncertainty_arcsec: u,
        readings: deviations_arcsec
            .iter()
            .enumerate()
            .map(|(place, &deviation_arcsec)| DeviationReading {
                place,
                deviation_arcsec,
            })
            .collect(),
    })
    .unwrap()
}

#[test]
fn pitch_deviations_are_neighbour_to_neighbour_and_largest_less_smallest() {
    let ring = ring_of(&[0.0, 3.0, -2.0, 4.0, 1.0, -6.0], Some(0.5));
    let single: Vec<f64> = ring
        .pitch
        .single_rad
        .iter()
        .map(|p| p.unwrap() / ARCSEC)
        .collect();
    for (found, wanted) in single.iter().zip([3.0, -5.0, 6.0, -3.0, -7.0, 6.0]) {
        assert!((found - wanted).abs() < 1e-9);
    }
    let largest = ring.pitch.largest_single.unwrap();
    assert_eq!((largest.from_place, largest.to_place), (4, 5));
    let total = ring.pitch.total_cumulative;
    assert_eq!((total.from_place, total.to_place), (5, 3));
    assert!((total.deviation_rad / ARCSEC - 10.0).abs() < 1e-9);
    // Two independent readings: √2·u, whatever the mean does.
    let wanted = 0.5 * 2.0_f64.sqrt();
    assert!((total.standard_uncertainty_rad.unwrap() / ARCSEC - wanted).abs() < 1e-9);
    // About the mean of six: u·√(1 − 1/6).
    let own = ring.at(2).unwrap().standard_uncertainty_rad.unwrap() / ARCSEC;
    assert!((own - 0.5 * (5.0_f64 / 6.0).sqrt()).abs() < 1e-9);
}

#[test]
fn the_first_harmonic_has_the_uncertainty_of_its_design() {
    // Equal readings all round: u·√(2/n), orthogonal regressors (Fourier).
    let list: Vec<f64> = (0..24_u8)
        .map(|k| 9.0 * (TAU * f64::from(k) / 24.0).cos())
        .collect();
    let ring = ring_of(&list, Some(0.3));
    let found = ring.first_harmonic_uncertainty_rad.unwrap() / ARCSEC;
    assert!((found - 0.3 * (2.0_f64 / 24.0).sqrt()).abs() < 1e-12);
    assert!(
        ring_of(&list, None)
            .first_harmonic_uncertainty_rad
            .is_none()
    );
}

#[test]
fn a_closure_goes_on_to_a_start_and_a_correction_table() {
    let n = 24;
    let first: Vec<f64> = (0..n)
        .map(|i| 5.0 * ARCSEC * f64::from(i * i % 7 - 3))
        .collect();
    let middle = first.iter().sum::<f64>() / f64::from(n);
    let setups: Vec<Setup> = [0, 1, 5]
        .into_iter()
        .map(|shift| Setup {
            shift,
            readings_rad: first.iter().map(|&value| Some(value)).collect(),
        })
        .collect();
    let closure = calibrate(24, &setups, Some(0.1 * ARCSEC), &mut Meter::default()).unwrap();
    let known = closure.known(Device::First);
    for (known, value) in known.iter().zip(&first) {
        let known = known.unwrap();
        assert!((known.deviation_rad - (value - middle)).abs() < 1e-6 * ARCSEC);
        assert!(known.standard_uncertainty_rad > 0.0);
    }
    for one in correction_table(&known, 2.0 * ARCSEC).unwrap() {
        assert!(one.left_rad.abs() <= 1.000_001 * ARCSEC);
        let dial = known[one.place].unwrap().deviation_rad + one.correction_rad;
        assert!((dial - one.left_rad).abs() < 1e-15);
    }
    let judging = Judging {
        reference: Reference::Mean,
        coverage_factor: 0.0,
        limits_rad: None,
    };
    let choice = choose_start(&known, &[0, 6, 12, 18], &judging, &mut Meter::default()).unwrap();
    assert_eq!(choice.choices, 6);
}

#[test]
fn a_part_passes_fails_or_is_not_proven() {
    let deviations = [0.0, 3.0, -2.0, 4.0, 1.0, -6.0];
    let rule = DecisionRule::GuardBand { multiple: 1.0 };
    let verdict = |u: Option<f64>, limit_arcsec: f64, rule| {
        let limits = RingLimits {
            cumulative_pitch_rad: Some(limit_arcsec * ARCSEC),
            ..RingLimits::default()
        };
        check_ring(&ring_of(&deviations, u), &limits, rule)
            .unwrap()
            .decision
    };
    // 10 measured, U = 2·√2·0.5 = 1.41.
    assert_eq!(verdict(Some(0.5), 11.5, rule), Decision::Pass);
    assert_eq!(verdict(Some(0.5), 11.0, rule), Decision::NotProven);
    assert_eq!(verdict(Some(0.5), 9.0, rule), Decision::NotProven);
    assert_eq!(verdict(Some(0.5), 8.5, rule), Decision::Fail);
    assert_eq!(verdict(None, 100.0, rule), Decision::NotProven);
    assert_eq!(
        verdict(None, 10.1, DecisionRule::SimpleAcceptance),
        Decision::Pass
    );
    assert_eq!(
        verdict(None, 9.9, DecisionRule::SimpleAcceptance),
        Decision::Fail
    );
    // Clocked to place 0: 6 arcsec at place 5 is what counts.
    let ring = ring_of(&deviations, Some(0.01));
    for (limit, wanted) in [(6.1, Decision::Pass), (5.9, Decision::Fail)] {
        let limits = RingLimits {
            angle_rad: Some(limit * ARCSEC),
            datum_place: Some(0),
            ..RingLimits::default()
        };
        let part = check_ring(&ring, &limits, rule).unwrap();
        assert_eq!((part.decision, part.checks.len()), (wanted, 5));
    }
    let nothing = check_ring(&ring, &RingLimits::default(), rule).unwrap_err();
    assert_eq!(nothing.kind(), ErrorKind::EmptyList);
}

/// A free part conforms when any shift brings every place within the limit: 12
/// and −9 are 21 apart, so ±10.5 about their middle, though the mean of all is 0.
#[test]
fn a_free_part_is_shifted_until_its_worst_place_is_best() {
    let ring = ring_of(&[0.0, 12.0, -3.0, -9.0], Some(0.5));
    let rule = DecisionRule::SimpleAcceptance;
    let part = |limit: f64| {
        let limits = RingLimits {
            angle_rad: Some(limit * ARCSEC),
            ..RingLimits::default()
        };
        check_ring(&ring, &limits, rule).unwrap()
    };
    assert_eq!(part(10.6).decision, Decision::Pass);
    assert_eq!(part(10.4).decision, Decision::Fail);
    let checks = part(10.6).checks;
    for (check, wanted) in checks.iter().zip([-1.5, 10.5, -4.5, -10.5]) {
        assert!((check.measured.value / ARCSEC - wanted).abs() < 1e-9);
    }
    // Independent readings: of half a difference u/√2, of a third one against
    // the middle of two u·√(1 + 1/2) (JCGM 100:2008, 5.1.2).
    for (check, wanted) in checks.iter().zip([1.5_f64, 0.5, 1.5, 0.5]) {
        let u = check.measured.standard_uncertainty.unwrap() / ARCSEC;
        assert!((u - 0.5 * wanted.sqrt()).abs() < 1e-9, "{u}");
    }
}

/// The turn of a pattern by which its worst hole is best, against trying a
/// hundred thousand turns.
#[test]
fn positions_are_judged_at_the_best_turn_of_all() {
    let mut readings = shifted_ring(12, 50.0, 0.0);
    let mut random = Random(77);
    for point in &mut readings.points {
        for axis in [&mut point.x, &mut point.y] {
            *axis = Length::from_mm(axis.mm() + 0.02 * random.next()).unwrap();
        }
    }
    let inspection = inspect_coordinates(&readings).unwrap();
    let zone = Length::from_mm(1.0).unwrap();
    let part = check_position(&readings, &inspection, zone, DecisionRule::SimpleAcceptance);
    let found = part.unwrap().checks;
    let found = found.iter().map(|it| it.measured.value).fold(0.0, f64::max);
    let worst_at = |turn: f64| {
        let off = readings.points.iter().enumerate().map(|(place, point)| {
            let angle = TAU * f64::from(u32::try_from(place).unwrap()) / 12.0 + turn;
            let (x, y) = (50.0 * angle.cos(), 50.0 * angle.sin());
            2.0 * (point.x.mm() - x).hypot(point.y.mm() - y)
        });
        off.fold(0.0, f64::max)
    };
    let turns = (-50_000..=50_000).map(|step| f64::from(step) * 2e-8);
    let best = turns.map(worst_at).fold(f64::INFINITY, f64::min);
    // Half a step of the turns tried, at 50 mm.
    assert!(
        found <= best + 1e-12 && found > best - 1e-6,
        "{found} {best}"
    );
}

#[test]
fn a_part_with_a_hole_not_measured_cannot_pass() {
    let mut readings = DeviationReadings {
        places: 6,
        radius: None,
        standard_uncertainty_arcsec: Some(0.1),
        readings: Vec::new(),
    };
    for place in [0, 1, 2, 4, 5] {
        readings.readings.push(DeviationReading {
            place,
            deviation_arcsec: 0.0,
        });
    }
    let ring = inspect_deviations(&readings).unwrap();
    let limits = RingLimits {
        angle_rad: Some(10.0 * ARCSEC),
        ..RingLimits::default()
    };
    let part = check_ring(&ring, &limits, DecisionRule::SimpleAcceptance).unwrap();
    assert_eq!(part.decision, Decision::NotProven);
    assert_eq!(part.missing_places, [3]);
    let wheel = Wheel {
        module_mm: 2.0,
        reference_diameter_mm: 100.0,
    };
    assert_eq!(
        pitch_grade(&ring, wheel).unwrap_err().kind(),
        ErrorKind::Undetermined
    );
}

fn shifted_ring(n: usize, radius_mm: f64, shift_mm: f64) -> CoordinateReadings {
    CoordinateReadings {
        places: n,
        numbering: Numbering::CounterClockwise,
        axis: Some([Length::ZERO; 2]),
        nominal_radius: Some(Length::from_mm(radius_mm).unwrap()),
        standard_uncertainty: None,
        points: (0..n)
            .map(|place| {
                let part =
                    f64::from(u32::try_from(place).unwrap()) / f64::from(u32::try_from(n).unwrap());
                let (sin, cos) = (TAU * part).sin_cos();
                PointReading {
                    place,
                    x: Length::from_mm(shift_mm + radius_mm * cos).unwrap(),
                    y: Length::from_mm(radius_mm * sin).unwrap(),
                    standard_uncertainty: None,
                }
            })
            .collect(),
    }
}

#[test]
fn the_position_of_shifted_holes_is_twice_the_shift() {
    let readings = shifted_ring(12, 50.0, 0.01);
    let inspection = inspect_coordinates(&readings).unwrap();
    let check = |zone: f64| {
        let zone = Length::from_mm(zone).unwrap();
        check_position(&readings, &inspection, zone, DecisionRule::SimpleAcceptance).unwrap()
    };
    for one in &check(0.05).checks {
        // Second order: shift² over the radius.
        assert!((one.measured.value - 0.02).abs() < 1e-5, "{one:?}");
    }
    assert_eq!(check(0.021).decision, Decision::Pass);
    assert_eq!(check(0.019).decision, Decision::Fail);
    let mut without = readings.clone();
    without.nominal_radius = None;
    let error = check_position(
        &without,
        &inspection,
        Length::from_mm(0.02).unwrap(),
        DecisionRule::SimpleAcceptance,
    )
    .unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Inconsistent);
}

#[test]
fn eccentricity_gives_the_published_peak_error() {
    // Scale eccentricity: peak error (e/R)·206265", a published table of rotary
    // encoder errors by diameter and eccentricity, rounded to 1"; and the rule of
    // thumb 412.5"·e[µm]/D[mm] from an encoder maker's questions page.
    for (diameter_mm, eccentricity_um, peak_arcsec) in [
        (100.0, 25.0, 103.0),
        (50.0, 25.0, 206.0),
        (25.0, 10.0, 165.0),
        (25.0, 5.0, 83.0),
    ] {
        let readings = shifted_ring(36, diameter_mm / 2.0, eccentricity_um / 1000.0);
        let inspection = inspect_coordinates(&readings).unwrap();
        let ring = inspection.about_axis.unwrap();
        let amplitude = ring.first_harmonic.amplitude_rad / ARCSEC;
        assert!((amplitude - peak_arcsec).abs() < 0.7, "{amplitude}");
        let rule = 412.5 * eccentricity_um / diameter_mm;
        assert!((amplitude - rule).abs() < 0.02, "{amplitude} {rule}");
        let eccentricity = inspection.eccentricity.unwrap();
        assert!((eccentricity.amount_mm * 1000.0 - eccentricity_um).abs() < 1e-9);
        // 36 is even: peak to peak is twice the amplitude.
        let total = ring.pitch.total_cumulative.deviation_rad / ARCSEC;
        assert!((total - 2.0 * amplitude).abs() < 0.1, "{total}");
        let rest = inspection.about_centre.pitch.total_cumulative.deviation_rad;
        assert!(rest < 1e-12);
    }
}

#[test]
fn the_pitch_grade_is_the_finest_class_that_holds() {
    // Formulae of ISO 1328-1:2013 from memory; the figures by hand from them:
    // m = 2, d = 100: class 5 single 5.9 → 6 µm, cumulative 19.1 → 19 µm; class 6
    // single 8.34 → 8.5 µm, cumulative 27.0 → 27 µm; class 7 11.8 → 12 and 38.2 → 38.
    let wheel = Wheel {
        module_mm: 2.0,
        reference_diameter_mm: 100.0,
    };
    for (class, single, cumulative) in [
        (5, 6.0, 19.0),
        (6, 8.5, 27.0),
        (7, 12.0, 38.0),
        (1, 1.5, 4.8),
    ] {
        let found = wheel.pitch_tolerances(class).unwrap();
        assert!((found.single_um - single).abs() < 1e-9, "{class} {found:?}");
        assert!(
            (found.cumulative_um - cumulative).abs() < 1e-9,
            "{class} {found:?}"
        );
    }
    // 1 µm on a radius of 50 mm is 20 µrad.
    let um = 1.0e-3 / 50.0 / ARCSEC;
    let grade = |steps: &[f64]| {
        let list: Vec<f64> = steps.iter().map(|value| value * um).collect();
        pitch_grade(&ring_of(&list, None), wheel).unwrap()
    };
    let found = grade(&[0.0, 7.0, 12.0, 18.0, 14.0, 6.0]);
    assert!((found.single_um - 8.0).abs() < 1e-6 && (found.cumulative_um - 18.0).abs() < 1e-6);
    assert_eq!(
        (found.single_class, found.cumulative_class),
        (Some(6), Some(5))
    );
    assert_eq!(found.class, Some(6));
    let rough = grade(&[0.0, 900.0, 0.0, 0.0, 0.0, 0.0]);
    assert_eq!((rough.class, rough.single_class), (None, None));
    let outside = Wheel {
        module_mm: 0.1,
        ..wheel
    };
    assert_eq!(
        outside.pitch_tolerances(5).unwrap_err().kind(),
        ErrorKind::OutOfRange
    );
    assert_eq!(
        wheel.pitch_tolerances(12).unwrap_err().kind(),
        ErrorKind::OutOfRange
    );
}
