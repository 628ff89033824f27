//! What equipment other than worm heads holds by itself.

use num_integer::Integer;
use serde::{Deserialize, Serialize};

use super::Rows;
use crate::angle::{MAX_TERM, as_f64};
use crate::error::{Error, ErrorKind, Result};
use crate::reach::{OrientationSet, Way};
use crate::work::Meter;

/// What one piece of equipment holds, one entry for each number of divisions.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HeldColumns {
    /// 1 where exact, else 0.
    pub exact: Vec<u8>,
    /// The way that is exact or comes nearest, counted from 0 among the ways of
    /// the piece.
    pub way: Vec<u32>,
    /// The largest residual in turns with the start free, 0 where exact. With
    /// gaps or unequal stations it is that of the largest regular part of the
    /// way, and the whole does no worse.
    pub residual_turns: Vec<f64>,
}

/// Most orientations of an irregular set that are compared one by one.
const MOST_PLACES: i128 = 1_000_000;

/// The columns of the ways of one piece.
pub(super) fn columns(ways: &[Way], rows: &mut Rows<'_, '_>) -> Result<HeldColumns> {
    let mut table = HeldColumns {
        exact: vec![0; rows.count()],
        way: vec![0; rows.count()],
        // Nothing is further off than half a turn.
        residual_turns: vec![0.5; rows.count()],
    };
    for (index, way) in ways.iter().enumerate() {
        let index = u32::try_from(index).unwrap_or(u32::MAX);
        let irregular = irregular_divisions(way.set(), rows.meter);
        rows.complete &= irregular.is_ok();
        let irregular = irregular.unwrap_or_default();
        let orders: Vec<i128> = way.set().cosets().map(|it| it.order()).collect();
        for (row, divisions) in rows.numbers() {
            if !rows.spend(orders.len() as u64) {
                return Ok(table);
            }
            let number = i128::from(divisions);
            let mut least = f64::INFINITY;
            for &order in &orders {
                let common = order.gcd(&number);
                let off = as_f64(number - common) / (2.0 * as_f64(order) * as_f64(number));
                least = least.min(off);
            }
            if irregular.binary_search(&divisions).is_ok() {
                least = 0.0;
            }
            if least < table.residual_turns[row] {
                table.residual_turns[row] = least;
                table.way[row] = index;
                table.exact[row] = u8::from(least == 0.0);
            }
        }
    }
    Ok(table)
}

/// The numbers of divisions that a set of several cosets holds, though none of
/// its cosets does alone, in growing order.
///
/// N places from some start are in the set when a residue modulo 1/N is taken by
/// N of its orientations.
fn irregular_divisions(set: &OrientationSet, meter: &mut Meter<'_>) -> Result<Vec<u32>> {
    let mut parts = 1_i128;
    let mut count = 0_i128;
    if set.cosets().count() < 2 {
        return Ok(Vec::new());
    }
    for coset in set.cosets() {
        meter.spend(1)?;
        count = count.saturating_add(coset.order());
        for term in [coset.order(), coset.offset().denominator()] {
            let grown = (parts / parts.gcd(&term)).checked_mul(term);
            match grown.filter(|it| *it <= MAX_TERM) {
                Some(grown) => parts = grown,
                // No common grid; each coset alone still counts.
                None => return Ok(Vec::new()),
            }
        }
    }
    if count > MOST_PLACES {
        return Err(Error::new(
            ErrorKind::WorkLimit,
            format!("{count} orientations are too many to compare; accepted: {MOST_PLACES}"),
        ));
    }
    meter.spend(u64::try_from(count).unwrap_or(u64::MAX))?;
    let mut places = Vec::new();
    for coset in set.cosets() {
        let offset = coset.offset();
        let start = offset.numerator() * (parts / offset.denominator());
        let stride = parts / coset.order();
        places.extend((0..coset.order()).map(|step| start + step * stride));
    }
    places.sort_unstable();
    places.dedup();
    let mut found = Vec::new();
    let most = i128::try_from(places.len()).unwrap_or(0);
    for divisions in 2..=most {
        meter.spend(1)?;
        if parts % divisions != 0 {
            continue;
        }
        meter.spend(u64::try_from(most).unwrap_or(u64::MAX))?;
        let period = parts / divisions;
        let mut residues: Vec<i128> = places.iter().map(|place| place % period).collect();
        residues.sort_unstable();
        let held = residues
            .chunk_by(|a, b| a == b)
            .any(|same| i128::try_from(same.len()).is_ok_and(|taken| taken == divisions));
        if held && let Ok(divisions) = u32::try_from(divisions) {
            found.push(divisions);
        }
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::Angle;
    use crate::reach::Coset;

    #[test]
    fn gaps_leave_the_divisions_that_miss_them() {
        // Twelve holes without hole 3: 2, 3, 4 and 6 divisions still go, 12 does not.
        let holes = (0..12).filter(|hole| *hole != 3);
        let set = OrientationSet::from_cosets(
            holes.map(|hole| Coset::new(Angle::new(hole, 12).unwrap(), 1).unwrap()),
        )
        .unwrap();
        let found = irregular_divisions(&set, &mut Meter::default()).unwrap();
        assert_eq!(found, [2, 3, 4, 6]);
    }
}
