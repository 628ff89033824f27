//! From hole coordinates to deviations.

use serde::Serialize;

use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

use super::circle::{CircleFit, MeasuredPoint, PointUncertainty, fit_circle};
use super::covariance::DeviationCovariance;
use super::finding::{Direction, Finding};
use super::measurement::{AxisUncertainty, CoordinateReadings, Numbering};
use super::numbering::deviations;
use super::numeric::{count, wrapped};
use super::ring::{RingDeviations, arc_rad, outliers, sorted_places};
use super::statistics::chi_square_tail;

/// Where the middle of the hole circle lies from the axis.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct Eccentricity {
    /// Centre less axis along X, in millimetres.
    pub x_mm: f64,
    /// Centre less axis along Y, in millimetres.
    pub y_mm: f64,
    /// Distance of the centre from the axis, in millimetres.
    pub amount_mm: f64,
    /// Direction from the axis to the centre, counter-clockwise from X, in
    /// radians.
    pub direction_rad: f64,
    /// Standard uncertainty of the distance, in millimetres.
    pub amount_uncertainty_mm: Option<f64>,
    /// Standard uncertainty of the direction, in radians; `None` also where the
    /// eccentricity is below twice its uncertainty.
    pub direction_uncertainty_rad: Option<f64>,
}

/// What hole coordinates say.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct CoordinateInspection {
    /// The least-squares circle; its residuals follow the places in ascending
    /// order.
    pub circle: CircleFit,
    /// Eccentricity to the axis; `None` when no axis was given.
    pub eccentricity: Option<Eccentricity>,
    /// Deviations about the axis, eccentricity and all; `None` when no axis
    /// was given.
    pub about_axis: Option<RingDeviations>,
    /// Deviations about the centre of the fitted circle: eccentricity removed.
    pub about_centre: RingDeviations,
    /// Distance of each measured place from the fitted centre less the fitted
    /// radius, in millimetres.
    pub radial_mm: Vec<(usize, f64)>,
    /// The same from the axis; empty when no axis was given.
    pub radial_about_axis_mm: Vec<(usize, f64)>,
    /// Standard uncertainty across the circle of each measured place, from the
    /// stated uncertainty of its point alone; empty without one.
    pub radial_uncertainty_mm: Vec<f64>,
    /// What was noticed, besides the findings of the deviations.
    pub findings: Vec<Finding>,
}

/// Evaluates measured hole centres.
///
/// The deviations about the fitted centre carry the uncertainty of the centre
/// as well (JCGM 102:2011, 6.2: the law of propagation for several outputs).
///
/// # Errors
/// Those of [`fit_circle`]; [`ErrorKind::Duplicate`] for a place listed twice,
/// [`ErrorKind::OutOfRange`] for a place beyond the ring, and
/// [`ErrorKind::Inconsistent`] when the numbers run the other way, a hole stands
/// a quarter of a pitch or more from its place or a tenth of the radius off the
/// circle (mixed units, a mistyped figure, a wrong number), the circle is a
/// tenth away from the nominal radius, or the axis is not inside it.
///
/// ```
/// use dividing_core::Length;
/// use dividing_core::inspection::{CoordinateReadings, Numbering, PointReading, inspect_coordinates};
/// let points = (0..6_u8)
///     .map(|hole| {
///         let angle = f64::from(hole) * std::f64::consts::TAU / 6.0;
///         Ok(PointReading {
///             place: usize::from(hole),
///             x: Length::from_mm(0.02 + 30.0 * angle.cos())?,
///             y: Length::from_mm(30.0 * angle.sin())?,
///             standard_uncertainty: None,
///         })
///     })
///     .collect::<Result<Vec<_>, dividing_core::Error>>()?;
/// let result = inspect_coordinates(&CoordinateReadings {
///     places: 6,
///     numbering: Numbering::CounterClockwise,
///     axis: Some([Length::ZERO; 2]),
///     nominal_radius: None,
///     standard_uncertainty: None,
///     points,
/// })?;
/// assert!((result.eccentricity.unwrap().amount_mm - 0.02).abs() < 1e-12);
/// assert!(result.about_centre.pitch.total_cumulative.deviation_rad < 1e-12);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn inspect_coordinates(readings: &CoordinateReadings) -> Result<CoordinateInspection> {
    let numbers: Vec<usize> = readings.points.iter().map(|point| point.place).collect();
    let order = sorted_places(readings.places, &numbers, "points")?;
    let places: Vec<usize> = order.iter().map(|&index| numbers[index]).collect();
    let listed = measured_points(readings)?;
    // Ascending, so that the order of the document changes no figure.
    let sorted: Vec<MeasuredPoint> = order.iter().map(|&index| listed[index]).collect();
    let circle = fit_circle(&sorted)?;

    let (about_centre, about_axis) = (
        ring_about_centre(readings, &places, &sorted, &circle)?,
        readings
            .axis
            .map(|axis| ring_about_axis(readings, &places, &sorted, &circle, axis))
            .transpose()?,
    );
    check_roundness(&places, &circle)?;
    check_nominal_radius(readings.nominal_radius, &circle)?;
    let eccentricity = readings.axis.map(|axis| eccentricity(&circle, axis));
    let radial_mm: Vec<(usize, f64)> = places
        .iter()
        .copied()
        .zip(circle.residuals_mm.iter().copied())
        .collect();
    let findings = findings(
        readings.places,
        &places,
        &circle,
        eccentricity.as_ref(),
        &radial_mm,
    );
    Ok(CoordinateInspection {
        eccentricity,
        about_axis,
        about_centre,
        radial_about_axis_mm: radial_about_axis(readings, &places, &sorted, circle.radius_mm),
        radial_uncertainty_mm: radial_uncertainty(&sorted, &circle),
        circle,
        radial_mm,
        findings,
    })
}

/// Distances from the axis less the fitted radius.
fn radial_about_axis(
    readings: &CoordinateReadings,
    places: &[usize],
    points: &[MeasuredPoint],
    radius_mm: f64,
) -> Vec<(usize, f64)> {
    let Some([x, y]) = readings.axis else {
        return Vec::new();
    };
    let distance = |point: &MeasuredPoint| (point.x_mm - x.mm()).hypot(point.y_mm - y.mm());
    places
        .iter()
        .zip(points)
        .map(|(&place, point)| (place, distance(point) - radius_mm))
        .collect()
}

fn radial_uncertainty(points: &[MeasuredPoint], circle: &CircleFit) -> Vec<f64> {
    let across = |point: &MeasuredPoint| {
        let (sin, cos) = (point.y_mm - circle.y_mm)
            .atan2(point.x_mm - circle.x_mm)
            .sin_cos();
        let stated = point.uncertainty?;
        Some((stated.x_mm * cos).hypot(stated.y_mm * sin))
    };
    let all: Option<Vec<f64>> = points.iter().map(across).collect();
    all.unwrap_or_default()
}

fn measured_points(readings: &CoordinateReadings) -> Result<Vec<MeasuredPoint>> {
    readings
        .points
        .iter()
        .enumerate()
        .map(|(index, point)| {
            let stated = point.standard_uncertainty.or(readings.standard_uncertainty);
            let uncertainty = stated.map(point_uncertainty).transpose();
            Ok(MeasuredPoint {
                x_mm: point.x.mm(),
                y_mm: point.y.mm(),
                uncertainty: uncertainty.at(format!("points[{index}]"))?,
            })
        })
        .collect()
}

fn point_uncertainty(stated: AxisUncertainty) -> Result<PointUncertainty> {
    for (name, value) in [("x", stated.x), ("y", stated.y)] {
        value.check_positive().at(name).at("standard_uncertainty")?;
    }
    Ok(PointUncertainty {
        x_mm: stated.x.mm(),
        y_mm: stated.y.mm(),
    })
}

/// Position of a point about a middle: distance, direction and its sine and
/// cosine.
struct Polar {
    distance_mm: f64,
    angle_rad: f64,
    cos: f64,
    sin: f64,
}

impl Polar {
    fn new(point: &MeasuredPoint, middle: [f64; 2], list: &str, place: usize) -> Result<Self> {
        let (x, y) = (point.x_mm - middle[0], point.y_mm - middle[1]);
        let distance_mm = x.hypot(y);
        let sound = distance_mm > 0.0;
        if !sound {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!("place {place} lies at the middle of the circle"),
            )
            .at(list));
        }
        Ok(Self {
            distance_mm,
            angle_rad: y.atan2(x),
            cos: x / distance_mm,
            sin: y / distance_mm,
        })
    }
}

fn polars(places: &[usize], points: &[MeasuredPoint], middle: [f64; 2]) -> Result<Vec<Polar>> {
    points
        .iter()
        .zip(places)
        .map(|(point, &place)| Polar::new(point, middle, "points", place))
        .collect()
}

fn counted(places: &[usize], polars: &[Polar], numbering: Numbering) -> Vec<(usize, f64)> {
    places
        .iter()
        .zip(polars)
        .map(|(&place, polar)| (place, numbering.sign() * polar.angle_rad))
        .collect()
}

/// Variance of the direction of a point seen from a fixed middle.
fn direction_variance(polar: &Polar, uncertainty: PointUncertainty) -> f64 {
    let along = (uncertainty.x_mm * polar.sin).hypot(uncertainty.y_mm * polar.cos);
    (along / polar.distance_mm).powi(2)
}

fn ring_about_centre(
    readings: &CoordinateReadings,
    places: &[usize],
    points: &[MeasuredPoint],
    circle: &CircleFit,
) -> Result<RingDeviations> {
    let polars = polars(places, points, [circle.x_mm, circle.y_mm])?;
    let raw = deviations(
        readings.places,
        &counted(places, &polars, readings.numbering),
        readings.numbering,
        "points",
    )?;
    let uncertainties: Option<Vec<PointUncertainty>> =
        points.iter().map(|point| point.uncertainty).collect();
    let covariance = uncertainties.map(|list| covariance_about_centre(&polars, &list, circle));
    RingDeviations::assemble(readings.places, &raw, Some(circle.radius_mm), covariance)
}

/// A place turns by its own tangential error and by the shift of the fitted
/// centre, which is a linear function of all weighted residuals.
fn covariance_about_centre(
    polars: &[Polar],
    uncertainties: &[PointUncertainty],
    circle: &CircleFit,
) -> DeviationCovariance {
    let inverse = &circle.inverse_normal;
    let mut variance = Vec::with_capacity(polars.len());
    let mut lever = Vec::with_capacity(polars.len());
    let mut shared = Vec::with_capacity(polars.len());
    for ((polar, &uncertainty), row) in polars.iter().zip(uncertainties).zip(&circle.jacobian) {
        variance.push(direction_variance(polar, uncertainty));
        lever.push([
            -polar.sin / polar.distance_mm,
            polar.cos / polar.distance_mm,
        ]);
        // Covariance of the place's own turn with its weighted residual.
        let (ux2, uy2) = (uncertainty.x_mm.powi(2), uncertainty.y_mm.powi(2));
        let across = (ux2 * polar.cos * polar.cos + uy2 * polar.sin * polar.sin).sqrt();
        let with_residual = polar.sin * polar.cos * (uy2 - ux2) / (polar.distance_mm * across);
        let pull = |axis: usize| -> f64 { (0..3).map(|k| inverse[axis][k] * row[k]).sum() };
        shared.push([with_residual * pull(0), with_residual * pull(1)]);
    }
    let centre = [
        [inverse[0][0], inverse[0][1]],
        [inverse[1][0], inverse[1][1]],
    ];
    DeviationCovariance::through_centre(variance, lever, shared, centre)
}

fn ring_about_axis(
    readings: &CoordinateReadings,
    places: &[usize],
    points: &[MeasuredPoint],
    circle: &CircleFit,
    axis: [Length; 2],
) -> Result<RingDeviations> {
    let middle = [axis[0].mm(), axis[1].mm()];
    let off = (circle.x_mm - middle[0]).hypot(circle.y_mm - middle[1]);
    // Beyond this an "eccentric" circle is one measured in another frame.
    let sound = off < 0.5 * circle.radius_mm;
    if !sound {
        return Err(Error::new(
            ErrorKind::Inconsistent,
            format!(
                "the axis lies {off:.3} mm from the centre of a circle of radius {:.3} mm; \
                 accepted: less than half the radius; leave the axis out if the coordinates \
                 have another zero",
                circle.radius_mm
            ),
        )
        .at("axis"));
    }
    let polars = polars(places, points, middle)?;
    let turn = std::f64::consts::TAU / count(readings.places);
    // The numbering is proved about the centre; here only the branch matters,
    // and the first place gives it: all lie within a right angle of it.
    let angles = counted(places, &polars, readings.numbering);
    let zero = angles
        .first()
        .map_or(0.0, |&(place, angle)| angle - turn * count(place));
    let raw: Vec<(usize, f64)> = angles
        .iter()
        .map(|&(place, angle)| (place, wrapped(angle - turn * count(place) - zero)))
        .collect();
    let uncertainties: Option<Vec<PointUncertainty>> =
        points.iter().map(|point| point.uncertainty).collect();
    let covariance = uncertainties.map(|list| {
        let variance = polars
            .iter()
            .zip(list)
            .map(|(polar, uncertainty)| direction_variance(polar, uncertainty))
            .collect();
        DeviationCovariance::independent(variance)
    });
    RingDeviations::assemble(readings.places, &raw, Some(circle.radius_mm), covariance)
}

fn check_roundness(places: &[usize], circle: &CircleFit) -> Result<()> {
    const LARGEST_PART_OF_RADIUS: f64 = 0.1;
    for (&place, &residual) in places.iter().zip(&circle.residuals_mm) {
        let sound = residual.abs() <= LARGEST_PART_OF_RADIUS * circle.radius_mm;
        if !sound {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "place {place} lies {residual:.3} mm off the circle of radius {:.3} mm; \
                     accepted: up to a tenth of the radius; check its unit (mm or in) and \
                     its figures",
                    circle.radius_mm
                ),
            )
            .at("points"));
        }
    }
    Ok(())
}

fn check_nominal_radius(nominal: Option<Length>, circle: &CircleFit) -> Result<()> {
    let Some(nominal) = nominal else {
        return Ok(());
    };
    nominal.check_positive().at("nominal_radius")?;
    if (circle.radius_mm / nominal.mm() - 1.0).abs() <= 0.1 {
        return Ok(());
    }
    Err(Error::new(
        ErrorKind::Inconsistent,
        format!(
            "the fitted radius is {:.4} mm, the nominal one {nominal}; accepted: within a \
             tenth; check the unit (mm or in)",
            circle.radius_mm
        ),
    )
    .at("nominal_radius"))
}

fn eccentricity(circle: &CircleFit, axis: [Length; 2]) -> Eccentricity {
    let (x_mm, y_mm) = (circle.x_mm - axis[0].mm(), circle.y_mm - axis[1].mm());
    let amount_mm = x_mm.hypot(y_mm);
    let (cos, sin) = if amount_mm > 0.0 {
        (x_mm / amount_mm, y_mm / amount_mm)
    } else {
        (1.0, 0.0)
    };
    let spread = |x: f64, y: f64| {
        circle.covariance_mm2.map(|c| {
            (x * x * c[0][0] + 2.0 * x * y * c[0][1] + y * y * c[1][1])
                .max(0.0)
                .sqrt()
        })
    };
    let amount_uncertainty_mm = spread(cos, sin);
    let direction_uncertainty_rad = spread(-sin, cos)
        .filter(|_| amount_uncertainty_mm.is_some_and(|u| amount_mm >= 2.0 * u && amount_mm > 0.0))
        .map(|across| across / amount_mm);
    Eccentricity {
        x_mm,
        y_mm,
        amount_mm,
        direction_rad: y_mm.atan2(x_mm) + 0.0,
        amount_uncertainty_mm,
        direction_uncertainty_rad,
    }
}

fn findings(
    all: usize,
    places: &[usize],
    circle: &CircleFit,
    eccentricity: Option<&Eccentricity>,
    radial_mm: &[(usize, f64)],
) -> Vec<Finding> {
    const UNLIKELY: f64 = 0.001;
    let mut findings = outliers(radial_mm, Direction::Radius);
    let arc_rad = arc_rad(all, places);
    if arc_rad < std::f64::consts::PI {
        findings.push(Finding::ShortArc { arc_rad });
    }
    if circle.degrees_of_freedom > 0
        && let Some(chi_square) = circle.chi_square
    {
        let probability = chi_square_tail(chi_square, circle.degrees_of_freedom);
        if probability < UNLIKELY {
            findings.push(Finding::LargerThanUncertainty { probability });
        }
    }
    if let Some(Eccentricity {
        amount_mm,
        amount_uncertainty_mm: Some(uncertainty_mm),
        ..
    }) = eccentricity
        && *amount_mm < 2.0 * uncertainty_mm
    {
        findings.push(Finding::DirectionUncertain {
            eccentricity_mm: *amount_mm,
            uncertainty_mm: *uncertainty_mm,
        });
    }
    findings
}
