"""Where a cursor stands in a plan that is being typed, and so need not be readable yet.

The words of a readable text are told exactly by `words.py`. This reads what stands before the
cursor as far as indentation, brackets and colons tell it, and never fails.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Final, NamedTuple

from wattproof.editor.words import Path

_KEY: Final = re.compile(
    r"""(?P<key>"[^"]*"|'[^']*'|[^\s:#{}\[\],&*!|>'"%@`-][^:#]*?|-[^\s:#][^:#]*?)\s*:(?=\s|$)"""
)
_DASH: Final = re.compile(r"-(?=\s|$)\s*")
_ANCHOR: Final = re.compile(r"&\S+\s*")
_TOKEN: Final = re.compile(
    r""""[^"]*"?|'[^']*'?|#.*|[{}\[\],]|:(?=[\s,{}\[\]]|$)|[^\s{}\[\],:#]+|."""
)
_TEXT_IN_LINES: Final = re.compile(r"[|>][+-]?\d*\s*(#.*)?$")
MOST: Final = 200_000
"""Characters before the cursor that are looked at."""


class Cursor(NamedTuple):
    """Where a word is being typed.

    path: of the mapping that a key belongs to, or of the value itself. word: what is typed of it.
    start: where that begins. beside: keys that stand in that mapping already.
    """

    path: Path
    is_key: bool
    word: str
    start: int
    beside: frozenset[str] = frozenset()


@dataclass
class _Frame:
    """A mapping or a list that is open. indent: of its keys or dashes; -1 in brackets."""

    indent: int
    is_list: bool = False
    key: str | None = None
    number: int = 0
    beside: set[str] = field(default_factory=set)

    @property
    def step(self) -> str | int | None:
        """What leads on from it."""
        return self.number if self.is_list else self.key


def cursor_at(text: str, offset: int) -> Cursor:
    """The cursor at a character of a text."""
    before = text[max(0, offset - MOST) : offset]
    return _Scan().of(before.replace("\r\n", "\n").replace("\r", "\n"), offset)


class _Scan:
    def __init__(self) -> None:
        self.block = [_Frame(0)]
        self.flow: list[_Frame] = []
        self.text_below: int | None = None
        self.word = ""
        self.after_colon = False

    def of(self, before: str, offset: int) -> Cursor:
        *lines, last_line = before.split("\n")
        for line in [*(line for line in lines if line.strip()), last_line]:
            self.word = ""
            if self.flow:
                self._in_brackets(line)
            else:
                self._line(line)
        frames = [*self.block, *self.flow]
        last = frames[-1]
        outer = [frame.step for frame in frames[:-1]]
        word = self.word
        start = offset - len(word)
        if last.is_list or last.key is not None:
            path = tuple(s for s in (*outer, last.step) if s is not None)
            return Cursor(path, False, word, start)
        path = tuple(step for step in outer if step is not None)
        return Cursor(path, True, word, start, frozenset(last.beside))

    def _line(self, line: str) -> None:
        """A line outside of brackets."""
        content = line.lstrip(" ")
        indent = len(line) - len(content)
        if self.text_below is not None:
            if not content or indent > self.text_below:
                return
            self.text_below = None
        if content.startswith("#"):
            return
        self._leave(indent, dashed=bool(_DASH.match(content)))
        while (dash := _DASH.match(content)) is not None:
            self._item(indent)
            indent += dash.end()
            content = content[dash.end() :]
        top = self.block[-1]
        if top.is_list or top.indent < indent:
            self.block.append(_Frame(indent))
        top = self.block[-1]
        top.key = None
        found = _KEY.match(content)
        if found is None:
            self._rest(content, may_be_key=True)
            return
        top.key = found["key"].strip("\"'")
        top.beside.add(top.key)
        self._rest(content[found.end() :].lstrip(" "), may_be_key=False)
        if _TEXT_IN_LINES.match(content[found.end() :].strip()):
            self.text_below = top.indent

    def _leave(self, indent: int, *, dashed: bool) -> None:
        """Leave what is indented deeper than a line, or as deep and over."""
        while len(self.block) > 1:
            top = self.block[-1]
            if top.indent > indent or (top.is_list and top.indent == indent and not dashed):
                self.block.pop()
            else:
                return

    def _item(self, indent: int) -> None:
        top = self.block[-1]
        if top.is_list and top.indent == indent:
            top.number += 1
        else:
            self.block.append(_Frame(indent, is_list=True))

    def _rest(self, content: str, *, may_be_key: bool) -> None:
        """What stands behind a colon or a dash, or alone on a line."""
        anchor = _ANCHOR.match(content)
        content = content[anchor.end() :] if anchor else content
        if content[:1] in ("{", "["):
            if may_be_key and not self.block[-1].is_list:
                self.block.pop()
            self._in_brackets(content)
            return
        self.word = content.partition(" #")[0]

    def _in_brackets(self, content: str) -> None:
        """What stands between brackets, up to the end of a line."""
        self.word = ""
        spaced = False
        for token in _TOKEN.findall(content):
            top = self.flow[-1] if self.flow else None
            if token in ("{", "["):
                self.flow.append(_Frame(-1, is_list=token == "["))
                self.word = ""
            elif token in ("}", "]"):
                if self.flow:
                    self.flow.pop()
                self.word = ""
            elif token == ",":
                if top is not None:
                    top.number += 1
                    top.key = None
                self.word = ""
            elif token == ":" and top is not None and not top.is_list:
                top.key = self.word.strip().strip("\"'")
                top.beside.add(top.key)
                self.word = ""
            elif token.startswith("#") and spaced:
                break
            elif not token.isspace() or self.word:
                self.word += token
            spaced = token.isspace()
        self.word = self.word.lstrip()
