"""Plate briefs and patterns."""

from __future__ import annotations

import math
import pickle
from typing import Any

import dividing
import numpy as np
import pytest
from conftest import NAMES
from dividing import (
    CircleOnPlate,
    Disc,
    DivisionWish,
    FixedRing,
    ForPins,
    ForVernierPair,
    ForWormHead,
    Job,
    ListWish,
    Pattern,
    PlateBrief,
    Polygon,
    Workshop,
    design_plate,
)

SIZES: dict[str, Any] = {"hole_diameter": 6, "least_web": 2, "least_edge_distance": 3}
BRIEFS = [
    PlateBrief(Disc(100), divisions=[5, 6, 7, 8, 9, 12], **SIZES),
    PlateBrief(Disc(100), divisions=[7, 9, 12], used=ForWormHead(ratio=40), **SIZES),
    PlateBrief(Disc(120), divisions=[DivisionWish(9, tolerance="0°05'"), 10],
               used=ForPins(square=True), pin_diameter=5.98, hole_position_tolerance=0.02,
               bore=20, **SIZES),
    PlateBrief(Disc(100), divisions=[20], used=ForVernierPair(), **SIZES),
    PlateBrief(Polygon(6, across_flats=90), divisions=[6, 5], angles=["17.5 deg"],
               lists=[ListWish(["0 deg", "33 deg"])], rings=[FixedRing(divisions=[5])],
               mounting_holes=[CircleOnPlate(x=0, y=0, diameter=6)], **SIZES),
]


@pytest.mark.parametrize("brief", BRIEFS, ids=str)
def test_briefs_and_patterns_come_back(brief: PlateBrief) -> None:
    assert eval(repr(brief), NAMES) == brief
    assert pickle.loads(pickle.dumps(brief)) == brief
    assert PlateBrief.from_json(brief.to_json()) == brief
    plate = design_plate(brief)
    assert plate.brief == brief and len(plate) == plate.hole_count
    for again in (Pattern.from_json(plate.to_json()), pickle.loads(pickle.dumps(plate))):
        assert again == plate and hash(again) == hash(plate)
    assert plate.check.passed and plate.certificate.lower_bound <= plate.certificate.holes
    assert len(plate.served) == len(brief.divisions) + len(brief.angles) + len(brief.lists)
    assert "<svg" in plate.svg and plate._repr_svg_() == plate.svg
    assert "SECTION" in plate.dxf() and "<table" in plate.certificate._repr_html_()
    pieces = plate.equipment("own plate")
    assert Workshop("shop", pieces).equipment == pieces


def test_the_holes_are_where_they_should_be() -> None:
    plate = design_plate(BRIEFS[0])
    # Holes of one ring: the sum of Euler's phi over all divisors (design, patterns).
    assert plate.hole_count == 37 == plate.certificate.lower_bound
    holes = plate.holes
    radius = np.array([ring.radius_mm for ring in plate.rings])[holes["ring"]]
    angle = np.radians(holes["angle_deg"])
    np.testing.assert_allclose(holes["x_mm"], radius * np.cos(angle), atol=1e-9)
    np.testing.assert_allclose(holes["y_mm"], radius * np.sin(angle), atol=1e-9)
    x, y = holes["x_mm"], holes["y_mm"]
    apart = np.hypot(x[:, None] - x, y[:, None] - y)[np.triu_indices(len(x), 1)]
    assert plate.check.least_web_mm == pytest.approx(apart.min() - 6)
    assert plate.check.pairs == len(apart)
    order = plate.drilling_order
    assert sorted(zip(order["ring"].tolist(), order["number"].tolist(), strict=True)) == sorted(
        zip(holes["ring"].tolist(), holes["number"].tolist(), strict=True))


def test_tables_and_programs() -> None:
    plate = design_plate(BRIEFS[0])
    table = plate.drill_table(digits=2, unit="inch", datum="left_and_lower_edge")
    assert len(table.rows) == 37 == len(table.csv.strip().splitlines()) - 1
    assert table.rows[0].label == plate.label(0, 0) and table.unit == "in"
    assert "<table" in table._repr_html_()
    chords = [it for it in plate.check_dimensions if it.kind == "neighbours"]
    assert all(it.over_pins_mm == pytest.approx(it.centres_mm + 6) for it in chords)
    cycle = plate.drill_program(depth=8, feed=80, spindle_rpm=1200)
    moves = plate.drill_program(depth=8, feed=80, spindle_rpm=1200, style="moves")
    assert "G81" in cycle and "G81" not in moves
    for change, name in (({"digits": 10}, "digits"), ({"unit": "mile"}, "unit"),
                         ({"datum": "moon"}, "datum"), ({"style": "fast"}, "style"),
                         ({"spindle_rpm": 0}, "spindle_rpm"), ({"depth": -1}, "depth")):
        given: dict[str, Any] = {"depth": 8, "feed": 80, "spindle_rpm": 1200, **change}
        with pytest.raises(dividing.DividingError, match=name):
            plate.drill_program(**given)


def test_a_designed_plate_is_equipment_again() -> None:
    plate = design_plate(PlateBrief(Disc(100), divisions=[9], **SIZES))
    shop = Workshop("shop", plate.equipment("own plate"))
    best = dividing.plan(shop, Job("nine", divisions=9))[0]
    assert best.exact and best.equipment.startswith("own plate")


def test_what_does_not_fit_says_what_would() -> None:
    brief = PlateBrief(Disc(60), divisions=[97], **SIZES)
    with pytest.raises(dividing.PlateDoesNotFitError) as caught:
        design_plate(brief)
    shortfall = caught.value.shortfall
    assert shortfall is not None and shortfall.binding
    # One ring of 97 needs a radius of at least 8/(2 sin(pi/97)), and 6 mm round it.
    least = 2 * (8 / (2 * math.sin(math.pi / 97)) + 6)
    assert shortfall.smallest_outline_mm == pytest.approx(least, abs=0.02)
    assert pickle.loads(pickle.dumps(caught.value)).shortfall == shortfall
    assert shortfall.largest_pin_mm is None
    with pytest.raises(dividing.PlateDoesNotFitError) as caught:
        design_plate(brief.replace(divisions=[29], pin_diameter=5.98))
    # The clearance of hole and pin is kept.
    smaller = caught.value.shortfall
    assert smaller is not None and smaller.largest_hole_mm is not None
    assert smaller.largest_pin_mm == pytest.approx(smaller.largest_hole_mm - 0.02, abs=1e-9)
    grown = brief.replace(outline=Disc(math.ceil(least) + 1))
    assert design_plate(grown).hole_count == 97


def test_a_vernier_pair_has_stations() -> None:
    plate = design_plate(BRIEFS[3])
    fixed = plate.station_plate()
    assert fixed is not None and fixed.hole_count == len(plate.stations) == 4
    assert plate.hole_count == 5


WRONG: list[Any] = [None, True, b"5", 5.5, object(), "\ud800", [None]]


@pytest.mark.parametrize("value", WRONG, ids=ascii)
def test_briefs_name_the_argument(value: Any) -> None:
    for name in ("divisions", "angles", "lists", "keep_outs", "rings"):
        with pytest.raises((TypeError, dividing.DividingError), match=rf"^{name}"):
            PlateBrief(Disc(100), **{**SIZES, name: [value]})
    if value is not None:
        for name in ("bore", "fit", "pin_diameter", "most_rings"):
            if isinstance(value, float) and name in ("bore", "pin_diameter"):
                continue
            with pytest.raises((TypeError, dividing.DividingError), match=rf"^{name}"):
                PlateBrief(Disc(100), **{**SIZES, "divisions": [5], name: value})
    for call in (lambda: PlateBrief(value, **SIZES), lambda: design_plate(value)):
        with pytest.raises(TypeError, match=r"^(outline|brief)"):
            call()
    with pytest.raises(dividing.DividingError):
        PlateBrief(Disc(100), divisions=[1], **SIZES)
