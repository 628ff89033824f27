//! Published chords, polygons and difference sets, from
//! `tests/vectors/features.json`.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test states what must hold"
)]

use std::collections::BTreeSet;

use dividing_core::features::{BoltCircle, Flats};
use dividing_core::reach::{OrientationSet, Setting, ways};
use dividing_core::work::Meter;
use dividing_core::{Job, Workshop, plan_job};
use serde_json::{Value, json};

const VECTORS: &str = include_str!("../../tests/vectors/features.json");

fn checks(kind: &str) -> Vec<Value> {
    let document: Value = serde_json::from_str(VECTORS).unwrap();
    let all = document["checks"].as_array().unwrap();
    let found: Vec<Value> = all
        .iter()
        .filter(|it| it["kind"] == kind)
        .cloned()
        .collect();
    assert!(!found.is_empty(), "no check of kind {kind}");
    found
}

/// A fraction "n/d" of the vectors as a double.
fn fraction(value: &Value) -> f64 {
    let (n, d) = value.as_str().unwrap().split_once('/').unwrap();
    n.parse::<f64>().unwrap() / d.parse::<f64>().unwrap()
}

fn near(check: &Value, found: f64) {
    let expected = fraction(&check["expected"]);
    let tolerance = fraction(&check["tolerance"]);
    assert!(
        (found - expected).abs() <= tolerance,
        "{}: {found} for {expected}",
        check["id"]
    );
}

#[test]
fn every_kind_of_check_is_read() {
    let document: Value = serde_json::from_str(VECTORS).unwrap();
    let kinds = [
        "chord",
        "across_corners",
        "least_stock",
        "over_opposite",
        "difference_set",
    ];
    for check in document["checks"].as_array().unwrap() {
        assert!(kinds.contains(&check["kind"].as_str().unwrap()));
    }
}

#[test]
fn chords_of_bolt_circles() {
    for check in checks("chord") {
        let circle: BoltCircle = serde_json::from_value(json!({
            "count": check["inputs"]["count"],
            "pitch_radius": fraction(&check["inputs"]["diameter"]) / 2.0,
        }))
        .unwrap();
        let spaces = check["inputs"]["spaces"].as_u64().unwrap();
        near(&check, circle.chord_mm(u32::try_from(spaces).unwrap()));
    }
}

#[test]
fn corners_and_stock_of_flats() {
    for kind in ["across_corners", "least_stock", "over_opposite"] {
        for check in checks(kind) {
            let across = fraction(&check["inputs"]["across_flats"]);
            let stock = match check["inputs"].get("stock") {
                Some(stock) => fraction(stock),
                None => across * 3.0,
            };
            let flats: Flats = serde_json::from_value(json!({
                "count": check["inputs"]["count"],
                "across_flats": across,
                "stock_diameter": stock,
            }))
            .unwrap();
            let figures = flats.geometry();
            near(
                &check,
                match kind {
                    "across_corners" => figures.across_corners_mm,
                    "least_stock" => figures.stock_for_sharp_corners_mm.unwrap(),
                    _ => figures.over_opposite_mm,
                },
            );
        }
    }
}

/// A circle drilled only where a difference set of v has its members, with
/// stations at the same members, holds every v-th part: every difference comes
/// from one hole and one station. Without any one hole it does not.
#[test]
fn difference_sets_make_vernier_indexers_of_few_holes() {
    for check in checks("difference_set") {
        let positions = check["inputs"]["positions"].as_i64().unwrap();
        let members: Vec<i64> = check["inputs"]["set"]
            .as_array()
            .unwrap()
            .iter()
            .map(|it| it.as_i64().unwrap())
            .collect();
        let shop = |drilled: &[i64]| {
            let absent: Vec<i64> = (0..positions)
                .filter(|hole| !drilled.contains(hole))
                .collect();
            let stations: Vec<String> = members
                .iter()
                .map(|member| format!("{member}/{positions} turn"))
                .collect();
            let document = json!({"format": 1, "name": "w", "equipment": [{"vernier_indexer": {
                "name": "v", "circle": {"holes": positions, "absent": absent},
                "stations": stations}}]});
            Workshop::from_json(&document.to_string()).unwrap()
        };
        let meter = &mut Meter::default();
        let every = OrientationSet::equally_spaced(positions.into()).unwrap();
        let full = ways(&shop(&members), meter).unwrap();
        assert!(
            full[0].set().holds_the_same(&every, meter).unwrap(),
            "{}",
            check["id"]
        );
        let fewer = ways(&shop(&members[1..]), meter).unwrap();
        assert!(!fewer[0].set().holds_the_same(&every, meter).unwrap());

        // Laid on as a job, every division uses another pair of hole and
        // station, since every difference but 0 comes once.
        let job = json!({"format": 1, "name": "j",
            "features": {"equal_divisions": {"count": positions}}});
        let plans = plan_job(&shop(&members), &Job::from_json(&job.to_string()).unwrap()).unwrap();
        let plan = plans.plan(0).unwrap();
        assert!(plan.exact);
        let pairs: BTreeSet<(u32, usize)> = plan
            .placements
            .iter()
            .map(|it| match it.setting {
                Setting::HoleAtStation { hole, station } => (hole, station),
                ref other => panic!("{other:?}"),
            })
            .collect();
        assert_eq!(pairs.len(), plan.placements.len());
    }
}
