//! What a step's setting is made of: gauge blocks, members of a stack.

use dividing_core::reach::{Setting, StackedBlocks};

use crate::array::OutArray;
use crate::error::{Failure, Outcome};
use crate::fields::chosen;
use crate::guard::guard;
use crate::handle;
use crate::live;
use crate::plans::PlansHandle;
use crate::setting::SettingRecord;
use crate::status::Status;

fn other(wanted: &str) -> Failure {
    Failure::new(
        Status::Inconsistent,
        "step",
        format!("the step has another setting; accepted: a step with {wanted}"),
    )
}

fn stacks(
    setting: &Setting,
) -> Outcome<(&[StackedBlocks], dividing_core::gauge_blocks::BlockUnit)> {
    match setting {
        Setting::SineBar { stacks, unit, .. } => Ok((stacks, *unit)),
        _ => Err(other("a sine bar")),
    }
}

fn one_of(stacks: &[StackedBlocks], index: usize) -> Outcome<&StackedBlocks> {
    stacks.get(index).ok_or_else(|| {
        Failure::new(
            Status::NotFound,
            "stack",
            format!(
                "there is no stack {index}; accepted: less than the {} of the setting",
                stacks.len()
            ),
        )
    })
}

/// How many gauge blocks a stack of a sine bar has: `low` 0 for those under the
/// high roller, 1 for those under the low one. Stacks count from 0.
///
/// Errors: not_found; inconsistent for another setting; out_of_range for `low`;
/// null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_step_block_count(
    plans: *const PlansHandle,
    plan: usize,
    step: usize,
    stack: usize,
    low: i32,
    out: *mut usize,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(plans, "plans", out, |it| {
            let stack = one_of(stacks(&it.step(plan, step)?.setting)?.0, stack)?;
            Ok(chosen(low, "low", &[&stack.high, &stack.low])?.len())
        })
    }
}

/// The gauge blocks of a stack of a sine bar in millimetres, ascending, into
/// the caller's array of `capacity` numbers; arguments as
/// dividing_plans_step_block_count, which says how many there are.
///
/// Errors: its errors and buffer_too_small. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_step_blocks(
    plans: *const PlansHandle,
    plan: usize,
    step: usize,
    stack: usize,
    low: i32,
    blocks_mm: *mut f64,
    capacity: usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (plans, blocks) = unsafe {
            (
                live::reference(plans, "plans")?,
                OutArray::new(blocks_mm, capacity, "blocks_mm")?,
            )
        };
        let (stacks, unit) = stacks(&plans.step(plan, step)?.setting)?;
        let stack = one_of(stacks, stack)?;
        let chosen = chosen(low, "low", &[&stack.high, &stack.low])?;
        let sizes = chosen.iter().map(|size| unit.to_mm((*size).into()));
        blocks.give(&sizes.collect::<Vec<_>>())
    })
}

/// The angle blocks of a step in seconds of arc, ascending, into the caller's
/// array of `capacity` numbers: `minus` 0 for those that add their angle, 1 for
/// those that take it away. The setting's plus_count and minus_count say how
/// many there are.
///
/// Errors: not_found; inconsistent for another setting; out_of_range for
/// `minus`; buffer_too_small, null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_step_angle_blocks(
    plans: *const PlansHandle,
    plan: usize,
    step: usize,
    minus: i32,
    blocks_arcsec: *mut u32,
    capacity: usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (plans, blocks) = unsafe {
            (
                live::reference(plans, "plans")?,
                OutArray::new(blocks_arcsec, capacity, "blocks_arcsec")?,
            )
        };
        let Setting::AngleStack {
            plus_arcsec,
            minus_arcsec,
        } = &plans.step(plan, step)?.setting
        else {
            return Err(other("angle gauge blocks"));
        };
        blocks.give(chosen(minus, "minus", &[plus_arcsec, minus_arcsec])?)
    })
}

/// The setting of one member of a stack, counted from 0 from the machine to the
/// part, as a record.
///
/// Errors: not_found; inconsistent for another setting; overflow; null_pointer,
/// misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_plans_step_member(
    plans: *const PlansHandle,
    plan: usize,
    step: usize,
    member: usize,
    out: *mut SettingRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(plans, "plans", out, |it| {
            let Setting::Stack { members } = &it.step(plan, step)?.setting else {
                return Err(other("a stack"));
            };
            let setting = members.get(member).ok_or_else(|| {
                Failure::new(
                    Status::NotFound,
                    "member",
                    format!(
                        "there is no member {member}; accepted: less than the {} of the stack",
                        members.len()
                    ),
                )
            })?;
            SettingRecord::of(setting)
        })
    }
}
