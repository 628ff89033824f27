"""Everything public has a docstring, and every example in it runs."""

from __future__ import annotations

import dataclasses
import doctest
import enum
import importlib
import inspect
import re
import types
import typing
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

import dividing
import pytest


PLAIN = {"to_dict", "to_document"}
"""What every value has, and its base class shows."""


def is_value(thing: type) -> bool:
    """Whether a class is one of values, whose fields are explained where they stand."""
    return hasattr(thing, "__dataclass_fields__") or hasattr(thing, "_arguments")


def public() -> Iterator[tuple[str, Any]]:
    """Every public name of the package and every public member of its classes."""
    yield "dividing", dividing
    for name in dividing.__all__:
        thing = getattr(dividing, name)
        if name == "__version__" or typing.get_origin(thing) is not None:
            continue
        if not isinstance(thing, type) and not callable(thing):
            continue  # an alias for type checkers
        yield name, thing
        if not isinstance(thing, type):
            continue
        for member, value in vars(thing).items():
            value = getattr(value, "__func__", value)
            written = isinstance(value, types.FunctionType) and member not in PLAIN
            if is_value(thing) and written and member[0] != "_":
                yield f"{name}.{member}", value
        native = thing.__module__ == "dividing" and not is_value(thing)
        if issubclass(thing, (enum.Enum, Exception)) or not native:
            continue
        for member, value in vars(thing).items():
            if not member.startswith("_") and not isinstance(value, str):
                value = value.__func__ if isinstance(value, staticmethod) else value
                yield f"{name}.{member}", value


def public_in_rooms() -> Iterator[tuple[str, Any]]:
    """The same for the modules that are loaded when they are first used."""
    for room in ROOMS:
        module = importlib.import_module(f"dividing.{room}")
        yield room, module
        for name in module.__all__:
            thing = getattr(module, name)
            yield f"{room}.{name}", thing
            if not isinstance(thing, type) or issubclass(thing, enum.Enum):
                continue
            for member, value in vars(thing).items():
                if member.startswith("_"):
                    continue
                if isinstance(value, staticmethod):
                    value = value.__func__
                if isinstance(value, (types.FunctionType, property)):
                    yield f"{room}.{name}.{member}", value


ROOMS = ("accuracy", "fits", "inspection", "plot", "simulation")
NAMES = dict(public()) | dict(public_in_rooms())


@pytest.fixture(scope="module")
def names() -> dict[str, Any]:
    """The names that the examples go on with, made by the package's own."""
    found: dict[str, Any] = {}
    example = doctest.DocTestParser().get_doctest(
        dividing.__doc__ or "", found, "dividing", None, 0
    )
    results = doctest.DocTestRunner().run(example, clear_globs=False)
    assert results.attempted > 3 and results.failed == 0
    found = {**example.globs, "Angle": dividing.Angle}
    assert {"workshop", "job", "plans"} <= found.keys()
    return found


@pytest.mark.parametrize("name", NAMES)
def test_examples_run(name: str, names: dict[str, Any]) -> None:
    docstring = inspect.getdoc(NAMES[name])
    assert docstring, f"{name} has no docstring"
    example = doctest.DocTestParser().get_doctest(
        docstring, dict(names), name, None, 0
    )
    assert example.examples, f"{name} has no example"
    output: list[str] = []
    results = doctest.DocTestRunner().run(example, out=output.append)
    assert results.failed == 0, "".join(output)


def test_nothing_public_is_missing() -> None:
    assert len(NAMES) > 120, len(NAMES)
    assert {"Angle.turns", "Job.bolt_circle", "Plan.worst_deg", "plan"} <= NAMES.keys()
    names = {name for name in vars(dividing) if not name.startswith("_")} - {"plot"}
    assert names <= set(dividing.__all__)
    assert sorted(dividing.__all__) == dividing.__all__


def test_the_table_of_questions_names_what_exists() -> None:
    text = dividing.__doc__ or ""
    for member in ("exact", "placements", "shortfall", "largest_residual", "worst_deg",
                   "contributors", "verdict", "margin_deg", "sheet", "drawing"):
        assert f".{member}" in text and hasattr(dividing.Plan, member)


def test_the_calls_of_the_table_of_questions_work_as_written(names: dict[str, Any]) -> None:
    table = (dividing.__doc__ or "").split("=====")
    text = next(part for part in table if "Reach: which of my things" in part)
    text, proof = text.split("Proof:")
    assert "Measurement.coordinates(...)" in proof  # the fifth notebook does it
    known = {**names, **vars(dividing), "gears": [24, 28, 32, 40, 48, 56, 64, 72, 86, 100],
             "ratio": Fraction(127, 100)}
    calls = [it for it in re.findall(r"``(.+?)``", text) if "..." not in it]
    assert len(calls) >= 12
    for call in calls:
        exec(call, known)
