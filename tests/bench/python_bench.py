"""The Python package beside Python itself and beside the Rust it calls.

Runs both sides of every pair in one go and prints whole lines, as run.py reads
them: ours_s is the package; peer_s the same formula written in Python, the same
sum with `fractions.Fraction`, or the same call from a Rust program (the cargo
bench `python`). Sides take turns, and the best of all turns counts. Promised: a
scalar call within 150 ns, an exact call within 2 µs, arrays within 1.3 times of
the Rust loop, simulation within 3 % of Rust.
"""

import json
import pathlib
import subprocess
import timeit
from fractions import Fraction

import dividing
import numpy as np
from dividing import accuracy
from dividing.simulation import SimulatedFeature, Simulation

TOP = pathlib.Path(__file__).resolve().parents[2]
ROWS = 1_000_000
TURNS = 3


def worst_case_rad(
    pitch_radius_mm,
    *,
    hole_deviation_mm=0.0,
    station_deviation_mm=0.0,
    clearance_mm=0.0,
    bore_clearance_mm=0.0,
    eccentricity_mm=0.0,
):
    """The formula of the package with its refusals, as one writes it in Python."""
    if not pitch_radius_mm > 0:
        raise ValueError("pitch_radius_mm: above 0 is wanted")
    for value in (hole_deviation_mm, station_deviation_mm, clearance_mm, eccentricity_mm):
        if not value >= 0:
            raise ValueError("0 or more is wanted")
    play = (clearance_mm + bore_clearance_mm) / 2
    return (hole_deviation_mm + station_deviation_mm + play + eccentricity_mm) / pitch_radius_mm


def eccentricity_error_rad(radius, eccentricity, phase, *, isfinite, atan2, sin, cos):
    """The formula of the package with its refusals, as one writes it in Python."""
    if not (radius > 0 and eccentricity >= 0 and isfinite(phase)):
        raise ValueError("out of range")
    return atan2(-eccentricity * sin(phase), radius + eccentricity * cos(phase))


def each_s(call, number):
    return min(timeit.repeat(call, number=number, repeat=5)) / number


def rust():
    command = ["cargo", "bench", "-q", "-p", "dividing-core", "--bench", "python"]
    run = subprocess.run(command, cwd=TOP, capture_output=True, text=True, check=True)
    entries = (json.loads(line) for line in run.stdout.splitlines() if line.startswith("{"))
    return {entry["name"]: entry["seconds"] for entry in entries}


def tell(name, ours_s, peer_s, what):
    line = {"name": name, "ours_s": ours_s, "peer_s": peer_s, "threads": 1, "what": what}
    print(json.dumps(line), flush=True)


def scalars():
    import math

    library = {"isfinite": math.isfinite, "atan2": math.atan2, "sin": math.sin, "cos": math.cos}
    pairs = {
        "python_scalar_worst_case": (
            lambda: accuracy.plunger_worst_case_rad(50.0, hole_deviation_mm=0.005, clearance_mm=0.02),
            lambda: worst_case_rad(50.0, hole_deviation_mm=0.005, clearance_mm=0.02),
        ),
        "python_scalar_eccentricity": (
            lambda: accuracy.eccentricity_error_rad(50.0, 0.02, 0.7),
            lambda: eccentricity_error_rad(50.0, 0.02, 0.7, **library),
        ),
    }
    for name, (ours, peer) in pairs.items():
        assert abs(ours() - peer()) <= 0.005 * abs(peer())
        turns = [(each_s(ours, 200_000), each_s(peer, 200_000)) for _ in range(TURNS)]
        tell(name, *map(min, zip(*turns, strict=True)), "a number in, a number out; Python itself")
    third, ninth = dividing.Angle(1, 3), dividing.Angle(1, 9)
    exact = {
        "python_exact_sum": (lambda: (third + ninth).turns, lambda: Fraction(1, 3) + Fraction(1, 9)),
        "python_exact_nearest": (
            lambda: dividing.Angle(1234, 9999).nearest_fraction(100).turns,
            lambda: Fraction(1234, 9999).limit_denominator(100),
        ),
    }
    for name, (ours, peer) in exact.items():
        assert ours() == peer()
        turns = [(each_s(ours, 50_000), each_s(peer, 50_000)) for _ in range(TURNS)]
        tell(name, *map(min, zip(*turns, strict=True)), "an exact fraction; fractions.Fraction")


def arrays_and_simulation():
    radius = 40.0 + 1e-5 * np.arange(ROWS)
    columns = {"hole_deviation_mm": 0.005, "clearance_mm": 1e-8 * np.arange(ROWS)}
    hole = dividing.Contributor(
        "hole position", 0.006, sensitivity=1 / 50, distribution=dividing.Normal(2)
    )
    job = Simulation([SimulatedFeature([hole])] * 12)
    calls = {
        "python_array_worst_case": (
            lambda: accuracy.plunger_worst_case_rad(radius, **columns),
            15,
            "a million values; the Rust loop",
        ),
        "python_array_standard_uncertainty": (
            lambda: accuracy.plunger_standard_uncertainty_rad(radius, **columns),
            15,
            "a million values; the Rust loop",
        ),
        "python_simulation": (
            lambda: job.run(trials=5_000_000),
            5,
            "five million trials of twelve holes; the Rust program",
        ),
    }
    ours = dict.fromkeys(calls, float("inf"))
    peer = dict.fromkeys(calls, float("inf"))
    for _ in range(TURNS):
        for name, seconds in rust().items():
            peer[name] = min(peer[name], seconds)
        for name, (call, times, _what) in calls.items():
            ours[name] = min([ours[name], *timeit.repeat(call, number=1, repeat=times)])
    for name, (_call, _times, what) in calls.items():
        tell(name, ours[name], peer[name], what)


if __name__ == "__main__":
    scalars()
    arrays_and_simulation()
