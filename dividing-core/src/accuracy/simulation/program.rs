//! A simulation made ready to run: draws shared between features, draws of
//! their own, and the work of one block of trials.

use super::random::{BLOCK, Block, Lanes, Sampler, Scratch, draw_pair};
use super::tally::Series;

/// A draw that only one feature uses.
#[derive(Clone, Copy, Debug)]
pub(super) struct OwnDraw {
    pub(super) sampler: Sampler,
    /// Radians for one unit of the sampler.
    pub(super) scale: f64,
    /// New at each seating, so drawn again when the first feature is closed on.
    pub(super) reseated: bool,
}

/// A draw that several features use.
#[derive(Clone, Copy, Debug)]
pub(super) enum SharedDraw {
    /// One row of unit draws.
    Single(Sampler),
    /// Two rows: the coordinates of a direction or of a point in the unit disc.
    Pair { in_disc: bool },
}

#[derive(Clone, Debug, Default)]
pub(super) struct FeatureProgram {
    pub(super) residual_rad: f64,
    pub(super) own: Vec<OwnDraw>,
    /// Row of the shared draws, and radians for one unit of it.
    pub(super) shared: Vec<(usize, f64)>,
}

/// About what deviations are reported.
#[derive(Clone, Copy, Debug)]
pub(super) enum Zero {
    Mean,
    Middle,
    Feature(usize),
    Setting,
}

#[derive(Clone, Debug)]
pub(super) struct Program {
    pub(super) features: Vec<FeatureProgram>,
    pub(super) shared: Vec<SharedDraw>,
    pub(super) shared_rows: usize,
    /// The values of all distributions of samples, over the largest of each.
    pub(super) table: Vec<f64>,
    pub(super) chained: bool,
    pub(super) whole_turn: bool,
    pub(super) zero: Zero,
    /// Whether deviations of single features are reported.
    pub(super) per_feature: bool,
    /// Whether there are limits.
    pub(super) limited: bool,
    /// Limits of the largest deviation, the single and the cumulative pitch.
    pub(super) limits: Limits,
}

/// Limits in radians; infinite where none is given.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    pub(super) deviation: f64,
    pub(super) single_pitch: f64,
    pub(super) cumulative_pitch: f64,
}

/// Trials within each limit, and within all of them.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Conforming {
    pub(super) deviation: u64,
    pub(super) single_pitch: u64,
    pub(super) cumulative_pitch: u64,
    pub(super) all: u64,
}

/// What one stretch of trials gives.
#[derive(Clone, Debug)]
pub(super) struct Tally {
    pub(super) single_pitch: Series,
    pub(super) cumulative_pitch: Series,
    pub(super) largest_deviation: Series,
    pub(super) closing: Series,
    pub(super) features: Vec<Series>,
    pub(super) conforming: Conforming,
}

impl Tally {
    pub(super) fn unbinned(features: usize) -> Self {
        Self {
            single_pitch: Series::unbinned(),
            cumulative_pitch: Series::unbinned(),
            largest_deviation: Series::unbinned(),
            closing: Series::unbinned(),
            features: vec![Series::unbinned(); features],
            conforming: Conforming::default(),
        }
    }

    pub(super) fn spanning(look: &Self, trials: f64, bins: usize, feature_bins: usize) -> Self {
        let span = |series: &Series| Series::spanning(series, trials, bins);
        Self {
            single_pitch: span(&look.single_pitch),
            cumulative_pitch: span(&look.cumulative_pitch),
            largest_deviation: span(&look.largest_deviation),
            closing: span(&look.closing),
            features: look
                .features
                .iter()
                .map(|series| Series::spanning(series, trials, feature_bins))
                .collect(),
            conforming: Conforming::default(),
        }
    }

    pub(super) fn emptied(&self) -> Self {
        Self {
            single_pitch: self.single_pitch.emptied(),
            cumulative_pitch: self.cumulative_pitch.emptied(),
            largest_deviation: self.largest_deviation.emptied(),
            closing: self.closing.emptied(),
            features: self.features.iter().map(Series::emptied).collect(),
            conforming: Conforming::default(),
        }
    }
}

/// Room for one block of trials.
struct Workspace {
    scratch: Scratch,
    shared: Vec<Block>,
    deviations: Vec<Block>,
    single: Block,
    cumulative: Block,
    closing: Block,
    largest: Block,
}

impl Workspace {
    fn new(program: &Program) -> Self {
        Self {
            scratch: Scratch::new(),
            shared: vec![[0.0; BLOCK]; program.shared_rows],
            deviations: vec![[0.0; BLOCK]; program.features.len()],
            single: [0.0; BLOCK],
            cumulative: [0.0; BLOCK],
            closing: [0.0; BLOCK],
            largest: [0.0; BLOCK],
        }
    }
}

/// `trials` trials of one stream of random numbers.
pub(super) struct Stretch<'a> {
    pub(super) program: &'a Program,
    pub(super) seed: u64,
    pub(super) stream: u64,
    pub(super) trials: usize,
    pub(super) tally: &'a mut Tally,
    /// Draw, but work nothing out: a measure of what drawing alone costs.
    pub(super) draw_only: bool,
}

impl Stretch<'_> {
    /// Runs with the best vector instructions of the machine; the numbers are
    /// the same with any.
    pub(super) fn run(self) {
        #[cfg(feature = "simd")]
        pulp::Arch::new().dispatch(self);
        #[cfg(not(feature = "simd"))]
        self.run_here();
    }

    #[inline(always)]
    fn run_here(self) {
        let program = self.program;
        let mut lanes = Lanes::of_stream(self.seed, self.stream);
        let mut space = Workspace::new(program);
        let mut left = self.trials;
        while left > 0 {
            let count = left.min(BLOCK);
            left -= count;
            program.draw_shared(&mut lanes, &mut space);
            program.draw_own(&mut lanes, &mut space);
            if self.draw_only {
                // Something of each block is kept, so that none is left undrawn.
                if let Some(last) = space.deviations.last() {
                    self.tally.closing.add(last, count.min(1));
                }
                continue;
            }
            program.block(&mut lanes, &mut space);
            self.tally.single_pitch.add(&space.single, count);
            self.tally.cumulative_pitch.add(&space.cumulative, count);
            if program.per_feature {
                self.tally.closing.add(&space.closing, count);
                program.about_zero(&mut space);
                self.tally.largest_deviation.add(&space.largest, count);
                for (series, values) in self.tally.features.iter_mut().zip(&space.deviations) {
                    series.add(values, count);
                }
            }
            if program.limited {
                program.count_conforming(&space, count, &mut self.tally.conforming);
            }
        }
    }
}

#[cfg(feature = "simd")]
impl pulp::WithSimd for Stretch<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: pulp::Simd>(self, _simd: S) {
        self.run_here();
    }
}

impl Program {
    /// Random draws of one trial, for budgets of work.
    pub(super) fn draws(&self) -> usize {
        self.shared_rows
            + self
                .features
                .iter()
                .map(|feature| feature.own.len())
                .sum::<usize>()
    }

    #[inline(always)]
    fn draw_shared(&self, lanes: &mut Lanes, space: &mut Workspace) {
        let mut rows = space.shared.iter_mut();
        for draw in &self.shared {
            match draw {
                SharedDraw::Single(sampler) => {
                    if let Some(row) = rows.next() {
                        *row = [0.0; BLOCK];
                        sampler.add_to(lanes, &mut space.scratch, &self.table, 1.0, row);
                    }
                }
                SharedDraw::Pair { in_disc } => {
                    if let (Some(x), Some(y)) = (rows.next(), rows.next()) {
                        draw_pair(lanes, &mut space.scratch, *in_disc, x, y);
                    }
                }
            }
        }
    }

    /// Draws what only one feature uses.
    #[inline(always)]
    fn draw_own(&self, lanes: &mut Lanes, space: &mut Workspace) {
        for (feature, row) in self.features.iter().zip(&mut space.deviations) {
            *row = [feature.residual_rad; BLOCK];
            for draw in &feature.own {
                draw.sampler
                    .add_to(lanes, &mut space.scratch, &self.table, draw.scale, row);
            }
        }
    }

    /// Deviations, pitches and closing of one block of trials.
    #[inline(always)]
    fn block(&self, lanes: &mut Lanes, space: &mut Workspace) {
        for (feature, row) in self.features.iter().zip(&mut space.deviations) {
            for &(number, scale) in &feature.shared {
                if let Some(shared) = space.shared.get(number) {
                    for (sum, value) in row.iter_mut().zip(shared) {
                        *sum += scale * value;
                    }
                }
            }
        }
        if self.chained {
            chain(&mut space.deviations, &mut space.closing);
        }
        for part in 0..BLOCK / PART {
            self.pitches(
                &space.deviations,
                part * PART,
                &mut space.single,
                &mut space.cumulative,
            );
        }
        if self.per_feature && !self.chained {
            self.reseat(lanes, space);
        }
    }

    /// Single and cumulative pitch of a few trials, kept in registers from
    /// feature to feature.
    #[inline(always)]
    fn pitches(&self, rows: &[Block], from: usize, single: &mut Block, cumulative: &mut Block) {
        let at = |row: &Block| -> [f64; PART] {
            let mut values = [0.0; PART];
            values.copy_from_slice(&row[from..from + PART]);
            values
        };
        let Some((first, others)) = rows.split_first() else {
            return;
        };
        let first = at(first);
        let (mut previous, mut least, mut greatest) = (first, first, first);
        let mut largest = [0.0_f64; PART];
        for row in others {
            let values = at(row);
            for lane in 0..PART {
                let value = values[lane];
                let step = (value - previous[lane]).abs();
                least[lane] = if value < least[lane] {
                    value
                } else {
                    least[lane]
                };
                greatest[lane] = if value > greatest[lane] {
                    value
                } else {
                    greatest[lane]
                };
                largest[lane] = if step > largest[lane] {
                    step
                } else {
                    largest[lane]
                };
            }
            previous = values;
        }
        if self.whole_turn {
            for lane in 0..PART {
                let step = (first[lane] - previous[lane]).abs();
                largest[lane] = if step > largest[lane] {
                    step
                } else {
                    largest[lane]
                };
            }
        }
        for lane in 0..PART {
            single[from + lane] = largest[lane];
            cumulative[from + lane] = greatest[lane] - least[lane];
        }
    }

    /// The closing error from a common datum: what a second seating on the
    /// first feature changes. Both seatings are drawn here: only their
    /// difference is reported.
    #[inline(always)]
    fn reseat(&self, lanes: &mut Lanes, space: &mut Workspace) {
        space.closing = [0.0; BLOCK];
        for draw in self.features.iter().take(1).flat_map(|first| &first.own) {
            if draw.reseated {
                for scale in [draw.scale, -draw.scale] {
                    draw.sampler.add_to(
                        lanes,
                        &mut space.scratch,
                        &self.table,
                        scale,
                        &mut space.closing,
                    );
                }
            }
        }
    }

    /// Shifts the deviations to their zero and finds the largest of each trial.
    #[inline(always)]
    fn about_zero(&self, space: &mut Workspace) {
        let mut shift = [0.0; BLOCK];
        match self.zero {
            Zero::Setting => {}
            Zero::Feature(number) => {
                if let Some(row) = space.deviations.get(number) {
                    shift = *row;
                }
            }
            Zero::Middle => {
                let mut greatest = [f64::NEG_INFINITY; BLOCK];
                let mut least = [f64::INFINITY; BLOCK];
                for row in &space.deviations {
                    for (index, &value) in row.iter().enumerate() {
                        let (high, low) = (greatest[index], least[index]);
                        greatest[index] = if value > high { value } else { high };
                        least[index] = if value < low { value } else { low };
                    }
                }
                for ((middle, high), low) in shift.iter_mut().zip(greatest).zip(least) {
                    *middle = 0.5 * (high + low);
                }
            }
            Zero::Mean => {
                for row in &space.deviations {
                    for (sum, value) in shift.iter_mut().zip(row) {
                        *sum += value;
                    }
                }
                #[allow(clippy::cast_precision_loss, reason = "a count of features")]
                let per_feature = 1.0 / space.deviations.len().max(1) as f64;
                for sum in &mut shift {
                    *sum *= per_feature;
                }
            }
        }
        space.largest = [0.0; BLOCK];
        for row in &mut space.deviations {
            for index in 0..BLOCK {
                let value = row[index] - shift[index];
                row[index] = value;
                let (size, largest) = (value.abs(), space.largest[index]);
                space.largest[index] = if size > largest { size } else { largest };
            }
        }
    }

    #[inline(always)]
    fn count_conforming(&self, space: &Workspace, count: usize, sums: &mut Conforming) {
        let (mut deviation, mut single, mut cumulative, mut all) = (0_u64, 0_u64, 0_u64, 0_u64);
        for ((largest, one), spread) in space
            .largest
            .iter()
            .zip(&space.single)
            .zip(&space.cumulative)
            .take(count)
        {
            let within_deviation = u64::from(*largest <= self.limits.deviation);
            let within_single = u64::from(*one <= self.limits.single_pitch);
            let within_cumulative = u64::from(*spread <= self.limits.cumulative_pitch);
            deviation += within_deviation;
            single += within_single;
            cumulative += within_cumulative;
            all += within_deviation & within_single & within_cumulative;
        }
        sums.deviation += deviation;
        sums.single_pitch += single;
        sums.cumulative_pitch += cumulative;
        sums.all += all;
    }
}

/// Trials whose pitches are followed together.
const PART: usize = 8;

/// Adds each step to the deviation before it. The first feature stands where
/// it stands; what was drawn for it is the last step, back to it, so closing is
/// the sum of all.
#[inline(always)]
fn chain(rows: &mut [Block], closing: &mut Block) {
    let Some((first, others)) = rows.split_first_mut() else {
        return;
    };
    *closing = *first;
    *first = [0.0; BLOCK];
    let mut previous = [0.0; BLOCK];
    for row in others {
        for (sum, value) in row.iter_mut().zip(&previous) {
            *sum += value;
        }
        previous = *row;
    }
    for (sum, value) in closing.iter_mut().zip(&previous) {
        *sum += value;
    }
}
