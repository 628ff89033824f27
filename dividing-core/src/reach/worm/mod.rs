//! Worm heads whole: simple, compound and differential settings of any step.
//!
//! A *step* is what the spindle turns by in one move, an exact part of a turn:
//! 1/N for N divisions, k/N for k divisions a move, 8°50' for angular indexing.
//! With a worm ratio R the crank turns R × step.
//!
//! | method | one move | ask |
//! | --- | --- | --- |
//! | simple | `R·step = turns + h/c` | [`WormReach::simple`] |
//! | compound | `R·step = w + h1/c1 + h2/c2` on one side of one plate | [`WormReach::compound`] |
//! | differential | `t = h/c` free, the plate geared to the spindle by `g = R − t/step` | [`DifferentialReach::settings`], once: [`find_differential`] |
//! | none exact | the nearest of each, and what repeating it does | [`WormReach::nearest_simple`], [`WormReach::nearest_compound`], [`DifferentialReach::nearest`], once: [`find_nearest_differential`]; [`SteppingError`] |
//!
//! A head is prepared once ([`WormReach::new`], [`DifferentialReach::new`]) and
//! asked often.

mod compound;
mod differential;
mod nearest_differential;
mod one_question;
mod simple;
mod stepping;

pub use compound::{CompoundSetting, CompoundSettings, CompoundTerm, NearestCompound};
pub use differential::{
    DifferentialReach, DifferentialSetting, DifferentialSettings, GearPlace, NearestDifferential,
    PlateSense,
};
pub use nearest_differential::find_nearest_differential;
pub use one_question::find_differential;
pub use simple::{NearestSimple, SimpleOrder, SimpleSetting};
pub use stepping::{SectorArms, SteppingError};

pub(crate) use compound::{
    CirclePair, compare as compare_compound, settings_of as compound_settings_of,
};
pub(crate) use differential::{Geared, wrong_sense_closing};

use serde::{Deserialize, Serialize};

use crate::angle::Angle;
use crate::equipment::{WormHead, WormRatio};
use crate::error::{Error, Result};

/// Where a hole circle of a head is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CirclePlace {
    /// The plate, as listed.
    pub plate: usize,
    /// Whether the plate shows its back.
    pub back: bool,
    /// The circle, as listed on that side.
    pub circle: usize,
    /// Holes on the circle.
    pub holes: u32,
}

/// A worm head prepared for questions about simple and compound indexing.
///
/// ```
/// use dividing_core::Angle;
/// use dividing_core::equipment::WormHead;
/// use dividing_core::reach::worm::{SimpleOrder, WormReach};
/// let head: WormHead = serde_json::from_str(r#"{"name": "head", "worm_ratio": 40,
///     "plates": [{"name": "1", "circles": [15, 16, 17, 18, 19, 20]}]}"#)?;
/// let reach = WormReach::new(&head)?;
/// let nine = reach.simple(Angle::new(1, 9)?, SimpleOrder::Handbook)?;
/// assert_eq!((nine[0].turns, nine[0].holes, nine[0].place.holes), (4, 8, 18));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct WormReach {
    ratio: WormRatio,
    /// All circles, the largest first, equal ones as listed.
    circles: Vec<CirclePlace>,
}

impl WormReach {
    /// Prepares a head.
    ///
    /// # Errors
    /// The first thing about the head that does not make sense, with the path
    /// to its field.
    pub fn new(head: &WormHead) -> Result<Self> {
        head.check()?;
        let mut circles = Vec::new();
        for plate in 0..head.plates.len() {
            for back in [false, true] {
                let side = head.side(plate, back).unwrap_or_default();
                // Moves are repeated over every hole, so a circle needs them all.
                let whole = side
                    .iter()
                    .enumerate()
                    .filter(|(_, it)| it.absent.is_empty());
                circles.extend(whole.map(|(circle, it)| CirclePlace {
                    plate,
                    back,
                    circle,
                    holes: it.holes,
                }));
            }
        }
        circles.sort_by_key(|it| std::cmp::Reverse(it.holes));
        Ok(Self {
            ratio: head.worm_ratio,
            circles,
        })
    }

    /// Crank turns for one spindle turn.
    #[must_use]
    pub const fn worm_ratio(&self) -> WormRatio {
        self.ratio
    }

    /// Every whole circle, the largest first, equal ones in the order of the head.
    #[must_use]
    pub fn circles(&self) -> &[CirclePlace] {
        &self.circles
    }

    /// What the crank turns for a step of the spindle, `R × step`.
    ///
    /// # Errors
    /// Overflow when the exact product does not fit.
    pub fn crank_turns(&self, step: Angle) -> Result<Angle> {
        step.checked_mul(self.ratio.numerator())?
            .checked_div(self.ratio.denominator())
    }

    /// What the spindle turns for turns of the crank, `turns / R`.
    ///
    /// # Errors
    /// Overflow when the exact quotient does not fit.
    pub fn spindle_step(&self, crank_turns: Angle) -> Result<Angle> {
        crank_turns
            .checked_mul(self.ratio.denominator())?
            .checked_div(self.ratio.numerator())
    }

    /// The crank turns of a step that must be greater than zero.
    fn crank_turns_of_step(&self, step: Angle) -> Result<Angle> {
        check_step(step)?;
        self.crank_turns(step)
    }
}

/// Refuses a step that does not go on.
fn check_step(step: Angle) -> Result<()> {
    if step > Angle::ZERO {
        Ok(())
    } else {
        Err(Error::out_of_range(step, "a step greater than zero, such as 1/127 turn").at("step"))
    }
}

/// Whole turns and the rest of them, from 0 up to but not including a turn.
fn whole_and_rest(turns: Angle) -> (i128, Angle) {
    let whole = num_integer::Integer::div_floor(&turns.numerator(), &turns.denominator());
    (whole, turns.within_turn())
}
