"""The main job as an engineer would script it with NumPy: for every demo job
and every piece of equipment the nearest settings with the best start, the
residuals, a worst-case figure, and the pieces ranked. Whole-number arithmetic
on a common denominator, vectorised over features. It does not make sheets.

Prints one JSON line a benchmark: name, peer_s.
"""

import json
import math
import pathlib
import statistics
import time
from fractions import Fraction

import numpy as np

DEMO = pathlib.Path(__file__).resolve().parents[2] / "dividing-core/examples/demo"


def turns(text):
    """Demo angles: degrees, or degrees and minutes and seconds."""
    text = text.replace(" deg", "°")
    sign = -1 if text.startswith("-") else 1
    degrees, _, rest = text.lstrip("-").partition("°")
    minutes, _, rest = rest.partition("'")
    seconds = rest.rstrip('"')
    value = Fraction(degrees) + Fraction(minutes or 0) / 60 + Fraction(seconds or 0) / 3600
    return sign * value / 360


def millimetres(value):
    return float(value.split()[0]) * 25.4 if isinstance(value, str) else float(value)


def pattern(job):
    kind, features = next(iter(job["features"].items()))
    if kind == "angles":
        return [turns(text) for text in features["angles"]]
    first = turns(features.get("first_angle", "0°"))
    return [first + Fraction(k, features["count"]) for k in range(features["count"])]


def limit_radians(job):
    tolerance = job["tolerance"]
    if "angle" in tolerance:
        return float(turns(tolerance["angle"])) * math.tau
    zone = tolerance["position_diameter"]
    return millimetres(zone["diameter"]) / (2 * millimetres(zone["radius"]))


def pin_limits(registration, radius_mm):
    clearance = registration["hole_diameter"] - registration["pin_diameter"]
    return (registration["hole_position_tolerance"] / 2 + clearance / 2) / radius_mm


def ways(piece, vees):
    """(order of the held group, worst case in radians, whether the bar or block adds work)."""
    kind, it = next(iter(piece.items()))
    if kind == "worm_head":
        worst = pin_limits(it["registration"], it["smallest_pitch_radius"] * it["worm_ratio"])
        worst += float(turns(it["worm_error"])) * math.tau
        for plate in it["plates"]:
            for circle in plate["circles"]:
                yield it["worm_ratio"] * circle, worst, circle
    elif kind == "vernier_indexer":
        held = it["circle"]["holes"]
        residues = {turns(text) % Fraction(1, held) for text in it["stations"]}
        worst = 2 * pin_limits(it["registration"], it["circle"]["pitch_radius"])
        yield held * len(residues), worst, 0
    elif kind == "faced_block":
        worst = float(turns(it["face_error"]) + turns(it["seat_error"])) * math.tau
        yield it["faces"], worst, 0
        for vee in vees:
            steps = (Fraction(1, 2) - turns(vee["included_angle"])) * it["faces"]
            if steps.denominator == 1 and steps % 2 == 1:
                yield 2 * it["faces"], worst + float(turns(vee["flank_error"])) * math.tau, 0
    elif kind == "pin_plate":
        pins, level = it["registration"], it["levelling"]
        for circle in it["circles"]:
            n = circle["holes"]
            for span in range(n // 2, 0, -1):
                base = 2 * circle["pitch_radius"] * math.sin(math.pi * span / n)
                worst = (pins["hole_position_tolerance"] + it["bar_straightness"]) / base
                worst += (2 * pins["pin_diameter_tolerance"] + pins["hole_diameter_tolerance"]) / base
                worst += level["reading"] / level["travel"]
                yield 2 * n if n % 2 or n <= 4 else n, worst, span
    elif kind == "graduated_dial":
        graduations = it["worm_ratio"] * it["graduations"]
        yield graduations, math.pi / graduations + float(turns(it["table_error"])) * math.tau, 0


def nearest(order, angles, start):
    """Settings and residuals, in whole parts of a turn, on the group of an order."""
    parts = math.lcm(order, *(angle.denominator for angle in angles)) * 2
    step = parts // order
    places = np.array([int(angle * parts) for angle in angles], dtype=np.int64)
    if start == "free":
        residues = np.unique(places % step)
        gaps = np.diff(residues, append=residues[0] + step)
        widest = int(np.argmax(gaps))
        begin = residues[(widest + 1) % len(residues)]
        middle = begin + (step - gaps[widest]) // 2
        shift = -int(middle) % step
    elif start == "on_a_setting":
        shift = -int(places[0]) % step
    else:
        shift = 0
    targets = places + shift
    settings = (targets + step // 2) // step
    return settings % order, settings * step - targets, parts


def plan(workshop, job):
    pieces = workshop["equipment"]
    vees = [piece["vee_block"] for piece in pieces if "vee_block" in piece]
    angles, limit = pattern(job), limit_radians(job)
    plans = []
    for piece in pieces:
        best = None
        for order, worst, detail in ways(piece, vees):
            settings, residuals, parts = nearest(order, angles, job.get("start", "free"))
            off = np.abs(residuals)
            largest = off.max() / parts * math.tau
            features = off / parts * math.tau + worst
            verdict = 0 if features.max() <= limit else 1 if largest <= limit else 2
            key = (largest > 0, verdict, float(features.max()))
            if best is None or key < best[0]:
                best = (key, settings, residuals, features, detail)
        if best is not None:
            plans.append(best)
    plans.sort(key=lambda entry: entry[0])
    return plans


def main():
    workshop = json.loads((DEMO / "workshop.json").read_text())
    jobs = [json.loads(path.read_text()) for path in sorted(DEMO.glob("job_*.json"))]
    for copies in (1, 2, 4, 8):
        larger = {"equipment": workshop["equipment"] * copies}
        pieces = len(larger["equipment"])
        times = []
        for _ in range(9):
            begin = time.perf_counter()
            for job in jobs:
                plan(larger, job)
            times.append(time.perf_counter() - begin)
        name = f"plan_demo_jobs_{pieces}_pieces"
        print(json.dumps({"name": name, "peer_s": statistics.median(times)}), flush=True)


if __name__ == "__main__":
    main()
