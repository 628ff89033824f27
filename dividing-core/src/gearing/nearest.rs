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
    /// A nearest train. Of several with the same ratio the first in the order of
    /// [`ExactTrains`](super::ExactTrains); of two ratios equally far below and
    /// above the smaller.
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
    above: Option<Found>,
    placed: u64,
    compared: u64,
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
        if sweep.is_exact() {
            // Longer trains cannot be nearer, and come later in the list.
            complete = true;
            break;
        }
    }
    sweep.answer(complete, stopped)
}

impl Sweep<'_> {
    /// Whether an exact train was found; it is kept as the one above.
    fn is_exact(&self) -> bool {
        self.above
            .as_ref()
            .is_some_and(|above| above.train.ratio() == self.target)
    }

    /// Whether `drivers/driven` is below the target. Doubles decide where they
    /// are sure, whole numbers where they are not.
    #[inline]
    #[allow(
        clippy::cast_precision_loss,
        reason = "products of teeth are below 2³⁰ and exact as doubles"
    )]
    fn is_below(&self, drivers: u64, driven: u64, scaled_target: f64) -> bool {
        // The scaled target carries at most four roundings of 2⁻⁵³ each.
        const SURE: f64 = 1.0e-15;
        let gap = drivers as f64 - scaled_target;
        if gap.abs() > SURE * scaled_target {
            return gap < 0.0;
        }
        let (numerator, denominator) = self.target.terms();
        compare_fractions(drivers.into(), driven.into(), numerator, denominator) == Ordering::Less
    }

    /// Sweeps one list against itself. Driven products ascend, so the driver
    /// product where the ratio passes the target only moves upward; the nearest
    /// pairings stand on either side of it.
    fn run(&mut self, level: &Products, meter: &mut Meter<'_>) -> Result<()> {
        const ROWS_BETWEEN_PAYMENTS: u64 = 64;
        let sides = level.sides();
        let mut crossing = 0;
        let mut unpaid_rows = 0;
        let mut paid = self.compared;
        for &driven in sides {
            let product = driven.product();
            #[allow(
                clippy::cast_precision_loss,
                reason = "products of teeth are below 2³⁰ and exact as doubles"
            )]
            let scaled_target = self.target_f64 * product as f64;
            while sides
                .get(crossing)
                .is_some_and(|side| self.is_below(side.product(), product, scaled_target))
            {
                crossing += 1;
            }
            let (lower, upper) = sides.split_at(crossing);
            self.compared += walk(
                &mut self.above,
                upper.iter(),
                driven,
                Ordering::Less,
                (level, self.set, self.mesh),
            );
            self.compared += walk(
                &mut self.below,
                lower.iter().rev(),
                driven,
                Ordering::Greater,
                (level, self.set, self.mesh),
            );
            self.placed += sides.len() as u64;
            unpaid_rows += 1;
            if unpaid_rows == ROWS_BETWEEN_PAYMENTS {
                meter.spend(unpaid_rows + self.compared - paid)?;
                unpaid_rows = 0;
                paid = self.compared;
            }
        }
        meter.spend(unpaid_rows + self.compared - paid)
    }

    fn answer(self, complete: bool, stopped: Option<Error>) -> Result<NearestTrain> {
        let exact = self.is_exact();
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

/// Looks at the driver sides of one driven side, from the crossing outward, for
/// as long as they are nearer to the target than the best so far or as near.
/// `nearer` is how the ratio of a nearer pairing compares with the best. Returns
/// how many were looked at.
#[inline]
fn walk<'p>(
    best: &mut Option<Found>,
    drivers: impl Iterator<Item = &'p Side>,
    driven: Side,
    nearer: Ordering,
    (level, set, mesh): (&Products, &GearSet, MeshRule),
) -> u64 {
    let mut looked_at = 0;
    for &side in drivers {
        let (product, over) = (side.product(), driven.product());
        let mut as_near = false;
        if let Some(best) = best.as_ref() {
            // Products are below 2³⁰, so these fit.
            let order = (product * best.driven).cmp(&(best.drivers * over));
            as_near = order == Ordering::Equal;
            if !as_near && order != nearer {
                break;
            }
        }
        looked_at += 1;
        if !level.compatible(side, driven, set) {
            continue;
        }
        let train = Train::in_best_order(
            &level.gears(side, set)[..level.members()],
            &level.gears(driven, set)[..level.members()],
        );
        if !mesh.admits(train.mesh_margin_teeth()) {
            continue;
        }
        let behind = as_near
            && best
                .as_ref()
                .is_some_and(|best| best.train.listing_key() <= train.listing_key());
        if !behind {
            *best = Some(Found {
                drivers: product,
                driven: over,
                train,
            });
        }
    }
    looked_at
}
