//! Settings as one flat record.

use dividing_core::Angle;
use dividing_core::reach::{BarPlace, Setting};

use crate::angle::Fraction;
use crate::error::{Failure, Outcome};
use crate::status::Status;

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
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
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

fn fitted<T: TryFrom<N>, N: Copy + std::fmt::Display>(number: N, field: &str) -> Outcome<T> {
    T::try_from(number).map_err(|_| {
        Failure::new(
            Status::Overflow,
            field,
            format!("{number} does not fit its field; ask for the setting as text"),
        )
    })
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
