"""Where the parts and runs of a one-line diagram stand: geometry only, from sources down to loads.

Parts stand in rows, and the runs between them in rows of their own, so that every run has room for
its words. A run that passes a row has a free lane there. Lines are vertical in rows and turn in the
channels between them, so that none goes through what it does not belong to.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from wattproof.reports.one_line.channels import Net, routed
from wattproof.reports.one_line.columns import place_columns, place_ports
from wattproof.reports.one_line.pieces import Item, Strand
from wattproof.reports.one_line.rows import Edge, Node, rows_of
from wattproof.reports.writing.svg_elements import Position

_STUB: Final = 9.0  # of a channel, above and below its lines
_TRACK: Final = 11.0  # between lines that run side by side
_LEAST: Final = 16.0  # height of a channel
_BETWEEN: Final = 44.0  # parts of a plan that nothing joins
_WIDEST: Final = 1500.0


@dataclass(slots=True)
class PlacedItem:
    """Where a part stands. left, right: the sides of its symbol.

    above, below: the lines that end at its upper and lower side: x, and the port.
    """

    x: float
    top: float
    left: float
    right: float
    above: list[tuple[float, str]] = field(default_factory=list)
    below: list[tuple[float, str]] = field(default_factory=list)


@dataclass(slots=True)
class PlacedStrand:
    """Where a run stands: its line at x, its room from top on.

    lines: from the part at its upper end down to its room, and from there to its lower end.
    turned: True where the part that it was to lead to stands above the other.
    """

    x: float
    top: float
    lines: tuple[tuple[Position, ...], ...]
    turned: bool


@dataclass(slots=True)
class Laid:
    """A whole layout; x and y from 0."""

    width: float = 0.0
    height: float = 0.0
    items: dict[str, PlacedItem] = field(default_factory=dict)
    strands: dict[str, PlacedStrand] = field(default_factory=dict)


def lay_out(items: Sequence[Item], strands: Sequence[Strand]) -> Laid:
    """Place everything. Parts of the plan that nothing joins stand beside each other."""
    laid = Laid()
    left = top = 0.0
    for group, between in _joined(items, strands):
        part = _lay_out_joined(group, between)
        if left > 0.0 and left + part.width > _WIDEST:
            left, top = 0.0, laid.height + _BETWEEN
        _put(part, laid, left, top)
        left += part.width + _BETWEEN
    return laid


def _joined(
    items: Sequence[Item], strands: Sequence[Strand]
) -> list[tuple[list[Item], list[Strand]]]:
    """The items that hang together, with their strands, in order."""
    group = {item.key: item.key for item in items}

    def first(key: str) -> str:
        while group[key] != key:
            group[key] = group[group[key]]
            key = group[key]
        return key

    for strand in strands:
        group[first(strand.lower)] = first(strand.upper)
    found: dict[str, tuple[list[Item], list[Strand]]] = {}
    for item in items:
        found.setdefault(first(item.key), ([], []))[0].append(item)
    for strand in strands:
        found[first(strand.upper)][1].append(strand)
    return list(found.values())


def _lay_out_joined(items: list[Item], strands: list[Strand]) -> Laid:
    rows = rows_of(items, strands)
    place_columns(rows)
    place_ports(rows)
    laid = Laid()
    left = min(node.x - node.left for row in rows for node in row)
    laid.width = max(node.x + node.right for row in rows for node in row) - left
    ways: dict[Edge, tuple[Position, ...]] = {}
    y = 0.0
    for row in rows:
        for node in row:
            node.top = y
        y += max(node.height for node in row)
        if any(node.down for node in row):
            y = _channel(row, y, ways)
    laid.height = y
    for node in (node for row in rows for node in row):
        if node.item is not None:
            laid.items[node.item.key] = _placed_item(node)
        elif node.strand is not None:
            laid.strands[node.strand.key] = _placed_strand(node, ways)
    _shift(laid, -left, 0.0)
    return laid


def _channel(row: list[Node], top: float, ways: dict[Edge, tuple[Position, ...]]) -> float:
    """Route what leaves a row downwards. Returns where the next row begins."""
    edges = [edge for node in row for edge in node.down]
    turning = {e: n for n, e in enumerate(edges) if e.bends}
    nets = [Net(e.top_x, e.bottom_x, bottom_is_above=e.returns) for e in turning]
    still = [e.top_x for e in edges if not e.bends]
    tracks, levels = routed(nets, still)
    height = max(_LEAST, 2 * _STUB + (levels - 1) * _TRACK) if levels else _LEAST
    bottom = top + height
    for edge in edges:
        if not edge.bends:
            ways[edge] = ((edge.top_x, top), (edge.bottom_x, bottom))
    for edge, steps in zip(turning, tracks, strict=True):
        points = [(edge.top_x, top)]
        for level, x in steps:
            y = top + _STUB + level * _TRACK
            points += [(points[-1][0], y), (x, y)]
        end = top if edge.returns else bottom
        ways[edge] = (*points, (edge.bottom_x, end))
    return bottom


def _placed_item(node: Node) -> PlacedItem:
    above = [(e.bottom_x, e.lower_port) for e in node.up]
    below = [(e.top_x, e.upper_port) for e in node.down]
    sides = node.symbol_left, node.symbol_right
    return PlacedItem(node.x, node.top, *sides, sorted(above), sorted(below))


def _placed_strand(node: Node, ways: dict[Edge, tuple[Position, ...]]) -> PlacedStrand:
    """A strand with its whole line, through the lanes of all rows that it passes."""
    assert node.strand is not None
    [edge] = node.up
    above = [_leaving(edge), *ways[edge], (node.x, node.top)]
    below = [(node.x, node.top + node.height)]
    here = node
    while here.item is None:
        [edge] = here.down
        below += ways[edge]
        here = edge.lower
        if edge.returns:
            [back] = here.up
            below += [*reversed(ways[back]), _leaving(back)]
            break
    else:
        below.append((edge.bottom_x, here.top + here.item.start))
    return PlacedStrand(node.x, node.top, (_cleared(above), _cleared(below)), node.turned)


def _leaving(edge: Edge) -> Position:
    """Where a line begins at the item above it."""
    assert edge.upper.item is not None
    return edge.top_x, edge.upper.top + edge.upper.item.end


def _cleared(points: list[Position]) -> tuple[Position, ...]:
    """The same line without points that lie on a straight stretch of it."""
    kept: list[Position] = []
    for point in points:
        if kept and point == kept[-1]:
            continue
        if len(kept) > 1 and _straight(kept[-2], kept[-1], point):
            kept.pop()
        kept.append(point)
    return tuple(kept)


def _straight(a: Position, b: Position, c: Position) -> bool:
    return a[0] == b[0] == c[0] or a[1] == b[1] == c[1]


def _put(part: Laid, whole: Laid, left: float, top: float) -> None:
    _shift(part, left, top)
    whole.items.update(part.items)
    whole.strands.update(part.strands)
    whole.width = max(whole.width, left + part.width)
    whole.height = max(whole.height, top + part.height)


def _shift(laid: Laid, across: float, down: float) -> None:
    for item in laid.items.values():
        item.x, item.top = item.x + across, item.top + down
        item.left, item.right = item.left + across, item.right + across
        item.above = [(x + across, port) for x, port in item.above]
        item.below = [(x + across, port) for x, port in item.below]
    for strand in laid.strands.values():
        strand.x, strand.top = strand.x + across, strand.top + down
        strand.lines = tuple(
            tuple((x + across, y + down) for x, y in line) for line in strand.lines
        )
