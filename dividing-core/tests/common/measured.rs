//! Measured plates for the suites that plan on them.

use std::f64::consts::TAU;

use dividing_core::{Job, Plan, Workshop, plan_job};
use serde_json::{Value, json};

/// Radians in a second of arc.
pub(crate) const ARCSEC: f64 = TAU / 1_296_000.0;

/// Deviations in seconds of arc, one for each place.
pub(crate) fn measured(deviations: &[f64], uncertainty_arcsec: f64) -> Value {
    let places: Vec<Value> = deviations
        .iter()
        .enumerate()
        .map(|(place, deviation)| {
            json!({"place": place, "deviation_arcsec": deviation,
                   "standard_uncertainty_arcsec": uncertainty_arcsec})
        })
        .collect();
    json!({"places": deviations.len(), "deviations": places})
}

pub(crate) fn registration() -> Value {
    json!({"pin_diameter": 7.99, "hole_diameter": 8, "hole_position_tolerance": 0.05})
}

pub(crate) fn plan(piece: Value, job: Value) -> (Plan, String) {
    let workshop = json!({"format": 1, "name": "Bench", "equipment": [piece]});
    let workshop = Workshop::from_json(&workshop.to_string()).unwrap();
    let mut whole = json!({"format": 1, "name": "job"});
    whole
        .as_object_mut()
        .unwrap()
        .extend(job.as_object().unwrap().clone());
    let plans = plan_job(&workshop, &Job::from_json(&whole.to_string()).unwrap()).unwrap();
    (plans.plans()[0].clone(), plans.sheet(0).unwrap().to_text())
}

pub(crate) fn divisions(count: u32) -> Value {
    json!({"features": {"equal_divisions": {"count": count}}})
}

/// A rough plate without rule: fixed, invented.
pub(crate) fn rough(places: usize) -> Vec<f64> {
    (0..places)
        .map(|place| {
            let k = f64::from(u32::try_from(place).unwrap());
            (20.0 + 12.0 * (k * 2.2).cos()) * (k * k * 0.77 + 0.3).sin()
                + 15.0 * (TAU * k / 60.0).cos()
        })
        .collect()
}
