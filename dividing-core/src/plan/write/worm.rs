//! What the sheet says of a worm head: plate, pins, gears, sector arms, closing.

use num_integer::Integer;

use super::Writer;
use crate::angle::Angle;
use crate::equipment::{ChangeGears, Equipment, Sense, WormHead};
use crate::gearing::Train;
use crate::job::Approach;
use crate::plan::sheet::SheetFact;
use crate::plan::words;
use crate::reach::worm::{GearPlace, PlateSense, wrong_sense_closing};
use crate::reach::{Method, Setting, WayKind};
use crate::words::count;

impl Writer<'_> {
    /// Facts of compound and differential indexing, and why simple indexing on
    /// the same head is not enough.
    pub(super) fn worm_facts(&self) -> Vec<SheetFact> {
        let Equipment::WormHead(head) = self.equipment else {
            return Vec::new();
        };
        let mut facts = Vec::new();
        let mut fact = |label: &str, value: String| {
            facts.push(SheetFact {
                label: label.into(),
                value,
            });
        };
        match self.plan.way {
            WayKind::DifferentialIndexing {
                train, plate_sense, ..
            } => {
                let turns = self.plate_turns(head).unwrap_or_default();
                fact(
                    "Plate",
                    format!(
                        "turns {}, {} for one of the spindle",
                        words::sense_of_plate(plate_sense),
                        turns_words(turns.abs())
                    ),
                );
                fact("Gears", gears_words(&train));
                if let Some(gears) = &head.change_gears {
                    let with_crank = plate_sense == PlateSense::WithCrank;
                    let idlers = gears.idlers.idlers(&train, with_crank);
                    fact(
                        "Idlers",
                        format!("{idlers}, by the convention of this head"),
                    );
                }
            }
            WayKind::CompoundIndexing { .. } => fact("One move", self.compound_move()),
            _ => return facts,
        }
        if let Some((divisions_a_move, divisions)) = self.plan.way.parts_of_a_move()
            && divisions_a_move > 1
        {
            fact(
                "Order",
                format!(
                    "every move makes {divisions_a_move} of the {divisions} divisions, so that the features are not made in turn: take the rows as they stand; the last move closes after {divisions_a_move} turns of the spindle"
                ),
            );
        }
        if let Some(simple) = self
            .plans
            .plans()
            .iter()
            .find(|it| it.equipment == self.plan.equipment && it.way.method() == Method::Usual)
            && let Some(shortfall) = &simple.shortfall
        {
            fact(
                "Simple indexing",
                format!(
                    "is not exact here: {}. Nearest: {}, off by up to {}",
                    shortfall.reason,
                    simple.method,
                    words::angle(simple.largest_residual, self.units)
                ),
            );
        }
        facts
    }

    pub(super) fn before_worm_head(&self, head: &WormHead, lines: &mut Vec<String>) {
        match self.plan.way {
            WayKind::SimpleIndexing { plate, back, .. } => {
                lines.push(format!(
                    "Fit {}{} and set the crank pin to the {}-hole circle.",
                    words::plate_side(head, plate, false),
                    if back { ", back outward" } else { "" },
                    self.circle()
                ));
                if self.lacks_holes(head) {
                    lines.push("This circle lacks holes: fit the plate so that its numbers grow the way the crank turns, start from the place marked 0 and go by the numbers, places without a hole counted; sector arms are of no use.".into());
                } else {
                    lines.push(self.sector_arms());
                    lines.push(if self.goes_by_numbers(head) {
                        "The holes of this circle were measured: fit the plate so that its numbers grow the way the crank turns and go by them; turns and holes count from the hole numbered 0.".into()
                    } else {
                        "Put the crank pin in a hole and mark it 0: turns and holes count from here."
                            .into()
                    });
                }
            }
            WayKind::CompoundIndexing { .. } => self.before_compound(head, lines),
            WayKind::DifferentialIndexing {
                plate,
                back,
                train,
                plate_sense,
                ..
            } => {
                let turns = self.plate_turns(head).unwrap_or_default();
                lines.push(format!(
                    "The plate must turn {}, {} for one turn of the spindle.",
                    words::sense_of_plate(plate_sense),
                    turns_words(turns.abs())
                ));
                lines.push(format!(
                    "Fit {}{}, set the crank pin to the {}-hole circle and draw the pin that holds the plate: it turns with the gears.",
                    words::plate_side(head, plate, false),
                    if back { ", back outward" } else { "" },
                    self.circle()
                ));
                lines.push(format!("Change gears: {}.", gears_words(&train)));
                if let Some(gears) = &head.change_gears {
                    lines.push(idler_words(gears, &train, plate_sense));
                }
                lines.push(self.sector_arms());
                lines.push(if self.goes_by_numbers(head) {
                    "The holes of this circle were measured: fit the plate so that its numbers grow the way the crank turns and go by them; turns and holes count on the plate, from the hole numbered 0."
                } else {
                    "Put the crank pin in a hole and mark it 0: turns and holes count on the plate, from here."
                }.into());
                lines.push(
                    "Set the arms against the pin anew after every move, for the plate has moved."
                        .into(),
                );
            }
            _ => return,
        }
        lines.push(format!(
            "Turn the crank {} throughout, {}. The part must turn clockwise, seen from the side of the cutter; {}",
            match head.sense {
                Sense::CounterClockwise => "clockwise",
                Sense::Clockwise => "counter-clockwise",
            },
            if self.plan.way.method() == Method::Compound {
                "as the way on; back is the other way"
            } else {
                "always in the one sense"
            },
            if self.job.features().equal_divisions().is_some() {
                "the other way round the features come in reverse order, no worse."
            } else {
                "the other way round the pattern comes out mirrored and wrong."
            }
        ));
    }

    /// Whether the circle of simple indexing has places without a hole.
    fn lacks_holes(&self, head: &WormHead) -> bool {
        let WayKind::SimpleIndexing {
            plate,
            back,
            circle,
        } = self.plan.way
        else {
            return false;
        };
        head.side(plate, back)
            .and_then(|side| side.get(circle))
            .is_some_and(|it| !it.absent.is_empty())
    }

    /// Whether a circle in use was measured, so that the holes it was measured by
    /// must be met.
    fn goes_by_numbers(&self, head: &WormHead) -> bool {
        let measured = |plate, back, circle: usize| {
            head.side(plate, back)
                .and_then(|side| side.get(circle))
                .is_some_and(|it| it.measured.is_some())
        };
        match self.plan.way {
            WayKind::SimpleIndexing {
                plate,
                back,
                circle,
            }
            | WayKind::DifferentialIndexing {
                plate,
                back,
                circle,
                ..
            } => measured(plate, back, circle),
            WayKind::CompoundIndexing {
                plate,
                back,
                first_circle,
                second_circle,
                ..
            } => measured(plate, back, first_circle) || measured(plate, back, second_circle),
            _ => false,
        }
    }

    fn before_compound(&self, head: &WormHead, lines: &mut Vec<String>) {
        let WayKind::CompoundIndexing {
            plate,
            back,
            whole_turns,
            first_holes,
            second_holes,
            ..
        } = self.plan.way
        else {
            return;
        };
        let (first, second) = self.compound_circles();
        let (_, first_holes) = crank_alone(whole_turns, first_holes, first);
        lines.push(format!(
            "Fit {}: the crank pin on the {first}-hole circle, the pin that holds the plate in the {second}-hole circle of the same side.",
            words::plate_side(head, plate, back)
        ));
        lines.push(format!(
            "One move: {}. The first with the plate held; for the second leave the crank pin in, draw the plate's pin, turn plate and crank together and let it in again.",
            self.compound_move()
        ));
        for (what, holes) in [
            ("Sector arms for the crank", first_holes),
            ("Marks or arms for the plate", second_holes),
        ] {
            let holes = i128::from(holes.unsigned_abs());
            lines.push(format!(
                "{what}: span {}, so that {} show.",
                count(holes, "hole space"),
                count(holes + 1, "hole")
            ));
        }
        let back = first_holes < 0 || second_holes < 0;
        if back && self.job.approach() == Approach::OneSide {
            lines.push("After a movement back the lost motion is on the wrong side: go back well beyond the hole and come up to it the way on.".into());
        }
        lines.push(if self.goes_by_numbers(head) {
            self.start_by_numbers()
        } else {
            "Note the holes that both pins start from as 0.".into()
        });
    }

    /// From which numbered holes the pins of compound indexing begin on a measured
    /// plate. The plate moves on under its pin, which meets the numbers downward.
    fn start_by_numbers(&self) -> String {
        let Some(Setting::CompoundCrank {
            first_circle,
            first_hole,
            second_circle,
            second_hole,
            ..
        }) = self.plan.placements.first().map(|it| &it.setting)
        else {
            return String::new();
        };
        let place = (second_circle - second_hole) % (*second_circle).max(1);
        format!(
            "The plate was measured: fit it so that its numbers grow the way the crank turns. Begin with the crank pin in hole {first_hole} of {first_circle} and the plate's pin in hole {place} of {second_circle}. The plate's pin counts the holes that have passed it, downward from hole 0: its count {second_hole} is hole {place}."
        )
    }

    /// The circles of crank pin and plate pin.
    fn compound_circles(&self) -> (u32, u32) {
        let WayKind::CompoundIndexing {
            plate,
            back,
            first_circle,
            second_circle,
            ..
        } = self.plan.way
        else {
            return (0, 0);
        };
        let holes = |circle: usize| match self.equipment {
            Equipment::WormHead(head) => head
                .side(plate, back)
                .and_then(|side| side.get(circle))
                .map_or(0, |it| it.holes),
            _ => 0,
        };
        (holes(first_circle), holes(second_circle))
    }

    /// One move of compound indexing in words.
    pub(super) fn compound_move(&self) -> String {
        let WayKind::CompoundIndexing {
            whole_turns,
            first_holes,
            second_holes,
            ..
        } = self.plan.way
        else {
            return String::new();
        };
        let (first, second) = self.compound_circles();
        // Turns and holes of the crank are one movement, with the plate held.
        let (turns, holes) = crank_alone(whole_turns, first_holes, first);
        let turns = match turns {
            0 => String::new(),
            turns => format!("{} and ", count(turns.abs(), "turn")),
        };
        format!(
            "crank {turns}{}, then plate and crank {}",
            words::movement(holes, first),
            words::movement(second_holes, second)
        )
    }

    /// What must be found when the dry run of a worm head comes back.
    pub(super) fn worm_closing(&self, head: &WormHead) -> String {
        match self.plan.way {
            WayKind::CompoundIndexing {
                divisions,
                first_holes,
                second_holes,
                ..
            } => {
                let (first, second) = self.compound_circles();
                let begin = match self.plan.placements.first().map(|it| &it.setting) {
                    Some(Setting::CompoundCrank {
                        first_hole,
                        second_hole,
                        ..
                    }) => (*first_hole, *second_hole),
                    _ => (0, 0),
                };
                let hole = |begin: u32, holes: i64, circle: u32| {
                    let circle = i128::from(circle.max(1));
                    divisions
                        .checked_mul(holes.into())
                        .and_then(|all| all.checked_add(begin.into()))
                        .map_or(0, |all| Integer::mod_floor(&all, &circle))
                };
                format!(
                    "after {} the crank pin stands at {} of {first}, the plate's pin at {} of {second}, and an indicator on the part reads {}.",
                    count(divisions, "move"),
                    hole(begin.0, first_holes, first),
                    hole(begin.1, second_holes, second),
                    self.closing_reading()
                )
            }
            WayKind::DifferentialIndexing { .. } => {
                let circle = i128::from(self.circle()).max(1);
                let (turns, holes) = self.all_spaces().unwrap_or(0).div_rem(&circle);
                let wrong = match self.wrong_sense(head) {
                    Some(off) => format!(
                        "Should the plate turn the wrong way, it closes {} off: change the number of idlers by one.",
                        words::signed_angle(off, self.units)
                    ),
                    None => "Should the plate turn the wrong way, the spindle does not turn at all: change the number of idlers by one.".into(),
                };
                format!(
                    "after {} of the crank, counted on the plate, an indicator on the part must read {}. {wrong}",
                    words::turns_and(turns, holes, "hole"),
                    self.closing_reading()
                )
            }
            _ => {
                let (turns, spindle) = (head.worm_ratio.numerator(), head.worm_ratio.denominator());
                let round = match spindle {
                    1 => String::new(),
                    _ => format!(" ({spindle} turns of the spindle)"),
                };
                format!(
                    "after {turns} crank turns in all{round} the pin must drop into the hole it began in."
                )
            }
        }
    }

    /// Turns of the plate for one of the spindle, below zero against the crank.
    fn plate_turns(&self, head: &WormHead) -> Option<Angle> {
        let WayKind::DifferentialIndexing {
            train, plate_sense, ..
        } = self.plan.way
        else {
            return None;
        };
        let fixed = head.change_gears.as_ref()?.fixed_gearing;
        let ratio = train.ratio().checked_mul(fixed).ok()?;
        let turns = Angle::new(ratio.numerator(), ratio.denominator()).ok()?;
        Some(match plate_sense {
            PlateSense::WithCrank => turns,
            PlateSense::AgainstCrank => -turns,
        })
    }

    /// What repeating an inexact move of compound or differential indexing does
    /// at the closing; none where moves are exact.
    pub(super) fn repeated(&self) -> Option<Angle> {
        let (_, divisions) = self.plan.way.parts_of_a_move()?;
        let placements = self.in_order_of_work();
        let [first, second, ..] = placements.as_slice() else {
            return None;
        };
        let per_move = second.residual.checked_sub(first.residual).ok()?;
        let closing = per_move.checked_mul(divisions).ok()?;
        (!self.plan.exact).then_some(closing)
    }

    /// What the indicator on the part must read after the dry run.
    fn closing_reading(&self) -> String {
        match self.repeated() {
            Some(closing) => format!(
                "{} from the start, for the move is not exact",
                words::signed_angle(closing, self.units)
            ),
            None => "as at the start".into(),
        }
    }

    /// How far off the spindle closes with the plate turned the wrong way.
    fn wrong_sense(&self, head: &WormHead) -> Option<Angle> {
        let turns = self.plate_turns(head)?;
        // The moves of k divisions close after k turns.
        let (all, _) = self.plan.way.parts_of_a_move()?;
        wrong_sense_closing(head.worm_ratio, turns, Angle::new(all, 1).ok()?).ok()?
    }
}

/// A number of turns, such as `12/7 turns`.
fn turns_words(turns: Angle) -> String {
    match (turns.numerator(), turns.denominator()) {
        (numerator, 1) => count(numerator, "turn"),
        (numerator, denominator) if numerator < denominator => {
            format!("{numerator}/{denominator} turn")
        }
        (numerator, denominator) => format!("{numerator}/{denominator} turns"),
    }
}

/// The gears of a train by their places.
fn gears_words(train: &Train) -> String {
    let named: Vec<String> = GearPlace::of(train)
        .into_iter()
        .map(|(place, teeth)| match place {
            GearPlace::Spindle => format!("{teeth} on the spindle (driver)"),
            GearPlace::StudDriven { stud } => format!("{teeth} on stud {stud} (driven)"),
            GearPlace::StudDriver { stud } => format!("{teeth} on the same stud {stud} (driver)"),
            GearPlace::PlateShaft => format!("{teeth} on the shaft of the plate (driven)"),
        })
        .collect();
    named.join(", ")
}

/// What the crank alone moves by in compound indexing, whole turns and holes beyond
/// them in one sense: a turn on and 7 of 21 back are 14 of 21 on. Holes are never 0.
fn crank_alone(whole_turns: i128, holes: i64, circle: u32) -> (i128, i64) {
    let circle = i64::from(circle);
    match whole_turns {
        on if on > 0 && holes < 0 => (on - 1, holes + circle),
        back if back < 0 && holes > 0 => (back + 1, holes - circle),
        same => (same, holes),
    }
}

/// The idlers of a train, the physical fact after the count.
fn idler_words(gears: &ChangeGears, train: &Train, sense: PlateSense) -> String {
    let idlers = gears.idlers.idlers(train, sense == PlateSense::WithCrank);
    format!(
        "Idlers: {}, by the convention of this head, any size that reaches. What counts is that the plate turns {}: try it by hand.",
        if idlers == 0 {
            "none".into()
        } else {
            idlers.to_string()
        },
        words::sense_of_plate(sense)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turns_and_holes_of_the_crank_are_one_movement_in_one_sense() {
        for circle in [2_u32, 21, 49] {
            for whole in -3_i128..=3 {
                for holes in (1 - i64::from(circle)..i64::from(circle)).filter(|it| *it != 0) {
                    let (turns, rest) = crank_alone(whole, holes, circle);
                    let spaces =
                        |turns: i128, holes: i64| turns * i128::from(circle) + i128::from(holes);
                    assert_eq!(spaces(turns, rest), spaces(whole, holes));
                    assert!(rest != 0 && rest.unsigned_abs() < u64::from(circle));
                    assert!(turns == 0 || (turns > 0) == (rest > 0));
                }
            }
        }
    }
}
