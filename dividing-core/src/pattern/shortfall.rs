//! What is short where the wishes do not fit, and what would help.

use super::allocation;
use super::allocation::problem::{Item, Problem};
use super::brief::{Outline, PlateBrief};
use super::demand::{Demand, Need};
use super::design::{item_variants, problem};
use super::result::Shortfall;
use super::room::Room;
use super::wish::Wish;
use super::words::angle_text;
use crate::angle::Angle;
use crate::error::{ErrorKind, Result};
use crate::length::{Length, MAX_LENGTH_MM};
use crate::words::count;
use crate::work::Meter;

/// Fineness of the sizes reported, in millimetres.
const STEP_MM: f64 = 1.0 / STEPS_PER_MM;
const STEPS_PER_MM: f64 = 100.0;

/// Most subsets tried one by one.
const MOST_SUBSETS: u32 = 5_000;

/// Says what binds and finds the nearest plates that fit separated rings.
///
/// # Errors
/// [`ErrorKind::Cancelled`]; a spent budget leaves the rest of the answer out.
pub(crate) fn explain(
    brief: &PlateBrief,
    demands: &[Demand],
    meter: &mut Meter<'_>,
) -> Result<Shortfall> {
    let mut shortfall = Shortfall {
        binding: binding(brief, demands)?,
        smallest_outline_mm: None,
        largest_hole_mm: None,
        largest_pin_mm: None,
        largest_subset: Vec::new(),
        subset_proved: false,
    };
    match fill(brief, demands, &mut shortfall, meter) {
        Err(error) if error.kind() != ErrorKind::WorkLimit => Err(error),
        _ => Ok(shortfall),
    }
}

fn fill(
    brief: &PlateBrief,
    demands: &[Demand],
    shortfall: &mut Shortfall,
    meter: &mut Meter<'_>,
) -> Result<()> {
    shortfall.smallest_outline_mm = smallest_outline_mm(brief, demands, meter)?;
    shortfall.largest_hole_mm = largest_hole_mm(brief, demands, meter)?;
    shortfall.largest_pin_mm = shortfall
        .largest_hole_mm
        .and_then(|hole_mm| brief.pin_for_hole_mm(hole_mm));
    let (kept, proved) = largest_subset(brief, demands, meter)?;
    shortfall.largest_subset = kept;
    shortfall.subset_proved = proved;
    Ok(())
}

/// Whether separated rings serve all demands; a fixed ring out of place does not fit.
fn fits(brief: &PlateBrief, demands: &[Demand], meter: &mut Meter<'_>) -> Result<bool> {
    let room = Room::new(brief);
    let Ok(slots) = room.slots(brief, room.spacing_mm, true) else {
        return Ok(false);
    };
    for items in item_variants(brief, demands)? {
        let size: u64 = items
            .iter()
            .map(|item| (item.divisions.len() + item.points.len()) as u64)
            .sum();
        let Ok(problem) = problem(brief, items, &slots, &room) else {
            continue;
        };
        meter.spend(100 + size * size)?;
        match allocation::fits(&problem, meter)? {
            Some(true) => return Ok(true),
            Some(false) => {}
            None => meter.spend(u64::MAX)?,
        }
    }
    Ok(false)
}

/// What binds, in plain words.
fn binding(brief: &PlateBrief, demands: &[Demand]) -> Result<Vec<String>> {
    let room = Room::new(brief);
    let mut reasons = Vec::new();
    if room.outermost_mm <= 0.0 || room.outermost_mm < room.innermost_mm {
        reasons.push(format!(
            "no ring at all fits between the bore, part or centre (pitch radius {:.3} mm or more) and the outline (at most {:.3} mm)",
            room.innermost_mm, room.outermost_mm
        ));
        return Ok(reasons);
    }
    let slots = match room.slots(brief, room.spacing_mm, true) {
        Ok(slots) => slots,
        Err(error) => {
            reasons.push(error.to_string());
            return Ok(reasons);
        }
    };
    let Some(&outermost_mm) = slots.free_mm.first().or(slots.pinned_mm.first()) else {
        reasons.push("keep-outs and mounting holes leave no room for a ring".to_owned());
        return Ok(reasons);
    };
    for demand in demands {
        if let Need::Holes(item) = &demand.need {
            let alone = Problem::new(vec![item.clone()], slots.clone(), room.spacing_mm);
            let need_mm = alone.need_mm(1);
            if need_mm > outermost_mm + 1.0e-9 {
                reasons.push(format!(
                    "{}: the webs need a pitch radius of {need_mm:.3} mm, and the outermost ring has {outermost_mm:.3} mm{}",
                    demand.wish,
                    closest_holes(item)?
                ));
            }
        }
    }
    if reasons.is_empty() {
        let limit = brief.most_rings.map_or_else(String::new, |most| {
            format!(", or the limit of {}", count(most, "ring"))
        });
        reasons.push(format!(
            "there is room for {}, {:.3} mm apart, between pitch radii {:.3} and {outermost_mm:.3} mm{limit}, and the wishes cannot share so few",
            count(count_slots(&room, brief)?, "ring"),
            room.spacing_mm,
            room.innermost_mm,
        ));
    }
    Ok(reasons)
}

/// Which single holes of a wish stand closest, the zero hole counted in, for the
/// user to move one or to put it elsewhere; nothing for whole divisions.
fn closest_holes(item: &Item) -> Result<String> {
    if !item.divisions.is_empty() {
        return Ok(String::new());
    }
    let mut places = vec![Angle::ZERO];
    for &(numerator, denominator) in &item.points {
        places.push(Angle::new(numerator, denominator)?);
    }
    places.sort_unstable();
    places.dedup();
    let mut next = places.clone();
    next.rotate_left(1);
    let mut closest: Option<(Angle, Angle, Angle)> = None;
    for (&one, &other) in places.iter().zip(&next) {
        let apart = other.checked_sub(one)?.within_turn();
        if !apart.is_zero() && closest.is_none_or(|it| apart < it.0) {
            closest = Some((apart, one, other));
        }
    }
    Ok(closest.map_or_else(String::new, |(apart, one, other)| {
        let elsewhere = if item.points.len() > 1 {
            ": put one of them into another list, which may have its own ring, or list it once"
        } else {
            ""
        };
        format!(
            " (its holes at {} and {} stand {} apart{elsewhere})",
            angle_text(one),
            angle_text(other),
            angle_text(apart)
        )
    }))
}

fn count_slots(room: &Room, brief: &PlateBrief) -> Result<usize> {
    let slots = room.slots(brief, room.spacing_mm, true)?;
    Ok(slots.free_mm.len() + slots.pinned_mm.len())
}

fn with_outline(brief: &PlateBrief, across_mm: f64) -> Result<PlateBrief> {
    let across = Length::from_mm(across_mm)?;
    let mut other = brief.clone();
    other.outline = match brief.outline {
        Outline::Disc { .. } => Outline::Disc { diameter: across },
        Outline::Polygon { faces, .. } => Outline::Polygon {
            faces,
            across_flats: across,
        },
    };
    Ok(other)
}

fn smallest_outline_mm(
    brief: &PlateBrief,
    demands: &[Demand],
    meter: &mut Meter<'_>,
) -> Result<Option<f64>> {
    let now_mm = 2.0 * brief.outline.inner_radius_mm();
    let mut high_mm = now_mm;
    loop {
        high_mm = (high_mm * 1.5).min(MAX_LENGTH_MM);
        if fits(&with_outline(brief, high_mm)?, demands, meter)? {
            break;
        }
        if high_mm >= MAX_LENGTH_MM {
            return Ok(None);
        }
    }
    // The list of steps between: `low` does not fit, `high` does.
    let (mut low, mut high) = (0.0, ((high_mm - now_mm) / STEP_MM).ceil());
    while high - low > 1.0 {
        let middle = f64::midpoint(low, high).floor();
        let size_mm = (now_mm + middle * STEP_MM).min(MAX_LENGTH_MM);
        if fits(&with_outline(brief, size_mm)?, demands, meter)? {
            high = middle;
        } else {
            low = middle;
        }
    }
    // Round up to a whole step.
    let size_mm = ((now_mm + high * STEP_MM) * STEPS_PER_MM - 1.0e-6).ceil() / STEPS_PER_MM;
    Ok(Some(size_mm.min(MAX_LENGTH_MM)))
}

fn largest_hole_mm(
    brief: &PlateBrief,
    demands: &[Demand],
    meter: &mut Meter<'_>,
) -> Result<Option<f64>> {
    // Whole steps below the size asked for: `low` fits, `high` does not.
    let mut high = (brief.largest_hole_mm() / STEP_MM).ceil();
    let mut low = 0.0;
    while high - low > 1.0 {
        let middle = f64::midpoint(low, high).floor();
        if fits(&brief.with_hole_mm(middle / STEPS_PER_MM)?, demands, meter)? {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok((low > 0.0).then_some(low / STEPS_PER_MM))
}

/// The largest part of the demands that fits: fewer and fewer are left out,
/// every choice of them tried, up to [`MOST_SUBSETS`]; beyond, they are added
/// one by one, the easiest first. Wishes that fit alone are never left out
/// for ones that do not.
fn largest_subset(
    brief: &PlateBrief,
    demands: &[Demand],
    meter: &mut Meter<'_>,
) -> Result<(Vec<Wish>, bool)> {
    let mut without_rings = brief.clone();
    without_rings.rings.retain(|ring| ring.divisions.is_empty());
    let brief = &without_rings;
    let names = |kept: &[Demand]| kept.iter().map(|demand| demand.wish.clone()).collect();
    let mut able: Vec<Demand> = Vec::new();
    for demand in demands {
        if fits(brief, std::slice::from_ref(demand), meter)? {
            able.push(demand.clone());
        }
    }
    let mut tried = 0;
    for left_out in 0..able.len() {
        let mut out: Vec<usize> = (0..left_out).collect();
        loop {
            tried += 1;
            if tried > MOST_SUBSETS {
                return Ok((names(&one_by_one(brief, able, meter)?), false));
            }
            let kept: Vec<Demand> = able
                .iter()
                .enumerate()
                .filter(|(index, _)| !out.contains(index))
                .map(|(_, demand)| demand.clone())
                .collect();
            if fits(brief, &kept, meter)? {
                return Ok((names(&kept), true));
            }
            if !next_choice(&mut out, able.len()) {
                break;
            }
        }
    }
    Ok((Vec::new(), true))
}

fn one_by_one(
    brief: &PlateBrief,
    mut able: Vec<Demand>,
    meter: &mut Meter<'_>,
) -> Result<Vec<Demand>> {
    able.sort_by_key(|demand| match &demand.need {
        Need::Holes(item) => item.divisions.iter().sum::<u64>() + item.points.len() as u64,
        _ => 0,
    });
    let mut kept: Vec<Demand> = Vec::new();
    for demand in able {
        kept.push(demand);
        if !fits(brief, &kept, meter)? {
            kept.pop();
        }
    }
    Ok(kept)
}

/// The next choice of indices below `n` in lexicographic order.
fn next_choice(choice: &mut [usize], n: usize) -> bool {
    let k = choice.len();
    for position in (0..k).rev() {
        if choice[position] + k < n + position {
            choice[position] += 1;
            for later in position + 1..k {
                choice[later] = choice[later - 1] + 1;
            }
            return true;
        }
    }
    false
}
