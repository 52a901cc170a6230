"""The schedules as comma-separated values, by RFC 4180: for spreadsheets and other programs.

A cell that a spreadsheet could take for a formula gets an apostrophe in front.
"""

from __future__ import annotations

import csv
import io
from typing import Final

from wattproof.reports.schedules.listing import Listing
from wattproof.reports.writing.tables import Cell, Column

_FORMULA: Final = ("=", "+", "-", "@", "＝", "＋", "－", "＠")


def render(listing: Listing) -> str:
    """One table under its headings; several under the headings of all, with `table` before them.

    There a column that a table does not have is left empty in its rows, which is the only empty
    cell that there is.
    """
    tables = listing.tables
    written = io.StringIO()
    rows = csv.writer(written, lineterminator="\r\n")
    several = len(tables) > 1
    headings = list(dict.fromkeys(_heading(c) for table in tables for c in table.columns))
    rows.writerow(["table", *headings] if several else headings)
    for table in tables:
        own = [_heading(column) for column in table.columns]
        for row in table.rows:
            texts = dict(zip(own, map(_cell, row.cells), strict=True))
            cells = [texts.get(heading, "") for heading in headings]
            rows.writerow([table.key, *cells] if several else cells)
    return written.getvalue()


def _heading(column: Column) -> str:
    return f"{column.heading} ({column.unit})" if column.unit else column.heading


def _cell(cell: Cell) -> str:
    """A number in the unit of its heading, with a dot; else a text that is no formula."""
    if cell.number is not None:
        return f"{cell.number:.6f}".rstrip("0").rstrip(".")
    return harmless(cell.text)


def harmless(text: str) -> str:
    """A text that no spreadsheet takes for a formula."""
    return f"'{text}" if text.lstrip().startswith(_FORMULA) else text
