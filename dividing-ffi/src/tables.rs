//! Whole tables: every number of divisions, every method, all equipment, in
//! columns.

use std::ffi::{c_char, c_void};

use dividing_core::tables::{
    CompoundColumns, DifferentialColumns, ExactTable, HeldColumns, IndexingTable, SimpleColumns,
    TableColumns, TableMethod, exact_table, indexing_table,
};

use crate::array::OutArray;
use crate::error::{Failure, Outcome};
use crate::guard::guard;
use crate::handle;
use crate::live::{self, Handle};
use crate::status::Status;
use crate::text;
use crate::watch::Watcher;
use crate::workshop::WorkshopHandle;

/// Which divisions a workshop makes exactly: an opaque handle.
///
/// Made by dividing_exact_table_new, freed by dividing_exact_table_free. It
/// never changes in between, so any number of threads may read it at a time.
pub struct ExactTableHandle {
    table: ExactTable,
}

impl Handle for ExactTableHandle {
    const MARK: [u8; 8] = *b"exactab.";
}

/// The best settings for a range of divisions: an opaque handle.
///
/// Made by dividing_indexing_table_new, freed by dividing_indexing_table_free.
/// It never changes in between, so any number of threads may read it at a time.
pub struct IndexingTableHandle {
    table: IndexingTable,
}

impl Handle for IndexingTableHandle {
    const MARK: [u8; 8] = *b"indx.tab";
}

/// A method of indexing, for one piece of equipment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum IndexingMethod {
    /// A method that this version has no name for.
    Other = 0,
    /// Simple indexing on a worm head.
    Simple = 1,
    /// Compound indexing on a worm head.
    Compound = 2,
    /// Differential indexing on a worm head with change gears.
    Differential = 3,
    /// Whatever another piece of equipment holds by itself.
    Held = 4,
}

impl IndexingMethod {
    pub(crate) const fn of(method: TableMethod) -> Self {
        match method {
            TableMethod::Simple => Self::Simple,
            TableMethod::Compound => Self::Compound,
            TableMethod::Differential => Self::Differential,
            TableMethod::Held => Self::Held,
            _ => Self::Other,
        }
    }
}

/// What a table covers. Entry i of its columns is for `first + i` divisions.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct TableRecord {
    /// The first number of divisions.
    pub first: u32,
    /// The last.
    pub last: u32,
    /// Entries of each column.
    pub row_count: usize,
    /// Sections: by equipment, in the order of the workshop, and method.
    pub section_count: usize,
    /// Whether all was looked at. Where not, what is marked exact is, and the
    /// rest may not be settled.
    pub complete: bool,
}

impl TableRecord {
    pub(crate) const fn of(first: u32, last: u32, section_count: usize, complete: bool) -> Self {
        Self {
            first,
            last,
            row_count: (last - first) as usize + 1,
            section_count,
            complete,
        }
    }
}

/// One section of a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct SectionRecord {
    /// The piece of equipment, by its place in the workshop.
    pub equipment: usize,
    /// The method.
    pub method: IndexingMethod,
    /// 1 where exact, else 0: one byte for each row of the table. The column
    /// belongs to the table's handle.
    pub exact: *const u8,
}

/// Simple indexing: columns of the table's handle, one entry a row.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct SimpleRecord {
    /// Entries of each column.
    pub length: usize,
    /// 1 where exact, else 0.
    pub exact: *const u8,
    /// The plate, as listed.
    pub plate: *const u32,
    /// 1 where the plate shows its back, else 0.
    pub back: *const u8,
    /// Holes on the circle: where not exact, the one that comes nearest.
    pub circle: *const u32,
    /// Whole crank turns of a move, rounded to the nearest hole where not exact.
    pub turns: *const u32,
    /// Holes beyond them.
    pub holes: *const u32,
    /// The largest residual in turns, settings counted from zero and the start
    /// free; 0 where exact.
    pub residual_turns: *const f64,
    /// How far off the turn closes, in turns, when the rounded move is repeated
    /// instead; 0 where exact.
    pub closing_turns: *const f64,
}

impl SimpleRecord {
    pub(crate) fn of(columns: &SimpleColumns) -> Self {
        Self {
            length: columns.exact.len(),
            exact: columns.exact.as_ptr(),
            plate: columns.plate.as_ptr(),
            back: columns.back.as_ptr(),
            circle: columns.circle.as_ptr(),
            turns: columns.turns.as_ptr(),
            holes: columns.holes.as_ptr(),
            residual_turns: columns.residual_turns.as_ptr(),
            closing_turns: columns.closing_turns.as_ptr(),
        }
    }
}

/// Compound indexing: columns of the table's handle, one entry a row; 0 where it
/// is not exact.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct CompoundTableRecord {
    /// Entries of each column.
    pub length: usize,
    /// 1 where exact, else 0.
    pub exact: *const u8,
    /// The plate, as listed.
    pub plate: *const u32,
    /// 1 where the plate shows its back, else 0.
    pub back: *const u8,
    /// Whole crank turns, backward where below zero.
    pub whole_turns: *const i32,
    /// Holes on the circle of the crank pin.
    pub first_circle: *const u32,
    /// Holes of the crank, backward where below zero.
    pub first_holes: *const i32,
    /// Holes on the circle of the plate's pin.
    pub second_circle: *const u32,
    /// Holes of plate and crank, backward where below zero.
    pub second_holes: *const i32,
}

impl CompoundTableRecord {
    pub(crate) fn of(columns: &CompoundColumns) -> Self {
        Self {
            length: columns.exact.len(),
            exact: columns.exact.as_ptr(),
            plate: columns.plate.as_ptr(),
            back: columns.back.as_ptr(),
            whole_turns: columns.whole_turns.as_ptr(),
            first_circle: columns.first_circle.as_ptr(),
            first_holes: columns.first_holes.as_ptr(),
            second_circle: columns.second_circle.as_ptr(),
            second_holes: columns.second_holes.as_ptr(),
        }
    }
}

/// Differential indexing: columns of the table's handle, one entry a row; 0
/// where it is not exact.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct DifferentialTableRecord {
    /// Entries of each column.
    pub length: usize,
    /// 1 where exact, else 0.
    pub exact: *const u8,
    /// The plate, as listed.
    pub plate: *const u32,
    /// 1 where the plate shows its back, else 0.
    pub back: *const u8,
    /// Holes on the circle.
    pub circle: *const u32,
    /// Whole crank turns of a move, counted on the plate.
    pub turns: *const i64,
    /// Holes beyond them.
    pub holes: *const u32,
    /// 1 where the plate turns against the crank, else 0.
    pub against: *const u8,
    /// Idlers, by the convention of the head.
    pub idlers: *const u8,
    /// Teeth of the drivers, from the spindle: three columns, 0 where there is
    /// none.
    pub drivers: [*const u16; 3],
    /// Teeth of the driven gears, to the shaft of the plate.
    pub driven: [*const u16; 3],
}

impl DifferentialTableRecord {
    pub(crate) fn of(columns: &DifferentialColumns) -> Self {
        Self {
            length: columns.exact.len(),
            exact: columns.exact.as_ptr(),
            plate: columns.plate.as_ptr(),
            back: columns.back.as_ptr(),
            circle: columns.circle.as_ptr(),
            turns: columns.turns.as_ptr(),
            holes: columns.holes.as_ptr(),
            against: columns.against.as_ptr(),
            idlers: columns.idlers.as_ptr(),
            drivers: columns.drivers.each_ref().map(Vec::as_ptr),
            driven: columns.driven.each_ref().map(Vec::as_ptr),
        }
    }
}

/// What one piece of other equipment holds: columns of the table's handle, one
/// entry a row.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct HeldRecord {
    /// Entries of each column.
    pub length: usize,
    /// 1 where exact, else 0.
    pub exact: *const u8,
    /// The way that is exact or comes nearest, counted from 0 among the ways of
    /// the piece.
    pub way: *const u32,
    /// The largest residual in turns with the start free, 0 where exact.
    pub residual_turns: *const f64,
}

impl HeldRecord {
    pub(crate) fn of(columns: &HeldColumns) -> Self {
        Self {
            length: columns.exact.len(),
            exact: columns.exact.as_ptr(),
            way: columns.way.as_ptr(),
            residual_turns: columns.residual_turns.as_ptr(),
        }
    }
}

/// Finds which of `first` to `last` divisions everything in a workshop makes
/// exactly; both numbers are 1 to 1000000.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within; when
/// they stop the search, the table is marked incomplete.
///
/// Errors: out_of_range, overflow, null_pointer, misaligned. Ownership: `*out`
/// is the caller's, freed with dividing_exact_table_free; the workshop may be
/// freed before it. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_exact_table_new(
    workshop: *const WorkshopHandle,
    first: u32,
    last: u32,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut ExactTableHandle,
) -> Status {
    let work = (work_limit, watcher, userdata);
    // SAFETY: the contract of this function.
    unsafe {
        handle::made_from(workshop, "workshop", work, out, |it, meter| {
            let table = exact_table(it.workshop(), first, last, meter)?;
            Ok(ExactTableHandle { table })
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
pub unsafe extern "C" fn dividing_exact_table_free(table: *mut ExactTableHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(table, "table") }
}

pub(crate) fn section<T>(sections: &[T], index: usize) -> Outcome<&T> {
    sections.get(index).ok_or_else(|| {
        Failure::new(
            Status::NotFound,
            "section",
            format!(
                "there is no section {index}; accepted: less than the {} of the table",
                sections.len()
            ),
        )
    })
}

/// What the table covers.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_exact_table_covers(
    table: *const ExactTableHandle,
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

/// One section, counted from 0, with its column read in place.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: the column belongs to
/// the handle and is valid until it is freed. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_exact_table_section(
    table: *const ExactTableHandle,
    index: usize,
    out: *mut SectionRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(table, "table", out, |it| {
            let section = section(&it.table.sections, index)?;
            Ok(SectionRecord {
                equipment: section.equipment,
                method: IndexingMethod::of(section.method),
                exact: section.exact.as_ptr(),
            })
        })
    }
}

/// The column of one section into the caller's array of `capacity` bytes.
///
/// Errors: not_found, buffer_too_small, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_exact_table_copy(
    table: *const ExactTableHandle,
    index: usize,
    exact: *mut u8,
    capacity: usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (table, exact) = unsafe {
            (
                live::reference(table, "table")?,
                OutArray::new(exact, capacity, "exact")?,
            )
        };
        exact.give(&section(&table.table.sections, index)?.exact)
    })
}

/// The table as JSON.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_exact_table_json(
    table: *const ExactTableHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::text_of(table, "table", out, |it| text::json(&it.table)) }
}

/// Finds the best setting of every method of every piece for `first` to `last`
/// divisions, and the nearest of simple indexing where none is exact; both
/// numbers are 1 to 1000000.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within; when
/// they stop the search, the table is marked incomplete.
///
/// Errors: out_of_range, overflow, null_pointer, misaligned. Ownership: `*out`
/// is the caller's, freed with dividing_indexing_table_free; the workshop may
/// be freed before it. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_indexing_table_new(
    workshop: *const WorkshopHandle,
    first: u32,
    last: u32,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut IndexingTableHandle,
) -> Status {
    let work = (work_limit, watcher, userdata);
    // SAFETY: the contract of this function.
    unsafe {
        handle::made_from(workshop, "workshop", work, out, |it, meter| {
            let table = indexing_table(it.workshop(), first, last, meter)?;
            Ok(IndexingTableHandle { table })
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
pub unsafe extern "C" fn dividing_indexing_table_free(table: *mut IndexingTableHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(table, "table") }
}

/// What the table covers.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_indexing_table_covers(
    table: *const IndexingTableHandle,
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

/// One section, counted from 0: its equipment, its method, and where it is
/// exact.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: the column belongs to
/// the handle and is valid until it is freed. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_indexing_table_section(
    table: *const IndexingTableHandle,
    index: usize,
    out: *mut SectionRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(table, "table", out, |it| {
            let section = section(&it.table.sections, index)?;
            Ok(SectionRecord {
                equipment: section.equipment,
                method: IndexingMethod::of(section.columns.method()),
                exact: section.columns.exact().as_ptr(),
            })
        })
    }
}

/// A table whose sections hold the settings or moves of one method each.
pub(crate) trait Sections: Handle {
    /// The columns of one section.
    fn moves(&self, index: usize) -> Outcome<&TableColumns>;

    /// The columns that `pick` finds in a section of its method.
    fn columns<T>(
        &self,
        index: usize,
        method: &str,
        pick: impl FnOnce(&TableColumns) -> Option<&T>,
    ) -> Outcome<&T> {
        pick(self.moves(index)?).ok_or_else(|| another_method(index, method))
    }

    fn simple(&self, index: usize) -> Outcome<&SimpleColumns> {
        self.columns(index, "simple indexing", |it| match it {
            TableColumns::Simple(columns) => Some(columns),
            _ => None,
        })
    }

    fn compound(&self, index: usize) -> Outcome<&CompoundColumns> {
        self.columns(index, "compound indexing", |it| match it {
            TableColumns::Compound(columns) => Some(columns),
            _ => None,
        })
    }

    fn differential(&self, index: usize) -> Outcome<&DifferentialColumns> {
        self.columns(index, "differential indexing", |it| match it {
            TableColumns::Differential(columns) => Some(columns),
            _ => None,
        })
    }

    fn held(&self, index: usize) -> Outcome<&HeldColumns> {
        self.columns(index, "other equipment", |it| match it {
            TableColumns::Held(columns) => Some(columns),
            _ => None,
        })
    }
}

impl Sections for IndexingTableHandle {
    fn moves(&self, index: usize) -> Outcome<&TableColumns> {
        Ok(&section(&self.table.sections, index)?.columns)
    }
}

/// A section that has no columns of the kind asked for.
pub(crate) fn another_method(index: usize, method: &str) -> Failure {
    Failure::new(
        Status::Inconsistent,
        "section",
        format!("section {index} is of another method; accepted: a section of {method}"),
    )
}

/// The columns of a section of simple indexing, read in place.
///
/// Errors: not_found; inconsistent for a section of another method;
/// null_pointer, misaligned. Ownership: the columns belong to the handle and
/// are valid until it is freed. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_indexing_table_simple(
    table: *const IndexingTableHandle,
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

/// The columns of a section of compound indexing, read in place.
///
/// Errors, ownership and threads as dividing_indexing_table_simple.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_indexing_table_compound(
    table: *const IndexingTableHandle,
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

/// The columns of a section of differential indexing, read in place.
///
/// Errors, ownership and threads as dividing_indexing_table_simple.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_indexing_table_differential(
    table: *const IndexingTableHandle,
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

/// The columns of a section of other equipment, read in place.
///
/// Errors, ownership and threads as dividing_indexing_table_simple.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_indexing_table_held(
    table: *const IndexingTableHandle,
    index: usize,
    out: *mut HeldRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(table, "table", out, |it| {
            Ok(HeldRecord::of(it.held(index)?))
        })
    }
}

/// The table as JSON.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_indexing_table_json(
    table: *const IndexingTableHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::text_of(table, "table", out, |it| text::json(&it.table)) }
}
