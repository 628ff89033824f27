"""How a measured plate is best used, and calls on columns of numbers."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import ArrayLike

from .._arrays import Compared, Floats, Ints, frozen, frozen_ints
from .._dividing import (
    Angle,
    _angles_about_axis,
    _bar_deviation_rad,
    _choose_list,
    _choose_pairs,
    _choose_start,
    _correction_table,
    _fit_circle,
    _float_of,
    _length_mm_of,
    _whole_of,
    _plan_shifts,
)
from .._enums import Reference
from .._errors import InconsistentError
from .._values import LengthLike, choice
from ._columns import _ARCSEC, _MOST, _column, _places, _same_length, _stated
from ._results import CircleFit

_Progress: TypeAlias = Callable[[int], object] | None


def fit_circle(
    x_mm: ArrayLike,
    y_mm: ArrayLike,
    *,
    x_uncertainty_mm: ArrayLike | None = None,
    y_uncertainty_mm: ArrayLike | None = None,
) -> CircleFit:
    """The least-squares circle of points, in millimetres: arrays of one dimension;
    standard uncertainties are both given or neither, as numbers or arrays.

    Raises UndeterminedError for fewer than three points or points on a line,
    InconsistentError, OutOfRangeError, NotFiniteError, TypeError. Source:
    geometric distance, Gauss-Newton.

    >>> fit = dividing.inspection.fit_circle([40, 0, -40, 0.0], [0, 40.0, 0, -40],
    ...     x_uncertainty_mm=0.001, y_uncertainty_mm=0.001)
    >>> fit.covariance_mm2.shape
    (3, 3)
    """
    x, y = _column(x_mm, "x_mm"), _column(y_mm, "y_mm")
    _same_length(x_mm=x, y_mm=y)
    uncertainties = None
    if x_uncertainty_mm is not None or y_uncertainty_mm is not None:
        given = []
        for name, it in (
            ("x_uncertainty_mm", x_uncertainty_mm),
            ("y_uncertainty_mm", y_uncertainty_mm),
        ):
            if it is None:
                raise InconsistentError("the other uncertainty is missing too", name)
            column = _stated(it, name, len(x))
            _same_length(**{"x_mm": x, name: column})
            given.append(column)
        uncertainties = (given[0], given[1])
    (x0, y0, radius), residuals, freedom, covariance, chi_square, deviation = _fit_circle(
        x, y, uncertainties
    )
    return CircleFit(
        x0,
        y0,
        radius,
        frozen(residuals),
        freedom,
        None if covariance is None else frozen(covariance),
        chi_square,
        deviation,
    )


@dataclass(frozen=True, slots=True)
class ShiftPlan:
    """Which shifts to measure in a closure.

    >>> dividing.inspection.plan_shifts(12, 0.1, 0.05).readings > 0
    True
    """

    shifts: tuple[int, ...]
    """The shifts, one set-up each."""
    readings: int
    """Readings in all."""
    division_uncertainty_arcsec: float
    """Largest standard uncertainty of a deviation, in seconds of arc."""
    proved_fewest_setups: int
    """No plan with fewer set-ups reaches it; as many as planned means proved
    smallest."""


def plan_shifts(
    positions: int,
    reading_uncertainty_arcsec: float,
    wanted_uncertainty_arcsec: float,
    *,
    work_limit: int | None = None,
    progress: _Progress = None,
) -> ShiftPlan:
    """The fewest shifts of a closure that reach an uncertainty, in seconds of arc.
    ``work_limit`` and ``progress`` as in `dividing.plan`.

    Raises UndeterminedError where not even all shifts reach it, OutOfRangeError,
    WorkLimitError, TypeError.

    >>> plan = dividing.inspection.plan_shifts(12, 0.1, 0.05)
    >>> len(plan.shifts) * 12 == plan.readings
    True
    """
    shifts, readings, reached, fewest = _plan_shifts(
        _whole_of(positions, "positions", 0, _MOST),
        _float_of(reading_uncertainty_arcsec, "reading_uncertainty_arcsec") / _ARCSEC,
        _float_of(wanted_uncertainty_arcsec, "wanted_uncertainty_arcsec") / _ARCSEC,
        work_limit,
        progress,
    )
    return ShiftPlan(tuple(shifts), readings, reached * _ARCSEC, fewest)


@dataclass(frozen=True, slots=True, eq=False)
class Choice(Compared):
    """The best of several choices, and what it is worth.

    >>> dividing.inspection.choose_start([0, 3e-5, 0, 1e-5, 0, 0], pattern=[0, 3]).best
    2
    """

    best: int
    """Which one: the start place, or the number of the list."""
    worst: float
    """Its worst deviation in radians, with its uncertainty times the coverage
    factor added; or the worst share of a limit where limits are given."""
    worst_feature: int
    """The feature that has it."""
    deviations_rad: Floats
    """Deviations of the features from the reference."""
    worst_choice: float
    """What the worst of all choices gives."""
    average_choice: float
    """What a choice gives on average."""
    choices: int
    """How many choices there were."""

    @property
    def gain_over_worst(self) -> float:
        """What the choice saves against the worst, in the same measure.

        >>> dividing.inspection.choose_start([0, 3e-5, 0, 0], pattern=[0, 2]).gain_over_worst > 0
        True
        """
        return self.worst_choice - self.worst


@dataclass(frozen=True, slots=True)
class PairChoice:
    """The best option for each feature, and what it is worth.

    >>> options = [[1e-5, 3e-5], [2e-5, 1e-5]]
    >>> dividing.inspection.choose_pairs(options, reference="given").options
    (0, 1)
    """

    options: tuple[int, ...]
    """For each feature the number of its option."""
    worst: float
    """The worst feature, as `Choice.worst`."""
    worst_choice: float
    """The worst that a choice could have done."""
    average_choice: float
    """The mean over all choices."""


def _known(
    deviations: object, uncertainties: object, *, missing: bool
) -> tuple[list[float], list[float]]:
    found = _column(deviations, "deviations_rad", missing=missing)
    if uncertainties is None:
        return found, [0.0] * len(found)
    if np.ndim(uncertainties) == 0:  # type: ignore[arg-type]
        one = _float_of(uncertainties, "standard_uncertainties_rad")  # type: ignore[arg-type]
        return found, [one] * len(found)
    stated = _column(uncertainties, "standard_uncertainties_rad", missing=missing)
    _same_length(deviations_rad=found, standard_uncertainties_rad=stated)
    return found, stated


def _judgement(
    reference: object, coverage_factor: object, limits_rad: object
) -> tuple[str, float, list[float] | None]:
    return (
        choice(Reference, reference, "reference"),
        _float_of(coverage_factor, "coverage_factor"),  # type: ignore[arg-type]
        None if limits_rad is None else _column(limits_rad, "limits_rad"),
    )


def _choice_of(
    found: tuple[int, float, int, list[float], float, float, int],
) -> Choice:
    best, worst, feature, deviations, worst_choice, average, choices = found
    return Choice(best, worst, feature, frozen(deviations), worst_choice, average, choices)


def choose_start(
    deviations_rad: ArrayLike,
    pattern: ArrayLike,
    *,
    standard_uncertainties_rad: ArrayLike | None = None,
    reference: Reference | Literal["given", "mean", "middle", "first_feature"] = "mean",
    coverage_factor: float = 0.0,
    limits_rad: ArrayLike | None = None,
    work_limit: int | None = None,
    progress: _Progress = None,
) -> Choice:
    """The start place from which a pattern (places counted from the start) has
    the least worst deviation. NaN stands for a place that was not measured.
    ``work_limit`` and ``progress`` as in `dividing.plan`.

    Raises NotFoundError when every start needs a missing place, OutOfRangeError,
    DuplicateError, InvalidFieldError, WorkLimitError, TypeError.

    >>> choice = dividing.inspection.choose_start([0, 3e-5, 0, 1e-5, 0, 0], pattern=[0, 3])
    >>> choice.best, choice.worst
    (2, 0.0)
    """
    known = _known(deviations_rad, standard_uncertainties_rad, missing=True)
    places = _places(pattern, 0)
    judgement = _judgement(reference, coverage_factor, limits_rad)
    return _choice_of(_choose_start(known, places, judgement, work_limit, progress))


def choose_list(
    lists_rad: Sequence[ArrayLike],
    *,
    reference: Reference | Literal["given", "mean", "middle", "first_feature"] = "mean",
    coverage_factor: float = 0.0,
    limits_rad: ArrayLike | None = None,
) -> Choice:
    """The list of deviations whose worst is least: one ring of several for the
    same features. All lists have one length.

    Raises EmptyListError, InconsistentError, TypeError.

    >>> lists = [[0, 3e-5, 0], [1e-5, 0, 1e-5]]
    >>> dividing.inspection.choose_list(lists, reference="given").best
    1
    """
    lists = [_known(one, None, missing=False) for one in lists_rad]
    judgement = _judgement(reference, coverage_factor, limits_rad)
    return _choice_of(_choose_list(lists, judgement))


def choose_pairs(
    options_rad: Sequence[ArrayLike],
    *,
    reference: Reference | Literal["given", "mean", "middle", "first_feature"] = "middle",
    coverage_factor: float = 0.0,
    limits_rad: ArrayLike | None = None,
    work_limit: int | None = None,
    progress: _Progress = None,
) -> PairChoice:
    """One option for each feature so that the worst feature is as good as can be:
    which pair of pins to lay the bar on. For each feature the deviations of its
    options. ``work_limit`` and ``progress`` as in `dividing.plan`.

    Raises EmptyListError, InconsistentError for the reference "mean",
    WorkLimitError, TypeError.

    >>> round(dividing.inspection.choose_pairs([[1e-5, 3e-5], [2e-5, 4e-5]]).worst, 9)
    5e-06
    """
    options = [_known(one, None, missing=False) for one in options_rad]
    judgement = _judgement(reference, coverage_factor, limits_rad)
    chosen, worst, worst_choice, average = _choose_pairs(
        options, judgement, work_limit, progress
    )
    return PairChoice(tuple(chosen), worst, worst_choice, average)


@dataclass(frozen=True, slots=True, eq=False)
class Corrections(Compared):
    """A table of corrections: arrays with one entry for each measured place.

    >>> dividing.inspection.correction_table([2.2e-5, -1e-5], 1e-5).graduations
    array([-2,  1])
    """

    place: Ints
    """Numbers of the places."""
    graduations: Ints
    """How many graduations to add."""
    correction_rad: Floats
    """The same as an angle, in radians."""
    left_rad: Floats
    """What is left, in radians."""
    standard_uncertainty_rad: Floats
    """Standard uncertainties of what is left, in radians."""


def correction_table(
    deviations_rad: ArrayLike,
    graduation_rad: float,
    *,
    standard_uncertainties_rad: ArrayLike | None = None,
) -> Corrections:
    """Corrections in whole graduations of a dial. NaN stands for a place that was
    not measured.

    Raises OutOfRangeError, NotFiniteError, TypeError.

    >>> dividing.inspection.correction_table([2.2e-5, -1e-5], 1e-5).left_rad.round(9)
    array([2.e-06, 0.e+00])
    """
    known = _known(deviations_rad, standard_uncertainties_rad, missing=True)
    place, graduations, correction, left, unsure = _correction_table(
        known, _float_of(graduation_rad, "graduation_rad")
    )
    return Corrections(
        frozen_ints(place),
        frozen_ints(graduations),
        frozen(correction),
        frozen(left),
        frozen(unsure),
    )


def bar_deviation_rad(nominal_mm: ArrayLike, measured_mm: ArrayLike) -> float:
    """How far a bar on two measured pins points from its nominal direction, in
    radians counter-clockwise. Both are the two centres, shape (2, 2), in
    millimetres.

    Raises InconsistentError when two centres coincide or for another shape,
    NotFiniteError, TypeError.

    >>> round(dividing.inspection.bar_deviation_rad(
    ...     [[-40, 0], [40, 0]], [[-40, -0.004], [40, 0.004]]), 9)
    0.0001
    """
    tables = []
    for name, it in (("nominal_mm", nominal_mm), ("measured_mm", measured_mm)):
        try:
            table = np.asarray(it, dtype=np.float64)
        except (TypeError, ValueError):
            raise TypeError(f"{name}: two centres are wanted, as numbers") from None
        if table.shape != (2, 2):
            raise InconsistentError(
                f"an array of shape {table.shape}; accepted: two centres, shape (2, 2)", name
            )
        tables.append(table.tolist())
    return _bar_deviation_rad(*tables)


def angles_about_axis(
    x_mm: ArrayLike, y_mm: ArrayLike, *, axis: tuple[LengthLike, LengthLike]
) -> tuple[Angle, ...]:
    """The directions in which measured points stand about a known axis, for
    `Measurement.angles` or `Measurement.stations`: one `Angle` a point, from
    the x direction counter-clockwise, at most half a turn either way, rounded to a
    millionth of a second of arc.

    ``x_mm`` and ``y_mm`` are arrays of one dimension, in millimetres; ``axis`` is
    its x and y, two lengths. A direction is as uncertain as its point is across
    it, over the point's distance from the axis.

    Raises InconsistentError for a point that lies on the axis and for columns of
    unequal length, OutOfRangeError, NotFiniteError, TypeError. Source: geometry,
    atan2(y, x).

    >>> dividing.inspection.angles_about_axis([51, 1, -49], [2, 52, 2], axis=(1, 2))
    (Angle('0°'), Angle('90°'), Angle('180°'))
    """
    x, y = _column(x_mm, "x_mm"), _column(y_mm, "y_mm")
    _same_length(x_mm=x, y_mm=y)
    if isinstance(axis, (str, bytes, Mapping)) or not isinstance(axis, Iterable):
        raise TypeError(f"axis: a pair of lengths is wanted, not {type(axis).__name__}")
    both = [
        _length_mm_of(it, f"axis[{index}]") for index, it in zip(range(3), axis, strict=False)
    ]
    if len(both) != 2:
        raise InconsistentError("not a pair of lengths; accepted: two, x and y", "axis")
    return tuple(_angles_about_axis(x, y, (both[0], both[1])))
