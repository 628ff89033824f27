//! One cause of angular error: its limit, its distribution, how long it lasts,
//! and how strongly it turns the part.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};

use super::probability::{check_finite, check_not_negative, check_positive};
use crate::error::{AtField, Error, ErrorKind, Result};

/// How an input varies within its limits.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[non_exhaustive]
pub enum Distribution {
    /// Every value within ± the limit alike (JCGM 101:2008, 6.4.2).
    Uniform,
    /// Normal, with the limit at so many standard deviations; not truncated.
    Normal {
        /// The limit over the standard deviation, greater than 0.
        sigmas_at_limit: f64,
    },
    /// Triangular, symmetric about zero, ending at ± the limit (JCGM 101:2008, 6.4.5).
    Triangular,
    /// Arc sine: a sinusoid at a random phase (JCGM 101:2008, 6.4.6).
    UShaped,
    /// One coordinate of a point that lies anywhere in a disc whose radius is
    /// the limit: standard deviation limit/2.
    UniformInDisc,
    /// One of the values given, each as likely as the others: the values as they
    /// are make the whole distribution, mean included. For a handful of repeated
    /// readings rather take [`Distribution::Normal`] with their degrees of
    /// freedom (JCGM 100:2008, 4.2).
    Samples {
        /// The deviations, in any unit: the largest one, without sign, stands
        /// for the limit. [`Contributor::of_samples`] sets the limit to it. At
        /// most 1,000,000 values.
        values: Vec<f64>,
    },
}

/// Most values of a distribution of samples.
const MOST_SAMPLES: usize = 1_000_000;

impl Distribution {
    /// Mean over the limit: 0 but for samples.
    fn relative_mean(&self) -> f64 {
        match self {
            Self::Samples { values } => moments(values).0,
            _ => 0.0,
        }
    }

    /// Standard deviation over the limit (JCGM 100:2008, 4.3; of samples that
    /// of the whole distribution, `√(Σ(x − mean)²/n)`).
    fn relative_deviation(&self) -> f64 {
        match self {
            Self::Uniform => 1.0 / 3.0_f64.sqrt(),
            Self::Normal { sigmas_at_limit } => 1.0 / sigmas_at_limit,
            Self::Triangular => 1.0 / 6.0_f64.sqrt(),
            Self::UShaped => 1.0 / 2.0_f64.sqrt(),
            Self::UniformInDisc => 0.5,
            Self::Samples { values } => moments(values).1,
        }
    }

    /// Samples over the largest of them; no value for any other distribution.
    pub(super) fn relative_samples(&self) -> impl Iterator<Item = f64> + '_ {
        let values = match self {
            Self::Samples { values } => values.as_slice(),
            _ => &[],
        };
        let most = largest(values);
        values.iter().map(move |value| relative(*value, most))
    }

    fn check(&self) -> Result<()> {
        match self {
            Self::Normal { sigmas_at_limit } => check_positive(*sigmas_at_limit, "sigmas_at_limit")
                .at("distribution.normal.sigmas_at_limit"),
            Self::Samples { values } => check_samples(values).at("distribution.samples.values"),
            _ => Ok(()),
        }
    }
}

fn check_samples(values: &[f64]) -> Result<()> {
    if values.is_empty() {
        return Err(Error::new(
            ErrorKind::EmptyList,
            "a distribution of samples needs at least one value",
        ));
    }
    if values.len() > MOST_SAMPLES {
        return Err(Error::out_of_range(
            format!("{} samples", values.len()),
            format!("1 to {MOST_SAMPLES}"),
        ));
    }
    for (index, value) in values.iter().enumerate() {
        check_finite(*value, "sample").at(format!("[{index}]"))?;
    }
    Ok(())
}

fn largest(values: &[f64]) -> f64 {
    values.iter().fold(0.0, |most, value| value.abs().max(most))
}

/// A value over the largest one; 0 where all are 0.
fn relative(value: f64, most: f64) -> f64 {
    if most > 0.0 { value / most } else { 0.0 }
}

/// Mean and standard deviation of samples over the largest of them.
fn moments(values: &[f64]) -> (f64, f64) {
    let most = largest(values);
    #[allow(clippy::cast_precision_loss, reason = "at most a million values")]
    let count = values.len().max(1) as f64;
    let sum: f64 = values.iter().map(|value| relative(*value, most)).sum();
    let mean = sum / count;
    let squares: f64 = values
        .iter()
        .map(|value| (relative(*value, most) - mean).powi(2))
        .sum();
    (mean, (squares / count).sqrt())
}

/// How long one drawn value of an error stays the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Persistence {
    /// The same every time this hole, face or graduation is used.
    FixedForPlace,
    /// New at each seating of a pin, block, bar or crank.
    NewAtSeating,
    /// The same for all features of the job.
    FixedForJob,
}

/// The unit in which a contributor's input is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum InputUnit {
    /// Millimetres, turned into an angle by a radius or a baseline.
    Millimetre,
    /// Radians.
    Radian,
}

/// One cause of angular error of a feature.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Contributor {
    /// What causes it, in the words of the trade: `hole position`, `pin clearance`.
    pub name: Cow<'static, str>,
    /// Largest deviation of the input either way, in `unit`; not negative.
    pub limit: f64,
    /// The unit of the input.
    pub unit: InputUnit,
    /// Radians of the feature's angle for one unit of the input.
    pub sensitivity: f64,
    /// How the input varies within its limit.
    pub distribution: Distribution,
    /// How long a value stays.
    pub persistence: Persistence,
    /// Degrees of freedom of its standard uncertainty, greater than 0; none for
    /// infinite (JCGM 100:2008, 4.2.6 and G.4). Budgets carry them to the
    /// effective degrees of freedom; limits and simulation do not use them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub degrees_of_freedom: Option<f64>,
}

impl Contributor {
    /// A contributor whose deviations were sampled: each of the values, in
    /// `unit`, is as likely as the others. The limit is the largest of them.
    ///
    /// ```
    /// use dividing_core::accuracy::{Contributor, InputUnit, Persistence};
    /// let values = vec![-0.002, 0.0, 0.001, 0.005];
    /// let seating = Contributor::of_samples(
    ///     "seating of the block", values, InputUnit::Millimetre, 1.0 / 50.0,
    ///     Persistence::NewAtSeating,
    /// )?;
    /// assert_eq!(seating.limit, 0.005);
    /// assert!((seating.mean_rad() - 0.001 / 50.0).abs() < 1e-15);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`Contributor::check`].
    pub fn of_samples(
        name: impl Into<Cow<'static, str>>,
        values: Vec<f64>,
        unit: InputUnit,
        sensitivity: f64,
        persistence: Persistence,
    ) -> Result<Self> {
        check_samples(&values).at("values")?;
        let found = Self {
            name: name.into(),
            limit: largest(&values),
            unit,
            sensitivity,
            distribution: Distribution::Samples { values },
            persistence,
            degrees_of_freedom: None,
        };
        found.check()?;
        Ok(found)
    }

    /// Mean of the feature's deviation by this contributor, in radians: 0 but
    /// for samples.
    #[must_use]
    pub fn mean_rad(&self) -> f64 {
        self.limit * self.distribution.relative_mean() * self.sensitivity
    }

    /// Largest angle this contributor can turn the feature by, in radians.
    #[must_use]
    pub fn limit_rad(&self) -> f64 {
        self.limit * self.sensitivity.abs()
    }

    /// Standard uncertainty of the input, in its own unit (JCGM 100:2008, 4.3).
    #[must_use]
    pub fn standard_uncertainty_of_input(&self) -> f64 {
        self.limit * self.distribution.relative_deviation()
    }

    /// Standard uncertainty of the feature's angle from this contributor, in
    /// radians (JCGM 100:2008, 4.3 and 5.1).
    #[must_use]
    pub fn standard_uncertainty_rad(&self) -> f64 {
        self.standard_uncertainty_of_input() * self.sensitivity.abs()
    }

    /// Refuses numbers that no contributor can have.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`](crate::ErrorKind::OutOfRange) for a negative
    /// limit, degrees of freedom that are not positive, more than a million
    /// samples, or a normal distribution whose limit is not at a positive number
    /// of standard deviations,
    /// [`ErrorKind::EmptyList`](crate::ErrorKind::EmptyList) for samples without
    /// a value,
    /// [`ErrorKind::NotFinite`](crate::ErrorKind::NotFinite) for NaN and
    /// infinities.
    pub fn check(&self) -> Result<()> {
        check_not_negative(self.limit, "limit").at("limit")?;
        check_finite(self.sensitivity, "sensitivity").at("sensitivity")?;
        self.distribution.check()?;
        if let Some(degrees) = self.degrees_of_freedom {
            check_positive(degrees, "degrees of freedom").at("degrees_of_freedom")?;
        }
        check_finite(self.limit_rad(), "limit times sensitivity")?;
        check_finite(self.standard_uncertainty_rad(), "standard uncertainty")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_and_uncertainties_scale_with_the_sensitivity() {
        let contributor = Contributor {
            name: "hole position".into(),
            limit: 0.01,
            unit: InputUnit::Millimetre,
            sensitivity: -1.0 / 50.0,
            distribution: Distribution::UniformInDisc,
            persistence: Persistence::FixedForPlace,
            degrees_of_freedom: None,
        };
        assert!((contributor.limit_rad() - 0.0002).abs() < 1e-15);
        assert!((contributor.standard_uncertainty_rad() - 0.0001).abs() < 1e-15);
    }
}
