//! Simulations: seed in, the same numbers out, on any number of threads.

use std::ffi::{c_char, c_void};

use dividing_core::accuracy::{
    RunSettings, SimulatedProbability, SimulatedQuantity, Simulation, SimulationReport, TrialCount,
    deviation_picture,
};
use dividing_core::document;

use crate::array::{self, OutArray, slice};
use crate::error::{Failure, Outcome};
use crate::fields::{chosen, string};
use crate::guard::guard;
use crate::handle;
use crate::live::{self, Handle};
use crate::pointer::{Out, reference};
use crate::status::Status;
use crate::text;
use crate::watch::{Watcher, metered};

/// What is to be simulated: an opaque handle.
///
/// Made by dividing_error_model_simulation or dividing_simulation_from_json,
/// freed by dividing_simulation_free. It never changes in between, so any number
/// of threads may run it at a time.
pub struct SimulationHandle {
    simulation: Simulation,
}

impl Handle for SimulationHandle {
    const MARK: [u8; 8] = *b"simulatn";
}

impl SimulationHandle {
    pub(crate) const fn new(simulation: Simulation) -> Self {
        Self { simulation }
    }
}

/// What a simulation came to: an opaque handle.
///
/// Made by dividing_simulation_run, freed by dividing_simulation_report_free. It
/// never changes in between, so any number of threads may read it at a time.
pub struct SimulationReportHandle {
    report: SimulationReport,
}

impl Handle for SimulationReportHandle {
    const MARK: [u8; 8] = *b"sim.rep.";
}

/// How a simulation runs. All zeros, or NULL for the whole, stand for a million
/// trials, seed 1, one thread, 95 % coverage and confidence, and the quantiles
/// 0.5, 0.95 and 0.99.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct RunFields {
    /// Trials; with `significant_digits` the most of them. 0 stands for a
    /// million.
    pub trials: u64,
    /// 0 for so many trials; 1 to 4 for as many as it takes until the figures
    /// are stable in so many digits.
    pub significant_digits: u8,
    /// 1 when `seed` counts, even if it is 0; 0 stands for seed 1.
    pub seeded: i32,
    /// Seed of the random numbers: the same seed gives the same report.
    pub seed: u64,
    /// Threads to use, 1 to 256; the report does not depend on it. 0 stands
    /// for 1.
    pub threads: usize,
    /// Probability of the coverage intervals; 0 stands for 0.95.
    pub coverage_probability: f64,
    /// Confidence of the intervals about probabilities; 0 stands for 0.95.
    pub confidence: f64,
    /// Probabilities of the quantiles to report, `quantile_count` of them.
    pub quantiles: *const f64,
    /// How many `quantiles` points to; 0 stands for 0.5, 0.95 and 0.99.
    pub quantile_count: usize,
}

impl RunFields {
    /// # Safety
    /// All pointers are as their comments say.
    unsafe fn build(&self) -> Outcome<RunSettings> {
        // SAFETY: the caller's contract.
        let quantiles = unsafe { slice(self.quantiles, self.quantile_count, "quantiles")? };
        let mut settings = RunSettings::default();
        let trials = match self.trials {
            0 => 1_000_000,
            trials => trials,
        };
        settings.trials = match self.significant_digits {
            0 => TrialCount::Exactly(trials),
            significant_digits => TrialCount::UntilStable {
                significant_digits,
                most: trials,
            },
        };
        if crate::fields::yes(self.seeded, "seeded")? {
            settings.seed = self.seed;
        }
        if self.threads != 0 {
            settings.threads = self.threads;
        }
        if self.coverage_probability != 0.0 {
            settings.coverage_probability = self.coverage_probability;
        }
        if self.confidence != 0.0 {
            settings.confidence = self.confidence;
        }
        if !quantiles.is_empty() {
            settings.quantiles = quantiles.to_vec();
        }
        Ok(settings)
    }
}

/// A simulation from JSON: features with their inputs, eccentricities, datum,
/// referencing, limits.
///
/// `json` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
///
/// Errors: malformed_json, unknown_field, invalid_field, with the path to the
/// field; null_pointer, invalid_utf8, misaligned; what does not make sense is
/// refused when it runs. Ownership:
/// `*out` is the caller's, freed with dividing_simulation_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_simulation_from_json(
    json: *const c_char,
    length: usize,
    out: *mut *mut SimulationHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (json, out) = unsafe { (text::read(json, length, "json")?, Out::new(out, "out")?) };
        live::give(SimulationHandle::new(document::read(json)?), out);
        Ok(())
    })
}

/// The simulation as JSON, as dividing_simulation_from_json reads it.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_simulation_json(
    simulation: *const SimulationHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::text_of(simulation, "simulation", out, |it| {
            text::json(&it.simulation)
        })
    }
}

/// Frees a simulation.
///
/// Ownership: the handle is gone; to free or use it again is an error of the
/// caller, seen (not_a_handle) only while its memory is not used for something
/// else. NULL is accepted and does nothing. Threads: any, while no other thread
/// uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_simulation_free(simulation: *mut SimulationHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(simulation, "simulation") }
}

/// Runs a simulation; `settings` may be NULL.
///
/// `work_limit`, `watcher` and `userdata` as dividing_plans_new_within; the
/// watcher is called on this thread.
///
/// Errors: out_of_range, not_finite, empty_list, with the path to the field;
/// work_limit, cancelled; null_pointer, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_simulation_report_free. Threads: any; it starts
/// those that it was asked to and waits for them.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_simulation_run(
    simulation: *const SimulationHandle,
    settings: *const RunFields,
    work_limit: u64,
    watcher: Watcher,
    userdata: *mut c_void,
    out: *mut *mut SimulationReportHandle,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (simulation, out) = unsafe {
            (
                live::reference(simulation, "simulation")?,
                Out::new(out, "out")?,
            )
        };
        let settings = if settings.is_null() {
            RunSettings::default()
        } else {
            // SAFETY: the contract of this function.
            unsafe { reference(settings, "settings")?.build()? }
        };
        // SAFETY: the caller gave the watcher to be called so.
        let report = unsafe {
            metered(work_limit, watcher, userdata, |meter| {
                simulation.simulation.run(&settings, meter)
            })?
        };
        live::give(SimulationReportHandle { report }, out);
        Ok(())
    })
}

/// Frees a report.
///
/// Ownership: the handle is gone; to free or use it again is an error of the
/// caller, seen (not_a_handle) only while its memory is not used for something
/// else. NULL is accepted and does nothing. Threads: any, while no other thread
/// uses the handle.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_simulation_report_free(report: *mut SimulationReportHandle) {
    // SAFETY: by the contract the pointer came from this library.
    unsafe { live::free(report, "report") }
}

/// A part of the trials, with its confidence interval; all NaN where it was not
/// asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct ProbabilityRecord {
    /// Part of the trials that conform.
    pub probability: f64,
    /// Lower end of its confidence interval.
    pub lower: f64,
    /// Upper end of its confidence interval.
    pub upper: f64,
}

impl ProbabilityRecord {
    const fn of(found: Option<SimulatedProbability>) -> Self {
        match found {
            Some(found) => Self {
                probability: found.probability,
                lower: found.lower,
                upper: found.upper,
            },
            None => Self {
                probability: f64::NAN,
                lower: f64::NAN,
                upper: f64::NAN,
            },
        }
    }
}

/// A report at a glance.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct SimulationRecord {
    /// Trials made.
    pub trials: u64,
    /// 1 when the stated digits became stable, 0 when not, -1 where a fixed
    /// number of trials was asked for.
    pub stable: i32,
    /// Features that were worked out one by one; 0 where pitch alone was.
    pub feature_count: usize,
    /// Every feature within its limit of deviation.
    pub deviation: ProbabilityRecord,
    /// Single pitch within its limit.
    pub single_pitch: ProbabilityRecord,
    /// Cumulative pitch within its limit.
    pub cumulative_pitch: ProbabilityRecord,
    /// All given limits at once.
    pub all: ProbabilityRecord,
}

/// Trials, stability and conformance of a report.
///
/// Errors: null_pointer, misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_simulation_report_get(
    report: *const SimulationReportHandle,
    out: *mut SimulationRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(report, "report", out, |it| {
            let found = &it.report;
            let conformance = found.conformance.as_ref();
            Ok(SimulationRecord {
                trials: found.trials,
                stable: found.stable.map_or(-1, i32::from),
                feature_count: found.features.len(),
                deviation: ProbabilityRecord::of(conformance.and_then(|it| it.deviation)),
                single_pitch: ProbabilityRecord::of(conformance.and_then(|it| it.single_pitch)),
                cumulative_pitch: ProbabilityRecord::of(
                    conformance.and_then(|it| it.cumulative_pitch),
                ),
                all: ProbabilityRecord::of(conformance.map(|it| it.all)),
            })
        })
    }
}

/// The quantities of a report.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(i32)]
pub enum QuantityOf {
    /// Largest single pitch deviation of a trial, without sign.
    SinglePitch = 0,
    /// Cumulative pitch deviation of a trial.
    CumulativePitch = 1,
    /// Largest deviation of any feature of a trial, without sign.
    LargestDeviation = 2,
    /// Deviation on coming back to the first feature.
    Closing = 3,
    /// Deviation of one feature about the datum, by its place round the part.
    Feature = 4,
}

/// One quantity over all trials, in radians.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct QuantityRecord {
    /// Mean.
    pub mean_rad: f64,
    /// Standard error of the mean.
    pub mean_standard_error_rad: f64,
    /// Standard deviation.
    pub standard_deviation_rad: f64,
    /// Least value seen.
    pub least_rad: f64,
    /// Greatest value seen.
    pub greatest_rad: f64,
    /// Lower end of the coverage interval that leaves as much out on either
    /// side.
    pub symmetric_low_rad: f64,
    /// Upper end of it.
    pub symmetric_high_rad: f64,
    /// Lower end of the shortest coverage interval.
    pub shortest_low_rad: f64,
    /// Upper end of it.
    pub shortest_high_rad: f64,
    /// Largest error of quantiles and intervals from counting in bins.
    pub quantile_resolution_rad: f64,
    /// Quantiles: as many as were asked for.
    pub quantile_count: usize,
}

impl QuantityRecord {
    fn of(found: &SimulatedQuantity) -> Self {
        Self {
            mean_rad: found.mean_rad,
            mean_standard_error_rad: found.mean_standard_error_rad,
            standard_deviation_rad: found.standard_deviation_rad,
            least_rad: found.least_rad,
            greatest_rad: found.greatest_rad,
            symmetric_low_rad: found.symmetric_interval_rad.0,
            symmetric_high_rad: found.symmetric_interval_rad.1,
            shortest_low_rad: found.shortest_interval_rad.0,
            shortest_high_rad: found.shortest_interval_rad.1,
            quantile_resolution_rad: found.quantile_resolution_rad,
            quantile_count: found.quantiles_rad.len(),
        }
    }
}

impl SimulationReportHandle {
    fn quantity(&self, number: i32, feature: usize) -> Outcome<&SimulatedQuantity> {
        let report = &self.report;
        let found = match chosen(number, "quantity", &[0, 1, 2, 3, 4])? {
            0 => Some(&report.single_pitch),
            1 => Some(&report.cumulative_pitch),
            2 => report.largest_deviation.as_ref(),
            3 => report.closing.as_ref(),
            _ => report.features.get(feature),
        };
        found.ok_or_else(|| {
            Failure::new(
                Status::NotFound,
                "feature",
                format!(
                    "the report has no such quantity; accepted: what the simulation works out, \
                     with features below {}",
                    report.features.len()
                ),
            )
        })
    }
}

/// One quantity of a report: `quantity` is a dividing_quantity; `feature`, counted
/// from 0 round the part, is looked at for that of a feature alone.
///
/// Errors: not_found for what was not worked out; out_of_range, null_pointer,
/// misaligned. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_simulation_report_quantity(
    report: *const SimulationReportHandle,
    quantity: i32,
    feature: usize,
    out: *mut QuantityRecord,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::value_of(report, "report", out, |it| {
            Ok(QuantityRecord::of(it.quantity(quantity, feature)?))
        })
    }
}

/// The quantiles of one quantity in radians, in the order asked for, into the
/// caller's array of `capacity` numbers. Other arguments as
/// dividing_simulation_report_quantity.
///
/// Errors: its errors and buffer_too_small. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_simulation_report_quantiles(
    report: *const SimulationReportHandle,
    quantity: i32,
    feature: usize,
    quantiles_rad: *mut f64,
    capacity: usize,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (report, quantiles) = unsafe {
            (
                live::reference(report, "report")?,
                OutArray::new(quantiles_rad, capacity, "quantiles_rad")?,
            )
        };
        quantiles.give(&report.quantity(quantity, feature)?.quantiles_rad)
    })
}

/// Arrays of the caller for the deviations of features, each with room for
/// `capacity` numbers in radians; a column whose pointer is NULL is left out.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct SimulatedFeaturePlaces {
    /// Room of each array, in entries.
    pub capacity: usize,
    /// Means.
    pub mean_rad: *mut f64,
    /// Standard deviations.
    pub standard_deviation_rad: *mut f64,
    /// Lower ends of the symmetric coverage intervals.
    pub low_rad: *mut f64,
    /// Upper ends of the symmetric coverage intervals.
    pub high_rad: *mut f64,
}

/// The deviations of all features, round the part, into the caller's arrays.
///
/// Errors: buffer_too_small, null_pointer, misaligned; on any of them no array
/// is touched. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_simulation_report_features(
    report: *const SimulationReportHandle,
    places: *const SimulatedFeaturePlaces,
) -> Status {
    guard(|| {
        // SAFETY: the contract of this function.
        let (report, capacity, columns) = unsafe {
            let places = reference(places, "places")?;
            let room = places.capacity;
            (
                live::reference(report, "report")?,
                room,
                [
                    OutArray::unless_null(places.mean_rad, room, "mean_rad")?,
                    OutArray::unless_null(
                        places.standard_deviation_rad,
                        room,
                        "standard_deviation_rad",
                    )?,
                    OutArray::unless_null(places.low_rad, room, "low_rad")?,
                    OutArray::unless_null(places.high_rad, room, "high_rad")?,
                ],
            )
        };
        let features = &report.report.features;
        array::check_capacity(capacity, features.len(), "capacity")?;
        let figures: [fn(&SimulatedQuantity) -> f64; 4] = [
            |it| it.mean_rad,
            |it| it.standard_deviation_rad,
            |it| it.symmetric_interval_rad.0,
            |it| it.symmetric_interval_rad.1,
        ];
        for (column, figure) in columns.into_iter().zip(figures) {
            if let Some(column) = column {
                column.write(features.iter().map(figure));
            }
        }
        Ok(())
    })
}

/// The report with every field as JSON.
///
/// Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
/// with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_simulation_report_json(
    report: *const SimulationReportHandle,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe { handle::text_of(report, "report", out, |it| text::json(&it.report)) }
}

/// A picture of the features' deviations with their intervals as SVG; `title`
/// ends with NUL.
///
/// Errors: null_pointer, invalid_utf8, misaligned. Ownership: `*out` is the
/// caller's, freed with dividing_text_free. Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn dividing_simulation_report_svg(
    report: *const SimulationReportHandle,
    title: *const c_char,
    out: *mut *mut c_char,
) -> Status {
    // SAFETY: the contract of this function.
    unsafe {
        handle::text_of(report, "report", out, |it| {
            let title = string(title, "title")?;
            Ok(deviation_picture(&title, &it.report))
        })
    }
}
