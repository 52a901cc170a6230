"""How several banks in parallel share in the largest current that is drawn from them."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Circuit, Terminal
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Charger, Controller, Inverter, Load
from wattproof.plan.terminals import output_port
from wattproof.record import record
from wattproof.study.battery.side import BankStudy, BatterySide
from wattproof.study.wiring.short_circuits import Banks
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


def sharing(battery_side: BatterySide, circuit: Circuit, banks: Banks) -> Iterator[Sharing]:
    """Every group of three or more banks of one kind and capacity in parallel."""
    seen: set[str] = set()
    for bank in battery_side.banks.values():
        beside = battery_side.beside(bank)
        if bank.name in seen or len(beside) < FEWEST:
            continue
        seen.update(b.name for b in beside)
        alike = {(b.battery.chemistry, b.capacity.number, b.nominal.number) for b in beside}
        largest = _largest(bank, battery_side, circuit)
        if len(alike) > 1 or largest is None:
            continue
        component, terminal = largest
        shares = banks.shares(beside, terminal)
        if shares is not None:
            yield Sharing(tuple(beside), component, tuple(shares))


def _largest(
    bank: BankStudy, battery_side: BatterySide, circuit: Circuit
) -> tuple[Named, Terminal] | None:
    """What draws or gives the largest current on a bank's net, and its positive."""
    net = circuit.nets.net(Terminal(bank.name, "", "positive"))
    found: list[tuple[float, Named, Terminal]] = []
    for name, component in battery_side.components.items():
        terminal = Terminal(name, output_port(component) or "", "positive")
        if isinstance(component, Battery) or circuit.nets.net(terminal) != net:
            continue
        if isinstance(component, Controller | Charger):
            exchanged = battery_side.exchanged(component, terminal.port)
            found.append((exchanged.number if exchanged is not None else 0.0, component, terminal))
        elif isinstance(component, Load | Inverter):
            drawn = battery_side.drawn(component, "")
            found.append((drawn.number if drawn is not None else 0.0, component, terminal))
    if not found:
        return None
    _, component, terminal = max(found, key=lambda each: each[0])
    return component, terminal
