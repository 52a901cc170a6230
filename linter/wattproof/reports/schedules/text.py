"""The schedules for people, in 80 columns: a block for each conductor and device, else lists."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Final, NamedTuple

from wattproof.reports.findings.head import about
from wattproof.reports.schedules.listing import Listing
from wattproof.reports.schedules.tables import REMEMBER
from wattproof.reports.writing.columns import WIDTH, hanging, labelled, width, wrapped
from wattproof.reports.writing.tables import ASSUMED, NONE, NOTHING, Table

_INDENT: Final = 2


class _Entry(NamedTuple):
    """What is told of a row of a list: under which title, what on the left, what beside it."""

    title: str
    left: str
    lines: tuple[str, ...]


def render(listing: Listing) -> str:
    """The schedules of one plan."""
    lines = list(about(listing.file, listing.title, listing.code, listing.code_title))
    for table in listing.tables:
        lines += ["", table.title, "-" * len(table.title), *_table(table)]
    lines += ["", *labelled("Remember", REMEMBER)]
    return "\n".join(lines) + "\n"


def _table(table: Table) -> Iterator[str]:
    headings = [column.heading for column in table.columns]
    rows = [dict(zip(headings, (c.text for c in r.cells), strict=True)) for r in table.rows]
    if not rows:
        yield from ("", *wrapped(table.nothing, WIDTH))
    elif table.key in _ENTRIES:
        entry, margin = _ENTRIES[table.key]
        yield from _list(map(entry, rows), margin)
    else:
        for row in rows:
            yield ""
            yield from _block(row)


def _block(row: dict[str, str]) -> Iterator[str]:
    """The first cell as a title, the others below it, each beside its heading."""
    (_, title), *others = row.items()
    margin = max(map(len, row)) + 2 * _INDENT
    yield from wrapped(title, WIDTH)
    for heading, text in others:
        first = f"{' ' * _INDENT}{heading:<{margin - _INDENT}}"
        yield from hanging(text, first=first, margin=margin)


def _list(entries: Iterable[_Entry], margin: int) -> Iterator[str]:
    """Entries under their titles, each title once for those that follow each other."""
    title = ""
    for entry in entries:
        if entry.title != title:
            title = entry.title
            yield ""
            yield from wrapped(title, WIDTH)
        yield from _beside(entry.left, entry.lines, margin)


def _beside(left: str, texts: Iterable[str], margin: int) -> Iterator[str]:
    """Texts below each other at a margin; what stands on their left goes above them if too long."""
    first = f"{' ' * _INDENT}{left}"
    if width(first) >= margin:
        yield from (f"{' ' * _INDENT}{line}" for line in wrapped(left, WIDTH - _INDENT))
        first = ""
    for text in texts:
        yield from hanging(text, first=f"{first:<{margin}}", margin=margin)
        first = ""


def _part(row: dict[str, str]) -> _Entry:
    note = row["note"] if row["note"] != NONE else ""
    unit = row["unit"] if row["unit"] != row["group"] else ""
    left = f"{row['amount']:>5} {unit}".rstrip()
    return _Entry(row["group"], left, (row["part"], f"for {row['for']}", note))


def _label(row: dict[str, str]) -> _Entry:
    marking = row["marking"] if row["marking"] != NONE else ""
    if row[ASSUMED.heading] != NOTHING:
        marking += " (rests on an assumption)"
    more = f"{row['pieces']} pieces" if row["pieces"] != "1" else ""
    return _Entry(row["component"], row["goes on"], (row["name to print"], marking, more))


_ENTRIES: Final[dict[str, tuple[Callable[[dict[str, str]], _Entry], int]]] = {
    "parts": (_part, 16),
    "labels": (_label, 28),
}
"""The tables that are lists: how a row is told, and the column at which its lines begin."""
