//! Contributors of error: what each input may be off by, and what that does.

use std::borrow::Cow;
use std::ffi::{CStr, c_char};

use dividing_core::accuracy::{Contributor, Criterion, Distribution, InputUnit, Persistence};

use crate::array::slice;
use crate::error::Outcome;
use crate::fields::{chosen, string};

/// The unit of a contributor's limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum InputUnitOf {
    /// Millimetres, turned into an angle by a radius or a baseline.
    Millimetre = 0,
    /// Radians.
    Radian = 1,
}

/// How an input varies within its limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum DistributionOf {
    /// Every value within the limit either way alike.
    Uniform = 0,
    /// Normal, with the limit at `sigmas_at_limit` standard deviations.
    Normal = 1,
    /// Triangular, symmetric about zero, ending at the limit either way.
    Triangular = 2,
    /// Arc sine: a sinusoid at a random phase.
    UShaped = 3,
    /// One coordinate of a point anywhere in a disc whose radius is the limit.
    UniformInDisc = 4,
    /// One of the values given, each as likely as the others: `samples`.
    Samples = 5,
    /// A distribution that this version has no name for; only comes out.
    Other = 100,
}

/// How long a value stays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum PersistenceOf {
    /// The same every time this hole, face or graduation is used.
    FixedForPlace = 0,
    /// New at each seating of a pin, block, bar or crank.
    NewAtSeating = 1,
    /// The same for all features of the job.
    FixedForJob = 2,
}

/// One contributor of error.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct ContributorRecord {
    /// What causes it, in the words of the trade; ends with NUL. From a handle
    /// it belongs to the handle.
    pub name: *const c_char,
    /// Largest deviation of the input either way, in `unit`; not negative.
    pub limit: f64,
    /// The unit of the input: a dividing_input_unit.
    pub unit: i32,
    /// Radians of the feature's angle for one unit of the input.
    pub sensitivity: f64,
    /// How the input varies: a dividing_distribution.
    pub distribution: i32,
    /// Of a normal distribution, the limit over the standard deviation, above 0.
    pub sigmas_at_limit: f64,
    /// How long a value stays: a dividing_persistence.
    pub persistence: i32,
    /// Degrees of freedom of its standard uncertainty; 0 stands for infinite.
    pub degrees_of_freedom: f64,
    /// Deviations of a distribution of samples, `sample_count` of them, in any
    /// unit: the largest one, without sign, stands for the limit; else NULL.
    /// From a handle they belong to the handle.
    pub samples: *const f64,
    /// How many `samples` points to.
    pub sample_count: usize,
}

impl ContributorRecord {
    /// # Safety
    /// `name` and `samples` are as their comments say.
    unsafe fn build(&self) -> Outcome<Contributor> {
        // SAFETY: the caller's contract.
        let samples = unsafe { slice(self.samples, self.sample_count, "samples")? };
        let distributions = [
            Distribution::Uniform,
            Distribution::Normal {
                sigmas_at_limit: self.sigmas_at_limit,
            },
            Distribution::Triangular,
            Distribution::UShaped,
            Distribution::UniformInDisc,
            Distribution::Samples {
                values: samples.to_vec(),
            },
        ];
        let persistences = [
            Persistence::FixedForPlace,
            Persistence::NewAtSeating,
            Persistence::FixedForJob,
        ];
        Ok(Contributor {
            // SAFETY: the caller's contract.
            name: Cow::Owned(unsafe { string(self.name, "name")? }),
            limit: self.limit,
            unit: chosen(
                self.unit,
                "unit",
                &[InputUnit::Millimetre, InputUnit::Radian],
            )?,
            sensitivity: self.sensitivity,
            distribution: chosen(self.distribution, "distribution", &distributions)?,
            persistence: chosen(self.persistence, "persistence", &persistences)?,
            degrees_of_freedom: (self.degrees_of_freedom != 0.0).then_some(self.degrees_of_freedom),
        })
    }

    /// A contributor of a handle that keeps its name and samples.
    pub(crate) fn of(contributor: &Contributor, name: &CStr) -> Self {
        let mut samples: &[f64] = &[];
        let (distribution, sigmas_at_limit) = match &contributor.distribution {
            Distribution::Uniform => (DistributionOf::Uniform, 0.0),
            Distribution::Normal { sigmas_at_limit } => (DistributionOf::Normal, *sigmas_at_limit),
            Distribution::Triangular => (DistributionOf::Triangular, 0.0),
            Distribution::UShaped => (DistributionOf::UShaped, 0.0),
            Distribution::UniformInDisc => (DistributionOf::UniformInDisc, 0.0),
            Distribution::Samples { values } => {
                samples = values;
                (DistributionOf::Samples, 0.0)
            }
            _ => (DistributionOf::Other, 0.0),
        };
        let unit = match contributor.unit {
            InputUnit::Millimetre => InputUnitOf::Millimetre,
            InputUnit::Radian => InputUnitOf::Radian,
        };
        let persistence = match contributor.persistence {
            Persistence::FixedForPlace => PersistenceOf::FixedForPlace,
            Persistence::NewAtSeating => PersistenceOf::NewAtSeating,
            Persistence::FixedForJob => PersistenceOf::FixedForJob,
        };
        Self {
            name: name.as_ptr(),
            limit: contributor.limit,
            unit: unit as i32,
            sensitivity: contributor.sensitivity,
            distribution: distribution as i32,
            sigmas_at_limit,
            persistence: persistence as i32,
            degrees_of_freedom: contributor.degrees_of_freedom.unwrap_or(0.0),
            samples: if samples.is_empty() {
                std::ptr::null()
            } else {
                samples.as_ptr()
            },
            sample_count: samples.len(),
        }
    }
}

/// The contributors of a list of the caller.
///
/// # Safety
/// `records` points to `count` records, each as its comments say.
pub(crate) unsafe fn list(
    records: *const ContributorRecord,
    count: usize,
) -> Outcome<Vec<Contributor>> {
    // SAFETY: the caller's contract.
    let records = unsafe { slice(records, count, "contributors")? };
    let each = records.iter().enumerate().map(|(index, record)| {
        // SAFETY: the caller's contract.
        unsafe { record.build() }.map_err(|failure| failure.at(&format!("contributors[{index}]")))
    });
    each.collect()
}

/// What must stay within a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum CriterionOf {
    /// The sum of all limits.
    WorstCase = 0,
    /// The root of the sum of the squares of all limits.
    RootSumSquare = 1,
    /// The combined standard uncertainty times a coverage factor.
    ExpandedUncertainty = 2,
}

pub(crate) fn criterion_of(number: i32, coverage_factor: f64) -> Outcome<Criterion> {
    chosen(
        number,
        "criterion",
        &[
            Criterion::WorstCase,
            Criterion::RootSumSquare,
            Criterion::ExpandedUncertainty { coverage_factor },
        ],
    )
}
