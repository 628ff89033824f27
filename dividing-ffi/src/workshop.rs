//! Workshops: from pieces of equipment or from JSON.

use std::ffi::{CString, c_char};

use dividing_core::{Equipment, Workshop};

use crate::equipment::{self, EquipmentHandle};
use crate::error::{Failure, Outcome};
use crate::fields::string;
use crate::guard::guard;
use crate::handle;
use crate::live::{self, Handle};
use crate::pointer::Out;
use crate::status::Status;
use crate::text;

/// What a shop owns: an opaque handle.
///
/// Made by dividing_workshop_new and its like, freed by dividing_workshop_free.
/// It never changes in between, so any number of threads may read it at a time.
pub struct WorkshopHandle {
    workshop: Workshop,
    name: CString,
    pieces: Vec<(CString, CString)>,
}

impl Handle for WorkshopHandle {
    const MARK: [u8; 8] = *b"workshop";
}

impl WorkshopHandle {
    pub(crate) fn new(workshop: Workshop) -> Outcome<Self> {
        let pieces = workshop
            .equipment()
            .iter()
            .map(|piece| Ok((text::for_c(piece.name())?, text::for_c(piece.kind())?)))
            .collect::<Outcome<_>>()?;
        Ok(Self {
            name: text::for_c(workshop.name())?,
            pieces,
            workshop,
        })
    }

    pub(crate) const fn workshop(&self) -> &Workshop {
        &self.workshop
    }

    /// The same workshop with more equipment.
    pub(crate) fn with(&self, more: impl IntoIterator<Item = Equipment>) -> Outcome<Self> {
        let mut equipment = self.workshop.equipment().to_vec();
        equipment.extend(more);
        Self::new(Workshop::new(self.workshop.name(), equipment)?)
    }

    pub(crate) fn piece(&self, index: usize) -> Outcome<&Equipment> {
        let equipment = self.workshop.equipment();
        equipment.get(index).ok_or_else(|| {
            let last = equipment.len().saturating_sub(1);
            Failure::new(
                Status::NotFound,
                "index",
                format!("there is no piece {index}; accepted: 0 to {last}"),
            )
        })
    }
}

/// A piece of a workshop at a glance.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct PieceRecord {
    /// What the shop calls it. Both texts belong to the workshop's handle.
    pub name: *const c_char,
    /// Its kind, as in documents: "worm_head".
    pub kind: *const c_char,
}

/// A workshop of pieces of equipment, which it copies.
///
/// `name` ends with NUL; `pieces` holds `count` handles, 1 to 1000.
///
/// Errors: empty_list, duplicate for two pieces of one name, not_found and
/// inconsistent for members of a stack, out_of_range; null_pointer,
/// invalid_utf8, misaligned. Ownership: `*out` is the caller's, freed with
/// dividing_workshop_free; the pieces stay the caller's. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_workshop_new(
    name: *const c_char,
    pieces: *const *const EquipmentHandle,
    count: usize,
    out: *mut *mut WorkshopHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (name, equipment, out) = unsafe {
            (
                string(name, "name")?,
                equipment::pieces(pieces, count)?,
                Out::new(out, "out")?,
            )
        };
        live::give(WorkshopHandle::new(Workshop::new(name, equipment)?)?, out);
        Ok(())
    })
}

/// A new workshop: another one and more equipment after it.
///
/// Errors, ownership and threads as dividing_workshop_new; the workshop given
/// stays as it is.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_workshop_with(
    workshop: *const WorkshopHandle,
    pieces: *const *const EquipmentHandle,
    count: usize,
    out: *mut *mut WorkshopHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (workshop, equipment, out) = unsafe {
            (
                live::reference(workshop, "workshop")?,
                equipment::pieces(pieces, count)?,
                Out::new(out, "out")?,
            )
        };
        live::give(workshop.with(equipment)?, out);
        Ok(())
    })
}

/// A workshop from a JSON document with `"format": 1`.
///
/// `json` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
///
/// Errors: those of dividing_workshop_check, misaligned. Ownership: `*out` is
/// the caller's, freed with dividing_workshop_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_workshop_from_json(
    json: *const c_char,
    length: usize,
    out: *mut *mut WorkshopHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (json, out) = unsafe { (text::read(json, length, "json")?, Out::new(out, "out")?) };
        live::give(WorkshopHandle::new(Workshop::from_json(json)?)?, out);
        Ok(())
    })
}

/// Frees a workshop. Plans and tables made from it stay as they are.
///
/// Ownership: the handle and its texts are gone; to free or use it again is an
/// error of the caller, seen (not_a_handle) only while its memory is not used
/// for something else. NULL is accepted and does nothing. Threads: any, while
/// no other thread uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_workshop_free(workshop: *mut WorkshopHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(workshop, "workshop") }
}

/// What the shop is called.
///
/// Errors: null_pointer, misaligned. Ownership: the text belongs to the handle
/// and is valid until it is freed. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_workshop_name(
    workshop: *const WorkshopHandle,
    out: *mut *const c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::value_of(workshop, "workshop", out, |it| Ok(it.name.as_ptr())) }
}

/// How many pieces of equipment it has.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_workshop_count(
    workshop: *const WorkshopHandle,
    out: *mut usize,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::value_of(workshop, "workshop", out, |it| Ok(it.pieces.len())) }
}

/// Name and kind of a piece, counted from 0 in the order given.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: the texts belong to
/// the workshop's handle. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_workshop_piece(
    workshop: *const WorkshopHandle,
    index: usize,
    out: *mut PieceRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(workshop, "workshop", out, |it| {
            it.piece(index)?;
            let texts = it.pieces.get(index);
            let (name, kind) = texts.ok_or_else(|| Failure::defect("a piece without a name"))?;
            Ok(PieceRecord {
                name: name.as_ptr(),
                kind: kind.as_ptr(),
            })
        })
    }
}

/// The place of the piece of a name, counted from 0; `name` ends with NUL.
///
/// Errors: not_found, null_pointer, invalid_utf8, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_workshop_find(
    workshop: *const WorkshopHandle,
    name: *const c_char,
    out: *mut usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (workshop, name, out) = unsafe {
            (
                live::reference(workshop, "workshop")?,
                string(name, "name")?,
                Out::new(out, "out")?,
            )
        };
        let mut pieces = workshop.workshop.equipment().iter();
        let found = pieces.position(|piece| piece.name() == name);
        out.write(found.ok_or_else(|| {
            Failure::new(
                Status::NotFound,
                "name",
                format!("the workshop has no piece called {name:?}; accepted: one of its names"),
            )
        })?);
        Ok(())
    })
}

/// A copy of a piece, counted from 0.
///
/// Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_equipment_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_workshop_equipment(
    workshop: *const WorkshopHandle,
    index: usize,
    out: *mut *mut EquipmentHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (workshop, out) = unsafe {
            (
                live::reference(workshop, "workshop")?,
                Out::new(out, "out")?,
            )
        };
        live::give(EquipmentHandle::new(workshop.piece(index)?.clone())?, out);
        Ok(())
    })
}

/// The workshop as a JSON document, as dividing_workshop_from_json reads it.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_workshop_json(
    workshop: *const WorkshopHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::text_of(workshop, "workshop", out, |it| Ok(it.workshop.to_json()?)) }
}
