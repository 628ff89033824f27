"""Writes gearing_cases.json: gear sets and targets that both sides of the gearing benchmark read.

The sets are invented: consecutive tooth counts, one gear of each. The targets are
seeded, spread evenly in the logarithm between 1/3 and 3, and stored so that both
sides read the same doubles.
"""

import json
import math
import pathlib
import random


def main() -> None:
    rng = random.Random(20_240)
    targets = [math.exp(rng.uniform(-math.log(3), math.log(3))) for _ in range(200)]
    cases = {
        "gear_sets": {
            "60_gears": list(range(20, 80)),
            "100_gears": list(range(20, 120)),
        },
        "targets": targets,
    }
    path = pathlib.Path(__file__).with_name("gearing_cases.json")
    path.write_text(json.dumps(cases, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
