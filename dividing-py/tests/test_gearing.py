"""Trains of change gears and stacks of gauge blocks."""

from __future__ import annotations

import itertools
import pickle
from fractions import Fraction
from typing import Any

import dividing
import pytest
from dividing import AngleBlockSet, BlockSet, GearSet, Train, TrainSearch

GEARS = [24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100]
SEARCH = TrainSearch(GEARS)


def ratios(gears: list[int]) -> set[Fraction]:
    """Every ratio of one or two pairs, by plain counting."""
    ones = {Fraction(a, b) for a, b in itertools.permutations(gears, 2)}
    twos = {Fraction(a * b, c * d) for a, b, c, d in itertools.permutations(gears, 4)}
    return ones | twos


def test_the_nearest_is_the_nearest_of_all() -> None:
    gears = [24, 28, 32, 40, 56, 64]
    search, every = TrainSearch(gears), ratios(gears)
    for target in (Fraction(355, 113), Fraction(1, 7), Fraction(9, 10), Fraction(127, 100)):
        found = search.nearest(target)
        least = min(abs(ratio - target) for ratio in every)
        assert abs(found.train.ratio - target) == least
        assert found.exact == (least == 0) and found.proof.complete
        ppm = float((found.train.ratio - target) / target * 10**6)
        assert found.error_ppm == pytest.approx(ppm, abs=1e-9)
        below, above = found.proof.below, found.proof.above
        low = below.ratio if below else Fraction(0)
        high = above.ratio if above else Fraction(10**9)
        assert not any(low < ratio < high and ratio != target for ratio in every)
    assert set(search.ratios()) == every


def test_exact_trains_have_the_ratio() -> None:
    found = SEARCH.exact("9/7")
    assert found.complete and len(found) == len(set(found.trains)) > 1
    assert all(train.ratio == Fraction(9, 7) for train in found.trains)
    assert SEARCH.exact(Fraction(997, 991)).trains == ()
    meshing = TrainSearch(GEARS, mesh_allowance=15).exact("9/7")
    assert all(train.mesh_margin_teeth is None or train.mesh_margin_teeth > 15
               for train in meshing.trains)


def test_lead_gearing() -> None:
    # A lead of 6.16 in at 1 in diameter lies at atan(pi/6.16) = 27.02 degrees.
    found = SEARCH.lead("6.16 in", screw_pitch="0.25 in", diameter="1 in")
    assert found.exact and round(found.swivel_deg, 2) == 27.02
    assert found.attained_lead_mm == Fraction(616, 100) * Fraction(127, 5)
    left = SEARCH.lead("6.16 in", screw_pitch="0.25 in", diameter="1 in", hand="left")
    assert left.work_sense is dividing.Sense.COUNTER_CLOCKWISE
    for bad, name in ((6.16, "lead"), ("6.16", "lead"), (0, "lead"), (None, "lead")):
        with pytest.raises((TypeError, ValueError), match=name):
            SEARCH.lead(bad, screw_pitch=5, diameter=10)  # type: ignore[arg-type]


def test_values_come_back() -> None:
    values: list[Any] = [GearSet(GEARS), Train([72, 64], [24, 48]), SEARCH.nearest(2.1),
                         SEARCH.exact(2), BlockSet.named("metric_47"),
                         BlockSet.named("inch_81"), AngleBlockSet.named("pieces16")]
    for value in values:
        assert pickle.loads(pickle.dumps(value)) == value
        assert hash(pickle.loads(pickle.dumps(value))) == hash(value)
    for value in (values[0], values[1], *values[4:]):
        assert eval(repr(value)) == value
    assert pickle.loads(pickle.dumps(SEARCH)).exact("9/7") == SEARCH.exact("9/7")
    for value in (SEARCH.exact("9/7"), SEARCH.nearest(2.1), Train([72], [56]),
                  SEARCH.lead("6.16 in", screw_pitch="0.25 in", diameter="1 in")):
        assert "<table" in value._repr_html_()


def test_what_is_no_gear_or_ratio() -> None:
    for bad in (None, "24", b"24", [None], [True], [24.0], ["24"]):
        with pytest.raises(TypeError, match="gears|teeth"):
            TrainSearch(bad)  # type: ignore[arg-type]
        with pytest.raises(TypeError, match="teeth"):
            GearSet(bad)  # type: ignore[arg-type]
    for teeth in ([], [0], [1001], [24] * 201, [10**40]):
        with pytest.raises(dividing.DividingError):
            GearSet(teeth)
    for ratio in (0, -1, "0", float("nan"), float("inf"), -0.0, "x", "\ud800"):
        with pytest.raises(dividing.DividingError, match="ratio"):
            SEARCH.nearest(ratio)
    for ratio in (None, b"2", [2], True):
        with pytest.raises(TypeError, match="ratio"):
            SEARCH.nearest(ratio)
    with pytest.raises(dividing.OutOfRangeError, match="most_pairs"):
        TrainSearch(GEARS, most_pairs=4)
    with pytest.raises(dividing.DividingError):
        Train([24], [28, 32])
    found = SEARCH.exact("9/7", work_limit=1)
    assert not found.complete


def test_stacks_have_their_height() -> None:
    blocks = BlockSet.named("metric_87")
    for height in ("38.935 mm", 1.005, 73.6, "0.5 in"):
        stack = blocks.stack(height, tolerance="1 um")
        wanted = dividing.length_mm(height)
        assert stack.height_mm == pytest.approx(wanted, abs=0.00101)
        assert stack.height_mm == pytest.approx(sum(stack.blocks_mm), abs=1e-9)
    pair = blocks.two_stacks(25.5)
    together = sorted([*pair[0].units, *pair[1].units])
    assert all(together.count(size) <= blocks.units.count(size) for size in together)
    with pytest.raises(dividing.NotFoundError):
        BlockSet([1, 2]).stack(1.5)
    with pytest.raises(dividing.DividingError, match="height"):
        blocks.stack("0.00005 mm")
    with pytest.raises(dividing.DividingError, match="wear"):
        blocks.stack(3, wear_block=2)
    assert blocks.stack(25, wear_block=2).height_mm == 25


def test_a_sine_bar_is_set() -> None:
    blocks = BlockSet.named("metric_112")
    thirty = blocks.sine_bar(length=100, angle="30 deg")
    assert thirty.attained_height_mm == 50 and abs(thirty.residual_arcsec) < 1e-9
    low = blocks.sine_bar(length=100, angle="0.1 deg", tolerance="0.3 um")
    assert isinstance(low.blocks, dividing.DifferenceStack)
    assert blocks.sine_bar(length=100, angle=0).blocks is None
    with pytest.raises(dividing.OutOfRangeError, match="angle"):
        blocks.sine_bar(length=100, angle="90 deg")


def test_angle_stacks() -> None:
    wedges = AngleBlockSet.named("pieces13")
    stack = wedges.stack("33°9'15\"")
    total = sum(stack.plus_arcsec) - sum(stack.minus_arcsec)
    assert total == 33 * 3600 + 9 * 60 + 15 and not stack.residual
    with pytest.raises(dividing.OutOfRangeError, match="tolerance"):
        wedges.stack("1 deg", tolerance="11 deg")
