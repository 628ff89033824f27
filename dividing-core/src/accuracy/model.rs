//! One model of a whole plan's errors, from which every answer comes: budget,
//! simulation, conformance and trade-offs.

use super::approach::registration_in_job;
use super::budget::{Budget, Coverage};
use super::contributor::{Contributor, Persistence};
use super::figure::{Datum, WHEN_CLOCKING, over_steps, reference_rad};
use super::measured_together::draw_together;
use super::pitch::round_the_part;
use super::place::placed_in;
use super::probability::check_finite;
use super::registration::crank_turns;
use super::shift::{part_off_the_axis, seen_from};
use super::simulation::{
    Datum as SimulatedDatum, Referencing, SimulatedFeature, SimulatedInput, Simulation,
    SimulationLimits,
};
use super::standards::{Decision, DecisionRule, conformance_probability};
use crate::angle::Angle;
use crate::equipment::{Equipment, Workshop};
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::job::{Job, Start};
use crate::reach::{Placement, Reach, Setting, Way};
use crate::work::Meter;

/// Seconds of arc in a radian.
const ARCSEC_PER_RAD: f64 = 180.0 * 3600.0 / std::f64::consts::PI;

/// What turns one feature away from its place.
#[derive(Clone, Debug, PartialEq)]
pub struct ModelFeature {
    /// The drawing angle.
    pub required: Angle,
    /// Systematic deviation of the setting, in radians: its residual and, on
    /// measured equipment, what was measured, counted as in the error figure.
    pub residual_rad: f64,
    /// Contributors to the deviation; for a clocked job with those of the
    /// datum feature.
    pub contributors: Vec<Contributor>,
    /// The same with their places, for the simulation.
    pub inputs: Vec<SimulatedInput>,
}

/// The errors of a whole plan: which contributors, at which places, about which
/// datum, judged by which limits.
///
/// Budgets of a free start count from the settings of the device; the
/// simulation counts from the shift of the whole pattern that makes the worst
/// feature of a trial as good as can be ([`Datum::Middle`](super::Datum::Middle)), and so never finds
/// more than the worst case. For a start on a setting both count from the
/// settings, for a clocked one from the datum feature.
#[derive(Clone, Debug, PartialEq)]
pub struct ErrorModel {
    features: Vec<ModelFeature>,
    order: Vec<usize>,
    /// Whether each feature is referenced to the one before, in the order made.
    chained: bool,
    unknown: Vec<String>,
    datum: SimulatedDatum,
    limits: SimulationLimits,
    /// Turns of the crank for one of the work; 1 without a worm.
    crank_turns: f64,
}

/// How one feature stands to the limit of its angle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FeatureConformance {
    /// The decision under the rule.
    pub decision: Decision,
    /// Largest deviation that the drawing allows, in radians.
    pub limit_rad: f64,
    /// Expanded uncertainty of the deviation, in radians.
    pub expanded_uncertainty_rad: f64,
    /// Probability that the feature conforms, its deviation taken as normal
    /// about the residual (JCGM 106:2012, 7.4).
    pub probability: f64,
}

impl ErrorModel {
    /// The model of a job on a reach.
    ///
    /// ```
    /// use dividing_core::accuracy::{Coverage, ErrorModel, RunSettings, TrialCount};
    /// use dividing_core::work::Meter;
    /// use dividing_core::{Job, Workshop, reach};
    /// let workshop = Workshop::from_json(r#"{"format": 1, "name": "w", "equipment": [
    ///     {"direct_plate": {"name": "plate", "circles": [{"holes": 12, "pitch_radius": 50}],
    ///      "registration": {"pin_diameter": 5.98, "hole_diameter": 6,
    ///                       "hole_position_tolerance": 0.02}}}]}"#)?;
    /// let job = Job::from_json(r#"{"format": 1, "name": "j",
    ///     "features": {"equal_divisions": {"count": 6}}, "tolerance": {"angle": "0.05 deg"}}"#)?;
    /// let meter = &mut Meter::default();
    /// let ways = reach::ways(&workshop, meter)?;
    /// let reach = reach::reach(&workshop, &ways[0], &job, meter)?;
    /// let model = ErrorModel::new(&workshop, &job, &reach, meter)?;
    /// // Hole within 0.010 mm and pin within 0.010 mm, uniform in discs, at 50 mm.
    /// let budget = model.budget(0, Coverage::Factor(2.0))?;
    /// assert!((budget.combined_standard_uncertainty - 29.17).abs() < 0.01);
    /// let settings = RunSettings { trials: TrialCount::Exactly(10_000), ..Default::default() };
    /// let report = model.simulation().run(&settings, meter)?;
    /// // Both limits together stay below 0.05°: every trial conforms.
    /// assert!(report.conformance.is_some_and(|it| it.all.probability == 1.0));
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    ///
    /// # Errors
    /// Overflow when an angle does not fit; the work limit; cancellation.
    pub fn new(
        workshop: &Workshop,
        job: &Job,
        reach: &Reach,
        meter: &mut Meter<'_>,
    ) -> Result<Self> {
        let datum = match job.start() {
            Start::Clocked(clocked) => Some(Datum::new(workshop, job, reach, clocked)?),
            Start::Free | Start::OnASetting => None,
        };
        let of_datum = datum
            .as_ref()
            .map(|it| datum_inputs(it, workshop, &reach.way))
            .unwrap_or_default();
        let part = part_off_the_axis(job)?;
        let mut unknown = Vec::new();
        let mut features = Vec::with_capacity(reach.placements.len());
        let mut all = Vec::with_capacity(reach.placements.len());
        for placement in &reach.placements {
            meter.spend(1)?;
            let mut found = registration_in_job(workshop, job, &reach.way, &placement.setting);
            let presented = reach.start.checked_add(placement.attained)?;
            let mut inputs: Vec<SimulatedInput> = found
                .contributors
                .iter()
                .map(|it| placed_in(workshop, &reach.way, it, &placement.setting, presented))
                .collect();
            inputs.extend(of_datum.iter().cloned());
            if let Some(datum) = &datum {
                datum.add_to(workshop, &reach.way, &mut found, &placement.setting);
            }
            if let Some(part) = &part {
                inputs.push(seen_from(part, placement.required));
                found.contributors.push(part.clone());
            }
            for text in &found.unknown {
                if !unknown.contains(text) {
                    unknown.push(text.clone());
                }
            }
            let known_rad = placement.residual_rad() + found.known_rad;
            features.push(ModelFeature {
                required: placement.required,
                residual_rad: known_rad,
                contributors: Vec::new(),
                inputs,
            });
            all.push((known_rad, found));
        }
        let reference_rad = reference_rad(job.start(), &all);
        for (feature, (_, found)) in features.iter_mut().zip(all) {
            feature.residual_rad -= reference_rad;
            let steps = f64::from(found.further_steps) + 1.0;
            feature.contributors = if found.further_steps > 0 {
                let each = found.contributors.into_iter();
                each.map(|it| over_steps(it, steps)).collect()
            } else {
                found.contributors
            };
        }
        let settings: Vec<&Setting> = reach
            .placements
            .iter()
            .map(|it| &it.setting)
            .chain(datum.as_ref().and_then(|it| it.setting.as_ref()))
            .collect();
        draw_together(workshop, &reach.way, &settings, &mut features);
        let step_by_step = |(index, placement): (usize, &Placement)| matches!(placement.setting, Setting::FromLast { steps } if steps as usize == index);
        let chained = datum.is_none()
            && features.len() > 1
            && reach.placements.iter().enumerate().all(step_by_step);
        let required: Vec<Angle> = features.iter().map(|it| it.required).collect();
        Ok(Self {
            order: if chained {
                (0..features.len()).collect()
            } else {
                round_the_part(&required)?
            },
            chained,
            features,
            unknown,
            datum: match job.start() {
                Start::Free => SimulatedDatum::Middle,
                Start::OnASetting | Start::Clocked(_) => SimulatedDatum::Setting,
            },
            limits: match job.tolerance() {
                Some(tolerance) => tolerance.limits()?,
                None => SimulationLimits::default(),
            },
            crank_turns: match workshop.equipment().get(reach.way.equipment()) {
                Some(Equipment::WormHead(head)) => crank_turns(head, &reach.way).abs(),
                _ => 1.0,
            },
        })
    }

    /// The features, in the order of the job.
    #[must_use]
    pub fn features(&self) -> &[ModelFeature] {
        &self.features
    }

    /// The numbers of the features in the order in which they stand round the
    /// part, which is the order of [`ErrorModel::simulation`].
    #[must_use]
    pub fn order_round_the_part(&self) -> &[usize] {
        &self.order
    }

    /// What the workshop does not say and all answers leave out.
    #[must_use]
    pub fn unknown(&self) -> &[String] {
        &self.unknown
    }

    /// The limits of the job's tolerance.
    #[must_use]
    pub const fn limits(&self) -> SimulationLimits {
        self.limits
    }

    /// Turns of the crank in its plate for one of the work; 1 without a worm.
    pub(super) const fn crank_turns(&self) -> f64 {
        self.crank_turns
    }

    fn feature(&self, number: usize) -> Result<&ModelFeature> {
        self.features.get(number).ok_or_else(|| {
            Error::new(
                ErrorKind::NotFound,
                format!(
                    "there is no feature {number}; accepted: 0 to {}",
                    self.features.len().saturating_sub(1)
                ),
            )
            .at("feature")
        })
    }

    /// The uncertainty budget of a feature's angle, counted from 0 in the order
    /// of the job, in seconds of arc.
    ///
    /// # Errors
    /// [`ErrorKind::NotFound`] when there are not so many features,
    /// [`ErrorKind::Undetermined`] when the workshop gives no contributor at
    /// all, and the errors of [`Budget::of_contributors`].
    pub fn budget(&self, feature: usize, coverage: Coverage) -> Result<Budget> {
        let found = self.feature(feature)?;
        if found.contributors.is_empty() {
            return Err(Error::new(
                ErrorKind::Undetermined,
                format!(
                    "the workshop says nothing of how this registers: {}",
                    self.unknown.join("; ")
                ),
            ));
        }
        Budget::of_contributors(
            format!("angle of feature {}", feature + 1),
            found.residual_rad,
            &found.contributors,
            coverage,
        )
    }

    /// The simulation of the job, ready to run: errors of one hole, face or
    /// graduation are drawn once for all features that use it, seatings anew
    /// for each; deviations count from the shift that makes the worst feature best
    /// for a free start, from the settings for one on a setting and from the
    /// datum feature for a clocked one; the limits are the job's. Where each
    /// feature is referenced to the one before, in order, errors add from step to
    /// step and the step back to the first feature closes the ring.
    #[must_use]
    pub fn simulation(&self) -> Simulation {
        if self.chained {
            return self.chained_simulation();
        }
        Simulation {
            features: self
                .order
                .iter()
                .filter_map(|&index| self.features.get(index))
                .map(|feature| SimulatedFeature {
                    angle_rad: feature.required.to_radians_f64(),
                    residual_rad: feature.residual_rad,
                    inputs: feature.inputs.clone(),
                })
                .collect(),
            datum: self.datum,
            limits: self.limits,
            ..Simulation::default()
        }
    }

    /// Every feature with its step from the one before, the first with the step
    /// that closes on it.
    fn chained_simulation(&self) -> Simulation {
        let count = self.features.len();
        let of = |index: usize| self.features.get(index % count.max(1));
        Simulation {
            features: (0..count)
                .map(|index| {
                    let before = of(index + count - 1).map_or(0.0, |it| it.residual_rad);
                    // The closing step is one like the step to the second feature.
                    let step = of(if index == 0 { 1 } else { index });
                    SimulatedFeature {
                        angle_rad: of(index).map_or(0.0, |it| it.required.to_radians_f64()),
                        residual_rad: of(index).map_or(0.0, |it| it.residual_rad) - before,
                        inputs: step.map_or_else(Vec::new, |it| it.inputs.clone()),
                    }
                })
                .collect(),
            datum: self.datum,
            limits: self.limits,
            referencing: Referencing::Chained,
            ..Simulation::default()
        }
    }

    /// Whether a feature conforms with the limit of its angle under a decision
    /// rule after JCGM 106:2012: the residual of its setting is the value, the
    /// budget gives the uncertainty.
    ///
    /// # Errors
    /// As [`ErrorModel::budget`] and [`DecisionRule::decide`];
    /// [`ErrorKind::Undetermined`] where the job gives no limit of angle.
    pub fn conformance(
        &self,
        feature: usize,
        rule: DecisionRule,
        coverage: Coverage,
    ) -> Result<FeatureConformance> {
        let limit_rad = self.limits.deviation_rad.ok_or_else(|| {
            Error::new(
                ErrorKind::Undetermined,
                "the job gives no limit of a feature's angle; accepted: a job with the tolerance \
                 angle, position_diameter or angular_class",
            )
            .at("tolerance")
        })?;
        let budget = self.budget(feature, coverage)?;
        let residual_rad = self.feature(feature)?.residual_rad;
        let standard_rad = budget.combined_standard_uncertainty / ARCSEC_PER_RAD;
        let expanded_uncertainty_rad = budget.expanded_uncertainty / ARCSEC_PER_RAD;
        check_finite(expanded_uncertainty_rad, "expanded uncertainty")?;
        Ok(FeatureConformance {
            decision: rule
                .decide(
                    residual_rad,
                    -limit_rad,
                    limit_rad,
                    expanded_uncertainty_rad,
                )
                .at("rule")?,
            limit_rad,
            expanded_uncertainty_rad,
            probability: conformance_probability(
                residual_rad,
                standard_rad,
                -limit_rad,
                limit_rad,
            )?,
        })
    }
}

/// The datum's inputs as they enter every feature: with the other sign, under
/// the names and places of the features' own, so that a hole used for both
/// cancels; what is seated when clocking stays for the whole job.
fn datum_inputs(datum: &Datum, workshop: &Workshop, way: &Way) -> Vec<SimulatedInput> {
    datum
        .registration
        .contributors
        .iter()
        .map(|contributor| {
            let mut own = contributor.clone();
            if own.persistence == Persistence::NewAtSeating {
                own.persistence = Persistence::FixedForJob;
            } else if let Some(plain) = own.name.strip_suffix(WHEN_CLOCKING) {
                own.name = plain.to_owned().into();
            }
            let mut input = match &datum.setting {
                Some(setting) => placed_in(workshop, way, &own, setting, datum.presented),
                None => own.into(),
            };
            input.contributor.sensitivity = -input.contributor.sensitivity;
            input
        })
        .collect()
}
