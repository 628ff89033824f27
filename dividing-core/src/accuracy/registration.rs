//! Every setting knows how it registers: its contributors, and what is not known.

use std::borrow::Cow;

use super::bar::{bar, baseline_mm};
use super::contributor::{Contributor, Distribution, InputUnit, Persistence};
use super::devices;
use super::measured::{MeasuredPair, add_place};
use super::plunger::{
    CRANK_PIN_HOLE, HOLE_POSITION, PLATE_HOLE, PLATE_PIN_HOLE, PinNames, pin_in_zone, plunger,
    vernier_pin,
};
use crate::angle::{Angle, as_f64};
use crate::equipment::{
    Equipment, FacedBlock, GraduatedDial, HoleCircle, MeasuredPlace, PinInHole, PinPlate, Workshop,
    WormHead,
};
use crate::length::Length;
use crate::reach::{Setting, Way, WayKind, baseline_across_mm};

/// How one setting registers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Registration {
    /// What turns the part away from the setting.
    pub contributors: Vec<Contributor>,
    /// What the workshop does not say and the figure therefore lacks.
    pub unknown: Vec<String>,
    /// How much further round than its nominal angle the setting is known to
    /// present the part, in radians, counter-clockwise; 0 where nothing of it
    /// was measured.
    pub known_rad: f64,
    /// Whether something of it was measured.
    pub measured: bool,
    /// How often all of it comes again on the way to this setting, where each
    /// feature is referenced to the one before.
    pub further_steps: u32,
}

/// How a setting of a way registers.
#[must_use]
pub fn registration(workshop: &Workshop, way: &Way, setting: &Setting) -> Registration {
    let mut found = Registration::default();
    match (workshop.equipment().get(way.equipment()), setting) {
        (Some(Equipment::DirectPlate(plate)), Setting::Hole { circle, hole }) => {
            let place = measured_hole(&plate.circles, *circle, *hole);
            let radius = radius_of(&plate.circles, *circle, &mut found);
            let pin = known(plate.registration.as_ref(), PIN_AND_HOLES, &mut found);
            if let (Some(radius_mm), Some(pin)) = (radius, pin) {
                let zone_mm = zone_unless_known(pin, radius_mm, place.is_some());
                found.contributors = plunger(plate, pin, zone_mm, radius_mm);
            }
            if let Some(place) = place {
                drop_known_places(&mut found);
                add_place(place, plate.sense, &mut found);
            }
        }
        (Some(Equipment::VernierIndexer(indexer)), Setting::HoleAtStation { hole, .. }) => {
            let place = indexer.circle.measured.as_ref().and_then(|it| it.at(*hole));
            let radius = known(indexer.circle.pitch_radius, PITCH_RADIUS, &mut found);
            let pin = known(indexer.registration.as_ref(), PIN_AND_HOLES, &mut found);
            if let (Some(radius), Some(pin)) = (radius, pin) {
                found.contributors = vernier_pin(indexer, pin, radius.mm());
            }
            if let Some(place) = place {
                let hole = |it: &Contributor| it.name == HOLE_POSITION;
                found.contributors.retain(|it| !hole(it));
                add_place(place, indexer.sense, &mut found);
            }
        }
        (Some(Equipment::FacedBlock(block)), _) => {
            block_contributors(workshop, way, block, setting, &mut found);
        }
        (Some(Equipment::PinPlate(plate)), setting) => pin_plate(plate, setting, &mut found),
        (
            Some(Equipment::WormHead(head)),
            Setting::Crank { .. } | Setting::CompoundCrank { .. },
        ) => {
            crank(head, way, &mut found);
        }
        (Some(Equipment::GraduatedDial(dial)), Setting::Reading { table, .. }) => {
            dial_contributors(dial, *table, &mut found);
        }
        (Some(Equipment::SineBar(bar)), setting) => devices::sine_bar(bar, setting, &mut found),
        (Some(Equipment::AngleBlocks(set)), setting) => {
            devices::angle_blocks(set, setting, &mut found);
        }
        (Some(Equipment::Protractor(it)), _) => devices::protractor(it, &mut found),
        (Some(Equipment::PartReference(it)), setting) => {
            devices::part_reference(it, setting, &mut found);
        }
        (Some(Equipment::Stack(_)), Setting::Stack { members }) => {
            for (member, setting) in way.members().iter().zip(members) {
                add_member(workshop, member, setting, &mut found);
            }
        }
        _ => {}
    }
    found
}

/// Adds what one member of a stack registers by, under the member's name.
fn add_member(workshop: &Workshop, member: &Way, setting: &Setting, found: &mut Registration) {
    let name = workshop
        .equipment()
        .get(member.equipment())
        .map_or("", Equipment::name);
    let own = registration(workshop, member, setting);
    found
        .contributors
        .extend(own.contributors.into_iter().map(|mut it| {
            it.name = format!("{name}: {}", it.name).into();
            it
        }));
    let unknown = own.unknown.into_iter().map(|it| format!("{name}: {it}"));
    found.unknown.extend(unknown);
}

const PIN_AND_HOLES: &str = "sizes and tolerances of pin and holes (registration)";
const PITCH_RADIUS: &str = "pitch radius of the circle";

/// The value, or a note that it is not known.
pub(super) fn known<T>(value: Option<T>, what: &str, found: &mut Registration) -> Option<T> {
    if value.is_none() {
        found.unknown.push(what.into());
    }
    value
}

fn radius_of(circles: &[HoleCircle], holes: u32, found: &mut Registration) -> Option<f64> {
    let circle = circles.iter().find(|circle| circle.holes == holes);
    let radius = circle.and_then(|circle| circle.pitch_radius);
    known(radius, PITCH_RADIUS, found).map(|radius| radius.mm())
}

/// What was measured of a hole.
fn measured_hole(circles: &[HoleCircle], holes: u32, hole: u32) -> Option<&MeasuredPlace> {
    let circle = circles.iter().find(|circle| circle.holes == holes)?;
    circle.measured.as_ref()?.at(hole)
}

/// What was measured of a table at a reading; nothing between measured places,
/// where the error of worm and wheel may rise and fall.
pub(crate) fn measured_reading(dial: &GraduatedDial, table: Angle) -> Option<&MeasuredPlace> {
    let measured = dial.measured.as_ref()?;
    let places = table.within_turn().checked_mul(i128::from(measured.places));
    let place = places.ok().filter(|it| it.denominator() == 1)?;
    measured.at(u32::try_from(place.numerator()).ok()?)
}

/// A hole whose place is known has no tolerance of it.
fn zone_unless_known(pin: &PinInHole, radius_mm: f64, known: bool) -> f64 {
    if known {
        0.0
    } else {
        pin.position_zone_mm(radius_mm)
    }
}

/// Takes away the contributors that a known place leaves at zero.
fn drop_known_places(found: &mut Registration) {
    found.contributors.retain(|it| it.limit > 0.0);
}

/// An error that is given as an angle.
pub(super) fn given_angle(
    name: impl Into<Cow<'static, str>>,
    limit: Angle,
    persistence: Persistence,
) -> Contributor {
    Contributor {
        name: name.into(),
        limit: limit.to_radians_f64(),
        unit: InputUnit::Radian,
        sensitivity: 1.0,
        distribution: Distribution::Uniform,
        persistence,
        degrees_of_freedom: None,
    }
}

fn block_contributors(
    workshop: &Workshop,
    way: &Way,
    block: &FacedBlock,
    setting: &Setting,
    found: &mut Registration,
) {
    if let Some(error) = known(
        block.face_error,
        "error of the block's faces (face_error)",
        found,
    ) {
        found.contributors.push(given_angle(
            "face of the block",
            error,
            Persistence::FixedForPlace,
        ));
    }
    if !block.seat_error.is_zero() {
        found.contributors.push(given_angle(
            "seat of the block",
            block.seat_error,
            Persistence::NewAtSeating,
        ));
    }
    let (Setting::FacesInVee { .. }, WayKind::BlockFlatAndVee { vee_block, .. }) =
        (setting, way.kind())
    else {
        return;
    };
    let flank = match workshop.equipment().get(vee_block) {
        Some(Equipment::VeeBlock(vee)) => vee.flank_error,
        _ => None,
    };
    if let Some(error) = known(flank, "error of the V-block's flanks (flank_error)", found) {
        found.contributors.push(given_angle(
            "flanks of the V-block",
            error,
            Persistence::FixedForJob,
        ));
    }
}

fn pin_plate(plate: &PinPlate, setting: &Setting, found: &mut Registration) {
    let mut measured = None;
    let mut out_mm = 0.0_f64;
    let (baseline, place) = match setting {
        Setting::BarOnPins {
            circle,
            span,
            bar,
            first_pin,
            second_pin,
        } => {
            let radius = radius_of(&plate.circles, *circle, found);
            out_mm = radius.unwrap_or_default();
            let ring = plate.circles.iter().find(|it| it.holes == *circle);
            if let (Some(radius_mm), Some(ring)) = (radius, ring) {
                let pins = [*first_pin, *second_pin];
                measured =
                    MeasuredPair::new(ring, plate.sense, radius_mm, pins).map(|pair| (pair, *span));
            }
            (radius.map(|r| baseline_mm(r, *circle, *span)), bar)
        }
        Setting::BarAcrossRings {
            first_ring,
            first_pin,
            second_ring,
            second_pin,
            bar,
        } => {
            let rings = (*first_ring, *second_ring);
            let pins = (*first_pin, *second_pin);
            // Of the two rings that whose holes may be further off.
            for ring in [*first_ring, *second_ring] {
                let same = plate.circles.iter().find(|it| it.holes == ring);
                let radius = same.and_then(|it| it.pitch_radius);
                out_mm = out_mm.max(radius.map_or(0.0, Length::mm));
            }
            (baseline_across_mm(plate, rings, pins), bar)
        }
        _ => return,
    };
    let pins = known(plate.registration.as_ref(), PIN_AND_HOLES, found);
    if plate.levelling.is_none() {
        found
            .unknown
            .push("how closely the bar is levelled (levelling)".into());
    }
    if let (Some(baseline_mm), Some(pins)) = (baseline, pins) {
        let zone_mm = zone_unless_known(pins, out_mm, measured.is_some());
        found.contributors = bar(plate, pins, zone_mm, *place, baseline_mm);
        if let Some((measured, span)) = measured {
            drop_known_places(found);
            measured.add_to(span, baseline_mm, found);
        }
    }
}

/// Crank-side deviations divide by the worm ratio; the wheel's own is added. With
/// the plate geared to the spindle by g they divide by R − g instead, for the
/// spindle then turns `(t + δ)/(R − g)`, and so do those of the plate.
fn crank(head: &WormHead, way: &Way, found: &mut Registration) {
    let ratio = head.worm_ratio.to_f64();
    match way.kind() {
        WayKind::SimpleIndexing {
            plate,
            back,
            circle,
        } => {
            let place = (plate, back, circle);
            pin_in_plate(head, place, ratio, &PLATE_HOLE, found);
        }
        WayKind::CompoundIndexing {
            plate,
            back,
            first_circle,
            second_circle,
            ..
        } => {
            let place = |circle| (plate, back, circle);
            pin_in_plate(head, place(first_circle), ratio, &CRANK_PIN_HOLE, found);
            pin_in_plate(head, place(second_circle), ratio, &PLATE_PIN_HOLE, found);
        }
        WayKind::DifferentialIndexing {
            plate,
            back,
            circle,
            divisions,
            spaces,
            ..
        } => {
            let holes = head.side(plate, back).and_then(|side| side.get(circle));
            let holes = holes.map_or(1.0, |it| f64::from(it.holes));
            let on_plate = as_f64(divisions) * as_f64(spaces) / holes;
            let place = (plate, back, circle);
            pin_in_plate(head, place, on_plate, &PLATE_HOLE, found);
            let plate_error = head.change_gears.as_ref().and_then(|it| it.plate_error);
            if let Some(error) = known(
                plate_error,
                "error of the plate by its gears (change_gears.plate_error)",
                found,
            ) {
                found.contributors.push(Contributor {
                    sensitivity: 1.0 / on_plate,
                    ..given_angle(
                        "teeth and lost motion of the gears",
                        error,
                        Persistence::FixedForPlace,
                    )
                });
            }
        }
        _ => return,
    }
    if let Some(error) = known(
        head.worm_error,
        "error of worm and wheel (worm_error)",
        found,
    ) {
        found.contributors.push(given_angle(
            "worm and wheel",
            error,
            Persistence::FixedForPlace,
        ));
    }
}

/// A pin in a circle of a head's plate, with a lever of so many pitch radii.
fn pin_in_plate(
    head: &WormHead,
    (plate, back, circle): (usize, bool, usize),
    turns: f64,
    names: &PinNames,
    found: &mut Registration,
) {
    let side = head.side(plate, back);
    let radius = side
        .and_then(|side| side.get(circle))
        .and_then(|circle| circle.pitch_radius)
        .or(head.smallest_pitch_radius);
    let radius = known(
        radius,
        "pitch radius of the plate's circles (smallest_pitch_radius)",
        found,
    );
    let pin = known(head.registration.as_ref(), PIN_AND_HOLES, found);
    if let (Some(radius), Some(pin)) = (radius, pin) {
        let zone_mm = pin.position_zone_mm(radius.mm());
        let more = pin_in_zone(pin, zone_mm, names, radius.mm() * turns);
        found.contributors.extend(more);
    }
}

/// A reading is good to half a graduation.
fn dial_contributors(dial: &GraduatedDial, table: Angle, found: &mut Registration) {
    let per_turn = dial.worm_ratio.to_f64() * f64::from(dial.graduations);
    found.contributors.push(Contributor {
        name: "reading of the dial".into(),
        limit: std::f64::consts::PI / per_turn,
        unit: InputUnit::Radian,
        sensitivity: 1.0,
        distribution: Distribution::Uniform,
        persistence: Persistence::NewAtSeating,
        degrees_of_freedom: None,
    });
    if let Some(place) = measured_reading(dial, table) {
        add_place(place, dial.sense, found);
        return;
    }
    if let Some(error) = known(dial.table_error, "error of the table (table_error)", found) {
        found.contributors.push(given_angle(
            "worm and wheel",
            error,
            Persistence::FixedForPlace,
        ));
    }
}
