"""The battery side with some banks and some of it open: what each current drives through a part.

What a part carries is a sum of shares of the currents that sources give and consumers draw, so that
the largest over all that can run at once is the sum of those that flow one way.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import TypeAlias, TypeGuard

from wattproof.circuit import Conductor, Part
from wattproof.kept import KeptEach, kept
from wattproof.plan.fields import Named
from wattproof.plan.power import Charger, Controller, is_alternator
from wattproof.plan.wiring import TRAILER_PLUGS, Bond
from wattproof.study.assumptions.rows import PRACTICE
from wattproof.study.battery.bank import taken_from_alternator
from wattproof.study.wiring.laid import Laid
from wattproof.study.wiring.matched import matched
from wattproof.study.wiring.mesh import SIGNS, Flow, Link, Mesh
from wattproof.study.wiring.partings import Open
from wattproof.study.wiring.ports import Flow as Kind
from wattproof.study.wiring.ports import Port, at_once
from wattproof.study.wiring.settled import driven, settled
from wattproof.study.wiring.shares import SNAP, Share, amps_of, draws, each_once, weight
from wattproof.working import Value, function, smallest, tabled, total

Carrier: TypeAlias = Part | Bond
"""What a lasting current passes through."""


class Case:
    """The network with some of the banks: what each port drives through each part.

    away: what is open.
    """

    def __init__(
        self,
        laid: Laid,
        banks: frozenset[str],
        away: Open = frozenset(),
        *,
        mesh: Mesh | None = None,
        flows: dict[Port, Flow] | None = None,
    ) -> None:
        self.laid = laid
        self.away = away
        self.banks = [b for n, b in laid.battery_side.banks.items() if n in banks]
        self.mesh = mesh or laid.mesh(self.banks, away)
        self._known_flows = flows
        self.links = {link.key: link for link in self.mesh.links}
        self._without_full = len(banks) < len(laid.battery_side.banks)
        self._passing: KeptEach[Carrier, list[Share]] = KeptEach()
        self._driving: KeptEach[Carrier, frozenset[tuple[str, float]]] = KeptEach()
        self._both_ways: KeptEach[
            tuple[Carrier, Kind | None, bool, bool], tuple[Value | None, Value | None]
        ] = KeptEach()

    def settled(self) -> Case:
        """The same where consumers of a power draw what the voltage at their terminals takes."""
        if all(port.at_power is None for port in self.laid.ports):
            return self
        ohms = {
            port: [*self.inside(flow), *map(self.laid.ohms, self._ways_to(flow))]
            for port, flow in self.flows.items()
            if port.at_power is not None
        }
        found = settled(self.laid.ports, self.mesh, self.flows, ohms)
        after = {
            port: replace(port, current=found[port], rated=found[port]) if port in found else port
            for port in self.laid.ports
        }
        return Case(
            self.laid.with_ports(after.values()),
            frozenset(bank.name for bank in self.banks),
            self.away,
            mesh=self.mesh,
            flows={after[port]: flow for port, flow in self.flows.items()},
        )

    @kept
    def flows(self) -> dict[Port, Flow]:
        """What one ampere of each port drives, out of its positive and back into its negative."""
        return self._known_flows or {p: driven({p: 1.0}, self.mesh) for p in self.laid.ports}

    def feeds_as_many_as(self, other: Case) -> bool:
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
                for port in self.laid.ports
                if port.kind == kind and port.plus in self.mesh and port not in self._alone
            ]
            counts = at_once([(port.component, port.current.number) for port in ports])
            if kind == "draw":
                counts = self.laid.on([(port, port.current.number) for port in ports])
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
        found += [matched(own, sign, kind, rated) for own in islands.values()]
        known = [amps for amps in found if amps is not None]
        return total(known) if known else None

    @kept
    def _alone(self) -> dict[Port, int]:
        """Ports whose positive no bank is joined to, with the island that it is in."""
        return {
            port: self.mesh.island(port.plus)
            for port in self.laid.ports
            if port.plus in self.mesh and not self.mesh.has_bank(port.plus)
        }

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
        return [self.laid.inside.resistance(bank) for bank in sharing]

    def _ways_to(self, flow: Flow) -> list[Conductor]:
        """Conductors of some length that carry something of what flows."""
        keys = [link.key for link, amps in flow.links() if abs(amps) > SNAP]
        return [key for key in keys if isinstance(key, Conductor)]

    @kept
    def _bent_links(self) -> dict[object, Link]:
        return {link.key: link for link in self._bent_mesh.links}

    @kept
    def _bent_mesh(self) -> Mesh:
        return self.laid.mesh(self.banks, self.away, bent=True)

    @kept
    def _bent_flows(self) -> dict[Port, Flow]:
        return {port: driven({port: 1.0}, self._bent_mesh) for port in self.laid.ports}

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
        """Sources that the wires leave less than their current.

        Their voltage is fixed, and what takes it has at least that of an empty battery. Of what is
        no alternator only where other banks are full: its cable is chosen by its rating.
        """
        found: dict[Port, Port] = {}
        for port, flow in self.flows.items():
            source = port.component
            if port.kind == "charge" and self._is_bounded(source) and port not in self._alone:
                most = self._through_wires(source, port, flow)
                if self.laid.for_minutes and is_alternator(source):
                    takes = self._takes(port)
                    most = takes if most is None else smallest([most, takes])
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

    def _is_bounded(self, source: Named) -> TypeGuard[Controller | Charger]:
        """True for what the wires may leave less than its current."""
        if is_alternator(source):
            return True
        told = isinstance(source, Controller | Charger) and source.charge_voltage is not None
        return self._without_full and told

    def _through_wires(self, source: Controller | Charger, port: Port, flow: Flow) -> Value | None:
        """What the wires let through from a source to the banks (A).

        Wires of which no length is told let everything through, but for those to a trailer.
        """
        ends = (port.plus, port.minus)
        fed, stands = self.laid.battery_side.fed_by(port.plus), self.laid.empty
        if stands is None or not fed or any(end is None or end not in self.mesh for end in ends):
            return None
        ways = [c for c in self._ways_to(flow) if self._has_length(c)]
        ohms = sum(link.ohms * amps**2 for link, amps in flow.links() if link.key in ways)
        if ohms <= 0.0:
            return None
        name = port.name
        wires = function("network", ohms, *self.inside(flow), *map(self.laid.ohms, ways))
        wires = wires.named(f"R({name})", f"resistance of the wires from {name}", "Ω")
        volts = self.laid.battery_side.voltage_at(source, fed[0].twelves)
        words = "voltage of an empty battery that is charged"
        least = stands.value * fed[0].twelves
        empty = tabled(least, "V", "Uempty", words, PRACTICE)
        if volts.number <= empty.number:
            return None
        words = f"current that the wires let through from {name}"
        return ((volts - empty) / wires).named(f"Iway({name})", words, "A")

    def _takes(self, port: Port) -> Value:
        """What the banks on an alternator take at the most after minutes of charging (A)."""
        banks = [b for b in self.laid.battery_side.fed_by(port.plus) if b in self.banks]
        taken = total([taken_from_alternator(bank) for bank in banks])
        return taken.named(f"Itaken({port.name})", "what the banks on it take", "A")

    def _has_length(self, part: Conductor) -> bool:
        """True where a length is told, or has to be some metres."""
        trailer = part.wire.plug in TRAILER_PLUGS
        return trailer or not self.laid.wires[part.name].length.assumptions

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
        shares = each_once([s for s in shares if kind in (None, s.port.kind)], rated)
        if not shares:
            return None
        weights = [(s.port.component, weight(s, rated)) for s in shares]
        sources = [w for w, s in zip(weights, shares, strict=True) if s.port.kind == "charge"]
        counts = iter(at_once(sources))
        drawn = [(s.port, w) for (_, w), s in zip(weights, shares, strict=True) if draws(s)]
        on = iter(self.laid.on(drawn))
        shares = [s for s in shares if next(on if draws(s) else counts)]
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
        whole = total([amps_of(s.port, rated) for s in shares])
        amount = abs(shares[0].amount)
        if amount == 1.0:
            return whole
        flow = self.flows[self._given_by.get(shares[0].port, shares[0].port)]
        names = ", ".join(dict.fromkeys(s.port.name for s in shares))
        words = f"share of the current of {names} that passes through {part.name}"
        if all(s.even for s in shares):
            ways = tabled(float(len(self.banks)), "", "n", "banks, alike", "the plan")
            wires = {c.name: self.laid.wires[c.name].length for c in self.carrying(flow)}
            share = function("network", amount, ways, *wires.values())
        else:
            inputs = [self.laid.inside.resistance(bank) for bank in self.banks]
            inputs += [self.laid.ohms(c) for c in self.carrying(flow)]
            share = function("network", amount, *inputs)
        return whole * share.named(f"s({part.name})", words, "%")
