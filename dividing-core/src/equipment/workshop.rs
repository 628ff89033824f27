//! A workshop: the checked list of equipment.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use super::Equipment;
use crate::document::{self, FORMAT, check_format, check_name};
use crate::error::{AtField, Error, ErrorKind, Result, quoted};

/// Most pieces of equipment in a workshop.
pub const MAX_EQUIPMENT: usize = 1000;

/// What a shop owns.
///
/// ```
/// use dividing_core::Workshop;
/// let workshop = Workshop::from_json(r#"{
///     "format": 1,
///     "name": "Bench",
///     "equipment": [
///         {"faced_block": {"name": "square block", "faces": 4}},
///         {"vee_block": {"name": "V-block", "included_angle": "90 deg"}}
///     ]
/// }"#)?;
/// assert_eq!(workshop.equipment().len(), 2);
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "WorkshopDocument", into = "WorkshopDocument")]
pub struct Workshop {
    name: String,
    equipment: Vec<Equipment>,
}

/// A workshop as it is written.
#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Workshop"))]
pub(crate) struct WorkshopDocument {
    /// The format of this document: 1.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
    format: u32,
    /// What the shop is called.
    name: String,
    /// Its equipment.
    equipment: Vec<Equipment>,
}

impl Workshop {
    /// A workshop of this equipment.
    ///
    /// # Errors
    /// The first thing that does not make sense, with the path to its field:
    /// an empty list, two pieces of one name, or any limit of a piece.
    pub fn new(name: impl Into<String>, equipment: Vec<Equipment>) -> Result<Self> {
        let name = name.into();
        check_name(&name).at("name")?;
        if equipment.is_empty() || equipment.len() > MAX_EQUIPMENT {
            let kind = if equipment.is_empty() {
                ErrorKind::EmptyList
            } else {
                ErrorKind::OutOfRange
            };
            return Err(Error::new(
                kind,
                format!(
                    "{} pieces of equipment; accepted: 1 to {MAX_EQUIPMENT}",
                    equipment.len()
                ),
            )
            .at("equipment"));
        }
        let mut names = BTreeSet::new();
        for (index, piece) in equipment.iter().enumerate() {
            piece.check().at(format!("equipment[{index}]"))?;
            if !names.insert(piece.name()) {
                return Err(Error::new(
                    ErrorKind::Duplicate,
                    format!(
                        "two pieces are called {}; give each its own name",
                        quoted(piece.name())
                    ),
                )
                .at(format!("equipment[{index}].{}.name", piece.kind())));
            }
        }
        for (index, piece) in equipment.iter().enumerate() {
            if let Equipment::Stack(stack) = piece {
                stack
                    .check_members(&equipment)
                    .at(format!("equipment[{index}].stack"))?;
            }
        }
        Ok(Self { name, equipment })
    }

    /// Reads a workshop from JSON text.
    ///
    /// # Errors
    /// The path to the field, what was found there and what would be accepted.
    pub fn from_json(text: &str) -> Result<Self> {
        document::read::<WorkshopDocument>(text)?.try_into()
    }

    /// The workshop as JSON text; reading it back gives an equal workshop.
    ///
    /// # Errors
    /// None on a workshop made by this library; the result is one so that a
    /// defect shows as an error.
    pub fn to_json(&self) -> Result<String> {
        document::write(self)
    }

    /// What the shop is called.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The piece of equipment of a name.
    #[must_use]
    pub fn piece(&self, name: &str) -> Option<&Equipment> {
        self.equipment.iter().find(|it| it.name() == name)
    }

    /// The equipment, in the order given.
    #[must_use]
    pub fn equipment(&self) -> &[Equipment] {
        &self.equipment
    }
}

impl TryFrom<WorkshopDocument> for Workshop {
    type Error = Error;

    fn try_from(document: WorkshopDocument) -> Result<Self> {
        check_format(document.format)?;
        Self::new(document.name, document.equipment)
    }
}

impl From<Workshop> for WorkshopDocument {
    fn from(workshop: Workshop) -> Self {
        Self {
            format: FORMAT,
            name: workshop.name,
            equipment: workshop.equipment,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn error(text: &str) -> Error {
        Workshop::from_json(text).unwrap_err()
    }

    #[test]
    fn errors_name_the_path_to_the_field() {
        let with = |piece: &str| format!(r#"{{"format":1,"name":"x","equipment":[{piece}]}}"#);
        let holes = error(&with(
            r#"{"direct_plate":{"name":"p","circles":[{"holes":1}]}}"#,
        ));
        assert_eq!(holes.field(), "equipment[0].direct_plate.circles[0].holes");
        let unknown = error(&with(r#"{"direct_plate":{"name":"p","circels":[]}}"#));
        assert_eq!(unknown.kind(), ErrorKind::UnknownField);
        assert!(unknown.to_string().contains("circels"), "{unknown}");
        let kind = error(&with(r#"{"lathe":{"name":"p"}}"#));
        assert_eq!(kind.kind(), ErrorKind::UnknownField);
        let pin = error(&with(
            r#"{"direct_plate":{"name":"p","circles":[{"holes":12}],"registration":
               {"pin_diameter":6.1,"hole_diameter":6,"hole_position_tolerance":0.02}}}"#,
        ));
        assert_eq!(pin.kind(), ErrorKind::Inconsistent);
        assert_eq!(
            pin.field(),
            "equipment[0].direct_plate.registration.pin_diameter"
        );
        let angle = error(&with(r#"{"vee_block":{"name":"v","included_angle":"90"}}"#));
        assert!(angle.to_string().contains("90 deg"), "{angle}");
        assert_eq!(angle.field(), "equipment[0].vee_block.included_angle");
        assert_eq!(error(&with("")).kind(), ErrorKind::EmptyList);
        assert_eq!(
            error(r#"{"format":2,"name":"x","equipment":[]}"#).kind(),
            ErrorKind::UnknownFormat
        );
    }

    #[test]
    fn two_pieces_need_two_names() {
        let block = r#"{"faced_block":{"name":"b","faces":4}}"#;
        let text = format!(r#"{{"format":1,"name":"x","equipment":[{block},{block}]}}"#);
        assert_eq!(error(&text).kind(), ErrorKind::Duplicate);
    }
}
