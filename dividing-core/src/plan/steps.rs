//! Moves from one feature to the next.

use num_integer::Integer;

use super::words;
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
