//! Tables of moves to be repeated: for every number of divisions the nearest move
//! of each method of a worm head, and what repeating it does.
//!
//! Simple: N moves of the nearest hole. With k divisions a move, k prime to N,
//! k·R·c/N comes as near to a whole number as g/N for a whole R, g = gcd(R·c, N),
//! and no nearer: k is the inverse of R·c/g modulo N/g. The turn then closes g
//! hole spaces off. With a fraction in R some k bring it nearer, or make it exact.
//!
//! Differential: a move of h holes with the gears of R − g makes h/X for
//! X = c·(R − g), so the nearest to 1/N is the X nearest to h·N. The X are sorted
//! once, and every h up to X/N is looked up, which over a range costs as much as
//! the harmonic sum of X/N.

use num_integer::Integer;
use serde::{Deserialize, Serialize};

use super::worm::{CompoundColumns, DifferentialColumns, HeadTables, SimpleColumns};
use super::{Rows, TableColumns};
use crate::angle::{Angle, as_f64};
use crate::equipment::{Equipment, Workshop};
use crate::error::{Error, ErrorKind, Result};
use crate::work::Meter;

/// What repeating one move does, one entry for each number of divisions; zeros
/// where it is exact.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SteppingColumns {
    /// Made less wanted for one division, in turns.
    pub per_division_turns: Vec<f64>,
    /// The largest error over the turn, that of the last division: without sign,
    /// in turns.
    pub worst_turns: Vec<f64>,
    /// How far off the turn closes, in turns.
    pub closing_turns: Vec<f64>,
}

/// Simple moves of several divisions, which visit every place in another order.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SeveralDivisionsColumns {
    /// Divisions a move, prime to the number of divisions; 1 where nothing is
    /// nearer than single divisions.
    pub divisions: Vec<u32>,
    /// The plate, as listed.
    pub plate: Vec<u32>,
    /// 1 where the plate shows its back, else 0.
    pub back: Vec<u8>,
    /// Holes on the circle.
    pub circle: Vec<u32>,
    /// Whole crank turns of a move.
    pub turns: Vec<u32>,
    /// Holes beyond them.
    pub holes: Vec<u32>,
    /// Made less wanted for one move, in turns.
    pub per_move_turns: Vec<f64>,
    /// The largest error over all moves, without sign, in turns.
    pub worst_turns: Vec<f64>,
    /// How far off the last of all moves closes, in turns.
    pub closing_turns: Vec<f64>,
}

/// One method of one worm head.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SteppingSection {
    /// The piece of equipment, by its place in the workshop.
    pub equipment: usize,
    /// The nearest moves, exact ones marked.
    pub moves: TableColumns,
    /// What repeating them does.
    pub errors: SteppingColumns,
    /// For simple indexing: moves of several divisions.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub several_divisions: Option<SeveralDivisionsColumns>,
}

/// The nearest moves of every method for a range of divisions.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SteppingTable {
    /// The first number of divisions.
    pub first: u32,
    /// The last.
    pub last: u32,
    /// By equipment, in the order of the workshop, and method.
    pub sections: Vec<SteppingSection>,
    /// Whether all was looked at. Where not, rows may hold no move, or one that
    /// is not the nearest.
    pub complete: bool,
}

/// The nearest move of every method of every worm head for `first` to `last`
/// divisions, to be repeated round the turn.
///
/// Other equipment has no moves to repeat: each of its settings stands by itself,
/// see [`indexing_table`](super::indexing_table).
///
/// # Errors
/// As [`exact_table`](super::exact_table).
///
/// ```
/// use dividing_core::Workshop;
/// use dividing_core::tables::{TableColumns, stepping_table};
/// use dividing_core::work::Meter;
/// let workshop = Workshop::from_json(r#"{"format": 1, "name": "w", "equipment": [
///     {"worm_head": {"name": "head", "worm_ratio": 40,
///      "plates": [{"name": "3", "circles": [37, 39, 41, 43, 47, 49]}]}}]}"#)?;
/// let table = stepping_table(&workshop, 127, 127, &mut Meter::default())?;
/// let simple = &table.sections[0];
/// let TableColumns::Simple(moves) = &simple.moves else { panic!() };
/// assert_eq!((moves.exact[0], moves.turns[0]), (0, 0));
/// let closing = simple.errors.closing_turns[0];
/// assert!((closing - 127.0 * simple.errors.per_division_turns[0]).abs() < 1e-12);
/// // With several divisions a move the turn closes a single hole space off.
/// let several = simple.several_divisions.as_ref().expect("simple indexing");
/// assert!((several.closing_turns[0].abs() - 1.0 / (40.0 * 49.0)).abs() < 1e-12);
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn stepping_table(
    workshop: &Workshop,
    first: u32,
    last: u32,
    meter: &mut Meter<'_>,
) -> Result<SteppingTable> {
    let mut rows = Rows::new(first, last, meter)?;
    let mut sections = Vec::new();
    for (equipment, piece) in workshop.equipment().iter().enumerate() {
        let Equipment::WormHead(head) = piece else {
            continue;
        };
        let tables = HeadTables::new(head, &mut rows)?;
        let (moves, errors) = simple(&tables, &mut rows);
        sections.push(SteppingSection {
            equipment,
            moves: TableColumns::Simple(moves),
            errors,
            several_divisions: Some(several(&tables, &mut rows)),
        });
        let (moves, errors) = compound(&tables, &mut rows)?;
        sections.push(SteppingSection {
            equipment,
            moves: TableColumns::Compound(moves),
            errors,
            several_divisions: None,
        });
        if let Some((moves, errors)) = differential(&tables, &mut rows) {
            sections.push(SteppingSection {
                equipment,
                moves: TableColumns::Differential(moves),
                errors,
                several_divisions: None,
            });
        }
    }
    Ok(SteppingTable {
        first,
        last,
        sections,
        complete: rows.complete,
    })
}

impl SteppingColumns {
    fn of(count: usize) -> Self {
        Self {
            per_division_turns: vec![0.0; count],
            worst_turns: vec![0.0; count],
            closing_turns: vec![0.0; count],
        }
    }

    fn put(&mut self, row: usize, divisions: u32, per_division_turns: f64) {
        let number = f64::from(divisions);
        self.per_division_turns[row] = per_division_turns;
        self.worst_turns[row] = per_division_turns.abs() * (number - 1.0);
        self.closing_turns[row] = per_division_turns * number;
    }
}

/// The hole spaces of a circle nearest to `turns` of the crank over `over`, halves
/// up, and what is left, over `over` hole spaces.
fn nearest_spaces(turns: i128, over: i128, circle: u32) -> (i128, i128) {
    let spaces = turns * i128::from(circle);
    let rounded = (2 * spaces + over).div_euclid(2 * over);
    (rounded, rounded * over - spaces)
}

/// Counts of turns and holes of so many hole spaces.
fn turns_and_holes(spaces: i128, circle: u32) -> (u32, u32) {
    let (turns, holes) = spaces.div_rem(&circle.into());
    (
        u32::try_from(turns).unwrap_or(u32::MAX),
        u32::try_from(holes).unwrap_or(0),
    )
}

fn simple(tables: &HeadTables, rows: &mut Rows<'_, '_>) -> (SimpleColumns, SteppingColumns) {
    let mut moves = SimpleColumns::of(rows.count());
    let mut errors = SteppingColumns::of(rows.count());
    let ratio = tables.worm().worm_ratio();
    let circles = tables.worm().circles();
    for (row, divisions) in rows.numbers() {
        if !rows.spend(circles.len() as u64) {
            break;
        }
        let over = ratio.denominator() * i128::from(divisions);
        let mut best: Option<(i128, i128, usize)> = None;
        for (index, place) in circles.iter().enumerate() {
            let (spaces, left) = nearest_spaces(ratio.numerator(), over, place.holes);
            // Off by left/(over·circle) turns of the crank; the larger circle stays.
            let nearer = best.is_none_or(|(_, kept, at)| {
                left.abs() * i128::from(circles[at].holes) < kept.abs() * i128::from(place.holes)
            });
            if nearer {
                best = Some((spaces, left, index));
            }
        }
        if let Some((spaces, left, index)) = best {
            let place = circles[index];
            moves.put(row, place);
            moves.exact[row] = u8::from(left == 0);
            (moves.turns[row], moves.holes[row]) = turns_and_holes(spaces, place.holes);
            // Turns of the crank over R.
            let below = i128::from(divisions) * i128::from(place.holes) * ratio.numerator();
            errors.put(row, divisions, as_f64(left) / as_f64(below));
            moves.closing_turns[row] = errors.closing_turns[row];
        }
    }
    (moves, errors)
}

/// Moves of several divisions: for every circle the best k, then the best circle.
fn several(tables: &HeadTables, rows: &mut Rows<'_, '_>) -> SeveralDivisionsColumns {
    let count = rows.count();
    let mut columns = SeveralDivisionsColumns {
        divisions: vec![1; count],
        plate: vec![0; count],
        back: vec![0; count],
        circle: vec![0; count],
        turns: vec![0; count],
        holes: vec![0; count],
        per_move_turns: vec![0.0; count],
        worst_turns: vec![0.0; count],
        closing_turns: vec![0.0; count],
    };
    let ratio = tables.worm().worm_ratio();
    for (row, divisions) in rows.numbers() {
        if !rows.spend(8 * tables.worm().circles().len() as u64) {
            break;
        }
        let number = i128::from(divisions);
        let over = ratio.denominator() * number;
        let mut best: Option<(i128, i128, i128, usize)> = None;
        for (index, place) in tables.worm().circles().iter().enumerate() {
            let all = ratio.numerator() * i128::from(place.holes);
            let mut consider = |k: i128| {
                let (spaces, left) = nearest_spaces(k * ratio.numerator(), over, place.holes);
                let nearer = spaces > 0
                    && best.is_none_or(|(_, _, kept, at)| {
                        let their = i128::from(tables.worm().circles()[at].holes);
                        left.abs() * their < kept.abs() * i128::from(place.holes)
                    });
                if nearer {
                    best = Some((k, spaces, left, index));
                }
                spaces > 0
            };
            // Single divisions where nothing is nearer.
            consider(1);
            // k·all comes `off` times the common divisor from a multiple of `over`.
            let common = all.gcd(&over);
            let rest = over / common;
            let inverse = Integer::mod_floor(&(all / common % rest).extended_gcd(&rest).x, &rest);
            for off in 0..=rest / 2 {
                if !rows.spend(1) {
                    return columns;
                }
                let mut found = false;
                for side in [off, -off] {
                    let first = Integer::mod_floor(&(side * inverse), &rest);
                    // Of the k that differ by the rest the first that serves.
                    let prime = (first..number)
                        .step_by(usize::try_from(rest).unwrap_or(usize::MAX))
                        .find(|k| *k > 0 && k.gcd(&number) == 1);
                    found |= prime.is_some_and(&mut consider);
                }
                if found {
                    break;
                }
            }
        }
        if let Some((k, spaces, left, index)) = best {
            let place = tables.worm().circles()[index];
            columns.divisions[row] = u32::try_from(k).unwrap_or(1);
            columns.plate[row] = u32::try_from(place.plate).unwrap_or(u32::MAX);
            columns.back[row] = u8::from(place.back);
            columns.circle[row] = place.holes;
            (columns.turns[row], columns.holes[row]) = turns_and_holes(spaces, place.holes);
            let below = number * i128::from(place.holes) * ratio.numerator();
            let per_move = as_f64(left) / as_f64(below);
            columns.per_move_turns[row] = per_move;
            columns.worst_turns[row] = per_move.abs() * as_f64(number - 1);
            columns.closing_turns[row] = per_move * as_f64(number);
        }
    }
    columns
}

fn compound(
    tables: &HeadTables,
    rows: &mut Rows<'_, '_>,
) -> Result<(CompoundColumns, SteppingColumns)> {
    let mut moves = tables.compound(rows);
    let mut errors = SteppingColumns::of(rows.count());
    if !rows.complete {
        return Ok((moves, errors));
    }
    for (row, divisions) in rows.numbers() {
        if moves.exact[row] == 1 {
            continue;
        }
        let step = Angle::new(1, divisions.into())?;
        match tables.worm().nearest_compound(step, rows.meter) {
            Ok(nearest) => {
                rows.complete &= nearest.complete;
                moves.put(row, &nearest.setting);
                moves.exact[row] = u8::from(nearest.error.per_move.is_zero());
                errors.put(row, divisions, nearest.error.per_move.to_turns_f64());
            }
            // No two circles on one side: no row has a move.
            Err(error) if error.kind() == ErrorKind::NotFound => break,
            Err(error) if is_a_stop(&error) => {
                rows.complete = false;
                break;
            }
            Err(error) => return Err(error),
        }
    }
    Ok((moves, errors))
}

fn is_a_stop(error: &Error) -> bool {
    matches!(error.kind(), ErrorKind::WorkLimit | ErrorKind::Cancelled)
}

fn differential(
    tables: &HeadTables,
    rows: &mut Rows<'_, '_>,
) -> Option<(DifferentialColumns, SteppingColumns)> {
    let mut moves = tables.differential(rows)?;
    let mut errors = SteppingColumns::of(rows.count());
    let (geared, circles) = (tables.geared(), tables.worm().circles());
    // X with its ratio and circle; sorting counts some steps each.
    let mut all: Vec<(f64, u32, u32)> = Vec::new();
    if !rows.spend(4 * (geared.len() as u64).saturating_mul(circles.len() as u64)) {
        return Some((moves, errors));
    }
    for (rank, it) in (0_u32..).zip(geared) {
        let turns = as_f64(it.crank.0.into()) / as_f64(it.crank.1.into());
        for (circle, place) in (0_u32..).zip(circles) {
            all.push((turns * f64::from(place.holes), rank, circle));
        }
    }
    all.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    let Some(&(largest, ..)) = all.last() else {
        return Some((moves, errors));
    };
    for (row, divisions) in rows.numbers() {
        if moves.exact[row] == 1 {
            continue;
        }
        let number = f64::from(divisions);
        let mut best: Option<(f64, f64, usize)> = None;
        let mut spaces = 1.0;
        // One move beyond the largest X, for the nearest to it from below.
        while spaces < 1.5 || spaces * number <= largest + number {
            if !rows.spend(1) {
                return Some((moves, errors));
            }
            let wanted = spaces * number;
            let next = all.partition_point(|it| it.0 < wanted);
            for index in [next.checked_sub(1), Some(next)].into_iter().flatten() {
                let Some(&(x, ..)) = all.get(index) else {
                    continue;
                };
                let off = spaces / x - 1.0 / number;
                if best.is_none_or(|(least, ..)| off.abs() < least.abs()) {
                    best = Some((off, spaces, index));
                }
            }
            spaces += 1.0;
        }
        if let Some((off, spaces, index)) = best
            && let Some(&(_, rank, circle)) = all.get(index)
            && let (Some(geared), Some(place)) =
                (geared.get(rank as usize), circles.get(circle as usize))
        {
            #[allow(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a count from 1 to some 10⁹"
            )]
            tables.put_differential(&mut moves, row, geared, *place, spaces as u64);
            moves.exact[row] = 0;
            errors.put(row, divisions, off);
        }
    }
    Some((moves, errors))
}
