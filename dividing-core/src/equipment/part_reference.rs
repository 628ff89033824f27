//! A reference that the part already has: a drilled hole with a pin in it, or a
//! flat against a block.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use super::blocks::check_error_angle;
use super::registration::PinInHole;
use crate::angle::Angle;
use crate::document::check_name;
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

/// Most stops of one reference.
pub const MAX_STOPS: usize = 1000;

/// Which feature of the part is brought to the stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum ReferenceFrom {
    /// The same one for every feature, such as a keyway. Errors do not add up.
    CommonDatum,
    /// The feature made last: each angle counts from the one before, and so
    /// does each error.
    LastFeature,
}

/// What the part touches.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum ReferenceContact {
    /// A pin through a hole of the part.
    DrilledHole(DrilledHole),
    /// A flat of the part against a block.
    Flat(FlatAgainstBlock),
}

/// A hole of the part with a pin in it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DrilledHole {
    /// Radius at which the hole stands. Needed for an error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radius: Option<Length>,
    /// Pin and hole. Needed for an error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub registration: Option<PinInHole>,
}

/// A flat of the part against a block.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FlatAgainstBlock {
    /// How far the flat may lie from true on the block, either way. Needed for
    /// an error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seat_error: Option<Angle>,
}

/// A stop for a feature that the part already has. It repeats the angles of the
/// device that its stops were set with.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PartReference {
    /// What the shop calls it.
    pub name: String,
    /// What the part touches.
    pub contact: ReferenceContact,
    /// Which feature is brought to the stop.
    pub from: ReferenceFrom,
    /// How far on from the referenced feature the cutter works, one angle for
    /// each stop. From the last feature there is one stop only.
    pub angles: Vec<Angle>,
    /// Error of the device that the stops were set with, either way. Needed for
    /// an error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub angle_error: Option<Angle>,
}

impl PartReference {
    pub(crate) fn check(&self) -> Result<()> {
        check_name(&self.name).at("name")?;
        match &self.contact {
            ReferenceContact::DrilledHole(it) => it.check().at("drilled_hole"),
            ReferenceContact::Flat(it) => it.check().at("flat"),
        }
        .at("contact")?;
        if let Some(error) = self.angle_error {
            check_error_angle(error).at("angle_error")?;
        }
        self.check_angles().at("angles")
    }

    fn check_angles(&self) -> Result<()> {
        if self.angles.is_empty() {
            return Err(Error::new(
                ErrorKind::EmptyList,
                "there is no stop; give at least one angle",
            ));
        }
        let chained = self.from == ReferenceFrom::LastFeature;
        if self.angles.len() > if chained { 1 } else { MAX_STOPS } {
            let accepted = if chained {
                "one angle when every feature is referenced to the last".into()
            } else {
                format!("1 to {MAX_STOPS} angles")
            };
            return Err(Error::out_of_range(
                format!("{} angles", self.angles.len()),
                accepted,
            ));
        }
        let mut seen = BTreeSet::new();
        for (index, angle) in self.angles.iter().enumerate() {
            if !seen.insert(angle.within_turn()) {
                return Err(Error::new(
                    ErrorKind::Duplicate,
                    format!("a stop at {angle} is listed twice; list each once"),
                )
                .at(format!("[{index}]")));
            }
            if chained && angle.within_turn().is_zero() {
                return Err(Error::out_of_range(
                    angle,
                    "an angle that leads away from the last feature",
                )
                .at(format!("[{index}]")));
            }
        }
        Ok(())
    }
}

impl DrilledHole {
    fn check(&self) -> Result<()> {
        if let Some(radius) = self.radius {
            radius.check_positive().at("radius")?;
        }
        match &self.registration {
            Some(pin) => pin.check().at("registration"),
            None => Ok(()),
        }
    }
}

impl FlatAgainstBlock {
    fn check(&self) -> Result<()> {
        match self.seat_error {
            Some(error) => check_error_angle(error).at("seat_error"),
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reference(from: ReferenceFrom, angles: &[&str]) -> PartReference {
        PartReference {
            name: "stop".into(),
            contact: ReferenceContact::Flat(FlatAgainstBlock::default()),
            from,
            angles: angles.iter().map(|text| text.parse().unwrap()).collect(),
            angle_error: None,
        }
    }

    #[test]
    fn hostile_references_are_refused() {
        use ReferenceFrom::{CommonDatum, LastFeature};
        assert!(reference(CommonDatum, &["0 deg", "40 deg"]).check().is_ok());
        for (from, angles, field, kind) in [
            (CommonDatum, &[][..], "angles", ErrorKind::EmptyList),
            (
                CommonDatum,
                &["0 deg", "360 deg"],
                "angles[1]",
                ErrorKind::Duplicate,
            ),
            (
                LastFeature,
                &["40 deg", "50 deg"],
                "angles",
                ErrorKind::OutOfRange,
            ),
            (
                LastFeature,
                &["360 deg"],
                "angles[0]",
                ErrorKind::OutOfRange,
            ),
        ] {
            let error = reference(from, angles).check().unwrap_err();
            assert_eq!((error.field(), error.kind()), (field, kind));
        }
    }
}
