//! From wishes to sets of holes.

use num_integer::Integer;

use super::allocation::problem::{Item, MAX_ITEMS};
use super::brief::{PlateBrief, PlateUse};
use super::pin_lists::Directions;
use super::pins::{PinNeed, holes_for_pins};
use super::room::Room;
use super::validate::{MAX_ANGLE_DENOMINATOR, MAX_DIVISION};
use super::wish::Wish;
use crate::angle::Angle;
use crate::equipment::WormRatio;
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::work::Meter;

/// What one wish needs of the plate.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Need {
    /// No hole of its own: any hole, or none.
    Nothing,
    /// A face of the outline serves.
    Faces(u32),
    /// These holes on one ring.
    Holes(Item),
}

/// A wish with its need.
#[derive(Clone, Debug)]
pub(crate) struct Demand {
    pub(crate) wish: Wish,
    pub(crate) tolerance_rad: Option<f64>,
    pub(crate) need: Need,
    /// For angles on a pin plate, what other than a plain set of holes is said.
    pub(crate) pins: Option<PinList>,
}

/// Angles that the chords of pins have.
#[derive(Clone, Debug)]
pub(crate) struct PinList {
    pub(crate) directions: Directions,
    /// Sets of pins that serve, any of which will do; none where any two pins do.
    pub(crate) readings: Vec<Item>,
    /// No fewer pins on one ring serve.
    pub(crate) least_pins: u64,
}

impl PinList {
    /// The few pins of their own, and the full circle by the chord rule.
    fn new(
        brief: &PlateBrief,
        square: bool,
        angles: &[Angle],
        meter: &mut Meter<'_>,
    ) -> Result<Self> {
        let directions = Directions::new(angles, square)?;
        if directions.count() == 1 {
            return Ok(Self {
                directions,
                readings: Vec::new(),
                least_pins: 2,
            });
        }
        let room = Room::new(brief);
        let half_chord = room.spacing_mm / 2.0 / room.outermost_mm;
        let least_gap_turns = if (0.0..1.0).contains(&half_chord) {
            half_chord.asin() / std::f64::consts::PI
        } else {
            1.0
        };
        let chosen = directions.fewest_pins(least_gap_turns, meter)?;
        let circle = directions.circle();
        let mut readings = vec![chosen.item];
        if circle <= MAX_DIVISION {
            readings.push(Item {
                divisions: vec![circle],
                ..Item::default()
            });
        }
        Ok(Self {
            directions,
            readings,
            least_pins: chosen.least_pins,
        })
    }

    /// Equal divisions that any ring with enough chords may serve.
    pub(crate) fn of_division(division: u64, square: bool) -> Result<Self> {
        let angles = (1..division.min(MAX_DIVISION))
            .map(|k| Angle::new(i128::from(k), i128::from(division)))
            .collect::<Result<Vec<Angle>>>()?;
        Ok(Self {
            directions: Directions::new(&angles, square)?,
            readings: Vec::new(),
            least_pins: 2,
        })
    }

    fn need(&self) -> Need {
        Need::Holes(self.readings.first().cloned().unwrap_or_else(any_two_pins))
    }
}

/// Two pins are the least that a bar lies on.
pub(crate) fn any_two_pins() -> Item {
    Item {
        divisions: vec![2],
        ..Item::default()
    }
}

/// Reads the wishes of a checked brief. Ring divisions of the user that are
/// not wished for as well count as wishes.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] with the path of the wish when its holes pass
/// the bounds.
pub(crate) fn demands(brief: &PlateBrief, meter: &mut Meter<'_>) -> Result<Vec<Demand>> {
    let mut all = Vec::new();
    for (index, wish) in brief.divisions.iter().enumerate() {
        let need = need_of_division(brief, wish.division).at(format!("divisions[{index}]"))?;
        all.push(Demand {
            wish: Wish::Division(wish.division),
            tolerance_rad: radians(wish.tolerance),
            need,
            pins: None,
        });
    }
    for (k, ring) in brief.rings.iter().enumerate() {
        for (index, &division) in ring.divisions.iter().enumerate() {
            let wish = Wish::Division(division);
            if all.iter().all(|demand: &Demand| demand.wish != wish) {
                let need = need_of_division(brief, division)
                    .at(format!("divisions[{index}]"))
                    .at(format!("rings[{k}]"))?;
                all.push(Demand {
                    wish,
                    tolerance_rad: None,
                    need,
                    pins: None,
                });
            }
        }
    }
    for (index, wish) in brief.angles.iter().enumerate() {
        let demand = demand_of_angles(
            brief,
            Wish::Angle(wish.angle),
            &[wish.angle],
            wish.tolerance,
            meter,
        );
        all.push(demand.at(format!("angles[{index}]"))?);
    }
    for (index, list) in brief.lists.iter().enumerate() {
        let wish = Wish::List(list.angles.clone());
        let demand = demand_of_angles(brief, wish, &list.angles, list.tolerance, meter);
        all.push(demand.at(format!("lists[{index}]"))?);
    }
    Ok(all)
}

fn demand_of_angles(
    brief: &PlateBrief,
    wish: Wish,
    angles: &[Angle],
    tolerance: Option<Angle>,
    meter: &mut Meter<'_>,
) -> Result<Demand> {
    let pins = match brief.usage {
        PlateUse::Pins { square, .. } => Some(PinList::new(brief, square, angles, meter)?),
        _ => None,
    };
    let need = match &pins {
        Some(pins) => pins.need(),
        None => need_of_angles(brief, angles)?,
    };
    Ok(Demand {
        wish,
        tolerance_rad: radians(tolerance),
        need,
        pins,
    })
}

fn radians(tolerance: Option<Angle>) -> Option<f64> {
    tolerance.map(Angle::to_radians_f64)
}

/// The denominator of R/N in lowest terms: the circle that N divisions need on
/// a worm head of ratio R (simple indexing).
fn worm_denominator(ratio: WormRatio, division: u64) -> Result<u64> {
    let move_turns =
        Angle::new(ratio.numerator(), ratio.denominator())?.checked_div(i128::from(division))?;
    u64::try_from(move_turns.denominator())
        .ok()
        .filter(|&d| d <= MAX_DIVISION)
        .ok_or_else(|| {
            Error::out_of_range(
                format!(
                    "{division} divisions at {ratio}:1 need a circle of {} holes, which",
                    move_turns.denominator()
                ),
                format!("circles of at most {MAX_DIVISION} holes"),
            )
        })
}

/// The need of N equal divisions.
pub(crate) fn need_of_division(brief: &PlateBrief, division: u64) -> Result<Need> {
    let circle = match brief.usage {
        PlateUse::Plunger | PlateUse::VernierPair => {
            if let Some(faces) = brief.outline.faces()
                && matches!(brief.usage, PlateUse::Plunger)
                && u64::from(faces).is_multiple_of(division)
            {
                return Ok(Need::Faces(faces));
            }
            division
        }
        PlateUse::WormHead { ratio } => worm_denominator(ratio, division)?,
        PlateUse::Pins { square, .. } => match holes_for_pins(division, square) {
            PinNeed::Ring(holes) | PinNeed::EvenRing(holes) | PinNeed::AnyRing(holes) => holes,
        },
    };
    Ok(if circle == 1 {
        Need::Nothing
    } else {
        Need::Holes(Item {
            divisions: vec![circle],
            ..Item::default()
        })
    })
}

fn need_of_angles(brief: &PlateBrief, angles: &[Angle]) -> Result<Need> {
    let mut points = Vec::new();
    for &angle in angles {
        let hole = match brief.usage {
            PlateUse::WormHead { ratio } => angle
                .checked_mul(ratio.numerator())?
                .checked_div(ratio.denominator())?,
            _ => angle,
        }
        .within_turn();
        if hole.denominator() > MAX_ANGLE_DENOMINATOR {
            return Err(Error::out_of_range(
                format!("{angle}, a hole at {hole},"),
                format!(
                    "holes at fractions of a turn with denominators up to {MAX_ANGLE_DENOMINATOR}"
                ),
            ));
        }
        if !hole.is_zero() {
            points.push((hole.numerator(), hole.denominator()));
        }
    }
    if points.is_empty() {
        return Ok(Need::Nothing);
    }
    if let Some(faces) = brief.outline.faces()
        && matches!(brief.usage, PlateUse::Plunger)
        && points
            .iter()
            .all(|&(_, q)| i128::from(faces).is_multiple_of(&q))
    {
        return Ok(Need::Faces(faces));
    }
    points.sort_unstable();
    points.dedup();
    Ok(Need::Holes(Item {
        points,
        ..Item::default()
    }))
}

/// Takes out items whose holes another item brings along anyway.
///
/// An item contained in just one other moves its tolerance there; one that is
/// contained in several, and is tighter than all of them, stays, because it
/// may ask for the outermost of their rings.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] when more than [`MAX_ITEMS`] remain.
pub(crate) fn merge_contained(items: Vec<Item>) -> Result<Vec<Item>> {
    let mut items = items;
    // Larger items first, so that what is contained comes later.
    items.sort_by(|a, b| {
        let size = |item: &Item| {
            let whole = item.divisions.iter().copied().max().unwrap_or(0);
            (whole, item.points.len())
        };
        size(b).cmp(&size(a)).then_with(|| a.points.cmp(&b.points))
    });
    let mut kept: Vec<Item> = Vec::new();
    for item in items {
        let fixed = item.pinned.is_some() || item.divisions.len() > 1;
        let holders: Vec<usize> = (0..kept.len())
            .filter(|&k| !fixed && kept[k].contains(&item))
            .collect();
        let tightness = |t: Option<f64>| t.unwrap_or(f64::INFINITY);
        let own = tightness(item.tolerance_rad);
        let as_tight = holders
            .iter()
            .copied()
            .find(|&k| tightness(kept[k].tolerance_rad) <= own);
        match (as_tight, holders.as_slice()) {
            (Some(_), _) => {}
            (None, &[only]) => kept[only].tolerance_rad = item.tolerance_rad,
            (None, _) => kept.push(item),
        }
    }
    if kept.len() > MAX_ITEMS {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            format!(
                "{} wishes remain after those that others bring along; accepted: at most {MAX_ITEMS}",
                kept.len()
            ),
        )
        .at("divisions"));
    }
    Ok(kept)
}
