//! Measurement documents.

use serde::{Deserialize, Serialize};

use crate::angle::Angle;
use crate::document;
use crate::error::{Error, ErrorKind, Result};
use crate::length::Length;

/// What was measured, by whom, when and with which uncertainty.
///
/// ```
/// use dividing_core::inspection::{Measurement, Readings, inspect_coordinates};
/// let text = r#"{
///     "format": 1,
///     "name": "twelve-hole plate",
///     "measured_by": "inspection room",
///     "temperature": "20.3 °C, plate left overnight",
///     "readings": { "coordinates": {
///         "places": 4,
///         "axis": [0, 0],
///         "standard_uncertainty": { "x": "2 um", "y": "2 um" },
///         "points": [
///             { "place": 0, "x": 50.010, "y": 0.000 },
///             { "place": 1, "x": 0.004, "y": 50.000 },
///             { "place": 2, "x": -49.991, "y": 0.002 },
///             { "place": 3, "x": 0.001, "y": "-1.9685 in" }
///         ]
///     } }
/// }"#;
/// let measurement = Measurement::from_json(text)?;
/// let Readings::Coordinates(readings) = &measurement.readings else { unreachable!() };
/// let result = inspect_coordinates(readings)?;
/// assert!((result.circle.radius_mm - 50.0).abs() < 0.01);
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Measurement {
    /// The format of this document: 1.
    #[serde(deserialize_with = "document::known_format")]
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
    pub format: u32,
    /// What was measured, in free words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Who measured, in free words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_by: Option<String>,
    /// When, in free words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_on: Option<String>,
    /// With which instrument, in free words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instrument: Option<String>,
    /// At which temperature and how steady, in free words; lengths are taken
    /// as they stand, without a correction for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Option<String>,
    /// The readings.
    pub readings: Readings,
}

/// The kinds of readings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Readings {
    /// Hole centres in the plane.
    Coordinates(CoordinateReadings),
    /// Angles read from a rotary table or circle.
    Angles(AngleReadings),
    /// Deviations from the nominal angles, as an autocollimator shows them.
    Deviations(DeviationReadings),
    /// Chords over two pins.
    Chords(ChordReadings),
    /// Angles of stations, equally spaced or not.
    Stations(StationReadings),
    /// Two dividing devices compared in shifted positions.
    Closure(ClosureReadings),
}

/// Which way the places are numbered, seen from the side of the cutter.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Numbering {
    /// Numbers grow counter-clockwise, as angles do.
    #[default]
    CounterClockwise,
    /// Numbers grow clockwise; all deviations are then counted clockwise.
    Clockwise,
}

impl Numbering {
    pub(super) const fn sign(self) -> f64 {
        match self {
            Self::CounterClockwise => 1.0,
            Self::Clockwise => -1.0,
        }
    }

    pub(super) const fn other_name(self) -> &'static str {
        match self {
            Self::CounterClockwise => "clockwise",
            Self::Clockwise => "counter_clockwise",
        }
    }
}

/// Standard uncertainty along each axis.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct AxisUncertainty {
    /// Along X, above 0.
    pub x: Length,
    /// Along Y, above 0.
    pub y: Length,
}

/// Measured hole centres.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct CoordinateReadings {
    /// Equally spaced places round the turn, measured or not: 3 to 10,000.
    pub places: usize,
    /// Which way the places are numbered.
    #[serde(default)]
    pub numbering: Numbering,
    /// The axis the part turns about (its bore, the spindle); without it there
    /// is no eccentricity to tell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub axis: Option<[Length; 2]>,
    /// Radius the drawing asks for; a fit a tenth away from it is refused.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nominal_radius: Option<Length>,
    /// Standard uncertainty of every point; without it the scatter stands in
    /// where it can.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standard_uncertainty: Option<AxisUncertainty>,
    /// The measured holes, in any order, each place at most once.
    pub points: Vec<PointReading>,
}

/// One measured hole centre.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PointReading {
    /// Number of the place, from 0.
    pub place: usize,
    /// X of the centre.
    pub x: Length,
    /// Y of the centre.
    pub y: Length,
    /// Standard uncertainty of this point, in place of the common one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standard_uncertainty: Option<AxisUncertainty>,
}

/// Angles read from a rotary table, a circle or an encoder.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct AngleReadings {
    /// Equally spaced places round the turn: 3 to 10,000.
    pub places: usize,
    /// Which way the places are numbered.
    #[serde(default)]
    pub numbering: Numbering,
    /// Radius that turns deviations into lengths along the circle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radius: Option<Length>,
    /// Standard uncertainty of an angle, in seconds of arc, above 0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standard_uncertainty_arcsec: Option<f64>,
    /// The readings, in any order; their common zero does not matter.
    pub readings: Vec<AngleReading>,
}

/// One angle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct AngleReading {
    /// Number of the place, from 0.
    pub place: usize,
    /// The angle at which it stands, counter-clockwise.
    pub angle: Angle,
}

/// Angles of the stations of a vernier indexer, which may stand anywhere.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct StationReadings {
    /// Where the stations should stand, as the indexer lists them, in the sense
    /// of its numbering: 2 to 1000.
    pub stations: Vec<Angle>,
    /// Which way the indexer is numbered.
    #[serde(default)]
    pub numbering: Numbering,
    /// Standard uncertainty of an angle, in seconds of arc, above 0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standard_uncertainty_arcsec: Option<f64>,
    /// The readings about the axis of the spindle, in any order, the place being
    /// the number of the station; their common zero does not matter.
    pub readings: Vec<AngleReading>,
}

/// Deviations from the nominal angles.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct DeviationReadings {
    /// Equally spaced places round the turn: 3 to 10,000.
    pub places: usize,
    /// Radius that turns deviations into lengths along the circle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radius: Option<Length>,
    /// Standard uncertainty of a deviation, in seconds of arc, above 0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standard_uncertainty_arcsec: Option<f64>,
    /// The readings, in any order; their common zero does not matter.
    pub readings: Vec<DeviationReading>,
}

/// One deviation.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct DeviationReading {
    /// Number of the place, from 0.
    pub place: usize,
    /// Where it stands less where it should, in the sense of the numbering, in
    /// seconds of arc.
    pub deviation_arcsec: f64,
}

/// Chords measured over equal pins in the holes, all the way round.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ChordReadings {
    /// Equally spaced places round the turn: 3 to 10,000.
    pub places: usize,
    /// Spaces between the two pins, below half of `places` and prime to it.
    #[serde(default = "one_space")]
    pub span: usize,
    /// Diameter of the pins; 0 for chords between centres.
    pub pin_diameter: Length,
    /// Standard uncertainty of a chord, above 0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standard_uncertainty: Option<Length>,
    /// One reading from every place.
    pub readings: Vec<ChordReading>,
}

const fn one_space() -> usize {
    1
}

/// One chord over two pins.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ChordReading {
    /// The place it starts from; it ends `span` places on.
    pub place: usize,
    /// Outside measure over both pins.
    pub over_pins: Length,
}

/// Two dividing devices compared in shifted positions; the model and the signs
/// stand at [`calibrate`](super::calibrate).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ClosureReadings {
    /// Positions round the turn: 2 to 21,600.
    pub positions: usize,
    /// Standard uncertainty of a reading, in seconds of arc, above 0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standard_uncertainty_arcsec: Option<f64>,
    /// The set-ups.
    pub setups: Vec<SetupReadings>,
}

/// One set-up of a closure calibration.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SetupReadings {
    /// Position of the second device that meets position 0 of the first.
    pub shift: usize,
    /// Readings at positions 0 to n − 1 of the first device, in seconds of
    /// arc; null where there is none.
    pub readings_arcsec: Vec<Option<f64>>,
}

/// Radians in a second of arc.
pub(super) const RAD_PER_ARCSEC: f64 = std::f64::consts::PI / 648_000.0;

/// An uncertainty stated in seconds of arc, as radians.
pub(super) fn uncertainty_rad(stated_arcsec: Option<f64>) -> Result<Option<f64>> {
    let Some(value) = stated_arcsec else {
        return Ok(None);
    };
    if !value.is_finite() {
        return Err(Error::new(
            ErrorKind::NotFinite,
            format!("{value} is no uncertainty; accepted: a number above 0"),
        )
        .at("standard_uncertainty_arcsec"));
    }
    if !(1.0e-9..=1.0e6).contains(&value) {
        return Err(Error::out_of_range(
            format!("{value} arcsec"),
            "0.000000001 to 1000000 arcsec",
        )
        .at("standard_uncertainty_arcsec"));
    }
    Ok(Some(value * RAD_PER_ARCSEC))
}

impl Measurement {
    /// Reads a document.
    ///
    /// # Errors
    /// [`ErrorKind::MalformedJson`], [`ErrorKind::UnknownFormat`],
    /// [`ErrorKind::UnknownField`] and [`ErrorKind::InvalidField`], each with the
    /// path to the field. Counts and numbers are checked when the readings are
    /// evaluated.
    ///
    /// ```
    /// use dividing_core::{ErrorKind, inspection::Measurement};
    /// let error = Measurement::from_json(r#"{ "format": 2 }"#).unwrap_err();
    /// assert_eq!(error.kind(), ErrorKind::UnknownFormat);
    /// ```
    pub fn from_json(text: &str) -> Result<Self> {
        document::read_format(text)
    }

    /// The document as JSON text that [`Measurement::from_json`] reads again.
    ///
    /// # Errors
    /// [`ErrorKind::NotFinite`] when a number of the document is NaN or
    /// infinite, which JSON cannot hold.
    ///
    /// ```
    /// use dividing_core::inspection::Measurement;
    /// let text = r#"{ "format": 1, "readings": { "deviations": {
    ///     "places": 3, "readings": [{ "place": 0, "deviation_arcsec": 1.5 }] } } }"#;
    /// let measurement = Measurement::from_json(text)?;
    /// assert_eq!(Measurement::from_json(&measurement.to_json()?)?, measurement);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn to_json(&self) -> Result<String> {
        let text = document::write(self)?;
        // serde_json writes null for NaN; a null reading means "missing", so
        // such a document must not leave.
        if Self::from_json(&text).is_ok_and(|again| &again == self) {
            Ok(text)
        } else {
            Err(Error::new(
                ErrorKind::NotFinite,
                "the measurement holds a number that is not finite, or a format other than 1",
            ))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(text: &str) -> (ErrorKind, String) {
        let error = Measurement::from_json(text).unwrap_err();
        (error.kind(), error.field().to_owned())
    }

    #[test]
    fn errors_name_the_field() {
        assert_eq!(refused("{").0, ErrorKind::MalformedJson);
        assert_eq!(refused("[]").0, ErrorKind::InvalidField);
        assert_eq!(
            refused(r#"{"format": 3, "new_field": 1}"#),
            (ErrorKind::UnknownFormat, "format".into())
        );
        let (kind, field) = refused(
            r#"{"format": 1, "readings": {"coordinates":
                {"places": 4, "points": [{"place": 0, "x": 1, "y": 2, "z": 3}]}}}"#,
        );
        assert_eq!(kind, ErrorKind::UnknownField);
        assert_eq!(field, "readings.coordinates.points[0].z");
        let (kind, field) = refused(
            r#"{"format": 1, "readings": {"coordinates":
                {"places": 4, "points": [{"place": 0, "x": 1}]}}}"#,
        );
        assert_eq!(kind, ErrorKind::InvalidField);
        assert!(
            field.starts_with("readings.coordinates.points[0]"),
            "{field}"
        );
        let (kind, field) = refused(
            r#"{"format": 1, "readings": {"coordinates":
                {"places": 4, "points": [{"place": 0, "x": "1", "y": 2}]}}}"#,
        );
        assert_eq!(kind, ErrorKind::InvalidField);
        assert_eq!(field, "readings.coordinates.points[0].x");
    }

    #[test]
    fn documents_return_as_they_were_written() {
        let measurement = Measurement {
            format: 1,
            name: Some("ring".into()),
            measured_by: None,
            measured_on: None,
            instrument: None,
            temperature: Some("20 °C".into()),
            readings: Readings::Closure(ClosureReadings {
                positions: 3,
                standard_uncertainty_arcsec: Some(0.1),
                setups: vec![SetupReadings {
                    shift: 1,
                    readings_arcsec: vec![Some(0.5), None, Some(-0.25)],
                }],
            }),
        };
        let text = measurement.to_json().unwrap();
        assert_eq!(Measurement::from_json(&text).unwrap(), measurement);
        let mut bad = measurement;
        if let Readings::Closure(readings) = &mut bad.readings {
            readings.setups[0].readings_arcsec[0] = Some(f64::NAN);
        }
        assert_eq!(bad.to_json().unwrap_err().kind(), ErrorKind::NotFinite);
    }
}
