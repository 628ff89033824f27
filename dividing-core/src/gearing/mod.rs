//! Change gears: trains of exactly a ratio, or nearest to one, from the gears owned.
//!
//! A train is one, two or three pairs of driver and driven gears; its ratio is the
//! product of the drivers over the product of the driven. Ratios here have no
//! sign: whether the last gear turns with or against the first is a matter of
//! idlers, and of whoever asks.
//!
//! | question | ask |
//! | --- | --- |
//! | all trains of a ratio | [`TrainSearch::exact`], once: [`find_exact_trains`] |
//! | the train nearest to a ratio, proved nearest | [`TrainSearch::nearest`], once: [`find_nearest_train`] |
//! | which of many ratios can be made | [`RatioIndex`] |
//! | the gears for a helix of a given lead | [`lead`] |
//!
//! The search for the nearest train splits a train into its two sides, sorts the
//! products that a side can have, and passes once over the driven sides, as the
//! sorted lists of Horowitz and Sahni, *Computing Partitions with Applications to
//! the Knapsack Problem* (Journal of the ACM 21, 1974) (from memory). With g
//! gears it takes of the order of g² steps for two pairs and g³ for three; the
//! preparation sorts lists of that length.

mod exact;
mod gear_set;
mod idlers;
mod index;
pub mod lead;
mod nearest;
mod products;
mod ratio;
mod search;
#[cfg(test)]
mod tests;
mod train;
mod wide;

pub use exact::{ExactTrains, MAX_TRAINS};
pub use gear_set::{GearSet, MAX_GEARS, TEETH_LIMITS};
pub use idlers::RelativeSense;
pub use index::RatioIndex;
pub use nearest::{NearestProof, NearestTrain};
pub use ratio::{GearRatio, REAL_RATIO_LIMITS};
pub use search::{TrainSearch, find_exact_trains, find_nearest_train};
pub use train::{GearRole, MAX_PAIRS, MeshRule, PlacedGear, Train};
