"""The battery side as it is laid: what joins what over what resistance, what gives and draws."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from copy import copy

from wattproof.circuit import Circuit, Conductor, Terminal
from wattproof.circuit.groups import Groups
from wattproof.kept import KeptEach
from wattproof.plan.together import on_at_once
from wattproof.study.assumptions.rows import Assumed
from wattproof.study.assumptions.units import (
    CHARGED_FOR_MINUTES_PER_12_V,
    EMPTY_ON_ALTERNATOR_PER_12_V,
)
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.study.wiring.bonds import bonds_of
from wattproof.study.wiring.inside import Inside
from wattproof.study.wiring.mesh import Cell, Link, Mesh
from wattproof.study.wiring.partings import Open
from wattproof.study.wiring.ports import Port
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value


class Laid:
    """All that lasting currents hang on, however switches stand and whatever banks are full.

    lengths: of every conductor (m). inside: resistances of banks. empty: the voltage (V, for each
    12 V) of a battery that takes all that wires let through; None where they let everything.
    for_minutes: True where batteries take from alternators what they do after minutes of charging.
    """

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
        self.empty: Assumed[float] | None = EMPTY_ON_ALTERNATOR_PER_12_V
        self.for_minutes = False
        self._ohms: KeptEach[Conductor, Value] = KeptEach()

    def with_ports(self, ports: Iterable[Port]) -> Laid:
        """The same with other currents given and drawn."""
        other = copy(self)
        other.ports = tuple(ports)
        return other

    def with_large_wires(self) -> Laid:
        """The same where wires let every source give all its current."""
        other = copy(self)
        other.empty = None
        return other

    def after_minutes(self) -> Laid:
        """The same where batteries that alternators charge are empty no longer."""
        other = copy(self)
        other.empty, other.for_minutes = CHARGED_FOR_MINUTES_PER_12_V, True
        return other

    def ohms(self, part: Conductor) -> Value:
        """Hot resistance of a conductor (Ω)."""
        wire, length = self.wires[part.name], self.lengths[part]
        return self._ohms.of(part, lambda: wire.hot_resistance_over(length))

    def on(self, draws: Sequence[tuple[Port, float]]) -> list[bool]:
        """Which of some consumers run where they draw the most together (A each)."""
        lists = self.circuit.plan.together or ()
        return on_at_once(lists, [(str(port.component.name), amps) for port, amps in draws])

    def mesh(self, banks: Iterable[BankStudy], away: Open, *, bent: bool = False) -> Mesh:
        """The network of some banks and of what is not open.

        bent: with other resistances, where what was alike is still alike.
        """
        links = []
        for part in self.circuit.battery_side:
            if part in away:
                continue
            ohms = 0.0
            if isinstance(part, Conductor):
                metres, ohms = self.lengths[part], self.ohms(part).number
                ohms = metres * _bent(ohms / metres) if bent and metres else ohms
            links.append(Link(part, part.start, part.end, ohms))
        links += self._ties(links)
        cells = []
        for bank in banks:
            ohms = self.inside.resistance(bank).number
            plus, minus = (Terminal(bank.name, "", p) for p in ("positive", "negative"))
            cells.append(Cell(bank.name, plus, minus, 1.7 * _bent(ohms) if bent else ohms))
        return Mesh(links, cells)

    def _ties(self, links: list[Link]) -> list[Link]:
        """Bonds that join what is not joined otherwise: they alone carry the current back."""
        nets: Groups[Terminal] = Groups()
        for link in links:
            nets.join(link.start, link.end)
        found = []
        for tie in self.bonds:
            if nets.join(tie.start, tie.end):
                found.append(tie)
        return found


def _bent(ohms: float) -> float:
    """Another resistance, the same for the same (Ω)."""
    return ohms * (1.0 + ohms / (ohms + 0.003))
