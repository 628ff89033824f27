//! A set-up sheet as data; [`Sheet::to_text`] and [`Sheet::to_html`] write it out.

use serde::{Deserialize, Serialize};

/// A label with its value, such as `Verdict: pass`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SheetFact {
    /// What it is.
    pub label: String,
    /// What it says.
    pub value: String,
}

/// A table of settings.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SheetTable {
    /// Headings of the columns.
    pub head: Vec<String>,
    /// Rows with as many cells.
    pub rows: Vec<Vec<String>>,
}

/// Everything to set, check and watch for one plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sheet {
    /// The job.
    pub title: String,
    /// The plan at a glance.
    pub facts: Vec<SheetFact>,
    /// What to know before trusting the plan.
    pub findings: Vec<String>,
    /// What to do before the first cut, in order.
    pub before: Vec<String>,
    /// The settings, a row for each feature.
    pub settings: SheetTable,
    /// The places of bolt holes in the machine's axes; none for other features.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub places: Option<SheetTable>,
    /// On a measured table: what to add to the readings so that they stand as
    /// true as the dial allows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub corrections: Option<SheetTable>,
    /// Checks on the way and after the last feature.
    pub checks: Vec<String>,
    /// Where the error comes from: contributor and limit.
    pub error_sources: Vec<SheetFact>,
    /// What the plan would bear, one thing changed at a time; only on a sheet from
    /// [`Plans::sheet_with_trade_offs`](super::Plans::sheet_with_trade_offs).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub trade_offs: Option<SheetTable>,
    /// Other ways of the same equipment.
    pub alternatives: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
}
