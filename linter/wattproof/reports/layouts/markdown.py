"""Layouts in Markdown: a table of all, the figures of each folded away, and which to take."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.choosing.closing import closing
from wattproof.choosing.layouts import Layouts
from wattproof.reports.layouts import told
from wattproof.reports.writing.markdown import escaped, marked, table_lines
from wattproof.reports.writing.wording import STANDING


def render(layouts: Layouts) -> str:
    """The document."""
    title = layouts.rest.title or layouts.file
    lines = [f"## {escaped(title)}: layouts", "", *section(layouts)]
    remember = f"A layout is a proposal, worked out from labels. {STANDING}"
    return "\n".join([*lines, "---", "", escaped(remember)]) + "\n"


def section(layouts: Layouts) -> Iterator[str]:
    """What is told of them, without a heading."""
    yield f"{marked(told.kinds(layouts))}: {marked(told.summary(layouts))}"
    yield ""
    yield f"**{marked(closing(layouts))}**"
    yield ""
    yield from table_lines(told.table_of(layouts))
    yield ""
    yield f"{marked(told.basis(layouts))} {marked(told.shade_basis(layouts))}".rstrip()
    yield ""
    if words := told.taken(layouts):
        yield marked(words)
        yield ""
    for each in layouts.tried:
        yield "<details>"
        yield f"<summary>{escaped(each.name)}: {escaped(told.outcome(each))}</summary>"
        yield ""
        yield from (f"- {marked(label)}: {marked(text)}" for label, text in told.figures(each))
        for finding in each.own:
            yield f"- {finding.level}: {marked(finding.message)} ({escaped(finding.rule)})"
        yield ""
        yield "</details>"
        yield ""
    if words := told.rest(layouts):
        yield marked(words)
        yield ""
