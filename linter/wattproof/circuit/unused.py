"""Components that a plan declares and nothing uses."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wattproof.plan.array import String
from wattproof.plan.devices import Device
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Controller
from wattproof.plan.root import Plan
from wattproof.plan.splitting import Isolator
from wattproof.plan.terminals import solar_inputs, without_pole
from wattproof.record import record


@record
class Unused:
    """A component that nothing uses.

    device: True for a fuse, switch or the like. unchecked: True for a string, a controller or a
    battery, of which most rules tell whether it fits what it is joined to. end: the terminal that
    no wire leads to, of a controller that has its battery and no array, or of a diode isolator that
    nothing is led into; else empty.
    """

    component: Named
    device: bool
    unchecked: bool
    end: str = ""


def unused(plan: Plan, components: Mapping[str, Named]) -> Iterator[Unused]:
    """Every component with terminals to which no wire leads, and that nothing else names."""
    used = {name for wire in plan.wires.values() for name in wire.components}
    ends = [str(end) for wire in plan.wires.values() for end in (wire.start, wire.to)]
    used |= {str(each.device) for wire in plan.wires.values() for each in wire.inline}
    for combiner in plan.combiners.values():
        used |= set(combiner.joined)
        used |= {str(combiner.name)} if combiner.joins else set()
    packs = (battery.each_pack for battery in plan.batteries.values())
    used |= {str(each.fuse) for each in packs if each is not None and each.fuse is not None}
    for name, component in components.items():
        if name not in used:
            unchecked = isinstance(component, String | Controller | Battery)
            yield Unused(component, isinstance(component, Device), unchecked)
        elif isinstance(component, Controller) and component.kind != "vehicle-charger":
            inputs = [f"{name}.{port}" for port in solar_inputs(component)]
            if not any(without_pole(end) in inputs for end in ends):
                yield Unused(component, device=False, unchecked=True, end=inputs[0])
        elif isinstance(component, Isolator):
            start = f"{name}.input"
            if not {start, f"{start}.positive"}.intersection(ends):
                yield Unused(component, device=False, unchecked=False, end=start)
