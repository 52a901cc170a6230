"""Open voltages of two strings that fit when they change places: their readings were mixed up."""

from __future__ import annotations

from collections.abc import Iterable

from wattproof.study.readings.at_arrays import ArrayReading
from wattproof.study.readings.conditions import overlap


def exchanged_with(reading: ArrayReading, others: Iterable[ArrayReading]) -> ArrayReading | None:
    """The reading of another string whose place this one's open voltage belongs to; else None.

    Both are out of their own band, and each lies in that of the other.
    """
    if not _is_out(reading):
        return None
    for other in others:
        apart = other.taken.one_string is not reading.taken.one_string
        if apart and _is_out(other) and _fits(reading, other) and _fits(other, reading):
            return other
    return None


def _is_out(reading: ArrayReading) -> bool:
    out = reading.stands.voc_is_low or reading.stands.voc_is_high
    return out and reading.taken.one_string is not None


def _fits(reading: ArrayReading, at: ArrayReading) -> bool:
    """True where the open voltage of one may be that at the place of another."""
    true = reading.taken.true_voc
    return true is not None and overlap(true, at.expected.voc)
