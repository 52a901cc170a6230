"""The sheet of expected values in Markdown."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.reports.expected.words import HEAD, REMEMBER
from wattproof.reports.writing.markdown import marked, row
from wattproof.views.expected import Sheet, Step


def render(file: str, title: str, sheet: Sheet) -> str:
    """The sheet of one plan."""
    lines = [f"# What a meter should show: {marked(title or file)}", ""]
    lines += [f"Sky: {marked(sheet.conditions or HEAD)}"]
    for number, step in enumerate(sheet.steps, start=1):
        lines += ["", f"## {number}. {marked(step.heading)}", "", *_step(step)]
    return "\n".join([*lines, "", marked(REMEMBER)]) + "\n"


def _step(step: Step) -> Iterator[str]:
    if step.caution is not None:
        yield f"**{step.caution.signal}** {marked(step.caution.text)}"
        yield ""
    yield marked(step.words)
    for grid in step.grids:
        yield ""
        yield f"{marked(grid.what)} of {marked(grid.at)}:"
        yield ""
        yield row(("sun", *(marked(each) for each in grid.across)))
        yield row((":--",) * (len(grid.across) + 1))
        for sun, cells in grid.rows:
            yield row((marked(sun), *(marked(cell) for cell in cells)))
    if step.boxes:
        yield ""
        yield row(("where", "what", "right", "likely", "shown", "how small a loss it finds"))
        yield row((":--",) * 6)
        for box in step.boxes:
            cells = (f"`{box.at}`", box.what, box.right, box.likely, "", box.finds)
            yield row(marked(cell) if cell else " " for cell in cells)
