"""How several banks in parallel share in the largest current that is drawn from them."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Terminal
from wattproof.plan.fields import Named
from wattproof.record import record
from wattproof.study.battery.bank import BankStudy
from wattproof.study.wiring.network import Network
from wattproof.study.wiring.ports import Port
from wattproof.working import Value

FEWEST = 3
"""Banks in parallel from which unequal leads matter: of two, each sees the other's current."""


@record
class Sharing:
    """Banks of one kind in parallel and what each gives of the largest current.

    at: what draws or gives that current. shares: one for each bank, together 1.
    """

    banks: tuple[BankStudy, ...]
    at: Named
    shares: tuple[Value, ...]


def sharing(network: Network) -> Iterator[Sharing]:
    """Every group of three or more banks of one kind and capacity in parallel."""
    seen: set[str] = set()
    battery_side = network.battery_side
    for bank in battery_side.banks.values():
        beside = battery_side.beside(bank)
        if bank.name in seen or len(beside) < FEWEST:
            continue
        seen.update(b.name for b in beside)
        alike = {(b.battery.chemistry, b.capacity.number, b.nominal.number) for b in beside}
        largest = _largest(bank, network)
        if len(alike) > 1 or largest is None:
            continue
        shares = network.shares(beside, largest)
        if shares is not None:
            yield Sharing(tuple(beside), largest.component, tuple(shares))


def _largest(bank: BankStudy, network: Network) -> Port | None:
    """What draws or gives the largest current on a bank's net."""
    net = network.circuit.nets.net
    own = net(Terminal(bank.name, "", "positive"))
    found = [port for port in network.ports if net(port.plus) == own]
    return max(found, key=lambda port: port.current.number, default=None)
