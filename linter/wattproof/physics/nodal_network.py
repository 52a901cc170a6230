"""Voltages of a network of conductances that currents are led into.

Nodes are eliminated one by one, those with the fewest neighbours first: a node and its branches
become a mesh between its neighbours that behaves the same. Every step adds, multiplies and divides
numbers that are not negative, so nothing cancels: a microhm beside a kiloohm costs no digits, and a
node without any way to the ground is told apart from one with a poor way. What hangs as a tree
costs one step a node, so that large networks of wires are solved as fast as they are read.

Sources: H. A. Rosen, "A new network theorem", Journal of the Institution of Electrical Engineers 62
(1924) 916-918 (star and mesh); W. K. Grassmann, M. I. Taksar, D. P. Heyman, "Regenerative analysis
and steady state distributions for Markov chains", Operations Research 33 (1985) 1107-1116,
doi 10.1287/opre.33.5.1107 (elimination without subtraction); W. F. Tinney, J. W. Walker, "Direct
solutions of sparse network equations by optimally ordered triangular factorization", Proceedings of
the IEEE 55 (1967) 1801-1809 (fewest neighbours first).
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from heapq import heapify, heappop, heappush
from typing import Generic, TypeVar

Node = TypeVar("Node", str, int)


class SingularSystem(ValueError):
    """The network does not determine every voltage."""


class Eliminated(Generic[Node]):
    """A network of conductances, eliminated once and solved for as many currents as are asked."""

    def __init__(
        self, conductances: Iterable[tuple[Node, Node, float]], grounded: Iterable[Node]
    ) -> None:
        """Take (node, node, conductance in S, not negative) and the nodes without voltage.

        Conductances from a node to itself carry nothing. Raises SingularSystem where a node has no
        way to a grounded one.
        """
        self.grounded: frozenset[Node] = frozenset(grounded)
        self._steps: list[tuple[Node, tuple[tuple[Node, float], ...], float]] = []
        self._eliminate(*self._gathered(conductances))

    def _gathered(
        self, conductances: Iterable[tuple[Node, Node, float]]
    ) -> tuple[dict[Node, dict[Node, float]], dict[Node, float]]:
        """Conductances between free nodes (S), alike ones added, and those to the ground."""
        around: dict[Node, dict[Node, float]] = {}
        ground: dict[Node, float] = defaultdict(float)
        for one, other, siemens in conductances:
            for here, there in ((one, other), (other, one)):
                if here in self.grounded:
                    continue
                row = around.setdefault(here, defaultdict(float))
                if there in self.grounded:
                    ground[here] += siemens
                elif there != here:
                    row[there] += siemens
        return around, ground

    def _eliminate(self, around: dict[Node, dict[Node, float]], ground: dict[Node, float]) -> None:
        waiting = [(len(row), node) for node, row in around.items()]
        heapify(waiting)
        while waiting:
            count, node = heappop(waiting)
            row = around.get(node)
            if row is None or len(row) != count:
                continue  # gone, or among the waiting with another count as well
            del around[node]
            neighbours = tuple(row.items())
            whole = ground[node] + sum(siemens for _, siemens in neighbours)
            if not whole > 0.0:
                raise SingularSystem(f"{node}: no conductor leads from here to the ground")
            shares = tuple((other, siemens / whole) for other, siemens in neighbours)
            self._steps.append((node, shares, 1.0 / whole))
            to_ground = ground[node]
            for place, (one, siemens) in enumerate(neighbours):
                own = around[one]
                del own[node]
                ground[one] += siemens * (to_ground / whole)
                for other, further in neighbours[:place]:
                    own[other] += siemens * (further / whole)
                    around[other][one] = own[other]
            for one, _ in neighbours:
                heappush(waiting, (len(around[one]), one))

    def voltages(self, injected: Mapping[Node, float]) -> dict[Node, float]:
        """Return the voltage (V) of every node where currents (A) are led into some of them."""
        given = defaultdict(float, injected)
        for node, shares, _ in self._steps:
            amps = given.get(node)
            if amps:
                for other, share in shares:
                    given[other] += amps * share
        volts = dict.fromkeys(sorted(self.grounded), 0.0)
        for node, shares, ohms in reversed(self._steps):
            across = given[node] * ohms
            for other, share in shares:
                across += share * volts[other]
            volts[node] = across
        return volts
