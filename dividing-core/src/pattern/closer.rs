//! Rings closer together than a hole and a web, with phases that keep the webs.

use num_integer::Integer;

use super::allocation::problem::Slots;
use super::allocation::{self, Proof};
use super::brief::PlateBrief;
use super::demand::Demand;
use super::design::{Solved, best_variant, contents, fixed_phase, item_variants, problem, ring};
use super::result::sin_cos;
use super::room::Room;
use crate::angle::Angle;
use crate::error::{ErrorKind, Result};
use crate::work::Meter;

/// Ring distances tried, in hundredths of a hole and a web. The first keeps
/// the distance and lets phases pass between keep-outs.
const TRIED_HUNDREDTHS: [u32; 15] = [100, 95, 90, 85, 80, 75, 70, 65, 60, 55, 50, 45, 40, 35, 30];

/// Phases tried in one period of a ring.
const PHASES: i128 = 240;

/// Slack for rounding in comparisons of lengths, in millimetres.
const SLACK_MM: f64 = 1.0e-8;

/// Looks for rings at growing nearness whose phases keep every web. The first
/// that works is returned with its phases, the bound being that of any number
/// of rings at the outermost radius.
///
/// # Errors
/// [`ErrorKind::Cancelled`]; a spent budget ends the search without an answer.
pub(crate) fn search(
    brief: &PlateBrief,
    demands: &[Demand],
    room: &Room,
    meter: &mut Meter<'_>,
) -> Result<Option<(Solved, Vec<Angle>)>> {
    for hundredths in TRIED_HUNDREDTHS {
        let apart_mm = room.spacing_mm * f64::from(hundredths) / 100.0;
        // A fixed ring that leaves the plate is reported by the caller.
        let Ok(slots) = room.slots(brief, apart_mm, false) else {
            continue;
        };
        let found = match try_at(brief, demands, room, &slots, meter) {
            Err(error) if error.kind() == ErrorKind::WorkLimit => return Ok(None),
            found => found?,
        };
        if let Some((mut solved, phases)) = found {
            let (bound, proof) = lower_bound(brief, demands, room, meter)?;
            solved.answer.lower_bound = bound.min(solved.answer.holes);
            solved.answer.proof = proof;
            return Ok(Some((solved, phases)));
        }
    }
    Ok(None)
}

fn try_at(
    brief: &PlateBrief,
    demands: &[Demand],
    room: &Room,
    slots: &Slots,
    meter: &mut Meter<'_>,
) -> Result<Option<(Solved, Vec<Angle>)>> {
    let Some(solved) = best_variant(brief, demands, room, slots, meter)? else {
        return Ok(None);
    };
    if solved.answer.holes > super::design::MAX_HOLES {
        return Ok(None);
    }
    let phases = choose_phases(brief, room, &solved, meter)?;
    Ok(phases.map(|phases| (solved, phases)))
}

/// A phase tried: what it leaves beyond the limits, and where the holes stand.
struct Stand {
    room_mm: f64,
    phase: Angle,
    holes: Vec<(f64, f64)>,
}

/// Ring by ring from the outside, the phase that leaves the widest web.
fn choose_phases(
    brief: &PlateBrief,
    room: &Room,
    solved: &Solved,
    meter: &mut Meter<'_>,
) -> Result<Option<Vec<Angle>>> {
    let mut standing: Vec<(f64, f64)> = Vec::new();
    let mut phases = Vec::new();
    for placed in &solved.rings {
        let (divisions, points) = contents(&solved.problem, placed.group);
        let period = if points.is_empty() {
            divisions.iter().fold(0, |all, n| n.gcd(&all)).max(1)
        } else {
            1
        };
        let pattern = ring(&solved.problem, placed, Angle::ZERO)?;
        let near: Vec<(f64, f64)> = standing
            .iter()
            .copied()
            .filter(|(x, y)| (x.hypot(*y) - placed.radius_mm).abs() < 2.0 * room.spacing_mm)
            .collect();
        let candidates: Vec<Angle> = match fixed_phase(brief, &solved.problem, placed) {
            Some(phase) => vec![phase],
            None => (0..PHASES)
                .map(|k| Angle::new(k, PHASES * i128::from(period)))
                .collect::<Result<_>>()?,
        };
        let mut best: Option<Stand> = None;
        for phase in candidates {
            meter.spend(1 + (pattern.holes.len() * (1 + near.len())) as u64 / 8)?;
            let holes = pattern
                .holes
                .iter()
                .map(|hole| {
                    let (sin, cos) = sin_cos(hole.angle.checked_add(phase)?);
                    Ok((placed.radius_mm * cos, placed.radius_mm * sin))
                })
                .collect::<Result<Vec<_>>>()?;
            let room_left = least_room_mm(brief, room, &near, &holes);
            if best
                .as_ref()
                .is_none_or(|stand| room_left > stand.room_mm + SLACK_MM)
            {
                best = Some(Stand {
                    room_mm: room_left,
                    phase,
                    holes,
                });
            }
        }
        match best {
            Some(stand) if stand.room_mm >= -SLACK_MM => {
                standing.extend(stand.holes);
                phases.push(stand.phase);
            }
            _ => return Ok(None),
        }
    }
    Ok(Some(phases))
}

/// What is left beyond the limits, in millimetres; negative where one breaks.
fn least_room_mm(
    brief: &PlateBrief,
    room: &Room,
    standing: &[(f64, f64)],
    holes: &[(f64, f64)],
) -> f64 {
    let hole_radius_mm = brief.largest_hole_mm() / 2.0;
    let mut least = f64::INFINITY;
    for &(x, y) in holes {
        for &(a, b) in standing {
            least = least.min((x - a).hypot(y - b) - room.spacing_mm);
        }
        for (circles, web_mm) in [
            (&brief.keep_outs, 0.0),
            (&brief.mounting_holes, brief.least_web.mm()),
        ] {
            for circle in circles {
                let apart_mm = (x - circle.x.mm()).hypot(y - circle.y.mm());
                least = least.min(apart_mm - circle.diameter.mm() / 2.0 - hole_radius_mm - web_mm);
            }
        }
    }
    least
}

/// No plate has fewer holes: any number of rings, each at the outermost radius.
pub(crate) fn lower_bound(
    brief: &PlateBrief,
    demands: &[Demand],
    room: &Room,
    meter: &mut Meter<'_>,
) -> Result<(u64, Proof)> {
    let mut least = (u64::MAX, Proof::OneRing);
    for items in item_variants(brief, demands)? {
        let slots = Slots {
            free_mm: vec![room.outermost_mm; items.len()],
            pinned_mm: brief
                .rings
                .iter()
                .filter(|ring| !ring.divisions.is_empty())
                .filter_map(|ring| ring.radius.map(|radius| radius.mm()))
                .collect(),
        };
        let problem = problem(brief, items, &slots, room)?;
        let found = allocation::solve(&problem, meter)?;
        if found.lower_bound < least.0 {
            least = (found.lower_bound, found.proof);
        }
    }
    Ok(least)
}
