"""Tables of plain texts with the numbers behind them, which every output reads."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final, Generic, Literal, TypeAlias, TypeVar

from wattproof.reports.writing.columns import clean
from wattproof.working import Value

Align: TypeAlias = Literal["left", "right"]
Row = TypeVar("Row")

NOT_STATED: Final = "not stated"
NOT_KNOWN: Final = "not known"
DOES_NOT_APPLY: Final = "does not apply"
NONE: Final = "none"
NOTHING: Final = "nothing"


@dataclass(frozen=True, slots=True)
class Column:
    """A heading. unit: of the numbers below it; empty for texts, counts, and where cells say it."""

    heading: str
    unit: str = ""
    align: Align = "left"


ASSUMED: Final = Column("rests on assumptions")


@dataclass(frozen=True, slots=True)
class Cell:
    """A text, never empty and safe to show. number: in the column's unit, where it is one.

    assumed: it rests on something that the plan leaves out.
    """

    text: str
    number: float | None = None
    assumed: bool = False

    @property
    def sort_key(self) -> tuple[bool, float, str]:
        """Numbers by size, before texts by alphabet."""
        return (self.number is None, self.number or 0.0, self.text)


@dataclass(frozen=True, slots=True)
class TableRow:
    """Cells below the columns. component: the name that a link leads to; empty for several."""

    component: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """One table. key: its name for programs. nothing: what to say where it has no row."""

    key: str
    title: str
    nothing: str
    columns: tuple[Column, ...]
    rows: tuple[TableRow, ...]


@dataclass(frozen=True, slots=True)
class Field(Generic[Row]):
    """A column, and how its cell is read off what a row is of."""

    column: Column
    read: Callable[[Row], Cell]


def said(text: object, missing: str = NOT_STATED) -> Cell:
    """A text from the plan; the words for its absence where it is None or empty."""
    return Cell(clean(str(text)) or missing if text is not None else missing)


def listed(texts: Iterable[str], missing: str = NONE, between: str = ", ") -> Cell:
    """Texts in one cell; the words for their absence where there is none."""
    return said(between.join(texts), missing)


def measured(value: Value | str | None, missing: str = NOT_STATED) -> Cell:
    """A Value as a reader knows it, with its number; words where there is none."""
    if not isinstance(value, Value):
        return said(value, missing)
    number = value.number if math.isfinite(value.number) else None
    return Cell(clean(str(value)), number, bool(value.assumptions))


def plain(
    key: str,
    title: str,
    nothing: str,
    rows: Iterable[Row],
    fields: Sequence[Field[Row]],
    component: Callable[[Row], str],
) -> Table:
    """A table of these columns and no other."""
    columns = tuple(field.column for field in fields)
    made = (TableRow(component(row), tuple(field.read(row) for field in fields)) for row in rows)
    return Table(key, title, nothing, columns, tuple(made))


def table(
    key: str,
    title: str,
    nothing: str,
    rows: Iterable[Row],
    fields: Sequence[Field[Row]],
    component: Callable[[Row], str],
) -> Table:
    """A table with a last column that names the cells that rest on assumptions."""
    made = plain(key, title, nothing, rows, fields, component)
    return replace(
        made,
        columns=(*made.columns, ASSUMED),
        rows=tuple(replace(row, cells=(*row.cells, _assumed(row, made))) for row in made.rows),
    )


def _assumed(row: TableRow, made: Table) -> Cell:
    columns = zip(made.columns, row.cells, strict=True)
    return listed((column.heading for column, cell in columns if cell.assumed), NOTHING)
