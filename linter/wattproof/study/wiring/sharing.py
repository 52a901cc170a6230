"""How banks in parallel share in the largest current that is drawn from them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wattproof.circuit import Circuit, Terminal
from wattproof.plan.fields import Named
from wattproof.record import record
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.joined import JoinedBanks
from wattproof.study.wiring.network import Network
from wattproof.study.wiring.ports import Port
from wattproof.working import Value

FEWEST, ANYHOW = 2, 3
"""Banks in parallel from which it matters that all is taken off one, and from which leads do."""


WORTH = 50.0
"""A: current from which it matters that two batteries do not share it alike."""


@record
class Sharing:
    """Banks of one kind in parallel and what each gives of the largest current.

    at: what draws or gives that current. shares: one for each bank, together 1. posts_of: the bank
    on whose two posts it is wired, None where each pole is taken off elsewhere.
    """

    banks: tuple[BankStudy, ...]
    at: Named
    shares: tuple[Value, ...]
    posts_of: BankStudy | None


def sharing(network: Network, joined: Sequence[JoinedBanks]) -> Iterator[Sharing]:
    """Every group of banks of one kind and capacity in parallel, no switch between them."""
    seen: set[str] = set()
    battery_side = network.battery_side
    for bank in battery_side.banks.values():
        beside = battery_side.beside(bank)
        if bank.name in seen or len(beside) < FEWEST:
            continue
        seen.update(b.name for b in beside)
        alike = {(b.battery.chemistry, b.capacity.number, b.nominal.number) for b in beside}
        largest = _largest(bank, network)
        if len(alike) > 1 or largest is None or (len(beside) == 2 and _by_switch(beside, joined)):
            continue
        shares = network.shares(beside, largest)
        if shares is not None:
            posts = _on_posts(largest, beside, network.circuit)
            if len(beside) < ANYHOW and largest.current.number < WORTH:
                continue
            yield Sharing(tuple(beside), largest.component, tuple(shares), posts)


def _on_posts(port: Port, banks: Sequence[BankStudy], circuit: Circuit) -> BankStudy | None:
    """The bank between whose posts and a component wires of both poles lead."""
    name = str(port.component.name)
    for bank in banks:
        poles: set[str] = set()
        for wire in circuit.plan.wires.values():
            at, to, pairs = circuit.ends.of_wire(wire)
            if {at.component, to.component} == {name, bank.name}:
                poles.update(pole for pair in pairs for pole in pair)
        if len(poles) == 2:
            return bank
    return None


def _by_switch(two: Sequence[BankStudy], joined: Sequence[JoinedBanks]) -> bool:
    """True for two banks that a switch or relay joins at times, each of them a bank of its own."""
    names = {bank.name for bank in two}
    pairs = (p for p in joined if {p.first.name, p.second.name} == names)
    return any(pair.switch is not None for pair in pairs)


def _largest(bank: BankStudy, network: Network) -> Port | None:
    """What draws or gives the largest current on a bank's net."""
    net = network.circuit.nets.net
    own = net(Terminal(bank.name, "", "positive"))
    found = [port for port in network.ports if net(port.plus) == own]
    return max(found, key=lambda port: port.current.number, default=None)
