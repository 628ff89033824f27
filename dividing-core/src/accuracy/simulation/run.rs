//! Running a program in stretches, on one thread or several, and stopping when
//! the digits are stable.

use std::sync::atomic::{AtomicUsize, Ordering};

use super::program::{Conforming, Program, Stretch, Tally};
use super::tally::{SimulatedQuantity, Totals};
use super::{
    RunSettings, SimulatedConformance, SimulatedProbability, Simulation, SimulationReport,
    TrialCount,
};
use crate::accuracy::probability::{check_probability, clopper_pearson};
use crate::error::{AtField, Error, Result};
use crate::work::Meter;

/// Trials of one stream of random numbers.
const CHUNK: u64 = 10_000;
/// Chunks that one thread sums at a stretch, where a fixed number is asked for.
const CHUNKS_AT_A_STRETCH: u64 = 16;
/// Draws at a stretch, so that large jobs can be stopped soon.
const DRAWS_AT_A_STRETCH: u64 = 100_000_000;
/// Parts that are started at once for each thread.
const PARTS_A_THREAD: usize = 4;
/// Deviations of single features that count as one step of work.
const DEVIATIONS_A_STEP: u64 = 16;
/// Trials of the first look that sets the bins.
const LOOK: u16 = 1024;
/// The stream of the first look, which no chunk reaches.
const LOOK_STREAM: u64 = u64::MAX;
/// Bins of pitch deviations, largest deviation and closing.
const BINS: usize = 4096;
/// Bins of all features together, and limits for one of them.
const FEATURE_BINS: usize = 1 << 20;
const MOST_TRIALS: u64 = 1_000_000_000_000_000;

/// Some chunks that one thread works on.
#[derive(Clone, Copy)]
struct Part {
    first_chunk: u64,
    trials: u64,
}

struct Runner<'p> {
    program: &'p Program,
    seed: u64,
    threads: usize,
    shape: Tally,
    draw_only: bool,
}

impl Runner<'_> {
    fn part(&self, part: Part) -> Tally {
        let mut tally = self.shape.emptied();
        let mut left = part.trials;
        let mut chunk = part.first_chunk;
        while left > 0 {
            let trials = left.min(CHUNK);
            Stretch {
                program: self.program,
                seed: self.seed,
                stream: chunk,
                trials: usize::try_from(trials).unwrap_or_default(),
                tally: &mut tally,
                draw_only: self.draw_only,
            }
            .run();
            left -= trials;
            chunk += 1;
        }
        tally
    }

    /// Works on some parts; the tallies come in the order of the parts.
    fn round(&self, parts: &[Part]) -> Result<Vec<Tally>> {
        if self.threads == 1 || parts.len() == 1 {
            return Ok(parts.iter().map(|part| self.part(*part)).collect());
        }
        let next = AtomicUsize::new(0);
        let work = || {
            let mut done = Vec::new();
            loop {
                let number = next.fetch_add(1, Ordering::Relaxed);
                let Some(part) = parts.get(number) else {
                    return done;
                };
                done.push((number, self.part(*part)));
            }
        };
        let mut done = std::thread::scope(|scope| {
            // Where a thread is not to be had, the others do its work.
            let helpers: Vec<_> = (1..self.threads.min(parts.len()))
                .filter_map(|_| std::thread::Builder::new().spawn_scoped(scope, work).ok())
                .collect();
            let mut done = work();
            for helper in helpers {
                let more = helper
                    .join()
                    .map_err(|_| Error::internal("a simulating thread failed"))?;
                done.extend(more);
            }
            Ok(done)
        })?;
        done.sort_unstable_by_key(|(number, _)| *number);
        Ok(done.into_iter().map(|(_, tally)| tally).collect())
    }
}

/// All tallies summed.
struct Sums {
    single_pitch: Totals,
    cumulative_pitch: Totals,
    largest_deviation: Totals,
    closing: Totals,
    features: Vec<Totals>,
    conforming: Conforming,
    trials: u64,
}

impl Sums {
    fn new(shape: &Tally) -> Self {
        Self {
            single_pitch: Totals::new(&shape.single_pitch),
            cumulative_pitch: Totals::new(&shape.cumulative_pitch),
            largest_deviation: Totals::new(&shape.largest_deviation),
            closing: Totals::new(&shape.closing),
            features: shape.features.iter().map(Totals::new).collect(),
            conforming: Conforming::default(),
            trials: 0,
        }
    }

    fn add(&mut self, tally: &Tally, trials: u64) {
        #[allow(clippy::cast_precision_loss, reason = "at most 10^15 trials")]
        let weight = trials as f64;
        self.single_pitch.add(&tally.single_pitch, weight);
        self.cumulative_pitch.add(&tally.cumulative_pitch, weight);
        self.largest_deviation.add(&tally.largest_deviation, weight);
        self.closing.add(&tally.closing, weight);
        for (total, series) in self.features.iter_mut().zip(&tally.features) {
            total.add(series, weight);
        }
        self.conforming.deviation += tally.conforming.deviation;
        self.conforming.single_pitch += tally.conforming.single_pitch;
        self.conforming.cumulative_pitch += tally.conforming.cumulative_pitch;
        self.conforming.all += tally.conforming.all;
        self.trials += trials;
    }
}

fn check(settings: &RunSettings) -> Result<()> {
    let (most, field) = match settings.trials {
        TrialCount::Exactly(trials) => (trials, "trials"),
        TrialCount::UntilStable {
            significant_digits,
            most,
        } => {
            if !(1..=4).contains(&significant_digits) {
                return Err(
                    Error::out_of_range(format!("{significant_digits} digits"), "1 to 4")
                        .at("trials.until_stable.significant_digits"),
                );
            }
            (most, "trials.until_stable.most")
        }
    };
    if !(1..=MOST_TRIALS).contains(&most) {
        return Err(
            Error::out_of_range(format!("{most} trials"), format!("1 to {MOST_TRIALS}")).at(field),
        );
    }
    if !(1..=256).contains(&settings.threads) {
        return Err(
            Error::out_of_range(format!("{} threads", settings.threads), "1 to 256").at("threads"),
        );
    }
    check_probability(settings.coverage_probability).at("coverage_probability")?;
    check_probability(settings.confidence).at("confidence")?;
    for (index, quantile) in settings.quantiles.iter().enumerate() {
        check_probability(*quantile).at(format!("quantiles[{index}]"))?;
    }
    Ok(())
}

/// A runner whose bins are set by a first look.
fn runner<'p>(program: &'p Program, settings: &RunSettings, draw_only: bool) -> Runner<'p> {
    let features = if program.per_feature {
        program.features.len()
    } else {
        0
    };
    let mut look = Tally::unbinned(features);
    Stretch {
        program,
        seed: settings.seed,
        stream: LOOK_STREAM,
        trials: usize::from(LOOK),
        tally: &mut look,
        draw_only: false,
    }
    .run();
    if !program.per_feature {
        // Not worked out: something harmless in their place.
        look.largest_deviation = look.single_pitch.clone();
        look.closing = look.single_pitch.clone();
    }
    let feature_bins = (FEATURE_BINS / features.max(1)).clamp(128, 1024);
    Runner {
        program,
        seed: settings.seed,
        threads: settings.threads,
        shape: Tally::spanning(&look, f64::from(LOOK), BINS, feature_bins),
        draw_only,
    }
}

/// Random draws of so many trials, at least one for each feature.
fn draws_of(program: &Program, trials: u64) -> u64 {
    u64::try_from(program.draws().max(program.features.len()))
        .unwrap_or(u64::MAX)
        .saturating_mul(trials)
}

/// Trials of one part.
fn part_size(program: &Program, settings: &RunSettings) -> u64 {
    match settings.trials {
        TrialCount::Exactly(_) => {
            let draws = draws_of(program, CHUNK);
            let chunks = (DRAWS_AT_A_STRETCH / draws.max(1)).clamp(1, CHUNKS_AT_A_STRETCH);
            chunks * CHUNK
        }
        // JCGM 101:2008, 7.9.4 a, b: the least whole number from 100/(1 − p)
        // up, and at least 10^4; here in whole chunks.
        TrialCount::UntilStable { .. } => {
            let least = 100.0 / (1.0 - settings.coverage_probability);
            #[allow(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a positive number, cut at the largest allowed"
            )]
            let least = least.min(1e15).ceil() as u64;
            least.max(CHUNK).div_ceil(CHUNK) * CHUNK
        }
    }
}

fn most_trials(settings: &RunSettings) -> u64 {
    match settings.trials {
        TrialCount::Exactly(most) | TrialCount::UntilStable { most, .. } => most,
    }
}

/// Runs all parts in rounds and hands each tally on in order, until told to
/// stop.
fn in_rounds(
    runner: &Runner<'_>,
    settings: &RunSettings,
    meter: &mut Meter<'_>,
    mut take: impl FnMut(&Tally, u64) -> bool,
) -> Result<()> {
    let most = most_trials(settings);
    let size = part_size(runner.program, settings);
    // More parts than threads, so that none waits long for another; but no
    // more than needed where parts are long or the run may stop at any.
    let short = draws_of(runner.program, size) <= DRAWS_AT_A_STRETCH;
    let at_once = match settings.trials {
        TrialCount::Exactly(_) if runner.threads > 1 && short => runner.threads * PARTS_A_THREAD,
        _ => runner.threads,
    };
    let features = u64::try_from(runner.program.features.len()).unwrap_or(u64::MAX);
    let mut started = 0;
    while started < most {
        let mut parts = Vec::with_capacity(at_once);
        while started < most && parts.len() < at_once {
            let trials = size.min(most - started);
            parts.push(Part {
                first_chunk: started / CHUNK,
                trials,
            });
            started += trials;
        }
        for (tally, part) in runner.round(&parts)?.iter().zip(&parts) {
            // Charged in order, so that a budget ends alike on any number of
            // threads.
            meter.spend(
                part.trials
                    .saturating_mul(features)
                    .div_ceil(DEVIATIONS_A_STEP),
            )?;
            if take(tally, part.trials) {
                return Ok(());
            }
        }
    }
    Ok(())
}

pub(super) fn draw_only(
    program: &Program,
    settings: &RunSettings,
    meter: &mut Meter<'_>,
) -> Result<()> {
    check(settings)?;
    in_rounds(&runner(program, settings, true), settings, meter, |_, _| {
        false
    })
}

pub(super) fn run(
    program: &Program,
    simulation: &Simulation,
    settings: &RunSettings,
    meter: &mut Meter<'_>,
) -> Result<SimulationReport> {
    check(settings)?;
    let runner = runner(program, settings, false);
    let mut sums = Sums::new(&runner.shape);
    let mut stability = match settings.trials {
        TrialCount::Exactly(_) => None,
        TrialCount::UntilStable {
            significant_digits, ..
        } => Some(Stability::new(&runner, significant_digits)),
    };
    let mut stable = stability.as_ref().map(|_| false);
    in_rounds(&runner, settings, meter, |tally, trials| {
        sums.add(tally, trials);
        let done = stability
            .as_mut()
            .is_some_and(|stability| stability.reached(tally, trials, &sums, settings));
        if done {
            stable = Some(true);
        }
        done
    })?;
    let quantity = |totals: &Totals| -> SimulatedQuantity {
        totals.quantity(settings.coverage_probability, &settings.quantiles)
    };
    let per_feature = program.per_feature;
    Ok(SimulationReport {
        trials: sums.trials,
        stable,
        single_pitch: quantity(&sums.single_pitch),
        cumulative_pitch: quantity(&sums.cumulative_pitch),
        features: sums.features.iter().map(quantity).collect(),
        largest_deviation: per_feature.then(|| quantity(&sums.largest_deviation)),
        closing: per_feature.then(|| quantity(&sums.closing)),
        conformance: conformance(simulation, &sums, settings.confidence)?,
    })
}

fn conformance(
    simulation: &Simulation,
    sums: &Sums,
    confidence: f64,
) -> Result<Option<SimulatedConformance>> {
    let limits = &simulation.limits;
    let probability = |count: u64| -> Result<SimulatedProbability> {
        let (lower, upper) = clopper_pearson(count, sums.trials, confidence)?;
        #[allow(clippy::cast_precision_loss, reason = "at most 10^15 trials")]
        let probability = count as f64 / sums.trials as f64;
        Ok(SimulatedProbability {
            probability,
            lower,
            upper,
        })
    };
    let given = |limit: Option<f64>, count: u64| limit.map(|_| probability(count)).transpose();
    let counts = sums.conforming;
    let found = SimulatedConformance {
        deviation: given(limits.deviation_rad, counts.deviation)?,
        single_pitch: given(limits.single_pitch_rad, counts.single_pitch)?,
        cumulative_pitch: given(limits.cumulative_pitch_rad, counts.cumulative_pitch)?,
        all: probability(counts.all)?,
    };
    let any = found.deviation.is_some()
        || found.single_pitch.is_some()
        || found.cumulative_pitch.is_some();
    Ok(any.then_some(found))
}

/// Running mean and spread of one figure over the batches (Welford).
#[derive(Clone, Copy, Default)]
struct Spread {
    count: f64,
    mean: f64,
    squares: f64,
}

impl Spread {
    fn add(&mut self, value: f64) {
        self.count += 1.0;
        let step = value - self.mean;
        self.mean += step / self.count;
        self.squares += step * (value - self.mean);
    }

    /// Standard deviation of the mean.
    fn of_mean(&self) -> f64 {
        (self.squares / (self.count * (self.count - 1.0))).sqrt()
    }
}

/// The adaptive procedure of JCGM 101:2008, 7.9.4.
struct Stability {
    digits: u8,
    per_feature: bool,
    batches: u64,
    shape: Tally,
    /// Mean, standard deviation and the ends of the coverage interval of each
    /// quantity that is watched.
    spreads: [[Spread; 4]; 4],
}

impl Stability {
    fn new(runner: &Runner<'_>, digits: u8) -> Self {
        Self {
            digits,
            per_feature: runner.program.per_feature,
            batches: 0,
            shape: runner.shape.emptied(),
            spreads: [[Spread::default(); 4]; 4],
        }
    }

    /// Takes in a batch; whether every figure is stable now.
    fn reached(&mut self, tally: &Tally, trials: u64, sums: &Sums, settings: &RunSettings) -> bool {
        #[allow(clippy::cast_precision_loss, reason = "at most 10^15 trials")]
        let weight = trials as f64;
        self.batches += 1;
        let watched = [
            (
                &self.shape.single_pitch,
                &tally.single_pitch,
                &sums.single_pitch,
            ),
            (
                &self.shape.cumulative_pitch,
                &tally.cumulative_pitch,
                &sums.cumulative_pitch,
            ),
            (
                &self.shape.largest_deviation,
                &tally.largest_deviation,
                &sums.largest_deviation,
            ),
            (&self.shape.closing, &tally.closing, &sums.closing),
        ];
        let count = if self.per_feature { 4 } else { 2 };
        let mut stable = self.batches > 1;
        for ((shape, series, total), spreads) in
            watched.into_iter().zip(&mut self.spreads).take(count)
        {
            let mut batch = Totals::new(shape);
            batch.add(series, weight);
            let (mean, deviation) = batch.moments();
            let (low, high) = batch.symmetric_interval(settings.coverage_probability);
            let tolerance = numerical_tolerance(total.moments().1, self.digits);
            for (spread, value) in spreads.iter_mut().zip([mean, deviation, low, high]) {
                spread.add(value);
                // Not a number on the first batch, which is never stable.
                stable &= 2.0 * spread.of_mean() <= tolerance;
            }
        }
        stable
    }
}

/// Half of the last of so many significant digits (JCGM 101:2008, 7.9.2).
fn numerical_tolerance(standard_uncertainty: f64, digits: u8) -> f64 {
    if standard_uncertainty <= 0.0 {
        return 0.0;
    }
    // u = c·10^l with c a whole number of so many digits.
    let exponent = standard_uncertainty.log10().floor() - f64::from(digits) + 1.0;
    0.5 * 10.0_f64.powf(exponent)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The examples of JCGM 101:2008, 7.9.2 (from memory): u = 0.00035 g with
    /// two digits gives 0.5 × 10^−5; with one digit u = 0.000 4 g gives
    /// 0.5 × 10^−4; u = 2 K with one digit gives 0.5.
    #[test]
    fn numerical_tolerances_of_the_guide() {
        for (u, digits, tolerance) in [(0.000_35, 2, 0.5e-5), (0.000_4, 1, 0.5e-4), (2.0, 1, 0.5)] {
            assert!((numerical_tolerance(u, digits) / tolerance - 1.0).abs() < 1e-12);
        }
    }
}
