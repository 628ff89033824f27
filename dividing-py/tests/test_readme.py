"""The quick starts of both READMEs run and print what they say."""

from __future__ import annotations

import contextlib
import io
import re
from pathlib import Path

import pytest

from conftest import PACKAGE


@pytest.mark.parametrize("readme", [PACKAGE / "README.md", PACKAGE.parent / "README.md"])
def test_the_quick_start(readme: Path) -> None:
    text = readme.read_text(encoding="utf-8")
    found = re.findall(r"```python\n(.*?)```.*?```text\n(.*?)```", text, re.DOTALL)
    assert found
    for program, expected in found:
        output = io.StringIO()
        with contextlib.redirect_stdout(output):
            exec(program, {})
        assert output.getvalue() == expected
