//! Vernier pairs: holes in the turning plate, stations in the fixed one.

use num_integer::Integer;

use super::allocation::problem::needed_radius_mm;
use super::brief::{Outline, PATTERN_FORMAT, PlateBrief};
use super::check::check_holes;
use super::numbers::{as_f64, divisors};
use super::result::{
    Certificate, Design, Hole, Pattern, ProofMethod, Ring, ServedBy, Shortfall, Station,
};
use super::room::Room;
use super::served::{predicted_error_rad, served};
use super::validate::MAX_DIVISION;
use super::wish::Wish;
use crate::angle::Angle;
use crate::error::{AtField, Error, Result};
use crate::length::MAX_LENGTH_MM;
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
fn pairs(positions: u64) -> Vec<VernierPair> {
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

/// Smallest angle between two stations, in turns; 1 for one station.
fn station_gap_turns(places: &[u64], all: u64) -> f64 {
    let mut sorted = places.to_vec();
    sorted.sort_unstable();
    let around = sorted.iter().skip(1).copied();
    let last = sorted.first().map_or(all, |first| first + all);
    let least = sorted
        .iter()
        .zip(around.chain([last]))
        .map(|(a, b)| b - a)
        .min()
        .unwrap_or(all);
    as_f64(least) / as_f64(all)
}

/// Pitch radius that a pair needs for the webs of both plates.
fn need_mm(pair: VernierPair, spacing_mm: f64) -> Result<f64> {
    let stations = station_places(pair)?;
    let gap = station_gap_turns(&stations, pair.holes * pair.stations);
    Ok(needed_radius_mm(spacing_mm, 1.0 / as_f64(pair.holes))
        .max(needed_radius_mm(spacing_mm, gap)))
}

/// Lays out a vernier pair for the least common multiple of the divisions, as
/// far out as the plate allows.
pub(crate) fn design(brief: &PlateBrief, meter: &mut Meter<'_>) -> Result<Design> {
    let positions =
        common_positions(brief.divisions.iter().map(|wish| wish.division)).at("divisions")?;
    let room = Room::new(brief);
    let slots = room.slots(brief, room.spacing_mm, true)?;
    let radius_mm = slots.free_mm.first().copied();
    let mut chosen: Option<(VernierPair, f64)> = None;
    for pair in pairs(positions) {
        meter.spend(1 + pair.stations / 16)?;
        let need = need_mm(pair, room.spacing_mm)?;
        let fits = radius_mm.is_some_and(|radius| need <= radius + 1.0e-9);
        let better = chosen.is_none_or(|(kept, kept_need)| {
            kept.holes + kept.stations == pair.holes + pair.stations && need < kept_need
        });
        if fits && better {
            chosen = Some((pair, need));
        }
    }
    match (chosen, radius_mm) {
        (Some((pair, _)), Some(radius_mm)) => {
            lay_out(brief, pair, radius_mm).map(|pattern| Design::Pattern(Box::new(pattern)))
        }
        _ => shortfall(brief, positions, &room, radius_mm)
            .map(|found| Design::DoesNotFit(Box::new(found))),
    }
}

fn common_positions(divisions: impl Iterator<Item = u64>) -> Result<u64> {
    let mut all = 1_u64;
    for division in divisions {
        all = (all / all.gcd(&division)).saturating_mul(division);
        if all > MAX_DIVISION {
            return Err(Error::out_of_range(
                format!("the least common multiple of the divisions, {all} or more,"),
                format!("at most {MAX_DIVISION} positions of one vernier pair"),
            ));
        }
    }
    Ok(all)
}

fn lay_out(brief: &PlateBrief, pair: VernierPair, radius_mm: f64) -> Result<Pattern> {
    let all = pair.holes * pair.stations;
    let at = |place: u64, of: u64| Angle::new(i128::from(place), i128::from(of));
    let holes = (0..pair.holes)
        .zip(0_u32..)
        .map(|(place, number)| {
            Ok(Hole {
                number,
                place: Some(place),
                angle: at(place, pair.holes)?,
            })
        })
        .collect::<Result<Vec<Hole>>>()?;
    let mut stations: Vec<Station> = station_places(pair)?
        .into_iter()
        .map(|place| {
            Ok(Station {
                number: u32::try_from(place % pair.stations).unwrap_or(u32::MAX),
                angle: at(place, all)?,
            })
        })
        .collect::<Result<_>>()?;
    stations.sort_by_key(|station| station.number);
    let rings = vec![Ring {
        radius_mm,
        phase: Angle::ZERO,
        places: Some(pair.holes),
        divisions: vec![pair.holes],
        holes,
    }];
    let check = check_holes(brief, &rings, &mut Meter::new(u64::MAX))?;
    let total = pair.holes + pair.stations;
    let by = ServedBy::VernierPair { positions: all };
    let error_rad = predicted_error_rad(brief, &by, &rings)?;
    Ok(Pattern {
        format: PATTERN_FORMAT,
        brief: brief.clone(),
        rings,
        stations,
        served: brief
            .divisions
            .iter()
            .map(|wish| {
                served(
                    Wish::Division(wish.division),
                    by.clone(),
                    error_rad,
                    wish.tolerance.map(Angle::to_radians_f64),
                )
            })
            .collect(),
        certificate: Certificate {
            holes: total,
            lower_bound: total,
            gap: 0,
            proof: ProofMethod::FactorPairs,
            complete: true,
            separated_rings: true,
            wishes_shared_out: 1,
            partitions: 1.0,
            rings_considered: pairs(all).len() as u64,
            nodes: 0,
        },
        check,
        remarks: vec![format!(
            "{} holes and {} stations give {all} positions, one pair in line at each",
            pair.holes, pair.stations
        )],
    })
}

fn shortfall(
    brief: &PlateBrief,
    positions: u64,
    room: &Room,
    radius_mm: Option<f64>,
) -> Result<Shortfall> {
    let least_need_mm = |spacing_mm: f64| -> Result<f64> {
        pairs(positions)
            .into_iter()
            .map(|pair| need_mm(pair, spacing_mm))
            .try_fold(f64::INFINITY, |least, need| Ok(least.min(need?)))
    };
    let need = least_need_mm(room.spacing_mm)?;
    let across_mm = 2.0
        * (need.max(room.innermost_mm)
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
            .is_some_and(|&radius| least_need_mm(room.spacing_mm).is_ok_and(|need| need <= radius));
        if fits {
            low = middle;
        } else {
            high = middle;
        }
    }
    let mut kept: Vec<u64> = Vec::new();
    let mut sorted: Vec<u64> = brief.divisions.iter().map(|wish| wish.division).collect();
    sorted.sort_unstable();
    for division in sorted {
        let together = common_positions(kept.iter().copied().chain([division]));
        let fits = together.is_ok_and(|all| {
            pairs(all).into_iter().any(|pair| {
                need_mm(pair, room.spacing_mm)
                    .is_ok_and(|need| radius_mm.is_some_and(|radius| need <= radius))
            })
        });
        if fits {
            kept.push(division);
        }
    }
    let kind = match brief.outline {
        Outline::Disc { .. } => "diameter",
        Outline::Polygon { .. } => "across flats",
    };
    Ok(Shortfall {
        binding: vec![match radius_mm {
            Some(radius) => format!(
                "{positions} positions need a pitch radius of {need:.3} mm, and the outermost ring has {radius:.3} mm"
            ),
            None => format!("no ring fits inside the {kind}"),
        }],
        smallest_outline_mm: (across_mm <= MAX_LENGTH_MM
            && brief.keep_outs.is_empty()
            && brief.mounting_holes.is_empty())
        .then(|| (across_mm * 100.0 - 1.0e-6).ceil() / 100.0),
        largest_hole_mm: (low > 0.0).then_some(low / 100.0),
        largest_subset: kept.into_iter().map(Wish::Division).collect(),
        subset_proved: false,
    })
}

#[cfg(test)]
mod tests {
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
            let gap = station_gap_turns(&places, all);
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
