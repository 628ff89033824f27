//! JSON Schemas of the documents, written from the types (draft 2020-12).
//!
//! A schema says which fields there are and of which type. Limits that take
//! more than one field to judge are checked when a document is read.

use crate::document;
use crate::equipment::WorkshopDocument;
use crate::error::Result;
use crate::inspection::{Measurement, ReportWritten};
use crate::job::JobDocument;
use crate::pattern::{Pattern, PlateBrief};

/// The schema of a workshop document, as JSON text.
///
/// # Errors
/// None in this version; the result is one so that a defect shows as an error.
///
/// ```
/// let text = dividing_core::schema::workshop()?;
/// assert!(text.contains("worm_head"));
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn workshop() -> Result<String> {
    document::write(&schemars::schema_for!(WorkshopDocument))
}

/// The schema of a job document, as JSON text.
///
/// # Errors
/// As [`workshop`].
///
/// ```
/// let text = dividing_core::schema::job()?;
/// assert!(text.contains("equal_divisions"));
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn job() -> Result<String> {
    document::write(&schemars::schema_for!(JobDocument))
}

/// The schema of a measurement document, as JSON text.
///
/// # Errors
/// As [`workshop`].
///
/// ```
/// let text = dividing_core::schema::measurement()?;
/// assert!(text.contains("coordinates"));
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn measurement() -> Result<String> {
    document::write(&schemars::schema_for!(Measurement))
}

/// The schema of the report of an inspection, as JSON text.
///
/// # Errors
/// As [`workshop`].
///
/// ```
/// let text = dividing_core::schema::inspection_report()?;
/// assert!(text.contains("first_harmonic"));
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn inspection_report() -> Result<String> {
    document::write(&schemars::schema_for!(ReportWritten))
}

/// The schema of a plate brief, as JSON text.
///
/// # Errors
/// As [`workshop`].
///
/// ```
/// let text = dividing_core::schema::plate_brief()?;
/// assert!(text.contains("least_web"));
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn plate_brief() -> Result<String> {
    document::write(&schemars::schema_for!(PlateBrief))
}

/// The schema of a pattern, as JSON text.
///
/// # Errors
/// As [`workshop`].
///
/// ```
/// let text = dividing_core::schema::pattern()?;
/// assert!(text.contains("certificate"));
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn pattern() -> Result<String> {
    document::write(&schemars::schema_for!(Pattern))
}
