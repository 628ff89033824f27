//! Words for sine bars, angle gauge blocks, protractors, references of the part
//! and stacks.

use super::{Plan, words};
use crate::accuracy::size_text;
use crate::angle::Angle;
use crate::equipment::{
    AngleBlocks, Equipment, PartReference, ReferenceContact, ReferenceFrom, SineBar, Workshop,
};
use crate::error::Result;
use crate::gauge_blocks::BlockUnit;
use crate::job::{Job, SheetUnits, Start};
use crate::reach::{BarPlace, Setting, StackedBlocks, WayKind, first_stands_right};

/// A setting of one of these devices in words.
pub(super) fn setting(workshop: &Workshop, setting: &Setting, equipment: &Equipment) -> String {
    match setting {
        Setting::SineBar {
            reversed,
            unit,
            height_units,
            stacks,
            wear_block_units,
        } => {
            if stacks.is_empty() {
                return "bar level, both rollers down".into();
            }
            let each: Vec<String> = stacks.iter().map(|it| stack(*unit, it)).collect();
            let wear = wear_block_units.map_or_else(String::new, |wear| {
                format!(", a wear block of {} at each end", size_text(*unit, wear))
            });
            format!(
                "{}{}: {}{wear}",
                if *reversed { "bar end for end, " } else { "" },
                size_text(*unit, *height_units),
                each.join("; and again ")
            )
        }
        Setting::AngleStack {
            plus_arcsec,
            minus_arcsec,
        } => angle_stack(plus_arcsec, minus_arcsec),
        Setting::Inclination { reading } => words::reading(*reading),
        Setting::AtStop { stop } => {
            let at = match equipment {
                Equipment::PartReference(it) => it.angles.get(*stop),
                _ => None,
            };
            at.map_or_else(
                || format!("stop {stop}"),
                |at| format!("stop {stop} ({at})"),
            )
        }
        Setting::FromLast { steps: 0 } => "as it stands".into(),
        Setting::FromLast { .. } => "last feature at the stop".into(),
        Setting::BarAcrossRings {
            first_ring,
            first_pin,
            second_ring,
            second_pin,
            bar,
        } => {
            let pin = |pin: &u32, ring: &u32| format!("pin {pin} of the {ring}-hole ring");
            let first = pin(first_pin, first_ring);
            let second = pin(second_pin, second_ring);
            let (rings, pins) = ((*first_ring, *second_ring), (*first_pin, *second_pin));
            let as_listed = match equipment {
                Equipment::PinPlate(plate) => first_stands_right(plate, rings, pins),
                _ => true,
            };
            let (a, b) = if as_listed {
                (first, second)
            } else {
                (second, first)
            };
            match bar {
                BarPlace::LevelAbove => format!("{b} left, {a} right; bar on top"),
                BarPlace::LevelBelow => format!("{a} left, {b} right; bar underneath"),
                BarPlace::UprightRight => format!("{a} low, {b} high; bar upright at right"),
                BarPlace::UprightLeft => format!("{b} low, {a} high; bar upright at left"),
            }
        }
        Setting::Stack { members } => stacked(workshop, members, equipment),
        _ => String::new(),
    }
}

/// The blocks of a stack, or of the two whose difference counts.
fn stack(unit: BlockUnit, blocks: &StackedBlocks) -> String {
    let sum = |sizes: &[u32]| {
        let texts: Vec<String> = sizes.iter().map(|size| size_text(unit, *size)).collect();
        texts.join(" + ")
    };
    if blocks.low.is_empty() {
        sum(&blocks.high)
    } else {
        format!(
            "{} under the high roller, {} under the low one",
            sum(&blocks.high),
            sum(&blocks.low)
        )
    }
}

/// Angle gauge blocks with their signs, the largest first.
fn angle_stack(plus_arcsec: &[u32], minus_arcsec: &[u32]) -> String {
    let mut all: Vec<(u32, &str)> = plus_arcsec.iter().map(|it| (*it, "+")).collect();
    all.extend(minus_arcsec.iter().map(|it| (*it, "-")));
    all.sort_unstable_by_key(|(size, _)| std::cmp::Reverse(*size));
    let texts: Vec<String> = all
        .iter()
        .enumerate()
        .map(|(index, (size, sign))| {
            let text = Angle::new(i128::from(*size), 1_296_000)
                .map_or_else(|_| format!("{size}\""), short_reading);
            match (index, *sign) {
                (0, "+") => text,
                (0, sign) => format!("{sign}{text}"),
                (_, sign) => format!("{sign} {text}"),
            }
        })
        .collect();
    if texts.is_empty() {
        "no block".into()
    } else {
        texts.join(" ")
    }
}

/// An angle without the parts that are zero: `27°`, `9'`, `18"`.
fn short_reading(angle: Angle) -> String {
    let text = words::reading(angle);
    let text = text.trim_end_matches("00'");
    let text = text.strip_prefix("0°").unwrap_or(text);
    let text = text.strip_prefix("00'").unwrap_or(text);
    text.strip_prefix('0')
        .filter(|rest| rest.starts_with(|c: char| c.is_ascii_digit()))
        .unwrap_or(text)
        .into()
}

/// The settings of a stack's members, each under its name.
fn stacked(workshop: &Workshop, settings: &[Setting], equipment: &Equipment) -> String {
    let Equipment::Stack(stack) = equipment else {
        return String::new();
    };
    let texts: Vec<String> = stack
        .members
        .iter()
        .zip(settings)
        .filter_map(|(name, setting)| {
            let piece = workshop.piece(name)?;
            Some(format!(
                "{name}: {}",
                words::setting(workshop, setting, piece)
            ))
        })
        .collect();
    texts.join("; ")
}

/// What to do before the first cut.
pub(super) fn before(equipment: &Equipment, units: SheetUnits) -> Vec<String> {
    match equipment {
        Equipment::SineBar(bar) => before_sine_bar(bar, units),
        Equipment::AngleBlocks(set) => before_angle_blocks(set),
        Equipment::Protractor(it) => vec![format!(
            "Set the instrument to zero on the reference surface and turn it end for end to check that zero. It is read to {}.",
            words::reading(it.resolution)
        )],
        Equipment::PartReference(it) => before_reference(it, units),
        Equipment::Stack(stack) => vec![
            format!(
                "Put the members on one another, from the machine to the part: {}. Their angles add; bring each to its first setting.",
                stack.members.join(", ")
            ),
            "Indicate every member true to the axis of the one below it, and clock their zero positions to one another.".into(),
        ],
        // What follows stands apart only as a member of a stack.
        Equipment::FacedBlock(block) => vec![format!(
            "{}: mark the faces 0 to {} counter-clockwise, seen from the side of the cutter.",
            block.name,
            block.faces - 1
        )],
        Equipment::DirectPlate(plate) => vec![format!(
            "{}: hole 0 is the first of its circle; the circle is the one named under Method.",
            plate.name
        )],
        _ => Vec::new(),
    }
}

fn before_sine_bar(bar: &SineBar, units: SheetUnits) -> Vec<String> {
    let mut lines = vec![format!(
        "Stand the sine bar, {} between its rollers, on a clean surface plate or table; the blocks of a row go under its high roller.",
        words::length(bar.length, units)
    )];
    if bar.two_stacks {
        lines.push("Two equal stacks stand side by side under the roller; they share no block, so that both can stand at once.".into());
    }
    if bar.wear_block.is_some() {
        lines.push("Wear blocks go at both ends of every stack, always the same face outward; the height given includes them.".into());
    }
    if bar.turns_end_for_end {
        lines.push("Level is zero; the bar tilts the part counter-clockwise as it stands and clockwise turned end for end.".into());
    }
    lines
}

fn before_angle_blocks(set: &AngleBlocks) -> Vec<String> {
    let count = set.blocks.blocks().arcsec().len();
    vec![format!(
        "Lay out the {count} angle gauge blocks with their thick ends marked: a block with + goes with its thick end one way, a block with - the other way."
    )]
}

fn before_reference(reference: &PartReference, units: SheetUnits) -> Vec<String> {
    let what = match reference.contact {
        ReferenceContact::DrilledHole(_) => "hole of the part goes on the pin of the stop",
        ReferenceContact::Flat(_) => "flat of the part goes against the block of the stop",
    };
    let first = reference.angles.first().copied().unwrap_or_default();
    vec![match reference.from {
        ReferenceFrom::CommonDatum => format!(
            "The same {what} for every feature; the stops are numbered from 0 as listed, so no error adds up."
        ),
        ReferenceFrom::LastFeature => format!(
            "After each feature the new {what}; that turns the part on by {}.",
            words::angle(first, units)
        ),
    }]
}

/// Whether errors add up from feature to feature, as a fact of the sheet.
pub(super) fn procedure(plan: &Plan) -> &'static str {
    match plan.way {
        WayKind::CompoundIndexing { .. } | WayKind::DifferentialIndexing { .. } if !plan.exact => {
            "accumulating: one inexact move is repeated, its error adds up"
        }
        WayKind::FromLastFeature => {
            "accumulating: each feature is set from the one before, errors add up"
        }
        _ => "absolute: every setting stands by itself, errors do not add up",
    }
}

/// The closing of a chain: where one step more than the last leads, beside where
/// it should lead, and how far errors may have added up by then.
pub(super) fn closing_of_chain(
    plan: &Plan,
    equipment: &Equipment,
    job: &Job,
) -> Result<Option<String>> {
    let (Equipment::PartReference(reference), WayKind::FromLastFeature) = (equipment, plan.way)
    else {
        return Ok(None);
    };
    let Some(divisions) = job.features().equal_divisions() else {
        return Ok(None);
    };
    let step = reference.angles.first().copied().unwrap_or_default();
    let closing = step.checked_mul(i128::from(divisions))?.within_half_turn();
    let per_step_rad = plan
        .placements
        .iter()
        .zip(&plan.error.features)
        .filter_map(|(placement, error)| match placement.setting {
            Setting::FromLast { steps } if steps > 0 => {
                let own = error.worst_rad - placement.residual.abs().to_radians_f64();
                Some(own / f64::from(steps))
            }
            _ => None,
        })
        .fold(0.0, f64::max);
    let clocked = matches!(job.start(), Start::Clocked(_));
    let from = if clocked {
        "the clocked feature"
    } else {
        "feature 1"
    };
    Ok(Some(format!(
        "Closing error: {divisions} steps of {} end {} from {from}, and errors of the steps add up to ±{} by then.",
        words::angle(step, job.units()),
        words::signed_angle(closing, job.units()),
        words::small_angle(per_step_rad * f64::from(divisions), job.units()),
    )))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn angle_stacks_read_as_they_are_wrung() {
        // 33° 9' 15" as metrology textbooks stack it (from memory).
        let text = angle_stack(&[18, 540, 32_400, 97_200], &[3, 10_800]);
        assert_eq!(text, "27° + 9° - 3° + 9' + 18\" - 3\"");
        assert_eq!(angle_stack(&[], &[60]), "-1'");
        assert_eq!(angle_stack(&[], &[]), "no block");
    }
}
