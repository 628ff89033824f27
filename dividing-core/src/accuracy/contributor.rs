//! One cause of angular error: its limit, its distribution, how long it lasts,
//! and how strongly it turns the part.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};

use super::probability::{check_finite, check_not_negative, check_positive};
use crate::error::{AtField, Result};

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
}

impl Contributor {
    /// Largest angle this contributor can turn the feature by, in radians.
    #[must_use]
    pub fn limit_rad(&self) -> f64 {
        self.limit * self.sensitivity.abs()
    }

    /// Standard uncertainty of the input, in its own unit (JCGM 100:2008, 4.3).
    #[must_use]
    pub fn standard_uncertainty_of_input(&self) -> f64 {
        let per_limit = match self.distribution {
            Distribution::Uniform => 1.0 / 3.0_f64.sqrt(),
            Distribution::Normal { sigmas_at_limit } => 1.0 / sigmas_at_limit,
            Distribution::Triangular => 1.0 / 6.0_f64.sqrt(),
            Distribution::UShaped => 1.0 / 2.0_f64.sqrt(),
            Distribution::UniformInDisc => 0.5,
        };
        self.limit * per_limit
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
    /// limit or a normal distribution whose limit is not at a positive number
    /// of standard deviations,
    /// [`ErrorKind::NotFinite`](crate::ErrorKind::NotFinite) for NaN and
    /// infinities.
    pub fn check(&self) -> Result<()> {
        check_not_negative(self.limit, "limit").at("limit")?;
        check_finite(self.sensitivity, "sensitivity").at("sensitivity")?;
        if let Distribution::Normal { sigmas_at_limit } = self.distribution {
            check_positive(sigmas_at_limit, "sigmas_at_limit")
                .at("distribution.normal.sigmas_at_limit")?;
        }
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
        };
        assert!((contributor.limit_rad() - 0.0002).abs() < 1e-15);
        assert!((contributor.standard_uncertainty_rad() - 0.0001).abs() < 1e-15);
    }
}
