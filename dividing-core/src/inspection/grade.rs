//! The pitch grade of a measured wheel after ISO 1328-1:2013.
//!
//! Formulae and rounding are those of [`PitchGrades`], the range stands here; all
//! from memory of the standard, not read again. The grade speaks of pitch alone: profile, helix and
//! runout are no part of it, and a plate is no gear.

use serde::{Deserialize, Serialize};

use crate::accuracy::{PitchGrades, PitchRounding};
use crate::error::{AtField, Error, Result};
use crate::length::Length;

use super::part::RingLimits;
use super::ring::RingDeviations;

/// The finest and the coarsest flank tolerance class.
pub const FLANK_CLASSES: std::ops::RangeInclusive<u8> = 1..=11;

/// What the tolerances of a wheel depend on.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Wheel {
    /// Normal module in millimetres, 0.5 to 70.
    pub module_mm: f64,
    /// Reference diameter in millimetres, 5 to 15,000.
    pub reference_diameter_mm: f64,
}

/// The pitch tolerances of one class.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PitchTolerances {
    /// Single pitch, in micrometres.
    pub single_um: f64,
    /// Total cumulative pitch, in micrometres.
    pub cumulative_um: f64,
}

/// The pitch grade of a measured wheel.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PitchGrade {
    /// Largest single pitch deviation on the reference circle, in micrometres.
    pub single_um: f64,
    /// Total cumulative pitch deviation there, in micrometres.
    pub cumulative_um: f64,
    /// Finest class whose single pitch tolerance holds; `None` beyond 11.
    pub single_class: Option<u8>,
    /// Finest class whose cumulative pitch tolerance holds; `None` beyond 11.
    pub cumulative_class: Option<u8>,
    /// Finest class that holds both; `None` beyond 11.
    pub class: Option<u8>,
}

impl Wheel {
    fn check(self) -> Result<()> {
        if !(0.5..=70.0).contains(&self.module_mm) {
            return Err(
                Error::out_of_range(format!("{} mm", self.module_mm), "0.5 to 70 mm").at("module"),
            );
        }
        if !(5.0..=15_000.0).contains(&self.reference_diameter_mm) {
            return Err(Error::out_of_range(
                format!("{} mm", self.reference_diameter_mm),
                "5 to 15000 mm",
            )
            .at("reference_diameter"));
        }
        Ok(())
    }

    /// Pitch tolerances of a class, 1 to 11, rounded as the standard asks.
    ///
    /// `f_pT = (0.001·d + 0.4·m + 5)·√2^(A−5)` and
    /// `F_pT = (0.002·d + 0.55·√d + 0.7·m + 12)·√2^(A−5)` in micrometres
    /// (ISO 1328-1:2013, from memory).
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`](crate::ErrorKind::OutOfRange).
    ///
    /// ```
    /// use dividing_core::inspection::Wheel;
    /// let wheel = Wheel { module_mm: 2.0, reference_diameter_mm: 100.0 };
    /// let class_5 = wheel.pitch_tolerances(5)?;
    /// assert!((class_5.single_um - 6.0).abs() < 1e-12);      // 5.9 to the half
    /// assert!((class_5.cumulative_um - 19.0).abs() < 1e-12); // 19.1 to the whole
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn pitch_tolerances(self, class: u8) -> Result<PitchTolerances> {
        self.check()?;
        if !FLANK_CLASSES.contains(&class) {
            return Err(Error::out_of_range(class, "1 to 11").at("class"));
        }
        let grades = PitchGrades {
            reference_diameter: Length::from_mm(self.reference_diameter_mm)?,
            module: Length::from_mm(self.module_mm)?,
            rounding: PitchRounding::Standard,
        };
        Ok(PitchTolerances {
            single_um: grades.single_pitch_um(class)?,
            cumulative_um: grades.cumulative_pitch_um(class)?,
        })
    }

    /// The pitch tolerances of a class as limits of a ring, for a decision with
    /// uncertainty (JCGM 106:2012) on the class that a drawing asks for.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`](crate::ErrorKind::OutOfRange).
    ///
    /// ```
    /// use dividing_core::inspection::{
    ///     Decision, DecisionRule, DeviationReading, DeviationReadings, Wheel, check_ring,
    ///     inspect_deviations,
    /// };
    /// // 20.5 arcsec between neighbours on a radius of 50 mm are 5.0 µm of the 6
    /// // that class 5 allows.
    /// let readings = [0.0, 20.5, 0.0, 0.0, 0.0, 0.0];
    /// let wheel = Wheel { module_mm: 2.0, reference_diameter_mm: 100.0 };
    /// let decide = |standard_uncertainty_arcsec| {
    ///     let readings = readings.into_iter().enumerate();
    ///     let ring = inspect_deviations(&DeviationReadings {
    ///         places: 6,
    ///         radius: None,
    ///         standard_uncertainty_arcsec: Some(standard_uncertainty_arcsec),
    ///         readings: readings
    ///             .map(|(place, deviation_arcsec)| DeviationReading { place, deviation_arcsec })
    ///             .collect(),
    ///     })?;
    ///     let rule = DecisionRule::GuardBand { multiple: 1.0 };
    ///     Ok::<_, dividing_core::Error>(check_ring(&ring, &wheel.ring_limits(5)?, rule)?.decision)
    /// };
    /// assert_eq!(decide(0.5)?, Decision::Pass);
    /// assert_eq!(decide(5.0)?, Decision::NotProven);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn ring_limits(self, class: u8) -> Result<RingLimits> {
        let tolerances = self.pitch_tolerances(class)?;
        let radius_um = self.reference_diameter_mm / 2.0 * 1000.0;
        Ok(RingLimits {
            single_pitch_rad: Some(tolerances.single_um / radius_um),
            cumulative_pitch_rad: Some(tolerances.cumulative_um / radius_um),
            ..RingLimits::default()
        })
    }
}

/// The pitch grade that a measured wheel meets, uncertainty left aside; whether
/// it meets a class with its uncertainty, [`Wheel::ring_limits`] and
/// [`check_ring`](super::check_ring) decide.
///
/// Deviations are taken about the axis the ring was measured about and put on
/// the reference circle.
///
/// # Errors
/// [`ErrorKind::OutOfRange`](crate::ErrorKind::OutOfRange) for a wheel beyond the standard;
/// [`ErrorKind::Undetermined`](crate::ErrorKind::Undetermined) when a place is missing, for then
/// the largest deviation is not known.
///
/// ```
/// use dividing_core::inspection::{
///     DeviationReading, DeviationReadings, Wheel, inspect_deviations, pitch_grade,
/// };
/// let readings = [0.0, 20.0, 35.0, 20.0, 0.0, -15.0]
///     .into_iter()
///     .enumerate()
///     .map(|(place, deviation_arcsec)| DeviationReading { place, deviation_arcsec })
///     .collect();
/// let ring = inspect_deviations(&DeviationReadings {
///     places: 6,
///     radius: None,
///     standard_uncertainty_arcsec: None,
///     readings,
/// })?;
/// // 50 arcsec on a radius of 50 mm are 12.1 µm: class 4 allows 14.
/// let grade = pitch_grade(&ring, Wheel { module_mm: 2.0, reference_diameter_mm: 100.0 })?;
/// assert_eq!(grade.cumulative_class, Some(4));
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn pitch_grade(ring: &RingDeviations, wheel: Wheel) -> Result<PitchGrade> {
    wheel.check()?;
    let single = match ring.pitch.largest_single {
        Some(single) if ring.deviations.len() == ring.places => single,
        _ => {
            return Err(Error::new(
                crate::ErrorKind::Undetermined,
                "not every place was measured, so the largest deviation is not known",
            )
            .at("places"));
        }
    };
    let on_circle_um = |rad: f64| rad.abs() * wheel.reference_diameter_mm / 2.0 * 1000.0;
    let single_um = on_circle_um(single.deviation_rad);
    let cumulative_um = on_circle_um(ring.pitch.total_cumulative.deviation_rad);
    let (mut single_class, mut cumulative_class) = (None, None);
    for class in FLANK_CLASSES.rev() {
        let tolerances = wheel.pitch_tolerances(class).at("class")?;
        if single_um <= tolerances.single_um {
            single_class = Some(class);
        }
        if cumulative_um <= tolerances.cumulative_um {
            cumulative_class = Some(class);
        }
    }
    Ok(PitchGrade {
        single_um,
        cumulative_um,
        single_class,
        cumulative_class,
        class: single_class
            .zip(cumulative_class)
            .map(|(single, cumulative)| single.max(cumulative)),
    })
}
