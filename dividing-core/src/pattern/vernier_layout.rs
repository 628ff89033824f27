//! Holes and stations of a vernier pair for given positions.
//!
//! Position x, in units of 1/M turn, is a hole less a station: with m stations
//! to a hole space, one for each residue modulo m, and holes at multiples of m.
//! Where not all M positions are wanted, residues without a position need no
//! station, and places without one no hole; at most one pair is in line still.
//! A few positions may also be hung on each other one by one, which leaves wide
//! webs where they are close; then other pairs may be in line as well.

use std::collections::BTreeSet;

use num_integer::Integer;

use super::allocation::problem::needed_radius_mm;
use super::numbers::as_f64;
use super::vernier::{VernierPair, pairs, station_places};
use crate::error::Result;
use crate::work::Meter;

/// Most positions for which stations are moved to have holes in common.
const MOST_MATCHED: usize = 300;

/// Most positions for which holes and stations are hung on each other.
const MOST_HUNG: usize = 32;

/// The positions wanted.
#[derive(Clone, Debug)]
pub(super) struct Positions {
    /// M: every position is a multiple of 1/M turn.
    pub(super) all: u64,
    /// Which multiples; none when all of them are.
    pub(super) some: Option<BTreeSet<u64>>,
}

impl Positions {
    pub(super) fn count(&self) -> u64 {
        self.some
            .as_ref()
            .map_or(self.all, |some| some.len() as u64)
    }

    /// No fewer holes and stations: a·b lines need a·b at least the positions;
    /// for all M equal ones M | n·m besides.
    pub(super) fn least_total(&self) -> u64 {
        match &self.some {
            None => {
                let best = pairs(self.all).into_iter().next();
                best.map_or(0, |pair| pair.holes + pair.stations)
            }
            Some(some) => {
                let count = some.len() as u64;
                let root = count.isqrt();
                [root, root + 1]
                    .into_iter()
                    .filter(|&a| a > 0)
                    .map(|a| a + count.div_ceil(a))
                    .min()
                    .unwrap_or(0)
            }
        }
    }
}

/// Holes and stations.
#[derive(Clone, Debug)]
pub(super) struct Layout {
    /// Hole spaces of a turn.
    pub(super) places: u64,
    /// Which of the places are drilled, ascending.
    pub(super) holes: Vec<u64>,
    /// Places of the stations in units of 1/M turn, by their residues.
    pub(super) stations: Vec<u64>,
    /// Smallest angle between two holes or two stations, in turns.
    gap_turns: f64,
}

impl Layout {
    pub(super) fn total(&self) -> u64 {
        (self.holes.len() + self.stations.len()) as u64
    }

    /// Pitch radius for the webs of both plates.
    pub(super) fn need_mm(&self, spacing_mm: f64) -> f64 {
        needed_radius_mm(spacing_mm, self.gap_turns)
    }
}

/// One layout for each way to write M as a product.
///
/// # Errors
/// Those of the meter, a step for each position and way.
pub(super) fn layouts(wanted: &Positions, meter: &mut Meter<'_>) -> Result<Vec<Layout>> {
    let mut all = Vec::new();
    for pair in pairs(wanted.all) {
        meter.spend(1 + wanted.count() / 4)?;
        let layout = match &wanted.some {
            None => whole(pair)?,
            Some(some) => part(pair, some, meter)?,
        };
        all.push(layout);
    }
    if let Some(some) = &wanted.some
        && some.len() <= MOST_HUNG
    {
        meter.spend((some.len() * some.len() * some.len()) as u64 / 4)?;
        all.push(hung(wanted.all, some));
    }
    Ok(all)
}

/// One new hole or station for each position, on the station or hole from which
/// it stands farthest from its neighbours: never more than one beyond the
/// positions, and far apart where the positions are close.
fn hung(all: u64, some: &BTreeSet<u64>) -> Layout {
    let (mut holes, mut stations) = (vec![0_u64], Vec::<u64>::new());
    let apart = |place: u64, others: &[u64]| {
        let ways = others.iter().map(|other| {
            let way = (place + all - other) % all;
            way.min(all - way)
        });
        ways.min().unwrap_or(all)
    };
    let mut open = some.clone();
    loop {
        open.retain(|x| {
            let held = |hole: &u64| stations.contains(&((hole + all - x) % all));
            !holes.iter().any(held)
        });
        let best = open
            .iter()
            .flat_map(|x| {
                let new_hole = stations
                    .iter()
                    .map(move |station| (station + x) % all)
                    .map(|place| (apart(place, &holes), false, place));
                let new_station = holes
                    .iter()
                    .map(move |hole| (hole + all - x) % all)
                    .map(|place| (apart(place, &stations), true, place));
                new_hole.chain(new_station)
            })
            .max();
        match best {
            Some((_, true, place)) => stations.push(place),
            Some((_, false, place)) => holes.push(place),
            None => break,
        }
    }
    holes.sort_unstable();
    stations.sort_unstable();
    let pair = VernierPair {
        holes: all,
        stations: 1,
    };
    measured(pair, holes, stations)
}

fn whole(pair: VernierPair) -> Result<Layout> {
    let mut stations = station_places(pair)?;
    stations.sort_by_key(|place| place % pair.stations);
    Ok(measured(pair, (0..pair.holes).collect(), stations))
}

fn measured(pair: VernierPair, holes: Vec<u64>, stations: Vec<u64>) -> Layout {
    let gap_turns = least_gap_turns(&holes, pair.holes)
        .min(least_gap_turns(&stations, pair.holes * pair.stations));
    Layout {
        places: pair.holes,
        holes,
        stations,
        gap_turns,
    }
}

/// Smallest angle between two places, in turns; 1 for one place.
pub(super) fn least_gap_turns(places: &[u64], all: u64) -> f64 {
    let mut sorted = places.to_vec();
    sorted.sort_unstable();
    let last = sorted.first().map(|first| first + all);
    let least = sorted
        .iter()
        .zip(sorted.iter().skip(1).copied().chain(last))
        .map(|(a, b)| b - a)
        .min()
        .unwrap_or(all);
    as_f64(least) / as_f64(all)
}

/// Only the stations and holes that some position uses.
fn part(pair: VernierPair, some: &BTreeSet<u64>, meter: &mut Meter<'_>) -> Result<Layout> {
    let VernierPair { holes, stations } = pair;
    // Positions by residue, each as the multiple of m that it lies above it.
    let mut groups: Vec<(u64, Vec<u64>)> = Vec::new();
    let mut sorted: Vec<(u64, u64)> = some.iter().map(|x| (x % stations, x / stations)).collect();
    sorted.sort_unstable();
    for (residue, multiple) in sorted {
        match groups.last_mut() {
            Some((same, list)) if *same == residue => list.push(multiple),
            _ => groups.push((residue, vec![multiple])),
        }
    }
    let spread = station_places(pair)?;
    let matched = some.len() <= MOST_MATCHED;
    groups.sort_by_key(|(residue, list)| (std::cmp::Reverse(list.len()), *residue));
    let mut drilled: BTreeSet<u64> = BTreeSet::new();
    let mut places: Vec<u64> = Vec::new();
    for (residue, list) in &groups {
        // The station stands at its residue and some whole hole spaces; the
        // hole for a position is that many spaces less its multiple.
        let usual = spread
            .iter()
            .find(|&&place| place % stations == *residue)
            .map_or(0, |place| place / stations);
        let mut tried = vec![usual];
        if matched {
            for hole in &drilled {
                tried.extend(list.iter().map(|multiple| (hole + multiple) % holes));
            }
            tried.sort_unstable();
            tried.dedup();
            meter.spend(1 + (tried.len() * list.len()) as u64 / 16)?;
        }
        let new_holes = |spaces: u64| {
            let hole = |multiple: &u64| (spaces + holes - multiple % holes) % holes;
            list.iter()
                .filter(|it| !drilled.contains(&hole(it)))
                .count()
        };
        // Few new holes, then far from the other stations.
        let all = holes * stations;
        let apart = |spaces: u64| {
            let place = spaces * stations + residue;
            let ways = places.iter().map(|other| {
                let way = (place + all - other) % all;
                way.min(all - way)
            });
            ways.min().unwrap_or(all)
        };
        let best = tried
            .into_iter()
            .min_by_key(|&spaces| (new_holes(spaces), std::cmp::Reverse(apart(spaces)), spaces))
            .unwrap_or(usual);
        drilled.extend(
            list.iter()
                .map(|multiple| (best + holes - multiple % holes) % holes),
        );
        places.push(best * stations + residue);
    }
    places.sort_by_key(|place| place % stations);
    // What was laid out as station less hole is turned round.
    let all = holes * stations;
    let turned = |place: u64, of: u64| (of - place) % of;
    let mut drilled: Vec<u64> = drilled
        .into_iter()
        .map(|hole| turned(hole, holes))
        .collect();
    drilled.sort_unstable();
    let places = places.into_iter().map(|place| turned(place, all)).collect();
    Ok(measured(pair, drilled, places))
}

/// The least common multiple, if it stays within a limit.
pub(super) fn common_multiple(numbers: impl Iterator<Item = u64>, most: u64) -> Option<u64> {
    numbers.into_iter().try_fold(1_u64, |all, n| {
        let n = n.max(1);
        (all / all.gcd(&n))
            .checked_mul(n)
            .filter(|&all| all <= most)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every position wanted has one pair in line and no position two, for all
    /// layouts of some lists, by trying every station with every hole.
    #[test]
    fn positions_wanted_have_one_pair_in_line() {
        for (all, list) in [
            (12_u64, vec![0_u64, 1, 5, 7]),
            (36, vec![0, 3, 4, 9, 20, 35]),
            (30, (0..30).filter(|x| x % 5 == 0 || x % 3 == 0).collect()),
            (7, vec![0, 3]),
            (100, (0..100).collect()),
        ] {
            let wanted = Positions {
                all,
                some: Some(list.iter().copied().collect()),
            };
            for layout in layouts(&wanted, &mut Meter::default()).unwrap() {
                let step = all / layout.places;
                for x in 0..all {
                    let mut in_line = 0;
                    for station in &layout.stations {
                        for hole in &layout.holes {
                            in_line += u64::from((hole * step + all - station) % all == x);
                        }
                    }
                    assert!(in_line <= 1 || layout.places == all, "{all} {layout:?} {x}");
                    assert!(in_line > 0 || !list.contains(&x), "{all} {layout:?} {x}");
                }
                assert!(layout.total() >= wanted.least_total());
            }
        }
    }

    #[test]
    fn a_list_needs_no_more_than_its_own_holes() {
        let wanted = Positions {
            all: 101,
            some: Some(BTreeSet::from([0, 17, 40])),
        };
        let least = layouts(&wanted, &mut Meter::default())
            .unwrap()
            .iter()
            .map(Layout::total)
            .min();
        // Three positions: 2 + 2 lines make four, 1 + 3 three.
        assert_eq!((least, wanted.least_total()), (Some(4), 4));
    }
}
