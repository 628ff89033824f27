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
pub mod document;
pub mod error;
mod guard;
pub mod length;
mod live;
pub mod plans;
mod pointer;
pub mod scalar;
pub mod setting;
pub mod sheet;
pub mod status;
pub mod text;
pub mod version;
