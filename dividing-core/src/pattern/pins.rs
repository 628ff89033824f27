//! Pin plates: which rings serve which divisions, and with which two pins.

use num_integer::Integer;
use serde::{Deserialize, Serialize};

use super::numbers::as_f64;
use crate::error::{Error, Result};

/// The ring a division needs on a pin plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum PinNeed {
    /// A multiple of this many holes.
    Ring(u64),
    /// Any even ring from 4 up; this many is the least.
    EvenRing(u64),
    /// Any ring; this many is the least.
    AnyRing(u64),
}

/// Whether a circle of `holes` equally spaced pins serves `division` equal
/// parts with a bar laid on two of them, either way up.
///
/// The chord of holes a and b points at (a + b)/(2n) + 1/4 turn modulo half a
/// turn: N needs N | 2n. With a square the bar also stands upright, and the
/// quarter turn counts: N | lcm(2n, 4). Two holes give one chord: they serve
/// only 2, or 4 with a square.
///
/// ```
/// use dividing_core::pattern::pins_serve;
/// assert!(pins_serve(9, 18, false));
/// assert!(!pins_serve(2, 4, false) && pins_serve(2, 4, true));
/// ```
#[must_use]
pub fn pins_serve(holes: u64, division: u64, square: bool) -> bool {
    if holes < 2 || division == 0 {
        return false;
    }
    let reach = match (holes, square) {
        (2, false) => 2,
        (2, true) => 4,
        (n, false) => n.saturating_mul(2),
        (n, true) => n.saturating_mul(2).lcm(&4),
    };
    reach.is_multiple_of(division)
}

/// The smallest ring, under divisibility, that serves a division from 2 up.
pub(crate) fn holes_for_pins(division: u64, square: bool) -> PinNeed {
    let twos = division.trailing_zeros();
    let odd = division >> twos.min(63);
    let least = if square {
        // N | lcm(2n, 4): n needs the odd part, and half the twos above 4.
        odd << if twos > 2 { twos - 1 } else { 0 }
    } else {
        odd << twos.saturating_sub(1)
    };
    match (division, square, least) {
        (2, _, _) | (4, true, _) => PinNeed::AnyRing(2),
        (4, false, _) => PinNeed::EvenRing(4),
        _ => PinNeed::Ring(least),
    }
}

/// Two pins for one feature.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PinPair {
    /// Feature number, from 0. Of a single angle or a list, feature 0 is the one
    /// that it counts from, and feature k its k-th angle.
    pub feature: u64,
    /// The first pin, counted from 0 along the pins in use.
    pub first: u64,
    /// The second pin.
    pub second: u64,
    /// Distance of the two pins, in millimetres.
    pub baseline_mm: f64,
    /// Whether the bar is set upright with the square instead of level.
    pub upright: bool,
}

/// The pins for each feature of `division` on a ring of `places` equally
/// spaced holes at `radius_mm`, the longest baseline first choice.
///
/// Feature k stands at k/N from feature 0, which uses the longest chord of
/// all. The bar is level for a chord whose sum of places is right modulo n,
/// since it may lie either way up; with a square, sums a quarter turn off
/// serve with the bar upright. Ties: level before upright, then the smaller
/// first place.
///
/// # Errors
/// [`crate::ErrorKind::OutOfRange`] when the ring does not serve the division.
///
/// ```
/// use dividing_core::pattern::pin_pairs;
/// let pairs = pin_pairs(5, 10, false, 40.0)?;
/// assert_eq!(pairs.len(), 10);
/// assert!(pairs.iter().all(|pair| pair.baseline_mm > 76.0));
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn pin_pairs(places: u64, division: u64, square: bool, radius_mm: f64) -> Result<Vec<PinPair>> {
    const MOST: u64 = 100_000;
    if places > MOST || division > 4 * MOST {
        return Err(Error::out_of_range(
            format!("{places} places for {division} divisions"),
            "at most 100000 places",
        ));
    }
    if !pins_serve(places, division, square) {
        return Err(Error::out_of_range(
            format!("{division} divisions on {places} pins"),
            if square {
                "divisions of lcm(2n, 4), from n = 3 up; 2 or 4 from two pins"
            } else {
                "divisions of 2n, from n = 3 up; 2 from two pins"
            },
        )
        .at("division"));
    }
    // Directions in units of 1/(4n) turn: a chord of sum s points at 2s + n,
    // modulo 2n (half a turn); upright it points n farther.
    let unit = 4 * places;
    let longest = longest_with_sum(places, 0).max_by_baseline(longest_with_sum(places, 1));
    let start = 2 * longest.sum;
    (0..division)
        .map(|feature| {
            // N divides lcm(2n, 4), which divides 4n, so this is whole.
            let wanted = start + unit / division * feature;
            let options = [(0, false), (places, true)]
                .into_iter()
                .take(if square { 2 } else { 1 })
                .filter_map(|(turn, upright)| {
                    let target = (wanted + turn) % (2 * places);
                    target
                        .is_multiple_of(2)
                        .then(|| (longest_with_sum(places, target / 2), upright))
                });
            let (chord, upright) = options
                .fold(None, |best: Option<(Chord, bool)>, next| match best {
                    Some(kept) if kept.0.is_as_long_as(&next.0) => Some(kept),
                    _ => Some(next),
                })
                .ok_or_else(|| {
                    Error::internal("a pin ring that serves a division lacks a chord")
                })?;
            let half_angle = std::f64::consts::PI * as_f64(chord.span) / as_f64(places);
            Ok(PinPair {
                feature,
                first: chord.first.min(chord.second),
                second: chord.first.max(chord.second),
                baseline_mm: 2.0 * radius_mm * half_angle.sin(),
                upright,
            })
        })
        .collect()
}

/// A chord of a full circle.
#[derive(Clone, Copy)]
pub(crate) struct Chord {
    pub(crate) first: u64,
    pub(crate) second: u64,
    /// Spaces between the pins, the shorter way.
    span: u64,
    /// Sum of the places modulo n.
    sum: u64,
}

impl Chord {
    fn is_as_long_as(&self, other: &Self) -> bool {
        self.span >= other.span
    }

    fn max_by_baseline(self, other: Self) -> Self {
        if self.is_as_long_as(&other) {
            self
        } else {
            other
        }
    }
}

/// The longest chord of an n-hole ring whose places sum to `sum` modulo n.
pub(crate) fn longest_with_sum(n: u64, sum: u64) -> Chord {
    let mut best = Chord {
        first: 0,
        second: 0,
        span: 0,
        sum,
    };
    // The difference of the two places has the parity of the sum where n is
    // even; the longest is near n/2, so two tries suffice.
    let mut span = n / 2;
    loop {
        // first + (first + span) ≡ sum (mod n)
        let rest = (sum + n - span % n) % n;
        let first = if rest.is_multiple_of(2) {
            Some(rest / 2)
        } else if n.is_odd() {
            Some(rest.midpoint(n))
        } else {
            None
        };
        if let Some(first) = first {
            best.first = first % n;
            best.second = (first + span) % n;
            best.span = span;
            return best;
        }
        if span <= 1 {
            return best;
        }
        span -= 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    /// Every direction of every chord, by enumeration, in 1/(4n) turn.
    fn directions(n: u64, square: bool) -> BTreeSet<u64> {
        let mut all = BTreeSet::new();
        for a in 0..n {
            for b in 0..a {
                let level = 2 * (a + b) + n;
                for turn in [0, 2 * n] {
                    all.insert((level + turn) % (4 * n));
                    if square {
                        all.insert((level + turn + n) % (4 * n));
                    }
                }
            }
        }
        all
    }

    #[test]
    fn the_chord_rule_agrees_with_all_chords() {
        for n in 2..=24_u64 {
            for square in [false, true] {
                let held = directions(n, square);
                for division in 2..=100_u64 {
                    // Some start s with s + k/N all held; steps in 1/(4nN) turn.
                    let serves = held.iter().any(|&start| {
                        (0..division).all(|k| {
                            let at = start * division + 4 * n * k;
                            at % division == 0 && held.contains(&(at / division % (4 * n)))
                        })
                    });
                    assert_eq!(
                        serves,
                        pins_serve(n, division, square),
                        "{n} {division} {square}"
                    );
                }
            }
        }
    }

    #[test]
    fn the_smallest_ring_is_the_smallest() {
        for division in 2..=200_u64 {
            for square in [false, true] {
                let least = (2..=400)
                    .find(|&n| pins_serve(n, division, square))
                    .unwrap();
                let (PinNeed::Ring(found) | PinNeed::EvenRing(found) | PinNeed::AnyRing(found)) =
                    holes_for_pins(division, square);
                assert_eq!(found, least, "{division} {square}");
                for n in 2..=400_u64 {
                    let told = match holes_for_pins(division, square) {
                        PinNeed::Ring(m) => n.is_multiple_of(m),
                        PinNeed::EvenRing(m) => n >= m && n.is_even(),
                        PinNeed::AnyRing(m) => n >= m,
                    };
                    assert_eq!(told, pins_serve(n, division, square), "{n} for {division}");
                }
            }
        }
    }

    #[test]
    fn pairs_point_where_the_features_are() {
        for n in 2..=20_u64 {
            for square in [false, true] {
                for division in (2..=80).filter(|&d| pins_serve(n, d, square)) {
                    let pairs = pin_pairs(n, division, square, 10.0).unwrap();
                    let direction = |pair: &PinPair| {
                        2 * (pair.first + pair.second) + n + if pair.upright { n } else { 0 }
                    };
                    let start = direction(&pairs[0]);
                    for pair in &pairs {
                        assert!(pair.first < pair.second && pair.second < n);
                        let moved = (direction(pair) + 8 * n - start) % (2 * n);
                        let wanted = (4 * n / division * pair.feature) % (2 * n);
                        assert_eq!(moved, wanted, "{n} {division} {pair:?}");
                    }
                }
            }
        }
        assert!(pin_pairs(5, 4, false, 10.0).is_err());
    }
}
