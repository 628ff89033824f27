//! Ways: the distinct manners in which a piece of equipment can serve a whole
//! job without being set up anew, each with the exact set it holds.

use std::sync::Arc;

use num_integer::Integer;
use serde::{Deserialize, Serialize};

use super::fine_points::{FinePoint, FinePoints};
use super::orientation_set::OrientationSet;
use super::setting::Setting;
use super::stacks::{self, Members};
use super::worm::{PlateSense, SteppingError};
use super::{blocks, cranks, pin_chords, plates, references, ring_chords, tilts};
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
    /// A sine bar on gauge blocks.
    SineBar,
    /// Angle gauge blocks.
    AngleBlocks,
    /// Readings of a level or protractor.
    Inclination,
    /// A datum of the part at one of several stops.
    FromCommonDatum,
    /// Every feature referenced to the one made last.
    FromLastFeature,
    /// A bar on pins of two different rings.
    PinsAcrossRings,
    /// The members of a stack together.
    Stack {
        /// Which combination of its members' ways, the last member's changing
        /// first; ways of a member that hold the same count once.
        combination: usize,
    },
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
        /// Equal parts of a turn.
        divisions: i128,
        /// How many of them one move makes, prime to their number: the same
        /// moves visit every place whatever it is. 1 for the places in turn.
        divisions_a_move: i128,
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
        /// Equal parts of a turn.
        divisions: i128,
        /// How many of them one move makes, prime to their number and to
        /// `spaces`. 1 for the places in turn.
        divisions_a_move: i128,
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

    /// For moves to be repeated: how many equal parts of a turn one of them makes,
    /// and how many there are; none for other ways.
    pub(crate) const fn parts_of_a_move(self) -> Option<(i128, i128)> {
        match self {
            Self::CompoundIndexing {
                divisions_a_move,
                divisions,
                ..
            }
            | Self::DifferentialIndexing {
                divisions_a_move,
                divisions,
                ..
            } => Some((divisions_a_move, divisions)),
            _ => None,
        }
    }

    /// The moves after which a part of a turn, counted in divisions from the
    /// first, is reached; none for ways without moves to be repeated.
    pub(crate) fn moves_to(self, division: i128) -> Option<i128> {
        let (divisions_a_move, divisions) = self.parts_of_a_move()?;
        moves_to(division, divisions_a_move, divisions)
    }
}

/// The number i of moves of k parts each with `i·k ≡ part (mod parts)`, less than
/// `parts`; the part itself for single parts, however many turns on it lies.
pub(super) fn moves_to(part: i128, k: i128, parts: i128) -> Option<i128> {
    if k == 1 {
        return Some(part);
    }
    let inverse = k.extended_gcd(&parts).x;
    Integer::mod_floor(&part, &parts)
        .checked_mul(Integer::mod_floor(&inverse, &parts))
        .map(|moves| moves % parts)
}

/// One way to use one piece of equipment.
///
/// The set holds *presented* angles: the drawing angle, up to the start, that
/// stands where the cutter works. With the part turned to θ that is −θ, so a
/// plate whose pin stands in hole j at station b presents `angle(j) − b`.
///
/// Where there are fine points, every sum of an orientation of the set and a
/// fine point can be presented.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    pub(super) equipment: usize,
    pub(super) kind: WayKind,
    pub(super) set: OrientationSet,
    pub(super) zero: Angle,
    pub(super) full_order: i128,
    pub(super) fine: Option<FinePoints>,
    pub(super) members: Option<Arc<Members>>,
    pub(super) lookup_cost: u64,
    /// What one move makes, where an inexact move is repeated.
    pub(super) repeated: Option<Angle>,
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

    /// The ways of a stack's members, in their order; none for other equipment.
    #[must_use]
    pub fn members(&self) -> &[Self] {
        self.members.as_ref().map_or(&[], |members| &members.ways)
    }

    /// The fine points that are added to the set, where there are any: tilts of
    /// a sine bar, stacks of angle gauge blocks, bars across rings.
    #[must_use]
    pub const fn fine_points(&self) -> Option<&FinePoints> {
        self.fine.as_ref()
    }

    /// Every start from which the way holds a whole pattern exactly, as far as
    /// its set goes; fine points are left out.
    ///
    /// # Errors
    /// Overflow when an angle does not fit; the work limit.
    pub fn exact_starts(&self, pattern: &[Angle], meter: &mut Meter<'_>) -> Result<OrientationSet> {
        self.set.starts_for(pattern, meter)
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

    /// What one move makes where the move is not exact and is repeated; none for
    /// other ways.
    pub(crate) const fn made_by_one_move(&self) -> Option<Angle> {
        self.repeated
    }

    /// What comes of repeating its move, where the move is not exact and features
    /// are made one move after the other; none for other ways.
    #[must_use]
    pub fn stepping(&self) -> Option<SteppingError> {
        let made = self.repeated?;
        let (divisions_a_move, divisions) = self.kind.parts_of_a_move()?;
        SteppingError::of(Angle::new(divisions_a_move, divisions).ok()?, made).ok()
    }

    /// The setting that presents an orientation.
    ///
    /// # Errors
    /// An internal error when the way does not hold the orientation; overflow
    /// when an angle does not fit.
    pub fn setting(&self, workshop: &Workshop, presented: Angle) -> Result<Setting> {
        let found = self.find_setting(workshop, presented, &mut Meter::default())?;
        found.ok_or_else(|| Error::internal(format!("no setting presents {presented} on this way")))
    }

    /// Up to `most` settings that present an orientation, the plainest first;
    /// none when the way does not hold it.
    pub(crate) fn settings(
        &self,
        workshop: &Workshop,
        presented: Angle,
        most: usize,
    ) -> Result<Vec<Setting>> {
        match (self.kind, workshop.equipment().get(self.equipment)) {
            (WayKind::Vernier, Some(Equipment::VernierIndexer(indexer))) => {
                plates::holes_at_stations(indexer, presented, most)
            }
            (WayKind::PinsOneSpan { circle, span }, Some(Equipment::PinPlate(plate))) => {
                pin_chords::bars_on_pins(plate, circle, Some(span), presented, most)
            }
            (WayKind::PinsMixedSpans { circle }, Some(Equipment::PinPlate(plate))) => {
                pin_chords::bars_on_pins(plate, circle, None, presented, most)
            }
            _ => {
                let found = self.find_setting(workshop, presented, &mut Meter::default())?;
                Ok(found.into_iter().collect())
            }
        }
    }

    /// The setting that presents an orientation, if there is one.
    pub(super) fn find_setting(
        &self,
        workshop: &Workshop,
        presented: Angle,
        meter: &mut Meter<'_>,
    ) -> Result<Option<Setting>> {
        let point = self.point_in(presented)?;
        if self.fine.is_some() && point.is_none() {
            return Ok(None);
        }
        self.setting_at(workshop, presented, point, meter)
    }

    /// A fine point that an orientation of the set is added to.
    fn point_in(&self, presented: Angle) -> Result<Option<FinePoint>> {
        let Some(fine) = &self.fine else {
            return Ok(None);
        };
        for coset in self.set.cosets() {
            for index in 0..coset.order() {
                let base = coset
                    .offset()
                    .checked_add(Angle::new(index, coset.order())?)?;
                if let Some(point) = fine.at(presented.checked_sub(base)?) {
                    return Ok(Some(point));
                }
            }
        }
        Ok(None)
    }

    /// The true angle of a fine point in radians, unless the point is exact.
    pub(super) fn real_rad(&self, workshop: &Workshop, point: FinePoint) -> Option<f64> {
        match workshop.equipment().get(self.equipment)? {
            Equipment::SineBar(bar) => tilts::sine_bar_real_rad(bar, point),
            Equipment::PinPlate(plate) => ring_chords::real_rad(plate, point),
            Equipment::Stack(_) => self
                .members()
                .iter()
                .find(|way| way.fine.is_some())
                .and_then(|way| way.real_rad(workshop, point)),
            _ => None,
        }
    }

    /// The setting that presents an orientation, with the fine point in it; none
    /// when there is no such setting.
    pub(super) fn setting_at(
        &self,
        workshop: &Workshop,
        presented: Angle,
        point: Option<FinePoint>,
        meter: &mut Meter<'_>,
    ) -> Result<Option<Setting>> {
        let equipment = workshop
            .equipment()
            .get(self.equipment)
            .ok_or_else(|| Error::internal("a way of equipment that the workshop lacks"))?;
        match (self.kind, equipment) {
            (WayKind::DirectCircle { circle }, Equipment::DirectPlate(plate)) => {
                plates::hole(plate, circle, presented)
            }
            (WayKind::Vernier, Equipment::VernierIndexer(indexer)) => {
                plates::holes_at_stations(indexer, presented, 1).map(|all| all.into_iter().next())
            }
            (WayKind::BlockFlat, Equipment::FacedBlock(block)) => {
                blocks::face_down(block, presented)
            }
            (WayKind::BlockFlatAndVee { steps_between, .. }, Equipment::FacedBlock(block)) => {
                match blocks::face_down(block, presented)? {
                    Some(flat) => Ok(Some(flat)),
                    None => blocks::faces_in_vee(block, steps_between, presented),
                }
            }
            (WayKind::PinsOneSpan { circle, span }, Equipment::PinPlate(plate)) => {
                pin_chords::bars_on_pins(plate, circle, Some(span), presented, 1)
                    .map(|all| all.into_iter().next())
            }
            (WayKind::PinsMixedSpans { circle }, Equipment::PinPlate(plate)) => {
                pin_chords::bars_on_pins(plate, circle, None, presented, 1)
                    .map(|all| all.into_iter().next())
            }
            (
                WayKind::SimpleIndexing {
                    plate,
                    back,
                    circle,
                },
                Equipment::WormHead(head),
            ) => cranks::crank(head, plate, back, circle, presented),
            (
                WayKind::CompoundIndexing { .. } | WayKind::DifferentialIndexing { .. },
                Equipment::WormHead(head),
            ) => cranks::crank_of_method(head, self.kind, presented),
            (WayKind::Dial, Equipment::GraduatedDial(dial)) => cranks::reading(dial, presented),
            (WayKind::Inclination, Equipment::Protractor(_)) => {
                Ok(Some(tilts::inclination(presented)))
            }
            (WayKind::FromCommonDatum, Equipment::PartReference(reference)) => {
                Ok(references::stop(reference, presented))
            }
            _ => match point {
                Some(point) => self.fine_setting(workshop, equipment, presented, point, meter),
                None => match &self.members {
                    Some(members) => stacks::settings(members, workshop, presented, None, meter),
                    None => Ok(None),
                },
            },
        }
    }

    /// The setting with a fine point in it.
    fn fine_setting(
        &self,
        workshop: &Workshop,
        equipment: &Equipment,
        presented: Angle,
        point: FinePoint,
        meter: &mut Meter<'_>,
    ) -> Result<Option<Setting>> {
        match (self.kind, equipment) {
            (WayKind::SineBar, Equipment::SineBar(bar)) => {
                tilts::sine_bar_setting(bar, point, meter)
            }
            (WayKind::AngleBlocks, Equipment::AngleBlocks(set)) => {
                tilts::angle_blocks_setting(set, point, meter)
            }
            (WayKind::PinsAcrossRings, Equipment::PinPlate(plate)) => {
                ring_chords::setting(plate, point).map(Some)
            }
            _ => match &self.members {
                Some(members) => stacks::settings(members, workshop, presented, Some(point), meter),
                None => Ok(None),
            },
        }
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
        ways_of_piece(workshop, index, &mut all, meter)?;
    }
    Ok(all)
}

/// Every way that may serve a job, in the order of the workshop: those of
/// [`ways`], and for each worm head that is not exact by simple indexing its
/// best compound and differential set-ups that are; where none is, differential
/// moves of several divisions; where those are not exact either, the nearest move
/// of each method, to be repeated, of one division or several.
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
    for index in 0..workshop.equipment().len() {
        ways_of_piece_for(workshop, index, job, &mut all, meter)?;
    }
    Ok(all)
}

/// Adds every way of one piece that may serve a job. What was found before an
/// error stays.
pub(crate) fn ways_of_piece_for(
    workshop: &Workshop,
    index: usize,
    job: &Job,
    all: &mut Vec<Way>,
    meter: &mut Meter<'_>,
) -> Result<()> {
    let before = all.len();
    ways_of_piece(workshop, index, all, meter)?;
    if let Some(Equipment::WormHead(head)) = workshop.equipment().get(index) {
        let needs = StepsNeeded::of(job)?;
        let exact = |way: &Way| needs.divisions.is_some_and(|it| way.full_order % it == 0);
        if !all.get(before..).is_some_and(|ways| ways.iter().any(exact)) {
            let maker = WayMaker { equipment: index };
            let simple = all.len();
            cranks::method_ways(head, needs, maker, all, meter)?;
            if all.len() == simple {
                cranks::ways_of_several_divisions(head, needs, maker, all, meter)?;
            }
            if all.len() == simple {
                cranks::nearest_ways(head, needs, maker, all, meter)?;
            }
        }
    }
    Ok(())
}

/// Adds the ways of one piece that hold whatever the job; none when there is no
/// such piece. What was found before an error stays.
pub(crate) fn ways_of_piece(
    workshop: &Workshop,
    index: usize,
    all: &mut Vec<Way>,
    meter: &mut Meter<'_>,
) -> Result<()> {
    let maker = WayMaker { equipment: index };
    let Some(equipment) = workshop.equipment().get(index) else {
        return Ok(());
    };
    match equipment {
        Equipment::DirectPlate(plate) => plates::direct_ways(plate, maker, all)?,
        Equipment::VernierIndexer(indexer) => {
            plates::vernier_ways(indexer, maker, all, meter)?;
        }
        Equipment::FacedBlock(block) => blocks::ways(block, workshop, maker, all)?,
        Equipment::PinPlate(plate) => {
            pin_chords::ways(plate, maker, all, meter)?;
            all.extend(ring_chords::way(plate, maker, meter)?);
        }
        Equipment::WormHead(head) => cranks::simple_ways(head, maker, all)?,
        Equipment::GraduatedDial(dial) => all.push(cranks::dial_way(dial, maker)?),
        // A V-block holds nothing alone; blocks are laid in it.
        Equipment::VeeBlock(_) => {}
        Equipment::SineBar(bar) => all.push(tilts::sine_bar_way(bar, maker, meter)?),
        Equipment::AngleBlocks(set) => all.push(tilts::angle_blocks_way(set, maker, meter)?),
        Equipment::Protractor(it) => all.push(tilts::protractor_way(it, maker)?),
        Equipment::PartReference(reference) => all.push(references::way(reference, maker)?),
        Equipment::Stack(stack) => stacks::ways(stack, workshop, maker, all, meter)?,
    }
    meter.spend(1)
}

/// What a job asks of a device that stands at zero in multiples of one step.
#[derive(Clone, Copy)]
pub(super) struct StepsNeeded {
    /// Equal parts of a turn that hold every feature; none when they do not fit.
    pub(super) divisions: Option<i128>,
    /// Whether each feature lies one part further on than the one before.
    pub(super) one_by_one: bool,
    /// Whether the features fill the turn.
    pub(super) whole_turn: bool,
    /// Whether the device stands at another reading than zero to begin with.
    pub(super) begins_elsewhere: bool,
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
            whole_turn: divisions == i128::try_from(pattern.len()).ok(),
            begins_elsewhere: datum.is_some_and(|reading| !reading.is_zero()),
        })
    }
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
            repeated: None,
            fine: None,
            members: None,
        }
    }

    /// A way whose set has fine points added.
    pub(super) fn fine_way(self, kind: WayKind, set: OrientationSet, fine: FinePoints) -> Way {
        Way {
            fine: Some(fine),
            ..self.way(kind, set, Angle::ZERO, 1)
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
