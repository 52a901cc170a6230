"""Finding room for labels: near what they name, on no other label, and on no curve if possible."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Final

from wattproof.reports.writing.svg_elements import Anchor, Position, text_width

SIZE: Final = 12.0
_ABOVE: Final = 0.95  # of the size, from the baseline up
_BELOW: Final = 0.3
_GAP: Final = 3.0  # between labels
_NEAR: Final = 22.0  # from here on a label is joined to its point by a line
_DISTANCES: Final = (7.0, 12.0, 18.0, 26.0, 36.0, 48.0, 62.0, 80.0, 100.0, 125.0, 155.0, 190.0)
_START: Final = 10.0  # from a point to where its line starts
_DIRECTIONS: Final = 16
_STEP: Final = 5.0  # of the grid on which lines are felt
_LINE: Final = 12.0  # cost of a line from a point to its label
_LINE_EACH: Final = 1.5  # and of each unit of its length


@dataclass(frozen=True, slots=True)
class Box:
    """A room on the picture; y grows downwards."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box, gap: float = 0.0) -> bool:
        """Whether two rooms overlap, or come nearer than a gap."""
        return (
            self.left < other.right + gap
            and other.left < self.right + gap
            and self.top < other.bottom + gap
            and other.top < self.bottom + gap
        )

    def holds(self, other: Box) -> bool:
        """Whether another room lies wholly in this one."""
        return (
            self.left <= other.left
            and self.top <= other.top
            and other.right <= self.right
            and other.bottom <= self.bottom
        )

    def touches(self, point: Position, gap: float = 0.0) -> bool:
        """Whether a point lies in it, or nearer than a gap."""
        x, y = point
        return self.left - gap < x < self.right + gap and self.top - gap < y < self.bottom + gap


@dataclass(frozen=True, slots=True)
class Placed:
    """A label and the point that it names, with its room.

    leader: the line from the point; None where the label stands beside it.
    """

    at: Position
    x: float
    baseline: float
    anchor: Anchor
    box: Box
    leader: tuple[Position, Position] | None


@dataclass(slots=True)
class Labels:
    """The labels of one panel.

    room: where they may stand. taken: rooms that they must leave free. crossed: the squares of a
    grid through which lines pass, which they avoid.
    """

    room: Box
    taken: list[Box] = field(default_factory=list)
    crossed: set[tuple[int, int]] = field(default_factory=set)

    def avoid(self, points: Iterable[Position]) -> None:
        """Keep labels off a line where possible."""
        self.crossed.update(_square(point) for point in _felt(list(points)))

    def place(self, text: str, points: Iterable[Position]) -> Placed | None:
        """A label at the best of the places near some points; None where there is no room.

        Of equally good ones the first. Farther ones are not looked at where none can be better.
        """
        best: tuple[float, Placed] | None = None
        for at in points:
            for distance in _DISTANCES:
                if best is not None and _least_cost(distance) >= best[0]:
                    break
                for placed in _around(text, at, distance):
                    cost = self._cost(placed)
                    if cost is not None and (best is None or cost < best[0]):
                        best = cost, placed
        if best is None:
            return None
        placed = best[1]
        self.taken.append(placed.box)
        if placed.leader is not None:
            self.avoid(placed.leader)
        return placed

    def _cost(self, placed: Placed) -> float | None:
        """How bad a place is; None where it cannot be taken."""
        box = placed.box
        if not self.room.holds(box) or any(box.meets(other, _GAP) for other in self.taken):
            return None
        crossed = sum(square in self.crossed for square in _squares(box))
        cost = 120.0 * bool(crossed) + 10.0 * crossed
        if placed.leader is not None:
            way = list(_felt(list(placed.leader)))
            others = [other for other in self.taken if not other.touches(placed.at)]
            if any(other.touches(point, 1.0) for other in others for point in way):
                return None
            cost += _LINE + _LINE_EACH * math.dist(*placed.leader)
            cost += 15.0 * len({_square(p) for p in way[2:]} & self.crossed)
        return cost


def _felt(points: list[Position]) -> Iterator[Position]:
    """Points close together along a line."""
    for (x, y), (end_x, end_y) in pairwise(points):
        parts = max(1, math.ceil(2 * math.hypot(end_x - x, end_y - y) / _STEP))
        for k in range(parts):
            yield x + (end_x - x) * k / parts, y + (end_y - y) * k / parts
    yield points[-1]


def _square(point: Position) -> tuple[int, int]:
    return int(point[0] // _STEP), int(point[1] // _STEP)


def _squares(box: Box) -> Iterator[tuple[int, int]]:
    for x in range(int(box.left // _STEP), int(box.right // _STEP) + 1):
        for y in range(int(box.top // _STEP), int(box.bottom // _STEP) + 1):
            yield x, y


def box_of(text: str, x: float, baseline: float, anchor: Anchor, size: float = SIZE) -> Box:
    """The room of a text."""
    across = text_width(text, size)
    left = x - {"start": 0.0, "middle": across / 2, "end": across}[anchor]
    return Box(left, baseline - _ABOVE * size, left + across, baseline + _BELOW * size)


def _around(text: str, at: Position, distance: float) -> Iterator[Placed]:
    """Places around a point, those to the right before those to the left."""
    for turn in range(_DIRECTIONS):
        angle = 2 * math.pi * turn / _DIRECTIONS
        yield _beside(text, at, distance, math.cos(angle), -math.sin(angle))


def _least_cost(distance: float) -> float:
    """What a label at a distance from its point costs at least, a little less for rounding."""
    if distance <= _NEAR:
        return 0.0
    return _LINE + _LINE_EACH * (distance - _START) - 1e-6


def _beside(text: str, at: Position, distance: float, across: float, down: float) -> Placed:
    """A label whose nearest edge is at a distance from a point, in a direction."""
    x, y = at[0] + distance * across, at[1] + distance * down
    anchor: Anchor = "start" if across > 0.3 else "end" if across < -0.3 else "middle"
    baseline = y + (_ABOVE - _BELOW) / 2 * SIZE
    if anchor == "middle":
        baseline = y + (_ABOVE if down > 0 else -_BELOW) * SIZE
    leader = None
    if distance > _NEAR:
        leader = ((at[0] + _START * across, at[1] + _START * down), (x, y))
        x += {"start": _GAP, "middle": 0.0, "end": -_GAP}[anchor]
    return Placed(at, x, baseline, anchor, box_of(text, x, baseline, anchor), leader)
