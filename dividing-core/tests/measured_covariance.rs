//! The covariance of a measurement on its way into equipment, budgets and the
//! simulation, against the law of propagation written out here.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::cast_precision_loss,
    reason = "tests"
)]

use crate::common;

use common::measured::{ARCSEC, divisions};
use dividing_core::accuracy::{
    Coverage, Datum, ErrorModel, RunSettings, Simulation, SimulationReport, TrialCount,
};
use dividing_core::equipment::{MeasuredCovariance, MeasuredRing};
use dividing_core::inspection::{Inspection, Measurement};
use dividing_core::work::Meter;
use dividing_core::{Job, Workshop, reach};
use serde_json::{Value, json};

fn measurement(readings: &Value) -> Measurement {
    Measurement::from_json(&json!({"format": 1, "readings": readings}).to_string()).unwrap()
}

/// Chords of one pitch of a true ring, each with u = 2 µm.
fn chords(places: u32) -> Measurement {
    let chord = 80.0 * (std::f64::consts::PI / f64::from(places)).sin();
    let list: Vec<Value> = (0..places)
        .map(|place| json!({"place": place, "over_pins": chord + 6.0}))
        .collect();
    measurement(&json!({"chords": {"places": places, "pin_diameter": 6,
        "standard_uncertainty": 0.002, "readings": list}}))
}

/// Coordinates without an axis, more uncertain along X.
fn coordinates(places: u32, missing: u32) -> Measurement {
    let points: Vec<Value> = (0..places)
        .filter(|place| *place != missing)
        .map(|place| {
            let angle = std::f64::consts::TAU * f64::from(place) / f64::from(places);
            json!({"place": place, "x": 40.0 * angle.cos(), "y": 40.0 * angle.sin()})
        })
        .collect();
    measurement(&json!({"coordinates": {"places": places, "points": points,
        "standard_uncertainty": {"x": 0.004, "y": 0.002}}}))
}

fn deviations(places: u32) -> Measurement {
    let list: Vec<Value> = (0..places)
        .map(|place| json!({"place": place, "deviation_arcsec": 0}))
        .collect();
    measurement(
        &json!({"deviations": {"places": places, "standard_uncertainty_arcsec": 3,
        "readings": list}}),
    )
}

/// Variance of the difference of two places as the inspection has it.
fn inspected(found: &Inspection, one: usize, other: usize) -> f64 {
    let ring = match found {
        Inspection::Coordinates(it) => &it.about_centre,
        Inspection::Ring(it) => it,
        _ => panic!("no ring"),
    };
    let covariance = |a, b| ring.covariance_rad2(a, b).unwrap();
    covariance(one, one) + covariance(other, other) - 2.0 * covariance(one, other)
}

fn carried(ring: &MeasuredRing, one: u32, other: u32) -> f64 {
    let covariance = |a, b| ring.covariance_rad2(a, b).unwrap();
    covariance(one, one) + covariance(other, other) - 2.0 * covariance(one, other)
}

#[test]
fn every_difference_keeps_its_variance() {
    for (measurement, form) in [
        (chords(12), "by difference"),
        (coordinates(12, 99), "rows"),
        (coordinates(12, 5), "rows"),
        (deviations(12), "alone"),
    ] {
        let found = measurement.inspect().unwrap().result().clone();
        let ring = measurement.measured().unwrap();
        let is = match &ring.covariance {
            None => "alone",
            Some(MeasuredCovariance::ByDifference(_)) => "by difference",
            Some(MeasuredCovariance::LowerTriangle(_)) => "rows",
        };
        assert_eq!(is, form);
        // Through text and back, as in a workshop document.
        let text = serde_json::to_string(&ring).unwrap();
        let ring: MeasuredRing = serde_json::from_str(&text).unwrap();
        assert!(ring.check().is_ok());
        let places: Vec<u32> = ring.deviations.iter().map(|it| it.place).collect();
        for &one in &places {
            for &other in &places {
                let wanted = inspected(&found, one as usize, other as usize);
                let difference = (carried(&ring, one, other) - wanted).abs();
                let size = ring.covariance_rad2(one, one).unwrap();
                assert!(difference < 1e-9 * size, "{form}: {one} {other}");
            }
        }
    }
}

/// A plate without clearance, so that only the measurement is uncertain.
fn model(ring: &MeasuredRing, job: &Value) -> ErrorModel {
    let workshop = json!({"format": 1, "name": "Bench", "equipment": [{"direct_plate": {
        "name": "plate", "circles": [{"holes": ring.places, "pitch_radius": 40, "measured": ring}],
        "registration": {"pin_diameter": 8, "hole_diameter": 8, "hole_position_tolerance": 0.05}}}]});
    let workshop = Workshop::from_json(&workshop.to_string()).unwrap();
    let mut whole = json!({"format": 1, "name": "job"});
    whole
        .as_object_mut()
        .unwrap()
        .extend(job.as_object().unwrap().clone());
    let job = Job::from_json(&whole.to_string()).unwrap();
    let meter = &mut Meter::default();
    let way = reach::ways(&workshop, meter).unwrap().remove(0);
    let reach = reach::reach(&workshop, &way, &job, meter).unwrap();
    ErrorModel::new(&workshop, &job, &reach, meter).unwrap()
}

fn run(model: &ErrorModel) -> SimulationReport {
    simulated(&model.simulation())
}

fn simulated(simulation: &Simulation) -> SimulationReport {
    let settings = RunSettings {
        trials: TrialCount::Exactly(100_000),
        ..Default::default()
    };
    simulation.run(&settings, &mut Meter::default()).unwrap()
}

/// The standard deviation of a normal sample of 100,000 has a relative standard
/// error of 0.22 %; six of them, and a little.
fn near(found: f64, expected: f64) {
    assert!((found / expected - 1.0).abs() < 0.014, "{found} {expected}");
}

#[test]
fn a_clocked_feature_is_as_uncertain_as_its_difference_from_the_datum() {
    for measurement in [chords(12), coordinates(12, 99), deviations(12)] {
        let found = measurement.inspect().unwrap().result().clone();
        let ring = measurement.measured().unwrap();
        let mut job = divisions(12);
        job["start"] = json!({"clocked": {"to": "keyway"}});
        let model = model(&ring, &job);
        let report = run(&model);
        for feature in 1..12 {
            let wanted = inspected(&found, 0, feature).sqrt();
            let budget = model.budget(feature, Coverage::Factor(2.0)).unwrap();
            let standard = budget.combined_standard_uncertainty * ARCSEC;
            assert!((standard / wanted - 1.0).abs() < 1e-9, "{feature}");
            let drawn = report
                .features
                .iter()
                .map(|it| it.standard_deviation_rad)
                .collect::<Vec<_>>();
            near(drawn[feature], wanted);
        }
        assert!(report.features[0].greatest_rad.abs() < f64::MIN_POSITIVE);
    }
}

#[test]
fn what_was_measured_is_systematic_in_budgets_and_simulation() {
    let values = [4.0, -9.0, 2.0, 7.0, -3.0, -1.0];
    let list: Vec<Value> = (0..6)
        .map(|place| json!({"place": place, "deviation_arcsec": values[place]}))
        .collect();
    let ring = measurement(&json!({"deviations": {"places": 6, "readings": list,
        "standard_uncertainty_arcsec": 0.001}}));
    let ring = ring.measured().unwrap();
    let close = |found: f64, arcsec: f64| {
        assert!(
            (found / ARCSEC - arcsec).abs() < 0.01,
            "{} {arcsec}",
            found / ARCSEC
        );
    };
    // Clocked: from the datum's own hole.
    let mut job = divisions(6);
    job["start"] = json!({"clocked": {"to": "keyway"}});
    let clocked = model(&ring, &job);
    let report = run(&clocked);
    for (feature, value) in values.iter().enumerate() {
        close(clocked.features()[feature].residual_rad, value - values[0]);
        close(report.features[feature].mean_rad, value - values[0]);
    }
    // Free: figure and simulation count from the middle between −9 and 7.
    let free = model(&ring, &divisions(6));
    let report = run(&free);
    for (feature, value) in values.iter().enumerate() {
        close(free.features()[feature].residual_rad, value + 1.0);
        close(report.features[feature].mean_rad, value + 1.0);
    }
}

#[test]
fn a_pattern_is_drawn_with_the_covariance_of_its_places() {
    let measurement = chords(12);
    let found = measurement.inspect().unwrap().result().clone();
    let ring = measurement.measured().unwrap();
    // Four of twelve holes: variance about the mean of the four.
    let used = [0_usize, 3, 6, 9];
    let about_the_mean = Simulation {
        datum: Datum::Mean,
        ..model(&ring, &divisions(4)).simulation()
    };
    let report = simulated(&about_the_mean);
    let Inspection::Ring(inspected) = &found else {
        panic!("no ring")
    };
    for (feature, &place) in used.iter().enumerate() {
        let mut wanted = 0.0;
        for &one in &used {
            for &other in &used {
                let weight = |it: usize| f64::from(u8::from(it == place)) - 0.25;
                let both = inspected.covariance_rad2(one, other).unwrap();
                wanted += weight(one) * weight(other) * both;
            }
        }
        near(
            report.features[feature].standard_deviation_rad,
            wanted.sqrt(),
        );
    }
    // Taken as independent it would be √(3/4) of the uncertainty of a hole: the
    // covariance of a chain of chords makes another figure of it.
    let alone = inspected.deviations[0].standard_uncertainty_rad.unwrap() * 0.75_f64.sqrt();
    let drawn = report.features[0].standard_deviation_rad;
    assert!((drawn / alone - 1.0).abs() > 0.05, "{drawn} {alone}");
}

#[test]
fn a_closure_carries_its_circulant_covariance() {
    let readings = vec![Some(0.0); 7];
    let setups: Vec<Value> = [0, 1, 3]
        .iter()
        .map(|shift| json!({"shift": shift, "readings_arcsec": readings}))
        .collect();
    let measurement = measurement(&json!({"closure": {"positions": 7,
        "standard_uncertainty_arcsec": 0.5, "setups": setups}}));
    let Inspection::Closure(closure) = measurement.inspect().unwrap().result().clone() else {
        panic!("no closure")
    };
    use dividing_core::inspection::Device::{First, Second};
    for device in [First, Second] {
        let ring = closure.measured(device).unwrap();
        for one in 0..7 {
            for other in 0..7 {
                let wanted = closure.uncertainty_between_rad(device, one, other).unwrap();
                let place = |it: usize| u32::try_from(it).unwrap();
                let found = carried(&ring, place(one), place(other)).max(0.0).sqrt();
                assert!((found - wanted).abs() < 1e-9 * 0.5 * ARCSEC + 1e-3 * f64::EPSILON);
            }
        }
    }
}
