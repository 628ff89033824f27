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


class Decision(StrEnum):
    """What a decision rule of JCGM 106 finds.

    >>> dividing.accuracy.Decision("not_proven").name
    'NOT_PROVEN'
    """

    PASS = "pass"
    """Conforms."""
    NOT_PROVEN = "not_proven"
    """Neither is shown within the uncertainty."""
    FAIL = "fail"
    """Does not conform."""


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


class Sense(StrEnum):
    """The way in which holes are numbered or a dial grows, seen from the cutter.

    >>> dividing.Sense("clockwise").name
    'CLOCKWISE'
    """

    COUNTER_CLOCKWISE = "counter_clockwise"
    CLOCKWISE = "clockwise"


class Seating(StrEnum):
    """Where a pin lies in its hole.

    >>> dividing.Seating.BIASED.value
    'biased'
    """

    FREE = "free"
    """Anywhere in the clearance."""
    BIASED = "biased"
    """Always pushed the same way, so that equal clearances cancel between holes."""


class PinHold(StrEnum):
    """How the pins sit in a pin plate.

    >>> dividing.PinHold.FIXED.value
    'fixed'
    """

    LOOSE = "loose"
    """Loose: under a level bar each pin lies at the bottom of its hole."""
    FIXED = "fixed"
    """Pressed or cemented in line with the hole."""


class IdlerConvention(StrEnum):
    """How many idlers turn the plate which way.

    >>> dividing.IdlerConvention.REVERSED.value
    'reversed'
    """

    COMMON_HANDBOOK = "common_handbook"
    """A simple train takes one idler to turn the plate with the crank and two
    against it, a compound train none and one (*Practical Treatise on Milling
    and Milling Machines*, p. 57)."""
    REVERSED = "reversed"
    """The other way about, for a head with one reversal more or less inside."""


class ReferenceFrom(StrEnum):
    """Which feature of the part is brought to the stop.

    >>> dividing.ReferenceFrom.LAST_FEATURE.value
    'last_feature'
    """

    COMMON_DATUM = "common_datum"
    """The same one for every feature. Errors do not add up."""
    LAST_FEATURE = "last_feature"
    """The feature made last: each angle counts from the one before, and so does
    each error."""


class BlockSetName(StrEnum):
    """A set of gauge blocks that makers sell.

    >>> dividing.BlockSetName("metric_87").name
    'METRIC_87'
    """

    METRIC_112 = "metric_112"
    METRIC_103 = "metric_103"
    METRIC_87 = "metric_87"
    METRIC_47 = "metric_47"
    METRIC_32 = "metric_32"
    INCH_81 = "inch_81"
    INCH_36 = "inch_36"


class AngleBlockSetName(StrEnum):
    """A set of angle gauge blocks that makers sell.

    >>> dividing.AngleBlockSetName.PIECES_13.value
    'pieces13'
    """

    PIECES_13 = "pieces13"
    PIECES_16 = "pieces16"


class BlockUnit(StrEnum):
    """The unit in which the nominal sizes of gauge blocks are whole numbers.

    >>> dividing.BlockUnit.TENTH_MICROMETRE.value
    'tenth_micrometre'
    """

    TENTH_MICROMETRE = "tenth_micrometre"
    """0.0001 mm."""
    HUNDRED_THOUSANDTH_INCH = "hundred_thousandth_inch"
    """0.00001 in."""


class MachineAxis(StrEnum):
    """The axis of the machine along which drawing angle 0 points.

    >>> dividing.MachineAxis.PLUS_Y.value
    'plus_y'
    """

    PLUS_X = "plus_x"
    PLUS_Y = "plus_y"
    MINUS_X = "minus_x"
    MINUS_Y = "minus_y"


class OppositeMeasure(StrEnum):
    """What to measure opposite a flat.

    >>> dividing.OppositeMeasure.CORNER.value
    'corner'
    """

    FLAT = "flat"
    """The opposite flat (even counts)."""
    ROUND = "round"
    """The round left opposite (odd counts, stock too small for sharp corners)."""
    CORNER = "corner"
    """The sharp corner opposite (odd counts)."""


class AngularClass(StrEnum):
    """A general-tolerance class of ISO 2768-1 for angles.

    >>> dividing.AngularClass.COARSE.value
    'coarse'
    """

    FINE_OR_MEDIUM = "fine_or_medium"
    """Classes f and m, which are alike for angles."""
    COARSE = "coarse"
    """Class c."""
    VERY_COARSE = "very_coarse"
    """Class v."""


class PitchRounding(StrEnum):
    """How pitch tolerances of ISO 1328-1:2013 are rounded.

    >>> dividing.PitchRounding.UNROUNDED.value
    'unrounded'
    """

    STANDARD = "standard"
    """Above 10 µm to whole micrometres, from 5 to 10 µm to 0.5 µm, below to 0.1 µm."""
    UNROUNDED = "unrounded"
    """The formula's value."""


class SupplierKind(StrEnum):
    """The sorts of things that would make a way exact.

    >>> dividing.SupplierKind.CHANGE_GEAR.value
    'change_gear'
    """

    OWNED_CIRCLES = "owned_circles"
    """Compound indexing on circles owned."""
    OWNED_GEARS = "owned_gears"
    """Differential indexing with gears owned."""
    CHANGE_GEAR = "change_gear"
    """One more change gear, for differential indexing with a simple train."""
    CIRCLE = "circle"
    """A hole circle, or a ring of a pin plate."""
    STATIONS = "stations"
    """Stations of a vernier indexer."""
    BLOCK = "block"
    """A faced block."""
    DIAL = "dial"
    ABSENT_HOLES = "absent_holes"
    """Holes that are absent, drilled or cleared."""
    RESOLUTION = "resolution"
    """A finer level or protractor."""
    STOP = "stop"
    """A stop for a reference of the part."""
    MEMBER = "member"
    """Another member of a stack."""
    OTHER = "other"
    """Some other equipment."""


class TableMethod(StrEnum):
    """A method of indexing, for one piece of equipment.

    >>> dividing.TableMethod("simple").name
    'SIMPLE'
    """

    SIMPLE = "simple"
    """Simple indexing on a worm head."""
    COMPOUND = "compound"
    """Compound indexing on a worm head."""
    DIFFERENTIAL = "differential"
    """Differential indexing on a worm head with change gears."""
    HELD = "held"
    """Whatever another piece of equipment holds by itself."""


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


class LocatedFrom(StrEnum):
    """What the cut is located from.

    >>> dividing.LocatedFrom("parts_own_round").name
    'PARTS_OWN_ROUND'
    """

    SPINDLE_OR_PLATE = "spindle_or_plate"
    """The axis of the spindle or the plate."""
    PARTS_OWN_ROUND = "parts_own_round"
    """The part's own round."""


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
