//! Whole tables of a 40:1 head with three plates and twelve change gears: one
//! JSON line a measurement, on one thread, from the documents of the head on.
//!
//! The NumPy side is `tests/bench/tables_peer.py`; both print how many divisions
//! are exact, so that the answers can be compared. With `--growth` also how the
//! cost grows with the range and with the size of the gear set.
#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    missing_docs,
    reason = "a benchmark states what must hold and prints what it measures"
)]

use std::hint::black_box;
use std::time::{Duration, Instant};

use dividing_core::Workshop;
use dividing_core::equipment::{Equipment, WormHead};
use dividing_core::reach::worm::WormReach;
use dividing_core::tables::{ExactTable, exact_table, indexing_table};
use dividing_core::work::Meter;
use serde_json::json;

const GEARS: [u32; 12] = [24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100];

fn workshop(gears: &[u32]) -> Workshop {
    Workshop::from_json(
        &json!({
            "format": 1, "name": "bench", "equipment": [{"worm_head": {
                "name": "head", "worm_ratio": 40,
                "plates": [
                    {"name": "plate 1", "circles": [15, 16, 17, 18, 19, 20]},
                    {"name": "plate 2", "circles": [21, 23, 27, 29, 31, 33]},
                    {"name": "plate 3", "circles": [37, 39, 41, 43, 47, 49]}
                ],
                "change_gears": {"gears": gears}
            }}]
        })
        .to_string(),
    )
    .unwrap()
}

fn head_of(workshop: &Workshop) -> &WormHead {
    match &workshop.equipment()[0] {
        Equipment::WormHead(head) => head,
        _ => unreachable!("the bench workshop holds a worm head"),
    }
}

fn median(mut times: Vec<Duration>) -> f64 {
    times.sort_unstable();
    times[times.len() / 2].as_secs_f64()
}

fn timed<T>(repeats: usize, mut run: impl FnMut() -> T) -> f64 {
    black_box(run());
    let times = (0..repeats).map(|_| {
        let start = Instant::now();
        black_box(run());
        start.elapsed()
    });
    median(times.collect())
}

fn report(name: &str, seconds: f64, what: &str) {
    let line = json!({"name": name, "ours_s": seconds, "threads": 1, "what": what});
    println!("{line}");
}

fn exact(workshop: &Workshop, last: u32) -> ExactTable {
    let table = exact_table(black_box(workshop), 2, last, &mut Meter::new(u64::MAX)).unwrap();
    assert!(table.complete);
    table
}

fn main() {
    let twelve = workshop(&GEARS);
    let counts: Vec<usize> = exact(&twelve, 10_000)
        .sections
        .iter()
        .map(|it| it.exact.iter().filter(|it| **it == 1).count())
        .collect();
    let seconds = timed(101, || exact(&twelve, 10_000));
    let line = json!({
        "name": "table_10000_exact", "ours_s": seconds, "threads": 1, "answer": counts,
        "what": "which of 2 to 10,000 divisions are exact by simple, compound and differential indexing; the answer counts them",
    });
    println!("{line}");
    report(
        "table_10000_settings",
        timed(31, || {
            indexing_table(black_box(&twelve), 2, 10_000, &mut Meter::new(u64::MAX)).unwrap()
        }),
        "the best setting of each method for every one of 2 to 10,000 divisions, the nearest where simple indexing is not exact",
    );
    let reach = WormReach::new(head_of(&twelve)).unwrap();
    let all = timed(31, || {
        (2..=10_000_u32)
            .filter_map(|divisions| reach.simple_division(black_box(divisions)))
            .count()
    });
    report(
        "simple_one_question",
        all / 9_999.0,
        "is N exact by simple indexing, and with what: the mean over 2 to 10,000",
    );
    if std::env::args().any(|it| it == "--growth") {
        growth(&twelve);
    }
}

/// How the cost grows with the range, and with the number of gears.
fn growth(twelve: &Workshop) {
    for last in [1_250, 2_500, 5_000, 10_000, 20_000, 40_000, 80_000] {
        report(
            &format!("table_{last}_exact"),
            timed(11, || exact(twelve, last)),
            "which divisions are exact, against the range",
        );
        report(
            &format!("table_{last}_settings"),
            timed(7, || {
                indexing_table(twelve, 2, last, &mut Meter::new(u64::MAX)).unwrap()
            }),
            "the best settings, against the range",
        );
    }
    for count in [6_u32, 12, 24, 48] {
        let gears: Vec<u32> = (0..count).map(|place| 20 + 2 * place).collect();
        let larger = workshop(&gears);
        report(
            &format!("table_10000_exact_{count}_gears"),
            timed(5, || exact(&larger, 10_000)),
            "which of 2 to 10,000 divisions are exact, against the gears owned (20, 22, 24 … teeth)",
        );
    }
}
