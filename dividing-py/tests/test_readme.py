"""The quick start of the README runs and prints what the README says."""

from __future__ import annotations

import contextlib
import io
import re

from conftest import PACKAGE


def test_the_quick_start() -> None:
    text = (PACKAGE / "README.md").read_text(encoding="utf-8")
    found = re.findall(r"```python\n(.*?)```.*?```text\n(.*?)```", text, re.DOTALL)
    assert found
    for program, expected in found:
        output = io.StringIO()
        with contextlib.redirect_stdout(output):
            exec(program, {})
        assert output.getvalue() == expected
