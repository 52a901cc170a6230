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
from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import TypeAlias

from wattproof.circuit import Array, Circuit, Conductor, Passage, Terminal, is_overcurrent
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Charger, Controller, Inverter, Load
from wattproof.plan.splitting import Isolator
from wattproof.plan.starting import Starter
from wattproof.plan.terminals import by_name
from wattproof.record import record
from wattproof.study.arrays import device_rating
from wattproof.study.assumptions.batteries import LEAD
from wattproof.study.battery_side import BankStudy, BatterySide
from wattproof.study.wires import WireStudy
from wattproof.working import Value, declared, function, tabled, total

Devices: TypeAlias = tuple[Passage, ...]

ENDS = (Battery, Charger, Controller, Inverter, Load, Starter, Isolator)
"""What a way out of a bank ends at."""

MAX_MESH = 1000
"""Elements in rings and between batteries of which every cut is tried; beyond, the nearest way."""


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
        return sum(c.length or 0.0 for c in self.conductors)

    @property
    def distance_at_most(self) -> float:
        """The whole length of the wires before and around the device (m)."""
        wires = {c.wire.name: c.wire.length.value for c in self.conductors}
        return sum(wires.values())

    @property
    def length(self) -> Value:
        """Length of conductor before the device, as far as it is known (m), with its working."""
        known = [stretch_length(c) for c in self.conductors if c.length is not None]
        words = f"length of wire from {self.bank.name} to {self.reaches}"
        whole = total(known) if known else Value(0.0, "m")
        return whole.named(f"Lbare({self.bank.name})", words, "m")

    @property
    def to_bank(self) -> bool:
        """True where it leads to another bank."""
        return isinstance(self.end, Battery)

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
        return _rating(self.limiting, words, self.wire.name)

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
                largest = (max(devices, key=_amps),)
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
            there = _other(element, here)
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
        there = _other(element, here)
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
        name = _other(element, behind).component
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


def battery_feed(array: Array, net: PositiveNet) -> Value | None:
    """What banks drive to an array's controller for long (A); None where none is joined to it.

    The sum of the ratings that limit it, no limit where no device is on the way.
    """
    terminal = Terminal(array.controller.name, "battery", "positive")
    words = f"battery current that reaches {array.controller.name}"
    for reached in net.reached:
        if terminal in (reached.element.start, reached.element.end):
            return _rating(reached.limiting, words, str(array.controller.name))
    return None


@record
class _Reached:
    """An element on a positive net, and what feeds it: see Guard."""

    element: Conductor | Passage
    bank: BankStudy
    devices: Devices
    limiting: Devices
    fed_at: str
    into: Devices


class PositiveNet:
    """All that is joined to the positive terminals of some banks.

    The mesh is what lies in rings or between banks. Everything else hangs from it or from a single
    bank as the branches of a tree, where the smallest rating on the way is the answer.
    """

    def __init__(self, banks: Iterable[BankStudy], circuit: Circuit) -> None:
        self.circuit = circuit
        self.banks = {Terminal(bank.name, "", "positive"): bank for bank in banks}
        self.mesh = self._mesh()

    @cached_property
    def reached(self) -> tuple[_Reached, ...]:
        """Every element, from the banks outwards."""
        return tuple(self._walk())

    def _walk(self) -> Iterator[_Reached]:
        used: set[Conductor | Passage] = set()
        waiting: list[tuple[Terminal, BankStudy, Devices, Devices]] = [
            (terminal, bank, (), ()) for terminal, bank in self.banks.items()
        ]
        visited = set(self.banks)
        while waiting:
            here, bank, passed, limiting = waiting.pop(0)
            for element in self.circuit.around.get(here, ()):
                if element in used:
                    continue
                used.add(element)
                there = _other(element, here)
                if element in self.mesh:
                    worst, fed_at = self._worse_end(element)
                    yield _Reached(element, bank, passed, worst, fed_at, ())
                else:
                    into = self._into(element, there)
                    yield _Reached(element, bank, passed, limiting, here.component, into)
                if there not in visited:
                    visited.add(there)
                    inside = element in self.mesh
                    behind = self._least_cut(there) if inside else _through(element, limiting)
                    beyond = passed
                    if isinstance(element, Passage) and is_overcurrent(element):
                        beyond = (*passed, element)
                    waiting.append((there, bank, beyond, behind or ()))

    def _worse_end(self, element: Conductor | Passage) -> tuple[Devices, str]:
        """What limits the current into a short in an element of the mesh, and where it comes in."""
        ends = (element.start, element.end)
        cuts = [(cut, e) for e in ends if (cut := self._least_cut(e, element)) is not None]
        worst = max((cut for cut, _ in cuts), key=_sum_of_ratings, default=())
        return worst, cuts[0][1].component if len(cuts) == 1 else ""

    def _into(self, element: Conductor | Passage, end: Terminal) -> Devices:
        onward = [e for e in self.circuit.around.get(end, ()) if e is not element]
        devices = tuple(e for e in onward if isinstance(e, Passage) and is_overcurrent(e))
        return devices if len(devices) == len(onward) else ()

    def _mesh(self) -> frozenset[Conductor | Passage]:
        """What is left when all loose branches are cut off, again and again."""
        around = {t: set(es) for t, es in self._reachable().items()}
        loose = [t for t, es in around.items() if len(es) == 1 and t not in self.banks]
        while loose:
            here = loose.pop()
            for element in tuple(around[here]):
                there = _other(element, here)
                around[here].discard(element)
                around[there].discard(element)
                if len(around[there]) == 1 and there not in self.banks:
                    loose.append(there)
        mesh = frozenset(e for es in around.values() for e in es)
        return mesh if len(mesh) <= MAX_MESH else frozenset()

    def _reachable(self) -> dict[Terminal, tuple[Conductor | Passage, ...]]:
        found: dict[Terminal, tuple[Conductor | Passage, ...]] = {}
        waiting = list(self.banks)
        while waiting:
            here = waiting.pop()
            if here not in found:
                found[here] = self.circuit.around.get(here, ())
                waiting.extend(_other(e, here) for e in found[here])
        return found

    def _least_cut(
        self, target: Terminal, without: Conductor | Passage | None = None
    ) -> Devices | None:
        """The devices with the least sum of ratings that cut a terminal off all banks.

        Empty where a way without any device leads to it, None where no bank reaches it.
        """
        groups = _Groups(self.mesh - {without} if without is not None else self.mesh)
        source = groups.together(self.banks)
        sink = groups.of(target)
        if source == sink:
            return ()
        edges = [(groups.of(d.start), groups.of(d.end), d) for d in groups.devices]
        room: dict[Terminal, dict[Terminal, float]] = {source: {}, sink: {}}
        for a, b, device in edges:
            rating = _amps(device)
            for x, y in ((a, b), (b, a)):
                room.setdefault(x, {})
                room[x][y] = room[x].get(y, 0.0) + rating
        if sink not in _flooded(room, source, dry=-1.0):
            return None
        while (way := _flooded(room, source)).get(sink) is not None:
            _fill(room, way, source, sink)
        near = _flooded(room, source)
        return tuple(device for a, b, device in edges if (a in near) != (b in near))


class _Groups:
    """Terminals joined by anything that does not open by itself; the devices between them."""

    def __init__(self, elements: Iterable[Conductor | Passage]) -> None:
        self._parent: dict[Terminal, Terminal] = {}
        self.devices: list[Passage] = []
        for element in elements:
            if isinstance(element, Passage) and is_overcurrent(element):
                self.devices.append(element)
            else:
                self._parent[self.of(element.start)] = self.of(element.end)
        self.devices.sort(key=lambda d: (d.device.at, d.name))

    def of(self, terminal: Terminal) -> Terminal:
        """The terminal that stands for its group."""
        while (parent := self._parent.get(terminal, terminal)) != terminal:
            self._parent[terminal] = self._parent.get(parent, parent)
            terminal = parent
        return terminal

    def together(self, terminals: Iterable[Terminal]) -> Terminal:
        """Join some terminals into one group; the terminal that stands for it."""
        first, *others = terminals
        for other in others:
            if self.of(other) != self.of(first):
                self._parent[self.of(other)] = self.of(first)
        return self.of(first)


def _flooded(
    room: dict[Terminal, dict[Terminal, float]], source: Terminal, dry: float = 1e-9
) -> dict[Terminal, Terminal]:
    """Groups that a further current from the source can reach, each with the one before it."""
    before = {source: source}
    waiting = [source]
    while waiting:
        here = waiting.pop(0)
        for there, amps in room[here].items():
            if amps > dry and there not in before:
                before[there] = here
                waiting.append(there)
    return before


def _fill(
    room: dict[Terminal, dict[Terminal, float]],
    before: dict[Terminal, Terminal],
    source: Terminal,
    sink: Terminal,
) -> None:
    """Send as much current as there is room for along the way just found."""
    way = [sink]
    while way[-1] != source:
        way.append(before[way[-1]])
    steps = list(zip(way[1:], way, strict=False))
    amps = min(room[a][b] for a, b in steps)
    for a, b in steps:
        room[a][b] -= amps
        room[b][a] += amps


def _rating(devices: Devices, words: str, name: str) -> Value:
    """Sum of ratings with its working (A): without limit where there are no devices."""
    if not devices:
        return tabled(math.inf, "A", f"In({name})", words, "a battery is stiff")
    ratings = [device_rating(d) for d in devices]
    if len(ratings) == 1:
        return ratings[0]
    return total(ratings).named(f"In({name})", words, "A")


def _amps(device: Passage) -> float:
    """Rated current (A)."""
    return device_rating(device).number


def _sum_of_ratings(devices: Devices) -> float:
    """Sum of ratings (A): without limit where there are no devices."""
    return sum(_amps(device) for device in devices) if devices else math.inf


def _through(element: Conductor | Passage, limiting: Devices) -> Devices:
    """What limits the current behind an element on a single way; the last of equal devices."""
    if not isinstance(element, Passage) or not is_overcurrent(element):
        return limiting
    return (element,) if _sum_of_ratings((element,)) <= _sum_of_ratings(limiting) else limiting


def _other(element: Conductor | Passage, here: Terminal) -> Terminal:
    return element.end if element.start == here else element.start
