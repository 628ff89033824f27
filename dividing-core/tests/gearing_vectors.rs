//! Published gear trains and leads, from `tests/vectors/gearing.json`.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test states what must hold"
)]

use dividing_core::gearing::lead::{Hand, Helix, exact_length_mm, lead_gearing};
use dividing_core::gearing::{
    GearRatio, GearSet, MeshRule, RatioIndex, RelativeSense, Train, TrainSearch,
};
use dividing_core::work::Meter;
use serde_json::Value;

const VECTORS: &str = include_str!("../../tests/vectors/gearing.json");

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

fn numbers<T: serde::de::DeserializeOwned>(value: &Value) -> T {
    serde_json::from_value(value.clone()).unwrap()
}

fn ratio(value: &Value) -> GearRatio {
    value.as_str().unwrap().parse().unwrap()
}

fn head_gears() -> GearSet {
    numbers(&checks("differential_coverage")[0]["inputs"]["gears"])
}

#[test]
fn every_kind_of_check_is_read() {
    let document: Value = serde_json::from_str(VECTORS).unwrap();
    for check in document["checks"].as_array().unwrap() {
        let kind = check["kind"].as_str().unwrap();
        assert!(
            ["differential_train", "differential_coverage", "lead"].contains(&kind),
            "{kind}"
        );
    }
}

#[test]
fn published_trains_have_their_ratio_and_are_found() {
    let search = TrainSearch::new(
        &head_gears(),
        2,
        MeshRule::RatiosAlone,
        &mut Meter::default(),
    )
    .unwrap();
    for check in checks("differential_train") {
        let id = &check["id"];
        let inputs = &check["inputs"];
        let (drivers, driven): (Vec<u16>, Vec<u16>) =
            (numbers(&inputs["drivers"]), numbers(&inputs["driven"]));
        let published = Train::new(&drivers, &driven).unwrap();
        let wanted = ratio(&check["expected"]["ratio"]);
        assert_eq!(published.ratio(), wanted, "{id}");

        // The ratio is the plate motion R − N·h/c of the published plate move.
        let number = |key: &str| i128::from(inputs[key].as_i64().unwrap());
        let motion =
            number("worm_ratio") * number("circle") - number("divisions") * number("holes");
        assert_eq!(
            GearRatio::new(motion.abs(), number("circle")).unwrap(),
            wanted,
            "{id}"
        );

        // On this head the plate goes with the crank when both ends turn alike.
        let sense = match check["expected"]["plate_with_crank"].as_bool().unwrap() {
            true => RelativeSense::Same,
            false => RelativeSense::Opposite,
        };
        assert_eq!(motion > 0, sense == RelativeSense::Same, "{id}");
        assert_eq!(
            Some(published.idlers_for_sense(sense).into()),
            check["expected"]["idlers"].as_u64(),
            "{id}"
        );

        let sorted = |gears: &[u16]| {
            let mut gears = gears.to_vec();
            gears.sort_unstable();
            gears
        };
        let found = search.exact(wanted, &mut Meter::default());
        assert!(
            found.trains.iter().any(|train| {
                sorted(train.drivers()) == sorted(&drivers)
                    && sorted(train.driven()) == sorted(&driven)
            }),
            "{id}: the published train is among those listed"
        );
        let nearest = search.nearest(wanted, &mut Meter::default()).unwrap();
        assert!(nearest.exact, "{id}");
        assert!(nearest.train.pairs() <= published.pairs(), "{id}");
    }
}

#[test]
fn the_published_range_of_differential_indexing_is_covered() {
    for check in checks("differential_coverage") {
        let circles: Vec<u32> = numbers(&check["inputs"]["circles"]);
        let index = RatioIndex::build(
            &numbers(&check["inputs"]["gears"]),
            2,
            MeshRule::RatiosAlone,
            &mut Meter::default(),
        )
        .unwrap();
        let worm_ratio = check["inputs"]["worm_ratio"].as_u64().unwrap();
        let can_be_indexed = |divisions: u64| {
            circles
                .iter()
                .map(|&circle| u64::from(circle))
                .any(|circle| {
                    // The holes for a spindle turn are R·c; plain indexing uses them up.
                    let whole = worm_ratio * circle;
                    whole % divisions == 0
                        || (1..=whole).any(|holes| {
                            let motion = whole.abs_diff(divisions * holes);
                            index.contains(motion, circle)
                        })
                })
        };
        let first_beyond = (1..1000).find(|&divisions| !can_be_indexed(divisions));
        assert_eq!(first_beyond, check["expected"]["first_beyond"].as_u64());
        assert_eq!(
            first_beyond.map(|beyond| beyond - 1),
            check["expected"]["all_up_to"].as_u64()
        );
    }
}

#[test]
fn multiples_over_a_circle_agree_with_single_questions() {
    let index = RatioIndex::build(
        &head_gears(),
        2,
        MeshRule::RatiosAlone,
        &mut Meter::default(),
    )
    .unwrap();
    for circle in [15_u32, 21, 29, 49] {
        let listed: Vec<u64> = index.multiples_of(circle).map(|(times, _)| times).collect();
        let asked: Vec<u64> = (1..=20 * u64::from(circle))
            .filter(|&times| index.contains(times, circle.into()))
            .collect();
        assert_eq!(listed, asked, "circle {circle}");
        for (times, train) in index.multiples_of(circle) {
            let expected = GearRatio::new(times.into(), circle.into()).unwrap();
            assert_eq!(train.ratio(), expected);
        }
    }
}

#[test]
fn published_leads_come_out_and_their_gears_are_found() {
    for check in checks("lead") {
        let id = &check["id"];
        let inputs = &check["inputs"];
        let (drivers, driven): (Vec<u16>, Vec<u16>) =
            (numbers(&inputs["drivers"]), numbers(&inputs["driven"]));
        let published = Train::new(&drivers, &driven).unwrap();
        let helix = Helix {
            worm_ratio: ratio(&inputs["worm_ratio"]),
            screw_pitch_mm: exact_length_mm(inputs["screw_pitch"].as_str().unwrap()).unwrap(),
            lead_mm: ratio(&check["expected"]["lead_mm"]),
            hand: Hand::Right,
            diameter: "1 in".parse().unwrap(),
        };
        // lead = lead of the machine × driven / drivers
        let by_gears = helix
            .machine_lead_mm()
            .unwrap()
            .checked_mul(published.ratio().reciprocal())
            .unwrap();
        assert_eq!(by_gears, helix.lead_mm, "{id}");
        let gears: Vec<u32> = drivers
            .iter()
            .chain(&driven)
            .map(|&teeth| teeth.into())
            .collect();
        let search = TrainSearch::new(
            &GearSet::new(&gears).unwrap(),
            2,
            MeshRule::RatiosAlone,
            &mut Meter::default(),
        )
        .unwrap();
        let found = lead_gearing(&search, &helix, &mut Meter::default()).unwrap();
        assert!(found.exact, "{id}");
        assert_eq!(found.train.ratio(), published.ratio(), "{id}");
    }
}
