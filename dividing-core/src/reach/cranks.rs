//! What worm heads hold by simple, compound and differential indexing, and dials
//! by their graduations.

use std::collections::BTreeSet;

use num_integer::Integer;

use super::orientation_set::{Coset, OrientationSet};
use super::setting::Setting;
use super::way::{StepsNeeded, Way, WayKind, WayMaker, moves_to, multiple_of};
use super::worm::{
    CompoundSetting, DifferentialSetting, WormReach, find_differential, find_nearest_differential,
};
use crate::angle::{Angle, MAX_TERM};
use crate::equipment::{Equipment, GraduatedDial, PlateCircle, Workshop, WormHead, WormRatio};
use crate::error::{Error, ErrorKind, Result};
use crate::work::Meter;

/// The angle of one hole space or graduation, `1/(R·steps)`.
fn step(ratio: WormRatio, steps: u32) -> Result<Angle> {
    Angle::new(ratio.denominator(), ratio.numerator() * i128::from(steps))
}

/// How many steps from zero present an angle, as few as possible, if any do.
///
/// With the step p/q in lowest terms the multiples fill `<1/q>`; k steps are at
/// m/q when `k·p ≡ m (mod q)`.
fn steps_to(step: Angle, presented: Angle) -> Result<Option<i128>> {
    let (p, q) = (step.numerator(), step.denominator());
    let Some(multiple) = multiple_of(presented, q)? else {
        return Ok(None);
    };
    let inverse = p.extended_gcd(&q).x;
    let steps = multiple
        .checked_mul(Integer::mod_floor(&inverse, &q))
        .ok_or_else(|| Error::overflow("a count of hole spaces"))?;
    Ok(Some(steps % q))
}

pub(super) fn simple_ways(head: &WormHead, maker: WayMaker, all: &mut Vec<Way>) -> Result<()> {
    for plate in 0..head.plates.len() {
        for back in [false, true] {
            for (circle, it) in head
                .side(plate, back)
                .unwrap_or_default()
                .iter()
                .enumerate()
            {
                let order = step(head.worm_ratio, it.holes)?.denominator();
                let kind = WayKind::SimpleIndexing {
                    plate,
                    back,
                    circle,
                };
                let (set, zero) = if it.absent.is_empty() {
                    (OrientationSet::equally_spaced(order)?, Angle::ZERO)
                } else {
                    held_by_some(head.worm_ratio, it)?
                };
                let cost = 1 + it.absent.len() as u64;
                all.push(maker.way(kind, set, zero, order).costing(cost));
            }
        }
    }
    Ok(())
}

/// What a circle that lacks holes presents, and what its first hole does.
///
/// A hole is met again after every whole turn of the crank, `1/R` of the spindle;
/// those turns fill `<1/p>` where R is p/q in lowest terms.
fn held_by_some(ratio: WormRatio, circle: &PlateCircle) -> Result<(OrientationSet, Angle)> {
    let step = step(ratio, circle.holes)?;
    let absent: BTreeSet<u32> = circle.absent.iter().copied().collect();
    let present = (0..circle.holes).filter(|hole| !absent.contains(hole));
    let presented = present
        .map(|hole| Ok(step.checked_mul(i128::from(hole))?.within_turn()))
        .collect::<Result<Vec<Angle>>>()?;
    let first = presented.first().copied().unwrap_or_default();
    let cosets = presented
        .into_iter()
        .map(|angle| Coset::new(angle, ratio.numerator()))
        .collect::<Result<Vec<Coset>>>()?;
    Ok((OrientationSet::from_cosets(cosets)?, first))
}

/// The first count of spaces that presents the same angle and ends in a hole.
///
/// After `order` spaces the spindle stands where it stood, but with a fractional
/// ratio the pin may be over another place.
fn spaces_to_a_hole(circle: &PlateCircle, spaces: i128, order: i128) -> Option<i128> {
    let holes = i128::from(circle.holes);
    let rounds = holes / holes.gcd(&order).max(1);
    (0..rounds)
        .map(|round| spaces + round * order)
        .find(|spaces| {
            u32::try_from(spaces % holes).is_ok_and(|hole| !circle.absent.contains(&hole))
        })
}

pub(super) fn crank(
    head: &WormHead,
    plate: usize,
    back: bool,
    circle: usize,
    presented: Angle,
) -> Result<Option<Setting>> {
    let Some(it) = head
        .side(plate, back)
        .and_then(|circles| circles.get(circle))
    else {
        return Ok(None);
    };
    let step = step(head.worm_ratio, it.holes)?;
    let spaces = steps_to(step, presented)?
        .and_then(|spaces| spaces_to_a_hole(it, spaces, step.denominator()));
    Ok(spaces.map(|spaces| {
        let (turns, hole) = spaces.div_rem(&i128::from(it.holes));
        Setting::Crank {
            plate,
            back,
            circle: it.holes,
            turns,
            hole: u32::try_from(hole).unwrap_or(0),
        }
    }))
}

/// Most set-ups of one method that are offered for a job.
const MOST_SET_UPS: usize = 4;

/// The best compound and differential set-ups of a head for a job, each method's
/// best first, all of them exact.
pub(super) fn method_ways(
    head: &WormHead,
    needs: StepsNeeded,
    maker: WayMaker,
    all: &mut Vec<Way>,
    meter: &mut Meter<'_>,
) -> Result<()> {
    let Some(divisions) = needs.divisions else {
        return Ok(());
    };
    let step = Angle::new(1, divisions)?;
    // Moves of compound indexing are repeated, so only for features one by one.
    if needs.one_by_one
        && let Some(found) = fitting(WormReach::new(head)?.compound(step, None, meter))?
    {
        compound_ways(head, (1, divisions), found.settings, maker, all)?;
        if !found.complete {
            // The meter says why: its limit, or its watcher.
            meter.spend(0)?;
        }
    }
    if head.change_gears.is_none() {
        return Ok(());
    }
    let found = fitting(find_differential(head, step, MOST_SET_UPS, meter))?;
    if found
        .as_ref()
        .is_some_and(|it| !it.complete && it.settings.len() < MOST_SET_UPS)
    {
        meter.leave_out(
            "differential indexing: the gears and circles offer more plate motions than were \
             asked for"
                .into(),
        );
    }
    for setting in found.map(|it| it.settings).unwrap_or_default() {
        differential_way((1, divisions), &setting, maker, all)?;
    }
    Ok(())
}

fn differential_way(
    (divisions_a_move, divisions): (i128, i128),
    setting: &DifferentialSetting,
    maker: WayMaker,
    all: &mut Vec<Way>,
) -> Result<()> {
    let spaces = setting.spaces();
    let order = divisions.checked_mul(spaces);
    // With a common factor fewer divisions a move would do.
    let fits = |order: &i128| *order <= MAX_TERM && order.gcd(&divisions_a_move) == 1;
    let Some(order) = order.filter(fits) else {
        return Ok(());
    };
    let kind = WayKind::DifferentialIndexing {
        plate: setting.place.plate,
        back: setting.place.back,
        circle: setting.place.circle,
        divisions,
        divisions_a_move,
        spaces,
        train: setting.train,
        plate_sense: setting.sense,
    };
    let set = OrientationSet::equally_spaced(order)?;
    all.push(maker.way(kind, set, Angle::ZERO, order));
    Ok(())
}

/// Steps that asking the change gears for the nearest may take.
const MOST_STEPS_OF_NEAREST: u64 = 20_000_000;

/// Most divisions that one move of differential indexing makes.
const MOST_DIVISIONS_BY_GEARS: i128 = 7;

/// Most divisions that one nearest move of compound indexing makes.
const MOST_DIVISIONS_BY_CIRCLES: i128 = 50;

/// Numbers of divisions that one move may make: prime to their number, and at
/// most half of them, for the others are the same moves the other way round. More
/// than one only round the whole turn, since they visit all of it.
fn divisions_a_move(needs: StepsNeeded, divisions: i128, most: i128) -> impl Iterator<Item = i128> {
    let most = if needs.whole_turn { most } else { 1 };
    (1..=most.min(divisions / 2).max(1)).filter(move |k| k.gcd(&divisions) == 1)
}

/// The best exact set-ups of differential indexing with several divisions a move,
/// as few as there must be, for a head that is not exact with one.
///
/// With k divisions a move the plate must turn `R − N·t/k`: more motions, of which
/// the gears may make one.
pub(super) fn ways_of_several_divisions(
    head: &WormHead,
    needs: StepsNeeded,
    maker: WayMaker,
    all: &mut Vec<Way>,
    meter: &mut Meter<'_>,
) -> Result<()> {
    let Some(divisions) = needs.divisions.filter(|_| head.change_gears.is_some()) else {
        return Ok(());
    };
    let before = all.len();
    for k in divisions_a_move(needs, divisions, MOST_DIVISIONS_BY_GEARS).skip(1) {
        let step = Angle::new(k, divisions)?;
        let found = meter.within(MOST_STEPS_OF_NEAREST, |part| {
            find_differential(head, step, MOST_SET_UPS, part)
        });
        match fitting(found) {
            Ok(found) => {
                for setting in found.map(|it| it.settings).unwrap_or_default() {
                    differential_way((k, divisions), &setting, maker, all)?;
                }
            }
            Err(error) if error.kind() == ErrorKind::WorkLimit => leave_out_trains(meter),
            Err(error) => return Err(error),
        }
        if all.len() > before {
            break;
        }
    }
    Ok(())
}

/// The nearest move of compound and of differential indexing, each to be
/// repeated, for a head on which none is exact: of moves of one division or
/// several the one that is least off, and of those alike the one of the fewest.
pub(super) fn nearest_ways(
    head: &WormHead,
    needs: StepsNeeded,
    maker: WayMaker,
    all: &mut Vec<Way>,
    meter: &mut Meter<'_>,
) -> Result<()> {
    let Some(divisions) = needs
        .divisions
        .filter(|_| needs.one_by_one && !needs.begins_elsewhere)
    else {
        return Ok(());
    };
    let worm = WormReach::new(head)?;
    let mut best = None;
    for k in divisions_a_move(needs, divisions, MOST_DIVISIONS_BY_CIRCLES) {
        let nearest = worm.nearest_compound(Angle::new(k, divisions)?, meter);
        let Some(found) = fitting(nearest)? else {
            break;
        };
        keep_nearer(&mut best, k, found.error.per_move, found);
    }
    if let Some((k, _, found)) = best {
        let before = all.len();
        compound_ways(head, (k, divisions), vec![found.setting], maker, all)?;
        repeating(all, before, found.made)?;
    }
    if head.change_gears.is_none() {
        return Ok(());
    }
    let mut best = None;
    for k in divisions_a_move(needs, divisions, MOST_DIVISIONS_BY_GEARS) {
        let step = Angle::new(k, divisions)?;
        let nearest = meter.within(MOST_STEPS_OF_NEAREST, |part| {
            find_nearest_differential(head, step, part)
        });
        match fitting(nearest) {
            Ok(None) => {}
            Ok(Some(found)) => {
                if !found.complete {
                    leave_out_trains(meter);
                }
                // A common factor would make it a move of fewer divisions.
                if found.setting.spaces().gcd(&k) == 1 {
                    keep_nearer(&mut best, k, found.error.per_move, found);
                }
            }
            Err(error) if error.kind() == ErrorKind::WorkLimit => leave_out_trains(meter),
            Err(error) => return Err(error),
        }
    }
    if let Some((k, _, found)) = best {
        let before = all.len();
        differential_way((k, divisions), &found.setting, maker, all)?;
        repeating(all, before, found.made)?;
    }
    Ok(())
}

/// Keeps what is off by less than the best so far.
fn keep_nearer<T>(best: &mut Option<(i128, Angle, T)>, k: i128, per_move: Angle, found: T) {
    let off = per_move.abs();
    if best.as_ref().is_none_or(|(_, least, _)| off < *least) {
        *best = Some((k, off, found));
    }
}

fn leave_out_trains(meter: &mut Meter<'_>) {
    let what = "differential indexing: not every train of the gears was looked at for the nearest";
    meter.leave_out(what.into());
}

/// Says of the ways from a place on that their move is not exact and repeated.
fn repeating(all: &mut [Way], from: usize, made: Angle) -> Result<()> {
    for way in all.iter_mut().skip(from) {
        way.full_order = made.denominator();
        way.set = OrientationSet::equally_spaced(way.full_order)?;
        way.repeated = Some(made);
    }
    Ok(())
}

/// The setting after so many moves of compound or differential indexing.
pub(super) fn after_moves(workshop: &Workshop, way: &Way, moves: i128) -> Result<Option<Setting>> {
    let Some(Equipment::WormHead(head)) = workshop.equipment().get(way.equipment) else {
        return Ok(None);
    };
    match way.kind {
        WayKind::CompoundIndexing { .. } => pins_after(head, way.kind, moves),
        WayKind::DifferentialIndexing { spaces, .. } => {
            let spaces = moves
                .checked_mul(spaces)
                .ok_or_else(|| Error::overflow("a count of hole spaces"))?;
            Ok(crank_after(head, way.kind, spaces))
        }
        _ => Ok(None),
    }
}

/// An answer, or none where the head gives none or the numbers do not fit: a part
/// of a turn so small is no move of a crank.
fn fitting<T>(answer: Result<T>) -> Result<Option<T>> {
    match answer {
        Ok(found) => Ok(Some(found)),
        Err(error) if matches!(error.kind(), ErrorKind::Overflow | ErrorKind::NotFound) => Ok(None),
        Err(error) => Err(error),
    }
}

fn compound_ways(
    head: &WormHead,
    (divisions_a_move, divisions): (i128, i128),
    settings: Vec<CompoundSetting>,
    maker: WayMaker,
    all: &mut Vec<Way>,
) -> Result<()> {
    let mut circles = BTreeSet::new();
    for setting in settings {
        let index_of = |holes: u32| {
            let side = head.side(setting.plate, setting.back).unwrap_or_default();
            side.iter().position(|it| it.holes == holes)
        };
        let (Some(first_circle), Some(second_circle)) = (
            index_of(setting.first.circle),
            index_of(setting.second.circle),
        ) else {
            continue;
        };
        // One set-up for two circles: the one with the least movement.
        if !circles.insert((setting.plate, setting.back, first_circle, second_circle)) {
            continue;
        }
        let kind = WayKind::CompoundIndexing {
            plate: setting.plate,
            back: setting.back,
            first_circle,
            second_circle,
            divisions,
            divisions_a_move,
            whole_turns: setting.whole_turns,
            first_holes: setting.first.holes,
            second_holes: setting.second.holes,
        };
        let set = OrientationSet::equally_spaced(divisions)?;
        all.push(maker.way(kind, set, Angle::ZERO, divisions));
        if circles.len() >= MOST_SET_UPS {
            break;
        }
    }
    Ok(())
}

/// The setting of compound or differential indexing that presents an angle.
pub(super) fn crank_of_method(
    head: &WormHead,
    kind: WayKind,
    presented: Angle,
) -> Result<Option<Setting>> {
    match kind {
        WayKind::CompoundIndexing { divisions, .. } => match multiple_of(presented, divisions)? {
            Some(division) => match kind.moves_to(division) {
                Some(moves) => pins_after(head, kind, moves),
                None => Err(Error::overflow("a count of moves")),
            },
            None => Ok(None),
        },
        WayKind::DifferentialIndexing {
            divisions,
            divisions_a_move,
            spaces,
            ..
        } => {
            let order = divisions
                .checked_mul(spaces)
                .ok_or_else(|| Error::overflow("a count of hole spaces"))?;
            let part = multiple_of(presented, order)?;
            let all = part.and_then(|part| moves_to(part, divisions_a_move, order));
            Ok(all.and_then(|all| crank_after(head, kind, all)))
        }
        _ => Ok(None),
    }
}

fn holes_of(head: &WormHead, plate: usize, back: bool, circle: usize) -> Option<u32> {
    let circles = head.side(plate, back)?;
    circles.get(circle).map(|it| it.holes)
}

/// Where both pins of compound indexing stand after so many moves.
fn pins_after(head: &WormHead, kind: WayKind, moves: i128) -> Result<Option<Setting>> {
    let too_far = || Error::overflow("a count of hole spaces");
    let WayKind::CompoundIndexing {
        plate,
        back,
        first_circle,
        second_circle,
        whole_turns,
        first_holes,
        second_holes,
        ..
    } = kind
    else {
        return Ok(None);
    };
    let (Some(first), Some(second)) = (
        holes_of(head, plate, back, first_circle),
        holes_of(head, plate, back, second_circle),
    ) else {
        return Ok(None);
    };
    let after = |holes: i64, circle: u32| {
        let spaces = moves.checked_mul(holes.into()).ok_or_else(too_far)?;
        let (turns, hole) = spaces.div_mod_floor(&circle.into());
        Ok((turns, u32::try_from(hole).unwrap_or(0)))
    };
    let (first_turns, first_hole) = after(first_holes, first)?;
    let (second_turns, second_hole) = after(second_holes, second)?;
    let turns = moves
        .checked_mul(whole_turns)
        .and_then(|turns| turns.checked_add(first_turns))
        .and_then(|turns| turns.checked_add(second_turns))
        .ok_or_else(too_far)?;
    Ok(Some(Setting::CompoundCrank {
        plate,
        back,
        turns,
        first_circle: first,
        first_hole,
        second_circle: second,
        second_hole,
    }))
}

/// Where the crank stands on the geared plate after so many hole spaces.
fn crank_after(head: &WormHead, kind: WayKind, spaces: i128) -> Option<Setting> {
    let WayKind::DifferentialIndexing {
        plate,
        back,
        circle,
        ..
    } = kind
    else {
        return None;
    };
    let circle = holes_of(head, plate, back, circle)?;
    let (turns, hole) = spaces.div_rem(&circle.into());
    Some(Setting::Crank {
        plate,
        back,
        circle,
        turns,
        hole: u32::try_from(hole).unwrap_or(0),
    })
}

pub(super) fn dial_way(dial: &GraduatedDial, maker: WayMaker) -> Result<Way> {
    let order = step(dial.worm_ratio, dial.graduations)?.denominator();
    let set = OrientationSet::equally_spaced(order)?;
    Ok(maker.way(WayKind::Dial, set, Angle::ZERO, order))
}

pub(super) fn reading(dial: &GraduatedDial, presented: Angle) -> Result<Option<Setting>> {
    let table = dial.sense.apply(presented).within_turn();
    let graduations = steps_to(step(dial.worm_ratio, dial.graduations)?, table)?;
    Ok(graduations.map(|all| {
        let (turns, graduation) = all.div_rem(&i128::from(dial.graduations));
        Setting::Reading {
            turns,
            graduation: u32::try_from(graduation).unwrap_or(0),
            table,
        }
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every present hole after any number of turns, by walking the crank.
    #[test]
    fn a_circle_that_lacks_holes_is_walked_round() {
        for (ratio, holes, absent) in [
            ("40", 9, vec![1, 2, 4, 8]),
            ("81/2", 10, vec![1, 3, 5, 7, 9]),
            ("81/2", 10, vec![0, 2, 4, 6, 8]),
            ("5/3", 12, vec![1, 2, 3, 5, 7, 11]),
        ] {
            let circle = PlateCircle {
                holes,
                pitch_radius: None,
                measured: None,
                absent: absent.clone(),
            };
            let ratio: WormRatio = ratio.parse().unwrap();
            let step = step(ratio, holes).unwrap();
            let order = step.denominator();
            let (set, zero) = held_by_some(ratio, &circle).unwrap();
            let mut walked = BTreeSet::new();
            for spaces in 0..order * i128::from(holes) {
                let hole = u32::try_from(spaces % i128::from(holes)).unwrap();
                if !absent.contains(&hole) {
                    walked.insert(step.checked_mul(spaces).unwrap().within_turn());
                }
            }
            assert!(walked.contains(&zero));
            for k in 0..order {
                let angle = Angle::new(k, order).unwrap();
                let held = set.cosets().any(|coset| {
                    let off = angle.checked_sub(coset.offset()).unwrap();
                    coset.order() % off.denominator() == 0
                });
                assert_eq!(held, walked.contains(&angle), "{ratio} {k}/{order}");
                let spaces = steps_to(step, angle).unwrap().unwrap();
                let found = spaces_to_a_hole(&circle, spaces, order);
                assert_eq!(found.is_some(), held);
                if let Some(found) = found {
                    let hole = u32::try_from(found % i128::from(holes)).unwrap();
                    assert!(!absent.contains(&hole));
                    assert_eq!(step.checked_mul(found).unwrap().within_turn(), angle);
                }
            }
        }
    }

    #[test]
    fn a_fractional_ratio_is_walked_round_until_the_pin_falls_in() {
        // 81/2 : 1 on a circle of 10: one space is 1/405 turn.
        let step = step("81/2".parse().unwrap(), 10).unwrap();
        assert_eq!((step.numerator(), step.denominator()), (1, 405));
        // 81/2 : 1 on a circle of 9: one space is 2/729 turn; a whole turn of
        // the spindle ends between two holes, two turns do not.
        let step = super::step("81/2".parse().unwrap(), 9).unwrap();
        for multiple in 0..729 {
            let presented = Angle::new(multiple, 729).unwrap();
            let spaces = steps_to(step, presented).unwrap().unwrap();
            assert_eq!(step.checked_mul(spaces).unwrap().within_turn(), presented);
        }
        assert_eq!(steps_to(step, Angle::new(1, 2).unwrap()).unwrap(), None);
    }
}
