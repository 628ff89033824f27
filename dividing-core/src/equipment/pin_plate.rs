//! Pin plate: a plate fixed to the part; a straight bar on two of its pins is
//! levelled, or squared, to set the angle.

use serde::{Deserialize, Serialize};

use super::blocks::check_error_angle;
use super::circle::{HoleCircle, Sense, check_circles, check_room};
use super::registration::PinInHole;
use crate::angle::Angle;
use crate::document::check_name;
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

/// How the pins sit in the plate.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum PinHold {
    /// Loose: under a level bar each pin lies at the bottom of its hole.
    #[default]
    Loose,
    /// Pressed or cemented in line with the hole.
    Fixed,
}

/// A levelling reading: what an indicator shows over a travel along the bar.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Levelling {
    /// Largest reading that is accepted as level.
    pub reading: Length,
    /// Travel along the bar between the two readings.
    pub travel: Length,
}

impl Levelling {
    fn check(&self) -> Result<()> {
        self.reading.check_not_negative().at("reading")?;
        self.travel.check_positive().at("travel")
    }
}

/// A plate with rings of holes for pins, fixed to the part.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PinPlate {
    /// What the shop calls it.
    pub name: String,
    /// Its rings of holes. Both pins of a setting stand on one ring, unless the
    /// bar may be laid across rings.
    pub circles: Vec<HoleCircle>,
    /// The way in which the holes are numbered.
    #[serde(default)]
    pub sense: Sense,
    /// Whether the bar may also be laid on the side of the pins that faces the
    /// centre, which adds half a turn.
    #[serde(default = "yes")]
    pub bar_turns_over: bool,
    /// Whether the bar may also be set upright with a square, which adds a
    /// quarter turn.
    #[serde(default)]
    pub square: bool,
    /// Whether the bar may also be laid on pins of two different rings, whose
    /// pitch radii are then needed. The angle is then a real number, from the
    /// coordinates of the pins; one ring is preferred where it is exact.
    #[serde(default)]
    pub across_rings: bool,
    /// Pins and holes. Needed for an error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub registration: Option<PinInHole>,
    /// How the pins sit in the plate.
    #[serde(default)]
    pub pin_hold: PinHold,
    /// Deviation of the bar's edge from straight over its length, at most.
    #[serde(default)]
    pub bar_straightness: Length,
    /// How closely the bar is levelled. Needed for an error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub levelling: Option<Levelling>,
    /// Deviation of the square from 90°, either way.
    #[serde(default)]
    pub square_error: Angle,
}

const fn yes() -> bool {
    true
}

impl PinPlate {
    pub(crate) fn check(&self) -> Result<()> {
        check_name(&self.name).at("name")?;
        check_circles(&self.circles)?;
        let known = |circle: &&HoleCircle| circle.pitch_radius.is_some();
        if self.across_rings && self.circles.iter().filter(known).count() < 2 {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                "a bar across rings needs the pitch radii of two rings; give them, or leave it out",
            )
            .at("across_rings"));
        }
        if let Some(registration) = &self.registration {
            registration.check().at("registration")?;
            check_room(&self.circles, registration.hole_diameter)?;
        }
        if let Some(levelling) = &self.levelling {
            levelling.check().at("levelling")?;
        }
        self.bar_straightness
            .check_not_negative()
            .at("bar_straightness")?;
        check_error_angle(self.square_error).at("square_error")
    }
}
