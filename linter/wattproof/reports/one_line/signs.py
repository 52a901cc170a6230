"""Signs of findings in a one-line diagram: told apart by shape and word, and by colour besides."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wattproof.reports.one_line.marks import Mark, Sort
from wattproof.reports.one_line.words import SIGN, SIZE, Line
from wattproof.reports.writing.columns import clean
from wattproof.reports.writing.svg_elements import element, label, number, path

COLOURS: Final[dict[Sort, str]] = {
    "error": "#a8201a",
    "warning": "#8a5300",
    "note": "#14568f",
    "accepted": "#55584f",
}
DARK: Final[dict[Sort, str]] = {
    "error": "#ff8a80",
    "warning": "#f2b24c",
    "note": "#8cc4f2",
    "accepted": "#b3b6ac",
}
_SHAPES: Final[dict[Sort, tuple[tuple[float, float], ...]]] = {
    "error": (
        (-2.6, -6),
        (2.6, -6),
        (6, -2.6),
        (6, 2.6),
        (2.6, 6),
        (-2.6, 6),
        (-6, 2.6),
        (-6, -2.6),
    ),
    "warning": ((0, -6), (6.6, 5.4), (-6.6, 5.4)),
    "note": ((0, -6.2), (6.2, 0), (0, 6.2), (-6.2, 0)),
    "accepted": ((-5.2, -5.2), (5.2, -5.2), (5.2, 5.2), (-5.2, 5.2)),
}


def sign(sort: Sort, x: float, y: float) -> Iterator[str]:
    """The sign of a sort of finding, around a middle. What is accepted is only outlined."""
    points = " ".join(f"{number(x + a)},{number(y + b)}" for a, b in _SHAPES[sort])
    if sort == "accepted":
        yield element("polygon", points=points, fill="none", stroke="currentColor")
        yield path([(x - 3, y), (x - 1, y + 2.5), (x + 3, y - 3)], stroke="currentColor")
        return
    yield element("polygon", points=points, fill=COLOURS[sort], class_=sort)


def marked(
    line: Line, x: float, baseline: float, link: str, reached: set[int] | None = None
) -> Iterator[str]:
    """A line of words that marks findings, each number leading to its finding where asked.

    reached: the findings that a key stops at already; further marks of them are no stop.
    """
    assert line.sort is not None
    yield from sign(line.sort, x + 6.5, baseline - 4)
    style = {"fill": COLOURS[line.sort], "class_": line.sort, "font_weight": "bold"}
    if not link:
        yield label(line.text, x + SIGN, baseline, SIZE, "start", **style)
        return
    told = f"{line.sort} " + ", ".join(
        _lead(m, line.sort, link, reached if reached is not None else set()) for m in line.marks
    )
    yield element("text", told, x=x + SIGN, y=baseline, font_size=SIZE, **style)


def _lead(mark: Mark, sort: Sort, link: str, reached: set[int]) -> str:
    """The number of a finding as a link whose name tells more than the number."""
    named = clean(f"{sort} {mark.number}: {mark.finding.subjects[0]}")
    again: dict[str, str] = {"tabindex": "-1"} if mark.number in reached else {}
    reached.add(mark.number)
    return element("a", str(mark.number), href=f"{link}{mark.number}", aria_label=named, **again)
