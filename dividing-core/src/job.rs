//! A job: the features, how the pattern starts, how close it must be.

use serde::{Deserialize, Serialize};

use crate::angle::Angle;
use crate::document::{self, FORMAT, check_format, check_name};
use crate::equipment::check_error_angle;
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::features::Features;
use crate::length::Length;

/// Where the pattern may begin.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Start {
    /// Anywhere: the whole pattern may shift as one, so that the first feature
    /// too may be off its setting by the best-fit shift.
    #[default]
    Free,
    /// The first feature stands exactly at a setting of the device.
    OnASetting,
    /// The pattern is clocked to a feature that the part already has.
    Clocked(Clocked),
}

/// How a job is clocked to an existing feature.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Clocked {
    /// The existing feature, in the words of the drawing: `keyway`.
    pub to: String,
    /// Its drawing angle.
    #[serde(default)]
    pub at: Angle,
    /// Where the device stands, on from its zero setting in its own numbering,
    /// when that feature stands where the cutter will work: the reading of a
    /// dial, the angle of the hole in use from the first one.
    #[serde(default)]
    pub reading: Angle,
    /// How closely it is clocked, either way.
    #[serde(default)]
    pub clocking_error: Angle,
}

/// How far off a feature may be.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Tolerance {
    /// So much either way.
    Angle(Angle),
    /// A position tolerance: the diameter of the zone round the true place, on
    /// a circle of a radius.
    PositionDiameter(PositionDiameter),
}

/// A position tolerance on a circle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PositionDiameter {
    /// Diameter of the tolerance zone (ISO 1101, position; ASME Y14.5).
    pub diameter: Length,
    /// Radius of the circle that the features stand on.
    pub radius: Length,
}

impl Tolerance {
    /// Largest deviation in angle either way, in radians, for features whose
    /// radius is true.
    ///
    /// For a position zone of diameter t at radius r a point on the circle
    /// leaves the zone at `2·asin(t/(4·r))`, near enough `t/(2·r)`.
    #[must_use]
    pub fn limit_rad(&self) -> f64 {
        match self {
            Self::Angle(limit) => limit.to_radians_f64(),
            Self::PositionDiameter(zone) => {
                2.0 * (zone.diameter.mm() / (4.0 * zone.radius.mm()))
                    .min(1.0)
                    .asin()
            }
        }
    }

    fn check(&self) -> Result<()> {
        match self {
            Self::Angle(limit) => {
                if *limit <= Angle::ZERO || *limit >= Angle::QUARTER_TURN {
                    return Err(
                        Error::out_of_range(limit, "greater than 0° and below 90°").at("angle")
                    );
                }
                Ok(())
            }
            Self::PositionDiameter(zone) => zone.check().at("position_diameter"),
        }
    }
}

impl PositionDiameter {
    fn check(&self) -> Result<()> {
        self.diameter.check_positive().at("diameter")?;
        self.radius.check_positive().at("radius")?;
        if self.diameter.mm() >= 2.0 * self.radius.mm() {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "a zone of {} covers the whole circle of radius {}; accepted: less than its diameter",
                    self.diameter, self.radius
                ),
            )
            .at("diameter"));
        }
        Ok(())
    }
}

/// The unit of lengths on the sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum LengthUnit {
    /// Millimetres.
    #[default]
    Millimetre,
    /// Inches.
    Inch,
}

/// The way angles are written on the sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum AngleUnit {
    /// Decimal degrees.
    #[default]
    DecimalDegrees,
    /// Degrees, minutes and seconds.
    DegreesMinutesSeconds,
}

/// The units of the sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SheetUnits {
    /// Lengths.
    #[serde(default)]
    pub length: LengthUnit,
    /// Angles.
    #[serde(default)]
    pub angle: AngleUnit,
}

/// A job, checked.
///
/// ```
/// use dividing_core::Job;
/// let job = Job::from_json(r#"{
///     "format": 1,
///     "name": "Nine slots",
///     "features": {"equal_divisions": {"count": 9, "called": "slot"}},
///     "tolerance": {"angle": "0.05 deg"}
/// }"#)?;
/// assert_eq!(job.features().count(), 9);
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "JobDocument", into = "JobDocument")]
pub struct Job {
    document: JobDocument,
}

/// A job as it is written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Job"))]
pub(crate) struct JobDocument {
    /// The format of this document: 1.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
    format: u32,
    /// What the job is called.
    name: String,
    /// What the drawing asks for.
    features: Features,
    /// Where the pattern may begin.
    #[serde(default)]
    start: Start,
    /// How far off a feature may be; without it there is no verdict.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    tolerance: Option<Tolerance>,
    /// The units of the sheet.
    #[serde(default)]
    units: SheetUnits,
}

impl Job {
    /// A job with a free start, no tolerance, in millimetres and decimal degrees.
    ///
    /// # Errors
    /// The first thing that does not make sense, with the path to its field.
    ///
    /// ```
    /// use dividing_core::Job;
    /// use dividing_core::features::{EqualDivisions, Features};
    /// let job = Job::new("Wheel", Features::EqualDivisions(EqualDivisions {
    ///     count: 127,
    ///     called: "tooth".into(),
    ///     first_angle: Default::default(),
    /// }))?;
    /// assert_eq!(job.name(), "Wheel");
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn new(name: impl Into<String>, features: Features) -> Result<Self> {
        JobDocument {
            format: FORMAT,
            name: name.into(),
            features,
            start: Start::Free,
            tolerance: None,
            units: SheetUnits::default(),
        }
        .try_into()
    }

    /// The same job with another start.
    ///
    /// # Errors
    /// A name that is empty, or a clocking error that is no error limit.
    pub fn with_start(mut self, start: Start) -> Result<Self> {
        self.document.start = start;
        self.document.try_into()
    }

    /// The same job with a tolerance.
    ///
    /// # Errors
    /// A tolerance that is not greater than zero, or a zone larger than its circle.
    pub fn with_tolerance(mut self, tolerance: Tolerance) -> Result<Self> {
        self.document.tolerance = Some(tolerance);
        self.document.try_into()
    }

    /// The same job with other units on its sheet.
    #[must_use]
    pub const fn with_units(mut self, units: SheetUnits) -> Self {
        self.document.units = units;
        self
    }

    /// Reads a job from JSON text.
    ///
    /// # Errors
    /// The path to the field, what was found there and what would be accepted.
    pub fn from_json(text: &str) -> Result<Self> {
        document::read::<JobDocument>(text)?.try_into()
    }

    /// The job as JSON text; reading it back gives an equal job.
    ///
    /// # Errors
    /// None on a job made by this library; the result is one so that a defect
    /// shows as an error.
    pub fn to_json(&self) -> Result<String> {
        document::write(self)
    }

    /// What the job is called.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.document.name
    }

    /// What the drawing asks for.
    #[must_use]
    pub const fn features(&self) -> &Features {
        &self.document.features
    }

    /// Where the pattern may begin.
    #[must_use]
    pub const fn start(&self) -> &Start {
        &self.document.start
    }

    /// How far off a feature may be.
    #[must_use]
    pub const fn tolerance(&self) -> Option<&Tolerance> {
        self.document.tolerance.as_ref()
    }

    /// The units of the sheet.
    #[must_use]
    pub const fn units(&self) -> SheetUnits {
        self.document.units
    }
}

impl TryFrom<JobDocument> for Job {
    type Error = Error;

    fn try_from(document: JobDocument) -> Result<Self> {
        check_format(document.format)?;
        check_name(&document.name).at("name")?;
        document.features.check().at("features")?;
        if let Start::Clocked(clocked) = &document.start {
            check_name(&clocked.to).at("start.clocked.to")?;
            check_error_angle(clocked.clocking_error).at("start.clocked.clocking_error")?;
        }
        if let Some(tolerance) = &document.tolerance {
            tolerance.check().at("tolerance")?;
        }
        Ok(Self { document })
    }
}

impl From<Job> for JobDocument {
    fn from(job: Job) -> Self {
        job.document
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn error(rest: &str) -> Error {
        Job::from_json(&format!(r#"{{"format":1,"name":"j",{rest}}}"#)).unwrap_err()
    }

    #[test]
    fn hostile_jobs_are_refused_with_a_path() {
        let nine = r#""features":{"equal_divisions":{"count":9}}"#;
        assert_eq!(
            error(&format!(r#"{nine},"tolerance":{{"angle":"0 deg"}}"#)).field(),
            "tolerance.angle"
        );
        assert_eq!(
            error(&format!(r#"{nine},"tolerance":{{"angle":"-1 deg"}}"#)).field(),
            "tolerance.angle"
        );
        assert_eq!(
            error(&format!(r#"{nine},"tolerance":{{"angle":"1 rad"}}"#)).kind(),
            ErrorKind::InvalidField
        );
        let zone = r#""tolerance":{"position_diameter":{"diameter":90,"radius":30}}"#;
        let error_of_zone = error(&format!("{nine},{zone}"));
        assert_eq!(
            (error_of_zone.kind(), error_of_zone.field()),
            (
                ErrorKind::Inconsistent,
                "tolerance.position_diameter.diameter"
            )
        );
        assert_eq!(
            error(&format!(r#"{nine},"start":"anywhere""#)).kind(),
            ErrorKind::UnknownField
        );
        assert_eq!(
            error(r#""features":{"angles":{"angles":[]}}"#).kind(),
            ErrorKind::EmptyList
        );
        assert_eq!(
            error(r#""features":{"equal_divisions":{"count":-9}}"#).kind(),
            ErrorKind::InvalidField
        );
        assert_eq!(
            error(r#""features":{"equal_divisions":{"count":1e99}}"#).kind(),
            ErrorKind::InvalidField
        );
    }

    #[test]
    fn a_position_zone_is_an_angle_at_its_radius() {
        let zone = Tolerance::PositionDiameter(PositionDiameter {
            diameter: Length::from_mm(0.1).unwrap(),
            radius: Length::from_mm(30.0).unwrap(),
        });
        assert!((zone.limit_rad() - 0.05 / 30.0).abs() < 1e-9);
    }
}
