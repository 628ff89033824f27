"""The vectors of fits, accuracy and inspection, read as Rust reads them."""

from __future__ import annotations

import math
from typing import Any

import dividing
import numpy as np
import pytest
from conftest import vectors
from dividing import accuracy, fits, inspection

ISO_286 = vectors("iso_286.json")
BUDGETS = vectors("budget.json")
PROBABILITY = vectors("probability.json")
GEOMETRY = vectors("geometry.json")
CIRCLES = vectors("inspection_circle.json")["cases"]
CLOSURES = vectors("inspection_closure.json")["cases"]
HARMONICS = vectors("inspection_harmonics.json")["cases"]
ARCSEC = math.pi / 648_000


def by_id(case: dict[str, Any]) -> str:
    return str(case["id"])


def of(cases: list[dict[str, Any]], what: str) -> list[dict[str, Any]]:
    found = [case for case in cases if case["what"] == what]
    assert len(found) >= 5
    return found


def test_iso_286_over_arrays() -> None:
    """Every zone at both ends of its step of sizes, in one call."""
    for case in ISO_286:
        sizes = np.array([case["over_mm"] + 0.001, case["up_to_mm"]])
        if "class" in case:
            found = fits.ToleranceClass(case["class"]).limit_deviations(sizes)
            assert (found.lower_um == case["lower_um"]).all(), case
            assert (found.upper_um == case["upper_um"]).all(), case
        else:
            found = fits.ToleranceClass(f"H{case['grade'][2:]}").limit_deviations(sizes)
            assert (found.upper_um - found.lower_um == case["tolerance_um"]).all(), case


@pytest.mark.parametrize("case", BUDGETS, ids=range(len(BUDGETS)))
def test_budgets(case: dict[str, Any]) -> None:
    size = len(case["sensitivities"])
    columns = zip(
        case["standard_uncertainties"],
        case["sensitivities"],
        case.get("degrees_of_freedom", [None] * size),
        strict=True,
    )
    inputs = [
        accuracy.UncertainInput(f"x{index}", *pair, degrees_of_freedom=freedom)
        for index, (*pair, freedom) in enumerate(columns)
    ]
    pairs = [
        accuracy.Correlation(f"x{one}", f"x{other}", case["correlations"][one][other])
        for one in range(size if "correlations" in case else 0)
        for other in range(one)
    ]
    coverage = accuracy.CoverageProbability(0.95)
    found = accuracy.UncertaintyModel(
        "y", 0, inputs, correlations=pairs, coverage=coverage
    ).budget()
    assert found.combined_standard_uncertainty == pytest.approx(case["combined"], rel=1e-9)
    freedom = case.get("effective_degrees_of_freedom")
    if freedom is None:
        assert found.effective_degrees_of_freedom is None
    else:
        assert found.effective_degrees_of_freedom == pytest.approx(freedom, rel=1e-9)


def test_probabilities_over_arrays() -> None:
    """One call of arrays answers as many calls of numbers."""
    cases = of(PROBABILITY, "student_factor")
    p = np.array([case["p"] for case in cases])
    freedom = np.array([float(case["degrees_of_freedom"]) for case in cases])
    found = accuracy.student_factor(p, freedom)
    np.testing.assert_allclose(found, [case["value"] for case in cases], rtol=1e-9)
    for case, value in zip(cases, found, strict=True):
        assert accuracy.student_factor(case["p"], case["degrees_of_freedom"]) == value
    for case in of(PROBABILITY, "clopper_pearson"):
        interval = accuracy.clopper_pearson(
            case["successes"], case["trials"], case["confidence"]
        )
        assert interval == pytest.approx((case["low"], case["high"]), rel=1e-8, abs=1e-12)
    for case in of(PROBABILITY, "range_constants"):
        constants = accuracy.range_constants(case["places"])
        assert constants.mean == pytest.approx(case["mean"], abs=1e-6)
        assert constants.standard_deviation == pytest.approx(
            case["standard_deviation"], abs=1e-6
        )


def test_geometry() -> None:
    """The model in use is within 0.5 % of the exact angle."""
    names = ("pin_radius_mm", "hole_radius_mm", "clearance_mm")
    cases = of(GEOMETRY, "pin_play")
    columns = ([case[name] for case in cases] for name in names)
    found = accuracy.pin_play_rad(*columns)
    np.testing.assert_allclose(found, [case["exact_rad"] for case in cases], rtol=0.0051)
    names = ("hole_radius_mm", "eccentricity_mm", "phase_rad")
    cases = of(GEOMETRY, "eccentricity_error")
    columns = ([case[name] for case in cases] for name in names)
    found = accuracy.eccentricity_error_rad(*columns)
    np.testing.assert_allclose(found, [case["exact_rad"] for case in cases], rtol=0.0051)
    for case in of(GEOMETRY, "bar_tilt"):
        first = accuracy.BarSupport(0.0, 0.0, case["holes_mm"][0], case["pins_mm"][0])
        second = accuracy.BarSupport(
            *case["second_mm"], case["holes_mm"][1], case["pins_mm"][1]
        )
        seating = "at_bottom" if case["loose"] else "fixed"
        tilt = accuracy.bar_tilt_rad(first, second, seating)
        assert tilt == pytest.approx(case["exact_rad"], rel=0.0051, abs=1e-12)
    for case in of(GEOMETRY, "entry"):
        fields = {name: value for name, value in case.items() if name.endswith("_mm")}
        assert accuracy.Entry(**fields).check().probability == pytest.approx(
            case["probability"], abs=2e-3
        )


@pytest.mark.parametrize("case", CIRCLES, ids=by_id)
def test_circles(case: dict[str, Any]) -> None:
    x, y = np.array(case["points_mm"]).T
    unsure = case["uncertainty_mm"]
    u_x, u_y = (None, None) if unsure is None else np.array(unsure).T
    fit = inspection.fit_circle(x, y, x_uncertainty_mm=u_x, y_uncertainty_mm=u_y)
    radius = case["radius_mm"]
    assert fit.radius_mm == pytest.approx(radius, rel=1e-6)
    assert (fit.x_mm, fit.y_mm) == pytest.approx(case["centre_mm"], abs=1e-6 * radius)
    if case["covariance_mm2"] is not None:
        expected = np.array(case["covariance_mm2"])
        # To first order: relative to the largest entry.
        atol = 2e-2 * np.abs(expected).max()
        assert fit.covariance_mm2 is not None
        np.testing.assert_allclose(fit.covariance_mm2, expected, atol=atol)


@pytest.mark.parametrize("case", CLOSURES, ids=by_id)
def test_closures(case: dict[str, Any]) -> None:
    table = np.array(case["readings_arcsec"], dtype=float)
    measurement = inspection.Measurement.closure(
        table,
        case["shifts"],
        standard_uncertainty_arcsec=case["standard_uncertainty_arcsec"],
    )
    if not case["determined"]:
        with pytest.raises(dividing.UndeterminedError):
            measurement.inspect()
        return
    closure = measurement.inspect().closure
    assert closure is not None
    for found, expected in (
        (closure.first_rad, case["first_arcsec"]),
        (closure.second_rad, case["second_arcsec"]),
        (closure.offset_rad, case["offset_arcsec"]),
    ):
        np.testing.assert_allclose(found / ARCSEC, expected, atol=1e-8)
    assert closure.residuals.degrees_of_freedom == case["degrees_of_freedom"]
    if "covariance_arcsec2" in case:
        covariance = closure.covariance_rad2()
        assert covariance is not None
        expected = np.array(case["covariance_arcsec2"])
        found = covariance[: len(expected), : len(expected)] / ARCSEC**2
        np.testing.assert_allclose(found, expected, atol=1e-9)


@pytest.mark.parametrize("case", HARMONICS, ids=by_id)
def test_harmonics(case: dict[str, Any]) -> None:
    report = inspection.Measurement.deviations(
        case["deviations_arcsec"], places=case["places"], place=case["measured"]
    ).inspect()
    ring = report.ring
    assert ring is not None
    assert ring.first_harmonic.amplitude_rad / ARCSEC == pytest.approx(
        case["first_arcsec"], rel=1e-9
    )
    np.testing.assert_allclose(ring.rest_rad / ARCSEC, case["rest_arcsec"], atol=1e-8)
    if len(case["measured"]) == case["places"]:
        np.testing.assert_allclose(
            ring.harmonic_amplitudes_rad / ARCSEC, case["amplitude_arcsec"], atol=1e-8
        )
    else:
        assert len(ring.harmonic_orders) == 0
