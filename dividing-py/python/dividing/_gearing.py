"""Change gears: sets, trains and what a search for trains finds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from ._dividing import _checked_gears, _checked_train, _idlers
from ._enums import Sense
from ._html import grid
from ._values import Value, several, whole


class GearSet(Value):
    """Gears owned, a gear owned twice listed twice: 1 to 1000 teeth, at most 200
    gears.

    >>> dividing.GearSet([32, 24, 24])
    GearSet([24, 24, 32])
    """

    teeth: tuple[int, ...]
    """Teeth of every gear, ascending."""

    def __init__(self, teeth: Iterable[int]) -> None:
        counts = several(whole, teeth, "teeth", 1000)
        self._put(teeth=tuple(_checked_gears(list(counts))))

    def __len__(self) -> int:
        return len(self.teeth)

    def __contains__(self, teeth: object) -> bool:
        return teeth in self.teeth

    def to_dict(self) -> Any:
        """The gears as documents write them: a list of teeth."""
        return list(self.teeth)


def teeth_of(gears: object, name: str) -> list[int]:
    """The teeth of a GearSet, or of a list that makes one."""
    if isinstance(gears, GearSet):
        return list(gears.teeth)
    return list(several(whole, gears, name, 1000))  # type: ignore[arg-type]


@dataclass(frozen=True, init=False, repr=False, slots=True)
class Train:
    """A train of change gears: pairs of driver and driven in the order of the
    row. Its ratio is the product of the drivers over that of the driven.

    >>> train = dividing.Train([72, 64], [24, 48])
    >>> train.ratio, train.mesh_margin_teeth, str(train)
    (Fraction(4, 1), 32, '72/24 × 64/48')
    """

    drivers: tuple[int, ...]
    driven: tuple[int, ...]
    ratio: Fraction
    """Turns of the last gear for one turn of the first."""
    mesh_margin_teeth: int | None
    """The least clearance of a compound row in teeth (``a + b - c``,
    ``c + d - b``; common practice, no published source); None for a simple
    train."""

    def __init__(self, drivers: Iterable[int], driven: Iterable[int]) -> None:
        put = object.__setattr__
        put(self, "drivers", several(_teeth, drivers, "drivers", 3))
        put(self, "driven", several(_teeth, driven, "driven", 3))
        ratio, margin = _checked_train(list(self.drivers), list(self.driven))
        put(self, "ratio", ratio)
        put(self, "mesh_margin_teeth", margin)

    def idlers(self, *, same_sense: bool) -> int:
        """Fewest idlers with which the last gear turns as the first, or against
        it: every mesh reverses.

        >>> dividing.Train([72], [56]).idlers(same_sense=True)
        1
        """
        return _idlers(list(self.drivers), list(self.driven), same_sense)

    def __str__(self) -> str:
        pairs = zip(self.drivers, self.driven, strict=True)
        return " × ".join(f"{driver}/{driven}" for driver, driven in pairs)

    def __repr__(self) -> str:
        return f"Train({list(self.drivers)}, {list(self.driven)})"

    def _rows(self) -> list[list[str]]:
        pairs = zip(self.drivers, self.driven, strict=True)
        return [[str(place), str(a), str(b)] for place, (a, b) in enumerate(pairs, 1)]

    def _repr_html_(self) -> str:
        return grid(f"Train {self.ratio}", ["pair", "driver", "driven"], self._rows())


def _teeth(value: Any, name: str) -> int:
    return min(whole(value, name), 65_535)


@dataclass(frozen=True, slots=True)
class ExactTrains:
    """All trains of exactly a ratio.

    >>> dividing.TrainSearch([24, 28, 32, 64]).exact(2).trains[0]
    Train([64], [32])
    """

    ratio: Fraction
    trains: tuple[Train, ...]
    """The fewest gears first, then those that mesh best."""
    rows: int
    """Ordered rows of gears that these trains stand for."""
    complete: bool
    """Whether all were listed; False at the limit of work or 100,000 trains."""

    def __len__(self) -> int:
        return len(self.trains)

    def _repr_html_(self) -> str:
        rows = [
            [str(train), "" if train.mesh_margin_teeth is None else str(train.mesh_margin_teeth)]
            for train in self.trains[:50]
        ]
        more = len(self.trains) - len(rows)
        title = f"{len(self.trains)} trains of exactly {self.ratio}"
        if more:
            rows.append([f"and {more} more", ""])
        return grid(title, ["drivers / driven", "mesh margin, teeth"], rows)


@dataclass(frozen=True, slots=True)
class NearestProof:
    """The neighbours of the target among all ratios that can be made: no train
    lies strictly between, unless it is the target. Every comparison was made on
    whole numbers.

    >>> proof = dividing.TrainSearch([24, 28, 32, 64]).nearest(2.1).proof
    >>> proof.below, proof.above
    (Train([64], [32]), Train([64], [28]))
    """

    below: Train | None
    """The greatest ratio not above the target; None when all lie above."""
    above: Train | None
    """The smallest ratio not below the target; None when all lie below."""
    pairings_placed: int
    """Pairings of a driver side with a driven side that the sweep placed."""
    pairings_compared: int
    """How many of them had to be looked at one by one."""
    complete: bool
    """Whether all trains asked for were covered."""


@dataclass(frozen=True, slots=True)
class NearestTrain:
    """The train nearest to a ratio, and why none is nearer.

    >>> nearest = dividing.TrainSearch([24, 28, 32, 64]).nearest(2)
    >>> nearest.train, nearest.exact, nearest.error_ppm
    (Train([64], [32]), True, 0.0)
    """

    target: Fraction
    """The ratio asked for, exact."""
    train: Train
    """A nearest train; of two ratios equally far the smaller."""
    equally_near: Train | None
    """The train just as far on the other side, if there is one."""
    error_ppm: float
    """Train less target, in millionths of the target."""
    exact: bool
    proof: NearestProof

    def __str__(self) -> str:
        return f"{self.train}: {'exact' if self.exact else f'{self.error_ppm:+.3g} ppm'}"

    def _repr_html_(self) -> str:
        proof = self.proof
        rows = [
            ["nearest", str(self.train), f"{float(self.train.ratio):.9g}",
             "exact" if self.exact else f"{self.error_ppm:+.4g} ppm"],
        ]
        for label, train in (("next below", proof.below), ("next above", proof.above)):
            if train is not None:
                off = float((train.ratio - self.target) / self.target) * 1e6
                rows.append([label, str(train), f"{float(train.ratio):.9g}", f"{off:+.4g} ppm"])
        done = "all covered" if proof.complete else "stopped at the limit of work"
        rows.append(["proof", f"{proof.pairings_placed:,} pairings placed", "", done])
        title = f"Train nearest to {float(self.target):.9g}"
        return grid(title, ["", "drivers / driven", "ratio", "off by"], rows)


@dataclass(frozen=True, slots=True)
class LeadGearing:
    """Gears and table swivel for a helix.

    >>> search = dividing.TrainSearch([24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100])
    >>> search.lead("6.16 in", screw_pitch="0.25 in", diameter="1 in").work_sense.value
    'clockwise'
    """

    train: Train
    """The first driver on the table screw, the last driven on the worm shaft."""
    machine_lead_mm: Fraction
    """Worm ratio times screw pitch."""
    attained_lead_mm: Fraction
    """The lead that this train gives, exact."""
    error_ppm: float
    """Attained less wanted lead, in millionths of the lead wanted."""
    exact: bool
    neighbouring_leads_mm: tuple[Fraction | None, Fraction | None]
    """The longest lead up to the one wanted and the shortest from it upward; no
    lead lies between."""
    complete: bool
    """Whether all trains were covered."""
    swivel_deg: float
    """Swivel of the table from square, ``atan(pi * diameter / lead)``."""
    swivel_sense: Sense
    """Which way the table swivels, seen from above."""
    work_sense: Sense
    """Which way the work must turn, seen along the travel of the table. Check it
    in a dry run; idlers reverse it."""

    def _repr_html_(self) -> str:
        off = "exact" if self.exact else f"{self.error_ppm:+.4g} ppm"
        rows = [
            ["train", str(self.train)],
            ["lead", f"{float(self.attained_lead_mm):.6f} mm, {off}"],
            ["swivel", f"{self.swivel_deg:.3f}° {self.swivel_sense.replace('_', '-')}"],
            ["work turns", self.work_sense.replace("_", "-")],
        ]
        return grid("Lead gearing", None, rows)
