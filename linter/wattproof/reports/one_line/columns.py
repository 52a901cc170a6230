"""How far across each node of a one-line diagram stands.

Nodes that hang straight below each other form columns, as in Brandes and Köpf, "Fast and simple
horizontal coordinate assignment" (Graph Drawing, 2001). Each column then moves to the mean place of
what it is joined to, as far as its neighbours leave it room.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Final, TypeAlias

from wattproof.reports.one_line.rows import Edge, Node, Rows

COLUMN_GAP: Final = 16.0  # between what stands side by side
_BAR_GAP: Final = 6.0  # between a bar that is widened and what stands beside it
_PASSES: Final = 80
_TIGHT: Final = 0.01  # neighbours that are nearer than this to their least distance move together
_TO_STRETCHED: Final = 0.02  # how much a line counts that ends anywhere on a bar
_LANE: Final = 4.0  # how much a line counts that passes a row
_EDGE: Final = 8.0  # from the last line on a symbol to its side

_Pull: TypeAlias = tuple[int, float, float]
"""Another column, how far from it a column wants to be, and how strongly."""


@dataclass(eq=False, slots=True)
class _Column:
    """Nodes straight below each other. rights, lefts: neighbours, and how far they must be."""

    nodes: list[Node]
    x: float = 0.0
    rights: dict[int, float] = field(default_factory=dict)
    lefts: dict[int, float] = field(default_factory=dict)


def place_columns(rows: Rows) -> None:
    """Set the axis of every node."""
    columns = _columns(rows)
    number = {node: n for n, column in enumerate(columns) for node in column.nodes}
    for row in rows:
        for left, right in pairwise(row):
            a, b = number[left], number[right]
            apart = left.right + COLUMN_GAP + right.left
            columns[a].rights[b] = max(apart, columns[a].rights.get(b, 0.0))
            columns[b].lefts[a] = columns[a].rights[b]
    order = _from_left(columns)
    for n in order:
        columns[n].x = max(
            (columns[a].x + apart for a, apart in columns[n].lefts.items()), default=0.0
        )
    pulls = [_pulls(column, number) for column in columns]
    for turn in range(_PASSES):
        for n in order if turn % 2 else reversed(order):
            _settle(columns, n, pulls[n])
        if turn < _PASSES - 2:
            _settle_together(columns, pulls)
    for column in columns:
        for node in column.nodes:
            node.x = column.x


def _columns(rows: Rows) -> list[_Column]:
    below: dict[Node, Node] = {}
    for row, following in pairwise(rows):
        below.update(_aligned(row, following))
    hanging = set(below.values())
    columns = []
    for node in (node for row in rows for node in row):
        if node not in hanging:
            chain = [node]
            while chain[-1] in below:
                chain.append(below[chain[-1]])
            columns.append(_Column(chain))
    return columns


def _aligned(row: list[Node], following: list[Node]) -> dict[Node, Node]:
    """Which nodes of the next row hang straight below which; lanes first, and none across."""
    above = {node: place for place, node in enumerate(row)}
    place = {node: p for p, node in enumerate(following)}
    wanted = [e for node in row for e in node.down if _can_align(e, place, above)]
    wanted.sort(key=lambda e: (e.upper.item is not None, e.lower.item is not None))
    kept: list[Edge] = []
    for edge in wanted:
        a, b = above[edge.upper], place[edge.lower]
        if all((a - above[k.upper]) * (b - place[k.lower]) > 0 for k in kept):
            kept.append(edge)
    return {edge.upper: edge.lower for edge in kept}


def _can_align(edge: Edge, place: dict[Node, int], above: dict[Node, int]) -> bool:
    """True where a line ends in the middle of both of its nodes."""
    if edge.returns or edge.upper.stretches or edge.lower.stretches:
        return False
    if edge.upper.item is not None and edge.upper.item.ports:
        return False
    down = sorted((e for e in edge.upper.down if not e.returns), key=lambda e: place[e.lower])
    up = sorted(edge.lower.up, key=lambda e: above[e.upper])
    return _is_middle(edge, down) and _is_middle(edge, up)


def _is_middle(edge: Edge, edges: list[Edge]) -> bool:
    return len(edges) % 2 == 1 and edges[len(edges) // 2] is edge


def _from_left(columns: list[_Column]) -> list[int]:
    """The columns so that each comes after all that stand left of it."""
    waiting = {n: len(column.lefts) for n, column in enumerate(columns)}
    order = [n for n, count in waiting.items() if not count]
    for n in order:
        for other in columns[n].rights:
            waiting[other] -= 1
            if not waiting[other]:
                order.append(other)
    assert len(order) == len(columns), "columns that do not cross stand in an order"
    return order


def _pulls(column: _Column, number: dict[Node, int]) -> list[_Pull]:
    """What draws a column: the other column, how far from it, and how strongly."""
    own = number[column.nodes[0]]
    found: list[_Pull] = []
    for node in column.nodes:
        for edge in (*node.up, *node.down):
            other = edge.upper if edge.lower is node else edge.lower
            if number[other] == own or edge.returns:
                continue
            away = _offset(edge)
            strength = 1.0
            if node.stretches or other.stretches:
                strength = _TO_STRETCHED
            elif node.item is None and other.item is None:
                strength = _LANE
            found.append((number[other], away if other is edge.upper else -away, strength))
    return found


def _offset(edge: Edge) -> float:
    """Where a line leaves the item above it, from its axis."""
    item = edge.upper.item
    return 0.0 if item is None else item.ports.get(edge.upper_port, 0.0)


def _settle(columns: list[_Column], n: int, pulls: list[_Pull]) -> None:
    """Move a column to where it is drawn, within the room that its neighbours leave."""
    column = columns[n]
    if not pulls:
        return
    weight = sum(strength for *_, strength in pulls)
    wanted = sum((columns[o].x + away) * strength for o, away, strength in pulls) / weight
    least = max((columns[a].x + apart for a, apart in column.lefts.items()), default=-math.inf)
    most = min((columns[b].x - apart for b, apart in column.rights.items()), default=math.inf)
    column.x = max(least, min(wanted, most))


def _settle_together(columns: list[_Column], pulls: list[list[_Pull]]) -> None:
    """Move columns that stand as near as they may, and so hold each other, as one."""
    found: set[int] = set()
    for first in range(len(columns)):
        if first in found:
            continue
        block = _tight(columns, first)
        found |= block
        if len(block) == 1:
            continue
        outward = [
            (columns[o].x + away - columns[n].x, strength)
            for n in block
            for o, away, strength in pulls[n]
            if o not in block
        ]
        if not outward:
            continue
        move = sum(by * strength for by, strength in outward) / sum(s for _, s in outward)
        for n in block:
            x = columns[n].x
            for a, apart in columns[n].lefts.items():
                if a not in block:
                    move = max(move, min(0.0, columns[a].x + apart - x))
            for b, apart in columns[n].rights.items():
                if b not in block:
                    move = min(move, max(0.0, columns[b].x - apart - x))
        for n in block:
            columns[n].x += move


def _tight(columns: list[_Column], first: int) -> set[int]:
    """The columns that hold each other, with one of them."""
    block, waiting = {first}, [first]
    while waiting:
        n = waiting.pop()
        x = columns[n].x
        near = [a for a, apart in columns[n].lefts.items() if x - columns[a].x < apart + _TIGHT]
        near += [b for b, apart in columns[n].rights.items() if columns[b].x - x < apart + _TIGHT]
        waiting += [other for other in near if other not in block]
        block |= set(near)
    return block


def place_ports(rows: Rows) -> None:
    """Set where each line ends, and the sides of each symbol."""
    for row in rows:
        for node in row:
            if node.item is None:
                for edge in node.up:
                    edge.bottom_x = node.x
                for edge in node.down:
                    edge.top_x = node.x
                    if edge.returns:
                        edge.bottom_x = edge.lower.x
    for row in rows:
        for place, node in enumerate(row):
            if node.item is not None:
                _widen(node, row, place)
                _ports_above(node)
                _ports_below(node)


def _widen(node: Node, row: list[Node], place: int) -> None:
    """The sides of a symbol: of one that stretches as far out as its lines, if there is room."""
    assert node.item is not None
    half = node.left
    node.symbol_left, node.symbol_right = node.x - half, node.x + half
    if not node.stretches:
        return
    ends = [e.upper.x for e in node.up] + [e.lower.x for e in node.down]
    if not ends:
        return
    left, right = min(ends) - _EDGE, max(ends) + _EDGE
    if place:
        left = max(left, row[place - 1].x + row[place - 1].right + _BAR_GAP)
    if place + 1 < len(row):
        right = min(right, row[place + 1].x - row[place + 1].left - _BAR_GAP - node.item.beside)
    node.symbol_left, node.symbol_right = _at_least(left, right, node)
    node.left = node.x - node.symbol_left
    node.right = node.symbol_right + node.item.beside - node.x


def _at_least(left: float, right: float, node: Node) -> tuple[float, float]:
    """The sides, so that the symbol is as wide as its lines need, within the room it has."""
    need = node.symbol_right - node.symbol_left
    if left <= node.symbol_left:
        return left, max(right, left + need)
    if right >= node.symbol_right:
        return min(left, right - need), right
    return node.symbol_left, node.symbol_right


def _ports_above(node: Node) -> None:
    edges = sorted(node.up, key=lambda e: e.upper.x)
    for edge, x in zip(edges, _spread([e.upper.x for e in edges], node), strict=True):
        edge.bottom_x = x


def _ports_below(node: Node) -> None:
    assert node.item is not None
    edges = sorted(node.down, key=lambda e: e.lower.x)
    if node.item.ports:
        others = {e.upper_port: node.left - _EDGE for e in edges}
        for port, across in {**others, **node.item.ports}.items():
            own = [e for e in edges if e.upper_port == port]
            for number, edge in enumerate(own):
                aside = (number - (len(own) - 1) / 2) * node.item.gap
                edge.top_x = node.x + across + aside
        return
    for edge, x in zip(edges, _spread([e.lower.x for e in edges], node), strict=True):
        edge.top_x = x


def _spread(wanted: list[float], node: Node) -> list[float]:
    """Places on a symbol near to some wanted ones, in their order and not too close."""
    if not wanted:
        return []
    assert node.item is not None
    gap = node.item.gap
    if not node.stretches and len(wanted) == 1:
        return [node.x]
    edge = 1.0 if node.stretches else gap / 2
    low, high = node.symbol_left + edge, node.symbol_right - edge
    places: list[float] = []
    for n, want in enumerate(wanted):
        least = places[-1] + gap if places else low
        most = high - (len(wanted) - 1 - n) * gap
        places.append(min(max(want, least), max(most, least)))
    return places
