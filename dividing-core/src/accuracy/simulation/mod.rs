//! Simulation after JCGM 101:2008: what happens to every feature, trial by
//! trial.

mod compile;
mod program;
mod random;
mod run;
mod tally;

use serde::{Deserialize, Serialize};

pub use tally::SimulatedQuantity;

use super::contributor::Contributor;
use crate::error::Result;
use crate::work::Meter;

/// A contributor to one feature, and the place that it belongs to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SimulatedInput {
    /// The contributor. Its persistence says how often it is drawn:
    /// `fixed_for_place` once a trial for each place, `new_at_seating` for every
    /// feature anew, `fixed_for_job` once a trial for all features that name it.
    pub contributor: Contributor,
    /// Name of the hole, face, station or graduation that a `fixed_for_place`
    /// contributor belongs to: features that use the same place share its
    /// draw. None for a place that only this feature uses.
    #[serde(default)]
    pub place: Option<String>,
    /// The direction along which the deviation of a point counts, in radians,
    /// for a contributor that is uniform in a disc (a point anywhere in it) or
    /// U-shaped (a point on its rim): features that share the draw but look at
    /// it from other directions see other components of one point. None for a
    /// deviation that is one number.
    #[serde(default)]
    pub direction_rad: Option<f64>,
}

impl From<Contributor> for SimulatedInput {
    fn from(contributor: Contributor) -> Self {
        Self {
            contributor,
            place: None,
            direction_rad: None,
        }
    }
}

/// One feature of a simulated job.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SimulatedFeature {
    /// Direction of the feature, in radians; only eccentricities ask for it.
    #[serde(default)]
    pub angle_rad: f64,
    /// Systematic deviation: the residual of the setting, in radians.
    #[serde(default)]
    pub residual_rad: f64,
    /// What varies.
    pub inputs: Vec<SimulatedInput>,
}

/// An eccentricity whose direction nobody knows: it turns feature i by
/// `limit · ρ · sin(θi − ψ)` with ψ uniform over the turn, drawn once a trial.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Eccentricity {
    /// What is eccentric to what.
    pub name: String,
    /// Largest eccentricity over the pitch radius, in radians.
    pub limit_rad: f64,
    /// Whether the centre lies anywhere in a disc (ρ = √U) instead of always
    /// at the limit (ρ = 1).
    pub anywhere_in_disc: bool,
}

/// About what the deviations of the features are counted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Datum {
    /// The mean of all features: the best fit in the sense of least squares.
    #[default]
    Mean,
    /// The middle between the largest and the smallest deviation: the shift of a
    /// free pattern that makes its worst feature as good as can be. Counted so, a
    /// trial is within its limit whenever any shift would bring it there, and no
    /// feature is further off than the worst case; about the mean one feature may
    /// be, by up to 2(N − 1)/N times.
    Middle,
    /// The feature of this number, counted from 0, that the job is clocked to.
    Feature(usize),
    /// The settings of the device as they stand.
    Setting,
}

/// From where each feature is set.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Referencing {
    /// Every feature from the same datum of the device.
    #[default]
    CommonDatum,
    /// Every feature from the one before: what is given for a feature is the
    /// error of the step to it, for the first feature that of the closing step
    /// back to it.
    Chained,
}

/// Limits that a trial must keep, in radians; none for no limit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SimulationLimits {
    /// Largest deviation of any feature either way about the datum. Needs
    /// [`SimulationDetail::Features`].
    #[serde(default)]
    pub deviation_rad: Option<f64>,
    /// Largest single pitch deviation either way.
    #[serde(default)]
    pub single_pitch_rad: Option<f64>,
    /// Cumulative pitch deviation.
    #[serde(default)]
    pub cumulative_pitch_rad: Option<f64>,
}

/// How much is worked out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SimulationDetail {
    /// Single and cumulative pitch only.
    Pitch,
    /// The deviation of every feature, the largest of them, and closing too.
    #[default]
    Features,
}

/// A job to simulate.
///
/// ```
/// use dividing_core::accuracy::{
///     Contributor, Distribution, InputUnit, Persistence, RunSettings, SimulatedFeature,
///     Simulation, TrialCount, range_constants,
/// };
/// use dividing_core::work::Meter;
/// let hole = Contributor {
///     name: "hole position".into(),
///     limit: 0.006,
///     unit: InputUnit::Millimetre,
///     sensitivity: 1.0 / 50.0,
///     distribution: Distribution::Normal { sigmas_at_limit: 2.0 },
///     persistence: Persistence::FixedForPlace,
///     degrees_of_freedom: None,
/// };
/// let feature = SimulatedFeature { inputs: vec![hole.into()], ..Default::default() };
/// let job = Simulation { features: vec![feature; 12], ..Default::default() };
/// let settings = RunSettings { trials: TrialCount::Exactly(100_000), ..Default::default() };
/// let report = job.run(&settings, &mut Meter::default())?;
/// // Twelve independent normal errors: mean range d2(12) σ.
/// let expected = range_constants(12)?.mean * 0.003 / 50.0;
/// assert!((report.cumulative_pitch.mean_rad / expected - 1.0).abs() < 0.01);
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Simulation {
    /// The features in order round the part.
    pub features: Vec<SimulatedFeature>,
    /// Eccentricities of unknown direction.
    #[serde(default)]
    pub eccentricities: Vec<Eccentricity>,
    /// About what deviations are counted; pitch deviations do not depend on it.
    #[serde(default)]
    pub datum: Datum,
    /// From where each feature is set.
    #[serde(default)]
    pub referencing: Referencing,
    /// Whether the last feature is a neighbour of the first.
    pub whole_turn: bool,
    /// Limits that a trial must keep.
    #[serde(default)]
    pub limits: SimulationLimits,
    /// How much is worked out.
    #[serde(default)]
    pub detail: SimulationDetail,
}

impl Default for Simulation {
    fn default() -> Self {
        Self {
            features: Vec::new(),
            eccentricities: Vec::new(),
            datum: Datum::default(),
            referencing: Referencing::default(),
            whole_turn: true,
            limits: SimulationLimits::default(),
            detail: SimulationDetail::default(),
        }
    }
}

/// How many trials are made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum TrialCount {
    /// So many.
    Exactly(u64),
    /// As many as it takes until mean, standard deviation and both ends of the
    /// coverage interval of the pitch deviations (and of the largest deviation
    /// and closing, where worked out) are stable in so many significant digits
    /// of the standard deviation: the adaptive procedure of JCGM 101:2008, 7.9.
    UntilStable {
        /// Significant digits of the standard deviation, 1 to 4.
        significant_digits: u8,
        /// Trials after which to stop in any case.
        most: u64,
    },
}

/// How a simulation is run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RunSettings {
    /// How many trials.
    pub trials: TrialCount,
    /// Seed of the random numbers: the same seed gives the same report.
    pub seed: u64,
    /// Threads to use, 1 to 256; the report does not depend on it.
    pub threads: usize,
    /// Probability of the coverage intervals.
    pub coverage_probability: f64,
    /// Confidence of the intervals about conformance probabilities.
    pub confidence: f64,
    /// Probabilities of the quantiles to report.
    pub quantiles: Vec<f64>,
}

impl Default for RunSettings {
    /// A million trials, seed 1, one thread, 95 % coverage and confidence, and
    /// the quantiles 0.5, 0.95 and 0.99.
    fn default() -> Self {
        Self {
            trials: TrialCount::Exactly(1_000_000),
            seed: 1,
            threads: 1,
            coverage_probability: 0.95,
            confidence: 0.95,
            quantiles: vec![0.5, 0.95, 0.99],
        }
    }
}

/// A probability found by counting, with its exact (Clopper-Pearson) interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SimulatedProbability {
    /// Part of the trials that conform.
    pub probability: f64,
    /// Lower end of its confidence interval.
    pub lower: f64,
    /// Upper end of its confidence interval.
    pub upper: f64,
}

/// Probabilities of conformance, for the limits that were given.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SimulatedConformance {
    /// Every feature within the deviation limit.
    pub deviation: Option<SimulatedProbability>,
    /// Single pitch within its limit.
    pub single_pitch: Option<SimulatedProbability>,
    /// Cumulative pitch within its limit.
    pub cumulative_pitch: Option<SimulatedProbability>,
    /// All given limits at once.
    pub all: SimulatedProbability,
}

/// What a simulation found.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SimulationReport {
    /// Trials made.
    pub trials: u64,
    /// Whether the stated digits became stable; none where a fixed number of
    /// trials was asked for.
    pub stable: Option<bool>,
    /// Largest single pitch deviation of a trial, without sign.
    pub single_pitch: SimulatedQuantity,
    /// Cumulative pitch deviation of a trial: largest less smallest deviation.
    pub cumulative_pitch: SimulatedQuantity,
    /// Deviation of each feature about the datum; empty unless worked out.
    pub features: Vec<SimulatedQuantity>,
    /// Largest deviation of any feature of a trial, without sign.
    pub largest_deviation: Option<SimulatedQuantity>,
    /// Deviation on coming back to the first feature: chained, the sum of all
    /// steps; from a common datum, the change by seating once more.
    pub closing: Option<SimulatedQuantity>,
    /// Conformance with the limits; none without limits.
    pub conformance: Option<SimulatedConformance>,
}

impl Simulation {
    /// Runs the simulation.
    ///
    /// Chunks of 10,000 trials draw from their own streams of random numbers
    /// and are summed in order, so the same seed gives the same report with any
    /// number of threads. Memory does not depend on the number of trials. The
    /// meter counts one step for every sixteen deviations of single features
    /// and its watcher is asked between stretches of work.
    ///
    /// # Errors
    /// [`ErrorKind::EmptyList`](crate::ErrorKind::EmptyList) without features,
    /// [`ErrorKind::OutOfRange`](crate::ErrorKind::OutOfRange) and
    /// [`ErrorKind::NotFinite`](crate::ErrorKind::NotFinite) for impossible
    /// numbers, [`ErrorKind::Inconsistent`](crate::ErrorKind::Inconsistent)
    /// when one shared draw is described in two ways or a deviation limit is
    /// given without [`SimulationDetail::Features`], and the errors of the
    /// meter.
    pub fn run(&self, settings: &RunSettings, meter: &mut Meter<'_>) -> Result<SimulationReport> {
        run::run(&compile::program(self)?, self, settings, meter)
    }

    /// Draws the random numbers of a run and does nothing with them. For
    /// benchmarks.
    ///
    /// # Errors
    /// As [`Simulation::run`].
    #[doc(hidden)]
    pub fn draw_only(&self, settings: &RunSettings, meter: &mut Meter<'_>) -> Result<()> {
        run::draw_only(&compile::program(self)?, settings, meter)
    }
}
