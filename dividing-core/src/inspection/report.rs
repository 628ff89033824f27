//! The report of an inspection: its figures as data, and as text of fixed width.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::angles::{inspect_angles, inspect_deviations};
use super::chords::inspect_chords;
use super::closure::{Closure, Device};
use super::coordinates::{CoordinateInspection, inspect_coordinates};
use super::measurement::{Measurement, RAD_PER_ARCSEC, Readings};
use super::pitch::PitchDeviations;
use super::ring::RingDeviations;
use super::stations::{StationDeviations, inspect_stations};
use crate::document::{self, FORMAT};
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::work::Meter;

/// Width of the report, in characters.
const WIDTH: usize = 78;

/// What the readings of a measurement say.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub enum Inspection {
    /// Of hole centres.
    Coordinates(Box<CoordinateInspection>),
    /// Of angles, deviations or chords.
    Ring(Box<RingDeviations>),
    /// Of stations.
    Stations(Box<StationDeviations>),
    /// Of two devices compared.
    Closure(Box<Closure>),
}

/// An inspection with the measurement that it was made from.
///
/// As a document it holds both, with a `format` number. Read back, the readings
/// are evaluated again; a document whose figures do not follow from its readings
/// is refused.
///
/// ```
/// use dividing_core::inspection::{InspectionReport, Measurement};
/// let measurement = Measurement::from_json(r#"{"format": 1, "readings": {"deviations": {
///     "places": 3, "readings": [{"place": 0, "deviation_arcsec": 2},
///         {"place": 1, "deviation_arcsec": -1}, {"place": 2, "deviation_arcsec": -1}]}}}"#)?;
/// let report = measurement.inspect()?;
/// assert_eq!(InspectionReport::from_json(&report.to_json()?)?, report);
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "ReportRead", into = "ReportWritten")]
pub struct InspectionReport {
    measurement: Measurement,
    result: Inspection,
}

/// A report as it is written.
#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(
    feature = "schema",
    schemars(rename = "InspectionReport", deny_unknown_fields)
)]
pub(crate) struct ReportWritten {
    /// The format of this document: 1.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
    format: u32,
    /// What was measured.
    measurement: Measurement,
    /// What it says.
    result: Inspection,
}

/// A report as it is read: the figures only to be compared.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ReportRead {
    #[serde(deserialize_with = "document::known_format")]
    #[allow(dead_code, reason = "judged as it is read")]
    format: u32,
    measurement: Measurement,
    result: Value,
}

impl From<InspectionReport> for ReportWritten {
    fn from(report: InspectionReport) -> Self {
        Self {
            format: FORMAT,
            measurement: report.measurement,
            result: report.result,
        }
    }
}

impl TryFrom<ReportRead> for InspectionReport {
    type Error = Error;

    fn try_from(document: ReportRead) -> Result<Self> {
        let report = document.measurement.inspect().at("measurement")?;
        let found = serde_json::to_value(&report.result).map_err(Error::internal)?;
        same_figures(&document.result, &found).map_err(|path| {
            Error::new(
                ErrorKind::Inconsistent,
                "the figure does not follow from the readings; inspect the measurement again",
            )
            .at(format!("result{path}"))
        })?;
        Ok(report)
    }
}

/// Compares figures that were written with those found anew; the path to the
/// first that differs by more than other machines may round. The phase of what
/// has next to no size is left aside.
fn same_figures(written: &Value, found: &Value) -> std::result::Result<(), String> {
    /// Relative; and of a thousandth of a radian, a millimetre or a pure number.
    const ROUNDING: f64 = 1.0e-9;
    let unless = |same: bool| if same { Ok(()) } else { Err(String::new()) };
    match (written, found) {
        (Value::Object(one), Value::Object(other)) if one.len() == other.len() => {
            for (key, value) in one {
                let against = other.get(key).ok_or_else(|| format!(".{key}"))?;
                if !matches!(key.as_str(), "phase_rad" | "direction_rad") {
                    same_figures(value, against).map_err(|path| format!(".{key}{path}"))?;
                }
            }
            Ok(())
        }
        (Value::Array(one), Value::Array(other)) if one.len() == other.len() => {
            for (index, (value, against)) in one.iter().zip(other).enumerate() {
                same_figures(value, against).map_err(|path| format!("[{index}]{path}"))?;
            }
            Ok(())
        }
        (Value::Number(one), Value::Number(other)) => match (one.as_f64(), other.as_f64()) {
            (Some(one), Some(other)) => {
                let size = one.abs().max(other.abs()) + 1.0e-3;
                unless((one - other).abs() <= ROUNDING * size)
            }
            _ => unless(one == other),
        },
        _ => unless(written == found),
    }
}

impl Measurement {
    /// Evaluates the readings, of whichever kind they are.
    ///
    /// # Errors
    /// Those of the evaluation, with the path to the field; the work limit.
    pub fn inspect(&self) -> Result<InspectionReport> {
        self.inspect_within(&mut Meter::default())
    }

    /// Evaluates the readings with a limit of work, which counts for the
    /// calibration of two devices; the rest is short.
    ///
    /// # Errors
    /// As [`Measurement::inspect`], and those of the meter.
    pub fn inspect_within(&self, meter: &mut Meter<'_>) -> Result<InspectionReport> {
        let result = match &self.readings {
            Readings::Coordinates(it) => inspect_coordinates(it)
                .map(|found| Inspection::Coordinates(Box::new(found)))
                .at("coordinates"),
            Readings::Angles(it) => inspect_angles(it)
                .map(|found| Inspection::Ring(Box::new(found)))
                .at("angles"),
            Readings::Deviations(it) => inspect_deviations(it)
                .map(|found| Inspection::Ring(Box::new(found)))
                .at("deviations"),
            Readings::Chords(it) => inspect_chords(it)
                .map(|found| Inspection::Ring(Box::new(found)))
                .at("chords"),
            Readings::Stations(it) => inspect_stations(it)
                .map(|found| Inspection::Stations(Box::new(found)))
                .at("stations"),
            Readings::Closure(it) => it
                .calibrate(meter)
                .map(|found| Inspection::Closure(Box::new(found)))
                .at("closure"),
        };
        Ok(InspectionReport {
            measurement: self.clone(),
            result: result.at("readings")?,
        })
    }
}

impl InspectionReport {
    /// Reads a report and evaluates its readings again.
    ///
    /// # Errors
    /// Those of [`Measurement::from_json`] and [`Measurement::inspect`], with the
    /// path to the field; [`ErrorKind::Inconsistent`] for figures that do not
    /// follow from the readings.
    pub fn from_json(text: &str) -> Result<Self> {
        document::read_format::<ReportRead>(text)?.try_into()
    }

    /// What was measured.
    #[must_use]
    pub const fn measurement(&self) -> &Measurement {
        &self.measurement
    }

    /// What the readings say.
    #[must_use]
    pub const fn result(&self) -> &Inspection {
        &self.result
    }

    /// The report as JSON text, angles in radians.
    ///
    /// # Errors
    /// None in this version; the result is one so that a defect shows as an error.
    pub fn to_json(&self) -> Result<String> {
        document::write(self)
    }

    /// The report as plain text, in lines of at most 78 characters except where
    /// free words or findings are longer; angles in seconds of arc.
    #[must_use]
    pub fn to_text(&self) -> String {
        let rule = "=".repeat(WIDTH);
        let name = self.measurement.name.as_deref().unwrap_or("not named");
        let mut out = format!("{rule}\nINSPECTION  {name}\n{rule}\n");
        for (label, value) in [
            ("Measured by", &self.measurement.measured_by),
            ("Measured on", &self.measurement.measured_on),
            ("Instrument", &self.measurement.instrument),
            ("Temperature", &self.measurement.temperature),
        ] {
            if let Some(value) = value {
                fact(&mut out, label, value);
            }
        }
        match &self.result {
            Inspection::Coordinates(found) => coordinates(&mut out, found),
            Inspection::Ring(found) => ring(&mut out, "Deviations as measured", found),
            Inspection::Stations(found) => stations(&mut out, found),
            Inspection::Closure(found) => closure(&mut out, found),
        }
        out
    }
}

fn fact(out: &mut String, label: &str, value: &str) {
    out.push_str(&format!("{label:<26}{value}\n"));
}

fn heading(out: &mut String, title: &str) {
    let line = "-".repeat(title.chars().count());
    out.push_str(&format!("\n{}\n{line}\n", title.to_uppercase()));
}

/// Radians as seconds of arc; a rounded zero has no sign.
fn arcsec(value_rad: f64) -> String {
    let text = format!("{:+.2}", value_rad / RAD_PER_ARCSEC);
    if text == "-0.00" || text == "+0.00" {
        "0.00".into()
    } else {
        text
    }
}

fn uncertainty(value_rad: Option<f64>) -> String {
    value_rad.map_or_else(
        || "-".into(),
        |value| format!("{:.2}", value / RAD_PER_ARCSEC),
    )
}

fn mm(value_mm: f64, uncertainty_mm: Option<f64>) -> String {
    let with = uncertainty_mm.map_or_else(String::new, |it| format!("   u {it:.5} mm"));
    format!("{value_mm:.5} mm{with}")
}

fn coordinates(out: &mut String, found: &CoordinateInspection) {
    heading(out, "Circle, by least squares");
    let circle = &found.circle;
    let spread = |axis: usize| {
        circle
            .covariance_mm2
            .map(|it| it[axis][axis].max(0.0).sqrt())
    };
    fact(out, "centre X", &mm(circle.x_mm, spread(0)));
    fact(out, "centre Y", &mm(circle.y_mm, spread(1)));
    fact(out, "radius", &mm(circle.radius_mm, spread(2)));
    if let Some(eccentricity) = &found.eccentricity {
        fact(
            out,
            "eccentricity",
            &mm(eccentricity.amount_mm, eccentricity.amount_uncertainty_mm),
        );
        let degrees = eccentricity.direction_rad.to_degrees();
        fact(out, "its direction", &format!("{degrees:.2}°"));
    }
    for finding in &found.findings {
        fact(out, "note", &finding.to_string());
    }
    match &found.about_axis {
        Some(about_axis) => ring(out, "Deviations about the axis", about_axis),
        None => ring(out, "Deviations about the centre", &found.about_centre),
    }
}

fn pitch(out: &mut String, name: &str, pitch: &PitchDeviations) {
    if let Some(single) = &pitch.largest_single {
        fact(
            out,
            &format!("single pitch, {name}"),
            &format!(
                "{}\" from {} to {}",
                arcsec(single.deviation_rad),
                single.from_place,
                single.to_place
            ),
        );
    }
    let total = &pitch.total_cumulative;
    fact(
        out,
        &format!("cumulative, {name}"),
        &format!(
            "{}\" from {} to {}",
            arcsec(total.deviation_rad),
            total.from_place,
            total.to_place
        ),
    );
}

fn ring(out: &mut String, title: &str, found: &RingDeviations) {
    heading(out, title);
    fact(
        out,
        "places measured",
        &format!("{} of {}", found.deviations.len(), found.places),
    );
    fact(
        out,
        "first harmonic",
        &format!(
            "{:.2}\"   u {}\"",
            found.first_harmonic.amplitude_rad / RAD_PER_ARCSEC,
            uncertainty(found.first_harmonic_uncertainty_rad)
        ),
    );
    pitch(out, "all", &found.pitch);
    pitch(out, "the rest", &found.rest_pitch);
    for finding in &found.findings {
        fact(out, "note", &finding.to_string());
    }
    out.push_str(&format!(
        "\n{:>6}{:>14}{:>12}{:>22}{:>18}\n",
        "place", "deviation \"", "u \"", "without 1st harm. \"", "along circle mm"
    ));
    for place in &found.deviations {
        let along = found
            .along_circle_mm(place.place)
            .map_or_else(|| "-".into(), |it| format!("{it:+.5}"));
        out.push_str(&format!(
            "{:>6}{:>14}{:>12}{:>22}{along:>18}\n",
            place.place,
            arcsec(place.deviation_rad),
            uncertainty(place.standard_uncertainty_rad),
            arcsec(place.rest_rad),
        ));
    }
}

fn stations(out: &mut String, found: &StationDeviations) {
    heading(out, "Deviations of the stations");
    fact(
        out,
        "stations measured",
        &format!("{} of {}", found.deviations.len(), found.stations),
    );
    for finding in &found.findings {
        fact(out, "note", &finding.to_string());
    }
    out.push_str(&format!(
        "\n{:>8}{:>14}{:>12}\n",
        "station", "deviation \"", "u \""
    ));
    for it in &found.deviations {
        out.push_str(&format!(
            "{:>8}{:>14}{:>12}\n",
            it.station,
            arcsec(it.deviation_rad),
            uncertainty(it.standard_uncertainty_rad),
        ));
    }
}

fn closure(out: &mut String, found: &Closure) {
    heading(out, "Closure calibration");
    let test = &found.residuals;
    fact(
        out,
        "degrees of freedom",
        &test.degrees_of_freedom.to_string(),
    );
    fact(
        out,
        "reading, u",
        &format!("{}\"", uncertainty(found.reading_uncertainty_rad())),
    );
    if let Some(probability) = test.probability {
        fact(
            out,
            "probability of residuals",
            &format!("{probability:.3}"),
        );
    }
    out.push_str(&format!(
        "\n{:>6}{:>16}{:>10}{:>18}{:>10}\n",
        "place", "first device \"", "u \"", "second device \"", "u \""
    ));
    for (place, (first, second)) in found.first_rad.iter().zip(&found.second_rad).enumerate() {
        out.push_str(&format!(
            "{place:>6}{:>16}{:>10}{:>18}{:>10}\n",
            arcsec(*first),
            uncertainty(found.uncertainty_rad(Device::First, place)),
            arcsec(*second),
            uncertainty(found.uncertainty_rad(Device::Second, place)),
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_report_keeps_its_width_and_is_json_too() {
        let readings: Vec<String> = (0..6)
            .map(|place| format!(r#"{{"place": {place}, "deviation_arcsec": {}}}"#, place % 3))
            .collect();
        let text = format!(
            r#"{{"format": 1, "name": "ring", "readings": {{"deviations":
               {{"places": 6, "radius": 50, "standard_uncertainty_arcsec": 0.5,
                 "readings": [{}]}}}}}}"#,
            readings.join(",")
        );
        let report = Measurement::from_json(&text).unwrap().inspect().unwrap();
        let text = report.to_text();
        assert!(
            text.lines().all(|line| line.chars().count() <= WIDTH),
            "{text}"
        );
        assert!(text.contains("6 of 6"), "{text}");
        // Deviations −1, 0, 1, −1, 0, 1 about their mean.
        assert!(text.contains("     2         +1.00"), "{text}");
        let json: Value = serde_json::from_str(&report.to_json().unwrap()).unwrap();
        assert_eq!(json["result"]["ring"]["places"], 6);
    }
    #[test]
    fn a_report_reads_back_by_its_readings() {
        let measurement = Measurement::from_json(
            r#"{"format": 1, "name": "ring", "temperature": "20 °C", "readings": {"coordinates":
               {"places": 4, "axis": [0, 0], "standard_uncertainty": {"x": 0.002, "y": 0.003},
                "points": [{"place": 0, "x": 50.01, "y": 0.003}, {"place": 1, "x": 0.004, "y": 50},
                  {"place": 2, "x": -49.99, "y": 0}, {"place": 3, "x": 0, "y": -50.002}]}}}"#,
        )
        .unwrap();
        let report = measurement.inspect().unwrap();
        let text = report.to_json().unwrap();
        assert_eq!(InspectionReport::from_json(&text).unwrap(), report);
        assert_eq!(report.measurement(), &measurement);
        let refused = |change: &dyn Fn(&mut Value)| {
            let mut document: Value = serde_json::from_str(&text).unwrap();
            change(&mut document);
            let error = InspectionReport::from_json(&document.to_string()).unwrap_err();
            (error.kind(), error.field().to_owned())
        };
        assert_eq!(
            refused(&|it| it["result"]["coordinates"]["circle"]["x_mm"] = 1.0.into()),
            (
                ErrorKind::Inconsistent,
                "result.coordinates.circle.x_mm".into()
            )
        );
        assert_eq!(
            refused(&|it| it["format"] = 2.into()),
            (ErrorKind::UnknownFormat, "format".into())
        );
        let (kind, field) = refused(&|it| it["measurement"]["format"] = 9.into());
        assert_eq!(
            (kind, field.as_str()),
            (ErrorKind::InvalidField, "measurement.format")
        );
        let points = |it: &mut Value| {
            it["measurement"]["readings"]["coordinates"]["points"][3]["place"] = 0.into();
        };
        assert_eq!(
            refused(&points),
            (
                ErrorKind::Duplicate,
                "measurement.readings.coordinates.points".into()
            )
        );
        assert_eq!(
            refused(&|it| it["more"] = 1.into()).0,
            ErrorKind::UnknownField
        );
    }
}
