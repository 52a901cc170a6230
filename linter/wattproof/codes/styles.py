"""Styles of overcurrent devices, and what may be assumed of one whose label is not declared."""

from collections.abc import Mapping
from functools import cache
from typing import Final, NamedTuple

from wattproof.codes.tables import is_verified, table
from wattproof.codes.values import TableValue

OF_VEHICLES: Final = 32.0
"""Direct voltage (V) that fuses of vehicles are printed with."""


class DeviceStyle(NamedTuple):
    """A generic style of fuse or breaker, with careful figures; a printed figure always wins.

    ``kind`` is "fuse" or "breaker". ``dc_voltage`` is in V, ``smallest`` and ``largest``, the usual
    ratings, in A; None where nothing may be assumed. ``interrupts`` pairs a voltage in V with the
    current in A that can be broken up to that voltage, voltages ascending. ``known_as`` is what
    people call it who do not know its name. ``trips`` pairs a rating in A with the conventional
    tripping current up to it, as a multiple of the rating, ratings ascending. ``dc_by_make`` is
    False where the style is made for alternating current, so that only a label that says direct
    current, and at which voltage, makes it fit for it. ``highest`` is the highest voltage in V that
    is printed on any fuse of the style; None where it has none. ``vehicle`` is the largest rating
    in A of the size of it that vehicles have, for ``OF_VEHICLES``; None where it has no such size.
    """

    name: str
    title: str
    kind: str
    dc_voltage: TableValue | None
    interrupts: tuple[tuple[float, TableValue], ...]
    largest: TableValue | None
    pv_rated: bool
    known_as: tuple[str, ...] = ()
    trips: tuple[tuple[float, TableValue], ...] = ()
    dc_by_make: bool = True
    highest: TableValue | None = None
    smallest: TableValue | None = None
    vehicle: TableValue | None = None

    def is_of_vehicles(self, rating: float) -> bool:
        """True for a rating (A) that only the size which vehicles have is made with."""
        if self.vehicle is None or self.largest is None:
            return False
        return self.largest.value < rating <= self.vehicle.value

    def trips_within(self, share: TableValue, ampacity: float) -> TableValue | None:
        """Largest rating in A whose conventional tripping current is within a share of an ampacity.

        That current is the one at which the device surely opens within its conventional time, as a
        multiple of the rating. None where the style has none that is known.
        """
        best: TableValue | None = None
        below = 0.0
        for up_to, factor in self.trips:
            rating = min(up_to, share.value * ampacity / factor.value)
            if rating > below:
                what = (
                    f"largest {self.kind} that trips in time: {share.value:g} x {ampacity:.4g} A / "
                    f"{factor.value:g}"
                )
                source = f"{share.source}; {factor.source}"
                seen = share.verified and factor.verified
                best = TableValue(rating, "A", what, source, seen)
            below = up_to
        return best

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
        tuple(
            (float(up_to or "inf"), _trips(row, factor))
            for up_to, factor in (pair.split(":") for pair in row["trips"].split(";") if pair)
        ),
        row["dc_by_make"] == "yes",
        _known(row, "highest", "V", "highest voltage that is printed on a")
        if row["highest"]
        else None,
        _known(row, "smallest", "A", "smallest usual rating of a") if row["smallest"] else None,
        _known(row, "vehicle", "A", "largest rating of a vehicle's") if row["vehicle"] else None,
    )


def _known(row: Mapping[str, str], key: str, unit: str, what: str) -> TableValue:
    return TableValue(float(row[key]), unit, f"{what} {row['title']}", "common practice", False)


def _trips(row: Mapping[str, str], factor: str) -> TableValue:
    words = f"conventional tripping current of a {row['title']}, over its rating"
    return TableValue(float(factor), "", words, row["trips_source"], row["trips_verified"] == "yes")


def _assumed(row: Mapping[str, str], value: str, unit: str, what: str) -> TableValue:
    words = f"{what} of a {row['title']}"
    return TableValue(float(value), unit, words, row["source"], is_verified(row))
