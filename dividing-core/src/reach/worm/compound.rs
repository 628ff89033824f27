//! Compound indexing: the crank on one circle, then plate and crank on another.
//!
//! `R·step = w + h1/c1 + h2/c2` with 0 < |hi| < ci has a solution only when the
//! denominator of R·step divides lcm(c1, c2). With g = gcd(c1, c2), a = c1/g and
//! b = c2/g the fractions over L = lcm(c1, c2) are h1·b + h2·a ≡ A (mod L), so
//! h1 is fixed modulo a by h1 ≡ A·b⁻¹, and h2 modulo c2 by h1: at most 4g
//! solutions, all of them listed without a search.

use num_integer::Integer;
use serde::{Deserialize, Serialize};

use super::simple::nearest_multiple;
use super::stepping::{SectorArms, SteppingError};
use super::{CirclePlace, WormReach, whole_and_rest};
use crate::angle::Angle;
use crate::error::{Error, ErrorKind, Result};
use crate::work::Meter;

/// One of the two movements of compound indexing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CompoundTerm {
    /// Holes on the circle.
    pub circle: u32,
    /// Holes to move, backward where below zero; never zero.
    pub holes: i64,
}

impl CompoundTerm {
    /// The sector arms for this movement.
    #[must_use]
    pub fn sector_arms(&self) -> Option<SectorArms> {
        SectorArms::spanning(u32::try_from(self.holes.unsigned_abs()).unwrap_or(u32::MAX))
    }
}

/// One exact move of compound indexing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CompoundSetting {
    /// The plate, as listed.
    pub plate: usize,
    /// Whether the plate shows its back.
    pub back: bool,
    /// Whole turns of the crank, backward where below zero.
    pub whole_turns: i128,
    /// What the crank moves on the circle with fewer holes, the plate held.
    pub first: CompoundTerm,
    /// What plate and crank move together on the other circle.
    pub second: CompoundTerm,
}

impl CompoundSetting {
    /// Turns of the crank in all, exactly.
    ///
    /// # Errors
    /// Overflow when they do not fit.
    pub fn crank_turns(&self) -> Result<Angle> {
        let part = |term: CompoundTerm| Angle::new(term.holes.into(), term.circle.into());
        Angle::new(self.whole_turns, 1)?
            .checked_add(part(self.first)?)?
            .checked_add(part(self.second)?)
    }

    /// Holes to count off, both movements together.
    #[must_use]
    pub const fn holes(&self) -> u64 {
        self.first.holes.unsigned_abs() + self.second.holes.unsigned_abs()
    }

    /// How far crank and plate travel, every whole turn and every hole counted
    /// as moved whichever way, in turns.
    ///
    /// # Errors
    /// Overflow when it does not fit.
    pub fn travel(&self) -> Result<Angle> {
        let part =
            |term: CompoundTerm| Angle::new(term.holes.unsigned_abs().into(), term.circle.into());
        Angle::new(self.whole_turns, 1)?
            .abs()
            .checked_add(part(self.first)?)?
            .checked_add(part(self.second)?)
    }
}

/// All compound settings of a step.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CompoundSettings {
    /// By |h1| + |h2|, then by travel, then fewest whole turns, then in the
    /// order of the head.
    pub settings: Vec<CompoundSetting>,
    /// Whether these are all; false when the budget ran out.
    pub complete: bool,
}

/// The move of compound indexing nearest to a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NearestCompound {
    /// The move.
    pub setting: CompoundSetting,
    /// What the spindle turns by.
    pub made: Angle,
    /// What repeating the move does.
    pub error: SteppingError,
    /// Whether every pair of circles was looked at.
    pub complete: bool,
}

/// Two circles of one side of one plate, prepared.
#[derive(Clone, Copy, Debug)]
pub(crate) struct CirclePair {
    pub(crate) first: CirclePlace,
    pub(crate) second: CirclePlace,
    /// lcm of the two circles.
    pub(crate) common: i64,
    /// c1/g and c2/g.
    a: i64,
    b: i64,
    /// b⁻¹ modulo a.
    inverse: i64,
}

impl CirclePair {
    /// The circle with fewer holes first; none for two of one count.
    pub(crate) fn new(one: CirclePlace, other: CirclePlace) -> Option<Self> {
        let (first, second) = if one.holes < other.holes {
            (one, other)
        } else {
            (other, one)
        };
        if first.holes == second.holes || first.holes == 0 {
            return None;
        }
        let (c1, c2) = (i64::from(first.holes), i64::from(second.holes));
        let common = c1.gcd(&c2);
        let (a, b) = (c1 / common, c2 / common);
        Some(Self {
            first,
            second,
            common: a * c2,
            a,
            b,
            inverse: b.extended_gcd(&a).x.rem_euclid(a),
        })
    }

    /// Calls `found` with h1, h2 and the whole turns to be added to those of the
    /// step, for each solution of a rest of `parts` over the common multiple,
    /// `parts` from 0 to the common multiple.
    pub(crate) fn solutions(&self, parts: i64, mut found: impl FnMut(i64, i64, i64)) {
        let (c1, c2) = (i64::from(self.first.holes), i64::from(self.second.holes));
        // Circles have at most 100,000 holes: products stay below 10^16.
        let residue = (parts % self.a) * self.inverse % self.a;
        let mut h1 = residue - c1;
        while h1 < c1 {
            if h1 != 0 && h1 != -c1 {
                let rest = parts - h1 * self.b;
                let above = (rest / self.a).rem_euclid(c2);
                if above != 0 {
                    for h2 in [above, above - c2] {
                        found(h1, h2, (rest - h2 * self.a) / self.common);
                    }
                }
            }
            h1 += self.a;
        }
    }
}

/// The key of the documented order; travel is compared over the product of the
/// common multiples.
pub(crate) fn compare(a: &CompoundSetting, b: &CompoundSetting) -> std::cmp::Ordering {
    let travel = |it: &CompoundSetting| {
        let (c1, c2) = (u128::from(it.first.circle), u128::from(it.second.circle));
        let holes = u128::from(it.first.holes.unsigned_abs()) * c2
            + u128::from(it.second.holes.unsigned_abs()) * c1;
        let turns = it.whole_turns.unsigned_abs().saturating_mul(c1 * c2);
        let parts = turns.saturating_add(holes);
        (parts, c1 * c2)
    };
    a.holes()
        .cmp(&b.holes())
        .then_with(|| {
            let ((x, over_x), (y, over_y)) = (travel(a), travel(b));
            x.saturating_mul(over_y).cmp(&y.saturating_mul(over_x))
        })
        .then_with(|| {
            let turns = |it: &CompoundSetting| it.whole_turns.unsigned_abs();
            turns(a).cmp(&turns(b))
        })
        .then_with(|| (a.plate, a.back, a.first.circle).cmp(&(b.plate, b.back, b.first.circle)))
        .then_with(|| (a.second.circle, b.first.holes).cmp(&(b.second.circle, a.first.holes)))
}

impl WormReach {
    /// Every exact compound setting of a step with at most `most_whole_turns`
    /// whole turns either way; the whole turns of a solution lie within two of
    /// those of the crank, so none stated means all there are.
    ///
    /// # Errors
    /// A step that is not greater than zero; overflow. When the budget runs out
    /// the list is marked incomplete.
    ///
    /// ```
    /// use dividing_core::Angle;
    /// use dividing_core::equipment::WormHead;
    /// use dividing_core::reach::worm::WormReach;
    /// use dividing_core::work::Meter;
    /// let head: WormHead = serde_json::from_str(r#"{"name": "head", "worm_ratio": 40,
    ///     "plates": [{"name": "2", "circles": [21, 23, 27, 29, 31, 33]}]}"#)?;
    /// let found = WormReach::new(&head)?
    ///     .compound(Angle::new(1, 93)?, None, &mut Meter::default())?;
    /// let best = found.settings[0];
    /// assert_eq!((best.first.holes, best.first.circle), (7, 21));
    /// assert_eq!((best.second.holes, best.second.circle), (3, 31));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn compound(
        &self,
        step: Angle,
        most_whole_turns: Option<u32>,
        meter: &mut Meter<'_>,
    ) -> Result<CompoundSettings> {
        let wanted = self.crank_turns_of_step(step)?;
        let mut found = CompoundSettings {
            settings: Vec::new(),
            complete: true,
        };
        for pair in self.pairs() {
            if meter.spend(1).is_err() {
                found.complete = false;
                break;
            }
            let Some(parts) = parts_of(wanted, &pair) else {
                continue;
            };
            // At most 4·gcd solutions a pair.
            if meter
                .spend(4 * u64::from(pair.first.holes.gcd(&pair.second.holes)))
                .is_err()
            {
                found.complete = false;
                break;
            }
            let (turns, _) = whole_and_rest(wanted);
            settings_of(&pair, turns, parts, &mut |it| {
                let fits = most_whole_turns
                    .is_none_or(|most| it.whole_turns.unsigned_abs() <= u128::from(most));
                if fits {
                    found.settings.push(it);
                }
            });
        }
        for it in &found.settings {
            if it.crank_turns()? != wanted {
                return Err(Error::internal("a compound setting that is not exact"));
            }
        }
        found.settings.sort_by(compare);
        Ok(found)
    }

    /// The move of compound indexing nearest to a step, the least of its kind.
    ///
    /// Two circles hold the multiples of 1/lcm(c1, c2), so each pair's nearest
    /// move is the nearest multiple that has one; no other on two circles is
    /// nearer.
    ///
    /// # Errors
    /// [`ErrorKind::NotFound`](crate::ErrorKind::NotFound) when no side of a
    /// plate has two circles that give one; a step that is not greater than
    /// zero; overflow; the work limit before the first was found.
    pub fn nearest_compound(&self, step: Angle, meter: &mut Meter<'_>) -> Result<NearestCompound> {
        let wanted = self.crank_turns_of_step(step)?;
        let mut best: Option<(Angle, CompoundSetting)> = None;
        let mut complete = true;
        for pair in self.pairs() {
            let gcd = u64::from(pair.first.holes.gcd(&pair.second.holes));
            if let Err(error) = meter.spend(1 + 4 * gcd) {
                if best.is_none() || error.kind() != ErrorKind::WorkLimit {
                    return Err(error);
                }
                complete = false;
                break;
            }
            let common = i128::from(pair.common);
            let nearest = nearest_multiple(wanted, common)?;
            let side = if Angle::new(nearest, common)? <= wanted {
                1
            } else {
                -1
            };
            // The multiples of 1/lcm by growing distance; those that one circle
            // alone holds may have no move on both.
            for apart in 0..common {
                meter.spend(1)?;
                let places = if apart == 0 {
                    vec![nearest]
                } else {
                    vec![nearest + side * apart, nearest - side * apart]
                };
                let mut held = false;
                for multiple in places {
                    let off = Angle::new(multiple, common)?.checked_sub(wanted)?.abs();
                    if best.as_ref().is_some_and(|(least, _)| off > *least) {
                        continue;
                    }
                    let (turns, parts) = multiple.div_mod_floor(&common);
                    settings_of(&pair, turns, i64::try_from(parts).unwrap_or(0), &mut |it| {
                        held = true;
                        let better = best
                            .as_ref()
                            .is_none_or(|(least, kept)| off < *least || compare(&it, kept).is_lt());
                        if better {
                            best = Some((off, it));
                        }
                    });
                }
                let past = Angle::new(apart, common)?;
                if held || best.as_ref().is_some_and(|(least, _)| past > *least) {
                    break;
                }
            }
        }
        let (_, setting) = best.ok_or_else(|| {
            Error::new(
                ErrorKind::NotFound,
                "no two circles of one side give a compound move; accepted: a plate with two \
                 circles of different counts on one side",
            )
        })?;
        let made = self.spindle_step(setting.crank_turns()?)?;
        Ok(NearestCompound {
            setting,
            made,
            error: SteppingError::of(step, made)?,
            complete,
        })
    }

    /// Every two circles of one side of one plate.
    pub(crate) fn pairs(&self) -> impl Iterator<Item = CirclePair> + '_ {
        self.circles.iter().enumerate().flat_map(move |(at, one)| {
            self.circles[at + 1..]
                .iter()
                .filter(move |other| other.plate == one.plate && other.back == one.back)
                .filter_map(move |other| CirclePair::new(*one, *other))
        })
    }
}

/// The rest beyond whole turns over the common multiple of a pair, if it is one.
fn parts_of(wanted: Angle, pair: &CirclePair) -> Option<i64> {
    let rest = wanted.within_turn();
    let common = i128::from(pair.common);
    (common % rest.denominator() == 0)
        .then(|| i64::try_from(common / rest.denominator() * rest.numerator()).ok())
        .flatten()
}

/// The settings of a pair for whole turns and a rest.
pub(crate) fn settings_of(
    pair: &CirclePair,
    turns: i128,
    parts: i64,
    found: &mut dyn FnMut(CompoundSetting),
) {
    pair.solutions(parts, |h1, h2, whole| {
        found(CompoundSetting {
            plate: pair.first.plate,
            back: pair.first.back,
            whole_turns: turns + i128::from(whole),
            first: CompoundTerm {
                circle: pair.first.holes,
                holes: h1,
            },
            second: CompoundTerm {
                circle: pair.second.holes,
                holes: h2,
            },
        });
    });
}
