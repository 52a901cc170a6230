"""Styles of overcurrent devices, and what may be assumed of one whose label is not declared."""

from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

from wattproof.codes.tables import is_verified, table
from wattproof.codes.values import TableValue


class DeviceStyle(NamedTuple):
    """A generic style of fuse or breaker, with careful figures; a printed figure always wins.

    ``kind`` is "fuse" or "breaker". ``dc_voltage`` is in V and ``largest`` in A; None where
    nothing may be assumed. ``interrupts`` pairs a voltage in V with the current in A that can be
    broken up to that voltage, voltages ascending. ``known_as`` is what people call it who do not
    know its name.
    """

    name: str
    title: str
    kind: str
    dc_voltage: TableValue | None
    interrupts: tuple[tuple[float, TableValue], ...]
    largest: TableValue | None
    pv_rated: bool
    known_as: tuple[str, ...] = ()

    def interrupt_at(self, voltage: float) -> TableValue | None:
        """Current in A that it can break at a DC voltage; None above its last voltage."""
        for up_to, current in self.interrupts:
            if voltage <= up_to:
                return current
        return None


def known_styles() -> tuple[str, ...]:
    """Names of all styles, in the order of the table."""
    return tuple(_styles())


def style(name: str) -> DeviceStyle:
    """The style of that name. Raises ValueError for one that is not known."""
    if name not in _styles():
        raise ValueError(f"{name!r} is not one of {', '.join(known_styles())}")
    return _styles()[name]


@cache
def _styles() -> Mapping[str, DeviceStyle]:
    return {row["style"]: _style(row) for row in table("device-styles").rows}


def _style(row: Mapping[str, str]) -> DeviceStyle:
    pairs = (pair.split(":") for pair in row["interrupt"].split(";") if pair)
    interrupts = tuple(
        (float(volts), _assumed(row, amps, "A", f"interrupt rating up to {volts} V"))
        for volts, amps in pairs
    )
    return DeviceStyle(
        row["style"],
        row["title"],
        row["kind"],
        _assumed(row, row["dc_voltage"], "V", "voltage rating") if row["dc_voltage"] else None,
        interrupts,
        _assumed(row, row["largest"], "A", "largest usual rating") if row["largest"] else None,
        row["pv_rated"] == "yes",
        tuple(row["known_as"].split("; ")),
    )


def _assumed(row: Mapping[str, str], value: str, unit: str, what: str) -> TableValue:
    words = f"{what} of a {row['title']}"
    return TableValue(float(value), unit, words, row["source"], is_verified(row))
