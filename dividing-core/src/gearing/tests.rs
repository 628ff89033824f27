//! Laws of the gear search, against plain enumeration of every row of gears.

use std::collections::{BTreeMap, BTreeSet};

use num_rational::Ratio;
use proptest::prelude::*;

use super::*;
use crate::error::ErrorKind;
use crate::work::{Continue, Meter};

/// Every row of distinct gears of the set (gears told apart by their place in
/// the list), of one to `max_pairs` pairs, that keeps the mesh rule. Written
/// from the definition, with nothing of the search.
fn every_row(teeth: &[u32], max_pairs: usize, allowance: Option<i64>) -> BTreeSet<Vec<u32>> {
    fn extend(
        teeth: &[u32],
        used: &mut Vec<usize>,
        length: usize,
        rows: &mut BTreeSet<Vec<u32>>,
        keep: &dyn Fn(&[u32]) -> bool,
    ) {
        if used.len() == length {
            let row: Vec<u32> = used.iter().map(|&place| teeth[place]).collect();
            if keep(&row) {
                rows.insert(row);
            }
            return;
        }
        for place in 0..teeth.len() {
            if !used.contains(&place) {
                used.push(place);
                extend(teeth, used, length, rows, keep);
                used.pop();
            }
        }
    }
    // A row is driver, driven, driver, driven, ...
    let keep = |row: &[u32]| {
        let Some(allowance) = allowance else {
            return true;
        };
        let at = |place: usize| i64::from(row[place]);
        match row.len() {
            2 => true,
            4 => at(0) + at(1) > at(2) + allowance && at(2) + at(3) > at(1) + allowance,
            _ => {
                at(0) + at(1) > at(2) + allowance
                    && at(2) + at(3) > at(1) + allowance
                    && at(2) + at(3) > at(4) + allowance
                    && at(4) + at(5) > at(3) + allowance
            }
        }
    };
    let mut rows = BTreeSet::new();
    for pairs in 1..=max_pairs {
        if 2 * pairs <= teeth.len() {
            extend(teeth, &mut Vec::new(), 2 * pairs, &mut rows, &keep);
        }
    }
    rows
}

/// Ratio of a row, and the train it belongs to: sorted drivers, sorted driven.
fn ratio_of(row: &[u32]) -> Ratio<i128> {
    let product = |first: usize| -> i128 {
        row.iter()
            .skip(first)
            .step_by(2)
            .map(|&teeth| i128::from(teeth))
            .product()
    };
    Ratio::new(product(0), product(1))
}

fn train_of(row: &[u32]) -> (Vec<u32>, Vec<u32>) {
    let side = |first: usize| {
        let mut gears: Vec<u32> = row.iter().skip(first).step_by(2).copied().collect();
        gears.sort_unstable();
        gears
    };
    (side(0), side(1))
}

fn row_of(train: &Train) -> Vec<u32> {
    train.gears().map(|gear| gear.teeth.into()).collect()
}

fn plain(ratio: GearRatio) -> Ratio<i128> {
    Ratio::new(ratio.numerator(), ratio.denominator())
}

fn small(term: i128) -> u64 {
    u64::try_from(term).unwrap()
}

fn rule(allowance: Option<u16>) -> MeshRule {
    allowance.map_or(MeshRule::RatiosAlone, |allowance_teeth| MeshRule::Clear {
        allowance_teeth,
    })
}

fn search(teeth: &[u32], max_pairs: usize, mesh: MeshRule) -> TrainSearch {
    TrainSearch::new(
        &GearSet::new(teeth).unwrap(),
        max_pairs,
        mesh,
        &mut Meter::default(),
    )
    .unwrap()
}

/// Small sets with repeated gears, a number of pairs and perhaps an allowance.
fn questions() -> impl Strategy<Value = (Vec<u32>, usize, Option<u16>)> {
    (1_usize..=3).prop_flat_map(|max_pairs| {
        let most = if max_pairs == 3 { 6 } else { 8 };
        (
            prop::collection::vec(prop_oneof![8_u32..14, 20_u32..100], 2..=most),
            Just(max_pairs),
            prop::option::of(0_u16..20),
        )
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn the_nearest_train_is_the_nearest_of_all_rows(
        (teeth, max_pairs, allowance) in questions(),
        target in prop_oneof![
            (1_i128..200, 1_i128..200).prop_map(|(n, d)| GearRatio::new(n, d).unwrap()),
            (0.02_f64..50.0).prop_map(|value| GearRatio::from_f64(value).unwrap()),
            (1_i128..1_000_000_007, 1_i128..1_000_000_009).prop_map(|(n, d)| {
                // Terms so large that products need more than 128 bits.
                let scale = 10_i128.pow(25);
                GearRatio::new(n * scale + 1, d * scale + 3).unwrap()
            }),
        ],
    ) {
        let ratios: BTreeSet<_> =
            every_row(&teeth, max_pairs, allowance.map(i64::from)).iter().map(|row| ratio_of(row)).collect();
        let answer = search(&teeth, max_pairs, rule(allowance))
            .nearest(target, &mut Meter::default());
        if ratios.is_empty() {
            prop_assert_eq!(answer.unwrap_err().kind(), ErrorKind::NotFound);
            return Ok(());
        }
        let answer = answer.unwrap();
        let below = ratios.iter().rev().find(|ratio| {
            GearRatio::new(*ratio.numer(), *ratio.denom()).unwrap() <= target
        });
        let above = ratios.iter().find(|ratio| {
            GearRatio::new(*ratio.numer(), *ratio.denom()).unwrap() >= target
        });
        prop_assert_eq!(answer.proof.below.map(|train| plain(train.ratio())), below.copied());
        prop_assert_eq!(answer.proof.above.map(|train| plain(train.ratio())), above.copied());
        prop_assert!(answer.proof.complete);
        let chosen = plain(answer.train.ratio());
        prop_assert!(Some(&chosen) == below || Some(&chosen) == above);
        let smallest = ratios
            .iter()
            .map(|ratio| {
                let ratio = GearRatio::new(*ratio.numer(), *ratio.denom()).unwrap();
                ratio.error_ppm(target).abs()
            })
            .fold(f64::INFINITY, f64::min);
        prop_assert!(answer.error_ppm.abs() <= smallest * (1.0 + 1e-12) + 1e-12);
        prop_assert_eq!(answer.exact, chosen == plain(target));
    }

    #[test]
    fn exact_lists_every_train_and_counts_every_row(
        (teeth, max_pairs, allowance) in questions(),
        pick in any::<prop::sample::Index>(),
    ) {
        let rows = every_row(&teeth, max_pairs, allowance.map(i64::from));
        let search = search(&teeth, max_pairs, rule(allowance));
        let target = if rows.is_empty() {
            Ratio::new(3, 7)
        } else {
            ratio_of(&rows.iter().collect::<Vec<_>>()[pick.index(rows.len())].clone())
        };
        let same: Vec<_> = rows.iter().filter(|row| ratio_of(row) == target).collect();
        let expected: BTreeSet<_> = same.iter().map(|row| train_of(row)).collect();
        let wanted = GearRatio::new(*target.numer(), *target.denom()).unwrap();
        let found = search.exact(wanted, &mut Meter::default());
        prop_assert!(found.complete);
        let listed: Vec<_> = found.trains.iter().map(|train| train_of(&row_of(train))).collect();
        prop_assert_eq!(listed.iter().cloned().collect::<BTreeSet<_>>(), expected);
        prop_assert_eq!(listed.len(), listed.iter().collect::<BTreeSet<_>>().len());
        prop_assert_eq!(found.rows, same.len() as u64);
        for train in &found.trains {
            prop_assert!(rows.contains(&row_of(train)), "the row shown keeps the rule");
        }
        prop_assert!(found.trains.is_sorted_by_key(|train| (train.pairs(), train.mesh_margin_teeth().map(|margin| -margin))));
        if let Ok(nearest) = search.nearest(wanted, &mut Meter::default()) {
            prop_assert_eq!(found.trains.is_empty(), !nearest.exact);
            if let Some(first) = found.trains.first() {
                prop_assert!(found.trains.contains(&nearest.train));
                prop_assert_eq!(first.pairs(), nearest.train.pairs());
            }
        }
    }

    #[test]
    fn the_index_holds_every_ratio_with_its_first_train(
        (teeth, max_pairs, allowance) in questions(),
        circle in 1_u32..60,
    ) {
        let rows = every_row(&teeth, max_pairs, allowance.map(i64::from));
        let ratios: BTreeMap<_, usize> = rows.iter().fold(BTreeMap::new(), |mut all, row| {
            *all.entry(ratio_of(row)).or_insert(0) += 1;
            all
        });
        let set = GearSet::new(&teeth).unwrap();
        let index =
            RatioIndex::build(&set, max_pairs, rule(allowance), &mut Meter::default()).unwrap();
        let search = search(&teeth, max_pairs, rule(allowance));
        prop_assert!(index.complete());
        prop_assert_eq!(
            index.iter().map(|(ratio, _)| plain(ratio)).collect::<Vec<_>>(),
            ratios.keys().copied().collect::<Vec<_>>()
        );
        for (ratio, train) in index.iter().take(20) {
            let exact = search.exact(ratio, &mut Meter::default());
            prop_assert_eq!(exact.trains.first(), Some(train));
            let (n, d) = (small(ratio.numerator()), small(ratio.denominator()));
            prop_assert_eq!(index.train(3 * n, 3 * d), Some(train));
        }
        let multiples: Vec<u64> = index.multiples_of(circle).map(|(times, _)| times).collect();
        let expected: Vec<u64> = ratios
            .keys()
            .map(|ratio| *ratio * i128::from(circle))
            .filter(Ratio::is_integer)
            .map(|times| small(times.to_integer()))
            .collect();
        prop_assert_eq!(multiples, expected);
    }
}

#[test]
fn an_exact_ratio_is_answered_with_the_fewest_gears() {
    let gears = search(
        &[24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100],
        2,
        MeshRule::RatiosAlone,
    );
    let answer = gears
        .nearest(GearRatio::new(3, 2).unwrap(), &mut Meter::default())
        .unwrap();
    assert!(answer.exact);
    assert_eq!(answer.train.pairs(), 1);
    assert!(answer.error_ppm.abs() == 0.0);
}

#[test]
fn two_trains_as_near_are_both_told() {
    // 20/40 = 1/2 and 40/20 = 2 only; 5/4 lies in the middle.
    let answer = search(&[20, 40], 1, MeshRule::RatiosAlone)
        .nearest(GearRatio::new(5, 4).unwrap(), &mut Meter::default())
        .unwrap();
    assert_eq!(answer.train.to_string(), "20/40");
    assert_eq!(
        answer
            .equally_near
            .map(|train| train.to_string())
            .as_deref(),
        Some("40/20")
    );
}

#[test]
fn a_spent_budget_gives_the_best_so_far_marked_incomplete() {
    let teeth: Vec<u32> = (20..60).collect();
    let gears = search(&teeth, 3, MeshRule::RatiosAlone);
    let target = GearRatio::from_f64(std::f64::consts::E).unwrap();
    let whole = gears.nearest(target, &mut Meter::default()).unwrap();
    assert!(whole.proof.complete);
    let cut = gears.nearest(target, &mut Meter::new(1_500)).unwrap();
    assert!(!cut.proof.complete);
    assert!(cut.error_ppm.abs() >= whole.error_ppm.abs());
    assert!(cut.proof.below.unwrap().ratio() <= whole.proof.below.unwrap().ratio());
    let none = gears.nearest(target, &mut Meter::new(0)).unwrap();
    assert!(!none.proof.complete);
    let mut stop = |_| Continue::No;
    let mut meter = Meter::watched(u64::MAX, &mut stop);
    meter.spend(9_999).unwrap();
    assert!(!gears.nearest(target, &mut meter).unwrap().proof.complete);
    let few = gears.exact(GearRatio::ONE, &mut Meter::new(200));
    assert!(!few.complete);
    let set = GearSet::new(&teeth).unwrap();
    let index = RatioIndex::build(&set, 2, MeshRule::RatiosAlone, &mut Meter::new(50_000)).unwrap();
    assert!(!index.complete());
}

#[test]
fn extreme_sets_and_targets_do_no_harm() {
    let lone = search(&[24], 3, MeshRule::RatiosAlone);
    assert_eq!(
        lone.nearest(GearRatio::ONE, &mut Meter::default())
            .unwrap_err()
            .kind(),
        ErrorKind::NotFound
    );
    let same = search(&[1000; 200], 3, MeshRule::RatiosAlone);
    let exact = same.exact(GearRatio::ONE, &mut Meter::default());
    assert_eq!(exact.trains.len(), 3);
    let extreme = search(&[1, 1, 1, 1000, 1000, 1000], 3, MeshRule::RatiosAlone);
    let huge: GearRatio = "100000000000000000000000000000000000".parse().unwrap();
    for (target, expected) in [
        (huge, "1000/1 × 1000/1 × 1000/1"),
        (huge.reciprocal(), "1/1000 × 1/1000 × 1/1000"),
    ] {
        let answer = extreme.nearest(target, &mut Meter::default()).unwrap();
        assert_eq!(answer.train.to_string(), expected);
        assert!(answer.error_ppm.is_finite());
        let exact = extreme.exact(target, &mut Meter::default());
        assert!(exact.complete && exact.trains.is_empty());
    }
    let index = RatioIndex::build(
        &GearSet::new(&[1, 1, 1, 1000, 1000, 1000]).unwrap(),
        3,
        MeshRule::RatiosAlone,
        &mut Meter::default(),
    )
    .unwrap();
    assert!(index.contains(1_000_000_000, 1));
    assert!(!index.contains(0, 1));
    assert!(!index.contains(1, 0));
    assert!(!index.contains(u64::MAX, 2));
    assert_eq!(index.multiples_of(0).count(), 0);
}
