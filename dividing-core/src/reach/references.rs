//! What references already on the part hold: stops from a common datum, and
//! steps from the last feature.

use std::collections::BTreeSet;

use super::orientation_set::{Coset, OrientationSet};
use super::setting::Setting;
use super::way::{Way, WayKind, WayMaker};
use crate::angle::Angle;
use crate::equipment::{PartReference, ReferenceFrom};
use crate::error::Result;
use crate::job::{Job, Start};
use crate::work::Meter;

pub(super) fn way(reference: &PartReference, maker: WayMaker) -> Result<Way> {
    let first = reference.angles.first().copied().unwrap_or_default();
    match reference.from {
        ReferenceFrom::CommonDatum => {
            let cosets: Result<Vec<Coset>> = reference
                .angles
                .iter()
                .map(|angle| Coset::new(*angle, 1))
                .collect();
            let set = OrientationSet::from_cosets(cosets?)?;
            let order = i128::try_from(reference.angles.len()).unwrap_or(1);
            Ok(maker.way(WayKind::FromCommonDatum, set, first.within_turn(), order))
        }
        ReferenceFrom::LastFeature => {
            // Step after step it visits every multiple of its angle.
            let order = first.denominator();
            let set = OrientationSet::equally_spaced(order)?;
            Ok(maker.way(WayKind::FromLastFeature, set, Angle::ZERO, order))
        }
    }
}

/// The stop of an angle from the datum.
pub(super) fn stop(reference: &PartReference, presented: Angle) -> Option<Setting> {
    let stop = reference
        .angles
        .iter()
        .position(|angle| angle.within_turn() == presented.within_turn());
    stop.map(|stop| Setting::AtStop { stop })
}

/// Steps from the last feature: the start, and the angle after so many steps of
/// each feature.
pub(super) struct Chain {
    pub(super) start: Angle,
    pub(super) steps: Vec<u32>,
    pub(super) elements: Vec<Angle>,
}

/// Lays a pattern on a chain, each feature one step on from the one before; a
/// clocked pattern's first feature is one step on from what it is clocked to.
///
/// There is no choice but the start. Feature i wants the start
/// `i·step − p_i`; the best free start is the middle of the shortest arc that
/// holds all of those, which is what the widest gap between them leaves over.
pub(super) fn chain(
    reference: &PartReference,
    job: &Job,
    pattern: &[Angle],
    meter: &mut Meter<'_>,
) -> Result<Chain> {
    let step = reference.angles.first().copied().unwrap_or_default();
    let before_first: u32 = match job.start() {
        Start::Clocked(_) => 1,
        Start::Free | Start::OnASetting => 0,
    };
    let mut laid = Chain {
        start: Angle::ZERO,
        steps: Vec::with_capacity(pattern.len()),
        elements: Vec::with_capacity(pattern.len()),
    };
    let mut wanted = BTreeSet::new();
    let mut first_wanted = Angle::ZERO;
    for (number, feature) in (before_first..).zip(pattern) {
        meter.spend(1)?;
        let element = step.checked_mul(i128::from(number))?.within_turn();
        let start = element.checked_sub(*feature)?.within_turn();
        if wanted.is_empty() {
            first_wanted = start;
        }
        wanted.insert(start);
        laid.steps.push(number);
        laid.elements.push(element);
    }
    laid.start = match job.start() {
        Start::Free => middle_of_shortest_arc(&wanted)?,
        Start::OnASetting => first_wanted,
        Start::Clocked(clocked) => (-clocked.at).within_turn(),
    };
    Ok(laid)
}

/// The middle of the shortest arc of the turn that holds all angles.
fn middle_of_shortest_arc(angles: &BTreeSet<Angle>) -> Result<Angle> {
    let (Some(&first), Some(&last)) = (angles.first(), angles.last()) else {
        return Ok(Angle::ZERO);
    };
    // The gap over zero, from the last round to the first.
    let mut widest = first.checked_add(Angle::FULL_TURN)?.checked_sub(last)?;
    let mut after = first;
    let mut previous = first;
    for &angle in angles.iter().skip(1) {
        let gap = angle.checked_sub(previous)?;
        if gap > widest {
            (widest, after) = (gap, angle);
        }
        previous = angle;
    }
    let arc = Angle::FULL_TURN.checked_sub(widest)?;
    Ok(after.checked_add(arc.checked_div(2)?)?.within_turn())
}
