"""Text in columns: words wrapped, a label on the left and what belongs to it on the right.

A text is 80 columns wide unless a screen is told to be another.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Final
from unicodedata import category, combining, east_asian_width

WIDTH: Final = 80
NARROWEST: Final = 40
_screen: ContextVar[int] = ContextVar("screen", default=WIDTH)
LABEL: Final = 10
"""Columns that a label and the space after it take."""

_UNSAFE = frozenset(("Cc", "Cf", "Cs", "Zl", "Zp", "Co", "Cn"))
_NUMBER_THEN_UNIT = re.compile(
    r"(?<=\d) (?=(?:[kmµ]?[VAWΩ]|k?Wh|Ah|mm²|[cm]?m|ft|in|°[CF]|%(?:/K)?|AWG)(?!\w))"
)
_GLUE: Final = "\u00a0"


@contextmanager
def on_screen(columns: int) -> Iterator[None]:
    """Texts made inside are as wide as a screen of so many columns, but never under 40."""
    token = _screen.set(max(columns, NARROWEST))
    try:
        yield
    finally:
        _screen.reset(token)


def screen() -> int:
    """The columns of the screen that texts are made for."""
    return _screen.get()


def cut(text: str, columns: int) -> str:
    """A text in one line of so many columns, its end left off where it is longer."""
    text = clean(text)
    if width(text) <= columns:
        return text
    head = _head(text, columns - 1)
    if not text[len(head)].isspace():
        word = head.rfind(" ")
        head = head[:word] if word * 2 > len(head) else head
    return head.rstrip(" ,;:(`") + "…"


def few(text: str, columns: int, most: int) -> list[str]:
    """A text in at most so many lines, its end left off where it is longer."""
    lines = list(wrapped(text, columns))
    if len(lines) <= most:
        return lines
    return [*lines[: most - 1], cut(" ".join(lines[most - 1 :]), columns)]


def clean(text: str) -> str:
    """Text that is safe to show: what would move the cursor or hide itself is spelt out."""
    if text.isascii() and text.isprintable():
        return text
    text = re.sub(r"[\t\r\n]+", " ", text)
    return "".join(f"<U+{ord(c):04X}>" if category(c) in _UNSAFE else c for c in text)


def width(text: str) -> int:
    """The columns that a text takes on a screen."""
    if text.isascii():
        return len(text)
    return sum(0 if combining(c) else 2 if east_asian_width(c) in "WF" else 1 for c in text)


def wrapped(text: str, columns: int, *, keep: bool = False) -> Iterator[str]:
    """The lines of a text. Number and unit stay together; keep: words longer than a line too."""
    line = ""
    for word in _NUMBER_THEN_UNIT.sub(_GLUE, clean(text)).split(" "):
        if not word:
            continue
        if line and width(line) + 1 + width(word) <= columns:
            line += " " + word
            continue
        if line:
            yield line.replace(_GLUE, " ")
        if not keep and len(word) * 2 > columns and width(word) > columns:
            *whole, word = _pieces(word, columns)
            yield from (piece.replace(_GLUE, " ") for piece in whole)
        line = word
    if line:
        yield line.replace(_GLUE, " ")


def labelled(
    label: str, text: str, *, indent: int = 0, keep: bool = False, most: int | None = None
) -> Iterator[str]:
    """A label, and beside it a text in lines that hang below each other. Nothing for no text.

    keep: words that are longer than a line stay whole. most: lines to take, the end left off.
    """
    margin = " " * (indent + LABEL)
    start = f"{' ' * indent}{label:<{LABEL}}"
    columns = screen() - len(margin)
    lines = wrapped(text, columns, keep=keep) if most is None else few(text, columns, most)
    for line in lines:
        yield start + line
        start = margin


def hanging(text: str, *, first: str, margin: int) -> Iterator[str]:
    """A text in lines of which the first begins with a mark, and the others hang at a margin."""
    start = first
    for line in wrapped(text, screen() - max(margin, len(first))):
        yield start + line
        start = " " * margin


def _pieces(word: str, columns: int) -> list[str]:
    """A word that is longer than a line in as many pieces as it takes, each character seen once."""
    pieces: list[str] = []
    start = taken = 0
    for index, character in enumerate(word):
        across = width(character)
        if taken + across > columns and index > start:
            pieces.append(word[start:index])
            start, taken = index, 0
        taken += across
    return [*pieces, word[start:]]


def _head(word: str, columns: int) -> str:
    """As much of a word as fits."""
    taken = 0
    for index, character in enumerate(word):
        taken += width(character)
        if taken > columns:
            return word[: max(index, 1)]
    return word
