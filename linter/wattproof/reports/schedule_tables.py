"""The schedules as tables of plain texts, which every output for people or programs reads."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Generic, Literal, TypeAlias, TypeVar

from wattproof.reports.columns import clean
from wattproof.study.schedules import (
    ConductorRow,
    DeviceRow,
    LabelRow,
    PartRow,
    Protection,
    Schedules,
)
from wattproof.working import Value, shown

Key: TypeAlias = Literal["conductors", "devices", "parts", "labels"]
Align: TypeAlias = Literal["left", "right"]
_Row = TypeVar("_Row")

NOT_STATED: Final = "not stated"
NOT_KNOWN: Final = "not known"
DOES_NOT_APPLY: Final = "does not apply"
NONE: Final = "none"
NOTHING: Final = "nothing"

REMEMBER: Final = (
    "The schedules list what the plan declares and what follows from it. They do not check it: buy "
    "and cut nothing before `wattproof check` has no finding. Lengths hold no allowance. The local "
    "code, the makers' instructions and a licensed electrician stand above them, and may ask for "
    "other words on labels."
)


@dataclass(frozen=True, slots=True)
class Column:
    """A heading. unit: of the numbers below it, empty for texts and counts."""

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
    """One schedule. nothing: what to say where it has no row."""

    key: Key
    title: str
    nothing: str
    columns: tuple[Column, ...]
    rows: tuple[TableRow, ...]


@dataclass(frozen=True, slots=True)
class _Field(Generic[_Row]):
    column: Column
    read: Callable[[_Row], Cell]


def _said(text: object, missing: str = NOT_STATED) -> Cell:
    """A text from the plan; the words for its absence where it is None or empty."""
    return Cell(clean(str(text)) or missing if text is not None else missing)


def _listed(texts: Iterable[str], missing: str = NONE, between: str = ", ") -> Cell:
    return _said(between.join(texts), missing)


def _yes(flag: bool | None, yes: str = "yes", no: str = "no") -> Cell:
    return Cell(NOT_STATED if flag is None else yes if flag else no)


def _measured(value: Value | str | None, missing: str = NOT_STATED) -> Cell:
    """A Value as a reader knows it, with its number; words where there is none."""
    if not isinstance(value, Value):
        return _said(value, missing)
    number = value.number if math.isfinite(value.number) else None
    return Cell(clean(str(value)), number, bool(value.assumptions))


def _metres(value: Value | None) -> Cell:
    """A length as a builder in either system reads it: in metres where it was not written so."""
    cell = _measured(value)
    if value is None or cell.text.endswith(" m"):
        return cell
    return Cell(f"{cell.text} ({shown(value.number, 'm')})", cell.number)


def _counted(number: int | None) -> Cell:
    return Cell(NOT_STATED) if number is None else Cell(str(number), float(number))


def _name(row: DeviceRow) -> str:
    return row.name


def _only_component(row: PartRow) -> str:
    return row.components[0] if len(row.components) == 1 else ""


def _poles(row: ConductorRow) -> Cell:
    return _listed(
        (first if first == last else f"{first} to {last}" for first, last in row.poles),
        between=" and ",
    )


_VERDICTS: Final = {
    "cleared": "",
    "limited": "nothing opens; what feeds it is limited to what it carries",
    "device too large": "too large for it",
    "no device": NOTHING,
    "not known": "whether that is enough is not known",
}


def _protection(protection: Protection) -> str:
    devices = " and ".join(f"{name} {rating}" for name, rating in protection.devices)
    verdict = _VERDICTS[protection.verdict]
    if not devices or protection.verdict in ("no device", "limited"):
        return verdict or NOTHING
    return f"{devices} ({verdict})" if verdict else devices


def _protected_by(row: ConductorRow) -> Cell:
    """What protects a wire, told by stretches where these differ."""
    if row.is_bond:
        return Cell(DOES_NOT_APPLY)
    if not row.protections:
        single = all(first == last == "negative" for first, last in row.poles)
        return Cell("nothing in the negative" if single else NOT_KNOWN)
    words = [_protection(p) for p in row.protections]
    if len(set(words)) == 1:
        return _said(words[0])
    return _listed(
        (f"{_stretch(p)}: {w}" for p, w in zip(row.protections, words, strict=True)), between="; "
    )


def _stretch(protection: Protection) -> str:
    way = f"{protection.start} to {protection.end}"
    return f"{way}, {protection.length}" if protection.length is not None else way


def _of_wires(read: Callable[[ConductorRow], Cell]) -> Callable[[ConductorRow], Cell]:
    return lambda row: Cell(DOES_NOT_APPLY) if row.is_bond else read(row)


_CONDUCTOR: Final[tuple[_Field[ConductorRow], ...]] = (
    _Field(Column("name"), lambda r: _said(r.name)),
    _Field(Column("kind"), lambda r: Cell("bond" if r.is_bond else "wire")),
    _Field(Column("from"), lambda r: _said(r.start)),
    _Field(Column("to"), lambda r: _said(r.end)),
    _Field(Column("poles"), _poles),
    _Field(Column("in parallel", align="right"), lambda r: _counted(r.parallel)),
    _Field(Column("size"), lambda r: _said(r.size)),
    _Field(Column("in the other system"), lambda r: _said(r.other_size)),
    _Field(Column("cable"), lambda r: _said(r.cable)),
    _Field(Column("sold as"), lambda r: _said(r.kind)),
    _Field(Column("metal"), lambda r: _said(r.material)),
    _Field(Column("insulation", "°C", "right"), lambda r: _measured(r.insulation)),
    _Field(Column("length one way", "m", "right"), lambda r: _metres(r.length)),
    _Field(Column("conductor in all", "m", "right"), lambda r: _metres(r.needed)),
    _Field(Column("place"), lambda r: _listed(r.places, NOT_STATED)),
    _Field(
        Column("lasting current", "A", "right"),
        _of_wires(lambda r: _measured(r.current, NOT_KNOWN)),
    ),
    _Field(Column("capacity there", "A", "right"), _of_wires(lambda r: _measured(r.ampacity))),
    _Field(Column("protected by"), _protected_by),
    _Field(Column("voltage drop", "V", "right"), _of_wires(lambda r: _measured(r.drop, NOT_KNOWN))),
    _Field(Column("plug"), lambda r: _said(r.plug, NONE)),
)


def _of_overcurrent(read: Callable[[DeviceRow], Cell]) -> Callable[[DeviceRow], Cell]:
    return lambda row: read(row) if row.is_overcurrent else Cell(DOES_NOT_APPLY)


def _of_switches(read: Callable[[DeviceRow], Cell]) -> Callable[[DeviceRow], Cell]:
    return lambda row: read(row) if row.is_switch else Cell(DOES_NOT_APPLY)


def _of_inline(read: Callable[[DeviceRow], Cell]) -> Callable[[DeviceRow], Cell]:
    return lambda row: read(row) if row.is_inline else Cell(DOES_NOT_APPLY)


def _of_fuses(read: Callable[[DeviceRow], Cell]) -> Callable[[DeviceRow], Cell]:
    return lambda row: read(row) if row.kind in ("fuse", "panel way") else Cell(DOES_NOT_APPLY)


_DEVICE: Final[tuple[_Field[DeviceRow], ...]] = (
    _Field(Column("name"), lambda r: _said(r.name)),
    _Field(Column("kind"), lambda r: _said(r.kind)),
    _Field(Column("style"), _of_fuses(lambda r: _said(r.style))),
    _Field(Column("rating", "A", "right"), lambda r: _measured(r.rating)),
    _Field(Column("DC voltage rating", "V", "right"), lambda r: _measured(r.rated_voltage)),
    _Field(Column("voltage to open", "V", "right"), lambda r: _measured(r.opens, NOT_KNOWN)),
    _Field(Column("marked for DC"), lambda r: _yes(r.dc, no="no, for AC only")),
    _Field(
        Column("interrupt rating", "A", "right"), _of_overcurrent(lambda r: _measured(r.interrupt))
    ),
    _Field(
        Column("fault current there", "A", "right"),
        _of_overcurrent(lambda r: _measured(r.fault, NOT_KNOWN)),
    ),
    _Field(Column("poles", align="right"), lambda r: _counted(r.poles)),
    _Field(Column("load-break"), _of_switches(lambda r: _yes(r.load_break))),
    _Field(Column("sits in"), lambda r: _listed(r.sits_in, NOT_STATED)),
    _Field(Column("opens pole"), lambda r: _listed(r.in_pole, between=" and ")),
    _Field(Column("distance", "m", "right"), _of_inline(lambda r: _metres(r.distance))),
    _Field(Column("measured from"), _of_inline(lambda r: _said(r.measured_from))),
    _Field(Column("place"), lambda r: _said(r.place)),
    _Field(Column("protects"), _of_overcurrent(lambda r: _listed(r.protects))),
    _Field(Column("cuts off"), lambda r: _listed(r.cuts_off)),
    _Field(Column("lasting current", "A", "right"), lambda r: _measured(r.current, NOT_KNOWN)),
)


def _amount(value: Value) -> Cell:
    """A whole number, without the unit that stands beside it."""
    return Cell(f"{value.number:.0f}", value.number)


_PART: Final[tuple[_Field[PartRow], ...]] = (
    _Field(Column("group"), lambda r: _said(r.group)),
    _Field(Column("part"), lambda r: _said(r.part)),
    _Field(Column("amount", align="right"), lambda r: _amount(r.amount)),
    _Field(Column("unit"), lambda r: _said(r.unit)),
    _Field(Column("for"), lambda r: _listed(r.components)),
    _Field(Column("note"), lambda r: _said(r.note, NONE)),
)


def _marking(row: LabelRow) -> Cell:
    assumed = any(value.assumptions for value in row.rests_on)
    return Cell(clean("; ".join(row.markings)) or NONE, assumed=assumed)


_LABEL: Final[tuple[_Field[LabelRow], ...]] = (
    _Field(Column("component"), lambda r: _said(r.component)),
    _Field(Column("goes on"), lambda r: _said(r.on)),
    _Field(Column("name to print"), lambda r: _said(r.prints)),
    _Field(Column("marking"), _marking),
    _Field(Column("pieces", align="right"), lambda r: _counted(r.pieces)),
)


def tables_of(schedules: Schedules, only: str | None = None) -> tuple[Table, ...]:
    """The tables, or the one that is asked for by its key."""
    made = (
        _table("conductors", "Conductors", schedules.conductors, _CONDUCTOR, lambda r: r.name),
        _table("devices", "Overcurrent devices and switches", schedules.devices, _DEVICE, _name),
        _table("parts", "Parts", schedules.parts, _PART, _only_component),
        _table("labels", "Labels", schedules.labels, _LABEL, lambda r: r.component),
    )
    return tuple(table for table in made if only in (None, table.key))


def _table(
    key: Key,
    title: str,
    rows: Iterable[_Row],
    fields: Sequence[_Field[_Row]],
    component: Callable[[_Row], str],
) -> Table:
    """A table, with a last column that names the cells that rest on assumptions."""
    columns = tuple(field.column for field in fields)
    made = []
    for row in rows:
        cells = tuple(field.read(row) for field in fields)
        assumed = [c.heading for c, cell in zip(columns, cells, strict=True) if cell.assumed]
        made.append(TableRow(component(row), (*cells, _listed(assumed, NOTHING))))
    return Table(key, title, f"The plan has no {key}.", (*columns, ASSUMED), tuple(made))
