"""The battery side as a network of resistances, both poles at once.

Terminals joined by what has no resistance are one node. What passes through such a joint is told
apart afterwards, as if every closed device in it had the same small resistance: of two in parallel
each then carries half.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterable, Iterator, Mapping
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
        solved = self._solver.solve(given)
        in_links = {k: amps for k, amps in solved.amps.items() if k < len(self.carrying)}
        return Flow(self, solved.volts, in_links, injected)

    def index(self, link: Link) -> int:
        """The place of a link with resistance among those."""
        return self._index[id(link)]

    def joints_at(self, terminals: Iterable[Terminal]) -> list[_Joint]:
        """The joints that some terminals are in, each once."""
        nodes = dict.fromkeys(self._place[terminal] for terminal in terminals)
        return [self._joints[node] for node in nodes if node in self._joints]

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
        around: dict[int, dict[int, Link]] = {node: {} for node in inside}
        for k, link in enumerate(self.carrying):
            for node in {self._place[link.start], self._place[link.end]} & inside.keys():
                around[node][k] = link
        cells: dict[int, list[Cell]] = {node: [] for node in inside}
        for cell in self.cells:
            for node in {self._place[cell.positive], self._place[cell.negative]} & inside.keys():
                cells[node].append(cell)
        return {node: _Joint(own, around[node], cells[node]) for node, own in inside.items()}


class _Joint:
    """Terminals joined by links without resistance, and what ends at them.

    around: links with resistance by their place in the mesh.
    """

    def __init__(self, links: list[Link], around: dict[int, Link], cells: list[Cell]) -> None:
        self.links = links
        self.around = around
        self.cells = cells
        self.terminals = {t for link in links for t in (link.start, link.end)}
        ends = [cell.negative for cell in cells]
        self._ground = next((t for t in ends if t in self.terminals), links[0].start)
        self._number = {terminal: k for k, terminal in enumerate(sorted(self.terminals))}

    @kept
    def _solver(self) -> Eliminated[int]:
        number = self._number
        ends = [(number[li.start], number[li.end], 1.0) for li in self.links]
        return Eliminated(ends, [number[self._ground]])

    def currents(self, flow: Flow) -> dict[Key, float]:
        """What each of its links carries (A) for what flows around it; none that carry nothing."""
        given = self._given(flow)
        if len(self.links) == 1:
            [link] = self.links
            amps = -given[link.end] if link.start == self._ground else given[link.start]
            return {link.key: amps} if amps else {}
        led = self._solver.solve({self._number[t]: amps for t, amps in given.items()})
        return {self.links[k].key: amps for k, amps in led.amps.items()}

    def _given(self, flow: Flow) -> dict[Terminal, float]:
        """What is led into each of its terminals (A)."""
        given: dict[Terminal, float] = defaultdict(float)
        for terminal in self.terminals & flow.injected.keys():
            given[terminal] += flow.injected[terminal]
        near = sorted(self.around.keys() & flow.amps.keys())
        led = [(self.around[k].start, self.around[k].end, flow.amps[k]) for k in near]
        led += [(cell.negative, cell.positive, flow.through(cell)) for cell in self.cells]
        for out, into, amps in led:
            if into in self.terminals:
                given[into] += amps
            if out in self.terminals:
                given[out] -= amps
        return given


class Flow:
    """Voltages (V) against the ground of each island, and currents (A).

    amps: of links with resistance, by their place in `mesh.carrying`; none that carry nothing.
    """

    def __init__(
        self,
        mesh: Mesh,
        volts: Mapping[int, float],
        amps: dict[int, float],
        injected: Mapping[Terminal, float],
    ) -> None:
        self.mesh = mesh
        self.amps = amps
        self._volts = volts
        self.injected = injected

    def volts(self, terminal: Terminal) -> float:
        """Voltage of a terminal."""
        return self._volts[self.mesh.node(terminal)]

    def across(self, cell: Cell) -> float:
        """Voltage between the poles of a bank."""
        return self.volts(cell.positive) - self.volts(cell.negative)

    def through(self, cell: Cell) -> float:
        """What comes out of the positive of a bank without an emf (A)."""
        return -self.across(cell) / cell.ohms

    def links(self) -> Iterator[tuple[Link, float]]:
        """The links with resistance that carry something, with that (A)."""
        return ((self.mesh.carrying[k], amps) for k, amps in self.amps.items())

    def in_link(self, link: Link) -> float:
        """What a link carries from its start to its end (A)."""
        if link.ohms > 0.0:
            return self.amps.get(self.mesh.index(link), 0.0)
        return self.in_joints.get(link.key, 0.0)

    @kept
    def in_joints(self) -> dict[Key, float]:
        """What links without resistance carry (A), by what they are; none that carry nothing."""
        near = {end: None for link, _ in self.links() for end in (link.start, link.end)}
        near |= dict.fromkeys(self.injected)
        near |= {post: None for cell in self.mesh.cells for post in (cell.positive, cell.negative)}
        found: dict[Key, float] = {}
        for joint in self.mesh.joints_at(near):
            found |= joint.currents(self)
        return found
