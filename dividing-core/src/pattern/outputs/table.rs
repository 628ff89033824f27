//! The drill table: every hole with its exact angle and rounded coordinates.

use serde::{Deserialize, Serialize};

use super::labels::hole_label;
use crate::angle::{Angle, AngleStyle};
use crate::error::{Error, Result};
use crate::length::MM_PER_INCH;
use crate::pattern::brief::Outline;
use crate::pattern::result::Pattern;

/// Unit of coordinates.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum TableUnit {
    /// Millimetres.
    #[default]
    Millimetre,
    /// Inches.
    Inch,
}

impl TableUnit {
    /// Millimetres in one unit.
    pub(crate) const fn mm(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::Inch => MM_PER_INCH,
        }
    }

    /// Its symbol.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Inch => "in",
        }
    }
}

/// Where coordinates start.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Datum {
    /// The centre of the plate.
    #[default]
    Centre,
    /// The left and lower edges: the corner of the smallest upright rectangle
    /// round the outline, so that all coordinates are positive.
    LeftAndLowerEdge,
}

/// How a table is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct TableOptions {
    /// Digits after the decimal point, 0 to 9: the machine's resolution.
    pub digits: u8,
    /// Unit of coordinates.
    #[serde(default)]
    pub unit: TableUnit,
    /// Where coordinates start.
    #[serde(default)]
    pub datum: Datum,
}

impl Default for TableOptions {
    fn default() -> Self {
        Self {
            digits: 3,
            unit: TableUnit::Millimetre,
            datum: Datum::Centre,
        }
    }
}

impl TableOptions {
    pub(crate) fn check(self) -> Result<()> {
        if self.digits > 9 {
            return Err(Error::out_of_range(self.digits, "0 to 9 digits").at("digits"));
        }
        Ok(())
    }

    /// A length in the table's unit and digits; half rounds to even, and a
    /// rounded zero carries no sign.
    pub(crate) fn text(self, mm: f64) -> String {
        let text = format!("{:.*}", usize::from(self.digits), mm / self.unit.mm());
        match text.strip_prefix('-') {
            Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_owned(),
            _ => text,
        }
    }
}

/// One hole of a table.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct DrillRow {
    /// Ring letter and number.
    pub label: String,
    /// Index of the ring, from the outside.
    pub ring: usize,
    /// Number on the ring.
    pub number: u32,
    /// Exact angle on the plate.
    pub angle: Angle,
    /// X, rounded, as text.
    pub x: String,
    /// Y, rounded, as text.
    pub y: String,
    /// How far the rounded point turns from the exact angle, in seconds of arc.
    pub rounding_error_arcsec: f64,
    /// How far the rounded point lies from the exact radius, in millimetres.
    pub rounding_radial_mm: f64,
}

/// Every hole of a plate with rounded coordinates.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct DrillTable {
    /// How it is written.
    pub options: TableOptions,
    /// Rows, ring by ring.
    pub rows: Vec<DrillRow>,
    /// Largest angle, in seconds of arc, by which rounding alone turns a hole.
    pub largest_rounding_error_arcsec: f64,
}

/// Writes the drill table of a pattern.
///
/// # Errors
/// [`crate::ErrorKind::OutOfRange`] for more than nine digits; those of
/// [`Pattern::check_sizes`].
///
/// ```
/// use dividing_core::pattern::{PlateBrief, design, outputs::{TableOptions, drill_table}};
/// use dividing_core::work::Meter;
/// let brief = PlateBrief::from_json(
///     r#"{"format": 1, "divisions": [6], "outline": {"disc": {"diameter": 100}},
///         "hole_diameter": 6, "least_web": 2, "least_edge_distance": 3}"#,
/// )?;
/// let plate = design(&brief, &mut Meter::default())?.into_pattern()?;
/// let table = drill_table(&plate, &TableOptions::default())?;
/// assert_eq!((table.rows[1].x.as_str(), table.rows[1].y.as_str()), ("22.000", "38.105"));
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn drill_table(pattern: &Pattern, options: &TableOptions) -> Result<DrillTable> {
    options.check()?;
    pattern.check_sizes()?;
    let (left_mm, low_mm) = origin_mm(&pattern.brief.outline, options.datum);
    let mut largest = 0.0_f64;
    let rows = pattern
        .holes()
        .map(|(index, ring, hole)| {
            let (x_mm, y_mm) = hole.position_mm(ring.radius_mm);
            let (x, y) = (options.text(x_mm - left_mm), options.text(y_mm - low_mm));
            let back_mm = |text: &str, start_mm: f64| {
                text.parse::<f64>()
                    .map(|value| value * options.unit.mm() + start_mm)
                    .map_err(|_| {
                        Error::internal(format!("a coordinate {text} that cannot be read"))
                    })
            };
            let (rx, ry) = (back_mm(&x, left_mm)?, back_mm(&y, low_mm)?);
            let turned_rad = (x_mm * ry - y_mm * rx).atan2(x_mm * rx + y_mm * ry);
            let turned_arcsec = turned_rad.to_degrees() * 3600.0;
            largest = largest.max(turned_arcsec.abs());
            Ok(DrillRow {
                label: hole_label(index, hole.number),
                ring: index,
                number: hole.number,
                angle: hole.angle,
                x,
                y,
                rounding_error_arcsec: turned_arcsec,
                rounding_radial_mm: rx.hypot(ry) - ring.radius_mm,
            })
        })
        .collect::<Result<Vec<DrillRow>>>()?;
    Ok(DrillTable {
        options: *options,
        rows,
        largest_rounding_error_arcsec: largest,
    })
}

/// Where the datum stands, from the centre.
pub(crate) fn origin_mm(outline: &Outline, datum: Datum) -> (f64, f64) {
    match datum {
        Datum::Centre => (0.0, 0.0),
        Datum::LeftAndLowerEdge => {
            let (left, low, _, _) = bounds_mm(outline);
            (left, low)
        }
    }
}

/// The smallest upright rectangle round the outline: left, low, right, high.
pub(crate) fn bounds_mm(outline: &Outline) -> (f64, f64, f64, f64) {
    match outline {
        Outline::Disc { diameter } => {
            let r = diameter.mm() / 2.0;
            (-r, -r, r, r)
        }
        Outline::Polygon { .. } => corners_mm(outline).into_iter().fold(
            (
                f64::INFINITY,
                f64::INFINITY,
                f64::NEG_INFINITY,
                f64::NEG_INFINITY,
            ),
            |(left, low, right, high), (x, y)| (left.min(x), low.min(y), right.max(x), high.max(y)),
        ),
    }
}

/// Corners of a polygon, counter-clockwise, the first after the face that
/// looks along +x; none for a disc.
pub(crate) fn corners_mm(outline: &Outline) -> Vec<(f64, f64)> {
    let Outline::Polygon {
        faces,
        across_flats,
    } = *outline
    else {
        return Vec::new();
    };
    let step = std::f64::consts::TAU / f64::from(faces);
    // Across corners = across flats / cos(π/n).
    let radius_mm = across_flats.mm() / 2.0 / (step / 2.0).cos();
    (0..faces)
        .map(|corner| {
            let (sin, cos) = ((f64::from(corner) + 0.5) * step).sin_cos();
            (radius_mm * cos, radius_mm * sin)
        })
        .collect()
}

impl DrillTable {
    /// Comma-separated values: a heading, then one line a hole. Angles stand
    /// exactly, in turns, and in degrees to six digits.
    #[must_use]
    pub fn to_csv(&self) -> String {
        let unit = self.options.unit.symbol();
        let mut text =
            format!("hole,ring,number,angle,angle_deg,x_{unit},y_{unit},rounding_arcsec\n");
        for row in &self.rows {
            text += &format!(
                "{},{},{},{},{},{},{},{:.3}\n",
                row.label,
                super::labels::ring_letter(row.ring),
                row.number,
                row.angle.format(AngleStyle::FractionOfTurn),
                row.angle
                    .format(AngleStyle::DecimalDegrees(6))
                    .trim_end_matches('°'),
                row.x,
                row.y,
                row.rounding_error_arcsec + 0.0,
            );
        }
        text
    }
}
