"""Threads, fork and spawn; memory; the time of the import."""

from __future__ import annotations

import gc
import multiprocessing
import os
import pickle
import subprocess
import sys
import warnings
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from pathlib import Path

import dividing
import pytest
from dividing import Contributor, accuracy, fits, inspection, simulation

HOLE = Contributor("hole position", 0.006, sensitivity=1 / 50)
TWELVE = simulation.Simulation([simulation.SimulatedFeature([HOLE])] * 12)
RING = inspection.Measurement.deviations([3, -1, -2, 0], standard_uncertainty_arcsec=0.5)


def simulated(job: simulation.Simulation) -> simulation.SimulationReport:
    return job.run(trials=20_000, seed=3, threads=2)


def inspected(measurement: inspection.Measurement) -> inspection.InspectionReport:
    return measurement.inspect()


@pytest.mark.parametrize("method", ["fork", "spawn"])
def test_jobs_cross_to_other_processes_and_back(method: str) -> None:
    """The same answers there as here, results and all."""
    context = multiprocessing.get_context(method)
    with warnings.catch_warnings():
        # A fork while threads run is what is tried here.
        warnings.simplefilter("ignore", DeprecationWarning)
        with ProcessPoolExecutor(2, mp_context=context) as pool:
            reports = list(pool.map(simulated, [TWELVE] * 4))
            rings = list(pool.map(inspected, [RING] * 2))
    assert reports == [simulated(TWELVE)] * 4
    assert rings == [inspected(RING)] * 2


def test_eight_threads_on_one_object(all_plans: list[dividing.Plans]) -> None:
    model = accuracy.ErrorModel(all_plans[0][0])
    report = RING.inspect()
    expected = (model.budget(0), model.trade_offs(), str(report), report._repr_html_())

    def ask(_: int) -> object:
        for _ in range(50):
            found = (model.budget(0), model.trade_offs(), str(report), report._repr_html_())
            assert found == expected
        return simulated(TWELVE)

    with ThreadPoolExecutor(8) as pool:
        reports = list(pool.map(ask, range(8)))
    assert all(it == reports[0] for it in reports)


def resident_bytes() -> int:
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE")


MAKERS: dict[str, tuple[int, Callable[[], object]]] = {
    "Angle": (1_000_000, lambda: dividing.Angle(1, 9) + dividing.Angle(1, 7)),
    "number": (1_000_000, lambda: accuracy.plunger_worst_case_rad(50.0, clearance_mm=0.02)),
    "refused": (100_000, lambda: refused()),
    "Contributor": (100_000, lambda: Contributor("hole", 0.01, sensitivity=0.02)),
    "Fit": (50_000, lambda: fits.Fit("6 mm H7/g6").clearance()),
    "array": (100_000, lambda: accuracy.plunger_worst_case_rad([50.0, 60.0])),
    "Budget": (20_000, lambda: accuracy.Budget.of_contributors("hole", [HOLE])._repr_html_()),
    "InspectionReport": (5_000, lambda: RING.inspect().covariance_rad2()),
    "SimulationReport": (300, lambda: TWELVE.run(trials=10)),
}


def refused() -> None:
    try:
        accuracy.plunger_worst_case_rad(-1.0)
    except dividing.OutOfRangeError:
        pass


@pytest.mark.skipif(not Path("/proc/self/statm").exists(), reason="no /proc here")
@pytest.mark.parametrize("name", MAKERS)
def test_objects_leave_no_memory_behind(name: str) -> None:
    """A million objects of the plain kinds, fewer of the heavy ones, made and
    dropped: the process does not grow by a tenth of what they would take."""
    count, make = MAKERS[name]
    for _ in range(count // 20):
        make()
    gc.collect()
    before = resident_bytes()
    for _ in range(count):
        make()
    gc.collect()
    grown = resident_bytes() - before
    assert grown < 4_000_000, f"{grown} bytes after {count} of {name}"


def test_pickles_of_every_kind(all_plans: list[dividing.Plans]) -> None:
    plan = all_plans[0][0]
    model = accuracy.ErrorModel(plan)
    for it in (
        HOLE,
        fits.FitClass("H7/g6"),
        fits.FitClass("H7/g6").clearance([6.0, 10.0]).least_mm.tolist(),
        model,
        model.budget(0),
        TWELVE,
        simulated(TWELVE),
        RING,
        RING.inspect(),
        RING.inspect().ring,
        dividing.PitchTolerance(single="0.01 deg"),
        accuracy.GuardBand(1.5),
    ):
        assert pickle.loads(pickle.dumps(it)) == it


IMPORT = """
import sys, time
import numpy
begin = time.process_time()
import dividing
print(time.process_time() - begin)
assert "dividing.accuracy" not in sys.modules
assert "dividing.inspection" not in sys.modules
assert "matplotlib" not in sys.modules
"""


def test_the_import_is_quick() -> None:
    """50 ms beyond NumPy's own import are promised; in the time of the processor,
    and the quickest of five, since a test machine may be busy with other things."""
    times = []
    for _ in range(5):
        result = subprocess.run(
            [sys.executable, "-c", IMPORT], capture_output=True, text=True, check=True
        )
        times.append(float(result.stdout))
    print(f"import after NumPy: {min(times) * 1000:.0f} ms")
    assert min(times) < 0.05, times
