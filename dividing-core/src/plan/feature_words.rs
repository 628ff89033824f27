//! Words for the features of a job: what the drawing gives, what to check, and
//! the columns that belong to a feature.

use super::words;
use crate::features::{BoltCircle, Features, Flats, Mark, OppositeMeasure, Slots};
use crate::job::SheetUnits;

/// What the drawing gives beside the angles, as the end of a phrase.
pub(super) fn drawing(features: &Features, units: SheetUnits) -> String {
    match features {
        Features::BoltCircle(it) => format!(
            ", on a circle of radius {}",
            words::length(it.pitch_radius, units)
        ),
        Features::Flats(it) => format!(
            ", {} across on stock of {}",
            words::length(it.across_flats, units),
            words::length(it.stock_diameter, units)
        ),
        Features::Slots(it) => format!(
            ", {} wide and {} deep on a diameter of {}",
            words::length(it.width, units),
            words::length(it.depth, units),
            words::length(it.outside_diameter, units)
        ),
        Features::Teeth(it) => format!(
            ", module {:.4} mm, pitch diameter {}",
            it.geometry().module_mm,
            words::length_mm(it.geometry().pitch_diameter_mm, units)
        ),
        Features::Graduations(it) => {
            let middle = it
                .middle_every
                .map_or_else(String::new, |every| format!(", a middle one every {every}"));
            format!(", a major line every {}{middle}", it.major_every)
        }
        _ => String::new(),
    }
}

/// What to measure on the part.
pub(super) fn checks(features: &Features, units: SheetUnits) -> Vec<String> {
    match features {
        Features::BoltCircle(it) => bolt_circle(it, units),
        Features::Flats(it) => flats(it, units),
        Features::Slots(it) => slots(it, units),
        Features::Teeth(it) => {
            let figures = it.geometry();
            vec![format!(
                "Full-depth teeth: outside diameter of the blank {}, depth of a space {}; what the cutter says stands above this.",
                words::length_mm(figures.outside_diameter_mm, units),
                words::length_mm(figures.whole_depth_mm, units)
            )]
        }
        _ => Vec::new(),
    }
}

fn bolt_circle(it: &BoltCircle, units: SheetUnits) -> Vec<String> {
    let mut lines = vec![format!(
        "Over neighbouring hole centres: {}.",
        words::length_mm(it.neighbour_chord_mm(), units)
    )];
    for spaces in &it.chord_checks {
        lines.push(format!(
            "Over hole centres {spaces} spaces apart: {}.",
            words::length_mm(it.chord_mm(*spaces), units)
        ));
    }
    if let Some(hole) = it.hole_diameter {
        lines.push(format!(
            "Over pins that fill neighbouring holes of {}: {} outside, {} inside.",
            words::length(hole, units),
            words::length_mm(it.neighbour_chord_mm() + hole.mm(), units),
            words::length_mm(it.neighbour_chord_mm() - hole.mm(), units)
        ));
    }
    lines
}

fn flats(it: &Flats, units: SheetUnits) -> Vec<String> {
    let figures = it.geometry();
    let mut lines = vec![
        format!(
            "Depth of cut for each flat: {}.",
            words::length_mm(figures.depth_mm, units)
        ),
        format!(
            "Measure from a finished flat to {}: {}.",
            match figures.opposite {
                OppositeMeasure::Flat => "the flat opposite",
                OppositeMeasure::Round => "the round opposite",
                OppositeMeasure::Corner => "the corner opposite",
            },
            words::length_mm(figures.over_opposite_mm, units)
        ),
        format!(
            "Width of a finished flat: {}.",
            words::length_mm(figures.flat_width_mm, units)
        ),
    ];
    if let Some(sharp_mm) = figures.stock_for_sharp_corners_mm {
        lines.push(format!(
            "Across the corners: {}.",
            words::length_mm(figures.across_corners_mm, units)
        ));
        lines.push(format!(
            "Stock of {} or more gives sharp corners.",
            words::length_mm(sharp_mm, units)
        ));
    }
    lines
}

fn slots(it: &Slots, units: SheetUnits) -> Vec<String> {
    let figures = it.geometry();
    let mut lines = vec![format!(
        "Land between two slots at the outside, as a chord: {}.",
        words::length_mm(figures.land_mm, units)
    )];
    lines.push(if figures.web_at_bottom_mm > 0.0 {
        format!(
            "Material left between two slots at the bottom: {}.",
            words::length_mm(figures.web_at_bottom_mm, units)
        )
    } else {
        "Neighbouring slots run into one another above their bottoms: check the drawing.".into()
    });
    if let Some(over_mm) = figures.over_bottoms_mm {
        lines.push(format!(
            "Over the bottoms of opposite slots: {}.",
            words::length_mm(over_mm, units)
        ));
    }
    lines
}

/// The columns that features of this kind have in the table of settings.
pub(super) fn columns(features: &Features) -> &'static [&'static str] {
    match features {
        Features::Graduations(_) => &["line"],
        _ => &[],
    }
}

/// What one feature has in them.
pub(super) fn cells(features: &Features, index: usize, units: SheetUnits) -> Vec<String> {
    match features {
        Features::Graduations(it) => {
            let mark = it.mark(u32::try_from(index).unwrap_or(u32::MAX));
            let name = match mark {
                Mark::Major => "major",
                Mark::Middle => "middle",
                Mark::Minor => "minor",
            };
            let length = it.length(mark).map_or_else(String::new, |length| {
                format!(", {}", words::length(length, units))
            });
            vec![format!("{name}{length}")]
        }
        _ => Vec::new(),
    }
}
