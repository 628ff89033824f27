//! What a measurement says about the places of a circle or a dial.

use serde::{Deserialize, Serialize};

use super::measured_covariance::MeasuredCovariance;
use crate::angle::{Angle, as_f64};
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

/// Most places of a measured ring.
pub const MAX_MEASURED_PLACES: u32 = 10_000;

/// Largest deviation that is taken for one, in seconds of arc: 10°.
const LARGEST_ARCSEC: f64 = 36_000.0;

/// Largest standard uncertainty, in seconds of arc: 1°.
const LARGEST_UNCERTAINTY_ARCSEC: f64 = 3600.0;

/// The measured places of a ring: of a hole circle, of the stations of a vernier
/// indexer, or of a dial read at equally spaced angles.
///
/// Deviations count about the axis that the device turns on when it is used;
/// what that axis may run out by beyond them is still the equipment's own
/// `eccentricity`. Places that are not listed were not measured and keep the
/// tolerance of the equipment.
///
/// ```
/// use dividing_core::equipment::MeasuredRing;
/// let ring: MeasuredRing = serde_json::from_str(r#"{"places": 4, "deviations": [
///     {"place": 0, "deviation_arcsec": 2.5, "standard_uncertainty_arcsec": 0.5},
///     {"place": 2, "deviation_arcsec": -2.5, "standard_uncertainty_arcsec": 0.5}]}"#).unwrap();
/// assert_eq!(ring.at(2).unwrap().deviation_arcsec, -2.5);
/// assert!(ring.at(1).is_none());
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MeasuredRing {
    /// Places round the turn, measured or not: as many as the circle has holes
    /// or the body stations, or any number of equally spaced ones for a dial; at
    /// most 10,000. A body with one station has one place.
    pub places: u32,
    /// The measured places, in growing number.
    pub deviations: Vec<MeasuredPlace>,
    /// How the errors of the measurement hang together; without it each place
    /// stands for itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub covariance: Option<MeasuredCovariance>,
}

/// One measured place.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MeasuredPlace {
    /// Its number, from 0.
    pub place: u32,
    /// Where it stands less where it should, in the sense of the numbering, in
    /// seconds of arc; at most 10° either way.
    pub deviation_arcsec: f64,
    /// Standard uncertainty of the deviation, in seconds of arc. Needed for a
    /// complete error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standard_uncertainty_arcsec: Option<f64>,
    /// How much further from the axis it stands than the pitch radius; a bar on
    /// two pins needs it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radial: Option<Length>,
    /// Standard uncertainty of that; needed with it for a complete figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radial_uncertainty: Option<Length>,
}

/// What a measured ring says at an angle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InterpolatedDeviation {
    /// The deviation, in radians.
    pub deviation_rad: f64,
    /// Its standard uncertainty from that of the places, in radians.
    pub standard_uncertainty_rad: Option<f64>,
    /// Whether a measured place stands at this very angle.
    pub at_a_place: bool,
}

impl MeasuredPlace {
    /// The deviation in radians.
    #[must_use]
    pub fn deviation_rad(&self) -> f64 {
        (self.deviation_arcsec / 3600.0).to_radians()
    }

    /// Its standard uncertainty in radians, if known.
    #[must_use]
    pub fn standard_uncertainty_rad(&self) -> Option<f64> {
        Some((self.standard_uncertainty_arcsec? / 3600.0).to_radians())
    }

    fn check(&self) -> Result<()> {
        check_number(self.deviation_arcsec, -LARGEST_ARCSEC, LARGEST_ARCSEC)
            .at("deviation_arcsec")?;
        if let Some(value) = self.standard_uncertainty_arcsec {
            check_number(value, 0.0, LARGEST_UNCERTAINTY_ARCSEC)
                .at("standard_uncertainty_arcsec")?;
        }
        if let Some(value) = self.radial_uncertainty {
            value.check_not_negative().at("radial_uncertainty")?;
            if self.radial.is_none() {
                return Err(Error::new(
                    ErrorKind::Inconsistent,
                    "an uncertainty of a radial deviation that is not given; give radial too",
                )
                .at("radial_uncertainty"));
            }
        }
        Ok(())
    }
}

impl MeasuredRing {
    /// A place, if it was measured.
    #[must_use]
    pub fn at(&self, place: u32) -> Option<&MeasuredPlace> {
        self.deviations
            .binary_search_by_key(&place, |it| it.place)
            .ok()
            .and_then(|index| self.deviations.get(index))
    }

    /// Covariance of the deviations of two measured places, in rad²; nothing
    /// where one of them was not measured or has no uncertainty.
    #[must_use]
    pub fn covariance_rad2(&self, one: u32, other: u32) -> Option<f64> {
        let index = |place| {
            self.deviations
                .binary_search_by_key(&place, |it| it.place)
                .ok()
        };
        let (first, second) = (index(one)?, index(other)?);
        let uncertainty = |index: usize| self.deviations.get(index)?.standard_uncertainty_rad();
        let (u, v) = (uncertainty(first)?, uncertainty(second)?);
        Some(match &self.covariance {
            Some(_) | None if one == other => u * u,
            None => 0.0,
            Some(covariance) => {
                let rad = (1.0_f64 / 3600.0).to_radians();
                covariance.at(self.places, (first, one), (second, other))? * rad * rad
            }
            .clamp(-u * v, u * v),
        })
    }

    /// What is known at an angle from place 0 in the sense of the numbering, of
    /// equally spaced places; on the straight line between two neighbours where
    /// it is none. Nothing where a place that it needs was not measured.
    ///
    /// ```
    /// use dividing_core::equipment::MeasuredRing;
    /// let ring: MeasuredRing = serde_json::from_str(r#"{"places": 36, "deviations": [
    ///     {"place": 0, "deviation_arcsec": 6, "standard_uncertainty_arcsec": 2},
    ///     {"place": 1, "deviation_arcsec": 10, "standard_uncertainty_arcsec": 2}]}"#).unwrap();
    /// let found = ring.interpolated("2.5 deg".parse()?).unwrap();
    /// assert!((found.deviation_rad.to_degrees() * 3600.0 - 7.0).abs() < 1e-9);
    /// assert!(!found.at_a_place);
    /// assert!(ring.interpolated("12 deg".parse()?).is_none());
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    #[must_use]
    pub fn interpolated(&self, angle: Angle) -> Option<InterpolatedDeviation> {
        let shares = self.shares(angle)?;
        let mut deviation_rad = 0.0;
        for &(place, share) in &shares {
            deviation_rad += share * self.at(place)?.deviation_rad();
        }
        Some(InterpolatedDeviation {
            deviation_rad,
            standard_uncertainty_rad: self.variance_rad2(&shares).map(f64::sqrt),
            at_a_place: shares.len() == 1,
        })
    }

    /// The measured place at an angle, or the two next to it with the share of
    /// each.
    pub(crate) fn shares(&self, angle: Angle) -> Option<Vec<(u32, f64)>> {
        let places = i128::from(self.places);
        let position = angle.within_turn().checked_mul(places).ok()?;
        let below = position.numerator().div_euclid(position.denominator());
        let rest = position.numerator() - below * position.denominator();
        let share = as_f64(rest) / as_f64(position.denominator());
        let mut shares = vec![(u32::try_from(below).ok()?, 1.0 - share)];
        if rest != 0 {
            shares.push((u32::try_from((below + 1) % places).ok()?, share));
        }
        let measured = shares.iter().all(|(place, _)| self.at(*place).is_some());
        measured.then_some(shares)
    }

    /// Variance of the sum of places times their shares, in rad²; nothing where
    /// one has no uncertainty.
    pub(crate) fn variance_rad2(&self, shares: &[(u32, f64)]) -> Option<f64> {
        let mut sum = 0.0;
        for (one, share) in shares {
            for (other, others) in shares {
                sum += share * others * self.covariance_rad2(*one, *other)?;
            }
        }
        Some(sum.max(0.0))
    }

    /// Refuses a ring that does not make sense.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] and [`ErrorKind::NotFinite`] for bad numbers,
    /// [`ErrorKind::Duplicate`] and [`ErrorKind::Inconsistent`] for places
    /// listed twice or out of order, [`ErrorKind::EmptyList`].
    pub fn check(&self) -> Result<()> {
        if !(1..=MAX_MEASURED_PLACES).contains(&self.places) {
            return Err(Error::out_of_range(
                self.places,
                format!("1 to {MAX_MEASURED_PLACES} places"),
            )
            .at("places"));
        }
        if self.deviations.is_empty() {
            return Err(Error::new(
                ErrorKind::EmptyList,
                "no place is measured; list one at least, or leave the measurement out",
            )
            .at("deviations"));
        }
        let mut last = None;
        for (index, place) in self.deviations.iter().enumerate() {
            let path = format!("deviations[{index}]");
            place.check().at(path.clone())?;
            if place.place >= self.places {
                let accepted = format!("0 to {}", self.places - 1);
                return Err(Error::out_of_range(place.place, accepted)
                    .at("place")
                    .at(path));
            }
            if last.is_some_and(|last| place.place <= last) {
                let twice = last == Some(place.place);
                let (kind, how) = if twice {
                    (ErrorKind::Duplicate, "is listed twice; list each once")
                } else {
                    (
                        ErrorKind::Inconsistent,
                        "is out of order; list the places in growing number",
                    )
                };
                return Err(Error::new(kind, format!("place {} {how}", place.place))
                    .at("place")
                    .at(path));
            }
            last = Some(place.place);
        }
        match &self.covariance {
            Some(covariance) => covariance
                .check(self.places, &self.deviations)
                .at("covariance"),
            None => Ok(()),
        }
    }

    /// The same for so many holes or stations.
    pub(crate) fn check_for(&self, number: usize, what: &str) -> Result<()> {
        self.check()?;
        if self.places as usize == number {
            return Ok(());
        }
        Err(Error::new(
            ErrorKind::Inconsistent,
            format!(
                "the measurement has {} places; accepted: that of the {number} {what}",
                self.places
            ),
        )
        .at("places"))
    }
}

fn check_number(value: f64, least: f64, most: f64) -> Result<()> {
    if !value.is_finite() {
        return Err(Error::new(
            ErrorKind::NotFinite,
            format!("{value} is not finite; accepted: {least} to {most} arcsec"),
        ));
    }
    if (least..=most).contains(&value) {
        Ok(())
    } else {
        Err(Error::out_of_range(
            format!("{value} arcsec"),
            format!("{least} to {most} arcsec"),
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(places: &[(u32, f64)]) -> MeasuredRing {
        MeasuredRing {
            places: 6,
            deviations: places
                .iter()
                .map(|&(place, deviation_arcsec)| MeasuredPlace {
                    place,
                    deviation_arcsec,
                    standard_uncertainty_arcsec: None,
                    radial: None,
                    radial_uncertainty: None,
                })
                .collect(),
            covariance: None,
        }
    }

    #[test]
    fn hostile_rings_are_refused() {
        let six = |ring: &MeasuredRing| ring.check_for(6, "holes");
        assert!(six(&ring(&[(0, 1.0), (5, -1.0)])).is_ok());
        let kind = |ring: &MeasuredRing| six(ring).unwrap_err().kind();
        assert_eq!(kind(&ring(&[])), ErrorKind::EmptyList);
        assert_eq!(kind(&ring(&[(1, 0.0), (1, 0.0)])), ErrorKind::Duplicate);
        assert_eq!(kind(&ring(&[(2, 0.0), (1, 0.0)])), ErrorKind::Inconsistent);
        assert_eq!(kind(&ring(&[(6, 0.0)])), ErrorKind::OutOfRange);
        assert_eq!(kind(&ring(&[(0, f64::NAN)])), ErrorKind::NotFinite);
        assert_eq!(kind(&ring(&[(0, 1.0e9)])), ErrorKind::OutOfRange);
        let error = ring(&[(0, 1.0)]).check_for(7, "holes").unwrap_err();
        assert_eq!(
            (error.kind(), error.field()),
            (ErrorKind::Inconsistent, "places")
        );
        let mut negative = ring(&[(0, 1.0)]);
        negative.deviations[0].standard_uncertainty_arcsec = Some(-1.0);
        assert_eq!(
            negative.check().unwrap_err().field(),
            "deviations[0].standard_uncertainty_arcsec"
        );
    }
}
