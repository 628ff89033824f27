"""Simulation of a twelve-hole plate with NumPy, beside the Rust program.

Ten million trials, three contributors a hole, single and cumulative pitch with
mean and 95 % quantile. NumPy at its best here: single precision, buffers that
stay in the cache and are filled in place, the fastest of its generators
(SFC64), one process with threads (NumPy drops the interpreter lock while it
draws and computes). Prints one JSON line a figure, named as those of the
benchmark `simulation`.
"""

import json
import time
from concurrent.futures import ThreadPoolExecutor

import numpy as np

TRIALS = 10_000_000
HOLES = 12
RADIUS_MM = 50.0
CHUNK = 10_000
F = np.float32


def disc(rng, scale, a, b):
    """Adds nothing: leaves scale times a disc coordinate in a."""
    rng.random(dtype=F, out=a)
    np.sqrt(a, out=a)
    rng.random(dtype=F, out=b)
    b *= F(2 * np.pi)
    np.cos(b, out=b)
    a *= b
    a *= F(scale)


def chunk(rng, name, buffers, single, cumulative):
    total, a, b, steps = buffers
    if name == "disc":
        disc(rng, 0.005 / RADIUS_MM, total, b)
    else:
        rng.standard_normal(dtype=F, out=total)
        total *= F(0.005 / 3 / RADIUS_MM)
    disc(rng, 0.007 / RADIUS_MM, a, b)
    total += a
    rng.random(dtype=F, out=a)
    a -= F(0.5)
    a *= F(2 * 0.002 / RADIUS_MM)
    total += a
    np.subtract(total.max(axis=0), total.min(axis=0), out=cumulative)
    np.subtract(total[1:], total[:-1], out=steps[:-1])
    np.subtract(total[0], total[-1], out=steps[-1])
    np.abs(steps, out=steps)
    np.max(steps, axis=0, out=single)


def work(job):
    name, seed, chunks = job
    rng = np.random.Generator(np.random.SFC64(seed))
    buffers = [np.empty((HOLES, CHUNK), F) for _ in range(4)]
    single, cumulative = np.empty(CHUNK, F), np.empty(CHUNK, F)
    bins = np.zeros((2, 4096), np.int64)
    sums = np.zeros(2)
    span = 4e-4
    for _ in range(chunks):
        chunk(rng, name, buffers, single, cumulative)
        for row, values in enumerate((single, cumulative)):
            sums[row] += values.sum(dtype=np.float64)
            bins[row] += np.bincount((values * F(4096 / span)).astype(np.int32), minlength=4096)[:4096]
    return sums, bins


def simulate(name, threads):
    jobs = [(name, seed, TRIALS // CHUNK // threads) for seed in range(threads)]
    with ThreadPoolExecutor(threads) as pool:
        parts = list(pool.map(work, jobs))
    return sum(part[0] for part in parts) / (sum(job[2] for job in jobs) * CHUNK)


def main():
    for name in ("disc", "normal"):
        for threads in (1, 2):
            seconds = []
            for _ in range(3):
                start = time.perf_counter()
                single, cumulative = simulate(name, threads)
                seconds.append(time.perf_counter() - start)
            print(json.dumps({
                "name": f"simulation_{name}_{threads}_threads", "peer_s": round(min(seconds), 4), "threads": threads,
                "cumulative_mean_rad": cumulative, "single_mean_rad": single}), flush=True)


if __name__ == "__main__":
    main()
