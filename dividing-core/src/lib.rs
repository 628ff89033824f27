//! Dividing: exact angles round a part, with the equipment a shop owns.
#![forbid(unsafe_code)]
#![cfg_attr(
    test,
    allow(clippy::float_cmp, reason = "tests compare results that are exact")
)]

pub mod accuracy;
pub mod angle;
mod document;
#[cfg(feature = "drawing")]
mod drawing;
pub mod equipment;
pub mod error;
pub mod features;
pub mod gauge_blocks;
pub mod gearing;
pub mod job;
pub mod length;
pub mod plan;
pub mod reach;
pub mod tables;
pub mod work;

pub use angle::{Angle, AngleStyle};
pub use document::FORMAT;
pub use equipment::{Equipment, Workshop};
pub use error::{Error, ErrorKind, Result};
pub use job::{Job, Start, Tolerance};
pub use length::Length;
pub use plan::{Plan, Plans, plan_job, plan_job_within};
