//! What pin plates hold: a straight bar on two pins, levelled or upright.
//!
//! The chord over holes a and b = a + span of an n-hole ring has its outward
//! normal at `(a + b)/(2n)`. A level bar above the pins makes that normal point
//! straight up (a quarter turn), below them straight down; an upright bar makes
//! it point right or left. The ring then presents the normal less that direction.

use super::orientation_set::{Coset, OrientationSet};
use super::setting::{BarPlace, Setting};
use super::way::{Way, WayKind, WayMaker};
use crate::angle::Angle;
use crate::equipment::{HoleCircle, PinPlate};
use crate::error::Result;
use crate::work::Meter;

impl BarPlace {
    /// Where the outward normal of the chord points.
    fn direction(self) -> Result<Angle> {
        let quarters = match self {
            Self::UprightRight => 0,
            Self::LevelAbove => 1,
            Self::UprightLeft => 2,
            Self::LevelBelow => 3,
        };
        Angle::new(quarters, 4)
    }
}

/// The ways a plate's bar may lie, the plain one first.
pub(super) fn bar_places(plate: &PinPlate) -> &'static [BarPlace] {
    match (plate.bar_turns_over, plate.square) {
        (false, false) => &[BarPlace::LevelAbove],
        (true, false) => &[BarPlace::LevelAbove, BarPlace::LevelBelow],
        (false, true) => &[BarPlace::LevelAbove, BarPlace::UprightRight],
        (true, true) => &[
            BarPlace::LevelAbove,
            BarPlace::LevelBelow,
            BarPlace::UprightRight,
            BarPlace::UprightLeft,
        ],
    }
}

/// What the chord from hole `first` over `span` spaces presents.
fn presented(
    plate: &PinPlate,
    circle: &HoleCircle,
    first: u32,
    span: u32,
    bar: BarPlace,
) -> Result<Angle> {
    let middle = Angle::new(
        i128::from(first) * 2 + i128::from(span),
        i128::from(circle.holes) * 2,
    )?;
    let normal = plate.sense.apply(circle.first_hole.checked_add(middle)?);
    Ok(normal.checked_sub(bar.direction()?)?.within_turn())
}

/// Whether both holes of a chord can take a pin.
fn has_pins(circle: &HoleCircle, first: u32, span: u32) -> bool {
    let second = (first + span) % circle.holes;
    !circle.absent.contains(&first) && !circle.absent.contains(&second)
}

/// What the bar presents, laid the plain way on the first pins of a span.
fn first_presented(plate: &PinPlate, circle: &HoleCircle, span: u32) -> Result<Option<Angle>> {
    let first = (0..circle.holes).find(|&first| has_pins(circle, first, span));
    match (first, bar_places(plate).first()) {
        (Some(first), Some(&bar)) => presented(plate, circle, first, span, bar).map(Some),
        _ => Ok(None),
    }
}

fn span_cosets(
    plate: &PinPlate,
    circle: &HoleCircle,
    span: u32,
    meter: &mut Meter<'_>,
) -> Result<Vec<Coset>> {
    let mut cosets = Vec::new();
    for &bar in bar_places(plate) {
        if circle.is_full() {
            let through = presented(plate, circle, 0, span, bar)?;
            cosets.push(Coset::new(through, i128::from(circle.holes))?);
            continue;
        }
        for first in 0..circle.holes {
            meter.spend(1)?;
            if has_pins(circle, first, span) {
                cosets.push(Coset::new(presented(plate, circle, first, span, bar)?, 1)?);
            }
        }
    }
    Ok(cosets)
}

pub(super) fn ways(
    plate: &PinPlate,
    maker: WayMaker,
    all: &mut Vec<Way>,
    meter: &mut Meter<'_>,
) -> Result<()> {
    for (index, circle) in plate.circles.iter().enumerate() {
        let mut mixed = Vec::new();
        let mut one_span = Vec::new();
        for span in spans(circle) {
            meter.spend(1)?;
            let cosets = span_cosets(plate, circle, span, meter)?;
            mixed.extend(cosets.iter().copied());
            if let Some(zero) = first_presented(plate, circle, span)? {
                let kind = WayKind::PinsOneSpan {
                    circle: index,
                    span,
                };
                one_span.push((kind, zero, OrientationSet::from_cosets(cosets)?));
            }
        }
        let Some((_, zero, longest)) = one_span.first() else {
            continue;
        };
        let mixed = OrientationSet::from_cosets(mixed)?;
        let cost = 4 * (1 + 2 * circle.absent.len()) as u64;
        let (zero, mixing_adds) = (*zero, mixed != *longest);
        for (kind, zero, set) in one_span {
            let full_order = order_of(&set, meter)?;
            all.push(maker.way(kind, set, zero, full_order).costing(cost));
        }
        if mixing_adds {
            let full_order = order_of(&mixed, meter)?;
            let kind = WayKind::PinsMixedSpans { circle: index };
            let cost = cost.saturating_mul(spans(circle).count() as u64);
            all.push(maker.way(kind, mixed, zero, full_order).costing(cost));
        }
    }
    Ok(())
}

/// The order of a set that is equally spaced, else that of its finest coset.
fn order_of(set: &OrientationSet, meter: &mut Meter<'_>) -> Result<i128> {
    let one = set.as_one_coset(meter)?.map(Coset::order);
    Ok(one.unwrap_or_else(|| set.cosets().map(Coset::order).max().unwrap_or(1)))
}

/// The spans of a ring, the longest baseline first.
///
/// Rings of many holes offer hundreds of nearly equal baselines; the longest
/// few of each parity hold the same angles as all.
fn spans(circle: &HoleCircle) -> impl Iterator<Item = u32> {
    const MOST_SPANS: u32 = 24;
    let longest = circle.holes / 2;
    let shortest = if circle.is_full() {
        longest.saturating_sub(MOST_SPANS - 1).max(1)
    } else {
        1
    };
    (shortest..=longest).rev()
}

/// Up to `most` chords that present an angle, of one span or of any, the
/// longest first.
pub(super) fn bars_on_pins(
    plate: &PinPlate,
    circle: usize,
    span: Option<u32>,
    wanted: Angle,
    most: usize,
) -> Result<Vec<Setting>> {
    let mut found = Vec::new();
    let Some(circle) = plate.circles.get(circle) else {
        return Ok(found);
    };
    let wanted = wanted.within_turn();
    let candidates: Vec<u32> = span.map_or_else(|| spans(circle).collect(), |span| vec![span]);
    for span in candidates {
        for &bar in bar_places(plate) {
            // Holes step the normal by 1/n: solve for the first hole.
            let from_zero = plate
                .sense
                .apply(wanted.checked_sub(presented(plate, circle, 0, span, bar)?)?);
            let Some(first) = super::way::index_of(from_zero, circle.holes)? else {
                continue;
            };
            if has_pins(circle, first, span) {
                found.push(Setting::BarOnPins {
                    circle: circle.holes,
                    first_pin: first,
                    second_pin: (first + span) % circle.holes,
                    span,
                    bar,
                });
            }
            if found.len() >= most {
                return Ok(found);
            }
        }
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::equipment::{Equipment, PinHold, Sense, Workshop};
    use crate::length::Length;
    use crate::reach::ways as all_ways;

    fn ring(holes: u32, turns_over: bool, square: bool) -> PinPlate {
        PinPlate {
            name: "ring".into(),
            circles: vec![HoleCircle::full(holes, None)],
            sense: Sense::default(),
            bar_turns_over: turns_over,
            square,
            across_rings: false,
            registration: None,
            pin_hold: PinHold::Loose,
            bar_straightness: Length::ZERO,
            levelling: None,
            square_error: Angle::ZERO,
        }
    }

    /// Most equal divisions that one way of the plate serves.
    fn serves(plate: PinPlate, mixed: bool) -> i128 {
        let workshop = Workshop::new("w", vec![Equipment::PinPlate(plate)]).unwrap();
        let meter = &mut Meter::default();
        all_ways(&workshop, meter)
            .unwrap()
            .iter()
            .filter(|way| matches!(way.kind(), WayKind::PinsMixedSpans { .. }) == mixed)
            .map(|way| {
                way.set()
                    .as_one_coset(meter)
                    .unwrap()
                    .map_or(0, Coset::order)
            })
            .max()
            .unwrap_or(0)
    }

    #[test]
    fn rings_serve_twice_their_holes() {
        // Common practice, no published source; follows from (a+b)/(2n) + 1/4.
        assert_eq!(serves(ring(4, true, false), true), 8);
        assert_eq!(serves(ring(5, true, false), false), 10);
        assert_eq!(serves(ring(6, true, false), true), 12);
        assert_eq!(serves(ring(6, true, false), false), 6);
        assert_eq!(serves(ring(9, true, false), false), 18);
        assert_eq!(serves(ring(3, true, false), false), 6);
        assert_eq!(serves(ring(3, false, false), false), 3);
        assert_eq!(serves(ring(2, true, false), false), 2);
        assert_eq!(serves(ring(2, true, true), false), 4);
        assert_eq!(serves(ring(5, true, true), false), 20);
    }

    #[test]
    fn the_zero_setting_is_the_plain_bar_on_the_first_pins() {
        for (holes, absent) in [(3, vec![]), (5, vec![]), (6, vec![]), (6, vec![0, 1])] {
            let mut plate = ring(holes, true, true);
            plate.circles[0].absent = absent.clone();
            let workshop = Workshop::new("w", vec![Equipment::PinPlate(plate)]).unwrap();
            for way in all_ways(&workshop, &mut Meter::default()).unwrap() {
                let setting = way.setting(&workshop, way.zero()).unwrap();
                let Setting::BarOnPins {
                    first_pin,
                    second_pin,
                    span,
                    bar,
                    ..
                } = setting
                else {
                    panic!("{setting:?}");
                };
                let first = (0..holes)
                    .find(|it| !absent.contains(it) && !absent.contains(&((it + span) % holes)));
                assert_eq!((Some(first_pin), bar), (first, BarPlace::LevelAbove));
                assert_eq!(second_pin, (first_pin + span) % holes);
            }
        }
    }

    /// Lays a bar on the two pins as circles in the plane and reads the turn of
    /// the plate that makes the bar's edge level or upright.
    #[test]
    fn chords_agree_with_a_bar_laid_on_circles() {
        let (radius_mm, pin_mm) = (40.0, 3.0);
        for holes in 2..=9 {
            let plate = ring(holes, true, true);
            let circle = &plate.circles[0];
            for span in spans(circle) {
                for first in 0..holes {
                    for &bar in bar_places(&plate) {
                        let shown = presented(&plate, circle, first, span, bar).unwrap();
                        let turn = -shown.to_radians_f64();
                        let pin = |hole: u32| {
                            let at =
                                turn + std::f64::consts::TAU * f64::from(hole) / f64::from(holes);
                            (radius_mm * at.cos(), radius_mm * at.sin())
                        };
                        let ((ax, ay), (bx, by)) = (pin(first), pin((first + span) % holes));
                        let touch = match bar {
                            BarPlace::LevelAbove => [ay + pin_mm, by + pin_mm],
                            BarPlace::LevelBelow => [ay - pin_mm, by - pin_mm],
                            BarPlace::UprightRight => [ax + pin_mm, bx + pin_mm],
                            BarPlace::UprightLeft => [ax - pin_mm, bx - pin_mm],
                        };
                        assert!(
                            (touch[0] - touch[1]).abs() < 1e-9,
                            "{holes} {first} {span} {bar:?}"
                        );
                        // The bar lies on the side away from the centre.
                        let outward = match bar {
                            BarPlace::LevelAbove => ay + by,
                            BarPlace::LevelBelow => -ay - by,
                            BarPlace::UprightRight => ax + bx,
                            BarPlace::UprightLeft => -ax - bx,
                        };
                        assert!(outward > -1e-9, "{holes} {first} {span} {bar:?}");
                    }
                }
            }
        }
    }
}
