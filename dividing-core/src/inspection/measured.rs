//! From an inspection to the `measured` field of equipment.

use crate::equipment::{
    MAX_COVARIANCE_PLACES, MAX_MEASURED_PLACES, MeasuredCovariance, MeasuredPlace, MeasuredRing,
};
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

use super::choice::KnownDeviation;
use super::closure::{Closure, Device};
use super::coordinates::CoordinateInspection;
use super::measurement::{Measurement, RAD_PER_ARCSEC, Readings};
use super::report::Inspection;
use super::ring::RingDeviations;
use super::stations::StationDeviations;

impl Measurement {
    /// Evaluates the readings and makes of them the `measured` field of a hole
    /// circle or a dial: about the axis where one was given, else about the
    /// centre of the fitted circle.
    ///
    /// # Errors
    /// Those of the evaluation; [`ErrorKind::Inconsistent`] for a closure
    /// calibration, which measures two devices: use [`Closure::measured`].
    ///
    /// ```
    /// use dividing_core::inspection::Measurement;
    /// let measurement = Measurement::from_json(r#"{"format": 1, "readings": {"deviations": {
    ///     "places": 4, "standard_uncertainty_arcsec": 0.5, "readings": [
    ///         {"place": 0, "deviation_arcsec": 3}, {"place": 1, "deviation_arcsec": -1},
    ///         {"place": 2, "deviation_arcsec": -2}, {"place": 3, "deviation_arcsec": 0}]}}}"#)?;
    /// let ring = measurement.measured()?;
    /// assert!((ring.at(0).unwrap().deviation_arcsec - 3.0).abs() < 1e-9);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn measured(&self) -> Result<MeasuredRing> {
        if matches!(self.readings, Readings::Closure(_)) {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                "a closure calibration measures two devices; calibrate it and take one of them",
            )
            .at("readings.closure"));
        }
        match self.inspect()?.result() {
            Inspection::Coordinates(found) => found.measured(),
            Inspection::Ring(found) => found.measured(),
            Inspection::Stations(found) => found.measured(),
            Inspection::Closure(_) => Err(Error::internal("a closure from other readings")),
        }
    }
}

impl RingDeviations {
    /// The ring as the `measured` field of equipment.
    ///
    /// Angles, deviations and coordinates about an axis leave each place an error
    /// of its own: they are carried as independent, with the uncertainty before
    /// the mean is taken out. What a plan forms of them, differences and
    /// deviations from the best-fit shift, is then exact; the uncertainty about
    /// the mean of all n places is larger than it need be by √(n/(n − 1)).
    /// Where a fitted centre or a chain of chords ties the places together, their
    /// covariance is carried, up to 400 places; beyond that only where it depends
    /// on the difference of places.
    ///
    /// # Errors
    /// As [`MeasuredRing::check`]: a deviation beyond 10°.
    pub fn measured(&self) -> Result<MeasuredRing> {
        let known = self.known();
        let Some(covariance) = &self.covariance else {
            return ring(&known, None);
        };
        if let Some(alone) = covariance.of_each_alone_rad2() {
            let mut known = known;
            for (known, variance) in known.iter_mut().flatten().zip(alone) {
                known.standard_uncertainty_rad = variance.sqrt();
            }
            return ring(&known, Some(None));
        }
        let measured: Vec<usize> = self.deviations.iter().map(|it| it.place).collect();
        let between = |i: usize, j: usize| covariance.covariance_rad2(i, j);
        let carried = if covariance.is_a_closed_chain() {
            Some(by_difference(self.places, |apart| between(0, apart)))
        } else {
            of_pairs(self.places, &measured, between)
        };
        ring(&known, Some(carried))
    }
}

impl StationDeviations {
    /// The stations as the `measured_stations` field of a vernier indexer: each
    /// station was read for itself, so that they are carried as independent.
    ///
    /// # Errors
    /// As [`MeasuredRing::check`]: a deviation beyond 10°.
    pub fn measured(&self) -> Result<MeasuredRing> {
        let mut known = vec![None; self.stations];
        for it in &self.deviations {
            if let Some(slot) = known.get_mut(it.station) {
                *slot = Some(KnownDeviation {
                    deviation_rad: it.deviation_rad,
                    standard_uncertainty_rad: self.reading_uncertainty_rad.unwrap_or(0.0),
                });
            }
        }
        ring(&known, self.reading_uncertainty_rad.map(|_| None))
    }
}

impl Closure {
    /// One of the two devices as the `measured` field of equipment, with the
    /// covariance of its positions; with readings missing only up to 400
    /// positions.
    ///
    /// # Errors
    /// As [`MeasuredRing::check`], and more than 10,000 positions.
    pub fn measured(&self, device: Device) -> Result<MeasuredRing> {
        let known = self.known(device);
        let between = |i: usize, j: usize| {
            let found = self.covariance_rad2((device, i), (device, j));
            found.unwrap_or(0.0)
        };
        if self.reading_uncertainty_rad().is_none() {
            return ring(&known, None);
        }
        let carried = if self.is_circulant() {
            Some(by_difference(known.len(), |apart| between(0, apart)))
        } else {
            let all: Vec<usize> = (0..known.len()).collect();
            of_pairs(known.len(), &all, between)
        };
        ring(&known, Some(carried))
    }
}

impl CoordinateInspection {
    /// The circle as the `measured` field of equipment, with how far out each
    /// hole stands: about the axis where one was given, else about the centre.
    ///
    /// # Errors
    /// As [`MeasuredRing::check`].
    pub fn measured(&self) -> Result<MeasuredRing> {
        let (ring, radial_mm) = match &self.about_axis {
            Some(ring) => (ring, &self.radial_about_axis_mm),
            None => (&self.about_centre, &self.radial_mm),
        };
        let mut measured = ring.measured()?;
        for (index, (place, (_, radial))) in
            measured.deviations.iter_mut().zip(radial_mm).enumerate()
        {
            place.radial = Some(Length::from_mm(*radial)?);
            let uncertainty = self.radial_uncertainty_mm.get(index);
            place.radial_uncertainty = uncertainty.map(|it| Length::from_mm(*it)).transpose()?;
        }
        Ok(measured)
    }
}

/// Squared seconds of arc in a squared radian.
const ARCSEC2_PER_RAD2: f64 = 1.0 / (RAD_PER_ARCSEC * RAD_PER_ARCSEC);

fn by_difference(places: usize, of: impl Fn(usize) -> f64) -> MeasuredCovariance {
    let half = (0..=places / 2).map(|apart| of(apart) * ARCSEC2_PER_RAD2);
    MeasuredCovariance::ByDifference(half.collect())
}

/// Covariances of the listed places by index: by difference where it is all that
/// they depend on; nothing for too many places.
fn of_pairs(
    places: usize,
    measured: &[usize],
    between: impl Fn(usize, usize) -> f64,
) -> Option<MeasuredCovariance> {
    /// Relative to the variance: what rounding leaves.
    const ROUNDING: f64 = 1.0e-9;
    let size = measured.len();
    if size > MAX_COVARIANCE_PLACES {
        return None;
    }
    let own = between(0, 0);
    let regular = size == places
        && (0..size).all(|i| {
            (0..size).all(|j| (between(i, j) - between(0, i.abs_diff(j))).abs() <= ROUNDING * own)
        });
    if regular {
        return Some(by_difference(places, |apart| between(0, apart)));
    }
    let row = |i: usize| (0..=i).map(|j| between(i, j) * ARCSEC2_PER_RAD2).collect();
    Some(MeasuredCovariance::LowerTriangle(
        (0..size).map(row).collect(),
    ))
}

/// A ring of known deviations; with their uncertainty where it was stated, and
/// with what ties them together where something does.
fn ring(
    known: &[Option<KnownDeviation>],
    stated: Option<Option<MeasuredCovariance>>,
) -> Result<MeasuredRing> {
    let number = |value: usize| {
        u32::try_from(value)
            .map_err(|_| Error::out_of_range(value, format!("up to {MAX_MEASURED_PLACES} places")))
    };
    let mut ring = MeasuredRing {
        places: number(known.len())?,
        deviations: Vec::with_capacity(known.len()),
        covariance: None,
    };
    for (place, known) in known.iter().enumerate() {
        let Some(known) = known else { continue };
        ring.deviations.push(MeasuredPlace {
            place: number(place)?,
            deviation_arcsec: known.deviation_rad / RAD_PER_ARCSEC,
            standard_uncertainty_arcsec: stated
                .is_some()
                .then_some(known.standard_uncertainty_rad / RAD_PER_ARCSEC),
            radial: None,
            radial_uncertainty: None,
        });
    }
    ring.covariance = stated.flatten();
    ring.check().at("measured")?;
    Ok(ring)
}
