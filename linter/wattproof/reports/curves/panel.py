"""One panel of the picture: current or power of one array against voltage, some curves of it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

from wattproof.reports.curves.axes import Scale, ticks
from wattproof.reports.curves.colours import BAND, EDGE, GRID, INK
from wattproof.reports.curves.data import InputCurves, Spot, StateCurve
from wattproof.reports.curves.labels import SIZE, Box, Labels
from wattproof.reports.curves.marks import Style, mark, ring, stroke
from wattproof.reports.writing.svg_elements import Position, element, fitted, label, line, path
from wattproof.working import shown

_ACROSS: Final = 9  # ticks, about
_UP: Final = 6
_ON_FALL: Final = (0.5, 0.65, 0.35, 0.8, 0.2)
_ON_SHOULDER: Final = (0.96, 0.92, 0.85, 0.75, 0.6, 0.4, 0.2)
_AT_END: Final = (0.0, 0.04, 0.08)
"""Shares of the short-circuit current at which a curve may carry its name and its end's voltage."""

_ROOM: Final = 120.0
"""For the name of a curve beside it."""

_TOGETHER: Final = 14.0
"""Operating points nearer than this have one label."""

Styled: TypeAlias = tuple[StateCurve, Style]
Named: TypeAlias = tuple[str, tuple[Position, ...], str]
"""A label: its text, the points at any of which it may stand, and its colour."""


@dataclass(frozen=True, slots=True)
class Panel:
    """Where a panel stands, what it shows, and its scales, `up` for the quantity in `unit`.

    shown: the curves that are told with all their numbers. beside: those that are named only, to
    be compared with them.
    """

    curves: InputCurves
    shown: Sequence[Styled]
    beside: Sequence[Styled]
    box: Box
    across: Scale
    up: Scale
    quantity: str
    unit: str

    def current_drawn(self) -> Iterator[str]:
        """The panel of current: curves with their names and open-circuit voltages."""
        yield from self._drawn(lambda v, i: i, self._names())

    def power_drawn(self) -> Iterator[str]:
        """The panel of power: maxima and operating points with their numbers."""
        yield from self._drawn(lambda v, i: v * i, (*self._maxima(), *self._works()))

    def _drawn(
        self, height: Callable[[float, float], float], named: Iterable[Named]
    ) -> Iterator[str]:
        labels = Labels(self.box)
        yield from self._ground()
        for x in self._window_edges():
            labels.avoid([(x, self.box.top), (x, self.box.bottom)])
        for curve, style in (*self.beside, *self.shown):
            points = [self._at(v, height(v, i)) for v, i in curve.points]
            labels.avoid(points)
            thin = {"stroke_width": 1.0} if (curve, style) in self.beside else {}
            yield path(points, **{**stroke(style), **thin})
        for state, style in self.shown:
            for spot in state.maxima:
                at = self._at(spot.voltage, height(spot.voltage, spot.current))
                labels.taken.append(_room(at, 6.0))
                yield mark(*at, style)
            if state.work is not None:
                spot = state.work.spot
                at = self._at(spot.voltage, height(spot.voltage, spot.current))
                labels.taken.append(_room(at, 9.0))
                yield ring(*at, style.colour)
        yield from _labelled(labels, named)
        yield self._frame()

    def _at(self, voltage: float, height: float) -> Position:
        return self.across.at(voltage), self.up.at(height)

    def _ground(self) -> Iterator[str]:
        """The band of voltages that fit the controller, the grid and the numbers on it."""
        box = self.box
        yield from self._band()
        for quantity, text in ticks(self.across.top, _ACROSS):
            x = self.across.at(quantity)
            yield line((x, box.top), (x, box.bottom), stroke=GRID, stroke_width=0.7)
            yield label(text, x, box.bottom + 16, SIZE, "middle", fill=INK)
        for quantity, text in ticks(self.up.top, _UP):
            y = self.up.at(quantity)
            yield line((box.left, y), (box.right, y), stroke=GRID, stroke_width=0.7)
            yield label(text, box.left - 7, y + 4, SIZE, "end", fill=INK)
        yield label(f"{self.quantity} ({self.unit})", 12, box.top - 10, SIZE, fill=INK)

    def _band(self) -> Iterator[str]:
        low, high = self.curves.needed or 0.0, self.curves.taken
        if low >= min(high, self.across.top):
            return
        left, right = self.across.at(low), self.across.at(high)
        box = self.box
        size: dict[str, float] = {"width": right - left, "height": box.bottom - box.top}
        yield element("rect", x=left, y=box.top, fill=BAND, **size)
        for x in self._window_edges():
            yield line((x, box.top), (x, box.bottom), stroke=EDGE, stroke_width=1.2)

    def _window_edges(self) -> list[float]:
        """Where the lowest and the highest voltage for the controller stand, if on the picture."""
        ends = (self.curves.needed or 0.0, self.curves.taken)
        return [self.across.at(v) for v in ends if 0.0 < v < self.across.top]

    def _frame(self) -> str:
        box = self.box
        corner = (box.left, box.top), (box.left, box.bottom), (box.right, box.bottom)
        return path(corner, stroke=INK, stroke_width=1.2)

    def _names(self) -> Iterator[Named]:
        for curve, style in self.shown:
            falls = tuple(self._on_fall(curve, share) for share in _ON_FALL)
            yield _name(curve), falls, style.colour
        for curve, style in self.beside:
            falls = tuple(self._on_fall(curve, share) for share in _ON_SHOULDER)
            yield f"{_name(curve)}, no shade", falls, style.colour
        from_right = sorted(self.shown, key=lambda s: -s[0].open_voltage)
        for curve, style in from_right:
            high = ", too high" if curve.too_high else ""
            ends = tuple(self._on_fall(curve, share) for share in _AT_END)
            yield f"{shown(curve.open_voltage, 'V')}{high}", ends, style.colour

    def _on_fall(self, state: StateCurve, share: float) -> Position:
        """The first point of a curve at which the current is no more than a share."""
        wanted = share * state.short_current
        return next(self._at(v, i) for v, i in state.points if i <= wanted)

    def _maxima(self) -> Iterator[Named]:
        found = [(spot, s, style) for s, style in self.shown for spot in s.maxima]
        for spot, state, style in sorted(found, key=lambda f: -f[0].power):
            at = self._at(spot.voltage, spot.power)
            yield f"{_name(state)}: {_told(spot)}", (at,), style.colour

    def _works(self) -> Iterator[Named]:
        """Operating points that are no maxima; one label for those that lie together."""
        groups: list[list[tuple[Spot, str]]] = []
        for state, style in self.shown:
            if state.work is None or state.work.spot in state.maxima:
                continue
            spot = state.work.spot
            near = (g for g in groups if self._apart(g[0][0], spot) < _TOGETHER)
            group = next(near, None)
            if group is None:
                group = []
                groups.append(group)
            group.append((spot, style.colour))
        for group in groups:
            at = tuple(self._at(spot.voltage, spot.power) for spot, _ in group)
            colour = group[0][1] if len(group) == 1 else INK
            yield _told_together([spot for spot, _ in group]), at, colour

    def _apart(self, spot: Spot, other: Spot) -> float:
        at = self._at(spot.voltage, spot.power)
        return math.dist(at, self._at(other.voltage, other.power))


def _name(curve: StateCurve) -> str:
    return fitted(curve.name, _ROOM, SIZE)


def _told(spot: Spot) -> str:
    return f"{shown(spot.power, 'W')} at {shown(spot.voltage, 'V')}"


def _told_together(spots: list[Spot]) -> str:
    """Where the controller works, in one state or in several that lie together."""
    powers = [spot.power for spot in spots]
    if min(powers) <= 0.0:
        return "does not work"
    ends = dict.fromkeys(shown(power, "W") for power in (min(powers), max(powers)))
    return f"works: {' to '.join(ends)}"


def _room(at: Position, reach: float) -> Box:
    return Box(at[0] - reach, at[1] - reach, at[0] + reach, at[1] + reach)


def _labelled(labels: Labels, named: Iterable[Named]) -> Iterator[str]:
    halo: dict[str, str | float] = {
        "stroke": "#ffffff",
        "stroke_width": 3.0,
        "paint_order": "stroke",
    }
    for text, points, colour in named:
        placed = labels.place(text, points)
        if placed is None:
            continue
        if placed.leader is not None:
            yield line(*placed.leader, stroke=colour, stroke_width=0.8)
        x, y = placed.x, placed.baseline
        yield label(text, x, y, SIZE, placed.anchor, fill=colour, **halo)
