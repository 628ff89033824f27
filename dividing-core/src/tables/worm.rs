//! Tables of a worm head: simple, compound and differential indexing.

use num_integer::Integer;
use serde::{Deserialize, Serialize};

use super::Rows;
use crate::angle::as_f64;
use crate::equipment::WormHead;
use crate::error::{ErrorKind, Result};
use crate::gearing::MAX_PAIRS;
use crate::reach::worm::{
    CirclePair, CirclePlace, CompoundSetting, DifferentialReach, Geared, PlateSense, WormReach,
    compare_compound, compound_settings_of,
};

/// Simple indexing, one entry for each number of divisions.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SimpleColumns {
    /// 1 where exact, else 0.
    pub exact: Vec<u8>,
    /// The plate, as listed.
    pub plate: Vec<u32>,
    /// 1 where the plate shows its back, else 0.
    pub back: Vec<u8>,
    /// Holes on the circle: where exact the first in the handbook's order, else
    /// the circle whose settings counted from zero come nearest.
    pub circle: Vec<u32>,
    /// Whole crank turns of a move, rounded to the nearest hole where not exact.
    pub turns: Vec<u32>,
    /// Holes beyond them.
    pub holes: Vec<u32>,
    /// The largest residual, in turns, of settings counted from zero and each
    /// rounded once, with the start free: `(1 − g/N)/(2M)` for M settings and
    /// g = gcd(M, N). 0 where exact, and, with a fraction in the worm ratio,
    /// where exact settings take more than one turn of the spindle a move.
    pub residual_turns: Vec<f64>,
    /// How far off the turn closes, in turns, when the rounded move is repeated
    /// instead. 0 where exact.
    pub closing_turns: Vec<f64>,
}

/// Compound indexing, one entry for each number of divisions; zeros where it is
/// not exact.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CompoundColumns {
    /// 1 where exact, else 0.
    pub exact: Vec<u8>,
    /// The plate, as listed.
    pub plate: Vec<u32>,
    /// 1 where the plate shows its back, else 0.
    pub back: Vec<u8>,
    /// Whole crank turns, backward where below zero.
    pub whole_turns: Vec<i32>,
    /// Holes on the circle of the crank pin.
    pub first_circle: Vec<u32>,
    /// Holes of the crank, backward where below zero.
    pub first_holes: Vec<i32>,
    /// Holes on the circle of the plate's pin.
    pub second_circle: Vec<u32>,
    /// Holes of plate and crank, backward where below zero.
    pub second_holes: Vec<i32>,
}

/// Differential indexing, one entry for each number of divisions; zeros where it
/// is not exact.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DifferentialColumns {
    /// 1 where exact, else 0.
    pub exact: Vec<u8>,
    /// The plate, as listed.
    pub plate: Vec<u32>,
    /// 1 where the plate shows its back, else 0.
    pub back: Vec<u8>,
    /// Holes on the circle.
    pub circle: Vec<u32>,
    /// Whole crank turns of a move, counted on the plate.
    pub turns: Vec<i64>,
    /// Holes beyond them.
    pub holes: Vec<u32>,
    /// 1 where the plate turns against the crank, else 0.
    pub against: Vec<u8>,
    /// Idlers, by the convention of the head.
    pub idlers: Vec<u8>,
    /// Teeth of the drivers, from the spindle: three columns, 0 where there is
    /// none.
    pub drivers: [Vec<u16>; MAX_PAIRS],
    /// Teeth of the driven gears, to the shaft of the plate.
    pub driven: [Vec<u16>; MAX_PAIRS],
}

/// A head prepared for its tables.
pub(super) struct HeadTables {
    worm: WormReach,
    /// gcd of the numerator of R with N, for every row.
    common: Vec<u32>,
    pairs: Vec<CirclePair>,
    differential: Option<(DifferentialReach, crate::equipment::IdlerConvention)>,
}

/// A product `N·h = c·(R − g)`, the rank of its gears and its circle.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Product {
    product: u64,
    rank: u32,
    circle: u32,
}

impl HeadTables {
    pub(super) fn new(head: &WormHead, rows: &mut Rows<'_, '_>) -> Result<Self> {
        let worm = WormReach::new(head)?;
        let mut pairs = Vec::new();
        for pair in worm.pairs() {
            if !rows.spend(1) {
                break;
            }
            pairs.push(pair);
        }
        let differential = match &head.change_gears {
            None => None,
            Some(gears) => match DifferentialReach::new(head, rows.meter) {
                Ok(reach) => {
                    rows.complete &= reach.complete();
                    Some((reach, gears.idlers))
                }
                Err(error)
                    if matches!(error.kind(), ErrorKind::WorkLimit | ErrorKind::Cancelled) =>
                {
                    rows.complete = false;
                    None
                }
                Err(error) => return Err(error),
            },
        };
        let mut common = vec![1; rows.count()];
        let turns = u64::try_from(worm.worm_ratio().numerator()).unwrap_or(1);
        greatest_common(turns, rows, &mut common);
        Ok(Self {
            worm,
            common,
            pairs,
            differential,
        })
    }

    /// The head without its gears.
    pub(super) const fn worm(&self) -> &WormReach {
        &self.worm
    }

    /// Every ratio of its gears in either sense.
    pub(super) fn geared(&self) -> &[Geared] {
        self.differential
            .as_ref()
            .map_or(&[], |(reach, _)| reach.geared())
    }

    /// Puts a move of differential indexing in a row.
    pub(super) fn put_differential(
        &self,
        table: &mut DifferentialColumns,
        row: usize,
        geared: &Geared,
        place: CirclePlace,
        spaces: u64,
    ) {
        table.put(row, geared, place, spaces);
        if let Some((_, convention)) = &self.differential {
            let with_crank = geared.sense == PlateSense::WithCrank;
            let idlers = convention.idlers(&geared.train, with_crank);
            table.idlers[row] = u8::try_from(idlers).unwrap_or(u8::MAX);
        }
    }

    /// The denominator of R/N in lowest terms, for every row: the terms of R are
    /// prime to each other, so only N shares factors with its numerator.
    fn parts(&self, rows: &Rows<'_, '_>) -> impl Iterator<Item = (usize, u64)> + use<'_> {
        let spindle = u64::try_from(self.worm.worm_ratio().denominator()).unwrap_or(1);
        rows.numbers()
            .zip(&self.common)
            .map(move |((row, divisions), common)| (row, spindle * u64::from(divisions / common)))
    }

    /// Marks the rows whose parts are among those given, in growing order.
    fn rows_of_parts(&self, held: &[u64], rows: &mut Rows<'_, '_>) -> Vec<u8> {
        let mut exact = vec![0; rows.count()];
        let largest = held.last().copied().unwrap_or(0);
        if rows.spend(rows.count() as u64) {
            for (row, parts) in self.parts(rows) {
                let found = parts <= largest && held.binary_search(&parts).is_ok();
                exact[row] = u8::from(found);
            }
        }
        exact
    }

    pub(super) fn simple_exact(&self, rows: &mut Rows<'_, '_>) -> Vec<u8> {
        let mut held = Vec::new();
        for place in self.worm.circles() {
            if !rows.spend(u64::from(place.holes.isqrt())) {
                break;
            }
            held.extend(divisors(place.holes.into()));
        }
        held.sort_unstable();
        held.dedup();
        self.rows_of_parts(&held, rows)
    }

    pub(super) fn simple(&self, rows: &mut Rows<'_, '_>) -> SimpleColumns {
        let mut table = SimpleColumns::of(rows.count());
        let nearest = self.nearest_circles(rows);
        for (row, divisions) in rows.numbers() {
            if !rows.spend(1) {
                break;
            }
            if let Some(setting) = self.worm.simple_division(divisions) {
                table.exact[row] = 1;
                table.put(row, setting.place);
                table.turns[row] = u32::try_from(setting.turns).unwrap_or(u32::MAX);
                table.holes[row] = setting.holes;
                continue;
            }
            let Some(near) = nearest.get(row) else { break };
            let Some(&place) = self.worm.circles().get(near.circle as usize) else {
                break;
            };
            table.put(row, place);
            let number = as_f64(divisions.into());
            // M and N − g are whole numbers below 2⁵³.
            table.residual_turns[row] =
                as_f64(near.above.into()) / (2.0 * as_f64(near.settings.into()) * number);
            self.rounded_move(&mut table, row, divisions, place.holes);
        }
        table
    }

    /// The move rounded to the nearest hole of a circle, halves up, and how far
    /// off its repetition closes.
    fn rounded_move(&self, table: &mut SimpleColumns, row: usize, divisions: u32, circle: u32) {
        let ratio = self.worm.worm_ratio();
        // Terms of a ratio and holes are at most 10⁵, divisions at most 10⁶.
        let spaces = ratio.numerator() * i128::from(circle);
        let over = ratio.denominator() * i128::from(divisions);
        let rounded = (2 * spaces + over).div_euclid(2 * over);
        let (turns, holes) = rounded.div_rem(&circle.into());
        table.turns[row] = u32::try_from(turns).unwrap_or(u32::MAX);
        table.holes[row] = u32::try_from(holes).unwrap_or(0);
        table.closing_turns[row] = as_f64(rounded * over - spaces) / as_f64(spaces);
    }

    /// For every row the circle with the least `(N − g)/M`, the larger circle
    /// where equal.
    fn nearest_circles(&self, rows: &mut Rows<'_, '_>) -> Vec<NearCircle> {
        let mut best: Vec<NearCircle> = Vec::new();
        let ratio = self.worm.worm_ratio();
        let mut common: Vec<u32> = vec![1; rows.count()];
        let mut last = 0;
        for (index, place) in self.worm.circles().iter().enumerate() {
            if place.holes == last {
                continue;
            }
            last = place.holes;
            let all = ratio.numerator() * i128::from(place.holes);
            // Below 10¹⁰.
            let settings = u64::try_from(all / all.gcd(&ratio.denominator())).unwrap_or(1);
            if !rows.spend(4 * rows.count() as u64) {
                break;
            }
            greatest_common(settings, rows, &mut common);
            let circle = u32::try_from(index).unwrap_or(u32::MAX);
            let fresh = best.is_empty();
            if fresh {
                best.reserve(rows.count());
            }
            for (row, divisions) in rows.numbers() {
                let near = NearCircle {
                    above: u64::from(divisions - common[row]),
                    settings,
                    circle,
                };
                if fresh {
                    best.push(near);
                } else if near.above * best[row].settings < best[row].above * near.settings {
                    best[row] = near;
                }
            }
        }
        best
    }

    pub(super) fn compound_exact(&self, rows: &mut Rows<'_, '_>) -> Vec<u8> {
        let mut held = Vec::new();
        for pair in &self.pairs {
            let common = u64::try_from(pair.common).unwrap_or(0);
            if !rows.spend(common.isqrt()) {
                break;
            }
            let (first, second) = (u64::from(pair.first.holes), u64::from(pair.second.holes));
            let gcd = first.gcd(&second);
            // A rest that one circle alone holds needs a common divisor of the
            // two to be split: j/g and the rest less j/g, neither of them zero.
            let splits = |parts: u64| {
                let on_one = first.is_multiple_of(parts) || second.is_multiple_of(parts);
                !on_one || gcd > 2 || (gcd == 2 && parts != 2)
            };
            held.extend(divisors(common).into_iter().filter(|&parts| splits(parts)));
        }
        held.sort_unstable();
        held.dedup();
        self.rows_of_parts(&held, rows)
    }

    pub(super) fn compound(&self, rows: &mut Rows<'_, '_>) -> CompoundColumns {
        let count = rows.count();
        let mut table = CompoundColumns {
            exact: vec![0; count],
            plate: vec![0; count],
            back: vec![0; count],
            whole_turns: vec![0; count],
            first_circle: vec![0; count],
            first_holes: vec![0; count],
            second_circle: vec![0; count],
            second_holes: vec![0; count],
        };
        let largest = self.pairs.iter().map(|it| it.common).max().unwrap_or(0);
        for (row, divisions) in rows.numbers() {
            if !rows.spend(1) {
                break;
            }
            let Some((turns, rest, parts)) = self.worm.division(divisions) else {
                continue;
            };
            let (Ok(rest), Ok(parts)) = (i64::try_from(rest), i64::try_from(parts)) else {
                continue;
            };
            if parts > largest {
                continue;
            }
            let mut best: Option<CompoundSetting> = None;
            for pair in &self.pairs {
                if pair.common % parts != 0 {
                    continue;
                }
                if !rows.spend(4 * u64::from(pair.first.holes.gcd(&pair.second.holes))) {
                    return table;
                }
                let over_common = pair.common / parts * rest;
                compound_settings_of(pair, turns.into(), over_common, &mut |it| {
                    if best
                        .as_ref()
                        .is_none_or(|kept| compare_compound(&it, kept).is_lt())
                    {
                        best = Some(it);
                    }
                });
            }
            if let Some(best) = best {
                table.put(row, &best);
            }
        }
        table
    }

    /// The products of all ratios and circles, each with its best rank, growing.
    fn products(&self, rows: &mut Rows<'_, '_>) -> Vec<Product> {
        let mut products = Vec::new();
        let Some((reach, _)) = &self.differential else {
            return products;
        };
        let circles = self.worm.circles();
        if !rows.spend(reach.geared().len() as u64) {
            return products;
        }
        for (rank, geared) in (0_u32..).zip(reach.geared()) {
            let (above, below) = geared.crank;
            let Ok(below) = u32::try_from(below) else {
                continue;
            };
            for (circle, place) in (0_u32..).zip(circles) {
                if place.holes < below {
                    // The circles grow no larger.
                    break;
                }
                if place.holes % below != 0 {
                    continue;
                }
                match u64::from(place.holes / below).checked_mul(above) {
                    Some(product) => products.push(Product {
                        product,
                        rank,
                        circle,
                    }),
                    None => rows.complete = false,
                }
            }
        }
        products.sort_unstable();
        products.dedup_by_key(|it| it.product);
        products
    }

    pub(super) fn differential_exact(&self, rows: &mut Rows<'_, '_>) -> Option<Vec<u8>> {
        self.differential.as_ref()?;
        let mut exact = vec![0; rows.count()];
        for product in self.products(rows) {
            for_divisors(product.product, rows, |row| exact[row] = 1);
        }
        Some(exact)
    }

    pub(super) fn differential(&self, rows: &mut Rows<'_, '_>) -> Option<DifferentialColumns> {
        let (reach, _) = self.differential.as_ref()?;
        let count = rows.count();
        let column = || vec![0_u16; count];
        let mut table = DifferentialColumns {
            exact: vec![0; count],
            plate: vec![0; count],
            back: vec![0; count],
            circle: vec![0; count],
            turns: vec![0; count],
            holes: vec![0; count],
            against: vec![0; count],
            idlers: vec![0; count],
            drivers: [column(), column(), column()],
            driven: [column(), column(), column()],
        };
        let mut best: Vec<Option<Product>> = vec![None; count];
        for product in self.products(rows) {
            for_divisors(product.product, rows, |row| {
                let kept = &mut best[row];
                let rank = |it: &Product| (it.rank, it.circle);
                if kept.as_ref().is_none_or(|kept| rank(&product) < rank(kept)) {
                    *kept = Some(product);
                }
            });
        }
        for (row, divisions) in rows.numbers() {
            let Some(product) = best[row] else { continue };
            let geared = reach.geared().get(product.rank as usize);
            let place = self.worm.circles().get(product.circle as usize);
            if let (Some(geared), Some(place)) = (geared, place) {
                let spaces = product.product / u64::from(divisions);
                self.put_differential(&mut table, row, geared, *place, spaces);
            }
        }
        Some(table)
    }
}

/// How near a circle comes: `(N − g)/(2·M·N)`.
#[derive(Clone, Copy)]
struct NearCircle {
    /// N − g.
    above: u64,
    /// M.
    settings: u64,
    /// The circle, as the head lists them.
    circle: u32,
}

/// gcd(M, N) for every row: each divisor of M, growing, marks its multiples.
fn greatest_common(number: u64, rows: &Rows<'_, '_>, common: &mut [u32]) {
    let small = divisors(number)
        .into_iter()
        .filter_map(|it| u32::try_from(it).ok())
        .filter(|it| *it <= rows.last);
    for divisor in small {
        let first = rows.first.div_ceil(divisor) * divisor;
        let mut row = (first - rows.first) as usize;
        while let Some(entry) = common.get_mut(row) {
            *entry = divisor;
            row += divisor as usize;
        }
    }
}

/// The divisors of a number, growing.
fn divisors(number: u64) -> Vec<u64> {
    let (mut small, mut large) = (Vec::new(), Vec::new());
    for divisor in 1..=number.isqrt() {
        if number.is_multiple_of(divisor) {
            small.push(divisor);
            if divisor != number / divisor {
                large.push(number / divisor);
            }
        }
    }
    small.extend(large.into_iter().rev());
    small
}

/// Calls `found` with the row of every divisor of a number that the table has.
fn for_divisors(number: u64, rows: &mut Rows<'_, '_>, mut found: impl FnMut(usize)) {
    let most = u64::from(rows.last).min(number.isqrt());
    if !rows.spend(most / 8 + 1) {
        return;
    }
    let mut mark = |divisor: u64| {
        if let Some(row) = rows.row_of(divisor) {
            found(row);
        }
    };
    match u32::try_from(number) {
        // Narrow divisions are several times as fast.
        Ok(number) => {
            for divisor in 1..=u32::try_from(most).unwrap_or(0) {
                if number.is_multiple_of(divisor) {
                    mark(divisor.into());
                    mark((number / divisor).into());
                }
            }
        }
        Err(_) => {
            for divisor in 1..=most {
                if number.is_multiple_of(divisor) {
                    mark(divisor);
                    mark(number / divisor);
                }
            }
        }
    }
}

/// A place in the list of plates as a column keeps it.
fn plate_number(plate: usize) -> u32 {
    u32::try_from(plate).unwrap_or(u32::MAX)
}

impl SimpleColumns {
    /// Columns of nothing.
    pub(super) fn of(count: usize) -> Self {
        Self {
            exact: vec![0; count],
            plate: vec![0; count],
            back: vec![0; count],
            circle: vec![0; count],
            turns: vec![0; count],
            holes: vec![0; count],
            residual_turns: vec![0.0; count],
            closing_turns: vec![0.0; count],
        }
    }

    pub(super) fn put(&mut self, row: usize, place: CirclePlace) {
        self.plate[row] = plate_number(place.plate);
        self.back[row] = u8::from(place.back);
        self.circle[row] = place.holes;
    }
}

impl CompoundColumns {
    pub(super) fn put(&mut self, row: usize, setting: &CompoundSetting) {
        // Turns of a crank and holes are at most some 10⁵.
        let small = |value: i128| i32::try_from(value).unwrap_or(i32::MAX);
        self.exact[row] = 1;
        self.plate[row] = plate_number(setting.plate);
        self.back[row] = u8::from(setting.back);
        self.whole_turns[row] = small(setting.whole_turns);
        self.first_circle[row] = setting.first.circle;
        self.first_holes[row] = small(setting.first.holes.into());
        self.second_circle[row] = setting.second.circle;
        self.second_holes[row] = small(setting.second.holes.into());
    }
}

impl DifferentialColumns {
    fn put(&mut self, row: usize, geared: &Geared, place: CirclePlace, spaces: u64) {
        let (turns, holes) = spaces.div_rem(&place.holes.into());
        self.exact[row] = 1;
        self.plate[row] = plate_number(place.plate);
        self.back[row] = u8::from(place.back);
        self.circle[row] = place.holes;
        self.turns[row] = i64::try_from(turns).unwrap_or(i64::MAX);
        self.holes[row] = u32::try_from(holes).unwrap_or(0);
        self.against[row] = u8::from(geared.sense == PlateSense::AgainstCrank);
        for (column, &teeth) in self.drivers.iter_mut().zip(geared.train.drivers()) {
            column[row] = teeth;
        }
        for (column, &teeth) in self.driven.iter_mut().zip(geared.train.driven()) {
            column[row] = teeth;
        }
    }
}
