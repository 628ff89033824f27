"""Limits of size and fits of ISO 286: how much clearance a pin has in its hole.

>>> from dividing import fits
>>> fits.Fit("6 mm H7/g6").sliding_clearance()
Clearance(least_mm=0.004, mean_mm=0.014, greatest_mm=0.024)

The same over many sizes at once, as NumPy arrays:

>>> fits.FitClass("H7/g6").sliding_clearance([6.0, 10.0, 16.0]).greatest_mm
array([0.024, 0.029, 0.035])
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Generic, Literal, TypeAlias, TypeVar, cast, overload

import numpy as np
from numpy.typing import NDArray

from ._dividing import (
    _clearance,
    _clearance_of_class,
    _fit,
    _fit_class,
    _limit_deviations_um,
    _limits,
    _limits_from_deviations,
    _limits_of_class,
    _tolerance_class,
)
from ._values import LengthLike

__all__ = [
    "Clearance",
    "Fit",
    "FitClass",
    "LimitDeviations",
    "Limits",
    "ToleranceClass",
]

Floats = NDArray[np.float64]
Sizes: TypeAlias = NDArray[Any] | list[Any] | tuple[Any, ...]
"""Nominal sizes in millimetres."""
N = TypeVar("N", float, Floats)
"""A float, or an array of them."""


@dataclass(frozen=True, slots=True)
class LimitDeviations(Generic[N]):
    """Limits of size less the nominal size, in micrometres: floats, or arrays
    for many sizes.

    >>> dividing.fits.ToleranceClass("g6").limit_deviations(6)
    LimitDeviations(lower_um=-12.0, upper_um=-4.0)
    """

    lower_um: N
    """Lower limit deviation (EI or ei)."""
    upper_um: N
    """Upper limit deviation (ES or es)."""


@dataclass(frozen=True, slots=True)
class Clearance(Generic[N]):
    """Hole less pin, in millimetres: floats, or arrays for many sizes.

    >>> dividing.fits.Fit("10 H7/h6").clearance().greatest_mm
    0.024
    """

    least_mm: N
    """Smallest hole less largest pin."""
    mean_mm: N
    """Middle of least and greatest."""
    greatest_mm: N
    """Largest hole less smallest pin."""


@dataclass(frozen=True, slots=True, init=False, repr=False)
class Limits:
    """Smallest and largest size, as lengths.

    Raises OutOfRangeError for a size that is not above zero, InconsistentError
    for a lower limit above the upper one; TextError, NotFiniteError, TypeError.

    >>> dividing.fits.Limits(5.988, "5.996 mm")
    Limits(5.988, 5.996)
    """

    lower_mm: float
    """Smallest size, in millimetres."""
    upper_mm: float
    """Largest size, in millimetres."""

    def __init__(self, lower: LengthLike, upper: LengthLike) -> None:
        found = _limits(lower, upper)
        object.__setattr__(self, "lower_mm", found[0])
        object.__setattr__(self, "upper_mm", found[1])

    @staticmethod
    def from_deviations(
        nominal: LengthLike, lower: LengthLike, upper: LengthLike
    ) -> Limits:
        """Limits from a nominal size and two deviations, as lengths.

        Raises as `Limits`.

        >>> dividing.fits.Limits.from_deviations("0.25 in", -0.012, -0.004).upper_mm
        6.346
        """
        return Limits(*_limits_from_deviations(nominal, lower, upper))

    def __repr__(self) -> str:
        return f"Limits({self.lower_mm!r}, {self.upper_mm!r})"


@dataclass(frozen=True, slots=True, init=False, repr=False)
class ToleranceClass:
    """A tolerance class of ISO 286-1: deviations D to P, grades IT5 to IT11,
    capital letters for holes and small ones for shafts.

    Raises TextError for what is no class, OutOfRangeError for a grade that the
    standard or this library does not give; TypeError.

    >>> dividing.fits.ToleranceClass("H7").kind
    'hole'
    """

    name: str
    """The class as written: ``H7``."""
    kind: Literal["hole", "shaft"]
    """Whether it is one of a hole or of a shaft."""
    deviation: str
    """Its letter or letters: ``H``."""
    grade: int
    """Its number: 7 for IT7."""

    def __init__(self, text: str) -> None:
        for name, value in zip(self.__slots__, _tolerance_class(text), strict=True):
            object.__setattr__(self, name, value)

    @overload
    def limit_deviations(self, nominal: LengthLike) -> LimitDeviations[float]: ...
    @overload
    def limit_deviations(self, nominal: Sizes) -> LimitDeviations[Floats]: ...
    def limit_deviations(self, nominal: Any) -> Any:
        """Limits of size against the nominal size: a length, or an array of
        millimetres of any shape.

        Raises OutOfRangeError for a size outside 0 to 500 mm, or where the
        standard gives no value; TypeError. Source: ISO 286-1:2010, Tables 1 to 5.

        >>> dividing.fits.ToleranceClass("H7").limit_deviations([6, 10.5]).upper_um
        array([12., 18.])
        """
        return LimitDeviations(*_limit_deviations_um(self.name, nominal))

    def limits(self, nominal: LengthLike) -> Limits:
        """Limits of size on a nominal size, a length.

        Raises as `limit_deviations`, and where the lower limit is not above 0.

        >>> dividing.fits.ToleranceClass("g6").limits(6)
        Limits(5.988, 5.996)
        """
        lower, upper = _limits_of_class(self.name, nominal)
        return Limits(cast(float, lower), cast(float, upper))

    def __str__(self) -> str:
        return self.name

    def __repr__(self) -> str:
        return f"ToleranceClass({self.name!r})"


@dataclass(frozen=True, slots=True, init=False, repr=False)
class Fit:
    """The limits of a hole and of the pin in it.

    ``Fit("6 mm H7/g6")`` reads a size with two classes; ``Fit(hole, pin)`` takes
    two :class:`Limits`.

    Raises TextError, OutOfRangeError, InconsistentError, TypeError.

    >>> dividing.fits.Fit("6 mm H7/g6").hole
    Limits(6.0, 6.012)
    """

    hole: Limits
    """Limits of the hole."""
    pin: Limits
    """Limits of the pin."""

    @overload
    def __init__(self, hole: str, pin: None = None) -> None: ...
    @overload
    def __init__(self, hole: Limits, pin: Limits) -> None: ...
    def __init__(self, hole: str | Limits, pin: Limits | None = None) -> None:
        if pin is None:
            lower, upper, pin_lower, pin_upper = _fit(cast(str, hole))
            hole, pin = Limits(lower, upper), Limits(pin_lower, pin_upper)
        for name, value in (("hole", hole), ("pin", pin)):
            if not isinstance(value, Limits):
                raise TypeError(f"{name}: Limits are wanted, not {type(value).__name__}")
            object.__setattr__(self, name, value)

    def _limits(self) -> tuple[float, float, float, float]:
        hole, pin = self.hole, self.pin
        return hole.lower_mm, hole.upper_mm, pin.lower_mm, pin.upper_mm

    def clearance(self) -> Clearance[float]:
        """Hole less pin; below zero where the two interfere.

        >>> dividing.fits.Fit("6 mm H7/m6").clearance().least_mm
        -0.012
        """
        return Clearance(*_clearance(self._limits(), False))

    def sliding_clearance(self) -> Clearance[float]:
        """The clearance of a pin that slides in and out by hand.

        Raises InconsistentError where the largest pin does not enter the
        smallest hole.

        >>> dividing.fits.Fit("6 mm H7/h6").sliding_clearance().least_mm
        0.0
        """
        return Clearance(*_clearance(self._limits(), True))

    def __repr__(self) -> str:
        return f"Fit({self.hole!r}, {self.pin!r})"


@dataclass(frozen=True, slots=True, init=False, repr=False)
class FitClass:
    """Two tolerance classes with a stroke between them: ``H7/g6``.

    Raises TextError, InconsistentError unless a hole comes first and a shaft
    second, OutOfRangeError, TypeError.

    >>> dividing.fits.FitClass("H7/g6").pin
    ToleranceClass('g6')
    """

    hole: ToleranceClass
    """The class of the hole."""
    pin: ToleranceClass
    """The class of the pin."""

    def __init__(self, text: str) -> None:
        hole, pin = _fit_class(text)
        object.__setattr__(self, "hole", ToleranceClass(hole))
        object.__setattr__(self, "pin", ToleranceClass(pin))

    def on(self, nominal: LengthLike) -> Fit:
        """The fit on a nominal size, a length.

        Raises as `ToleranceClass.limits`.

        >>> dividing.fits.FitClass("H7/g6").on("0.25 in").hole.lower_mm
        6.35
        """
        return Fit(self.hole.limits(nominal), self.pin.limits(nominal))

    @overload
    def clearance(self, nominal: LengthLike) -> Clearance[float]: ...
    @overload
    def clearance(self, nominal: Sizes) -> Clearance[Floats]: ...
    def clearance(self, nominal: Any) -> Any:
        """Hole less pin on a nominal size: a length, or an array of millimetres
        of any shape. Below zero where the two interfere.

        Raises as `ToleranceClass.limits`.

        >>> dividing.fits.FitClass("H7/m6").clearance(6).least_mm
        -0.012
        """
        return Clearance(*_clearance_of_class(str(self), nominal, False))

    @overload
    def sliding_clearance(self, nominal: LengthLike) -> Clearance[float]: ...
    @overload
    def sliding_clearance(self, nominal: Sizes) -> Clearance[Floats]: ...
    def sliding_clearance(self, nominal: Any) -> Any:
        """As `clearance`, for a pin that slides in and out by hand.

        Raises InconsistentError where the largest pin does not enter the
        smallest hole.

        >>> dividing.fits.FitClass("H7/g6").sliding_clearance(6).greatest_mm
        0.024
        """
        return Clearance(*_clearance_of_class(str(self), nominal, True))

    def __str__(self) -> str:
        return f"{self.hole}/{self.pin}"

    def __repr__(self) -> str:
        return f"FitClass({str(self)!r})"
