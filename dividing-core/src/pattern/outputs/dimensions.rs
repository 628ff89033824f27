//! Dimensions to check the drilled plate by.

use serde::{Deserialize, Serialize};

use super::labels::hole_label;
use crate::pattern::result::{Hole, Pattern, Ring};

/// What a check dimension spans.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum CheckKind {
    /// Two neighbouring holes of a ring.
    Neighbours,
    /// Two holes of a ring that stand farthest apart.
    AcrossTheCircle,
    /// The zero hole of a ring and the nearest hole of the next ring inwards.
    BetweenRings,
}

/// A distance to measure with pins in two holes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct CheckDimension {
    /// What it spans.
    pub kind: CheckKind,
    /// First hole.
    pub from: String,
    /// Second hole.
    pub to: String,
    /// From centre to centre, in millimetres.
    pub centres_mm: f64,
    /// Over the outsides of two pins, in millimetres.
    pub over_pins_mm: f64,
    /// Between the insides of two pins, in millimetres.
    pub between_pins_mm: f64,
}

/// The check dimensions of a plate, over pins that fill the holes or have the
/// brief's pin diameter (the upper limit of a fit).
///
/// Chord of two holes δ apart on a pitch radius r: 2r·sin(δ/2). One dimension
/// over each different gap between neighbours of a ring, one across each ring,
/// one between neighbouring rings.
#[must_use]
pub fn check_dimensions(pattern: &Pattern) -> Vec<CheckDimension> {
    let pin_mm = pattern
        .brief
        .largest_pin_mm()
        .unwrap_or(pattern.brief.largest_hole_mm());
    let mut all = Vec::new();
    for (index, ring) in pattern.rings.iter().enumerate() {
        let mut push = |kind, a: &Hole, b: &Hole, other: usize, other_ring: &Ring| {
            let (x, y) = a.position_mm(ring.radius_mm);
            let (s, t) = b.position_mm(other_ring.radius_mm);
            let centres_mm = (x - s).hypot(y - t);
            all.push(CheckDimension {
                kind,
                from: hole_label(index, a.number),
                to: hole_label(other, b.number),
                centres_mm,
                over_pins_mm: centres_mm + pin_mm,
                between_pins_mm: centres_mm - pin_mm,
            });
        };
        let n = ring.holes.len();
        let mut seen: Vec<f64> = Vec::new();
        for k in 0..n {
            let (a, b) = (&ring.holes[k], &ring.holes[(k + 1) % n]);
            let gap = apart_mm(ring, a, ring, b);
            if n > 2 && seen.iter().all(|old| (old - gap).abs() > 1.0e-9) {
                seen.push(gap);
                push(CheckKind::Neighbours, a, b, index, ring);
            }
        }
        let farthest = ring
            .holes
            .iter()
            .skip(1)
            .fold(None, |best: Option<(f64, &Hole)>, hole| {
                let gap = apart_mm(ring, &ring.holes[0], ring, hole);
                match best {
                    Some((most, _)) if most + 1.0e-9 >= gap => best,
                    _ => Some((gap, hole)),
                }
            });
        if let Some((_, hole)) = farthest {
            push(
                CheckKind::AcrossTheCircle,
                &ring.holes[0],
                hole,
                index,
                ring,
            );
        }
        if let (Some(next), Some(zero)) = (pattern.rings.get(index + 1), ring.holes.first()) {
            let nearest = next
                .holes
                .iter()
                .fold(None, |best: Option<(f64, &Hole)>, hole| {
                    let gap = apart_mm(ring, zero, next, hole);
                    match best {
                        Some((least, _)) if least <= gap + 1.0e-9 => best,
                        _ => Some((gap, hole)),
                    }
                });
            if let Some((_, hole)) = nearest {
                push(CheckKind::BetweenRings, zero, hole, index + 1, next);
            }
        }
    }
    all
}

fn apart_mm(ring: &Ring, a: &Hole, other: &Ring, b: &Hole) -> f64 {
    let (x, y) = a.position_mm(ring.radius_mm);
    let (s, t) = b.position_mm(other.radius_mm);
    (x - s).hypot(y - t)
}
