//! Reads one plate brief and writes what the bench needs into a folder: drill
//! table, drill program, check dimensions, pattern, DXF and SVG.
//!
//! `plate_outputs BRIEF.json FOLDER`
#![allow(clippy::print_stdout, reason = "an example talks through its output")]

use std::path::Path;

use dividing_core::Length;
use dividing_core::pattern::outputs::{
    DrillStyle, DrillingData, TableOptions, TableUnit, check_dimensions, drill_program,
    drill_table, plate_dxf,
};
use dividing_core::pattern::{PlateBrief, design};
use dividing_core::work::Meter;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut arguments = std::env::args().skip(1);
    let (Some(brief), Some(folder)) = (arguments.next(), arguments.next()) else {
        return Err("give the file of a brief and a folder".into());
    };
    let folder = Path::new(&folder);
    std::fs::create_dir_all(folder)?;
    let brief = PlateBrief::from_json(&std::fs::read_to_string(brief)?)?;
    let pattern = design(&brief, &mut Meter::default())?.into_pattern()?;
    let table = drill_table(&pattern, &TableOptions::default())?;
    let data = DrillingData {
        table: TableOptions::default(),
        style: DrillStyle::Cycle,
        clearance_height: Length::from_mm(5.0)?,
        depth: Length::from_mm(12.0)?,
        feed_per_minute: Length::from_mm(80.0)?,
        spindle_rpm: 900,
    };
    let write = |name: &str, text: String| std::fs::write(folder.join(name), text);
    write("table.csv", table.to_csv())?;
    write("program.nc", drill_program(&pattern, &data)?)?;
    write(
        "checks.json",
        serde_json::to_string_pretty(&check_dimensions(&pattern))?,
    )?;
    write("pattern.json", serde_json::to_string_pretty(&pattern)?)?;
    write("plate.dxf", plate_dxf(&pattern, TableUnit::Millimetre))?;
    #[cfg(feature = "drawing")]
    write(
        "plate.svg",
        dividing_core::pattern::outputs::plate_svg(&pattern),
    )?;
    println!(
        "{} holes on {} rings",
        pattern.hole_count(),
        pattern.rings.len()
    );
    Ok(())
}
