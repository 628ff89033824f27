"""The equipment a shop owns, one class a kind. All are frozen.

Every class reads its arguments at once: what does not make sense is refused
with the name of the argument. Lengths are numbers of millimetres or text with a
unit; what is given as ``pitch_radius`` is read back as ``pitch_radius_mm``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any, ClassVar, Self, TypeAlias

from ._dividing import (
    Angle,
    _check_equipment,
    _drilled_zone_mm,
    _loads,
    _pin_in_hole_of_fit,
)
from ._documents import text_of
from ._enums import (
    AngleBlockSetName,
    BlockSetName,
    IdlerConvention,
    PinHold,
    ReferenceFrom,
    Seating,
    Sense,
)
from ._gauge_blocks import AngleBlockSet, BlockSet
from ._gearing import GearSet
from ._html import grid
from ._values import (
    ZERO,
    AngleLike,
    LengthLike,
    RatioLike,
    Value,
    angle,
    choice,
    entry,
    flag,
    length,
    made,
    number,
    optional,
    plain,
    ratio,
    several,
    text,
    told,
    whole,
    wrong,
)


def _check(kind: str, fields: Mapping[str, Any], inside: str = "", only: str = "") -> None:
    """Has the core judge a piece; errors name the argument of what was made, or
    its ``only`` one where they name none."""
    pieces = [{kind: fields}]
    document = {"format": 1, "name": "shop", "equipment": pieces}
    _check_equipment(text_of(document, "equipment"), kind, inside, only)


class Piece(Value):
    """Base class of all equipment.

    >>> issubclass(dividing.FacedBlock, dividing.Piece)
    True
    """

    kind: ClassVar[str] = ""
    """The kind, as written in documents."""
    name: str
    """What the shop calls it."""

    def __init__(self, name: str) -> None:
        raise TypeError("Piece: one of its kinds is wanted, such as FacedBlock")

    def _checked(self) -> None:
        _check(self.kind, self.to_dict())

    def to_document(self) -> dict[str, Any]:
        """The piece as workshop documents list it: ``{kind: fields}``.

        >>> dividing.FacedBlock("block", faces=4).to_document()
        {'faced_block': {'name': 'block', 'faces': 4}}
        """
        return {self.kind: self.to_dict()}


class MeasuredPlace(Value):
    """One measured place of a ring.

    ``deviation_arcsec`` is where it stands less where it should, in the sense of
    the numbering, at most 10° either way. ``radial`` is how much further from
    the axis it stands than the pitch radius; a bar on two pins needs it.

    >>> dividing.MeasuredPlace(place=0, deviation_arcsec=2.5)
    MeasuredPlace(0, deviation_arcsec=2.5)
    """

    place: int
    """Its number, from 0."""
    deviation_arcsec: float
    standard_uncertainty_arcsec: float | None = None
    """Taken as independent of the other places (JCGM 100:2008, 4.3)."""
    radial_mm: float | None = None
    radial_uncertainty_mm: float | None = None

    def __init__(
        self,
        place: int,
        deviation_arcsec: float,
        *,
        standard_uncertainty_arcsec: float | None = None,
        radial: LengthLike | None = None,
        radial_uncertainty: LengthLike | None = None,
    ) -> None:
        uncertainty = standard_uncertainty_arcsec
        self._put(
            place=whole(place, "place"),
            deviation_arcsec=number(deviation_arcsec, "deviation_arcsec"),
            standard_uncertainty_arcsec=optional(
                number, uncertainty, "standard_uncertainty_arcsec"
            ),
            radial_mm=optional(length, radial, "radial"),
            radial_uncertainty_mm=optional(
                length, radial_uncertainty, "radial_uncertainty"
            ),
        )
        ring = {"places": max(self.place + 1, 2), "deviations": [self.to_dict()]}
        _check_measured(ring, "measured.deviations[0]")


class CovarianceByDifference(Value):
    """Covariances that depend only on how many places two of them are apart, the
    short way round (JCGM 100:2008, 5.2).

    >>> dividing.CovarianceByDifference([0.25, 0.0, -0.25]).values_arcsec2
    (0.25, 0.0, -0.25)
    """

    values_arcsec2: tuple[float, ...]
    """For 0, 1, … up to half the places, in squared seconds of arc."""

    def __init__(self, values_arcsec2: Iterable[float]) -> None:
        self._put(values_arcsec2=several(number, values_arcsec2, "values_arcsec2"))

    def to_dict(self) -> dict[str, Any]:
        """The covariance as documents write it."""
        return {"by_difference": list(self.values_arcsec2)}


class CovarianceLowerTriangle(Value):
    """Covariances of every two measured places (JCGM 100:2008, 5.2).

    >>> dividing.CovarianceLowerTriangle([[0.25], [0.1, 0.25]]).rows_arcsec2[1]
    (0.1, 0.25)
    """

    rows_arcsec2: tuple[tuple[float, ...], ...]
    """A row for each measured place, up to the place itself, in squared seconds of
    arc; at most 400 places."""

    def __init__(self, rows_arcsec2: Iterable[Iterable[float]]) -> None:
        self._put(rows_arcsec2=several(_numbers, rows_arcsec2, "rows_arcsec2"))

    def to_dict(self) -> dict[str, Any]:
        """The covariance as documents write it."""
        return {"lower_triangle": [list(row) for row in self.rows_arcsec2]}


class MeasuredRing(Value):
    """The measured places of a hole circle, or of a dial at equal readings.

    Places that are not listed were not measured and keep the tolerance of the
    equipment. The places stand in growing number.

    >>> dividing.MeasuredRing(4, [dividing.MeasuredPlace(0, 2.5),
    ...                           dividing.MeasuredPlace(2, -2.5)]).places
    4
    """

    places: int
    """Equally spaced places round the turn, 2 to 10,000, measured or not."""
    deviations: tuple[MeasuredPlace, ...]
    covariance: CovarianceByDifference | CovarianceLowerTriangle | None = None
    """How the errors of the measurement hang together from place to place."""

    def __init__(
        self,
        places: int,
        deviations: Iterable[MeasuredPlace],
        covariance: CovarianceByDifference | CovarianceLowerTriangle | None = None,
    ) -> None:
        self._put(
            places=whole(places, "places"),
            deviations=several(_measured_place, deviations, "deviations"),
            covariance=optional(_covariance, covariance, "covariance"),
        )
        _check_measured(self.to_dict(), "measured")


class HoleCircle(Value):
    """One circle of equally spaced places for holes.

    >>> dividing.HoleCircle(24, pitch_radius="2 in", absent=[5])
    HoleCircle(24, pitch_radius=50.8, absent=[5])
    """

    holes: int
    """Equally spaced places, 2 to 100,000; some may be absent."""
    pitch_radius_mm: float | None = None
    """Radius of the pitch circle. Needed for an error figure."""
    first_hole: Angle = ZERO
    """Angle of hole 0."""
    absent: tuple[int, ...] = ()
    """Places that hold no usable hole: never drilled, damaged or plugged."""
    measured: MeasuredRing | None = None
    """What was measured of its holes."""

    def __init__(
        self,
        holes: int,
        *,
        pitch_radius: LengthLike | None = None,
        first_hole: AngleLike = 0,
        absent: Iterable[int] = (),
        measured: MeasuredRing | Mapping[str, Any] | None = None,
    ) -> None:
        self._put(
            holes=whole(holes, "holes"),
            pitch_radius_mm=optional(length, pitch_radius, "pitch_radius"),
            first_hole=angle(first_hole, "first_hole"),
            absent=several(whole, absent, "absent"),
            measured=optional(_measured_ring, measured, "measured"),
        )
        _check("direct_plate", {"name": "plate", "circles": [self.to_dict()]}, "circles[0]")


class DrilledOnHead(Value):
    """Holes drilled on a dividing head from a rougher plate: its errors come down by
    the worm ratio.

    >>> dividing.DrilledOnHead(40, rougher_pitch_radius=60,
    ...     rougher_hole_position_tolerance=0.2).worm_ratio
    Fraction(40, 1)
    """

    worm_ratio: Fraction
    """Crank turns for one spindle turn."""
    rougher_pitch_radius_mm: float
    """Pitch radius of the circle used on the rougher plate."""
    rougher_hole_position_tolerance_mm: float
    """Diameter of the zone in which a hole of the rougher plate lies."""
    rougher_clearance_mm: float = 0.0
    """Clearance of the crank pin in those holes."""
    worm_error: Angle = ZERO
    """Deviation of the spindle by worm and wheel, either way."""
    drill_wander_mm: float = 0.0
    """Diameter of the zone in which the drill starts."""

    def __init__(
        self,
        worm_ratio: RatioLike,
        *,
        rougher_pitch_radius: LengthLike,
        rougher_hole_position_tolerance: LengthLike,
        rougher_clearance: LengthLike = 0,
        worm_error: AngleLike = 0,
        drill_wander: LengthLike = 0,
    ) -> None:
        self._put(
            worm_ratio=ratio(worm_ratio, "worm_ratio"),
            rougher_pitch_radius_mm=length(rougher_pitch_radius, "rougher_pitch_radius"),
            rougher_hole_position_tolerance_mm=length(
                rougher_hole_position_tolerance, "rougher_hole_position_tolerance"
            ),
            rougher_clearance_mm=length(rougher_clearance, "rougher_clearance"),
            worm_error=angle(worm_error, "worm_error"),
            drill_wander_mm=length(drill_wander, "drill_wander"),
        )
        _check_drilled(self, "on_dividing_head")

    def to_dict(self) -> dict[str, Any]:
        """How the holes were drilled, as documents write it."""
        return {"on_dividing_head": Value.to_dict(self)}

    def position_zone_mm(self, pitch_radius_mm: float) -> float:
        """Diameter of the zone in which a hole lies on a pitch radius.

        >>> rough = dividing.DrilledOnHead(40, rougher_pitch_radius=60,
        ...     rougher_hole_position_tolerance=0.2)
        >>> round(rough.position_zone_mm(60), 9)
        0.005
        """
        return _drilled_zone_mm(text_of(self.to_dict(), "drilled"), pitch_radius_mm)


class DrilledByCoordinates(Value):
    """Holes drilled by the coordinates of a table.

    >>> round(dividing.DrilledByCoordinates(0.005).position_zone_mm(40), 6)
    0.014142
    """

    table_accuracy_mm: float
    """Deviation of each coordinate, either way."""
    drill_wander_mm: float = 0.0
    """Diameter of the zone in which the drill starts."""

    def __init__(self, table_accuracy: LengthLike, *, drill_wander: LengthLike = 0) -> None:
        self._put(
            table_accuracy_mm=length(table_accuracy, "table_accuracy"),
            drill_wander_mm=length(drill_wander, "drill_wander"),
        )
        _check_drilled(self, "by_coordinates")

    def to_dict(self) -> dict[str, Any]:
        """How the holes were drilled, as documents write it."""
        return {"by_coordinates": Value.to_dict(self)}

    def position_zone_mm(self, pitch_radius_mm: float) -> float:
        """Diameter of the zone in which a hole lies, the same on every radius.

        >>> dividing.DrilledByCoordinates(0, drill_wander=0.01).position_zone_mm(40)
        0.01
        """
        return _drilled_zone_mm(text_of(self.to_dict(), "drilled"), pitch_radius_mm)


class PinInHole(Value):
    """A pin in holes of one size: what decides how well it locates. Either
    ``hole_position_tolerance`` or ``drilled`` says where the holes lie.

    >>> dividing.PinInHole(pin_diameter=5.98, hole_diameter=6, hole_position_tolerance=0.02)
    PinInHole(pin_diameter=5.98, hole_diameter=6.0, hole_position_tolerance=0.02)
    """

    _positional = 0
    pin_diameter_mm: float
    hole_diameter_mm: float
    hole_position_tolerance_mm: float | None = None
    """Diameter of the zone round its true place in which a hole's centre lies."""
    hole_diameter_tolerance_mm: float = 0.0
    """Deviation of a hole's diameter, either way."""
    pin_diameter_tolerance_mm: float = 0.0
    """Deviation of a pin's diameter, either way."""
    seating: Seating = Seating.FREE
    drilled: DrilledOnHead | DrilledByCoordinates | None = None
    """How the holes were drilled, from which their position follows."""

    def __init__(
        self,
        *,
        pin_diameter: LengthLike,
        hole_diameter: LengthLike,
        hole_position_tolerance: LengthLike | None = None,
        hole_diameter_tolerance: LengthLike = 0,
        pin_diameter_tolerance: LengthLike = 0,
        seating: Seating | str = Seating.FREE,
        drilled: DrilledOnHead | DrilledByCoordinates | None = None,
    ) -> None:
        self._put(
            pin_diameter_mm=length(pin_diameter, "pin_diameter"),
            hole_diameter_mm=length(hole_diameter, "hole_diameter"),
            hole_position_tolerance_mm=optional(
                length, hole_position_tolerance, "hole_position_tolerance"
            ),
            hole_diameter_tolerance_mm=length(
                hole_diameter_tolerance, "hole_diameter_tolerance"
            ),
            pin_diameter_tolerance_mm=length(
                pin_diameter_tolerance, "pin_diameter_tolerance"
            ),
            seating=choice(Seating, seating, "seating"),
            drilled=optional(_drilled, drilled, "drilled"),
        )
        plate = {"name": "plate", "circles": [{"holes": 2}]}
        _check("direct_plate", {**plate, "registration": self.to_dict()}, "registration")

    @classmethod
    def from_fit(
        cls,
        fit: str,
        *,
        hole_position_tolerance: LengthLike | None = None,
        seating: Seating | str = Seating.FREE,
        drilled: DrilledOnHead | DrilledByCoordinates | None = None,
    ) -> Self:
        """Pin and holes of a fit of ISO 286, such as ``"6 mm H7/g6"``: the middle
        of each size's limits, and half their width either way.

        Raises InvalidFieldError for a fit that cannot be read or does not slide.

        >>> dividing.PinInHole.from_fit("6 mm H7/g6", hole_position_tolerance=0).hole_diameter_mm
        6.006
        """
        document: dict[str, Any] = {
            "fit": text(fit, "fit"),
            "seating": str(choice(Seating, seating, "seating")),
        }
        if hole_position_tolerance is not None:
            document["hole_position_tolerance"] = length(
                hole_position_tolerance, "hole_position_tolerance"
            )
        if drilled is not None:
            document["drilled"] = _drilled(drilled, "drilled").to_dict()
        return cls(**_loads(_pin_in_hole_of_fit(text_of(document, "fit"))))


class DirectPlate(Piece):
    """A plate fixed to the spindle or the part, with a plunger at one station.

    It holds the orientations ``station - angle(hole)``. ``circles`` may list
    plain numbers of holes.

    >>> dividing.DirectPlate("collet indexer", circles=[24, 36])
    DirectPlate('collet indexer', circles=[HoleCircle(24), HoleCircle(36)])
    """

    kind: ClassVar[str] = "direct_plate"
    name: str
    circles: tuple[HoleCircle, ...]
    """Its hole circles. A job stays on one circle."""
    station: Angle = ZERO
    """Where the plunger stands."""
    sense: Sense = Sense.COUNTER_CLOCKWISE
    """The way in which the holes are numbered."""
    registration: PinInHole | None = None
    """Pin and holes. Needed for an error figure."""
    eccentricity_mm: float = 0.0
    """Distance of the plate's centre from the spindle axis, at most."""
    bore_clearance_mm: float = 0.0
    """Clearance of the plate's bore on its seat."""

    def __init__(
        self,
        name: str,
        *,
        circles: Iterable[HoleCircle | int],
        station: AngleLike = 0,
        sense: Sense | str = Sense.COUNTER_CLOCKWISE,
        registration: PinInHole | None = None,
        eccentricity: LengthLike = 0,
        bore_clearance: LengthLike = 0,
    ) -> None:
        self._put(
            name=text(name, "name"),
            circles=several(_hole_circle, circles, "circles"),
            station=angle(station, "station"),
            sense=choice(Sense, sense, "sense"),
            registration=optional(_pin_in_hole, registration, "registration"),
            eccentricity_mm=length(eccentricity, "eccentricity"),
            bore_clearance_mm=length(bore_clearance, "bore_clearance"),
        )
        self._checked()


class VernierIndexer(Piece):
    """A circle of holes with several stations for the pin.

    With stations at complete residues of the hole spacing, n holes and m
    stations hold n·m equally spaced orientations.

    >>> dividing.VernierIndexer("indexer", circle=36, stations=["0 deg", "11 deg"]).circle
    HoleCircle(36)
    """

    kind: ClassVar[str] = "vernier_indexer"
    name: str
    circle: HoleCircle
    """The circle of holes that turns with the spindle."""
    stations: tuple[Angle, ...]
    """Angles of the holes in the body."""
    sense: Sense = Sense.COUNTER_CLOCKWISE
    registration: PinInHole | None = None
    """Pin and holes of the circle. Needed for an error figure."""
    station_hole_diameter_mm: float | None = None
    """Diameter of the holes in the body; that of the circle's holes if not given."""
    station_position_tolerance_mm: float | None = None
    """Diameter of the zone in which each station's centre lies; that of the
    circle's holes if not given."""
    measured_stations: MeasuredRing | None = None
    """What was measured of the stations, numbered as they are listed."""

    def __init__(
        self,
        name: str,
        *,
        circle: HoleCircle | int,
        stations: Iterable[AngleLike],
        sense: Sense | str = Sense.COUNTER_CLOCKWISE,
        registration: PinInHole | None = None,
        station_hole_diameter: LengthLike | None = None,
        station_position_tolerance: LengthLike | None = None,
        measured_stations: MeasuredRing | None = None,
    ) -> None:
        self._put(
            name=text(name, "name"),
            circle=_hole_circle(circle, "circle"),
            stations=several(angle, stations, "stations"),
            sense=choice(Sense, sense, "sense"),
            registration=optional(_pin_in_hole, registration, "registration"),
            station_hole_diameter_mm=optional(
                length, station_hole_diameter, "station_hole_diameter"
            ),
            station_position_tolerance_mm=optional(
                length, station_position_tolerance, "station_position_tolerance"
            ),
            measured_stations=optional(
                _measured_ring, measured_stations, "measured_stations"
            ),
        )
        self._checked()


class FacedBlock(Piece):
    """A square, hexagon or other block with equal faces round the spindle axis.

    >>> dividing.FacedBlock("square block", faces=4, face_error="0°01'")
    FacedBlock('square block', faces=4, face_error=Angle('1/21600 turn'))
    """

    kind: ClassVar[str] = "faced_block"
    name: str
    faces: int
    """Equal faces, 3 to 1000."""
    face_error: Angle | None = None
    """Deviation of a face from true, either way. Needed for an error figure."""
    seat_error: Angle = ZERO
    """How far a face may lie from true on what it rests on, either way."""

    def __init__(
        self,
        name: str,
        *,
        faces: int,
        face_error: AngleLike | None = None,
        seat_error: AngleLike = 0,
    ) -> None:
        self._put(
            name=text(name, "name"),
            faces=whole(faces, "faces"),
            face_error=optional(angle, face_error, "face_error"),
            seat_error=angle(seat_error, "seat_error"),
        )
        self._checked()


class VeeBlock(Piece):
    """A V-block to lay faced blocks in.

    >>> dividing.VeeBlock("V-block", included_angle="90 deg").included_angle
    Angle('90°')
    """

    kind: ClassVar[str] = "vee_block"
    name: str
    included_angle: Angle
    """Angle between the flanks, above 0° and below 180°."""
    flank_error: Angle | None = None
    """Deviation of a flank from true, either way. Needed for an error figure."""

    def __init__(
        self,
        name: str,
        *,
        included_angle: AngleLike,
        flank_error: AngleLike | None = None,
    ) -> None:
        self._put(
            name=text(name, "name"),
            included_angle=angle(included_angle, "included_angle"),
            flank_error=optional(angle, flank_error, "flank_error"),
        )
        self._checked()


class Levelling(Value):
    """What an indicator shows over a travel along the bar, accepted as level.

    >>> dividing.Levelling(reading=0.01, travel=100)
    Levelling(reading=0.01, travel=100.0)
    """

    _positional = 0
    reading_mm: float
    """Largest reading that is accepted as level."""
    travel_mm: float
    """Travel along the bar between the two readings."""

    def __init__(self, *, reading: LengthLike, travel: LengthLike) -> None:
        self._put(
            reading_mm=length(reading, "reading"), travel_mm=length(travel, "travel")
        )
        plate = {"name": "plate", "circles": [{"holes": 3}]}
        _check("pin_plate", {**plate, "levelling": self.to_dict()}, "levelling")


class PinPlate(Piece):
    """A plate with rings of holes for pins, fixed to the part: a straight bar on
    two of its pins is levelled, or squared, to set the angle.

    >>> dividing.PinPlate("own plate", circles=[9], square=True)
    PinPlate('own plate', circles=[HoleCircle(9)], square=True)
    """

    kind: ClassVar[str] = "pin_plate"
    name: str
    circles: tuple[HoleCircle, ...]
    """Its rings of holes."""
    sense: Sense = Sense.COUNTER_CLOCKWISE
    bar_turns_over: bool = True
    """Whether the bar may also be laid on the side of the pins that faces the
    centre, which adds half a turn."""
    square: bool = False
    """Whether the bar may also be set upright with a square."""
    across_rings: bool = False
    """Whether the bar may also be laid on pins of two different rings."""
    registration: PinInHole | None = None
    """Pins and holes. Needed for an error figure."""
    pin_hold: PinHold = PinHold.LOOSE
    """How the pins sit in the plate."""
    bar_straightness_mm: float = 0.0
    """Deviation of the bar's edge from straight over its length, at most."""
    levelling: Levelling | None = None
    """How closely the bar is levelled. Needed for an error figure."""
    square_error: Angle = ZERO
    """Deviation of the square from 90°, either way."""

    def __init__(
        self,
        name: str,
        *,
        circles: Iterable[HoleCircle | int],
        sense: Sense | str = Sense.COUNTER_CLOCKWISE,
        bar_turns_over: bool = True,
        square: bool = False,
        across_rings: bool = False,
        registration: PinInHole | None = None,
        pin_hold: PinHold | str = PinHold.LOOSE,
        bar_straightness: LengthLike = 0,
        levelling: Levelling | None = None,
        square_error: AngleLike = 0,
    ) -> None:
        self._put(
            name=text(name, "name"),
            circles=several(_hole_circle, circles, "circles"),
            sense=choice(Sense, sense, "sense"),
            bar_turns_over=flag(bar_turns_over, "bar_turns_over"),
            square=flag(square, "square"),
            across_rings=flag(across_rings, "across_rings"),
            registration=optional(_pin_in_hole, registration, "registration"),
            pin_hold=choice(PinHold, pin_hold, "pin_hold"),
            bar_straightness_mm=length(bar_straightness, "bar_straightness"),
            levelling=optional(_levelling, levelling, "levelling"),
            square_error=angle(square_error, "square_error"),
        )
        self._checked()


class PlateCircle(Value):
    """One circle of an index plate with its own pitch radius.

    >>> dividing.PlateCircle(18, pitch_radius=42)
    PlateCircle(18, pitch_radius=42.0)
    """

    holes: int
    pitch_radius_mm: float | None = None
    """Radius of the pitch circle; the head's smallest stands in where not given."""
    absent: tuple[int, ...] = ()
    """Places that hold no usable hole."""
    measured: MeasuredRing | None = None
    """What was measured of its holes."""

    def __init__(
        self,
        holes: int,
        *,
        pitch_radius: LengthLike | None = None,
        absent: Iterable[int] = (),
        measured: MeasuredRing | Mapping[str, Any] | None = None,
    ) -> None:
        self._put(
            holes=whole(holes, "holes"),
            pitch_radius_mm=optional(length, pitch_radius, "pitch_radius"),
            absent=several(whole, absent, "absent"),
            measured=optional(_measured_ring, measured, "measured"),
        )
        plate = {"name": "plate", "circles": [self.to_dict()]}
        _check_plate(plate, "circles[0]", "holes")


class IndexPlate(Value):
    """An index plate of a worm head. Circles may be plain numbers of holes.

    >>> dividing.IndexPlate("plate 1", circles=[15, 16, 17])
    IndexPlate('plate 1', circles=[PlateCircle(15), PlateCircle(16), PlateCircle(17)])
    """

    name: str
    circles: tuple[PlateCircle, ...]
    back_circles: tuple[PlateCircle, ...] = ()
    """Circles of the back, where the plate can be turned round."""

    def __init__(
        self,
        name: str,
        *,
        circles: Iterable[PlateCircle | int],
        back_circles: Iterable[PlateCircle | int] = (),
    ) -> None:
        self._put(
            name=text(name, "name"),
            circles=several(_plate_circle, circles, "circles"),
            back_circles=several(_plate_circle, back_circles, "back_circles"),
        )
        _check_plate(self.to_dict(), "")


class ChangeGears(Value):
    """The change gears of a worm head and how they reach the plate.

    ``mesh_allowance`` is the number of teeth by which compound trains must clear
    their neighbours' shafts; None counts ratios alone.

    >>> dividing.ChangeGears(gears=[24, 24, 28, 32], mesh_allowance=15).gears
    GearSet([24, 24, 28, 32])
    """

    _positional = 0
    _renamed = {"mesh_allowance": "mesh"}
    gears: GearSet
    """The gears owned."""
    mesh_allowance: int | None = None
    most_pairs: int = 2
    """Most pairs of driver and driven that the bracket takes, 1 to 3."""
    fixed_gearing: Fraction = Fraction(1)
    """Turns of the plate for one turn of the train's last gear."""
    idlers: IdlerConvention = IdlerConvention.COMMON_HANDBOOK
    """Which idlers turn the plate which way."""
    plate_error: Angle | None = None
    """Deviation of the plate by teeth and lost motion of the train, either way.
    Needed for an error figure of differential indexing."""

    def __init__(
        self,
        *,
        gears: GearSet | Iterable[int],
        mesh_allowance: int | None = None,
        most_pairs: int = 2,
        fixed_gearing: RatioLike = 1,
        idlers: IdlerConvention | str = IdlerConvention.COMMON_HANDBOOK,
        plate_error: AngleLike | None = None,
    ) -> None:
        self._put(
            gears=gears if isinstance(gears, GearSet) else GearSet(gears),
            mesh_allowance=optional(_mesh, mesh_allowance, "mesh_allowance"),
            most_pairs=whole(most_pairs, "most_pairs"),
            fixed_gearing=ratio(fixed_gearing, "fixed_gearing"),
            idlers=choice(IdlerConvention, idlers, "idlers"),
            plate_error=optional(angle, plate_error, "plate_error"),
        )
        _check_head({"change_gears": self.to_dict()}, "change_gears")

    def to_dict(self) -> dict[str, Any]:
        """The gears as documents write them."""
        found = {name: plain(value) for name, value in self._arguments().items()}
        allowance = found.pop("mesh_allowance", None)
        if allowance is not None:
            found["mesh"] = {"clear": {"allowance_teeth": allowance}}
        return found


class WormHead(Piece):
    """A worm head with a crank, plates and sector arms.

    By simple indexing on a circle of c holes it holds ``<1/(R*c)>``.

    >>> dividing.WormHead("head", worm_ratio=40,
    ...     plates=[dividing.IndexPlate("plate 1", circles=[15, 16, 17])]).worm_ratio
    Fraction(40, 1)
    """

    kind: ClassVar[str] = "worm_head"
    name: str
    worm_ratio: Fraction
    """Crank turns for one spindle turn."""
    plates: tuple[IndexPlate, ...]
    """The plates owned."""
    registration: PinInHole | None = None
    """Crank pin and plate holes. Needed for an error figure."""
    smallest_pitch_radius_mm: float | None = None
    """The safe stand-in for circles whose own radius is not given."""
    worm_error: Angle | None = None
    """Deviation of the spindle by worm and wheel, either way. Needed for an
    error figure."""
    backlash: Angle | None = None
    """Lost motion of the spindle when the crank changes its sense."""
    sense: Sense = Sense.COUNTER_CLOCKWISE
    """The way the part turns when the crank turns clockwise."""
    change_gears: ChangeGears | None = None
    """Gears that turn the plate with the spindle, for differential indexing."""

    def __init__(
        self,
        name: str,
        *,
        worm_ratio: RatioLike,
        plates: Iterable[IndexPlate],
        registration: PinInHole | None = None,
        smallest_pitch_radius: LengthLike | None = None,
        worm_error: AngleLike | None = None,
        backlash: AngleLike | None = None,
        sense: Sense | str = Sense.COUNTER_CLOCKWISE,
        change_gears: ChangeGears | None = None,
    ) -> None:
        self._put(
            name=text(name, "name"),
            worm_ratio=ratio(worm_ratio, "worm_ratio"),
            plates=several(_index_plate, plates, "plates"),
            registration=optional(_pin_in_hole, registration, "registration"),
            smallest_pitch_radius_mm=optional(
                length, smallest_pitch_radius, "smallest_pitch_radius"
            ),
            worm_error=optional(angle, worm_error, "worm_error"),
            backlash=optional(angle, backlash, "backlash"),
            sense=choice(Sense, sense, "sense"),
            change_gears=optional(_change_gears, change_gears, "change_gears"),
        )
        self._checked()


class GraduatedDial(Piece):
    """A rotary table, or a worm head, that is read on a graduated dial.

    It holds the multiples of one graduation, ``<1/(R*graduations)>``.

    >>> dividing.GraduatedDial("table", worm_ratio=90, graduations=240)
    GraduatedDial('table', worm_ratio=90, graduations=240)
    """

    kind: ClassVar[str] = "graduated_dial"
    name: str
    worm_ratio: Fraction
    """Handle turns for one turn of the table."""
    graduations: int
    """Graduations on the dial for one handle turn, 1 to 100,000."""
    table_error: Angle | None = None
    """Deviation of the table by worm and wheel, either way. Needed for an error
    figure."""
    backlash: Angle | None = None
    """Lost motion of the table when the handle changes its sense."""
    sense: Sense = Sense.COUNTER_CLOCKWISE
    """The way in which the readings grow."""
    measured: MeasuredRing | None = None
    """What was measured of the table at equally spaced readings from 0."""
    between_measured: Angle | None = None
    """How far the table may stand off the straight line between two neighbouring
    measured readings, either way; with it the deviation there is interpolated."""

    def __init__(
        self,
        name: str,
        *,
        worm_ratio: RatioLike,
        graduations: int,
        table_error: AngleLike | None = None,
        backlash: AngleLike | None = None,
        sense: Sense | str = Sense.COUNTER_CLOCKWISE,
        measured: MeasuredRing | Mapping[str, Any] | None = None,
        between_measured: AngleLike | None = None,
    ) -> None:
        self._put(
            name=text(name, "name"),
            worm_ratio=ratio(worm_ratio, "worm_ratio"),
            graduations=whole(graduations, "graduations"),
            table_error=optional(angle, table_error, "table_error"),
            backlash=optional(angle, backlash, "backlash"),
            sense=choice(Sense, sense, "sense"),
            measured=optional(_measured_ring, measured, "measured"),
            between_measured=optional(angle, between_measured, "between_measured"),
        )
        self._checked()


class SineBar(Piece):
    """A sine bar, plate or table with gauge blocks: it tilts what stands on it by
    ``asin(height / length)``.

    >>> dividing.SineBar("bar", length=100, blocks="metric_87").most_blocks
    5
    """

    kind: ClassVar[str] = "sine_bar"
    name: str
    length_mm: float
    """Distance of the roller centres, up to a metre."""
    blocks: BlockSetName | BlockSet
    """The gauge blocks that set it: a set that makers sell, or the shop's own."""
    most_blocks: int = 5
    """Most blocks of one stack, wear blocks not counted; 1 to 16."""
    wear_block_mm: float | None = None
    """Thickness of the wear block at each end of a stack, if they are used."""
    two_stacks: bool = False
    """Whether two equal stacks stand under its roller."""
    turns_end_for_end: bool = True
    """Whether it may also be used turned end for end."""
    largest_angle: Angle = Angle(1, 6)
    """Steepest tilt that is used, above 0° and below 90°."""
    block_error_mm: float | None = None
    """Deviation of one gauge block from its nominal size, either way. Needed for
    an error figure."""
    length_error_mm: float | None = None
    """Deviation of the distance of the roller centres, either way. Needed for an
    error figure."""
    face_error: Angle = ZERO
    """How far the working face is out of line with the rollers, either way."""

    def __init__(
        self,
        name: str,
        *,
        length: LengthLike,
        blocks: BlockSetName | BlockSet | str,
        most_blocks: int = 5,
        wear_block: LengthLike | None = None,
        two_stacks: bool = False,
        turns_end_for_end: bool = True,
        largest_angle: AngleLike = "60 deg",
        block_error: LengthLike | None = None,
        length_error: LengthLike | None = None,
        face_error: AngleLike = 0,
    ) -> None:
        self._put(
            name=text(name, "name"),
            length_mm=_length(length, "length"),
            blocks=_blocks(blocks, "blocks"),
            most_blocks=whole(most_blocks, "most_blocks"),
            wear_block_mm=optional(_length, wear_block, "wear_block"),
            two_stacks=flag(two_stacks, "two_stacks"),
            turns_end_for_end=flag(turns_end_for_end, "turns_end_for_end"),
            largest_angle=angle(largest_angle, "largest_angle"),
            block_error_mm=optional(_length, block_error, "block_error"),
            length_error_mm=optional(_length, length_error, "length_error"),
            face_error=angle(face_error, "face_error"),
        )
        self._checked()

    def to_dict(self) -> dict[str, Any]:
        """The bar as documents write it."""
        found = {name: plain(value) for name, value in self._arguments().items()}
        return {**found, "blocks": _owned(self.blocks)}


class AngleBlocks(Piece):
    """Angle gauge blocks: each adds its angle or, turned round, takes it away.

    >>> dividing.AngleBlocks("wedges", blocks="pieces13")
    AngleBlocks('wedges', blocks='pieces13')
    """

    kind: ClassVar[str] = "angle_blocks"
    name: str
    blocks: AngleBlockSetName | AngleBlockSet
    """The blocks: a set that makers sell, or the shop's own."""
    block_error: Angle | None = None
    """Deviation of one block from its nominal angle, either way. Needed for an
    error figure."""

    def __init__(
        self,
        name: str,
        *,
        blocks: AngleBlockSetName | AngleBlockSet | str,
        block_error: AngleLike | None = None,
    ) -> None:
        self._put(
            name=text(name, "name"),
            blocks=_angle_blocks(blocks, "blocks"),
            block_error=optional(angle, block_error, "block_error"),
        )
        self._checked()

    def to_dict(self) -> dict[str, Any]:
        """The blocks as documents write them."""
        found = {name: plain(value) for name, value in self._arguments().items()}
        return {**found, "blocks": _owned(self.blocks)}


class Protractor(Piece):
    """A level, clinometer or protractor that shows how far the part is turned.

    >>> dividing.Protractor("level", resolution="0°05'").resolution
    Angle('1/4320 turn')
    """

    kind: ClassVar[str] = "protractor"
    name: str
    resolution: Angle
    """The finest step that can be read; a whole part of a turn, 0.1" to 180°."""
    instrument_error: Angle | None = None
    """Deviation of its readings, either way, beyond half the resolution. Needed
    for an error figure."""

    def __init__(
        self,
        name: str,
        *,
        resolution: AngleLike,
        instrument_error: AngleLike | None = None,
    ) -> None:
        self._put(
            name=text(name, "name"),
            resolution=angle(resolution, "resolution"),
            instrument_error=optional(angle, instrument_error, "instrument_error"),
        )
        self._checked()


class DrilledHole(Value):
    """A hole of the part with a pin in it, against a stop.

    >>> dividing.DrilledHole(radius=25).radius_mm
    25.0
    """

    _positional = 0
    radius_mm: float | None = None
    """Radius at which the hole stands. Needed for an error figure."""
    registration: PinInHole | None = None
    """Pin and hole. Needed for an error figure."""

    def __init__(
        self,
        *,
        radius: LengthLike | None = None,
        registration: PinInHole | None = None,
    ) -> None:
        self._put(
            radius_mm=optional(length, radius, "radius"),
            registration=optional(_pin_in_hole, registration, "registration"),
        )
        _check_contact("drilled_hole", self.to_dict())


class FlatAgainstBlock(Value):
    """A flat of the part against a block.

    >>> dividing.FlatAgainstBlock(seat_error="0°02'")
    FlatAgainstBlock(seat_error=Angle('1/10800 turn'))
    """

    _positional = 0
    seat_error: Angle | None = None
    """How far the flat may lie from true on the block, either way. Needed for an
    error figure."""

    def __init__(self, *, seat_error: AngleLike | None = None) -> None:
        self._put(seat_error=optional(angle, seat_error, "seat_error"))
        _check_contact("flat", self.to_dict())


class PartReference(Piece):
    """A stop for a feature that the part already has. It repeats the angles of
    the device that its stops were set with.

    >>> dividing.PartReference("keyway stop", contact=dividing.FlatAgainstBlock(),
    ...     counted_from="common_datum", angles=["0 deg", "90 deg"]).angles
    (Angle('0°'), Angle('90°'))
    """

    _renamed = {"counted_from": "from"}
    kind: ClassVar[str] = "part_reference"
    name: str
    contact: DrilledHole | FlatAgainstBlock
    """What the part touches."""
    counted_from: ReferenceFrom
    """Which feature is brought to the stop; ``from`` in documents."""
    angles: tuple[Angle, ...]
    """How far on from the referenced feature the cutter works, one angle for each
    stop. From the last feature there is one stop only."""
    angle_error: Angle | None = None
    """Error of the device that the stops were set with, either way. Needed for
    an error figure."""

    def __init__(
        self,
        name: str,
        *,
        contact: DrilledHole | FlatAgainstBlock,
        counted_from: ReferenceFrom | str,
        angles: Iterable[AngleLike],
        angle_error: AngleLike | None = None,
    ) -> None:
        self._put(
            name=text(name, "name"),
            contact=_contact(contact, "contact"),
            counted_from=choice(ReferenceFrom, counted_from, "counted_from"),
            angles=several(angle, angles, "angles"),
            angle_error=optional(angle, angle_error, "angle_error"),
        )
        self._checked()

    def to_dict(self) -> dict[str, Any]:
        """The reference as documents write it."""
        contact = "drilled_hole" if isinstance(self.contact, DrilledHole) else "flat"
        found = Value.to_dict(self)
        return {**found, "contact": {contact: self.contact.to_dict()}}


class Stack(Piece):
    """One device held on another, such as a faced block in a chuck on a table.

    ``members`` are the names of other pieces of the workshop, from the machine to
    the part; 2 to 4.

    >>> dividing.Stack("block on table", members=["table", "square block"])
    Stack('block on table', members=['table', 'square block'])
    """

    kind: ClassVar[str] = "stack"
    name: str
    members: tuple[str, ...]

    def __init__(self, name: str, *, members: Iterable[str]) -> None:
        self._put(name=text(name, "name"), members=several(text, members, "members"))
        self._checked()


Equipment: TypeAlias = (
    DirectPlate
    | VernierIndexer
    | FacedBlock
    | VeeBlock
    | PinPlate
    | WormHead
    | GraduatedDial
    | SineBar
    | AngleBlocks
    | Protractor
    | PartReference
    | Stack
)
"""One piece of equipment."""

KINDS: dict[str, type[Piece]] = {
    kind.kind: kind
    for kind in (
        DirectPlate,
        VernierIndexer,
        FacedBlock,
        VeeBlock,
        PinPlate,
        WormHead,
        GraduatedDial,
        SineBar,
        AngleBlocks,
        Protractor,
        PartReference,
        Stack,
    )
}
"""The class of each kind."""


def pieces_of(json: str) -> tuple[Piece, ...]:
    """The equipment of a workshop's document, as the core wrote it."""
    found = []
    for entry in _loads(json)["equipment"]:
        ((kind, fields),) = entry.items()
        found.append(made(KINDS[kind], fields, kind))
    return tuple(found)


def workshop_page(name: str, pieces: Iterable[Piece]) -> str:
    """A workshop as a table for notebooks."""
    rows = []
    for piece in pieces:
        words = "; ".join(told(piece, without="name"))
        rows.append([piece.name, piece.kind.replace("_", " "), words])
    return grid(f"Workshop: {name}", ["Equipment", "Kind", "What it is"], rows)


# How arguments that are values of their own are read.

_length = length  # where an argument is called `length`


def _measured_place(value: Any, name: str) -> MeasuredPlace:
    return made(MeasuredPlace, value, name)


def _measured_ring(value: Any, name: str) -> MeasuredRing:
    return made(MeasuredRing, value, name)


def _pin_in_hole(value: Any, name: str) -> PinInHole:
    return made(PinInHole, value, name)


def _levelling(value: Any, name: str) -> Levelling:
    return made(Levelling, value, name)


def _index_plate(value: Any, name: str) -> IndexPlate:
    return made(IndexPlate, value, name)


def _change_gears(value: Any, name: str) -> ChangeGears:
    return made(ChangeGears, value, name)


def _numbers(value: Any, name: str) -> tuple[float, ...]:
    return several(number, value, name)


def _covariance(
    value: Any, name: str
) -> CovarianceByDifference | CovarianceLowerTriangle:
    if isinstance(value, (CovarianceByDifference, CovarianceLowerTriangle)):
        return value
    if isinstance(value, Mapping):
        kind, inner = entry(value, name, ("by_difference", "lower_triangle"))
        if kind == "by_difference":
            return CovarianceByDifference(inner)
        return CovarianceLowerTriangle(inner)
    raise wrong(name, "a CovarianceByDifference or CovarianceLowerTriangle", value)


def _drilled(value: Any, name: str) -> DrilledOnHead | DrilledByCoordinates:
    if isinstance(value, (DrilledOnHead, DrilledByCoordinates)):
        return value
    if isinstance(value, Mapping):
        kind, inner = entry(value, name, ("on_dividing_head", "by_coordinates"))
        if kind == "on_dividing_head":
            return made(DrilledOnHead, inner, name)
        return made(DrilledByCoordinates, inner, name)
    raise wrong(name, "a DrilledOnHead or a DrilledByCoordinates", value)


def _check_drilled(value: DrilledOnHead | DrilledByCoordinates, kind: str) -> None:
    pin = {"pin_diameter": 1, "hole_diameter": 1, "drilled": value.to_dict()}
    plate = {"name": "plate", "circles": [{"holes": 2}], "registration": pin}
    _check("direct_plate", plate, f"registration.drilled.{kind}")


def _is_number(value: Any) -> bool:
    return hasattr(value, "__index__") and not isinstance(value, bool)


def _hole_circle(value: Any, name: str) -> HoleCircle:
    if _is_number(value):
        return HoleCircle(value)
    return made(HoleCircle, value, name)


def _plate_circle(value: Any, name: str) -> PlateCircle:
    if _is_number(value):
        return PlateCircle(value)
    return made(PlateCircle, value, name)


def _mesh(value: Any, name: str) -> int | None:
    if value == "ratios_alone":
        return None
    if isinstance(value, Mapping):
        _, clear = entry(value, name, ("clear",))
        return whole(entry(clear, name, ("allowance_teeth",))[1], name)
    return whole(value, name)


def _blocks(value: Any, name: str) -> BlockSetName | BlockSet:
    if isinstance(value, BlockSet):
        return value
    if isinstance(value, Mapping):
        kind, inner = entry(value, name, ("named", "own"))
        return BlockSet.of_units(**inner) if kind == "own" else choice(BlockSetName, inner, name)
    return choice(BlockSetName, value, name)


def _angle_blocks(value: Any, name: str) -> AngleBlockSetName | AngleBlockSet:
    if isinstance(value, AngleBlockSet):
        return value
    if isinstance(value, Mapping):
        kind, inner = entry(value, name, ("named", "own"))
        return AngleBlockSet(inner) if kind == "own" else choice(AngleBlockSetName, inner, name)
    return choice(AngleBlockSetName, value, name)


def _owned(
    blocks: BlockSetName | BlockSet | AngleBlockSetName | AngleBlockSet,
) -> dict[str, Any]:
    if isinstance(blocks, (BlockSet, AngleBlockSet)):
        return {"own": blocks.to_document()}
    return {"named": str(blocks)}


def _contact(value: Any, name: str) -> DrilledHole | FlatAgainstBlock:
    if isinstance(value, (DrilledHole, FlatAgainstBlock)):
        return value
    if isinstance(value, Mapping):
        kind, inner = entry(value, name, ("drilled_hole", "flat"))
        if kind == "drilled_hole":
            return made(DrilledHole, inner, name)
        return made(FlatAgainstBlock, inner, name)
    raise wrong(name, "a DrilledHole or a FlatAgainstBlock", value)


def _check_measured(ring: Mapping[str, Any], inside: str) -> None:
    dial = {"name": "dial", "worm_ratio": 1, "graduations": 1, "measured": ring}
    _check("graduated_dial", dial, inside)


def _check_head(fields: Mapping[str, Any], inside: str, only: str = "") -> None:
    plates = [{"name": "plate", "circles": [2]}]
    head = {"name": "head", "worm_ratio": 40, "plates": plates, **fields}
    _check("worm_head", head, inside, only)


def _check_plate(plate: Mapping[str, Any], inside: str, only: str = "") -> None:
    _check_head({"plates": [plate]}, f"plates[0].{inside}".rstrip("."), only)


def _check_contact(kind: str, fields: Mapping[str, Any]) -> None:
    reference = {"name": "stop", "from": "common_datum", "angles": ["0 deg"]}
    _check("part_reference", {**reference, "contact": {kind: fields}}, f"contact.{kind}")
