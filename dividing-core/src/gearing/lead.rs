//! Lead gearing: the change gears between table screw and worm shaft that turn
//! the work while the table feeds, so that the cutter leaves a helix.
//!
//! With gears of ratio 1 the table travels the *lead of the machine*, worm ratio ×
//! table screw pitch, while the spindle turns once. A train from the screw (first
//! driver) to the worm shaft (last driven) makes that
//! `lead = lead of the machine × product of driven / product of drivers`.
//! The table is swivelled by `tan(angle) = π · diameter / lead`.
//! (*Practical Treatise on Milling and Milling Machines*, public domain, chapter
//! on spiral milling.)

use std::f64::consts::PI;

use serde::{Deserialize, Serialize};

use super::ratio::GearRatio;
use super::search::TrainSearch;
use super::train::Train;
use crate::error::{AtField, Error, ErrorKind, Result, quoted};
use crate::length::Length;
use crate::work::Meter;

/// Hand of a helix.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Hand {
    /// As an ordinary screw.
    Right,
    /// The other way.
    Left,
}

/// A sense of turning, seen as said where it is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum TurningSense {
    /// With the hands of a clock.
    Clockwise,
    /// Against the hands of a clock.
    CounterClockwise,
}

/// A helix to cut and the machine to cut it on. Lengths are exact ratios of
/// millimetres; [`exact_length_mm`] reads them from text.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Helix {
    /// Turns of the worm shaft for one turn of the spindle.
    pub worm_ratio: GearRatio,
    /// Travel of the table for one turn of its screw, in millimetres.
    pub screw_pitch_mm: GearRatio,
    /// Lead wanted, in millimetres.
    pub lead_mm: GearRatio,
    /// Hand wanted.
    pub hand: Hand,
    /// Diameter at which the cutter is to lie along the helix, usually the pitch
    /// diameter.
    pub diameter: Length,
}

impl Helix {
    /// The lead of the machine in millimetres: worm ratio × table screw pitch.
    ///
    /// # Errors
    /// [`ErrorKind::Overflow`] when the exact product does not fit.
    pub fn machine_lead_mm(&self) -> Result<GearRatio> {
        self.worm_ratio.checked_mul(self.screw_pitch_mm)
    }
}

/// Gears and table angle for a helix.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LeadGearing {
    /// The train: the first driver on the table screw, the last driven on the
    /// worm shaft.
    pub train: Train,
    /// Lead of the machine in millimetres.
    pub machine_lead_mm: GearRatio,
    /// The lead that this train gives, exact, in millimetres.
    pub attained_lead_mm: GearRatio,
    /// Attained less wanted lead, in millionths of the lead wanted.
    pub error_ppm: f64,
    /// Whether the lead is exact.
    pub exact: bool,
    /// The longest lead up to the one wanted that the gears can make, and the
    /// shortest from it upward, in millimetres; no lead lies between.
    pub neighbouring_leads_mm: (Option<GearRatio>, Option<GearRatio>),
    /// Whether all trains were covered; see
    /// [`NearestProof::complete`](super::NearestProof).
    pub complete: bool,
    /// Swivel of the table from square, in degrees, for the lead attained.
    pub swivel_deg: f64,
    /// Which way the table swivels, seen from above: counter-clockwise for a
    /// right hand (the right-hand end moves away from the operator).
    pub swivel_sense: TurningSense,
    /// Which way the work must turn, seen along the travel of the table:
    /// clockwise for a right hand. Check it in a dry run; idlers reverse it.
    pub work_sense: TurningSense,
}

/// Finds the train whose lead is nearest to the one wanted, proved nearest among
/// the trains of a prepared gear set.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for a diameter that is not positive,
/// [`ErrorKind::Overflow`] when exact leads do not fit, and those of
/// [`TrainSearch::nearest`].
///
/// ```
/// use dividing_core::gearing::lead::{Hand, Helix, exact_length_mm, lead_gearing};
/// use dividing_core::gearing::{GearSet, MeshRule, TrainSearch};
/// use dividing_core::work::Meter;
/// let set = GearSet::new(&[24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100])?;
/// let mut meter = Meter::default();
/// let search = TrainSearch::new(&set, 2, MeshRule::RatiosAlone, &mut meter)?;
/// let helix = Helix {
///     worm_ratio: "40".parse()?,
///     screw_pitch_mm: exact_length_mm("0.25 in")?,
///     lead_mm: exact_length_mm("6.16 in")?,
///     hand: Hand::Right,
///     diameter: "1 in".parse()?,
/// };
/// let gearing = lead_gearing(&search, &helix, &mut meter)?;
/// assert!(gearing.exact);
/// assert!((gearing.swivel_deg - 27.02).abs() < 0.01);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn lead_gearing(
    search: &TrainSearch,
    helix: &Helix,
    meter: &mut Meter<'_>,
) -> Result<LeadGearing> {
    helix.diameter.check_positive().at("diameter")?;
    let machine_lead_mm = helix.machine_lead_mm()?;
    // The lead is proportional to driven over drivers, so the nearest lead is
    // the nearest ratio of the train driven from its other end.
    let wanted = helix.lead_mm.checked_mul(machine_lead_mm.reciprocal())?;
    let nearest = search.nearest(wanted, meter)?;
    let lead_of = |train: &Train| train.ratio().checked_mul(machine_lead_mm);
    let attained_lead_mm = lead_of(&nearest.train)?;
    let right = helix.hand == Hand::Right;
    let sense = |clockwise| {
        if clockwise {
            TurningSense::Clockwise
        } else {
            TurningSense::CounterClockwise
        }
    };
    Ok(LeadGearing {
        train: nearest.train.reversed(),
        machine_lead_mm,
        attained_lead_mm,
        error_ppm: nearest.error_ppm,
        exact: nearest.exact,
        neighbouring_leads_mm: (
            nearest.proof.below.as_ref().map(lead_of).transpose()?,
            nearest.proof.above.as_ref().map(lead_of).transpose()?,
        ),
        complete: nearest.proof.complete,
        swivel_deg: swivel_deg(helix.diameter, attained_lead_mm)?,
        swivel_sense: sense(!right),
        work_sense: sense(right),
    })
}

/// Swivel of the table in degrees, 0 to 90: `atan(π · diameter / lead)`.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for a diameter that is not positive.
///
/// ```
/// use dividing_core::gearing::lead::{exact_length_mm, swivel_deg};
/// // A lead of π diameters lies at 45 degrees; 355/113 is nearly π.
/// let angle = swivel_deg("113 mm".parse()?, exact_length_mm("355 mm")?)?;
/// assert!((angle - 45.0).abs() < 1e-5);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn swivel_deg(diameter: Length, lead_mm: GearRatio) -> Result<f64> {
    diameter.check_positive().at("diameter")?;
    // Both are positive, and atan2 takes any quotient of them.
    Ok((PI * diameter.mm()).atan2(lead_mm.to_f64()).to_degrees())
}

/// Reads a positive length exactly: a whole number, decimal or fraction with its
/// unit, as in `6.16 in`, `1/4 in` or `5 mm`. An inch is 127/5 mm.
///
/// # Errors
/// [`ErrorKind::MissingUnit`] without a unit, [`ErrorKind::UnreadableText`] for
/// another unit or what is no number, [`ErrorKind::OutOfRange`] for zero.
///
/// ```
/// use dividing_core::gearing::lead::exact_length_mm;
/// assert_eq!(exact_length_mm("1/4 in")?.to_string(), "127/20");
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn exact_length_mm(text: &str) -> Result<GearRatio> {
    let trimmed = text.trim();
    let split = trimmed
        .find(|c: char| c.is_alphabetic() || c == '"')
        .unwrap_or(trimmed.len());
    let (number, unit) = trimmed.split_at(split);
    let millimetres = match unit.trim() {
        "mm" => GearRatio::ONE,
        "in" | "inch" | "inches" | "\"" => GearRatio::new(127, 5)?,
        "" => {
            return Err(Error::new(
                ErrorKind::MissingUnit,
                format!(
                    "{} has no unit; write for example 5 mm or 1/4 in",
                    quoted(text)
                ),
            ));
        }
        other => {
            return Err(Error::new(
                ErrorKind::UnreadableText,
                format!(
                    "{} is no unit of length here; accepted: mm, in",
                    quoted(other)
                ),
            ));
        }
    };
    number.parse::<GearRatio>()?.checked_mul(millimetres)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gearing::{GearSet, MeshRule};

    fn helix(lead: &str, hand: Hand) -> Helix {
        Helix {
            worm_ratio: "40".parse().unwrap(),
            screw_pitch_mm: exact_length_mm("0.25 in").unwrap(),
            lead_mm: exact_length_mm(lead).unwrap(),
            hand,
            diameter: "1.5 in".parse().unwrap(),
        }
    }

    fn search(teeth: &[u32]) -> TrainSearch {
        TrainSearch::new(
            &GearSet::new(teeth).unwrap(),
            2,
            MeshRule::RatiosAlone,
            &mut Meter::default(),
        )
        .unwrap()
    }

    #[test]
    fn the_lead_follows_from_turning_screw_and_worm() {
        // Independent of the formula in use: turn the screw once and follow it.
        let gears = search(&[24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100]);
        for lead in ["12 in", "6.16 in", "27.2 in", "300 mm", "1 in"] {
            let found =
                lead_gearing(&gears, &helix(lead, Hand::Left), &mut Meter::default()).unwrap();
            let worm_turns_per_screw_turn = found.train.ratio().to_f64();
            let spindle_turns = worm_turns_per_screw_turn / 40.0;
            let travelled_mm = 25.4 / 4.0;
            let lead_mm = travelled_mm / spindle_turns;
            assert!((lead_mm / found.attained_lead_mm.to_f64() - 1.0).abs() < 1e-12);
            let wanted = exact_length_mm(lead).unwrap();
            let (below, above) = found.neighbouring_leads_mm;
            assert!(below.is_none_or(|below| below <= wanted));
            assert!(above.is_none_or(|above| above >= wanted));
            assert!(below == Some(found.attained_lead_mm) || above == Some(found.attained_lead_mm));
        }
    }

    #[test]
    fn the_hand_turns_both_senses() {
        let gears = search(&[24, 48, 72]);
        let found =
            |hand| lead_gearing(&gears, &helix("20 in", hand), &mut Meter::default()).unwrap();
        assert_eq!(found(Hand::Right).work_sense, TurningSense::Clockwise);
        assert_eq!(
            found(Hand::Right).swivel_sense,
            TurningSense::CounterClockwise
        );
        assert_eq!(found(Hand::Left).work_sense, TurningSense::CounterClockwise);
        assert_eq!(found(Hand::Left).swivel_sense, TurningSense::Clockwise);
        assert_eq!(found(Hand::Left).train, found(Hand::Right).train);
    }

    #[test]
    fn lengths_are_read_exactly_or_refused() {
        let kind = |text: &str| exact_length_mm(text).unwrap_err().kind();
        assert_eq!(kind("5"), ErrorKind::MissingUnit);
        assert_eq!(kind("5 furlongs"), ErrorKind::UnreadableText);
        assert_eq!(kind("mm"), ErrorKind::UnreadableText);
        assert_eq!(kind("-5 mm"), ErrorKind::UnreadableText);
        assert_eq!(kind("0 mm"), ErrorKind::OutOfRange);
        assert!(swivel_deg(Length::ZERO, GearRatio::ONE).is_err());
    }
}
