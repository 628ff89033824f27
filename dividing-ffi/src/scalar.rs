//! Plain functions of numbers that a spreadsheet can declare: numbers in, a
//! number out, NaN where there is no answer.
//!
//! Cells hold floating-point numbers, so counts come as such and must be whole.

use std::ffi::c_char;

use dividing_core::accuracy::pin_play;
use dividing_core::equipment::WormRatio;
use dividing_core::features::{BoltCircle, Flats, HolePlace, MAX_FEATURES};
use dividing_core::fits::FitClass;
use dividing_core::gauge_blocks::sine_bar;
use dividing_core::{Angle, Length};

use crate::angle::Fraction;
use crate::error::{Failure, Outcome};
use crate::guard::guard_number;
use crate::status::Status;
use crate::text;

fn turns(numerator: i64, denominator: i64) -> Outcome<Angle> {
    Fraction {
        numerator,
        denominator,
    }
    .angle()
}

/// The angle of `numerator / denominator` turns, in degrees.
///
/// Errors: NaN for a denominator of 0; dividing_last_error_text says why.
/// Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_turns_to_degrees(numerator: i64, denominator: i64) -> f64 {
    guard_number(|| Ok(turns(numerator, denominator)?.to_degrees_f64()))
}

/// The angle of `numerator / denominator` turns, in radians.
///
/// Errors: NaN for a denominator of 0; dividing_last_error_text says why.
/// Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_turns_to_radians(numerator: i64, denominator: i64) -> f64 {
    guard_number(|| Ok(turns(numerator, denominator)?.to_radians_f64()))
}

/// A count from a cell: whole, and within limits.
fn whole(value: f64, name: &str, least: i64, most: i64) -> Outcome<i64> {
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_precision_loss,
        reason = "checked: whole, and within limits far below 2^53"
    )]
    let found = (value.fract() == 0.0 && value >= least as f64 && value <= most as f64)
        .then_some(value as i64);
    found.ok_or_else(|| {
        Failure::new(
            Status::OutOfRange,
            name,
            format!("{value} is out of range; accepted: a whole number from {least} to {most}"),
        )
    })
}

/// A length from a cell, above zero.
fn size(value_mm: f64, name: &str) -> Outcome<Length> {
    let length = Length::from_mm(value_mm).map_err(|error| Failure::from(error.at(name)))?;
    if length <= Length::ZERO {
        return Err(Failure::new(
            Status::OutOfRange,
            name,
            format!("{value_mm} mm is out of range; accepted: greater than 0 mm"),
        ));
    }
    Ok(length)
}

fn degrees(value_deg: f64, name: &str) -> Outcome<Angle> {
    Angle::from_degrees_rounded(value_deg, FINEST).map_err(|error| error.at(name).into())
}

/// Angles from cells are taken to this part of a turn, a millionth of a second
/// of arc.
const FINEST: i128 = 1_000_000_000_000;

/// Most divisions and most holes of a circle in the functions of a crank.
const MAX_DIVISIONS: i64 = 1_000_000_000;

/// Holes are counted round and round up to here.
const MAX_PLACE: i64 = 1_000_000_000_000;

fn bolt_circle(radius_mm: f64, count: f64) -> Outcome<BoltCircle> {
    let count = whole(count, "count", 2, MAX_FEATURES.into())?;
    Ok(BoltCircle {
        count: u32::try_from(count).unwrap_or(MAX_FEATURES),
        pitch_radius: size(radius_mm, "radius_mm")?,
        hole_diameter: None,
        first_angle: Angle::ZERO,
        direction: Default::default(),
        axes: None,
        chord_checks: Vec::new(),
    })
}

fn hole_place(radius_mm: f64, count: f64, hole: f64, first_angle_deg: f64) -> Outcome<HolePlace> {
    let circle = bolt_circle(radius_mm, count)?;
    let first = degrees(first_angle_deg, "first_angle_deg")?;
    let hole = whole(hole, "hole", -MAX_PLACE, MAX_PLACE)?;
    Ok(circle.place(turns(hole, circle.count.into())?.checked_add(first)?))
}

/// X of a hole of a bolt circle, from the centre, in millimetres.
///
/// `radius_mm` is that of the pitch circle, above 0 to 100000; `count` holes, 2
/// to 100000, equally spaced; `hole` counts from 0, counter-clockwise, and goes
/// round again beyond the last; `first_angle_deg` is the drawing angle of hole
/// 0 in degrees from the X axis. Counts are whole numbers.
///
/// Errors: NaN for a value outside these limits; dividing_last_error_text says
/// which. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_bolt_circle_x_mm(
    radius_mm: f64,
    count: f64,
    hole: f64,
    first_angle_deg: f64,
) -> f64 {
    guard_number(|| Ok(hole_place(radius_mm, count, hole, first_angle_deg)?.x_mm))
}

/// Y of a hole of a bolt circle, from the centre, in millimetres.
///
/// `radius_mm`, `count`, `hole` and `first_angle_deg` as
/// dividing_bolt_circle_x_mm.
///
/// Errors: as dividing_bolt_circle_x_mm. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_bolt_circle_y_mm(
    radius_mm: f64,
    count: f64,
    hole: f64,
    first_angle_deg: f64,
) -> f64 {
    guard_number(|| Ok(hole_place(radius_mm, count, hole, first_angle_deg)?.y_mm))
}

/// Centre distance of two holes of a bolt circle, in millimetres.
///
/// `radius_mm` and `count` as dividing_bolt_circle_x_mm; `spaces` hole spaces
/// from one to the other, 0 to `count`: 1 for neighbours.
///
/// Errors: NaN for a value outside the limits; dividing_last_error_text says
/// which. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_bolt_circle_chord_mm(radius_mm: f64, count: f64, spaces: f64) -> f64 {
    guard_number(|| {
        let circle = bolt_circle(radius_mm, count)?;
        let spaces = whole(spaces, "spaces", 0, circle.count.into())?;
        Ok(circle.chord_mm(u32::try_from(spaces).unwrap_or(circle.count)))
    })
}

/// The turn of the crank from zero to one of `divisions` equal parts.
fn crank_turn(worm_turns: f64, spindle_turns: f64, divisions: f64, part: i64) -> Outcome<Angle> {
    let worm_turns = whole(worm_turns, "worm_turns", 1, MAX_WORM_TURNS)?;
    let spindle_turns = whole(spindle_turns, "spindle_turns", 1, MAX_WORM_TURNS)?;
    let divisions = whole(divisions, "divisions", 1, MAX_DIVISIONS)?;
    let ratio = WormRatio::new(worm_turns.into(), spindle_turns.into())
        .map_err(|error| Failure::from(error.at("worm_turns")))?;
    Ok(Angle::new(ratio.numerator(), ratio.denominator())?
        .checked_div(divisions.into())?
        .checked_mul(part.into())?)
}

/// Most turns of either side of a worm ratio.
const MAX_WORM_TURNS: i64 = 100_000;

/// Whole crank turns in the move for one of `divisions` equal parts.
///
/// The worm ratio is `worm_turns` of the crank for `spindle_turns` of the
/// spindle, 40 and 1 for the usual head, each 1 to 100000; `divisions` is 1 to
/// 1000000000, all whole numbers. The move is
/// worm_turns / (spindle_turns * divisions) turns.
///
/// Errors: NaN for a value outside these limits; dividing_last_error_text says
/// which. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_crank_whole_turns(
    worm_turns: f64,
    spindle_turns: f64,
    divisions: f64,
) -> f64 {
    guard_number(|| {
        let movement = crank_turn(worm_turns, spindle_turns, divisions, 1)?;
        let whole = movement.checked_sub(movement.within_turn())?;
        Ok(whole.to_turns_f64())
    })
}

/// Holes beyond the whole crank turns in the move for one of `divisions` equal
/// parts, on a circle of `holes` holes, 1 to 1000000000.
///
/// `worm_turns`, `spindle_turns` and `divisions` as dividing_crank_whole_turns.
///
/// Errors: NaN when the circle does not hold the move exactly, and for a value
/// outside the limits; dividing_last_error_text says which. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_crank_holes(
    worm_turns: f64,
    spindle_turns: f64,
    divisions: f64,
    holes: f64,
) -> f64 {
    guard_number(|| {
        let rest = crank_turn(worm_turns, spindle_turns, divisions, 1)?.within_turn();
        let holes = whole(holes, "holes", 1, MAX_DIVISIONS)?;
        let count = rest.checked_mul(holes.into())?;
        if count.denominator() != 1 {
            return Err(Failure::new(
                Status::Inconsistent,
                "holes",
                format!(
                    "a circle of {holes} holes does not hold {}/{} of a crank turn; \
                     accepted: a multiple of {} holes",
                    rest.numerator(),
                    rest.denominator(),
                    rest.denominator()
                ),
            ));
        }
        Ok(count.to_turns_f64())
    })
}

/// How far off the spindle stands at one of `divisions` equal parts when the
/// crank is set from zero to the nearest hole, in seconds of arc: attained less
/// required; 0 where the circle holds the part exactly.
///
/// `worm_turns`, `spindle_turns` and `divisions` as dividing_crank_whole_turns,
/// `holes` as dividing_crank_holes; `part` is the part, a whole number counted
/// from 0, at most 1000000000. Between two holes equally near the lower counts.
///
/// Errors: NaN for a value outside the limits; dividing_last_error_text says
/// which. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_crank_residual_arcsec(
    worm_turns: f64,
    spindle_turns: f64,
    divisions: f64,
    holes: f64,
    part: f64,
) -> f64 {
    guard_number(|| {
        let part = whole(part, "part", 0, MAX_DIVISIONS)?;
        let required = crank_turn(worm_turns, spindle_turns, divisions, part)?;
        let holes = whole(holes, "holes", 1, MAX_DIVISIONS)?;
        let counted = required.checked_mul(holes.into())?;
        // Upward of the middle between two holes it is the next hole.
        let beyond = counted.within_turn();
        let to_next = beyond.checked_sub(Angle::new(1, 1)?)?;
        let off = if beyond > Angle::HALF_TURN {
            to_next
        } else {
            beyond
        };
        let crank = Angle::ZERO.checked_sub(off)?.checked_div(holes.into())?;
        let spindle = crank
            .checked_div(whole(worm_turns, "worm_turns", 1, MAX_WORM_TURNS)?.into())?
            .checked_mul(whole(spindle_turns, "spindle_turns", 1, MAX_WORM_TURNS)?.into())?;
        Ok(spindle.to_degrees_f64() * 3600.0)
    })
}

/// Depth of cut of a flat on round stock, in millimetres: half of the stock's
/// diameter less the size across flats.
///
/// `stock_diameter_mm` and `across_flats_mm` are above 0 to 100000 mm, the stock
/// the larger; across flats is twice the distance from the axis to a flat, for
/// odd numbers of flats too.
///
/// Errors: NaN for a value outside the limits; dividing_last_error_text says
/// which. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_flat_depth_mm(stock_diameter_mm: f64, across_flats_mm: f64) -> f64 {
    guard_number(|| {
        let flats = Flats {
            count: 2,
            across_flats: size(across_flats_mm, "across_flats_mm")?,
            stock_diameter: size(stock_diameter_mm, "stock_diameter_mm")?,
            first_angle: Angle::ZERO,
        };
        if flats.across_flats >= flats.stock_diameter {
            return Err(Failure::new(
                Status::Inconsistent,
                "across_flats_mm",
                format!(
                    "{across_flats_mm} mm leave no cut; accepted: less than the diameter of the \
                     stock, {stock_diameter_mm} mm"
                ),
            ));
        }
        Ok(flats.geometry().depth_mm)
    })
}

/// # Safety
/// As [`text::read`].
unsafe fn fit_clearance(
    fit: *const c_char,
    length: usize,
    nominal_mm: f64,
    which: fn(dividing_core::fits::Clearance) -> Length,
) -> f64 {
    guard_number(|| {
        // SAFETY: the caller's contract.
        let fit: FitClass = unsafe { text::read(fit, length, "fit")? }
            .parse()
            .map_err(|error: dividing_core::Error| Failure::from(error.at("fit")))?;
        let nominal = size(nominal_mm, "nominal_mm")?;
        let fit = fit
            .on(nominal)
            .map_err(|error| Failure::from(error.at("nominal_mm")))?;
        Ok(which(fit.clearance()?).mm())
    })
}

/// The least clearance of a fit, smallest hole less largest pin, in
/// millimetres; below zero where they interfere.
///
/// `fit` names the classes of the hole and the pin after ISO 286, "H7/g6", in
/// UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED;
/// `nominal_mm` is the nominal size, above 0 to 500 mm.
///
/// Errors: NaN for a text that names no fit and a size outside the limits;
/// dividing_last_error_text says which. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_fit_least_clearance_mm(
    fit: *const c_char,
    length: usize,
    nominal_mm: f64,
) -> f64 {
    // SAFETY: the contract of this function.
    unsafe { fit_clearance(fit, length, nominal_mm, |it| it.least) }
}

/// The greatest clearance of a fit, largest hole less smallest pin, in
/// millimetres; below zero where even they interfere.
///
/// `fit`, `length` and `nominal_mm` as dividing_fit_least_clearance_mm.
///
/// Errors: as dividing_fit_least_clearance_mm. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_fit_greatest_clearance_mm(
    fit: *const c_char,
    length: usize,
    nominal_mm: f64,
) -> f64 {
    // SAFETY: the contract of this function.
    unsafe { fit_clearance(fit, length, nominal_mm, |it| it.greatest) }
}

/// The worst error of angle of a part held by a pin in a hole, either way, in
/// seconds of arc: the play of the pin, by the exact geometry, and the position
/// of the hole.
///
/// `radius_mm` is that of the circle of holes; `clearance_mm` hole less pin, a
/// diameter, at least 0; `position_mm` the diameter of the zone within which
/// the centre of the hole lies, at least 0 and less than `radius_mm`: half of it
/// counts, over the radius.
///
/// Errors: NaN for a value outside these limits and for a clearance that does
/// not hold the part at any angle; dividing_last_error_text says which.
/// Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_pin_worst_error_arcsec(
    radius_mm: f64,
    clearance_mm: f64,
    position_mm: f64,
) -> f64 {
    guard_number(|| {
        let radius_mm = size(radius_mm, "radius_mm")?.mm();
        let play = pin_play(radius_mm, radius_mm, clearance_mm)?.exact_rad;
        if !(0.0..radius_mm).contains(&position_mm) {
            return Err(Failure::new(
                Status::OutOfRange,
                "position_mm",
                format!("{position_mm} mm is out of range; accepted: 0 mm to below {radius_mm} mm"),
            ));
        }
        Ok((play + position_mm / 2.0 / radius_mm).to_degrees() * 3600.0)
    })
}

/// Height of the gauge blocks that set a sine bar to an angle, in millimetres.
///
/// `length_mm` is the distance of the rollers, above 0 to 100000 mm;
/// `angle_deg` is 0 to below 90 degrees.
///
/// Errors: NaN for a value outside these limits; dividing_last_error_text says
/// which. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_sine_bar_height_mm(length_mm: f64, angle_deg: f64) -> f64 {
    guard_number(|| {
        let length = size(length_mm, "length_mm")?;
        let angle = degrees(angle_deg, "angle_deg")?;
        sine_bar::height_mm(length, angle).map_err(|_| {
            Failure::new(
                Status::OutOfRange,
                "angle_deg",
                format!("{angle_deg} degrees are out of range; accepted: 0 to below 90"),
            )
        })
    })
}
