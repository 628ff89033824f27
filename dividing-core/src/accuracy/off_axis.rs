//! One offset of an axis seen by two features: the difference of two sinusoids.

use std::f64::consts::{PI, TAU};

use super::contributor::Contributor;
use super::figure::WHEN_CLOCKING;
use super::geometry::{Model, ModelledAngle, check_below_radius};
use super::plunger::{LINEAR_UP_TO_RAD, OFF_THE_AXIS};
use super::probability::{check_finite, check_not_negative, check_positive};
use super::registration::Registration;
use super::shift::PART_OFF_THE_AXIS;
use super::simulation::SimulatedInput;
use crate::error::Result;
use crate::reach::Setting;

/// Largest change of the angle between two holes of one circle, seen from an
/// axis that stands off the circle's centre by `eccentricity_mm` in a direction
/// that nobody knows.
///
/// To first order two sinusoids `(e/r)·sin φ` that stand `apart_rad` apart differ
/// by `2(e/r)·sin(Δ/2)` at most: e/r for a sixth of a turn, 2e/r straight across.
/// Exactly the angle is largest where the axis stands on the bisector, towards
/// the chord (the angle over a chord is constant on circles through its ends, and
/// the one that touches the circle of radius e does so there):
/// `2·atan(sin(Δ/2)/(cos(Δ/2) − e/r)) − Δ`.
///
/// ```
/// use dividing_core::accuracy::eccentricity_between;
/// let across = eccentricity_between(50.0, 0.01, std::f64::consts::PI)?;
/// assert!((across.angle_rad() - 0.0004).abs() < 1e-9);
/// let sixth = eccentricity_between(50.0, 0.01, std::f64::consts::FRAC_PI_3)?;
/// assert!((sixth.angle_rad() - 0.0002).abs() < 1e-6);
/// # Ok::<(), dividing_core::Error>(())
/// ```
///
/// # Errors
/// As [`eccentricity_error`](super::eccentricity_error).
pub fn eccentricity_between(
    hole_radius_mm: f64,
    eccentricity_mm: f64,
    apart_rad: f64,
) -> Result<ModelledAngle> {
    check_positive(hole_radius_mm, "hole_radius_mm")?;
    check_not_negative(eccentricity_mm, "eccentricity_mm")?;
    check_finite(apart_rad, "apart_rad")?;
    check_below_radius(eccentricity_mm, hole_radius_mm)?;
    between(eccentricity_mm / hole_radius_mm, apart_rad)
}

/// The same by the ratio of eccentricity and radius, below 1.
fn between(ratio: f64, apart_rad: f64) -> Result<ModelledAngle> {
    let turned = apart_rad.rem_euclid(TAU);
    let apart = turned.min(TAU - turned).max(0.0);
    let (sine, cosine) = (apart / 2.0).sin_cos();
    // atan(s/(c − q)) − atan(s/c), as one so that small angles keep their digits.
    let exact_rad = 2.0 * (ratio * sine).atan2(1.0 - ratio * cosine);
    ModelledAngle::choose(2.0 * ratio * sine, exact_rad)
}

/// What one offset makes of the angle between two features `apart_rad` apart: a
/// sinusoid too. `it` is what it makes of one of them.
pub(super) fn between_features(it: &Contributor, apart_rad: f64) -> (Contributor, Model) {
    let limit_rad = it.limit_rad();
    let ratio = if limit_rad <= LINEAR_UP_TO_RAD {
        limit_rad
    } else {
        limit_rad.sin()
    };
    // An offset that reaches the radius holds no angle at all.
    let all = (2.0 * limit_rad, Model::Exact);
    let (most_rad, model) = if limit_rad < PI / 2.0 {
        between(ratio, apart_rad).map_or(all, |it| (it.angle_rad(), it.model))
    } else {
        all
    };
    let sensitivity = if limit_rad > 0.0 {
        it.sensitivity.abs() * most_rad / limit_rad
    } else {
        0.0
    };
    let found = Contributor {
        sensitivity,
        ..it.clone()
    };
    (found, model)
}

/// What the plate's offset between a feature and the datum is called.
const AGAINST_THE_DATUM: &str = "plate off the spindle axis, against the datum";

/// Whether a contributor is an offset of the plate.
pub(super) fn is_off_the_axis(it: &Contributor) -> bool {
    let plain = it.name.strip_suffix(WHEN_CLOCKING).unwrap_or(&it.name);
    plain == OFF_THE_AXIS || plain == AGAINST_THE_DATUM || plain == PART_OFF_THE_AXIS
}

/// What the offsets of plate and part leave between two features, from their
/// inputs to the simulation: those that are seen in a direction. A datum's, which
/// both have alike, cancel. `apart_rad` stands for how far apart they are seen.
pub(super) fn one_offset_for_both(
    one: &[SimulatedInput],
    two: &[SimulatedInput],
    apart_rad: Option<f64>,
) -> Vec<Contributor> {
    let of = |inputs: &[SimulatedInput], name: &str| {
        let found = inputs.iter().find(|it| it.contributor.name == name)?;
        Some((found.contributor.clone(), found.direction_rad?))
    };
    [OFF_THE_AXIS, PART_OFF_THE_AXIS]
        .into_iter()
        .filter_map(|name| {
            let (it, seen) = of(one, name)?;
            let (_, also) = of(two, name)?;
            Some(between_features(&it, apart_rad.unwrap_or(also - seen)).0)
        })
        .collect()
}

/// Puts the swing between the two in the stead of the feature's eccentricity and
/// of the datum's, where both are holes of one circle: the plate has one offset.
pub(super) fn one_offset_with_the_datum(
    (setting, datum): (&Setting, &Setting),
    found: &mut Registration,
) {
    let (
        Setting::Hole { circle, hole },
        Setting::Hole {
            circle: of,
            hole: at,
        },
    ) = (setting, datum)
    else {
        return;
    };
    if circle != of {
        return;
    }
    let own = found.contributors.iter().find(|it| it.name == OFF_THE_AXIS);
    let Some(own) = own.cloned() else {
        return;
    };
    let apart_rad = TAU * (f64::from(*hole) - f64::from(*at)) / f64::from((*circle).max(1));
    let (mut swing, model) = between_features(&own, apart_rad);
    swing.name = AGAINST_THE_DATUM.into();
    if model == Model::Exact {
        found.exact.push(AGAINST_THE_DATUM.into());
    }
    found.contributors.retain(|it| !is_off_the_axis(it));
    found.contributors.push(swing);
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The angle between two holes of a unit circle, seen from (q, 0) turned by φ.
    fn seen(ratio: f64, apart: f64, phase: f64) -> f64 {
        let of = |angle: f64| {
            (angle.sin() - ratio * phase.sin()).atan2(angle.cos() - ratio * phase.cos())
        };
        let found = of(apart) - of(0.0);
        found.rem_euclid(TAU)
    }

    #[test]
    fn no_direction_of_the_offset_gives_more_and_one_gives_as_much() {
        for ratio in [1e-6, 0.001, 0.05, 0.3, 0.9] {
            for apart in [0.01, 0.3, 1.0, 2.0, 3.0, PI] {
                let bound = between(ratio, apart).unwrap().exact_rad;
                let most = (0..20_000)
                    .map(|step| {
                        (seen(ratio, apart, f64::from(step) * TAU / 20_000.0) - apart).abs()
                    })
                    .fold(0.0, f64::max);
                assert!(most <= bound * (1.0 + 1e-6) + 1e-15, "{ratio} {apart}");
                assert!(most >= bound * 0.998, "{ratio} {apart}: {most} {bound}");
            }
        }
    }

    #[test]
    fn the_linear_model_gives_way_to_the_exact_one() {
        // Neighbours on a circle see e/(r − e) a radian, not e/r.
        assert_eq!(between(0.001, 0.1).unwrap().model, Model::Linear);
        assert_eq!(between(0.05, 0.1).unwrap().model, Model::Exact);
        assert!(eccentricity_between(1.0, 1.0, 1.0).is_err());
        assert!(eccentricity_between(1.0, 0.1, f64::NAN).is_err());
        let same = eccentricity_between(1.0, 0.1, TAU).unwrap();
        assert!(same.angle_rad().abs() < 1e-15);
    }
}
