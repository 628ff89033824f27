//! Differential settings of one step, without listing every ratio of the gears.

use num_integer::Integer;

use super::differential::{DifferentialReach, DifferentialSettings, Geared, PlateSense};
use super::{CirclePlace, WormReach, check_step};
use crate::angle::Angle;
use crate::equipment::{ChangeGears, WormHead};
use crate::error::{Error, ErrorKind, Result};
use crate::gearing::{GearRatio, TrainSearch};
use crate::work::Meter;

/// Most steps that the questions to trains of one length may take; what lies
/// beyond is left out, and the answer marked incomplete.
const MOST_STEPS: u64 = 20_000_000;

/// The plate motions a move allows, one for each circle and number of holes.
struct Candidate {
    /// g in turns of the plate for one of the spindle.
    plate_turns: Angle,
    place: CirclePlace,
    spaces: i128,
}

/// The first `most` differential settings of one step, the best first, for a
/// single question to a head; for several keep a [`DifferentialReach`].
///
/// Here the gears are asked for every plate motion `g = R − (h/c)/step` within
/// their reach, so that large gear sets cost little; the answers are those of
/// [`DifferentialReach::settings`].
///
/// # Errors
/// [`ErrorKind::NotFound`] when the head has no change gears; the first thing
/// about the head that does not make sense; a step that is not greater than
/// zero; overflow; the work limit.
///
/// ```
/// use dividing_core::Angle;
/// use dividing_core::equipment::WormHead;
/// use dividing_core::reach::worm::find_differential;
/// use dividing_core::work::Meter;
/// let head: WormHead = serde_json::from_str(r#"{"name": "head", "worm_ratio": 40,
///     "plates": [{"name": "2", "circles": [21, 23, 27, 29, 31, 33]}],
///     "change_gears": {"gears": [24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100]}}"#)?;
/// let meter = &mut Meter::default();
/// let found = find_differential(&head, Angle::new(1, 271)?, 1, meter)?;
/// assert_eq!(found.settings[0].place.holes, 21);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn find_differential(
    head: &WormHead,
    step: Angle,
    most: usize,
    meter: &mut Meter<'_>,
) -> Result<DifferentialSettings> {
    let worm = WormReach::new(head)?;
    let gears = gears_of(head)?;
    check_step(step)?;
    let mut found = DifferentialSettings {
        settings: Vec::new(),
        complete: true,
    };
    let mut shorter: Option<TrainSearch> = None;
    for pairs in 1..=usize::from(gears.most_pairs) {
        if found.settings.len() >= most {
            break;
        }
        let search = TrainSearch::new(&gears.gears, pairs, gears.mesh, meter)?;
        found.complete &= search.complete();
        let Some(largest) = largest_ratio(gears, pairs) else {
            continue;
        };
        let mut candidates = candidates(&worm, gears, step, largest, meter)?;
        let sides = sides(gears.gears.teeth().len(), pairs);
        let affordable = usize::try_from(MOST_STEPS / sides.max(1)).unwrap_or(usize::MAX);
        let mut asked = 0;
        candidates.sort_by(|a, b| {
            let key = |it: &Candidate| {
                (
                    it.plate_turns.abs(),
                    it.plate_turns < Angle::ZERO,
                    std::cmp::Reverse(it.place.holes),
                    it.place,
                )
            };
            key(a).cmp(&key(b))
        });
        for same in candidates.chunk_by(|a, b| a.plate_turns.abs() == b.plate_turns.abs()) {
            let Some(first) = same.first() else { continue };
            let Some(ratio) = ratio_of(first.plate_turns, gears)? else {
                continue;
            };
            asked += 1;
            if asked > affordable {
                found.complete = false;
                break;
            }
            let known = |search: &TrainSearch, meter: &mut Meter<'_>| {
                let trains = search.exact(ratio, meter);
                meter.spend(0)?;
                Ok::<_, Error>(trains)
            };
            if let Some(shorter) = &shorter
                && !known(shorter, meter)?.trains.is_empty()
            {
                // Listed already, with the shorter train.
                continue;
            }
            // Trains have terms below 2³⁰; nothing else is found.
            let (Ok(above), Ok(below)) = (
                u32::try_from(ratio.numerator()),
                u32::try_from(ratio.denominator()),
            ) else {
                continue;
            };
            let trains = known(&search, meter)?;
            found.complete &= trains.complete;
            let Some(train) = trains.trains.first() else {
                continue;
            };
            for candidate in same {
                let sense = if candidate.plate_turns < Angle::ZERO {
                    PlateSense::AgainstCrank
                } else {
                    PlateSense::WithCrank
                };
                if let Some(geared) = Geared::new(&worm, gears, (above, below), sense, *train) {
                    found.settings.push(DifferentialReach::setting_of(
                        &worm,
                        gears,
                        &geared,
                        candidate.place,
                        candidate.spaces,
                        step,
                    )?);
                }
            }
            if found.settings.len() >= most {
                break;
            }
        }
        shorter = Some(search);
    }
    found.settings.truncate(most);
    Ok(found)
}

/// The change gears of a head that must have some.
pub(super) fn gears_of(head: &WormHead) -> Result<&ChangeGears> {
    head.change_gears.as_ref().ok_or_else(|| {
        Error::new(
            ErrorKind::NotFound,
            "the head has no change gears; accepted: a head with `change_gears`",
        )
        .at("change_gears")
    })
}

/// Choices of so many gears with repetition: the length of the lists searched.
fn sides(teeth: usize, pairs: usize) -> u64 {
    let count = teeth as u64;
    match pairs {
        1 => count,
        2 => count * (count + 1) / 2,
        _ => count * (count + 1) * (count + 2) / 6,
    }
}

/// An upper bound of the ratios of trains: the largest gears over the smallest,
/// each as often as owned. None for a single gear.
pub(super) fn largest_ratio(gears: &ChangeGears, pairs: usize) -> Option<(i128, i128)> {
    let all: Vec<u32> = gears.gears.clone().into();
    if all.len() < 2 * pairs {
        return None;
    }
    let drivers = all.iter().rev().take(pairs).map(|&it| i128::from(it));
    let driven = all.iter().take(pairs).map(|&it| i128::from(it));
    Some((drivers.product(), driven.product()))
}

/// |g| as a ratio of the train alone, without the fixed gearing; none for no
/// motion at all.
pub(super) fn ratio_of(plate_turns: Angle, gears: &ChangeGears) -> Result<Option<GearRatio>> {
    if plate_turns.is_zero() {
        return Ok(None);
    }
    let fixed = gears.fixed_gearing.reciprocal();
    let size = plate_turns.abs();
    GearRatio::new(size.numerator(), size.denominator())?
        .checked_mul(fixed)
        .map(Some)
}

/// Every g within reach of the gears, with the circle and the holes of a move.
fn candidates(
    worm: &WormReach,
    gears: &ChangeGears,
    step: Angle,
    largest: (i128, i128),
    meter: &mut Meter<'_>,
) -> Result<Vec<Candidate>> {
    let ratio = worm.worm_ratio();
    let fixed = gears.fixed_gearing;
    let turns = Angle::new(ratio.numerator(), ratio.denominator())?;
    let reach = Angle::new(
        largest.0 * fixed.numerator(),
        largest.1 * fixed.denominator(),
    )?;
    // h/c lies between step·(R − reach) and step·(R + reach).
    let times_step = |it: Angle| {
        it.checked_mul(step.numerator())?
            .checked_div(step.denominator())
    };
    let least = times_step(turns.checked_sub(reach)?)?;
    let most = times_step(turns.checked_add(reach)?)?;
    let mut all = Vec::new();
    for &place in worm.circles() {
        let circle = i128::from(place.holes);
        let (low, high) = (least.checked_mul(circle)?, most.checked_mul(circle)?);
        let first = Integer::div_ceil(&low.numerator(), &low.denominator()).max(1);
        let last = Integer::div_floor(&high.numerator(), &high.denominator());
        let count = last.saturating_sub(first).saturating_add(1).max(0);
        meter.spend(u64::try_from(count).unwrap_or(u64::MAX))?;
        for spaces in first..=last {
            let travel = Angle::new(spaces, circle)?
                .checked_mul(step.denominator())?
                .checked_div(step.numerator())?;
            let plate_turns = turns.checked_sub(travel)?;
            if !plate_turns.is_zero() {
                all.push(Candidate {
                    plate_turns,
                    place,
                    spaces,
                });
            }
        }
    }
    Ok(all)
}
