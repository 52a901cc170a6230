"""The schedules as Markdown tables, which show nothing but text whatever is in a plan."""

from __future__ import annotations

from collections.abc import Sequence

from wattproof.reports.schedules.tables import REMEMBER
from wattproof.reports.writing.markdown import escaped, table_lines
from wattproof.reports.writing.tables import Table


def render(file: str, title: str, code_title: str, tables: Sequence[Table]) -> str:
    """The schedules of one plan, with what is to be remembered on top."""
    lines = [f"# Schedules of {escaped(title or file)}", ""]
    lines += [f"Plan {escaped(file)}, by {escaped(code_title)}.", "", REMEMBER]
    for table in tables:
        lines += ["", f"## {escaped(table.title)}", "", *table_lines(table)]
    return "\n".join(lines) + "\n"
