"""Components that a plan declares and nothing uses."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wattproof.plan.array import String
from wattproof.plan.devices import Device
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Controller
from wattproof.plan.root import Plan
from wattproof.record import record


@record
class Unused:
    """A component that nothing uses.

    device: True for a fuse, switch or the like. unchecked: True for a string, a controller or a
    battery, of which most rules tell whether it fits what it is joined to.
    """

    component: Named
    device: bool
    unchecked: bool


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
            unchecked = isinstance(component, String | Controller | Battery)
            yield Unused(component, isinstance(component, Device), unchecked)
