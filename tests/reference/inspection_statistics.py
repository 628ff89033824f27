"""Tails of the chi-square and the normal distribution by scipy.stats."""

from scipy.stats import chi2, norm

from common import write


def main():
    cases = [
        {"id": f"chi2-{k}-{x:g}", "degrees_of_freedom": k, "chi_square": x,
         "tail": float(chi2.sf(x, k))}
        for k in (1, 2, 3, 10, 57, 1000, 12_000)
        for x in (k * 0.3, k * 0.9, float(k), k * 1.02, k * 1.3, k + 40.0)
    ]
    cases += [
        {"id": f"normal-{z:g}", "z": z, "probability": float(norm.cdf(z))}
        for z in (-8.0, -3.0, -1.959963984540054, -0.5, 0.0, 1e-9, 0.7, 1.4, 2.0, 5.0)
    ]
    write("inspection_statistics", "Tails by scipy.stats", cases)


main()
