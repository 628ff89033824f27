//! Stepping tables: the nearest move to be repeated, for every number of
//! divisions, and what repeating it does.

use std::ffi::{c_char, c_void};

use dividing_core::tables::{
    SeveralDivisionsColumns, SteppingColumns, SteppingTable, TableColumns, stepping_table,
};

use crate::error::Outcome;
use crate::handle;
use crate::live::{self, Handle};
use crate::status::Status;
use crate::table_copy::{Copies, copied};
use crate::tables::{
    CompoundTableRecord, DifferentialTableRecord, IndexingMethod, SectionRecord, Sections,
    SimpleRecord, TableRecord, another_method, section,
};
use crate::text;
use crate::watch::Watcher;
use crate::workshop::WorkshopHandle;

/// The nearest moves to be repeated for a range of divisions: an opaque handle.
///
/// Made by dividing_stepping_table_new, freed by dividing_stepping_table_free.
/// It never changes in between, so any number of threads may read it at a time.
pub struct SteppingTableHandle {
    table: SteppingTable,
}

impl Handle for SteppingTableHandle {
    const MARK: [u8; 8] = *b"step.tab";
}

impl Sections for SteppingTableHandle {
    fn moves(&self, index: usize) -> Outcome<&TableColumns> {
        Ok(&section(&self.table.sections, index)?.moves)
    }
}

impl SteppingTableHandle {
    fn errors(&self, index: usize) -> Outcome<&SteppingColumns> {
        Ok(&section(&self.table.sections, index)?.errors)
    }

    fn several(&self, index: usize) -> Outcome<&SeveralDivisionsColumns> {
        let found = section(&self.table.sections, index)?;
        let several = found.several_divisions.as_ref();
        several.ok_or_else(|| another_method(index, "simple indexing"))
    }
}

/// What repeating a move round the turn does: columns of the table's handle, one
/// entry a row.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct SteppingRecord {
    /// Entries of each column.
    pub length: usize,
    /// Made less wanted for one division, in turns; 0 where exact.
    pub per_division_turns: *const f64,
    /// The largest error over the turn, without sign, in turns; 0 where exact.
    pub worst_turns: *const f64,
    /// How far off the turn closes, in turns; 0 where exact.
    pub closing_turns: *const f64,
}

impl SteppingRecord {
    fn of(columns: &SteppingColumns) -> Self {
        Self {
            length: columns.per_division_turns.len(),
            per_division_turns: columns.per_division_turns.as_ptr(),
            worst_turns: columns.worst_turns.as_ptr(),
            closing_turns: columns.closing_turns.as_ptr(),
        }
    }
}

/// Simple moves of several divisions at a time, which visit every place in another
/// order: columns of the table's handle, one entry a row.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct SeveralDivisionsRecord {
    /// Entries of each column.
    pub length: usize,
    /// Divisions a move, prime to the number of divisions; 1 where nothing is
    /// nearer than single divisions.
    pub divisions: *const u32,
    /// The plate, as listed.
    pub plate: *const u32,
    /// 1 where the plate shows its back, else 0.
    pub back: *const u8,
    /// Holes on the circle; 0 where no circle has a move.
    pub circle: *const u32,
    /// Whole crank turns of a move.
    pub turns: *const u32,
    /// Holes beyond them.
    pub holes: *const u32,
    /// Made less wanted for one move, in turns.
    pub per_move_turns: *const f64,
    /// The largest error over all moves, without sign, in turns.
    pub worst_turns: *const f64,
    /// How far off the last of all moves closes, in turns.
    pub closing_turns: *const f64,
}

impl SeveralDivisionsRecord {
    fn of(columns: &SeveralDivisionsColumns) -> Self {
        Self {
            length: columns.divisions.len(),
            divisions: columns.divisions.as_ptr(),
            plate: columns.plate.as_ptr(),
            back: columns.back.as_ptr(),
            circle: columns.circle.as_ptr(),
            turns: columns.turns.as_ptr(),
            holes: columns.holes.as_ptr(),
            per_move_turns: columns.per_move_turns.as_ptr(),
            worst_turns: columns.worst_turns.as_ptr(),
            closing_turns: columns.closing_turns.as_ptr(),
        }
    }
}

/// Arrays of the caller for what repeating a move does, each with room for
/// `capacity` entries; a column whose pointer is NULL is left out.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct SteppingPlaces {
    /// Room of each array, in entries.
    pub capacity: usize,
    /// Made less wanted for one division, in turns; 0 where exact.
    pub per_division_turns: *mut f64,
    /// The largest error over the turn, without sign, in turns; 0 where exact.
    pub worst_turns: *mut f64,
    /// How far off the turn closes, in turns; 0 where exact.
    pub closing_turns: *mut f64,
}

impl SteppingPlaces {
    /// # Safety
    /// Every array is NULL or has the room that it says.
    unsafe fn take(&self, columns: &SteppingColumns) -> Outcome {
        let mut copies = Copies::new(self.capacity);
        // SAFETY: the caller's contract.
        unsafe {
            copies.add(
                self.per_division_turns,
                "per_division_turns",
                &columns.per_division_turns,
            )?;
            copies.add(self.worst_turns, "worst_turns", &columns.worst_turns)?;
            copies.add(self.closing_turns, "closing_turns", &columns.closing_turns)?;
        }
        copies.make();
        Ok(())
    }
}

/// Arrays of the caller for moves of several divisions, each with room for
/// `capacity` entries; a column whose pointer is NULL is left out.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct SeveralDivisionsPlaces {
    /// Room of each array, in entries.
    pub capacity: usize,
    /// Divisions a move, prime to the number of divisions; 1 where nothing is
    /// nearer than single divisions.
    pub divisions: *mut u32,
    /// The plate, as listed.
    pub plate: *mut u32,
    /// 1 where the plate shows its back, else 0.
    pub back: *mut u8,
    /// Holes on the circle; 0 where no circle has a move.
    pub circle: *mut u32,
    /// Whole crank turns of a move.
    pub turns: *mut u32,
    /// Holes beyond them.
    pub holes: *mut u32,
    /// Made less wanted for one move, in turns.
    pub per_move_turns: *mut f64,
    /// The largest error over all moves, without sign, in turns.
    pub worst_turns: *mut f64,
    /// How far off the last of all moves closes, in turns.
    pub closing_turns: *mut f64,
}

impl SeveralDivisionsPlaces {
    /// # Safety
    /// Every array is NULL or has the room that it says.
    unsafe fn take(&self, columns: &SeveralDivisionsColumns) -> Outcome {
        let mut copies = Copies::new(self.capacity);
        // SAFETY: the caller's contract.
        unsafe {
            copies.add(self.divisions, "divisions", &columns.divisions)?;
            copies.add(self.plate, "plate", &columns.plate)?;
            copies.add(self.back, "back", &columns.back)?;
            copies.add(self.circle, "circle", &columns.circle)?;
            copies.add(self.turns, "turns", &columns.turns)?;
            copies.add(self.holes, "holes", &columns.holes)?;
            copies.add(
                self.per_move_turns,
                "per_move_turns",
                &columns.per_move_turns,
            )?;
            copies.add(self.worst_turns, "worst_turns", &columns.worst_turns)?;
            copies.add(self.closing_turns, "closing_turns", &columns.closing_turns)?;
        }
        copies.make();
        Ok(())
    }
}

/// Finds the nearest move of every method of every worm head for `first` to
/// `last` divisions, to be repeated round the turn; both numbers are 1 to
/// 1000000. Other equipment has no moves to repeat and gives no section.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within; when
/// they stop the search, the table is marked incomplete.
///
/// Errors: out_of_range, overflow, null_pointer, misaligned. Ownership: `*out`
/// is the caller's, freed with dividing_stepping_table_free; the workshop may
/// be freed before it. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_stepping_table_new(
    workshop: *const WorkshopHandle,
    first: u32,
    last: u32,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut SteppingTableHandle,
) -> Status {
    let work = (work_limit, watcher, userdata);
    // SAFETY: the contract of this function.
    unsafe {
        handle::made_from(workshop, "workshop", work, out, |it, meter| {
            let table = stepping_table(it.workshop(), first, last, meter)?;
            Ok(SteppingTableHandle { table })
        })
    }
}

/// Frees a table.
///
/// Ownership: the handle and its columns are gone; to free or use it again is
/// an error of the caller, seen (not_a_handle) only while its memory is not
/// used for something else. NULL is accepted and does nothing. Threads: any,
/// while no other thread uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_stepping_table_free(table: *mut SteppingTableHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(table, "table") }
}

/// What the table covers.
///
/// Where it is not complete, rows may hold no move, or one that is not the
/// nearest.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_stepping_table_covers(
    table: *const SteppingTableHandle,
    out: *mut TableRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(table, "table", out, |it| {
            let table = &it.table;
            let section_count = table.sections.len();
            Ok(TableRecord::of(
                table.first,
                table.last,
                section_count,
                table.complete,
            ))
        })
    }
}

/// One section, counted from 0: its worm head, its method (simple, compound or
/// differential), and where repeating the move is exact.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: the column belongs to
/// the handle and is valid until it is freed. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_stepping_table_section(
    table: *const SteppingTableHandle,
    index: usize,
    out: *mut SectionRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(table, "table", out, |it| {
            let section = section(&it.table.sections, index)?;
            Ok(SectionRecord {
                equipment: section.equipment,
                method: IndexingMethod::of(section.moves.method()),
                exact: section.moves.exact().as_ptr(),
            })
        })
    }
}

/// The moves of simple indexing, read in place: where none is exact, the nearest.
/// `residual_turns` is 0 throughout, as no setting is counted from zero;
/// dividing_stepping_table_errors has what repeating the move does.
///
/// Errors, ownership and threads as dividing_indexing_table_simple.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_stepping_table_simple(
    table: *const SteppingTableHandle,
    index: usize,
    out: *mut SimpleRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(table, "table", out, |it| {
            Ok(SimpleRecord::of(it.simple(index)?))
        })
    }
}

/// The moves of compound indexing, read in place: where none is exact, the
/// nearest; all 0 where no plate has two circles on one side.
///
/// Errors, ownership and threads as dividing_indexing_table_simple.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_stepping_table_compound(
    table: *const SteppingTableHandle,
    index: usize,
    out: *mut CompoundTableRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(table, "table", out, |it| {
            Ok(CompoundTableRecord::of(it.compound(index)?))
        })
    }
}

/// The moves of differential indexing, read in place: where none is exact, the
/// nearest.
///
/// Errors, ownership and threads as dividing_indexing_table_simple.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_stepping_table_differential(
    table: *const SteppingTableHandle,
    index: usize,
    out: *mut DifferentialTableRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(table, "table", out, |it| {
            Ok(DifferentialTableRecord::of(it.differential(index)?))
        })
    }
}

/// What repeating the moves of a section does, of any method, read in place.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: the columns belong to
/// the handle and are valid until it is freed. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_stepping_table_errors(
    table: *const SteppingTableHandle,
    index: usize,
    out: *mut SteppingRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(table, "table", out, |it| {
            Ok(SteppingRecord::of(it.errors(index)?))
        })
    }
}

/// The nearest moves of several divisions, of a section of simple indexing, read
/// in place.
///
/// Errors, ownership and threads as dividing_indexing_table_simple.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_stepping_table_several_divisions(
    table: *const SteppingTableHandle,
    index: usize,
    out: *mut SeveralDivisionsRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(table, "table", out, |it| {
            Ok(SeveralDivisionsRecord::of(it.several(index)?))
        })
    }
}

/// Copies what repeating the moves of a section does into the caller's arrays.
///
/// Errors: not_found, buffer_too_small, null_pointer, misaligned; on any of them
/// no array is touched. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_stepping_table_copy_errors(
    table: *const SteppingTableHandle,
    index: usize,
    places: *const SteppingPlaces,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        copied(table, places, |table, places| {
            places.take(table.errors(index)?)
        })
    }
}

/// Copies the moves of several divisions, of a section of simple indexing, into
/// the caller's arrays.
///
/// Errors and threads as dividing_indexing_table_copy_simple.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_stepping_table_copy_several_divisions(
    table: *const SteppingTableHandle,
    index: usize,
    places: *const SeveralDivisionsPlaces,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        copied(table, places, |table, places| {
            places.take(table.several(index)?)
        })
    }
}

/// The table as JSON.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_stepping_table_json(
    table: *const SteppingTableHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::text_of(table, "table", out, |it| text::json(&it.table)) }
}
