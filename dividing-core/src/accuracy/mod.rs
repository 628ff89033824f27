//! How far off each feature will be, and why.

#[doc = include_str!("guide.md")]
pub mod guide {}

mod approach;
mod bar;
mod budget;
mod contributor;
mod devices;
mod entry;
mod figure;
mod geometry;
mod inverse;
mod lineage;
mod measured;
mod measured_together;
mod model;
mod off_axis;
#[cfg(feature = "drawing")]
mod picture;
mod pitch;
mod place;
mod plunger;
mod probability;
mod registration;
mod shift;
mod simulation;
mod standards;
mod trade;
mod verdict;

pub(crate) use bar::bar;
pub use bar::baseline_mm;
pub use budget::{
    Budget, BudgetLine, Correlation, Coverage, SecondOrderTerm, UncertainInput, UncertaintyModel,
    numerical_sensitivities,
};
pub use contributor::{Contributor, Distribution, InputUnit, Persistence};
pub(crate) use devices::size_text;
pub use entry::entry_finding;
pub use figure::{ErrorFigure, FeatureError, error_figure};
pub(crate) use figure::{Predictor, limits_rad};
pub use geometry::{
    BarSupport, Entry, EntryFinding, LINEAR_MODEL_TOLERANCE, Model, ModelledAngle, PinSeating,
    bar_tilt, eccentricity_error, pin_play,
};
pub use inverse::{
    Allowance, BarSweep, Criterion, PlungerSweep, SimulatedColumns, TradeOff,
    eccentricity_peak_to_peak_rad, least_radius_mm, loosest_limit, trade_offs,
};
pub use lineage::{carried, drilled_by_coordinates, position_zone_mm};
pub(crate) use measured::measured_reading;
pub use model::{ErrorModel, FeatureConformance, ModelFeature};
pub use off_axis::eccentricity_between;
#[cfg(feature = "drawing")]
pub use picture::{deviation_picture, limits_picture};
pub use pitch::PitchFigure;
pub(crate) use plunger::{HOLE, PLATE_HOLE, STATION, pin_in_hole};
pub use probability::{clopper_pearson, student_factor};
pub(crate) use probability::{log_gamma, normal_probability};
pub use registration::{Registration, registration};
pub use shift::{FeatureShift, LocatedFrom, feature_shift};
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
pub use trade::{PinPair, PlanTradeOff, best_pin_pairs};
pub use verdict::{Verdict, VerdictKind, verdict};
