"""Ctrl-C, progress, threads."""

from __future__ import annotations

import gc
import signal
import subprocess
import sys
import textwrap
import threading
import time
from concurrent.futures import ThreadPoolExecutor

import dividing
import pytest
from conftest import DEMO
from dividing import inspection

LONG = dividing.Job("Long", divisions=99_991)


def test_an_exception_of_the_progress_function_stops_the_search(
    workshop: dividing.Workshop,
) -> None:
    def stop(_: int) -> None:
        raise KeyError("enough")

    begin = time.perf_counter()
    with pytest.raises(KeyError, match="enough"):
        dividing.plan(workshop, LONG, progress=stop)
    assert time.perf_counter() - begin < 5


SIZES = {"hole_diameter": "1 mm", "least_web": 0.5, "least_edge_distance": 1}
LONG_CALLS = {
    "indexing_table": lambda shop, **how: dividing.indexing_table(shop, 1, 1_000_000, **how),
    "exact_table": lambda shop, **how: dividing.exact_table(shop, 1, 1_000_000, **how),
    "ways": lambda shop, **how: dividing.ways(shop, LONG, **how),
    "TrainSearch": lambda _, **how: dividing.TrainSearch(
        range(20, 140), most_pairs=3, **how),
    "design_plate": lambda _, **how: dividing.design_plate(
        dividing.PlateBrief(dividing.Disc(4000), divisions=range(30, 60), **SIZES), **how),
    "plan_shifts": lambda _, **how: inspection.plan_shifts(97, 0.1, 0.02, **how),
    "choose_start": lambda _, **how: inspection.choose_start(
        [1e-6 * (place**2 % 97) for place in range(2000)], range(0, 2000, 20), **how),
    "choose_pairs": lambda _, **how: inspection.choose_pairs(
        [[1e-6 * (feature * option % 97) for option in range(10)] for feature in range(100)],
        **how),
}


@pytest.mark.parametrize("name", LONG_CALLS)
def test_every_long_call_is_stopped_by_its_progress(
    name: str, workshop: dividing.Workshop
) -> None:
    def stop(_: int) -> None:
        raise KeyError("enough")

    with pytest.raises(KeyError, match="enough"):
        LONG_CALLS[name](workshop, progress=stop)
    with pytest.raises(TypeError, match="progress"):
        LONG_CALLS[name](workshop, progress=3)
    with pytest.raises(dividing.OutOfRangeError, match="work_limit"):
        LONG_CALLS[name](workshop, work_limit=0)


def test_progress_adds_up(workshop: dividing.Workshop) -> None:
    def steps() -> int:
        told: list[int] = []
        job = dividing.Job("Job", divisions=3001)
        dividing.plan(workshop, job, progress=told.append)
        assert told and all(step > 0 for step in told)
        return sum(told)

    total = steps()
    assert total == steps()
    job = dividing.Job("Job", divisions=3001)
    # A piece of equipment may take half of what is left, so twice is enough.
    assert dividing.plan(workshop, job, work_limit=2 * total).complete
    partial = dividing.plan(workshop, job, work_limit=total // 2)
    assert not partial.complete and partial.cut_short
    assert partial.to_dict()["complete"] is False


def test_ctrl_c_is_heard() -> None:
    """A process of its own gets SIGINT in the midst of a search."""
    program = textwrap.dedent(
        f"""
        import time, signal, threading, dividing
        workshop = dividing.Workshop.from_json(open({str(DEMO / "workshop.json")!r}).read())
        job = dividing.Job("Long", divisions=99_991)
        dividing.plan(workshop, dividing.Job("Warm", divisions=9))
        sent = []
        def strike():
            time.sleep(0.3)
            sent.append(time.perf_counter())
            signal.raise_signal(signal.SIGINT)
        threading.Thread(target=strike).start()
        try:
            dividing.plan(workshop, job, work_limit=10**12)
        except KeyboardInterrupt:
            print("heard", time.perf_counter() - sent[0])
        """
    )
    result = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, timeout=120
    )
    assert result.returncode == 0, result.stderr
    word, seconds = result.stdout.split()
    # 100 ms is promised; a test machine may be busy with other things.
    assert word == "heard" and float(seconds) < 0.5
    print(f"Ctrl-C heard after {float(seconds) * 1000:.0f} ms")


def test_the_lock_is_released(workshop: dividing.Workshop) -> None:
    """Another thread counts on while a search runs."""
    counted = 0
    over = threading.Event()

    def count() -> None:
        nonlocal counted
        while not over.is_set():
            counted += 1
            time.sleep(0.001)

    thread = threading.Thread(target=count)
    thread.start()
    begin = time.perf_counter()
    assert not dividing.plan(workshop, LONG, work_limit=2_000_000).complete
    lasted = time.perf_counter() - begin
    over.set()
    thread.join()
    # At a thousandth of a second each, a tenth of them at least.
    assert counted > lasted * 100


def test_eight_threads_ask_one_workshop(
    workshop: dividing.Workshop,
    jobs: list[dividing.Job],
    all_plans: list[dividing.Plans],
) -> None:
    with ThreadPoolExecutor(8) as pool:
        answers = list(pool.map(lambda job: dividing.plan(workshop, job), jobs * 8))
        sheets = list(pool.map(lambda plans: str(plans[0].sheet), all_plans * 8))
        placed = list(pool.map(lambda plans: plans[0].placements, all_plans * 8))
    assert answers == all_plans * 8
    assert sheets == [str(plans[0].sheet) for plans in all_plans] * 8
    assert placed == [plans[0].placements for plans in all_plans] * 8


def test_objects_leave_no_memory_behind(workshop: dividing.Workshop) -> None:
    import resource

    job = dividing.Job("Job", divisions=9, tolerance="0.05 deg")

    def use() -> None:
        for _ in range(20_000):
            dividing.Angle("22.5 deg") + dividing.Angle(1, 7)
        for _ in range(100):
            plans = dividing.plan(workshop, job)
            plans[0].placements, plans[0].sheet, plans[0].residuals_deg
        gc.collect()

    use()
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    for _ in range(4):
        use()
    grown_kib = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
    assert grown_kib < 4096, f"{grown_kib} KiB"


def test_signals_reach_python_handlers(workshop: dividing.Workshop) -> None:
    heard: list[int] = []
    old = signal.signal(signal.SIGUSR1, lambda number, _: heard.append(number))
    try:
        timer = threading.Timer(0.1, signal.raise_signal, [signal.SIGUSR1])
        timer.start()
        assert not dividing.plan(workshop, LONG, work_limit=4_000_000).complete
        timer.join()
    finally:
        signal.signal(signal.SIGUSR1, old)
    assert heard == [signal.SIGUSR1]
