"""What is joined with what, one way or another.

(Galler and Fischer, "An improved equivalence algorithm", Communications of the ACM 7, 1964.)
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping
from typing import Generic, TypeVar

Node = TypeVar("Node", bound=Hashable)


class Groups(Generic[Node]):
    """Groups of nodes. One node stands for each; a node that was never joined is alone."""

    def __init__(self, joined: Mapping[Node, Node] | None = None) -> None:
        """joined: nodes that are in the group of another from the start, each with that."""
        self._above: dict[Node, Node] = dict(joined or {})

    def __iter__(self) -> Iterator[Node]:
        """Every node that was asked for or joined, in that order."""
        return iter(tuple(self._above))

    def of(self, node: Node) -> Node:
        """The node that stands for the group of one."""
        first = node
        while (above := self._above.setdefault(first, first)) != first:
            first = above
        while node != first:
            self._above[node], node = first, self._above[node]
        return first

    def members(self) -> dict[Node, list[Node]]:
        """Every group by the node that stands for it, its nodes in that order."""
        found: dict[Node, list[Node]] = {}
        for node in self:
            found.setdefault(self.of(node), []).append(node)
        return found

    def join(self, one: Node, other: Node) -> bool:
        """Join two groups, of which the second's stands for both; False where they are one."""
        group, into = self.of(one), self.of(other)
        self._above[group] = into
        return group != into
