//! Change gears: trains of exactly a ratio, or nearest to one, and leads.

use std::ffi::c_void;

use dividing_core::gearing::lead::{Hand, Helix, LeadGearing, TurningSense, lead_gearing};
use dividing_core::gearing::{
    ExactTrains, GearRatio, GearSet, MeshRule, NearestTrain, Train, TrainSearch,
};
use dividing_core::reach::WayKind;
use dividing_core::reach::worm::PlateSense;

use crate::angle::Fraction;
use crate::array::{OutArray, slice};
use crate::error::{Failure, Outcome};
use crate::fields::{at, chosen, fitted, length, yes};
use crate::guard::guard;
use crate::handle;
use crate::live::{self, Handle};
use crate::plans::PlansHandle;
use crate::pointer::{Out, reference};
use crate::status::Status;
use crate::watch::{Watcher, metered};

/// Whether compound trains must clear their neighbours' shafts. All zeros stand
/// for ratios alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct MeshFields {
    /// 1 when trains must clear, 0 when ratios alone count.
    pub must_clear: i32,
    /// By how much, in teeth.
    pub allowance_teeth: u16,
}

impl MeshFields {
    pub(crate) fn rule(self) -> Outcome<MeshRule> {
        Ok(if yes(self.must_clear, "mesh.must_clear")? {
            MeshRule::Clear {
                allowance_teeth: self.allowance_teeth,
            }
        } else {
            MeshRule::RatiosAlone
        })
    }
}

/// A train of one to three pairs. The ratio is the product of the drivers over
/// the product of the driven; idlers are not part of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct TrainRecord {
    /// Pairs of driver and driven; 0 where there is no train.
    pub pairs: u32,
    /// Teeth of the drivers; 0 beyond the pairs.
    pub drivers: [u16; 3],
    /// Teeth of the driven gears, each meshing with the driver of its place.
    pub driven: [u16; 3],
}

impl TrainRecord {
    const NONE: Self = Self {
        pairs: 0,
        drivers: [0; 3],
        driven: [0; 3],
    };

    pub(crate) fn of(train: &Train) -> Outcome<Self> {
        let mut record = Self {
            pairs: fitted(train.pairs(), "pairs")?,
            ..Self::NONE
        };
        for (place, teeth) in record.drivers.iter_mut().zip(train.drivers()) {
            *place = *teeth;
        }
        for (place, teeth) in record.driven.iter_mut().zip(train.driven()) {
            *place = *teeth;
        }
        Ok(record)
    }

    fn of_optional(train: Option<&Train>) -> Outcome<Self> {
        train.map_or(Ok(Self::NONE), Self::of)
    }

    fn train(&self) -> Outcome<Train> {
        let pairs = usize::try_from(self.pairs).unwrap_or(usize::MAX);
        let (drivers, driven) = (self.drivers.get(..pairs), self.driven.get(..pairs));
        match (drivers, driven) {
            (Some(drivers), Some(driven)) => at(Train::new(drivers, driven), "train"),
            _ => Err(Failure::new(
                Status::OutOfRange,
                "train.pairs",
                format!("{pairs} pairs are out of range; accepted: 1 to 3"),
            )),
        }
    }
}

fn ratio(fraction: Fraction, field: &str) -> Outcome<GearRatio> {
    at(
        GearRatio::new(fraction.numerator.into(), fraction.denominator.into()),
        field,
    )
}

fn fraction(ratio: GearRatio, field: &str) -> Outcome<Fraction> {
    Ok(Fraction {
        numerator: fitted(ratio.numerator(), field)?,
        denominator: fitted(ratio.denominator(), field)?,
    })
}

/// The gears owned, and how trains may be made of them. Gears owned twice are
/// listed twice.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct GearsFields {
    /// Teeth of each gear, 1 to 1000, `gear_count` of them.
    pub gears: *const u32,
    /// How many `gears` points to, 2 to 200.
    pub gear_count: usize,
    /// Most pairs of a train, 1 to 3; 0 stands for 2.
    pub most_pairs: u32,
    /// Whether trains must clear.
    pub mesh: MeshFields,
}

impl GearsFields {
    /// # Safety
    /// All pointers are as their comments say.
    unsafe fn set(&self) -> Outcome<GearSet> {
        // SAFETY: the caller's contract.
        at(
            GearSet::new(unsafe { slice(self.gears, self.gear_count, "gears")? }),
            "gears",
        )
    }

    fn pairs(&self) -> usize {
        match self.most_pairs {
            0 => 2,
            most => usize::try_from(most).unwrap_or(usize::MAX),
        }
    }
}

/// All trains of one ratio: an opaque handle.
///
/// Made by dividing_trains_new, freed by dividing_trains_free. It never changes
/// in between, so any number of threads may read it at a time.
pub struct TrainsHandle {
    found: ExactTrains,
}

impl Handle for TrainsHandle {
    const MARK: [u8; 8] = *b"trains  ";
}

/// How a search for trains ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct TrainsRecord {
    /// Trains found; those that differ only in the order of drivers or of
    /// driven gears are one.
    pub count: usize,
    /// Ordered rows that they stand for.
    pub rows: u64,
    /// Whether these are all; false when the limit of work was reached.
    pub complete: bool,
}

/// Finds all trains of exactly a ratio, drivers over driven, the fewest gears
/// first.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within; when
/// they stop the search, what was found is marked incomplete.
///
/// Errors: out_of_range, null_pointer, misaligned; work_limit and cancelled
/// while it is prepared. Ownership: `*out` is the caller's, freed with
/// dividing_trains_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_trains_new(
    gears: *const GearsFields,
    target: Fraction,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut TrainsHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (gears, set, out) = unsafe {
            let gears = reference(gears, "gears")?;
            (gears, gears.set()?, Out::new(out, "out")?)
        };
        let (target, mesh) = (ratio(target, "target")?, gears.mesh.rule()?);
        // SAFETY: the caller gave the watcher to be called so.
        let found = unsafe {
            metered(work_limit, watcher, userdata, |meter| {
                let search = TrainSearch::new(&set, gears.pairs(), mesh, meter)?;
                Ok::<_, dividing_core::Error>(search.exact(target, meter))
            })?
        };
        live::give(TrainsHandle { found }, out);
        Ok(())
    })
}

/// Frees trains.
///
/// Ownership: the handle is gone; to free or use it again is an error of the
/// caller, seen (not_a_handle) only while its memory is not used for something
/// else. NULL is accepted and does nothing. Threads: any, while no other thread
/// uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_trains_free(trains: *mut TrainsHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(trains, "trains") }
}

/// How many trains were found, and whether these are all.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_trains_found(
    trains: *const TrainsHandle,
    out: *mut TrainsRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(trains, "trains", out, |it| {
            Ok(TrainsRecord {
                count: it.found.trains.len(),
                rows: it.found.rows,
                complete: it.found.complete,
            })
        })
    }
}

/// The trains into the caller's array of `capacity` records, in their order.
///
/// Errors: buffer_too_small, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_trains_copy(
    trains: *const TrainsHandle,
    records: *mut TrainRecord,
    capacity: usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (trains, records) = unsafe {
            (
                live::reference(trains, "trains")?,
                OutArray::new(records, capacity, "records")?,
            )
        };
        let all = trains.found.trains.iter().map(TrainRecord::of);
        records.give(&all.collect::<Outcome<Vec<_>>>()?)
    })
}

/// The train nearest to a ratio, and why nothing is nearer.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct NearestTrainRecord {
    /// A nearest train, in the order that meshes best.
    pub train: TrainRecord,
    /// The train just as far on the other side, if there is one.
    pub equally_near: TrainRecord,
    /// The train with the greatest ratio not above the target, if there is one.
    pub below: TrainRecord,
    /// The train with the smallest ratio not below the target, if there is one.
    pub above: TrainRecord,
    /// How far the train is from the target, in millionths of the target;
    /// positive when its ratio is greater.
    pub error_ppm: f64,
    /// Whether the train has the ratio exactly.
    pub exact: bool,
    /// Whether all trains were covered, so that this is proved nearest.
    pub complete: bool,
}

impl NearestTrainRecord {
    fn of(found: &NearestTrain) -> Outcome<Self> {
        Ok(Self {
            train: TrainRecord::of(&found.train)?,
            equally_near: TrainRecord::of_optional(found.equally_near.as_ref())?,
            below: TrainRecord::of_optional(found.proof.below.as_ref())?,
            above: TrainRecord::of_optional(found.proof.above.as_ref())?,
            error_ppm: found.error_ppm,
            exact: found.exact,
            complete: found.proof.complete,
        })
    }
}

/// Finds the train whose ratio, drivers over driven, is nearest to `target`.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within; when
/// they stop the search, the best found is marked incomplete.
///
/// Errors: out_of_range; not_found when no train clears; work_limit and
/// cancelled when nothing was found yet; null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_train_nearest(
    gears: *const GearsFields,
    target: Fraction,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut NearestTrainRecord,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (gears, set, out) = unsafe {
            let gears = reference(gears, "gears")?;
            (gears, gears.set()?, Out::new(out, "out")?)
        };
        let (target, mesh) = (ratio(target, "target")?, gears.mesh.rule()?);
        // SAFETY: the caller gave the watcher to be called so.
        let found = unsafe {
            metered(work_limit, watcher, userdata, |meter| {
                TrainSearch::new(&set, gears.pairs(), mesh, meter)?.nearest(target, meter)
            })?
        };
        out.write(NearestTrainRecord::of(&found)?);
        Ok(())
    })
}

/// The ratio of a train, drivers over driven, in lowest terms.
///
/// Errors: out_of_range for a train that is none, null_pointer, misaligned.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_train_ratio(
    train: *const TrainRecord,
    out: *mut Fraction,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_from(train, "train", out, |it| {
            fraction(it.train()?.ratio(), "ratio")
        })
    }
}

/// A helix to be milled: work geared to the table screw. Leads and pitch are in
/// millimetres, exact.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct HelixFields {
    /// Turns of the worm shaft for one turn of the spindle: 40/1.
    pub worm_ratio: Fraction,
    /// Travel of the table for one turn of its screw: 5/1; 127/20 for a quarter
    /// of an inch.
    pub screw_pitch_mm: Fraction,
    /// Lead wanted.
    pub lead_mm: Fraction,
    /// 1 for a left hand, 0 for a right hand.
    pub left_hand: i32,
    /// Diameter at which the cutter is to lie along the helix, usually the
    /// pitch diameter.
    pub diameter_mm: f64,
}

/// The gears for a lead.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct LeadRecord {
    /// The train: the first driver on the table screw, the last driven on the
    /// worm shaft.
    pub train: TrainRecord,
    /// Lead of the machine in millimetres.
    pub machine_lead_mm: Fraction,
    /// The lead that this train gives, exact, in millimetres.
    pub attained_lead_mm: Fraction,
    /// Attained less wanted lead, in millionths of the lead wanted.
    pub error_ppm: f64,
    /// Swivel of the table from square, in degrees, for the lead attained.
    pub swivel_deg: f64,
    /// Whether the lead is exact.
    pub exact: bool,
    /// Whether all trains were covered.
    pub complete: bool,
    /// 1 when the table swivels clockwise, seen from above, else 0.
    pub swivel_clockwise: u8,
    /// 1 when the work must turn clockwise, seen along the travel of the table,
    /// else 0.
    pub work_clockwise: u8,
}

impl LeadRecord {
    fn of(found: &LeadGearing) -> Outcome<Self> {
        Ok(Self {
            train: TrainRecord::of(&found.train)?,
            machine_lead_mm: fraction(found.machine_lead_mm, "machine_lead_mm")?,
            attained_lead_mm: fraction(found.attained_lead_mm, "attained_lead_mm")?,
            error_ppm: found.error_ppm,
            swivel_deg: found.swivel_deg,
            exact: found.exact,
            complete: found.complete,
            swivel_clockwise: (found.swivel_sense == TurningSense::Clockwise).into(),
            work_clockwise: (found.work_sense == TurningSense::Clockwise).into(),
        })
    }
}

/// The gears whose lead is nearest to the one wanted, and how the table swivels.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
///
/// Errors: as dividing_train_nearest. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_lead_gearing(
    gears: *const GearsFields,
    helix: *const HelixFields,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut LeadRecord,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (gears, set, helix, out) = unsafe {
            let gears = reference(gears, "gears")?;
            (
                gears,
                gears.set()?,
                reference(helix, "helix")?,
                Out::new(out, "out")?,
            )
        };
        let mesh = gears.mesh.rule()?;
        let wanted = Helix {
            worm_ratio: ratio(helix.worm_ratio, "worm_ratio")?,
            screw_pitch_mm: ratio(helix.screw_pitch_mm, "screw_pitch_mm")?,
            lead_mm: ratio(helix.lead_mm, "lead_mm")?,
            hand: chosen(helix.left_hand, "left_hand", &[Hand::Right, Hand::Left])?,
            diameter: length(helix.diameter_mm, "diameter_mm")?,
        };
        // SAFETY: the caller gave the watcher to be called so.
        let found = unsafe {
            metered(work_limit, watcher, userdata, |meter| {
                let search = TrainSearch::new(&set, gears.pairs(), mesh, meter)?;
                lead_gearing(&search, &wanted, meter)
            })?
        };
        out.write(LeadRecord::of(&found)?);
        Ok(())
    })
}

/// How a plan by differential indexing is geared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct DifferentialRecord {
    /// The gears: the first driver on the spindle, the last driven on the shaft
    /// that turns the plate.
    pub train: TrainRecord,
    /// Equal parts of a turn.
    pub divisions: i64,
    /// How many of them one move makes.
    pub divisions_a_move: i64,
    /// Hole spaces of one move, whole crank turns counted.
    pub spaces: i64,
    /// 1 when the plate turns against the crank, 0 when with it.
    pub against: u8,
}

/// The gears of a plan by differential indexing.
///
/// Errors: not_found; inconsistent for a plan by another method; overflow;
/// null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_differential(
    plans: *const PlansHandle,
    plan: usize,
    out: *mut DifferentialRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(plans, "plans", out, |it| {
            match &it.plans().plan(plan)?.way {
                WayKind::DifferentialIndexing {
                    divisions,
                    divisions_a_move,
                    spaces,
                    train,
                    plate_sense,
                    ..
                } => Ok(DifferentialRecord {
                    train: TrainRecord::of(train)?,
                    divisions: fitted(*divisions, "divisions")?,
                    divisions_a_move: fitted(*divisions_a_move, "divisions_a_move")?,
                    spaces: fitted(*spaces, "spaces")?,
                    against: (*plate_sense == PlateSense::AgainstCrank).into(),
                }),
                _ => Err(other_method("differential")),
            }
        })
    }
}

/// One move of a plan by compound indexing, repeated for every division.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct CompoundRecord {
    /// Equal parts of a turn.
    pub divisions: i64,
    /// How many of them one move makes.
    pub divisions_a_move: i64,
    /// Whole crank turns of one move, backward where below zero.
    pub whole_turns: i64,
    /// Holes of the crank on its circle, backward where below zero.
    pub first_holes: i64,
    /// Holes of plate and crank together on the second circle, backward where
    /// below zero.
    pub second_holes: i64,
}

/// The move of a plan by compound indexing; its steps say the circles.
///
/// Errors: not_found; inconsistent for a plan by another method; overflow;
/// null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_compound(
    plans: *const PlansHandle,
    plan: usize,
    out: *mut CompoundRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(plans, "plans", out, |it| {
            match &it.plans().plan(plan)?.way {
                WayKind::CompoundIndexing {
                    divisions,
                    divisions_a_move,
                    whole_turns,
                    first_holes,
                    second_holes,
                    ..
                } => Ok(CompoundRecord {
                    divisions: fitted(*divisions, "divisions")?,
                    divisions_a_move: fitted(*divisions_a_move, "divisions_a_move")?,
                    whole_turns: fitted(*whole_turns, "whole_turns")?,
                    first_holes: *first_holes,
                    second_holes: *second_holes,
                }),
                _ => Err(other_method("compound")),
            }
        })
    }
}

fn other_method(wanted: &str) -> Failure {
    Failure::new(
        Status::Inconsistent,
        "plan",
        format!("the plan goes by another method; accepted: a plan by {wanted} indexing"),
    )
}
