"""Draws how whole tables grow with the range, and train searches with the gears.

Runs the benchmarks `tables` and `gearing` with `--growth`, or reads their JSON
lines from the file given first, and writes an SVG plot (both scales logarithmic)
to the file given second or to `build/reach_growth.svg`. Prints, for every curve,
the power fitted to its upper half by least squares on the logarithms: the order
of growth.

What to expect: a table of exact divisions asks the divisors of every product of
a circle with a ratio of the gears, up to the square root of the product or the
end of the range, so that it grows less than the range; the best settings look at
every circle for every number, so that they come to grow with the range. Against
the gears it grows with the ratios of four gears, the fourth power of the gears
at least. Trains of p pairs are met in the middle of sorted lists of the products
of p gears: n^p of them, times a logarithm for the sorting, and more where lists
outgrow the caches; a question walks parts of the lists.
"""

import json
import math
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
WIDTH, HEIGHT, LEFT, BOTTOM, TOP, RIGHT = 560, 420, 76, 56, 46, 24
COLOURS = ["#1f4e9e", "#b04020", "#2e7d32", "#7b3fa0"]

# Panel, what stands below it, and its curves: name, pattern of the benchmark line.
PANELS = [
    (
        "whole tables, 40:1 with three plates and twelve gears",
        "largest number of divisions",
        [
            ("which are exact", r"table_(\d+)_exact"),
            ("best settings", r"table_(\d+)_settings"),
        ],
    ),
    (
        "tables to 10,000 against the gears owned",
        "gears",
        [("which are exact", r"table_10000_exact_(\d+)_gears")],
    ),
    (
        "nearest train, proved nearest",
        "gears",
        [
            ("four gears: sorted lists", r"nearest_4_gears_of_(\d+)_preparation"),
            ("four gears: one question", r"nearest_4_gears_of_(\d+)_question"),
            ("six gears: sorted lists", r"nearest_6_gears_of_(\d+)_preparation"),
            ("six gears: one question", r"nearest_6_gears_of_(\d+)_question"),
        ],
    ),
]


def read_lines(source):
    if source is not None:
        text = pathlib.Path(source).read_text()
    else:
        text = ""
        for bench in ("tables", "gearing"):
            command = ["cargo", "bench", "--quiet", "-p", "dividing-core", "--bench", bench]
            command += ["--", "--growth"]
            run = subprocess.run(command, capture_output=True, text=True, check=True, cwd=ROOT)
            text += run.stdout
    return {
        found["name"]: found["ours_s"]
        for found in (json.loads(line) for line in text.splitlines() if line.startswith("{"))
    }


def curve(lines, pattern):
    points = []
    for name, seconds in lines.items():
        found = re.fullmatch(pattern, name)
        if found:
            points.append((int(found[1]), seconds))
    return sorted(points)


def power(points):
    """The exponent of the upper half, where fixed costs weigh least."""
    upper = points[len(points) // 2 :] if len(points) > 3 else points
    xs, ys = [math.log(x) for x, _ in upper], [math.log(y) for _, y in upper]
    mean_x, mean_y = sum(xs) / len(xs), sum(ys) / len(ys)
    above = sum((x - mean_x) * (y - mean_y) for x, y in zip(xs, ys))
    return above / sum((x - mean_x) ** 2 for x in xs)


def panel(at, title, below, curves):
    everything = [point for _, points in curves for point in points]
    low_x, high_x = min(x for x, _ in everything), max(x for x, _ in everything)
    low_y = math.floor(math.log10(min(y for _, y in everything)))
    high_y = math.ceil(math.log10(max(y for _, y in everything)))

    def across(n):
        share = (math.log(n) - math.log(low_x)) / (math.log(high_x) - math.log(low_x))
        return at + LEFT + share * (WIDTH - LEFT - RIGHT)

    def up(seconds):
        share = (math.log10(seconds) - low_y) / (high_y - low_y)
        return HEIGHT - BOTTOM - share * (HEIGHT - BOTTOM - TOP)

    middle = at + (LEFT + WIDTH - RIGHT) / 2
    parts = [f'<text x="{middle}" y="22" text-anchor="middle" font-weight="bold">{title}</text>']
    for decade in range(low_y, high_y + 1):
        y = up(10.0**decade)
        label = f"{10.0 ** (decade + 6):g} µs" if decade < -3 else f"{10.0 ** (decade + 3):g} ms"
        parts.append(f'<path d="M{at + LEFT} {y:.1f}H{at + WIDTH - RIGHT}" stroke="#ddd"/>')
        parts.append(f'<text x="{at + LEFT - 8}" y="{y + 4:.1f}" text-anchor="end">{label}</text>')
    for n in sorted({x for x, _ in everything}):
        x = across(n)
        parts.append(f'<path d="M{x:.1f} {TOP}V{HEIGHT - BOTTOM}" stroke="#eee"/>')
        parts.append(f'<text x="{x:.1f}" y="{HEIGHT - BOTTOM + 18}" text-anchor="middle">{n}</text>')
    for row, (colour, (name, points)) in enumerate(zip(COLOURS, curves)):
        line = " ".join(f"{across(x):.1f},{up(y):.1f}" for x, y in points)
        parts.append(f'<polyline points="{line}" fill="none" stroke="{colour}" stroke-width="2"/>')
        parts += [f'<circle cx="{across(x):.1f}" cy="{up(y):.1f}" r="3" fill="{colour}"/>' for x, y in points]
        label = f"{name}: power {power(points):.2f}"
        parts.append(
            f'<text x="{at + LEFT + 10}" y="{TOP + 16 + 17 * row}" fill="{colour}" stroke="white" '
            f'stroke-width="4" paint-order="stroke">{label}</text>'
        )
    parts.append(f'<text x="{middle}" y="{HEIGHT - 12}" text-anchor="middle">{below}</text>')
    return "\n".join(parts)


def main():
    lines = read_lines(sys.argv[1] if len(sys.argv) > 1 else None)
    out = pathlib.Path(sys.argv[2] if len(sys.argv) > 2 else ROOT / "build" / "reach_growth.svg")
    width = WIDTH * len(PANELS)
    drawn = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {HEIGHT}" '
        f'font-family="sans-serif" font-size="13"><rect width="{width}" height="{HEIGHT}" fill="white"/>'
    ]
    for number, (title, below, wanted) in enumerate(PANELS):
        curves = [(name, curve(lines, pattern)) for name, pattern in wanted]
        drawn.append(panel(number * WIDTH, title, below, curves))
        print(f"{title}, against: {below}")
        for name, points in curves:
            ends = f"{1000 * points[0][1]:.3f} ms at {points[0][0]} to {1000 * points[-1][1]:.3f} ms at {points[-1][0]}"
            print(f"  {name}: {ends}; grows as the power {power(points):.2f}")
    out.parent.mkdir(parents=True, exist_ok=True)
    out.write_text("\n".join([*drawn, "</svg>"]))
    print(f"drawn: {out.relative_to(ROOT) if out.is_relative_to(ROOT) else out}")


if __name__ == "__main__":
    main()
