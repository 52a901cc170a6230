"""What a one-line diagram shows, read back from its SVG: boxes of symbols, words, and lines."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from xml.etree import ElementTree

from wattproof.reports.curves.labels import Box
from wattproof.reports.findings.text_room import room
from wattproof.reports.one_line.words import NAME

SVG = "{http://www.w3.org/2000/svg}"
Point = tuple[float, float]


@dataclass(eq=False)
class Written:
    """A text and its room. owner: the innermost group that it is in."""

    text: str
    box: Box
    is_name: bool
    owner: Group | None


@dataclass(eq=False)
class Group:
    """A part or run with what is drawn of it. box: around its symbol; None without one."""

    kind: str
    id: str
    name: str
    within: Group | None
    shapes: list[Box] = field(default_factory=list)
    lines: list[list[Point]] = field(default_factory=list)

    @property
    def box(self) -> Box | None:
        """Around all its shapes."""
        if not self.shapes:
            return None
        return Box(
            min(b.left for b in self.shapes),
            min(b.top for b in self.shapes),
            max(b.right for b in self.shapes),
            max(b.bottom for b in self.shapes),
        )

    def is_in(self, other: Group) -> bool:
        """Whether it is the other group or drawn within it."""
        return self is other or (self.within is not None and self.within.is_in(other))


class Picture:
    """A one-line diagram read back."""

    def __init__(self, svg: str) -> None:
        self.root = ElementTree.fromstring(svg)
        _, _, self.wide, self.high = map(float, self.root.attrib["viewBox"].split())
        self.texts: list[Written] = []
        self.groups: list[Group] = []
        for node in self.root:
            self._read(node, None, 0.0, 0.0)

    def _read(self, node: ElementTree.Element, owner: Group | None, x: float, y: float) -> None:
        tag = node.tag.removeprefix(SVG)
        kind = node.attrib.get("class", "")
        if moved := re.match(r"translate\((\S+) (\S+)\)", node.attrib.get("transform", "")):
            x, y = x + float(moved[1]), y + float(moved[2])
        if tag == "g" and kind in ("part", "run"):
            name = node.findtext(f"{SVG}title") or ""
            owner = Group(kind, node.attrib.get("id", ""), name, owner)
            self.groups.append(owner)
        elif tag == "text":
            self.texts.append(_written(node, owner, x, y))
            return
        elif owner is not None and kind == "wire":
            owner.lines.append(_shifted(_points(node), x, y))
        elif kind == "mark":
            self.texts += [_written(inner, owner, x, y) for inner in node.iter(f"{SVG}text")]
            return
        elif owner is not None and owner.kind == "part" and tag not in ("g", "title"):
            owner.shapes.append(_around(_shifted(_extent(node), x, y)))
        for inner in node:
            self._read(inner, owner, x, y)

    @property
    def parts(self) -> list[Group]:
        """The parts that have a symbol."""
        return [g for g in self.groups if g.kind == "part" and g.shapes]

    @property
    def runs(self) -> list[Group]:
        """The runs."""
        return [g for g in self.groups if g.kind == "run"]

    def named(self, group: Group) -> str:
        """The name that stands beside a part or run, its lines put together."""
        return "".join(t.text for t in self.texts if t.owner is group and t.is_name)


def _written(node: ElementTree.Element, owner: Group | None, x: float, y: float) -> Written:
    text = "".join(node.itertext())
    size = float(node.attrib["font-size"])
    bold = node.attrib.get("font-weight") == "bold"
    across = room(text, size, bold=bold)
    anchor = node.attrib.get("text-anchor", "start")
    left = x + float(node.attrib["x"]) - (across / 2 if anchor == "middle" else 0.0)
    base = y + float(node.attrib["y"])
    box = Box(left, base - 0.8 * size, left + across, base + 0.25 * size)
    return Written(text, box, size == NAME, owner)


def _numbers(text: str) -> list[float]:
    return [float(n) for n in re.findall(r"-?[\d.]+", text)]


def _points(node: ElementTree.Element) -> list[Point]:
    numbers = _numbers(node.attrib["d"])
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def _extent(node: ElementTree.Element) -> list[Point]:
    """Corners of a shape. Curved paths are taken by their start and half their sweep."""
    a = {k: float(v) for k, v in node.attrib.items() if re.fullmatch(r"-?[\d.]+", v)}
    tag = node.tag.removeprefix(SVG)
    if tag == "rect":
        return [(a["x"], a["y"]), (a["x"] + a["width"], a["y"] + a["height"])]
    if tag == "circle":
        return [(a["cx"] - a["r"], a["cy"] - a["r"]), (a["cx"] + a["r"], a["cy"] + a["r"])]
    if tag == "line":
        return [(a["x1"], a["y1"]), (a["x2"], a["y2"])]
    if tag == "polygon":
        numbers = _numbers(node.attrib["points"])
        return list(zip(numbers[::2], numbers[1::2], strict=True))
    assert tag == "path", tag
    if re.search(r"[qa]", node.attrib["d"]):
        x, y = _numbers(node.attrib["d"])[:2]
        return [(x, y - 4), (x + 14, y + 8)]
    return _points(node)


def _shifted(points: list[Point], across: float, down: float) -> list[Point]:
    return [(x + across, y + down) for x, y in points]


def _around(points: list[Point]) -> Box:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Box(min(xs), min(ys), max(xs), max(ys))


def segments(line: list[Point]) -> Iterator[Box]:
    """The straight stretches of a line, as boxes without width."""
    for a, b in pairwise(line):
        yield _around([a, b])


def pairs_that_meet(boxes: list[tuple[Box, object]]) -> Iterator[tuple[object, object]]:
    """Whose boxes meet, found from left to right."""
    open_ones: list[tuple[Box, object]] = []
    for box, of in sorted(boxes, key=lambda each: each[0].left):
        open_ones = [each for each in open_ones if each[0].right > box.left]
        yield from ((other, of) for each, other in open_ones if each.meets(box))
        open_ones.append((box, of))


def shrunk(box: Box, by: float) -> Box:
    """A box without its edge, where it has room for that."""
    return Box(box.left + by, box.top + by, box.right - by, box.bottom - by)
