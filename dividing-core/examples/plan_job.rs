//! Plans jobs on a workshop, prints the best sheet of each and writes every
//! sheet and picture to the folder `out`.
//!
//! ```text
//! cargo run --release --example plan_job                          the demo workshop and its jobs
//! cargo run --release --example plan_job workshop.json job.json   your own
//! ```
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "printing is what this program is for"
)]

use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use dividing_core::accuracy::VerdictKind;
use dividing_core::{Job, Plans, Workshop, plan_job};

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<(), Box<dyn Error>> {
    let paths: Vec<PathBuf> = std::env::args_os().skip(1).map(PathBuf::from).collect();
    let (workshop, jobs) = match paths.as_slice() {
        [] => demo()?,
        [workshop, jobs @ ..] if !jobs.is_empty() => (workshop.clone(), jobs.to_vec()),
        _ => return Err("give no path, or a workshop and one job or more".into()),
    };
    let out = Path::new("out");
    fs::create_dir_all(out)?;
    let workshop = Workshop::from_json(&read(&workshop)?)
        .map_err(|error| format!("{}: {error}", workshop.display()))?;
    for path in &jobs {
        let job =
            Job::from_json(&read(path)?).map_err(|error| format!("{}: {error}", path.display()))?;
        let plans = plan_job(&workshop, &job)?;
        let stem = path.file_stem().unwrap_or_default().to_string_lossy();
        remove_earlier(out, &stem)?;
        println!("{}", overview(&plans));
        println!("{}", plans.sheet(0)?.to_text());
        for index in 0..plans.plans().len() {
            let name = format!("{stem}_plan_{}", index + 1);
            fs::write(
                out.join(format!("{name}.txt")),
                plans.sheet(index)?.to_text(),
            )?;
            fs::write(out.join(format!("{name}.svg")), plans.drawing(index)?)?;
        }
    }
    println!(
        "Every sheet and picture is in the folder {}; here the best sheet of each job is printed.",
        out.display()
    );
    Ok(())
}

/// Takes away what an earlier run wrote for a job of this name.
fn remove_earlier(out: &Path, stem: &str) -> std::io::Result<()> {
    let begin = format!("{stem}_plan_");
    for entry in fs::read_dir(out)? {
        let entry = entry?;
        if entry.file_name().to_string_lossy().starts_with(&begin) {
            fs::remove_file(entry.path())?;
        }
    }
    Ok(())
}

/// The demo workshop and its jobs.
fn demo() -> Result<(PathBuf, Vec<PathBuf>), Box<dyn Error>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/demo");
    let mut jobs: Vec<PathBuf> = fs::read_dir(&folder)?
        .map(|entry| entry.map(|entry| entry.path()))
        .collect::<Result<_, _>>()?;
    jobs.retain(|path| {
        path.file_name()
            .is_some_and(|name| name.to_string_lossy().starts_with("job_"))
    });
    jobs.sort();
    Ok((folder.join("workshop.json"), jobs))
}

fn read(path: &Path) -> Result<String, Box<dyn Error>> {
    fs::read_to_string(path).map_err(|error| format!("{}: {error}", path.display()).into())
}

/// All plans of a job, a line each.
fn overview(plans: &Plans) -> String {
    let mut text = format!(
        "{}: {} plans, the best first\n",
        plans.job().name(),
        plans.plans().len()
    );
    for (index, plan) in plans.plans().iter().enumerate() {
        let reach = if plan.exact { "exact" } else { "nearest" };
        let verdict = match plan.verdict.kind {
            VerdictKind::Pass => "pass",
            VerdictKind::NoTolerance => "no tolerance",
            VerdictKind::NotProven => "not proven",
            VerdictKind::Fail => "fail",
        };
        let worst = if plan.error.unknown.is_empty() {
            format!("worst ±{:.4}°", plan.error.worst_rad.to_degrees())
        } else {
            "worst not known".into()
        };
        text.push_str(&format!(
            "{:>3}. {:<22} {reach:<8} {verdict:<11} {worst:<15}  {}\n",
            index + 1,
            plan.equipment,
            plan.method,
        ));
    }
    text
}
