"""The rows of a one-line diagram: what stands in which, and in which order from left to right.

Layers by the longest way from the sources; order by the mean place of what each is joined to, swept
down and up (Sugiyama, Tagawa and Toda, "Methods for visual understanding of hierarchical system
structures", IEEE Trans. SMC 11, 1981), then by exchanging neighbours as long as lines cross less.
"""

from __future__ import annotations

from bisect import bisect_right, insort
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING, Final, TypeAlias

if TYPE_CHECKING:
    from wattproof.reports.one_line.pieces import Item, Strand

_SWEEPS: Final = 12
_EXCHANGES: Final = 8
_LANE: Final = 6.0  # half the width of a lane through a row
_EVEN: Final = 0.005  # lines that turn by less are straight


@dataclass(eq=False, repr=False, slots=True)
class Node:
    """What stands in a row: an item, a strand, or a lane for a strand that passes.

    x: its axis; top: of its room. symbol_left, symbol_right: the sides of an item's symbol.
    """

    item: Item | None = None
    strand: Strand | None = None
    left: float = _LANE
    right: float = _LANE
    height: float = 0.0
    turned: bool = False
    up: list[Edge] = field(default_factory=list)
    down: list[Edge] = field(default_factory=list)
    x: float = 0.0
    top: float = 0.0
    symbol_left: float = 0.0
    symbol_right: float = 0.0

    @property
    def stretches(self) -> bool:
        """Whether its symbol may be widened."""
        return self.item is not None and self.item.stretches


@dataclass(eq=False, repr=False, slots=True)
class Edge:
    """A line from a node to one in the next row, or back up into the same row (`returns`)."""

    upper: Node
    lower: Node
    upper_port: str = ""
    lower_port: str = ""
    returns: bool = False
    top_x: float = 0.0
    bottom_x: float = 0.0

    @property
    def bends(self) -> bool:
        """Whether it has to turn on its way."""
        return self.returns or abs(self.top_x - self.bottom_x) > _EVEN


Rows: TypeAlias = list[list[Node]]


def rows_of(items: Sequence[Item], strands: Sequence[Strand]) -> Rows:
    """Items and strands in rows by turns, each row in the order from left to right."""
    turned = _turned(items, strands)
    ends = [(s.lower, s.upper) if s.key in turned else (s.upper, s.lower) for s in strands]
    layers = _layers([item.key for item in items], [e for e in ends if e[0] != e[1]])
    rows: Rows = [[] for _ in range(2 * max(layers.values()) + 2)]
    nodes: dict[str, Node] = {}
    for item in items:
        nodes[item.key] = _item_node(item, strands, turned)
        rows[2 * layers[item.key]].append(nodes[item.key])
    for strand, (upper, lower) in zip(strands, ends, strict=True):
        _thread(strand, nodes[upper], nodes[lower], strand.key in turned, rows, layers)
    rows = [row for row in rows if row]
    _begin(rows, items, nodes)
    _order(rows)
    return rows


def _item_node(item: Item, strands: Sequence[Strand], turned: set[str]) -> Node:
    """A node wide enough for the lines that end on either side of it."""
    above = below = 0
    for strand in strands:
        upper, lower = strand.upper, strand.lower
        if strand.key in turned:
            upper, lower = lower, upper
        below += upper == item.key
        if upper == lower:
            below += upper == item.key
        else:
            above += lower == item.key
    half = max(item.half, max(above, 0 if item.ports else below) * item.gap / 2)
    return Node(item=item, left=half, right=half + item.beside, height=item.height)


def _thread(
    strand: Strand, upper: Node, lower: Node, turned: bool, rows: Rows, layers: dict[str, int]
) -> None:
    """Put a strand below its upper item, and lanes into all rows that it passes."""
    ports = (strand.upper_port, strand.lower_port)
    upper_port, lower_port = ports[::-1] if turned else ports
    assert upper.item is not None
    assert lower.item is not None
    row = 2 * layers[upper.item.key] + 1
    node = Node(None, strand, strand.left, strand.right, strand.height, turned)
    _join(Edge(upper, node, upper_port))
    rows[row].append(node)
    if upper is lower:
        lane = Node()
        rows[row].append(lane)
        _join(Edge(upper, lane, lower_port))
        node.down.append(Edge(node, lane, returns=True))
        return
    for between in range(row + 1, 2 * layers[lower.item.key]):
        lane = Node()
        _join(Edge(node, lane))
        rows[between].append(lane)
        node = lane
    _join(Edge(node, lower, lower_port=lower_port))


def _join(edge: Edge) -> None:
    edge.upper.down.append(edge)
    edge.lower.up.append(edge)


def _turned(items: Sequence[Item], strands: Sequence[Strand]) -> set[str]:
    """Strands to be drawn the other way round, so that no way leads in a circle."""
    below: dict[str, list[Strand]] = {item.key: [] for item in items}
    for strand in strands:
        below[strand.upper].append(strand)
    turned: set[str] = set()
    state: dict[str, int] = {}
    for item in items:
        if item.key in state:
            continue
        state[item.key] = 1
        stack = [(item.key, iter(below[item.key]))]
        while stack:
            key, remaining = stack[-1]
            following = next(remaining, None)
            if following is None:
                state[key] = 2
                stack.pop()
            elif following.lower != key and state.get(following.lower) == 1:
                turned.add(following.key)
            elif following.lower not in state:
                state[following.lower] = 1
                stack.append((following.lower, iter(below[following.lower])))
    return turned


def _layers(keys: list[str], ends: list[tuple[str, str]]) -> dict[str, int]:
    """The layer of each item: below all that it hangs on, and near to what hangs on it."""
    above: dict[str, list[str]] = {key: [] for key in keys}
    below: dict[str, list[str]] = {key: [] for key in keys}
    for upper, lower in ends:
        above[lower].append(upper)
        below[upper].append(lower)
    waiting = {key: len(found) for key, found in above.items()}
    order = [key for key in keys if not waiting[key]]
    layers = dict.fromkeys(keys, 0)
    for key in order:
        for lower in below[key]:
            layers[lower] = max(layers[lower], layers[key] + 1)
            waiting[lower] -= 1
            if not waiting[lower]:
                order.append(lower)
    for key in reversed(order):
        if below[key] and len(below[key]) >= len(above[key]):
            layers[key] = min(layers[lower] for lower in below[key]) - 1
    return layers


def _begin(rows: Rows, items: Sequence[Item], nodes: dict[str, Node]) -> None:
    """A first order: each node beside those that it is joined to."""
    found: dict[Node, int] = {}
    for item in items:
        waiting = [nodes[item.key]]
        while waiting:
            node = waiting.pop()
            if node not in found:
                found[node] = len(found)
                joined = [e.upper for e in node.up] + [e.lower for e in node.down]
                waiting += [other for other in reversed(joined) if other not in found]
    for row in rows:
        row.sort(key=lambda node: found[node])


def _order(rows: Rows) -> None:
    best, fewest = [list(row) for row in rows], _crossings(rows)
    for sweep in range(_SWEEPS):
        if not fewest:
            break
        downwards = sweep % 2 == 0
        for number in range(1, len(rows)) if downwards else range(len(rows) - 2, -1, -1):
            _sort(rows[number], rows[number - 1 if downwards else number + 1], downwards)
        crossings = _crossings(rows)
        if crossings < fewest:
            best, fewest = [list(row) for row in rows], crossings
    for row, kept in zip(rows, best, strict=True):
        row[:] = kept
    for _ in range(_EXCHANGES if fewest else 0):
        exchanged = [_exchange(rows, number) for number in range(len(rows))]
        if not any(exchanged):
            break


def _places(row: list[Node]) -> dict[Node, int]:
    return {node: place for place, node in enumerate(row)}


def _port_place(node: Node, port: str) -> float:
    """Where a port with a fixed place is on its node, from 0 to 1."""
    if node.item is None or port not in node.item.ports:
        return 0.5
    ports = sorted(node.item.ports.values())
    return (ports.index(node.item.ports[port]) + 0.5) / len(ports)


def _upper_place(edge: Edge, places: dict[Node, int]) -> float:
    return places[edge.upper] + _port_place(edge.upper, edge.upper_port)


def _sort(row: list[Node], fixed: list[Node], downwards: bool) -> None:
    """Order a row by the mean place of what its nodes are joined to in the fixed row."""
    places = _places(fixed)
    own = _places(row)

    def wanted(node: Node) -> float:
        if downwards:
            found = [_upper_place(e, places) for e in node.up]
        else:
            found = [places[e.lower] + 0.5 for e in node.down if not e.returns]
        return sum(found) / len(found) if found else own[node] + 0.5

    row.sort(key=lambda node: (wanted(node), own[node]))


def _crossings(rows: Rows) -> int:
    """How many pairs of lines cross."""
    count = 0
    for upper, lower in pairwise(rows):
        above, below = _places(upper), _places(lower)
        ends = sorted(
            (_upper_place(e, above), below[e.lower]) for n in upper for e in n.down if not e.returns
        )
        seen: list[int] = []
        for _, place in ends:
            count += len(seen) - bisect_right(seen, place)
            insort(seen, place)
    return count


def _exchange(rows: Rows, number: int) -> bool:
    """Exchange neighbours in a row wherever lines then cross less. Returns whether any did."""
    row = rows[number]
    above = _places(rows[number - 1]) if number else {}
    below = _places(rows[number + 1]) if number + 1 < len(rows) else {}
    changed = False
    for place in range(len(row) - 1):
        first, second = row[place], row[place + 1]
        now, then = _cost(first, second, above, below), _cost(second, first, above, below)
        if then < now:
            row[place], row[place + 1] = second, first
            changed = True
    return changed


def _cost(left: Node, right: Node, above: dict[Node, int], below: dict[Node, int]) -> int:
    """How many lines of two neighbours cross."""

    def upper(edge: Edge) -> float:
        return _upper_place(edge, above)

    def lower(edge: Edge) -> float:
        return below[edge.lower]

    down = [[e for e in node.down if not e.returns] for node in (left, right)]
    return _inverted(left.up, right.up, upper) + _inverted(down[0], down[1], lower)


def _inverted(left: list[Edge], right: list[Edge], place: Callable[[Edge], float]) -> int:
    return sum(place(a) > place(b) for a in left for b in right)
