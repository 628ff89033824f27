//! How stacked blocks, readings and references of the part register.

use super::contributor::{Contributor, Distribution, InputUnit, Persistence};
use super::plunger::{PART_HOLE, over_lever, pin_in_zone};
use super::registration::{Registration, given_angle, known};
use crate::angle::Angle;
use crate::equipment::{AngleBlocks, PartReference, Protractor, ReferenceContact, SineBar};
use crate::gauge_blocks::BlockUnit;
use crate::reach::{Setting, StackedBlocks};

/// A sine bar at a tilt θ: `δθ = δh/(L·cos θ) + tan θ·δL/L`, from
/// `sin θ = h/L`.
pub(super) fn sine_bar(bar: &SineBar, setting: &Setting, found: &mut Registration) {
    let Setting::SineBar {
        unit,
        height_units,
        stacks,
        wear_block_units,
        ..
    } = setting
    else {
        return;
    };
    let length_mm = bar.length.mm();
    let sine = (unit.to_mm(i64::from(*height_units)) / length_mm).clamp(0.0, 1.0);
    let cosine = (1.0 - sine * sine).sqrt();
    let block_error = known(
        bar.block_error,
        "deviation of the gauge blocks (block_error)",
        found,
    );
    let length_error = known(
        bar.length_error,
        "deviation of the roller distance (length_error)",
        found,
    );
    if let (Some(error), Some(stack)) = (block_error, stacks.first()) {
        for size in sizes(stack, *wear_block_units) {
            found.contributors.push(over_lever(
                format!("gauge block {}", size_text(*unit, size)),
                error.mm(),
                length_mm * cosine,
                Distribution::Uniform,
                Persistence::FixedForPlace,
            ));
        }
    }
    if let Some(error) = length_error
        && *height_units > 0
    {
        found.contributors.push(Contributor {
            name: "distance of the rollers".into(),
            limit: error.mm(),
            unit: InputUnit::Millimetre,
            sensitivity: sine / cosine / length_mm,
            distribution: Distribution::Uniform,
            persistence: Persistence::FixedForJob,
            degrees_of_freedom: None,
        });
    }
    if !bar.face_error.is_zero() {
        found.contributors.push(given_angle(
            "face of the sine bar",
            bar.face_error,
            Persistence::FixedForJob,
        ));
    }
}

/// The blocks whose deviation tilts the bar, wear blocks too.
fn sizes(stack: &StackedBlocks, wear_block_units: Option<u32>) -> Vec<u32> {
    let mut all = [stack.high.as_slice(), stack.low.as_slice()].concat();
    all.extend(wear_block_units.into_iter().flat_map(|wear| [wear, wear]));
    all
}

/// A nominal size with its unit, no digit more than it needs.
pub(crate) fn size_text(unit: BlockUnit, units: u32) -> String {
    let (per_whole, digits, name) = match unit {
        BlockUnit::TenthMicrometre => (10_000, 4, "mm"),
        BlockUnit::HundredThousandthInch => (100_000, 5, "in"),
    };
    let text = format!("{}.{:0digits$}", units / per_whole, units % per_whole);
    format!(
        "{} {name}",
        text.trim_end_matches('0').trim_end_matches('.')
    )
}

/// Every wrung angle block adds its own deviation.
pub(super) fn angle_blocks(set: &AngleBlocks, setting: &Setting, found: &mut Registration) {
    let Setting::AngleStack {
        plus_arcsec,
        minus_arcsec,
    } = setting
    else {
        return;
    };
    let error = known(
        set.block_error,
        "deviation of the angle gauge blocks (block_error)",
        found,
    );
    for block in plus_arcsec.iter().chain(minus_arcsec) {
        if let (Some(error), Ok(angle)) = (error, Angle::new(i128::from(*block), 1_296_000)) {
            found.contributors.push(given_angle(
                format!("angle block {}", crate::plan::reading(angle)),
                error,
                Persistence::FixedForPlace,
            ));
        }
    }
}

/// A reading is good to half the resolution.
pub(super) fn protractor(protractor: &Protractor, found: &mut Registration) {
    found.contributors.push(Contributor {
        name: "reading of the instrument".into(),
        limit: protractor.resolution.to_radians_f64() / 2.0,
        unit: InputUnit::Radian,
        sensitivity: 1.0,
        distribution: Distribution::Uniform,
        persistence: Persistence::NewAtSeating,
        degrees_of_freedom: None,
    });
    if let Some(error) = known(
        protractor.instrument_error,
        "error of the instrument (instrument_error)",
        found,
    ) {
        found.contributors.push(given_angle(
            "error of the instrument",
            error,
            Persistence::FixedForPlace,
        ));
    }
}

/// A reference brought to its stop: once for a common datum, once for every
/// step of a chain.
pub(super) fn part_reference(
    reference: &PartReference,
    setting: &Setting,
    found: &mut Registration,
) {
    let stop_lasts = match setting {
        // What the chain begins with is referenced to nothing.
        Setting::FromLast { steps: 0 } => return,
        Setting::FromLast { steps } => {
            found.further_steps = steps - 1;
            Persistence::FixedForJob
        }
        _ => Persistence::FixedForPlace,
    };
    match &reference.contact {
        ReferenceContact::DrilledHole(hole) => {
            let radius = known(hole.radius, "radius of the part's hole (radius)", found);
            let pin = known(
                hole.registration.as_ref(),
                "sizes and tolerances of pin and hole (registration)",
                found,
            );
            if let (Some(radius), Some(pin)) = (radius, pin) {
                found.contributors = pin_in_zone(
                    pin,
                    pin.position_zone_mm(radius.mm()),
                    &PART_HOLE,
                    radius.mm(),
                );
            }
        }
        ReferenceContact::Flat(flat) => {
            let seat = known(
                flat.seat_error,
                "how the flat lies on the block (seat_error)",
                found,
            );
            found.contributors.extend(
                seat.map(|error| {
                    given_angle("flat on the block", error, Persistence::NewAtSeating)
                }),
            );
        }
    }
    let angle = known(
        reference.angle_error,
        "error of the device that set the stop (angle_error)",
        found,
    );
    found
        .contributors
        .extend(angle.map(|error| given_angle("angle of the stop", error, stop_lasts)));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_written_with_no_digit_too_many() {
        assert_eq!(size_text(BlockUnit::TenthMicrometre, 10_005), "1.0005 mm");
        assert_eq!(size_text(BlockUnit::TenthMicrometre, 500_000), "50 mm");
        assert_eq!(
            size_text(BlockUnit::HundredThousandthInch, 5_000),
            "0.05 in"
        );
    }
}
