//! The correction table of a measured table with a dial.

use super::{Plan, SheetTable, words};
use crate::accuracy::measured_reading;
use crate::equipment::{Equipment, GraduatedDial, Workshop};
use crate::error::Result;
use crate::inspection::{KnownDeviation, correction_table};
use crate::job::SheetUnits;
use crate::reach::Setting;

/// What to add to each reading of a plan that was measured, its residual made
/// good as well; nothing where none was measured. Corrections count in the sense in which the readings grow.
pub(super) fn table(
    workshop: &Workshop,
    equipment: &Equipment,
    plan: &Plan,
    units: SheetUnits,
) -> Result<Option<SheetTable>> {
    let Equipment::GraduatedDial(dial) = equipment else {
        return Ok(None);
    };
    let known: Vec<Option<KnownDeviation>> = plan
        .placements
        .iter()
        .map(|placement| match placement.setting {
            Setting::Reading { table, .. } => measured_reading(dial, table).map(|reading| {
                let known = reading.known();
                let residual = dial.sense.apply(placement.residual);
                KnownDeviation {
                    deviation_rad: known.deviation_rad + residual.to_radians_f64(),
                    ..known
                }
            }),
            _ => None,
        })
        .collect();
    // A finer dial has no use for corrections.
    const FINEST_RAD: f64 = 1.0e-9;
    let graduation_rad = graduation_rad(dial);
    let too_fine = !(FINEST_RAD..=10.0).contains(&graduation_rad);
    if too_fine || known.iter().all(Option::is_none) {
        return Ok(None);
    }
    let head = ["no", "table reading", "add graduations", "leaves it off by"];
    let mut rows = Vec::with_capacity(known.len());
    for correction in correction_table(&known, graduation_rad)? {
        let Some(placement) = plan.placements.get(correction.place) else {
            continue;
        };
        rows.push(vec![
            (correction.place + 1).to_string(),
            words::setting(workshop, &placement.setting, equipment),
            match correction.graduations {
                0 => "0".into(),
                number => format!("{number:+}"),
            },
            words::small_angle(correction.left_rad, units),
        ]);
    }
    Ok(Some(SheetTable {
        head: head.map(String::from).into(),
        rows,
    }))
}

/// The angle of the table for one graduation of the dial, in radians.
fn graduation_rad(dial: &GraduatedDial) -> f64 {
    std::f64::consts::TAU / (dial.worm_ratio.to_f64() * f64::from(dial.graduations))
}
