//! The inverse question about a whole plan: what may be looser, how small may a
//! radius or a baseline be, which pins are best.

use std::borrow::Cow;
use std::collections::BTreeSet;

use serde::Serialize;

use super::bar::{PIN_CLEARANCE, bar, bar_pin, baseline_mm};
use super::contributor::{Contributor, InputUnit, Persistence};
use super::figure::WHEN_CLOCKING;
use super::inverse::{Allowance, Criterion, TradeOff, least_radius_mm, trade_offs};
use super::model::ErrorModel;
use super::off_axis::{is_off_the_axis, one_offset_for_both};
use super::plunger::{is_at_the_pitch_radius, is_half_a_diameter};
use crate::equipment::PinPlate;
use crate::error::{AtField, Error, ErrorKind, Result};
use crate::reach::BarPlace;

/// What a plan would bear if only one thing were changed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlanTradeOff {
    /// The worst feature, counted from 0, from which the table is made.
    pub feature: usize,
    /// For a limit of pitch the other feature, from which the pitch is counted.
    pub pitch_from: Option<usize>,
    /// What the criterion gives for it now, residual included, in radians.
    pub present_rad: f64,
    /// The limit of the job, in radians.
    pub limit_rad: f64,
    /// The inputs one at a time: hole positions and clearances as diameters, as
    /// they are toleranced, all others as limits either way.
    pub inputs: Vec<TradeOff>,
    /// The pitch radius or the baseline as it is, in millimetres; none for
    /// equipment that registers on neither, or on several at once.
    pub present_lever_mm: Option<f64>,
    /// The least pitch radius or baseline that holds the limit; none where
    /// none does.
    pub least_lever_mm: Option<f64>,
}

/// Two pins of one ring and how well a level bar stands on them.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PinPair {
    /// The ring, as listed.
    pub circle: usize,
    /// Holes on the ring.
    pub holes: u32,
    /// Hole spaces between the pins.
    pub span: u32,
    /// Distance of the pins, in millimetres.
    pub baseline_mm: f64,
    /// What the criterion gives, in radians.
    pub total_rad: f64,
}

/// The member of a stack that a contributor belongs to, with what parts it from
/// the name; empty for equipment that is no stack.
fn member_and_name(name: &str) -> (&str, &str) {
    match name.rfind(": ") {
        Some(at) => name.split_at(at + 2),
        None => ("", name),
    }
}

/// One contributor under the name of its kind, whichever pin it belongs to and
/// whether of the feature or of the datum.
fn of_its_kind(contributor: &Contributor) -> Contributor {
    let name = contributor.name.as_ref();
    let plain = name.strip_suffix(WHEN_CLOCKING).unwrap_or(name);
    let (member, own) = member_and_name(plain);
    let kind: Cow<'static, str> = match bar_pin(own) {
        Some(pin) => format!("{member}{}", pin.name).into(),
        None => plain.to_owned().into(),
    };
    Contributor {
        name: kind,
        ..contributor.clone()
    }
}

impl ErrorModel {
    /// What the worst feature of the plan, or the worst pair of a limit of pitch,
    /// would bear, one thing changed at a time, so that the job's limit still
    /// holds. Of several limits the one with the least margin is taken.
    ///
    /// A single pitch is that of two neighbours. For a cumulative pitch the two
    /// features are taken that stand furthest apart at worst; by the worst case
    /// that holds for all, by the other criteria for these two.
    ///
    /// What an input may be follows from its present sensitivity, in proportion.
    /// As long as it turns the part by no more than about 9.7° that is within half
    /// a per cent of the exact geometry, and a present limit beyond gives too
    /// little rather than too much. Only a limit of many degrees asks for more: put
    /// the answer into the workshop and plan again.
    ///
    /// # Errors
    /// [`ErrorKind::Undetermined`] where the job gives no limit or the workshop
    /// no contributor, and the errors of
    /// [`loosest_limit`](super::loosest_limit).
    pub fn trade_offs(&self, criterion: Criterion) -> Result<PlanTradeOff> {
        let limits = self.limits();
        let mut held = Vec::new();
        if let Some(limit_rad) = limits.deviation_rad {
            let each = (0..self.features().len()).map(|index| self.held(index, None, None));
            held.push((limit_rad, worst(each, criterion)?));
        }
        if let Some(limit_rad) = limits.single_pitch_rad {
            let order = self.order_round_the_part();
            let next = order.iter().cycle().skip(1);
            let pairs = order.iter().zip(next);
            let pairs = pairs.map(|(one, two)| self.held(*two, Some(*one), None));
            held.push((limit_rad, worst(pairs, criterion)?));
        }
        if let Some(limit_rad) = limits.cumulative_pitch_rad {
            let (one, two) = self.furthest_apart();
            // Some two of the features stand as good as straight across.
            let across = Some(std::f64::consts::PI);
            let pair = std::iter::once(self.held(two, Some(one), across));
            held.push((limit_rad, worst(pair, criterion)?));
        }
        let margin = |it: &(f64, (Held, f64))| it.0 - it.1.1;
        let (limit_rad, (found, present_rad)) = held
            .into_iter()
            .min_by(|one, two| margin(one).total_cmp(&margin(two)))
            .ok_or_else(|| {
                Error::new(
                    ErrorKind::Undetermined,
                    "the job gives no limit to hold; accepted: a job with a tolerance",
                )
                .at("tolerance")
            })?;
        let contributors: Vec<Contributor> = found.contributors.iter().map(of_its_kind).collect();
        let left_rad = limit_rad - found.residual_rad;
        let inputs = if left_rad > 0.0 {
            trade_offs(&contributors, criterion, left_rad)?
        } else {
            Vec::new()
        };
        let present_lever_mm = contributors
            .iter()
            .find(|it| is_at_the_pitch_radius(&it.name) && it.sensitivity != 0.0)
            .map(|it| 1.0 / it.sensitivity.abs() / self.crank_turns());
        let least_lever_mm = match present_lever_mm {
            Some(present) if left_rad > 0.0 => {
                // What acts over another lever (levelling over its travel)
                // stays as it is.
                let over = |it: &Contributor| {
                    it.unit == InputUnit::Millimetre && it.name != "levelling of the bar"
                };
                let fixed: Vec<Contributor> = contributors
                    .iter()
                    .map(|it| match over(it) {
                        true => it.clone(),
                        false => Contributor {
                            unit: InputUnit::Radian,
                            ..it.clone()
                        },
                    })
                    .collect();
                least_radius_mm(&fixed, present, criterion, left_rad)?
            }
            _ => None,
        };
        Ok(PlanTradeOff {
            feature: found.feature,
            pitch_from: found.pitch_from,
            present_rad,
            limit_rad,
            inputs: inputs.into_iter().map(as_toleranced).collect(),
            present_lever_mm,
            least_lever_mm,
        })
    }
}

/// What is held within a limit: a feature, or the pitch between two.
struct Held {
    feature: usize,
    pitch_from: Option<usize>,
    residual_rad: f64,
    contributors: Vec<Contributor>,
}

/// The worst of them by a criterion, with what that gives.
fn worst(all: impl Iterator<Item = Held>, criterion: Criterion) -> Result<(Held, f64)> {
    let mut worst: Option<(Held, f64)> = None;
    for held in all {
        let total = held.residual_rad + criterion.total_rad(&held.contributors)?;
        if worst.as_ref().is_none_or(|(_, most)| total > *most) {
            worst = Some((held, total));
        }
    }
    worst.ok_or_else(|| Error::internal("a plan without features"))
}

impl ErrorModel {
    /// A feature, or its pitch from another one: then what is the same for both
    /// cancels. An offset of the axis counts as for features so far apart, as far
    /// as they are without.
    fn held(&self, feature: usize, pitch_from: Option<usize>, apart_rad: Option<f64>) -> Held {
        let of = |index: usize| self.features().get(index);
        let residual = |index| of(index).map_or(0.0, |it| it.residual_rad);
        let contributors = |index| of(index).map_or(&[][..], |it| it.contributors.as_slice());
        let differs = |it: &&Contributor| {
            it.persistence != Persistence::FixedForJob
                && !it.name.ends_with(WHEN_CLOCKING)
                && !is_off_the_axis(it)
        };
        match pitch_from {
            None => Held {
                feature,
                pitch_from,
                residual_rad: residual(feature).abs(),
                contributors: contributors(feature).to_vec(),
            },
            // A single feature has no pitch.
            Some(other) if other == feature => Held {
                feature,
                pitch_from,
                residual_rad: 0.0,
                contributors: Vec::new(),
            },
            Some(other) => Held {
                feature,
                pitch_from,
                residual_rad: (residual(feature) - residual(other)).abs(),
                contributors: [feature, other]
                    .into_iter()
                    .flat_map(contributors)
                    .filter(differs)
                    .cloned()
                    .chain(
                        of(feature)
                            .zip(of(other))
                            .into_iter()
                            .flat_map(|(one, two)| {
                                one_offset_for_both(&one.inputs, &two.inputs, apart_rad)
                            }),
                    )
                    .collect(),
            },
        }
    }

    /// The two features whose deviations differ most at worst.
    fn furthest_apart(&self) -> (usize, usize) {
        let ends: Vec<(f64, f64)> = self
            .features()
            .iter()
            .map(|it| {
                // Offsets of an axis and the datum are the same for all.
                let own = it.contributors.iter();
                let own =
                    own.filter(|it| !is_off_the_axis(it) && !it.name.ends_with(WHEN_CLOCKING));
                let limit_rad: f64 = own.map(Contributor::limit_rad).sum();
                (it.residual_rad + limit_rad, it.residual_rad - limit_rad)
            })
            .collect();
        let (mut highest, mut lowest) = (0, 0);
        let (mut pair, mut range) = ((0, 0), f64::NEG_INFINITY);
        let end = |index: usize| ends.get(index).copied().unwrap_or_default();
        for index in 1..ends.len() {
            for (one, two) in [(lowest, index), (index, highest)] {
                let apart = end(two).0 - end(one).1;
                if apart > range {
                    (pair, range) = ((one, two), apart);
                }
            }
            if end(index).0 > end(highest).0 {
                highest = index;
            }
            if end(index).1 < end(lowest).1 {
                lowest = index;
            }
        }
        pair
    }
}

fn as_toleranced(line: TradeOff) -> TradeOff {
    let (_, own) = member_and_name(&line.name);
    if !(own == PIN_CLEARANCE || is_half_a_diameter(own)) {
        return line;
    }
    TradeOff {
        present: 2.0 * line.present,
        allowance: match line.allowance {
            Allowance::UpTo(limit) => Allowance::UpTo(2.0 * limit),
            other => other,
        },
        ..line
    }
}

/// Every pair of pins of a plate up to straight across, the best first: what
/// turns a level bar laid on them, by a criterion. Pairs of one span are alike
/// and stand for one another; spans that no two holes have, because some are
/// absent, are left out, and so are rings whose radius is not known. Where the
/// holes were measured, [`choose_pairs`](crate::inspection::choose_pairs) tells
/// the pairs of one span apart.
///
/// ```
/// use dividing_core::Workshop;
/// use dividing_core::accuracy::{Criterion, best_pin_pairs};
/// use dividing_core::equipment::Equipment;
/// let workshop = Workshop::from_json(r#"{"format": 1, "name": "w", "equipment": [
///     {"pin_plate": {"name": "pins", "circles": [{"holes": 9, "pitch_radius": 58}],
///      "registration": {"pin_diameter": 5.99, "hole_diameter": 6,
///                       "hole_position_tolerance": 0.02}}}]}"#)?;
/// let Equipment::PinPlate(plate) = &workshop.equipment()[0] else { unreachable!() };
/// let pairs = best_pin_pairs(plate, Criterion::WorstCase)?;
/// assert_eq!((pairs[0].span, pairs.len()), (4, 4)); // the longest baseline
/// # Ok::<(), dividing_core::Error>(())
/// ```
///
/// # Errors
/// [`ErrorKind::Undetermined`] without the sizes of pins and holes; the errors
/// of [`Criterion::total_rad`].
pub fn best_pin_pairs(plate: &PinPlate, criterion: Criterion) -> Result<Vec<PinPair>> {
    let pins = plate.registration.as_ref().ok_or_else(|| {
        Error::new(
            ErrorKind::Undetermined,
            "the pairs cannot be compared without the sizes of pins and holes",
        )
        .at("registration")
    })?;
    let mut pairs = Vec::new();
    for (index, circle) in plate.circles.iter().enumerate() {
        let Some(radius) = circle.pitch_radius else {
            continue;
        };
        let present: BTreeSet<u32> = circle.present().into_iter().collect();
        for span in 1..=circle.holes / 2 {
            let stands = |hole: &u32| present.contains(&((hole + span) % circle.holes));
            if !present.iter().any(stands) {
                continue;
            }
            let baseline = baseline_mm(radius.mm(), circle.holes, span);
            let contributors = bar(
                plate,
                pins,
                pins.position_zone_mm(radius.mm()),
                BarPlace::LevelAbove,
                baseline,
            );
            pairs.push(PinPair {
                circle: index,
                holes: circle.holes,
                span,
                baseline_mm: baseline,
                total_rad: criterion
                    .total_rad(&contributors)
                    .at(format!("circles[{index}]"))?,
            });
        }
    }
    pairs.sort_by(|a, b| {
        a.total_rad
            .total_cmp(&b.total_rad)
            .then(b.baseline_mm.total_cmp(&a.baseline_mm))
    });
    Ok(pairs)
}
