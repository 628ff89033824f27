//! Closure calibration: two dividing devices compared in shifted positions.
//!
//! # Model and signs
//! Set-up k compares position i of the first device with position
//! `(i + shift(k)) mod n` of the second:
//!
//! ```text
//! reading(k, i) = first(i) − second(i + shift(k)) + offset(k) + noise
//! ```
//!
//! The deviation of a position is where it stands less where it should stand,
//! counted in the sense of growing position. The offset is whatever a set-up
//! adds to all its readings alike (the zero of the autocollimator, the clamping
//! of the mirror); each set-up has its own. Readings of an instrument of the
//! other sense change sign before they come here. A second device that is
//! turned back while the first is turned on is numbered against its own
//! graduation; its results then carry the numbers in use.
//!
//! Both sets of deviations sum to zero over the turn: the closure of the circle
//! is the only standard that is needed.
//!
//! # Method
//! Whole rings: the normal equations are block circulant. Each set-up's offset
//! is the mean of its readings; what is left falls apart, by a discrete Fourier
//! transform, into one system of two unknowns for each harmonic f, with
//! determinant `m² − |H(f)|²`, `H(f) = Σ exp(2πi·f·shift/n)`. It vanishes for
//! some f exactly when n and all differences of shifts have a common divisor.
//! With every shift measured once, H(f) = 0 and the solution is the plain mean:
//! the closed form of full closure.
//!
//! Readings missing: least squares with the first device's positions
//! eliminated, rank and covariance from a pivoted Cholesky factorisation.

mod partial;
mod planner;
mod rings;

pub use planner::{ShiftPlan, plan_shifts};

use serde::{Deserialize, Serialize};

use crate::error::{AtField, Error, ErrorKind, Result};
use crate::work::Meter;

use super::choice::KnownDeviation;
use super::cholesky::Square;
use super::fourier::Transform;
use super::measurement::{ClosureReadings, RAD_PER_ARCSEC, uncertainty_rad};
use super::numeric::count;
use super::statistics::chi_square_tail;

/// Most positions round a turn for closure: one each minute of arc.
pub const MAX_CLOSURE_POSITIONS: usize = 21_600;

/// Most readings of one calibration.
pub const MAX_CLOSURE_READINGS: usize = 10_000_000;

/// One set-up: the second device shifted, then read at every position.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    /// Position of the second device that is compared with position 0 of the
    /// first; from 0 to n − 1.
    pub shift: usize,
    /// Readings at positions 0 to n − 1 of the first device, in radians;
    /// `None` where there is none.
    pub readings_rad: Vec<Option<f64>>,
}

/// Which of the two devices.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Device {
    /// The device whose deviation enters the reading with plus.
    First,
    /// The device whose deviation enters the reading with minus.
    Second,
}

/// How well the readings agree with each other.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct ResidualTest {
    /// Readings less unknowns that they determine.
    pub degrees_of_freedom: usize,
    /// Sum of the squared residuals, in rad².
    pub sum_of_squares_rad2: f64,
    /// Standard deviation of a reading estimated from the residuals, in
    /// radians; `None` without degrees of freedom.
    pub standard_deviation_rad: Option<f64>,
    /// Sum of squares over the stated variance of a reading; `None` where no
    /// uncertainty was stated.
    pub chi_square: Option<f64>,
    /// Probability of a chi-square at least that large if the stated
    /// uncertainty is right; `None` as above or without degrees of freedom.
    pub probability: Option<f64>,
    /// Set-up, position and value in radians of the largest residual.
    pub largest: Option<(usize, usize, f64)>,
}

/// Covariance of the deviations for unit variance of a reading.
#[derive(Clone, Debug, PartialEq)]
enum UnitCovariance {
    /// Depends on the difference of positions alone.
    Circulant {
        /// Of positions of one device, by difference.
        own: Vec<f64>,
        /// Of first(i) with second(j), by i − j.
        cross: Vec<f64>,
    },
    /// First device's positions, then the second's.
    Dense(Square),
}

/// The result of a closure calibration.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct Closure {
    /// Deviations of the first device, in radians; they sum to zero.
    pub first_rad: Vec<f64>,
    /// Deviations of the second device, in radians; they sum to zero.
    pub second_rad: Vec<f64>,
    /// The constant of each set-up, in radians.
    pub offset_rad: Vec<f64>,
    /// How well the readings agree.
    pub residuals: ResidualTest,
    /// Variance of one reading, stated or estimated, in rad².
    reading_variance_rad2: Option<f64>,
    #[serde(skip)]
    unit_covariance: UnitCovariance,
}

impl Closure {
    /// Standard uncertainty of a reading that the uncertainties below rest on:
    /// the stated one, else the estimate from the residuals; `None` when there
    /// is neither.
    #[must_use]
    pub fn reading_uncertainty_rad(&self) -> Option<f64> {
        self.reading_variance_rad2.map(f64::sqrt)
    }

    /// Positions of each device.
    fn positions(&self) -> usize {
        match &self.unit_covariance {
            UnitCovariance::Circulant { own, .. } => own.len(),
            UnitCovariance::Dense(matrix) => matrix.size() / 2,
        }
    }

    /// Whether covariances depend on the difference of positions alone.
    pub(super) const fn is_circulant(&self) -> bool {
        matches!(self.unit_covariance, UnitCovariance::Circulant { .. })
    }

    fn unit(&self, one: (Device, usize), other: (Device, usize)) -> Option<f64> {
        let n = self.positions();
        if one.1 >= n || other.1 >= n {
            return None;
        }
        match &self.unit_covariance {
            UnitCovariance::Circulant { own, cross } => {
                let ((_, i), (_, j)) = (one, other);
                let difference = match (one.0, other.0) {
                    (Device::First, Device::Second) => return cross.get((i + n - j) % n).copied(),
                    (Device::Second, Device::First) => return cross.get((j + n - i) % n).copied(),
                    _ => (i + n - j) % n,
                };
                own.get(difference).copied()
            }
            UnitCovariance::Dense(matrix) => {
                let index = |(device, position): (Device, usize)| match device {
                    Device::First => position,
                    Device::Second => n + position,
                };
                Some(matrix.at(index(one), index(other)))
            }
        }
    }

    /// Covariance of two deviations, in rad². `None` for a position that does
    /// not exist, or when neither a stated uncertainty nor residuals tell the
    /// variance of a reading.
    #[must_use]
    pub fn covariance_rad2(&self, one: (Device, usize), other: (Device, usize)) -> Option<f64> {
        Some(self.unit(one, other)? * self.reading_variance_rad2?)
    }

    /// Standard uncertainty of the deviation of a position, in radians.
    ///
    /// ```
    /// # use dividing_core::inspection::{Device, Setup, calibrate};
    /// # use dividing_core::work::Meter;
    /// // Full closure of n positions: u²·(n − 1)/n² for every position.
    /// let setups: Vec<Setup> = (0..8)
    ///     .map(|shift| Setup { shift, readings_rad: vec![Some(0.0); 8] })
    ///     .collect();
    /// let closure = calibrate(8, &setups, Some(1.0e-6), &mut Meter::default())?;
    /// let found = closure.uncertainty_rad(Device::First, 3).unwrap();
    /// assert!((found - 1.0e-6 * 7.0_f64.sqrt() / 8.0).abs() < 1e-18);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    #[must_use]
    pub fn uncertainty_rad(&self, device: Device, position: usize) -> Option<f64> {
        let variance = self.covariance_rad2((device, position), (device, position))?;
        Some(variance.max(0.0).sqrt())
    }

    /// Standard uncertainty of the angle between two positions of one device,
    /// in radians.
    #[must_use]
    pub fn uncertainty_between_rad(&self, device: Device, one: usize, other: usize) -> Option<f64> {
        let (a, b) = ((device, one), (device, other));
        let variance = self.covariance_rad2(a, a)? + self.covariance_rad2(b, b)?
            - 2.0 * self.covariance_rad2(a, b)?;
        Some(variance.max(0.0).sqrt())
    }

    /// Deviation and standard uncertainty of every position of a device: the form
    /// in which a start is chosen and a correction table is made. Without known
    /// uncertainty it stands as 0.
    #[must_use]
    pub fn known(&self, device: Device) -> Vec<Option<KnownDeviation>> {
        let deviations = match device {
            Device::First => &self.first_rad,
            Device::Second => &self.second_rad,
        };
        deviations
            .iter()
            .enumerate()
            .map(|(position, &deviation_rad)| {
                Some(KnownDeviation {
                    deviation_rad,
                    standard_uncertainty_rad: self.uncertainty_rad(device, position).unwrap_or(0.0),
                })
            })
            .collect()
    }

    /// The whole covariance matrix in rad², by rows: the first device's
    /// positions, then the second's; 2n × 2n numbers.
    #[must_use]
    pub fn covariance_matrix_rad2(&self) -> Option<Vec<f64>> {
        let variance = self.reading_variance_rad2?;
        let n = self.positions();
        let UnitCovariance::Circulant { own, cross } = &self.unit_covariance else {
            let UnitCovariance::Dense(matrix) = &self.unit_covariance else {
                return None;
            };
            return Some(
                (0..matrix.size())
                    .flat_map(|row| matrix.row(row).iter().map(|value| value * variance))
                    .collect(),
            );
        };
        // Row i of a circulant is a window into the reversed sequence written
        // twice: entry j is g(i − j).
        let doubled = |sequence: &[f64], reversed: bool| -> Vec<f64> {
            let at = |j: usize| if reversed { (n - j % n) % n } else { j % n };
            (0..2 * n).map(|j| sequence[at(j)] * variance).collect()
        };
        let own_twice = doubled(own, true);
        let cross_back = doubled(cross, true);
        let cross_twice = doubled(cross, false);
        let mut matrix = Vec::with_capacity(4 * n * n);
        for i in 0..n {
            matrix.extend_from_slice(&own_twice[n - i..2 * n - i]);
            matrix.extend_from_slice(&cross_back[n - i..2 * n - i]);
        }
        for i in 0..n {
            // cov(second(i), first(j)) = cross(j − i).
            matrix.extend_from_slice(&cross_twice[n - i..2 * n - i]);
            matrix.extend_from_slice(&own_twice[n - i..2 * n - i]);
        }
        Some(matrix)
    }
}

/// Calibrates two dividing devices against each other.
///
/// `positions` is n, from 2 to [`MAX_CLOSURE_POSITIONS`]; every set-up holds n
/// readings in radians. `reading_uncertainty_rad` is the standard uncertainty
/// of a reading; without it the scatter of the residuals takes its place.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for counts and shifts beyond their limits,
/// [`ErrorKind::NotFinite`] for a reading that is no number,
/// [`ErrorKind::Undetermined`] when the readings cannot tell the devices apart
/// (the message names a shift or a reading to add), and the errors of the meter.
///
/// ```
/// use dividing_core::inspection::{Device, Setup, calibrate};
/// use dividing_core::work::Meter;
///
/// let first = [3.0e-6, -1.0e-6, -2.0e-6];
/// let second = [0.0, 4.0e-6, -4.0e-6];
/// let setups: Vec<Setup> = [(0, 5.0e-6), (1, -7.0e-6)]
///     .into_iter()
///     .map(|(shift, offset)| Setup {
///         shift,
///         readings_rad: (0..3)
///             .map(|i| Some(first[i] - second[(i + shift) % 3] + offset))
///             .collect(),
///     })
///     .collect();
/// let closure = calibrate(3, &setups, Some(1.0e-7), &mut Meter::default())?;
/// assert!((closure.first_rad[0] - 3.0e-6).abs() < 1e-15);
/// assert!((closure.second_rad[1] - 4.0e-6).abs() < 1e-15);
/// assert!(closure.uncertainty_rad(Device::First, 0).unwrap() > 0.0);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn calibrate(
    positions: usize,
    setups: &[Setup],
    reading_uncertainty_rad: Option<f64>,
    meter: &mut Meter<'_>,
) -> Result<Closure> {
    let missing = check(positions, setups, reading_uncertainty_rad)?;
    meter.spend((positions as u64).saturating_mul(setups.len() as u64))?;
    let solution = if missing == 0 {
        rings::solve(positions, setups, meter)?
    } else {
        partial::solve(positions, setups, meter)?
    };
    let residuals = residual_test(&solution, setups, missing, reading_uncertainty_rad);
    let reading_variance_rad2 = reading_uncertainty_rad
        .or(residuals.standard_deviation_rad)
        .map(|uncertainty| uncertainty * uncertainty);
    let Solution {
        first,
        second,
        offsets,
        unit_covariance,
    } = solution;
    if first
        .iter()
        .chain(&second)
        .chain(&offsets)
        .any(|v| !v.is_finite())
    {
        return Err(Error::new(
            ErrorKind::NotFinite,
            "the deviations are too large for binary numbers; check the unit of the readings",
        ));
    }
    Ok(Closure {
        first_rad: first,
        second_rad: second,
        offset_rad: offsets,
        residuals,
        reading_variance_rad2,
        unit_covariance,
    })
}

/// What both methods return.
struct Solution {
    first: Vec<f64>,
    second: Vec<f64>,
    offsets: Vec<f64>,
    unit_covariance: UnitCovariance,
}

/// Checks everything that can be wrong without solving; returns how many
/// readings are missing.
fn check(positions: usize, setups: &[Setup], uncertainty_rad: Option<f64>) -> Result<usize> {
    check_positions(positions)?;
    if setups.is_empty() {
        return Err(Error::new(
            ErrorKind::EmptyList,
            "there is no set-up; accepted: two or more with different shifts",
        )
        .at("setups"));
    }
    if setups.len() > MAX_CLOSURE_READINGS / positions {
        return Err(Error::out_of_range(
            format!("{} set-ups of {positions} positions", setups.len()),
            format!("at most {MAX_CLOSURE_READINGS} readings"),
        )
        .at("setups"));
    }
    if let Some(uncertainty) = uncertainty_rad {
        check_uncertainty(uncertainty).at("standard_uncertainty")?;
    }
    let mut missing = 0;
    for (k, setup) in setups.iter().enumerate() {
        missing += check_setup(positions, setup).map_err(|e| e.at(format!("setups[{k}]")))?;
    }
    Ok(missing)
}

fn check_positions(positions: usize) -> Result<()> {
    if (2..=MAX_CLOSURE_POSITIONS).contains(&positions) {
        Ok(())
    } else {
        Err(Error::out_of_range(positions, format!("2 to {MAX_CLOSURE_POSITIONS}")).at("positions"))
    }
}

fn check_uncertainty(uncertainty_rad: f64) -> Result<()> {
    if !uncertainty_rad.is_finite() {
        return Err(Error::new(
            ErrorKind::NotFinite,
            format!("{uncertainty_rad} is no uncertainty; accepted: a number above 0"),
        ));
    }
    // The square must neither vanish nor overflow.
    if (1.0e-100..=1.0e3).contains(&uncertainty_rad) {
        Ok(())
    } else {
        Err(Error::out_of_range(
            format!("{uncertainty_rad} rad"),
            "above 0, at most 1000 rad",
        ))
    }
}

fn check_setup(positions: usize, setup: &Setup) -> Result<usize> {
    if setup.shift >= positions {
        return Err(
            Error::out_of_range(setup.shift, format!("0 to {}", positions - 1)).at("shift"),
        );
    }
    if setup.readings_rad.len() != positions {
        return Err(Error::new(
            ErrorKind::Inconsistent,
            format!(
                "{} readings for {positions} positions; \
                 give one for each position, and say so where one is missing",
                setup.readings_rad.len()
            ),
        )
        .at("readings"));
    }
    let mut missing = 0;
    for (i, reading) in setup.readings_rad.iter().enumerate() {
        match reading {
            None => missing += 1,
            Some(value) if !value.is_finite() => {
                return Err(Error::new(
                    ErrorKind::NotFinite,
                    format!("{value} is not a finite reading"),
                )
                .at(format!("readings[{i}]")));
            }
            Some(value) if value.abs() > LARGEST_READING_RAD => {
                return Err(Error::out_of_range(
                    format!("{value} rad"),
                    "at most 1000 rad either way",
                )
                .at(format!("readings[{i}]")));
            }
            Some(_) => {}
        }
    }
    Ok(missing)
}

/// Readings are differences of near-equal angles; this only keeps sums finite.
const LARGEST_READING_RAD: f64 = 1.0e3;

fn residual_test(
    solution: &Solution,
    setups: &[Setup],
    missing: usize,
    uncertainty_rad: Option<f64>,
) -> ResidualTest {
    let n = solution.first.len();
    let mut sum = 0.0;
    let mut largest: Option<(usize, usize, f64)> = None;
    for (k, setup) in setups.iter().enumerate() {
        let offset = solution.offsets[k];
        let mut setup_sum = 0.0;
        let mut worst = (0, 0.0_f64);
        // Positions up to the place where the second device passes its zero,
        // then those after it.
        let (after, before) = solution.second.split_at(setup.shift);
        let partners = before.iter().chain(after);
        for (i, ((reading, first), second)) in setup
            .readings_rad
            .iter()
            .zip(&solution.first)
            .zip(partners)
            .enumerate()
        {
            let Some(reading) = reading else { continue };
            let residual = reading - offset - first + second;
            setup_sum += residual * residual;
            if residual.abs() > worst.1.abs() {
                worst = (i, residual);
            }
        }
        sum += setup_sum;
        if largest.is_none_or(|(_, _, value)| worst.1.abs() > value.abs()) {
            largest = Some((k, worst.0, worst.1));
        }
    }
    let readings = n * setups.len() - missing;
    let degrees_of_freedom = readings.saturating_sub(2 * n + setups.len() - 2);
    let free = degrees_of_freedom > 0;
    let chi_square = uncertainty_rad
        .map(|u| sum / (u * u))
        .filter(|c| c.is_finite());
    ResidualTest {
        degrees_of_freedom,
        sum_of_squares_rad2: sum,
        standard_deviation_rad: free.then(|| (sum / count(degrees_of_freedom)).sqrt()),
        chi_square,
        probability: chi_square
            .filter(|_| free)
            .map(|value| chi_square_tail(value, degrees_of_freedom)),
        largest,
    }
}

/// Greatest common divisor of n and all differences of the shifts.
fn common_divisor(positions: usize, shifts: impl IntoIterator<Item = usize>) -> usize {
    let mut shifts = shifts.into_iter();
    let Some(first) = shifts.next() else {
        return positions;
    };
    shifts.fold(positions, |all, shift| {
        num_integer::gcd(all, shift.abs_diff(first))
    })
}

/// The smallest shift that, added to the others, lets whole rings tell the
/// devices apart.
fn shift_to_add(positions: usize, shifts: &[usize]) -> usize {
    let divisor = common_divisor(positions, shifts.iter().copied());
    let first = shifts.first().copied().unwrap_or(0);
    (0..positions)
        .find(|shift| num_integer::gcd(divisor, shift.abs_diff(first)) == 1)
        .unwrap_or(0)
}

/// `m² − |H(f)|²` for every harmonic, H the transform of how often each shift
/// occurs. Where the difference of squares would cancel, the equal sum of
/// squares `Σ 4·sin²(π·f·(s−t)/n)` over pairs of shifts stands in for it.
fn determinants(transform: &Transform, occurrences: &[f64], squares: &[f64]) -> Vec<f64> {
    let n = occurrences.len();
    let m: f64 = occurrences.iter().sum();
    let mut pairs: Option<Vec<(usize, f64)>> = None;
    let mut result = vec![0.0; n];
    for f in 1..=n / 2 {
        let plain = m * m - squares[f];
        result[f] = if plain > 1.0e-3 * m * m {
            plain
        } else {
            let pairs = pairs.get_or_insert_with(|| ordered_pairs(occurrences));
            pairs
                .iter()
                .map(|(difference, times)| {
                    // Both are below 21,600.
                    2.0 * times * transform.half_sine_square(difference * f)
                })
                .sum()
        };
        result[n - f] = result[f];
    }
    result
}

/// How many ordered pairs of shifts have each difference that occurs.
fn ordered_pairs(occurrences: &[f64]) -> Vec<(usize, f64)> {
    let n = occurrences.len();
    let used: Vec<(usize, f64)> = occurrences
        .iter()
        .copied()
        .enumerate()
        .filter(|(_, times)| *times > 0.0)
        .collect();
    let mut pairs = vec![0.0; n];
    for (one, times) in &used {
        for (other, others) in &used {
            pairs[(one + n - other) % n] += times * others;
        }
    }
    pairs
        .into_iter()
        .enumerate()
        .filter(|(_, times)| *times > 0.0)
        .collect()
}

impl ClosureReadings {
    /// Calibrates both devices from the readings of a document.
    ///
    /// # Errors
    /// As [`calibrate`], with the fields named as in the document.
    ///
    /// ```
    /// use dividing_core::inspection::closure_from_csv;
    /// use dividing_core::work::Meter;
    /// let text = "setup,shift,position,reading_arcsec\n\
    ///             0,0,0,2\n0,0,1,0\n0,0,2,1\n1,1,0,0\n1,1,1,1\n1,1,2,2\n";
    /// let closure = closure_from_csv(3, text)?.calibrate(&mut Meter::default())?;
    /// assert!(closure.first_rad.iter().sum::<f64>().abs() < 1e-18);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn calibrate(&self, meter: &mut Meter<'_>) -> Result<Closure> {
        let uncertainty = uncertainty_rad(self.standard_uncertainty_arcsec)?;
        let setups: Vec<Setup> = self
            .setups
            .iter()
            .map(|setup| Setup {
                shift: setup.shift,
                readings_rad: setup
                    .readings_arcsec
                    .iter()
                    .map(|reading| reading.map(|value| value * RAD_PER_ARCSEC))
                    .collect(),
            })
            .collect();
        calibrate(self.positions, &setups, uncertainty, meter)
    }
}
