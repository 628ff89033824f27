//! A picture of how far off each feature may be, round the circle.

use super::figure::{ErrorFigure, FeatureError};
use super::simulation::{SimulatedQuantity, SimulationReport};
use crate::inspection::picture::{AFTER, BEFORE, Curve, Stands, draw};

/// Features, numbered from 1 as on the sheet.
const FEATURES: Stands = Stands {
    called: "feature",
    first_number: 1,
    positive: "positive counter-clockwise",
};

/// The limits of every feature's deviation at worst, polar and unrolled, as an
/// SVG document, for plans that were not simulated; with them the deviation that
/// is known beforehand. Features stand in the order of the job, numbered from 1
/// as on the sheet and drawn equally spaced.
#[must_use]
pub fn limits_picture(title: &str, figure: &ErrorFigure) -> String {
    let curve = |label, colour, dashed, value: fn(&FeatureError) -> f64| Curve {
        label,
        colour,
        dashed,
        values: figure.features.iter().map(value).enumerate().collect(),
    };
    draw(
        title,
        &FEATURES,
        figure.features.len(),
        &[
            curve("limits at worst", BEFORE, true, |it| {
                it.known_rad + (it.worst_rad - it.known_rad.abs())
            }),
            curve("", BEFORE, true, |it| {
                it.known_rad - (it.worst_rad - it.known_rad.abs())
            }),
            curve("known beforehand", AFTER, false, |it| it.known_rad),
        ],
    )
}

/// The deviations that a simulation expects, polar and unrolled, as an SVG
/// document: both ends of each feature's coverage interval, and the least and
/// greatest values seen. Features stand in the order of the report,
/// numbered from 1 and drawn equally spaced.
///
/// ```
/// use dividing_core::accuracy::{
///     RunSettings, SimulatedFeature, Simulation, TrialCount, deviation_picture,
/// };
/// use dividing_core::work::Meter;
/// let feature = SimulatedFeature { residual_rad: 1e-5, ..Default::default() };
/// let job = Simulation { features: vec![feature; 6], ..Default::default() };
/// let settings = RunSettings { trials: TrialCount::Exactly(10_000), ..Default::default() };
/// let report = job.run(&settings, &mut Meter::default())?;
/// assert!(deviation_picture("Six holes", &report).starts_with("<svg"));
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[must_use]
pub fn deviation_picture(title: &str, report: &SimulationReport) -> String {
    let curve = |label, colour, dashed, value: fn(&SimulatedQuantity) -> f64| Curve {
        label,
        colour,
        dashed,
        values: report.features.iter().map(value).enumerate().collect(),
    };
    draw(
        title,
        &FEATURES,
        report.features.len(),
        &[
            curve("coverage interval", AFTER, false, |it| {
                it.symmetric_interval_rad.1
            }),
            curve("", AFTER, false, |it| it.symmetric_interval_rad.0),
            curve("least and greatest seen", BEFORE, true, |it| {
                it.greatest_rad
            }),
            curve("", BEFORE, true, |it| it.least_rad),
        ],
    )
}
