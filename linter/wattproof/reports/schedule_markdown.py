"""The schedules as Markdown tables, which show nothing but text whatever is in a plan."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from wattproof.reports.markdown import escaped, row
from wattproof.reports.schedule_tables import REMEMBER
from wattproof.reports.tables import Table

_RULES: Final = {"left": ":--", "right": "--:"}


def render(file: str, title: str, code_title: str, tables: Sequence[Table]) -> str:
    """The schedules of one plan, with what is to be remembered on top."""
    lines = [f"# Schedules of {escaped(title or file)}", ""]
    lines += [f"Plan {escaped(file)}, by {escaped(code_title)}.", "", REMEMBER]
    for table in tables:
        lines += ["", f"## {escaped(table.title)}", "", *_table(table)]
    return "\n".join(lines) + "\n"


def _table(table: Table) -> Iterator[str]:
    if not table.rows:
        yield escaped(table.nothing)
        return
    yield _line(column.heading for column in table.columns)
    yield row(_RULES[column.align] for column in table.columns)
    for each in table.rows:
        yield _line(cell.text for cell in each.cells)


def _line(texts: Iterator[str]) -> str:
    return row(map(escaped, texts))
