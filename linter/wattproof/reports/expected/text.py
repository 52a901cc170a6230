"""The sheet of expected values in 80 columns, with boxes to write in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wattproof.reports.expected.words import HEAD, REMEMBER
from wattproof.reports.writing.columns import hanging, labelled, width
from wattproof.views.expected import Box, Grid, Sheet, Step

_INDENT: Final = 3
_BOX: Final = "[            ]"


def render(file: str, title: str, sheet: Sheet) -> str:
    """The sheet of one plan."""
    lines = [*labelled("Plan", file, keep=True), *labelled("", title)]
    lines += labelled("Sky", sheet.conditions or HEAD)
    for number, step in enumerate(sheet.steps, start=1):
        lines += ["", *_step(number, step)]
    lines += ["", *labelled("Remember", REMEMBER)]
    return "\n".join(lines) + "\n"


def _step(number: int, step: Step) -> Iterator[str]:
    yield from hanging(step.heading, first=f"{number:>2}. ", margin=4)
    if step.caution is not None:
        yield from labelled(step.caution.signal, step.caution.text, indent=_INDENT)
    yield from labelled("Do", step.words, indent=_INDENT)
    for grid in step.grids:
        yield ""
        yield from _grid(grid)
    if step.boxes:
        yield ""
    for box in step.boxes:
        yield from _box(box)


def _grid(grid: Grid) -> Iterator[str]:
    yield from hanging(f"{grid.what} of {grid.at}", first=" " * _INDENT, margin=_INDENT)
    left = max(width(sun) for sun, _ in grid.rows)
    columns = [
        max(width(c) for c in column)
        for column in zip(grid.across, *(r for _, r in grid.rows), strict=True)
    ]
    for sun, cells in (("", grid.across), *grid.rows):
        padded = (f"{cell:<{wide}}" for cell, wide in zip(cells, columns, strict=True))
        yield f"{' ' * (_INDENT + 2)}{sun:<{left}}  {'  '.join(padded)}".rstrip()


def _box(box: Box) -> Iterator[str]:
    left = f"{' ' * _INDENT}{_BOX}  "
    likely = f", likely {box.likely}" if box.likely else ""
    yield from hanging(f"`{box.at}` {box.what}: {box.right}{likely}", first=left, margin=len(left))
    if box.finds:
        yield from hanging(box.finds, first=" " * len(left), margin=len(left))
