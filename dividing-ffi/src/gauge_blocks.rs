//! Stacks of gauge blocks, sine bars, angle blocks.

use std::ffi::{c_char, c_void};

use dividing_core::gauge_blocks::{
    AngleBlockSet, AngleStack, BlockSet, BlockUnit, DifferenceStack, NamedAngleBlockSet,
    NamedBlockSet, Stack, sine_bar,
};
use dividing_core::work::Meter;

use crate::angle::Fraction;
use crate::array::{OutArray, slice};
use crate::device_fields::BLOCK_UNITS;
use crate::error::{Failure, Outcome};
use crate::fields::{OptionalLength, at, chosen, fitted, length, named, string};
use crate::guard::{guard, guard_number};
use crate::live::{self, Handle};
use crate::pointer::Out;
use crate::status::Status;
use crate::watch::{Watcher, metered};

/// The units in which gauge blocks are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum BlockUnitOf {
    /// 0.0001 mm.
    TenthMicrometre = 0,
    /// 0.00001 in.
    HundredThousandthInch = 1,
}

impl BlockUnitOf {
    pub(crate) const fn of(unit: BlockUnit) -> Self {
        match unit {
            BlockUnit::TenthMicrometre => Self::TenthMicrometre,
            BlockUnit::HundredThousandthInch => Self::HundredThousandthInch,
        }
    }
}

/// A set of gauge blocks: an opaque handle.
///
/// Made by dividing_block_set_new or dividing_block_set_named, freed by
/// dividing_block_set_free. It never changes in between, so any number of
/// threads may read it at a time.
pub struct BlockSetHandle {
    set: BlockSet,
}

impl Handle for BlockSetHandle {
    const MARK: [u8; 8] = *b"blockset";
}

/// A set of gauge blocks of these sizes in `unit`, a dividing_block_unit: `count`
/// of them, at most 300, each owned once.
///
/// Errors: empty_list, duplicate, out_of_range, null_pointer, misaligned.
/// Ownership: `*out` is the caller's, freed with dividing_block_set_free.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_block_set_new(
    unit: i32,
    sizes: *const u32,
    count: usize,
    out: *mut *mut BlockSetHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (sizes, out) = unsafe { (slice(sizes, count, "sizes")?, Out::new(out, "out")?) };
        let unit = chosen(unit, "unit", &BLOCK_UNITS)?;
        let set = at(BlockSet::new(unit, sizes), "sizes")?;
        live::give(BlockSetHandle { set }, out);
        Ok(())
    })
}

/// A common set of gauge blocks by its name, which ends with NUL: "metric_112",
/// "metric_103", "metric_87", "metric_47", "metric_32", "inch_81", "inch_36".
///
/// Errors: invalid_field for another name, null_pointer, invalid_utf8,
/// misaligned. Ownership: `*out` is the caller's, freed with
/// dividing_block_set_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_block_set_named(
    name: *const c_char,
    out: *mut *mut BlockSetHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (name, out) = unsafe { (string(name, "name")?, Out::new(out, "out")?) };
        let set = named::<NamedBlockSet>(&name, "name")?.blocks();
        live::give(BlockSetHandle { set }, out);
        Ok(())
    })
}

/// Frees a set of gauge blocks.
///
/// Ownership: the handle is gone; to free or use it again is an error of the
/// caller, seen (not_a_handle) only while its memory is not used for something
/// else. NULL is accepted and does nothing. Threads: any, while no other thread
/// uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_block_set_free(set: *mut BlockSetHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(set, "set") }
}

/// Most blocks of one side of a stack that a record holds.
const MOST_BLOCKS: usize = 16;

/// A stack of gauge blocks, sizes in the unit of its set.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct BlockStackRecord {
    /// The unit of all sizes.
    pub unit: BlockUnitOf,
    /// Blocks of the stack.
    pub count: u32,
    /// Their sizes, ascending; 0 beyond them. Wear blocks are not counted.
    pub blocks: [u32; 16],
    /// Blocks of the lower stack, where the height is a difference of two.
    pub lower_count: u32,
    /// Their sizes, ascending; 0 beyond them.
    pub lower_blocks: [u32; 16],
    /// Thickness of each of the two wear blocks; 0 where there are none.
    pub wear_block_units: u32,
    /// Height less the height wanted, in units.
    pub deviation_units: i64,
    /// The height, or the difference of heights, in millimetres.
    pub height_mm: f64,
}

/// Sizes in a field of a record, and their count.
fn laid(sizes: &[u32], field: &str) -> Outcome<(u32, [u32; MOST_BLOCKS])> {
    let mut room = [0; MOST_BLOCKS];
    if sizes.len() > room.len() {
        return Err(Failure::new(
            Status::Overflow,
            field,
            format!(
                "{} blocks do not fit the record; accepted: heights of at most {MOST_BLOCKS} blocks",
                sizes.len()
            ),
        ));
    }
    for (place, size) in room.iter_mut().zip(sizes) {
        *place = *size;
    }
    Ok((fitted(sizes.len(), field)?, room))
}

impl BlockStackRecord {
    fn of(stack: &Stack) -> Outcome<Self> {
        let (count, blocks) = laid(&stack.blocks, "blocks")?;
        Ok(Self {
            unit: BlockUnitOf::of(stack.unit),
            count,
            blocks,
            lower_count: 0,
            lower_blocks: [0; MOST_BLOCKS],
            wear_block_units: stack.wear_block_units.unwrap_or(0),
            deviation_units: stack.deviation_units,
            height_mm: stack.height_mm(),
        })
    }

    fn of_difference(stack: &DifferenceStack) -> Outcome<Self> {
        let (count, blocks) = laid(&stack.higher, "blocks")?;
        let (lower_count, lower_blocks) = laid(&stack.lower, "lower_blocks")?;
        Ok(Self {
            unit: BlockUnitOf::of(stack.unit),
            count,
            blocks,
            lower_count,
            lower_blocks,
            wear_block_units: 0,
            deviation_units: stack.deviation_units,
            height_mm: stack.unit.to_mm(stack.height_units()),
        })
    }
}

/// # Safety
/// The contract of the exports that call it.
unsafe fn stacked(
    set: *const BlockSetHandle,
    height_mm: f64,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut BlockStackRecord,
    find: impl FnOnce(&BlockSet, u32, &mut Meter<'_>) -> Outcome<BlockStackRecord>,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (set, out) = unsafe { (&live::reference(set, "set")?.set, Out::new(out, "out")?) };
        let height = length(height_mm, "height_mm")?;
        let height = at(set.unit().nearest(height), "height_mm")?;
        // SAFETY: the caller gave the watcher to be called so.
        let found = unsafe {
            metered(work_limit, watcher, userdata, |meter| {
                find(set, height, meter)
            })?
        };
        out.write(found);
        Ok(())
    })
}

/// The stack of fewest blocks for a height, in millimetres, within a tolerance
/// either way, in the unit of the set (dividing_block_unit).
///
/// `wear_block` is the thickness of the wear block at each end, if they are
/// used. `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
///
/// Errors: out_of_range; not_found when no stack is so near; work_limit,
/// cancelled; null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_block_stack(
    set: *const BlockSetHandle,
    height_mm: f64,
    tolerance_units: u32,
    wear_block: OptionalLength,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut BlockStackRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        stacked(
            set,
            height_mm,
            work_limit,
            watcher,
            userdata,
            out,
            |set, height, meter| {
                let wear = wear_block.length("wear_block")?;
                let wear = wear
                    .map(|it| at(set.unit().nearest(it), "wear_block"))
                    .transpose()?;
                BlockStackRecord::of(&set.stack(height, tolerance_units, wear, meter)?)
            },
        )
    }
}

/// The two stacks of fewest blocks whose difference is a height, for heights
/// below the smallest block. Arguments as dividing_block_stack.
///
/// Errors: as dividing_block_stack. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_block_difference(
    set: *const BlockSetHandle,
    height_mm: f64,
    tolerance_units: u32,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut BlockStackRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        stacked(
            set,
            height_mm,
            work_limit,
            watcher,
            userdata,
            out,
            |set, height, meter| {
                BlockStackRecord::of_difference(&set.difference(height, tolerance_units, meter)?)
            },
        )
    }
}

/// The angle of a sine bar on a height, in degrees; `height_mm` is 0 to
/// `length_mm`.
///
/// Errors: NaN for a value outside the limits; dividing_last_error_text says
/// which. Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn dividing_sine_bar_angle_deg(length_mm: f64, height_mm: f64) -> f64 {
    guard_number(|| {
        let (bar, height) = (
            length(length_mm, "length_mm")?,
            length(height_mm, "height_mm")?,
        );
        Ok(sine_bar::angle_deg(bar, height)?)
    })
}

/// A stack of angle gauge blocks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct AngleStackRecord {
    /// The angle of the stack, in turns.
    pub attained: Fraction,
    /// Attained less wanted, in turns.
    pub residual: Fraction,
    /// Blocks that add their angle.
    pub plus_count: u32,
    /// Blocks that take it away.
    pub minus_count: u32,
}

/// The stack of fewest angle gauge blocks for an angle within a tolerance, both
/// in turns.
///
/// `set` names a common set, "pieces13" or "pieces16", and ends with NUL, with
/// `blocks_arcsec` NULL and `count` 0; `set` may be NULL, and `blocks_arcsec` then
/// lists the blocks owned, `count` numbers of seconds of arc. The blocks used
/// come into two arrays of the caller of `capacity` numbers of seconds each,
/// ascending; 16 are enough for any stack of a common set. `work_limit`,
/// `watcher` and `userdata` as dividing_plans_new_within.
///
/// Errors: inconsistent for a set and a list; out_of_range, duplicate,
/// invalid_field for an unknown set; not_found when no stack is so near;
/// buffer_too_small; work_limit, cancelled; null_pointer, invalid_utf8,
/// misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_angle_block_stack(
    set: *const c_char,
    blocks_arcsec: *const u32,
    count: usize,
    angle: Fraction,
    tolerance: Fraction,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    capacity: usize,
    plus_arcsec: *mut u32,
    minus_arcsec: *mut u32,
    out: *mut AngleStackRecord,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (plus, minus, out, blocks) = unsafe {
            (
                OutArray::new(plus_arcsec, capacity, "plus_arcsec")?,
                OutArray::new(minus_arcsec, capacity, "minus_arcsec")?,
                Out::new(out, "out")?,
                angle_blocks(set, blocks_arcsec, count)?,
            )
        };
        let (angle, tolerance) = (angle.given("angle")?, tolerance.or_zero("tolerance")?);
        // SAFETY: the caller gave the watcher to be called so.
        let found: AngleStack = unsafe {
            metered(work_limit, watcher, userdata, |meter| {
                blocks.stack(angle, tolerance, meter)
            })?
        };
        let record = AngleStackRecord {
            attained: Fraction::of(found.attained)?,
            residual: Fraction::of(found.residual)?,
            plus_count: fitted(found.plus_arcsec.len(), "plus_count")?,
            minus_count: fitted(found.minus_arcsec.len(), "minus_count")?,
        };
        plus.check_room(found.plus_arcsec.len())?;
        minus.check_room(found.minus_arcsec.len())?;
        plus.write(found.plus_arcsec);
        minus.write(found.minus_arcsec);
        out.write(record);
        Ok(())
    })
}

/// # Safety
/// The contract of the export that calls it.
unsafe fn angle_blocks(
    set: *const c_char,
    blocks: *const u32,
    count: usize,
) -> Outcome<AngleBlockSet> {
    if set.is_null() {
        // SAFETY: the caller's contract.
        let blocks = unsafe { slice(blocks, count, "blocks_arcsec")? };
        return at(AngleBlockSet::new(blocks), "blocks_arcsec");
    }
    if count != 0 || !blocks.is_null() {
        return Err(Failure::new(
            Status::Inconsistent,
            "blocks_arcsec",
            "blocks stand beside the name of a set; accepted: one of the two",
        ));
    }
    // SAFETY: the caller's contract.
    let name = unsafe { string(set, "set")? };
    Ok(named::<NamedAngleBlockSet>(&name, "set")?.blocks())
}
