//! The part of `dividing.accuracy` that works on numbers and arrays alike.

use dividing_core::accuracy::{
    self, BarSupport, BarSweep, ModelledAngle, PinSeating, PlungerSweep,
};
use dividing_core::{ErrorKind, Result};
use pyo3::prelude::*;
use pyo3::types::PyFloat;

use crate::array::{self, Given};
use crate::errors::core;

type Answer<'py> = PyResult<Bound<'py, PyAny>>;
type Column<'a, 'py> = Option<&'a Bound<'py, PyAny>>;

/// The five lengths beside the pitch radius.
fn plunger<'a, 'py>(
    first: Given<'a, 'py>,
    hole: Column<'a, 'py>,
    station: Column<'a, 'py>,
    clearance: Column<'a, 'py>,
    bore: Column<'a, 'py>,
    eccentricity: Column<'a, 'py>,
) -> [Given<'a, 'py>; 6] {
    [
        first,
        ("hole_deviation_mm", hole),
        ("station_deviation_mm", station),
        ("clearance_mm", clearance),
        ("bore_clearance_mm", bore),
        ("eccentricity_mm", eccentricity),
    ]
}

const fn plunger_sweep(columns: [&[f64]; 6]) -> PlungerSweep<'_> {
    let [radius, hole, station, clearance, bore, eccentricity] = columns;
    PlungerSweep {
        pitch_radius_mm: radius,
        hole_deviation_mm: hole,
        station_deviation_mm: station,
        clearance_mm: clearance,
        bore_clearance_mm: bore,
        eccentricity_mm: eccentricity,
    }
}

/// The worst angle, in radians, of a plunger in a hole:
/// (hole + station + (clearance + bore clearance)/2 + eccentricity)/radius.
///
/// Each argument is a number or an array of numbers, in millimetres, and they
/// broadcast as NumPy's: `hole_deviation_mm` is half a position zone's
/// diameter, `clearance_mm` hole less pin, `bore_clearance_mm` bore less
/// plunger. The answer is a float, or an array of the common shape.
///
/// Raises OutOfRangeError, NotFiniteError; InconsistentError for shapes that do
/// not go together; TypeError. Source: geometry, limits added.
///
/// >>> round(dividing.accuracy.plunger_worst_case_rad(50, clearance_mm=0.020), 9)
/// 0.0002
/// >>> dividing.accuracy.plunger_worst_case_rad(50, clearance_mm=[0.0, 0.010, 0.020]).shape
/// (3,)
#[pyfunction]
#[pyo3(signature = (pitch_radius_mm, *, hole_deviation_mm=None, station_deviation_mm=None,
                    clearance_mm=None, bore_clearance_mm=None, eccentricity_mm=None),
       text_signature = "(pitch_radius_mm, *, hole_deviation_mm=0.0, station_deviation_mm=0.0, \
           clearance_mm=0.0, bore_clearance_mm=0.0, eccentricity_mm=0.0)")]
pub(crate) fn plunger_worst_case_rad<'py>(
    pitch_radius_mm: &Bound<'py, PyAny>,
    hole_deviation_mm: Column<'_, 'py>,
    station_deviation_mm: Column<'_, 'py>,
    clearance_mm: Column<'_, 'py>,
    bore_clearance_mm: Column<'_, 'py>,
    eccentricity_mm: Column<'_, 'py>,
) -> Answer<'py> {
    let py = pitch_radius_mm.py();
    let given = plunger(
        ("pitch_radius_mm", Some(pitch_radius_mm)),
        hole_deviation_mm,
        station_deviation_mm,
        clearance_mm,
        bore_clearance_mm,
        eccentricity_mm,
    );
    array::all(py, given, &|it| plunger_sweep(it).worst_case_rad())
}

/// The standard uncertainty, in radians, of a plunger in a hole: hole, station
/// and clearances anywhere in their discs, the eccentricity at any phase.
///
/// Arguments as `plunger_worst_case_rad`. Source: JCGM 100:2008, 4.3 and 5.1.
///
/// Raises OutOfRangeError, NotFiniteError, InconsistentError, TypeError.
///
/// >>> round(dividing.accuracy.plunger_standard_uncertainty_rad(50, clearance_mm=0.02), 9)
/// 0.0001
#[pyfunction]
#[pyo3(signature = (pitch_radius_mm, *, hole_deviation_mm=None, station_deviation_mm=None,
                    clearance_mm=None, bore_clearance_mm=None, eccentricity_mm=None),
       text_signature = "(pitch_radius_mm, *, hole_deviation_mm=0.0, station_deviation_mm=0.0, \
           clearance_mm=0.0, bore_clearance_mm=0.0, eccentricity_mm=0.0)")]
pub(crate) fn plunger_standard_uncertainty_rad<'py>(
    pitch_radius_mm: &Bound<'py, PyAny>,
    hole_deviation_mm: Column<'_, 'py>,
    station_deviation_mm: Column<'_, 'py>,
    clearance_mm: Column<'_, 'py>,
    bore_clearance_mm: Column<'_, 'py>,
    eccentricity_mm: Column<'_, 'py>,
) -> Answer<'py> {
    let py = pitch_radius_mm.py();
    let given = plunger(
        ("pitch_radius_mm", Some(pitch_radius_mm)),
        hole_deviation_mm,
        station_deviation_mm,
        clearance_mm,
        bore_clearance_mm,
        eccentricity_mm,
    );
    array::all(py, given, &|it| {
        plunger_sweep(it).standard_uncertainty_rad()
    })
}

/// The largest clearance, in millimetres, that keeps the worst case of a
/// plunger within `limit_rad` (a number).
///
/// Other arguments as `plunger_worst_case_rad`. None, and NaN in an array,
/// where the other lengths alone break the limit.
///
/// Raises OutOfRangeError, NotFiniteError, InconsistentError, TypeError.
///
/// >>> round(dividing.accuracy.loosest_clearance_mm(50, 0.0005, hole_deviation_mm=0.005), 9)
/// 0.04
#[pyfunction]
#[pyo3(signature = (pitch_radius_mm, limit_rad, *, hole_deviation_mm=None,
                    station_deviation_mm=None, bore_clearance_mm=None, eccentricity_mm=None),
       text_signature = "(pitch_radius_mm, limit_rad, *, hole_deviation_mm=0.0, \
           station_deviation_mm=0.0, bore_clearance_mm=0.0, eccentricity_mm=0.0)")]
pub(crate) fn loosest_clearance_mm<'py>(
    pitch_radius_mm: &Bound<'py, PyAny>,
    limit_rad: &Bound<'py, PyAny>,
    hole_deviation_mm: Column<'_, 'py>,
    station_deviation_mm: Column<'_, 'py>,
    bore_clearance_mm: Column<'_, 'py>,
    eccentricity_mm: Column<'_, 'py>,
) -> PyResult<Option<Bound<'py, PyAny>>> {
    let py = pitch_radius_mm.py();
    let limit_rad = crate::argument::float_of(limit_rad, "limit_rad")?;
    let given = plunger(
        ("pitch_radius_mm", Some(pitch_radius_mm)),
        hole_deviation_mm,
        station_deviation_mm,
        None,
        bore_clearance_mm,
        eccentricity_mm,
    );
    let found = array::all(py, given, &|it| {
        let found = plunger_sweep(it).loosest_clearance_mm(limit_rad)?;
        Ok(found.into_iter().map(|it| it.unwrap_or(f64::NAN)).collect())
    })?;
    let none = found.cast::<PyFloat>().is_ok_and(|it| it.value().is_nan());
    Ok((!none).then_some(found))
}

/// The least pitch radius, in millimetres, that keeps the worst case of a
/// plunger within `limit_rad` (a number).
///
/// Other arguments as `plunger_worst_case_rad`.
///
/// Raises OutOfRangeError, NotFiniteError, InconsistentError, TypeError.
///
/// >>> round(dividing.accuracy.least_pitch_radius_mm(0.0005, clearance_mm=0.02), 6)
/// 20.0
#[pyfunction]
#[pyo3(signature = (limit_rad, *, hole_deviation_mm=None, station_deviation_mm=None,
                    clearance_mm=None, bore_clearance_mm=None, eccentricity_mm=None),
       text_signature = "(limit_rad, *, hole_deviation_mm=0.0, station_deviation_mm=0.0, \
           clearance_mm=0.0, bore_clearance_mm=0.0, eccentricity_mm=0.0)")]
pub(crate) fn least_pitch_radius_mm<'py>(
    limit_rad: &Bound<'py, PyAny>,
    hole_deviation_mm: Column<'_, 'py>,
    station_deviation_mm: Column<'_, 'py>,
    clearance_mm: Column<'_, 'py>,
    bore_clearance_mm: Column<'_, 'py>,
    eccentricity_mm: Column<'_, 'py>,
) -> Answer<'py> {
    let py = limit_rad.py();
    let limit_rad = crate::argument::float_of(limit_rad, "limit_rad")?;
    let given = plunger(
        ("pitch_radius_mm", None),
        hole_deviation_mm,
        station_deviation_mm,
        clearance_mm,
        bore_clearance_mm,
        eccentricity_mm,
    );
    array::all(py, given, &|it| {
        let sweep = PlungerSweep {
            pitch_radius_mm: &[1.0],
            ..plunger_sweep(it)
        };
        sweep.least_pitch_radius_mm(limit_rad)
    })
}

fn bar<'a, 'py>(
    baseline: Column<'a, 'py>,
    hole: Column<'a, 'py>,
    pins: Column<'a, 'py>,
    holes: Column<'a, 'py>,
    straightness: Column<'a, 'py>,
    levelling: Column<'a, 'py>,
) -> [Given<'a, 'py>; 6] {
    [
        ("baseline_mm", baseline),
        ("hole_deviation_mm", hole),
        ("pin_difference_mm", pins),
        ("hole_difference_mm", holes),
        ("straightness_mm", straightness),
        ("levelling_mm", levelling),
    ]
}

const fn bar_sweep(columns: [&[f64]; 6]) -> BarSweep<'_> {
    let [baseline, hole, pins, holes, straightness, levelling] = columns;
    BarSweep {
        baseline_mm: baseline,
        hole_deviation_mm: hole,
        pin_difference_mm: pins,
        hole_difference_mm: holes,
        straightness_mm: straightness,
        levelling_mm: levelling,
    }
}

/// The worst angle, in radians, of a bar on two pins fixed in their holes:
/// (2 hole + pin difference/2 + straightness + levelling)/baseline.
///
/// Each argument is a number or an array of numbers, in millimetres, and they
/// broadcast as NumPy's: `hole_deviation_mm` is the largest deviation of one
/// hole, the differences are those of the two diameters, straightness and
/// levelling count over the baseline.
///
/// Raises OutOfRangeError, NotFiniteError, InconsistentError, TypeError.
/// Source: geometry, limits added.
///
/// >>> round(dividing.accuracy.bar_on_fixed_pins_rad(100, pin_difference_mm=0.01), 9)
/// 5e-05
#[pyfunction]
#[pyo3(signature = (baseline_mm, *, hole_deviation_mm=None, pin_difference_mm=None,
                    straightness_mm=None, levelling_mm=None),
       text_signature = "(baseline_mm, *, hole_deviation_mm=0.0, pin_difference_mm=0.0, \
           straightness_mm=0.0, levelling_mm=0.0)")]
pub(crate) fn bar_on_fixed_pins_rad<'py>(
    baseline_mm: &Bound<'py, PyAny>,
    hole_deviation_mm: Column<'_, 'py>,
    pin_difference_mm: Column<'_, 'py>,
    straightness_mm: Column<'_, 'py>,
    levelling_mm: Column<'_, 'py>,
) -> Answer<'py> {
    let py = baseline_mm.py();
    let given = bar(
        Some(baseline_mm),
        hole_deviation_mm,
        pin_difference_mm,
        None,
        straightness_mm,
        levelling_mm,
    );
    array::all(py, given, &|it| bar_sweep(it).fixed_worst_case_rad())
}

/// The worst angle, in radians, of a level bar on two loose pins that lie at
/// the bottom of their holes:
/// (2 hole + pin difference + hole difference/2 + straightness + levelling)/baseline.
///
/// Arguments as `bar_on_fixed_pins_rad`.
///
/// Raises OutOfRangeError, NotFiniteError, InconsistentError, TypeError.
///
/// >>> round(dividing.accuracy.bar_on_loose_pins_rad(100, pin_difference_mm=0.01), 9)
/// 0.0001
#[pyfunction]
#[pyo3(signature = (baseline_mm, *, hole_deviation_mm=None, pin_difference_mm=None,
                    hole_difference_mm=None, straightness_mm=None, levelling_mm=None),
       text_signature = "(baseline_mm, *, hole_deviation_mm=0.0, pin_difference_mm=0.0, \
           hole_difference_mm=0.0, straightness_mm=0.0, levelling_mm=0.0)")]
pub(crate) fn bar_on_loose_pins_rad<'py>(
    baseline_mm: &Bound<'py, PyAny>,
    hole_deviation_mm: Column<'_, 'py>,
    pin_difference_mm: Column<'_, 'py>,
    hole_difference_mm: Column<'_, 'py>,
    straightness_mm: Column<'_, 'py>,
    levelling_mm: Column<'_, 'py>,
) -> Answer<'py> {
    let py = baseline_mm.py();
    let given = bar(
        Some(baseline_mm),
        hole_deviation_mm,
        pin_difference_mm,
        hole_difference_mm,
        straightness_mm,
        levelling_mm,
    );
    array::all(py, given, &|it| bar_sweep(it).loose_worst_case_rad())
}

/// The least baseline, in millimetres, that keeps the worst case of a level bar
/// on loose pins within `limit_rad` (a number).
///
/// Other arguments as `bar_on_loose_pins_rad`.
///
/// Raises OutOfRangeError, NotFiniteError, InconsistentError, TypeError.
///
/// >>> round(dividing.accuracy.least_baseline_mm(0.0001, pin_difference_mm=0.01), 6)
/// 100.0
#[pyfunction]
#[pyo3(signature = (limit_rad, *, hole_deviation_mm=None, pin_difference_mm=None,
                    hole_difference_mm=None, straightness_mm=None, levelling_mm=None),
       text_signature = "(limit_rad, *, hole_deviation_mm=0.0, pin_difference_mm=0.0, \
           hole_difference_mm=0.0, straightness_mm=0.0, levelling_mm=0.0)")]
pub(crate) fn least_baseline_mm<'py>(
    limit_rad: &Bound<'py, PyAny>,
    hole_deviation_mm: Column<'_, 'py>,
    pin_difference_mm: Column<'_, 'py>,
    hole_difference_mm: Column<'_, 'py>,
    straightness_mm: Column<'_, 'py>,
    levelling_mm: Column<'_, 'py>,
) -> Answer<'py> {
    let py = limit_rad.py();
    let limit_rad = crate::argument::float_of(limit_rad, "limit_rad")?;
    let given = bar(
        None,
        hole_deviation_mm,
        pin_difference_mm,
        hole_difference_mm,
        straightness_mm,
        levelling_mm,
    );
    array::all(py, given, &|it| {
        let sweep = BarSweep {
            baseline_mm: &[1.0],
            ..bar_sweep(it)
        };
        sweep.least_baseline_mm(limit_rad)
    })
}

/// How far a part turns either way from the middle, in radians, while its pin
/// stays in the hole; by the exact geometry where c/(2r) is off by over 0.5 %.
///
/// Each argument is a number or an array of numbers, in millimetres, and they
/// broadcast as NumPy's.
///
/// Raises InconsistentError when the pin does not enter, UndeterminedError when
/// it holds nothing, OutOfRangeError, NotFiniteError, TypeError. Source:
/// geometry, rp² + rh² − 2 rp rh cos δ ≤ (c/2)².
///
/// >>> round(dividing.accuracy.pin_play_rad(50, 50, 0.02), 9)
/// 0.0002
#[pyfunction]
pub(crate) fn pin_play_rad<'py>(
    pin_radius_mm: &Bound<'py, PyAny>,
    hole_radius_mm: &Bound<'py, PyAny>,
    clearance_mm: &Bound<'py, PyAny>,
) -> Answer<'py> {
    let py = pin_radius_mm.py();
    let given = [
        ("pin_radius_mm", Some(pin_radius_mm)),
        ("hole_radius_mm", Some(hole_radius_mm)),
        ("clearance_mm", Some(clearance_mm)),
    ];
    array::each(py, given, |[pin, hole, clearance]| {
        accuracy::pin_play(pin, hole, clearance).map(ModelledAngle::angle_rad)
    })
}

/// The error of angle, in radians, of a hole on a plate whose centre stands off
/// the axis; by the exact geometry where −(e/r) sin φ is off by over 0.5 %.
///
/// Each argument is a number or an array of numbers, and they broadcast as
/// NumPy's. `phase_rad` is the angle of the hole less the direction of the
/// eccentricity.
///
/// Raises UndeterminedError when the eccentricity is not below the radius,
/// OutOfRangeError, NotFiniteError, TypeError. Source: geometry,
/// atan2(−e sin φ, r + e cos φ).
///
/// >>> round(dividing.accuracy.eccentricity_error_rad(50, 0.01, -1.5707963267948966), 9)
/// 0.0002
#[pyfunction]
pub(crate) fn eccentricity_error_rad<'py>(
    hole_radius_mm: &Bound<'py, PyAny>,
    eccentricity_mm: &Bound<'py, PyAny>,
    phase_rad: &Bound<'py, PyAny>,
) -> Answer<'py> {
    let py = hole_radius_mm.py();
    let given = [
        ("hole_radius_mm", Some(hole_radius_mm)),
        ("eccentricity_mm", Some(eccentricity_mm)),
        ("phase_rad", Some(phase_rad)),
    ];
    array::each(py, given, |[radius, eccentricity, phase]| {
        accuracy::eccentricity_error(radius, eccentricity, phase).map(ModelledAngle::angle_rad)
    })
}

/// The largest change, in radians, of the angle between two holes of one circle
/// whose centre stands off the axis in a direction that nobody knows: the
/// difference of their two eccentricity errors. By the exact geometry where
/// 2(e/r)·sin(Δ/2) is off by over 0.5 %.
///
/// Each argument is a number or an array of numbers, and they broadcast as
/// NumPy's. `apart_rad` is the angle between the holes; whole turns and the sense
/// do not count. The answer is 0 or more.
///
/// Raises UndeterminedError when the eccentricity is not below the radius,
/// OutOfRangeError, NotFiniteError, InconsistentError, TypeError. Source:
/// geometry, 2·atan(sin(Δ/2)/(cos(Δ/2) − e/r)) − Δ.
///
/// >>> import math
/// >>> round(dividing.accuracy.eccentricity_between_rad(50, 0.01, math.pi), 9)
/// 0.0004
/// >>> sixth_and_half = [math.pi / 3, math.pi]
/// >>> dividing.accuracy.eccentricity_between_rad(50, 0.01, sixth_and_half).round(6).tolist()
/// [0.0002, 0.0004]
#[pyfunction]
pub(crate) fn eccentricity_between_rad<'py>(
    hole_radius_mm: &Bound<'py, PyAny>,
    eccentricity_mm: &Bound<'py, PyAny>,
    apart_rad: &Bound<'py, PyAny>,
) -> Answer<'py> {
    let py = hole_radius_mm.py();
    let given = [
        ("hole_radius_mm", Some(hole_radius_mm)),
        ("eccentricity_mm", Some(eccentricity_mm)),
        ("apart_rad", Some(apart_rad)),
    ];
    array::each(py, given, |[radius, eccentricity, apart]| {
        accuracy::eccentricity_between(radius, eccentricity, apart)
            .map(ModelledAngle::angle_rad)
            .map_err(|error| match error.kind() {
                ErrorKind::Undetermined => error.at("eccentricity_mm"),
                _ => error,
            })
    })
}

/// The largest difference of two eccentricity errors over N equal features, in
/// radians: 2e/r for N even, 2(e/r)·cos(π/2N) for N odd.
///
/// Lengths are numbers or arrays of numbers, in millimetres, and broadcast as
/// NumPy's; `features` is one int.
///
/// Raises OutOfRangeError, NotFiniteError, InconsistentError, TypeError. Source:
/// N points at equal angles on a sinusoid.
///
/// >>> round(dividing.accuracy.eccentricity_peak_to_peak_rad(0.025, 50, 12), 9)
/// 0.001
#[pyfunction]
pub(crate) fn eccentricity_peak_to_peak_rad<'py>(
    eccentricity_mm: &Bound<'py, PyAny>,
    radius_mm: &Bound<'py, PyAny>,
    features: &Bound<'py, PyAny>,
) -> Answer<'py> {
    let py = eccentricity_mm.py();
    let features = crate::argument::whole_within(features, "features", 0, i128::from(u32::MAX))?;
    let features = u32::try_from(features).unwrap_or(u32::MAX);
    let given = [
        ("eccentricity_mm", Some(eccentricity_mm)),
        ("radius_mm", Some(radius_mm)),
    ];
    array::each(py, given, |[eccentricity, radius]| {
        accuracy::eccentricity_peak_to_peak_rad(eccentricity, radius, features)
    })
}

/// The distance of two holes of a circle, in millimetres: 2 r sin(π span/holes).
///
/// `radius_mm` is a number or an array of numbers.
///
/// Raises TypeError, OutOfRangeError. Source: chord of a circle.
///
/// >>> round(dividing.accuracy.baseline_mm(58, 6, 3), 6)
/// 116.0
#[pyfunction]
pub(crate) fn baseline_mm<'py>(
    radius_mm: &Bound<'py, PyAny>,
    holes: &Bound<'py, PyAny>,
    span: &Bound<'py, PyAny>,
) -> Answer<'py> {
    let py = radius_mm.py();
    let count = |value, name, least| -> PyResult<u32> {
        let number = crate::argument::whole_within(value, name, least, i128::from(u32::MAX))?;
        Ok(u32::try_from(number).unwrap_or(u32::MAX))
    };
    let (holes, span) = (count(holes, "holes", 1)?, count(span, "span", 0)?);
    array::each(py, [("radius_mm", Some(radius_mm))], |[radius]| {
        dividing_core::Length::from_mm(radius).map_err(|error| error.at("radius_mm"))?;
        Ok(accuracy::baseline_mm(radius, holes, span))
    })
}

/// The diameter, in millimetres, of the smallest zone about the true position
/// that holds a feature turned by an angle and set out by a length.
///
/// Each argument is a number or an array of numbers, and they broadcast as
/// NumPy's.
///
/// Raises OutOfRangeError, NotFiniteError, TypeError. Source: ISO 1101, law of
/// cosines.
///
/// >>> round(dividing.accuracy.position_diameter_mm(50, 0.0002), 6)
/// 0.02
#[pyfunction]
#[pyo3(signature = (radius_mm, deviation_rad, radial_mm=None),
       text_signature = "(radius_mm, deviation_rad, radial_mm=0.0)")]
pub(crate) fn position_diameter_mm<'py>(
    radius_mm: &Bound<'py, PyAny>,
    deviation_rad: &Bound<'py, PyAny>,
    radial_mm: Column<'_, 'py>,
) -> Answer<'py> {
    let py = radius_mm.py();
    let given = [
        ("radius_mm", Some(radius_mm)),
        ("deviation_rad", Some(deviation_rad)),
        ("radial_mm", radial_mm),
    ];
    array::each(py, given, |[radius, deviation, radial]| {
        accuracy::position_diameter_mm(radius, deviation, radial)
    })
}

/// The probability that a normal value lies within limits.
///
/// Each argument is a number or an array of numbers in one unit, and they
/// broadcast as NumPy's; a limit may be infinite.
///
/// Raises OutOfRangeError, NotFiniteError, InconsistentError for limits in the
/// wrong order, TypeError. Source: JCGM 106:2012, 7.4.
///
/// >>> round(dividing.accuracy.conformance_probability(0, 1, -1.96, 1.96), 3)
/// 0.95
#[pyfunction]
pub(crate) fn conformance_probability<'py>(
    estimate: &Bound<'py, PyAny>,
    standard_uncertainty: &Bound<'py, PyAny>,
    lower: &Bound<'py, PyAny>,
    upper: &Bound<'py, PyAny>,
) -> Answer<'py> {
    let py = estimate.py();
    let given = [
        ("estimate", Some(estimate)),
        ("standard_uncertainty", Some(standard_uncertainty)),
        ("lower", Some(lower)),
        ("upper", Some(upper)),
    ];
    array::each(py, given, |[estimate, uncertainty, lower, upper]| {
        accuracy::conformance_probability(estimate, uncertainty, lower, upper)
    })
}

/// The width of the guard band, in standard uncertainties, that leaves a value
/// on the acceptance limit conforming with a probability.
///
/// `conformance` is a number or an array of numbers, 0.5 to below 1.
///
/// Raises OutOfRangeError, TypeError. Source: JCGM 106:2012, 8.3.2.
///
/// >>> round(dividing.accuracy.guard_band_factor(0.95), 3)
/// 1.645
#[pyfunction]
pub(crate) fn guard_band_factor<'py>(conformance: &Bound<'py, PyAny>) -> Answer<'py> {
    let py = conformance.py();
    array::each(py, [("conformance", Some(conformance))], |[it]| {
        accuracy::guard_band_factor(it)
    })
}

/// The coverage factor of a probability, by Student's distribution; without
/// degrees of freedom by the normal distribution.
///
/// `probability` is a number or an array of numbers, above 0 and below 1.
///
/// Raises OutOfRangeError, TypeError. Source: JCGM 100:2008, G.3.
///
/// >>> round(dividing.accuracy.student_factor(0.95, 10), 3)
/// 2.228
#[pyfunction]
#[pyo3(signature = (probability, degrees_of_freedom=None))]
pub(crate) fn student_factor<'py>(
    probability: &Bound<'py, PyAny>,
    degrees_of_freedom: Column<'_, 'py>,
) -> Answer<'py> {
    let py = probability.py();
    let given = [
        ("probability", Some(probability)),
        ("degrees_of_freedom", degrees_of_freedom),
    ];
    let known = degrees_of_freedom.is_some();
    array::each(py, given, |[probability, freedom]| {
        accuracy::student_factor(probability, known.then_some(freedom))
    })
}

/// The confidence interval of a probability after `successes` of `trials`.
///
/// Raises OutOfRangeError, TypeError. Source: Clopper and Pearson, Biometrika
/// 26 (1934).
///
/// >>> [round(end, 4) for end in dividing.accuracy.clopper_pearson(8, 10)]
/// [0.4439, 0.9748]
#[pyfunction]
#[pyo3(signature = (successes, trials, confidence=None),
       text_signature = "(successes, trials, confidence=0.95)")]
pub(crate) fn clopper_pearson(
    successes: &Bound<'_, PyAny>,
    trials: &Bound<'_, PyAny>,
    confidence: Option<&Bound<'_, PyAny>>,
) -> PyResult<(f64, f64)> {
    let count = |value, name| -> PyResult<u64> {
        let number = crate::argument::whole_within(value, name, 0, i128::from(u64::MAX))?;
        Ok(u64::try_from(number).unwrap_or(u64::MAX))
    };
    let (successes, trials) = (count(successes, "successes")?, count(trials, "trials")?);
    let confidence = match confidence {
        Some(value) => crate::argument::float_of(value, "confidence")?,
        None => 0.95,
    };
    core(|| accuracy::clopper_pearson(successes, trials, confidence))
}

/// The tilt of a bar on two pins, in radians, from the coordinates of the holes
/// and the diameters.
#[pyfunction]
pub(crate) fn _bar_tilt_rad<'py>(
    py: Python<'py>,
    columns: [Bound<'py, PyAny>; 8],
    loose: bool,
) -> Answer<'py> {
    const NAMES: [&str; 8] = [
        "first.x_mm",
        "first.y_mm",
        "first.hole_diameter_mm",
        "first.pin_diameter_mm",
        "second.x_mm",
        "second.y_mm",
        "second.hole_diameter_mm",
        "second.pin_diameter_mm",
    ];
    let seating = if loose {
        PinSeating::AtBottom
    } else {
        PinSeating::Fixed
    };
    let given = std::array::from_fn(|index| (NAMES[index], Some(&columns[index])));
    array::each(
        py,
        given,
        |[x1, y1, hole1, pin1, x2, y2, hole2, pin2]| -> Result<f64> {
            let support = |x, y, hole, pin| BarSupport {
                hole_mm: (x, y),
                hole_diameter_mm: hole,
                pin_diameter_mm: pin,
            };
            accuracy::bar_tilt(
                support(x1, y1, hole1, pin1),
                support(x2, y2, hole2, pin2),
                seating,
            )
            .map(ModelledAngle::angle_rad)
        },
    )
}
