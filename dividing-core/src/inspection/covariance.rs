//! Covariance of the deviations of a ring, kept by its structure.

use super::numeric::count;

/// How the errors of measurement of the places hang together, before the mean
/// is taken out. Indices count the measured places.
#[derive(Clone, Debug, PartialEq)]
enum Structure {
    /// Each place on its own.
    Independent { variance: Vec<f64> },
    /// Each place on its own, and all through the fitted centre.
    ThroughCentre {
        variance: Vec<f64>,
        /// Turn of a place for a unit shift of the centre against it.
        lever: Vec<[f64; 2]>,
        /// Covariance of a place's own error with the centre's.
        shared: Vec<[f64; 2]>,
        centre: [[f64; 2]; 2],
    },
    /// A chain of equal links closed into a ring; `rank` numbers the links.
    ClosedChain { variance: f64, rank: Vec<usize> },
}

/// Covariance of deviations about their mean, in rad².
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct DeviationCovariance {
    structure: Structure,
    row_means: Vec<f64>,
    mean: f64,
}

impl DeviationCovariance {
    fn new(structure: Structure, size: usize) -> Self {
        let row_means: Vec<f64> = match &structure {
            Structure::Independent { variance } => {
                variance.iter().map(|v| v / count(size)).collect()
            }
            Structure::ThroughCentre {
                variance,
                lever,
                shared,
                centre,
            } => {
                let sum = |list: &[[f64; 2]]| {
                    list.iter()
                        .fold([0.0; 2], |s, v| [s[0] + v[0], s[1] + v[1]])
                };
                let (levers, shares) = (sum(lever), sum(shared));
                variance
                    .iter()
                    .zip(lever)
                    .zip(shared)
                    .map(|((v, p), q)| {
                        let total =
                            v + form(p, centre, &levers) + dot(q, &levers) + dot(p, &shares);
                        total / count(size)
                    })
                    .collect()
            }
            // Its rows sum to zero as they are.
            Structure::ClosedChain { .. } => vec![0.0; size],
        };
        Self {
            mean: row_means.iter().sum::<f64>() / count(size.max(1)),
            structure,
            row_means,
        }
    }

    pub(super) fn independent(variance: Vec<f64>) -> Self {
        let size = variance.len();
        Self::new(Structure::Independent { variance }, size)
    }

    pub(super) fn through_centre(
        variance: Vec<f64>,
        lever: Vec<[f64; 2]>,
        shared: Vec<[f64; 2]>,
        centre: [[f64; 2]; 2],
    ) -> Self {
        let size = variance.len();
        let structure = Structure::ThroughCentre {
            variance,
            lever,
            shared,
            centre,
        };
        Self::new(structure, size)
    }

    /// `rank[i]` is the number of links from place 0 to place i along the chain.
    pub(super) fn closed_chain(link_variance: f64, rank: Vec<usize>) -> Self {
        let size = rank.len();
        let structure = Structure::ClosedChain {
            variance: link_variance,
            rank,
        };
        Self::new(structure, size)
    }

    /// How many places there are.
    pub(super) const fn size(&self) -> usize {
        self.row_means.len()
    }

    /// Both indices below [`Self::size`].
    pub(crate) fn covariance_rad2(&self, i: usize, j: usize) -> f64 {
        let same = |values: &[f64]| if i == j { values[i] } else { 0.0 };
        let raw = match &self.structure {
            Structure::Independent { variance } => same(variance),
            Structure::ThroughCentre {
                variance,
                lever,
                shared,
                centre,
            } => {
                let (p, q) = (&lever[i], &lever[j]);
                same(variance) + form(p, centre, q) + dot(&shared[i], q) + dot(p, &shared[j])
            }
            Structure::ClosedChain { variance, rank } => {
                // The pseudo-inverse of the Laplacian of a cycle of n links.
                let n = count(rank.len());
                let apart = count(rank[i].abs_diff(rank[j]));
                variance * ((n * n - 1.0) / (12.0 * n) - apart * (n - apart) / (2.0 * n))
            }
        };
        raw - self.row_means[i] - self.row_means[j] + self.mean
    }

    /// Variances of the places before the mean is taken out, where each stands for
    /// itself: what only differences are formed of needs no more.
    pub(super) fn of_each_alone_rad2(&self) -> Option<&[f64]> {
        match &self.structure {
            Structure::Independent { variance } => Some(variance),
            Structure::ThroughCentre { .. } | Structure::ClosedChain { .. } => None,
        }
    }

    /// Whether it depends on the difference of places alone, whatever their number.
    pub(super) const fn is_a_closed_chain(&self) -> bool {
        matches!(self.structure, Structure::ClosedChain { .. })
    }

    /// Variance of `Σ wᵢ·deviationᵢ` for weights that sum to zero, so that the
    /// mean does not matter; as many weights as places.
    pub(super) fn of_contrast(&self, weights: &[f64]) -> f64 {
        let squares = |variance: &[f64]| -> f64 {
            weights.iter().zip(variance).map(|(w, v)| w * w * v).sum()
        };
        let sum = |list: &[[f64; 2]]| {
            weights
                .iter()
                .zip(list)
                .fold([0.0; 2], |s, (w, v)| [s[0] + w * v[0], s[1] + w * v[1]])
        };
        let variance = match &self.structure {
            Structure::Independent { variance } => squares(variance),
            Structure::ThroughCentre {
                variance,
                lever,
                shared,
                centre,
            } => {
                let (p, q) = (sum(lever), sum(shared));
                squares(variance) + form(&p, centre, &p) + 2.0 * dot(&p, &q)
            }
            Structure::ClosedChain { .. } => (0..weights.len())
                .map(|i| {
                    let row: f64 = (0..weights.len())
                        .map(|j| weights[j] * self.covariance_rad2(i, j))
                        .sum();
                    weights[i] * row
                })
                .sum(),
        };
        variance.max(0.0)
    }

    /// Variance of the difference of two places.
    pub(super) fn difference_rad2(&self, i: usize, j: usize) -> f64 {
        let both = self.covariance_rad2(i, i) + self.covariance_rad2(j, j);
        (both - 2.0 * self.covariance_rad2(i, j)).max(0.0)
    }
}

fn dot(a: &[f64; 2], b: &[f64; 2]) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

fn form(a: &[f64; 2], matrix: &[[f64; 2]; 2], b: &[f64; 2]) -> f64 {
    a[0] * dot(&matrix[0], b) + a[1] * dot(&matrix[1], b)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn some(n: usize, seed: f64) -> Vec<f64> {
        (0..n).map(|i| (count(i) * seed + 0.3).sin()).collect()
    }

    fn pairs(n: usize, seed: f64) -> Vec<[f64; 2]> {
        some(n, seed)
            .into_iter()
            .zip(some(n, seed * 1.7))
            .map(|(a, b)| [a, b])
            .collect()
    }

    #[test]
    fn contrasts_and_sums_agree_with_the_entries() {
        let n = 7;
        let variance: Vec<f64> = some(n, 1.1).iter().map(|v| 8.0 + v).collect();
        let centre = [[0.6, 0.1], [0.1, 0.4]];
        for all in [
            DeviationCovariance::independent(variance.clone()),
            DeviationCovariance::through_centre(variance, pairs(n, 0.7), pairs(n, 2.3), centre),
            DeviationCovariance::closed_chain(2.0, vec![0, 3, 6, 2, 5, 1, 4]),
        ] {
            let mut weights = some(n, 3.1);
            let middle = weights.iter().sum::<f64>() / count(n);
            weights.iter_mut().for_each(|w| *w -= middle);
            let mut direct = 0.0;
            for i in 0..n {
                let row: f64 = (0..n).map(|j| all.covariance_rad2(i, j)).sum();
                assert!(row.abs() < 1e-12, "deviations about the mean sum to zero");
                for j in 0..n {
                    direct += weights[i] * weights[j] * all.covariance_rad2(i, j);
                    let turned = all.covariance_rad2(j, i);
                    assert!((all.covariance_rad2(i, j) - turned).abs() < 1e-12);
                }
            }
            assert!((all.of_contrast(&weights) - direct).abs() < 1e-11 * direct.abs());
        }
    }
}
