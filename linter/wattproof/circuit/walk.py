"""The one walk over a graph: breadth first, each node once, and what was passed on the way there.

Nearest first; of ways of one length the one that is named first. What may be passed is told by
whoever walks. Written out here alone, since a walk by hand forgets one day to mark where it has
been; `Walk` does without steps that lead to nothing new, of which a check of a small plan has many.
"""

from __future__ import annotations

import heapq
from collections import deque
from collections.abc import Callable, Hashable, Iterable, Iterator
from itertools import count
from typing import Generic, NamedTuple, TypeAlias, TypeVar

Node = TypeVar("Node", bound=Hashable)
Way = TypeVar("Way")
Kept = TypeVar("Kept")

Ways: TypeAlias = Callable[[Node], Iterable[tuple[Way, Node]]]
"""From a node: each way onward, with the node that it leads to."""


class Step(NamedTuple, Generic[Node, Way]):
    """A way that was tried. first: whether nothing had led to its far end before."""

    here: Node
    way: Way
    there: Node
    first: bool


def steps(
    starts: Iterable[Node], ways: Ways[Node, Way], *, deep: bool = False
) -> Iterator[Step[Node, Way]]:
    """Every way that is tried, from each node that some nodes lead to, themselves first.

    deep: go on from what was reached last, along one branch to its end before the next.
    """
    waiting = deque(starts)
    known = set(waiting)
    while waiting:
        here = waiting.pop() if deep else waiting.popleft()
        for way, there in ways(here):
            first = there not in known
            if first:
                known.add(there)
                waiting.append(there)
            yield Step(here, way, there, first)


class Walk(Generic[Node, Way]):
    """What some nodes lead to, in the order in which it is reached; they themselves first."""

    def __init__(self, starts: Iterable[Node], ways: Ways[Node, Way]) -> None:
        last: dict[Node, Step[Node, Way] | None] = dict.fromkeys(starts)
        waiting = list(last)
        for here in waiting:  # which grows meanwhile
            for way, there in ways(here):
                if there not in last:
                    last[there] = Step(here, way, there, True)
                    waiting.append(there)
        self._last = last

    def __contains__(self, node: object) -> bool:
        return node in self._last

    def __iter__(self) -> Iterator[Node]:
        return iter(self._last)

    def last(self, node: Node) -> Step[Node, Way] | None:
        """The step that reached a node first; None for a start or what is not reached."""
        return self._last.get(node)

    def passed(self, node: Node) -> list[Way]:
        """The ways that lead to a node, from a start on; none to a start or what is not reached."""
        found: list[Way] = []
        while (last := self.last(node)) is not None:
            found.append(last.way)
            node = last.here
        return found[::-1]

    def carried(
        self, at_start: Kept, onward: Callable[[Kept, Step[Node, Way]], Kept]
    ) -> dict[Node, Kept]:
        """For each node what is handed on to it. onward: what a step makes of what comes in."""
        found: dict[Node, Kept] = {}
        for node, last in self._last.items():
            found[node] = at_start if last is None else onward(found[last.here], last)
        return found


def reached(starts: Iterable[Node], onward: Callable[[Node], Iterable[Node]]) -> set[Node]:
    """What some nodes lead to, they themselves among it. onward: from one to the next."""
    return set(Walk(starts, lambda node: ((None, there) for there in onward(node))))


def parted(one: Node, other: Node, ways: Ways[Node, Way]) -> tuple[Node, set[Node]] | None:
    """One of two nodes that does not lead to the other, with all that it leads to; else None.

    Both are walked from in turn, so that the smaller side is walked over and no more.
    """
    sides = [(one, {one}, steps([one], ways)), (other, {other}, steps([other], ways))]
    while one not in sides[1][1] and other not in sides[0][1]:
        for start, known, walk in sides:
            step = next(walk, None)
            if step is None:
                return start, known
            known.add(step.there)
    return None


def cheapest(
    start: Node, end: Node, ways: Ways[Node, Way], cost: Callable[[Way], float]
) -> list[Way] | None:
    """The ways from one node to another that cost least together; None where none lead there.

    cost: of one way, not negative. (Dijkstra, "A note on two problems in connexion with graphs",
    Numerische Mathematik 1, 1959.)
    """
    order = count()
    waiting: list[tuple[float, int, Node, list[Way]]] = [(0.0, next(order), start, [])]
    known: set[Node] = set()
    while waiting:
        spent, _, here, passed = heapq.heappop(waiting)
        if here == end:
            return passed
        if here in known:
            continue
        known.add(here)
        for way, there in ways(here):
            if there not in known:
                heapq.heappush(waiting, (spent + cost(way), next(order), there, [*passed, way]))
    return None
