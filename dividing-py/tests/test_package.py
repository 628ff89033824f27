"""The package as it is installed: metadata, files, size of the wheel."""

from __future__ import annotations

import importlib.metadata
import zipfile
import zlib
from pathlib import Path

import dividing
import pytest
from conftest import ROOT

PACKAGE = Path(dividing.__file__).parent
WHEELS = sorted((ROOT / "build" / "dist").glob("dividing-*.whl"))


def test_metadata() -> None:
    found = importlib.metadata.metadata("dividing")
    assert found["Version"] == dividing.__version__
    assert found["Requires-Python"] == ">=3.11"
    assert {"plot", "test"} <= set(found.get_all("Provides-Extra") or ())
    needed = importlib.metadata.requires("dividing") or []
    assert [it for it in needed if "extra" not in it] == ["numpy>=1.26"]


def test_the_types_are_part_of_the_package() -> None:
    assert (PACKAGE / "py.typed").is_file()
    assert (PACKAGE / "_dividing.pyi").is_file()


def test_the_native_module_is_for_all_pythons_from_3_11_and_small() -> None:
    (native,) = PACKAGE.glob("_dividing.*.so")
    assert ".abi3." in native.name
    # Wheels hold it so pressed; 3 MB are promised for the whole wheel, of which the
    # other files take about 0.1 MB.
    assert len(zlib.compress(native.read_bytes(), 6)) < 2_880_000


@pytest.mark.skipif(not WHEELS, reason="no wheel in build/dist; tests/run.sh makes one")
def test_the_wheel() -> None:
    wheel = WHEELS[-1]
    assert "-cp311-abi3-" in wheel.name and wheel.stat().st_size < 3_000_000
    names = set(zipfile.ZipFile(wheel).namelist())
    for name in ("__init__.py", "_dividing.pyi", "py.typed", "accuracy/__init__.py"):
        assert f"dividing/{name}" in names
    assert not [name for name in names if "test" in name]
