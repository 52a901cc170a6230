"""Voltages in operation that were read at once at both ends of a way: what is lost between them.

A resistance in a connector hides in every reading of one place: half an ohm takes some per cent of
a string's power, less than labels and meters leave open. Between two places it is what is missing
of the upper voltage in the lower one, and nothing but the wires should take any of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from wattproof.circuit import Conductor, Passage
from wattproof.kept import kept
from wattproof.record import record
from wattproof.study.limits import exceeds
from wattproof.study.readings.at_arrays import ArrayReading
from wattproof.study.readings.conditions import Band
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, tabled, total

AT_A_DEVICE: Final = 0.2
"""V that a fuse, breaker or switch of a way drops at most, at full current; common practice."""
AT_PLUGS: Final = 0.1
"""V that all plugs of a way drop at most, at full current; common practice."""


@record
class WayRead:
    """Voltages in operation at a string or joint and further down, taken together.

    current: what flows at the upper place (A), as read there or at the lower one; None where
    neither was. wires: those between, each with how many times that current it carries. devices:
    poles of those of two ends, between.
    """

    upper: ArrayReading
    lower: ArrayReading
    current: Value | None
    wires: tuple[tuple[WireStudy, float], ...]
    devices: int

    @kept
    def lost(self) -> Value:
        """Voltage lost on the way (V), at least: what the meters may be off is taken from it."""
        words = f"lost between {self.upper.where} and {self.lower.where}, at least"
        return (_volts(self.upper).low - _volts(self.lower).high).named("ΔUway", words, "V")

    @kept
    def usual(self) -> Value:
        """What wires, devices and plugs take of it at most (V), at the current that flows."""
        flows = self.current if self.current is not None else self.upper.expected.most_current
        parts = [
            drop
            for wire, times in self.wires
            if (drop := wire.carrying_current(times * flows).drop) is not None
        ]
        words = "what devices and plugs take at most"
        amount = AT_A_DEVICE * self.devices + AT_PLUGS
        parts.append(tabled(amount, "V", "ΔUjoints", words, "common practice"))
        words = f"usual between {self.upper.where} and {self.lower.where}, at most"
        return total(parts).named("ΔUusual", words, "V")

    @property
    def is_much(self) -> bool:
        """True where more is lost than wires, devices and plugs explain."""
        return exceeds(self.lost, self.usual)

    @kept
    def ohms(self) -> Value | None:
        """Resistance of what takes the rest (Ω), at least; None where no current was read."""
        if self.current is None or not self.current.number > 0.0:
            return None
        words = f"resistance between {self.upper.where} and {self.lower.where}, beyond the wires"
        return ((self.lost - self.usual) / self.current).named("Rway", words, "Ω")

    @kept
    def heat(self) -> Value | None:
        """Heat that it makes (W); None likewise."""
        if self.current is None or not self.current.number > 0.0:
            return None
        return ((self.lost - self.usual) * self.current).named("Pway", "heat in one place", "W")


def ways_read(
    readings: Iterable[ArrayReading], wires: Mapping[str, WireStudy]
) -> Iterator[WayRead]:
    """Every string or joint whose voltage was read together with one further down, the nearest."""
    listed = [r for r in readings if _is_in_operation(r)]
    for upper in listed:
        below = [lower for lower in listed if _is_below(lower, upper)]
        if below and upper.taken.part is not None:
            nearest = min(below, key=lambda r: (len(r.taken.strings), r.taken.at_input))
            yield _way(upper, nearest, wires)


def has_lower_end(reading: ArrayReading, others: Iterable[ArrayReading]) -> bool:
    """True where the voltage in operation was read further down together with a reading's."""
    return any(_is_in_operation(other) and _is_below(other, reading) for other in others)


def _is_in_operation(reading: ArrayReading) -> bool:
    taken = reading.taken
    return taken.voltage is not None and not taken.is_reversed


def _is_below(lower: ArrayReading, upper: ArrayReading) -> bool:
    """True where the current of one flows on to the other, and both were taken together."""
    above, below = upper.taken, lower.taken
    if above.array is not below.array or above.part is None or above.part is below.part:
        return False
    words = above.reading.taken
    return (
        words is not None
        and below.reading.taken == words
        and not below.at_string
        and set(above.strings) <= set(below.strings)
        and (below.at_input or len(above.strings) < len(below.strings) or above.at_string)
    )


def _way(upper: ArrayReading, lower: ArrayReading, wires: Mapping[str, WireStudy]) -> WayRead:
    own, all_of = set(upper.taken.strings), set(lower.taken.strings)
    times: dict[str, float] = {}
    devices = set()
    for leaf, around in upper.taken.array.carried():
        carried = set(upper.taken.array.strings_of(around))
        beyond = carried == all_of and not lower.taken.at_input
        above = carried == own and not upper.taken.at_string and not lower.taken.at_input
        if not own <= carried <= all_of or (beyond and carried != own) or above:
            continue
        if isinstance(leaf.element, Conductor):
            times[leaf.element.name] = len(carried) / len(own)
        elif isinstance(leaf.element, Passage):
            devices.add((leaf.element.name, leaf.element.pole))
    found = tuple((wires[name], share) for name, share in times.items() if name in wires)
    return WayRead(upper, lower, _current(upper, lower), found, len(devices))


def _current(upper: ArrayReading, lower: ArrayReading) -> Value | None:
    if upper.taken.current is not None:
        return upper.taken.current
    whole = lower.taken.current
    if whole is None:
        return None
    return whole * (len(upper.taken.strings) / len(lower.taken.strings))


def _volts(reading: ArrayReading) -> Band:
    shown, written = reading.taken.voltage, reading.taken.reading.voltage
    assert shown is not None
    assert written is not None
    return reading.taken.conditions.volts(shown, written)
