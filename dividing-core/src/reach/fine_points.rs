//! Long lists of orientations that no few cosets describe: the tilts of a sine
//! bar, the stacks of angle gauge blocks, bars laid across rings.
//!
//! **Real angles beside exact ones.** An [`Angle`] stays exact always. A setting
//! whose true angle is a real number enters the search as the nearest multiple
//! of a millionth of a second of arc, far below anything that blocks can hold.
//! The attained angle and the residual of a placement are then given on that
//! grid, exactly what was searched, and its `residual_rad` beside them is the
//! unrounded residual. Whether a setting is exact is decided from what makes it
//! (a height of half the bar, for instance), never by a residual that rounds to
//! zero.

use std::sync::Arc;

use crate::angle::Angle;
use crate::error::{Error, Result};

/// Parts of a turn in which fine points are kept: millionths of a second of arc.
pub const FINE_PARTS: i64 = 1_296_000_000_000;

/// One of many orientations, with what makes it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct FinePoint {
    /// From 0 up to but not including [`FINE_PARTS`].
    place: i64,
    /// What makes it: a signed height or angle, or a place in a list.
    tag: i64,
}

impl FinePoint {
    /// The point nearest to a real angle in radians.
    pub(super) fn from_radians(angle_rad: f64, tag: i64) -> Result<Self> {
        let parts = angle_rad / std::f64::consts::TAU * crate::angle::as_f64(FINE_PARTS.into());
        if !parts.is_finite() || parts.abs() > 1e15 {
            return Err(Error::internal("an orientation far beyond a turn"));
        }
        #[allow(clippy::cast_possible_truncation, reason = "limits just checked")]
        let place = (parts.round() as i64).rem_euclid(FINE_PARTS);
        Ok(Self { place, tag })
    }

    /// The point at a whole number of seconds of arc.
    pub(super) const fn from_arcsec(arcsec: i64, tag: i64) -> Self {
        let place = (arcsec * 1_000_000).rem_euclid(FINE_PARTS);
        Self { place, tag }
    }

    pub(super) const fn place(self) -> i64 {
        self.place
    }

    pub(super) const fn tag(self) -> i64 {
        self.tag
    }

    pub(super) fn angle(self) -> Result<Angle> {
        Angle::new(self.place.into(), FINE_PARTS.into())
    }
}

/// Many orientations, sorted; cheap to clone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FinePoints {
    points: Arc<[FinePoint]>,
}

impl FinePoints {
    /// The points in order of their places; of several at one place the one
    /// listed with the smallest tag stays.
    pub(super) fn new(mut points: Vec<FinePoint>) -> Self {
        points.sort_unstable();
        points.dedup_by_key(|point| point.place);
        Self {
            points: points.into(),
        }
    }

    pub(super) fn points(&self) -> &[FinePoint] {
        &self.points
    }

    /// The points without one that turned out not to be there.
    pub(super) fn without(&self, gone: FinePoint) -> Self {
        let kept = self.points.iter().filter(|point| **point != gone);
        Self {
            points: kept.copied().collect(),
        }
    }

    /// The point at an orientation, if there is one.
    pub(super) fn at(&self, orientation: Angle) -> Option<FinePoint> {
        let once = orientation.within_turn();
        let parts = i128::from(FINE_PARTS);
        if parts % once.denominator() != 0 {
            return None;
        }
        let place = i64::try_from(once.numerator() * (parts / once.denominator())).ok()?;
        let index = self
            .points
            .binary_search_by_key(&place, |point| point.place)
            .ok()?;
        self.points.get(index).copied()
    }

    /// How many there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.points.len()
    }

    /// Their angles, rounded to a millionth of a second of arc where they are
    /// real, from 0 up, in degrees.
    pub fn degrees(&self) -> impl Iterator<Item = f64> + '_ {
        let per_degree = crate::angle::as_f64(i128::from(FINE_PARTS)) / 360.0;
        self.points
            .iter()
            .map(move |point| crate::angle::as_f64(point.place.into()) / per_degree)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_round_to_the_grid_and_are_found_again() {
        let thirty = FinePoint::from_radians(std::f64::consts::FRAC_PI_6, 7).unwrap();
        assert_eq!(thirty, FinePoint::from_arcsec(108_000, 7));
        let below = FinePoint::from_radians(-std::f64::consts::FRAC_PI_6, 8).unwrap();
        assert_eq!(below.angle().unwrap(), Angle::new(11, 12).unwrap());
        assert!(FinePoint::from_radians(f64::NAN, 0).is_err());
        let all = FinePoints::new(vec![below, thirty, FinePoint::from_arcsec(108_000, 3)]);
        assert_eq!(all.count(), 2);
        assert_eq!(
            all.at(Angle::new(1, 12).unwrap()).map(FinePoint::tag),
            Some(3)
        );
        assert_eq!(all.at(Angle::new(1, 7).unwrap()), None);
        assert_eq!(all.without(below).count(), 1);
    }
}
