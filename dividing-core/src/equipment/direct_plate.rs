//! Direct plate: a plunger drops into holes of a plate on the spindle itself.

use serde::{Deserialize, Serialize};

use super::circle::{HoleCircle, Sense, check_circles, check_room};
use super::registration::PinInHole;
use crate::angle::Angle;
use crate::document::check_name;
use crate::error::{AtField, Result};
use crate::length::Length;

/// A plate fixed to the spindle or the part, with a plunger at one station.
///
/// It holds the orientations `station − angle(hole)`. Collet indexers of the
/// plain kind and spindle-nose plates are this.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DirectPlate {
    /// What the shop calls it.
    pub name: String,
    /// Its hole circles. A job stays on one circle.
    pub circles: Vec<HoleCircle>,
    /// Where the plunger stands.
    #[serde(default)]
    pub station: Angle,
    /// The way in which the holes are numbered.
    #[serde(default)]
    pub sense: Sense,
    /// Pin and holes. Needed for an error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub registration: Option<PinInHole>,
    /// Distance of the plate's centre from the spindle axis, at most.
    #[serde(default)]
    pub eccentricity: Length,
    /// Clearance of the plate's bore on its seat; acts in series with the pin.
    #[serde(default)]
    pub bore_clearance: Length,
}

impl DirectPlate {
    pub(crate) fn check(&self) -> Result<()> {
        check_name(&self.name).at("name")?;
        check_circles(&self.circles)?;
        if let Some(registration) = &self.registration {
            registration.check().at("registration")?;
            check_room(&self.circles, registration.hole_diameter)?;
        }
        self.eccentricity.check_not_negative().at("eccentricity")?;
        self.bore_clearance
            .check_not_negative()
            .at("bore_clearance")
    }
}
