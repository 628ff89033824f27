//! Small numerical helpers of this room.

use std::f64::consts::{PI, TAU};

/// A count as a binary number.
#[allow(
    clippy::cast_precision_loss,
    reason = "counts of places and readings stay far below 2^53"
)]
pub(crate) const fn count(value: usize) -> f64 {
    value as f64
}

/// The same orientation above −π, up to π.
pub(crate) fn wrapped(angle_rad: f64) -> f64 {
    let turned = angle_rad - TAU * (angle_rad / TAU).round();
    if turned <= -PI {
        turned + TAU
    } else if turned > PI {
        turned - TAU
    } else {
        turned
    }
}

/// Arithmetic mean; 0 for an empty list.
pub(crate) fn mean(values: &[f64]) -> f64 {
    if values.is_empty() {
        return 0.0;
    }
    let rough = values.iter().sum::<f64>() / count(values.len());
    // A second pass takes back what the first one rounded.
    rough + values.iter().map(|value| value - rough).sum::<f64>() / count(values.len())
}

/// Median; 0 for an empty list.
pub(crate) fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let middle = sorted.len() / 2;
    match (sorted.len() % 2, sorted.get(middle)) {
        (_, None) => 0.0,
        (1, Some(value)) => *value,
        (_, Some(value)) => (value + sorted[middle - 1]) / 2.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wrapping_keeps_the_orientation() {
        for angle in [-10.0, -PI, -0.1, 0.0, 3.0, PI, 4.0, 100.0] {
            let near = wrapped(angle);
            assert!(near > -PI && near <= PI);
            assert!((near.sin() - angle.sin()).abs() < 1e-12, "{angle}");
            assert!((near.cos() - angle.cos()).abs() < 1e-12, "{angle}");
        }
    }

    #[test]
    fn medians_of_odd_even_and_empty_lists() {
        assert!((median(&[3.0, 1.0, 2.0]) - 2.0).abs() < 1e-15);
        assert!((median(&[4.0, 1.0, 2.0, 3.0]) - 2.5).abs() < 1e-15);
        assert!(median(&[]).abs() < 1e-15);
    }
}
