"""What lies on either side of a conductor or device of the battery side: banks, sources, loads."""

from __future__ import annotations

from dataclasses import dataclass

from wattproof.circuit import Circuit, Conductor, Passage, Side
from wattproof.plan.fields import Named
from wattproof.plan.power import Charger, Controller
from wattproof.study.battery_side import BankStudy, BatterySide


@dataclass(frozen=True, eq=False)
class Neighbours:
    """Banks, sources that charge, and consumers on one side of a cut, each once."""

    banks: tuple[BankStudy, ...]
    sources: tuple[Named, ...]
    consumers: tuple[Named, ...]


def neighbours(
    element: Conductor | Passage, circuit: Circuit, battery_side: BatterySide
) -> tuple[Neighbours, Neighbours] | None:
    """Those at its start and at its end; all of them twice in a ring; None off the battery side."""
    cut = circuit.battery_side.get(element)
    if cut is None:
        return None
    return _on(cut.before, battery_side), _on(cut.after, battery_side)


def _on(side: Side, battery_side: BatterySide) -> Neighbours:
    banks: dict[str, BankStudy] = {}
    sources: dict[str, Named] = {}
    consumers: dict[str, Named] = {}
    for first, last in side.runs:
        for terminal in side.order[first:last]:
            name = terminal.component
            component = battery_side.components.get(name)
            if name in battery_side.banks:
                banks[name] = battery_side.banks[name]
            elif isinstance(component, Charger) or (
                isinstance(component, Controller) and terminal.port == "battery"
            ):
                sources[name] = component
            elif component is not None and battery_side.drawn(component, terminal.port):
                consumers[name] = component
    return Neighbours(tuple(banks.values()), tuple(sources.values()), tuple(consumers.values()))
