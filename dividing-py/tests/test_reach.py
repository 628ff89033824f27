"""Orientation sets, ways, whole tables, and why not."""

from __future__ import annotations

import copy
import pickle
from fractions import Fraction
from math import gcd
from typing import Any

import dividing
import numpy as np
import pytest
from dividing import (
    Angle,
    ChangeGears,
    FacedBlock,
    IndexPlate,
    Job,
    OrientationSet,
    VeeBlock,
    WormHead,
    Workshop,
)
from hypothesis import given
from hypothesis import strategies as st

GEARS = [24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100]
SHOP = Workshop("Bench", [
    WormHead("head", worm_ratio=40, plates=[IndexPlate("one", circles=[15, 16, 17, 18, 19, 20])],
             change_gears=ChangeGears(gears=GEARS)),
    FacedBlock("square", faces=4),
    VeeBlock("vee", included_angle="90 deg"),
])
COSETS = st.lists(st.tuples(st.integers(1, 12), st.builds(Fraction, st.integers(0, 23),
                                                          st.just(24))), max_size=4)


def members(cosets: list[tuple[int, Fraction]]) -> set[Fraction]:
    """The orientations of a set, by plain fractions."""
    return {(through + Fraction(step, order)) % 1
            for order, through in cosets for step in range(order)}


@given(COSETS, COSETS)
def test_sets_do_as_plain_sets_of_fractions(one: Any, other: Any) -> None:
    a, b = OrientationSet(one), OrientationSet(other)
    plain_a, plain_b = members(one), members(other)

    def turns(held: OrientationSet) -> set[Fraction]:
        return {it.turns for it in held.orientations()}

    assert turns(a) == plain_a and turns(a | b) == plain_a | plain_b
    assert turns(a & b) == plain_a & plain_b
    assert turns(a + b) == {(x + y) % 1 for x in plain_a for y in plain_b}
    assert (a == b) == (plain_a == plain_b) and (a <= b) == (plain_a <= plain_b)
    assert (a < b) == (plain_a < plain_b) and bool(a) == bool(plain_a)
    assert all((Fraction(k, 24) in a) == (Fraction(k, 24) in plain_a) for k in range(24))
    if a == b:
        assert hash(a) == hash(b)
    assert eval(repr(a)) == a and pickle.loads(pickle.dumps(a)) == a
    pattern = [Angle(0), Angle(1, 4)]
    starts = {s for s in plain_a if (s + Fraction(1, 4)) % 1 in plain_a}
    assert turns(a.starts_for(pattern)) == starts
    assert all(a.holds_pattern_from(pattern, start) for start in starts)


def test_sets_refuse_what_they_cannot_be() -> None:
    for bad in (None, "4", b"4", [4], [(4,)], [("4", 0)], [(4, 0.5)], [(True, 0)]):
        with pytest.raises(TypeError, match=r"^cosets"):
            OrientationSet(bad)  # type: ignore[arg-type]
    for order in (0, -1):
        with pytest.raises(dividing.OutOfRangeError, match="order"):
            OrientationSet.equally_spaced(order)
    with pytest.raises(dividing.OutOfRangeError, match="order"):
        OrientationSet.equally_spaced(10**40)
    with pytest.raises(dividing.OutOfRangeError):
        OrientationSet.equally_spaced(10**30).orientations()
    with pytest.raises(TypeError):
        OrientationSet.equally_spaced(4) + 4  # type: ignore[operator]
    with pytest.raises(TypeError, match="orientation"):
        0.5 in OrientationSet.equally_spaced(4)  # type: ignore[operator]


def test_the_nearest_with_a_free_start_is_the_optimum() -> None:
    # Design, reach: <1/M> leaves (1 - gcd(M, N)/N)/(2M) turn with a free start.
    way = next(it for it in dividing.ways(SHOP) if it.equipment == "square")
    assert way.held == OrientationSet([(8, 0)]) or way.held == OrientationSet([(4, 0)])
    order = way.held.count
    for divisions in range(2, 20):
        found = way.reach(Job("job", divisions=divisions))
        common = gcd(order, divisions)
        least = Fraction(divisions - common, divisions * 2 * order)
        assert found.largest_residual.turns == least and found.exact == (least == 0)
        assert (found.shortfall is None) == found.exact
        assert len(found.placements) == divisions


def test_why_not_says_what_would_do() -> None:
    found = dividing.plan(SHOP, Job("wheel", divisions=127))
    shortfall = found[-1].shortfall
    assert shortfall is not None and (127, 1) in shortfall.missing
    assert shortfall.suppliers and all(it.text for it in shortfall.suppliers)
    kinds = {it.kind for it in shortfall.suppliers}
    assert dividing.SupplierKind.CIRCLE in kinds | {it.kind for p in found
                                                    if p.shortfall for it in p.shortfall.suppliers}


def test_ways_come_back_and_set() -> None:
    job = Job("wheel", divisions=127)
    ways = dividing.ways(SHOP, job)
    assert any(way.kind == "differential_indexing" for way in ways)
    for way in ways:
        assert pickle.loads(pickle.dumps(way)) == way
    block = next(it for it in ways if it.kind.startswith("block"))
    assert block.setting("90 deg").kind in ("face_down", "faces_in_vee")
    with pytest.raises(dividing.NotFoundError, match="presented"):
        block.setting("1 deg")


def test_settings_of_the_new_sorts_have_classes() -> None:
    from dividing import AngleBlocks, Protractor, SineBar, Stack

    shop = Workshop("Bench", [
        SineBar("bar", length=100, blocks="metric_87"), AngleBlocks("wedges", blocks="pieces13"),
        Protractor("level", resolution="0°05'"), FacedBlock("square", faces=4),
        Stack("square on bar", members=["bar", "square"]),
    ])
    plans = dividing.plan(shop, Job.angles("tilts", ["0 deg", "12 deg", "20 deg"]))
    found = {plan.equipment: plan.placements[1].setting for plan in plans}
    assert isinstance(found["bar"], dividing.BarOnBlocks) and found["bar"].height_mm > 0
    assert isinstance(found["wedges"], dividing.WrungAngleBlocks)
    assert isinstance(found["level"], dividing.Inclination)
    assert isinstance(found["square on bar"], dividing.StackedSettings)
    for plan in plans:
        assert pickle.loads(pickle.dumps(plan.placements)) == plan.placements
        assert not any(isinstance(it.setting, dividing.OtherSetting) for it in plan.placements)


def test_vee_seats() -> None:
    # Design, reach: a hexagon seats in 120° and rests 15° from true in 90°.
    assert dividing.vee_seat(4, "90 deg").steps_between == 1
    assert dividing.vee_seat(6, "120 deg").seats
    assert dividing.vee_seat(6, "90 deg").off_by == Angle("15 deg")
    with pytest.raises(dividing.OutOfRangeError, match="faces"):
        dividing.vee_seat(2, "90 deg")
    with pytest.raises(dividing.OutOfRangeError, match="included_angle"):
        dividing.vee_seat(4, "180 deg")


def test_tables_are_columns() -> None:
    table = dividing.indexing_table(SHOP, 2, 400)
    assert table.complete and (table.first, table.last) == (2, 400)
    simple = table["head", "simple"]
    divisions, exact = simple["divisions"], simple["exact"]
    assert divisions.tolist() == list(range(2, 401)) and exact.dtype == np.bool_
    # N is exact iff it divides R·c for some circle c (any handbook's rule).
    held = [any(40 * c % n == 0 for c in (15, 16, 17, 18, 19, 20)) for n in divisions.tolist()]
    assert exact.tolist() == held
    moved = simple["turns"] + simple["holes"] / simple["circle"]
    np.testing.assert_allclose(moved[exact], 40 / divisions[exact], rtol=1e-15)
    quick = dividing.exact_table(SHOP, 2, 400)
    for section in table:
        same = quick[section.equipment, section.method]["exact"]
        assert np.array_equal(section["exact"], same), section
        assert all(len(column) == 399 for column in section.values())
    assert pickle.loads(pickle.dumps(table)) == table
    assert "<table" in table._repr_html_() and "<table" in simple._repr_html_()
    with pytest.raises(KeyError, match="turn"):
        simple["turn"]
    with pytest.raises(KeyError, match="lathe"):
        table["lathe", "simple"]


def test_tables_become_data_frames() -> None:
    section = dividing.indexing_table(SHOP, 2, 60)["head", "differential"]
    records = np.asarray(section)
    assert records.dtype.names == tuple(section)
    assert all(np.array_equal(records[name], section[name]) for name in section)
    with pytest.raises(ValueError, match="copy"):
        section.__array__(copy=False)
    for library in ("pandas", "polars"):
        frames = pytest.importorskip(library)
        frame = frames.DataFrame(section)
        assert list(frame.columns) == list(section)
        assert all(frame[name].to_list() == section[name].tolist() for name in section)


def test_columns_are_a_dict_that_cannot_be_changed() -> None:
    section = dividing.indexing_table(SHOP, 2, 60)["head", "simple"]
    assert isinstance(section, dict) and list(dict(section)) == list(section)
    assert section.get("turn") is None and "turns" in section
    for change in (
        lambda: section.__setitem__("turns", np.zeros(59)),
        lambda: section.__delitem__("turns"),
        lambda: section.__ior__({"turns": 1}),
        section.clear, section.popitem, lambda: section.pop("turns"),
        lambda: section.setdefault("more", 1), lambda: section.update(turns=1),
    ):
        with pytest.raises(TypeError, match="TableSection cannot be changed"):
            change()
    assert len(section["turns"]) == 59
    for made in (pickle.loads(pickle.dumps(section)), copy.copy(section), copy.deepcopy(section)):
        assert type(made) is type(section) and made == section and not made != section
    assert section != dict(section) and dict(section) != section and section != 1


def test_nothing_stays_behind_what_arrow_takes() -> None:
    from dividing import _arrow

    section = dividing.exact_table(SHOP, 2, 60).sections[0]
    before = len(_arrow._kept), len(_arrow._owned)
    for _ in range(100):
        capsules = section.__arrow_c_array__()
        assert len(_arrow._owned) == before[1] + 2
        del capsules
    assert (len(_arrow._kept), len(_arrow._owned)) == before


def test_tables_refuse_ranges() -> None:
    for first, last, name in ((0, 9, "first"), (9, 8, "last"), (2, 10**7, "last"),
                              (2, 10**40, "last")):
        with pytest.raises(dividing.OutOfRangeError, match=name):
            dividing.indexing_table(SHOP, first, last)
    with pytest.raises(TypeError, match="workshop"):
        dividing.exact_table(None, 2, 9)  # type: ignore[arg-type]
