//! What the bench needs: tables, order, check dimensions, labels, drawings and
//! a drill program.

mod dimensions;
mod dxf;
mod labels;
mod order;
mod program;
#[cfg(feature = "drawing")]
mod svg;
mod table;

pub use dimensions::{CheckDimension, CheckKind, check_dimensions};
pub use dxf::plate_dxf;
pub use labels::{hole_label, ring_letter, ring_stamp};
pub use order::{DrillStop, drilling_order};
pub use program::{DrillStyle, DrillingData, drill_program};
#[cfg(feature = "drawing")]
pub use svg::plate_svg;
pub use table::{Datum, DrillRow, DrillTable, TableOptions, TableUnit, drill_table};

#[cfg(test)]
mod tests;
