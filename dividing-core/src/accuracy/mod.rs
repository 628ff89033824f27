//! How far off each feature will be, and why.

mod contributor;

pub use contributor::{Contributor, Distribution, InputUnit, Persistence};
