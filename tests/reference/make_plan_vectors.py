#!/usr/bin/env python3
"""Writes tests/vectors/plans.json: jobs, workshops and what must come out.

Expected values are the source's, or follow from first principles with exact
fractions; nothing here calls the library. A row of a table is used only when
turns + holes/circle = ratio/N holds for it.
"""

import json
from fractions import Fraction
from itertools import combinations, product
from math import asin, atan2, cos, gcd, hypot, lcm, pi, sin
from pathlib import Path

import handbook_rows as rows

VECTORS = Path(__file__).resolve().parent.parent / "vectors"

PLANE = "plane geometry, worked out in make_plan_vectors.py"
FRACTIONS = "first principles with exact fractions, worked out in make_plan_vectors.py"
PRACTICE = "common practice, no published source; follows from plane geometry"

THREE_PLATES = [[15, 16, 17, 18, 19, 20], [21, 23, 27, 29, 31, 33], [37, 39, 41, 43, 47, 49]]

cases: list[dict] = []


# ---- documents ---------------------------------------------------------------

def text_of(value: Fraction) -> str:
    return f"{value.numerator}/{value.denominator}"


def angle(value) -> str:
    """An angle in turns as text of a document."""
    return f"{text_of(Fraction(value))} turn"


def degrees(value) -> Fraction:
    return Fraction(value) / 360


def workshop(*pieces: dict) -> dict:
    return {"format": 1, "name": "Bench", "equipment": list(pieces)}


def job(features: dict, start=None, **other) -> dict:
    document = {"format": 1, "name": "Job", "features": features, **other}
    if start is not None:
        document["start"] = start
    return document


def divisions(count: int, **other) -> dict:
    return {"equal_divisions": {"count": count, **other}}


def listed(*turns) -> dict:
    return {"angles": {"angles": [angle(it) for it in turns]}}


def head(ratio, circles, back=()) -> dict:
    plate = {"name": "plate", "circles": list(circles)}
    if back:
        plate["back_circles"] = list(back)
    return {"worm_head": {"name": "head", "worm_ratio": ratio, "plates": [plate]}}


def direct(holes: int, name="plate", absent=(), first=0, **other) -> dict:
    circle = {"holes": holes}
    if absent:
        circle["absent"] = list(absent)
    if first:
        circle["first_hole"] = angle(first)
    return {"direct_plate": {"name": name, "circles": [circle], **other}}


def vernier(holes: int, stations) -> dict:
    return {"vernier_indexer": {"name": "indexer", "circle": {"holes": holes},
                                "stations": [angle(it) for it in stations]}}


def block(faces: int) -> dict:
    return {"faced_block": {"name": f"block of {faces}", "faces": faces}}


def vee(included) -> dict:
    return {"vee_block": {"name": "V-block", "included_angle": angle(included)}}


def pins(*rings: int, **other) -> dict:
    return {"pin_plate": {"name": "pin plate", "circles": [{"holes": n} for n in rings], **other}}


def dial(ratio, graduations: int) -> dict:
    return {"graduated_dial": {"name": "table", "worm_ratio": ratio, "graduations": graduations}}


# ---- settings ----------------------------------------------------------------

def crank(turns: int, hole: int, circle: int, back=False) -> dict:
    return {"crank": {"plate": 0, "back": back, "circle": circle, "turns": turns, "hole": hole}}


def hole(number: int, circle: int) -> dict:
    return {"hole": {"circle": circle, "hole": number}}


def at_station(number: int, station: int) -> dict:
    return {"hole_at_station": {"hole": number, "station": station}}


def face(number: int) -> dict:
    return {"face_down": {"face": number}}


def in_vee(left: int, right: int) -> dict:
    return {"faces_in_vee": {"left_face": left, "right_face": right}}


# ---- what a set of orientations can do, by looking at every start ---------------

def apart(a: Fraction, b: Fraction, period: Fraction) -> Fraction:
    gap = (a - b) % period
    return min(gap, period - gap)


def residual_of(start, pattern, elements, period) -> Fraction:
    return max(min(apart(start + p, e, period) for e in elements) for p in pattern)


def least_residual(pattern, elements, period=Fraction(1), start=None) -> Fraction:
    """Least largest residual on `elements` repeated every `period`.

    start: None for free, "on" for the first feature on an element, else given.
    A best free start is the middle of two starts that make a feature exact.
    """
    pattern = [Fraction(p) % period for p in pattern]
    elements = [Fraction(e) % period for e in elements]
    if start == "on":
        starts = [e - pattern[0] for e in elements]
    elif start is not None:
        starts = [Fraction(start)]
    else:
        exact = sorted({(e - p) % period for p in set(pattern) for e in elements})
        starts = [(a + b) / 2 + half for a, b in product(exact, exact) if a <= b
                  for half in (Fraction(0), period / 2)]
    distinct = sorted(set(pattern))
    return min(residual_of(s, distinct, elements, period) for s in starts)


def equal_on_equal(count: int, held: int) -> Fraction:
    """N equal divisions on M equal settings with a free start: (1 − g/N)/(2M)."""
    return (1 - Fraction(gcd(count, held), count)) / (2 * held)


# The closed form against the search over every start.
for count, held in product(range(2, 9), range(1, 9)):
    searched = least_residual([Fraction(i, count) for i in range(count)], [0], Fraction(1, held))
    assert searched == equal_on_equal(count, held), (count, held)


# ---- cases -------------------------------------------------------------------

def case(name, source, provenance, shop, work, equipment, residual, **more) -> None:
    residual = Fraction(residual)
    expected = {"equipment": equipment, "exact": residual == 0,
                "largest_residual": text_of(residual)}
    expected.update({key: value for key, value in more.items() if value is not None})
    if "attained" in expected:
        expected["attained"] = [text_of(Fraction(it)) for it in expected["attained"]]
    cases.append({"id": name, "source": source, "provenance": provenance,
                  "workshop": shop, "job": work, "expected": expected})


def all_of(count: int, most: int = 24) -> list[Fraction] | None:
    return [Fraction(i, count) for i in range(count)] if count <= most else None


def simple_row(name, source, provenance, ratio, count, turns, holes, circle) -> None:
    move = Fraction(ratio, count)
    assert turns + (Fraction(holes, circle) if circle else 0) == move, name
    circle = circle or 15  # the source says that any circle does
    second = Fraction(turns) * circle + holes
    case(name, source, provenance, workshop(head(ratio, [circle])), job(divisions(count)), "head", 0,
         settings=[crank(0, 0, circle), crank(turns, int(second) - turns * circle, circle)],
         attained=all_of(count, 12))


def repeated_compound(ratio, count: int, plates) -> Fraction:
    """The least residual of one compound move repeated, the start free: each of
    two circles moved by a part of a turn of its own, every move tried; a move of
    one division, or of several up to 50 that are prime to their number."""
    least = None
    several = [k for k in range(1, min(50, count // 2) + 1) if gcd(k, count) == 1]
    for circles in plates:
        for i, c1 in enumerate(circles):
            for c2 in circles[i + 1:]:
                common = lcm(c1, c2)
                # Moves of both circles in parts of the common multiple, modulo a turn.
                parts = {(h1 * (common // c1) + h2 * (common // c2)) % common
                         for h1 in range(1, c1) for h2 in range(1, c2)}
                for k in several:
                    wanted = Fraction(ratio * k, count) * common
                    gaps = {(Fraction(part) - wanted) % common for part in parts}
                    off = min(min(gap, common - gap) for gap in gaps) / common / ratio
                    least = off if least is None else min(least, off)
    # From one end of the row to the other; the best start is in the middle.
    return least * (count - 1) / 2


def simple_indexing() -> None:
    for count, turns, holes, circle in rows.SIMPLE_THREE_PLATES:
        simple_row(f"simple-three-plates-{count}", rows.HANDBOOK_THREE, "memory",
                   40, count, turns, holes, circle)
    for count, turns, holes, circle in rows.SIMPLE_TWO_SIDED:
        simple_row(f"simple-two-sided-{count}", rows.HANDBOOK_TWO_SIDED, "memory",
                   40, count, turns, holes, circle)
    for name, count, turns, holes, circle in rows.SIMPLE_READ:
        source = rows.EXERCISES if name.startswith("sheet") else rows.MANUAL + ", para 4c(5), p. 24"
        simple_row(f"simple-{name}", source, "read", 40, count, turns, holes, circle)
    for ratio, count, circles, turns, solutions in rows.EXERCISE_SHEET:
        name = f"exercise-{ratio}-{count}"
        move = Fraction(ratio, count)
        found = tuple((int(move % 1 * c), c) for c in circles if (move * c).denominator == 1)
        assert found == solutions, name
        if solutions:
            only = solutions[0] if len(solutions) == 1 else None
            case(name, rows.EXERCISES, "read", workshop(head(ratio, circles)), job(divisions(count)),
                 "head", 0,
                 settings=[crank(0, 0, only[1]), crank(turns, *only)] if only else None)
            if not only:
                for holes, circle in solutions:
                    simple_row(f"{name}-{circle}", rows.EXERCISES, "read",
                               ratio, count, turns, holes, circle)
        else:
            least = min(equal_on_equal(count, ratio * c) for c in circles)
            least = min(least, repeated_compound(ratio, count, [circles]))
            case(name, rows.EXERCISES + "; residual by arithmetic", "read",
                 workshop(head(ratio, circles)), job(divisions(count)), "head", least)
    # The whole set: 127 divides no 40·c.
    held = [40 * c for plate in THREE_PLATES for c in plate]
    three = {"worm_head": {"name": "head", "worm_ratio": 40, "plates": [
        {"name": f"plate {i + 1}", "circles": plate} for i, plate in enumerate(THREE_PLATES)]}}
    case("simple-127-on-three-plates", FRACTIONS, "arithmetic", workshop(three), job(divisions(127)),
         "head", min(*(equal_on_equal(127, m) for m in held),
                     repeated_compound(40, 127, THREE_PLATES)))
    # Plain indexing alone is what the treatise counts: one circle a plate, so that
    # no two circles can be used together.
    alone = {"worm_head": {"name": "head", "worm_ratio": 40, "plates": [
        {"name": f"circle {c}", "circles": [c]} for plate in THREE_PLATES for c in plate]}}
    case("simple-96-on-three-plates", rows.TREATISE + ": 96 is the even number that is left out; "
         "residual by arithmetic", "read", workshop(alone), job(divisions(96)), "head",
         min(equal_on_equal(96, m) for m in held))
    # 40/96 = 5/12 needs two circles of one plate whose lcm 12 divides.
    case("compound-96-on-three-plates", FRACTIONS, "arithmetic", workshop(three),
         job(divisions(96)), "head", 0)
    geared = {"worm_head": three["worm_head"] | {"change_gears": {
        "gears": [24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100]}}}
    # 40 - 127/3 = -7/3 = -56/24.
    case("differential-127-on-three-plates", FRACTIONS, "arithmetic", workshop(geared),
         job(divisions(127)), "head", 0)
    case("back-of-the-plate", FRACTIONS, "arithmetic", workshop(head(40, [24, 25], [62, 66])),
         job(divisions(66)), "head", 0,
         settings=[crank(0, 0, 66, back=True), crank(0, 40, 66, back=True)])
    # 81/2 : 1 on a circle of 10: one space is 1/405 turn, a division of 81 is 5 spaces.
    case("ratio-of-a-fraction", FRACTIONS, "arithmetic", workshop(head("81/2", [10])),
         job(divisions(81)), "head", 0, settings=[crank(0, 0, 10), crank(0, 5, 10)])


def angular_indexing() -> None:
    sources = {"ang-15": rows.MANUAL + ", para (9)(a), p. 26",
               "ang-13.5": rows.MANUAL + ", para (9)(a), p. 26",
               "ang-24min-approx": rows.MANUAL + ", para (9)(c), p. 27",
               "ang-11.5": rows.HANDBOOK_1916, "ang-1deg-27": rows.HANDBOOK_1916,
               "ang-48-40": rows.HANDBOOK_1916 + " (angle read, move computed)",
               "ang-2/3-27": rows.TREATISE + ", p. 54", "ang-1/3-27": rows.TREATISE + ", p. 54",
               "ang-45": rows.COURSE, "ang-19": rows.COURSE, "ang-8-50": rows.COURSE,
               "ang-sheet-15": rows.EXERCISES}
    for name, text, turns, holes, circle, error_arcsec in rows.ANGULAR:
        wanted = degrees(text)
        circle = circle or 15
        given = (turns + Fraction(holes, circle)) / 40
        assert abs(float(given - wanted) * 1_296_000 - error_arcsec) < 1e-3, name
        case(f"angular-{name}", sources[name], "read", workshop(head(40, [circle])),
             job(listed(0, wanted), "on_a_setting"), "head", abs(given - wanted),
             settings=[crank(0, 0, circle), crank(turns, holes, circle)], attained=[0, given])
    for part, holes, circle, plates in rows.PARTS_OF_A_TURN:
        wanted, given = Fraction(part) / 40, Fraction(holes, circle) / 40
        assert abs(Fraction(part) - Fraction(holes, circle)) <= Fraction(1, 20_000), part
        case(f"part-of-a-turn-{part}-{plates}-{circle}", rows.HANDBOOK_27, "read",
             workshop(head(40, [circle])), job(listed(0, wanted), "on_a_setting"), "head",
             abs(given - wanted), settings=[crank(0, 0, circle), crank(0, holes, circle)],
             attained=[0, given])


def direct_plates() -> None:
    course = rows.COURSE + " (15° a hole is read; the list of divisions computed)"
    for count in (2, 3, 4, 6, 8, 12, 24):
        case(f"direct-24-{count}", course, "read", workshop(direct(24)), job(divisions(count)),
             "plate", 0, settings=[hole(0, 24), hole(24 // count, 24)], attained=all_of(count))
    case("direct-24-5", FRACTIONS, "arithmetic", workshop(direct(24)), job(divisions(5)), "plate",
         equal_on_equal(5, 24))
    three_rows = {"direct_plate": {"name": "plate",
                                   "circles": [{"holes": 14}, {"holes": 20}, {"holes": 24}]}}
    for count in (2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 20, 24):
        case(f"rapid-plate-{count}", rows.TREATISE + ", p. 75 (divisions read; the rows of 14, 20 "
             "and 24 holes are our reading)", "read", workshop(three_rows), job(divisions(count)),
             "plate", 0)

    # Absent holes.
    case("absent-hole-turned-past", FRACTIONS, "arithmetic", workshop(direct(12, absent=[3])),
         job(divisions(4)), "plate", 0, settings=[hole(h, 12) for h in (1, 4, 7, 10)],
         attained=all_of(4))
    for count, holes, absent in ((12, 12, [3]), (4, 12, [0, 4, 8]), (6, 12, [0, 5]), (5, 10, [1, 2]),
                                 (3, 8, [7]), (4, 6, [1, 2])):
        left = [Fraction(h, holes) for h in range(holes) if h not in absent]
        pattern = [Fraction(i, count) for i in range(count)]
        for start, rule in ((None, None), ("on_a_setting", "on")):
            case(f"absent-{holes}-less-{'-'.join(map(str, absent))}-for-{count}-{rule or 'free'}",
                 FRACTIONS, "arithmetic", workshop(direct(holes, absent=absent)),
                 job(divisions(count), start), "plate", least_residual(pattern, left, start=rule))
    zero = {"clocked": {"to": "keyway"}}
    case("absent-hole-when-clocked", FRACTIONS, "arithmetic", workshop(direct(12, absent=[3])),
         job(divisions(4), zero), "plate", Fraction(1, 12),
         settings=[hole(h, 12) for h in (0, 2, 6, 9)],
         attained=[0, Fraction(1, 6), Fraction(1, 2), Fraction(3, 4)])

    # Holes numbered clockwise: a feature at +30° needs the hole at −30°.
    case("clockwise-plate", FRACTIONS, "arithmetic", workshop(direct(12, sense="clockwise")),
         job(listed(0, Fraction(1, 12), Fraction(1, 4)), "on_a_setting"), "plate", 0,
         settings=[hole(0, 12), hole(11, 12), hole(9, 12)],
         attained=[0, Fraction(1, 12), Fraction(1, 4)])

    # Clocked: the keyway stands at the cutter with the plate at 15°, hole 1.
    case("clocked-to-a-hole", FRACTIONS, "arithmetic", workshop(direct(24)),
         job(divisions(8), {"clocked": {"to": "keyway", "reading": "15 deg"}}), "plate", 0,
         settings=[hole(1, 24), hole(4, 24)], attained=all_of(8))
    case("clocked-between-holes", FRACTIONS, "arithmetic", workshop(direct(24)),
         job(divisions(8), {"clocked": {"to": "keyway", "at": "3 deg", "reading": "15 deg"}}),
         "plate", degrees(3), settings=[hole(1, 24), hole(4, 24)],
         attained=[Fraction(i, 8) + degrees(3) for i in range(8)])


def verdicts() -> None:
    # By hand: zone T = 0.02, clearance 0.02, pitch radius 50: (T/2 + c/2)/r =
    # 0.0004 rad = 0.0229°.
    pin = {"pin_diameter": 5.98, "hole_diameter": 6, "hole_position_tolerance": 0.02}
    plate = {"direct_plate": {"name": "plate", "circles": [{"holes": 24, "pitch_radius": 50}],
                              "registration": pin}}
    by_hand = "by hand: (T/2 + c/2)/r = 0.0004 rad = 0.0229 deg"
    for tolerance, verdict in (("0.023 deg", "pass"), ("0.0229 deg", "not_proven"), (None, "no_tolerance")):
        more = {"tolerance": {"angle": tolerance}} if tolerance else {}
        case(f"verdict-{verdict}", by_hand, "arithmetic", workshop(plate), job(divisions(8), **more),
             "plate", 0, verdict=verdict)
    # Five on 24 holes: the settings alone are off by (1 − 1/5)/48 turn = 6°.
    case("verdict-fail", by_hand + "; residual 6 deg", "arithmetic", workshop(plate),
         job(divisions(5), tolerance={"angle": "5.9 deg"}), "plate", Fraction(1, 60), verdict="fail")
    case("verdict-of-an-incomplete-figure", "nothing is known of the pin, so nothing is proven",
         "arithmetic", workshop(direct(24)), job(divisions(8), tolerance={"angle": "1 deg"}), "plate",
         0, verdict="not_proven")


def vernier_indexers() -> None:
    elevens = [degrees(11 * k) for k in range(10)]
    nines = [degrees(9 * k) for k in range(10)]
    whole = [degrees(d) for d in range(360)]
    for name, stations in (("elevens", elevens), ("nines", nines)):
        assert sorted({(Fraction(h, 36) - b) % 1 for h in range(36) for b in stations}) == whole
        case(f"vernier-36-10-{name}-every-degree", PRACTICE, "arithmetic",
             workshop(vernier(36, stations)), job(listed(*whole), "on_a_setting"), "indexer", 0,
             attained=whole)
        case(f"vernier-36-10-{name}-360", PRACTICE, "arithmetic", workshop(vernier(36, stations)),
             job(divisions(360)), "indexer", 0)
    # 46° = 10° · hole − 9° · station: hole 10, station 6.
    case("vernier-46", "How-to post on a 36-hole vernier indexer, 2009: 46° by vernier hole 6; "
         "the hole of the circle by arithmetic", "read", workshop(vernier(36, nines)),
         job(listed(0, degrees(46)), "on_a_setting"), "indexer", 0,
         settings=[at_station(0, 0), at_station(10, 6)], attained=[0, degrees(46)])
    case("vernier-7", FRACTIONS, "arithmetic", workshop(vernier(36, elevens)), job(divisions(7)),
         "indexer", equal_on_equal(7, 360))
    # 101 positions: 101 divides n·m only if it divides n or m.
    case("vernier-101", FRACTIONS, "arithmetic",
         workshop(vernier(101, [0])), job(divisions(101)), "indexer", 0,
         settings=[at_station(0, 0), at_station(1, 0)])
    # Stations that are no complete residues leave gaps: 6 holes, stations 0° and 20°.
    held = [(Fraction(h, 6) - b) % 1 for h in range(6) for b in (0, degrees(20))]
    for count in (12, 18):
        case(f"vernier-with-gaps-{count}", FRACTIONS, "arithmetic",
             workshop(vernier(6, [0, degrees(20)])), job(divisions(count)), "indexer",
             least_residual([Fraction(i, count) for i in range(count)], held))


def blocks() -> None:
    case("square-in-90", PRACTICE, "arithmetic", workshop(block(4), vee(Fraction(1, 4))),
         job(divisions(8)), "block of 4", 0,
         settings=[face(0), in_vee(0, 1), face(1), in_vee(1, 2), face(2), in_vee(2, 3), face(3),
                   in_vee(3, 0)], attained=all_of(8))
    case("hexagon-in-120", PRACTICE, "arithmetic", workshop(block(6), vee(Fraction(1, 3))),
         job(divisions(12)), "block of 6", 0,
         settings=[face(0), in_vee(0, 1), face(1), in_vee(1, 2)], attained=all_of(12))
    case("hexagon-does-not-seat-in-90", PRACTICE, "arithmetic", workshop(block(6), vee(Fraction(1, 4))),
         job(divisions(12)), "block of 6", equal_on_equal(12, 6))
    case("hexagon-in-60-adds-nothing", PLANE, "arithmetic", workshop(block(6), vee(Fraction(1, 6))),
         job(divisions(12)), "block of 6", equal_on_equal(12, 6))
    # Three face steps between the touching faces: (f + 3/2)/12 = 1/24 gives f = −1.
    case("twelve-faces-in-90", PLANE, "arithmetic", workshop(block(12), vee(Fraction(1, 4))),
         job(divisions(24)), "block of 12", 0, settings=[face(0), in_vee(11, 2), face(1)],
         attained=all_of(24))
    case("square-flat", PRACTICE, "arithmetic", workshop(block(4)), job(divisions(4)), "block of 4", 0,
         settings=[face(i) for i in range(4)], attained=all_of(4))
    case("square-flat-for-8", PLANE, "arithmetic", workshop(block(4)), job(divisions(8)), "block of 4",
         equal_on_equal(8, 4))
    case("hexagon-for-3", PRACTICE, "arithmetic", workshop(block(6)), job(divisions(3)), "block of 6",
         0, settings=[face(0), face(2), face(4)], attained=all_of(3))


def bar_orientations(n: int, turns_over: bool, square: bool, spans=None) -> set[Fraction]:
    """Where a bar on two of n pins can point: (a + b)/2n, by half or quarter turns."""
    turned = {Fraction(0)}
    if turns_over:
        turned |= {Fraction(1, 2)}
    if square:
        turned |= {it + Fraction(1, 4) for it in turned}
    return {(Fraction(2 * a + s, 2 * n) + t) % 1
            for a in range(n) for s in (spans or range(1, n // 2 + 1)) for t in turned}


def pin_rings() -> None:
    for n in (3, 4, 5, 6, 7, 9):
        held = bar_orientations(n, True, False)
        assert held == {Fraction(i, 2 * n) + min(held) for i in range(2 * n)}, n
        case(f"pin-ring-{n}-serves-{2 * n}", PRACTICE, "arithmetic", workshop(pins(n)),
             job(divisions(2 * n)), "pin plate", 0, attained=all_of(2 * n))
    for n in (3, 4, 5, 6, 9):
        held = len(bar_orientations(n, True, True))
        assert held == lcm(2 * n, 4)
        case(f"pin-ring-{n}-with-square-serves-{held}", PRACTICE, "arithmetic",
             workshop(pins(n, square=True)), job(divisions(held)), "pin plate", 0)
    case("pin-ring-2", PRACTICE, "arithmetic", workshop(pins(2)), job(divisions(2)), "pin plate", 0)
    case("pin-ring-2-for-4", PRACTICE, "arithmetic", workshop(pins(2)), job(divisions(4)), "pin plate",
         equal_on_equal(4, 2))
    case("pin-ring-2-with-square", PRACTICE, "arithmetic", workshop(pins(2, square=True)),
         job(divisions(4)), "pin plate", 0)
    # The bar not turned over: three holes serve 3, no longer 6.
    on_pins = [{"bar_on_pins": {"circle": 3, "first_pin": a, "second_pin": (a + 1) % 3, "span": 1,
                                "bar": "level_above"}} for a in range(3)]
    case("pin-ring-3-bar-stays-up", PRACTICE, "arithmetic", workshop(pins(3, bar_turns_over=False)),
         job(divisions(3)), "pin plate", 0, settings=on_pins, attained=all_of(3))
    assert len(bar_orientations(3, False, False)) == 3
    case("pin-ring-3-bar-stays-up-for-6", PRACTICE, "arithmetic",
         workshop(pins(3, bar_turns_over=False)), job(divisions(6)), "pin plate", equal_on_equal(6, 3))
    # Not served: every ring of the plate looked at.
    for rings in ((5,), (4, 5, 6, 9)):
        for count in (8, 16, 7, 27):
            pattern = [Fraction(i, count) for i in range(count)]
            least = min(least_residual(pattern, [min(bar_orientations(n, True, False))],
                                       Fraction(1, 2 * n)) for n in rings)
            case(f"pin-rings-{'-'.join(map(str, rings))}-for-{count}", FRACTIONS, "arithmetic",
                 workshop(pins(*rings)), job(divisions(count)), "pin plate", least)


def dials() -> None:
    case("rotary-table-4-degrees-a-turn", "Owner's description of a 90-tooth rotary table: 4° a "
         "handle turn", "read", workshop(dial(90, 240)), job(listed(0, degrees(4)), "on_a_setting"),
         "table", 0,
         settings=[{"reading": {"turns": 0, "graduation": 0, "table": "0°"}},
                   {"reading": {"turns": 1, "graduation": 0, "table": "4°"}}],
         attained=[0, degrees(4)])
    case("dial-7", FRACTIONS, "arithmetic", workshop(dial(90, 240)), job(divisions(7)), "table",
         equal_on_equal(7, 21_600))


def detents() -> None:
    wanted = [degrees(it) for it in ("0", "35/2", "245/4", "200")]
    readings = [(0, 0, "0°"), (4, 90, "17.5°"), (15, 75, "61.25°"), (50, 0, "200°")]
    for (turns, graduation, text), turn in zip(readings, wanted, strict=True):
        assert Fraction(turns * 240 + graduation, 21_600) == turn, text
    case("detents-on-the-dial", FRACTIONS, "arithmetic", workshop(dial(90, 240)), job(listed(*wanted)),
         "table", 0, settings=[{"reading": {"turns": t, "graduation": g, "table": a}}
                               for t, g, a in readings], attained=wanted)
    elevens = [degrees(11 * k) for k in range(10)]
    degree = Fraction(1, 360)
    for start, rule in ((None, None), ("on_a_setting", "on"),
                        ({"clocked": {"to": "keyway", "reading": "0.25 deg"}}, degrees("1/4")),
                        ({"clocked": {"to": "keyway", "at": "3 deg", "reading": "7.5 deg"}},
                         degrees("9/2"))):
        name = start if isinstance(start, str) else "free" if start is None else f"clocked-{float(rule * 360)}"
        case(f"detents-on-the-indexer-{name}", FRACTIONS, "arithmetic", workshop(vernier(36, elevens)),
             job(listed(*wanted), start), "indexer", least_residual(wanted, [0], degree, rule))
    circles = [c for plate in THREE_PLATES for c in plate]
    for start, rule in ((None, None), ("on_a_setting", "on")):
        least = min(least_residual(wanted, [0], Fraction(1, 40 * c), rule) for c in circles)
        case(f"detents-on-the-head-{rule or 'free'}", FRACTIONS, "arithmetic",
             workshop(head(40, circles)), job(listed(*wanted), start), "head", least)


def clocked() -> None:
    # Sixteen holes from 11.25° on: 1/32 turn is 20 spaces of 640.
    keyway = {"clocked": {"to": "keyway"}}
    case("sixteen-clocked-on-the-head", FRACTIONS, "arithmetic", workshop(head(40, [16])),
         job(divisions(16, first_angle="11.25 deg"), keyway), "head", 0,
         settings=[crank(1, 4, 16), crank(3, 12, 16)],
         attained=[Fraction(1, 32) + Fraction(i, 16) for i in range(16)])
    case("sixteen-clocked-on-the-dial", FRACTIONS, "arithmetic", workshop(dial(90, 240)),
         job(divisions(16, first_angle="11.25 deg"), keyway), "table", 0,
         settings=[{"reading": {"turns": 2, "graduation": 195, "table": "11.25°"}},
                   {"reading": {"turns": 8, "graduation": 105, "table": "33.75°"}}])
    # Free, the same holes need no 11.25° and begin at zero.
    case("sixteen-free-on-the-head", FRACTIONS, "arithmetic", workshop(head(40, [16])),
         job(divisions(16, first_angle="11.25 deg")), "head", 0,
         settings=[crank(0, 0, 16), crank(2, 8, 16)])
    # A start shift leaves divisibility alone: 10° more, the same circle.
    case("shifted-and-free", FRACTIONS, "arithmetic", workshop(head(40, [18])),
         job(divisions(9, first_angle="1/1001 turn")), "head", 0,
         settings=[crank(0, 0, 18), crank(4, 8, 18)],
         attained=[Fraction(1, 1001) + Fraction(i, 9) for i in range(9)])


def ranking() -> None:
    # An exact plan stands before one that is not, whatever the order of the workshop.
    case("exact-first", "documented order of plans", "arithmetic",
         workshop(direct(10, name="ten"), direct(9, name="nine")), job(divisions(9)), "nine", 0)
    # Of two that are not exact and of which nothing else is known, the nearer.
    case("nearer-first", "documented order of plans", "arithmetic",
         workshop(direct(10, name="ten"), direct(12, name="twelve")), job(divisions(7)), "twelve",
         equal_on_equal(7, 12))


# ---- devices that tilt, touch or stack -------------------------------------------

GRID = 1_296_000_000_000  # real angles stand on millionths of a second of arc


def on_grid(angle_rad: float) -> Fraction:
    parts = angle_rad / (2 * pi) * GRID
    assert abs(parts - round(parts)) < 0.4999, "too near the middle of two parts for doubles"
    return Fraction(round(parts), GRID)


def clocked_to_zero() -> dict:
    return {"clocked": {"to": "keyway"}}


def nearest_of(held, wanted) -> tuple[list[Fraction], Fraction]:
    """The nearest of what is held to each angle wanted, and the largest residual;
    two equally near would make the choice a matter of taste."""
    attained = []
    for it in map(Fraction, wanted):
        ranked = sorted(held, key=lambda other: apart(other, it, Fraction(1)))
        assert len(ranked) == 1 or apart(ranked[0], it, Fraction(1)) < apart(ranked[1], it, Fraction(1))
        # Written next to the angle wanted, which lies from 0 up.
        attained.append(ranked[0] % 1)
    return attained, max(apart(a, Fraction(w), Fraction(1)) for a, w in zip(attained, wanted))


def attained_case(name, shop, equipment, held, wanted) -> None:
    attained, residual = nearest_of(held, wanted)
    case(name, FIRST_PRINCIPLES, "arithmetic", shop, job(listed(*wanted), clocked_to_zero()),
         equipment, residual, attained=attained)


FIRST_PRINCIPLES = ("every setting tried: sums of blocks, sines and coordinates worked out in "
                    "make_plan_vectors.py")


def subset_sums(blocks, most) -> set[int]:
    return {sum(some) for count in range(1, most + 1) for some in combinations(blocks, count)}


def sine_bars() -> None:
    # Ten blocks from 1.005 to 50 mm, in tenths of a micrometre, three to a stack.
    blocks = [10050, 10100, 10200, 10500, 15000, 20000, 30000, 70000, 200000, 500000]
    bar = {"sine_bar": {"name": "bar", "length": 100, "most_blocks": 3, "blocks": {
        "own": {"unit": "tenth_micrometre", "blocks": blocks}}}}
    one_way = {"sine_bar": bar["sine_bar"] | {"turns_end_for_end": False}}
    heights = {h for h in subset_sums(blocks, 3) if h <= 1_000_000 * sin(pi / 3)}
    up = {h: on_grid(asin(h / 1_000_000)) for h in heights} | {0: Fraction(0)}
    assert up[500000] == Fraction(1, 12)  # half the bar: 30 deg, the one exact tilt
    both = set(up.values()) | {-it % 1 for it in up.values()}
    steep = [Fraction(0), degrees("12.5"), degrees(27), degrees(45)]
    attained_case("sine-bar-both-ways", workshop(bar), "bar", both,
                  steep + [degrees(360 - 20), degrees(360 - 33)])
    attained_case("sine-bar-one-way", workshop(one_way), "bar", set(up.values()), steep)
    case("sine-bar-thirty-degrees", FIRST_PRINCIPLES, "arithmetic", workshop(bar),
         job(listed(0, Fraction(1, 12), Fraction(11, 12)), clocked_to_zero()), "bar", 0,
         attained=[0, Fraction(1, 12), Fraction(11, 12)])


def angle_blocks() -> None:
    sizes = [5, 20, 60, 180, 540, 1800, 3600, 10800, 32400]  # 5" to 9 deg
    held = {Fraction(sum(s * b for s, b in zip(signs, sizes)), 1_296_000) % 1
            for signs in product((-1, 0, 1), repeat=len(sizes))}
    set_of = {"angle_blocks": {"name": "wedges", "blocks": {"own": sizes}}}
    wanted = [Fraction(0), degrees("4.2"), degrees(Fraction(50_003, 3600)), degrees("13.68"),
              degrees(360 - 7) + Fraction(2, 1_296_000)]
    attained_case("angle-blocks-nearest", workshop(set_of), "wedges", held, wanted)
    exact = [Fraction(0), degrees("9.5"), Fraction(-135, 1_296_000) % 1]
    assert all(it in held for it in exact)
    case("angle-blocks-exact", FIRST_PRINCIPLES, "arithmetic", workshop(set_of),
         job(listed(*exact), clocked_to_zero()), "wedges", 0, attained=exact)


def protractors() -> None:
    level = {"protractor": {"name": "level", "resolution": "5'"}}
    every = {Fraction(i, 4320) for i in range(4320)}
    attained_case("protractor-five-minutes", workshop(level), "level", every,
                  [Fraction(0), degrees("12.5"), degrees("40.04"), degrees(301) + Fraction(1, 9000)])
    case("protractor-sevenths", FRACTIONS, "arithmetic", workshop(level), job(divisions(7)),
         "level", equal_on_equal(7, 4320))


def references() -> None:
    def stop(source, *angles) -> dict:
        return {"part_reference": {"name": "stop", "contact": {"drilled_hole": {}}, "from": source,
                                   "angles": [angle(it) for it in angles]}}

    case("last-feature-nine", FRACTIONS, "arithmetic", workshop(stop("last_feature", Fraction(1, 9))),
         job(divisions(9), "on_a_setting"), "stop", 0, attained=all_of(9))
    # A step of 51.4 deg for sevenths: feature k is k·(51.4 − 360/7) off, all within
    # an arc of six such parts; the best start halves it.
    step = degrees("51.4")
    case("last-feature-sevenths", FRACTIONS, "arithmetic", workshop(stop("last_feature", step)),
         job(divisions(7)), "stop", 6 * abs(step - Fraction(1, 7)) / 2)
    case("last-feature-sevenths-on", FRACTIONS, "arithmetic", workshop(stop("last_feature", step)),
         job(divisions(7), "on_a_setting"), "stop", 6 * abs(step - Fraction(1, 7)),
         attained=[k * step for k in range(7)])
    stops = [Fraction(0), degrees(40), degrees("95.5"), degrees(200)]
    case("common-datum-stops", FRACTIONS, "arithmetic", workshop(stop("common_datum", *stops)),
         job(listed(*stops), clocked_to_zero()), "stop", 0, attained=stops)
    attained_case("common-datum-nearest", workshop(stop("common_datum", *stops)), "stop", stops,
                  [Fraction(0), degrees(41), degrees(96), degrees(198)])


def stacked(*members: str) -> dict:
    return {"stack": {"name": "both", "members": list(members)}}


def stacks() -> None:
    # Sums of tenths and sixths are thirtieths; neither piece alone holds them.
    shop = workshop(direct(10), block(6), stacked("plate", "block of 6"))
    case("stack-of-ten-and-six-for-15", FRACTIONS, "arithmetic", shop, job(divisions(15)), "both", 0,
         attained=all_of(15))
    case("stack-of-ten-and-six-for-30", FRACTIONS, "arithmetic", shop, job(divisions(30)), "both", 0)
    case("stack-of-ten-and-six-for-7", FRACTIONS, "arithmetic", shop, job(divisions(7)), "both",
         equal_on_equal(7, 30))
    # A hole that is absent leaves gaps in the sum as well; all elements tried.
    few = workshop(direct(5, absent=[1, 2, 3]), block(2), stacked("plate", "block of 2"))         if False else workshop(direct(5, absent=[1, 2, 3]), block(3), stacked("plate", "block of 3"))
    held = {(Fraction(h, 5) + Fraction(f, 3)) % 1 for h in (0, 4) for f in range(3)}
    # Settings of a plate stand as seen from the station: all are turned alike.
    case("stack-with-gaps-for-6", FRACTIONS, "arithmetic", few, job(divisions(6)), "both",
         least_residual([Fraction(i, 6) for i in range(6)], sorted(held)))
    wedges = {"angle_blocks": {"name": "wedges", "blocks": {"own": [1800, 3600, 10800]}}}
    signed = {sum(s * b for s, b in zip(signs, (1800, 3600, 10800)))
              for signs in product((-1, 0, 1), repeat=3)}
    sums = {(Fraction(f, 6) + Fraction(w, 1_296_000)) % 1 for f in range(6) for w in signed}
    attained_case("stack-of-hexagon-and-wedges", workshop(block(6), wedges, stacked("block of 6", "wedges")),
                  "both", sums, [Fraction(0), degrees("62.4"), degrees("118.6"), degrees("303.1")])


def bars_across_rings() -> None:
    rings = [(5, 31.0, Fraction(0)), (7, 47.0, degrees(4))]
    plate = {"pin_plate": {"name": "pins", "across_rings": True, "circles": [
        {"holes": n, "pitch_radius": r, "first_hole": angle(first)} for n, r, first in rings]}}
    held = set()
    for i, j in product(range(5), range(7)):
        a, b = (2 * pi * float(first + Fraction(h, n)) for h, (n, _, first) in zip((i, j), rings))
        ax, ay, bx, by = 31 * cos(a), 31 * sin(a), 47 * cos(b), 47 * sin(b)
        if hypot(bx - ax, by - ay) < 47:
            continue  # shorter than the larger radius: no baseline for a bar
        # The bar's line lies level when the part has turned by its own direction.
        line = atan2(by - ay, bx - ax)
        held |= {on_grid((line + half * pi) % (2 * pi)) % 1 for half in (0, 1)}
    # Bars on one ring are another way of the same plate; they hold tenths and
    # fourteenths, seen from their first holes, and are farther off here.
    wanted = [degrees(text) for text in ACROSS]
    one_ring = {Fraction(k, 10) for k in range(10)}, {degrees(4) + Fraction(k, 14) for k in range(14)}
    _, across = nearest_of(held, wanted)
    # The right angle from line to normal shifts each ring's settings.
    for ring in one_ring:
        shifted = {it + Fraction(1, 4) for it in ring} | {it - Fraction(1, 4) for it in ring}
        assert max(min(apart(e, w, Fraction(1)) for e in shifted) for w in wanted) > across
    attained_case("bar-across-rings", workshop(plate), "pins", held, wanted)


ACROSS = ("3.7", "91.2", "200.123")


def main() -> None:
    for group in (simple_indexing, angular_indexing, direct_plates, verdicts, vernier_indexers,
                  blocks, pin_rings, dials, detents, clocked, ranking, sine_bars,
                  angle_blocks, protractors, references, stacks, bars_across_rings):
        group()
    names = [case["id"] for case in cases]
    assert len(names) == len(set(names)), sorted(n for n in names if names.count(n) > 1)
    head_text = json.dumps(
        "Workshop and job in, best plan out. Sources stand beside each case; provenance: read (in a "
        "reproduction of the source), memory (recalled), arithmetic (first principles). Written by "
        "tests/reference/make_plan_vectors.py.", ensure_ascii=False)
    lines = ",\n".join(json.dumps(case, ensure_ascii=False) for case in cases)
    path = VECTORS / "plans.json"
    path.write_text(f'{{\n"about": {head_text},\n"cases": [\n{lines}\n]}}\n', encoding="utf-8")
    print(f"{path.name}: {len(cases)} cases")


if __name__ == "__main__":
    main()
