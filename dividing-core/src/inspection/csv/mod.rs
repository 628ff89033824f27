//! Readings from comma-separated text.
//!
//! The first line names the columns, with the unit in the name (`x_mm`,
//! `x_in`, `deviation_arcsec`). Decimals carry a point. Errors name the line and
//! the column, in the path of the error: `line 4, column x_mm`.

mod table;

use crate::angle::Angle;
use crate::error::{AtField, Error, ErrorKind, Result};

use self::table::Table;
use super::closure::MAX_CLOSURE_POSITIONS;
use super::measurement::{
    AngleReading, AxisUncertainty, ChordReading, ClosureReadings, DeviationReading, PointReading,
    SetupReadings,
};

/// Most set-ups of a closure calibration in one text.
const MAX_SETUPS: usize = 100_000;

/// Reads hole centres: columns `place`, `x_mm` and `y_mm` (or `x_in` and `y_in`),
/// and, both or neither, `x_uncertainty_mm` and `y_uncertainty_mm` (or `_in`).
///
/// # Errors
/// [`ErrorKind::InvalidField`] for a missing column or an unreadable number,
/// [`ErrorKind::UnknownField`] for a column that is not known,
/// [`ErrorKind::Inconsistent`] for mixed units or a line of the wrong length,
/// [`ErrorKind::Duplicate`] for a column or a place named twice,
/// [`ErrorKind::NotFinite`], [`ErrorKind::OutOfRange`], [`ErrorKind::EmptyList`].
///
/// ```
/// use dividing_core::inspection::points_from_csv;
/// let points = points_from_csv("place,x_mm,y_mm\n0,50.003,0.001\n1,-0.002,49.998\n")?;
/// assert_eq!(points[1].place, 1);
/// let error = points_from_csv("place,x_mm,y_mm\n0,50.003,0.001\n1,abc,49.998\n").unwrap_err();
/// assert_eq!(error.field(), "line 3, column x_mm");
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn points_from_csv(text: &str) -> Result<Vec<PointReading>> {
    let table = Table::read(
        text,
        &[
            "place",
            "x_mm",
            "y_mm",
            "x_in",
            "y_in",
            "x_uncertainty_mm",
            "y_uncertainty_mm",
            "x_uncertainty_in",
            "y_uncertainty_in",
        ],
    )?;
    let unit = table.one_unit(&["x", "y"])?;
    let place = table.column("place")?;
    let (x, y) = (table.in_unit("x", unit)?, table.in_unit("y", unit)?);
    let stated = ["x_uncertainty", "y_uncertainty"];
    let uncertain = stated.iter().any(|name| table.has_any(name));
    let spread = if uncertain {
        let own = table.one_unit(&stated)?;
        Some((
            table.in_unit(stated[0], own)?,
            table.in_unit(stated[1], own)?,
            own,
        ))
    } else {
        None
    };
    table.no_place_twice(&place)?;
    table
        .rows
        .iter()
        .map(|row| {
            let standard_uncertainty = match &spread {
                Some((ux, uy, own)) => Some(AxisUncertainty {
                    x: row.length(ux, *own)?,
                    y: row.length(uy, *own)?,
                }),
                None => None,
            };
            Ok(PointReading {
                place: row.whole(&place)?,
                x: row.length(&x, unit)?,
                y: row.length(&y, unit)?,
                standard_uncertainty,
            })
        })
        .collect()
}

/// Reads angles: columns `place`, and `angle` (text with its unit, such as
/// `30°00'12"`) or `angle_deg` (decimal degrees, kept exactly).
///
/// # Errors
/// As [`points_from_csv`].
///
/// ```
/// use dividing_core::inspection::angles_from_csv;
/// let readings = angles_from_csv("place,angle_deg\n0,0.0\n1,90.0025\n")?;
/// assert_eq!(readings[1].angle, "90.0025 deg".parse()?);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn angles_from_csv(text: &str) -> Result<Vec<AngleReading>> {
    let table = Table::read(text, &["place", "angle", "angle_deg"])?;
    let place = table.column("place")?;
    if table.has("angle") && table.has("angle_deg") {
        return Err(Error::new(
            ErrorKind::Inconsistent,
            "both angle and angle_deg are given; accepted: one of them",
        )
        .at("line 1"));
    }
    let decimal = table.has("angle_deg");
    let angle = table.column(if decimal { "angle_deg" } else { "angle" })?;
    table.no_place_twice(&place)?;
    table
        .rows
        .iter()
        .map(|row| {
            let text = row.text(&angle);
            let read: Result<Angle> = if decimal {
                format!("{text} deg").parse()
            } else {
                text.parse()
            };
            Ok(AngleReading {
                place: row.whole(&place)?,
                angle: read.at(row.path(&angle))?,
            })
        })
        .collect()
}

/// Reads deviations: columns `place` and `deviation_arcsec`.
///
/// # Errors
/// As [`points_from_csv`].
///
/// ```
/// use dividing_core::inspection::deviations_from_csv;
/// let readings = deviations_from_csv("place,deviation_arcsec\n0,0.4\n1,-1.2\n")?;
/// assert_eq!(readings.len(), 2);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn deviations_from_csv(text: &str) -> Result<Vec<DeviationReading>> {
    let table = Table::read(text, &["place", "deviation_arcsec"])?;
    let place = table.column("place")?;
    let deviation = table.column("deviation_arcsec")?;
    table.no_place_twice(&place)?;
    table
        .rows
        .iter()
        .map(|row| {
            Ok(DeviationReading {
                place: row.whole(&place)?,
                deviation_arcsec: row.number(&deviation)?,
            })
        })
        .collect()
}

/// Reads chords: columns `place` and `over_pins_mm` (or `over_pins_in`).
///
/// # Errors
/// As [`points_from_csv`].
///
/// ```
/// use dividing_core::inspection::chords_from_csv;
/// let readings = chords_from_csv("place,over_pins_mm\n0,46.002\n1,45.999\n")?;
/// assert_eq!(readings[0].over_pins.mm(), 46.002);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn chords_from_csv(text: &str) -> Result<Vec<ChordReading>> {
    let table = Table::read(text, &["place", "over_pins_mm", "over_pins_in"])?;
    let unit = table.one_unit(&["over_pins"])?;
    let place = table.column("place")?;
    let chord = table.in_unit("over_pins", unit)?;
    table.no_place_twice(&place)?;
    table
        .rows
        .iter()
        .map(|row| {
            Ok(ChordReading {
                place: row.whole(&place)?,
                over_pins: row.length(&chord, unit)?,
            })
        })
        .collect()
}

/// Reads closure readings, one a line: columns `setup` (a number from 0),
/// `shift`, `position` and `reading_arcsec`. Positions of a set-up that have no
/// line are missing readings.
///
/// # Errors
/// As [`points_from_csv`]; [`ErrorKind::Inconsistent`] when a set-up changes its
/// shift.
///
/// ```
/// use dividing_core::inspection::closure_from_csv;
/// let text = "setup,shift,position,reading_arcsec\n0,0,0,1.5\n0,0,1,-0.5\n1,1,0,0.25\n";
/// let readings = closure_from_csv(2, text)?;
/// assert_eq!(readings.setups[1].readings_arcsec, [Some(0.25), None]);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn closure_from_csv(positions: usize, text: &str) -> Result<ClosureReadings> {
    if !(2..=MAX_CLOSURE_POSITIONS).contains(&positions) {
        return Err(
            Error::out_of_range(positions, format!("2 to {MAX_CLOSURE_POSITIONS}")).at("positions"),
        );
    }
    let table = Table::read(text, &["setup", "shift", "position", "reading_arcsec"])?;
    let [setup, shift, position, reading] =
        ["setup", "shift", "position", "reading_arcsec"].map(|name| table.column(name));
    let (setup, shift, position, reading) = (setup?, shift?, position?, reading?);
    let mut setups: Vec<Option<SetupReadings>> = Vec::new();
    for row in &table.rows {
        let index = row.below(&setup, MAX_SETUPS)?;
        let shift_value = row.below(&shift, positions)?;
        let position_value = row.below(&position, positions)?;
        let value = row.number(&reading)?;
        if setups.len() <= index {
            // A text of so many lines names no more set-ups than it has lines
            // when they are numbered without gaps, which is checked below.
            if index > table.rows.len() {
                return Err(
                    Error::out_of_range(index, "set-ups numbered from 0 without gaps")
                        .at(row.path(&setup)),
                );
            }
            setups.resize(index + 1, None);
        }
        let one = setups[index].get_or_insert_with(|| SetupReadings {
            shift: shift_value,
            readings_arcsec: vec![None; positions],
        });
        if one.shift != shift_value {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "set-up {index} has shift {shift_value} here and {} before; \
                     another shift is another set-up",
                    one.shift
                ),
            )
            .at(row.path(&shift)));
        }
        if one.readings_arcsec[position_value].is_some() {
            return Err(Error::new(
                ErrorKind::Duplicate,
                format!("position {position_value} of set-up {index} is listed twice"),
            )
            .at(row.path(&position)));
        }
        one.readings_arcsec[position_value] = Some(value);
    }
    let gap = setups.iter().position(Option::is_none);
    if let Some(gap) = gap {
        return Err(Error::new(
            ErrorKind::NotFound,
            format!("set-up {gap} has no line; number the set-ups from 0 without gaps"),
        )
        .at("column setup"));
    }
    Ok(ClosureReadings {
        positions,
        standard_uncertainty_arcsec: None,
        setups: setups.into_iter().flatten().collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(text: &str) -> (ErrorKind, String) {
        let error = points_from_csv(text).unwrap_err();
        (error.kind(), error.field().to_owned())
    }

    #[test]
    fn bad_text_names_line_and_column() {
        for (text, kind, field) in [
            ("", ErrorKind::EmptyList, ""),
            ("place,x_mm,y_mm\n", ErrorKind::EmptyList, ""),
            ("place,x_mm\n0,1\n", ErrorKind::InvalidField, "line 1"),
            (
                "place,x_mm,y_in\n0,1,2\n",
                ErrorKind::Inconsistent,
                "line 1",
            ),
            (
                "place,x_mm,y_mm,depth\n0,1,2,3\n",
                ErrorKind::UnknownField,
                "line 1, column 4",
            ),
            (
                "place;x_mm;y_mm\n0;1;2\n",
                ErrorKind::UnknownField,
                "line 1, column 1",
            ),
            (
                "place,x_mm,x_mm\n0,1,2\n",
                ErrorKind::Duplicate,
                "line 1, column 3",
            ),
            (
                "place,x_mm,y_mm\n0,1,2,5\n",
                ErrorKind::Inconsistent,
                "line 2",
            ),
            (
                "place,x_mm,y_mm\n0,1,2\n\n1,1,NaN\n",
                ErrorKind::NotFinite,
                "line 4, column y_mm",
            ),
            (
                "place,x_mm,y_mm\n0,\"1\"2,2\n",
                ErrorKind::InvalidField,
                "line 2",
            ),
            (
                "place,x_mm,y_mm\n\n0,\"1,2\n1,3,4\n",
                ErrorKind::InvalidField,
                "line 3",
            ),
            (
                "place,x_mm,y_mm\n0,\"1\n\",2\n",
                ErrorKind::InvalidField,
                "line 2",
            ),
            (
                "place,x_mm,y_mm\r\n\r\n0,1,2\r\n1,NaN,2\r\n",
                ErrorKind::NotFinite,
                "line 4, column x_mm",
            ),
            (
                "place,x_mm,y_mm\n0,1,2\n1,3 mm,4\n",
                ErrorKind::InvalidField,
                "line 3, column x_mm",
            ),
            (
                "place,x_mm,y_mm\n0,1,2\n0,3,4\n",
                ErrorKind::Duplicate,
                "line 3, column place",
            ),
            (
                "place,x_mm,y_mm\n-1,1,2\n",
                ErrorKind::InvalidField,
                "line 2, column place",
            ),
            (
                "place,x_mm,y_mm\n0,1e9,2\n",
                ErrorKind::OutOfRange,
                "line 2, column x_mm",
            ),
            (
                "place,x_mm,y_mm,x_uncertainty_mm\n0,1,2,0.001\n",
                ErrorKind::InvalidField,
                "line 1",
            ),
        ] {
            assert_eq!(refused(text), (kind, field.to_owned()), "{text:?}");
        }
    }

    #[test]
    fn inches_and_quotes_and_a_byte_order_mark_are_read() {
        let text = "\u{feff}place, \"x_in\", y_in, x_uncertainty_mm, y_uncertainty_mm\r\n\
                    3, \"1.5\", -2, 0.001, 0.002\r\n";
        let points = points_from_csv(text).unwrap();
        assert_eq!(points.len(), 1);
        assert!((points[0].x.mm() - 38.1).abs() < 1e-12);
        assert!((points[0].y.mm() + 50.8).abs() < 1e-12);
        assert!((points[0].standard_uncertainty.unwrap().y.mm() - 0.002).abs() < 1e-15);
    }

    #[test]
    fn angles_are_exact_or_refused() {
        let text = "place,angle\n0,0°\n1,30°00'12\"\n2,\"60°00'12\"\"\"\n3,90d00m12s\n";
        for (place, reading) in angles_from_csv(text).unwrap().iter().enumerate().skip(1) {
            let wanted = format!("{}°00'12\"", place * 30);
            assert_eq!(reading.angle, wanted.parse().unwrap());
        }
        assert!(angles_from_csv("place,angle\n0,\"30 deg\n").is_err());
        assert!(angles_from_csv("place,angle\n0,\"30 deg\"x\n").is_err());
        let error = angles_from_csv("place,angle\n0,30\n").unwrap_err();
        assert_eq!(error.kind(), ErrorKind::MissingUnit);
        assert_eq!(error.field(), "line 2, column angle");
    }

    #[test]
    fn closure_lines_are_gathered() {
        let head = "setup,shift,position,reading_arcsec\n";
        let kind = |lines: &str| {
            closure_from_csv(3, &format!("{head}{lines}"))
                .unwrap_err()
                .kind()
        };
        assert_eq!(kind("0,0,0,1\n0,1,1,1\n"), ErrorKind::Inconsistent);
        assert_eq!(kind("0,0,0,1\n0,0,0,1\n"), ErrorKind::Duplicate);
        assert_eq!(kind("0,3,0,1\n"), ErrorKind::OutOfRange);
        assert_eq!(kind("1,0,0,1\n"), ErrorKind::NotFound);
        assert_eq!(kind("90000,0,0,1\n"), ErrorKind::OutOfRange);
    }
}
