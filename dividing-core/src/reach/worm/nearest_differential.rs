//! The differential move nearest to one step, without listing every ratio of the
//! gears.
//!
//! For h holes of a circle c the plate motion `g = R − (h/c)/step` would be exact.
//! What the spindle makes, `(h/c)/(R − g)`, only grows with g, so that of all
//! ratios of the gears one of the two next to that g is the nearest for this h
//! and c; the proof of [`NearestTrain`](crate::gearing::NearestTrain) names both.
//! Every h and c that any ratio could want is asked.

use std::cmp::Reverse;

use num_integer::Integer;

use super::differential::{Geared, NearestDifferential, PlateSense, made_step};
use super::one_question::{gears_of, largest_ratio, ratio_of};
use super::{CirclePlace, DifferentialReach, SteppingError, WormReach, check_step};
use crate::angle::Angle;
use crate::equipment::{ChangeGears, WormHead};
use crate::error::{Error, ErrorKind, Result};
use crate::gearing::{GearRatio, Train, TrainSearch};
use crate::work::Meter;

/// How far off a move is, then the documented order of the settings.
type Rank = (Angle, usize, Angle, bool, Reverse<u32>, CirclePlace, i128);

/// The best move so far.
struct Best {
    rank: Rank,
    made: Angle,
    geared: Geared,
}

/// The differential move nearest to a step, for a single question to a head; for
/// several keep a [`DifferentialReach`], whose [`nearest`](DifferentialReach::nearest)
/// has the same answers.
///
/// Here the gears are asked for the ratios next to every plate motion that would
/// be exact, so that large gear sets cost little: work grows with the circles and
/// with the choices of gears for one side, not with their square.
///
/// # Errors
/// [`ErrorKind::NotFound`] when the head has no change gears or they make no
/// train; the first thing about the head that does not make sense; a step that is
/// not greater than zero; overflow; the work limit before the first was found.
/// Where the budget ran out later, the answer is marked incomplete.
///
/// ```
/// use dividing_core::Angle;
/// use dividing_core::equipment::WormHead;
/// use dividing_core::reach::worm::find_nearest_differential;
/// use dividing_core::work::Meter;
/// let head: WormHead = serde_json::from_str(r#"{"name": "head", "worm_ratio": 40,
///     "plates": [{"name": "1", "circles": [15, 16, 17, 18, 19, 20]}],
///     "change_gears": {"gears": [24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100]}}"#)?;
/// let step = Angle::new(1, 383)?;
/// let found = find_nearest_differential(&head, step, &mut Meter::default())?;
/// assert!(found.complete);
/// assert!(found.made.checked_sub(step)?.abs() < Angle::new(1, 1_000_000)?);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn find_nearest_differential(
    head: &WormHead,
    step: Angle,
    meter: &mut Meter<'_>,
) -> Result<NearestDifferential> {
    let worm = WormReach::new(head)?;
    let gears = gears_of(head)?;
    check_step(step)?;
    let pairs = usize::from(gears.most_pairs);
    let search = TrainSearch::new(&gears.gears, pairs, gears.mesh, meter)?;
    let mut question = Question {
        worm: &worm,
        gears,
        search: &search,
        step,
        best: None,
        slowest: None,
        complete: search.complete(),
    };
    match question.ask_all(meter) {
        Ok(()) => {}
        Err(error) if error.kind() == ErrorKind::WorkLimit && question.best.is_some() => {
            question.complete = false;
        }
        Err(error) => return Err(error),
    }
    question.answer(meter)
}

struct Question<'q> {
    worm: &'q WormReach,
    gears: &'q ChangeGears,
    search: &'q TrainSearch,
    step: Angle,
    best: Option<Best>,
    /// The train of the smallest ratio, once asked for.
    slowest: Option<Train>,
    complete: bool,
}

impl Question<'_> {
    fn ask_all(&mut self, meter: &mut Meter<'_>) -> Result<()> {
        let ratio = self.worm.worm_ratio();
        let turns = Angle::new(ratio.numerator(), ratio.denominator())?;
        let fixed = self.gears.fixed_gearing;
        let bounds = (1..=usize::from(self.gears.most_pairs))
            .filter_map(|pairs| largest_ratio(self.gears, pairs))
            .map(|(above, below)| {
                Angle::new(above * fixed.numerator(), below * fixed.denominator())
            })
            .collect::<Result<Vec<Angle>>>()?;
        let Some(reach) = bounds.into_iter().max() else {
            return Ok(());
        };
        let times_step = |it: Angle| {
            it.checked_mul(self.step.numerator())?
                .checked_div(self.step.denominator())
        };
        // The h next to (R − g)·step·c for every g of the gears.
        let least = times_step(turns.checked_sub(reach)?)?;
        let most = times_step(turns.checked_add(reach)?)?;
        for &place in self.worm.circles() {
            let circle = i128::from(place.holes);
            let (low, high) = (least.checked_mul(circle)?, most.checked_mul(circle)?);
            let first = Integer::div_floor(&low.numerator(), &low.denominator()).max(1);
            let last = Integer::div_ceil(&high.numerator(), &high.denominator());
            for spaces in first..=last {
                let travel = Angle::new(spaces, circle)?
                    .checked_mul(self.step.denominator())?
                    .checked_div(self.step.numerator())?;
                self.ask(turns.checked_sub(travel)?, place, spaces, meter)?;
            }
        }
        Ok(())
    }

    /// Tries the ratios of the gears next to one plate motion.
    fn ask(
        &mut self,
        plate_turns: Angle,
        place: CirclePlace,
        spaces: i128,
        meter: &mut Meter<'_>,
    ) -> Result<()> {
        meter.spend(1)?;
        let (toward, away) = if plate_turns < Angle::ZERO {
            (PlateSense::AgainstCrank, PlateSense::WithCrank)
        } else {
            (PlateSense::WithCrank, PlateSense::AgainstCrank)
        };
        let mut next = [None, None];
        if let Some(ratio) = ratio_of(plate_turns, self.gears)? {
            let found = self.search.nearest(ratio, meter)?;
            self.complete &= found.proof.complete;
            next = [found.proof.below, found.proof.above];
        }
        for train in next.into_iter().flatten() {
            self.try_train(train, toward, place, spaces)?;
        }
        if next[0].is_none() {
            // On the other side of no motion at all lies the slowest.
            let slowest = self.slowest_train(meter)?;
            self.try_train(slowest, away, place, spaces)?;
            self.try_train(slowest, toward, place, spaces)?;
        }
        Ok(())
    }

    /// The train of the smallest ratio: the one nearest to a ratio below all.
    fn slowest_train(&mut self, meter: &mut Meter<'_>) -> Result<Train> {
        if let Some(known) = self.slowest {
            return Ok(known);
        }
        let least = GearRatio::new(1, i128::from(u32::MAX))?;
        let found = self.search.nearest(least, meter)?;
        self.complete &= found.proof.complete;
        self.slowest = Some(found.train);
        Ok(found.train)
    }

    fn try_train(
        &mut self,
        train: Train,
        sense: PlateSense,
        place: CirclePlace,
        spaces: i128,
    ) -> Result<()> {
        let Some(geared) = self.geared(train, sense) else {
            return Ok(());
        };
        let made = made_step(geared.crank_terms(), place, spaces)?;
        let rank = (
            made.checked_sub(self.step)?.abs(),
            train.pairs(),
            geared.plate_turns()?.abs(),
            sense == PlateSense::AgainstCrank,
            Reverse(place.holes),
            place,
            spaces,
        );
        if self.best.as_ref().is_none_or(|best| rank < best.rank) {
            self.best = Some(Best { rank, made, geared });
        }
        Ok(())
    }

    fn geared(&self, train: Train, sense: PlateSense) -> Option<Geared> {
        // Trains have terms below 2³⁰.
        let ratio = (
            u32::try_from(train.ratio().numerator()).ok()?,
            u32::try_from(train.ratio().denominator()).ok()?,
        );
        Geared::new(self.worm, self.gears, ratio, sense, train)
    }

    fn answer(self, meter: &mut Meter<'_>) -> Result<NearestDifferential> {
        let no_train = || {
            Error::new(
                ErrorKind::NotFound,
                "the gears make no train; accepted: two gears or more",
            )
            .at("change_gears.gears")
        };
        let best = self.best.as_ref().ok_or_else(no_train)?;
        // Of the trains of that ratio the one that meshes best.
        let trains = self.search.exact(best.geared.train.ratio(), meter);
        let geared = trains
            .trains
            .first()
            .and_then(|train| self.geared(*train, best.geared.sense))
            .unwrap_or(best.geared);
        let (.., place, spaces) = best.rank;
        Ok(NearestDifferential {
            setting: DifferentialReach::setting_of(
                self.worm, self.gears, &geared, place, spaces, self.step,
            )?,
            made: best.made,
            error: SteppingError::of(self.step, best.made)?,
            complete: self.complete && trains.complete,
        })
    }
}
