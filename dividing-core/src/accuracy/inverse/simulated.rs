//! Simulated pitches of many plungers or bars at once: arrays in, columns out.

use super::sweep::{BarSweep, PlungerSweep};
use crate::accuracy::contributor::{Contributor, Distribution, InputUnit, Persistence};
use crate::accuracy::simulation::{
    Eccentricity, RunSettings, SimulatedFeature, SimulatedInput, Simulation, SimulationDetail,
};
use crate::error::{Error, Result};
use crate::work::Meter;

/// What a simulation of every row of a sweep found, a value for each row.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SimulatedColumns {
    /// Mean of the largest single pitch deviation, in radians.
    pub single_pitch_mean_rad: Vec<f64>,
    /// Its quantile, in radians.
    pub single_pitch_quantile_rad: Vec<f64>,
    /// Mean of the cumulative pitch deviation, in radians.
    pub cumulative_pitch_mean_rad: Vec<f64>,
    /// Its quantile, in radians.
    pub cumulative_pitch_quantile_rad: Vec<f64>,
}

impl SimulatedColumns {
    fn of(
        jobs: impl Iterator<Item = Simulation>,
        quantile: f64,
        settings: &RunSettings,
        meter: &mut Meter<'_>,
    ) -> Result<Self> {
        let settings = RunSettings {
            quantiles: vec![quantile],
            ..settings.clone()
        };
        let quantile_of = |values: &[f64]| {
            let first = values.first().copied();
            first.ok_or_else(|| Error::internal("a run without its quantile"))
        };
        let mut found = Self::default();
        for job in jobs {
            let report = job.run(&settings, meter)?;
            let (single, cumulative) = (&report.single_pitch, &report.cumulative_pitch);
            found.single_pitch_mean_rad.push(single.mean_rad);
            found.cumulative_pitch_mean_rad.push(cumulative.mean_rad);
            let single = quantile_of(&single.quantiles_rad)?;
            found.single_pitch_quantile_rad.push(single);
            let cumulative = quantile_of(&cumulative.quantiles_rad)?;
            found.cumulative_pitch_quantile_rad.push(cumulative);
        }
        Ok(found)
    }
}

impl PlungerSweep<'_> {
    /// Simulates each row as a job of so many equally spaced features, each with
    /// a hole of its own, and gives the mean and one quantile of its pitches.
    ///
    /// Distributions are those of
    /// [`standard_uncertainty_rad`](Self::standard_uncertainty_rad). There is
    /// one station, whose deviation turns all features alike and does not show
    /// in a pitch. Every row is run with the same seed, so that rows compare.
    ///
    /// ```
    /// use dividing_core::accuracy::{PlungerSweep, RunSettings, TrialCount};
    /// use dividing_core::work::Meter;
    /// let sweep = PlungerSweep {
    ///     pitch_radius_mm: &[50.0],
    ///     hole_deviation_mm: &[0.005],
    ///     station_deviation_mm: &[0.0],
    ///     clearance_mm: &[0.0, 0.010, 0.020],
    ///     bore_clearance_mm: &[0.0],
    ///     eccentricity_mm: &[0.0],
    /// };
    /// let settings = RunSettings { trials: TrialCount::Exactly(10_000), ..Default::default() };
    /// let found = sweep.simulated(12, 0.95, &settings, &mut Meter::default())?;
    /// let range = &found.cumulative_pitch_quantile_rad;
    /// assert!(range[0] < range[1] && range[1] < range[2]);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`PlungerSweep::worst_case_rad`] and [`Simulation::run`];
    /// [`ErrorKind::OutOfRange`](crate::ErrorKind::OutOfRange) for less than two features.
    pub fn simulated(
        &self,
        features: u32,
        quantile: f64,
        settings: &RunSettings,
        meter: &mut Meter<'_>,
    ) -> Result<SimulatedColumns> {
        if !(2..=20_000).contains(&features) {
            return Err(
                Error::out_of_range(format!("{features} features"), "2 to 20000").at("features"),
            );
        }
        let rows = self.worst_case_rad()?.len();
        let jobs = (0..rows).map(|row| self.job(row, features));
        SimulatedColumns::of(jobs, quantile, settings, meter)
    }

    fn job(&self, row: usize, features: u32) -> Simulation {
        let row = self.row(row);
        let disc = |name: &'static str, limit: f64, persistence| Contributor {
            name: name.into(),
            limit,
            unit: InputUnit::Millimetre,
            sensitivity: 1.0 / row.pitch_radius_mm,
            distribution: Distribution::UniformInDisc,
            persistence,
            degrees_of_freedom: None,
        };
        let seated = Persistence::NewAtSeating;
        let inputs: Vec<SimulatedInput> = [
            disc("hole", row.hole_deviation_mm, Persistence::FixedForPlace),
            disc("pin clearance", row.clearance_mm / 2.0, seated),
            disc("bore clearance", row.bore_clearance_mm / 2.0, seated),
        ]
        .into_iter()
        .filter(|it| it.limit > 0.0)
        .map(Into::into)
        .collect();
        let eccentricity = Eccentricity {
            name: "eccentricity".into(),
            limit_rad: row.eccentricity_mm / row.pitch_radius_mm,
            anywhere_in_disc: false,
        };
        Simulation {
            features: (0..features)
                .map(|number| SimulatedFeature {
                    angle_rad: std::f64::consts::TAU * f64::from(number) / f64::from(features),
                    residual_rad: 0.0,
                    inputs: inputs.clone(),
                })
                .collect(),
            eccentricities: if eccentricity.limit_rad > 0.0 {
                vec![eccentricity]
            } else {
                Vec::new()
            },
            detail: SimulationDetail::Pitch,
            ..Simulation::default()
        }
    }
}

impl BarSweep<'_> {
    /// Simulates each row as a ring of so many holes with fixed pins, a bar laid
    /// over every pair `span` spaces apart, and gives the mean and one quantile of
    /// the pitches of the bars. Bars that share a hole share its error, each seeing
    /// the component along its own normal.
    ///
    /// Distributions are those of
    /// [`fixed_standard_uncertainty_rad`](Self::fixed_standard_uncertainty_rad); the
    /// difference of the pins is drawn for every pair, straightness and levelling
    /// for every seating. Every row is run with the same seed, so that rows compare.
    ///
    /// ```
    /// use dividing_core::accuracy::{BarSweep, RunSettings, TrialCount};
    /// use dividing_core::work::Meter;
    /// let sweep = BarSweep {
    ///     baseline_mm: &[80.0, 110.0],
    ///     hole_deviation_mm: &[0.005],
    ///     pin_difference_mm: &[0.002],
    ///     hole_difference_mm: &[0.01],
    ///     straightness_mm: &[0.0],
    ///     levelling_mm: &[0.01],
    /// };
    /// let settings = RunSettings { trials: TrialCount::Exactly(10_000), ..Default::default() };
    /// let meter = &mut Meter::default();
    /// let fixed = sweep.fixed_simulated(9, 4, 0.95, &settings, meter)?;
    /// let loose = sweep.loose_simulated(9, 4, 0.95, &settings, meter)?;
    /// let range = &fixed.cumulative_pitch_quantile_rad;
    /// assert!(range[0] > range[1] && loose.cumulative_pitch_quantile_rad[0] > range[0]);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`BarSweep::fixed_worst_case_rad`] and [`Simulation::run`];
    /// [`ErrorKind::OutOfRange`](crate::ErrorKind::OutOfRange) for less than three
    /// holes, and for a span of none or of more than half the ring.
    pub fn fixed_simulated(
        &self,
        holes: u32,
        span: u32,
        quantile: f64,
        settings: &RunSettings,
        meter: &mut Meter<'_>,
    ) -> Result<SimulatedColumns> {
        check_ring(holes, span)?;
        let rows = self.fixed_worst_case_rad()?.len();
        let jobs = (0..rows).map(|row| self.job(row, (holes, span), false));
        SimulatedColumns::of(jobs, quantile, settings, meter)
    }

    /// The same with loose pins under level bars.
    ///
    /// # Errors
    /// As [`BarSweep::fixed_simulated`].
    pub fn loose_simulated(
        &self,
        holes: u32,
        span: u32,
        quantile: f64,
        settings: &RunSettings,
        meter: &mut Meter<'_>,
    ) -> Result<SimulatedColumns> {
        check_ring(holes, span)?;
        let rows = self.loose_worst_case_rad()?.len();
        let jobs = (0..rows).map(|row| self.job(row, (holes, span), true));
        SimulatedColumns::of(jobs, quantile, settings, meter)
    }

    fn job(&self, row: usize, (holes, span): (u32, u32), loose: bool) -> Simulation {
        let row = self.row(row);
        let part = |name: &'static str, limit: f64, distribution, persistence| Contributor {
            name: name.into(),
            limit,
            unit: InputUnit::Millimetre,
            sensitivity: 1.0 / row.baseline_mm,
            distribution,
            persistence,
            degrees_of_freedom: None,
        };
        let (place, seated) = (Persistence::FixedForPlace, Persistence::NewAtSeating);
        let uniform = Distribution::Uniform;
        let (pin_share, hole_share) = if loose { (1.0, 0.5) } else { (0.5, 0.0) };
        let pins = row.pin_difference_mm * pin_share;
        let bores = row.hole_difference_mm * hole_share;
        let own: Vec<SimulatedInput> = [
            part("difference of the pins", pins, uniform.clone(), place),
            part("difference of the holes", bores, uniform.clone(), place),
            part("straightness", row.straightness_mm, uniform.clone(), seated),
            part("levelling", row.levelling_mm, uniform, seated),
        ]
        .into_iter()
        .filter(|it| it.limit > 0.0)
        .map(Into::into)
        .collect();
        let turn = std::f64::consts::TAU / f64::from(holes);
        let hole = |number: u32, normal_rad: f64, sign: f64| {
            let limit = row.hole_deviation_mm;
            let mut of = part("hole", limit, Distribution::UniformInDisc, place);
            of.sensitivity *= sign;
            SimulatedInput {
                place: Some(format!("hole {}", number % holes)),
                direction_rad: Some(normal_rad),
                ..of.into()
            }
        };
        let features = (0..holes).map(|number| {
            let angle_rad = turn * f64::from(number);
            // The bar lies across the line from the middle of the ring to the
            // middle between its pins.
            let normal_rad = angle_rad + turn * f64::from(span) / 2.0;
            let ends = [
                hole(number, normal_rad, -1.0),
                hole(number + span, normal_rad, 1.0),
            ];
            let ends = ends.into_iter().filter(|it| it.contributor.limit > 0.0);
            SimulatedFeature {
                angle_rad,
                residual_rad: 0.0,
                inputs: ends.chain(own.iter().cloned()).collect(),
            }
        });
        Simulation {
            features: features.collect(),
            detail: SimulationDetail::Pitch,
            ..Simulation::default()
        }
    }
}

fn check_ring(holes: u32, span: u32) -> Result<()> {
    if !(3..=20_000).contains(&holes) {
        return Err(Error::out_of_range(format!("{holes} holes"), "3 to 20000").at("holes"));
    }
    if !(1..=holes / 2).contains(&span) {
        let accepted = format!("1 to {}", holes / 2);
        return Err(Error::out_of_range(format!("a span of {span}"), accepted).at("span"));
    }
    Ok(())
}
