"""What a starter motor gets of its battery's voltage."""

from __future__ import annotations

import heapq
from collections.abc import Iterator
from itertools import count

from wattproof.circuit import Conductor, Terminal
from wattproof.plan.starting import Starter
from wattproof.record import record
from wattproof.study.battery.side import BankStudy
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
    end, order = Terminal(bank.name, "", start.pole), count()
    waiting: list[tuple[float, int, Terminal, tuple[Value, ...]]] = [(0.0, next(order), start, ())]
    seen: set[Terminal] = set()
    while waiting:
        ohm, _, here, passed = heapq.heappop(waiting)
        if here == end:
            return total(list(passed)) if passed else None
        if here in seen:
            continue
        seen.add(here)
        for element in network.circuit.around.get(here, ()):
            there = element.end if element.start == here else element.start
            onward, more = passed, 0.0
            if isinstance(element, Conductor):
                own = network.wires[element.name].cold_resistance_over(network.lengths[element])
                onward, more = (*passed, own), own.number
            heapq.heappush(waiting, (ohm + more, next(order), there, onward))
    return None
