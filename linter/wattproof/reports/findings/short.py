"""A line a finding, in the form that compilers have, for editors."""

from __future__ import annotations

from wattproof.reports.findings.lines import lines_of
from wattproof.reports.findings.run import Run
from wattproof.reports.writing.columns import clean


def render(run: Run) -> str:
    """`FILE:LINE:COLUMN: LEVEL: MESSAGE [RULE]`."""
    return "".join(
        f"{clean(place.file)}:{place.line}:{place.column}: {level}: {clean(message)} [{rule}]\n"
        for place, level, message, rule, _ in lines_of(run.results)
    )
