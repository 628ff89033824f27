//! Bad documents: each gets an error that names the field and what was found.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "tests"
)]

use crate::common;

use common::texts::{PIN, circle_with, head_with, job_with, plate_with, workshop_with};
use dividing_core::{Error, ErrorKind, Job, Workshop};

/// A line for each thing that is not as it should be.
fn check(
    error: &Error,
    document: &str,
    kind: ErrorKind,
    field: &str,
    names: &str,
) -> Option<String> {
    let holds = error.kind() == kind && error.field() == field && error.message().contains(names);
    (!holds).then(|| {
        format!(
            "{document}\n  gives {}: {error}\n  not {} at {field:?} naming {names:?}",
            error.kind().name(),
            kind.name()
        )
    })
}

#[test]
fn bad_workshops_are_refused_by_field_and_value() {
    use ErrorKind::{
        Duplicate, EmptyList, Inconsistent, InvalidField, OutOfRange, UnknownField, UnknownFormat,
    };
    const CIRCLE: &str = "equipment[0].direct_plate.circles[0]";
    const PLATE: &str = "equipment[0].direct_plate";
    const HEAD: &str = "equipment[0].worm_head";
    let long = "x".repeat(121);
    let rows: Vec<(String, ErrorKind, String, &str)> = vec![
        (
            workshop_with(r#"{"faced_block":{"name":"b","faces":4},"vee_block":{"name":"v"}}"#),
            InvalidField,
            "equipment[0]".into(),
            "exactly that one key",
        ),
        // zero, negative, huge
        (
            circle_with(r#""holes":0"#),
            OutOfRange,
            format!("{CIRCLE}.holes"),
            "0 is out of range",
        ),
        (
            circle_with(r#""holes":1"#),
            OutOfRange,
            format!("{CIRCLE}.holes"),
            "2 to 100000",
        ),
        (
            circle_with(r#""holes":-12"#),
            InvalidField,
            format!("{CIRCLE}.holes"),
            "-12",
        ),
        (
            circle_with(r#""holes":100001"#),
            OutOfRange,
            format!("{CIRCLE}.holes"),
            "100001",
        ),
        (
            circle_with(r#""holes":99999999999"#),
            InvalidField,
            format!("{CIRCLE}.holes"),
            "99999999999",
        ),
        (
            circle_with(r#""holes":1e99"#),
            InvalidField,
            format!("{CIRCLE}.holes"),
            "1e+99",
        ),
        (
            circle_with(r#""holes":12.5"#),
            InvalidField,
            format!("{CIRCLE}.holes"),
            "12.5",
        ),
        (
            circle_with(r#""holes":"twelve""#),
            InvalidField,
            format!("{CIRCLE}.holes"),
            "twelve",
        ),
        (
            circle_with(r#""holes":null"#),
            InvalidField,
            format!("{CIRCLE}.holes"),
            "null",
        ),
        (
            circle_with(r#""holes":12,"pitch_radius":0"#),
            OutOfRange,
            format!("{CIRCLE}.pitch_radius"),
            "0 mm",
        ),
        (
            circle_with(r#""holes":12,"pitch_radius":-40"#),
            OutOfRange,
            format!("{CIRCLE}.pitch_radius"),
            "-40 mm",
        ),
        (
            circle_with(r#""holes":12,"pitch_radius":1e300"#),
            InvalidField,
            format!("{CIRCLE}.pitch_radius"),
            "100000 mm",
        ),
        (
            circle_with(r#""holes":12,"pitch_radius":"40 parsec""#),
            InvalidField,
            format!("{CIRCLE}.pitch_radius"),
            "parsec",
        ),
        (
            circle_with(r#""holes":12,"pitch_radius":"40 deg""#),
            InvalidField,
            format!("{CIRCLE}.pitch_radius"),
            "deg",
        ),
        (
            circle_with(r#""holes":12,"pitch_radius":"40""#),
            InvalidField,
            format!("{CIRCLE}.pitch_radius"),
            "no unit",
        ),
        (
            circle_with(r#""holes":12,"pitch_radius":"NaN mm""#),
            InvalidField,
            format!("{CIRCLE}.pitch_radius"),
            "NaN",
        ),
        (
            circle_with(r#""holes":12,"pitch_radius":"inf mm""#),
            InvalidField,
            format!("{CIRCLE}.pitch_radius"),
            "inf",
        ),
        (
            circle_with(r#""holes":12,"absent":[12]"#),
            OutOfRange,
            format!("{CIRCLE}.absent[0]"),
            "12 is out of range",
        ),
        (
            circle_with(r#""holes":12,"absent":[3,3]"#),
            Duplicate,
            format!("{CIRCLE}.absent[1]"),
            "hole 3",
        ),
        (
            circle_with(r#""holes":2,"absent":[0,1]"#),
            EmptyList,
            format!("{CIRCLE}.absent"),
            "every hole",
        ),
        // angles
        (
            circle_with(r#""holes":12,"first_hole":22.5"#),
            InvalidField,
            format!("{CIRCLE}.first_hole"),
            "22.5",
        ),
        (
            circle_with(r#""holes":12,"first_hole":"22.5""#),
            InvalidField,
            format!("{CIRCLE}.first_hole"),
            "22.5 deg",
        ),
        (
            circle_with(r#""holes":12,"first_hole":"NaN deg""#),
            InvalidField,
            format!("{CIRCLE}.first_hole"),
            "NaN",
        ),
        (
            circle_with(r#""holes":12,"first_hole":"1 rad""#),
            InvalidField,
            format!("{CIRCLE}.first_hole"),
            "radian",
        ),
        (
            circle_with(r#""holes":12,"first_hole":"5 mm""#),
            InvalidField,
            format!("{CIRCLE}.first_hole"),
            "mm",
        ),
        (
            circle_with(r#""holes":12,"first_hole":"1e60 turn""#),
            InvalidField,
            format!("{CIRCLE}.first_hole"),
            "1e60",
        ),
        // unknown fields and kinds
        (
            circle_with(r#""holes":12,"hols":12"#),
            UnknownField,
            format!("{CIRCLE}.hols"),
            "hols",
        ),
        (
            plate_with(r#""plunger":6"#),
            UnknownField,
            format!("{PLATE}.plunger"),
            "plunger",
        ),
        (
            workshop_with(r#"{"lathe":{"name":"l"}}"#),
            UnknownField,
            "equipment[0]".into(),
            "lathe",
        ),
        // empty lists and duplicates
        (
            workshop_with(""),
            EmptyList,
            "equipment".into(),
            "1 to 1000",
        ),
        (
            workshop_with(r#"{"direct_plate":{"name":"p","circles":[]}}"#),
            EmptyList,
            format!("{PLATE}.circles"),
            "no hole circle",
        ),
        (
            workshop_with(
                r#"{"pin_plate":{"name":"p","circles":[{"holes":5},{"holes":6},{"holes":5}]}}"#,
            ),
            Duplicate,
            "equipment[0].pin_plate.circles[2].holes".into(),
            "5 holes",
        ),
        (
            workshop_with(
                r#"{"vernier_indexer":{"name":"v","circle":{"holes":36},"stations":[]}}"#,
            ),
            EmptyList,
            "equipment[0].vernier_indexer.stations".into(),
            "no station",
        ),
        (
            workshop_with(
                r#"{"vernier_indexer":{"name":"v","circle":{"holes":36},"stations":["0 deg","1 turn"]}}"#,
            ),
            Duplicate,
            "equipment[0].vernier_indexer.stations[1]".into(),
            "360°",
        ),
        (
            head_with("40", "[]"),
            EmptyList,
            format!("{HEAD}.plates[0].circles"),
            "no hole circle",
        ),
        (
            head_with("40", "[18,18]"),
            Duplicate,
            format!("{HEAD}.plates[0].circles[1]"),
            "18 holes",
        ),
        (
            head_with("40", "[1]"),
            OutOfRange,
            format!("{HEAD}.plates[0].circles[0]"),
            "1 is out of range",
        ),
        (
            head_with("40", "[4294967296]"),
            InvalidField,
            format!("{HEAD}.plates[0].circles[0]"),
            "4294967296",
        ),
        // worm ratios
        (
            head_with("0", "[18]"),
            InvalidField,
            format!("{HEAD}.worm_ratio"),
            "0/1",
        ),
        (
            head_with("-40", "[18]"),
            InvalidField,
            format!("{HEAD}.worm_ratio"),
            "-40",
        ),
        (
            head_with("40.5", "[18]"),
            InvalidField,
            format!("{HEAD}.worm_ratio"),
            "40.5",
        ),
        (
            head_with(r#""40/0""#, "[18]"),
            InvalidField,
            format!("{HEAD}.worm_ratio"),
            "40/0",
        ),
        (
            head_with(r#""forty""#, "[18]"),
            InvalidField,
            format!("{HEAD}.worm_ratio"),
            "forty",
        ),
        (
            head_with(r#""99999999999999999999999999999999999999999/2""#, "[18]"),
            InvalidField,
            format!("{HEAD}.worm_ratio"),
            "9999",
        ),
        // pin and hole
        (
            plate_with(
                r#""registration":{"pin_diameter":6.01,"hole_diameter":6,"hole_position_tolerance":0.02}"#,
            ),
            Inconsistent,
            format!("{PLATE}.registration.pin_diameter"),
            "6.01 mm",
        ),
        (
            plate_with(
                r#""registration":{"pin_diameter":5,"hole_diameter":6,"hole_position_tolerance":-0.02}"#,
            ),
            OutOfRange,
            format!("{PLATE}.registration.hole_position_tolerance"),
            "-0.02 mm",
        ),
        (
            plate_with(r#""registration":{"pin_diameter":5,"hole_diameter":6}"#),
            InvalidField,
            format!("{PLATE}.registration"),
            "hole_position_tolerance",
        ),
        (
            plate_with(&format!(r#""registration":{{{PIN},"seating":"sideways"}}"#)),
            UnknownField,
            format!("{PLATE}.registration.seating"),
            "sideways",
        ),
        (
            plate_with(r#""eccentricity":-0.1"#),
            OutOfRange,
            format!("{PLATE}.eccentricity"),
            "-0.1 mm",
        ),
        // blocks
        (
            workshop_with(r#"{"faced_block":{"name":"b","faces":2}}"#),
            OutOfRange,
            "equipment[0].faced_block.faces".into(),
            "3 to 1000",
        ),
        (
            workshop_with(r#"{"faced_block":{"name":"b","faces":4,"face_error":"-1'"}}"#),
            OutOfRange,
            "equipment[0].faced_block.face_error".into(),
            "out of range",
        ),
        (
            workshop_with(r#"{"vee_block":{"name":"v","included_angle":"180 deg"}}"#),
            OutOfRange,
            "equipment[0].vee_block.included_angle".into(),
            "180°",
        ),
        (
            workshop_with(r#"{"vee_block":{"name":"v","included_angle":"0 deg"}}"#),
            OutOfRange,
            "equipment[0].vee_block.included_angle".into(),
            "0°",
        ),
        // names and the format
        (
            workshop_with(r#"{"faced_block":{"name":"","faces":4}}"#),
            OutOfRange,
            "equipment[0].faced_block.name".into(),
            "0 characters",
        ),
        (
            workshop_with(&format!(
                r#"{{"faced_block":{{"name":"{long}","faces":4}}}}"#
            )),
            OutOfRange,
            "equipment[0].faced_block.name".into(),
            "121 characters",
        ),
        (
            workshop_with(r#"{"faced_block":{"name":"a\u0000b","faces":4}}"#),
            OutOfRange,
            "equipment[0].faced_block.name".into(),
            "printable",
        ),
        (
            r#"{"format":2,"name":"b","equipment":[]}"#.into(),
            UnknownFormat,
            "format".into(),
            "2",
        ),
        (
            r#"{"format":-1,"name":"b","equipment":[]}"#.into(),
            InvalidField,
            "format".into(),
            "-1",
        ),
        (
            r#"{"name":"b","equipment":[]}"#.into(),
            InvalidField,
            String::new(),
            "format",
        ),
        (
            r#"{"format":1,"name":"b","name":"c","equipment":[]}"#.into(),
            InvalidField,
            String::new(),
            "name",
        ),
    ];
    let mut wrong = Vec::new();
    for (document, kind, field, names) in rows {
        let error = Workshop::from_json(&document).expect_err(&document);
        wrong.extend(check(&error, &document, kind, &field, names));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn bad_jobs_are_refused_by_field_and_value() {
    use ErrorKind::{Duplicate, EmptyList, Inconsistent, InvalidField, OutOfRange, UnknownField};
    const NINE: &str = r#""features":{"equal_divisions":{"count":9}}"#;
    let count = |text: &str| {
        job_with(&format!(
            r#""features":{{"equal_divisions":{{"count":{text}}}}}"#
        ))
    };
    let nine_and = |fields: &str| job_with(&format!("{NINE},{fields}"));
    let angles =
        |list: &str| job_with(&format!(r#""features":{{"angles":{{"angles":[{list}]}}}}"#));
    let rows: Vec<(String, ErrorKind, &str, &str)> = vec![
        (
            count("0"),
            OutOfRange,
            "features.equal_divisions.count",
            "0 is out of range",
        ),
        (
            count("1"),
            OutOfRange,
            "features.equal_divisions.count",
            "2 to 100000",
        ),
        (
            count("-9"),
            InvalidField,
            "features.equal_divisions.count",
            "-9",
        ),
        (
            count("100001"),
            OutOfRange,
            "features.equal_divisions.count",
            "100001",
        ),
        (
            count("1e+99"),
            InvalidField,
            "features.equal_divisions.count",
            "1e+99",
        ),
        (
            count("\"NaN\""),
            InvalidField,
            "features.equal_divisions.count",
            "NaN",
        ),
        (
            count("9,\"cuont\":3"),
            UnknownField,
            "features.equal_divisions.cuont",
            "cuont",
        ),
        (
            angles(""),
            EmptyList,
            "features.angles.angles",
            "at least one",
        ),
        (
            angles(r#""0 deg","17.5""#),
            InvalidField,
            "features.angles.angles[1]",
            "17.5 deg",
        ),
        (
            angles(r#""0 deg","-360 deg""#),
            Duplicate,
            "features.angles.angles[1]",
            "-360°",
        ),
        (
            angles(r#""1/0 turn""#),
            InvalidField,
            "features.angles.angles[0]",
            "denominator",
        ),
        (
            nine_and(r#""tolerance":{"angle":"0 deg"}"#),
            OutOfRange,
            "tolerance.angle",
            "0°",
        ),
        (
            nine_and(r#""tolerance":{"angle":"-0.05 deg"}"#),
            OutOfRange,
            "tolerance.angle",
            "-0.05°",
        ),
        (
            nine_and(r#""tolerance":{"angle":"0.05 mm"}"#),
            InvalidField,
            "tolerance.angle",
            "mm",
        ),
        (
            nine_and(r#""tolerance":{"position_diameter":{"diameter":0,"radius":30}}"#),
            OutOfRange,
            "tolerance.position_diameter.diameter",
            "0 mm",
        ),
        (
            nine_and(r#""tolerance":{"position_diameter":{"diameter":60,"radius":30}}"#),
            Inconsistent,
            "tolerance.position_diameter.diameter",
            "60 mm",
        ),
        (
            nine_and(r#""start":"anywhere""#),
            UnknownField,
            "start",
            "anywhere",
        ),
        (
            nine_and(r#""start":{"clocked":{"to":""}}"#),
            OutOfRange,
            "start.clocked.to",
            "0 characters",
        ),
        (
            nine_and(r#""start":{"clocked":{"to":"keyway","clocking_error":"90 deg"}}"#),
            OutOfRange,
            "start.clocked.clocking_error",
            "90°",
        ),
        (
            nine_and(r#""units":{"length":"furlong"}"#),
            UnknownField,
            "units.length",
            "furlong",
        ),
        (
            job_with(r#""features":{"flats":{"count":6,"across_flats":20,"stock_diameter":20}}"#),
            Inconsistent,
            "features.flats.across_flats",
            "20 mm",
        ),
        (
            job_with(r#""features":{"bolt_circle":{"count":6,"pitch_radius":0}}"#),
            OutOfRange,
            "features.bolt_circle.pitch_radius",
            "0 mm",
        ),
        (
            job_with(r#""features":{"notches":{"count":6}}"#),
            UnknownField,
            "features",
            "notches",
        ),
        (
            job_with(r#""features":{"teeth":{"count":6}}"#),
            InvalidField,
            "features.teeth",
            "size",
        ),
        (
            job_with(r#""features":{}"#),
            InvalidField,
            "features",
            "expected",
        ),
    ];
    let mut wrong = Vec::new();
    for (document, kind, field, names) in rows {
        let error = Job::from_json(&document).expect_err(&document);
        wrong.extend(check(&error, &document, kind, field, names));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
