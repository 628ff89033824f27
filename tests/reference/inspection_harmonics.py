"""Harmonics of deviations by numpy.fft, and with gaps by numpy.linalg.lstsq."""

import numpy as np

from common import write


def main():
    rng = np.random.default_rng(7_001)
    cases = []
    for n in (3, 4, 7, 12, 24, 30, 97, 360):
        values = rng.normal(0, 10, n)
        theta = 2 * np.pi * np.arange(n) / n
        values += 25 * np.cos(theta - 1.1)
        spectrum = np.fft.rfft(values - values.mean()) / n
        amplitude = 2 * np.abs(spectrum)
        if n % 2 == 0:
            amplitude[-1] /= 2
        rest = spectrum.copy()
        rest[1] = 0
        cases.append({
            "id": f"whole-{n}",
            "places": n,
            "measured": list(range(n)),
            "deviations_arcsec": values.tolist(),
            "amplitude_arcsec": amplitude[1:].tolist(),
            "phase_rad": (-np.angle(spectrum[1:])).tolist(),
            "first_arcsec": amplitude[1],
            "first_phase_rad": -np.angle(spectrum[1]),
            "rest_arcsec": np.fft.irfft(rest * n, n).tolist(),
        })
    for n, gone in ((12, (2, 3)), (60, (0, 7, 8, 59)), (7, (6,))):
        places = np.array([j for j in range(n) if j not in gone])
        theta = 2 * np.pi * places / n
        values = rng.normal(0, 5, len(places)) + 12 * np.cos(theta + 0.4)
        centred = values - values.mean()
        design = np.column_stack([np.ones(len(places)), np.cos(theta), np.sin(theta)])
        solution = np.linalg.lstsq(design, centred, rcond=None)[0]
        cases.append({
            "id": f"gaps-{n}",
            "places": n,
            "measured": places.tolist(),
            "deviations_arcsec": values.tolist(),
            "amplitude_arcsec": [],
            "phase_rad": [],
            "first_arcsec": float(np.hypot(solution[1], solution[2])),
            "first_phase_rad": float(np.arctan2(solution[2], solution[1])),
            "rest_arcsec": (centred - design @ solution).tolist(),
        })
    write("inspection_harmonics", "Harmonics by numpy.fft.rfft and numpy.linalg.lstsq", cases)


main()
