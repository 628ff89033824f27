"""What the tests share."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import dividing
import pytest
from hypothesis import settings

# Nothing here asserts a time.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")

# Pictures are drawn without a screen.
os.environ.setdefault("MPLBACKEND", "agg")

PACKAGE = Path(__file__).resolve().parent.parent
ROOT = PACKAGE.parent
VECTORS = ROOT / "tests" / "vectors"
DEMO = ROOT / "dividing-core" / "examples" / "demo"


# Under what names representations are read back.
NAMES: dict[str, Any] = {name: getattr(dividing, name) for name in dividing.__all__}
NAMES["dividing"] = dividing


def vectors(name: str) -> Any:
    """One file of vectors; a missing file is a failure, not a skip."""
    return json.loads((VECTORS / name).read_text(encoding="utf-8"))


@pytest.fixture(scope="session")
def workshop() -> dividing.Workshop:
    return dividing.Workshop.from_json((DEMO / "workshop.json").read_text("utf-8"))


@pytest.fixture(scope="session")
def jobs() -> list[dividing.Job]:
    paths = sorted(DEMO.glob("job_*.json"))
    assert len(paths) >= 6
    return [dividing.Job.from_json(path.read_text("utf-8")) for path in paths]


@pytest.fixture(scope="session")
def all_plans(
    workshop: dividing.Workshop, jobs: list[dividing.Job]
) -> list[dividing.Plans]:
    return [dividing.plan(workshop, job) for job in jobs]
