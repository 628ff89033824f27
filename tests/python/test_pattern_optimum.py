"""The plate optimum against an independent CP-SAT formulation (OR-Tools)."""

import json
import os
import pathlib
import random
import subprocess
import sys

import pytest

pytest.importorskip("ortools")

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests" / "bench"))

import pattern_peer  # noqa: E402


def random_brief(rng, count):
    top = rng.choice([24, 40, 60, 100])
    # Many divisions with thin webs give more rings than the peer can list.
    hole = rng.choice([1.5, 2.0, 3.0, 4.0, 6.0] if count < 20 else [3.0, 4.0, 5.0])
    brief = {
        "format": 1,
        "divisions": rng.sample(range(2, max(top, count + 2) + 1), count),
        "outline": {"disc": {"diameter": rng.choice([100, 150, 200, 300, 400])}},
        "hole_diameter": hole,
        "least_web": rng.choice([0.5, 1.0, 2.0]),
        "least_edge_distance": rng.choice([1.0, 2.0, 3.0]),
    }
    if rng.random() < 0.5:
        brief["bore"] = rng.choice([16, 25, 40, 60])
    if rng.random() < 0.3:
        brief["most_rings"] = rng.randint(1, 6)
    if rng.random() < 0.3:
        brief["use"] = {"worm_head": {"ratio": rng.choice([40, 60, 90, "45/2"])}}
    return brief


def optimise(briefs):
    command = ["cargo", "run", "--quiet", "--release", "-p", "dividing-core", "--example"]
    done = subprocess.run(
        [*command, "optimise_briefs"],
        input="\n".join(json.dumps(brief) for brief in briefs),
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
        env=os.environ,
    )
    return [json.loads(line) for line in done.stdout.splitlines()]


@pytest.mark.parametrize(
    ("counts", "how_many", "seed"),
    [(range(4, 15), 240, 1), ((20, 22, 24, 28), 16, 2)],
    ids=["4 to 14 divisions", "20 divisions and more"],
)
def test_fewest_holes_agree(counts, how_many, seed):
    rng = random.Random(seed)
    briefs = [random_brief(rng, rng.choice(list(counts))) for _ in range(how_many)]
    answers = optimise(briefs)
    assert len(answers) == how_many
    fitting = unproved = 0
    for brief, ours in zip(briefs, answers):
        peer = pattern_peer.solve(brief, time_limit_s=10.0)
        if not peer["proved"]:
            unproved += 1
            assert peer["holes"] is None or ours["holes"] <= peer["holes"], (brief, ours, peer)
            continue
        assert "error" not in ours, (brief, ours)
        if peer["holes"] is None:
            # Rings standing closer than the rule may still fit; then the
            # answer must say that it is not about separated rings.
            assert not (ours["fits"] and ours["separated_rings"]), (brief, ours)
        else:
            fitting += 1
            assert ours["fits"] and ours["separated_rings"], (brief, ours)
            assert ours["complete"] and ours["check_passed"], (brief, ours)
            assert ours["holes"] == ours["lower_bound"] == peer["holes"], (brief, ours, peer)
    assert unproved <= how_many // 8
    # The comparison must not live on briefs that do not fit.
    assert fitting >= how_many // 3
