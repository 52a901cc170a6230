"""The battery side as a network of resistances, both poles at once.

Terminals joined by what has no resistance are one node. What passes through such a joint is told
apart afterwards, as if every closed device in it had the same small resistance: of two in parallel
each then carries half.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from typing import NamedTuple, TypeAlias

from wattproof.circuit import Terminal
from wattproof.physics.nodal_network import Eliminated

Key: TypeAlias = Hashable


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
    """Links and banks between terminals. Currents count from the start of a link to its end."""

    def __init__(self, links: Iterable[Link], cells: Iterable[Cell]) -> None:
        self.links = [link for link in links if link.start != link.end]
        self.cells = list(cells)
        self._node: dict[Terminal, Terminal] = {}
        for link in self.links:
            one, other = self.node(link.start), self.node(link.end)
            if link.ohms <= 0.0:
                self._node[max(one, other)] = min(one, other)
        for cell in self.cells:
            self.node(cell.positive)
            self.node(cell.negative)
        self._islands = self._found_islands()
        self.grounds = self._grounded()
        self._names = {t: "/".join(t) for t in {self.node(t) for t in self._node}}
        self._solver = Eliminated(
            [
                *(self._conductance(li.start, li.end, li.ohms) for li in self.links if li.ohms > 0),
                *(self._conductance(c.positive, c.negative, c.ohms) for c in self.cells),
            ],
            [self._names[t] for t in self.grounds.values()],
        )
        self._joints: dict[Terminal, _Joint] | None = None

    def node(self, terminal: Terminal) -> Terminal:
        """The terminal that stands for all that are joined without resistance."""
        root = terminal
        while (parent := self._node.setdefault(root, root)) != root:
            root = parent
        while terminal != root:
            self._node[terminal], terminal = root, self._node[terminal]
        return root

    def __contains__(self, terminal: object) -> bool:
        return terminal in self._node

    def island(self, terminal: Terminal) -> Terminal:
        """The terminal that stands for all that is joined with it, banks included."""
        return self._islands[self.node(terminal)]

    def has_bank(self, terminal: Terminal) -> bool:
        """True where a bank is in its island."""
        return self.island(terminal) in self._with_banks

    def solve(self, injected: Mapping[Terminal, float]) -> Flow:
        """What flows where currents (A) are led into terminals; what is left over is earthed.

        Every island has one node that takes what does not add up to zero: the negative of a bank.
        """
        given: dict[str, float] = {}
        for terminal, amps in injected.items():
            name = self._names[self.node(terminal)]
            given[name] = given.get(name, 0.0) + amps
        volts = self._solver.voltages(given)
        return Flow(self, {t: volts[n] for t, n in self._names.items() if n in volts}, injected)

    def joint(self, link: Link) -> _Joint:
        """The joint that a link without resistance belongs to."""
        if self._joints is None:
            self._joints = self._found_joints()
        return self._joints[self.node(link.start)]

    def _conductance(self, one: Terminal, other: Terminal, ohms: float) -> tuple[str, str, float]:
        return self._names[self.node(one)], self._names[self.node(other)], 1.0 / ohms

    def _found_islands(self) -> dict[Terminal, Terminal]:
        root = {self.node(t): self.node(t) for t in list(self._node)}

        def of(node: Terminal) -> Terminal:
            while root[node] != node:
                root[node] = root[root[node]]
                node = root[node]
            return node

        joined = [(li.start, li.end) for li in self.links]
        joined += [(c.positive, c.negative) for c in self.cells]
        for start, end in joined:
            one, other = of(self.node(start)), of(self.node(end))
            root[max(one, other)] = min(one, other)
        self._with_banks = {of(self.node(c.positive)) for c in self.cells}
        return {node: of(node) for node in root}

    def _grounded(self) -> dict[Terminal, Terminal]:
        """One node of every island: the negative of its first bank, else its first terminal."""
        grounds: dict[Terminal, Terminal] = {}
        for cell in self.cells:
            grounds.setdefault(self.island(cell.positive), self.node(cell.negative))
        for node, island in self._islands.items():
            grounds.setdefault(island, node)
        return grounds

    def _found_joints(self) -> dict[Terminal, _Joint]:
        inside: dict[Terminal, list[Link]] = {}
        for link in self.links:
            if link.ohms <= 0.0:
                inside.setdefault(self.node(link.start), []).append(link)
        around: dict[Terminal, list[Link | Cell]] = {node: [] for node in inside}
        for link in self.links:
            if link.ohms > 0.0:
                for node in {self.node(link.start), self.node(link.end)} & inside.keys():
                    around[node].append(link)
        for cell in self.cells:
            for node in {self.node(cell.positive), self.node(cell.negative)} & inside.keys():
                around[node].append(cell)
        return {node: _Joint(links, around[node]) for node, links in inside.items()}


class _Joint:
    """Terminals joined by links without resistance, and what ends at them."""

    def __init__(self, links: list[Link], around: list[Link | Cell]) -> None:
        self.links = links
        self.around = around
        self.terminals = {t for link in links for t in (link.start, link.end)}
        ends = [part.negative for part in around if isinstance(part, Cell)]
        ground = next((t for t in ends if t in self.terminals), links[0].start)
        self._solver = Eliminated(
            [("/".join(li.start), "/".join(li.end), 1.0) for li in links], ["/".join(ground)]
        )

    def currents(self, flow: Flow) -> dict[Key, float]:
        """What each of its links carries (A) for what flows around it."""
        given: dict[str, float] = {}

        def into(terminal: Terminal, amps: float) -> None:
            if terminal in self.terminals:
                name = "/".join(terminal)
                given[name] = given.get(name, 0.0) + amps

        for terminal, amps in flow.injected.items():
            into(terminal, amps)
        for part in self.around:
            if isinstance(part, Cell):
                amps = flow.through(part)
                into(part.positive, amps)
                into(part.negative, -amps)
            else:
                amps = flow.in_link(part)
                into(part.end, amps)
                into(part.start, -amps)
        volts = self._solver.voltages(given)
        return {li.key: volts["/".join(li.start)] - volts["/".join(li.end)] for li in self.links}


class Flow:
    """Voltages (V) at the nodes of a mesh against the ground of each island, and currents (A)."""

    def __init__(
        self, mesh: Mesh, volts: dict[Terminal, float], injected: Mapping[Terminal, float]
    ) -> None:
        self.mesh = mesh
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
            return (self.volts(link.start) - self.volts(link.end)) / link.ohms
        joint = self.mesh.joint(link)
        if id(joint) not in self._inside:
            self._inside[id(joint)] = joint.currents(self)
        return self._inside[id(joint)][link.key]
