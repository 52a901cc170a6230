"""The battery side as a network of resistances, both poles at once.

Terminals joined by what has no resistance are one node. What passes through such a joint is told
apart afterwards, as if every closed device in it had the same small resistance: of two in parallel
each then carries half.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterable, Mapping
from typing import Final, NamedTuple, TypeAlias

from wattproof.circuit import Terminal
from wattproof.circuit.groups import Groups
from wattproof.kept import kept
from wattproof.physics.nodal_network import Eliminated

Key: TypeAlias = Hashable


SIGNS: Final = (1.0, -1.0)
"""From the start of a part to its end, and back; out of one pole, and into the other."""


class Link(NamedTuple):
    """Something between two terminals, with its resistance (Ω), 0 for none; key: what it is."""

    key: Key
    start: Terminal
    end: Terminal
    ohms: float


class Cell(NamedTuple):
    """A bank between its poles: name, and the resistance inside it (Ω, above zero)."""

    name: str
    positive: Terminal
    negative: Terminal
    ohms: float


class Mesh:
    """Links and banks between terminals. Currents count from the start of a link to its end.

    carrying: links with resistance. ways: the same as (node, node, conductance in S).
    """

    def __init__(self, links: Iterable[Link], cells: Iterable[Cell]) -> None:
        self.links = [link for link in links if link.start != link.end]
        self.cells = list(cells)
        nodes: Groups[Terminal] = Groups()  # joined without resistance
        for link in self.links:
            one, other = nodes.of(link.start), nodes.of(link.end)
            if link.ohms <= 0.0:
                nodes.join(max(one, other), min(one, other))
        for cell in self.cells:
            nodes.of(cell.positive)
            nodes.of(cell.negative)
        number: dict[Terminal, int] = {}
        self._place = {t: number.setdefault(nodes.of(t), len(number)) for t in nodes}
        self._size = len(number)
        self.carrying = [link for link in self.links if link.ohms > 0.0]
        place = self._place
        self.ways = [(place[li.start], place[li.end], 1.0 / li.ohms) for li in self.carrying]
        self._banks = [(place[c.positive], place[c.negative], 1.0 / c.ohms) for c in self.cells]
        self._index = {id(link): k for k, link in enumerate(self.carrying)}
        self._island = self._found_islands()
        self._fed = {self._island[plus] for plus, _, _ in self._banks}
        self._solver = Eliminated([*self.ways, *self._banks], self._grounds())

    def __contains__(self, terminal: object) -> bool:
        return terminal in self._place

    def node(self, terminal: Terminal) -> int:
        """The number of all terminals that are joined with one without resistance."""
        return self._place[terminal]

    def island(self, terminal: Terminal) -> int:
        """The number of all that is joined with a terminal, banks included."""
        return self._island[self._place[terminal]]

    def has_bank(self, terminal: Terminal) -> bool:
        """True where a bank is in its island; a terminal that no conductor joins is in none."""
        return terminal in self and self.island(terminal) in self._fed

    def solve(self, injected: Mapping[Terminal, float]) -> Flow:
        """What flows where currents (A) are led into terminals; what is left over is earthed.

        Every island has one node that takes what does not add up to zero: the negative of a bank.
        """
        given: dict[int, float] = defaultdict(float)
        for terminal, led in injected.items():
            given[self._place[terminal]] += led
        found = self._solver.voltages(given)
        volts = [found[node] for node in range(self._size)]
        amps = [(volts[a] - volts[b]) * siemens for a, b, siemens in self.ways]
        return Flow(self, volts, amps, injected)

    def index(self, link: Link) -> int:
        """The place of a link with resistance among those."""
        return self._index[id(link)]

    def joint(self, link: Link) -> _Joint:
        """The joint that a link without resistance belongs to."""
        return self._joints[self._place[link.start]]

    def _found_islands(self) -> list[int]:
        """For each node the least of those that are joined with it."""
        islands: Groups[int] = Groups()
        for a, b, _ in (*self.ways, *self._banks):
            one, other = islands.of(a), islands.of(b)
            islands.join(max(one, other), min(one, other))
        return [islands.of(node) for node in range(self._size)]

    def _grounds(self) -> list[int]:
        """One node of every island: the negative of its first bank, else its first terminal."""
        grounds: dict[int, int] = {}
        for _, minus, _ in self._banks:
            grounds.setdefault(self._island[minus], minus)
        for node, island in enumerate(self._island):
            grounds.setdefault(island, node)
        return list(grounds.values())

    @kept
    def _joints(self) -> dict[int, _Joint]:
        inside: dict[int, list[Link]] = {}
        for link in self.links:
            if link.ohms <= 0.0:
                inside.setdefault(self._place[link.start], []).append(link)
        around: dict[int, list[Link | Cell]] = {node: [] for node in inside}
        for link in self.carrying:
            for node in {self._place[link.start], self._place[link.end]} & inside.keys():
                around[node].append(link)
        for cell in self.cells:
            for node in {self._place[cell.positive], self._place[cell.negative]} & inside.keys():
                around[node].append(cell)
        return {node: _Joint(links, around[node]) for node, links in inside.items()}


class _Joint:
    """Terminals joined by links without resistance, and what ends at them."""

    def __init__(self, links: list[Link], around: list[Link | Cell]) -> None:
        self.links = links
        self.around = around
        self.terminals = {t for link in links for t in (link.start, link.end)}
        ends = [part.negative for part in around if isinstance(part, Cell)]
        self._ground = next((t for t in ends if t in self.terminals), links[0].start)
        number = {terminal: k for k, terminal in enumerate(sorted(self.terminals))}
        self._ends = [(number[li.start], number[li.end]) for li in links]
        self._number = number

    @kept
    def _solver(self) -> Eliminated[int]:
        return Eliminated(((a, b, 1.0) for a, b in self._ends), [self._number[self._ground]])

    def currents(self, flow: Flow) -> dict[Key, float]:
        """What each of its links carries (A) for what flows around it."""
        given: dict[Terminal, float] = defaultdict(float)
        for terminal, amps in flow.injected.items():
            if terminal in self.terminals:
                given[terminal] += amps
        for part in self.around:
            if isinstance(part, Cell):
                amps, into, out = flow.through(part), part.positive, part.negative
            else:
                amps, into, out = flow.in_link(part), part.end, part.start
            if into in self.terminals:
                given[into] += amps
            if out in self.terminals:
                given[out] -= amps
        if len(self.links) == 1:
            [link] = self.links
            from_end = link.start == self._ground
            amps = -given[link.end] if from_end else given[link.start]
            return {link.key: amps}
        volts = self._solver.voltages({self._number[t]: amps for t, amps in given.items()})
        return {
            li.key: volts[a] - volts[b] for li, (a, b) in zip(self.links, self._ends, strict=True)
        }


class Flow:
    """Voltages (V) at the nodes of a mesh against the ground of each island, and currents (A).

    amps: of each link with resistance, in the order of `mesh.carrying`.
    """

    def __init__(
        self,
        mesh: Mesh,
        volts: list[float],
        amps: list[float],
        injected: Mapping[Terminal, float],
    ) -> None:
        self.mesh = mesh
        self.amps = amps
        self._volts = volts
        self.injected = injected
        self._inside: dict[int, dict[Key, float]] = {}

    def volts(self, terminal: Terminal) -> float:
        """Voltage of a terminal."""
        return self._volts[self.mesh.node(terminal)]

    def across(self, cell: Cell) -> float:
        """Voltage between the poles of a bank."""
        return self.volts(cell.positive) - self.volts(cell.negative)

    def through(self, cell: Cell) -> float:
        """What comes out of the positive of a bank without an emf (A)."""
        return -self.across(cell) / cell.ohms

    def in_link(self, link: Link) -> float:
        """What a link carries from its start to its end (A)."""
        if link.ohms > 0.0:
            return self.amps[self.mesh.index(link)]
        joint = self.mesh.joint(link)
        if id(joint) not in self._inside:
            self._inside[id(joint)] = joint.currents(self)
        return self._inside[id(joint)][link.key]
