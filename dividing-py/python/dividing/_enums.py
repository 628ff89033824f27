"""Choices with names. Each member is also its text, as in JSON documents."""

from __future__ import annotations

from enum import StrEnum


class AngleStyle(StrEnum):
    """How an angle is written, for :meth:`Angle.format`.

    >>> dividing.Angle(1, 7).format(dividing.AngleStyle.DEGREES_MINUTES_SECONDS, 1)
    '51°25\\'42.9"'
    """

    DECIMAL_DEGREES = "decimal_degrees"
    """Decimal degrees, rounded half to even: ``22.500°``."""
    DEGREES_MINUTES_SECONDS = "degrees_minutes_seconds"
    """Degrees, minutes and seconds, rounded half to even: ``22°30'00.0"``."""
    FRACTION_OF_TURN = "fraction_of_turn"
    """An exact fraction of a turn: ``1/16 turn``."""


class LengthUnit(StrEnum):
    """The unit of lengths on the sheet.

    >>> dividing.LengthUnit("inch") is dividing.LengthUnit.INCH
    True
    """

    MILLIMETRE = "millimetre"
    INCH = "inch"


class AngleUnit(StrEnum):
    """The way angles are written on the sheet.

    >>> dividing.AngleUnit.DECIMAL_DEGREES == "decimal_degrees"
    True
    """

    DECIMAL_DEGREES = "decimal_degrees"
    DEGREES_MINUTES_SECONDS = "degrees_minutes_seconds"


class Verdict(StrEnum):
    """Whether a plan holds the tolerance of its job.

    >>> plans[0].verdict is dividing.Verdict.PASS
    True
    """

    PASS = "pass"
    """The worst case lies within the tolerance."""
    NO_TOLERANCE = "no_tolerance"
    """The job gives no tolerance."""
    NOT_PROVEN = "not_proven"
    """The settings lie within the tolerance, but the worst case does not, or
    is not fully known."""
    FAIL = "fail"
    """The settings alone are off by more than the tolerance."""


class BarPlace(StrEnum):
    """How the bar lies on the two pins of a pin plate, seen from the cutter.

    >>> dividing.BarPlace("level_above").name
    'LEVEL_ABOVE'
    """

    LEVEL_ABOVE = "level_above"
    """Level, on top of the pins, the centre of the plate below it."""
    LEVEL_BELOW = "level_below"
    """Level, against the pins from below, the centre of the plate above it."""
    UPRIGHT_RIGHT = "upright_right"
    """Upright, on the right of the pins, the centre of the plate to its left."""
    UPRIGHT_LEFT = "upright_left"
    """Upright, on the left of the pins, the centre of the plate to its right."""
