"""What a starter motor gets of its battery's voltage."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Terminal
from wattproof.plan.root import Plan
from wattproof.plan.starting import Starter
from wattproof.record import record
from wattproof.study.battery.side import BankStudy, BatterySide
from wattproof.study.wiring.short_circuits import Banks
from wattproof.working import Value, declared


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


def cranking(plan: Plan, battery_side: BatterySide, banks: Banks) -> Iterator[Cranking]:
    """Every starter that a battery turns, with the battery of the least resistance on the way."""
    for name, starter in plan.starters.items():
        terminal = Terminal(name, "", "positive")
        ways = [
            (way, bank)
            for bank in battery_side.banks_of(terminal)
            if (way := banks.way(bank, terminal)) is not None
        ]
        if not ways:
            continue
        way, bank = min(ways, key=lambda each: each[0].number)
        current = declared(starter.current, f"Icrank({name})", f"cranking current of {name}")
        words = f"voltage lost between {bank.name} and {name} while it turns"
        lost = (current * way).named(f"ΔU({name})", words, "V")
        negative = Terminal(name, "", "negative") in battery_side.circuit.around
        yield Cranking(starter, bank, current, lost, negative)
