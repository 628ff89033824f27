//! The start holes of compound and differential indexing on a measured plate.
//!
//! Both methods move from hole to hole by equal moves, so that the pins may
//! begin in any holes: every start is the same moves from other holes.

use std::collections::BTreeMap;

use super::{LARGEST_RAD, MOST_LOOKUPS, MeasuredChoice, judging, known};
use crate::accuracy::Predictor;
use crate::angle::Angle;
use crate::equipment::{Equipment, Workshop, WormHead};
use crate::error::{Error, Result};
use crate::inspection::{KnownDeviation, Reference, choose_list};
use crate::job::{Job, Start};
use crate::reach::{Reach, Setting, WayKind};
use crate::work::Meter;

/// Features looked at over all starts of one way, at most.
const MOST_FEATURES: u64 = 5_000_000;

/// The circles whose holes were measured, and the turn of the spindle for one
/// hole of each.
struct Circles {
    /// Starts to tell apart on the circle of the crank pin.
    crank: u32,
    /// Starts to tell apart on that of the pin that holds the plate.
    plate_pin: u32,
    crank_step: Angle,
    plate_pin_step: Angle,
}

/// The circles of a way of compound or differential indexing; nothing for other
/// ways, and where no circle that it uses was measured.
fn circles(workshop: &Workshop, reach: &Reach) -> Result<Option<Circles>> {
    let Some(Equipment::WormHead(head)) = workshop.equipment().get(reach.way.equipment()) else {
        return Ok(None);
    };
    // Of a circle that was not measured one start stands for all.
    let starts = |plate, back, circle: usize| {
        let it = head.side(plate, back)?.get(circle)?;
        Some((it.holes, it.measured.as_ref().map_or(1, |_| it.holes)))
    };
    let found = match reach.way.kind() {
        WayKind::CompoundIndexing {
            plate,
            back,
            first_circle,
            second_circle,
            ..
        } => {
            let (Some((first, crank)), Some((second, plate_pin))) = (
                starts(plate, back, first_circle),
                starts(plate, back, second_circle),
            ) else {
                return Ok(None);
            };
            Circles {
                crank,
                plate_pin,
                crank_step: hole_step(head, first)?,
                plate_pin_step: hole_step(head, second)?,
            }
        }
        WayKind::DifferentialIndexing {
            plate,
            back,
            circle,
            divisions,
            divisions_a_move,
            spaces,
            ..
        } => {
            let Some((_, crank)) = starts(plate, back, circle) else {
                return Ok(None);
            };
            // One move is so many spaces on the turning plate.
            let inexact = reach.way.made_by_one_move();
            let one_move = inexact.map_or_else(|| Angle::new(divisions_a_move, divisions), Ok)?;
            Circles {
                crank,
                plate_pin: 1,
                crank_step: one_move.checked_div(spaces)?,
                plate_pin_step: Angle::ZERO,
            }
        }
        _ => return Ok(None),
    };
    Ok((found.crank > 1 || found.plate_pin > 1).then_some(found))
}

/// The turn of the spindle for one hole of a circle, the worm wheel followed.
fn hole_step(head: &WormHead, holes: u32) -> Result<Angle> {
    Angle::new(
        head.worm_ratio.denominator(),
        head.worm_ratio.numerator() * i128::from(holes),
    )
}

/// The same setting with the pins begun so many holes further on.
fn begun(setting: &Setting, crank_on: u32, plate_pin_on: u32) -> Option<Setting> {
    let on = |hole: u32, by: u32, circle: u32| {
        let all = u64::from(hole) + u64::from(by);
        let circle = u64::from(circle.max(1));
        let hole = u32::try_from(all % circle).unwrap_or(0);
        (i128::from(all / circle), hole)
    };
    match *setting {
        Setting::Crank {
            plate,
            back,
            circle,
            turns,
            hole,
        } => {
            let (more, hole) = on(hole, crank_on, circle);
            Some(Setting::Crank {
                plate,
                back,
                circle,
                turns: turns.checked_add(more)?,
                hole,
            })
        }
        Setting::CompoundCrank {
            plate,
            back,
            turns,
            first_circle,
            first_hole,
            second_circle,
            second_hole,
        } => {
            let (one, first_hole) = on(first_hole, crank_on, first_circle);
            let (two, second_hole) = on(second_hole, plate_pin_on, second_circle);
            Some(Setting::CompoundCrank {
                plate,
                back,
                turns: turns.checked_add(one)?.checked_add(two)?,
                first_circle,
                first_hole,
                second_circle,
                second_hole,
            })
        }
        _ => None,
    }
}

/// The holes in which the pins stand.
const fn holes(setting: &Setting) -> (u32, u32) {
    match *setting {
        Setting::Crank { hole, .. } => (hole, 0),
        Setting::CompoundCrank {
            first_hole,
            second_hole,
            ..
        } => (first_hole, second_hole),
        _ => (0, 0),
    }
}

/// The best holes to begin from in compound or differential indexing on a plate
/// of which a circle was measured; nothing for other ways, and where the start
/// is clocked, which leaves no choice.
pub(super) fn start_of_moves(
    workshop: &Workshop,
    job: &Job,
    reach: &mut Reach,
    meter: &mut Meter<'_>,
) -> Result<Option<MeasuredChoice>> {
    if matches!(job.start(), Start::Clocked(_)) {
        return Ok(None);
    }
    let Some(circles) = circles(workshop, reach)? else {
        return Ok(None);
    };
    let starts = u64::from(circles.crank) * u64::from(circles.plate_pin);
    let features = (reach.placements.len() as u64).max(1);
    let most = if starts <= MOST_LOOKUPS {
        MOST_FEATURES / features
    } else {
        MOST_LOOKUPS / features
    };
    let looked = starts.min(most.max(1));
    let mut best: Option<(f64, Vec<Setting>, u32, u32)> = None;
    let (mut worst, mut sum) = (0.0_f64, 0.0);
    let predictor = Predictor::new(workshop, job, reach)?;
    let mut found: BTreeMap<(u32, u32), KnownDeviation> = BTreeMap::new();
    let begins = (0..circles.plate_pin)
        .flat_map(|plate_pin| (0..circles.crank).map(move |crank| (crank, plate_pin)));
    for ((crank, plate_pin), _) in begins.zip(0..looked) {
        meter.spend(features)?;
        let mut settings = Vec::with_capacity(reach.placements.len());
        let mut deviations = Vec::with_capacity(reach.placements.len());
        for placement in &reach.placements {
            let setting = begun(&placement.setting, crank, plate_pin)
                .ok_or_else(|| Error::overflow("a count of crank turns"))?;
            let mut it = *found
                .entry(holes(&setting))
                .or_insert_with(|| known(&predictor, Angle::ZERO, &setting));
            it.deviation_rad += placement.residual_rad();
            settings.push(setting);
            deviations.push(it);
        }
        let reference = match job.start() {
            Start::Free => Reference::Middle,
            Start::OnASetting | Start::Clocked(_) => {
                let first = deviations.first().map_or(0.0, |it| it.deviation_rad);
                for it in &mut deviations {
                    let counted = it.deviation_rad - first;
                    it.deviation_rad = counted.clamp(-LARGEST_RAD, LARGEST_RAD);
                }
                Reference::Given
            }
        };
        let here = choose_list(&[deviations], &judging(reference))?
            .judged
            .worst;
        worst = worst.max(here);
        sum += here;
        if best.as_ref().is_none_or(|it| here < it.0) {
            best = Some((here, settings, crank, plate_pin));
        }
    }
    drop(predictor);
    let Some((worst_rad, settings, crank, plate_pin)) = best.filter(|_| looked > 1) else {
        return Ok(None);
    };
    for (placement, setting) in reach.placements.iter_mut().zip(settings) {
        placement.setting = setting;
    }
    let on = circles.crank_step.checked_mul(crank.into())?;
    let on = on.checked_add(circles.plate_pin_step.checked_mul(plate_pin.into())?)?;
    reach.start = reach.start.checked_add(on)?.within_turn();
    // At most five million starts: exact.
    #[allow(clippy::cast_precision_loss, reason = "at most 5,000,000")]
    let average = (sum / looked as f64).clamp(worst_rad, worst);
    Ok(Some(MeasuredChoice {
        worst_rad,
        worst_choice_rad: worst,
        average_choice_rad: average,
        starts: looked,
        all_starts: looked == starts,
        several_settings: false,
        rings: None,
    }))
}
