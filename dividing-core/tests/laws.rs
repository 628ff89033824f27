//! Laws that hold for every workshop and job, checked on random ones.
//!
//! Everything is worked out again here from the documents alone, in fractions,
//! by the definitions of the trade: what a hole, a face, a chord, a crank or a
//! dial presents.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "tests"
)]

use crate::common;

use std::collections::BTreeSet;

use common::documents::{
    any_job, any_piece, clocked, divisions, job_of, listed, piece_with_sense, workshop_of,
};
use common::{plans, presented::presented, presented::zero_presented};
use dividing_core::{Angle, AngleStyle, Job, Plan, Workshop};
use num_rational::Ratio;
use proptest::prelude::*;
use serde_json::{Value, json};

/// Random documents for each law.
const CASES: u32 = 512;

type Fraction = Ratio<i128>;

fn turns(angle: Angle) -> Fraction {
    Ratio::new(angle.numerator(), angle.denominator())
}

/// Within one turn.
fn once(turns: Fraction) -> Fraction {
    turns - turns.floor()
}

/// Distance round the turn.
fn apart(a: Fraction, b: Fraction) -> Fraction {
    let gap = once(a - b);
    gap.min(Ratio::from_integer(1) - gap)
}

fn zero() -> Fraction {
    Ratio::from_integer(0)
}

fn best(piece: &Value, job: &Value) -> Plan {
    plans(&workshop_of(std::slice::from_ref(piece)), job)
        .plan(0)
        .unwrap()
        .clone()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: CASES, failure_persistence: None, ..ProptestConfig::default() })]

    /// What reach calls attained is what the settings add up to, and what it
    /// calls exact has no residual.
    #[test]
    fn settings_add_up(pieces in prop::collection::vec(any_piece(), 1..4), job in any_job()) {
        let workshop = workshop_of(&pieces);
        let plans = plans(&workshop, &job);
        for plan in plans.plans() {
            let piece = workshop["equipment"].as_array().unwrap().iter()
                .find(|it| it.as_object().unwrap().values().next().unwrap()["name"] == plan.equipment)
                .unwrap();
            let start = turns(plan.start);
            let mut largest = zero();
            for placement in &plan.placements {
                let shown = presented(piece, &serde_json::to_value(&placement.setting).unwrap());
                let residual = turns(placement.residual);
                prop_assert_eq!(once(shown - start), once(turns(placement.attained)));
                prop_assert_eq!(turns(placement.attained) - turns(placement.required), residual);
                prop_assert!(residual.numer().abs() * 2 <= *residual.denom());
                largest = largest.max(residual.max(-residual));
            }
            prop_assert_eq!(turns(plan.largest_residual), largest);
            prop_assert_eq!(plan.exact, largest == zero());
            prop_assert_eq!(plan.exact, plan.shortfall.is_none());
            let clocked = &job["start"]["clocked"];
            if clocked.is_object() {
                let angle = |key: &str| turns(clocked[key].as_str().unwrap().parse().unwrap());
                let zero_setting = zero_presented(piece, &serde_json::to_value(plan.way).unwrap());
                // The reading counts in the device's own numbering; a worm head
                // counts on as the crank brings up growing drawing angles.
                let (kind, it) = piece.as_object().unwrap().iter().next().unwrap();
                let reading = if it["sense"] == "clockwise" && kind != "worm_head" {
                    -angle("reading")
                } else {
                    angle("reading")
                };
                prop_assert_eq!(start, once(zero_setting + reading - angle("at")));
            }
            if job["start"] == "on_a_setting" {
                prop_assert!(plan.placements[0].residual.is_zero());
            }
            let figures = plan.error.features.iter().flat_map(|it| [it.worst_rad, it.root_sum_square_rad]);
            prop_assert!(figures.into_iter().all(f64::is_finite));
        }
        // The documented order: exact plans first.
        let exact: Vec<bool> = plans.plans().iter().map(|plan| plan.exact).collect();
        prop_assert!(exact.is_sorted_by(|a, b| a >= b), "{:?}", exact);
    }

    /// Turning the whole drawing changes nothing for a free start, nor for one
    /// on a setting.
    #[test]
    fn a_shift_leaves_divisibility_alone(
        piece in any_piece(), count in 2_u32..14, shift in -500_i64..500, on in any::<bool>(),
    ) {
        let start = if on { json!("on_a_setting") } else { json!("free") };
        let mut turned = divisions(count);
        turned["equal_divisions"]["first_angle"] = json!(format!("{shift}/997 turn"));
        let plain = best(&piece, &job_of(&divisions(count), &start));
        let turned = best(&piece, &job_of(&turned, &start));
        prop_assert_eq!(plain.exact, turned.exact);
        prop_assert_eq!(plain.largest_residual, turned.largest_residual);
        let settings = |plan: &Plan| plan.placements.iter().map(|it| it.setting.clone()).collect::<Vec<_>>();
        prop_assert_eq!(settings(&plain), settings(&turned));
    }

    /// The nearest settings are the best there are: every assignment of holes to
    /// features is tried, and its best start.
    #[test]
    fn nearest_settings_are_optimal(
        (holes, absent) in (2_u32..8).prop_flat_map(|holes| (
            Just(holes), prop::collection::btree_set(0..holes, 0..holes as usize - 1))),
        first in 0_i64..60,
        pattern in prop::collection::btree_set(0_i64..120, 1..5),
        start in prop_oneof![Just("free"), Just("on_a_setting"), Just("clocked")],
        (reading, at) in (-90_i64..90, -90_i64..90),
    ) {
        let absent: Vec<u32> = absent.into_iter().collect();
        let piece = json!({"direct_plate": {"name": "p", "circles": [{"holes": holes,
            "first_hole": format!("{first}/60 turn"), "absent": absent}]}});
        let wanted: Vec<Fraction> = pattern.iter().map(|it| Ratio::new(i128::from(*it), 120)).collect();
        let held: Vec<Fraction> = (0..holes).filter(|hole| !absent.contains(hole))
            .map(|hole| once(Ratio::new(i128::from(hole), i128::from(holes)) + Ratio::new(i128::from(first), 60)))
            .collect();
        let texts: Vec<String> = pattern.iter().map(|it| format!("{it}/120 turn")).collect();
        let start_document = if start == "clocked" {
            clocked(&format!("{reading}/180 turn"), &format!("{at}/180 turn"))
        } else {
            json!(start)
        };
        let plan = best(&piece, &job_of(&listed(&texts), &start_document));
        let expected = match start {
            "free" => least_over_assignments(&held, &wanted),
            "on_a_setting" => held.iter().map(|it| largest(&held, &wanted, it - wanted[0])).min().unwrap(),
            _ => {
                let zero_setting = held[0];
                let given = zero_setting + Ratio::new(i128::from(reading - at), 180);
                largest(&held, &wanted, given)
            }
        };
        prop_assert_eq!(turns(plan.largest_residual), expected);
    }

    /// The same for stations that leave gaps between the orientations.
    #[test]
    fn nearest_settings_of_a_vernier_are_optimal(
        holes in 2_u32..5,
        stations in prop::collection::btree_set(0_i64..24, 1..4),
        pattern in prop::collection::btree_set(0_i64..72, 1..4),
        free in any::<bool>(),
    ) {
        let texts = |set: &BTreeSet<i64>, over: i64| -> Vec<String> {
            set.iter().map(|it| format!("{it}/{over} turn")).collect()
        };
        let piece = json!({"vernier_indexer": {"name": "v", "circle": {"holes": holes},
            "stations": texts(&stations, 24)}});
        let held: BTreeSet<Fraction> = (0..holes).flat_map(|hole| stations.iter().map(move |station|
            once(Ratio::new(i128::from(hole), i128::from(holes)) - Ratio::new(i128::from(*station), 24))))
            .collect();
        let held: Vec<Fraction> = held.into_iter().collect();
        let wanted: Vec<Fraction> = pattern.iter().map(|it| Ratio::new(i128::from(*it), 72)).collect();
        let start = if free { json!("free") } else { json!("on_a_setting") };
        let plan = best(&piece, &job_of(&listed(&texts(&pattern, 72)), &start));
        let expected = if free {
            least_over_assignments(&held, &wanted)
        } else {
            held.iter().map(|it| largest(&held, &wanted, it - wanted[0])).min().unwrap()
        };
        prop_assert_eq!(turns(plan.largest_residual), expected);
    }

    /// A device that counts clockwise does for the mirrored drawing what the
    /// other does for the drawing.
    #[test]
    fn clockwise_devices_mirror(
        piece in piece_with_sense(), pattern in prop::collection::btree_set(0_i64..360, 1..6),
        (reading, at) in (-90_i64..90, -90_i64..90), rule in 0..3,
    ) {
        let kind = piece.as_object().unwrap().keys().next().unwrap().clone();
        let mut mirrored = piece.clone();
        mirrored[&kind]["sense"] = match piece[&kind]["sense"].as_str() {
            Some("clockwise") => json!("counter_clockwise"),
            _ => json!("clockwise"),
        };
        let texts = |sign: i64| -> Vec<String> {
            pattern.iter().map(|it| format!("{}/360 turn", it * sign)).collect()
        };
        // The bar's own directions are not mirrored: only a free start is alike.
        let rule = if kind == "pin_plate" { 0 } else { rule };
        let start = |sign: i64| match rule {
            0 => json!("free"),
            1 => json!("on_a_setting"),
            // A reading counts in the device's own numbering, which is mirrored.
            _ => clocked(&format!("{reading}/180 turn"), &format!("{}/180 turn", at * sign)),
        };
        let one = best(&piece, &job_of(&listed(&texts(1)), &start(1)));
        let other = best(&mirrored, &job_of(&listed(&texts(-1)), &start(-1)));
        prop_assert_eq!(one.exact, other.exact);
        prop_assert_eq!(one.largest_residual, other.largest_residual);
        if one.exact && rule == 2 {
            let settings = |plan: &Plan| plan.placements.iter().map(|it| it.setting.clone()).collect::<Vec<_>>();
            prop_assert_eq!(settings(&one), settings(&other));
        }
    }

    /// What is printed in full is read back as the same angle, in every style.
    #[test]
    fn printing_and_reading_are_inverse(
        numerator in -10_i128.pow(15)..10_i128.pow(15), denominator in 1..10_i128.pow(12), digits in 0_u8..7,
    ) {
        let read = |text: String| text.parse::<Angle>().unwrap();
        let angle = Angle::new(numerator, denominator).unwrap();
        prop_assert_eq!(read(angle.to_string()), angle);
        prop_assert_eq!(read(angle.format(AngleStyle::FractionOfTurn)), angle);
        let units = 10_i128.pow(u32::from(digits));
        for (style, per_turn) in [
            (AngleStyle::DecimalDegrees(digits), 360),
            (AngleStyle::DegreesMinutesSeconds(digits), 1_296_000),
        ] {
            // An angle that ends within the digits is printed in full.
            let ends = Angle::new(numerator, per_turn * units).unwrap();
            prop_assert_eq!(read(ends.format(style)), ends);
            // Any other is off by half a unit of the last digit at most, and
            // prints the same again.
            let rounded = read(angle.format(style));
            let off = turns(rounded) - turns(angle);
            prop_assert!(off.max(-off) <= Ratio::new(1, 2 * per_turn * units));
            prop_assert_eq!(rounded.format(style), angle.format(style));
        }
    }

    /// Documents come back equal, and to the same bytes.
    #[test]
    fn documents_round_trip(pieces in prop::collection::vec(any_piece(), 1..5), job in any_job()) {
        let workshop = Workshop::from_json(&workshop_of(&pieces).to_string()).unwrap();
        let text = workshop.to_json().unwrap();
        let again = Workshop::from_json(&text).unwrap();
        prop_assert_eq!(&again, &workshop);
        prop_assert_eq!(again.to_json().unwrap(), text);
        let job = Job::from_json(&job.to_string()).unwrap();
        let text = job.to_json().unwrap();
        let again = Job::from_json(&text).unwrap();
        prop_assert_eq!(&again, &job);
        prop_assert_eq!(again.to_json().unwrap(), text);
    }

    /// A plan comes back from its JSON, and the same question gives the same bytes.
    #[test]
    fn plans_round_trip(piece in any_piece(), job in any_job()) {
        let workshop = workshop_of(&[piece]);
        let plans = plans(&workshop, &job);
        let text = serde_json::to_string(plans.plan(0).unwrap()).unwrap();
        let again: Plan = serde_json::from_str(&text).unwrap();
        prop_assert_eq!(&again, plans.plan(0).unwrap());
        prop_assert_eq!(plans.to_json().unwrap(), common::plans(&workshop, &job).to_json().unwrap());
    }
}

/// The largest distance of a feature from the nearest orientation.
fn largest(held: &[Fraction], wanted: &[Fraction], start: Fraction) -> Fraction {
    wanted
        .iter()
        .map(|feature| {
            let nearest = held.iter().map(|it| apart(*it, start + feature)).min();
            nearest.unwrap()
        })
        .max()
        .unwrap()
}

/// Every assignment of orientations to features: the starts that would make each
/// feature exact lie on the turn, and the best start is the middle of the arc
/// that holds them all, what is left beside the widest gap.
fn least_over_assignments(held: &[Fraction], wanted: &[Fraction]) -> Fraction {
    let mut least = Ratio::from_integer(1);
    let mut assignment = vec![0_usize; wanted.len()];
    loop {
        let mut starts: Vec<Fraction> = assignment
            .iter()
            .zip(wanted)
            .map(|(index, feature)| once(held[*index] - feature))
            .collect();
        starts.sort();
        let around = starts[0] + 1;
        let widest = starts
            .iter()
            .zip(starts.iter().skip(1).chain([&around]))
            .map(|(a, b)| b - a)
            .max()
            .unwrap();
        least = least.min((Ratio::from_integer(1) - widest) / 2);
        // The next assignment, counted like an odometer.
        let Some(place) = assignment.iter().position(|it| it + 1 < held.len()) else {
            return least;
        };
        assignment[place] += 1;
        assignment[..place].fill(0);
    }
}

/// Holes and stations at the places of a difference set hold every position: each
/// is the difference of a station and a hole. Of a perfect set none may be missing.
/// Sets: OEIS A335865 comments and A095029 ff.; for 13 also Weisstein, "Perfect
/// Difference Set", MathWorld; covers with the fewest places: OEIS A283297.
#[test]
fn stations_at_a_difference_set_hold_every_position() {
    let exact = |positions: u64, holes: &[u64], stations: &[u64]| {
        let absent: Vec<u64> = (0..positions).filter(|it| !holes.contains(it)).collect();
        let stations: Vec<String> = stations
            .iter()
            .map(|it| format!("{it}/{positions} turn"))
            .collect();
        let piece = json!({"vernier_indexer": {"name": "v", "stations": stations,
            "circle": {"holes": positions, "absent": absent}}});
        let features = json!({"equal_divisions": {"count": positions}});
        let job = json!({"format": 1, "name": "j", "features": features});
        best(&piece, &job).exact
    };
    let perfect: [(u64, &[u64]); 5] = [
        (7, &[1, 2, 4]),
        (13, &[0, 1, 3, 9]),
        (31, &[1, 5, 11, 24, 25, 27]),
        (57, &[0, 1, 6, 15, 22, 26, 45, 55]),
        (91, &[0, 2, 6, 7, 18, 21, 31, 54, 63, 71]),
    ];
    for (positions, places) in perfect {
        assert!(exact(positions, places, places), "{positions}");
        for left_out in places {
            let fewer: Vec<u64> = places.iter().copied().filter(|it| it != left_out).collect();
            assert!(!exact(positions, &fewer, places), "{positions}");
            assert!(!exact(positions, places, &fewer), "{positions}");
        }
    }
    // The fewest places that cover where no perfect set is.
    for (positions, fewest) in [(12, 4), (19, 5), (23, 6), (28, 6)] {
        let meter = &mut dividing_core::work::Meter::default();
        let places = dividing_core::pattern::difference_cover(positions, meter).unwrap();
        assert_eq!(places.len(), fewest);
        assert!(exact(positions, &places, &places), "{positions}");
    }
}
