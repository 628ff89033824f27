//! Fields of plates with holes: plunger plates, vernier indexers, pin plates.

use std::ffi::c_char;

use dividing_core::equipment::{
    DirectPlate, Drilled, DrilledByCoordinates, DrilledOnHead, HoleCircle, Levelling, PinHold,
    PinInHole, PinPlate, Seating, VernierIndexer,
};

use crate::angle::Fraction;
use crate::array::slice;
use crate::error::{Failure, Outcome};
use crate::fields::{OptionalLength, chosen, length, sense, string, yes};
use crate::pointer::reference;
use crate::status::Status;
use crate::worm_fields::ratio;

/// Where a pin lies in its hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum PinSeat {
    /// Anywhere within the clearance.
    Free = 0,
    /// Always pushed the same way.
    Biased = 1,
}

/// A plate drilled on a dividing head, from a rougher plate on its crank, whose
/// errors come down by the worm ratio. Lengths in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct DrilledOnHeadFields {
    /// Crank turns for one spindle turn of that head, as 40/1.
    pub worm_ratio: Fraction,
    /// Pitch radius of the circle used on the rougher plate, above 0.
    pub rougher_pitch_radius_mm: f64,
    /// Diameter of the zone in which each hole of the rougher plate lies.
    pub rougher_hole_position_tolerance_mm: f64,
    /// Clearance of the crank pin in the rougher plate's holes, at most.
    pub rougher_clearance_mm: f64,
    /// Deviation of the head's spindle by worm and wheel, either way, in turns;
    /// 0/0 stands for 0.
    pub worm_error: Fraction,
    /// Diameter of the zone in which the drill wandered.
    pub drill_wander_mm: f64,
}

/// A plate drilled by coordinates. Lengths in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct DrilledByCoordinatesFields {
    /// Deviation of either axis of the table, either way.
    pub table_accuracy_mm: f64,
    /// Diameter of the zone in which the drill wandered.
    pub drill_wander_mm: f64,
}

/// A pin in holes. Lengths in millimetres, 0 or more.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct PinInHoleFields {
    /// Diameter of the pin.
    pub pin_diameter_mm: f64,
    /// Diameter of the holes; not smaller than the pin.
    pub hole_diameter_mm: f64,
    /// Diameter of the zone round its true place in which each hole's centre
    /// lies; 0 where the plate says below how it was drilled.
    pub hole_position_tolerance_mm: f64,
    /// Deviation of a hole's diameter, either way.
    pub hole_diameter_tolerance_mm: f64,
    /// Deviation of a pin's diameter, either way.
    pub pin_diameter_tolerance_mm: f64,
    /// Where the pin lies: a dividing_pin_seat.
    pub seating: i32,
    /// How the holes were drilled, in place of their position tolerance: on a
    /// dividing head; NULL where not so, or not known.
    pub drilled_on_head: *const DrilledOnHeadFields,
    /// The same by coordinates; NULL where not so, or not known.
    pub drilled_by_coordinates: *const DrilledByCoordinatesFields,
}

/// A circle of equally spaced holes. What was measured of them is added by
/// dividing_inspection_into_workshop, or stands in JSON.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct HoleCircleFields {
    /// Equally spaced places, 2 to 100000; some may be absent.
    pub holes: u32,
    /// Radius of the pitch circle. Needed for an error figure.
    pub pitch_radius: OptionalLength,
    /// Angle of hole 0 in turns; 0/0 stands for 0.
    pub first_hole: Fraction,
    /// Places that hold no usable hole, `absent_count` of them.
    pub absent: *const u32,
    /// How many `absent` points to.
    pub absent_count: usize,
}

/// A plate on the spindle with a plunger. Texts end with NUL.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct DirectPlateFields {
    /// What the shop calls it.
    pub name: *const c_char,
    /// Its hole circles, `circle_count` of them.
    pub circles: *const HoleCircleFields,
    /// How many `circles` points to.
    pub circle_count: usize,
    /// Where the plunger stands, in turns; 0/0 stands for 0.
    pub station: Fraction,
    /// How the holes are numbered: a dividing_sense.
    pub sense: i32,
    /// Pin and holes; NULL where not known. Needed for an error figure.
    pub registration: *const PinInHoleFields,
    /// Distance of the plate's centre from the spindle axis, at most.
    pub eccentricity_mm: f64,
    /// Clearance of the plate's bore on its seat.
    pub bore_clearance_mm: f64,
}

/// A circle of holes with several stations for the pin. Texts end with NUL. What
/// was measured of the stations is added by dividing_inspection_into_workshop, or
/// stands in JSON.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct VernierIndexerFields {
    /// What the shop calls it.
    pub name: *const c_char,
    /// The circle of holes that turns with the spindle.
    pub circle: HoleCircleFields,
    /// Angles of the holes in the body in turns, `station_count` of them.
    pub stations: *const Fraction,
    /// How many `stations` points to, 1 to 1000.
    pub station_count: usize,
    /// How the holes are numbered: a dividing_sense.
    pub sense: i32,
    /// Pin and holes of the circle; NULL where not known.
    pub registration: *const PinInHoleFields,
    /// Diameter of the holes in the body, where it is not that of the circle's.
    pub station_hole_diameter: OptionalLength,
    /// Diameter of the zone of each station's centre, where it is not that of
    /// the circle's holes.
    pub station_position_tolerance: OptionalLength,
}

/// How the pins of a pin plate sit in their holes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum PinHolding {
    /// With clearance.
    Loose = 0,
    /// Pressed in or glued.
    Fixed = 1,
}

/// How closely a bar is levelled. Lengths in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct LevellingFields {
    /// Difference of the readings that is not seen.
    pub reading_mm: f64,
    /// Distance of the two readings along the bar.
    pub travel_mm: f64,
}

/// A plate with pins for a levelled bar. Texts end with NUL.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct PinPlateFields {
    /// What the shop calls it.
    pub name: *const c_char,
    /// Its rings of holes, `circle_count` of them.
    pub circles: *const HoleCircleFields,
    /// How many `circles` points to.
    pub circle_count: usize,
    /// How the holes are numbered: a dividing_sense.
    pub sense: i32,
    /// 1 when the bar may also lie on the side that faces the centre, which
    /// adds half a turn; else 0.
    pub bar_turns_over: i32,
    /// 1 when the bar may also be set upright with a square, which adds a
    /// quarter turn; else 0.
    pub square: i32,
    /// 1 when the bar may also lie on pins of two rings; else 0.
    pub across_rings: i32,
    /// Pins and holes; NULL where not known. Needed for an error figure.
    pub registration: *const PinInHoleFields,
    /// How the pins sit: a dividing_pin_hold.
    pub pin_hold: i32,
    /// Deviation of the bar's edge from straight over its length, at most.
    pub bar_straightness_mm: f64,
    /// How closely the bar is levelled; NULL where not known. Needed for an
    /// error figure.
    pub levelling: *const LevellingFields,
    /// Deviation of the square from 90 degrees, either way, in turns; 0/0
    /// stands for 0.
    pub square_error: Fraction,
}

impl DrilledOnHeadFields {
    fn build(&self) -> Outcome<Drilled> {
        Ok(Drilled::OnDividingHead(DrilledOnHead {
            worm_ratio: ratio(self.worm_ratio)?,
            rougher_pitch_radius: length(self.rougher_pitch_radius_mm, "rougher_pitch_radius_mm")?,
            rougher_hole_position_tolerance: length(
                self.rougher_hole_position_tolerance_mm,
                "rougher_hole_position_tolerance_mm",
            )?,
            rougher_clearance: length(self.rougher_clearance_mm, "rougher_clearance_mm")?,
            worm_error: self.worm_error.or_zero("worm_error")?,
            drill_wander: length(self.drill_wander_mm, "drill_wander_mm")?,
        }))
    }
}

impl DrilledByCoordinatesFields {
    fn build(&self) -> Outcome<Drilled> {
        Ok(Drilled::ByCoordinates(DrilledByCoordinates {
            table_accuracy: length(self.table_accuracy_mm, "table_accuracy_mm")?,
            drill_wander: length(self.drill_wander_mm, "drill_wander_mm")?,
        }))
    }
}

impl PinInHoleFields {
    /// # Safety
    /// Pointers that are not null point to live fields.
    unsafe fn drilled(&self) -> Outcome<Option<Drilled>> {
        let (head, coordinates) = (self.drilled_on_head, self.drilled_by_coordinates);
        let zone_is_given = self.hole_position_tolerance_mm != 0.0;
        if zone_is_given && !(head.is_null() && coordinates.is_null()) {
            return Err(Failure::new(
                Status::Inconsistent,
                "hole_position_tolerance_mm",
                "a zone stands beside how the plate was drilled; accepted: one of the two",
            ));
        }
        // SAFETY: the caller's contract, here and below.
        unsafe {
            match (head.is_null(), coordinates.is_null()) {
                (true, true) => Ok(None),
                (false, true) => {
                    let fields = reference(head, "drilled_on_head")?;
                    let drilled = fields.build().map_err(|it| it.at("drilled_on_head"))?;
                    Ok(Some(drilled))
                }
                (true, false) => {
                    let fields = reference(coordinates, "drilled_by_coordinates")?;
                    let drilled = fields
                        .build()
                        .map_err(|it| it.at("drilled_by_coordinates"))?;
                    Ok(Some(drilled))
                }
                (false, false) => Err(Failure::new(
                    Status::Inconsistent,
                    "drilled_by_coordinates",
                    "drilled on a head and by coordinates; accepted: one of them",
                )),
            }
        }
    }

    /// # Safety
    /// As [`PinInHoleFields::drilled`].
    unsafe fn build(&self) -> Outcome<PinInHole> {
        Ok(PinInHole {
            pin_diameter: length(self.pin_diameter_mm, "pin_diameter_mm")?,
            hole_diameter: length(self.hole_diameter_mm, "hole_diameter_mm")?,
            hole_position_tolerance: length(
                self.hole_position_tolerance_mm,
                "hole_position_tolerance_mm",
            )?,
            hole_diameter_tolerance: length(
                self.hole_diameter_tolerance_mm,
                "hole_diameter_tolerance_mm",
            )?,
            pin_diameter_tolerance: length(
                self.pin_diameter_tolerance_mm,
                "pin_diameter_tolerance_mm",
            )?,
            seating: chosen(self.seating, "seating", &[Seating::Free, Seating::Biased])?,
            // SAFETY: the caller's contract.
            drilled: unsafe { self.drilled()? },
        })
    }
}

/// Pin and holes; none for NULL.
///
/// # Safety
/// A pointer that is not null points to live fields.
pub(crate) unsafe fn registration(pointer: *const PinInHoleFields) -> Outcome<Option<PinInHole>> {
    if pointer.is_null() {
        return Ok(None);
    }
    // SAFETY: the caller's contract.
    let fields = unsafe { reference(pointer, "registration")? };
    // SAFETY: the caller's contract.
    let built = unsafe { fields.build() };
    built
        .map(Some)
        .map_err(|failure| failure.at("registration"))
}

impl HoleCircleFields {
    /// # Safety
    /// `absent` points to as many numbers as it says.
    pub(crate) unsafe fn build(&self) -> Outcome<HoleCircle> {
        // SAFETY: the caller's contract.
        let absent = unsafe { slice(self.absent, self.absent_count, "absent")? };
        Ok(HoleCircle {
            first_hole: self.first_hole.or_zero("first_hole")?,
            absent: absent.to_vec(),
            ..HoleCircle::full(self.holes, self.pitch_radius.length("pitch_radius")?)
        })
    }
}

/// # Safety
/// `circles` points to `count` circles, each as [`HoleCircleFields::build`] wants.
unsafe fn circles(circles: *const HoleCircleFields, count: usize) -> Outcome<Vec<HoleCircle>> {
    // SAFETY: the caller's contract.
    let circles = unsafe { slice(circles, count, "circles")? };
    let each = circles.iter().enumerate().map(|(index, circle)| {
        // SAFETY: the caller's contract.
        unsafe { circle.build() }.map_err(|failure| failure.at(&format!("circles[{index}]")))
    });
    each.collect()
}

impl DirectPlateFields {
    /// # Safety
    /// All pointers are as their comments say.
    pub(crate) unsafe fn build(&self) -> Outcome<DirectPlate> {
        // SAFETY: the caller's contract.
        let (name, circles, registration) = unsafe {
            (
                string(self.name, "name")?,
                circles(self.circles, self.circle_count)?,
                registration(self.registration)?,
            )
        };
        Ok(DirectPlate {
            name,
            circles,
            station: self.station.or_zero("station")?,
            sense: sense(self.sense, "sense")?,
            registration,
            eccentricity: length(self.eccentricity_mm, "eccentricity_mm")?,
            bore_clearance: length(self.bore_clearance_mm, "bore_clearance_mm")?,
        })
    }
}

impl VernierIndexerFields {
    /// # Safety
    /// All pointers are as their comments say.
    pub(crate) unsafe fn build(&self) -> Outcome<VernierIndexer> {
        // SAFETY: the caller's contract.
        let (name, circle, stations, registration) = unsafe {
            (
                string(self.name, "name")?,
                self.circle.build().map_err(|it| it.at("circle"))?,
                slice(self.stations, self.station_count, "stations")?,
                registration(self.registration)?,
            )
        };
        Ok(VernierIndexer {
            name,
            circle,
            stations: angles(stations, "stations")?,
            sense: sense(self.sense, "sense")?,
            registration,
            station_hole_diameter: self.station_hole_diameter.length("station_hole_diameter")?,
            station_position_tolerance: self
                .station_position_tolerance
                .length("station_position_tolerance")?,
            measured_stations: None,
        })
    }
}

/// Angles of a list.
pub(crate) fn angles(list: &[Fraction], name: &str) -> Outcome<Vec<dividing_core::Angle>> {
    let each = list.iter().enumerate();
    each.map(|(index, angle)| angle.given(&format!("{name}[{index}]")))
        .collect()
}

impl PinPlateFields {
    /// # Safety
    /// All pointers are as their comments say.
    pub(crate) unsafe fn build(&self) -> Outcome<PinPlate> {
        // SAFETY: the caller's contract.
        let (name, circles, registration, levelling) = unsafe {
            (
                string(self.name, "name")?,
                circles(self.circles, self.circle_count)?,
                registration(self.registration)?,
                self.levelling()?,
            )
        };
        Ok(PinPlate {
            name,
            circles,
            sense: sense(self.sense, "sense")?,
            bar_turns_over: yes(self.bar_turns_over, "bar_turns_over")?,
            square: yes(self.square, "square")?,
            across_rings: yes(self.across_rings, "across_rings")?,
            registration,
            pin_hold: chosen(self.pin_hold, "pin_hold", &[PinHold::Loose, PinHold::Fixed])?,
            bar_straightness: length(self.bar_straightness_mm, "bar_straightness_mm")?,
            levelling,
            square_error: self.square_error.or_zero("square_error")?,
        })
    }

    /// # Safety
    /// As [`PinPlateFields::build`].
    unsafe fn levelling(&self) -> Outcome<Option<Levelling>> {
        if self.levelling.is_null() {
            return Ok(None);
        }
        // SAFETY: the caller's contract.
        let fields = unsafe { reference(self.levelling, "levelling")? };
        Ok(Some(Levelling {
            reading: length(fields.reading_mm, "levelling.reading_mm")?,
            travel: length(fields.travel_mm, "levelling.travel_mm")?,
        }))
    }
}
