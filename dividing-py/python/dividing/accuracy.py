"""How far off each feature will be, why, and what to change.

Contributors add up to a worst case or to an uncertainty budget:

>>> from dividing import accuracy
>>> parts = [
...     accuracy.Contributor("hole position", 0.010, sensitivity=1 / 50),
...     accuracy.Contributor("pin clearance", 0.010, sensitivity=1 / 50)]
>>> round(accuracy.total_rad(parts), 9)
0.0004
>>> budget = accuracy.Budget.of_contributors("hole 1", parts)
>>> round(budget.expanded_uncertainty, 2), budget.unit
(58.34, 'arcsec')

The same of a whole plan, and what would have to change:

>>> model = accuracy.ErrorModel(plans[0])
>>> model.conformance(0).decision.value
'pass'

Many clearances, tolerances and radii at once, as NumPy arrays:

>>> accuracy.plunger_worst_case_rad([40.0, 50.0], clearance_mm=0.02).round(9)
array([0.00025, 0.0002 ])
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal, TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ._codec import choice, text_of_record
from ._dividing import (
    Angle,
    Plan,
    _angular_class_met_by,
    _angular_limit_rad,
    _bar_tilt_rad,
    _best_pin_pairs,
    _budget,
    _budget_of_contributors,
    _budget_page,
    _carried,
    _correlation,
    _decide,
    _drilled_by_coordinates,
    _entry,
    _feature_shift,
    _float_of,
    _least_radius_mm,
    _length_mm_of,
    _loosest_limit,
    _permitted_diameter_mm,
    _pitch_grade_met_by,
    _pitch_tolerances_um,
    _position_zone_mm,
    _range_constants,
    _text_of,
    _total_rad,
    _trade_offs,
    bar_on_fixed_pins_rad,
    bar_on_loose_pins_rad,
    baseline_mm,
    clopper_pearson,
    conformance_probability,
    eccentricity_error_rad,
    eccentricity_peak_to_peak_rad,
    guard_band_factor,
    least_baseline_mm,
    least_pitch_radius_mm,
    loosest_clearance_mm,
    pin_play_rad,
    plunger_standard_uncertainty_rad,
    plunger_worst_case_rad,
    position_diameter_mm,
    student_factor,
)
from ._enums import (
    AngularClass,
    Distribution,
    InputUnit,
    Persistence,
    PitchRounding,
    Verdict,
)
from ._errors import InvalidFieldError, NotFiniteError, OutOfRangeError
from ._inputs import LengthLike, MaximumMaterial
from ._records import Contributor, Normal, contributor_of

__all__ = [
    "AngularClass",
    "BarSupport",
    "Budget",
    "BudgetLine",
    "Contributor",
    "Correlation",
    "CoverageFactor",
    "CoverageProbability",
    "Distribution",
    "Entry",
    "EntryFinding",
    "ErrorModel",
    "ExpandedUncertainty",
    "FeatureConformance",
    "FeatureShift",
    "GuardBand",
    "InputUnit",
    "Limits",
    "ModelFeature",
    "Normal",
    "Persistence",
    "PinPair",
    "PitchGrades",
    "PitchRounding",
    "PlanTradeOff",
    "RangeConstants",
    "SecondOrderTerm",
    "TradeOff",
    "UncertainInput",
    "UncertaintyModel",
    "angular_class_met_by",
    "angular_limit_rad",
    "bar_on_fixed_pins_rad",
    "bar_on_loose_pins_rad",
    "bar_tilt_rad",
    "baseline_mm",
    "best_pin_pairs",
    "carried",
    "clopper_pearson",
    "conformance_probability",
    "decide",
    "drilled_by_coordinates",
    "eccentricity_error_rad",
    "eccentricity_peak_to_peak_rad",
    "feature_shift",
    "guard_band_factor",
    "least_baseline_mm",
    "least_pitch_radius_mm",
    "least_radius_mm",
    "loosest_clearance_mm",
    "loosest_limit",
    "numerical_sensitivities",
    "permitted_diameter_mm",
    "pin_play_rad",
    "plunger_standard_uncertainty_rad",
    "plunger_worst_case_rad",
    "position_diameter_mm",
    "position_zone_mm",
    "range_constants",
    "student_factor",
    "total_rad",
    "trade_offs",
]

Floats = NDArray[np.float64]


def _numbers(record: object, *names: str) -> None:
    """Makes fields of a record finite floats; None stays."""
    for name in names:
        value = getattr(record, name)
        if value is not None:
            number = _float_of(value, name)
            if not math.isfinite(number):
                message = f"{number} is not finite; accepted: a finite number"
                raise NotFiniteError(message, name)
            object.__setattr__(record, name, number)


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


# Coverage, criteria and rules.


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


def decide(
    value: float,
    lower: float,
    upper: float,
    expanded_uncertainty: float,
    rule: DecisionRule = GuardBand(1.0),
) -> Verdict:
    """What a rule says of a value between two limits: pass, fail or not proven.

    All numbers are in one unit. Raises InconsistentError for limits in the
    wrong order, OutOfRangeError, NotFiniteError, TypeError. Source: JCGM
    106:2012, 8.2 and 8.3.

    >>> dividing.accuracy.decide(0.7, -1, 1, 0.2).value
    'pass'
    """
    return Verdict(
        json.loads(_decide(_rule(rule), value, lower, upper, expanded_uncertainty))
    )


# Sums of contributors, and the inverse questions.


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


# Uncertainty budgets.


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
        _numbers(self, "standard_uncertainty", "sensitivity", "degrees_of_freedom")


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
    document = json.loads(text)
    lines = tuple(BudgetLine(**line) for line in document.pop("lines"))
    return Budget(lines=lines, **document)


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


# The model of a plan.


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
        _numbers(self, "deviation_rad", "single_pitch_rad", "cumulative_pitch_rad")


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

    decision: Verdict
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
    """The worst feature, from 0, from which the table is made."""
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
        from ._dividing import _html_table

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
        return _html_table(title, facts, head, [written(line) for line in self.inputs])


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
        <Verdict.PASS: 'pass'>
        """
        text = self._native.conformance(feature, _rule(rule), _coverage(coverage))
        document = json.loads(text)
        return FeatureConformance(Verdict(document.pop("decision")), **document)

    def trade_offs(self, criterion: Criterion = "worst_case") -> PlanTradeOff:
        """What the worst feature would bear, one thing changed at a time, so
        that the job's limit of angle still holds.

        Raises UndeterminedError without a limit of angle or any contributor;
        TypeError.

        >>> offs = dividing.accuracy.ErrorModel(plans[0]).trade_offs()
        >>> all(line.allowance > line.present for line in offs.inputs)
        True
        """
        document = json.loads(self._native.trade_offs(_criterion(criterion)))
        inputs = tuple(_trade_off(line) for line in document.pop("inputs"))
        return PlanTradeOff(inputs=inputs, **document)

    def __repr__(self) -> str:
        return f"<ErrorModel of {len(self._features)} features with {self._plan.equipment!r}>"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, ErrorModel) and self._document == other._document

    __hash__ = None  # type: ignore[assignment]

    def __reduce__(self) -> tuple[type[ErrorModel], tuple[Plan]]:
        return ErrorModel, (self._plan,)


# Standards.


def angular_limit_rad(
    angular_class: AngularClass | Literal["fine_or_medium", "coarse", "very_coarse"],
    shorter_side: LengthLike,
) -> float:
    """The limit of an angle, in radians, by its general-tolerance class and the
    length of its shorter side. Source: ISO 2768-1, Table 3.

    Raises InvalidFieldError, OutOfRangeError, TypeError.

    >>> from math import degrees
    >>> round(60 * degrees(dividing.accuracy.angular_limit_rad("coarse", 30)), 9)
    60.0
    """
    found = choice(AngularClass, angular_class, "angular_class")
    return _angular_limit_rad(json.dumps(found), shorter_side)


def angular_class_met_by(
    deviation_rad: float, shorter_side: LengthLike
) -> AngularClass | None:
    """The tightest class of ISO 2768-1 that a deviation meets; None for none.

    Raises OutOfRangeError, NotFiniteError, TypeError.

    >>> dividing.accuracy.angular_class_met_by(0.001, 30).value
    'fine_or_medium'
    """
    found = json.loads(_angular_class_met_by(deviation_rad, shorter_side))
    return None if found is None else AngularClass(found)


@dataclass(frozen=True, slots=True, init=False, repr=False)
class PitchGrades:
    """Pitch tolerances of ISO 1328-1:2013 for a reference diameter and a module,
    as lengths. Only the pitch of the standard is used: a plate is no gear.

    >>> dividing.accuracy.PitchGrades(100, 2).tolerances_um(5)
    (6.0, 19.0)
    """

    reference_diameter_mm: float
    """Reference diameter, in millimetres."""
    module_mm: float
    """Normal module, in millimetres."""
    rounding: PitchRounding
    """How values are rounded."""

    def __init__(
        self,
        reference_diameter: LengthLike,
        module: LengthLike,
        rounding: PitchRounding | Literal["standard", "unrounded"] = "standard",
    ) -> None:
        def put(name: str, value: object) -> None:
            object.__setattr__(self, name, value)

        put("reference_diameter_mm", _length_mm_of(reference_diameter, "reference_diameter"))
        put("module_mm", _length_mm_of(module, "module"))
        put("rounding", choice(PitchRounding, rounding, "rounding"))

    def __repr__(self) -> str:
        return (
            f"PitchGrades({self.reference_diameter_mm!r}, {self.module_mm!r}, "
            f"{str(self.rounding)!r})"
        )

    def _document(self) -> object:
        return {
            "reference_diameter": self.reference_diameter_mm,
            "module": self.module_mm,
            "rounding": self.rounding,
        }

    def tolerances_um(self, grade: int) -> tuple[float, float]:
        """Single and cumulative pitch tolerance of a grade, in micrometres along
        the reference circle.

        Raises OutOfRangeError, TypeError.

        >>> dividing.accuracy.PitchGrades(100, 2).tolerances_um(6)[0]
        8.5
        """
        return _pitch_tolerances_um(text_of_record(self, ""), grade)

    def grade_met_by(self, single_rad: float, cumulative_rad: float) -> int | None:
        """The finest grade whose tolerances both hold; None to grade 11.

        Raises OutOfRangeError, NotFiniteError, TypeError.

        >>> dividing.accuracy.PitchGrades(100, 2).grade_met_by(5.9e-3 / 50, 18.9e-3 / 50)
        5
        """
        return _pitch_grade_met_by(text_of_record(self, ""), single_rad, cumulative_rad)


def permitted_diameter_mm(
    zone_diameter: LengthLike, at_maximum_material: MaximumMaterial | None = None
) -> float:
    """The diameter of a position zone with its bonus, in millimetres.

    Raises OutOfRangeError for an actual size outside its limits; TypeError.
    Source: ISO 2692, ASME Y14.5.

    >>> hole = dividing.MaximumMaterial(10.0, 10.1, actual_size=10.04)
    >>> round(dividing.accuracy.permitted_diameter_mm(0.1, hole), 9)
    0.14
    """
    zone = _length_mm_of(zone_diameter, "zone_diameter")
    sizes = at_maximum_material
    if sizes is None:
        return _permitted_diameter_mm(zone, None)
    return _permitted_diameter_mm(
        zone,
        (sizes.maximum_material_size_mm, sizes.least_material_size_mm, sizes.actual_size_mm),
    )


@dataclass(frozen=True, slots=True)
class RangeConstants:
    """Mean and standard deviation of the range of N independent normal values,
    in their standard deviations: the control-chart constants d2 and d3.

    >>> round(dividing.accuracy.range_constants(5).mean, 3)
    2.326
    """

    mean: float
    """d2."""
    standard_deviation: float
    """d3."""


def range_constants(places: int) -> RangeConstants:
    """d2 and d3 of so many places: with independent normal errors of standard
    deviation σ the cumulative pitch deviation has mean d2·σ.

    Raises OutOfRangeError outside 2 to 100,000 places; TypeError. Source:
    Tippett, Biometrika 17 (1925).

    >>> round(dividing.accuracy.range_constants(5).standard_deviation, 3)
    0.864
    """
    return RangeConstants(*_range_constants(places))


# Geometry, lineage and shift.


@dataclass(frozen=True, slots=True)
class BarSupport:
    """One pin of the pair that a bar rests on: numbers or arrays of numbers, in
    millimetres.

    >>> dividing.accuracy.BarSupport(-40, 0, 6.0, 5.99).pin_diameter_mm
    5.99
    """

    x_mm: ArrayLike
    """Coordinate of the hole's centre."""
    y_mm: ArrayLike
    """Coordinate of the hole's centre."""
    hole_diameter_mm: ArrayLike
    """Diameter of the hole."""
    pin_diameter_mm: ArrayLike
    """Diameter of the pin."""


def bar_tilt_rad(
    first: BarSupport,
    second: BarSupport,
    seating: Literal["fixed", "at_bottom"] = "fixed",
) -> Any:
    """The tilt, in radians counter-clockwise, of a straight bar on two pins that
    are fixed in their holes or lie loose at the bottom of them: a float, or an
    array where anything given is one. Source: geometry, asin((s2 − s1)/L).

    Raises InconsistentError for a pin larger than its hole at the bottom,
    OutOfRangeError, NotFiniteError, TypeError.

    >>> from dividing.accuracy import BarSupport, bar_tilt_rad
    >>> round(bar_tilt_rad(BarSupport(0, 0, 6, 5.99), BarSupport(100, 0, 6, 6)), 9)
    5e-05
    """
    if seating not in ("fixed", "at_bottom"):
        raise InvalidFieldError(
            f"{seating!r} is no choice; accepted: fixed, at_bottom", "seating"
        )
    columns = []
    for name, support in (("first", first), ("second", second)):
        if not isinstance(support, BarSupport):
            raise TypeError(f"{name}: a BarSupport is wanted, not {type(support).__name__}")
        columns += [
            support.x_mm,
            support.y_mm,
            support.hole_diameter_mm,
            support.pin_diameter_mm,
        ]
    return _bar_tilt_rad(columns, seating == "at_bottom")


@dataclass(frozen=True, slots=True)
class EntryFinding:
    """Whether a plunger enters a hole.

    >>> dividing.accuracy.Entry(least_clearance_mm=0.02, greatest_clearance_mm=0.03).check()
    EntryFinding(worst_distance_mm=0.0, worst_margin_mm=0.01, always_enters=True, probability=1.0)
    """

    worst_distance_mm: float
    """Largest radial distance of the centres at the tolerance limits."""
    worst_margin_mm: float
    """Half the least clearance less that distance; below 0 the pin can be refused."""
    always_enters: bool
    """Whether the pin enters at all tolerance limits."""
    probability: float
    """Probability that the pin enters one hole."""


@dataclass(frozen=True, slots=True)
class Entry:
    """What must be known to say whether a plunger enters every hole, all in
    millimetres; tolerances are the largest deviation either way.

    >>> dividing.accuracy.Entry(
    ...     eccentricity_mm=0.02, least_clearance_mm=0.02, greatest_clearance_mm=0.03,
    ... ).check().always_enters
    False
    """

    radius_difference_mm: float = 0.0
    """Radius of the pin's station less the pitch radius of the plate."""
    pin_radius_tolerance_mm: float = 0.0
    """Largest deviation of the station's radius."""
    hole_radius_tolerance_mm: float = 0.0
    """Largest radial deviation of a hole: half a position zone's diameter."""
    eccentricity_mm: float = 0.0
    """Eccentricity of the plate to the spindle axis."""
    least_clearance_mm: float = 0.0
    """Least clearance of pin and hole."""
    greatest_clearance_mm: float = 0.0
    """Greatest clearance of pin and hole."""

    def __post_init__(self) -> None:
        _numbers(self, *self.__slots__)

    def check(self) -> EntryFinding:
        """Whether the pin enters, at worst and with which probability.

        Raises OutOfRangeError, NotFiniteError, InconsistentError.

        >>> dividing.accuracy.Entry(greatest_clearance_mm=0.01).check().always_enters
        True
        """
        return EntryFinding(*_entry([getattr(self, name) for name in self.__slots__]))


@dataclass(frozen=True, slots=True)
class FeatureShift:
    """How far an eccentricity sets a feature off its place.

    >>> dividing.accuracy.feature_shift(0.02, located_from="parts_own_round").shift_mm
    0.0
    """

    shift_mm: float
    """Largest distance off its place, in millimetres."""
    angle_rad: float
    """Largest change of its angle about the part's axis, in radians."""


def feature_shift(
    eccentricity_mm: float,
    radius_mm: float | None = None,
    *,
    located_from: Literal["parts_own_round", "spindle_or_plate"] = "spindle_or_plate",
) -> FeatureShift:
    """The shift of a feature when the part's axis stands off the spindle's.
    Without a radius the feature is a flat: off-centre, not out of angle.

    Raises UndeterminedError when the eccentricity reaches the radius,
    OutOfRangeError, NotFiniteError, TypeError. Source: geometry, asin(e/rf).

    >>> round(dividing.accuracy.feature_shift(0.02, 40).angle_rad, 9)
    0.0005
    """
    if located_from not in ("parts_own_round", "spindle_or_plate"):
        raise InvalidFieldError(
            f"{located_from!r} is no choice; accepted: parts_own_round, spindle_or_plate",
            "located_from",
        )
    own = located_from == "parts_own_round"
    return FeatureShift(*_feature_shift(eccentricity_mm, radius_mm, own))


def carried(source: Iterable[Contributor], ratio: float) -> tuple[Contributor, ...]:
    """What is left of angular errors behind a gear ratio: a plate drilled on a
    dividing head keeps the rougher plate's errors divided by the ratio. The
    errors of the drilling device itself are no part of the source; add them.

    Raises OutOfRangeError, TypeError.

    >>> rough = dividing.Contributor("plate hole position", 0.2, sensitivity=1 / 40)
    >>> round(dividing.accuracy.carried([rough], 40)[0].limit_rad, 9)
    0.000125
    """
    found = json.loads(_carried(_contributors(source, "source"), ratio))
    return tuple(contributor_of(one) for one in found)


def drilled_by_coordinates(
    table_accuracy_mm: float, radius_mm: float, angle_rad: float
) -> tuple[Contributor, Contributor]:
    """What turns a hole that was drilled by coordinates: the deviations of the
    two axes of the table, each uniform within the accuracy either way.

    Raises OutOfRangeError, NotFiniteError, TypeError.

    >>> x, y = dividing.accuracy.drilled_by_coordinates(0.005, 50, 0)
    >>> x.limit_rad, round(y.limit_rad, 9)
    (0.0, 0.0001)
    """
    found = json.loads(_drilled_by_coordinates(table_accuracy_mm, radius_mm, angle_rad))
    x, y = (contributor_of(one) for one in found)
    return x, y


def position_zone_mm(contributors: Iterable[Contributor], radius_mm: float) -> float:
    """The diameter of the position zone, in millimetres, that a hole's worst
    angular error fills at a pitch radius: what to write into a workshop as the
    plate's hole_position_tolerance.

    Raises OutOfRangeError, ExactOverflowError, TypeError.

    >>> hole = dividing.Contributor("drilled", 0.0001, sensitivity=1, unit="radian")
    >>> round(dividing.accuracy.position_zone_mm([hole], 50), 9)
    0.01
    """
    return _position_zone_mm(_contributors(contributors), radius_mm)


@dataclass(frozen=True, slots=True)
class PinPair:
    """Two pins of one ring and how well a level bar stands on them.

    >>> plate = {"name": "pins", "circles": [{"holes": 9, "pitch_radius": 58}],
    ...          "registration": {"pin_diameter": 5.99, "hole_diameter": 6,
    ...                           "hole_position_tolerance": 0.02}}
    >>> dividing.accuracy.best_pin_pairs(plate)[0].span
    4
    """

    circle: int
    """The ring, as listed, from 0."""
    holes: int
    """Holes on the ring."""
    span: int
    """Hole spaces between the pins."""
    baseline_mm: float
    """Distance of the pins, in millimetres."""
    total_rad: float
    """What the criterion gives, in radians."""


def best_pin_pairs(
    pin_plate: Mapping[str, Any], criterion: Criterion = "worst_case"
) -> tuple[PinPair, ...]:
    """The pairs of pins of a pin plate, the best first. The plate is given as in
    workshop documents.

    Raises UndeterminedError without the sizes of pins and holes, DocumentError
    with the path to the field, TypeError.

    >>> plate = {"name": "pins", "circles": [{"holes": 9, "pitch_radius": 58}],
    ...          "registration": {"pin_diameter": 5.99, "hole_diameter": 6,
    ...                           "hole_position_tolerance": 0.02}}
    >>> len(dividing.accuracy.best_pin_pairs(plate))
    4
    """
    from ._documents import text_of

    found = _best_pin_pairs(text_of(pin_plate, "pin_plate"), _criterion(criterion))
    return tuple(PinPair(*pair) for pair in found)
