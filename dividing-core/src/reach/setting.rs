//! Settings: what to do with one piece of equipment to reach one angle.

use serde::{Deserialize, Serialize};

use crate::angle::Angle;
use crate::gauge_blocks::BlockUnit;

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

/// The blocks of one stack under a sine bar, in units of their set, ascending.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StackedBlocks {
    /// Under the high roller.
    pub high: Vec<u32>,
    /// Under the low roller, for a height below the smallest stack.
    pub low: Vec<u32>,
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
    /// A sine bar on gauge blocks.
    SineBar {
        /// Whether the bar stands turned end for end, which tilts it the other
        /// way.
        reversed: bool,
        /// The unit of all sizes.
        unit: BlockUnit,
        /// Height of the high roller above the low one, in units.
        height_units: u32,
        /// One stack; two equal ones under a wide bar; none when it lies level.
        stacks: Vec<StackedBlocks>,
        /// Thickness of the wear block at each end of a stack, in units.
        wear_block_units: Option<u32>,
    },
    /// A stack of angle gauge blocks.
    AngleStack {
        /// Blocks that add their angle, in seconds of arc, ascending.
        plus_arcsec: Vec<u32>,
        /// Blocks that take it away, ascending.
        minus_arcsec: Vec<u32>,
    },
    /// The part at a reading of a level or protractor.
    Inclination {
        /// The reading.
        reading: Angle,
    },
    /// The part's datum at a stop.
    AtStop {
        /// The stop, numbered from 0 as listed.
        stop: usize,
    },
    /// The last feature at the stop.
    FromLast {
        /// Steps from the feature that the chain began with.
        steps: u32,
    },
    /// A bar on pins of two rings of a pin plate.
    BarAcrossRings {
        /// Holes on the ring of the first pin.
        first_ring: u32,
        /// The hole of the first pin.
        first_pin: u32,
        /// Holes on the ring of the second pin.
        second_ring: u32,
        /// The hole of the second pin.
        second_pin: u32,
        /// How the bar lies.
        bar: BarPlace,
    },
    /// Every member of a stack at its own setting.
    Stack {
        /// The settings, in the order of the members.
        members: Vec<Setting>,
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
