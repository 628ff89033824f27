//! Dials: the features round the part with the readings that bring them up.

use super::canvas::{Canvas, INK, USED};
use crate::plan::Plan;
use crate::reach::Setting;

/// Radius of the circle of features in the picture, in millimetres.
const RADIUS_MM: f64 = 40.0;

/// Most features with their reading written beside them.
const MOST_LABELLED: usize = 72;

pub(super) fn readings(title: &str, plan: &Plan) -> String {
    let caption = if plan.placements.len() <= MOST_LABELLED {
        "features on the part, seen from the side of the cutter, with table readings"
    } else {
        "features on the part, seen from the side of the cutter; readings on the sheet"
    };
    let mut canvas = Canvas::new(title, caption, RADIUS_MM + 20.0);
    canvas.cross(RADIUS_MM + 2.0);
    canvas.circle(0.0, 0.0, RADIUS_MM, "none", "#d0d0d0");
    let count = f64::from(u32::try_from(plan.placements.len()).unwrap_or(u32::MAX)).max(1.0);
    let dot = (std::f64::consts::TAU * RADIUS_MM / count * 0.3).clamp(0.1, 1.0);
    let labelled = plan.placements.len() <= MOST_LABELLED;
    for (number, placement) in plan.placements.iter().enumerate() {
        let (sine, cosine) = placement.attained.to_radians_f64().sin_cos();
        canvas.circle(RADIUS_MM * cosine, RADIUS_MM * sine, dot, USED, INK);
        if let (Setting::Reading { table, .. }, true) = (&placement.setting, labelled) {
            let (near, far) = (RADIUS_MM - 4.0, RADIUS_MM + 8.0);
            let size = if plan.placements.len() > 24 { 1.8 } else { 2.6 };
            canvas.text_at(
                &(number + 1).to_string(),
                near * cosine,
                near * sine,
                size,
                INK,
            );
            canvas.text_at(
                &crate::plan::reading(*table),
                far * cosine,
                far * sine,
                size,
                INK,
            );
        }
    }
    canvas.finish()
}
