"""Workflow commands, by which hosts of repositories mark the lines of a change."""

from __future__ import annotations

from typing import Final

from wattproof.finding import Level
from wattproof.reports.findings.lines import lines_of
from wattproof.reports.findings.run import Run
from wattproof.reports.writing.columns import clean

_COMMANDS: Final[dict[Level, str]] = {"error": "error", "warning": "warning", "note": "notice"}


def render(run: Run) -> str:
    """`::LEVEL file=…,line=…,endLine=…,col=…,title=…::MESSAGE`, a line a finding.

    With %, carriage return and line feed written as %25, %0D, %0A, and in properties : and , as
    %3A and %2C.
    """
    return "".join(
        f"::{_COMMANDS[level]} file={_property(place.file)},line={place.line},"
        f"endLine={place.end_line},col={place.column},title={_property(rule)}"
        f"::{_data(f'{message}. {remedy}'.strip())}\n"
        for place, level, message, rule, remedy in lines_of(run.results)
    )


def _data(text: str) -> str:
    return clean(text).replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
