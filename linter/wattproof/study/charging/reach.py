"""What of the battery side is joined to what, with some of its devices open."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from wattproof.circuit import Circuit, Passage, Terminal, is_of
from wattproof.circuit.walk import reached
from wattproof.plan.devices import Switch
from wattproof.plan.fields import Named
from wattproof.plan.splitting import Isolator


def reach(start: Terminal, circuit: Circuit, opened: Collection[Named] = ()) -> set[Terminal]:
    """Terminals joined to one, some devices left open, and isolators passed as current does."""
    isolators: dict[Terminal, list[Terminal]] = {}
    for inside in circuit.insides:
        if isinstance(inside.component, Isolator):
            isolators.setdefault(inside.start, []).append(inside.end)

    def onward(here: Terminal) -> Iterator[Terminal]:
        yield from isolators.get(here, ())
        for part, there in circuit.ways(here):
            if not is_of(part, opened):
                yield there

    return reached([start], onward)


def switch_passages(circuit: Circuit) -> Iterator[Passage]:
    """Every way through a switch of the battery side."""
    for element in circuit.battery_side:
        if isinstance(element, Passage) and isinstance(element.device, Switch):
            yield element


def switches(circuit: Circuit) -> list[Switch]:
    """Every switch of the battery side, each once."""
    found: dict[str, Switch] = {}
    for passage in switch_passages(circuit):
        assert isinstance(passage.device, Switch)
        found.setdefault(str(passage.name), passage.device)
    return list(found.values())
