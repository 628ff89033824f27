//! Ways: the distinct manners in which a piece of equipment can serve a whole
//! job without being set up anew, each with the exact set it holds.

use num_integer::Integer;
use serde::{Deserialize, Serialize};

use super::orientation_set::OrientationSet;
use super::setting::Setting;
use super::{blocks, cranks, pin_chords, plates};
use crate::angle::Angle;
use crate::equipment::{Equipment, Workshop};
use crate::error::{Error, Result};
use crate::work::Meter;

/// How a piece of equipment is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[non_exhaustive]
pub enum WayKind {
    /// Direct indexing on one circle of a direct plate.
    DirectCircle {
        /// The circle, as listed.
        circle: usize,
    },
    /// The pin of a vernier indexer at any of its stations.
    Vernier,
    /// A faced block on its faces.
    BlockFlat,
    /// A faced block on its faces and in a V-block in turn.
    BlockFlatAndVee {
        /// The V-block, by its place in the workshop.
        vee_block: usize,
        /// Face steps between the two faces that touch the flanks.
        steps_between: u32,
    },
    /// A bar on pins of one ring, the same span throughout.
    PinsOneSpan {
        /// The ring, as listed.
        circle: usize,
        /// Hole spaces between the pins.
        span: u32,
    },
    /// A bar on pins of one ring, spans as needed.
    PinsMixedSpans {
        /// The ring, as listed.
        circle: usize,
    },
    /// Simple indexing on one circle of a worm head's plate.
    SimpleIndexing {
        /// The plate, as listed.
        plate: usize,
        /// Whether the plate shows its back.
        back: bool,
        /// The circle, as listed on that side.
        circle: usize,
    },
    /// Readings of a graduated dial.
    Dial,
}

/// One way to use one piece of equipment.
///
/// The set holds *presented* angles: the drawing angle, up to the start, that
/// stands where the cutter works. With the part turned to θ that is −θ, so a
/// plate whose pin stands in hole j at station b presents `angle(j) − b`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    pub(super) equipment: usize,
    pub(super) kind: WayKind,
    pub(super) set: OrientationSet,
    pub(super) zero: Angle,
    pub(super) full_order: i128,
    pub(super) lookup_cost: u64,
}

impl Way {
    /// The piece of equipment, by its place in the workshop.
    #[must_use]
    pub const fn equipment(&self) -> usize {
        self.equipment
    }

    /// How it is used.
    #[must_use]
    pub const fn kind(&self) -> WayKind {
        self.kind
    }

    /// Everything that can be presented to the cutter.
    #[must_use]
    pub const fn set(&self) -> &OrientationSet {
        &self.set
    }

    /// What the device presents at its zero setting: the first hole at the
    /// first station, the first face, the first pins, the zero of the dial.
    #[must_use]
    pub const fn zero(&self) -> Angle {
        self.zero
    }

    /// How many equally spaced orientations it would hold were no hole absent.
    #[must_use]
    pub const fn full_order(&self) -> i128 {
        self.full_order
    }

    /// Steps of work to look up one setting.
    pub(super) const fn costing(mut self, lookup_cost: u64) -> Self {
        self.lookup_cost = lookup_cost;
        self
    }

    /// The setting that presents an orientation of the set.
    ///
    /// # Errors
    /// Not found when the set does not hold the orientation.
    pub fn setting(&self, workshop: &Workshop, presented: Angle) -> Result<Setting> {
        let first = self.settings(workshop, presented, 1)?.into_iter().next();
        first.ok_or_else(|| Error::internal(format!("no setting presents {presented} on this way")))
    }

    /// Up to `most` settings that present an orientation, the plainest first;
    /// none when the set does not hold it.
    pub(crate) fn settings(
        &self,
        workshop: &Workshop,
        presented: Angle,
        most: usize,
    ) -> Result<Vec<Setting>> {
        let equipment = workshop
            .equipment()
            .get(self.equipment)
            .ok_or_else(|| Error::internal("a way of equipment that the workshop lacks"))?;
        let found = match (self.kind, equipment) {
            (WayKind::DirectCircle { circle }, Equipment::DirectPlate(plate)) => {
                plates::hole(plate, circle, presented)?
            }
            (WayKind::Vernier, Equipment::VernierIndexer(indexer)) => {
                return plates::holes_at_stations(indexer, presented, most);
            }
            (WayKind::BlockFlat, Equipment::FacedBlock(block)) => {
                blocks::face_down(block, presented)?
            }
            (WayKind::BlockFlatAndVee { steps_between, .. }, Equipment::FacedBlock(block)) => {
                match blocks::face_down(block, presented)? {
                    Some(flat) => Some(flat),
                    None => blocks::faces_in_vee(block, steps_between, presented)?,
                }
            }
            (WayKind::PinsOneSpan { circle, span }, Equipment::PinPlate(plate)) => {
                return pin_chords::bars_on_pins(plate, circle, Some(span), presented, most);
            }
            (WayKind::PinsMixedSpans { circle }, Equipment::PinPlate(plate)) => {
                return pin_chords::bars_on_pins(plate, circle, None, presented, most);
            }
            (
                WayKind::SimpleIndexing {
                    plate,
                    back,
                    circle,
                },
                Equipment::WormHead(head),
            ) => cranks::crank(head, plate, back, circle, presented)?,
            (WayKind::Dial, Equipment::GraduatedDial(dial)) => cranks::reading(dial, presented)?,
            _ => None,
        };
        Ok(found.into_iter().collect())
    }
}

/// Every way of every piece of a workshop, in the order of the workshop.
///
/// # Errors
/// Overflow when an angle does not fit; the work limit.
pub fn ways(workshop: &Workshop, meter: &mut Meter<'_>) -> Result<Vec<Way>> {
    let mut all = Vec::new();
    for (index, equipment) in workshop.equipment().iter().enumerate() {
        let maker = WayMaker { equipment: index };
        match equipment {
            Equipment::DirectPlate(plate) => plates::direct_ways(plate, maker, &mut all)?,
            Equipment::VernierIndexer(indexer) => {
                plates::vernier_ways(indexer, maker, &mut all, meter)?;
            }
            Equipment::FacedBlock(block) => {
                blocks::ways(block, workshop, maker, &mut all)?;
            }
            Equipment::PinPlate(plate) => pin_chords::ways(plate, maker, &mut all, meter)?,
            Equipment::WormHead(head) => cranks::simple_ways(head, maker, &mut all)?,
            Equipment::GraduatedDial(dial) => all.push(cranks::dial_way(dial, maker)?),
            // A V-block holds nothing alone; blocks are laid in it.
            Equipment::VeeBlock(_) => {}
        }
        meter.spend(1)?;
    }
    Ok(all)
}

/// Makes the ways of one piece of equipment.
#[derive(Clone, Copy)]
pub(super) struct WayMaker {
    equipment: usize,
}

impl WayMaker {
    pub(super) const fn way(
        self,
        kind: WayKind,
        set: OrientationSet,
        zero: Angle,
        full_order: i128,
    ) -> Way {
        Way {
            equipment: self.equipment,
            kind,
            set,
            zero,
            full_order,
            lookup_cost: 1,
        }
    }
}

/// Which multiple of 1/order an angle is, from 0 to order − 1, if it is one.
pub(super) fn multiple_of(angle: Angle, order: i128) -> Result<Option<i128>> {
    let times = angle.checked_mul(order)?;
    Ok((times.denominator() == 1).then(|| Integer::mod_floor(&times.numerator(), &order)))
}

/// The same as an index of holes or faces.
pub(super) fn index_of(angle: Angle, order: u32) -> Result<Option<u32>> {
    let multiple = multiple_of(angle, i128::from(order))?;
    Ok(multiple.and_then(|value| u32::try_from(value).ok()))
}
