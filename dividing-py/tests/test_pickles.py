"""Everything can be pickled and copied, errors too."""

from __future__ import annotations

import copy
import multiprocessing
import pickle

import dividing
import pytest
from dividing import Angle
from dividing._errors import BY_KIND


def round_trips(thing: object) -> None:
    for protocol in range(pickle.HIGHEST_PROTOCOL + 1):
        assert pickle.loads(pickle.dumps(thing, protocol)) == thing
    assert copy.copy(thing) == thing and copy.deepcopy(thing) == thing


def test_values(
    workshop: dividing.Workshop,
    jobs: list[dividing.Job],
    all_plans: list[dividing.Plans],
) -> None:
    for angle in (Angle(0), Angle(-1, 7), Angle(10**35, 10**35 - 1)):
        round_trips(angle)
    for thing in (workshop, *jobs):
        round_trips(thing)
        assert hash(pickle.loads(pickle.dumps(thing))) == hash(thing)
    for plans in all_plans:
        round_trips(plans)
        best = plans[0]
        for part in (best, best.sheet, best.drawing, best.placements, best.verdict,
                     best.contributors, best.findings, best.handling, best.shortfall):
            round_trips(part)
    round_trips(dividing.Clocked("keyway", at="1 deg"))
    round_trips(dividing.PositionDiameter(0.1, 30))


@pytest.mark.parametrize("error", [*BY_KIND.values(), dividing.DividingError,
                                   dividing.DivisionByZeroError])
def test_errors(error: type[dividing.DividingError]) -> None:
    thrown = error("the sentence", "the.field")
    back = pickle.loads(pickle.dumps(thrown))
    assert type(back) is error
    assert (back.kind, back.code) == (thrown.kind, thrown.code)
    assert (back.field, back.message) == ("the.field", "the sentence")
    assert str(back) == "the.field: the sentence"


def best_equipment(job: dividing.Job) -> str:
    workshop = dividing.Workshop("Bench", [{"faced_block": {"name": "b", "faces": 4}}])
    return dividing.plan(workshop, job)[0].equipment


@pytest.mark.parametrize("method", ["fork", "spawn"])
def test_other_processes(method: str) -> None:
    context = multiprocessing.get_context(method)
    with context.Pool(2) as pool:
        jobs = [dividing.Job("Job", divisions=n) for n in range(2, 10)]
        assert pool.map(best_equipment, jobs) == ["b"] * 8
