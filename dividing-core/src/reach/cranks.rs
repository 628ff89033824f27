//! What worm heads hold by simple indexing, and dials by their graduations.

use num_integer::Integer;

use super::orientation_set::OrientationSet;
use super::setting::Setting;
use super::way::{Way, WayKind, WayMaker, multiple_of};
use crate::angle::Angle;
use crate::equipment::{GraduatedDial, PlateCircle, WormHead, WormRatio};
use crate::error::{Error, Result};

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

/// The circles of one side of a plate.
fn side(head: &WormHead, plate: usize, back: bool) -> Option<&[PlateCircle]> {
    let plate = head.plates.get(plate)?;
    Some(if back {
        &plate.back_circles
    } else {
        &plate.circles
    })
}

pub(super) fn simple_ways(head: &WormHead, maker: WayMaker, all: &mut Vec<Way>) -> Result<()> {
    for plate in 0..head.plates.len() {
        for back in [false, true] {
            for (circle, it) in side(head, plate, back)
                .unwrap_or_default()
                .iter()
                .enumerate()
            {
                let order = step(head.worm_ratio, it.holes)?.denominator();
                let set = OrientationSet::equally_spaced(order)?;
                let kind = WayKind::SimpleIndexing {
                    plate,
                    back,
                    circle,
                };
                all.push(maker.way(kind, set, Angle::ZERO, order));
            }
        }
    }
    Ok(())
}

pub(super) fn crank(
    head: &WormHead,
    plate: usize,
    back: bool,
    circle: usize,
    presented: Angle,
) -> Result<Option<Setting>> {
    let Some(it) = side(head, plate, back).and_then(|circles| circles.get(circle)) else {
        return Ok(None);
    };
    let spaces = steps_to(step(head.worm_ratio, it.holes)?, presented)?;
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
