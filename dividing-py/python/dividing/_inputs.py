"""What a job can be given beside plain numbers and texts."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal, TypeAlias

from ._codec import choice
from ._dividing import Angle, _angle_of, _int_of, _length_mm_of
from ._enums import AngularClass, PitchRounding

AngleLike: TypeAlias = Angle | str | Fraction | int
"""An angle: an Angle, text with its unit, or a Fraction or int of turns."""
LengthLike: TypeAlias = float | str
"""A length: a number of millimetres, or text with its unit (mm, in, um)."""


@dataclass(frozen=True, init=False, repr=False)
class MaximumMaterial:
    """The sizes of a feature whose position holds at maximum material (ISO 2692):
    the zone grows as the actual size departs from maximum material.

    Arguments are lengths: numbers of millimetres, or text with a unit. For a
    hole the maximum material size is the smallest.

    >>> dividing.MaximumMaterial(10.0, 10.1, actual_size=10.04)
    MaximumMaterial(10.0, 10.1, 10.04)
    """

    maximum_material_size_mm: float
    """Smallest hole or largest pin, in millimetres."""
    least_material_size_mm: float
    """Largest hole or smallest pin, in millimetres."""
    actual_size_mm: float
    """Actual mating size, in millimetres."""

    def __init__(
        self,
        maximum_material_size: LengthLike,
        least_material_size: LengthLike,
        actual_size: LengthLike,
    ) -> None:
        sizes = {
            "maximum_material_size": maximum_material_size,
            "least_material_size": least_material_size,
            "actual_size": actual_size,
        }
        for name, value in sizes.items():
            object.__setattr__(self, f"{name}_mm", _length_mm_of(value, name))

    def __repr__(self) -> str:
        return (
            f"MaximumMaterial({self.maximum_material_size_mm!r}, "
            f"{self.least_material_size_mm!r}, {self.actual_size_mm!r})"
        )

    def _document(self) -> object:
        return {
            "maximum_material_size": self.maximum_material_size_mm,
            "least_material_size": self.least_material_size_mm,
            "actual_size": self.actual_size_mm,
        }


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
    at_maximum_material: MaximumMaterial | None
    """The sizes that give a bonus; None without."""

    def __init__(
        self,
        diameter: LengthLike,
        radius: LengthLike,
        at_maximum_material: MaximumMaterial | None = None,
    ) -> None:
        object.__setattr__(self, "diameter_mm", _length_mm_of(diameter, "diameter"))
        object.__setattr__(self, "radius_mm", _length_mm_of(radius, "radius"))
        if not isinstance(at_maximum_material, MaximumMaterial | None):
            raise TypeError(
                "at_maximum_material: a MaximumMaterial is wanted, "
                f"not {type(at_maximum_material).__name__}"
            )
        object.__setattr__(self, "at_maximum_material", at_maximum_material)

    def __repr__(self) -> str:
        bonus = "" if self.at_maximum_material is None else f", {self.at_maximum_material!r}"
        return f"PositionDiameter({self.diameter_mm!r}, {self.radius_mm!r}{bonus})"

    def _document(self) -> object:
        document: dict[str, object] = {
            "diameter": self.diameter_mm,
            "radius": self.radius_mm,
        }
        if self.at_maximum_material is not None:
            document["at_maximum_material"] = self.at_maximum_material._document()
        return {"position_diameter": document}


@dataclass(frozen=True, init=False, repr=False)
class PitchTolerance:
    """Limits of pitch, as angles: single, cumulative or both.

    >>> limits = dividing.PitchTolerance(single="0°01'", cumulative="0°02'")
    >>> dividing.Job("Ratchet", divisions=24, tolerance=limits).tolerance == limits
    True
    """

    single: Angle | None
    """Largest deviation of the angle between neighbours, either way."""
    cumulative: Angle | None
    """Largest less smallest deviation of all features."""

    def __init__(
        self,
        *,
        single: AngleLike | None = None,
        cumulative: AngleLike | None = None,
    ) -> None:
        for name, value in (("single", single), ("cumulative", cumulative)):
            angle = None if value is None else _angle_of(value, name)
            object.__setattr__(self, name, angle)

    def __repr__(self) -> str:
        given = ((name, getattr(self, name)) for name in ("single", "cumulative"))
        return f"PitchTolerance({', '.join(f'{n}={v!r}' for n, v in given if v is not None)})"

    def _document(self) -> object:
        given = ((name, getattr(self, name)) for name in ("single", "cumulative"))
        return {"pitch": {name: str(value) for name, value in given if value is not None}}


@dataclass(frozen=True, init=False, repr=False)
class AngularClassTolerance:
    """A general-tolerance class of ISO 2768-1 for the angle; classes f and m are
    the same for angles. ``shorter_side`` of the angle is a length.

    >>> dividing.AngularClassTolerance("fine_or_medium", shorter_side=30)
    AngularClassTolerance('fine_or_medium', shorter_side=30.0)
    """

    angular_class: AngularClass
    """The class."""
    shorter_side_mm: float
    """The shorter side of the angle, in millimetres."""

    def __init__(
        self,
        angular_class: AngularClass | Literal["fine_or_medium", "coarse", "very_coarse"],
        *,
        shorter_side: LengthLike,
    ) -> None:
        found = choice(AngularClass, angular_class, "angular_class")
        object.__setattr__(self, "angular_class", found)
        side = _length_mm_of(shorter_side, "shorter_side")
        object.__setattr__(self, "shorter_side_mm", side)

    def __repr__(self) -> str:
        return (
            f"AngularClassTolerance({str(self.angular_class)!r}, "
            f"shorter_side={self.shorter_side_mm!r})"
        )

    def _document(self) -> object:
        fields = {"class": str(self.angular_class), "shorter_side": self.shorter_side_mm}
        return {"angular_class": fields}


@dataclass(frozen=True, init=False, repr=False)
class PitchGradeTolerance:
    """The pitch tolerances of a grade of ISO 1328-1:2013, of its pitch alone: a
    plate is no gear. Lengths are numbers of millimetres or text with a unit.

    >>> dividing.PitchGradeTolerance(5, reference_diameter=100, module=2)
    PitchGradeTolerance(5, reference_diameter=100.0, module=2.0, rounding='standard')
    """

    grade: int
    """The grade, 1 to 11."""
    reference_diameter_mm: float
    """Reference diameter, in millimetres."""
    module_mm: float
    """Normal module, in millimetres."""
    rounding: PitchRounding
    """How the standard's values are rounded."""

    def __init__(
        self,
        grade: int,
        *,
        reference_diameter: LengthLike,
        module: LengthLike,
        rounding: PitchRounding | Literal["standard", "unrounded"] = "standard",
    ) -> None:
        def put(name: str, value: object) -> None:
            object.__setattr__(self, name, value)

        put("grade", _int_of(grade, "grade", 1, 11))
        put("reference_diameter_mm", _length_mm_of(reference_diameter, "reference_diameter"))
        put("module_mm", _length_mm_of(module, "module"))
        put("rounding", choice(PitchRounding, rounding, "rounding"))

    def __repr__(self) -> str:
        return (
            f"PitchGradeTolerance({self.grade}, "
            f"reference_diameter={self.reference_diameter_mm!r}, "
            f"module={self.module_mm!r}, rounding={str(self.rounding)!r})"
        )

    def _document(self) -> object:
        pitch = {
            "reference_diameter": self.reference_diameter_mm,
            "module": self.module_mm,
            "rounding": str(self.rounding),
        }
        return {"pitch_grade": {"grade": self.grade, "pitch": pitch}}


Tolerance: TypeAlias = (
    Angle | PositionDiameter | PitchTolerance | AngularClassTolerance | PitchGradeTolerance
)
"""How far off a feature may be."""


def tolerance_text(tolerance: Tolerance) -> str | None:
    """The document of a tolerance that has a class; None for what is an angle."""
    document = getattr(tolerance, "_document", None)
    return None if document is None else json.dumps(document(), allow_nan=False)


def tolerance_of(document: Mapping[str, Any]) -> Tolerance:
    """A tolerance as it stands in documents of jobs."""
    ((kind, it),) = document.items()
    match kind:
        case "position_diameter":
            sizes = it.get("at_maximum_material")
            bonus = None if sizes is None else MaximumMaterial(**sizes)
            return PositionDiameter(it["diameter"], it["radius"], bonus)
        case "pitch":
            return PitchTolerance(**it)
        case "angular_class":
            return AngularClassTolerance(it["class"], shorter_side=it["shorter_side"])
        case "pitch_grade":
            return PitchGradeTolerance(it["grade"], **it["pitch"])
        case _:
            return Angle(it)


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
