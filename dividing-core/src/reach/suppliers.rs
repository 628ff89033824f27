//! What would supply a missing division, ordered by how little it asks.

use num_integer::Integer;
use serde::{Deserialize, Serialize};

use super::shortfall::{Shortfall, prime_powers};
use super::way::{Way, WayKind};
use super::worm::{WormReach, find_differential};
use crate::angle::Angle;
use crate::equipment::{Equipment, Workshop, WormHead};
use crate::error::{ErrorKind, Result};
use crate::work::Meter;

/// One thing that would make a way, or another way of the same piece, exact.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Supplier {
    /// What it is.
    pub kind: SupplierKind,
    /// The same as a phrase.
    pub text: String,
    /// Parts that must be bought or made: none when the shop owns all of it.
    pub parts: u32,
    /// How large that part is: holes to drill, teeth, stations or faces.
    pub size: i128,
}

/// The sorts of suppliers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum SupplierKind {
    /// Compound indexing on circles owned.
    OwnedCircles,
    /// Differential indexing with gears owned.
    OwnedGears,
    /// One more change gear, for differential indexing with a simple train.
    ChangeGear {
        /// Its teeth.
        teeth: u32,
    },
    /// A hole circle, or a ring of a pin plate.
    Circle {
        /// Its holes, or a multiple of them.
        holes: i128,
    },
    /// Stations of a vernier indexer.
    Stations {
        /// How many, or a multiple.
        stations: i128,
    },
    /// A faced block.
    Block {
        /// Its faces, or a multiple.
        faces: i128,
    },
    /// A dial.
    Dial {
        /// Its graduations, or a multiple.
        graduations: i128,
    },
    /// Holes that are absent, drilled or cleared.
    AbsentHoles,
    /// Some other equipment.
    Other,
    /// A finer level or protractor.
    Resolution {
        /// Its readings in a turn, or a multiple of them.
        parts: i128,
    },
    /// A stop for a reference of the part.
    Stop,
    /// Another member of a stack.
    Member {
        /// Equal parts of a turn that it must hold, or a multiple.
        places: i128,
    },
}

/// Fewest and most teeth of a gear that one might buy or cut.
const TEETH_TO_BUY: std::ops::RangeInclusive<i128> = 15..=150;

/// Most moves on one circle, either side of the plain one, that are tried for a
/// new gear.
const MOST_MOVES: i128 = 1000;

/// Most change gears that are named.
const MOST_GEARS: usize = 3;

/// Adds to the suppliers of a way those of other methods on the same piece, and
/// puts them in order: the fewest parts to get first, then the smallest.
///
/// [`reach`](super::reach) names those of the way alone; a plan names all.
///
/// # Errors
/// The work limit; cancellation.
pub(crate) fn complete_suppliers(
    workshop: &Workshop,
    way: &Way,
    shortfall: &mut Shortfall,
    meter: &mut Meter<'_>,
) -> Result<()> {
    if let Some(Equipment::WormHead(head)) = workshop.equipment().get(way.equipment()) {
        // A move that is only the nearest is looked for where nothing owned is exact.
        let owned = matches!(way.kind(), WayKind::SimpleIndexing { .. });
        let (needed, all) = (shortfall.needed_order, &mut shortfall.suppliers);
        // Numbers that do not fit are no move of a crank: nothing to add.
        match of_head(head, needed, owned, all, meter) {
            Err(error) if error.kind() != ErrorKind::Overflow => return Err(error),
            _ => {}
        }
    }
    in_order(&mut shortfall.suppliers);
    Ok(())
}

/// The fewest parts first, then the smallest.
pub(super) fn in_order(suppliers: &mut [Supplier]) {
    suppliers.sort_by_key(|it| (it.parts, it.size, it.kind));
}

/// What other methods would do it: with what is owned, if that is to be looked for,
/// else with one part more.
fn of_head(
    head: &WormHead,
    needed: i128,
    owned: bool,
    all: &mut Vec<Supplier>,
    meter: &mut Meter<'_>,
) -> Result<()> {
    let step = Angle::new(1, needed)?;
    let reach = WormReach::new(head)?;
    let compound = if owned {
        let found = reach.compound(step, None, meter)?;
        found.settings.first().copied().map(|best| Supplier {
            kind: SupplierKind::OwnedCircles,
            text: format!(
                "compound indexing on the {}- and {}-hole circles owned",
                best.first.circle, best.second.circle
            ),
            parts: 0,
            size: best.holes().into(),
        })
    } else {
        None
    };
    all.extend(compound.or_else(|| second_circle(head, &reach, needed)));
    if head.change_gears.is_none() {
        return Ok(());
    }
    if owned && let Some(best) = find_differential(head, step, 1, meter)?.settings.first() {
        all.push(Supplier {
            kind: SupplierKind::OwnedGears,
            text: format!(
                "differential indexing with the gears {} owned, {} of {} a move",
                best.train, best.holes, best.place.holes
            ),
            parts: 0,
            size: best.train.total_teeth().into(),
        });
        return Ok(());
    }
    for teeth in one_more_gear(head, &reach, needed, meter)? {
        all.push(Supplier {
            kind: SupplierKind::ChangeGear { teeth },
            text: format!("a change gear of {teeth} teeth, for differential indexing"),
            parts: 1,
            size: teeth.into(),
        });
    }
    Ok(())
}

/// The smallest circle that compound indexing lacks beside one owned: with C the
/// denominator of R/needed, C must divide lcm(c1, c2), so that c2 is the product of
/// the prime powers of C that c1 does not hold. Where that is C itself simple
/// indexing does with the same circle, and nothing is named.
fn second_circle(head: &WormHead, reach: &WormReach, needed: i128) -> Option<Supplier> {
    let ratio = reach.worm_ratio();
    let denominator = needed.checked_mul(ratio.denominator())?;
    let simple = denominator / denominator.gcd(&ratio.numerator());
    let powers: Vec<i128> = prime_powers(simple)
        .iter()
        .map(|power| power.prime.pow(power.exponent))
        .collect();
    let (place, holes) = reach
        .circles()
        .iter()
        .map(|place| {
            let lacking = |power: &&i128| i128::from(place.holes) % **power != 0;
            (place, powers.iter().filter(lacking).product::<i128>())
        })
        .filter(|(_, holes)| (2..simple).contains(holes))
        .min_by_key(|(_, holes)| *holes)?;
    let plate = head.plates.get(place.plate)?;
    Some(Supplier {
        kind: SupplierKind::Circle { holes },
        text: format!(
            "a circle of {holes} holes or a multiple beside the {}-hole circle of {}{}, for \
             compound indexing",
            place.holes,
            plate.name,
            if place.back { " (back)" } else { "" }
        ),
        parts: 1,
        size: holes,
    })
}

/// The smallest gears that with one owned make a simple train for a step of
/// 1/needed: `g = ± F·a/b` and `c·(R − g) = needed·h`, so the new gear x is
/// `b·|R·c − needed·h|/(c·F)` as driver and `a·c·F/|R·c − needed·h|` as driven.
fn one_more_gear(
    head: &WormHead,
    reach: &WormReach,
    needed: i128,
    meter: &mut Meter<'_>,
) -> Result<Vec<u32>> {
    let Some(gears) = &head.change_gears else {
        return Ok(Vec::new());
    };
    let (fixed, fixed_over) = (
        gears.fixed_gearing.numerator(),
        gears.fixed_gearing.denominator(),
    );
    let ratio = reach.worm_ratio();
    let mut found = Vec::new();
    for place in reach.circles() {
        let circle = i128::from(place.holes);
        // All over the denominator of R: R·c − needed·h = rest/denominator.
        let whole = ratio.numerator() * circle;
        let Some(stride) = needed.checked_mul(ratio.denominator()) else {
            return Ok(found);
        };
        let unit = circle * fixed * ratio.denominator();
        // A simple train makes at most 150 teeth over the smallest gear owned.
        let least = gears.gears.teeth().first().map_or(1, |&it| i128::from(it));
        let reachable = TEETH_TO_BUY.end() * unit / (least * fixed_over) + 1;
        let middle = whole / stride;
        let first = Integer::div_floor(&(whole - reachable), &stride);
        let first = first.max(middle - MOST_MOVES).max(0);
        let last = Integer::div_floor(&(whole + reachable), &stride).min(middle + MOST_MOVES);
        for spaces in (first + 1)..=last {
            meter.spend(gears.gears.teeth().len() as u64)?;
            let rest = (whole - stride * spaces).abs() * fixed_over;
            if rest == 0 {
                continue;
            }
            for &owned in gears.gears.teeth() {
                let owned = i128::from(owned);
                for (above, below) in [(owned * rest, unit), (owned * unit, rest)] {
                    let (teeth, remainder) = above.div_rem(&below);
                    if remainder == 0
                        && TEETH_TO_BUY.contains(&teeth)
                        && let Ok(teeth) = u32::try_from(teeth)
                    {
                        found.push(teeth);
                    }
                }
            }
        }
    }
    found.sort_unstable();
    found.dedup();
    found.truncate(MOST_GEARS);
    Ok(found)
}
