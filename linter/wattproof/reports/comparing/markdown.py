"""Two checks beside each other, in Markdown for a comment on a change."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.comparison import Comparison
from wattproof.reports.comparing.words import figure_of, parts, summary, unusable
from wattproof.reports.writing.markdown import code, escaped, marked, row
from wattproof.reports.writing.wording import STANDING


def render(made: Comparison) -> str:
    """The document."""
    return "\n".join(_lines(made)) + "\n"


def _lines(made: Comparison) -> Iterator[str]:
    yield f"## {escaped(made.new.title or made.new.file)}"
    yield ""
    yield f"From {code(made.name)} to {code(made.new.file)}. {escaped(summary(made))}"
    for said in unusable(made):
        yield f"- {escaped(said)}"
    for part in parts(made):
        yield ""
        yield f"### {part.title}"
        yield ""
        yield row(("level", "what", "against the limit", "rule"))
        yield row((":--", ":--", ":--", ":--"))
        for line in part.lines:
            yield row((line.level, marked(line.message), escaped(line.was), code(line.rule)))
    if made.moved:
        yield ""
        yield "### Figures that moved by more than 1 %"
        yield ""
        yield row(("of", "state", "quantity", "was", "is"))
        yield row((":--", ":--", ":--", "--:", "--:"))
        for moved in made.moved:
            yield row(escaped(cell) for cell in figure_of(moved))
    yield ""
    yield escaped(STANDING)
