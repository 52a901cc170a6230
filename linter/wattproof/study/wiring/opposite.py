"""Where the other pole is at a place inside a wire: as far along the run beside it."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import TypeAlias

from wattproof.circuit import Conductor, Terminal
from wattproof.plan.terminals import other_pole

Run: TypeAlias = tuple[str, str]

NEAR = 1e-9
"""Places nearer than this along a wire are one (m)."""


class Opposites:
    """Joints inside wires, and the places beside them in the other pole.

    The run beside one is the wire's own of the other pole, or a wire for the other pole alone that
    joins the same two parts. same: other names under which parts are known. stops: for each
    conductor, places in it (m from its start) that are opposite to a joint. facing: for each
    joint, the terminal that stands for that place.
    """

    def __init__(
        self,
        parts: Iterable[Conductor],
        lengths: dict[Conductor, float],
        same: dict[str, str],
    ) -> None:
        self.stops: dict[Conductor, list[tuple[float, Terminal]]] = {}
        self.facing: dict[Terminal, Terminal] = {}
        self._lengths = lengths
        self._same = same
        self._runs: dict[Run, list[Conductor]] = {}
        for part in parts:
            self._runs.setdefault((part.name, part.pole), []).append(part)
        for run, conductors in self._runs.items():
            beside = self._beside(run)
            if beside is not None:
                self._face(conductors, *beside)
        for stops in self.stops.values():
            stops.sort()

    def _beside(self, run: Run) -> tuple[list[Conductor], bool] | None:
        """The conductors of the run beside one, and whether they go the other way."""
        name, pole = run
        other = other_pole(pole)
        if (name, other) in self._runs:
            return self._runs[name, other], False
        ends = self._ends(self._runs[run])
        for (wire, its_pole), conductors in self._runs.items():
            alone = (wire, pole) not in self._runs
            if its_pole == other and alone and set(self._ends(conductors)) == set(ends):
                return conductors, self._ends(conductors) != ends
        return None

    def _ends(self, conductors: list[Conductor]) -> tuple[str, str]:
        start, end = conductors[0].start.component, conductors[-1].end.component
        return self._same.get(start, start), self._same.get(end, end)

    def _face(self, own: list[Conductor], beside: list[Conductor], turned: bool) -> None:
        whole = sum(self._lengths[part] for part in own)
        length = sum(self._lengths[part] for part in beside)
        here = 0.0
        for part, onward in pairwise(own):
            here += self._lengths[part]
            place = here / whole * length
            for joint in (part.end, onward.start):
                self._place(joint, beside, length - place if turned else place)

    def _place(self, joint: Terminal, beside: list[Conductor], metres: float) -> None:
        """Find the place in the run beside: a joint of its own there, or within a conductor."""
        begins = 0.0
        for part in beside:
            ends = begins + self._lengths[part]
            for at, end in ((begins, part.start), (ends, part.end)):
                if abs(metres - at) <= NEAR:
                    self.facing[joint] = end
                    return
            if begins < metres < ends:
                stands = Terminal(joint.component, joint.port, other_pole(joint.pole))
                self.facing[joint] = stands
                self.stops.setdefault(part, []).append((metres - begins, stands))
                return
            begins = ends
