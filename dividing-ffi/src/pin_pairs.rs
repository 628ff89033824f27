//! Pairs of pins of a pin plate, compared.

use dividing_core::Equipment;
use dividing_core::accuracy::{PinPair, best_pin_pairs};

use crate::array::OutArray;
use crate::contributor::criterion_of;
use crate::equipment::EquipmentHandle;
use crate::error::Failure;
use crate::guard::guard;
use crate::live;
use crate::pointer::Out;
use crate::status::Status;

/// Two pins of one ring, and how well a level bar stands on them.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct PinPairRecord {
    /// The ring, counted from 0 as listed.
    pub circle: usize,
    /// Holes on the ring.
    pub holes: u32,
    /// Hole spaces between the pins.
    pub span: u32,
    /// Distance of the pins, in millimetres.
    pub baseline_mm: f64,
    /// What the criterion gives, in radians.
    pub total_rad: f64,
}

impl PinPairRecord {
    const fn of(found: &PinPair) -> Self {
        Self {
            circle: found.circle,
            holes: found.holes,
            span: found.span,
            baseline_mm: found.baseline_mm,
            total_rad: found.total_rad,
        }
    }
}

/// Every span of pins of a pin plate, the best first, into the caller's array of
/// `capacity` records; `out` takes how many. There are at most half as many as
/// the places of all its rings. `criterion` is a dividing_criterion,
/// `coverage_factor` that of an expanded uncertainty.
///
/// Errors: inconsistent for other equipment; undetermined without the sizes of
/// pins and holes; out_of_range; buffer_too_small, whose message says how many;
/// null_pointer, misaligned; on any of them nothing is touched. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_best_pin_pairs(
    equipment: *const EquipmentHandle,
    criterion: i32,
    coverage_factor: f64,
    pairs: *mut PinPairRecord,
    capacity: usize,
    out: *mut usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (equipment, pairs, out) = unsafe {
            (
                live::reference(equipment, "equipment")?,
                OutArray::new(pairs, capacity, "pairs")?,
                Out::new(out, "out")?,
            )
        };
        let Equipment::PinPlate(plate) = equipment.piece() else {
            return Err(Failure::new(
                Status::Inconsistent,
                "equipment",
                format!(
                    "a {} has no pins to choose; accepted: a pin_plate",
                    equipment.piece().kind()
                ),
            ));
        };
        let found = best_pin_pairs(plate, criterion_of(criterion, coverage_factor)?)?;
        let records: Vec<_> = found.iter().map(PinPairRecord::of).collect();
        pairs.give(&records)?;
        out.write(records.len());
        Ok(())
    })
}
