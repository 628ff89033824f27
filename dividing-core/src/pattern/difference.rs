//! Difference covers: two equal plates pinned together through any one hole.

use crate::error::{Error, Result};
use crate::work::Meter;

/// Largest turn, in equal steps, of [`difference_cover`].
pub const MAX_COVER: u64 = 128;

/// Whether every k from 0 to `positions` − 1 is a difference, modulo
/// `positions`, of two of the places.
///
/// Two equal plates on one axis, each drilled at these places, then have a
/// pair of holes in line at each of the positions.
///
/// ```
/// use dividing_core::pattern::covers_all_differences;
/// assert!(covers_all_differences(&[1, 2, 4], 7));
/// assert!(!covers_all_differences(&[0, 1, 2], 7));
/// ```
#[must_use]
pub fn covers_all_differences(places: &[u64], positions: u64) -> bool {
    if positions == 0 || positions > 1_000_000 || places.is_empty() {
        return false;
    }
    let size = usize::try_from(positions).unwrap_or(0);
    let mut covered = vec![false; size];
    for a in places {
        for b in places {
            let step = (a % positions + positions - b % positions) % positions;
            if let Ok(index) = usize::try_from(step) {
                covered[index] = true;
            }
        }
    }
    covered.into_iter().all(|hit| hit)
}

/// The fewest places whose differences cover all `positions`, and the first
/// such set in lexicographic order.
///
/// Searches sets of growing size; k places have at most k(k − 1) differences
/// other than 0.
///
/// # Errors
/// [`crate::ErrorKind::OutOfRange`] when `positions` is not from 1 to
/// [`MAX_COVER`]; those of the meter.
///
/// ```
/// use dividing_core::{pattern::difference_cover, work::Meter};
/// assert_eq!(difference_cover(13, &mut Meter::default())?, [0, 1, 3, 9]);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn difference_cover(positions: u64, meter: &mut Meter<'_>) -> Result<Vec<u64>> {
    if !(1..=MAX_COVER).contains(&positions) {
        return Err(
            Error::out_of_range(positions, format!("1 to {MAX_COVER} positions")).at("positions"),
        );
    }
    for size in 1..=positions {
        if size * (size - 1) < positions - 1 {
            continue;
        }
        let mut places = vec![0];
        if extend(&mut places, 1, size, positions, meter)? {
            return Ok(places);
        }
    }
    Err(Error::internal("all places do not cover all differences"))
}

/// Bits of the covered differences, and the search below them.
fn extend(
    places: &mut Vec<u64>,
    covered: u128,
    size: u64,
    positions: u64,
    meter: &mut Meter<'_>,
) -> Result<bool> {
    meter.spend(1)?;
    let have = places.len() as u64;
    let missing = positions - u64::from(covered.count_ones());
    if missing == 0 {
        // Fewer would have been found before; fill up is never needed.
        return Ok(true);
    }
    // Each further place adds at most two differences to each place there is.
    let pairs_left = size * (size - 1) - have * (have - 1);
    if have == size || pairs_left < missing {
        return Ok(false);
    }
    let from = places.last().map_or(0, |last| last + 1);
    for next in from..positions {
        let mut more = covered;
        for place in places.iter() {
            more |= 1 << (next - place);
            more |= 1 << (positions - (next - place));
        }
        places.push(next);
        if extend(places, more, size, positions, meter)? {
            return Ok(true);
        }
        places.pop();
    }
    Ok(false)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Perfect difference sets: OEIS A335865 comments and example, A095029 ff.;
    /// for 13 also Weisstein, "Perfect Difference Set", MathWorld.
    #[test]
    fn published_difference_sets_cover() {
        let published: [(u64, &[u64]); 9] = [
            (7, &[1, 2, 4]),
            (7, &[0, 1, 3]),
            (7, &[0, 1, 5]),
            (13, &[0, 1, 3, 9]),
            (13, &[1, 2, 5, 7]),
            (31, &[1, 5, 11, 24, 25, 27]),
            (57, &[0, 1, 6, 15, 22, 26, 45, 55]),
            (91, &[0, 2, 6, 7, 18, 21, 31, 54, 63, 71]),
            (133, &[1, 10, 11, 13, 27, 31, 68, 75, 83, 110, 115, 121]),
        ];
        for (positions, places) in published {
            assert!(covers_all_differences(places, positions));
            let k = places.len() as u64;
            assert_eq!(k * (k - 1), positions - 1, "perfect");
            for left_out in 0..places.len() {
                let mut fewer = places.to_vec();
                fewer.remove(left_out);
                assert!(!covers_all_differences(&fewer, positions));
            }
        }
    }

    /// OEIS A283297: smallest cardinality of a difference basis in the cyclic
    /// group of order n, n = 1, 2, …
    #[test]
    fn fewest_places_agree_with_the_published_sequence() {
        let published = [
            1, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 4, 4, 5, 5, 5, 5, 5, 5, 6, 5, 6, 6, 6, 6, 6, 6, 6, 7,
            7, 6, 7, 7,
        ];
        for (positions, fewest) in (1_u64..).zip(published) {
            let places = difference_cover(positions, &mut Meter::default()).unwrap();
            assert_eq!(places.len(), fewest, "{positions}");
            assert!(covers_all_differences(&places, positions));
        }
    }

    /// OEIS A004136 comments (modular Golomb rulers): all differences distinct.
    #[test]
    fn published_modular_rulers_repeat_no_difference() {
        let ruler = [
            0_u64, 1, 3, 7, 15, 26, 31, 53, 63, 98, 107, 127, 140, 176, 197, 215,
        ];
        let mut seen = std::collections::BTreeSet::new();
        for a in ruler {
            for b in ruler {
                assert!(a == b || seen.insert((a + 255 - b) % 255));
            }
        }
        // 240 of 254 differences: near, but no cover.
        assert!(!covers_all_differences(&ruler, 255));
    }

    #[test]
    fn odd_requests_are_refused() {
        assert!(difference_cover(0, &mut Meter::default()).is_err());
        assert!(difference_cover(129, &mut Meter::default()).is_err());
        assert!(difference_cover(40, &mut Meter::new(10)).is_err());
        assert!(!covers_all_differences(&[], 5));
        assert!(!covers_all_differences(&[0], 0));
        assert!(covers_all_differences(&[0], 1));
    }
}
