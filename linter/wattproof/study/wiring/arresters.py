"""Surge arresters against the voltages of what they lie across."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from wattproof.circuit import Circuit, Terminal
from wattproof.plan.devices import Arrester
from wattproof.plan.terminals import Reached
from wattproof.record import record
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.battery.side import BatterySide
from wattproof.working import Value, declared, tabled

ABOVE = 2.0
"""How often what the parts stand an arrester may be made for (common practice)."""
SPARE = 1.2
"""Of the highest voltage of a circuit, the continuous voltage of a usual arrester."""


@record
class Arrested:
    """An arrester and what it lies across, as the plan writes it, and that component's name.

    rated: its continuous voltage (V). highest: the highest voltage there (V). stands: what the
    parts there are made for (V): the controller's input, or the charge voltage on the battery side.
    """

    arrester: Arrester
    across: str
    component: str
    on_array: bool
    rated: Value
    highest: Value
    stands: Value | None

    @property
    def name(self) -> str:
        """Its name."""
        return str(self.arrester.name)

    @property
    def most(self) -> Value:
        """The highest continuous voltage with which it still protects (V)."""
        stands = self.stands if self.stands is not None else self.highest
        times = tabled(ABOVE, "", "k", "above what the parts stand", "common practice")
        return (times * stands).named("Umost", "most for which an arrester there is made", "V")

    @property
    def usual(self) -> float:
        """A continuous voltage that fits (V)."""
        return float(math.ceil(SPARE * self.highest.number))

    @property
    def wakes(self) -> bool:
        """True where it conducts before what lies beside it is destroyed."""
        return self.rated.number <= self.most.number


def arresters(
    circuit: Circuit, battery_side: BatterySide, array_at: Callable[[Reached], ArrayStudy | None]
) -> Iterator[Arrested]:
    """Every arrester that lies across something whose voltage is known."""
    for arrester in circuit.plan.arresters.values():
        name, across = str(arrester.name), str(arrester.across)
        reached = circuit.ends.arresters[name]
        rated = declared(arrester.voltage, f"Uc({name})", f"continuous voltage of {name}")
        array = array_at(reached)
        if array is not None:
            limit = array.controller.input_limit
            words = f"highest input voltage of {array.controller.name}"
            stands = declared(limit, "Umax", words)
            cold, on = array.voc("coldest"), reached.component
            yield Arrested(arrester, across, on, True, rated, cold, stands)
            continue
        highest = battery_side.highest_voltage(
            Terminal(reached.component, reached.port, "positive")
        )
        if highest is not None:
            yield Arrested(arrester, across, reached.component, False, rated, highest, highest)
