//! What the bench needs of a pattern: holes in arrays, tables, drawings, a
//! drill program, and the plate as equipment.

use std::ffi::c_char;

use dividing_core::pattern::outputs::{
    Datum, DrillStyle, DrillingData, TableOptions, TableUnit, check_dimensions, drill_program,
    drill_table, plate_dxf, plate_svg,
};

use crate::angle::Fraction;
use crate::array::{self, OutArray};
use crate::error::Outcome;
use crate::fields::{chosen, fitted, length, string};
use crate::guard::guard;
use crate::handle;
use crate::live;
use crate::pattern::PatternHandle;
use crate::pointer::{Out, reference};
use crate::status::Status;
use crate::text;
use crate::workshop::WorkshopHandle;

/// Arrays of the caller for holes, each with room for `capacity` entries; a
/// column whose pointer is NULL is left out.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct HolePlaces {
    /// Room of each array, in entries.
    pub capacity: usize,
    /// The ring, counted from 0 from the outside.
    pub ring: *mut u32,
    /// The hole's number on its ring.
    pub number: *mut u32,
    /// Numerator of its exact angle in turns.
    pub angle_numerator: *mut i64,
    /// Denominator of its exact angle.
    pub angle_denominator: *mut i64,
    /// X of its centre from the plate's centre, in millimetres.
    pub x_mm: *mut f64,
    /// Y of its centre.
    pub y_mm: *mut f64,
}

/// All holes, ring by ring from the outside, into the caller's arrays;
/// dividing_pattern_hole_count says how many there are.
///
/// Errors: buffer_too_small; overflow for an angle beyond 64-bit numbers;
/// null_pointer, misaligned; on any of them no array is touched. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_holes(
    pattern: *const PatternHandle,
    places: *const HolePlaces,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (pattern, places, (ring, number, above, below, x, y)) = unsafe {
            let places = reference(places, "places")?;
            let room = places.capacity;
            (
                live::reference(pattern, "pattern")?,
                places,
                (
                    OutArray::unless_null(places.ring, room, "ring")?,
                    OutArray::unless_null(places.number, room, "number")?,
                    OutArray::unless_null(places.angle_numerator, room, "angle_numerator")?,
                    OutArray::unless_null(places.angle_denominator, room, "angle_denominator")?,
                    OutArray::unless_null(places.x_mm, room, "x_mm")?,
                    OutArray::unless_null(places.y_mm, room, "y_mm")?,
                ),
            )
        };
        let needs_angles = above.is_some() || below.is_some();
        let mut holes = Vec::new();
        for (index, of, hole) in pattern.pattern().holes() {
            let turns = if needs_angles {
                Fraction::of(hole.angle)?
            } else {
                Fraction {
                    numerator: 0,
                    denominator: 1,
                }
            };
            let (x, y) = hole.position_mm(of.radius_mm);
            holes.push((fitted::<u32, _>(index, "ring")?, hole.number, turns, x, y));
        }
        array::check_capacity(places.capacity, holes.len(), "capacity")?;
        if let Some(out) = ring {
            out.write(holes.iter().map(|it| it.0));
        }
        if let Some(out) = number {
            out.write(holes.iter().map(|it| it.1));
        }
        if let Some(out) = above {
            out.write(holes.iter().map(|it| it.2.numerator));
        }
        if let Some(out) = below {
            out.write(holes.iter().map(|it| it.2.denominator));
        }
        if let Some(out) = x {
            out.write(holes.iter().map(|it| it.3));
        }
        if let Some(out) = y {
            out.write(holes.iter().map(|it| it.4));
        }
        Ok(())
    })
}

/// The angles of the stations of a vernier pair in turns, into the caller's
/// array of `capacity` fractions.
///
/// Errors: buffer_too_small, overflow, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_stations(
    pattern: *const PatternHandle,
    turns: *mut Fraction,
    capacity: usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (pattern, turns) = unsafe {
            (
                live::reference(pattern, "pattern")?,
                OutArray::new(turns, capacity, "turns")?,
            )
        };
        let stations = pattern.pattern().stations.iter();
        let angles = stations.map(|station| Fraction::of(station.angle));
        turns.give(&angles.collect::<Outcome<Vec<_>>>()?)
    })
}

/// Where the coordinates of a plate start.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum PlateDatum {
    /// The centre of the plate.
    Centre = 0,
    /// The left and lower edges, so that all coordinates are positive.
    LeftAndLowerEdge = 1,
}

/// How a table of holes is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct TableFields {
    /// Digits after the decimal point, 0 to 9: the machine's resolution.
    pub digits: u8,
    /// 1 for inches, 0 for millimetres.
    pub inches: i32,
    /// Where coordinates start: a dividing_plate_datum.
    pub datum: i32,
}

impl TableFields {
    fn build(self) -> Outcome<TableOptions> {
        Ok(TableOptions {
            digits: self.digits,
            unit: unit(self.inches)?,
            datum: chosen(
                self.datum,
                "datum",
                &[Datum::Centre, Datum::LeftAndLowerEdge],
            )?,
        })
    }
}

fn unit(inches: i32) -> Outcome<TableUnit> {
    chosen(inches, "inches", &[TableUnit::Millimetre, TableUnit::Inch])
}

/// The table of holes as comma-separated values: a heading, then a line a hole.
///
/// Errors: out_of_range, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_csv(
    pattern: *const PatternHandle,
    options: TableFields,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::text_of(pattern, "pattern", out, |it| {
            Ok(drill_table(it.pattern(), &options.build()?)?.to_csv())
        })
    }
}

/// The table of holes as JSON: labels, exact angles, coordinates as printed and
/// what their rounding does.
///
/// Errors, ownership and threads as dividing_pattern_csv.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_hole_table_json(
    pattern: *const PatternHandle,
    options: TableFields,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::text_of(pattern, "pattern", out, |it| {
            text::json(&drill_table(it.pattern(), &options.build()?)?)
        })
    }
}

/// What to measure on the finished plate, as JSON: chords over pins between
/// neighbours, across circles and between rings.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_check_dimensions_json(
    pattern: *const PatternHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::text_of(pattern, "pattern", out, |it| {
            text::json(&check_dimensions(it.pattern()))
        })
    }
}

/// The drawing of the plate as SVG.
///
/// Errors, ownership and threads as dividing_pattern_check_dimensions_json.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_svg(
    pattern: *const PatternHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::text_of(pattern, "pattern", out, |it| Ok(plate_svg(it.pattern()))) }
}

/// The drawing of the plate as DXF, in millimetres, or in inches with `inches`
/// 1.
///
/// Errors: out_of_range, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_dxf(
    pattern: *const PatternHandle,
    inches: i32,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::text_of(pattern, "pattern", out, |it| {
            Ok(plate_dxf(it.pattern(), unit(inches)?))
        })
    }
}

/// What a drill program needs to know. Lengths are in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct DrillFields {
    /// Digits, unit and datum of the coordinates.
    pub table: TableFields,
    /// 1 for plain moves (G00, G01), 0 for the drilling cycle (G81).
    pub moves: i32,
    /// Height above the face for travel and retract, above 0.
    pub clearance_height_mm: f64,
    /// Depth below the face, above 0.
    pub depth_mm: f64,
    /// Feed in millimetres a minute, above 0.
    pub feed_mm_per_minute: f64,
    /// Spindle speed in turns a minute, 1 to 100000.
    pub spindle_rpm: u32,
}

/// The drill program of the plate (ISO 6983). Read it before it runs: the
/// machine maker's instructions stand above it.
///
/// Errors: out_of_range, not_finite, null_pointer, misaligned. Ownership: `*out`
/// is the caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_drill_program(
    pattern: *const PatternHandle,
    drilling: *const DrillFields,
    out: *mut *mut c_char,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (pattern, fields, out) = unsafe {
            (
                live::reference(pattern, "pattern")?,
                reference(drilling, "drilling")?,
                Out::new(out, "out")?,
            )
        };
        let data = DrillingData {
            table: fields.table.build()?,
            style: chosen(
                fields.moves,
                "moves",
                &[DrillStyle::Cycle, DrillStyle::Moves],
            )?,
            clearance_height: length(fields.clearance_height_mm, "clearance_height_mm")?,
            depth: length(fields.depth_mm, "depth_mm")?,
            feed_per_minute: length(fields.feed_mm_per_minute, "feed_mm_per_minute")?,
            spindle_rpm: fields.spindle_rpm,
        };
        text::give(drill_program(pattern.pattern(), &data)?, out)
    })
}

/// A new workshop: another one and the plate, as equipment of this name; a
/// polygon gives its faces too. `name` ends with NUL; `workshop` may be NULL for
/// a workshop of the plate alone.
///
/// Errors: duplicate for a name that is taken; inconsistent for a plate without
/// holes; out_of_range, null_pointer, invalid_utf8, misaligned. Ownership:
/// `*out` is the caller's, freed with dividing_workshop_free; the workshop given
/// stays as it is. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_pattern_into_workshop(
    pattern: *const PatternHandle,
    name: *const c_char,
    workshop: *const WorkshopHandle,
    out: *mut *mut WorkshopHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (pattern, name, out) = unsafe {
            (
                live::reference(pattern, "pattern")?,
                string(name, "name")?,
                Out::new(out, "out")?,
            )
        };
        let equipment = pattern.pattern().equipment(&name)?;
        let made = if workshop.is_null() {
            WorkshopHandle::new(dividing_core::Workshop::new(name, equipment)?)?
        } else {
            // SAFETY: the contract of this function.
            unsafe { live::reference(workshop, "workshop")? }.with(equipment)?
        };
        live::give(made, out);
        Ok(())
    })
}
