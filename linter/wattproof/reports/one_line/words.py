"""The words beside a symbol or a line of a one-line diagram, in lines, with the room they take."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from wattproof.reports.findings.text_room import room
from wattproof.reports.one_line.marks import Mark, Sort, by_sort
from wattproof.reports.writing.columns import width, wrapped
from wattproof.views.one_line.view import Part, Reading, Run

NAME: Final = 12.5
SIZE: Final = 11.0
SIGN: Final = 17.0  # room of the sign before the word of a mark
_STEP: Final = 14.5
_COLUMNS: Final = 24
_HEAD: Final = 22  # columns of a name

Style: TypeAlias = Literal["name", "says", "reading", "mark"]


@dataclass(frozen=True, slots=True)
class Line:
    """One line of words. sort, marks: of a line that marks findings."""

    style: Style
    text: str
    sort: Sort | None = None
    marks: tuple[Mark, ...] = ()

    @property
    def wide(self) -> float:
        """The room that it takes across."""
        if self.style == "name":
            return room(self.text, NAME, bold=True)
        if self.style == "mark":
            return SIGN + room(self.text, SIZE, bold=True)
        return room(self.text, SIZE)


@dataclass(frozen=True, slots=True)
class Words:
    """Lines below each other."""

    lines: tuple[Line, ...]

    @property
    def wide(self) -> float:
        """The room that they take across."""
        return max((line.wide for line in self.lines), default=0.0)

    @property
    def high(self) -> float:
        """The room that they take downwards."""
        return _STEP * len(self.lines)

    def baselines(self, top: float) -> Iterator[tuple[float, Line]]:
        """Each line with its baseline."""
        for number, line in enumerate(self.lines):
            yield top + _STEP * number + 11.0, line


def of_part(part: Part, marks: Sequence[Mark] = ()) -> Words:
    """What stands beside a part."""
    lines = [*_named(part.name), *_said(part.says), *_read(part.readings), *_marked(marks)]
    return Words(tuple(lines))


def of_run(run: Run, marks: Sequence[Mark] = ()) -> Words:
    """What stands beside a run."""
    sized = ", ".join([*run.says, *([str(run.length)] if run.length is not None else [])])
    pole = {
        "positive": ["positive only"],
        "negative": ["negative only"],
        "series": ["links in series"],
    }.get(run.poles, [])
    lines = [*_named(run.name), *_said([sized, *pole]), *_read(run.readings), *_marked(marks)]
    return Words(tuple(lines))


def _named(name: str) -> Iterator[Line]:
    """A name, broken at hyphens where it is long."""
    for part in _broken(name, _HEAD):
        yield from (Line("name", text) for text in wrapped(part, _HEAD))


def _said(says: Iterable[str]) -> Iterator[Line]:
    for text in says:
        breakable = " ".join(part for word in text.split() for part in _broken(word, _COLUMNS))
        yield from (Line("says", line) for line in wrapped(breakable, _COLUMNS))


def _broken(name: str, columns: int) -> Iterator[str]:
    """A name in parts that fit, broken after hyphens and dots where that is possible."""
    part = ""
    for piece in re.findall(r"[^-.]*[-.]|[^-.]+", name):
        if part and width(part + piece) > columns:
            yield part
            part = ""
        part += piece
    yield part


def _read(readings: Sequence[Reading]) -> Iterator[Line]:
    """Two readings in a line where they fit."""
    texts = [f"{r.words} {r.value}".strip() for r in readings]
    line = ""
    for text in texts:
        if line and width(line) + 2 + width(text) <= _COLUMNS:
            line += ", " + text
            continue
        if line:
            yield Line("reading", line)
        line = text
    if line:
        yield Line("reading", line)


def _marked(marks: Sequence[Mark]) -> Iterator[Line]:
    for sort, group in by_sort(marks):
        kept: list[Mark] = []
        for mark in group:
            if kept and width(_told(sort, [*kept, mark])) > _COLUMNS - 4:
                yield Line("mark", _told(sort, kept), sort, tuple(kept))
                kept = []
            kept.append(mark)
        yield Line("mark", _told(sort, kept), sort, tuple(kept))


def _told(sort: Sort, marks: Iterable[Mark]) -> str:
    return f"{sort} {', '.join(str(mark.number) for mark in marks)}"
