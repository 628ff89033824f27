//! Dividing: exact angles round a part, with the equipment a shop owns.
#![forbid(unsafe_code)]

pub mod accuracy;
pub mod angle;
pub mod error;
pub mod fits;
pub mod length;
pub mod work;

pub use angle::{Angle, AngleStyle};
pub use error::{Error, ErrorKind, Result};
pub use length::Length;
