"""Places of ours, in characters from 1, and positions of an editor, in units from 0.

An editor counts columns in UTF-16 units unless it agrees on others, so that what stands behind a
character outside the basic plane is one column further.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from functools import cached_property
from typing import Final

from lsprotocol.types import Position, PositionEncodingKind, Range

from wattproof.source import Place

_BREAK: Final = re.compile(r"\r\n|\r|\n")
_WORD: Final = re.compile(r"[^\s,:{}\[\]]+")
_CODECS: Final = {
    PositionEncodingKind.Utf8.value: ("utf-8", 1),
    PositionEncodingKind.Utf16.value: ("utf-16-le", 2),
    PositionEncodingKind.Utf32.value: ("utf-32-le", 4),
}


class Lines:
    """A text in lines. encoding: in whose units the editor counts columns."""

    def __init__(self, text: str, encoding: str = PositionEncodingKind.Utf16.value) -> None:
        self.text = text
        self._codec, self._bytes = _CODECS.get(encoding, _CODECS["utf-16"])
        self._starts = [0, *(match.end() for match in _BREAK.finditer(text))]

    @cached_property
    def count(self) -> int:
        """How many lines there are; one that is empty stands behind the last break."""
        return len(self._starts)

    def start(self, line: int) -> int:
        """The offset at which a line begins, from 0; behind the last one the end of the text."""
        return self._starts[line] if line < len(self._starts) else len(self.text)

    def line(self, number: int) -> str:
        """A line without its break; empty where there is none."""
        return self.text[self.start(number) : self.start(number + 1)].rstrip("\r\n")

    def offset(self, position: Position) -> int:
        """The character of a position; the nearest there is where it lies beyond a line's end."""
        line = self.line(position.line)
        start = self.start(position.line)
        if position.character <= 0 or line.isascii():
            return start + min(max(position.character, 0), len(line))
        data = line.encode(self._codec, "replace")[: position.character * self._bytes]
        return start + len(data.decode(self._codec, "ignore"))

    def position(self, offset: int) -> Position:
        """The position of a character."""
        line = bisect_right(self._starts, offset) - 1
        return self._at(line, offset - self._starts[line])

    def between(self, start: int, end: int) -> Range:
        """What stands from one character up to another."""
        return Range(self.position(start), self.position(end))

    def of(self, place: Place) -> Range:
        """A place of ours, never empty, and on one line: what is marked there."""
        line = min(max(place.line - 1, 0), len(self._starts) - 1)
        shown = self.line(line)
        start = min(place.column - 1, len(shown))
        end = min(place.end_column - 1, len(shown))
        if place.end_line > place.line:
            end = len(shown.rstrip())
        if end <= start:
            word = _WORD.match(shown, start)
            end = word.end() if word else min(start + 1, len(shown))
        return Range(self._at(line, start), self._at(line, end))

    def _at(self, line: int, column: int) -> Position:
        before = self.line(line)[:column]
        if before.isascii():
            return Position(line, len(before))
        return Position(line, len(before.encode(self._codec, "replace")) // self._bytes)
