//! A gear set prepared for many questions.

use super::exact::{ExactTrains, exact_trains};
use super::gear_set::GearSet;
use super::nearest::{NearestTrain, nearest_train};
use super::products::Products;
use super::ratio::GearRatio;
use super::train::{MAX_PAIRS, MeshRule};
use crate::error::{Error, Result};
use crate::work::Meter;

/// A gear set with the sorted products of its gears, built once and asked often.
///
/// Building lists every choice of one, two or three gears: for g different
/// gears g, g²/2 and g³/6 products, one step of work each. A question sweeps
/// those lists once from both ends, so it costs as many steps again.
///
/// ```
/// use dividing_core::gearing::{GearRatio, GearSet, MeshRule, TrainSearch};
/// use dividing_core::work::Meter;
/// let set = GearSet::new(&[24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100])?;
/// let mut meter = Meter::default();
/// let search = TrainSearch::new(&set, 2, MeshRule::RatiosAlone, &mut meter)?;
///
/// let exact = search.exact(GearRatio::new(15, 7)?, &mut meter);
/// assert_eq!(exact.trains[0].ratio(), GearRatio::new(15, 7)?);
///
/// let pi = GearRatio::from_f64(std::f64::consts::PI)?;
/// let nearest = search.nearest(pi, &mut meter)?;
/// assert!(nearest.error_ppm.abs() < 500.0);
/// assert!(nearest.proof.complete);
/// # Ok::<(), dividing_core::Error>(())
/// ```
#[derive(Clone, Debug)]
pub struct TrainSearch {
    set: GearSet,
    mesh: MeshRule,
    levels: Vec<Products>,
    complete: bool,
}

impl TrainSearch {
    /// Prepares trains of at most `max_pairs` pairs (1 to 3).
    ///
    /// When the budget does not hold the lists of the longer trains, these are
    /// left out and every answer is marked incomplete.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`](crate::ErrorKind::OutOfRange) when `max_pairs`
    /// is not from 1 to 3; the error of the meter when it does not even hold
    /// the single gears.
    pub fn new(
        set: &GearSet,
        max_pairs: usize,
        mesh: MeshRule,
        meter: &mut Meter<'_>,
    ) -> Result<Self> {
        if !(1..=MAX_PAIRS).contains(&max_pairs) {
            return Err(
                Error::out_of_range(format!("{max_pairs} pairs"), "1 to 3 pairs").at("max_pairs"),
            );
        }
        let mut levels = vec![Products::build(set, 1, meter)?];
        for members in 2..=max_pairs {
            let Ok(level) = Products::build(set, members, meter) else {
                break;
            };
            levels.push(level);
        }
        Ok(Self {
            set: set.clone(),
            mesh,
            complete: levels.len() == max_pairs,
            levels,
        })
    }

    /// The gear set.
    #[must_use]
    pub const fn set(&self) -> &GearSet {
        &self.set
    }

    /// The mesh rule that trains must keep.
    #[must_use]
    pub const fn mesh(&self) -> MeshRule {
        self.mesh
    }

    /// Whether the budget held the lists of all trains asked for.
    #[must_use]
    pub const fn complete(&self) -> bool {
        self.complete
    }

    /// The sorted products, one list for each number of pairs.
    pub(super) fn levels(&self) -> &[Products] {
        &self.levels
    }

    /// All trains of exactly this ratio; see [`ExactTrains`]. When the budget runs
    /// out the list is marked incomplete.
    #[must_use]
    pub fn exact(&self, ratio: GearRatio, meter: &mut Meter<'_>) -> ExactTrains {
        exact_trains(self, ratio, meter)
    }

    /// The train nearest to a ratio, with the proof; see [`NearestTrain`].
    ///
    /// # Errors
    /// [`ErrorKind::NotFound`](crate::ErrorKind::NotFound) when no train at all
    /// can be made of the set;
    /// [`ErrorKind::WorkLimit`](crate::ErrorKind::WorkLimit) when the budget ran
    /// out before the first train was found.
    pub fn nearest(&self, target: GearRatio, meter: &mut Meter<'_>) -> Result<NearestTrain> {
        nearest_train(self, target, meter)
    }
}

/// All trains of exactly a ratio, for a single question to a set; for several
/// keep a [`TrainSearch`].
///
/// # Errors
/// As [`TrainSearch::new`].
///
/// ```
/// use dividing_core::gearing::{GearRatio, GearSet, MeshRule, find_exact_trains};
/// use dividing_core::work::Meter;
/// let set = GearSet::new(&[24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100])?;
/// let ratio = GearRatio::new(24, 43)?;
/// let meter = &mut Meter::default();
/// let found = find_exact_trains(&set, ratio, 2, MeshRule::RatiosAlone, meter)?;
/// assert_eq!(found.trains[0].to_string(), "48/86");
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn find_exact_trains(
    set: &GearSet,
    ratio: GearRatio,
    max_pairs: usize,
    mesh: MeshRule,
    meter: &mut Meter<'_>,
) -> Result<ExactTrains> {
    Ok(TrainSearch::new(set, max_pairs, mesh, meter)?.exact(ratio, meter))
}

/// The train nearest to a ratio, for a single question to a set; for several keep
/// a [`TrainSearch`].
///
/// # Errors
/// As [`TrainSearch::new`] and [`TrainSearch::nearest`].
///
/// ```
/// use dividing_core::gearing::{GearRatio, GearSet, MeshRule, find_nearest_train};
/// use dividing_core::work::Meter;
/// let set = GearSet::new(&[20, 30, 40])?;
/// let target = GearRatio::from_f64(0.7)?;
/// let meter = &mut Meter::default();
/// let found = find_nearest_train(&set, target, 1, MeshRule::RatiosAlone, meter)?;
/// assert_eq!(found.train.to_string(), "20/30");
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn find_nearest_train(
    set: &GearSet,
    target: GearRatio,
    max_pairs: usize,
    mesh: MeshRule,
    meter: &mut Meter<'_>,
) -> Result<NearestTrain> {
    TrainSearch::new(set, max_pairs, mesh, meter)?.nearest(target, meter)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::error::ErrorKind;

    #[test]
    fn a_small_budget_leaves_out_the_long_trains() {
        let set = GearSet::new(&[20, 30, 40, 50]).unwrap();
        let build =
            |limit| TrainSearch::new(&set, 3, MeshRule::RatiosAlone, &mut Meter::new(limit));
        assert!(build(100).unwrap().complete());
        let cut = build(20).unwrap();
        assert!(!cut.complete());
        assert_eq!(cut.levels().len(), 2);
        let answer = cut
            .nearest(GearRatio::new(7, 5).unwrap(), &mut Meter::default())
            .unwrap();
        assert!(!answer.proof.complete);
        assert_eq!(build(1).unwrap_err().kind(), ErrorKind::WorkLimit);
        let bad = TrainSearch::new(&set, 4, MeshRule::RatiosAlone, &mut Meter::default());
        assert_eq!(bad.unwrap_err().field(), "max_pairs");
    }
}
