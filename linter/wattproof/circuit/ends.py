"""What each reference of a plan leads to, resolved once for all who ask."""

from __future__ import annotations

from typing import NamedTuple

from wattproof.circuit.elements import Terminal
from wattproof.kept import KeptEach, kept
from wattproof.plan.fields import Named
from wattproof.plan.root import Plan
from wattproof.plan.terminals import Reached, by_name, resolve, wire_poles
from wattproof.plan.wiring import Wire


class WireEnds(NamedTuple):
    """The two ends of a wire, and the pairs of poles that it joins: at its start and at its end."""

    start: Reached
    to: Reached
    poles: tuple[tuple[str, str], ...]


class Ends:
    """The components of a plan by name, and what wires, joints and the like lead to.

    Each raises Mistake where a reference leads to nothing, which the reader of plans tells first.
    """

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self.components: dict[str, Named] = by_name(plan)
        self._wires: KeptEach[str, WireEnds] = KeptEach()

    def of_wire(self, wire: Wire) -> WireEnds:
        """Those of a wire."""
        return self._wires.of(wire.name, lambda: self._of_wire(wire))

    def _of_wire(self, wire: Wire) -> WireEnds:
        start = resolve(wire.start, self.components, arriving=False)
        to = resolve(wire.to, self.components)
        return WireEnds(start, to, tuple(wire_poles(wire, start, to)))

    @kept
    def joined(self) -> dict[str, tuple[Reached, ...]]:
        """What each joint lists, in its order."""
        return {
            str(name): tuple(resolve(reference, self.components) for reference in joint.joins or ())
            for name, joint in self._plan.combiners.items()
        }

    @kept
    def bonds(self) -> dict[str, Terminal]:
        """The terminal that each bond begins at; of a reference without a pole the negative."""
        found = {}
        for name, bond in self._plan.bonds.items():
            start = resolve(bond.start, self.components, arriving=False)
            found[str(name)] = Terminal(start.component, start.port, start.pole or "negative")
        return found

    @kept
    def arresters(self) -> dict[str, Reached]:
        """What each arrester lies across."""
        arresters = self._plan.arresters.items()
        return {str(name): resolve(each.across, self.components) for name, each in arresters}

    @kept
    def readings(self) -> dict[str, Reached]:
        """What each reading was taken at."""
        readings = self._plan.readings.items()
        return {str(n): resolve(each.at_terminal, self.components) for n, each in readings}
