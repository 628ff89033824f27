//! Where rings can stand on the plate.

use super::allocation::problem::{MAX_ITEMS, RADIUS_SLACK_MM, Slots};
use super::brief::{PlateBrief, PlateUse};
use crate::error::{Error, ErrorKind, Result};

/// The plate's sizes, in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Room {
    /// Largest pitch radius: outline less edge distance and half a hole.
    pub(crate) outermost_mm: f64,
    /// Smallest pitch radius: outside the bore or the part.
    pub(crate) innermost_mm: f64,
    /// Least distance between hole centres: a hole and a web.
    pub(crate) spacing_mm: f64,
    /// Ranges of pitch radii that meet keep-outs or mounting holes, ends excluded.
    pub(crate) blocked_mm: Vec<(f64, f64)>,
}

impl Room {
    pub(crate) fn new(brief: &PlateBrief) -> Self {
        let hole_radius_mm = brief.largest_hole_mm() / 2.0;
        let bore_edge_mm = brief
            .least_bore_edge_distance
            .unwrap_or(brief.least_edge_distance)
            .mm();
        let mut innermost_mm = brief
            .bore
            .map_or(0.0, |bore| bore.mm() / 2.0 + bore_edge_mm + hole_radius_mm);
        if let PlateUse::Pins {
            part_diameter: Some(part),
            ..
        } = brief.usage
        {
            let pin_mm = brief.largest_pin_mm().unwrap_or(brief.largest_hole_mm());
            innermost_mm = innermost_mm.max(f64::midpoint(part.mm(), pin_mm));
        }
        let blocked_mm = brief
            .keep_outs
            .iter()
            .map(|circle| (circle, 0.0))
            .chain(
                brief
                    .mounting_holes
                    .iter()
                    .map(|circle| (circle, brief.least_web.mm())),
            )
            .map(|(circle, web_mm)| {
                let clear_mm = circle.diameter.mm() / 2.0 + hole_radius_mm + web_mm;
                let at_mm = circle.x.mm().hypot(circle.y.mm());
                (at_mm - clear_mm, at_mm + clear_mm)
            })
            .collect();
        Self {
            outermost_mm: brief.outline.inner_radius_mm()
                - brief.least_edge_distance.mm()
                - hole_radius_mm,
            innermost_mm,
            spacing_mm: brief.largest_hole_mm() + brief.least_web.mm(),
            blocked_mm,
        }
    }

    /// Whether a ring at this radius stays inside the outline and outside the bore.
    pub(crate) fn holds(&self, radius_mm: f64) -> bool {
        radius_mm <= self.outermost_mm + RADIUS_SLACK_MM
            && radius_mm + RADIUS_SLACK_MM >= self.innermost_mm
    }

    /// The slots for rings, as far out as each can stand, `apart_mm` from each
    /// other and from the fixed radii; `around_blocked` says whether to keep
    /// whole rings clear of keep-outs.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] with the path of a fixed ring that does not
    /// stand where the user put it.
    pub(crate) fn slots(
        &self,
        brief: &PlateBrief,
        apart_mm: f64,
        around_blocked: bool,
    ) -> Result<Slots> {
        let blocked: &[(f64, f64)] = if around_blocked {
            &self.blocked_mm
        } else {
            &[]
        };
        let mut taken: Vec<f64> = Vec::new();
        let mut slots = Slots::default();
        let mut open: Vec<f64> = Vec::new();
        for (index, ring) in brief.rings.iter().enumerate() {
            let Some(radius) = ring.radius else { continue };
            let here = |message: String| {
                Error::new(ErrorKind::Inconsistent, message).at(format!("rings[{index}].radius"))
            };
            let radius_mm = radius.mm();
            if !self.holds(radius_mm) {
                return Err(here(format!(
                    "a pitch radius of {radius} leaves the plate; accepted: {:.3} to {:.3} mm",
                    self.innermost_mm, self.outermost_mm
                )));
            }
            if let Some((low, high)) = meets(blocked, radius_mm) {
                return Err(here(format!(
                    "a pitch radius of {radius} meets a keep-out or mounting hole; accepted: outside {low:.3} to {high:.3} mm"
                )));
            }
            if let Some(other) = taken
                .iter()
                .find(|&&other| (other - radius_mm).abs() + RADIUS_SLACK_MM < apart_mm)
            {
                return Err(here(format!(
                    "rings at {other} mm and {radius} stand too close; accepted: {apart_mm:.3} mm apart or more"
                )));
            }
            taken.push(radius_mm);
            if ring.divisions.is_empty() {
                open.push(radius_mm);
            } else {
                slots.pinned_mm.push(radius_mm);
            }
        }
        let mut bars: Vec<(f64, f64)> = blocked.to_vec();
        bars.extend(taken.iter().map(|r| (r - apart_mm, r + apart_mm)));
        let mut radius_mm = self.outermost_mm;
        while slots.free_mm.len() < MAX_ITEMS {
            while let Some((low, _)) = meets(&bars, radius_mm) {
                radius_mm = low;
            }
            if radius_mm + RADIUS_SLACK_MM < self.innermost_mm || radius_mm <= 0.0 {
                break;
            }
            slots.free_mm.push(radius_mm);
            radius_mm -= apart_mm;
        }
        slots.free_mm.extend(open);
        slots.free_mm.sort_by(|a, b| b.total_cmp(a));
        if let Some(most) = brief.most_rings {
            let most = usize::try_from(most).unwrap_or(usize::MAX);
            slots
                .free_mm
                .truncate(most.saturating_sub(slots.pinned_mm.len()));
        }
        Ok(slots)
    }
}

/// A range that holds the radius, ends excluded.
fn meets(ranges: &[(f64, f64)], radius_mm: f64) -> Option<(f64, f64)> {
    ranges.iter().copied().find(|&(low, high)| {
        low + RADIUS_SLACK_MM < radius_mm && radius_mm < high - RADIUS_SLACK_MM
    })
}
