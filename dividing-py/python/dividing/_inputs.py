"""How close a job must be, and where its pattern starts."""

from __future__ import annotations

from typing import Any, ClassVar, TypeAlias

from ._dividing import Angle, _check_tolerance, _limit_rad, _loads
from ._documents import text_of
from ._enums import AngularClass, LocatedFrom, PitchRounding
from ._values import (
    ZERO,
    AngleLike,
    LengthLike,
    Value,
    angle,
    choice,
    length,
    made,
    optional,
    text,
    whole,
)


class FeatureTolerance(Value):
    """Base class of tolerances that are more than an angle.

    >>> issubclass(dividing.PitchTolerance, dividing.FeatureTolerance)
    True
    """

    kind: ClassVar[str] = ""
    """The kind, as written in documents."""

    def _document(self) -> dict[str, Any]:
        return {self.kind: self.to_dict()}

    def _checked(self) -> None:
        _check_tolerance(text_of(self._document(), self.kind))

    @property
    def limit_rad(self) -> float:
        """The largest deviation of one feature that it allows, in radians.

        >>> round(dividing.PositionDiameter(0.1, 30).limit_rad, 7)
        0.0016667
        """
        return _limit_rad(text_of(self._document(), self.kind))


class MaximumMaterial(Value):
    """The sizes that give a bonus at maximum material condition (ISO 2692, ASME
    Y14.5).

    >>> dividing.MaximumMaterial(10.0, 10.1, actual_size=10.04)
    MaximumMaterial(10.0, 10.1, 10.04)
    """

    _positional = 3
    maximum_material_size_mm: float
    """The smallest hole, the largest pin."""
    least_material_size_mm: float
    """The largest hole, the smallest pin."""
    actual_size_mm: float
    """Actual mating size of the feature."""

    def __init__(
        self,
        maximum_material_size: LengthLike,
        least_material_size: LengthLike,
        actual_size: LengthLike,
    ) -> None:
        self._put(
            maximum_material_size_mm=length(
                maximum_material_size, "maximum_material_size"
            ),
            least_material_size_mm=length(least_material_size, "least_material_size"),
            actual_size_mm=length(actual_size, "actual_size"),
        )


class PositionDiameter(FeatureTolerance):
    """A position tolerance (ISO 1101, ASME Y14.5): the diameter of the zone
    round the true place, on a circle of a radius.

    Arguments are lengths: numbers of millimetres, or text with a unit.

    >>> zone = dividing.PositionDiameter("0.010 in", "1.250 in")
    >>> zone
    PositionDiameter(0.254, 31.75)
    >>> zone.radius_mm
    31.75
    """

    kind: ClassVar[str] = "position_diameter"
    _positional = 3
    diameter_mm: float
    """Diameter of the zone, in millimetres."""
    radius_mm: float
    """Radius of the circle that the features stand on, in millimetres."""
    at_maximum_material: MaximumMaterial | None = None
    """The sizes that give a bonus, where the drawing asks for it."""

    def __init__(
        self,
        diameter: LengthLike,
        radius: LengthLike,
        at_maximum_material: MaximumMaterial | None = None,
    ) -> None:
        self._put(
            diameter_mm=length(diameter, "diameter"),
            radius_mm=length(radius, "radius"),
            at_maximum_material=optional(
                _maximum_material, at_maximum_material, "at_maximum_material"
            ),
        )
        self._checked()


class PitchTolerance(FeatureTolerance):
    """Limits of single and cumulative pitch deviation: neighbour to neighbour,
    and the largest difference over the turn. One of the two may be left out.

    >>> dividing.PitchTolerance(single="0°02'")
    PitchTolerance(single=Angle('1/10800 turn'))
    """

    _positional = 0
    kind: ClassVar[str] = "pitch"
    single: Angle | None = None
    cumulative: Angle | None = None

    def __init__(
        self, *, single: AngleLike | None = None, cumulative: AngleLike | None = None
    ) -> None:
        self._put(
            single=optional(angle, single, "single"),
            cumulative=optional(angle, cumulative, "cumulative"),
        )
        self._checked()


class AngularClassTolerance(FeatureTolerance):
    """A general tolerance of ISO 2768-1 for angles; its width depends on the
    shorter side of the angle.

    >>> dividing.AngularClassTolerance("coarse", shorter_side=25).shorter_side_mm
    25.0
    """

    kind: ClassVar[str] = "angular_class"
    angular_class: AngularClass
    shorter_side_mm: float
    """Length of the shorter side of the angle."""

    _renamed = {"angular_class": "class"}

    def __init__(
        self, angular_class: AngularClass | str, *, shorter_side: LengthLike
    ) -> None:
        self._put(
            angular_class=choice(AngularClass, angular_class, "angular_class"),
            shorter_side_mm=length(shorter_side, "shorter_side"),
        )
        self._checked()


class PitchGradeTolerance(FeatureTolerance):
    """The pitch of a grade of ISO 1328-1:2013. A plate is no gear: only the pitch
    of the standard is used.

    >>> dividing.PitchGradeTolerance(7, reference_diameter=100, module=2).grade
    7
    """

    kind: ClassVar[str] = "pitch_grade"
    grade: int
    """0 to 11."""
    reference_diameter_mm: float
    """5 to 15,000 mm."""
    module_mm: float
    """Normal module, 0.5 to 70 mm."""
    rounding: PitchRounding = PitchRounding.STANDARD

    def __init__(
        self,
        grade: int,
        *,
        reference_diameter: LengthLike,
        module: LengthLike,
        rounding: PitchRounding | str = PitchRounding.STANDARD,
    ) -> None:
        self._put(
            grade=whole(grade, "grade"),
            reference_diameter_mm=length(reference_diameter, "reference_diameter"),
            module_mm=length(module, "module"),
            rounding=choice(PitchRounding, rounding, "rounding"),
        )
        self._checked()

    def to_dict(self) -> dict[str, Any]:
        """The tolerance as documents write it."""
        found = Value.to_dict(self)
        return {"grade": found.pop("grade"), "pitch": found}


Tolerance: TypeAlias = (
    Angle
    | PositionDiameter
    | PitchTolerance
    | AngularClassTolerance
    | PitchGradeTolerance
)
"""How far off a feature may be: an angle either way, or one of these."""

_KINDS: dict[str, type[FeatureTolerance]] = {
    kind.kind: kind
    for kind in (
        PositionDiameter,
        PitchTolerance,
        AngularClassTolerance,
        PitchGradeTolerance,
    )
}


def tolerance_text(tolerance: object) -> str | None:
    """The document of a tolerance that has a class; None for what is an angle."""
    if isinstance(tolerance, FeatureTolerance):
        return text_of(tolerance._document(), "tolerance")
    return None


def tolerance_of(json: str) -> Angle | FeatureTolerance:
    """The tolerance of a document, as the core wrote it."""
    ((kind, fields),) = _loads(json).items()
    if kind == "angle":
        return Angle(fields)
    if kind == "pitch_grade":
        fields.update(fields.pop("pitch"))
    return made(_KINDS[kind], fields, kind)


class Clocked(Value):
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
    at: Angle = ZERO
    reading: Angle = ZERO
    clocking_error: Angle = ZERO

    def __init__(
        self,
        to: str,
        *,
        at: AngleLike = 0,
        reading: AngleLike = 0,
        clocking_error: AngleLike = 0,
    ) -> None:
        self._put(
            to=text(to, "to"),
            at=angle(at, "at"),
            reading=angle(reading, "reading"),
            clocking_error=angle(clocking_error, "clocking_error"),
        )


class PartEccentricity(Value):
    """How far the part's axis stands off the spindle's.

    >>> dividing.PartEccentricity(0.02, feature_radius="40 mm")
    PartEccentricity(0.02, feature_radius=40.0)
    """

    eccentricity_mm: float
    """Distance between the two axes, 0 or more."""
    located_from: LocatedFrom = LocatedFrom.SPINDLE_OR_PLATE
    """What the cut is located from."""
    feature_radius_mm: float | None = None
    """Radius on which the features stand, such as a bolt circle's; None for flats and
    slots, which have none and move without turning."""

    def __init__(
        self,
        eccentricity: LengthLike,
        *,
        located_from: LocatedFrom | str = LocatedFrom.SPINDLE_OR_PLATE,
        feature_radius: LengthLike | None = None,
    ) -> None:
        self._put(
            eccentricity_mm=length(eccentricity, "eccentricity"),
            located_from=choice(LocatedFrom, located_from, "located_from"),
            feature_radius_mm=optional(length, feature_radius, "feature_radius"),
        )

    def _text(self) -> str:
        return text_of(self.to_dict(), "eccentricity")


def part_eccentricity_of(json: str) -> PartEccentricity:
    """The eccentricity of a document, as the core wrote it."""
    return made(PartEccentricity, _loads(json), "part_eccentricity")


def _maximum_material(value: Any, name: str) -> MaximumMaterial:
    return made(MaximumMaterial, value, name)
