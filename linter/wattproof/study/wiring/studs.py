"""How many conductors end on one post of a battery, or on one stud of a device."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Circuit, Conductor, Terminal
from wattproof.plan.boxes import PowerBox
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Controller
from wattproof.plan.terminals import POLES, is_in_the_way, ports
from wattproof.plan.ways import FedWire
from wattproof.record import record


@record
class Stud:
    """A post, stud or clamp, and the wires and bonds that end on it.

    shown: as a plan names it. ends: each wire as often as it has conductors there. posts: of its
    pole, more than one where a bank is several batteries in parallel. clamp: True for a terminal of
    a controller, which takes bare ends and no lugs.
    """

    component: Named
    shown: str
    ends: tuple[str, ...]
    posts: int
    clamp: bool = False


def studs(circuit: Circuit) -> Iterator[Stud]:
    """Every post, stud and clamp of batteries, devices and controllers, in the plan's order."""
    bonds: dict[Terminal, list[str]] = {}
    for bond, start in circuit.ends.bonds.items():
        bonds.setdefault(start, []).append(bond)
    for name, component in circuit.ends.components.items():
        clamp = isinstance(component, Controller) and not isinstance(component, PowerBox)
        if not clamp and not isinstance(component, Battery) and not is_in_the_way(component):
            continue
        layout = component.arrangement if isinstance(component, Battery) else None
        posts = layout.in_parallel if layout is not None else 1
        for port in ports(component):
            if clamp and port == "load":
                continue  # small consumers are mostly drawn there one by one
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
                yield Stud(component, shown, tuple(ends), posts, clamp)
