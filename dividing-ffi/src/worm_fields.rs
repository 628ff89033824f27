//! Fields of worm heads and graduated dials.

use std::ffi::c_char;

use dividing_core::equipment::{
    ChangeGears, GraduatedDial, IdlerConvention, IndexPlate, PlateCircle, WormHead, WormRatio,
};
use dividing_core::gearing::{GearRatio, GearSet};

use crate::angle::Fraction;
use crate::array::slice;
use crate::error::Outcome;
use crate::fields::{OptionalLength, at, chosen, sense, string};
use crate::gearing::MeshFields;
use crate::plate_fields::{PinInHoleFields, registration};
use crate::pointer::reference;

/// One circle of a worm head's plate.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct PlateCircleFields {
    /// Equally spaced holes, 2 to 100000.
    pub holes: u32,
    /// Radius of the pitch circle; the head's `smallest_pitch_radius` stands in
    /// where it is not given.
    pub pitch_radius: OptionalLength,
    /// Places that hold no usable hole, `absent_count` of them; may be NULL.
    pub absent: *const u32,
    /// How many `absent` points to.
    pub absent_count: usize,
}

/// A plate of a worm head. Texts end with NUL.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct IndexPlateFields {
    /// What the shop calls it.
    pub name: *const c_char,
    /// The circles of its front, `circle_count` of them.
    pub circles: *const PlateCircleFields,
    /// How many `circles` points to.
    pub circle_count: usize,
    /// The circles of its back, `back_circle_count` of them.
    pub back_circles: *const PlateCircleFields,
    /// How many `back_circles` points to; may be 0.
    pub back_circle_count: usize,
}

/// Which idlers turn the plate which way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum Idlers {
    /// The common handbook one: a simple train takes one idler to turn the plate
    /// with the crank, a compound train none.
    CommonHandbook = 0,
    /// The other way about.
    Reversed = 1,
}

/// Change gears of a worm head, for differential indexing.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct ChangeGearsFields {
    /// Teeth of the gears owned, 1 to 1000 each, a gear owned twice listed
    /// twice; `gear_count` of them.
    pub gears: *const u32,
    /// How many `gears` points to, 2 to 200.
    pub gear_count: usize,
    /// Whether compound trains must clear their neighbours' shafts.
    pub mesh: MeshFields,
    /// Most pairs of driver and driven, 1 to 3; 0 stands for 2.
    pub most_pairs: u8,
    /// Turns of the plate for one turn of the train's last gear; 0/0 stands
    /// for 1.
    pub fixed_gearing: Fraction,
    /// Which idlers turn the plate which way: a dividing_idlers.
    pub idlers: i32,
    /// Deviation of the plate from true by teeth and lost motion, either way,
    /// in turns; 0/0 where not known.
    pub plate_error: Fraction,
}

/// A worm head with a crank and plates. Texts end with NUL. Angles are in
/// turns, 0/0 where not known.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct WormHeadFields {
    /// What the shop calls it.
    pub name: *const c_char,
    /// Crank turns for one spindle turn: 40/1, 81/2.
    pub worm_ratio: Fraction,
    /// The plates owned, `plate_count` of them.
    pub plates: *const IndexPlateFields,
    /// How many `plates` points to.
    pub plate_count: usize,
    /// Crank pin and plate holes; NULL where not known.
    pub registration: *const PinInHoleFields,
    /// Pitch radius of the smallest circle, for circles whose own is not given.
    pub smallest_pitch_radius: OptionalLength,
    /// Deviation of the spindle from true by worm and wheel, either way.
    pub worm_error: Fraction,
    /// Lost motion of the spindle when the crank changes its sense.
    pub backlash: Fraction,
    /// The way the part turns when the crank turns clockwise: a dividing_sense.
    pub sense: i32,
    /// Gears for differential indexing; NULL where there are none.
    pub change_gears: *const ChangeGearsFields,
}

/// A rotary table or head with a graduated dial. Texts end with NUL. Angles are
/// in turns, 0/0 where not known.
///
/// What was measured of it is added by dividing_inspection_into_workshop, or
/// stands in JSON.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct GraduatedDialFields {
    /// What the shop calls it.
    pub name: *const c_char,
    /// Handle turns for one turn of the table.
    pub worm_ratio: Fraction,
    /// Graduations on the dial for one handle turn, 1 to 100000.
    pub graduations: u32,
    /// Deviation of the table from true by worm and wheel, either way.
    pub table_error: Fraction,
    /// Lost motion of the table when the handle changes its sense.
    pub backlash: Fraction,
    /// How the readings grow: a dividing_sense.
    pub sense: i32,
}

pub(crate) fn ratio(worm_ratio: Fraction) -> Outcome<WormRatio> {
    at(
        WormRatio::new(worm_ratio.numerator.into(), worm_ratio.denominator.into()),
        "worm_ratio",
    )
}

/// # Safety
/// `circles` points to `count` circles.
unsafe fn circles(
    circles: *const PlateCircleFields,
    count: usize,
    name: &str,
) -> Outcome<Vec<PlateCircle>> {
    // SAFETY: the caller's contract.
    let circles = unsafe { slice(circles, count, name)? };
    let each = circles.iter().enumerate().map(|(index, circle)| {
        Ok(PlateCircle {
            holes: circle.holes,
            pitch_radius: circle
                .pitch_radius
                .length(&format!("{name}[{index}].pitch_radius"))?,
            // SAFETY: the caller's contract.
            absent: unsafe {
                slice(
                    circle.absent,
                    circle.absent_count,
                    &format!("{name}[{index}].absent"),
                )?
            }
            .to_vec(),
            measured: None,
        })
    });
    each.collect()
}

impl IndexPlateFields {
    /// # Safety
    /// All pointers are as their comments say.
    unsafe fn build(&self) -> Outcome<IndexPlate> {
        // SAFETY: the caller's contract.
        unsafe {
            Ok(IndexPlate {
                name: string(self.name, "name")?,
                circles: circles(self.circles, self.circle_count, "circles")?,
                back_circles: circles(self.back_circles, self.back_circle_count, "back_circles")?,
            })
        }
    }
}

impl ChangeGearsFields {
    /// # Safety
    /// All pointers are as their comments say.
    unsafe fn build(&self) -> Outcome<ChangeGears> {
        // SAFETY: the caller's contract.
        let gears = unsafe { slice(self.gears, self.gear_count, "gears")? };
        let mut built = ChangeGears::new(at(GearSet::new(gears), "gears")?);
        built.mesh = self.mesh.rule()?;
        if self.most_pairs != 0 {
            built.most_pairs = self.most_pairs;
        }
        let fixed = self.fixed_gearing;
        if (fixed.numerator, fixed.denominator) != (0, 0) {
            let ratio = GearRatio::new(fixed.numerator.into(), fixed.denominator.into());
            built.fixed_gearing = at(ratio, "fixed_gearing")?;
        }
        let conventions = [IdlerConvention::CommonHandbook, IdlerConvention::Reversed];
        built.idlers = chosen(self.idlers, "idlers", &conventions)?;
        built.plate_error = self.plate_error.optional("plate_error")?;
        Ok(built)
    }
}

impl WormHeadFields {
    /// # Safety
    /// All pointers are as their comments say.
    pub(crate) unsafe fn build(&self) -> Outcome<WormHead> {
        // SAFETY: the caller's contract.
        let (name, plates, registration) = unsafe {
            (
                string(self.name, "name")?,
                slice(self.plates, self.plate_count, "plates")?,
                registration(self.registration)?,
            )
        };
        let plates = plates.iter().enumerate().map(|(index, plate)| {
            // SAFETY: the caller's contract.
            unsafe { plate.build() }.map_err(|failure| failure.at(&format!("plates[{index}]")))
        });
        let change_gears = if self.change_gears.is_null() {
            None
        } else {
            // SAFETY: the caller's contract.
            let gears = unsafe { reference(self.change_gears, "change_gears")?.build() };
            Some(gears.map_err(|failure| failure.at("change_gears"))?)
        };
        Ok(WormHead {
            name,
            worm_ratio: ratio(self.worm_ratio)?,
            plates: plates.collect::<Outcome<_>>()?,
            registration,
            smallest_pitch_radius: self.smallest_pitch_radius.length("smallest_pitch_radius")?,
            worm_error: self.worm_error.optional("worm_error")?,
            backlash: self.backlash.optional("backlash")?,
            sense: sense(self.sense, "sense")?,
            change_gears,
        })
    }
}

impl GraduatedDialFields {
    /// # Safety
    /// All pointers are as their comments say.
    pub(crate) unsafe fn build(&self) -> Outcome<GraduatedDial> {
        Ok(GraduatedDial {
            // SAFETY: the caller's contract.
            name: unsafe { string(self.name, "name")? },
            worm_ratio: ratio(self.worm_ratio)?,
            graduations: self.graduations,
            table_error: self.table_error.optional("table_error")?,
            backlash: self.backlash.optional("backlash")?,
            sense: sense(self.sense, "sense")?,
            measured: None,
            between_measured: None,
        })
    }
}
