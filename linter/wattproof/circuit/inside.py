"""Ways through components: what arrives at one terminal and leaves at another.

Conductors and devices are drawn in a plan; these ways are inside a case. They join no nets, since
what is on one side is not on the other: a diode lets current pass one way only, a converter has
another voltage behind it, and a controller may switch its loads off.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wattproof.circuit.elements import Terminal
from wattproof.circuit.nets import Nets
from wattproof.plan.boxes import PowerBox
from wattproof.plan.fields import Named
from wattproof.plan.root import Plan
from wattproof.quantities import Quantity
from wattproof.record import record


@record
class Inside:
    """A way through a component, from where current enters to where it leaves.

    start, end: its positive terminals. converts: True where voltage and current differ behind it,
    so that no battery current passes; else a short behind it is fed by what is before it. limit:
    rated current of the way, at its end; None where nothing says.
    """

    component: Named
    start: Terminal
    end: Terminal
    converts: bool
    limit: Quantity | None

    @property
    def name(self) -> str:
        """The component's name."""
        return str(self.component.name)


def insides(plan: Plan) -> Iterator[Inside]:
    """Every such way: to load terminals, through isolators, through converters."""
    for name, controller in plan.all_controllers.items():
        if not isinstance(controller, PowerBox):
            start, end = (Terminal(name, port, "positive") for port in ("battery", "load"))
            yield Inside(controller, start, end, False, controller.load_current)
    for name, isolator in plan.diode_isolators.items():
        for output in isolator.outputs:
            start, end = (Terminal(name, port, "positive") for port in ("input", output))
            yield Inside(isolator, start, end, False, isolator.rating)
    for name, converter in plan.converters.items():
        start, end = (Terminal(name, port, "positive") for port in ("input", "output"))
        limit = converter.limited_to or converter.max_output_current
        yield Inside(converter, start, end, True, limit)
    for name, charger in plan.controllers.items():
        if charger.kind == "vehicle-charger":
            start, end = (Terminal(name, port, "positive") for port in ("alternator", "battery"))
            limit = charger.limited_to or charger.max_output_current
            yield Inside(charger, start, end, True, limit)


def between_nets(ways: Iterable[Inside], nets: Nets) -> tuple[tuple[Terminal, Terminal], ...]:
    """The nets that each of some ways leads from and to."""
    return tuple((nets.net(way.start), nets.net(way.end)) for way in ways)
