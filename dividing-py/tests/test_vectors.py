"""The vectors that Rust, C and Python read alike; exact fields agree exactly."""

from __future__ import annotations

import dataclasses
from fractions import Fraction
from typing import Any

import dividing
import pytest
from conftest import vectors
from dividing import Angle

ANGLES = vectors("angles.json")
PLANS = vectors("plans.json")["cases"]
ERRORS = vectors("errors.json")["cases"]


def by_id(case: dict[str, Any]) -> str:
    return str(case["id"])


@pytest.mark.parametrize("case", ANGLES["cases"], ids=by_id)
def test_angles_are_read_and_printed(case: dict[str, Any]) -> None:
    angle = Angle(case["text"])
    assert angle.turns == Fraction(case["turns"])
    assert str(angle) == case["printed"]
    assert Angle(str(angle)) == angle
    assert angle.format("decimal_degrees", 4) == case["decimal_degrees_4"]
    assert (
        angle.format("degrees_minutes_seconds", 1) == case["degrees_minutes_seconds_1"]
    )


@pytest.mark.parametrize("case", ANGLES["refused"], ids=by_id)
def test_texts_that_are_no_angle_are_refused(case: dict[str, Any]) -> None:
    with pytest.raises(dividing.DividingError) as caught:
        Angle(case["text"])
    assert caught.value.kind == case["kind"]


@pytest.mark.parametrize("case", ANGLES["nearest"], ids=by_id)
def test_nearest_fractions(case: dict[str, Any]) -> None:
    angle = Angle(Fraction(case["turns"]))
    found = angle.nearest_fraction(case["max_denominator"]).turns
    assert found == Fraction(case["nearest"])
    assert found == angle.turns.limit_denominator(case["max_denominator"])


def setting_document(setting: Any) -> dict[str, Any]:
    """A setting as documents write it."""
    fields = dataclasses.asdict(setting)
    return {setting.kind: {name: plain(value) for name, value in fields.items()}}


def plain(value: Any) -> Any:
    return str(value) if isinstance(value, Angle) else value


@pytest.mark.parametrize("case", PLANS, ids=by_id)
def test_the_best_plan(case: dict[str, Any]) -> None:
    workshop = dividing.Workshop.from_dict(case["workshop"])
    job = dividing.Job.from_dict(case["job"])
    best = dividing.plan(workshop, job)[0]
    expected = case["expected"]
    assert best.equipment == expected["equipment"]
    assert best.exact == expected["exact"]
    assert best.largest_residual.turns == Fraction(expected["largest_residual"])
    if "verdict" in expected:
        assert best.verdict == expected["verdict"]
    for placement, setting in zip(best.placements, expected.get("settings", [])):
        assert setting_document(placement.setting) == setting
    for placement, attained in zip(best.placements, expected.get("attained", [])):
        assert placement.attained.turns == Fraction(attained)


def test_no_plan_vector_lists_more_than_there_is() -> None:
    for case in PLANS:
        count = dividing.Job.from_dict(case["job"]).feature_count
        assert len(case["expected"].get("settings", [])) <= count
        assert len(case["expected"].get("attained", [])) <= count


def ask(case: dict[str, Any]) -> object:
    given = case["input"]
    match case["call"]:
        case "angle":
            return Angle(given)
        case "length":
            return dividing.length_mm(given)
        case "workshop":
            return dividing.Workshop.from_json(given)
        case "job":
            return dividing.Job.from_json(given)
        case "plan":
            workshop = dividing.Workshop.from_json(given["workshop"])
            job = dividing.Job.from_json(given["job"])
            return dividing.plan(workshop, job)[given["index"]]
    raise AssertionError(case["call"])


@pytest.mark.parametrize(
    "case",
    [case for case in ERRORS if case["call"] != "none"],
    ids=lambda case: f"{case['kind']}-{case['call']}",
)
def test_errors(case: dict[str, Any]) -> None:
    with pytest.raises(getattr(dividing, case["python_class"])) as caught:
        ask(case)
    error = caught.value
    assert isinstance(error, dividing.DividingError)
    assert (error.kind, error.code) == (case["kind"], case["code"])
    if "field" in case and error.kind != "malformed_json":
        assert error.field == case["field"]
    assert error.message and error.message in str(error)


def test_every_kind_has_its_class_and_code() -> None:
    from dividing._errors import BY_KIND

    codes = {case["kind"]: case["code"] for case in ERRORS}
    assert {kind: error.code for kind, error in BY_KIND.items()} == codes
    for case in ERRORS:
        group = getattr(dividing, case["python_class"])
        assert issubclass(BY_KIND[case["kind"]], group)
        assert issubclass(group, dividing.DividingError)
