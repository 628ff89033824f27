//! Devices without a picture of their own: the features round the part with the
//! setting that brings each of them up.

use super::canvas::{Canvas, INK, USED};
use crate::angle::{Angle, AngleStyle};
use crate::equipment::Equipment;
use crate::plan::{Plan, reading};
use crate::reach::Setting;

/// Radius of the circle of features in the picture, in millimetres.
const RADIUS_MM: f64 = 40.0;

/// Most features with their setting written beside them.
const MOST_LABELLED: usize = 72;

pub(super) fn readings(title: &str, equipment: &Equipment, plan: &Plan) -> String {
    let what = match equipment {
        Equipment::GraduatedDial(_) => "table readings",
        Equipment::Protractor(_) => "readings",
        Equipment::AngleBlocks(_) => "angles of the stacks",
        Equipment::PartReference(_) => "stops, or steps from the first feature",
        Equipment::Stack(_) => "settings of the members in their order",
        _ => "settings",
    };
    let labelled = plan.placements.len() <= MOST_LABELLED;
    let caption = if labelled {
        format!("features on the part, seen from the side of the cutter; outside: {what}")
    } else {
        format!("features on the part, seen from the side of the cutter; {what} on the sheet")
    };
    let labels: Vec<Option<String>> = plan
        .placements
        .iter()
        .map(|it| short(&it.setting))
        .collect();
    let longest = labels.iter().flatten().map(String::len).max().unwrap_or(0);
    // Labels are centred where they stand: half of one reaches inwards.
    let size = if plan.placements.len() > 24 { 1.8 } else { 2.6 };
    let out_mm = 6.0 + size * 0.3 * f64::from(u32::try_from(longest).unwrap_or(0));
    let mut canvas = Canvas::new(title, &caption, RADIUS_MM + 2.0 * out_mm + 2.0);
    canvas.cross(RADIUS_MM + 2.0);
    canvas.circle(0.0, 0.0, RADIUS_MM, "none", "#d0d0d0");
    let count = f64::from(u32::try_from(plan.placements.len()).unwrap_or(u32::MAX)).max(1.0);
    let dot = (std::f64::consts::TAU * RADIUS_MM / count * 0.3).clamp(0.1, 1.0);
    for (number, (placement, label)) in plan.placements.iter().zip(&labels).enumerate() {
        let (sine, cosine) = placement.attained.to_radians_f64().sin_cos();
        canvas.circle(RADIUS_MM * cosine, RADIUS_MM * sine, dot, USED, INK);
        if let (Some(label), true) = (label, labelled) {
            let near = RADIUS_MM - 4.0;
            let number = (number + 1).to_string();
            canvas.text_at(&number, near * cosine, near * sine, size, INK);
            let (x, y) = ((RADIUS_MM + out_mm) * cosine, (RADIUS_MM + 6.0) * sine);
            canvas.text_at(label, x, y, size, INK);
        }
    }
    canvas.finish()
}

/// A setting in a few characters; none where they would say nothing.
fn short(setting: &Setting) -> Option<String> {
    let arcsec = |sum: i64| {
        let angle = Angle::new(sum.into(), 1_296_000).ok()?;
        Some(angle.format(AngleStyle::DegreesMinutesSeconds(0)))
    };
    let sum = |blocks: &[u32]| blocks.iter().map(|it| i64::from(*it)).sum::<i64>();
    match setting {
        Setting::Hole { hole, .. } => Some(format!("hole {hole}")),
        Setting::HoleAtStation { hole, station } => Some(format!("hole {hole} at S{station}")),
        Setting::FaceDown { face } => Some(format!("face {face}")),
        Setting::FacesInVee {
            left_face,
            right_face,
        } => Some(format!("faces {left_face}, {right_face}")),
        Setting::BarOnPins {
            first_pin,
            second_pin,
            ..
        }
        | Setting::BarAcrossRings {
            first_pin,
            second_pin,
            ..
        } => Some(format!("pins {first_pin}, {second_pin}")),
        Setting::Crank {
            turns,
            hole,
            circle,
            ..
        } => Some(format!("{turns} + {hole}/{circle}")),
        Setting::Reading { table, .. } => Some(reading(*table)),
        Setting::Inclination { reading: at } => Some(reading(*at)),
        Setting::SineBar {
            reversed,
            unit,
            height_units,
            ..
        } => {
            let sign = if *reversed { "-" } else { "" };
            Some(format!("{sign}{} mm", unit.to_mm(i64::from(*height_units))))
        }
        Setting::AngleStack {
            plus_arcsec,
            minus_arcsec,
        } => arcsec(sum(plus_arcsec) - sum(minus_arcsec)),
        Setting::AtStop { stop } => Some(format!("stop {stop}")),
        Setting::FromLast { steps } => Some(steps.to_string()),
        Setting::CompoundCrank { .. } => None,
        Setting::Stack { members } => {
            let all: Option<Vec<String>> = members.iter().map(short).collect();
            all.map(|all| all.join("; "))
        }
    }
}
