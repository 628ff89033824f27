//! Vernier pairs: holes in the turning plate, stations in the fixed one.

use std::collections::BTreeSet;

use num_integer::Integer;

use super::allocation::problem::RADIUS_SLACK_MM;
use super::brief::{Outline, PATTERN_FORMAT, PlateBrief};
use super::check::check_holes;
use super::numbers::divisors;
use super::result::{
    Certificate, Design, Hole, Pattern, ProofMethod, Ring, ServedBy, Shortfall, Station,
};
use super::room::Room;
use super::served::{predicted_error_rad, served};
use super::validate::MAX_DIVISION;
use super::vernier_layout::{Layout, Positions, common_multiple, layouts};
use super::wish::Wish;
use crate::angle::Angle;
use crate::error::{Error, ErrorKind, Result};
use crate::length::MAX_LENGTH_MM;
use crate::words::count;
use crate::work::Meter;

/// Holes and stations of a vernier pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct VernierPair {
    /// Equally spaced holes in the turning plate.
    pub holes: u64,
    /// Stations in the fixed plate.
    pub stations: u64,
}

/// The fewest holes and stations together that give `positions` equal ones.
///
/// n holes and m stations give n·m positions; M equal ones need M | n·m. With
/// n' = gcd(n, M), already n' holes and M/n' stations do, and neither is more,
/// so the best pair is a divisor of M and its cofactor: 101 positions need
/// 102, not 21. Ties go to more holes than stations.
///
/// # Errors
/// [`crate::ErrorKind::OutOfRange`] when `positions` is not from 1 to
/// [`MAX_DIVISION`].
///
/// ```
/// use dividing_core::pattern::{VernierPair, fewest_vernier_pair};
/// let pair = fewest_vernier_pair(100)?;
/// assert_eq!(pair, VernierPair { holes: 10, stations: 10 });
/// let prime = fewest_vernier_pair(101)?;
/// assert_eq!(prime.holes + prime.stations, 102);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn fewest_vernier_pair(positions: u64) -> Result<VernierPair> {
    check_positions(positions)?;
    pairs(positions)
        .into_iter()
        .next()
        .ok_or_else(|| Error::internal("a number without divisors"))
}

fn check_positions(positions: u64) -> Result<()> {
    if (1..=MAX_DIVISION).contains(&positions) {
        Ok(())
    } else {
        Err(Error::out_of_range(
            format!("{positions} positions"),
            format!("1 to {MAX_DIVISION}"),
        ))
    }
}

/// All divisor pairs, fewest together first, then more holes.
pub(super) fn pairs(positions: u64) -> Vec<VernierPair> {
    let mut all: Vec<VernierPair> = divisors(positions)
        .into_iter()
        .map(|holes| VernierPair {
            holes,
            stations: positions / holes,
        })
        .collect();
    all.sort_by_key(|pair| (pair.holes + pair.stations, std::cmp::Reverse(pair.holes)));
    all
}

/// Places of the stations in units of 1/(n·m) turn, one for each residue
/// modulo m, spread round the turn.
///
/// Station t stands near t/m turn. Stepping by n visits every residue that is
/// a multiple of g = gcd(n, m) and starts over after m/g stations; each new
/// round is put off by another of the g residues between. The rounds take
/// them as 0, 2, 4 … 5, 3, 1, so that neighbours, also over the end of the
/// turn, differ by two units at most, and stations stand at least n − 2 units
/// apart (one, where n is 2 or less).
///
/// # Errors
/// [`crate::ErrorKind::OutOfRange`] for a product beyond [`MAX_DIVISION`] or
/// a count of 0.
///
/// ```
/// use dividing_core::pattern::{VernierPair, station_places};
/// let places = station_places(VernierPair { holes: 5, stations: 4 })?;
/// assert_eq!(places, [0, 5, 10, 15]); // a quarter turn apart
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn station_places(pair: VernierPair) -> Result<Vec<u64>> {
    let VernierPair { holes, stations } = pair;
    check_positions(holes.saturating_mul(stations))?;
    let rounds = holes.gcd(&stations);
    let each = stations / rounds;
    Ok((0..stations)
        .map(|t| {
            let round = t / each;
            let evens = rounds.div_ceil(2);
            let put_off = if round < evens {
                2 * round
            } else {
                2 * (rounds - 1 - round) + 1
            };
            t * holes + put_off
        })
        .collect())
}

/// Lays out a vernier pair for the least common multiple of the divisions, or
/// for the positions that lists and single angles add to them, as far out as the
/// plate allows.
pub(crate) fn design(brief: &PlateBrief, meter: &mut Meter<'_>) -> Result<Design> {
    let wishes = wishes(brief);
    let wanted = positions(&wishes)?;
    let room = Room::new(brief);
    let slots = room.slots(brief, room.spacing_mm, true)?;
    let radius_mm = slots.free_mm.first().copied();
    let all = layouts(&wanted, meter)?;
    let considered = all.len() as u64;
    let fitting = radius_mm.and_then(|radius_mm| {
        let chosen = all
            .iter()
            .map(|layout| (layout, layout.need_mm(room.spacing_mm)))
            .filter(|(_, need)| *need <= radius_mm + RADIUS_SLACK_MM)
            .min_by(|(a, a_need), (b, b_need)| {
                (a.total().cmp(&b.total())).then(a_need.total_cmp(b_need))
            })?;
        Some((chosen.0, radius_mm))
    });
    match fitting {
        Some((layout, radius_mm)) => lay_out(brief, &wanted, layout, radius_mm, considered)
            .map(|pattern| Design::Pattern(Box::new(pattern))),
        None => shortfall(brief, &wishes, &wanted, &all, &room, radius_mm, meter)
            .map(|found| Design::DoesNotFit(Box::new(found))),
    }
}

/// Every wish with its tolerance.
fn wishes(brief: &PlateBrief) -> Vec<(Wish, Option<Angle>)> {
    let divisions = brief.divisions.iter();
    let angles = brief.angles.iter();
    let lists = brief.lists.iter();
    divisions
        .map(|it| (Wish::Division(it.division), it.tolerance))
        .chain(angles.map(|it| (Wish::Angle(it.angle), it.tolerance)))
        .chain(lists.map(|it| (Wish::List(it.angles.clone()), it.tolerance)))
        .collect()
}

/// The positions that the wishes need.
fn positions(wishes: &[(Wish, Option<Angle>)]) -> Result<Positions> {
    let mut steps = Vec::new();
    for (wish, _) in wishes {
        match wish {
            Wish::Division(n) => steps.push(*n),
            Wish::Angle(angle) => steps.push(denominator(*angle)),
            Wish::List(angles) => steps.extend(angles.iter().copied().map(denominator)),
        }
    }
    let all = common_multiple(steps.into_iter(), MAX_DIVISION).ok_or_else(|| {
        Error::out_of_range(
            "the least common multiple of the divisions and of the denominators of the angles",
            format!("at most {MAX_DIVISION} positions of one vernier pair; round the angles"),
        )
        .at(first_field(wishes))
    })?;
    let whole = |(wish, _): &(Wish, _)| matches!(wish, Wish::Division(_));
    if wishes.iter().all(whole) {
        return Ok(Positions { all, some: None });
    }
    let mut some = BTreeSet::from([0]);
    let mut add = |angle: Angle| {
        let place = angle.checked_mul(i128::from(all))?.numerator();
        let place = place.mod_floor(&i128::from(all));
        some.extend(u64::try_from(place));
        Ok(())
    };
    for (wish, _) in wishes {
        match wish {
            Wish::Division(n) => {
                (0..*n).try_for_each(|k| add(Angle::new(i128::from(k), i128::from(*n))?))?;
            }
            Wish::Angle(angle) => add(*angle)?,
            Wish::List(angles) => angles.iter().try_for_each(|angle| add(*angle))?,
        }
    }
    Ok(Positions {
        all,
        some: Some(some),
    })
}

fn denominator(angle: Angle) -> u64 {
    u64::try_from(angle.denominator()).unwrap_or(u64::MAX)
}

/// The field to name where the wishes have no common grid.
fn first_field(wishes: &[(Wish, Option<Angle>)]) -> &'static str {
    match wishes.first() {
        Some((Wish::Angle(_), _)) => "angles",
        Some((Wish::List(_), _)) => "lists",
        _ => "divisions",
    }
}

fn lay_out(
    brief: &PlateBrief,
    wanted: &Positions,
    layout: &Layout,
    radius_mm: f64,
    considered: u64,
) -> Result<Pattern> {
    let at = |place: u64, of: u64| Angle::new(i128::from(place), i128::from(of));
    let holes = layout
        .holes
        .iter()
        .map(|&place| {
            Ok(Hole {
                number: u32::try_from(place).unwrap_or(u32::MAX),
                place: Some(place),
                angle: at(place, layout.places)?,
            })
        })
        .collect::<Result<Vec<Hole>>>()?;
    let stations = layout
        .stations
        .iter()
        .zip(0_u32..)
        .map(|(&place, number)| {
            Ok(Station {
                number,
                angle: at(place, wanted.all)?,
            })
        })
        .collect::<Result<Vec<Station>>>()?;
    let is_full = holes.len() as u64 == layout.places;
    let rings = vec![Ring {
        radius_mm,
        phase: Angle::ZERO,
        places: Some(layout.places),
        divisions: if is_full {
            vec![layout.places]
        } else {
            Vec::new()
        },
        holes,
    }];
    let check = check_holes(brief, &rings, &mut Meter::new(u64::MAX))?;
    let total = layout.total();
    let lower_bound = wanted.least_total().min(total);
    let by = ServedBy::VernierPair {
        positions: wanted.all,
    };
    let error_rad = predicted_error_rad(brief, &by, &rings)?;
    let (drilled, bodies) = (layout.holes.len(), layout.stations.len());
    let given = wanted.count();
    Ok(Pattern {
        format: PATTERN_FORMAT,
        brief: brief.clone(),
        bar_room: Vec::new(),
        part_room: None,
        rings,
        stations,
        served: wishes(brief)
            .into_iter()
            .map(|(wish, tolerance)| {
                let tolerance_rad = tolerance.map(Angle::to_radians_f64);
                served(wish, by.clone(), error_rad, tolerance_rad)
            })
            .collect(),
        certificate: Certificate {
            holes: total,
            lower_bound,
            gap: total - lower_bound,
            proof: match wanted.some {
                None => ProofMethod::FactorPairs,
                Some(_) => ProofMethod::Directions,
            },
            complete: total == lower_bound,
            separated_rings: true,
            wishes_shared_out: 1,
            partitions: 1.0,
            rings_considered: considered,
            nodes: 0,
        },
        check,
        remarks: vec![match wanted.some {
            None => format!(
                "{} and {} give {given} positions, one pair in line at each",
                count(drilled, "hole"),
                count(bodies, "station")
            ),
            Some(_) => format!(
                "{} and {} give the {given} positions wanted of {}; put the pin where the sheet says",
                count(drilled, "hole"),
                count(bodies, "station"),
                wanted.all
            ),
        }],
    })
}

fn shortfall(
    brief: &PlateBrief,
    wishes: &[(Wish, Option<Angle>)],
    wanted: &Positions,
    all: &[Layout],
    room: &Room,
    radius_mm: Option<f64>,
    meter: &mut Meter<'_>,
) -> Result<Shortfall> {
    let least_need_mm = |layouts: &[Layout], spacing_mm: f64| {
        let needs = layouts.iter().map(|layout| layout.need_mm(spacing_mm));
        needs.fold(f64::INFINITY, f64::min)
    };
    let need = least_need_mm(all, room.spacing_mm);
    let across_mm = 2.0
        * (clear_of(&room.blocked_mm, need.max(room.innermost_mm))
            + brief.least_edge_distance.mm()
            + brief.largest_hole_mm() / 2.0);
    // Bisection over whole steps of 0.01 mm: `low` fits, `high` does not.
    let (mut low, mut high) = (0.0, (brief.largest_hole_mm() * 100.0).ceil());
    while high - low > 1.0 {
        let middle = f64::midpoint(low, high).floor();
        let other = brief.with_hole_mm(middle / 100.0)?;
        let room = Room::new(&other);
        let fits = room
            .slots(&other, room.spacing_mm, true)?
            .free_mm
            .first()
            .is_some_and(|&radius| least_need_mm(all, room.spacing_mm) <= radius);
        if fits {
            low = middle;
        } else {
            high = middle;
        }
    }
    let mut kept: Vec<(Wish, Option<Angle>)> = Vec::new();
    let mut all_tried = true;
    let mut sorted = wishes.to_vec();
    sorted.sort_by_key(|(wish, _)| match wish {
        Wish::Division(n) => *n,
        Wish::Angle(_) => 1,
        Wish::List(angles) => angles.len() as u64,
    });
    for wish in sorted {
        kept.push(wish);
        let fits = match positions(&kept).and_then(|wanted| layouts(&wanted, meter)) {
            Ok(layouts) => radius_mm.is_some_and(|radius_mm| {
                least_need_mm(&layouts, room.spacing_mm) <= radius_mm + RADIUS_SLACK_MM
            }),
            Err(error) if error.kind() == ErrorKind::Cancelled => return Err(error),
            Err(error) => {
                all_tried &= error.kind() != ErrorKind::WorkLimit;
                false
            }
        };
        if !fits {
            kept.pop();
        }
    }
    let kind = match brief.outline {
        Outline::Disc { .. } => "diameter",
        Outline::Polygon { .. } => "across flats",
    };
    Ok(Shortfall {
        binding: vec![match radius_mm {
            Some(radius) => format!(
                "{} positions need a pitch radius of {need:.3} mm, and the outermost ring has {radius:.3} mm",
                wanted.count()
            ),
            None => format!("no ring fits inside the {kind}"),
        }],
        smallest_outline_mm: (across_mm <= MAX_LENGTH_MM)
            .then(|| (across_mm * 100.0 - 1.0e-6).ceil() / 100.0),
        largest_hole_mm: (low > 0.0).then_some(low / 100.0),
        largest_pin_mm: (low > 0.0)
            .then(|| brief.pin_for_hole_mm(low / 100.0))
            .flatten(),
        // None fits alone, or only one is left out: no larger part does. Else another
        // choice may hold more.
        subset_proved: all_tried && (kept.is_empty() || kept.len() + 1 == wishes.len()),
        largest_subset: kept.into_iter().map(|(wish, _)| wish).collect(),
    })
}

/// The smallest radius, from this one on, outside all ranges.
fn clear_of(blocked_mm: &[(f64, f64)], radius_mm: f64) -> f64 {
    let mut ranges = blocked_mm.to_vec();
    ranges.sort_by(|a, b| a.0.total_cmp(&b.0));
    ranges.iter().fold(radius_mm, |radius_mm, &(low, high)| {
        if low < radius_mm && radius_mm < high {
            high
        } else {
            radius_mm
        }
    })
}

#[cfg(test)]
mod tests {
    use super::super::numbers::as_f64;
    use super::super::vernier_layout::least_gap_turns;
    use super::*;

    #[test]
    fn fewest_agrees_with_every_pair() {
        for positions in 1..=300_u64 {
            let least = (1..=positions)
                .flat_map(|n| (1..=positions).map(move |m| (n, m)))
                .filter(|(n, m)| (n * m) % positions == 0)
                .map(|(n, m)| n + m)
                .min()
                .unwrap();
            let pair = fewest_vernier_pair(positions).unwrap();
            assert_eq!(pair.holes + pair.stations, least);
            assert_eq!(pair.holes * pair.stations, positions);
        }
    }

    #[test]
    fn every_position_has_exactly_one_pair_in_line() {
        for (holes, stations) in [
            (10, 10),
            (12, 8),
            (9, 6),
            (5, 4),
            (7, 1),
            (1, 7),
            (2, 2),
            (16, 24),
        ] {
            let pair = VernierPair { holes, stations };
            let all = holes * stations;
            let places = station_places(pair).unwrap();
            for turned in 0..all {
                let in_line = places
                    .iter()
                    .filter(|&&b| (b + all - turned).is_multiple_of(stations))
                    .count();
                assert_eq!(in_line, 1, "{pair:?} turned {turned}");
            }
            let gap = least_gap_turns(&places, all);
            assert!(
                gap * as_f64(all) + 1e-9 >= as_f64(holes.saturating_sub(2).max(1)),
                "{pair:?}"
            );
        }
        assert!(
            station_places(VernierPair {
                holes: 0,
                stations: 4
            })
            .is_err()
        );
    }
}
