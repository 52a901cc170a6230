"""Lines in the channel between two rows of a one-line diagram: which turns on which level.

Channel routing in the way of Hashimoto and Stevens, "Wire routing by optimizing channel assignment
within large apertures" (Design Automation Workshop, 1971): where a line comes down onto the place
from which another goes on, the first turns above the other. Where that leads in a circle, one of
the lines turns twice.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

_NEAR: Final = 7.0  # lines that come nearer are taken to lie on each other
_SPLITS: Final = 3  # times that a line is split at most, on average
Steps: TypeAlias = list[tuple[int, float]]
"""The levels on which a line turns, each with the place across that it leads to."""


@dataclass(frozen=True, slots=True)
class Net:
    """A line from where it comes down to where it goes on, down or up again to the row above."""

    top: float
    bottom: float
    bottom_is_above: bool = False

    @property
    def span(self) -> tuple[float, float]:
        """Its ends across, from the left."""
        return min(self.top, self.bottom), max(self.top, self.bottom)

    @property
    def from_above(self) -> tuple[float, ...]:
        """The places at which it has a line upwards."""
        return (self.top, self.bottom) if self.bottom_is_above else (self.top,)

    @property
    def from_below(self) -> tuple[float, ...]:
        """The places at which it has a line downwards."""
        return () if self.bottom_is_above else (self.bottom,)


def routed(nets: Sequence[Net], still: Sequence[float]) -> tuple[list[Steps], int]:
    """The steps of each line, and how many levels there are.

    still: places of the lines that go straight through.
    """
    pieces: list[Net] = list(nets)
    parts: list[list[int]] = [[n] for n in range(len(nets))]
    after: set[tuple[int, int]] = set()
    for _ in range(_SPLITS * len(nets) + 1):
        over = {(a, b) for a, b in _over(pieces) if (b, a) not in after} | after
        order, ring = _sorted(pieces, over)
        if not ring:
            break
        _split(ring[0], pieces, parts, after, still)
    else:
        order, _ = _sorted(pieces, over := after)
    levels = _levels(pieces, order, over)
    steps = [[(levels[n], pieces[n].bottom) for n in numbers] for numbers in parts]
    return steps, max(levels.values(), default=-1) + 1


def _over(pieces: Sequence[Net]) -> set[tuple[int, int]]:
    """Pairs of which the first must turn above the second."""
    return {
        (a, b)
        for a, upper in enumerate(pieces)
        for b, lower in enumerate(pieces)
        if a != b and any(abs(x - y) < _NEAR for x in upper.from_above for y in lower.from_below)
    }


def _split(
    n: int,
    pieces: list[Net],
    parts: list[list[int]],
    after: set[tuple[int, int]],
    still: Sequence[float],
) -> None:
    """Let a line turn twice, with a way down between its ends where no other is."""
    whole = pieces[n]
    taken = [x for p in pieces for x in (p.top, p.bottom)] + list(still)
    middle = _free(whole.span, taken)
    pieces[n] = Net(whole.top, middle)
    pieces.append(Net(middle, whole.bottom))
    number = len(pieces) - 1
    after |= {(n, number)}
    for numbers in parts:
        if n in numbers:
            numbers.insert(numbers.index(n) + 1, number)


def _free(span: tuple[float, float], taken: Sequence[float]) -> float:
    """A place near the middle of a span that keeps away from those taken, as far as it can."""
    low, high = span
    tried = [low + (high - low) * k / 40 for k in range(1, 40)]
    middle = (low + high) / 2
    return max(
        tried, key=lambda x: (min(_NEAR + 1, *(abs(x - t) for t in taken)), -abs(x - middle))
    )


def _sorted(pieces: Sequence[Net], over: set[tuple[int, int]]) -> tuple[list[int], list[int]]:
    """The lines from above, those first that then cross fewer; and what is left in circles."""
    left = list(range(len(pieces)))
    above: dict[int, set[int]] = {n: set() for n in left}
    for a, b in over:
        above[b].add(a)
    cost = {(a, b): _crossed(pieces[a], pieces[b]) for a in left for b in left if a != b}
    worse = {n: sum(cost[n, o] - cost[o, n] for o in left if o != n) for n in left}
    order: list[int] = []
    while left:
        ready = [n for n in left if not above[n] & set(left)]
        if not ready:
            return order, _ring(left, above)
        first = min(ready, key=lambda n: (worse[n], n))
        order.append(first)
        left.remove(first)
        for other in left:
            worse[other] -= cost[other, first] - cost[first, other]
    return order, []


def _ring(left: list[int], above: dict[int, set[int]]) -> list[int]:
    """A circle among lines of which each must turn below another."""
    way = [left[0]]
    while True:
        other = min(above[way[-1]] & set(left))
        if other in way:
            return way[way.index(other) :]
        way.append(other)


def _crossed(upper: Net, lower: Net) -> int:
    """How often two lines cross if the first turns above the other."""
    low, high = upper.span
    count = sum(low < x < high for x in lower.from_above)
    low, high = lower.span
    return count + sum(low < x < high for x in upper.from_below)


def _levels(
    pieces: Sequence[Net], order: Sequence[int], over: set[tuple[int, int]]
) -> dict[int, int]:
    levels: dict[int, int] = {}
    for n in order:
        low, high = pieces[n].span
        level = 0
        for other, taken in levels.items():
            left, right = pieces[other].span
            if (other, n) in over or (left < high + _NEAR and low < right + _NEAR):
                level = max(level, taken + 1)
        levels[n] = level
    return levels
