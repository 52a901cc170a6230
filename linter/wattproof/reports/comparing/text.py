"""Two checks beside each other, in text."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.comparison import Comparison
from wattproof.reports.comparing.words import figure_of, parts, summary, unusable
from wattproof.reports.writing.columns import hanging, labelled
from wattproof.reports.writing.wording import STANDING

_INDENT = 4


def render(made: Comparison) -> str:
    """The text."""
    return "\n".join(_lines(made)) + "\n"


def _lines(made: Comparison) -> Iterator[str]:
    yield from labelled("Old", made.name, keep=True)
    yield from labelled("New", made.new.file, keep=True)
    yield ""
    yield from hanging(summary(made), first="", margin=0)
    for said in unusable(made):
        yield from hanging(said, first="  - ", margin=_INDENT)
    for part in parts(made):
        yield ""
        yield part.title
        for line in part.lines:
            yield from hanging(f"{line.level}: {line.message}", first="  - ", margin=_INDENT)
            was = f"{line.was} " if line.was else ""
            yield from hanging(f"{was}[{line.rule}]", first="    ", margin=_INDENT)
    if made.moved:
        yield ""
        yield "Figures"
    for moved in made.moved:
        subject, state, quantity, old, new = figure_of(moved)
        when = f" ({state})" if state else ""
        told = f"{subject}, {quantity}{when}: {old} -> {new}"
        yield from hanging(told, first="  - ", margin=_INDENT)
    yield ""
    yield from labelled("Remember", STANDING)
