"""The schedules as tables: what stands in each column of each."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Final

from wattproof.kinds import Schedule
from wattproof.reports.writing.columns import clean
from wattproof.reports.writing.tables import (
    DOES_NOT_APPLY,
    NONE,
    NOT_KNOWN,
    NOT_STATED,
    NOTHING,
    Cell,
    Column,
    Field,
    Row,
    Table,
    listed,
    measured,
    said,
    table,
)
from wattproof.views.schedules import (
    ConductorRow,
    DeviceRow,
    LabelRow,
    PartRow,
    Protection,
    Schedules,
)
from wattproof.words import enumerated
from wattproof.working import Value, shown

REMEMBER: Final = (
    "The schedules list what the plan declares and what follows from it. They do not check it: buy "
    "and cut nothing before `wattproof check` has no finding. Lengths hold no allowance. The local "
    "code, the makers' instructions and a licensed electrician stand above them, and may ask for "
    "other words on labels."
)


def _yes(flag: bool | None, yes: str = "yes", no: str = "no") -> Cell:
    return Cell(NOT_STATED if flag is None else yes if flag else no)


def _metres(value: Value | None) -> Cell:
    """A length as a builder in either system reads it: in metres where it was not written so."""
    cell = measured(value)
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
    return listed(
        (first if first == last else f"{first} to {last}" for first, last in row.poles),
        between=" and ",
    )


IN_NEGATIVE: Final = "nothing in the negative"
_VERDICTS: Final = {
    "cleared": "",
    "limited": "nothing opens; what feeds it is limited to what it carries",
    "short enough": "near enough",
    "too large": "too large for it",
    "too far": "too far away",
    "no device": NOTHING,
    "only in the other pole": "only in the other pole",
    "belongs to another source": "of another source, and too far away",
    "at one end at most": "near enough to one end at most",
    "cannot break it": "cannot break a short there",
    "not known": "whether that is enough is not known",
}
_SURE: Final = {"certain": "{}", "likely": "likely {}", "asked": "perhaps {}: look it up"}
_BEFORE_IT: Final = ("short enough", "too far", "belongs to another source")
"""What is told of a stretch that lies between what feeds it and its device."""


def _protection(protection: Protection) -> str:
    devices = enumerated(f"{name} {rating}" for name, rating in protection.devices)
    if protection.of_return:
        if not devices:
            return IN_NEGATIVE
        devices = f"{devices} in the positive"
    verdict = _VERDICTS[protection.verdict]
    if protection.verdict == "short enough" and not devices:
        return f"{NOTHING}, and short enough without"
    if not devices or protection.verdict in ("no device", "limited"):
        return verdict or NOTHING
    verdict = _SURE[protection.sure].format(verdict)
    if protection.verdict in _BEFORE_IT:
        return f"{NOTHING} before {devices} ({verdict})"
    return f"{devices} ({verdict})" if verdict else devices


def _protected_by(row: ConductorRow) -> Cell:
    """What protects a wire, told by stretches where these differ."""
    if row.is_bond:
        return Cell(DOES_NOT_APPLY)
    if not row.protections:
        single = all(first == last == "negative" for first, last in row.poles)
        return Cell(IN_NEGATIVE if single else NOT_KNOWN)
    words = [_protection(p) for p in row.protections]
    if len(set(words)) == 1:
        return said(words[0])
    return listed(
        (f"{_stretch(p)}: {w}" for p, w in zip(row.protections, words, strict=True)), between="; "
    )


def _stretch(protection: Protection) -> str:
    way = f"{protection.start} to {protection.end}"
    return f"{way}, {protection.length}" if protection.length is not None else way


def _of_wires(read: Callable[[ConductorRow], Cell]) -> Callable[[ConductorRow], Cell]:
    return lambda row: Cell(DOES_NOT_APPLY) if row.is_bond else read(row)


_CONDUCTOR: Final[tuple[Field[ConductorRow], ...]] = (
    Field(Column("name"), lambda r: said(r.name)),
    Field(Column("kind"), lambda r: Cell("bond" if r.is_bond else "wire")),
    Field(Column("from"), lambda r: said(r.start)),
    Field(Column("to"), lambda r: said(r.end)),
    Field(Column("poles"), _poles),
    Field(Column("in parallel", align="right"), lambda r: _counted(r.parallel)),
    Field(Column("size"), lambda r: said(r.size)),
    Field(Column("in the other system"), lambda r: said(r.other_size)),
    Field(Column("cable"), lambda r: said(r.cable)),
    Field(Column("sold as"), lambda r: said(r.kind)),
    Field(Column("metal"), lambda r: said(r.material)),
    Field(Column("insulation", "°C", "right"), lambda r: measured(r.insulation)),
    Field(Column("length one way", "m", "right"), lambda r: _metres(r.length)),
    Field(Column("conductor in all", "m", "right"), lambda r: _metres(r.needed)),
    Field(Column("place"), lambda r: listed(r.places, NOT_STATED)),
    Field(
        Column("lasting current", "A", "right"),
        _of_wires(lambda r: measured(r.current, NOT_KNOWN)),
    ),
    Field(Column("capacity there", "A", "right"), _of_wires(lambda r: measured(r.ampacity))),
    Field(Column("protected by"), _protected_by),
    Field(Column("voltage drop", "V", "right"), _of_wires(lambda r: measured(r.drop, NOT_KNOWN))),
    Field(Column("plug"), lambda r: said(r.plug, NONE)),
)


def _of_overcurrent(read: Callable[[DeviceRow], Cell]) -> Callable[[DeviceRow], Cell]:
    return lambda row: read(row) if row.is_overcurrent else Cell(DOES_NOT_APPLY)


def _of_switches(read: Callable[[DeviceRow], Cell]) -> Callable[[DeviceRow], Cell]:
    return lambda row: read(row) if row.is_switch else Cell(DOES_NOT_APPLY)


def _of_inline(read: Callable[[DeviceRow], Cell]) -> Callable[[DeviceRow], Cell]:
    return lambda row: read(row) if row.is_inline else Cell(DOES_NOT_APPLY)


def _of_fuses(read: Callable[[DeviceRow], Cell]) -> Callable[[DeviceRow], Cell]:
    return lambda row: read(row) if row.kind in ("fuse", "panel way") else Cell(DOES_NOT_APPLY)


_DEVICE: Final[tuple[Field[DeviceRow], ...]] = (
    Field(Column("name"), lambda r: said(r.name)),
    Field(Column("kind"), lambda r: said(r.kind)),
    Field(Column("style"), _of_fuses(lambda r: said(r.style))),
    Field(Column("rating", "A", "right"), lambda r: measured(r.rating)),
    Field(Column("DC voltage rating", "V", "right"), lambda r: measured(r.rated_voltage)),
    Field(Column("voltage to open", "V", "right"), lambda r: measured(r.opens, NOT_KNOWN)),
    Field(Column("marked for DC"), lambda r: _yes(r.dc, no="no, for AC only")),
    Field(
        Column("interrupt rating", "A", "right"), _of_overcurrent(lambda r: measured(r.interrupt))
    ),
    Field(
        Column("fault current there", "A", "right"),
        _of_overcurrent(lambda r: measured(r.fault, NOT_KNOWN)),
    ),
    Field(Column("poles", align="right"), lambda r: _counted(r.poles)),
    Field(Column("load-break"), _of_switches(lambda r: _yes(r.load_break))),
    Field(Column("sits in"), lambda r: listed(r.sits_in, NOT_STATED)),
    Field(Column("opens pole"), lambda r: listed(r.in_pole, between=" and ")),
    Field(Column("distance", "m", "right"), _of_inline(lambda r: _metres(r.distance))),
    Field(Column("measured from"), _of_inline(lambda r: said(r.measured_from))),
    Field(Column("place"), lambda r: said(r.place)),
    Field(Column("protects"), _of_overcurrent(lambda r: listed(r.protects))),
    Field(Column("cuts off"), lambda r: listed(r.cuts_off)),
    Field(Column("lasting current", "A", "right"), lambda r: measured(r.current, NOT_KNOWN)),
)


def _amount(value: Value) -> Cell:
    """A whole number, without the unit that stands beside it."""
    return Cell(f"{value.number:.0f}", value.number)


_PART: Final[tuple[Field[PartRow], ...]] = (
    Field(Column("group"), lambda r: said(r.group)),
    Field(Column("part"), lambda r: said(r.part)),
    Field(Column("amount", align="right"), lambda r: _amount(r.amount)),
    Field(Column("unit"), lambda r: said(r.unit)),
    Field(Column("for"), lambda r: listed(r.components)),
    Field(Column("note"), lambda r: said(r.note, NONE)),
)


def _marking(row: LabelRow) -> Cell:
    assumed = any(value.assumptions for value in row.rests_on)
    return Cell(clean("; ".join(row.markings)) or NONE, assumed=assumed)


_LABEL: Final[tuple[Field[LabelRow], ...]] = (
    Field(Column("component"), lambda r: said(r.component)),
    Field(Column("goes on"), lambda r: said(r.on)),
    Field(Column("name to print"), lambda r: said(r.prints)),
    Field(Column("marking"), _marking),
    Field(Column("pieces", align="right"), lambda r: _counted(r.pieces)),
)


def tables_of(schedules: Schedules, only: str | None = None) -> tuple[Table, ...]:
    """The tables, or the one that is asked for by its key."""
    made = (
        _table("conductors", "Conductors", schedules.conductors, _CONDUCTOR, lambda r: r.name),
        _table("devices", "Overcurrent devices and switches", schedules.devices, _DEVICE, _name),
        _table("parts", "Parts", schedules.parts, _PART, _only_component),
        _table("labels", "Labels", schedules.labels, _LABEL, lambda r: r.component),
    )
    return tuple(each for each in made if only in (None, each.key))


def _table(
    key: Schedule,
    title: str,
    rows: Iterable[Row],
    fields: Sequence[Field[Row]],
    component: Callable[[Row], str],
) -> Table:
    return table(key, title, f"The plan has no {key}.", rows, fields, component)
