//! The uncertainty budget after JCGM 100:2008 (GUM).

mod report;

use std::collections::HashMap;

use serde::{Deserialize, Serialize};

use super::contributor::{Contributor, InputUnit};
use super::probability::{
    check_finite, check_not_negative, check_positive, check_probability, student_factor,
};
use crate::error::{AtField, Error, ErrorKind, Result, quoted};

/// Seconds of arc in a radian.
const ARCSEC_PER_RAD: f64 = 180.0 * 3600.0 / std::f64::consts::PI;

/// One input of a linear model: what varies, by how much, and how strongly it
/// enters.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct UncertainInput {
    /// Its name, used once in a model.
    pub name: String,
    /// Its unit, as printed; may be empty.
    #[serde(default)]
    pub unit: String,
    /// Its standard uncertainty u(x), in its unit; not negative.
    pub standard_uncertainty: f64,
    /// Sensitivity ∂f/∂x: units of the result for one unit of the input.
    pub sensitivity: f64,
    /// Degrees of freedom of the standard uncertainty; none for infinite.
    #[serde(default)]
    pub degrees_of_freedom: Option<f64>,
}

/// Correlation of two inputs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Correlation {
    /// Name of one input.
    pub first: String,
    /// Name of another.
    pub second: String,
    /// Correlation coefficient, from −1 to 1.
    pub coefficient: f64,
}

/// A higher-order term of the model, needed where it is markedly bent
/// (JCGM 100:2008, 5.1.2, note).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SecondOrderTerm {
    /// Name of an input.
    pub first: String,
    /// Name of another input, or of the same one.
    pub second: String,
    /// ∂²f/∂first∂second.
    pub second_derivative: f64,
    /// ∂³f/∂first∂second².
    #[serde(default)]
    pub third_derivative_in_second: f64,
    /// ∂³f/∂second∂first²; 0 where both inputs are the same.
    #[serde(default)]
    pub third_derivative_in_first: f64,
}

/// How the expanded uncertainty is stated.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Coverage {
    /// With the Student factor of this coverage probability at the effective
    /// degrees of freedom (JCGM 100:2008, annex G).
    Probability(f64),
    /// With this coverage factor.
    Factor(f64),
}

/// A model of a result: named inputs with their uncertainties.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct UncertaintyModel {
    /// What the result is.
    pub quantity: String,
    /// Unit of the result, as printed.
    #[serde(default)]
    pub unit: String,
    /// Value of the result, in its unit.
    pub estimate: f64,
    /// What it depends on.
    pub inputs: Vec<UncertainInput>,
    /// Correlated pairs; all others are independent.
    #[serde(default)]
    pub correlations: Vec<Correlation>,
    /// Higher-order terms; only for independent inputs.
    #[serde(default)]
    pub second_order: Vec<SecondOrderTerm>,
    /// How the expanded uncertainty is stated.
    pub coverage: Coverage,
}

/// One line of a budget.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BudgetLine {
    /// Name of the input.
    pub name: String,
    /// Unit of the input.
    pub unit: String,
    /// Standard uncertainty of the input, in its unit.
    pub standard_uncertainty: f64,
    /// Degrees of freedom; none for infinite.
    pub degrees_of_freedom: Option<f64>,
    /// Sensitivity: units of the result for one unit of the input.
    pub sensitivity: f64,
    /// Size of sensitivity times uncertainty, in the unit of the result.
    pub contribution: f64,
    /// Share of the variance of the result; all shares and the second-order
    /// share sum to 1. Below zero where a correlation takes variance away.
    pub share: f64,
}

/// An uncertainty budget.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Budget {
    /// What the result is.
    pub quantity: String,
    /// Unit of the result.
    pub unit: String,
    /// Value of the result.
    pub estimate: f64,
    /// One line for each input, in the order given.
    pub lines: Vec<BudgetLine>,
    /// Standard uncertainty from the second-order terms together.
    pub second_order_uncertainty: f64,
    /// Share of the variance from the second-order terms.
    pub second_order_share: f64,
    /// Combined standard uncertainty of the result.
    pub combined_standard_uncertainty: f64,
    /// Effective degrees of freedom by the Welch-Satterthwaite formula; none
    /// for infinite, or where correlations forbid the formula.
    pub effective_degrees_of_freedom: Option<f64>,
    /// Coverage probability, where one was asked for.
    pub coverage_probability: Option<f64>,
    /// Coverage factor.
    pub coverage_factor: f64,
    /// Expanded uncertainty: coverage factor times combined uncertainty.
    pub expanded_uncertainty: f64,
}

impl UncertaintyModel {
    /// The budget of the model.
    ///
    /// The combined uncertainty follows JCGM 100:2008, 5.1.2 (with its note for
    /// second-order terms) and 5.2.2 (correlated inputs), the effective degrees
    /// of freedom G.4.1; the Student factor is taken at the next lower whole
    /// number of degrees of freedom, as G.4.1 has it.
    ///
    /// ```
    /// use dividing_core::accuracy::{Coverage, UncertainInput, UncertaintyModel};
    /// let input = |name: &str, standard_uncertainty| UncertainInput {
    ///     name: name.into(),
    ///     unit: "mm".into(),
    ///     standard_uncertainty,
    ///     sensitivity: 1.0,
    ///     degrees_of_freedom: None,
    /// };
    /// let model = UncertaintyModel {
    ///     quantity: "length".into(),
    ///     unit: "mm".into(),
    ///     estimate: 50.0,
    ///     inputs: vec![input("block", 0.003), input("comparison", 0.004)],
    ///     correlations: vec![],
    ///     second_order: vec![],
    ///     coverage: Coverage::Factor(2.0),
    /// };
    /// let budget = model.budget()?;
    /// assert!((budget.combined_standard_uncertainty - 0.005).abs() < 1e-15);
    /// assert!((budget.lines[0].share - 0.36).abs() < 1e-12);
    /// assert!((budget.expanded_uncertainty - 0.010).abs() < 1e-15);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`ErrorKind::EmptyList`] without inputs, [`ErrorKind::Duplicate`] for a
    /// name or pair given twice, [`ErrorKind::NotFound`] for a name that is no
    /// input, [`ErrorKind::OutOfRange`] and [`ErrorKind::NotFinite`] for
    /// impossible numbers, [`ErrorKind::Inconsistent`] for correlations that
    /// give a negative variance, that stand beside second-order terms, or that
    /// join inputs of finite degrees of freedom while a coverage probability is
    /// asked for.
    pub fn budget(&self) -> Result<Budget> {
        let places = self.check_inputs()?;
        let correlated = self.correlated(&places)?;
        let deviations: Vec<f64> = self
            .inputs
            .iter()
            .map(|input| input.sensitivity * input.standard_uncertainty)
            .collect();
        let with_others = joined(&deviations, &correlated);
        let per_input: Vec<f64> = deviations
            .iter()
            .zip(&with_others)
            .map(|(own, all)| own * all)
            .collect();
        let first_order = settled(per_input.iter().sum(), &deviations)?;
        let second_order = self.second_order_variance(&places)?;
        let variance = first_order + second_order;
        check_finite(variance, "variance of the result")?;
        if variance < 0.0 {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!("the second-order terms bring the variance down to {variance}"),
            )
            .at("second_order"));
        }
        let share = |part: f64| if variance > 0.0 { part / variance } else { 0.0 };
        let lines = self
            .inputs
            .iter()
            .zip(deviations.iter().zip(&per_input))
            .map(|(input, (deviation, part))| BudgetLine {
                name: input.name.clone(),
                unit: input.unit.clone(),
                standard_uncertainty: input.standard_uncertainty,
                degrees_of_freedom: input.degrees_of_freedom,
                sensitivity: input.sensitivity,
                contribution: deviation.abs(),
                share: share(*part),
            })
            .collect();
        let effective_degrees_of_freedom = self.effective_degrees(&deviations, first_order);
        let combined = variance.sqrt();
        let (coverage_probability, coverage_factor) = match self.coverage {
            Coverage::Factor(factor) => {
                check_positive(factor, "coverage factor").at("coverage")?;
                (None, factor)
            }
            Coverage::Probability(probability) => {
                check_probability(probability).at("coverage")?;
                self.check_correlated_degrees()?;
                let degrees = effective_degrees_of_freedom.map(|degrees| degrees.floor().max(1.0));
                (Some(probability), student_factor(probability, degrees)?)
            }
        };
        let expanded_uncertainty = coverage_factor * combined;
        check_finite(expanded_uncertainty, "expanded uncertainty")?;
        Ok(Budget {
            quantity: self.quantity.clone(),
            unit: self.unit.clone(),
            estimate: self.estimate,
            lines,
            second_order_uncertainty: second_order.max(0.0).sqrt(),
            second_order_share: share(second_order),
            combined_standard_uncertainty: combined,
            effective_degrees_of_freedom,
            coverage_probability,
            coverage_factor,
            expanded_uncertainty,
        })
    }

    /// Correlation coefficient of two results of the same inputs (JCGM
    /// 100:2008, H.2.3); 0 where one of them does not vary.
    ///
    /// # Errors
    /// As [`UncertaintyModel::budget`]; [`ErrorKind::Inconsistent`] when the
    /// inputs or correlations of both differ in more than their sensitivities.
    pub fn correlation_with(&self, other: &Self) -> Result<f64> {
        let places = self.check_inputs()?;
        other.check_inputs()?;
        let alike = self.correlations == other.correlations
            && self.inputs.len() == other.inputs.len()
            && self.inputs.iter().zip(&other.inputs).all(|(one, two)| {
                one.name == two.name
                    && one.standard_uncertainty.to_bits() == two.standard_uncertainty.to_bits()
            });
        if !alike {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "{} and {} are not results of the same inputs",
                    quoted(&self.quantity),
                    quoted(&other.quantity)
                ),
            ));
        }
        let correlated = self.correlated(&places)?;
        let scaled = |model: &Self| -> Vec<f64> {
            model
                .inputs
                .iter()
                .map(|input| input.sensitivity * input.standard_uncertainty)
                .collect()
        };
        let (one, two) = (scaled(self), scaled(other));
        let product = |left: &[f64], right: &[f64]| -> f64 {
            left.iter()
                .zip(joined(right, &correlated))
                .map(|(left, right)| left * right)
                .sum()
        };
        let variances = settled(product(&one, &one), &one)? * settled(product(&two, &two), &two)?;
        if variances > 0.0 {
            Ok((product(&one, &two) / variances.sqrt()).clamp(-1.0, 1.0))
        } else {
            Ok(0.0)
        }
    }

    fn check_inputs(&self) -> Result<HashMap<&str, usize>> {
        check_finite(self.estimate, "estimate").at("estimate")?;
        if self.inputs.is_empty() {
            return Err(
                Error::new(ErrorKind::EmptyList, "a budget needs at least one input").at("inputs"),
            );
        }
        let mut places = HashMap::with_capacity(self.inputs.len());
        for (index, input) in self.inputs.iter().enumerate() {
            let at = |field: &str| format!("inputs[{index}].{field}");
            check_not_negative(input.standard_uncertainty, "standard uncertainty")
                .at(at("standard_uncertainty"))?;
            check_finite(input.sensitivity, "sensitivity").at(at("sensitivity"))?;
            if let Some(degrees) = input.degrees_of_freedom {
                check_positive(degrees, "degrees of freedom").at(at("degrees_of_freedom"))?;
            }
            if places.insert(input.name.as_str(), index).is_some() {
                return Err(Error::new(
                    ErrorKind::Duplicate,
                    format!("{} names two inputs", quoted(&input.name)),
                )
                .at(at("name")));
            }
        }
        Ok(places)
    }

    fn correlated(&self, places: &HashMap<&str, usize>) -> Result<Vec<(usize, usize, f64)>> {
        if !self.correlations.is_empty() && !self.second_order.is_empty() {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                "second-order terms are defined for independent inputs only; \
                 leave out either them or the correlations",
            )
            .at("second_order"));
        }
        let mut pairs = Vec::with_capacity(self.correlations.len());
        let mut seen = std::collections::HashSet::new();
        for (index, correlation) in self.correlations.iter().enumerate() {
            let at = |field: &str| format!("correlations[{index}].{field}");
            let first = place(places, &correlation.first).at(at("first"))?;
            let second = place(places, &correlation.second).at(at("second"))?;
            let coefficient = correlation.coefficient;
            check_finite(coefficient, "correlation coefficient").at(at("coefficient"))?;
            if coefficient.abs() > 1.0 {
                return Err(Error::out_of_range(coefficient, "-1 to 1").at(at("coefficient")));
            }
            if first == second || !seen.insert((first.min(second), first.max(second))) {
                return Err(Error::new(
                    ErrorKind::Duplicate,
                    format!(
                        "the pair {} and {} is given twice or is one input",
                        quoted(&correlation.first),
                        quoted(&correlation.second)
                    ),
                )
                .at(format!("correlations[{index}]")));
            }
            pairs.push((first, second, coefficient));
        }
        Ok(pairs)
    }

    fn second_order_variance(&self, places: &HashMap<&str, usize>) -> Result<f64> {
        let mut variance = 0.0;
        let mut seen = std::collections::HashSet::new();
        for (index, term) in self.second_order.iter().enumerate() {
            let at = |field: &str| format!("second_order[{index}].{field}");
            let first = place(places, &term.first).at(at("first"))?;
            let second = place(places, &term.second).at(at("second"))?;
            for (value, field) in [
                (term.second_derivative, "second_derivative"),
                (
                    term.third_derivative_in_second,
                    "third_derivative_in_second",
                ),
                (term.third_derivative_in_first, "third_derivative_in_first"),
            ] {
                check_finite(value, "derivative").at(at(field))?;
            }
            if !seen.insert((first.min(second), first.max(second))) {
                return Err(Error::new(
                    ErrorKind::Duplicate,
                    format!(
                        "the pair {} and {} has two second-order terms",
                        quoted(&term.first),
                        quoted(&term.second)
                    ),
                )
                .at(format!("second_order[{index}]")));
            }
            let (Some(one), Some(two)) = (self.inputs.get(first), self.inputs.get(second)) else {
                return Err(Error::internal("an input lost its place"));
            };
            let squares = one.standard_uncertainty.powi(2) * two.standard_uncertainty.powi(2);
            let bend = term.second_derivative * term.second_derivative;
            // The sum of the standard runs over both orders of a pair.
            variance += if first == second {
                squares * (0.5 * bend + one.sensitivity * term.third_derivative_in_second)
            } else {
                squares
                    * (bend
                        + one.sensitivity * term.third_derivative_in_second
                        + two.sensitivity * term.third_derivative_in_first)
            };
        }
        Ok(variance)
    }

    /// Welch and Satterthwaite: `u⁴ / Σ (c u(x))⁴/ν` (JCGM 100:2008, G.2b).
    fn effective_degrees(&self, deviations: &[f64], variance: f64) -> Option<f64> {
        if !self.correlations.is_empty() || variance <= 0.0 {
            return None;
        }
        let sum: f64 = self
            .inputs
            .iter()
            .zip(deviations)
            .filter_map(|(input, deviation)| {
                let part = deviation * deviation / variance;
                Some(part * part / input.degrees_of_freedom?)
            })
            .sum();
        // Beyond 1e12 nothing distinguishes them from infinite.
        (sum > 1e-12).then(|| 1.0 / sum)
    }

    fn check_correlated_degrees(&self) -> Result<()> {
        let finite = self.inputs.iter().find(|input| {
            input.degrees_of_freedom.is_some()
                && self.correlations.iter().any(|correlation| {
                    correlation.first == input.name || correlation.second == input.name
                })
        });
        match finite {
            None => Ok(()),
            Some(input) => Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "{} is correlated and has finite degrees of freedom, for which effective \
                     degrees of freedom are not defined; state a coverage factor instead",
                    quoted(&input.name)
                ),
            )
            .at("coverage")),
        }
    }
}

fn place(places: &HashMap<&str, usize>, name: &str) -> Result<usize> {
    places.get(name).copied().ok_or_else(|| {
        Error::new(
            ErrorKind::NotFound,
            format!("{} is none of the inputs", quoted(name)),
        )
    })
}

/// For each input: its own deviation and those of the others, weighted by
/// their correlation with it.
fn joined(deviations: &[f64], correlated: &[(usize, usize, f64)]) -> Vec<f64> {
    let mut sums = deviations.to_vec();
    for &(first, second, coefficient) in correlated {
        let (Some(&one), Some(&two)) = (deviations.get(first), deviations.get(second)) else {
            continue;
        };
        if let Some(sum) = sums.get_mut(first) {
            *sum += coefficient * two;
        }
        if let Some(sum) = sums.get_mut(second) {
            *sum += coefficient * one;
        }
    }
    sums
}

/// A variance freed of the rounding that full correlation leaves behind.
fn settled(variance: f64, deviations: &[f64]) -> Result<f64> {
    check_finite(variance, "variance of the result")?;
    let rounding = 1e-12 * deviations.iter().map(|d| d * d).sum::<f64>();
    if variance < -rounding {
        return Err(Error::new(
            ErrorKind::Inconsistent,
            format!("the correlations give a negative variance, {variance}"),
        )
        .at("correlations"));
    }
    Ok(variance.max(0.0))
}

impl Budget {
    /// The budget of one feature's angle from its contributors, in seconds of
    /// arc, about an estimated deviation (the residual of the setting).
    /// Contributors of one name are told apart by a number.
    ///
    /// ```
    /// use dividing_core::accuracy::{
    ///     Budget, Contributor, Coverage, Distribution, InputUnit, Persistence,
    /// };
    /// let hole = Contributor {
    ///     name: "hole position".into(),
    ///     limit: 0.01,
    ///     unit: InputUnit::Millimetre,
    ///     sensitivity: 1.0 / 50.0,
    ///     distribution: Distribution::UniformInDisc,
    ///     persistence: Persistence::FixedForPlace,
    ///     degrees_of_freedom: None,
    /// };
    /// let budget = Budget::of_contributors("hole 3", 0.0, &[hole], Coverage::Factor(2.0))?;
    /// // Standard deviation 0.005 mm at a radius of 50 mm.
    /// assert!((budget.combined_standard_uncertainty - 20.6265).abs() < 1e-3);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`UncertaintyModel::budget`].
    pub fn of_contributors(
        quantity: impl Into<String>,
        estimate_rad: f64,
        contributors: &[Contributor],
        coverage: Coverage,
    ) -> Result<Self> {
        let mean_rad: f64 = contributors.iter().map(Contributor::mean_rad).sum();
        let mut counts: HashMap<&str, usize> = HashMap::new();
        let mut taken: std::collections::HashSet<String> = std::collections::HashSet::new();
        let inputs = contributors
            .iter()
            .enumerate()
            .map(|(index, contributor)| {
                let sensitivity = contributor.sensitivity * ARCSEC_PER_RAD;
                let unit = match contributor.unit {
                    InputUnit::Millimetre => "mm",
                    InputUnit::Radian => "rad",
                };
                contributor.check().at(format!("contributors[{index}]"))?;
                let count = counts.entry(contributor.name.as_ref()).or_default();
                *count += 1;
                let mut name = contributor.name.to_string();
                let mut number = *count;
                while number > 1 || taken.contains(&name) {
                    name = format!("{} ({number})", contributor.name);
                    if !taken.contains(&name) {
                        break;
                    }
                    number += 1;
                }
                taken.insert(name.clone());
                Ok(UncertainInput {
                    name,
                    unit: unit.into(),
                    standard_uncertainty: contributor.standard_uncertainty_of_input(),
                    sensitivity,
                    degrees_of_freedom: contributor.degrees_of_freedom,
                })
            })
            .collect::<Result<Vec<_>>>()?;
        UncertaintyModel {
            quantity: quantity.into(),
            unit: "arcsec".into(),
            estimate: (estimate_rad + mean_rad) * ARCSEC_PER_RAD,
            inputs,
            correlations: Vec::new(),
            second_order: Vec::new(),
            coverage,
        }
        .budget()
    }
}

/// Sensitivities of any model by its change over one standard uncertainty
/// either way (JCGM 100:2008, 5.1.3, note 2).
///
/// ```
/// use dividing_core::accuracy::numerical_sensitivities;
/// let area = |x: &[f64]| x[0] * x[1];
/// let found = numerical_sensitivities(area, &[3.0, 4.0], &[0.1, 0.1])?;
/// assert!((found[0] - 4.0).abs() < 1e-9 && (found[1] - 3.0).abs() < 1e-9);
/// # Ok::<(), dividing_core::Error>(())
/// ```
///
/// # Errors
/// [`ErrorKind::Inconsistent`] for lists of unequal length,
/// [`ErrorKind::OutOfRange`] for an uncertainty that is not greater than zero,
/// [`ErrorKind::NotFinite`] where the model gives no finite value.
pub fn numerical_sensitivities(
    model: impl Fn(&[f64]) -> f64,
    estimates: &[f64],
    standard_uncertainties: &[f64],
) -> Result<Vec<f64>> {
    if estimates.len() != standard_uncertainties.len() {
        return Err(Error::new(
            ErrorKind::Inconsistent,
            format!(
                "{} estimates do not go with {} standard uncertainties",
                estimates.len(),
                standard_uncertainties.len()
            ),
        ));
    }
    let mut point = estimates.to_vec();
    let mut found = Vec::with_capacity(estimates.len());
    for (index, (&estimate, &step)) in estimates.iter().zip(standard_uncertainties).enumerate() {
        check_positive(step, "standard uncertainty")
            .at(format!("standard_uncertainties[{index}]"))?;
        let mut value_at = |x: f64| {
            if let Some(coordinate) = point.get_mut(index) {
                *coordinate = x;
            }
            model(&point)
        };
        let change = value_at(estimate + step) - value_at(estimate - step);
        value_at(estimate);
        let slope = change / (2.0 * step);
        check_finite(slope, "sensitivity").at(format!("estimates[{index}]"))?;
        found.push(slope);
    }
    Ok(found)
}
