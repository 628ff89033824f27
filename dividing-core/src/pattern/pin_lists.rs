//! Pins for single angles and lists: which few pins have chords at all of them.
//!
//! The chord of pins at α and β points at (α + β)/2, modulo half a turn since
//! the bar may lie either way up, modulo a quarter turn with a square. Angles
//! aᵢ from a free start need pairs of pins with α + β = s + 2aᵢ, modulo a turn
//! or half a turn. Three ways to place pins are compared: a fan (one pin shared
//! by all pairs), a triangle with single pins hung on its corners (as many pins
//! as directions), and, where directions are few, every choice on the grid.
//!
//! The grid decides for all places: let every direction be a multiple of 1/M
//! modulo a turn. Take any placing of pins and one pair for each direction. A
//! set of pins linked by pairs that holds an odd cycle has its places at
//! multiples of 1/2M, as twice each place is a sum and difference of directions.
//! One without may move half of its pins one way and the others the other way
//! until one pin, and so all, stand on the grid; fewer than all such moves let
//! two pins of a pair meet, as long as the grid has more places than that.

use num_integer::Integer;

use super::allocation::problem::Item;
use super::numbers::as_f64;
use crate::angle::Angle;
use crate::equipment::MAX_HOLES;
use crate::error::{Error, ErrorKind, Result};
use crate::work::Meter;

/// Steps of the search over the grid for one wish.
const MOST_STEPS: u64 = 200_000;

/// Triples of directions tried for the triangle.
const MOST_TRIANGLES: usize = 600;

/// Most directions for which the grid is searched.
const MOST_SEARCHED: usize = 12;

/// What a list of angles asks of pins on one ring.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Directions {
    /// Places of the grid on one turn.
    grid: u64,
    /// Sums of places that count as one: a turn, or half a turn with a square.
    period: u64,
    /// Different sums wanted, ascending, the first 0.
    sums: Vec<u64>,
    /// The sum of each feature on a whole turn: that of angle 0, then the list's.
    of_features: Vec<u64>,
}

/// Pins chosen for a list.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct ChosenPins {
    /// The pins as single holes, the first at the zero hole.
    pub(crate) item: Item,
    /// No fewer pins on one ring have all the directions.
    pub(crate) least_pins: u64,
}

impl Directions {
    /// Reads a list of angles, each from the same start.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] when the angles have no common grid of at most
    /// [`MAX_HOLES`] places.
    pub(crate) fn new(angles: &[Angle], square: bool) -> Result<Self> {
        let mut common = 1_u64;
        for angle in angles {
            let doubled = angle.checked_mul(2)?;
            let times = u64::try_from(doubled.denominator()).unwrap_or(u64::MAX);
            common = (common / common.gcd(&times)).saturating_mul(times);
            if common > u64::from(MAX_HOLES) / 4 {
                return Err(Error::new(
                    ErrorKind::OutOfRange,
                    format!(
                        "the angles need pins on a grid of more than {MAX_HOLES} places; \
                         round them to a coarser common step (whole steps of 0.01° or of 30\" \
                         do), or list fewer together"
                    ),
                ));
            }
        }
        // Even sums, also after half a turn is taken off.
        let grid = common * if square { 4 } else { 2 };
        let directions = Self::on_grid(angles, grid, square)?;
        if 4 * directions.sums.len() as u64 >= grid {
            return Self::on_grid(angles, 2 * grid, square);
        }
        Ok(directions)
    }

    fn on_grid(angles: &[Angle], grid: u64, square: bool) -> Result<Self> {
        let period = if square { grid / 2 } else { grid };
        let mut of_features = vec![0];
        for angle in angles {
            let sum = angle.checked_mul(2 * i128::from(grid))?.numerator();
            let sum = sum.mod_floor(&i128::from(grid));
            of_features.push(u64::try_from(sum).unwrap_or(0));
        }
        let mut sums: Vec<u64> = of_features.iter().map(|sum| sum % period).collect();
        sums.sort_unstable();
        sums.dedup();
        Ok(Self {
            grid,
            period,
            sums,
            of_features,
        })
    }

    /// How many different directions there are.
    pub(crate) fn count(&self) -> usize {
        self.sums.len()
    }

    /// The sums of the features in steps of 1/`places` turn, and the sums that
    /// count as one; none where they do not fall on whole steps.
    pub(crate) fn in_steps(&self, places: u64) -> Option<(Vec<u64>, u64)> {
        let step = |sum: u64| {
            let whole = u128::from(sum) * u128::from(places);
            let grid = u128::from(self.grid);
            whole.is_multiple_of(grid).then(|| whole / grid)
        };
        let sums = self
            .of_features
            .iter()
            .map(|&sum| step(sum).and_then(|sum| u64::try_from(sum).ok()))
            .collect::<Option<Vec<u64>>>()?;
        let period = u64::try_from(step(self.period)?).ok()?;
        Some((sums, period))
    }

    /// The smallest full circle whose chords have all directions: every sum is
    /// a multiple of 1/n, or of that and half a turn with a square; from three
    /// holes up each such sum has a chord, but four holes for two directions a
    /// quarter turn apart.
    pub(crate) fn circle(&self) -> u64 {
        let common = self.sums.iter().fold(self.period, |all, sum| all.gcd(sum));
        let steps = self.grid / common.max(1);
        // With a square `steps` is even, and half of it does where that is odd.
        let least = if self.period < self.grid && (steps / 2).is_odd() {
            steps / 2
        } else {
            steps
        };
        match least {
            1 => 3,
            2 => 4,
            n => n,
        }
    }

    /// The fewest pins for all directions that stand `least_gap_turns` apart on
    /// one ring, and of those the ones with the longest shortest baseline.
    ///
    /// # Errors
    /// [`ErrorKind::Cancelled`]; a spent budget only leaves fewer pins unproved.
    pub(crate) fn fewest_pins(
        &self,
        least_gap_turns: f64,
        meter: &mut Meter<'_>,
    ) -> Result<ChosenPins> {
        let mut best = Best {
            directions: self,
            least_gap: least_gap_turns * as_f64(self.grid) - 1.0e-9,
            kept: None,
        };
        best.offer(&self.opposite_pairs());
        let each = 1 + (self.count() * self.count()) as u64 / 8;
        let spend = |meter: &mut Meter<'_>| match meter.spend(each) {
            Err(error) if error.kind() == ErrorKind::WorkLimit => Ok(false),
            spent => spent.map(|()| true),
        };
        for turned in 0..self.count() {
            if !spend(meter)? {
                break;
            }
            best.offer(&self.fan(turned));
        }
        for triple in self.triples() {
            if !spend(meter)? {
                break;
            }
            if let Some(pins) = self.triangle(triple) {
                best.offer(&pins);
            }
        }
        let mut least_pins = self.counted();
        let most = best.kept.as_ref().map_or(0, |kept| kept.pins.len() as u64);
        if self.count() <= MOST_SEARCHED {
            let mut search = Search {
                directions: self,
                best: &mut best,
                left: MOST_STEPS,
                found: false,
            };
            while least_pins < most {
                search.found = false;
                let finished = search.extend(&mut Vec::new(), least_pins, meter)?;
                if search.found || !finished {
                    break;
                }
                least_pins += 1;
            }
        }
        let kept = best
            .kept
            .ok_or_else(|| Error::internal("no pins for a list of angles"))?;
        Ok(ChosenPins {
            item: self.item(&kept.pins),
            least_pins,
        })
    }

    /// p pins have p(p − 1)/2 chords, and each direction needs its own.
    fn counted(&self) -> u64 {
        let wanted = self.count() as u64;
        (2..).find(|p| p * (p - 1) / 2 >= wanted).unwrap_or(2)
    }

    fn item(&self, pins: &[u64]) -> Item {
        let first = pins.first().copied().unwrap_or(0);
        let mut points: Vec<(i128, i128)> = pins
            .iter()
            .map(|pin| (pin + self.grid - first) % self.grid)
            .filter(|&pin| pin != 0)
            .map(|pin| {
                let common = pin.gcd(&self.grid).max(1);
                (i128::from(pin / common), i128::from(self.grid / common))
            })
            .collect();
        points.sort_unstable();
        Item {
            points,
            ..Item::default()
        }
    }

    /// Two opposite pins for each direction: the longest baselines.
    fn opposite_pairs(&self) -> Vec<u64> {
        let half = self.grid / 2;
        self.sums
            .iter()
            .flat_map(|sum| [sum / 2, (sum / 2 + half) % self.grid])
            .collect()
    }

    /// One pin at 0 and one for each direction, the gap that follows a direction
    /// turned towards it.
    fn fan(&self, direction: usize) -> Vec<u64> {
        let low = self.sums.get(direction).copied().unwrap_or(0);
        let high = self.sums.get(direction + 1).copied();
        let middle = u64::midpoint(low, high.unwrap_or(self.period));
        let start = self.period - middle % self.period;
        let mut pins = vec![0];
        for &sum in &self.sums {
            pins.extend(self.partner(0, sum + start, &pins));
        }
        pins
    }

    /// The pin that makes a sum with another: the one farther from it.
    fn partner(&self, pin: u64, sum: u64, standing: &[u64]) -> Option<u64> {
        let plain = (sum % self.grid + self.grid - pin) % self.grid;
        let other = (plain + self.period) % self.grid;
        [plain, other]
            .into_iter()
            .filter(|&it| it != pin)
            .max_by_key(|it| {
                (
                    standing.contains(it),
                    self.apart(*it, pin),
                    std::cmp::Reverse(*it),
                )
            })
    }

    /// Up to [`MOST_TRIANGLES`] of the triples of directions, from all over them.
    fn triples(&self) -> Vec<[u64; 3]> {
        let n = self.sums.len();
        let mut triples = Vec::new();
        for i in 0..n {
            for j in i + 1..n {
                triples.extend((j + 1..n).map(|k| [self.sums[i], self.sums[j], self.sums[k]]));
            }
            if triples.len() > 40 * MOST_TRIANGLES {
                break;
            }
        }
        let every = triples.len().div_ceil(MOST_TRIANGLES).max(1);
        triples.into_iter().step_by(every).collect()
    }

    /// Three pins for three directions, and one more for each other, hung on
    /// the corner where it stands farthest.
    fn triangle(&self, [a, b, c]: [u64; 3]) -> Option<Vec<u64>> {
        // Sums are even: they are twice an angle of half the grid.
        let corner = |one: u64, two: u64, less: u64| {
            let twice = i128::from(one) + i128::from(two) - i128::from(less);
            u64::try_from((twice / 2).mod_floor(&i128::from(self.grid))).unwrap_or(0)
        };
        let corners = [corner(a, b, c), corner(a, c, b), corner(b, c, a)];
        let [x, y, z] = corners;
        if x == y || y == z || x == z {
            return None;
        }
        let mut pins = corners.to_vec();
        pins.sort_unstable();
        for &sum in &self.sums {
            if self.longest(&pins, sum).is_some() {
                continue;
            }
            let hung = corners
                .iter()
                .filter_map(|&corner| {
                    let pin = self.partner(corner, sum, &pins)?;
                    Some((self.apart(pin, corner), pin))
                })
                .max();
            let pin = hung?.1;
            let place = pins.partition_point(|&it| it < pin);
            pins.insert(place, pin);
        }
        Some(pins)
    }

    /// Spaces between two places, the short way round.
    fn apart(&self, a: u64, b: u64) -> u64 {
        let way = (a + self.grid - b) % self.grid;
        way.min(self.grid - way)
    }

    /// Spaces between the two pins farthest apart that make a sum; the pins in
    /// growing order.
    fn longest(&self, pins: &[u64], sum: u64) -> Option<u64> {
        let mut longest = None;
        for (k, &one) in pins.iter().enumerate() {
            let plain = (sum % self.grid + self.grid - one) % self.grid;
            let other = (plain + self.period) % self.grid;
            for two in [plain, other] {
                if pins[..k].binary_search(&two).is_ok() {
                    longest = longest.max(Some(self.apart(one, two)));
                }
            }
        }
        longest
    }

    /// Whether two of a few pins, in any order, make a sum.
    fn has_chord(&self, pins: &[u64], sum: u64) -> bool {
        let wanted = sum % self.period;
        let mut pairs = pins
            .iter()
            .enumerate()
            .flat_map(|(k, &one)| pins.iter().take(k).map(move |&two| one + two));
        pairs.any(|made| made % self.period == wanted)
    }

    /// Sums of a placing that cover every direction from its best start: the
    /// shortest of the longest chords; and the least gap of two pins, which come in
    /// growing order.
    fn measure(&self, pins: &[u64]) -> Option<(u64, u64)> {
        let mut around = pins.to_vec();
        around.sort_unstable();
        let last = around.first().map(|first| first + self.grid);
        let gap = around
            .iter()
            .zip(around.iter().skip(1).copied().chain(last))
            .map(|(a, b)| b - a)
            .min()?;
        let mut starts: Vec<u64> = Vec::new();
        for (k, &a) in pins.iter().enumerate() {
            starts.extend(pins.iter().take(k).map(|&b| (a + b) % self.period));
        }
        starts.sort_unstable();
        starts.dedup();
        let shortest_from = |start: &u64| {
            self.sums
                .iter()
                .map(|sum| self.longest(pins, sum + start))
                .try_fold(u64::MAX, |least, span| Some(least.min(span?)))
        };
        // Many pins have many starts that serve; the first few will do.
        let most = if pins.len() > 24 { 1 } else { usize::MAX };
        let shortest = starts.iter().filter_map(shortest_from).take(most).max()?;
        Some((shortest, gap))
    }
}

/// A placing of pins.
struct Kept {
    pins: Vec<u64>,
    wide_enough: bool,
    shortest: u64,
    gap: u64,
}

/// The best placing so far: pins far enough apart, then few, then the longest
/// shortest baseline.
struct Best<'d> {
    directions: &'d Directions,
    least_gap: f64,
    kept: Option<Kept>,
}

impl Best<'_> {
    fn offer(&mut self, pins: &[u64]) {
        let fewer = |kept: &Kept| !kept.wide_enough || pins.len() <= kept.pins.len();
        if !self.kept.as_ref().is_none_or(fewer) {
            return;
        }
        let mut pins = pins.to_vec();
        pins.sort_unstable();
        pins.dedup();
        let Some((shortest, gap)) = self.directions.measure(&pins) else {
            return;
        };
        let wide_enough = as_f64(gap) >= self.least_gap;
        let better = self.kept.as_ref().is_none_or(|kept| {
            let size = |wide, count: usize| (wide, std::cmp::Reverse(count));
            let ours = size(wide_enough, pins.len());
            let theirs = size(kept.wide_enough, kept.pins.len());
            match ours.cmp(&theirs) {
                std::cmp::Ordering::Equal if wide_enough => {
                    (shortest, gap) > (kept.shortest, kept.gap)
                }
                std::cmp::Ordering::Equal => (gap, shortest) > (kept.gap, kept.shortest),
                order => order.is_gt(),
            }
        });
        if better {
            self.kept = Some(Kept {
                pins,
                wide_enough,
                shortest,
                gap,
            });
        }
    }
}

/// Every placing of a number of pins on the grid.
struct Search<'s, 'd> {
    directions: &'d Directions,
    best: &'s mut Best<'d>,
    left: u64,
    found: bool,
}

impl Search<'_, '_> {
    /// Adds pins up to `most`; false when the steps ran out.
    fn extend(&mut self, pins: &mut Vec<u64>, most: u64, meter: &mut Meter<'_>) -> Result<bool> {
        let steps = 1 + (pins.len() * pins.len()) as u64 / 4;
        if self.left < steps {
            return Ok(false);
        }
        self.left -= steps;
        match meter.spend(steps) {
            Err(error) if error.kind() == ErrorKind::WorkLimit => return Ok(false),
            spent => spent?,
        }
        let directions = self.directions;
        let mut open = directions
            .sums
            .iter()
            .filter(|&&sum| !directions.has_chord(pins, sum));
        let Some(&sum) = open.next() else {
            self.found = true;
            self.best.offer(pins);
            return Ok(true);
        };
        let (standing, wanted) = (pins.len() as u64, 1 + open.count() as u64);
        let chords = |n: u64| n * n.saturating_sub(1) / 2;
        if standing >= most || chords(most) - chords(standing) < wanted {
            return Ok(true);
        }
        let halves = [0, directions.period];
        let halves = &halves[..if directions.period < directions.grid {
            2
        } else {
            1
        }];
        let grid = directions.grid;
        let with = |sum: u64, pin: u64| (sum % grid + grid - pin) % grid;
        let mut finished = true;
        for half in halves {
            for k in 0..pins.len() {
                let pin = with(sum + half, pins[k]);
                if !pins.contains(&pin) {
                    pins.push(pin);
                    finished &= self.extend(pins, most, meter)?;
                    pins.pop();
                }
            }
        }
        if standing + 2 <= most {
            for half in halves {
                for one in 0..grid {
                    let two = with(sum + half, one);
                    // The first pair may be turned by half a turn with all others.
                    let turned = standing == 0 && one >= grid / 2 && two >= grid / 2;
                    if one >= two || turned || pins.contains(&one) || pins.contains(&two) {
                        continue;
                    }
                    pins.extend([one, two]);
                    let done = self.extend(pins, most, meter)?;
                    pins.truncate(pins.len() - 2);
                    finished &= done;
                    if !done && self.left == 0 {
                        return Ok(false);
                    }
                }
            }
        }
        Ok(finished)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn angles(list: &[(i128, i128)]) -> Vec<Angle> {
        list.iter()
            .map(|&(p, q)| Angle::new(p, q).unwrap())
            .collect()
    }

    fn chosen(list: &[(i128, i128)], square: bool) -> ChosenPins {
        Directions::new(&angles(list), square)
            .unwrap()
            .fewest_pins(0.01, &mut Meter::default())
            .unwrap()
    }

    /// Whether pins have a chord at every angle of the list from some start, by
    /// real arithmetic on every pair.
    fn has_chords(item: &Item, list: &[Angle], square: bool) -> bool {
        let pins: Vec<f64> = [(0, 1)]
            .iter()
            .chain(&item.points)
            .map(|&(p, q)| p as f64 / q as f64)
            .collect();
        let mut directions = Vec::new();
        for (k, a) in pins.iter().enumerate() {
            directions.extend(pins[..k].iter().map(|b| (a + b) / 2.0));
        }
        let period = if square { 0.25 } else { 0.5 };
        let same = |a: f64, b: f64| {
            let off = (a - b).rem_euclid(period);
            off.min(period - off) < 1e-9
        };
        directions.iter().any(|start| {
            list.iter().all(|angle| {
                directions
                    .iter()
                    .any(|it| same(*it, start + angle.to_turns_f64()))
            })
        })
    }

    #[test]
    fn few_pins_have_all_the_chords() {
        for list in [
            &[(1, 12)][..],
            &[(1, 2)],
            &[(1, 4)],
            &[(1, 12), (1, 7)],
            &[(1, 9), (2, 9), (5, 9)],
            &[(1, 36), (1, 24), (1, 10), (3, 8)],
            &[(1, 360), (2, 360), (5, 360), (17, 360), (90, 360)],
            &[(-1, 13), (3, 13), (400, 13)],
            &[(1, 5), (2, 5), (3, 5), (4, 5)],
        ] {
            for square in [false, true] {
                let wanted = Directions::new(&angles(list), square).unwrap();
                let pins = chosen(list, square);
                assert!(has_chords(&pins.item, &angles(list), square), "{list:?}");
                let count = pins.item.points.len() as u64 + 1;
                let m = wanted.count() as u64;
                assert!(count <= m.max(3), "{list:?} {square}: {count} pins for {m}");
                assert!(pins.least_pins <= count);
                let circle = Item {
                    points: (1..wanted.circle())
                        .map(|k| (i128::from(k), i128::from(wanted.circle())))
                        .collect(),
                    ..Item::default()
                };
                assert!(has_chords(&circle, &angles(list), square), "{list:?}");
            }
        }
    }

    /// Two directions need three pins, since two pins have one chord; one
    /// direction needs two. Six directions a twelfth apart: four pins have six
    /// chords, but none of the placings has those (every placing on finer and
    /// finer circles, by brute force).
    #[test]
    fn fewest_is_proved_where_the_search_ends() {
        let count = |pins: &ChosenPins| pins.item.points.len() as u64 + 1;
        let one = chosen(&[(1, 2)], false);
        assert_eq!((count(&one), one.least_pins), (2, 2));
        let two = chosen(&[(1, 12)], false);
        assert_eq!((count(&two), two.least_pins), (3, 3));
        let upright = chosen(&[(1, 4)], true);
        assert_eq!((count(&upright), upright.least_pins), (2, 2));
        for list in [
            &[(1, 12), (2, 12), (3, 12), (4, 12), (5, 12)][..],
            &[(1, 10), (2, 10), (3, 10)],
            &[(1, 16), (3, 16), (5, 16)],
            &[(1, 18), (2, 18), (4, 18), (7, 18)],
        ] {
            let found = chosen(list, false);
            let least = by_brute_force(&angles(list));
            assert_eq!(count(&found), least, "{list:?}");
            assert!(found.least_pins <= least, "{list:?}");
        }
    }

    /// The fewest pins over all subsets of circles of up to 24 places.
    fn by_brute_force(list: &[Angle]) -> u64 {
        let mut least = u64::MAX;
        for places in [12, 18, 20, 24_u32] {
            for mask in 1..1_u32 << (places - 1) {
                let count = 1 + u64::from(mask.count_ones());
                if count >= least || count > 6 {
                    continue;
                }
                let item = Item {
                    points: (1..places)
                        .filter(|k| mask & (1 << (k - 1)) != 0)
                        .map(|k| (i128::from(k), i128::from(places)))
                        .collect(),
                    ..Item::default()
                };
                if has_chords(&item, list, false) {
                    least = count;
                }
            }
        }
        least
    }

    /// The longest chord over every pair, in any order of the pins.
    fn longest_by_pairs(directions: &Directions, pins: &[u64], sum: u64) -> Option<u64> {
        let same = |made: u64| made % directions.period == sum % directions.period;
        let pairs = pins.iter().flat_map(|a| pins.iter().map(move |b| (*a, *b)));
        pairs
            .filter(|&(a, b)| a != b && same(a + b))
            .map(|(a, b)| directions.apart(a, b))
            .max()
    }

    #[test]
    fn chords_are_those_of_every_pair() {
        for square in [false, true] {
            let directions = Directions::new(&angles(&[(1, 12), (1, 7), (3, 8)]), square).unwrap();
            for step in [7, 31, 90, 151_usize] {
                let pins: Vec<u64> = (0..directions.grid).step_by(step).collect();
                for sum in 0..directions.grid {
                    let all = longest_by_pairs(&directions, &pins, sum);
                    assert_eq!(directions.longest(&pins, sum), all, "{step} {sum}");
                    assert_eq!(directions.has_chord(&pins, sum), all.is_some());
                }
            }
        }
    }

    #[test]
    fn long_lists_keep_to_the_budget_and_can_be_stopped() {
        let list: Vec<(i128, i128)> = (1..=64).map(|k| (7 * k, 3600)).collect();
        let directions = Directions::new(&angles(&list), false).unwrap();
        let meter = &mut Meter::new(5_000);
        let few = directions.fewest_pins(0.001, meter).unwrap();
        assert!(has_chords(&few.item, &angles(&list), false));
        let mut watcher = |_| crate::work::Continue::No;
        let stopped = directions.fewest_pins(0.001, &mut Meter::watched(u64::MAX, &mut watcher));
        assert_eq!(stopped.unwrap_err().kind(), ErrorKind::Cancelled);
    }

    #[test]
    fn angles_without_a_common_grid_are_refused() {
        let error = Directions::new(&angles(&[(1, 99_991), (1, 99_989)]), false).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::OutOfRange);
        assert!(error.message().contains("round them"), "{error}");
        // The steps that the message names do.
        for step in [36_000, 43_200] {
            for square in [false, true] {
                assert!(Directions::new(&angles(&[(1, step), (7, step)]), square).is_ok());
            }
        }
    }
}
