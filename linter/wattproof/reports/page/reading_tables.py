"""What a meter showed, as tables: at arrays beside their curves, elsewhere at full load."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from wattproof.reports.writing.tables import (
    DOES_NOT_APPLY,
    NOT_KNOWN,
    Cell,
    Column,
    Field,
    Table,
    measured,
    said,
    table,
)

if TYPE_CHECKING:
    from wattproof.study.readings import ReadingsSection
    from wattproof.study.readings.at_arrays import ArrayReading
    from wattproof.study.readings.at_joints import JointReading
    from wattproof.study.readings.of_charging import ChargeReading
    from wattproof.working import Value

_NONE: Final = Cell(DOES_NOT_APPLY)
_SWAPPED: Final = "poles or probes swapped"


@dataclass(frozen=True, slots=True)
class _Read:
    """One quantity of a reading. reading: as the plan has it. full: taken to full load."""

    reading: Any
    quantity: str
    read: Cell
    least: Cell = _NONE
    expected: Cell = _NONE
    most: Cell = _NONE
    stands: str = ""
    full: Cell = _NONE


_WHAT: Final[tuple[Field[_Read], ...]] = (
    Field(Column("reading"), lambda r: said(r.reading.name)),
    Field(Column("quantity"), lambda r: said(r.quantity)),
    Field(Column("read", align="right"), lambda r: r.read),
)
_WHEN: Final[tuple[Field[_Read], ...]] = (
    Field(Column("at"), lambda r: said(r.reading.at_terminal)),
    Field(Column("taken"), lambda r: said(r.reading.taken)),
)
_BESIDE: Final[tuple[Field[_Read], ...]] = (
    *_WHAT,
    Field(Column("stands"), lambda r: said(r.stands)),
    Field(Column("at least", align="right"), lambda r: r.least),
    Field(Column("expected", align="right"), lambda r: r.expected),
    Field(Column("at most", align="right"), lambda r: r.most),
    *_WHEN,
)
_LOADED: Final[tuple[Field[_Read], ...]] = (
    *_WHAT,
    Field(Column("current in it", align="right"), lambda r: said(r.reading.current)),
    Field(Column("taken to full load", align="right"), lambda r: r.full),
    *_WHEN,
)


def tables_of(readings: ReadingsSection) -> Iterator[Table]:
    """The tables; none where the plan has no reading."""
    at_arrays = [row for each in readings.at_arrays for row in _at_array(each)]
    at_arrays += [row for each in readings.loose for row in _loose(each)]
    if at_arrays:
        title = "Readings at arrays, beside their curves"
        yield table("readings", title, "", at_arrays, _BESIDE, lambda r: "")
    loaded = [row for joint in readings.at_joints for row in _at_joint(joint)]
    loaded += [row for charge in readings.of_charging for row in _of_charging(charge)]
    if loaded:
        title = "Readings of joints and charging"
        yield table("service", title, "", loaded, _LOADED, lambda r: "")


def _at_array(each: ArrayReading) -> Iterator[_Read]:
    if each.taken.voc is not None:
        yield _beside(each, "open-circuit voltage", each.taken.voc, "voc")
    if each.taken.isc is not None:
        yield _beside(each, "short-circuit current", each.taken.isc, "isc")
    if each.taken.voc is None and each.taken.isc is None and each.taken.voltage is None:
        return  # only the current in a joint, which stands beside what was read there
    for quantity, value in (("voltage", each.taken.voltage), ("current", each.taken.current)):
        if value is not None:
            wrong = value in each.taken.reversed_voltages or value in each.taken.reversed_currents
            stands = _SWAPPED if wrong else "not compared alone"
            yield _Read(
                each.taken.reading, f"{quantity} in operation", measured(value), stands=stands
            )
    power = each.stands.power
    if power is not None:
        held = f"held back by its {power.held}" if power.held else "no band is reckoned"
        given = measured(power.given)
        yield _Read(each.taken.reading, "power", measured(power.shown), expected=given, stands=held)


def _beside(each: ArrayReading, quantity: str, value: Value, key: str) -> _Read:
    """An open-circuit voltage or a short-circuit current, with the band that is expected of it."""
    if value in each.taken.reversed_voltages or value in each.taken.reversed_currents:
        return _Read(each.taken.reading, quantity, measured(value), stands=_SWAPPED)
    if not each.expected.decidable:
        why = "not decided: too little sun" if each.expected.too_dim else "not decided: no curve"
        return _Read(each.taken.reading, quantity, measured(value), stands=why)
    band = each.expected.voc if key == "voc" else each.expected.isc
    return _Read(
        each.taken.reading,
        quantity,
        measured(value),
        measured(band.low),
        measured(band.expected),
        measured(band.high),
        _stands(each, key),
    )


def _stands(each: ArrayReading, key: str) -> str:
    if each.stands.voc_is_low if key == "voc" else each.stands.isc_is_low:
        return "low"
    if each.stands.voc_is_high if key == "voc" else each.stands.isc_is_high:
        return "high"
    if key == "isc" and not each.taken.conditions.sun_known:
        return "not decided: the sun was not read"
    return "as expected"


def _loose(reading: Any) -> Iterator[_Read]:
    for quantity, key in (
        ("open-circuit voltage", "voc"),
        ("short-circuit current", "isc"),
        ("voltage in operation", "voltage"),
        ("current in operation", "current"),
    ):
        if (value := getattr(reading, key)) is not None:
            yield _Read(
                reading, quantity, said(value), stands="not compared: it feeds no controller"
            )


def _at_joint(joint: JointReading) -> Iterator[_Read]:
    reading = joint.reading
    if reading.drop is not None:
        yield _Read(
            reading, "drop, at least", said(reading.drop), full=measured(joint.drop, NOT_KNOWN)
        )
    if reading.joint_temperature is not None:
        over = f"{reading.joint_temperature} in {reading.air_temperature}"
        full = measured(joint.rise, NOT_KNOWN)
        yield _Read(reading, "rise over the air", said(over), full=full)


def _of_charging(charge: ChargeReading) -> Iterator[_Read]:
    if charge.voltage is not None:
        yield _Read(charge.reading, f"voltage at {charge.where}", measured(charge.voltage))
    if charge.reading.posts_voltage is not None:
        full = measured(charge.lost, NOT_KNOWN)
        yield _Read(charge.reading, "voltage at the posts", measured(charge.posts))
        yield _Read(charge.reading, "lost on the way, at least", _NONE, full=full)
