//! Inspects a measured plate: prints the report, and writes it with the pictures
//! of the deviations and the `measured` field for a workshop to the folder `out`.
//!
//! ```text
//! cargo run --example inspect_plate                    the demo plate of 60 holes
//! cargo run --example inspect_plate plate.json         a measurement document
//! cargo run --example inspect_plate plate.csv 60       hole centres about 0, 0 of so many places
//! ```
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "printing is what this program is for"
)]

use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use dividing_core::Length;
use dividing_core::inspection::{
    CoordinateReadings, Inspection, Measurement, Numbering, Readings, coordinate_picture,
    points_from_csv, ring_picture,
};

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let (path, places) = match arguments.as_slice() {
        [] => {
            let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/demo/plate_60.csv");
            (demo, Some(60))
        }
        [path] => (PathBuf::from(path), None),
        [path, places] => {
            let count = places.parse();
            let count =
                count.map_err(|_| format!("{places}: a whole number of places is wanted"))?;
            (PathBuf::from(path), Some(count))
        }
        _ => return Err("give a measurement document, or a CSV file and its places".into()),
    };
    let text = fs::read_to_string(&path).map_err(|error| format!("{}: {error}", path.display()))?;
    let stem = path
        .file_stem()
        .unwrap_or_default()
        .to_string_lossy()
        .into_owned();
    let measurement = match places {
        Some(places) => from_csv(&stem, &text, places),
        None => Measurement::from_json(&text),
    }
    .map_err(|error| format!("{}: {error}", path.display()))?;

    let report = measurement
        .inspect()
        .map_err(|error| format!("{}: {error}", path.display()))?;
    println!("{}", report.to_text());
    let out = Path::new("out");
    fs::create_dir_all(out)?;
    fs::write(out.join(format!("{stem}_report.txt")), report.to_text())?;
    fs::write(out.join(format!("{stem}_report.json")), report.to_json()?)?;
    let picture = match report.result() {
        Inspection::Coordinates(found) => Some(coordinate_picture(&stem, found)),
        Inspection::Ring(found) => Some(ring_picture(&stem, found)),
        _ => None,
    };
    if let Some(picture) = picture {
        fs::write(out.join(format!("{stem}_deviations.svg")), picture)?;
        let measured = serde_json::to_string_pretty(&measurement.measured()?)?;
        fs::write(out.join(format!("{stem}_measured.json")), measured)?;
    }
    println!(
        "Report, picture and measured field are in the folder {}.",
        out.display()
    );
    Ok(())
}

/// Hole centres about the axis at 0, 0.
fn from_csv(name: &str, text: &str, places: usize) -> Result<Measurement, dividing_core::Error> {
    Ok(Measurement {
        format: 1,
        name: Some(name.into()),
        measured_by: None,
        measured_on: None,
        instrument: None,
        temperature: None,
        readings: Readings::Coordinates(CoordinateReadings {
            places,
            numbering: Numbering::CounterClockwise,
            axis: Some([Length::ZERO; 2]),
            nominal_radius: None,
            standard_uncertainty: None,
            points: points_from_csv(text)?,
        }),
    })
}
