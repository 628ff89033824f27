"""Where the error of a plan comes from and what it would bear."""

from __future__ import annotations

import json
from typing import Any

from .._dividing import Plan
from ._budget import Budget, _budget_from
from ._model import PlanTradeOff, _plan_trade_off
from ._rules import Coverage, CoverageFactor, Criterion, _coverage, _criterion


class ErrorReport:
    """The budget of a plan's worst feature and the table of trade-offs. Frozen; a plan
    makes one. Notebooks show it as tables, ``str()`` as text.

    >>> report = plans[0].error_report()
    >>> report.budget.unit
    'arcsec'
    """

    __slots__ = ("_arguments", "_html", "_json", "_text")

    def __init__(
        self,
        plan: Plan,
        *,
        criterion: Criterion = "worst_case",
        coverage: Coverage = CoverageFactor(2.0),
    ) -> None:
        if not isinstance(plan, Plan):
            raise TypeError(f"plan: a Plan is wanted, not {type(plan).__name__}")
        self._arguments = (plan, criterion, coverage)
        self._json, self._text, self._html = plan._error_report(
            _criterion(criterion), _coverage(coverage)
        )

    def to_json(self) -> str:
        """The report as JSON text.

        >>> '"trade_offs"' in plans[0].error_report().to_json()
        True
        """
        return self._json

    def to_dict(self) -> dict[str, Any]:
        """The report as a dict of plain values.

        >>> plans[0].error_report().to_dict()["equipment"]
        'head'
        """
        document: dict[str, Any] = json.loads(self._json)
        return document

    @property
    def feature(self) -> int:
        """The worst feature, from 0.

        >>> plans[0].error_report().feature
        0
        """
        return int(self.to_dict()["feature"])

    @property
    def budget(self) -> Budget:
        """Its uncertainty budget, in seconds of arc.

        >>> plans[0].error_report().budget.quantity
        'angle of feature 1'
        """
        return _budget_from(self.to_dict()["budget"])

    @property
    def trade_offs(self) -> PlanTradeOff | None:
        """What the plan would bear, one thing changed at a time; None where the job
        gives no tolerance.

        >>> round(plans[0].error_report().trade_offs.limit_rad, 6)
        0.000873
        """
        found = self.to_dict()["trade_offs"]
        return None if found is None else _plan_trade_off(found)

    @property
    def unknown(self) -> tuple[str, ...]:
        """What the figures leave out.

        >>> plans[0].error_report().unknown
        ()
        """
        return tuple(self.to_dict()["unknown"])

    def __str__(self) -> str:
        return self._text

    def _repr_html_(self) -> str:
        return self._html

    def __repr__(self) -> str:
        return f"<ErrorReport of feature {self.feature + 1}>"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, ErrorReport) and self._json == other._json

    __hash__ = None  # type: ignore[assignment]

    def __reduce__(self) -> tuple[Any, tuple[Any, ...]]:
        return report_of, self._arguments


def report_of(
    plan: Plan, criterion: Criterion | None = None, coverage: Coverage | None = None
) -> ErrorReport:
    """The report of a plan; None stands for the usual."""
    return ErrorReport(
        plan,
        criterion="worst_case" if criterion is None else criterion,
        coverage=CoverageFactor(2.0) if coverage is None else coverage,
    )
