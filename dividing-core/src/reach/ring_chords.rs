//! A bar laid on pins of two different rings: its direction is a real number,
//! from the coordinates of the pins.
//!
//! The bar touches equal pins on one side, so it lies along the line of their
//! centres. Seen from the centre of the plate that line has an outward normal;
//! a level bar on top makes it point straight up, and so on, as for pins of one
//! ring.

use std::f64::consts::{FRAC_PI_2, TAU};

use super::fine_points::{FINE_PARTS, FinePoint, FinePoints};
use super::orientation_set::OrientationSet;
use super::pin_chords::bar_places;
use super::setting::{BarPlace, Setting};
use super::way::{Way, WayKind, WayMaker};
use crate::angle::Angle;
use crate::equipment::{HoleCircle, PinPlate};
use crate::error::{Error, Result};
use crate::work::Meter;

/// Most pairs of pins that are listed; rings that would bring more are left out.
const MOST_PAIRS: usize = 100_000;

/// A bar over a pin of one ring and a pin of another.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Chord {
    rings: (usize, usize),
    holes: (u32, u32),
    bar: BarPlace,
}

impl Chord {
    /// All of it in one number.
    fn tag(self) -> Option<i64> {
        let digits = [
            (i64::try_from(self.rings.0).ok()?, 1 << 10),
            (i64::try_from(self.rings.1).ok()?, 1 << 10),
            (i64::from(self.holes.0), 1 << 17),
            (i64::from(self.holes.1), 1 << 17),
            (self.bar as i64, 4),
        ];
        digits.iter().try_fold(0_i64, |all, (digit, base)| {
            (digit < base).then(|| all * base + digit)
        })
    }

    fn from_tag(mut tag: i64) -> Option<Self> {
        let mut digit = |base: i64| {
            let digit = tag % base;
            tag /= base;
            digit
        };
        let bar = match digit(4) {
            0 => BarPlace::LevelAbove,
            1 => BarPlace::LevelBelow,
            2 => BarPlace::UprightRight,
            _ => BarPlace::UprightLeft,
        };
        let second = u32::try_from(digit(1 << 17)).ok()?;
        let first = u32::try_from(digit(1 << 17)).ok()?;
        let second_ring = usize::try_from(digit(1 << 10)).ok()?;
        let first_ring = usize::try_from(digit(1 << 10)).ok()?;
        Some(Self {
            rings: (first_ring, second_ring),
            holes: (first, second),
            bar,
        })
    }

    fn circles(self, plate: &PinPlate) -> Option<(&HoleCircle, &HoleCircle)> {
        Some((
            plate.circles.get(self.rings.0)?,
            plate.circles.get(self.rings.1)?,
        ))
    }
}

/// The place of a hole in millimetres, counted counter-clockwise.
fn place(plate: &PinPlate, circle: &HoleCircle, hole: u32) -> Option<(f64, f64)> {
    let radius_mm = circle.pitch_radius?.mm();
    let (sine, cosine) = hole_angle(plate, circle, hole)?.to_radians_f64().sin_cos();
    Some((radius_mm * cosine, radius_mm * sine))
}

fn hole_angle(plate: &PinPlate, circle: &HoleCircle, hole: u32) -> Option<Angle> {
    let angle = Angle::new(i128::from(hole), i128::from(circle.holes)).ok()?;
    let angle = circle.first_hole.checked_add(angle).ok()?;
    Some(plate.sense.apply(angle).within_turn())
}

/// Distance of the pins, and where the outward normal of their line points, in
/// radians.
fn line(plate: &PinPlate, chord: Chord) -> Option<(f64, f64)> {
    let (first, second) = chord.circles(plate)?;
    let (ax, ay) = place(plate, first, chord.holes.0)?;
    let (bx, by) = place(plate, second, chord.holes.1)?;
    let (dx, dy) = (bx - ax, by - ay);
    // Away from the centre; a line through it has no side, and either serves.
    let side = if ax * dy - ay * dx >= 0.0 { 1.0 } else { -1.0 };
    Some((dx.hypot(dy), (-side * dx).atan2(side * dy)))
}

/// Distance of two pins on different rings, in millimetres.
pub(crate) fn baseline_across_mm(
    plate: &PinPlate,
    rings: (u32, u32),
    holes: (u32, u32),
) -> Option<f64> {
    let ring = |count: u32| plate.circles.iter().position(|it| it.holes == count);
    let chord = Chord {
        rings: (ring(rings.0)?, ring(rings.1)?),
        holes,
        bar: BarPlace::LevelAbove,
    };
    line(plate, chord).map(|(baseline_mm, _)| baseline_mm)
}

/// Whether the first of two pins on different rings stands right of the second
/// with the bar on top of both: where they follow each other counter-clockwise,
/// seen from the centre.
pub(crate) fn first_stands_right(plate: &PinPlate, rings: (u32, u32), holes: (u32, u32)) -> bool {
    let place_of = |count: u32, hole: u32| {
        let ring = plate.circles.iter().find(|it| it.holes == count)?;
        place(plate, ring, hole)
    };
    match (place_of(rings.0, holes.0), place_of(rings.1, holes.1)) {
        (Some((ax, ay)), Some((bx, by))) => ax * (by - ay) - ay * (bx - ax) >= 0.0,
        _ => true,
    }
}

/// Where the bar makes the outward normal point, in radians.
fn direction_rad(bar: BarPlace) -> f64 {
    match bar {
        BarPlace::UprightRight => 0.0,
        BarPlace::LevelAbove => FRAC_PI_2,
        BarPlace::UprightLeft => 2.0 * FRAC_PI_2,
        BarPlace::LevelBelow => 3.0 * FRAC_PI_2,
    }
}

/// The real angle that a chord presents, in radians.
fn presented_rad(plate: &PinPlate, chord: Chord) -> Option<f64> {
    let (_, normal) = line(plate, chord)?;
    Some((normal - direction_rad(chord.bar)).rem_euclid(TAU))
}

/// Whether the line passes through the centre, as the hole angles show exactly,
/// at an angle that fine points hold exactly.
fn is_exact(plate: &PinPlate, chord: Chord) -> bool {
    let angles = chord.circles(plate).and_then(|(first, second)| {
        let first = hole_angle(plate, first, chord.holes.0)?;
        let second = hole_angle(plate, second, chord.holes.1)?;
        Some((first, first.checked_sub(second).ok()?))
    });
    angles.is_some_and(|(first, apart)| {
        apart.within_turn().denominator() <= 2 && i128::from(FINE_PARTS) % first.denominator() == 0
    })
}

/// The way to lay the bar across rings, if the plate allows it and the radii of
/// two rings at least are known.
pub(super) fn way(plate: &PinPlate, maker: WayMaker, meter: &mut Meter<'_>) -> Result<Option<Way>> {
    if !plate.across_rings {
        return Ok(None);
    }
    let mut pairs = 0_usize;
    let mut found: Vec<(FinePoint, f64)> = Vec::new();
    for (i, first) in plate.circles.iter().enumerate() {
        for (j, second) in plate.circles.iter().enumerate().skip(i + 1) {
            let (Some(a), Some(b)) = (first.pitch_radius, second.pitch_radius) else {
                continue;
            };
            let (ours, theirs) = (first.present(), second.present());
            let more = ours.len().saturating_mul(theirs.len());
            if pairs.saturating_add(more) > MOST_PAIRS {
                meter.leave_out(format!(
                    "bars across rings: {} and {} holes make too many pairs of pins to list",
                    first.holes, second.holes
                ));
                continue;
            }
            pairs += more;
            meter.spend(u64::try_from(more).unwrap_or(u64::MAX).saturating_mul(8))?;
            // Shorter baselines than the larger radius are not worth a bar.
            let least_mm = a.mm().max(b.mm());
            for &hole in &ours {
                for &other in &theirs {
                    for &bar in bar_places(plate) {
                        let chord = Chord {
                            rings: (i, j),
                            holes: (hole, other),
                            bar,
                        };
                        let Some((baseline_mm, _)) = line(plate, chord) else {
                            continue;
                        };
                        let (Some(tag), Some(angle_rad)) =
                            (chord.tag(), presented_rad(plate, chord))
                        else {
                            continue;
                        };
                        if baseline_mm >= least_mm {
                            found.push((FinePoint::from_radians(angle_rad, tag)?, baseline_mm));
                        }
                    }
                }
            }
        }
    }
    // Of several chords of one direction the longest baseline stays.
    found.sort_by(|a, b| {
        (a.0.place().cmp(&b.0.place()))
            .then(b.1.total_cmp(&a.1))
            .then(a.0.cmp(&b.0))
    });
    found.dedup_by_key(|(point, _)| point.place());
    let points: Vec<FinePoint> = found.into_iter().map(|(point, _)| point).collect();
    if points.is_empty() {
        return Ok(None);
    }
    let base = OrientationSet::equally_spaced(1)?;
    let fine = FinePoints::new(points);
    Ok(Some(maker.fine_way(WayKind::PinsAcrossRings, base, fine)))
}

/// The real angle of a point, unless it is exact.
pub(super) fn real_rad(plate: &PinPlate, point: FinePoint) -> Option<f64> {
    let chord = Chord::from_tag(point.tag())?;
    if is_exact(plate, chord) {
        return None;
    }
    presented_rad(plate, chord)
}

pub(super) fn setting(plate: &PinPlate, point: FinePoint) -> Result<Setting> {
    let chord = Chord::from_tag(point.tag());
    chord
        .and_then(|chord| {
            let (first, second) = chord.circles(plate)?;
            Some(Setting::BarAcrossRings {
                first_ring: first.holes,
                first_pin: chord.holes.0,
                second_ring: second.holes,
                second_pin: chord.holes.1,
                bar: chord.bar,
            })
        })
        .ok_or_else(|| Error::internal("a chord across rings that the plate lacks"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tags_hold_a_whole_chord() {
        for bar in [
            BarPlace::LevelAbove,
            BarPlace::LevelBelow,
            BarPlace::UprightRight,
            BarPlace::UprightLeft,
        ] {
            let chord = Chord {
                rings: (3, 700),
                holes: (99_999, 12),
                bar,
            };
            assert_eq!(Chord::from_tag(chord.tag().unwrap()), Some(chord));
        }
        let beyond = Chord {
            rings: (3, 5000),
            holes: (0, 0),
            bar: BarPlace::LevelAbove,
        };
        assert_eq!(beyond.tag(), None);
    }
}
