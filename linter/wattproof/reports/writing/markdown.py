"""Texts in Markdown that show what they say and nothing else, whatever is in a plan."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Final

from wattproof.reports.writing.columns import clean
from wattproof.reports.writing.tables import Table

_SIGNS: Final = re.compile(r"([\\`*_{}\[\]<>#!|~&$@])")
_RULES: Final = {"left": ":--", "right": "--:"}
_QUOTED: Final = re.compile(r"`([^`]*)`")


def escaped(text: str) -> str:
    """A text in which no sign means anything: no table, code, link, picture, tag or person."""
    return _SIGNS.sub(r"\\\1", clean(text))


def marked(text: str) -> str:
    """A text in which only what stands between backticks means something: it is code."""
    parts: Iterable[str] = _QUOTED.split(text)
    return "".join(code(part) if number % 2 else escaped(part) for number, part in enumerate(parts))


def code(text: str) -> str:
    """A text as code. A bar would end the cell of a table even there."""
    shown = clean(text).replace("|", "¦").replace("`", "'")
    return f"`{shown}`" if shown.strip() else escaped(shown)


def row(cells: Iterable[str]) -> str:
    """Cells that are Markdown already, as a row of a table."""
    return f"| {' | '.join(cells)} |"


def table_lines(table: Table) -> Iterator[str]:
    """A table of texts that mean nothing, or what to say where it has no row."""
    if not table.rows:
        yield escaped(table.nothing)
        return
    yield row(escaped(column.heading) for column in table.columns)
    yield row(_RULES[column.align] for column in table.columns)
    for each in table.rows:
        yield row(escaped(cell.text) for cell in each.cells)
