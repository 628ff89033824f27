//! The formulae of the trade as functions of numbers or arrays.

use dividing_core::equipment::WormRatio;
use dividing_core::features::{BoltCircle, Flats, MAX_FEATURES};
use dividing_core::gauge_blocks::sine_bar;
use dividing_core::{Angle, Error, ErrorKind, Length, Result};
use pyo3::prelude::*;

use crate::argument::{FRACTION, ratio_of, whole_within};
use crate::array::{Given, each};
use crate::errors::{core, wrong_type};

type Made<'py> = PyResult<Bound<'py, PyAny>>;
type Any<'a, 'py> = &'a Bound<'py, PyAny>;

fn length(mm: f64, name: &str) -> Result<Length> {
    let length = Length::from_mm(mm).map_err(|error| error.at(name))?;
    if mm > 0.0 {
        return Ok(length);
    }
    Err(Error::out_of_range(format!("{mm} mm"), "greater than 0 mm").at(name))
}

fn finite(value: f64, name: &str) -> Result<f64> {
    if value.is_finite() {
        return Ok(value);
    }
    let message = format!("{value} is not finite; accepted: finite numbers");
    Err(Error::new(ErrorKind::NotFinite, message).at(name))
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a whole number within the limits"
)]
fn whole(value: f64, name: &str, least: u32, most: u32) -> Result<u32> {
    if finite(value, name)?.fract() == 0.0 && (f64::from(least)..=f64::from(most)).contains(&value)
    {
        return Ok(value as u32);
    }
    let accepted = format!("a whole number from {least} to {most}");
    Err(Error::out_of_range(value, accepted).at(name))
}

fn circle(radius_mm: f64, count: f64) -> Result<BoltCircle> {
    Ok(BoltCircle {
        count: whole(count, "count", 2, MAX_FEATURES)?,
        pitch_radius: length(radius_mm, "radius_mm")?,
        hole_diameter: None,
        first_angle: Angle::ZERO,
        direction: Default::default(),
        axes: None,
        chord_checks: Vec::new(),
    })
}

fn one(py: Python<'_>) -> Bound<'_, PyAny> {
    pyo3::types::PyFloat::new(py, 1.0).into_any()
}

/// Centre distance of holes `spaces` apart on a bolt circle, in millimetres:
/// `2 * radius * sin(pi * spaces / count)` (plane geometry).
///
/// Arguments are numbers, or arrays that broadcast; numbers give a float, arrays
/// a new array of float64. `count` is 2 to 100000, `spaces` 0 to `count`.
///
/// Raises OutOfRangeError or NotFiniteError that names the argument, with the
/// index of the entry for an array; TypeError for what is no number.
///
/// >>> dividing.bolt_circle_chord_mm(30, 6)
/// 29.999999999999996
/// >>> dividing.bolt_circle_chord_mm(30, [2, 3, 6]).round(3).tolist()
/// [60.0, 51.962, 30.0]
#[pyfunction]
#[pyo3(signature = (radius_mm, count, spaces=None),
       text_signature = "(radius_mm, count, spaces=1)")]
pub(crate) fn bolt_circle_chord_mm<'py>(
    radius_mm: Any<'_, 'py>,
    count: Any<'_, 'py>,
    spaces: Option<Any<'_, 'py>>,
) -> Made<'py> {
    let py = radius_mm.py();
    let one = one(py);
    let given = [
        ("radius_mm", Some(radius_mm)),
        ("count", Some(count)),
        ("spaces", Some(spaces.unwrap_or(&one))),
    ];
    each(py, given, |[radius_mm, count, spaces]| {
        let circle = circle(radius_mm, count)?;
        Ok(circle.chord_mm(whole(spaces, "spaces", 0, circle.count)?))
    })
}

fn flats(count: f64, across_flats_mm: f64, stock_diameter_mm: f64) -> Result<Flats> {
    let flats = Flats {
        count: whole(count, "count", 2, MAX_FEATURES)?,
        across_flats: length(across_flats_mm, "across_flats_mm")?,
        stock_diameter: length(stock_diameter_mm, "stock_diameter_mm")?,
        first_angle: Angle::ZERO,
    };
    if across_flats_mm < stock_diameter_mm {
        return Ok(flats);
    }
    let accepted = format!("below the stock diameter of {stock_diameter_mm} mm");
    Err(Error::out_of_range(format!("{across_flats_mm} mm"), accepted).at("across_flats_mm"))
}

const fn of_flats<'a, 'py>(
    count: Any<'a, 'py>,
    across_flats_mm: Any<'a, 'py>,
    stock_diameter_mm: Any<'a, 'py>,
) -> [Given<'a, 'py>; 3] {
    [
        ("count", Some(count)),
        ("across_flats_mm", Some(across_flats_mm)),
        ("stock_diameter_mm", Some(stock_diameter_mm)),
    ]
}

/// Width of one finished flat in millimetres: `across_flats * tan(pi / count)`
/// where corners come out sharp, else the chord of the stock (plane geometry).
///
/// Arguments, results and errors as `bolt_circle_chord_mm`; `count` is 2 to
/// 100000, across flats (twice the distance from the axis) below the stock.
///
/// >>> round(dividing.flat_width_mm(6, 20, 24), 3)
/// 11.547
#[pyfunction]
pub(crate) fn flat_width_mm<'py>(
    count: Any<'_, 'py>,
    across_flats_mm: Any<'_, 'py>,
    stock_diameter_mm: Any<'_, 'py>,
) -> Made<'py> {
    let given = of_flats(count, across_flats_mm, stock_diameter_mm);
    each(count.py(), given, |[count, across, stock]| {
        Ok(flats(count, across, stock)?.geometry().flat_width_mm)
    })
}

/// Largest diameter over the finished corners of flats in millimetres:
/// `across_flats / cos(pi / count)`, at most the stock (plane geometry).
///
/// Arguments, results and errors as `flat_width_mm`.
///
/// >>> round(dividing.across_corners_mm(6, 20, 24), 3)
/// 23.094
#[pyfunction]
pub(crate) fn across_corners_mm<'py>(
    count: Any<'_, 'py>,
    across_flats_mm: Any<'_, 'py>,
    stock_diameter_mm: Any<'_, 'py>,
) -> Made<'py> {
    let given = of_flats(count, across_flats_mm, stock_diameter_mm);
    each(count.py(), given, |[count, across, stock]| {
        Ok(flats(count, across, stock)?.geometry().across_corners_mm)
    })
}

/// Height that tilts a sine bar by an angle, in millimetres:
/// `length * sin(angle)`.
///
/// Arguments, results and errors as `bolt_circle_chord_mm`; the angle is 0 to
/// below 90 degrees.
///
/// >>> round(dividing.sine_bar_height_mm(100, 20), 4)
/// 34.202
#[pyfunction]
pub(crate) fn sine_bar_height_mm<'py>(
    length_mm: Any<'_, 'py>,
    angle_deg: Any<'_, 'py>,
) -> Made<'py> {
    let given = [
        ("length_mm", Some(length_mm)),
        ("angle_deg", Some(angle_deg)),
    ];
    each(length_mm.py(), given, |[mm, deg]| {
        let length = length(mm, "length_mm")?;
        if (0.0..90.0).contains(&finite(deg, "angle_deg")?) {
            return Ok(length.mm() * deg.to_radians().sin());
        }
        Err(Error::out_of_range(format!("{deg}°"), "0° to below 90°").at("angle_deg"))
    })
}

/// Angle of a sine bar on a height, in degrees: `asin(height / length)`.
///
/// Arguments, results and errors as `bolt_circle_chord_mm`; the height is 0 to
/// below the length.
///
/// >>> round(dividing.sine_bar_angle_deg(100, 50), 9)
/// 30.0
/// >>> dividing.sine_bar_angle_deg(100, [0.0, 50.0]).round(9).tolist()
/// [0.0, 30.0]
#[pyfunction]
pub(crate) fn sine_bar_angle_deg<'py>(
    length_mm: Any<'_, 'py>,
    height_mm: Any<'_, 'py>,
) -> Made<'py> {
    let given = [
        ("length_mm", Some(length_mm)),
        ("height_mm", Some(height_mm)),
    ];
    each(length_mm.py(), given, |[mm, height]| {
        let height = Length::from_mm(height).map_err(|error| error.at("height_mm"))?;
        sine_bar::angle_deg(length(mm, "length_mm")?, height)
            .map_err(|error| Error::new(error.kind(), error.message()).at("height_mm"))
    })
}

/// Swivel of the table for a helix, in degrees: `atan(pi * diameter / lead)`.
///
/// Arguments, results and errors as `bolt_circle_chord_mm`; both are above 0.
///
/// >>> round(dividing.swivel_deg(25.4, 156.464), 2)
/// 27.02
#[pyfunction]
pub(crate) fn swivel_deg<'py>(diameter_mm: Any<'_, 'py>, lead_mm: Any<'_, 'py>) -> Made<'py> {
    let given = [
        ("diameter_mm", Some(diameter_mm)),
        ("lead_mm", Some(lead_mm)),
    ];
    each(diameter_mm.py(), given, |[diameter, lead]| {
        let (diameter, lead) = (length(diameter, "diameter_mm")?, length(lead, "lead_mm")?);
        Ok((std::f64::consts::PI * diameter.mm())
            .atan2(lead.mm())
            .to_degrees())
    })
}

/// Most divisions in the functions of a crank.
const MOST_DIVISIONS: i128 = 1_000_000_000;

/// The move of the crank for one of `divisions` equal parts, in crank turns, an
/// exact Fraction: `worm_ratio / divisions`.
///
/// `worm_ratio` is an int or a Fraction above 0, `divisions` 1 to 1000000000.
///
/// Raises OutOfRangeError, or TypeError, that names the argument.
///
/// >>> dividing.crank_turns(40, 9)
/// Fraction(40, 9)
#[pyfunction]
pub(crate) fn crank_turns<'py>(worm_ratio: Any<'_, 'py>, divisions: Any<'_, 'py>) -> Made<'py> {
    let py = worm_ratio.py();
    let (above, below) = ratio_of(worm_ratio, "worm_ratio")?
        .ok_or_else(|| wrong_type("worm_ratio", "an int or a Fraction", worm_ratio))?;
    let divisions = whole_within(divisions, "divisions", 1, MOST_DIVISIONS)?;
    let turns = core(|| {
        let ratio = WormRatio::new(above, below).map_err(|error| error.at("worm_ratio"))?;
        Angle::new(ratio.numerator(), ratio.denominator() * divisions)
    })?;
    FRACTION
        .import(py, "fractions", "Fraction")?
        .call1((turns.numerator(), turns.denominator()))
}
