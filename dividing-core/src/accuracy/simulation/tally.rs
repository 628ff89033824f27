//! What a simulation keeps of a quantity: moments, extremes and counts in
//! bins, whatever the number of trials.

use serde::Serialize;

use super::random::{BLOCK, Block};

/// The spread of a simulated quantity, in radians.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SimulatedQuantity {
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
    /// The quantiles asked for, in the order asked.
    pub quantiles_rad: Vec<f64>,
    /// The coverage interval that leaves as much out on either side.
    pub symmetric_interval_rad: (f64, f64),
    /// The shortest coverage interval (JCGM 101:2008, 7.7.4).
    pub shortest_interval_rad: (f64, f64),
    /// Largest error of quantiles and intervals from counting in bins: the
    /// width of one bin, within the span of the first thousand trials widened
    /// by 2.5 standard deviations.
    pub quantile_resolution_rad: f64,
}

/// Counts of one quantity.
#[derive(Clone, Debug)]
pub(super) struct Series {
    /// Moments are summed about this value, to keep their digits.
    centre: f64,
    low: f64,
    width: f64,
    per_width: f64,
    counts: Vec<u32>,
    sum: f64,
    square_sum: f64,
    least: f64,
    greatest: f64,
}

/// Running figures of one series, lane by lane so that vector instructions can
/// keep their order.
struct LaneFigures {
    sum: [f64; LANES],
    square_sum: [f64; LANES],
    least: [f64; LANES],
    greatest: [f64; LANES],
}

const LANES: usize = 16;

impl LaneFigures {
    #[inline(always)]
    fn add(&mut self, centre: f64, values: &[f64; LANES]) {
        for (lane, &value) in values.iter().enumerate() {
            let apart = value - centre;
            self.sum[lane] += apart;
            self.square_sum[lane] += apart * apart;
            let (least, greatest) = (self.least[lane], self.greatest[lane]);
            self.least[lane] = if value < least { value } else { least };
            self.greatest[lane] = if value > greatest { value } else { greatest };
        }
    }
}

impl Series {
    /// A series without bins, for a first look.
    pub(super) const fn unbinned() -> Self {
        Self {
            centre: 0.0,
            low: 0.0,
            width: 0.0,
            per_width: 0.0,
            counts: Vec::new(),
            sum: 0.0,
            square_sum: 0.0,
            least: f64::INFINITY,
            greatest: f64::NEG_INFINITY,
        }
    }

    /// An empty series whose bins span what a first look at `trials` saw.
    pub(super) fn spanning(look: &Self, trials: f64, bins: usize) -> Self {
        let (mean, deviation) = look.moments(trials);
        let low = look.least - 2.5 * deviation;
        let high = look.greatest + 2.5 * deviation;
        // Something that does not vary still gets bins, of the size of rounding.
        let least_span = 1e-12 * look.least.abs().max(look.greatest.abs()).max(1e-12);
        #[allow(clippy::cast_precision_loss, reason = "a few thousand bins")]
        let width = (high - low).max(least_span) / bins as f64;
        Self {
            centre: mean,
            low,
            width,
            per_width: 1.0 / width,
            counts: vec![0; bins],
            ..Self::unbinned()
        }
    }

    /// An empty series with the same bins.
    pub(super) fn emptied(&self) -> Self {
        Self {
            counts: vec![0; self.counts.len()],
            sum: 0.0,
            square_sum: 0.0,
            least: f64::INFINITY,
            greatest: f64::NEG_INFINITY,
            ..*self
        }
    }

    /// Takes in the first `count` values of a block.
    #[inline(always)]
    pub(super) fn add(&mut self, values: &Block, count: usize) {
        if count == BLOCK {
            self.add_values(values);
        } else {
            self.add_values(values.get(..count).unwrap_or_default());
        }
    }

    #[inline(always)]
    fn add_values(&mut self, values: &[f64]) {
        let mut figures = LaneFigures {
            sum: [0.0; LANES],
            square_sum: [0.0; LANES],
            least: [self.least; LANES],
            greatest: [self.greatest; LANES],
        };
        let (whole, rest) = values.as_chunks::<LANES>();
        for part in whole {
            figures.add(self.centre, part);
        }
        self.sum += figures.sum.iter().sum::<f64>();
        self.square_sum += figures.square_sum.iter().sum::<f64>();
        for &value in rest {
            let apart = value - self.centre;
            self.sum += apart;
            self.square_sum += apart * apart;
        }
        self.least = figures
            .least
            .iter()
            .chain(rest)
            .copied()
            .fold(self.least, f64::min);
        self.greatest = figures
            .greatest
            .iter()
            .chain(rest)
            .copied()
            .fold(self.greatest, f64::max);
        if self.counts.is_empty() {
            return;
        }
        let (low, per_width) = (self.low, self.per_width);
        let last_bin = i32::try_from(self.counts.len() - 1).unwrap_or(i32::MAX);
        let mut bins = [0_i32; BLOCK];
        for (bin, value) in bins.iter_mut().zip(values) {
            // The cast saturates, so what lies outside goes to the outer bins.
            #[allow(clippy::cast_possible_truncation, reason = "a cast that saturates")]
            let number = ((value - low) * per_width) as i32;
            *bin = number.clamp(0, last_bin);
        }
        for (&bin, _) in bins.iter().zip(values) {
            #[allow(clippy::cast_sign_loss, reason = "clamped to 0 and above")]
            if let Some(count) = self.counts.get_mut(bin as usize) {
                *count += 1;
            }
        }
    }

    /// Mean and standard deviation of so many trials.
    fn moments(&self, trials: f64) -> (f64, f64) {
        let shift = self.sum / trials;
        let variance = if trials > 1.0 {
            ((self.square_sum - self.sum * shift) / (trials - 1.0)).max(0.0)
        } else {
            0.0
        };
        (self.centre + shift, variance.sqrt())
    }
}

/// Sums of many series of one quantity.
#[derive(Clone, Debug)]
pub(super) struct Totals {
    shape: Series,
    counts: Vec<u64>,
    trials: f64,
}

impl Totals {
    pub(super) fn new(shape: &Series) -> Self {
        Self {
            shape: shape.emptied(),
            counts: vec![0; shape.counts.len()],
            trials: 0.0,
        }
    }

    /// Adds a series of `trials` trials. Called in a fixed order.
    pub(super) fn add(&mut self, series: &Series, trials: f64) {
        self.shape.sum += series.sum;
        self.shape.square_sum += series.square_sum;
        self.shape.least = self.shape.least.min(series.least);
        self.shape.greatest = self.shape.greatest.max(series.greatest);
        for (total, count) in self.counts.iter_mut().zip(&series.counts) {
            *total += u64::from(*count);
        }
        self.trials += trials;
    }

    pub(super) fn moments(&self) -> (f64, f64) {
        self.shape.moments(self.trials)
    }

    /// Counts up to each edge of the bins, and the edges. The outer bins reach
    /// to the extremes.
    fn edges(&self) -> Vec<(f64, f64)> {
        let mut below = 0_u64;
        let mut edges = Vec::with_capacity(self.counts.len() + 1);
        edges.push((0.0, self.shape.least));
        let last = self.counts.len().saturating_sub(1);
        for (index, count) in self.counts.iter().enumerate() {
            below += count;
            #[allow(clippy::cast_precision_loss, reason = "counts below 2^53")]
            let (counted, bin) = (below as f64, (index + 1) as f64);
            let edge = if index == last {
                self.shape.greatest
            } else {
                (self.shape.low + bin * self.shape.width)
                    .clamp(self.shape.least, self.shape.greatest)
            };
            edges.push((counted, edge));
        }
        edges
    }

    /// The two-sided coverage interval with equal tails.
    pub(super) fn symmetric_interval(&self, probability: f64) -> (f64, f64) {
        let edges = self.edges();
        let tail = (1.0 - probability) / 2.0;
        (
            value_at(&edges, tail * self.trials),
            value_at(&edges, (1.0 - tail) * self.trials),
        )
    }

    pub(super) fn quantity(&self, probability: f64, quantiles: &[f64]) -> SimulatedQuantity {
        let (mean_rad, standard_deviation_rad) = self.moments();
        let edges = self.edges();
        let tail = (1.0 - probability) / 2.0;
        SimulatedQuantity {
            mean_rad,
            mean_standard_error_rad: standard_deviation_rad / self.trials.sqrt(),
            standard_deviation_rad,
            least_rad: self.shape.least,
            greatest_rad: self.shape.greatest,
            quantiles_rad: quantiles
                .iter()
                .map(|quantile| value_at(&edges, quantile * self.trials))
                .collect(),
            symmetric_interval_rad: (
                value_at(&edges, tail * self.trials),
                value_at(&edges, (1.0 - tail) * self.trials),
            ),
            shortest_interval_rad: shortest(&edges, probability * self.trials),
            quantile_resolution_rad: self.shape.width,
        }
    }
}

/// The value below which so many trials lie, between edges in proportion.
fn value_at(edges: &[(f64, f64)], counted: f64) -> f64 {
    let above = edges.partition_point(|(below, _)| *below < counted);
    match (
        above.checked_sub(1).and_then(|at| edges.get(at)),
        edges.get(above),
    ) {
        (Some(&(low_count, low)), Some(&(high_count, high))) => {
            let part = (counted - low_count) / (high_count - low_count);
            low + part * (high - low)
        }
        (None, Some(&(_, value))) | (Some(&(_, value)), None) => value,
        (None, None) => 0.0,
    }
}

/// The shortest interval that holds so many trials and starts or ends at an edge.
fn shortest(edges: &[(f64, f64)], held: f64) -> (f64, f64) {
    let total = edges.last().map_or(0.0, |(count, _)| *count);
    let mut best = (value_at(edges, 0.0), value_at(edges, held));
    let mut consider = |low: f64, high: f64| {
        if high - low < best.1 - best.0 {
            best = (low, high);
        }
    };
    for &(count, edge) in edges {
        if count + held <= total {
            consider(edge, value_at(edges, count + held));
        }
        if count >= held {
            consider(value_at(edges, count - held), edge);
        }
    }
    best
}

#[cfg(test)]
#[allow(clippy::float_cmp, reason = "zeros and ones that come out exactly")]
mod tests {
    use super::*;

    fn totals(values: &[f64], bins: usize) -> Totals {
        let mut look = Series::unbinned();
        look.add_values(values);
        #[allow(clippy::cast_precision_loss, reason = "a small test")]
        let trials = values.len() as f64;
        let mut series = Series::spanning(&look, trials, bins);
        series.add_values(values);
        let mut totals = Totals::new(&series);
        totals.add(&series, trials);
        totals
    }

    #[test]
    fn a_constant_has_no_spread() {
        for constant in [0.0, 3e-5, -7.0] {
            let quantity = totals(&[constant; 100], 64).quantity(0.95, &[0.1, 0.5]);
            assert!((quantity.mean_rad - constant).abs() < 1e-15);
            assert!(quantity.standard_deviation_rad < 1e-15);
            for value in quantity.quantiles_rad {
                assert!((value - constant).abs() < 1e-15);
            }
            let (low, high) = quantity.shortest_interval_rad;
            assert!((high - low).abs() < 1e-15);
        }
    }

    #[test]
    fn shortest_interval_of_a_lopsided_ramp() {
        // Density 2x on 0 to 1: the shortest interval holds the upper end,
        // from √(1 − p) (closed form).
        let values: Vec<f64> = (0..100)
            .map(|step| ((f64::from(step) + 0.5) / 100.0).sqrt())
            .collect();
        let quantity = totals(&values, 4096).quantity(0.75, &[0.25]);
        let (low, high) = quantity.shortest_interval_rad;
        assert!((low - 0.5).abs() < 0.02, "{low}");
        assert!((high - 1.0).abs() < 0.01, "{high}");
        assert!((quantity.quantiles_rad[0] - 0.5).abs() < 0.02);
    }
}
