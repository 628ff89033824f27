//! Decision rules of JCGM 106:2012.

use serde::{Deserialize, Serialize};

use crate::accuracy::conformance_probability;
use crate::error::{AtField, Error, ErrorKind, Result};

pub use crate::accuracy::{Decision, DecisionRule};

/// A measured value in any unit, the same for its limits.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MeasuredValue {
    /// The value.
    pub value: f64,
    /// Its standard uncertainty, 0 or more; `None` when it is not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standard_uncertainty: Option<f64>,
}

/// Lower and upper limit of tolerance; at least one.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ToleranceLimits {
    /// Smallest value that conforms.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lower: Option<f64>,
    /// Largest value that conforms.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub upper: Option<f64>,
}

/// A decision and its grounds.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct GroundedDecision {
    /// The answer.
    pub decision: Decision,
    /// Distance to the nearer limit, above 0 inside.
    pub margin: f64,
    /// Guard band that was kept from each limit.
    pub guard_band: f64,
    /// Probability that the true value conforms, for a normal distribution
    /// about the measured value and no earlier knowledge (JCGM 106:2012,
    /// 7.2–7.4); `None` when the uncertainty is not known.
    pub conformance_probability: Option<f64>,
}

/// Decides whether a measured value conforms.
///
/// Without a known uncertainty the guard band has no width to keep, and the
/// answer is [`Decision::NotProven`] whatever the value.
///
/// # Errors
/// [`ErrorKind::NotFinite`], [`ErrorKind::OutOfRange`];
/// [`ErrorKind::Inconsistent`] for no limit or limits in the wrong order.
///
/// ```
/// use dividing_core::inspection::{
///     Decision, DecisionRule, MeasuredValue, ToleranceLimits, decide,
/// };
/// let value = MeasuredValue { value: 9.5, standard_uncertainty: Some(0.5) };
/// let limits = ToleranceLimits { lower: None, upper: Some(10.0) };
/// let simple = decide(value, limits, DecisionRule::SimpleAcceptance)?;
/// assert_eq!(simple.decision, Decision::Pass);
/// let guarded = decide(value, limits, DecisionRule::GuardBand { multiple: 1.0 })?;
/// assert_eq!(guarded.decision, Decision::NotProven);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn decide(
    measured: MeasuredValue,
    limits: ToleranceLimits,
    rule: DecisionRule,
) -> Result<GroundedDecision> {
    check(measured, limits, rule)?;
    // A limit that is not there lies beyond every number.
    let lower = limits.lower.unwrap_or(f64::MIN);
    let upper = limits.upper.unwrap_or(f64::MAX);
    let expanded = measured.standard_uncertainty.map(|it| COVERAGE_FACTOR * it);
    let (decision, guard_band) = match (rule, expanded) {
        (DecisionRule::GuardBand { .. }, None) => (Decision::NotProven, 0.0),
        (_, expanded) => {
            let expanded = expanded.unwrap_or(0.0);
            let band = match rule {
                DecisionRule::SimpleAcceptance => 0.0,
                DecisionRule::GuardBand { multiple } => multiple * expanded,
            };
            (rule.decide(measured.value, lower, upper, expanded)?, band)
        }
    };
    let conformance_probability = measured
        .standard_uncertainty
        .map(|uncertainty| conformance_probability(measured.value, uncertainty, lower, upper))
        .transpose()?;
    Ok(GroundedDecision {
        decision,
        margin: (measured.value - lower).min(upper - measured.value),
        guard_band,
        conformance_probability,
    })
}

/// The expanded uncertainty is this many standard uncertainties (JCGM 106:2012,
/// 8.3.2).
const COVERAGE_FACTOR: f64 = 2.0;

fn check(measured: MeasuredValue, limits: ToleranceLimits, rule: DecisionRule) -> Result<()> {
    let finite = |name: &str, value: Option<f64>| match value {
        Some(value) if !value.is_finite() => Err(Error::new(
            ErrorKind::NotFinite,
            format!("{value} is not finite; accepted: a finite number"),
        )
        .at(name)),
        _ => Ok(()),
    };
    finite("value", Some(measured.value))?;
    finite("standard_uncertainty", measured.standard_uncertainty)?;
    finite("lower", limits.lower)?;
    finite("upper", limits.upper)?;
    if let Some(uncertainty) = measured.standard_uncertainty
        && uncertainty < 0.0
    {
        return Err(Error::out_of_range(uncertainty, "0 or more").at("standard_uncertainty"));
    }
    if let DecisionRule::GuardBand { multiple } = rule
        && !(0.0..=10.0).contains(&multiple)
    {
        return Err(Error::out_of_range(multiple, "0 to 10")
            .at("multiple")
            .at("rule"));
    }
    match (limits.lower, limits.upper) {
        (None, None) => Err(Error::new(
            ErrorKind::Inconsistent,
            "there is neither a lower nor an upper limit; accepted: one or both",
        )),
        (Some(lower), Some(upper)) if lower > upper => Err(Error::new(
            ErrorKind::Inconsistent,
            format!("the lower limit {lower} lies above the upper limit {upper}"),
        )),
        _ => Ok(()),
    }
    .at("limits")
}

#[cfg(test)]
mod tests {
    use super::*;

    const GUARDED: DecisionRule = DecisionRule::GuardBand { multiple: 1.0 };

    fn verdict(value: f64, u: Option<f64>, rule: DecisionRule) -> Decision {
        let limits = ToleranceLimits {
            lower: Some(-1.0),
            upper: Some(1.0),
        };
        let measured = MeasuredValue {
            value,
            standard_uncertainty: u,
        };
        decide(measured, limits, rule).unwrap().decision
    }

    #[test]
    fn the_guard_band_parts_pass_not_proven_and_fail() {
        assert_eq!(verdict(0.79, Some(0.1), GUARDED), Decision::Pass);
        assert_eq!(verdict(0.81, Some(0.1), GUARDED), Decision::NotProven);
        assert_eq!(verdict(-1.19, Some(0.1), GUARDED), Decision::NotProven);
        assert_eq!(verdict(-1.21, Some(0.1), GUARDED), Decision::Fail);
        assert_eq!(verdict(0.0, None, GUARDED), Decision::NotProven);
        assert_eq!(
            verdict(1.0, None, DecisionRule::SimpleAcceptance),
            Decision::Pass
        );
        assert_eq!(
            verdict(1.01, None, DecisionRule::SimpleAcceptance),
            Decision::Fail
        );
    }

    #[test]
    fn a_value_on_the_guarded_limit_conforms_with_97_7_percent() {
        // JCGM 106:2012, 8.3.2 (from memory): w = U leaves at most 2.3 % risk.
        let measured = MeasuredValue {
            value: 0.8,
            standard_uncertainty: Some(0.1),
        };
        let limits = ToleranceLimits {
            lower: None,
            upper: Some(1.0),
        };
        let decision = decide(measured, limits, GUARDED).unwrap();
        let probability = decision.conformance_probability.unwrap();
        assert!((probability - 0.977).abs() < 0.0005);
    }

    #[test]
    fn the_zener_diode_of_jcgm_106() {
        // JCGM 106:2012, 7.3, breakdown voltage (from memory): −5.47 V measured
        // with u = 0.05 V, at most −5.40 V allowed: probability 0.92.
        let measured = MeasuredValue {
            value: -5.47,
            standard_uncertainty: Some(0.05),
        };
        let limits = ToleranceLimits {
            lower: None,
            upper: Some(-5.40),
        };
        let decision = decide(measured, limits, DecisionRule::SimpleAcceptance).unwrap();
        assert!((decision.conformance_probability.unwrap() - 0.92).abs() < 0.005);
    }

    #[test]
    fn bad_limits_are_refused() {
        let measured = MeasuredValue {
            value: 0.0,
            standard_uncertainty: Some(-1.0),
        };
        let none = ToleranceLimits {
            lower: None,
            upper: None,
        };
        let kind = |measured, limits, rule| decide(measured, limits, rule).unwrap_err().kind();
        assert_eq!(kind(measured, none, GUARDED), ErrorKind::OutOfRange);
        let fine = MeasuredValue {
            value: 0.0,
            standard_uncertainty: None,
        };
        assert_eq!(kind(fine, none, GUARDED), ErrorKind::Inconsistent);
        let crossed = ToleranceLimits {
            lower: Some(1.0),
            upper: Some(0.0),
        };
        assert_eq!(kind(fine, crossed, GUARDED), ErrorKind::Inconsistent);
        let nan = MeasuredValue {
            value: f64::NAN,
            standard_uncertainty: None,
        };
        assert_eq!(kind(nan, crossed, GUARDED), ErrorKind::NotFinite);
    }
}
