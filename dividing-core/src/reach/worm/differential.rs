//! Differential indexing: the plate geared to the spindle.
//!
//! A move of the crank by t on the plate while the spindle turns by the step and
//! the plate by g times that: `t + g·step = R·step`, so `t = step·(R − g)`. For
//! every g that the gears make, with the crank or against it, t is given; it is
//! a setting when t is a whole number of holes of a circle. Nothing else is
//! searched, so that every exact setting is found.
//!
//! The source of the relation is *Practical Treatise on Milling and Milling
//! Machines* (1914), pp. 54 to 57: `40 − N·t` turns of the plate for one of the
//! spindle, positive when plate and crank turn the same way.

use num_integer::Integer;
use serde::{Deserialize, Serialize};

use super::one_question::gears_of;
use super::simple::nearest_multiple;
use super::stepping::{SectorArms, SteppingError};
use super::{CirclePlace, WormReach, check_step};
use crate::angle::{Angle, as_f64};
use crate::equipment::{ChangeGears, WormHead, WormRatio};
use crate::error::{Error, ErrorKind, Result};
use crate::gearing::{RatioIndex, Train};
use crate::work::Meter;

/// Which way the plate turns against the crank.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PlateSense {
    /// The same way as the crank.
    WithCrank,
    /// The opposite way.
    AgainstCrank,
}

/// Where a gear of the train sits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum GearPlace {
    /// On the spindle: the first driver.
    Spindle,
    /// On a stud, turned by the gear before it.
    StudDriven {
        /// The stud, from 1 at the spindle.
        stud: usize,
    },
    /// On the same stud, turning the gear after it.
    StudDriver {
        /// The stud, from 1 at the spindle.
        stud: usize,
    },
    /// On the shaft that turns the plate: the last driven gear.
    PlateShaft,
}

impl GearPlace {
    /// The gears of a train with their places, from the spindle to the plate.
    ///
    /// ```
    /// use dividing_core::gearing::Train;
    /// use dividing_core::reach::worm::GearPlace;
    /// let train = Train::new(&[72, 64], &[24, 48])?;
    /// let places = GearPlace::of(&train);
    /// assert_eq!(places[1], (GearPlace::StudDriven { stud: 1 }, 24));
    /// assert_eq!(places[3], (GearPlace::PlateShaft, 48));
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    #[must_use]
    pub fn of(train: &Train) -> Vec<(Self, u16)> {
        let last = train.pairs() * 2 - 1;
        let place = |index: usize| match index {
            0 => Self::Spindle,
            index if index == last => Self::PlateShaft,
            index if index % 2 == 1 => Self::StudDriven {
                stud: index.div_ceil(2),
            },
            index => Self::StudDriver {
                stud: index.div_ceil(2),
            },
        };
        train
            .gears()
            .enumerate()
            .map(|(index, gear)| (place(index), gear.teeth))
            .collect()
    }
}

/// One move of differential indexing with its train.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DifferentialSetting {
    /// The circle.
    pub place: CirclePlace,
    /// Whole turns of the crank on the plate.
    pub turns: i128,
    /// Holes beyond them.
    pub holes: u32,
    /// Turns of the plate for one turn of the spindle, below zero against the
    /// crank.
    pub plate_turns: Angle,
    /// The same as a sense.
    pub sense: PlateSense,
    /// The gears: the first driver on the spindle, the last driven on the shaft
    /// of the plate. Of the trains of one ratio the one that meshes best.
    pub train: Train,
    /// Idlers, by the convention of the head.
    pub idlers: u32,
    /// How far off the closing is when the plate turns the wrong way; none when
    /// the spindle could not turn at all.
    pub wrong_sense_closing: Option<Angle>,
}

impl DifferentialSetting {
    /// Turns of the crank on the plate for one move, exactly.
    ///
    /// # Errors
    /// Overflow when they do not fit.
    pub fn crank_turns(&self) -> Result<Angle> {
        let part = Angle::new(self.holes.into(), self.place.holes.into())?;
        part.checked_add(Angle::new(self.turns, 1)?)
    }

    /// Hole spaces of one move, whole turns counted.
    #[must_use]
    pub fn spaces(&self) -> i128 {
        self.turns
            .saturating_mul(self.place.holes.into())
            .saturating_add(self.holes.into())
    }

    /// The sector arms; none where the move is whole turns.
    #[must_use]
    pub const fn sector_arms(&self) -> Option<SectorArms> {
        SectorArms::spanning(self.holes)
    }
}

/// All differential settings of a step.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DifferentialSettings {
    /// The best first: fewest gears, then the slowest plate (smallest |g|), then
    /// with the crank before against it, then the larger circle, then the order
    /// of the head. Of each ratio the train that meshes best.
    pub settings: Vec<DifferentialSetting>,
    /// Whether these are all; false when the budget ran out.
    pub complete: bool,
}

/// The move of differential indexing nearest to a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NearestDifferential {
    /// The move and the train.
    pub setting: DifferentialSetting,
    /// What the spindle turns by.
    pub made: Angle,
    /// What repeating the move does.
    pub error: SteppingError,
    /// Whether every train and circle was looked at.
    pub complete: bool,
}

/// One ratio of the gears in one sense: R − g in lowest terms, greater than zero.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Geared {
    /// R − g.
    pub(crate) crank: (u64, u64),
    /// |g| and its sense.
    size: (u64, u64),
    pub(crate) sense: PlateSense,
    pub(crate) train: Train,
}

/// A worm head with change gears, prepared for questions.
///
/// ```
/// use dividing_core::Angle;
/// use dividing_core::equipment::WormHead;
/// use dividing_core::reach::worm::{DifferentialReach, PlateSense};
/// use dividing_core::work::Meter;
/// let head: WormHead = serde_json::from_str(r#"{"name": "head", "worm_ratio": 40,
///     "plates": [{"name": "1", "circles": [15, 16, 17, 18, 19, 20]}],
///     "change_gears": {"gears": [24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100]}}"#)?;
/// let meter = &mut Meter::default();
/// let reach = DifferentialReach::new(&head, meter)?;
/// let best = reach.best(Angle::new(1, 127)?, meter)?.expect("127 can be done");
/// // A third of a turn a move; the plate −7/3 turns a turn of the spindle.
/// assert_eq!((best.holes, best.place.holes), (6, 18));
/// assert_eq!(best.sense, PlateSense::AgainstCrank);
/// assert_eq!(best.train.to_string(), "56/24");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct DifferentialReach {
    worm: WormReach,
    gears: ChangeGears,
    /// In the documented order.
    geared: Vec<Geared>,
    complete: bool,
}

impl DifferentialReach {
    /// Prepares a head with the trains that its bracket takes.
    ///
    /// Lists every ratio of the gears (see [`RatioIndex`]); where the budget does
    /// not hold them all, every answer is marked incomplete.
    ///
    /// # Errors
    /// [`ErrorKind::NotFound`] when the head has no change gears; the first
    /// thing about the head that does not make sense; the work limit.
    pub fn new(head: &WormHead, meter: &mut Meter<'_>) -> Result<Self> {
        let worm = WormReach::new(head)?;
        let gears = gears_of(head)?.clone();
        let pairs = usize::from(gears.most_pairs);
        let index = RatioIndex::build(&gears.gears, pairs, gears.mesh, meter)?;
        let complete = index.complete() && meter.spend(index.len() as u64).is_ok();
        let mut geared = Vec::with_capacity(index.len() * 2);
        // By number of pairs, each by growing ratio: the documented order.
        for pairs in 1..=pairs {
            for (terms, train) in index.terms().filter(|(_, train)| train.pairs() == pairs) {
                geared.extend(
                    [PlateSense::WithCrank, PlateSense::AgainstCrank]
                        .into_iter()
                        .filter_map(|sense| Geared::new(&worm, &gears, terms, sense, *train)),
                );
            }
        }
        Ok(Self {
            worm,
            gears,
            geared,
            complete,
        })
    }

    /// The head without its gears.
    #[must_use]
    pub const fn worm(&self) -> &WormReach {
        &self.worm
    }

    /// Whether the budget held every train of the gears.
    #[must_use]
    pub const fn complete(&self) -> bool {
        self.complete
    }

    /// Every ratio of the gears in either sense, the best first.
    pub(crate) fn geared(&self) -> &[Geared] {
        &self.geared
    }

    /// Every exact setting of a step, the best first; of each ratio of the gears
    /// the train that meshes best.
    ///
    /// # Errors
    /// A step that is not greater than zero; overflow. When the budget runs out
    /// the list is marked incomplete.
    pub fn settings(&self, step: Angle, meter: &mut Meter<'_>) -> Result<DifferentialSettings> {
        Ok(self.find(step, usize::MAX, meter)?.0)
    }

    /// The best exact setting of a step, if there is one.
    ///
    /// # Errors
    /// A step that is not greater than zero; overflow; the work limit when none
    /// was found before it.
    pub fn best(&self, step: Angle, meter: &mut Meter<'_>) -> Result<Option<DifferentialSetting>> {
        let (found, stopped) = self.find(step, 1, meter)?;
        match (found.settings.first(), stopped) {
            (Some(best), _) => Ok(Some(*best)),
            (None, Some(error)) => Err(error),
            (None, None) if self.complete => Ok(None),
            (None, None) => Err(Error::new(
                ErrorKind::WorkLimit,
                "the budget did not hold every train of the gears, and those it held give no \
                 setting; give it a larger limit or fewer gears",
            )),
        }
    }

    /// At most `most` settings, and the error of the meter where it stopped the
    /// search.
    pub(crate) fn find(
        &self,
        step: Angle,
        most: usize,
        meter: &mut Meter<'_>,
    ) -> Result<(DifferentialSettings, Option<Error>)> {
        check_step(step)?;
        let mut found = DifferentialSettings {
            settings: Vec::new(),
            complete: self.complete,
        };
        let largest = self.worm.circles().first().map_or(0, |it| it.holes);
        for geared in &self.geared {
            if let Err(error) = meter.spend(1) {
                found.complete = false;
                return Ok((found, Some(error)));
            }
            let Some((spaces, parts)) = geared.crank_move(step, largest)? else {
                continue;
            };
            for &place in self.worm.circles() {
                if place.holes.is_multiple_of(parts) {
                    let crank = spaces
                        .checked_mul((place.holes / parts).into())
                        .ok_or_else(|| Error::overflow("a count of hole spaces"))?;
                    found
                        .settings
                        .push(self.setting(geared, place, crank, step)?);
                    if found.settings.len() >= most {
                        return Ok((found, None));
                    }
                }
            }
        }
        Ok((found, None))
    }

    /// The setting of a ratio with so many hole spaces a move.
    pub(crate) fn setting(
        &self,
        geared: &Geared,
        place: CirclePlace,
        spaces: i128,
        step: Angle,
    ) -> Result<DifferentialSetting> {
        Self::setting_of(&self.worm, &self.gears, geared, place, spaces, step)
    }

    /// The same for a head that is not prepared.
    pub(super) fn setting_of(
        worm: &WormReach,
        gears: &ChangeGears,
        geared: &Geared,
        place: CirclePlace,
        spaces: i128,
        step: Angle,
    ) -> Result<DifferentialSetting> {
        let (turns, holes) = spaces.div_rem(&place.holes.into());
        let plate_turns = geared.plate_turns()?;
        let with_crank = geared.sense == PlateSense::WithCrank;
        Ok(DifferentialSetting {
            place,
            turns,
            holes: u32::try_from(holes).unwrap_or(0),
            plate_turns,
            sense: geared.sense,
            train: geared.train,
            idlers: gears.idlers.idlers(&geared.train, with_crank),
            wrong_sense_closing: wrong_sense_closing(worm.worm_ratio(), plate_turns, step)?,
        })
    }

    /// The move of differential indexing nearest to a step: of all ratios of the
    /// gears and all circles none is nearer. Ties go to the documented order.
    ///
    /// # Errors
    /// [`ErrorKind::NotFound`] when the gears make no train; a step that is not
    /// greater than zero; overflow; the work limit before the first was found.
    pub fn nearest(&self, step: Angle, meter: &mut Meter<'_>) -> Result<NearestDifferential> {
        /// Doubles tell apart only what differs by more than this.
        const NOISE: f64 = 1e-13;
        check_step(step)?;
        let wanted = step.to_turns_f64();
        let mut best: Option<(f64, Angle, Geared, CirclePlace, i128)> = None;
        let mut complete = self.complete;
        for geared in &self.geared {
            if let Err(error) = meter.spend(self.worm.circles().len() as u64) {
                if best.is_none() || error.kind() != ErrorKind::WorkLimit {
                    return Err(error);
                }
                complete = false;
                break;
            }
            let crank = geared.crank_terms();
            let turns = as_f64(crank.0) / as_f64(crank.1);
            for &place in self.worm.circles() {
                let circle = f64::from(place.holes);
                let spaces = (wanted * turns * circle).round().max(1.0);
                let off = (spaces / circle / turns - wanted).abs();
                if best
                    .as_ref()
                    .is_some_and(|(least, ..)| off > least + NOISE * wanted)
                {
                    continue;
                }
                let exact = step.checked_mul(crank.0)?.checked_div(crank.1)?;
                let spaces = nearest_multiple(exact, place.holes.into())?.max(1);
                let made = made_step(crank, place, spaces)?;
                let exact_off = made.checked_sub(step)?.abs();
                if best
                    .as_ref()
                    .is_none_or(|(_, least, ..)| exact_off < *least)
                {
                    best = Some((off, exact_off, *geared, place, spaces));
                }
            }
        }
        let (_, _, geared, place, spaces) = best.ok_or_else(|| {
            Error::new(
                ErrorKind::NotFound,
                "the gears make no train; accepted: two gears or more",
            )
            .at("change_gears.gears")
        })?;
        let crank = geared.crank_terms();
        let made = made_step(crank, place, spaces)?;
        Ok(NearestDifferential {
            setting: self.setting(&geared, place, spaces, step)?,
            made,
            error: SteppingError::of(step, made)?,
            complete,
        })
    }
}

/// How far off the closing is with the plate turned the other way: moves that
/// should close k turns, of k·(R − g) turns of the crank on the plate, turn the
/// spindle by k·(R − g)/(R + g), off by −2·g·k/(R + g).
pub(crate) fn wrong_sense_closing(
    ratio: WormRatio,
    plate_turns: Angle,
    step: Angle,
) -> Result<Option<Angle>> {
    let other = Angle::new(ratio.numerator(), ratio.denominator())?.checked_add(plate_turns)?;
    if other.is_zero() {
        return Ok(None);
    }
    let off = plate_turns
        .checked_mul(-2)?
        .checked_mul(step.numerator())?
        .checked_mul(other.denominator())?
        .checked_div(other.numerator())?;
    Ok(Some(off))
}

/// What the spindle turns by for hole spaces of a circle, `(h/c)/(R − g)`.
pub(super) fn made_step(crank: (i128, i128), place: CirclePlace, spaces: i128) -> Result<Angle> {
    Angle::new(spaces, place.holes.into())?
        .checked_mul(crank.1)?
        .checked_div(crank.0)
}

impl Geared {
    /// A ratio of the gears in one sense; none where the plate would outrun the
    /// crank, so that no move goes on.
    pub(super) fn new(
        worm: &WormReach,
        gears: &ChangeGears,
        ratio: (u32, u32),
        sense: PlateSense,
        train: Train,
    ) -> Option<Self> {
        let (fixed, turns) = (gears.fixed_gearing, worm.worm_ratio());
        // Ratios of trains have terms up to 10⁹, worm ratios up to 10⁵, fixed
        // gearing up to 10³: products up to 10¹⁷.
        let small = |it: i128| i64::try_from(it).ok();
        let (above, below) = (i64::from(ratio.0), i64::from(ratio.1));
        let (fixed, fixed_below) = (small(fixed.numerator())?, small(fixed.denominator())?);
        let (turns, spindle) = (small(turns.numerator())?, small(turns.denominator())?);
        let size = (above * fixed, below * fixed_below);
        let (head, plate) = (turns * size.1, size.0 * spindle);
        let crank = match sense {
            PlateSense::WithCrank => head - plate,
            PlateSense::AgainstCrank => head + plate,
        };
        // A whole worm ratio without fixed gearing leaves lowest terms.
        let lowest = fixed == 1 && fixed_below == 1 && spindle == 1;
        let reduced = |above: i64, below: i64| {
            let above = u64::try_from(above).ok().filter(|it| *it > 0)?;
            let below = u64::try_from(below).ok()?;
            let common = if lowest { 1 } else { above.gcd(&below) };
            Some((above / common, below / common))
        };
        Some(Self {
            crank: reduced(crank, size.1 * spindle)?,
            size: reduced(size.0, size.1)?,
            sense,
            train,
        })
    }

    /// R − g in lowest terms.
    pub(super) fn crank_terms(&self) -> (i128, i128) {
        (self.crank.0.into(), self.crank.1.into())
    }

    /// g, with its sign.
    pub(super) fn plate_turns(&self) -> Result<Angle> {
        let size = Angle::new(self.size.0.into(), self.size.1.into())?;
        Ok(match self.sense {
            PlateSense::WithCrank => size,
            PlateSense::AgainstCrank => -size,
        })
    }

    /// t = step·(R − g) in lowest terms, if its denominator is at most `largest`.
    fn crank_move(&self, step: Angle, largest: u32) -> Result<Option<(i128, u32)>> {
        let (above, below) = (i128::from(self.crank.0), i128::from(self.crank.1));
        let (k, divisions) = (step.numerator(), step.denominator());
        let one = common(below, k);
        let other = common(above, divisions);
        let parts = (below / one)
            .checked_mul(divisions / other)
            .and_then(|parts| u32::try_from(parts).ok())
            .filter(|parts| *parts <= largest);
        let Some(parts) = parts else {
            return Ok(None);
        };
        let spaces = (above / other)
            .checked_mul(k / one)
            .ok_or_else(|| Error::overflow("a count of hole spaces"))?;
        Ok(Some((spaces, parts)))
    }
}

/// The greatest common divisor of a term below 2⁶³ and any positive number.
fn common(small: i128, any: i128) -> i128 {
    let rest = any % small;
    match (u64::try_from(small), u64::try_from(rest)) {
        (Ok(small), Ok(rest)) => small.gcd(&rest).into(),
        _ => small.gcd(&any),
    }
}
