"""Writes tests/vectors/budget.json: linear budgets worked out by `uncertainties`
(combined uncertainty, with correlations) and by GTC (effective degrees of
freedom; the Student factor at the next lower whole number by SciPy). Seeded.
Needs numpy, scipy, uncertainties and GTC.
"""

import json
import math
from importlib.metadata import version
from pathlib import Path

import GTC
import numpy as np
import uncertainties
from scipy import stats

VECTORS = Path(__file__).resolve().parent.parent / "vectors"


def main():
    rng = np.random.default_rng(100)
    rows = []
    for index in range(30):
        count = int(rng.integers(2, 7))
        u = (10 ** rng.uniform(-3, 1, count)).tolist()
        c = rng.normal(0, 2, count).tolist()
        row = {"standard_uncertainties": u, "sensitivities": c}
        if index % 2:
            # A correlation matrix of random vectors is always possible.
            vectors = rng.normal(size=(count, count + 1))
            vectors /= np.linalg.norm(vectors, axis=1)[:, None]
            r = vectors @ vectors.T
            covariance = r * np.outer(u, u)
            values = uncertainties.correlated_values([0.0] * count, covariance.tolist())
            total = sum(ci * xi for ci, xi in zip(c, values))
            row.update(source=f"uncertainties {uncertainties.__version__}", correlations=r.tolist(),
                       combined=total.std_dev)
        else:
            df = [float(d) for d in rng.integers(2, 40, count)]
            df[0] = None
            inputs = [GTC.ureal(0.0, ui, math.inf if d is None else d) for ui, d in zip(u, df)]
            total = sum(ci * xi for ci, xi in zip(c, inputs))
            row.update(source=f"GTC {version('GTC')}", degrees_of_freedom=df,
                       combined=GTC.uncertainty(total), effective_degrees_of_freedom=GTC.dof(total),
                       coverage_factor=float(stats.t.ppf(0.975, math.floor(GTC.dof(total)))))
        rows.append(row)
    lines = ",\n".join("  " + json.dumps(row) for row in rows)
    (VECTORS / "budget.json").write_text("[\n" + lines + "\n]\n")


if __name__ == "__main__":
    main()
