//! A wish, as answers name it.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::words::angle_text;
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

/// Most angles of a list that its name lists.
const MOST_LISTED: usize = 3;

impl fmt::Display for Wish {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Division(n) => write!(f, "{n} divisions"),
            Self::Angle(angle) => write!(f, "the angle {}", angle_text(*angle)),
            Self::List(angles) => {
                let few = angles.get(..MOST_LISTED);
                let first: Vec<String> = (few.unwrap_or(angles).iter())
                    .map(|angle| angle_text(*angle))
                    .collect();
                write!(f, "the list {}", first.join(", "))?;
                if angles.len() > MOST_LISTED {
                    write!(f, ", … of {} angles", angles.len())?;
                }
                Ok(())
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_are_told_apart_by_their_angles() {
        let list = |degrees: &[i128]| {
            let angles = degrees.iter().map(|it| Angle::new(*it, 360).unwrap());
            Wish::List(angles.collect()).to_string()
        };
        assert_eq!(list(&[10]), "the list 10°");
        assert_eq!(list(&[10, 40, 70]), "the list 10°, 40°, 70°");
        assert_eq!(
            list(&[10, 40, 70, 100]),
            "the list 10°, 40°, 70°, … of 4 angles"
        );
        let angle = |text: &str| Wish::Angle(text.parse().unwrap()).to_string();
        assert_eq!(angle("12°34'56\""), "the angle 12°34'56\"");
        assert_eq!(angle("-0°20'"), "the angle -0°20'00\"");
        assert_eq!(angle("0°30'"), "the angle 0.5°");
        assert_eq!(angle("1/7 turn"), "the angle 1/7 turn");
    }
}
