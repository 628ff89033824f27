//! A wish, as answers name it.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::angle::Angle;

/// What was asked for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Wish {
    /// N equal divisions.
    Division(u64),
    /// One angle.
    Angle(Angle),
    /// A list of angles.
    List(Vec<Angle>),
}

impl fmt::Display for Wish {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Division(n) => write!(f, "{n} divisions"),
            Self::Angle(angle) => write!(f, "the angle {angle}"),
            Self::List(angles) => write!(f, "a list of {} angles", angles.len()),
        }
    }
}
