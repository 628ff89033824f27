//! The Rust side of the benchmarks of the Python package, for
//! `tests/bench/python_bench.py`: the same answers without Python in between.
//!
//! Prints one JSON line a figure: `name` and `seconds`, the best of several.
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]

use std::hint::black_box;
use std::time::Instant;

use dividing_core::accuracy::{
    Contributor, Distribution, InputUnit, Persistence, PlungerSweep, RunSettings, SimulatedFeature,
    Simulation, TrialCount,
};
use dividing_core::work::Meter;

const ROWS: usize = 1_000_000;

/// The least time of several calls, in seconds.
fn best<T>(times: usize, mut call: impl FnMut() -> T) -> f64 {
    (0..times)
        .map(|_| {
            let begin = Instant::now();
            black_box(call());
            begin.elapsed().as_secs_f64()
        })
        .fold(f64::INFINITY, f64::min)
}

fn figure(name: &str, seconds: f64) {
    println!("{{\"name\": \"{name}\", \"seconds\": {seconds}}}");
}

fn main() -> dividing_core::Result<()> {
    let column = |low: f64, step: f64| -> Vec<f64> {
        (0..ROWS)
            .map(|row| low + step * f64::from(u32::try_from(row).unwrap_or_default()))
            .collect()
    };
    let (radius, clearance) = (column(40.0, 1e-5), column(0.0, 1e-8));
    let sweep = PlungerSweep {
        pitch_radius_mm: &radius,
        hole_deviation_mm: &[0.005],
        station_deviation_mm: &[0.0],
        clearance_mm: &clearance,
        bore_clearance_mm: &[0.0],
        eccentricity_mm: &[0.0],
    };
    sweep.worst_case_rad()?;
    figure(
        "python_array_worst_case",
        best(15, || sweep.worst_case_rad()),
    );
    figure(
        "python_array_standard_uncertainty",
        best(15, || sweep.standard_uncertainty_rad()),
    );
    let hole = Contributor {
        name: "hole position".into(),
        limit: 0.006,
        unit: InputUnit::Millimetre,
        sensitivity: 1.0 / 50.0,
        distribution: Distribution::Normal {
            sigmas_at_limit: 2.0,
        },
        persistence: Persistence::FixedForPlace,
        degrees_of_freedom: None,
    };
    let feature = SimulatedFeature {
        inputs: vec![hole.into()],
        ..Default::default()
    };
    let job = Simulation {
        features: vec![feature; 12],
        ..Default::default()
    };
    let settings = RunSettings {
        trials: TrialCount::Exactly(5_000_000),
        ..Default::default()
    };
    job.run(&settings, &mut Meter::default())?;
    figure(
        "python_simulation",
        best(5, || job.run(&settings, &mut Meter::default())),
    );
    Ok(())
}
