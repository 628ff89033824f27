//! What a measurement says about the places of a circle or a dial.

use serde::{Deserialize, Serialize};

use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

/// Most places of a measured ring.
pub const MAX_MEASURED_PLACES: u32 = 10_000;

/// Largest deviation that is taken for one, in seconds of arc: 10°.
const LARGEST_ARCSEC: f64 = 36_000.0;

/// Largest standard uncertainty, in seconds of arc: 1°.
const LARGEST_UNCERTAINTY_ARCSEC: f64 = 3600.0;

/// The measured places of a ring: of a hole circle, or of a dial read at
/// equally spaced angles.
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
    /// Equally spaced places round the turn, measured or not: as many as the
    /// circle has holes, or any number for a dial; at most 10,000.
    pub places: u32,
    /// The measured places, in growing number.
    pub deviations: Vec<MeasuredPlace>,
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
    /// Standard uncertainty of the deviation, in seconds of arc; taken as
    /// independent of the other places. Needed for a complete error figure.
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

    /// Refuses a ring that does not make sense.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] and [`ErrorKind::NotFinite`] for bad numbers,
    /// [`ErrorKind::Duplicate`] and [`ErrorKind::Inconsistent`] for places
    /// listed twice or out of order, [`ErrorKind::EmptyList`].
    pub fn check(&self) -> Result<()> {
        if !(2..=MAX_MEASURED_PLACES).contains(&self.places) {
            return Err(Error::out_of_range(
                self.places,
                format!("2 to {MAX_MEASURED_PLACES} places"),
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
        Ok(())
    }

    /// The same for a hole circle of so many holes.
    pub(crate) fn check_for(&self, holes: u32) -> Result<()> {
        self.check()?;
        if self.places == holes {
            return Ok(());
        }
        Err(Error::new(
            ErrorKind::Inconsistent,
            format!(
                "{} places were measured on a circle of {holes}; give the measurement of this circle",
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
        }
    }

    #[test]
    fn hostile_rings_are_refused() {
        assert!(ring(&[(0, 1.0), (5, -1.0)]).check_for(6).is_ok());
        let kind = |ring: &MeasuredRing| ring.check_for(6).unwrap_err().kind();
        assert_eq!(kind(&ring(&[])), ErrorKind::EmptyList);
        assert_eq!(kind(&ring(&[(1, 0.0), (1, 0.0)])), ErrorKind::Duplicate);
        assert_eq!(kind(&ring(&[(2, 0.0), (1, 0.0)])), ErrorKind::Inconsistent);
        assert_eq!(kind(&ring(&[(6, 0.0)])), ErrorKind::OutOfRange);
        assert_eq!(kind(&ring(&[(0, f64::NAN)])), ErrorKind::NotFinite);
        assert_eq!(kind(&ring(&[(0, 1.0e9)])), ErrorKind::OutOfRange);
        let error = ring(&[(0, 1.0)]).check_for(7).unwrap_err();
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
