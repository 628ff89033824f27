//! Measured holes: what is known of their place takes the stead of a tolerance.

use std::borrow::Cow;

use super::bar::bar_pin;
use super::contributor::{Contributor, Distribution, InputUnit, Persistence};
use super::registration::Registration;
use crate::angle::Angle;
use crate::equipment::{GraduatedDial, HoleCircle, MeasuredPlace, MeasuredRing, Sense};
use crate::inspection::{KnownDeviation, bar_deviation_rad};

/// The limit of a measured place is its expanded uncertainty at this coverage
/// factor (JCGM 100:2008, 6.3.3: about 95 % where the distribution is normal).
pub(super) const COVERAGE_FACTOR: f64 = 2.0;

const NO_UNCERTAINTY: &str = "uncertainty of the measured places (standard_uncertainty_arcsec)";
const NO_RADIAL: &str = "how far out the measured holes stand (radial, radial_uncertainty)";

/// What a measured hole, face or reading is called among the contributors.
pub(super) const MEASURED_PLACE: &str = "measured place, expanded uncertainty";
/// A station of a vernier indexer.
pub(super) const MEASURED_STATION: &str = "measured station, expanded uncertainty";
/// The hole of the crank pin.
pub(super) const MEASURED_PLATE_HOLE: &str = "measured plate hole, expanded uncertainty";
/// The hole of the pin that holds the plate in compound indexing.
const MEASURED_PLATE_PIN_HOLE: &str = "measured hole of the plate's pin, expanded uncertainty";

/// 1 for what grows counter-clockwise, −1 for what grows clockwise.
pub(super) const fn sign(sense: Sense) -> f64 {
    match sense {
        Sense::CounterClockwise => 1.0,
        Sense::Clockwise => -1.0,
    }
}

/// The contributor of a known value: its expanded uncertainty.
pub(super) fn expanded(
    name: impl Into<Cow<'static, str>>,
    standard_uncertainty: f64,
    unit: InputUnit,
    sensitivity: f64,
) -> Contributor {
    Contributor {
        name: name.into(),
        limit: COVERAGE_FACTOR * standard_uncertainty,
        unit,
        sensitivity,
        distribution: Distribution::Normal {
            sigmas_at_limit: COVERAGE_FACTOR,
        },
        persistence: Persistence::FixedForPlace,
        degrees_of_freedom: None,
    }
}

/// Adds what is known of a place, and what is left uncertain of it; `turns` is by
/// how much the part turns for the place's own turn.
pub(super) fn add_place(
    place: &MeasuredPlace,
    turns: f64,
    name: &'static str,
    found: &mut Registration,
) {
    add_known(
        place.deviation_rad(),
        place.standard_uncertainty_rad(),
        turns,
        name,
        found,
    );
}

fn add_known(
    deviation_rad: f64,
    standard_uncertainty_rad: Option<f64>,
    turns: f64,
    name: &'static str,
    found: &mut Registration,
) {
    found.known_rad += turns * deviation_rad;
    found.measured = true;
    match standard_uncertainty_rad {
        Some(uncertainty) => {
            let own = expanded(name, uncertainty, InputUnit::Radian, turns.abs());
            found.contributors.push(own);
        }
        None => note(NO_UNCERTAINTY, found),
    }
}

fn note(lacking: &str, found: &mut Registration) {
    if !found.unknown.iter().any(|it| it == lacking) {
        found.unknown.push(lacking.into());
    }
}

/// Adds the hole of the crank pin: behind the worm its turn is divided by so
/// many turns of the crank for one of the part.
pub(super) fn add_crank_pin(place: &MeasuredPlace, crank_turns: f64, found: &mut Registration) {
    add_place(place, 1.0 / crank_turns, MEASURED_PLATE_HOLE, found);
}

/// What was measured of the hole in which the pin stands that holds the plate.
/// The plate turns forward over it, so that it stands as many holes behind.
pub(super) fn plate_pin_place(ring: &MeasuredRing, holes_moved: u32) -> Option<&MeasuredPlace> {
    ring.at((ring.places - holes_moved.min(ring.places)) % ring.places.max(1))
}

/// Adds the hole of the pin that holds the plate: a hole further on leaves the
/// plate, and the crank with it, as much further back.
pub(super) fn add_plate_pin(place: &MeasuredPlace, crank_turns: f64, found: &mut Registration) {
    add_place(place, -1.0 / crank_turns, MEASURED_PLATE_PIN_HOLE, found);
}

/// What a measured table is off by at a reading, in the sense in which its
/// readings grow; between measured readings only where the table says how far it
/// may stand off the straight line there.
pub(crate) fn measured_reading(dial: &GraduatedDial, table: Angle) -> Option<KnownReading> {
    let known = dial.measured.as_ref()?.interpolated(table)?;
    let off_the_line = match (known.at_a_place, dial.between_measured) {
        (true, _) => Angle::ZERO,
        (false, limit) => limit?,
    };
    Some(KnownReading {
        deviation_rad: known.deviation_rad,
        standard_uncertainty_rad: known.standard_uncertainty_rad,
        off_the_line,
    })
}

/// What is known of a reading of a table.
pub(crate) struct KnownReading {
    deviation_rad: f64,
    standard_uncertainty_rad: Option<f64>,
    /// How far it may stand off the line between two measured ones.
    off_the_line: Angle,
}

impl KnownReading {
    /// Its deviation with the standard uncertainty, that of the line included:
    /// uniform within its limit (JCGM 100:2008, 4.3.7).
    pub(crate) fn known(&self) -> KnownDeviation {
        let line_rad = self.off_the_line.to_radians_f64() / 3.0_f64.sqrt();
        let places_rad = self.standard_uncertainty_rad.unwrap_or(0.0);
        KnownDeviation {
            deviation_rad: self.deviation_rad,
            standard_uncertainty_rad: places_rad.hypot(line_rad),
        }
    }

    pub(super) fn add_to(&self, sense: Sense, found: &mut Registration) {
        add_known(
            self.deviation_rad,
            self.standard_uncertainty_rad,
            sign(sense),
            MEASURED_PLACE,
            found,
        );
        if !self.off_the_line.is_zero() {
            found.contributors.push(Contributor {
                name: "table between measured readings".into(),
                limit: self.off_the_line.to_radians_f64(),
                unit: InputUnit::Radian,
                sensitivity: 1.0,
                distribution: Distribution::Uniform,
                persistence: Persistence::FixedForPlace,
                degrees_of_freedom: None,
            });
        }
    }
}

/// A hole with a pin in it, and what was measured of it.
pub(super) struct BarHole<'c> {
    place: Option<&'c MeasuredPlace>,
    radius_mm: f64,
    angle_rad: f64,
    sense: Sense,
}

impl<'c> BarHole<'c> {
    /// The hole, where its circle has a radius.
    pub(super) fn new(circle: &'c HoleCircle, sense: Sense, hole: u32) -> Option<Self> {
        let turns = f64::from(hole) / f64::from(circle.holes.max(1));
        Some(Self {
            place: circle.measured.as_ref().and_then(|it| it.at(hole)),
            radius_mm: circle.pitch_radius?.mm(),
            angle_rad: circle.first_hole.to_radians_f64() + std::f64::consts::TAU * turns,
            sense,
        })
    }

    fn centre_mm(&self, further_out_mm: f64, further_round_rad: f64) -> [f64; 2] {
        let radius_mm = self.radius_mm + further_out_mm;
        let (sin, cos) = (sign(self.sense) * (self.angle_rad + further_round_rad)).sin_cos();
        [radius_mm * cos, radius_mm * sin]
    }

    fn nominal_mm(&self) -> [f64; 2] {
        self.centre_mm(0.0, 0.0)
    }

    fn measured_mm(&self) -> [f64; 2] {
        self.place.map_or_else(
            || self.nominal_mm(),
            |place| {
                let out_mm = place.radial.map_or(0.0, |it| it.mm());
                self.centre_mm(out_mm, place.deviation_rad())
            },
        )
    }

    /// Standard uncertainty of a place across a bar along a direction.
    fn across_mm(&self, place: &MeasuredPlace, along: [f64; 2]) -> Result<f64, &'static str> {
        let angle_rad = place.standard_uncertainty_rad().ok_or(NO_UNCERTAINTY)?;
        let radial = place.radial_uncertainty.ok_or(NO_RADIAL)?;
        let [x, y] = self.nominal_mm().map(|it| it / self.radius_mm);
        let (out, round) = (x * along[1] - y * along[0], x * along[0] + y * along[1]);
        Ok((radial.mm() * out).hypot(angle_rad * self.radius_mm * round))
    }
}

/// Puts what was measured of the holes of a bar's two pins in the stead of their
/// tolerance: where the bar points, exactly from the centres, and how uncertain
/// each hole leaves it across the bar, over the baseline.
pub(super) fn add_bar(pins: &[BarHole<'_>; 2], found: &mut Registration) {
    if pins.iter().all(|pin| pin.place.is_none()) {
        return;
    }
    let [first, second] = pins;
    let nominal = [first.nominal_mm(), second.nominal_mm()];
    let Ok(known_rad) = bar_deviation_rad(nominal, [first.measured_mm(), second.measured_mm()])
    else {
        return;
    };
    found.known_rad += known_rad;
    found.measured = true;
    let (x, y) = (nominal[1][0] - nominal[0][0], nominal[1][1] - nominal[0][1]);
    let baseline_mm = x.hypot(y);
    let names = [
        "measured hole of the first pin, expanded uncertainty",
        "measured hole of the second pin, expanded uncertainty",
    ];
    for (index, (pin, name)) in pins.iter().zip(names).enumerate() {
        let Some(place) = pin.place else { continue };
        found.contributors.retain(|it| {
            bar_pin(&it.name).is_none_or(|of| !of.is_position || of.second != (index == 1))
        });
        match pin.across_mm(place, [x / baseline_mm, y / baseline_mm]) {
            Ok(across_mm) => found.contributors.push(expanded(
                name,
                across_mm,
                InputUnit::Millimetre,
                1.0 / baseline_mm,
            )),
            Err(lacking) => note(lacking, found),
        }
    }
}
