//! A first figure for a whole plan: worst case and root-sum-square.
//!
//! For a free start deviations count from the best-fit position of the whole
//! pattern, so each feature's own limits are the limits of its deviation. For a
//! clocked start they count from the clocked feature, whose own registration
//! and clocking are added. The plate has one eccentricity for both: what is left of it
//! between a feature and the datum Δ apart is one sinusoid of 2(e/r)·sin(Δ/2), and
//! the same holds between the two features of a single pitch.
//!
//! Where each feature is referenced to the one before, everything comes again at
//! every step: limits add up step by step, what lasts for the whole job does so
//! in the root-sum-square too, and the rest grows there by the root of the steps.

use serde::{Deserialize, Serialize};

use super::approach::registration_in_job;
use super::contributor::{Contributor, Distribution, InputUnit, Persistence};
use super::entry::pin_may_not_enter;
use super::measured_together::against_the_datum;
use super::off_axis::{is_off_the_axis, one_offset_with_the_datum};
use super::pitch::{PitchFigure, PitchSpread};
use super::registration::Registration;
use super::shift::part_off_the_axis;
use crate::angle::Angle;
use crate::equipment::Workshop;
use crate::error::Result;
use crate::job::{Clocked, Job, Start, Tolerance};
use crate::reach::{Reach, Setting, Way};
use crate::work::Meter;

/// How far off one feature may be, in radians, its residual included.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FeatureError {
    /// All limits added.
    pub worst_rad: f64,
    /// The residual, and the root of the sum of the squared limits.
    pub root_sum_square_rad: f64,
    /// The deviation that is known beforehand, with its sign: the residual and,
    /// on measured equipment, what was measured. The two figures above count
    /// from it.
    #[serde(default)]
    pub known_rad: f64,
    /// Standard uncertainty of the deviation, all contributors independent.
    #[serde(default)]
    pub standard_uncertainty_rad: f64,
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
    /// For which contributors the exact geometry was taken instead of the linear
    /// model, because their limits turn the part by more than about 9.7° or, for
    /// an eccentricity between two holes, because it differs by more than half a
    /// percent.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub exact_geometry: Vec<String>,
    /// How far off pitches may be; only where the tolerance limits them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pitch: Option<PitchFigure>,
}

/// The error figure of a reach.
///
/// # Errors
/// Overflow when an angle does not fit; the work limit; cancellation; the errors of
/// [`entry_finding`](super::entry_finding).
pub fn error_figure(
    workshop: &Workshop,
    job: &Job,
    reach: &Reach,
    meter: &mut Meter<'_>,
) -> Result<ErrorFigure> {
    let predictor = Predictor::new(workshop, job, reach)?;
    let mut all = Vec::with_capacity(reach.placements.len());
    let judges_pitch = job.tolerance().is_some_and(Tolerance::limits_pitch);
    let mut spreads = Vec::new();
    let part = part_off_the_axis(job)?;
    for placement in &reach.placements {
        meter.spend(1)?;
        if judges_pitch {
            // The datum is the same for both features of a pitch and cancels.
            let found = registration_in_job(workshop, job, &reach.way, &placement.setting);
            let presented = reach.start.checked_add(placement.attained)?;
            let (off_axis, rest): (Vec<_>, Vec<_>) =
                found.contributors.into_iter().partition(is_off_the_axis);
            let plate = off_axis.into_iter().map(|it| (it, presented));
            let part = part.clone().map(|it| (it, placement.required));
            spreads.push(PitchSpread {
                required: placement.required,
                residual_rad: placement.residual_rad() + found.known_rad,
                limit_rad: limits_rad(&rest),
                off_axis: plate.chain(part).collect(),
            });
        }
        let (known_rad, mut found) =
            predictor.feature(placement.residual_rad(), &placement.setting);
        found.contributors.extend(part.clone());
        all.push((known_rad, found));
    }
    let reference_rad = reference_rad(job.start(), &all);
    let mut figure = ErrorFigure {
        features: Vec::with_capacity(reach.placements.len()),
        worst_rad: 0.0,
        root_sum_square_rad: 0.0,
        contributors: Vec::new(),
        unknown: Vec::new(),
        pin_may_not_enter: pin_may_not_enter(workshop, reach)?,
        exact_geometry: Vec::new(),
        pitch: None,
    };
    for (known_rad, found) in all {
        let known_rad = known_rad - reference_rad;
        for unknown in found.unknown {
            if !figure.unknown.contains(&unknown) {
                figure.unknown.push(unknown);
            }
        }
        for name in found.exact {
            if !figure.exact_geometry.contains(&name) {
                figure.exact_geometry.push(name);
            }
        }
        let steps = f64::from(found.further_steps) + 1.0;
        let mut sum = 0.0;
        let mut squares = 0.0;
        let mut variance = 0.0;
        for it in &found.contributors {
            let limit_rad = it.limit_rad();
            let together = match it.persistence {
                Persistence::FixedForJob => steps * steps,
                Persistence::FixedForPlace | Persistence::NewAtSeating => steps,
            };
            sum += limit_rad * steps;
            squares += limit_rad * limit_rad * together;
            variance += it.standard_uncertainty_rad().powi(2) * together;
        }
        let feature = FeatureError {
            worst_rad: known_rad.abs() + sum,
            root_sum_square_rad: known_rad.abs() + squares.sqrt(),
            known_rad,
            standard_uncertainty_rad: variance.sqrt(),
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
    if judges_pitch {
        figure.pitch = Some(PitchFigure::of(&spreads)?);
    }
    figure
        .contributors
        .sort_by(|a, b| b.limit_rad().total_cmp(&a.limit_rad()));
    Ok(figure)
}

/// All limits added, in radians.
pub(crate) fn limits_rad(contributors: &[Contributor]) -> f64 {
    contributors.iter().map(Contributor::limit_rad).sum()
}

/// What the known deviations count from. With nothing measured the residuals
/// are counted as the settings were found. With something measured a free
/// pattern shifts as one until its worst feature is as good as can be, and a
/// pattern on a setting counts from its first feature.
pub(super) fn reference_rad(start: &Start, all: &[(f64, Registration)]) -> f64 {
    if !all.iter().any(|(_, found)| found.measured) {
        return 0.0;
    }
    match start {
        Start::Free => {
            let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
            for (known_rad, found) in all {
                let limit = limits_rad(&found.contributors);
                low = low.min(known_rad - limit);
                high = high.max(known_rad + limit);
            }
            0.5 * (low + high)
        }
        Start::OnASetting => all.first().map_or(0.0, |(known_rad, _)| *known_rad),
        Start::Clocked(_) => 0.0,
    }
}

/// Tells for any setting of a way what a feature made there would be off by.
pub(crate) struct Predictor<'p> {
    workshop: &'p Workshop,
    job: &'p Job,
    reach: &'p Reach,
    datum: Option<Datum>,
}

impl<'p> Predictor<'p> {
    pub(crate) fn new(workshop: &'p Workshop, job: &'p Job, reach: &'p Reach) -> Result<Self> {
        let datum = match job.start() {
            Start::Clocked(clocked) => Some(Datum::new(workshop, job, reach, clocked)?),
            Start::Free | Start::OnASetting => None,
        };
        Ok(Self {
            workshop,
            job,
            reach,
            datum,
        })
    }

    /// The known deviation in radians, and how the setting registers.
    pub(crate) fn feature(&self, residual_rad: f64, setting: &Setting) -> (f64, Registration) {
        let mut found = registration_in_job(self.workshop, self.job, &self.reach.way, setting);
        if let Some(datum) = &self.datum {
            datum.add_to(self.workshop, &self.reach.way, &mut found, setting);
        }
        (residual_rad + found.known_rad, found)
    }
}

/// A contributor that acts anew at so many steps, as one: its limits add, its
/// variance too unless it stays the same throughout.
pub(super) fn over_steps(it: Contributor, steps: f64) -> Contributor {
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

/// What the names of the datum's contributors end with.
pub(super) const WHEN_CLOCKING: &str = ", when clocking";

/// The clocked feature's own registration.
pub(super) struct Datum {
    /// What the device presents when that feature is clocked.
    pub(super) presented: Angle,
    /// The setting, where the device holds that angle.
    pub(super) setting: Option<Setting>,
    /// What turns the part away while it is clocked.
    pub(super) registration: Registration,
}

impl Datum {
    pub(super) fn new(
        workshop: &Workshop,
        job: &Job,
        reach: &Reach,
        clocked: &Clocked,
    ) -> Result<Self> {
        let found = reach.datum.as_ref();
        let mut datum = Self {
            presented: reach.start.checked_add(clocked.at)?,
            setting: reach.datum.clone(),
            registration: found.map_or_else(Registration::default, |setting| {
                registration_in_job(workshop, job, &reach.way, setting)
            }),
        };
        for contributor in &mut datum.registration.contributors {
            contributor.name = format!("{}{WHEN_CLOCKING}", contributor.name).into();
        }
        if !clocked.clocking_error.is_zero() {
            datum.registration.contributors.push(Contributor {
                name: format!("clocking to the {}", clocked.to).into(),
                limit: clocked.clocking_error.to_radians_f64(),
                unit: InputUnit::Radian,
                sensitivity: 1.0,
                distribution: Distribution::Uniform,
                persistence: Persistence::FixedForJob,
                degrees_of_freedom: None,
            });
        }
        Ok(datum)
    }

    /// Adds the datum's contributors to a feature's. What stays the same at one
    /// place cancels for a feature made at the datum's own setting.
    pub(super) fn add_to(
        &self,
        workshop: &Workshop,
        way: &Way,
        found: &mut Registration,
        setting: &Setting,
    ) {
        let same_place = self.setting.as_ref() == Some(setting);
        let stays = |it: &Contributor| !same_place || it.persistence != Persistence::FixedForPlace;
        found.contributors.retain(stays);
        found.known_rad -= self.registration.known_rad;
        found.measured |= self.registration.measured;
        found.contributors.extend(
            self.registration
                .contributors
                .iter()
                .filter(|it| stays(it))
                .cloned(),
        );
        if let Some(datum) = &self.setting {
            against_the_datum(workshop, way, (setting, datum), found);
            one_offset_with_the_datum((setting, datum), found);
        }
    }
}
