"""General-purpose libraries judge what the package says."""

from __future__ import annotations

import math

import dividing
import numpy as np
import pytest
import scipy.optimize
import scipy.stats
import sympy
import uncertainties
from dividing import Contributor, accuracy, inspection
from dividing.simulation import SimulatedFeature, SimulatedInput, Simulation
from hypothesis import given, settings
from hypothesis import strategies as st

positive = st.floats(1e-6, 1e3)
DISTRIBUTIONS = st.sampled_from(
    ["uniform", "triangular", "u_shaped", "uniform_in_disc", dividing.Normal(2.5)]
)
contributors = st.lists(
    st.builds(
        Contributor,
        st.sampled_from(["hole position", "pin clearance", "levelling"]),
        st.floats(1e-6, 1),
        sensitivity=st.floats(1e-3, 10),
        distribution=DISTRIBUTIONS,
    ),
    min_size=1,
    max_size=6,
)


@given(contributors)
def test_uncertainties_agrees_with_the_budget(parts: list[Contributor]) -> None:
    """The package uncertainties propagates the same standard uncertainties."""
    total = sum(
        part.sensitivity * uncertainties.ufloat(0, part.standard_uncertainty)
        for part in parts
    )
    budget = accuracy.Budget.of_contributors("angle", parts)
    arcsec = math.degrees(total.std_dev) * 3600
    assert budget.combined_standard_uncertainty == pytest.approx(arcsec, rel=1e-9)
    assert sum(line.share for line in budget.lines) == pytest.approx(1)


def test_correlated_inputs_agree_with_uncertainties() -> None:
    """JCGM 100:2008, 5.2.2, with a covariance matrix."""
    sigma = np.array([0.003, 0.004])
    for r in (-0.9, 0.0, 0.5, 1.0):
        matrix = np.outer(sigma, sigma) * np.array([[1, r], [r, 1]])
        x, y = uncertainties.correlated_values([10.0, 20.0], matrix)
        model = accuracy.UncertaintyModel(
            "2x - 3y",
            2 * 10 - 3 * 20,
            [
                accuracy.UncertainInput("x", sigma[0], 2),
                accuracy.UncertainInput("y", sigma[1], -3),
            ],
            correlations=[accuracy.Correlation("x", "y", r)],
        )
        found = model.budget().combined_standard_uncertainty
        assert found == pytest.approx((2 * x - 3 * y).std_dev, rel=1e-6, abs=1e-9)


@pytest.mark.parametrize(
    "distribution, variance",
    [
        ("uniform", scipy.stats.uniform(-1, 2).var()),
        ("triangular", scipy.stats.triang(0.5, -1, 2).var()),
        ("u_shaped", scipy.stats.arcsine(-1, 2).var()),
        (dividing.Normal(3), 1 / 9),
        # One coordinate of a disc: the semicircle distribution.
        ("uniform_in_disc", scipy.stats.semicircular().var()),
    ],
    ids=str,
)
def test_scipy_agrees_with_the_distributions(distribution: object, variance: float) -> None:
    part = Contributor("x", 1.0, sensitivity=1.0, distribution=distribution)  # type: ignore[arg-type]
    assert part.standard_uncertainty == pytest.approx(math.sqrt(variance), rel=1e-12)
    one = Simulation(
        [SimulatedFeature([SimulatedInput(part, place=str(n))]) for n in range(3)],
        datum="setting",
    )
    features = one.run(trials=200_000, seed=11).features
    assert features is not None
    np.testing.assert_allclose(features.standard_deviation_rad, math.sqrt(variance), rtol=0.01)


def test_scipy_agrees_with_quantiles_of_a_normal() -> None:
    part = Contributor("x", 1.0, sensitivity=1.0, distribution=dividing.Normal(1))
    job = Simulation([SimulatedFeature([part])] * 2, datum="setting")
    asked = (0.025, 0.5, 0.9, 0.975)
    features = job.run(trials=1_000_000, seed=2, quantiles=asked).features
    assert features is not None
    # Standard error of a quantile at p: sqrt(p(1-p)/n)/density.
    expected = scipy.stats.norm.ppf(asked)
    error = np.sqrt(np.multiply(asked, np.subtract(1, asked)) / 1e6)
    error /= scipy.stats.norm.pdf(expected)
    assert (np.abs(features.quantiles_rad - expected) < 5 * error + 2e-3).all()


@given(st.floats(-3, 3), st.floats(0.1, 3), st.floats(-4, 0), st.floats(0, 4))
def test_scipy_agrees_with_conformance(
    estimate: float, sigma: float, lower: float, upper: float
) -> None:
    normal = scipy.stats.norm(estimate, sigma)
    expected = normal.cdf(upper) - normal.cdf(lower)
    found = accuracy.conformance_probability(estimate, sigma, lower, upper)
    assert found == pytest.approx(expected, abs=1e-12)


@given(st.floats(0.02, 0.98), st.integers(1, 60))
def test_scipy_agrees_with_student(p: float, freedom: int) -> None:
    expected = scipy.stats.t.ppf((1 + p) / 2, freedom)
    assert accuracy.student_factor(p, freedom) == pytest.approx(expected, rel=1e-8)


def test_sympy_agrees_with_the_exact_play() -> None:
    """The pin leaves the hole where rp² + rh² − 2 rp rh cos δ = (c/2)²."""
    delta = sympy.symbols("delta", positive=True)
    for rp, rh, c in ((50, 50, 8), (48, 50, 30), (100, 101, 5)):
        equation = rp**2 + rh**2 - 2 * rp * rh * sympy.cos(delta) - sympy.Rational(c, 2) ** 2
        angle = sympy.nsolve(equation, delta, 0.1)
        assert accuracy.pin_play_rad(rp, rh, c) == pytest.approx(float(angle), rel=0.0051)


def test_sympy_agrees_with_the_eccentricity_over_n_features() -> None:
    """2e/r for N even, 2(e/r)·cos(π/2N) for N odd: N points on a sinusoid, the
    phase being the worst."""
    for count in range(2, 12):
        phases = np.linspace(0, 2 * np.pi, 4 * count * 12, endpoint=False)
        angles = np.arange(count) * 2 * np.pi / count
        waves = np.sin(angles[None, :] - phases[:, None])
        most = (waves.max(axis=1) - waves.min(axis=1)).max()
        found = accuracy.eccentricity_peak_to_peak_rad(0.025, 50, count)
        assert found == pytest.approx(0.0005 * most, rel=1e-4)
    n = sympy.symbols("n", integer=True, positive=True)
    odd = 2 * sympy.cos(sympy.pi / (2 * n))
    found = accuracy.eccentricity_peak_to_peak_rad(1, 1, 7)
    assert found == pytest.approx(float(odd.subs(n, 7)), rel=1e-14)


@settings(max_examples=30)
@given(
    st.integers(4, 30),
    st.floats(-50, 50),
    st.floats(-50, 50),
    st.floats(20, 200),
    st.integers(0, 2**32 - 1),
)
def test_scipy_agrees_with_circles(
    count: int, x0: float, y0: float, radius: float, seed: int
) -> None:
    noise = np.random.default_rng(seed).normal(0, 0.005, count)
    angle = np.arange(count) * 2 * np.pi / count
    x, y = x0 + (radius + noise) * np.cos(angle), y0 + (radius + noise) * np.sin(angle)

    def residuals(p: np.ndarray) -> np.ndarray:
        return np.hypot(x - p[0], y - p[1]) - p[2]

    best = scipy.optimize.least_squares(residuals, (x.mean(), y.mean(), radius), xtol=1e-15)
    fit = inspection.fit_circle(x, y)
    assert (fit.x_mm, fit.y_mm, fit.radius_mm) == pytest.approx(tuple(best.x), abs=1e-7)
    np.testing.assert_allclose(
        fit.residuals_mm, residuals(np.array([fit.x_mm, fit.y_mm, fit.radius_mm])), atol=1e-9
    )


@given(contributors, st.sampled_from(["worst_case", "root_sum_square"]))
def test_the_inverse_brings_the_total_to_the_limit(
    parts: list[Contributor], criterion: str
) -> None:
    """Law: with the loosest limit of one input the total is the limit."""
    total = accuracy.total_rad(parts, criterion)  # type: ignore[arg-type]
    limit = 1.5 * total
    name = parts[0].name
    loosest = accuracy.loosest_limit(parts, name, limit, criterion)  # type: ignore[arg-type]
    assert loosest is not None
    changed = [
        Contributor(
            part.name,
            loosest if part.name == name else part.limit,
            sensitivity=part.sensitivity,
            distribution=part.distribution,
        )
        for part in parts
    ]
    found = accuracy.total_rad(changed, criterion)  # type: ignore[arg-type]
    assert found == pytest.approx(limit, rel=1e-9)


@given(st.lists(st.floats(-50, 50), min_size=4, max_size=40), st.data())
def test_choices_are_the_best_of_all(deviations: list[float], data: st.DataObject) -> None:
    """Law: no start does better, by trying all of them with NumPy."""
    places = len(deviations)
    pattern = data.draw(
        st.lists(st.integers(0, places - 1), min_size=1, max_size=places, unique=True)
    )
    ring = np.array(deviations) * 1e-6
    choice = inspection.choose_start(ring, pattern, reference="mean")
    worst = []
    for start in range(places):
        some = ring[(start + np.array(pattern)) % places]
        worst.append(np.abs(some - some.mean()).max())
    assert choice.worst == pytest.approx(min(worst), abs=1e-15)
    assert worst[choice.best] == pytest.approx(min(worst), abs=1e-15)
    assert choice.worst_choice == pytest.approx(max(worst), abs=1e-15)
