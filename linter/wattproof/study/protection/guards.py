"""Which overcurrent devices stand between the stiff sources and each wire.

Batteries are stiff: into a fault they drive thousands of amperes. Modules, trackers and converters
are limited to little more than their rated current. This file walks outwards from every battery.
It is the place of the fault sweep: rules read its results and never walk the circuit themselves.

Two questions are kept apart. How far can battery current get before it meets any device at all
(exits)? And behind the devices, how much can flow for long into each stretch of wire before one of
them opens (guards)? On a single way that is the smallest rating on it. Where several ways or
several batteries lead to the same stretch it is the smallest sum of ratings that cuts them all off
(the least cut of a network: Ford and Fulkerson, "Maximal flow through a network", Canadian J.
Math. 8, 1956): three batteries with a 100 A fuse each feed what lies behind them with 300 A.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from functools import cached_property

from wattproof.circuit import Circuit, Conductor, Passage, Terminal, is_overcurrent
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Charger, Controller, Inverter, Load
from wattproof.plan.splitting import Isolator
from wattproof.plan.starting import Starter
from wattproof.plan.terminals import by_name
from wattproof.record import record
from wattproof.study.assumptions.batteries import LEAD
from wattproof.study.battery.positive_net import Devices, PositiveNet, amps_of, other_end, rating_of
from wattproof.study.battery.side import BankStudy, BatterySide
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, declared, function, total

ENDS = (Battery, Charger, Controller, Inverter, Load, Starter, Isolator)
"""What a way out of a bank ends at."""


@record
class Exit:
    """A way out of a bank's positive terminal, to the first overcurrent device on it.

    conductors: those before the device. device: None where the way ends at `reaches` without one;
    then end is the component there, None for the chassis, the water or the earth.
    weak_end: the controller or charger that the device sits beside, which cannot blow it; empty
    where it does not. around: True where it comes to the device from behind, so that the device
    is bypassed. in_series: True where it ends at the negative of the next battery of a series.
    """

    bank: BankStudy
    conductors: tuple[Conductor, ...]
    device: Passage | None
    reaches: str
    weak_end: str = ""
    end: Named | None = None
    around: bool = False
    in_series: bool = False

    @property
    def distance(self) -> float | None:
        """Length of conductor before the device (m); None where a device's place is not stated."""
        lengths = [c.length for c in self.conductors]
        known = [length for length in lengths if length is not None]
        return sum(known) if len(known) == len(lengths) else None

    @property
    def distance_at_least(self) -> float:
        """The length before the device as far as it is known (m)."""
        return self.length.number

    @property
    def distance_at_most(self) -> float:
        """The whole length of the wires before and around the device (m)."""
        wires = {c.wire.name: c.wire.length.value for c in self.conductors}
        return sum(wires.values())

    @property
    def length(self) -> Value:
        """Length of conductor before the device, as far as it is known (m), with its working.

        A wire passed from end to end counts whole, wherever its switches sit in it.
        """
        pieces = Counter(c.wire.name for c in self.conductors)
        known: dict[str, list[Value]] = {}
        for c in self.conductors:
            if pieces[c.wire.name] == len(c.wire.inline) + 1:
                whole = declared(c.wire.length, f"L({c.wire.name})", f"length of {c.wire.name}")
                known[c.wire.name] = [whole]
            elif c.length is not None:
                known.setdefault(c.wire.name, []).append(stretch_length(c))
        lengths = [length for of_wire in known.values() for length in of_wire]
        words = f"length of wire from {self.bank.name} to {self.reaches}"
        all_of_it = total(lengths) if lengths else Value(0.0, "m")
        return all_of_it.named(f"Lbare({self.bank.name})", words, "m")

    @property
    def to_bank(self) -> bool:
        """True where it leads to another bank."""
        return isinstance(self.end, Battery)

    @property
    def to_starter(self) -> bool:
        """True where it leads to a starter motor."""
        return isinstance(self.end, Starter)

    @property
    def to_alternator_of_lead(self) -> bool:
        """True for the cable between a lead battery and an alternator."""
        charger = isinstance(self.end, Charger) and self.end.kind == "alternator"
        return charger and self.bank.battery.chemistry in LEAD

    @property
    def enclosed(self) -> bool:
        """True where every wire on the way is enclosed over its whole length."""
        return all(c.wire.enclosed for c in self.conductors)


@record
class Guard:
    """What stands between the banks and a stretch of wire.

    bank: the nearest. part: the stretch, between ends and devices. devices: overcurrent devices on
    the way, nearest bank first; empty where there are none. limiting: those of them, or of all
    ways together, whose ratings added up are the least that can flow for long. fed_at: component
    at the end from which that comes, empty where it comes from both. into: overcurrent devices at
    its far end that everything behind it goes through.
    """

    bank: BankStudy
    wire: WireStudy
    devices: Devices
    part: Conductor
    limiting: Devices
    fed_at: str
    into: Devices = ()

    @cached_property
    def rating(self) -> Value:
        """What can flow for long (A): the sum of the limiting ratings, no limit without devices."""
        words = f"ratings of the devices that feed {self.wire.name}, together"
        return rating_of(self.limiting, words, self.wire.name)

    @property
    def length(self) -> Value | None:
        """Length of the stretch (m), with its working; None where a device's place is unknown."""
        if self.part.length is None:
            return None
        words = f"length of {self.wire.name} before its device"
        return stretch_length(self.part).named(f"Lbare({self.wire.name})", words, "m")


def link_guards(
    battery_side: BatterySide, circuit: Circuit, wires: dict[str, WireStudy]
) -> Iterator[Guard]:
    """What limits for long the current in every link between batteries in series.

    The largest of the first devices on the ways out of the last of them: a fault is behind one of
    these, and what all of them carry in use is another question. None where a way has no device.
    """
    for wire in wires.values():
        for part in wire.conductors:
            top = battery_side.next_in_series(part)
            if top is None:
                continue
            ways = list(exits(top, circuit))
            while ways and all(way.in_series for way in ways):
                assert ways[0].end is not None
                top = battery_side.banks[str(ways[0].end.name)]
                ways = list(exits(top, circuit))
            devices = [way.device for way in ways if way.device is not None]
            if devices and len(devices) == len(ways):
                largest = (max(devices, key=amps_of),)
                yield Guard(top, wire, largest, part, largest, "")


def stretch_length(conductor: Conductor) -> Value:
    """Length (m) of a conductor between ends and devices of its wire, as the plan gives it."""
    wire = conductor.wire
    whole = declared(wire.length, f"L({wire.name})", f"length of {wire.name}")
    at_start, at_end = conductor.start.component != wire.name, conductor.end.component != wire.name
    if at_start and at_end:
        return whole
    placed = [
        declared(i.distance, f"d({i.device})", f"distance of {i.device} from an end of {wire.name}")
        for i in wire.inline
        if i.distance is not None
    ]
    assert conductor.length is not None
    if len(wire.inline) == 1 and len(placed) == 1:
        from_start = wire.inline[0].from_end == "from"
        return placed[0] if at_start == from_start else whole - placed[0]
    return function("stretch", conductor.length, whole, *placed)


def exits(bank: BankStudy, circuit: Circuit) -> Iterator[Exit]:
    """Every way out of a bank's positive terminal, each from its first conductor on."""
    start = Terminal(bank.name, "", "positive")
    components = by_name(circuit.plan)
    bare = _bare(start, circuit)
    for first in circuit.around.get(start, ()):
        yield from _ways_out(bank, circuit, components, start, first, bare)


def _bare(start: Terminal, circuit: Circuit) -> dict[Terminal, int]:
    """Terminals that a way without overcurrent devices leads to, with its least steps."""
    steps, waiting = {start: 0}, [start]
    while waiting:
        here = waiting.pop(0)
        for element in circuit.around.get(here, ()):
            there = other_end(element, here)
            opens = isinstance(element, Passage) and is_overcurrent(element)
            if not opens and there not in steps:
                steps[there] = steps[here] + 1
                waiting.append(there)
    return steps


def _ways_out(
    bank: BankStudy,
    circuit: Circuit,
    components: dict[str, Named],
    start: Terminal,
    first: Conductor | Passage,
    bare: dict[Terminal, int],
) -> Iterator[Exit]:
    seen = {start}
    waiting: list[tuple[Conductor | Passage, Terminal, tuple[Conductor, ...]]] = [
        (first, start, ())
    ]
    while waiting:
        element, here, passed = waiting.pop(0)
        there = other_end(element, here)
        if isinstance(element, Passage) and is_overcurrent(element):
            weak = _weak_end(circuit, element, there, passed)
            around = bare.get(there, math.inf) < bare[here]
            yield Exit(bank, passed, element, element.name, weak, around=around)
            continue
        if isinstance(element, Conductor):
            passed = (*passed, element)
        if there in seen:
            continue
        seen.add(there)
        onward = [e for e in circuit.around[there] if e is not element]
        component = components.get(there.component)
        if isinstance(component, ENDS) or not onward:
            in_series = isinstance(component, Battery) and there.pole == "negative"
            reaches = there.component
            yield Exit(bank, passed, None, reaches, end=component, in_series=in_series)
        if isinstance(component, Starter):
            passed = ()  # the cranking cable before it is judged by itself
        if not isinstance(component, Battery):
            waiting.extend((e, there, passed) for e in onward)


def _weak_end(
    circuit: Circuit, device: Passage, behind: Terminal, passed: tuple[Conductor, ...]
) -> str:
    """The controller or shore charger that a device sits nearer to than to what feeds it."""
    before = (passed[-1].length or 0.0) if passed else 0.0
    for element in circuit.around.get(behind, ()):
        if not isinstance(element, Conductor) or element.length is None or element.length > before:
            continue
        name = other_end(element, behind).component
        charger = circuit.plan.all_chargers.get(name)
        weak = charger is not None and charger.kind != "alternator"
        if weak or name in circuit.plan.controllers:
            return name
    return ""


def guards(net: PositiveNet, wires: dict[str, WireStudy]) -> Iterator[Guard]:
    """What stands between the banks and every stretch of every wire on their positive nets.

    From the banks outwards, so that of the stretches of one wire the farthest comes last.
    """
    for reached in net.reached:
        if isinstance(reached.element, Conductor):
            yield Guard(
                reached.bank,
                wires[reached.element.name],
                reached.devices,
                reached.element,
                reached.limiting,
                reached.fed_at,
                reached.into,
            )
