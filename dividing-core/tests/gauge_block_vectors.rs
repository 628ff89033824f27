//! Published block sets, stacks and sine-bar figures, from
//! `tests/vectors/gauge_blocks.json`.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test states what must hold"
)]

use std::collections::BTreeSet;

use dividing_core::gauge_blocks::{NamedAngleBlockSet, NamedBlockSet, sine_bar};
use dividing_core::work::Meter;
use dividing_core::{Angle, Length};
use serde::de::DeserializeOwned;
use serde_json::Value;

const VECTORS: &str = include_str!("../../tests/vectors/gauge_blocks.json");

fn checks(kind: &str) -> Vec<Value> {
    let document: Value = serde_json::from_str(VECTORS).unwrap();
    let found: Vec<Value> = document["checks"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|check| check["kind"] == kind)
        .cloned()
        .collect();
    assert!(!found.is_empty(), "no check of kind {kind}");
    found
}

fn read<T: DeserializeOwned>(value: &Value) -> T {
    serde_json::from_value(value.clone()).unwrap()
}

fn text<T: std::str::FromStr<Err: std::fmt::Debug>>(value: &Value) -> T {
    value.as_str().unwrap().parse().unwrap()
}

/// A fraction "n/d" of the vectors as a double.
fn fraction(value: &Value) -> f64 {
    let (n, d) = value.as_str().unwrap().split_once('/').unwrap();
    n.parse::<f64>().unwrap() / d.parse::<f64>().unwrap()
}

#[test]
fn every_kind_of_check_is_read() {
    let document: Value = serde_json::from_str(VECTORS).unwrap();
    let kinds = [
        "sine_height",
        "sine_error",
        "stack",
        "set",
        "angle_stack",
        "angle_set",
        "angle_range",
    ];
    for check in document["checks"].as_array().unwrap() {
        assert!(kinds.contains(&check["kind"].as_str().unwrap()));
    }
}

#[test]
fn sine_bar_heights_and_errors() {
    for check in checks("sine_height") {
        let length: Length = text(&check["inputs"]["length"]);
        let angle: Angle = text(&check["inputs"]["angle"]);
        let height_in = sine_bar::height_mm(length, angle).unwrap() / 25.4;
        let expected = fraction(&check["expected"]["height_in"]);
        let tolerance = fraction(&check["tolerance"]);
        assert!((height_in - expected).abs() <= tolerance, "{}", check["id"]);
    }
    for check in checks("sine_error") {
        let length: Length = text(&check["inputs"]["length"]);
        let angle: Angle = text(&check["inputs"]["angle"]);
        let error: Length = text(&check["inputs"]["height_error"]);
        let height_mm = sine_bar::height_mm(length, angle).unwrap();
        let wrong = Length::from_mm(height_mm + error.mm()).unwrap();
        let error_deg = sine_bar::angle_deg(length, wrong).unwrap() - angle.to_degrees_f64();
        let expected = fraction(&check["expected"]["angle_error_deg"]);
        let tolerance = fraction(&check["tolerance"]);
        assert!((error_deg - expected).abs() <= tolerance, "{}", check["id"]);
    }
}

#[test]
fn named_sets_have_their_blocks() {
    let listed = checks("set");
    assert_eq!(listed.len(), NamedBlockSet::ALL.len());
    for check in listed {
        let set = read::<NamedBlockSet>(&check["inputs"]["set"]).blocks();
        let expected: Vec<u32> = read(&check["expected"]["blocks_units"]);
        assert_eq!(set.units(), expected, "{}", check["id"]);
        assert_eq!(
            Some(set.units().len() as u64),
            check["expected"]["count"].as_u64()
        );
        let distinct: BTreeSet<u32> = set.units().iter().copied().collect();
        assert_eq!(distinct.len(), expected.len(), "{}", check["id"]);
    }
}

/// Whether `count` different blocks of a list add up to a sum, by trying all.
fn some_choice_makes(blocks: &[u32], count: usize, sum: u32) -> bool {
    if count == 0 {
        return sum == 0;
    }
    blocks.iter().enumerate().any(|(place, &block)| {
        block <= sum && some_choice_makes(&blocks[place + 1..], count - 1, sum - block)
    })
}

#[test]
fn published_stacks_are_matched_or_bettered() {
    for check in checks("stack") {
        let id = &check["id"];
        let named: NamedBlockSet = read(&check["inputs"]["set"]);
        let set = named.blocks();
        let height = named
            .unit()
            .nearest(text(&check["inputs"]["height"]))
            .unwrap();
        let published: Vec<u32> = read(&check["expected"]["blocks_units"]);
        assert_eq!(published.iter().sum::<u32>(), height, "{id}");
        assert!(set.without(&published).is_ok(), "{id}: all in the set");
        let found = set.stack(height, 0, None, &mut Meter::default()).unwrap();
        assert_eq!(found.height_units(), i64::from(height), "{id}");
        assert!(found.blocks.len() <= published.len(), "{id}");
        let count = found.blocks.len();
        assert!(some_choice_makes(set.units(), count, height), "{id}");
        for fewer in 1..count {
            assert!(
                !some_choice_makes(set.units(), fewer, height),
                "{id}: {fewer}"
            );
        }
    }
}

#[test]
fn angle_stacks_and_sets() {
    for check in checks("angle_stack") {
        let set = read::<NamedAngleBlockSet>(&check["inputs"]["set"]).blocks();
        let angle: Angle = text(&check["inputs"]["angle"]);
        let plus: Vec<u32> = read(&check["expected"]["plus_arcsec"]);
        let minus: Vec<u32> = read(&check["expected"]["minus_arcsec"]);
        let sum = i128::from(plus.iter().sum::<u32>()) - i128::from(minus.iter().sum::<u32>());
        assert_eq!(Angle::new(sum, 1_296_000).unwrap(), angle);
        assert!(
            plus.iter()
                .chain(&minus)
                .all(|block| set.arcsec().contains(block))
        );
        let found = set
            .stack(angle, Angle::ZERO, &mut Meter::default())
            .unwrap();
        assert_eq!(found.attained, angle);
        assert!(
            found.plus_arcsec.len() + found.minus_arcsec.len() <= plus.len() + minus.len(),
            "{}",
            check["id"]
        );
    }
    for check in checks("angle_set") {
        let set = read::<NamedAngleBlockSet>(&check["inputs"]["set"]).blocks();
        let expected = |key: &str| check["expected"][key].as_u64();
        assert_eq!(Some(set.arcsec().len() as u64), expected("count"));
        assert_eq!(
            set.arcsec().first().map(|&block| block.into()),
            expected("smallest_arcsec")
        );
        assert_eq!(
            set.arcsec().last().map(|&block| block.into()),
            expected("largest_arcsec")
        );
    }
}

#[test]
fn the_published_range_of_the_13_piece_set() {
    for check in checks("angle_range") {
        let set = read::<NamedAngleBlockSet>(&check["inputs"]["set"]).blocks();
        // Every signed sum, by adding one block after another.
        let mut sums: BTreeSet<i64> = BTreeSet::from([0]);
        for &block in set.arcsec() {
            let block = i64::from(block);
            sums = sums
                .iter()
                .flat_map(|sum| [sum - block, *sum, sum + block])
                .collect();
        }
        let positive: Vec<i64> = sums.into_iter().filter(|sum| *sum > 0).collect();
        assert_eq!(
            Some(positive.len() as u64),
            check["expected"]["values"].as_u64()
        );
        let step = check["expected"]["step_arcsec"].as_i64().unwrap();
        assert!(
            positive
                .iter()
                .zip(1..)
                .all(|(sum, number)| *sum == step * number)
        );
        let largest: Angle = text(&check["expected"]["largest"]);
        assert_eq!(
            positive
                .last()
                .map(|&sum| Angle::new(sum.into(), 1_296_000).unwrap()),
            Some(largest)
        );
        let all = set
            .stack(largest, Angle::ZERO, &mut Meter::default())
            .unwrap();
        assert_eq!(all.plus_arcsec.len(), 13);
        assert!(all.minus_arcsec.is_empty());
    }
}
