//! Ways: the distinct manners in which a piece of equipment can serve a whole
//! job without being set up anew, each with the exact set it holds.

use num_integer::Integer;
use serde::{Deserialize, Serialize};

use super::orientation_set::OrientationSet;
use super::setting::Setting;
use super::worm::PlateSense;
use super::{blocks, cranks, pin_chords, plates};
use crate::angle::Angle;
use crate::equipment::{Equipment, Workshop};
use crate::error::{Error, Result};
use crate::gearing::Train;
use crate::job::{Job, Start};
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
    /// Compound indexing on two circles of one side of a worm head's plate: one
    /// move repeated.
    CompoundIndexing {
        /// The plate, as listed.
        plate: usize,
        /// Whether the plate shows its back.
        back: bool,
        /// The circle of the crank pin, as listed on that side.
        first_circle: usize,
        /// The circle of the pin that holds the plate.
        second_circle: usize,
        /// Moves for one turn of the spindle.
        divisions: i128,
        /// Whole crank turns of one move, backward where below zero.
        whole_turns: i128,
        /// Holes of the crank on its circle, backward where below zero.
        first_holes: i64,
        /// Holes of plate and crank together, backward where below zero.
        second_holes: i64,
    },
    /// Differential indexing on one circle of a worm head's plate.
    DifferentialIndexing {
        /// The plate, as listed.
        plate: usize,
        /// Whether the plate shows its back.
        back: bool,
        /// The circle, as listed on that side.
        circle: usize,
        /// Equal parts of a turn, of which one move makes one.
        divisions: i128,
        /// Hole spaces of one move, whole crank turns counted.
        spaces: i128,
        /// The change gears, the first driver on the spindle, the last driven on
        /// the shaft that turns the plate.
        train: Train,
        /// Which way the plate turns.
        plate_sense: PlateSense,
    },
}

/// The methods of indexing: one plan is made for each of them that a piece of
/// equipment has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Method {
    /// The way that a piece of equipment is made for.
    Usual,
    /// Compound indexing on a worm head.
    Compound,
    /// Differential indexing on a worm head.
    Differential,
}

impl WayKind {
    /// The method this way belongs to.
    pub(crate) const fn method(self) -> Method {
        match self {
            Self::CompoundIndexing { .. } => Method::Compound,
            Self::DifferentialIndexing { .. } => Method::Differential,
            _ => Method::Usual,
        }
    }
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
            (
                WayKind::CompoundIndexing { .. } | WayKind::DifferentialIndexing { .. },
                Equipment::WormHead(head),
            ) => cranks::crank_of_method(head, self.kind, presented)?,
            (WayKind::Dial, Equipment::GraduatedDial(dial)) => cranks::reading(dial, presented)?,
            _ => None,
        };
        Ok(found.into_iter().collect())
    }
}

/// Every way of every piece of a workshop that holds whatever the job, in the
/// order of the workshop.
///
/// # Errors
/// Overflow when an angle does not fit; the work limit.
pub fn ways(workshop: &Workshop, meter: &mut Meter<'_>) -> Result<Vec<Way>> {
    let mut all = Vec::new();
    for index in 0..workshop.equipment().len() {
        ways_of(workshop, index, &mut all, meter)?;
    }
    Ok(all)
}

/// Every way that may serve a job, in the order of the workshop: those of
/// [`ways`], and for each worm head that is not exact by simple indexing its
/// best compound and differential set-ups that are.
///
/// # Errors
/// Overflow when an angle does not fit; the work limit.
///
/// ```
/// use dividing_core::work::Meter;
/// use dividing_core::{Job, Workshop, reach};
/// let workshop = Workshop::from_json(r#"{"format": 1, "name": "w", "equipment": [
///     {"worm_head": {"name": "head", "worm_ratio": 40,
///      "plates": [{"name": "2", "circles": [23, 33]}]}}]}"#)?;
/// let job = Job::from_json(r#"{"format": 1, "name": "j",
///     "features": {"equal_divisions": {"count": 69}}}"#)?;
/// let ways = reach::ways_for(&workshop, &job, &mut Meter::default())?;
/// assert!(matches!(
///     ways.last().map(reach::Way::kind),
///     Some(reach::WayKind::CompoundIndexing { whole_turns: 1, first_holes: -2, second_holes: -11, .. })
/// ));
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn ways_for(workshop: &Workshop, job: &Job, meter: &mut Meter<'_>) -> Result<Vec<Way>> {
    let mut all = Vec::new();
    for (index, equipment) in workshop.equipment().iter().enumerate() {
        let before = all.len();
        ways_of(workshop, index, &mut all, meter)?;
        if let Equipment::WormHead(head) = equipment {
            let needs = StepsNeeded::of(job)?;
            let exact = |way: &Way| needs.divisions.is_some_and(|it| way.full_order % it == 0);
            if !all.get(before..).is_some_and(|ways| ways.iter().any(exact)) {
                let maker = WayMaker { equipment: index };
                cranks::method_ways(head, needs, maker, &mut all, meter)?;
            }
        }
    }
    Ok(all)
}

/// The ways of one piece that hold whatever the job; none when there is no such
/// piece.
pub(crate) fn ways_of_piece(
    workshop: &Workshop,
    index: usize,
    meter: &mut Meter<'_>,
) -> Result<Vec<Way>> {
    let mut all = Vec::new();
    ways_of(workshop, index, &mut all, meter)?;
    Ok(all)
}

/// What a job asks of a device that stands at zero in multiples of one step.
#[derive(Clone, Copy)]
pub(super) struct StepsNeeded {
    /// Equal parts of a turn that hold every feature; none when they do not fit.
    pub(super) divisions: Option<i128>,
    /// Whether each feature lies one part further on than the one before.
    pub(super) one_by_one: bool,
}

impl StepsNeeded {
    fn of(job: &Job) -> Result<Self> {
        let pattern = job.features().angles()?;
        let datum = match job.start() {
            Start::Clocked(clocked) => Some(clocked.reading),
            Start::Free | Start::OnASetting => None,
        };
        let rule = super::start_rule(job, datum)?;
        // What has no common denominator cannot be repeated either.
        let divisions = super::order_needed(&pattern, rule, Angle::ZERO).ok();
        let step = divisions.map(|it| Angle::new(1, it)).transpose()?;
        let one_by_one = pattern.windows(2).all(|pair| match pair {
            [a, b] => b.checked_sub(*a).ok().map(Angle::within_turn) == step,
            _ => false,
        });
        Ok(Self {
            divisions,
            one_by_one,
        })
    }
}

/// The ways of one piece that hold whatever the job.
fn ways_of(
    workshop: &Workshop,
    index: usize,
    all: &mut Vec<Way>,
    meter: &mut Meter<'_>,
) -> Result<()> {
    let maker = WayMaker { equipment: index };
    match workshop.equipment().get(index) {
        Some(Equipment::DirectPlate(plate)) => plates::direct_ways(plate, maker, all)?,
        Some(Equipment::VernierIndexer(indexer)) => {
            plates::vernier_ways(indexer, maker, all, meter)?;
        }
        Some(Equipment::FacedBlock(block)) => blocks::ways(block, workshop, maker, all)?,
        Some(Equipment::PinPlate(plate)) => pin_chords::ways(plate, maker, all, meter)?,
        Some(Equipment::WormHead(head)) => cranks::simple_ways(head, maker, all)?,
        Some(Equipment::GraduatedDial(dial)) => all.push(cranks::dial_way(dial, maker)?),
        // A V-block holds nothing alone; blocks are laid in it.
        Some(Equipment::VeeBlock(_)) | None => {}
    }
    meter.spend(1)
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
