"""Colour on a terminal: of what is most urgent, and of nothing that colour alone would tell."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final, Literal, TypeAlias

Ink: TypeAlias = Literal["grave", "bad", "doubtful", "calm", "strong"]
Paint: TypeAlias = Callable[[str, Ink], str]

_CODES: Final[dict[Ink, str]] = {
    "grave": "1;97;41",  # white on red
    "bad": "1;31",
    "doubtful": "1;33",
    "calm": "1;32",
    "strong": "1",
}


def plain(text: str, ink: Ink) -> str:
    """A text as it is, for a pipe or a file."""
    return text


def coloured(text: str, ink: Ink) -> str:
    """A text in colour, by the control sequences of ECMA-48 (SGR)."""
    return f"\x1b[{_CODES[ink]}m{text}\x1b[0m" if text else text
