"""What the generators of reference vectors share."""

import json
import pathlib
import platform

import numpy
import scipy

VECTORS = pathlib.Path(__file__).resolve().parent.parent / "vectors"


def write(name, about, cases):
    """Writes one file of vectors with the versions that made it."""
    document = {
        "about": about,
        "made_by": f"tests/reference/{name}.py",
        "versions": {
            "python": platform.python_version(),
            "numpy": numpy.__version__,
            "scipy": scipy.__version__,
        },
        "cases": cases,
    }
    path = VECTORS / f"{name}.json"
    path.write_text(json.dumps(document, indent=1) + "\n", encoding="utf-8")
    print(f"{path.name}: {len(cases)} cases")
