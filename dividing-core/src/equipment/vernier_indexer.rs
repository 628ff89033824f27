//! Vernier indexer: one circle of holes, several fixed stations for the pin.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use super::circle::{HoleCircle, Sense, check_room};
use super::measured::MeasuredRing;
use super::registration::{PinInHole, check_pin_fits};
use crate::angle::Angle;
use crate::document::check_name;
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

/// Most stations of one indexer.
pub const MAX_STATIONS: usize = 1000;

/// A circle of holes on the spindle and holes at several stations on the body;
/// the pin goes through both.
///
/// With stations at complete residues of the hole spacing, n holes and m
/// stations hold n·m equally spaced orientations.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct VernierIndexer {
    /// What the shop calls it.
    pub name: String,
    /// The circle of holes that turns with the spindle.
    pub circle: HoleCircle,
    /// Angles of the holes in the body.
    pub stations: Vec<Angle>,
    /// The way in which the holes are numbered.
    #[serde(default)]
    pub sense: Sense,
    /// Pin and holes of the circle. Needed for an error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub registration: Option<PinInHole>,
    /// Diameter of the holes in the body; that of the circle's holes if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub station_hole_diameter: Option<Length>,
    /// Diameter of the zone round its true place in which each station's centre
    /// lies; that of the circle's holes if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub station_position_tolerance: Option<Length>,
    /// What was measured of the stations: place i is station i as listed, and as
    /// many places as stations; deviations count in the sense of the numbering,
    /// about the axis of the spindle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_stations: Option<MeasuredRing>,
}

impl VernierIndexer {
    pub(crate) fn check(&self) -> Result<()> {
        check_name(&self.name).at("name")?;
        self.circle.check().at("circle")?;
        if self.stations.is_empty() {
            return Err(Error::new(
                ErrorKind::EmptyList,
                "there is no station; give at least one angle",
            )
            .at("stations"));
        }
        if self.stations.len() > MAX_STATIONS {
            return Err(Error::out_of_range(
                format!("{} stations", self.stations.len()),
                format!("1 to {MAX_STATIONS}"),
            )
            .at("stations"));
        }
        let mut seen = BTreeSet::new();
        for (index, station) in self.stations.iter().enumerate() {
            if !seen.insert(station.within_turn()) {
                return Err(Error::new(
                    ErrorKind::Duplicate,
                    format!("a station at {station} is listed twice; list each once"),
                )
                .at(format!("stations[{index}]")));
            }
        }
        if let Some(registration) = &self.registration {
            registration.check().at("registration")?;
            check_room(
                std::slice::from_ref(&self.circle),
                registration.hole_diameter,
            )?;
            if let Some(hole) = self.station_hole_diameter {
                check_pin_fits(registration.pin_diameter, hole).at("station_hole_diameter")?;
            }
        }
        if let Some(hole) = self.station_hole_diameter {
            hole.check_positive().at("station_hole_diameter")?;
        }
        if let Some(tolerance) = self.station_position_tolerance {
            tolerance
                .check_not_negative()
                .at("station_position_tolerance")?;
        }
        match &self.measured_stations {
            Some(measured) => measured
                .check_for(self.stations.len(), "stations of this body")
                .at("measured_stations"),
            None => Ok(()),
        }
    }
}
