//! Patterns: the plate to drill, with the fewest holes, proved.
//!
//! A [`PlateBrief`] says what a plate must serve and what it is made of;
//! [`design`] answers with a [`Pattern`] and a [`Certificate`], or with a
//! [`Shortfall`] that names what binds and what would fit.
//!
//! On one ring all divisions stand in phase, because the union of residue
//! classes is smallest when they share a point (Rogers' theorem, in
//! H. Halberstam and K. F. Roth, *Sequences*, chapter V), and because the
//! smallest gap is then the largest possible. The rings' pitch radii follow
//! from the webs; which wishes share a ring is a set partition, solved exactly.

mod allocation;
mod brief;
mod check;
mod closer;
mod demand;
mod design;
mod difference;
mod numbers;
pub mod outputs;
mod pins;
mod result;
mod room;
mod served;
mod shortfall;
mod validate;
mod vernier;
mod wish;

pub use brief::{
    AngleWish, Circle, DivisionWish, FixedRing, ListWish, Outline, PATTERN_FORMAT, PlateBrief,
    PlateUse, WormRatio,
};
pub use check::{CheckReport, HoleName, check_holes};
pub use design::{MAX_HOLES, design};
pub use difference::{MAX_COVER, covers_all_differences, difference_cover};
pub use numbers::{holes_in_phase, totient};
pub use pins::{PinPair, pin_pairs, pins_serve};
pub use result::{
    Certificate, Design, Hole, Pattern, ProofMethod, Ring, Served, ServedBy, Shortfall, Station,
    Verdict,
};
pub use validate::{MAX_ANGLE_DENOMINATOR, MAX_DIVISION, MAX_WISHES};
pub use vernier::{VernierPair, fewest_vernier_pair, station_places};
pub use wish::Wish;

#[cfg(test)]
mod tests;
