//! Will it pass the drawing?

use serde::{Deserialize, Serialize};

use super::figure::ErrorFigure;
use crate::angle::Angle;
use crate::job::Tolerance;

/// The answer to whether a plan holds the tolerance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[repr(i32)]
pub enum VerdictKind {
    /// The worst case lies within the tolerance.
    Pass = 0,
    /// The job gives no tolerance.
    NoTolerance = 1,
    /// The settings lie within the tolerance, but the worst case does not, or
    /// is not fully known.
    NotProven = 2,
    /// The settings alone are off by more than the tolerance.
    Fail = 3,
}

/// A verdict with its margin.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Verdict {
    /// The answer.
    pub kind: VerdictKind,
    /// Largest deviation that the tolerance allows, in radians.
    pub limit_rad: Option<f64>,
    /// The limit less the worst case, in radians; below zero when it is passed.
    pub margin_rad: Option<f64>,
}

/// Two figures closer than this, relatively, count as equal: they come from the
/// same few operations on binary numbers.
const ROUNDING: f64 = 1e-12;

/// Judges an error figure against a tolerance.
#[must_use]
pub fn verdict(
    tolerance: Option<&Tolerance>,
    largest_residual: Angle,
    figure: &ErrorFigure,
) -> Verdict {
    let Some(tolerance) = tolerance else {
        return Verdict {
            kind: VerdictKind::NoTolerance,
            limit_rad: None,
            margin_rad: None,
        };
    };
    let limit_rad = tolerance.limit_rad();
    let within = |value_rad: f64| value_rad <= limit_rad * (1.0 + ROUNDING);
    let kind = if !within(largest_residual.to_radians_f64()) {
        VerdictKind::Fail
    } else if figure.unknown.is_empty() && within(figure.worst_rad) {
        VerdictKind::Pass
    } else {
        VerdictKind::NotProven
    };
    Verdict {
        kind,
        limit_rad: Some(limit_rad),
        margin_rad: Some(limit_rad - figure.worst_rad),
    }
}
