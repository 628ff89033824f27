//! Bad documents: each gets an error that names the field and what was found,
//! and none of them panics.
#![allow(
    clippy::cast_possible_truncation,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "tests"
)]

mod common;

use common::demo_files;
use dividing_core::work::Meter;
use dividing_core::{Error, ErrorKind, Job, Workshop, plan_job, plan_job_within};

const PIN: &str = r#""pin_diameter":5.98,"hole_diameter":6,"hole_position_tolerance":0.02"#;

fn workshop_with(pieces: &str) -> String {
    format!(r#"{{"format":1,"name":"Bench","equipment":[{pieces}]}}"#)
}

fn plate_with(fields: &str) -> String {
    workshop_with(&format!(
        r#"{{"direct_plate":{{"name":"p","circles":[{{"holes":12}}],{fields}}}}}"#
    ))
}

fn circle_with(fields: &str) -> String {
    workshop_with(&format!(
        r#"{{"direct_plate":{{"name":"p","circles":[{{{fields}}}]}}}}"#
    ))
}

fn head_with(ratio: &str, circles: &str) -> String {
    workshop_with(&format!(
        r#"{{"worm_head":{{"name":"h","worm_ratio":{ratio},"plates":[{{"name":"a","circles":{circles}}}]}}}}"#
    ))
}

fn job_with(fields: &str) -> String {
    format!(r#"{{"format":1,"name":"Job",{fields}}}"#)
}

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
            job_with(r#""features":{"teeth":{"count":6}}"#),
            UnknownField,
            "features",
            "teeth",
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

/// Reads a text as either document; whatever can be read is planned.
fn try_text(text: &str, other: &(Workshop, Job)) {
    if let Ok(workshop) = Workshop::from_json(text) {
        assert!(workshop.to_json().is_ok());
        try_plan(&workshop, &other.1);
    }
    if let Ok(job) = Job::from_json(text) {
        assert!(job.to_json().is_ok());
        try_plan(&other.0, &job);
    }
}

/// A little work, so that thousands of documents can be tried.
const WORK_LIMIT: u64 = 200_000;

fn try_plan(workshop: &Workshop, job: &Job) {
    let Ok(plans) = plan_job_within(workshop, job, &mut Meter::new(WORK_LIMIT)) else {
        return;
    };
    for (index, plan) in plans.plans().iter().enumerate() {
        let error = &plan.error;
        assert!(error.worst_rad.is_finite() && error.root_sum_square_rad.is_finite());
        assert!(plan.verdict.margin_rad.is_none_or(f64::is_finite));
        assert!(plan.verdict.limit_rad.is_none_or(f64::is_finite));
        if index == 0 && plan.placements.len() < 100 {
            assert!(!plans.sheet(index).unwrap().to_text().is_empty());
            assert!(!plans.sheet(index).unwrap().to_html().is_empty());
            #[cfg(feature = "drawing")]
            assert!(plans.drawing(index).unwrap().contains("<svg"));
        }
    }
    assert!(plans.to_json().is_ok());
}

fn small_pair() -> (Workshop, Job) {
    let workshop = plate_with(&format!(r#""registration":{{{PIN}}}"#));
    let job = job_with(r#""features":{"equal_divisions":{"count":9}}"#);
    (
        Workshop::from_json(&workshop).unwrap(),
        Job::from_json(&job).unwrap(),
    )
}

fn demo_texts() -> Vec<String> {
    let texts: Vec<String> = demo_files()
        .iter()
        .map(|path| std::fs::read_to_string(path).unwrap())
        .collect();
    assert!(texts.len() >= 7, "the demo documents are missing");
    texts
}

#[test]
fn documents_cut_short_at_every_byte_are_malformed() {
    for text in demo_texts() {
        let bytes = text.trim_end().as_bytes();
        for length in 0..bytes.len() {
            // Cut inside a character the rest is no UTF-8; the C face refuses
            // that before, here it becomes the replacement character.
            let cut = String::from_utf8_lossy(&bytes[..length]);
            for error in [Workshop::from_json(&cut).err(), Job::from_json(&cut).err()] {
                let error = error.unwrap_or_else(|| panic!("{length} bytes were accepted"));
                assert!(!error.message().is_empty());
            }
        }
        // Of the kind it is, a cut document is malformed, not merely wrong.
        let half = String::from_utf8_lossy(&bytes[..bytes.len() / 2]);
        let kinds = [
            Workshop::from_json(&half).unwrap_err().kind(),
            Job::from_json(&half).unwrap_err().kind(),
        ];
        assert!(kinds.contains(&ErrorKind::MalformedJson), "{kinds:?}");
    }
}

#[test]
fn deep_nesting_is_refused() {
    for (open, close) in [("[", "]"), ("{\"a\":", "}")] {
        for depth in [100, 1000, 200_000] {
            let text = open.repeat(depth) + "1" + &close.repeat(depth);
            assert!(Workshop::from_json(&text).is_err());
            assert!(Job::from_json(&text).is_err());
            let inside = plate_with(&format!(r#""station":{text}"#));
            assert!(Workshop::from_json(&inside).is_err());
        }
    }
    let long = format!("\"{}\"", "9".repeat(1_000_000));
    let error = Workshop::from_json(&plate_with(&format!(r#""station":{long}"#))).unwrap_err();
    assert_eq!(error.field(), "equipment[0].direct_plate.station");
    assert!(
        error.to_string().len() < 1000,
        "a message of {} bytes",
        error.to_string().len()
    );
}

#[test]
fn documents_that_are_too_large_are_refused() {
    let text = " ".repeat(16 * 1024 * 1024 + 1);
    assert_eq!(
        Workshop::from_json(&text).unwrap_err().kind(),
        ErrorKind::OutOfRange
    );
}

/// A small generator, so that a failure can be run again (Marsaglia, "Xorshift
/// RNGs", Journal of Statistical Software 8(14), 2003).
struct Xorshift(u64);

impl Xorshift {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    fn below(&mut self, limit: usize) -> usize {
        usize::try_from(self.next() % limit as u64).unwrap()
    }
}

/// What a document is damaged with, apart from random bytes.
const SPLINTERS: [&str; 24] = [
    "0",
    "-1",
    "1e308",
    "-0.0",
    "999999999999999999999",
    "null",
    "true",
    "[]",
    "{}",
    "\"\"",
    ",",
    ":",
    "\"",
    "}",
    "]",
    "\\u0000",
    "\\ud800",
    "NaN",
    "1 rad",
    "°",
    "1e60 turn",
    "1/0 turn",
    "100000",
    "2",
];

/// Documents damaged at random.
const ROUNDS: usize = 3000;

#[test]
fn damaged_documents_never_panic() {
    let pair = small_pair();
    let texts = demo_texts();
    let mut random = Xorshift(0x9E37_79B9_7F4A_7C15);
    let mut read = 0;
    for round in 0..ROUNDS {
        let mut bytes = texts[round % texts.len()].clone().into_bytes();
        for _ in 0..=random.below(3) {
            let at = random.below(bytes.len());
            match random.below(4) {
                0 => bytes[at] = (random.next() & 0xFF) as u8,
                1 => {
                    bytes.remove(at);
                }
                2 => {
                    let splinter = SPLINTERS[random.below(SPLINTERS.len())];
                    bytes.splice(at..at, splinter.bytes());
                }
                _ => {
                    // Another digit for a digit: the document stays well formed.
                    if let Some(digit) = bytes[at..].iter().position(u8::is_ascii_digit) {
                        bytes[at + digit] = b'0' + (random.next() % 10) as u8;
                    }
                }
            }
        }
        let text = String::from_utf8_lossy(&bytes);
        read += usize::from(Workshop::from_json(&text).is_ok() || Job::from_json(&text).is_ok());
        try_text(&text, &pair);
    }
    // Enough of them stay readable to try the plans as well.
    assert!(
        (ROUNDS / 12..ROUNDS).contains(&read),
        "{read} of {ROUNDS} could be read"
    );
}

#[test]
fn random_bytes_never_panic() {
    let mut random = Xorshift(42);
    for length in 0..2000 {
        let bytes: Vec<u8> = (0..length % 300)
            .map(|_| (random.next() & 0xFF) as u8)
            .collect();
        let text = String::from_utf8_lossy(&bytes);
        assert!(Workshop::from_json(&text).is_err());
        assert!(Job::from_json(&text).is_err());
        let _ = text.parse::<dividing_core::Angle>();
        let _ = text.parse::<dividing_core::Length>();
    }
}

/// Denominators that have no common multiple within bounds: an error, no wrap.
#[test]
fn angles_without_a_common_denominator_overflow() {
    let (workshop, _) = small_pair();
    let job = job_with(
        r#""features":{"angles":{"angles":["1/99999999999999999999999999999999977 turn",
           "1/99999999999999999999999999999999979 turn"]}}"#,
    );
    let error = plan_job(&workshop, &Job::from_json(&job).unwrap()).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Overflow, "{error}");
}

/// The largest documents end within the budget of work, one way or the other.
#[test]
fn huge_questions_end_within_their_budget() {
    let holes = circle_with(r#""holes":100000,"absent":[1]"#);
    let rings =
        workshop_with(r#"{"pin_plate":{"name":"p","circles":[{"holes":100000}],"square":true}}"#);
    let dial = workshop_with(
        r#"{"graduated_dial":{"name":"d","worm_ratio":"99991/99989","graduations":100000}}"#,
    );
    for workshop in [holes, rings, dial] {
        let workshop = Workshop::from_json(&workshop).unwrap();
        for count in [2, 99_991] {
            let job = job_with(&format!(
                r#""features":{{"equal_divisions":{{"count":{count}}}}}"#
            ));
            let job = Job::from_json(&job).unwrap();
            let limit = 1_000_000;
            let mut meter = Meter::new(limit);
            if let Err(error) = plan_job_within(&workshop, &job, &mut meter) {
                assert!(
                    matches!(error.kind(), ErrorKind::WorkLimit | ErrorKind::Overflow),
                    "{error}"
                );
            }
        }
    }
}
