//! Documents cut short, damaged, nested and blown up: an error, never a panic,
//! and never without end.
#![allow(
    clippy::cast_possible_truncation,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "tests"
)]

use crate::common;

use common::demo_files;
use common::texts::{PIN, circle_with, job_with, plate_with, workshop_with};
use dividing_core::work::Meter;
use dividing_core::{ErrorKind, Job, Workshop, plan_job, plan_job_within};

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
        .filter(|path| {
            let name = path.file_name().unwrap().to_string_lossy();
            name == "workshop.json" || name.starts_with("job_")
        })
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
