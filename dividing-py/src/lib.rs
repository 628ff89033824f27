//! The native module `dividing._dividing`; the package `dividing` around it is
//! written by hand in `python/dividing`.
//!
//! Each file is the Python face of one part of the core. Every call that can
//! fail goes through `errors::core`, so that errors become the package's
//! exceptions and a panic can never surface.
#![forbid(unsafe_code)]

mod accuracy;
mod angle;
mod argument;
mod array;
mod document;
mod errors;
mod feature;
mod fits;
mod formula;
mod gauge;
mod gearing;
mod inspection;
mod job;
mod levers;
mod pattern;
mod plan;
mod reach;
mod record;
mod sheet;
mod simulation;
mod table;
mod value;
mod watch;
mod workshop;

use pyo3::prelude::*;

/// A length in millimetres: of a number of millimetres, or of text with a unit
/// (mm, in, um), at most 100 m.
///
/// Raises ValueError (one of this package) for a text that is no length,
/// NotFiniteError, OutOfRangeError; TypeError for anything else.
///
/// >>> dividing.length_mm("0.250 in"), dividing.length_mm(6)
/// (6.35, 6.0)
#[pyfunction]
fn length_mm(value: &Bound<'_, PyAny>) -> PyResult<f64> {
    argument::length_of(value, "").map(dividing_core::Length::mm)
}

/// As `length_mm`, with the name of the argument for the error.
#[pyfunction]
fn _length_mm_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<f64> {
    argument::length_of(value, name).map(dividing_core::Length::mm)
}

/// As `Angle(value)`, with the name of the argument for the error.
#[pyfunction]
fn _angle_of(value: &Bound<'_, PyAny>, name: &str) -> PyResult<angle::PyAngle> {
    argument::angle_of(value, name).map(Into::into)
}

/// For tests: a call of the core that panics, to show what Python then sees.
#[pyfunction]
#[allow(clippy::panic, reason = "the boundary is tested with a real panic")]
fn _panic_on_purpose(message: String) -> PyResult<()> {
    errors::core(|| panic!("{message}"))
}

/// The native part of the package `dividing`. Whether it holds without the
/// interpreter lock is not proved, so it does not say so.
#[pymodule(gil_used = true)]
mod _dividing {
    #[pymodule_export]
    use super::{
        _angle_of, _length_mm_of, _panic_on_purpose,
        angle::PyAngle,
        job::PyJob,
        length_mm,
        plan::{PyPlan, PyPlans, plan},
        sheet::{PyDrawing, PySheet},
        workshop::PyWorkshop,
    };

    // Values, features, gauge blocks, gears, formulae.
    #[pymodule_export]
    use super::{
        feature::{
            _bolt_circle_chord, _bolt_circle_places, _check_features, _check_tolerance,
            _feature_angles, _feature_angles_deg, _geometry, _limit_rad,
        },
        formula::{
            across_corners_mm, bolt_circle_chord_mm, crank_turns, flat_width_mm,
            sine_bar_angle_deg, sine_bar_height_mm, swivel_deg,
        },
        gauge::{
            _angle_stack, _bar_height_mm, _checked_angle_blocks, _checked_blocks, _difference,
            _named_angle_blocks, _named_blocks, _nearest_units, _stack, _two_stacks, _units_of,
        },
        gearing::{_checked_gears, _checked_train, _idlers, PyTrainSearch},
        value::{
            _check_equipment, _drilled_zone_mm, _float_of, _loads, _pin_in_hole_of_fit, _ratio_of,
            _text_of, _whole_of,
        },
    };

    // Patterns.
    #[pymodule_export]
    use super::pattern::{_check_brief, PyPattern, design_plate};

    // Reach and tables.
    #[pymodule_export]
    use super::{
        reach::{PyOrientationSet, PyWay, vee_seat, ways},
        table::{exact_table, indexing_table, stepping_table},
    };

    // Fits.
    #[pymodule_export]
    use super::fits::{
        _clearance, _clearance_of_class, _fit, _fit_class, _limit_deviations_um, _limits,
        _limits_from_deviations, _limits_of_class, _tolerance_class,
    };

    // Accuracy and its levers.
    #[pymodule_export]
    use super::accuracy::{
        _angular_class_met_by, _angular_limit_rad, _best_pin_pairs, _budget,
        _budget_of_contributors, _budget_page, _carried, _contributor_figures, _correlation,
        _decide, _drilled_by_coordinates, _entry, _feature_shift, _least_radius_mm, _loosest_limit,
        _permitted_diameter_mm, _pitch_grade_met_by, _pitch_tolerances_um, _position_zone_mm,
        _range_constants, _total_rad, _trade_offs, PyErrorModel,
    };

    #[pymodule_export]
    use super::levers::{
        _bar_tilt_rad, bar_on_fixed_pins_rad, bar_on_loose_pins_rad, baseline_mm, clopper_pearson,
        conformance_probability, eccentricity_between_rad, eccentricity_error_rad,
        eccentricity_peak_to_peak_rad, guard_band_factor, least_baseline_mm, least_pitch_radius_mm,
        loosest_clearance_mm, pin_play_rad, plunger_standard_uncertainty_rad,
        plunger_worst_case_rad, position_diameter_mm, student_factor,
    };

    // Simulation and inspection.
    #[pymodule_export]
    use super::simulation::_simulate;

    #[pymodule_export]
    use super::inspection::{
        _angles_about_axis, _bar_deviation_rad, _choose_list, _choose_pairs, _choose_start,
        _correction_table, _decide_measured, _fit_circle, _inspect, _measurement, _plan_shifts,
        _readings_from_csv, PyInspection,
    };

    use pyo3::prelude::*;

    #[pymodule_init]
    fn init(module: &Bound<'_, PyModule>) -> PyResult<()> {
        module.add("__version__", env!("CARGO_PKG_VERSION"))
    }
}
