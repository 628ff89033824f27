"""Whether a measured value or part conforms."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from .._dividing import _decide_measured, _float_of
from .._enums import Decision
from .._html import grid
from ..accuracy._rules import DecisionRule, GuardBand, _rule
from ._columns import _ARCSEC


@dataclass(frozen=True, slots=True)
class GroundedDecision:
    """A decision on a measured value and its grounds, in the unit of the value.

    >>> dividing.inspection.decide(9.5, 0.5, upper=10).guard_band
    1.0
    """

    decision: Decision
    """Pass, not proven or fail."""
    margin: float
    """Distance to the nearer limit, above 0 inside."""
    guard_band: float
    """Guard band that was kept from each limit."""
    conformance_probability: float | None
    """Probability that the true value conforms (JCGM 106:2012, 7.2 to 7.4); None
    when the uncertainty is not known."""


@dataclass(frozen=True, slots=True)
class PartCheck:
    """One check of a part.

    >>> from dividing.inspection import Measurement
    >>> report = Measurement.deviations([3, -1, -2, 0]).inspect()
    >>> report.check_ring(single_pitch_rad=1e-4).checks[0].checked
    'single_pitch'
    """

    checked: Literal["angle", "single_pitch", "cumulative_pitch", "position"]
    """What was checked: angles in radians, positions in millimetres."""
    place: int | None
    """The place, or the one a pitch starts from; None for the whole ring."""
    value: float
    """The measured value."""
    standard_uncertainty: float | None
    """Its standard uncertainty; None where not known."""
    decided: GroundedDecision
    """The decision and its grounds."""


@dataclass(frozen=True, slots=True)
class PartVerdict:
    """All checks of a part and what follows from them. Notebooks show a table.

    >>> from dividing.inspection import Measurement
    >>> report = Measurement.deviations(
    ...     [3, -1, -2, 0], standard_uncertainty_arcsec=0.1).inspect()
    >>> report.check_ring(single_pitch_rad=1e-4).decision.value
    'pass'
    """

    decision: Decision
    """Pass when every check passes, fail when one fails, else not proven."""
    checks: tuple[PartCheck, ...]
    """The checks in the order of the places."""
    missing_places: tuple[int, ...]
    """Places that were not measured; a part with any can fail but not pass."""

    def _repr_html_(self) -> str:
        def row(it: PartCheck) -> list[str]:
            in_mm = it.checked == "position"

            def size(value: float) -> str:
                return f"{value:.4f} mm" if in_mm else f"{value * _ARCSEC:.2f} arcsec"

            chance = it.decided.conformance_probability
            return [
                it.checked.replace("_", " "),
                "" if it.place is None else str(it.place),
                size(it.value),
                size(it.decided.margin),
                "" if chance is None else f"{chance:.4%}",
                str(it.decided.decision).replace("_", " "),
            ]

        head = ["Checked", "Place", "Measured", "Margin", "Conforms", "Verdict"]
        title = f"Verdict: {str(self.decision).replace('_', ' ')}"
        missing = ", ".join(map(str, self.missing_places))
        facts = [("Not measured", missing)] if missing else []
        return grid(title, head, [row(it) for it in self.checks], facts)


def _decision_of(document: Mapping[str, Any]) -> GroundedDecision:
    fields = dict(document)
    return GroundedDecision(Decision(fields.pop("decision")), **fields)


def _verdict_of(text: str) -> PartVerdict:
    document = json.loads(text)
    checks = []
    for it in document["checks"]:
        decided = _decision_of(it.pop("decided"))
        checks.append(PartCheck(decided=decided, **it))
    missing = tuple(document["missing_places"])
    return PartVerdict(Decision(document["decision"]), tuple(checks), missing)


def decide(
    value: float,
    standard_uncertainty: float | None,
    *,
    lower: float | None = None,
    upper: float | None = None,
    rule: DecisionRule = GuardBand(1.0),
) -> GroundedDecision:
    """Decides whether a measured value conforms; numbers are in one unit. Without
    a known uncertainty a guard band proves nothing. The expanded uncertainty is
    twice the standard one.

    Raises InconsistentError without a limit or for limits in the wrong order,
    OutOfRangeError, NotFiniteError, TypeError. Source: JCGM 106:2012, 8.2 and 8.3.

    >>> dividing.inspection.decide(9.5, 0.5, upper=10).decision.value
    'not_proven'
    """
    unsure, low, high = (
        None if it is None else _float_of(it, name)
        for name, it in (
            ("standard_uncertainty", standard_uncertainty),
            ("lower", lower),
            ("upper", upper),
        )
    )
    text = _decide_measured((_float_of(value, "value"), unsure), (low, high), _rule(rule))
    return _decision_of(json.loads(text))
