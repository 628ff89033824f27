//! The native part of `dividing.accuracy`: documents in, documents out. The
//! classes are Python's, in `python/dividing/accuracy.py`.

use dividing_core::accuracy::{
    self, AngularClass, Budget, Contributor, Coverage, Criterion, DecisionRule, Entry, ErrorModel,
    LocatedFrom, MaximumMaterial, PitchGrades, PositionTolerance, UncertaintyModel,
};
use dividing_core::document::{read, write};
use dividing_core::equipment::PinPlate;
use dividing_core::{Length, Result};
use pyo3::prelude::*;
use serde_json::{Value, json};

use crate::argument::{float_of, length_of};
use crate::errors::core;
use crate::watch::{Limits, watched};

/// Reads a document that is one argument of a call.
fn argument<T: serde::de::DeserializeOwned>(text: &str, name: &str) -> Result<T> {
    read(text).map_err(|error| error.at(name))
}

/// Limit, mean, standard uncertainty of the input, and standard uncertainty of the
/// angle, of a checked contributor.
#[pyfunction]
pub(crate) fn _contributor_figures(text: &str) -> PyResult<(f64, f64, f64, f64)> {
    core(|| {
        let contributor: Contributor = read(text)?;
        contributor.check()?;
        Ok((
            contributor.limit_rad(),
            contributor.mean_rad(),
            contributor.standard_uncertainty_of_input(),
            contributor.standard_uncertainty_rad(),
        ))
    })
}

#[pyfunction]
pub(crate) fn _total_rad(contributors: &str, criterion: &str) -> PyResult<f64> {
    core(|| {
        let contributors: Vec<Contributor> = argument(contributors, "contributors")?;
        argument::<Criterion>(criterion, "criterion")?.total_rad(&contributors)
    })
}

#[pyfunction]
pub(crate) fn _loosest_limit(
    contributors: &str,
    name: &str,
    criterion: &str,
    limit_rad: &Bound<'_, PyAny>,
) -> PyResult<String> {
    let limit_rad = float_of(limit_rad, "limit_rad")?;
    core(|| {
        let contributors: Vec<Contributor> = argument(contributors, "contributors")?;
        let criterion = argument(criterion, "criterion")?;
        write(&accuracy::loosest_limit(
            &contributors,
            name,
            criterion,
            limit_rad,
        )?)
    })
}

#[pyfunction]
pub(crate) fn _trade_offs(
    contributors: &str,
    criterion: &str,
    limit_rad: &Bound<'_, PyAny>,
) -> PyResult<String> {
    let limit_rad = float_of(limit_rad, "limit_rad")?;
    core(|| {
        let contributors: Vec<Contributor> = argument(contributors, "contributors")?;
        let criterion = argument(criterion, "criterion")?;
        write(&accuracy::trade_offs(&contributors, criterion, limit_rad)?)
    })
}

#[pyfunction]
pub(crate) fn _least_radius_mm(
    contributors: &str,
    present_mm: &Bound<'_, PyAny>,
    criterion: &str,
    limit_rad: &Bound<'_, PyAny>,
) -> PyResult<Option<f64>> {
    let present_mm = float_of(present_mm, "present_mm")?;
    let limit_rad = float_of(limit_rad, "limit_rad")?;
    core(|| {
        let contributors: Vec<Contributor> = argument(contributors, "contributors")?;
        let criterion = argument(criterion, "criterion")?;
        accuracy::least_radius_mm(&contributors, present_mm, criterion, limit_rad)
    })
}

#[pyfunction]
pub(crate) fn _budget(model: &str) -> PyResult<String> {
    core(|| write(&read::<UncertaintyModel>(model)?.budget()?))
}

#[pyfunction]
pub(crate) fn _budget_of_contributors(
    quantity: &str,
    estimate_rad: &Bound<'_, PyAny>,
    contributors: &str,
    coverage: &str,
) -> PyResult<String> {
    let estimate_rad = float_of(estimate_rad, "estimate_rad")?;
    core(|| {
        let contributors: Vec<Contributor> = argument(contributors, "contributors")?;
        let coverage = argument(coverage, "coverage")?;
        write(&Budget::of_contributors(
            quantity,
            estimate_rad,
            &contributors,
            coverage,
        )?)
    })
}

#[pyfunction]
pub(crate) fn _correlation(one: &str, other: &str) -> PyResult<f64> {
    core(|| {
        let one: UncertaintyModel = argument(one, "self")?;
        one.correlation_with(&argument(other, "other")?)
    })
}

/// A budget as text, and as HTML.
#[pyfunction]
pub(crate) fn _budget_page(budget: &str) -> PyResult<(String, String)> {
    core(|| {
        let budget: Budget = read(budget)?;
        Ok((budget.to_text(), budget.to_html()))
    })
}

#[pyfunction]
pub(crate) fn _carried(source: &str, ratio: &Bound<'_, PyAny>) -> PyResult<String> {
    let ratio = float_of(ratio, "ratio")?;
    core(|| {
        let source: Vec<Contributor> = argument(source, "source")?;
        write(&accuracy::carried(&source, ratio)?)
    })
}

#[pyfunction]
pub(crate) fn _drilled_by_coordinates(
    table_accuracy_mm: &Bound<'_, PyAny>,
    radius_mm: &Bound<'_, PyAny>,
    angle_rad: &Bound<'_, PyAny>,
) -> PyResult<String> {
    let table_accuracy_mm = float_of(table_accuracy_mm, "table_accuracy_mm")?;
    let radius_mm = float_of(radius_mm, "radius_mm")?;
    let angle_rad = float_of(angle_rad, "angle_rad")?;
    core(|| {
        write(&accuracy::drilled_by_coordinates(
            table_accuracy_mm,
            radius_mm,
            angle_rad,
        )?)
    })
}

#[pyfunction]
pub(crate) fn _position_zone_mm(contributors: &str, radius_mm: &Bound<'_, PyAny>) -> PyResult<f64> {
    let radius_mm = float_of(radius_mm, "radius_mm")?;
    core(|| {
        let contributors: Vec<Contributor> = argument(contributors, "contributors")?;
        accuracy::position_zone_mm(&contributors, radius_mm)
    })
}

#[pyfunction]
pub(crate) fn _feature_shift(
    eccentricity_mm: &Bound<'_, PyAny>,
    radius_mm: Option<&Bound<'_, PyAny>>,
    from_the_part: bool,
) -> PyResult<(f64, f64)> {
    let eccentricity_mm = float_of(eccentricity_mm, "eccentricity_mm")?;
    let radius_mm = radius_mm.map(|it| float_of(it, "radius_mm")).transpose()?;
    let located = if from_the_part {
        LocatedFrom::PartsOwnRound
    } else {
        LocatedFrom::SpindleOrPlate
    };
    let shift = core(|| accuracy::feature_shift(eccentricity_mm, radius_mm, located))?;
    Ok((shift.shift_mm, shift.angle_rad))
}

#[pyfunction]
pub(crate) fn _entry(lengths: [f64; 6]) -> PyResult<(f64, f64, bool, f64)> {
    let [difference, pin, hole, eccentricity, least, greatest] = lengths;
    let entry = Entry {
        radius_difference_mm: difference,
        pin_radius_tolerance_mm: pin,
        hole_radius_tolerance_mm: hole,
        eccentricity_mm: eccentricity,
        least_clearance_mm: least,
        greatest_clearance_mm: greatest,
    };
    let found = core(|| entry.check())?;
    Ok((
        found.worst_distance_mm,
        found.worst_margin_mm,
        found.always_enters,
        found.probability,
    ))
}

/// The limit of an angular class in radians, with its symbol.
#[pyfunction]
pub(crate) fn _angular_limit_rad(text: &str, shorter_side: &Bound<'_, PyAny>) -> PyResult<f64> {
    let side = length_of(shorter_side, "shorter_side")?;
    core(|| argument::<AngularClass>(text, "angular_class")?.limit_rad(side))
}

/// The finest angular class that a deviation meets, as in documents.
#[pyfunction]
pub(crate) fn _angular_class_met_by(
    deviation_rad: &Bound<'_, PyAny>,
    shorter_side: &Bound<'_, PyAny>,
) -> PyResult<String> {
    let deviation_rad = float_of(deviation_rad, "deviation_rad")?;
    let side = length_of(shorter_side, "shorter_side")?;
    core(|| write(&AngularClass::met_by(deviation_rad, side)?))
}

/// Single and cumulative pitch tolerance of a grade, in micrometres.
#[pyfunction]
pub(crate) fn _pitch_tolerances_um(grades: &str, grade: &Bound<'_, PyAny>) -> PyResult<(f64, f64)> {
    let grade = crate::argument::whole_within(grade, "grade", 0, 255)?;
    let grade = u8::try_from(grade).unwrap_or(u8::MAX);
    core(|| {
        let grades: PitchGrades = read(grades)?;
        Ok((
            grades.single_pitch_um(grade)?,
            grades.cumulative_pitch_um(grade)?,
        ))
    })
}

#[pyfunction]
pub(crate) fn _pitch_grade_met_by(
    grades: &str,
    single_rad: &Bound<'_, PyAny>,
    cumulative_rad: &Bound<'_, PyAny>,
) -> PyResult<Option<u8>> {
    let single_rad = float_of(single_rad, "single_rad")?;
    let cumulative_rad = float_of(cumulative_rad, "cumulative_rad")?;
    core(|| read::<PitchGrades>(grades)?.grade_met_by(single_rad, cumulative_rad))
}

#[pyfunction]
pub(crate) fn _permitted_diameter_mm(
    zone_mm: f64,
    sizes_mm: Option<(f64, f64, f64)>,
) -> PyResult<f64> {
    core(|| {
        let mm = Length::from_mm;
        let at_maximum_material = match sizes_mm {
            None => None,
            Some((maximum, least, actual)) => Some(MaximumMaterial {
                maximum_material_size: mm(maximum)?,
                least_material_size: mm(least)?,
                actual_size: mm(actual)?,
            }),
        };
        PositionTolerance {
            zone_diameter: mm(zone_mm)?,
            at_maximum_material,
        }
        .permitted_diameter_mm()
    })
}

/// What a rule says of a predicted value with an expanded uncertainty.
#[pyfunction]
pub(crate) fn _decide(
    rule: &str,
    value: &Bound<'_, PyAny>,
    lower: &Bound<'_, PyAny>,
    upper: &Bound<'_, PyAny>,
    expanded_uncertainty: &Bound<'_, PyAny>,
) -> PyResult<String> {
    let value = float_of(value, "value")?;
    let (lower, upper) = (float_of(lower, "lower")?, float_of(upper, "upper")?);
    let uncertainty = float_of(expanded_uncertainty, "expanded_uncertainty")?;
    core(|| {
        let rule: DecisionRule = argument(rule, "rule")?;
        write(&rule.decide(value, lower, upper, uncertainty)?)
    })
}

/// d2 and d3 for so many places.
#[pyfunction]
pub(crate) fn _range_constants(places: &Bound<'_, PyAny>) -> PyResult<(f64, f64)> {
    let places = crate::argument::whole_within(places, "places", 0, i128::from(u32::MAX))?;
    let places = u32::try_from(places).unwrap_or(u32::MAX);
    let found = core(|| accuracy::range_constants(places))?;
    Ok((found.mean, found.standard_deviation))
}

/// Circle, holes, span, baseline and total of a pair of pins.
type PinPairParts = (usize, u32, u32, f64, f64);

/// The pairs of pins of a plate, the best first.
#[pyfunction]
pub(crate) fn _best_pin_pairs(plate: &str, criterion: &str) -> PyResult<Vec<PinPairParts>> {
    core(|| {
        let plate: PinPlate = argument(plate, "pin_plate")?;
        let pairs = accuracy::best_pin_pairs(&plate, argument(criterion, "criterion")?)?;
        let line =
            |it: accuracy::PinPair| (it.circle, it.holes, it.span, it.baseline_mm, it.total_rad);
        Ok(pairs.into_iter().map(line).collect())
    })
}

/// The error model of a plan; `dividing.accuracy.ErrorModel` holds one.
#[pyclass(module = "dividing", name = "_ErrorModel", frozen)]
pub(crate) struct PyErrorModel {
    inner: ErrorModel,
}

impl PyErrorModel {
    pub(crate) fn of_plan(
        py: Python<'_>,
        plans: std::sync::Arc<crate::plan::Source>,
        index: usize,
    ) -> PyResult<Self> {
        let inner = watched(py, &Limits::unlimited(None), move |meter| {
            plans.plans.error_model(index, meter)
        })?;
        Ok(Self { inner })
    }
}

#[pymethods]
impl PyErrorModel {
    /// Everything but the calls: features, order, unknown, limits.
    fn document(&self) -> PyResult<String> {
        core(|| {
            let feature = |it: &accuracy::ModelFeature| {
                json!({
                    "required": it.required,
                    "residual_rad": it.residual_rad,
                    "contributors": it.contributors,
                    "inputs": it.inputs,
                })
            };
            let features: Vec<Value> = self.inner.features().iter().map(feature).collect();
            write(&json!({
                "features": features,
                "order": self.inner.order_round_the_part(),
                "unknown": self.inner.unknown(),
                "limits": self.inner.limits(),
            }))
        })
    }

    fn budget(&self, feature: &Bound<'_, PyAny>, coverage: &str) -> PyResult<String> {
        let feature = number(feature)?;
        core(|| {
            let coverage: Coverage = argument(coverage, "coverage")?;
            write(&self.inner.budget(feature, coverage)?)
        })
    }

    fn simulation(&self) -> PyResult<String> {
        core(|| write(&self.inner.simulation()))
    }

    fn conformance(
        &self,
        feature: &Bound<'_, PyAny>,
        rule: &str,
        coverage: &str,
    ) -> PyResult<String> {
        let feature = number(feature)?;
        core(|| {
            let rule: DecisionRule = argument(rule, "rule")?;
            let coverage: Coverage = argument(coverage, "coverage")?;
            let found = self.inner.conformance(feature, rule, coverage)?;
            write(&json!({
                "decision": found.decision,
                "limit_rad": found.limit_rad,
                "expanded_uncertainty_rad": found.expanded_uncertainty_rad,
                "probability": found.probability,
            }))
        })
    }

    fn trade_offs(&self, criterion: &str) -> PyResult<String> {
        core(|| write(&self.inner.trade_offs(argument(criterion, "criterion")?)?))
    }
}

/// The number of a feature.
fn number(value: &Bound<'_, PyAny>) -> PyResult<usize> {
    let number = crate::argument::whole_within(value, "feature", 0, 1 << 40)?;
    Ok(usize::try_from(number).unwrap_or(usize::MAX))
}
