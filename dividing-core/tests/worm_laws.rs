//! Laws of worm heads: set-ups stepped as exact fractions, brute force on small
//! heads, and numbers at their limits.
#![allow(
    clippy::float_cmp,
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test states what must hold"
)]

use std::collections::BTreeSet;

use dividing_core::equipment::{ChangeGears, WormHead};
use dividing_core::gearing::{GearSet, MeshRule, Train};
use dividing_core::reach::worm::{
    CompoundSetting, DifferentialReach, DifferentialSetting, PlateSense, SimpleOrder, WormReach,
    find_differential, find_nearest_differential,
};
use dividing_core::tables::{TableColumns, indexing_table};
use dividing_core::work::{Continue, Meter};
use dividing_core::{Angle, ErrorKind, Workshop};
use num_rational::Ratio;
use serde_json::json;

type Fraction = Ratio<i128>;

const GEARS: [u32; 12] = [24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100];

fn head(ratio: &str, plates: &[&[u32]], gears: &[u32]) -> WormHead {
    let plates: Vec<_> = plates
        .iter()
        .enumerate()
        .map(|(index, circles)| json!({"name": format!("plate {index}"), "circles": circles}))
        .collect();
    let mut head: WormHead =
        serde_json::from_value(json!({"name": "head", "worm_ratio": ratio, "plates": plates}))
            .unwrap();
    if !gears.is_empty() {
        head.change_gears = Some(ChangeGears::new(GearSet::new(gears).unwrap()));
    }
    head
}

fn three_plates() -> WormHead {
    head(
        "40",
        &[
            &[15, 16, 17, 18, 19, 20],
            &[21, 23, 27, 29, 31, 33],
            &[37, 39, 41, 43, 47, 49],
        ],
        &GEARS,
    )
}

fn part(numerator: i128, denominator: i128) -> Angle {
    Angle::new(numerator, denominator).unwrap()
}

fn fraction(angle: Angle) -> Fraction {
    Fraction::new(angle.numerator(), angle.denominator())
}

/// A worm head in motion: a crank on a worm, a plate that gears turn, a pin.
///
/// Everything stands in turns from the start, seen from the crank. Nothing here
/// knows how a setting is found.
struct HeadInMotion {
    worm_ratio: Fraction,
    /// Turns of the plate for one of the spindle.
    plate_ratio: Fraction,
    crank: Fraction,
}

impl HeadInMotion {
    /// A head whose gears are walked one by one from the spindle, each mesh
    /// turning the other way. An even number of meshes turns the plate with the
    /// crank, by the common convention; a reversed head the other way.
    fn geared(
        worm_ratio: Fraction,
        train: &Train,
        idlers: u32,
        fixed: Fraction,
        reversed: bool,
    ) -> Self {
        let mut turns = Fraction::from_integer(1);
        for (driver, driven) in train.drivers().iter().zip(train.driven()) {
            turns = -turns * Fraction::new((*driver).into(), (*driven).into());
        }
        for _ in 0..idlers {
            turns = -turns;
        }
        if reversed {
            turns = -turns;
        }
        Self {
            worm_ratio,
            plate_ratio: turns * fixed,
            crank: Fraction::from_integer(0),
        }
    }

    fn spindle(&self) -> Fraction {
        self.crank / self.worm_ratio
    }

    fn plate(&self) -> Fraction {
        self.spindle() * self.plate_ratio
    }

    /// Where the pin stands over the plate.
    fn pin_on_plate(&self) -> Fraction {
        self.crank - self.plate()
    }

    /// Turns the crank on until the pin stands over the next hole.
    fn turn_to_next_hole(&mut self, circle: u32) {
        let wanted = self.pin_on_plate() + Fraction::new(1, circle.into());
        // While the crank turns by x the plate turns by some part of x: two
        // trial positions give that part.
        let from = self.pin_on_plate();
        let trial = Self {
            crank: self.crank + 1,
            ..*self
        };
        let for_one_turn = trial.pin_on_plate() - from;
        self.crank += (wanted - from) / for_one_turn;
        assert_eq!(self.pin_on_plate(), wanted);
    }
}

/// Steps a differential set-up round the part and back to the start.
fn step_round(head: &WormHead, setting: &DifferentialSetting, step: Angle) {
    let gears = head.change_gears.as_ref().unwrap();
    let ratio = Fraction::new(head.worm_ratio.numerator(), head.worm_ratio.denominator());
    let fixed = Fraction::new(
        gears.fixed_gearing.numerator(),
        gears.fixed_gearing.denominator(),
    );
    let reversed = gears.idlers == dividing_core::equipment::IdlerConvention::Reversed;
    let idlers = setting.idlers;
    let mut motion = HeadInMotion::geared(ratio, &setting.train, idlers, fixed, reversed);
    let moves = step.denominator();
    let spaces = setting.turns * i128::from(setting.place.holes) + i128::from(setting.holes);
    for done in 1..=moves {
        for _ in 0..spaces {
            motion.turn_to_next_hole(setting.place.holes);
        }
        assert_eq!(motion.spindle(), fraction(step) * done, "{setting:?}");
    }
    // Closed: the spindle has made its whole turns.
    assert_eq!(motion.spindle().to_integer(), step.numerator());
    assert!(motion.spindle().is_integer());
    // The plate has turned as the setting says, the way it says.
    assert_eq!(
        motion.plate(),
        fraction(setting.plate_turns) * step.numerator()
    );
    assert_eq!(
        motion.plate() > Fraction::from_integer(0),
        setting.sense == PlateSense::WithCrank
    );
    // One idler more or less turns it the wrong way and misses by what is said.
    let mut wrong = HeadInMotion::geared(ratio, &setting.train, idlers + 1, fixed, reversed);
    match setting.wrong_sense_closing {
        None => assert_eq!(wrong.plate_ratio, ratio),
        Some(closing) => {
            for _ in 0..spaces * moves {
                wrong.turn_to_next_hole(setting.place.holes);
            }
            assert_eq!(wrong.spindle() - step.numerator(), fraction(closing));
        }
    }
}

#[test]
fn differential_set_ups_close_when_they_are_stepped() {
    let head = three_plates();
    let meter = &mut Meter::default();
    let reach = DifferentialReach::new(&head, meter).unwrap();
    for divisions in [51, 57, 59, 101, 127, 139, 233, 271, 319, 347, 382] {
        let step = part(1, divisions);
        let found = reach.settings(step, meter).unwrap();
        assert!(!found.settings.is_empty(), "{divisions}");
        for setting in found.settings.iter().take(6) {
            step_round(&head, setting, step);
        }
    }
    // Several divisions a move.
    for (k, divisions) in [(2, 127), (3, 61), (5, 383)] {
        let found = reach.settings(part(k, divisions), meter).unwrap();
        for setting in found.settings.iter().take(4) {
            step_round(&head, setting, part(k, divisions));
        }
    }
}

#[test]
fn other_heads_close_as_well() {
    let mut fixed = head("81/2", &[&[12, 15, 18]], &[20, 24, 30, 36, 48, 50, 60, 72]);
    let meter = &mut Meter::default();
    for (gearing, convention, pairs) in [
        ("1", "common_handbook", 2),
        ("1/2", "reversed", 1),
        ("3/4", "reversed", 3),
    ] {
        let gears = fixed.change_gears.as_mut().unwrap();
        gears.fixed_gearing = gearing.parse().unwrap();
        gears.idlers = serde_json::from_value(json!(convention)).unwrap();
        gears.most_pairs = pairs;
        let mut stepped = 0;
        for divisions in 2..=60 {
            let step = part(1, divisions);
            let found = find_differential(&fixed, step, 3, meter).unwrap();
            for setting in &found.settings {
                step_round(&fixed, setting, step);
                stepped += 1;
            }
        }
        assert!(stepped > 20, "{gearing}: {stepped}");
    }
}

#[test]
fn differential_settings_are_those_of_brute_force() {
    // Every train by hand: every ordered choice of two or four of the gears.
    let gears = [20_u16, 20, 24, 30, 50];
    let head = head("5", &[&[6, 10], &[7]], &gears.map(u32::from));
    let mut ratios: BTreeSet<Fraction> = BTreeSet::new();
    let count = gears.len();
    let ratio = |above: &[usize], below: &[usize]| {
        let side = |side: &[usize]| side.iter().map(|&it| i128::from(gears[it])).product();
        Fraction::new(side(above), side(below))
    };
    for a in 0..count {
        for b in (0..count).filter(|b| *b != a) {
            ratios.insert(ratio(&[a], &[b]));
            for c in (0..count).filter(|c| ![a, b].contains(c)) {
                for d in (0..count).filter(|d| ![a, b, c].contains(d)) {
                    ratios.insert(ratio(&[a, c], &[b, d]));
                }
            }
        }
    }
    let meter = &mut Meter::default();
    let reach = DifferentialReach::new(&head, meter).unwrap();
    for divisions in 2..=40_i128 {
        for k in [1, 3] {
            let step = part(k, divisions);
            let mut wanted = BTreeSet::new();
            for circle in [6_u32, 7, 10] {
                for spaces in 1..=2000_i128 {
                    let travel = Fraction::new(spaces, circle.into());
                    let plate = Fraction::from_integer(5) - travel / fraction(step);
                    let size = if plate < 0.into() { -plate } else { plate };
                    if ratios.contains(&size) {
                        wanted.insert((circle, spaces, plate));
                    }
                }
            }
            let found: BTreeSet<_> = reach
                .settings(step, meter)
                .unwrap()
                .settings
                .iter()
                .map(|it| (it.place.holes, it.spaces(), fraction(it.plate_turns)))
                .collect();
            assert_eq!(found, wanted, "{k}/{divisions}");
        }
    }
}

#[test]
fn one_question_and_many_give_the_same_settings() {
    let mut head = three_plates();
    head.change_gears.as_mut().unwrap().mesh = MeshRule::Clear {
        allowance_teeth: 10,
    };
    let meter = &mut Meter::new(u64::MAX);
    let reach = DifferentialReach::new(&head, meter).unwrap();
    for divisions in (2..=400).step_by(7).chain([127, 383, 1009, 2160]) {
        let step = part(1, divisions);
        let many = reach.settings(step, meter).unwrap();
        let one = find_differential(&head, step, usize::MAX, meter).unwrap();
        assert_eq!(many, one, "{divisions}");
        assert!(many.complete);
        assert_eq!(
            reach.best(step, meter).unwrap(),
            many.settings.first().copied()
        );
    }
}

/// The numbers that handbooks list for compound indexing beside the three plates
/// (common list of the older handbooks, from memory): crank and plate are moved
/// step by step as exact fractions, to every division and to the closing.
#[test]
fn the_listed_compound_numbers_close_when_they_are_stepped() {
    let reach = WormReach::new(&three_plates()).unwrap();
    let meter = &mut Meter::default();
    for divisions in [51_i128, 57, 69, 77, 87, 91, 93, 99] {
        let step = part(1, divisions);
        let none = reach.simple(step, SimpleOrder::Handbook).unwrap();
        assert!(none.is_empty(), "{divisions} needs two circles");
        let found = reach.compound(step, None, meter).unwrap();
        assert!(found.complete && !found.settings.is_empty(), "{divisions}");
        for it in &found.settings {
            let mut crank = Fraction::from_integer(0);
            for division in 1..=divisions {
                crank += Fraction::from_integer(it.whole_turns);
                for term in [it.first, it.second] {
                    assert!(term.holes != 0 && term.holes.unsigned_abs() < term.circle.into());
                    crank += Fraction::new(term.holes.into(), term.circle.into());
                }
                assert_eq!(crank / 40, Fraction::new(division, divisions), "{it:?}");
            }
        }
    }
}

#[test]
fn compound_settings_are_those_of_brute_force() {
    for (ratio, plates) in [
        ("40", vec![&[15_u32, 18, 20][..], &[21, 24]]),
        ("81/2", vec![&[6, 9, 10, 16][..]]),
        ("1/3", vec![&[4, 6, 8][..]]),
    ] {
        let head = head(ratio, &plates, &[]);
        let reach = WormReach::new(&head).unwrap();
        for divisions in 2..=48_i128 {
            let step = part(1, divisions);
            let wanted = fraction(reach.crank_turns(step).unwrap());
            let mut all = BTreeSet::new();
            for (plate, circles) in plates.iter().enumerate() {
                for (a, &c1) in circles.iter().enumerate() {
                    for &c2 in &circles[a + 1..] {
                        let (c1, c2) = (i128::from(c1), i128::from(c2));
                        for h1 in (1 - c1..c1).filter(|it| *it != 0) {
                            for h2 in (1 - c2..c2).filter(|it| *it != 0) {
                                let turns = wanted - Fraction::new(h1, c1) - Fraction::new(h2, c2);
                                if turns.is_integer() {
                                    all.insert((plate, turns.to_integer(), c1, h1, c2, h2));
                                }
                            }
                        }
                    }
                }
            }
            let meter = &mut Meter::default();
            let found = reach.compound(step, None, meter).unwrap();
            let key = |it: &CompoundSetting| {
                (
                    it.plate,
                    it.whole_turns,
                    i128::from(it.first.circle),
                    i128::from(it.first.holes),
                    i128::from(it.second.circle),
                    i128::from(it.second.holes),
                )
            };
            let listed: BTreeSet<_> = found.settings.iter().map(key).collect();
            assert_eq!(listed.len(), found.settings.len());
            assert_eq!(listed, all, "{ratio}, {divisions}");
            // Least movement first, then least travel.
            for pair in found.settings.windows(2) {
                let rank = |it: &CompoundSetting| (it.holes(), it.travel().unwrap());
                assert!(rank(&pair[0]) <= rank(&pair[1]));
            }
            // Within stated whole turns.
            let few = reach.compound(step, Some(1), meter).unwrap();
            let within = found.settings.iter().filter(|it| it.whole_turns.abs() <= 1);
            assert!(few.settings.iter().eq(within));
        }
    }
}

/// One question to the gears and the list of all ratios are two roads to the same
/// move, ties and the train shown included.
#[test]
fn one_question_finds_the_nearest_of_the_list() {
    let meter = &mut Meter::new(u64::MAX);
    let all = three_plates();
    let mut meshing = three_plates();
    let gears = meshing.change_gears.as_mut().unwrap();
    gears.mesh = MeshRule::Clear {
        allowance_teeth: 15,
    };
    let mut fixed = head("81/2", &[&[13, 20], &[31]], &[20, 24, 30, 50, 50, 100]);
    fixed.change_gears.as_mut().unwrap().fixed_gearing = "2/3".parse().unwrap();
    let few = head("5", &[&[6, 10]], &[20, 24]);
    let three_pairs = |mut head: WormHead| {
        head.change_gears.as_mut().unwrap().most_pairs = 3;
        head
    };
    let slow = three_pairs(head("3", &[&[7, 12]], &[20, 24, 30, 36, 55, 60, 100]));
    for head in [all, meshing, fixed, few, slow] {
        let list = DifferentialReach::new(&head, meter).unwrap();
        for (above, below) in [
            (1, 383),
            (1, 2),
            (1, 7),
            (1, 127),
            (1, 1009),
            (1, 9973),
            (5, 383),
            (113, 719),
            (123_457, 999_983),
            (9, 8),
        ] {
            let step = part(above, below);
            let listed = list.nearest(step, meter).unwrap();
            let asked = find_nearest_differential(&head, step, meter).unwrap();
            assert_eq!(asked, listed, "{above}/{below}");
            assert!(asked.complete);
        }
    }
}

#[test]
fn nearest_moves_are_those_of_brute_force() {
    let head = head("5", &[&[6, 10], &[7, 9]], &[20, 24, 30, 50]);
    let meter = &mut Meter::default();
    let reach = WormReach::new(&head).unwrap();
    let geared = DifferentialReach::new(&head, meter).unwrap();
    // Every row of two or four different gears, driver, driven and so on.
    let owned = [20_i128, 24, 30, 50];
    let mut trains = Vec::new();
    for a in 0..4 {
        for b in (0..4).filter(|b| *b != a) {
            trains.push((owned[a], owned[b]));
            for c in (0..4).filter(|c| ![a, b].contains(c)) {
                let d = 6 - a - b - c;
                trains.push((owned[a] * owned[c], owned[b] * owned[d]));
            }
        }
    }
    for divisions in 2..=60_i128 {
        let step = part(1, divisions);
        let wanted = fraction(step);
        let off = |made: Fraction| {
            let off = made - wanted;
            if off < 0.into() { -off } else { off }
        };
        let simple = [6, 7, 9, 10]
            .into_iter()
            .flat_map(|circle| (0..60).map(move |spaces| Fraction::new(spaces, 5 * circle)))
            .map(off)
            .min();
        let nearest = reach.nearest_simple(step).unwrap();
        assert_eq!(Some(off(fraction(nearest.made))), simple);
        let compound = [(6, 10), (7, 9)]
            .into_iter()
            .flat_map(|(c1, c2)| {
                (1 - c1..c1).flat_map(move |h1| {
                    (1 - c2..c2)
                        .flat_map(move |h2| (-1..=4).map(move |turns| (turns, h1, c1, h2, c2)))
                })
            })
            .filter(|&(_, h1, _, h2, _)| h1 != 0 && h2 != 0)
            .map(|(turns, h1, c1, h2, c2)| {
                off(
                    (Fraction::from_integer(turns) + Fraction::new(h1, c1) + Fraction::new(h2, c2))
                        / 5,
                )
            })
            .min();
        let nearest = reach.nearest_compound(step, meter).unwrap();
        assert_eq!(Some(off(fraction(nearest.made))), compound, "{divisions}");
        // Of differential moves none of the exact ones is missed, and the nearest
        // is that of all trains, circles and holes tried.
        let nearest = geared.nearest(step, meter).unwrap();
        let exact = geared.best(step, meter).unwrap();
        assert_eq!(exact.is_some(), nearest.made == step, "{divisions}");
        let mut least: Option<Fraction> = None;
        for &(above, below) in &trains {
            for sense in [1, -1] {
                let crank = Fraction::from_integer(5) - Fraction::new(sense * above, below);
                if crank <= 0.into() {
                    continue;
                }
                for circle in [6, 7, 9, 10] {
                    for spaces in 1..80 {
                        let made = Fraction::new(spaces, circle) / crank;
                        least = Some(least.map_or(off(made), |it| it.min(off(made))));
                    }
                }
            }
        }
        assert_eq!(Some(off(fraction(nearest.made))), least, "{divisions}");
        // Asked once, without the list of all ratios: the same move.
        let once = find_nearest_differential(&head, step, meter).unwrap();
        assert_eq!(once, nearest, "{divisions}");
    }
}

#[test]
fn tables_say_what_single_questions_say() {
    for (ratio, gears) in [
        ("40", &GEARS[..]),
        ("81/2", &[20, 24, 30, 36, 48]),
        ("9/4", &[]),
    ] {
        let head = head(ratio, &[&[15, 16, 18, 20], &[21, 24, 33]], gears);
        let document = json!({"format": 1, "name": "w", "equipment": [
            {"worm_head": serde_json::to_value(&head).unwrap()}]});
        let workshop = Workshop::from_json(&document.to_string()).unwrap();
        let meter = &mut Meter::new(u64::MAX);
        let (first, last) = (3_u32, 900_u32);
        let table = indexing_table(&workshop, first, last, meter).unwrap();
        let exact = dividing_core::tables::exact_table(&workshop, first, last, meter).unwrap();
        assert!(table.complete && exact.complete);
        assert_eq!(table.sections.len(), exact.sections.len());
        for (section, flags) in table.sections.iter().zip(&exact.sections) {
            assert_eq!(section.columns.method(), flags.method);
            assert_eq!(
                section.columns.exact(),
                flags.exact,
                "{ratio} {:?}",
                flags.method
            );
        }
        let reach = WormReach::new(&head).unwrap();
        let geared = (!gears.is_empty()).then(|| DifferentialReach::new(&head, meter).unwrap());
        for (row, divisions) in (first..=last).enumerate() {
            let step = part(1, divisions.into());
            for section in &table.sections {
                match &section.columns {
                    TableColumns::Simple(it) => {
                        let listed = reach.simple(step, SimpleOrder::Handbook).unwrap();
                        let best = reach.simple_division(divisions);
                        assert_eq!(best, listed.first().copied());
                        assert_eq!(it.exact[row] == 1, best.is_some());
                        if let Some(best) = best {
                            assert_eq!(it.circle[row], best.place.holes);
                            assert_eq!(i128::from(it.turns[row]), best.turns);
                            assert_eq!(it.holes[row], best.holes);
                            assert_eq!(it.residual_turns[row], 0.0);
                        } else {
                            // With a fraction in the ratio settings may be exact
                            // that take more than one turn of the spindle a move.
                            let whole = head.worm_ratio.denominator() == 1;
                            assert!(it.residual_turns[row] > 0.0 || !whole);
                            let made = Fraction::new(it.turns[row].into(), 1)
                                + Fraction::new(it.holes[row].into(), it.circle[row].into());
                            let ratio = Fraction::new(
                                head.worm_ratio.numerator(),
                                head.worm_ratio.denominator(),
                            );
                            let closing = made / ratio * i128::from(divisions) - 1;
                            let closing = part(*closing.numer(), *closing.denom());
                            // Both are one rounded quotient of whole numbers.
                            let off = closing.to_turns_f64() - it.closing_turns[row];
                            assert!(off.abs() < 1e-15, "{divisions}");
                        }
                    }
                    TableColumns::Compound(it) => {
                        let best = reach.compound(step, None, meter).unwrap().settings;
                        let best = best.first();
                        assert_eq!(it.exact[row] == 1, best.is_some());
                        if let Some(best) = best {
                            assert_eq!(i128::from(it.whole_turns[row]), best.whole_turns);
                            assert_eq!(i64::from(it.first_holes[row]), best.first.holes);
                            assert_eq!(i64::from(it.second_holes[row]), best.second.holes);
                            assert_eq!(it.second_circle[row], best.second.circle);
                        }
                    }
                    TableColumns::Differential(it) => {
                        let best = geared.as_ref().unwrap().best(step, meter).unwrap();
                        assert_eq!(it.exact[row] == 1, best.is_some());
                        if let Some(best) = best {
                            assert_eq!(i128::from(it.turns[row]), best.turns);
                            assert_eq!(it.holes[row], best.holes);
                            assert_eq!(it.circle[row], best.place.holes);
                            assert_eq!(
                                it.against[row] == 1,
                                best.sense == PlateSense::AgainstCrank
                            );
                            assert_eq!(u32::from(it.idlers[row]), best.idlers);
                            assert_eq!(it.drivers[0][row], best.train.drivers()[0]);
                        }
                    }
                    other => panic!("{other:?}"),
                }
            }
        }
    }
}

#[test]
fn the_nearest_circle_of_a_table_is_the_best_of_all() {
    let head = head("40", &[&[15, 16, 18, 20]], &[]);
    let document = json!({"format": 1, "name": "w", "equipment": [
        {"worm_head": serde_json::to_value(&head).unwrap()}]});
    let workshop = Workshop::from_json(&document.to_string()).unwrap();
    let meter = &mut Meter::default();
    let table = indexing_table(&workshop, 2, 200, meter).unwrap();
    let TableColumns::Simple(simple) = &table.sections[0].columns else {
        panic!()
    };
    for divisions in [7_u32, 33, 47, 61, 96, 127, 199] {
        // The plan's own search over every circle, start free.
        let job = json!({"format": 1, "name": "j",
            "features": {"equal_divisions": {"count": divisions}}});
        let job = dividing_core::Job::from_json(&job.to_string()).unwrap();
        let plans = dividing_core::plan_job(&workshop, &job).unwrap();
        let plan = plans
            .plans()
            .iter()
            .find(|it| matches!(it.way, dividing_core::reach::WayKind::SimpleIndexing { .. }))
            .unwrap();
        let row = (divisions - 2) as usize;
        let off = plan.largest_residual.to_turns_f64() - simple.residual_turns[row];
        assert!(off.abs() < 1e-15, "{divisions}");
    }
}

#[test]
fn nothing_overflows_at_the_limits() {
    let circles: Vec<u32> = vec![997, 998, 999, 1000];
    let mut large = head("1000", &[&circles], &[20, 24, 30, 36, 40, 127, 997]);
    large.change_gears.as_mut().unwrap().most_pairs = 2;
    let meter = &mut Meter::new(u64::MAX);
    let reach = WormReach::new(&large).unwrap();
    let geared = DifferentialReach::new(&large, meter).unwrap();
    for step in [
        part(1, 999_999_999_989),
        part(123_456_789_011, 999_999_999_989),
        part(1, 1_000_000_000_000),
        part(999_983, 1_000_000),
        part(7, 1),
    ] {
        reach.simple(step, SimpleOrder::Handbook).unwrap();
        reach.nearest_simple(step).unwrap();
        let found = reach.compound(step, None, meter).unwrap();
        assert!(found.complete);
        reach.nearest_compound(step, meter).unwrap();
        geared.settings(step, meter).unwrap();
        geared.nearest(step, meter).unwrap();
    }
    // Terms at the end of what an angle holds: an answer or an error, no panic.
    for step in [
        part(1, dividing_core::angle::MAX_TERM),
        part(dividing_core::angle::MAX_TERM, 1),
        part(
            dividing_core::angle::MAX_TERM - 1,
            dividing_core::angle::MAX_TERM,
        ),
    ] {
        let _ = reach.simple(step, SimpleOrder::FewestHoles);
        let _ = reach.nearest_simple(step);
        let _ = reach.compound(step, None, meter);
        let _ = reach.nearest_compound(step, meter);
        let _ = geared.settings(step, meter);
        let _ = geared.nearest(step, meter);
        let _ = find_differential(&large, step, 3, &mut Meter::new(1_000_000));
        let _ = find_nearest_differential(&large, step, &mut Meter::new(1_000_000));
    }
    for bad in [Angle::ZERO, part(-1, 9)] {
        let error = reach.simple(bad, SimpleOrder::Handbook).unwrap_err();
        assert_eq!(
            (error.kind(), error.field()),
            (ErrorKind::OutOfRange, "step")
        );
        assert!(geared.settings(bad, meter).is_err());
    }
    // The largest head that a document may hold.
    let largest = head("100000", &[&[99_999, 100_000]], &[1, 999, 1000]);
    let workshop = json!({"format": 1, "name": "w", "equipment": [
        {"worm_head": serde_json::to_value(&largest).unwrap()}]});
    let workshop = Workshop::from_json(&workshop.to_string()).unwrap();
    let table = indexing_table(&workshop, 1, 500, &mut Meter::new(u64::MAX)).unwrap();
    assert!(table.complete);
}

#[test]
fn budgets_and_cancel_leave_what_was_found() {
    let head = three_plates();
    let workshop = json!({"format": 1, "name": "w", "equipment": [
        {"worm_head": serde_json::to_value(&head).unwrap()}]});
    let workshop = Workshop::from_json(&workshop.to_string()).unwrap();
    let whole = indexing_table(&workshop, 2, 3000, &mut Meter::new(u64::MAX)).unwrap();
    for limit in [0, 100, 10_000, 20_000, 100_000] {
        let cut = indexing_table(&workshop, 2, 3000, &mut Meter::new(limit)).unwrap();
        assert!(!cut.complete || cut == whole, "{limit}");
        // What is marked exact is.
        for (section, full) in cut.sections.iter().zip(&whole.sections) {
            let pairs = section.columns.exact().iter().zip(full.columns.exact());
            assert!(pairs.into_iter().all(|(cut, full)| cut <= full));
        }
    }
    let mut asked = 0;
    let mut watcher = |_| {
        asked += 1;
        Continue::No
    };
    let mut meter = Meter::watched(u64::MAX, &mut watcher);
    let cut = indexing_table(&workshop, 2, 1_000_000, &mut meter).unwrap();
    assert!(!cut.complete);
    assert_eq!(asked, 1);
    let step = part(1, 127);
    let error = find_differential(&head, step, 1, &mut Meter::new(3)).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::WorkLimit);
    let reach = WormReach::new(&head).unwrap();
    let few = reach
        .compound(part(1, 69), None, &mut Meter::new(20))
        .unwrap();
    assert!(!few.complete);
    for range in [(0, 5), (5, 4), (2, 1_000_001)] {
        let error = indexing_table(&workshop, range.0, range.1, &mut Meter::default());
        assert_eq!(error.unwrap_err().kind(), ErrorKind::OutOfRange);
    }
}
