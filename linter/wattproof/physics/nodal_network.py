"""Voltages of a network of conductances that currents are led into.

Nodes are eliminated one by one, those with the fewest neighbours first: a node and its branches
become a mesh between its neighbours that behaves the same. Every step adds, multiplies and divides
numbers that are not negative, so nothing cancels: a microhm beside a kiloohm costs no digits, and a
node without any way to the ground is told apart from one with a poor way. What hangs as a tree
costs one step a node, so that large networks of wires are solved as fast as they are read; where no
current is led into such a tree, it has the voltage of what it hangs on and costs no step at all.

Sources: H. A. Rosen, "A new network theorem", Journal of the Institution of Electrical Engineers 62
(1924) 916-918 (star and mesh); W. K. Grassmann, M. I. Taksar, D. P. Heyman, "Regenerative analysis
and steady state distributions for Markov chains", Operations Research 33 (1985) 1107-1116,
doi 10.1287/opre.33.5.1107 (elimination without subtraction); W. F. Tinney, J. W. Walker, "Direct
solutions of sparse network equations by optimally ordered triangular factorization", Proceedings of
the IEEE 55 (1967) 1801-1809 (fewest neighbours first).
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from heapq import heapify, heappop, heappush
from typing import Generic, NamedTuple, TypeVar

Node = TypeVar("Node", str, int)


class SingularSystem(ValueError):
    """The network does not determine every voltage."""


class _Step(NamedTuple, Generic[Node]):
    """A node that was eliminated. shares: what of a current into it each neighbour left gets."""

    node: Node
    shares: tuple[tuple[Node, float], ...]
    ohms: float

    @property
    def hangs(self) -> bool:
        """True where all that is led into it leaves by one neighbour, or all by the ground."""
        return not self.shares or (len(self.shares) == 1 and self.shares[0][1] == 1.0)


class Voltages(Mapping[Node, float]):
    """The voltage (V) of every node; what hangs on another and is led nothing has that one's."""

    def __init__(self, found: dict[Node, float], hanging: Mapping[Node, Node | None]) -> None:
        """hanging: what each hanging node hangs on, None for the ground."""
        self._found: dict[Node, float] = found
        self._hanging: Mapping[Node, Node | None] = hanging

    def __getitem__(self, node: Node) -> float:
        on: Node | None = node
        while on is not None:
            if on in self._found:
                return self._found[on]
            on = self._hanging[on]
        return 0.0

    def __iter__(self) -> Iterator[Node]:
        yield from self._found
        yield from (node for node in self._hanging if node not in self._found)

    def __len__(self) -> int:
        return sum(1 for _ in self)


class Solution(NamedTuple, Generic[Node]):
    """What currents led into a network do.

    amps: what conductances carry from their first node to the other (A), by their place among
    those that were given and in that order; those that carry nothing are left out.
    """

    volts: Voltages[Node]
    amps: dict[int, float]


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
        self._conductances: list[tuple[Node, Node, float]] = list(conductances)
        self._steps: list[_Step[Node]] = []
        self._eliminate(*self._gathered())
        self._place: dict[Node, int] = {step.node: place for place, step in enumerate(self._steps)}
        self._meshed = [place for place, step in enumerate(self._steps) if not step.hangs]
        self._hanging: dict[Node, Node | None] = {
            step.node: step.shares[0][0] if step.shares else None
            for step in self._steps
            if step.hangs
        }
        self._from_node: dict[Node, list[int]] = self._by_first_eliminated()

    def _gathered(self) -> tuple[dict[Node, dict[Node, float]], dict[Node, float]]:
        """Conductances between free nodes (S), alike ones added, and those to the ground."""
        around: dict[Node, dict[Node, float]] = {}
        ground: dict[Node, float] = defaultdict(float)
        for one, other, siemens in self._conductances:
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
        def neighbours_of(node: Node) -> int:
            return len(around[node]) + (ground.get(node, 0.0) > 0.0)

        waiting = [(neighbours_of(node), node) for node in around]
        heapify(waiting)
        while waiting:
            count, node = heappop(waiting)
            if node not in around or neighbours_of(node) != count:
                continue  # gone, or among the waiting with another count as well
            neighbours = tuple(around.pop(node).items())
            to_ground = ground.get(node, 0.0)
            whole = to_ground + sum(siemens for _, siemens in neighbours)
            if not whole > 0.0:
                raise SingularSystem(f"{node}: no conductor leads from here to the ground")
            shares = tuple((other, siemens / whole) for other, siemens in neighbours)
            self._steps.append(_Step(node, shares, 1.0 / whole))
            for place, (one, siemens) in enumerate(neighbours):
                own = around[one]
                del own[node]
                ground[one] += siemens * (to_ground / whole)
                for other, further in neighbours[:place]:
                    own[other] += siemens * (further / whole)
                    around[other][one] = own[other]
            for one, _ in neighbours:
                heappush(waiting, (neighbours_of(one), one))

    def _by_first_eliminated(self) -> dict[Node, list[int]]:
        """Places of conductances by the end that was eliminated first.

        Where that hangs and is led nothing, they carry nothing.
        """
        found: dict[Node, list[int]] = {}
        never = len(self._steps)
        for place, (one, other, _) in enumerate(self._conductances):
            if one != other:
                first = min((one, other), key=lambda node: self._place.get(node, never))
                found.setdefault(first, []).append(place)
        return found

    def voltages(self, injected: Mapping[Node, float]) -> Voltages[Node]:
        """Return the voltage (V) of every node where currents (A) are led into some of them."""
        return self.solve(injected).volts

    def solve(self, injected: Mapping[Node, float]) -> Solution[Node]:
        """Return voltages, and what conductances carry, where currents (A) are led into nodes."""
        given: dict[Node, float] = defaultdict(float, injected)
        places = sorted({*self._meshed, *self._led_on(given)}, reverse=True)
        volts = dict.fromkeys(sorted(self.grounded), 0.0)
        known = Voltages(volts, self._hanging)
        for node, shares, ohms in map(self._steps.__getitem__, places):
            across = given[node] * ohms
            for other, share in shares:
                across += share * known[other]
            volts[node] = across
        amps = {}
        for place in places:
            for k in self._from_node.get(self._steps[place].node, ()):
                one, other, siemens = self._conductances[k]
                led = (known[one] - known[other]) * siemens
                if led:
                    amps[k] = led
        return Solution(known, dict(sorted(amps.items())))

    def _led_on(self, given: dict[Node, float]) -> list[int]:
        """Places of the steps that what is led into nodes passes, which are added to it."""
        waiting = sorted(self._place[node] for node in given if node in self._place)
        known = set(waiting)
        passed = []
        while waiting:
            place = heappop(waiting)
            passed.append(place)
            step = self._steps[place]
            amps = given[step.node]
            if amps:
                for other, share in step.shares:
                    given[other] += amps * share
                    at = self._place[other]
                    if at not in known:
                        known.add(at)
                        heappush(waiting, at)
        return passed
