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
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from wattproof.circuit import (
    Circuit,
    Conductor,
    Part,
    Passage,
    Terminal,
    is_overcurrent,
    other_end,
)
from wattproof.circuit.walk import Step, Walk, cheapest
from wattproof.kept import kept
from wattproof.plan.converting import Converter
from wattproof.plan.devices import Switch
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Charger, Controller, Inverter, Load, is_alternator
from wattproof.plan.splitting import Isolator, Selector
from wattproof.plan.starting import Starter
from wattproof.plan.terminals import output_port
from wattproof.record import record
from wattproof.study.assumptions.batteries import LEAD
from wattproof.study.assumptions.ratings import FUSE_BEARS, amps_of
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.positive_net import (
    Devices,
    Fed,
    PositiveNet,
    rating_of,
)
from wattproof.study.battery.side import BatterySide
from wattproof.study.protection.spans import Span, length_of, span_of
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value

ENDS = (Battery, Charger, Controller, Inverter, Load, Starter, Isolator)
"""What a way out of a bank ends at."""


class Tie(NamedTuple):
    """A switch by hand, and the cable by which another bank starts an engine while it is closed."""

    switch: Switch
    cable: tuple[Conductor, ...]
    starter: Starter


@record
class Exit:
    """A way out of a bank's positive terminal, to the first overcurrent device on it.

    conductors: those before the device. device: None where the way ends at `reaches` without one;
    then end is the component there, None for the chassis, the water or the earth, and at its
    terminal. weak_end: the controller or charger that the device sits beside, which cannot blow
    it; empty where it does not. around: True where it comes to the device from behind, so that
    the device is bypassed. in_series: True where it ends at the negative of the next battery of a
    series. branches_off: True where it begins at a sheathed starting cable, and not at the battery.
    tie: what joins the bank to the cable by which another one starts the engine, where the way
    leads along that to the other's device, or to the post of the battery of another engine; None
    for any other way.
    """

    bank: BankStudy
    conductors: tuple[Conductor, ...]
    device: Passage | None
    reaches: str
    weak_end: str = ""
    end: Named | None = None
    around: bool = False
    in_series: bool = False
    at: Terminal | None = None
    branches_off: bool = False
    tie: Tie | None = None

    @kept
    def span(self) -> Span:
        """Length of conductor before the device (m), between the least and the most."""
        return span_of(self.conductors)

    @property
    def length(self) -> Value:
        """Length of conductor before the device (m), at least, with its working."""
        words = f"length of wire from {self.bank.name} to {self.reaches}"
        return length_of(self.conductors, f"Lbare({self.bank.name})", words)

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
        return is_alternator(self.end) and self.bank.battery.chemistry in LEAD

    @property
    def to_isolator_of_lead(self) -> bool:
        """True for the cable between a lead battery and what a diode isolator leads to it."""
        lead = self.bank.battery.chemistry in LEAD
        output = self.at is not None and self.at.port != "input"
        return isinstance(self.end, Isolator) and lead and output

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
    its far end that everything behind it goes through. sides: what feeds it, from each end.
    """

    bank: BankStudy
    wire: WireStudy
    devices: Devices
    part: Conductor
    limiting: Devices
    fed_at: str
    into: Devices = ()
    sides: tuple[Fed, ...] = ()

    @kept
    def rating(self) -> Value:
        """What can flow for long (A): the sum of the limiting ratings, no limit without devices."""
        words = f"ratings of the devices that feed {self.wire.name}, together"
        return rating_of(self.limiting, words, self.wire.name)


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


def exits(bank: BankStudy, circuit: Circuit) -> Iterator[Exit]:
    """Every way out of a bank's positive terminal, each from its first conductor on."""
    start = Terminal(bank.name, "", "positive")
    ways = _Ways(bank, circuit, start)
    for first in circuit.around.get(start, ()):
        yield from ways.out(first)


def first_devices(
    part: Part, end: Terminal, circuit: Circuit
) -> tuple[tuple[Passage, tuple[Conductor, ...]], ...]:
    """The first devices that all behind a part goes through, with the conductors before each.

    end: of the part, the one from which it is fed. Empty where a way behind it ends without a
    device, or ways meet again.
    """
    if is_overcurrent(part):
        return ((part, ()),)

    def onward(here: Terminal) -> Iterator[tuple[Part, Terminal]]:
        ways = circuit.ways(here) if here != end else ((part, other_end(part, end)),)
        yield from (way for way in ways if not is_overcurrent(way[0]))

    walk = Walk([end], onward)
    behind = [here for here in walk if here != end]
    for here in behind:
        is_end = isinstance(circuit.components.get(here.component), ENDS)
        if is_end or len(circuit.around.get(here, ())) < 2:
            return ()
    found = [(here, e) for here in behind for e in circuit.around[here]]
    if len({e for _, e in found if not is_overcurrent(e)}) > len(behind):
        return ()
    return tuple(
        (e, tuple(p for p in walk.passed(here)[1:] if isinstance(p, Conductor)))
        for here, e in found
        if is_overcurrent(e)
    )


def let_through(ahead: Iterable[Passage], end: Terminal, circuit: Circuit) -> Devices:
    """Those of the devices behind an element that limit together what may last in it.

    What draws and what only charges do not add up: the one current comes from the banks, the other
    goes to them. end: where the element is fed.
    """
    devices = tuple(ahead)
    if len(devices) < 2:
        return devices
    away = frozenset(devices)
    near = circuit.walk(end, passes=lambda part: part not in away)
    drawn: list[Passage] = []
    given: list[Passage] = []
    for device in devices:
        (given if _only_gives(device, near, end, circuit) else drawn).append(device)
    return tuple(max((drawn, given), key=lambda devices: sum(map(amps_of, devices))))


def _only_gives(
    device: Passage, near: Walk[Terminal, Part], end: Terminal, circuit: Circuit
) -> bool:
    """True for a device behind which sources lie that charge, and nothing that draws.

    near: what is joined to the end where current comes from without passing such a device.
    """
    far = [terminal for terminal in (device.start, device.end) if terminal not in near]
    behind = circuit.walk(*far, passes=lambda part: part is not device)
    if len(far) != 1 or end in behind:
        return False
    parts = [(here, circuit.components.get(here.component)) for here in behind]
    sources = {here for here, part in parts if gives(here, part)}
    draws = any(isinstance(part, (*ENDS, Converter)) for here, part in parts if here not in sources)
    onward = (inside.start for inside in circuit.insides if inside.end in circuit.around)
    return bool(sources) and not draws and sources.isdisjoint(onward)


def gives(here: Terminal, component: Named | None) -> bool:
    """True for a terminal at which a component gives current and never takes any."""
    if isinstance(component, Isolator):
        return here.port != "input"
    if isinstance(component, Inverter) or not isinstance(component, Controller | Charger):
        return False
    return output_port(component) == here.port


def _is_by_hand(switch: Switch) -> bool:
    return switch.closes_above is None and switch.opened_by is None


class _Ways:
    """The ways out of one bank, onward to its load terminals too."""

    def __init__(self, bank: BankStudy, circuit: Circuit, start: Terminal) -> None:
        self.bank = bank
        self.circuit = circuit
        self.start = start
        self.components = circuit.components
        self._bare = circuit.walk(start, passes=lambda part: not is_overcurrent(part))
        self.onward: dict[Terminal, list[Terminal]] = {}
        for inside in circuit.insides:
            if not inside.converts and inside.end in circuit.around:
                self.onward.setdefault(inside.start, []).append(inside.end)

    def out(self, first: Conductor | Passage) -> Iterator[Exit]:
        """Those that begin with one conductor or device."""

        def onward(here: Terminal) -> list[tuple[Part, Terminal]]:
            return [(first, self.start)] if here == self.start else self._ways(here)

        def unfused(here: Terminal) -> Iterator[tuple[Part, Terminal]]:
            yield from ((e, other_end(e, t)) for e, t in onward(here) if not is_overcurrent(e))

        walk = Walk([self.start], unfused)
        none: tuple[Conductor, ...] = ()
        before = walk.carried(none, self._conductors)
        for here in walk:
            for element, near in onward(here):
                there = other_end(element, near)
                if is_overcurrent(element):
                    yield self._to(element, near, there, self._since_starter(before[here], here))
                elif (last := walk.last(there)) and (last.way, last.here) == (element, here):
                    came = walk.last(here)
                    back = came is not None and came.way is element  # where it came in
                    passed = walk.passed(there)
                    if not back and not self._passes_two_engines(passed):
                        tie = self._between_engines(there, passed, before[there])
                        ends = self._end_at(there, element, before[there])
                        yield from (replace(end, tie=tie) for end in ends)

    def _passes_two_engines(self, parts: Sequence[Part]) -> bool:
        """True from one engine's battery through a switch by hand to the other's.

        The starting cable of each is judged by itself.
        """
        plan = self.circuit.plan
        passed = {terminal.component for part in parts for terminal in (part.start, part.end)}
        switched = any(isinstance(getattr(part, "device", None), Switch) for part in parts)
        batteries = passed & set(plan.batteries) - {self.start.component}
        return switched and bool(batteries) and len(passed & set(plan.starters)) > 1

    def _between_engines(
        self, there: Terminal, parts: Sequence[Part], cable: tuple[Conductor, ...]
    ) -> Tie | None:
        """The cable between the posts of two engines' batteries, which a switch by hand opens."""
        if not isinstance(self.components.get(there.component), Battery):
            return None
        for part in parts:
            switch = part.device if isinstance(part, Passage) else None
            if not isinstance(switch, Switch) or not _is_by_hand(switch):
                continue
            starters = [self._started_from(post, part) for post in (self.start, there)]
            found = [starter for starter in starters if starter is not None]
            if len(found) == len(starters):
                return Tie(switch, cable, max(found, key=lambda each: each.current.value))
        return None

    def _started_from(self, post: Terminal, opened: Part) -> Starter | None:
        """The starter that a battery turns without a fuse while a switch is open, if any."""
        near = self.circuit.walk(
            post, passes=lambda part: part is not opened and not is_overcurrent(part)
        )
        starters = (self._starter_at(here) for here in near)
        return next((starter for starter in starters if starter is not None), None)

    def _ways(self, here: Terminal) -> list[tuple[Part, Terminal]]:
        """What leads onward from a terminal, each with the terminal that it begins at."""
        if isinstance(self.components.get(here.component), Battery):
            return []
        begins = (here, *self.onward.get(here, ()))
        return [(e, t) for t in begins for e in self.circuit.around.get(t, ())]

    def _end_at(self, there: Terminal, came: Part, passed: tuple[Conductor, ...]) -> Iterator[Exit]:
        """The way that ends at a terminal, if one does."""
        component = self.components.get(there.component)
        if isinstance(component, ENDS) or all(e is came for e, _ in self._ways(there)):
            series = isinstance(component, Battery) and there.pole == "negative"
            name = there.component
            yield Exit(self.bank, passed, None, name, end=component, in_series=series, at=there)

    def _conductors(
        self, passed: tuple[Conductor, ...], step: Step[Terminal, Part]
    ) -> tuple[Conductor, ...]:
        passed = self._since_starter(passed, step.here)
        return (*passed, step.way) if isinstance(step.way, Conductor) else passed

    def _since_starter(
        self, passed: tuple[Conductor, ...], here: Terminal
    ) -> tuple[Conductor, ...]:
        """The cranking cable before a starter is judged by itself."""
        is_starter = isinstance(self.components.get(here.component), Starter)
        return () if is_starter else passed

    def _to(
        self, device: Passage, here: Terminal, there: Terminal, passed: tuple[Conductor, ...]
    ) -> Exit:
        """A way to an overcurrent device."""
        tie = self._ties.get(device)
        others = {part for each in self._ties.values() for part in each.cable}
        starting = self._cranking if tie is not None else self._cranking | others
        whole, passed = passed, tuple(part for part in passed if part not in starting)
        weak = _weak_end(self.circuit, device, there, passed)
        around = there in self._bare and self._metres_to(there) < self._metres_to(here)
        found = Exit(self.bank, passed, device, device.name, weak, around=around, tie=tie)
        return replace(found, branches_off=passed[:1] != whole[:1])

    @kept
    def _cranking(self) -> frozenset[Conductor]:
        """The cables to starters, sheathed all along: what branches off begins where it does.

        Those from other batteries too, to which no device is on the way.
        """
        starters = [t for t in self._bare if self._starter_at(t) is not None]
        posts = [t for t in self._bare if isinstance(self.components.get(t.component), Battery)]
        bare = [
            self.circuit.walk(t, passes=lambda part: not is_overcurrent(part)) for t in starters
        ]
        parts = [self._bare.passed(t) for t in starters]
        parts += [walk.passed(post) for walk in bare for post in posts if post != self.start]
        ways = [[part for part in way if isinstance(part, Conductor)] for way in parts]
        return frozenset(c for way in ways if all(p.wire.enclosed for p in way) for c in way)

    @kept
    def _ties(self) -> dict[Passage, Tie]:
        """For devices of other banks that bear a start: how those start the engine of this one."""
        starters = {t: starter for t in self._bare if (starter := self._starter_at(t)) is not None}
        found: dict[Passage, Tie] = {}
        for here in self._bare:
            for device in filter(is_overcurrent, self.circuit.around.get(here, ())):
                far = other_end(device, here)
                if far in self._bare or not self._leads_to_another_bank(device, far):
                    continue
                walk = self.circuit.walk(here, passes=lambda part: not is_overcurrent(part))
                for at, starter in starters.items():
                    way = walk.passed(at)
                    switch = self._tied_by(device, here, way)
                    if switch is not None and starter.current.value <= FUSE_BEARS * amps_of(device):
                        cable = tuple(part for part in way if isinstance(part, Conductor))
                        found[device] = Tie(switch, cable, starter)
        return found

    def _starter_at(self, here: Terminal) -> Starter | None:
        component = self.components.get(here.component)
        return component if isinstance(component, Starter) else None

    def _leads_to_another_bank(self, device: Passage, far: Terminal) -> bool:
        """True where a bank is behind a device, and no other device before it."""
        behind = self.circuit.walk(far, passes=lambda p: p is not device and not is_overcurrent(p))
        return any(isinstance(self.components.get(t.component), Battery) for t in behind)

    def _tied_by(self, device: Passage, here: Terminal, way: Sequence[Part]) -> Switch | None:
        """The switch by hand that joins two systems, on a way from a bank's device to a starter.

        A selector does, and a switch with more behind it than that bank; its main switch does not.
        """
        for part in way:
            if not isinstance(part, Passage) or not isinstance(part.device, Switch):
                continue
            switch = part.device
            if _is_by_hand(switch) and (
                isinstance(switch, Selector) or self._serves(device, here, part)
            ):
                return switch
        return None

    def _serves(self, device: Passage, here: Terminal, switch: Passage) -> bool:
        """True where more than a bank's own device is on its side of a switch."""
        near = self.circuit.walk(here, passes=lambda p: p is not switch and not is_overcurrent(p))
        parts = (part for at in near for part in self.circuit.around.get(at, ()))
        others = any(is_overcurrent(part) and part is not device for part in parts)
        return others or any(isinstance(self.components.get(t.component), ENDS) for t in near)

    def _metres_to(self, end: Terminal) -> float:
        """The least conductor (m) that leads to a terminal without an overcurrent device."""

        def bare(here: Terminal) -> Iterator[tuple[Part, Terminal]]:
            yield from (way for way in self.circuit.ways(here) if not is_overcurrent(way[0]))

        passed = cheapest(self.start, end, bare, _metres)
        return math.inf if passed is None else sum(map(_metres, passed))


def _metres(part: Part) -> float:
    return part.ends[1] - part.begins[0] if isinstance(part, Conductor) else 0.0


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
        weak = charger is not None and not is_alternator(charger)
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
                reached.sides,
            )
