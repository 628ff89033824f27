//! The drawing's side: which features, where, how close.

mod bolt_circle;
mod cut;
mod flats;

pub use bolt_circle::{BoltCircle, HolePlace, MachineAxes, MachineAxis};
pub use cut::{Graduations, Mark, Slots, SlotsGeometry, Teeth, TeethGeometry, ToothSize};
pub use flats::{Flats, FlatsGeometry, OppositeMeasure};

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use crate::angle::Angle;
use crate::document::check_name;
use crate::equipment::Sense;
use crate::error::{AtField, Error, ErrorKind, Result};

/// Most features of one job.
pub const MAX_FEATURES: u32 = 100_000;

/// What the drawing asks for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub enum Features {
    /// N equal divisions of anything.
    EqualDivisions(EqualDivisions),
    /// Holes on a circle.
    BoltCircle(BoltCircle),
    /// Flats on round stock.
    Flats(Flats),
    /// Any list of angles.
    Angles(AngleList),
    /// Slots with parallel sides.
    Slots(Slots),
    /// Teeth of a spur wheel.
    Teeth(Teeth),
    /// Lines of a scale.
    Graduations(Graduations),
}

/// N features, equally spaced round the part.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct EqualDivisions {
    /// How many, 2 to 100,000.
    pub count: u32,
    /// What one of them is called on the sheet.
    #[serde(default = "feature")]
    pub called: String,
    /// Drawing angle of the first.
    #[serde(default)]
    pub first_angle: Angle,
}

/// Features at listed angles.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AngleList {
    /// Drawing angles, in the order in which they are to be made.
    pub angles: Vec<Angle>,
    /// What one of them is called on the sheet.
    #[serde(default = "feature")]
    pub called: String,
}

fn feature() -> String {
    "feature".into()
}

impl Features {
    /// How many features there are.
    #[must_use]
    pub fn count(&self) -> usize {
        match self {
            Self::EqualDivisions(it) => it.count as usize,
            Self::BoltCircle(it) => it.count as usize,
            Self::Flats(it) => it.count as usize,
            Self::Angles(it) => it.angles.len(),
            Self::Slots(it) => it.count as usize,
            Self::Teeth(it) => it.count as usize,
            Self::Graduations(it) => it.count as usize,
        }
    }

    /// What one feature is called.
    #[must_use]
    pub fn called(&self) -> &str {
        match self {
            Self::EqualDivisions(it) => &it.called,
            Self::BoltCircle(_) => "hole",
            Self::Flats(_) => "flat",
            Self::Angles(it) => &it.called,
            Self::Slots(_) => "slot",
            Self::Teeth(_) => "tooth",
            Self::Graduations(_) => "line",
        }
    }

    /// The number of equal divisions, unless this is a list of angles.
    #[must_use]
    pub const fn equal_divisions(&self) -> Option<u32> {
        match self {
            Self::EqualDivisions(it) => Some(it.count),
            Self::BoltCircle(it) => Some(it.count),
            Self::Flats(it) => Some(it.count),
            Self::Slots(it) => Some(it.count),
            Self::Teeth(it) => Some(it.count),
            Self::Graduations(it) => Some(it.count),
            Self::Angles(_) => None,
        }
    }

    /// The drawing angle of every feature, in the order of making.
    ///
    /// # Errors
    /// [`ErrorKind::Overflow`] when an angle does not fit.
    pub fn angles(&self) -> Result<Vec<Angle>> {
        match self {
            Self::EqualDivisions(it) => equally_spaced(it.count, it.first_angle, Sense::default()),
            Self::BoltCircle(it) => equally_spaced(it.count, it.first_angle, it.direction),
            Self::Flats(it) => equally_spaced(it.count, it.first_angle, Sense::default()),
            Self::Slots(it) => equally_spaced(it.count, it.first_angle, Sense::default()),
            Self::Teeth(it) => equally_spaced(it.count, it.first_angle, Sense::default()),
            Self::Graduations(it) => equally_spaced(it.count, it.first_angle, Sense::default()),
            Self::Angles(it) => Ok(it.angles.clone()),
        }
    }

    pub(crate) fn check(&self) -> Result<()> {
        match self {
            Self::EqualDivisions(it) => {
                check_count(it.count).at("equal_divisions.count")?;
                check_name(&it.called).at("equal_divisions.called")
            }
            Self::BoltCircle(it) => it.check().at("bolt_circle"),
            Self::Flats(it) => it.check().at("flats"),
            Self::Angles(it) => it.check().at("angles"),
            Self::Slots(it) => it.check().at("slots"),
            Self::Teeth(it) => it.check().at("teeth"),
            Self::Graduations(it) => it.check().at("graduations"),
        }
    }
}

impl AngleList {
    fn check(&self) -> Result<()> {
        check_name(&self.called).at("called")?;
        if self.angles.is_empty() {
            return Err(
                Error::new(ErrorKind::EmptyList, "there is no angle; give at least one")
                    .at("angles"),
            );
        }
        if self.angles.len() > MAX_FEATURES as usize {
            return Err(Error::out_of_range(
                format!("{} angles", self.angles.len()),
                format!("1 to {MAX_FEATURES}"),
            )
            .at("angles"));
        }
        let mut seen = BTreeSet::new();
        for (index, angle) in self.angles.iter().enumerate() {
            if !seen.insert(angle.within_turn()) {
                return Err(Error::new(
                    ErrorKind::Duplicate,
                    format!("{angle} is listed twice round the turn; list each angle once"),
                )
                .at(format!("angles[{index}]")));
            }
        }
        Ok(())
    }
}

/// Refuses a count of features outside its limits.
fn check_count(count: u32) -> Result<()> {
    if (2..=MAX_FEATURES).contains(&count) {
        Ok(())
    } else {
        Err(Error::out_of_range(count, format!("2 to {MAX_FEATURES}")))
    }
}

fn equally_spaced(count: u32, first: Angle, direction: Sense) -> Result<Vec<Angle>> {
    (0..count)
        .map(|index| {
            let step = Angle::new(i128::from(index), i128::from(count))?;
            first.checked_add(direction.apply(step))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_divisions_follow_the_first_angle_and_the_direction() {
        let circle = Features::BoltCircle(BoltCircle {
            count: 4,
            pitch_radius: "30 mm".parse().unwrap(),
            hole_diameter: None,
            first_angle: "10 deg".parse().unwrap(),
            direction: Sense::Clockwise,
            axes: None,
            chord_checks: Vec::new(),
        });
        let angles: Vec<String> = circle
            .angles()
            .unwrap()
            .iter()
            .map(Angle::to_string)
            .collect();
        assert_eq!(angles, ["10°", "-80°", "-170°", "-260°"]);
    }

    #[test]
    fn hostile_features_are_refused() {
        let list = |angles: &[&str]| {
            Features::Angles(AngleList {
                angles: angles.iter().map(|text| text.parse().unwrap()).collect(),
                called: "detent".into(),
            })
        };
        assert!(list(&["0 deg", "17.5 deg"]).check().is_ok());
        assert_eq!(list(&[]).check().unwrap_err().kind(), ErrorKind::EmptyList);
        let twice = list(&["0 deg", "360 deg"]).check().unwrap_err();
        assert_eq!(
            (twice.kind(), twice.field()),
            (ErrorKind::Duplicate, "angles.angles[1]")
        );
        for count in [0, 1, MAX_FEATURES + 1] {
            let bad = Features::EqualDivisions(EqualDivisions {
                count,
                called: "slot".into(),
                first_angle: Angle::ZERO,
            });
            assert_eq!(bad.check().unwrap_err().field(), "equal_divisions.count");
        }
    }
}
