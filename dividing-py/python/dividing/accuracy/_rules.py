"""How uncertainty is stated and how values are judged."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from .._codec import text_of_record
from .._dividing import _decide, _float_of, _text_of
from .._enums import Decision

Floats = NDArray[np.float64]


def _numbers(record: object, *names: str) -> None:
    """Makes fields of a record finite floats."""
    for name in names:
        object.__setattr__(record, name, _float_of(getattr(record, name), name))


def _optional_numbers(record: object, *names: str) -> None:
    """The same for fields that may be None."""
    _numbers(record, *(name for name in names if getattr(record, name) is not None))


def _texts(record: object, *names: str) -> None:
    for name in names:
        _text_of(getattr(record, name), name)


def _all(of: type, items: object, name: str) -> tuple[Any, ...]:
    """A tuple of records of one class."""
    if isinstance(items, (str, bytes)) or not isinstance(items, Iterable):
        raise TypeError(f"{name}: a list of {of.__name__} is wanted, not {type(items).__name__}")
    found = tuple(items)
    for index, item in enumerate(found):
        if not isinstance(item, of):
            raise TypeError(
                f"{name}[{index}]: a {of.__name__} is wanted, not {type(item).__name__}"
            )
    return found


@dataclass(frozen=True, slots=True)
class CoverageFactor:
    """Expanded uncertainty with this coverage factor.

    >>> dividing.accuracy.CoverageFactor(2)
    CoverageFactor(factor=2.0)
    """

    factor: float
    """The factor, above 0."""

    def __post_init__(self) -> None:
        _numbers(self, "factor")

    def _document(self) -> object:
        return {"factor": self.factor}


@dataclass(frozen=True, slots=True)
class CoverageProbability:
    """Expanded uncertainty with the Student factor of this coverage probability
    at the effective degrees of freedom (JCGM 100:2008, annex G).

    >>> dividing.accuracy.CoverageProbability(0.95)
    CoverageProbability(probability=0.95)
    """

    probability: float
    """The probability, above 0 and below 1."""

    def __post_init__(self) -> None:
        _numbers(self, "probability")

    def _document(self) -> object:
        return {"probability": self.probability}

Coverage: TypeAlias = CoverageFactor | CoverageProbability
"""How the expanded uncertainty is stated."""


def _coverage(value: object) -> str:
    if not isinstance(value, Coverage):
        raise TypeError(
            "coverage: a CoverageFactor or CoverageProbability is wanted, "
            f"not {type(value).__name__}"
        )
    return text_of_record(value, "coverage")


@dataclass(frozen=True, slots=True)
class ExpandedUncertainty:
    """The criterion: combined standard uncertainty times a coverage factor.

    >>> criterion = dividing.accuracy.ExpandedUncertainty(2)
    >>> parts = [dividing.Contributor("hole position", 0.01, sensitivity=1 / 50)]
    >>> round(dividing.accuracy.total_rad(parts, criterion), 9)
    0.0002
    """

    coverage_factor: float = 2.0
    """The coverage factor, above 0."""

    def __post_init__(self) -> None:
        _numbers(self, "coverage_factor")

    def _document(self) -> object:
        return {"expanded_uncertainty": {"coverage_factor": self.coverage_factor}}

Criterion: TypeAlias = Literal["worst_case", "root_sum_square"] | ExpandedUncertainty
"""What must stay within a limit: the sum of all limits, the root of the sum of
their squares, or an expanded uncertainty."""


def _criterion(value: object) -> str:
    if isinstance(value, str) or isinstance(value, ExpandedUncertainty):
        return text_of_record(value, "criterion")
    raise TypeError(
        'criterion: "worst_case", "root_sum_square" or an ExpandedUncertainty is wanted, '
        f"not {type(value).__name__}"
    )


@dataclass(frozen=True, slots=True)
class GuardBand:
    """The decision rule with a guard band: a value passes within the limits less
    a multiple of its expanded uncertainty and fails beyond the limits plus as
    much; between the two nothing is proven (JCGM 106:2012, 8.3). Multiple 1 is
    the rule of ISO 14253-1.

    >>> dividing.accuracy.decide(0.9, -1, 1, 0.2, dividing.accuracy.GuardBand(1)).value
    'not_proven'
    """

    multiple: float = 1.0
    """Width of the band over the expanded uncertainty, 0 or more."""

    def __post_init__(self) -> None:
        _numbers(self, "multiple")

    def _document(self) -> object:
        return {"guard_band": {"multiple": self.multiple}}

DecisionRule: TypeAlias = Literal["simple_acceptance"] | GuardBand
"""How a value is judged: by itself, or with a guard band."""


def _rule(value: object) -> str:
    if isinstance(value, str) or isinstance(value, GuardBand):
        return text_of_record(value, "rule")
    raise TypeError(
        f'rule: "simple_acceptance" or a GuardBand is wanted, not {type(value).__name__}'
    )


def _rule_of(text: str) -> DecisionRule:
    """A rule as it stands in documents."""
    document = json.loads(text)
    if isinstance(document, dict):
        return GuardBand(document["guard_band"]["multiple"])
    return "simple_acceptance"


def decide(
    value: float,
    lower: float,
    upper: float,
    expanded_uncertainty: float,
    rule: DecisionRule = GuardBand(1.0),
) -> Decision:
    """What a rule says of a value between two limits: pass, fail or not proven.

    All numbers are in one unit. Raises InconsistentError for limits in the
    wrong order, OutOfRangeError, NotFiniteError, TypeError. Source: JCGM
    106:2012, 8.2 and 8.3.

    >>> dividing.accuracy.decide(0.7, -1, 1, 0.2).value
    'pass'
    """
    return Decision(
        json.loads(_decide(_rule(rule), value, lower, upper, expanded_uncertainty))
    )


@dataclass(frozen=True, slots=True)
class Limits:
    """Limits in radians that the tolerance of a job sets; None for no limit.

    >>> round(dividing.accuracy.ErrorModel(plans[0]).limits.deviation_rad, 6)
    0.000873
    """

    deviation_rad: float | None = None
    """Largest deviation of any feature either way."""
    single_pitch_rad: float | None = None
    """Largest single pitch deviation either way."""
    cumulative_pitch_rad: float | None = None
    """Cumulative pitch deviation."""

    def __post_init__(self) -> None:
        _optional_numbers(self, "deviation_rad", "single_pitch_rad", "cumulative_pitch_rad")
