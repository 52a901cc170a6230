"""What is wrong in a plan beside what is right: the entries that differ and no more."""

from __future__ import annotations

import difflib
import re
import textwrap
from collections.abc import Iterable, Sequence

_ENTRY = re.compile(r"^ {2}\S|^ {4}[\w-]+: \{")
_SHORT = 48  # signs of a line of which two fit beside each other


def beside(faulty: str, sound: str) -> str:
    """Two blocks of a plan, the changed lines of each marked."""
    wrong, right = faulty.splitlines(), sound.splitlines()
    here, there = _changed(wrong, right)
    blocks = [
        _block("wrong", "Wrong", wrong, _entries(wrong, here or _around(there, wrong)), here),
        _block("right", "Right", right, _entries(right, there or _around(here, right)), there),
    ]
    longest = max(len(line) for block in blocks for line in block.splitlines())
    kind = " short" if longest <= _SHORT else ""
    return f"::::{{container}} beside{kind}\n{''.join(blocks)}::::\n"


def _changed(wrong: Sequence[str], right: Sequence[str]) -> tuple[set[int], set[int]]:
    """The lines of each that the other lacks."""
    here: set[int] = set()
    there: set[int] = set()
    matcher = difflib.SequenceMatcher(None, wrong, right, autojunk=False)
    for tag, start, end, first, last in matcher.get_opcodes():
        if tag != "equal":
            here |= set(range(start, end))
            there |= set(range(first, last))
    return here, there


def _around(changed: set[int], lines: Sequence[str]) -> set[int]:
    """Where a text lacks lines that the other has: what stands before them."""
    return {min(max(min(changed, default=0) - 1, 0), len(lines) - 1)}


def _entries(lines: Sequence[str], changed: Iterable[int]) -> list[int]:
    """The changed lines, and those of their entry before them."""
    shown: set[int] = set()
    for index in changed:
        start = index
        while start > 0 and lines[start][:1] == " " and not _ENTRY.match(lines[start]):
            start -= 1
        shown |= set(range(max(start, 0), index + 1))
    return sorted(shown)


def _block(
    kind: str, title: str, lines: Sequence[str], shown: Sequence[int], marked: set[int]
) -> str:
    pieces: list[str] = []
    emphasised: list[int] = []
    for place, index in enumerate(shown):
        if place and shown[place - 1] != index - 1:
            pieces.append("")
        pieces.append(lines[index])
        if index in marked:
            emphasised.append(len(pieces))
    text = textwrap.dedent("\n".join(pieces))
    marks = f":emphasize-lines: {','.join(map(str, emphasised))}\n" if emphasised else ""
    return (
        f':::{{container}}\n<p class="{kind}">{title}</p>\n\n'
        f"```{{code-block}} yaml\n{marks}\n{text}\n```\n:::\n"
    )
