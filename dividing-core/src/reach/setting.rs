//! Settings: what to do with one piece of equipment to reach one angle.

use serde::{Deserialize, Serialize};

use crate::angle::Angle;

/// How the bar lies on the two pins of a pin plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BarPlace {
    /// Level, on top of the pins, the centre of the plate below it.
    LevelAbove,
    /// Level, against the pins from below, the centre of the plate above it.
    LevelBelow,
    /// Upright, on the right of the pins, the centre of the plate to its left.
    UprightRight,
    /// Upright, on the left of the pins, the centre of the plate to its right.
    UprightLeft,
}

/// One setting.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[non_exhaustive]
pub enum Setting {
    /// The plunger in a hole of a direct plate.
    Hole {
        /// Holes on the circle.
        circle: u32,
        /// The hole, numbered from 0.
        hole: u32,
    },
    /// The pin of a vernier indexer through a hole and a station.
    HoleAtStation {
        /// The hole, numbered from 0.
        hole: u32,
        /// The station, numbered from 0 as listed.
        station: usize,
    },
    /// A faced block on one of its faces.
    FaceDown {
        /// The face, numbered from 0.
        face: u32,
    },
    /// A faced block in a V-block.
    FacesInVee {
        /// The face on the left flank, seen from the side of the cutter.
        left_face: u32,
        /// The face on the right flank.
        right_face: u32,
    },
    /// A bar on two pins of a pin plate.
    BarOnPins {
        /// Holes on the ring.
        circle: u32,
        /// The hole of the first pin.
        first_pin: u32,
        /// The hole of the second pin.
        second_pin: u32,
        /// Hole spaces between the two, the short way round.
        span: u32,
        /// How the bar lies.
        bar: BarPlace,
    },
    /// The crank pin of a worm head in a hole, by simple or differential
    /// indexing; turns and holes count on the plate.
    Crank {
        /// The plate, as listed.
        plate: usize,
        /// Whether the plate shows its back.
        back: bool,
        /// Holes on the circle.
        circle: u32,
        /// Whole crank turns from the zero setting.
        turns: i128,
        /// Holes beyond them.
        hole: u32,
    },
    /// A reading of a graduated dial.
    Reading {
        /// Whole handle turns from zero.
        turns: i128,
        /// Graduations beyond them.
        graduation: u32,
        /// The same as an angle of the table.
        table: Angle,
    },
    /// Crank pin and plate of a worm head after some moves of compound indexing.
    CompoundCrank {
        /// The plate, as listed.
        plate: usize,
        /// Whether the plate shows its back.
        back: bool,
        /// Whole crank turns from the zero setting, backward where below zero;
        /// the fractions below are added.
        turns: i128,
        /// Holes on the circle of the crank pin.
        first_circle: u32,
        /// The hole of the crank pin, counted on the plate from 0.
        first_hole: u32,
        /// Holes on the circle of the pin that holds the plate.
        second_circle: u32,
        /// The hole of that pin, counted from 0.
        second_hole: u32,
    },
}
