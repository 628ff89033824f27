//! Measured holes: what is known of their place takes the stead of a tolerance.

use super::contributor::{Contributor, Distribution, InputUnit, Persistence};
use super::registration::Registration;
use crate::equipment::{HoleCircle, MeasuredPlace, Sense};
use crate::inspection::bar_deviation_rad;

/// The limit of a measured place is its expanded uncertainty at this coverage
/// factor (JCGM 100:2008, 6.3.3: about 95 % where the distribution is normal).
pub(super) const COVERAGE_FACTOR: f64 = 2.0;

const NO_UNCERTAINTY: &str = "uncertainty of the measured places (standard_uncertainty_arcsec)";
const NO_RADIAL: &str = "how far out the measured holes stand (radial, radial_uncertainty)";

/// 1 for what grows counter-clockwise, −1 for what grows clockwise.
pub(super) const fn sign(sense: Sense) -> f64 {
    match sense {
        Sense::CounterClockwise => 1.0,
        Sense::Clockwise => -1.0,
    }
}

/// Adds what is known of a measured place, and what is left uncertain of it.
pub(super) fn add_place(place: &MeasuredPlace, sense: Sense, found: &mut Registration) {
    found.known_rad += sign(sense) * place.deviation_rad();
    found.measured = true;
    match place.standard_uncertainty_rad() {
        Some(uncertainty) => found.contributors.push(Contributor {
            name: "measured place, expanded uncertainty".into(),
            limit: COVERAGE_FACTOR * uncertainty,
            unit: InputUnit::Radian,
            sensitivity: 1.0,
            distribution: Distribution::Normal {
                sigmas_at_limit: COVERAGE_FACTOR,
            },
            persistence: Persistence::FixedForPlace,
            degrees_of_freedom: None,
        }),
        None => found.unknown.push(NO_UNCERTAINTY.into()),
    }
}

/// Two measured holes with pins, and the bar laid on them.
pub(super) struct MeasuredPair<'c> {
    circle: &'c HoleCircle,
    sense: Sense,
    radius_mm: f64,
    pins: [(u32, &'c MeasuredPlace); 2],
}

impl<'c> MeasuredPair<'c> {
    /// The pair, where both holes were measured.
    pub(super) fn new(
        circle: &'c HoleCircle,
        sense: Sense,
        radius_mm: f64,
        pins: [u32; 2],
    ) -> Option<Self> {
        let measured = circle.measured.as_ref()?;
        let [first, second] = pins;
        Some(Self {
            circle,
            sense,
            radius_mm,
            pins: [(first, measured.at(first)?), (second, measured.at(second)?)],
        })
    }

    /// Adds where the bar points, exactly from the centres, and how uncertain
    /// each pin leaves it: `(u_r·cos(π·span/n))² + (u_t·sin(π·span/n))²` across
    /// the bar, over the baseline.
    pub(super) fn add_to(&self, span: u32, baseline_mm: f64, found: &mut Registration) {
        let turn = std::f64::consts::TAU / f64::from(self.circle.holes);
        let centre = |radius_mm: f64, angle_rad: f64| {
            let (sin, cos) = (sign(self.sense) * angle_rad).sin_cos();
            [radius_mm * cos, radius_mm * sin]
        };
        let nominal = self
            .pins
            .map(|(hole, _)| centre(self.radius_mm, turn * f64::from(hole)));
        let measured = self.pins.map(|(hole, place)| {
            centre(
                self.radius_mm + place.radial.map_or(0.0, |it| it.mm()),
                turn * f64::from(hole) + place.deviation_rad(),
            )
        });
        if let Ok(known_rad) = bar_deviation_rad(nominal, measured) {
            found.known_rad += known_rad;
            found.measured = true;
        }
        let (sin, cos) = (turn * f64::from(span) / 2.0).sin_cos();
        let names = [
            "measured hole of the first pin, expanded uncertainty",
            "measured hole of the second pin, expanded uncertainty",
        ];
        for ((_, place), name) in self.pins.iter().zip(names) {
            let (Some(angle_rad), Some(radial)) =
                (place.standard_uncertainty_rad(), place.radial_uncertainty)
            else {
                let lacking = match place.standard_uncertainty_rad() {
                    None => NO_UNCERTAINTY,
                    Some(_) => NO_RADIAL,
                };
                if !found.unknown.iter().any(|it| it == lacking) {
                    found.unknown.push(lacking.into());
                }
                continue;
            };
            let across_mm = (radial.mm() * cos).hypot(angle_rad * self.radius_mm * sin);
            found.contributors.push(Contributor {
                name: name.into(),
                limit: COVERAGE_FACTOR * across_mm,
                unit: InputUnit::Millimetre,
                sensitivity: 1.0 / baseline_mm,
                distribution: Distribution::Normal {
                    sigmas_at_limit: COVERAGE_FACTOR,
                },
                persistence: Persistence::FixedForPlace,
                degrees_of_freedom: None,
            });
        }
    }
}
