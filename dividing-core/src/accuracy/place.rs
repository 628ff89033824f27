//! To which hole, face or graduation a contributor belongs, so that features
//! that use the same one share its error.

use super::bar::bar_pin;
use super::contributor::{Contributor, Persistence};
use super::measured::{MEASURED_PLATE_HOLE, MEASURED_STATION};
use super::plunger::{OFF_THE_AXIS, PLATE_HOLE, STATION};
use super::simulation::SimulatedInput;
use crate::angle::Angle;
use crate::equipment::{Equipment, Workshop};
use crate::reach::{Setting, Way};

/// A contributor of a setting with its place; of a stack with the place that
/// its member has, so that two settings of the stack that use one hole of a
/// member share its error.
pub(super) fn placed_in(
    workshop: &Workshop,
    way: &Way,
    contributor: &Contributor,
    setting: &Setting,
    presented: Angle,
) -> SimulatedInput {
    let Setting::Stack { members } = setting else {
        return placed(contributor, setting, presented);
    };
    for (member, setting) in way.members().iter().zip(members) {
        let name = workshop.equipment().get(member.equipment());
        let name = name.map_or("", Equipment::name);
        let of_it = contributor.name.strip_prefix(name);
        let Some(own) = of_it.and_then(|it| it.strip_prefix(": ")) else {
            continue;
        };
        let own = Contributor {
            name: own.to_owned().into(),
            ..contributor.clone()
        };
        let presented = presented_by_hole(setting).unwrap_or(presented);
        let mut input = placed_in(workshop, member, &own, setting, presented);
        input.contributor.name = format!("{name}: {}", input.contributor.name).into();
        input.place = input.place.map(|place| format!("{name}: {place}"));
        return input;
    }
    placed(contributor, setting, presented)
}

/// How far a plate stands round by the hole of its pin, from its first one.
fn presented_by_hole(setting: &Setting) -> Option<Angle> {
    let Setting::Hole { circle, hole } = setting else {
        return None;
    };
    Angle::new(i128::from(*hole), i128::from(*circle)).ok()
}

/// A contributor of a setting with its place.
///
/// The hole of a bar's pin is a point in the plane: two bars that share a hole
/// but lie in other directions see other components of its one error. An
/// off-centre plate is one offset seen from the direction of each hole.
pub(super) fn placed(
    contributor: &Contributor,
    setting: &Setting,
    presented: Angle,
) -> SimulatedInput {
    let mut input = SimulatedInput::from(contributor.clone());
    if contributor.persistence != Persistence::FixedForPlace {
        return input;
    }
    if contributor.name == OFF_THE_AXIS {
        input.contributor.persistence = Persistence::FixedForJob;
        input.direction_rad = Some(presented.to_radians_f64());
        return input;
    }
    input.place = Some(match setting {
        Setting::Hole { circle, hole } => hole_name(*circle, *hole),
        Setting::HoleAtStation { hole, station } => {
            if STATION.has(&contributor.name) || contributor.name == MEASURED_STATION {
                format!("station {station}")
            } else {
                format!("hole {hole}")
            }
        }
        Setting::FaceDown { face } => format!("face {face}"),
        Setting::FacesInVee {
            left_face,
            right_face,
        } => format!("faces {left_face} and {right_face}"),
        Setting::BarOnPins {
            circle,
            first_pin,
            second_pin,
            span,
            ..
        } => match bar_pin(&contributor.name) {
            None => format!("pins {first_pin} and {second_pin} of {circle}"),
            Some(pin) => {
                input.contributor.name = pin.name.into();
                if pin.is_position {
                    // The bar lies across the line from the middle of the ring
                    // to the middle between its pins.
                    let holes = f64::from(*first_pin) + f64::from(*span) / 2.0;
                    let turn = holes / f64::from((*circle).max(1));
                    input.direction_rad = Some(turn * std::f64::consts::TAU);
                }
                if !pin.second {
                    input.contributor.sensitivity = -input.contributor.sensitivity;
                }
                hole_name(*circle, if pin.second { *second_pin } else { *first_pin })
            }
        },
        Setting::Crank {
            plate,
            back,
            circle,
            turns,
            hole,
        } => {
            if PLATE_HOLE.has(&contributor.name) || contributor.name == MEASURED_PLATE_HOLE {
                let side = if *back { "back" } else { "front" };
                format!("plate {plate}, {side}, {}", hole_name(*circle, *hole))
            } else {
                format!("{turns} turns and {hole} holes of {circle}")
            }
        }
        Setting::Reading {
            turns, graduation, ..
        } => format!("{turns} turns and {graduation} graduations"),
        // Any other setting is a place of its own.
        other => format!("{other:?}"),
    });
    input
}

fn hole_name(circle: u32, hole: u32) -> String {
    format!("hole {hole} of {circle}")
}
