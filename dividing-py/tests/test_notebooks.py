"""The notebooks run from top to bottom and are kept without outputs."""

from __future__ import annotations

from pathlib import Path

import nbformat
import pytest
from conftest import PACKAGE
from nbclient import NotebookClient

NOTEBOOKS = sorted((PACKAGE / "notebooks").glob("*.ipynb"))


def test_there_is_one_for_each_question() -> None:
    questions = [path.stem.partition("_")[2] for path in NOTEBOOKS]
    assert questions == ["reach", "pattern", "error", "sheet", "proof", "sweep"]


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_it_runs(path: Path) -> None:
    notebook = nbformat.read(path, as_version=4)
    nbformat.validate(notebook)
    code = [cell for cell in notebook.cells if cell.cell_type == "code"]
    assert all(not cell.outputs and cell.execution_count is None for cell in code)
    client = NotebookClient(
        notebook, timeout=120, resources={"metadata": {"path": str(path.parent)}}
    )
    client.execute()
    outputs = [output for cell in code for output in cell.outputs]
    shown = {kind for output in outputs for kind in output.get("data", {})}
    assert {"text/html", "image/svg+xml"} <= shown
    assert not [output for output in outputs if output.get("name") == "stderr"]
