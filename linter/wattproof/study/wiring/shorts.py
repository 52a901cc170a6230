"""Prospective currents: what banks drive into a short from pole to pole, at any place.

Every bank is a voltage, charged and at rest, behind its resistance; conductors are cold, of both
poles there and back. The current is steady, the rise being left out. Each place is one solution of
the same network: the voltage there before the short, over the resistance seen from there
(Thevenin), shared by the ways that lead to it. Source: IEC 61660-1:1997, sources as an emf behind a
resistance, partial currents that add up.
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import TypeAlias

from wattproof.circuit import Circuit, Conductor, Part, Passage, Terminal
from wattproof.circuit.walk import reached, steps
from wattproof.kept import KeptEach, kept
from wattproof.physics.nodal_network import Eliminated
from wattproof.plan.terminals import COMMON, POLES, other_pole, ports
from wattproof.record import record
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.study.wiring.bonds import bonds_of
from wattproof.study.wiring.inside import Inside
from wattproof.study.wiring.mesh import SIGNS, Cell, Flow, Link, Mesh
from wattproof.study.wiring.opposite import Opposites
from wattproof.study.wiring.ports import is_isolated
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, function, total

SNAP = 1e-9
"""Shares nearer than this to nothing or to all are the same."""

Weighed: TypeAlias = tuple[tuple[Terminal, float], ...]
"""Terminals, each with its weight."""


@record
class Short:
    """A short at one place, and what banks drive into it, or through a device beside it (A).

    current: of all banks together. banks: each with its part, which add up to it.
    """

    at: Terminal
    current: Value
    banks: tuple[tuple[BankStudy, Value], ...]


class Shorts:
    """Shorts on the battery side."""

    def __init__(
        self,
        circuit: Circuit,
        battery_side: BatterySide,
        wires: dict[str, WireStudy],
        lengths: dict[Conductor, float],
        inside: Inside,
    ) -> None:
        self.circuit = circuit
        self.battery_side = battery_side
        self.wires = wires
        self.lengths = lengths
        self.inside = inside
        self._ohms: KeptEach[tuple[str, float], Value] = KeptEach()
        self._weights: KeptEach[Terminal, Weighed | None] = KeptEach()
        self._solved: KeptEach[tuple[Terminal, Weighed], _Solved | None] = KeptEach()

    def at(self, terminal: Terminal) -> Short | None:
        """A short across both poles at a terminal; None where no bank reaches both."""
        solved = self._between(terminal)
        if solved is None:
            return None
        return self._short(terminal, solved, _words_at(terminal))

    def along(self, part: Conductor) -> Short | None:
        """The larger of the shorts at the two ends of a stretch; None without a bank."""
        return largest_of(self.at(end) for end in (part.start, part.end))

    def through(self, device: Passage) -> Short | None:
        """The most that passes a device with a short just beyond it, on either side."""
        return largest_of(self.through_from(device, start=start) for start in (True, False))

    def through_from(self, device: Passage, *, start: bool) -> Short | None:
        """What passes a device from its start on, or from its end, into a short just beyond it.

        In a negative it comes back through the device from there.
        """
        near = device.end if start else device.start
        solved = self._between(near)
        if solved is None or device not in self._links:
            return None
        share = solved.through(self._links[device])
        amps = share if start is (near.pole == "positive") else -share
        whole = solved.current
        if amps <= 1e-6:
            return None
        name = device.name
        words = f"prospective current through {name}"
        if math.isclose(amps, whole, rel_tol=SNAP):
            short = self._short(near, solved, words)
            named = short.current.named(f"Ik({name})", words, "A")
            return Short(near, named, short.banks)
        return self._passing(device, near, solved, amps)

    def to_chassis(self, terminal: Terminal) -> Short | None:
        """A positive that touches the chassis there; None where no bank is tied to it."""
        plus = Terminal(terminal.component, terminal.port, "positive")
        body = Terminal(COMMON[0], "", "negative")
        if plus not in self._mesh or body not in self._mesh:
            return None
        solved = self._solve(plus, _whole_at(body))
        if solved is None:
            return None
        words = f"what banks drive through the chassis from {terminal.component}"
        return self._short(plus, solved, words)

    def resistance(self, banks: list[BankStudy], terminal: Terminal) -> Value | None:
        """Resistance (Ω) from a terminal through some banks and back; None without a way."""
        banks = [part for bank in banks for part in bank.parts]
        names = {bank.name for bank in banks}
        mesh = Mesh(self._mesh.links, [c for c in self._mesh.cells if c.name in names])
        poles = [Terminal(terminal.component, terminal.port, pole) for pole in POLES]
        ends = [pole for pole in poles if pole in mesh]
        if not ends or not mesh.has_bank(ends[0]):
            return None
        flow = mesh.solve(dict(zip(ends, SIGNS, strict=False)))
        ohms = sum(sign * flow.volts(end) for end, sign in zip(ends, SIGNS, strict=False))
        inputs = self._on_the_way(flow, [b for b in banks if b.name in names])
        if len(banks) == 1 and all(_is_all(share) for _, share in inputs):
            return total([value for value, _ in inputs])
        return function("network", ohms, *(value for value, _ in inputs))

    @kept
    def _mesh(self) -> Mesh:
        links = []
        for part in self.circuit.battery_side:
            if not isinstance(part, Conductor):
                links.append(Link(part, part.start, part.end, 0.0))
                continue
            inside = self._opposites.stops.get(part, [])
            stops = [(0.0, part.start), *inside, (self.lengths[part], part.end)]
            for (a, start), (b, end) in itertools.pairwise(stops):
                ohms = self._cold(part.name, b - a).number
                links.append(Link((part, b - a), start, end, ohms))
        cells = [
            Cell(
                bank.name,
                Terminal(bank.name, "", "positive"),
                Terminal(bank.name, "", "negative"),
                self.inside.resistance(bank).number,
            )
            for bank in self.battery_side.banks.values()
        ]
        return Mesh([*links, *bonds_of(self.circuit)], cells)

    @kept
    def _links(self) -> Mapping[Passage, Link]:
        return {li.key: li for li in self._mesh.links if isinstance(li.key, Passage)}

    def _cold(self, wire: str, metres: float) -> Value:
        cold = self.wires[wire].cold_resistance_over
        return self._ohms.of((wire, metres), lambda: cold(metres))

    # Where the other pole is

    @kept
    def _opposites(self) -> Opposites:
        parts = [e for e in self.circuit.elements if isinstance(e, Conductor)]
        wholes = self.battery_side.wholes
        same = {part.name: bank.name for bank in wholes for part in bank.parts}
        return Opposites([part for part in parts if part in self.lengths], self.lengths, same)

    @kept
    def _posts(self) -> dict[Terminal, Terminal]:
        """The outer posts of batteries in series, each facing the other."""
        found: dict[Terminal, Terminal] = {}
        for bank in self.battery_side.wholes:
            plus = Terminal(bank.parts[0].name, "", "positive")
            minus = Terminal(bank.parts[-1].name, "", "negative")
            found[plus], found[minus] = minus, plus
        return found

    def _across(self, terminal: Terminal) -> Weighed | None:
        """The other pole at a place: terminals, each with its weight; None where none is known.

        Of a part that has both poles it is its own; inside a wire of both poles the place
        opposite; of bars for one pole each the bar that joins the same parts. In a conductor for
        one pole it lies between those at its two ends, as far along as the place is.
        """
        return self._weights.of(terminal, lambda: self._weighed(terminal))

    def _weighed(self, terminal: Terminal) -> Weighed | None:
        facing = self._facing(terminal)
        if facing is not None:
            return _whole_at(facing)
        anchors = self._anchors.get(terminal.pole, {})
        node = self._mesh.node(terminal)
        if node in anchors:
            return _whole_at(anchors[node])
        links = self._mesh.ways
        joined = _reached_from(node, links, set(anchors))
        if not joined & set(anchors):
            return None
        own = [(a, b, g) for a, b, g in links if {a, b} & (joined - set(anchors))]
        volts = Eliminated(own, joined & set(anchors)).voltages({node: 1.0})
        weights: dict[Terminal, float] = defaultdict(float)
        for a, b, siemens in own:
            for near, far in ((a, b), (b, a)):
                if near in anchors and far not in anchors:
                    weights[anchors[near]] += siemens * volts[far]
        return tuple((t, w) for t, w in weights.items() if w > SNAP)

    def _facing(self, terminal: Terminal) -> Terminal | None:
        """The terminal of the other pole at the same place, that a bank reaches; None without."""
        may_be = (
            self._opposites.facing.get(terminal),
            self._posts.get(terminal),
            _opposite(terminal),
            *self._shared(terminal),
            self._bars.get(terminal),
        )
        known = (facing for facing in may_be if facing is not None)
        return next((facing for facing in known if self._mesh.has_bank(facing)), None)

    def _shared(self, terminal: Terminal) -> list[Terminal]:
        """The other poles of what shares one between its ports."""
        part = self.battery_side.components.get(terminal.component)
        if part is None or is_isolated(part):
            return []
        pole = other_pole(terminal.pole)
        return [Terminal(terminal.component, port, pole) for port in ports(part)]

    @kept
    def _anchors(self) -> dict[str, dict[int, Terminal]]:
        """Nodes of each pole where the other pole is known, with that."""
        found: dict[str, dict[int, Terminal]] = {"positive": {}, "negative": {}}
        for terminal in self.circuit.around:
            if terminal in self._mesh and terminal.pole in found:
                facing = self._facing(terminal)
                if facing is not None:
                    found[terminal.pole].setdefault(self._mesh.node(terminal), facing)
        return found

    @kept
    def _bars(self) -> dict[Terminal, Terminal]:
        """Bars for one pole each, paired by how many parts they both join."""
        bars: dict[str, dict[Terminal, set[str]]] = {pole: {} for pole in POLES}
        for name in self.circuit.plan.busbars:
            ends = [t for p in POLES if (t := Terminal(name, "", p)) in self._mesh]
            if len(ends) == 1:
                bars[ends[0].pole][ends[0]] = self._joined_to(ends[0])
        pairs = [
            (-len(parts & others), plus, minus)
            for plus, parts in bars["positive"].items()
            for minus, others in bars["negative"].items()
            if parts & others
        ]
        found: dict[Terminal, Terminal] = {}
        for _, plus, minus in sorted(pairs):
            if plus not in found and minus not in found:
                found[plus], found[minus] = minus, plus
        return found

    def _joined_to(self, bar: Terminal) -> set[str]:
        """Parts that a bar is joined to by one way of wires and devices."""
        known = self.battery_side.components
        bars = self.circuit.plan.busbars
        ends: set[Terminal] = set()

        def onward(here: Terminal) -> Iterator[tuple[Part, Terminal]]:
            is_other_bar = here != bar and here.component in bars
            return iter(()) if here in ends or is_other_bar else self.circuit.ways(here)

        for step in steps([bar], onward):
            there = step.there
            ends_here = there.component in known and not isinstance(step.way, Passage)
            if step.first and ends_here and self._is_end(there):
                ends.add(there)
        return {terminal.component for terminal in ends}

    def _is_end(self, terminal: Terminal) -> bool:
        plan = self.circuit.plan
        through = (plan.in_the_way, plan.selectors, plan.busbars)
        return not any(terminal.component in family for family in through)

    # Solving

    def _between(self, terminal: Terminal) -> _Solved | None:
        if terminal not in self._mesh:
            return None
        other = self._across(terminal)
        return None if other is None else self._solve(terminal, other)

    def _solve(self, one: Terminal, other: Weighed) -> _Solved | None:
        def solve() -> _Solved | None:
            between = self._between_them(other)
            solved = _Solved(self._mesh, self._emfs, self._before, one, other, between)
            return solved if solved.is_fed else None

        return self._solved.of((one, other), solve)

    def _between_them(self, places: Weighed) -> float:
        """Resistance (Ω) that a place between others has on top of theirs, weighted."""
        whole = 0.0
        if len(places) == 1:
            return whole
        led_on = [p for p in places if p[0] in self._wiring]  # a post may have a bond alone
        for k, (one, weight) in enumerate(led_on):
            for other, further in led_on[:k]:
                if self._wiring.island(one) == self._wiring.island(other):
                    flow = self._wiring.solve({one: 1.0, other: -1.0})
                    whole += weight * further * (flow.volts(one) - flow.volts(other))
        return whole

    @kept
    def _wiring(self) -> Mesh:
        """The conductors without the banks."""
        return Mesh(self._mesh.links, [])

    @kept
    def _emfs(self) -> dict[str, float]:
        return {b.name: b.resting_voltage.number for b in self.battery_side.banks.values()}

    @kept
    def _before(self) -> Flow:
        """The network before any short."""
        given: dict[Terminal, float] = defaultdict(float)
        for cell in self._mesh.cells:
            amps = self._emfs[cell.name] / cell.ohms
            given[cell.positive] += amps
            given[cell.negative] -= amps
        return self._mesh.solve(given)

    def _short(self, at: Terminal, solved: _Solved, words: str) -> Short:
        """A short with what each bank drives into it."""
        shares = self._shares(solved)
        whole = self._whole(solved, [bank for bank, _ in shares])
        whole = whole.named(f"Ik({at.component})", words, "A")
        if len(shares) == 1:
            return Short(at, whole, ((shares[0][0], whole),))
        found = []
        for bank, share in shares:
            symbol = f"Ik({bank.name}→{at.component})"
            said = f"what {bank.name} drives into a short at {at.component}"
            part = function("network", share * solved.current, whole)
            found.append((bank, part.named(symbol, said, "A")))
        return Short(at, whole, tuple(found))

    def _shares(self, solved: _Solved) -> list[tuple[BankStudy, float]]:
        """Each bank with its part of a short; those in series as one where all give alike."""
        amounts = dict(solved.shares)
        found: list[tuple[BankStudy, float]] = []
        for bank in self.battery_side.wholes:
            own = [amounts[part.name] for part in bank.parts]
            if max(own) - min(own) < SNAP:
                found.append((bank, own[0]))
            else:
                found += zip(bank.parts, own, strict=True)
        return [(bank, share) for bank, share in found if abs(share) > SNAP]

    def _whole(self, solved: _Solved, banks: list[BankStudy]) -> Value:
        """The current of a short, with the voltages and resistances that it comes from."""
        inputs = self._on_the_way(solved.flow, banks)
        if len(banks) == 1 and all(_is_all(share) for _, share in inputs):
            return banks[0].resting_voltage / total([ohms for ohms, _ in inputs])
        volts = [bank.resting_voltage for bank in banks]
        return function("network", solved.current, *volts, *(ohms for ohms, _ in inputs))

    def _on_the_way(self, flow: Flow, banks: list[BankStudy]) -> list[tuple[Value, float]]:
        """Resistances (Ω) that a current flows through, inside banks first, with its share."""
        cells = {cell.name: cell for cell in self._mesh.cells}
        found = [(self.inside.resistance(b), flow.through(cells[b.name])) for b in banks]
        for link, share in flow.links():
            if abs(share) > SNAP and isinstance(link.key, tuple):
                part, metres = link.key
                found.append((self._cold(part.name, metres), share))
        return found

    def _passing(self, device: Passage, near: Terminal, solved: _Solved, amps: float) -> Short:
        """What passes a device, of a short that other ways feed as well."""
        name = device.name
        behind = self._behind(device, near)
        shares = self._shares(solved)
        whole = self._whole(solved, [bank for bank, _ in shares])
        parts = [(b, share) for b, share in shares if any(p.name in behind for p in b.parts)]
        weight = sum(share for _, share in parts)
        whole = whole.named(f"Ik({near.component})", _words_at(near), "A")
        words = f"prospective current through {name}"
        current = function("network", amps, whole).named(f"Ik({name})", words, "A")
        found = []
        for bank, share in parts:
            said = f"what {bank.name} drives through {name}"
            part = function("network", amps * share / weight, current)
            found.append((bank, part.named(f"Ik({bank.name}→{name})", said, "A")))
        return Short(near, current, tuple(found))

    def _behind(self, device: Passage, near: Terminal) -> set[str]:
        """Banks that reach a device from its far side without passing it."""
        far = device.start if near == device.end else device.end
        walk = self.circuit.walk(far, passes=lambda part: part is not device)
        found = {t.component for t in walk} & self.battery_side.banks.keys()
        return found or set(self.battery_side.banks)


class _Solved:
    """One short: its current, and what passes through everything."""

    def __init__(
        self,
        mesh: Mesh,
        emfs: dict[str, float],
        before: Flow,
        one: Terminal,
        other: Weighed,
        between: float,
    ) -> None:
        self._before = before
        self._emfs = emfs
        given = defaultdict(float, {one: 1.0})
        for terminal, weight in other:
            given[terminal] -= weight
        self.flow = mesh.solve(given)
        self._mesh = mesh

        def across(flow: Flow) -> float:
            return flow.volts(one) - sum(weight * flow.volts(t) for t, weight in other)

        self._volts, self._ohms = across(before), across(self.flow) + between
        joined = {mesh.island(t) for t, _ in other} == {mesh.island(one)}
        self.is_fed = joined and abs(self._volts) > 1e-6

    @kept
    def _signed(self) -> float:
        return self._volts / self._ohms

    @property
    def current(self) -> float:
        """The current of the short (A)."""
        return abs(self._signed)

    @property
    def shares(self) -> list[tuple[str, float]]:
        """Each bank with its part of the current; banks in series count the uppermost's."""
        return [(cell.name, self._of(cell) / self.current) for cell in self._mesh.cells]

    def _of(self, cell: Cell) -> float:
        """What comes out of the positive of a bank (A)."""
        idle = (self._emfs[cell.name] - self._before.across(cell)) / cell.ohms
        return idle - self._signed * self.flow.through(cell)

    def through(self, link: Link) -> float:
        """What a link carries from its start to its end (A)."""
        return self._before.in_link(link) - self._signed * self.flow.in_link(link)


def largest_of(shorts: Iterable[Short | None]) -> Short | None:
    """The largest of some, the first of those that differ in their last digits alone."""
    known = [short for short in shorts if short is not None]
    most = max((short.current.number for short in known), default=0.0)
    return next((s for s in known if math.isclose(s.current.number, most, rel_tol=SNAP)), None)


def _whole_at(terminal: Terminal) -> Weighed:
    return ((terminal, 1.0),)


def _is_all(share: float) -> bool:
    return math.isclose(abs(share), 1.0, rel_tol=SNAP)


def _words_at(terminal: Terminal) -> str:
    return f"what all banks together drive into a short at {terminal.component}"


def _reached_from(node: int, links: list[tuple[int, int, float]], stops: set[int]) -> set[int]:
    """Nodes that conductors lead to from one, not past some where it stops."""
    around: dict[int, set[int]] = {}
    for a, b, _ in links:
        around.setdefault(a, set()).add(b)
        around.setdefault(b, set()).add(a)
    return reached([node], lambda here: () if here in stops else around.get(here, ()))


def _opposite(terminal: Terminal) -> Terminal:
    return Terminal(terminal.component, terminal.port, other_pole(terminal.pole))
