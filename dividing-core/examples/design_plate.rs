//! Designs the plate of a brief, prints its certificate and hole table, and
//! writes what the bench needs: hole table, drill program, check dimensions,
//! pattern, DXF and SVG.
//!
//! `design_plate [BRIEF.json] [FOLDER]`; without them the demo brief, into `out`.
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "printing is what this program is for"
)]

use std::path::Path;
use std::process::ExitCode;

use dividing_core::Length;
use dividing_core::pattern::outputs::{
    DrillStyle, DrillingData, TableOptions, TableUnit, check_dimensions, drill_program,
    drill_table, plate_dxf, ring_stamp,
};
use dividing_core::pattern::{Design, Pattern, PlateBrief, design};
use dividing_core::work::Meter;

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<(), Box<dyn std::error::Error>> {
    let mut arguments = std::env::args().skip(1);
    let text = match arguments.next() {
        Some(file) => std::fs::read_to_string(&file).map_err(|error| format!("{file}: {error}"))?,
        None => include_str!("demo/plate_brief.json").to_owned(),
    };
    let folder = arguments.next().unwrap_or_else(|| "out".to_owned());
    let brief = PlateBrief::from_json(&text)?;
    let plate = match design(&brief, &mut Meter::default())? {
        Design::Pattern(plate) => *plate,
        Design::DoesNotFit(shortfall) => {
            println!("{}", shortfall.sentence());
            return Ok(());
        }
    };
    describe(&plate)?;
    write_files(&plate, Path::new(&folder), "")?;
    if let Some(fixed) = plate.station_plate()? {
        write_files(&fixed, Path::new(&folder), "fixed_")?;
    }
    println!("\nwritten into {folder}");
    Ok(())
}

fn describe(plate: &Pattern) -> Result<(), dividing_core::Error> {
    let certificate = &plate.certificate;
    println!(
        "{} holes, lower bound {}, {}",
        certificate.holes,
        certificate.lower_bound,
        if certificate.complete {
            "fewest proved and the best margin among those"
        } else {
            "best found"
        }
    );
    println!(
        "bound by: {}; sets of holes to share out: {}, ways to: {:.0}, rings looked at: {}, nodes searched: {}",
        certificate.proof,
        certificate.wishes_shared_out,
        certificate.partitions,
        certificate.rings_considered,
        certificate.nodes
    );
    for (index, ring) in plate.rings.iter().enumerate() {
        println!(
            "ring {}: radius {:.3} mm, {} holes",
            ring_stamp(plate, index),
            ring.radius_mm,
            ring.holes.len()
        );
    }
    for served in &plate.served {
        let figure = |value: Option<f64>| value.map(|arcsec| format!("±{arcsec:.1}\""));
        let error = figure(served.predicted_error_arcsec);
        let error = error.unwrap_or_else(|| "not known".to_owned());
        match figure(served.tolerance_arcsec) {
            Some(tolerance) => println!(
                "{}: error {error}, tolerance {tolerance}: {}",
                served.wish, served.verdict
            ),
            None => println!("{}: error {error}, no tolerance given", served.wish),
        }
    }
    for room in &plate.bar_room {
        println!("{}", room.sentence());
    }
    for remark in &plate.remarks {
        println!("{remark}");
    }
    println!("\nto check, in mm: centres, over the pins, between the pins");
    for it in check_dimensions(plate) {
        println!(
            "{} to {}: {:.3}, {:.3}, {:.3}",
            it.from, it.to, it.centres_mm, it.over_pins_mm, it.between_pins_mm
        );
    }
    let table = drill_table(plate, &TableOptions::default())?;
    println!("\n{}", table.to_csv());
    Ok(())
}

fn write_files(
    plate: &Pattern,
    folder: &Path,
    prefix: &str,
) -> Result<(), Box<dyn std::error::Error>> {
    std::fs::create_dir_all(folder)?;
    let table = TableOptions::default();
    let data = DrillingData {
        table,
        style: DrillStyle::Cycle,
        clearance_height: Length::from_mm(5.0)?,
        depth: Length::from_mm(12.0)?,
        feed_per_minute: Length::from_mm(80.0)?,
        spindle_rpm: 900,
    };
    let write =
        |name: &str, text: String| std::fs::write(folder.join(format!("{prefix}{name}")), text);
    write("table.csv", drill_table(plate, &table)?.to_csv())?;
    write("program.nc", drill_program(plate, &data)?)?;
    write(
        "checks.json",
        serde_json::to_string_pretty(&check_dimensions(plate))?,
    )?;
    write("pattern.json", serde_json::to_string_pretty(plate)?)?;
    write("plate.dxf", plate_dxf(plate, TableUnit::Millimetre))?;
    #[cfg(feature = "drawing")]
    write(
        "plate.svg",
        dividing_core::pattern::outputs::plate_svg(plate),
    )?;
    Ok(())
}
