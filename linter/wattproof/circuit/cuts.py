"""What lies on each side of a conductor on the battery side, when it is cut.

A depth-first walk over each net finds the bridges (Tarjan, "A note on finding the bridges of a
graph", Inf. Process. Lett. 2, 1974). Cutting a bridge leaves two sides; a conductor in a ring has
no sides of its own and sees the whole net on both.
"""

from __future__ import annotations

from collections.abc import Iterable

from wattproof.circuit.elements import Conductor, Element, Passage, Terminal
from wattproof.record import record


@record
class Side:
    """A part of a net: runs (from, up to) of its terminals in the order of the walk.

    All sides of one net share the order, so that a net of many branches is not copied for each.
    """

    order: tuple[Terminal, ...]
    runs: tuple[tuple[int, int], ...]


@record
class Cut:
    """What lies on either side of an element: where it starts, and where it ends."""

    before: Side
    after: Side
    in_ring: bool


def cuts(elements: Iterable[Element]) -> dict[Conductor | Passage, Cut]:
    """The two sides of every conductor and device that joins terminals."""
    around: dict[Terminal, list[Conductor | Passage]] = {}
    for element in elements:
        if isinstance(element, Conductor | Passage):
            around.setdefault(element.start, []).append(element)
            around.setdefault(element.end, []).append(element)
    found: dict[Conductor | Passage, Cut] = {}
    seen: set[Terminal] = set()
    for root in around:
        if root not in seen:
            walk = _Walk(root, around)
            seen.update(walk.order)
            found.update(walk.cuts())
    return found


class _Walk:
    """A depth-first walk of one net."""

    def __init__(self, root: Terminal, around: dict[Terminal, list[Conductor | Passage]]) -> None:
        self.order: list[Terminal] = []
        self.entered: dict[Terminal, int] = {}
        self.left: dict[Terminal, int] = {}
        self.lowest: dict[Terminal, int] = {}
        self.by: dict[Terminal, Conductor | Passage | None] = {}
        self.ring: list[Conductor | Passage] = []
        self._walk(root, around)

    def _walk(self, root: Terminal, around: dict[Terminal, list[Conductor | Passage]]) -> None:
        self._enter(root, None)
        stack = [(root, iter(around[root]))]
        used: set[Conductor | Passage] = set()
        while stack:
            node, remaining = stack[-1]
            element = next(remaining, None)
            if element is None:
                stack.pop()
                self.left[node] = len(self.order)
                if stack:
                    parent = stack[-1][0]
                    self.lowest[parent] = min(self.lowest[parent], self.lowest[node])
                continue
            if element in used:
                continue
            used.add(element)
            other = element.end if element.start == node else element.start
            if other in self.entered:
                self.lowest[node] = min(self.lowest[node], self.entered[other])
                self.ring.append(element)
            else:
                self._enter(other, element)
                stack.append((other, iter(around[other])))

    def _enter(self, node: Terminal, by: Conductor | Passage | None) -> None:
        self.by[node] = by
        self.entered[node] = self.lowest[node] = len(self.order)
        self.order.append(node)

    def cuts(self) -> dict[Conductor | Passage, Cut]:
        order = tuple(self.order)
        whole = Side(order, ((0, len(order)),))
        found: dict[Conductor | Passage, Cut] = {e: Cut(whole, whole, True) for e in self.ring}
        for node, element in self.by.items():
            if element is None:
                continue
            first, last = self.entered[node], self.left[node]
            if self.lowest[node] < first:
                found[element] = Cut(whole, whole, True)
                continue
            below = Side(order, ((first, last),))
            above = Side(order, ((0, first), (last, len(order))))
            sides = (above, below) if element.end == node else (below, above)
            found[element] = Cut(*sides, in_ring=False)
        return found
