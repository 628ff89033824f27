//! Lineage: the error of a plate that was drilled with one device and is used
//! on another.

use super::contributor::{Contributor, Distribution, InputUnit, Persistence};
use super::probability::{check_finite, check_not_negative, check_positive};
use crate::error::{AtField, Error, ErrorKind, Result};

/// What is left of angular errors behind a gear ratio: a plate drilled on a
/// dividing head from a rougher plate keeps the rougher plate's errors divided
/// by the ratio, and shows its own at the work divided by the ratio of the head
/// on which it is used. Once drilled, every error stays with its hole.
///
/// The errors of the drilling device itself (worm and wheel, spindle, wander of
/// the drill) are no part of the source; add them to the list.
///
/// ```
/// use dividing_core::accuracy::{Contributor, Distribution, InputUnit, Persistence, carried};
/// let rough = Contributor {
///     name: "plate hole position".into(),
///     limit: 0.2,
///     unit: InputUnit::Millimetre,
///     sensitivity: 1.0 / 40.0,
///     distribution: Distribution::UniformInDisc,
///     persistence: Persistence::NewAtSeating,
///     degrees_of_freedom: None,
/// };
/// let new_plate = carried(&[rough], 40.0)?;
/// assert!((new_plate[0].limit_rad() - 0.2 / 1600.0).abs() < 1e-15);
/// assert_eq!(new_plate[0].persistence, Persistence::FixedForPlace);
/// # Ok::<(), dividing_core::Error>(())
/// ```
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for a ratio that is not greater than zero, and the
/// errors of [`Contributor::check`].
pub fn carried(source: &[Contributor], ratio: f64) -> Result<Vec<Contributor>> {
    check_positive(ratio, "ratio").at("ratio")?;
    source
        .iter()
        .enumerate()
        .map(|(index, contributor)| {
            let carried = Contributor {
                name: format!("{}, from drilling", contributor.name).into(),
                sensitivity: contributor.sensitivity / ratio,
                persistence: Persistence::FixedForPlace,
                ..contributor.clone()
            };
            carried.check().at(format!("source[{index}]"))?;
            Ok(carried)
        })
        .collect()
}

/// What turns a hole that was drilled by coordinates: the table's deviation in
/// x over the radius by `−sin θ`, in y by `cos θ`.
///
/// `table_accuracy_mm` is the largest deviation of either axis either way,
/// taken as uniform.
///
/// ```
/// use dividing_core::accuracy::drilled_by_coordinates;
/// let straight_up = drilled_by_coordinates(0.005, 50.0, std::f64::consts::FRAC_PI_2)?;
/// assert!((straight_up[0].limit_rad() - 0.0001).abs() < 1e-15); // only x turns it
/// assert!(straight_up[1].limit_rad() < 1e-15);
/// # Ok::<(), dividing_core::Error>(())
/// ```
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for a negative accuracy or a radius that is not
/// greater than zero, [`ErrorKind::NotFinite`] for values that are not finite.
pub fn drilled_by_coordinates(
    table_accuracy_mm: f64,
    radius_mm: f64,
    angle_rad: f64,
) -> Result<[Contributor; 2]> {
    check_not_negative(table_accuracy_mm, "table_accuracy_mm")?;
    check_positive(radius_mm, "radius_mm")?;
    check_finite(angle_rad, "angle_rad")?;
    let (sine, cosine) = angle_rad.sin_cos();
    let axis = |name: &'static str, part: f64| Contributor {
        name: name.into(),
        limit: table_accuracy_mm,
        unit: InputUnit::Millimetre,
        sensitivity: part / radius_mm,
        distribution: Distribution::Uniform,
        persistence: Persistence::FixedForPlace,
        degrees_of_freedom: None,
    };
    let both = [
        axis("x axis of the table, from drilling", -sine),
        axis("y axis of the table, from drilling", cosine),
    ];
    for contributor in &both {
        contributor.check()?;
    }
    Ok(both)
}

/// Diameter of the position zone, in millimetres, that a hole's worst angular
/// error fills at a pitch radius: what to write into a workshop as the plate's
/// `hole_position_tolerance`.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for a radius that is not greater than zero;
/// [`ErrorKind::Overflow`] for a zone beyond all numbers; the errors of
/// [`Contributor::check`].
pub fn position_zone_mm(contributors: &[Contributor], radius_mm: f64) -> Result<f64> {
    check_positive(radius_mm, "radius_mm").at("radius_mm")?;
    for (index, contributor) in contributors.iter().enumerate() {
        contributor.check().at(format!("contributors[{index}]"))?;
    }
    let worst_rad: f64 = contributors.iter().map(Contributor::limit_rad).sum();
    let zone = 2.0 * radius_mm * worst_rad;
    if zone.is_finite() {
        Ok(zone)
    } else {
        Err(Error::new(
            ErrorKind::Overflow,
            "the zone is too large for a number",
        ))
    }
}
