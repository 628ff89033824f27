//! A verdict on a finished part.

use serde::{Deserialize, Serialize};

use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

use super::coordinates::CoordinateInspection;
use super::decision::{
    Decision, DecisionRule, GroundedDecision, MeasuredValue, ToleranceLimits, decide,
};
use super::measurement::CoordinateReadings;
use super::ring::{PlaceDeviation, RingDeviations};

/// What the drawing asks of a ring of features; what is `None` is not asked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RingLimits {
    /// Largest angular deviation of a feature either way, in radians.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub angle_rad: Option<f64>,
    /// The feature the others are clocked to; without it the whole ring may
    /// shift, and deviations count from the shift that makes the worst least.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub datum_place: Option<usize>,
    /// Largest single pitch deviation either way, in radians.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub single_pitch_rad: Option<f64>,
    /// Largest total cumulative pitch deviation, in radians.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cumulative_pitch_rad: Option<f64>,
}

/// What was checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Checked {
    /// Angle of a place, in radians.
    Angle {
        /// Number of the place.
        place: usize,
    },
    /// Single pitch from a place to the next, in radians.
    SinglePitch {
        /// The place it starts from.
        from_place: usize,
    },
    /// Total cumulative pitch, in radians.
    CumulativePitch,
    /// Diameter of the position zone that just holds a place, in millimetres.
    Position {
        /// Number of the place.
        place: usize,
    },
}

/// One check of a part.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PartCheck {
    /// What was checked, in which unit.
    pub checked: Checked,
    /// The measured value.
    pub measured: MeasuredValue,
    /// The decision.
    pub decided: GroundedDecision,
}

/// All checks of a part and what follows from them.
///
/// Read from a document, the decision is drawn from the checks again; another one
/// is refused.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "PartVerdictDocument")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PartVerdict {
    /// Pass when every check passes, fail when one fails, else not proven.
    pub decision: Decision,
    /// The checks in the order of the places.
    pub checks: Vec<PartCheck>,
    /// Places that were not measured; a part with any can fail but not pass.
    pub missing_places: Vec<usize>,
}

/// A verdict as it is written.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct PartVerdictDocument {
    decision: Decision,
    checks: Vec<PartCheck>,
    missing_places: Vec<usize>,
}

impl TryFrom<PartVerdictDocument> for PartVerdict {
    type Error = Error;

    fn try_from(document: PartVerdictDocument) -> Result<Self> {
        let found = Self::new(document.checks, document.missing_places);
        if found.decision == document.decision {
            return Ok(found);
        }
        Err(Error::new(
            ErrorKind::Inconsistent,
            format!(
                "the decision {:?} does not follow from the checks; accepted: {:?}",
                document.decision, found.decision
            ),
        )
        .at("decision"))
    }
}

impl PartVerdict {
    fn new(checks: Vec<PartCheck>, missing_places: Vec<usize>) -> Self {
        let mut all = checks.iter().map(|check| check.decided.decision);
        let decision = if all.clone().any(|it| it == Decision::Fail) {
            Decision::Fail
        } else if !checks.is_empty()
            && missing_places.is_empty()
            && all.all(|it| it == Decision::Pass)
        {
            Decision::Pass
        } else {
            Decision::NotProven
        };
        Self {
            decision,
            checks,
            missing_places,
        }
    }
}

/// The shift of a ring that makes its worst deviation least: the middle between
/// the two places that stand furthest either way. A free ring conforms when any
/// shift would do, and this one does if any does.
struct Middle<'r> {
    ring: &'r RingDeviations,
    shift_rad: f64,
    lowest: usize,
    highest: usize,
}

impl<'r> Middle<'r> {
    fn of(ring: &'r RingDeviations) -> Option<Self> {
        let by_size = |one: &&PlaceDeviation, other: &&PlaceDeviation| {
            one.deviation_rad.total_cmp(&other.deviation_rad)
        };
        let lowest = ring.deviations.iter().min_by(by_size)?;
        let highest = ring.deviations.iter().max_by(by_size)?;
        Some(Self {
            ring,
            shift_rad: f64::midpoint(lowest.deviation_rad, highest.deviation_rad),
            lowest: lowest.place,
            highest: highest.place,
        })
    }

    /// Standard uncertainty of a place counted from the middle: of
    /// `x − (x_lowest + x_highest)/2` (JCGM 100:2008, 5.2.2).
    fn uncertainty_rad(&self, place: usize) -> Option<f64> {
        let of = |one, other| self.ring.covariance_rad2(one, other);
        let (low, high) = (self.lowest, self.highest);
        let ends = of(low, low)? + of(high, high)? + 2.0 * of(low, high)?;
        let variance = of(place, place)? + 0.25 * ends - of(place, low)? - of(place, high)?;
        Some(variance.max(0.0).sqrt())
    }
}

fn missing(ring: &RingDeviations) -> Vec<usize> {
    (0..ring.places)
        .filter(|&place| ring.at(place).is_none())
        .collect()
}

fn check_limit(name: &str, limit: f64) -> Result<()> {
    if limit.is_finite() && limit > 0.0 {
        Ok(())
    } else {
        Err(Error::out_of_range(limit, "a finite number above 0").at(name))
    }
}

/// Checks measured angles and pitches against the drawing.
///
/// Each single pitch and each angle is decided with its own uncertainty, the
/// correlation of two places included. Eccentricity of the part to its axis is
/// part of what is judged when the ring is the one about the axis.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for limits that are not above 0,
/// [`ErrorKind::NotFound`] for a datum that was not measured,
/// [`ErrorKind::EmptyList`] when nothing is asked, and those of [`decide`].
///
/// ```
/// use dividing_core::inspection::{
///     Decision, DecisionRule, DeviationReading, DeviationReadings, RingLimits, check_ring,
///     inspect_deviations,
/// };
/// let arcsec = std::f64::consts::PI / 648_000.0;
/// let readings = [0.0, 12.0, -3.0, -9.0]
///     .into_iter()
///     .enumerate()
///     .map(|(place, deviation_arcsec)| DeviationReading { place, deviation_arcsec })
///     .collect();
/// let ring = inspect_deviations(&DeviationReadings {
///     places: 4,
///     radius: None,
///     standard_uncertainty_arcsec: Some(0.5),
///     readings,
/// })?;
/// let limits = RingLimits { angle_rad: Some(20.0 * arcsec), ..RingLimits::default() };
/// let part = check_ring(&ring, &limits, DecisionRule::GuardBand { multiple: 1.0 })?;
/// assert_eq!(part.decision, Decision::Pass);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn check_ring(
    ring: &RingDeviations,
    limits: &RingLimits,
    rule: DecisionRule,
) -> Result<PartVerdict> {
    let mut checks = Vec::new();
    let mut add = |checked: Checked, value: f64, uncertainty: Option<f64>, limit: f64| {
        let measured = MeasuredValue {
            value,
            standard_uncertainty: uncertainty,
        };
        let both = ToleranceLimits {
            lower: Some(-limit),
            upper: Some(limit),
        };
        let decided = decide(measured, both, rule)?;
        checks.push(PartCheck {
            checked,
            measured,
            decided,
        });
        Ok::<(), Error>(())
    };
    let difference = |from: usize, to: usize| {
        let variance = ring.covariance_rad2(from, from)? + ring.covariance_rad2(to, to)?
            - 2.0 * ring.covariance_rad2(from, to)?;
        Some(variance.max(0.0).sqrt())
    };
    if let Some(limit) = limits.angle_rad {
        check_limit("angle", limit)?;
        let datum = limits
            .datum_place
            .map(|place| {
                ring.at(place).ok_or_else(|| {
                    Error::new(
                        ErrorKind::NotFound,
                        format!("place {place} was not measured; choose a datum that was"),
                    )
                    .at("datum_place")
                })
            })
            .transpose()?;
        let middle = Middle::of(ring);
        for place in &ring.deviations {
            let (value, uncertainty) = match datum {
                None => (
                    place.deviation_rad - middle.as_ref().map_or(0.0, |it| it.shift_rad),
                    middle
                        .as_ref()
                        .and_then(|it| it.uncertainty_rad(place.place)),
                ),
                Some(datum) if datum.place == place.place => continue,
                Some(datum) => (
                    place.deviation_rad - datum.deviation_rad,
                    difference(datum.place, place.place),
                ),
            };
            add(
                Checked::Angle { place: place.place },
                value,
                uncertainty,
                limit,
            )?;
        }
    }
    if let Some(limit) = limits.single_pitch_rad {
        check_limit("single_pitch", limit)?;
        for (from_place, value) in ring.pitch.single_rad.iter().enumerate() {
            let Some(value) = value else { continue };
            let to_place = if from_place + 1 < ring.places {
                from_place + 1
            } else {
                0
            };
            let uncertainty = difference(from_place, to_place);
            add(
                Checked::SinglePitch { from_place },
                *value,
                uncertainty,
                limit,
            )?;
        }
    }
    if let Some(limit) = limits.cumulative_pitch_rad {
        check_limit("cumulative_pitch", limit)?;
        let total = ring.pitch.total_cumulative;
        add(
            Checked::CumulativePitch,
            total.deviation_rad,
            total.standard_uncertainty_rad,
            limit,
        )?;
    }
    if checks.is_empty() {
        return Err(Error::new(
            ErrorKind::EmptyList,
            "no limit was given; accepted: angle, single pitch, cumulative pitch",
        )
        .at("limits"));
    }
    Ok(PartVerdict::new(checks, missing(ring)))
}

/// A measured hole seen from the middle of its pattern.
struct Hole {
    distance_mm: f64,
    deviation_rad: f64,
}

impl Hole {
    /// Its distance from its true place with the pattern turned by so much:
    /// chord of the turn, and what is off along the radius.
    fn off_mm(&self, nominal_mm: f64, turn_rad: f64) -> f64 {
        let half_turn = (self.deviation_rad - turn_rad) / 2.0;
        let across = 2.0 * half_turn.sin() * (nominal_mm * self.distance_mm).sqrt();
        across.hypot(self.distance_mm - nominal_mm)
    }
}

/// The turn of the pattern that leaves the worst hole best, found by thirds: a
/// hole is the further off the further it is turned from its own place, so that
/// the worst of them falls to one lowest point and rises again.
fn best_turn_rad(holes: &[Hole], nominal_mm: f64) -> f64 {
    let worst = |turn_rad: f64| {
        let all = holes.iter().map(|it| it.off_mm(nominal_mm, turn_rad));
        all.fold(0.0, f64::max)
    };
    let all = holes.iter().map(|it| it.deviation_rad);
    let (mut low, mut high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), it| {
        (low.min(it), high.max(it))
    });
    // A third less at each step: to the last digit of a small angle.
    for _ in 0..120 {
        let third = (high - low) / 3.0;
        if worst(low + third) <= worst(high - third) {
            high -= third;
        } else {
            low += third;
        }
    }
    f64::midpoint(low, high)
}

/// Checks measured hole centres against a position tolerance.
///
/// The actual position of a hole is the diameter of the zone about its true
/// position that just holds its centre, twice their distance (ISO 1101:2017,
/// position). True positions lie equally spaced on a circle of the nominal
/// radius about the axis where one was given, else about the fitted centre; the
/// pattern may turn as a whole, and is turned so that the worst hole is best.
///
/// # Errors
/// [`ErrorKind::Inconsistent`] when the readings hold no nominal radius or belong
/// to another inspection, [`ErrorKind::OutOfRange`], and those of [`decide`].
///
/// ```
/// use dividing_core::Length;
/// use dividing_core::inspection::{
///     CoordinateReadings, Decision, DecisionRule, Numbering, check_position, inspect_coordinates,
///     points_from_csv,
/// };
/// let text = "place,x_mm,y_mm\n0,40.004,0.002\n1,0.001,40.006\n2,-39.995,0.004\n3,0.006,-39.998\n";
/// let readings = CoordinateReadings {
///     places: 4,
///     numbering: Numbering::CounterClockwise,
///     axis: Some([Length::ZERO; 2]),
///     nominal_radius: Some(Length::from_mm(40.0)?),
///     standard_uncertainty: None,
///     points: points_from_csv(text)?,
/// };
/// let inspection = inspect_coordinates(&readings)?;
/// let zone = Length::from_mm(0.02)?;
/// let part = check_position(&readings, &inspection, zone, DecisionRule::SimpleAcceptance)?;
/// assert_eq!(part.decision, Decision::Pass);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn check_position(
    readings: &CoordinateReadings,
    inspection: &CoordinateInspection,
    zone_diameter: Length,
    rule: DecisionRule,
) -> Result<PartVerdict> {
    zone_diameter.check_positive().at("zone_diameter")?;
    let Some(nominal) = readings.nominal_radius else {
        return Err(Error::new(
            ErrorKind::Inconsistent,
            "a position needs the nominal radius of the circle; give nominal_radius",
        )
        .at("nominal_radius"));
    };
    let (ring, middle) = match (&inspection.about_axis, readings.axis) {
        (Some(ring), Some(axis)) => (ring, [axis[0].mm(), axis[1].mm()]),
        _ => (
            &inspection.about_centre,
            [inspection.circle.x_mm, inspection.circle.y_mm],
        ),
    };
    let mut points: Vec<_> = readings.points.iter().collect();
    points.sort_by_key(|point| point.place);
    let mut holes = Vec::with_capacity(points.len());
    for point in &points {
        let Some(place) = ring.at(point.place) else {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "place {} is not in the inspection; give the readings it was made from",
                    point.place
                ),
            )
            .at("points"));
        };
        let (x, y) = (point.x.mm() - middle[0], point.y.mm() - middle[1]);
        holes.push(Hole {
            distance_mm: x.hypot(y),
            deviation_rad: place.deviation_rad,
        });
    }
    let turn_rad = best_turn_rad(&holes, nominal.mm());
    let mut checks = Vec::with_capacity(points.len());
    for (point, hole) in points.into_iter().zip(&holes) {
        let off = hole.off_mm(nominal.mm(), turn_rad);
        let stated = point.standard_uncertainty.or(readings.standard_uncertainty);
        let measured = MeasuredValue {
            value: 2.0 * off,
            // The larger axis: the direction of a small deviation is not known.
            standard_uncertainty: stated.map(|u| 2.0 * u.x.mm().max(u.y.mm())),
        };
        let limits = ToleranceLimits {
            lower: None,
            upper: Some(zone_diameter.mm()),
        };
        checks.push(PartCheck {
            checked: Checked::Position { place: point.place },
            measured,
            decided: decide(measured, limits, rule)?,
        });
    }
    Ok(PartVerdict::new(checks, missing(ring)))
}
