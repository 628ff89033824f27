//! From directly measured angles to deviations.

use crate::angle::as_f64;
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

use super::covariance::DeviationCovariance;
use super::measurement::{AngleReadings, DeviationReadings, RAD_PER_ARCSEC, uncertainty_rad};
use super::numbering::{check_size, deviations};
use super::numeric::mean;
use super::ring::{RingDeviations, sorted_places};

/// Evaluates angles read from a rotary table, a circle or an encoder.
///
/// The zero of the readings does not matter: deviations are about their mean.
///
/// # Errors
/// [`ErrorKind::Undetermined`] for fewer than three places,
/// [`ErrorKind::Duplicate`], [`ErrorKind::OutOfRange`], and
/// [`ErrorKind::Inconsistent`] when the numbers run the other way or a place
/// stands a quarter of a pitch or more from where its number says.
///
/// ```
/// use dividing_core::inspection::{AngleReading, AngleReadings, Numbering, inspect_angles};
/// let readings = ["10 deg", "100°00'12\"", "190 deg", "280 deg"]
///     .into_iter()
///     .enumerate()
///     .map(|(place, angle)| Ok(AngleReading { place, angle: angle.parse()? }))
///     .collect::<Result<Vec<_>, dividing_core::Error>>()?;
/// let ring = inspect_angles(&AngleReadings {
///     places: 4,
///     numbering: Numbering::CounterClockwise,
///     radius: None,
///     standard_uncertainty_arcsec: Some(1.0),
///     readings,
/// })?;
/// let arcsec = ring.at(1).unwrap().deviation_rad.to_degrees() * 3600.0;
/// assert!((arcsec - 9.0).abs() < 1e-6); // 12 less the mean of 3
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn inspect_angles(readings: &AngleReadings) -> Result<RingDeviations> {
    let uncertainty = uncertainty_rad(readings.standard_uncertainty_arcsec)?;
    let numbers: Vec<usize> = readings.readings.iter().map(|one| one.place).collect();
    let order = sorted_places(readings.places, &numbers, "readings")?;
    let angles: Vec<(usize, f64)> = order
        .iter()
        .map(|&index| {
            let reading = &readings.readings[index];
            // Exactly within the turn first, so that many turns cost no digits.
            let within = reading.angle.within_turn();
            let turns = as_f64(within.numerator()) / as_f64(within.denominator());
            (
                reading.place,
                readings.numbering.sign() * turns * std::f64::consts::TAU,
            )
        })
        .collect();
    let raw = deviations(readings.places, &angles, readings.numbering, "readings")?;
    ring(readings.places, &raw, readings.radius, uncertainty)
}

/// Evaluates deviations from the nominal angles, as an autocollimator shows
/// them.
///
/// # Errors
/// As [`inspect_angles`], and [`ErrorKind::NotFinite`].
///
/// ```
/// use dividing_core::inspection::{DeviationReading, DeviationReadings, inspect_deviations};
/// let readings = [0.0, 4.0, 0.0, -4.0]
///     .into_iter()
///     .enumerate()
///     .map(|(place, deviation_arcsec)| DeviationReading { place, deviation_arcsec })
///     .collect();
/// let ring = inspect_deviations(&DeviationReadings {
///     places: 4,
///     radius: None,
///     standard_uncertainty_arcsec: None,
///     readings,
/// })?;
/// // A pure first harmonic: nothing is left without it.
/// assert!((ring.first_harmonic.amplitude_rad.to_degrees() * 3600.0 - 4.0).abs() < 1e-9);
/// assert!(ring.rest_pitch.total_cumulative.deviation_rad < 1e-15);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn inspect_deviations(readings: &DeviationReadings) -> Result<RingDeviations> {
    let uncertainty = uncertainty_rad(readings.standard_uncertainty_arcsec)?;
    let numbers: Vec<usize> = readings.readings.iter().map(|one| one.place).collect();
    let order = sorted_places(readings.places, &numbers, "readings")?;
    let mut values = Vec::with_capacity(order.len());
    for &index in &order {
        let value = readings.readings[index].deviation_arcsec;
        if !value.is_finite() {
            return Err(Error::new(
                ErrorKind::NotFinite,
                format!("{value} is no deviation; accepted: a finite number"),
            )
            .at("deviation_arcsec")
            .at(format!("readings[{index}]")));
        }
        values.push(value * RAD_PER_ARCSEC);
    }
    let middle = mean(&values);
    let raw: Vec<(usize, f64)> = order
        .iter()
        .zip(&values)
        .map(|(&index, value)| (numbers[index], value - middle))
        .collect();
    check_size(readings.places, &raw, "readings")?;
    ring(readings.places, &raw, readings.radius, uncertainty)
}

fn ring(
    places: usize,
    raw: &[(usize, f64)],
    radius: Option<Length>,
    uncertainty_rad: Option<f64>,
) -> Result<RingDeviations> {
    if let Some(radius) = radius {
        radius.check_positive().at("radius")?;
    }
    let covariance =
        uncertainty_rad.map(|u| DeviationCovariance::independent(vec![u * u; raw.len()]));
    RingDeviations::assemble(places, raw, radius.map(Length::mm), covariance).at("readings")
}
