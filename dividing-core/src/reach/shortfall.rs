//! Why something cannot be reached exactly, and what would supply it.

use num_integer::Integer;
use serde::{Deserialize, Serialize};

use super::blocks::{VeeSeat, vee_seat};
use super::shortfall_of_devices as devices;
use super::suppliers::{Supplier, SupplierKind, in_order};
use super::way::{Way, WayKind};
use crate::angle::{Angle, MAX_TERM};
use crate::equipment::{Equipment, PinPlate, Workshop};
use crate::error::{Error, Result};

/// A prime with its exponent.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PrimePower {
    /// The prime, or a factor too large to be taken apart here.
    pub prime: i128,
    /// Its exponent, at least 1.
    pub exponent: u32,
}

/// Why a way does not reach a pattern exactly.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shortfall {
    /// Equal parts of a turn that the pattern needs.
    pub needed_order: i128,
    /// Equal parts of a turn that the way holds, absent holes counted as there.
    pub held_order: i128,
    /// The prime powers of the needed order that the held one lacks; empty when
    /// only absent holes or the places of stations stand in the way.
    pub missing: Vec<PrimePower>,
    /// The reason as a sentence.
    pub reason: String,
    /// What would supply it, as a sentence.
    pub supply: String,
    /// What would supply it, ordered by how little it asks: the fewest parts to
    /// get, then the smallest. Plans list other methods on the same piece too.
    #[serde(default)]
    pub suppliers: Vec<Supplier>,
}

/// Trial division goes up to this; what is left then is given unfactored when
/// it may still be composite.
const LARGEST_TRIAL: i128 = 1_000_000;

/// The prime powers of a positive number.
pub(crate) fn prime_powers(number: i128) -> Vec<PrimePower> {
    let mut rest = number.max(1);
    let mut powers = Vec::new();
    let mut prime = 2;
    while prime <= LARGEST_TRIAL && prime * prime <= rest {
        let mut exponent = 0;
        while rest % prime == 0 {
            rest /= prime;
            exponent += 1;
        }
        if exponent > 0 {
            powers.push(PrimePower { prime, exponent });
        }
        prime += if prime == 2 { 1 } else { 2 };
    }
    if rest > 1 {
        powers.push(PrimePower {
            prime: rest,
            exponent: 1,
        });
    }
    powers
}

/// Equal parts of a turn that hold every angle from a reference on.
pub(crate) fn needed_order(angles: &[Angle], reference: Angle) -> Result<i128> {
    let mut order = 1_i128;
    for angle in angles {
        let denominator = angle.checked_sub(reference)?.denominator();
        if order % denominator != 0 {
            order = (order / order.gcd(&denominator))
                .checked_mul(denominator)
                .filter(|order| *order <= MAX_TERM)
                .ok_or_else(|| Error::overflow("a common denominator of all angles of the job"))?;
        }
    }
    Ok(order)
}

/// The reason why a way that was found not to be exact is not.
pub(super) fn shortfall(workshop: &Workshop, way: &Way, needed_order: i128) -> Shortfall {
    let held_order = way.full_order();
    let lacking = needed_order / needed_order.gcd(&held_order);
    let missing: Vec<PrimePower> = prime_powers(lacking)
        .into_iter()
        .map(|lacking| PrimePower {
            prime: lacking.prime,
            exponent: exponent_in(needed_order, lacking.prime),
        })
        .collect();
    let held = held_words(workshop, way);
    let (reason, mut suppliers) = if missing.is_empty() {
        gaps(workshop, way, &held, needed_order)
    } else {
        let factors: Vec<String> = missing.iter().map(power_text).collect();
        let reason = format!(
            "the pattern needs {needed_order} equal parts of a turn, {held}; missing: the factor {}",
            factors.join(" and ")
        );
        (reason, supply(workshop, way, needed_order))
    };
    in_order(&mut suppliers);
    let texts: Vec<&str> = suppliers.iter().map(|it| it.text.as_str()).collect();
    let supply = texts.join(", or ");
    Shortfall {
        needed_order,
        held_order,
        missing,
        reason,
        supply,
        suppliers,
    }
}

/// One part to get.
pub(super) fn one(kind: SupplierKind, size: i128, text: String) -> Vec<Supplier> {
    vec![Supplier {
        kind,
        text,
        parts: 1,
        size,
    }]
}

fn exponent_in(number: i128, prime: i128) -> u32 {
    let (mut rest, mut exponent) = (number, 0);
    while prime > 1 && rest % prime == 0 {
        rest /= prime;
        exponent += 1;
    }
    exponent.max(1)
}

fn power_text(power: &PrimePower) -> String {
    if power.exponent == 1 {
        power.prime.to_string()
    } else {
        format!("{}^{}", power.prime, power.exponent)
    }
}

/// What the way holds, as the second half of a sentence.
fn held_words(workshop: &Workshop, way: &Way) -> String {
    let order = way.full_order();
    match (way.kind(), workshop.equipment().get(way.equipment())) {
        (WayKind::SimpleIndexing { .. }, Some(Equipment::WormHead(head))) => {
            format!("this circle with {}:1 holds {order}", head.worm_ratio)
        }
        (WayKind::CompoundIndexing { .. } | WayKind::DifferentialIndexing { .. }, _) => {
            format!("the nearest move makes a multiple of 1/{order} turn")
        }
        (WayKind::DirectCircle { .. }, _) => format!("the circle has {order} holes"),
        (WayKind::Vernier, Some(Equipment::VernierIndexer(indexer))) => format!(
            "{} holes and {} stations hold {order}",
            indexer.circle.holes,
            indexer.stations.len()
        ),
        (WayKind::PinsOneSpan { span, .. }, _) => {
            format!("pins {span} apart on this ring hold {order}")
        }
        (WayKind::PinsMixedSpans { .. }, _) => format!("this ring holds {order}"),
        (WayKind::Dial, _) => format!("the graduations hold {order}"),
        (WayKind::BlockFlat | WayKind::BlockFlatAndVee { .. }, _) => {
            format!("the block holds {order}")
        }
        (kind, _) => devices::held_words(kind, order),
    }
}

/// Nothing is missing by number; holes or stations stand in the way.
fn gaps(workshop: &Workshop, way: &Way, held: &str, needed: i128) -> (String, Vec<Supplier>) {
    if let Some(found) = devices::gaps(workshop, way, held, needed) {
        return found;
    }
    match way.kind() {
        WayKind::Vernier => (
            format!(
                "{held} unequally spaced, and the {needed} equal parts needed are not among them"
            ),
            one(
                SupplierKind::Other,
                needed,
                format!(
                    "stations at complete residues of the hole spacing, so that holes times stations is a multiple of {needed}"
                ),
            ),
        ),
        _ => (
            format!("{held}, but some of the places that the pattern needs are absent"),
            one(
                SupplierKind::AbsentHoles,
                needed,
                "the absent holes, drilled or cleared".into(),
            ),
        ),
    }
}

/// What would supply the missing factors on this way.
fn supply(workshop: &Workshop, way: &Way, needed: i128) -> Vec<Supplier> {
    let equipment = workshop.equipment().get(way.equipment());
    let circle = |what: &str, holes: i128| {
        one(
            SupplierKind::Circle { holes },
            holes,
            format!("a {what} of {holes} holes or a multiple"),
        )
    };
    match (way.kind(), equipment) {
        (WayKind::DirectCircle { .. }, _) => {
            let mut all = circle("circle", needed);
            // The circle with a station more is a vernier indexer.
            if needed.gcd(&way.full_order()) > 1 {
                all.extend(stations(way.full_order(), needed));
            }
            all
        }
        (WayKind::Vernier, Some(Equipment::VernierIndexer(indexer))) => {
            let mut all = stations(indexer.circle.holes.into(), needed);
            all.extend(circle("circle", needed));
            all
        }
        (WayKind::BlockFlat, Some(Equipment::FacedBlock(block)))
            if (2 * i128::from(block.faces)) % needed == 0 =>
        {
            let mut all = vee_for(block.faces);
            all.extend(one(
                SupplierKind::Block { faces: needed },
                needed,
                format!("a block of {needed} faces or a multiple"),
            ));
            all
        }
        (WayKind::BlockFlat | WayKind::BlockFlatAndVee { .. }, _) => {
            let half = needed / 2;
            let text = if needed % 2 == 0 && half >= 3 && half % 2 == 0 {
                format!(
                    "a block of {needed} faces, or of {half} faces in a V-block that adds the half step"
                )
            } else {
                format!("a block of {needed} faces or a multiple")
            };
            one(SupplierKind::Block { faces: needed }, needed, text)
        }
        (
            WayKind::PinsOneSpan { .. } | WayKind::PinsMixedSpans { .. },
            Some(Equipment::PinPlate(plate)),
        ) => {
            let mut all = bar_laid_otherwise(plate, way.kind(), needed);
            all.extend(circle("ring", ring_for(plate, needed)));
            all
        }
        (_, Some(Equipment::WormHead(head))) => {
            let (turns, spindle) = (head.worm_ratio.numerator(), head.worm_ratio.denominator());
            let holes = needed.saturating_mul(spindle);
            circle("circle", holes / holes.gcd(&turns))
        }
        (WayKind::Dial, Some(Equipment::GraduatedDial(dial))) => {
            let (turns, table) = (dial.worm_ratio.numerator(), dial.worm_ratio.denominator());
            let graduations = needed.saturating_mul(table);
            let graduations = graduations / graduations.gcd(&turns);
            one(
                SupplierKind::Dial { graduations },
                graduations,
                format!("a dial of {graduations} graduations or a multiple"),
            )
        }
        (WayKind::PinsAcrossRings, Some(Equipment::PinPlate(plate))) => {
            circle("ring", ring_for(plate, needed))
        }
        (kind, _) => devices::supply(workshop, way, kind, needed),
    }
}

/// As many stations as make a circle hold the divisions needed.
fn stations(holes: i128, needed: i128) -> Vec<Supplier> {
    let stations = needed / needed.gcd(&holes);
    let text = if stations == 2 {
        format!(
            "2 stations for the pin, half a space of the {holes} holes apart, whole spaces added \
             as room needs"
        )
    } else {
        format!(
            "{stations} stations for the pin (or a multiple), each 1/{stations} of a space of the \
             {holes} holes further on, whole spaces added as room needs"
        )
    };
    one(SupplierKind::Stations { stations }, stations, text)
}

/// A V-block in which a block stands half a step on: the included angle is
/// `180° − 360°·j/faces` for an odd j, a usual angle if there is one.
fn vee_for(faces: u32) -> Vec<Supplier> {
    let adds_half = |angle: &Angle| matches!(vee_seat(faces, *angle), Ok(VeeSeat::Seats { steps_between }) if steps_between % 2 == 1);
    let usual = [90, 120, 60].map(|degrees| Angle::from_degrees(degrees, 1));
    let widest = Angle::new(i128::from(faces) - 2, 2 * i128::from(faces));
    let angle = usual.into_iter().chain([widest]).flatten().find(adds_half);
    angle.map_or(Vec::new(), |angle| {
        let text =
            format!("a V-block of {angle}, in which the block of {faces} faces adds the half step");
        one(SupplierKind::Other, 2, text)
    })
}

/// Equal parts of a turn that a ring of pins, three or more, serves: as many as
/// holes, twice as many with the bar either way up, and in whole quarters too
/// with a square as well.
fn served_by_pins(holes: i128, turns_over: bool, square: bool) -> i128 {
    match (turns_over, square) {
        (false, _) => holes,
        (true, false) => holes * 2,
        (true, true) => (holes * 2).lcm(&4),
    }
}

/// What the bar itself can still do on a full ring: lie either way up, or stand
/// upright by a square.
fn bar_laid_otherwise(plate: &PinPlate, kind: WayKind, needed: i128) -> Vec<Supplier> {
    let (WayKind::PinsOneSpan { circle, .. } | WayKind::PinsMixedSpans { circle }) = kind else {
        return Vec::new();
    };
    let holes = match plate.circles.get(circle) {
        Some(circle) if circle.is_full() && circle.holes >= 3 => i128::from(circle.holes),
        _ => return Vec::new(),
    };
    let serves = |turns_over, square| served_by_pins(holes, turns_over, square) % needed == 0;
    let text = match (plate.bar_turns_over, plate.square) {
        (false, square) if serves(true, square) => "the bar laid on the pins from below too",
        (true, false) if serves(true, true) => "a square, to stand the bar upright as well",
        (false, false) if serves(true, true) => {
            "the bar laid on the pins from below too, and stood upright by a square"
        }
        _ => return Vec::new(),
    };
    one(SupplierKind::Other, 1, text.into())
}

/// The smallest ring, three holes or more, that serves so many divisions.
fn ring_for(plate: &PinPlate, needed: i128) -> i128 {
    let serves = |holes| served_by_pins(holes, plate.bar_turns_over, plate.square);
    [4, 2, 1]
        .into_iter()
        .filter(|share| needed % share == 0)
        .flat_map(|share| (1..=3).map(move |times| needed / share * times))
        .filter(|holes| *holes >= 3 && serves(*holes) % needed == 0)
        .min()
        .unwrap_or(needed)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prime_powers_multiply_back() {
        for number in (1..2000).chain([999_999_999_989, 1_000_000_007 * 2, 1 << 40]) {
            let product: i128 = prime_powers(number)
                .iter()
                .map(|power| power.prime.pow(power.exponent))
                .product();
            assert_eq!(product, number);
        }
    }

    #[test]
    fn the_needed_order_is_the_common_denominator() {
        let angles: Vec<Angle> = ["0 deg", "17.5 deg", "61.25 deg", "200 deg"]
            .iter()
            .map(|text| text.parse().unwrap())
            .collect();
        assert_eq!(needed_order(&angles, Angle::ZERO).unwrap(), 288);
    }
}
