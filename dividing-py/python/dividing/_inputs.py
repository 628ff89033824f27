"""What a job can be given beside plain numbers and texts."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from ._dividing import Angle, _angle_of, _length_mm_of

AngleLike: TypeAlias = Angle | str | Fraction | int
"""An angle: an Angle, text with its unit, or a Fraction or int of turns."""
LengthLike: TypeAlias = float | str
"""A length: a number of millimetres, or text with its unit (mm, in, um)."""


@dataclass(frozen=True, init=False, repr=False)
class PositionDiameter:
    """A position tolerance (ISO 1101, ASME Y14.5): the diameter of the zone
    round the true place, on a circle of a radius.

    Arguments are lengths: numbers of millimetres, or text with a unit.

    >>> zone = dividing.PositionDiameter("0.010 in", "1.250 in")
    >>> zone
    PositionDiameter(0.254, 31.75)
    >>> zone.radius_mm
    31.75
    """

    diameter_mm: float
    """Diameter of the zone, in millimetres."""
    radius_mm: float
    """Radius of the circle that the features stand on, in millimetres."""

    def __init__(self, diameter: LengthLike, radius: LengthLike) -> None:
        object.__setattr__(self, "diameter_mm", _length_mm_of(diameter, "diameter"))
        object.__setattr__(self, "radius_mm", _length_mm_of(radius, "radius"))

    def __repr__(self) -> str:
        return f"PositionDiameter({self.diameter_mm!r}, {self.radius_mm!r})"


@dataclass(frozen=True, init=False, repr=False)
class Clocked:
    """A start that is clocked to a feature which the part already has.

    ``to`` names the feature in the words of the drawing, ``at`` is its drawing
    angle, ``reading`` how far the device is turned from its zero setting when
    that feature stands where the cutter will work, and ``clocking_error`` how
    closely it is clocked, either way.

    >>> start = dividing.Clocked("keyway", clocking_error="0°01'")
    >>> start.clocking_error
    Angle('1/21600 turn')
    >>> dividing.Job("Holes", divisions=16, start=start).start == start
    True
    """

    to: str
    at: Angle
    reading: Angle
    clocking_error: Angle

    def __init__(
        self,
        to: str,
        *,
        at: AngleLike = "0 deg",
        reading: AngleLike = "0 deg",
        clocking_error: AngleLike = "0 deg",
    ) -> None:
        if not isinstance(to, str):
            raise TypeError(f"to: a text is wanted, not {type(to).__name__}")
        object.__setattr__(self, "to", to)
        object.__setattr__(self, "at", _angle_of(at, "at"))
        object.__setattr__(self, "reading", _angle_of(reading, "reading"))
        object.__setattr__(
            self, "clocking_error", _angle_of(clocking_error, "clocking_error")
        )

    def __repr__(self) -> str:
        return (
            f"Clocked({self.to!r}, at={self.at!r}, reading={self.reading!r}, "
            f"clocking_error={self.clocking_error!r})"
        )
