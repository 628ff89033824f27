//! Rings with missing readings: least squares with the first device eliminated.
//!
//! Unknowns in the reduced system: the second device's positions 1 to n − 1,
//! then the offsets of set-ups 1 to m − 1. Position 0 of the second device and
//! set-up 0 stand still meanwhile; shifting each device's deviations to sum to
//! zero afterwards gives the same answer as any other choice.

use crate::error::{Error, ErrorKind, Result};
use crate::work::Meter;

use super::super::cholesky::{Pivoted, Square};
use super::super::numeric::{count, mean};
use super::{Setup, Solution, UnitCovariance, common_divisor, shift_to_add};

/// Largest n + m with missing readings: the work grows with its cube.
const LARGEST_SYSTEM: usize = 3_000;

/// Index among the reduced unknowns; `None` for the two that stand still.
fn partner_index(position: usize) -> Option<usize> {
    position.checked_sub(1)
}

fn offset_index(n: usize, setup: usize) -> Option<usize> {
    setup.checked_sub(1).map(|k| n - 1 + k)
}

/// One reading seen from its position of the first device.
struct Seen {
    setup: usize,
    partner: usize,
    reading: f64,
}

pub(super) fn solve(n: usize, setups: &[Setup], meter: &mut Meter<'_>) -> Result<Solution> {
    let m = setups.len();
    if n + m > LARGEST_SYSTEM {
        return Err(Error::out_of_range(
            format!("{n} positions and {m} set-ups with missing readings"),
            format!("at most {LARGEST_SYSTEM} together, or rings without gaps"),
        )
        .at("setups"));
    }
    let size = n + m - 2;
    // Multiply-adds in a row go about sixteen to a step of a search.
    let cube = (size as u64 + 1).saturating_pow(3) / 16;
    let seen = seen_from_first(n, setups)?;

    // Sᵢⱼ of the reduced normal equations and their right side.
    let mut reduced = Square::zero(size);
    let mut right = vec![0.0; size];
    for readings in &seen {
        let share = 1.0 / count(readings.len());
        let average = share * readings.iter().map(|one| one.reading).sum::<f64>();
        let terms: Vec<(usize, f64, f64)> = readings
            .iter()
            .flat_map(|one| {
                let reading = one.reading - average;
                [
                    partner_index(one.partner).map(|index| (index, -1.0, reading)),
                    offset_index(n, one.setup).map(|index| (index, 1.0, reading)),
                ]
            })
            .flatten()
            .collect();
        meter.spend((terms.len() as u64).saturating_pow(2) / 4)?;
        // Within one reading both unknowns meet directly …
        for one in readings {
            let both = [
                partner_index(one.partner).map(|index| (index, -1.0)),
                offset_index(n, one.setup).map(|index| (index, 1.0)),
            ];
            for (row, a) in both.into_iter().flatten() {
                for (column, b) in both.into_iter().flatten() {
                    reduced.add(row, column, a * b);
                }
            }
        }
        // … and all of one position meet through the eliminated deviation.
        for &(row, a, reading) in &terms {
            right[row] += a * reading;
            for &(column, b, _) in &terms {
                reduced.add(row, column, -share * a * b);
            }
        }
    }

    meter.spend(cube)?;
    let factor = Pivoted::new(reduced);
    if let Some(null) = factor.null_vector() {
        return Err(undetermined(n, setups, &seen, &null));
    }
    let unknown = factor.solve(&right);
    let at = |index: Option<usize>| index.map_or(0.0, |k| unknown[k]);
    let mut second: Vec<f64> = (0..n).map(|j| at(partner_index(j))).collect();
    let mut offsets: Vec<f64> = (0..m).map(|k| at(offset_index(n, k))).collect();
    let mut first: Vec<f64> = seen
        .iter()
        .map(|readings| {
            let sum: f64 = readings
                .iter()
                .map(|one| one.reading + second[one.partner] - offsets[one.setup])
                .sum();
            sum / count(readings.len())
        })
        .collect();
    let (first_mean, second_mean) = (mean(&first), mean(&second));
    first.iter_mut().for_each(|value| *value -= first_mean);
    second.iter_mut().for_each(|value| *value -= second_mean);
    offsets
        .iter_mut()
        .for_each(|value| *value += first_mean - second_mean);

    meter.spend(cube.saturating_mul(2))?;
    let unit_covariance = UnitCovariance::Dense(covariance(n, &seen, &factor.inverse(), meter)?);
    Ok(Solution {
        first,
        second,
        offsets,
        unit_covariance,
    })
}

/// All readings by position of the first device; refuses positions of either
/// device that were never read.
fn seen_from_first(n: usize, setups: &[Setup]) -> Result<Vec<Vec<Seen>>> {
    let mut seen: Vec<Vec<Seen>> = (0..n).map(|_| Vec::new()).collect();
    let mut partner_read = vec![false; n];
    for (
        setup,
        Setup {
            shift,
            readings_rad,
        },
    ) in setups.iter().enumerate()
    {
        let mut any = false;
        for (i, reading) in readings_rad.iter().enumerate() {
            let Some(reading) = *reading else { continue };
            let partner = (i + shift) % n;
            partner_read[partner] = true;
            any = true;
            seen[i].push(Seen {
                setup,
                partner,
                reading,
            });
        }
        if !any {
            return Err(Error::new(
                ErrorKind::Undetermined,
                "this set-up has no reading at all; leave it out",
            )
            .at(format!("setups[{setup}]")));
        }
    }
    let never = |device: &str, position: usize| {
        Error::new(
            ErrorKind::Undetermined,
            format!("position {position} of the {device} device was never read"),
        )
        .at("setups")
    };
    if let Some(i) = seen.iter().position(Vec::is_empty) {
        return Err(never("first", i));
    }
    if let Some(j) = partner_read.iter().position(|read| !read) {
        return Err(never("second", j));
    }
    Ok(seen)
}

/// Says what to measure: a missing reading of a set-up at hand if one lifts
/// the rank, else another shift.
fn undetermined(n: usize, setups: &[Setup], seen: &[Vec<Seen>], null: &[f64]) -> Error {
    let at = |index: Option<usize>| index.map_or(0.0, |k| null[k]);
    let first: Vec<f64> = seen
        .iter()
        .map(|readings| {
            let sum: f64 = readings
                .iter()
                .map(|one| at(partner_index(one.partner)) - at(offset_index(n, one.setup)))
                .sum();
            sum / count(readings.len())
        })
        .collect();
    let mut best: Option<(f64, usize, usize)> = None;
    for (k, setup) in setups.iter().enumerate() {
        for (i, reading) in setup.readings_rad.iter().enumerate() {
            if reading.is_some() {
                continue;
            }
            let j = (i + setup.shift) % n;
            let lift = (first[i] - at(partner_index(j)) + at(offset_index(n, k))).abs();
            if best.is_none_or(|(most, _, _)| lift > most + 1.0e-9) {
                best = Some((lift, k, i));
            }
        }
    }
    let advice = match best {
        Some((lift, k, i)) if lift > 1.0e-6 => format!(
            "add the missing reading of set-up {k} (shift {}) at position {i}",
            setups[k].shift
        ),
        _ => {
            let shifts: Vec<usize> = setups.iter().map(|setup| setup.shift).collect();
            let divisor = common_divisor(n, shifts.iter().copied());
            format!(
                "{n} positions and all differences of the shifts share the divisor {divisor}; \
                 add a set-up with shift {}",
                shift_to_add(n, &shifts)
            )
        }
    };
    Error::new(
        ErrorKind::Undetermined,
        format!("the readings cannot tell the two devices apart; {advice}"),
    )
    .at("setups")
}

/// Unit covariance of both devices with each device's mean taken out.
fn covariance(
    n: usize,
    seen: &[Vec<Seen>],
    inverse: &Square,
    meter: &mut Meter<'_>,
) -> Result<Square> {
    let size = inverse.size();
    // Row i: how first(i) follows the reduced unknowns, through their inverse.
    let mut through: Vec<Vec<f64>> = Vec::with_capacity(n);
    let weights: Vec<Vec<(usize, f64)>> = seen
        .iter()
        .map(|readings| {
            let share = 1.0 / count(readings.len());
            readings
                .iter()
                .flat_map(|one| {
                    [
                        partner_index(one.partner).map(|index| (index, share)),
                        offset_index(n, one.setup).map(|index| (index, -share)),
                    ]
                })
                .flatten()
                .collect()
        })
        .collect();
    for list in &weights {
        let mut row = vec![0.0; size];
        for &(index, weight) in list {
            for (sum, value) in row.iter_mut().zip(inverse.row(index)) {
                *sum += weight * value;
            }
        }
        meter.spend((list.len() * size) as u64 / 16)?;
        through.push(row);
    }
    let mut raw = Square::zero(2 * n);
    for (i, row) in through.iter().enumerate() {
        raw.add(i, i, 1.0 / count(seen[i].len()));
        let mut terms = 0;
        for (k, list) in weights.iter().enumerate() {
            let sum: f64 = list.iter().map(|&(at, weight)| weight * row[at]).sum();
            raw.add(i, k, sum);
            terms += list.len();
        }
        meter.spend(terms as u64 / 4)?;
        for j in 1..n {
            raw.add(i, n + j, row[j - 1]);
            raw.add(n + j, i, row[j - 1]);
        }
    }
    for j in 1..n {
        for k in 1..n {
            raw.add(n + j, n + k, inverse.at(j - 1, k - 1));
        }
    }
    Ok(centred(&raw, n))
}

/// P·C·Pᵀ, P taking out the mean of each block of n.
fn centred(raw: &Square, n: usize) -> Square {
    let mut result = Square::zero(2 * n);
    for block_row in 0..2 {
        for block_column in 0..2 {
            let entry = |i: usize, j: usize| raw.at(block_row * n + i, block_column * n + j);
            let rows: Vec<f64> = (0..n)
                .map(|i| (0..n).map(|j| entry(i, j)).sum::<f64>() / count(n))
                .collect();
            let columns: Vec<f64> = (0..n)
                .map(|j| (0..n).map(|i| entry(i, j)).sum::<f64>() / count(n))
                .collect();
            let all = mean(&rows);
            for (i, row) in rows.iter().enumerate() {
                for (j, column) in columns.iter().enumerate() {
                    result.add(
                        block_row * n + i,
                        block_column * n + j,
                        entry(i, j) - row - column + all,
                    );
                }
            }
        }
    }
    result
}
