//! Random equipment and jobs, as documents.

use std::collections::BTreeSet;

use proptest::prelude::*;
use proptest::sample::subsequence;
use serde_json::{Value, json};

/// A workshop of pieces, each given its own name.
pub(crate) fn workshop_of(pieces: &[Value]) -> Value {
    let named: Vec<Value> = pieces
        .iter()
        .enumerate()
        .map(|(index, piece)| {
            let mut piece = piece.clone();
            let kind = piece.as_object().unwrap().keys().next().unwrap().clone();
            piece[&kind]["name"] = json!(format!("piece {index}"));
            piece
        })
        .chain([json!({"vee_block": {"name": "V-block", "included_angle": "90 deg"}})])
        .collect();
    json!({"format": 1, "name": "Bench", "equipment": named})
}

pub(crate) fn job_of(features: &Value, start: &Value) -> Value {
    json!({"format": 1, "name": "Job", "features": features, "start": start})
}

pub(crate) fn divisions(count: u32) -> Value {
    json!({"equal_divisions": {"count": count}})
}

pub(crate) fn listed(texts: &[String]) -> Value {
    json!({"angles": {"angles": texts}})
}

pub(crate) fn clocked(reading: &str, at: &str) -> Value {
    json!({"clocked": {"to": "keyway", "reading": reading, "at": at}})
}

fn an_angle() -> impl Strategy<Value = String> {
    (-40_i64..40, 1_i64..40).prop_map(|(above, below)| format!("{above}/{below} turn"))
}

fn a_sense() -> impl Strategy<Value = &'static str> {
    prop_oneof![Just("counter_clockwise"), Just("clockwise")]
}

/// A circle, with or without gaps.
fn a_circle(least: u32) -> impl Strategy<Value = Value> {
    (least..16, an_angle()).prop_flat_map(move |(holes, first)| {
        let most_absent = (holes as usize).saturating_sub(3);
        subsequence((0..holes).collect::<Vec<_>>(), 0..=most_absent)
            .prop_map(move |absent| json!({"holes": holes, "first_hole": first, "absent": absent}))
    })
}

fn circles(least: u32) -> impl Strategy<Value = Vec<Value>> {
    prop::collection::vec(a_circle(least), 1..4).prop_map(|mut circles| {
        let mut seen = BTreeSet::new();
        circles.retain(|circle| seen.insert(circle["holes"].as_u64()));
        circles
    })
}

fn a_direct_plate() -> impl Strategy<Value = Value> {
    (circles(2), an_angle(), a_sense()).prop_map(|(circles, station, sense)| {
        json!({"direct_plate": {"name": "x", "circles": circles, "station": station, "sense": sense}})
    })
}

fn a_vernier() -> impl Strategy<Value = Value> {
    let stations = prop::collection::btree_set(0_i64..120, 1..5);
    (a_circle(2), stations, a_sense()).prop_map(|(circle, stations, sense)| {
        let stations: Vec<String> = stations.iter().map(|it| format!("{it}/120 turn")).collect();
        json!({"vernier_indexer": {"name": "x", "circle": circle, "stations": stations, "sense": sense}})
    })
}

fn a_block() -> impl Strategy<Value = Value> {
    (3_u32..14).prop_map(|faces| json!({"faced_block": {"name": "x", "faces": faces}}))
}

fn a_pin_plate() -> impl Strategy<Value = Value> {
    (circles(3), a_sense(), any::<bool>(), any::<bool>()).prop_map(
        |(circles, sense, over, square)| {
            json!({"pin_plate": {"name": "x", "circles": circles, "sense": sense,
            "bar_turns_over": over, "square": square}})
        },
    )
}

fn a_ratio() -> impl Strategy<Value = Value> {
    prop_oneof![
        prop::sample::select(vec![1_u32, 5, 40, 60, 72, 90, 120]).prop_map(Value::from),
        prop::sample::select(vec!["81/2", "7/3", "401/10"]).prop_map(Value::from),
    ]
}

fn a_head() -> impl Strategy<Value = Value> {
    let circles = || prop::collection::btree_set(2_u32..50, 1..6);
    (a_ratio(), circles(), circles()).prop_map(|(ratio, front, back)| {
        json!({"worm_head": {"name": "x", "worm_ratio": ratio,
            "plates": [{"name": "plate", "circles": front, "back_circles": back}]}})
    })
}

fn a_dial() -> impl Strategy<Value = Value> {
    (a_ratio(), 1_u32..300, a_sense()).prop_map(|(ratio, graduations, sense)| {
        json!({"graduated_dial": {"name": "x", "worm_ratio": ratio, "graduations": graduations,
            "sense": sense}})
    })
}

/// Any piece of equipment that holds something alone.
pub(crate) fn any_piece() -> impl Strategy<Value = Value> {
    prop_oneof![
        a_direct_plate(),
        a_vernier(),
        a_block(),
        a_pin_plate(),
        a_head(),
        a_dial()
    ]
}

/// A piece that may count clockwise. Clockwise heads turn the crank the other
/// way, which changes no setting.
pub(crate) fn piece_with_sense() -> impl Strategy<Value = Value> {
    prop_oneof![a_direct_plate(), a_vernier(), a_pin_plate(), a_dial()]
}

fn any_start() -> impl Strategy<Value = Value> {
    prop_oneof![
        Just(json!("free")),
        Just(json!("on_a_setting")),
        (an_angle(), an_angle()).prop_map(|(reading, at)| clocked(&reading, &at)),
    ]
}

fn any_features() -> impl Strategy<Value = Value> {
    prop_oneof![
        (2_u32..14, an_angle()).prop_map(|(count, first)| {
            json!({"equal_divisions": {"count": count, "first_angle": first}})
        }),
        (2_u32..14, an_angle(), a_sense()).prop_map(|(count, first, direction)| {
            json!({"bolt_circle": {"count": count, "pitch_radius": "1.25 in",
                "first_angle": first, "direction": direction}})
        }),
        (2_u32..14, an_angle(), 0.01..24.99).prop_map(|(count, first, across)| {
            json!({"flats": {"count": count, "across_flats": across, "stock_diameter": "25 mm",
                "first_angle": first}})
        }),
        prop::collection::btree_set(-720_i64..720, 1..7).prop_map(|set| {
            let mut seen = BTreeSet::new();
            let texts: Vec<String> = set
                .iter()
                .filter(|it| seen.insert(it.rem_euclid(720)))
                .map(|it| format!("{it}/720 turn"))
                .collect();
            listed(&texts)
        }),
    ]
}

/// Any job.
pub(crate) fn any_job() -> impl Strategy<Value = Value> {
    let tolerance = prop_oneof![
        Just(Value::Null),
        Just(json!({"angle": "0.05 deg"})),
        Just(json!({"position_diameter": {"diameter": 0.1, "radius": "30 mm"}})),
    ];
    (any_features(), any_start(), tolerance).prop_map(|(features, start, tolerance)| {
        let mut job = job_of(&features, &start);
        if !tolerance.is_null() {
            job["tolerance"] = tolerance;
        }
        job
    })
}
