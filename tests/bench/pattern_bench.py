"""Times plate optima of both sides in one run and prints JSON lines.

Ours: `optimise_briefs` (the whole design, layout and check included). Peer: a
CP-SAT set partition over feasible rings on one thread (`pattern_peer.py`): the
solver's own time, and the time with the listing of rings in Python.
"""

import json
import pathlib
import random
import statistics
import subprocess

import pattern_peer

ROOT = pathlib.Path(__file__).resolve().parents[2]


def random_brief(rng, count):
    return {
        "format": 1,
        "divisions": rng.sample(range(2, 81), count),
        "outline": {"disc": {"diameter": rng.choice([250, 300, 400, 500])}},
        "bore": rng.choice([16, 25, 40]),
        "hole_diameter": rng.choice([2.0, 3.0, 4.0]),
        "least_web": rng.choice([0.5, 1.0, 2.0]),
        "least_edge_distance": 2,
    }


def main():
    rng = random.Random(20261125)
    for count, how_many in ((12, 100), (24, 100), (40, 10)):
        briefs = [random_brief(rng, count) for _ in range(how_many)]
        done = subprocess.run(
            ["cargo", "run", "--quiet", "--release", "-p", "dividing-core", "--example", "optimise_briefs"],
            input="\n".join(map(json.dumps, briefs)),
            capture_output=True, text=True, check=True, cwd=ROOT,
        )
        ours = [json.loads(line) for line in done.stdout.splitlines()]
        peers = [pattern_peer.solve(brief, time_limit_s=20.0) for brief in briefs]
        kept = [
            (o, p) for o, p in zip(ours, peers, strict=True)
            if p["holes"] is not None and p["proved"]
        ]
        assert all(o["holes"] == p["holes"] for o, p in kept)
        ours_s = [o["seconds"] for o, _ in kept]
        solver_s = [p["solver_s"] for _, p in kept]
        print(json.dumps({
            "name": f"pattern_optimum_{count}_divisions",
            "what": f"fewest holes proved, median over random briefs of {count} divisions; ours with layout and check",
            "ours_s": statistics.median(ours_s),
            "peer_s": statistics.median(solver_s),
            "peer_with_listing_s": statistics.median(p["total_s"] for _, p in kept),
            "ours_worst_s": max(ours_s),
            "peer_worst_s": max(solver_s),
            "least_speedup": min(p / o for p, o in zip(solver_s, ours_s)),
            "briefs": len(kept),
            "peer_not_proved": sum(not p["proved"] for p in peers),
        }), flush=True)


if __name__ == "__main__":
    main()
