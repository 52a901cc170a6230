"""The text for people: as much as they asked for, as wide as their screen."""

from __future__ import annotations

from wattproof.reports.findings import brief
from wattproof.reports.findings.run import Run
from wattproof.reports.writing.columns import on_screen


def render(run: Run) -> str:
    """The verdict alone, the short text, or the whole with or without its working."""
    with on_screen(run.columns):
        if run.quiet:
            return brief.quiet(run.results, paint=run.paint)
        if not run.full:
            return brief.render(run.results, paint=run.paint)
        from wattproof.reports.findings import text

        return text.render(run.results, working=run.working, paint=run.paint)
