"""Geometry, lineage and shift."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from numpy.typing import ArrayLike

from .._dividing import (
    _bar_tilt_rad,
    _best_pin_pairs,
    _carried,
    _drilled_by_coordinates,
    _entry,
    _feature_shift,
    _position_zone_mm,
)
from .._documents import text_of
from .._enums import LocatedFrom
from .._errors import OutOfRangeError
from .._records import Contributor, contributor_of
from .._values import choice
from ._rules import Criterion, _criterion, _numbers
from ._sums import _contributors


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
        raise OutOfRangeError(
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
    located_from: LocatedFrom
    | Literal["parts_own_round", "spindle_or_plate"] = "spindle_or_plate",
) -> FeatureShift:
    """The shift of a feature when the part's axis stands off the spindle's.
    Without a radius the feature is a flat: off-centre, not out of angle.

    Raises UndeterminedError when the eccentricity reaches the radius,
    OutOfRangeError, NotFiniteError, TypeError. Source: geometry, asin(e/rf).

    >>> round(dividing.accuracy.feature_shift(0.02, 40).angle_rad, 9)
    0.0005
    """
    own = choice(LocatedFrom, located_from, "located_from") is LocatedFrom.PARTS_OWN_ROUND
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
    found = _best_pin_pairs(text_of(pin_plate, "pin_plate"), _criterion(criterion))
    return tuple(PinPair(*pair) for pair in found)
