//! Flats on round stock: depth of cut, what to measure, how much stock.

use std::f64::consts::PI;

use serde::{Deserialize, Serialize};

use super::check_count;
use crate::angle::Angle;
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::length::Length;

/// Equal flats round a bar.
///
/// `across_flats` is twice the distance from the axis to a flat, for odd counts
/// too, where it cannot be measured directly.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Flats {
    /// How many flats, 2 to 100,000.
    pub count: u32,
    /// Twice the distance from the axis to a flat.
    pub across_flats: Length,
    /// Diameter of the round stock; greater than across flats.
    pub stock_diameter: Length,
    /// Drawing angle of the middle of the first flat.
    #[serde(default)]
    pub first_angle: Angle,
}

/// What to measure opposite a flat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum OppositeMeasure {
    /// The opposite flat (even counts).
    Flat,
    /// The round left opposite (odd counts, stock too small for sharp corners).
    Round,
    /// The sharp corner opposite (odd counts).
    Corner,
}

/// The figures of a set of flats, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlatsGeometry {
    /// Depth of cut for each flat, `(D − AF)/2`.
    pub depth_mm: f64,
    /// What lies opposite a flat.
    pub opposite: OppositeMeasure,
    /// The measure from a flat to what lies opposite.
    pub over_opposite_mm: f64,
    /// Width of one finished flat.
    pub flat_width_mm: f64,
    /// Largest diameter over the finished corners.
    pub across_corners_mm: f64,
    /// Stock diameter from which on the corners come out sharp, `AF/cos(π/N)`;
    /// none for two flats, which have no corners.
    pub stock_for_sharp_corners_mm: Option<f64>,
}

impl Flats {
    /// The figures to cut and measure by (plane geometry of a regular polygon
    /// about a circle).
    ///
    /// ```
    /// use dividing_core::features::Flats;
    /// let five: Flats = serde_json::from_str(
    ///     r#"{"count": 5, "across_flats": 20, "stock_diameter": 24}"#).unwrap();
    /// let figures = five.geometry();
    /// assert_eq!(figures.depth_mm, 2.0);
    /// assert_eq!(figures.over_opposite_mm, 22.0); // flat to the round opposite
    /// ```
    #[must_use]
    pub fn geometry(&self) -> FlatsGeometry {
        let (stock_mm, flats_mm) = (self.stock_diameter.mm(), self.across_flats.mm());
        let half_pitch = PI / f64::from(self.count);
        let sharp_mm = (self.count > 2).then(|| flats_mm / half_pitch.cos());
        let is_sharp = sharp_mm.is_some_and(|sharp_mm| stock_mm >= sharp_mm);
        let across_corners_mm = match sharp_mm {
            Some(sharp_mm) if is_sharp => sharp_mm,
            _ => stock_mm,
        };
        let (opposite, over_opposite_mm) = if self.count.is_multiple_of(2) {
            (OppositeMeasure::Flat, flats_mm)
        } else if is_sharp {
            (
                OppositeMeasure::Corner,
                (flats_mm + across_corners_mm) / 2.0,
            )
        } else {
            (OppositeMeasure::Round, (flats_mm + stock_mm) / 2.0)
        };
        let flat_width_mm = if is_sharp {
            flats_mm * half_pitch.tan()
        } else {
            (stock_mm * stock_mm - flats_mm * flats_mm).sqrt()
        };
        FlatsGeometry {
            depth_mm: (stock_mm - flats_mm) / 2.0,
            opposite,
            over_opposite_mm,
            flat_width_mm,
            across_corners_mm,
            stock_for_sharp_corners_mm: sharp_mm,
        }
    }

    pub(super) fn check(&self) -> Result<()> {
        check_count(self.count).at("count")?;
        self.across_flats.check_positive().at("across_flats")?;
        self.stock_diameter.check_positive().at("stock_diameter")?;
        if self.across_flats.mm() >= self.stock_diameter.mm() {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "flats {} across leave no cut on stock of {}; accepted: less than the stock diameter",
                    self.across_flats, self.stock_diameter
                ),
            )
            .at("across_flats"));
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn flats(count: u32, across: f64, stock: f64) -> Flats {
        Flats {
            count,
            across_flats: Length::from_mm(across).unwrap(),
            stock_diameter: Length::from_mm(stock).unwrap(),
            first_angle: Angle::ZERO,
        }
    }

    #[test]
    fn a_hexagon_needs_1_1547_times_its_across_flats() {
        // Plane geometry: 1/cos 30° = 1.154701 (hexagon across corners).
        let figures = flats(6, 10.0, 12.0).geometry();
        assert!((figures.across_corners_mm - 11.547_005).abs() < 1e-6);
        assert!((figures.flat_width_mm - 5.773_503).abs() < 1e-6);
        assert_eq!(
            (figures.opposite, figures.over_opposite_mm),
            (OppositeMeasure::Flat, 10.0)
        );
    }

    #[test]
    fn odd_flats_are_measured_to_the_round_or_the_corner() {
        let round = flats(5, 20.0, 22.0).geometry();
        assert_eq!(
            (round.opposite, round.over_opposite_mm),
            (OppositeMeasure::Round, 21.0)
        );
        let sharp = flats(5, 20.0, 30.0).geometry();
        assert_eq!(sharp.opposite, OppositeMeasure::Corner);
        assert!((sharp.over_opposite_mm - (10.0 + 10.0 / (PI / 5.0).cos())).abs() < 1e-12);
    }

    #[test]
    fn two_flats_have_no_corners() {
        let figures = flats(2, 8.0, 10.0).geometry();
        assert_eq!(figures.stock_for_sharp_corners_mm, None);
        assert_eq!(figures.flat_width_mm, 6.0);
        assert_eq!(figures.across_corners_mm, 10.0);
    }
}
