//! Lost motion of a worm whose settings are come up to from either side.

use super::contributor::{Contributor, Distribution, Persistence};
use super::registration::{Registration, given_angle, known, registration};
use crate::angle::Angle;
use crate::equipment::{Equipment, Workshop};
use crate::job::{Approach, Job};
use crate::reach::{Setting, Way};

/// How a setting registers in a job: with the lost motion of a worm where the
/// job does not keep to one side.
pub(super) fn registration_in_job(
    workshop: &Workshop,
    job: &Job,
    way: &Way,
    setting: &Setting,
) -> Registration {
    let mut found = registration(workshop, way, setting);
    if job.approach() == Approach::EitherSide {
        add_lost_motion(workshop, way, "", &mut found);
    }
    found
}

fn add_lost_motion(workshop: &Workshop, way: &Way, of: &str, found: &mut Registration) {
    let Some(equipment) = workshop.equipment().get(way.equipment()) else {
        return;
    };
    let backlash = match equipment {
        Equipment::WormHead(head) => head.backlash,
        Equipment::GraduatedDial(dial) => dial.backlash,
        Equipment::Stack(_) => {
            for member in way.members() {
                let name = workshop.equipment().get(member.equipment());
                let name = name.map_or("", Equipment::name);
                add_lost_motion(workshop, member, &format!("{of}{name}: "), found);
            }
            return;
        }
        _ => return,
    };
    let what = format!("{of}lost motion of the worm (backlash)");
    if let Some(backlash) = known(backlash, &what, found)
        && !backlash.is_zero()
    {
        found
            .contributors
            .push(lost_motion(format!("{of}{LOST_MOTION}"), backlash));
    }
}

const LOST_MOTION: &str = "lost motion of the worm";

/// The part stands at one end of the lost motion or at the other: half of it
/// either way from its middle, and nothing between.
fn lost_motion(name: String, backlash: Angle) -> Contributor {
    let half = given_angle(name, backlash, Persistence::NewAtSeating);
    Contributor {
        limit: half.limit / 2.0,
        distribution: Distribution::Samples {
            values: vec![-1.0, 1.0],
        },
        ..half
    }
}
