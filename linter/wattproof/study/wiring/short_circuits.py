"""Short-circuit currents of banks, at their terminals and at any place on the battery side.

A battery is stiff: its nominal voltage behind the resistance that its short-circuit current means.
Conductors are taken cold and as short as the plan says, which gives the largest current; it is
steady, the rise being left out. Source: IEC 61660-1:1997, sources as an emf behind a resistance.
"""

from __future__ import annotations

from functools import cached_property

from wattproof.circuit import Circuit, Conductor, Nets, Passage, Terminal
from wattproof.physics import faults as physics
from wattproof.physics.faults import FaultCurrents, Stiff, fault_currents
from wattproof.plan.terminals import by_name, resolve
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.batteries import (
    NO_SHORT_CIRCUIT_CURRENT,
    SHORT_CIRCUIT_AT_LEAST,
    SHORT_CIRCUIT_PER_AH,
)
from wattproof.study.battery.side import BankStudy, BatterySide
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, declared, function, total

MOST_IN_NETWORK = 60
"""Conductors of a battery side that is solved as one network; beyond, what banks drive adds up."""


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
        way = self.way(bank, terminal)
        if way is None:
            return self.at_terminals(bank)
        inner = (bank.nominal / self.at_terminals(bank)).named(
            f"Ri({bank.name})", f"resistance inside {bank.name}", "Ω"
        )
        words = f"what {bank.name} drives into a short at {terminal.component}"
        symbol = f"Ik({bank.name}→{terminal.component})"
        return (bank.nominal / (inner + way)).named(symbol, words, "A")

    def to_chassis(self, bank: BankStudy, terminal: Terminal) -> Value | None:
        """Current (A) of a positive that touches the chassis there; None where nothing is tied.

        The chassis and the tie are taken as without resistance, which gives the larger current.
        """
        if bank.name not in self._ways:
            self._ways[bank.name] = self._ways_from(bank)
        ways = self._ways[bank.name]
        ties = [t for t in self._tied if t in ways]
        plus = Terminal(terminal.component, terminal.port, "positive")
        if not ties or plus not in ways:
            return None
        back = min((ways[t] for t in ties), key=lambda way: way.number if way is not None else 0.0)
        parts = [way for way in (ways[plus], back) if way is not None]
        inner = (bank.nominal / self.at_terminals(bank)).named(
            f"Ri({bank.name})", f"resistance inside {bank.name}", "Ω"
        )
        words = f"what {bank.name} drives through the chassis from {terminal.component}"
        symbol = f"Ichassis({bank.name})"
        return (bank.nominal / total([inner, *parts])).named(symbol, words, "A")

    @cached_property
    def _tied(self) -> list[Terminal]:
        """Negative terminals that are tied to the chassis, and the chassis where a wire ends."""
        plan = self.circuit.plan
        components = by_name(plan)
        tied = [Terminal("chassis", "", "negative")]
        for bond in plan.bonds.values():
            reached = resolve(bond.start, components, arriving=False)
            if bond.to == "chassis" and reached.pole != "positive":
                tied.append(Terminal(reached.component, reached.port, "negative"))
        return tied

    def together(self, banks: list[BankStudy], terminal: Terminal) -> Value | None:
        """Current (A) of all banks at once into a short across both poles of a terminal.

        Where they share a way it is less than the sum of what each drives alone. None where the
        network is too large to be solved for every stretch, or no way is known.
        """
        solved = self._solved(banks, terminal)
        if solved is None:
            return None
        inputs = [v for bank in banks for v in (bank.nominal, self.at_terminals(bank))]
        words = f"what all banks together drive into a short at {terminal.component}"
        amps = function("network", solved.fault_current, *inputs)
        return amps.named(f"Ik({terminal.component})", words, "A")

    def shares(self, banks: list[BankStudy], terminal: Terminal) -> list[Value] | None:
        """The share of each bank in a current drawn at a terminal; None where it is not known.

        Banks of one voltage share in any current as they do in a short there.
        """
        solved = self._solved(banks, terminal)
        if solved is None or not all(bank.name in solved.source_currents for bank in banks):
            return None
        inputs = [v for bank in banks for v in (bank.nominal, self.at_terminals(bank))]
        found: list[Value] = []
        for bank in banks:
            share = solved.source_currents[bank.name] / solved.fault_current
            words = f"share of {bank.name} in what {terminal.component} draws"
            value = function("network", share, *inputs)
            found.append(value.named(f"s({bank.name})", words, "%"))
        return found

    def _solved(self, banks: list[BankStudy], terminal: Terminal) -> FaultCurrents | None:
        """The network of the battery side with a short across both poles of a terminal."""
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
        return fault_currents(sources, conductors, (plus, minus))

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
        per_hour = SHORT_CIRCUIT_PER_AH.value[battery.chemistry]
        amps = max(per_hour * hours, SHORT_CIRCUIT_AT_LEAST.value.get(battery.chemistry, 0.0))
        return self.assume.value(
            NO_SHORT_CIRCUIT_CURRENT, bank.name, bank.at, kind=battery.chemistry, number=amps
        )

    def way(self, bank: BankStudy, terminal: Terminal) -> Value | None:
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
