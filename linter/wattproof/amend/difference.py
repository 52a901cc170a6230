"""The difference of two texts as a unified diff, which `patch` and people read alike."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import unified_diff
from typing import Final

_NO_BREAK: Final = "\\ No newline at end of file\n"


def unified(old: str, new: str, file: str) -> str:
    """The lines that go and come, each with three around it; empty where nothing changes."""
    return "".join(_lines(old, new, file))


def _lines(old: str, new: str, file: str) -> Iterator[str]:
    before, after = _split(old), _split(new)
    for line in unified_diff(before, after, file, file):
        yield line if line.endswith("\n") else f"{line}\n{_NO_BREAK}"


def _split(text: str) -> list[str]:
    """Lines with their ends, divided at line feeds alone, as programs that patch do."""
    lines = [f"{line}\n" for line in text.split("\n")]
    lines[-1] = lines[-1].removesuffix("\n")
    return lines if lines[-1] else lines[:-1]
