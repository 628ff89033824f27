//! Whole tables: a range of divisions against everything a workshop owns.
//!
//! [`exact_table`] says which divisions each piece of equipment makes exactly,
//! method by method; [`indexing_table`] gives the best setting of each as well,
//! and [`stepping_table`] the nearest move to be repeated, with its errors.
//! Tables are structures of arrays: a column is one vector with an entry for
//! each number of divisions, so that faces of the library hand it on as it is.
//!
//! The cost: simple indexing looks at every circle for every number, compound at
//! every pair of circles; differential turns the question round and lists the
//! divisors of every whole number `c·(R − g)`, for N divisions with h holes a move
//! need `N·h = c·(R − g)`. So it grows with the ratios of the gears (the fourth
//! power of their number at two pairs) and hardly with the range.

mod held;
mod stepping;
mod worm;

pub use held::HeldColumns;
pub use stepping::{
    SeveralDivisionsColumns, SteppingColumns, SteppingSection, SteppingTable, stepping_table,
};
pub use worm::{CompoundColumns, DifferentialColumns, SimpleColumns};

use serde::{Deserialize, Serialize};

use crate::equipment::{Equipment, Workshop};
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::reach::{self, Way};
use crate::work::Meter;

/// Largest number of divisions of a table.
pub const MAX_DIVISIONS: u32 = 1_000_000;

/// A method of indexing, for one piece of equipment.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum TableMethod {
    /// Simple indexing on a worm head.
    Simple,
    /// Compound indexing on a worm head.
    Compound,
    /// Differential indexing on a worm head with change gears.
    Differential,
    /// Whatever another piece of equipment holds by itself.
    Held,
}

/// Which divisions one method of one piece makes exactly.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ExactSection {
    /// The piece of equipment, by its place in the workshop.
    pub equipment: usize,
    /// The method.
    pub method: TableMethod,
    /// 1 where exact, else 0; entry i is for `first + i` divisions.
    pub exact: Vec<u8>,
}

/// Which divisions a workshop makes exactly.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ExactTable {
    /// The first number of divisions.
    pub first: u32,
    /// The last.
    pub last: u32,
    /// By equipment, in the order of the workshop, and method.
    pub sections: Vec<ExactSection>,
    /// Whether all was looked at; where not, a 1 still is exact and a 0 may be.
    pub complete: bool,
}

/// The best settings of one method of one piece.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TableSection {
    /// The piece of equipment, by its place in the workshop.
    pub equipment: usize,
    /// The columns of its method.
    pub columns: TableColumns,
}

/// Columns, by method.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum TableColumns {
    /// Simple indexing.
    Simple(SimpleColumns),
    /// Compound indexing.
    Compound(CompoundColumns),
    /// Differential indexing.
    Differential(DifferentialColumns),
    /// Other equipment.
    Held(HeldColumns),
}

impl TableColumns {
    /// The method.
    #[must_use]
    pub const fn method(&self) -> TableMethod {
        match self {
            Self::Simple(_) => TableMethod::Simple,
            Self::Compound(_) => TableMethod::Compound,
            Self::Differential(_) => TableMethod::Differential,
            Self::Held(_) => TableMethod::Held,
        }
    }

    /// 1 where exact, else 0.
    #[must_use]
    pub fn exact(&self) -> &[u8] {
        match self {
            Self::Simple(it) => &it.exact,
            Self::Compound(it) => &it.exact,
            Self::Differential(it) => &it.exact,
            Self::Held(it) => &it.exact,
        }
    }
}

/// The best settings of every method for a range of divisions.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct IndexingTable {
    /// The first number of divisions.
    pub first: u32,
    /// The last.
    pub last: u32,
    /// By equipment, in the order of the workshop, and method.
    pub sections: Vec<TableSection>,
    /// Whether all was looked at. Where not, what is marked exact is, a better
    /// setting may exist, and a row with nothing in it may not be settled.
    pub complete: bool,
}

/// The numbers of divisions of a table, and the budget with what became of it.
struct Rows<'m, 'w> {
    first: u32,
    last: u32,
    meter: &'m mut Meter<'w>,
    complete: bool,
}

impl<'m, 'w> Rows<'m, 'w> {
    fn new(first: u32, last: u32, meter: &'m mut Meter<'w>) -> Result<Self> {
        if !(1..=MAX_DIVISIONS).contains(&first) {
            return Err(Error::out_of_range(
                format!("{first} divisions"),
                format!("1 to {MAX_DIVISIONS}"),
            ))
            .at("first");
        }
        if !(first..=MAX_DIVISIONS).contains(&last) {
            return Err(Error::out_of_range(
                format!("{last} divisions"),
                format!("{first} to {MAX_DIVISIONS}"),
            ))
            .at("last");
        }
        Ok(Self {
            first,
            last,
            meter,
            complete: true,
        })
    }

    fn count(&self) -> usize {
        (self.last - self.first) as usize + 1
    }

    /// Each number of divisions with its row.
    fn numbers(&self) -> impl Iterator<Item = (usize, u32)> + use<> {
        (self.first..=self.last).enumerate()
    }

    /// The row of a number of divisions, if the table has it.
    fn row_of(&self, divisions: u64) -> Option<usize> {
        let divisions = u32::try_from(divisions).ok()?;
        (self.first..=self.last)
            .contains(&divisions)
            .then(|| (divisions - self.first) as usize)
    }

    /// The ways of one piece, those found so far where the budget ran out.
    fn ways_of_piece(&mut self, workshop: &Workshop, equipment: usize) -> Result<Vec<Way>> {
        let mut ways = Vec::new();
        match reach::ways_of_piece(workshop, equipment, &mut ways, self.meter) {
            Ok(()) => self.complete &= self.meter.left_out().is_empty(),
            Err(error) if matches!(error.kind(), ErrorKind::WorkLimit | ErrorKind::Cancelled) => {
                self.complete = false;
            }
            Err(error) => return Err(error),
        }
        Ok(ways)
    }

    /// Takes work from the budget; once it is spent everything stops.
    fn spend(&mut self, steps: u64) -> bool {
        self.complete = self.complete && self.meter.spend(steps).is_ok();
        self.complete
    }
}

/// Which of `first` to `last` divisions everything in a workshop makes exactly.
///
/// When the budget runs out, or the caller stops it, the table is marked
/// incomplete.
///
/// # Errors
/// A range outside 1 to [`MAX_DIVISIONS`]; overflow when an angle of the
/// equipment does not fit.
///
/// ```
/// use dividing_core::Workshop;
/// use dividing_core::tables::{TableMethod, exact_table};
/// use dividing_core::work::Meter;
/// let workshop = Workshop::from_json(r#"{"format": 1, "name": "w", "equipment": [
///     {"worm_head": {"name": "head", "worm_ratio": 40,
///      "plates": [{"name": "2", "circles": [21, 23, 27, 29, 31, 33]}]}}]}"#)?;
/// let table = exact_table(&workshop, 2, 100, &mut Meter::default())?;
/// let compound = &table.sections[1];
/// assert_eq!(compound.method, TableMethod::Compound);
/// assert_eq!((compound.exact[93 - 2], compound.exact[97 - 2]), (1, 0));
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn exact_table(
    workshop: &Workshop,
    first: u32,
    last: u32,
    meter: &mut Meter<'_>,
) -> Result<ExactTable> {
    let mut rows = Rows::new(first, last, meter)?;
    let mut sections = Vec::new();
    for (equipment, piece) in workshop.equipment().iter().enumerate() {
        let mut add = |method, exact| {
            sections.push(ExactSection {
                equipment,
                method,
                exact,
            });
        };
        match piece {
            Equipment::WormHead(head) => {
                let tables = worm::HeadTables::new(head, &mut rows)?;
                add(TableMethod::Simple, tables.simple_exact(&mut rows));
                add(TableMethod::Compound, tables.compound_exact(&mut rows));
                if let Some(exact) = tables.differential_exact(&mut rows) {
                    add(TableMethod::Differential, exact);
                }
            }
            Equipment::VeeBlock(_) => {}
            _ => {
                let ways = rows.ways_of_piece(workshop, equipment)?;
                add(TableMethod::Held, held::columns(&ways, &mut rows)?.exact);
            }
        }
    }
    Ok(ExactTable {
        first,
        last,
        sections,
        complete: rows.complete,
    })
}

/// The best setting of every method of every piece for `first` to `last`
/// divisions, and the nearest of simple indexing where none is exact.
///
/// When the budget runs out, or the caller stops it, the table is marked
/// incomplete.
///
/// # Errors
/// As [`exact_table`].
///
/// ```
/// use dividing_core::Workshop;
/// use dividing_core::tables::{TableColumns, indexing_table};
/// use dividing_core::work::Meter;
/// let workshop = Workshop::from_json(r#"{"format": 1, "name": "w", "equipment": [
///     {"worm_head": {"name": "head", "worm_ratio": 40,
///      "plates": [{"name": "1", "circles": [15, 16, 17, 18, 19, 20]}]}}]}"#)?;
/// let table = indexing_table(&workshop, 2, 10_000, &mut Meter::default())?;
/// let TableColumns::Simple(simple) = &table.sections[0].columns else { panic!() };
/// let nine = 9 - 2;
/// assert_eq!((simple.turns[nine], simple.holes[nine], simple.circle[nine]), (4, 8, 18));
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn indexing_table(
    workshop: &Workshop,
    first: u32,
    last: u32,
    meter: &mut Meter<'_>,
) -> Result<IndexingTable> {
    let mut rows = Rows::new(first, last, meter)?;
    let mut sections = Vec::new();
    for (equipment, piece) in workshop.equipment().iter().enumerate() {
        let mut add = |columns| sections.push(TableSection { equipment, columns });
        match piece {
            Equipment::WormHead(head) => {
                let tables = worm::HeadTables::new(head, &mut rows)?;
                add(TableColumns::Simple(tables.simple(&mut rows)));
                add(TableColumns::Compound(tables.compound(&mut rows)));
                if let Some(columns) = tables.differential(&mut rows) {
                    add(TableColumns::Differential(columns));
                }
            }
            Equipment::VeeBlock(_) => {}
            _ => {
                let ways = rows.ways_of_piece(workshop, equipment)?;
                add(TableColumns::Held(held::columns(&ways, &mut rows)?));
            }
        }
    }
    Ok(IndexingTable {
        first,
        last,
        sections,
        complete: rows.complete,
    })
}
