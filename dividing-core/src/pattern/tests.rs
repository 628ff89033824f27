use std::collections::BTreeSet;

use proptest::prelude::*;

use super::*;
use crate::angle::Angle;
use crate::error::ErrorKind;
use crate::work::{Continue, Meter};

fn brief(text: &str) -> PlateBrief {
    PlateBrief::from_json(text).unwrap()
}

fn with(extra: &str) -> PlateBrief {
    brief(&format!(
        r#"{{"format": 1, "outline": {{"disc": {{"diameter": 100}}}}, "hole_diameter": 6,
            "least_web": 2, "least_edge_distance": 3, {extra}}}"#
    ))
}

fn solve(brief: &PlateBrief) -> Design {
    design(brief, &mut Meter::default()).unwrap()
}

fn pattern(brief: &PlateBrief) -> Pattern {
    match solve(brief) {
        Design::Pattern(pattern) => *pattern,
        Design::DoesNotFit(shortfall) => panic!("{}", shortfall.sentence()),
    }
}

/// Whether some hole of the ring, as start, has all of these angles from it.
fn holds(ring: &Ring, wanted: &[Angle]) -> bool {
    let held: BTreeSet<Angle> = ring.holes.iter().map(|hole| hole.angle).collect();
    held.iter().any(|start| {
        wanted
            .iter()
            .all(|angle| held.contains(&start.checked_add(*angle).unwrap().within_turn()))
    })
}

/// Every wish of a plunger or worm plate, reached by the holes alone.
fn every_wish_is_reached(pattern: &Pattern) {
    let ratio = match pattern.brief.usage {
        PlateUse::WormHead { ratio } => (ratio.numerator(), ratio.denominator()),
        _ => (1, 1),
    };
    for served in &pattern.served {
        let angles: Vec<Angle> = match &served.wish {
            Wish::Division(n) => (0..*n)
                .map(|k| Angle::new(i128::from(k), i128::from(*n)).unwrap())
                .collect(),
            Wish::Angle(angle) => vec![Angle::ZERO, *angle],
            Wish::List(list) => list.iter().copied().chain([Angle::ZERO]).collect(),
        };
        let moves: Vec<Angle> = angles
            .iter()
            .map(|angle| {
                let turned = angle.checked_mul(ratio.0).unwrap();
                turned.checked_div(ratio.1).unwrap()
            })
            .collect();
        match &served.by {
            ServedBy::Ring { ring, .. } => assert!(holds(&pattern.rings[*ring], &moves)),
            ServedBy::Faces(faces) => assert!(
                moves
                    .iter()
                    .all(|angle| i128::from(*faces) % angle.denominator() == 0)
            ),
            ServedBy::AnyHole => assert!(moves.iter().all(|angle| angle.denominator() == 1)),
            other => panic!("{other:?}"),
        }
    }
}

#[test]
fn worked_example_of_six_divisions_on_a_hundred_millimetre_disc() {
    let pattern = pattern(&with(r#""divisions": [5, 6, 7, 8, 9, 12]"#));
    // The outermost ring stands at 50 − 3 − 3 = 44 mm and holds at most
    // π/asin(8/88) = 34.5 equal places, the next, at 36 mm, 28.2.
    assert!(pattern.certificate.complete);
    assert_eq!(pattern.certificate.gap, 0);
    every_wish_is_reached(&pattern);
    let union: u64 = pattern
        .rings
        .iter()
        .map(|ring| holes_in_phase(&ring.divisions))
        .sum();
    assert_eq!(pattern.certificate.holes, union);
    // Every set partition of the six, by brute force over restricted growth
    // strings, on rings 44, 36, 28 ... mm.
    let list = [5_u64, 6, 7, 8, 9, 12];
    let mut least = u64::MAX;
    let mut string = [0_usize; 6];
    loop {
        let groups: Vec<Vec<u64>> = (0..6)
            .map(|g| {
                (0..6)
                    .filter(|&i| string[i] == g)
                    .map(|i| list[i])
                    .collect()
            })
            .filter(|group: &Vec<u64>| !group.is_empty())
            .collect();
        let mut needs: Vec<f64> = groups
            .iter()
            .map(|group| {
                let places = group
                    .iter()
                    .flat_map(|a| group.iter().map(move |b| num_integer::lcm(*a, *b)))
                    .max()
                    .unwrap();
                4.0 / (std::f64::consts::PI / numbers::as_f64(places)).sin()
            })
            .collect();
        needs.sort_by(|a, b| b.total_cmp(a));
        let fits = needs
            .iter()
            .zip([44.0, 36.0, 28.0, 20.0, 12.0, 4.0])
            .all(|(need, radius)| *need <= radius);
        if fits {
            least = least.min(groups.iter().map(|group| holes_in_phase(group)).sum());
        }
        let Some(place) = (1..6)
            .rev()
            .find(|&i| string[i] <= *string[..i].iter().max().unwrap())
        else {
            break;
        };
        string[place] += 1;
        string[place + 1..].fill(0);
    }
    assert_eq!(pattern.certificate.holes, least);
}

#[test]
fn the_same_list_on_a_forty_to_one_head() {
    // R/N = 8, 40/6 = 6 2/3, 40/7 = 5 5/7, 5, 40/9 = 4 4/9, 40/12 = 3 1/3:
    // circles of 3, 7 and 9; 9 brings 3 along (simple indexing, any handbook).
    let pattern = pattern(&with(
        r#""divisions": [5, 6, 7, 8, 9, 12], "use": {"worm_head": {"ratio": 40}}"#,
    ));
    assert_eq!(pattern.certificate.holes, 16);
    assert_eq!(pattern.rings.len(), 2);
    assert_eq!(pattern.served[0].by, ServedBy::AnyHole);
    every_wish_is_reached(&pattern);
}

#[test]
fn faces_of_a_polygon_index_too() {
    let pattern = pattern(&brief(
        r#"{"format": 1, "divisions": [3, 6, 12], "angles": ["60 deg", "90 deg"],
            "outline": {"polygon": {"faces": 6, "across_flats": 80}},
            "hole_diameter": 5, "least_web": 2, "least_edge_distance": 2, "bore": 20}"#,
    ));
    assert_eq!(pattern.served[0].by, ServedBy::Faces(6));
    assert_eq!(pattern.served[3].by, ServedBy::Faces(6));
    assert_eq!(pattern.certificate.holes, 12);
    every_wish_is_reached(&pattern);
    let edge = pattern.check.least_edge_mm.unwrap();
    assert!((edge - 2.0).abs() < 1e-9, "{edge}");
}

#[test]
fn tight_tolerances_stand_outermost() {
    let pattern = pattern(&with(
        r#""divisions": [5, {"division": 7, "tolerance": "30\""}, {"division": 11, "tolerance": "3'"}],
           "hole_position_tolerance": "20 um", "pin_diameter": "5.99 mm", "most_rings": 3"#,
    ));
    assert_eq!(pattern.rings[0].divisions, [7]);
    let seven = &pattern.served[1];
    // (20 µm + 10 µm)/2 over 44 mm = 3.409e-4 rad.
    let expected = 0.015 / 44.0 * 180.0 / std::f64::consts::PI * 3600.0;
    assert!((seven.predicted_error_arcsec.unwrap() - expected).abs() < 1e-9);
    assert_eq!(seven.verdict, Verdict::DoesNotHold);
    assert_eq!(pattern.served[2].verdict, Verdict::Holds);
    assert_eq!(pattern.served[0].verdict, Verdict::NotReckoned);
}

#[test]
fn fixed_rings_are_kept() {
    let pattern = pattern(&with(
        r#""divisions": [5, 8, 12],
           "rings": [{"radius": 30, "divisions": [9], "phase": "10 deg"},
                     {"divisions": [5, 3], "phase": "1 deg"}]"#,
    ));
    every_wish_is_reached(&pattern);
    let fixed = pattern
        .rings
        .iter()
        .find(|ring| (ring.radius_mm - 30.0).abs() < 1e-12)
        .unwrap();
    assert!(fixed.divisions.contains(&9));
    assert_eq!(fixed.phase, "10 deg".parse().unwrap());
    assert_eq!(fixed.holes[0].angle, "10 deg".parse().unwrap());
    let together = pattern
        .rings
        .iter()
        .find(|ring| ring.divisions.contains(&5))
        .unwrap();
    assert_eq!(together.phase, "1 deg".parse().unwrap());
    assert!(holds(together, &["1/3 turn".parse().unwrap()]));
}

#[test]
fn keep_outs_and_mounting_holes_are_kept_clear() {
    let pattern = pattern(&with(
        r#""divisions": [12, 9], "keep_outs": [{"x": 44, "y": 0, "diameter": 4}],
           "mounting_holes": [{"x": 0, "y": 22, "diameter": 5}, {"x": 0, "y": -22, "diameter": 5}]"#,
    ));
    assert!(pattern.check.passed);
    assert!(pattern.check.least_keep_out_mm.unwrap() >= 0.0);
    assert!(pattern.check.least_mounting_web_mm.unwrap() >= 2.0);
    every_wish_is_reached(&pattern);
}

#[test]
fn phases_pass_between_keep_outs_where_whole_rings_cannot() {
    let circles: Vec<String> = (0..4)
        .map(|k| {
            let (sin, cos) = (f64::from(k) * std::f64::consts::FRAC_PI_2).sin_cos();
            let mut list = Vec::new();
            for radius in [12.0, 22.0, 32.0, 42.0] {
                list.push(format!(
                    r#"{{"x": {}, "y": {}, "diameter": 8}}"#,
                    radius * cos,
                    radius * sin
                ));
            }
            list.join(",")
        })
        .collect();
    let pattern = pattern(&with(&format!(
        r#""divisions": [4], "keep_outs": [{}]"#,
        circles.join(",")
    )));
    assert!(!pattern.certificate.separated_rings);
    assert!(!pattern.certificate.complete);
    assert!(pattern.check.passed);
    assert_eq!(pattern.certificate.lower_bound, 4);
    assert_ne!(pattern.rings[0].phase, Angle::ZERO);
    assert!(pattern.remarks[0].starts_with("rings pass between"));
}

/// Ten divisions need 5 pins and eighteen 9. On one ring some two of them stand
/// 1/45 turn apart or less, 6.4 mm at 45.5 mm of pitch radius, and webs need 8.35 mm:
/// 14 pins whatever the list asks besides.
#[test]
fn a_list_does_not_hide_what_the_divisions_need_by_themselves() {
    let plate = pattern(&brief(
        r#"{"format": 1, "divisions": [10, 18],
            "lists": [{"angles": ["10 deg", "35 deg", "52.5 deg"]}], "use": {"pins": {"part_diameter": 40}},
            "outline": {"disc": {"diameter": 102}}, "hole_diameter": 6.35, "least_web": 2,
            "least_edge_distance": 2.5, "mounting_holes": [
                {"x": 0, "y": 26, "diameter": 5}, {"x": 0, "y": -26, "diameter": 5}]}"#,
    ));
    assert!(!plate.certificate.separated_rings);
    assert!(plate.check.passed && plate.certificate.gap > 0);
    assert_eq!(plate.certificate.lower_bound, 14);
    assert_ne!(plate.certificate.proof, ProofMethod::Directions);
}

#[test]
fn rings_stand_closer_where_separated_ones_do_not_fit() {
    let tight = brief(
        r#"{"format": 1, "divisions": [12, 18], "bore": 54.4,
            "outline": {"disc": {"diameter": 86}}, "hole_diameter": 6,
            "least_web": 1, "least_edge_distance": 1.5}"#,
    );
    let pattern = pattern(&tight);
    assert!(!pattern.certificate.separated_rings);
    assert!(pattern.check.passed);
    assert!(pattern.check.least_web_mm.unwrap() >= 1.0 - 1e-7);
    let gaps: Vec<f64> = pattern
        .rings
        .windows(2)
        .map(|pair| pair[0].radius_mm - pair[1].radius_mm)
        .collect();
    assert!(gaps.iter().any(|&gap| gap < 7.0), "{gaps:?}");
    assert!(pattern.certificate.lower_bound <= pattern.certificate.holes);
    every_wish_is_reached(&pattern);
}

#[test]
fn a_shortfall_names_what_binds_and_its_figures_hold() {
    let wanted = brief(
        r#"{"format": 1, "divisions": [7, 11, 13, 17, 19, 23],
            "outline": {"disc": {"diameter": 60}}, "hole_diameter": 6,
            "least_web": 2, "least_edge_distance": 3, "bore": 12}"#,
    );
    let Design::DoesNotFit(found) = solve(&wanted) else {
        panic!("it fits");
    };
    assert!(
        found.binding[0].contains("pitch radius"),
        "{:?}",
        found.binding
    );
    let fits = |brief: &PlateBrief| match solve(brief) {
        Design::Pattern(pattern) => pattern.certificate.separated_rings,
        Design::DoesNotFit(_) => false,
    };
    let outline = |mm: f64| {
        let mut other = wanted.clone();
        other.outline = Outline::Disc {
            diameter: crate::Length::from_mm(mm).unwrap(),
        };
        other
    };
    let smallest = found.smallest_outline_mm.unwrap();
    assert!(fits(&outline(smallest)) && !fits(&outline(smallest - 0.02)));
    let hole = |mm: f64| {
        let mut other = wanted.clone();
        other.hole_diameter = Some(crate::Length::from_mm(mm).unwrap());
        other
    };
    let largest = found.largest_hole_mm.unwrap();
    assert!(fits(&hole(largest)) && !fits(&hole(largest + 0.02)));
    assert_eq!(found.largest_pin_mm, None);
    // With a pin the clearance stays: the same hole, and a pin 0.02 mm less.
    let mut with_pin = wanted.clone();
    with_pin.pin_diameter = Some(crate::Length::from_mm(5.98).unwrap());
    let Design::DoesNotFit(with_pin) = solve(&with_pin) else {
        panic!("it fits");
    };
    assert_eq!(with_pin.largest_hole_mm, Some(largest));
    let pin_mm = with_pin.largest_pin_mm.unwrap();
    assert!((pin_mm - (largest - 0.02)).abs() < 1e-9, "{pin_mm}");
    assert!(with_pin.sentence().contains("for a pin of"));
    // No larger subset fits: try them all.
    let list = [7_u64, 11, 13, 17, 19, 23];
    let subset = |mask: u32| {
        let mut other = wanted.clone();
        other.divisions = (0..6)
            .filter(|i| mask & (1 << i) != 0)
            .map(|i| DivisionWish {
                division: list[i],
                tolerance: None,
            })
            .collect();
        other
    };
    let most = (1..64_u32)
        .filter(|&mask| fits(&subset(mask)))
        .map(|mask| mask.count_ones() as usize)
        .max();
    assert!(found.subset_proved);
    assert_eq!(found.largest_subset.len(), most.unwrap());
    let error = solve(&wanted).into_pattern().unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Inconsistent);
    assert!(error.message().contains("smallest outline"));
}

#[test]
fn pin_plates_serve_by_the_chord_rule() {
    for (square, list, holes) in [
        (false, "[8, 10, 18]", 4 + 5 + 9),
        (true, "[12]", 3),
        (false, "[4]", 4),
        (false, "[2]", 2),
        (true, "[4]", 2),
        // 4 may use any even ring: with 3 it makes one ring of 6.
        (false, "[4, 3]", 6),
        (false, "[2, 7]", 7),
    ] {
        let plate = with(&format!(
            r#""divisions": {list}, "use": {{"pins": {{"square": {square}, "part_diameter": 30}}}},
               "hole_position_tolerance": 0.05, "pin_diameter": 6"#
        ));
        let pattern = pattern(&plate);
        let union = pattern.certificate.holes;
        assert!(union <= holes, "{list}");
        if !list.contains("18") {
            assert_eq!(union, holes, "{list}");
        }
        for served in &pattern.served {
            let (
                ServedBy::Pins {
                    ring,
                    circle,
                    pairs,
                    ..
                },
                Wish::Division(division),
            ) = (&served.by, &served.wish)
            else {
                panic!("{served:?}");
            };
            assert!(pins_serve(circle.unwrap(), *division, square));
            assert_eq!(pairs.len() as u64, *division);
            // The part, 30 mm, stays inside the pins.
            assert!(pattern.rings[*ring].radius_mm - 3.0 >= 15.0);
            let shortest = pairs
                .iter()
                .map(|p| p.baseline_mm)
                .fold(f64::INFINITY, f64::min);
            let expected = 0.05 / shortest * 648_000.0 / std::f64::consts::PI;
            assert!((served.predicted_error_arcsec.unwrap() - expected).abs() < 1e-9);
        }
    }
}

/// On a plate with room for all on one ring, the fewest pins over every choice
/// of a serving circle, up to 40 holes, for each wish.
#[test]
fn pin_plates_have_the_fewest_holes_of_all_circles() {
    for list in [
        &[4_u64, 3][..],
        &[4, 6],
        &[4, 5, 9],
        &[2, 4],
        &[8, 12, 4],
        &[4, 7, 10],
        &[2, 3],
        &[16, 4, 6],
    ] {
        for square in [false, true] {
            let serving: Vec<Vec<u64>> = list
                .iter()
                .map(|&n| (2..=40).filter(|&c| pins_serve(c, n, square)).collect())
                .collect();
            let mut least = u64::MAX;
            let mut choice = vec![0; list.len()];
            'all: loop {
                let circles: Vec<u64> = choice.iter().zip(&serving).map(|(&k, c)| c[k]).collect();
                least = least.min(holes_in_phase(&circles));
                for place in 0..choice.len() {
                    choice[place] += 1;
                    if choice[place] < serving[place].len() {
                        continue 'all;
                    }
                    choice[place] = 0;
                }
                break;
            }
            let plate = brief(&format!(
                r#"{{"format": 1, "divisions": {list:?}, "use": {{"pins": {{"square": {square}}}}},
                    "outline": {{"disc": {{"diameter": 5000}}}}, "hole_diameter": 2,
                    "least_web": 1, "least_edge_distance": 1}}"#
            ));
            let pattern = pattern(&plate);
            assert_eq!(pattern.certificate.holes, least, "{list:?} {square}");
            assert_eq!(pattern.certificate.gap, 0);
        }
    }
}

/// 4 may use 6 holes, which stand with 9 on 18 places where 4 and 9 need 36.
#[test]
fn a_flexible_division_shares_the_places_of_its_ring() {
    let plate = with(r#""divisions": [4, 9], "use": {"pins": {"square": false}}, "most_rings": 1"#);
    let pattern = pattern(&plate);
    assert_eq!(pattern.rings.len(), 1);
    assert_eq!(pattern.rings[0].divisions, [6, 9]);
    assert_eq!(pattern.certificate.holes, 12);
}

/// Single angles and lists on pins: every feature's two pins stand where its
/// chord points at the angle, from real coordinates, and webs are kept.
#[test]
fn pins_serve_single_angles_and_lists() {
    for (list, square, most) in [
        (r#""angles": ["30 deg"]"#, false, 3),
        (r#""angles": ["180 deg"]"#, false, 2),
        (r#""angles": ["90 deg"]"#, true, 2),
        (r#""angles": ["10 deg", "35 deg"]"#, false, 6),
        (
            r#""lists": [{"angles": ["10 deg", "35 deg", "52.5 deg"]}]"#,
            false,
            4,
        ),
        (
            r#""lists": [{"angles": ["10 deg", "35 deg", "52.5 deg"]}]"#,
            true,
            4,
        ),
        (
            r#""lists": [{"angles": ["1/7 turn", "2/7 turn", "3/7 turn"]}]"#,
            false,
            4,
        ),
        (
            r#""divisions": [12], "angles": ["60 deg"], "lists": [{"angles": ["30 deg", "90 deg"]}]"#,
            false,
            6,
        ),
        (
            r#""divisions": [9], "lists": [{"angles": ["7 deg", "11 deg", "-40 deg", "100 deg"]}]"#,
            false,
            14,
        ),
        (r#""divisions": [2], "angles": ["17 deg"]"#, false, 3),
    ] {
        let plate = pattern(&with(&format!(
            r#"{list}, "use": {{"pins": {{"square": {square}}}}},
               "hole_position_tolerance": 0.02, "pin_diameter": 5.99"#
        )));
        assert!(
            plate.certificate.holes <= most,
            "{list}: {} holes",
            plate.certificate.holes
        );
        assert!(plate.certificate.lower_bound <= plate.certificate.holes);
        assert!(plate.check.passed && plate.check.duplicates == 0);
        for served in &plate.served {
            let ServedBy::Pins {
                ring, holes, pairs, ..
            } = &served.by
            else {
                panic!("{list} {served:?}");
            };
            let angles: Vec<f64> = match &served.wish {
                Wish::Division(n) => (0..*n).map(|k| k as f64 / *n as f64).collect(),
                Wish::Angle(angle) => vec![0.0, angle.to_turns_f64()],
                Wish::List(list) => {
                    let turns = list.iter().map(|angle| angle.to_turns_f64());
                    std::iter::once(0.0).chain(turns).collect()
                }
            };
            assert_eq!(pairs.len(), angles.len());
            let ring = &plate.rings[*ring];
            let direction = |pair: &PinPair| {
                let at = |place: u64| {
                    let number = holes[usize::try_from(place).unwrap()];
                    let hole = ring
                        .holes
                        .iter()
                        .find(|hole| hole.number == number)
                        .unwrap();
                    hole.position_mm(ring.radius_mm)
                };
                let (a, b) = (at(pair.first), at(pair.second));
                let baseline = (a.0 - b.0).hypot(a.1 - b.1);
                assert!((baseline - pair.baseline_mm).abs() < 1e-9, "{list}");
                let along = (b.1 - a.1).atan2(b.0 - a.0) / std::f64::consts::TAU;
                along + if pair.upright { 0.25 } else { 0.0 }
            };
            let start = direction(&pairs[0]);
            for (pair, angle) in pairs.iter().zip(&angles) {
                let off = (direction(pair) - start - angle).rem_euclid(0.5);
                assert!(off.min(0.5 - off) < 1e-9, "{list} {pair:?} {angle}");
            }
            assert!(served.predicted_error_arcsec.unwrap() > 0.0);
        }
    }
}

/// One direction more than two pins have needs a third, and 12 divisions bring
/// every multiple of 30 degrees along.
#[test]
fn lists_on_pins_are_proved_where_they_can_be() {
    let plate = |list: &str| pattern(&with(&format!(r#"{list}, "use": {{"pins": {{}}}}"#)));
    let one = plate(r#""angles": ["30 deg"]"#);
    assert_eq!((one.certificate.holes, one.certificate.lower_bound), (3, 3));
    assert_eq!(one.certificate.proof, ProofMethod::Directions);
    let along = plate(r#""divisions": [12], "lists": [{"angles": ["30 deg", "90 deg"]}]"#);
    assert_eq!((along.certificate.holes, along.certificate.gap), (6, 0));
    assert!(along.certificate.complete);
}

#[test]
fn vernier_pairs_serve_single_angles_and_lists() {
    for (list, total, least) in [
        (r#""angles": ["1/7 turn"]"#, 3, 3),
        (
            r#""lists": [{"angles": ["1/101 turn", "17/101 turn"]}]"#,
            4,
            4,
        ),
        (
            r#""lists": [{"angles": ["10 deg", "20 deg", "40 deg", "50 deg"]}]"#,
            6,
            5,
        ),
        (r#""divisions": [6], "angles": ["10 deg"]"#, 8, 6),
    ] {
        let pair = pattern(&with(&format!(r#"{list}, "use": "vernier_pair""#)));
        assert!(
            pair.certificate.holes <= total,
            "{list}: {:?}",
            pair.certificate
        );
        assert_eq!(pair.certificate.lower_bound, least, "{list}");
        assert!(pair.check.passed);
        let fixed = pair.station_plate().unwrap().unwrap();
        assert!(fixed.check.passed);
        let mut held = Vec::new();
        for station in &pair.stations {
            for hole in &pair.rings[0].holes {
                held.push(hole.angle.checked_sub(station.angle).unwrap().within_turn());
            }
        }
        for served in &pair.served {
            let wanted: Vec<Angle> = match &served.wish {
                Wish::Division(n) => (0..*n)
                    .map(|k| Angle::new(i128::from(k), i128::from(*n)).unwrap())
                    .collect(),
                Wish::Angle(angle) => vec![Angle::ZERO, *angle],
                Wish::List(list) => list.iter().copied().chain([Angle::ZERO]).collect(),
            };
            for angle in wanted {
                let in_line = held.iter().filter(|it| **it == angle.within_turn()).count();
                assert!(in_line > 0, "{list} {angle}");
            }
        }
    }
    let error = design(
        &with(r#""angles": ["1/99991 turn", "1/99989 turn"], "use": "vernier_pair""#),
        &mut Meter::default(),
    )
    .unwrap_err();
    assert_eq!(
        (error.kind(), error.field()),
        (ErrorKind::OutOfRange, "angles")
    );
}

#[test]
fn vernier_pairs_are_laid_out_or_explained() {
    let pair = pattern(&with(r#""divisions": [20, 25], "use": "vernier_pair""#));
    assert_eq!(pair.certificate.holes, 20);
    assert_eq!(pair.stations.len(), 10);
    assert_eq!(pair.rings[0].holes.len(), 10);
    let mut seen = BTreeSet::new();
    for station in &pair.stations {
        for hole in &pair.rings[0].holes {
            seen.insert(station.angle.checked_sub(hole.angle).unwrap().within_turn());
        }
    }
    assert_eq!(seen.len(), 100);
    let fixed = pair.station_plate().unwrap().unwrap();
    assert!(fixed.check.passed && pair.check.passed);
    assert_eq!(fixed.hole_count(), 10);
    assert!(seen.iter().all(|angle| 100 % angle.denominator() == 0));
    let Design::DoesNotFit(found) = solve(&with(r#""divisions": [101], "use": "vernier_pair""#))
    else {
        panic!("101 holes fit?");
    };
    let across = found.smallest_outline_mm.unwrap();
    let mut larger = with(r#""divisions": [101], "use": "vernier_pair""#);
    larger.outline = Outline::Disc {
        diameter: crate::Length::from_mm(across).unwrap(),
    };
    assert_eq!(pattern(&larger).certificate.holes, 102);
    // Round a mounting hole the ring stands farther out, and that outline is the least.
    let round = |across: f64| {
        let mut it = with(
            r#""divisions": [101], "use": "vernier_pair",
               "mounting_holes": [{"x": 130, "y": 0, "diameter": 10}]"#,
        );
        it.outline = Outline::Disc {
            diameter: crate::Length::from_mm(across).unwrap(),
        };
        solve(&it)
    };
    let Design::DoesNotFit(found) = round(100.0) else {
        panic!("101 holes fit?");
    };
    let across = found.smallest_outline_mm.unwrap();
    assert!(matches!(round(across), Design::Pattern(_)));
    assert!(matches!(round(across - 0.02), Design::DoesNotFit(_)));
    // Nothing is left open by a budget here, and the words do not say so.
    let Design::DoesNotFit(found) = solve(&with(r#""divisions": [99991], "use": "vernier_pair""#))
    else {
        panic!("99,991 holes fit?");
    };
    assert!(found.subset_proved && found.largest_subset.is_empty());
    let said = found.sentence();
    assert!(
        said.contains("no wish fits") && !said.contains("budget"),
        "{said}"
    );
}

#[test]
fn hostile_briefs_say_what_to_change() {
    let base = |fields: &str| {
        PlateBrief::from_json(&format!(
            r#"{{"format": 1, "outline": {{"disc": {{"diameter": 100}}}}, {fields}}}"#
        ))
    };
    let usual = r#""hole_diameter": 6, "least_web": 2, "least_edge_distance": 3"#;
    for (fields, kind, field) in [
        (
            format!(r#""divisions": [5], "bore": 120, {usual}"#),
            ErrorKind::Inconsistent,
            "bore",
        ),
        (
            format!(r#""divisions": [0], {usual}"#),
            ErrorKind::OutOfRange,
            "divisions[0].division",
        ),
        (
            format!(r#""divisions": [5, 1], {usual}"#),
            ErrorKind::OutOfRange,
            "divisions[1].division",
        ),
        (
            format!(r#""divisions": [1000000], {usual}"#),
            ErrorKind::OutOfRange,
            "divisions[0].division",
        ),
        (
            format!(r#""divisions": [-3], {usual}"#),
            ErrorKind::InvalidField,
            "divisions[0]",
        ),
        (
            format!(r#""divisions": [5.5], {usual}"#),
            ErrorKind::InvalidField,
            "divisions[0]",
        ),
        (
            format!(r#""divisions": [NaN], {usual}"#),
            ErrorKind::MalformedJson,
            "divisions[0]",
        ),
        (
            format!(r#""divisions": [], {usual}"#),
            ErrorKind::EmptyList,
            "divisions",
        ),
        (
            format!(r#""divisions": [5], "colour": 1, {usual}"#),
            ErrorKind::UnknownField,
            "colour",
        ),
        (
            r#""divisions": [5], "hole_diameter": 6, "least_web": -2, "least_edge_distance": 3"#
                .to_owned(),
            ErrorKind::OutOfRange,
            "least_web",
        ),
        (
            r#""divisions": [5], "hole_diameter": 0, "least_web": 2, "least_edge_distance": 3"#
                .to_owned(),
            ErrorKind::OutOfRange,
            "hole_diameter",
        ),
        (
            r#""divisions": [5], "hole_diameter": 1e300, "least_web": 2, "least_edge_distance": 3"#
                .to_owned(),
            ErrorKind::InvalidField,
            "hole_diameter",
        ),
        (
            format!(r#""divisions": [{}], {usual}"#, vec!["5"; 300].join(",")),
            ErrorKind::OutOfRange,
            "divisions",
        ),
        (
            format!(r#""divisions": [{{"division": 5, "tolerance": "0 deg"}}], {usual}"#),
            ErrorKind::OutOfRange,
            "divisions[0].tolerance",
        ),
        (
            format!(r#""divisions": [5], "use": {{"worm_head": {{"ratio": 0}}}}, {usual}"#),
            ErrorKind::InvalidField,
            "use.worm_head.ratio",
        ),
        (
            format!(r#""divisions": [5], "use": {{"worm_head": {{"ratio": "1/0"}}}}, {usual}"#),
            ErrorKind::InvalidField,
            "use.worm_head.ratio",
        ),
        (
            format!(r#""divisions": [5], "rings": [{{}}], {usual}"#),
            ErrorKind::Inconsistent,
            "rings[0]",
        ),
        (
            format!(r#""angles": ["1.0000000001 deg"], {usual}"#),
            ErrorKind::OutOfRange,
            "angles[0].angle",
        ),
        (
            format!(r#""divisions": [5], "pin_diameter": 7, {usual}"#),
            ErrorKind::Inconsistent,
            "pin_diameter",
        ),
        (
            format!(r#""divisions": [5], "most_rings": 0, {usual}"#),
            ErrorKind::OutOfRange,
            "most_rings",
        ),
    ] {
        let error = base(&fields).unwrap_err();
        assert_eq!(
            (error.kind(), error.field()),
            (kind, field),
            "{fields}: {error}"
        );
    }
    let other_format = PlateBrief {
        format: 2,
        ..with(r#""divisions": [5]"#)
    };
    assert_eq!(
        other_format.check().unwrap_err().kind(),
        ErrorKind::UnknownFormat
    );
    // A ring that leaves the plate, and one that is too small for its holes.
    for radius in ["60", "5"] {
        let misplaced = with(&format!(
            r#""divisions": [5], "rings": [{{"radius": {radius}, "divisions": [12]}}]"#
        ));
        let error = design(&misplaced, &mut Meter::default()).unwrap_err();
        assert_eq!(error.field(), "rings[0].radius", "{error}");
    }
}

#[test]
fn hostile_lists_of_angles_say_what_to_change() {
    let refused = |fields: &str| {
        let text = format!(
            r#"{{"format": 1, "outline": {{"disc": {{"diameter": 100}}}}, "hole_diameter": 6,
                "least_web": 2, "least_edge_distance": 3, {fields}}}"#
        );
        PlateBrief::from_json(&text).unwrap_err()
    };
    let many = |count: usize| {
        let angles: Vec<String> = (0..count).map(|k| format!("\"{}°\"", k % 360)).collect();
        format!(r#""lists": [{{"angles": [{}]}}]"#, angles.join(","))
    };
    for (fields, kind, field, says) in [
        (
            r#""lists": [{"angles": ["10°", "NaN"]}]"#.to_owned(),
            ErrorKind::InvalidField,
            "lists[0].angles[1]",
            "write 22.5 deg",
        ),
        (
            r#""angles": ["NaN deg"]"#.to_owned(),
            ErrorKind::InvalidField,
            "angles[0]",
            "a number is expected",
        ),
        (
            r#""lists": [{"angles": ["inf deg"]}]"#.to_owned(),
            ErrorKind::InvalidField,
            "lists[0].angles[0]",
            "a number is expected",
        ),
        (
            r#""lists": [{"angles": ["10"]}]"#.to_owned(),
            ErrorKind::InvalidField,
            "lists[0].angles[0]",
            "10 deg or 10 turn",
        ),
        (
            r#""angles": [10]"#.to_owned(),
            ErrorKind::InvalidField,
            "angles[0]",
            "an angle with its unit",
        ),
        (
            r#""lists": [{"angles": []}]"#.to_owned(),
            ErrorKind::EmptyList,
            "lists[0].angles",
            "name at least one",
        ),
        (
            many(257),
            ErrorKind::OutOfRange,
            "lists[0].angles",
            "at most 256",
        ),
        (
            many(1_000_000),
            ErrorKind::OutOfRange,
            "lists[0].angles",
            "1000000 angles",
        ),
        (
            r#""lists": [{"angles": ["10°", "10.000000001°"]}]"#.to_owned(),
            ErrorKind::OutOfRange,
            "lists[0].angles[1]",
            "round the angle",
        ),
        (
            r#""lists": [{"angles": ["10°"], "tolerance": "0°"}]"#.to_owned(),
            ErrorKind::OutOfRange,
            "lists[0].tolerance",
            "greater than 0",
        ),
        (
            r#""angles": [{"angle": "10°", "tolerance": "-0°01'"}]"#.to_owned(),
            ErrorKind::OutOfRange,
            "angles[0].tolerance",
            "greater than 0",
        ),
    ] {
        let error = refused(&fields);
        assert_eq!((error.kind(), error.field()), (kind, field), "{error}");
        assert!(error.to_string().contains(says), "{error}");
    }
}

#[test]
fn angles_named_twice_and_whole_turns_count_once() {
    let once = pattern(&with(r#""lists": [{"angles": ["30°", "90°"]}]"#));
    let again = r#""lists": [{"angles": ["30°", "390°", "-330°", "90°", "360°", "30°"]}]"#;
    assert_eq!(pattern(&with(again)).rings, once.rings);
    assert_eq!(once.hole_count(), 3);
}

#[test]
fn holes_of_a_list_that_stand_too_close_are_named() {
    // A chord of a hole and a web, 8 mm, over 10° needs 4/sin 5° = 45.895 mm.
    let Design::DoesNotFit(found) = solve(&with(r#""lists": [{"angles": ["40°", "50°"]}]"#))
    else {
        panic!("it fits");
    };
    let said = found.sentence();
    assert!(
        said.contains("the list 40°, 50°: the webs need a pitch radius of 45.895 mm"),
        "{said}"
    );
    assert!(
        said.contains("its holes at 40° and 50° stand 10° apart: put one of them"),
        "{said}"
    );
    assert_eq!(found.smallest_outline_mm, Some(103.79));
    // On rings of their own they fit.
    let apart = with(r#""lists": [{"angles": ["40°"]}, {"angles": ["50°"]}]"#);
    assert_eq!(pattern(&apart).rings.len(), 2);
    // So close that no plate is large enough.
    let touching = with(r#""lists": [{"angles": ["40°", "40.000001°"]}]"#);
    let Design::DoesNotFit(found) = solve(&touching) else {
        panic!("it fits");
    };
    assert_eq!(found.smallest_outline_mm, None);
    assert!(found.sentence().contains("no plate is large enough"));
}

#[test]
fn documents_inside_others_are_checked_as_well() {
    let bad = r#"{"format": 1, "divisions": [1], "outline": {"disc": {"diameter": 100}},
        "hole_diameter": 6, "least_web": 2, "least_edge_distance": 3}"#;
    let error = serde_json::from_str::<PlateBrief>(bad).unwrap_err();
    assert!(error.to_string().contains("divisions[0]"), "{error}");
    let mut told = serde_json::to_value(pattern(&with(r#""divisions": [6]"#))).unwrap();
    let read = serde_json::from_value::<Pattern>(told.clone()).unwrap();
    assert_eq!(serde_json::to_value(&read).unwrap(), told);
    // What a document claims of its own check is not believed.
    told["rings"][0]["radius_mm"] = 49.0.into();
    let read = serde_json::from_value::<Pattern>(told.clone()).unwrap();
    assert!(!read.check.passed);
    told["brief"]["divisions"][0]["division"] = 0.into();
    let error = serde_json::from_value::<Pattern>(told.clone()).unwrap_err();
    assert!(error.to_string().contains("brief.divisions[0]"), "{error}");
    let error = Pattern::from_json(&told.to_string()).unwrap_err();
    assert_eq!(
        (error.kind(), error.field()),
        (ErrorKind::OutOfRange, "brief.divisions[0].division")
    );
}

#[test]
fn keep_outs_that_cover_all_leave_no_ring() {
    let covered = with(r#""divisions": [5], "keep_outs": [{"x": 0, "y": 0, "diameter": 100}]"#);
    let Design::DoesNotFit(found) = solve(&covered) else {
        panic!("it fits");
    };
    assert!(
        found.binding[0].contains("keep-outs"),
        "{:?}",
        found.binding
    );
    assert!(found.largest_subset.is_empty());
    assert!(found.smallest_outline_mm.unwrap() > 110.0);
    assert!(found.sentence().contains("smallest outline"));
}

#[test]
fn a_watcher_stops_the_design_and_a_small_budget_is_said() {
    let list: Vec<String> = (20..60).map(|n| n.to_string()).collect();
    let large = brief(&format!(
        r#"{{"format": 1, "divisions": [{}], "outline": {{"disc": {{"diameter": 600}}}},
            "hole_diameter": 0.8, "least_web": 0.2, "least_edge_distance": 1}}"#,
        list.join(",")
    ));
    let found = design(&large, &mut Meter::new(1000)).unwrap();
    let Design::Pattern(found) = found else {
        panic!("it does not fit");
    };
    assert!(!found.certificate.complete);
    assert!(found.certificate.gap > 0);
    assert!(found.check.passed);
    let mut watcher = |_| Continue::No;
    let stopped = design(&large, &mut Meter::watched(u64::MAX, &mut watcher));
    if let Err(error) = stopped {
        assert_eq!(error.kind(), ErrorKind::Cancelled);
    }
}

#[test]
fn documents_survive_a_round_trip() {
    let pattern = pattern(&with(
        r#""divisions": [5, {"division": 12, "tolerance": "2'"}], "angles": ["15 deg"],
           "lists": [{"angles": ["12 deg", "1/7 turn"]}]"#,
    ));
    every_wish_is_reached(&pattern);
    let text = serde_json::to_string(&pattern).unwrap();
    let anew = design(&pattern.brief, &mut Meter::default()).unwrap();
    assert_eq!(
        serde_json::to_string(&anew.into_pattern().unwrap()).unwrap(),
        text
    );
    let again: Pattern = serde_json::from_str(&text).unwrap();
    assert_eq!(serde_json::to_string(&again).unwrap(), text);
    let brief_text = serde_json::to_string(&pattern.brief).unwrap();
    assert_eq!(PlateBrief::from_json(&brief_text).unwrap(), pattern.brief);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]
    #[test]
    fn every_plate_passes_its_check_and_reaches_every_wish(
        divisions in proptest::collection::vec(2_u64..50, 1..10),
        angles in proptest::collection::vec((1_i64..720, 1_i64..40), 0..3),
        diameter in 40.0_f64..400.0,
        bore in proptest::option::of(5.0_f64..35.0),
        hole in 1.0_f64..9.0,
        web in 0.0_f64..4.0,
        ratio in proptest::option::of(prop::sample::select(vec!["40", "60", "45/2"])),
        circles in proptest::collection::vec((-100.0_f64..100.0, -100.0_f64..100.0, 1.0_f64..9.0), 0..3),
    ) {
        let list: Vec<String> = divisions.iter().map(ToString::to_string).collect();
        let single: Vec<String> = angles.iter().map(|(p, q)| format!("\"{p}/{q} deg\"")).collect();
        let usage = ratio.map_or_else(String::new, |r| format!(r#""use": {{"worm_head": {{"ratio": "{r}"}}}},"#));
        let bore = bore.map_or_else(String::new, |b| format!(r#""bore": {b},"#));
        let circles: Vec<String> = circles.iter()
            .map(|(x, y, d)| format!(r#"{{"x": {x}, "y": {y}, "diameter": {d}}}"#)).collect();
        let brief = brief(&format!(
            r#"{{"format": 1, "divisions": [{}], "angles": [{}], {usage} {bore}
                "mounting_holes": [{}],
                "outline": {{"disc": {{"diameter": {diameter}}}}}, "hole_diameter": {hole},
                "least_web": {web}, "least_edge_distance": 2}}"#,
            list.join(","), single.join(","), circles.join(",")));
        match design(&brief, &mut Meter::new(3_000_000)) {
            Ok(Design::Pattern(pattern)) => {
                prop_assert!(pattern.check.passed);
                prop_assert_eq!(pattern.check.duplicates, 0);
                prop_assert!(pattern.certificate.lower_bound <= pattern.certificate.holes);
                prop_assert_eq!(pattern.certificate.holes, pattern.hole_count() as u64);
                every_wish_is_reached(&pattern);
            }
            Ok(Design::DoesNotFit(found)) => prop_assert!(!found.binding.is_empty()),
            Err(error) => prop_assert_eq!(error.kind(), ErrorKind::WorkLimit),
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]
    #[test]
    fn no_brief_panics(
        divisions in proptest::collection::vec(
            prop_oneof![0_u64..40, Just(100_000), Just(99_991), Just(u64::MAX)], 0..6),
        angle in prop_oneof![Just("1/7 turn"), Just("-400.5 deg"), Just("1/999999937 turn"), Just("0 deg")],
        lengths in proptest::collection::vec(
            prop_oneof![Just(0.0), Just(-1.0), Just(1.0e-7), Just(1.0e5), 0.0_f64..200.0], 6),
        usage in prop_oneof![
            Just(r#""plunger""#), Just(r#""vernier_pair""#),
            Just(r#"{"pins": {"square": true}}"#), Just(r#"{"worm_head": {"ratio": "9999/7"}}"#)],
        faces in prop_oneof![Just(None), (0_u32..200).prop_map(Some)],
        ring in prop_oneof![Just(None), (0.0_f64..150.0).prop_map(Some)],
    ) {
        let list: Vec<String> = divisions.iter().map(ToString::to_string).collect();
        let outline = match faces {
            Some(faces) => format!(r#"{{"polygon": {{"faces": {faces}, "across_flats": {}}}}}"#, lengths[0]),
            None => format!(r#"{{"disc": {{"diameter": {}}}}}"#, lengths[0]),
        };
        let rings = ring.map_or_else(String::new, |r| format!(r#"{{"radius": {r}, "divisions": [3]}}"#));
        let text = format!(
            r#"{{"format": 1, "divisions": [{}], "angles": ["{angle}"], "use": {usage}, "outline": {outline},
                "bore": {}, "hole_diameter": {}, "least_web": {}, "least_edge_distance": {},
                "mounting_holes": [{{"x": {}, "y": 3, "diameter": 2}}], "rings": [{rings}]}}"#,
            list.join(","), lengths[1], lengths[2], lengths[3], lengths[4], lengths[5]);
        if let Ok(brief) = PlateBrief::from_json(&text)
            && let Ok(Design::Pattern(pattern)) = design(&brief, &mut Meter::new(200_000))
        {
            prop_assert!(pattern.check.passed);
            let json = serde_json::to_string(&pattern).unwrap();
            prop_assert!(!json.contains("null"), "no NaN");
            prop_assert!(Pattern::from_json(&json).is_ok());
        }
    }

    #[test]
    fn no_text_panics(text in ".{0,60}") {
        let _ = PlateBrief::from_json(&text);
        let _ = Pattern::from_json(&text);
        let _ = text.parse::<crate::equipment::WormRatio>();
    }
}

#[test]
fn what_a_spent_budget_left_out_is_not_told_as_a_finding() {
    let wanted = with(r#""divisions": [97, 101, 103]"#);
    let (mut cut, mut whole) = (0, 0);
    for budget in [1_000, 5_000, 20_000, 100_000, 1_000_000] {
        let Ok(Design::DoesNotFit(found)) = design(&wanted, &mut Meter::new(budget)) else {
            continue;
        };
        let said = found.sentence();
        assert_eq!(said.contains("budget"), !found.subset_proved, "{said}");
        let claims = said.contains("no plate is large enough") || said.contains("no wish fits");
        assert!(!claims || found.subset_proved, "{said}");
        *(if found.subset_proved {
            &mut whole
        } else {
            &mut cut
        }) += 1;
    }
    assert!(cut > 0 && whole > 0, "{cut} {whole}");
}
