"""How long a way through conductors is: as the plan gives it, or between what it can be.

A stretch through switches, relays, shunts, joints and busbars is as long as its parts. Where the
place of a device in its wire is not told, the way to it has a least and a most: it is not known,
which is not the same as nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from wattproof.circuit import Conductor
from wattproof.study.limits import over
from wattproof.study.wiring.lengths import places_in
from wattproof.working import Value, declared, function, total

TINY = 1e-9
"""Metres that decimals lose in binary arithmetic."""


class Span(NamedTuple):
    """A length (m) between the least and the most that it can be; the same twice where known."""

    least: float
    most: float

    @property
    def is_known(self) -> bool:
        """True where the plan tells it."""
        return self.most - self.least <= TINY

    def is_over(self, limit: float) -> bool:
        """True where it is longer than a limit (m), wherever its devices sit."""
        return over(self.least, limit)

    def is_within(self, limit: float) -> bool:
        """True where it is not longer than a limit (m), wherever its devices sit."""
        return not over(self.most, limit + TINY)


def span_of(parts: Iterable[Conductor]) -> Span:
    """The length of a way through some conductors, those of one wire taken together."""
    least = most = 0.0
    for first, last in _runs(parts):
        least += max(last.ends[0] - first.begins[1], 0.0)
        most += last.ends[1] - first.begins[0]
    return Span(least, most)


def length_of(parts: Sequence[Conductor], symbol: str, words: str) -> Value:
    """The same with its working (m): what it is at least, where it is not known."""
    found = [_length(first, last) for first, last in _runs(parts)]
    whole = total(found) if found else Value(0.0, "m")
    return whole.named(symbol, words, "m")


def _runs(parts: Iterable[Conductor]) -> list[tuple[Conductor, Conductor]]:
    """The first and the last conductor of each run of a wire, in the order of the wire."""
    runs: dict[tuple[str, str], list[Conductor]] = {}
    for part in parts:
        runs.setdefault((part.name, part.pole), []).append(part)
    return [(min(own, key=_place), max(own, key=_place)) for own in runs.values()]


def _place(part: Conductor) -> tuple[tuple[float, float], tuple[float, float]]:
    return part.begins, part.ends


def _length(first: Conductor, last: Conductor) -> Value:
    wire = first.wire
    whole = declared(wire.length, f"L({wire.name})", f"length of {wire.name}")
    least = max(last.ends[0] - first.begins[1], 0.0)
    if first.begins[1] <= 0.0 and last.ends[0] >= wire.length.value:
        return whole
    placed = places_in(wire)
    if len(wire.inline) == 1 and len(placed) == 1:
        at_start, from_start = first.begins[1] <= 0.0, wire.inline[0].from_end == "from"
        return placed[0] if at_start == from_start else whole - placed[0]
    return function("stretch", least, whole, *placed)
