"""Slips of the pen and of the hand: what would be right if one of them were made.

A prefix that was misread (mV for V, kW for W) is a thousand times; a point in another place is ten
times, which is told as a slip only where nothing else would explain it; two values in each other's
boxes fit when they change places; a Fahrenheit thermometer shows a number that no cell reaches.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wattproof.plan.readings import Reading
from wattproof.quantities import Quantity
from wattproof.study.readings.conditions import HOTTEST_BACK, Band, overlap
from wattproof.study.readings.expected import Expected
from wattproof.study.readings.taken import Taken
from wattproof.study.site.climate import HOTTEST_AIR
from wattproof.working import Value

PREFIXES: Final = (1000.0, 0.001)
POINTS: Final = (10.0, 0.1)
"""What a decimal point makes that stands one digit further."""
FROM_MILLIWATTS: Final = 10.0
"""W/m² in one mW/cm²."""
LEAST_USED: Final = 0.1
"""Share of the most that there can be, above which what is read in operation is looked for."""
MOSTLY_USED: Final = 0.4
"""The same of what would be too much by a decimal point, which wants better company."""


def meant(true: Band, right: Band) -> Value | None:
    """The value that fits, a thousand times or a thousandth of what was read; None where none."""
    return _times(PREFIXES, true, right)


def by_its_point(true: Band, right: Band) -> Value | None:
    """The value that fits, ten times or a tenth of what was read; None where none."""
    return _times(POINTS, true, right)


def mostly_used(most: Value) -> Band:
    """What is read in operation of a good part of what there can be."""
    return Band(MOSTLY_USED * most, most, most)


def _times(factors: tuple[float, ...], true: Band, right: Band) -> Value | None:
    for factor in factors:
        value = factor * true.expected
        if right.low.number <= value.number <= right.high.number:
            return value.named(true.expected.symbol, true.expected.words, true.expected.unit)
    return None


def sun_meant(told: Band, lit: Band, by_current: Band | None) -> Value | None:
    """The sun (W/m²) that fits where one that is too dim to read in was told.

    lit: from the dimmest to the brightest. Of kW/m² in place of W/m²; of mW/cm² only where a
    short-circuit current beside it tells so, as a tenth of the sun there is as well.
    """
    tenfold = told.times(FROM_MILLIWATTS)
    if by_current is not None and overlap(tenfold, by_current):
        return tenfold.expected.named("G", "sun that was meant", "W/m²")
    return meant(told, lit)


def in_operation(most: Value) -> Band:
    """What may be read in operation, where there can be so much."""
    return Band(LEAST_USED * most, most, most)


def are_exchanged(taken: Taken, expected: Expected) -> bool:
    """True where the open voltage and the short-circuit current stand in each other's place."""
    volts, amps = taken.true_voc, taken.true_isc
    if volts is None or amps is None or not expected.decidable:
        return False
    return all(
        overlap(each, right) for each, right in ((volts, expected.isc), (amps, expected.voc))
    )


def in_fahrenheit(reading: Reading) -> Iterator[tuple[str, Quantity, float]]:
    """Temperatures that nothing has and that °F explain: the key, as written, and in °C."""
    for key, most in (("back_temperature", HOTTEST_BACK), ("air_temperature", HOTTEST_AIR)):
        written: Quantity | None = getattr(reading, key)
        if written is not None and written.value > most:
            yield key, written, (written.value - 32.0) / 1.8
