//! What the exports are tried with: an argument that a call accepts, so that a
//! refusal is about the one that was spoiled. A new export whose arguments are
//! called and mean the same as those of others needs nothing here. An export
//! whose sample is refused is tried all the same, but then any refusal will do;
//! the test says how many such exports there are.

const WORKSHOP: &str = include_str!("../../../dividing-core/examples/demo/workshop.json");
const JOB: &str = include_str!("../../../dividing-core/examples/demo/job_1_nine_slots.json");

/// Start of the function's name, the argument, the text. The first that fits
/// counts.
const TEXTS: &[(&str, &str, &str)] = &[
    ("dividing_angle_", "text", "22.5 deg"),
    ("dividing_length_", "text", "6 mm"),
    ("", "fit", "H7/g6"),
    ("", "workshop", WORKSHOP),
    ("", "job", JOB),
];

/// The text for an argument.
pub fn text(function: &str, argument: &str) -> &'static str {
    TEXTS
        .iter()
        .find(|(start, name, _)| function.starts_with(start) && argument == *name)
        .map_or("{}", |it| it.2)
}

/// Start of the function's name, the argument, the number.
const NUMBERS: &[(&str, &str, f64)] = &[
    ("", "divisions", 9.0),
    ("", "holes", 18.0),
    ("", "worm_turns", 40.0),
    ("", "count", 6.0),
    ("", "radius_mm", 30.0),
    ("", "stock_diameter_mm", 24.0),
    ("", "across_flats_mm", 20.0),
    ("", "clearance_mm", 0.02),
    ("", "position_mm", 0.05),
    ("", "nominal_mm", 6.0),
    ("", "length_mm", 100.0),
    // A limit of 0 is the usual one; an index begins at 0.
    ("", "work_limit", 0.0),
    ("", "plan", 0.0),
    ("", "step", 0.0),
    ("", "style", 0.0),
];

/// The number for an argument: 1 unless listed.
pub fn number(function: &str, argument: &str) -> f64 {
    NUMBERS
        .iter()
        .find(|(start, name, _)| function.starts_with(start) && argument == *name)
        .map_or(1.0, |it| it.2)
}

/// A struct that goes in, as a C initialiser; or each entry of an array.
const STRUCTS: &[(&str, &str)] = &[("dividing_fraction", "{1, 9}")];

/// The initialiser for a struct.
pub fn structure(name: &str) -> &'static str {
    STRUCTS
        .iter()
        .find(|(it, _)| *it == name)
        .map_or("{0}", |it| it.1)
}

/// Entries of an array that goes in, and room of one that comes out.
pub const ENTRIES: usize = 6;

/// An array of plain numbers, `ENTRIES` long, as a C initialiser.
pub fn array(_function: &str, _argument: &str) -> &'static str {
    "{1, 2, 3, 4, 5, 6}"
}
