//! Settings as one flat record.

use dividing_core::Angle;
use dividing_core::reach::{BarPlace, Setting};

use crate::angle::Fraction;
use crate::error::Outcome;
use crate::fields::fitted;
use crate::gauge_blocks::BlockUnitOf;

/// The sorts of settings; each says which fields of dividing_setting it fills.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum SettingKind {
    /// A sort that this version has no fields for: ask for its text or JSON.
    Other = 0,
    /// The plunger in a hole of a direct plate: circle, hole.
    Hole = 1,
    /// The pin of a vernier indexer through a hole and a station: hole, station.
    HoleAtStation = 2,
    /// A faced block on one of its faces: face.
    FaceDown = 3,
    /// A faced block in a V-block: left_face, right_face.
    FacesInVee = 4,
    /// A bar on two pins of a pin plate: circle, first_pin, second_pin, span,
    /// bar.
    BarOnPins = 5,
    /// The crank pin of a worm head in a hole: plate, back, circle, turns, hole.
    Crank = 6,
    /// A reading of a graduated dial: turns, graduation, table.
    Reading = 7,
    /// A sine bar on gauge blocks: reversed, height_mm, block_unit, stack_count,
    /// wear_block_mm; dividing_plans_step_blocks gives the blocks.
    SineBar = 8,
    /// A stack of angle gauge blocks: plus_count, minus_count;
    /// dividing_plans_step_angle_blocks gives the blocks.
    AngleStack = 9,
    /// The part at a reading of a level or protractor: table.
    Inclination = 10,
    /// The part's datum at a stop: stop.
    AtStop = 11,
    /// The last feature at the stop: turns counts the steps from the feature
    /// that the chain began with.
    FromLast = 12,
    /// A bar on pins of two rings of a pin plate: circle, first_pin,
    /// second_circle, second_pin, bar.
    BarAcrossRings = 13,
    /// Every member of a stack at its own setting: member_count;
    /// dividing_plans_step_member gives them.
    Stack = 14,
    /// Crank pin and plate of a worm head by compound indexing: plate, back,
    /// turns, circle, hole, second_circle, second_hole.
    CompoundCrank = 15,
}

/// How the bar lies on the two pins of a pin plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum Bar {
    /// There is no bar.
    None = 0,
    /// Level, on top of the pins, the centre of the plate below it.
    LevelAbove = 1,
    /// Level, against the pins from below, the centre of the plate above it.
    LevelBelow = 2,
    /// Upright, on the right of the pins, the centre of the plate to its left.
    UprightRight = 3,
    /// Upright, on the left of the pins, the centre of the plate to its right.
    UprightLeft = 4,
}

/// One setting. Fields that its kind does not fill are 0.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct SettingRecord {
    /// Which sort of setting it is.
    pub kind: SettingKind,
    /// Holes on the circle or ring.
    pub circle: u32,
    /// The hole, numbered from 0; for a crank the holes beyond whole turns.
    pub hole: u32,
    /// The station, numbered from 0 as listed in the workshop.
    pub station: u32,
    /// The face, numbered from 0.
    pub face: u32,
    /// The face on the left flank, seen from the side of the cutter.
    pub left_face: u32,
    /// The face on the right flank.
    pub right_face: u32,
    /// The hole of the first pin, numbered from 0.
    pub first_pin: u32,
    /// The hole of the second pin, numbered from 0.
    pub second_pin: u32,
    /// Hole spaces between the two pins, the short way round.
    pub span: u32,
    /// How the bar lies.
    pub bar: Bar,
    /// The plate of a worm head, numbered from 0 as listed in the workshop.
    pub plate: u32,
    /// 1 when the plate shows its back, else 0.
    pub back: u32,
    /// Graduations beyond whole handle turns.
    pub graduation: u32,
    /// Whole turns of the crank or handle from zero.
    pub turns: i64,
    /// The reading as an angle of the table, in turns; 0/1 where there is none.
    pub table: Fraction,
    /// Holes on the second circle or ring.
    pub second_circle: u32,
    /// The hole of the pin on the second circle, counted from 0.
    pub second_hole: u32,
    /// 1 when a sine bar stands turned end for end, else 0.
    pub reversed: u32,
    /// The unit of its blocks: a dividing_block_unit.
    pub block_unit: i32,
    /// Stacks under the bar: 0 when it lies level, 2 under a wide one.
    pub stack_count: u32,
    /// Angle blocks that add their angle.
    pub plus_count: u32,
    /// Angle blocks that take it away.
    pub minus_count: u32,
    /// The stop, numbered from 0 as listed in the workshop.
    pub stop: u32,
    /// Members of a stack.
    pub member_count: u32,
    /// Height of the high roller above the low one, in millimetres.
    pub height_mm: f64,
    /// Thickness of the wear block at each end of a stack, in millimetres; 0
    /// where none is used.
    pub wear_block_mm: f64,
    /// Room for sorts of settings yet to come; 0.
    pub reserved: [i64; 4],
}

impl SettingRecord {
    const EMPTY: Self = Self {
        kind: SettingKind::Other,
        circle: 0,
        hole: 0,
        station: 0,
        face: 0,
        left_face: 0,
        right_face: 0,
        first_pin: 0,
        second_pin: 0,
        span: 0,
        bar: Bar::None,
        plate: 0,
        back: 0,
        graduation: 0,
        turns: 0,
        table: Fraction {
            numerator: 0,
            denominator: 1,
        },
        second_circle: 0,
        second_hole: 0,
        reversed: 0,
        block_unit: 0,
        stack_count: 0,
        plus_count: 0,
        minus_count: 0,
        stop: 0,
        member_count: 0,
        height_mm: 0.0,
        wear_block_mm: 0.0,
        reserved: [0; 4],
    };

    pub(crate) fn of(setting: &Setting) -> Outcome<Self> {
        Ok(match *setting {
            Setting::Hole { circle, hole } => Self {
                kind: SettingKind::Hole,
                circle,
                hole,
                ..Self::EMPTY
            },
            Setting::HoleAtStation { hole, station } => Self {
                kind: SettingKind::HoleAtStation,
                hole,
                station: fitted(station, "station")?,
                ..Self::EMPTY
            },
            Setting::FaceDown { face } => Self {
                kind: SettingKind::FaceDown,
                face,
                ..Self::EMPTY
            },
            Setting::FacesInVee {
                left_face,
                right_face,
            } => Self {
                kind: SettingKind::FacesInVee,
                left_face,
                right_face,
                ..Self::EMPTY
            },
            Setting::BarOnPins {
                circle,
                first_pin,
                second_pin,
                span,
                bar,
            } => Self {
                kind: SettingKind::BarOnPins,
                circle,
                first_pin,
                second_pin,
                span,
                bar: bar_of(bar),
                ..Self::EMPTY
            },
            Setting::Crank {
                plate,
                back,
                circle,
                turns,
                hole,
            } => Self {
                kind: SettingKind::Crank,
                plate: fitted(plate, "plate")?,
                back: back.into(),
                circle,
                turns: fitted(turns, "turns")?,
                hole,
                ..Self::EMPTY
            },
            Setting::Reading {
                turns,
                graduation,
                table,
            } => Self::reading(turns, graduation, table)?,
            _ => Self::of_further(setting)?,
        })
    }

    /// The sorts of settings with parts of their own.
    fn of_further(setting: &Setting) -> Outcome<Self> {
        Ok(match setting {
            Setting::SineBar {
                reversed,
                unit,
                height_units,
                stacks,
                wear_block_units,
            } => Self {
                kind: SettingKind::SineBar,
                reversed: (*reversed).into(),
                block_unit: BlockUnitOf::of(*unit) as i32,
                stack_count: fitted(stacks.len(), "stack_count")?,
                height_mm: unit.to_mm((*height_units).into()),
                wear_block_mm: wear_block_units.map_or(0.0, |it| unit.to_mm(it.into())),
                ..Self::EMPTY
            },
            Setting::AngleStack {
                plus_arcsec,
                minus_arcsec,
            } => Self {
                kind: SettingKind::AngleStack,
                plus_count: fitted(plus_arcsec.len(), "plus_count")?,
                minus_count: fitted(minus_arcsec.len(), "minus_count")?,
                ..Self::EMPTY
            },
            Setting::Inclination { reading } => Self {
                kind: SettingKind::Inclination,
                table: Fraction::of(*reading)?,
                ..Self::EMPTY
            },
            Setting::AtStop { stop } => Self {
                kind: SettingKind::AtStop,
                stop: fitted(*stop, "stop")?,
                ..Self::EMPTY
            },
            Setting::FromLast { steps } => Self {
                kind: SettingKind::FromLast,
                turns: (*steps).into(),
                ..Self::EMPTY
            },
            Setting::BarAcrossRings {
                first_ring,
                first_pin,
                second_ring,
                second_pin,
                bar,
            } => Self {
                kind: SettingKind::BarAcrossRings,
                circle: *first_ring,
                first_pin: *first_pin,
                second_circle: *second_ring,
                second_pin: *second_pin,
                bar: bar_of(*bar),
                ..Self::EMPTY
            },
            Setting::Stack { members } => Self {
                kind: SettingKind::Stack,
                member_count: fitted(members.len(), "member_count")?,
                ..Self::EMPTY
            },
            Setting::CompoundCrank {
                plate,
                back,
                turns,
                first_circle,
                first_hole,
                second_circle,
                second_hole,
            } => Self {
                kind: SettingKind::CompoundCrank,
                plate: fitted(*plate, "plate")?,
                back: (*back).into(),
                turns: fitted(*turns, "turns")?,
                circle: *first_circle,
                hole: *first_hole,
                second_circle: *second_circle,
                second_hole: *second_hole,
                ..Self::EMPTY
            },
            _ => Self::EMPTY,
        })
    }

    fn reading(turns: i128, graduation: u32, table: Angle) -> Outcome<Self> {
        Ok(Self {
            kind: SettingKind::Reading,
            turns: fitted(turns, "turns")?,
            graduation,
            table: Fraction::of(table)?,
            ..Self::EMPTY
        })
    }
}

const fn bar_of(bar: BarPlace) -> Bar {
    match bar {
        BarPlace::LevelAbove => Bar::LevelAbove,
        BarPlace::LevelBelow => Bar::LevelBelow,
        BarPlace::UprightRight => Bar::UprightRight,
        BarPlace::UprightLeft => Bar::UprightLeft,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_setting_that_does_not_fit_is_an_overflow() {
        let crank = |turns| Setting::Crank {
            plate: 1,
            back: true,
            circle: 18,
            turns,
            hole: 8,
        };
        let record = SettingRecord::of(&crank(-4)).unwrap();
        assert_eq!((record.turns, record.back, record.hole), (-4, 1, 8));
        assert!(SettingRecord::of(&crank(1 << 70)).is_err());
    }
}
