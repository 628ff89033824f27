"""Least-squares circles by scipy.optimize.least_squares, with covariance.

The residual is the orthogonal distance over its standard uncertainty across
the circle; without uncertainties the distance itself. Derivatives are taken
by SciPy's three-point differences, so nothing of the library's Jacobian enters.
Deviations and their covariance come from refitting with shifted inputs.
"""

import numpy as np
from scipy.optimize import least_squares

from common import write


def residuals(circle, points, spread):
    d = points - circle[:2]
    rho = np.hypot(d[:, 0], d[:, 1])
    distance = rho - circle[2]
    if spread is None:
        return distance
    cos, sin = d[:, 0] / rho, d[:, 1] / rho
    return distance / np.sqrt((spread[:, 0] * cos) ** 2 + (spread[:, 1] * sin) ** 2)


def fit(points, spread, start):
    for method in ("trf", "lm"):
        result = least_squares(
            residuals, start, args=(points, spread), jac="3-point", method=method,
            x_scale="jac", ftol=1e-15, xtol=1e-15, gtol=1e-15, max_nfev=10000,
        )
        start = result.x
    return result


def deviations(points, spread, start, places, all_places):
    circle = fit(points, spread, start).x
    d = points - circle[:2]
    angle = np.arctan2(d[:, 1], d[:, 0]) - 2 * np.pi * places / all_places
    angle = np.angle(np.exp(1j * (angle - angle[0])))
    return angle - angle.mean()


def deviation_covariance(points, spread, start, places, all_places):
    """Jacobian of the deviations by the coordinates, by central differences."""
    step = 1e-4
    columns = []
    for i in range(len(points)):
        for axis in range(2):
            ends = []
            for sign in (1, -1):
                moved = points.copy()
                moved[i, axis] += sign * step
                ends.append(deviations(moved, spread, start, places, all_places))
            columns.append((ends[0] - ends[1]) / (2 * step) * spread[i, axis])
    jacobian = np.array(columns).T
    return jacobian @ jacobian.T


def case(rng, name, places, all_places, centre, radius, noise, spread=None, covariance=False):
    places = np.asarray(places)
    angle = 2 * np.pi * places / all_places + 0.3
    points = np.column_stack(
        [centre[0] + radius * np.cos(angle), centre[1] + radius * np.sin(angle)]
    )
    points += rng.normal(0.0, 1.0, points.shape) * noise
    if spread is not None:
        spread = np.broadcast_to(np.asarray(spread, float), points.shape).copy()
    start = np.array([*centre, radius])
    result = fit(points, spread, start)
    jtj = result.jac.T @ result.jac
    dof = len(points) - 3
    scale = 1.0
    if spread is None:
        scale = 2 * result.cost / dof if dof else None
    entry = {
        "id": name,
        "places": places.tolist(),
        "all_places": all_places,
        "points_mm": points.tolist(),
        "uncertainty_mm": None if spread is None else spread.tolist(),
        "centre_mm": result.x[:2].tolist(),
        "radius_mm": result.x[2],
        "cost": 2 * result.cost,
        "covariance_mm2": None if scale is None else (np.linalg.inv(jtj) * scale).tolist(),
    }
    if covariance:
        entry["deviations_rad"] = deviations(points, spread, start, places, all_places).tolist()
        entry["deviation_covariance_rad2"] = deviation_covariance(
            points, spread, start, places, all_places
        ).tolist()
    return entry


def main():
    rng = np.random.default_rng(20_240_601)
    cases = []
    for k in range(8):
        n = int(rng.integers(4, 60))
        cases.append(
            case(rng, f"random-{k}", range(n), n, rng.uniform(-300, 300, 2),
                 rng.uniform(5, 400), 10.0 ** rng.uniform(-4, -1))
        )
    for k, arc in enumerate((90, 40, 15)):
        cases.append(
            case(rng, f"sparse-arc-{arc}", range(0, arc, max(1, arc // 18)), 360, (12.0, -7.0), 80.0, 0.002)
        )
        cases.append(
            case(rng, f"sparse-arc-weighted-{arc}", range(0, arc, max(1, arc // 18)), 360, (12.0, -7.0), 80.0,
                 0.002, spread=(0.001, 0.003))
        )
    cases.append(case(rng, "noisy", range(24), 24, (1.0, 2.0), 30.0, 0.8))
    cases.append(
        case(rng, "noisy-weighted", range(24), 24, (1.0, 2.0), 30.0, 0.3, spread=(0.2, 0.5))
    )
    cases.append(case(rng, "three-points", [0, 5, 9], 12, (3.0, 4.0), 25.0, 0.01))
    cases.append(
        case(rng, "covariance-equal", range(12), 12, (0.01, -0.02), 50.0, 0.003,
             spread=(0.002, 0.002), covariance=True)
    )
    cases.append(
        case(rng, "covariance-unequal", [0, 1, 3, 4, 7, 8, 9, 11], 12, (0.01, -0.02), 50.0, 0.003,
             spread=(0.001, 0.004), covariance=True)
    )
    own = np.column_stack([rng.uniform(0.001, 0.004, 9), rng.uniform(0.001, 0.004, 9)])
    cases.append(
        case(rng, "covariance-each-its-own", range(9), 9, (0.0, 0.0), 35.0, 0.003,
             spread=own, covariance=True)
    )
    write("inspection_circle", "Geometric circle fits by scipy.optimize.least_squares", cases)


main()
