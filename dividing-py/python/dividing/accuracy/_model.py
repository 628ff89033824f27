"""The errors of a whole plan."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from .._dividing import Angle, Plan
from .._enums import Decision, InputUnit
from .._html import grid
from .._records import Contributor, contributor_of
from ._budget import Budget, _budget_of
from ._rules import (
    Coverage,
    CoverageFactor,
    Criterion,
    DecisionRule,
    GuardBand,
    Limits,
    _coverage,
    _criterion,
    _rule,
)
from ._sums import TradeOff, _trade_off


@dataclass(frozen=True, slots=True)
class ModelFeature:
    """What turns one feature of a plan away from its place.

    >>> dividing.accuracy.ErrorModel(plans[0]).features[1].required
    Angle('40°')
    """

    required: Angle
    """The drawing angle."""
    residual_rad: float
    """Systematic deviation of the setting, in radians."""
    contributors: tuple[Contributor, ...]
    """Contributors; for a clocked job with those of the datum feature."""


@dataclass(frozen=True, slots=True)
class FeatureConformance:
    """How one feature stands to the limit of its angle.

    >>> dividing.accuracy.ErrorModel(plans[0]).conformance(0).probability > 0.99
    True
    """

    decision: Decision
    """The decision under the rule: pass, fail or not proven."""
    limit_rad: float
    """Largest deviation that the drawing allows, in radians."""
    expanded_uncertainty_rad: float
    """Expanded uncertainty of the deviation, in radians."""
    probability: float
    """Probability that the feature conforms (JCGM 106:2012, 7.4)."""


@dataclass(frozen=True, slots=True)
class PlanTradeOff:
    """What a plan would bear if only one thing were changed.

    >>> dividing.accuracy.ErrorModel(plans[0]).trade_offs().feature
    0
    """

    feature: int
    """The worst feature, from 0, from which the table is made; for a limit of
    pitch the feature that the pitch leads to."""
    pitch_from: int | None
    """For a limit of pitch, the feature that the pitch starts from."""
    present_rad: float
    """What the criterion gives for it now, residual included, in radians."""
    limit_rad: float
    """The limit of the job, in radians."""
    inputs: tuple[TradeOff, ...]
    """The inputs one at a time: hole positions and clearances as diameters, all
    others as limits either way."""
    present_lever_mm: float | None
    """The pitch radius or baseline now, in millimetres; None without one."""
    least_lever_mm: float | None
    """The least that holds the limit; None where none does."""

    def _repr_html_(self) -> str:
        def written(line: TradeOff) -> list[str]:
            unit = "mm" if line.unit is InputUnit.MILLIMETRE else "rad"
            if line.allowance is None:
                most = "never enough"
            elif math.isinf(line.allowance):
                most = "any"
            else:
                most = f"{line.allowance:.4g} {unit}"
            return [line.name, f"{line.present:.4g} {unit}", most]

        facts = [
            ("Limit", f"{math.degrees(self.limit_rad):.4f}°"),
            ("Now", f"{math.degrees(self.present_rad):.4f}°"),
        ]
        if self.present_lever_mm is not None:
            least = self.least_lever_mm
            needed = "none is enough" if least is None else f"{least:.2f} mm"
            facts.append(
                ("Pitch radius or baseline", f"{self.present_lever_mm:.2f} mm, needed: {needed}")
            )
        head = ["Input", "Now", "May be"]
        title = f"What feature {self.feature + 1} would bear"
        return grid(title, head, [written(line) for line in self.inputs], facts)


def _plan_trade_off(document: Mapping[str, Any]) -> PlanTradeOff:
    fields = dict(document)
    inputs = tuple(_trade_off(line) for line in fields.pop("inputs"))
    return PlanTradeOff(inputs=inputs, **fields)


class ErrorModel:
    """The errors of a whole plan: which contributors, at which places, about
    which datum, judged by which limits. Frozen; may be shared by threads.

    Raises WorkLimitError, ExactOverflowError, TypeError.

    >>> dividing.accuracy.ErrorModel(plans[0])
    <ErrorModel of 9 features with 'head'>
    """

    __slots__ = ("_document", "_features", "_native", "_plan")

    def __init__(self, plan: Plan) -> None:
        if not isinstance(plan, Plan):
            raise TypeError(f"plan: a Plan is wanted, not {type(plan).__name__}")
        self._plan = plan
        self._native = plan._error_model()
        self._document: dict[str, Any] = json.loads(self._native.document())
        self._features = tuple(
            ModelFeature(
                Angle(it["required"]),
                float(it["residual_rad"]),
                tuple(contributor_of(one) for one in it["contributors"]),
            )
            for it in self._document["features"]
        )

    @property
    def plan(self) -> Plan:
        """The plan.

        >>> dividing.accuracy.ErrorModel(plans[0]).plan is plans[0]
        True
        """
        return self._plan

    @property
    def features(self) -> tuple[ModelFeature, ...]:
        """The features, in the order of the job.

        >>> len(dividing.accuracy.ErrorModel(plans[0]).features)
        9
        """
        return self._features

    @property
    def order_round_the_part(self) -> tuple[int, ...]:
        """The numbers of the features as they stand round the part.

        >>> dividing.accuracy.ErrorModel(plans[0]).order_round_the_part[:3]
        (0, 1, 2)
        """
        return tuple(self._document["order"])

    @property
    def unknown(self) -> tuple[str, ...]:
        """What the workshop does not say and all answers leave out.

        >>> dividing.accuracy.ErrorModel(plans[0]).unknown
        ()
        """
        return tuple(self._document["unknown"])

    @property
    def limits(self) -> Limits:
        """The limits of the job's tolerance, in radians.

        >>> dividing.accuracy.ErrorModel(plans[0]).limits.single_pitch_rad is None
        True
        """
        return Limits(**self._document["limits"])

    def budget(self, feature: int, coverage: Coverage = CoverageFactor(2.0)) -> Budget:
        """The uncertainty budget of a feature's angle, counted from 0 in the
        order of the job, in seconds of arc.

        Raises NotFoundError, UndeterminedError without any contributor,
        OutOfRangeError, TypeError. Source: JCGM 100:2008.

        >>> dividing.accuracy.ErrorModel(plans[0]).budget(1).quantity
        'angle of feature 2'
        """
        return _budget_of(self._native.budget(feature, _coverage(coverage)))

    def conformance(
        self,
        feature: int,
        rule: DecisionRule = GuardBand(1.0),
        coverage: Coverage = CoverageFactor(2.0),
    ) -> FeatureConformance:
        """Whether a feature conforms with the limit of its angle.

        Raises NotFoundError, UndeterminedError without a limit of angle,
        OutOfRangeError, TypeError. Source: JCGM 106:2012.

        >>> dividing.accuracy.ErrorModel(plans[0]).conformance(0, "simple_acceptance").decision
        <Decision.PASS: 'pass'>
        """
        text = self._native.conformance(feature, _rule(rule), _coverage(coverage))
        document = json.loads(text)
        return FeatureConformance(Decision(document.pop("decision")), **document)

    def trade_offs(self, criterion: Criterion = "worst_case") -> PlanTradeOff:
        """What the worst feature would bear, one thing changed at a time, so
        that the job's limit of angle still holds.

        Raises UndeterminedError without a limit of angle or any contributor;
        TypeError.

        >>> offs = dividing.accuracy.ErrorModel(plans[0]).trade_offs()
        >>> all(line.allowance > line.present for line in offs.inputs)
        True
        """
        return _plan_trade_off(json.loads(self._native.trade_offs(_criterion(criterion))))

    def __repr__(self) -> str:
        return f"<ErrorModel of {len(self._features)} features with {self._plan.equipment!r}>"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, ErrorModel) and self._document == other._document

    __hash__ = None  # type: ignore[assignment]

    def __reduce__(self) -> tuple[type[ErrorModel], tuple[Plan]]:
        return ErrorModel, (self._plan,)
