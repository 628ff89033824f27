//! Names to stamp: a letter for each ring, a number for each hole.

use crate::pattern::result::{Pattern, Ring};

/// The letter of a ring, from the outside: A, B … Z, AA, AB …
///
/// ```
/// use dividing_core::pattern::outputs::ring_letter;
/// assert_eq!(ring_letter(0), "A");
/// assert_eq!(ring_letter(26), "AA");
/// ```
#[must_use]
pub fn ring_letter(index: usize) -> String {
    let mut letters = Vec::new();
    let mut rest = index;
    loop {
        let letter = u8::try_from(rest % 26).unwrap_or(0);
        letters.push(char::from(b'A' + letter));
        if rest < 26 {
            break;
        }
        rest = rest / 26 - 1;
    }
    letters.into_iter().rev().collect()
}

/// The name of a hole, such as `B12`.
#[must_use]
pub fn hole_label(ring: usize, number: u32) -> String {
    format!("{}{number}", ring_letter(ring))
}

/// What to stamp beside a ring: its letter and the circles it holds.
///
/// ```
/// use dividing_core::pattern::{PlateBrief, design, outputs::ring_stamp};
/// use dividing_core::work::Meter;
/// let brief = PlateBrief::from_json(
///     r#"{"format": 1, "divisions": [8, 12], "outline": {"disc": {"diameter": 100}},
///         "hole_diameter": 6, "least_web": 2, "least_edge_distance": 3}"#,
/// )?;
/// let plate = design(&brief, &mut Meter::default())?.into_pattern()?;
/// assert_eq!(ring_stamp(&plate, 0), "A 8 12");
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[must_use]
pub fn ring_stamp(pattern: &Pattern, ring: usize) -> String {
    let mut text = ring_letter(ring);
    for n in pattern.rings.get(ring).into_iter().flat_map(circles) {
        text += &format!(" {n}");
    }
    text
}

fn circles(ring: &Ring) -> impl Iterator<Item = u64> {
    ring.divisions.iter().copied()
}
