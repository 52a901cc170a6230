"""What goes and what comes from one text to another, as the fewest signs in the fewest places."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher
from typing import Final, NamedTuple

_MOST_LINES: Final = 3000
"""Lines between the first and the last that differ which are compared with each other."""


class Replacement(NamedTuple):
    """A stretch of the old text, and what stands there instead.

    Lines and columns count characters from 1; the end is exclusive.
    """

    line: int
    column: int
    end_line: int
    end_column: int
    text: str


def replacements(old: str, new: str) -> tuple[Replacement, ...]:
    """All that leads from one text to the other, in order, none touching another."""
    return tuple(_replacement(old, *piece) for piece in _pieces(old, new))


def _pieces(old: str, new: str) -> Iterator[tuple[int, int, str]]:
    """Where a stretch of the old text begins and ends, and what comes there."""
    before, after = old.splitlines(keepends=True), new.splitlines(keepends=True)
    same = _shared(before, after)
    tail = _shared(before[same:][::-1], after[same:][::-1])
    middle, meant = before[same : len(before) - tail], after[same : len(after) - tail]
    starts = [sum(map(len, before[:same]))]
    for line in middle:
        starts.append(starts[-1] + len(line))
    if max(len(middle), len(meant)) > _MOST_LINES:
        yield from _trimmed(starts[0], "".join(middle), "".join(meant))
        return
    matcher = SequenceMatcher(None, middle, meant, autojunk=False)
    for tag, one, other, first, last in matcher.get_opcodes():
        if tag != "equal":
            gone, come = "".join(middle[one:other]), "".join(meant[first:last])
            yield from _trimmed(starts[one], gone, come)


def _trimmed(start: int, gone: str, come: str) -> Iterator[tuple[int, int, str]]:
    """A stretch without what both begin and end with."""
    head = _shared(gone, come)
    tail = _shared(gone[head:][::-1], come[head:][::-1])
    ends = gone[head:][:1] + come[head:][:1]
    while head and gone[head - 1].isalnum() and any(map(str.isalnum, ends)):  # words change whole
        head -= 1
    ends = gone[head : len(gone) - tail][-1:] + come[head : len(come) - tail][-1:]
    while tail and gone[len(gone) - tail].isalnum() and any(map(str.isalnum, ends)):
        tail -= 1
    if gone != come:
        yield start + head, start + len(gone) - tail, come[head : len(come) - tail]


def _shared(one: Sequence[str], other: Sequence[str]) -> int:
    """How much two sequences have in common at their beginning."""
    least = min(len(one), len(other))
    return next((n for n in range(least) if one[n] != other[n]), least)


def _replacement(old: str, start: int, end: int, text: str) -> Replacement:
    return Replacement(*_place(old, start), *_place(old, end), text)


def _place(text: str, offset: int) -> tuple[int, int]:
    return text.count("\n", 0, offset) + 1, offset - (text.rfind("\n", 0, offset) + 1) + 1
