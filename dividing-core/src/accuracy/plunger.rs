//! A pin in holes round an axis: plungers, vernier pins and crank pins.

use std::borrow::Cow;

use super::contributor::{Contributor, Distribution, InputUnit, Persistence};
use crate::equipment::{DirectPlate, PinInHole, Seating, VernierIndexer};
use crate::length::Length;

/// A contributor in millimetres, turned into an angle over a lever.
///
/// Linear while that is good enough: `limit/lever`. A point anywhere within the
/// limit of a place at the distance of the lever, or a straight edge raised by
/// the limit over the lever, turns exactly by `asin(limit/lever)` at most; a
/// limit that reaches the lever holds no angle at all, so half a turn.
pub(super) fn over_lever(
    name: impl Into<Cow<'static, str>>,
    limit_mm: f64,
    lever_mm: f64,
    distribution: Distribution,
    persistence: Persistence,
) -> Contributor {
    Contributor {
        name: name.into(),
        limit: limit_mm,
        unit: InputUnit::Millimetre,
        sensitivity: sensitivity(limit_mm, lever_mm, |ratio| {
            (ratio < 1.0).then(|| ratio.asin())
        }),
        distribution,
        persistence,
        degrees_of_freedom: None,
    }
}

/// A free pin within its clearance: exactly a chord, `2·asin(limit/(2·lever))`.
fn over_chord(name: &'static str, limit_mm: f64, lever_mm: f64) -> Contributor {
    Contributor {
        sensitivity: sensitivity(limit_mm, lever_mm, |ratio| {
            (ratio < 2.0).then(|| 2.0 * (ratio / 2.0).asin())
        }),
        ..over_lever(
            name,
            limit_mm,
            lever_mm,
            Distribution::UniformInDisc,
            Persistence::NewAtSeating,
        )
    }
}

/// Up to so many radians a length over its lever stands for its angle: there
/// `asin x` is within [`LINEAR_MODEL_TOLERANCE`](super::LINEAR_MODEL_TOLERANCE) of
/// x. Beyond, about 9.7°, the exact angle is taken.
pub(super) const LINEAR_UP_TO_RAD: f64 = 0.17;

/// Radians for a millimetre, so that the limit comes out right: linear up to
/// [`LINEAR_UP_TO_RAD`], else exact.
fn sensitivity(limit_mm: f64, lever_mm: f64, exact: impl Fn(f64) -> Option<f64>) -> f64 {
    let linear_rad = limit_mm / lever_mm;
    if linear_rad <= LINEAR_UP_TO_RAD {
        1.0 / lever_mm
    } else {
        exact(linear_rad).unwrap_or(std::f64::consts::PI) / limit_mm
    }
}

/// The names of contributors whose limits are so large that the exact angle was
/// taken.
pub(super) fn beyond_linear(all: &[Contributor]) -> impl Iterator<Item = String> + '_ {
    all.iter()
        .filter(|it| it.unit == InputUnit::Millimetre && it.limit_rad() > LINEAR_UP_TO_RAD)
        .map(|it| it.name.clone().into_owned())
}

/// What the contributors of a pin in one sort of hole are called.
pub(crate) struct PinNames {
    position: &'static str,
    clearance: &'static str,
    difference: &'static str,
}

impl PinNames {
    /// Whether a contributor is one of these.
    pub(super) fn has(&self, name: &str) -> bool {
        [self.position, self.clearance, self.difference].contains(&name)
    }
}

/// Pins in holes of every sort.
const PINS: [&PinNames; 6] = [
    &HOLE,
    &STATION,
    &PLATE_HOLE,
    &PART_HOLE,
    &CRANK_PIN_HOLE,
    &PLATE_PIN_HOLE,
];

/// Whether a contributor is toleranced as a diameter, of which its limit is half:
/// the zone of a hole, or the clearance of a free pin.
pub(super) fn is_half_a_diameter(name: &str) -> bool {
    name == BORE_CLEARANCE
        || PINS
            .iter()
            .any(|it| name == it.position || name == it.clearance)
}

/// Whether a contributor is the place of a hole at the pitch radius.
pub(super) fn is_at_the_pitch_radius(name: &str) -> bool {
    [&HOLE, &STATION, &PLATE_HOLE]
        .iter()
        .any(|it| name == it.position)
}

/// What the place of a hole is called.
pub(super) const HOLE_POSITION: &str = "hole position";

/// A pin in the holes of a plate on the spindle.
pub(crate) const HOLE: PinNames = PinNames {
    position: HOLE_POSITION,
    clearance: "pin clearance in the hole",
    difference: "difference of clearance between holes",
};

/// What the place of a station is called.
pub(super) const STATION_POSITION: &str = "station position";

/// A pin in the holes of the body.
pub(crate) const STATION: PinNames = PinNames {
    position: STATION_POSITION,
    clearance: "pin clearance in the station",
    difference: "difference of clearance between stations",
};

/// The crank pin in the plate of a worm head.
pub(crate) const PLATE_HOLE: PinNames = PinNames {
    position: "plate hole position",
    clearance: "pin clearance in the plate hole",
    difference: "difference of clearance between plate holes",
};

/// A pin through a hole that the part already has.
pub(super) const PART_HOLE: PinNames = PinNames {
    position: "position of the part's hole",
    clearance: "pin clearance in the part's hole",
    difference: "difference of clearance between holes of the part",
};

/// The crank pin in the first circle of compound indexing.
pub(super) const CRANK_PIN_HOLE: PinNames = PinNames {
    position: "position of the crank pin's hole",
    clearance: "clearance of the crank pin",
    difference: "difference of clearance between holes of the crank pin",
};

/// The pin that holds the plate, in the second circle.
pub(super) const PLATE_PIN_HOLE: PinNames = PinNames {
    position: "position of the plate pin's hole",
    clearance: "clearance of the plate's pin",
    difference: "difference of clearance between holes of the plate's pin",
};

/// Where the hole is, and where the pin lies in it.
///
/// A hole centre anywhere in a zone of diameter T (`zone_mm`) is off by at most T/2 along
/// the circle; a free pin lies anywhere within clearance/2. A biased pin takes
/// up the clearance on the same side everywhere, so that only the difference of
/// clearance between holes is left.
pub(super) fn pin_in_zone(
    pin: &PinInHole,
    zone_mm: f64,
    names: &PinNames,
    lever_mm: f64,
) -> Vec<Contributor> {
    let position = over_lever(
        names.position,
        zone_mm / 2.0,
        lever_mm,
        Distribution::UniformInDisc,
        Persistence::FixedForPlace,
    );
    let seating = match pin.seating {
        Seating::Free => over_chord(names.clearance, pin.greatest_clearance_mm() / 2.0, lever_mm),
        Seating::Biased => over_lever(
            names.difference,
            pin.hole_diameter_tolerance.mm(),
            lever_mm * 2.0,
            Distribution::Uniform,
            Persistence::FixedForPlace,
        ),
    };
    vec![position, seating]
}

/// The same for holes of a stated position tolerance.
pub(crate) fn pin_in_hole(pin: &PinInHole, names: &PinNames, lever_mm: f64) -> Vec<Contributor> {
    pin_in_zone(pin, pin.hole_position_tolerance.mm(), names, lever_mm)
}

/// What turns the holes of a plate that sits off the axis, all by one offset.
pub(super) const OFF_THE_AXIS: &str = "plate off the spindle axis";

/// What a loose bore of the plate is called.
const BORE_CLEARANCE: &str = "clearance of the plate's bore";

/// The plunger of a direct plate at a pitch radius.
pub(super) fn plunger(
    plate: &DirectPlate,
    pin: &PinInHole,
    zone_mm: f64,
    radius_mm: f64,
) -> Vec<Contributor> {
    let mut all = pin_in_zone(pin, zone_mm, &HOLE, radius_mm);
    if plate.eccentricity > Length::ZERO {
        // (e/r)·sin(θ − ψ) at a hole: a sinusoid at an unknown phase.
        all.push(over_lever(
            OFF_THE_AXIS,
            plate.eccentricity.mm(),
            radius_mm,
            Distribution::UShaped,
            Persistence::FixedForPlace,
        ));
    }
    if plate.bore_clearance > Length::ZERO {
        all.push(over_lever(
            BORE_CLEARANCE,
            plate.bore_clearance.mm() / 2.0,
            radius_mm,
            Distribution::UniformInDisc,
            Persistence::NewAtSeating,
        ));
    }
    all
}

/// The pin in the holes of the body.
pub(super) fn station_side(indexer: &VernierIndexer, pin: &PinInHole) -> PinInHole {
    PinInHole {
        hole_diameter: indexer.station_hole_diameter.unwrap_or(pin.hole_diameter),
        hole_position_tolerance: indexer
            .station_position_tolerance
            .unwrap_or(pin.hole_position_tolerance),
        // What is known of the body's holes stands above how the plate was drilled.
        drilled: match indexer.station_position_tolerance {
            Some(_) => None,
            None => pin.drilled.clone(),
        },
        ..pin.clone()
    }
}

/// The pin of a vernier indexer, through a hole of the circle and one of the body.
pub(super) fn vernier_pin(
    indexer: &VernierIndexer,
    pin: &PinInHole,
    radius_mm: f64,
) -> Vec<Contributor> {
    let station = station_side(indexer, pin);
    let zone_mm = pin.position_zone_mm(radius_mm);
    let station_zone_mm = station.position_zone_mm(radius_mm);
    let mut all = pin_in_zone(pin, zone_mm, &HOLE, radius_mm);
    all.extend(pin_in_zone(&station, station_zone_mm, &STATION, radius_mm));
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::accuracy::LINEAR_MODEL_TOLERANCE;

    #[test]
    fn the_linear_model_is_left_before_it_is_not_good_enough() {
        let off = |rad: f64| (rad.asin() - rad) / rad.asin();
        assert!(off(LINEAR_UP_TO_RAD) <= LINEAR_MODEL_TOLERANCE);
        assert!(off(LINEAR_UP_TO_RAD + 0.005) > LINEAR_MODEL_TOLERANCE);
        let of = |limit_mm| {
            over_lever(
                "hole",
                limit_mm,
                10.0,
                Distribution::Uniform,
                Persistence::FixedForPlace,
            )
        };
        assert!((of(1.7).limit_rad() - 0.17).abs() < 1e-15);
        assert!((of(5.0).limit_rad() - std::f64::consts::FRAC_PI_6).abs() < 1e-15);
        assert_eq!(beyond_linear(&[of(1.7), of(5.0)]).count(), 1);
    }
}
