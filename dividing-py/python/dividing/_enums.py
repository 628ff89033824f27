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


class Distribution(StrEnum):
    """How an input varies within its limits; :class:`Normal` is one more.

    >>> dividing.Distribution("uniform_in_disc").name
    'UNIFORM_IN_DISC'
    """

    UNIFORM = "uniform"
    """Every value within the limits alike (JCGM 101:2008, 6.4.2)."""
    TRIANGULAR = "triangular"
    """Symmetric about zero, ending at the limits (JCGM 101:2008, 6.4.5)."""
    U_SHAPED = "u_shaped"
    """A sinusoid at a random phase (JCGM 101:2008, 6.4.6)."""
    UNIFORM_IN_DISC = "uniform_in_disc"
    """One coordinate of a point anywhere in a disc with the limit as radius."""


class Persistence(StrEnum):
    """How long one drawn value of an error stays the same.

    >>> dividing.Persistence("new_at_seating") is dividing.Persistence.NEW_AT_SEATING
    True
    """

    FIXED_FOR_PLACE = "fixed_for_place"
    """The same every time this hole, face or graduation is used."""
    NEW_AT_SEATING = "new_at_seating"
    """New at each seating of a pin, block, bar or crank."""
    FIXED_FOR_JOB = "fixed_for_job"
    """The same for all features of the job."""


class InputUnit(StrEnum):
    """The unit in which the input of a contributor is given.

    >>> dividing.InputUnit.RADIAN == "radian"
    True
    """

    MILLIMETRE = "millimetre"
    """Millimetres, turned into an angle by a radius or a baseline."""
    RADIAN = "radian"
    """Radians."""


class AngularClass(StrEnum):
    """A general-tolerance class of ISO 2768-1 for angles.

    >>> list(dividing.AngularClass)[0].value
    'fine_or_medium'
    """

    FINE_OR_MEDIUM = "fine_or_medium"
    """Classes f and m, which are alike for angles."""
    COARSE = "coarse"
    """Class c."""
    VERY_COARSE = "very_coarse"
    """Class v."""


class PitchRounding(StrEnum):
    """How a tolerance computed by ISO 1328-1 is rounded.

    >>> dividing.PitchRounding("unrounded").name
    'UNROUNDED'
    """

    STANDARD = "standard"
    """As the standard says."""
    UNROUNDED = "unrounded"
    """The formula's value."""


class Numbering(StrEnum):
    """The sense in which measured places are numbered, seen from the cutter.

    >>> dividing.inspection.Numbering("clockwise").name
    'CLOCKWISE'
    """

    COUNTER_CLOCKWISE = "counter_clockwise"
    CLOCKWISE = "clockwise"


class Reference(StrEnum):
    """What the deviations of a pattern are counted from.

    >>> dividing.inspection.Reference("mean") is dividing.inspection.Reference.MEAN
    True
    """

    GIVEN = "given"
    """As they are given: the zero of the plate is kept."""
    MEAN = "mean"
    """Their mean: the best fit in the sense of least squares."""
    MIDDLE = "middle"
    """The shift that makes the worst least."""
    FIRST_FEATURE = "first_feature"
    """The first feature: a datum the others are clocked to."""
