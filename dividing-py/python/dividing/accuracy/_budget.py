"""Uncertainty budgets after JCGM 100:2008."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from .._codec import text_of_record
from .._dividing import (
    _budget,
    _budget_of_contributors,
    _budget_page,
    _correlation,
    _text_of,
)
from .._errors import OutOfRangeError
from .._records import Contributor
from ._rules import Coverage, CoverageFactor, Floats, _all, _coverage, _numbers, _optional_numbers, _texts
from ._sums import _contributors


@dataclass(frozen=True, slots=True)
class UncertainInput:
    """One input of a linear model.

    >>> dividing.accuracy.UncertainInput("pin", 0.004, 0.02, unit="mm").sensitivity
    0.02
    """

    name: str
    """Its name, used once in a model."""
    standard_uncertainty: float
    """Its standard uncertainty, in its unit."""
    sensitivity: float
    """Units of the result for one unit of the input."""
    unit: str = ""
    """Its unit, as printed."""
    degrees_of_freedom: float | None = None
    """Degrees of freedom; None for infinite."""

    def __post_init__(self) -> None:
        _texts(self, "name", "unit")
        _numbers(self, "standard_uncertainty", "sensitivity")
        _optional_numbers(self, "degrees_of_freedom")


@dataclass(frozen=True, slots=True)
class Correlation:
    """The correlation of two inputs, by their names.

    >>> dividing.accuracy.Correlation("x", "y", 1).coefficient
    1.0
    """

    first: str
    """Name of one input."""
    second: str
    """Name of another."""
    coefficient: float
    """Correlation coefficient, from −1 to 1."""

    def __post_init__(self) -> None:
        _texts(self, "first", "second")
        _numbers(self, "coefficient")


@dataclass(frozen=True, slots=True)
class SecondOrderTerm:
    """A higher-order term of a model that is markedly bent (JCGM 100:2008,
    5.1.2, note).

    >>> dividing.accuracy.SecondOrderTerm("x", "x", 2).second_derivative
    2.0
    """

    first: str
    """Name of an input."""
    second: str
    """Name of another input, or of the same one."""
    second_derivative: float
    """∂²f/∂first∂second."""
    third_derivative_in_second: float = 0.0
    """∂³f/∂first∂second²."""
    third_derivative_in_first: float = 0.0
    """∂³f/∂second∂first²; 0 where both inputs are the same."""

    def __post_init__(self) -> None:
        _texts(self, "first", "second")
        _numbers(
            self,
            "second_derivative",
            "third_derivative_in_second",
            "third_derivative_in_first",
        )


@dataclass(frozen=True, slots=True)
class BudgetLine:
    """One input in a budget.

    >>> dividing.accuracy.ErrorModel(plans[0]).budget(0).lines[0].name
    'plate hole position'
    """

    name: str
    """Name of the input."""
    unit: str
    """Its unit."""
    standard_uncertainty: float
    """Its standard uncertainty, in its unit."""
    degrees_of_freedom: float | None
    """Its degrees of freedom; None for infinite."""
    sensitivity: float
    """Units of the result for one unit of the input."""
    contribution: float
    """Its part of the result's standard uncertainty, in the result's unit."""
    share: float
    """Its share of the variance."""


@dataclass(frozen=True, slots=True)
class Budget:
    """An uncertainty budget after JCGM 100:2008. Notebooks show it as a table;
    ``print`` as text.

    >>> budget = dividing.accuracy.ErrorModel(plans[0]).budget(0)
    >>> budget.unit, round(sum(line.share for line in budget.lines), 9)
    ('arcsec', 1.0)
    """

    quantity: str
    """What is estimated."""
    unit: str
    """Unit of the result."""
    estimate: float
    """The estimate."""
    lines: tuple[BudgetLine, ...]
    """The inputs, in the order given."""
    second_order_uncertainty: float
    """What terms of higher order bring."""
    second_order_share: float
    """Their share of the variance."""
    combined_standard_uncertainty: float
    """Combined standard uncertainty (5.1.2 and 5.2.2)."""
    effective_degrees_of_freedom: float | None
    """Effective degrees of freedom (G.4); None for infinite."""
    coverage_probability: float | None
    """Coverage probability; None where a factor was asked for."""
    coverage_factor: float
    """Coverage factor (6.2)."""
    expanded_uncertainty: float
    """Expanded uncertainty."""

    @staticmethod
    def of_contributors(
        quantity: str,
        contributors: Iterable[Contributor],
        *,
        estimate_rad: float = 0.0,
        coverage: Coverage = CoverageFactor(2.0),
    ) -> Budget:
        """The budget of a feature's angle, in seconds of arc.

        Raises EmptyListError, OutOfRangeError, NotFiniteError, TypeError.

        >>> parts = [dividing.Contributor("hole position", 0.01, sensitivity=1 / 50)]
        >>> budget = dividing.accuracy.Budget.of_contributors("hole 1", parts)
        >>> round(budget.combined_standard_uncertainty, 3)
        20.626
        """
        listed = _contributors(contributors)
        name = _text_of(quantity, "quantity")
        return _budget_of(
            _budget_of_contributors(name, estimate_rad, listed, _coverage(coverage))
        )

    def _repr_html_(self) -> str:
        return _budget_page(text_of_record(self, ""))[1]

    def __str__(self) -> str:
        return _budget_page(text_of_record(self, ""))[0]


def _budget_of(text: str) -> Budget:
    return _budget_from(json.loads(text))


def _budget_from(document: Mapping[str, Any]) -> Budget:
    fields = dict(document)
    lines = tuple(BudgetLine(**line) for line in fields.pop("lines"))
    return Budget(lines=lines, **fields)


@dataclass(frozen=True, slots=True)
class UncertaintyModel:
    """A result, its inputs and how they are correlated: asks for a budget.

    Raises, from ``budget``, InconsistentError for correlations that cannot be,
    DuplicateError for two inputs of one name, OutOfRangeError, EmptyListError.

    >>> from dividing.accuracy import UncertainInput, UncertaintyModel
    >>> model = UncertaintyModel("length", 100.0, unit="mm", inputs=[
    ...     UncertainInput("block", 0.003, 1.0), UncertainInput("reading", 0.004, 1.0)])
    >>> round(model.budget().combined_standard_uncertainty, 9)
    0.005
    """

    quantity: str
    """What is estimated."""
    estimate: float
    """The estimate."""
    inputs: Sequence[UncertainInput]
    """The inputs."""
    unit: str = ""
    """Unit of the result, as printed."""
    correlations: Sequence[Correlation] = ()
    """Correlations of inputs; pairs that are not named are independent."""
    second_order: Sequence[SecondOrderTerm] = ()
    """Terms of higher order."""
    coverage: Coverage = CoverageFactor(2.0)
    """How the expanded uncertainty is stated."""

    def __post_init__(self) -> None:
        _texts(self, "quantity", "unit")
        _numbers(self, "estimate")
        for name, of in (
            ("inputs", UncertainInput),
            ("correlations", Correlation),
            ("second_order", SecondOrderTerm),
        ):
            object.__setattr__(self, name, _all(of, getattr(self, name), name))
        _coverage(self.coverage)

    def budget(self) -> Budget:
        """The uncertainty budget. Source: JCGM 100:2008, 5 and 6, annex G.

        >>> from dividing.accuracy import UncertainInput, UncertaintyModel
        >>> one = UncertaintyModel("x", 1, [UncertainInput("a", 0.1, 2)])
        >>> one.budget().expanded_uncertainty
        0.4
        """
        return _budget_of(_budget(text_of_record(self, "")))

    def correlation_with(self, other: UncertaintyModel) -> float:
        """The correlation of two results that share inputs (JCGM 100:2008, F.1.2.3).

        Raises InconsistentError when a shared input is described in two ways.

        >>> from dividing.accuracy import UncertainInput, UncertaintyModel
        >>> one = UncertaintyModel("x", 1, [UncertainInput("a", 0.1, 2)])
        >>> one.correlation_with(one)
        1.0
        """
        if not isinstance(other, UncertaintyModel):
            raise TypeError(
                f"other: an UncertaintyModel is wanted, not {type(other).__name__}"
            )
        return _correlation(text_of_record(self, ""), text_of_record(other, "other"))


def numerical_sensitivities(
    model: Callable[..., float],
    estimates: Sequence[float],
    standard_uncertainties: Sequence[float],
) -> Floats:
    """Sensitivities of a model by central differences of one standard
    uncertainty either way (JCGM 100:2008, 5.1.3, note 2): an array, one for
    each estimate. ``model`` takes the estimates as arguments.

    Raises ValueError for lists of unequal length, OutOfRangeError for an
    uncertainty that is not above 0, and what the model raises.

    >>> dividing.accuracy.numerical_sensitivities(lambda x, y: x * y, [2, 3], [0.1, 0.1]).round(9)
    array([3., 2.])
    """
    values = np.asarray(estimates, dtype=np.float64)
    steps = np.asarray(standard_uncertainties, dtype=np.float64)
    if values.shape != steps.shape or values.ndim != 1:
        raise ValueError("estimates and standard_uncertainties: lists of one length are wanted")
    if not (steps > 0).all():
        raise OutOfRangeError(
            "a step of 0 or less; accepted: above 0", "standard_uncertainties"
        )
    out = np.empty_like(values)
    for index, step in enumerate(steps):
        above, below = values.copy(), values.copy()
        above[index] += step
        below[index] -= step
        out[index] = (model(*above.tolist()) - model(*below.tolist())) / (2 * step)
    return out
