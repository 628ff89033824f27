//! Reads plate briefs, one JSON document a line, and writes one JSON answer a
//! line: holes, bound, rings and the least seconds of three designs.
#![allow(clippy::print_stdout, reason = "an example talks through its output")]

use std::io::BufRead;
use std::time::Instant;

use dividing_core::pattern::{Design, PlateBrief, design};
use dividing_core::work::Meter;
use serde_json::json;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    for line in std::io::stdin().lock().lines() {
        let line = line?;
        if line.trim().is_empty() {
            continue;
        }
        let brief = match PlateBrief::from_json(&line) {
            Ok(brief) => brief,
            Err(error) => {
                println!("{}", json!({"error": error.to_string()}));
                continue;
            }
        };
        // The least of three runs: a shared machine interrupts some of them.
        let mut seconds = f64::INFINITY;
        let mut found = design(&brief, &mut Meter::default());
        for _ in 0..3 {
            let start = Instant::now();
            found = design(&brief, &mut Meter::default());
            seconds = seconds.min(start.elapsed().as_secs_f64());
        }
        let answer = match found {
            Ok(Design::Pattern(pattern)) => json!({
                "fits": true,
                "separated_rings": pattern.certificate.separated_rings,
                "holes": pattern.certificate.holes,
                "lower_bound": pattern.certificate.lower_bound,
                "complete": pattern.certificate.complete,
                "proof": pattern.certificate.proof,
                "check_passed": pattern.check.passed,
                "rings": pattern.rings.iter().map(|ring| json!({
                    "radius_mm": ring.radius_mm,
                    "divisions": ring.divisions,
                    "holes": ring.holes.len(),
                })).collect::<Vec<_>>(),
                "seconds": seconds,
            }),
            Ok(Design::DoesNotFit(shortfall)) => json!({
                "fits": false,
                "why": shortfall.sentence(),
                "smallest_outline_mm": shortfall.smallest_outline_mm,
                "seconds": seconds,
            }),
            Err(error) => json!({"error": error.to_string(), "seconds": seconds}),
        };
        println!("{answer}");
    }
    Ok(())
}
