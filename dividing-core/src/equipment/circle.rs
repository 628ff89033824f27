//! Hole circles.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use super::measured::MeasuredRing;
use crate::angle::Angle;
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

/// Most holes on one circle.
pub const MAX_HOLES: u32 = 100_000;

/// The way in which holes are numbered or a dial grows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Sense {
    /// Counter-clockwise, seen from the side of the cutter.
    #[default]
    CounterClockwise,
    /// Clockwise, seen from the side of the cutter.
    Clockwise,
}

impl Sense {
    /// The angle as it stands, or turned the other way for a clockwise device.
    #[must_use]
    pub fn apply(self, angle: Angle) -> Angle {
        match self {
            Self::CounterClockwise => angle,
            Self::Clockwise => -angle,
        }
    }
}

/// One circle of equally spaced places for holes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct HoleCircle {
    /// Equally spaced places, 2 to 100,000; some may be absent.
    pub holes: u32,
    /// Radius of the pitch circle. Needed for an error figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pitch_radius: Option<Length>,
    /// Angle of hole 0.
    #[serde(default)]
    pub first_hole: Angle,
    /// Places that hold no usable hole: never drilled, damaged or plugged.
    /// What was measured of one before stays where it is and counts for nothing.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub absent: Vec<u32>,
    /// What was measured of its holes: where they really stand.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured: Option<MeasuredRing>,
}

impl HoleCircle {
    /// A full circle of `holes` at a pitch radius, hole 0 at angle 0.
    #[must_use]
    pub const fn full(holes: u32, pitch_radius: Option<Length>) -> Self {
        Self {
            holes,
            pitch_radius,
            first_hole: Angle::ZERO,
            absent: Vec::new(),
            measured: None,
        }
    }

    /// The places that can be used, in growing number.
    #[must_use]
    pub fn present(&self) -> Vec<u32> {
        let absent: BTreeSet<u32> = self.absent.iter().copied().collect();
        (0..self.holes)
            .filter(|hole| !absent.contains(hole))
            .collect()
    }

    /// Whether every place can be used.
    #[must_use]
    pub const fn is_full(&self) -> bool {
        self.absent.is_empty()
    }

    pub(crate) fn check(&self) -> Result<()> {
        check_holes(self.holes).at("holes")?;
        if let Some(radius) = self.pitch_radius {
            radius.check_positive().at("pitch_radius")?;
        }
        if let Some(measured) = &self.measured {
            measured
                .check_for(self.holes as usize, "holes of this circle")
                .at("measured")?;
        }
        check_absent(&self.absent, self.holes)
    }
}

/// Refuses absent places that are not there, that come twice, or that are all.
pub(crate) fn check_absent(absent: &[u32], holes: u32) -> Result<()> {
    let mut seen = BTreeSet::new();
    for (index, hole) in absent.iter().enumerate() {
        let path = format!("absent[{index}]");
        if *hole >= holes {
            return Err(Error::out_of_range(hole, format!("0 to {}", holes - 1)).at(path));
        }
        if !seen.insert(hole) {
            return Err(Error::new(
                ErrorKind::Duplicate,
                format!("hole {hole} is listed twice; list each hole once"),
            )
            .at(path));
        }
    }
    if seen.len() + 1 > holes as usize {
        return Err(Error::new(
            ErrorKind::EmptyList,
            "every hole is absent; leave at least one",
        )
        .at("absent"));
    }
    Ok(())
}

/// Refuses a count of holes outside its limits.
pub(crate) fn check_holes(holes: u32) -> Result<()> {
    if (2..=MAX_HOLES).contains(&holes) {
        Ok(())
    } else {
        Err(Error::out_of_range(
            holes,
            format!("2 to {MAX_HOLES} holes"),
        ))
    }
}

/// Refuses holes so large that neighbours on a circle run into each other.
pub(crate) fn check_room(circles: &[HoleCircle], hole: Length) -> Result<()> {
    for (index, circle) in circles.iter().enumerate() {
        let Some(radius) = circle.pitch_radius else {
            continue;
        };
        let pitch_mm = 2.0 * radius.mm() * (std::f64::consts::PI / f64::from(circle.holes)).sin();
        let present = circle.present();
        let wraps = present.first() == Some(&0) && present.last() == Some(&(circle.holes - 1));
        let neighbours = wraps
            || present
                .windows(2)
                .any(|pair| matches!(pair, [a, b] if a + 1 == *b));
        if neighbours && hole.mm() >= pitch_mm {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "{} holes of {hole} on a pitch radius of {radius} run into each other, \
                     {pitch_mm:.3} mm from centre to centre; accepted: smaller or fewer holes, or a larger radius",
                    circle.holes
                ),
            )
            .at(format!("circles[{index}].pitch_radius")));
        }
    }
    Ok(())
}

/// Refuses a list of hole circles that is empty or names a circle twice.
pub(crate) fn check_circles(circles: &[HoleCircle]) -> Result<()> {
    if circles.is_empty() {
        return Err(Error::new(
            ErrorKind::EmptyList,
            "there is no hole circle; give at least one",
        )
        .at("circles"));
    }
    let mut seen = BTreeSet::new();
    for (index, circle) in circles.iter().enumerate() {
        circle.check().at(format!("circles[{index}]"))?;
        if !seen.insert(circle.holes) {
            return Err(Error::new(
                ErrorKind::Duplicate,
                format!(
                    "a circle of {} holes is listed twice; list each once",
                    circle.holes
                ),
            )
            .at(format!("circles[{index}].holes")));
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hostile_circles_are_refused() {
        let circle = HoleCircle::full(6, None);
        assert!(circle.check().is_ok());
        for holes in [0, 1, MAX_HOLES + 1] {
            let bad = HoleCircle {
                holes,
                ..circle.clone()
            };
            assert_eq!(bad.check().unwrap_err().field(), "holes");
        }
        let bad = HoleCircle {
            absent: vec![6],
            ..circle.clone()
        };
        assert_eq!(bad.check().unwrap_err().field(), "absent[0]");
        let bad = HoleCircle {
            absent: vec![1, 1],
            ..circle.clone()
        };
        assert_eq!(bad.check().unwrap_err().kind(), ErrorKind::Duplicate);
        let bad = HoleCircle {
            absent: (0..6).collect(),
            ..circle.clone()
        };
        assert_eq!(bad.check().unwrap_err().kind(), ErrorKind::EmptyList);
        let bad = HoleCircle {
            pitch_radius: Some(Length::ZERO),
            ..circle.clone()
        };
        assert_eq!(bad.check().unwrap_err().field(), "pitch_radius");
        let twice = [circle.clone(), circle];
        assert_eq!(
            check_circles(&twice).unwrap_err().field(),
            "circles[1].holes"
        );
        assert_eq!(check_circles(&[]).unwrap_err().kind(), ErrorKind::EmptyList);
    }
}
