"""The schedules as Markdown tables, which show nothing but text whatever is in a plan."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final

from wattproof.reports.columns import clean
from wattproof.reports.schedule_tables import REMEMBER, Table

_SIGNS: Final = re.compile(r"([\\`*_{}\[\]<>#!|~&$])")
_RULES: Final = {"left": ":--", "right": "--:"}


def render(file: str, title: str, code_title: str, tables: Sequence[Table]) -> str:
    """The schedules of one plan, with what is to be remembered on top."""
    lines = [f"# Schedules of {escaped(title or file)}", ""]
    lines += [f"Plan {escaped(file)}, by {escaped(code_title)}.", "", REMEMBER]
    for table in tables:
        lines += ["", f"## {escaped(table.title)}", "", *_table(table)]
    return "\n".join(lines) + "\n"


def escaped(text: str) -> str:
    """A text in which no sign means anything: no table, code, link, picture or tag."""
    return _SIGNS.sub(r"\\\1", clean(text))


def _table(table: Table) -> Iterator[str]:
    if not table.rows:
        yield escaped(table.nothing)
        return
    yield _line(column.heading for column in table.columns)
    yield f"| {' | '.join(_RULES[column.align] for column in table.columns)} |"
    for row in table.rows:
        yield _line(cell.text for cell in row.cells)


def _line(texts: Iterator[str]) -> str:
    return f"| {' | '.join(map(escaped, texts))} |"
