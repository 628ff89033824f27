//! Patterns: the plate to drill, with the fewest holes, proved.

mod allocation;
mod numbers;

pub use numbers::{holes_in_phase, totient};
