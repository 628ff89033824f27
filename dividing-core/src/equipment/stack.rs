//! A stack: one device held on another, so that their angles add.

use serde::{Deserialize, Serialize};

use super::Equipment;
use crate::document::check_name;
use crate::error::{AtField, Error, ErrorKind, Result, quoted};

/// Most members of a stack.
pub const MAX_STACK_MEMBERS: usize = 4;

/// Two or more pieces of the workshop, each held on the one before it, such as a
/// square block in the collet of a direct plate.
///
/// It holds every sum of what its members hold. One member at most may be a
/// sine bar, angle gauge blocks or a pin plate used across its rings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Stack {
    /// What the shop calls it.
    pub name: String,
    /// Names of its members in the workshop, from the machine to the part; 2 to 4.
    pub members: Vec<String>,
}

impl Stack {
    pub(crate) fn check(&self) -> Result<()> {
        check_name(&self.name).at("name")?;
        if !(2..=MAX_STACK_MEMBERS).contains(&self.members.len()) {
            return Err(Error::out_of_range(
                format!("a stack of {} members", self.members.len()),
                format!("2 to {MAX_STACK_MEMBERS}"),
            )
            .at("members"));
        }
        Ok(())
    }

    /// Refuses members that the workshop lacks or that cannot be stacked.
    pub(crate) fn check_members(&self, workshop: &[Equipment]) -> Result<()> {
        let mut fine = 0;
        for (index, member) in self.members.iter().enumerate() {
            let path = format!("members[{index}]");
            let Some(piece) = workshop.iter().find(|it| it.name() == member) else {
                return Err(Error::new(
                    ErrorKind::NotFound,
                    format!(
                        "the workshop has no {}; accepted: the name of another piece of it",
                        quoted(member)
                    ),
                )
                .at(path));
            };
            if self.members.iter().take(index).any(|it| it == member) {
                return Err(Error::new(
                    ErrorKind::Duplicate,
                    format!("{} is listed twice; list each member once", quoted(member)),
                )
                .at(path));
            }
            match piece {
                Equipment::Stack(_) | Equipment::VeeBlock(_) | Equipment::PartReference(_) => {
                    return Err(Error::new(
                        ErrorKind::Inconsistent,
                        format!(
                            "{} is a {}, which cannot be a member; accepted: a device that turns or tilts the part",
                            quoted(member),
                            piece.kind()
                        ),
                    )
                    .at(path));
                }
                Equipment::SineBar(_) | Equipment::AngleBlocks(_) => fine += 1,
                _ => {}
            }
            if fine > 1 {
                return Err(Error::new(
                    ErrorKind::Inconsistent,
                    "a second sine bar or set of angle gauge blocks; accepted: one of them in a stack",
                )
                .at(path));
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use crate::equipment::Workshop;
    use crate::error::ErrorKind;

    #[test]
    fn members_must_be_pieces_that_can_be_stacked() {
        let with = |members: &str| {
            Workshop::from_json(&format!(
                r#"{{"format":1,"name":"x","equipment":[
                {{"stack":{{"name":"s","members":[{members}]}}}},
                {{"faced_block":{{"name":"square","faces":4}}}},
                {{"vee_block":{{"name":"vee","included_angle":"90 deg"}}}},
                {{"angle_blocks":{{"name":"wedges","blocks":{{"named":"pieces13"}}}}}},
                {{"sine_bar":{{"name":"bar","length":100,"blocks":{{"named":"metric_87"}}}}}},
                {{"direct_plate":{{"name":"plate","circles":[{{"holes":24}}]}}}}]}}"#
            ))
        };
        assert!(with(r#""plate","square""#).is_ok());
        assert!(with(r#""plate","square","bar""#).is_ok());
        for (members, field, kind) in [
            (r#""plate""#, "members", ErrorKind::OutOfRange),
            (r#""plate","cube""#, "members[1]", ErrorKind::NotFound),
            (r#""plate","plate""#, "members[1]", ErrorKind::Duplicate),
            (r#""plate","s""#, "members[1]", ErrorKind::Inconsistent),
            (r#""vee","plate""#, "members[0]", ErrorKind::Inconsistent),
            (r#""bar","wedges""#, "members[1]", ErrorKind::Inconsistent),
        ] {
            let error = with(members).unwrap_err();
            assert_eq!(error.field(), format!("equipment[0].stack.{field}"));
            assert_eq!(error.kind(), kind, "{members}");
        }
    }
}
