//! What repeating a move that is not exact does, and the sector arms.

use serde::{Deserialize, Serialize};

use crate::angle::Angle;
use crate::error::Result;

/// What comes of repeating one move round the turn.
///
/// With the step wanted k/N in lowest terms, N moves close the circle; after j
/// moves the spindle is `j × per_move` off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SteppingError {
    /// Moves that close the circle.
    pub moves: i128,
    /// Made less wanted, for one move.
    pub per_move: Angle,
    /// The largest error of a feature, without sign: that of the last one,
    /// `(N − 1) × |per_move|`.
    pub worst: Angle,
    /// Made less wanted when the circle closes, `N × per_move`.
    pub closing: Angle,
}

impl SteppingError {
    /// The errors of repeating a step `made` where `wanted` is meant.
    ///
    /// # Errors
    /// Overflow when an angle does not fit.
    ///
    /// ```
    /// use dividing_core::Angle;
    /// use dividing_core::reach::worm::SteppingError;
    /// let error = SteppingError::of(Angle::new(1, 127)?, Angle::new(14, 37 * 48)?)?;
    /// assert_eq!(error.closing, Angle::new(1, 888)?);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn of(wanted: Angle, made: Angle) -> Result<Self> {
        let moves = wanted.denominator();
        let per_move = made.checked_sub(wanted)?;
        Ok(Self {
            moves,
            per_move,
            worst: per_move.abs().checked_mul(moves - 1)?,
            closing: per_move.checked_mul(moves)?,
        })
    }
}

/// How the sector arms stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SectorArms {
    /// Hole spaces between the arms.
    pub spaces: u32,
    /// Holes that show between them, the one with the pin included.
    pub holes_shown: u32,
}

impl SectorArms {
    /// The arms for so many hole spaces, whichever way; none for whole turns.
    ///
    /// ```
    /// use dividing_core::reach::worm::SectorArms;
    /// assert_eq!(SectorArms::spanning(8).map(|arms| arms.holes_shown), Some(9));
    /// assert_eq!(SectorArms::spanning(0), None);
    /// ```
    #[must_use]
    pub const fn spanning(spaces: u32) -> Option<Self> {
        if spaces == 0 {
            return None;
        }
        Some(Self {
            spaces,
            holes_shown: spaces.saturating_add(1),
        })
    }
}
