"""What each array gives its controller, and where that works, as a table of states and shades."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, TypeAlias

from wattproof.reports.curves.data import InputCurves, StateCurve
from wattproof.reports.writing.tables import (
    DOES_NOT_APPLY,
    NOT_KNOWN,
    Cell,
    Column,
    Field,
    Table,
    plain,
    said,
)
from wattproof.working import shown

_Curve: TypeAlias = tuple[InputCurves, StateCurve]


def _number(number: float, unit: str) -> Cell:
    return Cell(shown(number, unit), number)


def _works(row: _Curve, quantity: str, unit: str) -> Cell:
    """A quantity of the point at which the controller works."""
    work = row[1].work
    return (
        Cell(NOT_KNOWN)
        if work is None or work.output is None
        else _number(getattr(work.spot, quantity), unit)
    )


def _into_battery(row: _Curve) -> Cell:
    work = row[1].work
    return Cell(NOT_KNOWN) if work is None or work.output is None else _number(work.output, "A")


def _held_by(row: _Curve) -> Cell:
    return said(row[1].work.held_by if row[1].work is not None else NOT_KNOWN)


def _too_high(row: _Curve) -> Cell:
    """The open-circuit voltage, which says where nothing may be connected."""
    voltage = row[1].open_voltage
    high = ", too high" if row[1].too_high else ""
    return Cell(f"{shown(voltage, 'V')}{high}", voltage)


_POINTS: Final[tuple[Field[_Curve], ...]] = (
    Field(Column("controller"), lambda r: said(r[0].controller)),
    Field(Column("state"), lambda r: said(r[1].words)),
    Field(Column("Voc", "V", "right"), _too_high),
    Field(Column("Isc", "A", "right"), lambda r: _number(r[1].short_current, "A")),
    Field(Column("Vmp", "V", "right"), lambda r: _number(r[1].best.voltage, "V")),
    Field(Column("greatest power", "W", "right"), lambda r: _number(r[1].best.power, "W")),
    Field(Column("works at", "V", "right"), lambda r: _works(r, "voltage", "V")),
    Field(Column("power there", "W", "right"), lambda r: _works(r, "power", "W")),
    Field(Column("into its battery", "A", "right"), _into_battery),
    Field(Column("held back by"), _held_by),
)
_SHADE: Final[tuple[Field[_Curve], ...]] = (
    Field(
        Column("lost to shade", align="right"),
        lambda r: said(r[1].lost if r[1].shade else DOES_NOT_APPLY),
    ),
)


def tables_of(inputs: Sequence[InputCurves]) -> Iterator[Table]:
    """The table; none where no curve can be drawn."""
    rows = [(curves, curve) for curves in inputs for curve in curves.curves]
    if rows:
        title = "Where each array works"
        fields = (*_POINTS, *_SHADE) if any(curve.shade for _, curve in rows) else _POINTS
        yield plain("arrays", title, "", rows, fields, lambda r: r[0].controller)
