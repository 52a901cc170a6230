"""Bonds as links between a pole and the chassis, the water or the earth."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Circuit, Terminal
from wattproof.plan.terminals import by_name, resolve
from wattproof.study.wiring.mesh import Link


def bonds_of(circuit: Circuit) -> Iterator[Link]:
    """Every bond that ends at a wire, taken as without resistance: then most current passes it."""
    components = by_name(circuit.plan)
    for bond in circuit.plan.bonds.values():
        start = resolve(bond.start, components, arriving=False)
        tied = Terminal(start.component, start.port, start.pole or "negative")
        if tied in circuit.around:
            yield Link(bond, tied, Terminal(bond.to, "", "negative"), 0.0)
