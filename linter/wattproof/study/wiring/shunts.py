"""What passes the shunt of a battery monitor by, so that the monitor does not count it."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Circuit, Conductor, Terminal
from wattproof.circuit.walk import reached
from wattproof.plan.fields import Named
from wattproof.record import record
from wattproof.study.battery.bank import BankStudy
from wattproof.study.wiring.network import Network
from wattproof.working import Value


@record
class PastShunt:
    """A component whose negative reaches a bank without going through the bank's shunt.

    current: what it draws or gives (A).
    """

    bank: BankStudy
    component: Named
    current: Value


def past_shunts(network: Network) -> Iterator[PastShunt]:
    """Everything that passes a shunt by, for each bank that names the wire of its shunt."""
    battery_side, circuit = network.battery_side, network.circuit
    for bank in battery_side.banks.values():
        shunt = bank.battery.shunt
        if shunt is None:
            continue
        for terminal in sorted(_reached_without(str(shunt), bank, circuit)):
            component = battery_side.components.get(terminal.component)
            if component is None:
                continue
            current = network.exchanged(component, terminal.port)
            if current is not None:
                yield PastShunt(bank, component, current)


def _reached_without(shunt: str, bank: BankStudy, circuit: Circuit) -> set[Terminal]:
    """Terminals joined to a bank's negative when the wire of the shunt is cut; bonds count."""
    start = Terminal(bank.name, "", "negative")
    bonds = [
        (circuit.ends.bonds[bond.name], Terminal(bond.to, "", "negative"))
        for bond in circuit.plan.bonds.values()
    ]

    def onward(here: Terminal) -> Iterator[Terminal]:
        for pair in bonds:
            if here in pair:
                yield from pair
        for part, there in circuit.ways(here):
            if not isinstance(part, Conductor) or part.name != shunt:
                yield there

    return reached([start], onward)
