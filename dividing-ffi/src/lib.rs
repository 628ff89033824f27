//! The C interface of Dividing: exact angles round a part, with the equipment a
//! shop owns.
//!
//! C and C++ read `include/dividing.h`, which is written from these sources;
//! the conventions that every function keeps stand in `README.md`. The comment
//! of a function is its contract for the caller in C: units, errors, ownership
//! and threads. This crate only carries values across the border; every answer
//! comes from [`dividing_core`].
#![allow(
    clippy::missing_safety_doc,
    reason = "the comment of each function is its contract, and it is read in C"
)]

pub mod angle;
mod array;
pub mod budget;
pub mod circle;
pub mod closure;
pub mod contributor;
pub mod device_fields;
pub mod document;
pub mod equipment;
pub mod error;
pub mod error_model;
pub mod error_report;
pub mod feature_fields;
pub mod feature_geometry;
pub mod fields;
pub mod fits;
pub mod gauge_blocks;
pub mod gearing;
pub mod geometry;
mod guard;
mod handle;
pub mod inspection;
pub mod inverse;
pub mod job;
pub mod length;
pub mod lineage;
mod live;
pub mod measured;
pub mod measurement;
pub mod orientations;
pub mod pattern;
pub mod pattern_outputs;
pub mod pin_pairs;
pub mod plans;
pub mod plate_fields;
mod pointer;
pub mod scalar;
pub mod setting;
pub mod sheet;
pub mod simulation;
pub mod standards;
pub mod status;
pub mod step;
pub mod stepping;
pub mod sweep;
pub mod table_copy;
pub mod tables;
pub mod text;
pub mod version;
pub mod watch;
pub mod ways;
pub mod workshop;
pub mod worm_fields;
