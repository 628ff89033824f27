//! Room round a part that lies between the pins of a pin plate.

use serde::{Deserialize, Serialize};

use super::brief::PlateUse;
use super::result::{Pattern, ServedBy};
use super::wish::Wish;
use crate::length::Length;

/// Centres of opposite sides nearer than this to each other count as symmetric,
/// in millimetres.
const SLACK_MM: f64 = 1.0e-6;

/// The part inside the innermost pins, and whether it is free all round alike.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PartRoom {
    /// Diameter of the part, in millimetres.
    pub part_diameter_mm: f64,
    /// Largest round part that goes inside the innermost pins, in millimetres.
    pub largest_part_mm: f64,
    /// Gap between the part and each innermost pin, in millimetres: the part
    /// stands centred, so it is the same at every one of them.
    pub gap_mm: f64,
    /// Whether the part goes inside the pins.
    pub fits: bool,
    /// For each wish that pins serve, whether the bar lies clear of the part.
    pub bars: Vec<PartUnderBar>,
}

/// The part under the bar of one wish.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PartUnderBar {
    /// The wish.
    pub wish: Wish,
    /// Least gap between the edge of a bar laid outside its two pins and the
    /// part, in millimetres, over all features; below zero the part stands
    /// above the pins' line, and a bar at the height of the part meets it.
    pub least_gap_mm: f64,
    /// Whether that gap is the same at every feature, so that no feature needs
    /// another set-up of bar and part.
    pub symmetric: bool,
}

impl Pattern {
    /// The part of the brief among the pins; none for other uses, without a part
    /// diameter, and without pins.
    ///
    /// A bar outside two pins of diameter d has its edge d/2 beyond their line,
    /// which stands √(r² − (L/2)²) from the centre for a baseline L on a pitch
    /// radius r.
    pub(crate) fn room_of_part(&self) -> Option<PartRoom> {
        let PlateUse::Pins {
            part_diameter: Some(part),
            ..
        } = self.brief.usage
        else {
            return None;
        };
        let pin_mm = self
            .brief
            .largest_pin_mm()
            .unwrap_or(self.brief.largest_hole_mm());
        let innermost_mm = self
            .rings
            .iter()
            .filter(|ring| !ring.holes.is_empty())
            .map(|ring| ring.radius_mm)
            .min_by(f64::total_cmp)?;
        let largest_part_mm = 2.0 * innermost_mm - pin_mm;
        let gap_mm = (largest_part_mm - part.mm()) / 2.0;
        Some(PartRoom {
            part_diameter_mm: part.mm(),
            largest_part_mm,
            gap_mm,
            fits: gap_mm >= -SLACK_MM,
            bars: self.bars_over(part, pin_mm),
        })
    }

    fn bars_over(&self, part: Length, pin_mm: f64) -> Vec<PartUnderBar> {
        let mut all = Vec::new();
        for served in &self.served {
            let ServedBy::Pins { ring, pairs, .. } = &served.by else {
                continue;
            };
            let Some(ring) = self.rings.get(*ring) else {
                continue;
            };
            let gaps = pairs.iter().map(|pair| {
                let half = pair.baseline_mm / 2.0;
                let line_mm = (ring.radius_mm.powi(2) - half * half).max(0.0).sqrt();
                line_mm + pin_mm / 2.0 - part.mm() / 2.0
            });
            let (least, most) = gaps
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), gap| {
                    (low.min(gap), high.max(gap))
                });
            if least.is_finite() {
                all.push(PartUnderBar {
                    wish: served.wish.clone(),
                    least_gap_mm: least,
                    symmetric: most - least <= SLACK_MM,
                });
            }
        }
        all
    }
}

#[cfg(test)]
mod tests {
    use crate::pattern::{Pattern, PlateBrief, design};
    use crate::work::Meter;

    fn plate(fields: &str) -> Pattern {
        let brief = PlateBrief::from_json(&format!(
            r#"{{"format": 1, "outline": {{"disc": {{"diameter": 100}}}}, "hole_diameter": 6,
                "least_web": 2, "least_edge_distance": 3, {fields}}}"#
        ))
        .unwrap();
        design(&brief, &mut Meter::default())
            .unwrap()
            .into_pattern()
            .unwrap()
    }

    /// Six pins of 6 mm at 44 mm: a round of 82 mm goes inside; over two pins
    /// with one between, the line stands 44·cos 60° = 22 mm from the centre and
    /// the bar's edge 3 mm farther: 10 mm clear of a part of 30 mm. Neighbouring
    /// features lie on diameters and on such chords in turn.
    #[test]
    fn a_part_stands_inside_the_pins() {
        let pattern = plate(r#""divisions": [12], "use": {"pins": {"part_diameter": 30}}"#);
        let room = pattern.part_room.clone().unwrap();
        assert!((room.largest_part_mm - 82.0).abs() < 1e-9);
        assert!((room.gap_mm - 26.0).abs() < 1e-9 && room.fits);
        let lines: Vec<f64> = match &pattern.served[0].by {
            crate::pattern::ServedBy::Pins { pairs, .. } => pairs
                .iter()
                .map(|pair| {
                    (44.0_f64.powi(2) - (pair.baseline_mm / 2.0).powi(2))
                        .max(0.0)
                        .sqrt()
                })
                .collect(),
            other => panic!("{other:?}"),
        };
        let least = lines.iter().copied().fold(f64::INFINITY, f64::min);
        let most = lines.iter().copied().fold(0.0, f64::max);
        assert!((room.bars[0].least_gap_mm - (least + 3.0 - 15.0)).abs() < 1e-6);
        assert_eq!(room.bars[0].symmetric, most - least < 1e-6);
        assert!(!room.bars[0].symmetric, "spans of both parities");
        // Five pins and chords of one span serve ten: the same at every feature.
        let five = plate(r#""divisions": [10], "use": {"pins": {"part_diameter": 20}}"#);
        assert!(five.part_room.unwrap().bars[0].symmetric);
    }

    #[test]
    fn a_part_as_large_as_the_pins_leave_touches_them() {
        let pattern = plate(r#""divisions": [10], "use": {"pins": {"part_diameter": 82}}"#);
        let room = pattern.part_room.unwrap();
        assert!(room.gap_mm.abs() < 1e-9 && room.fits);
        let brief = PlateBrief {
            usage: crate::pattern::PlateUse::Pins {
                square: false,
                part_diameter: Some(crate::Length::from_mm(82.1).unwrap()),
            },
            ..pattern.brief
        };
        let found = design(&brief, &mut Meter::default()).unwrap();
        assert!(
            found.into_pattern().is_err(),
            "no ring leaves room for the part"
        );
    }

    #[test]
    fn documents_are_measured_anew() {
        let pattern = plate(r#""divisions": [12], "use": {"pins": {"part_diameter": 30}}"#);
        let text = pattern.to_json().unwrap();
        assert_eq!(Pattern::from_json(&text).unwrap(), pattern);
        let mut lying = pattern.clone();
        lying.bar_room[0].free_strip_mm = None;
        if let Some(room) = &mut lying.part_room {
            room.fits = false;
        }
        let again = Pattern::from_json(&lying.to_json().unwrap()).unwrap();
        assert_eq!(again, pattern);
    }
}
