"""Conductors and the terminals at their ends and in their way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wattproof.plan.fields import Named
from wattproof.plan.root import Plan
from wattproof.plan.terminals import by_name
from wattproof.record import record
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, declared


@record
class TerminalFit:
    """A wire and a component that it ends at or passes; size and largest are areas (m²)."""

    wire: WireStudy
    component: Named
    size: Value
    largest: Value


def terminal_fits(wires: Iterable[WireStudy], plan: Plan) -> Iterator[TerminalFit]:
    """Every wire with every component that tells the largest conductor it takes."""
    components = by_name(plan)
    for study in wires:
        wire = study.wire
        names = [wire.start, wire.to, *(inline.device for inline in wire.inline)]
        for name in dict.fromkeys(each.partition(".")[0] for each in names):
            component = components.get(name)
            largest = getattr(component, "max_conductor", None)
            if component is None or largest is None:
                continue
            words = f"largest conductor that {name} takes"
            yield TerminalFit(
                study,
                component,
                declared(study.sheet.size, f"A({wire.name})", f"size of {wire.name}"),
                declared(largest, f"Amax({name})", words),
            )
