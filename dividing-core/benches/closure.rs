//! Times closure calibration on one thread and prints one JSON line a task.
//!
//! `cargo bench -p dividing-core --bench closure`
//!
//! The readings come from a counter-based generator that
//! `tests/bench/closure_peer.py` uses as well; the check sums must agree.
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]

use std::time::Instant;

use dividing_core::inspection::{Setup, calibrate};
use dividing_core::work::Meter;

/// The finalised counter of `SplitMix64` (Steele, Lea and Flood, OOPSLA 2014), as
/// a number from −1/2 up to 1/2.
#[allow(clippy::cast_precision_loss, reason = "53 bits fit")]
fn noise(counter: u64) -> f64 {
    let mut z = counter.wrapping_add(1).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^= z >> 31;
    (z >> 11) as f64 / (1_u64 << 53) as f64 - 0.5
}

/// Readings of set-up k at position i, in radians.
fn readings(positions: usize, setups: usize) -> Vec<Setup> {
    let first = |i: usize| 1.0e-5 * noise(1_000_000 + i as u64);
    let second = |j: usize| 1.0e-5 * noise(2_000_000 + j as u64);
    (0..setups)
        .map(|k| {
            // Spread over the turn; every second one a step on, so that the
            // differences have no common divisor.
            let step = positions / setups;
            let shift = (k * step + if step > 1 { k % 2 } else { 0 }) % positions;
            let offset = 1.0e-4 * noise(3_000_000 + k as u64);
            Setup {
                shift,
                readings_rad: (0..positions)
                    .map(|i| {
                        let error = 1.0e-6 * noise((k * positions + i) as u64);
                        let partner = (i + shift) % positions;
                        Some(first(i) - second(partner) + offset + error)
                    })
                    .collect(),
            }
        })
        .collect()
}

fn main() -> Result<(), dividing_core::Error> {
    const RUNS: usize = 51;
    for (positions, setups) in [(360, 36), (360, 360)] {
        let data = readings(positions, setups);
        for covariance in [false, true] {
            let mut times_ms = Vec::with_capacity(RUNS);
            let (mut sum, mut trace) = (0.0, 0.0);
            for _ in 0..RUNS {
                let begin = Instant::now();
                let closure = calibrate(positions, &data, Some(3.0e-7), &mut Meter::default())?;
                let matrix = if covariance {
                    closure.covariance_matrix_rad2().unwrap_or_default()
                } else {
                    Vec::new()
                };
                times_ms.push(begin.elapsed().as_secs_f64() * 1.0e3);
                let both = closure.first_rad.iter().chain(&closure.second_rad);
                sum = both.map(|v| v * v).sum();
                trace = matrix
                    .iter()
                    .step_by(2 * positions + 1)
                    .fold(0.0, |t, v| t + v);
            }
            times_ms.sort_by(f64::total_cmp);
            let task = if covariance { "covariance" } else { "values" };
            println!(
                "{{\"name\": \"closure_{positions}_by_{setups}_{task}\", \"ours_s\": {:.9}, \
                 \"threads\": 1, \"what\": \"closure of two devices, {positions} positions in \
                 {setups} set-ups, {task}\", \"answer\": [{sum:.12e}, {trace:.12e}]}}",
                times_ms[RUNS / 2] / 1.0e3,
            );
        }
    }
    Ok(())
}
