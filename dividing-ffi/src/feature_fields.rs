//! Fields of the features that a drawing asks for.

use std::ffi::c_char;

use dividing_core::features::{
    AngleList, BoltCircle, EqualDivisions, Flats, Graduations, MachineAxes, MachineAxis, Slots,
    Teeth, ToothSize,
};

use crate::angle::Fraction;
use crate::array::slice;
use crate::error::Outcome;
use crate::fields::{OptionalLength, chosen, length, sense, string, yes};
use crate::plate_fields::angles;

/// N equal divisions. Texts end with NUL. Angles are in turns.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct EqualDivisionsFields {
    /// How many, 2 to 100000.
    pub count: u32,
    /// What one of them is called on the sheet; NULL stands for "feature".
    pub called: *const c_char,
    /// Drawing angle of the first; 0/0 stands for 0.
    pub first_angle: Fraction,
}

/// An axis of a machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum AxisOfMachine {
    /// X.
    PlusX = 0,
    /// Y.
    PlusY = 1,
    /// Against X.
    MinusX = 2,
    /// Against Y.
    MinusY = 3,
}

/// Holes on a circle. Lengths are in millimetres, angles in turns.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct BoltCircleFields {
    /// How many holes, 2 to 100000.
    pub count: u32,
    /// Radius of the pitch circle.
    pub pitch_radius_mm: f64,
    /// Diameter of the holes; only written on the sheet.
    pub hole_diameter: OptionalLength,
    /// Drawing angle of the first hole, from the X axis; 0/0 stands for 0.
    pub first_angle: Fraction,
    /// The way round in which the holes are made: a dividing_sense.
    pub direction: i32,
    /// 1 when the four fields below say how the drawing lies in the machine's
    /// axes; 0 when the centre is their zero and angles count from X towards Y.
    pub axes: i32,
    /// X of the centre.
    pub centre_x_mm: f64,
    /// Y of the centre.
    pub centre_y_mm: f64,
    /// The axis along which drawing angle 0 lies: a dividing_machine_axis.
    pub angle_zero: i32,
    /// The way in which drawing angles grow, X to the right and Y upward: a
    /// dividing_sense.
    pub angles_grow: i32,
    /// Further chords to check by, each over so many hole spaces,
    /// `chord_check_count` of them.
    pub chord_checks: *const u32,
    /// How many `chord_checks` points to; may be 0.
    pub chord_check_count: usize,
}

/// Flats on round stock. Lengths are in millimetres, angles in turns.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct FlatsFields {
    /// How many flats.
    pub count: u32,
    /// Across flats: twice the distance of a flat from the axis.
    pub across_flats_mm: f64,
    /// Diameter of the stock.
    pub stock_diameter_mm: f64,
    /// Drawing angle of the first; 0/0 stands for 0.
    pub first_angle: Fraction,
}

/// Slots with parallel sides. Lengths are in millimetres, angles in turns.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct SlotsFields {
    /// How many slots.
    pub count: u32,
    /// Width of a slot.
    pub width_mm: f64,
    /// Depth from the outside.
    pub depth_mm: f64,
    /// Outside diameter of the part.
    pub outside_diameter_mm: f64,
    /// Drawing angle of the first; 0/0 stands for 0.
    pub first_angle: Fraction,
}

/// Teeth of a spur wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct TeethFields {
    /// How many teeth, 2 to 100000.
    pub count: u32,
    /// 1 when `size` is a diametral pitch in teeth an inch, 0 when it is a
    /// module in millimetres.
    pub diametral_pitch: i32,
    /// Module or diametral pitch.
    pub size: f64,
    /// Drawing angle of the first tooth space in turns; 0/0 stands for 0.
    pub first_angle: Fraction,
}

/// Lines of a scale.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct GraduationsFields {
    /// How many lines, 2 to 100000.
    pub count: u32,
    /// Every how many lines a major one stands, a divisor of the count; 0
    /// stands for 10.
    pub major_every: u32,
    /// Every how many lines a middle one stands, a divisor of `major_every`; 0
    /// where there is none.
    pub middle_every: u32,
    /// Length of a major line; only written on the sheet.
    pub major_length: OptionalLength,
    /// Length of a middle line.
    pub middle_length: OptionalLength,
    /// Length of a minor line.
    pub minor_length: OptionalLength,
    /// Drawing angle of the first line in turns; 0/0 stands for 0.
    pub first_angle: Fraction,
}

/// Features at listed angles. Texts end with NUL.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct AnglesFields {
    /// Drawing angles in turns, in the order of making, `count` of them.
    pub angles: *const Fraction,
    /// How many `angles` points to, 1 to 100000.
    pub count: usize,
    /// What one of them is called on the sheet; NULL stands for "feature".
    pub called: *const c_char,
}

/// # Safety
/// A pointer that is not null points to bytes up to a NUL.
unsafe fn called(pointer: *const c_char) -> Outcome<String> {
    if pointer.is_null() {
        return Ok("feature".into());
    }
    // SAFETY: the caller's contract.
    unsafe { string(pointer, "called") }
}

impl EqualDivisionsFields {
    /// # Safety
    /// All pointers are as their comments say.
    pub(crate) unsafe fn build(&self) -> Outcome<EqualDivisions> {
        Ok(EqualDivisions {
            count: self.count,
            // SAFETY: the caller's contract.
            called: unsafe { called(self.called)? },
            first_angle: self.first_angle.or_zero("first_angle")?,
        })
    }
}

impl BoltCircleFields {
    /// # Safety
    /// All pointers are as their comments say.
    pub(crate) unsafe fn build(&self) -> Outcome<BoltCircle> {
        // SAFETY: the caller's contract.
        let chords = unsafe { slice(self.chord_checks, self.chord_check_count, "chord_checks")? };
        let zeros = [
            MachineAxis::PlusX,
            MachineAxis::PlusY,
            MachineAxis::MinusX,
            MachineAxis::MinusY,
        ];
        let axes = if yes(self.axes, "axes")? {
            Some(MachineAxes {
                centre_x: length(self.centre_x_mm, "centre_x_mm")?,
                centre_y: length(self.centre_y_mm, "centre_y_mm")?,
                angle_zero: chosen(self.angle_zero, "angle_zero", &zeros)?,
                angles_grow: sense(self.angles_grow, "angles_grow")?,
            })
        } else {
            None
        };
        Ok(BoltCircle {
            count: self.count,
            pitch_radius: length(self.pitch_radius_mm, "pitch_radius_mm")?,
            hole_diameter: self.hole_diameter.length("hole_diameter")?,
            first_angle: self.first_angle.or_zero("first_angle")?,
            direction: sense(self.direction, "direction")?,
            axes,
            chord_checks: chords.to_vec(),
        })
    }
}

impl FlatsFields {
    pub(crate) fn build(&self) -> Outcome<Flats> {
        Ok(Flats {
            count: self.count,
            across_flats: length(self.across_flats_mm, "across_flats_mm")?,
            stock_diameter: length(self.stock_diameter_mm, "stock_diameter_mm")?,
            first_angle: self.first_angle.or_zero("first_angle")?,
        })
    }
}

impl SlotsFields {
    pub(crate) fn build(&self) -> Outcome<Slots> {
        Ok(Slots {
            count: self.count,
            width: length(self.width_mm, "width_mm")?,
            depth: length(self.depth_mm, "depth_mm")?,
            outside_diameter: length(self.outside_diameter_mm, "outside_diameter_mm")?,
            first_angle: self.first_angle.or_zero("first_angle")?,
        })
    }
}

impl TeethFields {
    pub(crate) fn build(&self) -> Outcome<Teeth> {
        Ok(Teeth {
            count: self.count,
            size: if yes(self.diametral_pitch, "diametral_pitch")? {
                ToothSize::DiametralPitch(self.size)
            } else {
                ToothSize::Module(length(self.size, "size")?)
            },
            first_angle: self.first_angle.or_zero("first_angle")?,
        })
    }
}

impl GraduationsFields {
    pub(crate) fn build(&self) -> Outcome<Graduations> {
        Ok(Graduations {
            count: self.count,
            major_every: match self.major_every {
                0 => 10,
                every => every,
            },
            middle_every: match self.middle_every {
                0 => None,
                every => Some(every),
            },
            major_length: self.major_length.length("major_length")?,
            middle_length: self.middle_length.length("middle_length")?,
            minor_length: self.minor_length.length("minor_length")?,
            first_angle: self.first_angle.or_zero("first_angle")?,
        })
    }
}

impl AnglesFields {
    /// # Safety
    /// All pointers are as their comments say.
    pub(crate) unsafe fn build(&self) -> Outcome<AngleList> {
        // SAFETY: the caller's contract.
        let (list, called) = unsafe {
            (
                slice(self.angles, self.count, "angles")?,
                called(self.called)?,
            )
        };
        Ok(AngleList {
            angles: angles(list, "angles")?,
            called,
        })
    }
}
