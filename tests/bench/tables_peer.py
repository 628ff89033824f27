"""The NumPy side of the table benchmark: which divisions a 40:1 head makes exactly.

Simple, compound and differential indexing for 2 to 10,000 divisions with the three
plates and the twelve change gears. Whole vectors throughout: simple and compound by
one remainder table each over the distinct circles and pairs; differential by the
products N·h = c·(R - g), all of them at once. Two ways to use the products are
timed, and the faster one counts: a remainder table of every number of divisions
against every product (`remainders`), and a table of marks over the products looked
through in strides of N (`marks`), which needs a Python step for each N.

Prints one JSON line with the faster time and the counts of exact divisions.
"""

import json
import statistics
import time

import numpy as np

RATIO = 40
LAST = 10_000
PLATES = (
    (15, 16, 17, 18, 19, 20),
    (21, 23, 27, 29, 31, 33),
    (37, 39, 41, 43, 47, 49),
)
GEARS = (24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100)


def simple(parts: np.ndarray) -> np.ndarray:
    """Divisions whose crank fraction 1/parts is on one circle."""
    circles = np.array([circle for plate in PLATES for circle in plate])
    return (circles[:, None] % parts[None, :] == 0).any(axis=0)


def compound(parts: np.ndarray) -> np.ndarray:
    """Divisions whose crank fraction is a sum over two circles of one plate."""
    pairs = np.array(
        [
            (first, second)
            for plate in PLATES
            for place, first in enumerate(plate)
            for second in plate[place + 1 :]
        ]
    )
    first, second = pairs[:, 0], pairs[:, 1]
    gcd = np.gcd(first, second)
    common = first * second // gcd
    held = np.zeros(len(parts), dtype=bool)
    # No fraction finer than the largest common multiple can be held.
    near = parts <= common.max()
    some = parts[near][None, :]
    on_one = (first[:, None] % some == 0) | (second[:, None] % some == 0)
    splits = (gcd[:, None] > 2) | ((gcd[:, None] == 2) & (some != 2))
    held[near] = ((common[:, None] % some == 0) & (~on_one | splits)).any(axis=0)
    return held


def products() -> np.ndarray:
    """Every positive whole c·(R - g) for the ratios of one and two pairs."""
    gears = np.array(GEARS)
    count = len(gears)
    one = np.stack(np.nonzero(~np.eye(count, dtype=bool)))
    above, below = [gears[one[0]]], [gears[one[1]]]
    first, second = np.triu_indices(count, 1)
    apart = (
        (first[:, None] != first[None, :])
        & (first[:, None] != second[None, :])
        & (second[:, None] != first[None, :])
        & (second[:, None] != second[None, :])
    )
    product = gears[first] * gears[second]
    drivers, driven = np.nonzero(apart)
    above.append(product[drivers])
    below.append(product[driven])
    above, below = np.concatenate(above), np.concatenate(below)
    gcd = np.gcd(above, below)
    ratios = np.unique((above // gcd) << 32 | (below // gcd))
    above, below = ratios >> 32, ratios & 0xFFFFFFFF
    circles = np.array([circle for plate in PLATES for circle in plate])
    ratio, circle = np.nonzero(circles[None, :] % below[:, None] == 0)
    plate = circles[circle] // below[ratio] * above[ratio]
    crank = RATIO * circles[circle]
    both = np.unique(np.concatenate([crank - plate, crank + plate]))
    return both[both > 0]


def differential_by_remainders(numbers: np.ndarray) -> np.ndarray:
    """A remainder of every product by every number that is not larger."""
    wanted = products().astype(np.int32)
    held = np.zeros(len(numbers), dtype=bool)
    near = numbers <= wanted.max()
    some = numbers[near].astype(np.int32)
    held[near] = (wanted[None, :] % some[:, None] == 0).any(axis=1)
    return held


def differential_by_marks(numbers: np.ndarray) -> np.ndarray:
    """A mark for every product, looked through in strides of N."""
    wanted = products()
    marks = np.zeros(wanted.max() + 1, dtype=bool)
    marks[wanted] = True
    held = np.zeros(len(numbers), dtype=bool)
    for place, number in enumerate(numbers[numbers < len(marks)].tolist()):
        held[place] = marks[number::number].any()
    return held


def table(differential) -> tuple[int, int, int]:
    """How many divisions are exact by each method."""
    numbers = np.arange(2, LAST + 1)
    parts = numbers // np.gcd(RATIO, numbers)
    return tuple(
        int(held.sum())
        for held in (simple(parts), compound(parts), differential(numbers))
    )


def main() -> None:
    medians = {}
    answers = set()
    for name, differential in (
        ("remainders", differential_by_remainders),
        ("marks", differential_by_marks),
    ):
        answers.add(table(differential))
        times = []
        for _ in range(15):
            start = time.perf_counter()
            table(differential)
            times.append(time.perf_counter() - start)
        medians[name] = statistics.median(times)
    (answer,) = answers
    said = ", ".join(f"{name} {seconds * 1e3:.2f} ms" for name, seconds in medians.items())
    print(
        json.dumps(
            {
                "name": "table_10000_exact",
                "peer_s": min(medians.values()),
                "threads": 1,
                "answer": answer,
                "what": f"NumPy {np.__version__}, differential by {said}",
            }
        )
    )


if __name__ == "__main__":
    main()
