//! Plans within a budget: what each piece of equipment gives, and what of it was
//! not looked at.

use serde::{Deserialize, Serialize};

use super::{Finding, FindingKind, Plan, best_of};
use crate::equipment::Workshop;
use crate::error::{Error, ErrorKind, Result};
use crate::job::Job;
use crate::reach::{self, Way};
use crate::work::Meter;

/// A piece of equipment that was not looked at in full.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CutShort {
    /// The piece of equipment, as the shop calls it.
    pub equipment: String,
    /// Whether there is a plan for it nonetheless.
    pub has_plan: bool,
    /// What came to a limit, as sentences without full stops.
    pub reasons: Vec<String>,
}

/// What one piece of equipment gives.
#[derive(Default)]
pub(super) struct PiecePlans {
    pub(super) plans: Vec<Plan>,
    /// The limit that ended the search early.
    pub(super) stopped: Option<Error>,
    left_out: Vec<String>,
}

impl PiecePlans {
    /// What was not looked at, if anything.
    pub(super) fn cut_short(&self, equipment: &str) -> Option<CutShort> {
        let stopped = self.stopped.iter().map(|error| match error.kind() {
            ErrorKind::WorkLimit => "the limit of work was met".to_owned(),
            _ => error.message().to_owned(),
        });
        let reasons: Vec<String> = stopped.chain(self.left_out.iter().cloned()).collect();
        (!reasons.is_empty()).then(|| CutShort {
            equipment: equipment.into(),
            has_plan: !self.plans.is_empty(),
            reasons,
        })
    }

    fn out_of_work(&self) -> bool {
        self.stopped.as_ref().map(Error::kind) == Some(ErrorKind::WorkLimit)
    }
}

/// Errors that end the search for one piece of equipment only.
pub(super) fn is_a_limit(error: &Error) -> bool {
    matches!(error.kind(), ErrorKind::WorkLimit | ErrorKind::Overflow)
}

/// The plans of every piece, in the order of the workshop.
///
/// Each may take half of the budget that is left, the last all of it. Those that
/// this does not suffice for are tried again with what the others leave, as far
/// as that is more.
pub(super) fn plans_of_pieces(
    workshop: &Workshop,
    job: &Job,
    meter: &mut Meter<'_>,
) -> Result<Vec<PiecePlans>> {
    let count = workshop.equipment().len();
    let mut pieces = Vec::with_capacity(count);
    let mut again = Vec::new();
    for index in 0..count {
        let share = if index + 1 == count {
            meter.remaining()
        } else {
            meter.remaining() / 2
        };
        let piece = meter.within(share, |part| plans_of_piece(workshop, job, index, part))?;
        if piece.out_of_work() {
            again.push((index, share));
        }
        pieces.push(piece);
    }
    for (index, share) in again {
        let rest = meter.remaining();
        if rest > share
            && let Some(piece) = pieces.get_mut(index)
        {
            *piece = meter.within(rest, |part| plans_of_piece(workshop, job, index, part))?;
        }
    }
    Ok(pieces)
}

fn plans_of_piece(
    workshop: &Workshop,
    job: &Job,
    index: usize,
    meter: &mut Meter<'_>,
) -> Result<PiecePlans> {
    let mut piece = PiecePlans::default();
    let mut ways: Vec<Way> = Vec::new();
    match reach::ways_of_piece_for(workshop, index, job, &mut ways, meter) {
        Err(error) if is_a_limit(&error) => piece.stopped = Some(error),
        other => other?,
    }
    for group in ways.chunk_by(|a, b| a.kind().method() == b.kind().method()) {
        let (plan, stopped) = best_of(workshop, job, group, meter)?;
        piece.plans.extend(plan);
        piece.stopped = piece.stopped.take().or(stopped);
    }
    piece.left_out = meter.take_left_out();
    Ok(piece)
}

/// Says on the plans what was not looked at: on those of the piece itself, and
/// on the first.
pub(super) fn note(plans: &mut [Plan], cut_short: &[CutShort]) {
    for it in cut_short {
        for plan in plans
            .iter_mut()
            .filter(|plan| plan.equipment == it.equipment)
        {
            plan.findings.push(Finding {
                kind: FindingKind::SearchCutShort,
                text: format!(
                    "Not every way of {} was looked at: {}. A better one may exist.",
                    it.equipment,
                    it.reasons.join("; ")
                ),
            });
        }
    }
    let others: Vec<&str> = cut_short
        .iter()
        .map(|it| it.equipment.as_str())
        .filter(|name| plans.first().is_some_and(|first| first.equipment != *name))
        .collect();
    if let Some(first) = plans.first_mut()
        && !others.is_empty()
    {
        first.findings.push(Finding {
            kind: FindingKind::SearchCutShort,
            text: format!(
                "The search was cut short for other equipment: {}. A better plan may exist.",
                others.join(", ")
            ),
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::plan_job_within;
    use crate::work::Continue;

    const WORKSHOP: &str = r#"{"format": 1, "name": "Bench", "equipment": [
        {"sine_bar": {"name": "sine bar", "length": 100, "blocks": {"named": "metric_87"}}},
        {"worm_head": {"name": "head", "worm_ratio": 40,
            "plates": [{"name": "1", "circles": [15, 16, 17, 18, 19, 20]}],
            "change_gears": {"gears": [24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100]}}},
        {"direct_plate": {"name": "plate", "circles": [{"holes": 20000, "absent": [3]}]}},
        {"faced_block": {"name": "hexagon", "faces": 6}}]}"#;

    fn bench() -> (Workshop, Job) {
        let job = r#"{"format": 1, "name": "j", "features": {"equal_divisions": {"count": 7}}}"#;
        (
            Workshop::from_json(WORKSHOP).unwrap(),
            Job::from_json(job).unwrap(),
        )
    }

    #[test]
    fn every_limit_gives_what_it_holds() {
        let (workshop, job) = bench();
        let meter = &mut Meter::default();
        let all = plan_job_within(&workshop, &job, meter).unwrap();
        assert!(all.complete(), "{:?}", all.cut_short());
        let json = all.to_json().unwrap();
        assert!(
            json.contains("\"complete\": true") && !json.contains("cut_short"),
            "{json}"
        );
        let mut planned = Vec::new();
        for limit in [
            1,
            300,
            3_000,
            30_000,
            300_000,
            3_000_000,
            2 * meter.spent() + 2,
        ] {
            let within = &mut Meter::new(limit);
            match plan_job_within(&workshop, &job, within) {
                Ok(plans) => {
                    assert!(within.spent() <= limit);
                    planned.push(plans.plans().len());
                    // A plan is missing only for equipment that is named.
                    for plan in all.plans() {
                        let same = |it: &Plan| it.equipment == plan.equipment;
                        let named = |it: &CutShort| it.equipment == plan.equipment;
                        assert!(
                            plans.plans().iter().any(same) || plans.cut_short().iter().any(named)
                        );
                    }
                    let json = plans.to_json().unwrap();
                    assert_eq!(json.contains("\"complete\": false"), !plans.complete());
                    for it in plans.cut_short() {
                        assert!(json.contains("cut_short") && !it.reasons.is_empty());
                        let same = |plan: &Plan| plan.equipment == it.equipment;
                        assert_eq!(it.has_plan, plans.plans().iter().any(same));
                    }
                    if !plans.complete() {
                        let sheet = plans.sheet(0).unwrap().to_text();
                        assert!(sheet.contains("cut short") || sheet.contains("Not every way"));
                    }
                }
                Err(error) => {
                    assert_eq!(error.kind(), ErrorKind::WorkLimit);
                    assert!(planned.is_empty(), "{limit}");
                }
            }
        }
        assert!(planned.is_sorted(), "{planned:?}");
        assert!(planned.first() < planned.last(), "{planned:?}");
        assert_eq!(planned.last(), Some(&all.plans().len()));
    }

    #[test]
    fn one_large_search_leaves_the_others_theirs() {
        let (workshop, job) = bench();
        let plans = plan_job_within(&workshop, &job, &mut Meter::new(100_000)).unwrap();
        assert!(plans.plans().iter().any(|it| it.equipment == "hexagon"));
        let cut = |name: &str| plans.cut_short().iter().any(|it| it.equipment == name);
        assert!(cut("sine bar") && !cut("hexagon"));
    }

    #[test]
    fn a_stack_of_many_combinations_offers_the_first() {
        let circles = Vec::from_iter((2..130).map(|it| format!(r#"{{"holes": {it}}}"#)));
        let circles = circles.join(", ");
        let plate =
            |name| format!(r#"{{"direct_plate": {{"name": "{name}", "circles": [{circles}]}}}}"#);
        let workshop = Workshop::from_json(&format!(
            r#"{{"format": 1, "name": "w", "equipment": [{}, {},
            {{"stack": {{"name": "both", "members": ["a", "b"]}}}}]}}"#,
            plate("a"),
            plate("b")
        ))
        .unwrap();
        let job = r#"{"format": 1, "name": "j", "features": {"equal_divisions": {"count": 6}}}"#;
        let job = Job::from_json(job).unwrap();
        let plans = plan_job_within(&workshop, &job, &mut Meter::default()).unwrap();
        let [cut] = plans.cut_short() else {
            panic!("{:?}", plans.cut_short());
        };
        assert_eq!((cut.equipment.as_str(), cut.has_plan), ("both", true));
        assert!(cut.reasons[0].contains("combined"), "{cut:?}");
    }

    #[test]
    fn a_watcher_still_ends_everything() {
        let (workshop, job) = bench();
        let mut watcher = |_| Continue::No;
        let meter = &mut Meter::watched(u64::MAX, &mut watcher);
        let error = plan_job_within(&workshop, &job, meter).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::Cancelled);
    }
}
