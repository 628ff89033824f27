//! A straight bar on two pins over a baseline.

use super::contributor::{Contributor, Distribution, InputUnit, Persistence};
use super::plunger::{HOLE_POSITION, over_lever};
use crate::equipment::{PinHold, PinInHole, PinPlate, Seating};
use crate::length::Length;
use crate::reach::BarPlace;

/// Distance between two pins of a ring, `2·r·sin(π·span/n)`, in millimetres.
///
/// ```
/// use dividing_core::accuracy::baseline_mm;
/// assert!((baseline_mm(40.0, 6, 3) - 80.0).abs() < 1e-12); // straight across
/// ```
#[must_use]
pub fn baseline_mm(radius_mm: f64, holes: u32, span: u32) -> f64 {
    2.0 * radius_mm * (std::f64::consts::PI * f64::from(span) / f64::from(holes)).sin()
}

/// What the contributors of one of the two pins are called.
struct BarPinNames {
    position: &'static str,
    diameter: &'static str,
    hole_diameter: &'static str,
    clearance: &'static str,
}

impl BarPinNames {
    const fn all(&self) -> [&'static str; 4] {
        [
            self.position,
            self.diameter,
            self.hole_diameter,
            self.clearance,
        ]
    }
}

/// A contributor of one of the two pins, looked at from its hole.
pub(super) struct BarPin {
    /// Whether it is the second pin's, which turns the bar the other way.
    pub(super) second: bool,
    /// What it is called whichever pin stands in the hole.
    pub(super) name: &'static str,
    /// Whether it is the place of the hole, a point in the plane.
    pub(super) is_position: bool,
}

/// What the clearance of a pin is called, whichever of the two it is.
pub(super) const PIN_CLEARANCE: &str = "clearance of the pin";

/// To which pin a contributor belongs, if to any.
pub(super) fn bar_pin(name: &str) -> Option<BarPin> {
    const NAMES: [&str; 4] = [
        HOLE_POSITION,
        "diameter of the pin",
        "diameter of the pin's hole",
        PIN_CLEARANCE,
    ];
    [(&FIRST, false), (&SECOND, true)]
        .into_iter()
        .find_map(|(names, second)| {
            let at = names.all().into_iter().position(|it| it == name)?;
            Some(BarPin {
                second,
                name: NAMES.get(at).copied()?,
                is_position: at == 0,
            })
        })
}

const FIRST: BarPinNames = BarPinNames {
    position: "hole position, first pin",
    diameter: "diameter of the first pin",
    hole_diameter: "diameter of the first pin's hole",
    clearance: "clearance of the first pin",
};

const SECOND: BarPinNames = BarPinNames {
    position: "hole position, second pin",
    diameter: "diameter of the second pin",
    hole_diameter: "diameter of the second pin's hole",
    clearance: "clearance of the second pin",
};

/// What turns a bar laid on two pins: each deviation normal to the bar, over
/// the baseline. The centring of the plate does not come in.
pub(crate) fn bar(
    plate: &PinPlate,
    pins: &PinInHole,
    zone_mm: f64,
    place: BarPlace,
    baseline_mm: f64,
) -> Vec<Contributor> {
    let level = matches!(place, BarPlace::LevelAbove | BarPlace::LevelBelow);
    let mut all = Vec::new();
    for names in [&FIRST, &SECOND] {
        all.push(over_lever(
            names.position,
            zone_mm / 2.0,
            baseline_mm,
            Distribution::UniformInDisc,
            Persistence::FixedForPlace,
        ));
        all.extend(pin_side(plate.pin_hold, pins, level, names, baseline_mm));
    }
    if plate.bar_straightness > Length::ZERO {
        all.push(over_lever(
            "straightness of the bar",
            plate.bar_straightness.mm(),
            baseline_mm,
            Distribution::Uniform,
            Persistence::NewAtSeating,
        ));
    }
    if let Some(levelling) = &plate.levelling {
        all.push(over_lever(
            "levelling of the bar",
            levelling.reading.mm(),
            levelling.travel.mm(),
            Distribution::Uniform,
            Persistence::NewAtSeating,
        ));
    }
    if !level && !plate.square_error.is_zero() {
        all.push(Contributor {
            name: "square".into(),
            limit: plate.square_error.to_radians_f64(),
            unit: InputUnit::Radian,
            sensitivity: 1.0,
            distribution: Distribution::Uniform,
            persistence: Persistence::FixedForJob,
            degrees_of_freedom: None,
        });
    }
    all
}

/// What one pin adds beyond the place of its hole.
///
/// A fixed pin touches the bar at its radius. A loose pin under a level bar lies
/// at the bottom of its hole: equal clearances shift both ends alike and cancel,
/// its own size counts in full and the hole's size by half. Under an upright bar
/// nothing seats a loose pin, so its clearance counts, unless it is always
/// pushed the same way.
///
/// A loose pin's own size counts as belonging to its hole: two features that use
/// a hole use its pin too, and share that error. That is right where every pin
/// keeps its hole. Where the same two pins are moved from hole to hole, limits and
/// budgets of a feature stay as they are, but features then share the pins'
/// difference: with the same pin first throughout pitches come out better than the
/// simulation says, with the two swapped at random worse, yet never beyond the
/// worst case. The sheet asks for the first.
fn pin_side(
    hold: PinHold,
    pins: &PinInHole,
    level: bool,
    names: &BarPinNames,
    baseline_mm: f64,
) -> Vec<Contributor> {
    // A share of a deviation of diameter moves the bar's edge.
    let diameter = |name, tolerance: Length, share: f64| {
        over_lever(
            name,
            tolerance.mm(),
            baseline_mm / share,
            Distribution::Uniform,
            Persistence::FixedForPlace,
        )
    };
    let size = |share| diameter(names.diameter, pins.pin_diameter_tolerance, share);
    let hole = diameter(names.hole_diameter, pins.hole_diameter_tolerance, 0.5);
    let seated = level || pins.seating == Seating::Biased;
    let all = match hold {
        PinHold::Fixed => vec![size(0.5)],
        PinHold::Loose if seated => vec![size(1.0), hole],
        PinHold::Loose => vec![
            size(0.5),
            over_lever(
                names.clearance,
                pins.greatest_clearance_mm() / 2.0,
                baseline_mm,
                Distribution::UniformInDisc,
                Persistence::NewAtSeating,
            ),
        ],
    };
    all.into_iter().filter(|it| it.limit > 0.0).collect()
}
