//! Columns of whole tables into the caller's arrays.

use dividing_core::tables::{CompoundColumns, DifferentialColumns, HeldColumns, SimpleColumns};

use crate::array::OutArray;
use crate::error::Outcome;
use crate::guard::guard;
use crate::live::{self, Handle};
use crate::pointer::reference;
use crate::status::Status;
use crate::stepping::SteppingTableHandle;
use crate::tables::{IndexingTableHandle, Sections};

/// Arrays of the caller for simple indexing, each with room for `capacity`
/// entries; a column whose pointer is NULL is left out. What they hold is said
/// at dividing_simple_columns.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct SimplePlaces {
    /// Room of each array, in entries.
    pub capacity: usize,
    /// 1 where exact, else 0.
    pub exact: *mut u8,
    /// The plate.
    pub plate: *mut u32,
    /// 1 where the plate shows its back.
    pub back: *mut u8,
    /// Holes on the circle.
    pub circle: *mut u32,
    /// Whole crank turns.
    pub turns: *mut u32,
    /// Holes beyond them.
    pub holes: *mut u32,
    /// The largest residual, in turns.
    pub residual_turns: *mut f64,
    /// The closing error, in turns.
    pub closing_turns: *mut f64,
}

/// Arrays of the caller for compound indexing, each with room for `capacity`
/// entries; a column whose pointer is NULL is left out. What they hold is said
/// at dividing_compound_columns.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct CompoundPlaces {
    /// Room of each array, in entries.
    pub capacity: usize,
    /// 1 where exact, else 0.
    pub exact: *mut u8,
    /// The plate.
    pub plate: *mut u32,
    /// 1 where the plate shows its back.
    pub back: *mut u8,
    /// Whole crank turns.
    pub whole_turns: *mut i32,
    /// Holes on the circle of the crank pin.
    pub first_circle: *mut u32,
    /// Holes of the crank.
    pub first_holes: *mut i32,
    /// Holes on the circle of the plate's pin.
    pub second_circle: *mut u32,
    /// Holes of plate and crank.
    pub second_holes: *mut i32,
}

/// Arrays of the caller for differential indexing, each with room for
/// `capacity` entries; a column whose pointer is NULL is left out. What they
/// hold is said at dividing_differential_columns.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct DifferentialPlaces {
    /// Room of each array, in entries.
    pub capacity: usize,
    /// 1 where exact, else 0.
    pub exact: *mut u8,
    /// The plate.
    pub plate: *mut u32,
    /// 1 where the plate shows its back.
    pub back: *mut u8,
    /// Holes on the circle.
    pub circle: *mut u32,
    /// Whole crank turns.
    pub turns: *mut i64,
    /// Holes beyond them.
    pub holes: *mut u32,
    /// 1 where the plate turns against the crank.
    pub against: *mut u8,
    /// Idlers.
    pub idlers: *mut u8,
    /// Teeth of the drivers.
    pub drivers: [*mut u16; 3],
    /// Teeth of the driven gears.
    pub driven: [*mut u16; 3],
}

/// Arrays of the caller for other equipment, each with room for `capacity`
/// entries; a column whose pointer is NULL is left out. What they hold is said
/// at dividing_held_columns.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct HeldPlaces {
    /// Room of each array, in entries.
    pub capacity: usize,
    /// 1 where exact, else 0.
    pub exact: *mut u8,
    /// The way.
    pub way: *mut u32,
    /// The largest residual, in turns.
    pub residual_turns: *mut f64,
}

/// Copies to be made, once all of them are known to be possible.
pub(crate) struct Copies<'a> {
    capacity: usize,
    steps: Vec<Box<dyn FnOnce() + 'a>>,
}

impl<'a> Copies<'a> {
    pub(crate) const fn new(capacity: usize) -> Self {
        Self {
            capacity,
            steps: Vec::new(),
        }
    }

    /// # Safety
    /// `place` as in [`OutArray::unless_null`] until the copies are made.
    pub(crate) unsafe fn add<T: Copy + 'a>(
        &mut self,
        place: *mut T,
        name: &'static str,
        column: &'a [T],
    ) -> Outcome {
        // SAFETY: the caller's contract.
        if let Some(array) = unsafe { OutArray::unless_null(place, self.capacity, name)? } {
            array.check_room(column.len())?;
            self.steps
                .push(Box::new(|| array.write(column.iter().copied())));
        }
        Ok(())
    }

    pub(crate) fn make(self) {
        for step in self.steps {
            step();
        }
    }
}

/// # Safety
/// The contract of the exports that call it.
pub(crate) unsafe fn copied<T: Handle, P>(
    table: *const T,
    places: *const P,
    copy: impl FnOnce(&T, &P) -> Outcome,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (table, places) = unsafe {
            (
                live::reference(table, "table")?,
                reference(places, "places")?,
            )
        };
        copy(table, places)
    })
}

impl SimplePlaces {
    /// # Safety
    /// Every array is NULL or has the room that it says.
    unsafe fn take(&self, columns: &SimpleColumns) -> Outcome {
        // SAFETY: the caller's contract, here and below.
        unsafe {
            let mut copies = Copies::new(self.capacity);
            copies.add(self.exact, "exact", &columns.exact)?;
            copies.add(self.plate, "plate", &columns.plate)?;
            copies.add(self.back, "back", &columns.back)?;
            copies.add(self.circle, "circle", &columns.circle)?;
            copies.add(self.turns, "turns", &columns.turns)?;
            copies.add(self.holes, "holes", &columns.holes)?;
            copies.add(
                self.residual_turns,
                "residual_turns",
                &columns.residual_turns,
            )?;
            copies.add(self.closing_turns, "closing_turns", &columns.closing_turns)?;
            copies.make();
        }
        Ok(())
    }
}

impl CompoundPlaces {
    /// # Safety
    /// Every array is NULL or has the room that it says.
    unsafe fn take(&self, columns: &CompoundColumns) -> Outcome {
        // SAFETY: the caller's contract, here and below.
        unsafe {
            let mut copies = Copies::new(self.capacity);
            copies.add(self.exact, "exact", &columns.exact)?;
            copies.add(self.plate, "plate", &columns.plate)?;
            copies.add(self.back, "back", &columns.back)?;
            copies.add(self.whole_turns, "whole_turns", &columns.whole_turns)?;
            copies.add(self.first_circle, "first_circle", &columns.first_circle)?;
            copies.add(self.first_holes, "first_holes", &columns.first_holes)?;
            copies.add(self.second_circle, "second_circle", &columns.second_circle)?;
            copies.add(self.second_holes, "second_holes", &columns.second_holes)?;
            copies.make();
        }
        Ok(())
    }
}

impl DifferentialPlaces {
    /// # Safety
    /// Every array is NULL or has the room that it says.
    unsafe fn take(&self, columns: &DifferentialColumns) -> Outcome {
        // SAFETY: the caller's contract, here and below.
        unsafe {
            let mut copies = Copies::new(self.capacity);
            copies.add(self.exact, "exact", &columns.exact)?;
            copies.add(self.plate, "plate", &columns.plate)?;
            copies.add(self.back, "back", &columns.back)?;
            copies.add(self.circle, "circle", &columns.circle)?;
            copies.add(self.turns, "turns", &columns.turns)?;
            copies.add(self.holes, "holes", &columns.holes)?;
            copies.add(self.against, "against", &columns.against)?;
            copies.add(self.idlers, "idlers", &columns.idlers)?;
            for (place, column) in self.drivers.iter().zip(&columns.drivers) {
                copies.add(*place, "drivers", column)?;
            }
            for (place, column) in self.driven.iter().zip(&columns.driven) {
                copies.add(*place, "driven", column)?;
            }
            copies.make();
        }
        Ok(())
    }
}

impl HeldPlaces {
    /// # Safety
    /// Every array is NULL or has the room that it says.
    unsafe fn take(&self, columns: &HeldColumns) -> Outcome {
        // SAFETY: the caller's contract, here and below.
        unsafe {
            let mut copies = Copies::new(self.capacity);
            copies.add(self.exact, "exact", &columns.exact)?;
            copies.add(self.way, "way", &columns.way)?;
            copies.add(
                self.residual_turns,
                "residual_turns",
                &columns.residual_turns,
            )?;
            copies.make();
        }
        Ok(())
    }
}

/// Copies the columns of a section of simple indexing into the caller's arrays.
///
/// Errors: not_found; inconsistent for a section of another method;
/// buffer_too_small, null_pointer, misaligned; on any of them no array is
/// touched. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_indexing_table_copy_simple(
    table: *const IndexingTableHandle,
    index: usize,
    places: *const SimplePlaces,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        copied(table, places, |table, places| {
            places.take(table.simple(index)?)
        })
    }
}

/// Copies the columns of a section of compound indexing into the caller's
/// arrays.
///
/// Errors and threads as dividing_indexing_table_copy_simple.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_indexing_table_copy_compound(
    table: *const IndexingTableHandle,
    index: usize,
    places: *const CompoundPlaces,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        copied(table, places, |table, places| {
            places.take(table.compound(index)?)
        })
    }
}

/// Copies the columns of a section of differential indexing into the caller's
/// arrays.
///
/// Errors and threads as dividing_indexing_table_copy_simple.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_indexing_table_copy_differential(
    table: *const IndexingTableHandle,
    index: usize,
    places: *const DifferentialPlaces,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        copied(table, places, |table, places| {
            places.take(table.differential(index)?)
        })
    }
}

/// Copies the columns of a section of other equipment into the caller's arrays.
///
/// Errors and threads as dividing_indexing_table_copy_simple.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_indexing_table_copy_held(
    table: *const IndexingTableHandle,
    index: usize,
    places: *const HeldPlaces,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        copied(table, places, |table, places| {
            places.take(table.held(index)?)
        })
    }
}

/// Copies the columns of a section of simple indexing of a stepping table into the
/// caller's arrays; what repeating the moves does is copied by
/// dividing_stepping_table_copy_errors.
///
/// Errors and threads as dividing_indexing_table_copy_simple.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_stepping_table_copy_simple(
    table: *const SteppingTableHandle,
    index: usize,
    places: *const SimplePlaces,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        copied(table, places, |table, places| {
            places.take(table.simple(index)?)
        })
    }
}

/// Copies the columns of a section of compound indexing of a stepping table into the
/// caller's arrays; what repeating the moves does is copied by
/// dividing_stepping_table_copy_errors.
///
/// Errors and threads as dividing_indexing_table_copy_simple.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_stepping_table_copy_compound(
    table: *const SteppingTableHandle,
    index: usize,
    places: *const CompoundPlaces,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        copied(table, places, |table, places| {
            places.take(table.compound(index)?)
        })
    }
}

/// Copies the columns of a section of differential indexing of a stepping table into the
/// caller's arrays; what repeating the moves does is copied by
/// dividing_stepping_table_copy_errors.
///
/// Errors and threads as dividing_indexing_table_copy_simple.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_stepping_table_copy_differential(
    table: *const SteppingTableHandle,
    index: usize,
    places: *const DifferentialPlaces,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        copied(table, places, |table, places| {
            places.take(table.differential(index)?)
        })
    }
}
