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
from dataclasses import field
from functools import cached_property
from typing import Literal, TypeAlias

from wattproof.circuit import (
    Circuit,
    Conductor,
    Passage,
    Terminal,
    is_overcurrent,
    place_of,
)
from wattproof.plan.power import Charger, Controller
from wattproof.plan.terminals import output_port
from wattproof.record import record
from wattproof.source import Place
from wattproof.study.array.arrays import ArrayStudy, Inflow
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.battery.side import BatterySide
from wattproof.study.limits import exceeds
from wattproof.study.protection.guards import Guard
from wattproof.study.wiring.network import Network
from wattproof.study.wiring.wires import Carrying, WireStudy
from wattproof.working import Value, total

Verdict: TypeAlias = Literal["limited", "cleared", "device too large", "no device", "not known"]


@record
class Feed:
    """What one source drives into a short.

    prospective: the current (A) before any device opens; None where nothing says. sustained: what
    lasts (A), no limit where no device is on the way. stiff: True for a battery.
    devices: those that limit it. why: the verdict in words. to_chassis: the current (A) of the same
    stretch touching the chassis, where the negative is tied to it.
    """

    source: str
    stiff: bool
    prospective: Value | None
    sustained: Value
    devices: tuple[Passage, ...]
    verdict: Verdict
    why: str
    to_chassis: Value | None = None


@record
class Fault:
    """A short, pole to pole, in a stretch of wire, and what feeds it."""

    wire: WireStudy
    part: Conductor
    number: int
    feeds: tuple[Feed, ...]

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
        known = [f.prospective for f in self.feeds if f.prospective is not None]
        if not known:
            return None
        words = f"prospective current of a short in {self.name}"
        return total(known).named(f"Isc({self.name})", words, "A")


@record
class FaultSweep:
    """Every stretch of every wire, shorted in turn."""

    arrays: tuple[ArrayStudy, ...]
    guards: tuple[Guard, ...]
    wires: dict[str, WireStudy]
    battery_side: BatterySide
    network: Network
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
                found.append(Fault(wire, part, shown, tuple(feeds[part])))
        return tuple(found)

    def _from_banks(self, guard: Guard) -> Iterator[Feed]:
        """Battery current: each bank's part of the prospective, and what lasts behind devices."""
        verdict, why = self._verdict(guard)
        driven, touching = self._driven(guard.part), self._touching(guard.part)
        for bank in self.battery_side.beside(guard.bank):
            amps, chassis = driven.get(bank.name), touching.get(bank.name)
            yield Feed(bank.name, True, amps, guard.rating, guard.limiting, verdict, why, chassis)

    def _driven(self, part: Conductor) -> dict[str, Value]:
        """What each bank drives into a short in a stretch, at its end where that is most (A)."""
        short = self.network.short_along(part)
        return {bank.name: amps for bank, amps in short.banks} if short is not None else {}

    def _touching(self, part: Conductor) -> dict[str, Value]:
        """The same where the positive of a stretch touches the chassis (A)."""
        ends = [self.network.to_chassis(end) for end in (part.start, part.end)]
        known = [short for short in ends if short is not None]
        most = max(known, key=lambda short: short.current.number, default=None)
        return {bank.name: amps for bank, amps in most.banks} if most is not None else {}

    def _from_outputs(self, guard: Guard) -> Iterator[Feed]:
        """Controllers and chargers on the same net: limited to their output."""
        for component, _ in self.battery_side.charges(guard.bank):
            assert isinstance(component, Controller | Charger)
            output = self.network.output(component)
            devices = self._devices_from(component).get(guard.part, ())
            yield self._limited(str(component.name), output, guard.wire, devices)

    def _devices_from(self, source: Controller | Charger) -> dict[Conductor, tuple[Passage, ...]]:
        """For each stretch on a source's net, the overcurrent devices on the way to it."""
        name = str(source.name)
        if name not in self._ways:
            start = Terminal(name, output_port(source) or "", "positive")
            self._ways[name] = _devices_on_the_way(start, self.network.circuit)
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
