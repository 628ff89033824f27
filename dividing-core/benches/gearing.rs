//! Change-gear searches: one JSON line a measurement, on one thread.
//!
//! Gear sets and targets come from `tests/bench/gearing_cases.json`, which the
//! NumPy side reads too. `preparation` is the sorted lists, `question` one
//! nearest train proved nearest, `preparation_and_question` both from nothing.
//! With `--answers` prints the nearest four-gear ratios instead.
#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    missing_docs,
    reason = "a benchmark states what must hold and prints what it measures"
)]

use std::hint::black_box;
use std::time::{Duration, Instant};

use dividing_core::gearing::{GearRatio, GearSet, MeshRule, RatioIndex, TrainSearch};
use dividing_core::work::Meter;
use serde_json::{Value, json};

const CASES: &str = include_str!("../../tests/bench/gearing_cases.json");

fn report(name: &str, mut times: Vec<Duration>) {
    times.sort_unstable();
    let line = json!({
        "name": name,
        "ours_s": times[times.len() / 2].as_secs_f64(),
        "ours_worst_s": times[times.len() - 1].as_secs_f64(),
        "repeats": times.len(),
    });
    println!("{line}");
}

fn timed<T>(mut run: impl FnMut() -> T) -> Duration {
    let start = Instant::now();
    black_box(run());
    start.elapsed()
}

fn prepare(set: &GearSet, pairs: usize) -> TrainSearch {
    TrainSearch::new(set, pairs, MeshRule::RatiosAlone, &mut Meter::default()).unwrap()
}

fn nearest_four_gears(name: &str, set: &GearSet, targets: &[GearRatio]) {
    let ask = |search: &TrainSearch, target: GearRatio| {
        let answer = search.nearest(target, &mut Meter::default()).unwrap();
        assert!(answer.proof.complete);
        answer
    };
    let search = prepare(set, 2);
    report(
        &format!("nearest_four_gears_{name}_question"),
        targets
            .iter()
            .map(|&target| timed(|| ask(&search, target)))
            .collect(),
    );
    report(
        &format!("nearest_four_gears_{name}_preparation"),
        targets.iter().map(|_| timed(|| prepare(set, 2))).collect(),
    );
    report(
        &format!("nearest_four_gears_{name}_preparation_and_question"),
        targets
            .iter()
            .map(|&target| timed(|| ask(&prepare(set, 2), target)))
            .collect(),
    );
}

fn ratio_index() {
    let gears = [24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100];
    let set = GearSet::new(&gears).unwrap();
    let build =
        || RatioIndex::build(&set, 2, MeshRule::RatiosAlone, &mut Meter::default()).unwrap();
    report(
        "ratio_index_12_gears_build",
        (0..100).map(|_| timed(build)).collect(),
    );
    let index = build();
    // Every plate motion n/d with terms up to 1000, a million questions.
    let all = timed(|| {
        (1..=1000_u64)
            .flat_map(|numerator| (1..=1000_u64).map(move |denominator| (numerator, denominator)))
            .filter(|&(numerator, denominator)| index.contains(numerator, denominator))
            .count()
    });
    report("ratio_index_12_gears_lookup", vec![all / 1_000_000]);
}

fn growth(cases: &Value) {
    let target = GearRatio::from_f64(cases["targets"][0].as_f64().unwrap()).unwrap();
    for pairs in [2, 3] {
        for gears in [12, 25, 50, 100, 200] {
            let teeth: Vec<u32> = (20..20 + gears).collect();
            let set = GearSet::new(&teeth).unwrap();
            report(
                &format!("nearest_{}_gears_of_{gears}_preparation", 2 * pairs),
                (0..3).map(|_| timed(|| prepare(&set, pairs))).collect(),
            );
            let search = prepare(&set, pairs);
            let times = (0..5)
                .map(|_| timed(|| search.nearest(target, &mut Meter::default()).unwrap()))
                .collect();
            report(
                &format!("nearest_{}_gears_of_{gears}_question", 2 * pairs),
                times,
            );
        }
    }
}

fn main() {
    let cases: Value = serde_json::from_str(CASES).unwrap();
    let targets: Vec<GearRatio> = cases["targets"]
        .as_array()
        .unwrap()
        .iter()
        .map(|value| GearRatio::from_f64(value.as_f64().unwrap()).unwrap())
        .collect();
    let answers_only = std::env::args().any(|argument| argument == "--answers");
    for (name, teeth) in cases["gear_sets"].as_object().unwrap() {
        let teeth: Vec<u32> = serde_json::from_value(teeth.clone()).unwrap();
        let set = GearSet::new(&teeth).unwrap();
        if answers_only {
            let search = prepare(&set, 2);
            let nearest: Vec<[f64; 2]> = targets
                .iter()
                .map(|&target| {
                    let answer = search.nearest(target, &mut Meter::default()).unwrap();
                    [answer.train.ratio().to_f64(), answer.error_ppm]
                })
                .collect();
            println!("{}", json!({"set": name, "nearest": nearest}));
        } else {
            nearest_four_gears(name, &set, &targets);
        }
    }
    if !answers_only {
        ratio_index();
        growth(&cases);
    }
}
