//! The independent check: every pair of holes and every edge, from coordinates.

use serde::{Deserialize, Serialize};

use super::brief::{Outline, PlateBrief};
use super::result::{Ring, sin_cos};
use crate::angle::{Angle, as_f64};
use crate::error::Result;
use crate::work::Meter;

/// Centres nearer than this are one hole, in millimetres.
const SAME_PLACE_MM: f64 = 1.0e-6;

/// Slack for rounding in comparisons of lengths, in millimetres.
const SLACK_MM: f64 = 1.0e-7;

/// A hole named by ring and number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct HoleName {
    /// Index of the ring, from the outside.
    pub ring: usize,
    /// Number on the ring.
    pub number: u32,
}

/// The least material found.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct CheckReport {
    /// Least web between two holes and between which; absent for one hole.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least_web_mm: Option<f64>,
    /// The two holes with the least web.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least_web_between: Option<(HoleName, HoleName)>,
    /// Least material to the outline.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least_edge_mm: Option<f64>,
    /// Least material to the bore; absent without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least_bore_edge_mm: Option<f64>,
    /// Least material to a mounting hole; absent without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least_mounting_web_mm: Option<f64>,
    /// Least distance of a hole's edge to a keep-out; absent without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least_keep_out_mm: Option<f64>,
    /// Pairs of holes at the same place.
    pub duplicates: u64,
    /// Pairs of holes measured.
    pub pairs: u64,
    /// Whether every limit of the brief holds.
    pub passed: bool,
}

/// Measures every pair of holes, and every hole against outline, bore,
/// keep-outs and mounting holes.
///
/// Two holes at radii r and s, δ apart, stand √((r − s)² + 4rs·sin²(δ/2)) from
/// centre to centre (law of cosines in half-angle form); angles are subtracted
/// exactly. Nothing here uses how the pattern was made.
///
/// # Errors
/// Those of the meter, one step a pair.
pub fn check_holes(
    brief: &PlateBrief,
    rings: &[Ring],
    meter: &mut Meter<'_>,
) -> Result<CheckReport> {
    let hole_mm = brief.largest_hole_mm();
    let holes: Vec<Measured> = rings
        .iter()
        .enumerate()
        .flat_map(|(index, ring)| {
            ring.holes.iter().map(move |hole| {
                let (sin, cos) = sin_cos(hole.angle);
                Measured {
                    name: HoleName {
                        ring: index,
                        number: hole.number,
                    },
                    radius_mm: ring.radius_mm,
                    angle: hole.angle,
                    x_mm: ring.radius_mm * cos,
                    y_mm: ring.radius_mm * sin,
                }
            })
        })
        .collect();
    let mut report = CheckReport::default();
    let mut nearest: Option<(f64, HoleName, HoleName)> = None;
    // Coordinates tell which pairs could be the nearest; those are measured by
    // exact angles. The band is far wider than what coordinates can be off.
    let mut band_mm2 = f64::INFINITY;
    for (k, hole) in holes.iter().enumerate() {
        meter.spend(1 + k as u64)?;
        for other in &holes[..k] {
            report.pairs += 1;
            let (dx, dy) = (hole.x_mm - other.x_mm, hole.y_mm - other.y_mm);
            if dx * dx + dy * dy > band_mm2 {
                continue;
            }
            let apart_mm = apart_mm(hole, other);
            if apart_mm < SAME_PLACE_MM {
                report.duplicates += 1;
            }
            if nearest.is_none_or(|(least, _, _)| apart_mm < least) {
                nearest = Some((apart_mm, other.name, hole.name));
                band_mm2 = (apart_mm * (1.0 + 1.0e-6) + 1.0e-3).powi(2);
            }
        }
    }
    report.least_web_mm = nearest.map(|(apart_mm, _, _)| apart_mm - hole_mm);
    report.least_web_between = nearest.map(|(_, a, b)| (a, b));
    for hole in &holes {
        let (x, y, r) = (hole.x_mm, hole.y_mm, hole.radius_mm);
        least(
            &mut report.least_edge_mm,
            to_outline_mm(&brief.outline, x, y) - hole_mm / 2.0,
        );
        if let Some(bore) = brief.bore {
            least(
                &mut report.least_bore_edge_mm,
                r - hole_mm / 2.0 - bore.mm() / 2.0,
            );
        }
        for (circles, kept) in [
            (&brief.mounting_holes, &mut report.least_mounting_web_mm),
            (&brief.keep_outs, &mut report.least_keep_out_mm),
        ] {
            for circle in circles {
                let apart_mm = (x - circle.x.mm()).hypot(y - circle.y.mm());
                least(
                    kept,
                    apart_mm - f64::midpoint(hole_mm, circle.diameter.mm()),
                );
            }
        }
    }
    let at_least =
        |found: Option<f64>, limit_mm: f64| found.is_none_or(|mm| mm + SLACK_MM >= limit_mm);
    let edge_mm = brief.least_edge_distance.mm();
    let bore_edge_mm = brief.least_bore_edge_distance.map_or(edge_mm, |l| l.mm());
    report.passed = report.duplicates == 0
        && at_least(report.least_web_mm, brief.least_web.mm())
        && at_least(report.least_edge_mm, edge_mm)
        && at_least(report.least_bore_edge_mm, bore_edge_mm)
        && at_least(report.least_mounting_web_mm, brief.least_web.mm())
        && at_least(report.least_keep_out_mm, 0.0);
    Ok(report)
}

struct Measured {
    name: HoleName,
    radius_mm: f64,
    angle: Angle,
    x_mm: f64,
    y_mm: f64,
}

/// Distance of two centres from their radii and their exact angle apart.
fn apart_mm(a: &Measured, b: &Measured) -> f64 {
    let between_rad = exact_difference(a.angle, b.angle)
        .unwrap_or_else(|| a.angle.to_radians_f64() - b.angle.to_radians_f64());
    let half = (between_rad / 2.0).sin();
    let (r, s) = (a.radius_mm, b.radius_mm);
    (4.0 * r * s * half * half + (r - s) * (r - s)).sqrt()
}

fn least(kept: &mut Option<f64>, found: f64) {
    if kept.is_none_or(|least| found < least) {
        *kept = Some(found);
    }
}

/// The exact difference in radians, where its terms stay small.
fn exact_difference(a: Angle, b: Angle) -> Option<f64> {
    let cross = a.numerator().checked_mul(b.denominator())?;
    let other = b.numerator().checked_mul(a.denominator())?;
    let whole = a.denominator().checked_mul(b.denominator())?;
    Some(std::f64::consts::TAU * (as_f64(cross.checked_sub(other)?) / as_f64(whole)))
}

/// Distance from a point inside to the outline, in millimetres; negative outside.
fn to_outline_mm(outline: &Outline, x: f64, y: f64) -> f64 {
    match *outline {
        Outline::Disc { diameter } => diameter.mm() / 2.0 - x.hypot(y),
        Outline::Polygon {
            faces,
            across_flats,
        } => (0..faces)
            .map(|face| {
                let at = std::f64::consts::TAU * f64::from(face) / f64::from(faces);
                across_flats.mm() / 2.0 - (x * at.cos() + y * at.sin())
            })
            .fold(f64::INFINITY, f64::min),
    }
}
