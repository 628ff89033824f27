//! Times the design of random plates on one thread and writes JSON lines:
//! median and worst seconds over 100 briefs for each number of divisions.
//!
//! The generator is fixed, so every run times the same briefs. Each brief is
//! designed three times and its least time counts.
#![allow(clippy::print_stdout, reason = "a benchmark talks through its output")]

use std::time::Instant;

use dividing_core::pattern::{Design, PlateBrief, design};
use dividing_core::work::Meter;
use serde_json::json;

const BRIEFS: usize = 100;

/// A small congruential generator: the same briefs on every machine.
struct Random(u64);

impl Random {
    fn below(&mut self, limit: u64) -> u64 {
        // Knuth's MMIX constants (The Art of Computer Programming, 3.3.4).
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % limit
    }

    fn pick<'l, T>(&mut self, list: &'l [T]) -> &'l T {
        let at = self.below(list.len() as u64);
        &list[usize::try_from(at).unwrap_or(0)]
    }
}

fn random_brief(random: &mut Random, count: usize) -> Result<PlateBrief, dividing_core::Error> {
    let mut divisions: Vec<u64> = Vec::new();
    while divisions.len() < count {
        let n = 2 + random.below(78);
        if !divisions.contains(&n) {
            divisions.push(n);
        }
    }
    let document = json!({
        "format": 1,
        "divisions": divisions,
        "outline": {"disc": {"diameter": random.pick(&[250, 300, 400, 500])}},
        "bore": random.pick(&[16, 25, 40]),
        "hole_diameter": random.pick(&[2.0, 3.0, 4.0]),
        "least_web": random.pick(&[0.5, 1.0, 2.0]),
        "least_edge_distance": 2,
    });
    PlateBrief::from_json(&document.to_string())
}

fn main() -> Result<(), dividing_core::Error> {
    let mut random = Random(20_261_125);
    for count in [4, 8, 12, 16, 20, 24, 28, 32, 36, 40] {
        let mut times = Vec::with_capacity(BRIEFS);
        let (mut proved, mut none, mut most_rings) = (0, 0, 0);
        while times.len() < BRIEFS {
            let brief = random_brief(&mut random, count)?;
            let mut least = f64::INFINITY;
            let mut found = None;
            for _ in 0..3 {
                let start = Instant::now();
                found = Some(design(&brief, &mut Meter::default())?);
                least = least.min(start.elapsed().as_secs_f64());
            }
            match found {
                Some(Design::Pattern(pattern)) if pattern.certificate.separated_rings => {
                    proved += usize::from(pattern.certificate.complete);
                    most_rings = most_rings.max(pattern.certificate.rings_considered);
                    times.push(least);
                }
                _ => none += 1,
            }
        }
        times.sort_by(f64::total_cmp);
        println!(
            "{}",
            json!({
                "name": format!("pattern_growth_{count}_divisions"),
                "threads": 1,
                "what": format!("design of a plate for {count} random divisions, median of {BRIEFS} briefs"),
                "ours_s": times[BRIEFS / 2],
                "worst_s": times[BRIEFS - 1],
                "briefs": BRIEFS,
                "proved": proved,
                "drawn_but_not_fitting": none,
                "most_rings_considered": most_rings,
            })
        );
    }
    Ok(())
}
