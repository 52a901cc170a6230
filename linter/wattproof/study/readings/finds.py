"""The smallest loss that a reading would find, so that its silence is not taken for health.

A value that is just not low is worked back through the meter's error and the band of the curve:
what is missing of the likeliest value then is the least that is found.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from wattproof.study.readings.at_arrays import ArrayReading
from wattproof.study.readings.conditions import Band
from wattproof.working import Value

WORDS: Final = {
    "voc": "open-circuit voltage",
    "isc": "short-circuit current",
    "current": "current in operation",
    "power": "power in operation",
    "day": "yield of clear days",
}
"""What is compared, by its key."""


class Finds(NamedTuple):
    """One quantity of a reading, and the smallest share of it that, missing, is found."""

    quantity: str
    share: Value

    @property
    def words(self) -> str:
        """The quantity in words."""
        return WORDS[self.quantity]


def finds_of(reading: ArrayReading) -> Iterator[Finds]:
    """Of everything that was read and can be compared with a curve that gives anything."""
    for quantity, true, curve in _compared(reading):
        if true.expected.number > 0.0 and curve.expected.number > 0.0:
            yield _against(quantity, reading, true, curve)


def _compared(reading: ArrayReading) -> Iterator[tuple[str, Band, Band]]:
    """Each quantity: what it may truly be, and what the curve gives."""
    taken, expected, stands = reading.taken, reading.expected, reading.stands
    if not expected.decidable:
        return
    if taken.true_voc is not None:
        yield "voc", taken.true_voc, expected.voc
    if taken.true_isc is not None and taken.conditions.sun_known:
        yield "isc", taken.true_isc, expected.isc
    band = expected.working_current if stands.power_is_decidable and not taken.at_input else None
    if taken.true_current is not None and band is not None:
        yield "current", taken.true_current, band
    power = stands.power
    if power is not None and stands.power_is_decidable:
        limit = stands.least_told(power.given, power.given_least)
        yield "power", power.read, Band(limit, power.given, power.given)


def _against(quantity: str, reading: ArrayReading, true: Band, curve: Band) -> Finds:
    """What has to be missing of the likeliest value until the most that was read is too little.

    The meter's error is taken as the share that it has of what was shown.
    """
    share = 1.0 - curve.low / (true.high / true.expected) / curve.expected
    words = f"smallest loss of {WORDS[quantity]} that {reading.name} would find"
    return Finds(quantity, share.named(f"finds({reading.name})", words, "%"))
