//! Gauge blocks: stacks for a height, angle stacks, and the sine bar.
//!
//! Nominal sizes are whole numbers of a small unit and stacks are found exactly;
//! only the sine bar leaves whole numbers, where its formula does.

mod angle_blocks;
mod attainable;
mod blocks;
mod fewest;
mod sets;
pub mod sine_bar;

pub use angle_blocks::{AngleBlockSet, AngleStack, NamedAngleBlockSet};
pub use blocks::{
    BlockSet, BlockUnit, DifferenceStack, MAX_BLOCKS, MAX_HEIGHT_UNITS, MAX_TOLERANCE_UNITS, Stack,
};
pub use sets::NamedBlockSet;
