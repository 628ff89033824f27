//! Dividing: putting features at exact angles round a part, with the equipment
//! a shop owns.
//!
//! A [`Workshop`] says what is owned, a [`Job`] what the drawing asks. From the
//! two, [`plan_job`] finds for every piece of equipment whether it reaches the
//! angles exactly, with which setting for every feature, how far off each may
//! be, and whether that passes the drawing; it ranks the answers and writes a
//! set-up sheet for each.
//!
//! ```
//! use dividing_core::{Angle, Job, Workshop, plan_job};
//!
//! let workshop = Workshop::from_json(r#"{
//!     "format": 1,
//!     "name": "Bench",
//!     "equipment": [
//!         {"faced_block": {"name": "square block", "faces": 4, "face_error": "0°01'"}},
//!         {"worm_head": {"name": "head", "worm_ratio": 40,
//!             "plates": [{"name": "plate 1", "circles": [15, 16, 17, 18, 19, 20]}],
//!             "registration": {"pin_diameter": 5.98, "hole_diameter": 6,
//!                              "hole_position_tolerance": 0.02},
//!             "smallest_pitch_radius": 38,
//!             "worm_error": "0°01'"}}
//!     ]
//! }"#)?;
//! let job = Job::from_json(r#"{
//!     "format": 1,
//!     "name": "Nine slots",
//!     "features": {"equal_divisions": {"count": 9, "called": "slot"}},
//!     "tolerance": {"angle": "0.05 deg"}
//! }"#)?;
//!
//! let plans = plan_job(&workshop, &job)?;
//! let best = &plans.plans()[0];
//! assert_eq!(best.method, "simple indexing, plate 1, 18-hole circle");
//! assert!(best.exact);
//! assert_eq!(best.placements[1].attained, Angle::new(1, 9)?);
//! println!("{}", plans.sheet(0)?.to_text());
//! # Ok::<(), dividing_core::Error>(())
//! ```
//!
//! # How far off, and why
//!
//! Every plan carries its worst case and its root-sum-square. The same contributors
//! give the uncertainty budget (JCGM 100), the simulation (JCGM 101), the conformance
//! under a decision rule (JCGM 106) and what could be looser.
//!
//! ```
//! use dividing_core::accuracy::{Coverage, Criterion, RunSettings, TrialCount};
//! use dividing_core::work::Meter;
//! use dividing_core::{Job, Workshop, plan_job};
//!
//! let workshop = Workshop::from_json(r#"{"format": 1, "name": "Bench", "equipment": [
//!     {"direct_plate": {"name": "plate", "circles": [{"holes": 24, "pitch_radius": 60}],
//!      "registration": {"fit": "6 mm H7/g6", "hole_position_tolerance": 0.02},
//!      "eccentricity": 0.005}}]}"#)?;
//! let job = Job::from_json(r#"{"format": 1, "name": "Flange",
//!     "features": {"equal_divisions": {"count": 8}}, "tolerance": {"angle": "0°02'"}}"#)?;
//! let plans = plan_job(&workshop, &job)?;
//! let meter = &mut Meter::default();
//!
//! // Where it comes from, and what the plan would bear: text, JSON, HTML.
//! let report = plans.error_report(0, Criterion::WorstCase, Coverage::Factor(2.0), meter)?;
//! assert!(report.to_text().contains("hole position"));
//! // Everything drawn together, with deviations, pitches and probabilities.
//! let settings = RunSettings { trials: TrialCount::Exactly(10_000), ..Default::default() };
//! let found = plans.error_model(0, meter)?.simulation().run(&settings, meter)?;
//! assert!(found.conformance.is_some_and(|it| it.all.probability > 0.99));
//! // The table of trade-offs on the sheet itself.
//! assert!(plans.sheet_with_trade_offs(0, meter)?.trade_offs.is_some());
//! # Ok::<(), dividing_core::Error>(())
//! ```
//!
//! # The rooms
//!
//! Data flows one way: equipment → reach → accuracy → plan.
//!
//! | room | holds |
//! | --- | --- |
//! | [`angle`], [`length`] | exact fractions of a turn; millimetres with an inch face |
//! | [`equipment`] | what a shop owns, as plain data, and the checked [`Workshop`] |
//! | [`features`], [`job`] | what the drawing asks, where the pattern starts, how close |
//! | [`reach`] | exact sets of angles, settings, the nearest that can be done, why not |
//! | [`accuracy`] | contributors of error, worst case, budgets, simulation, exact geometry, verdicts |
//! | [`fits`] | limits and fits after ISO 286, clearance |
//! | [`plan`] | ranked plans and set-up sheets |
//! | [`gearing`], [`gauge_blocks`] | change-gear trains and block stacks |
//! | [`work`] | budgets for long searches, watching and cancelling |
//!
//! # Conventions
//!
//! Angles grow counter-clockwise, seen from the side of the cutter. Exact values
//! stay exact: what does not fit is an [`ErrorKind::Overflow`], never a rounding.
//! Binary numbers carry their unit in the name. The crate reads no files and no
//! clock; the same input gives the same bytes everywhere. Nothing panics on
//! input: every error names the field, the value and what would be accepted.
//!
//! # Features
//!
//! `drawing` (on by default) makes pictures as SVG; `simd` (on by default) lets
//! the simulation use the best vector instructions of the machine, with the same
//! numbers; `schema` writes JSON Schemas of the documents from the types.
#![forbid(unsafe_code)]
#![cfg_attr(
    test,
    allow(clippy::float_cmp, reason = "tests compare results that are exact")
)]

pub mod accuracy;
pub mod angle;
pub mod document;
#[cfg(feature = "drawing")]
mod drawing;
pub mod equipment;
pub mod error;
pub mod features;
pub mod fits;
pub mod gauge_blocks;
pub mod gearing;
pub mod html;
pub mod inspection;
pub mod job;
pub mod length;
pub mod pattern;
pub mod plan;
pub mod reach;
#[cfg(feature = "schema")]
pub mod schema;
pub mod tables;
mod words;
pub mod work;

pub use angle::{Angle, AngleStyle};
pub use document::FORMAT;
pub use equipment::{Equipment, Workshop};
pub use error::{Error, ErrorKind, Result};
pub use job::{Approach, Job, Start, Tolerance};
pub use length::Length;
pub use plan::{Plan, Plans, plan_job, plan_job_within};

/// The code of the README runs with the tests.
#[cfg(doctest)]
#[doc = include_str!("../../README.md")]
struct ReadmeOfTheProject;
