"""The array at a controller's input as a tree of series and parallel.

Reduction of a two-terminal network: elements between the same two nodes are in parallel, elements
that meet at a node of two ends are in series; repeated until one is left. (Duffin, "Topology of
series-parallel networks", J. Math. Anal. Appl. 10, 1965: the networks that reduce are those with
no bridge across.)
"""

from __future__ import annotations

from typing import TypeAlias

from wattproof.circuit.elements import Element, Source, Terminal
from wattproof.kept import kept
from wattproof.record import record


@record
class Leaf:
    """One element; forward where its start is nearer to the negative terminal."""

    element: Element
    forward: bool

    @property
    def leaves(self) -> tuple[Leaf, ...]:
        """Itself."""
        return (self,)

    @kept
    def has_source(self) -> bool:
        """True for a source."""
        return isinstance(self.element, Source)


class _Group:
    """What series and parallel have alike, found out once: much asks for it, of trees in trees."""

    members: tuple[Tree, ...]

    @kept
    def leaves(self) -> tuple[Leaf, ...]:
        """Every element, from negative to positive."""
        return tuple(leaf for member in self.members for leaf in member.leaves)

    @kept
    def has_source(self) -> bool:
        """True where a source is among them."""
        return any(member.has_source for member in self.members)


@record
class Series(_Group):
    """Members in series, from the negative side to the positive."""

    members: tuple[Tree, ...]


@record
class Parallel(_Group):
    """Members in parallel between two nodes: negative side and positive side."""

    members: tuple[Tree, ...]
    negative: Terminal
    positive: Terminal


Tree: TypeAlias = Leaf | Series | Parallel


class NotSeriesParallel(Exception):
    """The network has a bridge: no tree of series and parallel. Names the elements left."""

    def __init__(self, names: list[str]) -> None:
        super().__init__(", ".join(names))
        self.names = names


def leaves(tree: Tree) -> tuple[Leaf, ...]:
    """Every element of a tree, from negative to positive."""
    return tree.leaves


def has_source(tree: Tree) -> bool:
    """True where a source is in the tree."""
    return tree.has_source


def reduce(elements: list[Element], negative: Terminal, positive: Terminal) -> Tree | None:
    """The tree between two terminals; None where nothing joins them. Raises NotSeriesParallel."""
    network = _Network(negative, positive)
    for element in elements:
        network.add(element.start, element.end, Leaf(element, True))
    return network.reduced()


class _Network:
    """Edges between nodes; each holds the tree that leads from its first node to its second."""

    def __init__(self, negative: Terminal, positive: Terminal) -> None:
        self.ends = (negative, positive)
        self.edges: dict[int, tuple[Terminal, Terminal, Tree]] = {}
        self.at: dict[Terminal, dict[int, None]] = {negative: {}, positive: {}}
        self.between: dict[frozenset[Terminal], int] = {}
        self.number = 0

    def add(self, a: Terminal, b: Terminal, tree: Tree) -> None:
        """Add an edge; where one already joins the two nodes, put both in parallel."""
        if a == b:
            return
        number = self.between.get(frozenset((a, b)))
        if number is None:
            self._put(a, b, tree)
            return
        first, second, other = self._remove(number)
        forward = tree if first == a else _turned(tree)
        members = (*_parallel_members(other), *_parallel_members(forward))
        self._put(first, second, Parallel(members, first, second))

    def _put(self, a: Terminal, b: Terminal, tree: Tree) -> None:
        self.number += 1
        self.edges[self.number] = (a, b, tree)
        self.between[frozenset((a, b))] = self.number
        self.at.setdefault(a, {})[self.number] = None
        self.at.setdefault(b, {})[self.number] = None

    def _remove(self, number: int) -> tuple[Terminal, Terminal, Tree]:
        a, b, tree = self.edges.pop(number)
        del self.at[a][number]
        del self.at[b][number]
        del self.between[frozenset((a, b))]
        return a, b, tree

    def reduced(self) -> Tree | None:
        waiting = list(self.at)
        while waiting:
            node = waiting.pop(0)
            if node in self.ends or not self.at[node] or len(self.at[node]) > 2:
                continue
            numbers = list(self.at[node])
            if len(numbers) == 1:  # an open end carries nothing
                a, b, _ = self._remove(numbers[0])
                waiting += [a, b]
                continue
            a, _, before = self._towards(node, numbers[0])
            b, _, after = self._towards(node, numbers[1])
            self._remove(numbers[0])
            self._remove(numbers[1])
            self.add(a, b, Series((*_series_members(before), *_series_members(_turned(after)))))
            waiting += [a, b]
        negative, positive = self.ends
        if len(self.edges) > 1:
            raise NotSeriesParallel(
                sorted(
                    {leaf.element.name for *_, tree in self.edges.values() for leaf in leaves(tree)}
                )
            )
        for a, b, tree in self.edges.values():
            if {a, b} == {negative, positive}:
                return tree if a == negative else _turned(tree)
        return None

    def _towards(self, node: Terminal, number: int) -> tuple[Terminal, Terminal, Tree]:
        """The edge turned so that it leads to the node."""
        a, b, tree = self.edges[number]
        return (a, b, tree) if b == node else (b, a, _turned(tree))


def _turned(tree: Tree) -> Tree:
    """The same network seen from its other end."""
    if isinstance(tree, Leaf):
        return Leaf(tree.element, not tree.forward)
    if isinstance(tree, Series):
        return Series(tuple(_turned(member) for member in reversed(tree.members)))
    return Parallel(tuple(_turned(m) for m in tree.members), tree.positive, tree.negative)


def _series_members(tree: Tree) -> tuple[Tree, ...]:
    return tree.members if isinstance(tree, Series) else (tree,)


def _parallel_members(tree: Tree) -> tuple[Tree, ...]:
    return tree.members if isinstance(tree, Parallel) else (tree,)
