//! Why sine bars, angle gauge blocks, protractors, references and stacks do not
//! reach a pattern, and what would.

use num_integer::Integer;

use super::shortfall::{one, prime_powers};
use super::suppliers::{Supplier, SupplierKind};
use super::way::{Way, WayKind};
use crate::equipment::{Equipment, MAX_FACES, Workshop};

/// What the way holds, as the second half of a sentence.
pub(super) fn held_words(kind: WayKind, order: i128) -> String {
    match kind {
        WayKind::SineBar => {
            "of the angles of a sine bar only level and 30° are exact, all others are real numbers"
                .into()
        }
        WayKind::AngleBlocks => {
            format!("the angle gauge blocks go in steps of 1/{order} turn")
        }
        WayKind::Inclination => format!("the instrument shows {order}"),
        WayKind::FromCommonDatum => format!("the reference has {order} stops"),
        WayKind::FromLastFeature => format!("step after step the stop visits {order}"),
        WayKind::PinsAcrossRings => {
            "lines across two rings point at real angles, hardly ever at an exact one".into()
        }
        _ => format!("the members together hold {order}"),
    }
}

/// Why a way is not exact though no factor is missing by number, where these
/// devices have a reason of their own.
pub(super) fn gaps(
    workshop: &Workshop,
    way: &Way,
    held: &str,
    needed: i128,
) -> Option<(String, Vec<Supplier>)> {
    let equipment = workshop.equipment().get(way.equipment());
    match (way.kind(), equipment) {
        (WayKind::AngleBlocks, Some(Equipment::AngleBlocks(set))) => {
            let most: u32 = set.blocks.blocks().arcsec().iter().sum();
            let reason = format!(
                "{held}, but no further than {} either way, or not at every step",
                crate::plan::arcsec_reading(most)
            );
            // Faces so many that half a face step lies within the blocks.
            let faces = 1_296_000_u32.div_ceil(2 * most.max(1)).max(3);
            let text = format!(
                "a block of {faces} faces or more, the angle gauge blocks held on it as a stack"
            );
            let kind = SupplierKind::Member {
                places: faces.into(),
            };
            Some((reason, one(kind, faces.into(), text)))
        }
        (WayKind::FromCommonDatum | WayKind::FromLastFeature, _) => {
            let reason = format!("{held}, but not where the pattern needs them");
            Some((reason, supply(workshop, way, way.kind(), needed)))
        }
        (WayKind::SineBar | WayKind::PinsAcrossRings, _) => {
            Some((held.into(), supply(workshop, way, way.kind(), needed)))
        }
        _ => None,
    }
}

/// What would supply the missing factors.
pub(super) fn supply(workshop: &Workshop, way: &Way, kind: WayKind, needed: i128) -> Vec<Supplier> {
    match kind {
        WayKind::Inclination => one(
            SupplierKind::Resolution { parts: needed },
            needed,
            format!("an instrument that shows {needed} equal parts of a turn or a multiple"),
        ),
        WayKind::FromCommonDatum => one(
            SupplierKind::Stop,
            1,
            "a stop at every angle of the pattern, set with a device that holds it".into(),
        ),
        WayKind::FromLastFeature => one(
            SupplierKind::Stop,
            1,
            format!("a stop set to 1/{needed} turn, with a device that holds it"),
        ),
        WayKind::Stack { .. } => of_stack(workshop, way, needed),
        _ => circle_or_block(needed),
    }
}

/// A circle of holes, or a block where it can have so many faces.
fn circle_or_block(needed: i128) -> Vec<Supplier> {
    let holes = needed.max(2);
    let mut all = Vec::new();
    if (3..=i128::from(MAX_FACES)).contains(&needed) {
        all.extend(one(
            SupplierKind::Block { faces: needed },
            needed,
            format!("a block of {needed} faces or a multiple"),
        ));
    }
    all.extend(one(
        SupplierKind::Circle { holes },
        holes,
        format!("a circle of {holes} holes or a multiple"),
    ));
    all
}

/// For each member what would do in its place: the prime powers that the others
/// lack.
fn of_stack(workshop: &Workshop, way: &Way, needed: i128) -> Vec<Supplier> {
    let members = way.members();
    let mut all = Vec::new();
    for (index, member) in members.iter().enumerate() {
        let others = members
            .iter()
            .enumerate()
            .filter(|(other, way)| *other != index && way.fine_points().is_none());
        let held = others.fold(1_i128, |all, (_, way)| {
            // Only the part that the pattern needs, so that it stays small.
            all.lcm(&needed.gcd(&way.full_order()))
        });
        let places: i128 = prime_powers(needed)
            .iter()
            .map(|power| power.prime.pow(power.exponent))
            .filter(|power| held % power != 0)
            .product();
        if places == 1 {
            continue;
        }
        let name = workshop
            .equipment()
            .get(member.equipment())
            .map_or("", Equipment::name);
        all.extend(one(
            SupplierKind::Member { places },
            places,
            format!("in place of {name} a device of {places} equal parts of a turn or a multiple"),
        ));
    }
    all
}
