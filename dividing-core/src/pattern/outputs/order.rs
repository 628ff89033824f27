//! The order to drill in.

use crate::pattern::result::Pattern;

/// One stop of the drill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DrillStop {
    /// Index of the ring, from the outside.
    pub ring: usize,
    /// Number of the hole on its ring.
    pub number: u32,
    /// Travel from the stop before, in millimetres; 0 for the first.
    pub travel_mm: f64,
}

/// Drills ring after ring from the outside in, each hole after its neighbour,
/// so that no ring is mixed up with another.
///
/// Of all starts and both senses, each ring takes the one with the least
/// travel, the way from the ring before included: it starts beside its widest
/// gap unless that is too far. The travel is short, not proved the shortest.
#[must_use]
pub fn drilling_order(pattern: &Pattern) -> Vec<DrillStop> {
    let mut stops: Vec<DrillStop> = Vec::new();
    let mut at: Option<(f64, f64)> = None;
    for (index, ring) in pattern.rings.iter().enumerate() {
        let points: Vec<(f64, f64)> = ring
            .holes
            .iter()
            .map(|hole| hole.position_mm(ring.radius_mm))
            .collect();
        let n = points.len();
        if n == 0 {
            continue;
        }
        let apart = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).hypot(a.1 - b.1);
        // Travel round the ring is the same for every start, less the gap that
        // is not travelled: the one before the start, in the sense of travel.
        let mut best: Option<(f64, usize, bool)> = None;
        for start in 0..n {
            for forward in [true, false] {
                let before = if forward {
                    (start + n - 1) % n
                } else {
                    (start + 1) % n
                };
                let cost = at.map_or(0.0, |at| apart(at, points[start]))
                    - apart(points[before], points[start]);
                if best.is_none_or(|(least, _, _)| cost < least - 1.0e-9) {
                    best = Some((cost, start, forward));
                }
            }
        }
        let Some((_, start, forward)) = best else {
            continue;
        };
        for step in 0..n {
            let k = if forward {
                (start + step) % n
            } else {
                (start + n - step) % n
            };
            stops.push(DrillStop {
                ring: index,
                number: ring.holes[k].number,
                travel_mm: at.map_or(0.0, |at| apart(at, points[k])),
            });
            at = Some(points[k]);
        }
    }
    stops
}
