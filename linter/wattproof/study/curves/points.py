"""A curve as a few hundred plain points, for drawing and for other programs."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import accumulate, pairwise
from typing import Final, TypeAlias

from wattproof.physics.curve import Curve, Maximum, current_at, voltage_at

Points: TypeAlias = tuple[tuple[float, float], ...]
"""Voltage (V) and current (A), voltage rising and current falling."""

COUNT: Final = 200
_SAME: Final = 1e-9  # share of the open-circuit voltage by which two points must differ


def sampled(curve: Curve, maxima: Iterable[Maximum] = (), count: int = COUNT) -> Points:
    """Points from short circuit to open circuit, evenly along the drawn line.

    So bends have as many as they need, whatever the scales. The maxima of power are among them,
    beside the `count` others. Empty where the curve delivers no power.
    """
    last, first = voltage_at(curve, 0.0), current_at(curve, 0.0)
    if last <= 0.0 or first <= 0.0:
        return ()
    inner = zip(curve.voltages, curve.currents, strict=True)
    line = [(0.0, first), *((v, i) for v, i in inner if 0.0 < v < last and i > 0.0), (last, 0.0)]
    tops = [(top.voltage, top.current) for top in maxima]
    others = [p for p in _evenly(line, count) if all(abs(p[0] - v) > _SAME * last for v, _ in tops)]
    return _falling(sorted([*others, *tops]))


def _evenly(line: list[tuple[float, float]], count: int) -> list[tuple[float, float]]:
    """Points at equal lengths along a line, both ends exactly; each axis counts as 1 long."""
    width, height = line[-1][0], line[0][1]
    steps = [math.hypot((c - a) / width, (b - d) / height) for (a, b), (c, d) in pairwise(line)]
    ways = [0.0, *accumulate(steps)]
    found, at = [line[0]], 0
    for number in range(1, count - 1):
        wanted = ways[-1] * number / (count - 1)
        while ways[at + 1] < wanted:
            at += 1
        share = (wanted - ways[at]) / (ways[at + 1] - ways[at])
        (a, b), (c, d) = line[at], line[at + 1]
        found.append((a + share * (c - a), b + share * (d - b)))
    return [*found, line[-1]]


def _falling(points: list[tuple[float, float]]) -> Points:
    """The points without those that rounding left level with the one before."""
    kept = points[:1]
    for point in points[1:]:
        if point[1] < kept[-1][1]:
            kept.append(point)
    return tuple(kept)
