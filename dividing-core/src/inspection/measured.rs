//! From an inspection to the `measured` field of equipment.

use crate::equipment::{MAX_MEASURED_PLACES, MeasuredPlace, MeasuredRing};
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

use super::choice::KnownDeviation;
use super::closure::{Closure, Device};
use super::coordinates::CoordinateInspection;
use super::measurement::{Measurement, RAD_PER_ARCSEC, Readings};
use super::report::Inspection;
use super::ring::RingDeviations;

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
        match self.inspect()?.result {
            Inspection::Coordinates(found) => found.measured(),
            Inspection::Ring(found) => found.measured(),
            Inspection::Closure(_) => Err(Error::internal("a closure from other readings")),
        }
    }
}

impl RingDeviations {
    /// The ring as the `measured` field of equipment.
    ///
    /// # Errors
    /// As [`MeasuredRing::check`]: a deviation beyond 10°.
    pub fn measured(&self) -> Result<MeasuredRing> {
        let stated = self
            .deviations
            .iter()
            .all(|it| it.standard_uncertainty_rad.is_some());
        from_known(&self.known(), stated)
    }
}

impl Closure {
    /// One of the two devices as the `measured` field of equipment.
    ///
    /// # Errors
    /// As [`MeasuredRing::check`], and more than 10,000 positions.
    pub fn measured(&self, device: Device) -> Result<MeasuredRing> {
        from_known(
            &self.known(device),
            self.reading_uncertainty_rad().is_some(),
        )
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

fn from_known(known: &[Option<KnownDeviation>], stated: bool) -> Result<MeasuredRing> {
    let number = |value: usize| {
        u32::try_from(value)
            .map_err(|_| Error::out_of_range(value, format!("up to {MAX_MEASURED_PLACES} places")))
    };
    let mut ring = MeasuredRing {
        places: number(known.len())?,
        deviations: Vec::with_capacity(known.len()),
    };
    for (place, known) in known.iter().enumerate() {
        let Some(known) = known else { continue };
        ring.deviations.push(MeasuredPlace {
            place: number(place)?,
            deviation_arcsec: known.deviation_rad / RAD_PER_ARCSEC,
            standard_uncertainty_arcsec: stated
                .then_some(known.standard_uncertainty_rad / RAD_PER_ARCSEC),
            radial: None,
            radial_uncertainty: None,
        });
    }
    ring.check().at("measured")?;
    Ok(ring)
}
