//! Symmetric positive definite systems, with the rank revealed.

use super::numeric::count;

/// A square matrix, stored by rows.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Square {
    size: usize,
    entries: Vec<f64>,
}

impl Square {
    pub(crate) fn zero(size: usize) -> Self {
        Self {
            size,
            entries: vec![0.0; size.saturating_mul(size)],
        }
    }

    pub(crate) const fn size(&self) -> usize {
        self.size
    }

    pub(crate) fn at(&self, row: usize, column: usize) -> f64 {
        self.entries[row * self.size + column]
    }

    pub(crate) fn add(&mut self, row: usize, column: usize, value: f64) {
        self.entries[row * self.size + column] += value;
    }

    pub(crate) fn row(&self, row: usize) -> &[f64] {
        &self.entries[row * self.size..(row + 1) * self.size]
    }

    fn swap_symmetric(&mut self, one: usize, other: usize) {
        if one == other {
            return;
        }
        for column in 0..self.size {
            self.entries
                .swap(one * self.size + column, other * self.size + column);
        }
        for row in 0..self.size {
            self.entries
                .swap(row * self.size + one, row * self.size + other);
        }
    }
}

/// P·A·Pᵀ = L·Lᵀ with diagonal pivoting (Higham, *Accuracy and Stability of
/// Numerical Algorithms*, 2nd ed., section 10.3). It stops at the first pivot
/// that is nothing but rounding.
#[derive(Debug)]
pub(crate) struct Pivoted {
    /// L in the lower triangle of the first `rank` columns.
    lower: Square,
    /// `order[k]` is the row of A that stands in row k.
    order: Vec<usize>,
    rank: usize,
}

impl Pivoted {
    pub(crate) fn new(mut matrix: Square) -> Self {
        let n = matrix.size;
        let mut order: Vec<usize> = (0..n).collect();
        let largest = (0..n).map(|k| matrix.at(k, k)).fold(0.0, f64::max);
        // Rounding of a pivot grows with the size; a true pivot of the
        // problems solved here stands many orders above it.
        let smallest = largest * count(n.max(1)) * f64::EPSILON * 64.0;
        let mut rank = 0;
        while rank < n {
            let mut best = rank;
            for k in rank..n {
                if matrix.at(k, k) > matrix.at(best, best) {
                    best = k;
                }
            }
            let pivot = matrix.at(best, best);
            let sound = pivot > smallest;
            if !sound {
                break;
            }
            matrix.swap_symmetric(rank, best);
            order.swap(rank, best);
            let root = pivot.sqrt();
            let width = matrix.size;
            matrix.entries[rank * width + rank] = root;
            for row in rank + 1..n {
                matrix.entries[row * width + rank] /= root;
            }
            let column: Vec<f64> = (rank + 1..n).map(|row| matrix.at(row, rank)).collect();
            for (above, row) in (rank + 1..n).enumerate() {
                let factor = column[above];
                if factor == 0.0 {
                    continue;
                }
                let start = row * width + rank + 1;
                // The whole row is kept, so that the swaps stay symmetric.
                for (entry, value) in matrix.entries[start..(row + 1) * width]
                    .iter_mut()
                    .zip(&column)
                {
                    *entry -= factor * value;
                }
            }
            rank += 1;
        }
        Self {
            lower: matrix,
            order,
            rank,
        }
    }

    pub(crate) const fn has_full_rank(&self) -> bool {
        self.rank == self.lower.size
    }

    /// A·x = b, for full rank.
    pub(crate) fn solve(&self, right: &[f64]) -> Vec<f64> {
        let n = self.lower.size;
        let mut x: Vec<f64> = self.order.iter().map(|&row| right[row]).collect();
        for row in 0..n {
            let known: f64 = self.lower.row(row)[..row]
                .iter()
                .zip(&x)
                .map(|(l, value)| l * value)
                .sum();
            x[row] = (x[row] - known) / self.lower.at(row, row);
        }
        self.backward(&mut x, n);
        self.unpermuted(&x)
    }

    /// The inverse, for full rank.
    pub(crate) fn inverse(&self) -> Square {
        let n = self.lower.size;
        // Rows of L⁻¹; each grows from the rows above it.
        let mut rows: Vec<Vec<f64>> = Vec::with_capacity(n);
        for row in 0..n {
            let mut sums = vec![0.0; row + 1];
            for (k, above) in rows.iter().enumerate() {
                let factor = self.lower.at(row, k);
                for (sum, value) in sums.iter_mut().zip(above) {
                    *sum -= factor * value;
                }
            }
            sums[row] = 1.0;
            let pivot = self.lower.at(row, row);
            for value in &mut sums {
                *value /= pivot;
            }
            rows.push(sums);
        }
        // A⁻¹ = L⁻ᵀ·L⁻¹, one outer product for each row.
        let mut product = Square::zero(n);
        for values in &rows {
            for (i, left) in values.iter().enumerate() {
                let target = &mut product.entries[i * n..i * n + values.len()];
                for (entry, right) in target.iter_mut().zip(values) {
                    *entry += left * right;
                }
            }
        }
        let mut inverse = Square::zero(n);
        for i in 0..n {
            for j in 0..n {
                inverse.add(self.order[i], self.order[j], product.at(i, j));
            }
        }
        inverse
    }

    /// One vector that A sends to zero, when the rank is not full.
    pub(crate) fn null_vector(&self) -> Option<Vec<f64>> {
        if self.has_full_rank() {
            return None;
        }
        let mut x = vec![0.0; self.lower.size];
        for (k, value) in x.iter_mut().enumerate().take(self.rank) {
            *value = -self.lower.at(self.rank, k);
        }
        self.backward(&mut x, self.rank);
        x[self.rank] = 1.0;
        Some(self.unpermuted(&x))
    }

    /// Solves the first `rows` of Lᵀ·x = x in place.
    fn backward(&self, x: &mut [f64], rows: usize) {
        for row in (0..rows).rev() {
            x[row] /= self.lower.at(row, row);
            let value = x[row];
            for (k, entry) in self.lower.row(row)[..row].iter().enumerate() {
                x[k] -= entry * value;
            }
        }
    }

    fn unpermuted(&self, x: &[f64]) -> Vec<f64> {
        let mut result = vec![0.0; x.len()];
        for (value, &row) in x.iter().zip(&self.order) {
            result[row] = *value;
        }
        result
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// BᵀB of a matrix with known rank.
    fn gram(rows: &[Vec<f64>]) -> Square {
        let n = rows[0].len();
        let mut matrix = Square::zero(n);
        for row in rows {
            for i in 0..n {
                for j in 0..n {
                    matrix.add(i, j, row[i] * row[j]);
                }
            }
        }
        matrix
    }

    #[test]
    fn solves_and_inverts() {
        let rows: Vec<Vec<f64>> = (0..9)
            .map(|i| {
                (0..6)
                    .map(|j| (count(i * 7 + j * j + i * j) * 0.9).sin())
                    .collect()
            })
            .collect();
        let matrix = gram(&rows);
        let factor = Pivoted::new(matrix.clone());
        assert!(factor.has_full_rank());
        assert!(factor.null_vector().is_none());
        let x = factor.solve(&[1.0, 2.0, 3.0, 4.0, 5.0, 6.0]);
        for i in 0..6 {
            let sum: f64 = matrix.row(i).iter().zip(&x).map(|(a, b)| a * b).sum();
            assert!((sum - count(i + 1)).abs() < 1e-10);
        }
        let inverse = factor.inverse();
        for i in 0..6 {
            for j in 0..6 {
                let sum: f64 = (0..6).map(|k| matrix.at(i, k) * inverse.at(k, j)).sum();
                let wanted = f64::from(u8::from(i == j));
                assert!((sum - wanted).abs() < 1e-10, "{i} {j} {sum}");
            }
        }
    }

    #[test]
    fn names_a_null_vector() {
        // Differences of four values: a common shift is free.
        let rows: Vec<Vec<f64>> = (0..4)
            .map(|i| {
                let mut row = vec![0.0; 4];
                row[i] = 1.0;
                row[(i + 1) % 4] = -1.0;
                row
            })
            .collect();
        let factor = Pivoted::new(gram(&rows));
        let null = factor.null_vector().unwrap();
        for value in &null {
            assert!((value - null[0]).abs() < 1e-12);
        }
        assert!(null[0].abs() > 0.5);
    }
}
