//! Sine bars: the steepest setting of the plan, seen from the side.

use super::canvas::{Canvas, GREY, INK};
use crate::accuracy::size_text;
use crate::equipment::SineBar;
use crate::plan::Plan;
use crate::reach::Setting;

/// Length of the bar in the picture, in millimetres.
const BAR_MM: f64 = 90.0;

/// Radius of a roller in the picture, in millimetres.
const ROLLER_MM: f64 = 5.0;

pub(super) fn sine_bar(title: &str, bar: &SineBar, plan: &Plan) -> String {
    let steepest = plan
        .placements
        .iter()
        .enumerate()
        .filter_map(|(number, placement)| match &placement.setting {
            Setting::SineBar {
                height_units,
                reversed,
                unit,
                ..
            } => Some((*height_units, *reversed, *unit, number)),
            _ => None,
        })
        .max_by_key(|(height, ..)| *height);
    let caption = "the steepest setting, seen from the side; lengths in proportion";
    let mut canvas = Canvas::new(title, caption, 70.0);
    let ground_mm = -45.0;
    canvas.line((-65.0, ground_mm), (65.0, ground_mm), INK, 0.8);
    let Some((height_units, reversed, unit, number)) = steepest else {
        return canvas.finish();
    };
    let sine = (unit.to_mm(i64::from(height_units)) / bar.length.mm()).clamp(0.0, 1.0);
    let (side, run_mm) = (
        if reversed { -1.0 } else { 1.0 },
        BAR_MM * (1.0 - sine * sine).sqrt(),
    );
    let (low, high) = (
        (-side * run_mm / 2.0, ground_mm + ROLLER_MM),
        (side * run_mm / 2.0, ground_mm + ROLLER_MM + BAR_MM * sine),
    );
    // The working face lies clear of the rollers, in line with their centres.
    let off_mm = ROLLER_MM * 1.6;
    let (along, up) = ((high.0 - low.0) / BAR_MM, (high.1 - low.1) / BAR_MM);
    let lift = |point: (f64, f64), by_mm: f64| {
        (point.0 - side * up * by_mm, point.1 + side * along * by_mm)
    };
    canvas.polygon(
        &[
            lift(low, ROLLER_MM * 0.4),
            lift(high, ROLLER_MM * 0.4),
            lift(high, off_mm),
            lift(low, off_mm),
        ],
        INK,
    );
    for roller in [low, high] {
        canvas.circle(roller.0, roller.1, ROLLER_MM, "white", INK);
    }
    if height_units > 0 {
        let top_mm = high.1 - ROLLER_MM;
        canvas.polygon(
            &[
                (high.0 - ROLLER_MM, ground_mm),
                (high.0 + ROLLER_MM, ground_mm),
                (high.0 + ROLLER_MM, top_mm),
                (high.0 - ROLLER_MM, top_mm),
            ],
            INK,
        );
    }
    canvas.text_at(
        &format!("feature {}: {}", number + 1, size_text(unit, height_units)),
        0.0,
        ground_mm - 6.0,
        3.5,
        INK,
    );
    canvas.text_at(
        &format!("{} between the rollers", bar.length),
        0.0,
        ground_mm - 12.0,
        3.0,
        GREY,
    );
    canvas.finish()
}
