//! What direct plates and vernier indexers hold.

use super::orientation_set::{Coset, OrientationSet};
use super::setting::Setting;
use super::way::{Way, WayKind, WayMaker, index_of};
use crate::angle::Angle;
use crate::equipment::{DirectPlate, HoleCircle, Sense, VernierIndexer};
use crate::error::Result;
use crate::work::Meter;

/// What a circle presents with the pin at a station: `angle(hole) − station`,
/// turned round for a clockwise device.
fn circle_set(circle: &HoleCircle, station: Angle, sense: Sense) -> Result<Vec<Coset>> {
    let first = circle.first_hole.checked_sub(station)?;
    let holes = i128::from(circle.holes);
    if circle.is_full() {
        return Ok(vec![Coset::new(sense.apply(first), holes)?]);
    }
    circle
        .present()
        .into_iter()
        .map(|hole| {
            let angle = first.checked_add(Angle::new(i128::from(hole), holes)?)?;
            Coset::new(sense.apply(angle), 1)
        })
        .collect()
}

/// The present hole that presents an angle at a station.
fn hole_of(
    circle: &HoleCircle,
    station: Angle,
    sense: Sense,
    presented: Angle,
) -> Result<Option<u32>> {
    let angle = sense
        .apply(presented)
        .checked_add(station)?
        .checked_sub(circle.first_hole)?;
    let hole = index_of(angle, circle.holes)?;
    Ok(hole.filter(|hole| !circle.absent.contains(hole)))
}

/// What the first present hole presents.
fn first_presented(circle: &HoleCircle, station: Angle, sense: Sense) -> Result<Angle> {
    let first = circle.present().first().copied().unwrap_or(0);
    let angle = circle
        .first_hole
        .checked_add(Angle::new(i128::from(first), i128::from(circle.holes))?)?
        .checked_sub(station)?;
    Ok(sense.apply(angle).within_turn())
}

pub(super) fn direct_ways(plate: &DirectPlate, maker: WayMaker, all: &mut Vec<Way>) -> Result<()> {
    for (index, circle) in plate.circles.iter().enumerate() {
        let set = OrientationSet::from_cosets(circle_set(circle, plate.station, plate.sense)?)?;
        let zero = first_presented(circle, plate.station, plate.sense)?;
        let kind = WayKind::DirectCircle { circle: index };
        let cost = 1 + circle.absent.len() as u64;
        all.push(
            maker
                .way(kind, set, zero, i128::from(circle.holes))
                .costing(cost),
        );
    }
    Ok(())
}

pub(super) fn hole(
    plate: &DirectPlate,
    circle: usize,
    presented: Angle,
) -> Result<Option<Setting>> {
    let Some(circle) = plate.circles.get(circle) else {
        return Ok(None);
    };
    let hole = hole_of(circle, plate.station, plate.sense, presented)?;
    Ok(hole.map(|hole| Setting::Hole {
        circle: circle.holes,
        hole,
    }))
}

pub(super) fn vernier_ways(
    indexer: &VernierIndexer,
    maker: WayMaker,
    all: &mut Vec<Way>,
    meter: &mut Meter<'_>,
) -> Result<()> {
    let mut cosets = Vec::new();
    for station in &indexer.stations {
        meter.spend(u64::from(indexer.circle.holes))?;
        cosets.extend(circle_set(&indexer.circle, *station, indexer.sense)?);
    }
    let mut set = OrientationSet::from_cosets(cosets)?;
    let full_order = match set.as_one_coset(meter)? {
        Some(one) => {
            set = OrientationSet::from_cosets([one])?;
            one.order()
        }
        None => {
            i128::from(indexer.circle.holes) * i128::try_from(indexer.stations.len()).unwrap_or(1)
        }
    };
    let station = indexer.stations.first().copied().unwrap_or_default();
    let zero = first_presented(&indexer.circle, station, indexer.sense)?;
    let cost = (indexer.stations.len() * (1 + indexer.circle.absent.len())) as u64;
    all.push(
        maker
            .way(WayKind::Vernier, set, zero, full_order)
            .costing(cost),
    );
    Ok(())
}

pub(super) fn hole_at_station(
    indexer: &VernierIndexer,
    presented: Angle,
) -> Result<Option<Setting>> {
    for (station, angle) in indexer.stations.iter().enumerate() {
        if let Some(hole) = hole_of(&indexer.circle, *angle, indexer.sense, presented)? {
            return Ok(Some(Setting::HoleAtStation { hole, station }));
        }
    }
    Ok(None)
}
