"""The text of a plan as it is written: where each key, value, item and anchor begins and ends.

The reader's tree says what a plan means; this one says where that stands. It is built of the same
parse events, so that both see the same keys.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator
from typing import Any, Final, TypeAlias

from wattproof.source import events

_PROPERTIES: Final = re.compile(r"(?:[&!]\S*[ \t]*)+")
_BREAK: Final = re.compile(r"\r\n|\r|\n")


class Spot:
    """Where something stands: from `start` up to `end`, in characters of the text.

    body: where its value starts, after an anchor. anchor: its name, empty where it has none.
    """

    def __init__(self, start: int, end: int, anchor: str = "") -> None:
        self.start = start
        self.end = end
        self.body = start
        self.anchor = anchor


class Scalar(Spot):
    """One value. style: its quotes, or `|` and `>` of text in lines; empty for plain text."""

    def __init__(self, start: int, end: int, anchor: str, style: str, value: str) -> None:
        super().__init__(start, end, anchor)
        self.style = style
        self.value = value


class Alias(Spot):
    """`*name` in the place of what stands at `&name`."""

    def __init__(self, start: int, end: int, target: Written | None) -> None:
        super().__init__(start, end)
        self.target = target


class Mapping(Spot):
    """Keys with values. flow: in braces. bare: one pair in a list without braces of its own."""

    def __init__(self, start: int, anchor: str) -> None:
        super().__init__(start, start, anchor)
        self.flow = False
        self.bare = False
        self.pairs: list[tuple[Written, Written]] = []

    def pair(self, key: str) -> tuple[Written, Written] | None:
        """The key and its value as written here, what is merged in left out."""
        return next((p for p in self.pairs if isinstance(p[0], Scalar) and p[0].value == key), None)


class Sequence(Spot):
    """A list. flow: in brackets."""

    def __init__(self, start: int, anchor: str) -> None:
        super().__init__(start, start, anchor)
        self.flow = False
        self.items: list[Written] = []


Written: TypeAlias = Scalar | Alias | Mapping | Sequence


class Document:
    """A text and what is written where in it. Raises what the parser raises."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.uses: dict[str, list[Alias]] = {}
        self._starts = [0, *(match.end() for match in _BREAK.finditer(text))]
        self._anchored: dict[str, Written | None] = {}
        first = _BREAK.search(text)
        self.line_break = first.group() if first is not None else "\n"
        self.root: Written | None = None
        following = events(text)
        for event in following:
            if _kind(event) in ("ScalarEvent", "MappingStartEvent", "SequenceStartEvent"):
                self.root = self._node(event, following)

    def line(self, offset: int) -> int:
        """The number of a line, from 1."""
        return bisect_right(self._starts, offset)

    def line_start(self, offset: int) -> int:
        """Where the line of a character starts."""
        return self._starts[self.line(offset) - 1]

    def line_end(self, offset: int) -> int:
        """Where the line of a character ends, before its break."""
        match = _BREAK.search(self.text, offset)
        return match.start() if match is not None else len(self.text)

    def column(self, offset: int) -> int:
        """Characters before it on its line."""
        return offset - self.line_start(offset)

    def _offset(self, mark: Any) -> int:
        line: int = min(mark.line, len(self._starts) - 1)
        column: int = mark.column
        return min(self._starts[line] + column, len(self.text))

    def _node(self, event: Any, following: Iterator[Any]) -> Written:
        kind = _kind(event)
        start, end = self._offset(event.start_mark), self._offset(event.end_mark)
        if kind == "AliasEvent":
            alias = Alias(start, end, self._anchored.get(event.anchor))
            self.uses.setdefault(event.anchor, []).append(alias)
            return alias
        anchor = str(event.anchor or "")
        node: Written
        if kind == "ScalarEvent":
            style = (event.style or "").strip()
            style = style if style in ("'", '"', "|", ">") else ""
            if style in ("|", ">"):
                end = start + len(self.text[start:end].rstrip())
            node = Scalar(start, end, anchor, style, event.value)
        elif kind == "SequenceStartEvent":
            node = self._sequence(Sequence(start, anchor), event, following)
        else:
            node = self._mapping(Mapping(start, anchor), event, following)
        if anchor:
            found = _PROPERTIES.match(self.text, start)
            node.body = found.end() if found is not None else start
            self._anchored[anchor] = node
        return node

    def _sequence(self, node: Sequence, event: Any, following: Iterator[Any]) -> Sequence:
        node.flow = bool(event.flow_style)
        node.end = self._offset(event.end_mark)
        for child in following:
            if _kind(child) == "SequenceEndEvent":
                if node.flow:
                    node.end = self._offset(child.end_mark)
                break
            item = self._node(child, following)
            node.items.append(item)
            node.end = item.end
        return node

    def _mapping(self, node: Mapping, event: Any, following: Iterator[Any]) -> Mapping:
        node.flow = bool(event.flow_style)
        node.end = self._offset(event.end_mark)
        for child in following:
            if _kind(child) == "MappingEndEvent":
                if node.flow:
                    node.end = self._offset(child.end_mark)
                break
            key = self._node(child, following)
            value = self._node(next(following), following)
            node.pairs.append((key, value))
            if not node.flow:
                node.end = max(key.end, value.end)
        if node.flow:
            opening = node.start + len(node.anchor and self._properties(node.start))
            node.bare = self.text[opening : opening + 1] != "{"
            if node.bare and node.pairs:
                node.end = node.pairs[-1][1].end
        return node

    def _properties(self, start: int) -> str:
        found = _PROPERTIES.match(self.text, start)
        return found.group() if found is not None else ""


def _kind(event: Any) -> str:
    return type(event).__name__
