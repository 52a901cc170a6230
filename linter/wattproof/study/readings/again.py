"""Readings of one place at several times: what it gave before is its own curve.

Each value is taken as a share of what the curve gives in its sun and heat. From one time to the
next labels stay as wrong as they were, and so does a part of the meter's error; what changes is the
rest, the spot that the thermometer touches, and a clamp's drift. So a fall is found that is half of
what the label alone would let pass, and the more often it was read before, the smaller.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Final, Literal, TypeAlias

from wattproof.record import record
from wattproof.study.assumptions.readings import REPEATED, SURELY
from wattproof.study.limits import exceeds
from wattproof.study.readings.at_arrays import ArrayReading
from wattproof.study.readings.conditions import Band, expected, high, low
from wattproof.study.readings.finds import WORDS
from wattproof.working import Value, function, total

Repeated: TypeAlias = Literal["voc", "isc", "power"]
QUANTITIES: Final[tuple[Repeated, ...]] = ("voc", "isc", "power")


@record
class Fall:
    """What a place gave less than before.

    before: the earlier readings, in order. share: of what the curve gives, now and in the mean of
    those before. fell: by how much, as a share of before. found: the smallest fall that would be
    found.
    """

    quantity: Repeated
    reading: ArrayReading
    before: tuple[ArrayReading, ...]
    share: Value
    share_before: Value
    fell: Value
    found: Value

    @property
    def words(self) -> str:
        """The quantity in words."""
        return WORDS[self.quantity]

    @property
    def is_found(self) -> bool:
        """True where it fell by more than meters and weather explain."""
        return exceeds(self.fell, self.found)


def falls(readings: Iterable[ArrayReading]) -> Iterator[Fall]:
    """For every place and quantity that was read more than once: the worst fall.

    By their dates and times where all tell them, else in the plan's order.
    """
    listed = list(readings)
    for quantity in QUANTITIES:
        places: dict[object, list[ArrayReading]] = {}
        for reading in listed:
            if _share(reading, quantity) is not None:
                places.setdefault((reading.where, reading.taken.array.name), []).append(reading)
        for group in places.values():
            found = [_fall(quantity, *each) for each in _with_those_before(_ordered(group))]
            if found:
                yield max(found, key=lambda fall: fall.fell.number - fall.found.number)


def _ordered(readings: list[ArrayReading]) -> list[ArrayReading]:
    moments = [r.taken.reading.date for r in readings]
    if any(moment is None for moment in moments):
        return readings

    def moment(reading: ArrayReading) -> tuple[str, float]:
        written = reading.taken.reading
        return str(written.date), written.time.hours if written.time is not None else 0.0

    return sorted(readings, key=moment)


def _with_those_before(
    readings: list[ArrayReading],
) -> Iterator[tuple[ArrayReading, tuple[ArrayReading, ...]]]:
    return ((each, tuple(readings[:number])) for number, each in enumerate(readings) if number)


def _fall(quantity: Repeated, reading: ArrayReading, before: tuple[ArrayReading, ...]) -> Fall:
    now = _share(reading, quantity)
    earlier = [share for each in before if (share := _share(each, quantity)) is not None]
    assert now is not None
    mean = total(earlier) / len(earlier)
    mean = mean.named("before", f"{WORDS[quantity]} of {reading.where} over its curve, before", "%")
    fell = (1.0 - now / mean).named("fell", f"{WORDS[quantity]} of {reading.where} fell by", "%")
    apart = [_changes(each, quantity) for each in before]
    spread = math.hypot(_changes(reading, quantity), math.hypot(*apart) / len(apart))
    words = f"smallest fall of {WORDS[quantity]} that {reading.name} would find"
    found = function("spread of repeated readings", SURELY.value * spread, now, mean)
    return Fall(quantity, reading, before, now, mean, fell, found.named("found", words, "%"))


def _share(reading: ArrayReading, quantity: Repeated) -> Value | None:
    """What was read, as a share of what the curve gives; None where sun or heat is not known."""
    taken, curve = reading.taken, reading.expected
    if not curve.decidable or not taken.conditions.temperature_known:
        return None
    shares: dict[Repeated, Value] = {}
    if taken.true_voc is not None and curve.sun_is_told:
        shares["voc"] = taken.true_voc.expected / curve.voc.expected
    if taken.true_isc is not None and taken.conditions.sun_known:
        shares["isc"] = taken.true_isc.expected / curve.isc.expected
    power = reading.stands.power
    ready = taken.reading.stage == "bulk" and reading.stands.power_is_decidable
    if power is not None and ready and not power.held and power.given.number > 0.0:
        shares["power"] = power.shown / power.given
    share = shares.get(quantity)
    words = f"{WORDS[quantity]} of {reading.where} over its curve, by {reading.name}"
    return share.named(f"k({reading.name})", words, "%") if share is not None else None


def _changes(reading: ArrayReading, quantity: Repeated) -> float:
    """The share by which a reading may differ from the next of the same thing."""
    taken, curve = reading.taken, reading.expected
    corners = ((low, expected), (high, expected), (expected, low), (expected, high))
    if quantity == "power":
        power = reading.stands.power
        working = [curve.working(sun=sun, heat=heat) for sun, heat in corners]
        values = [each.given.number for each in working if each is not None]
        assert power is not None
        likely, read, still = power.given.number, power.read, 0.0
    else:
        of = curve.voc_in if quantity == "voc" else curve.isc_in
        values = [of(sun, heat).number for sun, heat in corners]
        likely = (curve.voc if quantity == "voc" else curve.isc).expected.number
        true = taken.true_voc if quantity == "voc" else taken.true_isc
        assert true is not None
        read = true
        # A clamp's drift is another each time, and no part of it stays.
        still = 0.0 if quantity == "voc" else taken.conditions.zero_drift.number
    if len(values) < len(corners) or not likely > 0.0:
        return 1.0
    by_sun, by_heat = (abs(values[i + 1] - values[i]) / 2.0 / likely for i in (0, 2))
    by_meter = _half(read, still)
    drift = still / abs(read.expected.number)
    return math.hypot(REPEATED.value * by_sun, by_heat, REPEATED.value * by_meter, drift)


def _half(read: Band, still: float) -> float:
    """Half of the band of what was read, as a share, without what a clamp drifts."""
    half = (read.high.number - read.low.number) / 2.0 - still
    return max(half, 0.0) / abs(read.expected.number)
