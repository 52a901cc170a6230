"""Where a controller makes an array work: a maximum-power tracker or a pulse-width controller.

Pure functions over the array's curve. A tracker follows the greatest power that its limits allow;
a pulse-width controller ties the array to its battery.

Source: T. Esram, P. L. Chapman, "Comparison of photovoltaic array maximum power point tracking
techniques", IEEE Transactions on Energy Conversion 22 (2007) 439-449,
doi 10.1109/TEC.2006.874230, for what trackers do; the rest is the energy balance.
"""

import math
from dataclasses import dataclass
from typing import Literal, NamedTuple

from wattproof.physics.comparing import over
from wattproof.physics.curve import (
    NOTHING,
    Curve,
    Maximum,
    best_between,
    current_at,
    maxima,
    voltage_at,
)
from wattproof.physics.roots import bracketed_root

Limit = Literal["none", "window", "input current", "power", "output current", "no operation"]


@dataclass(frozen=True)
class Tracker:
    """One tracker input.

    lowest_voltage, highest_voltage (V): the window in which it tracks. power_limit (W, at its
    input), input_current_limit (A), output_current_limit (A, into the battery): infinite where
    there is none. efficiency: output power over input power, above 0 to 1.
    """

    lowest_voltage: float
    highest_voltage: float
    power_limit: float = math.inf
    input_current_limit: float = math.inf
    output_current_limit: float = math.inf
    efficiency: float = 1.0

    def __post_init__(self) -> None:
        if not 0.0 <= self.lowest_voltage <= self.highest_voltage:
            raise ValueError("the window must run from a voltage not negative to one not lower")
        limits = (self.power_limit, self.input_current_limit, self.output_current_limit)
        if not all(limit > 0.0 for limit in limits):
            raise ValueError("limits must be above zero")
        if not 0.0 < self.efficiency <= 1.0:
            raise ValueError("the efficiency must be above zero and at most one")


class TrackedPoint(NamedTuple):
    """Where the tracker makes the array work.

    voltage (V), current (A), power (W) at its input; output_current (A) into the battery, None
    where its voltage is not told;
    available_power (W), the array's global maximum without any limit; limited_by names what kept
    the tracker from it; local_maxima lists all maxima of the array, from low voltage to high, a
    tracker without a global search may stay at any of them.
    """

    voltage: float
    current: float
    power: float
    output_current: float | None
    available_power: float
    limited_by: Limit
    local_maxima: tuple[Maximum, ...]

    @property
    def clipped(self) -> bool:
        """Whether a power or current limit keeps the array below what the window allows."""
        return self.limited_by in ("power", "output current", "input current")


class TiedPoint(NamedTuple):
    """Where a pulse-width controller holds the array.

    voltage (V) and current (A) of the array, power (W) from the array, battery_power (W) of it
    that reaches the battery, available_power (W) that the array's maximum would give.
    """

    voltage: float
    current: float
    power: float
    battery_power: float
    available_power: float


def tracked_point(curve: Curve, tracker: Tracker, battery_voltage: float | None) -> TrackedPoint:
    """Return the operating point of an ideal tracker on `curve` with `battery_voltage` (V).

    The global maximum within the window. Beyond a limit of power or of output current it moves
    towards open circuit until the limit is met, or, where the window ends before that, towards
    lower voltage. Where the array's voltage does not reach the window, or where inside the window
    it would have to exceed a limit, nothing flows: "no operation". Without a battery's voltage only
    the input is looked at, and no output current is told. ValueError where `battery_voltage` is not
    above zero.
    """
    if battery_voltage is not None and not 0.0 < battery_voltage < math.inf:
        raise ValueError("the battery voltage must be finite and above zero")
    peaks = tuple(maxima(curve))
    free = max(peaks, key=lambda point: point.power, default=NOTHING)
    open_circuit = max(voltage_at(curve, 0.0), 0.0)
    low, high = tracker.lowest_voltage, min(tracker.highest_voltage, open_circuit)
    if not low < open_circuit:
        return _point(Maximum(open_circuit, 0.0, 0.0), tracker, battery_voltage, peaks, free)
    best = in_window = _best(curve, free, low, high)
    if math.isfinite(tracker.input_current_limit):
        low = max(low, voltage_at(curve, tracker.input_current_limit))
        if low > high:
            return _point(Maximum(open_circuit, 0.0, 0.0), tracker, battery_voltage, peaks, free)
        best = _best(curve, free, low, high)
    limit: Limit = "none"
    if over(in_window.power, best.power):
        limit = "input current"
    elif over(free.power, in_window.power):
        limit = "window"
    from_output = math.inf
    if battery_voltage is not None:
        from_output = tracker.output_current_limit * battery_voltage / tracker.efficiency
    allowed = min(tracker.power_limit, from_output)
    if best.power > allowed:
        limit = "power" if tracker.power_limit <= from_output else "output current"
        held = _at_power(curve, allowed, low, best.voltage, high)
        if held is None:
            return _point(Maximum(open_circuit, 0.0, 0.0), tracker, battery_voltage, peaks, free)
        best = held
    return _point(best, tracker, battery_voltage, peaks, free, limit)


def tied_point(curve: Curve, battery_voltage: float, drop: float) -> TiedPoint:
    """Return where the array works at `battery_voltage` (V) plus `drop` (V) of wires and switch.

    A pulse-width controller lets no current back: where the array's voltage is too low, nothing
    flows and the array stands at open circuit. ValueError for a battery voltage not above zero or
    a negative drop.
    """
    if not (0.0 < battery_voltage < math.inf and 0.0 <= drop < math.inf):
        raise ValueError("the battery voltage must be above zero and the drop not negative")
    available = max((point.power for point in maxima(curve)), default=0.0)
    voltage = battery_voltage + drop
    current = current_at(curve, voltage)
    if current <= 0.0:
        return TiedPoint(max(voltage_at(curve, 0.0), 0.0), 0.0, 0.0, 0.0, available)
    return TiedPoint(voltage, current, voltage * current, battery_voltage * current, available)


def _best(curve: Curve, free: Maximum, low: float, high: float) -> Maximum:
    """Return the point of greatest power in a window: the global maximum where that is in it."""
    return free if low <= free.voltage <= high else best_between(curve, low, high)


def _at_power(curve: Curve, power: float, low: float, start: float, high: float) -> Maximum | None:
    """Return the point of `power` (W) nearest above `start` (V), else below it, or None."""

    def excess(voltage: float) -> float:
        return voltage * current_at(curve, voltage) - power

    for end in (high, low):
        if excess(end) <= 0.0:
            voltage = bracketed_root(excess, start, end, absolute=1e-12)
            return Maximum(voltage, power / voltage, power)
    return None


def _point(
    point: Maximum,
    tracker: Tracker,
    battery_voltage: float | None,
    peaks: tuple[Maximum, ...],
    free: Maximum,
    limit: Limit = "no operation",
) -> TrackedPoint:
    """Return the tracked point with what flows into the battery."""
    output = point.power * tracker.efficiency / battery_voltage if battery_voltage else None
    return TrackedPoint(
        voltage=point.voltage,
        current=point.current,
        power=point.power,
        output_current=output,
        available_power=free.power,
        limited_by=limit,
        local_maxima=peaks,
    )
