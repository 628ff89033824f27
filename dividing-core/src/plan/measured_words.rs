//! What the choice on measured equipment is worth, in words.

use super::{MeasuredChoice, Plan, words};
use crate::equipment::{Equipment, Workshop};
use crate::job::SheetUnits;

/// Which start was chosen, out of how many, and what that gains.
pub(super) fn choice(
    workshop: &Workshop,
    plan: &Plan,
    choice: &MeasuredChoice,
    equipment: &Equipment,
    units: SheetUnits,
) -> String {
    let small = |value_rad: f64| words::small_angle(value_rad, units);
    let first = plan.placements.first();
    let start = first.map_or_else(String::new, |it| {
        words::setting(workshop, &it.setting, equipment)
    });
    let rings = choice.rings.map_or_else(String::new, |it| {
        format!(
            "; the best of {} rings or spans: the worst gives ±{} at its best (gained {}), the \
             average ±{} (gained {})",
            it.rings,
            small(it.worst_ring_rad),
            small(it.worst_ring_rad - choice.worst_rad),
            small(it.average_ring_rad),
            small(it.average_ring_rad - choice.worst_rad),
        )
    });
    let looked = match (choice.starts, choice.all_starts) {
        (1, _) => "the best settings at the one start".to_owned(),
        (starts, true) => format!("the best of {starts} starts"),
        (starts, false) => format!("the best of the first {starts} starts"),
    };
    let settings = if choice.several_settings && choice.starts > 1 {
        " and of all settings at each"
    } else {
        ""
    };
    format!(
        "start at {start}, {looked}{settings}: worst case ±{}; the worst choice gives ±{} \
         (gained {}), the average ±{} (gained {}){rings}",
        small(choice.worst_rad),
        small(choice.worst_choice_rad),
        small(choice.worst_choice_rad - choice.worst_rad),
        small(choice.average_choice_rad),
        small(choice.average_choice_rad - choice.worst_rad),
    )
}
