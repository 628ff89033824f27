//! What would supply a missing division: whatever is named does it.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test states what must hold"
)]

use dividing_core::reach::{Supplier, SupplierKind, WayKind};
use dividing_core::{Angle, Plan, Plans};
use serde_json::{Value, json};

use crate::common;

fn plans(equipment: &[Value], divisions: u32) -> Plans {
    let workshop = json!({"format": 1, "name": "Bench", "equipment": equipment});
    let job = json!({"format": 1, "name": "Job",
        "features": {"equal_divisions": {"count": divisions}}});
    common::plans(&workshop, &job)
}

fn first(equipment: &[Value], divisions: u32) -> Plan {
    plans(equipment, divisions).plans().first().unwrap().clone()
}

fn suppliers(plan: &Plan) -> &[Supplier] {
    assert!(!plan.exact);
    &plan.shortfall.as_ref().unwrap().suppliers
}

/// Fractions of a space as the words say: station k stands k/m of a space on.
#[test]
fn stations_added_to_a_plain_plate_do_it() {
    let mut named = 0;
    for holes in [4_u32, 10, 24, 36] {
        for divisions in 2..=80 {
            let plate = json!({"direct_plate": {"name": "p", "circles": [{"holes": holes}]}});
            let plan = first(&[plate], divisions);
            if plan.exact {
                continue;
            }
            let found = suppliers(&plan).iter().find_map(|it| match it.kind {
                SupplierKind::Stations { stations } => Some(stations),
                _ => None,
            });
            let Some(stations) = found else {
                // With nothing in common a circle asks as little.
                assert!((1..=holes).all(|n| holes % n != 0 || divisions % n != 0 || n == 1));
                continue;
            };
            let exact_with = |stations: i128| {
                let angles: Vec<String> = (0..stations)
                    .map(|k| {
                        Angle::new(k, stations * i128::from(holes))
                            .unwrap()
                            .to_string()
                    })
                    .collect();
                let indexer = json!({"vernier_indexer": {"name": "v",
                    "circle": {"holes": holes}, "stations": angles}});
                first(&[indexer], divisions).exact
            };
            assert!(exact_with(stations), "{divisions} on {holes}");
            assert!((1..stations).all(|fewer| !exact_with(fewer)));
            assert!(stations < divisions.into());
            assert!(matches!(
                suppliers(&plan)[0].kind,
                SupplierKind::Stations { .. }
            ));
            named += 1;
        }
    }
    assert!(named > 50, "{named}");
}

#[test]
fn a_vee_block_adds_the_half_step_to_the_block_owned() {
    for faces in 3_u32..=24 {
        let block = json!({"faced_block": {"name": "block", "faces": faces}});
        let plan = first(std::slice::from_ref(&block), 2 * faces);
        let named = &suppliers(&plan)[0];
        let angle = named.text.strip_prefix("a V-block of ").unwrap();
        let (angle, _) = angle.split_once(',').unwrap();
        let vee = json!({"vee_block": {"name": "V", "included_angle": angle}});
        let plan = first(&[block, vee], 2 * faces);
        assert!(plan.exact, "{faces}: {}", named.text);
    }
    // Common practice, no published source: square in 90°, hexagon in 120°.
    for (faces, angle) in [(4, "90°"), (6, "120°"), (12, "90°")] {
        let block = json!({"faced_block": {"name": "block", "faces": faces}});
        let plan = first(&[block], 2 * faces);
        assert!(suppliers(&plan)[0].text.contains(angle));
    }
    // A third of a step no V-block adds.
    let block = json!({"faced_block": {"name": "block", "faces": 6}});
    assert!(
        suppliers(&first(&[block], 18))
            .iter()
            .all(|it| !it.text.starts_with("a V-block"))
    );
}

#[test]
fn a_bar_laid_otherwise_is_named_where_it_does_it() {
    let mut named = [0; 3];
    for holes in 3_u32..=12 {
        for divisions in 2..=48 {
            let plate = |turns_over: bool, square: bool| {
                json!({"pin_plate": {"name": "pins", "circles": [{"holes": holes}],
                    "bar_turns_over": turns_over, "square": square}})
            };
            let below = first(&[plate(true, false)], divisions).exact;
            let both = first(&[plate(true, true)], divisions).exact;
            for (turns_over, square) in [(false, false), (false, true), (true, false)] {
                let plan = first(&[plate(turns_over, square)], divisions);
                if plan.exact {
                    continue;
                }
                let text = suppliers(&plan)[0].text.as_str();
                let expected = match (turns_over, square) {
                    (false, false) if below => Some("the bar laid on the pins from below too"),
                    (false, false) if both => Some("and stood upright by a square"),
                    (false, true) if both => Some("the bar laid on the pins from below too"),
                    (true, _) if both => Some("a square, to stand the bar upright as well"),
                    _ => None,
                };
                match expected {
                    Some(words) => {
                        assert!(text.contains(words), "{holes} {divisions}: {text}");
                        named[usize::from(turns_over) + usize::from(square) * 2] += 1;
                    }
                    None => assert!(text.contains("a ring of"), "{holes} {divisions}: {text}"),
                }
            }
        }
    }
    assert!(named.iter().all(|count| *count > 2), "{named:?}");
}

/// The circle named is drilled beside the one it names: then one move of compound
/// indexing makes the division, and no smaller circle there would.
#[test]
fn a_second_circle_makes_compound_indexing_do() {
    let head = |circles: &[u32]| {
        json!({"worm_head": {"name": "head", "worm_ratio": 40,
            "plates": [{"name": "plate", "circles": circles}]}})
    };
    let compound = |circles: &[u32], divisions| {
        let found = plans(&[head(circles)], divisions);
        let mut all = found.plans().iter().map(|it| (it.exact, it.way));
        all.any(|(exact, way)| exact && matches!(way, WayKind::CompoundIndexing { .. }))
    };
    let owned = [27_u32, 39];
    let (mut named, mut nearest_moves) = (0, 0);
    for divisions in 41..=130 {
        let found = plans(&[head(&owned)], divisions);
        if found.plans().iter().any(|it| it.exact) {
            continue;
        }
        let usual = found.plans().iter();
        let plan = usual
            .into_iter()
            .find(|it| matches!(it.way, WayKind::SimpleIndexing { .. }));
        let best = &suppliers(plan.unwrap())[0];
        let SupplierKind::Circle { holes } = best.kind else {
            panic!("{best:?}");
        };
        let holes = u32::try_from(holes).unwrap();
        let Some(beside) = owned
            .iter()
            .find(|it| best.text.contains(&format!("beside the {it}-hole circle")))
        else {
            continue;
        };
        // The nearest move of compound indexing says the same.
        let is_compound = |it: &&Plan| matches!(it.way, WayKind::CompoundIndexing { .. });
        if let Some(nearest) = found.plans().iter().find(is_compound) {
            assert_eq!(&suppliers(nearest)[0], best);
            assert!(
                suppliers(nearest)
                    .iter()
                    .all(|it| !it.text.contains("block of"))
            );
            let reason = &nearest.shortfall.as_ref().unwrap().reason;
            assert!(
                reason.contains("the nearest move makes a multiple of 1/"),
                "{reason}"
            );
            nearest_moves += 1;
        }
        assert!(
            compound(&[*beside, holes], divisions),
            "{divisions}: {}",
            best.text
        );
        for smaller in 2..holes {
            for circle in owned {
                let pair = [circle, smaller];
                assert!(
                    circle == smaller || !compound(&pair, divisions),
                    "{divisions} {pair:?}"
                );
            }
        }
        named += 1;
    }
    assert!(named > 10 && nearest_moves > 10, "{named} {nearest_moves}");
}
