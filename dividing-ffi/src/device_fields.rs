//! Fields of blocks, sine bars, protractors, references and stacks.

use std::ffi::c_char;

use dividing_core::Angle;
use dividing_core::equipment::{
    AngleBlocks, DrilledHole, FacedBlock, FlatAgainstBlock, OwnedAngleBlocks, OwnedBlocks,
    PartReference, Protractor, ReferenceContact, ReferenceFrom, SineBar, Stack, VeeBlock,
};
use dividing_core::gauge_blocks::{AngleBlockSet, BlockSet, BlockUnit};

use crate::angle::Fraction;
use crate::array::slice;
use crate::error::Outcome;
use crate::fields::{OptionalLength, at, chosen, length, named, string, yes};
use crate::plate_fields::{PinInHoleFields, angles, registration};

/// A block with equal faces. Texts end with NUL. Angles are in turns.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct FacedBlockFields {
    /// What the shop calls it.
    pub name: *const c_char,
    /// Equal faces, 3 to 1000.
    pub faces: u32,
    /// Deviation of a face from its true direction, either way; 0/0 where not
    /// known. Needed for an error figure.
    pub face_error: Fraction,
    /// Tilt of the block in its seat, either way; 0/0 stands for 0.
    pub seat_error: Fraction,
}

/// A V-block to lay faced blocks in. Texts end with NUL. Angles are in turns.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct VeeBlockFields {
    /// What the shop calls it.
    pub name: *const c_char,
    /// Angle between its flanks.
    pub included_angle: Fraction,
    /// Deviation of a flank from its true direction, either way; 0/0 where not
    /// known. Needed for an error figure.
    pub flank_error: Fraction,
}

/// A sine bar, plate or table with gauge blocks. Texts end with NUL. Angles are
/// in turns.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct SineBarFields {
    /// What the shop calls it.
    pub name: *const c_char,
    /// Distance of the roller centres, up to 1000 mm.
    pub length_mm: f64,
    /// A common set of gauge blocks by its name: "metric_112", "metric_103",
    /// "metric_87", "metric_47", "metric_32", "inch_81", "inch_36"; NULL where
    /// the sizes follow.
    pub block_set: *const c_char,
    /// Sizes of the blocks owned in units, `block_count` of them, where
    /// `block_set` is NULL.
    pub block_units: *const u32,
    /// How many `block_units` points to, at most 300.
    pub block_count: usize,
    /// The unit of `block_units`: a dividing_block_unit.
    pub block_unit: i32,
    /// Most blocks of one stack, 1 to 16; 0 stands for 5.
    pub most_blocks: u32,
    /// Thickness of the wear block at each end of a stack, if they are used.
    pub wear_block: OptionalLength,
    /// 1 when two equal stacks stand under its roller; else 0.
    pub two_stacks: i32,
    /// 1 when it may also be used turned end for end; else 0.
    pub turns_end_for_end: i32,
    /// Steepest tilt that is used, below a quarter turn; 0/0 stands for 1/6.
    pub largest_angle: Fraction,
    /// Deviation of one block from its size, either way. Needed for an error
    /// figure.
    pub block_error: OptionalLength,
    /// Deviation of the distance of the roller centres, either way. Needed for
    /// an error figure.
    pub length_error: OptionalLength,
    /// How far the working face is out of line with the rollers, either way;
    /// 0/0 stands for 0.
    pub face_error: Fraction,
}

/// Angle gauge blocks. Texts end with NUL. Angles are in turns.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct AngleBlocksFields {
    /// What the shop calls it.
    pub name: *const c_char,
    /// A common set by its name: "pieces13", "pieces16"; NULL where the sizes
    /// follow.
    pub block_set: *const c_char,
    /// Angles of the blocks owned in seconds of arc, `block_count` of them,
    /// where `block_set` is NULL.
    pub blocks_arcsec: *const u32,
    /// How many `blocks_arcsec` points to.
    pub block_count: usize,
    /// Deviation of one block, either way; 0/0 where not known. Needed for an
    /// error figure.
    pub block_error: Fraction,
}

/// A level, clinometer or protractor. Texts end with NUL. Angles are in turns.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct ProtractorFields {
    /// What the shop calls it.
    pub name: *const c_char,
    /// Smallest step of its reading, a whole part of a turn.
    pub resolution: Fraction,
    /// Deviation of a reading, either way; 0/0 where not known. Needed for an
    /// error figure.
    pub instrument_error: Fraction,
}

/// What a part touches at a stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum Contact {
    /// A pin in a drilled hole: hole_radius, registration.
    DrilledHole = 0,
    /// A flat against a block: seat_error.
    Flat = 1,
}

/// Which feature is brought to the stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum FromFeature {
    /// The same datum for every feature.
    CommonDatum = 0,
    /// The feature made last: errors add up.
    LastFeature = 1,
}

/// A hole or flat that the part already has, against a stop. Texts end with
/// NUL. Angles are in turns.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct PartReferenceFields {
    /// What the shop calls it.
    pub name: *const c_char,
    /// What the part touches: a dividing_contact.
    pub contact: i32,
    /// Radius at which the drilled hole stands. Needed for an error figure.
    pub hole_radius: OptionalLength,
    /// Pin and drilled hole; NULL where not known. Needed for an error figure.
    pub registration: *const PinInHoleFields,
    /// How far the flat may lie from true, either way; 0/0 where not known.
    /// Needed for an error figure.
    pub seat_error: Fraction,
    /// Which feature is brought to the stop: a dividing_from_feature.
    pub from: i32,
    /// How far on the cutter works, one angle for each stop, `angle_count` of
    /// them.
    pub angles: *const Fraction,
    /// How many `angles` points to, 1 to 1000; 1 from the last feature.
    pub angle_count: usize,
    /// Error of the device that set the stops, either way; 0/0 where not known.
    /// Needed for an error figure.
    pub angle_error: Fraction,
}

/// One device held on another. Texts end with NUL.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct StackFields {
    /// What the shop calls it.
    pub name: *const c_char,
    /// Names of its members in the workshop, from the machine to the part,
    /// `member_count` of them.
    pub members: *const *const c_char,
    /// How many `members` points to, 2 to 4.
    pub member_count: usize,
}

impl FacedBlockFields {
    /// # Safety
    /// All pointers are as their comments say.
    pub(crate) unsafe fn build(&self) -> Outcome<FacedBlock> {
        Ok(FacedBlock {
            // SAFETY: the caller's contract.
            name: unsafe { string(self.name, "name")? },
            faces: self.faces,
            face_error: self.face_error.optional("face_error")?,
            seat_error: self.seat_error.or_zero("seat_error")?,
        })
    }
}

impl VeeBlockFields {
    /// # Safety
    /// All pointers are as their comments say.
    pub(crate) unsafe fn build(&self) -> Outcome<VeeBlock> {
        Ok(VeeBlock {
            // SAFETY: the caller's contract.
            name: unsafe { string(self.name, "name")? },
            included_angle: self.included_angle.given("included_angle")?,
            flank_error: self.flank_error.optional("flank_error")?,
        })
    }
}

/// The units of gauge blocks.
pub(crate) const BLOCK_UNITS: [BlockUnit; 2] =
    [BlockUnit::TenthMicrometre, BlockUnit::HundredThousandthInch];

impl SineBarFields {
    /// # Safety
    /// All pointers are as their comments say.
    pub(crate) unsafe fn build(&self) -> Outcome<SineBar> {
        // SAFETY: the caller's contract.
        let (name, blocks) = unsafe { (string(self.name, "name")?, self.blocks()?) };
        Ok(SineBar {
            name,
            length: length(self.length_mm, "length_mm")?,
            blocks,
            most_blocks: match self.most_blocks {
                0 => 5,
                most => most,
            },
            wear_block: self.wear_block.length("wear_block")?,
            two_stacks: yes(self.two_stacks, "two_stacks")?,
            turns_end_for_end: yes(self.turns_end_for_end, "turns_end_for_end")?,
            largest_angle: match self.largest_angle.optional("largest_angle")? {
                Some(angle) => angle,
                None => Angle::new(1, 6)?,
            },
            block_error: self.block_error.length("block_error")?,
            length_error: self.length_error.length("length_error")?,
            face_error: self.face_error.or_zero("face_error")?,
        })
    }

    /// # Safety
    /// As [`SineBarFields::build`].
    unsafe fn blocks(&self) -> Outcome<OwnedBlocks> {
        if !self.block_set.is_null() {
            // SAFETY: the caller's contract.
            let name = unsafe { string(self.block_set, "block_set")? };
            return Ok(OwnedBlocks::Named(named(&name, "block_set")?));
        }
        // SAFETY: the caller's contract.
        let sizes = unsafe { slice(self.block_units, self.block_count, "block_units")? };
        let unit = chosen(self.block_unit, "block_unit", &BLOCK_UNITS)?;
        Ok(OwnedBlocks::Own(at(
            BlockSet::new(unit, sizes),
            "block_units",
        )?))
    }
}

impl AngleBlocksFields {
    /// # Safety
    /// All pointers are as their comments say.
    pub(crate) unsafe fn build(&self) -> Outcome<AngleBlocks> {
        // SAFETY: the caller's contract.
        let (name, blocks) = unsafe { (string(self.name, "name")?, self.blocks()?) };
        Ok(AngleBlocks {
            name,
            blocks,
            block_error: self.block_error.optional("block_error")?,
        })
    }

    /// # Safety
    /// As [`AngleBlocksFields::build`].
    unsafe fn blocks(&self) -> Outcome<OwnedAngleBlocks> {
        if !self.block_set.is_null() {
            // SAFETY: the caller's contract.
            let name = unsafe { string(self.block_set, "block_set")? };
            return Ok(OwnedAngleBlocks::Named(named(&name, "block_set")?));
        }
        // SAFETY: the caller's contract.
        let sizes = unsafe { slice(self.blocks_arcsec, self.block_count, "blocks_arcsec")? };
        Ok(OwnedAngleBlocks::Own(at(
            AngleBlockSet::new(sizes),
            "blocks_arcsec",
        )?))
    }
}

impl ProtractorFields {
    /// # Safety
    /// All pointers are as their comments say.
    pub(crate) unsafe fn build(&self) -> Outcome<Protractor> {
        Ok(Protractor {
            // SAFETY: the caller's contract.
            name: unsafe { string(self.name, "name")? },
            resolution: self.resolution.given("resolution")?,
            instrument_error: self.instrument_error.optional("instrument_error")?,
        })
    }
}

impl PartReferenceFields {
    /// # Safety
    /// All pointers are as their comments say.
    pub(crate) unsafe fn build(&self) -> Outcome<PartReference> {
        // SAFETY: the caller's contract.
        let (name, registration, list) = unsafe {
            (
                string(self.name, "name")?,
                registration(self.registration)?,
                slice(self.angles, self.angle_count, "angles")?,
            )
        };
        let contact = if chosen(self.contact, "contact", &[true, false])? {
            ReferenceContact::DrilledHole(DrilledHole {
                radius: self.hole_radius.length("hole_radius")?,
                registration,
            })
        } else {
            ReferenceContact::Flat(FlatAgainstBlock {
                seat_error: self.seat_error.optional("seat_error")?,
            })
        };
        let from = [ReferenceFrom::CommonDatum, ReferenceFrom::LastFeature];
        Ok(PartReference {
            name,
            contact,
            from: chosen(self.from, "from", &from)?,
            angles: angles(list, "angles")?,
            angle_error: self.angle_error.optional("angle_error")?,
        })
    }
}

impl StackFields {
    /// # Safety
    /// All pointers are as their comments say.
    pub(crate) unsafe fn build(&self) -> Outcome<Stack> {
        // SAFETY: the caller's contract.
        let (name, members) = unsafe {
            (
                string(self.name, "name")?,
                slice(self.members, self.member_count, "members")?,
            )
        };
        let members = members.iter().enumerate().map(|(index, member)| {
            // SAFETY: the caller's contract.
            unsafe { string(*member, &format!("members[{index}]")) }
        });
        Ok(Stack {
            name,
            members: members.collect::<Outcome<_>>()?,
        })
    }
}
