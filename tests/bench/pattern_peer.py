"""The ring allocation as a set partition, solved by OR-Tools CP-SAT.

An independent formulation of the question "which divisions share a ring":
every set of divisions whose ring fits the outermost slot is a Boolean, every
division is on one chosen ring, and no more rings need slot k or one farther
out than there are such slots. The holes are minimised.

Written from the rules alone: holes of a ring are counted as distinct
fractions, needed radii follow from the chord of the largest pairwise least
common multiple. Nothing is shared with the library.

As a program it reads briefs (one JSON document a line) and writes one JSON
answer a line, with the seconds the solver took.
"""

import json
import math
import sys
import time
from fractions import Fraction

from ortools.sat.python import cp_model


def slot_radii(brief):
    """Pitch radii open to rings on a bare disc with or without a bore."""
    hole = brief["hole_diameter"]
    spacing = hole + brief["least_web"]
    edge = brief["least_edge_distance"]
    radius = brief["outline"]["disc"]["diameter"] / 2 - edge - hole / 2
    inner = brief["bore"] / 2 + edge + hole / 2 if "bore" in brief else 0.0
    radii = []
    while radius + 1e-9 >= inner and radius > 0:
        radii.append(radius)
        radius -= spacing
    return radii[: brief.get("most_rings", len(radii))], spacing


def circles(brief):
    """The circles of equally spaced holes wanted: N, or the denominator of R/N."""
    use = brief.get("use", "plunger")
    wanted = set()
    for n in brief["divisions"]:
        if isinstance(use, dict):
            n = (Fraction(use["worm_head"]["ratio"]) / n).denominator
        if n > 1:
            wanted.add(n)
    return sorted(wanted)


def needed_radius(group, spacing):
    places = max(math.lcm(a, b) for a in group for b in group)
    return spacing / (2 * math.sin(math.pi / places))


def holes(group):
    return len({Fraction(k, n) for n in group for k in range(n)})


def feasible_rings(wanted, radii, spacing):
    """Every set of circles that one ring can carry, with holes and level."""
    partners = {
        a: {b for b in wanted if b > a and needed_radius((a, b), spacing) <= radii[0] + 1e-9}
        for a in wanted
    }
    found = []

    def grow(group, candidates):
        need = needed_radius(group, spacing)
        level = sum(radius + 1e-9 >= need for radius in radii) - 1
        if level < 0:
            return
        found.append((group, holes(group), level))
        for b in sorted(candidates):
            grow((*group, b), candidates & partners[b])

    for a in wanted:
        grow((a,), partners[a])
    return found


def solve(brief, time_limit_s=60.0):
    """Fewest holes, or None where no allocation fits."""
    radii, spacing = slot_radii(brief)
    wanted = circles(brief)
    if not wanted:
        return {"holes": 0, "proved": True, "solver_s": 0.0, "total_s": 0.0}
    start = time.perf_counter()
    rings = feasible_rings(wanted, radii, spacing) if radii else []
    model = cp_model.CpModel()
    chosen = [model.new_bool_var("") for _ in rings]
    for n in wanted:
        covering = [x for x, (group, _, _) in zip(chosen, rings) if n in group]
        if not covering:
            return {"holes": None, "proved": True, "solver_s": 0.0, "total_s": 0.0}
        model.add_exactly_one(covering)
    for k in range(len(radii)):
        outer = [x for x, (_, _, level) in zip(chosen, rings) if level <= k]
        model.add(sum(outer) <= k + 1)
    model.minimize(sum(count * x for x, (_, count, _) in zip(chosen, rings)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = time_limit_s
    solve_start = time.perf_counter()
    status = solver.solve(model)
    end = time.perf_counter()
    times = {"solver_s": end - solve_start, "total_s": end - start, "rings": len(rings)}
    if status == cp_model.INFEASIBLE:
        return {"holes": None, "proved": True, **times}
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return {"holes": None, "proved": False, **times}
    return {
        "holes": round(solver.objective_value),
        "proved": status == cp_model.OPTIMAL,
        **times,
    }


def main():
    for line in sys.stdin:
        if line.strip():
            print(json.dumps(solve(json.loads(line))), flush=True)


if __name__ == "__main__":
    main()
