//! The main job: plans for all demo jobs, and how the time grows with the
//! equipment owned. One JSON line a benchmark.
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]
#![allow(missing_docs, reason = "a program, not a library")]

use std::error::Error;
use std::fs;
use std::hint::black_box;
use std::path::Path;
use std::time::Instant;

use dividing_core::equipment::Equipment;
use dividing_core::{Job, Workshop, plan_job};

fn main() -> Result<(), Box<dyn Error>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/demo");
    let workshop = Workshop::from_json(&fs::read_to_string(folder.join("workshop.json"))?)?;
    let mut paths: Vec<_> = fs::read_dir(&folder)?
        .map(|entry| entry.map(|entry| entry.path()))
        .collect::<Result<_, _>>()?;
    paths.retain(|path| path.to_string_lossy().contains("job_"));
    paths.sort();
    let mut jobs = Vec::new();
    for path in &paths {
        jobs.push(Job::from_json(&fs::read_to_string(path)?)?);
    }
    for copies in [1_usize, 2, 4, 8] {
        let larger = copied(&workshop, copies)?;
        let pieces = larger.equipment().len();
        let seconds = median_seconds(|| {
            for job in &jobs {
                black_box(
                    plan_job(black_box(&larger), black_box(job))
                        .map(|plans| plans.plans().len())
                        .ok(),
                );
            }
        });
        println!(
            "{{\"name\": \"plan_demo_jobs_{pieces}_pieces\", \"ours_s\": {seconds:.9}, \"threads\": 1, \
             \"what\": \"ranked plans with settings and error figures for the {} demo jobs on {pieces} pieces of equipment\"}}",
            jobs.len()
        );
    }
    Ok(())
}

/// The workshop with every piece owned so many times.
fn copied(workshop: &Workshop, copies: usize) -> dividing_core::Result<Workshop> {
    let mut equipment = Vec::new();
    for copy in 0..copies {
        for piece in workshop.equipment() {
            let mut piece = piece.clone();
            let name = match &mut piece {
                Equipment::DirectPlate(it) => &mut it.name,
                Equipment::VernierIndexer(it) => &mut it.name,
                Equipment::FacedBlock(it) => &mut it.name,
                Equipment::VeeBlock(it) => &mut it.name,
                Equipment::PinPlate(it) => &mut it.name,
                Equipment::WormHead(it) => &mut it.name,
                Equipment::GraduatedDial(it) => &mut it.name,
                _ => continue,
            };
            name.push_str(&format!(" {copy}"));
            equipment.push(piece);
        }
    }
    Workshop::new(workshop.name(), equipment)
}

/// The median time of one call over at least half a second of calls.
fn median_seconds(mut call: impl FnMut()) -> f64 {
    call();
    let begin = Instant::now();
    let mut times = Vec::new();
    while begin.elapsed().as_secs_f64() < 0.5 || times.len() < 5 {
        let start = Instant::now();
        call();
        times.push(start.elapsed().as_secs_f64());
    }
    times.sort_by(f64::total_cmp);
    times.get(times.len() / 2).copied().unwrap_or(0.0)
}
