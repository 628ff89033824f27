//! Ratios to 1000:1, circles to 1000 holes and angles with 12-digit denominators
//! through every search of a worm head, against whole numbers in the open.
//!
//! With R = p/q and a step n/d the crank must turn n·p/(d·q). Every comparison
//! below is made by cross multiplication, each product checked.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test states what must hold"
)]

use dividing_core::equipment::{ChangeGears, WormHead};
use dividing_core::gearing::GearSet;
use dividing_core::reach::worm::{
    CompoundSetting, DifferentialReach, PlateSense, SimpleOrder, WormReach, find_differential,
};
use dividing_core::work::Meter;
use dividing_core::{Angle, ErrorKind, Job, Workshop, plan_job_within};
use num_integer::Integer;
use proptest::prelude::*;
use serde_json::json;

/// A distance as above over below, for comparing.
type Distance = (i128, i128);

fn nearer(a: Distance, b: Distance) -> bool {
    a.0.checked_mul(b.1).unwrap() < b.0.checked_mul(a.1).unwrap()
}

fn equally_far(a: Distance, b: Distance) -> bool {
    !nearer(a, b) && !nearer(b, a)
}

fn product(factors: &[i128]) -> i128 {
    factors
        .iter()
        .try_fold(1_i128, |all, it| all.checked_mul(*it))
        .unwrap()
}

fn head(ratio: (i128, i128), circles: &[u32], gears: &[u32]) -> WormHead {
    let mut head: WormHead = serde_json::from_value(json!({
        "name": "head", "worm_ratio": format!("{}/{}", ratio.0, ratio.1),
        "plates": [{"name": "plate", "circles": circles}]
    }))
    .unwrap();
    head.change_gears = Some(ChangeGears::new(GearSet::new(gears).unwrap()));
    head
}

prop_compose! {
    fn steps()(
        denominator in prop_oneof![
            2_i128..2000,
            Just(999_999_999_989_i128),
            Just(1_000_000_000_000),
            1_i128..=1_000_000_000_000,
        ],
        share in 1_i128..=1_000_000,
    ) -> (i128, i128) {
        let numerator = (denominator * share / 1_000_000).max(1);
        let common = numerator.gcd(&denominator);
        (numerator / common, denominator / common)
    }
}

prop_compose! {
    fn ratios()(above in 1_i128..=1000, below in prop_oneof![Just(1_i128), 2_i128..=20])
        -> (i128, i128) {
        let common = above.gcd(&below);
        (above / common, below / common)
    }
}

/// How far h/c lies from the crank turns wanted.
fn off(wanted: (i128, i128), holes: i128, circle: i128) -> Distance {
    let (above, below) = wanted;
    let apart = product(&[holes, below]) - product(&[above, circle]);
    (apart.abs(), product(&[circle, below]))
}

/// The compound moves of two circles: how many are exact, and the nearest.
fn compound_by_trying(wanted: (i128, i128), c1: i128, c2: i128) -> (usize, Option<Distance>) {
    let (mut exact, mut best) = (0, None);
    let common = c1 / c1.gcd(&c2) * c2;
    for h1 in (1 - c1..c1).filter(|h1| *h1 != 0) {
        // What is left for the second circle, in parts of 1/(below·c1).
        let left = product(&[wanted.0, c1]) - product(&[h1, wanted.1]);
        let spaces = Integer::div_floor(&(product(&[left, c2])), &product(&[wanted.1, c1]));
        for all in spaces - 1..=spaces + 2 {
            if all % c2 == 0 {
                continue;
            }
            let turns = h1 * (common / c1) + all * (common / c2);
            let distance = off(wanted, turns, common);
            // The rest modulo a turn, on or back.
            exact += if distance.0 == 0 { 2 } else { 0 };
            if best.is_none_or(|best| nearer(distance, best)) {
                best = Some(distance);
            }
        }
    }
    (exact, best)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn every_search_gives_the_right_answer_at_the_limits(
        ratio in ratios(),
        step in steps(),
        circles in prop::collection::btree_set(2_u32..=1000, 2..4),
        gears in prop::collection::btree_set(12_u32..=1000, 2..5),
    ) {
        let circles = Vec::from_iter(circles);
        let gears = Vec::from_iter(gears);
        let mut head = head(ratio, &circles, &gears);
        head.change_gears.as_mut().unwrap().most_pairs = 1;
        let reach = WormReach::new(&head).unwrap();
        let meter = &mut Meter::new(u64::MAX);
        let angle = Angle::new(step.0, step.1).unwrap();
        let wanted = (product(&[step.0, ratio.0]), product(&[step.1, ratio.1]));

        // Simple.
        let exact: usize = circles
            .iter()
            .filter(|circle| product(&[wanted.0, i128::from(**circle)]) % wanted.1 == 0)
            .count();
        prop_assert_eq!(reach.simple(angle, SimpleOrder::Handbook).unwrap().len(), exact);
        let best = circles.iter().map(|&circle| {
            let circle = i128::from(circle);
            let below = product(&[wanted.0, circle]) / wanted.1;
            let (a, b) = (off(wanted, below, circle), off(wanted, below + 1, circle));
            if nearer(b, a) { b } else { a }
        });
        let best = best.reduce(|a, b| if nearer(b, a) { b } else { a }).unwrap();
        let found = reach.nearest_simple(angle).unwrap().setting;
        let circle = i128::from(found.place.holes);
        let spaces = found.turns * circle + i128::from(found.holes);
        prop_assert!(equally_far(off(wanted, spaces, circle), best));

        // Compound.
        let (mut count, mut best): (usize, Option<Distance>) = (0, None);
        for (at, &one) in circles.iter().enumerate() {
            for &other in &circles[at + 1..] {
                let (exact, nearest) = compound_by_trying(wanted, one.into(), other.into());
                count += exact;
                best = match (best, nearest) {
                    (Some(a), Some(b)) if !nearer(b, a) => Some(a),
                    (a, b) => b.or(a),
                };
            }
        }
        let spaces_of = |it: &CompoundSetting| {
            let (c1, c2) = (i128::from(it.first.circle), i128::from(it.second.circle));
            let common = c1 / c1.gcd(&c2) * c2;
            let part = i128::from(it.first.holes) * (common / c1)
                + i128::from(it.second.holes) * (common / c2);
            (it.whole_turns * common + part, common)
        };
        let found = reach.compound(angle, None, meter).unwrap();
        prop_assert!(found.complete);
        prop_assert_eq!(found.settings.len(), count);
        for setting in &found.settings {
            let (spaces, common) = spaces_of(setting);
            prop_assert_eq!(off(wanted, spaces, common).0, 0);
        }
        match (reach.nearest_compound(angle, meter), best) {
            (Ok(nearest), Some(best)) => {
                let (spaces, common) = spaces_of(&nearest.setting);
                prop_assert!(equally_far(off(wanted, spaces, common), best));
            }
            (Err(error), None) => prop_assert_eq!(error.kind(), ErrorKind::NotFound),
            other => prop_assert!(false, "{:?}", other),
        }

        // Differential, two gears: R − g with g = ±a/b, so that
        // R − g = (p·b ∓ a·q)/(q·b), and a move is h/c over that.
        let (mut exact, mut best): (usize, Option<Distance>) = (0, None);
        let mut ratios = std::collections::BTreeSet::new();
        for &a in &gears {
            for &b in &gears {
                let (a, b) = (i128::from(a), i128::from(b));
                if a != b {
                    ratios.insert((a / a.gcd(&b), b / a.gcd(&b)));
                }
            }
        }
        for (a, b) in ratios {
            for sign in [-1, 1] {
                let crank = product(&[ratio.0, b]) + sign * product(&[a, ratio.1]);
                if crank <= 0 {
                    continue;
                }
                for &circle in &circles {
                    // t = step·(R − g).
                    let move_of = (product(&[step.0, crank]), product(&[step.1, ratio.1, b]));
                    let circle = i128::from(circle);
                    let spaces = product(&[move_of.0, circle]) / move_of.1;
                    exact += usize::from(product(&[move_of.0, circle]) % move_of.1 == 0);
                    for spaces in [spaces, spaces + 1] {
                        if spaces == 0 {
                            continue;
                        }
                        // (h/c)·q·b/crank less n/d.
                        let made = product(&[spaces, ratio.1, b, step.1]);
                        let apart = made - product(&[step.0, circle, crank]);
                        let distance = (apart.abs(), product(&[circle, crank, step.1]));
                        if best.is_none_or(|best| nearer(distance, best)) {
                            best = Some(distance);
                        }
                    }
                }
            }
        }
        let geared = DifferentialReach::new(&head, meter).unwrap();
        let settings = geared.settings(angle, meter).unwrap();
        prop_assert_eq!(settings.settings.len(), exact);
        let asked = find_differential(&head, angle, usize::MAX, meter).unwrap();
        if asked.complete {
            prop_assert_eq!(&asked.settings, &settings.settings);
        }
        for it in &settings.settings {
            // t + g·step = R·step.
            let train = it.train.ratio();
            let sign = if it.sense == PlateSense::WithCrank { 1 } else { -1 };
            let circle = i128::from(it.place.holes);
            let left = product(&[it.spaces(), train.denominator(), step.1, ratio.1])
                + sign * product(&[train.numerator(), step.0, circle, ratio.1]);
            prop_assert_eq!(left, product(&[ratio.0, step.0, circle, train.denominator()]));
        }
        match (geared.nearest(angle, meter), best) {
            (Ok(nearest), Some(best)) => {
                let off = nearest.made.checked_sub(angle).unwrap().abs();
                prop_assert!(equally_far((off.numerator(), off.denominator()), best));
            }
            (Err(error), None) => prop_assert_eq!(error.kind(), ErrorKind::NotFound),
            other => prop_assert!(false, "{:?}", other),
        }
    }

    #[test]
    fn whole_jobs_of_fine_angles_are_answered(
        ratio in ratios(),
        angles in prop::collection::btree_set(steps(), 1..5),
        circle in 2_u32..=1000,
    ) {
        let workshop = json!({"format": 1, "name": "w", "equipment": [
            {"worm_head": head(ratio, &[circle, 1001 - circle % 500], &[24, 127, 1000])},
            {"direct_plate": {"name": "plate", "circles": [{"holes": circle, "absent": [1]}]}},
            {"vernier_indexer": {"name": "v", "circle": {"holes": circle},
                "stations": ["0 deg", "1/999999999989 turn"]}},
            {"pin_plate": {"name": "pins", "circles": [{"holes": circle}]}},
            {"faced_block": {"name": "block", "faces": 6}}]});
        let workshop = Workshop::from_json(&workshop.to_string()).unwrap();
        let angles = Vec::from_iter(angles.iter().map(|(n, d)| format!("{n}/{d} turn")));
        let job = json!({"format": 1, "name": "j", "features": {"angles": {"angles": angles}}});
        let job = Job::from_json(&job.to_string()).unwrap();
        match plan_job_within(&workshop, &job, &mut Meter::new(3_000_000)) {
            Ok(plans) => {
                for plan in plans.plans() {
                    for it in &plan.placements {
                        let residual = it.attained.checked_sub(it.required).unwrap();
                        prop_assert_eq!(residual.within_half_turn(), it.residual);
                        prop_assert!(it.residual.abs() <= plan.largest_residual);
                    }
                }
            }
            Err(error) => prop_assert!(
                matches!(error.kind(), ErrorKind::Overflow | ErrorKind::WorkLimit),
                "{:?}", error
            ),
        }
    }
}
