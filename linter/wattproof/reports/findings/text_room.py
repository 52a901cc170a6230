"""The room that a text takes across in a picture: never less than what a usual typeface needs.

The widths are those of the widest common typeface of our list (Verdana), rounded up by kinds of
letters; measured by us in a browser with its free likeness.
"""

from __future__ import annotations

from typing import Final
from unicodedata import combining, east_asian_width

from wattproof.reports.writing.columns import clean

_BOLD: Final = 1.14
_NARROW: Final = frozenset("fijlrtI.,:;'|!()[]/- ")
_BROAD: Final = frozenset("mwMW%@")


def room(text: str, size: float, *, bold: bool = False) -> float:
    """The width of a text of a size."""
    return sum(map(_share, clean(text))) * size * (_BOLD if bold else 1.0)


def _share(character: str) -> float:
    """The width of a letter as a share of the size."""
    if character in _NARROW:
        return 0.48
    if character in _BROAD:
        return 1.1
    if character.isascii():
        return 0.84 if character.isupper() or character in "+<>=~#&" else 0.66
    if combining(character):
        return 0.0
    return 1.2 if east_asian_width(character) in "WF" else 0.9
