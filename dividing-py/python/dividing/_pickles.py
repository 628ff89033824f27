"""What pickles of plans call when they are loaded."""

from __future__ import annotations

from ._dividing import Job, Plan, Plans, Sheet, TrainSearch, Way, Workshop, plan, ways


def plan_again(workshop: Workshop, job: Job, work_limit: int) -> Plans:
    """The same plans: the same input gives the same answer."""
    return plan(workshop, job, work_limit=work_limit)


def plan_at(plans: Plans, index: int) -> Plan:
    """One of the plans."""
    return plans[index]


def sheet_of(plan: Plan) -> Sheet:
    """The sheet of a plan."""
    return plan.sheet


def search_again(
    teeth: list[int], most_pairs: int, mesh_allowance: int | None, work_limit: int
) -> TrainSearch:
    """The same search, made ready anew."""
    return TrainSearch(
        teeth,
        most_pairs=most_pairs,
        mesh_allowance=mesh_allowance,
        work_limit=work_limit,
    )


def way_again(
    workshop: Workshop, job: Job | None, work_limit: int, index: int
) -> Way:
    """The same way, found anew."""
    return ways(workshop, job, work_limit=work_limit)[index]
