//! How far off each feature will be, and why.

mod bar;
mod contributor;
mod devices;
mod figure;
mod plunger;
mod registration;
mod verdict;

pub use bar::baseline_mm;
pub use contributor::{Contributor, Distribution, InputUnit, Persistence};
pub(crate) use devices::size_text;
pub use figure::{ErrorFigure, FeatureError, error_figure};
pub use registration::{Registration, registration};
pub use verdict::{Verdict, VerdictKind, verdict};
