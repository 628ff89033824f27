//! What pin plates hold: a straight bar on two pins, levelled or upright.
//!
//! The chord over holes a and b = a + span of an n-hole ring has its outward
//! normal at `(a + b)/(2n)`. A level bar above the pins makes that normal point
//! straight up (a quarter turn), below them straight down; an upright bar makes
//! it point right or left. The ring then presents the normal less that direction.

use super::orientation_set::{Coset, OrientationSet};
use super::pin_ring::{PinRing, period};
use super::setting::{BarPlace, Setting};
use super::way::{Way, WayKind, WayMaker, index_of};
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
    presented_at(plate, circle, first * 2 + span, bar)
}

/// What the bar presents with the middle of the chord in it, in half spaces.
fn presented_at(
    plate: &PinPlate,
    circle: &HoleCircle,
    middle: u32,
    bar: BarPlace,
) -> Result<Angle> {
    let half_spaces = i128::from(circle.holes) * 2;
    let middle = Angle::new(i128::from(middle), half_spaces)?;
    let normal = plate.sense.apply(circle.first_hole.checked_add(middle)?);
    Ok(normal.checked_sub(bar.direction()?)?.within_turn())
}

/// The middle that a chord must have to present an angle, if there is one.
fn middle_for(
    plate: &PinPlate,
    circle: &HoleCircle,
    wanted: Angle,
    bar: BarPlace,
) -> Result<Option<u32>> {
    let normal = plate.sense.apply(wanted.checked_add(bar.direction()?)?);
    index_of(normal.checked_sub(circle.first_hole)?, circle.holes * 2)
}

/// Every way of a plate: for each ring its spans one by one, and all of them
/// together where that holds more.
pub(super) fn ways(
    plate: &PinPlate,
    maker: WayMaker,
    all: &mut Vec<Way>,
    meter: &mut Meter<'_>,
) -> Result<()> {
    for (index, circle) in plate.circles.iter().enumerate() {
        let ring = PinRing::of(circle);
        let bars = bar_places(plate);
        let spans = spans(circle, &ring, meter)?;
        let cost = 4 + u64::from(circle.holes) / 256;
        let mut listed = 0;
        let mut longest: Option<(Angle, OrientationSet)> = None;
        for &span in &spans {
            if listed > MOST_LISTED {
                meter.leave_out(format!(
                    "bars on the ring of {} holes: spans of {span} and less, whose baselines are \
                     the shortest, were not looked at one span at a time; longer ones were, and \
                     all spans together",
                    circle.holes
                ));
                break;
            }
            meter.spend(1 + u64::from(circle.holes) / 8)?;
            let firsts = Vec::from_iter(ring.firsts(span));
            let (Some(&first), Some(&bar)) = (firsts.first(), bars.first()) else {
                continue;
            };
            let step = period(&firsts, circle.holes);
            let order = i128::from(circle.holes / step);
            let mut cosets = Vec::new();
            for &first in firsts.iter().take_while(|first| **first < step) {
                for &bar in bars {
                    cosets.push(Coset::new(
                        presented(plate, circle, first, span, bar)?,
                        order,
                    )?);
                }
            }
            meter.spend(cosets.len() as u64)?;
            listed += cosets.len().max(LEAST_OF_A_SPAN);
            let set = OrientationSet::from_cosets(cosets)?;
            let zero = presented(plate, circle, first, span, bar)?;
            if longest.is_none() {
                longest = Some((zero, set.clone()));
            }
            let kind = WayKind::PinsOneSpan {
                circle: index,
                span,
            };
            let full_order = order_of(&set, meter)?;
            all.push(maker.way(kind, set, zero, full_order).costing(cost));
        }
        let Some((zero, longest)) = longest else {
            continue;
        };
        let mixed = mixed_set(plate, circle, &ring, meter)?;
        if mixed != longest {
            let full_order = order_of(&mixed, meter)?;
            let kind = WayKind::PinsMixedSpans { circle: index };
            let cost = cost + u64::from(circle.holes) / 16;
            all.push(maker.way(kind, mixed, zero, full_order).costing(cost));
        }
    }
    Ok(())
}

/// What chords of all spans present together.
fn mixed_set(
    plate: &PinPlate,
    circle: &HoleCircle,
    ring: &PinRing,
    meter: &mut Meter<'_>,
) -> Result<OrientationSet> {
    let middles = ring.middles(meter)?;
    let step = period(&middles, 2 * circle.holes);
    let order = i128::from(2 * circle.holes / step);
    let mut cosets = Vec::new();
    for &middle in middles.iter().take_while(|middle| **middle < step) {
        meter.spend(1)?;
        for &bar in bar_places(plate) {
            cosets.push(Coset::new(
                presented_at(plate, circle, middle, bar)?,
                order,
            )?);
        }
    }
    OrientationSet::from_cosets(cosets)
}

/// The order of a set that is equally spaced, else that of its finest coset.
fn order_of(set: &OrientationSet, meter: &mut Meter<'_>) -> Result<i128> {
    let one = set.as_one_coset(meter)?.map(Coset::order);
    Ok(one.unwrap_or_else(|| set.cosets().map(Coset::order).max().unwrap_or(1)))
}

/// The chords, laid each way of the bar, that are looked at one span at a time;
/// the span that passes it is the last.
const MOST_LISTED: usize = 1 << 18;

/// What a span counts as at least: every one is a way of its own to plan.
const LEAST_OF_A_SPAN: usize = 1 << 10;

/// The longest spans of a full ring that are offered: rings of many holes have
/// hundreds of nearly equal baselines, and those of one parity hold the same.
const MOST_SPANS_OF_FULL_RING: u32 = 24;

/// The spans of a ring, the longest baseline first.
fn spans(circle: &HoleCircle, ring: &PinRing, meter: &mut Meter<'_>) -> Result<Vec<u32>> {
    if circle.is_full() {
        Ok(spans_of_full_ring(circle.holes).rev().collect())
    } else {
        ring.spans(meter)
    }
}

fn spans_of_full_ring(holes: u32) -> std::ops::RangeInclusive<u32> {
    let longest = holes / 2;
    longest.saturating_sub(MOST_SPANS_OF_FULL_RING - 1).max(1)..=longest
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
    let ring = PinRing::of(circle);
    let mut middles = Vec::new();
    for &bar in bar_places(plate) {
        let middle = middle_for(plate, circle, wanted, bar)?;
        middles.extend(middle.map(|middle| (bar, middle)));
    }
    let spans = match span {
        Some(span) => span..=span,
        None if circle.is_full() => spans_of_full_ring(circle.holes),
        None => 1..=circle.holes / 2,
    };
    for span in spans.rev() {
        for &(bar, middle) in middles.iter().filter(|(_, middle)| middle % 2 == span % 2) {
            let first_pin = ring.first_at(middle, span);
            if ring.has_chord(first_pin, span) {
                found.push(Setting::BarOnPins {
                    circle: circle.holes,
                    first_pin,
                    second_pin: (first_pin + span) % circle.holes,
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
    use proptest::prelude::*;

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

    /// The chords of a ring tried one after the other, each way of the bar.
    fn by_trying(plate: &PinPlate, span: Option<u32>) -> OrientationSet {
        let circle = &plate.circles[0];
        let pins = circle.present();
        let mut cosets = Vec::new();
        for &first in &pins {
            for &second in &pins {
                let apart = (second + circle.holes - first) % circle.holes;
                let fits = span.map_or((1..=circle.holes / 2).contains(&apart), |it| it == apart);
                for &bar in bar_places(plate) {
                    let middle =
                        Angle::new(i128::from(2 * first + apart), i128::from(circle.holes) * 2);
                    let normal = plate
                        .sense
                        .apply(circle.first_hole.checked_add(middle.unwrap()).unwrap());
                    let shown = normal.checked_sub(bar.direction().unwrap()).unwrap();
                    if fits {
                        cosets.push(Coset::new(shown, 1).unwrap());
                    }
                }
            }
        }
        OrientationSet::from_cosets(cosets).unwrap()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]

        #[test]
        fn every_way_holds_what_trying_every_chord_gives(
            holes in 2_u32..40,
            absent in prop::collection::btree_set(0_u32..40, 0..30),
            (turns_over, square, clockwise) in any::<(bool, bool, bool)>(),
            first_hole in 0_i128..7,
        ) {
            let mut plate = ring(holes, turns_over, square);
            plate.sense = if clockwise { Sense::Clockwise } else { Sense::CounterClockwise };
            let circle = &mut plate.circles[0];
            circle.first_hole = Angle::new(first_hole, 50).unwrap();
            circle.absent = absent.into_iter().filter(|hole| *hole < holes).collect();
            prop_assume!(circle.present().len() > 1);
            let workshop = Workshop::new("w", vec![Equipment::PinPlate(plate.clone())]).unwrap();
            let meter = &mut Meter::default();
            let all = all_ways(&workshop, meter).unwrap();
            let mut spans = 0;
            for way in &all {
                let span = match way.kind() {
                    WayKind::PinsOneSpan { span, .. } => Some(span),
                    _ => None,
                };
                spans += usize::from(span.is_some());
                let tried = by_trying(&plate, span);
                prop_assert!(way.set().holds_the_same(&tried, meter).unwrap(), "{:?}", way.kind());
                // What is held can be set.
                for coset in tried.cosets().take(40) {
                    prop_assert!(way.setting(&workshop, coset.offset()).is_ok());
                }
            }
            let has_span = |span: &u32| !by_trying(&plate, Some(*span)).is_empty();
            let expected = (1..=holes / 2).filter(has_span).count();
            prop_assert_eq!(spans, expected.min(if plate.circles[0].is_full() { 24 } else { 99 }));
        }
    }

    #[test]
    fn large_rings_with_many_absent_holes_are_planned() {
        for (holes, every) in [(100_000, 2), (9_999, 11), (4_000, 399)] {
            let mut plate = ring(holes, true, true);
            plate.circles[0].absent = (0..holes).filter(|hole| hole % every == 1).collect();
            let workshop = Workshop::new("w", vec![Equipment::PinPlate(plate)]).unwrap();
            let job =
                r#"{"format": 1, "name": "j", "features": {"equal_divisions": {"count": 9}}}"#;
            let job = crate::Job::from_json(job).unwrap();
            let plans = crate::plan_job(&workshop, &job).unwrap();
            assert_eq!(plans.plans()[0].exact, holes == 9_999, "{holes} {every}");
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
            for span in spans_of_full_ring(holes) {
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
