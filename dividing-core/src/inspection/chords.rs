//! From chords over pins to deviations.

use std::f64::consts::TAU;

use crate::error::{AtField, Error, ErrorKind, Result};

use super::covariance::DeviationCovariance;
use super::measurement::ChordReadings;
use super::numbering::check_size;
use super::numeric::{count, mean};
use super::ring::{RingDeviations, sorted_places};

/// Evaluates chords measured over equal pins, one from every place.
///
/// All holes are taken to lie on one circle; its radius follows from the
/// closure, `Σ 2·asin(chordⱼ/2R) = span` turns. The pins' own error, common to
/// all chords, goes into the radius and not into the deviations. Uncertainty:
/// the links of a closed chain, `u²·(n² − 1)/(12·n)` for a deviation about the
/// mean, u the uncertainty of one link's angle.
///
/// # Errors
/// [`ErrorKind::Undetermined`] when a chord is missing or `span` shares a
/// divisor with `places`; [`ErrorKind::OutOfRange`], [`ErrorKind::Duplicate`];
/// [`ErrorKind::Inconsistent`] when the chords do not close on a circle or a hole
/// stands a quarter of a pitch or more from its place.
///
/// ```
/// use dividing_core::Length;
/// use dividing_core::inspection::{ChordReading, ChordReadings, inspect_chords};
/// let readings = (0..6)
///     .map(|place| Ok(ChordReading { place, over_pins: Length::from_mm(46.0)? }))
///     .collect::<Result<Vec<_>, dividing_core::Error>>()?;
/// let ring = inspect_chords(&ChordReadings {
///     places: 6,
///     span: 1,
///     pin_diameter: Length::from_mm(6.0)?,
///     standard_uncertainty: None,
///     readings,
/// })?;
/// assert!((ring.radius_mm.unwrap() - 40.0).abs() < 1e-12); // a hexagon's side is its radius
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn inspect_chords(readings: &ChordReadings) -> Result<RingDeviations> {
    let n = readings.places;
    let numbers: Vec<usize> = readings.readings.iter().map(|one| one.place).collect();
    let order = sorted_places(n, &numbers, "readings")?;
    check_span(n, readings.span)?;
    readings
        .pin_diameter
        .check_not_negative()
        .at("pin_diameter")?;
    if let Some(uncertainty) = readings.standard_uncertainty {
        uncertainty.check_positive().at("standard_uncertainty")?;
    }
    if order.len() < n {
        let first = (0..n).find(|&place| order.get(place).is_none_or(|&i| numbers[i] != place));
        return Err(Error::new(
            ErrorKind::Undetermined,
            format!(
                "the chord from place {} is missing; a ring of chords closes only when \
                 all {n} are measured",
                first.unwrap_or(0)
            ),
        )
        .at("readings"));
    }
    let mut chords = Vec::with_capacity(n);
    for &index in &order {
        let chord = readings.readings[index].over_pins.mm() - readings.pin_diameter.mm();
        let sound = chord > 0.0;
        if !sound {
            return Err(Error::out_of_range(
                readings.readings[index].over_pins,
                format!("more than one pin of {}", readings.pin_diameter),
            )
            .at("over_pins")
            .at(format!("readings[{index}]")));
        }
        chords.push(chord);
    }
    let radius_mm = closing_radius(&chords, readings.span)?;
    let nominal = TAU * count(readings.span) / count(n);
    let link = |chord: f64| 2.0 * (chord / (2.0 * radius_mm)).clamp(-1.0, 1.0).asin();

    // Walk the chain: place, place + span, … until it is back at 0.
    let mut values = vec![0.0; n];
    let mut rank = vec![0; n];
    let mut place = 0;
    let mut sum = 0.0;
    for step in 0..n {
        values[place] = sum;
        rank[place] = step;
        sum += link(chords[place]) - nominal;
        place = (place + readings.span) % n;
    }
    let middle = mean(&values);
    let raw: Vec<(usize, f64)> = values
        .iter()
        .enumerate()
        .map(|(place, value)| (place, value - middle))
        .collect();
    check_size(n, &raw, "readings")?;
    let covariance = readings.standard_uncertainty.map(|uncertainty| {
        let link_uncertainty = uncertainty.mm() / (radius_mm * (nominal / 2.0).cos());
        DeviationCovariance::closed_chain(link_uncertainty * link_uncertainty, rank)
    });
    RingDeviations::assemble(n, &raw, Some(radius_mm), covariance)
}

fn check_span(n: usize, span: usize) -> Result<()> {
    if span == 0 || span > (n - 1) / 2 {
        return Err(Error::out_of_range(
            span,
            format!("1 to {}, below half of the {n} places", (n - 1) / 2),
        )
        .at("span"));
    }
    let divisor = num_integer::gcd(n, span);
    if divisor > 1 {
        return Err(Error::new(
            ErrorKind::Undetermined,
            format!(
                "span {span} and {n} places share the divisor {divisor}, so the chords fall \
                 into {divisor} rings that nothing joins; accepted: a span prime to {n}, such as 1"
            ),
        )
        .at("span"));
    }
    Ok(())
}

/// The radius on which the chords close after `span` turns.
fn closing_radius(chords: &[f64], span: usize) -> Result<f64> {
    let turns = count(span);
    let longest = chords.iter().copied().fold(0.0, f64::max);
    let sum_at = |radius: f64| -> f64 {
        chords
            .iter()
            .map(|chord| 2.0 * (chord / (2.0 * radius)).min(1.0).asin())
            .sum::<f64>()
            - TAU * turns
    };
    // The sum falls with the radius: from the smallest circle that holds the
    // longest chord to one on which all chords together span too little.
    let mut low = longest / 2.0;
    let mut high = chords.iter().sum::<f64>() / (4.0 * turns);
    let sound = sum_at(low) >= 0.0 && high > low;
    if !sound {
        return Err(Error::new(
            ErrorKind::Inconsistent,
            format!(
                "the chords do not close on a circle: even where the longest, {longest:.4} mm, \
                 is its diameter they fall short of {span} turn(s); check the readings, the \
                 span and the pin diameter"
            ),
        )
        .at("readings"));
    }
    // asin(x) ≤ π/2·x, so at `high` the sum is at most 2π·span.
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if sum_at(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    // One Newton step takes the last digits from the sum itself.
    let radius = 0.5 * (low + high);
    let slope: f64 = chords
        .iter()
        .map(|chord| {
            let half = chord / 2.0;
            -2.0 * half / (radius * (radius * radius - half * half).max(0.0).sqrt())
        })
        .sum();
    let polished = radius - sum_at(radius) / slope;
    let near = polished.is_finite() && (polished / radius - 1.0).abs() < 1.0e-6;
    Ok(if near { polished } else { radius })
}
