"""Hostile input: a typed error that names the argument, never a panic."""

from __future__ import annotations

import math
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from typing import Any

import dividing
import numpy as np
import pytest
from dividing import Angle, Clocked, Job, PositionDiameter, Workshop, length_mm
from hypothesis import given
from hypothesis import strategies as st

WRONG = [None, True, 1.5, math.nan, b"40 deg", [], {}, object(), 1j, np.bool_(True)]
BENCH = Workshop("Bench", [{"faced_block": {"name": "block", "faces": 4}}])
NINE = Job("Nine", divisions=9)


def refused(call: Callable[[], object], error: type[Exception], name: str) -> None:
    with pytest.raises(error) as caught:
        call()
    text = str(caught.value)
    assert text.startswith(name), text
    if not isinstance(caught.value, TypeError):
        assert isinstance(caught.value, dividing.DividingError)


@pytest.mark.parametrize("value", WRONG, ids=repr)
def test_wrong_types_name_the_argument(value: Any) -> None:
    refused(lambda: Angle(value), TypeError, "value: ")
    refused(lambda: Angle(value, 9), TypeError, "value: ")
    refused(lambda: Angle(1, value) if value is not None else Angle([]), TypeError,
            "denominator: " if value is not None else "value: ")
    refused(lambda: Angle.from_degrees(value), TypeError, "degrees: ")
    refused(lambda: Angle(1, 9).nearest_fraction(value), TypeError, "max_denominator: ")
    refused(lambda: Job("x", divisions=value), TypeError, "divisions: ")
    refused(lambda: Job(value, divisions=9), TypeError, "name: ")
    refused(lambda: Job("x", divisions=9, first_angle=[value]), TypeError,
            "first_angle: ")
    refused(lambda: Job.angles("x", [0, value]), TypeError, "angles[1]: ")
    refused(lambda: Workshop.from_json(value), TypeError, "text: ")
    refused(lambda: Job.from_json(value), TypeError, "text: ")
    refused(lambda: dividing.plan(value, NINE), TypeError, "workshop: ")
    refused(lambda: dividing.plan(BENCH, value), TypeError, "job: ")
    if value is not None:
        refused(lambda: Job("x", divisions=9, tolerance=value), TypeError,
                "tolerance: ")
        refused(lambda: Job("x", divisions=9, start=value), TypeError, "start: ")
        refused(lambda: Job("x", divisions=9, called=value), TypeError, "called: ")
        refused(lambda: dividing.plan(BENCH, NINE, work_limit=value), TypeError,
                "work_limit: ")
        refused(lambda: dividing.plan(BENCH, NINE, progress=value), TypeError,
                "progress: ")
        refused(lambda: Angle(1, 9).format("decimal_degrees", value), TypeError,
                "digits: ")
    if not isinstance(value, dict):
        refused(lambda: Job.from_dict(value), TypeError, "document: ")
        refused(lambda: Workshop("x", [value]), ValueError if not isinstance(
            value, (bytes, complex)) and type(value) is not object
            and not isinstance(value, np.bool_) else TypeError, "equipment")


@pytest.mark.parametrize(
    "value", [None, True, b"6", [6], {}, "x" and object(), 1j], ids=repr
)
def test_what_is_no_length(value: Any) -> None:
    refused(lambda: length_mm(value), TypeError, "value: ")
    refused(lambda: PositionDiameter(value, 30), TypeError, "diameter: ")
    refused(lambda: PositionDiameter(0.1, value), TypeError, "radius: ")
    refused(lambda: Job.bolt_circle("x", holes=8, pitch_radius=value), TypeError,
            "pitch_radius: ")
    refused(lambda: Job.flats("x", flats=5, across_flats=value, stock_diameter=22),
            TypeError, "across_flats: ")


def test_numbers_that_are_not_finite_or_huge() -> None:
    for bad in (math.nan, math.inf, -math.inf, np.float64("nan")):
        refused(lambda: length_mm(bad), dividing.NotFiniteError, "")
        refused(lambda: Angle.from_degrees_rounded(bad), dividing.NotFiniteError, "")
        refused(lambda: Angle.from_radians_rounded(bad), dividing.NotFiniteError, "")
        refused(lambda: Job.bolt_circle("x", holes=8, pitch_radius=bad),
                dividing.NotFiniteError, "pitch_radius: ")
    for bad in (Decimal("nan"), Decimal("inf"), Decimal("snan")):
        refused(lambda: Angle.from_degrees(bad), dividing.NotFiniteError, "degrees: ")
    refused(lambda: length_mm(10**400), dividing.OutOfRangeError, "")
    refused(lambda: Angle.from_degrees_rounded(10**400), dividing.OutOfRangeError, "")
    refused(lambda: Job("x", divisions=10**400), dividing.OutOfRangeError, "divisions")
    refused(lambda: Job("x", divisions=-9), dividing.OutOfRangeError, "divisions: -9")
    refused(lambda: Job("x", divisions=0), dividing.OutOfRangeError, "divisions: 0")
    refused(lambda: Job("x", divisions=9, tolerance="0 deg"),
            dividing.OutOfRangeError, "tolerance: ")
    refused(lambda: dividing.plan(BENCH, NINE, work_limit=0),
            dividing.OutOfRangeError, "work_limit: 0")
    refused(lambda: dividing.plan(BENCH, NINE, work_limit=2**64),
            dividing.OutOfRangeError, "work_limit: ")
    refused(lambda: Angle(1, 9).format("degrees", 4), dividing.OutOfRangeError,
            "style: ")
    refused(lambda: Angle(1, 9).format(digits=31), dividing.OutOfRangeError,
            "digits: 31")
    assert length_mm(-0.0) == 0.0 and math.copysign(1, length_mm(-0.0)) == 1


def test_lone_surrogates() -> None:
    bad = "x\ud800"
    refused(lambda: Angle(bad), dividing.UnreadableTextError, "")
    refused(lambda: length_mm(bad), dividing.UnreadableTextError, "")
    refused(lambda: Job(bad, divisions=9), dividing.UnreadableTextError, "name: ")
    refused(lambda: Job("x", divisions=9, called=bad),
            dividing.UnreadableTextError, "called: ")
    refused(lambda: Job.from_json(bad), dividing.UnreadableTextError, "text: ")
    refused(lambda: Clocked(bad), dividing.UnreadableTextError, "to: ")
    refused(lambda: Job.from_dict({"format": 1, "name": bad}),
            dividing.DocumentError, "")


def test_documents_that_do_not_end() -> None:
    loop: list[object] = []
    loop.append(loop)
    refused(lambda: Workshop("x", [{"faced_block": loop}]),
            dividing.InvalidFieldError, "equipment: ")
    deep: list[object] = []
    for _ in range(100_000):
        deep = [deep]
    refused(lambda: Workshop("x", [{"faced_block": deep}]), dividing.DocumentError, "")
    refused(lambda: Job.from_json("[" * 100_000), dividing.DocumentError, "")
    refused(lambda: Workshop("x", [{"faced_block": {"faces": math.nan}}]),
            dividing.NotFiniteError, "equipment: ")

    def endless() -> Any:
        while True:
            yield Fraction(1, 7)

    refused(lambda: Job.angles("x", endless()), dividing.OutOfRangeError, "angles: ")


def test_an_iterator_that_fails_keeps_its_error() -> None:
    def failing() -> Any:
        yield 0
        raise KeyError("mine")

    with pytest.raises(KeyError, match="mine"):
        Job.angles("x", failing())


def test_numpy_numbers_are_numbers() -> None:
    assert Job("x", divisions=np.int64(9)) == Job("x", divisions=9)
    assert Angle(np.int32(1), np.uint8(9)) == Angle(1, 9)
    assert length_mm(np.float32(6.5)) == 6.5
    assert Angle.from_degrees_rounded(np.float64(22.5)) == Angle(1, 16)
    assert Angle(np.str_("40 deg")) == Angle(1, 9)
    assert Angle(np.array(2)) == Angle(2)
    with pytest.raises(TypeError, match="value: "):
        Angle(np.array([1, 2]))  # type: ignore[arg-type]
    with pytest.raises(TypeError, match="divisions: "):
        Job("x", divisions=np.array([9, 9]))  # type: ignore[arg-type]


def test_indices() -> None:
    plans = dividing.plan(BENCH, NINE)
    assert plans[-1] == plans[0] == plans[np.int64(0)]
    assert plans[:] == (plans[0],)
    for bad in (1, -2, 2**63, -(2**63), 2**64):
        with pytest.raises(IndexError) as caught:
            plans[bad]
        assert isinstance(caught.value, dividing.NotFoundError)
    for wrong in ("0", 0.0, None):
        with pytest.raises(TypeError):
            plans[wrong]  # type: ignore[call-overload]


@given(st.text())
def test_any_text_is_an_angle_or_a_text_error(text: str) -> None:
    for read in (Angle, length_mm, Job.from_json, Workshop.from_json):
        try:
            read(text)
        except dividing.DividingError as error:
            assert error.kind != "internal"


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3)
    | st.dictionaries(
        st.sampled_from(
            ["format", "name", "features", "equal_divisions", "count", "worm_head",
             "plates", "circles", "holes", "angle", "tolerance", "start", "clocked"]
        ),
        inner,
        max_size=4,
    ),
    max_leaves=12,
)


@given(st.dictionaries(st.sampled_from(["format", "name", "features", "tolerance"]),
                       json_values))
def test_any_document_is_a_job_or_a_dividing_error(document: dict[str, Any]) -> None:
    try:
        Job.from_dict(document)
    except dividing.DividingError as error:
        assert error.kind != "internal"


@given(st.lists(st.dictionaries(st.sampled_from(["worm_head", "pin_plate"]),
                                json_values, max_size=1), max_size=2))
def test_any_equipment_is_read_or_refused(equipment: list[dict[str, Any]]) -> None:
    try:
        Workshop("x", equipment)
    except dividing.DividingError as error:
        assert error.kind != "internal"


def test_a_panic_is_an_internal_error() -> None:
    from dividing._dividing import _panic_on_purpose

    with pytest.raises(dividing.InternalError, match="a broken promise") as caught:
        _panic_on_purpose("a broken promise")
    assert isinstance(caught.value, RuntimeError)
