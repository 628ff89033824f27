//! Room between the bar of a pin plate and the pins that it does not lie on.

use serde::{Deserialize, Serialize};

use super::pins::PinPair;
use super::result::{Pattern, ServedBy};
use super::wish::Wish;

/// Most pairs and pins looked at for one wish.
const MOST_LOOKED_AT: usize = 1_000_000;

/// Slack for rounding, in millimetres.
const SLACK_MM: f64 = 1.0e-9;

/// What the other pins leave of the bar when every hole carries one.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct BarRoom {
    /// The wish.
    pub wish: Wish,
    /// Widest bar, in millimetres, that lies on its two pins past all others,
    /// on either side of the chord and over the whole plate; absent when no pin
    /// stands beyond a chord. At 0 some pin stands where the bar would lie: fit
    /// only the two in use.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub free_strip_mm: Option<f64>,
    /// Feature with the least room.
    pub feature: u64,
}

impl BarRoom {
    /// What to do, in plain words.
    #[must_use]
    pub fn sentence(&self) -> String {
        match self.free_strip_mm {
            None => format!("{}: all pins may stand", self.wish),
            Some(mm) if mm > 0.0 => {
                format!(
                    "{}: all pins may stand if the bar is at most {mm:.2} mm wide",
                    self.wish
                )
            }
            Some(_) => format!("{}: fit only the two pins in use", self.wish),
        }
    }
}

impl Pattern {
    /// For every wish that pins serve: how much room a straight bar has past the
    /// other pins. Empty for other uses; wishes of very many features on very many
    /// pins are left out.
    ///
    /// A bar that lies on two pins of diameter d, whose chord stands h from the
    /// centre, begins at h ± d/2. A pin beyond it whose centre stands p from the
    /// centre, measured along the chord's normal, leaves |p − h| − d. Pins whose
    /// size is not given count as large as their holes.
    ///
    /// ```
    /// use dividing_core::pattern::{PlateBrief, design};
    /// use dividing_core::work::Meter;
    /// let brief = PlateBrief::from_json(
    ///     r#"{"format": 1, "divisions": [12], "use": {"pins": {}},
    ///         "outline": {"disc": {"diameter": 100}}, "hole_diameter": 6,
    ///         "least_web": 2, "least_edge_distance": 3}"#,
    /// )?;
    /// let plate = design(&brief, &mut Meter::default())?.into_pattern()?;
    /// // Six pins at 44 mm: over two of them with one between, that one stands
    /// // 44 − 44·cos 60° = 22 mm off the chord, less a pin of 6 mm.
    /// assert!((plate.bar_room[0].free_strip_mm.unwrap_or(0.0) - 16.0).abs() < 1.0e-9);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub(crate) fn room_of_bars(&self) -> Vec<BarRoom> {
        let pin_mm = self
            .brief
            .largest_pin_mm()
            .unwrap_or(self.brief.largest_hole_mm());
        let pins: Vec<(f64, f64)> = self
            .holes()
            .map(|(_, ring, hole)| hole.position_mm(ring.radius_mm))
            .collect();
        let mut all = Vec::new();
        for served in &self.served {
            let ServedBy::Pins {
                ring, holes, pairs, ..
            } = &served.by
            else {
                continue;
            };
            let looked_at = pins.len().saturating_mul(pairs.len());
            if looked_at > MOST_LOOKED_AT {
                continue;
            }
            let mut room = BarRoom {
                wish: served.wish.clone(),
                free_strip_mm: None,
                feature: 0,
            };
            for pair in pairs {
                let Some((first, second)) = self.ends(*ring, holes, pair) else {
                    continue;
                };
                let strip_mm = free_strip_mm(first, second, &pins, pin_mm);
                if let Some(strip_mm) = strip_mm
                    && room.free_strip_mm.is_none_or(|least| strip_mm < least)
                {
                    room.free_strip_mm = Some(strip_mm);
                    room.feature = pair.feature;
                }
            }
            all.push(room);
        }
        all
    }

    /// Where the two pins of a pair stand.
    fn ends(&self, ring: usize, holes: &[u32], pair: &PinPair) -> Option<((f64, f64), (f64, f64))> {
        let ring = self.rings.get(ring)?;
        let at = |place: u64| {
            let number = *holes.get(usize::try_from(place).ok()?)?;
            let hole = ring.holes.iter().find(|hole| hole.number == number)?;
            Some(hole.position_mm(ring.radius_mm))
        };
        Some((at(pair.first)?, at(pair.second)?))
    }
}

/// Room beyond the two pins on the tighter side of their chord.
fn free_strip_mm(
    first: (f64, f64),
    second: (f64, f64),
    pins: &[(f64, f64)],
    pin_mm: f64,
) -> Option<f64> {
    let (dx, dy) = (second.0 - first.0, second.1 - first.1);
    let length = dx.hypot(dy);
    if length < SLACK_MM {
        return None;
    }
    pins.iter()
        .map(|pin| ((pin.0 - first.0) * dy - (pin.1 - first.1) * dx).abs() / length)
        .zip(pins)
        .filter(|&(_, &pin)| pin != first && pin != second)
        .map(|(off_mm, _)| {
            // A pin in line with the two touches the bar as they do.
            if off_mm < SLACK_MM {
                f64::INFINITY
            } else {
                (off_mm - pin_mm).max(0.0)
            }
        })
        .fold(None, |least: Option<f64>, strip| {
            (strip.is_finite() && least.is_none_or(|least| strip < least))
                .then_some(strip)
                .or(least)
        })
}
