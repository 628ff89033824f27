"""From measured coordinates to a better plan."""

from __future__ import annotations

import math
from typing import Any

import dividing
import numpy as np
import pytest
from conftest import DEMO
from dividing import inspection
from dividing.inspection import Measurement
from hypothesis import given
from hypothesis import strategies as st

ARCSEC = math.pi / 648_000


@pytest.fixture(scope="module")
def plate() -> Measurement:
    text = (DEMO / "plate_60.csv").read_text("utf-8")
    return Measurement.coordinates_csv(text, axis=(0, 0), name="demo plate")


def test_csv_and_arrays_are_one(plate: Measurement) -> None:
    rows = np.genfromtxt(DEMO / "plate_60.csv", delimiter=",", names=True)
    made = Measurement.coordinates(
        rows["x_mm"],
        rows["y_mm"],
        place=rows["place"].astype(int),
        standard_uncertainty=0.0008,
        axis=(0, 0),
    )
    one, other = plate.inspect().ring, made.inspect().ring
    assert one is not None and other is not None
    np.testing.assert_array_equal(one.deviations_rad, other.deviations_rad)
    assert one == other


def test_a_measured_plate_is_equipment(plate: Measurement) -> None:
    """The plan on a measured circle knows its errors: no plan on the same circle
    as drawn has a smaller worst case."""
    field = plate.measured()
    assert field["places"] == 60 and len(field["deviations"]) == 60

    def planned(measured: dict[str, Any] | None) -> dividing.Plan:
        circle: dict[str, Any] = {"holes": 60, "pitch_radius": 80}
        if measured is not None:
            circle["measured"] = measured
        workshop = dividing.Workshop(
            "Bench",
            [
                {
                    "direct_plate": {
                        "name": "plate",
                        "circles": [circle],
                        "registration": {
                            "pin_diameter": 5.99,
                            "hole_diameter": 6.0,
                            "hole_position_tolerance": 0.05,
                        },
                    }
                }
            ],
        )
        job = dividing.Job("Twelve", divisions=12, tolerance="0.05 deg")
        return dividing.plan(workshop, job)[0]

    assert planned(field).worst_rad < planned(None).worst_rad


def test_covariance_agrees_with_uncertainties(plate: Measurement) -> None:
    report = plate.inspect()
    covariance = report.covariance_rad2()
    assert covariance is not None and report.ring is not None
    assert covariance.shape == (60, 60)
    np.testing.assert_allclose(covariance, covariance.T, rtol=1e-12, atol=1e-30)
    stated = report.ring.standard_uncertainties_rad
    assert stated is not None
    np.testing.assert_allclose(np.sqrt(np.diag(covariance)), stated, rtol=1e-9)
    assert np.linalg.eigvalsh(covariance).min() > -1e-18


def test_an_eccentric_plate_is_found_out() -> None:
    """Moved by (0.02, -0.01): the eccentricity says so, the rest is silent."""
    angle = np.arange(24) * 2 * np.pi / 24
    report = Measurement.coordinates(
        60 * np.cos(angle) + 0.02, 60 * np.sin(angle) - 0.01, axis=(0, 0)
    ).inspect()
    found = report.coordinates
    assert found is not None and found.eccentricity is not None
    assert found.eccentricity.x_mm == pytest.approx(0.02, abs=1e-9)
    assert found.eccentricity.y_mm == pytest.approx(-0.01, abs=1e-9)
    assert found.about_axis is not None
    assert np.abs(found.about_axis.rest_rad).max() < 1e-7
    assert np.abs(found.about_centre.deviations_rad).max() < 1e-12


@given(st.lists(st.floats(-100, 100), min_size=3, max_size=50))
def test_laws_of_a_ring(deviations: list[float]) -> None:
    """About the mean, whatever was the zero; harmonics and rest are the whole."""
    ring = Measurement.deviations(deviations).inspect().ring
    moved = Measurement.deviations([it + 7 for it in deviations]).inspect().ring
    assert ring is not None and moved is not None
    np.testing.assert_allclose(ring.deviations_rad, moved.deviations_rad, atol=1e-12)
    expected = (np.array(deviations) - np.mean(deviations)) * ARCSEC
    np.testing.assert_allclose(ring.deviations_rad, expected, atol=1e-12)
    assert ring.pitch.total_cumulative.deviation_rad == pytest.approx(
        np.ptp(expected), abs=1e-12
    )
    spectrum = np.fft.rfft(expected)[1:] * 2 / len(deviations)
    if len(deviations) % 2 == 0:
        spectrum[-1] /= 2
    np.testing.assert_allclose(ring.harmonic_amplitudes_rad, np.abs(spectrum), atol=1e-12)


def test_closure_and_its_planner() -> None:
    """Two devices of known errors, read in the shifts that the planner names."""
    rng = np.random.default_rng(5)
    first, second = rng.normal(0, 2, (2, 12))
    first, second = first - first.mean(), second - second.mean()
    plan = inspection.plan_shifts(12, 0.1, 0.05)
    assert len(plan.shifts) >= plan.proved_fewest_setups
    assert plan.division_uncertainty_arcsec <= 0.05
    place = np.arange(12)
    table = [first - second[(place + shift) % 12] for shift in plan.shifts]
    other = [first - second[(place - shift) % 12] for shift in plan.shifts]
    errors = []
    for readings in (table, other):
        closure = Measurement.closure(
            readings, plan.shifts, standard_uncertainty_arcsec=0.1
        ).inspect().closure
        assert closure is not None
        sign = np.sign(closure.first_rad @ first)
        errors.append(np.abs(sign * closure.first_rad / ARCSEC - first).max())
        uncertainty = closure.uncertainties_rad("second")
        assert uncertainty is not None
        assert uncertainty.max() / ARCSEC <= 0.05 + 1e-9
    # One of the two conventions of the sense of shifting is the package's.
    assert min(errors) < 1e-9


def test_verdicts(plate: Measurement) -> None:
    report = plate.inspect()
    assert report.ring is not None
    single = report.ring.pitch.largest_single
    assert single is not None
    wide = report.check_ring(single_pitch_rad=10 * abs(single.deviation_rad))
    assert wide.decision is dividing.Decision.PASS
    tight = report.check_ring(single_pitch_rad=0.1 * abs(single.deviation_rad))
    assert tight.decision is dividing.Decision.FAIL
    assert {check.decided.decision for check in tight.checks} >= {dividing.Decision.FAIL}
    with pytest.raises(dividing.DividingError):
        report.check_ring()
    with pytest.raises(dividing.InconsistentError, match="nominal_radius"):
        report.check_position(0.1)


def test_corrections_leave_less_than_half_a_graduation() -> None:
    deviations = np.random.default_rng(3).normal(0, 50, 36) * ARCSEC
    deviations[7] = np.nan
    table = inspection.correction_table(deviations, 5 * ARCSEC)
    assert 7 not in table.place and len(table.place) == 35
    assert np.abs(table.left_rad).max() <= 2.5 * ARCSEC * (1 + 1e-9)
    np.testing.assert_allclose(
        deviations[table.place] + table.correction_rad, table.left_rad, atol=1e-15
    )


def test_directions_about_an_axis() -> None:
    """Points of a known angle about an axis off the origin; and 3-4-5 triangles."""
    degrees = np.array([0, 45, 90, 133.25, 180, -90, -0.001, 12.3456789])
    angle = np.radians(degrees)
    x, y = 30 + 60 * np.cos(angle), -12.5 + 60 * np.sin(angle)
    found = inspection.angles_about_axis(x, y, axis=("30 mm", -12.5))
    # Rounded to a millionth of a second, 2.8e-10 degrees.
    np.testing.assert_allclose([it.degrees_float for it in found], degrees, atol=2.9e-10)
    assert found[2] == dividing.Angle("90 deg")
    (steep,) = inspection.angles_about_axis([3], [4], axis=(0, 0))
    assert steep.degrees_float == pytest.approx(math.degrees(math.asin(0.8)), abs=2e-10)
    assert inspection.angles_about_axis([], [], axis=(0, 0)) == ()


def test_directions_become_a_measured_ring() -> None:
    """Holes off by known lengths along the circle, about the mean of them."""
    off = np.array([0.004, -0.002, 0.003, -0.005])
    angle = np.arange(4) * np.pi / 2 + off / 50
    angles = inspection.angles_about_axis(
        7 + 50 * np.cos(angle), 9 + 50 * np.sin(angle), axis=(7, 9))
    ring = Measurement.angles(angles).inspect().ring
    assert ring is not None
    np.testing.assert_allclose(ring.deviations_rad, off / 50, atol=1e-10)


def test_measured_stations_go_into_an_indexer() -> None:
    """Stations off by known lengths along a circle, about the mean of them."""
    nominal, off = np.radians([0, 33, 70, 200]), np.array([0.004, -0.002, 0.003, -0.005])
    x, y = (50 * of(nominal + off / 50) for of in (np.cos, np.sin))
    measurement = Measurement.stations(
        inspection.angles_about_axis(x, y, axis=(0, 0)),
        stations=["0 deg", "33 deg", "70 deg", "200 deg"], standard_uncertainty_arcsec=0.5,
    )  # fmt: skip
    report, field = measurement.inspect(), measurement.measured()
    assert report.ring is None and "STATIONS" in str(report) and "<table" in report._repr_html_()
    found = [it["deviation_arcsec"] * ARCSEC for it in field["deviations"]]
    np.testing.assert_allclose(found, off / 50, atol=1e-10)
    shop = dividing.Workshop("Bench", [{"vernier_indexer": {
        "name": "indexer", "circle": {"holes": 36},
        "stations": ["0 deg", "33 deg", "70 deg", "200 deg"], "measured_stations": field}}])
    (indexer,) = shop.equipment
    assert isinstance(indexer, dividing.VernierIndexer)
    assert indexer.measured_stations is not None
    assert len(indexer.measured_stations.deviations) == 4
    # Numbered the other way the same readings are refused.
    with pytest.raises(dividing.InconsistentError, match="numbering"):
        measurement.stations(["0 deg", "33 deg"], stations=["0 deg", "-33 deg"]).inspect()
    for call, name in (
        (lambda: Measurement.stations("0", stations=["0 deg"]), "angles"),
        (lambda: Measurement.stations(["0 deg"], stations=[1.5]), r"stations\[0\]"),
        (lambda: Measurement.stations(["0 deg"], stations=None), "stations"),
    ):
        with pytest.raises(TypeError, match=f"^{name}: "):
            call()


def test_directions_that_are_none() -> None:
    about = inspection.angles_about_axis
    for call, error, field in (
        (lambda: about([1, 5], [1, 6], axis=(5, 6)), dividing.InconsistentError, r"x_mm\[1\]"),
        (lambda: about([1, math.nan], [1, 2], axis=(0, 0)), dividing.NotFiniteError, r"x_mm\[1\]"),
        (lambda: about([1], [1e9], axis=(0, 0)), dividing.OutOfRangeError, r"y_mm\[0\]"),
        (lambda: about([1], [1, 2], axis=(0, 0)), dividing.InconsistentError, "x_mm"),
        (lambda: about("12", [1], axis=(0, 0)), TypeError, "x_mm"),
        (lambda: about([1], [1], axis=(0, math.inf)), dividing.NotFiniteError, r"axis\[1\]"),
        (lambda: about([1], [1], axis=(0, "1 kg")), dividing.DividingError, r"axis\[1\]"),
        (lambda: about([1], [1], axis=(0, None)), TypeError, r"axis\[1\]"),
        (lambda: about([1], [1], axis=(0, 0, 0)), dividing.InconsistentError, "axis"),
        (lambda: about([1], [1], axis="12"), TypeError, "axis"),
        (lambda: about([1], [1], axis=None), TypeError, "axis"),
    ):  # fmt: skip
        with pytest.raises(error, match=f"^{field}: "):
            call()


def test_broken_readings() -> None:
    for call, error in (
        (lambda: Measurement.coordinates([1.0], [1.0, 2.0]), dividing.InconsistentError),
        (lambda: Measurement.coordinates([math.nan] * 3, [1.0] * 3), dividing.NotFiniteError),
        (lambda: Measurement.coordinates("abc", [1.0]), TypeError),
        (lambda: Measurement.coordinates([[1.0]], [[1.0]]), dividing.InconsistentError),
        (lambda: Measurement.deviations([True, False, True]), TypeError),
        (lambda: Measurement.deviations([1, 2]).inspect(), dividing.OutOfRangeError),
        (lambda: Measurement.deviations([1, 2, 3], place=[0, 0, 1]).inspect(),
         dividing.DuplicateError),
        (lambda: Measurement.coordinates_csv("place,x_mm\n0,1\n"), dividing.DividingError),
        (lambda: Measurement.coordinates_csv(b"x"), TypeError),
        (lambda: Measurement.angles(["40"]), dividing.MissingUnitError),
        (lambda: Measurement.closure([1, 2, 3], [0]), dividing.InconsistentError),
        (lambda: Measurement.from_json("{"), dividing.MalformedJsonError),
        (lambda: Measurement.from_dict({"format": 2}), dividing.UnknownFormatError),
        (lambda: Measurement.deviations([1, 2, 3], colour="red"), TypeError),
        (lambda: Measurement.deviations([1, 2, 3], name="\ud800"), dividing.TextError),
        (lambda: inspection.fit_circle([0, 1], [0, 1]), dividing.DividingError),
        (lambda: inspection.fit_circle([0.0, 1, 2], [0.0, 1, 2]), dividing.DividingError),
        (lambda: inspection.choose_start([0.0], [3]), dividing.DividingError),
        (lambda: inspection.choose_start([0.0], [0], reference="best"),
         dividing.OutOfRangeError),
    ):  # fmt: skip
        with pytest.raises(error):
            call()
