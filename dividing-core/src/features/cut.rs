//! Slots, teeth and graduations: equal divisions with the facts that the
//! drawing gives about one of them.

use std::f64::consts::PI;

use serde::{Deserialize, Serialize};

use super::check_count;
use crate::angle::Angle;
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::{Length, MM_PER_INCH};

/// Equal slots with parallel sides, cut towards the axis.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Slots {
    /// How many slots, 2 to 100,000.
    pub count: u32,
    /// Width of one slot.
    pub width: Length,
    /// Depth below the outside diameter, measured on the middle of the slot.
    pub depth: Length,
    /// Outside diameter of the part.
    pub outside_diameter: Length,
    /// Drawing angle of the middle of the first slot.
    #[serde(default)]
    pub first_angle: Angle,
}

/// The figures of a set of slots, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlotsGeometry {
    /// Width of the land left between two slots at the outside, as a chord.
    pub land_mm: f64,
    /// Material left between two slots at their bottom; zero or less where
    /// neighbouring slots run into one another.
    pub web_at_bottom_mm: f64,
    /// From the bottom of a slot to that of the slot opposite, for an even count.
    pub over_bottoms_mm: Option<f64>,
}

impl Slots {
    /// The figures to check by (plane geometry).
    ///
    /// ```
    /// use dividing_core::features::Slots;
    /// let six: Slots = serde_json::from_str(
    ///     r#"{"count": 6, "width": 8, "depth": 10, "outside_diameter": 60}"#).unwrap();
    /// assert_eq!(six.geometry().over_bottoms_mm, Some(40.0));
    /// ```
    #[must_use]
    pub fn geometry(&self) -> SlotsGeometry {
        let half_pitch = PI / f64::from(self.count);
        let radius_mm = self.outside_diameter.mm() / 2.0;
        let half_width_mm = self.width.mm() / 2.0;
        let bottom_mm = radius_mm - self.depth.mm();
        // A wall meets the outside at asin(w/2R) from the middle of its slot.
        let wall = (half_width_mm / radius_mm).min(1.0).asin();
        // The corner of the bottom stands (R − depth, w/2) from the axis along
        // and across the slot; the web is twice its distance from the bisector.
        let from_bisector = bottom_mm * half_pitch.sin() - half_width_mm * half_pitch.cos();
        SlotsGeometry {
            land_mm: 2.0 * radius_mm * (half_pitch - wall).sin(),
            web_at_bottom_mm: 2.0 * from_bisector,
            over_bottoms_mm: self.count.is_multiple_of(2).then_some(2.0 * bottom_mm),
        }
    }

    pub(super) fn check(&self) -> Result<()> {
        check_count(self.count).at("count")?;
        self.width.check_positive().at("width")?;
        self.depth.check_positive().at("depth")?;
        self.outside_diameter
            .check_positive()
            .at("outside_diameter")?;
        if self.depth.mm() >= self.outside_diameter.mm() / 2.0 {
            return Err(
                Error::out_of_range(self.depth, "less than half the outside diameter").at("depth"),
            );
        }
        if self.width >= self.outside_diameter || self.geometry().land_mm <= 0.0 {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "{} slots {} wide leave no land on a diameter of {}; accepted: narrower or fewer slots",
                    self.count, self.width, self.outside_diameter
                ),
            )
            .at("width"));
        }
        Ok(())
    }
}

/// The size of gear teeth.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum ToothSize {
    /// Module: pitch diameter over the number of teeth.
    Module(Length),
    /// Diametral pitch: teeth to an inch of pitch diameter.
    DiametralPitch(f64),
}

/// Equal teeth of a spur wheel. The tooth form is the cutter's affair.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Teeth {
    /// How many teeth, 2 to 100,000.
    pub count: u32,
    /// Module or diametral pitch.
    pub size: ToothSize,
    /// Drawing angle of the first tooth space.
    #[serde(default)]
    pub first_angle: Angle,
}

/// The figures of full-depth teeth without profile shift, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TeethGeometry {
    /// The module.
    pub module_mm: f64,
    /// Pitch diameter, `m·z`.
    pub pitch_diameter_mm: f64,
    /// Outside diameter, `m·(z + 2)`.
    pub outside_diameter_mm: f64,
    /// Depth of a space with a clearance of a quarter module, `2.25·m` (basic
    /// rack of ISO 53, from memory).
    pub whole_depth_mm: f64,
}

impl Teeth {
    /// The figures that the drawing implies.
    ///
    /// ```
    /// use dividing_core::features::Teeth;
    /// let wheel: Teeth =
    ///     serde_json::from_str(r#"{"count": 40, "size": {"module": 1.5}}"#).unwrap();
    /// let figures = wheel.geometry();
    /// assert_eq!((figures.pitch_diameter_mm, figures.outside_diameter_mm), (60.0, 63.0));
    /// ```
    #[must_use]
    pub fn geometry(&self) -> TeethGeometry {
        let module_mm = match self.size {
            ToothSize::Module(module) => module.mm(),
            ToothSize::DiametralPitch(per_inch) => MM_PER_INCH / per_inch,
        };
        let teeth = f64::from(self.count);
        TeethGeometry {
            module_mm,
            pitch_diameter_mm: module_mm * teeth,
            outside_diameter_mm: module_mm * (teeth + 2.0),
            whole_depth_mm: module_mm * 2.25,
        }
    }

    pub(super) fn check(&self) -> Result<()> {
        const LARGEST_PITCH: f64 = 1000.0;
        check_count(self.count).at("count")?;
        match self.size {
            ToothSize::Module(module) => module.check_positive().at("size.module"),
            ToothSize::DiametralPitch(pitch)
                if pitch.is_finite() && pitch > 0.01 && pitch <= LARGEST_PITCH =>
            {
                Ok(())
            }
            ToothSize::DiametralPitch(pitch) => Err(Error::out_of_range(
                pitch,
                format!("above 0.01 up to {LARGEST_PITCH} teeth to the inch"),
            )
            .at("size.diametral_pitch")),
        }
    }
}

/// Which line of a scale a graduation is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Mark {
    /// A long line, usually with a figure.
    Major,
    /// A line of middle length.
    Middle,
    /// A short line.
    Minor,
}

/// Equal graduations of a scale that closes on itself.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Graduations {
    /// How many lines, 2 to 100,000.
    pub count: u32,
    /// Every how many lines a major one stands, the first being major; a divisor
    /// of the count.
    #[serde(default = "ten")]
    pub major_every: u32,
    /// Every how many lines a middle one stands, where there are any; a divisor
    /// of `major_every`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub middle_every: Option<u32>,
    /// Length of a major line; only written on the sheet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub major_length: Option<Length>,
    /// Length of a middle line; only written on the sheet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub middle_length: Option<Length>,
    /// Length of a minor line; only written on the sheet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minor_length: Option<Length>,
    /// Drawing angle of the first line.
    #[serde(default)]
    pub first_angle: Angle,
}

const fn ten() -> u32 {
    10
}

impl Graduations {
    /// Which line graduation `index` is, counted from 0.
    ///
    /// ```
    /// use dividing_core::features::{Graduations, Mark};
    /// let dial: Graduations =
    ///     serde_json::from_str(r#"{"count": 100, "middle_every": 5}"#).unwrap();
    /// assert_eq!([0, 4, 5, 10].map(|line| dial.mark(line)),
    ///            [Mark::Major, Mark::Minor, Mark::Middle, Mark::Major]);
    /// ```
    #[must_use]
    pub const fn mark(&self, index: u32) -> Mark {
        if self.major_every > 0 && index.is_multiple_of(self.major_every) {
            return Mark::Major;
        }
        match self.middle_every {
            Some(every) if every > 0 && index.is_multiple_of(every) => Mark::Middle,
            _ => Mark::Minor,
        }
    }

    /// The length of a line, if the drawing gives it.
    #[must_use]
    pub const fn length(&self, mark: Mark) -> Option<Length> {
        match mark {
            Mark::Major => self.major_length,
            Mark::Middle => self.middle_length,
            Mark::Minor => self.minor_length,
        }
    }

    pub(super) fn check(&self) -> Result<()> {
        check_count(self.count).at("count")?;
        if self.major_every == 0 || !self.count.is_multiple_of(self.major_every) {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "a major line every {} does not come out even over {}; accepted: a divisor of {}",
                    self.major_every, self.count, self.count
                ),
            )
            .at("major_every"));
        }
        if let Some(every) = self.middle_every
            && (every == 0 || !self.major_every.is_multiple_of(every))
        {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "a middle line every {every} does not fit a major one every {}; accepted: a divisor of {}",
                    self.major_every, self.major_every
                ),
            )
            .at("middle_every"));
        }
        for (name, length) in [
            ("major_length", self.major_length),
            ("middle_length", self.middle_length),
            ("minor_length", self.minor_length),
        ] {
            if let Some(length) = length {
                length.check_positive().at(name)?;
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::Job;

    #[test]
    fn the_figures_of_slots_agree_with_corner_coordinates() {
        // Corners of neighbouring slots placed in the plane and measured.
        for (count, width, depth, diameter) in [(3_u32, 6.0, 8.0, 40.0), (8, 5.0, 4.0, 50.0)] {
            let slots: Slots = serde_json::from_str(&format!(
                r#"{{"count":{count},"width":{width},"depth":{depth},"outside_diameter":{diameter}}}"#
            ))
            .unwrap();
            let radius: f64 = diameter / 2.0;
            let corner = |slot: f64, along: f64, side: f64| {
                let (sine, cosine) = (2.0 * PI * slot / f64::from(count)).sin_cos();
                let across = side * width / 2.0;
                (
                    along * cosine - across * sine,
                    along * sine + across * cosine,
                )
            };
            let apart = |along: f64| {
                let (a, b) = (corner(0.0, along, 1.0), corner(1.0, along, -1.0));
                (a.0 - b.0).hypot(a.1 - b.1)
            };
            let figures = slots.geometry();
            let at_outside = (radius * radius - width * width / 4.0).sqrt();
            assert!((figures.land_mm - apart(at_outside)).abs() < 1e-9);
            assert!((figures.web_at_bottom_mm.abs() - apart(radius - depth)).abs() < 1e-9);
        }
    }

    #[test]
    fn hostile_features_are_refused() {
        for (features, field) in [
            (
                r#"{"slots":{"count":30,"width":8,"depth":3,"outside_diameter":60}}"#,
                "features.slots.width",
            ),
            (
                r#"{"slots":{"count":3,"width":8,"depth":30,"outside_diameter":60}}"#,
                "features.slots.depth",
            ),
            (
                r#"{"teeth":{"count":30,"size":{"module":0}}}"#,
                "features.teeth.size.module",
            ),
            (
                r#"{"teeth":{"count":30,"size":{"diametral_pitch":0}}}"#,
                "features.teeth.size.diametral_pitch",
            ),
            (
                r#"{"graduations":{"count":360,"major_every":7}}"#,
                "features.graduations.major_every",
            ),
            (
                r#"{"graduations":{"count":360,"major_every":0}}"#,
                "features.graduations.major_every",
            ),
            (
                r#"{"graduations":{"count":360,"middle_every":3}}"#,
                "features.graduations.middle_every",
            ),
        ] {
            let text = format!(r#"{{"format":1,"name":"x","features":{features}}}"#);
            let error = Job::from_json(&text).unwrap_err();
            assert_eq!(error.field(), field, "{error}");
        }
    }
}
