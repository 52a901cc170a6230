"""Currents of all strings of a joint or a solar input, read together with what flows there.

What flows behind a joint is what flows into it: no sun and no heat is needed to tell that one of
them was not what was read.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wattproof.kept import kept
from wattproof.record import record
from wattproof.study.limits import LEAST_SPREAD, exceeds
from wattproof.study.readings.at_arrays import ArrayReading
from wattproof.study.readings.conditions import Band
from wattproof.working import Value, total


@record
class Branches:
    """A current in operation where strings have met, and those of all of them."""

    whole: ArrayReading
    parts: tuple[ArrayReading, ...]

    @kept
    def sum_of(self) -> Band:
        """What the strings bring together (A)."""
        bands = [band for p in self.parts if (band := p.taken.true_current) is not None]
        words = f"current of all strings of {self.whole.where}"
        low, high = total([b.low for b in bands]), total([b.high for b in bands])
        return Band(low, total([b.expected for b in bands]), high).named("Istrings", words, "A")

    @property
    def flows(self) -> Value:
        """What was read where they have met (A)."""
        current = self.whole.taken.current
        assert current is not None
        return current

    @property
    def disagree(self) -> bool:
        """True where they differ by more than meters and a minute of other sun explain."""
        whole = self.whole.taken.true_current
        if whole is None:
            return False
        less = exceeds((1.0 - LEAST_SPREAD) * self.sum_of.low, whole.high)
        return less or exceeds(whole.low, (1.0 + LEAST_SPREAD) * self.sum_of.high)


def branches_read(readings: Iterable[ArrayReading]) -> Iterator[Branches]:
    """Every place where strings side by side have met, that was read together with all of them."""
    listed = [r for r in readings if r.taken.true_current is not None]
    for whole in listed:
        taken = whole.taken
        if taken.at_string or taken.in_parallel != len(taken.strings):
            continue
        parts = {other.taken.part: other for other in listed if _is_part(other, whole)}
        strings = [string for part in parts.values() for string in part.taken.strings]
        if len(parts) > 1 and len(strings) == len(taken.strings):
            yield Branches(whole, tuple(parts.values()))


def add_up_with_signs(reversed_one: ArrayReading, readings: Iterable[ArrayReading]) -> bool:
    """True where strings, one of which was read backwards, make what flows where they have met.

    With the signs that were read, and by more than meters explain not without them.
    """
    listed = [r for r in readings if r.taken.current is not None]
    for whole in listed:
        count = len(whole.taken.strings)
        if whole.taken.at_string or whole.taken.in_parallel != count:
            continue
        parts = {other.taken.part: other for other in listed if _is_part(other, whole)}
        if reversed_one not in parts.values():
            continue
        if sum(len(part.taken.strings) for part in parts.values()) != count:
            continue
        flows, off = _of_amps(whole)
        shown = [_of_amps(part) for part in parts.values()]
        off += sum(each for _, each in shown)
        signed, turned = sum(amps for amps, _ in shown), sum(abs(amps) for amps, _ in shown)
        if abs(signed - flows) <= off < abs(turned - flows):
            return True
    return False


def _of_amps(reading: ArrayReading) -> tuple[float, float]:
    """A current as read, and how far it may be off (A)."""
    shown, written = reading.taken.current, reading.taken.reading.current
    assert shown is not None
    assert written is not None
    band = reading.taken.conditions.amps(shown, written)
    return shown.number, abs(band.high.number - band.low.number) / 2.0


def _is_part(other: ArrayReading, whole: ArrayReading) -> bool:
    """True of a string of what was read, read with it under the same words."""
    words = whole.taken.reading.taken
    return (
        words is not None
        and other.taken.reading.taken == words
        and other.taken.at_string
        and other.taken.array is whole.taken.array
        and set(other.taken.strings) <= set(whole.taken.strings)
    )
