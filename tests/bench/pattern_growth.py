"""Draws how the design of a plate grows with the number of divisions.

Runs the benchmark `pattern`, or reads its JSON lines from the file given first,
and writes an SVG plot (both scales logarithmic) to the file given second or to
`build/pattern_growth.svg`. Prints a table and the power fitted to the medians by
least squares on the logarithms.
"""

import json
import math
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
WIDTH, HEIGHT, LEFT, BOTTOM, TOP, RIGHT = 640, 420, 80, 60, 30, 30


def read_lines(source):
    if source is None:
        command = ["cargo", "bench", "--quiet", "-p", "dividing-core", "--bench", "pattern"]
        text = subprocess.run(command, capture_output=True, text=True, check=True, cwd=ROOT).stdout
    else:
        text = pathlib.Path(source).read_text()
    rows = []
    for line in text.splitlines():
        if not line.startswith("{"):
            continue
        found = json.loads(line)
        name = re.fullmatch(r"pattern_growth_(\d+)_divisions", found["name"])
        if name:
            rows.append((int(name[1]), found["ours_s"], found["worst_s"], found["proved"], found["briefs"]))
    return sorted(rows)


def power(points):
    xs, ys = [math.log(x) for x, _ in points], [math.log(y) for _, y in points]
    mean_x, mean_y = sum(xs) / len(xs), sum(ys) / len(ys)
    above = sum((x - mean_x) * (y - mean_y) for x, y in zip(xs, ys))
    return above / sum((x - mean_x) ** 2 for x in xs)


def plot(rows):
    low_x, high_x = rows[0][0], rows[-1][0]
    low_y = math.floor(math.log10(min(row[1] for row in rows)))
    high_y = math.ceil(math.log10(max(row[2] for row in rows)))

    def across(n):
        share = (math.log(n) - math.log(low_x)) / (math.log(high_x) - math.log(low_x))
        return LEFT + share * (WIDTH - LEFT - RIGHT)

    def up(seconds):
        share = (math.log10(seconds) - low_y) / (high_y - low_y)
        return HEIGHT - BOTTOM - share * (HEIGHT - BOTTOM - TOP)

    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" '
        f'font-family="sans-serif" font-size="13"><rect width="{WIDTH}" height="{HEIGHT}" fill="white"/>'
    ]
    for decade in range(low_y, high_y + 1):
        y = up(10.0**decade)
        parts.append(f'<path d="M{LEFT} {y:.1f}H{WIDTH - RIGHT}" stroke="#ddd"/>')
        parts.append(f'<text x="{LEFT - 8}" y="{y + 4:.1f}" text-anchor="end">{1000 * 10.0**decade:g} ms</text>')
    for n, *_ in rows:
        x = across(n)
        parts.append(f'<path d="M{x:.1f} {TOP}V{HEIGHT - BOTTOM}" stroke="#eee"/>')
        parts.append(f'<text x="{x:.1f}" y="{HEIGHT - BOTTOM + 18}" text-anchor="middle">{n}</text>')
    for column, colour, name, row in ((1, "#1f4e9e", "median", 0), (2, "#b04020", "worst of all briefs", 1)):
        line = " ".join(f"{across(r[0]):.1f},{up(r[column]):.1f}" for r in rows)
        parts.append(f'<polyline points="{line}" fill="none" stroke="{colour}" stroke-width="2"/>')
        parts += [f'<circle cx="{across(r[0]):.1f}" cy="{up(r[column]):.1f}" r="3" fill="{colour}"/>' for r in rows]
        parts.append(f'<text x="{LEFT + 12}" y="{TOP + 16 + 18 * row}" fill="{colour}">{name}</text>')
    middle = (LEFT + WIDTH - RIGHT) / 2
    parts.append(f'<text x="{middle}" y="{HEIGHT - 14}" text-anchor="middle">divisions wanted</text></svg>')
    return "\n".join(parts)


def main():
    rows = read_lines(sys.argv[1] if len(sys.argv) > 1 else None)
    out = pathlib.Path(sys.argv[2] if len(sys.argv) > 2 else ROOT / "build" / "pattern_growth.svg")
    out.parent.mkdir(parents=True, exist_ok=True)
    out.write_text(plot(rows))
    for n, median, worst, proved, briefs in rows:
        print(f"| {n} | {1000 * median:.3f} | {1000 * worst:.3f} |  {proved} of {briefs} proved")
    print(f"medians grow as the power {power([row[:2] for row in rows]):.2f} of the divisions")
    print(f"drawn: {out.relative_to(ROOT) if out.is_relative_to(ROOT) else out}")


if __name__ == "__main__":
    main()
