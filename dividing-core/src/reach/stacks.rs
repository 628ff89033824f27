//! What stacks hold: every sum of what their members hold.

use std::sync::Arc;

use super::fine_points::FinePoint;
use super::orientation_algebra::summands;
use super::orientation_set::{Coset, OrientationSet};
use super::setting::Setting;
use super::way::{Way, WayKind, WayMaker, ways_of_piece};
use crate::angle::Angle;
use crate::equipment::{Equipment, Stack, Workshop};
use crate::error::{Error, Result};
use crate::work::Meter;

/// Most combinations of the ways of a stack's members.
const MOST_COMBINATIONS: usize = 10_000;

/// The members of one way of a stack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Members {
    /// One way of each member.
    pub(super) ways: Vec<Way>,
    /// For each member the sum of the sets of those after it.
    rests: Vec<OrientationSet>,
}

pub(super) fn ways(
    stack: &Stack,
    workshop: &Workshop,
    maker: WayMaker,
    all: &mut Vec<Way>,
    meter: &mut Meter<'_>,
) -> Result<()> {
    let mut combinations: Vec<Vec<Way>> = vec![Vec::new()];
    for member in &stack.members {
        let ways = member_ways(workshop, member, meter)?;
        let count = combinations.len().saturating_mul(ways.len());
        if count > MOST_COMBINATIONS {
            meter.leave_out(format!(
                "the members of the stack can be combined in more than {MOST_COMBINATIONS} ways: \
                 the first {MOST_COMBINATIONS} were looked at"
            ));
        }
        let mut longer = Vec::with_capacity(count.min(MOST_COMBINATIONS));
        for combination in &combinations {
            for way in ways.iter().take(MOST_COMBINATIONS - longer.len()) {
                let mut next: Vec<Way> = combination.clone();
                next.push(way.clone());
                longer.push(next);
            }
        }
        combinations = longer;
    }
    for (index, ways) in combinations.into_iter().enumerate() {
        meter.spend(1)?;
        let fine: Vec<_> = ways.iter().filter_map(|way| way.fine.clone()).collect();
        if fine.len() > 1 {
            // Two pieces that each list fine points: a bar across rings with a
            // sine bar. Other combinations of the same members remain.
            continue;
        }
        let mut zero = Angle::ZERO;
        let mut sum = OrientationSet::equally_spaced(1)?;
        let mut rests = Vec::with_capacity(ways.len());
        for way in ways.iter().rev() {
            rests.push(sum.clone());
            sum = sum.sum(&way.set, meter)?;
            zero = zero.checked_add(way.zero)?.within_turn();
        }
        rests.reverse();
        let full_order = match sum.as_one_coset(meter)? {
            Some(one) => {
                sum = OrientationSet::from_cosets([one])?;
                one.order()
            }
            None => sum.cosets().map(Coset::order).max().unwrap_or(1),
        };
        let kind = WayKind::Stack { combination: index };
        let mut way = maker.way(kind, sum, zero, full_order);
        way.fine = fine.into_iter().next();
        way.members = Some(Arc::new(Members { ways, rests }));
        all.push(way);
    }
    Ok(())
}

/// The ways of a member, without those that hold the same as one before.
fn member_ways(workshop: &Workshop, member: &str, meter: &mut Meter<'_>) -> Result<Vec<Way>> {
    let pieces = workshop.equipment();
    let index = pieces
        .iter()
        .position(|it| it.name() == member && !matches!(it, Equipment::Stack(_)))
        .ok_or_else(|| Error::internal("a stack of what the workshop lacks"))?;
    let mut kept: Vec<Way> = Vec::new();
    let mut ways = Vec::new();
    ways_of_piece(workshop, index, &mut ways, meter)?;
    for way in ways {
        let mut is_new = true;
        for other in &kept {
            is_new &= other.fine != way.fine || !way.set.holds_the_same(&other.set, meter)?;
        }
        if is_new {
            kept.push(way);
        }
    }
    Ok(kept)
}

/// One setting of each member that together present an element.
pub(super) fn settings(
    members: &Members,
    workshop: &Workshop,
    element: Angle,
    point: Option<FinePoint>,
    meter: &mut Meter<'_>,
) -> Result<Option<Setting>> {
    let mut rest = match point {
        Some(point) => element.checked_sub(point.angle()?)?,
        None => element,
    };
    let mut all = Vec::with_capacity(members.ways.len());
    for (way, after) in members.ways.iter().zip(&members.rests) {
        let Some((mine, others)) = split(&way.set, after, rest)? else {
            return Ok(None);
        };
        rest = others;
        let own_point = point.filter(|_| way.fine.is_some());
        let presented = match own_point {
            Some(point) => mine.checked_add(point.angle()?)?,
            None => mine,
        };
        let Some(setting) = way.setting_at(workshop, presented, own_point, meter)? else {
            return Ok(None);
        };
        all.push(setting);
    }
    Ok(Some(Setting::Stack { members: all }))
}

/// An orientation of one set and one of the other that add up to an angle.
fn split(
    first: &OrientationSet,
    second: &OrientationSet,
    sum: Angle,
) -> Result<Option<(Angle, Angle)>> {
    for mine in first.cosets() {
        for theirs in second.cosets() {
            if let Some(found) = summands(mine, theirs, sum)? {
                return Ok(Some(found));
            }
        }
    }
    Ok(None)
}
