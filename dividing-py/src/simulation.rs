//! The native part of `dividing.simulation`.

use dividing_core::accuracy::{RunSettings, Simulation, deviation_picture};
use dividing_core::document::{read, write};
use pyo3::prelude::*;

use crate::errors::core;
use crate::watch::{Limits, watched};

/// Runs a simulation with the interpreter lock released: its report and the
/// picture of its deviations.
///
/// `progress` is called with the steps of the core done since its last call.
#[pyfunction]
#[pyo3(signature = (simulation, settings, title, progress=None))]
pub(crate) fn _simulate(
    py: Python<'_>,
    simulation: &str,
    settings: &str,
    title: String,
    progress: Option<&Bound<'_, PyAny>>,
) -> PyResult<(String, String)> {
    let (simulation, settings) = core(|| {
        let simulation: Simulation = read(simulation).map_err(|it| it.at("simulation"))?;
        let settings: RunSettings = read(settings).map_err(|it| it.at("settings"))?;
        Ok((simulation, settings))
    })?;
    watched(py, &Limits::unlimited(progress), move |meter| {
        let report = simulation.run(&settings, meter)?;
        let picture = if report.features.is_empty() {
            String::new()
        } else {
            deviation_picture(&title, &report)
        };
        Ok((write(&report)?, picture))
    })
}
