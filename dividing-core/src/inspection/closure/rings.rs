//! Whole rings of readings: one 2 × 2 system for each harmonic.

use crate::error::{Error, ErrorKind, Result};
use crate::work::Meter;

use super::super::fourier::{Complex, Transform};
use super::super::numeric::count;
use super::{Setup, Solution, UnitCovariance, common_divisor, determinants, shift_to_add};

pub(super) fn solve(n: usize, setups: &[Setup], meter: &mut Meter<'_>) -> Result<Solution> {
    let divisor = common_divisor(n, setups.iter().map(|setup| setup.shift));
    if divisor > 1 {
        let shifts: Vec<usize> = setups.iter().map(|setup| setup.shift).collect();
        return Err(Error::new(
            ErrorKind::Undetermined,
            format!(
                "{n} positions and all differences of the shifts share the divisor {divisor}, so \
                 an error that repeats every {divisor} positions cannot be told from one of the \
                 other device; add a set-up with shift {}",
                shift_to_add(n, &shifts)
            ),
        )
        .at("setups"));
    }
    let transform = Transform::new(n);
    meter.spend(transform.steps().saturating_mul(4))?;

    let m = count(setups.len());
    let mut offsets = Vec::with_capacity(setups.len());
    let mut occurrences = vec![0.0; n];
    // Right sides of the normal equations: the first device in the real part,
    // the second in the imaginary part.
    let mut right_first = vec![0.0; n];
    let mut right_second = vec![0.0; n];
    let mut centred = vec![0.0; n];
    for setup in setups {
        occurrences[setup.shift] += 1.0;
        for (value, reading) in centred.iter_mut().zip(&setup.readings_rad) {
            *value = reading.unwrap_or(0.0);
        }
        let mut offset = centred.iter().sum::<f64>() / count(n);
        let correction = centred.iter().map(|v| v - offset).sum::<f64>() / count(n);
        offset += correction;
        offsets.push(offset);
        for (sum, value) in right_first.iter_mut().zip(&mut centred) {
            *value -= offset;
            *sum += *value;
        }
        let (to_end, from_start) = centred.split_at(n - setup.shift);
        for (sum, value) in right_second[setup.shift..].iter_mut().zip(to_end) {
            *sum -= value;
        }
        for (sum, value) in right_second[..setup.shift].iter_mut().zip(from_start) {
            *sum -= value;
        }
    }

    let packed: Vec<Complex> = right_first
        .iter()
        .zip(&right_second)
        .map(|(&re, &im)| Complex::new(re, im))
        .collect();
    let spectrum = transform.forward(&packed);
    let shift_spectrum = transform.forward(
        &occurrences
            .iter()
            .map(|&times| Complex::new(times, 0.0))
            .collect::<Vec<_>>(),
    );
    let squares: Vec<f64> = shift_spectrum.iter().map(|value| value.square()).collect();
    let determinant = determinants(&transform, &occurrences, &squares);

    let mut solved = vec![Complex::default(); n];
    let mut own = vec![Complex::default(); n];
    let mut cross = vec![Complex::default(); n];
    for f in 1..n {
        let (here, there) = (spectrum[f], spectrum[n - f].conjugate());
        let first = (here + there).scaled(0.5);
        let second_times_i = (here + there.scaled(-1.0)).scaled(0.5);
        let second = Complex::new(second_times_i.im, -second_times_i.re);
        // H(f) = Σ exp(+2πi·f·shift/n), the conjugate of the forward transform.
        let h = shift_spectrum[f].conjugate();
        let scale = 1.0 / determinant[f];
        let a = (first.scaled(m) + h * second).scaled(scale);
        let b = (h.conjugate() * first + second.scaled(m)).scaled(scale);
        solved[f] = Complex::new(a.re - b.im, a.im + b.re);
        own[f] = Complex::new(m * scale, 0.0);
        cross[f] = h.scaled(scale);
    }
    let deviations = transform.inverse(&solved);
    Ok(Solution {
        first: deviations.iter().map(|value| value.re).collect(),
        second: deviations.iter().map(|value| value.im).collect(),
        offsets,
        unit_covariance: UnitCovariance::Circulant {
            own: transform.inverse_real(&own),
            cross: transform.inverse_real(&cross),
        },
    })
}
