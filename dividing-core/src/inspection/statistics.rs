//! The distributions that residual tests and verdicts need.

use crate::accuracy::{log_gamma, normal_probability as normal_below};

/// The upper regularised incomplete gamma function Q(a, x), for a > 0, x ≥ 0:
/// series below a + 1, continued fraction above (Abramowitz and Stegun, 6.5.29
/// and 6.5.31).
fn upper_gamma(a: f64, x: f64) -> f64 {
    const MOST_TERMS: usize = 100_000;
    const TINY: f64 = 1.0e-300;
    if x <= 0.0 {
        return 1.0;
    }
    let front = (a * x.ln() - x - log_gamma(a)).exp();
    if x < a + 1.0 {
        let mut term = 1.0 / a;
        let mut sum = term;
        let mut n = a;
        for _ in 0..MOST_TERMS {
            n += 1.0;
            term *= x / n;
            sum += term;
            if term < sum * f64::EPSILON {
                break;
            }
        }
        return (1.0 - sum * front).clamp(0.0, 1.0);
    }
    let mut b = x + 1.0 - a;
    let mut c = 1.0 / TINY;
    let mut d = 1.0 / b;
    let mut fraction = d;
    let mut i = 0.0;
    for _ in 0..MOST_TERMS {
        i += 1.0;
        let numerator = -i * (i - a);
        b += 2.0;
        d = numerator * d + b;
        if d.abs() < TINY {
            d = TINY;
        }
        c = b + numerator / c;
        if c.abs() < TINY {
            c = TINY;
        }
        d = 1.0 / d;
        let step = d * c;
        fraction *= step;
        if (step - 1.0).abs() < f64::EPSILON {
            break;
        }
    }
    (front * fraction).clamp(0.0, 1.0)
}

/// Probability that a chi-square variable with so many degrees of freedom is
/// `chi_square` or more.
///
/// Returns 1 for a `chi_square` that is not above 0, and 0 for no degrees of
/// freedom otherwise. Never NaN for finite input.
///
/// ```
/// use dividing_core::inspection::chi_square_tail;
/// // SciPy 1.x: scipy.stats.chi2.sf(18.307, 10) = 0.0500005891…
/// assert!((chi_square_tail(18.307, 10) - 0.050_000_589).abs() < 1e-8);
/// ```
#[must_use]
pub fn chi_square_tail(chi_square: f64, degrees_of_freedom: usize) -> f64 {
    let sound = chi_square > 0.0;
    if !sound {
        return 1.0;
    }
    if degrees_of_freedom == 0 || chi_square.is_infinite() {
        return 0.0;
    }
    upper_gamma(
        super::numeric::count(degrees_of_freedom) / 2.0,
        chi_square / 2.0,
    )
}

/// Probability that a standard normal variable is `z` or less.
///
/// `z` may be infinite; NaN gives 0.
///
/// ```
/// use dividing_core::inspection::normal_probability;
/// assert!((normal_probability(2.0) - 0.977_249_868).abs() < 1e-9);
/// ```
#[must_use]
pub fn normal_probability(z: f64) -> f64 {
    if z.is_nan() {
        return 0.0;
    }
    normal_below(z)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gamma_of_whole_numbers_is_a_factorial() {
        let mut factorial = 1.0_f64;
        for n in 1..20_u8 {
            assert!((log_gamma(f64::from(n)) - factorial.ln()).abs() < 1e-12);
            factorial *= f64::from(n);
        }
        assert!((log_gamma(0.5) - std::f64::consts::PI.sqrt().ln()).abs() < 1e-14);
        assert!((log_gamma(0.25) - 3.625_609_908_221_908_f64.ln()).abs() < 1e-13);
    }

    #[test]
    fn chi_square_with_two_degrees_is_exponential() {
        for x in [0.1, 1.0, 3.0, 10.0, 50.0] {
            let relative = chi_square_tail(x, 2) / (-x / 2.0).exp() - 1.0;
            assert!(relative.abs() < 1e-12, "{x}");
        }
        assert!((chi_square_tail(-1.0, 4) - 1.0).abs() < 1e-15);
        assert!(chi_square_tail(f64::INFINITY, 4).abs() < 1e-15);
        assert!((chi_square_tail(f64::NAN, 4) - 1.0).abs() < 1e-15);
        assert!(chi_square_tail(f64::MAX, 4).abs() < 1e-15);
        assert!(normal_probability(-1e200).abs() < 1e-300);
        assert!((normal_probability(f64::INFINITY) - 1.0).abs() < 1e-15);
    }
}
