"""Simulation of a twelve-hole plate with NumPy, beside the Rust program.

Ten million trials, three contributors a hole, single and cumulative pitch with
mean and 95 % quantile. NumPy at its best here: single precision, buffers that
stay in the cache and are filled in place, the fastest of its generators
(SFC64), one process with threads (NumPy drops the interpreter lock while it
draws and computes). Prints one JSON line a figure.

Usage: simulation_peer.py [path of the simulation_speed program]
"""

import json
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor

import numpy as np

TRIALS = 10_000_000
HOLES = 12
RADIUS_MM = 50.0
CHUNK = 4_000
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
    ours = {}
    if len(sys.argv) > 1:
        printed = subprocess.run([sys.argv[1]], check=True, capture_output=True, text=True).stdout
        for line in printed.splitlines():
            row = json.loads(line)
            ours[row["name"], row["threads"]] = row
    for name in ("disc", "normal"):
        for threads in (1, 2):
            seconds = []
            for _ in range(3):
                start = time.perf_counter()
                single, cumulative = simulate(name, threads)
                seconds.append(time.perf_counter() - start)
            row = {"name": name, "threads": threads, "trials": TRIALS, "peer_s": round(min(seconds), 4),
                   "peer_cumulative_mean_rad": cumulative, "peer_single_mean_rad": single}
            mine = ours.get((name, threads))
            if mine:
                row["ours_s"] = mine["ours_s"]
                row["times_faster"] = round(min(seconds) / mine["ours_s"], 2)
                row["times_drawing_alone"] = round(mine["ours_s"] / mine["drawing_s"], 2)
                assert abs(mine["cumulative_mean_rad"] / cumulative - 1) < 1e-3
                assert abs(mine["single_mean_rad"] / single - 1) < 1e-3
            print(json.dumps(row))


if __name__ == "__main__":
    main()
