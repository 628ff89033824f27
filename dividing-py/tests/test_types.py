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

from dividing import FacedBlock, HoleCircle, PlateBrief, Slots, TrainSearch, WormHead

pieces = [
    WormHead("head", worm_ratio="81/2", plates=[dividing.IndexPlate("1", circles=[18, 20])]),
    dividing.DirectPlate("plate", circles=[24, HoleCircle(36, pitch_radius="2 in")]),
    FacedBlock("square", faces=4, face_error="0°01'"),
]
shop = Workshop("Bench", pieces)
first = shop.equipment[0]
if isinstance(first, WormHead):
    crank: Fraction = first.worm_ratio
slots = Slots(9, width=3, depth="0.2 in", outside_diameter=50)
land: float = slots.geometry.land_mm
hub = Job.of("Hub", slots, tolerance=dividing.PitchTolerance(single="0°02'"))
section = dividing.indexing_table(shop, 2, 100)["head", "simple"]
exact: int = int(section["exact"].sum())
off: float = TrainSearch([24, 28, 32, 40]).nearest(1.27).error_ppm
plate = dividing.design_plate(PlateBrief(dividing.Disc(100), divisions=[5, 9],
                                         hole_diameter=6, least_web=2, least_edge_distance=3))
x_mm = plate.holes["x_mm"]
one: float = dividing.sine_bar_height_mm(100, 20)
many = dividing.sine_bar_height_mm(100, x_mm * 0 + 20)
held = dividing.OrientationSet.equally_spaced(4) | dividing.OrientationSet([(3, "10 deg")])
print(land, hub, exact, off, many.shape, "90 deg" in held, held <= held)
'''

MISUSE = '''
from dividing import Angle, FacedBlock, Job
Angle(1.5)
Job("Slots", divisions="nine")
Angle(1, 9) + 1
FacedBlock("block", faces="four")
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
    assert "Found 4 errors" in result.stdout, result.stdout


def test_the_package_itself(tmp_path: Path) -> None:
    source = str(PACKAGE / "python" / "dividing")
    result = mypy("mypy", "--strict", source, cwd=tmp_path)
    assert result.returncode == 0, result.stdout
