"""Gauge blocks: stacks for a height, angle stacks, the sine bar."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, Self, TypeAlias

from ._dividing import (
    Angle,
    _angle_stack,
    _bar_height_mm,
    _checked_angle_blocks,
    _checked_blocks,
    _difference,
    _named_angle_blocks,
    _named_blocks,
    _nearest_units,
    _stack,
    _two_stacks,
    _units_of,
    sine_bar_angle_deg,
)
from ._enums import AngleBlockSetName, BlockSetName, BlockUnit
from ._errors import NotFoundError
from ._html import grid
from ._values import (
    AngleLike,
    LengthLike,
    Value,
    angle,
    choice,
    length,
    optional,
    several,
    whole,
)

Progress: TypeAlias = Callable[[int], object] | None


def _mm(unit: BlockUnit, units: int) -> float:
    """Units as millimetres, rounded once."""
    return units / 1e4 if unit is BlockUnit.TENTH_MICROMETRE else units * 25.4 / 1e5


def _all_mm(unit: BlockUnit, units: Iterable[int]) -> tuple[float, ...]:
    return tuple(_mm(unit, size) for size in units)


@dataclass(frozen=True, slots=True)
class BlockStack:
    """A stack of gauge blocks wrung together.

    >>> stack = dividing.BlockSet.named("metric_87").stack("38.935 mm")
    >>> stack.blocks_mm, stack.height_mm, stack.deviation_mm
    ((1.005, 1.43, 6.5, 30.0), 38.935, 0.0)
    """

    unit: BlockUnit
    units: tuple[int, ...]
    """Nominal sizes in units, ascending, wear blocks left out."""
    wear_block_units: int | None
    """Thickness of each of the two wear blocks at the ends, if any."""
    deviation_units: int
    """Height of the stack less the height wanted."""

    @property
    def blocks_mm(self) -> tuple[float, ...]:
        """Nominal sizes in millimetres, ascending, wear blocks left out."""
        return _all_mm(self.unit, self.units)

    @property
    def height_mm(self) -> float:
        """Nominal height, wear blocks included."""
        return _mm(self.unit, sum(self.units) + 2 * (self.wear_block_units or 0))

    @property
    def deviation_mm(self) -> float:
        """Height less the height wanted, rounded to whole units."""
        return _mm(self.unit, self.deviation_units)

    def _repr_html_(self) -> str:
        rows = [["blocks", " + ".join(f"{size:g}" for size in self.blocks_mm), "mm"]]
        if self.wear_block_units:
            wear = _mm(self.unit, self.wear_block_units)
            rows.append(["wear blocks", f"2 × {wear:g}", "mm"])
        rows.append(["height", f"{self.height_mm:.5g}", "mm"])
        rows.append(["off by", f"{self.deviation_mm:+.4f}", "mm"])
        return grid("Stack of gauge blocks", None, rows)


@dataclass(frozen=True, slots=True)
class DifferenceStack:
    """Two stacks, one under each roller, whose difference is the height wanted.

    >>> blocks = dividing.BlockSet.named("metric_87")
    >>> low = blocks.difference("0.1 mm")
    >>> low.higher_mm, low.lower_mm
    ((1.49,), (1.39,))
    """

    unit: BlockUnit
    higher_units: tuple[int, ...]
    lower_units: tuple[int, ...]
    deviation_units: int
    """Difference of the stacks less the height wanted."""

    @property
    def higher_mm(self) -> tuple[float, ...]:
        """Blocks of the higher stack, ascending."""
        return _all_mm(self.unit, self.higher_units)

    @property
    def lower_mm(self) -> tuple[float, ...]:
        """Blocks of the lower stack, ascending."""
        return _all_mm(self.unit, self.lower_units)

    @property
    def height_mm(self) -> float:
        """Height of the higher stack above the lower."""
        return _mm(self.unit, sum(self.higher_units) - sum(self.lower_units))

    @property
    def deviation_mm(self) -> float:
        """Difference less the height wanted, rounded to whole units."""
        return _mm(self.unit, self.deviation_units)


@dataclass(frozen=True, slots=True)
class SineBarHeight:
    """What to put under a sine bar for an angle.

    >>> blocks = dividing.BlockSet.named("metric_112")
    >>> bar = blocks.sine_bar(length=100, angle="20 deg", tolerance="0.3 um")
    >>> round(bar.wanted_height_mm, 4), bar.attained_height_mm
    (34.202, 34.202)
    """

    wanted_height_mm: float
    """``length * sin(angle)``."""
    blocks: BlockStack | DifferenceStack | None
    """A stack; a difference of two below the smallest block; None when level."""
    attained_height_mm: float
    attained_deg: float
    """``asin(height / length)``."""
    residual_arcsec: float
    """Attained less wanted angle."""


class BlockSet(Value):
    """A set of gauge blocks of the shop's own.

    Sizes are lengths that must be whole numbers of the unit (0.0001 mm, or
    0.00001 in for a set in inches). ``BlockSet.named`` gives a set that makers
    sell.

    >>> dividing.BlockSet([1.005, 1.01, 2, 5, 10])
    BlockSet([1.005, 1.01, 2.0, 5.0, 10.0])
    >>> len(dividing.BlockSet.named("metric_87"))
    87
    """

    unit: BlockUnit
    """The unit in which sizes are whole numbers."""
    units: tuple[int, ...]
    """Nominal sizes in units, ascending."""

    def __init__(
        self,
        sizes: Iterable[LengthLike],
        *,
        unit: BlockUnit | str = BlockUnit.TENTH_MICROMETRE,
    ) -> None:
        chosen = choice(BlockUnit, unit, "unit")
        units = several(lambda size, name: _units_of(chosen, size, name), sizes, "sizes")
        self._put(unit=chosen, units=tuple(_checked_blocks(chosen, list(units))))

    @classmethod
    def of_units(cls, unit: BlockUnit | str, blocks: Iterable[int]) -> Self:
        """A set of sizes that are given as whole numbers of the unit.

        >>> dividing.BlockSet.of_units("tenth_micrometre", [10_050, 20_000]).sizes_mm
        (1.005, 2.0)
        """
        made = object.__new__(cls)
        chosen = choice(BlockUnit, unit, "unit")
        units = _checked_blocks(chosen, list(several(whole, blocks, "blocks")))
        made._put(unit=chosen, units=tuple(units))
        return made

    @classmethod
    def named(cls, name: BlockSetName | str) -> Self:
        """A set that makers sell.

        >>> len(dividing.BlockSet.named("inch_81"))
        81
        """
        unit, blocks = _named_blocks(choice(BlockSetName, name, "name"))
        return cls.of_units(unit, blocks)

    @property
    def sizes_mm(self) -> tuple[float, ...]:
        """Nominal sizes in millimetres, ascending."""
        return _all_mm(self.unit, self.units)

    def to_document(self) -> dict[str, Any]:
        """The set as workshop documents write it."""
        return {"unit": str(self.unit), "blocks": list(self.units)}

    def __len__(self) -> int:
        return len(self.units)

    def __repr__(self) -> str:
        if self.unit is BlockUnit.TENTH_MICROMETRE:
            return f"BlockSet({list(self.sizes_mm)})"
        return f"BlockSet.of_units({str(self.unit)!r}, {list(self.units)})"

    def stack(
        self,
        height: LengthLike,
        *,
        tolerance: LengthLike = 0,
        wear_block: LengthLike | None = None,
        work_limit: int | None = None,
        progress: Progress = None,
    ) -> BlockStack:
        """The stack of the fewest blocks within a tolerance of a height; among
        equally few the nearest, and of two equally near the lower.

        Lengths are in mm or text with a unit; ``wear_block`` is the thickness of
        the two that stand at the ends and do not come from the set.

        Raises NotFoundError when no stack of up to 16 blocks exists,
        OutOfRangeError, WorkLimitError.

        >>> dividing.BlockSet([1.005, 1.01, 2, 5, 10]).stack(8.01).blocks_mm
        (1.01, 2.0, 5.0)
        """
        wear = self._wear(wear_block)
        units, deviation = _stack(
            self.unit,
            list(self.units),
            _units_of(self.unit, height, "height"),
            _nearest_units(self.unit, tolerance, "tolerance"),
            wear,
            work_limit,
            progress,
        )
        return BlockStack(self.unit, tuple(units), wear, deviation)

    def two_stacks(
        self,
        height: LengthLike,
        *,
        tolerance: LengthLike = 0,
        wear_block: LengthLike | None = None,
        work_limit: int | None = None,
        progress: Progress = None,
    ) -> tuple[BlockStack, BlockStack]:
        """Two stacks of one height that can stand at the same time, as under a
        wide sine plate. Raises as :meth:`stack`.

        >>> blocks = dividing.BlockSet([1, 2, 3])
        >>> [stack.blocks_mm for stack in blocks.two_stacks(3)]
        [(3.0,), (1.0, 2.0)]
        """
        wear = self._wear(wear_block)
        pair = _two_stacks(
            self.unit,
            list(self.units),
            _units_of(self.unit, height, "height"),
            _nearest_units(self.unit, tolerance, "tolerance"),
            wear,
            work_limit,
            progress,
        )
        first, second = (
            BlockStack(self.unit, tuple(units), wear, deviation)
            for units, deviation in pair
        )
        return first, second

    def difference(
        self,
        height: LengthLike,
        *,
        tolerance: LengthLike = 0,
        work_limit: int | None = None,
        progress: Progress = None,
    ) -> DifferenceStack:
        """Two stacks with the fewest blocks together whose difference is within a
        tolerance of a height. Raises as :meth:`stack`.

        >>> dividing.BlockSet([1, 1.01, 2]).difference(0.01).higher_mm
        (1.01,)
        """
        higher, lower, deviation = _difference(
            self.unit,
            list(self.units),
            _units_of(self.unit, height, "height"),
            _nearest_units(self.unit, tolerance, "tolerance"),
            work_limit,
            progress,
        )
        return DifferenceStack(self.unit, tuple(higher), tuple(lower), deviation)

    def sine_bar(
        self,
        *,
        length: LengthLike,
        angle: AngleLike,
        tolerance: LengthLike = 0,
        work_limit: int | None = None,
        progress: Progress = None,
    ) -> SineBarHeight:
        """What to put under a sine bar: the height is rounded to a whole unit,
        then made by one stack, or below the smallest block by two.

        Raises OutOfRangeError for an angle not from 0 to below 90°, and as
        :meth:`stack`.

        >>> blocks = dividing.BlockSet.named("metric_87")
        >>> blocks.sine_bar(length=100, angle="30 deg").attained_height_mm
        50.0
        """
        wanted_mm = _bar_height_mm(length, angle)
        length_mm = _length(length, "length")
        height = _nearest_units(self.unit, wanted_mm, "length")
        allowed = _nearest_units(self.unit, tolerance, "tolerance")
        blocks: BlockStack | DifferenceStack | None = None
        limits: Any = {"work_limit": work_limit, "progress": progress}
        height_mm = _mm(self.unit, height)
        if height and height + allowed >= self.units[0]:
            try:
                blocks = self.stack(height_mm, tolerance=tolerance, **limits)
            except NotFoundError:
                blocks = None
        if height and blocks is None:
            blocks = self.difference(height_mm, tolerance=tolerance, **limits)
        attained_mm = blocks.height_mm if blocks else 0.0
        attained_deg = sine_bar_angle_deg(length_mm, attained_mm)
        wanted_deg = _angle(angle, "angle").degrees_float
        return SineBarHeight(
            wanted_mm, blocks, attained_mm, attained_deg, (attained_deg - wanted_deg) * 3600
        )

    def _wear(self, wear_block: LengthLike | None) -> int | None:
        def read(value: Any, name: str) -> int:
            return _units_of(self.unit, value, name)

        return optional(read, wear_block, "wear_block")


@dataclass(frozen=True, slots=True)
class AngleStack:
    """A stack of angle gauge blocks.

    >>> stack = dividing.AngleBlockSet.named("pieces13").stack("33°9'15\\"")
    >>> stack.attained, stack.residual
    (Angle('7957/86400 turn'), Angle('0°'))
    """

    plus_arcsec: tuple[int, ...]
    """Blocks that add their angle, in seconds of arc, ascending."""
    minus_arcsec: tuple[int, ...]
    """Blocks turned round, which take their angle away, ascending."""
    attained: Angle
    """The nominal angle of the stack."""
    residual: Angle
    """Attained less wanted."""


class AngleBlockSet(Value):
    """A set of angle gauge blocks of the shop's own, in whole seconds of arc.

    >>> dividing.AngleBlockSet([3600, 10800]).arcsec
    (3600, 10800)
    >>> len(dividing.AngleBlockSet.named("pieces13").arcsec)
    13
    """

    arcsec: tuple[int, ...]
    """Nominal angles in seconds of arc, ascending."""

    def __init__(self, arcsec: Iterable[int]) -> None:
        blocks = several(whole, arcsec, "blocks")
        self._put(arcsec=tuple(_checked_angle_blocks(list(blocks))))

    @classmethod
    def named(cls, name: AngleBlockSetName | str) -> Self:
        """A set that makers sell.

        >>> dividing.AngleBlockSet.named("pieces16").arcsec[:3]
        (1, 3, 5)
        """
        return cls(_named_angle_blocks(choice(AngleBlockSetName, name, "name")))

    def to_document(self) -> list[int]:
        """The set as workshop documents write it."""
        return list(self.arcsec)

    def __repr__(self) -> str:
        return f"AngleBlockSet({list(self.arcsec)})"

    def stack(
        self,
        angle: AngleLike,
        *,
        tolerance: AngleLike = 0,
        work_limit: int | None = None,
        progress: Progress = None,
    ) -> AngleStack:
        """The stack of the fewest blocks within a tolerance of an angle, each
        block used once, either way round.

        Raises NotFoundError when no stack exists, OutOfRangeError for an angle
        not above 0 and up to a turn or a tolerance not from 0 to 10°,
        WorkLimitError.

        >>> dividing.AngleBlockSet([3600, 10800]).stack("2 deg").minus_arcsec
        (3600,)
        """
        plus, minus, attained, residual = _angle_stack(
            list(self.arcsec), angle, tolerance, work_limit, progress
        )
        return AngleStack(tuple(plus), tuple(minus), attained, residual)


_length = length  # where an argument is called `length`
_angle = angle  # and where one is called `angle`
