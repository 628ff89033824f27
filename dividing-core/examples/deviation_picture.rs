//! Draws the deviations of an invented index plate as SVG on standard output.
//!
//! `cargo run -p dividing-core --example deviation_picture > plate.svg`
//! With a number of places behind it, a ring of that many: `… -- 360`.
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]

use std::f64::consts::TAU;

use dividing_core::inspection::{
    CoordinateReadings, Numbering, PointReading, coordinate_picture, inspect_coordinates,
};
use dividing_core::{Error, ErrorKind, Length};

fn main() -> Result<(), Error> {
    let places: u32 = match std::env::args().nth(1) {
        None => 24,
        Some(text) => text
            .parse()
            .map_err(|_| Error::out_of_range(text, "a number of places"))?,
    };
    let mut points = Vec::new();
    for place in 0..places {
        let k = f64::from(place);
        // One place is left out, as a plugged hole would be.
        if place == 17 {
            continue;
        }
        let wave = 4.0e-5 * (TAU * 3.0 * k / f64::from(places) + 0.7).cos();
        let rough = 3.0e-5 * (k * k * 1.37).sin();
        let angle = TAU * k / f64::from(places) + wave + rough;
        points.push(PointReading {
            place: usize::try_from(place)
                .map_err(|_| Error::new(ErrorKind::OutOfRange, "too many places"))?,
            x: Length::from_mm(0.006 + 60.0 * angle.cos())?,
            y: Length::from_mm(-0.004 + 60.0 * angle.sin())?,
            standard_uncertainty: None,
        });
    }
    let inspection = inspect_coordinates(&CoordinateReadings {
        places: usize::try_from(places)
            .map_err(|_| Error::new(ErrorKind::OutOfRange, "too many places"))?,
        numbering: Numbering::CounterClockwise,
        axis: Some([Length::ZERO; 2]),
        nominal_radius: None,
        standard_uncertainty: None,
        points,
    })?;
    let title = format!("Invented index plate, {places} places, radius 60 mm");
    println!("{}", coordinate_picture(&title, &inspection));
    Ok(())
}
