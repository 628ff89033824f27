#!/usr/bin/env python3
"""Writes tests/vectors/angles.json from Python's `fractions` alone.

Texts are paired with their value in turns by hand; what they print is worked
out here with exact fractions and Python's round-half-to-even. Nearest fractions
come from `Fraction.limit_denominator`. Nothing here calls the library.
"""

import json
import platform
import random
from fractions import Fraction
from pathlib import Path

VECTORS = Path(__file__).resolve().parent.parent / "vectors"
SEED = 1914
MOST_DIGITS = 30

BY_HAND = "arithmetic by hand"
# id, source, text, turns
TEXTS = [
    ("decimal-degrees", BY_HAND, "22.5 deg", "1/16"),
    ("degree-sign", BY_HAND, "22.5°", "1/16"),
    ("no-space", BY_HAND, "+22.5deg", "1/16"),
    ("spaces-around", BY_HAND, "  22.50   deg ", "1/16"),
    ("degrees-minutes-seconds", BY_HAND, "7°30'15\"", "1801/86400"),
    ("letters", BY_HAND, "7d30m15.5s", "54031/2592000"),
    ("primes", BY_HAND, "22° 30′ 0″", "1/16"),
    ("minutes-alone", BY_HAND, "24'", "1/900"),
    ("seconds-alone", BY_HAND, "0.5\"", "1/2592000"),
    ("fraction-of-turn", BY_HAND, "1/9 turn", "1/9"),
    ("whole-turns", BY_HAND, "2 turns", "2"),
    ("fraction-of-degrees", BY_HAND, "360/7 deg", "1/7"),
    ("gon", BY_HAND, "40 gon", "1/10"),
    ("fraction-not-in-lowest-terms", BY_HAND, "6/54 turn", "1/9"),
    ("minus", BY_HAND, "-1/3 turn", "-1/3"),
    ("minus-sign-u2212", BY_HAND, "\u22120°30'", "-1/720"),
    ("sign-covers-all", BY_HAND, "-7°30'15\"", "-1801/86400"),
    ("exponent", BY_HAND, "2.25e1 deg", "1/16"),
    ("negative-exponent", BY_HAND, "225e-1 deg", "1/16"),
    ("zero", BY_HAND, "0 deg", "0"),
    ("negative-zero", BY_HAND, "-0°00'00\"", "0"),
    ("beyond-a-turn", BY_HAND, "725 deg", "145/72"),
    ("carry-to-minute", BY_HAND, "59.9999\"", "599999/12960000000"),
    ("carry-to-degree", BY_HAND, "0°59'59.96\"", "89999/32400000"),
    ("carry-decimal", BY_HAND, "9.99996 deg", "249999/9000000"),
    ("tie-to-even-down", BY_HAND, "0.00005 deg", "1/7200000"),
    ("tie-to-even-up", BY_HAND, "0.00015 deg", "1/2400000"),
    ("rounds-to-zero-without-sign", BY_HAND, "-0.00001 deg", "-1/36000000"),
    ("tie-seconds-to-even", BY_HAND, "0.25\"", "1/5184000"),
    ("detent", BY_HAND, "61.25 deg", "49/288"),
    ("one-division-of-127", BY_HAND, "1/127 turn", "1/127"),
    ("lcm-1-to-49", "lcm(1..49), Python math.lcm", "1/3099044504245996706400 turn",
     "1/3099044504245996706400"),
    ("handbook-48-40", "Machinery's Handbook, 1916 ed., \"Indexing for angles\" (the angle is read)",
     "48°40'", "73/540"),
    ("manual-13-30", "US Army Ordnance subcourse OD1644, \"Milling Machine Operations\", para (9)(a)",
     "13°30'", "3/80"),
    ("course-8-50", "Technical-college course text \"Advanced Milling Operations - Angular Indexing\"",
     "8°50'", "53/2160"),
]

REFUSED = [
    ("bare-number", "22.5", "missing_unit"),
    ("bare-fraction", "1/9", "missing_unit"),
    ("last-part-bare", "7°30", "missing_unit"),
    ("radians", "1.5 rad", "inexact_unit"),
    ("radians-in-full", "1 radian", "inexact_unit"),
    ("empty", "", "unreadable_text"),
    ("blank", "   ", "unreadable_text"),
    ("comma", "22,5 deg", "unreadable_text"),
    ("sixty-minutes", "7°60'", "unreadable_text"),
    ("sixty-seconds", "7°30'60\"", "unreadable_text"),
    ("decimals-not-last", "7.5°30'", "unreadable_text"),
    ("sign-inside", "7°-30'", "unreadable_text"),
    ("two-signs", "--7°", "unreadable_text"),
    ("wrong-order", "30'7°", "unreadable_text"),
    ("twice", "7°7°", "unreadable_text"),
    ("zero-denominator", "1/0 turn", "unreadable_text"),
    ("decimal-over-whole", "1.5/2 turn", "unreadable_text"),
    ("exponent-without-digits", "1e deg", "unreadable_text"),
    ("unit-alone", "deg", "unreadable_text"),
    ("unknown-unit", "7 furlong", "unreadable_text"),
    ("not-a-number", "NaN deg", "unreadable_text"),
    ("infinite", "inf turn", "unreadable_text"),
    ("other-digits", "٣ deg", "unreadable_text"),
    ("rest-after-unit", "3 deg x", "unreadable_text"),
    ("too-large", "1e60 turn", "overflow"),
    ("too-fine", "1e-60 turn", "overflow"),
]


def text_of(value: Fraction) -> str:
    return f"{value.numerator}/{value.denominator}"


def rounded_to_even(value: Fraction, digits: int) -> tuple[int, str]:
    """Whole part and `digits` decimals of a value that is not negative."""
    scaled = round(value * 10**digits)  # Fraction rounds half to even
    whole, decimals = divmod(scaled, 10**digits)
    return whole, str(decimals).zfill(digits)


def decimal_degrees(turns: Fraction, digits: int) -> str:
    whole, decimals = rounded_to_even(abs(turns) * 360, digits)
    sign = "-" if turns < 0 and (whole or int(decimals)) else ""
    return f"{sign}{whole}.{decimals}°"


def degrees_minutes_seconds(turns: Fraction, digits: int) -> str:
    tenths = round(abs(turns) * 1_296_000 * 10**digits)
    whole, decimals = divmod(tenths, 10**digits)
    minutes, seconds = divmod(whole, 60)
    degrees, minutes = divmod(minutes, 60)
    sign = "-" if turns < 0 and tenths else ""
    return f"{sign}{degrees}°{minutes:02}'{seconds:02}.{str(decimals).zfill(digits)}\""


def printed(turns: Fraction) -> str:
    """Decimal degrees where they end within 30 digits, else a fraction of a turn."""
    degrees = abs(turns) * 360
    for digits in range(MOST_DIGITS + 1):
        scaled = degrees * 10**digits
        if scaled.denominator == 1:
            sign = "-" if turns < 0 else ""
            if digits == 0:
                return f"{sign}{scaled.numerator}°"
            whole, decimals = divmod(scaled.numerator, 10**digits)
            return f"{sign}{whole}.{str(decimals).zfill(digits)}°"
    return f"{turns.numerator}/{turns.denominator} turn"


def nearest() -> list[dict]:
    rng = random.Random(SEED)
    source = f"Python {platform.python_version()} fractions.Fraction.limit_denominator"
    rows = [(Fraction(1, 127), 100), (Fraction(1, 2), 1), (Fraction(-1, 2), 1),
            (Fraction(3, 2), 1), (Fraction(1, 3), 2), (Fraction(355, 113), 112),
            (Fraction(314159265358979, 10**14), 1000), (Fraction(0), 1), (Fraction(-7, 3), 2)]
    for _ in range(120):
        digits = rng.choice([2, 4, 8, 16, 30])
        denominator = rng.randrange(1, 10**digits)
        numerator = rng.randrange(-3 * denominator, 3 * denominator + 1)
        limit = rng.randrange(1, rng.choice([10, 100, 10_000, 10**9, 10**15]) + 1)
        rows.append((Fraction(numerator, denominator), limit))
    return [{"id": f"nearest-{index}", "source": source, "turns": text_of(value),
             "max_denominator": limit, "nearest": text_of(value.limit_denominator(limit))}
            for index, (value, limit) in enumerate(rows)]


def main() -> None:
    cases = []
    for name, source, text, turns in TEXTS:
        value = Fraction(turns)
        cases.append({"id": name, "source": source, "text": text, "turns": text_of(value),
                      "printed": printed(value),
                      "decimal_degrees_4": decimal_degrees(value, 4),
                      "degrees_minutes_seconds_1": degrees_minutes_seconds(value, 1)})
    document = {
        "about": "Exact angles: texts, what they mean in turns and how they print; texts that are "
                 "refused; nearest fractions. Written by tests/reference/make_angle_vectors.py "
                 f"(seed {SEED}, Python {platform.python_version()}).",
        "cases": cases,
        "refused": [{"id": name, "text": text, "kind": kind} for name, text, kind in REFUSED],
        "nearest": nearest(),
    }
    path = VECTORS / "angles.json"
    path.write_text(json.dumps(document, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")
    print(f"{path.name}: {len(cases)} texts, {len(REFUSED)} refused, {len(document['nearest'])} nearest")


if __name__ == "__main__":
    main()
