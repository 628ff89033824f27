//! The committed JSON Schemas are those of the types.
//!
//! After a change of the documents: `UPDATE_SCHEMA=1 cargo test -p dividing-core
//! --features schema --test schema`, and commit what it writes.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "tests"
)]

mod common;

use common::{crate_folder, list, read_vectors, text_at};
use serde_json::Value;

fn check_drift(name: &str, written: &str) {
    let path = crate_folder().join("schema").join(name);
    if std::env::var_os("UPDATE_SCHEMA").is_some_and(|value| value == "1") {
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, written).unwrap();
    }
    let committed = std::fs::read_to_string(&path)
        .unwrap_or_else(|error| panic!("{}: {error}; run with UPDATE_SCHEMA=1", path.display()));
    // Compared as JSON: the order of keys is no part of a schema.
    let committed: Value = serde_json::from_str(&committed).unwrap();
    let written: Value = serde_json::from_str(written).unwrap();
    assert_eq!(
        committed, written,
        "schema/{name} is not what the types say; run with UPDATE_SCHEMA=1 and commit it"
    );
}

#[test]
fn the_workshop_schema_is_that_of_the_types() {
    let written = dividing_core::schema::workshop().unwrap();
    check_drift("workshop.schema.json", &written);
}

#[test]
fn the_job_schema_is_that_of_the_types() {
    let written = dividing_core::schema::job().unwrap();
    check_drift("job.schema.json", &written);
}

#[test]
fn the_measurement_schema_is_that_of_the_types() {
    let written = dividing_core::schema::measurement().unwrap();
    check_drift("measurement.schema.json", &written);
}

#[test]
fn the_inspection_report_schema_is_that_of_the_types() {
    let written = dividing_core::schema::inspection_report().unwrap();
    check_drift("inspection_report.schema.json", &written);
}

#[test]
fn the_schemas_of_plates_are_those_of_the_types() {
    let brief = dividing_core::schema::plate_brief().unwrap();
    check_drift("plate_brief.schema.json", &brief);
    let pattern = dividing_core::schema::pattern().unwrap();
    check_drift("pattern.schema.json", &pattern);
}

/// Every object with fixed fields is closed, as the reader is.
#[test]
fn no_schema_lets_unknown_fields_pass() {
    for text in [
        dividing_core::schema::workshop().unwrap(),
        dividing_core::schema::job().unwrap(),
        dividing_core::schema::measurement().unwrap(),
        dividing_core::schema::inspection_report().unwrap(),
        dividing_core::schema::plate_brief().unwrap(),
        dividing_core::schema::pattern().unwrap(),
    ] {
        let schema: Value = serde_json::from_str(&text).unwrap();
        assert_eq!(schema["additionalProperties"], false);
        let mut closed = 0;
        all_closed(&schema, &mut closed);
        assert!(closed > 5, "only {closed} objects were looked at");
    }
}

fn all_closed(schema: &Value, closed: &mut usize) {
    match schema {
        Value::Object(object) => {
            if object.contains_key("properties") {
                assert_eq!(
                    object.get("additionalProperties"),
                    Some(&Value::Bool(false)),
                    "{schema}"
                );
                *closed += 1;
            }
            object.values().for_each(|it| all_closed(it, closed));
        }
        Value::Array(items) => items.iter().for_each(|it| all_closed(it, closed)),
        _ => {}
    }
}

/// What the library writes and what the vectors hold name only fields that the
/// schema knows; validation proper is done in `tests/python`.
#[test]
fn documents_of_the_vectors_use_known_fields() {
    let schema: Value = serde_json::from_str(&dividing_core::schema::workshop().unwrap()).unwrap();
    let kinds = schema["$defs"]["Equipment"]["oneOf"].as_array().unwrap();
    for case in list(&read_vectors("plans.json"), "cases") {
        for piece in list(&case["workshop"], "equipment") {
            let kind = piece.as_object().unwrap().keys().next().unwrap();
            let known = kinds.iter().any(|it| it["properties"].get(kind).is_some());
            assert!(known, "{}: {kind}", text_at(case, "id"));
        }
    }
}
