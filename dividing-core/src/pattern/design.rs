//! From a brief to a pattern.

use num_integer::Integer;

use super::allocation::problem::{Item, Problem, RADIUS_SLACK_MM, Slots, bits, partitions};
use super::allocation::{self, Allocation, Proof, placement::Placed};
use super::brief::{PATTERN_FORMAT, PlateBrief, PlateUse};
use super::check::check_holes;
use super::demand::{Demand, Need, demands, merge_contained};
use super::equipment::is_too_fine;
use super::numbers::{divisors, totient};
use super::outputs::ring_letter;
use super::pins::{PinNeed, holes_for_pins};
use super::result::{Certificate, Design, Hole, Pattern, ProofMethod, Ring, Served, ServedBy};
use super::room::Room;
use super::wish::Wish;
use super::{closer, served, shortfall, vernier};
use crate::angle::Angle;
use crate::equipment::MAX_HOLES as MAX_PLACES;
use crate::error::{Error, ErrorKind, Result};
use crate::work::Meter;

/// Most holes of a plate.
pub const MAX_HOLES: u64 = 20_000;

/// Lays out the plate with the fewest holes that serves every wish of a brief.
///
/// All divisions of a ring are in phase; rings stand a hole and a web apart,
/// as far out as they can go, the tightest tolerances outermost. Where that
/// does not fit, rings stand closer with phases that keep every web. Ties in
/// the number of holes go to the better worst margin. A spent budget gives the
/// best so far with its gap, marked incomplete.
///
/// # Errors
/// Those of [`PlateBrief::check`]; [`ErrorKind::Inconsistent`] for fixed rings
/// that do not stand where they are put; [`ErrorKind::OutOfRange`] beyond
/// [`MAX_HOLES`]; [`ErrorKind::WorkLimit`] when the budget ends before any
/// plate is found; [`ErrorKind::Cancelled`].
///
/// ```
/// use dividing_core::pattern::{PlateBrief, design};
/// use dividing_core::work::Meter;
/// let brief = PlateBrief::from_json(
///     r#"{"format": 1, "divisions": [5, 6, 7, 8, 9, 12],
///         "outline": {"disc": {"diameter": 100}}, "hole_diameter": 6,
///         "least_web": 2, "least_edge_distance": 3}"#,
/// )?;
/// let pattern = design(&brief, &mut Meter::default())?.into_pattern()?;
/// assert!(pattern.certificate.complete);
/// assert_eq!(pattern.certificate.gap, 0);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn design(brief: &PlateBrief, meter: &mut Meter<'_>) -> Result<Design> {
    brief.check()?;
    if matches!(brief.usage, PlateUse::VernierPair) {
        return vernier::design(brief, meter);
    }
    let demands = demands(brief, meter)?;
    let room = Room::new(brief);
    let slots = room.slots(brief, room.spacing_mm, true);
    if let Ok(slots) = &slots
        && let Some(best) = best_variant(brief, &demands, &room, slots, meter)?
    {
        let phases = best
            .rings
            .iter()
            .map(|ring| fixed_phase(brief, &best.problem, ring).unwrap_or(Angle::ZERO))
            .collect::<Vec<_>>();
        let proved = bound_of_lists(brief, &demands, &room, slots, meter)?;
        return finish(brief, &demands, &best.within(proved), &phases, true)
            .map(|pattern| Design::Pattern(Box::new(pattern)));
    }
    if let Some((best, phases)) = closer::search(brief, &demands, &room, meter)? {
        let proved = match lists_alone(&demands) {
            Some((alone, _)) => Some(bound_of_any_rings(brief, &demands, &room, alone, meter)?),
            None => None,
        };
        let best = best.within(proved);
        return finish(brief, &demands, &best, &phases, false)
            .map(|pattern| Design::Pattern(Box::new(pattern)));
    }
    slots?;
    shortfall::explain(brief, &demands, meter).map(|found| Design::DoesNotFit(Box::new(found)))
}

/// An allocation with the problem it solves.
pub(crate) struct Solved {
    pub(crate) problem: Problem,
    pub(crate) answer: Allocation,
    pub(crate) rings: Vec<Placed>,
}

impl Solved {
    /// The same with what is proved of wishes whose pins are chosen one by one.
    fn within(mut self, proved: Option<(u64, Option<Proof>)>) -> Self {
        if let Some((bound, proof)) = proved {
            self.answer.lower_bound = bound.min(self.answer.holes);
            self.answer.proof = proof.unwrap_or(Proof::Directions);
            self.answer.complete &= bound >= self.answer.holes && proof.is_some();
        }
        self
    }
}

/// The pins that the list with the most needs, whatever else is on the plate;
/// none where no wish chooses its pins one by one.
fn lists_alone(demands: &[Demand]) -> Option<(u64, Option<Proof>)> {
    let lists = demands.iter().filter_map(|demand| demand.pins.as_ref());
    let least = lists.filter(|list| !list.readings.is_empty());
    let most = least.map(|list| list.least_pins).max()?;
    Some((most, None))
}

/// The fewest holes proved where lists are served by chords: those of the
/// divisions without them, or those of the list that needs most.
fn bound_of_lists(
    brief: &PlateBrief,
    demands: &[Demand],
    room: &Room,
    slots: &Slots,
    meter: &mut Meter<'_>,
) -> Result<Option<(u64, Option<Proof>)>> {
    let Some((alone, _)) = lists_alone(demands) else {
        return Ok(None);
    };
    let divisions = without_lists(demands);
    if divisions.is_empty() {
        return Ok(Some((alone, None)));
    }
    let found = match best_variant(brief, &divisions, room, slots, meter) {
        Err(error) if error.kind() == ErrorKind::WorkLimit => None,
        found => found?,
    };
    Ok(Some(match found {
        Some(found) if found.answer.lower_bound >= alone => {
            (found.answer.lower_bound, Some(found.answer.proof))
        }
        _ => (alone, None),
    }))
}

/// The same where rings stand closer: the divisions by themselves, on any number
/// of rings, or the list that needs most.
fn bound_of_any_rings(
    brief: &PlateBrief,
    demands: &[Demand],
    room: &Room,
    alone: u64,
    meter: &mut Meter<'_>,
) -> Result<(u64, Option<Proof>)> {
    let divisions = without_lists(demands);
    if divisions.is_empty() {
        return Ok((alone, None));
    }
    match closer::lower_bound(brief, &divisions, room, meter) {
        Ok((bound, proof)) if bound > alone => Ok((bound, Some(proof))),
        Err(error) if error.kind() == ErrorKind::Cancelled => Err(error),
        _ => Ok((alone, None)),
    }
}

fn without_lists(demands: &[Demand]) -> Vec<Demand> {
    let kept = demands.iter().filter(|demand| demand.pins.is_none());
    kept.cloned().collect()
}

/// Solves every way to read the demands and keeps the one with the fewest
/// holes; `None` when none fits.
///
/// # Errors
/// [`ErrorKind::WorkLimit`] when the budget ends before that is known.
pub(crate) fn best_variant(
    brief: &PlateBrief,
    demands: &[Demand],
    room: &Room,
    slots: &Slots,
    meter: &mut Meter<'_>,
) -> Result<Option<Solved>> {
    let mut best: Option<Solved> = None;
    let mut lower_bound = u64::MAX;
    let mut complete = true;
    for items in item_variants(brief, demands)? {
        let problem = problem(brief, items, slots, room)?;
        let answer = allocation::solve(&problem, meter)?;
        complete &= answer.complete;
        if answer.rings.is_some() || !answer.complete {
            lower_bound = lower_bound.min(answer.lower_bound);
        }
        let Some(rings) = answer.rings.clone() else {
            continue;
        };
        if best
            .as_ref()
            .is_none_or(|kept| answer.holes < kept.answer.holes)
        {
            best = Some(Solved {
                problem,
                answer,
                rings,
            });
        }
    }
    match &mut best {
        Some(found) => {
            found.answer.lower_bound = lower_bound.min(found.answer.holes);
            found.answer.complete = complete;
        }
        None if !complete => {
            return Err(Error::new(
                ErrorKind::WorkLimit,
                "no plate was found within the budget of work; give it a larger limit or fewer wishes",
            ));
        }
        None => {}
    }
    Ok(best)
}

/// Most readings of the wishes that are all tried; beyond, each wish takes its
/// first alone.
const MOST_READINGS: usize = 64;

/// The items to share out. A pin plate has several readings: a division that
/// takes any even ring, and angles that few pins of their own or a full circle
/// serve.
pub(crate) fn item_variants(brief: &PlateBrief, demands: &[Demand]) -> Result<Vec<Vec<Item>>> {
    let square = match brief.usage {
        PlateUse::Pins { square, .. } => Some(square),
        _ => None,
    };
    let mut fixed: Vec<Item> = Vec::new();
    let mut flexible: Vec<(PinNeed, Item)> = Vec::new();
    let mut choices: Vec<Vec<Item>> = Vec::new();
    for demand in demands {
        let Need::Holes(item) = &demand.need else {
            continue;
        };
        let with_tolerance = |item: &Item| Item {
            tolerance_rad: demand.tolerance_rad,
            ..item.clone()
        };
        let item = with_tolerance(item);
        match (square, &demand.wish, &demand.pins) {
            (Some(square), Wish::Division(n), _) => match holes_for_pins(*n, square) {
                PinNeed::Ring(_) => fixed.push(item),
                need => flexible.push((need, item)),
            },
            (_, _, Some(pins)) if pins.readings.is_empty() => {
                flexible.push((PinNeed::AnyRing(2), item));
            }
            (_, _, Some(pins)) => {
                choices.push(pins.readings.iter().map(with_tolerance).collect());
            }
            _ => fixed.push(item),
        }
    }
    let mut readings = Vec::new();
    for chosen in every_choice(&choices) {
        let all = fixed.iter().cloned().chain(chosen).collect();
        readings.extend(with_flexible(all, &flexible));
    }
    let grouped = fixed_groups(brief)?;
    readings
        .into_iter()
        .map(|mut items| {
            items.extend(grouped.iter().cloned());
            merge_contained(items)
        })
        .collect()
}

/// Every way to take one of each, up to [`MOST_READINGS`]; else the first of
/// each, and the last of each.
fn every_choice(choices: &[Vec<Item>]) -> Vec<Vec<Item>> {
    let count = choices.iter().try_fold(1_usize, |all, choice| {
        all.checked_mul(choice.len())
            .filter(|&all| all <= MOST_READINGS)
    });
    if count.is_none() {
        let first = choices.iter().filter_map(|choice| choice.first().cloned());
        let last = choices.iter().filter_map(|choice| choice.last().cloned());
        return vec![first.collect(), last.collect()];
    }
    choices.iter().fold(vec![Vec::new()], |all, choice| {
        all.iter()
            .flat_map(|taken| {
                choice.iter().map(|item| {
                    let mut more = taken.clone();
                    more.push(item.clone());
                    more
                })
            })
            .collect()
    })
}

/// The fixed items with what the flexible ones add.
fn with_flexible(fixed: Vec<Item>, flexible: &[(PinNeed, Item)]) -> Vec<Vec<Item>> {
    let even = flexible
        .iter()
        .find(|(need, _)| matches!(need, PinNeed::EvenRing(_)));
    let has_even = fixed
        .iter()
        .flat_map(|item| &item.divisions)
        .any(|&n| n >= 4 && n.is_even());
    match even {
        Some((_, item)) if !has_even => {
            // Any even ring from 4 up holds one of 4 or 2p places, p an odd
            // prime; where p divides no other circle, 4 adds fewer holes and
            // needs fewer places.
            let mut circles = vec![4];
            for &n in fixed.iter().flat_map(|item| &item.divisions) {
                let primes = divisors(n).into_iter().filter(|&d| totient(d) + 1 == d);
                circles.extend(primes.filter(|&p| p > 2).map(|p| 2 * p));
            }
            circles.sort_unstable();
            circles.dedup();
            circles
                .into_iter()
                .map(|circle| {
                    let mut items = fixed.clone();
                    items.push(Item {
                        divisions: vec![circle],
                        ..item.clone()
                    });
                    items
                })
                .collect()
        }
        _ if fixed.is_empty() => vec![
            flexible
                .first()
                .map(|(_, item)| item.clone())
                .into_iter()
                .collect(),
        ],
        _ => vec![fixed],
    }
}

/// One item for each fixed ring with divisions.
fn fixed_groups(brief: &PlateBrief) -> Result<Vec<Item>> {
    let mut groups = Vec::new();
    let mut pins = 0;
    for (index, ring) in brief.rings.iter().enumerate() {
        if ring.divisions.is_empty() {
            continue;
        }
        let mut divisions = Vec::new();
        for &division in &ring.divisions {
            match super::demand::need_of_division(brief, division)
                .map_err(|error| error.at(format!("rings[{index}].divisions")))?
            {
                Need::Holes(item) => divisions.extend(item.divisions),
                Need::Nothing | Need::Faces(_) => {}
            }
        }
        divisions.sort_unstable();
        divisions.dedup();
        let pinned = ring.radius.map(|_| {
            pins += 1;
            pins - 1
        });
        if divisions.is_empty() {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                "these divisions need no hole of their own; leave the ring out",
            )
            .at(format!("rings[{index}].divisions")));
        }
        groups.push(Item {
            divisions,
            pinned,
            ..Item::default()
        });
    }
    Ok(groups)
}

/// Sets up the allocation; a fixed ring whose own holes do not fit is an error.
pub(crate) fn problem(
    brief: &PlateBrief,
    items: Vec<Item>,
    slots: &Slots,
    room: &Room,
) -> Result<Problem> {
    let problem = Problem::new(items, slots.clone(), room.spacing_mm);
    for (i, item) in problem.items.iter().enumerate() {
        let Some(pin) = item.pinned else { continue };
        if problem.group_level(1 << i).is_none() {
            let index = brief
                .rings
                .iter()
                .enumerate()
                .filter(|(_, ring)| ring.radius.is_some() && !ring.divisions.is_empty())
                .map(|(index, _)| index)
                .nth(pin)
                .unwrap_or(0);
            return Err(Error::new(
                ErrorKind::Inconsistent,
                format!(
                    "its divisions need a pitch radius of at least {:.3} mm",
                    problem.need_mm(1 << i)
                ),
            )
            .at(format!("rings[{index}].radius")));
        }
    }
    Ok(problem)
}

/// The phase the user fixed for a ring, if any.
pub(crate) fn fixed_phase(brief: &PlateBrief, problem: &Problem, ring: &Placed) -> Option<Angle> {
    let (divisions, _) = contents(problem, ring.group);
    brief.rings.iter().find_map(|fixed| {
        let here =
            match fixed.radius {
                Some(radius) => (radius.mm() - ring.radius_mm).abs() < 1.0e-9,
                None => fixed.divisions.iter().all(|&n| {
                    match super::demand::need_of_division(brief, n) {
                        Ok(Need::Holes(item)) => item
                            .divisions
                            .iter()
                            .all(|&n| divisions.iter().any(|&m| m.is_multiple_of(n))),
                        _ => true,
                    }
                }),
            };
        if here { fixed.phase } else { None }
    })
}

/// Divisions and single holes of a group, those inside others left out.
pub(crate) fn contents(problem: &Problem, group: u64) -> (Vec<u64>, Vec<(i128, i128)>) {
    let mut divisions: Vec<u64> = Vec::new();
    let mut points: Vec<(i128, i128)> = Vec::new();
    for i in bits(group) {
        divisions.extend(&problem.items[i].divisions);
        points.extend(&problem.items[i].points);
    }
    divisions.sort_unstable();
    divisions.dedup();
    let all = divisions.clone();
    divisions.retain(|&n| !all.iter().any(|&m| m != n && m.is_multiple_of(n)));
    points.retain(|&(_, q)| !divisions.iter().any(|&n| i128::from(n).is_multiple_of(&q)));
    points.sort_unstable();
    points.dedup();
    (divisions, points)
}

/// The holes of a ring.
pub(crate) fn ring(problem: &Problem, placed: &Placed, phase: Angle) -> Result<Ring> {
    let (divisions, points) = contents(problem, placed.group);
    // Fractions of a turn in lowest terms.
    let mut fractions: Vec<(i128, i128)> = vec![(0, 1)];
    for &n in &divisions {
        fractions.extend((1..n).map(|k| {
            let common = k.gcd(&n).max(1);
            (i128::from(k / common), i128::from(n / common))
        }));
    }
    fractions.extend(points);
    let places = fractions
        .iter()
        .try_fold(1_u64, |all, &(_, q)| {
            let q = u64::try_from(q).ok()?;
            (all / all.gcd(&q)).checked_mul(q)
        })
        .filter(|&places| i64::try_from(places).is_ok());
    ring_of(placed.radius_mm, phase, places, divisions, fractions)
}

/// Lays out a ring; holes are numbered by their places where those are few.
fn ring_of(
    radius_mm: f64,
    phase: Angle,
    places: Option<u64>,
    divisions: Vec<u64>,
    mut fractions: Vec<(i128, i128)>,
) -> Result<Ring> {
    let numbered = places.is_some_and(|places| places <= u64::from(crate::equipment::MAX_HOLES));
    let place = |(p, q): (i128, i128)| {
        // A fraction below one turn times the places is below 2^63.
        places.and_then(|places| u64::try_from(i128::from(places) / q * p).ok())
    };
    // Terms of fractions stay below 10^9, so their cross products fit.
    fractions.sort_unstable_by(|a, b| (a.0 * b.1).cmp(&(b.0 * a.1)));
    fractions.dedup();
    let phase = phase.within_turn();
    let holes = fractions
        .into_iter()
        .zip(0_u32..)
        .map(|(fraction, number)| {
            let mut angle = Angle::new(fraction.0, fraction.1)?;
            if !phase.is_zero() {
                angle = angle.checked_add(phase)?.within_turn();
            }
            let place = place(fraction);
            let number = match place.map(u32::try_from) {
                Some(Ok(place)) if numbered => place,
                _ => number,
            };
            Ok(Hole {
                number,
                place,
                angle,
            })
        })
        .collect::<Result<Vec<Hole>>>()?;
    Ok(Ring {
        radius_mm,
        phase,
        places,
        divisions,
        holes,
    })
}

/// Gives rings of like many places a multiple for the inner one, so that the
/// number of places names the ring.
///
/// On a worm head whole circles are named by their own numbers, so a ring with
/// single holes takes another.
fn with_places_apart(brief: &PlateBrief, rings: Vec<Ring>) -> Result<Vec<Ring>> {
    let mut taken: Vec<u64> = Vec::new();
    let on_head = matches!(brief.usage, PlateUse::WormHead { .. });
    if on_head {
        taken.extend(rings.iter().flat_map(|ring| ring.divisions.iter().copied()));
    }
    let mut all = Vec::with_capacity(rings.len());
    for mut ring in rings {
        let named_by_places = !on_head || ring.has_single_holes()?;
        let Some(places) = ring.places.filter(|_| named_by_places) else {
            all.push(ring);
            continue;
        };
        let mut times = 1_u64;
        while taken.contains(&places.saturating_mul(times)) {
            times += 1;
        }
        let most = u64::from(crate::equipment::MAX_HOLES);
        let multiple = places.saturating_mul(times);
        if times > 1 && multiple <= most {
            ring.places = Some(multiple);
            for hole in &mut ring.holes {
                hole.place = hole.place.map(|place| place * times);
                if let Some(Ok(place)) = hole.place.map(u32::try_from) {
                    hole.number = place;
                }
            }
        }
        taken.extend(ring.places);
        all.push(ring);
    }
    Ok(all)
}

fn finish(
    brief: &PlateBrief,
    demands: &[Demand],
    solved: &Solved,
    phases: &[Angle],
    separated: bool,
) -> Result<Pattern> {
    let answer = &solved.answer;
    if answer.holes > MAX_HOLES {
        return Err(Error::out_of_range(
            format!("a plate of {} holes", answer.holes),
            format!("at most {MAX_HOLES}; ask for fewer or smaller divisions"),
        )
        .at("divisions"));
    }
    let rings = solved
        .rings
        .iter()
        .zip(phases)
        .map(|(placed, &phase)| ring(&solved.problem, placed, phase))
        .collect::<Result<Vec<Ring>>>()?;
    let rings = with_places_apart(brief, rings)?;
    // The answer stands; measuring it is not part of the budget of the search.
    let check = check_holes(brief, &rings, &mut Meter::new(u64::MAX))?;
    if !check.passed {
        return Err(Error::internal(format!(
            "a pattern failed its own check, least web {:?} mm",
            check.least_web_mm
        )));
    }
    let served = served::serve(brief, demands, &rings)?;
    let mut remarks = Vec::new();
    if !separated {
        let spacing_mm = Room::new(brief).spacing_mm - RADIUS_SLACK_MM;
        let closer = rings
            .windows(2)
            .any(|pair| matches!(pair, [a, b] if a.radius_mm - b.radius_mm < spacing_mm));
        remarks.push(if closer {
            "rings stand closer than a hole and a web; their phases keep every web".to_owned()
        } else {
            "rings pass between keep-outs or mounting holes; their phases keep clear of them: \
             drill at the angles of the table"
                .to_owned()
        });
    }
    for (index, fixed) in brief.rings.iter().enumerate() {
        if let Some(radius) = fixed.radius
            && !rings
                .iter()
                .any(|ring| (ring.radius_mm - radius.mm()).abs() < 1.0e-9)
        {
            remarks.push(format!(
                "the fixed ring {index} at {radius} is not needed and stays empty"
            ));
        }
    }
    let chosen = |it: &Served| matches!(&it.by, ServedBy::Pins { circle: None, .. });
    if served.iter().any(chosen) {
        remarks.push(
            "pins of lists stand where their shortest baseline is long; \
             that no placing has a longer one is not proved"
                .to_owned(),
        );
    }
    if matches!(brief.usage, PlateUse::WormHead { .. }) {
        remarks.extend(worm_head_remarks(&rings)?);
    }
    for (index, ring) in rings.iter().enumerate() {
        if is_too_fine(ring) && ring.has_single_holes()? {
            remarks.push(format!(
                "ring {} can be drilled but no workshop holds it, since its angles need a circle \
                 of more than {MAX_PLACES} places: round them (whole steps of 0.01° or of 30\" \
                 mostly do) or list fewer on one ring",
                ring_letter(index)
            ));
        }
    }
    if brief.outline.faces().is_some() {
        remarks.push("rings stay inside the circle that touches the faces".to_owned());
    }
    let mut pattern = Pattern {
        format: PATTERN_FORMAT,
        brief: brief.clone(),
        bar_room: Vec::new(),
        part_room: None,
        certificate: Certificate {
            holes: answer.holes,
            lower_bound: answer.lower_bound,
            gap: answer.holes.saturating_sub(answer.lower_bound),
            proof: match answer.proof {
                Proof::OneRing => ProofMethod::EachHoleOnce,
                Proof::Shares => ProofMethod::SharedHoles,
                Proof::Prices => ProofMethod::LinearRelaxation,
                Proof::Exhausted => ProofMethod::Exhausted,
                Proof::Directions => ProofMethod::Directions,
            },
            complete: answer.complete && separated,
            separated_rings: separated,
            wishes_shared_out: u32::try_from(solved.problem.len()).unwrap_or(u32::MAX),
            partitions: partitions(solved.problem.len()),
            rings_considered: answer.rings_listed,
            nodes: answer.nodes,
        },
        rings,
        stations: Vec::new(),
        served,
        check,
        remarks,
    };
    pattern.bar_room = pattern.room_of_bars();
    pattern.part_room = pattern.room_of_part();
    let parts = pattern.part_room.iter().flat_map(|room| &room.bars);
    let under: Vec<String> = parts
        .filter(|bar| bar.least_gap_mm < 0.0)
        .map(|bar| bar.wish.to_string())
        .collect();
    if !under.is_empty() {
        pattern.remarks.push(format!(
            "the part reaches beyond the bar for {}: keep the bar off its height, on longer pins \
             or behind it",
            under.join(", ")
        ));
    }
    Ok(pattern)
}

/// What to mind on a ring that several circles or single holes share.
fn worm_head_remarks(rings: &[Ring]) -> Result<Vec<String>> {
    let mut remarks = Vec::new();
    for (index, ring) in rings.iter().enumerate() {
        let letter = ring_letter(index);
        if ring.divisions.len() > 1 {
            let circles: Vec<String> = ring.divisions.iter().map(u64::to_string).collect();
            remarks.push(format!(
                "ring {letter} carries the circles of {} together: sector arms span holes of the \
                 circle in use only, so mark each circle's holes before use",
                circles.join(", ")
            ));
        }
        if ring.has_single_holes()? {
            remarks.push(format!(
                "ring {letter} has single holes: fit the plate so that its numbers grow the way \
                 the crank turns, and go by the numbers"
            ));
        }
    }
    Ok(remarks)
}
