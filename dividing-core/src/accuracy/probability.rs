//! Normal, Student and beta probabilities, as the budget, the verdicts and the
//! simulation need them.

use std::f64::consts::PI;

use crate::error::{Error, ErrorKind, Result};

/// Refuses a number that is not strictly between 0 and 1.
pub(crate) fn check_probability(probability: f64) -> Result<()> {
    if probability.is_nan() {
        return Err(Error::new(
            ErrorKind::NotFinite,
            "NaN is no probability; accepted: greater than 0 and less than 1",
        ));
    }
    if probability > 0.0 && probability < 1.0 {
        Ok(())
    } else {
        Err(Error::out_of_range(
            format!("probability {probability}"),
            "greater than 0 and less than 1",
        ))
    }
}

/// Refuses NaN and the infinities.
pub(crate) fn check_finite(value: f64, what: &str) -> Result<()> {
    if value.is_finite() {
        Ok(())
    } else {
        Err(Error::new(
            ErrorKind::NotFinite,
            format!("{what} is {value}; accepted: a finite number"),
        ))
    }
}

/// Refuses what is not finite and not negative.
pub(crate) fn check_not_negative(value: f64, what: &str) -> Result<()> {
    check_finite(value, what)?;
    if value >= 0.0 {
        Ok(())
    } else {
        Err(Error::out_of_range(format!("{what} {value}"), "0 or more"))
    }
}

/// Refuses what is not finite and greater than zero.
pub(crate) fn check_positive(value: f64, what: &str) -> Result<()> {
    check_finite(value, what)?;
    if value > 0.0 {
        Ok(())
    } else {
        Err(Error::out_of_range(
            format!("{what} {value}"),
            "greater than 0",
        ))
    }
}

pub(crate) fn normal_density(x: f64) -> f64 {
    (-0.5 * x * x).exp() / (2.0 * PI).sqrt()
}

/// Probability that a standard normal variable is at most `x`.
///
/// A series about zero within 3.5 (Abramowitz and Stegun, 26.2.11), a
/// continued fraction beyond (26.2.14).
pub(crate) fn normal_probability(x: f64) -> f64 {
    if x.is_nan() {
        return 0.5;
    }
    let size = x.abs();
    if size > 38.5 {
        return if x > 0.0 { 1.0 } else { 0.0 };
    }
    if size < 3.5 {
        let mut term = x;
        let mut sum = x;
        let mut odd = 1.0;
        while term.abs() > 1e-17 * sum.abs() {
            odd += 2.0;
            term *= x * x / odd;
            sum += term;
        }
        return 0.5 + normal_density(x) * sum;
    }
    let mut fraction = size;
    let mut level = 60.0;
    while level >= 1.0 {
        fraction = size + level / fraction;
        level -= 1.0;
    }
    let tail = normal_density(size) / fraction;
    if x > 0.0 { 1.0 - tail } else { tail }
}

/// The value that a standard normal variable stays below with the given
/// probability: algorithm AS 241 (Wichura, Applied Statistics 37, 1988),
/// relative error about 1e-16; coefficients from memory, compared with SciPy
/// in the tests.
pub(crate) fn normal_quantile(probability: f64) -> f64 {
    const A: [f64; 8] = [
        3.387_132_872_796_366_5,
        133.141_667_891_784_38,
        1_971.590_950_306_551_3,
        13_731.693_765_509_46,
        45_921.953_931_549_87,
        67_265.770_927_008_7,
        33_430.575_583_588_13,
        2_509.080_928_730_122_7,
    ];
    const B: [f64; 8] = [
        1.0,
        42.313_330_701_600_91,
        687.187_007_492_057_9,
        5_394.196_021_424_751,
        21_213.794_301_586_597,
        39_307.895_800_092_71,
        28_729.085_735_721_943,
        5_226.495_278_852_854,
    ];
    const C: [f64; 8] = [
        1.423_437_110_749_683_5,
        4.630_337_846_156_546,
        5.769_497_221_460_691,
        3.647_848_324_763_204_5,
        1.270_458_252_452_368_4,
        0.241_780_725_177_450_6,
        0.022_723_844_989_269_184,
        7.745_450_142_783_414e-4,
    ];
    const D: [f64; 8] = [
        1.0,
        2.053_191_626_637_759,
        1.676_384_830_183_803_8,
        0.689_767_334_985_1,
        0.148_103_976_427_480_08,
        0.015_198_666_563_616_457,
        5.475_938_084_995_345e-4,
        1.050_750_071_644_416_9e-9,
    ];
    const E: [f64; 8] = [
        6.657_904_643_501_103,
        5.463_784_911_164_114,
        1.784_826_539_917_291_3,
        0.296_560_571_828_504_87,
        0.026_532_189_526_576_124,
        0.001_242_660_947_388_078_4,
        2.711_555_568_743_487_6e-5,
        2.010_334_399_292_288_1e-7,
    ];
    const F: [f64; 8] = [
        1.0,
        0.599_832_206_555_888,
        0.136_929_880_922_735_8,
        0.014_875_361_290_850_615,
        7.868_691_311_456_133e-4,
        1.846_318_317_510_054_8e-5,
        1.421_511_758_316_446e-7,
        2.044_263_103_389_939_8e-15,
    ];
    let polynomial = |coefficients: &[f64; 8], x: f64| {
        coefficients
            .iter()
            .rev()
            .fold(0.0, |sum, coefficient| sum * x + coefficient)
    };
    let centred = probability - 0.5;
    if centred.abs() <= 0.425 {
        let r = 0.180_625 - centred * centred;
        return centred * polynomial(&A, r) / polynomial(&B, r);
    }
    let tail = if centred < 0.0 {
        probability
    } else {
        1.0 - probability
    };
    let r = (-tail.max(f64::MIN_POSITIVE).ln()).sqrt();
    let size = if r <= 5.0 {
        polynomial(&C, r - 1.6) / polynomial(&D, r - 1.6)
    } else {
        polynomial(&E, r - 5.0) / polynomial(&F, r - 5.0)
    };
    size.copysign(centred)
}

/// What Stirling's formula leaves out of the logarithm of the gamma function,
/// for x from 10 up (Abramowitz and Stegun, 6.1.41).
fn stirling_rest(x: f64) -> f64 {
    let z = 1.0 / (x * x);
    (1.0 / 12.0
        + z * (-1.0 / 360.0
            + z * (1.0 / 1260.0
                + z * (-1.0 / 1680.0 + z * (1.0 / 1188.0 - z * 691.0 / 360_360.0)))))
        / x
}

/// Natural logarithm of the gamma function for x > 0, by Stirling's formula
/// after a shift beyond 10.
pub(crate) fn log_gamma(x: f64) -> f64 {
    let mut shift = 0.0;
    let mut y = x;
    while y < 10.0 {
        shift += y.ln();
        y += 1.0;
    }
    (y - 0.5) * y.ln() - y + 0.5 * (2.0 * PI).ln() + stirling_rest(y) - shift
}

/// Logarithm of `x^a (1 − x)^b / B(a, b)`. Large parameters are combined
/// before their logarithms are taken, so that millions of trials keep their
/// digits.
fn log_beta_density(a: f64, b: f64, x: f64) -> f64 {
    if a < 10.0 || b < 10.0 {
        return log_gamma(a + b) - log_gamma(a) - log_gamma(b) + a * x.ln() + b * (-x).ln_1p();
    }
    let sum = a + b;
    // With d = x − a/(a+b): x(a+b)/a = 1 + d(a+b)/a, and likewise for b.
    let distance = x - a / sum;
    a * (distance * sum / a).ln_1p()
        + b * (-distance * sum / b).ln_1p()
        + 0.5 * (a / sum * b / (2.0 * PI)).ln()
        + stirling_rest(sum)
        - stirling_rest(a)
        - stirling_rest(b)
}

/// The regularised incomplete beta function, by the continued fraction of
/// Abramowitz and Stegun, 26.5.8, evaluated with Lentz's method.
pub(crate) fn incomplete_beta(a: f64, b: f64, x: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    if x > (a + 1.0) / (a + b + 2.0) {
        return 1.0 - incomplete_beta(b, a, 1.0 - x);
    }
    const TINY: f64 = 1e-300;
    let front = log_beta_density(a, b, x).exp() / a;
    let mut c = 1.0;
    let mut d = 1.0 - (a + b) * x / (a + 1.0);
    d = 1.0 / if d.abs() < TINY { TINY } else { d };
    let mut fraction = d;
    let mut m = 1.0;
    // The fraction needs about the square root of the larger parameter.
    while m < 100_000.0 {
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        let mut change = 1.0;
        for term in [even, odd] {
            d = 1.0 + term * d;
            d = 1.0 / if d.abs() < TINY { TINY } else { d };
            c = 1.0 + term / c;
            c = if c.abs() < TINY { TINY } else { c };
            change = c * d;
            fraction *= change;
        }
        if (change - 1.0).abs() < 1e-15 {
            break;
        }
        m += 1.0;
    }
    (front * fraction).clamp(0.0, 1.0)
}

/// The x at which the incomplete beta function reaches a probability, by
/// bisection to the last digits.
fn incomplete_beta_inverse(a: f64, b: f64, probability: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if incomplete_beta(a, b, middle) < probability {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// The factor `t` for which a Student variable lies within ±t with the given
/// probability (JCGM 100:2008, Table G.2); normal for infinite degrees of freedom.
///
/// ```
/// use dividing_core::accuracy::student_factor;
/// assert!((student_factor(0.95, Some(10.0))? - 2.23).abs() < 0.005);
/// assert!((student_factor(0.95, None)? - 1.96).abs() < 0.005);
/// # Ok::<(), dividing_core::Error>(())
/// ```
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for a probability not strictly between 0 and 1 or
/// degrees of freedom below 1.
pub fn student_factor(probability: f64, degrees_of_freedom: Option<f64>) -> Result<f64> {
    check_probability(probability)?;
    let normal = normal_quantile(f64::midpoint(1.0, probability));
    let Some(degrees) = degrees_of_freedom.filter(|degrees| degrees.is_nan() || *degrees < 1e8)
    else {
        return Ok(normal);
    };
    if degrees.is_nan() || degrees < 1.0 {
        return Err(Error::out_of_range(
            format!("{degrees} degrees of freedom"),
            "1 or more",
        ));
    }
    // P(|T| <= t) = 1 − I_x(ν/2, 1/2) with x = ν/(ν + t²) (A&S 26.7.1).
    let inside = |t: f64| {
        let square = t * t;
        incomplete_beta(0.5, degrees / 2.0, square / (degrees + square))
    };
    let (mut low, mut high) = (0.0, normal.max(1.0));
    while inside(high) < probability && high < 1e300 {
        low = high;
        high *= 2.0;
    }
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if inside(middle) < probability {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(f64::midpoint(low, high))
}

/// The exact (Clopper-Pearson) two-sided confidence interval of a probability
/// of which `successes` out of `trials` were seen.
///
/// ```
/// use dividing_core::accuracy::clopper_pearson;
/// let (low, high) = clopper_pearson(0, 10, 0.95)?;
/// assert_eq!(low, 0.0);
/// assert!((high - 0.3085).abs() < 1e-4);
/// # Ok::<(), dividing_core::Error>(())
/// ```
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for no trials, more successes than trials, or a
/// confidence not strictly between 0 and 1.
pub fn clopper_pearson(successes: u64, trials: u64, confidence: f64) -> Result<(f64, f64)> {
    check_probability(confidence)?;
    if trials == 0 || successes > trials {
        return Err(Error::out_of_range(
            format!("{successes} successes in {trials} trials"),
            "at least one trial and no more successes than trials",
        ));
    }
    #[allow(
        clippy::cast_precision_loss,
        reason = "counts beyond 2^53 cannot be simulated"
    )]
    let (hits, misses) = (successes as f64, (trials - successes) as f64);
    let tail = (1.0 - confidence) / 2.0;
    let low = if successes == 0 {
        0.0
    } else {
        incomplete_beta_inverse(hits, misses + 1.0, tail)
    };
    let high = if successes == trials {
        1.0
    } else {
        incomplete_beta_inverse(hits + 1.0, misses, 1.0 - tail)
    };
    Ok((low, high))
}

/// Probability that a normal variable of mean zero and the given standard
/// deviation lies between two limits; a variable without spread is at zero.
pub(crate) fn normal_between(lower: f64, upper: f64, standard_deviation: f64) -> f64 {
    if standard_deviation <= 0.0 {
        return if lower <= 0.0 && 0.0 <= upper {
            1.0
        } else {
            0.0
        };
    }
    let (low, high) = (lower / standard_deviation, upper / standard_deviation);
    // On one side of zero the smaller tails are subtracted, to keep digits.
    let inside = if low > 0.0 {
        normal_probability(-low) - normal_probability(-high)
    } else {
        normal_probability(high) - normal_probability(low)
    };
    inside.clamp(0.0, 1.0)
}

/// The error function, for the tests of the normal probability.
#[cfg(test)]
fn error_function(x: f64) -> f64 {
    2.0 * normal_probability(x * std::f64::consts::SQRT_2) - 1.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn error_function_of_the_tables() {
        // Abramowitz and Stegun, Table 7.1 (from memory).
        for (x, value) in [
            (0.5, 0.520_499_877_8),
            (1.0, 0.842_700_792_9),
            (2.0, 0.995_322_265_0),
            (3.0, 0.999_977_909_5),
        ] {
            assert!((error_function(x) - value).abs() < 1e-10, "{x}");
        }
    }

    #[test]
    fn quantile_undoes_probability() {
        for step in 1..400 {
            let p = f64::from(step) / 400.0;
            assert!((normal_probability(normal_quantile(p)) - p).abs() < 1e-15);
        }
        for exponent in 3..300 {
            let p = 10.0_f64.powi(-exponent);
            let back = normal_probability(normal_quantile(p));
            assert!((back / p - 1.0).abs() < 1e-10, "1e-{exponent}: {back}");
        }
    }

    #[test]
    fn beta_is_symmetric_and_right_in_closed_cases() {
        // I_x(1, b) = 1 − (1 − x)^b and I_x(a, 1) = x^a.
        for x in [0.01, 0.3, 0.77, 0.999] {
            assert!((incomplete_beta(1.0, 3.5, x) - (1.0 - (1.0_f64 - x).powf(3.5))).abs() < 1e-14);
            assert!((incomplete_beta(40.0, 1.0, x) - x.powi(40)).abs() < 1e-14);
        }
        assert!((incomplete_beta(5e6, 5e6, 0.5) - 0.5).abs() < 1e-8);
    }

    #[test]
    fn bad_numbers_are_refused() {
        for p in [f64::NAN, 0.0, 1.0, -0.1, 2.0] {
            assert!(student_factor(p, None).is_err());
        }
        assert!(student_factor(0.95, Some(0.5)).is_err());
        assert!(student_factor(0.95, Some(f64::NAN)).is_err());
        assert!(clopper_pearson(2, 1, 0.95).is_err());
        assert!(clopper_pearson(0, 0, 0.95).is_err());
    }
}
