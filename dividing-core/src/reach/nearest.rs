//! The start and the settings that make the largest residual least, exactly.
//!
//! A pattern `p_0, p_1, …` is to be laid on a set F: find a start s and settings
//! `f_i` in F with `f_i − (s + p_i)` small. With F invariant under a turn of
//! 1/g, everything is decided modulo 1/g. Every feature i and every element f of
//! F within 1/g give a point `f − p_i` on a circle of that length: the start
//! that would make the feature exact there. The best free start is the middle of
//! the shortest arc that holds a point of every feature, found by a sweep over
//! the sorted points in O(n·k·log(n·k)); its residual is half the arc. All of it
//! is done in whole numbers over a common denominator.

use num_integer::Integer;

use super::fine_points::{FINE_PARTS, FinePoint, FinePoints};
use super::orientation_set::OrientationSet;
use crate::angle::{Angle, MAX_TERM};
use crate::error::{Error, Result};
use crate::work::Meter;

/// Which starts may be chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum StartRule {
    /// Any.
    Free,
    /// Those that put the first feature exactly at an element of the set.
    OnASetting,
    /// Only this one.
    Given(Angle),
}

/// The set and the pattern in whole numbers: `parts` to a turn.
struct Grid {
    /// Parts of a turn; every angle here is a whole number of parts, and half
    /// the sum of two as well.
    parts: i128,
    /// Parts in one period of the set.
    period: i128,
    /// The set within one period, in growing order.
    elements: Vec<i128>,
    /// The fine point in each element, where there are fine points.
    points: Vec<FinePoint>,
    /// The pattern, within one turn.
    pattern: Vec<i128>,
    /// The element that counts as the smallest setting.
    zero: i128,
}

/// The start and the elements of the set chosen for a pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Nearest {
    /// The start s.
    pub(crate) start: Angle,
    /// The element of the set for each feature, within one turn.
    pub(crate) elements: Vec<Angle>,
    /// The fine point in each of them, where there are fine points.
    pub(super) points: Vec<FinePoint>,
}

/// Features times elements up to which all points are listed and swept.
const MOST_SWEPT: usize = 1 << 18;

/// Steps of work for a feature looked up among the elements, or sorted in.
const STEPS_PER_LOOK_UP: u64 = 4;

/// Steps of work for one element of a set with fine points.
const STEPS_PER_FINE_ELEMENT: u64 = 16;

/// Finds the best start and the nearest element of `set` for every feature.
///
/// `zero` is the orientation of the device's first setting; ties go to the
/// element first met when turning on from it.
///
/// # Errors
/// Overflow when the angles have no common denominator within bounds; the work
/// limit; cancellation.
#[cfg(test)]
fn nearest(
    set: &OrientationSet,
    zero: Angle,
    pattern: &[Angle],
    rule: StartRule,
    meter: &mut Meter<'_>,
) -> Result<Nearest> {
    nearest_with(set, None, zero, pattern, rule, meter)
}

/// The same for a set whose orientations each have every fine point added.
pub(crate) fn nearest_with(
    set: &OrientationSet,
    fine: Option<&FinePoints>,
    zero: Angle,
    pattern: &[Angle],
    rule: StartRule,
    meter: &mut Meter<'_>,
) -> Result<Nearest> {
    let grid = Grid::new(set, fine, zero, pattern, rule, meter)?;
    let start = match rule {
        StartRule::Free => grid.best_free_start(meter)?,
        StartRule::OnASetting => grid.best_start_on_a_setting(meter)?,
        StartRule::Given(start) => grid.whole(start)?,
    };
    let mut found = Nearest {
        start: grid.angle(start)?,
        elements: Vec::with_capacity(pattern.len()),
        points: Vec::new(),
    };
    for feature in &grid.pattern {
        let element = grid.nearest_element(start + feature);
        found.elements.push(grid.angle(element)?);
        found.points.extend(grid.point_of(element));
    }
    Ok(found)
}

impl Grid {
    fn new(
        set: &OrientationSet,
        fine: Option<&FinePoints>,
        zero: Angle,
        pattern: &[Angle],
        rule: StartRule,
        meter: &mut Meter<'_>,
    ) -> Result<Self> {
        let fundamental = set.fundamental(meter)?;
        if fundamental.is_empty() || pattern.is_empty() {
            return Err(Error::internal(
                "a nearest setting of nothing was asked for",
            ));
        }
        let given = match rule {
            StartRule::Given(start) => start,
            StartRule::Free | StartRule::OnASetting => Angle::ZERO,
        };
        let common = set.common_order();
        let finest = match fine {
            Some(_) => Angle::new(1, FINE_PARTS.into())?,
            None => Angle::ZERO,
        };
        let mut parts = common;
        for angle in fundamental
            .iter()
            .chain(pattern)
            .chain([&zero, &given, &finest])
        {
            meter.spend(1)?;
            let denominator = angle.denominator();
            if parts % denominator != 0 {
                parts = (parts / parts.gcd(&denominator))
                    .checked_mul(denominator)
                    .filter(|parts| *parts <= MAX_TERM / 4)
                    .ok_or_else(|| {
                        Error::overflow("a common denominator of all angles of the job")
                    })?;
            }
        }
        // Twice as many parts, so that the middle of an arc is whole.
        parts *= 2;
        let mut grid = Self {
            parts,
            period: parts / common,
            elements: Vec::new(),
            points: Vec::new(),
            pattern: Vec::new(),
            zero: 0,
        };
        grid.zero = grid.whole(zero)?;
        grid.elements = fundamental
            .iter()
            .map(|it| grid.whole(*it))
            .collect::<Result<_>>()?;
        grid.pattern = pattern
            .iter()
            .map(|it| grid.whole(*it))
            .collect::<Result<_>>()?;
        if let Some(fine) = fine {
            grid.add_fine(fine, meter)?;
        }
        Ok(grid)
    }

    /// Adds every fine point to every element.
    fn add_fine(&mut self, fine: &FinePoints, meter: &mut Meter<'_>) -> Result<()> {
        let total = self.elements.len().saturating_mul(fine.count());
        let total = u64::try_from(total).unwrap_or(u64::MAX);
        meter.spend(total.saturating_mul(STEPS_PER_FINE_ELEMENT))?;
        let per_point = self.parts / i128::from(FINE_PARTS);
        let mut sums: Vec<(i128, FinePoint)> = Vec::new();
        for element in &self.elements {
            sums.extend(fine.points().iter().map(|point| {
                let place = element + i128::from(point.place()) * per_point;
                (Integer::mod_floor(&place, &self.period), *point)
            }));
        }
        if sums.is_empty() {
            return Err(Error::internal("a device of fine points without any"));
        }
        sums.sort_unstable_by_key(|(place, point)| (*place, point.tag().unsigned_abs(), *point));
        sums.dedup_by_key(|(place, _)| *place);
        (self.elements, self.points) = sums.into_iter().unzip();
        Ok(())
    }

    /// The fine point in an element of the whole set.
    fn point_of(&self, element: i128) -> Option<FinePoint> {
        let inside = Integer::mod_floor(&element, &self.period);
        let index = self.elements.binary_search(&inside).ok()?;
        self.points.get(index).copied()
    }

    /// An angle within one turn as a whole number of parts.
    fn whole(&self, angle: Angle) -> Result<i128> {
        let once = angle.within_turn();
        if self.parts % once.denominator() != 0 {
            return Err(Error::internal(
                "an angle that is no multiple of the common part",
            ));
        }
        Ok(once.numerator() * (self.parts / once.denominator()))
    }

    fn angle(&self, whole: i128) -> Result<Angle> {
        Angle::new(Integer::mod_floor(&whole, &self.parts), self.parts)
    }

    /// How far an element lies on from the zero setting, within one turn.
    fn rank(&self, element: i128) -> i128 {
        Integer::mod_floor(&(element - self.zero), &self.parts)
    }

    /// The elements of the whole set next to a target: the first at it or above,
    /// the last below it.
    fn neighbours(&self, target: i128) -> (i128, i128) {
        let inside = Integer::mod_floor(&target, &self.period);
        let base = target - inside;
        let count = self.elements.len();
        let next = self.elements.partition_point(|element| *element < inside);
        // `new` made sure that there is at least one element.
        let above = if next < count {
            base + self.elements[next]
        } else {
            base + self.period + self.elements[0]
        };
        let below = if next > 0 {
            base + self.elements[next - 1]
        } else {
            base - self.period + self.elements[count - 1]
        };
        (above, below)
    }

    /// The element of the whole set nearest to a target; ties to the smaller rank.
    fn nearest_element(&self, target: i128) -> i128 {
        let (above, below) = self.neighbours(target);
        match (above - target).cmp(&(target - below)) {
            std::cmp::Ordering::Less => above,
            std::cmp::Ordering::Greater => below,
            std::cmp::Ordering::Equal if self.rank(above) < self.rank(below) => above,
            std::cmp::Ordering::Equal => below,
        }
    }

    /// The distinct features modulo the period, in whole parts.
    fn distinct_features(&self) -> Vec<i128> {
        let mut distinct: Vec<i128> = self
            .pattern
            .iter()
            .map(|feature| Integer::mod_floor(feature, &self.period))
            .collect();
        distinct.sort_unstable();
        distinct.dedup();
        distinct
    }

    /// The same start with the first feature at the smallest setting that
    /// differs by whole periods: that setting, how far the feature lies on from
    /// it, and the start. The first two do not change when the whole pattern is
    /// turned, since ties are settled in the first period from zero.
    fn with_first_feature_smallest(&self, start: i128) -> (i128, i128, i128) {
        let from_zero = start + self.pattern[0] - self.zero;
        let target = self.zero + Integer::mod_floor(&from_zero, &self.period);
        let element = self.nearest_element(target);
        let smallest = Integer::mod_floor(&(element - self.zero), &self.period);
        let beyond = target - element;
        let start = self.zero + smallest + beyond - self.pattern[0];
        (smallest, beyond, Integer::mod_floor(&start, &self.parts))
    }

    /// The candidate start with the smallest first setting.
    fn preferred(&self, starts: impl IntoIterator<Item = i128>) -> Result<i128> {
        starts
            .into_iter()
            .map(|start| self.with_first_feature_smallest(start))
            .min()
            .map(|(_, _, start)| start)
            .ok_or_else(|| Error::internal("a search for a start found none"))
    }

    fn best_free_start(&self, meter: &mut Meter<'_>) -> Result<i128> {
        let features = self.distinct_features();
        let total = features.len().saturating_mul(self.elements.len());
        if total > MOST_SWEPT {
            return self.best_free_start_by_elements(&features, meter);
        }
        meter.spend(
            u64::try_from(total)
                .unwrap_or(u64::MAX)
                .saturating_mul(STEPS_PER_LOOK_UP),
        )?;
        let mut points = Vec::with_capacity(total);
        for (colour, feature) in features.iter().enumerate() {
            for element in &self.elements {
                points.push((
                    Integer::mod_floor(&(element - feature), &self.period),
                    colour,
                ));
            }
        }
        points.sort_unstable();
        let arcs = shortest_arcs(&points, features.len(), self.period);
        self.preferred(arcs.into_iter().map(|(from, length)| from + length / 2))
    }

    /// The best free start, the points of the features looked up as needed.
    fn best_free_start_by_elements(
        &self,
        features: &[i128],
        meter: &mut Meter<'_>,
    ) -> Result<i128> {
        let mut shortest = self.period;
        let mut best: Option<(i128, i128, i128)> = None;
        let mut sides = Vec::with_capacity(features.len());
        let Some((pivot, others)) = features.split_first() else {
            return Err(Error::internal("a search for a start of no feature"));
        };
        for element in &self.elements {
            let exact = element - pivot;
            sides.clear();
            sides.push((0, 0));
            let mut fits = true;
            for feature in others {
                let target = exact + feature;
                let (above, below) = self.neighbours(target);
                let side = if above == target {
                    (0, 0)
                } else {
                    (above - target, target - below)
                };
                fits = side.0.min(side.1) <= shortest;
                if !fits {
                    break;
                }
                sides.push(side);
            }
            // Each was looked up among the elements.
            let looked_up = u64::try_from(sides.len()).unwrap_or(u64::MAX);
            meter.spend(looked_up.saturating_mul(STEPS_PER_LOOK_UP))?;
            if !fits {
                continue;
            }
            meter.spend(looked_up.saturating_mul(STEPS_PER_LOOK_UP))?;
            // The arc reaches y up and x down from the exact start: features
            // whose point above lies beyond y use the one below.
            sides.sort_unstable();
            let mut x = 0;
            for index in (0..sides.len()).rev() {
                let (y, below) = sides[index];
                if x + y <= shortest {
                    let found = self.with_first_feature_smallest(exact + (y - x) / 2);
                    if x + y < shortest || best.is_none_or(|best| found < best) {
                        best = Some(found);
                    }
                    shortest = x + y;
                }
                x = x.max(below);
            }
        }
        best.map(|(_, _, start)| start)
            .ok_or_else(|| Error::internal("a search for a start found none"))
    }

    fn best_start_on_a_setting(&self, meter: &mut Meter<'_>) -> Result<i128> {
        let features = self.distinct_features();
        let first = self.pattern[0];
        let mut best: Option<(i128, Vec<i128>)> = None;
        for element in &self.elements {
            let looked_up = u64::try_from(features.len()).unwrap_or(u64::MAX);
            meter.spend(looked_up.saturating_mul(STEPS_PER_LOOK_UP))?;
            let start = element - first;
            let allowed = best.as_ref().map_or(self.period, |(least, _)| *least);
            let mut largest = 0;
            for feature in &features {
                let target = start + feature;
                largest = largest.max((self.nearest_element(target) - target).abs());
                if largest > allowed {
                    break;
                }
            }
            match &mut best {
                Some((least, starts)) if *least == largest => starts.push(start),
                Some((least, _)) if *least < largest => {}
                _ => best = Some((largest, vec![start])),
            }
        }
        self.preferred(best.map(|(_, starts)| starts).unwrap_or_default())
    }
}

/// All shortest arcs (start, length) of a circle that hold a point of every
/// colour. `points` are sorted and each colour has one at least.
fn shortest_arcs(points: &[(i128, usize)], colours: usize, period: i128) -> Vec<(i128, i128)> {
    let count = points.len();
    let at = |index: usize| {
        let (place, colour) = points[index % count];
        let turns = if index >= count { period } else { 0 };
        (place + turns, colour)
    };
    let mut tally = vec![0_u32; colours];
    let mut missing = colours;
    let mut best = period;
    let mut arcs = Vec::new();
    let mut end = 0;
    for first in 0..count {
        while missing > 0 && end < first + count {
            let colour = at(end).1;
            if tally[colour] == 0 {
                missing -= 1;
            }
            tally[colour] += 1;
            end += 1;
        }
        if missing > 0 {
            break;
        }
        let length = at(end - 1).0 - at(first).0;
        if length < best {
            best = length;
            arcs.clear();
        }
        if length == best {
            arcs.push((at(first).0, length));
        }
        let colour = at(first).1;
        tally[colour] -= 1;
        if tally[colour] == 0 {
            missing += 1;
        }
    }
    arcs.dedup();
    arcs
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::reach::Coset;

    fn angle(n: i128, d: i128) -> Angle {
        Angle::new(n, d).unwrap()
    }

    fn equal(count: i128) -> Vec<Angle> {
        (0..count).map(|k| angle(k, count)).collect()
    }

    /// Largest residual of an answer.
    fn largest(pattern: &[Angle], answer: &Nearest) -> Angle {
        pattern
            .iter()
            .zip(&answer.elements)
            .map(|(feature, element)| {
                element
                    .checked_sub(answer.start.checked_add(*feature).unwrap())
                    .unwrap()
                    .within_half_turn()
                    .abs()
            })
            .max()
            .unwrap()
    }

    fn solve(set: &OrientationSet, pattern: &[Angle], rule: StartRule) -> Nearest {
        nearest(set, Angle::ZERO, pattern, rule, &mut Meter::default()).unwrap()
    }

    /// Fine points at whole parts of 240 to a turn.
    fn fine(places: &[i64]) -> FinePoints {
        FinePoints::new(
            places
                .iter()
                .map(|place| FinePoint::from_arcsec(place * 5400, *place))
                .collect(),
        )
    }

    /// Everything held, in parts of 480 to a turn, orientation by orientation.
    fn listed(set: &OrientationSet, places: &[i64]) -> Vec<i64> {
        let base = (0..240).filter(|part| set.contains(angle((*part).into(), 240)).unwrap());
        let sums = base.flat_map(|part| places.iter().map(move |place| (part + place) % 240 * 2));
        sums.collect()
    }

    /// The least largest residual of some starts, all in parts of 480 to a turn.
    fn by_trying(held: &[i64], pattern: &[i128], starts: impl Iterator<Item = i64>) -> Angle {
        let residual = |target: i64| {
            held.iter()
                .map(|it| (it - target).rem_euclid(480))
                .map(|off| off.min(480 - off))
                .min()
                .unwrap()
        };
        let of_start = |start: i64| {
            pattern
                .iter()
                .map(|p| residual(start + i64::try_from(*p).unwrap() * 2))
                .max()
                .unwrap()
        };
        angle(starts.map(of_start).min().unwrap().into(), 480)
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn fine_points_agree_with_trying_every_start(
            places in prop::collection::btree_set(0..240_i64, 1..7),
            pattern in prop::collection::btree_set(0..240_i128, 1..5),
            order in prop::sample::select(vec![1_i128, 2, 3, 4, 6]),
        ) {
            let set = OrientationSet::equally_spaced(order).unwrap();
            let places = Vec::from_iter(places);
            let (fine, held) = (fine(&places), listed(&set, &places));
            let parts = Vec::from_iter(pattern);
            let pattern: Vec<Angle> = parts.iter().map(|p| angle(*p, 240)).collect();
            let solve = |rule| {
                nearest_with(&set, Some(&fine), Angle::ZERO, &pattern, rule, &mut Meter::default())
                    .unwrap()
            };
            // The middle of an arc between points lies on half parts.
            let free = solve(StartRule::Free);
            prop_assert_eq!(largest(&pattern, &free), by_trying(&held, &parts, 0..480));
            let given = solve(StartRule::Given(angle(7, 480)));
            prop_assert_eq!(largest(&pattern, &given), by_trying(&held, &parts, 7..8));
            let on = solve(StartRule::OnASetting);
            let first = i64::try_from(parts[0]).unwrap() * 2;
            let settings = held.iter().map(|it| it - first);
            prop_assert_eq!(largest(&pattern, &on), by_trying(&held, &parts, settings));
            prop_assert_eq!(on.elements[0].checked_sub(on.start.checked_add(pattern[0]).unwrap())
                .unwrap().within_turn(), Angle::ZERO);
            for (element, point) in free.elements.iter().zip(&free.points) {
                let base = element.checked_sub(point.angle().unwrap()).unwrap();
                prop_assert!(set.contains(base).unwrap());
            }
        }

        #[test]
        fn both_searches_for_a_free_start_agree(
            places in prop::collection::btree_set(0..240_i64, 1..12),
            pattern in prop::collection::btree_set(0..240_i128, 1..8),
        ) {
            let fine = fine(&Vec::from_iter(places));
            let pattern: Vec<Angle> = pattern.iter().map(|p| angle(*p, 240)).collect();
            let set = OrientationSet::equally_spaced(1).unwrap();
            let meter = &mut Meter::default();
            let grid =
                Grid::new(&set, Some(&fine), Angle::ZERO, &pattern, StartRule::Free, meter).unwrap();
            let swept = grid.best_free_start(meter).unwrap();
            let features = grid.distinct_features();
            let looked_up = grid.best_free_start_by_elements(&features, meter).unwrap();
            prop_assert_eq!(swept, looked_up);
        }
    }

    #[test]
    fn equal_divisions_on_equal_settings_have_a_closed_form() {
        // Free start: (1 − g/N)/(2M); on a setting: floor(N/g/2)/(N/g)/M.
        for settings in 1..=24_i128 {
            let set = OrientationSet::equally_spaced(settings).unwrap();
            for count in 2..=24_i128 {
                let common = settings.gcd(&count);
                let pattern = equal(count);
                let free = solve(&set, &pattern, StartRule::Free);
                assert_eq!(
                    largest(&pattern, &free),
                    angle(count - common, 2 * count * settings)
                );
                let on = solve(&set, &pattern, StartRule::OnASetting);
                let steps = count / common;
                assert_eq!(largest(&pattern, &on), angle(steps / 2, steps * settings));
                assert_eq!(on.elements[0], Angle::ZERO);
            }
        }
    }

    #[test]
    fn a_given_start_is_kept() {
        let set = OrientationSet::equally_spaced(360).unwrap();
        let start = angle(1, 720);
        let answer = solve(&set, &equal(4), StartRule::Given(start));
        assert_eq!(answer.start, start);
        assert_eq!(largest(&equal(4), &answer), angle(1, 720));
        // Both neighbours are as near; the smaller setting wins.
        assert_eq!(answer.elements[0], Angle::ZERO);
    }

    #[test]
    fn turning_the_pattern_keeps_the_settings() {
        // Several starts are as good; which one is taken must not hang on where
        // the drawing has its zero.
        let holes = [2, 3, 6, 7].map(|hole| Coset::new(angle(hole, 8), 1).unwrap());
        let set = OrientationSet::from_cosets(holes).unwrap();
        let plain = solve(&set, &equal(5), StartRule::Free);
        for shift in -20..20 {
            let turned: Vec<Angle> = equal(5)
                .iter()
                .map(|it| it.checked_add(angle(shift, 31)).unwrap())
                .collect();
            let turned = solve(&set, &turned, StartRule::Free);
            assert_eq!(turned.elements, plain.elements, "{shift}/31 turn");
        }
        // Thirteen on three chords, level and upright: the first feature lies in
        // the middle between two of them.
        let chords = [(0, 3), (1, 4)].map(|(n, d)| Coset::new(angle(n, d), 3).unwrap());
        let set = OrientationSet::from_cosets(chords).unwrap();
        let plain = solve(&set, &equal(13), StartRule::Free);
        for shift in -300..300 {
            let turned: Vec<Angle> = equal(13)
                .iter()
                .map(|it| it.checked_add(angle(shift, 997)).unwrap())
                .collect();
            let turned = solve(&set, &turned, StartRule::Free);
            assert_eq!(turned.elements, plain.elements, "{shift}/997 turn");
        }
    }

    #[test]
    fn gaps_are_respected() {
        // Twelve holes without hole 3: four divisions start at hole 1.
        let holes = (0..12).filter(|hole| *hole != 3);
        let set = OrientationSet::from_cosets(holes.map(|h| Coset::new(angle(h, 12), 1).unwrap()))
            .unwrap();
        let answer = solve(&set, &equal(4), StartRule::Free);
        assert_eq!(largest(&equal(4), &answer), Angle::ZERO);
        assert_eq!(answer.elements[0], angle(1, 12));
    }
}
