//! Every setting knows how it registers: its contributors, and what is not known.

use std::borrow::Cow;

use super::bar::{bar, baseline_mm};
use super::contributor::{Contributor, Distribution, InputUnit, Persistence};
use super::devices;
use super::measured::{
    BarHole, MEASURED_PLACE, MEASURED_STATION, add_bar, add_crank_pin, add_place, add_plate_pin,
    measured_reading, plate_pin_place, sign,
};
use super::plunger::{
    CRANK_PIN_HOLE, HOLE_POSITION, PLATE_HOLE, PLATE_PIN_HOLE, PinNames, STATION_POSITION,
    beyond_linear, pin_in_zone, plunger, vernier_pin,
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
    /// For which contributors the exact geometry was taken, because the linear
    /// model is not good enough for limits so large.
    pub exact: Vec<String>,
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
                add_place(place, sign(plate.sense), MEASURED_PLACE, &mut found);
            }
        }
        (Some(Equipment::VernierIndexer(indexer)), Setting::HoleAtStation { hole, station }) => {
            let stations = indexer.measured_stations.as_ref();
            let station = stations.and_then(|it| it.at(u32::try_from(*station).ok()?));
            let place = indexer.circle.measured.as_ref().and_then(|it| it.at(*hole));
            let radius = known(indexer.circle.pitch_radius, PITCH_RADIUS, &mut found);
            let pin = known(indexer.registration.as_ref(), PIN_AND_HOLES, &mut found);
            if let (Some(radius), Some(pin)) = (radius, pin) {
                found.contributors = vernier_pin(indexer, pin, radius.mm());
            }
            if let Some(place) = place {
                let hole = |it: &Contributor| it.name == HOLE_POSITION;
                found.contributors.retain(|it| !hole(it));
                add_place(place, sign(indexer.sense), MEASURED_PLACE, &mut found);
            }
            if let Some(station) = station {
                found.contributors.retain(|it| it.name != STATION_POSITION);
                add_place(station, -sign(indexer.sense), MEASURED_STATION, &mut found);
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
            crank(head, way, setting, &mut found);
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
    found.exact.extend(beyond_linear(&found.contributors));
    found
}

/// Adds what one member of a stack registers by, under the member's name. What is
/// known of a measured member turns the part as far as it turns the member.
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
    let named = |it: String| format!("{name}: {it}");
    found.unknown.extend(own.unknown.into_iter().map(named));
    found.exact.extend(own.exact.into_iter().map(named));
    found.known_rad += own.known_rad;
    found.measured |= own.measured;
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
    let ring = |holes: u32| plate.circles.iter().find(|it| it.holes == holes);
    let hole = |(holes, hole)| BarHole::new(ring(holes)?, plate.sense, hole);
    let mut out_mm = 0.0_f64;
    let (baseline, place, pins_in) = match setting {
        Setting::BarOnPins {
            circle,
            span,
            bar,
            first_pin,
            second_pin,
        } => {
            let radius = radius_of(&plate.circles, *circle, found);
            out_mm = radius.unwrap_or_default();
            let baseline = radius.map(|r| baseline_mm(r, *circle, *span));
            (
                baseline,
                bar,
                [(*circle, *first_pin), (*circle, *second_pin)],
            )
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
            let pins_in = [(*first_ring, *first_pin), (*second_ring, *second_pin)];
            (baseline_across_mm(plate, rings, pins), bar, pins_in)
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
        let zone_mm = pins.position_zone_mm(out_mm);
        found.contributors = bar(plate, pins, zone_mm, *place, baseline_mm);
    }
    let [first, second] = pins_in.map(hole);
    if let (Some(first), Some(second)) = (first, second) {
        add_bar(&[first, second], found);
    }
}

/// By how many turns of the crank in its plate the part turns once: the worm
/// ratio R, or R − g with the plate geared to the spindle by g, for the spindle
/// then turns `(t + δ)/(R − g)`.
pub(super) fn crank_turns(head: &WormHead, way: &Way) -> f64 {
    let WayKind::DifferentialIndexing {
        plate,
        back,
        circle,
        divisions,
        divisions_a_move,
        spaces,
        ..
    } = way.kind()
    else {
        return head.worm_ratio.to_f64();
    };
    let holes = head.side(plate, back).and_then(|side| side.get(circle));
    let holes = holes.map_or(1.0, |it| f64::from(it.holes));
    as_f64(divisions) * as_f64(spaces) / as_f64(divisions_a_move) / holes
}

/// Crank-side deviations divide by the turns of the crank for one of the part;
/// the wheel's own is added. Those of a plate geared to the spindle divide alike.
fn crank(head: &WormHead, way: &Way, setting: &Setting, found: &mut Registration) {
    let turns = crank_turns(head, way);
    let measured = |(plate, back, circle): (usize, bool, usize)| {
        head.side(plate, back)?.get(circle)?.measured.as_ref()
    };
    match way.kind() {
        WayKind::SimpleIndexing {
            plate,
            back,
            circle,
        } => {
            let place = (plate, back, circle);
            let hole = crank_hole(setting).and_then(|hole| measured(place)?.at(hole));
            pin_in_plate(head, place, hole.is_some(), turns, &PLATE_HOLE, found);
            if let Some(hole) = hole {
                add_crank_pin(hole, turns, found);
            }
        }
        WayKind::CompoundIndexing {
            plate,
            back,
            first_circle,
            second_circle,
            ..
        } => {
            let place = |circle| (plate, back, circle);
            let (first, second) = (place(first_circle), place(second_circle));
            let mut holes = (None, None);
            if let Setting::CompoundCrank {
                first_hole,
                second_hole,
                ..
            } = setting
            {
                holes.0 = measured(first).and_then(|it| it.at(*first_hole));
                holes.1 = measured(second).and_then(|it| plate_pin_place(it, *second_hole));
            }
            let known = (holes.0.is_some(), holes.1.is_some());
            pin_in_plate(head, first, known.0, turns, &CRANK_PIN_HOLE, found);
            pin_in_plate(head, second, known.1, turns, &PLATE_PIN_HOLE, found);
            if let Some(hole) = holes.0 {
                add_crank_pin(hole, turns, found);
            }
            if let Some(hole) = holes.1 {
                add_plate_pin(hole, turns, found);
            }
        }
        WayKind::DifferentialIndexing {
            plate,
            back,
            circle,
            ..
        } => {
            let place = (plate, back, circle);
            let hole = crank_hole(setting).and_then(|hole| measured(place)?.at(hole));
            pin_in_plate(head, place, hole.is_some(), turns, &PLATE_HOLE, found);
            if let Some(hole) = hole {
                add_crank_pin(hole, turns, found);
            }
            let plate_error = head.change_gears.as_ref().and_then(|it| it.plate_error);
            if let Some(error) = known(
                plate_error,
                "error of the plate by its gears (change_gears.plate_error)",
                found,
            ) {
                found.contributors.push(Contributor {
                    sensitivity: 1.0 / turns,
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

/// The hole of the crank pin.
const fn crank_hole(setting: &Setting) -> Option<u32> {
    match setting {
        Setting::Crank { hole, .. } => Some(*hole),
        _ => None,
    }
}

/// A pin in a circle of a head's plate, with a lever of so many pitch radii; in a
/// hole whose place is known or not.
fn pin_in_plate(
    head: &WormHead,
    (plate, back, circle): (usize, bool, usize),
    known_place: bool,
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
        let zone_mm = zone_unless_known(pin, radius.mm(), known_place);
        let mut more = pin_in_zone(pin, zone_mm, names, radius.mm());
        more.retain(|it| !known_place || it.limit > 0.0);
        found.exact.extend(beyond_linear(&more));
        found
            .contributors
            .extend(more.into_iter().map(|it| Contributor {
                sensitivity: it.sensitivity / turns,
                ..it
            }));
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
    if let Some(reading) = measured_reading(dial, table) {
        reading.add_to(dial.sense, found);
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
