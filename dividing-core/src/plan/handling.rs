//! How much there is to do by hand.

use serde::{Deserialize, Serialize};

use crate::reach::{Placement, Setting, WayKind};

/// The work of a plan, for ranking plans that are otherwise alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Handling {
    /// Things to loosen, move, fit or level, over all features.
    pub actions: u64,
    /// Crank turns from the first feature to the last, each move to whole turns.
    pub crank_turns: u64,
    /// Holes beyond whole turns to count off for the first move of a crank.
    pub hole_spaces: u64,
}

/// A plunger is pulled, or a crank or handle turned.
const TURN: u64 = 1;
/// A pin is drawn, the right station found, the pin put in.
const FIND_STATION: u64 = 2;
/// Two movements of compound indexing: the crank, then plate and crank.
const TWO_MOVEMENTS: u64 = 3;
/// A change gear is fitted and meshed.
const FIT_GEAR: u64 = 5;
/// A block is loosened, turned and clamped.
const RECLAMP: u64 = 3;
/// Two pins are moved, a bar laid, levelled.
const LEVEL_BAR: u64 = 4;
/// A block changes between vise and V-block, and the centre is found again.
const CHANGE_SEAT: u64 = 10;

impl Handling {
    pub(super) fn of(way: WayKind, placements: &[Placement]) -> Self {
        let actions: u64 = placements.iter().map(|it| actions(&it.setting)).sum();
        let in_vee = |it: &Placement| matches!(it.setting, Setting::FacesInVee { .. });
        let both_seats = placements.iter().any(in_vee) && !placements.iter().all(in_vee);
        let hole_spaces = match (way, placements.get(1).map(|it| &it.setting)) {
            (
                WayKind::CompoundIndexing {
                    first_holes,
                    second_holes,
                    ..
                },
                _,
            ) => first_holes.unsigned_abs() + second_holes.unsigned_abs(),
            (_, Some(Setting::Crank { hole, .. })) => u64::from(*hole),
            _ => 0,
        };
        let gears = match way {
            WayKind::DifferentialIndexing { train, .. } => train.gears().count() as u64,
            _ => 0,
        };
        Self {
            actions: actions + gears * FIT_GEAR + if both_seats { CHANGE_SEAT } else { 0 },
            crank_turns: crank_turns(placements),
            hole_spaces,
        }
    }
}

/// An instrument is watched while the part is turned and clamped.
const READ: u64 = 4;
/// A gauge block is cleaned and wrung.
const WRING: u64 = 1;

/// Crank turns walked from feature to feature, to the next whole turn.
fn crank_turns(placements: &[Placement]) -> u64 {
    let turns: i128 = placements
        .windows(2)
        .map(|pair| match pair {
            [from, to] => super::steps::turns_between(from, to),
            _ => 0,
        })
        .sum();
    u64::try_from(turns).unwrap_or(u64::MAX)
}

fn actions(setting: &Setting) -> u64 {
    match setting {
        Setting::Hole { .. } | Setting::Crank { .. } | Setting::Reading { .. } => TURN,
        Setting::HoleAtStation { .. } => FIND_STATION,
        Setting::CompoundCrank { .. } => TWO_MOVEMENTS,
        Setting::FaceDown { .. } | Setting::FacesInVee { .. } => RECLAMP,
        Setting::BarOnPins { .. } | Setting::BarAcrossRings { .. } => LEVEL_BAR,
        Setting::AtStop { .. } | Setting::FromLast { .. } => RECLAMP,
        Setting::Inclination { .. } => READ,
        Setting::SineBar {
            stacks,
            wear_block_units,
            ..
        } => {
            let blocks: usize = stacks.iter().map(|it| it.high.len() + it.low.len()).sum();
            let wear = if wear_block_units.is_some() { 2 } else { 0 };
            RECLAMP + wrung(blocks + wear * stacks.len())
        }
        Setting::AngleStack {
            plus_arcsec,
            minus_arcsec,
        } => RECLAMP + wrung(plus_arcsec.len() + minus_arcsec.len()),
        Setting::Stack { members } => members.iter().map(actions).sum(),
    }
}

fn wrung(blocks: usize) -> u64 {
    u64::try_from(blocks)
        .unwrap_or(u64::MAX)
        .saturating_mul(WRING)
}
