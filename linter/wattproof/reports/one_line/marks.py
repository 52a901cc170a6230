"""Which findings stand at which part or run of a one-line diagram."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final, Literal, TypeAlias

from wattproof.finding import LEVELS, Finding
from wattproof.source import Place
from wattproof.views.one_line.view import OneLine, Part, Run

Sort: TypeAlias = Literal["error", "warning", "note", "accepted"]
SORTS: Final[tuple[Sort, ...]] = (*LEVELS, "accepted")


@dataclass(frozen=True, slots=True)
class Mark:
    """A finding by its number in the report. sort: its level, or that it is accepted."""

    number: int
    sort: Sort
    finding: Finding


def numbered(findings: Sequence[Finding]) -> list[Mark]:
    """Findings, in the order in which they are told, with their numbers."""
    return [
        Mark(number, f.level if f.acceptance is None else "accepted", f)
        for number, f in enumerate(findings, start=1)
    ]


def marks_at(view: OneLine, marks: Iterable[Mark]) -> dict[str, list[Mark]]:
    """The marks at each part and run, by its key. What is about none of them is at none."""
    by_place: dict[Place, list[str]] = {}
    by_name: dict[str, str] = {}
    for found in _marked(view):
        by_name.setdefault(found.name, found.key)
        for place in found.places:
            by_place.setdefault(place, []).append(found.key)
    at: dict[str, list[Mark]] = {}
    for mark in marks:
        keys = by_place.get(mark.finding.place)
        if keys is None:
            names = [by_name[s] for s in mark.finding.subjects if s in by_name]
            keys = names[:1]
        for key in dict.fromkeys(keys):
            at.setdefault(key, []).append(mark)
    return at


def by_sort(marks: Iterable[Mark]) -> Iterator[tuple[Sort, list[Mark]]]:
    """Marks of one sort together, the graver first."""
    ordered = sorted(marks, key=lambda m: (SORTS.index(m.sort), m.number))
    for sort, group in groupby(ordered, key=lambda m: m.sort):
        yield sort, list(group)


def _marked(view: OneLine) -> Iterator[Part | Run]:
    """Everything that can carry a mark."""
    for part in view.parts:
        yield part
        yield from part.ways
    for run in view.runs:
        yield run
        yield from run.devices
