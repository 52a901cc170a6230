"""Bonds as links between a pole and the chassis, the water or the earth."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Circuit, Terminal
from wattproof.study.wiring.mesh import Link


def bonds_of(circuit: Circuit) -> Iterator[Link]:
    """Every bond at a wire or a battery, taken as without resistance: most current passes it."""
    for bond in circuit.plan.bonds.values():
        tied = circuit.ends.bonds[bond.name]
        if tied in circuit.around or tied.component in circuit.plan.batteries:
            yield Link(bond, tied, Terminal(bond.to, "", "negative"), 0.0)
