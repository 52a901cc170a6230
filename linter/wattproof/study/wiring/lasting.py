"""The lasting current of every conductor and device, from one solved network.

Sources and consumers push and draw their currents, banks share in them by the resistance inside
them and on their leads, hot. What a part carries is a sum of shares of those currents, so that the
largest over all that can run at once is the sum of those that flow one way. Three cases more:
banks that are no like packs of one bank may be full and take nothing, and then others take all that
sources give, of an alternator's fixed voltage no more than the wires let through; switches between
banks may be open, and then each bank carries its own alone; and where no bank is, sources give what
consumers draw.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import TypeAlias
from weakref import proxy

from wattproof.circuit import Circuit, Conductor, Part, Passage, Terminal, other_end
from wattproof.circuit.groups import Groups
from wattproof.kept import KeptEach, kept
from wattproof.plan.power import Charger, Controller, is_alternator
from wattproof.plan.together import on_at_once
from wattproof.plan.wiring import Bond
from wattproof.record import record
from wattproof.study.assumptions.rows import PRACTICE
from wattproof.study.assumptions.units import EMPTY_ON_ALTERNATOR_PER_12_V
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.study.limits import over
from wattproof.study.wiring.bonds import bonds_of
from wattproof.study.wiring.brief import Brief
from wattproof.study.wiring.inside import Inside
from wattproof.study.wiring.mesh import SIGNS, Cell, Flow, Link, Mesh
from wattproof.study.wiring.partings import Open, partings
from wattproof.study.wiring.ports import Flow as Kind
from wattproof.study.wiring.ports import Port, at_once
from wattproof.study.wiring.settled import driven, settled
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, declared, function, largest, smallest, tabled, total

Carrier: TypeAlias = Part | Bond
"""What a lasting current passes through."""

SNAP = 1e-9
"""Shares nearer than this to each other, to nothing or to all are the same."""


@record
class Share:
    """What part of a port's current passes through something, and which way.

    amount: of each ampere given, from the start to the end; of each drawn with its sign turned.
    even: True where it follows from lengths and from what is alike, whatever the resistances.
    """

    port: Port
    amount: float
    even: bool


@record
class CutOff:
    """What a conductor or device carries when a bank is cut off (A). name: of the bank."""

    name: str
    current: Value


class Lasting:
    """Lasting currents of the battery side."""

    def __init__(
        self,
        circuit: Circuit,
        battery_side: BatterySide,
        wires: dict[str, WireStudy],
        lengths: dict[Conductor, float],
        ports: Iterable[Port],
        inside: Inside,
    ) -> None:
        self.circuit = circuit
        self.battery_side = battery_side
        self.wires = wires
        self.lengths = lengths
        self.ports = tuple(ports)
        self.inside = inside
        self.bonds = tuple(bonds_of(circuit))
        self._cases: KeptEach[tuple[frozenset[str], Open], _Case] = KeptEach()
        self._ohms: KeptEach[Conductor, Value] = KeptEach()
        self._taken: KeptEach[tuple[Terminal, Terminal], Flow] = KeptEach()
        self._found: KeptEach[tuple[Part, Kind | None, bool, bool, str], Value | None] = KeptEach()
        if any(port.at_power is not None for port in self.ports):
            self._settle()

    def _settle(self) -> None:
        """Give consumers of a power the current that the voltage at their terminals takes."""
        case = self._case(self._all)
        flows = {port: case.flow(port) for port in self.ports}
        ohms = {
            port: [*case.inside(flow), *map(case.ohms, case.ways_to(flow))]
            for port, flow in flows.items()
            if port.at_power is not None
        }
        found = settled(self.ports, case.mesh, flows, ohms)
        after = {
            port: replace(port, current=found[port], rated=found[port]) if port in found else port
            for port in self.ports
        }
        self.ports = tuple(after.values())
        case.settled = {after[port]: flow for port, flow in flows.items()}

    def current(
        self,
        part: Part,
        kind: Kind | None = None,
        *,
        rated: bool = False,
        steady: bool = False,
        along: str = "",
    ) -> Value | None:
        """The largest lasting current (A) of a part; None where it carries none.

        kind: what charges alone, or what is drawn alone. rated: with controllers at their rating.
        steady: without what runs for minutes. along: only the way in which the current of that
        component passes, where it passes at all.
        """
        asked = (part, kind, rated, steady, along)
        return self._found.of(asked, lambda: self._current(*asked))

    def through_bond(self, bond: Bond) -> Value | None:
        """The largest lasting current (A) that a bond alone brings back; None where it has none."""
        return self._largest(bond, None, False, False, "")

    def consumed_through(self, bond: Bond) -> Value | None:
        """What of that consumers draw (A), vehicle chargers left out; None for nothing."""
        found = self._case(self._all).consumed(bond)
        words = f"what consumers draw through {bond.name}"
        return largest(found).named(f"I({bond.name})", words, "A") if found else None

    def brief(self, part: Carrier) -> Brief | None:
        """What of the current of a part lasts, where the rest runs for minutes; None without.

        Nor where as much of it lasts: what charges is then the most that it carries.
        """
        if not self._any_is_brief:
            return None
        if not isinstance(part, Bond) and part not in self.circuit.battery_side:
            return None
        times = self._case(self._all).runs_of(part)
        if not times:
            return None
        steady, whole = (
            (self._largest(part, None, False, True, ""), self.through_bond(part))
            if isinstance(part, Bond)
            else (self.current(part, steady=True), self.current(part))
        )
        if steady is not None and whole is not None and not over(whole.number, steady.number):
            return None
        return Brief(steady if steady is not None else Value(0.0, "A"), largest(times))

    @kept
    def _any_is_brief(self) -> bool:
        """Whether anything runs for minutes."""
        return any(port.lasts is not None for port in self.ports)

    def when_cut_off(self, part: Part) -> tuple[CutOff, ...]:
        """What a part carries with each bank cut off in turn, where that is more than else."""
        if not self._several or not self._case(self._all).is_shared(part):
            return ()
        whole = self.current(part)
        most = whole.number if whole is not None else 0.0
        found: list[CutOff] = []
        for name, names in self._several:
            amps = self._case(self._all - names).at_once(part)
            if amps is not None and over(amps.number, most):
                words = f"current in {part.name} with {name} cut off"
                found.append(CutOff(name, amps.named(f"I({part.name})", words, "A")))
        return tuple(found)

    def on(self, draws: Sequence[tuple[Port, float]]) -> list[bool]:
        """Which of some consumers run where they draw the most together (A each)."""
        lists = self.circuit.plan.together or ()
        return on_at_once(lists, [(str(port.component.name), amps) for port, amps in draws])

    def share_of(self, part: Part, at: Terminal) -> Value | None:
        """What share of a current taken out at a terminal passes through a part, whichever way."""
        case = self._case(self._all)
        plus, minus = (Terminal(at.component, at.port, pole) for pole in ("positive", "negative"))
        if part not in case.links or not (plus in case.mesh and minus in case.mesh):
            return None
        flow = self._taken_at(plus, minus)
        amount = abs(flow.in_link(case.links[part]))
        if not amount:
            return None
        inputs = [*case.inside(flow), *map(case.ohms, case.carrying(flow))]
        words = f"share of what is taken out at {at.component} that passes through {part.name}"
        return function("network", amount, *inputs).named(f"s({part.name})", words, "%")

    def _taken_at(self, plus: Terminal, minus: Terminal) -> Flow:
        """What one ampere drives that is taken out between two terminals."""

        def solve() -> Flow:
            return self._case(self._all).mesh.solve(dict(zip((minus, plus), SIGNS, strict=True)))

        return self._taken.of((plus, minus), solve)

    def shares(self, banks: Sequence[BankStudy], port: Port) -> list[Value] | None:
        """The share of each bank in what a port gives or draws; None where none has any."""
        case = self._case(self._all)
        flow = case.flows[port]
        cells = {cell.name: cell for cell in case.mesh.cells}
        amounts = [-flow.through(cells[bank.name]) for bank in banks]
        if sum(amounts) < SNAP:
            return None
        inputs = [self.inside.resistance(bank) for bank in banks]
        inputs += [case.ohms(c) for c in case.carrying(flow)]
        doing = "gives" if port.kind == "charge" else "draws"
        return [
            function("network", amount, *inputs).named(
                f"s({bank.name})", f"share of {bank.name} in what {port.name} {doing}", "%"
            )
            for bank, amount in zip(banks, amounts, strict=True)
        ]

    def let_into(self, bank: BankStudy, port: Port) -> Value | None:
        """The most that the wires let into a bank from an alternator, the others full (A).

        With its packs beside it. None where they leave it all its current.
        """
        names = {part.name for part in bank.parts}
        full = next((full for full in self._full if names.isdisjoint(full)), None)
        less = None if full is None else self._case(self._all - full).let_through.get(port)
        return None if less is None else less.current

    @kept
    def _all(self) -> frozenset[str]:
        return frozenset(self.battery_side.banks)

    def _case(self, banks: frozenset[str], away: Open = frozenset()) -> _Case:
        return self._cases.of((banks, away), lambda: _Case(self, banks, away))

    def _current(
        self, part: Part, kind: Kind | None, rated: bool, steady: bool, along: str
    ) -> Value | None:
        if part not in self.circuit.battery_side:
            return None
        return self._largest(part, kind, rated, steady, along)

    def _largest(
        self, part: Carrier, kind: Kind | None, rated: bool, steady: bool, along: str
    ) -> Value | None:
        cases = [(self._case(self._all, away), kind) for away in (frozenset(), *self._parted)]
        if kind != "draw":
            cases += [(case, "charge") for case in self._with_full]
        passes = any(case.drives(part, along, sign) for case, _ in cases for sign in SIGNS)
        ways = [
            amps
            for case, of in cases
            for sign, amps in zip(SIGNS, case.both_ways(part, of, rated, steady), strict=True)
            if not passes or case.drives(part, along, sign)
        ]
        found: list[Value] = []
        for amps in ways:
            if amps is not None and all(not _same(amps, other) for other in found):
                found.append(amps)
        if not found:
            return None
        if kind is not None:
            return largest(found)
        return largest(found).named(f"I({part.name})", f"lasting current in {part.name}", "A")

    def ohms(self, part: Conductor) -> Value:
        """Hot resistance of a conductor (Ω)."""
        wire, length = self.wires[part.name], self.lengths[part]
        return self._ohms.of(part, lambda: wire.hot_resistance_over(length))

    @kept
    def _joined(self) -> list[set[str]]:
        """Names of banks whose positives are one net, or that are in series with one of them."""
        return _together(list(self.battery_side.banks), lambda one, other: self._side(one, other))

    @kept
    def _several(self) -> tuple[tuple[str, frozenset[str]], ...]:
        """Banks beside others that may cut off, with all that are in series with each."""
        wholes = {b.name: frozenset(p.name for p in b.parts) for b in self.battery_side.wholes}
        return tuple(
            (name, names)
            for name, names in wholes.items()
            if any(names < joined for joined in self._joined) and self._may_cut_off(names)
        )

    def _may_cut_off(self, names: frozenset[str]) -> bool:
        """True where management, a fuse or a switch can part a bank from the others."""
        banks = [self.battery_side.banks[name] for name in names]
        return any(not bank.is_lead for bank in banks) or any(
            self._has_device(Terminal(name, "", pole))
            for name in names
            for pole in ("positive", "negative")
        )

    def _has_device(self, post: Terminal) -> bool:
        """True where a device is on the only way from a post, before it branches."""
        here, passed = post, None
        while True:
            onward = [e for e in self.circuit.around.get(here, ()) if e is not passed]
            if len(onward) != 1:
                return False
            [passed] = onward
            if isinstance(passed, Passage):
                return True
            here = other_end(passed, here)

    @kept
    def _full(self) -> tuple[frozenset[str], ...]:
        """For each bank among others that are none of its packs: those others, full."""
        found = []
        for joined in self._joined:
            groups = _together(sorted(joined), lambda one, other: self._like(one, other))
            if len(groups) > 1:
                found += [frozenset(joined - group) for group in groups]
        return tuple(found)

    @kept
    def _with_full(self) -> tuple[_Case, ...]:
        """With some banks full; and where several switches part banks, in each way they stand."""
        found: list[_Case] = []
        for full in self._full:
            joined = self._case(self._all - full)
            ways = self._parted if len(self._parted) > 1 else ()
            parted = (self._case(self._all - full, away) for away in ways)
            found += [joined, *(case for case in parted if case.feeds_as_many_as(joined))]
        return tuple(found)

    def _side(self, one: str, other: str) -> bool:
        """True where two banks are side by side or in series."""
        (plus, minus), (plus_2, minus_2) = self._ends[one], self._ends[other]
        return plus in (plus_2, minus_2) or minus == plus_2

    @kept
    def _ends(self) -> dict[str, tuple[Terminal, Terminal]]:
        net = self.circuit.nets.net
        return {
            name: (net(Terminal(name, "", "positive")), net(Terminal(name, "", "negative")))
            for name in self.battery_side.banks
        }

    def _like(self, one: str, other: str) -> bool:
        """True where two banks are packs of one bank, side by side or in series.

        Alike ones side by side are, unless each has sources or consumers of its own on its side of
        a switch or relay.
        """
        if not self._side(one, other):
            return False
        if self._ends[one][0] != self._ends[other][0]:
            return True
        banks = [self.battery_side.banks[name] for name in (one, other)]
        labels = {(b.battery.chemistry, b.capacity.number, b.nominal.number) for b in banks}
        first, second = self._zones[one], self._zones[other]
        apart = first != second and first & self._busy and second & self._busy
        return len(labels) == 1 and not apart

    @kept
    def _parted(self) -> tuple[Open, ...]:
        """What is open where switches between banks part them, and still a bank is on all."""
        starters = (Terminal(name, "", "positive") for name in self.circuit.plan.starters)
        posts = self.battery_side.posts
        found = partings(self.circuit.battery_side, self.circuit, posts, self._busy.union(starters))
        joined = self._case(self._all)
        return tuple(away for away in found if self._case(self._all, away).feeds_as_many_as(joined))

    @kept
    def _busy(self) -> frozenset[Terminal]:
        return frozenset(port.plus for port in self.ports)

    @kept
    def _zones(self) -> dict[str, frozenset[Terminal]]:
        """What each bank's positive is joined to without a switch between."""
        joined = self.circuit.joined_for_good
        return {name: joined(Terminal(name, "", "positive")) for name in self.battery_side.banks}


class _Case:
    """The network with some of the banks: what each port drives through each part.

    away: what is open.
    """

    def __init__(self, lasting: Lasting, banks: frozenset[str], away: Open) -> None:
        self.lasting: Lasting = proxy(lasting)  # which holds this: both go at once with the study
        self.away = away
        self.banks = [b for n, b in lasting.battery_side.banks.items() if n in banks]
        self.mesh = self._mesh(even=False)
        self.links = {link.key: link for link in self.mesh.links}
        self.settled: dict[Port, Flow] = {}
        self._without_full = len(banks) < len(lasting.battery_side.banks)
        self._passing: KeptEach[Carrier, list[Share]] = KeptEach()
        self._driving: KeptEach[Carrier, frozenset[tuple[str, float]]] = KeptEach()
        self._both_ways: KeptEach[
            tuple[Carrier, Kind | None, bool, bool], tuple[Value | None, Value | None]
        ] = KeptEach()

    @kept
    def flows(self) -> dict[Port, Flow]:
        """What one ampere of each port drives; found before where their currents were settled."""
        return self.settled or {port: self.flow(port) for port in self.lasting.ports}

    def flow(self, port: Port) -> Flow:
        """What one ampere of a port drives."""
        return self._flow(port, self.mesh)

    def feeds_as_many_as(self, other: _Case) -> bool:
        """True where a bank is on every port that has one in another case."""
        return self._alone.keys() == other._alone.keys()

    def at_once(self, part: Part) -> Value | None:
        """The most that it carries with all consumers at once, all sources, or both (A)."""
        if part not in self.links:
            return None
        link = self.links[part]
        found = [(whole, flow.in_link(link)) for whole, flow in self._all_at_once]
        if not found:
            return None
        wholes, amps = zip(*found, strict=True)
        found.append((total(list(wholes)), sum(amps)))
        whole, most = max(found, key=lambda pair: abs(pair[1]))
        return function("network", abs(most), whole)

    @kept
    def _all_at_once(self) -> list[tuple[Value, Flow]]:
        """All that consumers draw, and all that sources give, with what each drives."""
        found = []
        for kind, sign, words in (("draw", -1.0, "drawn"), ("charge", 1.0, "given")):
            ports = [
                port
                for port in self.lasting.ports
                if port.kind == kind and port.plus in self.mesh and port not in self._alone
            ]
            counts = at_once([(port.component, port.current.number) for port in ports])
            if kind == "draw":
                counts = self.lasting.on([(port, port.current.number) for port in ports])
            ports = [p for p, counted in zip(ports, counts, strict=True) if counted]
            if ports:
                whole = total([port.current for port in ports])
                whole = whole.named(f"I{kind}", f"all that is {words} at once", "A")
                amps = {port: sign * port.current.number for port in ports}
                found.append((whole, driven(amps, self.mesh)))
        return found

    def is_shared(self, part: Part) -> bool:
        """True where it carries a part of what some port gives or draws, and not all."""
        return any(SNAP < abs(share.amount) < 1.0 - SNAP for share in self._shares(part))

    def runs_of(self, part: Carrier) -> list[Value]:
        """How long (s) each thing of short duty runs whose current passes."""
        return [share.port.lasts for share in self._shares(part) if share.port.lasts is not None]

    def consumed(self, part: Carrier) -> list[Value]:
        """What consumers draw through a part, each way where they do (A)."""
        drawn = [s for s in self._shares(part) if not isinstance(s.port.component, Controller)]
        ways = (self._one_way(part, drawn, sign, "draw", False) for sign in SIGNS)
        return [amps for amps in ways if amps is not None]

    def both_ways(
        self, part: Carrier, kind: Kind | None, rated: bool, steady: bool
    ) -> tuple[Value | None, Value | None]:
        """The most that flows from its start to its end, and back (A)."""

        def work_out() -> tuple[Value | None, Value | None]:
            shares = [s for s in self._shares(part) if not steady or s.port.lasts is None]
            one, other = (self._one_way(part, shares, sign, kind, rated) for sign in SIGNS)
            return one, other

        return self._both_ways.of((part, kind, rated, steady), work_out)

    def drives(self, part: Carrier, component: str, sign: float) -> bool:
        """True where what a component gives or draws passes from start to end, or back."""
        return bool(component) and (component, sign) in self._driving.of(
            part, lambda: self._driven_through(part)
        )

    def _driven_through(self, part: Carrier) -> frozenset[tuple[str, float]]:
        """The components whose current passes a part, each with the way in which it does."""
        shares = [s for s in self._shares(part) if abs(s.amount) > SNAP]
        return frozenset((s.port.name, math.copysign(1.0, s.amount)) for s in shares)

    def _one_way(
        self, part: Carrier, shares: list[Share], sign: float, kind: Kind | None, rated: bool
    ) -> Value | None:
        """What banks and ports on them drive one way, and what sources without a bank give."""
        with_bank = [s for s in shares if s.port not in self._alone]
        way = [s for s in with_bank if math.copysign(1.0, s.amount) == sign]
        found = [self._added(part, way, kind, rated)]
        islands: dict[int, list[Share]] = {}
        for share in shares:
            if share.port in self._alone:
                islands.setdefault(self._alone[share.port], []).append(share)
        found += [self._matched(own, sign, kind, rated) for own in islands.values()]
        known = [amps for amps in found if amps is not None]
        return total(known) if known else None

    @kept
    def _alone(self) -> dict[Port, int]:
        """Ports whose positive no bank is joined to, with the island that it is in."""
        return {
            port: self.mesh.island(port.plus)
            for port in self.lasting.ports
            if port.plus in self.mesh and not self.mesh.has_bank(port.plus)
        }

    def ohms(self, part: Conductor) -> Value:
        """Hot resistance of a conductor (Ω)."""
        return self.lasting.ohms(part)

    def carrying(self, flow: Flow) -> list[Conductor]:
        """Conductors that carry a share of what flows, not nothing and not all."""
        return [
            link.key
            for link, amps in flow.links()
            if isinstance(link.key, Conductor) and SNAP < abs(amps) < 1.0 - SNAP
        ]

    def inside(self, flow: Flow) -> list[Value]:
        """Resistances inside banks (Ω) that give a share of what flows, not nothing and not all."""
        through = {cell.name: abs(flow.through(cell)) for cell in self.mesh.cells}
        sharing = [bank for bank in self.banks if SNAP < through[bank.name] < 1.0 - SNAP]
        return [self.lasting.inside.resistance(bank) for bank in sharing]

    def ways_to(self, flow: Flow) -> list[Conductor]:
        """Conductors of some length that carry something of what flows."""
        keys = [link.key for link, amps in flow.links() if abs(amps) > SNAP]
        return [key for key in keys if isinstance(key, Conductor)]

    def _mesh(self, *, even: bool) -> Mesh:
        """even: with other resistances, where what was alike is still alike."""
        links = []
        for part in self.lasting.circuit.battery_side:
            if part in self.away:
                continue
            ohms = 0.0
            if isinstance(part, Conductor):
                metres, ohms = self.lasting.lengths[part], self.ohms(part).number
                ohms = metres * _bent(ohms / metres) if even and metres else ohms
            links.append(Link(part, part.start, part.end, ohms))
        links += self._ties(links)
        cells = []
        for bank in self.banks:
            ohms = self.lasting.inside.resistance(bank).number
            plus, minus = (Terminal(bank.name, "", p) for p in ("positive", "negative"))
            cells.append(Cell(bank.name, plus, minus, 1.7 * _bent(ohms) if even else ohms))
        return Mesh(links, cells)

    def _ties(self, links: list[Link]) -> list[Link]:
        """Bonds that join what is not joined otherwise: they alone carry the current back."""
        nets: Groups[Terminal] = Groups()
        for link in links:
            nets.join(link.start, link.end)
        found = []
        for tie in self.lasting.bonds:
            if nets.join(tie.start, tie.end):
                found.append(tie)
        return found

    def _flow(self, port: Port, mesh: Mesh) -> Flow:
        """What one ampere out of its positive and back into its negative drives."""
        return driven({port: 1.0}, mesh)

    @kept
    def _bent_links(self) -> dict[object, Link]:
        return {link.key: link for link in self._bent_mesh.links}

    @kept
    def _bent_mesh(self) -> Mesh:
        return self._mesh(even=True)

    @kept
    def _bent_flows(self) -> dict[Port, Flow]:
        return {port: self._flow(port, self._bent_mesh) for port in self.lasting.ports}

    def _shares(self, part: Carrier) -> list[Share]:
        """The share of each port that passes, with the sign of what it drives."""
        return self._passing.of(part, lambda: list(self._shares_in(part)))

    def _shares_in(self, part: Carrier) -> Iterator[Share]:
        link = self.links.get(part)
        if link is None:
            return
        for port in self._led_through(part):
            amount = self.flows[port].in_link(link)
            if abs(amount) < SNAP and port not in self._alone:
                continue
            rounded = round(amount)
            even = True
            if math.isclose(amount, rounded, abs_tol=SNAP):
                amount = float(rounded)
            else:
                bent = self._bent_flows[port].in_link(self._bent_links[part])
                even = math.isclose(bent, amount, rel_tol=SNAP)
            sign = 1.0 if port.kind == "charge" else -1.0
            yield Share(self.let_through.get(port, port), sign * amount, even)

    @kept
    def let_through(self) -> dict[Port, Port]:
        """Alternators that the wires leave less than their current, where other banks are full.

        Their voltage is fixed, and what takes it has at least that of an empty battery.
        """
        found: dict[Port, Port] = {}
        for port, flow in self.flows.items() if self._without_full else ():
            charger = port.component
            if isinstance(charger, Charger) and is_alternator(charger) and port not in self._alone:
                most = self._through_wires(charger, port, flow)
                if most is not None and most.number < port.current.number:
                    amps, rated = (
                        smallest([each, most]).named(each.symbol, each.words, "A")
                        for each in (port.current, port.rated)
                    )
                    found[port] = replace(port, current=amps, rated=rated)
        return found

    @kept
    def _given_by(self) -> dict[Port, Port]:
        """The port that each of those stands for."""
        return {less: port for port, less in self.let_through.items()}

    def _through_wires(self, alternator: Charger, port: Port, flow: Flow) -> Value | None:
        """What the wires let through to the banks from an alternator that tells its voltage (A).

        Wires of which no length is told let everything through.
        """
        ends = (port.plus, port.minus)
        fed = self.lasting.battery_side.fed_by(port.plus)
        told = alternator.charge_voltage
        if told is None or not fed or any(end is None or end not in self.mesh for end in ends):
            return None
        ways = [c for c in self.ways_to(flow) if not self.lasting.wires[c.name].length.assumptions]
        ohms = sum(link.ohms * amps**2 for link, amps in flow.links() if link.key in ways)
        if ohms <= 0.0:
            return None
        name = port.name
        wires = function("network", ohms, *self.inside(flow), *map(self.ohms, ways))
        wires = wires.named(f"R({name})", f"resistance of the wires from {name}", "Ω")
        volts = declared(told, f"U({name})", f"voltage of {name}")
        words = "voltage of an empty battery that is charged"
        least = EMPTY_ON_ALTERNATOR_PER_12_V.value * fed[0].twelves
        empty = tabled(least, "V", "Uempty", words, PRACTICE)
        if volts.number <= empty.number:
            return None
        words = f"current that the wires let through from {name}"
        return ((volts - empty) / wires).named(f"Iway({name})", words, "A")

    def _led_through(self, part: Carrier) -> list[Port]:
        """Ports of whose current something may pass, and all that no bank is beside."""
        passing = self._ports_through.get(part, [])
        if not self._alone:
            return passing
        known = set(passing)
        return [port for port in self.flows if port in known or port in self._alone]

    @kept
    def _ports_through(self) -> dict[object, list[Port]]:
        """By what it passes: ports in whose flow something carries a current."""
        found: dict[object, list[Port]] = {}
        for port, flow in self.flows.items():
            for key in (*(link.key for link, _ in flow.links()), *flow.in_joints):
                found.setdefault(key, []).append(port)
        return found

    def _added(
        self, part: Carrier, shares: list[Share], kind: Kind | None, rated: bool
    ) -> Value | None:
        """The sum of all that can run at once."""
        shares = _once([s for s in shares if kind in (None, s.port.kind)], rated)
        if not shares:
            return None
        weights = [(s.port.component, _weight(s, rated)) for s in shares]
        sources = [w for w, s in zip(weights, shares, strict=True) if s.port.kind == "charge"]
        counts = iter(at_once(sources))
        draws = [(s.port, w) for (_, w), s in zip(weights, shares, strict=True) if _draws(s)]
        on = iter(self.lasting.on(draws))
        shares = [s for s in shares if next(on if _draws(s) else counts)]
        groups: list[list[Share]] = []
        for share in shares:
            near = (
                g for g in groups if math.isclose(abs(g[0].amount), abs(share.amount), rel_tol=SNAP)
            )
            group = next(near, None)
            if group is None:
                groups.append([share])
            else:
                group.append(share)
        return total([self._sum(part, group, rated) for group in groups])

    def _sum(self, part: Carrier, shares: list[Share], rated: bool) -> Value:
        """One share of several currents."""
        whole = total([_amps(s.port, rated) for s in shares])
        amount = abs(shares[0].amount)
        if amount == 1.0:
            return whole
        flow = self.flows[self._given_by.get(shares[0].port, shares[0].port)]
        names = ", ".join(dict.fromkeys(s.port.name for s in shares))
        words = f"share of the current of {names} that passes through {part.name}"
        if all(s.even for s in shares):
            ways = tabled(float(len(self.banks)), "", "n", "banks, alike", "the plan")
            wires = {c.name: self.lasting.wires[c.name].length for c in self.carrying(flow)}
            share = function("network", amount, ways, *wires.values())
        else:
            inputs = [self.lasting.inside.resistance(bank) for bank in self.banks]
            inputs += [self.ohms(c) for c in self.carrying(flow)]
            share = function("network", amount, *inputs)
        return whole * share.named(f"s({part.name})", words, "%")

    def _matched(
        self, shares: list[Share], sign: float, kind: Kind | None, rated: bool
    ) -> Value | None:
        """The most that sources give to consumers through it where no bank is beside them (A)."""
        gives = [(sign * s.amount, s.port) for s in shares if s.port.kind == "charge"]
        takes = [(-sign * s.amount, s.port) for s in shares if s.port.kind == "draw"]
        if kind == "charge":
            return None
        weighed = [(port.component, _amps(port, rated).number) for _, port in gives]
        gives = [g for g, counts in zip(gives, at_once(weighed), strict=True) if counts]
        gives.sort(key=lambda pair: -pair[0])
        takes.sort(key=lambda pair: pair[0])
        amps = _transported(
            [(share, _amps(port, rated).number) for share, port in gives],
            [(share, port.current.number) for share, port in takes],
        )
        if not amps:
            return None
        sides = [
            total([_amps(p, rated) for s, p in gives if s > takes[0][0]]),
            total([p.current for s, p in takes if s < gives[0][0]]),
        ]
        for side in sides:
            if math.isclose(side.number, amps, rel_tol=SNAP):
                return smallest(sides)
        return function("network", amps, *sides)


def _transported(gives: list[tuple[float, float]], takes: list[tuple[float, float]]) -> float:
    """The largest sum of share differences times currents (A) that sources give to consumers.

    gives: (share, current) with the largest share first; takes: with the smallest first.
    """
    given, taken = [amps for _, amps in gives], [amps for _, amps in takes]
    whole, i, j = 0.0, 0, 0
    while i < len(gives) and j < len(takes) and gives[i][0] > takes[j][0]:
        amps = min(given[i], taken[j])
        whole += amps * (gives[i][0] - takes[j][0])
        given[i] -= amps
        taken[j] -= amps
        if given[i] <= taken[j]:
            i += 1
        else:
            j += 1
    return whole


def _together(names: list[str], joined: Callable[[str, str], bool]) -> list[set[str]]:
    """Names in groups in which each is joined with another of the group, in their order."""
    groups: list[set[str]] = []
    for name in names:
        near = [g for g in groups if any(joined(name, other) for other in g)]
        groups = [g for g in groups if g not in near]
        groups.append({name}.union(*near))
    return groups


def _draws(share: Share) -> bool:
    return share.port.kind == "draw"


def _once(shares: list[Share], rated: bool) -> list[Share]:
    """Each source with its largest share only: what leaves by one way cannot leave by another."""
    most: dict[str, Share] = {}
    for share in shares:
        if _draws(share):
            continue
        known = most.setdefault(share.port.name, share)
        if _weight(share, rated) > _weight(known, rated):
            most[share.port.name] = share
    return [s for s in shares if _draws(s) or most[s.port.name] is s]


def _weight(share: Share, rated: bool) -> float:
    return abs(share.amount) * _amps(share.port, rated).number


def _amps(port: Port, rated: bool) -> Value:
    return port.rated if rated else port.current


def _bent(ohms: float) -> float:
    """Another resistance, the same for the same (Ω)."""
    return ohms * (1.0 + ohms / (ohms + 0.003))


def _same(one: Value, other: Value) -> bool:
    return math.isclose(one.number, other.number, rel_tol=SNAP)
