//! Words for ways, settings and figures.

use super::{Plan, devices};
use crate::angle::{Angle, AngleStyle};
use crate::equipment::{Equipment, Sense, Workshop, WormHead};
use crate::job::{AngleUnit, Job, LengthUnit, SheetUnits};
use crate::length::{Length, MM_PER_INCH};
use crate::reach::worm::PlateSense;
use crate::reach::{BarPlace, Setting, Way, WayKind};
use crate::words::count;

/// How a piece of equipment is used, in words.
pub(super) fn method(workshop: &Workshop, way: &Way) -> String {
    let Some(equipment) = workshop.equipment().get(way.equipment()) else {
        return String::new();
    };
    match (way.kind(), equipment) {
        (WayKind::DirectCircle { circle }, Equipment::DirectPlate(plate)) => format!(
            "direct indexing on the {}-hole circle",
            plate.circles.get(circle).map_or(0, |it| it.holes)
        ),
        (WayKind::Vernier, Equipment::VernierIndexer(indexer)) => format!(
            "pin through one of {} holes and one of {} stations",
            indexer.circle.holes,
            indexer.stations.len()
        ),
        (WayKind::BlockFlat, Equipment::FacedBlock(block)) => {
            format!("block of {} faces, flat in the vise", block.faces)
        }
        (WayKind::BlockFlatAndVee { vee_block, .. }, Equipment::FacedBlock(block)) => format!(
            "block of {} faces, flat and in the V of {}",
            block.faces,
            workshop
                .equipment()
                .get(vee_block)
                .map_or("the V-block", Equipment::name)
        ),
        (WayKind::PinsOneSpan { circle, span }, Equipment::PinPlate(plate)) => format!(
            "levelled bar on pins {span} apart, {}-hole ring",
            plate.circles.get(circle).map_or(0, |it| it.holes)
        ),
        (WayKind::PinsMixedSpans { circle }, Equipment::PinPlate(plate)) => format!(
            "levelled bar on pins of changing span, {}-hole ring",
            plate.circles.get(circle).map_or(0, |it| it.holes)
        ),
        (
            WayKind::SimpleIndexing {
                plate,
                back,
                circle,
            },
            Equipment::WormHead(head),
        ) => format!(
            "simple indexing, {}, {}-hole circle",
            plate_side(head, plate, back),
            circle_holes(head, plate, back, circle)
        ),
        (
            WayKind::CompoundIndexing {
                plate,
                back,
                first_circle,
                second_circle,
                ..
            },
            Equipment::WormHead(head),
        ) => {
            let holes = |circle| circle_holes(head, plate, back, circle);
            format!(
                "{}compound indexing{}, {}, {}- and {}-hole circles",
                nearest_of(way),
                several_divisions(way),
                plate_side(head, plate, back),
                holes(first_circle),
                holes(second_circle)
            )
        }
        (WayKind::SineBar, Equipment::SineBar(bar)) => {
            format!("sine bar of {} on gauge blocks", bar.length)
        }
        (WayKind::AngleBlocks, _) => "angle gauge blocks".into(),
        (WayKind::Inclination, Equipment::Protractor(it)) => {
            format!("level or protractor, read to {}", reading(it.resolution))
        }
        (WayKind::FromCommonDatum, _) => "one datum of the part at a stop for each angle".into(),
        (WayKind::FromLastFeature, _) => "each feature at a stop for the next".into(),
        (WayKind::PinsAcrossRings, _) => "levelled bar on pins of two different rings".into(),
        (WayKind::Stack { .. }, _) => {
            let members: Vec<String> = way
                .members()
                .iter()
                .map(|member| method(workshop, member))
                .collect();
            members.join(", and on it ")
        }
        (
            WayKind::DifferentialIndexing {
                plate,
                back,
                circle,
                train,
                plate_sense,
                ..
            },
            Equipment::WormHead(head),
        ) => format!(
            "{}differential indexing{}, {}, {}-hole circle, gears {train}, plate {}",
            nearest_of(way),
            several_divisions(way),
            plate_side(head, plate, back),
            circle_holes(head, plate, back, circle),
            sense_of_plate(plate_sense)
        ),
        _ => "graduated dial".into(),
    }
}

/// What goes after the name of a method whose moves make several divisions.
fn several_divisions(way: &Way) -> String {
    match way.kind().parts_of_a_move() {
        Some((k, _)) if k > 1 => format!(", {k} divisions a move"),
        _ => String::new(),
    }
}

/// What goes before the name of a method whose move is not exact.
fn nearest_of(way: &Way) -> &'static str {
    if way.stepping().is_some() {
        "nearest move of "
    } else {
        ""
    }
}

/// A plate and the side that it shows.
pub(super) fn plate_side(head: &WormHead, plate: usize, back: bool) -> String {
    format!(
        "{}{}",
        head.plates
            .get(plate)
            .map_or("the plate", |it| it.name.as_str()),
        if back { " (back)" } else { "" }
    )
}

/// Holes of a circle.
fn circle_holes(head: &WormHead, plate: usize, back: bool, circle: usize) -> u32 {
    head.side(plate, back)
        .and_then(|side| side.get(circle))
        .map_or(0, |it| it.holes)
}

/// Which way the plate turns.
pub(super) const fn sense_of_plate(sense: PlateSense) -> &'static str {
    match sense {
        PlateSense::WithCrank => "with the crank",
        PlateSense::AgainstCrank => "against the crank",
    }
}

/// One movement of compound indexing, such as `21 of 23 on`.
pub(super) fn movement(holes: i64, circle: u32) -> String {
    let way = if holes < 0 { "back" } else { "on" };
    format!("{} of {circle} {way}", holes.unsigned_abs())
}

/// Another way of the same equipment, in words.
pub(super) fn alternative(workshop: &Workshop, plan: &Plan, job: &Job) -> String {
    let equipment = workshop.piece(&plan.equipment);
    let method = plan.method.clone();
    if plan.exact {
        let step = match (job.features().equal_divisions(), plan.placements.as_slice()) {
            (Some(_), [first, second, ..]) if whole_ratio(equipment) => {
                super::steps::crank_move(first, second)
            }
            _ => None,
        };
        step.map_or(method.clone(), |step| format!("{method}: {step} a move"))
    } else {
        let off = angle(plan.largest_residual, job.units());
        format!("{method}: off by up to {off}")
    }
}

/// Whether every move of an equal division on this equipment is the same.
fn whole_ratio(equipment: Option<&Equipment>) -> bool {
    match equipment {
        Some(Equipment::WormHead(head)) => head.worm_ratio.denominator() == 1,
        _ => true,
    }
}

/// An angle in the units of the sheet.
pub(super) fn angle(angle: Angle, units: SheetUnits) -> String {
    match units.angle {
        AngleUnit::DecimalDegrees => angle.format(AngleStyle::DecimalDegrees(4)),
        AngleUnit::DegreesMinutesSeconds => angle.format(AngleStyle::DegreesMinutesSeconds(1)),
    }
}

/// An angle with a sign, in the units of the sheet.
pub(super) fn signed_angle(value: Angle, units: SheetUnits) -> String {
    let text = angle(value, units);
    if text.starts_with('-') || value.is_zero() {
        text
    } else {
        format!("+{text}")
    }
}

/// A small angle in radians, in the units of the sheet and in seconds of arc.
pub(super) fn small_angle(value_rad: f64, units: SheetUnits) -> String {
    // Small angles are figures, not settings: 10^-9 turn is far below a
    // thousandth of a second of arc.
    const FINEST: i128 = 1_000_000_000;
    let seconds = value_rad.to_degrees() * 3600.0;
    let in_units = Angle::from_radians_rounded(value_rad, FINEST)
        .map_or_else(|_| format!("{value_rad} rad"), |value| angle(value, units));
    match units.angle {
        AngleUnit::DecimalDegrees => format!("{in_units} ({seconds:.0}\")"),
        AngleUnit::DegreesMinutesSeconds => in_units,
    }
}

/// A length in the units of the sheet.
pub(super) fn length_mm(value_mm: f64, units: SheetUnits) -> String {
    match units.length {
        LengthUnit::Millimetre => format!("{} mm", fixed(value_mm, 3)),
        LengthUnit::Inch => format!("{} in", fixed(value_mm / MM_PER_INCH, 4)),
    }
}

/// A probability in per cent, rounded down so that it never claims certainty.
pub(super) fn percent(probability: f64) -> String {
    let tenths = (probability * 1000.0)
        .floor()
        .min(if probability < 1.0 { 999.0 } else { 1000.0 });
    format!("{:.1} %", tenths / 10.0)
}

/// A length that may be far below a hundredth of a millimetre, in the units of
/// the sheet.
pub(super) fn small_length_mm(value_mm: f64, units: SheetUnits) -> String {
    if value_mm >= 0.005 {
        return length_mm(value_mm, units);
    }
    match units.length {
        LengthUnit::Millimetre => format!("{} mm", fixed(value_mm, 5)),
        LengthUnit::Inch => format!("{} in", fixed(value_mm / MM_PER_INCH, 6)),
    }
}

/// A number to so many digits; a rounded zero has no sign.
fn fixed(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    match text.strip_prefix('-') {
        Some(size) if size.bytes().all(|byte| matches!(byte, b'0' | b'.')) => size.into(),
        _ => text,
    }
}

/// A length in the units of the sheet.
pub(super) fn length(value: Length, units: SheetUnits) -> String {
    length_mm(value.mm(), units)
}

/// Whole turns and holes, such as `4 turns + 8 holes`.
pub(super) fn turns_and(turns: i128, rest: i128, noun: &str) -> String {
    match (turns, rest) {
        (0, 0) => "zero".into(),
        (0, rest) => count(rest, noun),
        (turns, 0) => count(turns, "turn"),
        (turns, rest) => format!("{} + {}", count(turns, "turn"), count(rest, noun)),
    }
}

/// A setting in words.
pub(super) fn setting(workshop: &Workshop, setting: &Setting, equipment: &Equipment) -> String {
    match setting {
        Setting::Hole { hole, .. } => format!("hole {hole}"),
        Setting::HoleAtStation { hole, station } => {
            let at = match equipment {
                Equipment::VernierIndexer(indexer) => indexer.stations.get(*station),
                _ => None,
            };
            at.map_or_else(
                || format!("hole {hole}, station {station}"),
                |at| format!("hole {hole}, station {station} ({at})"),
            )
        }
        Setting::FaceDown { face } => format!("face {face} down, flat"),
        Setting::FacesInVee {
            left_face,
            right_face,
        } => {
            format!("in the V: face {left_face} left, {right_face} right")
        }
        Setting::BarOnPins {
            first_pin,
            second_pin,
            bar: place,
            ..
        } => {
            // Holes grow counter-clockwise, so above the axis the first of the
            // two stands right of the second; a clockwise ring swaps them.
            let swapped = equipment.numbering() == Sense::Clockwise;
            let (a, b) = if swapped {
                (second_pin, first_pin)
            } else {
                (first_pin, second_pin)
            };
            match place {
                BarPlace::LevelAbove => format!("pins {b} left, {a} right; bar on top"),
                BarPlace::LevelBelow => format!("pins {a} left, {b} right; bar underneath"),
                BarPlace::UprightRight => format!("pins {a} low, {b} high; bar upright at right"),
                BarPlace::UprightLeft => format!("pins {b} low, {a} high; bar upright at left"),
            }
        }
        Setting::Crank { turns, hole, .. } => turns_and(*turns, i128::from(*hole), "hole"),
        Setting::Reading { table, .. } => reading(*table),
        Setting::CompoundCrank {
            first_circle,
            first_hole,
            second_circle,
            second_hole,
            ..
        } => format!(
            "crank pin {first_hole} of {first_circle}, plate pin {second_hole} of {second_circle}"
        ),
        other => devices::setting(workshop, other, equipment),
    }
}

/// A reading of a table: degrees and minutes, seconds only where there are any.
pub(crate) fn reading(table: Angle) -> String {
    let text = table.format(AngleStyle::DegreesMinutesSeconds(0));
    let whole_minutes = table
        .checked_mul(21_600)
        .is_ok_and(|minutes| minutes.denominator() == 1);
    let whole_seconds = table
        .checked_mul(1_296_000)
        .is_ok_and(|seconds| seconds.denominator() == 1);
    if whole_minutes {
        text.trim_end_matches("00\"").into()
    } else if whole_seconds {
        text
    } else {
        table.format(AngleStyle::DegreesMinutesSeconds(1))
    }
}

/// An angle of so many seconds of arc as a reading.
pub(crate) fn arcsec_reading(arcsec: u32) -> String {
    Angle::new(i128::from(arcsec), 1_296_000).map_or_else(|_| format!("{arcsec}\""), reading)
}
