"""Sums of contributors, and the inverse questions."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from .._codec import text_of_record
from .._dividing import (
    _least_radius_mm,
    _loosest_limit,
    _text_of,
    _total_rad,
    _trade_offs,
)
from .._enums import InputUnit
from .._records import Contributor
from ._rules import Criterion, _all, _criterion


def _contributors(items: object, name: str = "contributors") -> str:
    return text_of_record(_all(Contributor, items, name), name)


def total_rad(
    contributors: Iterable[Contributor], criterion: Criterion = "worst_case"
) -> float:
    """All contributors together, in radians: the sum of their limits, the root
    of the sum of the squares, or an expanded uncertainty.

    Raises OutOfRangeError, InvalidFieldError, TypeError. Source: JCGM 100:2008,
    5.1.2 for the root of squares.

    >>> parts = [dividing.Contributor("hole position", 0.010, sensitivity=1 / 50),
    ...          dividing.Contributor("pin clearance", 0.010, sensitivity=1 / 50)]
    >>> round(dividing.accuracy.total_rad(parts, "root_sum_square"), 9)
    0.000282843
    """
    return _total_rad(_contributors(contributors), _criterion(criterion))


def _allowance(document: object) -> float | None:
    if isinstance(document, Mapping):
        return float(document["up_to"])
    return math.inf if document == "unlimited" else None


def loosest_limit(
    contributors: Iterable[Contributor],
    name: str,
    limit_rad: float,
    criterion: Criterion = "worst_case",
) -> float | None:
    """The largest limit, in its own unit, of the contributors of one name that
    keeps a criterion within ``limit_rad`` while all others stay: infinite where
    it does not turn the part, None where not even zero is enough.

    Raises NotFoundError when no contributor has the name, OutOfRangeError,
    TypeError.

    >>> parts = [dividing.Contributor("hole position", 0.005, sensitivity=1 / 50),
    ...          dividing.Contributor("pin clearance", 0.010, sensitivity=1 / 50)]
    >>> round(dividing.accuracy.loosest_limit(parts, "hole position", 0.0005), 9)
    0.015
    """
    listed = _contributors(contributors)
    found = _loosest_limit(listed, _text_of(name, "name"), _criterion(criterion), limit_rad)
    return _allowance(json.loads(found))


@dataclass(frozen=True, slots=True)
class TradeOff:
    """How large one input may be when nothing else changes.

    >>> dividing.accuracy.ErrorModel(plans[0]).trade_offs().inputs[0].name
    'plate hole position'
    """

    name: str
    """Name of the contributor, or of several alike."""
    unit: InputUnit
    """Unit of its limit."""
    present: float
    """Its present limit; the largest where several bear the name."""
    allowance: float | None
    """How large the limit may be: infinite where it does not turn the part,
    None where the others alone break the limit."""


def _trade_off(document: Mapping[str, Any]) -> TradeOff:
    return TradeOff(
        document["name"],
        InputUnit(document["unit"]),
        float(document["present"]),
        _allowance(document["allowance"]),
    )


def trade_offs(
    contributors: Iterable[Contributor],
    limit_rad: float,
    criterion: Criterion = "worst_case",
) -> tuple[TradeOff, ...]:
    """The loosest limit of every input, one at a time.

    Raises as `loosest_limit`.

    >>> parts = [dividing.Contributor("hole position", 0.005, sensitivity=1 / 50)]
    >>> [round(line.allowance, 9) for line in dividing.accuracy.trade_offs(parts, 0.0005)]
    [0.025]
    """
    found = _trade_offs(_contributors(contributors), _criterion(criterion), limit_rad)
    return tuple(_trade_off(line) for line in json.loads(found))


def least_radius_mm(
    contributors: Iterable[Contributor],
    present_mm: float,
    limit_rad: float,
    criterion: Criterion = "worst_case",
) -> float | None:
    """The least radius or baseline, in millimetres, that keeps a criterion within
    ``limit_rad``, when all contributors in millimetres act over ``present_mm``
    now; None where the others alone break the limit.

    Raises OutOfRangeError, ExactOverflowError, TypeError.

    >>> parts = [dividing.Contributor("hole position", 0.01, sensitivity=1 / 50)]
    >>> dividing.accuracy.least_radius_mm(parts, 50, 0.0001)
    100.0
    """
    listed = _contributors(contributors)
    return _least_radius_mm(listed, present_mm, _criterion(criterion), limit_rad)
