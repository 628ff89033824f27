//! A first figure for a whole plan: worst case and root-sum-square.
//!
//! For a free start deviations count from the best-fit position of the whole
//! pattern, so each feature's own limits are the limits of its deviation. For a
//! clocked start they count from the clocked feature, whose own registration
//! and clocking are added.
//!
//! Where each feature is referenced to the one before, everything comes again at
//! every step: limits add up step by step, what lasts for the whole job does so
//! in the root-sum-square too, and the rest grows there by the root of the steps.

use serde::{Deserialize, Serialize};

use super::contributor::{Contributor, Distribution, InputUnit, Persistence};
use super::plunger::{may_not_enter, may_not_pass};
use super::registration::{Registration, registration};
use crate::equipment::{Equipment, Workshop};
use crate::error::Result;
use crate::job::{Clocked, Job, Start};
use crate::reach::{Reach, Setting};
use crate::work::Meter;

/// How far off one feature may be, in radians, its residual included.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FeatureError {
    /// All limits added.
    pub worst_rad: f64,
    /// The residual, and the root of the sum of the squared limits.
    pub root_sum_square_rad: f64,
}

/// How far off the features of a plan may be.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ErrorFigure {
    /// Every feature, in the order of the job.
    pub features: Vec<FeatureError>,
    /// The largest worst case, in radians.
    pub worst_rad: f64,
    /// The largest root-sum-square, in radians.
    pub root_sum_square_rad: f64,
    /// What makes up the worst feature's figure, the largest limit first.
    pub contributors: Vec<Contributor>,
    /// What the workshop does not say; the figures leave it out.
    pub unknown: Vec<String>,
    /// Whether a pin at the limits of its tolerances may fail to enter.
    pub pin_may_not_enter: bool,
}

/// The error figure of a reach.
///
/// # Errors
/// Overflow when an angle does not fit; the work limit; cancellation.
pub fn error_figure(
    workshop: &Workshop,
    job: &Job,
    reach: &Reach,
    meter: &mut Meter<'_>,
) -> Result<ErrorFigure> {
    let datum = match job.start() {
        Start::Clocked(clocked) => Some(Datum::new(workshop, reach, clocked)),
        Start::Free | Start::OnASetting => None,
    };
    let mut figure = ErrorFigure {
        features: Vec::with_capacity(reach.placements.len()),
        worst_rad: 0.0,
        root_sum_square_rad: 0.0,
        contributors: Vec::new(),
        unknown: Vec::new(),
        pin_may_not_enter: pin_may_not_enter(workshop, reach),
    };
    for placement in &reach.placements {
        meter.spend(1)?;
        let mut found = registration(workshop, &reach.way, &placement.setting);
        if let Some(datum) = &datum {
            datum.add_to(&mut found, &placement.setting);
        }
        for unknown in found.unknown {
            if !figure.unknown.contains(&unknown) {
                figure.unknown.push(unknown);
            }
        }
        let residual_rad = placement
            .residual_rad
            .unwrap_or_else(|| placement.residual.to_radians_f64())
            .abs();
        let steps = f64::from(found.further_steps) + 1.0;
        let mut sum = 0.0;
        let mut squares = 0.0;
        for it in &found.contributors {
            let limit_rad = it.limit_rad();
            let together = match it.persistence {
                Persistence::FixedForJob => steps * steps,
                Persistence::FixedForPlace | Persistence::NewAtSeating => steps,
            };
            sum += limit_rad * steps;
            squares += limit_rad * limit_rad * together;
        }
        let feature = FeatureError {
            worst_rad: residual_rad + sum,
            root_sum_square_rad: residual_rad + squares.sqrt(),
        };
        if figure.features.is_empty() || feature.worst_rad > figure.worst_rad {
            figure.worst_rad = feature.worst_rad;
            figure.contributors = if found.further_steps > 0 {
                let all = found.contributors.into_iter();
                all.map(|it| over_steps(it, steps)).collect()
            } else {
                found.contributors
            };
        }
        figure.root_sum_square_rad = figure.root_sum_square_rad.max(feature.root_sum_square_rad);
        figure.features.push(feature);
    }
    figure
        .contributors
        .sort_by(|a, b| b.limit_rad().total_cmp(&a.limit_rad()));
    Ok(figure)
}

/// A contributor that acts anew at so many steps, as one: its limits add, its
/// variance too unless it stays the same throughout.
fn over_steps(it: Contributor, steps: f64) -> Contributor {
    let distribution = match it.persistence {
        Persistence::FixedForJob => it.distribution,
        Persistence::FixedForPlace | Persistence::NewAtSeating => {
            let uncertainty_rad = it.standard_uncertainty_rad();
            if uncertainty_rad > 0.0 {
                Distribution::Normal {
                    sigmas_at_limit: it.limit_rad() * steps.sqrt() / uncertainty_rad,
                }
            } else {
                it.distribution
            }
        }
    };
    Contributor {
        name: format!("{}, {steps} times", it.name).into(),
        limit: it.limit * steps,
        distribution,
        ..it
    }
}

/// The clocked feature's own registration.
struct Datum {
    setting: Option<Setting>,
    registration: Registration,
}

impl Datum {
    fn new(workshop: &Workshop, reach: &Reach, clocked: &Clocked) -> Self {
        let found = reach.datum.as_ref();
        let mut datum = Self {
            setting: reach.datum.clone(),
            registration: found.map_or_else(Registration::default, |setting| {
                registration(workshop, &reach.way, setting)
            }),
        };
        for contributor in &mut datum.registration.contributors {
            contributor.name = format!("{}, when clocking", contributor.name).into();
        }
        if !clocked.clocking_error.is_zero() {
            datum.registration.contributors.push(Contributor {
                name: format!("clocking to the {}", clocked.to).into(),
                limit: clocked.clocking_error.to_radians_f64(),
                unit: InputUnit::Radian,
                sensitivity: 1.0,
                distribution: Distribution::Uniform,
                persistence: Persistence::FixedForJob,
            });
        }
        datum
    }

    /// Adds the datum's contributors to a feature's. What stays the same at one
    /// place cancels for a feature made at the datum's own setting.
    fn add_to(&self, found: &mut Registration, setting: &Setting) {
        let same_place = self.setting.as_ref() == Some(setting);
        let stays = |it: &Contributor| !same_place || it.persistence != Persistence::FixedForPlace;
        found.contributors.retain(stays);
        found.contributors.extend(
            self.registration
                .contributors
                .iter()
                .filter(|it| stays(it))
                .cloned(),
        );
    }
}

fn pin_may_not_enter(workshop: &Workshop, reach: &Reach) -> bool {
    match workshop.equipment().get(reach.way.equipment()) {
        Some(Equipment::DirectPlate(plate)) => plate
            .registration
            .as_ref()
            .is_some_and(|pin| may_not_enter(pin, plate.eccentricity.mm())),
        Some(Equipment::VernierIndexer(indexer)) => indexer
            .registration
            .as_ref()
            .is_some_and(|pin| may_not_pass(indexer, pin)),
        Some(Equipment::WormHead(head)) => head
            .registration
            .as_ref()
            .is_some_and(|pin| may_not_enter(pin, 0.0)),
        Some(Equipment::PinPlate(plate)) => plate
            .registration
            .as_ref()
            .is_some_and(|pin| pin.least_clearance_mm() < 0.0),
        _ => false,
    }
}
