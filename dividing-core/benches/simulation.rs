//! The simulation of a twelve-hole plate: ten million trials, three contributors
//! a hole, single and cumulative pitch. Prints one JSON line a figure.
//!
//! `tests/bench/simulation_peer.py` simulates the same plates with NumPy.

#![allow(clippy::print_stdout, reason = "a program that prints figures")]

use std::time::Instant;

use dividing_core::Error;
use dividing_core::accuracy::{
    Contributor, Distribution, InputUnit, Persistence, RunSettings, SimulatedFeature, Simulation,
    SimulationDetail, TrialCount,
};
use dividing_core::work::Meter;

const TRIALS: u64 = 10_000_000;
const HOLES: usize = 12;
const RADIUS_MM: f64 = 50.0;

fn contributor(
    name: &'static str,
    limit: f64,
    distribution: Distribution,
    persistence: Persistence,
) -> Contributor {
    Contributor {
        name: name.into(),
        limit,
        unit: InputUnit::Millimetre,
        sensitivity: 1.0 / RADIUS_MM,
        distribution,
        persistence,
        degrees_of_freedom: None,
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

/// Best of three, in seconds.
fn best(mut work: impl FnMut() -> Result<(), Error>) -> Result<f64, Error> {
    let mut best_s = f64::INFINITY;
    for _ in 0..3 {
        let start = Instant::now();
        work()?;
        best_s = best_s.min(start.elapsed().as_secs_f64());
    }
    Ok(best_s)
}

fn print(name: &str, threads: usize, ours_s: f64, what: &str, figures: &str) {
    println!(
        "{{\"name\": \"simulation_{name}_{threads}_threads\", \"ours_s\": {ours_s:.4}, \
         \"threads\": {threads}, \"what\": \"{what}\"{figures}}}"
    );
}

fn main() -> Result<(), Error> {
    let normal = Distribution::Normal {
        sigmas_at_limit: 3.0,
    };
    let disc = Distribution::UniformInDisc;
    let plates = [
        ("disc", plate(&disc, SimulationDetail::Pitch)),
        ("normal", plate(&normal, SimulationDetail::Pitch)),
        ("every_feature", plate(&disc, SimulationDetail::Features)),
    ];
    for (name, job) in plates {
        for threads in [1, 2] {
            let settings = RunSettings {
                trials: TrialCount::Exactly(TRIALS),
                threads,
                ..RunSettings::default()
            };
            let drawing_s = best(|| job.draw_only(&settings, &mut Meter::new(u64::MAX)))?;
            let mut means = String::new();
            let ours_s = best(|| {
                let report = job.run(&settings, &mut Meter::new(u64::MAX))?;
                means = format!(
                    ", \"cumulative_mean_rad\": {:e}, \"single_mean_rad\": {:e}",
                    report.cumulative_pitch.mean_rad, report.single_pitch.mean_rad
                );
                Ok(())
            })?;
            print(
                name,
                threads,
                ours_s,
                "ten million trials of a twelve-hole plate",
                &means,
            );
            print(
                &format!("{name}_drawing"),
                threads,
                drawing_s,
                "drawing the same random numbers alone",
                "",
            );
        }
    }
    Ok(())
}
