"""What happens to every feature, trial by trial (JCGM 101:2008).

>>> from dividing import simulation
>>> report = simulation.Simulation.of_plan(plans[0]).run(trials=20_000, seed=7)
>>> report.conformance.all.probability
1.0
>>> report.features.standard_deviation_rad.shape
(9,)

The same seed gives the same report on any number of threads.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal, TypeAlias

from ._arrays import Compared, Floats, frozen
from ._codec import text_of_record
from ._dividing import (
    Drawing,
    Plan,
    _float_of,
    _whole_of,
    _simulate,
    _text_of,
)
from ._errors import EmptyListError
from ._html import beside, grid
from ._records import Contributor, contributor_of
from .accuracy import ErrorModel, Limits
from .accuracy._rules import _all, _numbers, _optional_numbers, _texts

__all__ = [
    "Conformance",
    "Eccentricity",
    "FeatureQuantities",
    "Limits",
    "Probability",
    "Quantity",
    "SimulatedFeature",
    "SimulatedInput",
    "Simulation",
    "SimulationReport",
    "UntilStable",
]

Datum: TypeAlias = Literal["mean", "middle", "setting"] | int
"""About what deviations are counted: the mean of all features, the middle
between the largest and the smallest (the shift that makes the worst feature of a
free pattern best), the settings as they stand, or the feature of a number."""

_MOST = 2**63 - 1


@dataclass(frozen=True, slots=True)
class SimulatedInput:
    """A contributor to one feature, and the place that it belongs to.

    >>> hole = dividing.Contributor("hole position", 0.01, sensitivity=1 / 50)
    >>> dividing.simulation.SimulatedInput(hole, place="hole 3").place
    'hole 3'
    """

    contributor: Contributor
    """The contributor; its persistence says how often it is drawn."""
    place: str | None = None
    """The hole, face or graduation that a fixed contributor belongs to: features
    that use the same place share its draw."""
    direction_rad: float | None = None
    """The direction along which the deviation of a point counts; None for one
    number."""

    def __post_init__(self) -> None:
        if not isinstance(self.contributor, Contributor):
            raise TypeError(
                "contributor: a Contributor is wanted, "
                f"not {type(self.contributor).__name__}"
            )
        if self.place is not None:
            _texts(self, "place")
        _optional_numbers(self, "direction_rad")


@dataclass(frozen=True, slots=True)
class SimulatedFeature:
    """One feature of a simulated job. Contributors stand for inputs of a place
    that only this feature uses.

    >>> hole = dividing.Contributor("hole position", 0.01, sensitivity=1 / 50)
    >>> dividing.simulation.SimulatedFeature([hole]).inputs[0].place is None
    True
    """

    inputs: Sequence[SimulatedInput | Contributor] = ()
    """What varies."""
    angle_rad: float = 0.0
    """Direction of the feature; only eccentricities ask for it."""
    residual_rad: float = 0.0
    """Systematic deviation: the residual of the setting."""

    def __post_init__(self) -> None:
        if isinstance(self.inputs, (str, bytes)) or not isinstance(self.inputs, Iterable):
            raise TypeError(
                f"inputs: a list of SimulatedInput is wanted, not {type(self.inputs).__name__}"
            )
        inputs = tuple(
            SimulatedInput(it) if isinstance(it, Contributor) else it for it in self.inputs
        )
        object.__setattr__(self, "inputs", _all(SimulatedInput, inputs, "inputs"))
        _numbers(self, "angle_rad", "residual_rad")


@dataclass(frozen=True, slots=True)
class Eccentricity:
    """An eccentricity whose direction nobody knows.

    >>> dividing.simulation.Eccentricity("plate to spindle", 0.0002).anywhere_in_disc
    False
    """

    name: str
    """What is eccentric to what."""
    limit_rad: float
    """Largest eccentricity over the pitch radius, in radians."""
    anywhere_in_disc: bool = False
    """Whether the centre lies anywhere in a disc instead of on its rim."""

    def __post_init__(self) -> None:
        _texts(self, "name")
        _numbers(self, "limit_rad")
        if not isinstance(self.anywhere_in_disc, bool):
            raise TypeError(
                "anywhere_in_disc: a bool is wanted, "
                f"not {type(self.anywhere_in_disc).__name__}"
            )


@dataclass(frozen=True, slots=True)
class UntilStable:
    """As many trials as it takes until mean, standard deviation and coverage
    interval are stable in so many significant digits of the standard deviation:
    the adaptive procedure of JCGM 101:2008, 7.9.

    >>> dividing.simulation.UntilStable(2).most
    100000000
    """

    significant_digits: int = 2
    """Significant digits of the standard deviation, 1 to 4."""
    most: int = 100_000_000
    """Trials after which to stop in any case."""

    def __post_init__(self) -> None:
        for name, most in (("significant_digits", 255), ("most", _MOST)):
            object.__setattr__(self, name, _whole_of(getattr(self, name), name, 0, most))

    def _document(self) -> object:
        fields = {"significant_digits": self.significant_digits, "most": self.most}
        return {"until_stable": fields}


@dataclass(frozen=True, slots=True, eq=False)
class Quantity(Compared):
    """One simulated quantity, in radians.

    >>> report = dividing.simulation.Simulation.of_plan(plans[0]).run(trials=10_000)
    >>> report.single_pitch.quantiles_rad.shape
    (3,)
    """

    mean_rad: float
    """Mean."""
    mean_standard_error_rad: float
    """Standard error of the mean."""
    standard_deviation_rad: float
    """Standard deviation."""
    least_rad: float
    """Least value seen."""
    greatest_rad: float
    """Greatest value seen."""
    quantiles_rad: Floats
    """Quantiles of the probabilities asked for."""
    symmetric_interval_rad: tuple[float, float]
    """Probabilistically symmetric coverage interval (7.7.2)."""
    shortest_interval_rad: tuple[float, float]
    """Shortest coverage interval (7.7.4)."""
    quantile_resolution_rad: float
    """How finely quantiles are resolved."""


@dataclass(frozen=True, slots=True, eq=False)
class FeatureQuantities(Compared):
    """The deviation of every feature, in radians, as arrays that cannot be
    changed: one entry, or one row, a feature in the order of the simulation.

    >>> report = dividing.simulation.Simulation.of_plan(plans[0]).run(trials=10_000)
    >>> report.features.symmetric_interval_rad.shape
    (9, 2)
    """

    mean_rad: Floats
    """Means, shape (n,)."""
    mean_standard_error_rad: Floats
    """Standard errors of the means, shape (n,)."""
    standard_deviation_rad: Floats
    """Standard deviations, shape (n,)."""
    least_rad: Floats
    """Least values seen, shape (n,)."""
    greatest_rad: Floats
    """Greatest values seen, shape (n,)."""
    quantiles_rad: Floats
    """Quantiles of the probabilities asked for, shape (n, q)."""
    symmetric_interval_rad: Floats
    """Probabilistically symmetric coverage intervals, shape (n, 2)."""
    shortest_interval_rad: Floats
    """Shortest coverage intervals, shape (n, 2)."""
    quantile_resolution_rad: Floats
    """How finely quantiles are resolved, shape (n,)."""

    def __len__(self) -> int:
        return len(self.mean_rad)


@dataclass(frozen=True, slots=True)
class Probability:
    """A probability found by counting, with its confidence interval (Clopper and
    Pearson, 1934).

    >>> report = dividing.simulation.Simulation.of_plan(plans[0]).run(trials=10_000)
    >>> report.conformance.all.lower > 0.999
    True
    """

    probability: float
    """Part of the trials that conform."""
    lower: float
    """Lower end of its confidence interval."""
    upper: float
    """Upper end of its confidence interval."""


@dataclass(frozen=True, slots=True)
class Conformance:
    """Probabilities of conformance with the limits that were given; None where no
    limit was.

    >>> report = dividing.simulation.Simulation.of_plan(plans[0]).run(trials=10_000)
    >>> report.conformance.single_pitch is None
    True
    """

    deviation: Probability | None
    """Every feature within the deviation limit."""
    single_pitch: Probability | None
    """Single pitch within its limit."""
    cumulative_pitch: Probability | None
    """Cumulative pitch within its limit."""
    all: Probability
    """All given limits at once."""


@dataclass(frozen=True, slots=True, eq=False)
class SimulationReport(Compared):
    """What a simulation found. Notebooks show it as a table with the picture of
    the deviations.

    >>> report = dividing.simulation.Simulation.of_plan(plans[0]).run(trials=10_000, seed=3)
    >>> report.trials, report.stable
    (10000, None)
    """

    trials: int
    """Trials made."""
    stable: bool | None
    """Whether the stated digits became stable; None for a fixed number of trials."""
    single_pitch: Quantity
    """Largest single pitch deviation of a trial, without sign."""
    cumulative_pitch: Quantity
    """Largest less smallest deviation of a trial."""
    features: FeatureQuantities | None
    """Deviation of each feature about the datum; None unless worked out."""
    largest_deviation: Quantity | None
    """Largest deviation of any feature of a trial, without sign."""
    closing: Quantity | None
    """Deviation on coming back to the first feature."""
    conformance: Conformance | None
    """Conformance with the limits; None without limits."""
    drawing: Drawing | None = field(repr=False)
    """The deviations round the circle, as SVG; None unless worked out."""
    title: str = ""
    """What was simulated."""

    def _repr_html_(self) -> str:
        rows = []
        for name in ("single_pitch", "cumulative_pitch", "largest_deviation", "closing"):
            it: Quantity | None = getattr(self, name)
            if it is not None:
                low, high = it.symmetric_interval_rad
                values = (it.mean_rad, it.standard_deviation_rad, low, high, it.greatest_rad)
                rows.append([name.replace("_", " "), *(_arcsec(value) for value in values)])
        facts = [("Trials", f"{self.trials:,}".replace(",", " "))]
        if self.conformance is not None:
            it_all = self.conformance.all
            facts.append(
                (
                    "Conforms",
                    f"{it_all.probability:.4%} ({it_all.lower:.4%} to {it_all.upper:.4%})",
                )
            )
        head = ["Seconds of arc", "mean", "standard deviation", "from", "to", "greatest"]
        table = grid(f"Simulation: {self.title}".rstrip(": "), head, rows, facts)
        return beside(None if self.drawing is None else self.drawing.svg, table)


def _arcsec(value: float) -> str:
    return f"{math.degrees(value) * 3600:.2f}"


@dataclass(frozen=True, slots=True)
class Simulation:
    """A job to simulate: its features in order round the part, what varies, and
    the limits that a trial must keep.

    Raises, from ``run``, EmptyListError without features, OutOfRangeError,
    NotFiniteError, InconsistentError when one shared draw is described in two
    ways; TypeError at once.

    >>> from dividing.simulation import SimulatedFeature, Simulation
    >>> hole = dividing.Contributor("hole position", 0.006, sensitivity=1 / 50,
    ...     distribution=dividing.Normal(2))
    >>> report = Simulation([SimulatedFeature([hole])] * 12).run(trials=100_000)
    >>> expected = dividing.accuracy.range_constants(12).mean * 0.003 / 50
    >>> abs(report.cumulative_pitch.mean_rad / expected - 1) < 0.01
    True
    """

    features: Sequence[SimulatedFeature]
    """The features in order round the part."""
    eccentricities: Sequence[Eccentricity] = ()
    """Eccentricities of unknown direction."""
    datum: Datum = "mean"
    """About what deviations are counted."""
    referencing: Literal["common_datum", "chained"] = "common_datum"
    """From where each feature is set: the device's datum, or the one before."""
    whole_turn: bool = True
    """Whether the last feature is a neighbour of the first."""
    limits: Limits = Limits()
    """Limits that a trial must keep, in radians."""
    detail: Literal["features", "pitch"] = "features"
    """Whether deviations of features are worked out, or pitches only."""
    title: str = ""
    """What is simulated, for pictures and tables."""

    def __post_init__(self) -> None:
        features = _all(SimulatedFeature, self.features, "features")
        object.__setattr__(self, "features", features)
        found = _all(Eccentricity, self.eccentricities, "eccentricities")
        object.__setattr__(self, "eccentricities", found)
        if not isinstance(self.limits, Limits):
            raise TypeError(f"limits: Limits are wanted, not {type(self.limits).__name__}")
        if not isinstance(self.datum, str):
            object.__setattr__(self, "datum", _whole_of(self.datum, "datum", 0, _MOST))
        if not isinstance(self.whole_turn, bool):
            raise TypeError(
                f"whole_turn: a bool is wanted, not {type(self.whole_turn).__name__}"
            )
        _texts(self, "referencing", "detail", "title")

    @staticmethod
    def of_plan(plan: Plan) -> Simulation:
        """The simulation of a plan: errors of one hole are drawn once for all
        features that use it, seatings anew; the limits are the job's.

        Raises WorkLimitError, ExactOverflowError, TypeError.

        >>> len(dividing.simulation.Simulation.of_plan(plans[0]).features)
        9
        """
        model = ErrorModel(plan)
        document = json.loads(model._native.simulation())
        return _simulation_of(document, plan.sheet.title)

    def _document(self) -> object:
        datum = self.datum if isinstance(self.datum, str) else {"feature": self.datum}
        return {
            "features": list(self.features),
            "eccentricities": list(self.eccentricities),
            "datum": datum,
            "referencing": self.referencing,
            "whole_turn": self.whole_turn,
            "limits": self.limits,
            "detail": self.detail,
        }

    def run(
        self,
        *,
        trials: int | UntilStable = 1_000_000,
        seed: int = 1,
        threads: int = 1,
        coverage_probability: float = 0.95,
        confidence: float = 0.95,
        quantiles: Sequence[float] = (0.5, 0.95, 0.99),
        progress: Callable[[int], object] | None = None,
    ) -> SimulationReport:
        """Runs the simulation. The same seed gives the same report on any number
        of threads.

        The interpreter lock is released and Ctrl-C stops the run. ``progress``
        is called now and then, and at the end, with the trials done since its
        last call, so that ``tqdm(total=trials).update`` will do; an exception
        from it stops the run and is raised.

        Raises as the class; OutOfRangeError for settings beyond their bounds.
        Source: JCGM 101:2008.

        >>> job = dividing.simulation.Simulation.of_plan(plans[0])
        >>> job.run(trials=10_000, seed=5) == job.run(trials=10_000, seed=5, threads=2)
        True
        """
        if isinstance(trials, UntilStable):
            count: object = trials
            most = trials.most
        else:
            most = _whole_of(trials, "trials", 0, _MOST)
            count = {"exactly": most}
        if isinstance(quantiles, (str, bytes)) or not isinstance(quantiles, Iterable):
            raise TypeError(
                f"quantiles: a list of numbers is wanted, not {type(quantiles).__name__}"
            )
        settings = {
            "trials": count,
            "seed": _whole_of(seed, "seed", 0, 2**64 - 1),
            "threads": _whole_of(threads, "threads", 0, 2**31),
            "coverage_probability": _float_of(coverage_probability, "coverage_probability"),
            "confidence": _float_of(confidence, "confidence"),
            "quantiles": [_float_of(it, "quantiles") for it in quantiles],
        }
        if progress is not None and not callable(progress):
            raise TypeError(f"progress: a callable is wanted, not {type(progress).__name__}")
        if not self.features:
            raise EmptyListError(
                "a simulation without features; accepted: one or more", "features"
            )
        in_trials = None if progress is None else _InTrials(progress, len(self.features), most)
        text, svg = _simulate(
            text_of_record(self, "simulation"),
            text_of_record(settings, "settings"),
            _text_of(self.title, "title"),
            in_trials,
        )
        report = _report_of(json.loads(text), svg, self.title)
        if in_trials is not None:
            in_trials.end(report.trials)
        return report


class _InTrials:
    """Tells the caller's progress in trials what the core tells in steps."""

    def __init__(self, progress: Callable[[int], object], features: int, most: int) -> None:
        self._progress = progress
        self._features = features
        self._most = most
        self._steps = 0
        self._told = 0

    def __call__(self, steps: int) -> None:
        # One step stands for sixteen deviations of single features.
        self._steps += steps
        self._tell(min(self._steps * 16 // self._features, self._most))

    def _tell(self, trials: int) -> None:
        if trials > self._told:
            told, self._told = self._told, trials
            self._progress(trials - told)

    def end(self, trials: int) -> None:
        self._tell(trials)


def _simulation_of(document: Mapping[str, Any], title: str) -> Simulation:
    # Features share most of their contributors: each is made once.
    made: dict[str, Contributor] = {}

    def contributor(it: Mapping[str, Any]) -> Contributor:
        key = json.dumps(it)
        if key not in made:
            made[key] = contributor_of(it)
        return made[key]

    datum: Any = document["datum"]
    return Simulation(
        features=[
            SimulatedFeature(
                [
                    SimulatedInput(
                        contributor(one["contributor"]), one["place"], one["direction_rad"]
                    )
                    for one in it["inputs"]
                ],
                it["angle_rad"],
                it["residual_rad"],
            )
            for it in document["features"]
        ],
        eccentricities=[Eccentricity(**it) for it in document["eccentricities"]],
        datum=datum["feature"] if isinstance(datum, Mapping) else datum,
        referencing=document["referencing"],
        whole_turn=document["whole_turn"],
        limits=Limits(**document["limits"]),
        detail=document["detail"],
        title=title,
    )


def _quantity(document: Mapping[str, Any] | None) -> Quantity | None:
    if document is None:
        return None
    fields = dict(document)
    fields["quantiles_rad"] = frozen(fields["quantiles_rad"])
    for name in ("symmetric_interval_rad", "shortest_interval_rad"):
        fields[name] = tuple(fields[name])
    return Quantity(**fields)


def _probability(document: Mapping[str, float] | None) -> Probability | None:
    return None if document is None else Probability(**document)


def _report_of(document: Mapping[str, Any], svg: str, title: str) -> SimulationReport:
    features = document["features"]
    conformance = document["conformance"]
    single, cumulative = (
        _quantity(document[name]) for name in ("single_pitch", "cumulative_pitch")
    )
    assert single is not None and cumulative is not None
    found = None
    if features:
        columns = {name: frozen([it[name] for it in features]) for name in features[0]}
        found = FeatureQuantities(**columns)
    probabilities = None
    if conformance is not None:
        probabilities = Conformance(
            **{name: _probability(value) for name, value in conformance.items()}  # type: ignore[arg-type]
        )
    return SimulationReport(
        trials=document["trials"],
        stable=document["stable"],
        single_pitch=single,
        cumulative_pitch=cumulative,
        features=found,
        largest_deviation=_quantity(document["largest_deviation"]),
        closing=_quantity(document["closing"]),
        conformance=probabilities,
        drawing=Drawing(svg) if svg else None,
        title=title,
    )
