"""Closure calibrations by numpy.linalg.lstsq on the full design matrix.

The two conditions that each device sums to zero are rows of the design with a
right side of zero; they fix what the readings leave free and change nothing
else. The covariance is the matching block of the pseudo-inverse of the normal
matrix restricted to the conditions' null space.
"""

import numpy as np
from scipy.linalg import null_space
from scipy.stats import chi2

from common import write


def case(rng, name, n, shifts, missing=0.0, noise=0.2, stated=0.2, keep_covariance=True,
         also_gone=()):
    first = rng.normal(0, 3, n)
    second = rng.normal(0, 3, n)
    first -= first.mean()
    second -= second.mean()
    offsets = rng.normal(0, 20, len(shifts))
    readings = np.array([
        first - second[(np.arange(n) + s) % n] + offsets[k] for k, s in enumerate(shifts)
    ]) + rng.normal(0, noise, (len(shifts), n))
    gone = rng.random(readings.shape) < missing
    for k, i in also_gone:
        gone[k, i] = True
    rows, right = [], []
    for k, s in enumerate(shifts):
        for i in range(n):
            if gone[k, i]:
                continue
            row = np.zeros(2 * n + len(shifts))
            row[i] = 1
            row[n + (i + s) % n] = -1
            row[2 * n + k] = 1
            rows.append(row)
            right.append(readings[k, i])
    design, right = np.array(rows), np.array(right)
    conditions = np.zeros((2, design.shape[1]))
    conditions[0, :n] = 1
    conditions[1, n:2 * n] = 1
    rank = np.linalg.matrix_rank(np.vstack([design, conditions]))
    entry = {
        "id": name,
        "positions": n,
        "shifts": list(shifts),
        "readings_arcsec": [
            [None if gone[k, i] else readings[k, i] for i in range(n)]
            for k in range(len(shifts))
        ],
        "standard_uncertainty_arcsec": stated,
        "determined": bool(rank == design.shape[1]),
    }
    if not entry["determined"]:
        return entry
    solution = np.linalg.lstsq(
        np.vstack([design, conditions]), np.concatenate([right, [0, 0]]), rcond=None
    )[0]
    basis = null_space(conditions)
    covariance = basis @ np.linalg.inv(basis.T @ design.T @ design @ basis) @ basis.T
    residual = right - design @ solution
    dof = len(right) - design.shape[1] + 2
    square = float(residual @ residual)
    entry.update({
        "first_arcsec": solution[:n].tolist(),
        "second_arcsec": solution[n:2 * n].tolist(),
        "offset_arcsec": solution[2 * n:].tolist(),
        "degrees_of_freedom": dof,
        "sum_of_squares_arcsec2": square,
    })
    scale = stated ** 2 if stated else square / dof
    if stated and dof:
        entry["probability"] = float(chi2.sf(square / stated ** 2, dof))
    if keep_covariance:
        entry["covariance_arcsec2"] = (covariance[:2 * n, :2 * n] * scale).tolist()
    return entry


def main():
    rng = np.random.default_rng(98_765)
    cases = [
        case(rng, "full-3", 3, range(3)),
        case(rng, "full-7", 7, range(7)),
        case(rng, "full-8-estimated", 8, range(8), stated=None),
        case(rng, "full-12", 12, range(12)),
        case(rng, "partial-2-of-2", 2, (0, 1)),
        case(rng, "partial-7-difference-set", 7, (0, 1, 3)),
        case(rng, "partial-12-shifts-0-1", 12, (0, 1)),
        case(rng, "partial-12-unordered-repeated", 12, (5, 0, 5, 9, 2)),
        case(rng, "partial-30-wrong-uncertainty", 30, (0, 1, 7, 11), noise=0.5),
        case(rng, "partial-60", 60, (0, 1, 4, 13, 32), keep_covariance=False),
        case(rng, "partial-360", 360, (0, 1, 36, 100), keep_covariance=False),
        case(rng, "not-determined-12", 12, (0, 4, 8)),
        case(rng, "not-determined-one-set-up", 9, (2,)),
        case(rng, "missing-7", 7, range(7), missing=0.2),
        case(rng, "missing-12-estimated", 12, (0, 1, 5, 7), missing=0.15, stated=None),
        case(rng, "missing-30", 30, (0, 1, 7, 11, 20), missing=0.25),
        case(rng, "missing-60", 60, (0, 7, 11, 30, 31, 45), missing=0.3, keep_covariance=False),
        case(rng, "missing-not-determined-12", 12, (0, 4, 8), missing=0.1),
        case(rng, "missing-not-determined-few", 8, (0, 1), also_gone=((1, 3), (0, 6))),
    ]
    write("inspection_closure", "Closure calibrations by numpy.linalg.lstsq", cases)


main()
