//! Measures the simulation of a twelve-hole plate: ten million trials, three
//! contributors a hole, single and cumulative pitch. One JSON line a figure.
//!
//! `tests/bench/simulation_peer.py` runs the same plates with NumPy and this
//! program beside it.

#![allow(clippy::print_stdout, reason = "a program that prints figures")]

use std::time::Instant;

use dividing_core::accuracy::{
    Contributor, Distribution, InputUnit, Persistence, RunSettings, SimulatedFeature, Simulation,
    SimulationDetail, TrialCount,
};
use dividing_core::work::Meter;

const TRIALS: u64 = 10_000_000;
const HOLES: usize = 12;
const RADIUS_MM: f64 = 50.0;

fn contributor(
    name: &str,
    limit: f64,
    distribution: Distribution,
    persistence: Persistence,
) -> Contributor {
    Contributor {
        name: name.to_owned().into(),
        limit,
        unit: InputUnit::Millimetre,
        sensitivity: 1.0 / RADIUS_MM,
        distribution,
        persistence,
    }
}

fn plate(position: &Distribution, detail: SimulationDetail) -> Simulation {
    let feature = SimulatedFeature {
        inputs: vec![
            contributor(
                "hole position",
                0.005,
                position.clone(),
                Persistence::FixedForPlace,
            )
            .into(),
            contributor(
                "pin clearance",
                0.007,
                Distribution::UniformInDisc,
                Persistence::NewAtSeating,
            )
            .into(),
            contributor(
                "clamping",
                0.002,
                Distribution::Uniform,
                Persistence::NewAtSeating,
            )
            .into(),
        ],
        ..SimulatedFeature::default()
    };
    Simulation {
        features: vec![feature; HOLES],
        detail,
        ..Simulation::default()
    }
}

/// Best of five, in seconds.
fn best(mut work: impl FnMut()) -> f64 {
    (0..5)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed().as_secs_f64()
        })
        .fold(f64::INFINITY, f64::min)
}

fn main() -> Result<(), dividing_core::Error> {
    let normal = Distribution::Normal {
        sigmas_at_limit: 3.0,
    };
    let plates = [
        (
            "disc",
            plate(&Distribution::UniformInDisc, SimulationDetail::Pitch),
        ),
        ("normal", plate(&normal, SimulationDetail::Pitch)),
        (
            "disc, every feature",
            plate(&Distribution::UniformInDisc, SimulationDetail::Features),
        ),
    ];
    for (name, job) in plates {
        for threads in [1, 2] {
            let settings = RunSettings {
                trials: TrialCount::Exactly(TRIALS),
                threads,
                ..RunSettings::default()
            };
            let report = job.run(&settings, &mut Meter::default())?;
            let drawing_s = best(|| {
                let _ = job.draw_only(&settings, &mut Meter::default());
            });
            let ours_s = best(|| {
                let _ = job.run(&settings, &mut Meter::default());
            });
            println!(
                "{{\"name\": \"{name}\", \"threads\": {threads}, \"trials\": {TRIALS}, \
                 \"ours_s\": {ours_s:.4}, \"drawing_s\": {drawing_s:.4}, \
                 \"cumulative_mean_rad\": {:e}, \"single_mean_rad\": {:e}}}",
                report.cumulative_pitch.mean_rad, report.single_pitch.mean_rad
            );
        }
    }
    Ok(())
}
