//! Columns of whole tables into the caller's arrays.

use dividing_core::tables::{CompoundColumns, DifferentialColumns, HeldColumns, SimpleColumns};

use crate::array::OutArray;
use crate::error::Outcome;
use crate::guard::guard;
use crate::live;
use crate::pointer::reference;
use crate::status::Status;
use crate::tables::IndexingTableHandle;

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
struct Copies<'a> {
    capacity: usize,
    steps: Vec<Box<dyn FnOnce() + 'a>>,
}

impl<'a> Copies<'a> {
    const fn new(capacity: usize) -> Self {
        Self {
            capacity,
            steps: Vec::new(),
        }
    }

    /// # Safety
    /// `place` as in [`OutArray::unless_null`] until the copies are made.
    unsafe fn add<T: Copy + 'a>(
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

    fn make(self) {
        for step in self.steps {
            step();
        }
    }
}

/// # Safety
/// The contract of the exports that call it.
unsafe fn copied<P>(
    table: *const IndexingTableHandle,
    places: *const P,
    copy: impl FnOnce(&IndexingTableHandle, &P) -> Outcome,
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
            let columns: &SimpleColumns = table.simple(index)?;
            let mut copies = Copies::new(places.capacity);
            copies.add(places.exact, "exact", &columns.exact)?;
            copies.add(places.plate, "plate", &columns.plate)?;
            copies.add(places.back, "back", &columns.back)?;
            copies.add(places.circle, "circle", &columns.circle)?;
            copies.add(places.turns, "turns", &columns.turns)?;
            copies.add(places.holes, "holes", &columns.holes)?;
            copies.add(
                places.residual_turns,
                "residual_turns",
                &columns.residual_turns,
            )?;
            copies.add(
                places.closing_turns,
                "closing_turns",
                &columns.closing_turns,
            )?;
            copies.make();
            Ok(())
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
            let columns: &CompoundColumns = table.compound(index)?;
            let mut copies = Copies::new(places.capacity);
            copies.add(places.exact, "exact", &columns.exact)?;
            copies.add(places.plate, "plate", &columns.plate)?;
            copies.add(places.back, "back", &columns.back)?;
            copies.add(places.whole_turns, "whole_turns", &columns.whole_turns)?;
            copies.add(places.first_circle, "first_circle", &columns.first_circle)?;
            copies.add(places.first_holes, "first_holes", &columns.first_holes)?;
            copies.add(
                places.second_circle,
                "second_circle",
                &columns.second_circle,
            )?;
            copies.add(places.second_holes, "second_holes", &columns.second_holes)?;
            copies.make();
            Ok(())
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
            let columns: &DifferentialColumns = table.differential(index)?;
            let mut copies = Copies::new(places.capacity);
            copies.add(places.exact, "exact", &columns.exact)?;
            copies.add(places.plate, "plate", &columns.plate)?;
            copies.add(places.back, "back", &columns.back)?;
            copies.add(places.circle, "circle", &columns.circle)?;
            copies.add(places.turns, "turns", &columns.turns)?;
            copies.add(places.holes, "holes", &columns.holes)?;
            copies.add(places.against, "against", &columns.against)?;
            copies.add(places.idlers, "idlers", &columns.idlers)?;
            for (place, column) in places.drivers.iter().zip(&columns.drivers) {
                copies.add(*place, "drivers", column)?;
            }
            for (place, column) in places.driven.iter().zip(&columns.driven) {
                copies.add(*place, "driven", column)?;
            }
            copies.make();
            Ok(())
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
            let columns: &HeldColumns = table.held(index)?;
            let mut copies = Copies::new(places.capacity);
            copies.add(places.exact, "exact", &columns.exact)?;
            copies.add(places.way, "way", &columns.way)?;
            copies.add(
                places.residual_turns,
                "residual_turns",
                &columns.residual_turns,
            )?;
            copies.make();
            Ok(())
        })
    }
}
