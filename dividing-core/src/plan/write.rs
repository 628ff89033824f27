//! Writing the sheet of a plan: facts, steps, settings, checks.

mod worm;

use num_integer::Integer;

use super::sheet::{Sheet, SheetFact, SheetTable};
use super::{
    Plan, Plans, cautions, corrections, devices, feature_words, measured_words, steps, words,
};
use crate::accuracy::{DecisionRule, FeatureShift, InputUnit, VerdictKind};
use crate::angle::Angle;
use crate::equipment::{Equipment, GraduatedDial, PinHold, PinPlate, Sense};
use crate::error::{Error, Result};
use crate::features::Features;
use crate::job::{Approach, Job, SheetUnits, Start, Tolerance};
use crate::reach::{Placement, Setting, WayKind};
use crate::words::count;

/// The sheet of a plan, which is number `index` of its plans.
pub(super) fn sheet(plans: &Plans, plan: &Plan, index: usize) -> Result<Sheet> {
    let equipment = plans
        .workshop()
        .piece(&plan.equipment)
        .ok_or_else(|| Error::internal("a plan for equipment that the workshop lacks"))?;
    let writer = Writer {
        plans,
        plan,
        job: plans.job(),
        units: plans.job().units(),
        equipment,
    };
    Ok(Sheet {
        title: plans.job().name().into(),
        facts: writer.facts(index),
        findings: plan.findings.iter().map(|it| it.text.clone()).collect(),
        before: writer.before(),
        settings: writer.settings(),
        places: writer.places(),
        corrections: corrections::table(plans.workshop(), equipment, plan, writer.units)?,
        checks: writer.checks()?,
        error_sources: writer.error_sources(),
        trade_offs: None,
        alternatives: plan.alternatives.clone(),
        cautions: cautions::cautions(equipment, plan.way),
    })
}

struct Writer<'p> {
    plans: &'p Plans,
    plan: &'p Plan,
    job: &'p Job,
    units: SheetUnits,
    equipment: &'p Equipment,
}

impl Writer<'_> {
    fn facts(&self, index: usize) -> Vec<SheetFact> {
        let plan = self.plan;
        let mut facts = Vec::new();
        let mut fact = |label: &str, value: String| {
            facts.push(SheetFact {
                label: label.into(),
                value,
            });
        };
        fact(
            "Plan",
            format!(
                "{} of {} for {}",
                index + 1,
                self.plans.plans().len(),
                self.plans.workshop().name()
            ),
        );
        fact("Equipment", plan.equipment.clone());
        fact("Method", plan.method.clone());
        fact("Procedure", devices::procedure(plan).into());
        fact("Features", self.features());
        fact("Start", self.start());
        if let Some(choice) = &plan.measured_choice {
            fact(
                "Measured",
                measured_words::choice(
                    self.plans.workshop(),
                    plan,
                    choice,
                    self.equipment,
                    self.units,
                ),
            );
        }
        fact(
            "Angles",
            "grow counter-clockwise, seen from the side of the cutter".into(),
        );
        fact("Reach", self.reach());
        facts.extend(self.worm_facts());
        let mut fact = |label: &str, value: String| {
            facts.push(SheetFact {
                label: label.into(),
                value,
            });
        };
        if let Some(shortfall) = &plan.shortfall {
            fact("Why not", sentence(&shortfall.reason));
            let texts: Vec<&str> = shortfall
                .suppliers
                .iter()
                .map(|it| it.text.as_str())
                .collect();
            fact("Would do it", sentence(&texts.join(", or ")));
        }
        fact("Error", self.error());
        if let Some(tolerance) = self.job.tolerance() {
            fact("Tolerance", self.tolerance(tolerance));
        }
        fact("Verdict", self.verdict());
        if let Some(met) = self.met() {
            fact("Meets", met);
        }
        if let Some(shift) = plan.feature_shift {
            fact("Off centre", self.shift(shift));
        }
        facts
    }

    fn small(&self, value_rad: f64) -> String {
        words::small_angle(value_rad, self.units)
    }

    fn features(&self) -> String {
        let features = self.job.features();
        let number = i128::try_from(features.count()).unwrap_or(i128::MAX);
        let noun = count(number, features.called());
        let spacing = match features.equal_divisions() {
            Some(divisions) => Angle::new(1, i128::from(divisions)).map_or(String::new(), |step| {
                format!(", {} apart", words::angle(step, self.units))
            }),
            None => ", at listed angles".into(),
        };
        let drawing = feature_words::drawing(features, self.units);
        format!("{noun}{spacing}{drawing}")
    }

    fn start(&self) -> String {
        match self.job.start() {
            Start::Free if self.plan.exact => {
                "free: the first feature stands at its setting".into()
            }
            Start::Free => "free: the whole pattern is shifted for the best fit".into(),
            Start::OnASetting => "the first feature stands exactly at its setting".into(),
            Start::Clocked(clocked) => format!(
                "clocked to the {} at drawing angle {}",
                clocked.to,
                words::angle(clocked.at, self.units)
            ),
        }
    }

    fn reach(&self) -> String {
        if self.plan.exact {
            "exact at every feature".into()
        } else {
            format!(
                "NOT exact; nearest settings, off by up to {}",
                words::angle(self.plan.largest_residual, self.units)
            )
        }
    }

    fn error(&self) -> String {
        let error = &self.plan.error;
        let (at_least, close) = match (error.unknown.is_empty(), error.contributors.is_empty()) {
            (true, _) => ("", ""),
            (false, true) if self.plan.exact => return "not known, see the notes".into(),
            (false, _) => (
                "at least ",
                ", more where the workshop does not say, see the notes",
            ),
        };
        let exact = if error.exact_geometry.is_empty() {
            String::new()
        } else {
            format!(
                "; exact geometry instead of the linear model for: {}",
                error.exact_geometry.join(", ")
            )
        };
        format!(
            "{at_least}worst case ±{}, root-sum-square ±{}{close}{exact}",
            self.small(error.worst_rad),
            self.small(error.root_sum_square_rad)
        )
    }

    fn tolerance(&self, tolerance: &Tolerance) -> String {
        let limit = self.plan.verdict.limit_rad.map(|it| self.small(it));
        let limit = limit.unwrap_or_default();
        match tolerance {
            Tolerance::Angle(limit) => format!("±{}", words::angle(*limit, self.units)),
            Tolerance::PositionDiameter(zone) => format!(
                "position diameter {}{} at radius {}, that is ±{limit}",
                words::length(zone.diameter, self.units),
                if zone.at_maximum_material.is_some() {
                    " and its bonus from maximum material"
                } else {
                    ""
                },
                words::length(zone.radius, self.units),
            ),
            Tolerance::Pitch(pitch) => {
                let named = |name: &str, limit: Option<Angle>| {
                    limit.map(|it| format!("{name} {}", words::angle(it, self.units)))
                };
                [
                    named("single pitch ±", pitch.single),
                    named("cumulative pitch", pitch.cumulative),
                ]
                .into_iter()
                .flatten()
                .collect::<Vec<_>>()
                .join(", ")
            }
            Tolerance::AngularClass(it) => format!(
                "ISO 2768-1 class {} for a shorter side of {}, that is ±{limit}",
                it.class.symbol(),
                words::length(it.shorter_side, self.units)
            ),
            Tolerance::PitchGrade(it) => format!(
                "pitch as by ISO 1328-1 grade {} at reference diameter {} and module {}",
                it.grade,
                words::length(it.pitch.reference_diameter, self.units),
                words::length(it.pitch.module, self.units)
            ),
        }
    }

    fn verdict(&self) -> String {
        let verdict = self.plan.verdict;
        let margin = match verdict.margin_rad {
            Some(margin) if margin >= 0.0 => format!(", margin {}", self.small(margin)),
            Some(margin) => format!(", over by {}", self.small(-margin)),
            None => String::new(),
        };
        let margin = match (verdict.rule, verdict.probability) {
            (Some(rule), Some(probability)) => format!(
                "{margin}, by {}; a feature conforms with a probability of at least {}",
                rule_words(rule),
                words::percent(probability)
            ),
            (Some(rule), None) => format!("{margin}, by {}", rule_words(rule)),
            _ => margin,
        };
        match verdict.kind {
            VerdictKind::Pass => format!("PASS{margin}"),
            VerdictKind::NoTolerance => "none: the job gives no tolerance".into(),
            VerdictKind::NotProven if !self.plan.error.unknown.is_empty() => {
                "NOT PROVEN: the figure is incomplete, see the notes".into()
            }
            VerdictKind::NotProven if verdict.rule.is_some() => {
                format!("NOT PROVEN: within the guard band{margin}")
            }
            VerdictKind::NotProven => format!("NOT PROVEN: the worst case is too large{margin}"),
            VerdictKind::Fail => format!("FAIL: the settings alone are too far off{margin}"),
        }
    }

    /// The class or grade that the worst case meets, where the job names one.
    fn met(&self) -> Option<String> {
        let verdict = self.plan.verdict;
        let class = verdict
            .class_met
            .map(|it| format!("ISO 2768-1 class {} at worst", it.symbol()));
        let grade = verdict.grade_met.map(|it| {
            format!("ISO 1328-1 grade {it} at worst, by its pitch alone: a plate is no gear")
        });
        class.or(grade)
    }

    /// The shift of features off the axis, apart from their angle.
    fn shift(&self, shift: FeatureShift) -> String {
        if shift.shift_mm <= 0.0 {
            return "nothing: every cut is located from the part's own round".into();
        }
        let shifted = format!(
            "features stand up to {} off their place, the part being off the axis",
            words::small_length_mm(shift.shift_mm, self.units)
        );
        if shift.angle_rad > 0.0 {
            format!(
                "{shifted}; that turns them by up to ±{} about the part's axis, which is in the error",
                self.small(shift.angle_rad)
            )
        } else {
            format!("{shifted}; that is not in the error, which is of angle alone")
        }
    }

    fn before(&self) -> Vec<String> {
        let mut lines = Vec::new();
        match self.equipment {
            Equipment::DirectPlate(_) => {
                lines.push(format!("Use the {}-hole circle; places count on {} from 0, absent holes too.",
                    self.circle(), sense_words(self.equipment.numbering())));
                lines.extend(self.holes_to_plug());
            }
            Equipment::VernierIndexer(_) => {
                lines.push(format!(
                    "Number holes and stations from 0, counting on {}; the pin goes through the hole and the station of the row.",
                    sense_words(self.equipment.numbering())
                ));
                lines.extend(self.holes_and_stations());
            }
            Equipment::FacedBlock(block) => lines.push(format!(
                "Mark the faces 0 to {} counter-clockwise, seen from the side of the cutter; seat the block hard against its stop.",
                block.faces - 1
            )),
            Equipment::PinPlate(plate) => self.before_pin_plate(plate, &mut lines),
            Equipment::WormHead(head) => self.before_worm_head(head, &mut lines),
            Equipment::GraduatedDial(dial) => self.before_dial(dial, &mut lines),
            other => lines.extend(devices::before(other, self.units)),
        }
        if let Equipment::Stack(stack) = self.equipment {
            lines.extend(self.before_members(&stack.members));
        }
        lines.push(self.clocking());
        lines.extend(self.backlash());
        lines.push(match self.job.approach() {
            Approach::OneSide => "Clamp the work, lock the spindle or table, and note the side from which every setting is approached.".into(),
            Approach::EitherSide => "Clamp the work, lock the spindle or table.".to_owned(),
        });
        lines.push(format!(
            "Dry run without cutting: go through all settings once and back to the first; {}",
            self.closing()
        ));
        lines
    }

    /// What to do before the first cut with each member of a stack.
    fn before_members(&self, members: &[String]) -> Vec<String> {
        let workshop = self.plans.workshop();
        members
            .iter()
            .filter_map(|name| workshop.piece(name))
            .flat_map(|piece| devices::before(piece, self.units))
            .collect()
    }

    fn circle(&self) -> u32 {
        match self.plan.placements.first().map(|it| &it.setting) {
            Some(
                Setting::Hole { circle, .. }
                | Setting::BarOnPins { circle, .. }
                | Setting::Crank { circle, .. },
            ) => *circle,
            _ => 0,
        }
    }

    fn holes_to_plug(&self) -> Option<String> {
        let used = self.used(|setting| match setting {
            Setting::Hole { hole, .. } => Some(*hole),
            _ => None,
        });
        let absent: &[u32] = match (self.equipment, self.plan.way) {
            (Equipment::DirectPlate(plate), WayKind::DirectCircle { circle }) => {
                plate.circles.get(circle).map_or(&[], |it| &it.absent)
            }
            _ => &[],
        };
        let unused: Vec<u32> = (0..self.circle())
            .filter(|hole| used.binary_search(hole).is_err() && !absent.contains(hole))
            .collect();
        if unused.is_empty() {
            return Some("Every hole of the circle is used; nothing to plug.".into());
        }
        Some(format!(
            "Used holes: {}. Plug, tape or mark the others: {}.",
            ranges(&used),
            ranges(&unused)
        ))
    }

    /// What the settings of the job and of its datum use, sorted.
    fn used(&self, place: impl Fn(&Setting) -> Option<u32>) -> Vec<u32> {
        let settings = self.plan.placements.iter().map(|it| &it.setting);
        let mut used: Vec<u32> = settings.chain(&self.plan.datum).filter_map(place).collect();
        used.sort_unstable();
        used.dedup();
        used
    }

    fn holes_and_stations(&self) -> Option<String> {
        let Equipment::VernierIndexer(indexer) = self.equipment else {
            return None;
        };
        let holes = self.used(|setting| match setting {
            Setting::HoleAtStation { hole, .. } => Some(*hole),
            _ => None,
        });
        let stations = self.used(|setting| match setting {
            Setting::HoleAtStation { station, .. } => u32::try_from(*station).ok(),
            _ => None,
        });
        let all = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
        let covered: Vec<u32> = (0..all(indexer.stations.len()))
            .filter(|it| stations.binary_search(it).is_err())
            .collect();
        let cover = if covered.is_empty() {
            "every station is used".into()
        } else {
            format!("plug or cover stations {}", ranges(&covered))
        };
        Some(format!(
            "Mark the holes used: {}. Stations used: {}; {cover}.",
            ranges(&holes),
            ranges(&stations)
        ))
    }

    fn before_pin_plate(&self, plate: &PinPlate, lines: &mut Vec<String>) {
        lines.push(format!(
            "Fix the plate to the part. Holes of the {}-hole ring count on {} from 0.",
            self.circle(),
            sense_words(self.equipment.numbering())
        ));
        lines.push(match plate.pin_hold {
            PinHold::Loose => {
                "Pins drop to the bottom of their holes by themselves; use two of one size. Let each pin keep its hole; where two pins are moved from pair to pair, the same one goes first round the ring, so that a difference between them turns the features alike while the bar stays on one side.".into()
            }
            PinHold::Fixed => "Pins are fixed; use two of one size.".into(),
        });
        lines.push("Right and left are as seen from the side of the cutter. With the bar on top the two pins stand above the axis or level with it, with the bar underneath below it; with the bar upright at right they stand right of the axis, at left to its left.".into());
        if let Some(levelling) = &plate.levelling {
            lines.push(format!(
                "Level the bar with an indicator: at most {} over {} of travel.",
                words::length(levelling.reading, self.units),
                words::length(levelling.travel, self.units)
            ));
        }
        lines.push("Find the cut from the part's own round. The plate need not run true: off centre it changes no angle, but a cut found from the plate comes out off the axis.".into());
    }

    /// What the lost motion would do to a setting approached from the wrong side.
    fn backlash(&self) -> Option<String> {
        let backlash = match self.equipment {
            Equipment::WormHead(it) => it.backlash,
            Equipment::GraduatedDial(it) => it.backlash,
            _ => None,
        }?;
        let backlash = words::angle(backlash, self.units);
        Some(match self.job.approach() {
            Approach::OneSide => format!(
                "Lost motion is {backlash}: a setting approached from the wrong side is off by as much."
            ),
            Approach::EitherSide => format!(
                "Settings are approached from either side: the figure counts the lost motion of {backlash}, half of it either way."
            ),
        })
    }

    /// The one move of an exact equal division, in hole spaces.
    fn constant_move(&self) -> Option<i128> {
        let placements = self.in_order_of_work();
        self.job.features().equal_divisions()?;
        let first =
            steps::crank_spaces(placements.first()?, placements.get(1)?, self.all_spaces())?;
        let same = placements
            .windows(2)
            .all(|pair| matches!(pair, [a, b] if steps::crank_spaces(a, b, self.all_spaces()) == Some(first)));
        (same && (self.plan.exact || self.repeated().is_some())).then_some(first)
    }

    /// Hole spaces or graduations after which the crank and the spindle close.
    fn all_spaces(&self) -> Option<i128> {
        if let WayKind::DifferentialIndexing {
            divisions, spaces, ..
        } = self.plan.way
        {
            return divisions.checked_mul(spaces);
        }
        let (ratio, steps) = match self.equipment {
            Equipment::WormHead(head) => (head.worm_ratio, self.circle()),
            Equipment::GraduatedDial(dial) => (dial.worm_ratio, dial.graduations),
            _ => return None,
        };
        // A fractional ratio closes after several turns of the spindle.
        let (all, rest) = (ratio.numerator() * i128::from(steps)).div_rem(&ratio.denominator());
        Some(if rest == 0 {
            all
        } else {
            ratio.numerator() * i128::from(steps)
        })
    }

    fn sector_arms(&self) -> String {
        let circle = i128::from(self.circle());
        match self.constant_move().map(|spaces| spaces % circle) {
            Some(0) => "The moves are whole turns: the sector arms are not needed.".into(),
            Some(holes) => format!(
                "Set the sector arms to span {}: {} show between the arms, the one with the pin included.",
                count(holes, "hole space"),
                count(holes + 1, "hole")
            ),
            None => format!(
                "{} Count the holes of each row from the crank's zero, or set the sector arms for each move: the holes to move and one more show.",
                self.unequal_moves()
            ),
        }
    }

    /// How the moves of the crank differ.
    fn unequal_moves(&self) -> String {
        /// Most different moves that are listed.
        const MOST_LISTED: usize = 4;
        let mut moves: Vec<i128> = self
            .plan
            .placements
            .windows(2)
            .filter_map(|pair| match pair {
                [from, to] => steps::crank_spaces(from, to, self.all_spaces()),
                _ => None,
            })
            .collect();
        moves.sort_unstable();
        moves.dedup();
        let circle = i128::from(self.circle()).max(1);
        let listed: Vec<String> = moves
            .iter()
            .map(|spaces| words::turns_and(spaces / circle, spaces % circle, "hole"))
            .collect();
        match listed.as_slice() {
            [] => "There is one feature only.".into(),
            [one] => format!("Every move is {one}."),
            some if some.len() <= MOST_LISTED => {
                format!("The moves differ: {}.", some.join(", or "))
            }
            _ => "The moves are not all alike.".into(),
        }
    }

    fn before_dial(&self, dial: &GraduatedDial, lines: &mut Vec<String>) {
        lines.push(format!(
            "Set the table and its dial to zero, coming up to it from below. One turn of the handle is {}, one graduation {}.",
            self.dial_angle(dial, i128::from(dial.graduations)),
            self.dial_angle(dial, 1)
        ));
        if dial.sense == Sense::Clockwise {
            lines.push(
                "The readings of this table grow clockwise, so they fall from feature to feature: \
                 go below each reading and come up to it, or make the features in reverse order."
                    .into(),
            );
        }
    }

    fn dial_angle(&self, dial: &GraduatedDial, graduations: i128) -> String {
        let ratio = dial.worm_ratio;
        let all = ratio.numerator() * i128::from(dial.graduations);
        Angle::new(ratio.denominator() * graduations, all)
            .map_or_else(|_| String::new(), |angle| words::angle(angle, self.units))
    }

    fn clocking(&self) -> String {
        let first = self.plan.placements.first();
        let first = first.map_or_else(String::new, |it| self.device_at(&it.setting));
        let datum = self.plan.datum.as_ref().map(|it| self.device_at(it));
        match self.job.start() {
            Start::Free | Start::OnASetting => {
                format!(
                    "Set {first}; then clock the part so that feature 1 stands where the cutter works."
                )
            }
            Start::Clocked(clocked) => match datum {
                Some(datum) => format!(
                    "Set {datum}; there the {} must stand where the cutter works. Clock the part to it and clamp; it must not shift on the device afterwards.",
                    clocked.to
                ),
                None => format!(
                    "The {} stands where the cutter works when the device stands {} on from its zero, in its own numbering, which is between two settings; check this reading again before cutting.",
                    clocked.to,
                    words::angle(clocked.reading, self.units)
                ),
            },
        }
    }

    /// A setting as the object of "set".
    fn device_at(&self, setting: &Setting) -> String {
        let words = words::setting(self.plans.workshop(), setting, self.equipment);
        match self.equipment {
            Equipment::WormHead(_) if matches!(setting, Setting::CompoundCrank { .. }) => {
                format!("both pins: {words}")
            }
            Equipment::WormHead(_) => format!("the crank to {words}"),
            Equipment::GraduatedDial(_) => format!("the table to {words}"),
            _ => words,
        }
    }

    /// What must be found when the dry run comes back to the first setting.
    fn closing(&self) -> String {
        match self.equipment {
            Equipment::WormHead(head) => self.worm_closing(head),
            Equipment::GraduatedDial(_) => {
                "after a full turn the dial must read as it began, and so must an indicator on the part.".into()
            }
            _ => "an indicator on the part must read as it did at the start.".into(),
        }
    }

    /// The order of the rows: all features of one seat before the other seat, and
    /// moves of several divisions one after the other.
    fn rows(&self) -> Vec<usize> {
        let mut rows: Vec<usize> = (0..self.plan.placements.len()).collect();
        let at = |row: &usize| self.plan.placements.get(*row);
        rows.sort_by_key(|row| {
            at(row).is_some_and(|it| matches!(it.setting, Setting::FacesInVee { .. }))
        });
        if let Some((divisions_a_move, _)) = self.plan.way.parts_of_a_move()
            && divisions_a_move > 1
        {
            rows.sort_by_key(|row| at(row).and_then(|it| steps::on_the_crank(&it.setting)));
        }
        rows
    }

    /// The placements in the order in which they are made.
    fn in_order_of_work(&self) -> Vec<&Placement> {
        let rows = self.rows();
        let placements = rows.into_iter().map(|row| self.plan.placements.get(row));
        placements.flatten().collect()
    }

    fn settings(&self) -> SheetTable {
        let moves = matches!(
            self.equipment,
            Equipment::WormHead(_) | Equipment::DirectPlate(_) | Equipment::GraduatedDial(_)
        );
        let mut head: Vec<String> = ["no", "wanted", self.set_heading()]
            .map(String::from)
            .into();
        if moves {
            head.push(match self.equipment {
                Equipment::GraduatedDial(_) => "handle from zero".into(),
                _ => "move on".into(),
            });
        }
        if !self.plan.exact {
            head.extend(["comes out at".into(), "off by".into()]);
        }
        let features = self.job.features();
        let columns = feature_words::columns(features);
        head.extend(columns.iter().map(|it| (*it).into()));
        let mut table = SheetTable {
            head,
            rows: Vec::new(),
        };
        let mut last: Option<&Placement> = None;
        for row in self.rows() {
            let Some(placement) = self.plan.placements.get(row) else {
                continue;
            };
            let mut cells = vec![
                (row + 1).to_string(),
                words::angle(placement.required, self.units),
                words::setting(self.plans.workshop(), &placement.setting, self.equipment),
            ];
            if moves {
                cells.push(self.move_words(last, placement));
            }
            if !self.plan.exact {
                cells.push(words::angle(placement.attained, self.units));
                cells.push(words::signed_angle(placement.residual, self.units));
            }
            cells.extend(feature_words::cells(features, row, self.units));
            table.rows.push(cells);
            last = Some(placement);
        }
        table
    }

    /// The places of bolt holes in the machine's axes, to check the settings by.
    fn places(&self) -> Option<SheetTable> {
        let Features::BoltCircle(circle) = self.job.features() else {
            return None;
        };
        let mut rows = Vec::with_capacity(self.plan.placements.len());
        for (row, placement) in self.plan.placements.iter().enumerate() {
            let place = circle.place(placement.required);
            rows.push(vec![
                (row + 1).to_string(),
                words::length_mm(place.x_mm, self.units),
                words::length_mm(place.y_mm, self.units),
            ]);
        }
        Some(SheetTable {
            head: ["no", "X", "Y"].map(String::from).into(),
            rows,
        })
    }

    const fn set_heading(&self) -> &'static str {
        match self.equipment {
            Equipment::WormHead(_) => match self.plan.way {
                WayKind::CompoundIndexing { .. } => "pins from zero",
                WayKind::DifferentialIndexing { .. } => "crank on the plate from zero",
                _ => "crank from zero",
            },
            Equipment::GraduatedDial(_) => "table reading",
            Equipment::PinPlate(_) => "pins and bar",
            Equipment::FacedBlock(_) => "block",
            Equipment::SineBar(_) => "gauge blocks",
            Equipment::AngleBlocks(_) => "angle gauge blocks",
            Equipment::Protractor(_) => "reading",
            Equipment::PartReference(_) => "reference",
            Equipment::Stack(_) => "members",
            _ => "set",
        }
    }

    fn move_words(&self, last: Option<&Placement>, placement: &Placement) -> String {
        if let Setting::Reading {
            turns, graduation, ..
        } = placement.setting
        {
            return words::turns_and(turns, i128::from(graduation), "graduation");
        }
        let Some(last) = last else {
            return "start".into();
        };
        if matches!(placement.setting, Setting::CompoundCrank { .. }) {
            return "one move".into();
        }
        if let Some(places) = steps::places_on(last, placement, self.circle()) {
            return count(places, "hole");
        }
        let spaces = steps::crank_spaces(last, placement, self.all_spaces()).unwrap_or(0);
        let circle = i128::from(self.circle()).max(1);
        let (turns, holes) = spaces.div_rem(&circle);
        words::turns_and(turns, holes, "hole")
    }

    fn checks(&self) -> Result<Vec<String>> {
        let mut lines = feature_words::checks(self.job.features(), self.units);
        lines.extend(devices::closing_of_chain(
            self.plan,
            self.equipment,
            self.job,
        )?);
        if let Some(line) = self.closing_move()? {
            lines.push(line);
        }
        if let Some(line) = self.stepping()? {
            lines.push(line);
        }
        lines.push(format!(
            "After the last feature return to the first setting: {}",
            self.closing()
        ));
        Ok(lines)
    }

    /// The last move of an equal division on a crank, which closes the circle.
    fn closing_move(&self) -> Result<Option<String>> {
        let Some(spaces) = self.constant_move() else {
            return Ok(None);
        };
        let circle = i128::from(self.circle()).max(1);
        let (turns, holes) = spaces.div_rem(&circle);
        let number = i128::try_from(self.plan.placements.len()).map_err(Error::internal)?;
        let (all_turns, rest) = (spaces * number).div_rem(&circle);
        Ok(Some(format!(
            "{number} moves of {} make {}.",
            words::turns_and(turns, holes, "hole"),
            words::turns_and(all_turns, rest, "hole"),
        )))
    }

    /// What stepping by a rounded increment would do at the closing, where the
    /// settings are not exact.
    fn stepping(&self) -> Result<Option<String>> {
        let (Some(divisions), Some(all)) =
            (self.job.features().equal_divisions(), self.all_spaces())
        else {
            return Ok(None);
        };
        if self.plan.exact || self.repeated().is_some() {
            return Ok(None);
        }
        let divisions = i128::from(divisions);
        let rounded = (2 * all + divisions).div_euclid(2 * divisions);
        let closing = Angle::new(rounded * divisions - all, all)?;
        let noun = match self.equipment {
            Equipment::GraduatedDial(_) => "graduation",
            _ => "hole space",
        };
        Ok(Some(format!(
            "These are settings counted from zero, each rounded once. Never step by a rounded move: {} each time would close {} off.",
            count(rounded, noun),
            words::signed_angle(closing, self.units)
        )))
    }

    fn error_sources(&self) -> Vec<SheetFact> {
        let mut sources: Vec<SheetFact> = Vec::new();
        if !self.plan.exact {
            sources.push(SheetFact {
                label: "setting off by (residual)".into(),
                value: format!(
                    "±{}",
                    self.small(self.plan.largest_residual.to_radians_f64())
                ),
            });
        }
        for it in self
            .plan
            .error
            .contributors
            .iter()
            .filter(|it| it.limit_rad() > 0.0)
        {
            let input = match it.unit {
                InputUnit::Millimetre => {
                    format!(" (±{})", words::small_length_mm(it.limit, self.units))
                }
                InputUnit::Radian => String::new(),
            };
            sources.push(SheetFact {
                label: format!("{}{input}", it.name),
                value: format!("±{}", self.small(it.limit_rad())),
            });
        }
        sources
    }
}

fn rule_words(rule: DecisionRule) -> String {
    match rule {
        DecisionRule::SimpleAcceptance => "simple acceptance (JCGM 106)".into(),
        DecisionRule::GuardBand { multiple } => {
            format!("a guard band of {multiple} times the expanded uncertainty, k = 2 (JCGM 106)")
        }
    }
}

const fn sense_words(sense: Sense) -> &'static str {
    match sense {
        Sense::CounterClockwise => "counter-clockwise",
        Sense::Clockwise => "clockwise",
    }
}

/// A phrase as a sentence.
fn sentence(phrase: &str) -> String {
    let mut chars = phrase.chars();
    chars.next().map_or_else(String::new, |first| {
        format!("{}{}.", first.to_uppercase(), chars.as_str())
    })
}

/// Sorted numbers in short: `0-3, 7, 9-11`.
fn ranges(numbers: &[u32]) -> String {
    let runs = numbers.chunk_by(|a, b| a + 1 == *b);
    let texts: Vec<String> = runs
        .map(|run| match run {
            [first, .., last] if last - first > 1 => format!("{first}-{last}"),
            run => run
                .iter()
                .map(u32::to_string)
                .collect::<Vec<_>>()
                .join(", "),
        })
        .collect();
    texts.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_listed_in_short() {
        assert_eq!(ranges(&[0, 1, 2, 3, 7, 9, 10]), "0-3, 7, 9, 10");
        assert_eq!(ranges(&[]), "");
    }
}
