"""Components that a plan declares and nothing uses, and consumers that nothing feeds."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping

from wattproof.circuit.elements import Element, Source, Terminal
from wattproof.circuit.inside import Inside
from wattproof.circuit.nets import Nets
from wattproof.circuit.walk import reached
from wattproof.plan.boxes import PowerBox
from wattproof.plan.devices import Device
from wattproof.plan.fields import Named
from wattproof.plan.power import Inverter, Load
from wattproof.plan.root import Plan
from wattproof.plan.terminals import battery_port
from wattproof.record import record


@record
class Unused:
    """A component that nothing uses. device: True for a fuse, switch or the like."""

    component: Named
    device: bool


def unused(plan: Plan, components: Mapping[str, Named]) -> Iterator[Unused]:
    """Every component with terminals to which no wire leads, and that nothing else names."""
    used = {name for wire in plan.wires.values() for name in wire.components}
    used |= {str(each.device) for wire in plan.wires.values() for each in wire.inline}
    for combiner in plan.combiners.values():
        used |= set(combiner.joined)
        used |= {str(combiner.name)} if combiner.joins else set()
    packs = (battery.each_pack for battery in plan.batteries.values())
    used |= {str(each.fuse) for each in packs if each is not None and each.fuse is not None}
    for name, component in components.items():
        if name not in used:
            yield Unused(component, isinstance(component, Device))


def unfed(
    plan: Plan, nets: Nets, around: Mapping[Terminal, Collection[Element]], ways: Iterable[Inside]
) -> Iterator[Load | Inverter]:
    """Wired loads and inverters on whose positive there is no battery, source or module.

    ways: through components, which feed what is behind them where they are fed themselves. An
    inverter does not feed itself, whatever charger is in its case.
    """
    sources = {**plan.batteries, **plan.chargers, **plan.all_controllers}
    starts = [
        Terminal(name, "load" if isinstance(part, PowerBox) else battery_port(part), "positive")
        for name, part in sources.items()
    ]
    elements = {element for each in around.values() for element in each}
    starts += [element.end for element in elements if isinstance(element, Source)]
    onward: dict[Terminal, list[Terminal]] = {}
    for way in ways:
        onward.setdefault(nets.net(way.start), []).append(nets.net(way.end))

    def fed_by(terminals: Iterable[Terminal]) -> set[Terminal]:
        return reached(map(nets.net, terminals), lambda net: onward.get(net, ()))

    fed = fed_by(starts)
    in_cases = fed_by([Terminal(name, "", "positive") for name in plan.inverter_chargers])
    consumers: dict[str, Load | Inverter] = {**plan.all_loads, **plan.all_inverters}
    for name, consumer in consumers.items():
        positive = Terminal(name, "", "positive")
        here = fed if name in plan.inverter_chargers else fed | in_cases
        if positive in around and nets.net(positive) not in here:
            yield consumer
