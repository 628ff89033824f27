//! The linear relaxation of the allocation, and the exact bound drawn from it.
//!
//! Every item must be on at least one chosen ring, and no more rings may need
//! the outermost k slots than there are. The simplex method (revised, dense
//! basis inverse; V. Chvátal, *Linear Programming*, ch. 7) gives prices in
//! binary numbers; they are rounded to fixed point and lowered until no listed
//! ring is cheaper than its prices, so the bound does not rest on rounding.

use super::candidates::{Candidate, SCALE, scaled};
use super::problem::{Level, Problem, bits};
use crate::error::Result;
use crate::work::Meter;

/// Prices of items and slots, and the lower bound that they prove.
#[derive(Clone, Debug)]
pub(crate) struct Prices {
    item: Vec<i64>,
    /// Charge for a ring that must stand on slot k or farther out.
    slot: Vec<i64>,
    /// Lower bound of all holes, in steps of 1/[`SCALE`] hole.
    pub(crate) bound: i64,
}

impl Prices {
    /// Holes of a ring less its prices, charges added: what choosing it costs
    /// above the bound. Never negative for the rings the prices were made for.
    pub(crate) fn excess(&self, ring: &Candidate) -> i64 {
        let paid: i64 = bits(ring.group).map(|i| self.item[i]).sum();
        let charge: i64 = match ring.level {
            Level::Free(level) => self.slot.iter().skip(level).sum(),
            Level::Pinned => 0,
        };
        scaled(ring.holes) - paid + charge
    }
}

/// Solves the relaxation over `rings` and returns prices that are valid for
/// each of them.
///
/// # Errors
/// Those of the meter.
pub(crate) fn solve(
    problem: &Problem,
    rings: &[Candidate],
    meter: &mut Meter<'_>,
) -> Result<Prices> {
    let mut simplex = Simplex::new(problem, rings);
    simplex.run(meter)?;
    Ok(exact_prices(problem, rings, &simplex))
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    reason = "prices are below 2^38 holes; a wrong digit only loosens the bound, which is checked"
)]
fn exact_prices(problem: &Problem, rings: &[Candidate], simplex: &Simplex<'_>) -> Prices {
    let n = problem.len();
    let fixed = |price: f64| (price.clamp(0.0, 1.0e9) * SCALE as f64) as i64;
    let mut prices = Prices {
        item: (0..n).map(|i| fixed(simplex.price[i])).collect(),
        slot: (0..simplex.slots)
            .map(|k| fixed(simplex.price[n + k]))
            .collect(),
        bound: 0,
    };
    // Each ring holds at least one item: lowering every item by the largest
    // shortage mends all of them.
    let shortage = rings
        .iter()
        .map(|ring| -prices.excess(ring))
        .max()
        .unwrap_or(0)
        .max(0);
    for price in &mut prices.item {
        *price -= shortage;
    }
    let charged: i64 = prices
        .slot
        .iter()
        .zip(1_i64..)
        .map(|(charge, rings)| charge * rings)
        .sum();
    prices.bound = prices.item.iter().sum::<i64>() - charged;
    prices
}

/// A column of the basis.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Column {
    Ring(usize),
    /// Surplus of an item row or slack of a slot row.
    Slack(usize),
    /// Stands for a missing ring, at a price no real one has.
    Missing(usize),
}

struct Simplex<'r> {
    rings: &'r [Candidate],
    items: usize,
    slots: usize,
    rows: usize,
    basis: Vec<Column>,
    inverse: Vec<f64>,
    value: Vec<f64>,
    price: Vec<f64>,
    missing_cost: f64,
}

const TINY: f64 = 1.0e-9;

impl<'r> Simplex<'r> {
    fn new(problem: &Problem, rings: &'r [Candidate]) -> Self {
        let items = problem.len();
        // Slot rows that n rings cannot break say nothing.
        let slots = problem.slots.free_mm.len().min(items.saturating_sub(1));
        let rows = items + slots;
        let mut inverse = vec![0.0; rows * rows];
        for row in 0..rows {
            inverse[row * rows + row] = 1.0;
        }
        let total: u64 = (0..items).map(|i| problem.holes(1 << i)).sum();
        Self {
            rings,
            items,
            slots,
            rows,
            basis: (0..rows)
                .map(|row| {
                    if row < items {
                        Column::Missing(row)
                    } else {
                        Column::Slack(row)
                    }
                })
                .collect(),
            inverse,
            // Slightly uneven right-hand sides keep the method from circling;
            // prices stay valid whatever they are.
            value: (0..rows).map(|row| right_hand_side(row, items)).collect(),
            price: vec![0.0; rows],
            missing_cost: 2.0 * crate::pattern::numbers::as_f64(total) + 10.0,
        }
    }

    fn cost(&self, column: Column) -> f64 {
        match column {
            Column::Ring(ring) => crate::pattern::numbers::as_f64(self.rings[ring].holes),
            Column::Slack(_) => 0.0,
            Column::Missing(_) => self.missing_cost,
        }
    }

    /// Prices are positive for items and charges positive for slots.
    fn run(&mut self, meter: &mut Meter<'_>) -> Result<()> {
        let most_pivots = 50 * self.rows + 200;
        for _ in 0..most_pivots {
            meter.spend(1 + self.rings.len() as u64 / 4)?;
            self.find_prices();
            let Some(entering) = self.cheapest() else {
                break;
            };
            let direction = self.direction(entering);
            let Some(leaving) = self.leaving(&direction) else {
                break;
            };
            self.pivot(entering, leaving, &direction);
        }
        self.find_prices();
        Ok(())
    }

    fn find_prices(&mut self) {
        let rows = self.rows;
        self.price.fill(0.0);
        for (row, &column) in self.basis.iter().enumerate() {
            let cost = self.cost(column);
            if cost != 0.0 {
                let line = &self.inverse[row * rows..(row + 1) * rows];
                for (price, entry) in self.price.iter_mut().zip(line) {
                    *price += cost * entry;
                }
            }
        }
        // Slot rows read "rings on slot k or farther out, at most k + 1":
        // their prices are negative; keep the charge.
        for charge in &mut self.price[self.items..] {
            *charge = -*charge;
        }
    }

    fn cheapest(&self) -> Option<Column> {
        let mut from_slot = vec![0.0; self.slots + 1];
        for k in (0..self.slots).rev() {
            from_slot[k] = from_slot[k + 1] + self.price[self.items + k];
        }
        let mut best = (-1.0e-7, None);
        for (index, ring) in self.rings.iter().enumerate() {
            let mut excess = self.cost(Column::Ring(index));
            for i in bits(ring.group) {
                excess -= self.price[i];
            }
            if let Level::Free(level) = ring.level {
                excess += from_slot[level.min(self.slots)];
            }
            if excess < best.0 {
                best = (excess, Some(Column::Ring(index)));
            }
        }
        for row in 0..self.rows {
            if self.price[row] < best.0 {
                best = (self.price[row], Some(Column::Slack(row)));
            }
        }
        best.1
    }

    fn direction(&self, column: Column) -> Vec<f64> {
        let rows = self.rows;
        let mut direction = vec![0.0; rows];
        let mut add = |row: usize, factor: f64| {
            for (line, entry) in direction.iter_mut().enumerate() {
                *entry += factor * self.inverse[line * rows + row];
            }
        };
        match column {
            Column::Ring(ring) => {
                for i in bits(self.rings[ring].group) {
                    add(i, 1.0);
                }
                if let Level::Free(level) = self.rings[ring].level {
                    for k in level..self.slots {
                        add(self.items + k, 1.0);
                    }
                }
            }
            Column::Slack(row) => add(row, if row < self.items { -1.0 } else { 1.0 }),
            Column::Missing(row) => add(row, 1.0),
        }
        direction
    }

    fn leaving(&self, direction: &[f64]) -> Option<usize> {
        let mut best: Option<(f64, usize)> = None;
        for (row, &step) in direction.iter().enumerate() {
            if step > TINY {
                let ratio = self.value[row] / step;
                if best.is_none_or(|(least, _)| ratio < least) {
                    best = Some((ratio, row));
                }
            }
        }
        best.map(|(_, row)| row)
    }

    fn pivot(&mut self, entering: Column, leaving: usize, direction: &[f64]) {
        let rows = self.rows;
        let scale = 1.0 / direction[leaving];
        let mut line: Vec<f64> = self.inverse[leaving * rows..(leaving + 1) * rows].to_vec();
        for entry in &mut line {
            *entry *= scale;
        }
        let value = self.value[leaving] * scale;
        for (row, &factor) in direction.iter().enumerate() {
            if row != leaving && factor != 0.0 {
                let target = &mut self.inverse[row * rows..(row + 1) * rows];
                for (entry, from) in target.iter_mut().zip(&line) {
                    *entry -= factor * from;
                }
                self.value[row] = (self.value[row] - factor * value).max(0.0);
            }
        }
        self.inverse[leaving * rows..(leaving + 1) * rows].copy_from_slice(&line);
        self.value[leaving] = value;
        self.basis[leaving] = entering;
    }
}

#[allow(
    clippy::cast_precision_loss,
    reason = "row numbers stay below two hundred"
)]
fn right_hand_side(row: usize, items: usize) -> f64 {
    let uneven = 1.0e-6 * (1.0 + ((row * 7919) % 97) as f64);
    if row < items {
        1.0 + uneven
    } else {
        (row - items + 1) as f64 + uneven
    }
}
