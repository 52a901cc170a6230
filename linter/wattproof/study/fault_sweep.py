"""The fault sweep: a short in every stretch of wire, and what each source drives into it.

For each source one of these must hold: it cannot exceed what the conductor carries (inherently
limited), or a device on the way opens at a rating that protects the conductor. Batteries are
stiff: an open-circuit voltage behind a small resistance. Modules, trackers and other outputs are
limited to their current. Conductors are taken cold and as short as the plan says, which gives the
largest current; it is steady, the rise being left out. Source: IEC 61660-1:1997, sources as an
emf behind a resistance, partial currents that add up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal, TypeAlias

from wattproof.circuit import (
    Circuit,
    Conductor,
    Nets,
    Passage,
    Terminal,
    is_overcurrent,
    place_of,
)
from wattproof.physics import faults as physics
from wattproof.physics.faults import Stiff, fault_currents
from wattproof.plan.power import Charger, Controller
from wattproof.source import Place
from wattproof.study.arrays import ArrayStudy, Inflow, device_rating
from wattproof.study.assumptions import SHORT_CIRCUIT_AT_LEAST, SHORT_CIRCUIT_PER_AH, Assumer
from wattproof.study.battery_side import BankStudy, BatterySide
from wattproof.study.limits import exceeds
from wattproof.study.protection import Guard
from wattproof.study.wires import Carrying, WireStudy
from wattproof.working import Value, declared, function, total

MOST_IN_NETWORK = 60
"""Conductors of a battery side that is solved as one network; beyond, what banks drive adds up."""

Verdict: TypeAlias = Literal["limited", "cleared", "device too large", "no device", "not known"]


@dataclass(frozen=True, eq=False)
class Feed:
    """What one source drives into a short.

    prospective: the current (A) before any device opens; None where nothing says. sustained: what
    lasts (A), no limit where no device is on the way. stiff: True for a battery.
    devices: those that limit it. why: the verdict in words.
    """

    source: str
    stiff: bool
    prospective: Value | None
    sustained: Value
    devices: tuple[Passage, ...]
    verdict: Verdict
    why: str


@dataclass(frozen=True, eq=False)
class Fault:
    """A short, pole to pole, in a stretch of wire, and what feeds it.

    stiff: what several banks drive together (A), where it is less than their sum.
    """

    wire: WireStudy
    part: Conductor
    number: int
    feeds: tuple[Feed, ...]
    stiff: Value | None = None

    @property
    def name(self) -> str:
        """The stretch: the wire's name, with a number where devices divide it."""
        return f"{self.wire.name} part {self.number}" if self.number else self.wire.name

    @property
    def at(self) -> Place:
        """Where the plan names the wire."""
        return place_of(self.part)

    @property
    def prospective(self) -> Value | None:
        """All prospective currents together (A)."""
        feeds = [f for f in self.feeds if self.stiff is None or not f.stiff]
        known = [f.prospective for f in feeds if f.prospective is not None]
        if self.stiff is not None:
            known.append(self.stiff)
        if not known:
            return None
        words = f"prospective current of a short in {self.name}"
        return total(known).named(f"Isc({self.name})", words, "A")


class Banks:
    """Short-circuit currents of banks, and the resistance of the way from each to any terminal."""

    def __init__(
        self,
        battery_side: BatterySide,
        circuit: Circuit,
        wires: dict[str, WireStudy],
        assume: Assumer,
    ) -> None:
        self.battery_side = battery_side
        self.circuit = circuit
        self.wires = wires
        self.assume = assume
        self._ways: dict[str, dict[Terminal, Value | None]] = {}

    def at_terminals(self, bank: BankStudy) -> Value:
        """Current (A) of a bolted short at the bank's own terminals."""
        battery = bank.battery
        if battery.short_circuit_current is not None:
            one = declared(battery.short_circuit_current, "Ik", f"short circuit of {bank.name}")
        elif battery.internal_resistance is not None:
            inner = declared(battery.internal_resistance, "Ri", f"inner resistance of {bank.name}")
            one = declared(battery.nominal, "Unom", f"nominal voltage of {bank.name}") / inner
        else:
            one = self._by_chemistry(bank)
        whole = float(bank.in_parallel) * one if bank.in_parallel > 1 else one
        words = f"short-circuit current of {bank.name} at its terminals"
        return whole.named(f"Ik({bank.name})", words, "A")

    def at(self, bank: BankStudy, terminal: Terminal) -> Value | None:
        """Current (A) of a short across both poles there; None where no way is known."""
        way = self._way(bank, terminal)
        if way is None:
            return self.at_terminals(bank)
        inner = (bank.nominal / self.at_terminals(bank)).named(
            f"Ri({bank.name})", f"resistance inside {bank.name}", "Ω"
        )
        words = f"what {bank.name} drives into a short at {terminal.component}"
        symbol = f"Ik({bank.name}→{terminal.component})"
        return (bank.nominal / (inner + way)).named(symbol, words, "A")

    def together(self, banks: list[BankStudy], terminal: Terminal) -> Value | None:
        """Current (A) of all banks at once into a short across both poles of a terminal.

        Where they share a way it is less than the sum of what each drives alone. None where the
        network is too large to be solved for every stretch, or no way is known.
        """
        poles = [Terminal(terminal.component, terminal.port, p) for p in ("positive", "negative")]
        conductors = self._network
        if len(conductors) > MOST_IN_NETWORK or not all(t in self.circuit.around for t in poles):
            return None
        sources = [
            Stiff(
                bank.name,
                self._node(Terminal(bank.name, "", "positive")),
                self._node(Terminal(bank.name, "", "negative")),
                bank.nominal.number,
                bank.nominal.number / self.at_terminals(bank).number,
            )
            for bank in banks
        ]
        plus, minus = (self._node(t) for t in poles)
        amps = fault_currents(sources, conductors, (plus, minus)).fault_current
        inputs = [v for bank in banks for v in (bank.nominal, self.at_terminals(bank))]
        words = f"what all banks together drive into a short at {terminal.component}"
        return function("network", amps, *inputs).named(f"Ik({terminal.component})", words, "A")

    @cached_property
    def _network(self) -> list[physics.Conductor]:
        """Every conductor of the battery side with its cold resistance."""
        found: list[physics.Conductor] = []
        for number, part in enumerate(self.circuit.battery_side):
            start, end = self._node(part.start), self._node(part.end)
            if isinstance(part, Conductor) and start != end:
                ohm = self.wires[part.name].cold_resistance_of(part).number
                found.append(physics.Conductor(f"{part.name}-{number}", start, end, ohm or 1e-9))
        return found

    def _node(self, terminal: Terminal) -> str:
        """The node of a terminal: devices are closed and have no resistance."""
        return "/".join(self._closed.net(terminal))

    @cached_property
    def _closed(self) -> Nets:
        """Terminals joined by closed devices alone."""
        return Nets([p for p in self.circuit.battery_side if isinstance(p, Passage)])

    def _by_chemistry(self, bank: BankStudy) -> Value:
        """The chemistry's careful value: parallel paths add, series does not."""
        battery = bank.battery
        hours = battery.capacity.value / 3600.0
        per_hour = SHORT_CIRCUIT_PER_AH[battery.chemistry]
        amps = max(per_hour * hours, SHORT_CIRCUIT_AT_LEAST.get(battery.chemistry, 0.0))
        return self.assume.short_circuit(battery.chemistry, amps, bank.name, bank.at)

    def _way(self, bank: BankStudy, terminal: Terminal) -> Value | None:
        """Cold resistance (Ω) of both poles between a bank and a terminal; None for its own."""
        if bank.name not in self._ways:
            self._ways[bank.name] = self._ways_from(bank)
        ways = self._ways[bank.name]
        poles = [
            way
            for pole in ("positive", "negative")
            if (way := ways.get(Terminal(terminal.component, terminal.port, pole))) is not None
        ]
        return total(poles) if poles else None

    def _ways_from(self, bank: BankStudy) -> dict[Terminal, Value | None]:
        ways: dict[Terminal, Value | None] = {}
        waiting = [Terminal(bank.name, "", pole) for pole in ("positive", "negative")]
        ways.update((t, None) for t in waiting)
        while waiting:
            here = waiting.pop(0)
            for element in self.circuit.around.get(here, ()):
                there = element.end if element.start == here else element.start
                if there not in ways:
                    ways[there] = self._longer(ways[here], element)
                    waiting.append(there)
        return ways

    def _longer(self, way: Value | None, element: Conductor | Passage) -> Value | None:
        if not isinstance(element, Conductor):
            return way
        own = self.wires[element.name].cold_resistance_of(element)
        return own if way is None else way + own


@dataclass(frozen=True, eq=False)
class FaultSweep:
    """Every stretch of every wire, shorted in turn."""

    arrays: tuple[ArrayStudy, ...]
    guards: tuple[Guard, ...]
    wires: dict[str, WireStudy]
    battery_side: BatterySide
    banks: Banks
    _ways: dict[str, dict[Conductor, tuple[Passage, ...]]] = field(default_factory=dict)

    @cached_property
    def faults(self) -> tuple[Fault, ...]:
        """One for each stretch, in the order of the plan's wires."""
        feeds: dict[Conductor, list[Feed]] = {}
        for guard in self.guards:
            feeds.setdefault(guard.part, []).extend(self._from_banks(guard))
            feeds[guard.part].extend(self._from_outputs(guard))
        for array in self.arrays:
            for inflow in array.inflows:
                feeds.setdefault(inflow.part, []).extend(self._on_array(array, inflow))
        found: list[Fault] = []
        for wire in self.wires.values():
            parts = [c for c in wire.conductors if c in feeds]
            for number, part in enumerate(parts, start=1):
                shown = number if len(parts) > 1 else 0
                own = tuple(feeds[part])
                found.append(Fault(wire, part, shown, own, self._banks_together(part, own)))
        return tuple(found)

    def _banks_together(self, part: Conductor, feeds: tuple[Feed, ...]) -> Value | None:
        """The current of several banks at once, at the end of a stretch where it is larger."""
        names = {feed.source for feed in feeds if feed.stiff}
        if len(names) < 2:
            return None
        banks = [b for n, b in self.battery_side.banks.items() if n in names]
        ends = [self.banks.together(banks, end) for end in (part.start, part.end)]
        return max((e for e in ends if e is not None), key=lambda e: e.number, default=None)

    def _from_banks(self, guard: Guard) -> Iterator[Feed]:
        """Battery current: each bank's prospective, and what lasts behind the devices."""
        verdict, why = self._verdict(guard)
        for bank in self.battery_side.beside(guard.bank):
            ends = [self.banks.at(bank, t) for t in (guard.part.start, guard.part.end)]
            largest = max((e for e in ends if e is not None), key=lambda v: v.number, default=None)
            yield Feed(bank.name, True, largest, guard.rating, guard.limiting, verdict, why)

    def _from_outputs(self, guard: Guard) -> Iterator[Feed]:
        """Controllers and chargers on the same net: limited to their output."""
        for component, output in self.battery_side.charges(guard.bank):
            assert isinstance(component, Controller | Charger)
            devices = self._devices_from(component).get(guard.part, ())
            yield self._limited(str(component.name), output, guard.wire, devices)

    def _devices_from(self, source: Controller | Charger) -> dict[Conductor, tuple[Passage, ...]]:
        """For each stretch on a source's net, the overcurrent devices on the way to it."""
        name = str(source.name)
        if name not in self._ways:
            port = "battery" if isinstance(source, Controller) else ""
            start = Terminal(name, port, "positive")
            self._ways[name] = _devices_on_the_way(start, self.banks.circuit)
        return self._ways[name]

    def _on_array(self, array: ArrayStudy, inflow: Inflow) -> Iterator[Feed]:
        """The strings behind a stretch, and what the rest of the array pushes into it."""
        wire = self.wires[inflow.part.name]
        own = array.isc("bright", inflow.behind)
        yield self._limited(array.name_of(inflow.behind), own, wire)
        if inflow.sustained is not None and inflow.unlimited is not None:
            yield self._backwards(inflow, wire)

    def _limited(
        self, source: str, amps: Value, wire: WireStudy, devices: tuple[Passage, ...] = ()
    ) -> Feed:
        """A source that is limited to its own current."""
        may = wire.carrying
        if isinstance(may, str):
            return Feed(source, False, amps, amps, devices, "not known", may)
        if not exceeds(amps, may.value):
            why = f"{amps} at most, and the wire carries {may.value}"
            return Feed(source, False, amps, amps, devices, "limited", why)
        if not devices:
            why = f"{amps} is more than the wire carries ({may.value}), and nothing opens"
            return Feed(source, False, amps, amps, (), "no device", why)
        first = min(devices, key=lambda device: device_rating(device).number)
        rating = device_rating(first)
        lasting = amps if amps < rating else rating
        if exceeds(rating, may.device_limit):
            why = f"`{first.name}` lets {rating} last; at most {may.device_limit} protects it"
            return Feed(source, False, amps, lasting, (first,), "device too large", why)
        why = f"`{first.name}` opens; {rating} protects up to {may.device_limit}"
        return Feed(source, False, amps, lasting, (first,), "cleared", why)

    def _backwards(self, inflow: Inflow, wire: WireStudy) -> Feed:
        assert inflow.sustained is not None
        may, source = wire.carrying, f"other branches at {inflow.joint or 'the controller'}"
        finite = inflow.unlimited if inflow.unlimited and _finite(inflow.unlimited) else None
        if isinstance(may, str):
            return Feed(source, False, finite, inflow.sustained, (), "not known", may)
        verdict: Verdict = "limited"
        why = f"{inflow.sustained} at most, and the wire carries {may.value}"
        if exceeds(inflow.sustained, may.value):
            verdict = "device too large" if inflow.devices else "no device"
            why = f"{inflow.sustained} can last, and the wire carries {may.value}"
        elif inflow.unlimited is not None and exceeds(inflow.unlimited, may.value):
            verdict = "cleared"
            why = f"{_names(inflow.devices)} opens above {inflow.sustained}"
        return Feed(source, False, finite, inflow.sustained, inflow.devices, verdict, why)

    def _verdict(self, guard: Guard) -> tuple[Verdict, str]:
        may = guard.wire.carrying
        if isinstance(may, str):
            return "not known", may
        if not guard.limiting:
            return "no device", "nothing opens between the battery and this stretch"
        if exceeds(guard.rating, may.device_limit):
            return "device too large", self._too_large(guard, may)
        return "cleared", (
            f"{_names(guard.limiting)} opens; {guard.rating} protects up to {may.device_limit}"
        )

    def _too_large(self, guard: Guard, may: Carrying) -> str:
        whose = _names(guard.limiting)
        return f"{whose} lets {guard.rating} last, and at most {may.device_limit} protects it"


def _devices_on_the_way(start: Terminal, circuit: Circuit) -> dict[Conductor, tuple[Passage, ...]]:
    """For each conductor that a terminal reaches, the overcurrent devices on the nearest way."""
    found: dict[Conductor, tuple[Passage, ...]] = {}
    passed: dict[Terminal, tuple[Passage, ...]] = {start: ()}
    waiting = [start]
    while waiting:
        here = waiting.pop(0)
        for element in circuit.around.get(here, ()):
            there = element.end if element.start == here else element.start
            beyond = passed[here]
            if isinstance(element, Conductor):
                found.setdefault(element, beyond)
            elif is_overcurrent(element):
                beyond = (*beyond, element)
            if there not in passed:
                passed[there] = beyond
                waiting.append(there)
    return found


def _finite(value: Value) -> bool:
    return math.isfinite(value.number)


def _names(devices: tuple[Passage, ...]) -> str:
    return " and ".join(f"`{d.name}`" for d in devices)
