"""Which overcurrent devices stand between a stiff source and each wire.

Batteries are stiff: into a fault they drive thousands of amperes. Modules, trackers and converters
are limited to little more than their rated current. This file walks outwards from every battery.
It is the place of the fault sweep: rules read its results and never walk the circuit themselves.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wattproof.circuit import Circuit, Conductor, Passage, Terminal, is_overcurrent
from wattproof.study.battery_side import BankStudy
from wattproof.study.wires import WireStudy


@dataclass(frozen=True, eq=False)
class Exit:
    """A way out of a bank's positive terminal, to the first overcurrent device on it.

    conductors: those before the device. device: None where the way ends at `reaches` without one.
    """

    bank: BankStudy
    conductors: tuple[Conductor, ...]
    device: Passage | None
    reaches: str

    @property
    def distance(self) -> float | None:
        """Length of conductor before the device (m); None where a device's place is not stated."""
        lengths = [c.length for c in self.conductors]
        known = [length for length in lengths if length is not None]
        return sum(known) if len(known) == len(lengths) else None

    @property
    def distance_at_most(self) -> float:
        """The whole length of the wires before and around the device (m)."""
        wires = {c.wire.name: c.wire.length.value for c in self.conductors}
        return sum(wires.values())


@dataclass(frozen=True, eq=False)
class Guard:
    """The overcurrent devices between a bank and a wire; empty where there are none."""

    bank: BankStudy
    wire: WireStudy
    devices: tuple[Passage, ...]


def exits(bank: BankStudy, circuit: Circuit) -> Iterator[Exit]:
    """Every way out of a bank's positive terminal."""
    start = Terminal(bank.name, "", "positive")
    seen = {start}
    waiting: list[tuple[Terminal, tuple[Conductor, ...]]] = [(start, ())]
    while waiting:
        here, passed = waiting.pop(0)
        onward = [e for e in circuit.around.get(here, ()) if _other(e, here) not in seen]
        if not onward and here != start:
            yield Exit(bank, passed, None, here.component)
        for element in onward:
            there = _other(element, here)
            seen.add(there)
            if isinstance(element, Passage) and is_overcurrent(element):
                yield Exit(bank, passed, element, element.name)
            elif isinstance(element, Passage):
                waiting.append((there, passed))
            else:
                waiting.append((there, (*passed, element)))


def guards(bank: BankStudy, circuit: Circuit, wires: dict[str, WireStudy]) -> Iterator[Guard]:
    """For every wire that a bank feeds, the overcurrent devices in between, nearest bank first.

    A wire with a device in it is guarded beyond that device.
    """
    start = Terminal(bank.name, "", "positive")
    seen = {start}
    waiting: list[tuple[Terminal, tuple[Passage, ...]]] = [(start, ())]
    found: dict[str, tuple[Passage, ...]] = {}
    while waiting:
        here, passed = waiting.pop(0)
        for element in circuit.around.get(here, ()):
            there = _other(element, here)
            if there in seen:
                continue
            seen.add(there)
            if isinstance(element, Conductor):
                found[element.name] = passed  # the part farthest from the bank comes last
                waiting.append((there, passed))
            elif is_overcurrent(element):
                waiting.append((there, (*passed, element)))
            else:
                waiting.append((there, passed))
    for name, devices in found.items():
        yield Guard(bank, wires[name], devices)


def _other(element: Conductor | Passage, here: Terminal) -> Terminal:
    return element.end if element.start == here else element.start
