//! The inverse question: how loose may one input be so that a limit holds.

mod simulated;
mod sweep;

use serde::{Deserialize, Serialize};

pub use simulated::SimulatedColumns;
pub use sweep::{BarSweep, PlungerSweep, eccentricity_peak_to_peak_rad};

use super::contributor::{Contributor, InputUnit};
use super::probability::{check_finite, check_positive};
use crate::error::{AtField, Error, ErrorKind, Result, quoted};

/// What must stay within the limit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Criterion {
    /// The sum of all limits.
    WorstCase,
    /// The root of the sum of the squares of all limits.
    RootSumSquare,
    /// The combined standard uncertainty times a coverage factor.
    ExpandedUncertainty {
        /// The coverage factor, greater than 0.
        coverage_factor: f64,
    },
}

/// How large an input may be.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Allowance {
    /// Up to this value, in the unit of the input.
    UpTo(f64),
    /// As large as it likes: it does not turn the part.
    Unlimited,
    /// Not even zero is enough: the other inputs alone break the limit.
    Never,
}

/// One line of a table of trade-offs: how large an input may be when nothing
/// else changes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TradeOff {
    /// Name of the contributor, or of several alike.
    pub name: String,
    /// Unit of its limit.
    pub unit: InputUnit,
    /// Its present limit; the largest where several bear the name.
    pub present: f64,
    /// How large the limit may be.
    pub allowance: Allowance,
}

impl Criterion {
    fn check(self) -> Result<()> {
        match self {
            Self::ExpandedUncertainty { coverage_factor } => {
                check_positive(coverage_factor, "coverage_factor").at("criterion")
            }
            Self::WorstCase | Self::RootSumSquare => Ok(()),
        }
    }

    /// Whether parts add as they are instead of by their squares.
    const fn adds_plainly(self) -> bool {
        matches!(self, Self::WorstCase)
    }

    /// The part of one contributor in radians.
    fn part_rad(self, contributor: &Contributor) -> f64 {
        match self {
            Self::WorstCase | Self::RootSumSquare => contributor.limit_rad(),
            Self::ExpandedUncertainty { coverage_factor } => {
                coverage_factor * contributor.standard_uncertainty_rad()
            }
        }
    }

    /// All parts together, in radians.
    ///
    /// # Errors
    /// As [`Contributor::check`]; [`ErrorKind::OutOfRange`] for a coverage
    /// factor that is not greater than zero.
    pub fn total_rad(self, contributors: &[Contributor]) -> Result<f64> {
        self.check()?;
        check_all(contributors)?;
        let total = self.joined(contributors.iter().map(|each| self.part_rad(each)));
        check_finite(total, "total")?;
        Ok(total)
    }

    fn joined(self, parts: impl Iterator<Item = f64>) -> f64 {
        if self.adds_plainly() {
            parts.sum()
        } else {
            parts.fold(0.0, f64::hypot)
        }
    }

    /// What is left of a limit beside a part; none where the part breaks it.
    fn left_rad(self, limit_rad: f64, taken_rad: f64) -> Option<f64> {
        if taken_rad > limit_rad {
            return None;
        }
        let left = limit_rad - taken_rad;
        Some(if self.adds_plainly() {
            left
        } else {
            (left * (limit_rad + taken_rad)).sqrt()
        })
    }
}

fn check_all(contributors: &[Contributor]) -> Result<()> {
    for (index, contributor) in contributors.iter().enumerate() {
        contributor.check().at(format!("contributors[{index}]"))?;
    }
    Ok(())
}

/// The largest limit of the contributors of one name that keeps a criterion
/// within `limit_rad` while all others stay as they are. Several contributors
/// of the name get the same limit.
///
/// ```
/// use dividing_core::accuracy::{
///     Allowance, Contributor, Criterion, Distribution, InputUnit, Persistence, loosest_limit,
/// };
/// let contributor = |name: &'static str, limit| Contributor {
///     name: name.into(),
///     limit,
///     unit: InputUnit::Millimetre,
///     sensitivity: 1.0 / 50.0,
///     distribution: Distribution::UniformInDisc,
///     persistence: Persistence::FixedForPlace,
///     degrees_of_freedom: None,
/// };
/// let list = [contributor("hole position", 0.005), contributor("pin clearance", 0.010)];
/// // 0.0005 rad at 50 mm is 0.025 mm, of which the clearance takes 0.010 mm.
/// let found = loosest_limit(&list, "hole position", Criterion::WorstCase, 0.0005)?;
/// assert!(matches!(found, Allowance::UpTo(limit) if (limit - 0.015).abs() < 1e-12));
/// # Ok::<(), dividing_core::Error>(())
/// ```
///
/// # Errors
/// [`ErrorKind::NotFound`] when no contributor has the name,
/// [`ErrorKind::OutOfRange`] for a limit that is not greater than zero, and the
/// errors of [`Criterion::total_rad`].
pub fn loosest_limit(
    contributors: &[Contributor],
    name: &str,
    criterion: Criterion,
    limit_rad: f64,
) -> Result<Allowance> {
    criterion.check()?;
    check_all(contributors)?;
    check_positive(limit_rad, "limit_rad").at("limit_rad")?;
    let named = |contributor: &&Contributor| contributor.name == name;
    if !contributors.iter().any(|each| each.name == name) {
        return Err(Error::new(
            ErrorKind::NotFound,
            format!("{} is no contributor here", quoted(name)),
        )
        .at("name"));
    }
    let others = criterion.joined(
        contributors
            .iter()
            .filter(|each| !named(each))
            .map(|each| criterion.part_rad(each)),
    );
    let Some(left) = criterion.left_rad(limit_rad, others) else {
        return Ok(Allowance::Never);
    };
    let per_unit = criterion.joined(contributors.iter().filter(named).map(|each| {
        criterion.part_rad(&Contributor {
            limit: 1.0,
            ..each.clone()
        })
    }));
    let most = left / per_unit;
    Ok(if most.is_finite() {
        Allowance::UpTo(most)
    } else {
        Allowance::Unlimited
    })
}

/// The loosest limit of every input, one at a time, in the order in which the
/// names first appear.
///
/// # Errors
/// As [`loosest_limit`].
pub fn trade_offs(
    contributors: &[Contributor],
    criterion: Criterion,
    limit_rad: f64,
) -> Result<Vec<TradeOff>> {
    let mut table: Vec<TradeOff> = Vec::new();
    for contributor in contributors {
        if let Some(line) = table.iter_mut().find(|line| line.name == contributor.name) {
            line.present = line.present.max(contributor.limit);
            continue;
        }
        table.push(TradeOff {
            name: contributor.name.to_string(),
            unit: contributor.unit,
            present: contributor.limit,
            allowance: loosest_limit(contributors, &contributor.name, criterion, limit_rad)?,
        });
    }
    Ok(table)
}

/// The least radius or baseline, in millimetres, that keeps a criterion within
/// `limit_rad`, when all contributors given in millimetres act over
/// `present_mm` now and their sensitivities fall in proportion as it grows;
/// none where the others alone break the limit. Those given in radians stay.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for a limit or a present length that is not
/// greater than zero, [`ErrorKind::Overflow`] for a length beyond all numbers,
/// and the errors of [`Criterion::total_rad`].
pub fn least_radius_mm(
    contributors: &[Contributor],
    present_mm: f64,
    criterion: Criterion,
    limit_rad: f64,
) -> Result<Option<f64>> {
    criterion.check()?;
    check_all(contributors)?;
    check_positive(limit_rad, "limit_rad").at("limit_rad")?;
    check_positive(present_mm, "present_mm").at("present_mm")?;
    let of_unit = |unit| {
        criterion.joined(
            contributors
                .iter()
                .filter(move |each| each.unit == unit)
                .map(|each| criterion.part_rad(each)),
        )
    };
    let lengths = of_unit(InputUnit::Millimetre);
    if lengths <= 0.0 {
        let holds = of_unit(InputUnit::Radian) <= limit_rad;
        return Ok(holds.then_some(0.0));
    }
    let Some(left) = criterion.left_rad(limit_rad, of_unit(InputUnit::Radian)) else {
        return Ok(None);
    };
    if left <= 0.0 {
        return Ok(None);
    }
    let least = lengths * present_mm / left;
    if least.is_finite() {
        Ok(Some(least))
    } else {
        Err(Error::new(
            ErrorKind::Overflow,
            format!("a limit of {limit_rad} rad needs a radius beyond all numbers"),
        ))
    }
}
