//! Figures of the standards that a dividing job is judged by: angular classes,
//! pitch grades, position, decision rules and range constants.

use serde::{Deserialize, Serialize};

use super::probability::{
    check_finite, check_not_negative, check_probability, normal_between, normal_density,
    normal_probability, normal_quantile,
};
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

/// A general-tolerance class of ISO 2768-1 for angles.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum AngularClass {
    /// Classes f (fine) and m (medium), which are alike for angles: `f/m`.
    FineOrMedium,
    /// Class c (coarse).
    Coarse,
    /// Class v (very coarse).
    VeryCoarse,
}

impl AngularClass {
    /// The classes from the tightest to the widest.
    pub const ALL: [Self; 3] = [Self::FineOrMedium, Self::Coarse, Self::VeryCoarse];

    /// The class as drawings print it.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::FineOrMedium => "f/m",
            Self::Coarse => "c",
            Self::VeryCoarse => "v",
        }
    }

    /// Permitted deviation either way, in minutes of arc, for the shorter side
    /// of the angle (ISO 2768-1:1989, Table 3). A side on the end of a range
    /// belongs to the shorter range.
    ///
    /// ```
    /// use dividing_core::Length;
    /// use dividing_core::accuracy::AngularClass;
    /// let side = Length::from_mm(200.0)?;
    /// assert_eq!(AngularClass::Coarse.limit_minutes(side)?, 15.0);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a side that is not greater than zero.
    pub fn limit_minutes(self, shorter_side: Length) -> Result<f64> {
        shorter_side.check_positive()?;
        let minutes = match self {
            Self::FineOrMedium => [60.0, 30.0, 20.0, 10.0, 5.0],
            Self::Coarse => [90.0, 60.0, 30.0, 15.0, 10.0],
            Self::VeryCoarse => [180.0, 120.0, 60.0, 30.0, 20.0],
        };
        let [to_10, to_50, to_120, to_400, beyond] = minutes;
        Ok(match shorter_side.mm() {
            side if side <= 10.0 => to_10,
            side if side <= 50.0 => to_50,
            side if side <= 120.0 => to_120,
            side if side <= 400.0 => to_400,
            _ => beyond,
        })
    }

    /// Permitted deviation either way, in radians.
    ///
    /// # Errors
    /// As [`AngularClass::limit_minutes`].
    pub fn limit_rad(self, shorter_side: Length) -> Result<f64> {
        Ok((self.limit_minutes(shorter_side)? / 60.0).to_radians())
    }

    /// The tightest class that a deviation meets, or none.
    ///
    /// # Errors
    /// As [`AngularClass::limit_minutes`]; [`ErrorKind::NotFinite`] for a
    /// deviation that is not finite.
    pub fn met_by(deviation_rad: f64, shorter_side: Length) -> Result<Option<Self>> {
        check_finite(deviation_rad, "deviation")?;
        for class in Self::ALL {
            if deviation_rad.abs() <= class.limit_rad(shorter_side)? {
                return Ok(Some(class));
            }
        }
        Ok(None)
    }
}

/// How a tolerance computed by ISO 1328-1 is rounded.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum PitchRounding {
    /// As the standard says: above 10 µm to whole micrometres, from 5 to 10 µm
    /// to 0.5 µm, below 5 µm to 0.1 µm.
    #[default]
    Standard,
    /// The formula's value.
    Unrounded,
}

/// Pitch tolerances of ISO 1328-1:2013 for a reference diameter and a module.
///
/// Only the pitch of the standard is used here: a plate is no gear.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PitchGrades {
    /// Reference diameter, 5 to 15,000 mm.
    pub reference_diameter: Length,
    /// Normal module, 0.5 to 70 mm.
    pub module: Length,
    /// How values are rounded.
    #[serde(default)]
    pub rounding: PitchRounding,
}

impl PitchGrades {
    fn check(self) -> Result<()> {
        let (diameter, module) = (self.reference_diameter, self.module);
        if !(5.0..=15_000.0).contains(&diameter.mm()) {
            return Err(
                Error::out_of_range(diameter, "5 to 15000 mm (ISO 1328-1:2013)")
                    .at("reference_diameter"),
            );
        }
        if !(0.5..=70.0).contains(&module.mm()) {
            return Err(Error::out_of_range(module, "0.5 to 70 mm (ISO 1328-1:2013)").at("module"));
        }
        Ok(())
    }

    fn graded(self, grade_5_um: f64, grade: u8) -> Result<f64> {
        self.check()?;
        if !(1..=11).contains(&grade) {
            return Err(Error::out_of_range(format!("grade {grade}"), "1 to 11").at("grade"));
        }
        let value = grade_5_um * 2.0_f64.powf((f64::from(grade) - 5.0) / 2.0);
        Ok(match self.rounding {
            PitchRounding::Unrounded => value,
            PitchRounding::Standard if value > 10.0 => value.round(),
            PitchRounding::Standard if value >= 5.0 => (value * 2.0).round() / 2.0,
            PitchRounding::Standard => (value * 10.0).round() / 10.0,
        })
    }

    /// Single pitch tolerance in micrometres along the reference circle:
    /// `(0.001 d + 0.4 m + 5) (√2)^(A − 5)` (ISO 1328-1:2013, formula from memory).
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a diameter, module or grade outside the
    /// standard.
    pub fn single_pitch_um(self, grade: u8) -> Result<f64> {
        let (d, m) = (self.reference_diameter.mm(), self.module.mm());
        self.graded(0.001 * d + 0.4 * m + 5.0, grade)
    }

    /// Cumulative (total) pitch tolerance in micrometres along the reference
    /// circle: `(0.002 d + 0.55 √d + 0.7 m + 12) (√2)^(A − 5)` (ISO
    /// 1328-1:2013, formula from memory).
    ///
    /// # Errors
    /// As [`PitchGrades::single_pitch_um`].
    pub fn cumulative_pitch_um(self, grade: u8) -> Result<f64> {
        let (d, m) = (self.reference_diameter.mm(), self.module.mm());
        self.graded(0.002 * d + 0.55 * d.max(0.0).sqrt() + 0.7 * m + 12.0, grade)
    }

    /// The finest grade whose single and cumulative pitch tolerances both hold,
    /// or none to grade 11. The deviations are in radians.
    ///
    /// ```
    /// use dividing_core::Length;
    /// use dividing_core::accuracy::{PitchGrades, PitchRounding};
    /// let grades = PitchGrades {
    ///     reference_diameter: Length::from_mm(100.0)?,
    ///     module: Length::from_mm(2.0)?,
    ///     rounding: PitchRounding::Standard,
    /// };
    /// // Grade 5 at d = 100 mm and m = 2 mm: 6 µm single, 19 µm cumulative.
    /// assert_eq!(grades.grade_met_by(5.9e-3 / 50.0, 18.9e-3 / 50.0)?, Some(5));
    /// assert_eq!(grades.grade_met_by(5.9e-3 / 50.0, 20.0e-3 / 50.0)?, Some(6));
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`PitchGrades::single_pitch_um`]; [`ErrorKind::NotFinite`] for a
    /// deviation that is not finite.
    pub fn grade_met_by(self, single_rad: f64, cumulative_rad: f64) -> Result<Option<u8>> {
        check_finite(single_rad, "single pitch deviation")?;
        check_finite(cumulative_rad, "cumulative pitch deviation")?;
        let um_per_rad = self.reference_diameter.mm() / 2.0 * 1000.0;
        for grade in 1..=11 {
            if single_rad.abs() * um_per_rad <= self.single_pitch_um(grade)?
                && cumulative_rad.abs() * um_per_rad <= self.cumulative_pitch_um(grade)?
            {
                return Ok(Some(grade));
            }
        }
        Ok(None)
    }
}

/// A position tolerance of ISO 1101 (ASME Y14.5): the diameter of the zone in
/// which a feature's axis must lie, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PositionTolerance {
    /// Diameter of the zone.
    pub zone_diameter: Length,
    /// Size of the feature where the tolerance holds at maximum material.
    #[serde(default)]
    pub at_maximum_material: Option<MaximumMaterial>,
}

/// The sizes that give a bonus at maximum material condition.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MaximumMaterial {
    /// Size at maximum material: the smallest hole, the largest pin.
    pub maximum_material_size: Length,
    /// Size at least material: the largest hole, the smallest pin.
    pub least_material_size: Length,
    /// Actual mating size of the feature.
    pub actual_size: Length,
}

impl PositionTolerance {
    /// The zone with its bonus, in millimetres.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a negative zone or an actual size outside
    /// its limits.
    pub fn permitted_diameter_mm(self) -> Result<f64> {
        self.zone_diameter
            .check_not_negative()
            .map_err(|error| error.at("zone_diameter"))?;
        let Some(material) = self.at_maximum_material else {
            return Ok(self.zone_diameter.mm());
        };
        let most = material.maximum_material_size.mm();
        let least = material.least_material_size.mm();
        let actual = material.actual_size.mm();
        if actual < most.min(least) || actual > most.max(least) {
            return Err(Error::out_of_range(
                material.actual_size,
                format!("{} to {} mm", most.min(least), most.max(least)),
            )
            .at("actual_size")
            .at("at_maximum_material"));
        }
        Ok(self.zone_diameter.mm() + (actual - most).abs())
    }
}

/// Diameter of the smallest zone about the true position that holds a feature
/// turned by an angle at a radius and set out by `radial_mm`: twice the
/// distance, in millimetres, by the law of cosines.
///
/// ```
/// use dividing_core::accuracy::position_diameter_mm;
/// let diameter = position_diameter_mm(50.0, 0.0002, 0.0)?;
/// assert!((diameter - 0.02).abs() < 1e-9);
/// # Ok::<(), dividing_core::Error>(())
/// ```
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for a negative radius, [`ErrorKind::NotFinite`]
/// for values that are not finite.
pub fn position_diameter_mm(radius_mm: f64, deviation_rad: f64, radial_mm: f64) -> Result<f64> {
    check_not_negative(radius_mm, "radius_mm")?;
    check_finite(deviation_rad, "deviation_rad")?;
    check_finite(radial_mm, "radial_mm")?;
    let half_chord = (deviation_rad / 2.0).sin();
    let square =
        radial_mm * radial_mm + 4.0 * radius_mm * (radius_mm + radial_mm) * half_chord * half_chord;
    let diameter = 2.0 * square.max(0.0).sqrt();
    check_finite(diameter, "position diameter")?;
    Ok(diameter)
}

/// How a measured or predicted value is judged against its limits (JCGM
/// 106:2012, clauses 8.2 and 8.3).
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum DecisionRule {
    /// The value itself must lie within the limits (8.2.1).
    SimpleAcceptance,
    /// The value must lie within the limits less a guard band of a multiple of
    /// the expanded uncertainty, and fails beyond the limits plus that band
    /// (8.3); between the two nothing is proven. Multiple 1 is the rule of
    /// ISO 14253-1.
    GuardBand {
        /// Width of the band over the expanded uncertainty, 0 or more.
        multiple: f64,
    },
}

/// What a decision rule says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Decision {
    /// Inside the acceptance limits.
    Pass,
    /// Beyond the rejection limits.
    Fail,
    /// Between the two.
    NotProven,
}

impl DecisionRule {
    pub(crate) fn check(self) -> Result<()> {
        match self {
            Self::SimpleAcceptance => Ok(()),
            Self::GuardBand { multiple } => {
                check_not_negative(multiple, "multiple").at("guard_band.multiple")
            }
        }
    }

    /// Judges a value against a lower and an upper limit.
    ///
    /// ```
    /// use dividing_core::accuracy::{Decision, DecisionRule};
    /// let rule = DecisionRule::GuardBand { multiple: 1.0 };
    /// assert_eq!(rule.decide(0.7, -1.0, 1.0, 0.2)?, Decision::Pass);
    /// assert_eq!(rule.decide(0.9, -1.0, 1.0, 0.2)?, Decision::NotProven);
    /// assert_eq!(rule.decide(1.3, -1.0, 1.0, 0.2)?, Decision::Fail);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] for a lower limit above the upper one,
    /// [`ErrorKind::OutOfRange`] for a negative uncertainty or multiple,
    /// [`ErrorKind::NotFinite`] for values that are not finite.
    pub fn decide(
        self,
        value: f64,
        lower: f64,
        upper: f64,
        expanded_uncertainty: f64,
    ) -> Result<Decision> {
        check_finite(value, "value")?;
        check_limits(lower, upper)?;
        check_not_negative(expanded_uncertainty, "expanded uncertainty")?;
        self.check()?;
        let band = match self {
            Self::SimpleAcceptance => 0.0,
            Self::GuardBand { multiple } => multiple * expanded_uncertainty,
        };
        Ok(if value >= lower + band && value <= upper - band {
            Decision::Pass
        } else if value < lower - band || value > upper + band {
            Decision::Fail
        } else {
            Decision::NotProven
        })
    }
}

fn check_limits(lower: f64, upper: f64) -> Result<()> {
    check_finite(lower, "lower limit")?;
    check_finite(upper, "upper limit")?;
    if lower > upper {
        return Err(Error::new(
            ErrorKind::Inconsistent,
            format!("the lower limit {lower} is above the upper limit {upper}"),
        ));
    }
    Ok(())
}

/// Probability that a quantity conforms: normal about the estimate, between
/// the limits (JCGM 106:2012, 7.4).
///
/// # Errors
/// As [`DecisionRule::decide`].
pub fn conformance_probability(
    estimate: f64,
    standard_uncertainty: f64,
    lower: f64,
    upper: f64,
) -> Result<f64> {
    check_finite(estimate, "estimate")?;
    check_not_negative(standard_uncertainty, "standard uncertainty")?;
    check_limits(lower, upper)?;
    Ok(normal_between(
        lower - estimate,
        upper - estimate,
        standard_uncertainty,
    ))
}

/// Width of the guard band at one limit, in standard uncertainties, that
/// leaves a value on the acceptance limit conforming with the given
/// probability (JCGM 106:2012, 8.3.2 and 7.5: 1.64 for 95 %).
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for a probability not from 0.5 to below 1.
pub fn guard_band_factor(conformance: f64) -> Result<f64> {
    check_probability(conformance)?;
    if conformance < 0.5 {
        return Err(Error::out_of_range(
            format!("probability {conformance}"),
            "0.5 to below 1",
        ));
    }
    Ok(normal_quantile(conformance).max(0.0))
}

/// Mean and standard deviation of the range of N independent normal values, in
/// their standard deviations: the control-chart constants d2 and d3.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RangeConstants {
    /// Mean range: d2.
    pub mean: f64,
    /// Standard deviation of the range: d3.
    pub standard_deviation: f64,
}

/// The range constants d2(N) and d3(N): with independent normal errors of
/// standard deviation σ at N places, the cumulative pitch deviation has mean
/// d2·σ and standard deviation d3·σ.
///
/// From the distribution of the range, `P(W ≤ w) = N ∫ φ(x) (Φ(x+w) − Φ(x))^(N−1) dx`
/// (Tippett, Biometrika 17, 1925), by the trapezoidal rule; absolute error
/// below 1e-6.
///
/// ```
/// use dividing_core::accuracy::range_constants;
/// let five = range_constants(5)?;
/// assert!((five.mean - 2.326).abs() < 5e-4);
/// assert!((five.standard_deviation - 0.864).abs() < 5e-4);
/// # Ok::<(), dividing_core::Error>(())
/// ```
///
/// # Errors
/// [`ErrorKind::OutOfRange`] outside 2 to 100,000 places.
pub fn range_constants(places: u32) -> Result<RangeConstants> {
    if !(2..=100_000).contains(&places) {
        return Err(Error::out_of_range(
            format!("{places} places"),
            "2 to 100000",
        ));
    }
    /// Step of both integrals, in standard deviations.
    const STEP: f64 = 0.04;
    /// Steps from −9 to 9 standard deviations.
    const STEPS: usize = 450;
    let x: Vec<f64> = (0..=STEPS)
        .map(|step| -9.0 + f64::from(u32::try_from(step).unwrap_or_default()) * STEP)
        .collect();
    let density: Vec<f64> = x.iter().map(|&x| normal_density(x)).collect();
    let below: Vec<f64> = x.iter().map(|&x| normal_probability(x)).collect();
    let count = f64::from(places);
    let (mut mean, mut half_square) = (0.0, 0.0);
    for width in 0..=STEPS {
        let at_most: f64 = density
            .iter()
            .zip(&below)
            .enumerate()
            .map(|(at, (density, low))| {
                let high = below.get(at + width).copied().unwrap_or(1.0);
                density * (high - low).max(0.0).powf(count - 1.0)
            })
            .sum::<f64>()
            * count
            * STEP;
        let beyond = (1.0 - at_most).max(0.0);
        let w = f64::from(u32::try_from(width).unwrap_or_default()) * STEP;
        let weight = if width == 0 { 0.5 } else { 1.0 };
        mean += weight * beyond * STEP;
        half_square += weight * w * beyond * STEP;
    }
    // The first end correction of Euler and Maclaurin: the integrand w·P(W > w)
    // starts with slope 1. That of the mean starts with the slope of P, which
    // is zero but for two places, where it is 1/√π.
    half_square += STEP * STEP / 12.0;
    if places == 2 {
        mean -= STEP * STEP / 12.0 / std::f64::consts::PI.sqrt();
    }
    Ok(RangeConstants {
        mean,
        standard_deviation: (2.0 * half_square - mean * mean).max(0.0).sqrt(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_grade_outside_the_standard_is_refused() {
        let grades = PitchGrades {
            reference_diameter: Length::from_mm(4.0).unwrap(),
            module: Length::from_mm(1.0).unwrap(),
            rounding: PitchRounding::Standard,
        };
        assert_eq!(
            grades.single_pitch_um(5).unwrap_err().field(),
            "reference_diameter"
        );
        assert!(range_constants(1).is_err());
        assert!(range_constants(100_001).is_err());
    }
}
