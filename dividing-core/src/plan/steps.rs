//! Moves from one feature to the next.

use num_integer::Integer;

use super::words;
use crate::angle::Angle;
use crate::reach::{Placement, Setting};

/// Hole spaces or graduations from zero, and how many make a turn of the crank.
fn position(setting: &Setting) -> Option<(i128, i128)> {
    match setting {
        Setting::Crank {
            turns,
            hole,
            circle,
            ..
        } => {
            let circle = i128::from(*circle);
            Some((turns * circle + i128::from(*hole), circle))
        }
        _ => None,
    }
}

/// How far the crank has gone from zero, in parts of a turn that order settings of
/// one way.
pub(super) fn on_the_crank(setting: &Setting) -> Option<Angle> {
    let part = |hole: u32, circle: u32| Angle::new(hole.into(), circle.into()).ok();
    match setting {
        Setting::Crank {
            turns,
            hole,
            circle,
            ..
        } => Angle::new(*turns, 1)
            .and_then(|turns| turns.checked_add(part(*hole, *circle).unwrap_or_default()))
            .ok(),
        Setting::CompoundCrank {
            turns,
            first_circle,
            first_hole,
            second_circle,
            second_hole,
            ..
        } => Angle::new(*turns, 1)
            .and_then(|it| it.checked_add(part(*first_hole, *first_circle).unwrap_or_default()))
            .and_then(|it| it.checked_add(part(*second_hole, *second_circle).unwrap_or_default()))
            .ok(),
        _ => None,
    }
}

/// Hole spaces to move on from one setting of the crank to the next, within
/// `all` spaces for a full turn of the spindle.
pub(super) fn crank_spaces(from: &Placement, to: &Placement, all: Option<i128>) -> Option<i128> {
    let (start, circle) = position(&from.setting)?;
    let (end, same) = position(&to.setting)?;
    let on = end - start;
    (circle == same).then(|| match all {
        Some(all) => Integer::mod_floor(&on, &all),
        _ => on,
    })
}

/// Whole crank turns of a move, either way.
pub(super) fn turns_between(from: &Placement, to: &Placement) -> i128 {
    let circle = position(&to.setting).map_or(1, |(_, circle)| circle.max(1));
    crank_spaces(from, to, None).map_or(0, |spaces| spaces.abs() / circle)
}

/// The move of a crank in words, if it is one and goes on.
pub(super) fn crank_move(from: &Placement, to: &Placement) -> Option<String> {
    let spaces = crank_spaces(from, to, None).filter(|spaces| *spaces > 0)?;
    let (_, circle) = position(&to.setting)?;
    let (turns, holes) = spaces.div_rem(&circle);
    Some(words::turns_and(turns, holes, "hole"))
}

/// Holes or faces to move on, for plates and blocks.
pub(super) fn places_on(from: &Placement, to: &Placement, all: u32) -> Option<u32> {
    let (start, end) = match (&from.setting, &to.setting) {
        (Setting::Hole { hole: a, .. }, Setting::Hole { hole: b, .. }) => (*a, *b),
        (Setting::FaceDown { face: a }, Setting::FaceDown { face: b }) => (*a, *b),
        _ => return None,
    };
    Some((end + all - start) % all)
}
