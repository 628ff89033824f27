//! The train nearest to a ratio, with the proof that nothing is nearer.

use std::cmp::Ordering;

use serde::Serialize;

use super::gear_set::GearSet;
use super::products::{Products, Side};
use super::ratio::GearRatio;
use super::search::TrainSearch;
use super::train::{MeshRule, Train};
use super::wide::compare_fractions;
use crate::error::{Error, ErrorKind, Result};
use crate::work::Meter;

/// The answer to "which train is nearest to this ratio".
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NearestTrain {
    /// The ratio asked for, exact.
    pub target: GearRatio,
    /// A nearest train, in the order that meshes best. Of several with the same
    /// ratio one of the fewest gears and then of the smallest driven product
    /// ([`TrainSearch::exact`] lists the others); of two ratios equally far below
    /// and above the smaller.
    pub train: Train,
    /// The train just as far on the other side of the target, if there is one.
    pub equally_near: Option<Train>,
    /// How far the train is from the target, in millionths of the target;
    /// positive when the train's ratio is greater.
    pub error_ppm: f64,
    /// Whether the train has the ratio exactly.
    pub exact: bool,
    /// Why nothing is nearer.
    pub proof: NearestProof,
}

/// The neighbours of the target among all ratios that can be made, and the work
/// that found them. Every comparison was made on whole numbers.
///
/// No train of the set has a ratio strictly between those of `below` and
/// `above`, unless it is the target itself; that can be checked without this
/// library by any list of all ratios.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct NearestProof {
    /// The train with the greatest ratio not above the target; none when every
    /// ratio lies above. For an exact answer that train.
    pub below: Option<Train>,
    /// The train with the smallest ratio not below the target; none when every
    /// ratio lies below. For an exact answer that train.
    pub above: Option<Train>,
    /// How many pairings of a driver side with a driven side the sweep placed
    /// below or above the target.
    pub pairings_placed: u64,
    /// How many of them had to be looked at one by one.
    pub pairings_compared: u64,
    /// Whether all trains asked for were covered. If not, the budget ran out and
    /// the answer is the best of those placed.
    pub complete: bool,
}

/// The best train on one side of the target, with its products.
struct Found {
    drivers: u64,
    driven: u64,
    train: Train,
}

struct Sweep<'s> {
    set: &'s GearSet,
    mesh: MeshRule,
    target: GearRatio,
    target_f64: f64,
    below: Option<Found>,
    /// An exact train is kept here.
    above: Option<Found>,
    exact: bool,
    placed: u64,
    compared: u64,
}

/// Ratios between which something nearer than the best so far could lie.
#[derive(Clone, Copy)]
struct Window {
    low: f64,
    high: f64,
}

impl Window {
    /// Whether some whole number from `least` to `most` could, over this driven
    /// product, lie in the window.
    #[inline]
    fn may_hold(self, driven: f64, least: f64, most: f64) -> bool {
        // Adding and taking away 3·2⁵¹ rounds a double below 2⁵⁰ to a whole number.
        const ROUNDER: f64 = 6_755_399_441_055_744.0;
        // Plain comparisons, since no value here is a NaN and the methods of f64
        // that mind one keep the compiler from judging several rows at once.
        let (upper, lower) = (self.high * driven, self.low * driven);
        let upper = if upper < most { upper } else { most };
        let lower = if lower > least { lower } else { least };
        let nearest = (upper + ROUNDER) - ROUNDER;
        let floor = nearest - if nearest > upper { 1.0 } else { 0.0 };
        floor >= lower
    }
}

/// Finds the nearest train of a prepared set.
pub(super) fn nearest_train(
    search: &TrainSearch,
    target: GearRatio,
    meter: &mut Meter<'_>,
) -> Result<NearestTrain> {
    let mut sweep = Sweep {
        set: search.set(),
        mesh: search.mesh(),
        target,
        target_f64: target.to_f64(),
        below: None,
        above: None,
        exact: false,
        placed: 0,
        compared: 0,
    };
    let mut complete = search.complete();
    let mut stopped = None;
    for level in search.levels() {
        if let Err(stop) = sweep.run(level, meter) {
            complete = false;
            stopped = Some(stop);
            break;
        }
        if sweep.exact {
            // Longer trains cannot be nearer, and come later in the list.
            complete = true;
            break;
        }
    }
    sweep.answer(complete, stopped)
}

impl Sweep<'_> {
    /// Whether `drivers/driven` is below the target, exactly.
    fn is_below(&self, drivers: u64, driven: u64) -> bool {
        let (numerator, denominator) = self.target.terms();
        compare_fractions(drivers.into(), driven.into(), numerator, denominator) == Ordering::Less
    }

    /// The ratios outside which no pairing can be as near to the target as the
    /// best on its side, wide enough for every rounding.
    fn window(&self) -> Window {
        // The best ratio and its product with a driven side carry three roundings
        // of 2⁻⁵³ each, at most.
        const MARGIN: f64 = 1.0e-14;
        let of = |best: &Option<Found>, none: f64| {
            best.as_ref()
                .map_or(none, |found| found.train.ratio().to_f64())
        };
        Window {
            low: of(&self.below, 0.0) * (1.0 - MARGIN),
            high: of(&self.above, f64::INFINITY) * (1.0 + MARGIN),
        }
    }

    /// Sweeps the driven products of one list. A product of teeth is a whole
    /// number, and once a good train is known the driver products that would do
    /// better with a given driven product lie in so narrow a window that it
    /// seldom holds a whole number at all: nearly every driven side is done with
    /// after two multiplications. The others are looked at closely.
    fn run(&mut self, level: &Products, meter: &mut Meter<'_>) -> Result<()> {
        const ROWS_AT_ONCE: usize = 32;
        let real = level.products_f64();
        let (Some(&least), Some(&most)) = (real.first(), real.last()) else {
            return Ok(());
        };
        let mut window = self.window();
        for (number, rows) in real.chunks(ROWS_AT_ONCE).enumerate() {
            let compared = self.compared;
            // Without a branch, so that several rows are judged in one go.
            let any = rows.iter().fold(false, |any, &driven| {
                any | window.may_hold(driven, least, most)
            });
            if any {
                for (offset, &driven) in rows.iter().enumerate() {
                    if window.may_hold(driven, least, most) {
                        let nearer = self.look(level, number * ROWS_AT_ONCE + offset);
                        if self.exact {
                            // Nothing is nearer, here or in longer trains.
                            return Ok(());
                        }
                        if nearer {
                            window = self.window();
                        }
                    }
                }
            }
            self.placed += rows.len() as u64 * real.len() as u64;
            meter.spend(rows.len() as u64 + self.compared - compared)?;
        }
        Ok(())
    }

    /// Looks closely at the driver products around the target for one driven side;
    /// says whether one was nearer than the best so far.
    fn look(&mut self, level: &Products, row: usize) -> bool {
        let sides = level.sides();
        let driven = sides[row];
        // A guess in doubles, then put right exactly.
        let scaled_target = self.target_f64 * level.products_f64()[row];
        let mut crossing = level
            .products_f64()
            .partition_point(|&product| product < scaled_target);
        let below = |place: usize| self.is_below(sides[place].product(), driven.product());
        while crossing > 0 && !below(crossing - 1) {
            crossing -= 1;
        }
        while crossing < sides.len() && below(crossing) {
            crossing += 1;
        }
        let (lower, upper) = sides.split_at(crossing);
        let rules = (level, self.set, self.mesh);
        let upper = upper.iter();
        let (looked_at, nearer_above) = walk(&mut self.above, upper, driven, Ordering::Less, rules);
        self.compared += looked_at;
        if nearer_above {
            let above = self.above.as_ref();
            self.exact = above.is_some_and(|above| above.train.ratio() == self.target);
        }
        if self.exact {
            return true;
        }
        let lower = lower.iter().rev();
        let (looked_at, nearer_below) =
            walk(&mut self.below, lower, driven, Ordering::Greater, rules);
        self.compared += looked_at;
        nearer_above || nearer_below
    }

    fn answer(self, complete: bool, stopped: Option<Error>) -> Result<NearestTrain> {
        let exact = self.exact;
        let above = self.above.map(|found| found.train);
        let below = if exact {
            above
        } else {
            self.below.map(|found| found.train)
        };
        let (train, equally_near) = match (below, above) {
            (Some(below), Some(above)) => {
                match self.target.compare_distances(below.ratio(), above.ratio()) {
                    Ordering::Less => (below, None),
                    Ordering::Greater => (above, None),
                    Ordering::Equal if exact => (above, None),
                    Ordering::Equal => (below, Some(above)),
                }
            }
            (Some(only), None) | (None, Some(only)) => (only, None),
            (None, None) => {
                return Err(stopped.unwrap_or_else(|| {
                    Error::new(
                        ErrorKind::NotFound,
                        "no train can be made of this gear set under this mesh rule; \
                         accepted: a set with at least one pair of gears that meshes",
                    )
                }));
            }
        };
        Ok(NearestTrain {
            target: self.target,
            train,
            equally_near,
            error_ppm: train.ratio().error_ppm(self.target),
            exact,
            proof: NearestProof {
                below,
                above,
                pairings_placed: self.placed,
                pairings_compared: self.compared,
                complete,
            },
        })
    }
}

/// Looks at the driver sides of one driven side, from the target outward, for as
/// long as they are nearer to it than the best so far. `nearer` is how the ratio
/// of a nearer pairing compares with the best. Returns
/// how many were looked at and whether one became the best.
fn walk<'p>(
    best: &mut Option<Found>,
    drivers: impl Iterator<Item = &'p Side>,
    driven: Side,
    nearer: Ordering,
    (level, set, mesh): (&Products, &GearSet, MeshRule),
) -> (u64, bool) {
    let mut looked_at = 0;
    for &drivers in drivers {
        // Products are below 2³⁰, so these fit.
        let order = best.as_ref().map_or(nearer, |best| {
            (drivers.product() * best.driven).cmp(&(best.drivers * driven.product()))
        });
        if order != nearer {
            break;
        }
        looked_at += 1;
        if !level.compatible(drivers, driven, set) {
            continue;
        }
        let train = Train::in_best_order(
            &level.gears(drivers, set)[..level.members()],
            &level.gears(driven, set)[..level.members()],
        );
        if mesh.admits(train.mesh_margin_teeth()) {
            *best = Some(Found {
                drivers: drivers.product(),
                driven: driven.product(),
                train,
            });
            // Those further out are not nearer.
            return (looked_at, true);
        }
    }
    (looked_at, false)
}
