//! Change gears: trains of exactly a ratio, or nearest to one, from the gears owned.
//!
//! A train is one, two or three pairs of driver and driven gears; its ratio is the
//! product of the drivers over the product of the driven. Ratios here have no
//! sign: whether the last gear turns with or against the first is a matter of
//! idlers, and of whoever asks.
//!
//! | question | ask |
//! | --- | --- |
//! | all trains of a ratio | [`TrainSearch::exact`] |
//! | the train nearest to a ratio, proved nearest | [`TrainSearch::nearest`] |
//! | which of many ratios can be made | [`RatioIndex`] |
//! | the gears for a helix of a given lead | [`lead`] |
//!
//! The search for the nearest train sorts the products of one side and sweeps the
//! list once against itself, the sorted-lists half of Schroeppel and Shamir,
//! *A T = O(2^(n/2)), S = O(2^(n/4)) algorithm for certain NP-complete problems*
//! (SIAM Journal on Computing 10, 1981). With g gears it takes of the order of
//! g² log g steps for two pairs and g³ log g for three, preparation included.

mod exact;
mod gear_set;
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
pub use index::RatioIndex;
pub use nearest::{NearestProof, NearestTrain};
pub use ratio::{GearRatio, REAL_RATIO_LIMITS};
pub use search::TrainSearch;
pub use train::{GearRole, MAX_PAIRS, MeshRule, PlacedGear, Train};
