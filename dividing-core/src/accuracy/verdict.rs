//! Will it pass the drawing?

use serde::{Deserialize, Serialize};

use super::figure::ErrorFigure;
use super::standards::{AngularClass, Decision, DecisionRule, conformance_probability};
use crate::angle::Angle;
use crate::error::Result;
use crate::job::{Job, Tolerance};

/// The answer to whether a plan holds the tolerance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[repr(i32)]
pub enum VerdictKind {
    /// The worst case lies within the tolerance, or the decision rule of the job
    /// accepts every feature.
    Pass = 0,
    /// The job gives no tolerance.
    NoTolerance = 1,
    /// The settings lie within the tolerance, but the worst case does not, or
    /// is not fully known; under a decision rule: neither accepted nor rejected.
    NotProven = 2,
    /// The settings alone are off by more than the tolerance; under a guard band:
    /// by more than the tolerance and the band.
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
    /// Under a decision rule the acceptance limit less the known deviation.
    pub margin_rad: Option<f64>,
    /// The decision rule by which a limit of angle was judged; none where the
    /// worst case had to hold, as it always has to for limits of pitch.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rule: Option<DecisionRule>,
    /// The probability that a feature conforms, of the feature for which it is
    /// least, its deviation taken as normal (JCGM 106:2012, 7.4); none without a
    /// limit of angle or with an incomplete figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub probability: Option<f64>,
    /// The tightest class of ISO 2768-1 that the worst case meets, where the job
    /// names one; none where it meets none or the figure is incomplete.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub class_met: Option<AngularClass>,
    /// The finest grade of ISO 1328-1 that the worst case of the pitch alone
    /// meets, where the job names one; none where it meets none or the figure is
    /// incomplete.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grade_met: Option<u8>,
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

/// Coverage factor of the expanded uncertainty that guard bands are multiples of.
const COVERAGE_FACTOR: f64 = 2.0;

/// Judges every feature by a decision rule after JCGM 106:2012: the value is the
/// known deviation, the uncertainty that of all contributors at k = 2.
fn by_rule(
    rule: DecisionRule,
    limit_rad: f64,
    figure: &ErrorFigure,
    mut found: Verdict,
) -> Result<Verdict> {
    let band = match rule {
        DecisionRule::SimpleAcceptance => 0.0,
        DecisionRule::GuardBand { multiple } => multiple * COVERAGE_FACTOR,
    };
    found.rule = Some(rule);
    found.limit_rad = Some(limit_rad);
    let limit_with_rounding = limit_rad * (1.0 + ROUNDING);
    for feature in &figure.features {
        let expanded_rad = COVERAGE_FACTOR * feature.standard_uncertainty_rad;
        let decision = rule.decide(
            feature.known_rad,
            -limit_with_rounding,
            limit_with_rounding,
            expanded_rad,
        )?;
        let kind = match decision {
            Decision::Fail => VerdictKind::Fail,
            Decision::Pass if figure.unknown.is_empty() => VerdictKind::Pass,
            Decision::Pass | Decision::NotProven => VerdictKind::NotProven,
        };
        found.kind = if found.kind == VerdictKind::NoTolerance {
            kind
        } else {
            found.kind.max(kind)
        };
        let margin_rad =
            limit_rad - band * feature.standard_uncertainty_rad - feature.known_rad.abs();
        if found.margin_rad.is_none_or(|least| margin_rad < least) {
            found.margin_rad = Some(margin_rad);
        }
    }
    Ok(found)
}

/// The class or the grade that the worst case meets.
fn met(tolerance: &Tolerance, figure: &ErrorFigure) -> Result<(Option<AngularClass>, Option<u8>)> {
    Ok(match (tolerance, &figure.pitch) {
        (Tolerance::AngularClass(it), _) => (
            AngularClass::met_by(figure.worst_rad, it.shorter_side)?,
            None,
        ),
        (Tolerance::PitchGrade(it), Some(pitch)) => (
            None,
            it.pitch
                .grade_met_by(pitch.single_worst_rad, pitch.cumulative_worst_rad)?,
        ),
        _ => (None, None),
    })
}

fn least_probability(figure: &ErrorFigure, limit_rad: f64) -> Result<Option<f64>> {
    if !figure.unknown.is_empty() {
        return Ok(None);
    }
    let mut least: Option<f64> = None;
    for feature in &figure.features {
        let probability = conformance_probability(
            feature.known_rad,
            feature.standard_uncertainty_rad,
            -limit_rad,
            limit_rad,
        )?;
        least = Some(least.map_or(probability, |it| it.min(probability)));
    }
    Ok(least)
}

/// Judges an error figure against the tolerance of a job, by its decision rule
/// if it states one.
///
/// A tolerance of several limits passes when all pass and fails when one fails;
/// the limit and margin given are those of the smallest margin.
///
/// # Errors
/// None on the tolerance of a [`Job`](crate::Job), which is checked.
pub fn verdict(job: &Job, largest_residual: Angle, figure: &ErrorFigure) -> Result<Verdict> {
    let mut found = Verdict {
        kind: VerdictKind::NoTolerance,
        limit_rad: None,
        margin_rad: None,
        rule: None,
        probability: None,
        class_met: None,
        grade_met: None,
    };
    let Some(tolerance) = job.tolerance() else {
        return Ok(found);
    };
    let limits = tolerance.limits()?;
    if figure.unknown.is_empty() {
        (found.class_met, found.grade_met) = met(tolerance, figure)?;
    }
    if let Some(limit_rad) = limits.deviation_rad {
        found.probability = least_probability(figure, limit_rad)?;
        if let Some(rule) = job.decision_rule() {
            return by_rule(rule, limit_rad, figure, found);
        }
    }
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
