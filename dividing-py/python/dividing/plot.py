"""Pictures by matplotlib, an optional extra: ``pip install dividing[plot]``.

Every call draws on ``ax``, or on axes of its own, and returns the axes, so that
titles, colours and files are matplotlib's business. Angles are in degrees,
deviations in seconds of arc.

>>> from dividing import plot
>>> axes = plot.errors(plans[0])
>>> axes.get_ylabel()
'deviation in seconds of arc'
"""

from __future__ import annotations

import math

import numpy as np

try:
    from matplotlib import pyplot
    from matplotlib.axes import Axes
except ImportError:
    raise ImportError(
        "dividing.plot needs matplotlib; install the extra: pip install 'dividing[plot]'"
    ) from None

from ._dividing import Plan
from .accuracy import Budget
from .inspection import InspectionReport
from .simulation import SimulationReport

__all__ = ["budget", "deviations", "errors", "harmonics", "simulation"]

_ARCSEC = 3600 * 180 / math.pi
_DEVIATION = "deviation in seconds of arc"


def _axes(ax: Axes | None) -> Axes:
    return pyplot.subplots()[1] if ax is None else ax


def errors(plan: Plan, *, ax: Axes | None = None) -> Axes:
    """The residual of every feature of a plan with its worst case either way.

    >>> dividing.plot.errors(plans[0]).get_xlabel()
    'drawing angle in degrees'
    """
    ax = _axes(ax)
    residuals, worst = plan.residuals_deg * 3600, plan.feature_worst_deg * 3600
    ax.errorbar(plan.required_deg, residuals, yerr=worst, fmt="o", capsize=3)
    if plan.limit_deg is not None:
        for side in (-1, 1):
            ax.axhline(side * plan.limit_deg * 3600, linestyle="--", color="0.5")
    ax.set_xlabel("drawing angle in degrees")
    ax.set_ylabel(_DEVIATION)
    return ax


def budget(budget: Budget, *, ax: Axes | None = None) -> Axes:
    """The shares of the variance in an uncertainty budget, the largest on top.

    >>> model = dividing.accuracy.ErrorModel(plans[0])
    >>> len(dividing.plot.budget(model.budget(0)).patches)
    3
    """
    ax = _axes(ax)
    lines = sorted(budget.lines, key=lambda line: abs(line.share))
    ax.barh([line.name for line in lines], [100 * line.share for line in lines])
    ax.set_xlabel("share of variance in percent")
    return ax


def simulation(report: SimulationReport, *, ax: Axes | None = None) -> Axes:
    """The coverage interval of every feature's deviation, with the least and
    greatest values seen.

    Raises ValueError for a report without deviations of features.

    >>> report = dividing.simulation.Simulation.of_plan(plans[0]).run(trials=10_000)
    >>> len(dividing.plot.simulation(report).lines) >= 2
    True
    """
    features = report.features
    if features is None:
        raise ValueError("report: deviations of features are wanted; detail was 'pitch'")
    ax = _axes(ax)
    number = np.arange(len(features))
    low, high = features.symmetric_interval_rad.T * _ARCSEC
    middle = features.mean_rad * _ARCSEC
    spread = (middle - low, high - middle)
    ax.errorbar(number, middle, yerr=spread, fmt="o", capsize=3, label="coverage interval")
    ax.plot(number, features.least_rad * _ARCSEC, "v", color="0.5", label="least, greatest")
    ax.plot(number, features.greatest_rad * _ARCSEC, "^", color="0.5")
    ax.set_xlabel("feature")
    ax.set_ylabel(_DEVIATION)
    ax.legend()
    return ax


def deviations(
    report: InspectionReport, *, coverage_factor: float = 2.0, ax: Axes | None = None
) -> Axes:
    """The deviation of every measured place with its expanded uncertainty, and
    the first harmonic.

    Raises ValueError for a closure, which has two rings.

    >>> from dividing.inspection import Measurement
    >>> dividing.plot.deviations(Measurement.deviations([3, -1, -2, 0]).inspect()).get_xlabel()
    'place'
    """
    ring = report.ring
    if ring is None:
        raise ValueError("report: a ring is wanted, not a closure of two")
    ax = _axes(ax)
    stated = ring.standard_uncertainties_rad
    unsure = None if stated is None else coverage_factor * stated * _ARCSEC
    ax.errorbar(ring.place, ring.deviations_arcsec, yerr=unsure, fmt="o", capsize=3)
    harmonic = (ring.deviations_rad - ring.rest_rad) * _ARCSEC
    ax.plot(ring.place, harmonic, "--", color="0.5", label="first harmonic")
    ax.set_xlabel("place")
    ax.set_ylabel(_DEVIATION)
    ax.legend()
    return ax


def harmonics(report: InspectionReport, *, ax: Axes | None = None) -> Axes:
    """The amplitudes of the harmonics of a full ring.

    Raises ValueError for a closure and where a place is missing.

    >>> from dividing.inspection import Measurement
    >>> axes = dividing.plot.harmonics(Measurement.deviations([3, -1, -2, 0]).inspect())
    >>> axes.get_xlabel()
    'waves over the turn'
    """
    ring = report.ring
    if ring is None or not len(ring.harmonic_orders):
        raise ValueError("report: a ring without missing places is wanted")
    ax = _axes(ax)
    ax.stem(ring.harmonic_orders, ring.harmonic_amplitudes_rad * _ARCSEC)
    ax.set_xlabel("waves over the turn")
    ax.set_ylabel("amplitude in seconds of arc")
    return ax
