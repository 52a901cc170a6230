"""Loads, inverters and starters that nothing feeds."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator

from wattproof.circuit.elements import Element, Source, Terminal
from wattproof.circuit.inside import Inside, between_nets
from wattproof.circuit.nets import Nets
from wattproof.circuit.walk import reached
from wattproof.plan.boxes import PowerBox
from wattproof.plan.power import Inverter, Load
from wattproof.plan.root import Plan
from wattproof.plan.starting import Starter
from wattproof.plan.terminals import battery_port


def unfed(
    plan: Plan,
    nets: Nets,
    elements: Iterable[Element],
    wired: Container[Terminal],
    ways: Iterable[Inside],
) -> Iterator[Load | Inverter | Starter]:
    """Wired consumers on whose positive there is no battery, source or module.

    A starter may have its negative wired alone, by mistake. wired: the terminals that a conductor
    leads to. ways: through components, which feed what is
    behind them where they are fed themselves. An inverter does not feed itself, whatever charger is
    in its case.
    """
    sources = {**plan.batteries, **plan.chargers, **plan.all_controllers}
    starts = [
        Terminal(name, "load" if isinstance(part, PowerBox) else battery_port(part), "positive")
        for name, part in sources.items()
    ]
    starts += [element.end for element in elements if isinstance(element, Source)]
    onward = between_nets(ways, nets)

    def fed_by(terminals: Iterable[Terminal]) -> set[Terminal]:
        return reached(
            map(nets.net, terminals), lambda net: (end for start, end in onward if start == net)
        )

    fed = fed_by(starts)
    in_cases = fed_by([Terminal(name, "", "positive") for name in plan.inverter_chargers])
    consumers: dict[str, Load | Inverter | Starter] = {
        **plan.all_loads,
        **plan.all_inverters,
        **plan.starters,
    }
    for name, consumer in consumers.items():
        positive, negative = (Terminal(name, "", pole) for pole in ("positive", "negative"))
        here = fed if name in plan.inverter_chargers else fed | in_cases
        if (positive in wired or negative in wired) and nets.net(positive) not in here:
            yield consumer
