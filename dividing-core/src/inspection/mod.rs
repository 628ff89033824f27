//! What a measured plate or part is really worth, and how to use it better.
//!
//! ```text
//! coordinates ─► fit_circle ─► eccentricity ─┐
//! angles, deviations, chords ────────────────┼─► RingDeviations ─► check_ring, pitch_grade
//! two devices, shifted ─► calibrate ─────────┘         │
//!                                                      └─► choose_start, correction_table
//! ```
//!
//! Deviations are where a place stands less where it should stand, about the
//! mean of all measured places, positive in the sense of the numbering. All
//! uncertainties are standard uncertainties unless named otherwise.
//!
//! ```
//! use dividing_core::inspection::{
//!     CoordinateReadings, Judging, Numbering, Reference, choose_start, inspect_coordinates,
//!     points_from_csv,
//! };
//! use dividing_core::{Length, work::Meter};
//!
//! // A measured plate with eight holes; four divisions are wanted.
//! let text = "place,x_mm,y_mm\n\
//!     0,40.004,0.002\n1,28.289,28.281\n2,0.001,40.006\n3,-28.280,28.290\n\
//!     4,-39.995,0.004\n5,-28.281,-28.288\n6,0.006,-39.998\n7,28.291,-28.279\n";
//! let inspection = inspect_coordinates(&CoordinateReadings {
//!     places: 8,
//!     numbering: Numbering::CounterClockwise,
//!     axis: Some([Length::ZERO; 2]),
//!     nominal_radius: None,
//!     standard_uncertainty: None,
//!     points: points_from_csv(text)?,
//! })?;
//! let judging = Judging { reference: Reference::Mean, coverage_factor: 0.0, limits_rad: None };
//! let known = inspection.about_axis.as_ref().unwrap().known();
//! let choice = choose_start(&known, &[0, 2, 4, 6], &judging, &mut Meter::default())?;
//! assert!(choice.gain_over_worst() >= 0.0);
//! # Ok::<(), dividing_core::Error>(())
//! ```

#[doc = include_str!("guide.md")]
pub mod guide {}

mod angles;
mod choice;
mod cholesky;
mod chords;
mod circle;
mod closure;
mod coordinates;
mod correction;
mod covariance;
mod csv;
mod decision;
mod finding;
mod fourier;
mod grade;
mod harmonics;
mod measured;
mod measurement;
mod numbering;
mod numeric;
mod pairs;
mod part;
#[cfg(feature = "drawing")]
pub(crate) mod picture;
mod pitch;
mod report;
mod ring;
mod stations;
mod statistics;

pub use angles::{inspect_angles, inspect_deviations};
pub use choice::{Choice, Judged, Judging, KnownDeviation, Reference, choose_list, choose_start};
pub use chords::inspect_chords;
pub use circle::{CircleFit, MAX_POINTS, MeasuredPoint, PointUncertainty, fit_circle};
pub use closure::{
    Closure, Device, MAX_CLOSURE_POSITIONS, MAX_CLOSURE_READINGS, ResidualTest, Setup, ShiftPlan,
    calibrate, plan_shifts,
};
pub use coordinates::{CoordinateInspection, Eccentricity, inspect_coordinates};
pub use correction::{Correction, correction_table};
pub use csv::{
    angles_from_csv, chords_from_csv, closure_from_csv, deviations_from_csv, points_from_csv,
};
pub use decision::{
    Decision, DecisionRule, GroundedDecision, MeasuredValue, ToleranceLimits, decide,
};
pub use finding::{Direction, Finding};
pub use grade::{FLANK_CLASSES, PitchGrade, PitchTolerances, Wheel, pitch_grade};
pub use harmonics::Harmonic;
pub use measurement::{
    AngleReading, AngleReadings, AxisUncertainty, ChordReading, ChordReadings, ClosureReadings,
    CoordinateReadings, DeviationReading, DeviationReadings, Measurement, Numbering, PointReading,
    Readings, SetupReadings, StationReadings,
};
pub use pairs::{PairChoice, bar_deviation_rad, choose_pairs};
pub use part::{Checked, PartCheck, PartVerdict, RingLimits, check_position, check_ring};
#[cfg(feature = "drawing")]
pub use picture::{coordinate_picture, ring_picture};
pub use pitch::{PitchDeviations, PitchExtreme};
#[cfg(feature = "schema")]
pub(crate) use report::ReportWritten;
pub use report::{Inspection, InspectionReport};
pub use ring::{MAX_PLACES, PlaceDeviation, RingDeviations};
pub use stations::{StationDeviation, StationDeviations, angles_about_axis, inspect_stations};
pub use statistics::{chi_square_tail, normal_probability};
