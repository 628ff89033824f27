//! The shared vectors of `tests/vectors`, as the C and Python suites read them.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "tests"
)]

use crate::common;

use common::{fraction_text, list, read_vectors, text_at, turns};
use dividing_core::{Angle, AngleStyle, ErrorKind, Job, Length, Plan, Workshop, plan_job};
use serde_json::Value;

fn kind_named(name: &str) -> ErrorKind {
    *ErrorKind::ALL
        .iter()
        .find(|kind| kind.name() == name)
        .unwrap_or_else(|| panic!("no kind of error is called {name}"))
}

#[test]
fn angles_read_and_print_as_listed() {
    let document = read_vectors("angles.json");
    for case in list(&document, "cases") {
        let (id, text) = (text_at(case, "id"), text_at(case, "text"));
        let angle: Angle = text.parse().unwrap_or_else(|error| panic!("{id}: {error}"));
        assert_eq!(angle, turns(text_at(case, "turns")), "{id}");
        assert_eq!(angle.to_string(), text_at(case, "printed"), "{id}");
        assert_eq!(
            angle.format(AngleStyle::DecimalDegrees(4)),
            text_at(case, "decimal_degrees_4"),
            "{id}"
        );
        assert_eq!(
            angle.format(AngleStyle::DegreesMinutesSeconds(1)),
            text_at(case, "degrees_minutes_seconds_1"),
            "{id}"
        );
    }
    for case in list(&document, "refused") {
        let (id, text) = (text_at(case, "id"), text_at(case, "text"));
        let error = text.parse::<Angle>().expect_err(id);
        assert_eq!(
            error.kind(),
            kind_named(text_at(case, "kind")),
            "{id}: {error}"
        );
    }
}

/// `Fraction.limit_denominator` of Python, Documentation of `fractions`.
#[test]
fn nearest_fractions_are_those_of_python() {
    let document = read_vectors("angles.json");
    for case in list(&document, "nearest") {
        let limit = case["max_denominator"].as_u64().expect("a whole number");
        let nearest = turns(text_at(case, "turns"))
            .nearest_fraction(i128::from(limit))
            .unwrap_or_else(|error| panic!("{}: {error}", text_at(case, "id")));
        assert_eq!(
            nearest,
            turns(text_at(case, "nearest")),
            "{}",
            text_at(case, "id")
        );
    }
}

#[test]
fn plans_come_out_as_listed() {
    let document = read_vectors("plans.json");
    for case in list(&document, "cases") {
        let id = text_at(case, "id");
        let read = || {
            let workshop = Workshop::from_json(&case["workshop"].to_string())?;
            let job = Job::from_json(&case["job"].to_string())?;
            plan_job(&workshop, &job)
        };
        let plans = read().unwrap_or_else(|error| panic!("{id}: {error}"));
        check_plan(id, plans.plan(0).expect("a plan"), &case["expected"]);
    }
}

fn check_plan(id: &str, plan: &Plan, expected: &Value) {
    assert_eq!(plan.equipment, text_at(expected, "equipment"), "{id}");
    assert_eq!(
        fraction_text(plan.largest_residual),
        text_at(expected, "largest_residual"),
        "{id}"
    );
    assert_eq!(Value::from(plan.exact), expected["exact"], "{id}");
    let written = serde_json::to_value(plan).expect("a plan as JSON");
    if let Some(verdict) = expected.get("verdict") {
        assert_eq!(&written["verdict"]["kind"], verdict, "{id}");
    }
    for (index, setting) in expected["settings"]
        .as_array()
        .into_iter()
        .flatten()
        .enumerate()
    {
        let found = &written["placements"][index]["setting"];
        assert_eq!(found, setting, "{id}, feature {index}");
    }
    for (index, attained) in expected["attained"]
        .as_array()
        .into_iter()
        .flatten()
        .enumerate()
    {
        let found = plan.placements.get(index).expect("as many placements");
        assert_eq!(
            Value::from(fraction_text(found.attained)),
            *attained,
            "{id}, feature {index}"
        );
    }
}

#[test]
fn errors_have_the_listed_kind_code_and_field() {
    let document = read_vectors("errors.json");
    for case in list(&document, "cases") {
        let kind = kind_named(text_at(case, "kind"));
        assert_eq!(Value::from(kind.code()), case["code"], "{}", kind.name());
        assert!(!text_at(case, "python_class").is_empty());
        let input = &case["input"];
        let error = match text_at(case, "call") {
            "none" => {
                assert!(!text_at(case, "why").is_empty());
                continue;
            }
            "angle" => input.as_str().expect("text").parse::<Angle>().err(),
            "length" => input.as_str().expect("text").parse::<Length>().err(),
            "workshop" => Workshop::from_json(input.as_str().expect("text")).err(),
            "job" => Job::from_json(input.as_str().expect("text")).err(),
            "plan" => plan_error(input),
            other => panic!("no call is named {other}"),
        };
        let error = error.unwrap_or_else(|| panic!("{case} was accepted"));
        assert_eq!(error.kind(), kind, "{case}: {error}");
        if kind != ErrorKind::MalformedJson {
            assert_eq!(error.field(), text_at(case, "field"), "{case}: {error}");
        }
    }
}

fn plan_error(input: &Value) -> Option<dividing_core::Error> {
    let workshop = Workshop::from_json(text_at(input, "workshop")).expect("a workshop");
    let job = Job::from_json(text_at(input, "job")).expect("a job");
    let index = input["index"].as_u64().expect("an index");
    plan_job(&workshop, &job)
        .and_then(|plans| {
            plans
                .plan(usize::try_from(index).expect("an index"))
                .cloned()
        })
        .err()
}

/// A kind without a row would go untested in three languages.
#[test]
fn every_kind_of_error_is_listed() {
    let document = read_vectors("errors.json");
    for kind in ErrorKind::ALL {
        let listed = list(&document, "cases")
            .iter()
            .any(|case| text_at(case, "kind") == kind.name());
        assert!(listed, "{} has no row in errors.json", kind.name());
    }
}
