"""Small records that plans are made of. All are frozen; angles are exact."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, ClassVar, Literal, TypeAlias

from ._codec import plain, text_of_record
from ._dividing import Angle, _contributor_figures, _float_of, _text_of
from ._enums import (
    BarPlace,
    BlockUnit,
    Distribution,
    InputUnit,
    Persistence,
    SupplierKind,
)
from ._values import choice, settle


@dataclass(frozen=True, slots=True)
class Hole:
    """The plunger in a hole of a direct plate.

    >>> dividing.Hole(circle=24, hole=3).kind
    'hole'
    """

    kind: ClassVar[str] = "hole"
    circle: int
    """Holes on the circle."""
    hole: int
    """The hole, numbered from 0."""


@dataclass(frozen=True, slots=True)
class HoleAtStation:
    """The pin of a vernier indexer through a hole and a station.

    >>> dividing.HoleAtStation(hole=3, station=1).station
    1
    """

    kind: ClassVar[str] = "hole_at_station"
    hole: int
    """The hole, numbered from 0."""
    station: int
    """The station, numbered from 0 as listed."""


@dataclass(frozen=True, slots=True)
class FaceDown:
    """A faced block on one of its faces.

    >>> dividing.FaceDown(face=2).face
    2
    """

    kind: ClassVar[str] = "face_down"
    face: int
    """The face, numbered from 0."""


@dataclass(frozen=True, slots=True)
class FacesInVee:
    """A faced block in a V-block.

    >>> dividing.FacesInVee(left_face=0, right_face=1).kind
    'faces_in_vee'
    """

    kind: ClassVar[str] = "faces_in_vee"
    left_face: int
    """The face on the left flank, seen from the side of the cutter."""
    right_face: int
    """The face on the right flank."""


@dataclass(frozen=True, slots=True)
class BarOnPins:
    """A bar on two pins of a pin plate.

    >>> dividing.BarOnPins(9, 0, 3, 3, dividing.BarPlace.LEVEL_ABOVE).span
    3
    """

    kind: ClassVar[str] = "bar_on_pins"
    circle: int
    """Holes on the ring."""
    first_pin: int
    """The hole of the first pin."""
    second_pin: int
    """The hole of the second pin."""
    span: int
    """Hole spaces between the two, the short way round."""
    bar: BarPlace
    """How the bar lies."""


@dataclass(frozen=True, slots=True)
class Crank:
    """The crank pin of a worm head in a hole.

    >>> plans[0].placements[1].setting
    Crank(plate=0, back=False, circle=18, turns=4, hole=8)
    """

    kind: ClassVar[str] = "crank"
    plate: int
    """The plate, as listed, from 0."""
    back: bool
    """Whether the plate shows its back."""
    circle: int
    """Holes on the circle."""
    turns: int
    """Whole crank turns from the zero setting."""
    hole: int
    """Holes beyond them."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A reading of a graduated dial.

    >>> dividing.Reading(turns=1, graduation=0, table=dividing.Angle("4 deg")).table
    Angle('4°')
    """

    kind: ClassVar[str] = "reading"
    turns: int
    """Whole handle turns from zero."""
    graduation: int
    """Graduations beyond them."""
    table: Angle
    """The same as an angle of the table."""


@dataclass(frozen=True, slots=True)
class StackedBlocks:
    """Gauge blocks under a sine bar: one stack, or two whose difference counts.

    >>> dividing.StackedBlocks(high=(100_000, 420_200), low=()).high
    (100000, 420200)
    """

    high: tuple[int, ...]
    """Blocks under the high roller, ascending, in units of the set."""
    low: tuple[int, ...]
    """Blocks under the low roller, for heights below the smallest block."""


@dataclass(frozen=True, slots=True)
class BarOnBlocks:
    """A sine bar on gauge blocks.

    >>> setting = dividing.BarOnBlocks(False, dividing.BlockUnit.TENTH_MICROMETRE,
    ...     500_000, (dividing.StackedBlocks((500_000,), ()),), None)
    >>> setting.height_mm
    50.0
    """

    kind: ClassVar[str] = "sine_bar"
    reversed: bool
    """Whether the bar stands turned end for end, which tilts it the other way."""
    unit: BlockUnit
    """The unit of all sizes."""
    height_units: int
    """Height of the high roller above the low one, in units."""
    stacks: tuple[StackedBlocks, ...]
    """One; two equal ones under a wide bar; none when it lies level."""
    wear_block_units: int | None
    """Thickness of the wear block at each end of a stack, in units."""

    @property
    def height_mm(self) -> float:
        """Height of the high roller above the low one."""
        if self.unit is BlockUnit.TENTH_MICROMETRE:
            return self.height_units / 1e4
        return self.height_units * 25.4 / 1e5


@dataclass(frozen=True, slots=True)
class WrungAngleBlocks:
    """A stack of angle gauge blocks.

    >>> dividing.WrungAngleBlocks((3600,), (180,)).kind
    'angle_stack'
    """

    kind: ClassVar[str] = "angle_stack"
    plus_arcsec: tuple[int, ...]
    """Blocks that add their angle, in seconds of arc, ascending."""
    minus_arcsec: tuple[int, ...]
    """Blocks that take it away, ascending."""


@dataclass(frozen=True, slots=True)
class Inclination:
    """The part at a reading of a level or protractor.

    >>> dividing.Inclination(dividing.Angle("30 deg")).reading
    Angle('30°')
    """

    kind: ClassVar[str] = "inclination"
    reading: Angle


@dataclass(frozen=True, slots=True)
class AtStop:
    """The part's datum at a stop.

    >>> dividing.AtStop(stop=1).stop
    1
    """

    kind: ClassVar[str] = "at_stop"
    stop: int
    """The stop, numbered from 0 as listed."""


@dataclass(frozen=True, slots=True)
class FromLast:
    """The last feature at the stop.

    >>> dividing.FromLast(steps=3).kind
    'from_last'
    """

    kind: ClassVar[str] = "from_last"
    steps: int
    """Steps from the feature that the chain began with."""


@dataclass(frozen=True, slots=True)
class BarAcrossRings:
    """A bar on pins of two rings of a pin plate.

    >>> dividing.BarAcrossRings(9, 0, 12, 5, dividing.BarPlace.LEVEL_ABOVE).second_pin
    5
    """

    kind: ClassVar[str] = "bar_across_rings"
    first_ring: int
    """Holes on the ring of the first pin."""
    first_pin: int
    second_ring: int
    """Holes on the ring of the second pin."""
    second_pin: int
    bar: BarPlace
    """How the bar lies."""


@dataclass(frozen=True, slots=True)
class CompoundCrank:
    """Crank pin and plate of a worm head after moves of compound indexing.

    >>> dividing.CompoundCrank(0, False, 1, 21, 3, 33, 30).first_hole
    3
    """

    kind: ClassVar[str] = "compound_crank"
    plate: int
    """The plate, as listed, from 0."""
    back: bool
    """Whether the plate shows its back."""
    turns: int
    """Whole crank turns from the zero setting, backward where below zero; the
    fractions below are added."""
    first_circle: int
    """Holes on the circle of the crank pin."""
    first_hole: int
    """The hole of the crank pin, counted on the plate from 0."""
    second_circle: int
    """Holes on the circle of the pin that holds the plate."""
    second_hole: int
    """The hole of that pin, counted from 0."""


@dataclass(frozen=True, slots=True)
class StackedSettings:
    """Every member of a stack at its own setting, from the machine to the part.

    >>> dividing.StackedSettings((dividing.FaceDown(1), dividing.AtStop(0))).members[0]
    FaceDown(face=1)
    """

    kind: ClassVar[str] = "stack"
    members: tuple[Setting, ...]


@dataclass(frozen=True, slots=True)
class OtherSetting:
    """A setting of a sort that this version has no class for.

    >>> dividing.OtherSetting("new_sort", {"turns": 0}).kind
    'new_sort'
    """

    kind: str
    """The sort, as written in documents."""
    fields: Mapping[str, Any]
    """Its fields, as written in documents."""

    def __hash__(self) -> int:
        return hash((self.kind, json.dumps(self.fields, sort_keys=True)))


Setting: TypeAlias = (
    Hole
    | HoleAtStation
    | FaceDown
    | FacesInVee
    | BarOnPins
    | BarAcrossRings
    | Crank
    | CompoundCrank
    | Reading
    | BarOnBlocks
    | WrungAngleBlocks
    | Inclination
    | AtStop
    | FromLast
    | StackedSettings
    | OtherSetting
)
"""What to do with one piece of equipment to reach one angle."""


@dataclass(frozen=True, slots=True)
class Placement:
    """One feature: where it was wanted and where it comes out.

    >>> placement = plans[0].placements[1]
    >>> placement.required, placement.attained, placement.residual
    (Angle('40°'), Angle('40°'), Angle('0°'))
    """

    required: Angle
    """The drawing angle."""
    setting: Setting
    """What to set."""
    attained: Angle
    """The drawing angle that the setting gives."""
    residual: Angle
    """Attained less required; zero when exact. Of a real angle, such as that of a
    sine bar, rounded to a fraction of a turn."""
    residual_rad: float
    """The same in radians; not rounded for a real angle."""


@dataclass(frozen=True, slots=True)
class Finding:
    """Something to know before trusting a plan.

    >>> [finding.kind for finding in plans[1].findings]
    ['incomplete_figure']
    """

    kind: str
    """What sort of finding it is."""
    text: str
    """The finding as a sentence."""


@dataclass(frozen=True, slots=True)
class Supplier:
    """One thing that would make a way, or another way of the same piece, exact.

    >>> plans[1].shortfall.suppliers[0].kind
    <SupplierKind.BLOCK: 'block'>
    """

    kind: SupplierKind
    number: int | None
    """Teeth, holes, stations, faces, graduations or equal parts of a turn, or a
    multiple of them; None where the kind has no number."""
    text: str
    """The same as a phrase."""
    parts: int
    """Parts that must be bought or made: 0 when the shop owns all of it."""
    size: int
    """How large that part is: holes to drill, teeth, stations or faces."""


@dataclass(frozen=True, slots=True)
class Shortfall:
    """Why a plan is not exact, and what would supply it.

    >>> plans[1].exact, plans[1].shortfall.missing
    (False, ((3, 2),))
    """

    needed_order: int
    """Equal parts of a turn that the pattern needs."""
    held_order: int
    """Equal parts of a turn that the equipment holds."""
    missing: tuple[tuple[int, int], ...]
    """Primes with their exponents that the equipment lacks; empty when only
    absent holes or the places of stations stand in the way."""
    reason: str
    """The reason as a sentence."""
    supply: str
    """What would supply it, as a sentence."""
    suppliers: tuple[Supplier, ...]
    """What would supply it, the least asked for first."""


@dataclass(frozen=True, slots=True, init=False, repr=False)
class Normal:
    """A normal distribution, not truncated, with the limit of the input at
    ``sigmas_at_limit`` standard deviations (above 0).

    >>> dividing.Normal(2)
    Normal(2.0)
    """

    sigmas_at_limit: float
    """The limit over the standard deviation."""

    def __init__(self, sigmas_at_limit: float) -> None:
        value = _float_of(sigmas_at_limit, "sigmas_at_limit")
        object.__setattr__(self, "sigmas_at_limit", value)

    def __repr__(self) -> str:
        return f"Normal({self.sigmas_at_limit!r})"

    def _document(self) -> object:
        return {"normal": {"sigmas_at_limit": self.sigmas_at_limit}}


@dataclass(frozen=True, slots=True, init=False, repr=False)
class Samples:
    """Given samples, each as likely as the others: their shape only, scaled so that
    the one furthest from zero stands at the limit (JCGM 101:2008, 6.4).

    >>> dividing.Samples([-0.5, 0, 1])
    Samples([-0.5, 0.0, 1.0])
    """

    values: tuple[float, ...]
    """1 to 1,000,000 samples."""

    def __init__(self, values: Iterable[float]) -> None:
        found = tuple(_float_of(it, f"values[{index}]") for index, it in enumerate(values))
        object.__setattr__(self, "values", found)

    def __repr__(self) -> str:
        return f"Samples({list(self.values)!r})"

    def _document(self) -> object:
        return {"samples": {"values": self.values}}


@dataclass(frozen=True, slots=True, init=False, repr=False)
class Contributor:
    """One cause of angular error of a feature.

    ``limit`` is the largest deviation of the input either way, in ``unit``;
    ``sensitivity`` how many radians one unit of it turns the feature, such as
    one over the pitch radius.

    Raises OutOfRangeError, NotFiniteError, TypeError. Source of the uncertainties:
    JCGM 100:2008, 4.3 and 5.1.

    >>> hole = dividing.Contributor("hole position", 0.010, sensitivity=1 / 50)
    >>> round(hole.limit_rad, 9), round(hole.standard_uncertainty_rad, 9)
    (0.0002, 0.0001)
    >>> plans[0].contributors[0].name
    'worm and wheel'
    """

    name: str
    """What causes it, in the words of the trade."""
    limit: float
    """Largest deviation of the input either way."""
    unit: InputUnit
    """Unit of the input."""
    sensitivity: float
    """Radians of the feature's angle for one unit of the input."""
    distribution: Distribution | Normal | Samples
    """How the input varies within its limit."""
    persistence: Persistence
    """How long one value stays."""
    degrees_of_freedom: float | None
    """Degrees of freedom of its standard uncertainty; None for exactly known
    (JCGM 100:2008, G.4.2)."""
    limit_rad: float = field(compare=False)
    """Largest angle it can turn the feature by, either way, in radians."""
    limit_deg: float = field(compare=False)
    """The same in degrees."""
    mean_rad: float = field(compare=False)
    """Mean of the angle; 0 unless given samples have another."""
    standard_uncertainty: float = field(compare=False)
    """Standard uncertainty of the input, in its own unit."""
    standard_uncertainty_rad: float = field(compare=False)
    """Standard uncertainty of the feature's angle from it, in radians
    (JCGM 100:2008, 4.3)."""

    def __init__(
        self,
        name: str,
        limit: float,
        *,
        sensitivity: float,
        unit: InputUnit | Literal["millimetre", "radian"] = InputUnit.MILLIMETRE,
        distribution: Distribution
        | Normal
        | Samples
        | Literal["uniform", "triangular", "u_shaped", "uniform_in_disc"] = (
            Distribution.UNIFORM_IN_DISC
        ),
        persistence: Persistence
        | Literal["fixed_for_place", "new_at_seating", "fixed_for_job"] = (
            Persistence.FIXED_FOR_PLACE
        ),
        degrees_of_freedom: float | None = None,
    ) -> None:
        def put(name: str, value: object) -> None:
            object.__setattr__(self, name, value)

        put("name", _text_of(name, "name"))
        put("limit", _float_of(limit, "limit"))
        put("sensitivity", _float_of(sensitivity, "sensitivity"))
        put("unit", choice(InputUnit, unit, "unit"))
        if not isinstance(distribution, (Normal, Samples)):
            distribution = choice(Distribution, distribution, "distribution")
        put("distribution", distribution)
        put("persistence", choice(Persistence, persistence, "persistence"))
        degrees = degrees_of_freedom
        if degrees is not None:
            degrees = _float_of(degrees, "degrees_of_freedom")
        put("degrees_of_freedom", degrees)
        limit_rad, mean_rad, of_input, of_angle = _contributor_figures(text_of_record(self, ""))
        put("limit_rad", limit_rad)
        put("limit_deg", math.degrees(limit_rad))
        put("mean_rad", mean_rad)
        put("standard_uncertainty", of_input)
        put("standard_uncertainty_rad", of_angle)

    @classmethod
    def of_samples(
        cls,
        name: str,
        values: Iterable[float],
        *,
        sensitivity: float,
        unit: InputUnit | Literal["millimetre", "radian"] = InputUnit.MILLIMETRE,
        persistence: Persistence
        | Literal["fixed_for_place", "new_at_seating", "fixed_for_job"] = (
            Persistence.FIXED_FOR_PLACE
        ),
    ) -> Contributor:
        """A contributor given by samples of its input, in ``unit``: measured values,
        or what another simulation gave.

        Raises EmptyListError, OutOfRangeError, NotFiniteError, TypeError.

        >>> pin = dividing.Contributor.of_samples("pin", [0, 0.004, 0.008], sensitivity=1 / 50)
        >>> pin.limit, round(pin.mean_rad, 9)
        (0.008, 8e-05)
        """
        samples = Samples(values)
        limit = max(map(abs, samples.values), default=0.0)
        return cls(
            name,
            limit,
            sensitivity=sensitivity,
            unit=unit,
            distribution=samples,
            persistence=persistence,
        )

    def __repr__(self) -> str:
        degrees = self.degrees_of_freedom
        return (
            f"Contributor({self.name!r}, {self.limit!r}, "
            f"sensitivity={self.sensitivity!r}, unit={str(self.unit)!r}, "
            f"distribution={_written(self.distribution)}, "
            f"persistence={str(self.persistence)!r}"
            f"{'' if degrees is None else f', degrees_of_freedom={degrees!r}'})"
        )

    def _document(self) -> object:
        degrees = self.degrees_of_freedom
        return {
            "name": self.name,
            "limit": self.limit,
            "unit": self.unit,
            "sensitivity": self.sensitivity,
            "distribution": plain(self.distribution),
            "persistence": self.persistence,
            **({} if degrees is None else {"degrees_of_freedom": degrees}),
        }


def _written(distribution: Distribution | Normal | Samples) -> str:
    return repr(str(distribution) if isinstance(distribution, Distribution) else distribution)


def contributor_of(document: Mapping[str, Any]) -> Contributor:
    """A contributor as it stands in documents."""
    fields = dict(document)
    distribution = fields.pop("distribution")
    if isinstance(distribution, Mapping):
        ((kind, inner),) = distribution.items()
        distribution = (Normal if kind == "normal" else Samples)(**inner)
    return Contributor(**fields, distribution=distribution)


@dataclass(frozen=True, slots=True)
class PitchFigure:
    """Single and cumulative pitch of a plan, in radians.

    >>> limits = dividing.PitchTolerance(single="0.1 deg")
    >>> ratchet = dividing.Job("Ratchet", divisions=9, tolerance=limits)
    >>> pitch = dividing.plan(workshop, ratchet)[0].pitch
    >>> 0.0 == pitch.single_residual_rad < pitch.single_worst_rad
    True
    """

    single_residual_rad: float
    """Largest single pitch deviation of the settings alone."""
    cumulative_residual_rad: float
    """Cumulative pitch deviation of the settings alone."""
    single_worst_rad: float
    """Largest single pitch deviation."""
    cumulative_worst_rad: float
    """Cumulative pitch deviation: largest less smallest deviation."""


@dataclass(frozen=True, slots=True)
class Handling:
    """How much there is to do by hand, for plans that are otherwise alike.

    >>> plans[0].handling
    Handling(actions=9, crank_turns=32, hole_spaces=8)
    """

    actions: int
    """Things to loosen, move, fit or level, over all features."""
    crank_turns: int
    """Crank turns from the first feature to the last, each move to whole turns."""
    hole_spaces: int
    """Holes beyond whole turns to count off for the first move of a crank."""


@dataclass(frozen=True, slots=True)
class Reach:
    """What a job comes to on one way of one piece of equipment.

    >>> found = dividing.ways(workshop)[-1].reach(job)
    >>> len(found.placements), found.exact
    (9, False)
    """

    exact: bool
    """Whether every feature is reached exactly."""
    start: Angle
    """What the device presents when drawing angle 0 stands at the cutter."""
    datum: Setting | None
    """For a clocked start, the setting at which the clocked feature stands."""
    placements: tuple[Placement, ...]
    """Every feature with its setting, in the order of the job."""
    largest_residual: Angle
    """Without sign; the least that any choice of settings can make."""
    shortfall: Shortfall | None
    """Why it is not exact and what would supply it; None when it is."""


@dataclass(frozen=True, slots=True)
class SteppingError:
    """What repeating a move that is not exact does.

    >>> per_move = dividing.Angle("0.001 deg")
    >>> dividing.SteppingError(127, per_move, per_move * 126, per_move * 127).worst
    Angle('0.126°')
    """

    moves: int
    """Moves that close the circle."""
    per_move: Angle
    """Made less wanted, for one move."""
    worst: Angle
    """The largest error of a feature, without sign: that of the last one."""
    closing: Angle
    """Made less wanted when the circle closes."""


@dataclass(frozen=True, slots=True)
class VeeSeat:
    """How a block with equal faces lies in a V-block.

    >>> dividing.vee_seat(6, "120 deg").seats
    True
    """

    steps_between: int | None
    """Face steps between the touching faces; an odd number adds the half step.
    None when it does not seat."""
    off_by: Angle | None
    """How far from true it lies when it rests with one face flat; None when it
    seats."""

    @property
    def seats(self) -> bool:
        """Whether both flanks touch a face each."""
        return self.off_by is None


settle(globals())
