//! Products of two 128-bit whole numbers, kept whole, for exact comparisons.

use std::cmp::Ordering;

/// A whole number below 2²⁵⁶.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Wide {
    high: u128,
    low: u128,
}

impl Wide {
    /// The product `a · b`, which always fits.
    pub(super) const fn product(a: u128, b: u128) -> Self {
        const HALF: u128 = u64::MAX as u128;
        let (a_high, a_low) = (a >> 64, a & HALF);
        let (b_high, b_low) = (b >> 64, b & HALF);
        // Schoolbook in base 2⁶⁴; no partial sum reaches 2¹²⁸.
        let low = a_low * b_low;
        let middle = a_high * b_low + (low >> 64);
        let middle_low = a_low * b_high + (middle & HALF);
        Self {
            high: a_high * b_high + (middle >> 64) + (middle_low >> 64),
            low: (middle_low << 64) | (low & HALF),
        }
    }

    /// The distance between two numbers and which of them is larger.
    pub(super) const fn distance(self, other: Self) -> Self {
        let (large, small) =
            if self.high > other.high || (self.high == other.high && self.low >= other.low) {
                (self, other)
            } else {
                (other, self)
            };
        let (low, borrow) = large.low.overflowing_sub(small.low);
        Self {
            high: large.high - small.high - borrow as u128,
            low,
        }
    }

    /// The number as a double, rounded.
    #[allow(
        clippy::cast_precision_loss,
        reason = "the named step from exact to binary numbers"
    )]
    pub(super) fn to_f64(self) -> f64 {
        const TWO_TO_128: f64 = 340_282_366_920_938_463_463_374_607_431_768_211_456.0;
        self.high as f64 * TWO_TO_128 + self.low as f64
    }
}

/// Compares the fractions `a/b` and `c/d` exactly; `b` and `d` are not zero.
pub(super) fn compare_fractions(a: u128, b: u128, c: u128, d: u128) -> Ordering {
    match (a.checked_mul(d), c.checked_mul(b)) {
        (Some(left), Some(right)) => left.cmp(&right),
        _ => Wide::product(a, d).cmp(&Wide::product(c, b)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_largest_product_is_whole() {
        // (2^128 − 1)² = 2^256 − 2^129 + 1
        let product = Wide::product(u128::MAX, u128::MAX);
        assert_eq!(
            product,
            Wide {
                high: u128::MAX - 1,
                low: 1
            }
        );
        assert!((product.to_f64() / 2.0_f64.powi(256) - 1.0).abs() < 1e-15);
    }

    proptest! {
        #[test]
        fn products_agree_with_narrow_ones(a in any::<u64>(), b in any::<u64>()) {
            let expected = u128::from(a) * u128::from(b);
            prop_assert_eq!(Wide::product(a.into(), b.into()), Wide { high: 0, low: expected });
        }

        #[test]
        fn products_distribute_over_a_sum(a in any::<u128>(), b in 0..u128::MAX) {
            // a·(b+1) − a·b = a
            let difference = Wide::product(a, b + 1).distance(Wide::product(a, b));
            prop_assert_eq!(difference, Wide { high: 0, low: a });
        }

        #[test]
        fn fractions_compare_by_cross_multiplication(
            a in 1..u128::MAX, b in 1..u128::MAX, c in 1..u128::MAX, d in 1..u128::MAX,
        ) {
            prop_assert_eq!(
                compare_fractions(a, b, c, d),
                compare_fractions(c, d, a, b).reverse()
            );
            prop_assert_eq!(compare_fractions(a, b, a, b), Ordering::Equal);
        }
    }
}
