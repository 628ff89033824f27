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
//!
//! # Worked example
//! 5, 6, 7, 8, 9 and 12 divisions from a disc of 100 mm with 6 mm pins, webs of
//! 2 mm and 3 mm to the edge. The outermost ring stands at 50 − 3 − 3 = 44 mm
//! and holds 34 places; 8 and 12 share it (24 places, 16 of them drilled, and
//! 6 comes along), 9, 7 and 5 follow 8 mm apart.
//!
//! ```
//! use dividing_core::pattern::{PlateBrief, design};
//! use dividing_core::work::Meter;
//! let plunger = r#"{"format": 1, "divisions": [5, 6, 7, 8, 9, 12],
//!     "outline": {"disc": {"diameter": 100}}, "hole_diameter": 6,
//!     "least_web": 2, "least_edge_distance": 3}"#;
//! let plate = design(&PlateBrief::from_json(plunger)?, &mut Meter::default())?.into_pattern()?;
//! let rings: Vec<_> = plate.rings.iter().map(|r| (r.radius_mm, r.divisions.clone())).collect();
//! assert_eq!(rings[0], (44.0, vec![8, 12]));
//! assert_eq!(plate.hole_count(), 37);
//! assert_eq!(plate.certificate.lower_bound, 37);
//! // On a worm head of 40:1 only 6, 7, 9 and 12 need holes: circles of 9 and 7.
//! let head = plunger.replace("\"outline\"", "\"use\": {\"worm_head\": {\"ratio\": 40}}, \"outline\"");
//! let plate = design(&PlateBrief::from_json(&head)?, &mut Meter::default())?.into_pattern()?;
//! assert_eq!(plate.hole_count(), 16);
//! # Ok::<(), dividing_core::Error>(())
//! ```

mod allocation;
mod bar;
mod brief;
mod check;
mod closer;
mod demand;
mod design;
mod difference;
mod equipment;
mod fit;
pub mod guide;
mod numbers;
pub mod outputs;
mod part;
mod pin_chords;
mod pin_lists;
mod pins;
mod result;
mod room;
mod served;
mod shortfall;
mod validate;
mod vernier;
mod vernier_layout;
mod wish;
mod words;

pub use bar::BarRoom;
pub use brief::{
    AngleWish, Circle, DivisionWish, FixedRing, ListWish, Outline, PATTERN_FORMAT, PlateBrief,
    PlateUse,
};
pub use check::{CheckReport, HoleName, check_holes};
pub use design::{MAX_HOLES, design};
pub use difference::{MAX_COVER, covers_all_differences, difference_cover};
pub use fit::PinFit;
pub use numbers::{holes_in_phase, totient};
pub use part::{PartRoom, PartUnderBar};
pub use pins::{PinPair, pin_pairs, pins_serve};
pub use result::{
    Certificate, Design, Hole, Pattern, ProofMethod, Ring, Served, ServedBy, Shortfall, Station,
    Verdict,
};
pub use validate::{MAX_ANGLE_DENOMINATOR, MAX_ANGLES, MAX_DIVISION, MAX_WISHES};
pub use vernier::{VernierPair, fewest_vernier_pair, station_places};
pub use wish::Wish;

#[cfg(test)]
mod equipment_tests;
#[cfg(test)]
mod tests;
