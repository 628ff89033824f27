//! A drill program in the words of ISO 6983-1.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::labels::{hole_label, ring_stamp};
use super::order::drilling_order;
use super::table::{Datum, DrillRow, TableOptions, drill_table};
use crate::error::{AtField, Error, Result};
use crate::length::Length;
use crate::pattern::result::Pattern;

/// How holes are drilled.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum DrillStyle {
    /// The drilling cycle G81.
    #[default]
    Cycle,
    /// G00 and G01 alone, for controls without cycles.
    Moves,
}

/// What a drill program needs beyond the plate. Z is 0 on the plate's face and
/// grows away from it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct DrillingData {
    /// Coordinates: digits, unit and datum.
    #[serde(default)]
    pub table: TableOptions,
    /// Cycle or plain moves.
    #[serde(default)]
    pub style: DrillStyle,
    /// Height above the face for travel and retract, greater than 0.
    pub clearance_height: Length,
    /// Depth below the face, greater than 0.
    pub depth: Length,
    /// Feed per minute, greater than 0.
    pub feed_per_minute: Length,
    /// Spindle speed in turns per minute, 1 to 100,000.
    pub spindle_rpm: u32,
}

/// Writes the program: one hole a block, ring by ring, in short travel.
///
/// # Errors
/// [`crate::ErrorKind::OutOfRange`] with the path of the field.
///
/// ```
/// use dividing_core::Length;
/// use dividing_core::pattern::{PlateBrief, design};
/// use dividing_core::pattern::outputs::{DrillingData, drill_program};
/// use dividing_core::work::Meter;
/// let brief = PlateBrief::from_json(
///     r#"{"format": 1, "divisions": [4], "outline": {"disc": {"diameter": 100}},
///         "hole_diameter": 6, "least_web": 2, "least_edge_distance": 3}"#,
/// )?;
/// let plate = design(&brief, &mut Meter::default())?.into_pattern()?;
/// let data = DrillingData {
///     table: Default::default(),
///     style: Default::default(),
///     clearance_height: Length::from_mm(5.0)?,
///     depth: Length::from_mm(12.0)?,
///     feed_per_minute: Length::from_mm(80.0)?,
///     spindle_rpm: 900,
/// };
/// let program = drill_program(&plate, &data)?;
/// assert!(program.contains("G81"));
/// assert!(program.contains("PROVE OUT"));
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn drill_program(pattern: &Pattern, data: &DrillingData) -> Result<String> {
    for (field, length) in [
        ("clearance_height", data.clearance_height),
        ("depth", data.depth),
        ("feed_per_minute", data.feed_per_minute),
    ] {
        length.check_positive().at(field)?;
    }
    if !(1..=100_000).contains(&data.spindle_rpm) {
        return Err(Error::out_of_range(data.spindle_rpm, "1 to 100000").at("spindle_rpm"));
    }
    let table = drill_table(pattern, &data.table).at("table")?;
    // A word without a point would be read in least increments by some controls.
    let word = |mm: f64| with_point(data.table.text(mm));
    let (height, depth) = (word(data.clearance_height.mm()), word(-data.depth.mm()));
    let feed = with_point(format!(
        "{:.1}",
        data.feed_per_minute.mm() / data.table.unit.mm()
    ));
    for (field, text) in [
        ("depth", &depth),
        ("clearance_height", &height),
        ("feed_per_minute", &feed),
    ] {
        if !text.contains(|c: char| ('1'..='9').contains(&c)) {
            return Err(Error::out_of_range(
                format!("{text} after rounding"),
                "a size that the digits asked for can show",
            )
            .at(field));
        }
    }
    let mut text = String::from("%\n");
    for line in header(pattern, data, table.largest_rounding_error_arcsec) {
        let plain: String = line
            .chars()
            .filter(|c| (c.is_ascii_graphic() || *c == ' ') && !"()%:;".contains(*c))
            .collect();
        text += &format!("({plain})\n");
    }
    let unit_word = unit_word(data.table.unit);
    text += &format!("G17 G40 G80 G90 G94 {unit_word}\n");
    text += &format!("M03 S{}\nG00 Z{height}\n", data.spindle_rpm);
    let mut ring_now = None;
    let rows: BTreeMap<(usize, u32), &DrillRow> = table
        .rows
        .iter()
        .map(|row| ((row.ring, row.number), row))
        .collect();
    for stop in drilling_order(pattern) {
        let row = rows.get(&(stop.ring, stop.number)).ok_or_else(|| {
            Error::internal(format!(
                "no row for hole {}",
                hole_label(stop.ring, stop.number)
            ))
        })?;
        if ring_now != Some(stop.ring) {
            ring_now = Some(stop.ring);
            text += &format!("(RING {})\n", ring_stamp(pattern, stop.ring));
        }
        let (x, y) = (with_point(row.x.clone()), with_point(row.y.clone()));
        text += &match data.style {
            DrillStyle::Cycle => format!("G81 X{x} Y{y} Z{depth} R{height} F{feed}\n"),
            DrillStyle::Moves => {
                format!("G00 X{x} Y{y}\nG01 Z{depth} F{feed}\nG00 Z{height}\n")
            }
        };
    }
    text += "G80\nM05\nM30\n%\n";
    Ok(text)
}

/// Metric and inch data in the words of ISO 6983-1 (from memory).
const fn unit_word(unit: super::table::TableUnit) -> &'static str {
    match unit {
        super::table::TableUnit::Millimetre => "G71",
        super::table::TableUnit::Inch => "G70",
    }
}

fn with_point(mut text: String) -> String {
    if !text.contains('.') {
        text.push('.');
    }
    text
}

/// Comments: capital letters and digits only, no brackets.
fn header(pattern: &Pattern, data: &DrillingData, rounding_arcsec: f64) -> Vec<String> {
    let datum = match data.table.datum {
        Datum::Centre => "CENTRE OF THE PLATE",
        Datum::LeftAndLowerEdge => "LEFT AND LOWER EDGE OF THE PLATE",
    };
    vec![
        "PROVE OUT ABOVE THE WORK BEFORE THE FIRST CUT".to_owned(),
        "CHECK ZERO, TOOL LENGTH, FEED, SPEED AND CLAMPS ON THE MACHINE".to_owned(),
        format!(
            "{} HOLES OF {}, {} RINGS",
            pattern.hole_count(),
            pattern.brief.hole_text().to_ascii_uppercase(),
            pattern.rings.len()
        ),
        if pattern.brief.fit.is_some() {
            "SPOT ALL HOLES FIRST, THEN DRILL UNDER SIZE, THEN REAM OR BORE TO THE FIT: ONE RUN A TOOL, WITH ITS DEPTH, FEED AND SPEED"
        } else {
            "SPOT ALL HOLES FIRST, THEN DRILL: ONE RUN A TOOL, WITH ITS DEPTH, FEED AND SPEED"
        }
        .to_owned(),
        format!(
            "X0 Y0 AT {datum}, Z0 ON ITS FACE, COORDINATES IN {}",
            data.table.unit.symbol().to_ascii_uppercase()
        ),
        format!(
            "{} IS THE UNIT WORD OF ISO 6983, CHANGE IT WHERE THE CONTROL HAS ANOTHER",
            unit_word(data.table.unit)
        ),
        format!("ROUNDED COORDINATES TURN A HOLE BY AT MOST {rounding_arcsec:.2} SECONDS OF ARC"),
    ]
}
