"""Times closure calibration in NumPy, using the same structure as the library.

`python tests/bench/closure_peer.py` prints one JSON line a task. Readings come
from the generator of `dividing-core/examples/closure_timing.rs`; the check sums
must agree. Whole rings: offsets are row means, the rest is one 2 x 2 system a
harmonic by numpy.fft; the covariance is laid out from two circulant sequences.
"""

import json
import time

import numpy as np


def noise(counter):
    with np.errstate(over="ignore"):
        z = (counter.astype(np.uint64) + np.uint64(1)) * np.uint64(0x9E3779B97F4A7C15)
        z = (z ^ (z >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
        z = (z ^ (z >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
        z = z ^ (z >> np.uint64(31))
    return (z >> np.uint64(11)).astype(float) / 2.0**53 - 0.5


def readings(n, m):
    k = np.arange(m)
    step = n // m
    shifts = (k * step + (k % 2 if step > 1 else 0)) % n
    first = 1e-5 * noise(1_000_000 + np.arange(n))
    second = 1e-5 * noise(2_000_000 + np.arange(n))
    offsets = 1e-4 * noise(3_000_000 + k)
    partner = (np.arange(n) + shifts[:, None]) % n
    error = 1e-6 * noise(np.arange(n * m)).reshape(m, n)
    return shifts, first - second[partner] + offsets[:, None] + error


def solve(n, shifts, table, variance):
    m = len(shifts)
    offsets = table.mean(axis=1)
    centred = table - offsets[:, None]
    partner = (np.arange(n) + shifts[:, None]) % n
    u = np.fft.rfft(centred.sum(axis=0))
    v = np.fft.rfft(-np.bincount(partner.ravel(), weights=centred.ravel(), minlength=n))
    h = np.conj(np.fft.rfft(np.bincount(shifts, minlength=n)))
    determinant = m * m - np.abs(h) ** 2
    determinant[0] = 1
    a, b = (m * u + h * v) / determinant, (np.conj(h) * u + m * v) / determinant
    own, cross = m / determinant, h / determinant
    a[0] = b[0] = own[0] = cross[0] = 0
    first, second = np.fft.irfft(a, n), np.fft.irfft(b, n)
    residual = centred - first + second[partner]
    square = np.einsum("ij,ij->", residual, residual)
    sequences = np.fft.irfft(own, n) * variance, np.fft.irfft(cross, n) * variance
    return first, second, offsets, square, sequences


def matrix(n, sequences):
    """2n x 2n, each block laid out by a strided window over a doubled row."""
    own, cross = sequences
    full = np.empty((2 * n, 2 * n))

    def circulant(sequence):
        # Entry (i, j) is sequence[i - j].
        back = np.concatenate([sequence[::-1], sequence[::-1]])
        return np.lib.stride_tricks.sliding_window_view(back, n)[n - 1::-1][:n]

    block = circulant(cross)
    full[:n, :n] = full[n:, n:] = circulant(own)
    full[:n, n:] = block
    full[n:, :n] = block.T
    return full


def main():
    runs = 51
    for n, m in ((360, 36), (360, 360)):
        shifts, table = readings(n, m)
        for covariance in (False, True):
            times, trace = [], 0.0
            for _ in range(runs):
                begin = time.perf_counter()
                first, second, _, _, sequences = solve(n, shifts, table, 9e-14)
                full = matrix(n, sequences) if covariance else None
                times.append((time.perf_counter() - begin) * 1e3)
                if covariance:
                    trace = float(np.trace(full))
            times.sort()
            task = "covariance" if covariance else "values"
            print(json.dumps({
                "name": f"closure_{n}_by_{m}_{task}",
                "peer_s": times[runs // 2] / 1e3,
                "answer": [first @ first + second @ second, trace],
            }), flush=True)


main()
