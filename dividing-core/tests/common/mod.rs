//! What the integration suites share.
#![allow(dead_code, reason = "each suite uses its own part")]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "tests"
)]

pub(crate) mod documents;
pub(crate) mod measured;
pub(crate) mod presented;
pub(crate) mod texts;

use std::path::{Path, PathBuf};

use dividing_core::{Angle, Job, Plans, Workshop, plan_job};
use serde_json::Value;

/// The folder of the crate.
pub(crate) fn crate_folder() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A file of the demo workshop.
pub(crate) fn demo_files() -> Vec<PathBuf> {
    let folder = crate_folder().join("examples/demo");
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    files.sort();
    files
}

/// A file of the shared vectors.
pub(crate) fn read_vectors(name: &str) -> Value {
    let path = crate_folder().join("../tests/vectors").join(name);
    let text = std::fs::read_to_string(&path)
        .unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    serde_json::from_str(&text).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// The text under a key.
pub(crate) fn text_at<'v>(value: &'v Value, key: &str) -> &'v str {
    value[key]
        .as_str()
        .unwrap_or_else(|| panic!("no text {key} in {value}"))
}

/// The list under a key, which must not be empty.
pub(crate) fn list<'v>(document: &'v Value, key: &str) -> &'v [Value] {
    let list = document[key].as_array().expect("a list");
    assert!(!list.is_empty(), "{key} is empty");
    list
}

/// An angle from `n/d` turns.
pub(crate) fn turns(text: &str) -> Angle {
    let (numerator, denominator) = text.split_once('/').expect("n/d");
    Angle::new(numerator.parse().unwrap(), denominator.parse().unwrap()).unwrap()
}

/// An angle as `n/d` turns.
pub(crate) fn fraction_text(angle: Angle) -> String {
    format!("{}/{}", angle.numerator(), angle.denominator())
}

/// The plans of two documents.
pub(crate) fn plans(workshop: &Value, job: &Value) -> Plans {
    let workshop = Workshop::from_json(&workshop.to_string()).unwrap();
    let job = Job::from_json(&job.to_string()).unwrap();
    plan_job(&workshop, &job).unwrap()
}
