"""The schedules for people, in 80 columns: narrow tables in columns, wide ones a block a row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest
from typing import Final

from wattproof.reports.columns import WIDTH, hanging, labelled, width, wrapped
from wattproof.reports.schedule_tables import REMEMBER, Column, Table, TableRow
from wattproof.reports.text import head

_MOST_COLUMNS: Final = 7
_GAP: Final = 2


def render(file: str, title: str, code: str, code_title: str, tables: Sequence[Table]) -> str:
    """The schedules of one plan."""
    lines = list(head(file, title, code, code_title))
    for table in tables:
        lines += ["", table.title, "-" * len(table.title), *_table(table)]
    lines += ["", *labelled("Remember", REMEMBER)]
    return "\n".join(lines) + "\n"


def _table(table: Table) -> Iterator[str]:
    if not table.rows:
        yield from ("", *wrapped(table.nothing, WIDTH))
    elif len(table.columns) > _MOST_COLUMNS:
        for row in table.rows:
            yield ""
            yield from _block(table, row)
    else:
        yield ""
        yield from _columns(table)


def _block(table: Table, row: TableRow) -> Iterator[str]:
    """The first cell as a title, the others below it, each beside its heading."""
    margin = max(len(column.heading) for column in table.columns) + 2 * _GAP
    yield from wrapped(row.cells[0].text, WIDTH)
    for column, cell in zip(table.columns[1:], row.cells[1:], strict=True):
        first = f"{' ' * _GAP}{column.heading:<{margin - _GAP}}"
        yield from hanging(cell.text, first=first, margin=margin)


def _columns(table: Table) -> Iterator[str]:
    headings = [column.heading for column in table.columns]
    texts = [[cell.text for cell in row.cells] for row in table.rows]
    widths = _fitted([max(map(width, below)) for below in zip(headings, *texts, strict=True)])
    for line in (headings, *texts):
        parts = [list(wrapped(text, w)) for text, w in zip(line, widths, strict=True)]
        for pieces in zip_longest(*parts, fillvalue=""):
            shown = map(_aligned, table.columns, pieces, widths)
            yield (" " * _GAP).join(shown).rstrip()


def _aligned(column: Column, text: str, columns: int) -> str:
    filling = " " * (columns - width(text))
    return f"{filling}{text}" if column.align == "right" else f"{text}{filling}"


def _fitted(natural: list[int]) -> list[int]:
    """Widths that fit beside each other: the widest give way first."""
    widths = list(natural)
    while sum(widths) + _GAP * (len(widths) - 1) > WIDTH:
        widest = max(range(len(widths)), key=widths.__getitem__)
        widths[widest] -= 1
    return widths
