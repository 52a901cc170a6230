"""What is needed at the bench, short: what to cut, and what to print on tape."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from wattproof.reports.writing.tables import NONE, NOT_STATED, Cell, Column, Table, TableRow

CUT: Final = (
    Column("name"),
    Column("size"),
    Column("one way", "m", "right"),
    Column("in all", "m", "right"),
    Column("poles"),
    Column("fuse"),
    Column("ends"),
    Column("colour"),
)
"""Columns of the cut list. A plan tells no colours: the last is for the pen."""


class Tape(NamedTuple):
    """Alike labels. pieces: how many. prints: the name. on: where they go."""

    pieces: int
    prints: str
    on: tuple[str, ...]

    @property
    def goes(self) -> str:
        """Where they go; empty where the name says it."""
        if self.on == (self.prints,):
            return ""
        if len(self.on) == 2 and all(" end at " in each for each in self.on):
            return "both ends"
        return "; ".join(self.on)


def cut_list(schedules: Sequence[Table]) -> Table | None:
    """The conductors as they are cut; None where the plan has none."""
    rows = [(row.component, _cells(table, row)) for table, row in _rows(schedules, "conductors")]
    if not rows:
        return None
    made = tuple(TableRow(component, tuple(_cut(cells))) for component, cells in rows)
    return Table("cut", "Cut list", "", CUT, made)


def tapes(schedules: Sequence[Table]) -> list[tuple[str, list[Tape]]]:
    """The labels under the marking that they share, those of one name together.

    The marking is empty where there is none.
    """
    alike: dict[str, dict[str, Tape]] = {}
    for table, row in _rows(schedules, "labels"):
        cells = _cells(table, row)
        prints, marking = cells["name to print"].text, cells["marking"].text
        group = alike.setdefault("" if marking == NONE else marking, {})
        known = group.get(prints, Tape(0, prints, ()))
        pieces = round(cells["pieces"].number or 1.0)
        on = (*known.on, cells["goes on"].text)
        group[prints] = Tape(known.pieces + pieces, prints, on)
    return [(marking, list(group.values())) for marking, group in alike.items()]


def _rows(schedules: Sequence[Table], key: str) -> Iterator[tuple[Table, TableRow]]:
    return ((table, row) for table in schedules if table.key == key for row in table.rows)


def _cells(table: Table, row: TableRow) -> dict[str, Cell]:
    headings = (column.heading for column in table.columns)
    return dict(zip(headings, row.cells, strict=True))


def _cut(cells: dict[str, Cell]) -> Iterator[Cell]:
    size, other = cells["size"].text, cells["in the other system"].text
    parallel = cells["in parallel"].text
    told = size if other in (NONE, NOT_STATED) else f"{size} ({other})"
    yield cells["name"]
    yield Cell(told if parallel == "1" else f"{parallel} × {told}")
    yield cells["length one way"]
    yield cells["conductor in all"]
    yield Cell(cells["poles"].text.replace("positive", "+").replace("negative", "−"))
    yield cells["protected by"]
    plug = cells["plug"].text
    ends = f"{cells['from'].text} to {cells['to'].text}"
    yield Cell(ends if plug == NONE else f"{ends}; plug {plug}")
    yield Cell("")
