"""Plans from Python: exact fields, arrays, sheets, pictures."""

from __future__ import annotations

import html.parser
import json
import math
import xml.etree.ElementTree as ElementTree
from fractions import Fraction

import dividing
import numpy as np
import pytest
from dividing import Angle, Job, Verdict
from hypothesis import given, settings
from hypothesis import strategies as st


def test_simple_indexing_of_nine(all_plans: list[dividing.Plans]) -> None:
    # 40/9 = 4 8/18: simple indexing as in any handbook (arithmetic by hand).
    best = all_plans[0][0]
    head = next(plan for plan in all_plans[0] if plan.equipment_kind == "worm_head")
    assert best.exact and head.exact
    step = head.placements[1].setting
    assert isinstance(step, dividing.Crank)
    assert step.turns + Fraction(step.hole, step.circle) == Fraction(40, 9)


def test_arrays_agree_with_the_exact_fields(all_plans: list[dividing.Plans]) -> None:
    for plan in (plan for plans in all_plans for plan in plans):
        placements = plan.placements
        for array, name in (
            (plan.required_deg, "required"),
            (plan.attained_deg, "attained"),
            (plan.residuals_deg, "residual"),
        ):
            assert array.dtype == np.float64 and array.shape == (len(placements),)
            exact = [getattr(it, name).degrees_float for it in placements]
            np.testing.assert_array_equal(array, exact)
        for it in placements:
            assert it.attained.turns - it.required.turns == it.residual.turns
        largest = max(abs(it.residual) for it in placements)
        assert plan.largest_residual == largest
        assert plan.exact == (not largest) == (plan.shortfall is None)
        assert plan.feature_worst_deg.max() == plan.worst_deg
        assert plan.feature_root_sum_square_deg.max() == plan.root_sum_square_deg
        assert np.isfinite(plan.feature_worst_deg).all()


def test_an_array_is_the_callers_own(all_plans: list[dividing.Plans]) -> None:
    plan = all_plans[0][0]
    plan.required_deg[:] = 7.0
    assert plan.required_deg[0] == 0.0


def test_verdicts_and_margins(all_plans: list[dividing.Plans]) -> None:
    for plan in (plan for plans in all_plans for plan in plans):
        assert isinstance(plan.verdict, Verdict)
        assert (plan.limit_rad is None) == (plan.verdict is Verdict.NO_TOLERANCE)
        if plan.limit_rad is not None and plan.margin_rad is not None:
            assert math.isclose(
                plan.margin_rad, plan.limit_rad - plan.worst_rad, abs_tol=1e-15
            )
        if plan.verdict is Verdict.PASS:
            assert plan.margin_deg is not None and plan.margin_deg >= -1e-12
        total = sum(it.limit_rad for it in plan.contributors)
        assert total <= plan.worst_rad * (1 + 1e-12)


def test_why_127_is_not_reached(all_plans: list[dividing.Plans]) -> None:
    # 127 is a prime (number theory): the factor that nothing here holds, except
    # by differential indexing, whose gears make up the difference.
    differential = [plan for plan in all_plans[3] if plan.exact]
    assert [plan.method.split(",")[0] for plan in differential] == ["differential indexing"]
    for plan in (plan for plan in all_plans[3] if not plan.exact):
        assert plan.shortfall is not None
        assert (127, 1) in plan.shortfall.missing
        assert "127" in plan.shortfall.reason and plan.shortfall.supply


@settings(deadline=None, max_examples=60)
@given(st.integers(2, 400), st.integers(1, 60), st.integers(2, 100))
def test_a_worm_head_reaches_what_divides(n: int, ratio: int, circle: int) -> None:
    """N is exact when N divides ratio times circle, and then only."""
    head = {"name": "head", "worm_ratio": ratio,
            "plates": [{"name": "plate", "circles": [circle]}]}
    workshop = dividing.Workshop("Bench", [{"worm_head": head}])
    plan = dividing.plan(workshop, Job("Job", divisions=n))[0]
    assert plan.exact == ((ratio * circle) % n == 0)
    held = Fraction(1, ratio * circle)
    for it in plan.placements:
        crank = it.setting
        assert isinstance(crank, dividing.Crank)
        turns = (crank.turns + Fraction(crank.hole, crank.circle)) / ratio
        assert (turns / held).denominator == 1
    # Design, section 5: the least largest residual of a free start.
    parts, g = ratio * circle, math.gcd(ratio * circle, n)
    assert plan.largest_residual.turns == (1 - Fraction(g, n)) / (2 * parts)


def test_jobs_by_keyword_are_the_documents(jobs: list[Job]) -> None:
    assert jobs[0] == Job("Nine slots in the driver hub", divisions=9, called="slot",
                          tolerance="0.05 deg")
    assert jobs[1] == Job.bolt_circle(
        "Eight-hole bolt circle of the drum flange", holes=8, pitch_radius=30,
        hole_diameter=5.5, start="on_a_setting",
        tolerance=dividing.PositionDiameter(0.1, 30))
    assert jobs[2] == Job.flats(
        "Five flats on the pulley arbor", flats=5, across_flats="20 mm",
        stock_diameter=22, tolerance="0°10'",
        angle_unit=dividing.AngleUnit.DEGREES_MINUTES_SECONDS)
    assert jobs[4] == Job.angles(
        "Detents of the tide selector",
        ["0 deg", Angle("17.5 deg"), Fraction(61, 360) + Fraction(1, 1440),
         Fraction(5, 9)],
        called="detent", start="on_a_setting", tolerance="0.1 deg")
    assert jobs[5] == Job.bolt_circle(
        "Sixteen holes clocked to the keyway of the sun gear", holes=16,
        pitch_radius="1.250 in", hole_diameter="0.125 in", first_angle="11.25 deg",
        start=dividing.Clocked("keyway", clocking_error="0°01'"),
        tolerance=dividing.PositionDiameter("0.010 in", "1.250 in"),
        length_unit="inch", angle_unit="degrees_minutes_seconds")
    namespace = {name: getattr(dividing, name) for name in dividing.__all__}
    for job in jobs:
        assert eval(repr(job), namespace) == job
        assert Job.from_dict(job.to_dict()) == job == Job.from_json(job.to_json())
        assert len(job.required_angles) == job.feature_count


def test_plans_are_a_sequence(all_plans: list[dividing.Plans]) -> None:
    plans = all_plans[0]
    assert [plan.index for plan in plans] == list(range(len(plans)))
    assert plans[0] in plans and list(reversed(plans)) == list(plans)[::-1]
    document = json.loads(plans.to_json())
    assert document == plans.to_dict()
    assert document["plans"][0] == plans[0].to_dict()


class Fragment(html.parser.HTMLParser):
    """Checks that tags close in order and nothing is loaded or run."""

    VOID = {"img", "br", "hr"}

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.texts: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert tag not in {"script", "link", "iframe", "style", "object"}, tag
        for name, value in attrs:
            assert not name.startswith("on"), name
            assert "http" not in (value or "") and "url(" not in (value or "")
            if name in {"src", "href"}:
                assert (value or "").startswith("data:image/svg+xml;base64,")
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.texts.append(data)


def test_html_and_svg(all_plans: list[dividing.Plans]) -> None:
    for plans in all_plans:
        pages = [plans._repr_html_()]
        for plan in plans:
            pages += [plan._repr_html_(), plan.sheet._repr_html_()]
            root = ElementTree.fromstring(plan.drawing._repr_svg_())
            assert root.tag == "{http://www.w3.org/2000/svg}svg"
            assert str(plan.drawing) == plan.drawing.svg
        for page in pages:
            parser = Fragment()
            parser.feed(page)
            parser.close()
            assert parser.open == []


def test_names_are_escaped() -> None:
    evil = "<script>alert('x')</script>&\""
    workshop = dividing.Workshop(evil, [{"faced_block": {"name": evil, "faces": 4}}])
    plans = dividing.plan(workshop, Job(evil, divisions=4, called=evil))
    for page in (plans._repr_html_(), plans[0]._repr_html_()):
        parser = Fragment()
        parser.feed(page)
        assert any(evil in text for text in parser.texts)
    ElementTree.fromstring(plans[0].drawing.svg)


def test_the_sheet_reads(all_plans: list[dividing.Plans]) -> None:
    for plan in (plan for plans in all_plans for plan in plans):
        sheet = plan.sheet
        text = str(sheet)
        for cell in (sheet.title, *sheet.rows[0]):
            assert cell.split()[0] in text
        assert len(sheet.rows) == len(plan.placements)
        assert all(len(row) == len(sheet.head) for row in sheet.rows)
        assert sheet.before and sheet.checks and sheet.cautions and sheet.facts


def test_the_work_limit() -> None:
    circle = {"holes": 1000, "absent": [1]}
    plate = {"direct_plate": {"name": "plate", "circles": [circle]}}
    workshop = dividing.Workshop("Bench", [plate])
    with pytest.raises(TimeoutError):
        dividing.plan(workshop, Job("Job", divisions=1000), work_limit=10)
