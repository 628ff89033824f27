"""What standards allow."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Literal

from .._codec import text_of_record
from .._dividing import (
    _angular_class_met_by,
    _angular_limit_rad,
    _length_mm_of,
    _permitted_diameter_mm,
    _pitch_grade_met_by,
    _pitch_tolerances_um,
    _range_constants,
)
from .._enums import AngularClass, PitchRounding
from .._inputs import MaximumMaterial
from .._values import LengthLike, choice


def angular_limit_rad(
    angular_class: AngularClass | Literal["fine_or_medium", "coarse", "very_coarse"],
    shorter_side: LengthLike,
) -> float:
    """The limit of an angle, in radians, by its general-tolerance class and the
    length of its shorter side. Source: ISO 2768-1, Table 3.

    Raises InvalidFieldError, OutOfRangeError, TypeError.

    >>> from math import degrees
    >>> round(60 * degrees(dividing.accuracy.angular_limit_rad("coarse", 30)), 9)
    60.0
    """
    found = choice(AngularClass, angular_class, "angular_class")
    return _angular_limit_rad(json.dumps(found), shorter_side)


def angular_class_met_by(
    deviation_rad: float, shorter_side: LengthLike
) -> AngularClass | None:
    """The tightest class of ISO 2768-1 that a deviation meets; None for none.

    Raises OutOfRangeError, NotFiniteError, TypeError.

    >>> dividing.accuracy.angular_class_met_by(0.001, 30).value
    'fine_or_medium'
    """
    found = json.loads(_angular_class_met_by(deviation_rad, shorter_side))
    return None if found is None else AngularClass(found)


@dataclass(frozen=True, slots=True, init=False, repr=False)
class PitchGrades:
    """Pitch tolerances of ISO 1328-1:2013 for a reference diameter and a module,
    as lengths. Only the pitch of the standard is used: a plate is no gear.

    >>> dividing.accuracy.PitchGrades(100, 2).tolerances_um(5)
    (6.0, 19.0)
    """

    reference_diameter_mm: float
    """Reference diameter, in millimetres."""
    module_mm: float
    """Normal module, in millimetres."""
    rounding: PitchRounding
    """How values are rounded."""

    def __init__(
        self,
        reference_diameter: LengthLike,
        module: LengthLike,
        rounding: PitchRounding | Literal["standard", "unrounded"] = "standard",
    ) -> None:
        def put(name: str, value: object) -> None:
            object.__setattr__(self, name, value)

        put("reference_diameter_mm", _length_mm_of(reference_diameter, "reference_diameter"))
        put("module_mm", _length_mm_of(module, "module"))
        put("rounding", choice(PitchRounding, rounding, "rounding"))

    def __repr__(self) -> str:
        return (
            f"PitchGrades({self.reference_diameter_mm!r}, {self.module_mm!r}, "
            f"{str(self.rounding)!r})"
        )

    def _document(self) -> object:
        return {
            "reference_diameter": self.reference_diameter_mm,
            "module": self.module_mm,
            "rounding": self.rounding,
        }

    def tolerances_um(self, grade: int) -> tuple[float, float]:
        """Single and cumulative pitch tolerance of a grade, in micrometres along
        the reference circle.

        Raises OutOfRangeError, TypeError.

        >>> dividing.accuracy.PitchGrades(100, 2).tolerances_um(6)[0]
        8.5
        """
        return _pitch_tolerances_um(text_of_record(self, ""), grade)

    def grade_met_by(self, single_rad: float, cumulative_rad: float) -> int | None:
        """The finest grade whose tolerances both hold; None to grade 11.

        Raises OutOfRangeError, NotFiniteError, TypeError.

        >>> dividing.accuracy.PitchGrades(100, 2).grade_met_by(5.9e-3 / 50, 18.9e-3 / 50)
        5
        """
        return _pitch_grade_met_by(text_of_record(self, ""), single_rad, cumulative_rad)


def permitted_diameter_mm(
    zone_diameter: LengthLike, at_maximum_material: MaximumMaterial | None = None
) -> float:
    """The diameter of a position zone with its bonus, in millimetres.

    Raises OutOfRangeError for an actual size outside its limits; TypeError.
    Source: ISO 2692, ASME Y14.5.

    >>> hole = dividing.MaximumMaterial(10.0, 10.1, actual_size=10.04)
    >>> round(dividing.accuracy.permitted_diameter_mm(0.1, hole), 9)
    0.14
    """
    zone = _length_mm_of(zone_diameter, "zone_diameter")
    sizes = at_maximum_material
    if sizes is None:
        return _permitted_diameter_mm(zone, None)
    return _permitted_diameter_mm(
        zone,
        (sizes.maximum_material_size_mm, sizes.least_material_size_mm, sizes.actual_size_mm),
    )


@dataclass(frozen=True, slots=True)
class RangeConstants:
    """Mean and standard deviation of the range of N independent normal values,
    in their standard deviations: the control-chart constants d2 and d3.

    >>> round(dividing.accuracy.range_constants(5).mean, 3)
    2.326
    """

    mean: float
    """d2."""
    standard_deviation: float
    """d3."""


def range_constants(places: int) -> RangeConstants:
    """d2 and d3 of so many places: with independent normal errors of standard
    deviation σ the cumulative pitch deviation has mean d2·σ.

    Raises OutOfRangeError outside 2 to 100,000 places; TypeError. Source:
    Tippett, Biometrika 17 (1925).

    >>> round(dividing.accuracy.range_constants(5).standard_deviation, 3)
    0.864
    """
    return RangeConstants(*_range_constants(places))
