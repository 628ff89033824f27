//! Pictures of plans as SVG: lines and text only, in millimetres, dark on a
//! white ground so that they read alike on screen and in print.

mod block;
mod canvas;
mod dial;
mod holes;
mod sine_bar;

use crate::equipment::{Equipment, HoleCircle, Workshop};
use crate::error::{Error, Result};
use crate::job::Job;
use crate::plan::Plan;
use crate::reach::Setting;

/// The picture of one plan.
pub(crate) fn plan_drawing(workshop: &Workshop, job: &Job, plan: &Plan) -> Result<String> {
    let equipment = workshop
        .piece(&plan.equipment)
        .ok_or_else(|| Error::internal("a plan for equipment that the workshop lacks"))?;
    let title = format!("{}: {}", job.name(), plan.method);
    Ok(match equipment {
        Equipment::DirectPlate(plate) => holes::plate(
            &title,
            &plate.circles,
            plate.sense,
            Some(plate.station),
            plan,
        ),
        Equipment::VernierIndexer(indexer) => holes::vernier(&title, indexer, plan),
        Equipment::PinPlate(plate) => holes::plate(&title, &plate.circles, plate.sense, None, plan),
        Equipment::WormHead(head) => {
            let circles: Vec<HoleCircle> = match plan.placements.first().map(|it| &it.setting) {
                Some(
                    Setting::Crank { plate, back, .. } | Setting::CompoundCrank { plate, back, .. },
                ) => head
                    .plates
                    .get(*plate)
                    .map(|it| if *back { &it.back_circles } else { &it.circles })
                    .into_iter()
                    .flatten()
                    .map(|it| HoleCircle {
                        absent: it.absent.clone(),
                        ..HoleCircle::full(it.holes, it.pitch_radius)
                    })
                    .collect(),
                _ => Vec::new(),
            };
            holes::crank_plate(&title, &circles, plan)
        }
        Equipment::FacedBlock(block) => block::block(&title, workshop, block, plan),
        Equipment::SineBar(bar) => sine_bar::sine_bar(&title, bar, plan),
        _ => dial::readings(&title, equipment, plan),
    })
}
