//! A job: the features, how the pattern starts, how close it must be.

use serde::{Deserialize, Serialize};

use crate::accuracy::{
    AngularClass, DecisionRule, FeatureShift, LocatedFrom, MaximumMaterial, PitchGrades,
    PositionTolerance, SimulationLimits, feature_shift,
};
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

/// From which side the settings of a worm are come up to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Approach {
    /// Always from the same side, so that lost motion does not come in.
    #[default]
    OneSide,
    /// Now from one side, now from the other: the lost motion of worm and dial
    /// (their `backlash`) counts, half of it either way from its middle.
    EitherSide,
}

impl Approach {
    #[allow(
        clippy::trivially_copy_pass_by_ref,
        reason = "the form that serde asks for"
    )]
    const fn is_one_side(&self) -> bool {
        matches!(self, Self::OneSide)
    }
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
    /// Limits of pitch: single, cumulative or both.
    Pitch(PitchTolerance),
    /// A general-tolerance class of ISO 2768-1 for the angle.
    AngularClass(AngularClassTolerance),
    /// The pitch tolerances of a grade of ISO 1328-1:2013, of its pitch alone:
    /// a plate is no gear.
    PitchGrade(PitchGradeTolerance),
}

/// Limits of pitch, as angles.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PitchTolerance {
    /// Largest deviation of the angle between neighbours, either way.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub single: Option<Angle>,
    /// Largest less smallest deviation of all features.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cumulative: Option<Angle>,
}

/// A general tolerance of angle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AngularClassTolerance {
    /// The class.
    pub class: AngularClass,
    /// The shorter side of the angle.
    pub shorter_side: Length,
}

/// A grade of pitch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PitchGradeTolerance {
    /// The grade, 1 to 11.
    pub grade: u8,
    /// Reference diameter, module and rounding.
    pub pitch: PitchGrades,
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
    /// The sizes of the feature, where the zone holds at maximum material and
    /// grows as the feature departs from it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_maximum_material: Option<MaximumMaterial>,
}

/// The part's axis off the one that the cut is located from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PartEccentricity {
    /// Distance of the part's axis from that of the spindle, or of the plate
    /// fixed to the part, at most.
    pub eccentricity: Length,
    /// From where the cut is located.
    #[serde(default)]
    pub located_from: LocatedFrom,
    /// Radius of the features from the part's axis; none for flats and other
    /// straight cuts, which shift but do not turn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feature_radius: Option<Length>,
}

impl PartEccentricity {
    /// What it does to a feature.
    ///
    /// # Errors
    /// None on the eccentricity of a [`Job`], which is checked.
    pub fn shift(&self) -> Result<FeatureShift> {
        feature_shift(
            self.eccentricity.mm(),
            self.feature_radius.map(Length::mm),
            self.located_from,
        )
    }

    fn check(&self) -> Result<()> {
        self.eccentricity.check_not_negative().at("eccentricity")?;
        if let Some(radius) = self.feature_radius {
            radius.check_positive().at("feature_radius")?;
        }
        self.shift().map(|_| ()).at("eccentricity")
    }
}

impl Tolerance {
    /// Largest deviation in angle either way, in radians, for features whose
    /// radius is true; for pitches the tightest limit given.
    ///
    /// For a position zone of diameter t at radius r a point on the circle
    /// leaves the zone at `2·asin(t/(4·r))`, near enough `t/(2·r)`.
    ///
    /// # Errors
    /// None on the tolerance of a [`Job`], which is checked.
    pub fn limit_rad(&self) -> Result<f64> {
        let limits = self.limits()?;
        Ok([
            limits.deviation_rad,
            limits.single_pitch_rad,
            limits.cumulative_pitch_rad,
        ]
        .into_iter()
        .flatten()
        .fold(f64::INFINITY, f64::min))
    }

    /// Whether it limits pitches instead of the deviations of features.
    #[must_use]
    pub const fn limits_pitch(&self) -> bool {
        matches!(self, Self::Pitch(_) | Self::PitchGrade(_))
    }

    /// The limits in radians.
    ///
    /// # Errors
    /// As [`Tolerance::limit_rad`].
    pub fn limits(&self) -> Result<SimulationLimits> {
        let deviation = |limit_rad| SimulationLimits {
            deviation_rad: Some(limit_rad),
            ..SimulationLimits::default()
        };
        Ok(match self {
            Self::Angle(limit) => deviation(limit.to_radians_f64()),
            Self::PositionDiameter(zone) => deviation(zone.limit_rad()?),
            Self::Pitch(pitch) => SimulationLimits {
                deviation_rad: None,
                single_pitch_rad: pitch.single.map(Angle::to_radians_f64),
                cumulative_pitch_rad: pitch.cumulative.map(Angle::to_radians_f64),
            },
            Self::AngularClass(it) => deviation(it.class.limit_rad(it.shorter_side)?),
            Self::PitchGrade(it) => {
                let um_per_rad = it.pitch.reference_diameter.mm() * 500.0;
                SimulationLimits {
                    deviation_rad: None,
                    single_pitch_rad: Some(it.pitch.single_pitch_um(it.grade)? / um_per_rad),
                    cumulative_pitch_rad: Some(
                        it.pitch.cumulative_pitch_um(it.grade)? / um_per_rad,
                    ),
                }
            }
        })
    }

    fn check(&self) -> Result<()> {
        match self {
            Self::Angle(limit) => check_limit(*limit).at("angle"),
            Self::PositionDiameter(zone) => zone.check().at("position_diameter"),
            Self::Pitch(pitch) => pitch.check().at("pitch"),
            Self::AngularClass(it) => it
                .shorter_side
                .check_positive()
                .at("angular_class.shorter_side"),
            Self::PitchGrade(it) => match it.pitch.single_pitch_um(it.grade) {
                Ok(_) => Ok(()),
                Err(error) if error.field() == "grade" => Err(error.at("pitch_grade")),
                Err(error) => Err(error.at("pitch").at("pitch_grade")),
            },
        }
    }
}

/// Refuses an angle that is no limit of deviation.
fn check_limit(limit: Angle) -> Result<()> {
    if limit <= Angle::ZERO || limit >= Angle::QUARTER_TURN {
        return Err(Error::out_of_range(limit, "greater than 0° and below 90°"));
    }
    Ok(())
}

impl PitchTolerance {
    fn check(&self) -> Result<()> {
        if self.single.is_none() && self.cumulative.is_none() {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                "a tolerance of pitch without a limit; give single, cumulative or both",
            ));
        }
        if let Some(limit) = self.single {
            check_limit(limit).at("single")?;
        }
        if let Some(limit) = self.cumulative {
            check_limit(limit).at("cumulative")?;
        }
        Ok(())
    }
}

impl PositionDiameter {
    /// Diameter of the zone with its bonus, in millimetres.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for an actual size outside its limits.
    pub fn permitted_diameter_mm(&self) -> Result<f64> {
        PositionTolerance {
            zone_diameter: self.diameter,
            at_maximum_material: self.at_maximum_material,
        }
        .permitted_diameter_mm()
    }

    fn limit_rad(&self) -> Result<f64> {
        let part = self.permitted_diameter_mm()? / (4.0 * self.radius.mm());
        Ok(2.0 * part.min(1.0).asin())
    }

    fn check(&self) -> Result<()> {
        self.radius.check_positive().at("radius")?;
        if let Some(sizes) = &self.at_maximum_material {
            for (size, name) in [
                (sizes.maximum_material_size, "maximum_material_size"),
                (sizes.least_material_size, "least_material_size"),
                (sizes.actual_size, "actual_size"),
            ] {
                size.check_positive().at(name).at("at_maximum_material")?;
            }
        }
        self.diameter.check_positive().at("diameter")?;
        if self.permitted_diameter_mm()? >= 2.0 * self.radius.mm() {
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
    /// The rule by which a limit of angle is judged (JCGM 106:2012); without it
    /// the worst case must hold.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    decision_rule: Option<DecisionRule>,
    /// The part's axis off that of the spindle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    part_eccentricity: Option<PartEccentricity>,
    /// From which side the settings of a worm are come up to.
    #[serde(default, skip_serializing_if = "Approach::is_one_side")]
    approach: Approach,
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
            decision_rule: None,
            part_eccentricity: None,
            approach: Approach::default(),
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

    /// The same job judged by a decision rule instead of by its worst case.
    ///
    /// # Errors
    /// A guard band that is negative or no number.
    pub fn with_decision_rule(mut self, rule: DecisionRule) -> Result<Self> {
        self.document.decision_rule = Some(rule);
        self.document.try_into()
    }

    /// The same job with its part's axis off that of the spindle.
    ///
    /// # Errors
    /// A negative eccentricity, or one that reaches the features' radius.
    pub fn with_part_eccentricity(mut self, eccentricity: PartEccentricity) -> Result<Self> {
        self.document.part_eccentricity = Some(eccentricity);
        self.document.try_into()
    }

    /// The same job with the side from which settings are come up to.
    #[must_use]
    pub const fn with_approach(mut self, approach: Approach) -> Self {
        self.document.approach = approach;
        self
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

    /// The rule by which a limit of angle is judged; none where the worst case
    /// must hold.
    #[must_use]
    pub const fn decision_rule(&self) -> Option<DecisionRule> {
        self.document.decision_rule
    }

    /// The part's axis off that of the spindle, where it is known to be.
    #[must_use]
    pub const fn part_eccentricity(&self) -> Option<&PartEccentricity> {
        self.document.part_eccentricity.as_ref()
    }

    /// From which side the settings of a worm are come up to.
    #[must_use]
    pub const fn approach(&self) -> Approach {
        self.document.approach
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
        if let Some(rule) = document.decision_rule {
            rule.check().at("decision_rule")?;
        }
        if let Some(eccentricity) = &document.part_eccentricity {
            eccentricity.check().at("part_eccentricity")?;
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
            at_maximum_material: None,
        });
        assert!((zone.limit_rad().unwrap() - 0.05 / 30.0).abs() < 1e-9);
    }
}
