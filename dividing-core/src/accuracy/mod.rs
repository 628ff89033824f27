//! How far off each feature will be, and why.

mod bar;
mod contributor;
mod figure;
mod plunger;
mod registration;
mod verdict;

pub use bar::baseline_mm;
pub use contributor::{Contributor, Distribution, InputUnit, Persistence};
pub use figure::{ErrorFigure, FeatureError, error_figure};
pub use registration::{Registration, registration};
pub use verdict::{Verdict, VerdictKind, verdict};
