"""Writes tests/vectors/probability.json and tests/vectors/geometry.json with SciPy.

Needs numpy and scipy. The geometry is found numerically (root finding and
minimisation on the plain distance of two points), not with the closed forms of
the library. Seeded: the same versions write the same files.
"""

import json
import math
from pathlib import Path

import numpy as np
import scipy
from scipy import integrate, optimize, stats

VECTORS = Path(__file__).resolve().parent.parent / "vectors"
SOURCE = f"SciPy {scipy.__version__}"


def probability():
    rows = []
    for p in [1e-12, 1e-6, 0.001, 0.025, 0.3, 0.5, 0.9, 0.9999]:
        rows.append({"what": "normal_quantile", "p": p, "value": float(stats.norm.ppf(p))})
    for p in [0.5, 0.6827, 0.9, 0.95, 0.9545, 0.99, 0.9973]:
        for nu in [1, 2, 3.5, 5, 10, 16, 18, 50, 100, 1e5]:
            rows.append({"what": "student_factor", "p": p, "degrees_of_freedom": nu,
                         "value": float(stats.t.ppf((1 + p) / 2, nu))})
    for k, n in [(0, 10), (3, 10), (10, 10), (95, 100), (9731, 10000), (1, 1000000), (9999000, 10000000)]:
        for conf in [0.9, 0.95, 0.99]:
            interval = stats.binomtest(k, n).proportion_ci(conf, "exact")
            rows.append({"what": "clopper_pearson", "successes": k, "trials": n, "confidence": conf,
                         "low": float(interval.low), "high": float(interval.high)})
    for n in [2, 3, 4, 5, 6, 8, 12, 25, 100, 1000]:
        distribution = stats.studentized_range(n, np.inf)

        def beyond(w, n=n):
            inner = integrate.quad(
                lambda x: stats.norm.pdf(x) * (stats.norm.cdf(x + w) - stats.norm.cdf(x)) ** (n - 1),
                -9, 9, epsabs=1e-13, epsrel=1e-12, limit=400)[0]
            return 1 - n * inner

        mean = integrate.quad(beyond, 0, 18, epsabs=1e-11, limit=400)[0]
        square = 2 * integrate.quad(lambda w: w * beyond(w), 0, 18, epsabs=1e-11, limit=400)[0]
        # The library's range distribution agrees with SciPy's own.
        assert abs(distribution.cdf(mean) - (1 - beyond(mean))) < 1e-6
        rows.append({"what": "range_constants", "places": n, "mean": mean,
                     "standard_deviation": math.sqrt(square - mean * mean)})
    return rows


def play(rp, rh, c):
    """Largest rotation by bisection on the distance of the two centres."""
    def excess(delta):
        return math.dist((rp, 0.0), (rh * math.cos(delta), rh * math.sin(delta))) - c / 2
    return optimize.brentq(excess, 0.0, math.pi, xtol=1e-15, rtol=1e-14)


def tilt(first, second, loose):
    """Tilt of a line tangent to both pins, found by root finding on the normal."""
    (x1, y1), hole1, pin1 = first
    (x2, y2), hole2, pin2 = second

    def gap(direction):
        normal = np.array([-math.sin(direction), math.cos(direction)])
        heights = []
        for (x, y), hole, pin in (((x1, y1), hole1, pin1), ((x2, y2), hole2, pin2)):
            centre = np.array([x, y])
            if loose:
                centre = centre - normal * (hole - pin) / 2
            heights.append(normal @ (centre + normal * pin / 2))
        return heights[1] - heights[0]

    base = math.atan2(y2 - y1, x2 - x1)
    return optimize.brentq(gap, base - 1.2, base + 1.2, xtol=1e-15, rtol=1e-14) - base


def geometry():
    rng = np.random.default_rng(20250)
    rows = []
    for _ in range(40):
        rh = float(10 ** rng.uniform(-0.3, 2.3))
        c = float(rh * 10 ** rng.uniform(-4, -0.3))
        rp = rh + float(rng.uniform(-0.45, 0.45)) * c
        rows.append({"what": "pin_play", "pin_radius_mm": rp, "hole_radius_mm": rh,
                     "clearance_mm": c, "exact_rad": play(rp, rh, c)})
    for _ in range(40):
        length = float(rng.uniform(10, 200))
        angle = float(rng.uniform(-math.pi, math.pi))
        pins = rng.uniform(5, 8, 2)
        holes = pins + rng.uniform(0, 0.5, 2)
        loose = bool(rng.integers(2))
        second = (length * math.cos(angle), length * math.sin(angle))
        rows.append({"what": "bar_tilt", "second_mm": second, "holes_mm": holes.tolist(),
                     "pins_mm": pins.tolist(), "loose": loose,
                     "exact_rad": tilt(((0.0, 0.0), holes[0], pins[0]), (second, holes[1], pins[1]), loose)})
    for _ in range(20):
        r = float(rng.uniform(5, 200))
        e = float(r * 10 ** rng.uniform(-5, -0.2))
        phase = float(rng.uniform(-math.pi, math.pi))
        # The plate's centre off the axis by e; its hole seen from the axis.
        hole = np.array([e + r * math.cos(phase), r * math.sin(phase)])
        seen = math.atan2(hole[1], hole[0])
        difference = (seen - phase + math.pi) % (2 * math.pi) - math.pi
        rows.append({"what": "eccentricity_error", "hole_radius_mm": r, "eccentricity_mm": e,
                     "phase_rad": phase, "exact_rad": difference})
    for _ in range(20):
        entry = {"radius_difference_mm": float(rng.uniform(-0.01, 0.01)),
                 "pin_radius_tolerance_mm": float(rng.uniform(0, 0.01)),
                 "hole_radius_tolerance_mm": float(rng.uniform(0, 0.01)),
                 "eccentricity_mm": float(rng.uniform(0, 0.005)),
                 "least_clearance_mm": float(rng.uniform(0, 0.01))}
        entry["greatest_clearance_mm"] = entry["least_clearance_mm"] + float(rng.uniform(0.001, 0.03))
        u = math.sqrt((entry["pin_radius_tolerance_mm"] / 3) ** 2 + (entry["hole_radius_tolerance_mm"] / 3) ** 2
                      + entry["eccentricity_mm"] ** 2 / 2)
        m = entry["radius_difference_mm"]
        low, high = entry["least_clearance_mm"] / 2, entry["greatest_clearance_mm"] / 2
        inside = lambda h: stats.norm.cdf(h, m, u) - stats.norm.cdf(-h, m, u)
        probability = integrate.quad(inside, low, high, epsabs=1e-14, epsrel=1e-12)[0] / (high - low)
        rows.append({"what": "entry", **entry, "probability": probability})
    return rows


def write(name, rows):
    lines = ",\n".join("  " + json.dumps({"source": SOURCE, **row}) for row in rows)
    (VECTORS / name).write_text("[\n" + lines + "\n]\n")


if __name__ == "__main__":
    write("probability.json", probability())
    write("geometry.json", geometry())
