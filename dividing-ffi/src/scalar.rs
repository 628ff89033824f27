//! Plain functions of numbers that a spreadsheet can declare: numbers in, a
//! number out, NaN where there is no answer.

use dividing_core::equipment::WormRatio;
use dividing_core::features::{BoltCircle, HolePlace, MAX_FEATURES};
use dividing_core::{Angle, Length};

use crate::angle::Fraction;
use crate::error::{Failure, Outcome};
use crate::guard::guard_number;
use crate::status::Status;

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

fn bolt_circle(radius_mm: f64, count: i64) -> Outcome<BoltCircle> {
    let pitch_radius =
        Length::from_mm(radius_mm).map_err(|error| Failure::from(error.at("radius_mm")))?;
    if pitch_radius <= Length::ZERO {
        return Err(Failure::new(
            Status::OutOfRange,
            "radius_mm",
            format!("{radius_mm} mm is out of range; accepted: greater than 0 mm"),
        ));
    }
    let count = u32::try_from(count)
        .ok()
        .filter(|count| (2..=MAX_FEATURES).contains(count))
        .ok_or_else(|| {
            Failure::new(
                Status::OutOfRange,
                "count",
                format!("{count} is out of range; accepted: 2 to {MAX_FEATURES}"),
            )
        })?;
    Ok(BoltCircle {
        count,
        pitch_radius,
        hole_diameter: None,
        first_angle: Angle::ZERO,
        direction: Default::default(),
        axes: None,
        chord_checks: Vec::new(),
    })
}

fn hole_place(radius_mm: f64, count: i64, hole: i64, first_angle_deg: f64) -> Outcome<HolePlace> {
    let circle = bolt_circle(radius_mm, count)?;
    let first = Angle::from_degrees_rounded(first_angle_deg, FINEST)
        .map_err(|error| Failure::from(error.at("first_angle_deg")))?;
    Ok(circle.place(turns(hole, count)?.checked_add(first)?))
}

/// First angles are taken to this part of a turn, a millionth of a second of arc.
const FINEST: i128 = 1_000_000_000_000;

/// X of a hole of a bolt circle, from the centre, in millimetres.
///
/// `radius_mm` is that of the pitch circle, above 0 to 100000; `count` holes, 2
/// to 100000, equally spaced; `hole` counts from 0, counter-clockwise, and goes
/// round again beyond the last; `first_angle_deg` is the drawing angle of hole
/// 0 in degrees from the X axis.
///
/// Errors: NaN for a value outside these limits; dividing_last_error_text says
/// which. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_bolt_circle_x_mm(
    radius_mm: f64,
    count: i64,
    hole: i64,
    first_angle_deg: f64,
) -> f64 {
    guard_number(|| Ok(hole_place(radius_mm, count, hole, first_angle_deg)?.x_mm))
}

/// Y of a hole of a bolt circle, from the centre, in millimetres; arguments,
/// errors and threads as dividing_bolt_circle_x_mm.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_bolt_circle_y_mm(
    radius_mm: f64,
    count: i64,
    hole: i64,
    first_angle_deg: f64,
) -> f64 {
    guard_number(|| Ok(hole_place(radius_mm, count, hole, first_angle_deg)?.y_mm))
}

/// Centre distance of neighbouring holes of a bolt circle, in millimetres.
///
/// `radius_mm` and `count` as dividing_bolt_circle_x_mm.
///
/// Errors: NaN for a value outside the limits; dividing_last_error_text says
/// which. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_bolt_circle_chord_mm(radius_mm: f64, count: i64) -> f64 {
    guard_number(|| Ok(bolt_circle(radius_mm, count)?.neighbour_chord_mm()))
}

/// The move of the crank for one of `divisions` equal parts, in crank turns.
fn crank_move(worm_turns: i64, spindle_turns: i64, divisions: i64) -> Outcome<Angle> {
    let ratio = WormRatio::new(worm_turns.into(), spindle_turns.into())
        .map_err(|error| Failure::from(error.at("worm_turns")))?;
    if !(1..=MAX_DIVISIONS).contains(&divisions) {
        return Err(Failure::new(
            Status::OutOfRange,
            "divisions",
            format!("{divisions} is out of range; accepted: 1 to {MAX_DIVISIONS}"),
        ));
    }
    Ok(Angle::new(ratio.numerator(), ratio.denominator())?.checked_div(divisions.into())?)
}

/// Most divisions and most holes of a circle in the functions of a crank.
const MAX_DIVISIONS: i64 = 1_000_000_000;

/// Whole crank turns in the move for one of `divisions` equal parts.
///
/// The worm ratio is `worm_turns` of the crank for `spindle_turns` of the
/// spindle, 40 and 1 for the usual head, each 1 to 100000; `divisions` is 1 to
/// 1000000000. The move is worm_turns / (spindle_turns * divisions) turns.
///
/// Errors: NaN for a value outside these limits; dividing_last_error_text says
/// which. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_crank_whole_turns(
    worm_turns: i64,
    spindle_turns: i64,
    divisions: i64,
) -> f64 {
    guard_number(|| {
        let movement = crank_move(worm_turns, spindle_turns, divisions)?;
        let whole = movement.checked_sub(movement.within_turn())?;
        Ok(whole.to_turns_f64())
    })
}

/// Holes beyond the whole crank turns in the move for one of `divisions` equal
/// parts, on a circle of `holes` holes, 1 to 1000000000.
///
/// The other arguments are those of dividing_crank_whole_turns.
///
/// Errors: NaN when the circle does not hold the move exactly and for a value
/// outside the limits; dividing_last_error_text says which. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_crank_holes(
    worm_turns: i64,
    spindle_turns: i64,
    divisions: i64,
    holes: i64,
) -> f64 {
    guard_number(|| {
        let rest = crank_move(worm_turns, spindle_turns, divisions)?.within_turn();
        if !(1..=MAX_DIVISIONS).contains(&holes) {
            return Err(Failure::new(
                Status::OutOfRange,
                "holes",
                format!("{holes} is out of range; accepted: 1 to {MAX_DIVISIONS}"),
            ));
        }
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
