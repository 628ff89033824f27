//! How a plate was drilled: the lineage from which its hole errors follow.

use serde::{Deserialize, Serialize};

use super::blocks::check_error_angle;
use super::worm::WormRatio;
use crate::angle::Angle;
use crate::error::{AtField, Result};
use crate::length::Length;

/// How the holes of a plate were drilled; stands instead of their position
/// tolerance.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Drilled {
    /// On a dividing head, from a rougher plate on its crank: the errors of that
    /// plate come down by the worm ratio.
    OnDividingHead(DrilledOnHead),
    /// By coordinates, on a table of a given accuracy.
    ByCoordinates(DrilledByCoordinates),
}

/// A plate drilled on a dividing head from a rougher plate.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DrilledOnHead {
    /// Crank turns for one spindle turn of that head.
    pub worm_ratio: WormRatio,
    /// Pitch radius of the circle used on the rougher plate.
    pub rougher_pitch_radius: Length,
    /// Diameter of the zone in which each hole of the rougher plate lies.
    pub rougher_hole_position_tolerance: Length,
    /// Clearance of the crank pin in the rougher plate's holes, at most.
    #[serde(default)]
    pub rougher_clearance: Length,
    /// Deviation of the head's spindle by worm and wheel, either way.
    #[serde(default)]
    pub worm_error: Angle,
    /// Diameter of the zone in which the drill wandered.
    #[serde(default)]
    pub drill_wander: Length,
}

/// A plate drilled by coordinates.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DrilledByCoordinates {
    /// Deviation of either axis of the table, either way.
    pub table_accuracy: Length,
    /// Diameter of the zone in which the drill wandered.
    #[serde(default)]
    pub drill_wander: Length,
}

impl Drilled {
    /// Diameter of the zone in which each hole at a pitch radius lies, in
    /// millimetres.
    ///
    /// On a head of ratio R from a rougher plate with holes within T₀ and a
    /// clearance of c₀ at a radius r₀, and with the head's own error ε:
    /// `2·r·((T₀ + c₀)/(2·r₀·R) + ε)`; by coordinates with ±a on both axes the
    /// circle round the square, `2·√2·a`. The wander of the drill is added. All
    /// limits add, so the zone is that of the worst case.
    ///
    /// ```
    /// use dividing_core::equipment::{Drilled, DrilledByCoordinates};
    /// let drilled = Drilled::ByCoordinates(DrilledByCoordinates {
    ///     table_accuracy: "0.005 mm".parse()?,
    ///     drill_wander: Default::default(),
    /// });
    /// assert!((drilled.position_zone_mm(50.0) - 0.01 * 2.0_f64.sqrt()).abs() < 1e-12);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    #[must_use]
    pub fn position_zone_mm(&self, pitch_radius_mm: f64) -> f64 {
        match self {
            Self::OnDividingHead(it) => {
                let rougher_mm =
                    it.rougher_hole_position_tolerance.mm() + it.rougher_clearance.mm();
                let crank_rad = rougher_mm / (2.0 * it.rougher_pitch_radius.mm());
                let spindle_rad =
                    crank_rad / it.worm_ratio.to_f64() + it.worm_error.to_radians_f64();
                2.0 * pitch_radius_mm * spindle_rad + it.drill_wander.mm()
            }
            Self::ByCoordinates(it) => {
                2.0 * std::f64::consts::SQRT_2 * it.table_accuracy.mm() + it.drill_wander.mm()
            }
        }
    }

    pub(super) fn check(&self) -> Result<()> {
        match self {
            Self::OnDividingHead(it) => it.check().at("on_dividing_head"),
            Self::ByCoordinates(it) => it.check().at("by_coordinates"),
        }
    }
}

impl DrilledOnHead {
    fn check(&self) -> Result<()> {
        self.rougher_pitch_radius
            .check_positive()
            .at("rougher_pitch_radius")?;
        for (name, length) in [
            (
                "rougher_hole_position_tolerance",
                self.rougher_hole_position_tolerance,
            ),
            ("rougher_clearance", self.rougher_clearance),
            ("drill_wander", self.drill_wander),
        ] {
            length.check_not_negative().at(name)?;
        }
        check_error_angle(self.worm_error).at("worm_error")
    }
}

impl DrilledByCoordinates {
    fn check(&self) -> Result<()> {
        self.table_accuracy
            .check_not_negative()
            .at("table_accuracy")?;
        self.drill_wander.check_not_negative().at("drill_wander")
    }
}
