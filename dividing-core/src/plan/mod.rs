//! From a job and a workshop to ranked plans and set-up sheets.

mod cautions;
mod choose;
mod corrections;
mod cut_short;
mod devices;
mod error_report;
mod feature_words;
mod handling;
mod html;
mod measured_words;
mod rank;
mod sheet;
mod steps;
mod text;
mod words;
mod write;

pub(crate) use words::{arcsec_reading, reading};

pub use choose::{MeasuredChoice, RingChoice};
pub use cut_short::CutShort;
pub use error_report::ErrorReport;
pub use handling::Handling;
pub use sheet::{Sheet, SheetFact, SheetTable};

use serde::{Deserialize, Serialize};

use crate::accuracy::{
    Coverage, Criterion, EntryFinding, ErrorFigure, ErrorModel, FeatureShift, Verdict, VerdictKind,
    entry_finding, error_figure, verdict,
};
use crate::angle::Angle;
use crate::document::{self, FORMAT};
use crate::equipment::{Equipment, Workshop};
use crate::error::{Error, ErrorKind, Result};
use crate::job::{Job, SheetUnits};
use crate::reach::{
    self, Method, Placement, Reach, Setting, Shortfall, VeeSeat, Way, WayKind, vee_blocks, vee_seat,
};
use crate::words::count;
use crate::work::Meter;

/// Something that the user must know before trusting a plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Finding {
    /// What sort of finding it is.
    pub kind: FindingKind,
    /// The finding as a sentence.
    pub text: String,
}

/// The sorts of findings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum FindingKind {
    /// A block can rest in a V-block that it does not fit, off true.
    FalseRest,
    /// Some features need pins of another span.
    MixedSpans,
    /// The block changes between two seats.
    SeatChange,
    /// A pin at the limits of its tolerances may not enter.
    PinMayNotEnter,
    /// The figures leave out what the workshop does not say.
    IncompleteFigure,
    /// Each feature is referenced to the one before, so that errors add up.
    ErrorsAddUp,
    /// The angles are real numbers, from lengths.
    RealAngles,
    /// A search was cut short, so a better plan may exist.
    SearchCutShort,
    /// A plan further down holds the tolerance where this one is not shown to.
    LaterPlanPasses,
}

/// One way to do the job with one piece of equipment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Plan {
    /// The piece of equipment, as the shop calls it.
    pub equipment: String,
    /// Its kind, as in workshop documents.
    pub equipment_kind: String,
    /// How it is used.
    pub way: WayKind,
    /// The same in words.
    pub method: String,
    /// Whether every feature is exact.
    pub exact: bool,
    /// What the device presents when drawing angle 0 stands at the cutter.
    pub start: Angle,
    /// The setting at which a clocked start finds the existing feature; none for
    /// other starts, and none where the reading given is no setting.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub datum: Option<Setting>,
    /// Every feature with its setting, in the order of the job.
    pub placements: Vec<Placement>,
    /// The largest residual, without sign.
    pub largest_residual: Angle,
    /// Why it is not exact; none when it is.
    pub shortfall: Option<Shortfall>,
    /// How far off the features may be.
    pub error: ErrorFigure,
    /// Whether that holds the tolerance.
    pub verdict: Verdict,
    /// How much there is to do.
    pub handling: Handling,
    /// What to know before trusting the plan.
    pub findings: Vec<Finding>,
    /// Other ways of the same equipment, in words.
    pub alternatives: Vec<String>,
    /// On measured equipment: what the choice of the start and of the settings
    /// is worth.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_choice: Option<MeasuredChoice>,
    /// How far features stand off the part's axis, apart from their angle; only
    /// where the job says how far the part stands off the spindle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feature_shift: Option<FeatureShift>,
}

/// All plans for a job, the best first, with what they were made from.
///
/// The order: plans that are exact at every feature before those that are not;
/// then by verdict (pass or no tolerance given, not proven, fail); then by the
/// worst case, plans whose figure is incomplete last; then by handling; then in
/// the order of the workshop. Each piece of equipment gives one plan, by the
/// best of its ways under the same order; a worm head that is not exact by simple
/// indexing gives one more for compound and one for differential indexing, where
/// these are exact.
///
/// Where a search came to its limit the plans are incomplete: [`Plans::cut_short`]
/// names the equipment that was not looked at in full.
#[derive(Clone, Debug, PartialEq)]
pub struct Plans {
    workshop: Workshop,
    job: Job,
    plans: Vec<Plan>,
    cut_short: Vec<CutShort>,
}

/// Plans a job on everything a workshop owns.
///
/// A piece of equipment whose search comes to a limit is named in
/// [`Plans::cut_short`]; the others are planned all the same.
///
/// # Errors
/// Where there is no plan at all: overflow when the angles of the job have no
/// common denominator within bounds; the work limit of an unwatched call.
///
/// ```
/// use dividing_core::{Job, Workshop, plan_job};
/// let workshop = Workshop::from_json(r#"{"format": 1, "name": "Bench", "equipment": [
///     {"worm_head": {"name": "head", "worm_ratio": 40,
///      "plates": [{"name": "plate 1", "circles": [15, 16, 17, 18, 19, 20]}]}}]}"#)?;
/// let job = Job::from_json(r#"{"format": 1, "name": "Nine slots",
///     "features": {"equal_divisions": {"count": 9, "called": "slot"}}}"#)?;
/// let plans = plan_job(&workshop, &job)?;
/// let sheet = plans.sheet(0)?.to_text();
/// assert!(sheet.contains("4 turns + 8 holes"), "{sheet}");
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn plan_job(workshop: &Workshop, job: &Job) -> Result<Plans> {
    plan_job_within(workshop, job, &mut Meter::default())
}

/// Plans a job within a budget of work that can be watched and cancelled.
///
/// When the budget runs out, what was found is returned, marked incomplete. So
/// that one piece of equipment leaves something for the others, it may take half
/// of what is left at first, and what the others leave in a second try.
///
/// # Errors
/// As [`plan_job`], and cancellation.
///
/// ```
/// use dividing_core::work::Meter;
/// use dividing_core::{Job, Workshop, plan_job_within};
/// let workshop = Workshop::from_json(r#"{"format": 1, "name": "Bench", "equipment": [
///     {"direct_plate": {"name": "plate", "circles": [{"holes": 50000, "absent": [1]}]}},
///     {"faced_block": {"name": "hexagon", "faces": 6}}]}"#)?;
/// let job = Job::from_json(r#"{"format": 1, "name": "Nut",
///     "features": {"equal_divisions": {"count": 6}}}"#)?;
/// let plans = plan_job_within(&workshop, &job, &mut Meter::new(10_000))?;
/// assert_eq!(plans.plans()[0].equipment, "hexagon");
/// assert!(!plans.complete());
/// assert_eq!(plans.cut_short()[0].equipment, "plate");
/// # Ok::<(), dividing_core::Error>(())
/// ```
pub fn plan_job_within(workshop: &Workshop, job: &Job, meter: &mut Meter<'_>) -> Result<Plans> {
    let pieces = cut_short::plans_of_pieces(workshop, job, meter)?;
    let (mut plans, mut cut_short) = (Vec::new(), Vec::new());
    let mut stopped = None;
    for (piece, equipment) in pieces.into_iter().zip(workshop.equipment()) {
        cut_short.extend(piece.cut_short(equipment.name()));
        plans.extend(piece.plans);
        stopped = stopped.or(piece.stopped);
    }
    if plans.is_empty() {
        if let Some(error) = stopped {
            return Err(match error.kind() {
                ErrorKind::WorkLimit => meter.over_limit(),
                _ => error,
            });
        }
        return Err(Error::new(
            ErrorKind::Inconsistent,
            "nothing here holds a part: a V-block only takes faced blocks; add a faced block or \
             other equipment",
        )
        .at("equipment"));
    }
    plans.sort_by(rank::compare);
    note_a_plan_that_passes(&mut plans);
    cut_short::note(&mut plans, &cut_short);
    Ok(Plans {
        workshop: workshop.clone(),
        job: job.clone(),
        plans,
        cut_short,
    })
}

/// Exactness ranks before the verdict, so the first plan may fall short where a
/// later one passes: then the first says so.
fn note_a_plan_that_passes(plans: &mut [Plan]) {
    let passing = plans
        .iter()
        .position(|plan| plan.verdict.kind == VerdictKind::Pass);
    if let (Some(index @ 1..), Some(first)) = (passing, plans.first().map(|it| it.verdict.kind))
        && first != VerdictKind::NoTolerance
    {
        let text = format!(
            "This plan is not shown to hold the tolerance, but plan {} with {} is.",
            index + 1,
            plans.get(index).map_or("", |it| it.equipment.as_str())
        );
        if let Some(first) = plans.first_mut() {
            first.findings.push(Finding {
                kind: FindingKind::LaterPlanPasses,
                text,
            });
        }
    }
}

/// The plan for one piece of equipment, by the best of its ways, and the limit
/// that ended the search among them. No plan when it ended at the first.
fn best_of(
    workshop: &Workshop,
    job: &Job,
    ways: &[Way],
    meter: &mut Meter<'_>,
) -> Result<(Option<Plan>, Option<Error>)> {
    // The set-ups of compound and differential indexing come the best first.
    let usual = ways
        .first()
        .is_some_and(|way| way.kind().method() == Method::Usual);
    let mut best: Option<Plan> = None;
    let mut others = Vec::with_capacity(ways.len());
    let mut stopped = None;
    for way in ways {
        let plan = reach::reach(workshop, way, job, meter)
            .and_then(|reach| plan_of(workshop, job, reach, meter));
        let plan = match plan {
            Ok(plan) => plan,
            Err(error) if cut_short::is_a_limit(&error) => {
                stopped = Some(error);
                continue;
            }
            Err(error) => return Err(error),
        };
        let loser = match best.take() {
            Some(leader) if !usual || rank::compare(&leader, &plan).is_le() => {
                best = Some(leader);
                Some(plan)
            }
            leader => {
                best = Some(plan);
                leader
            }
        };
        others.extend(loser.map(rank::shortened));
    }
    let Some(mut best) = best else {
        return Ok((None, stopped));
    };
    if usual {
        others.sort_by(rank::compare);
        choose::among_rings(&mut best, &others);
    }
    let way = ways.iter().find(|way| way.kind() == best.way);
    if let (Some(way), Some(shortfall)) = (way, &mut best.shortfall) {
        match reach::complete_suppliers(workshop, way, shortfall, meter) {
            Err(error) if cut_short::is_a_limit(&error) => stopped = Some(error),
            other => other?,
        }
    }
    best.alternatives = rank::alternatives(workshop, &best, &others, job);
    Ok((Some(best), stopped))
}

fn plan_of(
    workshop: &Workshop,
    job: &Job,
    mut reach: Reach,
    meter: &mut Meter<'_>,
) -> Result<Plan> {
    let equipment = workshop
        .equipment()
        .get(reach.way.equipment())
        .ok_or_else(|| Error::internal("a way of equipment that the workshop lacks"))?;
    let measured_choice = choose::choose(workshop, job, &mut reach, meter)?;
    let error = error_figure(workshop, job, &reach, meter)?;
    let verdict = verdict(job, reach.largest_residual, &error)?;
    let handling = Handling::of(reach.way.kind(), &reach.placements);
    let findings = findings(workshop, equipment, &reach, &error, job.units())?;
    Ok(Plan {
        equipment: equipment.name().into(),
        equipment_kind: equipment.kind().into(),
        way: reach.way.kind(),
        method: words::method(workshop, &reach.way),
        exact: reach.exact,
        start: reach.start,
        datum: reach.datum,
        placements: reach.placements,
        largest_residual: reach.largest_residual,
        shortfall: reach.shortfall,
        error,
        verdict,
        handling,
        findings,
        alternatives: Vec::new(),
        measured_choice,
        feature_shift: match job.part_eccentricity() {
            Some(eccentricity) => Some(eccentricity.shift()?),
            None => None,
        },
    })
}

fn findings(
    workshop: &Workshop,
    equipment: &Equipment,
    reach: &Reach,
    error: &ErrorFigure,
    units: SheetUnits,
) -> Result<Vec<Finding>> {
    let mut all = Vec::new();
    let mut find = |kind, text: String| all.push(Finding { kind, text });
    if error.pin_may_not_enter {
        let because = match equipment {
            Equipment::PinPlate(_) => "the pins may be larger than their holes",
            _ => "the holes may be further off than the clearance gives",
        };
        find(
            FindingKind::PinMayNotEnter,
            format!(
                "At the limits of the tolerances given a pin may not enter its hole: {because}.{} \
                 Try every hole before the job.",
                chance_of_entry(workshop, reach)?
            ),
        );
    }
    if let Equipment::FacedBlock(block) = equipment {
        for (_, vee) in vee_blocks(workshop) {
            if let VeeSeat::FalseRest { off_by } = vee_seat(block.faces, vee.included_angle)? {
                find(
                    FindingKind::FalseRest,
                    format!(
                        "{} does not seat in {}: it can rest there with one face flat on a flank, \
                         firm to the hand and {off_by} from true. Do not use that pair.",
                        block.name, vee.name
                    ),
                );
            }
        }
    }
    if let Some(stepping) = reach.way.stepping() {
        find(
            FindingKind::ErrorsAddUp,
            format!(
                "The move is not exact and is repeated: every move is {} off, so that the last \
                 of {} comes out {} off from the first, and the last move closes {} off.",
                words::signed_angle(stepping.per_move, units),
                count(stepping.moves, "feature"),
                words::angle(stepping.worst, units),
                words::signed_angle(stepping.closing, units),
            ),
        );
    }
    match reach.way.kind() {
        WayKind::PinsMixedSpans { .. } => find(
            FindingKind::MixedSpans,
            "Pins of different spans are used, and spans of different parity stand half a step \
             apart: use exactly the pins listed for each feature."
                .into(),
        ),
        WayKind::FromLastFeature => find(
            FindingKind::ErrorsAddUp,
            "Every feature is set from the one before it: errors add up from feature to feature \
             and meet at the closing. Measure early, not at the last feature."
                .into(),
        ),
        WayKind::BlockFlatAndVee { .. } => find(
            FindingKind::SeatChange,
            "The block is used flat and in the V-block: the axis stands at another height in \
             each, so find the centre again after changing the seat."
                .into(),
        ),
        _ => {}
    }
    if (reach.placements.iter()).any(|it| it.residual_rad.is_some()) {
        find(
            FindingKind::RealAngles,
            "Angles come from lengths here and are real numbers, nearest to what is wanted but \
             not exact."
                .into(),
        );
    }
    if !error.unknown.is_empty() {
        find(
            FindingKind::IncompleteFigure,
            format!(
                "The error figure leaves out what the workshop does not say: {}.",
                error.unknown.join("; ")
            ),
        );
    }
    Ok(all)
}

/// How far short the play falls at worst, and how likely a hole takes the pin.
fn chance_of_entry(workshop: &Workshop, reach: &Reach) -> Result<String> {
    Ok(match entry_finding(workshop, reach)? {
        Some(entry) if !entry.always_enters => format!(
            " At worst {:.3} mm are lacking; about {:.1} % of such holes take the pin.",
            -entry.worst_margin_mm,
            100.0 * entry.probability
        ),
        _ => String::new(),
    })
}

impl Plans {
    /// The plans, the best first.
    #[must_use]
    pub fn plans(&self) -> &[Plan] {
        &self.plans
    }

    /// Whether every piece of equipment was looked at in full.
    #[must_use]
    pub const fn complete(&self) -> bool {
        self.cut_short.is_empty()
    }

    /// The equipment that was not looked at in full, in the order of the
    /// workshop.
    #[must_use]
    pub fn cut_short(&self) -> &[CutShort] {
        &self.cut_short
    }

    /// The workshop they were made for.
    #[must_use]
    pub const fn workshop(&self) -> &Workshop {
        &self.workshop
    }

    /// The job they do.
    #[must_use]
    pub const fn job(&self) -> &Job {
        &self.job
    }

    /// One plan, counted from 0.
    ///
    /// # Errors
    /// [`ErrorKind::NotFound`] when there are not so many.
    pub fn plan(&self, index: usize) -> Result<&Plan> {
        self.plans.get(index).ok_or_else(|| {
            let last = self.plans.len().saturating_sub(1);
            Error::new(
                ErrorKind::NotFound,
                format!("there is no plan {index}; accepted: 0 to {last}"),
            )
            .at("plan")
        })
    }

    /// The set-up sheet of one plan, counted from 0.
    ///
    /// # Errors
    /// [`ErrorKind::NotFound`] when there are not so many plans.
    pub fn sheet(&self, index: usize) -> Result<Sheet> {
        let plan = self.plan(index)?;
        write::sheet(self, plan, index)
    }

    /// The same sheet with a table of what the plan would bear by the worst case,
    /// one thing changed at a time: hole positions and clearances as diameters, all
    /// else as limits either way.
    ///
    /// ```
    /// use dividing_core::work::Meter;
    /// use dividing_core::{Job, Workshop, plan_job};
    /// let workshop = Workshop::from_json(r#"{"format": 1, "name": "Bench", "equipment": [
    ///     {"faced_block": {"name": "hexagon", "faces": 6, "face_error": "0°01'"}}]}"#)?;
    /// let job = Job::from_json(r#"{"format": 1, "name": "Nut", "tolerance": {"angle": "0°05'"},
    ///     "features": {"equal_divisions": {"count": 6}}}"#)?;
    /// let sheet = plan_job(&workshop, &job)?.sheet_with_trade_offs(0, &mut Meter::default())?;
    /// let table = sheet.trade_offs.unwrap_or_default();
    /// assert_eq!(table.rows[0], ["face of the block", "0.0167° (60\")", "up to 0.0833° (300\")"]);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`Plans::error_model`] and [`ErrorModel::trade_offs`]: a job without a
    /// tolerance has nothing to hold.
    pub fn sheet_with_trade_offs(&self, index: usize, meter: &mut Meter<'_>) -> Result<Sheet> {
        let model = self.error_model(index, meter)?;
        let table = model.trade_offs(Criterion::WorstCase)?;
        Ok(Sheet {
            trade_offs: Some(error_report::sheet_table(&table, self.job.units())),
            ..self.sheet(index)?
        })
    }

    /// The setting of one step of one plan in the words of the sheet, both
    /// counted from 0: `4 turns + 8 holes`.
    ///
    /// # Errors
    /// [`ErrorKind::NotFound`] when there are not so many plans or steps.
    pub fn setting_text(&self, index: usize, step: usize) -> Result<String> {
        let plan = self.plan(index)?;
        let placement = plan.placements.get(step).ok_or_else(|| {
            let last = plan.placements.len().saturating_sub(1);
            Error::new(
                ErrorKind::NotFound,
                format!("there is no step {step}; accepted: 0 to {last}"),
            )
            .at("step")
        })?;
        let equipment = self
            .workshop
            .piece(&plan.equipment)
            .ok_or_else(|| Error::internal("a plan for equipment that the workshop lacks"))?;
        Ok(words::setting(
            &self.workshop,
            &placement.setting,
            equipment,
        ))
    }

    /// The errors of one plan, counted from 0, as a model that answers with
    /// budgets, a simulation, conformance and trade-offs.
    ///
    /// # Errors
    /// [`ErrorKind::NotFound`] when there are not so many plans; the work limit
    /// and cancellation.
    ///
    /// ```
    /// use dividing_core::accuracy::Coverage;
    /// use dividing_core::work::Meter;
    /// use dividing_core::{Job, Workshop, plan_job};
    /// let workshop = Workshop::from_json(r#"{"format": 1, "name": "Bench", "equipment": [
    ///     {"faced_block": {"name": "hexagon", "faces": 6, "face_error": "0°01'"}}]}"#)?;
    /// let job = Job::from_json(r#"{"format": 1, "name": "Nut",
    ///     "features": {"equal_divisions": {"count": 6}}}"#)?;
    /// let model = plan_job(&workshop, &job)?.error_model(0, &mut Meter::default())?;
    /// let budget = model.budget(0, Coverage::Factor(2.0))?;
    /// assert!((budget.combined_standard_uncertainty - 60.0 / 3.0_f64.sqrt()).abs() < 1e-9);
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn error_model(&self, index: usize, meter: &mut Meter<'_>) -> Result<ErrorModel> {
        let reach = self.reach_of(index, meter)?;
        ErrorModel::new(&self.workshop, &self.job, &reach, meter)
    }

    /// Whether the pin of one plan, counted from 0, enters its holes: as
    /// [`entry_finding`] says; none where no pin enters holes or its sizes are not
    /// known.
    ///
    /// # Errors
    /// As [`Plans::error_model`] and [`entry_finding`].
    ///
    /// ```
    /// use dividing_core::work::Meter;
    /// use dividing_core::{Job, Workshop, plan_job};
    /// let workshop = Workshop::from_json(r#"{"format": 1, "name": "Bench", "equipment": [
    ///     {"faced_block": {"name": "hexagon", "faces": 6}}]}"#)?;
    /// let job = Job::from_json(r#"{"format": 1, "name": "Nut",
    ///     "features": {"equal_divisions": {"count": 6}}}"#)?;
    /// let plans = plan_job(&workshop, &job)?;
    /// assert!(plans.entry_finding(0, &mut Meter::default())?.is_none());
    /// # Ok::<(), dividing_core::Error>(())
    /// ```
    pub fn entry_finding(
        &self,
        index: usize,
        meter: &mut Meter<'_>,
    ) -> Result<Option<EntryFinding>> {
        let reach = self.reach_of(index, meter)?;
        entry_finding(&self.workshop, &reach)
    }

    /// What one plan was made from: its way, found again among those of its
    /// equipment alone, for other pieces may be dear to go through.
    fn reach_of(&self, index: usize, meter: &mut Meter<'_>) -> Result<Reach> {
        let plan = self.plan(index)?;
        let index = self.workshop.equipment().iter();
        let index = index.take_while(|it| it.name() != plan.equipment).count();
        let mut ways = Vec::new();
        let made = reach::ways_of_piece_for(&self.workshop, index, &self.job, &mut ways, meter);
        let way = match (ways.into_iter().find(|way| way.kind() == plan.way), made) {
            (Some(way), _) => way,
            (None, Err(error)) => return Err(error),
            (None, Ok(())) => {
                return Err(Error::internal("a plan by a way that the workshop lacks"));
            }
        };
        Ok(Reach {
            way,
            exact: plan.exact,
            start: plan.start,
            datum: plan.datum.clone(),
            placements: plan.placements.clone(),
            largest_residual: plan.largest_residual,
            shortfall: plan.shortfall.clone(),
        })
    }

    /// Where the error of one plan comes from, and what it would bear: the
    /// uncertainty budget of its worst feature and the table of trade-offs,
    /// counted from 0.
    ///
    /// # Errors
    /// As [`Plans::error_model`], [`ErrorModel::budget`] and
    /// [`ErrorModel::trade_offs`].
    pub fn error_report(
        &self,
        index: usize,
        criterion: Criterion,
        coverage: Coverage,
        meter: &mut Meter<'_>,
    ) -> Result<ErrorReport> {
        let model = self.error_model(index, meter)?;
        ErrorReport::new(&model, self.plan(index)?, criterion, coverage)
    }

    /// A picture of the deviations of one plan round the circle, counted from 0,
    /// as SVG text: the limits at worst.
    ///
    /// # Errors
    /// [`ErrorKind::NotFound`] when there are not so many plans.
    #[cfg(feature = "drawing")]
    pub fn deviation_picture(&self, index: usize) -> Result<String> {
        let plan = self.plan(index)?;
        let title = format!("{}: {}", self.job.name(), plan.equipment);
        Ok(crate::accuracy::limits_picture(&title, &plan.error))
    }

    /// A picture of one plan, counted from 0, as SVG text: the plate with the
    /// used holes numbered, the block in its seats, or the dial's readings.
    ///
    /// # Errors
    /// [`ErrorKind::NotFound`] when there are not so many plans.
    #[cfg(feature = "drawing")]
    pub fn drawing(&self, index: usize) -> Result<String> {
        crate::drawing::plan_drawing(&self.workshop, &self.job, self.plan(index)?)
    }

    /// All plans as JSON text.
    ///
    /// # Errors
    /// None on plans made by this library; the result is one so that a defect
    /// shows as an error.
    pub fn to_json(&self) -> Result<String> {
        document::write(&PlansDocument {
            format: FORMAT,
            workshop: self.workshop.name(),
            job: self.job.name(),
            complete: self.complete(),
            cut_short: &self.cut_short,
            plans: &self.plans,
        })
    }
}

/// Plans as they are written.
#[derive(Serialize)]
struct PlansDocument<'p> {
    format: u32,
    workshop: &'p str,
    job: &'p str,
    complete: bool,
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    cut_short: &'p [CutShort],
    plans: &'p [Plan],
}
