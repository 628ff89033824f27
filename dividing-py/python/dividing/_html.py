"""Small tables for notebooks: no script, nothing from outside, text escaped,
colours left to the page so that light and dark both read well."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

_CELL = "text-align:left;padding:0 1em 0 0;vertical-align:top"


def row(cells: Sequence[str], tag: str = "td") -> str:
    """One row of a table."""
    style = f"{_CELL};border-bottom:1px solid" if tag == "th" else _CELL
    inner = "".join(f'<{tag} style="{style}">{escape(cell)}</{tag}>' for cell in cells)
    return f"<tr>{inner}</tr>\n"


def grid(title: str, head: Sequence[str] | None, rows: Iterable[Sequence[str]]) -> str:
    """A table with a title."""
    body = "".join(row(cells) for cells in rows)
    return (
        f'<div style="font-family:sans-serif">\n<h4>{escape(title)}</h4>\n'
        f'<table style="border-collapse:collapse">\n{row(head, "th") if head else ""}'
        f"{body}</table>\n</div>\n"
    )
