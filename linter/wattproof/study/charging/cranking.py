"""What a starter motor gets of its battery's voltage."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Conductor, Part, Terminal
from wattproof.circuit.walk import cheapest
from wattproof.plan.starting import Starter
from wattproof.record import record
from wattproof.study.battery.bank import BankStudy
from wattproof.study.wiring.network import Network
from wattproof.working import Value, declared, total


@record
class Cranking:
    """A starter motor and the nearest battery that turns it.

    current: A. lost: voltage lost in the conductors that the plan draws, both poles where both are
    drawn (V). both_poles: False where the current returns through engine and chassis.
    """

    starter: Starter
    bank: BankStudy
    current: Value
    lost: Value
    both_poles: bool


def cranking(network: Network) -> Iterator[Cranking]:
    """Every starter that a battery turns, with the battery of the least resistance on the way."""
    side = network.battery_side
    for name, starter in network.circuit.plan.starters.items():
        plus, minus = (Terminal(name, "", pole) for pole in ("positive", "negative"))
        ways = [
            (way, bank)
            for bank in side.banks_of(plus)
            if (way := _resistance(plus, bank, network)) is not None
        ]
        if not ways:
            continue
        way, bank = min(ways, key=lambda each: each[0].number)
        back = _resistance(minus, bank, network)
        current = declared(starter.current, f"Icrank({name})", f"cranking current of {name}")
        words = f"voltage lost between {bank.name} and {name} while it turns"
        whole = way if back is None else way + back
        lost = (current * whole).named(f"ΔU({name})", words, "V")
        yield Cranking(starter, bank, current, lost, back is not None)


def _resistance(start: Terminal, bank: BankStudy, network: Network) -> Value | None:
    """Cold resistance (Ω) of the conductors on the best way from a terminal to a bank's pole."""

    def ohms(part: Conductor) -> Value:
        return network.wires[part.name].cold_resistance_over(network.lengths[part])

    def cost(part: Part) -> float:
        return ohms(part).number if isinstance(part, Conductor) else 0.0

    passed = cheapest(start, Terminal(bank.name, "", start.pole), network.circuit.ways, cost)
    own = [ohms(part) for part in passed or () if isinstance(part, Conductor)]
    return total(own) if own else None
