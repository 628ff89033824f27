//! The native module `dividing._dividing`; the package `dividing` around it is
//! written by hand in `python/dividing`.
//!
//! Each file is the Python face of one part of the core. Every call that can
//! fail goes through `errors::core`, so that errors become the package's
//! exceptions and a panic can never surface.
#![forbid(unsafe_code)]

mod angle;
mod argument;
mod array;
mod document;
mod errors;
mod feature;
mod formula;
mod gauge;
mod gearing;
mod html;
mod job;
mod pattern;
mod plan;
mod reach;
mod record;
mod sheet;
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

/// The native part of the package `dividing`.
#[pymodule]
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
            _check_equipment, _float_of, _loads, _pin_in_hole_of_fit, _ratio_of, _text_of,
            _whole_of,
        },
    };

    // Patterns.
    #[pymodule_export]
    use super::pattern::{_check_brief, PyPattern, design_plate};

    // Reach and tables.
    #[pymodule_export]
    use super::{
        reach::{PyOrientationSet, PyWay, vee_seat, ways},
        table::{exact_table, indexing_table},
    };

    use pyo3::prelude::*;

    #[pymodule_init]
    fn init(module: &Bound<'_, PyModule>) -> PyResult<()> {
        module.add("__version__", env!("CARGO_PKG_VERSION"))
    }
}
