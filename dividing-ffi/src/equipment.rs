//! Pieces of equipment: from their fields or from JSON.

use std::ffi::{CString, c_char};

use dividing_core::{Equipment, Workshop, document};

use crate::array::slice;
use crate::device_fields::{
    AngleBlocksFields, FacedBlockFields, PartReferenceFields, ProtractorFields, SineBarFields,
    StackFields, VeeBlockFields,
};
use crate::error::{Failure, Outcome};
use crate::guard::guard;
use crate::handle;
use crate::live::{self, Handle};
use crate::plate_fields::{DirectPlateFields, PinPlateFields, VernierIndexerFields};
use crate::pointer::{Out, reference};
use crate::status::Status;
use crate::text;
use crate::worm_fields::{GraduatedDialFields, WormHeadFields};

/// One piece of equipment: an opaque handle.
///
/// Made by a function dividing_equipment_..., freed by dividing_equipment_free.
/// It never changes in between, so any number of threads may read it at a time.
pub struct EquipmentHandle {
    piece: Equipment,
    name: CString,
    kind: CString,
}

impl Handle for EquipmentHandle {
    const MARK: [u8; 8] = *b"equipmnt";
}

impl EquipmentHandle {
    pub(crate) fn new(piece: Equipment) -> Outcome<Self> {
        Ok(Self {
            name: text::for_c(piece.name())?,
            kind: text::for_c(piece.kind())?,
            piece,
        })
    }

    /// A piece that makes sense by itself; the members of a stack are looked at
    /// by its workshop.
    fn checked(piece: Equipment) -> Outcome<Self> {
        if let Equipment::Stack(_) = piece {
            return Self::new(piece);
        }
        let alone = Workshop::new("one piece", vec![piece]).map_err(Failure::from);
        let workshop = alone.map_err(|failure| failure.inside("equipment[0]"))?;
        match workshop.equipment().first() {
            Some(piece) => Self::new(piece.clone()),
            None => Err(Failure::defect("a workshop without its piece")),
        }
    }

    pub(crate) const fn piece(&self) -> &Equipment {
        &self.piece
    }
}

/// # Safety
/// The contract of the exports that call it: `fields` and what it points to may
/// be read, `out` may be written.
unsafe fn built<F>(
    fields: *const F,
    kind: &str,
    out: *mut *mut EquipmentHandle,
    build: impl FnOnce(&F) -> Outcome<Equipment>,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (fields, out) = unsafe { (reference(fields, "fields")?, Out::new(out, "out")?) };
        let piece = build(fields).map_err(|failure| failure.at(kind))?;
        live::give(EquipmentHandle::checked(piece)?, out);
        Ok(())
    })
}

/// A plate on the spindle with a plunger.
///
/// Errors: those of dividing_workshop_check for such a piece, the field's path
/// beginning with its kind; null_pointer, invalid_utf8, misaligned. Ownership:
/// `*out` is the caller's, freed with dividing_equipment_free; the fields are
/// not kept. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_direct_plate(
    fields: *const DirectPlateFields,
    out: *mut *mut EquipmentHandle,
) -> Status {
    // SAFETY: the contract of this function, for the fields and all they point to.
    unsafe {
        built(fields, "direct_plate", out, |fields| {
            Ok(Equipment::DirectPlate(fields.build()?))
        })
    }
}

/// A circle of holes with several stations for the pin.
///
/// Errors, ownership and threads as dividing_equipment_direct_plate.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_vernier_indexer(
    fields: *const VernierIndexerFields,
    out: *mut *mut EquipmentHandle,
) -> Status {
    // SAFETY: the contract of this function, for the fields and all they point to.
    unsafe {
        built(fields, "vernier_indexer", out, |fields| {
            Ok(Equipment::VernierIndexer(fields.build()?))
        })
    }
}

/// A square, hexagon or other block with equal faces.
///
/// Errors, ownership and threads as dividing_equipment_direct_plate.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_faced_block(
    fields: *const FacedBlockFields,
    out: *mut *mut EquipmentHandle,
) -> Status {
    // SAFETY: the contract of this function, for the fields and all they point to.
    unsafe {
        built(fields, "faced_block", out, |fields| {
            Ok(Equipment::FacedBlock(fields.build()?))
        })
    }
}

/// A V-block to lay faced blocks in.
///
/// Errors, ownership and threads as dividing_equipment_direct_plate.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_vee_block(
    fields: *const VeeBlockFields,
    out: *mut *mut EquipmentHandle,
) -> Status {
    // SAFETY: the contract of this function, for the fields and all they point to.
    unsafe {
        built(fields, "vee_block", out, |fields| {
            Ok(Equipment::VeeBlock(fields.build()?))
        })
    }
}

/// A plate with pins for a levelled bar.
///
/// Errors, ownership and threads as dividing_equipment_direct_plate.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_pin_plate(
    fields: *const PinPlateFields,
    out: *mut *mut EquipmentHandle,
) -> Status {
    // SAFETY: the contract of this function, for the fields and all they point to.
    unsafe {
        built(fields, "pin_plate", out, |fields| {
            Ok(Equipment::PinPlate(fields.build()?))
        })
    }
}

/// A worm head with a crank and plates.
///
/// Errors, ownership and threads as dividing_equipment_direct_plate.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_worm_head(
    fields: *const WormHeadFields,
    out: *mut *mut EquipmentHandle,
) -> Status {
    // SAFETY: the contract of this function, for the fields and all they point to.
    unsafe {
        built(fields, "worm_head", out, |fields| {
            Ok(Equipment::WormHead(fields.build()?))
        })
    }
}

/// A rotary table or head with a graduated dial.
///
/// Errors, ownership and threads as dividing_equipment_direct_plate.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_graduated_dial(
    fields: *const GraduatedDialFields,
    out: *mut *mut EquipmentHandle,
) -> Status {
    // SAFETY: the contract of this function, for the fields and all they point to.
    unsafe {
        built(fields, "graduated_dial", out, |fields| {
            Ok(Equipment::GraduatedDial(fields.build()?))
        })
    }
}

/// A sine bar, plate or table with gauge blocks.
///
/// Errors, ownership and threads as dividing_equipment_direct_plate.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_sine_bar(
    fields: *const SineBarFields,
    out: *mut *mut EquipmentHandle,
) -> Status {
    // SAFETY: the contract of this function, for the fields and all they point to.
    unsafe {
        built(fields, "sine_bar", out, |fields| {
            Ok(Equipment::SineBar(fields.build()?))
        })
    }
}

/// Angle gauge blocks.
///
/// Errors, ownership and threads as dividing_equipment_direct_plate.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_angle_blocks(
    fields: *const AngleBlocksFields,
    out: *mut *mut EquipmentHandle,
) -> Status {
    // SAFETY: the contract of this function, for the fields and all they point to.
    unsafe {
        built(fields, "angle_blocks", out, |fields| {
            Ok(Equipment::AngleBlocks(fields.build()?))
        })
    }
}

/// A level, clinometer or protractor.
///
/// Errors, ownership and threads as dividing_equipment_direct_plate.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_protractor(
    fields: *const ProtractorFields,
    out: *mut *mut EquipmentHandle,
) -> Status {
    // SAFETY: the contract of this function, for the fields and all they point to.
    unsafe {
        built(fields, "protractor", out, |fields| {
            Ok(Equipment::Protractor(fields.build()?))
        })
    }
}

/// A hole or flat that the part already has, against a stop.
///
/// Errors, ownership and threads as dividing_equipment_direct_plate.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_part_reference(
    fields: *const PartReferenceFields,
    out: *mut *mut EquipmentHandle,
) -> Status {
    // SAFETY: the contract of this function, for the fields and all they point to.
    unsafe {
        built(fields, "part_reference", out, |fields| {
            Ok(Equipment::PartReference(fields.build()?))
        })
    }
}

/// One device held on another. Its members are looked for when it joins a
/// workshop.
///
/// Errors, ownership and threads as dividing_equipment_direct_plate.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_stack(
    fields: *const StackFields,
    out: *mut *mut EquipmentHandle,
) -> Status {
    // SAFETY: the contract of this function, for the fields and all they point to.
    unsafe {
        built(fields, "stack", out, |fields| {
            Ok(Equipment::Stack(fields.build()?))
        })
    }
}

/// A piece of equipment from JSON, as it stands in the list of a workshop:
/// {"faced_block":{"name":"square","faces":4}}.
///
/// `json` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
///
/// Errors: those of dividing_workshop_check, null_pointer, invalid_utf8,
/// misaligned. Ownership: `*out` is the caller's, freed with
/// dividing_equipment_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_from_json(
    json: *const c_char,
    length: usize,
    out: *mut *mut EquipmentHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (json, out) = unsafe { (text::read(json, length, "json")?, Out::new(out, "out")?) };
        live::give(EquipmentHandle::checked(document::read(json)?)?, out);
        Ok(())
    })
}

/// Frees a piece of equipment. A workshop that it joined keeps a copy.
///
/// Ownership: the handle and its texts are gone; to free or use it again is an
/// error of the caller, seen (not_a_handle) only while its memory is not used
/// for something else. NULL is accepted and does nothing. Threads: any, while
/// no other thread uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_free(equipment: *mut EquipmentHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(equipment, "equipment") }
}

/// What the shop calls it.
///
/// Errors: null_pointer, misaligned. Ownership: the text belongs to the handle
/// and is valid until it is freed. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_name(
    equipment: *const EquipmentHandle,
    out: *mut *const c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::value_of(equipment, "equipment", out, |it| Ok(it.name.as_ptr())) }
}

/// Its kind, as in workshop documents: "worm_head".
///
/// Errors, ownership and threads as dividing_equipment_name.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_kind(
    equipment: *const EquipmentHandle,
    out: *mut *const c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::value_of(equipment, "equipment", out, |it| Ok(it.kind.as_ptr())) }
}

/// It as JSON, as dividing_equipment_from_json reads it.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_equipment_json(
    equipment: *const EquipmentHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::text_of(equipment, "equipment", out, |it| text::json(&it.piece)) }
}

/// The pieces that handles hold, in their order.
///
/// # Safety
/// `pieces` points to `count` pointers, each to a live handle.
pub(crate) unsafe fn pieces(
    pieces: *const *const EquipmentHandle,
    count: usize,
) -> Outcome<Vec<Equipment>> {
    // SAFETY: the caller's contract.
    let handles = unsafe { slice(pieces, count, "pieces")? };
    let each = handles.iter().enumerate().map(|(index, handle)| {
        // SAFETY: the caller's contract.
        let handle = unsafe { live::reference(*handle, &format!("pieces[{index}]"))? };
        Ok(handle.piece().clone())
    });
    each.collect()
}
