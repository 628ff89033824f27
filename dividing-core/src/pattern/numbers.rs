//! Whole-number facts behind hole patterns: divisors, totients, gaps.

use num_integer::Integer;

/// Euler's totient φ(n): how many of 1…n are prime to n; φ(0) is 0.
///
/// Product over the primes p of n: φ(n) = n·Π(1 − 1/p) (G. H. Hardy and
/// E. M. Wright, *An Introduction to the Theory of Numbers*, theorem 62).
///
/// ```
/// use dividing_core::pattern::totient;
/// assert_eq!(totient(12), 4);
/// ```
#[must_use]
pub fn totient(n: u64) -> u64 {
    let (mut rest, mut result, mut p) = (n, n, 2_u64);
    while p.saturating_mul(p) <= rest {
        if rest.is_multiple_of(p) {
            while rest.is_multiple_of(p) {
                rest /= p;
            }
            result -= result / p;
        }
        p += 1;
    }
    if rest > 1 {
        result -= result / rest;
    }
    result
}

/// All divisors of `n` in ascending order; none for 0.
#[must_use]
pub(crate) fn divisors(n: u64) -> Vec<u64> {
    let (mut low, mut high, mut d) = (Vec::new(), Vec::new(), 1_u64);
    while d.saturating_mul(d) <= n {
        if n.is_multiple_of(d) {
            low.push(d);
            if d != n / d {
                high.push(n / d);
            }
        }
        d += 1;
    }
    low.extend(high.into_iter().rev());
    low
}

/// Holes of one ring that carries all `divisions` in phase: the sum of φ(d)
/// over every d that divides some division.
///
/// A hole at k/N in lowest terms p/d is shared by every division that d
/// divides, and there are φ(d) such p (Hardy and Wright, theorem 63: the sum
/// of φ(d) over the divisors d of N is N). No other phases give fewer: the
/// union of residue classes is smallest when they share a point (Rogers'
/// theorem, in H. Halberstam and K. F. Roth, *Sequences*, chapter V).
///
/// ```
/// use dividing_core::pattern::holes_in_phase;
/// assert_eq!(holes_in_phase(&[12]), 12);
/// assert_eq!(holes_in_phase(&[4, 6]), 8); // 0, 1/6, 1/4, 1/3, 1/2 ...
/// ```
#[must_use]
pub fn holes_in_phase(divisions: &[u64]) -> u64 {
    let mut all: Vec<u64> = divisions.iter().flat_map(|&n| divisors(n)).collect();
    all.sort_unstable();
    all.dedup();
    all.into_iter().map(totient).sum()
}

/// Smallest angle between two different holes of `<1/n>` and `<1/m>` in
/// phase, in turns: 1/lcm(n, m).
pub(crate) fn gap_between_divisions(n: u64, m: u64) -> f64 {
    let common = n.gcd(&m).max(1);
    // Divisions stay below 10^5, so the quotient is exact in a double.
    1.0 / (as_f64(n / common) * as_f64(m))
}

/// Smallest angle other than 0 between the point p/q and `<1/n>`, in turns.
pub(crate) fn gap_to_division(p: i128, q: i128, n: u64) -> f64 {
    let n = i128::from(n);
    let rest = (p * n).mod_floor(&q);
    if rest == 0 {
        return crate::angle::as_f64(1) / crate::angle::as_f64(n);
    }
    crate::angle::as_f64(rest.min(q - rest)) / (crate::angle::as_f64(q) * crate::angle::as_f64(n))
}

/// Angle between two points of a turn, in turns; 1 when they are the same.
pub(crate) fn gap_between_points(a: (i128, i128), b: (i128, i128)) -> f64 {
    let whole = a.1 * b.1;
    let rest = (a.0 * b.1 - b.0 * a.1).mod_floor(&whole);
    if rest == 0 {
        return 1.0;
    }
    crate::angle::as_f64(rest.min(whole - rest)) / crate::angle::as_f64(whole)
}

#[allow(
    clippy::cast_precision_loss,
    reason = "counts of holes and divisions, far below 2^53"
)]
pub(crate) const fn as_f64(n: u64) -> f64 {
    n as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    /// OEIS A000010, first terms (from memory; each follows by counting).
    #[test]
    fn totients_by_counting() {
        assert_eq!(
            (1..=12).map(totient).collect::<Vec<_>>(),
            [1, 1, 2, 2, 4, 2, 6, 4, 6, 4, 10, 4]
        );
        for n in 1..=300_u64 {
            let counted = (1..=n).filter(|k| k.gcd(&n) == 1).count() as u64;
            assert_eq!(totient(n), counted);
            // Hardy and Wright, theorem 63.
            assert_eq!(divisors(n).into_iter().map(totient).sum::<u64>(), n);
        }
        assert_eq!(totient(0), 0);
        assert!(divisors(0).is_empty());
    }

    /// Rogers' theorem (Halberstam and Roth, *Sequences*, chapter V): over all
    /// shifts, the union of residue classes is smallest in phase.
    #[test]
    fn no_shift_gives_fewer_holes_than_in_phase() {
        for (a, b, c) in [
            (4_u64, 6, 10),
            (3, 4, 6),
            (6, 8, 12),
            (2, 3, 5),
            (6, 10, 15),
        ] {
            let all = a.lcm(&b).lcm(&c);
            let union = |sb: u64, sc: u64| {
                (0..all)
                    .filter(|k| {
                        k % (all / a) == 0
                            || (k + sb).is_multiple_of(all / b)
                            || (k + sc).is_multiple_of(all / c)
                    })
                    .count() as u64
            };
            let in_phase = union(0, 0);
            assert_eq!(in_phase, holes_in_phase(&[a, b, c]));
            for sb in 0..all / b {
                for sc in 0..all / c {
                    assert!(union(sb, sc) >= in_phase);
                }
            }
        }
    }

    #[test]
    fn gaps_by_counting() {
        for n in 2..40_u64 {
            for m in 2..40_u64 {
                let all = n.lcm(&m);
                let expected = (1..all)
                    .filter(|k| {
                        // k/all is a difference of an n-th and an m-th.
                        k % (all / n).gcd(&(all / m)) == 0
                    })
                    .min()
                    .unwrap();
                let gap = gap_between_divisions(n, m);
                assert!((gap - as_f64(expected) / as_f64(all)).abs() < 1e-12);
            }
        }
        assert!((gap_to_division(1, 10, 4) - 0.1).abs() < 1e-15);
        assert!((gap_to_division(3, 10, 4) - 0.05).abs() < 1e-15);
        assert!((gap_to_division(1, 4, 4) - 0.25).abs() < 1e-15);
        assert!((gap_between_points((1, 10), (9, 10)) - 0.2).abs() < 1e-15);
    }
}
