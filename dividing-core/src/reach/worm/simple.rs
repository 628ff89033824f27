//! Simple indexing: whole crank turns and holes of one circle.

use std::cmp::Reverse;

use serde::{Deserialize, Serialize};

use super::stepping::{SectorArms, SteppingError};
use super::{CirclePlace, WormReach, whole_and_rest};
use crate::angle::Angle;
use crate::error::{Error, Result};

/// One exact move of simple indexing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SimpleSetting {
    /// The circle.
    pub place: CirclePlace,
    /// Whole turns of the crank.
    pub turns: i128,
    /// Holes beyond them, fewer than the circle has.
    pub holes: u32,
}

impl SimpleSetting {
    /// Turns of the crank, exactly.
    ///
    /// # Errors
    /// Overflow when they do not fit.
    pub fn crank_turns(&self) -> Result<Angle> {
        let part = Angle::new(self.holes.into(), self.place.holes.into())?;
        part.checked_add(Angle::new(self.turns, 1)?)
    }

    /// The sector arms; none where the move is whole turns.
    #[must_use]
    pub const fn sector_arms(&self) -> Option<SectorArms> {
        SectorArms::spanning(self.holes)
    }
}

/// The order in which exact settings are listed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SimpleOrder {
    /// The largest circle first, as the usual handbook tables for the head with
    /// three plates print it (from memory, and the printed rows agree); equal
    /// circles in the order of the head. Tables for a two-sided plate keep no
    /// one rule.
    #[default]
    Handbook,
    /// The fewest holes beyond whole turns first, so the smallest circle first.
    FewestHoles,
}

/// The move of simple indexing nearest to a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NearestSimple {
    /// The move.
    pub setting: SimpleSetting,
    /// What the spindle turns by.
    pub made: Angle,
    /// What repeating the move does.
    pub error: SteppingError,
}

impl WormReach {
    /// Every exact setting of a step, one for each circle that has one.
    ///
    /// A step that is whole crank turns has every circle, with no holes.
    ///
    /// # Errors
    /// A step that is not greater than zero; overflow.
    ///
    /// ```
    /// use dividing_core::Angle;
    /// use dividing_core::equipment::WormHead;
    /// use dividing_core::reach::worm::{SimpleOrder, WormReach};
    /// let head: WormHead = serde_json::from_str(r#"{"name": "head", "worm_ratio": 40,
    ///     "plates": [{"name": "1", "circles": [24, 38, 54]}]}"#)?;
    /// // Angular indexing: 8°50'.
    /// let found = WormReach::new(&head)?.simple("8°50'".parse()?, SimpleOrder::Handbook)?;
    /// assert_eq!((found[0].turns, found[0].holes, found[0].place.holes), (0, 53, 54));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn simple(&self, step: Angle, order: SimpleOrder) -> Result<Vec<SimpleSetting>> {
        let (turns, rest) = whole_and_rest(self.crank_turns_of_step(step)?);
        let mut found: Vec<SimpleSetting> = self
            .circles
            .iter()
            .filter_map(|&place| {
                let circle = i128::from(place.holes);
                let spaces = circle / rest.denominator() * rest.numerator();
                (circle % rest.denominator() == 0).then(|| SimpleSetting {
                    place,
                    turns,
                    holes: u32::try_from(spaces).unwrap_or(0),
                })
            })
            .collect();
        if order == SimpleOrder::FewestHoles {
            found.sort_by_key(|it| (it.holes, it.place.holes));
        }
        Ok(found)
    }

    /// The first exact setting of N divisions in the handbook's order, if there
    /// is one: the quick question. None for no division at all.
    ///
    /// ```
    /// use dividing_core::equipment::WormHead;
    /// use dividing_core::reach::worm::WormReach;
    /// let head: WormHead = serde_json::from_str(r#"{"name": "head", "worm_ratio": 40,
    ///     "plates": [{"name": "3", "circles": [37, 39, 41, 43, 47, 49]}]}"#)?;
    /// let reach = WormReach::new(&head)?;
    /// assert_eq!(reach.simple_division(7).map(|it| (it.turns, it.holes)), Some((5, 35)));
    /// assert_eq!(reach.simple_division(127), None);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn simple_division(&self, divisions: u32) -> Option<SimpleSetting> {
        let (turns, rest, parts) = self.division(divisions)?;
        let place = *self
            .circles
            .iter()
            .find(|it| u64::from(it.holes).is_multiple_of(parts))?;
        // rest < parts, and parts divides the holes of the circle.
        let holes = u64::from(place.holes) / parts * rest;
        Some(SimpleSetting {
            place,
            turns: turns.into(),
            holes: u32::try_from(holes).ok()?,
        })
    }

    /// R/N as whole turns and a proper fraction in lowest terms.
    pub(crate) fn division(&self, divisions: u32) -> Option<(u64, u64, u64)> {
        // Both terms of a worm ratio are at most 100,000.
        let turns = u64::try_from(self.ratio.numerator()).ok()?;
        let spindle = u64::try_from(self.ratio.denominator()).ok()?;
        let parts = spindle * u64::from(divisions);
        if parts == 0 {
            return None;
        }
        let (whole, rest) = (turns / parts, turns % parts);
        let common = num_integer::gcd(rest, parts);
        Some((whole, rest / common, parts / common))
    }

    /// The move of simple indexing nearest to a step, whatever the circle; ties
    /// go to the larger circle.
    ///
    /// The move is made to be repeated: its [`SteppingError`] says what comes of
    /// it. Settings counted from zero, each rounded once, stay nearer.
    ///
    /// # Errors
    /// A step that is not greater than zero; overflow.
    pub fn nearest_simple(&self, step: Angle) -> Result<NearestSimple> {
        let wanted = self.crank_turns_of_step(step)?;
        let mut best: Option<(Angle, SimpleSetting)> = None;
        for &place in &self.circles {
            let spaces = nearest_multiple(wanted, place.holes.into())?;
            let made = Angle::new(spaces, place.holes.into())?;
            let off = made.checked_sub(wanted)?.abs();
            if best.as_ref().is_none_or(|(least, _)| off < *least) {
                let (turns, rest) = whole_and_rest(made);
                let holes = rest.numerator() * (i128::from(place.holes) / rest.denominator());
                let setting = SimpleSetting {
                    place,
                    turns,
                    holes: u32::try_from(holes).unwrap_or(0),
                };
                best = Some((off, setting));
            }
        }
        let (_, setting) = best.ok_or_else(|| Error::internal("a head without a circle"))?;
        let made = self.spindle_step(setting.crank_turns()?)?;
        Ok(NearestSimple {
            setting,
            made,
            error: SteppingError::of(step, made)?,
        })
    }

    /// Moves of k divisions that visit every one of N places, k prime to N, for
    /// k up to `most`, each with its first setting: the fewest holes to count
    /// off first, then the fewest divisions.
    ///
    /// Such moves spread heat and wear round the part.
    ///
    /// # Errors
    /// Out of range for N below 1; overflow.
    ///
    /// ```
    /// use dividing_core::equipment::WormHead;
    /// use dividing_core::reach::worm::WormReach;
    /// let head: WormHead = serde_json::from_str(r#"{"name": "head", "worm_ratio": 40,
    ///     "plates": [{"name": "1", "circles": [15, 16, 17, 18, 19, 20]}]}"#)?;
    /// let moves = WormReach::new(&head)?.simple_moves(9, 8)?;
    /// // Seven divisions a move are 31 turns and 2 holes of 18.
    /// assert_eq!((moves[0].0, moves[0].1.turns, moves[0].1.holes), (7, 31, 2));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn simple_moves(&self, divisions: u32, most: u32) -> Result<Vec<(u32, SimpleSetting)>> {
        if divisions == 0 {
            return Err(Error::out_of_range(divisions, "1 division or more").at("divisions"));
        }
        let mut found = Vec::new();
        for k in 1..=most.min(divisions.saturating_sub(1).max(1)) {
            if num_integer::gcd(k, divisions) != 1 {
                continue;
            }
            let step = Angle::new(k.into(), divisions.into())?;
            let settings = self.simple(step, SimpleOrder::FewestHoles)?;
            found.extend(settings.first().map(|it| (k, *it)));
        }
        found.sort_by_key(|(k, it)| (it.holes, *k, Reverse(it.place.holes)));
        Ok(found)
    }
}

/// Which multiple of 1/parts is nearest; halves go up.
pub(super) fn nearest_multiple(value: Angle, parts: i128) -> Result<i128> {
    let times = value.checked_mul(parts)?;
    let twice = times
        .numerator()
        .checked_mul(2)
        .and_then(|twice| twice.checked_add(times.denominator()))
        .ok_or_else(|| Error::overflow("a count of hole spaces"))?;
    Ok(num_integer::Integer::div_floor(
        &twice,
        &(times.denominator() * 2),
    ))
}
