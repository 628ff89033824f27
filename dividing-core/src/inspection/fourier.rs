//! The discrete Fourier transform of any length.
//!
//! Mixed-radix decimation in time (Cooley and Tukey, *Math. Comp.* 19 (1965)
//! 297–301): n·(sum of the prime factors of n) steps, with one table of
//! twiddle factors. Rings of holes have smooth counts, so this is quick where
//! it matters, and plain where n is prime.

use std::f64::consts::TAU;
use std::ops::{Add, Mul};

use super::numeric::count;

/// A complex number.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Complex {
    pub(crate) re: f64,
    pub(crate) im: f64,
}

impl Complex {
    pub(crate) const fn new(re: f64, im: f64) -> Self {
        Self { re, im }
    }

    pub(crate) fn conjugate(self) -> Self {
        Self::new(self.re, -self.im)
    }

    pub(crate) fn scaled(self, factor: f64) -> Self {
        Self::new(self.re * factor, self.im * factor)
    }

    pub(crate) fn square(self) -> f64 {
        self.re * self.re + self.im * self.im
    }
}

impl Add for Complex {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.re + other.re, self.im + other.im)
    }
}

impl Mul for Complex {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self::new(
            self.re * other.re - self.im * other.im,
            self.re * other.im + self.im * other.re,
        )
    }
}

/// Everything that depends on the length alone.
pub(crate) struct Transform {
    /// exp(−2πi·j/n).
    twiddles: Vec<Complex>,
    factors: Vec<usize>,
}

impl Transform {
    pub(crate) fn new(length: usize) -> Self {
        let twiddles = (0..length)
            .map(|j| {
                let (sin, cos) = (TAU * count(j) / count(length)).sin_cos();
                Complex::new(cos, -sin)
            })
            .collect();
        Self {
            twiddles,
            factors: prime_factors(length),
        }
    }

    /// Elementary steps of one transform.
    pub(crate) fn steps(&self) -> u64 {
        let sum: usize = self.factors.iter().sum();
        (self.twiddles.len() as u64).saturating_mul(sum as u64)
    }

    /// sin²(π·j/n), without cancellation for small angles.
    pub(crate) fn half_sine_square(&self, j: usize) -> f64 {
        let n = self.twiddles.len();
        let j = j % n;
        let sin = (TAU / 2.0 * count(j.min(n - j)) / count(n)).sin();
        sin * sin
    }

    /// X(f) = Σ x(j)·exp(−2πi·f·j/n). The input must have the planned length.
    pub(crate) fn forward(&self, input: &[Complex]) -> Vec<Complex> {
        let mut output = vec![Complex::default(); input.len()];
        let widest = self.factors.last().copied().unwrap_or(1);
        let mut scratch = vec![Complex::default(); widest];
        self.part(input, 0, 1, &mut output, &self.factors, &mut scratch);
        output
    }

    /// The inverse of [`Transform::forward`].
    pub(crate) fn inverse(&self, input: &[Complex]) -> Vec<Complex> {
        let turned: Vec<Complex> = input.iter().map(|value| value.conjugate()).collect();
        let scale = 1.0 / count(input.len().max(1));
        let mut output = self.forward(&turned);
        for value in &mut output {
            *value = value.conjugate().scaled(scale);
        }
        output
    }

    /// The real sequence whose transform is `spectrum` (conjugate-symmetric).
    pub(crate) fn inverse_real(&self, spectrum: &[Complex]) -> Vec<f64> {
        self.inverse(spectrum)
            .iter()
            .map(|value| value.re)
            .collect()
    }

    fn part(
        &self,
        input: &[Complex],
        offset: usize,
        stride: usize,
        output: &mut [Complex],
        factors: &[usize],
        scratch: &mut [Complex],
    ) {
        let Some((&radix, rest)) = factors.split_first() else {
            if let (Some(to), Some(from)) = (output.first_mut(), input.get(offset)) {
                *to = *from;
            }
            return;
        };
        let block = output.len() / radix;
        for r in 0..radix {
            let target = &mut output[r * block..(r + 1) * block];
            self.part(
                input,
                offset + r * stride,
                stride * radix,
                target,
                rest,
                scratch,
            );
        }
        let n = self.twiddles.len();
        for k in 0..block {
            for r in 0..radix {
                scratch[r] = output[r * block + k];
            }
            for q in 0..radix {
                // Twiddle of the r-th term: exponent r·(k + q·block)·stride.
                let step = (k + q * block) * stride;
                let mut exponent = 0;
                let mut sum = Complex::default();
                for value in &scratch[..radix] {
                    sum = sum + *value * self.twiddles[exponent];
                    exponent += step;
                    if exponent >= n {
                        exponent -= n;
                    }
                }
                output[q * block + k] = sum;
            }
        }
    }
}

/// Prime factors in ascending order, with repetition.
fn prime_factors(mut value: usize) -> Vec<usize> {
    let mut factors = Vec::new();
    let mut divisor = 2;
    while value > 1 && divisor <= value / divisor {
        while value.is_multiple_of(divisor) {
            factors.push(divisor);
            value /= divisor;
        }
        divisor += 1;
    }
    if value > 1 {
        factors.push(value);
    }
    factors
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Straight from the definition.
    fn by_definition(input: &[Complex]) -> Vec<Complex> {
        let n = input.len();
        (0..n)
            .map(|f| {
                (0..n).fold(Complex::default(), |sum, j| {
                    let (sin, cos) = (TAU * count(f * j % n) / count(n)).sin_cos();
                    sum + input[j] * Complex::new(cos, -sin)
                })
            })
            .collect()
    }

    #[test]
    fn every_length_agrees_with_the_definition_and_returns() {
        for n in [1, 2, 3, 4, 5, 6, 7, 12, 30, 49, 60, 97, 360] {
            let input: Vec<Complex> = (0..n)
                .map(|j| Complex::new((count(j) * 1.7).sin(), (count(j * j) * 0.3).cos()))
                .collect();
            let transform = Transform::new(n);
            let ours = transform.forward(&input);
            for (found, wanted) in ours.iter().zip(by_definition(&input)) {
                assert!((found.re - wanted.re).abs() < 1e-11, "{n}");
                assert!((found.im - wanted.im).abs() < 1e-11, "{n}");
            }
            for (found, wanted) in transform.inverse(&ours).iter().zip(&input) {
                assert!((found.re - wanted.re).abs() < 1e-13, "{n}");
                assert!((found.im - wanted.im).abs() < 1e-13, "{n}");
            }
        }
    }
}
