//! Prints how far off the holes of the demo bolt circle may be, and why: the
//! budget of the worst hole, a simulation of the whole circle and what could be
//! looser or must be tighter. The picture of the simulation goes to `out`.
//!
//! ```text
//! cargo run --release --example error_budget
//! ```
#![allow(clippy::print_stdout, reason = "printing is what this program is for")]

use std::error::Error;

use dividing_core::accuracy::{
    Allowance, Coverage, Criterion, DecisionRule, InputUnit, RunSettings, SimulatedQuantity,
    TrialCount,
};
use dividing_core::work::Meter;
use dividing_core::{Job, Workshop, plan_job};

const ARCSEC_PER_RAD: f64 = 648_000.0 / std::f64::consts::PI;

fn main() -> Result<(), Box<dyn Error>> {
    let workshop = Workshop::from_json(include_str!("demo/workshop.json"))?;
    let job = Job::from_json(include_str!("demo/job_2_bolt_circle.json"))?;
    let plans = plan_job(&workshop, &job)?;
    let meter = &mut Meter::new(u64::MAX);
    let model = plans.error_model(0, meter)?;
    println!("{}: {}\n", job.name(), plans.plan(0)?.method);

    let coverage = Coverage::Probability(0.95);
    println!("{}", model.budget(0, coverage)?.to_text());
    let guarded = DecisionRule::GuardBand { multiple: 1.0 };
    let found = model.conformance(0, guarded, coverage)?;
    println!(
        "Limit {:.1} arcsec either way; with a guard band of the expanded uncertainty: {:?}; \
         probability that the hole conforms: {:.4}.\n",
        found.limit_rad * ARCSEC_PER_RAD,
        found.decision,
        found.probability
    );

    let settings = RunSettings {
        trials: TrialCount::UntilStable {
            significant_digits: 2,
            most: 5_000_000,
        },
        ..RunSettings::default()
    };
    let report = model.simulation().run(&settings, meter)?;
    println!(
        "Simulation, {} trials, seed {}:",
        report.trials, settings.seed
    );
    print_quantity("single pitch", &report.single_pitch);
    print_quantity("cumulative pitch", &report.cumulative_pitch);
    if let Some(largest) = &report.largest_deviation {
        print_quantity("largest deviation", largest);
    }
    #[cfg(feature = "drawing")]
    {
        let picture = dividing_core::accuracy::deviation_picture(job.name(), &report);
        std::fs::create_dir_all("out")?;
        std::fs::write("out/error_budget.svg", picture)?;
    }
    if let Some(conformance) = &report.conformance {
        println!(
            "  all holes within the tolerance: {:.5} ({:.5} to {:.5})",
            conformance.all.probability, conformance.all.lower, conformance.all.upper
        );
    }

    let table = model.trade_offs(Criterion::WorstCase)?;
    println!(
        "\nWorst case {:.1} of {:.1} arcsec. One thing changed at a time:",
        table.present_rad * ARCSEC_PER_RAD,
        table.limit_rad * ARCSEC_PER_RAD
    );
    for line in &table.inputs {
        let (factor, unit) = match line.unit {
            InputUnit::Millimetre => (1.0, "mm"),
            InputUnit::Radian => (ARCSEC_PER_RAD, "arcsec"),
        };
        let may_be = match line.allowance {
            Allowance::UpTo(most) => format!("up to {:.4} {unit}", most * factor),
            Allowance::Unlimited => "as large as it likes".into(),
            Allowance::Never => "not even zero is enough".into(),
        };
        println!(
            "  {:<36} {:>8.4} {unit}, {may_be}",
            line.name,
            line.present * factor
        );
    }
    if let (Some(present), Some(least)) = (table.present_lever_mm, table.least_lever_mm) {
        println!("  pitch radius or baseline: {present:.2} mm, least {least:.2} mm");
    }
    Ok(())
}

fn print_quantity(name: &str, quantity: &SimulatedQuantity) {
    let quantiles: Vec<String> = quantity
        .quantiles_rad
        .iter()
        .map(|it| format!("{:.1}", it * ARCSEC_PER_RAD))
        .collect();
    println!(
        "  {name:<18} mean {:.1} arcsec, quantiles {}",
        quantity.mean_rad * ARCSEC_PER_RAD,
        quantiles.join(", ")
    );
}
