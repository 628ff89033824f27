//! Eccentricity of part and spindle: a shift of features off the axis, reported
//! apart from their angle.

use serde::{Deserialize, Serialize};

use super::contributor::{Contributor, Distribution, InputUnit, Persistence};
use super::geometry::eccentricity_error;
use super::probability::{check_not_negative, check_positive};
use super::simulation::SimulatedInput;
use crate::angle::Angle;
use crate::error::{Error, ErrorKind, Result};
use crate::job::Job;

/// From where the cut is located.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum LocatedFrom {
    /// From the part's own round, indicated or held anew at each feature: an
    /// offset of the spindle or of the plate shifts nothing.
    PartsOwnRound,
    /// From the spindle or the plate on which the part sits.
    #[default]
    SpindleOrPlate,
}

/// What an offset of the part's axis does to a feature.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FeatureShift {
    /// Largest distance by which the feature stands off its place, in
    /// millimetres: flats off-centre, holes off their true position.
    pub shift_mm: f64,
    /// Largest change of its angle about the part's axis, in radians: zero for
    /// flats and other straight cuts, which stay parallel to themselves.
    pub angle_rad: f64,
}

/// The shift of a feature when the part's axis stands off that of the spindle
/// (or a pin plate off that of the part) by at most `eccentricity_mm`.
///
/// Without a `radius_mm` the feature is a flat or another straight cut: it goes
/// off-centre but not out of angle. A hole at a radius moves by as much and
/// turns about the part's axis by up to e/rf, exactly `asin(e/rf)`. The angles
/// set by the device are not touched by either.
///
/// ```
/// use dividing_core::accuracy::{LocatedFrom, feature_shift};
/// let flat = feature_shift(0.02, None, LocatedFrom::SpindleOrPlate)?;
/// assert_eq!((flat.shift_mm, flat.angle_rad), (0.02, 0.0));
/// let hole = feature_shift(0.02, Some(40.0), LocatedFrom::SpindleOrPlate)?;
/// assert!((hole.angle_rad - 0.0005).abs() < 1e-10);
/// # Ok::<(), dividing_core::Error>(())
/// ```
///
/// # Errors
/// [`ErrorKind::OutOfRange`] or [`ErrorKind::NotFinite`] for a negative
/// eccentricity or a radius that is not greater than zero,
/// [`ErrorKind::Undetermined`] when the eccentricity reaches the radius.
pub fn feature_shift(
    eccentricity_mm: f64,
    radius_mm: Option<f64>,
    located: LocatedFrom,
) -> Result<FeatureShift> {
    check_not_negative(eccentricity_mm, "eccentricity_mm")?;
    if let Some(radius_mm) = radius_mm {
        check_positive(radius_mm, "radius_mm")?;
    }
    if located == LocatedFrom::PartsOwnRound {
        return Ok(FeatureShift {
            shift_mm: 0.0,
            angle_rad: 0.0,
        });
    }
    let angle_rad = match radius_mm {
        None => 0.0,
        Some(radius_mm) if eccentricity_mm < radius_mm => {
            // The largest error stands where the hole, seen from the axis, is
            // square to the offset: cos φ = −e/r.
            let phase = (-eccentricity_mm / radius_mm).acos();
            eccentricity_error(radius_mm, eccentricity_mm, phase)?
                .exact_rad
                .abs()
        }
        Some(radius_mm) => {
            return Err(Error::new(
                ErrorKind::Undetermined,
                format!(
                    "an eccentricity of {eccentricity_mm} mm reaches the feature's radius of \
                     {radius_mm} mm; accepted: an eccentricity below the radius"
                ),
            ));
        }
    };
    Ok(FeatureShift {
        shift_mm: eccentricity_mm,
        angle_rad,
    })
}

/// What the part turns features by when its axis stands off that of the spindle:
/// a sinusoid round the part whose direction nobody knows; none where it turns
/// none.
pub(super) fn part_off_the_axis(job: &Job) -> Result<Option<Contributor>> {
    let Some(eccentricity) = job.part_eccentricity() else {
        return Ok(None);
    };
    let angle_rad = eccentricity.shift()?.angle_rad;
    Ok((angle_rad > 0.0).then(|| Contributor {
        name: PART_OFF_THE_AXIS.into(),
        limit: angle_rad,
        unit: InputUnit::Radian,
        sensitivity: 1.0,
        distribution: Distribution::UShaped,
        persistence: Persistence::FixedForPlace,
        degrees_of_freedom: None,
    }))
}

/// The same for one feature of a simulation, seen in its direction.
pub(super) fn seen_from(part: &Contributor, required: Angle) -> SimulatedInput {
    let mut input = SimulatedInput::from(part.clone());
    input.contributor.persistence = Persistence::FixedForJob;
    input.direction_rad = Some(required.to_radians_f64());
    input
}

/// What turns features about the part's own axis, all by one offset.
pub(super) const PART_OFF_THE_AXIS: &str = "part off the spindle axis";
