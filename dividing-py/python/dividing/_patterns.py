"""Plates to drill: what a brief asks, and what a pattern answers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, ClassVar, TypeAlias

from ._dividing import Angle, _check_brief, _loads
from ._documents import text_of
from ._errors import InconsistentError
from ._html import grid
from ._values import (
    AngleLike,
    LengthLike,
    RatioLike,
    Value,
    angle,
    entry,
    flag,
    in_words,
    length,
    made,
    optional,
    plain,
    ratio,
    several,
    settle,
    text,
    told,
    whole,
    wrong,
)


class Disc(Value):
    """A round plate.

    >>> dividing.Disc("4 in").diameter_mm
    101.6
    """

    kind: ClassVar[str] = "disc"
    diameter_mm: float

    def __init__(self, diameter: LengthLike) -> None:
        self._put(diameter_mm=length(diameter, "diameter"))


class Polygon(Value):
    """A plate with equal faces; the first looks along +x. Its faces index too.

    >>> dividing.Polygon(6, across_flats=90).faces
    6
    """

    kind: ClassVar[str] = "polygon"
    faces: int
    """3 to 100."""
    across_flats_mm: float
    """Twice the distance from centre to face."""

    def __init__(self, faces: int, *, across_flats: LengthLike) -> None:
        self._put(
            faces=whole(faces, "faces"),
            across_flats_mm=length(across_flats, "across_flats"),
        )


class CircleOnPlate(Value):
    """A circle on the plate: a screw or dowel hole, or what no hole may cut.

    >>> dividing.CircleOnPlate(x=30, y=0, diameter=6.5)
    CircleOnPlate(x=30.0, y=0.0, diameter=6.5)
    """

    _positional = 0
    x_mm: float
    """Centre to the right of the plate's centre."""
    y_mm: float
    """Centre above the plate's centre."""
    diameter_mm: float

    def __init__(self, *, x: LengthLike, y: LengthLike, diameter: LengthLike) -> None:
        self._put(
            x_mm=length(x, "x"), y_mm=length(y, "y"), diameter_mm=length(diameter, "diameter")
        )


class DivisionWish(Value):
    """N equal parts of a turn, 2 to 100,000, with the largest deviation allowed
    either way.

    >>> dividing.DivisionWish(12, tolerance="0°02'").tolerance
    Angle('1/10800 turn')
    """

    _bare = True
    division: int
    tolerance: Angle | None = None

    def __init__(self, division: int, *, tolerance: AngleLike | None = None) -> None:
        self._put(
            division=whole(division, "division"),
            tolerance=optional(angle, tolerance, "tolerance"),
        )


class AngleWish(Value):
    """A single angle from the zero hole of its ring.

    >>> dividing.AngleWish("17.5 deg").angle
    Angle('17.5°')
    """

    _bare = True
    angle: Angle
    tolerance: Angle | None = None

    def __init__(self, angle: AngleLike, *, tolerance: AngleLike | None = None) -> None:
        self._put(
            angle=_angle(angle, "angle"),
            tolerance=optional(_angle, tolerance, "tolerance"),
        )


class ListWish(Value):
    """Several angles on one ring, from its zero hole.

    >>> dividing.ListWish(["0 deg", "17.5 deg"]).angles
    (Angle('0°'), Angle('17.5°'))
    """

    _bare = True
    angles: tuple[Angle, ...]
    tolerance: Angle | None = None

    def __init__(
        self, angles: Iterable[AngleLike], *, tolerance: AngleLike | None = None
    ) -> None:
        self._put(
            angles=several(angle, angles, "angles"),
            tolerance=optional(angle, tolerance, "tolerance"),
        )


class FixedRing(Value):
    """A ring that the user fixes: at a radius, with divisions, or both.

    >>> dividing.FixedRing(radius=40, divisions=[12]).divisions
    (12,)
    """

    _positional = 0
    radius_mm: float | None = None
    divisions: tuple[int, ...] = ()
    """Divisions that must stand on it; others may join them."""
    phase: Angle | None = None
    """Angle of its zero hole."""

    def __init__(
        self,
        *,
        radius: LengthLike | None = None,
        divisions: Iterable[int] = (),
        phase: AngleLike | None = None,
    ) -> None:
        self._put(
            radius_mm=optional(length, radius, "radius"),
            divisions=several(whole, divisions, "divisions"),
            phase=optional(angle, phase, "phase"),
        )


class ForPlunger(Value):
    """A pin or plunger at one station enters the holes.

    >>> dividing.ForPlunger()
    ForPlunger()
    """

    kind: ClassVar[str] = "plunger"

    def __init__(self) -> None:
        pass


class ForWormHead(Value):
    """The plate of a worm head: R/N turns of the crank for each of N divisions.

    >>> dividing.ForWormHead(ratio=40).ratio
    Fraction(40, 1)
    """

    _positional = 0
    kind: ClassVar[str] = "worm_head"
    ratio: Fraction
    """Crank turns for one spindle turn."""

    def __init__(self, *, ratio: RatioLike) -> None:
        self._put(ratio=_ratio(ratio, "ratio"))


class ForPins(Value):
    """Pins stand in the holes; a straight bar on two of them is levelled.

    >>> dividing.ForPins(square=True).square
    True
    """

    _positional = 0
    kind: ClassVar[str] = "pins"
    square: bool = False
    """Whether the bar is also set upright with a square."""
    part_diameter_mm: float | None = None
    """The part lies between the pins: its diameter."""

    def __init__(
        self, *, square: bool = False, part_diameter: LengthLike | None = None
    ) -> None:
        self._put(
            square=flag(square, "square"),
            part_diameter_mm=optional(length, part_diameter, "part_diameter"),
        )


class ForVernierPair(Value):
    """Holes in the turning plate and stations in the fixed one.

    >>> dividing.ForVernierPair()
    ForVernierPair()
    """

    kind: ClassVar[str] = "vernier_pair"

    def __init__(self) -> None:
        pass


PlateUse: TypeAlias = ForPlunger | ForWormHead | ForPins | ForVernierPair
"""How a plate registers."""

_USES: dict[str, type[Value]] = {
    use.kind: use for use in (ForPlunger, ForWormHead, ForPins, ForVernierPair)
}
_OUTLINES: dict[str, type[Value]] = {kind.kind: kind for kind in (Disc, Polygon)}
_PLUNGER = ForPlunger()


class PlateBrief(Value):
    """What is asked of a plate: what it must serve and what it is made of.

    Divisions may be plain numbers, angles plain angles, lists plain lists. One of
    ``hole_diameter`` and ``fit`` (ISO 286, such as ``"6 mm H7/g6"``) is wanted.

    Raises ValueError (one of this package) that names the argument.

    >>> brief = dividing.PlateBrief(dividing.Disc(100), divisions=[5, 9, 12],
    ...     hole_diameter=6, least_web=2, least_edge_distance=3)
    >>> brief.divisions[1]
    DivisionWish(9)
    """

    _renamed = {"used": "use"}
    outline: Disc | Polygon
    divisions: tuple[DivisionWish, ...] = ()
    angles: tuple[AngleWish, ...] = ()
    lists: tuple[ListWish, ...] = ()
    used: PlateUse = _PLUNGER
    """How the plate is used; ``use`` in documents."""
    bore_mm: float | None = None
    """Diameter of the bore."""
    keep_outs: tuple[CircleOnPlate, ...] = ()
    """Circles that no hole may cut into."""
    mounting_holes: tuple[CircleOnPlate, ...] = ()
    """Holes for screws and dowels; the least web holds against them."""
    hole_diameter_mm: float | None = None
    fit: str | None = None
    pin_diameter_mm: float | None = None
    """Pin or plunger; without it no error is foretold."""
    least_web_mm: float = 0.0
    """Least material between two holes."""
    least_edge_distance_mm: float = 0.0
    """Least material between a hole and the outline."""
    least_bore_edge_distance_mm: float | None = None
    """The same at the bore; as at the outline where not given."""
    rings: tuple[FixedRing, ...] = ()
    """Rings that are fixed, wholly or in part."""
    most_rings: int | None = None
    hole_position_tolerance_mm: float | None = None
    """Diameter of the zone within which the machine puts each hole's centre."""

    def __init__(
        self,
        outline: Disc | Polygon,
        *,
        least_web: LengthLike,
        least_edge_distance: LengthLike,
        divisions: Iterable[DivisionWish | int] = (),
        angles: Iterable[AngleWish | AngleLike] = (),
        lists: Iterable[ListWish | Iterable[AngleLike]] = (),
        used: PlateUse = _PLUNGER,
        bore: LengthLike | None = None,
        keep_outs: Iterable[CircleOnPlate] = (),
        mounting_holes: Iterable[CircleOnPlate] = (),
        hole_diameter: LengthLike | None = None,
        fit: str | None = None,
        pin_diameter: LengthLike | None = None,
        least_bore_edge_distance: LengthLike | None = None,
        rings: Iterable[FixedRing] = (),
        most_rings: int | None = None,
        hole_position_tolerance: LengthLike | None = None,
    ) -> None:
        self._put(
            outline=_outline(outline, "outline"),
            divisions=several(_division, divisions, "divisions"),
            angles=several(_angle_wish, angles, "angles"),
            lists=several(_list, lists, "lists"),
            used=_use(used, "used"),
            bore_mm=optional(length, bore, "bore"),
            keep_outs=several(_circle, keep_outs, "keep_outs"),
            mounting_holes=several(_circle, mounting_holes, "mounting_holes"),
            hole_diameter_mm=optional(length, hole_diameter, "hole_diameter"),
            fit=optional(text, fit, "fit"),
            pin_diameter_mm=optional(length, pin_diameter, "pin_diameter"),
            least_web_mm=length(least_web, "least_web"),
            least_edge_distance_mm=length(least_edge_distance, "least_edge_distance"),
            least_bore_edge_distance_mm=optional(
                length, least_bore_edge_distance, "least_bore_edge_distance"
            ),
            rings=several(_fixed_ring, rings, "rings"),
            most_rings=optional(whole, most_rings, "most_rings"),
            hole_position_tolerance_mm=optional(
                length, hole_position_tolerance, "hole_position_tolerance"
            ),
        )
        _check_brief(self.to_json())

    def to_dict(self) -> dict[str, Any]:
        """The brief as a document."""
        found = {name: plain(value) for name, value in self._arguments().items()}
        found.pop("used", None)
        bare = isinstance(self.used, (ForPlunger, ForVernierPair))
        use = self.used.kind if bare else {self.used.kind: self.used.to_dict()}
        return {
            **found,
            "format": 1,
            "outline": {self.outline.kind: self.outline.to_dict()},
            "least_web": self.least_web_mm,
            "least_edge_distance": self.least_edge_distance_mm,
            "use": use,
        }

    def _repr_html_(self) -> str:
        used = ", ".join([self.used.kind.replace("_", " "), *told(self.used)])
        rows = [["outline", ", ".join(told(self.outline))], ["used for", used]]
        for name, value in self._arguments().items():
            if name not in ("outline", "used"):
                unit = " mm" if f"{name}_mm" in self._names else ""
                rows.append([name.replace("_", " "), in_words(value) + unit])
        return grid("Brief of a plate", None, rows)

    def to_json(self) -> str:
        """The brief as JSON text.

        >>> plate.brief.to_json().startswith("{")
        True
        """
        return text_of(self.to_dict(), "brief")

    @classmethod
    def from_json(cls, json: str) -> PlateBrief:
        """Reads a brief from JSON text; errors carry the path of the field.

        >>> dividing.PlateBrief.from_json(plate.brief.to_json()) == plate.brief
        True
        """
        _check_brief(text(json, "json"))
        return _brief(_loads(json))


def _brief(document: Mapping[str, Any]) -> PlateBrief:
    fields = {key: value for key, value in document.items() if key != "format"}
    return made(PlateBrief, fields, "brief")


@dataclass(frozen=True, slots=True)
class PlateHole:
    """One hole of a ring.

    >>> plate.rings[0].holes[1].angle
    Angle('40°')
    """

    number: int
    """Number on its ring, from 0, as stamped."""
    place: int | None
    """Which of the ring's places; None where the ring has no such number."""
    angle: Angle
    """Angle on the plate, the phase included, within one turn."""


@dataclass(frozen=True, slots=True)
class PlateRing:
    """Holes on one pitch circle.

    >>> plate.rings[0].places, len(plate.rings[0].holes)
    (9, 9)
    """

    radius_mm: float
    phase: Angle
    """Angle of the zero hole."""
    places: int | None
    """Equally spaced places of which the holes are some."""
    divisions: tuple[int, ...]
    """Whole divisions whose every place is drilled, those inside others left out."""
    holes: tuple[PlateHole, ...]
    """By growing angle from the zero hole."""


@dataclass(frozen=True, slots=True)
class PinPair:
    """Two pins of one ring for one feature, counted along the circle used.

    >>> dividing.PinPair(0, 1, 8, 60.0, False).baseline_mm
    60.0
    """

    feature: int
    first: int
    second: int
    baseline_mm: float
    upright: bool
    """Whether the bar stands upright, set with a square."""


Wish: TypeAlias = DivisionWish | AngleWish | ListWish
"""What a plate must serve."""


@dataclass(frozen=True, slots=True)
class Served:
    """A wish and what serves it.

    >>> plate.served[0].ring, plate.served[0].holes[:3]
    (0, (0, 1, 2))
    """

    wish: Wish
    by: str
    """faces, any_hole, ring, pins or vernier_pair."""
    number: int | None
    """Faces of the outline, or positions of a vernier pair."""
    ring: int | None
    """Index of the ring, from the outside."""
    circle: int | None
    """Equally spaced holes of the ring that pins use."""
    holes: tuple[int, ...]
    """Their numbers."""
    pairs: tuple[PinPair, ...]
    """Two pins for each feature."""
    predicted_error_arcsec: float | None
    """Largest error from hole position and pin clearance, as plans add it up."""
    tolerance_arcsec: float | None
    verdict: str
    """holds, does_not_hold or not_reckoned."""


@dataclass(frozen=True, slots=True)
class Certificate:
    """Why there are not fewer holes.

    >>> plate.certificate.holes, plate.certificate.lower_bound, plate.certificate.gap
    (9, 9, 0)
    """

    holes: int
    """Holes of the pattern, stations included."""
    lower_bound: int
    """No pattern under the same rules has fewer."""
    gap: int
    proof: str
    """each_hole_once, shared_holes, linear_relaxation, exhausted or factor_pairs."""
    complete: bool
    """Whether fewest holes, and the best worst margin among those, are proved."""
    separated_rings: bool
    """Whether rings stand a hole and a web apart; the proof is about such plates."""
    wishes_shared_out: int
    partitions: float
    """Ways to share them out, rounded (Bell number)."""
    rings_considered: int
    nodes: int

    @property
    def proved(self) -> bool:
        """Whether fewer holes are impossible."""
        return self.gap == 0

    def _repr_html_(self) -> str:
        rows = [
            ["holes", str(self.holes)],
            ["proved to need", str(self.lower_bound)],
            ["proof", self.proof.replace("_", " ")],
            ["complete", "yes" if self.complete else "no: stopped at the limit of work"],
            ["rings considered", f"{self.rings_considered:,}"],
        ]
        return grid("Certificate", None, rows)


@dataclass(frozen=True, slots=True)
class PlateCheck:
    """Every pair of holes and every edge, measured again from the coordinates.

    >>> plate.check.duplicates
    0
    """

    least_web_mm: float | None
    least_web_between: tuple[tuple[int, int], tuple[int, int]] | None
    """Ring and number of the two holes."""
    least_edge_mm: float | None
    least_bore_edge_mm: float | None
    least_mounting_web_mm: float | None
    least_keep_out_mm: float | None
    duplicates: int
    pairs: int
    """Pairs of holes that were measured."""
    passed: bool


@dataclass(frozen=True, slots=True)
class PartUnderBar:
    """The part under the bar of one wish.

    >>> dividing.PartUnderBar(dividing.DivisionWish(6), -8.5, True).symmetric
    True
    """

    wish: Wish
    least_gap_mm: float
    """Least gap between the edge of a bar laid outside its two pins and the part;
    below zero a bar at the height of the part meets it."""
    symmetric: bool
    """Whether that gap is the same at every feature."""


@dataclass(frozen=True, slots=True)
class PartRoom:
    """The part inside the innermost pins.

    >>> dividing.PartRoom(50.0, 54.0, 2.0, True, ()).fits
    True
    """

    part_diameter_mm: float
    largest_part_mm: float
    """Largest round part that goes inside the innermost pins."""
    gap_mm: float
    """Gap between the part, centred, and each innermost pin."""
    fits: bool
    bars: tuple[PartUnderBar, ...]
    """For each wish that pins serve, whether the bar lies clear of the part."""


@dataclass(frozen=True, slots=True)
class BarRoom:
    """What the other pins leave of the bar when every hole carries one.

    >>> dividing.BarRoom(dividing.DivisionWish(9), 12.0, 3, "").free_strip_mm
    12.0
    """

    wish: Wish
    free_strip_mm: float | None
    """Widest bar that lies on its two pins past all others; None when no pin
    stands beyond a chord."""
    feature: int
    """Feature with the least room."""
    text: str
    """What to do, as a sentence."""


@dataclass(frozen=True, slots=True)
class DrillRow:
    """One hole of a drill table.

    >>> plate.drill_table().rows[0].label
    'A0'
    """

    label: str
    """Ring letter and number."""
    ring: int
    number: int
    angle: Angle
    x: str
    """X, rounded to the digits asked."""
    y: str
    rounding_error_arcsec: float
    """Angle that rounding X and Y turns the hole by."""
    rounding_radial_mm: float
    """Radial error of rounding."""


@dataclass(frozen=True, slots=True)
class DrillTable:
    """Coordinates of every hole.

    >>> plate.drill_table(digits=2).largest_rounding_error_arcsec < 30
    True
    """

    unit: str
    rows: tuple[DrillRow, ...]
    largest_rounding_error_arcsec: float
    csv: str
    """The table as CSV text."""

    def _repr_html_(self) -> str:
        head = ["Hole", "Angle", f"X, {self.unit}", f"Y, {self.unit}"]
        rows = [[it.label, str(it.angle), it.x, it.y] for it in self.rows]
        return grid("Drill table", head, rows)


@dataclass(frozen=True, slots=True)
class CheckDimension:
    """A dimension to check a drilled plate by, in millimetres.

    >>> plate.check_dimensions[0].from_hole
    'A0'
    """

    kind: str
    """neighbours, across_the_circle or between_rings."""
    from_hole: str
    to_hole: str
    centres_mm: float
    over_pins_mm: float
    """Over pins that fill the holes."""
    between_pins_mm: float
    """Between such pins."""


@dataclass(frozen=True, slots=True)
class PlateShortfall:
    """What is short, and by how much.

    >>> try:
    ...     dividing.design_plate(dividing.PlateBrief(dividing.Disc(30), divisions=[97],
    ...         hole_diameter=6, least_web=2, least_edge_distance=3))
    ... except dividing.PlateDoesNotFitError as error:
    ...     print(error.shortfall.smallest_outline_mm > 200)
    True
    """

    binding: tuple[str, ...]
    """What binds, in plain words."""
    smallest_outline_mm: float | None
    """Smallest outline that fits separated rings, all else the same."""
    largest_hole_mm: float | None
    """Largest hole that fits separated rings, the clearance kept."""
    largest_pin_mm: float | None
    """The largest pin with it; none when the brief has no pin."""
    largest_subset: tuple[Wish, ...]
    """Largest part of the wishes that fits."""
    subset_proved: bool
    """Whether no larger part fits, or only none was found."""


class PlateDoesNotFitError(InconsistentError):
    """No plate of this outline serves every wish; ``shortfall`` says what binds
    and what would fit.

    >>> issubclass(dividing.PlateDoesNotFitError, ValueError)
    True
    """

    shortfall: PlateShortfall | None = None

    def __reduce__(self) -> tuple[Any, ...]:
        state = {"shortfall": self.shortfall}
        return type(self), (self.message, self.field), state


def does_not_fit(sentence: str, json: str) -> PlateDoesNotFitError:
    """The error for a shortfall."""
    error = PlateDoesNotFitError(sentence, "brief")
    document = _loads(json)
    error.shortfall = PlateShortfall(
        tuple(document["binding"]),
        document.get("smallest_outline_mm"),
        document.get("largest_hole_mm"),
        document.get("largest_pin_mm"),
        tuple(wish_of(wish) for wish in document["largest_subset"]),
        document["subset_proved"],
    )
    return error


def wish_of(document: Mapping[str, Any]) -> Wish:
    """A wish of an answer."""
    ((kind, value),) = document.items()
    if kind == "division":
        return DivisionWish(value)
    return AngleWish(value) if kind == "angle" else ListWish(value)


def parts_of(document: Mapping[str, Any]) -> dict[str, Any]:
    """The records of a pattern's document."""
    certificate = document["certificate"]
    check = document["check"]
    between = check.get("least_web_between")
    return {
        "brief": _brief(document["brief"]),
        "rings": tuple(_ring(ring) for ring in document["rings"]),
        "served": tuple(_served(served) for served in document["served"]),
        "certificate": Certificate(*(certificate[name] for name in Certificate.__slots__)),
        "check": PlateCheck(
            check.get("least_web_mm"),
            between and tuple((hole["ring"], hole["number"]) for hole in between),
            check.get("least_edge_mm"),
            check.get("least_bore_edge_mm"),
            check.get("least_mounting_web_mm"),
            check.get("least_keep_out_mm"),
            check["duplicates"],
            check["pairs"],
            check["passed"],
        ),
    }


def _ring(ring: Mapping[str, Any]) -> PlateRing:
    holes = tuple(
        PlateHole(hole["number"], hole.get("place"), Angle(hole["angle"]))
        for hole in ring["holes"]
    )
    divisions = tuple(ring["divisions"])
    phase = Angle(ring["phase"])
    return PlateRing(ring["radius_mm"], phase, ring.get("places"), divisions, holes)


def _served(served: Mapping[str, Any]) -> Served:
    by: Any = served["by"]
    kind, value = (by, None) if isinstance(by, str) else next(iter(by.items()))
    inner: Mapping[str, Any] = value if isinstance(value, Mapping) else {}
    pairs = tuple(
        PinPair(*(pair[name] for name in PinPair.__slots__))
        for pair in inner.get("pairs", ())
    )
    return Served(
        wish_of(served["wish"]),
        kind,
        value if isinstance(value, int) else inner.get("positions"),
        inner.get("ring"),
        inner.get("circle"),
        tuple(inner.get("holes", ())),
        pairs,
        served.get("predicted_error_arcsec"),
        served.get("tolerance_arcsec"),
        served["verdict"],
    )


# How the parts of a brief are read.

_angle = angle  # where an argument is called `angle`
_ratio = ratio  # and where one is called `ratio`


def _outline(value: Any, name: str) -> Value:
    if isinstance(value, (Disc, Polygon)):
        return value
    if isinstance(value, Mapping):
        kind, fields = entry(value, name, _OUTLINES)
        return made(_OUTLINES[kind], fields, name)
    raise wrong(name, "a Disc or a Polygon", value)


def _use(value: Any, name: str) -> Value:
    if isinstance(value, (ForPlunger, ForWormHead, ForPins, ForVernierPair)):
        return value
    if isinstance(value, Mapping):
        kind, fields = entry(value, name, _USES)
        return made(_USES[kind], fields, name)
    if isinstance(value, str) and value in ("plunger", "vernier_pair"):
        return _USES[value]()
    raise wrong(name, "a ForPlunger, ForWormHead, ForPins or ForVernierPair", value)


def _division(value: Any, name: str) -> DivisionWish:
    if hasattr(value, "__index__") and not isinstance(value, bool):
        return DivisionWish(value)
    return made(DivisionWish, value, name)


def _angle_wish(value: Any, name: str) -> AngleWish:
    if isinstance(value, (AngleWish, Mapping)):
        return made(AngleWish, value, name)
    return AngleWish(_angle(value, name))


def _list(value: Any, name: str) -> ListWish:
    if isinstance(value, (ListWish, Mapping)):
        return made(ListWish, value, name)
    return ListWish(several(angle, value, name))


def _circle(value: Any, name: str) -> CircleOnPlate:
    return made(CircleOnPlate, value, name)


def _fixed_ring(value: Any, name: str) -> FixedRing:
    return made(FixedRing, value, name)


settle(globals())
