"""The NumPy side of the gearing benchmark: nearest four-gear train to a real ratio.

For every question the program finds the driver product nearest below and above
target × driven product for all driven products at once (one `searchsorted` on the
sorted products), rules out trains that would use a gear twice, and widens the
window only where a conflict hides something nearer. It is as exact as doubles are.

Prints one JSON line a measurement: the median time of a question with the sorted
products at hand, and of the preparation. `--answers` prints the nearest ratio of
each target instead, for comparison with the other side.
"""

import json
import pathlib
import statistics
import sys
import time

import numpy as np


class Prepared:
    """Sorted products of two different gears, with the gears."""

    def __init__(self, teeth: list[int]) -> None:
        gears = np.asarray(teeth, dtype=np.int64)
        first, second = np.triu_indices(len(gears), 1)
        product = gears[first] * gears[second]
        order = np.argsort(product, kind="stable")
        self.product = product[order]
        self.real = self.product.astype(np.float64)
        self.inverse = 1.0 / self.real
        self.first = first[order]
        self.second = second[order]
        self.index = np.arange(len(self.product))

    def nearest(self, target: float) -> tuple[int, int]:
        """Products of drivers and of driven whose quotient is nearest to target."""
        wanted = target * self.real
        crossing = np.searchsorted(self.real, wanted)
        best, answer = np.inf, (0, 0)
        for sense in (0, -1):
            rows, place = self.index, crossing + sense
            step = 1 if sense == 0 else -1
            while rows.size:
                inside = (place >= 0) & (place < len(self.real))
                if not inside.all():
                    rows, place = rows[inside], place[inside]
                    if not rows.size:
                        break
                gap = np.abs(self.real[place] - wanted[rows]) * self.inverse[rows]
                near = np.flatnonzero(gap < best)
                if not near.size:
                    break
                rows, place, gap = rows[near], place[near], gap[near]
                a, b = self.first[place], self.second[place]
                c, d = self.first[rows], self.second[rows]
                free = (a != c) & (a != d) & (b != c) & (b != d)
                if free.any():
                    allowed = np.flatnonzero(free)
                    at = allowed[np.argmin(gap[allowed])]
                    best = gap[at]
                    answer = (int(self.product[place[at]]), int(self.product[rows[at]]))
                keep = np.flatnonzero(~free & (gap < best))
                rows, place = rows[keep], place[keep] + step
        return answer


def main() -> None:
    path = pathlib.Path(__file__).with_name("gearing_cases.json")
    cases = json.loads(path.read_text(encoding="utf-8"))
    targets = cases["targets"]
    for name, teeth in cases["gear_sets"].items():
        if "--answers" in sys.argv:
            prepared = Prepared(teeth)
            print(json.dumps({"set": name, "nearest": [prepared.nearest(t) for t in targets]}))
            continue
        preparing, asking, both = [], [], []
        for target in targets[:50]:
            start = time.perf_counter()
            prepared = Prepared(teeth)
            middle = time.perf_counter()
            prepared.nearest(target)
            both.append(time.perf_counter() - start)
            preparing.append(middle - start)
        for target in targets:
            start = time.perf_counter()
            prepared.nearest(target)
            asking.append(time.perf_counter() - start)
        for what, times in (
            ("question", asking),
            ("preparation", preparing),
            ("preparation_and_question", both),
        ):
            print(
                json.dumps(
                    {
                        "name": f"nearest_four_gears_{name}_{what}",
                        "peer_s": statistics.median(times),
                        "peer_worst_s": max(times),
                        "repeats": len(times),
                    }
                )
            )


if __name__ == "__main__":
    main()
