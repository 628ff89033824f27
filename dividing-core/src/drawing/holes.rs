//! Plates with hole circles, the used holes filled and numbered.

use std::collections::BTreeMap;
use std::f64::consts::TAU;

use super::canvas::{Canvas, GREY, INK, USED, fitted};
use crate::angle::Angle;
use crate::equipment::{HoleCircle, Sense, VernierIndexer};
use crate::plan::Plan;
use crate::reach::Setting;

/// Radius that stands in where the pitch radii are not known.
const STAND_IN_RADIUS_MM: f64 = 50.0;

/// A drawn circle with its radius.
struct Ring<'c> {
    circle: &'c HoleCircle,
    radius_mm: f64,
}

/// The circles with their radii, or evenly spaced where a radius is not known.
fn rings(circles: &[HoleCircle]) -> Vec<Ring<'_>> {
    let known = circles.iter().all(|it| it.pitch_radius.is_some());
    let count = f64::from(u32::try_from(circles.len()).unwrap_or(u32::MAX).max(1));
    let mut by_holes: Vec<u32> = circles.iter().map(|it| it.holes).collect();
    by_holes.sort_unstable();
    circles
        .iter()
        .map(|circle| {
            let place = by_holes
                .iter()
                .position(|it| *it == circle.holes)
                .unwrap_or(0);
            let place = f64::from(u32::try_from(place).unwrap_or(0));
            let radius_mm = match circle.pitch_radius {
                Some(radius) if known => radius.mm(),
                _ => STAND_IN_RADIUS_MM * (0.45 + 0.55 * (place + 1.0) / count),
            };
            Ring { circle, radius_mm }
        })
        .collect()
}

fn to_scale(circles: &[HoleCircle]) -> &'static str {
    if circles.iter().all(|it| it.pitch_radius.is_some()) {
        "pitch circles to scale"
    } else {
        "not to scale: pitch radii not known"
    }
}

/// Space between neighbouring holes, for sizes of dots and letters.
fn pitch_mm(ring: &Ring<'_>) -> f64 {
    TAU * ring.radius_mm / f64::from(ring.circle.holes)
}

fn place(radius_mm: f64, angle: Angle) -> (f64, f64) {
    let (sine, cosine) = angle.to_radians_f64().sin_cos();
    (radius_mm * cosine, radius_mm * sine)
}

/// Most holes of a circle that are drawn one by one.
const MOST_DRAWN: u32 = 1500;

/// Draws the holes of some rings, then the numbers of the used ones on top: outside
/// their holes, or in them where the next ring's holes are too near. `labels` gives
/// those of a ring.
fn draw_rings(
    canvas: &mut Canvas,
    rings: &[Ring<'_>],
    sense: Sense,
    labels: impl Fn(&Ring<'_>) -> BTreeMap<u32, String>,
) {
    let room = room_between(rings);
    let mut on_top = Vec::new();
    for ring in rings {
        let labels = labels(ring);
        let ground = if labels.is_empty() { "#dddddd" } else { GREY };
        canvas.circle(0.0, 0.0, ring.radius_mm, "none", ground);
        let pitch = pitch_mm(ring).min(room * 1.6);
        let dot = (pitch * 0.28).clamp(0.25, 2.2);
        let size = (pitch_mm(ring) * 0.55).clamp(1.1, 3.4);
        let outside = room_outside(rings, ring) > 2.0 * dot + 1.3 * size;
        for hole in 0..ring.circle.holes.min(MOST_DRAWN) {
            let Some((x, y)) = hole_place(ring, sense, hole, 0.0) else {
                continue;
            };
            if ring.circle.absent.contains(&hole) {
                canvas.line((x - dot, y - dot), (x + dot, y + dot), GREY, 0.2);
                canvas.line((x - dot, y + dot), (x + dot, y - dot), GREY, 0.2);
            } else if let Some(label) = labels.get(&hole) {
                canvas.circle(x, y, dot, USED, INK);
                if outside {
                    let place = hole_place(ring, sense, hole, dot + size * 0.8);
                    on_top.push((label.clone(), place.unwrap_or((x, y)), size));
                } else {
                    let size = fitted(label, 1.8 * dot, 1.3 * dot);
                    canvas.text_at(label, x, y, size, "white");
                }
            } else {
                canvas.circle(x, y, dot, "white", GREY);
            }
        }
    }
    for (label, (x, y), size) in on_top {
        canvas.label_at(&label, x, y, size, INK);
    }
}

/// Least distance between two neighbouring rings, for sizes of dots.
fn room_between(rings: &[Ring<'_>]) -> f64 {
    let mut radii: Vec<f64> = rings.iter().map(|it| it.radius_mm).collect();
    radii.sort_by(f64::total_cmp);
    let gaps = radii.windows(2).map(|pair| match pair {
        [inner, outer] => outer - inner,
        _ => f64::INFINITY,
    });
    gaps.filter(|gap| *gap > 0.0).fold(f64::INFINITY, f64::min)
}

/// Distance to the next ring further out.
fn room_outside(rings: &[Ring<'_>], ring: &Ring<'_>) -> f64 {
    let gaps = rings.iter().map(|it| it.radius_mm - ring.radius_mm);
    gaps.filter(|gap| *gap > 0.0).fold(f64::INFINITY, f64::min)
}

/// The place of a hole, moved outward by so much.
fn hole_place(ring: &Ring<'_>, sense: Sense, hole: u32, outward_mm: f64) -> Option<(f64, f64)> {
    let step = Angle::new(i128::from(hole), i128::from(ring.circle.holes)).ok()?;
    let angle = ring.circle.first_hole.checked_add(step).ok()?;
    Some(place(
        ring.radius_mm + outward_mm,
        sense.apply(angle).within_turn(),
    ))
}

/// Used holes of a circle, each with the number that the sheet calls it by.
///
/// The plate of compound indexing moves on under the pin that holds it, which
/// stands as many holes back as the sheet counts.
fn used_holes(plan: &Plan, circle: u32) -> BTreeMap<u32, String> {
    let mut used = BTreeMap::new();
    let mut add = |hole: u32, number: u32| used.insert(hole, number.to_string());
    for placement in &plan.placements {
        match &placement.setting {
            Setting::Hole { circle: on, hole }
            | Setting::Crank {
                circle: on, hole, ..
            } if *on == circle => {
                add(*hole, *hole);
            }
            Setting::BarOnPins {
                circle: on,
                first_pin,
                second_pin,
                ..
            } if *on == circle => {
                add(*first_pin, *first_pin);
                add(*second_pin, *second_pin);
            }
            Setting::BarAcrossRings {
                first_ring,
                first_pin,
                second_ring,
                second_pin,
                ..
            } => {
                for (ring, pin) in [(first_ring, first_pin), (second_ring, second_pin)] {
                    if *ring == circle {
                        add(*pin, *pin);
                    }
                }
            }
            Setting::CompoundCrank {
                first_circle,
                first_hole,
                ..
            } if *first_circle == circle => {
                add(*first_hole, *first_hole);
            }
            Setting::CompoundCrank {
                second_circle,
                second_hole,
                ..
            } if *second_circle == circle => {
                let back = circle.saturating_sub(*second_hole) % circle.max(1);
                add(back, *second_hole);
            }
            _ => {}
        }
    }
    used
}

fn outermost(rings: &[Ring<'_>]) -> f64 {
    rings.iter().map(|it| it.radius_mm).fold(10.0, f64::max)
}

/// A direct plate or a pin plate.
pub(super) fn plate(
    title: &str,
    circles: &[HoleCircle],
    sense: Sense,
    station: Option<Angle>,
    plan: &Plan,
) -> String {
    let rings = rings(circles);
    let outer = outermost(&rings);
    let chord = if station.is_none() {
        "line: pins of feature 1; "
    } else {
        ""
    };
    let caption = format!(
        "seen from the side of the cutter; used holes filled; {chord}{}",
        to_scale(circles)
    );
    let mut canvas = Canvas::new(title, &caption, outer + 14.0);
    canvas.cross(outer + 6.0);
    draw_rings(&mut canvas, &rings, sense, |ring| {
        used_holes(plan, ring.circle.holes)
    });
    for placement in plan.placements.iter().take(1) {
        let pins = match placement.setting {
            Setting::BarOnPins {
                circle,
                first_pin,
                second_pin,
                ..
            } => [(circle, first_pin), (circle, second_pin)],
            Setting::BarAcrossRings {
                first_ring,
                first_pin,
                second_ring,
                second_pin,
                ..
            } => [(first_ring, first_pin), (second_ring, second_pin)],
            _ => continue,
        };
        draw_chord(&mut canvas, &rings, sense, pins);
    }
    if let Some(station) = station {
        let tip = place(outer + 4.0, sense.apply(station));
        let tail = place(outer + 9.0, sense.apply(station));
        canvas.line(tip, tail, INK, 0.8);
    }
    canvas.finish()
}

/// The chord of the first setting of a pin plate.
fn draw_chord(canvas: &mut Canvas, rings: &[Ring<'_>], sense: Sense, pins: [(u32, u32); 2]) {
    let at = |(circle, hole): (u32, u32)| {
        let ring = rings.iter().find(|it| it.circle.holes == circle)?;
        hole_place(ring, sense, hole, 0.0)
    };
    if let [Some(a), Some(b)] = pins.map(at) {
        canvas.line(a, b, INK, 0.35);
    }
}

/// The plate of a worm head.
pub(super) fn crank_plate(title: &str, circles: &[HoleCircle], plan: &Plan) -> String {
    let rings = rings(circles);
    let outer = outermost(&rings);
    let caption = format!(
        "crank plate, seen from the side of the crank; holes the pin rests in filled; {}",
        to_scale(circles)
    );
    let mut canvas = Canvas::new(title, &caption, outer + 14.0);
    canvas.cross(outer + 6.0);
    // Crank holes count on the way the crank turns, clockwise on a plate that
    // faces the operator.
    draw_rings(&mut canvas, &rings, Sense::Clockwise, |ring| {
        used_holes(plan, ring.circle.holes)
    });
    canvas.finish()
}

/// A vernier indexer: its circle with used holes, its stations outside.
pub(super) fn vernier(title: &str, indexer: &VernierIndexer, plan: &Plan) -> String {
    let circles = std::slice::from_ref(&indexer.circle);
    let rings = rings(circles);
    let outer = outermost(&rings);
    let caption = format!(
        "seen from the side of the cutter; stations outside, marked S; {}",
        to_scale(circles)
    );
    let mut canvas = Canvas::new(title, &caption, outer + 22.0);
    canvas.cross(outer + 5.0);
    let mut holes = BTreeMap::new();
    let mut stations = vec![false; indexer.stations.len()];
    for placement in &plan.placements {
        if let Setting::HoleAtStation { hole, station } = placement.setting {
            holes.insert(hole, hole.to_string());
            if let Some(used) = stations.get_mut(station) {
                *used = true;
            }
        }
    }
    draw_rings(&mut canvas, &rings, indexer.sense, |_| holes.clone());
    for (number, (station, used)) in indexer.stations.iter().zip(stations).enumerate() {
        let angle = indexer.sense.apply(*station);
        let (x, y) = place(outer + 9.0, angle);
        canvas.circle(x, y, 1.2, if used { USED } else { "white" }, INK);
        let (x, y) = place(outer + 13.0, angle);
        canvas.text_at(
            &format!("S{number}"),
            x,
            y,
            2.8,
            if used { INK } else { GREY },
        );
    }
    canvas.finish()
}
