//! On measured equipment: the start and the settings, among those equally
//! exact, that make the worst case least.
//!
//! Turning the whole pattern by a symmetry of the way changes no residual, and
//! some angles are held by several settings. Every such choice is judged by the
//! worst case that the error figure would give it.

mod crank;

use num_integer::Integer;
use serde::{Deserialize, Serialize};

use super::Plan;
use crate::accuracy::{Predictor, limits_rad};
use crate::angle::Angle;
use crate::equipment::{Equipment, HoleCircle, Workshop};
use crate::error::{Error, Result};
use crate::inspection::{
    Choice, Judging, KnownDeviation, Reference, choose_list, choose_pairs, choose_start,
};
use crate::job::{Job, Start};
use crate::reach::{Placement, Reach, Setting, WayKind};
use crate::work::Meter;

/// What choosing the start and the settings of measured equipment is worth.
///
/// All figures are worst cases in radians, as in the error figure of the plan.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MeasuredChoice {
    /// The worst case of the settings chosen.
    pub worst_rad: f64,
    /// That of the worst choice.
    pub worst_choice_rad: f64,
    /// The mean over all choices: what choosing blindly gives.
    pub average_choice_rad: f64,
    /// Starts that were compared.
    pub starts: u64,
    /// Whether every start there is was compared; where there are very many,
    /// only the first of them are.
    pub all_starts: bool,
    /// Whether some feature can be set in several ways at one start.
    pub several_settings: bool,
    /// What choosing the ring is worth, where several reach the job alike.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rings: Option<RingChoice>,
}

/// What choosing one ring of a plate is worth, each ring at its best start; on a
/// pin plate each span of a ring counts by itself.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RingChoice {
    /// Rings, or spans on them, that were compared, the chosen one included.
    pub rings: u64,
    /// The worst case on the worst of them, in radians.
    pub worst_ring_rad: f64,
    /// The mean of the worst cases, in radians.
    pub average_ring_rad: f64,
}

/// Adds to the best plan of a plate what its ring is worth against the others
/// that reach the job alike; nothing where none of them was measured.
pub(super) fn among_rings(best: &mut Plan, others: &[Plan]) {
    let on_a_ring = |plan: &Plan| {
        matches!(
            plan.way,
            WayKind::DirectCircle { .. }
                | WayKind::PinsOneSpan { .. }
                | WayKind::PinsMixedSpans { .. }
                | WayKind::SimpleIndexing { .. }
        ) && plan.error.unknown.is_empty()
    };
    if !on_a_ring(best) {
        return;
    }
    let alike = |plan: &&Plan| {
        plan.exact == best.exact
            && plan.largest_residual == best.largest_residual
            && on_a_ring(plan)
    };
    let all: Vec<&Plan> = others.iter().filter(alike).collect();
    let measured =
        best.measured_choice.is_some() || all.iter().any(|plan| plan.measured_choice.is_some());
    if all.is_empty() || !measured {
        return;
    }
    let worst_rad = best.error.worst_rad;
    let (mut worst_ring_rad, mut sum, mut rings) = (worst_rad, worst_rad, 1_u32);
    for plan in all {
        worst_ring_rad = worst_ring_rad.max(plan.error.worst_rad);
        sum += plan.error.worst_rad;
        rings = rings.saturating_add(1);
    }
    let choice = best.measured_choice.get_or_insert(MeasuredChoice {
        worst_rad,
        worst_choice_rad: worst_rad,
        average_choice_rad: worst_rad,
        starts: 1,
        all_starts: true,
        several_settings: false,
        rings: None,
    });
    choice.rings = Some(RingChoice {
        rings: u64::from(rings),
        worst_ring_rad,
        average_ring_rad: sum / f64::from(rings),
    });
}

/// Settings looked up for one way, at most.
const MOST_LOOKUPS: u64 = 200_000;

/// Settings compared for one feature, at most.
const MOST_OPTIONS: usize = 64;

/// The worst case is the known deviation and all limits: the uncertainty of an
/// option stands here for the sum of its limits, counted once.
const fn judging(reference: Reference) -> Judging {
    Judging {
        reference,
        coverage_factor: 1.0,
        limits_rad: None,
    }
}

/// Puts the best settings into a reach on measured equipment, and says what that
/// is worth; nothing where nothing was measured or there is no choice.
pub(super) fn choose(
    workshop: &Workshop,
    job: &Job,
    reach: &mut Reach,
    meter: &mut Meter<'_>,
) -> Result<Option<MeasuredChoice>> {
    let Some(measured) = measured(workshop, reach) else {
        return crank::start_of_moves(workshop, job, reach, meter);
    };
    let plain = matches!(reach.way.kind(), WayKind::DirectCircle { .. });
    if plain && reach.exact && *job.start() == Start::Free {
        return start_of_a_circle(workshop, job, reach, meter);
    }
    let (starts, step) = match job.start() {
        Start::Clocked(_) => (1, Angle::FULL_TURN),
        Start::Free | Start::OnASetting => starts(reach, measured, meter)?,
    };
    let features = (reach.placements.len() as u64).max(1);
    let looked = starts.min((MOST_LOOKUPS / features).max(1));
    let mut best: Option<Candidate> = None;
    let (mut worst, mut sum, mut count) = (0.0_f64, 0.0, 0_u64);
    let mut several_settings = false;
    for index in 0..looked {
        let shift = step.checked_mul(i128::from(index))?.within_turn();
        let Some(candidate) = at_shift(workshop, job, reach, shift, meter)? else {
            continue;
        };
        several_settings |= candidate.several;
        worst = worst.max(candidate.worst_choice);
        sum += candidate.average;
        count += 1;
        if best.as_ref().is_none_or(|it| candidate.worst < it.worst) {
            best = Some(candidate);
        }
    }
    let Some(best) = best.filter(|_| count > 1 || several_settings) else {
        return Ok(None);
    };
    // A u64 count of at most 200,000 is exact.
    #[allow(clippy::cast_precision_loss, reason = "at most 200,000")]
    let average = (sum / count as f64).clamp(best.worst, worst);
    let choice = MeasuredChoice {
        worst_rad: best.worst,
        worst_choice_rad: worst,
        average_choice_rad: average,
        starts: count,
        all_starts: looked == starts,
        several_settings,
        rings: None,
    };
    reach.start = reach.start.checked_add(best.shift)?.within_turn();
    for (placement, setting) in reach.placements.iter_mut().zip(best.settings) {
        placement.setting = setting;
    }
    Ok(Some(choice))
}

/// What of a way was measured.
#[derive(Clone, Copy)]
enum Measured {
    /// So many holes, or stations beside them.
    Holes(i128),
    /// So many readings of a dial, none between them.
    Readings(i128),
    /// Readings of a dial and what lies between.
    AllReadings,
    /// So many holes on the plate of a worm head; the step of one.
    Crank(u64, Angle),
}

/// What of a way was measured, if anything.
fn measured(workshop: &Workshop, reach: &Reach) -> Option<Measured> {
    let holes = |circle: &HoleCircle| {
        circle.measured.as_ref()?;
        Some(Measured::Holes(i128::from(circle.holes)))
    };
    match (
        workshop.equipment().get(reach.way.equipment())?,
        reach.way.kind(),
    ) {
        (Equipment::DirectPlate(plate), WayKind::DirectCircle { circle }) => {
            holes(plate.circles.get(circle)?)
        }
        (Equipment::VernierIndexer(indexer), _) => {
            let any = indexer.circle.measured.is_some() || indexer.measured_stations.is_some();
            any.then_some(Measured::Holes(i128::from(indexer.circle.holes)))
        }
        (
            Equipment::PinPlate(plate),
            WayKind::PinsOneSpan { circle, .. } | WayKind::PinsMixedSpans { circle },
        ) => holes(plate.circles.get(circle)?),
        (Equipment::GraduatedDial(dial), _) => {
            let places = i128::from(dial.measured.as_ref()?.places);
            Some(match dial.between_measured {
                Some(_) => Measured::AllReadings,
                None => Measured::Readings(places),
            })
        }
        (
            Equipment::WormHead(head),
            WayKind::SimpleIndexing {
                plate,
                back,
                circle,
            },
        ) => {
            let circle = head.side(plate, back)?.get(circle)?;
            circle.measured.as_ref()?;
            let spaces = head.worm_ratio.numerator() * i128::from(circle.holes);
            let step = Angle::new(head.worm_ratio.denominator(), spaces).ok()?;
            Some(Measured::Crank(u64::from(circle.holes), step))
        }
        _ => None,
    }
}

/// How many starts differ in what was measured, and from one to the next. On a
/// worm head that is a hole of its plate: a whole turn of the crank on, the pin
/// is in the same hole again.
fn starts(reach: &Reach, measured: Measured, meter: &mut Meter<'_>) -> Result<(u64, Angle)> {
    // Cosets of a low order may lie so that the whole is equally spaced.
    let set = reach.way.set();
    let order = set
        .as_one_coset(meter)?
        .map_or_else(|| set.common_order(), |it| it.order());
    let common = match measured {
        Measured::Holes(places) => order.max(places),
        Measured::Readings(places) => order.gcd(&places),
        Measured::AllReadings => order,
        Measured::Crank(holes, step) => return Ok((holes, step)),
    };
    Ok((u64::try_from(common).unwrap_or(1), Angle::new(1, common)?))
}

/// One start with the best settings at it.
struct Candidate {
    shift: Angle,
    settings: Vec<Setting>,
    worst: f64,
    worst_choice: f64,
    average: f64,
    several: bool,
}

/// Beyond this, in radians, a figure means nothing and is not compared further.
const LARGEST_RAD: f64 = 10.0;

/// Known deviation and all limits of a feature at a setting.
fn known(predictor: &Predictor<'_>, residual: Angle, setting: &Setting) -> KnownDeviation {
    let (deviation_rad, found) = predictor.feature(residual.to_radians_f64(), setting);
    KnownDeviation {
        deviation_rad,
        standard_uncertainty_rad: limits_rad(&found.contributors).min(LARGEST_RAD),
    }
}

/// The best settings with the whole pattern turned by a shift; nothing when a
/// feature then has none.
fn at_shift(
    workshop: &Workshop,
    job: &Job,
    reach: &Reach,
    shift: Angle,
    meter: &mut Meter<'_>,
) -> Result<Option<Candidate>> {
    let predictor = Predictor::new(workshop, job, reach)?;
    let start = reach.start.checked_add(shift)?;
    let mut settings = Vec::with_capacity(reach.placements.len());
    let mut options = Vec::with_capacity(reach.placements.len());
    for Placement {
        attained, residual, ..
    } in &reach.placements
    {
        meter.spend(1)?;
        let presented = start.checked_add(*attained)?.within_turn();
        let found = reach.way.settings(workshop, presented, MOST_OPTIONS)?;
        if found.is_empty() {
            return Ok(None);
        }
        let judged: Vec<KnownDeviation> = found
            .iter()
            .map(|setting| known(&predictor, *residual, setting))
            .collect();
        settings.push(found);
        options.push(judged);
    }
    let several = options.iter().any(|list| list.len() > 1);
    let (chosen, worst, worst_choice, average) = match job.start() {
        Start::Free if !several => {
            let only: Vec<KnownDeviation> = options.iter().flatten().copied().collect();
            let one = choose_list(&[only], &judging(Reference::Middle))?;
            let worst = one.judged.worst;
            (vec![0; options.len()], worst, worst, worst)
        }
        Start::Free => {
            let choice = choose_pairs(&options, &judging(Reference::Middle), meter)?;
            let (worst, most, average) = (choice.worst, choice.worst_choice, choice.average_choice);
            (choice.options, worst, most, average)
        }
        Start::Clocked(_) => {
            let choice = choose_pairs(&options, &judging(Reference::Given), meter)?;
            let (worst, most, average) = (choice.worst, choice.worst_choice, choice.average_choice);
            (choice.options, worst, most, average)
        }
        Start::OnASetting => from_the_first(&options, meter)?,
    };
    let settings = settings
        .into_iter()
        .zip(chosen)
        .filter_map(|(list, index)| list.into_iter().nth(index))
        .collect();
    Ok(Some(Candidate {
        shift,
        settings,
        worst,
        worst_choice,
        average,
        several,
    }))
}

type Judged = (Vec<usize>, f64, f64, f64);

/// Deviations counted from the first feature as it comes out: each of its
/// options in turn.
fn from_the_first(options: &[Vec<KnownDeviation>], meter: &mut Meter<'_>) -> Result<Judged> {
    let first = options.first().map_or(&[][..], Vec::as_slice);
    let mut best: Option<Judged> = None;
    let (mut worst, mut sum, mut count) = (0.0_f64, 0.0, 0.0);
    for (index, datum) in first.iter().enumerate() {
        let mut shifted = options.to_vec();
        for it in shifted.iter_mut().flatten() {
            let counted = it.deviation_rad - datum.deviation_rad;
            it.deviation_rad = counted.clamp(-LARGEST_RAD, LARGEST_RAD);
        }
        if let Some(list) = shifted.first_mut() {
            *list = list.get(index).copied().into_iter().collect();
        }
        let mut choice = choose_pairs(&shifted, &judging(Reference::Given), meter)?;
        if let Some(option) = choice.options.first_mut() {
            *option = index;
        }
        worst = worst.max(choice.worst_choice);
        sum += choice.average_choice;
        count += 1.0;
        if best.as_ref().is_none_or(|it| choice.worst < it.1) {
            best = Some((choice.options, choice.worst, 0.0, 0.0));
        }
    }
    let (chosen, least, ..) = best.ok_or_else(|| Error::internal("a pattern without features"))?;
    Ok((chosen, least, worst, sum / count))
}

/// The best start hole of a pattern on one circle.
fn start_of_a_circle(
    workshop: &Workshop,
    job: &Job,
    reach: &mut Reach,
    meter: &mut Meter<'_>,
) -> Result<Option<MeasuredChoice>> {
    let Some(Equipment::DirectPlate(plate)) = workshop.equipment().get(reach.way.equipment())
    else {
        return Ok(None);
    };
    let WayKind::DirectCircle { circle } = reach.way.kind() else {
        return Ok(None);
    };
    let Some(circle) = plate.circles.get(circle) else {
        return Ok(None);
    };
    let predictor = Predictor::new(workshop, job, reach)?;
    let holes = circle.holes as usize;
    let mut deviations = vec![None; holes];
    for hole in circle.present() {
        let setting = Setting::Hole {
            circle: circle.holes,
            hole,
        };
        if let Some(slot) = deviations.get_mut(hole as usize) {
            *slot = Some(known(&predictor, Angle::ZERO, &setting));
        }
    }
    let used: Vec<usize> = reach
        .placements
        .iter()
        .filter_map(|it| match it.setting {
            Setting::Hole { hole, .. } => Some(hole as usize),
            _ => None,
        })
        .collect();
    let Some(&first) = used.first() else {
        return Ok(None);
    };
    let pattern: Vec<usize> = used
        .iter()
        .map(|hole| (hole + holes - first) % holes)
        .collect();
    let mut distinct = pattern.clone();
    distinct.sort_unstable();
    distinct.dedup();
    let found: Choice = choose_start(&deviations, &distinct, &judging(Reference::Middle), meter)?;
    if found.choices < 2 {
        return Ok(None);
    }
    // The presented angle grows with the hole, or against it on a clockwise plate.
    let on = i128::try_from((found.best + holes - first) % holes).map_err(Error::internal)?;
    let shift = plate.sense.apply(Angle::new(on, i128::from(circle.holes))?);
    reach.start = reach.start.checked_add(shift)?.within_turn();
    for (placement, offset) in reach.placements.iter_mut().zip(pattern) {
        let hole = u32::try_from((found.best + offset) % holes).map_err(Error::internal)?;
        placement.setting = Setting::Hole {
            circle: circle.holes,
            hole,
        };
    }
    Ok(Some(MeasuredChoice {
        worst_rad: found.judged.worst,
        worst_choice_rad: found.worst_choice,
        average_choice_rad: found.average_choice,
        starts: found.choices as u64,
        all_starts: true,
        several_settings: false,
        rings: None,
    }))
}
