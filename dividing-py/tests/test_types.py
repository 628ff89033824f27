"""The stubs agree with the module, and typed programs check strictly."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from conftest import PACKAGE

USE = '''
from fractions import Fraction
import dividing
from dividing import Angle, Crank, Job, Workshop

workshop = Workshop("Bench", [{"faced_block": {"name": "block", "faces": 4}}])
job = Job("Slots", divisions=9, tolerance="0.05 deg", start="on_a_setting")
plans = dividing.plan(workshop, job, progress=lambda steps: None)
for plan in plans:
    for placement in plan.placements:
        match placement.setting:
            case Crank(turns=turns, hole=hole):
                total: int = turns + hole
            case _:
                pass
    worst: float = plan.worst_deg
ratio: Fraction = Angle(1, 9) / Angle(1, 18)
half: Angle = Angle(Fraction(1, 9)) / 2
print(plans[0].residuals_deg.max(), plans[0:1], half, ratio)
'''

MISUSE = '''
from dividing import Angle, Job
Angle(1.5)
Job("Slots", divisions="nine")
Angle(1, 9) + 1
'''


def mypy(*arguments: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", *arguments]
    return subprocess.run(command, capture_output=True, text=True, cwd=cwd)


def test_the_stubs_agree_with_the_module(tmp_path: Path) -> None:
    allowed = PACKAGE / "tests" / "stubtest_allowlist.txt"
    result = mypy("mypy.stubtest", "dividing", "--allowlist", str(allowed), cwd=tmp_path)
    assert result.returncode == 0, result.stdout + result.stderr


def test_typed_programs(tmp_path: Path) -> None:
    (tmp_path / "use.py").write_text(USE, encoding="utf-8")
    result = mypy("mypy", "--strict", "use.py", cwd=tmp_path)
    assert result.returncode == 0, result.stdout
    (tmp_path / "misuse.py").write_text(MISUSE, encoding="utf-8")
    result = mypy("mypy", "--strict", "misuse.py", cwd=tmp_path)
    assert "Found 3 errors" in result.stdout, result.stdout


def test_the_package_itself(tmp_path: Path) -> None:
    source = str(PACKAGE / "python" / "dividing")
    result = mypy("mypy", "--strict", source, cwd=tmp_path)
    assert result.returncode == 0, result.stdout
