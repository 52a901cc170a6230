"""Current-voltage curves as tables with straight lines between their points.

A curve falls strictly: each point has a higher voltage and a lower current than the one before.
So it can be read both ways, joined in series (voltages add at one current) and in parallel
(currents add at one voltage). Beyond its ends it goes on straight.
"""

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from operator import neg, sub
from typing import Final, NamedTuple

THINNING = 2e-6  # share of the current scale by which a dropped point may have been off the line

BUNDLE = 64  # curves joined at once

_ROUNDING = 1e-13  # share by which two points must differ to be two


@dataclass(frozen=True)
class Curve:
    """At least two points: voltages (V) rising, currents (A) falling, both strictly.

    Current is positive where power is delivered. Two sequences of equal length, shape (n,), which
    nobody changes: the powers along it are remembered.
    """

    voltages: Sequence[float]
    currents: Sequence[float]

    @cached_property
    def powers(self) -> "list[Maximum]":
        """Points from no voltage to no current, and the top of each line between; or none."""
        return _powers(self)


class Maximum(NamedTuple):
    """A maximum of power along a curve: voltage (V), current (A), power (W)."""

    voltage: float
    current: float
    power: float


NOTHING: Final = Maximum(0.0, 0.0, 0.0)
"""The maximum of what delivers no power."""


def current_at(curve: Curve, voltage: float) -> float:
    """Return the current (A) at `voltage` (V), beyond the ends along the last straight line."""
    place = bisect_right(curve.voltages, voltage)
    return _on_line(curve.voltages, curve.currents, place, voltage)


def voltage_at(curve: Curve, current: float) -> float:
    """Return the voltage (V) at `current` (A), beyond the ends along the last straight line."""
    place = bisect_right(curve.currents, -current, key=neg)
    return _on_line(curve.currents, curve.voltages, place, current)


def in_series(parts: Sequence[tuple[Curve, int]]) -> Curve:
    """Return the curve of all `parts`, each a curve and how many of it, in series.

    At least one part with a count above zero, else ValueError.
    """
    curves = [
        Curve([count * voltage for voltage in curve.voltages], curve.currents)
        for curve, count in _counted(parts)
    ]
    return _in_bundles(curves, _bundle_in_series)


def in_parallel(parts: Sequence[tuple[Curve, int]]) -> Curve:
    """Return the curve of all `parts`, each a curve and how many of it, in parallel.

    At least one part with a count above zero, else ValueError.
    """
    curves = [
        Curve(curve.voltages, [count * current for current in curve.currents])
        for curve, count in _counted(parts)
    ]
    return _in_bundles(curves, _bundle_in_parallel)


def behind_resistance(curve: Curve, ohm: float) -> Curve:
    """Return `curve` with a resistance (ohm, not negative) in series: exact at its own points."""
    voltages = [v - ohm * i for v, i in zip(curve.voltages, curve.currents, strict=True)]
    return Curve(voltages, list(curve.currents))


def held_above(curve: Curve, voltage: float, slope: float, reach: float) -> Curve:
    """Return `curve` where something conducts instead of letting it fall below `voltage` (V).

    Below, it is a line of `slope` (ohm) that goes on for at least `reach` (A).
    """
    current = current_at(curve, voltage)
    kept = bisect_right(curve.voltages, voltage)
    return Curve(
        [voltage - slope * reach, voltage, *curve.voltages[kept:]],
        [current + reach, current, *curve.currents[kept:]],
    )


def thinned(curve: Curve, tolerance: float = THINNING) -> Curve:
    """Return `curve` without the points that lie on the line between their neighbours.

    A point is dropped where the line misses its current by less than `tolerance` times the sum
    of 1 A, the current at no voltage, and its own current. A point at open circuit stays, since
    in darkness the curve is so flat there that its voltage would be lost. Points that do not fall
    strictly, by rounding, go.

    Source: E. H. Bristol, the swinging door method, US patent 4669097 (1987, lapsed).
    """
    scale = 1.0 + abs(current_at(curve, 0.0))
    start_voltage = last_voltage = curve.voltages[0]
    start_current = last_current = curve.currents[0]
    voltages, currents = [start_voltage], [start_current]
    steepest, flattest = -math.inf, math.inf
    for voltage, current in zip(curve.voltages, curve.currents, strict=True):
        if voltage <= last_voltage or current >= last_current:
            continue
        run = voltage - start_voltage
        slope = (current - start_current) / run
        at_open_circuit = last_current == 0.0 and last_voltage > start_voltage
        if at_open_circuit or not steepest <= slope <= flattest:
            voltages.append(last_voltage)
            currents.append(last_current)
            start_voltage, start_current = last_voltage, last_current
            run = voltage - start_voltage
            slope = (current - start_current) / run
            steepest, flattest = -math.inf, math.inf
        width = tolerance * (scale + abs(current)) / run
        if slope - width > steepest:
            steepest = slope - width
        if slope + width < flattest:
            flattest = slope + width
        last_voltage, last_current = voltage, current
    voltages.append(last_voltage)
    currents.append(last_current)
    return Curve(voltages, currents)


def best_between(curve: Curve, low: float, high: float) -> Maximum:
    """Return the point of greatest power with a voltage from `low` to `high` (V)."""
    if high < low:
        raise ValueError("the highest voltage is below the lowest")
    return max(_along(curve, low, high), key=lambda point: point.power)


def maxima(curve: Curve, prominence: float = 1e-4) -> list[Maximum]:
    """Return the maxima of power at positive voltage and current, from low voltage to high.

    A maximum counts where the valley to any higher neighbour is deeper than `prominence` times
    the greatest power. The list is empty where the curve delivers no power.
    """
    points = curve.powers
    depth = prominence * max((point.power for point in points), default=0.0)
    return _prominent(points, depth) if depth > 0.0 else []


def _powers(curve: Curve) -> list[Maximum]:
    """Return what `Curve.powers` remembers; nothing where no power is delivered."""
    last = voltage_at(curve, 0.0)
    if last <= 0.0:
        return []
    return _along(curve, 0.0, last)


def _along(curve: Curve, low: float, high: float) -> list[Maximum]:
    """Return the points from `low` to `high` (V), and the top of each line that has one within."""
    voltage, current = low, current_at(curve, low)
    points = [Maximum(voltage, current, voltage * current)]
    inside = slice(bisect_right(curve.voltages, low), bisect_left(curve.voltages, high))
    table = zip(curve.voltages[inside], curve.currents[inside], strict=True)
    for right, its_current in (*table, (high, current_at(curve, high))):
        if its_current < current:
            slope = (its_current - current) / (right - voltage)
            top = 0.5 * (voltage - current / slope)
            if voltage < top < right:
                current += slope * (top - voltage)
                points.append(Maximum(top, current, top * current))
        voltage, current = right, its_current
        points.append(Maximum(voltage, current, voltage * current))
    return points


def _prominent(points: list[Maximum], depth: float) -> list[Maximum]:
    """Return the peaks of `points` that rise more than `depth` (W) above the valleys beside them.

    The walk climbs until the power has fallen by `depth` from the highest point met, keeps that
    point, then descends until it has risen by `depth` from the lowest.
    """
    found: list[Maximum] = []
    climbing, extreme = True, points[0]
    for point in points:
        if climbing:
            if point.power > extreme.power:
                extreme = point
            elif point.power < extreme.power - depth:
                found.append(extreme)
                climbing, extreme = False, point
        elif point.power < extreme.power:
            extreme = point
        elif point.power > extreme.power + depth:
            climbing, extreme = True, point
    return found


def _counted(parts: Sequence[tuple[Curve, int]]) -> list[tuple[Curve, int]]:
    """Return `parts`, or raise ValueError where there is nothing to join."""
    if not parts or any(count < 1 for _, count in parts):
        raise ValueError("joining needs at least one curve, each at least once")
    return list(parts)


def _in_bundles(curves: list[Curve], join: Callable[[list[Curve]], Curve]) -> Curve:
    """Return what `join` makes of all, a bundle at a time, so that memory stays small."""
    while len(curves) > 1:
        bundles = [curves[k : k + BUNDLE] for k in range(0, len(curves), BUNDLE)]
        curves = [join(bundle) if len(bundle) > 1 else bundle[0] for bundle in bundles]
    return curves[0]


def _bundle_in_series(curves: list[Curve]) -> Curve:
    """Return the curve of some in series."""
    lines = [(curve.currents[::-1], curve.voltages[::-1]) for curve in curves]
    currents, voltages = _sum_of_lines(lines)
    return thinned(Curve(voltages[::-1], currents[::-1]))


def _bundle_in_parallel(curves: list[Curve]) -> Curve:
    """Return the curve of some in parallel."""
    return thinned(Curve(*_sum_of_lines([(curve.voltages, curve.currents) for curve in curves])))


def _sum_of_lines(
    lines: Sequence[tuple[Sequence[float], Sequence[float]]],
) -> tuple[list[float], list[float]]:
    """Return x and y of the sum of falling functions, each given as points with rising x.

    The sum bends where one of them does. It is walked along its bends from x = 0 outwards: far
    from there lines are up to a billion times as steep, and their rounding must stay there.
    """
    bends: list[tuple[float, float]] = []
    at_zero = slope_at_zero = 0.0
    for x, y in lines:
        slopes = [
            (right_y - left_y) / (right_x - left_x)
            for left_x, right_x, left_y, right_y in zip(x, x[1:], y, y[1:], strict=False)
        ]
        bends += zip(x[1:], map(sub, slopes[1:], slopes), strict=False)
        place = min(max(bisect_right(x, 0.0), 1), len(slopes))
        slope_at_zero += slopes[place - 1]
        at_zero += _on_line(x, y, place, 0.0)
    bends.sort()
    middle = bisect_right(bends, (0.0, math.inf))
    first, last = min(x[0] for x, _ in lines), max(x[-1] for x, _ in lines)
    below = [(-x, bend) for x, bend in reversed(bends[:middle])]
    left_x, left_y = _walked(below, -first, at_zero, -slope_at_zero)
    right_x, right_y = _walked(bends[middle:], last, at_zero, slope_at_zero)
    left_x = [-x for x in reversed(left_x)]
    return [*left_x, 0.0, *right_x], [*reversed(left_y), at_zero, *right_y]


def _walked(
    bends: list[tuple[float, float]], end: float, y: float, slope: float
) -> tuple[list[float], list[float]]:
    """Return x and y at some bends on the way from 0 to an end, and at the end if it is beyond 0.

    bends: x and by how much the slope changes there. y, slope: at 0, towards the first.
    """
    along: list[float] = []
    found: list[float] = []
    here = 0.0
    for x, bend in (*bends, (end, math.nan)):  # beyond the end nothing is walked
        if x - here > _ROUNDING * x:
            y += slope * (x - here)
            here = x
            along.append(x)
            found.append(y)
        slope += bend
    return along, found


def _on_line(x: Sequence[float], y: Sequence[float], place: int, at: float) -> float:
    """Return y at `at` on the line through the points before and at index `place`.

    At the ends `place` is moved to the outermost line. From whichever point is nearer, so that a
    point of the table is met exactly.
    """
    right = min(max(place, 1), len(x) - 1)
    left = right - 1
    slope = (y[right] - y[left]) / (x[right] - x[left])
    if abs(at - x[left]) <= abs(x[right] - at):
        return y[left] + slope * (at - x[left])
    return y[right] + slope * (at - x[right])
