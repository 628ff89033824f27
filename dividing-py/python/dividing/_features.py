"""What a drawing asks for: equal divisions, holes, flats, slots, teeth, lines of
a scale, or any list of angles. All are frozen; figures are plane geometry."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, ClassVar, TypeAlias

import numpy as np
from numpy.typing import NDArray

from ._dividing import (
    Angle,
    _bolt_circle_chord,
    _bolt_circle_places,
    _check_features,
    _feature_angles,
    _feature_angles_deg,
    _geometry,
    _loads,
)
from ._documents import text_of
from ._enums import MachineAxis, OppositeMeasure, Sense
from ._values import (
    ZERO,
    AngleLike,
    LengthLike,
    Value,
    angle,
    choice,
    length,
    made,
    number,
    optional,
    several,
    text,
    whole,
    wrong,
)


class FeatureSet(Value):
    """Base class of all features.

    >>> issubclass(dividing.Slots, dividing.FeatureSet)
    True
    """

    kind: ClassVar[str] = ""
    """The kind, as written in documents."""

    def _document(self) -> str:
        return text_of({self.kind: self.to_dict()}, self.kind)

    def _checked(self) -> None:
        _check_features(self._document())

    @property
    def drawing_angles(self) -> tuple[Angle, ...]:
        """The drawing angle of every feature, in the order of making; exact.

        >>> dividing.EqualDivisions(8).drawing_angles[3]
        Angle('135°')
        """
        return _feature_angles(self._document())

    @property
    def drawing_angles_deg(self) -> NDArray[np.float64]:
        """The same in degrees, a new array of shape (features,).

        >>> dividing.EqualDivisions(4).drawing_angles_deg.tolist()
        [0.0, 90.0, 180.0, 270.0]
        """
        return _feature_angles_deg(self._document())


class EqualDivisions(FeatureSet):
    """N features, equally spaced round the part; 2 to 100,000.

    >>> dividing.EqualDivisions(9, called="slot").drawing_angles[1]
    Angle('40°')
    """

    kind: ClassVar[str] = "equal_divisions"
    count: int
    called: str = "feature"
    """What one of them is called on the sheet."""
    first_angle: Angle = ZERO
    """Drawing angle of the first."""

    def __init__(
        self, count: int, *, called: str = "feature", first_angle: AngleLike = 0
    ) -> None:
        self._put(
            count=whole(count, "count"),
            called=text(called, "called"),
            first_angle=angle(first_angle, "first_angle"),
        )
        self._checked()


class MachineAxes(Value):
    """How the machine's axes lie to the drawing.

    >>> dividing.MachineAxes(centre_x=50, angle_zero="plus_y")
    MachineAxes(centre_x=50.0, angle_zero='plus_y')
    """

    _positional = 0
    centre_x_mm: float = 0.0
    """X of the part's axis."""
    centre_y_mm: float = 0.0
    """Y of the part's axis."""
    angle_zero: MachineAxis = MachineAxis.PLUS_X
    """Where drawing angle 0 points."""
    angles_grow: Sense = Sense.COUNTER_CLOCKWISE
    """The way in which drawing angles grow, seen along the spindle at the work."""

    def __init__(
        self,
        *,
        centre_x: LengthLike = 0,
        centre_y: LengthLike = 0,
        angle_zero: MachineAxis | str = MachineAxis.PLUS_X,
        angles_grow: Sense | str = Sense.COUNTER_CLOCKWISE,
    ) -> None:
        self._put(
            centre_x_mm=length(centre_x, "centre_x"),
            centre_y_mm=length(centre_y, "centre_y"),
            angle_zero=choice(MachineAxis, angle_zero, "angle_zero"),
            angles_grow=choice(Sense, angles_grow, "angles_grow"),
        )


class BoltCircle(FeatureSet):
    """Holes on a circle, counted from ``first_angle`` on in a direction.

    >>> flange = dividing.BoltCircle(6, pitch_radius=30, chord_checks=[2, 3])
    >>> x_mm, y_mm = flange.places_mm
    >>> x_mm.round(3).tolist()
    [30.0, 15.0, -15.0, -30.0, -15.0, 15.0]
    >>> [round(flange.chord_mm(spaces), 3) for spaces in (1, 2, 3)]
    [30.0, 51.962, 60.0]
    """

    kind: ClassVar[str] = "bolt_circle"
    count: int
    """How many, 2 to 100,000."""
    pitch_radius_mm: float
    hole_diameter_mm: float | None = None
    """Below the distance of neighbouring holes."""
    first_angle: Angle = ZERO
    """Drawing angle of the first hole."""
    direction: Sense = Sense.COUNTER_CLOCKWISE
    """The way in which the holes are counted, seen from the cutter."""
    axes: MachineAxes | None = None
    """The machine's axes; X to the right through hole angle 0 where not given."""
    chord_checks: tuple[int, ...] = ()
    """Further chords to check by, each so many hole spaces: 2 to half the count."""

    def __init__(
        self,
        count: int,
        *,
        pitch_radius: LengthLike,
        hole_diameter: LengthLike | None = None,
        first_angle: AngleLike = 0,
        direction: Sense | str = Sense.COUNTER_CLOCKWISE,
        axes: MachineAxes | None = None,
        chord_checks: Iterable[int] = (),
    ) -> None:
        self._put(
            count=whole(count, "count"),
            pitch_radius_mm=length(pitch_radius, "pitch_radius"),
            hole_diameter_mm=optional(length, hole_diameter, "hole_diameter"),
            first_angle=angle(first_angle, "first_angle"),
            direction=choice(Sense, direction, "direction"),
            axes=optional(_axes, axes, "axes"),
            chord_checks=several(whole, chord_checks, "chord_checks"),
        )
        self._checked()

    @property
    def places_mm(self) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """X and Y of every hole in the machine's axes, in millimetres: two new
        arrays of shape (holes,)."""
        return _bolt_circle_places(self._document())

    def chord_mm(self, spaces: int = 1) -> float:
        """Centre distance of holes so many spaces apart, in millimetres:
        ``2 * radius * sin(pi * spaces / count)``.

        >>> dividing.BoltCircle(4, pitch_radius=30).chord_mm(2)
        60.0
        """
        return _bolt_circle_chord(self._document(), spaces)


@dataclass(frozen=True, slots=True)
class FlatsGeometry:
    """The figures to cut and measure flats by, in millimetres.

    >>> dividing.Flats(5, across_flats=20, stock_diameter=24).geometry.depth_mm
    2.0
    """

    depth_mm: float
    """Depth of cut for each flat, ``(stock - across_flats) / 2``."""
    opposite: OppositeMeasure
    """What lies opposite a flat."""
    over_opposite_mm: float
    """The measure from a flat to what lies opposite."""
    flat_width_mm: float
    """Width of one finished flat."""
    across_corners_mm: float
    """Largest diameter over the finished corners."""
    stock_for_sharp_corners_mm: float | None
    """Stock from which on corners come out sharp, ``across_flats / cos(pi / N)``;
    None for two flats, which have no corners."""


class Flats(FeatureSet):
    """Equal flats round a bar. ``across_flats`` is twice the distance from the
    axis to a flat, for odd counts too.

    >>> dividing.Flats(5, across_flats=20, stock_diameter=24).geometry.over_opposite_mm
    22.0
    """

    kind: ClassVar[str] = "flats"
    count: int
    """How many, 2 to 100,000."""
    across_flats_mm: float
    stock_diameter_mm: float
    """Diameter of the round stock; greater than across flats."""
    first_angle: Angle = ZERO
    """Drawing angle of the middle of the first flat."""

    def __init__(
        self,
        count: int,
        *,
        across_flats: LengthLike,
        stock_diameter: LengthLike,
        first_angle: AngleLike = 0,
    ) -> None:
        self._put(
            count=whole(count, "count"),
            across_flats_mm=length(across_flats, "across_flats"),
            stock_diameter_mm=length(stock_diameter, "stock_diameter"),
            first_angle=angle(first_angle, "first_angle"),
        )
        self._checked()

    @property
    def geometry(self) -> FlatsGeometry:
        """The figures to cut and measure by."""
        found: FlatsGeometry = _geometry(self._document())
        return found


class AngleList(FeatureSet):
    """Features at listed drawing angles, in the order of making.

    >>> dividing.AngleList(["0 deg", "17.5 deg"], called="detent").drawing_angles
    (Angle('0°'), Angle('17.5°'))
    """

    kind: ClassVar[str] = "angles"
    angles: tuple[Angle, ...]
    called: str = "feature"
    """What one of them is called on the sheet."""

    def __init__(
        self, angles: Iterable[AngleLike], *, called: str = "feature"
    ) -> None:
        self._put(
            angles=several(angle, angles, "angles"), called=text(called, "called")
        )
        self._checked()


@dataclass(frozen=True, slots=True)
class SlotsGeometry:
    """The figures to check slots by, in millimetres.

    >>> slots = dividing.Slots(6, width=8, depth=10, outside_diameter=60)
    >>> slots.geometry.over_bottoms_mm
    40.0
    """

    land_mm: float
    """Width of the land between two slots at the outside, as a chord."""
    web_at_bottom_mm: float
    """Material left between two slots at their bottom; zero or less where they
    run into one another."""
    over_bottoms_mm: float | None
    """From the bottom of a slot to that opposite; None for an odd count."""


class Slots(FeatureSet):
    """Equal slots with parallel sides, cut towards the axis.

    >>> dividing.Slots(9, width="0.125 in", depth=4, outside_diameter=50).width_mm
    3.175
    """

    kind: ClassVar[str] = "slots"
    count: int
    """How many, 2 to 100,000."""
    width_mm: float
    depth_mm: float
    """Below the outside diameter, measured on the middle of the slot."""
    outside_diameter_mm: float
    first_angle: Angle = ZERO
    """Drawing angle of the middle of the first slot."""

    def __init__(
        self,
        count: int,
        *,
        width: LengthLike,
        depth: LengthLike,
        outside_diameter: LengthLike,
        first_angle: AngleLike = 0,
    ) -> None:
        self._put(
            count=whole(count, "count"),
            width_mm=length(width, "width"),
            depth_mm=length(depth, "depth"),
            outside_diameter_mm=length(outside_diameter, "outside_diameter"),
            first_angle=angle(first_angle, "first_angle"),
        )
        self._checked()

    @property
    def geometry(self) -> SlotsGeometry:
        """The figures to check by."""
        found: SlotsGeometry = _geometry(self._document())
        return found


@dataclass(frozen=True, slots=True)
class TeethGeometry:
    """The figures of full-depth teeth without profile shift, in millimetres.

    >>> wheel = dividing.Teeth(40, module=1.5)
    >>> wheel.geometry.pitch_diameter_mm, wheel.geometry.outside_diameter_mm
    (60.0, 63.0)
    """

    module_mm: float
    pitch_diameter_mm: float
    """``module * teeth``."""
    outside_diameter_mm: float
    whole_depth_mm: float


class Teeth(FeatureSet):
    """Equal teeth of a spur wheel, of a module or a diametral pitch. The tooth
    form is the cutter's affair.

    >>> dividing.Teeth(40, diametral_pitch=16)
    Teeth(40, diametral_pitch=16.0)
    """

    kind: ClassVar[str] = "teeth"
    count: int
    """How many, 2 to 100,000."""
    module_mm: float | None = None
    """Pitch diameter over the number of teeth."""
    diametral_pitch: float | None = None
    """Teeth to an inch of pitch diameter."""
    first_angle: Angle = ZERO
    """Drawing angle of the first tooth space."""

    def __init__(
        self,
        count: int,
        *,
        module: LengthLike | None = None,
        diametral_pitch: float | None = None,
        first_angle: AngleLike = 0,
    ) -> None:
        if (module is None) == (diametral_pitch is None):
            raise TypeError("module: one of module and diametral_pitch is wanted")
        self._put(
            count=whole(count, "count"),
            module_mm=optional(length, module, "module"),
            diametral_pitch=optional(number, diametral_pitch, "diametral_pitch"),
            first_angle=angle(first_angle, "first_angle"),
        )
        self._checked()

    def to_dict(self) -> dict[str, Any]:
        """The teeth as documents write them."""
        found = Value.to_dict(self)
        module = found.pop("module", None)
        pitch = found.pop("diametral_pitch", None)
        size = {"diametral_pitch": pitch} if module is None else {"module": module}
        return {**found, "size": size}

    @property
    def geometry(self) -> TeethGeometry:
        """The figures of full-depth teeth (ISO 53 rack proportions)."""
        found: TeethGeometry = _geometry(self._document())
        return found


class Graduations(FeatureSet):
    """Lines of a scale round the part.

    >>> scale = dividing.Graduations(360, major_every=10, middle_every=5,
    ...     major_length=6, middle_length=4, minor_length=2.5)
    >>> scale.drawing_angles[7]
    Angle('7°')
    """

    kind: ClassVar[str] = "graduations"
    count: int
    """How many, 2 to 100,000."""
    major_every: int = 10
    """A major line every so many."""
    middle_every: int | None = None
    """A middle line every so many."""
    major_length_mm: float | None = None
    middle_length_mm: float | None = None
    minor_length_mm: float | None = None
    first_angle: Angle = ZERO
    """Drawing angle of the first line."""

    def __init__(
        self,
        count: int,
        *,
        major_every: int = 10,
        middle_every: int | None = None,
        major_length: LengthLike | None = None,
        middle_length: LengthLike | None = None,
        minor_length: LengthLike | None = None,
        first_angle: AngleLike = 0,
    ) -> None:
        self._put(
            count=whole(count, "count"),
            major_every=whole(major_every, "major_every"),
            middle_every=optional(whole, middle_every, "middle_every"),
            major_length_mm=optional(length, major_length, "major_length"),
            middle_length_mm=optional(length, middle_length, "middle_length"),
            minor_length_mm=optional(length, minor_length, "minor_length"),
            first_angle=angle(first_angle, "first_angle"),
        )
        self._checked()


Features: TypeAlias = (
    EqualDivisions | BoltCircle | Flats | AngleList | Slots | Teeth | Graduations
)
"""What a drawing asks for."""

_KINDS: dict[str, type[FeatureSet]] = {
    kind.kind: kind
    for kind in (EqualDivisions, BoltCircle, Flats, AngleList, Slots, Teeth, Graduations)
}


def features_of(json: str) -> FeatureSet:
    """The features of a document, as the core wrote it."""
    ((kind, fields),) = _loads(json).items()
    size = fields.pop("size", {})
    fields.update(size)
    return made(_KINDS[kind], fields, kind)


def document_of(features: object) -> str:
    """The document of features given by a caller."""
    if isinstance(features, FeatureSet):
        return features._document()
    raise wrong("features", "a feature object, such as Slots", features)


def _axes(value: Any, name: str) -> MachineAxes:
    return made(MachineAxes, value, name)
