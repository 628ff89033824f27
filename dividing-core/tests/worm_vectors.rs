//! Published settings of worm heads, from `tests/vectors/worm.json`.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test states what must hold"
)]

use dividing_core::equipment::WormHead;
use dividing_core::gearing::{GearRatio, MeshRule, TrainSearch};
use dividing_core::reach::worm::{
    CompoundSetting, CompoundTerm, DifferentialReach, PlateSense, SimpleOrder, SteppingError,
    WormReach,
};
use dividing_core::tables::exact_table;
use dividing_core::work::Meter;
use dividing_core::{Angle, Workshop};
use serde_json::{Value, json};

const VECTORS: &str = include_str!("../../tests/vectors/worm.json");

const KINDS: [&str; 9] = [
    "simple_first",
    "simple_among",
    "simple_all",
    "compound",
    "compound_approximate",
    "differential",
    "part_of_turn",
    "angular",
    "coverage",
];

fn document() -> Value {
    serde_json::from_str(VECTORS).unwrap()
}

fn cases(kind: &str) -> Vec<Value> {
    let found: Vec<Value> = document()["cases"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|case| case["kind"] == kind)
        .cloned()
        .collect();
    assert!(!found.is_empty(), "no case of kind {kind}");
    found
}

/// A head with plates given as lists of sides.
fn head_with(ratio: &Value, plates: &Value, gears: Option<&Value>) -> WormHead {
    let plates: Vec<Value> = plates
        .as_array()
        .unwrap()
        .iter()
        .enumerate()
        .map(|(index, sides)| {
            json!({
                "name": format!("plate {}", index + 1),
                "circles": sides[0],
                "back_circles": sides.get(1).cloned().unwrap_or(json!([])),
            })
        })
        .collect();
    let mut head = json!({"name": "head", "worm_ratio": ratio, "plates": plates});
    if let Some(gears) = gears {
        head["change_gears"] = json!({"gears": gears});
    }
    serde_json::from_value(head).unwrap()
}

fn head(name: &str) -> WormHead {
    let document = document();
    let head = &document["heads"][name];
    head_with(
        &head["worm_ratio"],
        &head["plates"],
        Some(&document["gears"]),
    )
}

fn fraction(text: &Value) -> Angle {
    let text = text.as_str().unwrap();
    let (above, below) = text.split_once('/').unwrap_or((text, "1"));
    Angle::new(above.parse().unwrap(), below.parse().unwrap()).unwrap()
}

fn one_of(case: &Value) -> Angle {
    Angle::new(1, case["divisions"].as_i64().unwrap().into()).unwrap()
}

fn whole(value: &Value) -> i128 {
    value.as_i64().unwrap().into()
}

#[test]
fn every_kind_of_case_is_read() {
    for case in document()["cases"].as_array().unwrap() {
        assert!(KINDS.contains(&case["kind"].as_str().unwrap()), "{case}");
    }
}

#[test]
fn printed_rows_of_simple_indexing_are_found() {
    for kind in ["simple_first", "simple_among"] {
        for case in cases(kind) {
            let reach = WormReach::new(&head(case["head"].as_str().unwrap())).unwrap();
            assert_eq!(reach.worm_ratio().numerator(), whole(&case["worm_ratio"]));
            let found = reach.simple(one_of(&case), SimpleOrder::Handbook).unwrap();
            let row = |it: &dividing_core::reach::worm::SimpleSetting| {
                it.turns == whole(&case["turns"])
                    && i128::from(it.holes) == whole(&case["holes"])
                    // Whole turns: a row without a circle.
                    && (case["circle"].is_null() || case["circle"] == it.place.holes)
            };
            if kind == "simple_first" {
                assert!(row(&found[0]), "{case}: {:?}", found[0]);
                let divisions = u32::try_from(whole(&case["divisions"])).unwrap();
                assert_eq!(reach.simple_division(divisions), Some(found[0]));
            } else {
                assert!(found.iter().any(row), "{case}: {found:?}");
            }
        }
    }
}

#[test]
fn all_settings_of_an_exercise_are_found_and_no_more() {
    for case in cases("simple_all") {
        let head = head_with(&case["worm_ratio"], &json!([[case["circles"]]]), None);
        let reach = WormReach::new(&head).unwrap();
        let found = reach
            .simple(one_of(&case), SimpleOrder::FewestHoles)
            .unwrap();
        let solutions: Vec<(i128, i128)> = case["solutions"]
            .as_array()
            .unwrap()
            .iter()
            .map(|it| (whole(&it["holes"]), whole(&it["circle"])))
            .collect();
        let settings: Vec<(i128, i128)> = found
            .iter()
            .map(|it| (it.holes.into(), it.place.holes.into()))
            .collect();
        assert_eq!(settings, solutions, "{case}");
        assert!(found.iter().all(|it| it.turns == whole(&case["turns"])));
    }
}

fn printed_compound(case: &Value) -> CompoundSetting {
    let term = |index: usize| CompoundTerm {
        circle: serde_json::from_value(case["terms"][index]["circle"].clone()).unwrap(),
        holes: case["terms"][index]["holes"].as_i64().unwrap(),
    };
    CompoundSetting {
        plate: 0,
        back: false,
        whole_turns: whole(&case["whole_turns"]),
        first: term(0),
        second: term(1),
    }
}

#[test]
fn printed_compound_moves_are_found() {
    for case in cases("compound") {
        let reach = WormReach::new(&head("three_plates")).unwrap();
        let found = reach
            .compound(one_of(&case), None, &mut Meter::default())
            .unwrap();
        assert!(found.complete);
        let printed = printed_compound(&case);
        if printed.first.holes.unsigned_abs() >= u64::from(printed.first.circle) {
            // Unreduced by whole turns: it is exact, and no setting of ours.
            assert_eq!(
                printed.crank_turns().unwrap(),
                reach.crank_turns(one_of(&case)).unwrap()
            );
            continue;
        }
        let same = |it: &CompoundSetting| {
            (it.whole_turns, it.first, it.second)
                == (printed.whole_turns, printed.first, printed.second)
        };
        assert!(found.settings.iter().any(same), "{case}");
        // Never more movement than what is printed.
        assert!(found.settings[0].holes() <= printed.holes(), "{case}");
    }
}

#[test]
fn a_printed_approximate_move_has_its_error() {
    for case in cases("compound_approximate") {
        let reach = WormReach::new(&head("three_plates")).unwrap();
        let step = Angle::new(whole(&case["per_move"]), whole(&case["divisions"])).unwrap();
        let printed = printed_compound(&case).crank_turns().unwrap();
        let off = printed
            .checked_sub(reach.crank_turns(step).unwrap())
            .unwrap();
        // Doubles of the published figures; they carry sixteen digits.
        let crank = case["crank_error_turns"].as_f64().unwrap();
        assert!((off.to_turns_f64() - crank).abs() < 1e-15, "{case}");
        let made = reach.spindle_step(printed).unwrap();
        let error = SteppingError::of(step, made).unwrap();
        let arcsec = case["spindle_error_arcsec"].as_f64().unwrap();
        assert!(
            (error.per_move.to_arcsec_f64() - arcsec).abs() < 1e-10,
            "{case}"
        );
        // 5 and 106 have no common divisor: 106 moves close five turns.
        assert_eq!(error.moves, 106);
        assert_eq!(error.closing, error.per_move.checked_mul(106).unwrap());
        let nearest = reach.nearest_compound(step, &mut Meter::default()).unwrap();
        assert!(nearest.error.per_move.abs() <= error.per_move.abs());
        assert!(nearest.complete);
    }
}

#[test]
fn printed_differential_rows_are_found() {
    let head = head("three_plates");
    let meter = &mut Meter::default();
    let reach = DifferentialReach::new(&head, meter).unwrap();
    let gears = head.change_gears.as_ref().unwrap();
    let search = TrainSearch::new(&gears.gears, 2, MeshRule::RatiosAlone, meter).unwrap();
    for case in cases("differential") {
        let found = reach.settings(one_of(&case), meter).unwrap();
        assert!(found.complete);
        let row = found.settings.iter().find(|it| {
            let spaces = it.turns * i128::from(it.place.holes) + i128::from(it.holes);
            case["circle"] == it.place.holes && spaces == whole(&case["holes"])
        });
        let row = row.unwrap_or_else(|| panic!("{case}"));
        assert_eq!(row.plate_turns, fraction(&case["plate_turns"]), "{case}");
        let with_crank = case["plate_with_crank"].as_bool().unwrap();
        assert_eq!(row.sense == PlateSense::WithCrank, with_crank, "{case}");
        // The printed gears are one of the trains of that ratio; ours keeps the
        // one that meshes best of the shortest.
        let size = row.plate_turns.abs();
        let ratio = GearRatio::new(size.numerator(), size.denominator()).unwrap();
        let sorted = |list: &Value| {
            let mut teeth: Vec<u16> = serde_json::from_value(list.clone()).unwrap();
            teeth.sort_unstable();
            teeth
        };
        let (drivers, driven) = (sorted(&case["drivers"]), sorted(&case["driven"]));
        let trains = search.exact(ratio, meter);
        let printed = trains.trains.iter().find(|train| {
            let side = |side: &[u16]| {
                let mut teeth = side.to_vec();
                teeth.sort_unstable();
                teeth
            };
            side(train.drivers()) == drivers && side(train.driven()) == driven
        });
        let printed = printed.unwrap_or_else(|| panic!("{case}"));
        assert_eq!(
            i128::from(gears.idlers.idlers(printed, with_crank)),
            whole(&case["idlers"]),
            "{case}"
        );
        assert!(row.train.pairs() <= printed.pairs());
    }
}

/// The fractions of an expression such as `17/39-12/49`: holes and circle.
fn expression(text: &str) -> Vec<(i64, u32)> {
    let spaced = text.replace('-', " -").replace('+', " ");
    spaced
        .split_whitespace()
        .map(|term| {
            let (holes, circle) = term.split_once('/').unwrap();
            (holes.parse().unwrap(), circle.parse().unwrap())
        })
        .collect()
}

#[test]
fn printed_parts_of_a_turn_are_found_on_one_side_of_a_plate() {
    for case in cases("part_of_turn") {
        let reach = WormReach::new(&head(case["head"].as_str().unwrap())).unwrap();
        let exact = fraction(&case["exact"]);
        let printed = case["printed"].as_f64().unwrap();
        let tolerance = case["tolerance"].as_f64().unwrap();
        // The bound is inclusive: some rows round a five away.
        assert!(
            (exact.to_turns_f64() - printed).abs() <= tolerance * (1.0 + 1e-9),
            "{case}"
        );
        let step = reach.spindle_step(exact).unwrap();
        let terms = expression(case["expression"].as_str().unwrap());
        match terms.as_slice() {
            [(holes, circle)] => {
                let found = reach.simple(step, SimpleOrder::Handbook).unwrap();
                assert!(
                    found
                        .iter()
                        .any(|it| i64::from(it.holes) == *holes && it.place.holes == *circle),
                    "{case}"
                );
            }
            [a, b] => {
                let (first, second) = if a.1 < b.1 { (a, b) } else { (b, a) };
                let found = reach
                    .compound(step, Some(0), &mut Meter::default())
                    .unwrap();
                let same = |it: &CompoundSetting| {
                    (it.first.holes, it.first.circle) == *first
                        && (it.second.holes, it.second.circle) == *second
                };
                assert!(found.settings.iter().any(same), "{case}");
            }
            _ => panic!("{case}"),
        }
    }
}

#[test]
fn printed_moves_for_angles_are_found() {
    for case in cases("angular") {
        let degrees = fraction(&case["degrees"]);
        let step = Angle::from_degrees(degrees.numerator(), degrees.denominator()).unwrap();
        let circle = if case["circle"].is_null() {
            json!(15)
        } else {
            case["circle"].clone()
        };
        let head = head_with(&case["worm_ratio"], &json!([[[circle]]]), None);
        let reach = WormReach::new(&head).unwrap();
        let nearest = reach.nearest_simple(step).unwrap();
        assert_eq!(nearest.setting.turns, whole(&case["turns"]), "{case}");
        assert_eq!(
            i128::from(nearest.setting.holes),
            whole(&case["holes"]),
            "{case}"
        );
        // Published to four decimals of a second.
        let error = case["error_arcsec"].as_f64().unwrap();
        assert!(
            (nearest.error.per_move.to_arcsec_f64() - error).abs() < 5.1e-5,
            "{case}"
        );
        let exact = reach.simple(step, SimpleOrder::Handbook).unwrap();
        assert_eq!(exact.is_empty(), nearest.made != step);
        assert_eq!(exact.is_empty(), error != 0.0, "{case}");
    }
}

#[test]
fn every_number_to_382_can_be_indexed_and_383_cannot() {
    for case in cases("coverage") {
        let head = serde_json::to_value(head("three_plates")).unwrap();
        let workshop = Workshop::from_json(
            &json!({"format": 1, "name": "w", "equipment": [{"worm_head": head}]}).to_string(),
        )
        .unwrap();
        let last = u32::try_from(whole(&case["last"])).unwrap();
        let table = exact_table(&workshop, 1, last + 1, &mut Meter::default()).unwrap();
        assert!(table.complete);
        let exact = |divisions: u32| {
            let row = (divisions - 1) as usize;
            // Simple and differential; compound is not counted by the source.
            table.sections[0].exact[row] == 1 || table.sections[2].exact[row] == 1
        };
        let missing: Vec<u32> = (1..=last).filter(|it| !exact(*it)).collect();
        assert_eq!(missing, Vec::<u32>::new());
        assert_eq!(whole(&case["first_not"]), i128::from(last + 1));
        assert!(!exact(last + 1));
    }
}
