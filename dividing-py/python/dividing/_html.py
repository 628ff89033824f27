"""What notebooks show: tables and pictures without script, with nothing from
outside, every text escaped; the colours and the line under the headings are the
page's own, so that they read on light and dark ground and on paper."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterable, Sequence
from html import escape

_CELL = "text-align:left;padding:0 1em 0 0;vertical-align:top"


def _row(cells: Sequence[str], head: int = 0, style: str = _CELL) -> str:
    """One row of a table, so many of its cells headings."""
    tags = ["th"] * head + ["td"] * (len(cells) - head)
    inner = "".join(
        f'<{tag} style="{style}">{escape(cell)}</{tag}>'
        for tag, cell in zip(tags, cells, strict=True)
    )
    return f"<tr>{inner}</tr>\n"


def _table(body: str) -> str:
    return f'<table style="border-collapse:collapse">\n{body}</table>\n'


def grid(
    title: str,
    head: Sequence[str] | None,
    rows: Iterable[Sequence[str]],
    facts: Iterable[Sequence[str]] = (),
) -> str:
    """A title, facts (pairs of what and how much) and a table."""
    told = "".join(_row(fact, head=1) for fact in facts)
    body = "".join(_row(cells) for cells in rows)
    if head:
        names = _row(head, len(head), f"{_CELL};border-bottom:1px solid currentColor")
        body = f"<thead>{names}</thead>\n<tbody>\n{body}</tbody>\n"
    return (
        f'<div style="font-family:sans-serif">\n<h4>{escape(title)}</h4>\n'
        f"{_table(told) if told else ''}{_table(body) if body else ''}</div>\n"
    )


def beside(svg: str | None, page: str, what: str = "picture of the deviations") -> str:
    """A page with a picture beside it. The picture is an image of its own, so that
    its style cannot reach the page."""
    picture = ""
    if svg is not None:
        data = b64encode(svg.encode()).decode()
        picture = (
            f'<img alt="{escape(what)}" style="float:right;width:26em;max-width:42%;'
            f'height:auto;margin:0 0 1em 1.5em" src="data:image/svg+xml;base64,{data}">\n'
        )
    return f'<div style="max-width:76em">\n{picture}{page}</div>\n'
