"""What limits for long how much the banks can drive into any place of the positive side.

On a single way that is the smallest rating on it. Where several ways or several batteries lead to
the same stretch it is the smallest sum of ratings that cuts them all off (the least cut of a
network: Ford and Fulkerson, "Maximal flow through a network", Canadian J. Math. 8, 1956): three
batteries with a 100 A fuse each feed what lies behind them with 300 A.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import NamedTuple, TypeAlias

from wattproof.circuit import Array, Circuit, Conductor, Passage, Terminal, is_overcurrent
from wattproof.record import record
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.battery.side import BankStudy
from wattproof.working import Value, tabled, total

Devices: TypeAlias = tuple[Passage, ...]

MAX_MESH = 1000
"""Elements in rings and between batteries of which every cut is tried; beyond, the nearest way."""


def battery_feed(array: Array, net: PositiveNet) -> Value | None:
    """What banks drive to an array's controller for long (A); None where none is joined to it.

    The sum of the ratings that limit it, no limit where no device is on the way.
    """
    terminal = Terminal(array.controller.name, "battery", "positive")
    words = f"battery current that reaches {array.controller.name}"
    for reached in net.reached:
        if terminal in (reached.element.start, reached.element.end):
            return rating_of(reached.limiting, words, str(array.controller.name))
    return None


class Fed(NamedTuple):
    """A side from which banks feed an element.

    end: where their current comes in. limiting: overcurrent devices whose ratings added up are the
    least that cuts it off; empty where a way without any device leads to it.
    """

    end: Terminal
    banks: tuple[BankStudy, ...]
    limiting: Devices


@record
class Reached:
    """An element on a positive net, and what feeds it: see `Guard`.

    sides: one, or two for an element in a ring or between banks.
    """

    element: Conductor | Passage
    bank: BankStudy
    devices: Devices
    limiting: Devices
    fed_at: str
    into: Devices
    sides: tuple[Fed, ...]


class PositiveNet:
    """All that is joined to the positive terminals of some banks.

    The mesh is what lies in rings or between banks. Everything else hangs from it or from a single
    bank as the branches of a tree, where the smallest rating on the way is the answer.
    """

    def __init__(self, banks: Iterable[BankStudy], circuit: Circuit) -> None:
        self.circuit = circuit
        self.banks = {Terminal(bank.name, "", "positive"): bank for bank in banks}
        self.mesh = self._mesh()
        self._limits: dict[Terminal, Devices] = {}

    @cached_property
    def reached(self) -> tuple[Reached, ...]:
        """Every element, from the banks outwards."""
        return tuple(self._walk())

    @cached_property
    def at(self) -> dict[Terminal, Devices]:
        """What limits for long the current into a short at each terminal that banks feed."""
        assert self.reached is not None
        return self._limits

    def _walk(self) -> Iterator[Reached]:
        used: set[Conductor | Passage] = set()
        waiting: list[tuple[Terminal, tuple[BankStudy, ...], Devices, Devices]] = [
            (terminal, (bank,), (), ()) for terminal, bank in self.banks.items()
        ]
        visited = set(self.banks)
        while waiting:
            here, banks, passed, limiting = waiting.pop(0)
            self._limits[here] = limiting
            for inside in self._insides.get(here, ()):
                if inside not in visited:
                    visited.add(inside)
                    waiting.append((inside, banks, passed, limiting))
            for element in self.circuit.around.get(here, ()):
                if element in used:
                    continue
                used.add(element)
                there, inside_mesh, own = other_end(element, here), element in self.mesh, banks
                if inside_mesh:
                    sides = self._fed_ends(element)
                    worst = max((fed.limiting for fed in sides), key=_sum_of_ratings, default=())
                    fed_at = sides[0].end.component if len(sides) == 1 else ""
                    yield Reached(element, banks[0], passed, worst, fed_at, (), sides)
                else:
                    into = self._into(element, there)
                    side = (Fed(here, banks, limiting),)
                    yield Reached(element, banks[0], passed, limiting, here.component, into, side)
                if there not in visited:
                    visited.add(there)
                    if inside_mesh:
                        behind, own = self._least_cut(there), self._banks_at(there)
                    else:
                        behind = _through(element, limiting)
                    beyond = passed
                    if isinstance(element, Passage) and is_overcurrent(element):
                        beyond = (*passed, element)
                    nearest = (banks[0], *(b for b in own if b is not banks[0]))
                    waiting.append((there, nearest, beyond, behind or ()))

    @cached_property
    def _insides(self) -> dict[Terminal, list[Terminal]]:
        """Where battery current passes on inside a case, one way only: to load terminals."""
        found: dict[Terminal, list[Terminal]] = {}
        for inside in self.circuit.insides:
            if not inside.converts and inside.end in self.circuit.around:
                found.setdefault(inside.start, []).append(inside.end)
        return found

    def _fed_ends(self, element: Conductor | Passage) -> tuple[Fed, ...]:
        """What limits the current into a short in an element of the mesh, from either end."""
        ends = (element.start, element.end)
        cuts = [(e, cut) for e in ends if (cut := self._least_cut(e, element)) is not None]
        return tuple(Fed(e, self._banks_at(e, element), cut) for e, cut in cuts)

    def _banks_at(
        self, target: Terminal, without: Conductor | Passage | None = None
    ) -> tuple[BankStudy, ...]:
        """The banks that reach a terminal of the mesh, with or without one of its elements."""
        groups = _Groups(self.mesh - {without} if without is not None else self.mesh, closed=True)
        own = groups.of(target)
        return tuple(bank for terminal, bank in self.banks.items() if groups.of(terminal) == own)

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
                there = other_end(element, here)
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
                waiting.extend(other_end(e, here) for e in found[here])
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
            rating = amps_of(device)
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

    def __init__(self, elements: Iterable[Conductor | Passage], *, closed: bool = False) -> None:
        """closed: True where devices join their two ends."""
        self._parent: dict[Terminal, Terminal] = {}
        self.devices: list[Passage] = []
        for element in elements:
            if not closed and isinstance(element, Passage) and is_overcurrent(element):
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


def rating_of(devices: Devices, words: str, name: str) -> Value:
    """Sum of ratings with its working (A): without limit where there are no devices."""
    if not devices:
        return tabled(math.inf, "A", f"In({name})", words, "a battery is stiff")
    ratings = [device_rating(d) for d in devices]
    if len(ratings) == 1:
        return ratings[0]
    return total(ratings).named(f"In({name})", words, "A")


def amps_of(device: Passage) -> float:
    """Rated current (A)."""
    return device_rating(device).number


def _sum_of_ratings(devices: Devices) -> float:
    """Sum of ratings (A): without limit where there are no devices."""
    return sum(amps_of(device) for device in devices) if devices else math.inf


def _through(element: Conductor | Passage, limiting: Devices) -> Devices:
    """What limits the current behind an element on a single way; the last of equal devices."""
    if not isinstance(element, Passage) or not is_overcurrent(element):
        return limiting
    return (element,) if _sum_of_ratings((element,)) <= _sum_of_ratings(limiting) else limiting


def other_end(element: Conductor | Passage, here: Terminal) -> Terminal:
    return element.end if element.start == here else element.start
