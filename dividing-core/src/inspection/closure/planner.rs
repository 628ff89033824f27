//! Which shifts to measure for a wanted uncertainty with the fewest readings.
//!
//! For whole rings at m shifts the variance of every division is
//! `u²/n · Σ m/(m² − |H(f)|²)` over the harmonics f = 1 … n − 1. The squares
//! have a given sum, `Σ |H(f)|² = n·Σ t² − m²` with t how often each shift is
//! measured, and the terms are convex in them: the variance is least when all
//! are equal. That gives a bound no choice of shifts can beat,
//! `u²·(n − 1)²/(n²·(m − 1))` while no shift is repeated; perfect difference
//! sets reach it, and so does full closure.

use serde::{Deserialize, Serialize};

use crate::error::{AtField, Error, Result};
use crate::work::Meter;

use super::super::fourier::{Complex, Transform};
use super::super::numeric::count;
use super::{MAX_CLOSURE_READINGS, check_positions, check_uncertainty, determinants};

/// Steps given to looking at all sets of one size.
const EXHAUSTIVE_STEPS: u64 = 40_000_000;

/// Steps of one call after which no further pass of exchanges begins.
const EXCHANGE_STEPS: u64 = 20_000_000;

/// Steps given to finding one more shift; with more positions than that allows
/// only a spread selection of shifts is looked at.
const ADDITION_STEPS: usize = 800_000;

/// A rounding allowance on variances, relative.
const SAME: f64 = 1.0e-10;

/// Which shifts to measure, whole rings each.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ShiftPlan {
    /// Shifts to measure, ascending; a shift named twice is measured twice.
    pub shifts: Vec<usize>,
    /// Readings in all: positions times set-ups.
    pub readings: usize,
    /// Standard uncertainty that every division will have, in radians.
    pub division_uncertainty_rad: f64,
    /// Fewest set-ups that can reach the wanted uncertainty, as far as proved.
    /// Equal to the number of shifts when the plan is proved to be the
    /// smallest.
    pub proved_fewest_setups: usize,
}

impl ShiftPlan {
    /// Whether no plan of whole rings with fewer readings exists.
    #[must_use]
    pub fn is_proved_smallest(&self) -> bool {
        self.proved_fewest_setups == self.shifts.len()
    }
}

/// Plans a closure calibration with the fewest whole rings of readings.
///
/// `positions` from 2 to 21,600; both uncertainties are standard uncertainties
/// in radians: of one reading, and wanted for every division of either device.
/// Sets of shifts are built greedily and improved by exchange; a size is passed
/// over only when the bound or a look at all its sets rules it out, else the
/// plan says that it is not proved to be the smallest.
///
/// # Errors
/// [`ErrorKind::OutOfRange`](crate::ErrorKind::OutOfRange) for arguments outside
/// their limits or a wish that needs more than ten million readings,
/// [`ErrorKind::NotFinite`](crate::ErrorKind::NotFinite), and the errors of the
/// meter.
///
/// ```
/// use dividing_core::inspection::plan_shifts;
/// use dividing_core::work::Meter;
/// // Seven positions, three set-ups: a perfect difference set meets the bound.
/// let plan = plan_shifts(7, 1.0e-6, 0.61e-6, &mut Meter::default())?;
/// assert_eq!(plan.shifts.len(), 3);
/// assert!((plan.division_uncertainty_rad - 1.0e-6 * 6.0 / 7.0 / 2.0_f64.sqrt()).abs() < 1e-12);
/// assert!(plan.is_proved_smallest());
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn plan_shifts(
    positions: usize,
    reading_uncertainty_rad: f64,
    wanted_uncertainty_rad: f64,
    meter: &mut Meter<'_>,
) -> Result<ShiftPlan> {
    check_positions(positions)?;
    check_uncertainty(reading_uncertainty_rad).at("reading_uncertainty")?;
    check_uncertainty(wanted_uncertainty_rad).at("wanted_uncertainty")?;
    let ratio = wanted_uncertainty_rad / reading_uncertainty_rad;
    let wanted = ratio * ratio * (1.0 + SAME);
    let fewest = fewest_by_bound(positions, wanted, wanted_uncertainty_rad)?;
    let design = Design::new(positions);

    let mut proved = fewest;
    let mut setups = fewest;
    let mut grown = Grown::default();
    loop {
        // Whole rounds of every shift add nothing to H(f) but to m.
        let rounds = setups / positions;
        let extra = setups % positions;
        if let Some(chosen) = design.choose(rounds, extra, wanted, &mut grown, meter)? {
            let mut shifts: Vec<usize> = (0..rounds).flat_map(|_| 0..positions).collect();
            shifts.extend(&chosen);
            shifts.sort_unstable();
            let variance = design.variance(rounds, &chosen);
            return Ok(ShiftPlan {
                readings: positions * shifts.len(),
                shifts,
                division_uncertainty_rad: reading_uncertainty_rad * variance.sqrt(),
                proved_fewest_setups: proved,
            });
        }
        if proved == setups && design.looked_at_all(rounds, extra, wanted) {
            proved += 1;
        }
        setups += 1;
    }
}

/// A set of shifts grown greedily, kept from one size to the next.
#[derive(Default)]
struct Grown {
    rounds: usize,
    shifts: Vec<usize>,
    /// Steps spent on exchanges so far.
    exchange_steps: u64,
}

/// The least variance, in units of a reading's, that m set-ups can give.
fn variance_bound(n: usize, m: usize) -> f64 {
    if m < 2 {
        return f64::INFINITY;
    }
    bound_for(n, m, even_squares(n, m / n, m % n))
}

/// Σ t² is least when the shifts are used as evenly as they can be.
fn even_squares(n: usize, rounds: usize, extra: usize) -> f64 {
    count(n) * count(rounds) * count(rounds) + count(extra) * (2.0 * count(rounds) + 1.0)
}

/// The least variance of m set-ups whose shifts occur with a given Σ t².
fn bound_for(n: usize, m: usize, squares: f64) -> f64 {
    let m = count(m);
    let harmonics = count(n) - 1.0;
    let mean_square = ((count(n) * squares - m * m) / harmonics).max(0.0);
    let determinant = m * m - mean_square;
    if determinant > 0.0 {
        harmonics / count(n) * m / determinant
    } else {
        f64::INFINITY
    }
}

fn fewest_by_bound(n: usize, wanted: f64, wanted_rad: f64) -> Result<usize> {
    let most = MAX_CLOSURE_READINGS / n;
    if variance_bound(n, most) > wanted {
        return Err(Error::out_of_range(
            format!("{wanted_rad} rad"),
            format!(
                "an uncertainty that at most {MAX_CLOSURE_READINGS} readings reach; \
                 repeat single readings or use a better instrument"
            ),
        )
        .at("wanted_uncertainty"));
    }
    // The bound falls with every set-up, so halving finds the first.
    let (mut too_few, mut enough) = (1, most);
    while enough - too_few > 1 {
        let middle = too_few + (enough - too_few) / 2;
        if variance_bound(n, middle) > wanted {
            too_few = middle;
        } else {
            enough = middle;
        }
    }
    Ok(enough)
}

/// Everything about n positions that all sets of shifts share.
struct Design {
    positions: usize,
    transform: Transform,
    /// exp(2πi·j/n).
    circle: Vec<Complex>,
}

impl Design {
    fn new(positions: usize) -> Self {
        let circle = (0..positions)
            .map(|j| {
                let angle = std::f64::consts::TAU * count(j) / count(positions);
                Complex::new(angle.cos(), angle.sin())
            })
            .collect();
        Self {
            positions,
            transform: Transform::new(positions),
            circle,
        }
    }

    /// Variance of a division in units of a reading's, exactly evaluated.
    fn variance(&self, rounds: usize, extra: &[usize]) -> f64 {
        let n = self.positions;
        let mut occurrences = vec![count(rounds); n];
        for shift in extra {
            occurrences[*shift] += 1.0;
        }
        let m: f64 = occurrences.iter().sum();
        let squares: Vec<f64> = self.sums(extra).iter().map(|sum| sum.square()).collect();
        let determinants = determinants(&self.transform, &occurrences, &squares);
        determinants[1..].iter().map(|d| m / d).sum::<f64>() / count(n)
    }

    fn reaches(
        &self,
        rounds: usize,
        extra: &[usize],
        wanted: f64,
        meter: &mut Meter<'_>,
    ) -> Result<bool> {
        meter.spend((extra.len() as u64 + 1).saturating_mul(self.positions as u64))?;
        Ok(self.variance(rounds, extra) <= wanted)
    }

    /// The sum the search compares: as `variance`, with a floor below which a
    /// determinant counts as zero so that poor sets can still be ranked.
    fn score(&self, rounds: usize, m: usize, sums: &[Complex], added: Option<usize>) -> f64 {
        let n = self.positions;
        let m = count(rounds * n + m);
        let floor = m * m * 1.0e-12;
        let mut index = 0;
        let mut total = 0.0;
        for (f, sum) in sums.iter().enumerate().skip(1) {
            let h = match added {
                None => *sum,
                Some(shift) => {
                    index += shift;
                    if index >= n {
                        index -= n;
                    }
                    *sum + self.circle[index]
                }
            };
            // Harmonics f and n − f are alike; n/2 stands alone.
            let times = if 2 * f == n { 1.0 } else { 2.0 };
            total += times * m / (m * m - h.square()).max(floor);
        }
        total / count(n)
    }

    /// Transform of a set of shifts at harmonics 0 to n/2.
    fn sums(&self, shifts: &[usize]) -> Vec<Complex> {
        let mut sums = vec![Complex::default(); self.positions / 2 + 1];
        for &shift in shifts {
            self.accumulate(&mut sums, shift, 1.0);
        }
        sums
    }

    fn accumulate(&self, sums: &mut [Complex], shift: usize, factor: f64) {
        let mut index = 0;
        for sum in sums {
            *sum = *sum + self.circle[index].scaled(factor);
            index = (index + shift) % self.positions;
        }
    }

    /// A set of `extra` shifts that reaches the wanted variance: by greedy
    /// growth, by exchange, and by looking at all sets where that is affordable.
    fn choose(
        &self,
        rounds: usize,
        extra: usize,
        wanted: f64,
        grown: &mut Grown,
        meter: &mut Meter<'_>,
    ) -> Result<Option<Vec<usize>>> {
        if extra == 0 {
            return Ok(self.reaches(rounds, &[], wanted, meter)?.then(Vec::new));
        }
        if grown.rounds != rounds || grown.shifts.is_empty() {
            grown.rounds = rounds;
            grown.shifts = vec![0];
        }
        let mut sums = self.sums(&grown.shifts);
        while grown.shifts.len() < extra {
            let size = grown.shifts.len() + 1;
            let best = self.best_addition(rounds, size, &sums, &grown.shifts, meter)?;
            let Some((shift, _)) = best else { break };
            grown.shifts.push(shift);
            self.accumulate(&mut sums, shift, 1.0);
        }
        let mut chosen = grown.shifts.clone();
        if self.reaches(rounds, &chosen, wanted, meter)? {
            return Ok(Some(chosen));
        }
        // Exchange one shift at a time while that helps.
        let mut improved = true;
        while improved && grown.exchange_steps < EXCHANGE_STEPS {
            let before_pass = meter.spent();
            improved = false;
            for place in 1..chosen.len() {
                let before = self.score(rounds, chosen.len(), &sums, None);
                let old = chosen[place];
                self.accumulate(&mut sums, old, -1.0);
                chosen[place] = 0;
                let best = self.best_addition(rounds, chosen.len(), &sums, &chosen, meter)?;
                chosen[place] = match best {
                    Some((shift, score)) if score < before * (1.0 - SAME) => {
                        improved = true;
                        shift
                    }
                    _ => old,
                };
                // Afresh, so that rounding does not build up.
                sums = self.sums(&chosen);
            }
            grown.exchange_steps += meter.spent().saturating_sub(before_pass);
            if self.reaches(rounds, &chosen, wanted, meter)? {
                return Ok(Some(chosen));
            }
        }
        self.search_all(rounds, extra, wanted, meter)
    }

    /// The k-th of a scattered row of shifts. Equal steps would favour their own
    /// harmonics; a scrambled counter (the finaliser of `SplitMix64`) has none.
    fn scattered(&self, k: usize) -> usize {
        let mut z = (k as u64 + 1).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        usize::try_from((z ^ (z >> 31)) % self.positions as u64).unwrap_or(0)
    }

    fn best_addition(
        &self,
        rounds: usize,
        m: usize,
        sums: &[Complex],
        chosen: &[usize],
        meter: &mut Meter<'_>,
    ) -> Result<Option<(usize, f64)>> {
        let mut used = vec![false; self.positions];
        for &shift in chosen {
            used[shift] = true;
        }
        let mut best: Option<(usize, f64)> = None;
        let affordable = ADDITION_STEPS / sums.len().max(1);
        let all = self.positions <= affordable;
        for k in 0..self.positions.min(affordable) {
            // Another part of the scattered row for each size.
            let shift = if all {
                k
            } else {
                self.scattered(m * affordable + k)
            };
            if used[shift] {
                continue;
            }
            meter.spend(sums.len() as u64)?;
            let score = self.score(rounds, m, sums, Some(shift));
            if best.is_none_or(|(_, least)| score < least * (1.0 - SAME)) {
                best = Some((shift, score));
            }
        }
        Ok(best)
    }

    /// Whether looking at all sets of `extra` shifts is affordable.
    fn can_search_all(&self, extra: usize, repeat: bool) -> bool {
        // One shift may stand at 0: turning all of them changes nothing.
        let free = extra.saturating_sub(1);
        let kinds = if repeat {
            self.positions + free - 1
        } else {
            self.positions - 1
        };
        let mut sets: u64 = 1;
        for k in 0..free {
            let left = kinds.saturating_sub(k) as u64;
            sets = sets.saturating_mul(left) / (k as u64 + 1);
        }
        sets.saturating_mul(self.positions as u64 / 2 + 1) <= EXHAUSTIVE_STEPS
    }

    /// The first set, in dictionary order, that reaches the wanted variance;
    /// `None` also when there are too many sets to look at. Sets that measure a
    /// shift twice are looked at as well where they might do better.
    fn search_all(
        &self,
        rounds: usize,
        extra: usize,
        wanted: f64,
        meter: &mut Meter<'_>,
    ) -> Result<Option<Vec<usize>>> {
        let repeat = rounds == 0 && self.can_repeat_help(rounds, extra, wanted);
        if extra < 2 || !self.can_search_all(extra, repeat) {
            return Ok(None);
        }
        let n = self.positions;
        let step = usize::from(!repeat);
        let mut set: Vec<usize> = (0..extra - 1).map(|k| k * step).collect();
        loop {
            // All but the last shift are fixed here; the last one varies.
            let sums = self.sums(&set);
            let last = set.last().copied().unwrap_or(0);
            for shift in last + step..n {
                meter.spend(sums.len() as u64)?;
                // The score stands within rounding of the variance, which decides.
                if self.score(rounds, extra, &sums, Some(shift)) <= wanted * (1.0 + 1.0e-6) {
                    let mut full = set.clone();
                    full.push(shift);
                    if self.variance(rounds, &full) <= wanted {
                        return Ok(Some(full));
                    }
                }
            }
            // Next combination of the fixed ones, the first staying at 0; room
            // must be left for those behind.
            let Some(place) = (1..set.len())
                .rev()
                .find(|&place| set[place] + 1 + (set.len() - place) * step < n)
            else {
                return Ok(None);
            };
            set[place] += 1;
            for later in place + 1..set.len() {
                set[later] = set[later - 1] + step;
            }
        }
    }

    /// Whether `choose`, having found none, has looked at every set of this
    /// size that the bound leaves open.
    fn looked_at_all(&self, rounds: usize, extra: usize, wanted: f64) -> bool {
        let repeat = self.can_repeat_help(rounds, extra, wanted);
        extra >= 2 && self.can_search_all(extra, repeat) && !(repeat && rounds > 0)
    }

    /// Whether the bound leaves room for a set in which a shift occurs once
    /// more than evenness asks for.
    fn can_repeat_help(&self, rounds: usize, extra: usize, wanted: f64) -> bool {
        let squares_of_even = even_squares(self.positions, rounds, extra);
        // Moving one reading from a shift used t times to one used s ≥ t times
        // raises Σ t² by 2·(s − t) + 2 ≥ 2.
        bound_for(
            self.positions,
            rounds * self.positions + extra,
            squares_of_even + 2.0,
        ) <= wanted
    }
}
