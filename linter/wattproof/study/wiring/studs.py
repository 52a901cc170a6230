"""How many conductors end on one post of a battery, or on one stud of a device."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Circuit, Conductor, Terminal
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery
from wattproof.plan.terminals import POLES, is_in_the_way, ports
from wattproof.plan.ways import FedWire
from wattproof.record import record


@record
class Stud:
    """A post or stud, and the wires and bonds that end on it.

    shown: as a plan names it. ends: each wire as often as it has conductors there. posts: of its
    pole, more than one where a bank is several batteries in parallel.
    """

    component: Named
    shown: str
    ends: tuple[str, ...]
    posts: int


def studs(circuit: Circuit) -> Iterator[Stud]:
    """Every post and stud of batteries and of devices that wires end at, in the plan's order."""
    bonds: dict[Terminal, list[str]] = {}
    for bond, start in circuit.ends.bonds.items():
        bonds.setdefault(start, []).append(bond)
    for name, component in circuit.ends.components.items():
        if not isinstance(component, Battery) and not is_in_the_way(component):
            continue
        layout = component.arrangement if isinstance(component, Battery) else None
        posts = layout.in_parallel if layout is not None else 1
        for port in ports(component):
            for pole in POLES:
                terminal = Terminal(name, port, pole)
                ends = [
                    element.name
                    for element in circuit.around.get(terminal, ())
                    if isinstance(element, Conductor) and not isinstance(element.wire, FedWire)
                    for _ in range(int(element.wire.parallel or 1))
                ]
                ends += bonds.get(terminal, ())
                shown = ".".join(part for part in (name, port, pole) if part)
                yield Stud(component, shown, tuple(ends), posts)
