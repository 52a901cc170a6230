"""Conductors and the terminals at their ends and in their way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wattproof.plan.fields import Named
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


def terminal_fits(
    wires: Iterable[WireStudy], components: dict[str, Named]
) -> Iterator[TerminalFit]:
    """Every wire with every component that tells the largest conductor it takes."""
    for study in wires:
        wire = study.wire
        for name in dict.fromkeys((*wire.components, *(str(i.device) for i in wire.inline))):
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
