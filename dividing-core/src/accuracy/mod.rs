//! How far off each feature will be, and why.

mod bar;
mod budget;
mod contributor;
mod devices;
mod figure;
mod geometry;
mod inverse;
mod plunger;
mod probability;
mod registration;
mod simulation;
mod standards;
mod verdict;

pub(crate) use bar::bar;
pub use bar::baseline_mm;
pub use budget::{
    Budget, BudgetLine, Correlation, Coverage, SecondOrderTerm, UncertainInput, UncertaintyModel,
    numerical_sensitivities,
};
pub use contributor::{Contributor, Distribution, InputUnit, Persistence};
pub(crate) use devices::size_text;
pub use figure::{ErrorFigure, FeatureError, error_figure};
pub use geometry::{
    BarSupport, Entry, EntryFinding, LINEAR_MODEL_TOLERANCE, Model, ModelledAngle, PinSeating,
    bar_tilt, eccentricity_error, pin_play,
};
pub use inverse::{
    Allowance, BarSweep, Criterion, PlungerSweep, TradeOff, eccentricity_peak_to_peak_rad,
    least_radius_mm, loosest_limit, trade_offs,
};
pub(crate) use plunger::{HOLE, PLATE_HOLE, STATION, pin_in_hole};
pub use probability::{clopper_pearson, student_factor};
pub use registration::{Registration, registration};
pub use simulation::{
    Datum, Eccentricity, Referencing, RunSettings, SimulatedConformance, SimulatedFeature,
    SimulatedInput, SimulatedProbability, SimulatedQuantity, Simulation, SimulationDetail,
    SimulationLimits, SimulationReport, TrialCount,
};
pub use standards::{
    AngularClass, Decision, DecisionRule, MaximumMaterial, PitchGrades, PitchRounding,
    PositionTolerance, RangeConstants, conformance_probability, guard_band_factor,
    position_diameter_mm, range_constants,
};
pub use verdict::{Verdict, VerdictKind, verdict};
