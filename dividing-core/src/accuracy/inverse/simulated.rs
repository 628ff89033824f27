//! Simulated pitches of many plungers at once: arrays in, columns out.

use super::sweep::PlungerSweep;
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
        let settings = RunSettings {
            quantiles: vec![quantile],
            ..settings.clone()
        };
        let rows = self.worst_case_rad()?.len();
        let mut found = SimulatedColumns::default();
        for row in 0..rows {
            let report = self.job(row, features).run(&settings, meter)?;
            let quantile_of = |values: &[f64]| {
                values
                    .first()
                    .copied()
                    .ok_or_else(|| Error::internal("a run without its quantile"))
            };
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
