//! Will it pass the drawing?

use serde::{Deserialize, Serialize};

use super::figure::ErrorFigure;
use crate::angle::Angle;
use crate::error::Result;
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

/// One limit with what stands against it, in radians.
struct Judged {
    limit_rad: f64,
    residual_rad: f64,
    worst_rad: f64,
}

/// Judges an error figure against a tolerance.
///
/// A tolerance of several limits passes when all pass and fails when one fails;
/// the limit and margin given are those of the smallest margin.
///
/// # Errors
/// None on the tolerance of a [`Job`](crate::Job), which is checked.
pub fn verdict(
    tolerance: Option<&Tolerance>,
    largest_residual: Angle,
    figure: &ErrorFigure,
) -> Result<Verdict> {
    let mut found = Verdict {
        kind: VerdictKind::NoTolerance,
        limit_rad: None,
        margin_rad: None,
    };
    let Some(tolerance) = tolerance else {
        return Ok(found);
    };
    let limits = tolerance.limits()?;
    let mut judged = Vec::new();
    judged.extend(limits.deviation_rad.map(|limit_rad| Judged {
        limit_rad,
        residual_rad: largest_residual.to_radians_f64(),
        worst_rad: figure.worst_rad,
    }));
    if let Some(pitch) = &figure.pitch {
        judged.extend(limits.single_pitch_rad.map(|limit_rad| Judged {
            limit_rad,
            residual_rad: pitch.single_residual_rad,
            worst_rad: pitch.single_worst_rad,
        }));
        judged.extend(limits.cumulative_pitch_rad.map(|limit_rad| Judged {
            limit_rad,
            residual_rad: pitch.cumulative_residual_rad,
            worst_rad: pitch.cumulative_worst_rad,
        }));
    }
    for each in judged {
        let within = |value_rad: f64| value_rad <= each.limit_rad * (1.0 + ROUNDING);
        let kind = if !within(each.residual_rad) {
            VerdictKind::Fail
        } else if figure.unknown.is_empty() && within(each.worst_rad) {
            VerdictKind::Pass
        } else {
            VerdictKind::NotProven
        };
        found.kind = if found.kind == VerdictKind::NoTolerance {
            kind
        } else {
            found.kind.max(kind)
        };
        let margin_rad = each.limit_rad - each.worst_rad;
        if found.margin_rad.is_none_or(|least| margin_rad < least) {
            found.margin_rad = Some(margin_rad);
            found.limit_rad = Some(each.limit_rad);
        }
    }
    Ok(found)
}
