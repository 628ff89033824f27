//! Trains of exactly a given ratio.

use serde::Serialize;

use super::products::{Products, Side};
use super::ratio::GearRatio;
use super::search::TrainSearch;
use super::train::Train;
use crate::error::Result;
use crate::work::Meter;

/// Most trains that one question lists.
pub const MAX_TRAINS: usize = 100_000;

/// All trains of exactly one ratio.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ExactTrains {
    /// The trains, each in the order that meshes best. Trains that differ only
    /// in the order of drivers or of driven gears are one. Listed by fewest
    /// gears, then the largest mesh margin, then the fewest teeth in all, then
    /// the numbers of the row.
    pub trains: Vec<Train>,
    /// How many ordered rows these trains stand for, those that keep the mesh
    /// rule counted.
    pub rows: u64,
    /// Whether these are all: false when the budget ran out or
    /// [`MAX_TRAINS`] was reached.
    pub complete: bool,
}

/// Lists the trains of a prepared set with exactly this ratio.
pub(super) fn exact_trains(
    search: &TrainSearch,
    ratio: GearRatio,
    meter: &mut Meter<'_>,
) -> ExactTrains {
    let mut found = ExactTrains {
        trains: Vec::new(),
        rows: 0,
        complete: search.complete(),
    };
    for level in search.levels() {
        if sweep(search, level, ratio, meter, &mut found.trains).is_err() {
            found.complete = false;
            break;
        }
        if found.trains.len() >= MAX_TRAINS {
            found.trains.truncate(MAX_TRAINS);
            found.complete = false;
            break;
        }
    }
    found.trains.sort_unstable_by_key(Train::listing_key);
    found.rows = found
        .trains
        .iter()
        .map(|train| train.count_rows(search.mesh()))
        .sum();
    found
}

/// Both lists ascend, so one pass finds every pair of sides in the ratio.
fn sweep(
    search: &TrainSearch,
    level: &Products,
    ratio: GearRatio,
    meter: &mut Meter<'_>,
    trains: &mut Vec<Train>,
) -> Result<()> {
    let (numerator, denominator) = ratio.terms();
    let (Ok(numerator), Ok(denominator)) = (u64::try_from(numerator), u64::try_from(denominator))
    else {
        // Products of teeth are below 2³⁰, so no train has terms this large.
        return Ok(());
    };
    let sides = level.sides();
    let set = search.set();
    let mut rest = sides;
    for group in sides.chunk_by(|a, b| a.product() == b.product()) {
        let Some(first) = group.first() else { continue };
        meter.spend(group.len() as u64)?;
        if first.product() % denominator != 0 {
            continue;
        }
        let Some(wanted) = (first.product() / denominator).checked_mul(numerator) else {
            break;
        };
        let start = rest.partition_point(|side| side.product() < wanted);
        rest = rest.get(start..).unwrap_or(&[]);
        let equal = |side: &&Side| side.product() == wanted;
        let drivers = rest.iter().take_while(equal);
        for &drivers in drivers {
            for &driven in group {
                meter.spend(1)?;
                if !level.compatible(drivers, driven, set) {
                    continue;
                }
                let train = Train::in_best_order(
                    &level.gears(drivers, set)[..level.members()],
                    &level.gears(driven, set)[..level.members()],
                );
                if search.mesh().admits(train.mesh_margin_teeth()) {
                    trains.push(train);
                    if trains.len() >= MAX_TRAINS {
                        return Ok(());
                    }
                }
            }
        }
    }
    Ok(())
}
