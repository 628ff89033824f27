"""What pickles of plans call when they are loaded."""

from __future__ import annotations

from ._dividing import Job, Plan, Plans, Sheet, Workshop, plan


def plan_again(workshop: Workshop, job: Job, work_limit: int) -> Plans:
    """The same plans: the same input gives the same answer."""
    return plan(workshop, job, work_limit=work_limit)


def plan_at(plans: Plans, index: int) -> Plan:
    """One of the plans."""
    return plans[index]


def sheet_of(plan: Plan) -> Sheet:
    """The sheet of a plan."""
    return plan.sheet
